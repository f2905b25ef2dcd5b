//! Whether every number of a value is finite. JSON has no word for others: they would be written as
//! `null`, and be read as a value that is missing. Debug builds look; tests run as such.

use std::fmt;

use serde::{Serialize, ser};

/// Whether every number in it is finite.
pub(super) fn is_finite(value: &impl Serialize) -> bool {
    value.serialize(Looking).is_ok()
}

/// A serializer that writes nothing and stops at a number that is not finite.
#[derive(Clone, Copy)]
struct Looking;

/// What stops it.
#[derive(Debug, thiserror::Error)]
#[error("a number is not finite")]
struct NotFinite;

impl ser::Error for NotFinite {
    fn custom<T: fmt::Display>(_: T) -> Self {
        NotFinite
    }
}

type Found = Result<(), NotFinite>;

/// Methods for what holds no such number.
macro_rules! harmless {
    ($($method:ident($($given:ty),*))*) => {
        $(fn $method(self $(, _: $given)*) -> Found { Ok(()) })*
    };
}

/// Methods for what holds values: those follow one by one.
macro_rules! entered {
    ($($method:ident($($given:ty),*))*) => {
        $(fn $method(self $(, _: $given)*) -> Result<Self, NotFinite> { Ok(self) })*
    };
}

/// How the values of such a thing are handed over.
macro_rules! followed {
    ($($kind:ident: $($method:ident($($given:ty)?)),*;)*) => {$(
        impl ser::$kind for Looking {
            type Ok = ();
            type Error = NotFinite;
            $(
                fn $method<T: Serialize + ?Sized>(&mut self, $(_: $given,)? value: &T) -> Found {
                    value.serialize(*self)
                }
            )*
            fn end(self) -> Found { Ok(()) }
        }
    )*};
}

impl ser::Serializer for Looking {
    type Ok = ();
    type Error = NotFinite;
    type SerializeSeq = Self;
    type SerializeTuple = Self;
    type SerializeTupleStruct = Self;
    type SerializeTupleVariant = Self;
    type SerializeMap = Self;
    type SerializeStruct = Self;
    type SerializeStructVariant = Self;

    fn serialize_f32(self, number: f32) -> Found {
        self.serialize_f64(number.into())
    }

    fn serialize_f64(self, number: f64) -> Found {
        number.is_finite().then_some(()).ok_or(NotFinite)
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Found {
        value.serialize(self)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Found {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        value: &T,
    ) -> Found {
        value.serialize(self)
    }

    harmless! {
        serialize_bool(bool)
        serialize_i8(i8)
        serialize_i16(i16)
        serialize_i32(i32)
        serialize_i64(i64)
        serialize_u8(u8)
        serialize_u16(u16)
        serialize_u32(u32)
        serialize_u64(u64)
        serialize_char(char)
        serialize_str(&str)
        serialize_bytes(&[u8])
        serialize_none()
        serialize_unit()
        serialize_unit_struct(&'static str)
        serialize_unit_variant(&'static str, u32, &'static str)
    }

    entered! {
        serialize_seq(Option<usize>)
        serialize_tuple(usize)
        serialize_tuple_struct(&'static str, usize)
        serialize_tuple_variant(&'static str, u32, &'static str, usize)
        serialize_map(Option<usize>)
        serialize_struct(&'static str, usize)
        serialize_struct_variant(&'static str, u32, &'static str, usize)
    }
}

followed! {
    SerializeSeq: serialize_element();
    SerializeTuple: serialize_element();
    SerializeTupleStruct: serialize_field();
    SerializeTupleVariant: serialize_field();
    SerializeMap: serialize_key(), serialize_value();
    SerializeStruct: serialize_field(&'static str);
    SerializeStructVariant: serialize_field(&'static str);
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;

    #[derive(Serialize)]
    #[serde(tag = "kind")]
    enum Kind {
        Inner { number: Option<f64> },
    }

    #[derive(Serialize)]
    struct Whole {
        list: Vec<(u8, Kind)>,
        names: BTreeMap<&'static str, f64>,
        #[serde(flatten)]
        more: Kind,
    }

    #[test]
    fn a_number_is_found_wherever_it_is() {
        let whole = |in_list, in_map, in_more| Whole {
            list: vec![
                (1, Kind::Inner { number: None }),
                (2, Kind::Inner { number: in_list }),
            ],
            names: [("one", in_map)].into(),
            more: Kind::Inner { number: in_more },
        };
        assert!(is_finite(&whole(Some(1.0), f64::MAX, None)));
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(!is_finite(&whole(Some(bad), 1.0, None)));
            assert!(!is_finite(&whole(None, bad, None)));
            assert!(!is_finite(&whole(None, 1.0, Some(bad))));
        }
        assert!(!is_finite(&f32::NAN));
    }
}
