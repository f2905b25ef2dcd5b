//! What is asked of a pasted forecast, and what comes back.

use chrono::NaiveDate;
use serde::Serialize;

use super::names::Unit;
use super::number::Comma;
use crate::climate::{ForecastDay, Hour};
use crate::reason::Reason;
use crate::site::Site;
use crate::wire::FromNode;

/// Asks what a text says of the coming days.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct ForecastRequest {
    /// Where.
    pub site: Site,
    /// The day on which it is asked; weekdays and dates without a year count from it.
    pub today: NaiveDate,
    /// The text, as it was copied; up to 2 MiB.
    pub text: String,
    /// Its name in errors.
    #[serde(default = "unnamed")]
    pub file: String,
    /// Answers to questions of an earlier reading.
    #[serde(default)]
    pub answers: ForecastAnswers,
}

fn unnamed() -> String {
    "forecast".to_owned()
}

/// Answers to the questions of a reading. What the text itself says stays as it is.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, FromNode)]
#[serde(default)]
pub struct ForecastAnswers {
    /// What `3/4` means.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date_order: Option<DateOrder>,
    /// Whether a weekday a few days back is the past one or the coming one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first_day: Option<FirstDay>,
    /// The unit of temperatures.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temperature_unit: Option<TemperatureUnit>,
    /// The unit of rain.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rain_unit: Option<RainUnit>,
    /// The unit of wind.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wind_unit: Option<WindUnit>,
    /// What the comma of `1,200` stands for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub comma: Option<CommaMeans>,
}

/// What `3/4` means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum DateOrder {
    /// 3 April.
    DayMonth,
    /// 4 March.
    MonthDay,
    /// Of three numbers the first is the year.
    YearMonth,
}

/// Which of two weekdays is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum FirstDay {
    /// The last one before today.
    Past,
    /// The next one.
    Coming,
}

/// A unit of temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum TemperatureUnit {
    /// °C
    C,
    /// °F
    F,
}

/// A unit of rain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum RainUnit {
    /// Millimetres.
    Mm,
    /// Inches.
    In,
}

/// A unit of wind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum WindUnit {
    /// Metres per second.
    MS,
    /// Kilometres per hour.
    KmH,
    /// Miles per hour.
    Mph,
    /// Knots.
    Kn,
}

/// What a comma stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum CommaMeans {
    /// Decimals follow.
    Decimal,
    /// It parts thousands.
    Thousands,
}

/// What a text says, to be looked at before it is used.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode)]
pub struct ForecastReading {
    /// Day by day in words, in the order of dates. Empty while a question is open that must be
    /// answered first.
    pub understood: Vec<UnderstoodDay>,
    /// The days, as [`ClimateInput::forecast`](crate::climate::ClimateInput::forecast) takes them.
    pub forecast: Vec<ForecastDay>,
    /// Readings by the hour, as [`ClimateInput::hours`](crate::climate::ClimateInput::hours) takes
    /// them.
    pub hours: Vec<Hour>,
    /// How the text was read where it does not say so itself, and what to look at.
    pub notes: Vec<Reason>,
    /// What was left out, and why; the first 100 of it.
    pub left_out: Vec<LeftOut>,
    /// How many more were left out.
    pub more_left_out: u32,
    /// What must be known, or would help.
    pub questions: Vec<ForecastQuestion>,
}

/// One day as it was understood.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct UnderstoodDay {
    /// The civil day.
    pub date: NaiveDate,
    /// It in words: `Monday 20 July 2026: 12 to 24 °C, 5 mm`.
    pub text: String,
    /// Where it stands: `line 3`.
    pub place: String,
    /// What stands there.
    pub given: String,
}

/// Something that is not used.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct LeftOut {
    /// Where it stands: `line 3`, or a column by its name.
    pub place: String,
    /// What stands there.
    pub given: String,
    /// Why it is left out.
    pub why: Reason,
}

/// A question, with the readings that are possible.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, FromNode)]
pub struct ForecastQuestion {
    /// The field of [`ForecastAnswers`] that answers it.
    pub code: String,
    /// The question.
    pub text: String,
    /// What can be answered.
    pub readings: Vec<PossibleReading>,
    /// True where nothing can be used without an answer; else only the values in question are left
    /// out.
    pub must_be_answered: bool,
}

/// One answer that is possible.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, FromNode)]
pub struct PossibleReading {
    /// The value of the field.
    pub answer: String,
    /// What the text then means.
    pub text: String,
}

impl From<TemperatureUnit> for Unit {
    fn from(unit: TemperatureUnit) -> Unit {
        match unit {
            TemperatureUnit::C => Unit::Celsius,
            TemperatureUnit::F => Unit::Fahrenheit,
        }
    }
}

impl From<RainUnit> for Unit {
    fn from(unit: RainUnit) -> Unit {
        match unit {
            RainUnit::Mm => Unit::Millimetres,
            RainUnit::In => Unit::Inches,
        }
    }
}

impl From<WindUnit> for Unit {
    fn from(unit: WindUnit) -> Unit {
        match unit {
            WindUnit::MS => Unit::MetresPerSecond,
            WindUnit::KmH => Unit::KilometresPerHour,
            WindUnit::Mph => Unit::MilesPerHour,
            WindUnit::Kn => Unit::Knots,
        }
    }
}

impl From<CommaMeans> for Comma {
    fn from(means: CommaMeans) -> Comma {
        match means {
            CommaMeans::Decimal => Comma::Decimal,
            CommaMeans::Thousands => Comma::Thousands,
        }
    }
}
