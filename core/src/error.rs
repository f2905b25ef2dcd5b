//! The one error type: what was given, what is allowed, and where.

use std::fmt;

/// Everything that can go wrong. Each variant has a stable [`code`](Error::code) that is the same
/// in Rust, Python and JavaScript.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// A number or a date lies outside what the engine accepts.
    #[error(
        "{} is {}; allowed is {}",
        clip(field),
        clip(given),
        clip_list(allowed)
    )]
    OutOfRange {
        /// The name of the value, as it stands in the JSON form.
        field: String,
        /// What was given.
        given: String,
        /// What is allowed, with its unit.
        allowed: String,
    },
    /// The time zone is not one of the IANA database.
    #[error(
        "zone {} is not an IANA time zone; give a name such as \"Australia/Brisbane\" \
         (a numeric offset is not enough: it does not know daylight saving)",
        quoted(&clip(given))
    )]
    UnknownZone {
        /// What was given.
        given: String,
    },
    /// The date was skipped in this zone, as 2011-12-30 was in Apia.
    #[error(
        "{} did not take place in {}: the calendar there skipped it",
        clip(date),
        clip(zone)
    )]
    SkippedDay {
        /// The date that was asked for.
        date: String,
        /// The zone that skipped it.
        zone: String,
    },
    /// Two values that are each allowed do not go together.
    #[error("{}: {}", clip(field), clip_list(problem))]
    Inconsistent {
        /// The names of the values.
        field: String,
        /// What does not fit, with both values.
        problem: String,
    },
    /// A name that the engine does not know: a bee, a rule, a request.
    #[error("{} {} is not known; known are {}", clip(field), quoted(&clip(given)), clip_list(allowed))]
    UnknownName {
        /// What kind of name it is.
        field: String,
        /// What was given.
        given: String,
        /// The names that are known.
        allowed: String,
    },
    /// JSON or TOML that cannot be read, or that has a field too many or too few.
    #[error("{} cannot be read: {}", clip(field), clip_list(problem))]
    Unreadable {
        /// Which text it is: a file name or the name of the value.
        field: String,
        /// What the reader said, with line and column.
        problem: String,
    },
    /// One cell of a table is wrong.
    #[error(
        "{}, line {line}, column {}: {} is not {}",
        clip(file),
        quoted(&clip(column)),
        quoted(&clip(given)),
        clip_list(allowed)
    )]
    BadCell {
        /// The file as the caller named it.
        file: String,
        /// Line in the file; the header is line 1.
        line: u64,
        /// The column's header.
        column: String,
        /// The cell's text.
        given: String,
        /// What would be right there.
        allowed: String,
    },
    /// A table as a whole is wrong: no header, a column missing, no rows.
    #[error("{}: {}", clip(file), clip_list(problem))]
    BadTable {
        /// The file as the caller named it.
        file: String,
        /// What is wrong and what would be right.
        problem: String,
    },
    /// The input is larger than the engine will read.
    #[error(
        "{} has {}; at most {} can be read",
        clip(field),
        clip(given),
        clip(allowed)
    )]
    TooLarge {
        /// Which input it is.
        field: String,
        /// Its size, with unit.
        given: String,
        /// The limit, with unit.
        allowed: String,
    },
    /// The data are right but there are too few of them to answer.
    #[error(
        "{}: {}; needed is {}",
        clip(field),
        clip_list(given),
        clip_list(needed)
    )]
    NotEnoughData {
        /// Which data.
        field: String,
        /// How many there are.
        given: String,
        /// How many it takes.
        needed: String,
    },
}

impl Error {
    /// Every code that [`Error::code`] can give, in alphabetical order.
    pub const CODES: [&'static str; 10] = [
        "bad_cell",
        "bad_table",
        "inconsistent",
        "not_enough_data",
        "out_of_range",
        "skipped_day",
        "too_large",
        "unknown_name",
        "unknown_zone",
        "unreadable",
    ];

    /// The stable name of this kind of error.
    ///
    /// ```
    /// use apiary_almanac::Latitude;
    /// let error = Latitude::new(90.0001).unwrap_err();
    /// assert_eq!(error.code(), "out_of_range");
    /// ```
    pub fn code(&self) -> &'static str {
        match self {
            Error::OutOfRange { .. } => "out_of_range",
            Error::UnknownZone { .. } => "unknown_zone",
            Error::SkippedDay { .. } => "skipped_day",
            Error::Inconsistent { .. } => "inconsistent",
            Error::UnknownName { .. } => "unknown_name",
            Error::Unreadable { .. } => "unreadable",
            Error::BadCell { .. } => "bad_cell",
            Error::BadTable { .. } => "bad_table",
            Error::TooLarge { .. } => "too_large",
            Error::NotEnoughData { .. } => "not_enough_data",
        }
    }

    /// The value, column or input that is at fault.
    ///
    /// ```
    /// use apiary_almanac::{Site, wire};
    /// let text = r#"{"latitude_deg": -28.81, "longitude_deg": 1532.8, "zone": "Australia/Sydney"}"#;
    /// let error = wire::from_json::<Site>("site.json", text).unwrap_err();
    /// assert_eq!(error.field(), "longitude_deg"); // where to put the cursor
    /// ```
    pub fn field(&self) -> &str {
        match self {
            Error::OutOfRange { field, .. }
            | Error::Inconsistent { field, .. }
            | Error::UnknownName { field, .. }
            | Error::Unreadable { field, .. }
            | Error::TooLarge { field, .. }
            | Error::NotEnoughData { field, .. } => field,
            Error::UnknownZone { .. } => "zone",
            Error::SkippedDay { .. } => "date",
            Error::BadCell { column, .. } => column,
            Error::BadTable { file, .. } => file,
        }
    }

    /// The error of a part, with its place before the field.
    pub(crate) fn within(mut self, part: &str) -> Self {
        if let Some(field) = self.field_mut() {
            *field = format!("{part}.{field}");
        }
        self
    }

    /// The field, where it can be renamed after the place where the value was found.
    pub(crate) fn field_mut(&mut self) -> Option<&mut String> {
        match self {
            Error::OutOfRange { field, .. }
            | Error::Inconsistent { field, .. }
            | Error::UnknownName { field, .. }
            | Error::Unreadable { field, .. }
            | Error::TooLarge { field, .. }
            | Error::NotEnoughData { field, .. } => Some(field),
            Error::UnknownZone { .. }
            | Error::SkippedDay { .. }
            | Error::BadCell { .. }
            | Error::BadTable { .. } => None,
        }
    }

    pub(crate) fn out_of_range(
        field: &str,
        given: impl fmt::Display,
        allowed: impl fmt::Display,
    ) -> Self {
        Error::OutOfRange {
            field: field.to_owned(),
            given: clip(&given.to_string()),
            allowed: allowed.to_string(),
        }
    }
}

/// Text from outside, cut to a length that fits into a message.
pub(crate) fn clip(text: &str) -> String {
    cut(text, 300)
}

/// A sentence or a list of names in a message: the engine's own are shorter, but names from outside
/// may stand in them.
pub(crate) fn clip_list(text: &str) -> String {
    cut(text, 1500)
}

fn cut(text: &str, longest: usize) -> String {
    match text.char_indices().nth(longest) {
        // What was cut once stays as it is.
        Some((end, _)) if text[end..] != *"…" => format!("{}…", &text[..end]),
        _ => text.to_owned(),
    }
}

/// A text in quotes. The library's own form carries tables of all of Unicode.
pub(crate) fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => quoted.extend(['\\', letter]),
            _ if letter.is_control() => quoted.extend(letter.escape_default()),
            _ => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}

/// Longest text of a rule, a wait, a bee or a method, bytes.
pub(crate) const LONGEST_TEXT: usize = 1000;

/// Refuses more of something than is allowed: `20 rules`.
pub(crate) fn at_most(field: &str, given: usize, most: usize, what: &str) -> Result<(), Error> {
    if given <= most {
        return Ok(());
    }
    Err(Error::TooLarge {
        field: field.to_owned(),
        given: format!("{given} {what}"),
        allowed: format!("{most} {what}"),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reason::ErrorReport;

    #[test]
    fn messages_are_bounded_whatever_stands_in_them() {
        let long = || "é\u{7f}".repeat(100_000);
        let errors = [
            Error::OutOfRange {
                field: long(),
                given: long(),
                allowed: long(),
            },
            Error::UnknownZone { given: long() },
            Error::SkippedDay {
                date: long(),
                zone: long(),
            },
            Error::Inconsistent {
                field: long(),
                problem: long(),
            },
            Error::UnknownName {
                field: long(),
                given: long(),
                allowed: long(),
            },
            Error::Unreadable {
                field: long(),
                problem: long(),
            },
            Error::BadCell {
                file: long(),
                line: u64::MAX,
                column: long(),
                given: long(),
                allowed: long(),
            },
            Error::BadTable {
                file: long(),
                problem: long(),
            },
            Error::TooLarge {
                field: long(),
                given: long(),
                allowed: long(),
            },
            Error::NotEnoughData {
                field: long(),
                given: long(),
                needed: long(),
            },
        ];
        assert_eq!(errors.len(), Error::CODES.len());
        for error in errors {
            let report = ErrorReport::from(&error);
            assert!(
                report.message.len() < 8_000,
                "{} {}",
                report.code,
                report.message.len()
            );
            assert!(report.field.len() <= 1_000);
        }
    }

    #[test]
    fn what_was_cut_is_not_cut_again() {
        let once = clip(&"x".repeat(400));
        assert_eq!(clip(&once), once);
        assert_eq!(once.chars().count(), 301);
    }
}
