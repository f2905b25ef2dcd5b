//! How long the climate grid takes: decoding once, looking up, a map.
#![allow(missing_docs, clippy::unwrap_used)]

use std::hint::black_box;

use apiary_almanac::climate::grid::{ClimateTable, at, built_in, warm_season_map};
use criterion::{Criterion, criterion_group, criterion_main};

fn grid(c: &mut Criterion) {
    let bytes = built_in().to_bytes();
    c.bench_function("grid_decode", |b| {
        b.iter(|| ClimateTable::from_bytes("bench", black_box(&bytes)).unwrap());
    });
    c.bench_function("grid_twelve_months", |b| {
        b.iter(|| at(black_box(-28.81), black_box(153.28), black_box(Some(12.0))));
    });
    let climate = at(-28.81, 153.28, Some(12.0)).unwrap();
    c.bench_function("grid_warm_season", |b| {
        b.iter(|| black_box(&climate).warm_season(black_box(18.0)));
    });
    let latitudes: Vec<f64> = (-40..=40).map(|d| f64::from(d) + 0.25).collect();
    let longitudes: Vec<f64> = (-179..180).map(f64::from).collect();
    c.bench_function("grid_map_one_degree", |b| {
        b.iter(|| warm_season_map(&latitudes, &longitudes, 18.0, None));
    });
}

criterion_group!(benches, grid);
criterion_main!(benches);
