//! Which way to take, and what speaks against the one that was asked for.

use serde::Serialize;

use super::settings::{FarStay, RelocationSettings};
use crate::bee::Bee;
use crate::caution::Caution;
use crate::number::COMMON_PRACTICE;
use crate::reason::Reason;
use crate::task::Choice;
use crate::wire::FromNode;

/// How a hive is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// Half a metre or a metre at a time, at dawn, each time followed by flying days.
    Staged,
    /// To a place beyond the bees' range, and after a stay from there to the new one.
    FarAndReturn,
    /// In one go.
    AtOnce,
}

/// The way for a distance: the one that was given, else the one that suits the bee's range.
pub(super) fn choose(
    given: Option<Way>,
    distance_m: f64,
    settings: &RelocationSettings,
    bee: &Bee,
) -> (Way, Vec<Reason>) {
    let fitting = fitting(distance_m, settings, bee);
    let reason = match fitting {
        Way::Staged => Reason::new(
            "near",
            format!(
                "{distance_m} m is near enough to go in stages (up to {} m): bees find a hive that \
                 has moved a little.",
                settings.staged_up_to_m.value
            ),
        ),
        Way::FarAndReturn => Reason::new(
            "within_range",
            format!(
                "{distance_m} m is too far for stages and within the {:.0} m from which these bees \
                 find home: moved at once, foragers would fly back to the old place. A stay of \
                 weeks at least {:.0} m away lets a new generation of foragers take over.",
                bee.homing_limit_m.value,
                settings.far_m(bee).value
            ),
        ),
        Way::AtOnce => Reason::new(
            "beyond_range",
            format!(
                "{distance_m} m is beyond the {:.0} m from which these bees find home: foragers \
                 learn the new place.",
                bee.homing_limit_m.value
            ),
        ),
    };
    match given {
        Some(way) if way != fitting => {
            let asked = Reason::new("as_asked", "The way was given by the user.");
            (way, vec![asked, reason])
        }
        _ => (fitting, vec![reason]),
    }
}

fn fitting(distance_m: f64, settings: &RelocationSettings, bee: &Bee) -> Way {
    if distance_m <= settings.staged_up_to_m.value {
        Way::Staged
    } else if distance_m <= bee.homing_limit_m.value {
        Way::FarAndReturn
    } else {
        Way::AtOnce
    }
}

/// What can go wrong with a way that does not suit the distance.
pub(super) fn warnings(
    given: Option<Way>,
    distance_m: f64,
    settings: &RelocationSettings,
    bee: &Bee,
) -> Vec<Caution> {
    let mut list = Vec::new();
    let mut add = |code: &str, text: &str, because: String, source: &str| {
        list.push(Caution {
            code: code.to_owned(),
            text: text.to_owned(),
            because: Some(because),
            source: source.to_owned(),
        });
    };
    let limit = &bee.homing_limit_m;
    let way = given.unwrap_or_else(|| fitting(distance_m, settings, bee));
    match way {
        Way::AtOnce if distance_m <= limit.value && distance_m > settings.stage_m.value => add(
            "foragers_fly_back",
            "Moved at once within their range, foragers fly back to the old place and are lost \
             there; the colony is weakened or dies.",
            format!(
                "{distance_m} m, and these bees find home from up to {:.0} m",
                limit.value
            ),
            &limit.source,
        ),
        Way::AtOnce if distance_m > limit.value && distance_m < settings.far_m(bee).value => add(
            "nearer_than_advised",
            "Some foragers may still find back to the old place. A manual advises a greater \
             distance for moves in one go; look there for bees in the first evenings.",
            format!(
                "{distance_m} m, and at least {:.0} m is advised",
                settings.far_m(bee).value
            ),
            &settings.far_m(bee).source,
        ),
        Way::Staged if distance_m > settings.staged_up_to_m.value => add(
            "many_stages",
            "So many stages take long, and each disturbs the colony: a far move and return is \
             mostly quicker and safer.",
            format!(
                "{distance_m} m, and stages are proposed up to {} m",
                settings.staged_up_to_m.value
            ),
            &settings.staged_up_to_m.source,
        ),
        Way::FarAndReturn if distance_m > limit.value => add(
            "needless_stay",
            "The new place is beyond the bees' range already: the stay elsewhere costs two \
             journeys more.",
            format!(
                "{distance_m} m, and these bees find home from up to {:.0} m",
                limit.value
            ),
            &limit.source,
        ),
        _ => {}
    }
    list
}

/// What to know about stages of this distance.
pub(super) fn advice_on_stages(distance_m: f64, settings: &RelocationSettings) -> Vec<Reason> {
    let mut list = vec![Reason::new(
        "watch_the_bees",
        "After each stage look whether foragers find the entrance; where many search at the old \
         place, wait longer or take shorter stages.",
    )];
    let slow = &settings.slow_from_m;
    if distance_m > slow.value {
        list.push(Reason::new(
            "slow",
            format!(
                "Beyond {} m stages are slow ({}): about {:.0} flying days here. A far move and \
                 return can be quicker.",
                slow.value,
                slow.source,
                (distance_m / settings.stage_m.value).ceil() * settings.flying_days_between.value
            ),
        ));
    }
    list
}

/// The settings on which practice differs.
pub(super) fn choices(way: Way, settings: &RelocationSettings) -> Vec<Choice> {
    let choice = |name: &str, chosen: String, source: &str, others: &[String]| Choice {
        name: name.to_owned(),
        others: others.iter().filter(|o| **o != chosen).cloned().collect(),
        chosen,
        source: source.to_owned(),
    };
    match way {
        Way::Staged => {
            let defaults = RelocationSettings::default();
            let (stage, pause) = (&settings.stage_m, &settings.flying_days_between);
            vec![
                choice(
                    "stage_m",
                    format!("{} m a stage", stage.value),
                    &stage.source,
                    &[
                        format!("0.5 m a stage ({})", defaults.stage_m.source),
                        format!("up to 1 m a stage ({COMMON_PRACTICE})"),
                    ],
                ),
                choice(
                    "flying_days_between",
                    format!("a stage every {} flying days", pause.value),
                    &pause.source,
                    &[
                        format!("a stage every day ({})", defaults.stage_m.source),
                        format!("a stage every 1 to 2 days ({COMMON_PRACTICE})"),
                    ],
                ),
            ]
        }
        Way::FarAndReturn => {
            let all = [FarStay::SixtyDays, FarStay::ThreeWeeks];
            let words = |stay: FarStay| format!("a stay of {:.0} days", stay.wait().likely);
            let others: Vec<String> = all
                .into_iter()
                .filter(|stay| *stay != settings.far_stay)
                .map(|stay| format!("{} ({})", words(stay), stay.wait().source))
                .collect();
            let chosen = settings.far_stay;
            vec![choice(
                "far_stay",
                words(chosen),
                &chosen.wait().source,
                &others,
            )]
        }
        Way::AtOnce => Vec::new(),
    }
}
