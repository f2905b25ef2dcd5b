//! The temperatures of a day, from the best source there is: readings by the hour, a forecast, a record of
//! that very day, the mean of recorded years, monthly normals, or what the location alone lets one expect.
//!
//! Every day says in [`DayTemperatures::source`] what it rests on, and [`Climate::basis`] says it
//! in words, with the error that is known.

use chrono::NaiveDate;
use serde::Serialize;

use crate::civil;
use crate::error::Error;
use crate::reason::Reason;
use crate::site::Site;
use crate::wire::FromNode;
use grid::DailySpread;

mod cells;
mod columns;
mod course;
mod daily;
mod day_record;
mod diurnal;
mod forecast;
pub mod grid;
mod hourly;
mod input;
mod location;
mod location_table;
mod month_spline;
mod monthly;
mod normals_paste;
mod paste;
mod place;
mod reading;
mod table;
mod wind;

pub use course::AirOfPlace;
pub use daily::{DailyRecords, Gaps, MissingDays, YearShare};
pub use day_record::DayRecord;
pub(crate) use day_record::MOST_RAIN_MM as MOST_DAY_RAIN_MM;
pub use diurnal::{DayCurve, DaySun};
pub use forecast::{Forecast, ForecastDay, MOST_FORECAST_DAYS};
pub use hourly::{Gap, Hour, Hours, HoursOfDay, LONGEST_STEP, MOST_HOURS, MOST_HOURS_BYTES};
pub use input::{ClimateInput, TextFile};
pub use location::LocationDefault;
pub(crate) use monthly::MOST_RAIN_MM as MOST_MONTH_RAIN_MM;
pub use monthly::MonthlyNormals;
pub use paste::{
    CommaMeans, DateOrder, FirstDay, ForecastAnswers, ForecastQuestion, ForecastReading,
    ForecastRequest, LeftOut, MOST_FORECAST_BYTES, PossibleReading, RainUnit, TemperatureUnit,
    UnderstoodDay, WindUnit, read_forecast,
};
pub use place::{
    DefaultClimate, DefaultClimateRequest, MOST_MAP_PLACES, SpreadError, WarmSeasonMap,
    WarmSeasonMapRequest, default_climate, season_map,
};
pub use reading::Reading;
pub use wind::beaufort;
pub(crate) use wind::wind_word;

/// Lowest and highest air temperature that any source may hold, °C.
pub const ALLOWED_C: std::ops::RangeInclusive<f64> = -60.0..=60.0;

/// What the temperatures of a day rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum TemperatureSource {
    /// The location alone: normals of the built-in grid, or latitude and elevation.
    LocationDefault,
    /// The means of the twelve months.
    MonthlyNormals,
    /// This very day was measured.
    RecordedDay,
    /// The mean of this day of the year over the recorded years.
    RecordedMean,
    /// A forecast.
    Forecast,
    /// Readings by the hour, measured or forecast.
    Hours,
}

impl TemperatureSource {
    /// True for the mean of many years, from which a single day strays.
    ///
    /// ```
    /// use apiary_almanac::climate::TemperatureSource;
    /// // Whether chances of single days mean anything.
    /// assert!(TemperatureSource::MonthlyNormals.is_a_mean());
    /// assert!(!TemperatureSource::Forecast.is_a_mean());
    /// ```
    pub const fn is_a_mean(self) -> bool {
        !matches!(
            self,
            TemperatureSource::RecordedDay | TemperatureSource::Forecast | TemperatureSource::Hours
        )
    }

    /// The source in words, as a note beside a number.
    pub const fn words(self) -> &'static str {
        match self {
            TemperatureSource::LocationDefault => "default for the location",
            TemperatureSource::MonthlyNormals => "monthly normals",
            TemperatureSource::RecordedDay => "recorded",
            TemperatureSource::RecordedMean => "mean of the records",
            TemperatureSource::Forecast => "forecast",
            TemperatureSource::Hours => "by the hour",
        }
    }
}

/// Mean number of wet days of the twelve months.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
pub struct WetDays {
    /// January first.
    pub days: [f64; 12],
    /// Rain from which a day counts, mm: 0.1 in the built-in grid, 1 in records. `None` where the
    /// normals that were given do not say it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_mm: Option<f64>,
}

/// Minimum, maximum and rain of one civil day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
pub struct DayTemperatures {
    /// The civil day at the site.
    pub date: NaiveDate,
    /// Lowest air temperature, °C.
    pub minimum_c: f64,
    /// Highest air temperature, °C.
    pub maximum_c: f64,
    /// Rain of the day in mm; `None` where it is not known, which is not the same as none fallen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<f64>,
    /// What the numbers rest on.
    pub source: TemperatureSource,
}

impl DayTemperatures {
    /// Halfway between minimum and maximum, °C: what "daily mean" means in most normals.
    ///
    /// ```
    /// use apiary_almanac::climate::{DayTemperatures, TemperatureSource};
    /// let day = DayTemperatures {
    ///     date: "2026-07-20".parse()?,
    ///     minimum_c: 9.0,
    ///     maximum_c: 21.0,
    ///     rain_mm: None,
    ///     source: TemperatureSource::Forecast,
    /// };
    /// assert_eq!(day.mean_c(), 15.0);
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn mean_c(&self) -> f64 {
        f64::midpoint(self.minimum_c, self.maximum_c)
    }
}

/// What an answer rests on, in words and numbers that belong beside it.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Basis {
    /// The kind of source.
    pub source: TemperatureSource,
    /// Where the numbers come from.
    pub about: String,
    /// The same with its values, where it is not in words of the user's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub about_reason: Option<Reason>,
    /// The years or dates they cover.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub period: Option<String>,
    /// Root mean square error of the long-term means, °C, where it has been measured. The weather
    /// of a single day scatters around the mean by more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub typical_error_c: Option<f64>,
    /// Error of the long-term means that one value in twenty exceeds, °C, where it has been
    /// measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub p95_error_c: Option<f64>,
    /// What would make the answer better.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub advice: Option<String>,
    /// The same with its values.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub advice_reason: Option<Reason>,
}

impl Basis {
    /// With no error known.
    pub(crate) fn new(source: TemperatureSource, about: About<'_>, advice: Option<Reason>) -> Self {
        let (about, about_reason) = match about {
            About::Own(words) => (words.to_owned(), None),
            About::Built(reason) => (reason.text(), Some(reason)),
        };
        Basis {
            source,
            about,
            about_reason,
            period: None,
            typical_error_c: None,
            p95_error_c: None,
            advice: advice.as_ref().map(Reason::text),
            advice_reason: advice,
        }
    }
}

/// Where temperatures come from.
pub(crate) enum About<'a> {
    /// In words of the user's own.
    Own(&'a str),
    /// What is built in, or was worked out.
    Built(Reason),
}

/// Day temperatures of any date: a base that covers every day, a forecast laid over it, and over both
/// the days that are known by the hour.
///
/// ```
/// use apiary_almanac::{Climate, Site, climate::TemperatureSource};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let climate = Climate::from_location(&site);
/// let day = climate.day("2026-07-15".parse()?);
/// assert_eq!(day.source, TemperatureSource::LocationDefault);
/// assert!(day.minimum_c < day.maximum_c);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct Climate {
    base: Base,
    /// How far single days stray from the means of the base.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    spread: Option<DailySpread>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    forecast: Option<Forecast>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    hours: Option<Hours>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    reading: Option<Reading>,
}

#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
enum Base {
    LocationDefault(LocationDefault),
    MonthlyNormals(MonthlyNormals),
    DailyRecords {
        records: DailyRecords,
        /// Answers for the parts of the year in which nothing was recorded.
        otherwise: LocationDefault,
    },
}

impl Climate {
    /// What the location alone lets one expect: normals of the built-in [`grid`], or at sea and beyond
    /// 45° of latitude a curve by latitude and elevation. [`basis`](Climate::basis) says which.
    ///
    /// ```
    /// use apiary_almanac::{Climate, Site};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let climate = Climate::from_location(&site);
    /// let winter = climate.day("2026-07-15".parse()?);
    /// assert!(winter.minimum_c < winter.maximum_c && winter.source.is_a_mean());
    /// assert!(climate.basis()[0].typical_error_c.is_some());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_location(site: &Site) -> Self {
        LocationDefault::of_site(site).into()
    }

    /// The means of the twelve months. How far days stray from them is not known;
    /// [`with_spread`](Climate::with_spread) adds it.
    ///
    /// ```
    /// use apiary_almanac::{Climate, MonthlyNormals};
    /// let normals = MonthlyNormals::new([12.0; 12], [24.0; 12], None, "rounded example")?;
    /// let climate = Climate::from_normals(normals);
    /// assert!((climate.day("2026-07-15".parse()?).mean_c() - 18.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_normals(normals: MonthlyNormals) -> Self {
        normals.into()
    }

    /// The means of the twelve months at a site. They say nothing of single days: the spread is that of the
    /// place in the built-in [`grid`], where it has one.
    ///
    /// ```
    /// use apiary_almanac::{Climate, MonthlyNormals, Site};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let normals = MonthlyNormals::new([12.0; 12], [24.0; 12], None, "our town's station")?;
    /// // Without a place nothing is known of single days.
    /// assert!(Climate::from_normals(normals.clone()).spread().is_none());
    /// let here = Climate::from_normals_at(&site, normals);
    /// assert_eq!(here.spread(), Climate::from_location(&site).spread());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn from_normals_at(site: &Site, normals: MonthlyNormals) -> Self {
        let climate = Climate::from_normals(normals);
        match LocationDefault::of_site(site).grid_normals() {
            Some(grid) => climate.straying_by(grid.spread()),
            None => climate,
        }
    }

    /// The same climate with a spread of the days about its means.
    ///
    /// # Errors
    /// As [`DailySpread::check`].
    ///
    /// ```
    /// use apiary_almanac::{Climate, MonthlyNormals, climate::grid::DailySpread};
    /// let normals = MonthlyNormals::new([12.0; 12], [24.0; 12], None, "rounded example")?;
    /// let spread = DailySpread { minimum_sd_c: [2.5; 12], maximum_sd_c: [3.0; 12] };
    /// let climate = Climate::from_normals(normals).with_spread(spread)?;
    /// assert_eq!(climate.spread(), Some(&spread));
    /// // A minus sign too many.
    /// let bad = DailySpread { minimum_sd_c: [-2.5; 12], ..spread };
    /// assert!(climate.with_spread(bad).is_err());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn with_spread(self, spread: DailySpread) -> Result<Self, Error> {
        spread.check()?;
        Ok(self.straying_by(spread))
    }

    /// The same for a spread that cannot be wrong.
    fn straying_by(self, spread: DailySpread) -> Self {
        Climate {
            spread: Some(spread),
            ..self
        }
    }

    /// How far single days stray from the means; `None` where that is not known. Of records it is
    /// [`DailyRecords::spread`].
    ///
    /// ```
    /// use apiary_almanac::{Climate, MonthlyNormals, Site};
    /// // Of twelve means nobody knows how far days stray from them.
    /// let normals = MonthlyNormals::new([12.0; 12], [24.0; 12], None, "our town's station")?;
    /// assert!(Climate::from_normals(normals).spread().is_none());
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// assert!(Climate::from_location(&site).spread().is_some());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn spread(&self) -> Option<&DailySpread> {
        self.spread.as_ref()
    }

    /// Recorded days; on other dates the mean of the recorded years. Parts of the year in which
    /// too little was recorded for a mean are answered as by [`from_location`](Climate::from_location).
    ///
    /// ```
    /// use apiary_almanac::climate::{DailyRecords, TemperatureSource};
    /// use apiary_almanac::{Climate, Site};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let mut yard = String::from("date,minimum_c,maximum_c\n");
    /// for day in 1..=31 {
    ///     yard += &format!("2025-07-{day:02},7,20\n");
    /// }
    /// let climate = Climate::from_records(DailyRecords::from_csv("yard.csv", &yard)?, &site);
    /// // The day itself, another year's July, and a month in which nothing was measured.
    /// assert_eq!(climate.day("2025-07-15".parse()?).source, TemperatureSource::RecordedDay);
    /// assert_eq!(climate.day("2026-07-15".parse()?).source, TemperatureSource::RecordedMean);
    /// assert_eq!(climate.day("2026-01-15".parse()?).source, TemperatureSource::LocationDefault);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_records(records: DailyRecords, site: &Site) -> Self {
        let otherwise = LocationDefault::of_site(site);
        Climate {
            spread: records.spread(),
            base: Base::DailyRecords { records, otherwise },
            forecast: None,
            hours: None,
            reading: None,
        }
    }

    /// The same climate with a forecast laid over it on the forecast's dates. A forecast given
    /// earlier is replaced.
    ///
    /// ```
    /// use apiary_almanac::{Climate, Site, climate::Forecast};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let week = Forecast::from_csv("week.csv", "date,minimum_c,maximum_c\n2026-07-20,4,16\n")?;
    /// let climate = Climate::from_location(&site).with_forecast(week);
    /// assert_eq!(climate.day("2026-07-20".parse()?).maximum_c, 16.0);
    /// // The day after is again what July lets one expect.
    /// assert!(climate.day("2026-07-21".parse()?).source.is_a_mean());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn with_forecast(self, forecast: Forecast) -> Self {
        Climate {
            forecast: Some(forecast),
            ..self
        }
    }

    /// The same climate after a look at the thermometer, which moves the usual and the early first
    /// flight of its day. A reading given earlier is replaced.
    ///
    /// ```
    /// use apiary_almanac::climate::Reading;
    /// use apiary_almanac::flight::Flight;
    /// use apiary_almanac::{Climate, Site, Weather, bee};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let small = bee::built_in("generic_small")?;
    /// let usual = Climate::from_location(&site);
    /// // Half past seven, and already 4 °C warmer than this morning usually is.
    /// let read = usual.clone().with_reading(Reading::new("2026-09-14T07:30:00+10:00".parse()?, 17.0)?);
    /// let first = |climate: &Climate| -> Result<_, Box<dyn std::error::Error>> {
    ///     match Weather::new(&site, climate, &small).flight("2026-09-14".parse()?)?.flight {
    ///         Flight::Possible { first, .. } => Ok(first.at),
    ///         other => Err(format!("{other:?}").into()),
    ///     }
    /// };
    /// assert!(first(&read)? < first(&usual)?);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn with_reading(self, reading: Reading) -> Self {
        Climate {
            reading: Some(reading),
            ..self
        }
    }

    /// The reading of a day, by the clocks of a zone.
    pub fn reading_of(&self, date: NaiveDate, zone: chrono_tz::Tz) -> Option<&Reading> {
        let of_day = |at: civil::Instant| civil::in_zone(at.to_utc(), zone).date_naive() == date;
        self.reading.as_ref().filter(|reading| of_day(reading.at()))
    }

    /// The same climate with hours laid over it. Days known from end to end take minimum and maximum
    /// from them; of others the hours that are known stand in [`hours_of`](Climate::hours_of). Hours
    /// given earlier are replaced.
    ///
    /// ```
    /// use apiary_almanac::climate::{Hours, TemperatureSource, TextFile};
    /// use apiary_almanac::{Climate, Site};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let mut text = String::from("time,temperature_c\n");
    /// for hour in 0..24 {
    ///     text += &format!("2026-07-20 {hour:02}:00,{}\n", 8 + (hour as i32 - 5).rem_euclid(24).min(8));
    /// }
    /// let hours = Hours::from_texts(site.zone, &[TextFile::new("logger.csv", text)])?;
    /// let day = Climate::from_location(&site).with_hours(hours).day("2026-07-20".parse()?);
    /// assert_eq!((day.source, day.minimum_c, day.maximum_c), (TemperatureSource::Hours, 8.0, 16.0));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn with_hours(self, hours: Hours) -> Self {
        Climate {
            hours: Some(hours),
            ..self
        }
    }

    /// All readings by the hour, where there are any.
    pub fn hours(&self) -> Option<&Hours> {
        self.hours.as_ref()
    }

    /// What is known by the hour of a civil day, all of it or a part.
    ///
    /// ```
    /// use apiary_almanac::climate::{Hours, TextFile};
    /// use apiary_almanac::{Climate, Site};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// // The logger was read at nine: the rest of the day is not known.
    /// let text = "time,temperature_c\n2026-07-20 06:00,8\n2026-07-20 09:00,14\n";
    /// let file = TextFile::new("logger.csv", text);
    /// let climate = Climate::from_location(&site).with_hours(Hours::from_texts(site.zone, &[file])?);
    /// let known = climate.hours_of("2026-07-20".parse()?).ok_or("it has readings")?;
    /// assert!(!known.is_whole() && climate.day("2026-07-20".parse()?).source.is_a_mean());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn hours_of(&self, date: NaiveDate) -> Option<HoursOfDay<'_>> {
        self.hours.as_ref()?.of_day(date)
    }

    /// The temperatures of a day. Always answers, and says in `source` what the answer rests on.
    ///
    /// ```
    /// use apiary_almanac::{Climate, Site};
    /// // On the Equator July is like January; in Tasmania it is not.
    /// let (january, july) = ("2026-01-15".parse()?, "2026-07-15".parse()?);
    /// let summer_less_winter_c = |site: &Site| {
    ///     let climate = Climate::from_location(site);
    ///     climate.day(january).mean_c() - climate.day(july).mean_c()
    /// };
    /// let pontianak = Site::new(0.0, 109.3, 5.0, "Asia/Pontianak")?;
    /// let hobart = Site::new(-42.9, 147.3, 50.0, "Australia/Hobart")?;
    /// assert!(summer_less_winter_c(&pontianak).abs() < 1.5);
    /// assert!(summer_less_winter_c(&hobart) > 7.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn day(&self, date: NaiveDate) -> DayTemperatures {
        if let Some(day) = self.forecast_day(date) {
            return day;
        }
        match &self.base {
            Base::LocationDefault(location) => location.day(date),
            Base::MonthlyNormals(normals) => normals.day(date),
            Base::DailyRecords { records, otherwise } => records
                .day(date)
                .or_else(|| records.mean_day(date))
                .unwrap_or_else(|| otherwise.day(date)),
        }
    }

    /// A day of the hours, if they hold all of it, else of the forecast, where there is one.
    pub fn forecast_day(&self, date: NaiveDate) -> Option<DayTemperatures> {
        let by_the_hour = self.hours.as_ref().and_then(|hours| hours.day(date));
        by_the_hour.or_else(|| self.forecast.as_ref()?.day(date))
    }

    /// Mean wind of a day in m/s, where the hours, the forecast or the records hold it.
    ///
    /// ```
    /// use apiary_almanac::{Climate, Site, climate::Forecast};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let text = "date,minimum_c,maximum_c,wind_km_h\n2026-07-20,9,21,36\n";
    /// let week = Forecast::from_csv("week.csv", text)?;
    /// let climate = Climate::from_location(&site).with_forecast(week);
    /// assert_eq!(climate.wind_m_s("2026-07-20".parse()?), Some(10.0));
    /// assert_eq!(climate.wind_m_s("2026-07-21".parse()?), None); // normals know no wind
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn wind_m_s(&self, date: NaiveDate) -> Option<f64> {
        let whole = self.hours_of(date).filter(HoursOfDay::is_whole);
        let forecast = || self.forecast.as_ref()?.wind_m_s(date);
        whole
            .and_then(|day| day.wind_m_s())
            .or_else(forecast)
            .or_else(|| self.records()?.wind_m_s(date))
    }

    /// The daily records, where they are the base.
    pub fn records(&self) -> Option<&DailyRecords> {
        match &self.base {
            Base::DailyRecords { records, .. } => Some(records),
            Base::LocationDefault(_) | Base::MonthlyNormals(_) => None,
        }
    }

    /// Mean rain of the twelve months in mm, January first, where it is known.
    ///
    /// ```
    /// use apiary_almanac::{Climate, Site};
    /// // Darwin: a wet season about January, a dry one about July.
    /// let darwin = Site::new(-12.46, 130.84, 30.0, "Australia/Darwin")?;
    /// let rain = Climate::from_location(&darwin).monthly_rain_mm().ok_or("it lies on land")?;
    /// assert!(rain[0] > 250.0 && rain[6] < 10.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn monthly_rain_mm(&self) -> Option<[f64; 12]> {
        match &self.base {
            Base::LocationDefault(location) => {
                location.grid_normals().map(|normals| normals.rain_mm)
            }
            Base::MonthlyNormals(normals) => normals.rain_mm(),
            Base::DailyRecords { records, .. } => records.monthly_rain_mm(),
        }
    }

    /// Mean number of wet days of the twelve months, where it is known.
    ///
    /// ```
    /// use apiary_almanac::{Climate, Site};
    /// let manila = Site::new(14.6, 121.0, 15.0, "Asia/Manila")?;
    /// let wet = Climate::from_location(&manila).monthly_wet_days().ok_or("it lies on land")?;
    /// assert!(wet.days[1] < 10.0 && wet.days[7] > 18.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn monthly_wet_days(&self) -> Option<WetDays> {
        match &self.base {
            Base::LocationDefault(location) => {
                let grid = location.grid_normals()?;
                Some(WetDays {
                    days: grid.wet_days,
                    from_mm: Some(grid::WET_DAY_MM),
                })
            }
            Base::MonthlyNormals(normals) => normals.wet_days(),
            Base::DailyRecords { records, .. } => records.monthly_wet_days(),
        }
    }

    /// What the answers rest on: the base first, then the forecast and the hours with the dates they
    /// cover.
    ///
    /// ```
    /// use apiary_almanac::{Climate, Site, climate::Forecast};
    /// let site = Site::new(14.17, 121.24, 40.0, "Asia/Manila")?;
    /// let text = "date,minimum_c,maximum_c\n2026-02-03,22,30\n2026-02-04,21,29\n";
    /// let climate = Climate::from_location(&site).with_forecast(Forecast::from_csv("f.csv", text)?);
    /// let basis = climate.basis();
    /// assert!(basis[0].typical_error_c.is_some());
    /// assert_eq!(basis[1].period.as_deref(), Some("2026-02-03 to 2026-02-04"));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn basis(&self) -> Vec<Basis> {
        let mut list = match &self.base {
            Base::LocationDefault(location) => vec![location.basis()],
            Base::MonthlyNormals(normals) => vec![normals.basis()],
            Base::DailyRecords { records, otherwise } => {
                let mut list = vec![records.basis()];
                if !records.covers_the_year() {
                    list.push(otherwise.basis());
                }
                list
            }
        };
        list.extend(self.forecast.as_ref().map(Forecast::basis));
        list.extend(self.hours.as_ref().map(Hours::basis));
        list
    }

    /// That the default for the location is weak here, and what would make it better; `None` where it
    /// is not used or not weak.
    pub(crate) fn is_weak(&self) -> Option<Reason> {
        let weak = |basis: &Basis| {
            basis.source == TemperatureSource::LocationDefault
                && basis.typical_error_c.is_some_and(|c| c >= location::WEAK_C)
        };
        let basis = self.basis().into_iter().find(weak)?;
        basis.advice_reason
    }
}

impl From<LocationDefault> for Climate {
    fn from(location: LocationDefault) -> Self {
        Climate {
            spread: location.grid_normals().map(grid::GridClimate::spread),
            base: Base::LocationDefault(location),
            forecast: None,
            hours: None,
            reading: None,
        }
    }
}

impl From<MonthlyNormals> for Climate {
    fn from(normals: MonthlyNormals) -> Self {
        Climate {
            base: Base::MonthlyNormals(normals),
            spread: None,
            forecast: None,
            hours: None,
            reading: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site() -> Site {
        Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
    }

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn records() -> DailyRecords {
        let mut text = String::from("date,minimum_c,maximum_c,wind_m_s\n");
        for day in 1..=31 {
            text += &format!("2025-07-{day:02},9,21,2\n");
        }
        DailyRecords::from_csv("july.csv", &text).unwrap()
    }

    fn forecast() -> Forecast {
        let text = "date,minimum_c,maximum_c,rain_mm\n2025-07-10,5,18,12\n2025-07-12,6,19,0\n";
        Forecast::from_csv("week.csv", text).unwrap()
    }

    #[test]
    fn each_day_comes_from_the_best_source_and_says_so() {
        let climate = Climate::from_records(records(), &site()).with_forecast(forecast());
        for (day, source, maximum_c) in [
            ("2025-07-10", TemperatureSource::Forecast, 18.0),
            ("2025-07-11", TemperatureSource::RecordedDay, 21.0),
            ("2025-07-12", TemperatureSource::Forecast, 19.0),
            ("2027-07-10", TemperatureSource::RecordedMean, 21.0),
        ] {
            let day = climate.day(date(day));
            assert_eq!((day.source, day.maximum_c), (source, maximum_c));
        }
        let january = climate.day(date("2026-01-15"));
        assert_eq!(january.source, TemperatureSource::LocationDefault);
        // The forecast has no wind: the record of that day does.
        assert_eq!(climate.wind_m_s(date("2025-07-10")), Some(2.0));
        assert_eq!(climate.wind_m_s(date("2026-07-10")), None);
    }

    #[test]
    fn every_source_that_may_answer_is_named() {
        let climate = Climate::from_records(records(), &site()).with_forecast(forecast());
        let sources: Vec<_> = climate
            .basis()
            .into_iter()
            .map(|basis| basis.source)
            .collect();
        assert_eq!(
            sources,
            [
                TemperatureSource::RecordedMean,
                TemperatureSource::LocationDefault,
                TemperatureSource::Forecast,
            ]
        );
        let basis = climate.basis();
        assert_eq!(basis[0].period.as_deref(), Some("2025-07-01 to 2025-07-31"));
        assert_eq!(basis[2].period.as_deref(), Some("2025-07-10 to 2025-07-12"));
        assert!(basis[1].typical_error_c.is_some() && basis[1].p95_error_c.is_some());
    }

    #[test]
    fn every_day_of_the_range_has_an_answer() {
        let normals = MonthlyNormals::new([10.0; 12], [20.0; 12], Some([50.0; 12]), "").unwrap();
        for climate in [
            Climate::from_location(&site()),
            Climate::from_normals(normals),
            Climate::from_records(records(), &site()),
        ] {
            let mut day = crate::civil::FIRST_DATE;
            while day <= crate::civil::LAST_DATE {
                let answer = climate.day(day);
                assert!(answer.minimum_c <= answer.maximum_c && answer.date == day);
                day = day + chrono::Days::new(97);
            }
            let text = serde_json::to_string(&climate).unwrap();
            assert_eq!(serde_json::from_str::<Climate>(&text).unwrap(), climate);
        }
    }

    #[test]
    fn rain_of_months_is_given_where_it_is_known() {
        let normals = MonthlyNormals::new([10.0; 12], [20.0; 12], Some([50.0; 12]), "").unwrap();
        assert_eq!(Climate::from(normals).monthly_rain_mm(), Some([50.0; 12]));
        let of_the_grid = Climate::from_location(&site()).monthly_rain_mm().unwrap();
        assert!(of_the_grid.iter().all(|mm| (40.0..220.0).contains(mm)));
        let at_sea = Site::new(-28.81, 160.0, 0.0, "Australia/Sydney").unwrap();
        assert_eq!(Climate::from_location(&at_sea).monthly_rain_mm(), None);
        assert_eq!(
            Climate::from_records(records(), &site()).monthly_rain_mm(),
            None
        );
    }

    #[test]
    fn wet_days_of_months_say_from_how_much_rain_they_count() {
        let normals = MonthlyNormals::new([10.0; 12], [20.0; 12], None, "").unwrap();
        assert_eq!(Climate::from(normals.clone()).monthly_wet_days(), None);
        let normals = normals.with_wet_days([7.0; 12]).unwrap();
        let wet = Climate::from(normals).monthly_wet_days().unwrap();
        assert_eq!((wet.days, wet.from_mm), ([7.0; 12], None));
        let of_the_grid = Climate::from_location(&site()).monthly_wet_days().unwrap();
        assert_eq!(of_the_grid.from_mm, Some(0.1));
        assert!(
            of_the_grid
                .days
                .iter()
                .all(|days| (4.0..20.0).contains(days))
        );
        assert_eq!(
            Climate::from_records(records(), &site()).monthly_wet_days(),
            None
        );
    }
}
