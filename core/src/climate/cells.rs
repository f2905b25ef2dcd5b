//! The cells of a table (RFC 4180), record by record.

use csv_core::{ReadRecordResult, Reader, ReaderBuilder};

/// Reads records; blank lines are none.
pub(super) struct Records<'a> {
    text: &'a [u8],
    /// How far the text has been read.
    at: usize,
    reader: Reader,
    /// The cells of the record that is being read, one after another, and where each ends.
    cells: Vec<u8>,
    ends: Vec<usize>,
}

/// One record, its cells without white space around them.
#[derive(Debug, Default)]
pub(super) struct Record {
    pub cells: Vec<String>,
    /// Where in the text it starts, before any blank lines.
    pub start: usize,
}

impl Record {
    pub fn is_empty(&self) -> bool {
        self.cells.iter().all(String::is_empty)
    }
}

impl<'a> Records<'a> {
    pub fn new(text: &'a str, separator: u8) -> Self {
        Records {
            text: text.as_bytes(),
            at: 0,
            reader: ReaderBuilder::new().delimiter(separator).build(),
            cells: vec![0; 256],
            ends: vec![0; 32],
        }
    }
}

impl Iterator for Records<'_> {
    type Item = Record;

    fn next(&mut self) -> Option<Record> {
        let start = self.at;
        let (mut written, mut count) = (0, 0);
        loop {
            let (result, read, new, ended) = self.reader.read_record(
                &self.text[self.at..],
                &mut self.cells[written..],
                &mut self.ends[count..],
            );
            self.at += read;
            written += new;
            count += ended;
            match result {
                ReadRecordResult::OutputFull => self.cells.resize(2 * self.cells.len(), 0),
                ReadRecordResult::OutputEndsFull => self.ends.resize(2 * self.ends.len(), 0),
                // Asked again without input, the reader closes the last record.
                ReadRecordResult::InputEmpty => {}
                ReadRecordResult::Record => break,
                ReadRecordResult::End => return None,
            }
        }
        let mut from = 0;
        let cells = self.ends[..count].iter().map(|end| {
            let cell = String::from_utf8_lossy(&self.cells[from..*end]);
            from = *end;
            cell.trim().to_owned()
        });
        Some(Record {
            cells: cells.collect(),
            start,
        })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// The reference is the crate `csv` with the same settings.
        #[test]
        fn as_the_crate_csv_reads(text in "[a1é ,;\"\r\n]{0,60}", wide in "[x,]{0,600}") {
            for text in [&text, &format!("{text}\n{wide}\n{text}")] {
                let theirs: Vec<Vec<String>> = csv::ReaderBuilder::new()
                    .has_headers(false)
                    .flexible(true)
                    .trim(csv::Trim::All)
                    .from_reader(text.as_bytes())
                    .records()
                    .map(|record| record.unwrap().iter().map(str::to_owned).collect())
                    .collect();
                let ours: Vec<_> = Records::new(text, b',').map(|record| record.cells).collect();
                prop_assert_eq!(ours, theirs);
            }
        }
    }
}
