//! The weather that waiting times run over: site, climate and bee, and the days looked at so far.

mod rain;
mod spells;

use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

use chrono::{Datelike, Days, NaiveDate};

use crate::bee::Bee;
use crate::civil::{FIRST_DATE, LAST_DATE, check_date, next_day, previous_day};
use crate::climate::grid::DailySpread;
use crate::climate::{Climate, DayTemperatures, TemperatureSource};
use crate::error::Error;
use crate::flight::{DayFrame, DaySky, FlightDay, day_sun};
use crate::morning::{self, Morning, MorningSettings};
use crate::reason::{Reason, say};
use crate::site::Site;
use crate::sun::Ephemeris;
use crate::work;

pub(crate) use rain::RainChances;
pub(crate) use spells::BINS;
pub use spells::Spread;

use rain::AMOUNTS;
use spells::Spells;

/// Days that one ephemeris is prepared for.
const CHUNK_D: usize = 32;
/// Fewest recorded years that are run one by one.
const FEWEST_YEARS: usize = 5;
/// Days after its start that a recorded year is asked for, and the share that must be there.
const YEAR_D: u32 = 365;
const MEASURED_SHARE: f64 = 0.9;

/// What waiting times run over. What has been worked out for a day is kept.
///
/// ```
/// use apiary_almanac::{Climate, Site, bee, weather::Weather};
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
    pub(crate) spells: Spells,
    /// The chance of rain by month, where it is known.
    pub(crate) rain: Option<RainChances>,
    light_altitude_deg: OnceCell<f64>,
    /// In no order.
    chunks: RefCell<Vec<Rc<Chunk>>>,
}

/// Days that follow each other.
#[derive(Debug)]
struct Chunk {
    number: i32,
    ephemeris: Rc<Ephemeris>,
    days: [OnceCell<Rc<Day>>; CHUNK_D],
}

/// Number of the chunk of a date, and its place there.
fn place_of(date: NaiveDate) -> (i32, usize) {
    let day = date.num_days_from_ce() as usize;
    ((day / CHUNK_D) as i32, day % CHUNK_D)
}

/// A day of the climate.
#[derive(Debug)]
pub(crate) struct Day {
    pub frame: DayFrame,
    /// See [`DaySky::spare_warmth_c`].
    spare_warmth_c: OnceCell<Option<f64>>,
}

impl Day {
    /// True where the weather of this very day is known.
    pub fn is_known(&self) -> bool {
        is_known(&self.frame.flight.temperatures)
    }
}

/// Recorded, forecast or known by the hour. A forecast is taken at its word.
pub(crate) fn is_known(day: &DayTemperatures) -> bool {
    matches!(
        day.source,
        TemperatureSource::RecordedDay | TemperatureSource::Forecast | TemperatureSource::Hours
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
    pub(super) fn with_spread(
        site: &'a Site,
        climate: &'a Climate,
        bee: &'a Bee,
        spread: Spread,
    ) -> Self {
        Weather {
            site,
            climate,
            bee,
            spells: Spells::new(spread.day_to_day_correlation.value.clamp(0.0, 0.95)),
            spread,
            rain: RainChances::of(climate, bee),
            by_month: None,
            light_altitude_deg: OnceCell::new(),
            chunks: RefCell::default(),
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
    pub(crate) fn mean_sd_c(&self, date: NaiveDate) -> f64 {
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
        Ok(self.day(date)?.frame.flight.clone())
    }

    /// An ephemeris that covers a date and its neighbours.
    pub(crate) fn ephemeris(&self, date: NaiveDate) -> Result<Rc<Ephemeris>, Error> {
        Ok(Rc::clone(&self.chunk(date)?.ephemeris))
    }

    fn known_chunk(&self, number: i32) -> Option<Rc<Chunk>> {
        let chunks = self.chunks.borrow();
        chunks.iter().find(|chunk| chunk.number == number).cloned()
    }

    fn chunk(&self, date: NaiveDate) -> Result<Rc<Chunk>, Error> {
        let (number, place) = place_of(check_date("date", date)?);
        if let Some(known) = self.known_chunk(number) {
            return Ok(known);
        }
        let (before, after) = (place as u64, (CHUNK_D - 1 - place) as u64);
        let first = (date - Days::new(before)).max(FIRST_DATE).min(date);
        let last = (date + Days::new(after)).min(LAST_DATE).max(date);
        let new = Rc::new(Chunk {
            number,
            ephemeris: Rc::new(Ephemeris::with_neighbours(first, last)?),
            days: [const { OnceCell::new() }; CHUNK_D],
        });
        self.chunks.borrow_mut().push(Rc::clone(&new));
        Ok(new)
    }

    fn light_altitude_deg(&self) -> Result<f64, Error> {
        if let Some(known) = self.light_altitude_deg.get() {
            return Ok(*known);
        }
        let new = self.bee.light_threshold().sun_altitude_deg()?;
        Ok(*self.light_altitude_deg.get_or_init(|| new))
    }

    pub(crate) fn day(&self, date: NaiveDate) -> Result<Rc<Day>, Error> {
        let chunk = self.chunk(date)?;
        let (_, place) = place_of(date);
        if let Some(known) = chunk.days[place].get() {
            return Ok(Rc::clone(known));
        }
        work::spend(work::NEW_DAY)?;
        let (site, ephemeris) = (self.site, &*chunk.ephemeris);
        let around @ [before, _, after] = self.around(date)?;
        let sun = |date| day_sun(ephemeris, site, date);
        // What is tomorrow's today was today's tomorrow.
        let (number, place_before) = place_of(before);
        let yesterday = self.known_chunk(number);
        let [before, today] = match yesterday.as_ref().and_then(|c| c.days[place_before].get()) {
            Some(day) => day.frame.sky.today_and_tomorrow(),
            None => [sun(before)?, sun(date)?],
        };
        let suns = [before, today, sun(after)?];
        let sky = DaySky::new(ephemeris, site, date, suns, self.light_altitude_deg()?)?;
        let days = around.map(|date| self.climate.day(date));
        let new = Rc::new(Day {
            frame: sky.frame(self.bee, days.each_ref()),
            spare_warmth_c: OnceCell::new(),
        });
        Ok(Rc::clone(chunk.days[place].get_or_init(|| new)))
    }

    /// The morning of a date.
    pub(crate) fn morning(
        &self,
        settings: &MorningSettings,
        date: NaiveDate,
    ) -> Result<Morning, Error> {
        work::spend(work::NEW_DAY)?;
        let evening = self.day(previous_day(date, self.site.zone)?)?;
        let (ephemeris, today) = (self.ephemeris(date)?, self.day(date)?);
        let days = [&evening.frame, &today.frame];
        morning::between(&ephemeris, self.site, self.climate, settings, days)
    }

    fn around(&self, date: NaiveDate) -> Result<[NaiveDate; 3], Error> {
        let zone = self.site.zone;
        Ok([previous_day(date, zone)?, date, next_day(date, zone)?])
    }

    /// From how many standard deviations above the mean of its season on a day is a flying day:
    /// infinite where it never or always is one. Of a known day it is always the one or the other.
    /// Rain is left out.
    pub(crate) fn flies_from_sd(&self, date: NaiveDate) -> Result<f64, Error> {
        let day = self.day(date)?;
        let always = |flying: bool| {
            if flying {
                f64::NEG_INFINITY
            } else {
                f64::INFINITY
            }
        };
        let sd_c = self.maximum_sd_c(date);
        if day.is_known() {
            return Ok(always(day.frame.flight.flying_day));
        }
        let spare_warmth_c = *day
            .spare_warmth_c
            .get_or_init(|| day.frame.sky.spare_warmth_c(self.bee, &day.frame.curve));
        Ok(match spare_warmth_c {
            None => f64::INFINITY,
            Some(spare_c) if sd_c > 0.0 => -spare_c / sd_c,
            Some(spare_c) => always(spare_c >= 0.0),
        })
    }

    /// What is to be expected of a day's rain: `None` where the day is known, or nothing is known of
    /// the season's rain.
    pub(crate) fn rain_to_expect(&self, date: NaiveDate) -> Result<Option<&RainChances>, Error> {
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
            work::spend(1)?;
            date = next_day(date, self.site.zone)?;
            if let Some(rain) = self.rain_to_expect(date)? {
                days += 1.0;
                sum += rain.lost(date);
            }
        }
        let share = if days > 0.0 { sum / days } else { 0.0 };
        let limit_mm = self.bee.rain_limit_mm.value;
        Ok((share >= 0.005).then(|| say::rain_chance(share, limit_mm, AMOUNTS)))
    }

    /// The recorded years that can be run one by one from `start` on, as shifts in years: those in
    /// which nine in ten of the 365 days after `start` were measured. None where there are fewer
    /// than five.
    pub(crate) fn courses(&self, start: NaiveDate) -> Result<Vec<i32>, Error> {
        let Some(records) = self.climate.records() else {
            return Ok(Vec::new());
        };
        let measured_enough = |shift: &i32| {
            let measured = (1..=YEAR_D)
                .filter_map(|day| in_year(start + Days::new(day.into()), *shift))
                .filter(|date| records.day(*date).is_some())
                .count();
            measured as f64 >= MEASURED_SHARE * f64::from(YEAR_D)
        };
        let years = records.years();
        work::spend(u64::from(YEAR_D) / 16 * years.len() as u64)?;
        let shifts = years.iter().map(|year| year - start.year());
        let shifts: Vec<i32> = shifts.filter(measured_enough).collect();
        Ok(if shifts.len() >= FEWEST_YEARS {
            shifts
        } else {
            Vec::new()
        })
    }

    /// A day in the course of a recorded year: what is known of the day itself, else what was
    /// measured in that year, else the mean.
    pub(crate) fn course_day(&self, date: NaiveDate, shift: i32) -> DayTemperatures {
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
    pub(crate) fn flies_in_course(&self, date: NaiveDate, shift: i32) -> Result<bool, Error> {
        work::spend(work::DAY_COURSE)?;
        let [before, today, after] = self.around(date)?.map(|date| self.course_day(date, shift));
        let sky = self.day(date)?.frame.sky;
        let frame = sky.frame(self.bee, [&before, &today, &after]);
        Ok(frame.flight.flying_day)
    }
}

/// The same month and day of another year; 28 February stands in for a missing 29th.
fn in_year(date: NaiveDate, shift: i32) -> Option<NaiveDate> {
    let year = date.year() + shift;
    date.with_year(year)
        .or_else(|| NaiveDate::from_ymd_opt(year, 2, 28))
}
