//! The cells of a table (RFC 4180), record by record.

use csv::{ReaderBuilder, StringRecord, Trim};

/// The records of a table, their cells without white space around them; blank lines are none.
pub(super) fn records(text: &str, separator: u8) -> impl Iterator<Item = StringRecord> {
    ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .trim(Trim::All)
        .from_reader(text.as_bytes())
        .into_records()
        // A text in memory, in UTF-8, its records of any width: nothing is left that could fail.
        .map_while(Result::ok)
}

/// Where in the text a record starts, before any blank lines.
pub(super) fn start_of(record: &StringRecord) -> usize {
    record
        .position()
        .map_or(0, |position| position.byte() as usize)
}
