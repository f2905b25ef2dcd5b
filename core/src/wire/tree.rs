//! JSON or TOML as a tree, and what is wrong with one.

use std::borrow::Cow;
use std::convert::Infallible;
use std::fmt;

use super::{Step, path};
use crate::error::{Error, clip};

/// A value. Texts of JSON without escapes are those of the input.
#[derive(Debug)]
pub enum Node<'a> {
    Null,
    Bool(bool),
    Unsigned(u64),
    Signed(i64),
    Float(f64),
    Text(Cow<'a, str>),
    List(Vec<Node<'a>>),
    Object(Vec<Field<'a>>),
    /// An object seen without the field of this name.
    Part(&'a [Field<'a>], &'static str),
    /// What cannot be held, and why not.
    Unreadable(&'static str),
}

/// A field of an object.
pub type Field<'a> = (Cow<'a, str>, Node<'a>);

impl Node<'_> {
    /// The refusal of a value that is something else than was `expected`.
    #[inline(never)]
    pub fn is_not(&self, expected: &str) -> Refusal {
        match self {
            Node::Unreadable(problem) => Refusal::new((*problem).to_owned()),
            _ => Refusal::new(format!("it is {self}; expected is {expected}")),
        }
    }

    /// The text.
    pub fn text(&self, expected: &str) -> Result<&str, Refusal> {
        match self {
            Node::Text(text) => Ok(text),
            _ => Err(self.is_not(expected)),
        }
    }
}

/// The value as an error names it.
impl fmt::Display for Node<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Node::Null => f.write_str("null"),
            Node::Bool(value) => value.fmt(f),
            Node::Unsigned(value) => value.fmt(f),
            Node::Signed(value) => value.fmt(f),
            Node::Float(value) => value.fmt(f),
            Node::Text(text) => write!(f, "the text \"{}\"", clip(text)),
            Node::List(_) => f.write_str("a list"),
            Node::Object(_) | Node::Part(..) => f.write_str("an object"),
            Node::Unreadable(problem) => f.write_str(problem),
        }
    }
}

/// Why a tree was refused, and where.
#[derive(Debug)]
pub struct Refusal(Box<Refused>);

#[derive(Debug)]
struct Refused {
    problem: Problem,
    /// From the inside out.
    steps: Vec<Step>,
}

/// What is wrong with a value.
#[derive(Debug)]
pub(super) enum Problem {
    /// It has not the form that is read.
    Form(String),
    /// A checked type refused it.
    Checked(Error),
}

impl Refusal {
    #[inline(never)]
    fn of(problem: Problem) -> Self {
        Refusal(Box::new(Refused {
            problem,
            steps: Vec::new(),
        }))
    }

    /// The refusal of a form.
    pub fn new(problem: String) -> Self {
        Refusal::of(Problem::Form(problem))
    }

    /// The refusal of a form after these steps, from the inside out.
    pub(super) fn at(problem: String, steps: Vec<Step>) -> Self {
        Refusal(Box::new(Refused {
            problem: Problem::Form(problem),
            steps,
        }))
    }

    /// The same, one field further out.
    #[inline(never)]
    pub fn in_field(mut self, name: &str) -> Self {
        self.0.steps.push(Step::Field(name.to_owned()));
        self
    }

    /// The same, where the field is the name of a variant.
    #[inline(never)]
    pub fn in_variant(mut self, name: &str) -> Self {
        self.0.steps.push(Step::Variant(name.to_owned()));
        self
    }

    /// The same, one list further out.
    #[inline(never)]
    pub fn in_element(mut self, index: usize) -> Self {
        self.0.steps.push(Step::Element(index));
        self
    }

    /// What is wrong, and the way there from the outside in.
    pub(super) fn into_parts(self) -> (Problem, Vec<Step>) {
        let Refused { problem, mut steps } = *self.0;
        steps.reverse();
        (problem, steps)
    }
}

impl From<Infallible> for Refusal {
    fn from(never: Infallible) -> Self {
        match never {}
    }
}

impl From<Error> for Refusal {
    fn from(error: Error) -> Self {
        Refusal::of(Problem::Checked(error))
    }
}

/// One sentence, for readers that have their own errors.
impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0.problem {
            Problem::Checked(error) => error.fmt(f),
            Problem::Form(problem) if self.0.steps.is_empty() => f.write_str(&clip(problem)),
            Problem::Form(problem) => {
                let way = path(self.0.steps.iter().rev());
                write!(f, "{}: {}", clip(&way), clip(problem))
            }
        }
    }
}
