//! Degree-days of a day from its minimum and maximum.

use std::f64::consts::PI;

use serde::Serialize;

use crate::climate::{ALLOWED_C, DayTemperatures};
use crate::error::Error;
use crate::wire::FromNode;

/// The shape that stands for the day between minimum and maximum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, FromNode)]
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
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Wire", into = "Wire")]
pub struct DegreeDays {
    wire: Wire,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
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
    ///
    /// ```
    /// use apiary_almanac::thermal::{DayShape, DegreeDays};
    /// let brood = DegreeDays::new(DayShape::SingleTriangle, 15.0, None)?;
    /// // A day that never falls below the threshold: the mean less the threshold, whatever the shape.
    /// assert_eq!(brood.of(20.0, 30.0)?, 10.0);
    /// assert!(DegreeDays::new(DayShape::SingleTriangle, 150.0, None).is_err());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
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
    ///
    /// ```
    /// use apiary_almanac::thermal::{DayShape, DegreeDays};
    /// let count = DegreeDays::new(DayShape::SingleSine, 18.0, None)?;
    /// assert_eq!(count.of(9.0, 18.0)?, 0.0);
    /// // Half the day above, half below: a sine has its range over 2π above its middle.
    /// assert!((count.of(13.0, 23.0)? - 10.0 / std::f64::consts::TAU).abs() < 1e-9);
    /// assert_eq!(count.of(23.0, 13.0).unwrap_err().code(), "inconsistent");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
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
    ///
    /// ```
    /// use apiary_almanac::thermal::{DayShape, DegreeDays};
    /// use apiary_almanac::{Climate, Site};
    /// // How much warmth above 18 °C a day of January and of July brings at Lismore.
    /// let climate = Climate::from_location(&Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?);
    /// let count = DegreeDays::new(DayShape::SingleSine, 18.0, None)?;
    /// let january = count.of_day(&climate.day("2026-01-15".parse()?))?;
    /// let july = count.of_day(&climate.day("2026-07-15".parse()?))?;
    /// assert!(january > 5.0 && july < 1.0, "{january} {july}");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
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

impl From<DegreeDays> for Wire {
    fn from(count: DegreeDays) -> Self {
        count.wire
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn shape() -> impl Strategy<Value = DayShape> {
        prop_oneof![Just(DayShape::SingleSine), Just(DayShape::SingleTriangle)]
    }

    #[test]
    fn thresholds_and_days_the_wrong_way_round_are_refused() {
        for (lower, upper) in [(20.0, 20.0), (20.0, 10.0)] {
            let error = DegreeDays::new(DayShape::SingleSine, lower, Some(upper)).unwrap_err();
            assert_eq!(
                (error.code(), error.field()),
                ("inconsistent", "lower_c, upper_c")
            );
        }
        assert!(DegreeDays::new(DayShape::SingleSine, f64::NAN, None).is_err());
        assert!(DegreeDays::new(DayShape::SingleSine, 10.0, Some(f64::INFINITY)).is_err());
        let count = DegreeDays::new(DayShape::SingleTriangle, 10.0, None).unwrap();
        assert_eq!(count.of(20.0, 19.0).unwrap_err().code(), "inconsistent");
        assert_eq!(count.of(20.0, f64::NAN).unwrap_err().field(), "maximum_c");
    }

    #[test]
    fn json_round_trip_checks_again() {
        let count = DegreeDays::new(DayShape::SingleTriangle, 12.0, Some(30.0)).unwrap();
        let text = serde_json::to_string(&count).unwrap();
        assert_eq!(
            text,
            r#"{"shape":"single_triangle","lower_c":12.0,"upper_c":30.0}"#
        );
        assert_eq!(serde_json::from_str::<DegreeDays>(&text).unwrap(), count);
        assert!(serde_json::from_str::<DegreeDays>(&text.replace("30.0", "3.0")).is_err());
        let short: DegreeDays = serde_json::from_str(r#"{"lower_c":12}"#).unwrap();
        assert_eq!((short.lower_c(), short.upper_c()), (12.0, None));
    }

    /// Mean of the warmth between the thresholds over many moments of the day.
    fn by_summing(shape: DayShape, day: (f64, f64), lower_c: f64, upper_c: f64) -> f64 {
        const MOMENTS: usize = 20_000;
        let sum: f64 = (0..MOMENTS)
            .map(|i| {
                let turn = (i as f64 + 0.5) / MOMENTS as f64;
                let share = match shape {
                    DayShape::SingleSine => (1.0 - (2.0 * PI * turn).cos()) / 2.0,
                    DayShape::SingleTriangle => 1.0 - (2.0 * turn - 1.0).abs(),
                };
                (day.0 + (day.1 - day.0) * share).clamp(lower_c, upper_c) - lower_c
            })
            .sum();
        sum / MOMENTS as f64
    }

    proptest! {
        #[test]
        fn the_formula_is_the_area_between_the_thresholds(
            shape in shape(), low in -10.0..35.0_f64, range in 0.0..25.0_f64,
            lower in 0.0..25.0_f64, width in 0.5..20.0_f64,
        ) {
            let count = DegreeDays::new(shape, lower, Some(lower + width)).unwrap();
            let formula = count.of(low, low + range).unwrap();
            let summed = by_summing(shape, (low, low + range), lower, lower + width);
            prop_assert!((formula - summed).abs() < 1e-5, "{} and {}", formula, summed);
        }

        #[test]
        fn warmer_never_lowers_the_count(
            shape in shape(), low in -10.0..30.0_f64, range in 0.0..20.0_f64,
            low_up in 0.0..5.0_f64, high_up in 0.0..5.0_f64,
            lower in 0.0..30.0_f64, width in prop::option::of(0.1..20.0_f64),
        ) {
            let count = DegreeDays::new(shape, lower, width.map(|width| lower + width)).unwrap();
            let before = count.of(low, low + range).unwrap();
            let high = low + range + high_up;
            let after = count.of((low + low_up).min(high), high).unwrap();
            prop_assert!(after >= before - 1e-9, "{} to {}", before, after);
            prop_assert!(before >= 0.0 && width.is_none_or(|width| before <= width + 1e-9));
        }
    }
}
