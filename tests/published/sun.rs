//! The sun against published examples and a JPL ephemeris. Each check names its source.
#![allow(missing_docs, clippy::unwrap_used, clippy::panic)]

use std::collections::HashMap;

use apiary_almanac::sun::{Crossing, LEVEL_SUNRISE_ALTITUDE_DEG, crossing, position, sun_day};
use apiary_almanac::{Instant, Site};
use chrono::{DateTime, NaiveDate};

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn instant(text: &str) -> Instant {
    DateTime::parse_from_rfc3339(text).unwrap()
}

fn seconds_apart(a: Instant, b: Instant) -> f64 {
    (a - b).num_milliseconds().abs() as f64 / 1000.0
}

/// I. Reda & A. Andreas, NREL/TP-560-34302, worked example (from memory): 2003-10-17 12:30:30
/// UTC-7 at 39.742476° N, 105.1786° W, zenith 50.11162° with refraction and parallax, azimuth
/// 194.34024°; geocentric declination -9.31434°; sunrise 06:12:43, transit 11:46:04. The printed
/// sunset, 17:20:19, is that of the UT date, which is the evening of 16 October at the site.
#[test]
fn nrel_worked_example() {
    let golden = Site::new(39.742476, -105.1786, 1830.14, "Etc/GMT+7").unwrap();
    let at = position(&golden, instant("2003-10-17T12:30:30-07:00").to_utc()).unwrap();
    // The report's parallax and refraction (820 hPa, 11 °C) on top of the place from the middle of
    // the Earth.
    let lowered = at.altitude_deg - 8.794 / 3600.0 / 0.9965 * at.altitude_deg.to_radians().cos();
    let angle_deg: f64 = lowered + 10.3 / (lowered + 5.11);
    let refraction_deg =
        820.0 / 1010.0 * 283.0 / (273.0 + 11.0) * 1.02 / (60.0 * angle_deg.to_radians().tan());
    let apparent = lowered + refraction_deg;
    assert!((apparent - (90.0 - 50.11162)).abs() < 0.0002, "{apparent}");
    assert!(
        (at.azimuth_deg - 194.34024).abs() < 0.002,
        "{}",
        at.azimuth_deg
    );

    let day = sun_day(&golden, date("2003-10-17")).unwrap();
    // Printed to the second.
    let rise = instant("2003-10-17T06:12:43-07:00");
    assert!(
        seconds_apart(day.sun.rise().unwrap(), rise) <= 1.0,
        "{day:?}"
    );
    let transit = instant("2003-10-17T11:46:04-07:00");
    assert!(seconds_apart(day.solar_noon, transit) <= 1.0, "{day:?}");
    let evening_before = sun_day(&golden, date("2003-10-16"))
        .unwrap()
        .sun
        .set()
        .unwrap();
    assert!(seconds_apart(evening_before, instant("2003-10-16T17:20:19-07:00")) <= 1.0);
    // The same evening on the 17th, with the solar-positioning crate 0.7: 17:18:50.9 (there the
    // centre is at -0.8333° as seen from the surface; parallax makes 0.2 s).
    assert!(seconds_apart(day.sun.set().unwrap(), instant("2003-10-17T17:18:51-07:00")) <= 1.0);
}

/// J. Meeus, Astronomical Algorithms (2nd ed.), example 25.a (from memory): 1992-10-13 0 h TD,
/// apparent declination -7.78507° by a method good to 0.01°.
#[test]
fn meeus_low_accuracy_example() {
    // At the pole the altitude is the declination. 0 h TD was 59 s before 0 h UT.
    let pole = Site::new(90.0, 0.0, 0.0, "Etc/UTC").unwrap();
    let at = position(&pole, instant("1992-10-12T23:59:01Z").to_utc()).unwrap();
    assert!(
        (at.altitude_deg - -7.78507).abs() < 0.01,
        "{}",
        at.altitude_deg
    );
    // The same moment by the complete method, example 25.b (from memory): -7°47'01.74".
    assert!((at.altitude_deg + 7.0 + (47.0 + 1.74 / 60.0) / 60.0).abs() < 0.0002);
}

/// W. C. Forsythe et al. 1995, Ecological Modelling 80:87, the CBM model with p = 0.8333, which its
/// authors found within a minute below 40° (up to seven minutes at 60°).
#[test]
fn forsythe_day_lengths() {
    for (latitude_deg, june_h, december_h) in [
        (-27.47, 10.402, 13.877),
        (-23.55, 10.681, 13.587),
        (20.97, 13.407, 10.856),
        (0.0, 12.121, 12.121),
    ] {
        let site = Site::new(latitude_deg, 0.0, 0.0, "Etc/UTC").unwrap();
        for (day, published_h) in [("2026-06-21", june_h), ("2026-12-21", december_h)] {
            let computed_h = sun_day(&site, date(day)).unwrap().day_length_h;
            assert!(
                (computed_h - published_h).abs() < 1.0 / 60.0,
                "{latitude_deg} {day}: {computed_h}"
            );
        }
    }
}

/// Rows of sun_de421.csv by column name.
fn de421_rows() -> Vec<HashMap<&'static str, &'static str>> {
    let text = include_str!("sun_de421.csv");
    let header = |name: &str| {
        text.lines()
            .find_map(|l| l.strip_prefix(name))
            .unwrap()
            .trim()
    };
    let rows: usize = header("# rows:").parse().unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let names: Vec<_> = lines.next().unwrap().split(',').collect();
    let table: Vec<HashMap<_, _>> = lines
        .map(|line| {
            let cells: Vec<_> = line.split(',').collect();
            assert_eq!(cells.len(), names.len(), "{line}");
            names.iter().copied().zip(cells).collect()
        })
        .collect();
    assert_eq!(table.len(), rows);
    table
}

/// Times of JPL DE421 (how they were made: make_sun_fixture.py). UTC here stands for UT1, so the
/// times compare as they are.
#[test]
fn events_of_jpl_de421() {
    let (mut steep_max, mut grazing_max, mut compared, mut without) = (0.0_f64, 0.0_f64, 0, 0);
    for row in de421_rows() {
        let number = |name: &str| row[name].parse::<f64>().unwrap();
        let (latitude_deg, longitude_deg) = (number("latitude_deg"), number("longitude_deg"));
        // The fixture's dates are those of the site's own meridian.
        let hours_east = (longitude_deg / 15.0).round() as i32;
        let zone = format!("Etc/GMT{:+}", -hours_east);
        let site = Site::new(latitude_deg, longitude_deg, 0.0, &zone).unwrap();
        let answer = crossing(&site, date(row["date"]), number("altitude_deg")).unwrap();

        for (name, rate, got) in [
            ("rise_ut1_s", "rise_deg_per_h", answer.rise()),
            ("set_ut1_s", "set_deg_per_h", answer.set()),
        ] {
            let Ok(expected_s) = row[name].parse::<f64>() else {
                assert!(got.is_none(), "{row:?}: {answer:?}");
                continue;
            };
            let got_s = got
                .unwrap_or_else(|| panic!("{row:?}: {answer:?}"))
                .timestamp_millis() as f64;
            let error_s = (got_s / 1000.0 - expected_s).abs();
            compared += 1;
            if latitude_deg.abs() <= 66.0 && number(rate) > 5.0 {
                steep_max = steep_max.max(error_s);
                assert!(error_s < 0.1, "{error_s} s: {row:?}");
            } else {
                grazing_max = grazing_max.max(error_s);
                assert!(error_s < 2.0, "{error_s} s: {row:?}");
            }
        }
        match row["kind"] {
            "above" => assert_eq!(answer, Crossing::AlwaysAbove, "{row:?}"),
            "below" => assert_eq!(answer, Crossing::AlwaysBelow, "{row:?}"),
            "event" => {}
            other => panic!("kind {other}"),
        }
        without += usize::from(row["kind"] != "event");
    }
    assert!(
        compared > 650 && without > 25,
        "{compared} events, {without} days without"
    );
    println!("{compared} events; worst error {steep_max:.3} s steep, {grazing_max:.3} s grazing");
}

/// HM Nautical Almanac Office, Astronomical Information Sheet 7: sunrise and sunset are tabulated
/// for the sun's centre at a zenith distance of 90°50'.
#[test]
fn almanac_convention_of_sunrise() {
    assert!((LEVEL_SUNRISE_ALTITUDE_DEG + 50.0 / 60.0).abs() < 1e-12);
    let site = Site::new(51.0, 0.0, 0.0, "Europe/London").unwrap();
    let rise = sun_day(&site, date("2026-03-01"))
        .unwrap()
        .sun
        .rise()
        .unwrap();
    let altitude_deg = position(&site, rise.to_utc()).unwrap().altitude_deg;
    assert!(
        (altitude_deg - LEVEL_SUNRISE_ALTITUDE_DEG).abs() < 1e-5,
        "{altitude_deg}"
    );
}
