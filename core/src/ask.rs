//! One text in, one text out: the entry that the Python and JavaScript doors hand everything to.
//!
//! A request is a JSON object whose `ask` names what is wanted; its other fields are those of the
//! request struct of that name. The answer is the JSON of the engine's own result type. A new
//! request is a line in `REQUESTS`, a struct and a function.

use chrono::NaiveDate;
use serde::Serialize;

use crate::agenda::{Agenda, AgendaRequest};
use crate::bee::{Bee, BeeOverrides, bee_names, name_or_table};
use crate::calendar::{self, CalendarPer, IcsSettings, MorningsPlace, NamedCalendar};
use crate::civil::{self, CivilDay, Instant};
use crate::climate::{
    Basis, Climate, ClimateInput, DefaultClimate, DefaultClimateRequest, ForecastReading,
    ForecastRequest, MonthlyNormals, WarmSeasonMap, WarmSeasonMapRequest,
};
use crate::coordinates::{CoordinatesReading, CoordinatesRequest};
use crate::error::{Error, clip};
use crate::flight::{DayLimitOverrides, DayLimits, FlightDay};
use crate::method::{Method, built_in, method_names};
use crate::morning::{MorningOverrides, MorningSettings, RankedMorning, Weekday};
use crate::outlook::{Outlook, OutlookRequest};
use crate::parameters::Parameter;
use crate::place::{self, CheckedPlace};
use crate::plan::{
    DateAnswer, LastSafe, LastSafeRequest, Plan, PlanRequest, Together, TogetherRequest,
    WhyNotRequest,
};
use crate::reason::{Language, Reason, Sentences};
use crate::relocation::{DatedParting, PartingRequest, Relocation, RelocationRequest};
use crate::review::Review;
use crate::season::{Season, SeasonSettings};
use crate::site::Site;
use crate::sun::{Crossing, Ephemeris, SunDay};
use crate::towns::{self, FoundTowns, NearTowns};
use crate::wait::{DateRange, Wait, WaitOutcome, date_or_range};
use crate::weather::Weather;
use crate::wire::{self, FromNode, Node, Shape};
use crate::work;
use crate::year::{YearRequest, year};
use crate::year_dates::{YearDates, YearDatesRequest, year_dates};

/// The longest request that is read, in bytes.
pub const LARGEST_REQUEST_BYTES: usize = 16 * 1024 * 1024;

/// The longest answer that is given, in bytes: the sun or the flight of every day of 200 years fits.
pub const LARGEST_ANSWER_BYTES: usize = 96 * 1024 * 1024;

type Answer = fn(&Node<'_>) -> Result<String, Error>;

/// Every request by the name of its function, in alphabetical order.
macro_rules! requests {
    ($($name:ident),* $(,)?) => {
        const REQUESTS: &[(&str, Answer)] = &[
            $((stringify!($name), |fields| answer(fields, $name))),*
        ];

        /// What requests and answers look like.
        #[cfg(feature = "shapes")]
        pub fn shapes() -> wire::shape::Shapes {
            let mut shapes = wire::shape::Shapes::default();
            $(shapes.request(stringify!($name), $name);)*
            shapes
        }
    };
}

requests!(
    about,
    agenda,
    bee,
    calendar,
    civil_day,
    clock,
    default_climate,
    flight,
    last_safe,
    methods,
    mornings,
    mornings_calendar,
    outlook,
    parameters,
    parting,
    place,
    plan,
    plan_csv,
    plan_picture,
    plans_together,
    poster,
    read_coordinates,
    read_forecast,
    read_normals,
    relocation,
    review,
    season,
    sentences,
    site,
    sun,
    towns,
    towns_near,
    warm_season_map,
    why_not,
    year_calendar,
    year_picture,
);

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

/// The stable name of a kind of error; the same in every language.
#[derive(Serialize)]
struct ErrorCode(&'static str);

#[cfg(feature = "shapes")]
impl wire::shape::Shape for ErrorCode {
    fn shape(shapes: &mut wire::shape::Shapes) -> wire::shape::Type {
        let about = "The stable name of a kind of error; the same in every language.";
        shapes.define::<Self>("ErrorCode", &[about])
    }

    fn body(_: &mut wire::shape::Shapes) -> wire::shape::Body {
        wire::shape::Body::Names(Error::CODES.map(|code| (code, String::new())).to_vec())
    }
}

/// What is behind the door.
#[derive(Serialize, Shape)]
struct About {
    /// Name of the engine.
    name: &'static str,
    /// Its version.
    version: &'static str,
    /// Every code that an error can have.
    error_codes: [ErrorCode; Error::CODES.len()],
    /// Every name that a request's `ask` can take.
    requests: Vec<&'static str>,
    /// Names of the built-in bees, the generic ones first.
    bees: Vec<&'static str>,
    /// The first date that the engine answers for.
    first_date: NaiveDate,
    /// The last one.
    last_date: NaiveDate,
}

fn about(NoFields {}: NoFields) -> Result<About, Error> {
    Ok(About {
        name: env!("CARGO_PKG_NAME"),
        version: env!("CARGO_PKG_VERSION"),
        error_codes: Error::CODES.map(ErrorCode),
        requests: request_names(),
        bees: bee_names(),
        first_date: civil::FIRST_DATE,
        last_date: civil::LAST_DATE,
    })
}

/// The sentences of a language.
#[derive(FromNode)]
struct SentencesRequest {
    /// English when not given.
    #[serde(default)]
    language: Language,
}

fn sentences(request: SentencesRequest) -> Result<Sentences, Error> {
    Ok(crate::reason::sentences(request.language))
}

/// A civil day by its date, or the one that an instant belongs to.
#[derive(FromNode)]
struct CivilDayRequest {
    /// Whose days.
    site: Site,
    /// The day; give this or `instant`.
    #[serde(default)]
    date: Option<NaiveDate>,
    /// A moment of the day.
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
    /// The site.
    site: Site,
}

fn site(request: SiteRequest) -> Result<Site, Error> {
    Ok(request.site)
}

/// Whether a site can be meant.
fn place(request: SiteRequest) -> Result<CheckedPlace, Error> {
    Ok(place::check(&request.site))
}

/// The towns that a name can mean.
#[derive(FromNode)]
struct TownsRequest {
    /// A name or its beginning; behind a comma a region or a country.
    name: String,
    /// The text of the list; that of the package when not given, where the program has it: in Python and in
    /// the command. For JavaScript it is the file `towns.txt` of the package.
    #[serde(default)]
    list: Option<String>,
}

fn towns(request: TownsRequest) -> Result<FoundTowns, Error> {
    towns::find(list_of_towns(request.list.as_deref())?, &request.name)
}

/// The towns around a place, and the zone that all of them have.
#[derive(FromNode)]
struct TownsNearRequest {
    /// Degrees north.
    latitude_deg: f64,
    /// Degrees east.
    longitude_deg: f64,
    /// The text of the list, as in `towns`.
    #[serde(default)]
    list: Option<String>,
}

fn towns_near(request: TownsNearRequest) -> Result<NearTowns, Error> {
    let list = list_of_towns(request.list.as_deref())?;
    towns::near(list, request.latitude_deg, request.longitude_deg)
}

fn list_of_towns(given: Option<&str>) -> Result<&str, Error> {
    match given {
        Some(list) => Ok(list),
        #[cfg(feature = "towns")]
        None => Ok(towns::TOWNS),
        #[cfg(not(feature = "towns"))]
        None => Err(Error::NotEnoughData {
            field: "list".to_owned(),
            given: "nothing".to_owned(),
            needed: "the text of the package's file towns.txt".to_owned(),
        }),
    }
}

/// A bee with all its numbers: a built-in one by name, or a user's own.
#[derive(FromNode)]
struct BeeRequest {
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    bee: BeeOverrides,
}

fn bee(request: BeeRequest) -> Result<Bee, Error> {
    Bee::with_overrides(&request.bee)
}

/// The sun of every civil day of a span, and, if asked, when it passes an altitude.
#[derive(FromNode)]
struct SunRequest {
    /// Where.
    site: Site,
    /// The first day.
    first: NaiveDate,
    /// The last day.
    last: NaiveDate,
    /// An altitude of the sun's centre, degrees, whose crossing is asked for too; true, without refraction.
    #[serde(default)]
    altitude_deg: Option<f64>,
}

/// A day's sun; `crossing` is there when an altitude was asked for.
#[derive(Serialize, Shape)]
struct SunDayAndCrossing {
    #[serde(flatten)]
    day: SunDay,
    /// Passage of the altitude that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    crossing: Option<Crossing>,
    /// What to look at again in the coordinates and the zone.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    doubts: Vec<Reason>,
}

fn sun(request: SunRequest) -> Result<Vec<SunDayAndCrossing>, Error> {
    let SunRequest {
        site,
        first,
        last,
        altitude_deg,
    } = request;
    let doubts = place::doubts_of_position(&site);
    let ephemeris = Ephemeris::covering(first, last)?;
    civil::days(first, last, site.zone)
        .map(|date| {
            work::spend(work::DAY_COURSE)?;
            Ok(SunDayAndCrossing {
                day: ephemeris.day(&site, date)?,
                crossing: altitude_deg
                    .map(|altitude| ephemeris.crossing(&site, date, altitude))
                    .transpose()?,
                doubts: doubts.clone(),
            })
        })
        .collect()
}

/// The weather that a question is about.
#[derive(FromNode)]
struct WeatherRequest {
    /// Where.
    site: Site,
    /// A built-in bee by name, or a user's own.
    #[serde(default, deserialize_with = "name_or_table")]
    bee: BeeOverrides,
    /// Normals, records, forecast; without any the default for the location.
    #[serde(default)]
    climate: ClimateInput,
}

impl WeatherRequest {
    fn weather(&self) -> Result<Weather<'static>, Error> {
        let climate = Climate::from_input(&self.site, &self.climate)?;
        let bee = Bee::with_overrides(&self.bee)?;
        Ok(Weather::owning(self.site, climate, bee))
    }
}

/// The flight of every civil day of a span.
#[derive(FromNode)]
struct FlightRequest {
    #[serde(flatten)]
    of: WeatherRequest,
    /// The first day.
    first: NaiveDate,
    /// The last day.
    last: NaiveDate,
    /// From when on a night is cold, and how many hot days are a heat spell.
    #[serde(default)]
    limits: DayLimitOverrides,
}

fn flight(request: FlightRequest) -> Result<Vec<FlightDay>, Error> {
    let weather = request.of.weather()?;
    let limits = DayLimits::with_overrides(&request.limits)?;
    weather.flights(request.first, request.last, &limits)
}

fn default_climate(request: DefaultClimateRequest) -> Result<DefaultClimate, Error> {
    crate::climate::default_climate(&request)
}

/// Which place a text with coordinates can mean.
fn read_coordinates(request: CoordinatesRequest) -> Result<CoordinatesReading, Error> {
    crate::coordinates::read_coordinates(&request)
}

/// What a pasted forecast says.
fn read_forecast(request: ForecastRequest) -> Result<ForecastReading, Error> {
    crate::climate::read_forecast(&request)
}

/// Twelve months as they were copied.
#[derive(FromNode)]
struct NormalsRequest {
    /// The text of the table.
    text: String,
    /// By which name errors and the answer call it; `text` when not given.
    #[serde(default)]
    file: Option<String>,
}

fn read_normals(request: NormalsRequest) -> Result<MonthlyNormals, Error> {
    MonthlyNormals::from_paste(request.file.as_deref().unwrap_or("text"), &request.text)
}

fn warm_season_map(request: WarmSeasonMapRequest) -> Result<WarmSeasonMap, Error> {
    crate::climate::season_map(&request)
}

/// When a waiting time runs out that starts on a date, or on a range of dates.
#[derive(FromNode)]
struct ClockRequest {
    #[serde(flatten)]
    of: WeatherRequest,
    /// What is waited for.
    wait: Wait,
    /// The day from which it is counted, or a range of days.
    #[serde(deserialize_with = "date_or_range")]
    after: DateRange,
}

/// When it runs out, and what the temperatures rest on.
#[derive(Serialize, Shape)]
struct Clock {
    /// When it runs out.
    outcome: WaitOutcome,
    /// What the temperatures rest on.
    basis: Vec<Basis>,
    /// What to look at again in the place.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    doubts: Vec<Reason>,
}

fn clock(request: ClockRequest) -> Result<Clock, Error> {
    let weather = request.of.weather()?;
    Ok(Clock {
        outcome: crate::wait::run(&request.wait, &request.after, &weather)?,
        basis: weather.climate().basis(),
        doubts: place::doubts(weather.site()),
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
    #[serde(flatten)]
    of: WeatherRequest,
    /// The first day.
    first: NaiveDate,
    /// The last day.
    last: NaiveDate,
    /// How the season is to be judged.
    #[serde(default)]
    settings: SeasonSettings,
}

fn season(request: SeasonRequest) -> Result<Season, Error> {
    let weather = request.of.weather()?;
    weather.season(request.first, request.last, &request.settings)
}

/// The mornings of a number of days, ranked.
#[derive(FromNode)]
struct MorningsRequest {
    #[serde(flatten)]
    of: WeatherRequest,
    /// The first day.
    first: NaiveDate,
    /// How many mornings, 1 to 60.
    days: u32,
    /// Days on which the keeper can work; every day when empty.
    #[serde(default)]
    free_weekdays: Vec<Weekday>,
    /// A user's own numbers for the mornings.
    #[serde(default)]
    settings: MorningOverrides,
}

fn mornings(request: MorningsRequest) -> Result<Vec<RankedMorning>, Error> {
    request.of.weather()?.mornings(
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

fn plans_together(request: TogetherRequest) -> Result<Together, Error> {
    crate::plan::plans_together(&request)
}

fn why_not(request: WhyNotRequest) -> Result<DateAnswer, Error> {
    crate::plan::why_not(&request)
}

fn agenda(request: AgendaRequest) -> Result<Agenda, Error> {
    crate::agenda::agenda(&request)
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
    /// The plans.
    plans: Vec<Plan>,
    #[serde(flatten)]
    settings: IcsSettings,
    /// Also one calendar for each hive, keeper or club.
    #[serde(default)]
    per: Option<CalendarPer>,
}

/// An iCalendar file (RFC 5545).
#[derive(Serialize, Shape)]
struct CalendarText {
    /// The file; its lines end with CRLF, which must stay.
    ics: String,
    /// A calendar for each hive, keeper or club, where that was asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    calendars: Vec<NamedCalendar>,
}

fn calendar(request: CalendarRequest) -> Result<CalendarText, Error> {
    let ics = calendar::plans_ics(&request.plans, &request.settings)?;
    let calendars = match request.per {
        Some(per) => calendar::plans_ics_per(&request.plans, per, &request.settings)?,
        None => Vec::new(),
    };
    Ok(CalendarText { ics, calendars })
}

/// Mornings as an iCalendar text.
#[derive(FromNode)]
struct MorningsCalendarRequest {
    /// The mornings, as `mornings` or an outlook gives them.
    mornings: Vec<RankedMorning>,
    #[serde(flatten)]
    place: MorningsPlace,
    #[serde(flatten)]
    settings: IcsSettings,
}

/// An iCalendar file (RFC 5545) of mornings.
#[derive(Serialize, Shape)]
struct MorningsCalendar {
    /// The file; its lines end with CRLF, which must stay.
    ics: String,
}

fn mornings_calendar(request: MorningsCalendarRequest) -> Result<MorningsCalendar, Error> {
    let ics = calendar::mornings_ics(&request.mornings, &request.place, &request.settings)?;
    Ok(MorningsCalendar { ics })
}

/// Plans as a table.
#[derive(FromNode)]
struct PlanCsvRequest {
    /// The plans.
    plans: Vec<Plan>,
}

/// A table for spreadsheets (RFC 4180).
#[derive(Serialize, Shape)]
struct TableText {
    /// The table, one row a task; its lines end with CRLF, which must stay.
    csv: String,
}

fn plan_csv(request: PlanCsvRequest) -> Result<TableText, Error> {
    let csv = calendar::plans_csv(&request.plans)?;
    Ok(TableText { csv })
}

/// The dates of a year at places, as data and as files.
#[derive(FromNode)]
struct YearCalendarRequest {
    #[serde(flatten)]
    dates: YearDatesRequest,
    #[serde(flatten)]
    settings: IcsSettings,
}

/// The dates of a year at places, and the files made of them.
#[derive(Serialize, Shape)]
struct YearCalendar {
    /// The dates.
    dates: YearDates,
    /// An iCalendar file (RFC 5545); its lines end with CRLF, which must stay.
    ics: String,
    /// A table for spreadsheets (RFC 4180); its lines end with CRLF, which must stay.
    csv: String,
}

fn year_calendar(request: YearCalendarRequest) -> Result<YearCalendar, Error> {
    let dates = year_dates(&request.dates)?;
    Ok(YearCalendar {
        ics: calendar::year_dates_ics(&dates, &request.settings)?,
        csv: calendar::year_dates_csv(&dates),
        dates,
    })
}

/// A plan as a picture.
#[derive(FromNode)]
struct PlanPictureRequest {
    /// The plan.
    plan: Plan,
}

/// A picture.
#[derive(Serialize, Shape)]
struct Picture {
    /// As SVG.
    svg: String,
}

fn plan_picture(request: PlanPictureRequest) -> Result<Picture, Error> {
    let svg = calendar::plan_picture(&request.plan)?;
    Ok(Picture { svg })
}

/// A poster of plans or of the dates of a year.
#[derive(FromNode)]
struct PosterRequest {
    /// The plans; none where the dates of a year are given.
    #[serde(default)]
    plans: Vec<Plan>,
    /// The dates of a year at places, as `year_calendar` gives them; none where plans are given.
    #[serde(default)]
    dates: Option<YearDates>,
    /// The headline.
    #[serde(default)]
    title: Option<String>,
}

/// A poster.
#[derive(Serialize, Shape)]
struct Poster {
    /// Its sheets of A4, each as SVG.
    sheets: Vec<String>,
}

fn poster(request: PosterRequest) -> Result<Poster, Error> {
    let title = request.title.as_deref();
    let sheets = match &request.dates {
        None => calendar::plans_poster(&request.plans, title)?,
        Some(dates) if request.plans.is_empty() => calendar::year_poster(dates, title),
        Some(_) => {
            return Err(Error::Inconsistent {
                field: "plans, dates".to_owned(),
                problem: "plans and the dates of a year are given; give one of them".to_owned(),
            });
        }
    };
    Ok(Poster { sheets })
}

/// The picture of a year.
#[derive(Serialize, Shape)]
struct YearPicture {
    /// As SVG.
    svg: String,
    /// What to look at again in the place.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    doubts: Vec<Reason>,
}

fn year_picture(request: YearRequest) -> Result<YearPicture, Error> {
    let year = year(&request)?;
    Ok(YearPicture {
        svg: calendar::year_picture(&year),
        doubts: year.season.doubts,
    })
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
