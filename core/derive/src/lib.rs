//! `#[derive(FromNode)]`: how a type is read from a tree of JSON or TOML.
//!
//! The derive writes calls into `crate::wire`, one for each field, and no loops, comparisons or
//! errors of its own: those are compiled once, not once for each type. That is what keeps the
//! engine small enough for a page.
//!
//! It understands the attributes that serde's own derives use, so that a type says once how it is
//! written and read: on a type `rename_all = "snake_case"`, `tag`, `try_from`, `from`, `default`; on
//! a field `default`, `default = "function"`, `deserialize_with = "function"`, `rename` and, in a
//! struct, `flatten`, for a struct with named fields and no `flatten` of its own. What only writing needs is passed
//! over. Unknown and repeated fields are always refused.
//!
//! `serde::Deserialize` comes along, for readers of other formats, and `Shape`: what the type looks
//! like in JSON, with the documentation of its fields. Types that are only written have
//! `#[derive(Shape)]`; one that is written by hand names a type that looks like it: `#[shape(Written)]`. A field
//! that is worked out before reading where it is not given has `#[shape(completed)]`.

mod attributes;
mod fields;
mod shape;
mod variants;

use proc_macro2::TokenStream;
use quote::quote;
use syn::{Data, DeriveInput, parse_macro_input};

use attributes::TypeAttributes;

/// Writes `Shape` for a type that is not read.
#[proc_macro_derive(Shape, attributes(serde))]
pub fn shape(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let input = parse_macro_input!(input as DeriveInput);
    shape::implementation(&input)
        .unwrap_or_else(syn::Error::into_compile_error)
        .into()
}

/// Writes `FromNode`, `serde::Deserialize` and `Shape` for a type.
#[proc_macro_derive(FromNode, attributes(serde, shape))]
pub fn from_node(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let input = parse_macro_input!(input as DeriveInput);
    implementation(&input)
        .unwrap_or_else(syn::Error::into_compile_error)
        .into()
}

fn implementation(input: &DeriveInput) -> syn::Result<TokenStream> {
    if !input.generics.params.is_empty() {
        let problem = "a type with parameters cannot be read";
        return Err(syn::Error::new_spanned(&input.generics, problem));
    }
    let name = &input.ident;
    let body = body(input)?;
    let among_others = among_others(input)?;
    let shape = shape::implementation(input)?;
    Ok(quote! {
        #shape

        #among_others

        #[automatically_derived]
        impl crate::wire::FromNode for #name {
            fn from_node(
                node: &crate::wire::Node<'_>,
            ) -> ::core::result::Result<Self, crate::wire::Refusal> {
                #body
            }
        }

        #[automatically_derived]
        impl<'de> ::serde::Deserialize<'de> for #name {
            fn deserialize<D: ::serde::Deserializer<'de>>(
                from: D,
            ) -> ::core::result::Result<Self, D::Error> {
                crate::wire::deserialize(from)
            }
        }
    })
}

/// What a type needs whose fields can stand among those of another.
fn among_others(input: &DeriveInput) -> syn::Result<TokenStream> {
    let attributes = TypeAttributes::read(&input.attrs)?;
    match &input.data {
        Data::Struct(data) if attributes.through.is_none() => {
            fields::among_others(&input.ident, &data.fields, attributes.default)
        }
        _ => Ok(TokenStream::new()),
    }
}

fn body(input: &DeriveInput) -> syn::Result<TokenStream> {
    let attributes = TypeAttributes::read(&input.attrs)?;
    if let Some(wire) = &attributes.through {
        return Ok(quote! { crate::wire::through::<#wire, Self>(node) });
    }
    match &input.data {
        Data::Struct(data) => fields::of_struct(&data.fields, attributes.default),
        Data::Enum(data) => variants::of_enum(data, &attributes),
        Data::Union(_) => Err(syn::Error::new_spanned(input, "a union cannot be read")),
    }
}
