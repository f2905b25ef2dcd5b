//! `types.d.ts`.

use std::collections::BTreeSet;

use apiary_almanac::bee::bee_names;
use apiary_almanac::method::method_names;
use apiary_almanac::reason::{Language, sentences};
use apiary_almanac::wire::shape::{Body, Definition, Field, FieldList, Type};

use super::words::{camel_case, first, lines, with_code};
use super::{Types, form, nullable, outside};

const HEAD: &str = "\
// Written by `cargo run -p apiary-almanac-tools --bin mirrors` from the types of the engine: change those.

/** A civil date, `\"YYYY-MM-DD\"`, from 1900-01-01 to 2100-12-31. */
export type CivilDate = string;

/** A moment as an ISO string with its offset, such as `\"2026-11-26T04:50:17.250+10:00\"`. */
export type Instant = string;

/** A moment: a `Date`, or an ISO string with its offset. */
export type InstantInput = Date | Instant;
";

/// Fields of text that hold one of the engine's own names, and what they hold in TypeScript. A bee is
/// also known by other spellings of its name, and a reason of a user's own has a code of the user's.
const NAMES: [(&str, &str, &str); 5] = [
    ("About", "bees", "readonly BeeName[]"),
    ("BeeOverrides", "based_on", "BeeName | (string & {})"),
    ("Reason", "code", "ReasonCode | (string & {})"),
    ("ReasonWithin", "code", "ReasonCode | (string & {})"),
    ("Sentence", "code", "ReasonCode"),
];

pub fn file(types: &Types) -> String {
    let writer = Writer {
        types,
        fields: types.field_names(),
    };
    let codes = sentences(Language::English).sentences;
    let mut text = HEAD.to_owned();
    text += &union("BeeName", "A built-in bee.", bee_names());
    text += &union("MethodName", "A built-in method.", method_names());
    text += &union(
        "ReasonCode",
        "A sentence of the engine's catalogue.",
        codes.iter().map(|one| one.code),
    );
    for definition in &types.all {
        text.push('\n');
        text += &writer.definition(definition);
    }
    text
}

fn union(name: &str, about: &str, names: impl IntoIterator<Item = &'static str>) -> String {
    let names: Vec<String> = names
        .into_iter()
        .map(|one| format!("  | \"{one}\""))
        .collect();
    format!(
        "\n/** {about} */\nexport type {name} =\n{};\n",
        names.join("\n")
    )
}

struct Writer<'a> {
    types: &'a Types,
    fields: BTreeSet<&'static str>,
}

impl Writer<'_> {
    fn definition(&self, definition: &Definition) -> String {
        let name = outside(definition.name);
        let about = self.comment(first(&definition.about), "", "null");
        match &definition.body {
            Body::Fields(list) => self.interface(definition.name, name, &about, list, ""),
            Body::Names(names) => {
                let names = names.iter().map(|(name, about)| {
                    format!("{}  | \"{name}\"", self.comment(about, "  ", "null"))
                });
                let names: Vec<String> = names.collect();
                format!("{about}export type {name} =\n{};\n", names.join("\n"))
            }
            Body::Variants(tag, variants) => {
                let mut text = String::new();
                let mut names = Vec::new();
                for variant in variants {
                    let name = form(definition.name, variant);
                    let about = self.comment(first(&variant.about), "", "null");
                    let tag = format!("  readonly {}: \"{}\";\n", camel_case(tag), variant.name);
                    text += &self.interface(definition.name, &name, &about, &variant.fields, &tag);
                    text.push('\n');
                    names.push(format!("  | {name}"));
                }
                text + &format!("{about}export type {name} =\n{};\n", names.join("\n"))
            }
            Body::Same(kind) => {
                format!(
                    "{about}export type {name} = {};\n",
                    self.kind(kind, definition.name)
                )
            }
            Body::Untold => String::new(),
        }
    }

    /// `of` is the type whose use decides how a field may be given.
    fn interface(&self, of: &str, name: &str, about: &str, list: &FieldList, tag: &str) -> String {
        let bases: Vec<_> = list.bases.iter().map(|base| outside(base)).collect();
        let extends = match bases.as_slice() {
            [] => String::new(),
            bases => format!(" extends {}", bases.join(", ")),
        };
        let fields: String = list.fields.iter().map(|one| self.field(one, of)).collect();
        format!("{about}export interface {name}{extends} {{\n{tag}{fields}}}\n")
    }

    fn field(&self, field: &Field, of: &str) -> String {
        let (kind, nullable) = nullable(field);
        let may_be_left_out = self.types.is_given(of) && (nullable || field.default.is_some());
        let question = if may_be_left_out || field.skipped {
            "?"
        } else {
            ""
        };
        let is_null = nullable && !field.skipped && self.types.is_answered(of);
        let null = if is_null { " | null" } else { "" };
        let nothing = if is_null { "`null`" } else { "absent" };
        let named = NAMES
            .iter()
            .find(|(definition, name, _)| (*definition, *name) == (of, field.name));
        format!(
            "{}  readonly {}{question}: {}{null};\n",
            self.comment(&field.about, "  ", nothing),
            camel_case(field.name),
            named.map_or_else(|| self.kind(kind, of), |(_, _, kind)| (*kind).to_owned())
        )
    }

    fn kind(&self, kind: &Type, of: &str) -> String {
        match kind {
            Type::Boolean => "boolean".to_owned(),
            Type::Whole | Type::Number => "number".to_owned(),
            Type::Text => "string".to_owned(),
            Type::Date => "CivilDate".to_owned(),
            // An answer has text; a request may have a `Date`.
            Type::Instant if self.types.is_given(of) => "InstantInput".to_owned(),
            Type::Instant => "Instant".to_owned(),
            Type::Named(name) => outside(name).to_owned(),
            Type::List(inner) => match **inner {
                // Typed arrays are welcome in a request.
                Type::Whole | Type::Number if self.types.is_given(of) => {
                    "ArrayLike<number>".to_owned()
                }
                Type::Nullable(_) | Type::Either(_) => {
                    format!("readonly ({})[]", self.kind(inner, of))
                }
                _ => format!("readonly {}[]", self.kind(inner, of)),
            },
            Type::Map(inner) => format!("{{ readonly [name: string]: {} }}", self.kind(inner, of)),
            Type::Nullable(inner) => format!("{} | null", self.kind(inner, of)),
            Type::Either(kinds) => {
                let text = match kinds.iter().find(|one| matches!(one, Type::Named(_))) {
                    Some(Type::Named("BeeOverrides")) => "BeeName | (string & {})",
                    Some(Type::Named("Method")) => "MethodName",
                    _ => "string",
                };
                let kinds: Vec<String> = kinds
                    .iter()
                    .map(|one| match one {
                        Type::Text => text.to_owned(),
                        other => self.kind(other, of),
                    })
                    .collect();
                kinds.join(" | ")
            }
        }
    }

    /// `nothing` is what stands for Rust's `None`.
    fn comment(&self, about: &str, indent: &str, nothing: &str) -> String {
        let text = with_code(about, |code| match code {
            "None" => nothing.to_owned(),
            _ => format!("`{}`", self.names(code)),
        });
        let lines = lines(&text.replace("*/", "* /"), 100 - indent.len());
        match lines.as_slice() {
            [] => String::new(),
            [line] if line.chars().count() + indent.len() < 98 => {
                format!("{indent}/** {line} */\n")
            }
            lines => {
                let lines: String = lines
                    .iter()
                    .map(|line| format!("{indent} * {line}").trim_end().to_owned() + "\n")
                    .collect();
                format!("{indent}/**\n{lines}{indent} */\n")
            }
        }
    }

    /// Code with the names of fields as they are here.
    fn names(&self, code: &str) -> String {
        let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
        let mut text = String::new();
        let mut rest = code;
        while let Some(start) = rest.find(word) {
            let length = rest[start..]
                .find(|c| !word(c))
                .unwrap_or(rest.len() - start);
            let name = &rest[start..start + length];
            text += &rest[..start];
            match self.fields.contains(name) {
                true => text += &camel_case(name),
                false => text += outside(name),
            }
            rest = &rest[start + length..];
        }
        text + rest
    }
}
