//! The attributes that a reader has to know.

use proc_macro2::Span;
use syn::meta::ParseNestedMeta;
use syn::{Attribute, Expr, ExprPath, LitStr, Token, Type, Variant};

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
    /// The type whose fields tell what it looks like, where reading does not.
    pub like: Option<Type>,
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
        for attribute in attributes {
            if attribute.path().is_ident("shape") {
                read.like = Some(attribute.parse_args()?);
            }
        }
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
    /// Its own fields stand in its place.
    pub flatten: bool,
    /// A text of the clock is written beside it, and passed over where it is read.
    pub clock: bool,
    /// It is not always written.
    pub skipped: bool,
    /// What is given need not have it, although what is read has it.
    pub completed: bool,
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
            } else if meta.path.is_ident("flatten") {
                read.flatten = true;
            } else if meta.path.is_ident("skip_serializing_if") {
                read.skipped = true;
                skip(&meta)?;
            } else if meta.path.is_ident("serialize_with") {
                let function: ExprPath = text(&meta)?.parse()?;
                let module = function.path.segments.first();
                read.clock = module.is_some_and(|module| module.ident == "clock");
            } else {
                return Err(meta.error("reading does not know this"));
            }
            Ok(())
        })?;
        // The moment and its text are written flat, but the moment is read as a field.
        read.flatten &= !read.clock;
        for attribute in attributes {
            if attribute.path().is_ident("shape") {
                attribute.parse_nested_meta(|meta| match meta.path.is_ident("completed") {
                    true => {
                        read.completed = true;
                        Ok(())
                    }
                    false => Err(meta.error("a shape does not know this")),
                })?;
            }
        }
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

/// The name of a variant in the text.
pub fn variant_name(variant: &Variant, attributes: &TypeAttributes) -> syn::Result<String> {
    let own = variant.ident.to_string();
    let renamed = FieldAttributes::read(&variant.attrs)?.rename;
    Ok(renamed.unwrap_or_else(|| match attributes.snake_case {
        true => snake_case(&own),
        false => own,
    }))
}

/// `RisesAndSets` as `rises_and_sets`.
fn snake_case(name: &str) -> String {
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
