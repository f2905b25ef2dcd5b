//! A new colony that was parted from its parent, until it stands beside it.

use derive_setters::Setters;
use serde::Serialize;

use super::check_weight;
use super::stages::{Dawns, StagedMove, Staging, staged};
use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::caution::{Caution, cautions, of_place};
use crate::climate::{Basis, Climate, ClimateInput};
use crate::error::Error;
use crate::morning::{MorningOverrides, MorningSettings};
use crate::number::{COMMON_PRACTICE, numbers};
use crate::site::Site;
use crate::wait::{DateRange, Wait, WaitOutcome, WaitUnit, date_or_range, run};
use crate::weather::Weather;
use crate::wire::{FromNode, Shape};

numbers! {
    /// How a new box gets from the parent's entrance to a place beside it. All of it is common
    /// practice, no source.
    pub struct Parting {
        /// How long the new box stands before the parent's entrance.
        before_entrance: Wait = days([6.0, 7.0, 8.0]),
        /// From the place beside the parent to the first stage, and from one stage to the next.
        between_stages: Wait = days([2.0; 3]),
        /// How long the pair then stands side by side.
        side_by_side: Wait = days([14.0, 21.0, 28.0]),
    }

    /// A keeper's own numbers and waiting times; what is not given stays as it is in the preset.
    pub struct PartingOverrides {
        /// See [`Parting::before_entrance`].
        #[serde(skip_serializing_if = "Option::is_none")]
        pub before_entrance: Option<Wait>,
        /// See [`Parting::between_stages`].
        #[serde(skip_serializing_if = "Option::is_none")]
        pub between_stages: Option<Wait>,
        /// See [`Parting::side_by_side`].
        #[serde(skip_serializing_if = "Option::is_none")]
        pub side_by_side: Option<Wait>,
    }

    /// How far from the parent the new box is moved from its place right beside it, m.
    apart_m: f64 = 1.0, "m", 0.3..=5.0, COMMON_PRACTICE;
    /// Length of a stage, m.
    stage_m: f64 = 0.5, "m", 0.1..=1.0, COMMON_PRACTICE;
}

fn days(counts: [f64; 3]) -> Wait {
    Wait::unchecked(WaitUnit::Days, counts, COMMON_PRACTICE)
}

/// The preset for a colony parted from its parent: about 7 days before the parent's entrance, then
/// beside it, then stages of two days each to about 1 m, then 14 to 28 days side by side (common
/// practice, no source).
///
/// ```
/// use apiary_almanac::relocation::parted_from_parent;
/// let parting = parted_from_parent();
/// assert_eq!(parting.before_entrance().likely, 7.0);
/// assert_eq!(parting.side_by_side().latest, 28.0);
/// ```
pub fn parted_from_parent() -> Parting {
    Parting::default()
}

/// What the dates of a parting are made from.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct PartingRequest {
    /// Where the hives stand.
    #[setters(skip)]
    pub site: Site,
    /// When the new box is set before the parent's entrance: a date, or a range of dates.
    #[setters(skip)]
    #[serde(deserialize_with = "date_or_range")]
    pub set_before: DateRange,
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// Normals, records, forecast; without any the default for the location.
    #[serde(default)]
    pub climate: ClimateInput,
    /// A keeper's own numbers and waiting times.
    #[serde(default)]
    pub settings: PartingOverrides,
    /// True where the keeper also moves by lamp, with the entrance closed the evening before, on
    /// mornings that leave no daylight before first flight.
    #[serde(default)]
    pub by_lamp: bool,
    /// A user's own numbers for the mornings.
    #[serde(default)]
    pub mornings: MorningOverrides,
    /// Weight of the new box, kg, where the keeper knows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hive_weight_kg: Option<f64>,
}

impl PartingRequest {
    /// With the default bee, climate and settings.
    ///
    /// ```
    /// use apiary_almanac::relocation::{PartingRequest, parting};
    /// use apiary_almanac::{Site, wait::DateRange};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// // It will be set there on some day of that weekend.
    /// let weekend = DateRange {
    ///     earliest: "2026-11-07".parse()?,
    ///     best: "2026-11-07".parse()?,
    ///     latest: "2026-11-08".parse()?,
    /// };
    /// let beside = parting(&PartingRequest::new(site, weekend))?.dates.set_beside;
    /// assert!(beside.earliest < beside.latest);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(site: Site, set_before: impl Into<DateRange>) -> Self {
        PartingRequest {
            site,
            set_before: set_before.into(),
            bee: BeeOverrides::default(),
            climate: ClimateInput::default(),
            settings: PartingOverrides::default(),
            by_lamp: false,
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
}

/// Dates the way of a new box from its parent's entrance to a place beside it, by the preset
/// [`parted_from_parent`] and a keeper's own numbers.
///
/// # Errors
/// As [`Parting::dates`]; `out_of_range` for a number or a weight outside its range; those of the
/// climate readers and of [`Bee::with_overrides`].
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::chrono::NaiveDate;
/// use apiary_almanac::relocation::{PartingRequest, parting};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let request = PartingRequest::new(site, "2026-11-02".parse::<NaiveDate>()?);
/// assert_eq!(parting(&request)?.dates.set_beside.best.to_string(), "2026-11-09");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn parting(request: &PartingRequest) -> Result<DatedParting, Error> {
    let (site, own) = (&request.site, &request.settings);
    check_weight(request.hive_weight_kg)?;
    let bee = Bee::with_overrides(&request.bee)?;
    let mornings = MorningSettings::with_overrides(&request.mornings)?;
    let climate = Climate::from_input(site, &request.climate)?;
    let weather = Weather::new(site, &climate, &bee);
    let mut parting = parted_from_parent();
    parting.take_own(own)?;
    for (slot, given) in [
        (&mut parting.before_entrance, &own.before_entrance),
        (&mut parting.between_stages, &own.between_stages),
        (&mut parting.side_by_side, &own.side_by_side),
    ] {
        if let Some(wait) = given {
            slot.clone_from(wait);
        }
    }
    let dates = parting.dates(&request.set_before, request.by_lamp, &mornings, &weather)?;
    let dawns = Dawns {
        mornings: &mornings,
        weather: &weather,
        by_lamp: request.by_lamp,
    };
    let moves = || dates.stages.stages.iter().map(|stage| stage.dates.best);
    let days: Vec<_> = moves().map(|date| climate.day(date)).collect();
    let worked = moves()
        .map(|date| dawns.morning(date))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(DatedParting {
        site: *site,
        cautions: [
            of_place(&bee, site),
            cautions(&bee, &mornings, &days, &worked, request.hive_weight_kg),
        ]
        .concat(),
        basis: climate.basis(),
        parting,
        dates,
        bee,
    })
}

/// The dates of a [`Parting`].
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct PartingDates {
    /// The new box is set beside its parent.
    pub set_beside: DateRange,
    /// The stages away from it.
    pub stages: StagedMove,
    /// Until when the pair stands side by side; `None` where the stages come to a stop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side_by_side_until: Option<DateRange>,
}

impl Parting {
    /// The dates, from those on which the new box is set before the parent's entrance.
    ///
    /// # Errors
    /// As [`run`] and [`staged`]; `out_of_range` for a length outside its range.
    ///
    /// ```
    /// use apiary_almanac::wait::DateRange;
    /// use apiary_almanac::weather::Weather;
    /// use apiary_almanac::{Climate, Site, bee, relocation};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let (climate, small) = (Climate::from_location(&site), bee::built_in("generic_small")?);
    /// let weather = Weather::new(&site, &climate, &small);
    /// let start = DateRange::on("2026-11-02".parse()?);
    /// let preset = relocation::parted_from_parent();
    /// let dates = preset.dates(&start, false, &Default::default(), &weather)?;
    /// assert_eq!(dates.set_beside.best.to_string(), "2026-11-09");
    /// assert_eq!(dates.stages.finish.ok_or("stopped")?.best.to_string(), "2026-11-13");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn dates(
        &self,
        start: &DateRange,
        by_lamp: bool,
        mornings: &MorningSettings,
        weather: &Weather<'_>,
    ) -> Result<PartingDates, Error> {
        self.apart_m.check("apart_m")?;
        self.stage_m.check("stage_m")?;
        let after = |wait: &Wait, from: &DateRange| match run(wait, from, weather)? {
            WaitOutcome::RunsOut { dates, .. } => Ok(dates),
            WaitOutcome::NeverWithinAYear { reason, .. } => Err(Error::NotEnoughData {
                field: "wait".to_owned(),
                given: reason.text(),
                needed: "a waiting time that ends within a year".to_owned(),
            }),
        };
        let set_beside = after(&self.before_entrance, start)?;
        let staging = Staging {
            distance_m: self.apart_m.value,
            stage_m: self.stage_m.value,
            between: self.between_stages.clone(),
            total_turn_deg: None,
            by_lamp,
        };
        let first = after(&self.between_stages, &set_beside)?;
        let stages = staged(&staging, &first, mornings, weather)?;
        let side_by_side_until = match &stages.finish {
            Some(finish) => Some(after(&self.side_by_side, finish)?),
            None => None,
        };
        Ok(PartingDates {
            set_beside,
            stages,
            side_by_side_until,
        })
    }
}
