//! Reads JSON and TOML without losing what a checked type had to say.
//!
//! Serde carries errors as text, so an [`Error`] raised inside a `Deserialize` would come out as a
//! parser's error with no code and no field. Here is the one way around it, for every format:
//!
//! - a checked type hands its `Error` to serde through `carry`, which leaves it aside for the
//!   reader and gives serde its text, so that the type also works with any other reader. The usual
//!   way there is `deserialize_through!(Wire => Checked)` in place of
//!   `#[serde(try_from = "Wire")]`, which would lose the error;
//! - [`from_json`] and [`from_toml`] pick that `Error` up again and name its place. What the parser
//!   itself refuses becomes `unreadable`, with the path.

mod json;
mod tree;

use std::cell::Cell;
use std::fmt;

use serde::de::{self, DeserializeOwned};

use crate::error::{Error, clip};

pub(crate) use tree::Node;

thread_local! {
    /// The last `Error` that was handed to serde on this thread.
    static LEFT_ASIDE: Cell<Option<Error>> = const { Cell::new(None) };
}

/// Hands an [`Error`] to serde; for use in `Deserialize` and `deserialize_with`.
pub(crate) fn carry<E: de::Error>(error: Error) -> E {
    let text = error.to_string();
    LEFT_ASIDE.set(Some(error));
    E::custom(text)
}

/// `Deserialize` for a type that is checked by its `TryFrom<Wire, Error = Error>`.
macro_rules! deserialize_through {
    ($wire:ty => $checked:ty) => {
        impl<'de> serde::Deserialize<'de> for $checked {
            fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let wire = <$wire as serde::Deserialize>::deserialize(from)?;
                <$checked>::try_from(wire).map_err($crate::reading::carry)
            }
        }
    };
}
pub(crate) use deserialize_through;

/// Reads a value from JSON. `what` names the text in errors.
///
/// # Errors
/// The [`Error`] of the checked type that refused its value, or `unreadable`. The field is the name
/// of the value; inside a list it starts at the list: `days[3].min_c`. What is no JSON is
/// `unreadable` with line and column.
///
/// ```
/// use apiary_almanac::{Site, reading};
/// let text = r#"{"latitude_deg": 91, "longitude_deg": 0, "elevation_m": 0, "zone": "Asia/Manila"}"#;
/// let error = reading::from_json::<Site>("site.json", text).unwrap_err();
/// assert_eq!((error.code(), error.field()), ("out_of_range", "latitude_deg"));
/// ```
pub fn from_json<T: DeserializeOwned>(what: &str, text: &str) -> Result<T, Error> {
    from_node(what, &node(what, text)?)
}

/// The tree of a JSON text.
pub(crate) fn node<'a>(what: &str, text: &'a str) -> Result<Node<'a>, Error> {
    json::parse(text).map_err(|problem| unreadable(what, problem))
}

/// Reads a value from a tree; errors as in [`from_json`].
pub(crate) fn from_node<'de, T>(what: &str, node: &'de Node<'de>) -> Result<T, Error>
where
    T: de::Deserialize<'de>,
{
    LEFT_ASIDE.set(None);
    T::deserialize(node).map_err(|refusal| {
        let (problem, steps) = refusal.into_parts();
        refused(what, problem, &steps)
    })
}

/// Reads a value from TOML (feature `toml`). `what` names the text in errors.
///
/// # Errors
/// As [`from_json`].
///
/// ```
/// use apiary_almanac::{Site, reading};
/// let text = "latitude_deg = 0\nlongitude_deg = 0\nelevation_m = 0\nzone = \"+08:00\"";
/// let error = reading::from_toml::<Site>("site.toml", text).unwrap_err();
/// assert_eq!((error.code(), error.field()), ("unknown_zone", "zone"));
/// ```
#[cfg(feature = "toml")]
pub fn from_toml<T: DeserializeOwned>(what: &str, text: &str) -> Result<T, Error> {
    use serde_path_to_error::Segment;

    let reader = toml::Deserializer::parse(text).map_err(|e| unreadable(what, e))?;
    LEFT_ASIDE.set(None);
    serde_path_to_error::deserialize(reader).map_err(|error| {
        let steps: Vec<Step> = error
            .path()
            .iter()
            .map(|segment| match segment {
                Segment::Seq { index } => Step::Element(*index),
                Segment::Enum { variant } => Step::Variant(variant.clone()),
                other => Step::Field(other.to_string()),
            })
            .collect();
        refused(what, error.into_inner().to_string(), &steps)
    })
}

/// A step on the way from the whole text to a value.
#[derive(Debug)]
enum Step {
    Field(String),
    Element(usize),
    Variant(String),
}

/// The error for a text that serde refused with `problem` after these steps.
#[inline(never)]
fn refused(what: &str, problem: String, steps: &[Step]) -> Error {
    let names: Vec<&Step> = steps
        .iter()
        .filter(|step| !matches!(step, Step::Variant(_)))
        .collect();
    // An error may have been overcome, as by the next variant of an untagged enum; then it is
    // not the one that stopped the reader.
    match LEFT_ASIDE
        .take()
        .filter(|error| problem.contains(&error.to_string()))
    {
        Some(error) => at(error, &names),
        None if names.is_empty() => unreadable(what, problem),
        None => unreadable(&path(steps.iter()), problem),
    }
}

/// `days[3].min_c`
fn path<'a>(steps: impl Iterator<Item = &'a Step>) -> String {
    let mut path = String::new();
    for step in steps {
        match step {
            Step::Element(index) => path += &format!("[{index}]"),
            Step::Field(name) | Step::Variant(name) => {
                if !path.is_empty() {
                    path.push('.');
                }
                path += name;
            }
        }
    }
    path
}

pub(crate) fn unreadable(what: &str, problem: impl fmt::Display) -> Error {
    Error::Unreadable {
        field: clip(what),
        problem: clip(problem.to_string().trim_end()),
    }
}

/// Renames the field of an error after its place in the text.
fn at(mut error: Error, steps: &[&Step]) -> Error {
    if let Some(field) = error.field_mut() {
        *field = place(field, steps);
    }
    error
}

/// Where `field` is: its name as the text has it, and from the outermost list on the way to it.
fn place(field: &str, steps: &[&Step]) -> String {
    // A value with a name of its own may be of a more general type, as `east_horizon_deg` is a
    // horizon; a type that checks several values together stands one step above them.
    let (field, parents) = match steps {
        [parents @ .., Step::Field(key)]
            if field.is_empty()
                || key
                    .strip_suffix(field)
                    .is_some_and(|k| k.is_empty() || k.ends_with('_')) =>
        {
            (key.as_str(), parents)
        }
        all => (field, all),
    };
    let Some(first_list) = parents
        .iter()
        .position(|step| matches!(step, Step::Element(_)))
    else {
        return clip(field);
    };
    let way = path(parents[first_list.saturating_sub(1)..].iter().copied());
    clip(&format!("{way}.{field}"))
}

#[cfg(test)]
mod tests {
    use serde::Deserialize;

    use super::*;
    use crate::{Latitude, Site};

    const SITE: &str =
        r#"{"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12, "zone": "UTC"}"#;

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Club {
        #[allow(dead_code)]
        sites: Vec<Site>,
        #[allow(dead_code)]
        spans: Vec<Span>,
    }

    #[derive(Debug)]
    struct Span;

    deserialize_through!(RawSpan => Span);

    #[derive(Deserialize)]
    #[serde(deny_unknown_fields)]
    struct RawSpan {
        low_c: f64,
        high_c: f64,
    }

    impl TryFrom<RawSpan> for Span {
        type Error = Error;
        fn try_from(raw: RawSpan) -> Result<Self, Error> {
            if raw.low_c > raw.high_c {
                return Err(Error::out_of_range(
                    "low_c",
                    raw.low_c,
                    format_args!("to {}", raw.high_c),
                ));
            }
            Ok(Span)
        }
    }

    #[derive(Debug, Deserialize)]
    #[serde(untagged)]
    enum Either {
        Latitude(#[allow(dead_code)] Latitude),
        Word(#[allow(dead_code)] String),
    }

    fn refused<T: DeserializeOwned + fmt::Debug>(text: &str) -> (&'static str, String, String) {
        let error = from_json::<T>("text", text).unwrap_err();
        (error.code(), error.field().to_owned(), error.to_string())
    }

    fn refused_site(from: &str, to: &str) -> (&'static str, String, String) {
        assert!(SITE.contains(from));
        refused::<Site>(&SITE.replacen(from, to, 1))
    }

    #[test]
    fn typed_errors_keep_code_field_and_numbers() {
        let (code, field, message) = refused_site("-28.81", "91");
        assert_eq!((code, field.as_str()), ("out_of_range", "latitude_deg"));
        assert_eq!(
            message,
            "latitude_deg is 91; allowed is -90 to 90 degrees (north positive)"
        );
        let (code, field, _) = refused_site("UTC", "UTC+10");
        assert_eq!((code, field.as_str()), ("unknown_zone", "zone"));
        let (code, field, _) = refused_site("}", r#", "east_horizon_deg": 50}"#);
        assert_eq!((code, field.as_str()), ("out_of_range", "east_horizon_deg"));
    }

    #[test]
    fn what_the_parser_refuses_is_unreadable_with_its_path() {
        let (code, field, message) = refused_site("}", r#", "altitude": 3}"#);
        assert_eq!((code, field.as_str()), ("unreadable", "altitude"));
        assert!(message.contains("unknown field `altitude`"), "{message}");
        let (code, field, _) = refused_site("12", "\"12\"");
        assert_eq!((code, field.as_str()), ("unreadable", "elevation_m"));
        for broken in ["", "{", "[]", "nul", &format!("{SITE} x"), "{\"zone\""] {
            let (code, field, _) = refused::<Site>(broken);
            assert_eq!(
                (code, field.as_str()),
                ("unreadable", "text"),
                "{broken:.20}"
            );
        }
    }

    #[test]
    fn values_in_lists_are_found() {
        let club = |sites: &str, spans: &str| format!(r#"{{"sites": {sites}, "spans": {spans}}}"#);
        let good = r#"{"low_c": 1, "high_c": 2}"#;
        assert!(from_json::<Club>("c", &club(&format!("[{SITE}]"), &format!("[{good}]"))).is_ok());
        let bad = SITE.replace("153.28", "181");
        let (code, field, message) = refused::<Club>(&club(&format!("[{SITE},{bad}]"), "[]"));
        assert_eq!(
            (code, field.as_str()),
            ("out_of_range", "sites[1].longitude_deg")
        );
        assert!(
            message.starts_with("sites[1].longitude_deg is 181;"),
            "{message}"
        );
        let (code, field, _) = refused::<Club>(&club(
            "[]",
            &format!(r#"[{good},{{"low_c": 3, "high_c": 2}}]"#),
        ));
        assert_eq!((code, field.as_str()), ("out_of_range", "spans[1].low_c"));
        let (code, field, _) = refused::<Club>(&club("[]", r#"[{"low_c": 3, "high": 2}]"#));
        assert_eq!((code, field.as_str()), ("unreadable", "spans[0].high"));
    }

    #[test]
    fn an_error_that_was_overcome_is_forgotten() {
        assert!(from_json::<Vec<Either>>("e", r#"[91, "word"]"#).is_err());
        // 91 is tried and refused as a latitude, but the list fails at `true`.
        let (code, ..) = refused::<Vec<Either>>("[45, true]");
        assert_eq!(code, "unreadable");
        assert!(Latitude::new(91.0).is_err());
        let (code, ..) = refused::<Site>("{}");
        assert_eq!(code, "unreadable");
    }

    #[test]
    #[cfg(feature = "toml")]
    fn the_same_from_toml() {
        let toml = "latitude_deg = -91\nlongitude_deg = 0\nelevation_m = 0\nzone = \"UTC\"";
        let error = from_toml::<Site>("site.toml", toml).unwrap_err();
        assert_eq!(
            (error.code(), error.field()),
            ("out_of_range", "latitude_deg")
        );
        let error = from_toml::<Site>("site.toml", "latitude_deg = ").unwrap_err();
        assert_eq!((error.code(), error.field()), ("unreadable", "site.toml"));
        let error = from_toml::<Site>(
            "site.toml",
            &toml.replace("-91", "9").replace("zone", "zones"),
        )
        .unwrap_err();
        assert_eq!((error.code(), error.field()), ("unreadable", "zones"));
    }

    #[test]
    fn other_readers_get_the_sentence() {
        let error = serde_json::from_str::<Latitude>("91")
            .unwrap_err()
            .to_string();
        assert!(
            error.starts_with("latitude_deg is 91; allowed is"),
            "{error}"
        );
    }
}
