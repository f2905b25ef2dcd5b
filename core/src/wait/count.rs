//! A waiting time as data: what it counts, three counts, and their source.

use serde::Serialize;

use crate::error::{Error, LONGEST_TEXT, at_most};
use crate::reason::Value;
use crate::wire::FromNode;

/// Longest count of a waiting time.
pub const LONGEST_WAIT: f64 = 1000.0;
/// Base of degree-days and their upper cut-off, °C.
const BASE_C: std::ops::RangeInclusive<f64> = -10.0..=40.0;

/// What a waiting time counts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum WaitUnit {
    /// Civil days.
    Days,
    /// Days on which bees can fly at least the bee's `flying_day_h`.
    FlyingDays,
    /// Degree-days above a base.
    DegreeDays {
        /// Base, °C.
        base_c: f64,
        /// Upper cut-off, °C.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        upper_c: Option<f64>,
    },
}

impl WaitUnit {
    /// The unit in words, as it follows a number.
    ///
    /// ```
    /// use apiary_almanac::wait::WaitUnit;
    /// assert_eq!(format!("3 {}", WaitUnit::FlyingDays.words()), "3 flying days");
    /// ```
    pub const fn words(&self) -> &'static str {
        match self {
            WaitUnit::Days => "days",
            WaitUnit::FlyingDays => "flying days",
            WaitUnit::DegreeDays { .. } => "degree-days",
        }
    }

    /// A count of this unit as a sentence takes it.
    pub(crate) const fn value(&self, value: f64) -> Value {
        match self {
            WaitUnit::Days => Value::Days { value },
            WaitUnit::FlyingDays => Value::FlyingDays { value },
            WaitUnit::DegreeDays { .. } => Value::DegreeDays { value },
        }
    }
}

/// A waiting time as data: three counts and their source.
///
/// JSON and TOML: `{unit = "flying_days", earliest = 2, likely = 2, latest = 3, source = "own
/// counts"}`; degree-days also take `base_c` and, if wanted, `upper_c`. Counts are 0 to 1000 and in
/// order; `base_c` and `upper_c` are −10 to 40 °C. A value that is read is checked; one that is put
/// together in Rust is checked when a clock runs it, or by [`Wait::check`].
///
/// ```
/// use apiary_almanac::wait::{WaitUnit, Wait};
/// let wait = Wait::new(WaitUnit::Days, [14.0, 21.0, 28.0], "own counts")?;
/// assert_eq!(wait.likely, 21.0);
/// assert!(Wait::new(WaitUnit::Days, [14.0, 7.0, 28.0], "own counts").is_err());
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Wire", into = "Wire")]
pub struct Wait {
    /// What is counted.
    pub unit: WaitUnit,
    /// The shortest count.
    pub earliest: f64,
    /// The count to plan with.
    pub likely: f64,
    /// The longest count.
    pub latest: f64,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

impl Wait {
    /// A waiting time from its earliest, likely and latest count.
    ///
    /// # Errors
    /// As [`Wait::check`].
    ///
    /// ```
    /// use apiary_almanac::wait::{Wait, WaitUnit};
    /// let brood = WaitUnit::DegreeDays { base_c: 15.0, upper_c: None };
    /// let wait = Wait::new(brood, [500.0, 550.0, 620.0], "own counts 2024 and 2025")?;
    /// assert_eq!(wait.unit, brood);
    /// let error = Wait::new(brood, [500.0, 550.0, 6200.0], "").unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("out_of_range", "latest"));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new(unit: WaitUnit, counts: [f64; 3], source: &str) -> Result<Self, Error> {
        let wait = Wait::unchecked(unit, counts, source);
        wait.check()?;
        Ok(wait)
    }

    /// For counts that stand in the program.
    pub(crate) fn unchecked(unit: WaitUnit, counts: [f64; 3], source: &str) -> Self {
        let [earliest, likely, latest] = counts;
        Wait {
            unit,
            earliest,
            likely,
            latest,
            source: source.to_owned(),
        }
    }

    /// Earliest, likely and latest count.
    ///
    /// ```
    /// use apiary_almanac::wait::Wait;
    /// let text = r#"{"unit": "days", "earliest": 14, "likely": 21, "latest": 35, "source": "own"}"#;
    /// let wait: Wait = serde_json::from_str(text)?;
    /// assert_eq!(wait.counts(), [14.0, 21.0, 35.0]);
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn counts(&self) -> [f64; 3] {
        [self.earliest, self.likely, self.latest]
    }

    /// Refuses counts and thresholds that cannot be.
    ///
    /// # Errors
    /// `too_large` for a source of more than 1000 bytes, `out_of_range` for a count that is not 0 to
    /// 1000 or a threshold that is not −10 to 40 °C,
    /// `inconsistent` for counts out of order or an upper cut-off that is not above the base.
    ///
    /// ```
    /// use apiary_almanac::wait::{Wait, WaitUnit};
    /// let mut wait = Wait::new(WaitUnit::Days, [14.0, 21.0, 35.0], "own counts")?;
    /// // Put together by a program, and not looked at since.
    /// wait.likely = 12.0;
    /// assert_eq!(wait.check().unwrap_err().code(), "inconsistent");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn check(&self) -> Result<(), Error> {
        at_most("source", self.source.len(), LONGEST_TEXT, "bytes")?;
        for (field, count) in ["earliest", "likely", "latest"].iter().zip(self.counts()) {
            if !(0.0..=LONGEST_WAIT).contains(&count) {
                let allowed = format!("0 to {LONGEST_WAIT} {}", self.unit.words());
                return Err(Error::out_of_range(field, count, allowed));
            }
        }
        if !(self.earliest <= self.likely && self.likely <= self.latest) {
            return Err(Error::Inconsistent {
                field: "earliest, likely, latest".to_owned(),
                problem: format!(
                    "{}, {}, {} are not in order",
                    self.earliest, self.likely, self.latest
                ),
            });
        }
        let WaitUnit::DegreeDays { base_c, upper_c } = self.unit else {
            return Ok(());
        };
        for (field, value) in [("base_c", Some(base_c)), ("upper_c", upper_c)] {
            if let Some(c) = value
                && !BASE_C.contains(&c)
            {
                let allowed = format!("{} to {} °C", BASE_C.start(), BASE_C.end());
                return Err(Error::out_of_range(field, c, allowed));
            }
        }
        match upper_c {
            Some(upper_c) if upper_c <= base_c => Err(Error::Inconsistent {
                field: "base_c, upper_c".to_owned(),
                problem: format!(
                    "the upper cut-off {upper_c} °C is not above the base {base_c} °C"
                ),
            }),
            _ => Ok(()),
        }
    }
}

/// The unit by its name, its thresholds beside it: a flattened enum would let unknown fields pass.
#[derive(Serialize, FromNode)]
struct Wire {
    unit: UnitName,
    /// Temperature above which warmth is counted, −10 to 40 °C: for degree-days, and needed there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    base_c: Option<f64>,
    /// Temperature up to which it is counted, °C: for degree-days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    upper_c: Option<f64>,
    earliest: f64,
    likely: f64,
    latest: f64,
    source: String,
}

/// What a waiting time counts.
#[derive(Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
enum UnitName {
    /// Days.
    Days,
    /// Days on which bees fly.
    FlyingDays,
    /// Warmth above a temperature, °C d.
    DegreeDays,
}

impl TryFrom<Wire> for Wait {
    type Error = Error;

    fn try_from(wire: Wire) -> Result<Self, Error> {
        let inconsistent = |field: &str, problem: &str| Error::Inconsistent {
            field: field.to_owned(),
            problem: problem.to_owned(),
        };
        let unit = match (wire.unit, wire.base_c, wire.upper_c) {
            (UnitName::Days, None, None) => WaitUnit::Days,
            (UnitName::FlyingDays, None, None) => WaitUnit::FlyingDays,
            (UnitName::DegreeDays, Some(base_c), upper_c) => {
                WaitUnit::DegreeDays { base_c, upper_c }
            }
            (UnitName::DegreeDays, None, _) => {
                return Err(inconsistent("unit, base_c", "degree-days need `base_c`"));
            }
            _ => {
                let problem = "only degree-days have a base and an upper cut-off";
                return Err(inconsistent("unit, base_c, upper_c", problem));
            }
        };
        Wait::new(
            unit,
            [wire.earliest, wire.likely, wire.latest],
            &wire.source,
        )
    }
}

impl From<Wait> for Wire {
    fn from(wait: Wait) -> Self {
        let (unit, base_c, upper_c) = match wait.unit {
            WaitUnit::Days => (UnitName::Days, None, None),
            WaitUnit::FlyingDays => (UnitName::FlyingDays, None, None),
            WaitUnit::DegreeDays { base_c, upper_c } => {
                (UnitName::DegreeDays, Some(base_c), upper_c)
            }
        };
        Wire {
            unit,
            base_c,
            upper_c,
            earliest: wait.earliest,
            likely: wait.likely,
            latest: wait.latest,
            source: wait.source,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wire::{from_json, from_toml};

    const GOOD: &str =
        r#"{"unit":"flying_days","earliest":2.0,"likely":2.0,"latest":3.0,"source":"own counts"}"#;
    const WARM: &str = r#"{"unit":"degree_days","base_c":12.0,"upper_c":33.0,"earliest":300.0,"likely":350.0,"latest":400.0,"source":"own counts"}"#;

    #[test]
    fn json_and_toml_name_the_unit_beside_the_counts() {
        for text in [GOOD, WARM] {
            let wait: Wait = from_json("wait", text).unwrap();
            assert_eq!(serde_json::to_string(&wait).unwrap(), text);
            let toml = toml::to_string(&wait).unwrap();
            assert_eq!(from_toml::<Wait>("wait", &toml).unwrap(), wait);
        }
    }

    #[test]
    fn what_cannot_be_is_refused_with_its_name() {
        for (text, from, to, code, field) in [
            (GOOD, "2.0", "-1", "out_of_range", "earliest"),
            (GOOD, "3.0", "1001", "out_of_range", "latest"),
            (GOOD, "3.0", "1", "inconsistent", "earliest, likely, latest"),
            (GOOD, "3.0", "null", "unreadable", "latest"),
            (GOOD, "flying_days", "weeks", "unreadable", "unit"),
            (
                GOOD,
                "\"source\"",
                "\"length\":1,\"source\"",
                "unreadable",
                "length",
            ),
            (
                GOOD,
                "\"source\"",
                "\"base_c\":1,\"source\"",
                "inconsistent",
                "unit, base_c, upper_c",
            ),
            (WARM, "12.0", "41", "out_of_range", "base_c"),
            (WARM, "33.0", "12", "inconsistent", "base_c, upper_c"),
            (WARM, "\"base_c\":12.0,", "", "inconsistent", "unit, base_c"),
        ] {
            assert!(text.contains(from), "{from}");
            let error = from_json::<Wait>("wait", &text.replacen(from, to, 1)).unwrap_err();
            assert_eq!((error.code(), error.field()), (code, field), "{error}");
        }
        for bad in [f64::NAN, f64::INFINITY] {
            assert!(Wait::new(WaitUnit::Days, [0.0, 1.0, bad], "").is_err());
        }
    }
}
