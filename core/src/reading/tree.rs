//! JSON as a tree, and serde's view of it.
//!
//! Every type reads itself through generic code, which is compiled once more for every reader and
//! layer of wrapping. So there is one reader for all JSON, without layers: the text becomes a tree,
//! and a refusal gathers its own path on the way out.

use std::borrow::Cow;
use std::fmt;
use std::slice;

use serde::de::{
    self, DeserializeSeed, Deserializer, EnumAccess, Error as _, Expected, MapAccess, SeqAccess,
    Unexpected, VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;

use super::Step;

/// A JSON value. Texts without escapes are those of the input.
#[derive(Debug)]
pub(crate) enum Node<'a> {
    Null,
    Bool(bool),
    Unsigned(u64),
    Signed(i64),
    Float(f64),
    Text(Cow<'a, str>),
    List(Vec<Node<'a>>),
    Object(Vec<(Cow<'a, str>, Node<'a>)>),
    /// JSON that cannot be held, and why not.
    Unreadable(&'static str),
}

impl Node<'_> {
    fn unexpected(&self) -> Unexpected<'_> {
        match self {
            Node::Null => Unexpected::Unit,
            Node::Bool(value) => Unexpected::Bool(*value),
            Node::Unsigned(value) => Unexpected::Unsigned(*value),
            Node::Signed(value) => Unexpected::Signed(*value),
            Node::Float(value) => Unexpected::Float(*value),
            Node::Text(value) => Unexpected::Str(value),
            Node::List(_) => Unexpected::Seq,
            Node::Object(_) => Unexpected::Map,
            Node::Unreadable(problem) => Unexpected::Other(problem),
        }
    }

    #[inline(never)]
    fn is_not(&self, expected: &dyn Expected) -> Refusal {
        if let Node::Unreadable(problem) = self {
            return Refusal::custom(problem);
        }
        Refusal::invalid_type(self.unexpected(), expected)
    }
}

/// Why a tree was refused, and where.
#[derive(Debug)]
pub(crate) struct Refusal(Box<Refused>);

#[derive(Debug)]
struct Refused {
    problem: String,
    /// From the inside out.
    steps: Vec<Step>,
}

impl Refusal {
    #[inline(never)]
    fn new(problem: fmt::Arguments<'_>) -> Self {
        Refusal(Box::new(Refused {
            problem: problem.to_string(),
            steps: Vec::new(),
        }))
    }

    #[inline(never)]
    fn in_field(mut self, key: &str) -> Self {
        self.0.steps.push(Step::Field(key.to_owned()));
        self
    }

    #[inline(never)]
    fn in_variant(mut self, name: &str) -> Self {
        self.0.steps.push(Step::Variant(name.to_owned()));
        self
    }

    #[inline(never)]
    fn in_element(mut self, index: usize) -> Self {
        self.0.steps.push(Step::Element(index));
        self
    }

    /// What is wrong, and the way there from the outside in.
    pub(super) fn into_parts(self) -> (String, Vec<Step>) {
        let Refused { problem, mut steps } = *self.0;
        steps.reverse();
        (problem, steps)
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.problem)
    }
}

impl std::error::Error for Refusal {}

impl de::Error for Refusal {
    fn custom<T: fmt::Display>(problem: T) -> Self {
        Refusal::new(format_args!("{problem}"))
    }

    #[inline(never)]
    fn invalid_type(given: Unexpected<'_>, expected: &dyn Expected) -> Self {
        match given {
            Unexpected::Unit => {
                Refusal::new(format_args!("invalid type: null, expected {expected}"))
            }
            given => Refusal::new(format_args!("invalid type: {given}, expected {expected}")),
        }
    }

    #[inline(never)]
    fn invalid_value(given: Unexpected<'_>, expected: &dyn Expected) -> Self {
        Refusal::new(format_args!("invalid value: {given}, expected {expected}"))
    }

    #[inline(never)]
    fn invalid_length(length: usize, expected: &dyn Expected) -> Self {
        Refusal::new(format_args!("invalid length {length}, expected {expected}"))
    }

    #[inline(never)]
    fn unknown_variant(name: &str, known: &'static [&'static str]) -> Self {
        Refusal::new(format_args!(
            "unknown variant `{name}`, expected {}",
            OneOf(known, "there are no variants")
        ))
    }

    #[inline(never)]
    fn unknown_field(name: &str, known: &'static [&'static str]) -> Self {
        Refusal::new(format_args!(
            "unknown field `{name}`, expected {}",
            OneOf(known, "there are no fields")
        ))
    }

    #[inline(never)]
    fn missing_field(name: &'static str) -> Self {
        Refusal::new(format_args!("missing field `{name}`"))
    }

    #[inline(never)]
    fn duplicate_field(name: &'static str) -> Self {
        Refusal::new(format_args!("duplicate field `{name}`"))
    }
}

struct OneOf(&'static [&'static str], &'static str);

impl fmt::Display for OneOf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            [] => return f.write_str(self.1),
            [_] => {}
            [_, _] => {}
            _ => f.write_str("one of ")?,
        }
        for (i, name) in self.0.iter().enumerate() {
            if i > 0 {
                f.write_str(if self.0.len() == 2 { " or " } else { ", " })?;
            }
            write!(f, "`{name}`")?;
        }
        Ok(())
    }
}

/// Each method calls only the one visit that its name promises, so that no code is made for others.
impl<'de> Deserializer<'de> for &'de Node<'de> {
    type Error = Refusal;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self {
            Node::Null => visitor.visit_unit(),
            Node::Bool(value) => visitor.visit_bool(*value),
            Node::Unsigned(value) => visitor.visit_u64(*value),
            Node::Signed(value) => visitor.visit_i64(*value),
            Node::Float(value) => visitor.visit_f64(*value),
            Node::Text(text) => visitor.visit_borrowed_str(text),
            Node::List(_) => self.deserialize_seq(visitor),
            Node::Object(_) => self.deserialize_map(visitor),
            Node::Unreadable(_) => Err(self.is_not(&visitor)),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self {
            Node::Bool(value) => visitor.visit_bool(*value),
            _ => Err(self.is_not(&visitor)),
        }
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self {
            Node::Unsigned(value) => visitor.visit_u64(*value),
            Node::Signed(value) => visitor.visit_i64(*value),
            _ => Err(self.is_not(&visitor)),
        }
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self {
            Node::Unsigned(value) => visitor.visit_f64(*value as f64),
            Node::Signed(value) => visitor.visit_f64(*value as f64),
            Node::Float(value) => visitor.visit_f64(*value),
            _ => Err(self.is_not(&visitor)),
        }
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self {
            Node::Text(text) => visitor.visit_borrowed_str(text),
            _ => Err(self.is_not(&visitor)),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self {
            Node::Null => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        let Node::List(nodes) = self else {
            return Err(self.is_not(&visitor));
        };
        let mut elements = Elements {
            nodes: nodes.iter(),
            taken: 0,
        };
        let value = visitor.visit_seq(&mut elements)?;
        match elements.nodes.len() {
            0 => Ok(value),
            _ => Err(Refusal::invalid_length(
                nodes.len(),
                &"fewer elements in the list",
            )),
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self {
            Node::Object(fields) => visitor.visit_map(Fields {
                rest: fields.iter(),
                value: None,
            }),
            _ => Err(self.is_not(&visitor)),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        match self {
            Node::Object(fields) => visitor.visit_map(Fields {
                rest: fields.iter(),
                value: None,
            }),
            _ => Err(self.is_not(&"an object")),
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        match self {
            Node::Text(name) => visitor.visit_enum(Variant { name, value: None }),
            Node::Object(fields) => match fields.as_slice() {
                [(name, value)] => visitor.visit_enum(Variant {
                    name,
                    value: Some(value),
                }),
                _ => Err(Refusal::invalid_value(
                    Unexpected::Map,
                    &"an object with one field",
                )),
            },
            _ => Err(self.is_not(&"a name or an object with one field")),
        }
    }

    fn deserialize_u8<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_u16<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_i8<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_i16<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_i32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_i64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_f32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_f64(visitor)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_str(visitor)
    }

    fn deserialize_char<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        self.deserialize_str(visitor)
    }

    forward_to_deserialize_any! {
        i128 u128 bytes byte_buf unit unit_struct tuple_struct identifier ignored_any
    }
}

struct Elements<'de> {
    nodes: slice::Iter<'de, Node<'de>>,
    taken: usize,
}

impl<'de> SeqAccess<'de> for &mut Elements<'de> {
    type Error = Refusal;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Refusal> {
        let Some(node) = self.nodes.next() else {
            return Ok(None);
        };
        let index = self.taken;
        self.taken += 1;
        seed.deserialize(node)
            .map(Some)
            .map_err(|refusal| refusal.in_element(index))
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.nodes.len())
    }
}

struct Fields<'de> {
    rest: slice::Iter<'de, (Cow<'de, str>, Node<'de>)>,
    value: Option<&'de (Cow<'de, str>, Node<'de>)>,
}

impl<'de> MapAccess<'de> for Fields<'de> {
    type Error = Refusal;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Refusal> {
        self.value = self.rest.next();
        match self.value {
            Some((key, _)) => seed
                .deserialize(Name(key))
                .map(Some)
                .map_err(|refusal| refusal.in_field(key)),
            None => Ok(None),
        }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Refusal> {
        match self.value.take() {
            Some((key, node)) => seed
                .deserialize(node)
                .map_err(|refusal| refusal.in_field(key)),
            None => Err(Refusal::custom("a value was asked for before its name")),
        }
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.rest.len())
    }
}

/// The name of a field or of a variant.
struct Name<'de>(&'de str);

impl<'de> Deserializer<'de> for Name<'de> {
    type Error = Refusal;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        visitor.visit_borrowed_str(self.0)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option
        unit unit_struct newtype_struct seq tuple tuple_struct map struct enum identifier
        ignored_any
    }
}

struct Variant<'de> {
    name: &'de str,
    value: Option<&'de Node<'de>>,
}

impl<'de> EnumAccess<'de> for Variant<'de> {
    type Error = Refusal;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Refusal> {
        Ok((seed.deserialize(Name(self.name))?, self))
    }
}

impl<'de> Variant<'de> {
    fn node(&self, expected: &'static str) -> Result<&'de Node<'de>, Refusal> {
        self.value
            .ok_or_else(|| Refusal::invalid_type(Unexpected::UnitVariant, &expected))
    }
}

impl<'de> VariantAccess<'de> for Variant<'de> {
    type Error = Refusal;

    fn unit_variant(self) -> Result<(), Refusal> {
        match self.value {
            None | Some(Node::Null) => Ok(()),
            Some(node) => Err(node.is_not(&"only the name").in_variant(self.name)),
        }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Refusal> {
        seed.deserialize(self.node("newtype variant")?)
            .map_err(|refusal| refusal.in_variant(self.name))
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Refusal> {
        self.node("tuple variant")?
            .deserialize_seq(visitor)
            .map_err(|refusal| refusal.in_variant(self.name))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        self.node("struct variant")?
            .deserialize_map(visitor)
            .map_err(|refusal| refusal.in_variant(self.name))
    }
}
