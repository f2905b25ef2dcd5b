//! Waiting times: what they count, how long they are, and when they run out.

mod count;
mod run;
#[cfg(test)]
mod tests;

use std::fmt;

use chrono::NaiveDate;
use serde::Serialize;

use crate::climate::TemperatureSource;
use crate::reason::Reason;
use crate::wire::{FromNode, Node, Refusal};

pub use count::{LONGEST_WAIT, Wait, WaitUnit};
pub use run::run;
pub(crate) use run::{earliest, rests_on, run_out_in_turn, runs_out};

/// How many of the days that an answer rests on came from where.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct RestsOn {
    /// Days that were recorded.
    pub recorded_days: u32,
    /// Days of a forecast, or known by the hour.
    pub forecast_days: u32,
    /// Days of normals or of the mean of records.
    pub normal_days: u32,
    /// Days of the default for the location.
    pub default_days: u32,
}

impl RestsOn {
    /// Adds a day.
    ///
    /// ```
    /// use apiary_almanac::{climate::TemperatureSource, wait::RestsOn};
    /// let mut rests_on = RestsOn::default();
    /// rests_on.count(TemperatureSource::Forecast);
    /// rests_on.count(TemperatureSource::Hours); // a forecast by the hour
    /// assert_eq!((rests_on.forecast_days, rests_on.recorded_days), (2, 0));
    /// ```
    pub fn count(&mut self, source: TemperatureSource) {
        *match source {
            TemperatureSource::RecordedDay => &mut self.recorded_days,
            TemperatureSource::Forecast | TemperatureSource::Hours => &mut self.forecast_days,
            TemperatureSource::MonthlyNormals | TemperatureSource::RecordedMean => {
                &mut self.normal_days
            }
            TemperatureSource::LocationDefault => &mut self.default_days,
        } += 1;
    }
}

/// A date that depends on weather: a range, and what it rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
pub struct DateRange {
    /// Not before.
    pub earliest: NaiveDate,
    /// The date to plan with.
    pub best: NaiveDate,
    /// By then at the latest.
    pub latest: NaiveDate,
}

impl DateRange {
    /// A date that is certain.
    ///
    /// ```
    /// use apiary_almanac::wait::DateRange;
    /// let done = DateRange::on("2026-10-03".parse()?);
    /// assert!(done.earliest == done.latest);
    /// assert_eq!(done.to_string(), "2026-10-03");
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub const fn on(date: NaiveDate) -> Self {
        DateRange {
            earliest: date,
            best: date,
            latest: date,
        }
    }
}

/// The best date, and the range around it where there is one: `2026-10-14 (2026-10-10 to 2026-10-20)`.
///
/// ```
/// use apiary_almanac::wait::DateRange;
/// let day = |text: &str| text.parse().ok();
/// let (Some(earliest), Some(best)) = (day("2026-10-10"), day("2026-10-14")) else { return };
/// assert_eq!(DateRange::on(best).to_string(), "2026-10-14");
/// let range = DateRange { earliest, best, latest: best };
/// assert_eq!(range.to_string(), "2026-10-14 (2026-10-10 to 2026-10-14)");
/// ```
impl fmt::Display for DateRange {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let DateRange {
            earliest,
            best,
            latest,
        } = self;
        if earliest == latest {
            write!(out, "{best}")
        } else {
            write!(out, "{best} ({earliest} to {latest})")
        }
    }
}

impl From<NaiveDate> for DateRange {
    fn from(date: NaiveDate) -> Self {
        DateRange::on(date)
    }
}

/// Reads a range of a request: a plain date stands for one that is certain.
pub(crate) fn date_or_range(node: &Node<'_>) -> Result<DateRange, Refusal> {
    match node {
        Node::Text(_) => NaiveDate::from_node(node).map(DateRange::on),
        _ => DateRange::from_node(node),
    }
}

/// How [`date_or_range`] is given.
#[cfg(feature = "shapes")]
pub(crate) mod date_or_range {
    use super::DateRange;
    use crate::wire::shape::{Shape, Shapes, Type};

    pub(crate) fn shape(shapes: &mut Shapes) -> Type {
        Type::Either(vec![Type::Date, DateRange::shape(shapes)])
    }
}

/// When a waiting time runs out.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum WaitOutcome {
    /// It does.
    #[non_exhaustive]
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
    #[non_exhaustive]
    NeverWithinAYear {
        /// What the likely run has counted after 366 days.
        counted: f64,
        /// Why.
        reason: Reason,
    },
}
