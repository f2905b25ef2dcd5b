//! What a text says of its days, before units and dates are sure: one entry for each row or line.

use super::date::{self, When};
use super::line;
use super::names::{Quantity, Unit, quantity, unit};
use super::number::{Cell, Figure, cell};
use super::sheet::Sheet;
use crate::error::clip;

/// A row or line that may be a day.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    /// `line 3`
    pub place: String,
    pub given: String,
    pub when: Option<When>,
    pub low: Slot,
    pub high: Slot,
    pub rain: Slot,
    pub wind: Slot,
}

/// What stands where a number is looked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Slot {
    Nothing,
    /// Something, but no number.
    Unclear,
    Is(Figure),
}

impl Slot {
    pub fn figure(&self) -> Option<&Figure> {
        match self {
            Slot::Is(figure) => Some(figure),
            Slot::Nothing | Slot::Unclear => None,
        }
    }

    pub fn figure_mut(&mut self) -> Option<&mut Figure> {
        match self {
            Slot::Is(figure) => Some(figure),
            Slot::Nothing | Slot::Unclear => None,
        }
    }
}

impl Entry {
    /// Both temperatures, where both are numbers.
    pub fn extremes(&self) -> Option<(&Figure, &Figure)> {
        self.low.figure().zip(self.high.figure())
    }
}

/// What could not be used of a text as a whole.
#[derive(Debug, Default)]
pub(super) struct Unused {
    /// Columns by name.
    pub columns: Vec<String>,
    /// Lines before the first day.
    pub lines: Vec<(usize, String)>,
}

/// The columns of a table of days.
struct Columns {
    when: Vec<usize>,
    extremes: Extremes,
    rain: Option<usize>,
    wind: Option<usize>,
}

enum Extremes {
    Apart(usize, usize),
    Together(usize),
}

/// The entries of a table of days; `None` where it is none. The error says which columns are one too
/// many.
pub(super) fn of_sheet(sheet: &Sheet, unused: &mut Unused) -> Option<Result<Vec<Entry>, String>> {
    let columns = match columns(sheet)? {
        Ok(columns) => columns,
        Err(problem) => return Some(Err(problem)),
    };
    let used = |column: usize| {
        let (low, high) = match columns.extremes {
            Extremes::Apart(low, high) => (low, high),
            Extremes::Together(both) => (both, both),
        };
        columns.when.contains(&column)
            || [Some(low), Some(high), columns.rain, columns.wind].contains(&Some(column))
    };
    for (column, heading) in sheet.headings.iter().enumerate() {
        if !used(column) && !heading.name.is_empty() {
            unused.columns.push(clip(&heading.name));
        }
    }
    let heading_unit = |column: usize, quantity| {
        let heading = &sheet.headings[column];
        unit(&heading.unit, quantity).or_else(|| unit(&heading.name, quantity))
    };
    let entries = sheet.rows.iter().filter(|row| !row.is_empty()).map(|row| {
        let days: Vec<&str> = columns
            .when
            .iter()
            .map(|column| row.cell(*column))
            .filter(|cell| !cell.is_empty())
            .collect();
        let with = |figure: Figure, unit: Option<Unit>| Figure {
            unit: figure.unit.or(unit),
            ..figure
        };
        let number = |column: Option<usize>, quantity| {
            let Some(column) = column else {
                return Slot::Nothing;
            };
            let unit = heading_unit(column, quantity);
            match cell(row.cell(column)) {
                Cell::Empty => Slot::Nothing,
                Cell::One(figure) if fits(&[figure], quantity) => Slot::Is(with(figure, unit)),
                // A range of rain or wind: the upper end is the careful one.
                Cell::Two(a, b)
                    if matches!(quantity, Quantity::Rain | Quantity::Wind)
                        && fits(&[a, b], quantity) =>
                {
                    Slot::Is(with(if a.decimal > b.decimal { a } else { b }, unit))
                }
                _ => Slot::Unclear,
            }
        };
        let (low, high) = match columns.extremes {
            Extremes::Apart(low, high) => (
                number(Some(low), Quantity::Minimum),
                number(Some(high), Quantity::Maximum),
            ),
            Extremes::Together(column) => {
                let unit = heading_unit(column, Quantity::Range);
                match cell(row.cell(column)) {
                    Cell::Two(a, b) if fits(&[a, b], Quantity::Range) => {
                        let (low, high) = if a.decimal <= b.decimal {
                            (a, b)
                        } else {
                            (b, a)
                        };
                        (Slot::Is(with(low, unit)), Slot::Is(with(high, unit)))
                    }
                    Cell::Empty => (Slot::Nothing, Slot::Nothing),
                    _ => (Slot::Unclear, Slot::Unclear),
                }
            }
        };
        Entry {
            place: format!("{} {}", sheet.row_word, row.number),
            given: clip(row.cells.join(" ").trim()),
            when: date::read(&days.join(" ")),
            low,
            high,
            rain: number(columns.rain, Quantity::Rain),
            wind: number(columns.wind, Quantity::Wind),
        }
    });
    Some(Ok(entries.collect()))
}

/// Whether the units that stand beside numbers are units of a quantity.
fn fits(figures: &[Figure], quantity: Quantity) -> bool {
    figures
        .iter()
        .all(|figure| figure.unit.is_none_or(|unit| unit.fits(quantity)))
}

fn columns(sheet: &Sheet) -> Option<Result<Columns, String>> {
    let of = |wanted| -> Vec<usize> {
        (0..sheet.headings.len())
            .filter(|column| quantity(&sheet.headings[*column].name) == Some(wanted))
            .collect()
    };
    let when = of(Quantity::When);
    let (lows, highs, both) = (
        of(Quantity::Minimum),
        of(Quantity::Maximum),
        of(Quantity::Range),
    );
    if when.is_empty() || (both.is_empty() && (lows.is_empty() || highs.is_empty())) {
        return None;
    }
    let twice = |columns: &[usize]| {
        let names: Vec<_> = columns
            .iter()
            .map(|column| clip(&sheet.headings[*column].name))
            .collect();
        Some(Err(format!(
            "columns {} hold the same; leave one of them",
            names.join(" and ")
        )))
    };
    // The same in two units: °C counts.
    let celsius = |columns: Vec<usize>| -> Vec<usize> {
        let is_celsius = |column: &usize| {
            let heading = &sheet.headings[*column];
            let known = unit(&heading.unit, Quantity::Minimum)
                .or_else(|| unit(&heading.name, Quantity::Minimum));
            known == Some(Unit::Celsius)
        };
        match columns.iter().filter(|column| is_celsius(column)).count() {
            1 => columns.into_iter().filter(is_celsius).collect(),
            _ => columns,
        }
    };
    let (lows, highs) = (celsius(lows), celsius(highs));
    let extremes = match (&lows[..], &highs[..], &both[..]) {
        ([low], [high], _) => Extremes::Apart(*low, *high),
        ([], _, [both]) | (_, [], [both]) => Extremes::Together(*both),
        ([_, _, ..], ..) => return twice(&lows),
        (_, [_, _, ..], _) => return twice(&highs),
        _ => return twice(&both),
    };
    let rains = of(Quantity::Rain);
    // Precipitation holds all that falls; rain beside it is a part of it.
    let all = |column: &&usize| {
        sheet.headings[**column]
            .name
            .to_lowercase()
            .contains("prec")
    };
    let rain = rains.iter().find(all).or(rains.first()).copied();
    Some(Ok(Columns {
        when,
        extremes,
        rain,
        wind: of(Quantity::Wind).first().copied(),
    }))
}

/// The entries of running lines.
pub(super) fn of_lines(text: &str, unused: &mut Unused) -> Vec<Entry> {
    let (blocks, strays) = line::blocks(text);
    unused.lines.extend(
        strays
            .into_iter()
            .map(|(number, line)| (number, clip(line))),
    );
    let entry = |block: line::Block| {
        let place = format!("line {}", block.number);
        let given = clip(&block.text);
        let is = |figure: Option<Figure>| figure.map_or(Slot::Nothing, Slot::Is);
        match block.read {
            Some(read) => Entry {
                place,
                given,
                when: Some(read.when),
                low: Slot::Is(read.low),
                high: Slot::Is(read.high),
                rain: is(read.rain),
                wind: is(read.wind),
            },
            None => Entry {
                place,
                given,
                when: None,
                low: Slot::Unclear,
                high: Slot::Unclear,
                rain: Slot::Nothing,
                wind: Slot::Nothing,
            },
        }
    };
    blocks.into_iter().map(entry).collect()
}
