//! A plan with done and dropped tasks, titles that are hard to carry, and any plan at all, for tests.
//! All invented.

use chrono::{DateTime, Days, TimeDelta, Utc};
use chrono_tz::Tz;
use proptest::prelude::*;

use crate::civil;
use crate::plan::Plan;
use crate::task::{Task, TaskState, TimeWindow};
use crate::wait::DateRange;

pub(super) fn plan() -> Plan {
    serde_json::from_str(include_str!("../../tests/pictures/invented-plan.json")).unwrap()
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

/// Zones with half hours, quarter hours, changes at midnight, a skipped day, none at all.
const ZONES: [&str; 10] = [
    "Australia/Sydney",
    "Australia/Lord_Howe",
    "America/Sao_Paulo",
    "America/Havana",
    "Asia/Kathmandu",
    "Pacific/Apia",
    "Pacific/Kiritimati",
    "Africa/Casablanca",
    "Atlantic/Azores",
    "UTC",
];

prop_compose! {
    fn any_task(zone: Tz)(
        day in 0_u64..40_000,
        (before, after) in (0_u64..60, 0_u64..60),
        title in prop_oneof![any::<String>(), proptest::sample::select(&AWKWARD[..]).prop_map(str::to_owned)],
        (minute, length) in (0_i64..1300, 1_i64..200),
        timed in any::<bool>(),
        state in 0..3,
        kind in 0..3_usize,
    ) -> Task {
        let model = &plan().tasks[kind];
        let best = civil::FIRST_DATE + Days::new(100 + day);
        let best = civil::next_day(best, zone).unwrap();
        let start = civil::day_start(best, zone).unwrap();
        let from = start + TimeDelta::minutes(minute) + TimeDelta::milliseconds(minute * 7919 % 60_000);
        // In UTC: JSON cannot hold the seconds that local mean times were off.
        let at = |t: DateTime<Utc>| t.fixed_offset();
        let window = TimeWindow { from: at(from), until: at(from + TimeDelta::minutes(length)) };
        let same_day = [window.from, window.until].iter().all(|at| civil::civil_day(*at, zone) == best);
        Task {
            // Titles come back with line breaks as \n and other controls as spaces.
            title: title.replace("\r\n", "\n").replace(['\r', '\u{85}', '\u{2028}', '\u{2029}'], "\n")
                .chars().map(|c| if c.is_control() && c != '\n' { ' ' } else { c }).collect(),
            dates: DateRange { earliest: best - Days::new(before), best, latest: best + Days::new(after) },
            window: (timed && same_day).then_some(window),
            state: match state {
                0 => TaskState::Planned,
                1 => TaskState::Done { on: best },
                _ => TaskState::Dropped,
            },
            ..model.clone()
        }
    }
}

pub(super) fn any_plan() -> impl Strategy<Value = Plan> {
    proptest::sample::select(&ZONES[..])
        .prop_flat_map(|zone| {
            let zone: Tz = zone.parse().unwrap();
            (Just(zone), proptest::collection::vec(any_task(zone), 0..12))
        })
        .prop_map(|(zone, mut tasks)| {
            let mut plan = plan();
            plan.site.zone = zone;
            for (i, task) in tasks.iter_mut().enumerate() {
                task.id = format!("task-{i}");
            }
            Plan { tasks, ..plan }
        })
}
