//! How far the days stray from the normals.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use super::GridClimate;
use crate::error::Error;
use crate::wire::FromNode;

/// Correlation of a day's departure from its normal with the next day's, of minimum and maximum
/// alike: 0.55, the mean of 28 Australian stations (2007–2017, Bureau of Meteorology: 0.53 and
/// 0.56), 43 typical years in the United States (NREL TMY3: 0.55 and 0.56) and of São
/// Paulo, Recife and Guangzhou (INMET, UCI: 0.55 and 0.61).
pub const DAY_TO_DAY_CORRELATION: f64 = 0.55;
/// Correlation of the departures of minimum and maximum of one day: 0.38, from the same places
/// (0.34, 0.45 and 0.31).
pub const SAME_DAY_CORRELATION: f64 = 0.38;

/// Root mean square error of the standard deviations of daily maxima at stations left out, °C.
pub const MAXIMUM_SD_ERROR_C: f64 = 0.67;
/// The same for daily minima, °C.
pub const MINIMUM_SD_ERROR_C: f64 = 0.52;

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
    ///
    /// ```
    /// use apiary_almanac::climate::grid::DailySpread;
    /// let mut spread = DailySpread { minimum_sd_c: [2.5; 12], maximum_sd_c: [3.0; 12] };
    /// assert!(spread.check().is_ok());
    /// spread.maximum_sd_c[1] = f64::NAN;
    /// assert!(spread.check().unwrap_err().field().contains("maximum_sd_c"));
    /// ```
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
    /// Standard deviations of the daily minima and maxima, by month: fields of five degrees, fitted
    /// to daily records of 1995 to 2019. Stations left out in turn are met within
    /// [`MAXIMUM_SD_ERROR_C`] and [`MINIMUM_SD_ERROR_C`].
    ///
    /// ```
    /// use apiary_almanac::climate::grid;
    /// // Inland in the south the hot winds of summer make the days differ most.
    /// let cobar = grid::at(-31.5, 145.8, Some(260.0)).ok_or("it lies on land")?;
    /// assert!(cobar.spread().maximum_sd_c[0] > cobar.spread().maximum_sd_c[5]);
    /// # Ok::<(), &str>(())
    /// ```
    pub fn spread(&self) -> DailySpread {
        self.spread
    }
}
