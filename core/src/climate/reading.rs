//! A look at the thermometer and at the entrance on the day itself.

use serde::Serialize;

use super::ALLOWED_C;
use crate::civil::{self, Instant};
use crate::error::Error;
use crate::wire::FromNode;

/// What was read and seen at one moment: it moves the usual and the early first flight of its day.
///
/// JSON: `{"at": "2026-07-20T08:30:00+10:00", "temperature_c": 14.5, "flying": false}`; `flying` may be
/// left out.
///
/// ```
/// use apiary_almanac::climate::Reading;
/// let reading = Reading::new("2026-07-20T08:30:00+10:00".parse()?, 14.5)?;
/// assert_eq!(reading.flying(), None);
/// assert!(Reading::new("2026-07-20T08:30:00+10:00".parse()?, 145.0).is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Wire")]
pub struct Reading {
    /// When it was read.
    at: Instant,
    /// Temperature in the shade, °C.
    temperature_c: f64,
    /// Whether bees flew at the entrance; not looked at where it is missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    flying: Option<bool>,
}

#[derive(Debug, Clone, Serialize, FromNode)]
struct Wire {
    at: Instant,
    temperature_c: f64,
    #[serde(default)]
    flying: Option<bool>,
}

impl Reading {
    /// A temperature in the shade.
    ///
    /// # Errors
    /// `out_of_range` for a date or a temperature that no weather has.
    ///
    /// ```
    /// use apiary_almanac::climate::Reading;
    /// // 79 °F on the dial, typed as °C.
    /// let error = Reading::new("2026-07-20T08:30:00+10:00".parse()?, 79.0).unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("out_of_range", "reading.temperature_c"));
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn new(at: Instant, temperature_c: f64) -> Result<Self, Error> {
        civil::check_date("reading.at", at.date_naive())?;
        let (low, high) = (*ALLOWED_C.start(), *ALLOWED_C.end());
        if !ALLOWED_C.contains(&temperature_c) {
            return Err(Error::out_of_range(
                "reading.temperature_c",
                temperature_c,
                format_args!("{low} to {high} °C"),
            ));
        }
        Ok(Reading {
            at,
            temperature_c,
            flying: None,
        })
    }

    /// The same with whether bees were seen to fly.
    ///
    /// ```
    /// use apiary_almanac::climate::Reading;
    /// let reading = Reading::new("2026-07-20T08:30:00+10:00".parse()?, 14.5)?.seen_flying(true);
    /// assert_eq!(reading.flying(), Some(true));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn seen_flying(self, flying: bool) -> Self {
        Reading {
            flying: Some(flying),
            ..self
        }
    }

    /// When.
    pub fn at(&self) -> Instant {
        self.at
    }

    /// Air in the shade, °C.
    pub fn temperature_c(&self) -> f64 {
        self.temperature_c
    }

    /// Whether bees flew, where that was looked at.
    pub fn flying(&self) -> Option<bool> {
        self.flying
    }
}

impl TryFrom<Wire> for Reading {
    type Error = Error;

    fn try_from(wire: Wire) -> Result<Self, Error> {
        let reading = Reading::new(wire.at, wire.temperature_c)?;
        Ok(Reading {
            flying: wire.flying,
            ..reading
        })
    }
}
