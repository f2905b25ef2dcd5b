//! Speed of sunrise and sunset, beside two other libraries in the same run.
#![allow(missing_docs, clippy::unwrap_used)] // The macros of criterion make public items.

use std::hint::black_box;

use apiary_almanac::Site;
use apiary_almanac::sun::{Ephemeris, LEVEL_SUNRISE_ALTITUDE_DEG, SunLimit, crossing, sun_day};
use chrono::{NaiveDate, TimeZone, Utc};
use criterion::{BatchSize, Criterion, Throughput, criterion_group, criterion_main};

fn year() -> Vec<NaiveDate> {
    NaiveDate::from_ymd_opt(2026, 1, 1)
        .unwrap()
        .iter_days()
        .take(365)
        .collect()
}

fn site() -> Site {
    Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
}

/// Sites from 60° S to 60° N.
fn sites(count: usize) -> Vec<Site> {
    let zones = [
        "Australia/Brisbane",
        "Asia/Manila",
        "America/Sao_Paulo",
        "Europe/Rome",
    ];
    (0..count)
        .map(|i| {
            let latitude_deg = -60.0 + 120.0 * (i as f64 * 0.618).fract();
            let longitude_deg = -180.0 + 360.0 * (i as f64 * 0.414).fract();
            Site::new(latitude_deg, longitude_deg, 0.0, zones[i % zones.len()]).unwrap()
        })
        .collect()
}

/// One rise and one set, one date after another through a year.
fn pair(c: &mut Criterion) {
    let mut group = c.benchmark_group("pair");
    let (site, dates) = (site(), year());
    let ephemeris = Ephemeris::covering(dates[0], dates[364]).unwrap();
    let mut next = dates.iter().cycle().copied();
    let mut date = move || black_box(next.next().unwrap());

    group.throughput(Throughput::Elements(365));
    group.bench_function("365 pairs, table cached, columns", |b| {
        b.iter(|| {
            ephemeris
                .crossings(black_box(&site), &dates, SunLimit::Sun)
                .unwrap()
        });
    });
    group.throughput(Throughput::Elements(1));
    group.bench_function("table cached, with zone and offsets", |b| {
        b.iter(|| {
            ephemeris
                .crossing(&site, date(), LEVEL_SUNRISE_ALTITUDE_DEG)
                .unwrap()
        });
    });
    group.bench_function("cold, with zone and offsets", |b| {
        b.iter(|| crossing(&site, date(), LEVEL_SUNRISE_ALTITUDE_DEG).unwrap());
    });
    group.bench_function("cold, sun and three twilights", |b| {
        b.iter(|| sun_day(&site, date()).unwrap());
    });
    group.bench_function("civil noon of a date", |b| {
        b.iter(|| apiary_almanac::civil::civil_noon(date(), site.zone).unwrap());
    });
    group.bench_function("sunrise 3.0, UTC", |b| {
        use sunrise::{Coordinates, SolarDay, SolarEvent};
        let place = Coordinates::new(-28.81, 153.28).unwrap();
        b.iter(|| {
            let day = SolarDay::new(black_box(place), date());
            (
                day.event_time(SolarEvent::Sunrise),
                day.event_time(SolarEvent::Sunset),
            )
        });
    });
    group.bench_function("solar-positioning 0.7, UTC", |b| {
        use solar_positioning::{Horizon, Location, SolarEvents};
        let place = Location {
            latitude: -28.81,
            longitude: 153.28,
        };
        let events = SolarEvents::new();
        b.iter(|| {
            let noon = Utc.from_utc_datetime(&date().and_hms_opt(1, 47, 0).unwrap());
            let half = chrono::TimeDelta::hours(12);
            let horizon = Horizon::SunriseSunset;
            let rise = events.next_rise(&(noon - half), &noon, black_box(place), 69.0, horizon);
            let set = events.next_set(&noon, &(noon + half), black_box(place), 69.0, horizon);
            (rise.unwrap(), set.unwrap())
        });
    });
    group.finish();
}

fn table(c: &mut Criterion) {
    let mut group = c.benchmark_group("table");
    let dates = year();
    group.throughput(Throughput::Elements(365));
    group.bench_function("built for 365 days", |b| {
        b.iter(|| Ephemeris::covering(black_box(dates[0]), dates[364]).unwrap());
    });
    group.finish();
}

fn whole_years(c: &mut Criterion) {
    let mut group = c.benchmark_group("years");
    let dates = year();
    group.throughput(Throughput::Elements(365));
    group.bench_function("sun and twilights of a year, cold", |b| {
        let site = site();
        b.iter(|| {
            let ephemeris = Ephemeris::covering(dates[0], dates[364]).unwrap();
            dates
                .iter()
                .map(|date| ephemeris.day(&site, *date).unwrap())
                .collect::<Vec<_>>()
        });
    });
    let sites = sites(1000);
    let ephemeris = Ephemeris::covering(dates[0], dates[364]).unwrap();
    group.sample_size(20);
    group.throughput(Throughput::Elements(365_000));
    group.bench_function("1000 sites x 365 dates, table cached", |b| {
        b.iter_batched(
            || (),
            |()| {
                ephemeris
                    .crossings_of_sites(&sites, &dates, SunLimit::Sun)
                    .unwrap()
            },
            BatchSize::LargeInput,
        );
    });
    group.finish();
}

criterion_group!(benches, pair, table, whole_years);
criterion_main!(benches);
