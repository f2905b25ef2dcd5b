//! The fields of a struct or of a variant.

use proc_macro2::TokenStream;
use quote::{ToTokens, quote};
use syn::{Fields, FieldsNamed, Ident, Type};

use crate::attributes::{Absent, FieldAttributes, literal};

/// Reads a struct.
pub fn of_struct(fields: &Fields, default: bool) -> syn::Result<TokenStream> {
    match fields {
        Fields::Named(named) => {
            let Named {
                names,
                reads,
                parts,
            } = Named::of(named, default)?;
            if parts.is_empty() {
                return Ok(quote! {
                    let names = <Self as crate::wire::FromFields>::NAMES;
                    let mut fields = crate::wire::Fields::of(node, names)?;
                    crate::wire::FromFields::from_fields(&mut fields)
                });
            }
            Ok(quote! {
                let parts = [#(<#parts as crate::wire::FromFields>::NAMES),*];
                let mut fields = crate::wire::Fields::with_parts(node, #names, &parts)?;
                ::core::result::Result::Ok(Self { #reads })
            })
        }
        Fields::Unnamed(unnamed) if unnamed.unnamed.len() == 1 => Ok(quote! {
            crate::wire::FromNode::from_node(node).map(Self)
        }),
        other => Err(syn::Error::new_spanned(
            other,
            "a struct is read by the names of its fields, or as its only one",
        )),
    }
}

/// Writes `FromFields` for a struct with named fields that has no parts itself.
pub fn among_others(name: &Ident, fields: &Fields, default: bool) -> syn::Result<TokenStream> {
    let Fields::Named(named) = fields else {
        return Ok(TokenStream::new());
    };
    let Named {
        names,
        reads,
        parts,
    } = Named::of(named, default)?;
    if !parts.is_empty() {
        return Ok(TokenStream::new());
    }
    Ok(quote! {
        #[automatically_derived]
        impl crate::wire::FromFields for #name {
            const NAMES: &'static [&'static str] = #names;

            fn from_fields(
                fields: &mut crate::wire::Fields<'_>,
            ) -> ::core::result::Result<Self, crate::wire::Refusal> {
                ::core::result::Result::Ok(Self { #reads })
            }
        }
    })
}

/// The list of names, and the reading of each field from `fields`, in that order, of a variant.
pub fn of_variant(named: &FieldsNamed) -> syn::Result<(TokenStream, TokenStream)> {
    let Named {
        names,
        reads,
        parts,
    } = Named::of(named, false)?;
    match parts.first() {
        None => Ok((names, reads)),
        Some(part) => Err(syn::Error::new_spanned(
            part,
            "the fields of a variant are its own: only those of a struct know `flatten`",
        )),
    }
}

/// Named fields.
struct Named {
    /// The list of the names of its own.
    names: TokenStream,
    /// The reading of each field from `fields`, in their order.
    reads: TokenStream,
    /// The types whose fields stand among them.
    parts: Vec<Type>,
}

impl Named {
    fn of(named: &FieldsNamed, default: bool) -> syn::Result<Self> {
        let mut names = Vec::new();
        let mut reads = TokenStream::new();
        let mut parts = Vec::new();
        for field in &named.named {
            let attributes = FieldAttributes::read(&field.attrs)?;
            let ident = &field.ident;
            if attributes.flatten {
                parts.push(field.ty.clone());
                reads.extend(quote! { #ident: fields.part()?, });
                continue;
            }
            let own = ident.to_token_stream().to_string();
            let name = attributes.rename.as_deref().unwrap_or(&own);
            names.push(literal(name));
            let read = match &attributes.with {
                Some(function) => function.to_token_stream(),
                None => quote! { crate::wire::FromNode::from_node },
            };
            let absent = match &attributes.default {
                Some(Absent::Default) => quote! { crate::wire::default },
                Some(Absent::Function(function)) => {
                    quote! { || ::core::option::Option::Some(#function()) }
                }
                None if default => quote! {
                    || ::core::option::Option::Some(<Self as ::core::default::Default>::default().#ident)
                },
                None if attributes.with.is_some() => quote! { || ::core::option::Option::None },
                None => quote! { crate::wire::FromNode::absent },
            };
            let value = quote! { fields.next(#read, #absent)? };
            if attributes.clock {
                names.push(literal(&format!("{name}_clock")));
                reads
                    .extend(quote! { #ident: { let value = #value; fields.pass_text()?; value }, });
            } else {
                reads.extend(quote! { #ident: #value, });
            }
        }
        Ok(Named {
            names: quote! { &[#(#names),*] },
            reads,
            parts,
        })
    }
}
