//! From here to there: in stages, by way of a far place, or at once.
//!
//! Foragers know the place of their hive, not the hive. Moved a little, they find it; moved farther
//! within their range, they fly back to where it stood; moved beyond their range, they learn the
//! new place.

mod choice;
mod holdups;
mod parting;
mod settings;
mod stages;
#[cfg(test)]
mod tests;
mod trip;

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::caution::{Caution, cautions, of_place};
use crate::civil::check_date;
use crate::climate::{Basis, Climate, ClimateInput};
use crate::error::Error;
use crate::morning::{MorningOverrides, MorningSettings};
use crate::reason::Reason;
use crate::site::Site;
use crate::task::Choice;
use crate::wait::{DateRange, Wait, WaitOutcome, WaitUnit, run};
use crate::weather::Weather;
use crate::wire::{FromNode, Shape};

pub(crate) use holdups::known_spells;

pub use choice::Way;
pub use parting::{
    DatedParting, Parting, PartingDates, PartingOverrides, PartingRequest, parted_from_parent,
    parting,
};
pub use settings::{FarStay, RelocationOverrides, RelocationSettings};
pub use stages::{MOST_STAGES, Stage, StagedMove, Staging, staged};
pub use trip::{TransitLimits, Trip};

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
    /// True where the keeper also moves by lamp, with the entrance closed the evening before, on
    /// mornings that leave no daylight before first flight.
    #[serde(default)]
    pub by_lamp: bool,
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
            by_lamp: false,
            settings: RelocationOverrides::default(),
            mornings: MorningOverrides::default(),
            hive_weight_kg: None,
        }
    }
}

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
}

/// Plans how a hive gets from here to there.
///
/// # Errors
/// Those of the climate readers, [`Bee::with_overrides`], the settings and [`staged`];
/// `out_of_range` for a distance that is not 0.05 to 1,000,000 m (0 m is no move) or a hive weight
/// that is not 0.5 to 200 kg.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::relocation::{RelocationRequest, Way, relocation};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let request = RelocationRequest::new(site, "2026-10-26".parse()?, 80.0);
/// let answer = relocation(&request)?;
/// assert_eq!(answer.way, Way::FarAndReturn);
/// assert!(answer.finish.is_some());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn relocation(request: &RelocationRequest) -> Result<Relocation, Error> {
    let (site, distance_m) = (&request.site, request.distance_m);
    check_date("first", request.first)?;
    if !(0.05..=1e6).contains(&distance_m) {
        return Err(Error::out_of_range(
            "distance_m",
            distance_m,
            "0.05 to 1000000 m",
        ));
    }
    check_weight(request.hive_weight_kg)?;
    let bee = Bee::with_overrides(&request.bee)?;
    let settings = RelocationSettings::with_overrides(&request.settings)?;
    let mornings = MorningSettings::with_overrides(&request.mornings)?;
    let climate = Climate::from_input(site, &request.climate)?;
    let weather = Weather::new(site, &climate, &bee);
    let (way, mut why) = choice::choose(request.way, distance_m, &settings, &bee);
    let mut warnings = choice::warnings(request.way, distance_m, &settings, &bee);
    let dawns = stages::Dawns {
        mornings: &mornings,
        weather: &weather,
        by_lamp: request.by_lamp,
    };
    let first = DateRange::on(request.first);
    let (course, finish, best_dates) = match way {
        Way::Staged => {
            let between = Wait::new(
                WaitUnit::FlyingDays,
                [settings.flying_days_between.value; 3],
                &settings.flying_days_between.source,
            )?;
            let staging = Staging {
                distance_m,
                stage_m: settings.stage_m.value,
                between,
                total_turn_deg: request.total_turn_deg,
                by_lamp: request.by_lamp,
            };
            let moved = staged(&staging, &first, &mornings, &weather)?;
            why.extend(choice::advice_on_stages(distance_m, &settings));
            let best: Vec<_> = moved.stages.iter().map(|stage| stage.dates.best).collect();
            let finish = moved.finish;
            (Course::Staged(moved), finish, best)
        }
        Way::FarAndReturn => {
            let far = settings.far_m(&bee);
            let out = dawns.trip(&first)?;
            let stay = settings.far_stay.wait();
            let back_from = match run(&stay, &out.dates, &weather)? {
                WaitOutcome::RunsOut { dates, .. } => dates,
                // Civil days always pass.
                WaitOutcome::NeverWithinAYear { .. } => out.dates,
            };
            let back = dawns.trip(&back_from)?;
            let (finish, best) = (back.dates, vec![out.dates.best, back.dates.best]);
            let moved = FarMove {
                away_at_least_m: far.value,
                away_source: far.source,
                out,
                stay,
                back,
                limits: dawns.limits(),
            };
            (Course::FarAndReturn(Box::new(moved)), Some(finish), best)
        }
        Way::AtOnce => {
            let trip = dawns.trip(&first)?;
            let dates = trip.dates;
            let moved = DirectMove {
                trip,
                limits: dawns.limits(),
            };
            (
                Course::AtOnce(Box::new(moved)),
                Some(dates),
                vec![dates.best],
            )
        }
    };
    let mut days = Vec::with_capacity(best_dates.len());
    let mut worked = Vec::with_capacity(best_dates.len());
    for date in best_dates {
        days.push(climate.day(date));
        worked.push(dawns.morning(date)?);
    }
    warnings.extend(cautions(
        &bee,
        &mornings,
        &days,
        &worked,
        request.hive_weight_kg,
    ));
    let choices = choice::choices(way, &settings);
    let basis = climate.basis();
    Ok(Relocation {
        site: *site,
        distance_m,
        way,
        way_was_given: request.way.is_some(),
        why,
        course,
        finish,
        choices,
        cautions: [of_place(&bee, site), warnings].concat(),
        basis,
        bee,
    })
}

fn check_weight(hive_weight_kg: Option<f64>) -> Result<(), Error> {
    match hive_weight_kg {
        Some(kg) if !(0.5..=200.0).contains(&kg) => {
            Err(Error::out_of_range("hive_weight_kg", kg, "0.5 to 200 kg"))
        }
        _ => Ok(()),
    }
}
