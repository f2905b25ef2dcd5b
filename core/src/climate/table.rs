//! The one reader behind every weather table: a header that names quantities with their units, one
//! row for each date or month.

use std::fmt::Display;

use chrono::NaiveDate;
use csv::StringRecord;

use super::cells::{records, start_of};
use super::columns::{Columns, Place, Quantity};
use crate::error::{Error, clip};
use crate::wire::parse_f64;

/// Largest text that is read, bytes: two centuries of days take about 3 MiB.
pub(super) const MOST_BYTES: usize = 32 * 1024 * 1024;

/// What a table must look like.
pub(super) struct Layout {
    /// Header of the column that tells rows apart.
    pub key_column: &'static str,
    /// What is allowed in that column, in words.
    pub key_allowed: &'static str,
    /// Reads such a cell; for a month of any year its first day in 2001.
    pub read_key: fn(&str) -> Option<NaiveDate>,
    /// Whether a row may lack its minimum or maximum.
    pub gaps_allowed: bool,
    /// Highest rain of a row, mm.
    pub most_rain_mm: f64,
    /// What else may stand in a column.
    pub extra: fn() -> Quantity,
}

/// One row, in SI units. An empty cell is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Row {
    pub key: NaiveDate,
    pub minimum_c: Option<f64>,
    pub maximum_c: Option<f64>,
    pub rain_mm: Option<f64>,
    /// The layout's own quantity.
    pub extra: Option<f64>,
}

/// Reads a table; its rows come back in the order of their keys.
pub(super) fn read(file: &str, text: &str, layout: &Layout) -> Result<Vec<Row>, Error> {
    if text.len() > MOST_BYTES {
        return Err(Error::TooLarge {
            field: clip(file),
            given: format!("{} bytes", text.len()),
            allowed: format!("{MOST_BYTES} bytes"),
        });
    }
    let bad_table = |problem: String| Error::BadTable {
        file: clip(file),
        problem,
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let separator = separator_of(text);
    let mut records = records(text, separator);
    let header = records.next().unwrap_or_default();
    let quantities = [
        Quantity::temperature("minimum"),
        Quantity::temperature("maximum"),
        Quantity::rain(layout.most_rain_mm),
        (layout.extra)(),
    ];
    let columns = Columns::find(&header, layout.key_column, &quantities).map_err(bad_table)?;

    let mut rows: Vec<(u64, String, Row)> = Vec::new();
    let mut wrong = WrongCells {
        file,
        first: None,
        more: 0,
    };
    let mut lines = LineCounter {
        text: text.as_bytes(),
        offset: 0,
        line: 1,
    };
    for record in records {
        if record.iter().all(str::is_empty) {
            continue;
        }
        let line = lines.of_record(start_of(&record));
        check_length(&record, &header, line).map_err(bad_table)?;
        let mut cells = Cells {
            header: &header,
            record: &record,
            line,
            wrong: &mut wrong,
        };
        let [minimum_c, maximum_c, rain_mm, extra] = [0, 1, 2, 3].map(|slot| {
            let place = columns.places.get(slot).copied().flatten()?;
            cells.number(place, separator, layout.gaps_allowed || !place.required)
        });
        if let (Some(low), Some(high)) = (minimum_c, maximum_c)
            && low > high
        {
            cells.reversed(&columns.places);
        }
        let Some(key) = (layout.read_key)(&record[columns.key]) else {
            cells.wrong(columns.key, layout.key_allowed);
            continue;
        };
        let cell = record[columns.key].to_owned();
        let row = Row {
            key,
            minimum_c,
            maximum_c,
            rain_mm,
            extra,
        };
        rows.push((line, cell, row));
    }
    rows.sort_by_key(|(.., row)| row.key);
    for twice in rows.chunk_by(|(.., a), (.., b)| a.key == b.key) {
        for (line, cell, _) in &twice[1..] {
            let allowed = format!("new: line {} has it already", twice[0].0);
            wrong.add(*line, &header[columns.key], cell, allowed);
        }
    }
    wrong.finish()?;
    if rows.is_empty() {
        return Err(bad_table("there are no rows below the header".to_owned()));
    }
    Ok(rows.into_iter().map(|(.., row)| row).collect())
}

/// The separator is whichever of comma, semicolon and tab the header holds most of.
fn separator_of(text: &str) -> u8 {
    let header = text
        .lines()
        .find(|line| !line.trim().is_empty())
        .unwrap_or("");
    let count = |separator: u8| header.bytes().filter(|b| *b == separator).count();
    let mut best = b',';
    for other in [b';', b'\t'] {
        if count(other) > count(best) {
            best = other;
        }
    }
    best
}

/// A number, with a decimal comma where the comma does not separate cells.
fn number(cell: &str, separator: u8) -> Option<f64> {
    if separator != b',' && cell.matches(',').count() == 1 && !cell.contains('.') {
        parse_f64(&cell.replace(',', "."))
    } else {
        parse_f64(cell)
    }
}

/// Every row has the header's cells; spreadsheets may add empty ones.
fn check_length(record: &StringRecord, header: &StringRecord, line: u64) -> Result<(), String> {
    let (cells, expected) = (record.len(), header.len());
    if cells < expected {
        Err(format!(
            "line {line} has {cells} cells, the header has {expected}"
        ))
    } else if record.iter().skip(expected).any(|cell| !cell.is_empty()) {
        Err(format!(
            "line {line} has {cells} cells, the header has {expected} (a decimal comma needs a \
             semicolon or a tab between cells)"
        ))
    } else {
        Ok(())
    }
}

/// The cells of one row, and the list to which wrong ones go.
struct Cells<'a, 'file> {
    header: &'a StringRecord,
    record: &'a StringRecord,
    line: u64,
    wrong: &'a mut WrongCells<'file>,
}

impl Cells<'_, '_> {
    /// The number in a cell, in SI units.
    fn number(&mut self, place: Place, separator: u8, may_be_empty: bool) -> Option<f64> {
        let Place { index, unit, .. } = place;
        let cell = &self.record[index];
        match number(cell, separator) {
            None if cell.is_empty() && may_be_empty => None,
            Some(value) if (unit.lowest..=unit.highest).contains(&value) => {
                Some((unit.to_si)(value))
            }
            _ => {
                let or_nothing = if may_be_empty { ", or nothing" } else { "" };
                let (lowest, highest, label) = (unit.lowest, unit.highest, unit.label);
                let allowed = format!("a number from {lowest} to {highest} {label}{or_nothing}");
                self.wrong(index, allowed);
                None
            }
        }
    }

    /// Minimum and maximum, the first two places, are the wrong way round.
    fn reversed(&mut self, places: &[Option<Place>]) {
        if let [Some(minimum), Some(maximum), ..] = places {
            let minimum = clip(&self.record[minimum.index]);
            let allowed = format!("at or above the minimum of the same line, {minimum}");
            self.wrong(maximum.index, allowed);
        }
    }

    fn wrong(&mut self, index: usize, allowed: impl Display) {
        self.wrong
            .add(self.line, &self.header[index], &self.record[index], allowed);
    }
}

/// Finds the line on which a record begins, as an editor counts lines. The reader's own count
/// stands before the blank lines that it skips.
struct LineCounter<'a> {
    text: &'a [u8],
    offset: usize,
    line: u64,
}

impl LineCounter<'_> {
    fn of_record(&mut self, start: usize) -> u64 {
        while let Some(byte) = self.text.get(self.offset) {
            let line_end = matches!(byte, b'\n' | b'\r');
            if self.offset >= start && !line_end {
                break;
            }
            let inside_crlf = *byte == b'\r' && self.text.get(self.offset + 1) == Some(&b'\n');
            self.line += u64::from(line_end && !inside_crlf);
            self.offset += 1;
        }
        self.line
    }
}

/// Keeps the wrong cell of the first line that has one, and counts the others.
struct WrongCells<'a> {
    file: &'a str,
    first: Option<(u64, String, String, String)>,
    more: u32,
}

impl WrongCells<'_> {
    fn add(&mut self, line: u64, column: &str, given: &str, allowed: impl Display) {
        self.more += u32::from(self.first.is_some());
        if self.first.as_ref().is_none_or(|(first, ..)| line < *first) {
            self.first = Some((line, clip(column), clip(given), allowed.to_string()));
        }
    }

    fn finish(self) -> Result<(), Error> {
        let Some((line, column, given, mut allowed)) = self.first else {
            return Ok(());
        };
        match self.more {
            0 => {}
            1 => allowed += " (one more cell of this file is wrong)",
            more => allowed += &format!(" ({more} more cells of this file are wrong)"),
        }
        Err(Error::BadCell {
            file: clip(self.file),
            line,
            column,
            given,
            allowed,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::day_record::DAYS;
    use super::*;
    use proptest::prelude::*;

    fn rows(text: &str) -> Vec<Row> {
        read("f.csv", text, &DAYS).unwrap()
    }

    fn refused(text: &str) -> Error {
        read("f.csv", text, &DAYS).unwrap_err()
    }

    #[test]
    fn any_order_any_case_any_separator() {
        let expected = rows("date,minimum_c,maximum_c,rain_mm\n2024-02-29,9.5,21,0.2\n");
        for text in [
            "\u{feff}Rain_MM;MAXIMUM_C;Date;minimum_c\r\n0,2;21;2024-02-29;9,5\r\n",
            "date\tminimum_c\tmaximum_c\train_mm\n2024-02-29\t9,5\t21.0\t0.2\n",
            "\n\ndate,minimum_c,maximum_c,rain_mm\n\n\"2024-02-29\", 9.5 ,\"21\",0.2\n,,,\n",
            "date,minimum_c,maximum_c,rain_mm\r2024-02-29,9.5,21,0.2",
            "date,minimum_c,maximum_c,rain_mm\n2024-02-29,9.5,21,0.2,,\n",
        ] {
            assert_eq!(rows(text), expected, "{text:?}");
        }
    }

    #[test]
    fn units_are_turned_into_si() {
        let row = rows("date,minimum_f,maximum_f,rain_in,wind_km_h\n2024-01-01,50,86,2,36\n")[0];
        let values = [row.minimum_c, row.maximum_c, row.rain_mm, row.extra];
        for (value, expected) in values.into_iter().zip([10.0, 30.0, 50.8, 10.0]) {
            assert!(
                (value.unwrap() - expected).abs() < 1e-9,
                "{value:?} {expected}"
            );
        }
        // The ends of the range survive the change of unit.
        let row = rows("date,minimum_f,maximum_f\n2024-01-01,-76,140\n")[0];
        assert_eq!((row.minimum_c, row.maximum_c), (Some(-60.0), Some(60.0)));
    }

    #[test]
    fn rows_come_back_by_date_and_empty_cells_are_missing() {
        let rows = rows("date,minimum_c,maximum_c,rain_mm\n2024-01-02,,,\n2023-01-01,,30,\n");
        assert_eq!(rows[0].key.to_string(), "2023-01-01");
        assert_eq!((rows[0].minimum_c, rows[0].maximum_c), (None, Some(30.0)));
        assert_eq!(rows[1].rain_mm, None);
    }

    #[test]
    fn wrong_cells_are_named_with_line_and_column() {
        let head = "date,minimum_c,maximum_c,rain_mm,wind_m_s\n2024-01-01,10,20,0,\n";
        for (row, column, given, allowed) in [
            (
                "2024-01-02,ten,20,,",
                "minimum_c",
                "ten",
                "a number from -60 to 60 °C, or nothing",
            ),
            (
                "2024-01-02,10,60.1,,",
                "maximum_c",
                "60.1",
                "a number from -60 to 60 °C",
            ),
            ("2024-01-02,10,NaN,,", "maximum_c", "NaN", "a number"),
            ("2024-01-02,10,inf,,", "maximum_c", "inf", "a number"),
            (
                "2024-01-02,10,20,-1,",
                "rain_mm",
                "-1",
                "a number from 0 to 2000 mm",
            ),
            (
                "2024-01-02,10,20,2001,",
                "rain_mm",
                "2001",
                "a number from 0 to 2000 mm",
            ),
            (
                "2024-01-02,10,20,,-3",
                "wind_m_s",
                "-3",
                "a number from 0 to 100 m/s",
            ),
            (
                "2024-01-02,21,20,,",
                "maximum_c",
                "20",
                "at or above the minimum of the same line, 21",
            ),
            (
                "2024-01-01,10,20,,",
                "date",
                "2024-01-01",
                "new: line 2 has it already",
            ),
            (
                "2024-02-30,10,20,,",
                "date",
                "2024-02-30",
                "a date as YYYY-MM-DD",
            ),
            (
                "02/01/2024,10,20,,",
                "date",
                "02/01/2024",
                "a date as YYYY-MM-DD",
            ),
            (
                "1899-12-31,10,20,,",
                "date",
                "1899-12-31",
                "from 1900-01-01 to 2100-12-31",
            ),
            (",10,20,,", "date", "", "a date as YYYY-MM-DD"),
        ] {
            let error = refused(&format!("{head}{row}\n"));
            let Error::BadCell {
                file,
                line,
                column: c,
                given: g,
                allowed: a,
            } = &error
            else {
                panic!("{error}")
            };
            assert_eq!(
                (file.as_str(), *line, c.as_str(), g.as_str()),
                ("f.csv", 3, column, given)
            );
            assert!(a.contains(allowed), "{error}");
        }
    }

    #[test]
    fn line_numbers_are_those_of_an_editor() {
        let text = "date,minimum_c,maximum_c\n\n2024-01-01,1,2\n\n\n2024-01-02,x,2\n";
        for newline in ["\n", "\r\n", "\r"] {
            let message = refused(&text.replace('\n', newline)).to_string();
            assert!(message.contains("line 6"), "{message}");
        }
        let text = "date,minimum_c,\"maximum_c\n\"\n2024-01-01,1,2\r\n2024-01-02,x,2\n";
        let message = refused(text).to_string();
        assert!(message.contains("line 4"), "{message}");
    }

    #[test]
    fn the_first_wrong_cell_is_shown_and_the_others_are_counted() {
        let text = "date,minimum_c,maximum_c\n2024-01-01,a,b\n2024-01-02,1,2\n2024-01-03,c,2\n";
        let message = refused(text).to_string();
        assert!(
            message.contains("line 2") && message.contains("2 more cells"),
            "{message}"
        );
        let text = "date,minimum_c,maximum_c\n2024-01-01,a,2\nx,1,2\n";
        assert!(
            refused(text).to_string().contains("one more cell"),
            "{}",
            refused(text)
        );
        let long = format!(
            "date,minimum_c,maximum_c\n2024-01-01,{},2\n",
            "9".repeat(5000)
        );
        assert!(refused(&long).to_string().len() < 1000);
    }

    #[test]
    fn headers_that_do_not_fit_are_explained() {
        for (text, words) in [
            ("", "the file is empty"),
            ("\u{feff}\n\n", "the file is empty"),
            ("date,minimum,maximum_c\n", "name it minimum_c or minimum_f"),
            (
                "date,minimum_k,maximum_c\n",
                "name it minimum_c or minimum_f",
            ),
            (
                "date,minimum_c,maximum_c,rain\n",
                "name it rain_mm or rain_in",
            ),
            (
                "date,minimum_c,maximum_c,rainfall_mm\n",
                "name it rain_mm or rain_in",
            ),
            (
                "date,minimum_c,maximum_c,wind_knots\n",
                "name it wind_m_s or wind_km_h",
            ),
            (
                "date,minimum_c,maximum_c,humidity\n",
                "\"humidity\" is not known",
            ),
            (
                "date,minimum_c\n",
                "there is no column maximum_c or maximum_f",
            ),
            ("minimum_c,maximum_c\n", "there is no column date"),
            ("date,date,minimum_c,maximum_c\n", "two columns date"),
            (
                "date,minimum_c,minimum_f,maximum_c\n",
                "two columns of minimum",
            ),
            (
                "2024-01-01,9,20\n",
                "\"2024-01-01\" is not known; known are date, minimum_c",
            ),
            ("date,minimum_c,maximum_c\n", "no rows"),
            (
                "date,minimum_c,maximum_c\n2024-01-01,9\n",
                "line 2 has 2 cells, the header has 3",
            ),
            (
                "date,minimum_c,maximum_c\n2024-01-01,9,5,21\n",
                "decimal comma needs a semicolon",
            ),
        ] {
            let error = refused(text);
            assert_eq!(error.code(), "bad_table", "{error}");
            assert!(error.to_string().contains(words), "{error}");
        }
    }

    #[test]
    fn only_records_may_have_gaps() {
        let layout = Layout {
            gaps_allowed: false,
            ..DAYS
        };
        let text = "date,minimum_c,maximum_c,rain_mm,wind_m_s\n2024-01-01,10,20,,\n";
        assert!(read("f.csv", text, &layout).is_ok());
        let error = read("f.csv", &text.replace("10", ""), &layout).unwrap_err();
        assert_eq!((error.code(), error.field()), ("bad_cell", "minimum_c"));
        assert!(!error.to_string().contains("or nothing"));
    }

    #[test]
    fn too_much_text_is_refused_unread() {
        let error = refused(&" ".repeat(MOST_BYTES + 1));
        assert_eq!(error.code(), "too_large");
    }

    proptest! {
        #[test]
        fn no_text_makes_the_reader_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
            let _ = read("f", &String::from_utf8_lossy(&bytes), &DAYS);
        }

        #[test]
        fn no_table_like_text_makes_the_reader_panic(
            text in "(date|minimum_c|maximum_f|rain_in|[,;\t\"\r\n]|[-0-9.,]{0,5}|20[0-9]{2}-0[1-9]-[0-2][1-9]|°){0,60}",
        ) {
            let _ = read("f", &format!("date,minimum_c,maximum_c\n{text}"), &DAYS);
            let _ = read("f", &text, &DAYS);
        }
    }
}
