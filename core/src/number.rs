//! Numbers that carry their unit, their range and where they come from.

use serde::Serialize;

use crate::error::Error;
use crate::wire::FromNode;

/// The words that stand in `source` where a number has no publication behind it.
pub const COMMON_PRACTICE: &str = "common practice, no source";

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
    /// Publication, or [`COMMON_PRACTICE`].
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

    /// The same parameter with a user's own value.
    ///
    /// # Errors
    /// `out_of_range`, naming `field`, when the value is not a number within the range.
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

/// For a struct of numbers and the struct of a user's own: lists the numbers by name, and puts the
/// user's in their place.
macro_rules! own_numbers {
    ($settings:ty, $own:ty, $count:literal, [$($name:ident),+ $(,)?]) => {
        impl $settings {
            /// Every number with its name, in a fixed order.
            pub fn parameters(&self) -> [(&'static str, &$crate::number::Sourced); $count] {
                [$((stringify!($name), &self.$name)),+]
            }

            /// Refuses a number outside its range.
            fn take_own(&mut self, own: &$own) -> Result<(), $crate::error::Error> {
                $(if let Some(value) = own.$name {
                    let field = stringify!($name);
                    self.$name = self.$name.overridden(field, value, "set by the user")?;
                })+
                Ok(())
            }
        }
    };
}
pub(crate) use own_numbers;
