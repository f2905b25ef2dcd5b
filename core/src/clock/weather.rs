//! The weather that clocks run over: site, climate and bee, and the days looked at so far.

use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use chrono::{Datelike, Days, NaiveDate};

use super::rain::{AMOUNTS, RainChances};
use super::spells::{Spells, Spread};
use crate::bee::Bee;
use crate::civil::{FIRST_DATE, LAST_DATE, next_day, previous_day};
use crate::climate::grid::DailySpread;
use crate::climate::{Climate, DayTemperatures, TemperatureSource};
use crate::error::Error;
use crate::flight::{DaySky, FlightDay};
use crate::reason::Reason;
use crate::site::Site;
use crate::sun::Ephemeris;

/// Days that one ephemeris is prepared for.
const CHUNK_D: i32 = 64;
/// Fewest recorded years that are run one by one.
const FEWEST_YEARS: usize = 5;
/// Days after its start that a recorded year is asked for, and the share that must be there.
const YEAR_D: u32 = 365;
const MEASURED_SHARE: f64 = 0.9;

/// What clocks run over. What has been worked out for a day is kept.
///
/// ```
/// use apiary_almanac::{Climate, Site, bee, clock::Weather};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let (climate, small) = (Climate::from_location(&site), bee::built_in("generic_small")?);
/// let weather = Weather::new(&site, &climate, &small);
/// assert!(weather.flying_day("2026-11-26".parse()?)?.flying_day);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug)]
pub struct Weather<'a> {
    /// Where.
    pub site: &'a Site,
    /// The temperatures.
    pub climate: &'a Climate,
    /// The bee.
    pub bee: &'a Bee,
    spread: Spread,
    /// The spread of the place by month, where it is known and no other was asked for.
    by_month: Option<DailySpread>,
    pub(super) spells: Spells,
    /// The chance of rain by month, where it is known.
    pub(crate) rain: Option<RainChances>,
    ephemerides: RefCell<BTreeMap<i32, Rc<Ephemeris>>>,
    days: RefCell<BTreeMap<NaiveDate, Rc<Day>>>,
}

/// A day of the climate.
#[derive(Debug)]
pub(crate) struct Day {
    sky: DaySky,
    pub flight: FlightDay,
    /// See [`DaySky::spare_warmth_c`].
    spare_warmth_c: Option<f64>,
}

impl Day {
    /// True where the weather of this very day is known.
    pub fn is_known(&self) -> bool {
        is_known(&self.flight.temperatures)
    }
}

/// Recorded or forecast. A forecast is taken at its word.
pub(crate) fn is_known(day: &DayTemperatures) -> bool {
    matches!(
        day.source,
        TemperatureSource::RecordedDay | TemperatureSource::Forecast
    )
}

impl<'a> Weather<'a> {
    /// The weather of a site for a bee. Days stray from the mean of their season as the climate has
    /// it ([`Climate::spread`]), or else by the default [`Spread`].
    pub fn new(site: &'a Site, climate: &'a Climate, bee: &'a Bee) -> Self {
        Weather {
            by_month: climate.spread().copied(),
            ..Self::with_spread(site, climate, bee, Spread::default())
        }
    }

    /// The same with another spread of the days about the mean of their season.
    pub fn with_spread(site: &'a Site, climate: &'a Climate, bee: &'a Bee, spread: Spread) -> Self {
        Weather {
            site,
            climate,
            bee,
            spells: Spells::new(spread.day_to_day_correlation.value.clamp(0.0, 0.95)),
            spread,
            rain: RainChances::of(climate, bee),
            by_month: None,
            ephemerides: RefCell::default(),
            days: RefCell::default(),
        }
    }

    /// How long days stay away from the mean of their season, and how far where the climate does
    /// not know it.
    pub fn spread(&self) -> &Spread {
        &self.spread
    }

    /// Standard deviation of the maximum of a date about the mean of its season, °C.
    fn maximum_sd_c(&self, date: NaiveDate) -> f64 {
        self.by_month
            .map_or(self.spread.day_sd_c.value, |by_month| {
                by_month.of(date).maximum
            })
    }

    /// The same of the day's mean.
    pub(super) fn mean_sd_c(&self, date: NaiveDate) -> f64 {
        self.by_month
            .map_or(self.spread.day_sd_c.value, |by_month| {
                by_month.mean_sd_c(date.month0() as usize)
            })
    }

    /// The flight of a day of the climate: recorded, forecast, or the mean of its season.
    ///
    /// # Errors
    /// As [`crate::flight::flight_day`].
    pub fn flying_day(&self, date: NaiveDate) -> Result<FlightDay, Error> {
        Ok(self.day(date)?.flight.clone())
    }

    /// An ephemeris that covers a date and its neighbours.
    pub(crate) fn ephemeris(&self, date: NaiveDate) -> Result<Rc<Ephemeris>, Error> {
        let chunk = date.num_days_from_ce().div_euclid(CHUNK_D);
        if let Some(known) = self.ephemerides.borrow().get(&chunk) {
            return Ok(Rc::clone(known));
        }
        let day = |number| NaiveDate::from_num_days_from_ce_opt(number).unwrap_or(date);
        let first = day(chunk * CHUNK_D).max(FIRST_DATE).min(date);
        let last = day(chunk * CHUNK_D + CHUNK_D - 1).min(LAST_DATE).max(date);
        let new = Rc::new(Ephemeris::with_neighbours(first, last)?);
        self.ephemerides.borrow_mut().insert(chunk, Rc::clone(&new));
        Ok(new)
    }

    pub(crate) fn day(&self, date: NaiveDate) -> Result<Rc<Day>, Error> {
        if let Some(known) = self.days.borrow().get(&date) {
            return Ok(Rc::clone(known));
        }
        let sky = DaySky::new(&*self.ephemeris(date)?, self.site, self.bee, date)?;
        let [before, today, after] = self.around(date)?.map(|date| self.climate.day(date));
        let three = [&before, &today, &after];
        let new = Rc::new(Day {
            flight: sky.flight(self.bee, three).0,
            spare_warmth_c: sky.spare_warmth_c(self.bee, three),
            sky,
        });
        self.days.borrow_mut().insert(date, Rc::clone(&new));
        Ok(new)
    }

    fn around(&self, date: NaiveDate) -> Result<[NaiveDate; 3], Error> {
        let zone = self.site.zone;
        Ok([previous_day(date, zone)?, date, next_day(date, zone)?])
    }

    /// From how many standard deviations above the mean of its season on a day is a flying day:
    /// infinite where it never or always is one. Of a known day it is always the one or the other.
    /// Rain is left out.
    pub(super) fn flies_from_sd(&self, date: NaiveDate) -> Result<f64, Error> {
        let day = self.day(date)?;
        let always = |flying: bool| {
            if flying {
                f64::NEG_INFINITY
            } else {
                f64::INFINITY
            }
        };
        let sd_c = self.maximum_sd_c(date);
        Ok(match day.spare_warmth_c {
            _ if day.is_known() => always(day.flight.flying_day),
            None => f64::INFINITY,
            Some(spare_c) if sd_c > 0.0 => -spare_c / sd_c,
            Some(spare_c) => always(spare_c >= 0.0),
        })
    }

    /// What is to be expected of a day's rain: `None` where the day is known, or nothing is known of
    /// the season's rain.
    pub(super) fn rain_to_expect(&self, date: NaiveDate) -> Result<Option<&RainChances>, Error> {
        match &self.rain {
            Some(rain) if !self.day(date)?.is_known() => Ok(Some(rain)),
            _ => Ok(None),
        }
    }

    /// How much rain was counted in on the unknown days after `from` up to `to`, where it matters.
    pub(crate) fn rain_reason(
        &self,
        from: NaiveDate,
        to: NaiveDate,
    ) -> Result<Option<Reason>, Error> {
        let (mut days, mut sum, mut date) = (0.0, 0.0, from);
        while date < to {
            date = next_day(date, self.site.zone)?;
            if let Some(rain) = self.rain_to_expect(date)? {
                days += 1.0;
                sum += rain.lost(date);
            }
        }
        let share = if days > 0.0 { sum / days } else { 0.0 };
        Ok((share >= 0.005).then(|| {
            Reason::new(
                "rain_chance",
                format!(
                    "The chance of rain is counted in: about {:.0} % of days at this time of year \
                     are lost to {:.0} mm or more (by rain and wet days of the months; {AMOUNTS}).",
                    share * 100.0,
                    self.bee.rain_limit_mm.value
                ),
            )
        }))
    }

    /// The recorded years that can be run one by one from `start` on, as shifts in years: those in
    /// which nine in ten of the 365 days after `start` were measured. None where there are fewer
    /// than five.
    pub(crate) fn courses(&self, start: NaiveDate) -> Vec<i32> {
        let Some(records) = self.climate.records() else {
            return Vec::new();
        };
        let measured_enough = |shift: &i32| {
            let measured = (1..=YEAR_D)
                .filter_map(|day| in_year(start + Days::new(day.into()), *shift))
                .filter(|date| records.day(*date).is_some())
                .count();
            measured as f64 >= MEASURED_SHARE * f64::from(YEAR_D)
        };
        let years = records.years();
        let shifts = years.iter().map(|year| year - start.year());
        let shifts: Vec<i32> = shifts.filter(measured_enough).collect();
        if shifts.len() >= FEWEST_YEARS {
            shifts
        } else {
            Vec::new()
        }
    }

    /// A day in the course of a recorded year: what is known of the day itself, else what was
    /// measured in that year, else the mean.
    pub(super) fn course_day(&self, date: NaiveDate, shift: i32) -> DayTemperatures {
        let day = self.climate.day(date);
        if is_known(&day) {
            return day;
        }
        self.climate
            .records()
            .and_then(|records| records.day(in_year(date, shift)?))
            .map_or(day, |measured| DayTemperatures { date, ..measured })
    }

    /// Whether a day is a flying day in the course of a recorded year.
    pub(super) fn flies_in_course(&self, date: NaiveDate, shift: i32) -> Result<bool, Error> {
        let [before, today, after] = self.around(date)?.map(|date| self.course_day(date, shift));
        let sky = self.day(date)?.sky;
        Ok(sky.flight(self.bee, [&before, &today, &after]).0.flying_day)
    }
}

/// The same month and day of another year; 28 February stands in for a missing 29th.
fn in_year(date: NaiveDate, shift: i32) -> Option<NaiveDate> {
    let year = date.year() + shift;
    date.with_year(year)
        .or_else(|| NaiveDate::from_ymd_opt(year, 2, 28))
}
