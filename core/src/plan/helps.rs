//! The look that follows help: brood, queen cells or a queen that was given.

use chrono::{Days as CalendarDays, NaiveDate};

use super::history::History;
use crate::method::{
    DayRule, IfMissed, Part, Resolved, ResolvedStep, SeasonUse, Step, StepBox, TimeOfDay,
};
use crate::record::Outcome;
use crate::task::TaskKind;
use crate::wait::DateRange;

/// Days after brood or cells were given in which a look tells: Villas-Bôas 2012, Manual tecnológico: mel de abelhas
/// sem ferrão, p. 52, day 20 to 30.
pub(crate) const LOOK_FROM_D: u64 = 20;
const LOOK_LIKELY_D: u64 = 25;
pub(crate) const LOOK_UNTIL_D: u64 = 30;
/// Most helps of one plan that have looks of their own.
pub(super) const MOST_HELPS: usize = 9;

/// The name of the look after one of the helps, counted from 0.
pub(super) fn id(place: usize) -> String {
    format!("help-look-{}", place + 1)
}

/// The help that a look of this name comes after.
pub(super) fn place_of(id: &str) -> Option<usize> {
    (0..MOST_HELPS).find(|place| self::id(*place) == id)
}

/// When it is time to look.
pub(super) fn dates(on: NaiveDate) -> DateRange {
    DateRange {
        earliest: on + CalendarDays::new(LOOK_FROM_D),
        best: on + CalendarDays::new(LOOK_LIKELY_D),
        latest: on + CalendarDays::new(LOOK_UNTIL_D),
    }
}

/// Adds a look for each help, behind the other steps: their places stay as they are.
pub(super) fn add(resolved: &mut Resolved, history: &History) {
    let outside = resolved.is_chosen("inspection", "outside");
    let helps = history.helps.iter().take(MOST_HELPS).enumerate();
    for (place, help) in helps {
        let given = match help.given {
            Outcome::GaveCells => "queen cells were given",
            Outcome::GaveQueen => "its queen was given to the other box",
            _ => "brood was given",
        };
        let (title, short, day, time, cautions) = if outside {
            (
                format!("Count bees at the entrance for five minutes: {given} to it weeks ago"),
                "count bees, 5 minutes",
                DayRule::Flying,
                TimeOfDay::WholeDay,
                Vec::new(),
            )
        } else {
            (
                format!("Open briefly and look for eggs: {given}"),
                "eggs? (after help)",
                DayRule::Opening,
                TimeOfDay::WarmHours,
                vec!["bites_allergy".to_owned()],
            )
        };
        resolved.steps.push(ResolvedStep {
            stage: None,
            id: id(place),
            title: title.clone(),
            short: short.to_owned(),
            why: "A queen that came of it lays by now.".to_owned(),
            look_for: vec![
                "New cells at the edge of the newest comb or layer, with an egg standing on the food.".to_owned(),
                "How many bees are left: do they still guard the entrance?".to_owned(),
            ],
            which: help.which,
            step: Step {
                id: id(place),
                kind: TaskKind::Check,
                which: StepBox::Pair,
                title,
                short: Some(short.to_owned()),
                titles: Vec::new(),
                why: String::new(),
                more_why: Vec::new(),
                look_for: Vec::new(),
                depends_on: Vec::new(),
                after_sign: None,
                until_sign: None,
                only_if: None,
                lead_d: None,
                day,
                time,
                entrance: None,
                season: SeasonUse::Free,
                if_missed: IfMissed::StillDue,
                asks_for_queen: true,
                rebuilt: false,
                repeat: None,
                when: None,
                cautions,
                source: "day 20 to 30 after brood was given: Villas-Bôas 2012, Manual tecnológico: mel de abelhas sem \
                         ferrão, p. 52, for Melipona; for other bees common practice, no source"
                    .to_owned(),
            },
            awaits: None,
            part: Part::Help { place },
            depends_on: Vec::new(),
            before: Vec::new(),
            after: Vec::new(),
        });
    }
}
