//! What a type looks like in JSON, for those who write it down in other languages.
//!
//! It is compiled with the feature `shapes` of the engine only.

use proc_macro2::TokenStream;
use quote::{ToTokens, quote};
use syn::{Attribute, Data, DataEnum, DeriveInput, Expr, Fields, FieldsNamed, Meta};

use crate::attributes::{Absent, FieldAttributes, TypeAttributes, literal, variant_name};

/// Writes `Shape` for a type.
pub fn implementation(input: &DeriveInput) -> syn::Result<TokenStream> {
    let name = &input.ident;
    let text = literal(&name.to_string());
    let about = docs(&input.attrs);
    let body = body(input)?;
    Ok(quote! {
        #[cfg(feature = "shapes")]
        #[automatically_derived]
        impl crate::wire::shape::Shape for #name {
            fn shape(shapes: &mut crate::wire::shape::Shapes) -> crate::wire::shape::Type {
                shapes.define::<Self>(#text, #about)
            }

            fn body(shapes: &mut crate::wire::shape::Shapes) -> crate::wire::shape::Body {
                #body
            }
        }
    })
}

fn body(input: &DeriveInput) -> syn::Result<TokenStream> {
    let attributes = TypeAttributes::read(&input.attrs)?;
    if let Some(wire) = attributes.like.as_ref().or(attributes.through.as_ref()) {
        let own = match &input.data {
            Data::Struct(data) => own_docs(&data.fields),
            _ => TokenStream::new(),
        };
        return Ok(quote! {
            <#wire as crate::wire::shape::Shape>::body(shapes).documented(&[#own])
        });
    }
    match &input.data {
        Data::Struct(data) => of_struct(&data.fields, attributes.default),
        Data::Enum(data) => of_enum(data, &attributes),
        Data::Union(_) => Err(syn::Error::new_spanned(input, "a union has no shape")),
    }
}

fn of_struct(fields: &Fields, default: bool) -> syn::Result<TokenStream> {
    match fields {
        Fields::Named(named) => {
            let fields = of_named(named, default)?;
            Ok(quote! { crate::wire::shape::Body::Fields(#fields) })
        }
        Fields::Unnamed(unnamed) if unnamed.unnamed.len() == 1 => {
            let only = unnamed.unnamed.first().map(|field| &field.ty);
            Ok(quote! { <#only as crate::wire::shape::Shape>::body(shapes) })
        }
        other => Err(syn::Error::new_spanned(other, "this has no shape")),
    }
}

fn of_enum(data: &DataEnum, attributes: &TypeAttributes) -> syn::Result<TokenStream> {
    let mut variants = TokenStream::new();
    for variant in &data.variants {
        let ident = literal(&variant.ident.to_string());
        let name = literal(&variant_name(variant, attributes)?);
        let about = docs(&variant.attrs);
        let fields = match &variant.fields {
            Fields::Unit => quote! { ::std::default::Default::default() },
            Fields::Named(named) => of_named(named, false)?,
            Fields::Unnamed(unnamed) => {
                let only = unnamed.unnamed.first().map(|field| &field.ty);
                quote! { crate::wire::shape::FieldList::like::<#only>(shapes) }
            }
        };
        variants.extend(quote! {
            crate::wire::shape::Variant::new(#ident, #name, #about, #fields),
        });
    }
    let tag = match &attributes.tag {
        Some(tag) => {
            let tag = literal(tag);
            quote! { ::core::option::Option::Some(#tag) }
        }
        None => quote! { ::core::option::Option::None },
    };
    Ok(quote! { crate::wire::shape::Body::of_variants(#tag, ::std::vec![#variants]) })
}

fn of_named(named: &FieldsNamed, default: bool) -> syn::Result<TokenStream> {
    let mut steps = TokenStream::new();
    for field in &named.named {
        let attributes = FieldAttributes::read(&field.attrs)?;
        let kind = &field.ty;
        let shape = match &attributes.with {
            // A function that reads a field has a module of its own name, in which its shape stands.
            Some(function) => quote! { #function::shape(shapes) },
            None => quote! { <#kind as crate::wire::shape::Shape>::shape(shapes) },
        };
        if attributes.flatten {
            steps.extend(quote! { fields.rest_of(#shape); });
            continue;
        }
        let shape = match attributes.completed {
            true => quote! { crate::wire::shape::Type::Nullable(::std::boxed::Box::new(#shape)) },
            false => shape,
        };
        let ident = &field.ident;
        let own = ident.to_token_stream().to_string();
        let name = literal(attributes.rename.as_deref().unwrap_or(&own));
        let about = docs(&field.attrs);
        let absent = match &attributes.default {
            Some(Absent::Default) => {
                written(quote! { <#kind as ::core::default::Default>::default() })
            }
            Some(Absent::Function(function)) => written(quote! { #function() }),
            None if default => {
                written(quote! { <Self as ::core::default::Default>::default().#ident })
            }
            None => quote! { ::core::option::Option::None },
        };
        let skipped = attributes.skipped || attributes.completed;
        steps.extend(quote! {
            let shape = #shape;
            fields.add(#name, #about, shape, #absent, #skipped);
        });
        if attributes.clock {
            let name = literal(&format!("{}_clock", name.value()));
            steps.extend(quote! { fields.clock_text(#name, #skipped); });
        }
    }
    Ok(quote! { {
        let mut fields = crate::wire::shape::FieldList::default();
        #steps
        fields
    } })
}

fn written(value: TokenStream) -> TokenStream {
    quote! { ::core::option::Option::Some(crate::wire::to_json(&#value)) }
}

/// What is said of the fields of a checked type: name and lines.
fn own_docs(fields: &Fields) -> TokenStream {
    let named = fields.iter().filter_map(|field| {
        let name = literal(&field.ident.as_ref()?.to_string());
        let about = docs(&field.attrs);
        Some(quote! { (#name, #about), })
    });
    named.collect()
}

/// The lines of documentation.
fn docs(attributes: &[Attribute]) -> TokenStream {
    let lines = attributes.iter().filter_map(documentation);
    quote! { &[#(#lines),*] }
}

fn documentation(attribute: &Attribute) -> Option<&Expr> {
    match &attribute.meta {
        Meta::NameValue(pair) if pair.path.is_ident("doc") => Some(&pair.value),
        _ => None,
    }
}
