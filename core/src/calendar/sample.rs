//! The plan of the demo, and titles that are hard to carry, for tests. All invented.

use crate::plan::Plan;

pub(super) fn plan() -> Plan {
    serde_json::from_str(include_str!("../../../docs/demo/plan.json")).unwrap()
}

/// Titles that formats without care would break.
pub(super) const AWKWARD: [&str; 12] = [
    "commas, semicolons; back\\slashes \\n and \"quotes\"",
    "two\nlines",
    "a bee \u{1F41D} and a family \u{1F468}\u{200D}\u{1F469}\u{200D}\u{1F467}",
    "افحص الملكة اليوم",
    "=HYPERLINK(1)",
    "+61, -3 and @home",
    "<b>&amp;</b> ]]> <!-- -->",
    "蜂の巣を動かす",
    "A title of two hundred letters, more or less, that goes on and on about a hive which stands in \
     the shade of a tree by the creek, and about all that its keeper means to do there before the \
     bees begin to fly",
    "BEGIN:VEVENT\nUID:x",
    " spaces around ",
    "é\u{301}\u{0}\u{7}|%s{}",
];
