//! Trees from other readers.

use std::borrow::Cow;
use std::fmt;

use serde::de::{Deserialize, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};

use super::FromNode;
use super::tree::Node;

/// Reads a value through serde, from any format that says what its values are (JSON, TOML, YAML;
/// not those that leave out the names).
pub fn deserialize<'de, T: FromNode, D: Deserializer<'de>>(from: D) -> Result<T, D::Error> {
    T::from_node(&Node::deserialize(from)?).map_err(D::Error::custom)
}

impl<'de> Deserialize<'de> for Node<'static> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(NodeVisitor)
    }
}

struct NodeVisitor;

impl<'de> Visitor<'de> for NodeVisitor {
    type Value = Node<'static>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_unit<E>(self) -> Result<Self::Value, E> {
        Ok(Node::Null)
    }

    fn visit_none<E>(self) -> Result<Self::Value, E> {
        Ok(Node::Null)
    }

    fn visit_some<D: Deserializer<'de>>(self, from: D) -> Result<Self::Value, D::Error> {
        Node::deserialize(from)
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, from: D) -> Result<Self::Value, D::Error> {
        Node::deserialize(from)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Self::Value, E> {
        Ok(Node::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Self::Value, E> {
        Ok(u64::try_from(value).map_or(Node::Signed(value), Node::Unsigned))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Self::Value, E> {
        Ok(Node::Unsigned(value))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Self::Value, E> {
        Ok(Node::Float(value))
    }

    fn visit_str<E>(self, text: &str) -> Result<Self::Value, E> {
        Ok(Node::Text(Cow::Owned(text.to_owned())))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Self::Value, A::Error> {
        let mut nodes = Vec::new();
        while let Some(node) = list.next_element()? {
            nodes.push(node);
        }
        Ok(Node::List(nodes))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut fields = Vec::new();
        while let Some((name, node)) = map.next_entry::<String, _>()? {
            fields.push((Cow::Owned(name), node));
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
