//! How values come in and go out: JSON and TOML are read, JSON is written.
//!
//! The text becomes a tree (`Node`), the same for every format, and each type reads itself from
//! the tree ([`FromNode`], derived). A checked type refuses with its own [`Error`]; what has not the
//! form that is read is `unreadable`. On its way out a refusal gathers its path. So there is one
//! reader for everything, which keeps the program small, and no error is lost between layers.
//!
//! serde's `Deserialize` comes with `FromNode`, for programs that read with serde.

mod fields;
#[cfg(debug_assertions)]
mod finite;
mod json;
#[cfg(feature = "toml")]
mod line;
#[cfg(feature = "shapes")]
pub mod shape;
// Public for what the derive writes, and nothing else.
#[allow(missing_docs)]
mod tree;
mod values;
mod writing;

use std::fmt;

use crate::error::{Error, clip};

#[doc(hidden)]
pub use apiary_almanac_derive::{FromNode, Shape};
#[doc(hidden)]
pub use fields::Fields;
#[doc(hidden)]
pub use json::deserialize;
#[cfg(feature = "toml")]
pub use line::line_of;
#[doc(hidden)]
pub use tree::{Node, Refusal};
pub(crate) use writing::to_json;

use tree::Problem;

/// A type of this crate that reads itself from JSON or TOML.
///
/// It stands for what [`from_json`] takes, and cannot be implemented elsewhere.
pub trait FromNode: Sized {
    #[doc(hidden)]
    fn from_node(node: &tree::Node<'_>) -> Result<Self, tree::Refusal>;

    /// What stands for a field that is not given, if anything does.
    #[doc(hidden)]
    fn absent() -> Option<Self> {
        None
    }
}

/// A type with named fields, which can stand among those of another.
#[doc(hidden)]
pub trait FromFields: Sized {
    /// The names of its fields.
    const NAMES: &'static [&'static str];

    /// Reads it from the fields of its names.
    fn from_fields(fields: &mut Fields<'_>) -> Result<Self, Refusal>;
}

/// For a field whose default stands for it where it is not given.
#[doc(hidden)]
pub fn default<T: Default>() -> Option<T> {
    Some(T::default())
}

/// Reads a value as another type, which is then checked.
#[doc(hidden)]
pub fn through<W: FromNode, T>(node: &Node<'_>) -> Result<T, Refusal>
where
    T: TryFrom<W>,
    Refusal: From<T::Error>,
{
    Ok(T::try_from(W::from_node(node)?)?)
}

/// Reads a value from JSON. `what` names the text in errors.
///
/// # Errors
/// The [`Error`] of the checked type that refused its value, or `unreadable`. The field is the name
/// of the value; inside a list it starts at the list: `days[3].min_c`. What is no JSON is
/// `unreadable` with line and column.
///
/// ```
/// use apiary_almanac::{Site, wire};
/// let text = r#"{"latitude_deg": 91, "longitude_deg": 0, "elevation_m": 0, "zone": "Asia/Manila"}"#;
/// let error = wire::from_json::<Site>("site.json", text).unwrap_err();
/// assert_eq!((error.code(), error.field()), ("out_of_range", "latitude_deg"));
/// ```
pub fn from_json<T: FromNode>(what: &str, text: &str) -> Result<T, Error> {
    from_node(what, &node(what, text)?)
}

/// A number in a table. `inf` and `nan`, which the standard library reads too, are none.
pub(crate) fn parse_f64(text: &str) -> Option<f64> {
    text.parse().ok().filter(|value: &f64| value.is_finite())
}

/// The tree of a JSON text.
pub(crate) fn node<'a>(what: &str, text: &'a str) -> Result<Node<'a>, Error> {
    json::parse(text).map_err(|refusal| refused(what, refusal))
}

/// Reads a value from a tree; errors as in [`from_json`].
pub(crate) fn from_node<T: FromNode>(what: &str, node: &Node<'_>) -> Result<T, Error> {
    T::from_node(node).map_err(|refusal| refused(what, refusal))
}

/// Reads a value from TOML (feature `toml`). `what` names the text in errors.
///
/// # Errors
/// As [`from_json`].
///
/// ```
/// use apiary_almanac::{Site, wire};
/// let text = "latitude_deg = 0\nlongitude_deg = 0\nelevation_m = 0\nzone = \"+08:00\"";
/// let error = wire::from_toml::<Site>("site.toml", text).unwrap_err();
/// assert_eq!((error.code(), error.field()), ("unknown_zone", "zone"));
/// ```
#[cfg(feature = "toml")]
pub fn from_toml<T: FromNode>(what: &str, text: &str) -> Result<T, Error> {
    let table: toml::Table = text.parse().map_err(|e| unreadable(what, e))?;
    from_node(what, &Node::from(toml::Value::Table(table)))
}

/// A step on the way from the whole text to a value.
#[derive(Debug)]
enum Step {
    Field(String),
    Element(usize),
    Variant(String),
}

/// The error for a text that was refused.
#[inline(never)]
fn refused(what: &str, refusal: Refusal) -> Error {
    let (problem, steps) = refusal.into_parts();
    match problem {
        Problem::Checked(error) => {
            let names: Vec<&Step> = steps
                .iter()
                .filter(|step| !matches!(step, Step::Variant(_)))
                .collect();
            at(error, &names)
        }
        Problem::Form(problem) if steps.is_empty() => unreadable(what, problem),
        Problem::Form(problem) => unreadable(&path(steps.iter()), problem),
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
    use super::*;
    use crate::{Latitude, Site};

    const SITE: &str =
        r#"{"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12, "zone": "UTC"}"#;

    #[derive(Debug, FromNode)]
    struct Club {
        #[allow(dead_code)]
        sites: Vec<Site>,
        #[allow(dead_code)]
        spans: Vec<Span>,
    }

    #[derive(Debug, FromNode)]
    #[serde(try_from = "RawSpan")]
    struct Span;

    #[derive(Debug, FromNode)]
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

    fn refused<T: FromNode + fmt::Debug>(text: &str) -> (&'static str, String, String) {
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

    #[derive(Debug, FromNode)]
    struct Noted {
        note: String,
        #[serde(flatten)]
        span: RawSpan,
        #[serde(flatten)]
        alone: Alone,
        #[serde(default)]
        last: Option<String>,
    }

    #[test]
    fn the_fields_of_parts_stand_among_its_own() {
        let noted = |text| from_json::<Noted>("t", text);
        let read = noted(r#"{"low_c": 1, "last": "c", "note": "a", "high_c": 2}"#).unwrap();
        assert_eq!((read.note.as_str(), read.span.low_c), ("a", 1.0));
        assert_eq!(
            (read.span.high_c, read.alone.boxes, read.last.as_deref()),
            (2.0, 2, Some("c"))
        );
        for (text, problem) in [
            (
                r#"{"note": "a", "low_c": 1}"#,
                "t cannot be read: missing field `high_c`",
            ),
            (
                r#"{"note": "a", "low_c": 1, "high_c": 2, "alone": {}}"#,
                "alone cannot be read: unknown field `alone`, expected `note`, `last`, `low_c`, `high_c` or `box`",
            ),
            (
                r#"{"note": "a", "low_c": 1, "high_c": 2, "box": 1, "box": 1}"#,
                "t cannot be read: duplicate field `box`",
            ),
            (
                r#"{"note": "a", "low_c": "1", "high_c": 2}"#,
                "low_c cannot be read: it is the text \"1\"; expected is a number",
            ),
        ] {
            let refused = noted(text).map(|_| ()).map_err(|error| error.to_string());
            assert_eq!(refused, Err(problem.to_owned()), "{text}");
        }
    }

    #[derive(Debug, PartialEq, FromNode)]
    #[serde(tag = "kind", rename_all = "snake_case")]
    enum Beside {
        NoWork,
        WorkAtDawn {
            lamp: bool,
            #[serde(default)]
            helpers: Option<u8>,
        },
        Whole(Alone),
    }

    #[derive(Debug, PartialEq, FromNode)]
    struct Alone {
        #[serde(rename = "box", default = "two")]
        boxes: u8,
    }

    fn two() -> u8 {
        2
    }

    #[derive(Debug, PartialEq, FromNode)]
    #[serde(rename_all = "snake_case")]
    enum Named {
        EmptyBox,
        Weights([f64; 2]),
        Measured { width_mm: f64 },
    }

    #[test]
    fn variants_are_read_by_tag_or_by_name() {
        let beside = |text| from_json::<Beside>("t", text).map_err(|e| e.to_string());
        assert_eq!(beside(r#"{"kind": "no_work"}"#), Ok(Beside::NoWork));
        assert_eq!(
            beside(r#"{"lamp": true, "kind": "work_at_dawn"}"#),
            Ok(Beside::WorkAtDawn {
                lamp: true,
                helpers: None
            })
        );
        let whole = |boxes| Ok(Beside::Whole(Alone { boxes }));
        assert_eq!(beside(r#"{"kind": "whole", "box": 3}"#), whole(3));
        assert_eq!(beside(r#"{"kind": "whole"}"#), whole(2));
        for (text, problem) in [
            (r#"{}"#, "t cannot be read: missing field `kind`"),
            (
                r#"{"kind": 3}"#,
                "kind cannot be read: it is 3; expected is a text",
            ),
            (
                r#"{"kind": "work"}"#,
                "kind cannot be read: unknown name `work`, expected `no_work`, `work_at_dawn` or `whole`",
            ),
            (
                r#"{"kind": "no_work", "lamp": true}"#,
                "lamp cannot be read: unknown field `lamp`, expected none",
            ),
            (
                r#"{"kind": "work_at_dawn", "lamp": true, "kind": "no_work"}"#,
                "t cannot be read: duplicate field `kind`",
            ),
            (
                r#"{"kind": "work_at_dawn", "lamp": true, "helpers": 300}"#,
                "helpers cannot be read: it is 300; expected is a whole number from 0 to 255",
            ),
            (
                r#"{"kind": "whole", "bax": 1}"#,
                "bax cannot be read: unknown field `bax`, expected `box`",
            ),
        ] {
            assert_eq!(beside(text), Err(problem.to_owned()), "{text}");
        }
        let named = |text| from_json::<Named>("t", text).map_err(|e| e.to_string());
        assert_eq!(named(r#""empty_box""#), Ok(Named::EmptyBox));
        assert_eq!(named(r#"{"empty_box": null}"#), Ok(Named::EmptyBox));
        assert_eq!(
            named(r#"{"weights": [1, 2.5]}"#),
            Ok(Named::Weights([1.0, 2.5]))
        );
        assert_eq!(
            named(r#"{"measured": {"width_mm": -4}}"#),
            Ok(Named::Measured { width_mm: -4.0 })
        );
        for (text, problem) in [
            (
                r#"{"weights": [1]}"#,
                "weights cannot be read: the list has 1 elements; expected are 2",
            ),
            (
                r#"{"weights": [1, "2"]}"#,
                "weights[1] cannot be read: it is the text \"2\"; expected is a number",
            ),
            (
                r#""weights""#,
                "t cannot be read: `weights` stands without its value",
            ),
            (
                r#"{"empty_box": 1}"#,
                "empty_box cannot be read: it is 1; expected is only the name",
            ),
            (
                r#"{"measured": {}}"#,
                "measured cannot be read: missing field `width_mm`",
            ),
            (
                r#"{}"#,
                "t cannot be read: it is an object; expected is an object with one field",
            ),
            (
                r#"[]"#,
                "t cannot be read: it is a list; expected is a name",
            ),
        ] {
            assert_eq!(named(text), Err(problem.to_owned()), "{text}");
        }
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
        let error = serde_json::from_str::<Site>(&SITE.replace("12", "[]")).unwrap_err();
        assert_eq!(
            error.to_string(),
            "elevation_m: it is a list; expected is a number"
        );
        let error = serde_json::from_str::<Latitude>("91")
            .unwrap_err()
            .to_string();
        assert!(
            error.starts_with("latitude_deg is 91; allowed is"),
            "{error}"
        );
    }
}
