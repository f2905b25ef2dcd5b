//! The answer to a keeper's everyday question: where does the year stand, and which of the next
//! mornings is good for a move?

use chrono::{Days, NaiveDate};
use derive_setters::Setters;
use serde::Serialize;

use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::caution::{Caution, cautions, of_place};
use crate::civil::{Instant, check_date, civil_day, next_day};
use crate::climate::{Basis, Climate, ClimateInput};
use crate::error::Error;
use crate::flight::FlightDay;
use crate::morning::{
    Morning, MorningOverrides, MorningSettings, MoveWindow, RankedMorning, Weekday,
};
use crate::season::{Season, SeasonSettings, StartOdds};
use crate::site::Site;
use crate::sun::SunDay;
use crate::weather::Weather;
use crate::wire::{FromNode, Shape};

/// What an [`Outlook`] is made from.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct OutlookRequest {
    /// Where the hives stand.
    #[setters(skip)]
    pub site: Site,
    /// The day on which the question is asked; the mornings begin with the next.
    #[setters(skip)]
    pub today: NaiveDate,
    /// The moment at which it is asked, where it is known: while today's dawn lasts the mornings begin
    /// with it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub now: Option<Instant>,
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// Normals, records, forecast; without any the default for the location.
    #[serde(default)]
    pub climate: ClimateInput,
    /// How the season is to be judged.
    #[serde(default)]
    pub season: SeasonSettings,
    /// How many mornings to rank: 1 to 60; 10 when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mornings: Option<u32>,
    /// Days on which the keeper can work; every day when empty.
    #[serde(default)]
    pub free_weekdays: Vec<Weekday>,
    /// A user's own numbers for a move.
    #[serde(default)]
    pub settings: MorningOverrides,
    /// Weight of the hive that is to be moved, kg, where the keeper knows it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hive_weight_kg: Option<f64>,
}

impl OutlookRequest {
    /// With the default bee, climate, season and settings.
    ///
    /// ```
    /// use apiary_almanac::morning::Weekday;
    /// use apiary_almanac::outlook::{OutlookRequest, outlook};
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// // On a Sunday: which of the coming Saturdays is the better one?
    /// let request = OutlookRequest::new(site, "2026-09-13".parse()?)
    ///     .with_mornings(14_u32)
    ///     .with_free_weekdays(vec![Weekday::Saturday]);
    /// let free = outlook(&request)?.mornings.iter().filter(|ranked| ranked.free).count();
    /// assert_eq!(free, 2);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(site: Site, today: NaiveDate) -> Self {
        OutlookRequest {
            site,
            today,
            now: None,
            bee: BeeOverrides::default(),
            climate: ClimateInput::default(),
            season: SeasonSettings::default(),
            mornings: None,
            free_weekdays: Vec::new(),
            settings: MorningOverrides::default(),
            hive_weight_kg: None,
        }
    }
}

/// Season, tomorrow, the next mornings, cautions.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct Outlook {
    /// Where.
    pub site: Site,
    /// The day on which the question was asked.
    pub today: NaiveDate,
    /// The numbers of the bee.
    pub bee: Bee,
    /// What the temperatures rest on, with their error.
    pub basis: Vec<Basis>,
    /// Working windows of the twelve months from today.
    pub season: Season,
    /// How likely a colony that is made today has workers of its own before the good season ends.
    pub odds_today: StartOdds,
    /// Tomorrow's sun.
    pub sun_tomorrow: SunDay,
    /// Tomorrow's flight.
    pub flight_tomorrow: FlightDay,
    /// The next mornings, the best first.
    pub mornings: Vec<RankedMorning>,
    /// What to mind.
    pub cautions: Vec<Caution>,
}

/// Answers a keeper's everyday question.
///
/// # Errors
/// Those of the climate readers, [`Bee::with_overrides`], [`Weather::season`] and
/// [`Weather::mornings`]; `out_of_range` for a hive weight that is not between 0.5 and 200 kg.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::outlook::{OutlookRequest, outlook};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let answer = outlook(&OutlookRequest::new(site, "2026-09-13".parse()?))?;
/// assert_eq!(answer.sun_tomorrow.date.to_string(), "2026-09-14");
/// assert_eq!(answer.mornings.len(), 10);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn outlook(request: &OutlookRequest) -> Result<Outlook, Error> {
    let site = &request.site;
    let today = check_date("today", request.today)?;
    let tomorrow = next_day(today, site.zone)?;
    if let Some(kg) = request.hive_weight_kg
        && !(0.5..=200.0).contains(&kg)
    {
        return Err(Error::out_of_range("hive_weight_kg", kg, "0.5 to 200 kg"));
    }
    let bee = Bee::with_overrides(&request.bee)?;
    let settings = MorningSettings::with_overrides(&request.settings)?;
    let climate = Climate::from_input(site, &request.climate)?;
    let year_on = check_date("today", today + Days::new(364))?;
    let weather = Weather::new(site, &climate, &bee);
    let first = match request.now {
        Some(now) if lasts(&weather.morning(today, &settings)?, now, today, site)? => today,
        _ => tomorrow,
    };
    let mornings = weather.mornings(
        first,
        request.mornings.unwrap_or(10),
        &settings,
        &request.free_weekdays,
    )?;
    let mut by_date: Vec<_> = mornings
        .iter()
        .map(|ranked| ranked.morning.clone())
        .collect();
    by_date.sort_by_key(|morning| morning.date);
    let days: Vec<_> = by_date
        .iter()
        .map(|morning| climate.day(morning.date))
        .collect();
    Ok(Outlook {
        site: *site,
        today,
        basis: climate.basis(),
        season: weather.season(today, year_on, &request.season)?,
        odds_today: weather
            .season_odds(today, today, &request.season)?
            .of(today),
        sun_tomorrow: weather.sun(tomorrow)?,
        flight_tomorrow: weather.flight(tomorrow)?,
        cautions: [
            of_place(&bee, site),
            cautions(&bee, &settings, &days, &by_date, request.hive_weight_kg),
        ]
        .concat(),
        mornings,
        bee,
    })
}

/// Whether a hive can still be moved this morning.
fn lasts(morning: &Morning, now: Instant, today: NaiveDate, site: &Site) -> Result<bool, Error> {
    if civil_day(now, site.zone) != today {
        return Err(Error::Inconsistent {
            field: "now".to_owned(),
            problem: format!("{} is not on {today}", now.to_rfc3339()),
        });
    }
    let until = match morning.window {
        MoveWindow::Open { until, .. } => Some(until),
        MoveWindow::None { .. } => morning.by_lamp.map(|lamp| lamp.until),
    };
    Ok(until.is_some_and(|until| now < until))
}
