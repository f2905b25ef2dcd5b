//! The keeper's file, and the arguments laid over it.

use std::path::{Path, PathBuf};

use apiary_almanac::bee::{BeeOverrides, name_or_table};
use apiary_almanac::civil::{civil_day, parse_date};
use apiary_almanac::climate::{
    ClimateInput, Forecast, ForecastAnswers, ForecastRequest, TextFile, read_forecast,
};
use apiary_almanac::method::{MethodChoice, Strength, method_names};
use apiary_almanac::morning::{MorningOverrides, Weekday};
use apiary_almanac::outlook::OutlookRequest;
use apiary_almanac::place;
use apiary_almanac::plan::{Colony, PlanOverrides, PlanRequest};
use apiary_almanac::record::Record;
use apiary_almanac::season::SeasonSettings;
use apiary_almanac::wire::{FromNode, from_toml};
use apiary_almanac::{Error, Reason, Site};
use chrono::{DateTime, Utc};

use super::Problem;
use super::args::Input;
use super::output::{Writer, failed};
use super::place::{Source, placed};

/// Who asks; printed at the top.
#[derive(Debug, Default)]
pub struct Heading {
    /// Club, keeper, hive: as many as the file names.
    pub names: Vec<String>,
}

#[derive(Debug, Default, FromNode)]
#[serde(default)]
struct KeeperFile {
    club: Option<String>,
    keeper: Option<String>,
    hive: Option<String>,
    hive_weight_kg: Option<f64>,
    today: Option<String>,
    free_weekdays: Vec<Weekday>,
    mornings: Option<u32>,
    site: Option<SiteTable>,
    #[serde(deserialize_with = "name_or_table")]
    bee: BeeOverrides,
    climate: ClimateFiles,
    season: SeasonSettings,
    settings: MorningOverrides,
    plan: Option<PlanTable>,
}

/// The new colony that is wanted from the hive.
#[derive(Debug, Default, Clone, FromNode)]
#[serde(default)]
struct PlanTable {
    method: Option<MethodChoice>,
    daughter_name: Option<String>,
    net_weight_kg: Option<f64>,
    months_since_division: Option<f64>,
    strength: Option<Strength>,
    wanted: Option<String>,
    settings: PlanOverrides,
    records: Vec<Record>,
}

#[derive(Debug, Default, Clone, FromNode)]
#[serde(default)]
struct SiteTable {
    latitude_deg: Option<f64>,
    longitude_deg: Option<f64>,
    elevation_m: Option<f64>,
    zone: Option<String>,
    east_horizon_deg: f64,
    west_horizon_deg: f64,
}

/// Names of files, beside the keeper's file.
#[derive(Debug, Default, FromNode)]
#[serde(default)]
struct ClimateFiles {
    normals: Option<String>,
    records: Option<String>,
    forecast: Option<String>,
    forecast_answers: ForecastAnswers,
    hours: Vec<String>,
}

/// Arguments that not every question has.
#[derive(Debug, Default)]
pub struct Extra {
    pub mornings: Option<u32>,
    pub method: Option<String>,
}

/// What the file and the arguments ask for.
pub struct Asked<'a> {
    pub heading: Heading,
    pub outlook: OutlookRequest,
    pub plan: Option<PlanRequest>,
    input: &'a Input,
    source: Option<Source>,
    read: Vec<PathBuf>,
}

impl Asked<'_> {
    /// Adds the place to an error of the engine.
    pub fn told<T>(&self, answer: Result<T, Error>) -> Result<T, Problem> {
        answer.map_err(|error| placed(error, self.input, self.source.as_ref()))
    }

    /// For the files of the answer.
    pub fn writer(&self, force: bool) -> Writer<'_> {
        Writer {
            read: &self.read,
            force,
        }
    }

    /// The plan, where there must be one.
    pub fn plan_needed(&self) -> Result<PlanRequest, Problem> {
        self.told(self.plan.clone().ok_or_else(|| Error::NotEnoughData {
            field: "method".to_owned(),
            given: "nothing".to_owned(),
            needed: format!(
                "{}, as --method or in the [plan] table of the keeper's file",
                method_names().join(", ")
            ),
        }))
    }
}

/// Reads the file, if any, and lays the arguments over it. `said` takes how the forecast was read.
pub fn read<'a>(
    input: &'a Input,
    extra: &Extra,
    now: DateTime<Utc>,
    said: &mut Vec<String>,
) -> Result<Asked<'a>, Problem> {
    let mut read = Vec::new();
    let (source, folder) = match &input.file {
        None => (None, PathBuf::new()),
        Some(path) => {
            let source = Source {
                file: path.display().to_string(),
                text: text_of(path, &mut read)?,
            };
            (
                Some(source),
                path.parent().unwrap_or(Path::new("")).to_owned(),
            )
        }
    };
    let placed = |error| placed(error, input, source.as_ref());
    let keeper: KeeperFile = match &source {
        None => KeeperFile::default(),
        Some(source) => from_toml(&source.file, &source.text).map_err(placed)?,
    };
    let site = site(input, &keeper.site.clone().unwrap_or_default()).map_err(placed)?;
    said.extend(place::doubts(&site).iter().map(Reason::text));
    let today = match (&input.today, &keeper.today) {
        (Some(text), _) => parse_date("today", text).map_err(placed)?,
        (None, Some(date)) => parse_date("today", date).map_err(placed)?,
        (None, None) => civil_day(now, site.zone),
    };
    let mut bee = keeper.bee;
    if input.bee.is_some() {
        bee.based_on.clone_from(&input.bee);
    }
    // Files named on the command line replace those of the keeper's file: normals or records.
    let own_base = input.normals.is_some() || input.records.is_some();
    let from_file = |path: &Option<String>| path.as_ref().map(|path| folder.join(path));
    let base = |arg: &Option<PathBuf>, file: &Option<String>| {
        if own_base {
            arg.clone()
        } else {
            from_file(file)
        }
    };
    let forecast = input
        .forecast
        .clone()
        .or_else(|| from_file(&keeper.climate.forecast));
    let mut climate = ClimateInput::default();
    climate.normals_csv = text_file(base(&input.normals, &keeper.climate.normals), &mut read)?;
    climate.records_csv = text_file(base(&input.records, &keeper.climate.records), &mut read)?;
    for path in &keeper.climate.hours {
        climate
            .hours_files
            .extend(text_file(Some(folder.join(path)), &mut read)?);
    }
    if let Some(TextFile { file, text, .. }) = text_file(forecast, &mut read)? {
        let request = ForecastRequest {
            file,
            answers: keeper.climate.forecast_answers,
            ..ForecastRequest::new(site, today, &text)
        };
        let found = read_forecast(&request)
            .and_then(|found| found.settled(&request.file))
            .map_err(placed)?;
        said.extend(found.in_words(&request.file));
        if !found.forecast.is_empty() {
            climate.forecast = Some(Forecast::new(found.forecast).map_err(placed)?);
        }
        // Hours of a file of hours come first.
        if climate.hours_files.is_empty() {
            climate.hours = found.hours;
        }
    }
    let plan = plan_table(extra, keeper.plan);
    let hive = keeper.hive.clone();
    let (club, person) = (keeper.club.clone(), keeper.keeper.clone());
    let names = [
        keeper.club,
        keeper.keeper,
        keeper.hive.map(|hive| format!("hive {hive}")),
    ];
    let mut request = OutlookRequest::new(site, today)
        .with_bee(bee)
        .with_climate(climate)
        .with_season(keeper.season)
        .with_free_weekdays(keeper.free_weekdays)
        .with_settings(keeper.settings);
    request.mornings = extra.mornings.or(keeper.mornings);
    request.hive_weight_kg = keeper.hive_weight_kg;
    let plan = match plan {
        None => None,
        Some((method, table)) => {
            let mut colony = Colony::new(hive.unwrap_or_else(|| "the colony".to_owned()));
            colony.daughter_name = table.daughter_name;
            colony.net_weight_kg = table.net_weight_kg;
            colony.months_since_division = table.months_since_division;
            colony.strength = table.strength;
            let mut plan = PlanRequest::new(request.site, request.today, method, colony)
                .with_bee(request.bee.clone())
                .with_climate(request.climate.clone())
                .with_settings(table.settings)
                .with_season(request.season.clone())
                .with_mornings(request.settings)
                .with_free_weekdays(request.free_weekdays.clone())
                .with_records(table.records);
            plan.wanted = table
                .wanted
                .map(|date| parse_date("plan.wanted", &date))
                .transpose()
                .map_err(placed)?;
            plan.keeper = person;
            plan.club = club;
            Some(plan)
        }
    };
    Ok(Asked {
        heading: Heading {
            names: names.into_iter().flatten().collect(),
        },
        outlook: request,
        plan,
        input,
        source,
        read,
    })
}

/// The method and the colony's facts, where a plan is asked for.
fn plan_table(extra: &Extra, table: Option<PlanTable>) -> Option<(MethodChoice, PlanTable)> {
    let table = table.unwrap_or_default();
    let method = match &extra.method {
        Some(name) => MethodChoice::Named(name.clone()),
        None => table.method.clone()?,
    };
    Some((method, table))
}

fn site(args: &Input, file: &SiteTable) -> Result<Site, Error> {
    let needed = |field: &str, value: Option<f64>| {
        value.ok_or_else(|| Error::NotEnoughData {
            field: field.to_owned(),
            given: "nothing".to_owned(),
            needed: "a number, in the [site] table of the keeper's file or as an argument"
                .to_owned(),
        })
    };
    let (latitude, longitude) = (
        needed("latitude_deg", args.latitude.or(file.latitude_deg))?,
        needed("longitude_deg", args.longitude.or(file.longitude_deg))?,
    );
    let zone = args
        .zone
        .as_deref()
        .or(file.zone.as_deref())
        .ok_or_else(|| Error::NotEnoughData {
            field: "zone".to_owned(),
            given: "nothing".to_owned(),
            needed: "a name such as \"Australia/Brisbane\", in the [site] table of the keeper's file or as \
                     an argument"
                .to_owned(),
        })?;
    place::site(
        latitude,
        longitude,
        args.elevation.or(file.elevation_m),
        zone,
    )?
    .with_horizon(file.east_horizon_deg, file.west_horizon_deg)
}

/// `read` takes the path.
fn text_file(path: Option<PathBuf>, read: &mut Vec<PathBuf>) -> Result<Option<TextFile>, Problem> {
    path.map(|path| {
        let text = text_of(&path, read)?;
        Ok(TextFile::new(path.display().to_string(), text))
    })
    .transpose()
}

fn text_of(path: &Path, read: &mut Vec<PathBuf>) -> Result<String, Problem> {
    read.push(path.to_owned());
    std::fs::read_to_string(path).map_err(|source| failed(path, source))
}
