use super::*;
use crate::climate::{Climate, Forecast};
use crate::site::Site;
use proptest::prelude::*;

fn zone(name: &str) -> Tz {
    name.parse().unwrap()
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn hour(at: &str, temperature_c: f64) -> Hour {
    Hour::new(at.parse().unwrap(), temperature_c)
}

/// Readings every so many hours from a moment on, 10 °C and a tenth more each.
fn every(step_h: i64, first: &str, count: i64) -> Vec<Hour> {
    let first: Instant = first.parse().unwrap();
    (0..count)
        .map(|n| Hour {
            rain_mm: Some(0.5),
            wind_m_s: Some(n as f64),
            ..Hour::new(first + TimeDelta::hours(step_h * n), 10.0 + n as f64 / 10.0)
        })
        .collect()
}

#[test]
fn a_day_known_from_end_to_end_has_its_extremes_rain_and_wind() {
    let hours = Hours::new(
        zone("Australia/Brisbane"),
        every(1, "2026-07-20T00:00:00+10:00", 24),
    )
    .unwrap();
    let day = hours.of_day(date("2026-07-20")).unwrap();
    assert!(day.is_whole() && day.gaps().is_empty());
    assert_eq!(day.own().len(), 24);
    assert_eq!(day.extremes_c(), (10.0, 12.3));
    assert_eq!(day.rain_mm(), Some(12.0));
    assert_eq!(day.wind_m_s(), Some(11.5));
    assert_eq!(hours.of_day(date("2026-07-21")), None);
}

#[test]
fn three_hours_apart_are_near_enough_and_more_is_a_gap() {
    let zone = zone("Asia/Manila");
    let known = |step, count| {
        let hours = Hours::new(zone, every(step, "2026-02-03T00:00:00+08:00", count)).unwrap();
        hours.of_day(date("2026-02-03")).unwrap().is_whole()
    };
    assert!(known(3, 8) && !known(4, 6) && !known(3, 7));
    let mut readings = every(1, "2026-02-03T00:00:00+08:00", 24);
    readings.drain(10..14);
    let hours = Hours::new(zone, readings).unwrap();
    let gap = Gap {
        from: "2026-02-03T09:00:00+08:00".parse().unwrap(),
        until: "2026-02-03T14:00:00+08:00".parse().unwrap(),
    };
    assert_eq!(hours.gaps(), [gap]);
    let day = hours.of_day(date("2026-02-03")).unwrap();
    assert_eq!(day.gaps(), [gap]);
    assert_eq!(
        day.temperature_c("2026-02-03T03:00:00Z".parse().unwrap()),
        None
    );
    assert!(
        hours
            .basis()
            .about
            .contains("nothing is known from 2026-02-03 09:00:00 +08:00")
    );
}

#[test]
fn readings_beside_a_day_hold_its_line() {
    let hours = Hours::new(
        zone("Australia/Brisbane"),
        every(3, "2026-07-19T22:30:00+10:00", 20),
    )
    .unwrap();
    let day = hours.of_day(date("2026-07-20")).unwrap();
    assert!(day.is_whole());
    assert_eq!((day.readings.len(), day.own().len()), (10, 8));
    let midnight = day.temperature_c("2026-07-20T00:00:00+10:00".parse().unwrap());
    approx::assert_relative_eq!(midnight.unwrap(), 10.05);
}

#[test]
fn days_are_as_long_as_clocks_make_them() {
    // Clocks in Sydney go from 2:00 to 3:00 on 2026-10-04 and from 3:00 to 2:00 on 2026-04-05.
    let zone = zone("Australia/Sydney");
    for (first, day, count) in [
        ("2026-10-03T14:00:00Z", "2026-10-04", 23),
        ("2026-04-04T13:00:00Z", "2026-04-05", 25),
    ] {
        let hours = Hours::new(zone, every(1, first, 30)).unwrap();
        let day = hours.of_day(date(day)).unwrap();
        assert_eq!(day.own().len(), count);
        assert_eq!((day.end - day.start).num_hours(), count as i64);
        assert!(day.is_whole());
    }
}

#[test]
fn what_cannot_be_hours_is_refused() {
    let zone = zone("UTC");
    assert_eq!(
        Hours::new(zone, vec![]).unwrap_err().code(),
        "not_enough_data"
    );
    let twice = vec![
        hour("2026-07-20T06:00:00Z", 9.0),
        hour("2026-07-20T16:00:00+10:00", 10.0),
    ];
    assert_eq!(Hours::new(zone, twice).unwrap_err().code(), "inconsistent");
    let same = vec![hour("2026-07-20T06:00:00Z", 9.0); 2];
    assert_eq!(Hours::new(zone, same).unwrap().readings().len(), 1);
    for bad in [
        hour("2026-07-20T06:00:00Z", 61.0),
        hour("2026-07-20T06:00:00Z", f64::NAN),
        Hour {
            rain_mm: Some(-1.0),
            ..hour("2026-07-20T06:00:00Z", 9.0)
        },
        Hour {
            cloud_percent: Some(101.0),
            ..hour("2026-07-20T06:00:00Z", 9.0)
        },
        hour("1850-07-20T06:00:00Z", 9.0),
    ] {
        assert_eq!(
            Hours::new(zone, vec![bad]).unwrap_err().code(),
            "out_of_range"
        );
    }
    let many = vec![hour("2026-07-20T06:00:00Z", 9.0); MOST_HOURS + 1];
    assert_eq!(Hours::new(zone, many).unwrap_err().code(), "too_large");
}

#[test]
fn hours_lie_over_a_forecast_where_they_hold_the_whole_day() {
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap();
    let forecast = Forecast::from_csv(
        "f.csv",
        "date,minimum_c,maximum_c\n2026-07-20,5,25\n2026-07-21,5,25\n",
    )
    .unwrap();
    let hours = Hours::new(site.zone, every(1, "2026-07-20T00:00:00+10:00", 30)).unwrap();
    let climate = Climate::from_location(&site)
        .with_forecast(forecast)
        .with_hours(hours);
    let (whole, part) = (
        climate.day(date("2026-07-20")),
        climate.day(date("2026-07-21")),
    );
    assert_eq!(
        (whole.source, whole.maximum_c),
        (TemperatureSource::Hours, 12.3)
    );
    assert_eq!(
        (part.source, part.maximum_c),
        (TemperatureSource::Forecast, 25.0)
    );
    assert_eq!(climate.hours_of(date("2026-07-21")).unwrap().own().len(), 6);
    let sources: Vec<_> = climate
        .basis()
        .into_iter()
        .map(|basis| basis.source)
        .collect();
    assert_eq!(
        sources[1..],
        [TemperatureSource::Forecast, TemperatureSource::Hours]
    );
    let text = serde_json::to_string(&climate).unwrap();
    assert_eq!(serde_json::from_str::<Climate>(&text).unwrap(), climate);
}

proptest! {
    #[test]
    fn a_line_between_readings_stays_between_them(
        steps in prop::collection::vec((1_i64..400, -10.0..40.0_f64), 2..60),
        minute in 0_i64..5000,
    ) {
        let first: Instant = "2026-07-20T00:00:00Z".parse().unwrap();
        let mut at = first;
        let mut readings = Vec::new();
        for (minutes, temperature_c) in steps {
            at += TimeDelta::minutes(minutes);
            readings.push(Hour::new(at, temperature_c));
        }
        let (low, high) = readings.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), hour| {
            (low.min(hour.temperature_c), high.max(hour.temperature_c))
        });
        let hours = Hours::new(chrono_tz::Tz::UTC, readings).unwrap();
        let asked = (first + TimeDelta::minutes(minute)).to_utc();
        if let Some(found) = hours.temperature_c(asked) {
            prop_assert!(low - 1e-9 <= found && found <= high + 1e-9);
            // The day says the same.
            let day = hours.of_day(asked.date_naive());
            prop_assert!(day.is_none_or(|day| day.temperature_c(asked) == Some(found)));
        }
        for date in hours.dates() {
            prop_assert!(hours.of_day(date).is_some());
        }
    }
}
