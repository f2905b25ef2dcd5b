//! Which way to take, what speaks against the one that was asked for, and near a limit what the other
//! way costs.

use serde::Serialize;

use super::settings::{FAR_1997, FarStay, RelocationSettings};
use super::stages::Stages;
use crate::bee::{Bee, Size};
use crate::caution::Caution;
use crate::number::{COMMON_PRACTICE, Sourced};
use crate::reason::{Reason, Value, say};
use crate::task::Choice;
use crate::wait::Wait;
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

/// The way for a distance: the one that was given, else the one that suits it.
pub(crate) fn choose(
    given: Option<Way>,
    distance_m: f64,
    settings: &RelocationSettings,
    bee: &Bee,
) -> (Way, Vec<Reason>) {
    let far = settings.far_m(bee);
    let fitting = fitting(distance_m, settings, &far);
    let way = given.unwrap_or(fitting);
    let mut reasons = Vec::new();
    if way != fitting {
        reasons.push(say::as_asked());
    }
    reasons.push(match fitting {
        Way::Staged => say::near(distance_m, settings.staged_up_to_m.value),
        Way::FarAndReturn => say::within_range(distance_m, far.value, &far.source),
        Way::AtOnce => say::beyond_range(distance_m, far.value, &far.source),
    });
    reasons.extend(other_way(fitting, distance_m, settings, &far));
    if way != Way::Staged {
        reasons.extend(homing(way, bee));
    }
    (way, reasons)
}

fn fitting(distance_m: f64, settings: &RelocationSettings, far: &Sourced) -> Way {
    if distance_m <= settings.staged_up_to_m.value {
        Way::Staged
    } else if distance_m < far.value {
        Way::FarAndReturn
    } else {
        Way::AtOnce
    }
}

/// Near a limit the way on its other side, with what it costs and risks: no limit is known so well that
/// a few metres could decide.
fn other_way(
    fitting: Way,
    distance_m: f64,
    settings: &RelocationSettings,
    far: &Sourced,
) -> Option<Reason> {
    let share = settings.near_limit_share.value;
    let is_near = |limit_m: f64| (distance_m - limit_m).abs() <= share * limit_m;
    let staged_m = settings.staged_up_to_m.value;
    match fitting {
        Way::Staged => is_near(staged_m).then(|| say::stay_instead(staged_m)),
        Way::FarAndReturn if is_near(staged_m) => Some(say::stages_instead(
            staged_m,
            time_of_stages(
                (distance_m / settings.stage_m.value).ceil(),
                &settings.between,
            ),
        )),
        Way::FarAndReturn => is_near(far.value).then(|| say::at_once_instead(far.value)),
        Way::AtOnce => is_near(far.value).then(|| say::farther_stay_instead(far.value)),
    }
}

/// What has been published on how far these bees find home.
fn homing(way: Way, bee: &Bee) -> Vec<Reason> {
    let about = |number: &Sourced| two_figures(number.value);
    let mut list = Vec::new();
    if let Some(half) = &bee.homing_typical_m {
        list.push(say::half_find_home(about(half), &half.source));
    }
    if let Some(limit) = &bee.homing_limit_m {
        list.push(say::few_find_home(about(limit), &limit.source));
    }
    if let Some(farthest) = &bee.homing_farthest_m {
        list.push(say::farthest_home(about(farthest), &farthest.source));
    }
    if list.is_empty() {
        list.push(say::homing_unknown());
    }
    if way == Way::AtOnce && bee.size() == Size::Large {
        list.push(say::quarter_may_return(FAR_1997));
    }
    list
}

/// Homing is known to two figures at best.
fn two_figures(metres: f64) -> f64 {
    let step = 10_f64.powf(metres.log10().floor() - 1.0);
    (metres / step).round() * step
}

/// What can go wrong with a way that does not suit the distance.
pub(crate) fn warnings(
    given: Option<Way>,
    distance_m: f64,
    settings: &RelocationSettings,
    bee: &Bee,
) -> Vec<Caution> {
    let far = settings.far_m(bee);
    let staged = &settings.staged_up_to_m;
    let way = given.unwrap_or_else(|| fitting(distance_m, settings, &far));
    let advised = || say::distance_and_advised(distance_m, far.value);
    let (sentence, because, source) = match way {
        Way::AtOnce if distance_m < far.value && distance_m > settings.stage_m.value => {
            match &bee.homing_limit_m {
                Some(limit) if distance_m > limit.value => {
                    (say::caution_nearer_than_advised(), advised(), &far.source)
                }
                Some(limit) => (
                    say::caution_foragers_fly_back(),
                    say::distance_and_homing(distance_m, two_figures(limit.value)),
                    &limit.source,
                ),
                None => (say::caution_foragers_fly_back(), advised(), &far.source),
            }
        }
        Way::Staged if distance_m > staged.value => (
            say::caution_many_stages(),
            say::distance_and_stages(distance_m, staged.value),
            &staged.source,
        ),
        Way::FarAndReturn if distance_m >= far.value => {
            (say::caution_needless_stay(), advised(), &far.source)
        }
        _ => return Vec::new(),
    };
    vec![Caution::new(sentence, Some(because), source)]
}

/// What to know about stages of this distance.
pub(crate) fn advice_on_stages(
    distance_m: f64,
    stages: &Stages,
    settings: &RelocationSettings,
) -> Vec<Reason> {
    let mut list = vec![say::watch_the_bees()];
    let slow = &settings.slow_from_m;
    if distance_m > slow.value {
        let days = time_of_stages(stages.number.into(), &settings.between);
        list.push(say::slow(slow.value, &slow.source, days));
    }
    list
}

fn time_of_stages(number: f64, between: &Wait) -> Value {
    between.unit.value(number * between.likely)
}

/// The settings on which practice differs.
pub(crate) fn choices(way: Way, settings: &RelocationSettings) -> Vec<Choice> {
    let choice = |name: &str, chosen: String, source: &str, others: &[String]| Choice {
        name: name.to_owned(),
        others: others.iter().filter(|o| **o != chosen).cloned().collect(),
        chosen,
        source: source.to_owned(),
    };
    match way {
        Way::Staged => {
            let defaults = RelocationSettings::default();
            let (stage, pause) = (&settings.stage_m, &settings.between);
            vec![
                choice(
                    "stage_m",
                    match settings.stages {
                        Some(number) => format!("{number} stages"),
                        None => format!("{} m a stage", stage.value),
                    },
                    match settings.stages {
                        Some(_) => "set by the user",
                        None => &stage.source,
                    },
                    &[
                        format!("0.5 m a stage ({})", defaults.stage_m.source),
                        format!("up to 1 m a stage ({COMMON_PRACTICE})"),
                    ],
                ),
                choice(
                    "flying_days_between",
                    format!("a stage every {} {}", pause.likely, pause.unit.words()),
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
