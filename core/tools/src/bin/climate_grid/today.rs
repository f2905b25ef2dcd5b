//! How far the table is off today's climate, at modern stations left out with all near them.

use apiary_almanac::climate::grid::{ClimateTable, PointFields, warm_season};
use apiary_almanac::normal::chance_at_or_above;

use crate::Failure;
use crate::evaluate::quantile;
use crate::fields::{Anchor, Kriging, anchors};
use crate::modern::{Kind, Station};

/// Threshold of the season's dates, °C.
const SEASON_C: f64 = 18.0;
/// Stations whose ring of the sea is no wider are of the shore, km.
const SHORE_KM: f64 = 25.0;

/// A station and what is said of it.
struct Row<'a> {
    anchor: &'a Anchor,
    fields: PointFields,
    typical_error_c: f64,
}

impl Row<'_> {
    /// Minimum (0) or maximum (1) of the months as answered, °C.
    fn answer(&self, element: usize, anchored: bool) -> [f64; 12] {
        let (base, add) = (&self.anchor.base_c[element], &self.fields.anchor_c[element]);
        std::array::from_fn(|m| base[m] + if anchored { add[m] } else { 0.0 })
    }

    fn mean(&self, anchored: bool) -> [f64; 12] {
        let (low, high) = (self.answer(0, anchored), self.answer(1, anchored));
        std::array::from_fn(|m| f64::midpoint(low[m], high[m]))
    }

    fn is_shore(&self) -> bool {
        self.anchor.station.sea_km <= SHORE_KM
    }

    fn kind(&self) -> Kind {
        self.anchor.station.kind
    }
}

/// Prints the tables of the documentation.
pub fn print(table: &ClimateTable, stations: Vec<Station>) -> Result<(), Failure> {
    let anchors = anchors(table, stations);
    let kriging = Kriging::new(&anchors);
    let mut rows = Vec::new();
    for anchor in &anchors {
        let station = &anchor.station;
        let (latitude, longitude) = (station.latitude_deg, station.longitude_deg);
        let Some(point) = table.at(latitude, longitude, Some(station.elevation_m)) else {
            continue;
        };
        // What the table says of errors holds the station itself: its distance to the next is put in.
        let km = kriging.km_to_station(&anchor.on_sphere, crate::fields::LEFT_OUT_WITHIN_KM);
        let nearest = kriging.km_to_station(&anchor.on_sphere, 0.0);
        let square = point.typical_error_c.powi(2) + far(km) - far(nearest);
        rows.push(Row {
            anchor,
            fields: kriging.without(anchor)?,
            typical_error_c: square.sqrt(),
        });
    }
    levels(&rows);
    openings(&rows);
    stated(&rows);
    spreads(&rows);
    Ok(())
}

/// What the distance to the nearest station adds to the square of the error.
fn far(km: f64) -> f64 {
    let error = |km| crate::fields::error_today_c(0.0, km);
    error(km).powi(2) - error(300.0).powi(2)
}

fn rms(errors: &[f64]) -> f64 {
    (errors.iter().map(|e| e * e).sum::<f64>() / errors.len() as f64).sqrt()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// Errors of the months of minimum or maximum.
fn errors(rows: &[&Row], element: usize, anchored: bool) -> Vec<f64> {
    let of = |row: &&Row| {
        let truth = row
            .anchor
            .station
            .extremes
            .as_ref()
            .map(|e| e[element].mean_c);
        let answer = row.answer(element, anchored);
        truth.map(|truth| std::array::from_fn::<f64, 12, _>(|m| answer[m] - truth[m]))
    };
    rows.iter().filter_map(of).flatten().collect()
}

fn mean_errors(rows: &[&Row], anchored: bool) -> Vec<f64> {
    let of = |row: &&Row| {
        let (answer, truth) = (row.mean(anchored), row.anchor.station.mean.mean_c);
        std::array::from_fn::<f64, 12, _>(|m| answer[m] - truth[m])
    };
    rows.iter().flat_map(of).collect()
}

fn choose<'a>(rows: &'a [Row<'a>], keep: impl Fn(&Row) -> bool) -> Vec<&'a Row<'a>> {
    rows.iter().filter(|row| keep(row)).collect()
}

fn levels(rows: &[Row]) {
    println!("Level of today, °C:\n");
    println!("| stations | n | | RMS min | RMS max | mean min | mean max |");
    println!("|---|---|---|---|---|---|---|");
    let known = |row: &Row| matches!(row.kind(), Kind::Australia | Kind::Hourly);
    for (name, some) in [
        ("minima and maxima known", choose(rows, known)),
        (
            "of these within 25 km of the sea",
            choose(rows, |r| known(r) && r.is_shore()),
        ),
        (
            "farther inland",
            choose(rows, |r| known(r) && !r.is_shore()),
        ),
    ] {
        for (anchored, words) in [(false, "1961–1990 and the warming"), (true, "today")] {
            let (low, high) = (errors(&some, 0, anchored), errors(&some, 1, anchored));
            println!(
                "| {name} | {} | {words} | {:.2} | {:.2} | {:+.2} | {:+.2} |",
                some.len(),
                rms(&low),
                rms(&high),
                mean(&low),
                mean(&high)
            );
        }
    }
    println!("\n| cities, mean of the day | n | | RMS | mean |\n|---|---|---|---|---|");
    let city = |row: &Row| row.kind() == Kind::City;
    for (name, some) in [
        ("all", choose(rows, city)),
        (
            "within 25 km of the sea",
            choose(rows, |r| city(r) && r.is_shore()),
        ),
        ("farther inland", choose(rows, |r| city(r) && !r.is_shore())),
    ] {
        for (anchored, words) in [(false, "1961–1990 and the warming"), (true, "today")] {
            let found = mean_errors(&some, anchored);
            println!(
                "| {name} | {} | {words} | {:.2} | {:+.2} |",
                some.len(),
                rms(&found),
                mean(&found)
            );
        }
    }
}

/// Days from one date of the year to another, −182 to 182.
fn apart(from: u16, to: u16) -> f64 {
    f64::from((i32::from(to) - i32::from(from) + 182).rem_euclid(365) - 182)
}

fn opening(mean_c: &[f64; 12], add_c: f64) -> Option<u16> {
    warm_season(&mean_c.map(|c| c + add_c), SEASON_C).first_day
}

fn openings(rows: &[Row]) {
    println!("\nOpening of the season at 18 °C, days off the records:\n");
    println!("| stations | | n | mean | median | p80 | within error_range |");
    println!("|---|---|---|---|---|---|---|");
    for (name, kind) in [("Australia", Kind::Australia), ("cities", Kind::City)] {
        for (anchored, words) in [(false, "1961–1990 and the warming"), (true, "today")] {
            let (mut off, mut inside) = (Vec::new(), 0);
            for row in rows.iter().filter(|row| row.kind() == kind) {
                let answer = row.mean(anchored);
                let truth = opening(&row.anchor.station.mean.mean_c, 0.0);
                let Some((found, truth)) = opening(&answer, 0.0).zip(truth) else {
                    continue;
                };
                let days = apart(truth, found);
                off.push(days);
                // A season that never closes or never comes has no date to be inside of.
                let of = |add| opening(&answer, add).map(|date| apart(truth, date));
                let warmer = of(row.typical_error_c).is_none_or(|days| days <= 0.5);
                let cooler = of(-row.typical_error_c).is_none_or(|days| days >= -0.5);
                inside += usize::from(warmer && cooler);
            }
            let mut size: Vec<f64> = off.iter().map(|d| d.abs()).collect();
            size.sort_by(f64::total_cmp);
            println!(
                "| {name} | {words} | {} | {:+.1} | {:.0} | {:.0} | {:.0} % |",
                off.len(),
                mean(&off),
                quantile(&size, 0.5),
                quantile(&size, 0.8),
                100.0 * inside as f64 / off.len() as f64
            );
        }
    }
}

fn stated(rows: &[Row]) {
    println!("\nThe stated error against today:\n");
    println!("| values | n | within typical_error_c | within p95_error_c |\n|---|---|---|---|");
    for element in 0..2 {
        let (mut n, mut typical, mut p95) = (0.0, 0.0, 0.0);
        for row in rows
            .iter()
            .filter(|row| matches!(row.kind(), Kind::Australia | Kind::Hourly))
        {
            for error in errors(&[row], element, true) {
                let of_typical = error.abs() / row.typical_error_c;
                n += 1.0;
                typical += f64::from(u8::from(of_typical <= 1.0));
                p95 += f64::from(u8::from(of_typical <= 2.0));
            }
        }
        println!(
            "| {} | {n} | {:.1} % | {:.1} % |",
            ["minima", "maxima"][element],
            100.0 * typical / n,
            100.0 * p95 / n
        );
    }
}

fn spreads(rows: &[Row]) {
    println!("\nStandard deviations of days, °C, and chances:\n");
    let known = choose(rows, |row| {
        matches!(row.kind(), Kind::Australia | Kind::Hourly)
    });
    for element in 0..2 {
        let off: Vec<f64> = known
            .iter()
            .filter_map(|row| {
                let truth = row.anchor.station.extremes.as_ref()?[element].sd_c;
                let found = row.fields.sd_c[element];
                Some(std::array::from_fn::<f64, 12, _>(|m| found[m] - truth[m]))
            })
            .flatten()
            .collect();
        let name = ["minima", "maxima"][element];
        println!(
            "sd of {name}: RMS {:.2}, mean {:+.2}",
            rms(&off),
            mean(&off)
        );
    }
    for threshold in [20.0, 35.0] {
        for (words, own_mean) in [("records' means", true), ("answered means", false)] {
            let off: Vec<f64> = known
                .iter()
                .filter_map(|row| {
                    let days = &row.anchor.station.extremes.as_ref()?[1];
                    let mean = if own_mean {
                        days.mean_c
                    } else {
                        row.answer(1, true)
                    };
                    Some(std::array::from_fn::<f64, 12, _>(|m| {
                        let chance = chance_at_or_above(threshold, mean[m], row.fields.sd_c[1][m]);
                        100.0 * (chance - days.share_from(m, threshold))
                    }))
                })
                .flatten()
                .collect();
            let size: Vec<f64> = off.iter().map(|e| e.abs()).collect();
            println!(
                "days of {threshold} °C and more, {words}: mean error {:+.1}, mean absolute {:.1} points",
                mean(&off),
                mean(&size)
            );
        }
    }
}
