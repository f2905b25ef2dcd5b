//! Days and numbers in words.

use chrono::{Datelike, NaiveDate};

use crate::civil::MONTHS;
use crate::climate::{ForecastDay, wind_word};
use crate::reason::{Language, say};

pub(super) const WEEKDAYS: [&str; 7] = [
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
];

/// The same, as the catalogue of sentences calls them.
pub(super) const WEEKDAY_WORDS: [&str; 7] = [
    "weekday.monday",
    "weekday.tuesday",
    "weekday.wednesday",
    "weekday.thursday",
    "weekday.friday",
    "weekday.saturday",
    "weekday.sunday",
];

/// `Monday 20 July 2026`
pub(super) fn day_in_words(date: NaiveDate) -> String {
    format!(
        "{} {} {} {}",
        WEEKDAYS[date.weekday() as usize],
        date.day(),
        MONTHS[date.month0() as usize],
        date.year()
    )
}

/// With one decimal, where it is not 0.
pub(super) fn rounded(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0" } else { text }.to_owned()
}

pub(super) fn in_words(day: &ForecastDay) -> String {
    let mut text = format!(
        "{}: {} to {} °C",
        day_in_words(day.date),
        rounded(day.minimum_c),
        rounded(day.maximum_c)
    );
    if let Some(rain) = day.rain_mm {
        text += &format!(", {} mm", rounded(rain));
    }
    if let Some(wind) = day.wind_m_s {
        text += &format!(", wind {} m/s", rounded(wind));
        if let Some(word) = say::word(Language::English, wind_word(wind)) {
            text += &format!(" ({word})");
        }
    }
    text
}
