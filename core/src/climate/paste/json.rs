//! Tables in a JSON text: lists of the same length beside each other, or a list of objects.

use super::names::is_moment;
use super::sheet::{Heading, Row, Sheet};
use crate::error::Error;
use crate::wire::{self, Node};

/// The tables of a JSON text, in its order.
///
/// # Errors
/// `unreadable` for a text that is not JSON.
pub(in crate::climate) fn sheets(file: &str, text: &str) -> Result<Vec<Sheet>, Error> {
    let tree = wire::node(file, text)?;
    let mut found = Found::default();
    found.walk("", &tree, &Clock::default());
    Ok(found.finish())
}

/// What a text says of the clocks of its times.
#[derive(Debug, Clone, Default)]
struct Clock {
    offset_s: Option<i32>,
    zone: Option<String>,
}

#[derive(Default)]
struct Found {
    sheets: Vec<Sheet>,
    /// Units by the name of their object and that of the column.
    units: Vec<(String, String, String)>,
}

impl Found {
    fn walk(&mut self, name: &str, node: &Node<'_>, clock: &Clock) {
        match node {
            Node::Object(fields) => {
                let clock = clock.with(fields);
                if name.to_lowercase().contains("unit") {
                    // `daily_units` belong to `daily`; plain `units` to all.
                    let of = name.to_lowercase().replace("units", "").replace("unit", "");
                    let of = of.trim_matches(|c: char| !c.is_alphanumeric());
                    for (key, value) in fields {
                        if let Node::Text(unit) = value
                            && self.units.len() < MOST_UNITS
                        {
                            let (key, unit) = (key.to_string(), unit.to_string());
                            self.units.push((of.to_owned(), key, unit));
                        }
                    }
                    return;
                }
                if self.sheets.len() < MOST_SHEETS
                    && let Some(sheet) = of_lists(name, fields, &clock)
                {
                    self.sheets.push(sheet);
                }
                for (key, value) in fields {
                    if matches!(value, Node::Object(_) | Node::List(_)) {
                        self.walk(key, value, &clock);
                    }
                }
            }
            Node::List(items) => match of_objects(name, items, clock) {
                Some(sheet) if self.sheets.len() < MOST_SHEETS => self.sheets.push(sheet),
                Some(_) => {}
                None => {
                    for item in items {
                        if matches!(item, Node::Object(_) | Node::List(_)) {
                            self.walk(name, item, clock);
                        }
                    }
                }
            },
            _ => {}
        }
    }

    fn finish(mut self) -> Vec<Sheet> {
        for sheet in &mut self.sheets {
            let name = sheet.name.to_lowercase();
            for heading in &mut sheet.headings {
                let of = |(object, key, unit): &(String, String, String)| {
                    let fits = *key == heading.name && (object.is_empty() || *object == name);
                    fits.then(|| unit.clone())
                };
                if let Some(unit) = self.units.iter().find_map(of) {
                    heading.unit = unit;
                }
            }
        }
        self.sheets
    }
}

impl Clock {
    /// The same, with what an object says of it.
    fn with(&self, fields: &[(std::borrow::Cow<'_, str>, Node<'_>)]) -> Clock {
        let mut clock = self.clone();
        for (key, value) in fields {
            let key = key.to_lowercase();
            match value {
                Node::Text(zone) if ["timezone", "time_zone", "zone", "tz"].contains(&&key[..]) => {
                    clock.zone = Some(zone.to_string());
                }
                Node::Unsigned(_) | Node::Signed(_) | Node::Float(_)
                    if key.contains("offset") && key.contains("sec") =>
                {
                    clock.offset_s = value.to_string().parse().ok();
                }
                _ => {}
            }
        }
        clock
    }
}

/// An object that holds lists of the same length, one of them of moments.
fn of_lists(
    name: &str,
    fields: &[(std::borrow::Cow<'_, str>, Node<'_>)],
    clock: &Clock,
) -> Option<Sheet> {
    let list = |node: &Node<'_>| match node {
        Node::List(items) if items.iter().all(is_plain) => Some(items.len()),
        _ => None,
    };
    let length = fields
        .iter()
        .find_map(|(key, value)| list(value).filter(|_| is_moment(key)))?;
    let columns: Vec<_> = fields
        .iter()
        .filter(|(_, value)| list(value) == Some(length))
        .take(MOST_COLUMNS)
        .collect();
    if columns.len() < 2 {
        return None;
    }
    let cell = |node: &Node<'_>, index: usize| match node {
        Node::List(items) => items.get(index).map_or_else(String::new, plain),
        _ => String::new(),
    };
    Some(Sheet {
        name: name.to_owned(),
        headings: columns.iter().map(|(key, _)| Heading::new(key)).collect(),
        rows: (0..length)
            .map(|index| Row {
                number: index,
                cells: columns.iter().map(|(_, node)| cell(node, index)).collect(),
            })
            .collect(),
        row_word: "element",
        offset_s: clock.offset_s,
        zone: clock.zone.clone(),
    })
}

/// Most columns of a table, tables of a text, and units: each is looked for among the others.
const MOST_COLUMNS: usize = 64;
const MOST_SHEETS: usize = 20;
const MOST_UNITS: usize = 400;

/// A list of objects with fields of the same names.
fn of_objects(name: &str, items: &[Node<'_>], clock: &Clock) -> Option<Sheet> {
    let flat: Vec<Vec<(String, String)>> = items.iter().map(flattened).collect::<Option<_>>()?;
    let mut headings: Vec<Heading> = Vec::new();
    for (key, _) in flat.iter().flatten() {
        if headings.len() < MOST_COLUMNS && !headings.iter().any(|heading| heading.name == *key) {
            headings.push(Heading::new(key));
        }
    }
    if !headings.iter().any(|heading| is_moment(&heading.name)) {
        return None;
    }
    let row = |(number, fields): (usize, &Vec<(String, String)>)| Row {
        number,
        cells: headings
            .iter()
            .map(|heading| {
                let cell = fields.iter().find(|(key, _)| *key == heading.name);
                cell.map_or_else(String::new, |(_, text)| text.clone())
            })
            .collect(),
    };
    Some(Sheet {
        name: name.to_owned(),
        rows: flat.iter().enumerate().map(row).collect(),
        headings,
        row_word: "element",
        offset_s: clock.offset_s,
        zone: clock.zone.clone(),
    })
}

/// The plain fields of an object and of the objects in it, `temperature` and `min` as
/// `temperature min`.
fn flattened(node: &Node<'_>) -> Option<Vec<(String, String)>> {
    let Node::Object(fields) = node else {
        return None;
    };
    let mut flat = Vec::new();
    for (key, value) in fields.iter().take(MOST_COLUMNS) {
        match value {
            Node::Object(inner) => flat.extend(
                inner
                    .iter()
                    .take(MOST_COLUMNS)
                    .filter(|(_, value)| is_plain(value))
                    .map(|(under, value)| (format!("{key} {under}"), plain(value))),
            ),
            value if is_plain(value) => flat.push((key.to_string(), plain(value))),
            _ => {}
        }
    }
    Some(flat)
}

fn is_plain(node: &Node<'_>) -> bool {
    !matches!(node, Node::List(_) | Node::Object(_) | Node::Part(..))
}

fn plain(node: &Node<'_>) -> String {
    match node {
        Node::Null => String::new(),
        Node::Text(text) => text.to_string(),
        other => other.to_string(),
    }
}
