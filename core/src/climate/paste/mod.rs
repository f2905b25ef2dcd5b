//! Weather as people and services write it: tables, lists, JSON; tolerant in reading, strict in what
//! is then believed.

mod answer;
mod date;
mod days;
mod entry;
mod json;
mod line;
mod names;
mod number;
mod read;
mod sheet;
#[cfg(test)]
mod tests;
mod text;
mod units;
mod words;

pub use answer::{
    CommaMeans, DateOrder, FirstDay, ForecastAnswers, ForecastQuestion, ForecastReading,
    ForecastRequest, LeftOut, PossibleReading, RainUnit, TemperatureUnit, UnderstoodDay, WindUnit,
};
pub use read::{MOST_FORECAST_BYTES, read_forecast};

pub(super) use date::{read as read_when, reading as clock_reading};
pub(super) use names::{Quantity, Unit, quantity, unit};
pub(super) use number::{Cell, cell};
pub(super) use sheet::Sheet;

use crate::error::Error;

/// The tables of a text, JSON or not.
///
/// # Errors
/// `unreadable` for a text that begins as JSON and is not.
pub(super) fn sheets(file: &str, text: &str) -> Result<Vec<Sheet>, Error> {
    if text
        .trim_start_matches('\u{feff}')
        .trim_start()
        .starts_with(['{', '['])
    {
        json::sheets(file, text.trim_start_matches('\u{feff}'))
    } else {
        Ok(text::sheet(text).into_iter().collect())
    }
}
