//! Weather by the hour: a forecast or a logger's file, laid over the days of any climate.
//!
//! Where hours are known they are used as they are, in place of a curve through minimum and maximum.

use chrono::{DateTime, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;
use serde::Serialize;

use super::day_record::{MOST_RAIN_MM, MOST_WIND_M_S};
use super::{ALLOWED_C, About, Basis, DayTemperatures, TemperatureSource};
use crate::civil::{self, Instant};
use crate::error::Error;
use crate::reason::say;
use crate::site::zone_name;
use crate::wire::FromNode;

pub(super) mod read;
#[cfg(test)]
mod tests;

pub use read::MOST_HOURS_BYTES;

/// Most readings of all files together: more than ten years of hours, or two of every ten minutes.
pub const MOST_HOURS: usize = 110_000;

/// Between readings farther apart than this nothing is known: three hours are the widest step of
/// common forecasts, and within them the temperature is taken as a straight line. Common practice,
/// no source.
pub const LONGEST_STEP: TimeDelta = TimeDelta::hours(3);

/// Highest mean radiation that is read, W/m²: somewhat more than the sun sends to the top of the air,
/// since bright clouds beside the sun add to it.
pub(super) const MOST_RADIATION_W_M2: f64 = 2000.0;

/// The weather at one moment, every hour or so.
///
/// JSON: `{"at": "2026-07-20T06:00:00+10:00", "temperature_c": 9.5}` with `rain_mm`, `wind_m_s`,
/// `cloud_percent` and `radiation_w_m2` where they are known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Hour {
    /// The moment.
    pub at: Instant,
    /// Air temperature at that moment, °C.
    pub temperature_c: f64,
    /// Rain since the reading before, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<f64>,
    /// Wind, m/s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<f64>,
    /// Share of the sky under cloud, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cloud_percent: Option<f64>,
    /// Radiation of sun and sky on level ground, W/m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation_w_m2: Option<f64>,
}

/// A stretch of time without readings, longer than [`LONGEST_STEP`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Gap {
    /// The last reading before, or the first moment of the day.
    pub from: Instant,
    /// The first reading after, or the end of the day.
    pub until: Instant,
}

/// Readings in the order of time, no moment twice, on the clocks of one zone.
///
/// ```
/// use apiary_almanac::climate::{Hour, Hours};
/// let zone: chrono_tz::Tz = "Australia/Brisbane".parse()?;
/// let hour = |at: &str, temperature_c| {
///     Ok::<_, chrono::ParseError>(Hour::new(at.parse()?, temperature_c))
/// };
/// let hours = Hours::new(zone, vec![
///     hour("2026-07-20T08:00:00+10:00", 14.0)?,
///     hour("2026-07-19T20:00:00Z", 9.0)?,
/// ])?;
/// let day = hours.of_day("2026-07-20".parse()?).ok_or("it has readings")?;
/// assert_eq!(day.temperature_c("2026-07-20T07:00:00+10:00".parse()?), Some(11.5));
/// assert!(!day.is_whole());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Wire", into = "Wire")]
pub struct Hours {
    zone: Tz,
    hours: Vec<Hour>,
    /// What was read otherwise than one might think, for the basis.
    said: Vec<String>,
}

#[derive(Debug, Clone, Serialize, FromNode)]
struct Wire {
    #[serde(serialize_with = "zone_name")]
    zone: Tz,
    hours: Vec<Hour>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    said: Vec<String>,
}

impl Hour {
    /// A temperature, and nothing else known.
    pub const fn new(at: Instant, temperature_c: f64) -> Self {
        Hour {
            at,
            temperature_c,
            rain_mm: None,
            wind_m_s: None,
            cloud_percent: None,
            radiation_w_m2: None,
        }
    }

    fn check(&self) -> Result<(), Error> {
        civil::check_date("at", self.at.date_naive())?;
        let (low, high) = (*ALLOWED_C.start(), *ALLOWED_C.end());
        for (name, value, low, high, unit) in [
            ("temperature_c", Some(self.temperature_c), low, high, "°C"),
            ("rain_mm", self.rain_mm, 0.0, MOST_RAIN_MM, "mm"),
            ("wind_m_s", self.wind_m_s, 0.0, MOST_WIND_M_S, "m/s"),
            ("cloud_percent", self.cloud_percent, 0.0, 100.0, "%"),
            (
                "radiation_w_m2",
                self.radiation_w_m2,
                0.0,
                MOST_RADIATION_W_M2,
                "W/m²",
            ),
        ] {
            if let Some(value) = value
                && !(low..=high).contains(&value)
            {
                return Err(Error::out_of_range(
                    &format!("{name} of {}", self.at.to_rfc3339()),
                    value,
                    format_args!("{low} to {high} {unit}"),
                ));
            }
        }
        Ok(())
    }
}

impl Hours {
    /// Takes readings in any order.
    ///
    /// # Errors
    /// `not_enough_data` for no readings, `too_large` for more than [`MOST_HOURS`], `out_of_range` for
    /// a value that no weather has, `inconsistent` where the same moment is given two values.
    ///
    /// ```
    /// use apiary_almanac::climate::{Hour, Hours};
    /// let zone = apiary_almanac::site::zone_by_name("Australia/Brisbane")?;
    /// let at = "2026-07-20T08:00:00+10:00".parse()?;
    /// // Two thermometers, and one moment: which one counts is the keeper's to say.
    /// let both = vec![Hour::new(at, 14.0), Hour::new(at, 15.5)];
    /// assert_eq!(Hours::new(zone, both).unwrap_err().code(), "inconsistent");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(zone: Tz, hours: Vec<Hour>) -> Result<Self, Error> {
        if hours.len() > MOST_HOURS {
            return Err(Error::TooLarge {
                field: "hours".to_owned(),
                given: format!("{} readings", hours.len()),
                allowed: format!("{MOST_HOURS} readings"),
            });
        }
        if hours.is_empty() {
            return Err(Error::NotEnoughData {
                field: "hours".to_owned(),
                given: "no readings".to_owned(),
                needed: "at least one temperature with its time".to_owned(),
            });
        }
        let mut hours = hours;
        for hour in &mut hours {
            hour.check()?;
            hour.at = civil::in_zone(hour.at.to_utc(), zone);
        }
        hours.sort_by_key(|hour| hour.at);
        hours.dedup();
        match hours.windows(2).find(|pair| pair[0].at == pair[1].at) {
            Some(pair) => Err(Error::Inconsistent {
                field: "hours".to_owned(),
                problem: format!(
                    "{} has two readings, {} and {} °C",
                    pair[0].at.to_rfc3339(),
                    pair[0].temperature_c,
                    pair[1].temperature_c
                ),
            }),
            None => Ok(Hours {
                zone,
                hours,
                said: Vec::new(),
            }),
        }
    }

    /// All readings, in order.
    pub fn readings(&self) -> &[Hour] {
        &self.hours
    }

    /// The zone on whose clocks they stand.
    pub fn zone(&self) -> Tz {
        self.zone
    }

    /// The days that have a reading, in order.
    ///
    /// ```
    /// use apiary_almanac::climate::{Hours, TextFile};
    /// let zone = apiary_almanac::site::zone_by_name("Australia/Brisbane")?;
    /// let text = "time,temperature_c\n2026-07-20T12:00Z,12\n2026-07-20T15:00Z,9\n";
    /// // 22:00 in Brisbane, and 01:00 of the next day.
    /// let hours = Hours::from_texts(zone, &[TextFile::new("logger.csv", text)])?;
    /// assert_eq!(hours.dates(), ["2026-07-20".parse()?, "2026-07-21".parse()?]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn dates(&self) -> Vec<NaiveDate> {
        let mut dates: Vec<_> = self.hours.iter().map(|hour| hour.at.date_naive()).collect();
        dates.dedup();
        dates
    }

    /// What is known of a civil day; `None` where it has no reading of its own.
    ///
    /// ```
    /// use apiary_almanac::climate::{Hours, TextFile};
    /// let zone = apiary_almanac::site::zone_by_name("Australia/Brisbane")?;
    /// let text = "time,temperature_c\n2026-07-20 21:00,11\n2026-07-21 00:00,9\n2026-07-21 03:00,7\n";
    /// let hours = Hours::from_texts(zone, &[TextFile::new("logger.csv", text)])?;
    /// let day = hours.of_day("2026-07-21".parse()?).ok_or("it has readings")?;
    /// // Its own, and the one before midnight to draw a line from.
    /// assert_eq!((day.own().len(), day.readings.len()), (2, 3));
    /// assert!(hours.of_day("2026-07-22".parse()?).is_none());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_day(&self, date: NaiveDate) -> Option<HoursOfDay<'_>> {
        let first = self
            .hours
            .partition_point(|hour| hour.at.date_naive() < date);
        let end = self
            .hours
            .partition_point(|hour| hour.at.date_naive() <= date);
        if first == end {
            return None;
        }
        let start = civil::day_start(date, self.zone).ok()?;
        let length = civil::day_length(date, self.zone).ok()?;
        let near = |a: usize, b: usize| self.hours[b].at - self.hours[a].at <= LONGEST_STEP;
        let before = usize::from(first > 0 && near(first - 1, first));
        let after = usize::from(end < self.hours.len() && near(end - 1, end));
        Some(HoursOfDay {
            date,
            start: civil::in_zone(start, self.zone),
            end: civil::in_zone(start + length, self.zone),
            readings: &self.hours[first - before..end + after],
            own: &self.hours[first..end],
        })
    }

    /// The temperature at a moment, on a straight line between the readings around it; `None` where
    /// these are farther apart than [`LONGEST_STEP`].
    ///
    /// ```
    /// use apiary_almanac::climate::{Hour, Hours};
    /// let zone = apiary_almanac::site::zone_by_name("Australia/Brisbane")?;
    /// let at = |text: &str| text.parse::<apiary_almanac::Instant>();
    /// let (six, nine) = (at("2026-07-20T06:00:00+10:00")?, at("2026-07-20T09:00:00+10:00")?);
    /// let hours = Hours::new(zone, vec![Hour::new(six, 8.0), Hour::new(nine, 14.0)])?;
    /// assert_eq!(hours.temperature_c(at("2026-07-20T07:00:00+10:00")?.to_utc()), Some(10.0));
    /// assert_eq!(hours.temperature_c(at("2026-07-20T09:30:00+10:00")?.to_utc()), None);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn temperature_c(&self, at: DateTime<Utc>) -> Option<f64> {
        between(&self.hours, at)
    }

    /// Minimum, maximum and rain of a day that is known from end to end.
    pub(super) fn day(&self, date: NaiveDate) -> Option<DayTemperatures> {
        let day = self.of_day(date).filter(HoursOfDay::is_whole)?;
        let (minimum_c, maximum_c) = day.extremes_c();
        Some(DayTemperatures {
            date,
            minimum_c,
            maximum_c,
            rain_mm: day.rain_mm(),
            source: TemperatureSource::Hours,
        })
    }

    /// Stretches without readings between the first and the last.
    ///
    /// ```
    /// use apiary_almanac::climate::{Hour, Hours};
    /// let zone = apiary_almanac::site::zone_by_name("Australia/Brisbane")?;
    /// let hour = |at: &str| at.parse().map(|at| Hour::new(at, 12.0));
    /// // The logger's battery was empty from eight to noon.
    /// let hours = Hours::new(zone, vec![
    ///     hour("2026-07-20T07:00:00+10:00")?,
    ///     hour("2026-07-20T08:00:00+10:00")?,
    ///     hour("2026-07-20T12:00:00+10:00")?,
    /// ])?;
    /// let gaps = hours.gaps();
    /// assert_eq!(gaps.len(), 1);
    /// assert_eq!((gaps[0].until - gaps[0].from).num_hours(), 4);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn gaps(&self) -> Vec<Gap> {
        gaps_between(&self.hours)
    }

    pub(super) fn basis(&self) -> Basis {
        let gaps = self.gaps();
        let first = gaps.first();
        let more = gaps.len().saturating_sub(1);
        let said = self.said.join("; ");
        let about = say::hours_climate(
            self.hours.len() as f64,
            first.map(|gap| gap.from),
            first.map(|gap| gap.until),
            (more > 0).then_some(more as f64),
            (!self.said.is_empty()).then_some(said.as_str()),
        );
        let ends = self.hours.first().zip(self.hours.last());
        Basis {
            period: ends.map(|(first, last)| {
                format!("{} to {}", first.at.date_naive(), last.at.date_naive())
            }),
            ..Basis::new(TemperatureSource::Hours, About::Built(about), None)
        }
    }
}

/// What is known of one civil day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoursOfDay<'a> {
    /// The civil day.
    pub date: NaiveDate,
    /// Its first moment.
    pub start: Instant,
    /// The first moment of the next.
    pub end: Instant,
    /// Its readings, in order, with the last before the day and the first after it where these are
    /// near enough to draw a line to.
    pub readings: &'a [Hour],
    own: &'a [Hour],
}

impl<'a> HoursOfDay<'a> {
    /// The readings of the day itself; there is one at least.
    pub fn own(&self) -> &'a [Hour] {
        self.own
    }

    /// The temperature at a moment, on a straight line between readings; `None` in a gap, before the
    /// first reading and after the last.
    pub fn temperature_c(&self, at: DateTime<Utc>) -> Option<f64> {
        between(self.readings, at)
    }

    /// Where nothing is known: from the day's first moment to its end.
    pub fn gaps(&self) -> Vec<Gap> {
        let mut gaps = gaps_between(self.readings);
        let far = |from: Instant, until: Instant| {
            (until - from > LONGEST_STEP).then_some(Gap { from, until })
        };
        if let [first, ..] = self.readings
            && let Some(gap) = far(self.start, first.at)
        {
            gaps.insert(0, gap);
        }
        if let [.., last] = self.readings {
            gaps.extend(far(last.at, self.end));
        }
        gaps
    }

    /// True where no stretch of the day is longer than [`LONGEST_STEP`] without a reading.
    pub fn is_whole(&self) -> bool {
        self.gaps().is_empty()
    }

    /// Lowest and highest of the day's readings, °C. The true extremes lie a little beyond them.
    ///
    /// ```
    /// use apiary_almanac::climate::{Hours, TextFile};
    /// let zone = apiary_almanac::site::zone_by_name("Australia/Brisbane")?;
    /// let text = "time,temperature_f\n2026-07-20 06:00,46.4\n2026-07-20 14:00,71.6\n";
    /// let hours = Hours::from_texts(zone, &[TextFile::new("logger.csv", text)])?;
    /// let day = hours.of_day("2026-07-20".parse()?).ok_or("it has readings")?;
    /// let (lowest_c, highest_c) = day.extremes_c();
    /// assert!((lowest_c - 8.0).abs() < 1e-9 && (highest_c - 22.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn extremes_c(&self) -> (f64, f64) {
        let fold = |of: fn(f64, f64) -> f64, start: f64| {
            self.own
                .iter()
                .map(|hour| hour.temperature_c)
                .fold(start, of)
        };
        (
            fold(f64::min, f64::INFINITY),
            fold(f64::max, f64::NEG_INFINITY),
        )
    }

    /// Rain of the day, mm, where every reading tells it.
    ///
    /// ```
    /// use apiary_almanac::climate::{Hours, TextFile};
    /// let zone = apiary_almanac::site::zone_by_name("Australia/Brisbane")?;
    /// let text = "time,temperature_c,rain_mm\n2026-02-03 14:00,27,3.5\n2026-02-03 15:00,24,8\n";
    /// let hours = Hours::from_texts(zone, &[TextFile::new("logger.csv", text)])?;
    /// let day = hours.of_day("2026-02-03".parse()?).ok_or("it has readings")?;
    /// assert_eq!((day.rain_mm(), day.wind_m_s()), (Some(11.5), None));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rain_mm(&self) -> Option<f64> {
        self.own.iter().map(|hour| hour.rain_mm).sum()
    }

    /// Mean wind of the day's readings, m/s, where every one tells it.
    pub fn wind_m_s(&self) -> Option<f64> {
        let sum: Option<f64> = self.own.iter().map(|hour| hour.wind_m_s).sum();
        sum.map(|sum| sum / self.own.len() as f64)
    }
}

fn gaps_between(hours: &[Hour]) -> Vec<Gap> {
    hours
        .windows(2)
        .filter(|pair| pair[1].at - pair[0].at > LONGEST_STEP)
        .map(|pair| Gap {
            from: pair[0].at,
            until: pair[1].at,
        })
        .collect()
}

fn between(hours: &[Hour], at: DateTime<Utc>) -> Option<f64> {
    let next = hours.partition_point(|hour| hour.at < at);
    let after = hours.get(next)?;
    if after.at == at {
        return Some(after.temperature_c);
    }
    let before = hours.get(next.checked_sub(1)?)?;
    let step = after.at - before.at;
    if step > LONGEST_STEP {
        return None;
    }
    let share = (at - before.at.to_utc()).as_seconds_f64() / step.as_seconds_f64();
    Some(before.temperature_c + share * (after.temperature_c - before.temperature_c))
}

impl TryFrom<Wire> for Hours {
    type Error = Error;

    fn try_from(wire: Wire) -> Result<Self, Error> {
        let hours = Hours::new(wire.zone, wire.hours)?;
        Ok(Hours {
            said: wire.said,
            ..hours
        })
    }
}

impl From<Hours> for Wire {
    fn from(hours: Hours) -> Self {
        Wire {
            zone: hours.zone,
            hours: hours.hours,
            said: hours.said,
        }
    }
}
