//! The vector files that every door answers: reading them strictly, comparing answers with them.
//!
//! The format is described in `tests/vectors/README.md`; the Python and the JavaScript tests have
//! readers of their own.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::{fs, io};

use chrono::{DateTime, FixedOffset};
use serde::Deserialize;
use serde_json::Value;

/// A file of vectors.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct File {
    /// What stands at its head.
    pub about: About,
    /// The vectors.
    pub rows: Vec<Row>,
    /// The file's name without `.json`.
    #[serde(skip)]
    pub name: String,
}

/// The head of a file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct About {
    /// What the vectors are about.
    pub what: String,
    /// Where the expected values come from.
    pub source: String,
    /// The licence of the file.
    pub licence: String,
    /// How far an answer may be off.
    pub tolerance: Tolerance,
    /// How many rows there are.
    pub rows: usize,
}

/// How far an answer may be off.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tolerance {
    /// Any number, in its own unit.
    pub number: f64,
    /// Instants; their offset must be right in any case.
    pub instant_s: f64,
}

/// One vector.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// Its name, unique within the file.
    pub id: String,
    /// What is special about it.
    pub note: Option<String>,
    /// The request as JSON.
    pub request: Option<Value>,
    /// The request as pieces of text.
    pub request_parts: Option<Vec<Part>>,
    /// The whole answer.
    pub expect: Option<Value>,
    /// Part of the answer: objects may have more fields.
    pub expect_part: Option<Value>,
    /// The error.
    pub expect_error: Option<Refusal>,
}

/// A piece of a request.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// The text.
    pub text: String,
    /// How often it stands there.
    pub times: usize,
}

/// The error that a request is refused with.
#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Refusal {
    /// Its code.
    pub code: String,
    /// The field at fault.
    pub field: String,
}

impl Row {
    /// The text of the request.
    pub fn text(&self) -> String {
        match (&self.request, &self.request_parts) {
            (Some(request), _) => request.to_string(),
            (None, parts) => parts
                .iter()
                .flatten()
                .map(|part| part.text.repeat(part.times))
                .collect(),
        }
    }

    /// What is wrong with the answer, which is an error's code and field or JSON text.
    ///
    /// # Errors
    /// The difference.
    pub fn check(
        &self,
        tolerance: Tolerance,
        answer: &Result<String, Refusal>,
    ) -> Result<(), String> {
        match (answer, &self.expect_error) {
            (Err(given), Some(wanted)) if given == wanted => Ok(()),
            (Err(given), wanted) => Err(format!("refused with {given:?}, not {wanted:?}")),
            (Ok(given), Some(wanted)) => Err(format!("answered {given:.200}, not {wanted:?}")),
            (Ok(given), None) => {
                let given: Value = serde_json::from_str(given).map_err(|e| e.to_string())?;
                let whole = self.expect.is_some();
                let wanted = self.expect.as_ref().or(self.expect_part.as_ref());
                compare(
                    "answer",
                    wanted.unwrap_or(&Value::Null),
                    &given,
                    tolerance,
                    whole,
                )
            }
        }
    }

    fn fault(&self) -> Option<&'static str> {
        let well_named = self.id.split('-').all(|word| {
            !word.is_empty()
                && word
                    .bytes()
                    .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
        });
        let requests = [self.request.is_some(), self.request_parts.is_some()];
        let expectations = [
            self.expect.is_some(),
            self.expect_part.is_some(),
            self.expect_error.is_some(),
        ];
        let count = |flags: &[bool]| flags.iter().filter(|set| **set).count();
        if !well_named {
            Some("an id is made of small letters, digits and hyphens")
        } else if count(&requests) != 1 {
            Some("a row has one of `request` and `request_parts`")
        } else if count(&expectations) != 1 {
            Some("a row has one of `expect`, `expect_part` and `expect_error`")
        } else {
            None
        }
    }
}

/// The folder of the project.
pub fn project() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Reads every file of vectors.
///
/// # Errors
/// The first file that cannot be read or does not keep to the format.
pub fn load() -> Result<Vec<File>, String> {
    let list = |folder| -> io::Result<Vec<PathBuf>> {
        let entries: Result<Vec<_>, _> = fs::read_dir(folder)?.collect();
        Ok(entries?.iter().map(fs::DirEntry::path).collect())
    };
    let mut paths = list(project().join("tests/vectors")).map_err(|e| e.to_string())?;
    paths.retain(|path| path.extension().is_some_and(|e| e == "json"));
    paths.sort();
    paths
        .iter()
        .map(|path| read(path).map_err(|e| format!("{}: {e}", path.display())))
        .collect()
}

fn read(path: &Path) -> Result<File, String> {
    let text = fs::read_to_string(path).map_err(|e| e.to_string())?;
    let name = path.file_stem().unwrap_or_default().to_string_lossy();
    parse(&name, &text)
}

/// Reads a file of vectors from its text.
///
/// # Errors
/// What does not keep to the format.
pub fn parse(name: &str, text: &str) -> Result<File, String> {
    let mut file: File = serde_json::from_str(text).map_err(|e| e.to_string())?;
    if file.rows.len() != file.about.rows || file.rows.is_empty() {
        return Err(format!(
            "{} rows, but `about` says {}",
            file.rows.len(),
            file.about.rows
        ));
    }
    let mut ids = BTreeSet::new();
    for row in &file.rows {
        if let Some(fault) = row.fault() {
            return Err(format!("{}: {fault}", row.id));
        }
        if !ids.insert(&row.id) {
            return Err(format!("{} stands there twice", row.id));
        }
    }
    name.clone_into(&mut file.name);
    Ok(file)
}

/// Compares an answer with what is wanted: numbers and instants within the tolerance, everything
/// else exactly.
///
/// # Errors
/// The first difference, with its path.
pub fn compare(
    path: &str,
    wanted: &Value,
    given: &Value,
    tolerance: Tolerance,
    whole: bool,
) -> Result<(), String> {
    let same = match (wanted, given) {
        (Value::Object(wanted), Value::Object(given)) => {
            for (key, value) in wanted {
                let given = given
                    .get(key)
                    .ok_or_else(|| format!("{path}.{key} is missing"))?;
                compare(&format!("{path}.{key}"), value, given, tolerance, whole)?;
            }
            match given.keys().find(|key| whole && !wanted.contains_key(*key)) {
                Some(extra) => return Err(format!("{path}.{extra} is not expected")),
                None => true,
            }
        }
        (Value::Array(wanted), Value::Array(given)) if wanted.len() == given.len() => {
            for (i, (wanted, given)) in wanted.iter().zip(given).enumerate() {
                compare(&format!("{path}[{i}]"), wanted, given, tolerance, whole)?;
            }
            true
        }
        (Value::Number(a), Value::Number(b)) => match (a.as_f64(), b.as_f64()) {
            (Some(a), Some(b)) => (a - b).abs() <= tolerance.number,
            _ => false,
        },
        (Value::String(a), Value::String(b)) => {
            a == b || tolerance.instant_s > 0.0 && close_instants(a, b, tolerance.instant_s)
        }
        (wanted, given) => wanted == given,
    };
    if same {
        Ok(())
    } else {
        Err(format!("{path} is {given}, not {wanted}"))
    }
}

fn close_instants(a: &str, b: &str, tolerance_s: f64) -> bool {
    let read = |text| DateTime::<FixedOffset>::parse_from_rfc3339(text);
    match (read(a), read(b)) {
        (Ok(a), Ok(b)) => a.offset() == b.offset() && (a - b).as_seconds_f64().abs() <= tolerance_s,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    const GOOD: &str = r#"{"about": {"what": "w", "source": "s", "licence": "l",
        "tolerance": {"number": 0.5, "instant_s": 2}, "rows": 1},
        "rows": [{"id": "a-1", "request": {"ask": "about"}, "expect": {"n": 1}}]}"#;

    #[test]
    fn the_reader_is_strict() {
        assert_eq!(parse("good", GOOD).unwrap().rows.len(), 1);
        for (from, to, why) in [
            ("\"rows\": 1", "\"rows\": 2", "about"),
            ("\"what\"", "\"title\"", "unknown field"),
            ("\"what\": \"w\",", "", "missing field"),
            ("a-1", "A 1", "small letters"),
            ("\"id\"", "\"remark\": 1, \"id\"", "unknown field"),
            (
                "\"id\"",
                "\"request_parts\": [], \"id\"",
                "one of `request`",
            ),
            ("\"id\"", "\"expect_part\": {}, \"id\"", "one of `expect`"),
            (
                "\"expect\": {\"n\": 1}",
                "\"note\": \"n\"",
                "one of `expect`",
            ),
        ] {
            assert!(GOOD.contains(from), "{from}");
            let error = parse("bad", &GOOD.replace(from, to)).unwrap_err();
            assert!(error.contains(why), "{error}");
        }
    }

    #[test]
    fn the_comparison_is_strict() {
        let tolerance = Tolerance {
            number: 0.5,
            instant_s: 2.0,
        };
        let check =
            |wanted, given, whole| compare("answer", &wanted, &given, tolerance, whole).is_ok();
        assert!(check(
            json!({"n": 1, "l": [1]}),
            json!({"n": 1.5, "l": [1.0]}),
            true
        ));
        for (wanted, given) in [
            (json!({"n": 1}), json!({"n": 1.6})),
            (json!({"n": 1}), json!({})),
            (json!({"n": 1}), json!({"n": 1, "m": 2})),
            (json!({"n": 1}), json!({"n": "1"})),
            (json!({"n": 1}), json!({"n": null})),
            (json!({"n": 1}), json!({"n": true})),
            (json!([1, 2]), json!([1])),
            (json!("2026-01-01"), json!("2026-01-02")),
            (json!("2026-01-01T00:00:00Z"), json!("2026-01-01T00:00:03Z")),
            (
                json!("2026-01-01T00:00:00Z"),
                json!("2026-01-01T01:00:00+01:00"),
            ),
        ] {
            assert!(
                !check(wanted.clone(), given.clone(), true),
                "{wanted} {given}"
            );
        }
        assert!(check(
            json!("2026-01-01T00:00:00Z"),
            json!("2025-12-31T23:59:58.5Z"),
            true
        ));
        let (z, zero) = (
            json!("2026-01-01T00:00:00Z"),
            json!("2026-01-01T00:00:01+00:00"),
        );
        assert!(check(z, zero, true));
        assert!(check(json!({"n": 1}), json!({"n": 1, "m": 2}), false));
        assert!(!check(json!({"n": 1}), json!({"m": 2}), false));
    }
}
