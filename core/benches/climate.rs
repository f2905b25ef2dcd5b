//! How long the climate takes: reading, looking up, and the curve of a day.
#![allow(missing_docs, clippy::unwrap_used)]

use std::hint::black_box;

use apiary_almanac::climate::{
    AirOfPlace, Climate, DailyRecords, DayCurve, DaySun, LocationDefault, MonthlyNormals,
};
use apiary_almanac::thermal::{DayShape, DegreeDays};
use apiary_almanac::{Elevation, Instant, Latitude};
use chrono::{Datelike, NaiveDate, TimeDelta};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};

/// Thirty years of days, each a little different.
fn thirty_years() -> String {
    let mut text = String::from("date,minimum_c,maximum_c,rain_mm,wind_m_s\n");
    let first = NaiveDate::from_ymd_opt(1991, 1, 1).unwrap();
    for date in first.iter_days().take_while(|date| date.year() < 2021) {
        let day = date.ordinal() % 97;
        text += &format!(
            "{date},1{}.{},2{}.5,{},2.5\n",
            day % 5,
            day % 10,
            day % 9,
            day % 7
        );
    }
    text
}

fn climate(c: &mut Criterion) {
    let text = thirty_years();
    let mut group = c.benchmark_group("records");
    group.throughput(Throughput::Bytes(text.len() as u64));
    group.bench_function("thirty years from CSV", |b| {
        b.iter(|| DailyRecords::from_csv("records.csv", black_box(&text)).unwrap());
    });
    group.finish();

    let (low, high) = ([10.0; 12], [20.0; 12]);
    c.bench_function("normals: a year of days from twelve months", |b| {
        b.iter(|| MonthlyNormals::new(black_box(low), high, None, "").unwrap());
    });

    let date = NaiveDate::from_ymd_opt(2026, 7, 15).unwrap();
    let normals = Climate::from(MonthlyNormals::new(low, high, None, "").unwrap());
    c.bench_function("day from normals", |b| {
        b.iter(|| normals.day(black_box(date)))
    });
    let location =
        LocationDefault::at(Latitude::new(-27.5).unwrap(), Elevation::new(30.0).unwrap());
    c.bench_function("day from the location default", |b| {
        b.iter(|| location.day(black_box(date)))
    });

    let noon = Instant::parse_from_rfc3339("2026-07-15T12:00:00+10:00").unwrap();
    let suns = [-1, 0, 1].map(|day| {
        let noon = noon + TimeDelta::days(day);
        let half = TimeDelta::minutes(315);
        DaySun {
            noon,
            rise: Some(noon - half),
            set: Some(noon + half),
        }
    });
    let day = location.day(date);
    c.bench_function("curve of a day and its stretch above 18 °C", |b| {
        b.iter(|| {
            DayCurve::new(
                [&suns[0], &suns[1], &suns[2]],
                [black_box(&day); 3],
                AirOfPlace::INLAND,
            )
            .stretch_at_or_above(18.0)
        });
    });
    let count = DegreeDays::new(DayShape::SingleSine, 12.0, Some(30.0)).unwrap();
    c.bench_function("degree-days of a day", |b| {
        b.iter(|| count.of_day(black_box(&day)))
    });
}

criterion_group!(benches, climate);
criterion_main!(benches);
