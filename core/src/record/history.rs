//! Which records count: a correction takes the place of the record that it names, and a record that is struck
//! out counts for nothing. Nothing is ever taken off the list.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Record;
use crate::error::{Error, clip};
use crate::wire::FromNode;

/// A record as it was given, under the name by which others speak of it.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct KeptRecord {
    /// Its `id`; of one without, its date and its task, or `note` where it has no task, and a number from the
    /// second of that name on: `2026-10-02-divide`, `2026-10-20-note-2`.
    pub name: String,
    /// The record.
    pub record: Record,
    /// The name of the one that corrects it or strikes it out; it counts no longer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub void_by: Option<String>,
}

/// The longest `id` of a record, bytes.
const LONGEST_ID: usize = 120;

/// All records under their names, with those that are void.
///
/// # Errors
/// `out_of_range` for an `id` that cannot be; `inconsistent` for an `id` given twice, for one that corrects and
/// strikes out or strikes out and says more, and for a name of a record that only strikes out; `unknown_name`
/// for a record that does not stand before the one that names it.
///
/// ```
/// use apiary_almanac::record::{Record, kept};
/// let wrong = Record::new("2026-10-03".parse()?).with_id("division").with_task("divide");
/// // It was the Sunday.
/// let right = Record::new("2026-10-04".parse()?).with_task("divide").with_corrects("division");
/// let records = kept(&[wrong, right])?;
/// assert!(records[0].void_by.is_some() && records[1].void_by.is_none());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn kept(records: &[Record]) -> Result<Vec<KeptRecord>, Error> {
    let mut list: Vec<KeptRecord> = Vec::with_capacity(records.len());
    let mut places: BTreeMap<String, usize> = BTreeMap::new();
    // The record that each speaks of, through all corrections: the first of the chain.
    let mut first_of: Vec<usize> = Vec::with_capacity(records.len());
    let mut same: BTreeMap<String, u32> = BTreeMap::new();
    for (place, record) in records.iter().enumerate() {
        let field = |name: &str| format!("records[{place}].{name}");
        let name = match &record.id {
            Some(id) => {
                checked_id(&field("id"), id)?;
                id.clone()
            }
            None => derived(record, &mut same),
        };
        if places.contains_key(&name) {
            return Err(Error::Inconsistent {
                field: field("id"),
                problem: format!("{} is the name of an earlier record too", clip(&name)),
            });
        }
        let named = match (&record.corrects, &record.strikes_out) {
            (Some(_), Some(_)) => {
                return Err(Error::Inconsistent {
                    field: field("strikes_out"),
                    problem: "a record corrects another or strikes it out, not both".to_owned(),
                });
            }
            (Some(other), None) => Some((other, "corrects")),
            (None, Some(other)) => {
                if record.says_something() {
                    return Err(Error::Inconsistent {
                        field: field("strikes_out"),
                        problem: "a record that strikes out another has a date and a note only; to say it \
                                  otherwise give corrects"
                            .to_owned(),
                    });
                }
                Some((other, "strikes_out"))
            }
            (None, None) => None,
        };
        let mut stands_for = place;
        if let Some((other, how)) = named {
            let Some(&of) = places.get(other) else {
                return Err(Error::UnknownName {
                    field: field(how),
                    given: clip(other),
                    allowed: clip(&match places.is_empty() {
                        true => "the name of a record that stands before it".to_owned(),
                        false => places.keys().cloned().collect::<Vec<_>>().join(", "),
                    }),
                });
            };
            if list[of].record.strikes_out.is_some() {
                return Err(Error::Inconsistent {
                    field: field(how),
                    problem: format!(
                        "{} only strikes out; to bring a record back, correct that record",
                        clip(other)
                    ),
                });
            }
            stands_for = first_of[of];
            for (earlier, of) in list.iter_mut().zip(&first_of) {
                if *of == stands_for && earlier.void_by.is_none() {
                    earlier.void_by = Some(name.clone());
                }
            }
        }
        // What strikes out is nobody's correction.
        first_of.push(if record.strikes_out.is_some() {
            place
        } else {
            stands_for
        });
        places.insert(name.clone(), place);
        list.push(KeptRecord {
            name,
            record: record.clone(),
            void_by: None,
        });
    }
    Ok(list)
}

fn derived(record: &Record, same: &mut BTreeMap<String, u32>) -> String {
    let task = record.task.as_deref().unwrap_or("note");
    let name = format!("{}-{task}", record.date);
    let count = same.entry(name.clone()).or_default();
    *count += 1;
    match *count {
        1 => name,
        more => format!("{name}-{more}"),
    }
}

fn checked_id(field: &str, id: &str) -> Result<(), Error> {
    if id.is_empty() || id.len() > LONGEST_ID || id.trim() != id || id.chars().any(char::is_control)
    {
        return Err(Error::out_of_range(
            field,
            crate::error::quoted(id),
            format_args!(
                "1 to {LONGEST_ID} bytes, without blanks around them or control characters"
            ),
        ));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(date: &str, task: Option<&str>) -> Record {
        let record = Record::new(date.parse().unwrap());
        match task {
            Some(task) => record.with_task(task),
            None => record.with_note("seen"),
        }
    }

    fn names(list: &[KeptRecord]) -> Vec<(&str, Option<&str>)> {
        list.iter()
            .map(|one| (one.name.as_str(), one.void_by.as_deref()))
            .collect()
    }

    #[test]
    fn records_without_an_id_are_named_by_day_and_task() {
        let list = [
            record("2026-10-02", Some("divide")),
            record("2026-10-02", None),
            record("2026-10-02", None),
            record("2026-10-03", None).with_id("mine"),
        ];
        let list = kept(&list).unwrap();
        let expected = [
            ("2026-10-02-divide", None),
            ("2026-10-02-note", None),
            ("2026-10-02-note-2", None),
            ("mine", None),
        ];
        assert_eq!(names(&list), expected);
    }

    #[test]
    fn the_last_correction_of_a_record_counts_and_a_correction_brings_it_back() {
        let first = record("2026-10-02", Some("divide"));
        let second = record("2026-10-03", Some("divide")).with_corrects("2026-10-02-divide");
        // It names the first, and takes the place of the second.
        let third = record("2026-10-04", Some("divide")).with_corrects("2026-10-02-divide");
        let struck =
            Record::new("2026-10-05".parse().unwrap()).with_strikes_out("2026-10-04-divide");
        let back = record("2026-10-06", Some("divide")).with_corrects("2026-10-03-divide");
        let void = |count: usize| {
            let all = [&first, &second, &third, &struck, &back].map(Record::clone);
            let list = kept(&all[..count]).unwrap();
            let counts = |one: &&KeptRecord| one.void_by.is_none() && one.record.task.is_some();
            let left: Vec<String> = list
                .iter()
                .filter(counts)
                .map(|one| one.name.clone())
                .collect();
            left
        };
        assert_eq!(void(1), ["2026-10-02-divide"]);
        assert_eq!(void(2), ["2026-10-03-divide"]);
        assert_eq!(void(3), ["2026-10-04-divide"]);
        assert!(void(4).is_empty());
        assert_eq!(void(5), ["2026-10-06-divide"]);
    }

    #[test]
    fn what_cannot_be_is_refused_by_name() {
        let first = record("2026-10-02", Some("divide"));
        let refused = |more: Vec<Record>| {
            let mut all = vec![first.clone()];
            all.extend(more);
            let error = kept(&all).unwrap_err();
            (error.code(), error.field().to_owned())
        };
        let empty = || Record::new("2026-10-05".parse().unwrap());
        for (more, code, field) in [
            (
                vec![empty().with_corrects("2026-10-01-divide")],
                "unknown_name",
                "corrects",
            ),
            // Not itself, and none after it.
            (
                vec![empty().with_id("a").with_corrects("a")],
                "unknown_name",
                "corrects",
            ),
            (
                vec![
                    empty()
                        .with_corrects("2026-10-02-divide")
                        .with_strikes_out("2026-10-02-divide"),
                ],
                "inconsistent",
                "strikes_out",
            ),
            (
                vec![
                    empty()
                        .with_strikes_out("2026-10-02-divide")
                        .with_task("divide"),
                ],
                "inconsistent",
                "strikes_out",
            ),
            (
                vec![empty().with_id("2026-10-02-divide")],
                "inconsistent",
                "id",
            ),
            (vec![empty().with_id(" a")], "out_of_range", "id"),
            (vec![empty().with_id("a".repeat(121))], "out_of_range", "id"),
        ] {
            assert_eq!(refused(more), (code, format!("records[1].{field}")));
        }
        let struck = empty()
            .with_id("gone")
            .with_strikes_out("2026-10-02-divide");
        let error = refused(vec![struck, empty().with_strikes_out("gone")]);
        assert_eq!(error, ("inconsistent", "records[2].strikes_out".to_owned()));
    }
}
