//! Season, flight and mornings of one site.

use std::hint::black_box;

use apiary_almanac::climate::MonthlyNormals;
use apiary_almanac::flight::DayLimits;
use apiary_almanac::morning::MorningSettings;
use apiary_almanac::season::SeasonSettings;
use apiary_almanac::{Climate, Site, Weather, bee};
use chrono::NaiveDate;
use criterion::{Criterion, criterion_group, criterion_main};

fn benches(c: &mut Criterion) {
    let (Ok(site), Ok(small)) = (
        Site::new(-28.81, 153.28, 12.0, "Australia/Sydney"),
        bee::built_in("generic_small"),
    ) else {
        return;
    };
    let normals = MonthlyNormals::new(
        [
            19.2, 19.2, 17.8, 14.6, 11.4, 8.9, 7.4, 8.0, 10.7, 13.6, 16.1, 18.0,
        ],
        [
            30.0, 29.3, 28.1, 25.8, 22.8, 20.4, 20.1, 21.7, 24.5, 26.6, 28.0, 29.4,
        ],
        None,
        "invented",
    );
    let Ok(climate) = normals.map(Climate::from_normals) else {
        return;
    };
    let day = |month, day| NaiveDate::from_ymd_opt(2026, month, day).unwrap_or_default();
    let (first, last) = (day(1, 1), day(12, 31));
    let rules = SeasonSettings::default();
    // A new one each time: it keeps the days that it has worked out.
    let weather = || Weather::new(black_box(&site), &climate, &small);
    let settings = MorningSettings::default();

    c.bench_function("season of a year from normals", |b| {
        b.iter(|| weather().season(first, last, &rules));
    });
    c.bench_function("season of a year from the location", |b| {
        b.iter(|| Weather::of_location(black_box(site), &small).season(first, last, &rules));
    });
    c.bench_function("climate from twelve normals", |b| {
        b.iter(|| {
            MonthlyNormals::new(
                black_box([18.0; 12]),
                black_box([28.0; 12]),
                None,
                "invented",
            )
        });
    });
    c.bench_function("flight of the 365 days of a year", |b| {
        b.iter(|| weather().flights(first, last, &DayLimits::default()));
    });
    c.bench_function("ten mornings ranked", |b| {
        b.iter(|| weather().mornings(day(9, 14), 10, &settings, &[]));
    });
}

criterion_group!(season_benches, benches);
criterion_main!(season_benches);
