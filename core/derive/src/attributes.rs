//! The attributes that a reader has to know.

use proc_macro2::Span;
use syn::meta::ParseNestedMeta;
use syn::{Attribute, Expr, ExprPath, LitStr, Token, Type};

/// What stands on a type.
#[derive(Default)]
pub struct TypeAttributes {
    /// The type that is read in its place and then checked.
    pub through: Option<Type>,
    /// The field that names the variant.
    pub tag: Option<String>,
    /// Names are in snake case.
    pub snake_case: bool,
    /// A field that is not given is that of the type's default.
    pub default: bool,
}

impl TypeAttributes {
    pub fn read(attributes: &[Attribute]) -> syn::Result<Self> {
        let mut read = TypeAttributes::default();
        for_each(attributes, |meta| {
            if meta.path.is_ident("try_from") || meta.path.is_ident("from") {
                read.through = Some(text(&meta)?.parse()?);
            } else if meta.path.is_ident("tag") {
                read.tag = Some(text(&meta)?.value());
            } else if meta.path.is_ident("default") {
                read.default = true;
            } else if meta.path.is_ident("rename_all") {
                let case = text(&meta)?;
                if case.value() != "snake_case" {
                    return Err(syn::Error::new(case.span(), "only snake_case is known"));
                }
                read.snake_case = true;
            } else if meta.path.is_ident("into") {
                skip(&meta)?;
            } else {
                return Err(meta.error("reading does not know this"));
            }
            Ok(())
        })?;
        Ok(read)
    }
}

/// What stands on a field or a variant.
#[derive(Default)]
pub struct FieldAttributes {
    /// Its name in the text, where that is another.
    pub rename: Option<String>,
    /// What a field is that is not given.
    pub default: Option<Absent>,
    /// The function that reads it.
    pub with: Option<ExprPath>,
}

/// What stands for a field that is not given.
pub enum Absent {
    /// The default of its type.
    Default,
    /// What a function says.
    Function(ExprPath),
}

impl FieldAttributes {
    pub fn read(attributes: &[Attribute]) -> syn::Result<Self> {
        let mut read = FieldAttributes::default();
        for_each(attributes, |meta| {
            if meta.path.is_ident("rename") {
                read.rename = Some(text(&meta)?.value());
            } else if meta.path.is_ident("deserialize_with") {
                read.with = Some(text(&meta)?.parse()?);
            } else if meta.path.is_ident("default") {
                read.default = Some(match meta.input.peek(Token![=]) {
                    true => Absent::Function(text(&meta)?.parse()?),
                    false => Absent::Default,
                });
            } else if meta.path.is_ident("skip_serializing_if")
                || meta.path.is_ident("serialize_with")
            {
                skip(&meta)?;
            } else {
                return Err(meta.error("reading does not know this"));
            }
            Ok(())
        })?;
        Ok(read)
    }
}

fn for_each(
    attributes: &[Attribute],
    mut take: impl FnMut(ParseNestedMeta<'_>) -> syn::Result<()>,
) -> syn::Result<()> {
    attributes
        .iter()
        .filter(|attribute| attribute.path().is_ident("serde"))
        .try_for_each(|attribute| attribute.parse_nested_meta(&mut take))
}

fn text(meta: &ParseNestedMeta<'_>) -> syn::Result<LitStr> {
    meta.value()?.parse()
}

/// Passes over the value, if there is one.
fn skip(meta: &ParseNestedMeta<'_>) -> syn::Result<()> {
    if meta.input.peek(Token![=]) {
        meta.value()?.parse::<Expr>()?;
    }
    Ok(())
}

/// `RisesAndSets` as `rises_and_sets`.
pub fn snake_case(name: &str) -> String {
    let mut snake = String::new();
    for letter in name.chars() {
        if letter.is_uppercase() && !snake.is_empty() {
            snake.push('_');
        }
        snake.extend(letter.to_lowercase());
    }
    snake
}

/// A text as a literal.
pub fn literal(text: &str) -> LitStr {
    LitStr::new(text, Span::call_site())
}
