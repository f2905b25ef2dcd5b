//! Where a refused value stands: which argument, or which line of the keeper's file.

use toml::de::{DeTable, DeValue};

use super::Problem;
use super::args::Input;
use apiary_almanac::error::Error;

/// The keeper's file as it was read.
#[derive(Debug, Default)]
pub struct Source {
    pub file: String,
    pub text: String,
}

/// Names the place of an error where it can be told.
pub fn placed(error: Error, input: &Input, source: Option<&Source>) -> Problem {
    let name = error.field().rsplit('.').next().unwrap_or_default();
    let given = match name {
        "latitude_deg" => input.latitude.is_some().then_some("--latitude"),
        "longitude_deg" => input.longitude.is_some().then_some("--longitude"),
        "elevation_m" => input.elevation.is_some().then_some("--elevation"),
        "zone" => input.zone.is_some().then_some("--zone"),
        "today" => input.today.is_some().then_some("--today"),
        "bee" => input.bee.is_some().then_some("--bee"),
        _ => None,
    };
    if let Some(argument) = given {
        return Problem::RefusedAt {
            place: argument.to_owned(),
            error,
        };
    }
    match source {
        // The tables of the weather name their own file and line, a parser its text.
        Some(source) if !error.field().contains(", line ") && error.field() != source.file => {
            Problem::RefusedAt {
                place: match line_of(&source.text, error.field()) {
                    Some(line) => format!("{}, line {line}", source.file),
                    None => source.file.clone(),
                },
                error,
            }
        }
        _ => Problem::Refused(error),
    }
}

/// The line of a value that an error names as `records[1].date`. The names before the first may be
/// missing; where the value could then be meant twice, no line is better than a wrong one.
fn line_of(text: &str, field: &str) -> Option<usize> {
    let steps: Vec<Step<'_>> = field.split('.').flat_map(steps).collect();
    let table = DeTable::parse(text).ok()?;
    let mut found = Vec::new();
    in_table(table.get_ref(), &steps, &mut found);
    match found[..] {
        [at] => Some(text.get(..at)?.matches('\n').count() + 1),
        _ => None,
    }
}

enum Step<'a> {
    Key(&'a str),
    Item(usize),
}

/// `records[1]` is the key `records` and the item 1.
fn steps(part: &str) -> Vec<Step<'_>> {
    let mut pieces = part.split('[');
    let key = pieces.next().map(Step::Key);
    let items = pieces.filter_map(|piece| piece.trim_end_matches(']').parse().ok());
    key.into_iter().chain(items.map(Step::Item)).collect()
}

/// Collects where `steps` lead to, from this table or from any table in it.
fn in_table(table: &DeTable<'_>, steps: &[Step<'_>], found: &mut Vec<usize>) {
    for (key, value) in table {
        if let [Step::Key(name), rest @ ..] = steps
            && key.get_ref() == name
        {
            match rest {
                [] => found.push(key.span().start),
                _ => follow(value.get_ref(), rest, found),
            }
        }
        if let DeValue::Table(inner) = value.get_ref() {
            in_table(inner, steps, found);
        }
    }
}

fn follow(value: &DeValue<'_>, steps: &[Step<'_>], found: &mut Vec<usize>) {
    match (value, steps) {
        (DeValue::Table(table), [Step::Key(name), rest @ ..]) => {
            for (key, value) in table {
                if key.get_ref() == name {
                    match rest {
                        [] => found.push(key.span().start),
                        _ => follow(value.get_ref(), rest, found),
                    }
                }
            }
        }
        (DeValue::Array(items), [Step::Item(index), rest @ ..]) => {
            if let Some(item) = items.get(*index) {
                match rest {
                    [] => found.push(item.span().start),
                    _ => follow(item.get_ref(), rest, found),
                }
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "today = 2026-09-13\n[site]\nlatitude_deg = 5\n\n[plan]\nname = 1\n\
                        [[plan.records]]\ndate = 2026-09-01\n[[plan.records]]\nname = 2\n\
                        date = 2026-09-02\n";

    #[test]
    fn a_value_is_found_by_its_path_or_by_the_end_of_it() {
        assert_eq!(line_of(TEXT, "today"), Some(1));
        assert_eq!(line_of(TEXT, "latitude_deg"), Some(3));
        assert_eq!(line_of(TEXT, "site.latitude_deg"), Some(3));
        assert_eq!(line_of(TEXT, "records[1].date"), Some(11));
        assert_eq!(line_of(TEXT, "plan.records[0].date"), Some(8));
    }

    #[test]
    fn no_line_is_named_where_it_is_not_sure() {
        assert_eq!(line_of(TEXT, "elevation_m"), None);
        assert_eq!(line_of(TEXT, "records[2].date"), None);
        assert_eq!(line_of("[a]\nx = 1\n[b]\nx = 2\n", "x"), None);
        assert_eq!(line_of("not toml", "x"), None);
        assert_eq!(line_of(TEXT, ""), None);
    }
}
