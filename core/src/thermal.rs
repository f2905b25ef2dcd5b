//! Degree-days of a day from its minimum and maximum.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::climate::{ALLOWED_C, DayTemperatures};
use crate::error::Error;
use crate::reading::deserialize_through;

/// The shape that stands for the day between minimum and maximum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DayShape {
    /// One sine wave: Baskerville & Emin 1969, Ecology 50:514–517.
    #[default]
    SingleSine,
    /// One triangle: straight up and straight down.
    SingleTriangle,
}

/// Counts degree-days above a lower threshold; warmth above the upper threshold, where there is
/// one, counts no more than the upper threshold itself (horizontal cut-off).
///
/// ```
/// use apiary_almanac::thermal::{DayShape, DegreeDays};
/// let count = DegreeDays::new(DayShape::SingleSine, 12.0, Some(33.0))?;
/// assert!((count.of(7.0, 14.0)? - 0.468).abs() < 0.0005);
/// assert!(DegreeDays::new(DayShape::SingleSine, 33.0, Some(12.0)).is_err());
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(into = "Wire")]
pub struct DegreeDays {
    wire: Wire,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    #[serde(default)]
    shape: DayShape,
    lower_c: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    upper_c: Option<f64>,
}

impl DegreeDays {
    /// Takes the shape of the day and the thresholds, °C.
    ///
    /// # Errors
    /// `out_of_range` for a threshold outside −60 to 60 °C, `inconsistent` where the upper one is
    /// not above the lower one.
    pub fn new(shape: DayShape, lower_c: f64, upper_c: Option<f64>) -> Result<Self, Error> {
        Wire {
            shape,
            lower_c,
            upper_c,
        }
        .try_into()
    }

    /// The lower threshold, °C.
    pub fn lower_c(&self) -> f64 {
        self.wire.lower_c
    }

    /// The upper threshold, °C.
    pub fn upper_c(&self) -> Option<f64> {
        self.wire.upper_c
    }

    /// Degree-days of a day with this minimum and maximum, °C·d.
    ///
    /// # Errors
    /// `out_of_range` for a temperature outside −60 to 60 °C, `inconsistent` for a minimum above
    /// its maximum.
    pub fn of(&self, minimum_c: f64, maximum_c: f64) -> Result<f64, Error> {
        check("minimum_c", minimum_c)?;
        check("maximum_c", maximum_c)?;
        if minimum_c > maximum_c {
            return Err(Error::Inconsistent {
                field: "minimum_c, maximum_c".to_owned(),
                problem: format!("the minimum {minimum_c} °C is above the maximum {maximum_c} °C"),
            });
        }
        let above = |threshold_c| match self.wire.shape {
            DayShape::SingleSine => sine_above(minimum_c, maximum_c, threshold_c),
            DayShape::SingleTriangle => triangle_above(minimum_c, maximum_c, threshold_c),
        };
        Ok(above(self.wire.lower_c) - self.wire.upper_c.map_or(0.0, above))
    }

    /// Degree-days of a day, °C·d.
    ///
    /// # Errors
    /// As [`DegreeDays::of`].
    pub fn of_day(&self, day: &DayTemperatures) -> Result<f64, Error> {
        self.of(day.minimum_c, day.maximum_c)
    }
}

fn sine_above(minimum_c: f64, maximum_c: f64, threshold_c: f64) -> f64 {
    let mean = f64::midpoint(minimum_c, maximum_c);
    if threshold_c <= minimum_c {
        return mean - threshold_c;
    }
    if threshold_c >= maximum_c {
        return 0.0;
    }
    let half_range = (maximum_c - minimum_c) / 2.0;
    let crossing = ((threshold_c - mean) / half_range).clamp(-1.0, 1.0).asin();
    ((mean - threshold_c) * (PI / 2.0 - crossing) + half_range * crossing.cos()) / PI
}

fn triangle_above(minimum_c: f64, maximum_c: f64, threshold_c: f64) -> f64 {
    if threshold_c <= minimum_c {
        return f64::midpoint(minimum_c, maximum_c) - threshold_c;
    }
    if threshold_c >= maximum_c {
        return 0.0;
    }
    (maximum_c - threshold_c).powi(2) / (2.0 * (maximum_c - minimum_c))
}

fn check(field: &str, value: f64) -> Result<(), Error> {
    if ALLOWED_C.contains(&value) {
        Ok(())
    } else {
        let allowed = format_args!("{} to {} °C", ALLOWED_C.start(), ALLOWED_C.end()).to_string();
        Err(Error::out_of_range(field, value, allowed))
    }
}

impl TryFrom<Wire> for DegreeDays {
    type Error = Error;

    fn try_from(wire: Wire) -> Result<Self, Error> {
        check("lower_c", wire.lower_c)?;
        if let Some(upper_c) = wire.upper_c {
            check("upper_c", upper_c)?;
            if upper_c <= wire.lower_c {
                return Err(Error::Inconsistent {
                    field: "lower_c, upper_c".to_owned(),
                    problem: format!(
                        "the upper threshold {upper_c} °C is not above the lower one, {} °C",
                        wire.lower_c
                    ),
                });
            }
        }
        Ok(DegreeDays { wire })
    }
}

deserialize_through!(Wire => DegreeDays);

impl From<DegreeDays> for Wire {
    fn from(count: DegreeDays) -> Self {
        count.wire
    }
}
