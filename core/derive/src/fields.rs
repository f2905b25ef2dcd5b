//! The fields of a struct or of a variant.

use proc_macro2::TokenStream;
use quote::{ToTokens, quote};
use syn::{Fields, FieldsNamed};

use crate::attributes::{Absent, FieldAttributes, literal};

/// Reads a struct.
pub fn of_struct(fields: &Fields, default: bool) -> syn::Result<TokenStream> {
    match fields {
        Fields::Named(named) => {
            let (names, reads) = of_named(named, default)?;
            Ok(quote! {
                let mut fields = crate::wire::Fields::of(node, #names)?;
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

/// The list of names, and the reading of each field from `fields`, in that order.
pub fn of_named(named: &FieldsNamed, default: bool) -> syn::Result<(TokenStream, TokenStream)> {
    let mut names = Vec::new();
    let mut reads = TokenStream::new();
    for field in &named.named {
        let attributes = FieldAttributes::read(&field.attrs)?;
        if attributes.flatten {
            return Err(syn::Error::new_spanned(
                field,
                "only writing knows `flatten`",
            ));
        }
        let ident = &field.ident;
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
            reads.extend(quote! { #ident: { let value = #value; fields.pass_text()?; value }, });
        } else {
            reads.extend(quote! { #ident: #value, });
        }
    }
    Ok((quote! { &[#(#names),*] }, reads))
}
