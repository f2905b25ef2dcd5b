//! The weather of a site for a bee: what is asked of it, from the sun of a day to the season of a year, and
//! the days looked at so far.

mod rain;
mod spells;

use std::borrow::Cow;
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

use chrono::{Datelike, Days, NaiveDate};

use crate::bee::Bee;
use crate::civil::{FIRST_DATE, LAST_DATE, check_date, next_day, previous_day};
use crate::climate::grid::DailySpread;
use crate::climate::{Climate, DayTemperatures, TemperatureSource};
use crate::error::Error;
use crate::flight::{
    self, COURSE_SD_OF_RANGE, DayFrame, DayLimits, DaySky, FlightDay, Outdoors, day_chances,
    day_sun, flight_days_within,
};
use crate::morning::{self, Morning, MorningSettings, RankedMorning, Weekday, rank_mornings};
use crate::normal::chance_at_or_above;
use crate::place;
use crate::reason::{Reason, say};
use crate::season::{Rule, Season, SeasonOdds, SeasonOutcome, SeasonSettings, published};
use crate::site::Site;
use crate::sun::{Ephemeris, SunDay};
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

/// The weather of a site for a bee: asked for the sun, flights, mornings and seasons, and what waiting times
/// run over. What has been worked out for a day is kept.
///
/// ```
/// use apiary_almanac::{Climate, Site, bee, weather::Weather};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let (climate, small) = (Climate::from_location(&site), bee::built_in("generic_small")?);
/// let weather = Weather::new(&site, &climate, &small);
/// assert!(weather.flight("2026-11-26".parse()?)?.flying_day);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug)]
pub struct Weather<'a> {
    pub(crate) site: Site,
    pub(crate) climate: Cow<'a, Climate>,
    pub(crate) bee: Cow<'a, Bee>,
    spread: Spread,
    /// The spread of the place by month, where it is known and no other was asked for.
    by_month: Option<DailySpread>,
    spells: OnceCell<Spells>,
    /// The chance of rain by month, where it is known.
    pub(crate) rain: Option<RainChances>,
    outdoors: OnceCell<Outdoors>,
    /// In no order.
    chunks: RefCell<Vec<Rc<Chunk>>>,
    /// The seasons that were judged, which are few.
    seasons: RefCell<Vec<(SeasonQuestion, Rc<GoodWindows>)>>,
}

/// The settings, and the first and the last date.
type SeasonQuestion = (SeasonSettings, NaiveDate, NaiveDate);

/// The good windows of a season and the rules that they were judged by.
type GoodWindows = (SeasonOutcome, Vec<Rule>);

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
    ///
    /// ```
    /// use apiary_almanac::{Climate, Site, Weather, bee, climate::Forecast};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let small = bee::built_in("generic_small")?;
    /// // A cold snap in November that the place alone does not let one expect.
    /// let snap = Forecast::from_csv("week.csv", "date,minimum_c,maximum_c\n2026-11-26,6,15\n")?;
    /// let climate = Climate::from_location(&site).with_forecast(snap);
    /// let weather = Weather::new(&site, &climate, &small);
    /// assert!(!weather.flight("2026-11-26".parse()?)?.flying_day);
    /// assert!(weather.flight("2026-11-28".parse()?)?.flying_day);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(site: &'a Site, climate: &'a Climate, bee: &'a Bee) -> Self {
        let (climate, bee) = (Cow::Borrowed(climate), Cow::Borrowed(bee));
        Self::with(*site, climate, bee, Spread::default()).straying_as_the_climate()
    }

    /// As [`Weather::new`], for a climate and a bee that nobody else needs.
    pub(crate) fn owning(site: Site, climate: Climate, bee: Bee) -> Weather<'static> {
        let (climate, bee) = (Cow::Owned(climate), Cow::Owned(bee));
        Weather::with(site, climate, bee, Spread::default()).straying_as_the_climate()
    }

    /// The weather that the location alone lets one expect: [`Climate::from_location`].
    ///
    /// ```
    /// use apiary_almanac::{Site, Weather, bee, morning::MorningSettings};
    /// let (bee, usual) = (bee::built_in("generic_small")?, MorningSettings::default());
    /// let tomorrow = "2026-09-14".parse()?;
    /// let maximum_c = |latitude_deg, longitude_deg, elevation_m| -> Result<f64, apiary_almanac::Error> {
    ///     let site = Site::new(latitude_deg, longitude_deg, elevation_m, "Australia/Sydney")?;
    ///     let morning = Weather::of_location(site, &bee).morning(tomorrow, &usual)?;
    ///     println!("move {}", morning.window);
    ///     Ok(morning.maximum_c)
    /// };
    /// // A ridge, and a creek below it.
    /// assert!(maximum_c(-28.81, 153.28, 140.0)? < maximum_c(-28.81, 153.28, 8.0)?);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_location(site: Site, bee: &'a Bee) -> Self {
        let climate = Cow::Owned(Climate::from_location(&site));
        Self::with(site, climate, Cow::Borrowed(bee), Spread::default()).straying_as_the_climate()
    }

    fn straying_as_the_climate(self) -> Self {
        Weather {
            by_month: self.climate.spread().copied(),
            ..self
        }
    }

    /// Where.
    pub fn site(&self) -> &Site {
        &self.site
    }

    /// The temperatures.
    pub fn climate(&self) -> &Climate {
        &self.climate
    }

    /// The bee.
    pub fn bee(&self) -> &Bee {
        &self.bee
    }

    /// With a spread of the days about the mean of their season that is the same all year.
    pub(crate) fn with(
        site: Site,
        climate: Cow<'a, Climate>,
        bee: Cow<'a, Bee>,
        spread: Spread,
    ) -> Self {
        Weather {
            spells: OnceCell::new(),
            spread,
            rain: RainChances::of(&climate, &bee),
            site,
            climate,
            bee,
            by_month: None,
            outdoors: OnceCell::new(),
            chunks: RefCell::default(),
            seasons: RefCell::default(),
        }
    }

    /// How long days stay away from the mean of their season, and how far where the climate does
    /// not know it.
    ///
    /// ```
    /// use apiary_almanac::{Site, Weather, bee};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let small = bee::built_in("generic_small")?;
    /// // A warm day is mostly followed by a warm one.
    /// assert_eq!(Weather::of_location(site, &small).spread().day_to_day_correlation().value, 0.55);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn spread(&self) -> &Spread {
        &self.spread
    }

    /// How days follow each other. Worked out at the first wait: a season or a morning needs none.
    pub(crate) fn spells(&self) -> &Spells {
        let correlation = self.spread.day_to_day_correlation.value.clamp(0.0, 0.95);
        self.spells.get_or_init(|| Spells::new(correlation))
    }

    /// Standard deviation of the maximum of a date about the mean of its season, °C.
    fn maximum_sd_c(&self, date: NaiveDate) -> f64 {
        self.by_month
            .map_or(self.spread.day_sd_c.value, |by_month| {
                by_month.of(date).maximum
            })
    }

    /// The chance that the maximum of a date reaches a temperature. Of a known day it is 0 or 1.
    pub(crate) fn chance_of_maximum(&self, date: NaiveDate, from_c: f64) -> f64 {
        let day = self.climate.day(date);
        if is_known(&day) {
            return f64::from(u8::from(day.maximum_c >= from_c));
        }
        chance_at_or_above(from_c, day.maximum_c, self.maximum_sd_c(date))
    }

    /// The same of the day's mean.
    pub(crate) fn mean_sd_c(&self, date: NaiveDate) -> f64 {
        self.by_month
            .map_or(self.spread.day_sd_c.value, |by_month| {
                by_month.mean_sd_c(date.month0() as usize)
            })
    }

    /// The sun of a day.
    ///
    /// # Errors
    /// As [`crate::sun::sun_day`].
    ///
    /// ```
    /// use apiary_almanac::{Site, Weather, bee};
    /// let (site, small) =
    ///     (Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?, bee::built_in("generic_small")?);
    /// let day = Weather::of_location(site, &small).sun("2026-09-14".parse()?)?;
    /// assert!(day.sun.rise() < Some(day.solar_noon));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn sun(&self, date: NaiveDate) -> Result<SunDay, Error> {
        self.ephemeris(date)?.day(&self.site, date)
    }

    /// The working windows that touch the span from `first` to `last`.
    ///
    /// A window is followed beyond the span, for a year at most, so that `opens` and `closes` are its
    /// true ends. A date is open when the rules hold with at least the chance that the settings ask
    /// for:
    ///
    /// - with records each year is judged, and the chance is the share of years;
    /// - with means and a known spread of the days about them ([`Climate::spread`]) the chance of a
    ///   rule on an average of days is exact for normally distributed days with the correlation from
    ///   day to day; of several rules, and of several stretches of weeks ahead, the least likely one
    ///   counts, which is an approximation: all of them together are a little less likely;
    /// - with means alone a rule holds or not.
    ///
    /// A forecast replaces the days it covers. Where the error of the temperatures is known, each
    /// window says in `error_range` what that error does to its dates.
    ///
    /// # Errors
    /// `out_of_range` for a date, chance or rule number outside its range, `inconsistent` for a
    /// reversed span, `not_enough_data` when a rule of rain or wet days meets a climate without them
    /// or the records are too few to judge a single date.
    ///
    /// ```
    /// use apiary_almanac::{Climate, MonthlyNormals, Site, Weather, bee, season};
    /// use season::{SeasonOutcome, SeasonSettings};
    /// // Singapore, rounded: the coldest month averages well over 18 °C.
    /// let site = Site::new(1.35, 103.82, 15.0, "Asia/Singapore")?;
    /// let normals = MonthlyNormals::new([24.5; 12], [31.5; 12], None, "rounded example")?;
    /// let (climate, small) = (Climate::from_normals(normals), bee::built_in("generic_small")?);
    /// let weather = Weather::new(&site, &climate, &small);
    /// let (first, last) = ("2026-01-01".parse()?, "2026-12-31".parse()?);
    /// let found = weather.season(first, last, &SeasonSettings::default())?;
    /// assert_eq!(found.outcome, SeasonOutcome::AllYear);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn season(
        &self,
        first: NaiveDate,
        last: NaiveDate,
        settings: &SeasonSettings,
    ) -> Result<Season, Error> {
        let season = settings.season(&self.climate, &self.bee, first, last)?;
        Ok(Season {
            not_at_home: self.bee.not_at_home(&self.site),
            doubts: place::doubts(&self.site),
            published: published(&self.site, &self.bee, &season),
            ..season
        })
    }

    /// How likely a colony that is made on a date of a span has workers of its own before the good season
    /// ends, by the published times to a queen, the range of the bee's brood time and the end of the
    /// warm time in each recorded year, or its spread. Rough.
    ///
    /// # Errors
    /// As [`season`](Self::season).
    ///
    /// ```
    /// use apiary_almanac::season::{SeasonSettings, StartOdds};
    /// use apiary_almanac::{Site, Weather, bee};
    /// let (site, small) =
    ///     (Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?, bee::built_in("generic_small")?);
    /// let weather = Weather::of_location(site, &small);
    /// let (first, last) = ("2026-07-01".parse()?, "2027-06-30".parse()?);
    /// let odds = weather.season_odds(first, last, &SeasonSettings::default())?;
    /// let StartOdds::Known { odds } = odds.of("2026-11-26".parse()?) else { return Err("good".into()) };
    /// assert!(odds.in_time > 0.8);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn season_odds(
        &self,
        first: NaiveDate,
        last: NaiveDate,
        settings: &SeasonSettings,
    ) -> Result<SeasonOdds, Error> {
        settings.odds(&self.climate, &self.bee, first, last)
    }

    /// The good windows of a season, judged once for all plans of the place.
    pub(crate) fn good_windows(
        &self,
        settings: &SeasonSettings,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<Rc<GoodWindows>, Error> {
        let asked = (settings.clone(), first, last);
        let mut seasons = self.seasons.borrow_mut();
        if let Some((_, known)) = seasons.iter().find(|(question, _)| *question == asked) {
            return Ok(Rc::clone(known));
        }
        let found = Rc::new(settings.good_windows(&self.climate, &self.bee, first, last)?);
        seasons.push((asked, Rc::clone(&found)));
        Ok(found)
    }

    /// The flight of a day: recorded, forecast, or the mean of its season, with its chances against
    /// the default [`DayLimits`].
    ///
    /// # Errors
    /// `out_of_range` for a date outside 1900–2100 or at its very ends (the days before and after are
    /// needed too), `skipped_day` where the zone's calendar has no such day.
    ///
    /// ```
    /// use apiary_almanac::{Site, Weather, bee};
    /// let (site, small) =
    ///     (Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?, bee::built_in("generic_small")?);
    /// let day = Weather::of_location(site, &small).flight("2026-11-26".parse()?)?;
    /// assert!(day.flying_day);
    /// assert!(day.chances.is_some_and(|chances| chances.flying_day > 0.9));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn flight(&self, date: NaiveDate) -> Result<FlightDay, Error> {
        let frame = &self.day(date)?.frame;
        Ok(FlightDay {
            chances: day_chances(&self.climate, &self.bee, &DayLimits::default(), frame),
            doubts: flight::doubts(&self.site, &self.climate),
            ..frame.flight.clone()
        })
    }

    /// The flights of every civil day from `first` to `last`, with their chances against limits of
    /// one's own. Days that the zone's calendar skipped are left out.
    ///
    /// # Errors
    /// As [`flight`](Self::flight); `inconsistent` for a reversed span.
    ///
    /// ```
    /// use apiary_almanac::flight::{DayLimitOverrides, DayLimits};
    /// use apiary_almanac::{Site, Weather, bee};
    /// let (site, small) =
    ///     (Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?, bee::built_in("generic_small")?);
    /// let limits = DayLimits::with_overrides(&DayLimitOverrides::default().with_cold_night_c(5.0))?;
    /// let weather = Weather::of_location(site, &small);
    /// let july = weather.flights("2026-07-01".parse()?, "2026-07-31".parse()?, &limits)?;
    /// let nights = july.iter().filter_map(|day| day.chances).map(|chances| chances.cold_night);
    /// assert!((0.5..10.0).contains(&nights.sum::<f64>()));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn flights(
        &self,
        first: NaiveDate,
        last: NaiveDate,
        limits: &DayLimits,
    ) -> Result<Vec<FlightDay>, Error> {
        flight_days_within(&self.site, &self.climate, &self.bee, limits, first, last)
    }

    /// The morning of a date: when to close the entrance on the evening before, and when to move.
    ///
    /// The move window reaches from work light to first flight less the margin. Work light is the
    /// moment at which the sun stands 6° below the skyline: with a level skyline the beginning of
    /// civil twilight; with hills in the east correspondingly later (common practice, no source).
    /// First flight is taken without the hills, so that the window errs towards being too short.
    ///
    /// # Errors
    /// As [`flight`](Self::flight).
    ///
    /// ```
    /// use apiary_almanac::morning::{MorningSettings, MoveWindow};
    /// use apiary_almanac::{Site, Weather, bee};
    /// let (site, small) =
    ///     (Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?, bee::built_in("generic_small")?);
    /// let weather = Weather::of_location(site, &small);
    /// let morning = weather.morning("2026-09-14".parse()?, &MorningSettings::default())?;
    /// assert!(matches!(morning.window, MoveWindow::Open { minutes, .. } if minutes > 20.0));
    /// // Such as 05:34-08:37, on the clocks of the site.
    /// println!("{}", morning.window);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn morning(&self, date: NaiveDate, settings: &MorningSettings) -> Result<Morning, Error> {
        work::spend(work::NEW_DAY)?;
        let evening = self.day(previous_day(date, self.site.zone)?)?;
        let (ephemeris, today) = (self.ephemeris(date)?, self.day(date)?);
        let days = [&evening.frame, &today.frame];
        morning::between(
            &ephemeris,
            &self.site,
            &self.climate,
            &self.bee,
            settings,
            days,
        )
    }

    /// The mornings of `days` days from `first` on, the best first. `free_weekdays` are those on which
    /// the keeper can work; every day when empty.
    ///
    /// # Errors
    /// `out_of_range` when `days` is not 1 to 60, and as [`morning`](Self::morning).
    ///
    /// ```
    /// use apiary_almanac::{Site, Weather, bee};
    /// let (site, small) =
    ///     (Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?, bee::built_in("generic_small")?);
    /// let weather = Weather::of_location(site, &small);
    /// let ranked = weather.mornings("2026-09-14".parse()?, 10, &Default::default(), &[])?;
    /// assert_eq!(ranked.len(), 10);
    /// assert!(ranked[0].points >= ranked[9].points);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn mornings(
        &self,
        first: NaiveDate,
        days: u32,
        settings: &MorningSettings,
        free_weekdays: &[Weekday],
    ) -> Result<Vec<RankedMorning>, Error> {
        let (site, climate, bee) = (&self.site, &*self.climate, &*self.bee);
        rank_mornings(site, climate, bee, settings, first, days, free_weekdays)
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

    fn outdoors(&self) -> Result<Outdoors, Error> {
        if let Some(known) = self.outdoors.get() {
            return Ok(*known);
        }
        let new = Outdoors::of(&self.site, &self.bee)?;
        Ok(*self.outdoors.get_or_init(|| new))
    }

    pub(crate) fn day(&self, date: NaiveDate) -> Result<Rc<Day>, Error> {
        let chunk = self.chunk(date)?;
        let (_, place) = place_of(date);
        if let Some(known) = chunk.days[place].get() {
            return Ok(Rc::clone(known));
        }
        work::spend(work::NEW_DAY)?;
        let (site, ephemeris) = (&self.site, &*chunk.ephemeris);
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
        let sky = DaySky::new(ephemeris, site, date, suns, self.outdoors()?)?;
        let days = around.map(|date| self.climate.day(date));
        let new = Rc::new(Day {
            frame: sky.frame_in(&self.site, &self.climate, &self.bee, days.each_ref()),
            spare_warmth_c: OnceCell::new(),
        });
        Ok(Rc::clone(chunk.days[place].get_or_init(|| new)))
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
        let temperatures = &day.frame.flight.temperatures;
        let range_c = temperatures.maximum_c - temperatures.minimum_c;
        let sd_c = self.maximum_sd_c(date).hypot(COURSE_SD_OF_RANGE * range_c);
        if day.is_known() {
            return Ok(always(day.frame.flight.flying_day));
        }
        let spare_warmth_c = *day
            .spare_warmth_c
            .get_or_init(|| day.frame.sky.spare_warmth_c(&self.bee, &day.frame.curve));
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
        let frame = sky.frame(&self.bee, [&before, &today, &after]);
        Ok(frame.flight.flying_day)
    }
}

/// The same month and day of another year; 28 February stands in for a missing 29th.
fn in_year(date: NaiveDate, shift: i32) -> Option<NaiveDate> {
    let year = date.year() + shift;
    date.with_year(year)
        .or_else(|| NaiveDate::from_ymd_opt(year, 2, 28))
}
