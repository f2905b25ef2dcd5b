//! Where in a TOML text a value stands.

use toml::de::{DeTable, DeValue};

/// The line of a TOML text (feature `toml`) on which a value stands that an error names as
/// `records[1].date`. The names before the first may be missing; where the value could then be meant
/// twice, no line is better than a wrong one.
///
/// ```
/// use apiary_almanac::{Bee, wire};
/// let text = "based_on = \"generic_small\"\nflight_minimum_c = 170.0";
/// let Err(error) = Bee::from_toml("ours.toml", text) else { panic!("no bee is that warm") };
/// assert_eq!(wire::line_of(text, error.field()), Some(2));
/// ```
pub fn line_of(text: &str, field: &str) -> Option<usize> {
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
