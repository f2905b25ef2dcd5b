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
            .contains("nothing is known from 09:00 on Tue 3 Feb 2026")
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

fn file(name: &str, text: &str) -> crate::climate::TextFile {
    crate::climate::TextFile {
        file: name.to_owned(),
        text: text.to_owned(),
    }
}

fn read(zone_name: &str, text: &str) -> Result<Hours, Error> {
    Hours::from_texts(zone(zone_name), &[file("f", text)])
}

fn shown(hours: &Hours) -> Vec<(String, f64)> {
    hours
        .readings()
        .iter()
        .map(|hour| (hour.at.to_rfc3339(), hour.temperature_c))
        .collect()
}

#[test]
fn the_same_readings_in_every_form() {
    let expected = vec![
        ("2026-07-20T06:00:00+10:00".to_owned(), 9.5),
        ("2026-07-20T07:00:00+10:00".to_owned(), 11.0),
    ];
    for text in [
        "time,temperature_c\n2026-07-20T06:00,9.5\n2026-07-20T07:00,11\n",
        "Time;Temperature_C;humidity\n2026-07-20 07:00;11,0;80\n2026-07-20 06:00;9,5;90\n",
        "date\ttime\ttemperature (°C)\n20 July 2026\t6:00\t9.5\n20 July 2026\t7 am\t11\n",
        "time,temperature_f\n2026-07-19T20:00Z,49.1\n2026-07-20T07:00+10:00,51.8\n",
        r#"{"hourly": {"time": ["2026-07-20T06:00", "2026-07-20T07:00"], "temperature_2m": [9.5, 11]},
            "hourly_units": {"time": "iso8601", "temperature_2m": "°C"}}"#,
        r#"{"utc_offset_seconds": 0, "temperature_unit": "°C",
            "units": {"temperature": "°F"},
            "hours": {"time": ["2026-07-19T20:00", "2026-07-19T21:00"], "temperature": [49.1, 51.8]}}"#,
        r#"{"time": [1784491200, 1784494800], "temperature_c": [9.5, 11]}"#,
        r#"[{"time": "2026-07-20T06:00", "temperature_c": 9.5},
            {"time": "2026-07-20T07:00", "temperature_c": 11, "icon": "sun"}]"#,
        r#"{"timezone": "Asia/Manila", "data": [{"time": "2026-07-20T04:00", "temperature_c": 9.5},
            {"time": "2026-07-20T05:00", "temperature_c": 11}]}"#,
    ] {
        let hours = read("Australia/Brisbane", text).unwrap_or_else(|e| panic!("{text}: {e}"));
        let found = shown(&hours);
        assert_eq!(found.len(), 2, "{text}");
        for ((at, c), (expected_at, expected_c)) in found.iter().zip(&expected) {
            assert_eq!(at, expected_at, "{text}");
            approx::assert_abs_diff_eq!(*c, *expected_c, epsilon = 1e-9);
        }
    }
}

#[test]
fn all_that_is_known_is_read_with_its_unit() {
    let text = r#"{"units": {"temperature_2m": "°C", "precipitation": "inch", "rain": "inch",
        "wind_speed_10m": "km/h", "wind_speed_80m": "km/h", "cloud_cover": "%", "cloud_cover_low": "%",
        "shortwave_radiation": "W/m²", "precipitation_probability": "%"},
        "hourly": {"time": ["2026-07-20T06:00"], "temperature_2m": [9.5], "precipitation": [0.5],
        "rain": [0.25], "wind_speed_10m": [18], "wind_speed_80m": [36], "cloud_cover": [75],
        "cloud_cover_low": [5], "shortwave_radiation": [120], "precipitation_probability": [90]}}"#;
    let hour = read("UTC", text).unwrap().readings()[0];
    approx::assert_relative_eq!(hour.rain_mm.unwrap(), 12.7);
    approx::assert_relative_eq!(hour.wind_m_s.unwrap(), 5.0);
    assert_eq!(hour.cloud_percent, Some(75.0));
    assert_eq!(hour.radiation_w_m2, Some(120.0));
}

#[test]
fn clocks_that_are_changed_are_followed_and_said() {
    // Sydney: 2:00 to 3:00 on 2026-10-04, 3:00 to 2:00 on 2026-04-05.
    let back = "time,temperature_c\n2026-04-05T01:00,15\n2026-04-05T02:00,14\n2026-04-05T02:30,13.5\n\
                2026-04-05T02:00,13\n2026-04-05T02:30,12.5\n2026-04-05T03:00,12\n";
    let found = read("Australia/Sydney", back).unwrap();
    let minutes: Vec<_> = found
        .readings()
        .windows(2)
        .map(|pair| (pair[1].at - pair[0].at).num_minutes())
        .collect();
    assert_eq!(minutes, [60, 30, 30, 30, 30]);
    assert!(
        found
            .basis()
            .about
            .contains("showed 2026-04-05 02:00:00 twice")
    );
    let on = "time,temperature_c\n2026-10-04T01:00,15\n2026-10-04T02:30,14\n2026-10-04T03:00,13\n";
    let found = read("Australia/Sydney", on).unwrap();
    assert_eq!(found.readings().len(), 2);
    assert!(
        found
            .basis()
            .about
            .contains("never showed 2026-10-04 02:30:00")
    );
    // With an offset there is nothing to guess.
    let on = on.replace(",1", "+11:00,1");
    let found = read("Australia/Sydney", &on).unwrap();
    assert_eq!(found.readings().len(), 3);
    assert!(!found.basis().about.contains("never"));
}

#[test]
fn of_several_files_the_later_counts() {
    let first = file(
        "a.csv",
        "time,temperature_c\n2026-07-20T06:00,9\n2026-07-20T07:00,10\n",
    );
    let second = file(
        "b.csv",
        "time,temperature_c\n2026-07-20T07:00,12\n2026-07-20T08:00,13\n",
    );
    let hours = Hours::from_texts(zone("UTC"), &[first, second]).unwrap();
    let found: Vec<_> = hours
        .readings()
        .iter()
        .map(|hour| hour.temperature_c)
        .collect();
    assert_eq!(found, [9.0, 12.0, 13.0]);
}

#[test]
fn empty_cells_are_gaps_and_wrong_ones_are_named() {
    let text = "time,temperature_c,rain_mm\n2026-07-20T06:00,,1\n2026-07-20T07:00,10,\n";
    let hours = read("UTC", text).unwrap();
    assert_eq!(
        (hours.readings().len(), hours.readings()[0].rain_mm),
        (1, None)
    );
    for (text, code, words) in [
        ("", "bad_table", "columns `time` and `temperature_c`"),
        ("time,temperature_c\n", "not_enough_data", "no readings"),
        (
            "time,rain_mm\n2026-07-20T06:00,1\n",
            "bad_table",
            "no readings by the hour",
        ),
        (
            "time,temperature\n2026-07-20T06:00,9\n",
            "bad_table",
            "does not say its unit",
        ),
        (
            "time,temperature_c,rain\n2026-07-20T06:00,9,1\n",
            "bad_table",
            "\"rain\" does not say its unit",
        ),
        (
            "time,temperature_c\n2026-07-20,9\n",
            "bad_cell",
            "date and time",
        ),
        ("time,temperature_c\n3/4 06:00,9\n", "bad_cell", "line 2"),
        (
            "time,temperature_c\n2026-07-20T06:00,warm\n",
            "bad_cell",
            "\"warm\" is not a number",
        ),
        (
            "time,temperature_c\n2026-07-20T06:00,\"1,200\"\n",
            "bad_cell",
            "1,200",
        ),
        (
            "time,temperature_c\n2026-07-20T06:00,99\n",
            "out_of_range",
            "99",
        ),
        (
            "time,temperature_c\n2026-07-20T06:00,9\n2026-07-20T06:00,9\n",
            "",
            "",
        ),
        (
            "{\"time\": [\"x\"], \"temperature_c\": [9]}",
            "bad_table",
            "time[0]",
        ),
        ("{\"time\": [", "unreadable", "f"),
        (
            "{\"timezone\": \"Mars/Base\", \"time\": [\"2026-07-20T06:00\"], \"temperature_c\": [9]}",
            "unknown_zone",
            "Mars/Base",
        ),
    ] {
        let found = read("UTC", text);
        if code.is_empty() {
            assert_eq!(found.unwrap().readings().len(), 1);
            continue;
        }
        let error = found.unwrap_err();
        assert_eq!(error.code(), code, "{text}: {error}");
        assert!(error.to_string().contains(words), "{text}: {error}");
    }
    let long = " ".repeat(MOST_HOURS_BYTES + 1);
    assert_eq!(read("UTC", &long).unwrap_err().code(), "too_large");
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_panic(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = read("Australia/Sydney", &String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn no_text_like_a_table_makes_the_reader_panic(
        text in "(time|temperature_c|rain_in|[,;\t\"\r\n|]|[-0-9.,]{0,5}|2026-0[1-9]-[0-2][1-9]T0[0-9]:00|[Z°]){0,60}",
    ) {
        let _ = read("Australia/Sydney", &format!("time,temperature_c\n{text}"));
        let _ = read("Australia/Sydney", &text);
    }

    #[test]
    fn what_is_written_is_read_again(
        values in prop::collection::vec(-30.0..50.0_f64, 1..60),
        start in 0_i64..2_000_000_000,
    ) {
        let mut text = String::from("time,temperature_c\n");
        let mut expected = Vec::new();
        for (n, value) in values.iter().enumerate() {
            let at = DateTime::from_timestamp(start + 3600 * n as i64, 0).unwrap();
            let at = civil::in_zone(at, zone("Australia/Lord_Howe"));
            text += &format!("{},{value}\n", at.to_rfc3339());
            expected.push((at.to_rfc3339(), *value));
        }
        let hours = read("Australia/Lord_Howe", &text).unwrap();
        prop_assert_eq!(shown(&hours), expected);
    }
}
