//! One text in, one text out: the entry that the Python and JavaScript doors hand everything to.
//!
//! A request is a JSON object whose `ask` names what is wanted; its other fields are those of the
//! request struct of that name. The answer is the JSON of the engine's own result type. A new
//! request is a line in `REQUESTS`, a struct and a function.

use chrono::NaiveDate;
use serde::Serialize;

use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::calendar::{self, IcsSettings};
use crate::civil::{self, CivilDay, Instant};
use crate::climate::{
    Basis, Climate, ClimateInput, DefaultClimate, DefaultClimateRequest, ForecastReading,
    ForecastRequest, WarmSeasonMap, WarmSeasonMapRequest,
};
use crate::error::{Error, clip};
use crate::flight::{DayLimitOverrides, DayLimits, FlightDay};
use crate::method::{Method, built_in, method_names};
use crate::morning::{MorningOverrides, MorningSettings, RankedMorning, Weekday};
use crate::outlook::{Outlook, OutlookRequest};
use crate::parameters::Parameter;
use crate::place::{self, CheckedPlace};
use crate::plan::{LastSafe, LastSafeRequest, Plan, PlanRequest};
use crate::reason::{Language, Sentences};
use crate::relocation::{DatedParting, PartingRequest, Relocation, RelocationRequest};
use crate::review::Review;
use crate::season::{Season, SeasonSettings};
use crate::site::Site;
use crate::sun::{Crossing, Ephemeris, SunDay};
use crate::wait::{DateRange, Wait, WaitOutcome, date_or_range};
use crate::weather::Weather;
use crate::wire::{self, FromNode, Node};
use crate::work;
use crate::year::{YearRequest, year};

/// The longest request that is read, in bytes.
pub const LARGEST_REQUEST_BYTES: usize = 16 * 1024 * 1024;

/// The longest answer that is given, in bytes: the sun or the flight of every day of 200 years fits.
pub const LARGEST_ANSWER_BYTES: usize = 96 * 1024 * 1024;

type Answer = fn(&Node<'_>) -> Result<String, Error>;

/// Every request by name, in alphabetical order.
const REQUESTS: [(&str, Answer); 26] = [
    ("about", |fields| answer(fields, about)),
    ("bee", |fields| answer(fields, bee)),
    ("calendar", |fields| answer(fields, calendar)),
    ("civil_day", |fields| answer(fields, civil_day)),
    ("clock", |fields| answer(fields, clock)),
    ("default_climate", |fields| answer(fields, default_climate)),
    ("flight", |fields| answer(fields, flight)),
    ("last_safe", |fields| answer(fields, last_safe)),
    ("methods", |fields| answer(fields, methods)),
    ("mornings", |fields| answer(fields, mornings)),
    ("outlook", |fields| answer(fields, outlook)),
    ("parameters", |fields| answer(fields, parameters)),
    ("parting", |fields| answer(fields, parting)),
    ("place", |fields| answer(fields, checked_place)),
    ("plan", |fields| answer(fields, plan)),
    ("plan_csv", |fields| answer(fields, plan_csv)),
    ("plan_picture", |fields| answer(fields, plan_picture)),
    ("read_forecast", |fields| answer(fields, read_forecast)),
    ("relocation", |fields| answer(fields, relocation)),
    ("review", |fields| answer(fields, review)),
    ("season", |fields| answer(fields, season)),
    ("sentences", |fields| answer(fields, sentences)),
    ("site", |fields| answer(fields, site)),
    ("sun", |fields| answer(fields, sun)),
    ("warm_season_map", |fields| answer(fields, warm_season_map)),
    ("year_picture", |fields| answer(fields, year_picture)),
];

/// Answers a request.
///
/// # Errors
/// `too_large` for a text above [`LARGEST_REQUEST_BYTES`], `unreadable` for one that is not JSON or
/// has a field too many or too few, `unknown_name` for an `ask` that does not exist, and whatever
/// the request itself refuses.
///
/// ```
/// let answer = apiary_almanac::ask(
///     r#"{"ask": "civil_day", "date": "2026-10-04", "site": {"latitude_deg": -28.81,
///         "longitude_deg": 153.28, "elevation_m": 12, "zone": "Australia/Sydney"}}"#,
/// )?;
/// assert_eq!(
///     answer,
///     r#"{"date":"2026-10-04","start":"2026-10-04T00:00:00+10:00","day_length_h":23.0}"#
/// );
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn ask(request: &str) -> Result<String, Error> {
    if request.len() > LARGEST_REQUEST_BYTES {
        return Err(Error::TooLarge {
            field: "request".to_owned(),
            given: format!("{} bytes", request.len()),
            allowed: format!("{LARGEST_REQUEST_BYTES} bytes"),
        });
    }
    let mut tree = wire::node("request", request)?;
    let name = take_name(&mut tree).map_err(|problem| wire::unreadable("request", problem))?;
    place::complete(&mut tree)?;
    match REQUESTS.iter().find(|(known, _)| *known == name) {
        Some((_, answer)) => work::counted(|| answer(&tree)).0,
        None => Err(Error::UnknownName {
            field: "ask".to_owned(),
            given: clip(&name),
            allowed: request_names().join(", "),
        }),
    }
}

/// Takes the name of the request out of its fields.
fn take_name(tree: &mut Node<'_>) -> Result<String, &'static str> {
    let Node::Object(fields) = tree else {
        return Err("it must be a JSON object whose `ask` names the request");
    };
    let position = fields.iter().position(|(key, _)| key == "ask");
    let (_, name) = fields.remove(position.ok_or("missing field `ask`")?);
    if fields.iter().any(|(key, _)| key == "ask") {
        return Err("duplicate field `ask`");
    }
    match name {
        Node::Text(name) => Ok(name.into_owned()),
        _ => Err("`ask` must be the name of a request"),
    }
}

/// The names that `ask` can take, in alphabetical order.
fn request_names() -> Vec<&'static str> {
    REQUESTS.iter().map(|(name, _)| *name).collect()
}

fn answer<Q: FromNode, A: Serialize>(
    fields: &Node<'_>,
    engine: fn(Q) -> Result<A, Error>,
) -> Result<String, Error> {
    let answer = engine(wire::from_node("request", fields)?)?;
    let text = wire::to_json(&answer);
    if text.len() > LARGEST_ANSWER_BYTES {
        return Err(Error::TooLarge {
            field: "request".to_owned(),
            given: format!("an answer of {} bytes", text.len()),
            allowed: format!("{LARGEST_ANSWER_BYTES} bytes"),
        });
    }
    Ok(text)
}

#[derive(FromNode)]
struct NoFields {}

/// What is behind the door.
#[derive(Serialize)]
struct About {
    name: &'static str,
    version: &'static str,
    error_codes: [&'static str; Error::CODES.len()],
    requests: Vec<&'static str>,
    first_date: NaiveDate,
    last_date: NaiveDate,
}

fn about(NoFields {}: NoFields) -> Result<About, Error> {
    Ok(About {
        name: env!("CARGO_PKG_NAME"),
        version: env!("CARGO_PKG_VERSION"),
        error_codes: Error::CODES,
        requests: request_names(),
        first_date: civil::FIRST_DATE,
        last_date: civil::LAST_DATE,
    })
}

/// The sentences of a language.
#[derive(FromNode)]
struct SentencesRequest {
    #[serde(default)]
    language: Language,
}

fn sentences(request: SentencesRequest) -> Result<Sentences, Error> {
    Ok(crate::reason::sentences(request.language))
}

/// A civil day by its date, or the one that an instant belongs to.
#[derive(FromNode)]
struct CivilDayRequest {
    site: Site,
    #[serde(default)]
    date: Option<NaiveDate>,
    #[serde(default)]
    instant: Option<Instant>,
}

fn civil_day(request: CivilDayRequest) -> Result<CivilDay, Error> {
    let zone = request.site.zone;
    match (request.date, request.instant) {
        (Some(date), None) => CivilDay::of_date(date, zone),
        (None, Some(instant)) => CivilDay::of_instant(instant, zone),
        (date, _) => Err(Error::Inconsistent {
            field: "date and instant".to_owned(),
            problem: format!(
                "{} was given; give one of them",
                if date.is_some() { "both" } else { "neither" }
            ),
        }),
    }
}

/// Checks a site and gives it back with every field written out.
#[derive(FromNode)]
struct SiteRequest {
    site: Site,
}

fn site(request: SiteRequest) -> Result<Site, Error> {
    Ok(request.site)
}

/// Whether a site can be meant.
fn checked_place(request: SiteRequest) -> Result<CheckedPlace, Error> {
    Ok(place::check(&request.site))
}

/// A bee with all its numbers: a built-in one by name, or a user's own.
#[derive(FromNode)]
struct BeeRequest {
    #[serde(default, deserialize_with = "name_or_table")]
    bee: BeeOverrides,
}

fn bee(request: BeeRequest) -> Result<Bee, Error> {
    Bee::with_overrides(&request.bee)
}

/// The sun of every civil day of a span, and, if asked, when it passes an altitude.
#[derive(FromNode)]
struct SunRequest {
    site: Site,
    first: NaiveDate,
    last: NaiveDate,
    #[serde(default)]
    altitude_deg: Option<f64>,
}

/// A day's sun; `crossing` is there when an altitude was asked for.
#[derive(Serialize)]
struct SunAnswer {
    #[serde(flatten)]
    day: SunDay,
    #[serde(skip_serializing_if = "Option::is_none")]
    crossing: Option<Crossing>,
}

fn sun(request: SunRequest) -> Result<Vec<SunAnswer>, Error> {
    let SunRequest {
        site,
        first,
        last,
        altitude_deg,
    } = request;
    let ephemeris = Ephemeris::covering(first, last)?;
    civil::days(first, last, site.zone)
        .map(|date| {
            work::spend(work::DAY_COURSE)?;
            Ok(SunAnswer {
                day: ephemeris.day(&site, date)?,
                crossing: altitude_deg
                    .map(|altitude| ephemeris.crossing(&site, date, altitude))
                    .transpose()?,
            })
        })
        .collect()
}

/// The flight of every civil day of a span.
#[derive(FromNode)]
struct FlightRequest {
    site: Site,
    first: NaiveDate,
    last: NaiveDate,
    #[serde(default, deserialize_with = "name_or_table")]
    bee: BeeOverrides,
    #[serde(default)]
    climate: ClimateInput,
    #[serde(default)]
    limits: DayLimitOverrides,
}

fn flight(request: FlightRequest) -> Result<Vec<FlightDay>, Error> {
    let FlightRequest {
        site, first, last, ..
    } = request;
    let climate = Climate::from_input(&site, &request.climate)?;
    let bee = Bee::with_overrides(&request.bee)?;
    let limits = DayLimits::with_overrides(&request.limits)?;
    Weather::new(&site, &climate, &bee).flights(first, last, &limits)
}

fn default_climate(request: DefaultClimateRequest) -> Result<DefaultClimate, Error> {
    crate::climate::default_climate(&request)
}

/// What a pasted forecast says.
fn read_forecast(request: ForecastRequest) -> Result<ForecastReading, Error> {
    crate::climate::read_forecast(&request)
}

fn warm_season_map(request: WarmSeasonMapRequest) -> Result<WarmSeasonMap, Error> {
    crate::climate::season_map(&request)
}

/// When a waiting time runs out that starts on a date, or on a range of dates.
#[derive(FromNode)]
struct ClockRequest {
    site: Site,
    wait: Wait,
    #[serde(deserialize_with = "date_or_range")]
    after: DateRange,
    #[serde(default, deserialize_with = "name_or_table")]
    bee: BeeOverrides,
    #[serde(default)]
    climate: ClimateInput,
}

/// When it runs out, and what the temperatures rest on.
#[derive(Serialize)]
struct ClockAnswer {
    outcome: WaitOutcome,
    basis: Vec<Basis>,
}

fn clock(request: ClockRequest) -> Result<ClockAnswer, Error> {
    let climate = Climate::from_input(&request.site, &request.climate)?;
    let bee = Bee::with_overrides(&request.bee)?;
    let weather = Weather::new(&request.site, &climate, &bee);
    Ok(ClockAnswer {
        outcome: crate::wait::run(&request.wait, &request.after, &weather)?,
        basis: climate.basis(),
    })
}

fn parting(request: PartingRequest) -> Result<DatedParting, Error> {
    crate::relocation::parting(&request)
}

fn relocation(request: RelocationRequest) -> Result<Relocation, Error> {
    crate::relocation::relocation(&request)
}

/// The working windows that touch a span.
#[derive(FromNode)]
struct SeasonRequest {
    site: Site,
    first: NaiveDate,
    last: NaiveDate,
    #[serde(default, deserialize_with = "name_or_table")]
    bee: BeeOverrides,
    #[serde(default)]
    climate: ClimateInput,
    #[serde(default)]
    settings: SeasonSettings,
}

fn season(request: SeasonRequest) -> Result<Season, Error> {
    let climate = Climate::from_input(&request.site, &request.climate)?;
    let bee = Bee::with_overrides(&request.bee)?;
    let weather = Weather::new(&request.site, &climate, &bee);
    weather.season(request.first, request.last, &request.settings)
}

/// The mornings of a number of days, ranked.
#[derive(FromNode)]
struct MorningsRequest {
    site: Site,
    first: NaiveDate,
    days: u32,
    #[serde(default, deserialize_with = "name_or_table")]
    bee: BeeOverrides,
    #[serde(default)]
    climate: ClimateInput,
    #[serde(default)]
    free_weekdays: Vec<Weekday>,
    #[serde(default)]
    settings: MorningOverrides,
}

fn mornings(request: MorningsRequest) -> Result<Vec<RankedMorning>, Error> {
    let climate = Climate::from_input(&request.site, &request.climate)?;
    let bee = Bee::with_overrides(&request.bee)?;
    Weather::new(&request.site, &climate, &bee).mornings(
        request.first,
        request.days,
        &MorningSettings::with_overrides(&request.settings)?,
        &request.free_weekdays,
    )
}

fn outlook(request: OutlookRequest) -> Result<Outlook, Error> {
    crate::outlook::outlook(&request)
}

/// The built-in methods, whole.
fn methods(NoFields {}: NoFields) -> Result<Vec<Method>, Error> {
    method_names().into_iter().map(built_in).collect()
}

fn last_safe(request: LastSafeRequest) -> Result<LastSafe, Error> {
    crate::plan::last_safe(&request)
}

fn plan(request: PlanRequest) -> Result<Plan, Error> {
    crate::plan::plan(&request)
}

fn review(request: PlanRequest) -> Result<Review, Error> {
    crate::review::review(&request)
}

/// Every default number with unit, range and source.
fn parameters(NoFields {}: NoFields) -> Result<Vec<Parameter>, Error> {
    Ok(crate::parameters::parameters())
}

/// Plans as an iCalendar text.
#[derive(FromNode)]
struct CalendarRequest {
    plans: Vec<Plan>,
    stamp: Instant,
    #[serde(default)]
    sequence: u32,
    #[serde(default)]
    name: Option<String>,
}

#[derive(Serialize)]
struct IcsAnswer {
    ics: String,
}

fn calendar(request: CalendarRequest) -> Result<IcsAnswer, Error> {
    let settings = IcsSettings {
        stamp: request.stamp,
        sequence: request.sequence,
        name: request.name,
    };
    let ics = calendar::plans_ics(&request.plans, &settings)?;
    Ok(IcsAnswer { ics })
}

/// Plans as a table.
#[derive(FromNode)]
struct PlanCsvRequest {
    plans: Vec<Plan>,
}

#[derive(Serialize)]
struct CsvAnswer {
    csv: String,
}

fn plan_csv(request: PlanCsvRequest) -> Result<CsvAnswer, Error> {
    let csv = calendar::plans_csv(&request.plans)?;
    Ok(CsvAnswer { csv })
}

/// A plan as a picture.
#[derive(FromNode)]
struct PlanPictureRequest {
    plan: Plan,
}

#[derive(Serialize)]
struct PictureAnswer {
    svg: String,
}

fn plan_picture(request: PlanPictureRequest) -> Result<PictureAnswer, Error> {
    let svg = calendar::plan_picture(&request.plan)?;
    Ok(PictureAnswer { svg })
}

fn year_picture(request: YearRequest) -> Result<PictureAnswer, Error> {
    let svg = calendar::year_picture(&year(&request)?);
    Ok(PictureAnswer { svg })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(request: &str) -> (&'static str, String) {
        let error = ask(request).unwrap_err();
        (error.code(), error.field().to_owned())
    }

    #[test]
    fn the_list_of_requests_is_sorted() {
        assert!(REQUESTS.is_sorted_by_key(|(name, _)| *name));
    }

    #[test]
    fn paths_reach_through_the_envelope() {
        let site = r#"{"latitude_deg": 0, "longitude_deg": 0, "elevation_m": 0, "zone": "UTC"}"#;
        let with = |from: &str, to: &str| {
            refused(&format!(
                r#"{{"ask":"site","site":{}}}"#,
                site.replace(from, to)
            ))
        };
        assert_eq!(with("UTC", "UTC+1"), ("unknown_zone", "zone".to_owned()));
        assert_eq!(
            with("zone", "zones"),
            ("unreadable", "site.zones".to_owned())
        );
        assert_eq!(with("\"UTC\"", "3"), ("unreadable", "site.zone".to_owned()));
        assert_eq!(
            refused(&format!(r#"{{"ask":"site","site":{site},"hive":1}}"#)),
            ("unreadable", "hive".to_owned())
        );
        assert_eq!(
            refused(&format!(r#"{{"ask":"site","site":{site},"site":{site}}}"#)),
            ("unreadable", "request".to_owned())
        );
    }

    #[test]
    fn a_path_stands_for_line_and_column() {
        let error = ask(r#"{"ask": "site", "site": {"latitude_deg": "1"}}"#).unwrap_err();
        assert_eq!(
            error.to_string(),
            "site.latitude_deg cannot be read: it is the text \"1\"; expected is a number"
        );
        let error = ask(r#"{"ask": }"#).unwrap_err().to_string();
        assert!(error.ends_with("at line 1 column 9"), "{error}");
    }

    #[test]
    fn escapes_in_names_are_understood() {
        assert!(ask(r#"{"\u0061sk": "a\u0062out"}"#).is_ok());
    }
}
