//! A new colony that was parted from its parent, until it stands beside it.

use serde::{Deserialize, Serialize};

use super::stages::{StagedMove, Staging, staged};
use crate::clock::{ClockOutcome, ClockUnit, DateRange, Wait, Weather, run};
use crate::error::Error;
use crate::morning::MorningSettings;
use crate::sourced::{COMMON_PRACTICE, Sourced};

/// How a new box gets from the parent's entrance to a place beside it. All of it is common
/// practice, no source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Parting {
    /// How long the new box stands before the parent's entrance.
    pub before_entrance: Wait,
    /// How far from the parent the new box is moved from its place right beside it, m.
    pub apart_m: Sourced,
    /// Length of a stage, m.
    pub stage_m: Sourced,
    /// From the place beside the parent to the first stage, and from one stage to the next.
    pub between_stages: Wait,
    /// How long the pair then stands side by side.
    pub side_by_side: Wait,
}

/// The preset for a colony parted from its parent: about 7 days before the parent's entrance, then
/// beside it, then stages of two days each to about 1 m, then 14 to 28 days side by side (common
/// practice, no source).
///
/// ```
/// use apiary_almanac::relocation::parted_from_parent;
/// let parting = parted_from_parent();
/// assert_eq!(parting.before_entrance.likely, 7.0);
/// assert_eq!(parting.side_by_side.latest, 28.0);
/// ```
pub fn parted_from_parent() -> Parting {
    let metres = |value, lowest, highest| Sourced {
        value,
        unit: "m".to_owned(),
        lowest,
        highest,
        source: COMMON_PRACTICE.to_owned(),
    };
    let days = |counts| Wait::unchecked(ClockUnit::Days, counts, COMMON_PRACTICE);
    Parting {
        before_entrance: days([6.0, 7.0, 8.0]),
        apart_m: metres(1.0, 0.3, 5.0),
        stage_m: metres(0.5, 0.1, 1.0),
        between_stages: days([2.0; 3]),
        side_by_side: days([14.0, 21.0, 28.0]),
    }
}

/// The dates of a [`Parting`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
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
    /// use apiary_almanac::clock::{DateRange, Weather};
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
            ClockOutcome::RunsOut { dates, .. } => Ok(dates),
            ClockOutcome::NeverWithinAYear { reason, .. } => Err(Error::NotEnoughData {
                field: "wait".to_owned(),
                given: reason.text,
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
