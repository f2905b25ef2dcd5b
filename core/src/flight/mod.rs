//! When foragers can fly on a day: light and warmth together.
//!
//! Flight is possible while the clear-sky light is at least the bee's light limit and the air is at
//! least as warm as its flight minimum (Heard & Hendrikz 1993 found both to be thresholds). Cloud
//! is not modelled: under thick cloud the light limit is reached later than given here, so a first
//! flight given here is early rather than late. Hills on the skyline are left out for the same
//! reason.

mod chance;
mod places;
mod rows;

use chrono::{NaiveDate, TimeDelta};
use serde::Serialize;

use crate::bee::Bee;
use crate::civil::{Instant, days, next_day, previous_day};
use crate::climate::{AirOfPlace, Climate, DayCurve, DaySun, DayTemperatures, HoursOfDay, Reading};
use crate::clock;
use crate::error::Error;
use crate::place;
use crate::reason::{Reason, say};
use crate::site::Site;
use crate::sun::{Crossing, Ephemeris, LEVEL_SUNRISE_ALTITUDE_DEG};
use crate::wire::FromNode;
use crate::work;

pub(crate) use chance::{COURSE_SD_OF_RANGE, day_chances};
pub use chance::{DayChances, DayLimitOverrides, DayLimits};
pub(crate) use places::{NoDay, each_day};
pub use rows::{FlightColumns, FlightOptions, FlightState, flight_columns};

/// What holds the bees back at the beginning or the end of the day's flight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum FlightLimit {
    /// It is too dark before (after) this moment.
    Light,
    /// It is too cold before (after) this moment.
    Temperature,
}

/// First or last flight, and what sets it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct FlightEdge {
    /// The moment.
    pub at: Instant,
    /// The limit that is met there.
    pub limit: FlightLimit,
}

impl clock::Moment for FlightEdge {
    fn moment(&self) -> Option<Instant> {
        Some(self.at)
    }
}

/// Whether and when bees can fly.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Flight {
    /// Flight is possible, usually from `first` to `last`: the later of the morning's light and
    /// temperature limits, and the earlier of the afternoon's.
    #[non_exhaustive]
    Possible {
        /// Early first flight: on one morning in ten of such a day the first bees are out by then.
        #[serde(flatten, serialize_with = "clock::early_first")]
        early_first: FlightEdge,
        /// Usual first flight: on every second one they are.
        #[serde(flatten, serialize_with = "clock::first")]
        first: FlightEdge,
        /// Usual last flight: on every second evening the last bees are home by then.
        #[serde(flatten, serialize_with = "clock::last")]
        last: FlightEdge,
        /// Late last flight: on one evening in ten bees still fly after it.
        #[serde(flatten, serialize_with = "clock::late_last")]
        late_last: FlightEdge,
    },
    /// The day's maximum stays below the bee's flight minimum.
    TooCold,
    /// The sun stays too low all day, as in a polar winter.
    TooDark,
    /// It is warm enough and light enough, but never both at once.
    NeverBoth,
}

impl Flight {
    /// Where bees were seen to fly or not to fly, first flight lies before that moment or after it.
    fn as_seen(self, reading: &Reading) -> Self {
        let (Some(flying), seen) = (reading.flying(), reading.at()) else {
            return self;
        };
        match self {
            Flight::Possible {
                early_first,
                first,
                last,
                late_last,
            } if seen < last.at => {
                let moved = |edge: FlightEdge| FlightEdge {
                    at: if flying {
                        edge.at.min(seen)
                    } else {
                        edge.at.max(seen)
                    },
                    ..edge
                };
                Flight::Possible {
                    early_first: moved(early_first),
                    first: moved(first),
                    last,
                    late_last,
                }
            }
            other => other,
        }
    }
}

/// The flight of one day.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct FlightDay {
    /// The civil day.
    pub date: NaiveDate,
    /// What the answer rests on.
    pub temperatures: DayTemperatures,
    /// First and last flight, or why there is none.
    pub flight: Flight,
    /// Hours between usual first and usual last flight.
    pub flying_hours: f64,
    /// True when the hours reach the bee's `flying_day_h` and no heavy rain is known.
    pub flying_day: bool,
    /// Why it is a flying day or not.
    pub reason: Reason,
    /// What single years make of it, where only the mean of many years and the spread of the days
    /// about it are known ([`Climate::spread`]).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chances: Option<DayChances>,
    /// What to look at again before it is believed: the place ([`place::doubts`]), and a default
    /// climate that is weak there.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub doubts: Vec<Reason>,
}

/// What to look at again before a day of flight or a morning is believed.
pub(crate) fn doubts(site: &Site, climate: &Climate) -> Vec<Reason> {
    let mut doubts = place::doubts(site);
    doubts.extend(climate.is_weak());
    doubts
}

/// The sun, the air and the bees' flight of one day.
#[derive(Debug, Clone)]
pub(crate) struct DayFrame {
    pub sky: DaySky,
    pub curve: DayCurve,
    /// When single bees may be out, from the earliest that is published.
    pub early_first: Option<Instant>,
    pub flight: FlightDay,
}

/// The day before a date, and the date.
pub(crate) fn two_days(
    ephemeris: &Ephemeris,
    site: &Site,
    climate: &Climate,
    bee: &Bee,
    date: NaiveDate,
) -> Result<[DayFrame; 2], Error> {
    let finder = Finder::new(ephemeris, site, climate, bee)?;
    let before = previous_day(date, site.zone)?;
    let mut around = finder.around(before)?;
    let yesterday = around.frame(before)?;
    around.go_on(date)?;
    Ok([yesterday, around.frame(date)?])
}

/// The days of a span, each behind the day before it.
pub(crate) fn days_with_eves(
    ephemeris: &Ephemeris,
    site: &Site,
    climate: &Climate,
    bee: &Bee,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<[DayFrame; 2]>, Error> {
    let finder = Finder::new(ephemeris, site, climate, bee)?;
    let dates: Vec<_> = days(first, last, site.zone).collect();
    let Some(date) = dates.first() else {
        return Ok(Vec::new());
    };
    let before = previous_day(*date, site.zone)?;
    let mut around = finder.around(before)?;
    let mut yesterday = around.frame(before)?;
    let mut found = Vec::with_capacity(dates.len());
    for date in dates {
        around.go_on(date)?;
        let today = around.frame(date)?;
        found.push([yesterday, today.clone()]);
        yesterday = today;
    }
    Ok(found)
}

/// What does not change from day to day.
struct Finder<'a> {
    ephemeris: &'a Ephemeris,
    site: &'a Site,
    climate: &'a Climate,
    bee: &'a Bee,
    outdoors: Outdoors,
}

/// What of a site and a bee the days of flight are made of.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Outdoors {
    /// Sun from which on it is light enough for the bee, °.
    light_altitude_deg: f64,
    air: AirOfPlace,
}

impl Outdoors {
    pub fn of(site: &Site, bee: &Bee) -> Result<Self, Error> {
        Ok(Outdoors {
            light_altitude_deg: bee.light_threshold().sun_altitude_deg()?,
            air: AirOfPlace::of(site),
        })
    }
}

/// A day between its neighbours.
struct Around<'a, 'b> {
    finder: &'b Finder<'a>,
    days: [(DaySun, DayTemperatures); 3],
}

impl<'a> Finder<'a> {
    fn new(
        ephemeris: &'a Ephemeris,
        site: &'a Site,
        climate: &'a Climate,
        bee: &'a Bee,
    ) -> Result<Self, Error> {
        Ok(Finder {
            ephemeris,
            site,
            climate,
            bee,
            outdoors: Outdoors::of(site, bee)?,
        })
    }

    fn day(&self, date: NaiveDate) -> Result<(DaySun, DayTemperatures), Error> {
        Ok((
            day_sun(self.ephemeris, self.site, date)?,
            self.climate.day(date),
        ))
    }

    fn around(&self, date: NaiveDate) -> Result<Around<'a, '_>, Error> {
        let zone = self.site.zone;
        let days = [
            self.day(previous_day(date, zone)?)?,
            self.day(date)?,
            self.day(next_day(date, zone)?)?,
        ];
        Ok(Around { finder: self, days })
    }
}

impl Around<'_, '_> {
    fn sky(&self, date: NaiveDate) -> Result<DaySky, Error> {
        let Finder {
            ephemeris,
            site,
            outdoors,
            ..
        } = *self.finder;
        let [before, today, after] = &self.days;
        let suns = [before.0, today.0, after.0];
        DaySky::new(ephemeris, site, date, suns, outdoors)
    }

    fn frame(&self, date: NaiveDate) -> Result<DayFrame, Error> {
        let days = self.days.each_ref().map(|(_, day)| day);
        let Finder {
            site, climate, bee, ..
        } = *self.finder;
        let sky = self.sky(date)?;
        Ok(sky.frame_in(site, climate, bee, days))
    }

    /// Turns to the day after, which is given: each day is worked out once, and then is the neighbour
    /// of two others.
    fn go_on(&mut self, date: NaiveDate) -> Result<(), Error> {
        let after = next_day(date, self.finder.site.zone)?;
        self.days.rotate_left(1);
        self.days[2] = self.finder.day(after)?;
        Ok(())
    }

    fn with_chances(
        &self,
        date: NaiveDate,
        limits: &DayLimits,
        doubts: &[Reason],
    ) -> Result<FlightDay, Error> {
        let Finder { climate, bee, .. } = *self.finder;
        let day = self.frame(date)?;
        Ok(FlightDay {
            chances: day_chances(climate, bee, limits, &day),
            doubts: doubts.to_vec(),
            ..day.flight
        })
    }
}

/// What the sun of a day and of its neighbours means for flight: it stays the same whatever the
/// weather.
#[derive(Debug, Clone, Copy)]
pub(crate) struct DaySky {
    date: NaiveDate,
    /// Of yesterday, today and tomorrow.
    suns: [DaySun; 3],
    air: AirOfPlace,
    /// The stretch that is light enough for the bee.
    light: Option<(Instant, Instant)>,
}

impl DaySky {
    /// With the sun of yesterday, today and tomorrow.
    pub fn new(
        ephemeris: &Ephemeris,
        site: &Site,
        date: NaiveDate,
        suns: [DaySun; 3],
        outdoors: Outdoors,
    ) -> Result<Self, Error> {
        let altitude_deg = outdoors.light_altitude_deg;
        Ok(DaySky {
            date,
            suns,
            air: outdoors.air,
            light: light(ephemeris, site, date, altitude_deg, suns[1].noon)?,
        })
    }

    fn curve(&self, temperatures: [&DayTemperatures; 3]) -> DayCurve {
        let [before, today, after] = &self.suns;
        DayCurve::new([before, today, after], temperatures, self.air)
    }

    /// The sun of the day and of tomorrow.
    pub fn today_and_tomorrow(&self) -> [DaySun; 2] {
        [self.suns[1], self.suns[2]]
    }

    /// The day of a climate: with its hours, where it is known by the hour from end to end, and with
    /// what was read on it.
    pub fn frame_in(
        self,
        site: &Site,
        climate: &Climate,
        bee: &Bee,
        temperatures: [&DayTemperatures; 3],
    ) -> DayFrame {
        let mut curve = self.curve(temperatures);
        if let Some(hours) = climate.hours_of(self.date).filter(HoursOfDay::is_whole) {
            let readings = hours.readings.iter();
            curve = curve.with_hours(readings.map(|hour| (hour.at, hour.temperature_c)));
        }
        let reading = climate.reading_of(self.date, site.zone);
        if let Some(reading) = reading {
            curve = curve.with_reading(reading.at(), reading.temperature_c());
        }
        self.with_curve(bee, temperatures, curve, reading)
    }

    /// The day when yesterday, today and tomorrow are as warm as given.
    pub fn frame(self, bee: &Bee, temperatures: [&DayTemperatures; 3]) -> DayFrame {
        let curve = self.curve(temperatures);
        self.with_curve(bee, temperatures, curve, None)
    }

    fn with_curve(
        self,
        bee: &Bee,
        temperatures: [&DayTemperatures; 3],
        curve: DayCurve,
        reading: Option<&Reading>,
    ) -> DayFrame {
        let outer = curve.outer_stretch_at_or_above(bee.earliest_c());
        let early_first = early_first(self.light, outer);
        let flight = meet(self.light, curve.stretch_at_or_above(bee.usual_c()), outer);
        let flight = reading.map_or(flight, |reading| flight.as_seen(reading));
        let flying_hours = flying_hours(&flight);
        let temperatures = *temperatures[1];
        let (flying_day, reason) = grade(bee, &temperatures, &flight, flying_hours);
        let flight = FlightDay {
            date: self.date,
            temperatures,
            flight,
            flying_hours,
            flying_day,
            reason,
            chances: None,
            doubts: Vec::new(),
        };
        DayFrame {
            sky: self,
            curve,
            early_first,
            flight,
        }
    }

    /// Solar noon of the day.
    pub fn noon(&self) -> Instant {
        self.suns[1].noon
    }

    /// By how much yesterday, today and tomorrow together can be warmer than given, °C, with a flight
    /// that still passes, when colder ones always do and warmer ones never: infinite where all do,
    /// negatively so where none does.
    pub fn warmest_shift_c(
        &self,
        bee: &Bee,
        curve: &DayCurve,
        passes: impl Fn(&Flight, Option<Instant>) -> bool,
    ) -> f64 {
        const FARTHEST_C: f64 = 40.0;
        // The whole curve moves with the temperatures, so instead of it the threshold is moved.
        let passes_at = |shift_c: f64| {
            let outer = curve.outer_stretch_at_or_above(bee.earliest_c() - shift_c);
            let usual = curve.stretch_at_or_above(bee.usual_c() - shift_c);
            let early_first = early_first(self.light, outer);
            passes(&meet(self.light, usual, outer), early_first)
        };
        if passes_at(FARTHEST_C) {
            return f64::INFINITY;
        }
        if !passes_at(-FARTHEST_C) {
            return f64::NEG_INFINITY;
        }
        let (mut below, mut above) = (-FARTHEST_C, FARTHEST_C);
        while above - below > 0.001 {
            let middle = f64::midpoint(below, above);
            if passes_at(middle) {
                below = middle;
            } else {
                above = middle;
            }
        }
        below
    }

    /// By how much yesterday, today and tomorrow together could be colder, °C, with the day still
    /// long enough for a flying day; negative where they would have to be warmer, `None` where no
    /// warmth would do. Rain is not looked at.
    pub fn spare_warmth_c(&self, bee: &Bee, curve: &DayCurve) -> Option<f64> {
        // The whole curve moves with the temperatures, so instead of it the threshold is moved.
        let light = self
            .light
            .map(|(from, until)| (curve.ms(from), curve.ms(until)));
        let long_enough = |threshold_c| {
            let both = light.zip(curve.stretch_ms(threshold_c));
            let shared_ms = both.map_or(0.0, |(light, warmth)| {
                (light.1.min(warmth.1) - light.0.max(warmth.0)).max(0.0)
            });
            shared_ms / 3_600_000.0 >= bee.flying_day_h.value
        };
        let (mut below, mut above) = (curve.lowest_c() - 1.0, curve.maximum_c() + 1.0);
        if !long_enough(below) {
            return None;
        }
        while above - below > 0.001 {
            let middle = f64::midpoint(below, above);
            if long_enough(middle) {
                below = middle;
            } else {
                above = middle;
            }
        }
        Some(below - bee.usual_c())
    }
}

fn flying_hours(flight: &Flight) -> f64 {
    match flight {
        Flight::Possible { first, last, .. } => hours(last.at - first.at),
        _ => 0.0,
    }
}

fn light(
    ephemeris: &Ephemeris,
    site: &Site,
    date: NaiveDate,
    altitude_deg: f64,
    noon: Instant,
) -> Result<Option<(Instant, Instant)>, Error> {
    let crossing = ephemeris.crossing(site, date, altitude_deg)?;
    Ok(stretch_above(&crossing, noon))
}

pub(crate) fn day_sun(
    ephemeris: &Ephemeris,
    site: &Site,
    date: NaiveDate,
) -> Result<DaySun, Error> {
    let crossing = ephemeris.crossing(site, date, LEVEL_SUNRISE_ALTITUDE_DEG)?;
    Ok(DaySun {
        noon: ephemeris.solar_noon(site, date)?,
        rise: crossing.rise(),
        set: crossing.set(),
    })
}

/// The part of the solar day during which the sun stands above the altitude of the crossing.
fn stretch_above(crossing: &Crossing, noon: Instant) -> Option<(Instant, Instant)> {
    let half = TimeDelta::hours(12);
    match *crossing {
        Crossing::RisesAndSets { rise, set } => Some((rise, set)),
        Crossing::OnlyRises { rise } => Some((rise, noon + half)),
        Crossing::OnlySets { set } => Some((noon - half, set)),
        Crossing::AlwaysAbove => Some((noon - half, noon + half)),
        Crossing::AlwaysBelow => None,
    }
}

type Stretch = (Instant, Instant);

/// When single bees may be out for the first time, on days without usual flight too.
fn early_first(light: Option<Stretch>, outer: Option<Stretch>) -> Option<Instant> {
    let (light, outer) = light.zip(outer)?;
    let first = light.0.max(outer.0);
    (first < light.1.min(outer.1)).then_some(first)
}

fn meet(light: Option<Stretch>, warmth: Option<Stretch>, outer: Option<Stretch>) -> Flight {
    let (Some(light), Some(warmth)) = (light, warmth) else {
        return if warmth.is_none() {
            Flight::TooCold
        } else {
            Flight::TooDark
        };
    };
    let edge = |light: Instant, warmth: Instant, by_light: bool| {
        if by_light {
            FlightEdge {
                at: light,
                limit: FlightLimit::Light,
            }
        } else {
            FlightEdge {
                at: warmth,
                limit: FlightLimit::Temperature,
            }
        }
    };
    let begins = |warm: Instant| edge(light.0, warm, light.0 >= warm);
    let ends = |warm: Instant| edge(light.1, warm, light.1 <= warm);
    let outer = outer.unwrap_or(warmth);
    let (first, last) = (begins(warmth.0), ends(warmth.1));
    if first.at < last.at {
        Flight::Possible {
            early_first: begins(outer.0),
            first,
            last,
            late_last: ends(outer.1),
        }
    } else {
        Flight::NeverBoth
    }
}

fn grade(bee: &Bee, day: &DayTemperatures, flight: &Flight, flying_hours: f64) -> (bool, Reason) {
    let needed = bee.flying_day_h.value;
    match flight {
        Flight::TooCold => (false, say::too_cold(day.maximum_c, bee.usual_c())),
        Flight::TooDark => (false, say::too_dark()),
        Flight::NeverBoth => (false, say::never_both()),
        Flight::Possible { .. } => match day.rain_mm {
            Some(rain) if rain >= bee.rain_limit_mm.value => {
                (false, say::too_wet(rain, bee.rain_limit_mm.value))
            }
            _ if flying_hours < needed => (false, say::too_short(flying_hours, needed)),
            _ => (true, say::long_enough(flying_hours)),
        },
    }
}

fn hours(span: TimeDelta) -> f64 {
    span.num_milliseconds() as f64 / 3_600_000.0
}

/// See `Weather::flights`.
pub(crate) fn flight_days_within(
    site: &Site,
    climate: &Climate,
    bee: &Bee,
    limits: &DayLimits,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<FlightDay>, Error> {
    let ephemeris = Ephemeris::with_neighbours(first, last)?;
    let finder = Finder::new(&ephemeris, site, climate, bee)?;
    let mut dates = days(first, last, site.zone);
    let Some(date) = dates.next() else {
        return Ok(Vec::new());
    };
    let mut around = finder.around(date)?;
    let doubts = doubts(site, climate);
    let mut found = vec![around.with_chances(date, limits, &doubts)?];
    for date in dates {
        work::spend(work::NEW_DAY)?;
        around.go_on(date)?;
        found.push(around.with_chances(date, limits, &doubts)?);
    }
    Ok(found)
}

#[cfg(test)]
mod tests;
