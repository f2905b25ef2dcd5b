//! Trees from the readers of serde.
//!
//! What is JSON but cannot be held, as `1e999` or lists a hundred thousand deep, is refused with
//! its place, as other wrong values are; what is no JSON has a line and a column instead.

use std::borrow::Cow;
use std::cell::RefCell;
use std::fmt;

use serde::de::{
    DeserializeSeed, Deserializer, Error as _, IgnoredAny, MapAccess, SeqAccess, Visitor,
};

use super::tree::{Node, Refusal};
use super::{FromNode, Step};

/// Values within values up to here; serde_json itself would go one deeper.
const DEEPEST: u32 = 126;

/// The tree of a JSON text.
pub(super) fn parse(text: &str) -> Result<Node<'_>, Refusal> {
    let steps = RefCell::default();
    let mut reader = serde_json::Deserializer::from_str(text);
    let node = Tree::new(&steps).deserialize(&mut reader);
    match node.and_then(|node| reader.end().map(|()| node)) {
        Ok(node) => Ok(node),
        Err(error) => {
            let mut problem = error.to_string();
            // Its words for the two halves of one mistake, of which neither names it.
            for words in [
                "unexpected end of hex escape",
                "lone leading surrogate in hex escape",
            ] {
                problem = problem.replacen(words, "half a surrogate pair in a text", 1);
            }
            // serde_json has one kind of error for this and for what is no JSON.
            let unheld = problem.starts_with("number out of range");
            Err(Refusal::at(
                problem,
                if unheld {
                    steps.into_inner()
                } else {
                    Vec::new()
                },
            ))
        }
    }
}

/// Reads a value through serde, from any format that says what its values are (JSON, TOML, YAML;
/// not those that leave out the names).
pub fn deserialize<'de, T: FromNode, D: Deserializer<'de>>(from: D) -> Result<T, D::Error> {
    let node = Tree::new(&RefCell::default()).deserialize(from)?;
    T::from_node(&node).map_err(D::Error::custom)
}

/// Builds the tree of a value.
#[derive(Clone, Copy)]
struct Tree<'s> {
    /// How many values it stands in.
    depth: u32,
    /// Where reading stopped, from the inside out.
    steps: &'s RefCell<Vec<Step>>,
}

impl<'s> Tree<'s> {
    fn new(steps: &'s RefCell<Vec<Step>>) -> Self {
        Tree { depth: 0, steps }
    }

    fn inside(self) -> Option<Self> {
        (self.depth < DEEPEST).then_some(Tree {
            depth: self.depth + 1,
            ..self
        })
    }

    fn stopped_at(self, step: Step) {
        self.steps.borrow_mut().push(step);
    }
}

const TOO_DEEP: Node<'static> = Node::Unreadable("nested too deeply");

impl<'de> DeserializeSeed<'de> for Tree<'_> {
    type Value = Node<'de>;

    fn deserialize<D: Deserializer<'de>>(self, from: D) -> Result<Node<'de>, D::Error> {
        from.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Tree<'_> {
    type Value = Node<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_unit<E>(self) -> Result<Node<'de>, E> {
        Ok(Node::Null)
    }

    fn visit_none<E>(self) -> Result<Node<'de>, E> {
        Ok(Node::Null)
    }

    fn visit_some<D: Deserializer<'de>>(self, from: D) -> Result<Node<'de>, D::Error> {
        self.deserialize(from)
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, from: D) -> Result<Node<'de>, D::Error> {
        self.deserialize(from)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Node<'de>, E> {
        Ok(Node::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Node<'de>, E> {
        Ok(u64::try_from(value).map_or(Node::Signed(value), Node::Unsigned))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Node<'de>, E> {
        Ok(Node::Unsigned(value))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Node<'de>, E> {
        Ok(Node::Float(value))
    }

    fn visit_borrowed_str<E>(self, text: &'de str) -> Result<Node<'de>, E> {
        Ok(Node::Text(Cow::Borrowed(text)))
    }

    fn visit_str<E>(self, text: &str) -> Result<Node<'de>, E> {
        Ok(Node::Text(Cow::Owned(text.to_owned())))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Node<'de>, A::Error> {
        let Some(inside) = self.inside() else {
            while list.next_element::<IgnoredAny>()?.is_some() {}
            return Ok(TOO_DEEP);
        };
        let mut nodes = Vec::new();
        loop {
            match list.next_element_seed(inside) {
                Ok(Some(node)) => nodes.push(node),
                Ok(None) => return Ok(Node::List(nodes)),
                Err(error) => {
                    self.stopped_at(Step::Element(nodes.len()));
                    return Err(error);
                }
            }
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Node<'de>, A::Error> {
        let Some(inside) = self.inside() else {
            while map.next_entry::<IgnoredAny, IgnoredAny>()?.is_some() {}
            return Ok(TOO_DEEP);
        };
        let mut fields = Vec::new();
        while let Some(name) = map.next_key_seed(inside)? {
            let Node::Text(name) = name else {
                return Err(A::Error::custom("the name of a field must be a text"));
            };
            match map.next_value_seed(inside) {
                Ok(node) => fields.push((name, node)),
                Err(error) => {
                    self.stopped_at(Step::Field(name.into_owned()));
                    return Err(error);
                }
            }
        }
        Ok(Node::Object(fields))
    }
}

#[cfg(feature = "toml")]
impl From<toml::Value> for Node<'static> {
    fn from(value: toml::Value) -> Self {
        use toml::Value;

        match value {
            Value::Boolean(value) => Node::Bool(value),
            Value::Integer(value) => {
                u64::try_from(value).map_or(Node::Signed(value), Node::Unsigned)
            }
            Value::Float(value) => Node::Float(value),
            Value::String(text) => Node::Text(Cow::Owned(text)),
            // A date may stand with or without quotes.
            Value::Datetime(date) => Node::Text(Cow::Owned(date.to_string())),
            Value::Array(values) => Node::List(values.into_iter().map(Node::from).collect()),
            Value::Table(table) => Node::Object(
                table
                    .into_iter()
                    .map(|(name, value)| (Cow::Owned(name), Node::from(value)))
                    .collect(),
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::wire::from_json;

    /// What it takes to refuse a text: the field and the sentence.
    fn refused(text: &str) -> (String, String) {
        let error = from_json::<Vec<f64>>("text", text).unwrap_err();
        assert_eq!(error.code(), "unreadable");
        (error.field().to_owned(), error.to_string())
    }

    #[test]
    fn numbers_are_the_nearest_that_can_be_held() {
        let read = |text: &str| from_json::<Vec<f64>>("text", text).unwrap();
        // The even one of the two neighbours of 2^53 + 1; the smallest number; the largest.
        assert_eq!(
            read("[9007199254740993, 4.9e-324, 1.7976931348623157e308, -0]"),
            [9_007_199_254_740_992.0, f64::from_bits(1), f64::MAX, -0.0]
        );
        assert!(read("[-0]")[0].is_sign_negative());
        for value in [0.1, 1.0 / 3.0, 1e-7, 1e21, f64::MIN_POSITIVE] {
            assert_eq!(read(&format!("[{value:e}, {value}]")), [value, value]);
        }
    }

    #[test]
    fn what_cannot_be_held_has_its_place() {
        for text in [
            "[1, 1e999]",
            "[1, -1e999]",
            &format!("[1, {}]", "9".repeat(400)),
        ] {
            let (field, message) = refused(text);
            assert_eq!(field, "[1]");
            assert!(
                message.contains("number out of range at line 1"),
                "{message}"
            );
        }
        let deep = format!("[1, {}{}]", "[".repeat(100_000), "]".repeat(100_000));
        let (field, message) = refused(&deep);
        assert_eq!(field, "[1]");
        assert!(message.contains("it is a list"), "{message}");
    }

    #[test]
    fn half_a_surrogate_pair_is_called_so() {
        for text in [
            r#"["\ud83d"]"#,
            r#"["\ud83d\n"]"#,
            r#"["\ud83d\u0041"]"#,
            r#"["\udc1d"]"#,
        ] {
            let message = refused(text).1;
            assert!(
                message.contains("half a surrogate pair in a text at line 1"),
                "{message}"
            );
        }
        assert!(from_json::<String>("text", r#""\ud83d\udc1d""#).is_ok());
    }

    #[test]
    fn what_is_no_json_has_a_line() {
        for text in [
            "",
            "[",
            "[1,]",
            "[NaN]",
            "[inf]",
            "[Infinity]",
            "[+1]",
            "[01]",
            "[.5]",
            "[1.]",
            "[1e]",
            "[1] 2",
            "[1, \"\\ud83d\"]",
            "[\"\n\"]",
            "\u{feff}[1]",
        ] {
            let (field, message) = refused(text);
            assert_eq!(field, "text", "{text}");
            assert!(message.contains(" at line "), "{message}");
        }
        assert!(refused("[1,\n 2,\n  x]").1.ends_with(" at line 3 column 3"));
    }
}
