//! An error as the doors hand it on: with its values, and its sentence from the catalogue.

use serde::Serialize;

use super::{Reason, Values, say};
use crate::error::{Error, clip, clip_list, quoted};
use crate::wire::to_json;

/// An [`Error`] as the doors hand it on.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct ErrorReport {
    /// [`Error::code`]; its sentence stands in the catalogue under `error_` and the code.
    pub code: &'static str,
    /// [`Error::field`].
    pub field: String,
    /// The sentence for people, in English.
    pub message: String,
    /// What the sentence is made with: what was given, what is allowed, what the problem is.
    pub values: Values,
}

impl ErrorReport {
    /// The report as JSON text.
    ///
    /// ```
    /// use apiary_almanac::{ErrorReport, Latitude};
    /// let error = Latitude::new(128.81).unwrap_err();
    /// let text = ErrorReport::from(&error).to_json();
    /// assert!(text.starts_with(r#"{"code":"out_of_range","field":"latitude_deg","message":"#));
    /// ```
    pub fn to_json(&self) -> String {
        to_json(self)
    }
}

impl From<&Error> for ErrorReport {
    fn from(error: &Error) -> Self {
        let sentence = sentence(error);
        ErrorReport {
            code: error.code(),
            field: clip(error.field()),
            message: sentence.text(),
            values: sentence.values,
        }
    }
}

fn sentence(error: &Error) -> Reason {
    let list = clip_list;
    match error {
        Error::OutOfRange {
            field,
            given,
            allowed,
        } => say::error_out_of_range(&clip(field), &clip(given), &list(allowed)),
        Error::UnknownZone { given } => say::error_unknown_zone(&quoted(&clip(given))),
        Error::SkippedDay { date, zone } => say::error_skipped_day(&clip(date), &clip(zone)),
        Error::Inconsistent { field, problem } => {
            say::error_inconsistent(&clip(field), &list(problem))
        }
        Error::UnknownName {
            field,
            given,
            allowed,
        } => say::error_unknown_name(&clip(field), &quoted(&clip(given)), &list(allowed)),
        Error::Unreadable { field, problem } => say::error_unreadable(&clip(field), &list(problem)),
        Error::BadCell {
            file,
            line,
            column,
            given,
            allowed,
        } => say::error_bad_cell(
            &clip(file),
            *line as f64,
            &quoted(&clip(column)),
            &quoted(&clip(given)),
            &list(allowed),
        ),
        Error::BadTable { file, problem } => say::error_bad_table(&clip(file), &list(problem)),
        Error::TooLarge {
            field,
            given,
            allowed,
        } => say::error_too_large(&clip(field), &clip(given), &clip(allowed)),
        Error::NotEnoughData {
            field,
            given,
            needed,
        } => say::error_not_enough_data(&clip(field), &list(given), &list(needed)),
    }
}
