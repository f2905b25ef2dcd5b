//! Numbers that carry their unit, their range and where they come from.

use serde::Serialize;

use crate::error::Error;
use crate::wire::FromNode;

pub use crate::reason::COMMON_PRACTICE;

/// A parameter: value, unit, allowed range and source.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct Sourced {
    /// The number.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// Lowest value that makes sense.
    pub lowest: f64,
    /// Highest value that makes sense.
    pub highest: f64,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

impl Sourced {
    pub(crate) fn new(value: f64, unit: &str, lowest: f64, highest: f64, source: &str) -> Self {
        Sourced {
            value,
            unit: unit.to_owned(),
            lowest,
            highest,
            source: source.to_owned(),
        }
    }

    /// For the declarations of [`numbers`].
    pub(crate) fn within(
        value: f64,
        unit: &str,
        range: std::ops::RangeInclusive<f64>,
        source: &str,
    ) -> Self {
        Sourced::new(value, unit, *range.start(), *range.end(), source)
    }

    /// The same parameter with a user's own value.
    ///
    /// # Errors
    /// `out_of_range`, naming `field`, when the value is not a number within the range.
    ///
    /// ```
    /// use apiary_almanac::morning::MorningSettings;
    /// let settings = MorningSettings::default();
    /// let margin = settings.margin_min();
    /// let own = margin.overridden("margin_min", 25.0, "our trailer is slow")?;
    /// assert_eq!((own.value, own.source.as_str()), (25.0, "our trailer is slow"));
    /// assert!(margin.overridden("margin_min", -5.0, "").is_err());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn overridden(&self, field: &str, value: f64, source: &str) -> Result<Self, Error> {
        let new = Sourced {
            value,
            source: source.to_owned(),
            ..self.clone()
        };
        new.check(field)?;
        Ok(new)
    }

    /// Refuses a value outside its own range.
    ///
    /// # Errors
    /// `out_of_range`, naming `field`.
    ///
    /// ```
    /// use apiary_almanac::{Sourced, number::COMMON_PRACTICE};
    /// let box_weight = Sourced {
    ///     value: 40.0,
    ///     unit: "kg".to_owned(),
    ///     lowest: 0.5,
    ///     highest: 25.0,
    ///     source: COMMON_PRACTICE.to_owned(),
    /// };
    /// let error = box_weight.check("box_weight_kg").unwrap_err();
    /// assert_eq!(error.to_string(), "box_weight_kg is 40; allowed is 0.5 to 25 kg");
    /// ```
    pub fn check(&self, field: &str) -> Result<(), Error> {
        if self.value.is_finite() && (self.lowest..=self.highest).contains(&self.value) {
            Ok(())
        } else {
            Err(Error::out_of_range(
                field,
                self.value,
                format_args!("{} to {} {}", self.lowest, self.highest, self.unit),
            ))
        }
    }
}

/// Declares default numbers, each once: from one line follow the field of the settings with its
/// default, unit, range and source, the field of a user's own numbers, and the list of all.
///
/// The first struct holds the numbers, and beside them fields with another type and their default. The
/// second, which may be missing, holds a user's own; other fields of its own stand in its braces.
macro_rules! numbers {
    (
        $(#[$about:meta])*
        pub struct $settings:ident {
            $($(#[$also_about:meta])* $also:ident: $also_type:ty = $also_default:expr,)*
        }
        $(#[$own_about:meta])*
        pub struct $own:ident {
            $($(#[$extra_about:meta])* pub $extra:ident: $extra_type:ty,)*
        }
        $(
            $(#[$doc:meta])*
            $name:ident: $own_type:ty = $value:expr, $unit:expr, $range:expr, $source:expr;
        )+
    ) => {
        $crate::number::numbers! {
            $(#[$about])*
            pub struct $settings {
                $($(#[$also_about])* $also: $also_type = $also_default,)*
            }
            $($(#[$doc])* $name = $value, $unit, $range, $source;)+
        }

        $(#[$own_about])*
        #[derive(
            Debug, Clone, Default, PartialEq, serde::Serialize, $crate::wire::FromNode,
            derive_setters::Setters,
        )]
        #[setters(into, strip_option, prefix = "with_")]
        #[non_exhaustive]
        #[serde(default)]
        pub struct $own {
            $($(#[$extra_about])* pub $extra: $extra_type,)*
            $(
                $(#[$doc])*
                #[serde(skip_serializing_if = "Option::is_none")]
                pub $name: Option<$own_type>,
            )+
        }

        impl $settings {
            /// Puts a user's own numbers in the place of the defaults, and refuses a number outside
            /// its range.
            fn take_own(&mut self, own: &$own) -> Result<(), $crate::error::Error> {
                $(if let Some(value) = own.$name {
                    let field = stringify!($name);
                    self.$name = self.$name.overridden(field, value.into(), "set by the user")?;
                })+
                Ok(())
            }
        }
    };
    (
        $(#[$about:meta])*
        pub struct $settings:ident {
            $($(#[$also_about:meta])* $also:ident: $also_type:ty = $also_default:expr,)*
        }
        $($(#[$doc:meta])* $name:ident = $value:expr, $unit:expr, $range:expr, $source:expr;)+
    ) => {
        $(#[$about])*
        #[derive(Debug, Clone, PartialEq, serde::Serialize, getset::Getters, $crate::wire::Shape)]
        #[getset(get = "pub")]
        pub struct $settings {
            $($(#[$also_about])* pub(crate) $also: $also_type,)*
            $($(#[$doc])* pub(crate) $name: $crate::number::Sourced,)+
        }

        impl Default for $settings {
            fn default() -> Self {
                $settings {
                    $($also: $also_default,)*
                    $($name: $crate::number::Sourced::within($value, $unit, $range, $source),)+
                }
            }
        }

        impl $settings {
            /// Every number with its name, in a fixed order.
            pub fn parameters(&self) -> Vec<(&'static str, &$crate::number::Sourced)> {
                vec![$((stringify!($name), &self.$name)),+]
            }
        }
    };
}
pub(crate) use numbers;
