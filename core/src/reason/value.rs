//! What sentences are made with: numbers with their unit, dates, names, other sentences.

use std::borrow::Cow;
use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

use super::Reason;
use crate::civil::Instant;
use crate::wire::{self, FromNode, Node, Refusal};

/// A value of a sentence. In JSON: `kind` and `value`.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Value {
    /// How many: of days, boxes, months.
    Count {
        /// Whole or not.
        value: f64,
    },
    /// A number of days.
    Days {
        /// Whole or not.
        value: f64,
    },
    /// A number of flying days.
    FlyingDays {
        /// Whole or not.
        value: f64,
    },
    /// A sum of warmth, degree-days.
    DegreeDays {
        /// °C d.
        value: f64,
    },
    /// A temperature, °C.
    Temperature {
        /// °C.
        value: f64,
    },
    /// A difference of temperatures, °C.
    Difference {
        /// °C.
        value: f64,
    },
    /// A length or a height, m.
    Length {
        /// m.
        value: f64,
    },
    /// Rain, mm.
    Rain {
        /// mm.
        value: f64,
    },
    /// A speed of the wind, m/s.
    Speed {
        /// m/s.
        value: f64,
    },
    /// A time, h.
    Hours {
        /// h.
        value: f64,
    },
    /// A time, min.
    Minutes {
        /// min.
        value: f64,
    },
    /// A weight, kg.
    Weight {
        /// kg.
        value: f64,
    },
    /// An angle, °.
    Angle {
        /// °.
        value: f64,
    },
    /// A part of a whole; it is written as a percentage.
    Share {
        /// 0 to 1.
        value: f64,
    },
    /// A civil day.
    Date {
        /// The day.
        value: NaiveDate,
    },
    /// A moment.
    Moment {
        /// With the offset that the clocks of the site show.
        value: Instant,
    },
    /// A word of the catalogue.
    Word {
        /// Its name there, such as `weekday.monday`.
        value: Cow<'static, str>,
    },
    /// A rule of the season. Those that are built in have a word in the catalogue, `rule.` and the
    /// name; others are written as they are.
    Rule {
        /// The rule's name.
        value: String,
    },
    /// A name or a text as the user, a file or a source gives it.
    Name {
        /// The text.
        value: Cow<'static, str>,
    },
    /// The title of a task; it is written in quotation marks.
    Title {
        /// The text.
        value: Cow<'static, str>,
    },
    /// Another sentence.
    Reason {
        /// Without its `text`, which is part of this one.
        value: Box<Inside>,
    },
    /// Other sentences, to be written with commas between them.
    List {
        /// Each without its `text`.
        value: Vec<Inside>,
    },
}

/// A reason within another.
#[derive(Debug, Clone, PartialEq)]
pub struct Inside(pub Reason);

impl Serialize for Inside {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.0.write(to, true)
    }
}

impl FromNode for Inside {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        Reason::from_node(node).map(Inside)
    }
}

#[cfg(feature = "shapes")]
impl wire::shape::Shape for Inside {
    fn shape(shapes: &mut wire::shape::Shapes) -> wire::shape::Type {
        shapes.define::<Self>(
            "ReasonWithin",
            &["A reason within another, whose text it is part of."],
        )
    }

    fn body(shapes: &mut wire::shape::Shapes) -> wire::shape::Body {
        super::WrittenWithin::body(shapes)
    }
}

/// The values of a sentence, in the order of their names. In JSON an object.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Values(Vec<(Cow<'static, str>, Value)>);

impl Values {
    /// The value of a name.
    ///
    /// ```
    /// use apiary_almanac::place::{doubts, site};
    /// use apiary_almanac::reason::Value;
    /// // A page that shows feet puts its own number into the sentence.
    /// let hill = site(-28.81, 153.28, Some(2000.0), "Australia/Sydney")?;
    /// let values = doubts(&hill).remove(0).values;
    /// assert!(values.iter().any(|(_, value)| *value == Value::Length { value: 2000.0 }), "{values:?}");
    /// assert_eq!(values.get("wingspan"), None);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn get(&self, name: &str) -> Option<&Value> {
        let mut named = self.iter();
        named.find_map(|(known, value)| (known == name).then_some(value))
    }

    /// Every name with its value.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Value)> {
        self.0.iter().map(|(name, value)| (&**name, value))
    }

    /// True for a sentence without values.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// With one value more.
    pub(super) fn with<K: Kind>(mut self, name: &'static str, given: K::Given<'_>) -> Self {
        K::put(&mut self, name, given);
        self
    }

    pub(super) fn put(&mut self, name: &'static str, value: Value) {
        let place = self.0.partition_point(|(known, _)| **known < *name);
        self.0.insert(place, (Cow::Borrowed(name), value));
    }
}

impl Serialize for Values {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut map = to.serialize_map(Some(self.0.len()))?;
        for (name, value) in &self.0 {
            map.serialize_entry(name, value)?;
        }
        map.end()
    }
}

impl FromNode for Values {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        let named = BTreeMap::<String, Value>::from_node(node)?;
        let named = named
            .into_iter()
            .map(|(name, value)| (Cow::Owned(name), value));
        Ok(Values(named.collect()))
    }
}

#[cfg(feature = "shapes")]
impl wire::shape::Shape for Values {
    fn shape(shapes: &mut wire::shape::Shapes) -> wire::shape::Type {
        BTreeMap::<String, Value>::shape(shapes)
    }
}

impl<'de> serde::Deserialize<'de> for Values {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        wire::deserialize(from)
    }
}

/// A kind of value as the catalogue names it, and what a sentence is given for it.
pub(crate) trait Kind {
    type Given<'a>;
    /// As in JSON.
    const NAME: &'static str;
    /// Whether a sentence can do without it.
    const OPTIONAL: bool = false;
    fn put(values: &mut Values, name: &'static str, given: Self::Given<'_>);
}

/// For a value that may be missing; the part of the sentence in brackets around it is then left out.
impl<K: Kind> Kind for Option<K> {
    type Given<'a> = Option<K::Given<'a>>;
    const NAME: &'static str = K::NAME;
    const OPTIONAL: bool = true;

    fn put(values: &mut Values, name: &'static str, given: Self::Given<'_>) {
        if let Some(given) = given {
            K::put(values, name, given);
        }
    }
}

macro_rules! names {
    ($($kind:ident $name:literal: $value:expr;)*) => {$(
        pub(crate) struct $kind;

        impl Kind for $kind {
            type Given<'a> = &'a str;
            const NAME: &'static str = $name;

            #[inline(never)]
            fn put(values: &mut Values, name: &'static str, given: &str) {
                let value: fn(String) -> Value = $value;
                values.put(name, value(given.to_owned()));
            }
        }
    )*};
}

names! {
    Rule "rule": |value| Value::Rule { value };
    Name "name": |value| Value::Name { value: Cow::Owned(value) };
}

macro_rules! kinds {
    ($($kind:ident $name:literal: $given:ty, $value:expr;)*) => {$(
        pub(crate) struct $kind;

        impl Kind for $kind {
            type Given<'a> = $given;
            const NAME: &'static str = $name;

            #[inline(never)]
            fn put(values: &mut Values, name: &'static str, given: $given) {
                let value: fn($given) -> Value = $value;
                values.put(name, value(given));
            }
        }
    )*};
}

kinds! {
    Count "count": f64, |value| Value::Count { value };
    Counted "days, flying_days or degree_days": Value, |value| value;
    Temperature "temperature": f64, |value| Value::Temperature { value };
    Difference "difference": f64, |value| Value::Difference { value };
    Angle "angle": f64, |value| Value::Angle { value };
    Length "length": f64, |value| Value::Length { value };
    Rain "rain": f64, |value| Value::Rain { value };
    Speed "speed": f64, |value| Value::Speed { value };
    Hours "hours": f64, |value| Value::Hours { value };
    Minutes "minutes": f64, |value| Value::Minutes { value };
    Weight "weight": f64, |value| Value::Weight { value };
    // In whole parts of a hundred, as it is said: what lies beyond is noise of the reckoning.
    Share "share": f64, |value| Value::Share { value: (value * 100.0).round() / 100.0 };
    Date "date": NaiveDate, |value| Value::Date { value };
    Moment "moment": Instant, |value| Value::Moment { value };
    Wording "word": &'static str, |value| Value::Word { value: Cow::Borrowed(value) };
    Named "title or word": Value, |value| value;
    Inner "reason": Reason, |value| Value::Reason { value: Box::new(Inside(value)) };
    List "list": Vec<Reason>, |value| Value::List { value: value.into_iter().map(Inside).collect() };
}
