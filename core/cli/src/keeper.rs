//! The keeper's file, and the arguments laid over it.

use std::path::{Path, PathBuf};

use apiary_almanac::bee::{BeeOverrides, name_or_table};
use apiary_almanac::civil::{civil_day, in_zone, parse_date};
use apiary_almanac::climate::{
    ClimateInput, Forecast, ForecastAnswers, ForecastRequest, MonthlyNormals, TextFile,
    read_forecast,
};
use apiary_almanac::method::{MethodChoice, Strength, method_names};
use apiary_almanac::morning::{MorningOverrides, Weekday};
use apiary_almanac::outlook::OutlookRequest;
use apiary_almanac::place;
use apiary_almanac::plan::{
    Colony, KeeperLimitOverrides, MOST_TOGETHER, Plan, PlanOverrides, PlanRequest, TogetherRequest,
    plan, plans_together,
};
use apiary_almanac::record::Record;
use apiary_almanac::season::SeasonSettings;
use apiary_almanac::towns::{self, TOWNS};
use apiary_almanac::wire::{FromNode, from_toml};
use apiary_almanac::year_dates::DatedPlace;
use apiary_almanac::{Error, Site};
use chrono::{DateTime, Utc};

use super::Problem;
use super::args::Input;
use super::output::Writer;
use super::place::{Source, placed};
use super::reading::text_of;

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
    hives: Vec<HiveTable>,
    limits: Option<KeeperLimitOverrides>,
    places: Vec<PlaceTable>,
}

/// One of several places of a club, for the dates of its year.
#[derive(Debug, Default, Clone, FromNode)]
#[serde(default)]
struct PlaceTable {
    name: String,
    site: SiteTable,
}

/// One of several hives in a file; what it leaves out is that of the file.
#[derive(Debug, Default, Clone, FromNode)]
#[serde(default)]
struct HiveTable {
    name: String,
    site: Option<SiteTable>,
    #[serde(deserialize_with = "name_or_table")]
    bee: BeeOverrides,
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
    town: Option<String>,
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

/// What a place is called that has no name.
const NAMELESS: &str = "Hives";

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
    /// The name of the only hive.
    pub hive: Option<String>,
    /// Of each hive from which a colony is to be made.
    pub plans: Vec<PlanRequest>,
    /// The file lists its hives; answers are then lists as well.
    pub listed: bool,
    /// What the keeper can do, where plans are scheduled together.
    pub limits: Option<KeeperLimitOverrides>,
    /// The places of the file; where it lists none, that of the hives.
    pub places: Vec<DatedPlace>,
    input: &'a Input,
    source: Option<Source>,
    read: Vec<PathBuf>,
}

impl Asked<'_> {
    /// Adds the place to an error of the engine.
    pub fn told<T>(&self, answer: Result<T, Error>) -> Result<T, Problem> {
        answer.map_err(|error| placed(error, self.input, self.source.as_ref()))
    }

    /// What to look at again in the place, for answers that are no text.
    pub fn doubts(&self) -> impl Iterator<Item = String> {
        let doubts = place::doubts(&self.outlook.site);
        doubts.into_iter().map(|doubt| doubt.text())
    }

    /// For the files of the answer.
    pub fn writer(&self, force: bool) -> Writer<'_> {
        Writer {
            read: &self.read,
            force,
        }
    }

    /// The plans, where there must be one at least.
    pub fn plans_needed(&self) -> Result<&[PlanRequest], Problem> {
        if self.plans.is_empty() {
            return self.told(Err(Error::NotEnoughData {
                field: "method".to_owned(),
                given: "nothing".to_owned(),
                needed: format!(
                    "{}, as --method or in the [plan] table of the keeper's file",
                    method_names().join(", ")
                ),
            }));
        }
        Ok(&self.plans)
    }

    /// What the place of the hives is called.
    pub fn place_name(&self) -> &str {
        let mut places = self.places.iter();
        let here = places.find(|place| place.site == self.outlook.site);
        here.map_or(NAMELESS, |place| &place.name)
    }

    /// The plans: those of several hives together.
    pub fn planned(&self) -> Result<Vec<Plan>, Problem> {
        let plans = self.plans_needed()?;
        match &self.limits {
            Some(limits) => {
                let request = TogetherRequest::new(plans).with_limits(limits.clone());
                Ok(self.told(plans_together(&request))?.plans)
            }
            None => plans.iter().map(|one| self.told(plan(one))).collect(),
        }
    }

    /// The plan requests, those of several hives with the dates that they have together.
    pub fn plans_as_scheduled(&self) -> Result<Vec<PlanRequest>, Problem> {
        let mut plans = self.plans_needed()?.to_vec();
        if self.limits.is_some() {
            for (request, plan) in plans.iter_mut().zip(self.planned()?) {
                request.announced = plan.announced();
            }
        }
        Ok(plans)
    }

    /// The plan of the hive with this name; without a name that of the only one.
    pub fn plan_of(&self, hive: Option<&str>) -> Result<&PlanRequest, Problem> {
        let plans = self.plans_needed()?;
        let is = |plan: &&PlanRequest| hive.is_none_or(|name| plan.colony.name == name);
        let mut found = plans.iter().filter(is);
        if let (Some(plan), None) = (found.next(), found.next()) {
            return Ok(plan);
        }
        let names: Vec<_> = plans.iter().map(|plan| plan.colony.name.as_str()).collect();
        let (field, names) = ("--hive".to_owned(), names.join(", "));
        self.told(Err(match hive {
            Some(name) => Error::UnknownName {
                field,
                given: name.to_owned(),
                allowed: names,
            },
            None => Error::NotEnoughData {
                field,
                given: "nothing".to_owned(),
                needed: format!("one of {names}"),
            },
        }))
    }
}

/// Reads the file, if any, and lays the arguments over it. `said` takes how files were read.
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
                text: text_of(path, &mut read, said)?,
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
    if is_nowhere(input, keeper.site.as_ref()) {
        return Err(Problem::NoPlace);
    }
    let site = site(input, &keeper.site.clone().unwrap_or_default()).map_err(placed)?;
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
    match text_file(
        base(&input.normals, &keeper.climate.normals),
        &mut read,
        said,
    )? {
        Some(months) if !is_table_of_months(&months.text) => {
            let pasted = MonthlyNormals::from_paste(&months.file, &months.text).map_err(placed)?;
            climate.normals = Some(pasted);
        }
        table => climate.normals_csv = table,
    }
    climate.records_csv = text_file(
        base(&input.records, &keeper.climate.records),
        &mut read,
        said,
    )?;
    for path in &keeper.climate.hours {
        climate
            .hours_files
            .extend(text_file(Some(folder.join(path)), &mut read, said)?);
    }
    if let Some(TextFile { file, text, .. }) = text_file(forecast, &mut read, said)? {
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
    if !keeper.hives.is_empty() && (keeper.plan.is_some() || keeper.hive.is_some()) {
        return Err(placed(Error::Inconsistent {
            field: "hives".to_owned(),
            problem: "with [[hives]] each hive has its own name and plan; `hive` and [plan] are for a file of \
                      one hive"
                .to_owned(),
        }));
    }
    let (club, person) = (keeper.club.clone(), keeper.keeper.clone());
    let names = [
        keeper.club,
        keeper.keeper,
        keeper.hive.clone().map(|hive| format!("hive {hive}")),
    ];
    let mut request = OutlookRequest::new(site, today)
        .with_bee(bee)
        .with_climate(climate)
        .with_season(keeper.season)
        .with_free_weekdays(keeper.free_weekdays)
        .with_settings(keeper.settings);
    request.mornings = extra.mornings.or(keeper.mornings);
    request.hive_weight_kg = keeper.hive_weight_kg;
    // While this morning's dawn lasts it is the first of them.
    if input.today.is_none() && keeper.today.is_none() {
        request.now = Some(in_zone(now, site.zone));
    }
    let named = club.as_deref().or(keeper.hive.as_deref());
    let places = dated_places(&keeper.places, named, &request).map_err(placed)?;
    let listed = !keeper.hives.is_empty();
    let hives = if listed {
        keeper.hives
    } else {
        vec![HiveTable {
            name: keeper
                .hive
                .clone()
                .unwrap_or_else(|| "the colony".to_owned()),
            plan: Some(keeper.plan.unwrap_or_default()),
            ..HiveTable::default()
        }]
    };
    let mut plans: Vec<PlanRequest> = Vec::new();
    for hive in hives {
        if plans.iter().any(|plan| plan.colony.name == hive.name) {
            return Err(placed(Error::Inconsistent {
                field: "hives".to_owned(),
                problem: format!("two hives have the name {:?}", hive.name),
            }));
        }
        let plan = plan_request(input, extra, hive, &request).map_err(placed)?;
        plans.extend(plan.map(|mut plan| {
            plan.keeper.clone_from(&person);
            plan.club.clone_from(&club);
            plan
        }));
    }
    let several = (2..=MOST_TOGETHER).contains(&plans.len());
    Ok(Asked {
        hive: keeper.hive,
        limits: keeper
            .limits
            .or_else(|| several.then(KeeperLimitOverrides::default)),
        heading: Heading {
            names: names.into_iter().flatten().collect(),
        },
        outlook: request,
        plans,
        listed,
        places,
        input,
        source,
        read,
    })
}

/// The places of the file; where it lists none, that of the hives, which has their weather.
fn dated_places(
    tables: &[PlaceTable],
    named: Option<&str>,
    file: &OutlookRequest,
) -> Result<Vec<DatedPlace>, Error> {
    let with_rules = |place: DatedPlace| {
        place
            .with_bee(file.bee.clone())
            .with_season(file.season.clone())
    };
    if tables.is_empty() {
        let place = DatedPlace::new(named.unwrap_or(NAMELESS), file.site);
        return Ok(vec![with_rules(place.with_climate(file.climate.clone()))]);
    }
    let places = tables.iter().map(|table| {
        let at = site(&Input::default(), &table.site)?;
        Ok(with_rules(DatedPlace::new(table.name.clone(), at)))
    });
    places.collect()
}

/// The plan of a hive, where a method is named; what the hive does not say is that of the file.
fn plan_request(
    input: &Input,
    extra: &Extra,
    hive: HiveTable,
    file: &OutlookRequest,
) -> Result<Option<PlanRequest>, Error> {
    let Some(table) = hive.plan else {
        return Ok(None);
    };
    let named = extra.method.clone().map(MethodChoice::Named);
    let Some(method) = named.or(table.method) else {
        return Ok(None);
    };
    let mut colony = Colony::new(hive.name);
    colony.daughter_name = table.daughter_name;
    colony.net_weight_kg = table.net_weight_kg;
    colony.months_since_division = table.months_since_division;
    colony.strength = table.strength;
    let place = match &hive.site {
        Some(table) => site(&Input::default(), table)?,
        None => file.site,
    };
    let mut bee = hive.bee;
    if bee == BeeOverrides::default() {
        bee.clone_from(&file.bee);
    }
    if input.bee.is_some() {
        bee.based_on.clone_from(&input.bee);
    }
    let mut plan = PlanRequest::new(place, file.today, method, colony)
        .with_bee(bee)
        .with_climate(file.climate.clone())
        .with_settings(table.settings)
        .with_season(file.season.clone())
        .with_mornings(file.settings)
        .with_free_weekdays(file.free_weekdays.clone())
        .with_records(table.records);
    if matches!(plan.method, MethodChoice::Moved(_)) {
        plan.hive_weight_kg = file.hive_weight_kg;
    }
    if let Some(date) = table.wanted {
        plan.wanted = Some(parse_date("plan.wanted", &date)?);
    }
    Ok(Some(plan))
}

/// Nothing at all is said of the place.
fn is_nowhere(args: &Input, file: Option<&SiteTable>) -> bool {
    args.town.is_none()
        && args.latitude.is_none()
        && args.longitude.is_none()
        && file.is_none_or(|file| {
            file.town.is_none() && file.latitude_deg.is_none() && file.longitude_deg.is_none()
        })
}

fn site(args: &Input, file: &SiteTable) -> Result<Site, Error> {
    if let Some(site) = of_town(args, file)? {
        return site.with_horizon(file.east_horizon_deg, file.west_horizon_deg);
    }
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

/// The place of a town that is named, unless coordinates are given in its stead.
fn of_town(args: &Input, file: &SiteTable) -> Result<Option<Site>, Error> {
    let has_coordinates =
        |latitude: Option<f64>, longitude: Option<f64>| latitude.is_some() || longitude.is_some();
    let (name, elevation) = match (&args.town, &file.town) {
        (Some(name), _) => (name, args.elevation),
        (None, Some(_)) if has_coordinates(args.latitude, args.longitude) => return Ok(None),
        (None, Some(_)) if has_coordinates(file.latitude_deg, file.longitude_deg) => {
            return Err(Error::Inconsistent {
                field: "town, latitude_deg, longitude_deg".to_owned(),
                problem: "a town and coordinates are given; give one of them".to_owned(),
            });
        }
        (None, Some(name)) => (name, args.elevation.or(file.elevation_m)),
        (None, None) => return Ok(None),
    };
    let town = towns::one(TOWNS, name)?.site;
    let (latitude, longitude) = (town.latitude_deg.get(), town.longitude_deg.get());
    let zone = args
        .zone
        .as_deref()
        .or(file.zone.as_deref().filter(|_| args.town.is_none()));
    place::site(
        latitude,
        longitude,
        elevation,
        zone.unwrap_or(town.zone.name()),
    )
    .map(Some)
}

/// The table with a header; everything else is what was copied from a weather service's page.
fn is_table_of_months(text: &str) -> bool {
    text.trim_start_matches('\u{feff}')
        .trim_start()
        .starts_with("month")
        && text.contains("minimum_c")
}

/// `read` takes the path, `said` how it was read.
fn text_file(
    path: Option<PathBuf>,
    read: &mut Vec<PathBuf>,
    said: &mut Vec<String>,
) -> Result<Option<TextFile>, Problem> {
    path.map(|path| {
        let text = text_of(&path, read, said)?;
        Ok(TextFile::new(path.display().to_string(), text))
    })
    .transpose()
}
