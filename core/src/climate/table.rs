//! The one reader behind every weather table: a header that names quantities with their units, one
//! row for each date or month.

use std::collections::BTreeMap;
use std::fmt::Display;

use crate::error::Error;

/// Largest text that is read, bytes: two centuries of days take about 3 MiB.
pub(super) const MOST_BYTES: usize = 32 * 1024 * 1024;

/// What a table must look like.
pub(super) struct Layout<K> {
    /// Header of the column that tells rows apart.
    pub key_column: &'static str,
    /// What is allowed in that column, in words.
    pub key_allowed: &'static str,
    /// Reads such a cell.
    pub read_key: fn(&str) -> Option<K>,
    /// Whether a row may lack its minimum or maximum.
    pub gaps_allowed: bool,
    /// Highest rain of a row, mm.
    pub most_rain_mm: f64,
    /// Whether there may be a wind column.
    pub wind: bool,
}

/// One row, in SI units. An empty cell is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Row<K> {
    pub key: K,
    pub minimum_c: Option<f64>,
    pub maximum_c: Option<f64>,
    pub rain_mm: Option<f64>,
    pub wind_m_s: Option<f64>,
}

/// A unit in which a column may be written.
#[derive(Clone, Copy)]
struct Unit {
    suffix: &'static str,
    label: &'static str,
    /// Allowed range, in this unit.
    lowest: f64,
    highest: f64,
    to_si: fn(f64) -> f64,
}

struct Quantity {
    stem: &'static str,
    required: bool,
    units: [Unit; 2],
}

fn temperature(stem: &'static str) -> Quantity {
    let units = [
        Unit {
            suffix: "c",
            label: "°C",
            lowest: -60.0,
            highest: 60.0,
            to_si: |v| v,
        },
        Unit {
            suffix: "f",
            label: "°F",
            lowest: -76.0,
            highest: 140.0,
            to_si: |v| (v - 32.0) / 1.8,
        },
    ];
    Quantity {
        stem,
        required: true,
        units,
    }
}

fn rain(most_mm: f64) -> Quantity {
    let units = [
        Unit {
            suffix: "mm",
            label: "mm",
            lowest: 0.0,
            highest: most_mm,
            to_si: |v| v,
        },
        Unit {
            suffix: "in",
            label: "inches",
            lowest: 0.0,
            highest: most_mm / 25.4,
            to_si: |v| v * 25.4,
        },
    ];
    Quantity {
        stem: "rain",
        required: false,
        units,
    }
}

fn wind() -> Quantity {
    let units = [
        Unit {
            suffix: "m_s",
            label: "m/s",
            lowest: 0.0,
            highest: 100.0,
            to_si: |v| v,
        },
        Unit {
            suffix: "km_h",
            label: "km/h",
            lowest: 0.0,
            highest: 360.0,
            to_si: |v| v / 3.6,
        },
    ];
    Quantity {
        stem: "wind",
        required: false,
        units,
    }
}

/// Where a quantity stands and in which unit.
#[derive(Clone, Copy)]
struct Place {
    index: usize,
    unit: Unit,
}

/// Reads a table; its rows come back in the order of their keys.
pub(super) fn read<K: Ord + Copy + Display>(
    file: &str,
    text: &str,
    layout: &Layout<K>,
) -> Result<Vec<Row<K>>, Error> {
    if text.len() > MOST_BYTES {
        return Err(Error::TooLarge {
            field: file.to_owned(),
            given: format!("{} bytes", text.len()),
            allowed: format!("{MOST_BYTES} bytes"),
        });
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let separator = separator_of(text);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let bad_table = |problem: String| Error::BadTable {
        file: file.to_owned(),
        problem,
    };

    let header = reader
        .headers()
        .map_err(|e| bad_table(e.to_string()))?
        .clone();
    let mut quantities = vec![temperature("minimum"), temperature("maximum")];
    quantities.push(rain(layout.most_rain_mm));
    if layout.wind {
        quantities.push(wind());
    }
    let (key_index, places) =
        match_header(&header, layout.key_column, &quantities).map_err(bad_table)?;

    let mut rows: BTreeMap<K, Row<K>> = BTreeMap::new();
    let mut lines: BTreeMap<K, u64> = BTreeMap::new();
    let mut wrong = WrongCells {
        file,
        first: None,
        more: 0,
    };
    for record in reader.records() {
        let record = record.map_err(|e| bad_table(e.to_string()))?;
        if record.iter().all(str::is_empty) {
            continue;
        }
        let line = record.position().map_or(0, csv::Position::line);
        if record.len() < header.len() || record.iter().skip(header.len()).any(|c| !c.is_empty()) {
            return Err(bad_table(format!(
                "line {line} has {} cells, the header has {} (a decimal comma needs a semicolon or \
                 a tab between cells)",
                record.len(),
                header.len()
            )));
        }

        let mut values = [None; 4];
        for (value, place) in values.iter_mut().zip(&places) {
            let Some(Place { index, unit }) = place else {
                continue;
            };
            let cell = &record[*index];
            let may_be_empty = layout.gaps_allowed || unit.suffix == "mm" || unit.suffix == "in";
            match number(cell, separator) {
                None if cell.is_empty() && may_be_empty => {}
                Some(v) if (unit.lowest..=unit.highest).contains(&v) => {
                    *value = Some((unit.to_si)(v));
                }
                _ => wrong.add(
                    line,
                    &header[*index],
                    cell,
                    format_args!(
                        "a number from {} to {} {}{}",
                        unit.lowest,
                        (unit.highest * 10.0).floor() / 10.0,
                        unit.label,
                        if may_be_empty { ", or nothing" } else { "" }
                    ),
                ),
            }
        }
        let [minimum_c, maximum_c, rain_mm, wind_m_s] = values;
        if let (Some(low), Some(high), Some(place)) = (minimum_c, maximum_c, places[1])
            && low > high
        {
            let minimum = places[0].map_or("", |place| &record[place.index]);
            wrong.add(
                line,
                &header[place.index],
                &record[place.index],
                format_args!("at or above the minimum of the same line, {minimum}"),
            );
        }

        let cell = &record[key_index];
        let Some(key) = (layout.read_key)(cell) else {
            wrong.add(line, &header[key_index], cell, layout.key_allowed);
            continue;
        };
        if let Some(earlier) = lines.insert(key, line) {
            wrong.add(
                line,
                &header[key_index],
                cell,
                format_args!("new: line {earlier} has it already"),
            );
        }
        rows.insert(
            key,
            Row {
                key,
                minimum_c,
                maximum_c,
                rain_mm,
                wind_m_s,
            },
        );
    }
    wrong.finish()?;
    if rows.is_empty() {
        return Err(bad_table("there are no rows below the header".to_owned()));
    }
    Ok(rows.into_values().collect())
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
        cell.replace(',', ".").parse().ok()
    } else {
        cell.parse().ok()
    }
}

/// Finds the key and the quantities among the headers; explains what does not fit.
fn match_header(
    header: &csv::StringRecord,
    key: &str,
    quantities: &[Quantity],
) -> Result<(usize, [Option<Place>; 4]), String> {
    let with_units = |q: &Quantity| {
        format!(
            "{0}_{1} or {0}_{2}",
            q.stem, q.units[0].suffix, q.units[1].suffix
        )
    };
    if header.iter().all(str::is_empty) {
        return Err(format!(
            "the file is empty; needed is a header with {key} and columns such as \
                            minimum_c and maximum_c"
        ));
    }
    let mut key_index = None;
    let mut places = [None; 4];
    for (index, name) in header.iter().enumerate() {
        let lower = name.to_lowercase();
        if lower == key {
            if key_index.replace(index).is_some() {
                return Err(format!("there are two columns {key}"));
            }
            continue;
        }
        let Some((slot, quantity)) = quantities
            .iter()
            .enumerate()
            .find(|(_, q)| lower.starts_with(q.stem))
        else {
            let known: Vec<_> = quantities.iter().map(with_units).collect();
            return Err(format!(
                "column {name:?} is not known; known are {key}, {}",
                known.join(", ")
            ));
        };
        let suffix = lower[quantity.stem.len()..].strip_prefix('_');
        let Some(unit) = quantity
            .units
            .iter()
            .find(|unit| suffix == Some(unit.suffix))
        else {
            return Err(format!(
                "column {name:?} does not say a unit that can be read; name it {}",
                with_units(quantity)
            ));
        };
        if places[slot].replace(Place { index, unit: *unit }).is_some() {
            return Err(format!("there are two columns of {}", quantity.stem));
        }
    }
    let key_index = key_index.ok_or_else(|| format!("there is no column {key}"))?;
    for (quantity, place) in quantities.iter().zip(&places) {
        if quantity.required && place.is_none() {
            return Err(format!("there is no column {}", with_units(quantity)));
        }
    }
    Ok((key_index, places))
}

/// Keeps the first wrong cell and counts the others.
struct WrongCells<'a> {
    file: &'a str,
    first: Option<(u64, String, String, String)>,
    more: u64,
}

impl WrongCells<'_> {
    fn add(&mut self, line: u64, column: &str, given: &str, allowed: impl Display) {
        if self.first.is_some() {
            self.more += 1;
        } else {
            self.first = Some((
                line,
                column.to_owned(),
                given.to_owned(),
                allowed.to_string(),
            ));
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
            file: self.file.to_owned(),
            line,
            column,
            given,
            allowed,
        })
    }
}
