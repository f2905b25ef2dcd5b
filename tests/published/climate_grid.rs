//! The built-in climate grid against places its table was not made from, and against published
//! normals of named places.
//!
//! `published/climate_grid_left_out.csv`: 290 cells of CRU CL 2.0 (New, Lister, Hulme & Makin 2002,
//! Climate Research 21:1–25; Climatic Research Unit, acknowledgement as in `core/data/README.md`),
//! every 25th cell that holds a station, left out when the table was made.
//! `published/climate_normals.csv`: values of national services and stations, each with its source
//! in its own line.
// Helpers outside of the test functions may stop the test as well.
#![allow(clippy::unwrap_used)]

use std::collections::{BTreeMap, BTreeSet};

use apiary_almanac::climate::grid::{self, GridClimate, Warming, at_with, warm_season};
use apiary_almanac::normal::chance_at_or_above;

/// One line of the left-out cells.
struct Cell {
    climate: GridClimate,
    minimum_c: [f64; 12],
    maximum_c: [f64; 12],
    rain_mm: [f64; 12],
    wet_days: [f64; 12],
}

fn left_out() -> Vec<Cell> {
    let text = include_str!("climate_grid_left_out.csv");
    let cells: Vec<Cell> = csv::Reader::from_reader(text.as_bytes())
        .deserialize::<Vec<f64>>()
        .map(|row| {
            let row = row.unwrap();
            let twelve = |first: usize| <[f64; 12]>::try_from(&row[first..first + 12]).unwrap();
            // The normals stand for a cell whose own elevation lies between the station's and the
            // map's.
            let elevation = f64::midpoint(row[2], row[3]);
            let climate = at_with(row[0], row[1], Some(elevation), Warming::NONE);
            Cell {
                climate: climate.unwrap(),
                minimum_c: twelve(4),
                maximum_c: twelve(16),
                rain_mm: twelve(28),
                wet_days: twelve(40),
            }
        })
        .collect();
    assert_eq!(cells.len(), 290);
    cells
}

fn errors<'a>(found: &'a [f64; 12], right: &'a [f64; 12]) -> impl Iterator<Item = f64> + 'a {
    found.iter().zip(right).map(|(found, right)| found - right)
}

fn root_mean_square(errors: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = errors.fold((0.0, 0.0), |(sum, count), e| (sum + e * e, count + 1.0));
    f64::sqrt(sum / count)
}

fn quantile(mut values: Vec<f64>, share: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    values[(share * (values.len() - 1) as f64).round() as usize]
}

/// The bounds are the figures of `docs/default-climate.md` for places whose elevation is known.
#[test]
fn temperatures_of_places_left_out() {
    let cells = left_out();
    let low = || {
        cells
            .iter()
            .flat_map(|c| errors(&c.climate.minimum_c, &c.minimum_c))
    };
    let high = || {
        cells
            .iter()
            .flat_map(|c| errors(&c.climate.maximum_c, &c.maximum_c))
    };
    let p95 = |all: Vec<f64>| quantile(all.into_iter().map(f64::abs).collect(), 0.95);
    let found = [
        root_mean_square(low()),
        root_mean_square(high()),
        p95(low().collect()),
        p95(high().collect()),
    ];
    for (found, published) in found.iter().zip([0.82, 0.81, 1.6, 1.6]) {
        assert!(*found <= published + 0.05, "{found:.3} against {published}");
    }
    let bias = [low().sum::<f64>(), high().sum::<f64>()].map(|sum| sum / (290.0 * 12.0));
    assert!(bias.iter().all(|bias| bias.abs() < 0.1), "{bias:?}");
}

#[test]
fn the_stated_error_holds() {
    let (mut within_one, mut within_two, mut all) = (0.0, 0.0, 0.0);
    for cell in left_out() {
        let stated = cell.climate.typical_error_c;
        let low = errors(&cell.climate.minimum_c, &cell.minimum_c);
        let high = errors(&cell.climate.maximum_c, &cell.maximum_c);
        for error in low.chain(high) {
            within_one += f64::from(u8::from(error.abs() <= stated));
            within_two += f64::from(u8::from(error.abs() <= 2.0 * stated));
            all += 1.0;
        }
    }
    assert!(within_one / all >= 0.68, "{}", within_one / all);
    assert!(within_two / all >= 0.93, "{}", within_two / all);
}

#[test]
fn rain_and_wet_days_of_places_left_out() {
    let cells = left_out();
    let share = |found: fn(&Cell) -> &[f64; 12], right: fn(&Cell) -> &[f64; 12]| {
        let wrong: f64 = cells
            .iter()
            .flat_map(|c| errors(found(c), right(c)))
            .map(f64::abs)
            .sum();
        wrong / cells.iter().flat_map(right).sum::<f64>()
    };
    let rain = share(|c| &c.climate.rain_mm, |c| &c.rain_mm);
    let wet = share(|c| &c.climate.wet_days, |c| &c.wet_days);
    assert!(rain <= 0.17, "{rain}");
    assert!(wet <= 0.09, "{wet}");
}

/// First and last day with a smoothed mean of 18 °C or more.
#[test]
fn season_of_places_left_out() {
    let (mut opening, mut closing, mut other_kind, mut all) = (vec![], vec![], 0, 0);
    for cell in left_out() {
        let mean: [f64; 12] =
            std::array::from_fn(|m| f64::midpoint(cell.minimum_c[m], cell.maximum_c[m]));
        let (own, found) = (warm_season(&mean, 18.0), cell.climate.warm_season(18.0));
        all += 1;
        let apart = |a: u16, b: u16| {
            let apart = f64::from(a.abs_diff(b));
            apart.min(365.0 - apart)
        };
        match (
            own.first_day.zip(own.last_day),
            found.first_day.zip(found.last_day),
        ) {
            (Some(own), Some(found)) => {
                opening.push(apart(own.0, found.0));
                closing.push(apart(own.1, found.1));
            }
            (None, None) if own.days == found.days => {}
            _ => other_kind += 1,
        }
    }
    assert!(opening.len() > 150, "{}", opening.len());
    let figures =
        [&opening, &closing].map(|days| [0.5, 0.8, 0.9].map(|share| quantile(days.clone(), share)));
    for (found, published) in figures.iter().zip([[2.0, 6.0, 10.0], [2.0, 5.0, 8.0]]) {
        for (found, published) in found.iter().zip(published) {
            assert!(*found <= published + 1.0, "{figures:?}");
        }
    }
    assert!(
        f64::from(other_kind) / f64::from(all) <= 0.04,
        "{other_kind} of {all}"
    );
}

#[derive(Debug, serde::Deserialize)]
struct Normal {
    place: String,
    country: String,
    setting: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    period: String,
    month: usize,
    minimum_c: Option<f64>,
    maximum_c: Option<f64>,
    source: String,
}

fn published_normals() -> BTreeMap<String, Vec<Normal>> {
    let text = include_str!("climate_normals.csv");
    let mut places: BTreeMap<String, Vec<Normal>> = BTreeMap::new();
    for row in csv::Reader::from_reader(text.as_bytes()).deserialize::<Normal>() {
        let row = row.unwrap();
        assert!(!row.source.is_empty() && !row.period.is_empty());
        places.entry(row.place.clone()).or_default().push(row);
    }
    places
}

/// Places whose stations are known to stand for less than their surroundings, with the share of the
/// stated error they are allowed. Hong Kong's observatory stands in the middle of the city: its
/// winter nights are 2 °C warmer than the countryside's that the grid knows.
const ODD_STATIONS: [(&str, f64); 1] = [("Hong Kong", 3.0)];

#[test]
fn named_places() {
    let places = published_normals();
    let countries: BTreeSet<&str> = places
        .values()
        .flatten()
        .map(|row| row.country.as_str())
        .collect();
    assert!(countries.len() >= 12, "{countries:?}");
    for setting in ["coast", "inland", "highland"] {
        assert!(
            places
                .values()
                .flatten()
                .any(|row| row.setting.contains(setting))
        );
    }
    let (mut within, mut all) = (0.0, 0.0);
    for (place, rows) in &places {
        let site = &rows[0];
        let (latitude, longitude) = (site.latitude_deg, site.longitude_deg);
        let elevation = Some(site.elevation_m);
        let found = match site.period.as_str() {
            "1991-2020" => grid::at(latitude, longitude, elevation),
            _ => at_with(latitude, longitude, elevation, Warming::NONE),
        };
        let found = found.unwrap_or_else(|| panic!("{place} is on land"));
        let differences = |row: &Normal| {
            let low = row
                .minimum_c
                .map(|right| found.minimum_c[row.month - 1] - right);
            let high = row
                .maximum_c
                .map(|right| found.maximum_c[row.month - 1] - right);
            [low, high]
        };
        let differences: Vec<f64> = rows.iter().flat_map(differences).flatten().collect();
        let stated = found.typical_error_c;
        within += differences
            .iter()
            .filter(|d| d.abs() <= 2.0 * stated)
            .count() as f64;
        all += differences.len() as f64;
        let odd = ODD_STATIONS.iter().find(|(name, _)| name == place);
        let allowed = stated * odd.map_or(2.0, |(_, times)| *times);
        let off = root_mean_square(differences.into_iter());
        assert!(
            off <= allowed,
            "{place}: {off:.2} °C off, {stated:.2} °C stated"
        );
    }
    assert!(
        within / all >= 0.9,
        "{within} of {all} within twice the stated error"
    );
}

/// Yearly rain, mm. Durban: South African Weather Service, 1961–1990. Nairobi: World Meteorological
/// Organization. The others: daily records in DSSAT climate files (EBAF, CCPA, UFGA, DTCM, ITHY,
/// BRJD).
#[test]
fn yearly_rain_of_named_places() {
    let published = [
        ("Durban", 1009.0),
        ("Nairobi", 1024.0),
        ("Goiania", 1493.0),
        ("Palmira", 902.0),
        ("Gainesville", 1300.0),
        ("Chiang Mai", 1226.0),
        ("Patancheru", 886.0),
        ("Gazipur", 2055.0),
    ];
    let places = published_normals();
    let mut off: Vec<f64> = Vec::new();
    for (place, right) in published {
        let site = &places[place][0];
        let found = grid::at(
            site.latitude_deg,
            site.longitude_deg,
            Some(site.elevation_m),
        );
        let rain: f64 = found.unwrap().rain_mm.iter().sum();
        off.push((rain / right - 1.0).abs());
    }
    // The documentation's figures against places left out: half within 6 %, nine in ten within 26 %.
    // Palmira lies in the rain shadow of a valley that one degree does not show.
    let within = |share: f64| off.iter().filter(|off| **off <= share).count();
    assert!(within(0.06) >= 4 && within(0.26) >= 7, "{off:?}");
}

#[test]
fn every_number_of_the_world_is_answered_or_refused() {
    for latitude in (-90..=90).step_by(5) {
        for longitude in (-180..=180).step_by(5) {
            for elevation in [None, Some(-500.0), Some(0.0), Some(9000.0)] {
                let (latitude, longitude) = (f64::from(latitude), f64::from(longitude));
                if let Some(climate) = grid::at(latitude, longitude, elevation) {
                    let spread = climate.spread();
                    for month in 0..12 {
                        assert!(climate.minimum_c[month] < climate.maximum_c[month]);
                        assert!((0.0..=31.0).contains(&climate.wet_days[month]));
                        assert!((0.0..2500.0).contains(&climate.rain_mm[month]));
                        assert!((0.5..=7.0).contains(&spread.minimum_sd_c[month]));
                        assert!((0.5..=7.0).contains(&spread.maximum_sd_c[month]));
                    }
                }
            }
        }
    }
}

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct Spread {
    #[serde(rename = "station")]
    _station: String,
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    #[serde(rename = "first_year")]
    _first_year: u16,
    #[serde(rename = "years")]
    _years: u16,
    month: usize,
    #[serde(rename = "maximum_c")]
    _maximum_c: f64,
    maximum_sd_c: f64,
    #[serde(rename = "minimum_c")]
    _minimum_c: f64,
    minimum_sd_c: f64,
    #[serde(rename = "source")]
    _source: String,
}

/// Monthly standard deviations of daily extremes at thirteen stations (DSSAT climate files, 3 to 49
/// years of daily records; maxima of wet and dry days joined into one distribution; coordinates of
/// BRJD, BGDP, DTCM and IBSI from memory). None of them took part in the fields.
#[test]
fn spread_of_the_days() {
    let text = include_str!("daily_spread.csv");
    let rows: Vec<Spread> = csv::Reader::from_reader(text.as_bytes())
        .deserialize()
        .map(Result::unwrap)
        .collect();
    assert_eq!(rows.len(), 13 * 12);
    let (mut low, mut high) = (Vec::new(), Vec::new());
    for row in &rows {
        let climate = at_with(
            row.latitude_deg,
            row.longitude_deg,
            Some(row.elevation_m),
            Warming::NONE,
        );
        let spread = climate.unwrap().spread();
        low.push(spread.minimum_sd_c[row.month - 1] - row.minimum_sd_c);
        high.push(spread.maximum_sd_c[row.month - 1] - row.maximum_sd_c);
    }
    for errors in [low, high] {
        let bias = errors.iter().sum::<f64>() / errors.len() as f64;
        let off = root_mean_square(errors.into_iter());
        assert!(off <= 0.75 && bias.abs() <= 0.3, "{off:.2} {bias:.2}");
    }
}

/// Spread of daily maxima about the normal, Bureau of Meteorology, 2007–2017: at three stations of the
/// tropical and subtropical coast between 1.2 and 2.8 °C in every month, at three inland 2.9–4.6 °C
/// over the year and, in the south, larger in summer than in winter.
#[test]
fn spread_on_the_coast_and_inland() {
    let monthly = |latitude, longitude, elevation| {
        let climate = grid::at(latitude, longitude, Some(elevation)).unwrap();
        climate.spread().maximum_sd_c
    };
    for (latitude, longitude, elevation) in [
        (-12.42, 130.89, 30.0),
        (-27.39, 153.13, 5.0),
        (-28.83, 153.56, 60.0),
    ] {
        let found = monthly(latitude, longitude, elevation);
        // To the tenth of a degree to which the range is given.
        let found = found.map(|sd| (10.0 * sd).round() / 10.0);
        let within = found.iter().all(|sd| (1.2..=2.8).contains(sd));
        assert!(within, "{latitude}: {found:.2?}");
    }
    for (latitude, longitude, elevation) in [
        (-23.8, 133.9, 546.0),
        (-29.5, 149.85, 214.0),
        (-35.16, 147.46, 212.0),
    ] {
        let months = monthly(latitude, longitude, elevation);
        let found = months.iter().sum::<f64>() / 12.0;
        assert!((2.9..=4.6).contains(&found), "{latitude}: {found:.2}");
        assert!(months[0] > months[6], "{latitude}: {months:.2?}");
    }
}

#[derive(serde::Deserialize)]
struct ModernDays {
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    month: usize,
    minimum_c: f64,
    maximum_c: f64,
    minimum_sd_c: f64,
    maximum_sd_c: f64,
    share_from_20_c: f64,
    share_from_35_c: f64,
}

/// Months of daily extremes of São Paulo and Recife (INMET, automatic stations A701 and A301,
/// highest and lowest of every hour) and of Guangzhou (UCI Machine Learning Repository, PM2.5 data of
/// five Chinese cities, hours of 2010 to 2015), worked out from their hours. They took part in the
/// fields, among 200 stations; how far the table is off stations left out is in
/// `docs/default-climate.md`.
#[test]
fn days_of_today() {
    let text = include_str!("modern_days.csv");
    let rows: Vec<ModernDays> = csv::Reader::from_reader(text.as_bytes())
        .deserialize()
        .map(Result::unwrap)
        .collect();
    assert_eq!(rows.len(), 36);
    let (mut level, mut spread, mut chances) = (Vec::new(), Vec::new(), Vec::new());
    for row in &rows {
        let found = grid::at(row.latitude_deg, row.longitude_deg, Some(row.elevation_m)).unwrap();
        let m = row.month - 1;
        for off in [
            found.minimum_c[m] - row.minimum_c,
            found.maximum_c[m] - row.maximum_c,
        ] {
            level.push(off / found.typical_error_c);
        }
        let days = found.spread();
        spread.push(days.minimum_sd_c[m] - row.minimum_sd_c);
        spread.push(days.maximum_sd_c[m] - row.maximum_sd_c);
        for (threshold, share) in [(20.0, row.share_from_20_c), (35.0, row.share_from_35_c)] {
            let chance = chance_at_or_above(threshold, found.maximum_c[m], days.maximum_sd_c[m]);
            chances.push((chance - share).abs());
        }
    }
    let within = level.iter().filter(|off| off.abs() <= 2.0).count();
    assert!(
        within * 100 >= 92 * level.len(),
        "{within} of {}",
        level.len()
    );
    let off = root_mean_square(spread.into_iter());
    assert!(off <= 1.0, "{off:.2}");
    let mean = chances.iter().sum::<f64>() / chances.len() as f64;
    assert!(mean <= 0.07, "{mean:.3}");
}
