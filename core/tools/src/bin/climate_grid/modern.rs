//! Reading modern daily and hourly records: the level and the spread of today.
//!
//! The files are gzipped CSV in one folder, with the columns read below. Several of their sources
//! may be used but not passed on; only the fields fitted to them go into the table.

use std::collections::{BTreeMap, HashMap};
use std::f64::consts::TAU;
use std::fs::File;
use std::path::Path;

use chrono::{Datelike, NaiveDate, NaiveDateTime, TimeDelta};
use csv::StringRecord;
use flate2::read::GzDecoder;

use crate::Failure;
use crate::linear::Symmetric;

/// A mean of 24 hours lies so far below that of minimum and maximum, °C.
const MEAN_OF_EXTREMES_ABOVE_24_H_C: f64 = 0.3;
/// Hours of a day that must be there.
const HOURS: usize = 22;
/// Harmonics of the year about which days stray.
const HARMONICS: usize = 3;
/// Places that stand in the list with the coordinates of another.
const MISPLACED: [&str; 3] = ["DAMASCUS", "BATON ROUGE", "DAYTONA BEACH"];

/// What a station is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Ten years of daily minima and maxima in Australia.
    Australia,
    /// Years of hours.
    Hourly,
    /// One year of hours, put together from typical months.
    TypicalYear,
    /// Eighteen years of daily means.
    City,
}

/// The days of one element at a station.
#[derive(Debug, Clone)]
pub struct Days {
    /// Means of the months, °C.
    pub mean_c: [f64; 12],
    /// Standard deviations of the months about three harmonics of the year, °C.
    pub sd_c: [f64; 12],
    /// The days of the months.
    pub values_c: [Vec<f64>; 12],
}

/// A modern station.
#[derive(Debug, Clone)]
pub struct Station {
    pub kind: Kind,
    pub latitude_deg: f64,
    pub longitude_deg: f64,
    pub elevation_m: f64,
    /// Smallest of some rings that touches the sea, km.
    pub sea_km: f64,
    /// Daily minima and maxima; not known for cities.
    pub extremes: Option<[Days; 2]>,
    /// Daily means of minimum and maximum.
    pub mean: Days,
}

type Series = BTreeMap<NaiveDate, f64>;

/// All stations of a folder.
pub fn read_stations(folder: &str) -> Result<Vec<Station>, Failure> {
    let folder = Path::new(folder);
    let mut stations = australia(folder)?;
    stations.extend(hourly(folder)?);
    stations.extend(cities(folder)?);
    Ok(stations)
}

/// The rows of a file and the places of its columns.
struct Table {
    columns: HashMap<String, usize>,
    rows: Vec<StringRecord>,
}

impl Table {
    fn read(folder: &Path, name: &str) -> Result<Self, Failure> {
        let file = folder.join(format!("{name}.csv.gz"));
        let open = File::open(&file).map_err(|e| format!("{}: {e}", file.display()))?;
        let mut reader = csv::Reader::from_reader(GzDecoder::new(open));
        let columns = reader
            .headers()?
            .iter()
            .enumerate()
            .map(|(i, name)| (name.to_owned(), i))
            .collect();
        let rows = reader.records().collect::<Result<_, _>>()?;
        Ok(Table { columns, rows })
    }

    fn text<'a>(&self, row: &'a StringRecord, column: &str) -> &'a str {
        let place = self.columns.get(column);
        place.and_then(|i| row.get(*i)).unwrap_or_default()
    }

    /// The number of a cell; `None` where it is empty or the column is missing.
    fn number(&self, row: &StringRecord, column: &str) -> Option<f64> {
        self.text(row, column).parse().ok()
    }

    fn needed(&self, row: &StringRecord, column: &str) -> Result<f64, Failure> {
        self.number(row, column)
            .ok_or_else(|| format!("no {column} in {row:?}").into())
    }
}

fn australia(folder: &Path) -> Result<Vec<Station>, Failure> {
    let days = Table::read(folder, "australia_daily")?;
    let mut extremes: HashMap<&str, [Series; 2]> = HashMap::new();
    for row in &days.rows {
        let date: NaiveDate = days.text(row, "date").parse()?;
        let both = extremes.entry(days.text(row, "station")).or_default();
        for (series, column) in both.iter_mut().zip(["minimum_c", "maximum_c"]) {
            if let Some(c) = days.number(row, column) {
                series.insert(date, c);
            }
        }
    }
    let list = Table::read(folder, "australia_stations")?;
    list.rows
        .iter()
        .map(|row| {
            let name = list.text(row, "station");
            let both = extremes.get(name).ok_or("a station has no days")?;
            let elevation_m = list.needed(row, "elevation_m_from_memory")?;
            with_extremes(&list, row, Kind::Australia, elevation_m, both)
        })
        .collect()
}

fn hourly(folder: &Path) -> Result<Vec<Station>, Failure> {
    let list = Table::read(folder, "hourly_sites")?;
    let mut hours: HashMap<String, Vec<(NaiveDateTime, f64, f64)>> = HashMap::new();
    for (file, site) in [
        ("hourly_saopaulo", "SaoPaulo"),
        ("hourly_recife", "Recife"),
        ("hourly_guangzhou", "Guangzhou"),
        ("hourly_usa_tmy3_1", ""),
        ("hourly_usa_tmy3_2", ""),
    ] {
        let table = Table::read(folder, file)?;
        for row in &table.rows {
            let text = table.text(row, "utc");
            let minutes = if text.len() == 13 { ":00" } else { "" };
            let utc = NaiveDateTime::parse_from_str(&format!("{text}{minutes}"), "%Y-%m-%dT%H:%M")?;
            let Some(c) = table.number(row, "temperature_c") else {
                continue;
            };
            let low = table.number(row, "minimum_of_past_hour_c").unwrap_or(c);
            let high = table.number(row, "maximum_of_past_hour_c").unwrap_or(c);
            let name = if site.is_empty() {
                table.text(row, "site")
            } else {
                site
            };
            hours
                .entry(name.to_owned())
                .or_default()
                .push((utc, low, high));
        }
    }
    list.rows
        .iter()
        .map(|row| {
            let name = list.text(row, "site");
            let hours = hours.get(name).ok_or("a site has no hours")?;
            let offset = TimeDelta::hours(list.needed(row, "utc_offset_h")? as i64);
            // The minimum of the 24 hours to 9 h, the maximum of those from it.
            let series = |shift: i64, value: fn(&(NaiveDateTime, f64, f64)) -> f64, sign: f64| {
                let mut days: BTreeMap<NaiveDate, (f64, usize)> = BTreeMap::new();
                for hour in hours {
                    let date = (hour.0 + offset + TimeDelta::hours(shift)).date();
                    let day = days.entry(date).or_insert((f64::INFINITY, 0));
                    *day = (day.0.min(sign * value(hour)), day.1 + 1);
                }
                days.into_iter()
                    .filter(|(_, (_, count))| *count >= HOURS)
                    .map(|(date, (least, _))| (date, sign * least))
                    .collect::<Series>()
            };
            let both = [series(14, |h| h.1, 1.0), series(-10, |h| h.2, -1.0)];
            let kind = if name.contains('-') {
                Kind::TypicalYear
            } else {
                Kind::Hourly
            };
            let elevation_m = list.needed(row, "elevation_m")?;
            with_extremes(&list, row, kind, elevation_m, &both)
        })
        .collect()
}

fn cities(folder: &Path) -> Result<Vec<Station>, Failure> {
    let list = Table::read(folder, "cities")?;
    let mut series: HashMap<String, Series> = HashMap::new();
    for file in ["cities_daily_mean_1", "cities_daily_mean_2"] {
        let table = Table::read(folder, file)?;
        for (name, column) in &table.columns {
            let days = series.entry(name.clone()).or_default();
            for row in table.rows.iter().filter(|_| name != "date") {
                let value = row.get(*column).and_then(|text| text.parse::<f64>().ok());
                if let Some(c) = value {
                    let date = table.text(row, "date").parse()?;
                    days.insert(date, c + MEAN_OF_EXTREMES_ABOVE_24_H_C);
                }
            }
        }
    }
    let mut stations = Vec::new();
    for row in &list.rows {
        let name = list.text(row, "city");
        if MISPLACED.contains(&name) {
            continue;
        }
        let days = series.get(name).ok_or("a city has no days")?;
        let mean = Days::new(days)?;
        let elevation_m = list.needed(row, "elevation_m")?;
        stations.push(station(&list, row, Kind::City, elevation_m, None, mean)?);
    }
    Ok(stations)
}

fn with_extremes(
    list: &Table,
    row: &StringRecord,
    kind: Kind,
    elevation_m: f64,
    [low, high]: &[Series; 2],
) -> Result<Station, Failure> {
    let means: Series = low
        .iter()
        .filter_map(|(date, low)| Some((*date, f64::midpoint(*low, *high.get(date)?))))
        .collect();
    let extremes = [Days::new(low)?, Days::new(high)?];
    let mut mean = Days::new(&means)?;
    // Days that lack one of the two must not shift the level.
    mean.mean_c =
        std::array::from_fn(|m| f64::midpoint(extremes[0].mean_c[m], extremes[1].mean_c[m]));
    station(list, row, kind, elevation_m, Some(extremes), mean)
}

fn station(
    list: &Table,
    row: &StringRecord,
    kind: Kind,
    elevation_m: f64,
    extremes: Option<[Days; 2]>,
    mean: Days,
) -> Result<Station, Failure> {
    Ok(Station {
        kind,
        latitude_deg: list.needed(row, "latitude_deg")?,
        longitude_deg: list.needed(row, "longitude_deg")?,
        elevation_m,
        sea_km: list.needed(row, "sea_within_km")?,
        extremes,
        mean,
    })
}

impl Days {
    fn new(series: &Series) -> Result<Self, Failure> {
        const NUMBERS: usize = 1 + 2 * HARMONICS;
        let terms = |date: &NaiveDate| -> [f64; NUMBERS] {
            let turn = TAU * (f64::from(date.ordinal()) - 0.5) / 365.25;
            std::array::from_fn(|number| {
                let order = number.div_ceil(2) as f64;
                if number % 2 == 0 && number > 0 {
                    (order * turn).sin()
                } else {
                    (order * turn).cos()
                }
            })
        };
        let mut right = vec![0.0; NUMBERS];
        let mut equations = Symmetric::new(NUMBERS);
        for (date, c) in series {
            let row = terms(date);
            for i in 0..NUMBERS {
                right[i] += row[i] * c;
                for j in 0..=i {
                    equations.add(i, j, row[i] * row[j]);
                }
            }
        }
        let found = equations.solve(&right)?;
        let mut values_c: [Vec<f64>; 12] = Default::default();
        let mut squares = [0.0; 12];
        for (date, c) in series {
            let month = date.month0() as usize;
            let expected: f64 = terms(date).iter().zip(&found).map(|(t, f)| t * f).sum();
            squares[month] += (c - expected).powi(2);
            values_c[month].push(*c);
        }
        let count = |m: usize| values_c[m].len() as f64;
        Ok(Days {
            mean_c: std::array::from_fn(|m| values_c[m].iter().sum::<f64>() / count(m)),
            sd_c: std::array::from_fn(|m| (squares[m] / (count(m) - 1.0)).sqrt()),
            values_c,
        })
    }

    /// Share of the days of a month at or above a threshold.
    pub fn share_from(&self, month: usize, threshold_c: f64) -> f64 {
        let days = &self.values_c[month];
        days.iter().filter(|c| **c >= threshold_c).count() as f64 / days.len() as f64
    }
}
