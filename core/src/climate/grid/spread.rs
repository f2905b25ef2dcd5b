//! How far the days stray from the normals.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use super::GridClimate;
use crate::civil::MONTH_DAYS;
use crate::error::Error;
use crate::wire::FromNode;

/// Correlation of a day's departure of the maximum from its normal with the next day's: 0.62, the
/// mean of 31 stations in the United States (Richardson 1982; Richardson & Wright 1984, WGEN,
/// USDA-ARS ARS-8: the value that follows from the published matrix A). No table for the tropics
/// was found.
pub const LAG_ONE_MAXIMUM: f64 = 0.62;
/// The same for the minimum: 0.67.
pub const LAG_ONE_MINIMUM: f64 = 0.67;
/// Correlation of the departures of minimum and maximum of one day: 0.63, from the same source.
pub const SAME_DAY_CORRELATION: f64 = 0.63;

/// Root mean square error of the standard deviations of daily maxima at stations left out, °C.
pub const MAXIMUM_SD_ERROR_C: f64 = 0.61;
/// The same for daily minima, °C.
pub const MINIMUM_SD_ERROR_C: f64 = 0.63;

/// By how much a place on the shore is calmer than the same climate inland, and by how much the cool
/// months' maxima are: set so that every month of the subtropical coast comes to the 1.5–2.5 °C
/// measured for daily maxima at the coastal ones of 46 Australian stations.
const CALM_OF_THE_SHORE: f64 = 0.25;
const CALM_WINTER_OF_THE_SHORE: f64 = 0.5;

/// Standard deviation of the days of a month about its normal.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
pub struct DailySpread {
    /// Of the daily minima, January first, °C.
    pub minimum_sd_c: [f64; 12],
    /// Of the daily maxima, °C.
    pub maximum_sd_c: [f64; 12],
}

/// Standard deviations of a day about its normal, °C.
#[derive(Debug, Clone, Copy)]
pub(crate) struct DaySd {
    pub minimum: f64,
    pub maximum: f64,
}

impl DailySpread {
    /// The standard deviations of a date's month.
    pub(crate) fn of(&self, date: NaiveDate) -> DaySd {
        let month0 = date.month0() as usize;
        DaySd {
            minimum: self.minimum_sd_c[month0],
            maximum: self.maximum_sd_c[month0],
        }
    }

    /// Standard deviation of the mean of minimum and maximum of a month's days, January as 0, °C.
    pub(crate) fn mean_sd_c(&self, month0: usize) -> f64 {
        let (minimum, maximum) = (self.minimum_sd_c[month0], self.maximum_sd_c[month0]);
        let shared = 2.0 * SAME_DAY_CORRELATION * minimum * maximum;
        (minimum * minimum + maximum * maximum + shared).sqrt() / 2.0
    }

    /// Refuses numbers that no weather has.
    ///
    /// # Errors
    /// `out_of_range`, naming the month, for a standard deviation outside 0 to 15 °C.
    pub fn check(&self) -> Result<(), Error> {
        for (field, list) in [
            ("spread.minimum_sd_c", &self.minimum_sd_c),
            ("spread.maximum_sd_c", &self.maximum_sd_c),
        ] {
            if let Some(month) = list.iter().position(|sd| !(0.0..=15.0).contains(sd)) {
                return Err(Error::out_of_range(
                    &format!("{field}[{month}]"),
                    list[month],
                    "0 to 15 °C",
                ));
            }
        }
        Ok(())
    }
}

impl GridClimate {
    /// Standard deviations of the daily minima and maxima, by month.
    ///
    /// A regression on thirteen stations between 16° S and 34° N (monthly statistics of daily
    /// records of 3 to 49 years, DSSAT climate files): days stray more the farther from the
    /// equator, the cooler the month against the warmest of the year, and, for minima, the drier.
    /// Stations left out in turn are met within [`MAXIMUM_SD_ERROR_C`] and [`MINIMUM_SD_ERROR_C`]. On
    /// the shore the spread is taken to be smaller by up to a quarter, and what the cool months add to
    /// that of the maxima by up to a half.
    ///
    /// ```
    /// use apiary_almanac::climate::grid;
    /// let goiania = grid::at(-16.68, -49.25, Some(741.0)).expect("it lies on land");
    /// let spread = goiania.spread();
    /// assert!((1.0..3.5).contains(&spread.maximum_sd_c[0]));
    /// ```
    pub fn spread(&self) -> DailySpread {
        let mean: [f64; 12] =
            std::array::from_fn(|m| f64::midpoint(self.minimum_c[m], self.maximum_c[m]));
        let warmest = mean.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let from_equator = self.latitude_deg.abs() / 30.0;
        let calm = 1.0 - CALM_OF_THE_SHORE * self.closeness_to_sea;
        let calm_winter = 1.0 - CALM_WINTER_OF_THE_SHORE * self.closeness_to_sea;
        let cooler = mean.map(|c| from_equator * (warmest - c) / 10.0);
        let sd = |c: f64| c.clamp(0.5, 7.0);
        DailySpread {
            minimum_sd_c: std::array::from_fn(|m| {
                let wet = (self.wet_days[m] / MONTH_DAYS[m]).min(1.0);
                sd(calm * (1.47 + 0.96 * from_equator + 1.88 * cooler[m] - 1.35 * wet))
            }),
            maximum_sd_c: cooler.map(|cooler| {
                sd(calm * (1.60 + 0.77 * from_equator) + calm_winter * 1.31 * cooler)
            }),
        }
    }
}
