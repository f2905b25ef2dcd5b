//! How far off the table is, against places left out.

use apiary_almanac::climate::grid::{GridClimate, WarmSeason, Warming, warm_season};

use crate::Failure;
use crate::fit::{LocalErrors, World};
use crate::input::{Place, distance_km};

/// Parts the places are divided into; each is left out once.
const FOLDS: usize = 5;
/// Error of a year at which a place is taken for a blunder, °C.
const BLUNDER_C: f64 = 5.0;
/// Threshold of the season's dates, °C.
const SEASON_C: f64 = 18.0;

/// What a table that has not seen a place says of it.
pub struct LeftOut {
    pub known: GridClimate,
    pub unknown: GridClimate,
    pub km_from_sea: f64,
}

/// For every place what a table fitted without its fold says; `None` off the grid. Blunders are
/// asked but not used.
pub fn leave_out(world: &World, places: &[Place]) -> Result<Vec<Option<LeftOut>>, Failure> {
    let first = leave_out_once(world, places, &vec![true; places.len()])?;
    leave_out_once(world, places, &is_credible(places, &first))
}

/// Whether a place is not so far from what its neighbours say that one of its numbers, the elevation
/// or a temperature, must be wrong.
pub fn is_credible(places: &[Place], answers: &[Option<LeftOut>]) -> Vec<bool> {
    places
        .iter()
        .zip(answers)
        .map(|(place, answer)| {
            answer.as_ref().is_none_or(|answer| {
                square_error(&answer.known, place) / 24.0 < BLUNDER_C * BLUNDER_C
            })
        })
        .collect()
}

fn leave_out_once(
    world: &World,
    places: &[Place],
    usable: &[bool],
) -> Result<Vec<Option<LeftOut>>, Failure> {
    let mut answers: Vec<Option<LeftOut>> = places.iter().map(|_| None).collect();
    for fold in 0..FOLDS {
        let used: Vec<_> = places
            .iter()
            .zip(usable)
            .filter(|(place, usable)| place.fold != fold && **usable)
            .map(|(place, _)| place.clone())
            .collect();
        let table = world.table(&used, None)?;
        for (place, answer) in places.iter().zip(&mut answers) {
            if place.fold != fold {
                continue;
            }
            let climate = |elevation| {
                let (latitude, longitude) = (place.latitude_deg, place.longitude_deg);
                let point = table.at(latitude, longitude, elevation)?;
                Some(GridClimate::from_point(
                    &point,
                    latitude,
                    elevation,
                    Some(Warming::NONE),
                ))
            };
            *answer =
                climate(Some(place.elevation_m))
                    .zip(climate(None))
                    .map(|(known, unknown)| LeftOut {
                        known,
                        unknown,
                        km_from_sea: world.km_from_sea(place),
                    });
        }
    }
    Ok(answers)
}

/// Sum of the squares of the 24 monthly errors, °C².
fn square_error(climate: &GridClimate, place: &Place) -> f64 {
    errors(climate, place, 0)
        .chain(errors(climate, place, 1))
        .map(|e| e * e)
        .sum()
}

/// Monthly errors of minimum (0) or maximum (1).
fn errors<'a>(
    climate: &'a GridClimate,
    place: &'a Place,
    element: usize,
) -> impl Iterator<Item = f64> + 'a {
    let found = if element == 0 {
        &climate.minimum_c
    } else {
        &climate.maximum_c
    };
    found
        .iter()
        .zip(&place.months[element])
        .map(|(found, right)| found - right)
}

/// For every node the error of the places around it, drawn towards the error of all.
pub fn local_errors(world: &World, places: &[Place], answers: &[Option<LeftOut>]) -> LocalErrors {
    const NEIGHBOURS: usize = 24;
    const PRIOR_WEIGHT: f64 = 6.0;
    // Blunders in the data must not stand for a region: squares are cut at 4 °C.
    let cut = |square: f64| (square / 24.0).min(16.0);
    let squares: Vec<(&Place, [f64; 2])> = places
        .iter()
        .zip(answers)
        .filter(|(place, _)| place.elevation_is_known())
        .filter_map(|(place, answer)| {
            let answer = answer.as_ref()?;
            let both = [&answer.known, &answer.unknown];
            Some((place, both.map(|climate| cut(square_error(climate, place)))))
        })
        .collect();
    let count = squares.len().max(1) as f64;
    let all = [0, 1].map(|i| squares.iter().map(|(_, s)| s[i]).sum::<f64>() / count);
    world
        .nodes
        .iter()
        .map(|node| {
            let mut near: Vec<(f64, [f64; 2])> = squares
                .iter()
                .map(|(place, s)| (distance_km(&node.on_sphere, &place.on_sphere), *s))
                .collect();
            near.select_nth_unstable_by(NEIGHBOURS, |a, b| a.0.total_cmp(&b.0));
            near.truncate(NEIGHBOURS);
            near.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut total = PRIOR_WEIGHT;
            let mut sum = all.map(|s| s * PRIOR_WEIGHT);
            for (km, square) in near {
                let weight = 1.0 / (1.0 + (km / 300.0).powi(2));
                total += weight;
                sum = [0, 1].map(|i| sum[i] + weight * square[i]);
            }
            sum.map(|sum| (sum / total).sqrt())
        })
        .collect()
}

/// Prints the tables of the documentation.
pub fn print(world: &World, places: &[Place], answers: &[Option<LeftOut>]) {
    let rows: Vec<(&Place, &LeftOut)> = places
        .iter()
        .zip(answers)
        .filter(|(place, _)| place.latitude_deg.abs() <= 45.0)
        .filter_map(|(place, answer)| Some((place, answer.as_ref()?)))
        .collect();
    let known: Vec<_> = rows
        .iter()
        .filter(|(p, _)| p.elevation_is_known())
        .copied()
        .collect();
    println!(
        "{} nodes, {} places left out in turn\n",
        world.nodes.len(),
        rows.len()
    );

    println!(
        "| places | n | RMS min | RMS max | p95 min | p95 max | worst min | worst max | mean min | mean max |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|");
    let temperature = |name: &str, rows: &[(&Place, &LeftOut)], elevation: bool| {
        if rows.is_empty() {
            return;
        }
        let of = |element: usize| {
            let signed: Vec<f64> = rows
                .iter()
                .flat_map(|(place, answer)| {
                    let climate = if elevation {
                        &answer.known
                    } else {
                        &answer.unknown
                    };
                    errors(climate, place, element)
                })
                .collect();
            let mut all: Vec<f64> = signed.iter().map(|e| e.abs()).collect();
            all.sort_by(f64::total_cmp);
            let rms = (all.iter().map(|e| e * e).sum::<f64>() / all.len() as f64).sqrt();
            [
                rms,
                quantile(&all, 0.95),
                all.last().copied().unwrap_or_default(),
                signed.iter().sum::<f64>() / signed.len() as f64,
            ]
        };
        let (low, high) = (of(0), of(1));
        println!(
            "| {name} | {} | {:.2} | {:.2} | {:.1} | {:.1} | {:.1} | {:.1} | {:+.2} | {:+.2} |",
            rows.len(),
            low[0],
            high[0],
            low[1],
            high[1],
            low[2],
            high[2],
            low[3],
            high[3],
        );
    };
    let select = |rows: &[(&'static str, Selector)]| {
        for (name, keep) in rows {
            let some: Vec<_> = known.iter().filter(|(p, a)| keep(p, a)).copied().collect();
            temperature(name, &some, true);
        }
    };
    print_comparison(&known);
    temperature("all, elevation as found", &rows, true);
    temperature("elevation known to 300 m", &known, true);
    temperature("same, elevation not given", &known, false);
    select(&[
        ("within 40° of the equator", |p, _| {
            p.latitude_deg.abs() <= 40.0
        }),
        ("30–45° N", |p, _| p.latitude_deg >= 30.0),
        ("15–30° N", |p, _| (15.0..30.0).contains(&p.latitude_deg)),
        ("0–15° N", |p, _| (0.0..15.0).contains(&p.latitude_deg)),
        ("0–15° S", |p, _| (-15.0..0.0).contains(&p.latitude_deg)),
        ("15–30° S", |p, _| {
            (-30.0..-15.0).contains(&p.latitude_deg)
        }),
        ("30–45° S", |p, _| p.latitude_deg < -30.0),
        ("below 200 m", |p, _| p.elevation_m < 200.0),
        ("200–500 m", |p, _| {
            (200.0..500.0).contains(&p.elevation_m)
        }),
        ("500–1,000 m", |p, _| {
            (500.0..1000.0).contains(&p.elevation_m)
        }),
        ("1,000–2,000 m", |p, _| {
            (1000.0..2000.0).contains(&p.elevation_m)
        }),
        ("above 2,000 m", |p, _| p.elevation_m >= 2000.0),
        ("within 10 km of the sea", |_, a| a.km_from_sea < 10.0),
        ("within 25 km of the sea", |_, a| a.km_from_sea < 25.0),
        ("the same, within 40° of the equator", |p, a| {
            p.latitude_deg.abs() <= 40.0 && a.km_from_sea < 25.0
        }),
        ("over 100 km from the sea", |_, a| a.km_from_sea > 100.0),
    ]);

    println!("\nRain and wet days, all places:\n");
    let (mut wrong, mut right, mut wrong_days, mut days, mut bias) = (0.0, 0.0, 0.0, 0.0, 0.0);
    let mut year: Vec<f64> = Vec::new();
    for (place, answer) in &rows {
        let pairs = |found: &[f64; 12], element: usize| -> Vec<(f64, f64)> {
            found.iter().copied().zip(place.months[element]).collect()
        };
        let rain = pairs(&answer.known.rain_mm, 2);
        wrong += rain.iter().map(|(a, b)| (a - b).abs()).sum::<f64>();
        bias += rain.iter().map(|(a, b)| a - b).sum::<f64>();
        right += rain.iter().map(|(_, b)| b).sum::<f64>();
        let wet = pairs(&answer.known.wet_days, 3);
        wrong_days += wet.iter().map(|(a, b)| (a - b).abs()).sum::<f64>();
        days += wet.iter().map(|(_, b)| b).sum::<f64>();
        let total = |of: fn(&(f64, f64)) -> f64| rain.iter().map(of).sum::<f64>();
        year.push((total(|p| p.0) / total(|p| p.1).max(50.0) - 1.0).abs());
    }
    year.sort_by(f64::total_cmp);
    println!(
        "monthly rain: mean absolute error {:.0} % of the mean, bias {:+.1} %; yearly rain: median \
         error {:.0} %, p90 {:.0} %; wet days: mean absolute error {:.1} d a month ({:.0} %)",
        100.0 * wrong / right,
        100.0 * bias / right,
        100.0 * quantile(&year, 0.5),
        100.0 * quantile(&year, 0.9),
        wrong_days / (12.0 * rows.len() as f64),
        100.0 * wrong_days / days,
    );

    println!("\nSeason (mean at or above {SEASON_C} °C), days off the station's own normals:\n");
    println!(
        "| places | n with a season | opening median | p80 | p90 | closing median | p80 | p90 | other kind of year |"
    );
    println!("|---|---|---|---|---|---|---|---|---|");
    let dates = |name: &str, rows: &[(&Place, &LeftOut)]| {
        let (mut opening, mut closing, mut other) = (Vec::new(), Vec::new(), 0);
        for (place, answer) in rows {
            let mean: [f64; 12] =
                std::array::from_fn(|m| f64::midpoint(place.months[0][m], place.months[1][m]));
            let own = warm_season(&mean, SEASON_C);
            let found = answer.known.warm_season(SEASON_C);
            match (bounds(own), bounds(found)) {
                (Some(own), Some(found)) => {
                    opening.push(days_apart(own.0, found.0));
                    closing.push(days_apart(own.1, found.1));
                }
                (None, None) if own.days == found.days => {}
                _ => other += 1,
            }
        }
        opening.sort_by(f64::total_cmp);
        closing.sort_by(f64::total_cmp);
        println!(
            "| {name} | {} | {:.0} | {:.0} | {:.0} | {:.0} | {:.0} | {:.0} | {:.1} % |",
            opening.len(),
            quantile(&opening, 0.5),
            quantile(&opening, 0.8),
            quantile(&opening, 0.9),
            quantile(&closing, 0.5),
            quantile(&closing, 0.8),
            quantile(&closing, 0.9),
            100.0 * f64::from(other) / rows.len() as f64,
        );
    };
    let bands: [(&str, Selector); 11] = [
        ("all", |_, _| true),
        ("30–45° N", |p, _| p.latitude_deg >= 30.0),
        ("15–30° N", |p, _| (15.0..30.0).contains(&p.latitude_deg)),
        ("0–15° N", |p, _| (0.0..15.0).contains(&p.latitude_deg)),
        ("0–15° S", |p, _| (-15.0..0.0).contains(&p.latitude_deg)),
        ("15–30° S", |p, _| {
            (-30.0..-15.0).contains(&p.latitude_deg)
        }),
        ("30–45° S", |p, _| p.latitude_deg < -30.0),
        ("below 500 m", |p, _| p.elevation_m < 500.0),
        ("500–1,000 m", |p, _| {
            (500.0..1000.0).contains(&p.elevation_m)
        }),
        ("above 1,000 m", |p, _| p.elevation_m >= 1000.0),
        ("within 25 km of the sea", |_, a| a.km_from_sea < 25.0),
    ];
    for (name, keep) in bands {
        let some: Vec<_> = known.iter().filter(|(p, a)| keep(p, a)).copied().collect();
        dates(name, &some);
    }
    print_calibration(world, places, answers, &known);
}

/// What a simple method does with the same places: the mean of the eight nearest places of the other
/// folds, weighted by distance, with fixed rates for height.
fn print_comparison(known: &[(&Place, &LeftOut)]) {
    const RATES_PER_KM: [f64; 2] = [5.7, 5.1];
    let mut all = [[0.0; 2]; 2];
    let mut counts = [0.0; 2];
    for (place, answer) in known {
        if place.latitude_deg.abs() > 40.0 {
            continue;
        }
        let mut near: Vec<(f64, &Place)> = known
            .iter()
            .filter(|(other, _)| other.fold != place.fold)
            .map(|(other, _)| (distance_km(&place.on_sphere, &other.on_sphere), *other))
            .collect();
        near.select_nth_unstable_by(8, |a, b| a.0.total_cmp(&b.0));
        near.truncate(8);
        let weight = |km: f64| 1.0 / (km + 20.0).powi(2);
        let total: f64 = near.iter().map(|(km, _)| weight(*km)).sum();
        let at_sea = answer.km_from_sea < 25.0;
        for (element, rate) in RATES_PER_KM.into_iter().enumerate() {
            for month in 0..12 {
                let found: f64 = near
                    .iter()
                    .map(|(km, other)| {
                        let higher_km = (other.elevation_m - place.elevation_m) / 1000.0;
                        weight(*km) * (other.months[element][month] + rate * higher_km)
                    })
                    .sum();
                let error = found / total - place.months[element][month];
                all[0][element] += error * error;
                all[1][element] += if at_sea { error * error } else { 0.0 };
            }
        }
        counts[0] += 12.0;
        counts[1] += if at_sea { 12.0 } else { 0.0 };
    }
    let rms = |group: usize, element: usize| f64::sqrt(all[group][element] / counts[group]);
    println!(
        "| *eight nearest places, fixed rates, within 40°* | {} | {:.2} | {:.2} |",
        counts[0] / 12.0,
        rms(0, 0),
        rms(0, 1)
    );
    println!(
        "| *the same, within 25 km of the sea* | {} | {:.2} | {:.2} |",
        counts[1] / 12.0,
        rms(1, 0),
        rms(1, 1)
    );
}

/// How often errors stay within the error that the table states.
fn print_calibration(
    world: &World,
    places: &[Place],
    answers: &[Option<LeftOut>],
    known: &[(&Place, &LeftOut)],
) {
    // The stated error of a fold is made from the residuals of the other folds.
    let (mut within_one, mut within_two, mut count) = (0, 0, 0);
    for fold in 0..FOLDS {
        let seen = |place: &Place| place.fold != fold;
        let some: Vec<Place> = places.iter().filter(|p| seen(p)).cloned().collect();
        let some_answers: Vec<Option<LeftOut>> = places
            .iter()
            .zip(answers)
            .filter(|(p, _)| seen(p))
            .map(|(_, a)| {
                a.as_ref().map(|a| LeftOut {
                    known: a.known,
                    unknown: a.unknown,
                    km_from_sea: a.km_from_sea,
                })
            })
            .collect();
        let stated = local_errors(world, &some, &some_answers);
        for (place, answer) in known.iter().filter(|(p, _)| p.fold == fold) {
            let nearest = world.nodes.iter().zip(&stated).min_by(|a, b| {
                distance_km(&a.0.on_sphere, &place.on_sphere)
                    .total_cmp(&distance_km(&b.0.on_sphere, &place.on_sphere))
            });
            let Some((_, [stated, _])) = nearest else {
                continue;
            };
            for error in errors(&answer.known, place, 0).chain(errors(&answer.known, place, 1)) {
                within_one += u32::from(error.abs() <= *stated);
                within_two += u32::from(error.abs() <= 2.0 * stated);
                count += 1;
            }
        }
    }
    println!(
        "\nStated error: {:.0} % of monthly values lie within it, {:.0} % within twice it.",
        100.0 * f64::from(within_one) / f64::from(count),
        100.0 * f64::from(within_two) / f64::from(count),
    );
}

type Selector = fn(&Place, &LeftOut) -> bool;

fn bounds(season: WarmSeason) -> Option<(f64, f64)> {
    season
        .first_day
        .zip(season.last_day)
        .map(|(a, b)| (f64::from(a), f64::from(b)))
}

/// Days between two days of the year, the shorter way round.
fn days_apart(a: f64, b: f64) -> f64 {
    let apart = (a - b).abs();
    apart.min(365.0 - apart)
}

/// Value below which a share of sorted values lies.
pub fn quantile(sorted: &[f64], share: f64) -> f64 {
    let last = sorted.len().saturating_sub(1);
    sorted
        .get((share * last as f64).round() as usize)
        .copied()
        .unwrap_or(f64::NAN)
}
