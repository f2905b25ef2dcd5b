//! A new colony that was parted from its parent, until it stands beside it: its dates.

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use super::course::{self, StagedMove};
use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::caution::Caution;
use crate::civil::check_date;
use crate::climate::{Basis, ClimateInput};
use crate::error::Error;
use crate::method::Moved;
use crate::morning::MorningOverrides;
use crate::plan::{Colony, Plan, PlanRequest, made};
use crate::site::Site;
use crate::task::TaskState;
use crate::wait::DateRange;
use crate::way::{Parting, PartingOverrides};
use crate::wire::{FromNode, Shape};

/// What the dates of a parting are made from.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct PartingRequest {
    /// Where the hives stand.
    #[setters(skip)]
    pub site: Site,
    /// When the new box is set before the parent's entrance.
    #[setters(skip)]
    pub set_before: NaiveDate,
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// Normals, records, forecast; without any the default for the location.
    #[serde(default)]
    pub climate: ClimateInput,
    /// A keeper's own numbers and waiting times.
    #[serde(default)]
    pub settings: PartingOverrides,
    /// A user's own numbers for the mornings.
    #[serde(default)]
    pub mornings: MorningOverrides,
    /// Weight of the new box, kg, where the keeper knows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hive_weight_kg: Option<f64>,
}

impl PartingRequest {
    /// With the default bee, climate and settings.
    pub fn new(site: Site, set_before: NaiveDate) -> Self {
        PartingRequest {
            site,
            set_before,
            bee: BeeOverrides::default(),
            climate: ClimateInput::default(),
            settings: PartingOverrides::default(),
            mornings: MorningOverrides::default(),
            hive_weight_kg: None,
        }
    }
}

/// A dated parting.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct DatedParting {
    /// Where.
    pub site: Site,
    /// The numbers of the bee.
    pub bee: Bee,
    /// How the box gets from the entrance to its place, with sources.
    pub parting: Parting,
    /// When.
    pub dates: PartingDates,
    /// What to mind.
    pub cautions: Vec<Caution>,
    /// What the temperatures rest on.
    pub basis: Vec<Basis>,
    /// The tasks: evenings, dawns and openings, as those of any plan.
    pub plan: Plan,
}

/// The dates of a [`Parting`].
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct PartingDates {
    /// The first stage: the new box comes from before the entrance to beside its parent; `None` where
    /// the weather does not let it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set_beside: Option<DateRange>,
    /// All stages.
    pub stages: StagedMove,
    /// Until when the pair stands side by side; `None` where the stages come to a stop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side_by_side_until: Option<DateRange>,
}

/// Dates the way of a new box from its parent's entrance to a place beside it, by the preset
/// [`parted_from_parent`](super::parted_from_parent) and a keeper's own numbers.
///
/// # Errors
/// As [`plan`](crate::plan::plan()); `out_of_range` for a number or a weight outside its range.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::relocation::{PartingOverrides, PartingRequest, parting};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let four = PartingOverrides::default().with_stages(4_u32);
/// let request = PartingRequest::new(site, "2026-11-02".parse()?).with_settings(four);
/// let dates = parting(&request)?.dates;
/// assert_eq!(dates.set_beside.ok_or("stopped")?.best.to_string(), "2026-11-09");
/// assert_eq!(dates.stages.stages.len(), 4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn parting(request: &PartingRequest) -> Result<DatedParting, Error> {
    check_date("set_before", request.set_before)?;
    let (parting, _) = Parting::with_overrides(&request.settings)?;
    let moved = Moved::Parting(request.settings.clone());
    let plan = PlanRequest::new(request.site, request.set_before, moved, Colony::new("Hive"))
        .with_bee(request.bee.clone())
        .with_climate(request.climate.clone())
        .with_mornings(request.mornings)
        .with_hive_weight_kg(request.hive_weight_kg);
    made(&plan, |bench, plan| {
        let stages = course::staged(bench, &plan);
        let rest = plan.task("side-by-side");
        let rest = rest.filter(|task| task.state != TaskState::Dropped);
        Ok(DatedParting {
            site: request.site,
            bee: bench.weather.bee().clone(),
            dates: PartingDates {
                set_beside: stages.stages.first().map(|stage| stage.dates),
                side_by_side_until: rest
                    .filter(|_| stages.finish.is_some())
                    .map(|task| task.dates),
                stages,
            },
            parting,
            cautions: plan.cautions.clone(),
            basis: plan.basis.clone(),
            plan,
        })
    })
}
