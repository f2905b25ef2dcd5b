//! Which way to take, and what speaks against the one that was asked for.

use serde::Serialize;

use super::settings::{FarStay, RelocationSettings};
use crate::bee::Bee;
use crate::caution::Caution;
use crate::number::COMMON_PRACTICE;
use crate::reason::{Reason, Value, say};
use crate::task::Choice;
use crate::wire::FromNode;

/// How a hive is moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
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
    let homing_m = bee.homing_limit_m.value;
    let reason = match fitting {
        Way::Staged => say::near(distance_m, settings.staged_up_to_m.value),
        Way::FarAndReturn => say::within_range(distance_m, homing_m, settings.far_m(bee).value),
        Way::AtOnce => say::beyond_range(distance_m, homing_m),
    };
    match given {
        Some(way) if way != fitting => (way, vec![say::as_asked(), reason]),
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
    let limit = &bee.homing_limit_m;
    let far = settings.far_m(bee);
    let staged = &settings.staged_up_to_m;
    let way = given.unwrap_or_else(|| fitting(distance_m, settings, bee));
    let (sentence, because, source) = match way {
        Way::AtOnce if distance_m <= limit.value && distance_m > settings.stage_m.value => (
            say::caution_foragers_fly_back(),
            say::distance_and_homing(distance_m, limit.value),
            &limit.source,
        ),
        Way::AtOnce if distance_m > limit.value && distance_m < far.value => (
            say::caution_nearer_than_advised(),
            say::distance_and_advised(distance_m, far.value),
            &far.source,
        ),
        Way::Staged if distance_m > staged.value => (
            say::caution_many_stages(),
            say::distance_and_stages(distance_m, staged.value),
            &staged.source,
        ),
        Way::FarAndReturn if distance_m > limit.value => (
            say::caution_needless_stay(),
            say::distance_and_homing(distance_m, limit.value),
            &limit.source,
        ),
        _ => return Vec::new(),
    };
    vec![Caution::new(sentence, Some(because), source)]
}

/// What to know about stages of this distance.
pub(super) fn advice_on_stages(distance_m: f64, settings: &RelocationSettings) -> Vec<Reason> {
    let mut list = vec![say::watch_the_bees()];
    let slow = &settings.slow_from_m;
    if distance_m > slow.value {
        let stages = (distance_m / settings.stage_m.value).ceil();
        let days = Value::FlyingDays {
            value: stages * settings.flying_days_between.value,
        };
        list.push(say::slow(slow.value, &slow.source, days));
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
