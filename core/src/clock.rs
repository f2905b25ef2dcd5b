//! Waiting times: what they count, how long they are, and when they run out.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::climate::TemperatureSource;

/// What a waiting time counts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum ClockUnit {
    /// Civil days.
    Days,
    /// Days on which bees can fly at least the bee's `flying_day_h`.
    FlyingDays,
    /// Degree-days above a base.
    DegreeDays {
        /// Base, °C.
        base_c: f64,
        /// Upper cut-off, °C.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        upper_c: Option<f64>,
    },
}

/// A waiting time as data: three counts and their source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wait {
    /// What is counted.
    #[serde(flatten)]
    pub unit: ClockUnit,
    /// The shortest count.
    pub earliest: f64,
    /// The count to plan with.
    pub likely: f64,
    /// The longest count.
    pub latest: f64,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

/// How many of the days that an answer rests on came from where.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RestsOn {
    /// Days that were recorded.
    pub recorded_days: u32,
    /// Days of a forecast.
    pub forecast_days: u32,
    /// Days of normals or of the mean of records.
    pub normal_days: u32,
    /// Days of the default for the location.
    pub default_days: u32,
}

impl RestsOn {
    /// Adds a day.
    pub fn count(&mut self, source: TemperatureSource) {
        *match source {
            TemperatureSource::RecordedDay => &mut self.recorded_days,
            TemperatureSource::Forecast => &mut self.forecast_days,
            TemperatureSource::MonthlyNormals | TemperatureSource::RecordedMean => {
                &mut self.normal_days
            }
            TemperatureSource::LocationDefault => &mut self.default_days,
        } += 1;
    }
}

/// A date that depends on weather: a range, and what it rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DateRange {
    /// Not before.
    pub earliest: NaiveDate,
    /// The date to plan with.
    pub best: NaiveDate,
    /// By then at the latest.
    pub latest: NaiveDate,
}
