//! A table in a text: what parts its cells, and which line is its head.

use super::names::{Quantity, any_unit, quantity};
use super::number::{Cell, cell};
use super::sheet::{Heading, Row, Sheet};
use crate::climate::cells::{records, start_of};

/// What parts cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Separator {
    Mark(u8),
    /// Two blanks or more.
    Blanks,
    /// Any blank.
    Blank,
}

/// In the order in which they are preferred.
const SEPARATORS: [Separator; 6] = [
    Separator::Mark(b'\t'),
    Separator::Mark(b'|'),
    Separator::Mark(b';'),
    Separator::Mark(b','),
    Separator::Blanks,
    Separator::Blank,
];

/// Most columns that a head can have.
const MOST_COLUMNS: usize = 400;
/// A head stands within so many lines.
const LAST_HEAD: usize = 30;

/// The table in a text, where one of its lines is a head.
pub(in crate::climate) fn sheet(text: &str) -> Option<Sheet> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (separator, head) = head(text)?;
    let mut rows = rows(text, separator);
    let at = rows.iter().position(|row| row.number == head)?;
    let mut headings: Vec<_> = rows[at]
        .cells
        .iter()
        .map(|cell| Heading::new(cell))
        .collect();
    rows.drain(..=at);
    // A column of days often has no name.
    let named = |headings: &[Heading]| {
        headings
            .iter()
            .any(|heading| quantity(&heading.name) == Some(Quantity::When))
    };
    if !named(&headings)
        && let Some(first) = headings.first_mut()
        && quantity(&first.name).is_none()
    {
        "day".clone_into(&mut first.name);
    }
    // A line of units below the head.
    if let Some(row) = rows.first()
        && !row.is_empty()
        && row.cells.iter().all(|cell| {
            cell.is_empty()
                || (any_unit(cell).is_some() && !cell.contains(|c: char| c.is_ascii_digit()))
        })
    {
        for (heading, unit) in headings.iter_mut().zip(&row.cells) {
            heading.unit.clone_from(unit);
        }
        rows.remove(0);
    }
    rows.retain(|row| !row.is_empty() && !is_rule(&row.cells));
    if separator == Separator::Blank {
        for row in &mut rows {
            join_surplus(&mut row.cells, headings.len());
        }
    }
    Some(Sheet {
        headings,
        rows,
        row_word: "line",
        ..Sheet::default()
    })
}

/// A table whose days stand side by side: its first column names the quantities.
pub(in crate::climate) fn turned_sheet(text: &str) -> Option<Sheet> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    // Single blanks part words of sentences as well.
    let mut separators = SEPARATORS
        .into_iter()
        .filter(|one| *one != Separator::Blank);
    separators.find_map(|separator| {
        let all = rows(text, separator);
        let lines: Vec<&Row> = all
            .iter()
            .filter(|row| !row.is_empty() && !is_rule(&row.cells))
            .take(LAST_HEAD)
            .collect();
        let names: Vec<_> = lines.iter().map(|row| quantity(row.cell(0))).collect();
        let has = |wanted| names.contains(&Some(wanted));
        if !(has(Quantity::Minimum) && has(Quantity::Maximum) || has(Quantity::Range)) {
            return None;
        }
        let width = lines
            .iter()
            .map(|row| row.cells.len())
            .max()?
            .min(MOST_TURNED);
        // The line of the days: the first, its corner empty or a word for it.
        let corner = matches!(names.first()?, None | Some(Quantity::When));
        if !corner || width < 2 {
            return None;
        }
        let mut headings: Vec<_> = lines.iter().map(|row| Heading::new(row.cell(0))).collect();
        "day".clone_into(&mut headings.first_mut()?.name);
        Some(Sheet {
            headings,
            rows: (1..width)
                .map(|column| Row {
                    number: column + 1,
                    cells: lines
                        .iter()
                        .map(|row| row.cell(column).to_owned())
                        .collect(),
                })
                .collect(),
            row_word: "column",
            ..Sheet::default()
        })
    })
}

/// Most days side by side.
const MOST_TURNED: usize = 400;

/// The first line that names what a forecast needs, and what parts its cells.
fn head(text: &str) -> Option<(Separator, usize)> {
    lines(text)
        .filter(|(_, line)| !line.trim().is_empty())
        .take(LAST_HEAD)
        .find_map(|(number, line)| {
            let (mut best, mut score) = (None, 0);
            for separator in SEPARATORS {
                let cells = split(line, separator);
                let known = match separator {
                    // Any sentence has words between blanks.
                    Separator::Blank if cells.iter().any(|name| quantity(name).is_none()) => 0,
                    _ => known_columns(&cells),
                };
                if known > score {
                    (best, score) = (Some(separator), known);
                }
            }
            best.map(|separator| (separator, number))
        })
}

/// How many columns are known by their names, where they are enough for a forecast; else 0.
fn known_columns(cells: &[String]) -> usize {
    if !(2..=MOST_COLUMNS).contains(&cells.len())
        || cells
            .iter()
            .any(|name| !matches!(cell(name), Cell::Other | Cell::Empty))
    {
        return 0;
    }
    let names: Vec<_> = cells.iter().filter_map(|name| quantity(name)).collect();
    let has = |wanted| names.contains(&wanted);
    let by_the_hour = has(Quantity::Temperature) && has(Quantity::When);
    let by_the_day = has(Quantity::Minimum) && has(Quantity::Maximum) || has(Quantity::Range);
    if by_the_hour || by_the_day || (has(Quantity::When) && names.len() >= 2) {
        names.len()
    } else {
        0
    }
}

/// The lines of a text, counted from 1.
pub(super) fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    (1..).zip(text.lines())
}

fn rows(text: &str, separator: Separator) -> Vec<Row> {
    match separator {
        Separator::Mark(mark) => {
            let mut counted = 0;
            let mut line = 1;
            records(text, mark)
                .map(|record| {
                    // The reader starts a record before the blank lines above it.
                    let rest = text[start_of(&record)..].trim_start_matches(['\r', '\n']);
                    let start = text.len() - rest.len();
                    line += text[counted..start].matches('\n').count();
                    counted = start;
                    let mut cells: Vec<String> = record.iter().map(str::to_owned).collect();
                    if mark == b'|' {
                        without_frame(&mut cells);
                    }
                    Row {
                        number: line,
                        cells,
                    }
                })
                .collect()
        }
        Separator::Blanks | Separator::Blank => lines(text)
            .map(|(number, line)| Row {
                number,
                cells: split(line, separator),
            })
            .collect(),
    }
}

/// One line; quotes around cells are dropped.
fn split(line: &str, separator: Separator) -> Vec<String> {
    let trimmed = |cell: &str| cell.trim().trim_matches('"').trim().to_owned();
    match separator {
        Separator::Mark(mark) => {
            let mut cells: Vec<_> = line.split(char::from(mark)).map(trimmed).collect();
            if mark == b'|' {
                without_frame(&mut cells);
            }
            cells
        }
        Separator::Blanks => {
            let mut cells = Vec::new();
            let mut rest = line.trim();
            while let Some(gap) = rest.find("  ") {
                cells.push(trimmed(&rest[..gap]));
                rest = rest[gap..].trim_start();
            }
            cells.push(trimmed(rest));
            cells
        }
        Separator::Blank => {
            let mut cells: Vec<String> = Vec::new();
            for word in line.split_whitespace() {
                // `Rain (mm)` and `5 mm` are one cell.
                let is_unit =
                    !word.contains(|c: char| c.is_ascii_digit()) && any_unit(word).is_some();
                match cells.last_mut() {
                    Some(last) if is_unit => *last += &format!(" {word}"),
                    _ => cells.push(trimmed(word)),
                }
            }
            cells
        }
    }
}

/// Takes away the empty cells outside the first and last `|`.
fn without_frame(cells: &mut Vec<String>) {
    if cells.len() > 2 {
        if cells.last().is_some_and(String::is_empty) {
            cells.pop();
        }
        if cells.first().is_some_and(String::is_empty) {
            cells.remove(0);
        }
    }
}

/// A line drawn below the head.
fn is_rule(cells: &[String]) -> bool {
    cells.iter().all(|cell| {
        cell.chars()
            .all(|c| matches!(c, '-' | '=' | ':' | '+' | '_' | ' ' | '─'))
    })
}

/// `Mon 20 Jul 12 24` under `Day Min Max`: what is too much belongs to the day.
fn join_surplus(cells: &mut Vec<String>, width: usize) {
    if width > 0 && cells.len() > width {
        let surplus = cells.len() - width;
        let day = cells.drain(..=surplus).collect::<Vec<_>>().join(" ");
        cells.insert(0, day);
    }
}
