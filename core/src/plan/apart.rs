//! What keeps tasks apart, as data.

use super::Bench;
use crate::method::{DayRule, TimeOfDay};
use crate::reason::{Reason, Value, say};
use crate::schedule::Apart;
use crate::task::TaskKind;
use chrono::NaiveDate;

/// A rule that keeps tasks apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Rule {
    /// No hive is opened shortly before or after a move.
    OpeningAndMove,
    /// No hive is opened in the first days after a division.
    OpeningAndDivision,
    /// One work at an entrance an evening.
    OneEvening,
}

impl Rule {
    /// The rule as a reason, with the other task and its date.
    pub fn reason(self, bench: &Bench<'_>, title: &str, date: NaiveDate) -> Reason {
        let task = Value::Title {
            value: title.to_owned().into(),
        };
        let settings = &bench.settings;
        match self {
            Rule::OpeningAndMove => {
                let number = &settings.opening_from_move_d;
                say::opening_near_move(task, date, number.value, &number.source)
            }
            Rule::OpeningAndDivision => {
                let number = &settings.opening_after_division_d;
                say::opening_after_division(task, date, number.value, &number.source)
            }
            Rule::OneEvening => say::one_work_an_evening(task, date),
        }
    }
}

/// The rules for the steps that are done or ahead.
pub(super) fn rules(bench: &Bench<'_>, at_hand: &[usize]) -> Vec<(Rule, Apart)> {
    let steps = &bench.resolved.steps;
    let of = |is: &dyn Fn(usize) -> bool| -> Vec<usize> {
        at_hand.iter().copied().filter(|place| is(*place)).collect()
    };
    let kind = |place: usize| steps[place].step.kind;
    let moves = of(&|place| kind(place) == TaskKind::Move && steps[place].part.stands_alone());
    let divisions = of(&|place| kind(place) == TaskKind::Divide);
    let looks = of(&|place| {
        steps[place].step.day == DayRule::Opening
            && kind(place) != TaskKind::Divide
            && steps[place].part.stands_alone()
    });
    let evenings = of(&|place| {
        let step = &steps[place].step;
        step.time == TimeOfDay::Evening
            && step.entrance.is_some()
            && steps[place].part.stands_alone()
    });
    let settings = &bench.settings;
    let from_move_d = settings.opening_from_move_d.value as u32;
    let after_division_d = settings.opening_after_division_d.value as u32;
    vec![
        (
            Rule::OpeningAndMove,
            Apart::days(&moves, &looks, from_move_d + 1),
        ),
        (
            Rule::OpeningAndDivision,
            Apart {
                before_d: 0,
                ..Apart::days(&divisions, &looks, after_division_d + 1)
            },
        ),
        (Rule::OneEvening, Apart::days(&evenings, &evenings, 1)),
        // The evening before a move has its own closing.
        (
            Rule::OneEvening,
            Apart {
                before_d: 2,
                after_d: 0,
                ..Apart::days(&moves, &evenings, 0)
            },
        ),
    ]
}
