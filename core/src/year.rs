//! Twelve months at a place: the season, each day's temperatures, flight and day length.

use chrono::{Datelike, Days, Months, NaiveDate};
use derive_setters::Setters;
use serde::Serialize;

use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::civil::{self, check_date};
use crate::climate::{Basis, Climate, ClimateInput};
use crate::error::Error;
use crate::flight::{DayLimits, FlightDay};
use crate::season::{Season, SeasonSettings};
use crate::site::Site;
use crate::sun::Ephemeris;
use crate::weather::Weather;
use crate::wire::FromNode;

/// What a year is asked for with.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct YearRequest {
    /// Where the hives stand.
    #[setters(skip)]
    pub site: Site,
    /// The day that is marked.
    #[setters(skip)]
    pub today: NaiveDate,
    /// First of the twelve months; the first day of today's month when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first: Option<NaiveDate>,
    /// The last date on which a method still leaves enough warm time, as a plan gives it: it depends
    /// on the method and comes before the window closes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_safe: Option<NaiveDate>,
    /// Heading, such as club, keeper and hive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// Normals, records, forecast; without any the default for the location.
    #[serde(default)]
    pub climate: ClimateInput,
    /// How the season is to be judged.
    #[serde(default)]
    pub season: SeasonSettings,
}

impl YearRequest {
    /// With the default bee, climate and season.
    ///
    /// ```
    /// use apiary_almanac::year::{YearRequest, year};
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let request = YearRequest::new(site, "2026-09-13".parse()?)
    ///     .with_title("Quoll Creek Little Bee Circle")
    ///     .with_first("2027-01-01".parse::<chrono::NaiveDate>()?);
    /// assert_eq!(year(&request)?.last.to_string(), "2027-12-31");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(site: Site, today: NaiveDate) -> Self {
        YearRequest {
            site,
            today,
            first: None,
            last_safe: None,
            title: None,
            bee: BeeOverrides::default(),
            climate: ClimateInput::default(),
            season: SeasonSettings::default(),
        }
    }
}

/// Twelve months at a place, as they are drawn.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Year {
    /// Where.
    pub site: Site,
    /// Heading, where one was given.
    pub title: Option<String>,
    /// The day that is marked.
    pub today: NaiveDate,
    /// First day.
    pub first: NaiveDate,
    /// Last day.
    pub last: NaiveDate,
    /// The last safe date of a plan, where one was given.
    pub last_safe: Option<NaiveDate>,
    /// The bee that was judged for.
    pub bee: Bee,
    /// What the temperatures rest on.
    pub basis: Vec<Basis>,
    /// The season.
    pub season: Season,
    /// Temperatures and flight of each day.
    pub flights: Vec<FlightDay>,
    /// Hours from sunrise to sunset of each day.
    pub sun: Vec<(NaiveDate, f64)>,
}

/// Works out twelve months at a place.
///
/// # Errors
/// `out_of_range` for dates outside 1900–2100, and those of the climate readers,
/// [`Bee::with_overrides`], [`Weather::season`] and [`Weather::flights`].
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::year::{YearRequest, year};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let found = year(&YearRequest::new(site, "2026-09-13".parse()?))?;
/// assert_eq!((found.first.to_string(), found.flights.len()), ("2026-09-01".to_owned(), 365));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn year(request: &YearRequest) -> Result<Year, Error> {
    let site = request.site;
    let today = check_date("today", request.today)?;
    let first = check_date(
        "first",
        request.first.unwrap_or(today.with_day(1).unwrap_or(today)),
    )?;
    let last = check_date(
        "first",
        first.checked_add_months(Months::new(12)).unwrap_or(first) - Days::new(1),
    )?;
    let bee = Bee::with_overrides(&request.bee)?;
    let climate = Climate::from_input(&site, &request.climate)?;
    let weather = Weather::new(&site, &climate, &bee);
    Ok(Year {
        season: weather.season(first, last, &request.season)?,
        flights: weather.flights(first, last, &DayLimits::default())?,
        sun: {
            let ephemeris = Ephemeris::covering(first, last)?;
            civil::days(first, last, site.zone)
                .map(|date| Ok((date, ephemeris.day(&site, date)?.day_length_h)))
                .collect::<Result<_, Error>>()?
        },
        basis: climate.basis(),
        last_safe: request
            .last_safe
            .map(|date| check_date("last_safe", date))
            .transpose()?,
        title: request.title.clone(),
        site,
        today,
        first,
        last,
        bee,
    })
}
