//! Values as JSON.
//!
//! Writing into a text cannot fail, so there is no error to hand from value to value: of the code
//! that serde makes for every type, the larger part falls away. Pages load the difference.

use std::fmt::{self, Display, Write};

use serde::ser::{
    self, Serialize, SerializeMap, SerializeSeq, SerializeStruct, SerializeStructVariant,
    SerializeTuple, SerializeTupleStruct, SerializeTupleVariant, Serializer,
};

/// Writes a value as JSON (RFC 8259): numbers in the fewest digits that read back the same, those
/// that are not finite as `null`.
pub(crate) fn to_json(value: &impl Serialize) -> String {
    let mut text = Text(String::new());
    match value.serialize(&mut text) {
        Ok(()) => text.0,
        Err(never) => match never {},
    }
}

/// There is no way to fail.
#[derive(Debug)]
enum Never {}

impl Display for Never {
    fn fmt(&self, _: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {}
    }
}

impl std::error::Error for Never {}

impl ser::Error for Never {
    /// For types that refuse to be written; no type of the engine does.
    fn custom<T: Display>(_: T) -> Self {
        std::process::abort()
    }
}

type Done = Result<(), Never>;

struct Text(String);

impl Text {
    #[inline(never)]
    fn raw(&mut self, text: &str) {
        self.0.push_str(text);
    }

    #[inline(never)]
    fn display(&mut self, value: &dyn Display) {
        // A String takes everything.
        let _ = write!(self.0, "{value}");
    }

    #[inline(never)]
    fn quoted(&mut self, text: &str) {
        self.0.push('"');
        for letter in text.chars() {
            match letter {
                '"' => self.0.push_str("\\\""),
                '\\' => self.0.push_str("\\\\"),
                '\n' => self.0.push_str("\\n"),
                '\r' => self.0.push_str("\\r"),
                '\t' => self.0.push_str("\\t"),
                '\u{8}' => self.0.push_str("\\b"),
                '\u{c}' => self.0.push_str("\\f"),
                '\0'..='\u{1f}' => {
                    let _ = write!(self.0, "\\u{:04x}", u32::from(letter));
                }
                _ => self.0.push(letter),
            }
        }
        self.0.push('"');
    }

    /// The name of a variant, before its value.
    #[inline(never)]
    fn variant(&mut self, name: &str) {
        self.raw("{");
        self.quoted(name);
        self.raw(":");
    }

    #[inline(never)]
    fn open<'t>(&'t mut self, bracket: &str, close: &'static str) -> Open<'t> {
        self.raw(bracket);
        Open {
            text: self,
            close,
            first: true,
        }
    }
}

/// A list or an object that is being written.
struct Open<'t> {
    text: &'t mut Text,
    close: &'static str,
    first: bool,
}

impl Open<'_> {
    #[inline(never)]
    fn next(&mut self) {
        if !self.first {
            self.text.raw(",");
        }
        self.first = false;
    }

    #[inline(never)]
    fn name(&mut self, name: &str) {
        self.next();
        self.text.quoted(name);
        self.text.raw(":");
    }

    fn element<T: Serialize + ?Sized>(&mut self, value: &T) -> Done {
        self.next();
        value.serialize(&mut *self.text)
    }

    fn field<T: Serialize + ?Sized>(&mut self, name: &str, value: &T) -> Done {
        self.name(name);
        value.serialize(&mut *self.text)
    }

    #[inline(never)]
    fn close(self) -> Done {
        self.text.raw(self.close);
        Ok(())
    }
}

macro_rules! displayed {
    ($($method:ident: $number:ty),*) => {$(
        fn $method(self, value: $number) -> Done {
            self.display(&value);
            Ok(())
        }
    )*};
}

impl<'t> Serializer for &'t mut Text {
    type Ok = ();
    type Error = Never;
    type SerializeSeq = Open<'t>;
    type SerializeTuple = Open<'t>;
    type SerializeTupleStruct = Open<'t>;
    type SerializeTupleVariant = Open<'t>;
    type SerializeMap = Open<'t>;
    type SerializeStruct = Open<'t>;
    type SerializeStructVariant = Open<'t>;

    displayed!(
        serialize_bool: bool, serialize_i8: i8, serialize_i16: i16, serialize_i32: i32,
        serialize_i64: i64, serialize_u8: u8, serialize_u16: u16,
        serialize_u32: u32, serialize_u64: u64
    );

    fn serialize_f32(self, value: f32) -> Done {
        self.serialize_f64(value.into())
    }

    #[inline(never)]
    fn serialize_f64(self, value: f64) -> Done {
        if value.is_finite() {
            // Debug, unlike Display, marks it as a number with decimals and uses exponents.
            let _ = write!(self.0, "{value:?}");
        } else {
            self.raw("null");
        }
        Ok(())
    }

    fn serialize_char(self, value: char) -> Done {
        self.serialize_str(value.encode_utf8(&mut [0; 4]))
    }

    fn serialize_str(self, value: &str) -> Done {
        self.quoted(value);
        Ok(())
    }

    fn serialize_bytes(self, value: &[u8]) -> Done {
        self.collect_seq(value)
    }

    fn serialize_none(self) -> Done {
        self.serialize_unit()
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Done {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Done {
        self.raw("null");
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Done {
        self.serialize_unit()
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, variant: &'static str) -> Done {
        self.serialize_str(variant)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Done {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        value: &T,
    ) -> Done {
        self.variant(variant);
        value.serialize(&mut *self)?;
        self.raw("}");
        Ok(())
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Open<'t>, Never> {
        Ok(self.open("[", "]"))
    }

    fn serialize_tuple(self, _: usize) -> Result<Open<'t>, Never> {
        Ok(self.open("[", "]"))
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Open<'t>, Never> {
        Ok(self.open("[", "]"))
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        _: usize,
    ) -> Result<Open<'t>, Never> {
        self.variant(variant);
        Ok(self.open("[", "]}"))
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Open<'t>, Never> {
        Ok(self.open("{", "}"))
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Open<'t>, Never> {
        Ok(self.open("{", "}"))
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        _: usize,
    ) -> Result<Open<'t>, Never> {
        self.variant(variant);
        Ok(self.open("{", "}}"))
    }
}

macro_rules! elements {
    ($($part:ident $method:ident),*) => {$(
        impl $part for Open<'_> {
            type Ok = ();
            type Error = Never;

            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Done {
                self.element(value)
            }

            fn end(self) -> Done {
                self.close()
            }
        }
    )*};
}

elements!(
    SerializeSeq serialize_element, SerializeTuple serialize_element,
    SerializeTupleStruct serialize_field, SerializeTupleVariant serialize_field
);

macro_rules! fields {
    ($($part:ident),*) => {$(
        impl $part for Open<'_> {
            type Ok = ();
            type Error = Never;

            fn serialize_field<T: Serialize + ?Sized>(
                &mut self,
                name: &'static str,
                value: &T,
            ) -> Done {
                self.field(name, value)
            }

            fn end(self) -> Done {
                self.close()
            }
        }
    )*};
}

fields!(SerializeStruct, SerializeStructVariant);

/// The engine's maps have names as keys.
impl SerializeMap for Open<'_> {
    type Ok = ();
    type Error = Never;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Done {
        self.element(key)
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Done {
        self.text.raw(":");
        value.serialize(&mut *self.text)
    }

    fn end(self) -> Done {
        self.close()
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use proptest::prelude::*;
    use serde::Serialize;

    use super::*;

    #[derive(Debug, Serialize)]
    struct Everything {
        names: BTreeMap<String, Option<i64>>,
        pair: (u8, bool),
        nothing: (),
        alone: Alone,
        variants: Vec<Variant>,
        letter: char,
        #[serde(flatten)]
        beside: Beside,
    }

    #[derive(Debug, Serialize)]
    struct Alone(u64);

    #[derive(Debug, Serialize)]
    struct Beside {
        text: String,
        whole: f64,
    }

    #[derive(Debug, Serialize)]
    enum Variant {
        Unit,
        Newtype(u8),
        Tuple(u8, String),
        Struct { a: Option<u8>, b: Vec<u8> },
    }

    /// The reference is `serde_json`, whose writer shares no code with this one. Numbers with
    /// decimals may have another exponent form there, so they are whole and small here.
    fn as_serde_json(value: &impl Serialize) {
        assert_eq!(to_json(value), serde_json::to_string(value).unwrap());
    }

    proptest! {
        #[test]
        fn as_serde_json_writes(
            names in prop::collection::btree_map(any::<String>(), any::<Option<i64>>(), 0..4),
            pair in any::<(u8, bool)>(),
            alone in any::<u64>(),
            letter in any::<char>(),
            text in any::<String>(),
            bytes in prop::collection::vec(any::<u8>(), 0..3),
            whole in -1000..1000_i32,
        ) {
            as_serde_json(&Everything {
                names,
                pair,
                nothing: (),
                alone: Alone(alone),
                variants: vec![
                    Variant::Unit,
                    Variant::Newtype(pair.0),
                    Variant::Tuple(pair.0, text.clone()),
                    Variant::Struct { a: bytes.first().copied(), b: bytes },
                ],
                letter,
                beside: Beside { text, whole: whole.into() },
            });
        }

        #[test]
        fn numbers_read_back_as_they_were(value in any::<f64>()) {
            let again: Option<f64> = serde_json::from_str(&to_json(&value)).unwrap();
            prop_assert_eq!(again, Some(value).filter(|value| value.is_finite()));
        }
    }
}
