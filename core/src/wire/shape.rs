//! What requests and answers look like in JSON, with their documentation, as data: from it the types of
//! other languages are written (feature `shapes`).
//!
//! [`FromNode`](super::FromNode) derives [`Shape`] too; a type that is only written derives it alone. One that
//! reads itself by hand gives its shape by hand, beside its reading: without it nothing that holds it compiles.

use std::any::type_name;
use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::error::Error;

/// How a value is written.
#[derive(Debug, Clone, PartialEq)]
pub enum Type {
    /// `true` or `false`.
    Boolean,
    /// A number without decimals.
    Whole,
    /// A number.
    Number,
    /// A text.
    Text,
    /// A civil date, `YYYY-MM-DD`.
    Date,
    /// A moment (RFC 3339).
    Instant,
    /// A type of the list.
    Named(&'static str),
    /// A list.
    List(Box<Type>),
    /// An object whose field names are not fixed.
    Map(Box<Type>),
    /// The same, or `null`.
    Nullable(Box<Type>),
    /// One or the other.
    Either(Vec<Type>),
}

/// A field of an object.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// Its documentation.
    pub about: String,
    /// How its value is written.
    pub kind: Type,
    /// What stands for it where it is not given, as JSON. A field that may be `null` need not be given
    /// either.
    pub default: Option<String>,
    /// An answer may leave it out.
    pub skipped: bool,
}

/// The fields of an object.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct FieldList {
    /// The types whose fields it has too.
    pub bases: Vec<&'static str>,
    /// Its own.
    pub fields: Vec<Field>,
}

/// One of the forms of a value.
#[derive(Debug, Clone, PartialEq)]
pub struct Variant {
    /// Its name in Rust.
    pub ident: &'static str,
    /// Its name in JSON.
    pub name: &'static str,
    /// Its documentation.
    pub about: String,
    /// What stands beside the name.
    pub fields: FieldList,
}

/// What a type is made of.
#[derive(Debug, Clone, PartialEq)]
pub enum Body {
    /// An object.
    Fields(FieldList),
    /// An object of one of several forms, named by a field.
    Variants(&'static str, Vec<Variant>),
    /// One of these texts, each with its documentation.
    Names(Vec<(&'static str, String)>),
    /// Another way of saying this.
    Same(Type),
    /// A form that other languages are not told of.
    Untold,
}

/// A type of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct Definition {
    /// Its name.
    pub name: &'static str,
    /// Its documentation.
    pub about: String,
    /// What it is made of.
    pub body: Body,
}

/// A type whose form in JSON is known.
pub trait Shape {
    /// How a value of the type is written; puts the type into the list where it has a name.
    fn shape(shapes: &mut Shapes) -> Type;

    /// What it is made of.
    fn body(shapes: &mut Shapes) -> Body {
        Body::Same(Self::shape(shapes))
    }
}

/// A request: its name in `ask`, what is given and what is answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Request {
    /// Its name.
    pub name: &'static str,
    /// How it is given.
    pub given: Type,
    /// How it is answered.
    pub answered: Type,
}

/// Every request, and every type that requests and answers are made of.
#[derive(Debug, Default)]
pub struct Shapes {
    /// The requests.
    pub requests: Vec<Request>,
    /// The types: one that others are made of stands before them, unless it is made of them as well.
    pub types: Vec<Definition>,
    /// Names that two types bear.
    pub clashes: Vec<&'static str>,
    begun: BTreeMap<&'static str, &'static str>,
}

impl Shapes {
    /// Adds a request with what it is made of.
    pub(crate) fn request<Q: Shape, A: Shape>(
        &mut self,
        name: &'static str,
        _: fn(Q) -> Result<A, Error>,
    ) {
        let (given, answered) = (Q::shape(self), A::shape(self));
        self.requests.push(Request {
            name,
            given,
            answered,
        });
    }

    /// Puts a type into the list, once.
    pub(crate) fn define<T: Shape>(&mut self, name: &'static str, about: &[&str]) -> Type {
        match self.begun.insert(name, type_name::<T>()) {
            Some(known) if known == type_name::<T>() => return Type::Named(name),
            Some(_) => self.clashes.push(name),
            None => {}
        }
        match T::body(self) {
            Body::Same(kind) => {
                self.begun.remove(name);
                kind
            }
            body => {
                let about = paragraphs(about);
                self.types.push(Definition { name, about, body });
                Type::Named(name)
            }
        }
    }
}

impl Body {
    pub(crate) fn of_variants(tag: Option<&'static str>, variants: Vec<Variant>) -> Self {
        let is_plain = |one: &Variant| one.fields == FieldList::default();
        match tag {
            Some(tag) => Body::Variants(tag, variants),
            None if variants.iter().all(is_plain) => {
                let name = |one: Variant| (one.name, one.about);
                Body::Names(variants.into_iter().map(name).collect())
            }
            None => Body::Untold,
        }
    }

    /// With the documentation of the checked type's own fields, where they have the same names.
    pub(crate) fn documented(mut self, own: &[(&str, &[&str])]) -> Self {
        if let Body::Fields(list) = &mut self {
            for field in &mut list.fields {
                let mut known = own.iter();
                if let Some((_, about)) = known.find(|(name, _)| *name == field.name)
                    && !about.is_empty()
                {
                    field.about = paragraphs(about);
                }
            }
        }
        self
    }
}

impl Variant {
    pub(crate) fn new(
        ident: &'static str,
        name: &'static str,
        about: &[&str],
        fields: FieldList,
    ) -> Self {
        Variant {
            ident,
            name,
            about: paragraphs(about),
            fields,
        }
    }
}

impl FieldList {
    /// The fields of another type.
    pub(crate) fn like<T: Shape>(shapes: &mut Shapes) -> Self {
        let mut list = FieldList::default();
        list.rest_of(T::shape(shapes));
        list
    }

    pub(crate) fn rest_of(&mut self, kind: Type) {
        if let Type::Named(name) = kind {
            self.bases.push(name);
        }
    }

    pub(crate) fn add(
        &mut self,
        name: &'static str,
        about: &[&str],
        kind: Type,
        default: Option<String>,
        skipped: bool,
    ) {
        self.fields.push(Field {
            name,
            about: paragraphs(about),
            kind,
            default,
            skipped,
        });
    }
}

impl FieldList {
    /// The text of the clock beside the last field.
    pub(crate) fn clock_text(&mut self, name: &'static str, skipped: bool) {
        let Some(of) = self.fields.last() else { return };
        let about = format!(
            "What the clocks of the site show at `{}`, in whole minutes on the safe side: `05:52`. \
             Passed over where it is read.",
            of.name
        );
        let kind = match of.kind {
            Type::Nullable(_) => Type::Nullable(Box::new(Type::Text)),
            _ => Type::Text,
        };
        self.fields.push(Field {
            name,
            about,
            kind,
            default: None,
            skipped,
        });
    }
}

/// Lines of documentation as paragraphs, an empty line between them.
fn paragraphs(lines: &[&str]) -> String {
    let mut text = String::new();
    for line in lines {
        match line.trim() {
            "" => text.push_str("\n\n"),
            words => {
                if !text.is_empty() && !text.ends_with('\n') {
                    text.push(' ');
                }
                text.push_str(words);
            }
        }
    }
    text
}

macro_rules! plain {
    ($($plain:ty: $kind:ident),* $(,)?) => {$(
        impl Shape for $plain {
            fn shape(_: &mut Shapes) -> Type {
                Type::$kind
            }
        }
    )*};
}

plain!(
    bool: Boolean,
    u8: Whole,
    u16: Whole,
    u32: Whole,
    i32: Whole,
    i64: Whole,
    usize: Whole,
    f64: Number,
    String: Text,
    &'static str: Text,
    Cow<'static, str>: Text,
    chrono::NaiveDate: Date,
    chrono_tz::Tz: Text,
);

impl<T: Shape> Shape for Option<T> {
    fn shape(shapes: &mut Shapes) -> Type {
        Type::Nullable(Box::new(T::shape(shapes)))
    }
}

impl<T: Shape> Shape for Box<T> {
    fn shape(shapes: &mut Shapes) -> Type {
        T::shape(shapes)
    }
}

impl<T: Shape> Shape for Vec<T> {
    fn shape(shapes: &mut Shapes) -> Type {
        Type::List(Box::new(T::shape(shapes)))
    }
}

impl<T: Shape, const N: usize> Shape for [T; N] {
    fn shape(shapes: &mut Shapes) -> Type {
        Vec::<T>::shape(shapes)
    }
}

impl<T: Shape> Shape for BTreeMap<String, T> {
    fn shape(shapes: &mut Shapes) -> Type {
        Type::Map(Box::new(T::shape(shapes)))
    }
}
