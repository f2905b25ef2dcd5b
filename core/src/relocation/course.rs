//! The stages and journeys of a plan, one by one.

use serde::Serialize;

use crate::error::Error;
use crate::method::HiveMove;
use crate::morning::EveningClosing;
use crate::number::Sourced;
use crate::plan::{Bench, Plan};
use crate::reason::{Reason, say};
use crate::task::{TaskState, TimeWindow};
use crate::wait::{DateRange, RestsOn, Wait};
use crate::way::{RelocationSettings, Way};
use crate::wire::FromNode;

/// How the hive gets there.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Course {
    /// In stages.
    Staged(StagedMove),
    /// By way of a far place.
    FarAndReturn(Box<FarMove>),
    /// At once.
    AtOnce(Box<DirectMove>),
}

/// A move to a far place and back.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct FarMove {
    /// How far away the far place is, at least, m, from both the old and the new place.
    pub away_at_least_m: f64,
    /// Publication behind that distance.
    pub away_source: String,
    /// There.
    pub out: Trip,
    /// How long the colony stays.
    pub stay: Wait,
    /// Back, to the new place.
    pub back: Trip,
    /// What a closed hive can bear on the way.
    pub limits: TransitLimits,
}

/// A move in one go.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct DirectMove {
    /// The journey.
    pub trip: Trip,
    /// What a closed hive can bear on the way.
    pub limits: TransitLimits,
}

/// One move at dawn.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Stage {
    /// From 1.
    pub number: u32,
    /// When.
    pub dates: DateRange,
    /// The move window of the best date.
    pub window: TimeWindow,
    /// Where the box stands afterwards: metres from where it began.
    pub distance_so_far_m: f64,
    /// By how much its entrance is turned afterwards, degrees, where a turn is asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turned_so_far_deg: Option<f64>,
    /// Why then; above all what held it up.
    pub reasons: Vec<Reason>,
    /// Which weather the best date rests on, from the stage before.
    pub rests_on: RestsOn,
}

/// A move in stages.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct StagedMove {
    /// The stages, in order; not all of them where it comes to a stop.
    pub stages: Vec<Stage>,
    /// When the box stands where it shall; `None` where it comes to a stop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finish: Option<DateRange>,
    /// Why it comes to a stop before the end; empty where it does not.
    pub stopped: Vec<Reason>,
}

/// One journey of a closed hive.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Trip {
    /// The morning of the journey.
    pub dates: DateRange,
    /// When the entrance is closed, on the evening before the best date.
    pub evening_before: EveningClosing,
    /// When it is lifted: the move window of the best date; `None` where there is none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lift: Option<TimeWindow>,
    /// Why then.
    pub reasons: Vec<Reason>,
    /// Which weather the best date rests on.
    pub rests_on: RestsOn,
}

/// What a closed hive can bear.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct TransitLimits {
    /// Air colder than this chills brood when a hive is carried, °C.
    pub coldest_work_c: Sourced,
    /// Air warmer than this makes a closed hive hot: by then it stands and is open, °C.
    pub warmest_work_c: Sourced,
    /// No journey on a day that gets as warm as this, nor on the day before, °C.
    pub heat_shade_c: Sourced,
    /// A hive that gets as warm as this is in danger, closed or open, °C.
    pub heat_limit_c: Sourced,
    /// How the entrance is closed.
    pub closing: Reason,
}

impl Course {
    /// When the hive stands in its new place.
    pub(super) fn finish(&self) -> Option<DateRange> {
        match self {
            Course::Staged(moved) => moved.finish,
            Course::FarAndReturn(moved) => Some(moved.back.dates),
            Course::AtOnce(moved) => Some(moved.trip.dates),
        }
    }
}

/// The course of a move.
pub(super) fn of(
    bench: &Bench<'_>,
    plan: &Plan,
    way: Way,
    moved: &HiveMove,
) -> Result<Course, Error> {
    Ok(match way {
        Way::Staged => Course::Staged(staged(bench, plan)),
        Way::FarAndReturn => {
            let settings = RelocationSettings::with_overrides(&moved.settings)?;
            let away = settings.far_m(bench.weather.bee());
            Course::FarAndReturn(Box::new(FarMove {
                away_at_least_m: away.value,
                away_source: away.source,
                out: trip(bench, plan, "take-away")?,
                stay: settings.far_stay().wait(),
                back: trip(bench, plan, "bring-back")?,
                limits: limits(bench),
            }))
        }
        Way::AtOnce => Course::AtOnce(Box::new(DirectMove {
            trip: trip(bench, plan, "carry")?,
            limits: limits(bench),
        })),
    })
}

/// The stages of a plan, up to the first that has no morning.
pub(super) fn staged(bench: &Bench<'_>, plan: &Plan) -> StagedMove {
    let mut moved = StagedMove {
        stages: Vec::new(),
        finish: None,
        stopped: Vec::new(),
    };
    let steps = bench.resolved.steps.iter();
    for (step, so_far) in steps.filter_map(|step| Some((step, step.stage?))) {
        let Some(task) = plan.task(&step.id) else {
            continue;
        };
        let reasons: Vec<Reason> = task.why_then().cloned().collect();
        match task.window {
            Some(window) if task.state != TaskState::Dropped => moved.stages.push(Stage {
                number: so_far.number,
                dates: task.dates,
                window,
                distance_so_far_m: so_far.distance_m,
                turned_so_far_deg: so_far.turned_deg,
                reasons,
                rests_on: task.rests_on,
            }),
            _ => {
                moved.stopped = reasons;
                return moved;
            }
        }
    }
    moved.finish = moved.stages.last().map(|stage| stage.dates);
    moved
}

fn trip(bench: &Bench<'_>, plan: &Plan, id: &str) -> Result<Trip, Error> {
    let Some(task) = plan.task(id) else {
        return Err(Error::NotEnoughData {
            field: "first".to_owned(),
            given: id.to_owned(),
            needed: "a journey with a date".to_owned(),
        });
    };
    Ok(Trip {
        dates: task.dates,
        evening_before: bench.days.dawn(task.dates.best)?.evening_before,
        lift: task.window,
        reasons: task.why_then().cloned().collect(),
        rests_on: task.rests_on,
    })
}

fn limits(bench: &Bench<'_>) -> TransitLimits {
    let bee = bench.weather.bee();
    TransitLimits {
        coldest_work_c: bench.mornings.coldest_work_c.clone(),
        warmest_work_c: bench.mornings.warmest_work_c.clone(),
        heat_shade_c: bee.heat_shade_c.clone(),
        heat_limit_c: bee.heat_limit_c.clone(),
        closing: say::mesh(),
    }
}
