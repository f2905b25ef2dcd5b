//! Measures the course of a day against temperatures by the hour: when 18 °C is first reached, how many
//! hours bees can fly, and which cool days are flying days, with the day's true extremes given.
//!
//! ```text
//! cargo run --release -p apiary-almanac-tools --bin day_course -- SITES.csv [SITE=]HOURS.csv ...
//! ```
//!
//! `SITES.csv`: `site`, `latitude_deg`, `longitude_deg`, `elevation_m`. Each `HOURS.csv`: `utc`,
//! `temperature_c` and, where no `SITE=` stands before it, `site`. Prints a table in Markdown.

use std::collections::BTreeMap;
use std::process::ExitCode;

use apiary_almanac::climate::{AirOfPlace, DayCurve, DaySun, DayTemperatures, TemperatureSource};
use apiary_almanac::{Crossing, Ephemeris, Instant, Site};
use chrono::{NaiveDate, NaiveDateTime, TimeDelta};

type Failure = Box<dyn std::error::Error>;

const THRESHOLD_C: f64 = 18.0;
/// Sun of 15 W/m², the light limit of a small bee.
const LIGHT_DEG: f64 = 2.72;
const FLYING_DAY_H: f64 = 3.0;
const STEP: TimeDelta = TimeDelta::minutes(5);

/// Sums over the mornings and days of a place.
#[derive(Default, Clone, Copy)]
struct Sums {
    mornings: f64,
    off_min: f64,
    squares: f64,
    early_passed: f64,
    days: f64,
    said_h: f64,
    true_h: f64,
    cool_days: f64,
    called: f64,
    flown: f64,
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let done = match arguments.as_slice() {
        [sites, hours @ ..] if !hours.is_empty() => measure(sites, hours),
        _ => Err("give a table of sites and tables of hours (see the top of day_course.rs)".into()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("{failure}");
            ExitCode::FAILURE
        }
    }
}

fn measure(sites: &str, files: &[String]) -> Result<(), Failure> {
    let sites = read_sites(sites)?;
    let mut hours: BTreeMap<String, Vec<(Instant, f64)>> = BTreeMap::new();
    for file in files {
        read_hours(file, &mut hours)?;
    }
    println!(
        "| place | mornings | *usual* too late, min | RMS, min | *early* passed, % | hours said | true | \
         flying days of 18–22 °C said, % | true |"
    );
    println!("|---|---|---|---|---|---|---|---|---|");
    let mut all = Sums::default();
    for (name, mut readings) in hours {
        let site = sites.get(&name).ok_or_else(|| format!("no site {name}"))?;
        readings.sort_by_key(|(at, _)| *at);
        let sums = of_place(site, &readings)?;
        row(&name, &sums);
        all = all.plus(&sums);
    }
    row("all", &all);
    Ok(())
}

fn row(name: &str, of: &Sums) {
    println!(
        "| {name} | {:.0} | {:.1} | {:.1} | {:.1} | {:.2} | {:.2} | {:.1} | {:.1} |",
        of.mornings,
        of.off_min / of.mornings,
        (of.squares / of.mornings).sqrt(),
        100.0 * of.early_passed / of.mornings,
        of.said_h / of.days,
        of.true_h / of.days,
        100.0 * of.called / of.cool_days,
        100.0 * of.flown / of.cool_days,
    );
}

impl Sums {
    fn plus(&self, other: &Sums) -> Sums {
        Sums {
            mornings: self.mornings + other.mornings,
            off_min: self.off_min + other.off_min,
            squares: self.squares + other.squares,
            early_passed: self.early_passed + other.early_passed,
            days: self.days + other.days,
            said_h: self.said_h + other.said_h,
            true_h: self.true_h + other.true_h,
            cool_days: self.cool_days + other.cool_days,
            called: self.called + other.called,
            flown: self.flown + other.flown,
        }
    }
}

fn of_place(site: &Site, readings: &[(Instant, f64)]) -> Result<Sums, Failure> {
    let mut sums = Sums::default();
    let (Some(first), Some(last)) = (readings.first(), readings.last()) else {
        return Ok(sums);
    };
    let air = AirOfPlace::of(site);
    let mut date = first.0.date_naive() + TimeDelta::days(1);
    while date < last.0.date_naive() - TimeDelta::days(1) {
        add_day(site, air, readings, date, &mut sums)?;
        date += TimeDelta::days(1);
    }
    Ok(sums)
}

fn add_day(
    site: &Site,
    air: AirOfPlace,
    readings: &[(Instant, f64)],
    date: NaiveDate,
    sums: &mut Sums,
) -> Result<(), Failure> {
    let ephemeris = Ephemeris::with_neighbours(date, date)?;
    let noon = ephemeris.solar_noon(site, date)?;
    let sun = ephemeris.day(site, date)?.sun;
    let light = ephemeris.crossing(site, date, LIGHT_DEG)?;
    let (Some(rise), Some(set)) = (sun.rise(), sun.set()) else {
        return Ok(());
    };
    let Crossing::RisesAndSets {
        rise: light_from,
        set: light_until,
    } = light
    else {
        return Ok(());
    };
    let from = readings.partition_point(|(at, _)| *at < rise - TimeDelta::hours(3));
    let until = readings.partition_point(|(at, _)| *at <= set);
    let day = &readings[from.saturating_sub(1)..(until + 1).min(readings.len())];
    let whole = day
        .windows(2)
        .all(|pair| pair[1].0 - pair[0].0 <= TimeDelta::hours(1));
    if !whole || day.len() < 8 || day[0].0 > rise - TimeDelta::hours(2) {
        return Ok(());
    }
    let own = &readings[from..until];
    let minimum_c = own.iter().map(|(_, c)| *c).fold(f64::INFINITY, f64::min);
    let maximum_c = own
        .iter()
        .map(|(_, c)| *c)
        .fold(f64::NEG_INFINITY, f64::max);
    if maximum_c - minimum_c < 1.0 {
        return Ok(());
    }
    let temperatures = DayTemperatures {
        date,
        minimum_c,
        maximum_c,
        rain_mm: None,
        source: TemperatureSource::RecordedDay,
    };
    let day_sun = |shift: i64| DaySun {
        noon: noon + TimeDelta::days(shift),
        rise: Some(rise + TimeDelta::days(shift)),
        set: Some(set + TimeDelta::days(shift)),
    };
    let suns = [day_sun(-1), day_sun(0), day_sun(1)];
    let curve = DayCurve::new([&suns[0], &suns[1], &suns[2]], [&temperatures; 3], air);
    let steps = |from: Instant, until: Instant| {
        let count = (until - from).num_minutes() / STEP.num_minutes();
        (0..=count).map(move |step| from + STEP * step as i32)
    };
    let begin = rise - TimeDelta::hours(1);
    let warm = |at: &Instant| temperature_c(day, *at).is_some_and(|c| c >= THRESHOLD_C);
    let stretch = curve.stretch_at_or_above(THRESHOLD_C);
    let outer = curve.outer_stretch_at_or_above(THRESHOLD_C);
    if let (Some((usual, _)), Some((early, _))) = (stretch, outer)
        && minimum_c < THRESHOLD_C
        && !warm(&begin)
        && let Some(reached) = steps(begin, set).find(warm)
    {
        let off_min = (usual.max(begin) - reached).as_seconds_f64() / 60.0;
        sums.mornings += 1.0;
        sums.off_min += off_min;
        sums.squares += off_min * off_min;
        sums.early_passed += f64::from(early > reached);
    }
    let hours = |from: Instant, until: Instant| (until - from).as_seconds_f64().max(0.0) / 3600.0;
    let said_h = stretch.map_or(0.0, |(from, until)| {
        hours(from.max(light_from), until.min(light_until))
    });
    let true_h =
        steps(light_from, light_until).filter(warm).count() as f64 * STEP.as_seconds_f64() / 3600.0;
    sums.days += 1.0;
    sums.said_h += said_h;
    sums.true_h += true_h;
    if (18.0..22.0).contains(&maximum_c) {
        sums.cool_days += 1.0;
        sums.called += f64::from(said_h >= FLYING_DAY_H);
        sums.flown += f64::from(true_h >= FLYING_DAY_H);
    }
    Ok(())
}

fn temperature_c(day: &[(Instant, f64)], at: Instant) -> Option<f64> {
    let next = day.partition_point(|(known, _)| *known < at);
    let (after, after_c) = *day.get(next)?;
    let (before, before_c) = *day.get(next.checked_sub(1)?)?;
    let share = (at - before).as_seconds_f64() / (after - before).as_seconds_f64();
    Some(before_c + share * (after_c - before_c))
}

fn read_sites(file: &str) -> Result<BTreeMap<String, Site>, Failure> {
    let mut reader = csv::Reader::from_path(file)?;
    let column = columns(
        &mut reader,
        &["site", "latitude_deg", "longitude_deg", "elevation_m"],
    )?;
    let mut sites = BTreeMap::new();
    for row in reader.records() {
        let row = row?;
        let number = |which: usize| row[column[which]].parse::<f64>();
        let site = Site::new(number(1)?, number(2)?, number(3)?, "UTC")?;
        sites.insert(row[column[0]].to_owned(), site);
    }
    Ok(sites)
}

fn read_hours(
    argument: &str,
    hours: &mut BTreeMap<String, Vec<(Instant, f64)>>,
) -> Result<(), Failure> {
    let (site, file) = match argument.split_once('=') {
        Some((site, file)) => (Some(site), file),
        None => (None, argument),
    };
    let mut reader = csv::Reader::from_path(file)?;
    let mut names = vec!["utc", "temperature_c"];
    if site.is_none() {
        names.push("site");
    }
    let column = columns(&mut reader, &names)?;
    for row in reader.records() {
        let row = row?;
        let Ok(c) = row[column[1]].parse::<f64>() else {
            continue;
        };
        // Some tables leave the minutes out.
        let time = format!("{:0<16}", row[column[0]].to_owned() + ":00");
        let at = NaiveDateTime::parse_from_str(&time[..16], "%Y-%m-%dT%H:%M")?;
        let name = site
            .unwrap_or_else(|| &row[*column.last().unwrap_or(&0)])
            .to_owned();
        hours
            .entry(name)
            .or_default()
            .push((at.and_utc().fixed_offset(), c));
    }
    Ok(())
}

/// Where the named columns stand.
fn columns(reader: &mut csv::Reader<std::fs::File>, names: &[&str]) -> Result<Vec<usize>, Failure> {
    let headers = reader.headers()?.clone();
    let place = |name: &&str| {
        let found = headers.iter().position(|header| header == *name);
        found.ok_or_else(|| Failure::from(format!("no column {name}")))
    };
    names.iter().map(place).collect()
}
