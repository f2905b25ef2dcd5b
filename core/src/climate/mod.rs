//! The temperatures of a day, from the best source there is: a forecast, a record of that very
//! day, the mean of recorded years, monthly normals, or what the location alone lets one expect.
//!
//! Every day says in [`DayTemperatures::source`] what it rests on, and [`Climate::basis`] says it
//! in words, with the error that is known.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::site::Site;

mod daily;
mod day_record;
mod diurnal;
mod forecast;
pub mod grid;
mod input;
mod location;
mod location_table;
mod month_spline;
mod monthly;
mod table;

pub use daily::{DailyRecords, Gaps, MissingDays, YearShare};
pub use day_record::DayRecord;
pub use diurnal::{CurveParameters, DayCurve, DaySun};
pub use forecast::{Forecast, ForecastDay};
pub use input::{ClimateInput, TextFile};
pub use location::LocationDefault;
pub use monthly::MonthlyNormals;

/// Lowest and highest air temperature that any source may hold, °C.
pub const ALLOWED_C: std::ops::RangeInclusive<f64> = -60.0..=60.0;

/// What the temperatures of a day rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TemperatureSource {
    /// The location alone: normals of the built-in grid, or latitude and elevation.
    LocationDefault,
    /// The means of the twelve months.
    MonthlyNormals,
    /// This very day was measured.
    RecordedDay,
    /// The mean of this day of the year over the recorded years.
    RecordedMean,
    /// A forecast.
    Forecast,
}

impl TemperatureSource {
    /// The source in words, as a note beside a number.
    pub const fn words(self) -> &'static str {
        match self {
            TemperatureSource::LocationDefault => "default for the location",
            TemperatureSource::MonthlyNormals => "monthly normals",
            TemperatureSource::RecordedDay => "recorded",
            TemperatureSource::RecordedMean => "mean of the records",
            TemperatureSource::Forecast => "forecast",
        }
    }
}

/// Minimum, maximum and rain of one civil day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayTemperatures {
    /// The civil day at the site.
    pub date: NaiveDate,
    /// Lowest air temperature, °C.
    pub minimum_c: f64,
    /// Highest air temperature, °C.
    pub maximum_c: f64,
    /// Rain of the day in mm; `None` where it is not known, which is not the same as none fallen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<f64>,
    /// What the numbers rest on.
    pub source: TemperatureSource,
}

impl DayTemperatures {
    /// Halfway between minimum and maximum, °C: what "daily mean" means in most normals.
    pub fn mean_c(&self) -> f64 {
        f64::midpoint(self.minimum_c, self.maximum_c)
    }
}

/// What an answer rests on, in words and numbers that belong beside it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Basis {
    /// The kind of source.
    pub source: TemperatureSource,
    /// Where the numbers come from.
    pub about: String,
    /// The years or dates they cover.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub period: Option<String>,
    /// Root mean square error of the long-term means, °C, where it has been measured. The weather
    /// of a single day scatters around the mean by more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub typical_error_c: Option<f64>,
    /// Error of the long-term means that one value in twenty exceeds, °C, where it has been
    /// measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worst_error_c: Option<f64>,
    /// What would make the answer better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub advice: Option<String>,
}

/// Day temperatures of any date: a base that covers every day, and a forecast laid over it.
///
/// ```
/// use apiary_almanac::{Climate, Site, climate::TemperatureSource};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let climate = Climate::from_location(&site);
/// let day = climate.day("2026-07-15".parse()?);
/// assert_eq!(day.source, TemperatureSource::LocationDefault);
/// assert!(day.minimum_c < day.maximum_c);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Climate {
    base: Base,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    forecast: Option<Forecast>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum Base {
    LocationDefault(LocationDefault),
    MonthlyNormals(MonthlyNormals),
    DailyRecords {
        records: DailyRecords,
        /// Answers for the parts of the year in which nothing was recorded.
        otherwise: LocationDefault,
    },
}

impl Climate {
    /// What the location alone lets one expect: normals of the built-in [`grid`], or at sea and beyond
    /// 45° of latitude a curve by latitude and elevation. [`basis`](Climate::basis) says which.
    pub fn from_location(site: &Site) -> Self {
        LocationDefault::of_site(site).into()
    }

    /// The means of the twelve months.
    pub fn from_normals(normals: MonthlyNormals) -> Self {
        normals.into()
    }

    /// Recorded days; on other dates the mean of the recorded years. Parts of the year in which
    /// too little was recorded for a mean are answered as by [`from_location`](Climate::from_location).
    pub fn from_records(records: DailyRecords, site: &Site) -> Self {
        let otherwise = LocationDefault::of_site(site);
        Climate {
            base: Base::DailyRecords { records, otherwise },
            forecast: None,
        }
    }

    /// The same climate with a forecast laid over it on the forecast's dates. A forecast given
    /// earlier is replaced.
    #[must_use]
    pub fn with_forecast(self, forecast: Forecast) -> Self {
        Climate {
            forecast: Some(forecast),
            ..self
        }
    }

    /// The temperatures of a day. Always answers, and says in `source` what the answer rests on.
    pub fn day(&self, date: NaiveDate) -> DayTemperatures {
        if let Some(day) = self.forecast_day(date) {
            return day;
        }
        match &self.base {
            Base::LocationDefault(location) => location.day(date),
            Base::MonthlyNormals(normals) => normals.day(date),
            Base::DailyRecords { records, otherwise } => records
                .day(date)
                .or_else(|| records.mean_day(date))
                .unwrap_or_else(|| otherwise.day(date)),
        }
    }

    /// The forecast of a day, where there is one.
    pub fn forecast_day(&self, date: NaiveDate) -> Option<DayTemperatures> {
        self.forecast.as_ref()?.day(date)
    }

    /// Mean wind of a day in m/s, where the forecast or the records hold it.
    pub fn wind_m_s(&self, date: NaiveDate) -> Option<f64> {
        let forecast = self
            .forecast
            .as_ref()
            .and_then(|forecast| forecast.wind_m_s(date));
        forecast.or_else(|| self.records()?.wind_m_s(date))
    }

    /// The daily records, where they are the base.
    pub fn records(&self) -> Option<&DailyRecords> {
        match &self.base {
            Base::DailyRecords { records, .. } => Some(records),
            Base::LocationDefault(_) | Base::MonthlyNormals(_) => None,
        }
    }

    /// Mean rain of the twelve months in mm, January first, where it is known.
    pub fn monthly_rain_mm(&self) -> Option<[f64; 12]> {
        match &self.base {
            Base::LocationDefault(location) => {
                location.grid_normals().map(|normals| normals.rain_mm)
            }
            Base::MonthlyNormals(normals) => normals.rain_mm(),
            Base::DailyRecords { records, .. } => records.monthly_rain_mm(),
        }
    }

    /// What the answers rest on: the base first, then the forecast with the dates it covers.
    pub fn basis(&self) -> Vec<Basis> {
        let mut list = match &self.base {
            Base::LocationDefault(location) => vec![location.basis()],
            Base::MonthlyNormals(normals) => vec![normals.basis()],
            Base::DailyRecords { records, otherwise } => {
                let mut list = vec![records.basis()];
                if !records.covers_the_year() {
                    list.push(otherwise.basis());
                }
                list
            }
        };
        list.extend(self.forecast.as_ref().map(Forecast::basis));
        list
    }
}

impl From<LocationDefault> for Climate {
    fn from(location: LocationDefault) -> Self {
        Climate {
            base: Base::LocationDefault(location),
            forecast: None,
        }
    }
}

impl From<MonthlyNormals> for Climate {
    fn from(normals: MonthlyNormals) -> Self {
        Climate {
            base: Base::MonthlyNormals(normals),
            forecast: None,
        }
    }
}
