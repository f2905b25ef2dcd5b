//! The morning of a move: close the entrance the evening before, move between work light and first
//! flight; and which of the next mornings is best.

mod chance;
mod ranking;
mod rows;
mod verdict;

use std::fmt;
use std::ops::Not;

use chrono::{NaiveDate, TimeDelta};
use serde::Serialize;

use crate::bee::Bee;
use crate::civil::{Edge, Instant, clock_text};
use crate::climate::{Climate, TemperatureSource, beaufort};
use crate::clock;
use crate::error::Error;
use crate::flight::{DayFrame, Flight, FlightEdge, two_days};
use crate::number::{COMMON_PRACTICE, numbers};
use crate::reason::{Reason, say};
use crate::site::Site;
use crate::sun::{CIVIL_TWILIGHT_ALTITUDE_DEG, Ephemeris};
use crate::wire::FromNode;

pub use chance::MorningChances;
pub(crate) use ranking::rank_mornings;
pub use ranking::{RankedMorning, Weekday};
pub use rows::{MorningColumns, MorningOptions, MorningState, morning_columns};
pub use verdict::Verdict;

numbers! {
    /// The numbers of a move that the keeper may set.
    pub struct MorningSettings {
        /// Whether the entrance is closed on the evening before: the ordinary way.
        closed_evening_before: bool = true,
    }

    /// A user's own numbers for a move; what is not given stays at its default.
    #[derive(Copy)]
    pub struct MorningOverrides {
        /// `false` for a hive that stood open over night: the move must then be over before early
        /// first flight, since bees that are out come back to the old place.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub closed_evening_before: Option<bool>,
    }

    /// Minutes before first flight by which the hive must stand in its new place.
    margin_min: f64 = 15.0, "min", 0.0..=120.0, COMMON_PRACTICE;

    /// Minutes after last flight before the entrance is closed, for the late comers.
    settle_min: f64 = 30.0, "min", 0.0..=240.0, COMMON_PRACTICE;

    /// Minutes before sunset before which no entrance is closed, however early the bees are in:
    /// a colony that is shut through a mild afternoon gets warm, and late comers stay out.
    close_before_sunset_min: f64 = 30.0, "min", 0.0..=240.0, COMMON_PRACTICE;

    /// The shortest window in which a move can be done, minutes.
    shortest_window_min: f64 = 10.0, "min", 1.0..=180.0, COMMON_PRACTICE;

    /// Air colder than this chills brood when a hive is carried, °C.
    coldest_work_c: f64 = 8.0, "°C", -5.0..=25.0, COMMON_PRACTICE;

    /// Air warmer than this makes a closed hive hot, °C.
    warmest_work_c: f64 = 28.0, "°C", 15.0..=40.0,
        "Heterotrigona itama begins to fan at 28 °C; as a limit for a closed hive: common \
        practice, no source";
}

impl Morning {
    /// Whether a lamp is needed to close the entrance on the evening before.
    pub(crate) fn closing_by_lamp(&self) -> bool {
        self.evening_before.lamp_needed && !self.open_overnight
    }

    /// What to mind where it is moved by lamp.
    pub(crate) fn by_lamp_reason(&self) -> Reason {
        if self.open_overnight {
            say::by_lamp_open()
        } else {
            say::by_lamp()
        }
    }
}

impl MorningSettings {
    /// The defaults with a user's own numbers.
    ///
    /// # Errors
    /// `out_of_range` for a number outside its range, `inconsistent` when the coldest working
    /// temperature is not below the warmest.
    ///
    /// ```
    /// use apiary_almanac::morning::{MorningOverrides, MorningSettings};
    /// let own = MorningOverrides::default().with_margin_min(25.0);
    /// assert_eq!(MorningSettings::with_overrides(&own)?.margin_min().value, 25.0);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn with_overrides(own: &MorningOverrides) -> Result<Self, Error> {
        let mut settings = MorningSettings::default();
        settings.take_own(own)?;
        if let Some(closed) = own.closed_evening_before {
            settings.closed_evening_before = closed;
        }
        let (cold, warm) = (settings.coldest_work_c.value, settings.warmest_work_c.value);
        if cold >= warm {
            return Err(Error::Inconsistent {
                field: "coldest_work_c, warmest_work_c".to_owned(),
                problem: format!("coldest {cold} °C is not below warmest {warm} °C"),
            });
        }
        Ok(settings)
    }
}

/// When to close the entrance on the evening before.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct EveningClosing {
    /// Last flight of that evening; `None` when bees do not fly on that day at all.
    #[serde(flatten, serialize_with = "clock::last_flight")]
    pub last_flight: Option<FlightEdge>,
    /// From when the foragers are in, and not earlier than shortly before sunset.
    #[serde(flatten, serialize_with = "clock::from")]
    pub from: Instant,
    /// Until when it can be done by daylight: the end of civil twilight. `None` where it does not
    /// get dark.
    #[serde(flatten, serialize_with = "clock::daylight_until")]
    pub daylight_until: Option<Instant>,
    /// True when `from` lies after `daylight_until`, so that a lamp is needed.
    pub lamp_needed: bool,
}

/// The stretch of a morning in which a hive can be moved.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum MoveWindow {
    /// There is one.
    #[non_exhaustive]
    Open {
        /// Light enough to work.
        #[serde(flatten, serialize_with = "clock::from")]
        from: Instant,
        /// First flight less the margin: usual first flight of a hive closed the evening before, early
        /// first flight of another. A closed hive must be open again before it is too warm for it. On
        /// a day without flight, solar noon.
        #[serde(flatten, serialize_with = "clock::until")]
        until: Instant,
        /// Its length.
        minutes: f64,
        /// From when on care is needed: other hives may fly already, on one morning in ten. `None`
        /// where the window ends before.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[serde(flatten, serialize_with = "clock::careful_from")]
        careful_from: Option<Instant>,
    },
    /// There is none.
    #[non_exhaustive]
    None {
        /// Why.
        reasons: Vec<Reason>,
        /// What would help.
        help: Vec<Reason>,
    },
}

/// On the clocks of the site, in whole minutes on the safe side: `05:34-08:37`; of none the reasons.
impl fmt::Display for MoveWindow {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            MoveWindow::Open { from, until, .. } => {
                let from = clock_text(*from, Edge::From);
                write!(out, "{from}-{}", clock_text(*until, Edge::Until))
            }
            MoveWindow::None { reasons, .. } => {
                let sentences: Vec<_> = reasons.iter().map(Reason::text).collect();
                out.write_str(&sentences.join(" "))
            }
        }
    }
}

/// The stretch before work light in which a hive can be moved by lamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
pub struct LampWindow {
    /// An hour before there is light enough to work.
    #[serde(flatten, serialize_with = "clock::from")]
    pub from: Instant,
    /// When there is light enough to work, or early first flight less the margin if that comes before
    /// and the hive stood open over night.
    #[serde(flatten, serialize_with = "clock::until")]
    pub until: Instant,
}

/// A morning and the evening before it.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Morning {
    /// The civil day of the morning.
    pub date: NaiveDate,
    /// Closing the entrance; of a hive that stands open over night, when its bees are in.
    pub evening_before: EveningClosing,
    /// True for a hive that stands open over night (`closed_evening_before: false`): its entrance is not closed on the
    /// evening before.
    #[serde(default, skip_serializing_if = "Not::not")]
    pub open_overnight: bool,
    /// Light enough to work: the sun stands 6° below the skyline in the east. `None` where that
    /// does not happen on this day.
    #[serde(flatten, serialize_with = "clock::work_light")]
    pub work_light: Option<Instant>,
    /// Sunrise over the skyline in the east, where the sun rises on this day.
    #[serde(flatten, serialize_with = "clock::sunrise")]
    pub sunrise: Option<Instant>,
    /// Usual first flight, or why there is none: see [`Morning::flight_day_reason`].
    #[serde(flatten, serialize_with = "clock::first_flight")]
    pub first_flight: Option<FlightEdge>,
    /// Early first flight: on one morning in ten the first bees are out by then.
    #[serde(flatten, serialize_with = "clock::early_first_flight")]
    pub early_first_flight: Option<FlightEdge>,
    /// When to move by daylight.
    pub window: MoveWindow,
    /// When to move by lamp, in the hour before work light: an ordinary way for every bee. `None`
    /// where there is no dawn, or an open hive's bees may fly before it could be done.
    pub by_lamp: Option<LampWindow>,
    /// Air temperature at work light, °C.
    pub temperature_c: Option<f64>,
    /// Minimum of the night, °C.
    pub minimum_c: f64,
    /// Maximum of the day, °C.
    pub maximum_c: f64,
    /// Rain of the day, mm, where known.
    pub rain_mm: Option<f64>,
    /// Wind, m/s, where known.
    pub wind_m_s: Option<f64>,
    /// The same as force on the [Beaufort scale](crate::climate::beaufort), 0 to 12.
    #[serde(default)]
    pub wind_beaufort: Option<u8>,
    /// True when bees can fly long enough on this day to learn the new place.
    pub flying_day: bool,
    /// Why it is a flying day or not.
    pub flight_day_reason: Reason,
    /// Whether to move, judged by the whole day and the next one.
    pub verdict: Verdict,
    /// The one reason for that.
    pub verdict_reason: Reason,
    /// What the temperatures rest on.
    pub source: TemperatureSource,
}

/// The morning of a date.
///
/// The move window reaches from work light to usual first flight less the margin where the entrance
/// was closed on the evening before, and to early first flight less the margin where it was not. In
/// the hour before, a hive can be moved by lamp. Work light is the
/// moment at which the sun stands 6° below the skyline: with a level skyline the beginning of civil
/// twilight; with hills in the east correspondingly later (common practice, no source). First
/// flight is taken without the hills, so that the window errs towards being too short.
fn morning(
    ephemeris: &Ephemeris,
    site: &Site,
    climate: &Climate,
    bee: &Bee,
    settings: &MorningSettings,
    date: NaiveDate,
) -> Result<Morning, Error> {
    let days = two_days(ephemeris, site, climate, bee, date)?;
    between(ephemeris, site, climate, bee, settings, days.each_ref())
}

/// The morning between two days.
pub(crate) fn between(
    ephemeris: &Ephemeris,
    site: &Site,
    climate: &Climate,
    bee: &Bee,
    settings: &MorningSettings,
    [evening, today]: [&DayFrame; 2],
) -> Result<Morning, Error> {
    let date = today.flight.date;
    let work_light_deg = CIVIL_TWILIGHT_ALTITUDE_DEG + site.east_horizon_deg.get();
    let work_light = ephemeris.crossing(site, date, work_light_deg)?.rise();
    let dusk = ephemeris.crossing(site, evening.flight.date, CIVIL_TWILIGHT_ALTITUDE_DEG)?;
    let (early_first_flight, first_flight) = match today.flight.flight {
        Flight::Possible {
            early_first, first, ..
        } => (Some(early_first), Some(first)),
        _ => (None, None),
    };
    let window = move_window(work_light, today, settings);
    let temperature_c = work_light.map(|at| today.curve.temperature_c(at));
    let temperatures = &today.flight.temperatures;
    let single_bees = early_first_flight
        .map(|first| first.at)
        .or(today.early_first);
    let mut found = Morning {
        date,
        evening_before: closing(evening, dusk.set(), settings),
        open_overnight: !settings.closed_evening_before,
        work_light,
        sunrise: ephemeris.day(site, date)?.sun.rise(),
        first_flight,
        early_first_flight,
        window,
        by_lamp: work_light.and_then(|light| by_lamp(light, single_bees, settings)),
        temperature_c,
        minimum_c: temperatures.minimum_c,
        maximum_c: temperatures.maximum_c,
        rain_mm: temperatures.rain_mm,
        wind_m_s: climate.wind_m_s(date),
        wind_beaufort: climate.wind_m_s(date).map(beaufort),
        flying_day: today.flight.flying_day,
        flight_day_reason: today.flight.reason.clone(),
        verdict: Verdict::Go,
        verdict_reason: today.flight.reason.clone(),
        source: temperatures.source,
    };
    (found.verdict, found.verdict_reason) = verdict::verdict(&found, site, climate, bee, settings)?;
    Ok(found)
}

fn minutes(count: f64) -> TimeDelta {
    TimeDelta::milliseconds((count * 60_000.0) as i64)
}

fn closing(
    evening: &DayFrame,
    daylight_until: Option<Instant>,
    settings: &MorningSettings,
) -> EveningClosing {
    let last_flight = match evening.flight.flight {
        Flight::Possible { last, .. } => Some(last),
        _ => None,
    };
    let [sun, _] = evening.sky.today_and_tomorrow();
    let not_before = sun.set.map_or(sun.noon, |set| {
        set - minutes(settings.close_before_sunset_min.value)
    });
    // On a day without flight every forager is in by then.
    let from = last_flight.map_or(not_before, |last| {
        not_before.max(last.at + minutes(settings.settle_min.value))
    });
    EveningClosing {
        last_flight,
        from,
        daylight_until,
        lamp_needed: daylight_until.is_some_and(|dusk| from > dusk),
    }
}

/// The hour before work light in which a hive is moved by lamp: common practice, no source.
const BY_LAMP: TimeDelta = TimeDelta::hours(1);

fn by_lamp(
    work_light: Instant,
    early_first: Option<Instant>,
    settings: &MorningSettings,
) -> Option<LampWindow> {
    let from = work_light - BY_LAMP;
    let until = match early_first {
        Some(first) if !settings.closed_evening_before => {
            work_light.min(first - minutes(settings.margin_min.value))
        }
        _ => work_light,
    };
    (until - from >= minutes(settings.shortest_window_min.value))
        .then_some(LampWindow { from, until })
}

/// By when a hive must stand, and from when on care is needed.
fn end_of_move(
    from: Instant,
    today: &DayFrame,
    settings: &MorningSettings,
) -> (Instant, Option<Instant>) {
    let margin = minutes(settings.margin_min.value);
    let noon = today.sky.noon();
    let (early, usual) = match today.flight.flight {
        Flight::Possible {
            early_first, first, ..
        } => (Some(early_first.at), first.at - margin),
        // Single bees may be out on days that are too cold for usual flight.
        _ => (today.early_first, noon),
    };
    let early = early.map_or(noon, |at| noon.min(at - margin));
    if !settings.closed_evening_before {
        return (early, None);
    }
    let too_warm = today
        .curve
        .stretch_at_or_above(settings.warmest_work_c.value)
        .map(|(warm, _)| warm)
        .filter(|warm| *warm > from);
    let until = too_warm.map_or(usual, |warm| usual.min(warm));
    let careful = early.max(from);
    (until, (careful < until).then_some(careful))
}

fn move_window(
    work_light: Option<Instant>,
    today: &DayFrame,
    settings: &MorningSettings,
) -> MoveWindow {
    let Some(from) = work_light else {
        return MoveWindow::None {
            reasons: vec![say::no_dawn()],
            help: vec![say::other_date()],
        };
    };
    let (until, careful_from) = end_of_move(from, today, settings);
    let length = (until - from).num_milliseconds() as f64 / 60_000.0;
    if length >= settings.shortest_window_min.value {
        return MoveWindow::Open {
            from,
            until,
            minutes: length,
            careful_from,
        };
    }
    let margin = settings.margin_min.value;
    let reason = if length > 0.0 {
        say::too_short_a_dawn(length, margin)
    } else if length + margin < 0.0 {
        say::too_early_flight()
    } else {
        say::flight_within_margin(length + margin, margin)
    };
    MoveWindow::None {
        reasons: vec![reason],
        help: vec![say::close_and_lamp(), say::cooler_morning()],
    }
}

#[cfg(test)]
mod tests;
