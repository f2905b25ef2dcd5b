//! One measured or forecast day, and the checks that both go through.

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use super::columns::Quantity;
use super::{ALLOWED_C, ForecastDay, table};
use crate::civil;
use crate::error::Error;
use crate::wire::FromNode;

/// Highest rain of one day that is read, mm. (The most ever measured in 24 h is below it.)
pub(crate) const MOST_RAIN_MM: f64 = 2000.0;
/// Highest mean wind of one day that is read, m/s.
pub(super) const MOST_WIND_M_S: f64 = 100.0;

/// The table of days.
pub(super) const DAYS: table::Layout = table::Layout {
    key_column: "date",
    key_allowed: "a date as YYYY-MM-DD from 1900-01-01 to 2100-12-31",
    read_key: |cell| civil::parse_date("date", cell).ok(),
    gaps_allowed: true,
    most_rain_mm: MOST_RAIN_MM,
    extra: Quantity::wind,
};

/// One day as it was measured; `None` is what was not.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct DayRecord {
    /// The civil day at the site.
    #[setters(skip)]
    pub date: NaiveDate,
    /// Lowest air temperature, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minimum_c: Option<f64>,
    /// Highest air temperature, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub maximum_c: Option<f64>,
    /// Rain, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<f64>,
    /// Mean wind, m/s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<f64>,
}

impl DayRecord {
    /// A day on which nothing was measured.
    ///
    /// ```
    /// use apiary_almanac::climate::DayRecord;
    /// let day = DayRecord::new("2026-07-20".parse()?).with_maximum_c(21.5);
    /// assert_eq!((day.maximum_c, day.minimum_c), (Some(21.5), None));
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn new(date: NaiveDate) -> Self {
        DayRecord {
            date,
            minimum_c: None,
            maximum_c: None,
            rain_mm: None,
            wind_m_s: None,
        }
    }
}

impl DayRecord {
    /// Minimum and maximum, where both were measured.
    pub(super) fn extremes_c(&self) -> Option<(f64, f64)> {
        self.minimum_c.zip(self.maximum_c)
    }
}

impl From<ForecastDay> for DayRecord {
    fn from(day: ForecastDay) -> Self {
        DayRecord {
            date: day.date,
            minimum_c: Some(day.minimum_c),
            maximum_c: Some(day.maximum_c),
            rain_mm: day.rain_mm,
            wind_m_s: day.wind_m_s,
        }
    }
}

/// Checks days that are sorted by date.
pub(super) fn check_days(what: &str, days: &[DayRecord]) -> Result<(), Error> {
    if days.is_empty() {
        return Err(Error::NotEnoughData {
            field: what.to_owned(),
            given: "no days".to_owned(),
            needed: "at least one day".to_owned(),
        });
    }
    for day in days {
        let date = day.date;
        civil::check_date("date", date)?;
        let (low, high) = (*ALLOWED_C.start(), *ALLOWED_C.end());
        for (name, value, low, high, unit) in [
            ("minimum_c", day.minimum_c, low, high, "°C"),
            ("maximum_c", day.maximum_c, low, high, "°C"),
            ("rain_mm", day.rain_mm, 0.0, MOST_RAIN_MM, "mm"),
            ("wind_m_s", day.wind_m_s, 0.0, MOST_WIND_M_S, "m/s"),
        ] {
            if let Some(value) = value
                && !(low..=high).contains(&value)
            {
                return Err(Error::out_of_range(
                    &format!("{name} of {date}"),
                    value,
                    format_args!("{low} to {high} {unit}"),
                ));
            }
        }
        if let Some((low, high)) = day.extremes_c()
            && low > high
        {
            return Err(Error::Inconsistent {
                field: "minimum_c, maximum_c".to_owned(),
                problem: format!("the minimum of {date} is {low} °C, above its maximum {high} °C"),
            });
        }
    }
    match days.windows(2).find(|pair| pair[0].date == pair[1].date) {
        Some(pair) => Err(Error::Inconsistent {
            field: "date".to_owned(),
            problem: format!("{} is given twice", pair[0].date),
        }),
        None => Ok(()),
    }
}
