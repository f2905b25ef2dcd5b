//! Climate against published formulas, worked values and an open dataset.
// Helpers outside of the test functions may stop the test as well.
#![allow(clippy::unwrap_used)]

use std::f64::consts::TAU;

use apiary_almanac::climate::{
    AirOfPlace, DayCurve, DaySun, DayTemperatures, LocationDefault, MonthlyNormals,
    TemperatureSource,
};
use apiary_almanac::{Elevation, Instant, Latitude, Site};
use chrono::{Datelike, NaiveDate, TimeDelta};

fn first_of(year: i32, month: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, 1).unwrap()
}

/// Input of the example in Epstein 1991, On obtaining daily climatological values from monthly
/// means, Journal of Climate 4:365–368.
const EPSTEIN_C: [f64; 12] = [
    -6.77, -4.33, 1.52, 8.35, 14.74, 20.29, 23.22, 22.17, 16.94, 10.35, 3.08, -4.29,
];
/// Factors of the same paper that restore harmonics 1 to 5 from twelve monthly means: printed
/// numbers, of which one happens to be close to π/3.
#[allow(clippy::approx_constant)]
const EPSTEIN_FACTORS: [f64; 5] = [1.01152, 1.04720, 1.11072, 1.20920, 1.35517];

fn epstein_days() -> MonthlyNormals {
    MonthlyNormals::new(EPSTEIN_C, EPSTEIN_C.map(|t| t + 10.0), None, "Epstein 1991").unwrap()
}

#[test]
fn days_from_months_reproduce_the_monthly_means_of_epstein_1991() {
    let normals = epstein_days();
    for year in [1900, 2023, 2024, 2100] {
        for (month, expected) in (1..).zip(EPSTEIN_C) {
            let first = first_of(year, month);
            let days = first
                .iter_days()
                .take_while(|day| day.month() == first.month());
            let values: Vec<_> = days.map(|day| normals.day(day).minimum_c).collect();
            let mean = values.iter().sum::<f64>() / values.len() as f64;
            assert!((mean - expected).abs() < 1e-9, "{first}: {mean}");
        }
    }
}

/// Epstein's harmonics take the months as equally long; the spline knows their lengths. Where both
/// are read in the middle of the month, or between two months, they agree within 0.3 °C in a year
/// that swings by 30 °C.
#[test]
fn days_from_months_agree_with_the_harmonics_of_epstein_1991() {
    let harmonic = |month: f64| {
        let mut value = EPSTEIN_C.iter().sum::<f64>() / 12.0;
        for (k, factor) in EPSTEIN_FACTORS.iter().enumerate() {
            let angle = TAU * (k as f64 + 1.0) / 12.0;
            let part = |wave: fn(f64) -> f64| {
                let of_month = |(m, t): (usize, &f64)| t * wave(angle * m as f64);
                EPSTEIN_C.iter().enumerate().map(of_month).sum::<f64>() / 6.0 * wave(angle * month)
            };
            value += factor * (part(f64::cos) + part(f64::sin));
        }
        value
    };
    let normals = epstein_days();
    for month in 0..12 {
        let first = first_of(2023, month + 1);
        let middle = first + TimeDelta::days(i64::from(first.num_days_in_month()) / 2);
        let of_middle = harmonic(f64::from(month)) - normals.day(middle).minimum_c;
        assert!(of_middle.abs() < 0.3, "{middle} is off by {of_middle}");
        let of_start = harmonic(f64::from(month) - 0.5) - normals.day(first).minimum_c;
        assert!(of_start.abs() < 0.3, "{first} is off by {of_start}");
    }
}

/// The moment some hours into the day.
fn clock(hours: f64) -> Instant {
    let midnight = Instant::parse_from_rfc3339("2026-03-20T00:00:00+00:00").unwrap();
    midnight + TimeDelta::microseconds((hours * 3.6e9).round() as i64)
}

/// A steady climate: the same sun from 6 to 18 h and the same extremes on three days.
fn steady(minimum_c: f64, maximum_c: f64, air: AirOfPlace) -> DayCurve {
    let suns = [-24.0, 0.0, 24.0].map(|day| DaySun {
        noon: clock(day + 12.0),
        rise: Some(clock(day + 6.0)),
        set: Some(clock(day + 18.0)),
    });
    let day = DayTemperatures {
        date: clock(0.0).date_naive(),
        minimum_c,
        maximum_c,
        rain_mm: None,
        source: TemperatureSource::RecordedDay,
    };
    DayCurve::new([&suns[0], &suns[1], &suns[2]], [&day; 3], air)
}

/// `day_course.csv`: when the air of a morning first reached a share of the way from the day's minimum
/// to its maximum, in half-days from solar noon (−1 is sunrise), by place and quarter of the year:
/// median, and by when one morning in ten had. Derived from hourly temperatures of the stations A701
/// (São Paulo) and A301 (Recife) of INMET, of the PM2.5 data of five Chinese cities in the UCI
/// repository (Guangzhou, CC BY 4.0), and of the NREL's TMY3 (USA). Mornings as warm an hour before
/// sunrise are left out; extremes are those from three hours before sunrise to sunset.
#[test]
fn the_air_reaches_shares_of_the_range_when_hourly_records_say() {
    let table = include_str!("day_course.csv");
    let (mut rows, mut sum, mut squares, mut too_late) = (0.0, 0.0, 0.0, 0.0);
    for row in table.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let number = |column: usize| cells[column].parse::<f64>().unwrap();
        let site = Site::new(number(1), number(2), 10.0, "UTC").unwrap();
        let range_c = number(5);
        let curve = steady(0.0, range_c, AirOfPlace::of(&site));
        let reached_c = range_c * number(6);
        let half_days = |at: Instant| (at - clock(12.0)).as_seconds_f64() / 3600.0 / 6.0;
        let usual = half_days(curve.stretch_at_or_above(reached_c).unwrap().0);
        let early = half_days(curve.outer_stretch_at_or_above(reached_c).unwrap().0);
        let off = usual - number(8);
        assert!(off.abs() < 0.2, "{row}: usually at {usual}");
        assert!(early - number(7) < 0.15, "{row}: early at {early}");
        rows += 1.0;
        sum += off;
        squares += off * off;
        too_late += f64::from(early - number(7) > 0.05);
    }
    assert_eq!(rows, 180.0);
    // 0.1 half-days are 36 minutes of a day of twelve hours.
    assert!((sum / rows).abs() < 0.03, "mean {}", sum / rows);
    assert!(
        (squares / rows).sqrt() < 0.07,
        "rms {}",
        (squares / rows).sqrt()
    );
    assert!(too_late / rows < 0.15, "{too_late} of {rows} too late");
}

struct Cell {
    latitude_deg: f64,
    elevation_m: f64,
    minimum_c: [f64; 12],
    maximum_c: [f64; 12],
}

/// Three cells of each ten degrees of latitude: those a quarter, a half and three quarters of the
/// way round by longitude, of all that hold a weather station. CRU CL 2.0: New, M., Lister, D.,
/// Hulme, M. & Makin, I. (2002), Climate Research 21:1–25; means of 1961–1990, Climatic Research
/// Unit (Open Database License 1.0, from memory).
#[rustfmt::skip]
const CELLS: [Cell; 24] = [
    Cell { latitude_deg: -30.4167, elevation_m: 202.0, minimum_c: [18.8, 19.0, 16.7, 14.1, 11.4, 8.9, 9.0, 9.9, 11.0, 13.2, 15.5, 17.6], maximum_c: [30.8, 30.0, 28.5, 24.9, 21.6, 18.7, 19.0, 19.9, 21.6, 24.5, 27.3, 29.8] },
    Cell { latitude_deg: -32.5833, elevation_m: 324.0, minimum_c: [15.2, 15.5, 13.6, 10.8, 7.7, 6.6, 5.5, 5.2, 5.8, 7.8, 10.7, 13.4], maximum_c: [32.0, 31.1, 28.1, 23.2, 19.0, 16.0, 15.1, 15.8, 18.1, 22.0, 25.8, 29.9] },
    Cell { latitude_deg: -37.4167, elevation_m: 362.0, minimum_c: [12.4, 12.9, 11.5, 8.9, 6.7, 4.6, 3.5, 4.4, 5.4, 7.1, 9.1, 10.7], maximum_c: [26.1, 26.6, 23.7, 19.3, 15.3, 12.2, 11.4, 12.9, 15.0, 18.3, 21.5, 24.3] },
    Cell { latitude_deg: -24.75, elevation_m: 1002.0, minimum_c: [15.5, 15.4, 14.8, 12.0, 8.8, 7.0, 6.6, 7.9, 9.5, 11.5, 12.1, 13.4], maximum_c: [26.1, 25.6, 25.5, 23.0, 20.9, 19.4, 19.7, 20.9, 21.1, 22.8, 23.2, 23.6] },
    Cell { latitude_deg: -26.0833, elevation_m: 975.0, minimum_c: [19.4, 18.6, 16.6, 11.9, 5.9, 1.8, 1.3, 3.8, 8.6, 12.9, 15.9, 17.9], maximum_c: [35.0, 33.6, 31.9, 28.1, 24.9, 21.5, 22.1, 24.6, 28.9, 31.1, 33.2, 34.6] },
    Cell { latitude_deg: -21.4167, elevation_m: 1173.0, minimum_c: [16.8, 16.8, 16.0, 14.8, 12.3, 10.1, 9.8, 9.8, 10.8, 13.0, 14.9, 16.2], maximum_c: [25.7, 25.6, 24.8, 24.0, 22.1, 19.9, 19.2, 20.0, 22.5, 24.5, 25.6, 25.8] },
    Cell { latitude_deg: -15.9167, elevation_m: 1082.0, minimum_c: [16.9, 16.8, 16.8, 16.2, 14.3, 12.7, 12.2, 14.0, 15.6, 16.8, 16.9, 16.9], maximum_c: [26.3, 26.2, 26.5, 26.0, 25.2, 24.8, 24.8, 27.0, 28.0, 27.0, 26.1, 25.6] },
    Cell { latitude_deg: -10.0833, elevation_m: 11.0, minimum_c: [22.6, 22.7, 22.8, 22.2, 21.8, 20.8, 20.0, 19.8, 20.5, 21.2, 22.0, 22.4], maximum_c: [31.2, 31.1, 31.0, 30.0, 28.6, 27.2, 26.6, 26.8, 27.9, 29.6, 30.8, 31.1] },
    Cell { latitude_deg: -16.75, elevation_m: 160.0, minimum_c: [22.3, 22.2, 21.9, 20.4, 17.4, 15.0, 14.8, 15.4, 17.6, 19.9, 21.2, 22.0], maximum_c: [31.9, 31.8, 31.1, 30.1, 28.6, 26.8, 26.2, 28.0, 30.4, 32.1, 32.5, 32.0] },
    Cell { latitude_deg: -3.25, elevation_m: 54.0, minimum_c: [23.1, 23.1, 23.2, 23.2, 23.1, 22.9, 22.5, 22.8, 23.3, 23.5, 23.5, 23.4], maximum_c: [30.7, 30.7, 30.8, 31.0, 30.9, 31.1, 31.5, 32.6, 32.9, 32.7, 32.1, 31.4] },
    Cell { latitude_deg: -6.75, elevation_m: 290.0, minimum_c: [22.0, 20.3, 21.0, 21.4, 20.6, 19.5, 19.2, 19.2, 20.8, 20.7, 21.6, 22.3], maximum_c: [33.2, 32.5, 31.6, 31.1, 30.9, 30.9, 30.3, 33.0, 34.0, 34.5, 34.6, 35.3] },
    Cell { latitude_deg: -5.25, elevation_m: 0.0, minimum_c: [23.2, 23.3, 23.6, 23.5, 22.6, 21.4, 20.5, 20.0, 20.1, 21.1, 22.2, 23.0], maximum_c: [31.8, 32.2, 32.2, 30.8, 29.4, 28.6, 28.1, 28.2, 28.9, 29.7, 30.5, 31.4] },
    Cell { latitude_deg: 9.0833, elevation_m: 21.0, minimum_c: [20.8, 20.7, 21.0, 21.9, 22.2, 22.2, 22.1, 22.3, 22.5, 22.5, 22.0, 21.4], maximum_c: [30.6, 31.3, 32.0, 32.5, 32.0, 30.8, 30.9, 31.5, 32.1, 32.3, 31.4, 30.4] },
    Cell { latitude_deg: 1.0833, elevation_m: 76.0, minimum_c: [22.5, 22.5, 22.4, 22.0, 22.4, 21.7, 20.5, 20.8, 21.6, 21.7, 21.8, 22.1], maximum_c: [29.1, 29.5, 29.8, 29.5, 29.1, 27.5, 26.5, 26.7, 27.9, 27.5, 28.0, 28.4] },
    Cell { latitude_deg: 9.75, elevation_m: 30.0, minimum_c: [23.0, 23.6, 25.2, 26.9, 26.3, 25.8, 25.4, 25.1, 25.1, 24.6, 24.1, 23.5], maximum_c: [27.6, 29.1, 31.3, 33.2, 33.7, 33.5, 33.1, 32.7, 32.5, 31.0, 29.1, 27.8] },
    Cell { latitude_deg: 13.5833, elevation_m: 30.0, minimum_c: [15.4, 16.9, 18.7, 19.8, 21.5, 23.3, 23.5, 23.2, 22.9, 22.8, 19.4, 15.9], maximum_c: [33.6, 36.3, 37.8, 38.7, 38.1, 35.7, 33.0, 32.0, 32.3, 34.2, 35.1, 33.3] },
    Cell { latitude_deg: 15.75, elevation_m: 2114.0, minimum_c: [12.9, 14.7, 16.9, 18.4, 20.2, 21.9, 22.8, 22.3, 20.6, 16.7, 14.2, 12.8], maximum_c: [26.1, 27.3, 29.1, 30.6, 32.5, 34.2, 34.4, 33.7, 32.8, 30.1, 28.0, 26.5] },
    Cell { latitude_deg: 16.4167, elevation_m: 130.0, minimum_c: [17.7, 20.2, 22.3, 24.5, 25.1, 24.9, 24.6, 24.6, 24.2, 23.6, 21.4, 17.2], maximum_c: [32.1, 35.0, 36.3, 37.7, 35.5, 33.2, 33.0, 32.6, 32.6, 32.0, 31.1, 30.2] },
    Cell { latitude_deg: 20.4167, elevation_m: 112.0, minimum_c: [17.2, 17.6, 18.8, 19.9, 21.2, 22.4, 22.4, 22.5, 22.1, 21.8, 20.5, 18.8], maximum_c: [29.3, 30.0, 31.0, 31.4, 32.0, 32.8, 33.6, 33.8, 33.1, 32.0, 30.7, 29.7] },
    Cell { latitude_deg: 29.9167, elevation_m: 1642.0, minimum_c: [2.9, 5.1, 10.3, 16.2, 20.6, 23.2, 23.1, 22.5, 19.6, 14.9, 9.2, 4.5], maximum_c: [15.4, 16.6, 22.9, 29.2, 34.2, 37.0, 34.8, 34.0, 32.8, 29.3, 23.5, 18.2] },
    Cell { latitude_deg: 28.9167, elevation_m: 3981.0, minimum_c: [-9.2, -7.8, -4.8, -1.6, 2.6, 6.2, 7.6, 7.1, 5.3, 0.7, -4.8, -8.2], maximum_c: [3.4, 4.0, 6.7, 9.8, 14.4, 16.8, 17.2, 17.0, 15.4, 12.3, 7.8, 4.9] },
    Cell { latitude_deg: 38.4167, elevation_m: 257.0, minimum_c: [-8.2, -5.5, 0.2, 5.9, 11.1, 16.2, 18.9, 17.5, 13.2, 6.5, 0.8, -5.4], maximum_c: [3.9, 6.9, 13.6, 19.8, 24.5, 29.3, 32.5, 31.5, 26.8, 21.1, 13.4, 5.8] },
    Cell { latitude_deg: 36.75, elevation_m: 100.0, minimum_c: [6.8, 6.0, 8.1, 10.2, 13.4, 17.4, 19.9, 20.6, 18.9, 15.3, 10.9, 8.0], maximum_c: [15.5, 16.6, 18.1, 21.0, 25.2, 29.8, 33.3, 33.2, 30.1, 25.5, 20.5, 16.6] },
    Cell { latitude_deg: 32.5833, elevation_m: 194.0, minimum_c: [4.9, 7.8, 12.8, 18.0, 22.4, 26.4, 26.2, 25.7, 23.4, 17.0, 10.3, 5.7], maximum_c: [19.7, 21.8, 26.8, 33.2, 38.2, 40.7, 36.2, 34.7, 35.0, 33.0, 27.5, 21.5] },
];

/// The errors that the default states for itself are those found at cells of the dataset.
#[test]
fn the_location_default_keeps_to_its_stated_errors_at_cells_of_cru_cl_2() {
    let (mut squares, mut stated, mut beyond, mut count) = (0.0, 0.0, 0, 0);
    for cell in &CELLS {
        let latitude = Latitude::new(cell.latitude_deg).unwrap();
        let elevation = Elevation::new(cell.elevation_m).unwrap();
        let default = LocationDefault::of_1961_1990(latitude, elevation);
        let basis = apiary_almanac::Climate::from(default.clone())
            .basis()
            .remove(0);
        for month in 0..12 {
            let first = first_of(2023, month as u32 + 1);
            let days: Vec<_> = first
                .iter_days()
                .take_while(|day| day.month() == first.month())
                .map(|day| default.day(day))
                .collect();
            let mean = |of: fn(&DayTemperatures) -> f64| {
                days.iter().map(of).sum::<f64>() / days.len() as f64
            };
            for error in [
                mean(|day| day.minimum_c) - cell.minimum_c[month],
                mean(|day| day.maximum_c) - cell.maximum_c[month],
            ] {
                squares += error * error;
                stated += basis.typical_error_c.unwrap().powi(2);
                beyond += i32::from(error.abs() > basis.p95_error_c.unwrap());
                count += 1;
            }
        }
    }
    let count = f64::from(count);
    let (found, stated) = ((squares / count).sqrt(), (stated / count).sqrt());
    assert!(found < 1.1 * stated, "found {found} °C, stated {stated} °C");
    assert!(
        f64::from(beyond) < 0.08 * count,
        "{beyond} of {count} beyond the stated error"
    );
}
