//! Objects field by field, and variants by name.

use super::tree::{Field, Node, Refusal};
use super::{FromFields, FromNode};

/// The names that a type knows.
type Known = &'static [&'static str];

/// The fields of an object, taken in the order of the names that its type knows.
#[derive(Debug)]
pub struct Fields<'n> {
    object: &'n [Field<'n>],
    /// The field that names the variant; empty where there is none.
    tag: &'static str,
    /// The variant that they are the value of; empty where they are not.
    variant: &'n str,
    names: std::slice::Iter<'static, &'static str>,
}

impl<'n> Fields<'n> {
    /// The fields of an object that has no others than these.
    ///
    /// # Errors
    /// For what is no object; for an unknown field.
    #[inline(never)]
    pub fn of(node: &'n Node<'_>, names: Known) -> Result<Self, Refusal> {
        let mut fields = Fields::any(node)?;
        fields.expect(names)?;
        Ok(fields)
    }

    /// The fields of an object that has no others than these and those of its parts, other types whose
    /// fields stand among its own.
    ///
    /// # Errors
    /// As [`Fields::of`].
    #[inline(never)]
    pub fn with_parts(node: &'n Node<'_>, names: Known, parts: &[Known]) -> Result<Self, Refusal> {
        let mut fields = Fields::any(node)?;
        fields.refuse_others(&[&[names], parts].concat().concat())?;
        fields.names = names.iter();
        Ok(fields)
    }

    fn any(node: &'n Node<'_>) -> Result<Self, Refusal> {
        let (object, tag) = match node {
            Node::Object(object) => (object.as_slice(), ""),
            Node::Part(object, tag) => (*object, *tag),
            _ => return Err(node.is_not("an object")),
        };
        Ok(Fields {
            object,
            tag,
            variant: "",
            names: [].iter(),
        })
    }

    /// The fields beside a tag, and the place of its value among the names of the variants.
    ///
    /// # Errors
    /// For what is no object; where the tag is missing, repeated, no text or an unknown name.
    #[inline(never)]
    pub fn tagged(
        node: &'n Node<'_>,
        tag: &'static str,
        variants: Known,
    ) -> Result<(usize, Self), Refusal> {
        let mut fields = Fields::any(node)?;
        let value = fields.find(tag)?.ok_or_else(|| missing(tag))?;
        let name = value
            .text("a text")
            .map_err(|refusal| refusal.in_field(tag))?;
        let index = place(name, variants).map_err(|refusal| refusal.in_field(tag))?;
        fields.tag = tag;
        Ok((index, fields))
    }

    /// Sets the names that are known beside the tag.
    ///
    /// # Errors
    /// For an unknown field.
    #[inline(never)]
    pub fn expect(&mut self, names: Known) -> Result<(), Refusal> {
        self.refuse_others(names)?;
        self.names = names.iter();
        Ok(())
    }

    fn refuse_others(&self, names: &[&'static str]) -> Result<(), Refusal> {
        for (key, _) in self.object {
            if *key != self.tag && !names.contains(&key.as_ref()) {
                let problem = format!("unknown field `{key}`, expected {}", one_of(names));
                return Err(Refusal::new(problem).in_field(key));
            }
        }
        Ok(())
    }

    /// Reads the field of the next name, or takes what stands for a field that is not given.
    ///
    /// # Errors
    /// Those of reading it; for a field that is repeated, or missing without anything to stand for it.
    #[inline(never)]
    pub fn next<T>(
        &mut self,
        read: fn(&Node<'_>) -> Result<T, Refusal>,
        absent: fn() -> Option<T>,
    ) -> Result<T, Refusal> {
        let (name, node) = self.next_node()?;
        match node {
            Some(node) => read(node).map_err(|refusal| self.refuse(refusal.in_field(name))),
            None => absent().ok_or_else(|| self.refuse(missing(name))),
        }
    }

    /// Reads a type whose fields stand among the others.
    ///
    /// # Errors
    /// Those of reading its fields.
    pub fn part<T: FromFields>(&mut self) -> Result<T, Refusal> {
        let others = std::mem::replace(&mut self.names, T::NAMES.iter());
        let part = T::from_fields(self)?;
        self.names = others;
        Ok(part)
    }

    /// Passes over the field of the next name: a text that is worked out anew.
    ///
    /// # Errors
    /// For a field that is repeated, or no text.
    pub fn pass_text(&mut self) -> Result<(), Refusal> {
        self.next(Option::<String>::from_node, || Some(None))?;
        Ok(())
    }

    #[inline(never)]
    fn next_node(&mut self) -> Result<(&'static str, Option<&'n Node<'n>>), Refusal> {
        let name = self.names.next().copied().unwrap_or_default();
        match self.find(name) {
            Ok(node) => Ok((name, node)),
            Err(refusal) => Err(self.refuse(refusal)),
        }
    }

    #[inline(never)]
    fn refuse(&self, refusal: Refusal) -> Refusal {
        match self.variant {
            "" => refusal,
            variant => refusal.in_variant(variant),
        }
    }

    fn find(&self, name: &str) -> Result<Option<&'n Node<'n>>, Refusal> {
        let mut found = self.object.iter().filter(|(key, _)| key == name);
        let first = found.next().map(|(_, node)| node);
        match found.next() {
            None => Ok(first),
            Some(_) => Err(duplicate(name)),
        }
    }

    /// All fields but the tag, read as one type.
    ///
    /// # Errors
    /// Those of reading it.
    pub fn together<T: FromNode>(&self) -> Result<T, Refusal> {
        T::from_node(&Node::Part(self.object, self.tag))
    }
}

/// The value that comes with the name of a variant.
#[derive(Debug)]
pub struct VariantValue<'n> {
    name: &'n str,
    value: Option<&'n Node<'n>>,
}

impl Node<'_> {
    /// The place of the variant among the names, and its value.
    ///
    /// # Errors
    /// For what is neither a name nor an object with one field; for an unknown name.
    #[inline(never)]
    pub fn variant(&self, names: Known) -> Result<(usize, VariantValue<'_>), Refusal> {
        let (name, value) = match self {
            Node::Text(name) => (name, None),
            Node::Object(fields) => match fields.as_slice() {
                [(name, value)] => (name, Some(value)),
                _ => return Err(self.is_not("an object with one field")),
            },
            _ => return Err(self.is_not("a name")),
        };
        Ok((place(name, names)?, VariantValue { name, value }))
    }
}

impl<'n> VariantValue<'n> {
    /// For a variant that is only a name.
    ///
    /// # Errors
    /// Where there is a value.
    #[inline(never)]
    pub fn nothing(&self) -> Result<(), Refusal> {
        match self.value {
            None | Some(Node::Null) => Ok(()),
            Some(node) => Err(node.is_not("only the name").in_variant(self.name)),
        }
    }

    #[inline(never)]
    fn node(&self) -> Result<&'n Node<'n>, Refusal> {
        self.value
            .ok_or_else(|| Refusal::new(format!("`{}` stands without its value", self.name)))
    }

    /// The value.
    ///
    /// # Errors
    /// Where there is none, and those of reading it.
    pub fn read<T: FromNode>(&self) -> Result<T, Refusal> {
        T::from_node(self.node()?).map_err(|refusal| refusal.in_variant(self.name))
    }

    /// The value as the fields of an object.
    ///
    /// # Errors
    /// As [`Fields::of`], and where there is no value.
    #[inline(never)]
    pub fn fields(&self, names: Known) -> Result<Fields<'n>, Refusal> {
        let fields = Fields::of(self.node()?, names);
        match fields {
            Ok(fields) => Ok(Fields {
                variant: self.name,
                ..fields
            }),
            Err(refusal) => Err(refusal.in_variant(self.name)),
        }
    }
}

#[inline(never)]
fn place(name: &str, names: Known) -> Result<usize, Refusal> {
    names
        .iter()
        .position(|known| *known == name)
        .ok_or_else(|| Refusal::new(format!("unknown name `{name}`, expected {}", one_of(names))))
}

#[inline(never)]
fn missing(name: &str) -> Refusal {
    Refusal::new(format!("missing field `{name}`"))
}

#[inline(never)]
pub fn duplicate(name: &str) -> Refusal {
    Refusal::new(format!("duplicate field `{name}`"))
}

/// `` `a` or `b` ``
fn one_of(names: &[&'static str]) -> String {
    match names {
        [] => "none".to_owned(),
        [one] => format!("`{one}`"),
        [first @ .., last] => format!("`{}` or `{last}`", first.join("`, `")),
    }
}
