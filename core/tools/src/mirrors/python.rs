//! `_types.py`.

use apiary_almanac::wire::shape::{Body, Definition, Field, FieldList, Type};

use super::words::{first, lines, with_code};
use super::{Types, form, nullable, outside};

const HEAD: &str = "\
# Written by `cargo run -p apiary-almanac-tools --bin mirrors` from the types of the engine: change those.
\"\"\"What goes in and comes out, as frozen dataclasses. Units stand in the names.

Whatever a request leaves at None stays at the engine's default.
\"\"\"

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from apiary_almanac import _show
from apiary_almanac._convert import complete

if TYPE_CHECKING:
    from dataclasses import dataclass
else:
    from apiary_almanac._record import dataclass
";

/// What some types do beside holding their fields.
const METHODS: [(&str, &str, &str, &str); 16] = [
    ("Site", "__post_init__", "None", "complete(self)"),
    ("Season", "__repr__", "str", "return _show.season(self)"),
    (
        "Season",
        "_repr_html_",
        "str",
        "return _show.season_table(self)",
    ),
    ("Outlook", "__repr__", "str", "return _show.outlook(self)"),
    (
        "Outlook",
        "_repr_html_",
        "str",
        "return _show.outlook_table(self)",
    ),
    (
        "Relocation",
        "__repr__",
        "str",
        "return _show.relocation(self)",
    ),
    (
        "CalendarText",
        "__repr__",
        "str",
        "return _show.length(self, self.ics)",
    ),
    (
        "TableText",
        "__repr__",
        "str",
        "return _show.length(self, self.csv)",
    ),
    (
        "Picture",
        "__repr__",
        "str",
        "return _show.length(self, self.svg)",
    ),
    ("Picture", "_repr_svg_", "str", "return self.svg"),
    (
        "YearPicture",
        "__repr__",
        "str",
        "return _show.length(self, self.svg)",
    ),
    ("YearPicture", "_repr_svg_", "str", "return self.svg"),
    ("Plan", "__repr__", "str", "return _show.plan(self)"),
    (
        "Plan",
        "_repr_html_",
        "str",
        "return _show.plan_table(self)",
    ),
    ("Review", "__repr__", "str", "return _show.review(self)"),
    (
        "Review",
        "_repr_html_",
        "str",
        "return _show.plan_table(self.plan)",
    ),
];

/// Words that cannot be names in Python; a field of such a name carries an underscore.
const KEYWORDS: [&str; 35] = [
    "False", "None", "True", "and", "as", "assert", "async", "await", "break", "class", "continue",
    "def", "del", "elif", "else", "except", "finally", "for", "from", "global", "if", "import",
    "in", "is", "lambda", "nonlocal", "not", "or", "pass", "raise", "return", "try", "while",
    "with", "yield",
];

pub fn file(types: &Types) -> Result<String, String> {
    let mut names = Vec::new();
    let mut body = String::new();
    // Functions name the fields of requests as their arguments.
    let told = |one: &&Definition| !types.requests.contains(one.name);
    for definition in types.all.iter().filter(told) {
        body += "\n\n";
        body += &Writer { types }.definition(definition, &mut names)?;
    }
    names.sort();
    let names: String = names
        .iter()
        .map(|name| format!("    \"{name}\",\n"))
        .collect();
    Ok(format!("{HEAD}\n__all__ = [\n{names}]\n{body}"))
}

struct Writer<'a> {
    types: &'a Types,
}

impl Writer<'_> {
    fn definition(&self, of: &Definition, names: &mut Vec<String>) -> Result<String, String> {
        let name = outside(of.name).to_owned();
        let about = first(&of.about);
        let text = match &of.body {
            Body::Fields(list) => self.class(of.name, &name, about, list, "")?,
            Body::Names(all) => {
                let literals: String = all
                    .iter()
                    .map(|(one, _)| format!("    \"{one}\",\n"))
                    .collect();
                let said = all.iter().filter(|(_, about)| !about.is_empty());
                let said = said.map(|(one, about)| format!("\n\n`{one}`: {about}"));
                let about = format!("{about}{}", said.collect::<String>());
                format!("{name} = Literal[\n{literals}]\n{}", docstring(&about, ""))
            }
            Body::Variants(tag, variants) => {
                let mut text = String::new();
                let mut forms = Vec::new();
                for variant in variants {
                    let form = form(of.name, variant);
                    let tag = format!("    {tag}: Literal[\"{0}\"] = \"{0}\"\n", variant.name);
                    let about = first(&variant.about);
                    text += &self.class(of.name, &form, about, &variant.fields, &tag)?;
                    text += "\n\n";
                    forms.push(form);
                }
                let union = forms.join("\n    | ");
                names.extend(forms);
                text + &format!("{name} = (\n    {union}\n)\n{}", docstring(about, ""))
            }
            Body::Same(kind) => format!("{name} = {}\n", self.kind(kind, of.name)),
            Body::Untold => return Err(format!("{name} has a form that only Rust has")),
        };
        names.push(name);
        Ok(text)
    }

    /// `of` is the type whose use decides how a field may be given.
    fn class(
        &self,
        of: &str,
        name: &str,
        about: &str,
        list: &FieldList,
        tag: &str,
    ) -> Result<String, String> {
        let bases: Vec<_> = list.bases.iter().map(|base| outside(base)).collect();
        let bases = match bases.as_slice() {
            [] => String::new(),
            bases => format!("({})", bases.join(", ")),
        };
        let mut text = format!("@dataclass(frozen=True, kw_only=True)\nclass {name}{bases}:\n");
        let head = docstring(about, "    ");
        text += &head;
        let mut fields = tag.to_owned();
        for field in &list.fields {
            fields += &self
                .field(field, of)
                .map_err(|why| format!("{name}: {why}"))?;
        }
        if !head.is_empty() && !fields.is_empty() {
            text.push('\n');
        }
        text += &fields;
        for (_, method, kind, body) in METHODS.iter().filter(|method| method.0 == name) {
            text += &format!("\n    def {method}(self) -> {kind}:\n        {body}\n");
        }
        Ok(text)
    }

    fn field(&self, field: &Field, of: &str) -> Result<String, String> {
        let (kind, nullable) = nullable(field);
        let is_given = self.types.is_given(of);
        let mut kind = self.kind(kind, of);
        let default = match &field.default {
            _ if nullable => (is_given || field.skipped).then(|| "None".to_owned()),
            Some(json) if is_given || field.skipped => Some(literal(json)),
            None if field.skipped => Some("None".to_owned()),
            _ => None,
        };
        if nullable || default.as_deref() == Some("None") {
            kind += " | None";
        }
        let default = default
            .map(|value| format!(" = {value}"))
            .unwrap_or_default();
        let underscore = if KEYWORDS.contains(&field.name) {
            "_"
        } else {
            ""
        };
        let about = docstring(&field.about, "    ");
        Ok(format!(
            "    {}{underscore}: {kind}{default}\n{about}",
            field.name
        ))
    }

    fn kind(&self, kind: &Type, of: &str) -> String {
        match kind {
            Type::Boolean => "bool".to_owned(),
            Type::Whole => "int".to_owned(),
            Type::Number => "float".to_owned(),
            Type::Text => "str".to_owned(),
            Type::Date => "dt.date".to_owned(),
            Type::Instant => "dt.datetime".to_owned(),
            Type::Named(name) => outside(name).to_owned(),
            Type::List(inner) if self.types.is_given(of) => {
                format!("Sequence[{}]", self.kind(inner, of))
            }
            Type::List(inner) => format!("tuple[{}, ...]", self.kind(inner, of)),
            Type::Map(inner) => format!("Mapping[str, {}]", self.kind(inner, of)),
            Type::Nullable(inner) => format!("{} | None", self.kind(inner, of)),
            Type::Either(kinds) => {
                let kinds: Vec<String> = kinds.iter().map(|one| self.kind(one, of)).collect();
                kinds.join(" | ")
            }
        }
    }
}

/// A value of JSON; for an object, which cannot stand in a class, None.
fn literal(json: &str) -> String {
    match json {
        "true" => "True".to_owned(),
        "false" => "False".to_owned(),
        "[]" => "()".to_owned(),
        _ if json.starts_with(['{', 'n', '[']) => "None".to_owned(),
        _ => json.to_owned(),
    }
}

fn docstring(about: &str, indent: &str) -> String {
    let text = with_code(about, |code| match code {
        "None" => "None".to_owned(),
        _ => format!("``{}``", outside(code)),
    });
    let text = text.replace('\\', "\\\\").replace("\"\"\"", "'''");
    // Three quotation marks stand before the first line and after the last.
    let lines = lines(&text, 94 - indent.len());
    let quotes = "\"\"\"";
    match lines.as_slice() {
        [] => String::new(),
        [line] => format!("{indent}{quotes}{line}{quotes}\n"),
        lines => {
            let text = lines.join(&format!("\n{indent}"));
            let text = text.replace(&format!("\n{indent}\n"), "\n\n");
            format!("{indent}{quotes}{text}\n{indent}{quotes}\n")
        }
    }
}
