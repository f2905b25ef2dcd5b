//! The dates of a year at places, without any hive: when the season is good, at risk and closed, the last
//! safe day of each method, when heat is likely, which months are wet, how early a dawn begins.
//!
//! A club makes next year's calendar of its districts from it.

use chrono::{Datelike, Days, Months, NaiveDate};
use derive_setters::Setters;
use serde::Serialize;

use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::civil::{check_date, days};
use crate::climate::{Basis, Climate, ClimateInput};
use crate::error::{Error, at_most};
use crate::method::{built_in, method_names};
use crate::morning::MorningSettings;
use crate::place;
use crate::plan::{LastSafeOutcome, LastSafeRequest, last_safe};
use crate::reason::{Reason, say};
use crate::season::{DateState, RainOfYear, Season, SeasonSettings};
use crate::site::Site;
use crate::weather::Weather;
use crate::wire::FromNode;

/// Most places of one request.
pub const MOST_DATED_PLACES: usize = 200;
/// Most days from the first to the last.
const LONGEST_SPAN_D: usize = 731;
/// Longest name of a place, bytes.
const LONGEST_NAME: usize = 200;
/// Chance from which a day of heat counts as likely: one day in ten. Common practice, no source.
const HEAT_IS_LIKELY: f64 = 0.1;

/// A place of which the dates are wanted.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, prefix = "with_")]
#[non_exhaustive]
pub struct DatedPlace {
    /// What people call it.
    #[setters(skip)]
    pub name: String,
    /// Where it is.
    #[setters(skip)]
    pub site: Site,
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// Normals or records; without any the default for the location.
    #[serde(default)]
    pub climate: ClimateInput,
    /// How the season is to be judged.
    #[serde(default)]
    pub season: SeasonSettings,
}

impl DatedPlace {
    /// With the default bee, climate and season.
    ///
    /// ```
    /// use apiary_almanac::bee::BeeOverrides;
    /// use apiary_almanac::year_dates::DatedPlace;
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let bee = BeeOverrides::from("tetragonula_carbonaria");
    /// let district = DatedPlace::new("Lismore", site).with_bee(bee);
    /// assert_eq!(district.bee.based_on.as_deref(), Some("tetragonula_carbonaria"));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new(name: impl Into<String>, site: Site) -> Self {
        DatedPlace {
            name: name.into(),
            site,
            bee: BeeOverrides::default(),
            climate: ClimateInput::default(),
            season: SeasonSettings::default(),
        }
    }
}

/// What the dates of a year are asked for with.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct YearDatesRequest {
    /// The places; their names differ.
    #[setters(skip)]
    pub places: Vec<DatedPlace>,
    /// First day.
    #[setters(skip)]
    pub first: NaiveDate,
    /// Last day, 731 days after the first at most; a year from the first when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last: Option<NaiveDate>,
}

impl YearDatesRequest {
    /// The year from a day on.
    ///
    /// ```
    /// use apiary_almanac::year_dates::{DatedPlace, YearDateKind, YearDatesRequest, year_dates};
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let request = YearDatesRequest::new([DatedPlace::new("Lismore", site)], "2027-01-01".parse()?);
    /// let dates = &year_dates(&request)?.places[0].dates;
    /// assert_eq!(dates.iter().filter(|date| date.kind == YearDateKind::Dawn).count(), 12);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(places: impl Into<Vec<DatedPlace>>, first: NaiveDate) -> Self {
        YearDatesRequest {
            places: places.into(),
            first,
            last: None,
        }
    }
}

/// What a date of a place is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum YearDateKind {
    /// A state of the season begins, or holds on the first day.
    Season,
    /// The last safe day of a method.
    LastSafe,
    /// Days on which heat is likely begin.
    Heat,
    /// Months with more than their share of the year's rain begin.
    Rain,
    /// The dawn of a month.
    Dawn,
}

/// One date of a place.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct YearDate {
    /// Stable among those of the place: `season-2026-09-27`.
    pub id: String,
    /// What it is.
    pub kind: YearDateKind,
    /// The day.
    pub date: NaiveDate,
    /// The last day for which it holds.
    pub until: NaiveDate,
    /// What is to be said.
    pub text: Reason,
}

/// The dates of one place.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct PlaceDates {
    /// What people call it.
    pub name: String,
    /// Where it is.
    pub site: Site,
    /// Name of the bee.
    pub bee: String,
    /// In order.
    pub dates: Vec<YearDate>,
    /// What is odd about the place, as far as it can be told.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub doubts: Vec<Reason>,
    /// What the temperatures rest on.
    pub basis: Vec<Basis>,
}

/// The dates of a year.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct YearDates {
    /// First day.
    pub first: NaiveDate,
    /// Last day.
    pub last: NaiveDate,
    /// In the order of the request.
    pub places: Vec<PlaceDates>,
}

/// Works out the dates of a year at places.
///
/// # Errors
/// `not_enough_data` without a place, `too_large` for more than [`MOST_DATED_PLACES`], `inconsistent` for
/// a name that is given twice; `out_of_range` for an empty or long name and for dates outside 1900–2100;
/// and what climate, bee and season refuse.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::year_dates::{DatedPlace, YearDatesRequest, year_dates};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let request = YearDatesRequest::new([DatedPlace::new("Lismore", site)], "2027-01-01".parse()?);
/// let dates = &year_dates(&request)?.places[0].dates;
/// for date in dates {
///     println!("{} {}", date.date, date.text.text());
/// }
/// assert!(dates.is_sorted_by_key(|date| date.date));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn year_dates(request: &YearDatesRequest) -> Result<YearDates, Error> {
    let first = check_date("first", request.first)?;
    let year_on = first.checked_add_months(Months::new(12)).unwrap_or(first) - Days::new(1);
    let last = check_date("last", request.last.unwrap_or(year_on))?;
    check_span(first, last)?;
    if request.places.is_empty() {
        return Err(Error::NotEnoughData {
            field: "places".to_owned(),
            given: "no place".to_owned(),
            needed: "at least one".to_owned(),
        });
    }
    at_most("places", request.places.len(), MOST_DATED_PLACES, "places")?;
    let mut places: Vec<PlaceDates> = Vec::new();
    for (index, place) in request.places.iter().enumerate() {
        let field = format!("places[{index}]");
        if places.iter().any(|known| known.name == place.name) {
            return Err(Error::Inconsistent {
                field: field + ".name",
                problem: format!("{:?} is given twice", crate::error::clip(&place.name)),
            });
        }
        let dates = of_place(place, first, last);
        places.push(dates.map_err(|error| error.within(&field))?);
    }
    Ok(YearDates {
        first,
        last,
        places,
    })
}

fn check_span(first: NaiveDate, last: NaiveDate) -> Result<(), Error> {
    if last < first {
        return Err(Error::Inconsistent {
            field: "last".to_owned(),
            problem: format!("{last} is before the first day, {first}"),
        });
    }
    let span_d = usize::try_from((last - first).num_days()).unwrap_or(usize::MAX);
    at_most("last", span_d, LONGEST_SPAN_D, "days after the first")
}

/// Refuses a name of a place or a box that nobody could read, or that is none.
pub(crate) fn check_name(field: &str, name: &str) -> Result<(), Error> {
    if !name.trim().is_empty() && name.len() <= LONGEST_NAME {
        return Ok(());
    }
    Err(Error::out_of_range(
        field,
        format_args!("{} bytes", name.len()),
        format_args!("1 to {LONGEST_NAME} bytes"),
    ))
}

fn of_place(place: &DatedPlace, first: NaiveDate, last: NaiveDate) -> Result<PlaceDates, Error> {
    check_name("name", &place.name)?;
    let site = place.site;
    let bee = Bee::with_overrides(&place.bee)?;
    let climate = Climate::from_input(&site, &place.climate)?;
    let weather = Weather::new(&site, &climate, &bee);
    let season = weather.season(first, last, &place.season)?;
    let mut dates = seasons(&season);
    for method in method_names() {
        let label = built_in(method)?.label().to_ascii_lowercase();
        let asked = LastSafeRequest::new(site, first, method)
            .with_bee(place.bee.clone())
            .with_climate(place.climate.clone())
            .with_season(place.season.clone());
        if let LastSafeOutcome::Windows { windows, .. } = last_safe(&asked)?.outcome {
            let last_days = windows.iter().filter_map(|window| window.last_safe);
            dates.extend(
                last_days
                    .filter(|date| (first..=last).contains(date))
                    .map(|date| YearDate {
                        id: format!("last-safe-{}-{date}", method.replace('_', "-")),
                        kind: YearDateKind::LastSafe,
                        date,
                        until: date,
                        text: say::last_safe_of(&label),
                    }),
            );
        }
    }
    dates.extend(heat(&weather, first, last));
    if let Some(rain) = &season.rain {
        dates.extend(rains(rain, days(first, last, site.zone)));
    }
    dates.extend(dawns(&weather, first, last)?);
    dates.sort_by(|a, b| (a.date, &a.id).cmp(&(b.date, &b.id)));
    Ok(PlaceDates {
        name: place.name.clone(),
        site,
        bee: bee.name.clone(),
        dates,
        doubts: place::doubts(&site),
        basis: climate.basis(),
    })
}

fn seasons(season: &Season) -> Vec<YearDate> {
    let dates = season.states.iter().map(|stretch| YearDate {
        id: format!("season-{}", stretch.first),
        kind: YearDateKind::Season,
        date: stretch.first,
        until: stretch.last,
        text: match stretch.state {
            DateState::Good => say::season_is_good(stretch.last),
            DateState::AtRisk => say::season_is_at_risk(stretch.last),
            DateState::Closed => say::season_is_closed(stretch.last),
        },
    });
    dates.collect()
}

/// Stretches of days of which one in ten or more is as hot as hives must be shaded from.
fn heat(weather: &Weather<'_>, first: NaiveDate, last: NaiveDate) -> Vec<YearDate> {
    let limit_c = weather.bee().heat_shade_c.value;
    let is_hot = |date: &NaiveDate| weather.chance_of_maximum(*date, limit_c) >= HEAT_IS_LIKELY;
    let hot = days(first, last, weather.site().zone).filter(is_hot);
    let date = |(date, until)| YearDate {
        id: format!("heat-{date}"),
        kind: YearDateKind::Heat,
        date,
        until,
        text: say::heat_is_likely(limit_c, until),
    };
    stretches(hot).into_iter().map(date).collect()
}

/// Stretches of months with more than a twelfth of the year's rain.
fn rains(rain: &RainOfYear, year: impl Iterator<Item = NaiveDate>) -> Vec<YearDate> {
    let date = |(date, until)| YearDate {
        id: format!("rain-{date}"),
        kind: YearDateKind::Rain,
        date,
        until,
        text: say::wet_until(until),
    };
    let wet = year.filter(|date| rain.is_wet(*date));
    stretches(wet).into_iter().map(date).collect()
}

/// Days in a row, each with its last.
fn stretches(days: impl Iterator<Item = NaiveDate>) -> Vec<(NaiveDate, NaiveDate)> {
    let mut stretches: Vec<(NaiveDate, NaiveDate)> = Vec::new();
    for date in days {
        match stretches.last_mut() {
            Some((_, until)) if *until + Days::new(1) >= date => *until = date,
            _ => stretches.push((date, date)),
        }
    }
    stretches
}

/// The dawn of the first day of each month.
fn dawns(weather: &Weather<'_>, first: NaiveDate, last: NaiveDate) -> Result<Vec<YearDate>, Error> {
    let settings = MorningSettings::default();
    let mut dates = Vec::new();
    let zone = weather.site().zone;
    for date in days(first, last, zone).filter(|date| date.day() == 1) {
        let morning = weather.morning(date, &settings)?;
        let Some(light) = morning.work_light else {
            continue;
        };
        let [early, usual] =
            [morning.early_first_flight, morning.first_flight].map(|edge| edge.map(|edge| edge.at));
        dates.push(YearDate {
            id: format!("dawn-{}-{:02}", date.year(), date.month()),
            kind: YearDateKind::Dawn,
            date,
            until: date,
            text: say::dawn_of_month(light, early, usual),
        });
    }
    Ok(dates)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn request(places: &[(&str, f64, f64, f64, &str)]) -> YearDatesRequest {
        let places: Vec<_> = places
            .iter()
            .map(|(name, latitude, longitude, elevation, zone)| {
                DatedPlace::new(
                    *name,
                    Site::new(*latitude, *longitude, *elevation, zone).unwrap(),
                )
            })
            .collect();
        YearDatesRequest::new(places, "2027-01-01".parse().unwrap())
    }

    const CURITIBA: (&str, f64, f64, f64, &str) =
        ("Curitiba", -25.43, -49.27, 920.0, "America/Sao_Paulo");
    const SINGAPORE: (&str, f64, f64, f64, &str) =
        ("Singapore", 1.35, 103.8, 15.0, "Asia/Singapore");
    const NIAMEY: (&str, f64, f64, f64, &str) = ("Niamey", 13.51, 2.11, 210.0, "Africa/Niamey");

    #[test]
    fn the_dates_are_those_of_season_and_last_safe_day() {
        let found = year_dates(&request(&[CURITIBA])).unwrap();
        assert_eq!(found.last.to_string(), "2027-12-31");
        let dates = &found.places[0].dates;
        assert!(dates.is_sorted_by_key(|date| date.date));
        let of = |kind| dates.iter().filter(move |date| date.kind == kind);
        // The states follow each other without a gap.
        let states: Vec<_> = of(YearDateKind::Season).collect();
        assert_eq!(states[0].date, found.first);
        assert_eq!(states.last().unwrap().until, found.last);
        for pair in states.windows(2) {
            assert_eq!(pair[0].until + Days::new(1), pair[1].date);
        }
        let site = Site::new(CURITIBA.1, CURITIBA.2, CURITIBA.3, CURITIBA.4).unwrap();
        let LastSafeOutcome::Windows { windows, .. } =
            last_safe(&LastSafeRequest::new(site, found.first, "split"))
                .unwrap()
                .outcome
        else {
            panic!("Curitiba has a winter")
        };
        let split = of(YearDateKind::LastSafe).filter(|date| date.id.contains("-split-"));
        assert!(split.clone().count() > 0);
        assert!(
            split
                .map(|date| Some(date.date))
                .all(|date| { windows.iter().any(|window| window.last_safe == date) })
        );
        assert_eq!(of(YearDateKind::Dawn).count(), 12);
    }

    #[test]
    fn the_wet_tropics_have_no_last_day_and_the_sahel_has_heat() {
        let found = year_dates(&request(&[SINGAPORE, NIAMEY])).unwrap();
        let kinds = |place: usize| -> Vec<_> {
            found.places[place]
                .dates
                .iter()
                .map(|date| date.kind)
                .collect()
        };
        assert!(!kinds(0).contains(&YearDateKind::LastSafe));
        assert!(!kinds(0).contains(&YearDateKind::Heat));
        // Climate normals of Niamey: mean maxima above 40 °C in April and May (from memory).
        let hot = found.places[1].dates.iter().find(|date| {
            let april = "2027-04-15".parse().unwrap();
            date.kind == YearDateKind::Heat && (date.date..=date.until).contains(&april)
        });
        assert!(hot.is_some());
    }

    #[test]
    fn what_cannot_be_is_named_with_its_place() {
        let field = |request: &YearDatesRequest| {
            let error = year_dates(request).unwrap_err();
            (error.code(), error.field().to_owned())
        };
        assert_eq!(field(&request(&[])).0, "not_enough_data");
        let twice = request(&[CURITIBA, CURITIBA]);
        assert_eq!(field(&twice), ("inconsistent", "places[1].name".to_owned()));
        let mut nameless = request(&[CURITIBA]);
        nameless.places[0].name.clear();
        assert_eq!(
            field(&nameless),
            ("out_of_range", "places[0].name".to_owned())
        );
        let mut long = request(&[CURITIBA]);
        long.last = Some("2030-01-01".parse().unwrap());
        assert_eq!(field(&long).0, "too_large");
        let mut backwards = request(&[CURITIBA]);
        backwards.last = Some("2026-01-01".parse().unwrap());
        assert_eq!(field(&backwards).0, "inconsistent");
        let mut no_bee = request(&[CURITIBA]);
        no_bee.places[0].bee.based_on = Some("bumble".to_owned());
        assert_eq!(field(&no_bee).0, "unknown_name");
    }
}
