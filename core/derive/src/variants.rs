//! The variants of an enum.

use proc_macro2::TokenStream;
use quote::quote;
use syn::{DataEnum, Fields, Variant};

use crate::attributes::{TypeAttributes, literal, variant_name};
use crate::fields::of_variant;

/// Reads an enum: by the value of its tag, or else as a name, or as an object whose only field has
/// the name of the variant.
pub fn of_enum(data: &DataEnum, attributes: &TypeAttributes) -> syn::Result<TokenStream> {
    let mut names = Vec::new();
    let mut arms = TokenStream::new();
    for (index, variant) in data.variants.iter().enumerate() {
        let name = variant_name(variant, attributes)?;
        names.push(literal(&name));
        let value = match attributes.tag {
            Some(_) => tagged(variant)?,
            None => named(variant)?,
        };
        // The last arm takes the rest, so that no arm is needed for what cannot be.
        let pattern = match index + 1 == data.variants.len() {
            true => quote! { _ },
            false => quote! { #index },
        };
        arms.extend(quote! { #pattern => #value, });
    }
    let found = match &attributes.tag {
        Some(tag) => {
            let tag = literal(tag);
            quote! { let (index, mut fields) = crate::wire::Fields::tagged(node, #tag, NAMES)?; }
        }
        None => quote! { let (index, value) = node.variant(NAMES)?; },
    };
    Ok(quote! {
        const NAMES: &[&str] = &[#(#names),*];
        #found
        ::core::result::Result::Ok(match index { #arms })
    })
}

/// A variant whose fields stand beside the tag.
fn tagged(variant: &Variant) -> syn::Result<TokenStream> {
    let ident = &variant.ident;
    match &variant.fields {
        Fields::Unit => Ok(quote! { { fields.expect(&[])?; Self::#ident } }),
        Fields::Named(named) => {
            let (names, reads) = of_variant(named)?;
            Ok(quote! { { fields.expect(#names)?; Self::#ident { #reads } } })
        }
        Fields::Unnamed(unnamed) if unnamed.unnamed.len() == 1 => {
            Ok(quote! { Self::#ident(fields.together()?) })
        }
        Fields::Unnamed(_) => Err(too_many(variant)),
    }
}

/// A variant that stands alone as a name, or as the value of a field of that name.
fn named(variant: &Variant) -> syn::Result<TokenStream> {
    let ident = &variant.ident;
    match &variant.fields {
        Fields::Unit => Ok(quote! { { value.nothing()?; Self::#ident } }),
        Fields::Unnamed(unnamed) if unnamed.unnamed.len() == 1 => {
            Ok(quote! { Self::#ident(value.read()?) })
        }
        Fields::Named(named) => {
            let (names, reads) = of_variant(named)?;
            Ok(quote! { {
                let mut fields = value.fields(#names)?;
                Self::#ident { #reads }
            } })
        }
        Fields::Unnamed(_) => Err(too_many(variant)),
    }
}

fn too_many(variant: &Variant) -> syn::Error {
    syn::Error::new_spanned(variant, "a variant has one value or named fields")
}
