//! Plain values, lists and boxes.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::FromNode;
use super::fields::duplicate;
use super::tree::{Node, Refusal};

impl FromNode for bool {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        match node {
            Node::Bool(value) => Ok(*value),
            _ => Err(node.is_not("true or false")),
        }
    }
}

impl FromNode for f64 {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        match node {
            Node::Unsigned(value) => Ok(*value as f64),
            Node::Signed(value) => Ok(*value as f64),
            Node::Float(value) => Ok(*value),
            _ => Err(node.is_not("a number")),
        }
    }
}

macro_rules! whole_numbers {
    ($($number:ty),*) => {$(
        impl FromNode for $number {
            fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
                let (least, largest) = (<$number>::MIN.into(), <$number>::MAX.into());
                Ok(whole(node, least, largest)?.try_into().unwrap_or_default())
            }
        }
    )*};
}

whole_numbers!(u8, u16, u32, i32, i64);

#[inline(never)]
fn whole(node: &Node<'_>, least: i64, largest: i64) -> Result<i64, Refusal> {
    let value = match node {
        Node::Unsigned(value) => i64::try_from(*value).ok(),
        Node::Signed(value) => Some(*value),
        _ => None,
    };
    value
        .filter(|value| (least..=largest).contains(value))
        .ok_or_else(|| node.is_not(&format!("a whole number from {least} to {largest}")))
}

impl FromNode for usize {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        u32::from_node(node).map(|value| value as usize)
    }
}

impl FromNode for String {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        node.text("a text").map(str::to_owned)
    }
}

impl FromNode for Cow<'static, str> {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        String::from_node(node).map(Cow::Owned)
    }
}

impl<T: FromNode> FromNode for Option<T> {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        match node {
            Node::Null => Ok(None),
            _ => T::from_node(node).map(Some),
        }
    }

    fn absent() -> Option<Self> {
        Some(None)
    }
}

impl<T: FromNode> FromNode for Box<T> {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        T::from_node(node).map(Box::new)
    }
}

impl<T: FromNode> FromNode for Vec<T> {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        let nodes = list(node)?;
        let mut values = Vec::with_capacity(nodes.len());
        for (index, node) in nodes.iter().enumerate() {
            values.push(T::from_node(node).map_err(|refusal| refusal.in_element(index))?);
        }
        Ok(values)
    }
}

impl<T: FromNode, const N: usize> FromNode for [T; N] {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        Vec::from_node(node)?
            .try_into()
            .map_err(|values: Vec<T>| wrong_length(values.len(), N))
    }
}

impl<T: FromNode> FromNode for BTreeMap<String, T> {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        let Node::Object(fields) = node else {
            return Err(node.is_not("an object"));
        };
        let mut map = BTreeMap::new();
        for (name, node) in fields {
            let value = T::from_node(node).map_err(|refusal| refusal.in_field(name))?;
            if map.insert(name.clone().into_owned(), value).is_some() {
                return Err(duplicate(name));
            }
        }
        Ok(map)
    }
}

#[inline(never)]
fn list<'n>(node: &'n Node<'n>) -> Result<&'n [Node<'n>], Refusal> {
    match node {
        Node::List(nodes) => Ok(nodes),
        _ => Err(node.is_not("a list")),
    }
}

#[inline(never)]
fn wrong_length(given: usize, wanted: usize) -> Refusal {
    Refusal::new(format!(
        "the list has {given} elements; expected are {wanted}"
    ))
}
