//! Short names of boxes that tell the plans of one calendar apart.

use std::collections::BTreeMap;

use crate::plan::Plan;
use crate::task::Which;

/// Longest name in front of a title, letters: a phone shows some thirty, and the work stands behind it.
const LONGEST: usize = 20;
/// With a keeper's name or a number where two hives have one name. A title's first 28 letters hold it.
const LONGEST_TOLD_APART: usize = 26;

/// What stands in front of the titles of each plan.
pub(super) struct Labels {
    /// By the plan's `id`: old box, new box, both.
    of: BTreeMap<String, [String; 3]>,
}

impl Labels {
    /// Names by which no two of these plans have the same box. The order of the plans does not matter.
    pub fn of(plans: &[Plan]) -> Self {
        let mut sorted: Vec<&Plan> = plans.iter().collect();
        sorted.sort_by(|a, b| a.id.cmp(&b.id));
        let mut of: BTreeMap<String, [String; 3]> = BTreeMap::new();
        let is_taken = |of: &BTreeMap<String, [String; 3]>, names: &[String; 3]| {
            let same = |known: &[String; 3]| known.iter().zip(names).any(|(a, b)| a == b);
            of.values().any(same)
        };
        for plan in sorted {
            let names = BOXES.map(|which| short_name(&plan.box_name(which)));
            let with_keeper = plan.keeper.as_ref().map(|keeper| {
                let keeper = shortened(keeper, LONGEST_TOLD_APART / 2 - 1);
                let room = LONGEST_TOLD_APART - keeper.chars().count() - 1;
                BOXES.map(|which| format!("{keeper} {}", shortened(&plan.box_name(which), room)))
            });
            let numbered = (2..).map(|number: usize| {
                let number = format!(" {number}");
                let room = LONGEST_TOLD_APART - number.len();
                BOXES.map(|which| shortened(&plan.box_name(which), room) + &number)
            });
            let mut ways = std::iter::once(names).chain(with_keeper).chain(numbered);
            if let Some(free) = ways.find(|names| !is_taken(&of, names)) {
                of.insert(plan.id.clone(), free);
            }
        }
        Labels { of }
    }

    pub fn get(&self, plan: &Plan, which: Which) -> &str {
        let names = self.of.get(&plan.id);
        let place = BOXES.iter().position(|known| *known == which);
        match (names, place) {
            (Some(names), Some(place)) => &names[place],
            _ => "",
        }
    }
}

const BOXES: [Which; 3] = [Which::Parent, Which::Daughter, Which::Pair];

/// A name in front of a title.
pub(super) fn short_name(name: &str) -> String {
    shortened(name, LONGEST)
}

/// The beginning and the end of a long name: names of hives often differ in their last letters.
fn shortened(name: &str, most: usize) -> String {
    let letters: Vec<char> = name.chars().collect();
    if letters.len() <= most {
        return name.to_owned();
    }
    let end = most / 2;
    let begin = most - end - 1;
    let begin: String = letters[..begin].iter().collect();
    let end: String = letters[letters.len() - end..].iter().collect();
    format!("{}…{}", begin.trim_end(), end.trim_start())
}

#[cfg(test)]
mod tests {
    use super::super::sample::plan;
    use super::*;

    fn named(id: &str, keeper: &str, old: &str, new: &str) -> Plan {
        Plan {
            id: id.to_owned(),
            keeper: Some(keeper.to_owned()),
            parent_name: old.to_owned(),
            daughter_name: Some(new.to_owned()),
            ..plan()
        }
    }

    #[test]
    fn no_two_plans_have_the_same_first_letters() {
        let long = "The hive under the old fig tree, row";
        let plans = [
            named("a", "Ines", "Wattle", "Saltbush"),
            named("b", "Ines", &format!("{long} 1"), &format!("{long} 1 b")),
            named("c", "Ines", &format!("{long} 2"), &format!("{long} 2 b")),
            named("d", "Ines", "Hive 1", ""),
            named("e", "Tom", "Hive 1", ""),
            named("f", "Tom", "Hive 1", ""),
            named("g", "Tom", "Hive 10", "X"),
            named("h", &"K".repeat(200), &"蜂".repeat(90), &"蜂".repeat(90)),
            named("i", &"K".repeat(200), &"蜂".repeat(90), &"蜂".repeat(90)),
            named("j", &"K".repeat(200), &"蜂".repeat(90), &"蜂".repeat(90)),
        ];
        let labels = Labels::of(&plans);
        for which in BOXES {
            let starts = plans.iter().map(|plan| {
                let title = format!("{}: move 0.5 m (1 of 2)", labels.get(plan, which));
                title.chars().take(28).collect::<String>()
            });
            let mut starts: Vec<_> = starts.collect();
            starts.sort();
            starts.dedup();
            assert_eq!(starts.len(), plans.len(), "{starts:?}");
        }
        assert_eq!(labels.get(&plans[0], Which::Pair), "Wattle + Saltbush");
        assert_eq!(labels.get(&plans[4], Which::Parent), "Tom Hive 1");
        assert_eq!(labels.get(&plans[5], Which::Parent), "Hive 1 2");
    }
}
