//! The dates of a hive's way from here to there, and of a new box's from its parent: the plan of a
//! [`Moved`](crate::method::Moved), with its stages and journeys one by one.

mod course;
mod parting;
#[cfg(test)]
mod tests;

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::caution::Caution;
use crate::civil::{check_date, previous_day};
use crate::climate::{Basis, ClimateInput};
use crate::error::Error;
use crate::method::HiveMove;
use crate::morning::MorningOverrides;
use crate::plan::{Colony, Plan, PlanRequest, made};
use crate::reason::Reason;
use crate::site::Site;
use crate::task::Choice;
use crate::wait::DateRange;
use crate::wire::{FromNode, Shape};

pub use crate::way::{
    FarStay, MOST_STAGES, Parting, PartingOverrides, RelocationOverrides, RelocationSettings,
    StageOverrides, Way, parted_from_parent,
};
pub use course::{Course, DirectMove, FarMove, Stage, StagedMove, TransitLimits, Trip};
pub use parting::{DatedParting, PartingDates, PartingRequest, parting};

/// What a [`Relocation`] is made from.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct RelocationRequest {
    /// Where the hive stands.
    #[setters(skip)]
    pub site: Site,
    /// The first morning on which work can be done.
    #[setters(skip)]
    pub first: NaiveDate,
    /// From here to there, m: 0.05 to 1,000,000.
    #[setters(skip)]
    pub distance_m: f64,
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// Normals, records, forecast; without any the default for the location.
    #[serde(default)]
    pub climate: ClimateInput,
    /// The way to take; the engine chooses when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub way: Option<Way>,
    /// By how much the entrance is to be turned in all, degrees: −360 to 360, clockwise positive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total_turn_deg: Option<f64>,
    /// A user's own numbers for the relocation.
    #[serde(default)]
    pub settings: RelocationOverrides,
    /// A user's own numbers for the mornings.
    #[serde(default)]
    pub mornings: MorningOverrides,
    /// Weight of the hive, kg, where the keeper knows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hive_weight_kg: Option<f64>,
}

impl RelocationRequest {
    /// With the default bee, climate and settings; the engine chooses the way.
    ///
    /// ```
    /// use apiary_almanac::relocation::{RelocationRequest, Way, relocation};
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// // To the other side of the shed, and to another valley.
    /// let shed = RelocationRequest::new(site, "2026-10-26".parse()?, 2.0);
    /// let valley = RelocationRequest::new(site, "2026-10-26".parse()?, 20_000.0);
    /// assert_eq!(relocation(&shed)?.way, Way::Staged);
    /// assert_eq!(relocation(&valley)?.way, Way::AtOnce);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(site: Site, first: NaiveDate, distance_m: f64) -> Self {
        RelocationRequest {
            site,
            first,
            distance_m,
            bee: BeeOverrides::default(),
            climate: ClimateInput::default(),
            way: None,
            total_turn_deg: None,
            settings: RelocationOverrides::default(),
            mornings: MorningOverrides::default(),
            hive_weight_kg: None,
        }
    }
}

/// A dated relocation.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct Relocation {
    /// Where from.
    pub site: Site,
    /// The numbers of the bee.
    pub bee: Bee,
    /// From here to there, m.
    pub distance_m: f64,
    /// The way that is taken.
    pub way: Way,
    /// True where the user chose it.
    pub way_was_given: bool,
    /// Why this way, and advice.
    pub why: Vec<Reason>,
    /// Its steps.
    pub course: Course,
    /// When the hive stands in its new place; `None` where the stages come to a stop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finish: Option<DateRange>,
    /// Settings on which practice differs.
    pub choices: Vec<Choice>,
    /// What to mind.
    pub cautions: Vec<Caution>,
    /// What the temperatures rest on.
    pub basis: Vec<Basis>,
    /// The tasks: evenings, dawns and openings, as those of any plan.
    pub plan: Plan,
}

/// Plans how a hive gets from here to there.
///
/// # Errors
/// As [`plan`](crate::plan::plan()); `out_of_range` for a distance that is not 0.05 to 1,000,000 m (0 m
/// is no move) or a hive weight that is not 0.5 to 200 kg, `inconsistent` for stages that cannot be.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::relocation::{RelocationRequest, Way, relocation};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let request = RelocationRequest::new(site, "2026-10-26".parse()?, 80.0);
/// let answer = relocation(&request)?;
/// assert_eq!(answer.way, Way::FarAndReturn);
/// for task in &answer.plan.tasks {
///     println!("{task}");
/// }
/// assert!(answer.finish.is_some());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn relocation(request: &RelocationRequest) -> Result<Relocation, Error> {
    let moved = HiveMove {
        distance_m: request.distance_m,
        way: request.way,
        total_turn_deg: request.total_turn_deg,
        settings: request.settings.clone(),
    };
    check_date("first", request.first)?;
    let eve = previous_day(request.first, request.site.zone)?;
    let plan = PlanRequest::new(request.site, eve, moved.clone(), Colony::new("Hive"))
        .with_bee(request.bee.clone())
        .with_climate(request.climate.clone())
        .with_mornings(request.mornings)
        .with_hive_weight_kg(request.hive_weight_kg)
        .with_wanted(request.first);
    made(&plan, |bench, plan| {
        let bee = bench.weather.bee();
        let way = moved.way(bee)?;
        let course = course::of(bench, &plan, way, &moved)?;
        Ok(Relocation {
            site: request.site,
            bee: bee.clone(),
            distance_m: request.distance_m,
            way,
            way_was_given: request.way.is_some(),
            why: plan.notes.clone(),
            finish: course.finish(),
            course,
            choices: plan.choices.clone(),
            cautions: plan.cautions.clone(),
            basis: plan.basis.clone(),
            plan,
        })
    })
}
