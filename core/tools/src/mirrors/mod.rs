//! The types of requests and answers in Python and TypeScript, written from those of the engine.

mod python;
mod typescript;
mod words;

use std::collections::BTreeSet;
use std::path::PathBuf;

use apiary_almanac::wire::shape::{Body, Definition, Field, FieldList, Shapes, Type, Variant};

use crate::scenes::project;

/// Names that say enough only within their module of the engine, and what they are called outside.
const RENAMED: [(&str, &str); 2] = [("UnitName", "WaitUnit"), ("Value", "ReasonValue")];

/// Answers that are given back as they are: what they are made of is never put together by hand.
const GIVEN_BACK: [&str; 1] = ["Plan"];

/// Requests that the functions of other languages take apart.
const TAKEN_APART: [&str; 2] = ["NoFields", "BeeRequest"];

/// Every generated file with what belongs into it.
///
/// # Errors
/// Names what the other languages cannot be told of.
pub fn files() -> Result<Vec<(PathBuf, String)>, String> {
    let types = Types::new(apiary_almanac::ask::shapes())?;
    let file = |name: &str| project().join(name);
    Ok(vec![
        (
            file("py/python/apiary_almanac/_types.py"),
            python::file(&types)?,
        ),
        (file("wasm/npm/types.d.ts"), typescript::file(&types)),
    ])
}

/// The engine's types, and where each is used.
struct Types {
    all: Vec<Definition>,
    /// Those of whole requests, and those whose fields stand among the request's own.
    requests: BTreeSet<&'static str>,
    /// Those that requests are made of.
    given: BTreeSet<&'static str>,
    /// Those that answers are made of.
    answered: BTreeSet<&'static str>,
}

impl Types {
    fn new(shapes: Shapes) -> Result<Self, String> {
        if !shapes.clashes.is_empty() {
            return Err(format!("two types are named {}", shapes.clashes.join(", ")));
        }
        let mut types = Types {
            all: shapes.types,
            requests: BTreeSet::new(),
            given: BTreeSet::new(),
            answered: BTreeSet::new(),
        };
        let untold = types.all.iter().find(|one| one.body == Body::Untold);
        if let Some(one) = untold {
            return Err(format!("{} has a form that only Rust has", one.name));
        }
        if let Some(name) = types.all.iter().find_map(without_words) {
            return Err(format!("{name} is not documented"));
        }
        for request in &shapes.requests {
            if let Type::Named(name) = request.given {
                types.requests.insert(name);
                let of = types.all.iter().find(|one| one.name == name);
                if let Some(Body::Fields(list)) = of.map(|of| &of.body) {
                    types.requests.extend(&list.bases);
                }
            }
            types.given = types.reached(&request.given, types.given.clone(), &GIVEN_BACK);
            types.answered = types.reached(&request.answered, types.answered.clone(), &[]);
        }
        types.all.retain(|one| !TAKEN_APART.contains(&one.name));
        Ok(types)
    }

    /// With every type that a value is made of.
    fn reached(
        &self,
        kind: &Type,
        mut known: BTreeSet<&'static str>,
        except: &[&str],
    ) -> BTreeSet<&'static str> {
        let mut ahead = names(kind);
        while let Some(name) = ahead.pop() {
            if except.contains(&name) || !known.insert(name) {
                continue;
            }
            let definition = self.all.iter().find(|one| one.name == name);
            match definition.map(|one| &one.body) {
                Some(Body::Fields(list)) => ahead.extend(names_within(list)),
                Some(Body::Variants(_, variants)) => {
                    ahead.extend(variants.iter().flat_map(|one| names_within(&one.fields)));
                }
                _ => {}
            }
        }
        known
    }

    fn is_given(&self, name: &str) -> bool {
        self.given.contains(name)
    }

    fn is_answered(&self, name: &str) -> bool {
        self.answered.contains(name)
    }

    /// The names of all fields.
    fn field_names(&self) -> BTreeSet<&'static str> {
        let mut names = BTreeSet::new();
        for definition in &self.all {
            let lists: Vec<&FieldList> = match &definition.body {
                Body::Fields(list) => vec![list],
                Body::Variants(_, variants) => variants.iter().map(|one| &one.fields).collect(),
                _ => vec![],
            };
            for field in lists.iter().flat_map(|list| &list.fields) {
                names.insert(field.name);
            }
        }
        names
    }
}

/// What has no documentation, the type or a field of it.
fn without_words(of: &Definition) -> Option<String> {
    let lists: Vec<&FieldList> = match &of.body {
        _ if of.about.is_empty() && !TAKEN_APART.contains(&of.name) => {
            return Some(of.name.to_owned());
        }
        Body::Fields(list) => vec![list],
        Body::Variants(_, variants) => variants.iter().map(|one| &one.fields).collect(),
        _ => vec![],
    };
    let mut fields = lists.iter().flat_map(|list| &list.fields);
    let field = fields.find(|field| field.about.is_empty())?;
    Some(format!("{}.{}", of.name, field.name))
}

fn names_within(list: &FieldList) -> Vec<&'static str> {
    let own = list.fields.iter().flat_map(|field| names(&field.kind));
    list.bases.iter().copied().chain(own).collect()
}

fn names(kind: &Type) -> Vec<&'static str> {
    match kind {
        Type::Named(name) => vec![name],
        Type::List(inner) | Type::Map(inner) | Type::Nullable(inner) => names(inner),
        Type::Either(kinds) => kinds.iter().flat_map(names).collect(),
        _ => vec![],
    }
}

/// What a type is called outside.
fn outside(name: &str) -> &str {
    let known = RENAMED.iter().find(|(own, _)| *own == name);
    known.map_or(name, |(_, other)| other)
}

/// What one form of a type is called: the type's name and its own.
fn form(name: &str, variant: &Variant) -> String {
    format!("{}{}", outside(name), variant.ident)
}

/// The kind of a field without its `null`, and whether it had one.
fn nullable(field: &Field) -> (&Type, bool) {
    match &field.kind {
        Type::Nullable(kind) => (kind, true),
        kind => (kind, false),
    }
}
