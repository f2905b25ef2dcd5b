//! Waiting times: what they count, how long they are, and when they run out.

mod rain;
mod run;
mod spells;
#[cfg(test)]
mod tests;
mod wait;
mod weather;

use std::fmt;

use chrono::NaiveDate;
use serde::de::value::MapAccessDeserializer;
use serde::de::{self, MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize};

use crate::civil;
use crate::climate::TemperatureSource;
use crate::reading::carry;
use crate::reason::Reason;

pub use run::run;
pub(crate) use run::{Luck, reached, rests_on, runs_out};
pub use spells::Spread;
pub use wait::{ClockUnit, LONGEST_WAIT, Wait};
pub use weather::Weather;

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
    #[serde(deserialize_with = "civil::date")]
    pub earliest: NaiveDate,
    /// The date to plan with.
    #[serde(deserialize_with = "civil::date")]
    pub best: NaiveDate,
    /// By then at the latest.
    #[serde(deserialize_with = "civil::date")]
    pub latest: NaiveDate,
}

impl DateRange {
    /// A date that is certain.
    pub const fn on(date: NaiveDate) -> Self {
        DateRange {
            earliest: date,
            best: date,
            latest: date,
        }
    }
}

/// Reads a range of a request: a plain date stands for one that is certain.
pub(crate) fn date_or_range<'de, D: Deserializer<'de>>(from: D) -> Result<DateRange, D::Error> {
    struct DateOrRange;

    impl<'de> Visitor<'de> for DateOrRange {
        type Value = DateRange;

        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            f.write_str("a date, or a table of earliest, best and latest")
        }

        fn visit_str<E: de::Error>(self, text: &str) -> Result<DateRange, E> {
            let date = civil::parse_date("", text).map_err(carry)?;
            Ok(DateRange::on(date))
        }

        fn visit_map<A: MapAccess<'de>>(self, table: A) -> Result<DateRange, A::Error> {
            DateRange::deserialize(MapAccessDeserializer::new(table))
        }
    }

    from.deserialize_any(DateOrRange)
}

/// When a waiting time runs out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum ClockOutcome {
    /// It does.
    RunsOut {
        /// The dates on which the count is reached.
        dates: DateRange,
        /// Which weather the best date rests on.
        rests_on: RestsOn,
        /// What else was counted in, such as the chance of rain.
        #[serde(default)]
        reasons: Vec<Reason>,
    },
    /// The weather of a year is not enough for one of the three dates.
    NeverWithinAYear {
        /// What the likely run has counted after 366 days.
        counted: f64,
        /// Why.
        reason: Reason,
    },
}
