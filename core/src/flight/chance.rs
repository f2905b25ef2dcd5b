//! What the spread of the days makes of a day that is only known as a mean of many years.

use chrono::{NaiveDate, TimeDelta};
use serde::Serialize;

use super::DayFrame;
use crate::bee::Bee;
use crate::climate::Climate;
use crate::climate::grid::DAY_TO_DAY_CORRELATION;
use crate::error::Error;
use crate::normal::{chance_at_or_above, chance_at_or_below, chance_of_run};
use crate::number::{COMMON_PRACTICE, numbers};
use crate::wire::FromNode;

numbers! {
    /// What counts as a cold night and as a heat spell. From which maximum on a day is hot is the bee's
    /// [`heat_shade_c`](Bee::heat_shade_c).
    pub struct DayLimits {}

    /// A user's own limits; what is not given stays at its default.
    #[derive(Copy)]
    pub struct DayLimitOverrides {}

    /// A night is cold whose minimum is at or below this, °C.
    cold_night_c: f64 = 8.0, "°C", -10.0..=25.0, COMMON_PRACTICE;

    /// This many hot days on end are a heat spell, d.
    heat_spell_d: u16 = 3.0, "d", 1.0..=10.0,
        "three days: Nairn & Fawcett 2015, Int. J. Environ. Res. Public Health \
        12:227–253 (heat waves as they act on people); for hives: common practice, no \
        source";
}

impl DayLimits {
    /// The defaults with a user's own numbers.
    ///
    /// # Errors
    /// `out_of_range` for a number outside its range.
    ///
    /// ```
    /// use apiary_almanac::flight::{DayLimitOverrides, DayLimits};
    /// // Here a night counts as cold at 5 °C, not at 8 °C.
    /// let own = DayLimitOverrides::default().with_cold_night_c(5.0);
    /// assert_eq!(DayLimits::with_overrides(&own)?.cold_night_c().value, 5.0);
    /// assert_eq!(DayLimits::default().cold_night_c().value, 8.0);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn with_overrides(own: &DayLimitOverrides) -> Result<Self, Error> {
        let mut limits = DayLimits::default();
        limits.take_own(own)?;
        Ok(limits)
    }
}

/// How far the warmth of the hours needed strays from that of the usual course on days of the same
/// extremes, in parts of the day's range: fitted to the hourly records of `docs/climate.md`.
pub(crate) const COURSE_SD_OF_RANGE: f64 = 0.08;

/// Chances of a day of which only the mean over many years is known, 0 to 1.
///
/// They rest on normally distributed departures from that mean with the standard deviations of
/// [`Climate::spread`]. Each is exact for such days, `flying_day` with one assumption more; none comes
/// from a simulation.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct DayChances {
    /// That it is warm enough for long enough to be a flying day. Closed form, if the nights before
    /// and after depart from their means as much as the day's maximum does, and the warmth of the
    /// hours needed from the usual course by 8 % of the day's range. Rain is left out:
    /// in wet months the chance is smaller. Waits for flying days do count rain in.
    pub flying_day: f64,
    /// That the minimum is at or below [`DayLimits::cold_night_c`]. Closed form.
    pub cold_night: f64,
    /// That the maximum is at or above the bee's [`heat_shade_c`](Bee::heat_shade_c). Closed form.
    pub hot_day: f64,
    /// That it is one of [`DayLimits::heat_spell_d`] or more hot days on end: an integral over the
    /// days around, whose departures are correlated from one to the next, taken numerically to
    /// 0.0001. Days of a forecast or a record among them count as they are.
    pub heat_spell: f64,
}

/// Chances of a day; `None` where it is recorded or forecast, or where the spread is not known.
pub(crate) fn day_chances(
    climate: &Climate,
    bee: &Bee,
    limits: &DayLimits,
    day: &DayFrame,
) -> Option<DayChances> {
    let today = &day.flight.temperatures;
    let spread = climate.spread().filter(|_| today.source.is_a_mean())?;
    let sd_c = spread.of(today.date);
    let hot_c = bee.heat_shade_c.value;
    let flying_day = day
        .sky
        .spare_warmth_c(bee, &day.curve)
        .map_or(0.0, |spare_c| {
            let course_sd_c = COURSE_SD_OF_RANGE * (today.maximum_c - today.minimum_c);
            chance_at_or_above(-spare_c, 0.0, sd_c.maximum.hypot(course_sd_c))
        });
    Some(DayChances {
        flying_day,
        cold_night: chance_at_or_below(limits.cold_night_c.value, today.minimum_c, sd_c.minimum),
        hot_day: chance_at_or_above(hot_c, today.maximum_c, sd_c.maximum),
        heat_spell: heat_spell(
            climate,
            hot_c,
            limits.heat_spell_d.value as usize,
            today.date,
        ),
    })
}

/// Chance that a date is one of `length` or more hot days on end.
fn heat_spell(climate: &Climate, hot_c: f64, length: usize, date: NaiveDate) -> f64 {
    let length = length.max(1);
    // From how many standard deviations on each of the days around is hot.
    let reach = length as i64 - 1;
    let from_sd: Vec<f64> = (-reach..=reach)
        .map(|days| climate.day(date + TimeDelta::days(days)))
        .map(|day| match climate.spread() {
            Some(spread) if day.source.is_a_mean() && spread.of(day.date).maximum > 0.0 => {
                (hot_c - day.maximum_c) / spread.of(day.date).maximum
            }
            _ if day.maximum_c >= hot_c => f64::NEG_INFINITY,
            _ => f64::INFINITY,
        })
        .collect();
    if from_sd[length - 1] > 5.0 {
        return 0.0;
    }
    // The date lies in a spell when one of the runs of that length around it is hot. Neighbouring
    // runs both are when the run one day longer is, and then the days between them are hot too.
    let sum = |length: usize| -> f64 {
        let runs = from_sd.windows(length);
        runs.map(|run| chance_of_run(run, DAY_TO_DAY_CORRELATION))
            .sum()
    };
    let longer: f64 = if length > 1 { sum(length + 1) } else { 0.0 };
    (sum(length) - longer).clamp(0.0, 1.0)
}
