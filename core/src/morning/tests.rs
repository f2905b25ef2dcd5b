use super::*;
use crate::bee::built_in;
use crate::climate::grid::{DailySpread, SAME_DAY_CORRELATION};
use crate::climate::{Forecast, ForecastDay, MonthlyNormals};

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn town() -> Site {
    Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
}

struct Weather {
    low: f64,
    high: f64,
    rain: Option<f64>,
    wind: Option<f64>,
}

const COOL: Weather = Weather {
    low: 9.0,
    high: 23.0,
    rain: Some(0.0),
    wind: Some(2.0),
};
const WARM: Weather = Weather {
    low: 21.0,
    high: 29.0,
    rain: Some(0.0),
    wind: Some(2.0),
};

fn forecast(from: NaiveDate, weather: &[&Weather]) -> Forecast {
    let days = from
        .iter_days()
        .zip(weather)
        .map(|(date, weather)| ForecastDay {
            date,
            minimum_c: weather.low,
            maximum_c: weather.high,
            rain_mm: weather.rain,
            wind_m_s: weather.wind,
        });
    Forecast::new(days.collect()).unwrap()
}

fn on(site: &Site, bee: &str, day: NaiveDate, weather: &Weather) -> Morning {
    let climate = Climate::from_location(site)
        .with_forecast(forecast(day - TimeDelta::days(4), &[weather; 9]));
    let ephemeris = Ephemeris::with_neighbours(day, day).unwrap();
    morning(
        &ephemeris,
        site,
        &climate,
        &built_in(bee).unwrap(),
        &MorningSettings::default(),
        day,
    )
    .unwrap()
}

fn open(morning: &Morning) -> (Instant, Instant, f64) {
    match morning.window {
        MoveWindow::Open {
            from,
            until,
            minutes,
            ..
        } => (from, until, minutes),
        ref none => panic!("{none:?}"),
    }
}

fn none(morning: &Morning) -> (&[Reason], &[Reason]) {
    match &morning.window {
        MoveWindow::None { reasons, help } => (reasons, help),
        open => panic!("{open:?}"),
    }
}

#[test]
fn the_window_reaches_from_civil_dawn_to_the_margin_before_first_flight() {
    let day = date("2026-09-14");
    let found = on(&town(), "tetragonula_carbonaria", day, &COOL);
    let (from, until, length) = open(&found);
    let dawn = crate::sun::sun_day(&town(), day)
        .unwrap()
        .civil
        .rise()
        .unwrap();
    assert_eq!(from, dawn);
    assert_eq!(
        until,
        found.first_flight.unwrap().at - TimeDelta::minutes(15)
    );
    assert!((length - (until - from).num_milliseconds() as f64 / 60_000.0).abs() < 1e-9);
    assert!(found.temperature_c.unwrap() > 9.0 && found.temperature_c.unwrap() < 12.0);
}

#[test]
fn the_entrance_is_closed_after_last_flight_of_the_evening_before() {
    let found = on(&town(), "tetragonula_carbonaria", date("2026-09-14"), &COOL);
    let evening = found.evening_before;
    assert_eq!(evening.from.date_naive(), date("2026-09-13"));
    assert_eq!(
        evening.from - evening.last_flight.unwrap().at,
        TimeDelta::minutes(30)
    );
    assert!(!evening.lamp_needed && evening.from < evening.daylight_until.unwrap());
    // Bees that fly into the dusk come home after civil twilight has ended.
    assert!(
        on(&town(), "generic_large", date("2026-01-14"), &WARM)
            .evening_before
            .lamp_needed
    );
}

#[test]
fn hills_in_the_east_delay_work_light_and_sunrise_but_not_the_bees() {
    let behind_a_hill = town().with_horizon(4.0, 0.0).unwrap();
    let (level, hill) = (
        on(&town(), "tetragonula_carbonaria", date("2026-09-14"), &COOL),
        on(
            &behind_a_hill,
            "tetragonula_carbonaria",
            date("2026-09-14"),
            &COOL,
        ),
    );
    assert!(hill.work_light.unwrap() > level.work_light.unwrap() + TimeDelta::minutes(15));
    assert!(hill.sunrise.unwrap() > level.sunrise.unwrap() + TimeDelta::minutes(15));
    assert_eq!(hill.first_flight, level.first_flight);
}

#[test]
fn a_warm_morning_of_large_bees_has_no_window_and_says_what_helps() {
    let found = on(&town(), "generic_large", date("2026-01-14"), &WARM);
    let (reasons, help) = none(&found);
    assert_eq!(reasons[0].code, "too_early_flight");
    assert!(
        reasons[0].text().contains("before there is light enough"),
        "{}",
        reasons[0].text()
    );
    let codes: Vec<_> = help.iter().map(|h| h.code.as_ref()).collect();
    assert_eq!(codes, ["close_and_lamp", "cooler_morning"]);
}

#[test]
fn without_flight_there_is_time_until_noon() {
    let cold = Weather {
        low: 2.0,
        high: 12.0,
        rain: None,
        wind: None,
    };
    let found = on(&town(), "tetragonula_carbonaria", date("2026-07-14"), &cold);
    let (_, until, _) = open(&found);
    assert_eq!(
        until,
        crate::sun::sun_day(&town(), found.date).unwrap().solar_noon
    );
    assert!(found.first_flight.is_none() && !found.flying_day);
    assert_eq!(found.flight_day_reason.code, "too_cold");
    assert_eq!(found.evening_before.last_flight, None);
}

/// One morning after days of such weather, of a hive that was closed on the evening before and of one that was not.
fn closed_and_open(weather: &Weather, own: MorningOverrides) -> (Morning, Morning) {
    let (site, day) = (town(), date("2026-09-14"));
    let climate = Climate::from_location(&site)
        .with_forecast(forecast(day - TimeDelta::days(4), &[weather; 9]));
    let ephemeris = Ephemeris::with_neighbours(day, day).unwrap();
    let bee = built_in("tetragonula_carbonaria").unwrap();
    let with = |closed: bool| {
        let own = own.with_closed_evening_before(closed);
        let settings = MorningSettings::with_overrides(&own).unwrap();
        morning(&ephemeris, &site, &climate, &bee, &settings, day).unwrap()
    };
    (with(true), with(false))
}

#[test]
fn a_hive_that_stood_open_must_be_moved_before_early_first_flight() {
    let own = MorningOverrides::default();
    let (closed, stood_open) = closed_and_open(&COOL, own);
    let margin = TimeDelta::minutes(15);
    let early = closed.early_first_flight.unwrap().at;
    assert!(early < closed.first_flight.unwrap().at);
    assert_eq!(open(&closed).1, closed.first_flight.unwrap().at - margin);
    match closed.window {
        MoveWindow::Open { careful_from, .. } => assert_eq!(careful_from, Some(early - margin)),
        ref none => panic!("{none:?}"),
    }
    if let MoveWindow::Open { until, .. } = stood_open.window {
        assert_eq!(until, early - margin);
    }
    let lamp = closed.by_lamp.unwrap();
    assert_eq!(lamp.until, closed.work_light.unwrap());
    assert_eq!(lamp.until - lamp.from, TimeDelta::hours(1));
    assert!(stood_open.by_lamp.unwrap().until <= early - margin);
    assert!(stood_open.open_overnight && !closed.open_overnight);
}

#[test]
fn an_open_hive_that_is_moved_by_lamp_is_not_told_to_be_closed() {
    let own = MorningOverrides::default().with_shortest_window_min(30.0);
    let (closed, open) = closed_and_open(&WARM, own);
    assert_eq!(closed.verdict_reason.code, "by_lamp");
    assert_eq!(open.verdict_reason.code, "by_lamp_open");
}

/// Ordinary places of the tropics and subtropics.
const TEN_PLACES: [(f64, f64, f64, &str); 10] = [
    (-28.81, 153.28, 12.0, "Australia/Sydney"),
    (-31.95, 115.86, 20.0, "Australia/Perth"),
    (-12.46, 130.84, 30.0, "Australia/Darwin"),
    (-23.55, -46.63, 760.0, "America/Sao_Paulo"),
    (-8.05, -34.90, 10.0, "America/Recife"),
    (20.97, -89.62, 10.0, "America/Merida"),
    (14.17, 121.24, 40.0, "Asia/Manila"),
    (10.53, 76.21, 10.0, "Asia/Kolkata"),
    (0.32, 32.58, 1200.0, "Africa/Kampala"),
    (3.15, 101.69, 60.0, "Asia/Kuala_Lumpur"),
];

#[test]
fn nearly_every_morning_offers_daylight_or_lamp_to_every_bee() {
    for closed in [true, false] {
        let own = MorningOverrides {
            closed_evening_before: Some(closed),
            ..Default::default()
        };
        let settings = MorningSettings::with_overrides(&own).unwrap();
        let (mut mornings, mut offered) = (0, 0);
        for (latitude, longitude, elevation, zone) in TEN_PLACES {
            let site = Site::new(latitude, longitude, elevation, zone).unwrap();
            let climate = Climate::from_location(&site);
            for bee in crate::bee::bee_names().iter().copied() {
                let bee = built_in(bee).unwrap();
                for month in 1..=12 {
                    let day = NaiveDate::from_ymd_opt(2026, month, 15).unwrap();
                    let ephemeris = Ephemeris::with_neighbours(day, day).unwrap();
                    let found = morning(&ephemeris, &site, &climate, &bee, &settings, day).unwrap();
                    mornings += 1;
                    let by_day = matches!(found.window, MoveWindow::Open { .. });
                    offered += u32::from(by_day || found.by_lamp.is_some());
                }
            }
        }
        assert!(offered * 100 >= mornings * 95, "{offered} of {mornings}");
    }
}

#[test]
fn where_the_sun_does_not_set_there_is_no_dawn() {
    let tromso = Site::new(69.65, 18.96, 10.0, "Europe/Oslo").unwrap();
    let found = on(&tromso, "generic_small", date("2026-06-21"), &COOL);
    assert_eq!(none(&found).0[0].code, "no_dawn");
    assert_eq!(found.work_light, None);
}

#[test]
fn the_evening_before_a_clock_change_has_its_own_offset() {
    // New South Wales sets its clocks forward in the small hours of 4 October 2026.
    let found = on(&town(), "tetragonula_carbonaria", date("2026-10-04"), &COOL);
    assert_eq!(
        found.evening_before.from.offset().local_minus_utc(),
        10 * 3600
    );
    assert_eq!(
        found.work_light.unwrap().offset().local_minus_utc(),
        11 * 3600
    );
}

#[test]
fn the_evening_before_a_skipped_day_is_the_day_before_that() {
    let apia = Site::new(-13.83, -171.76, 2.0, "Pacific/Apia").unwrap();
    let found = on(&apia, "generic_small", date("2011-12-31"), &COOL);
    assert_eq!(found.evening_before.from.date_naive(), date("2011-12-29"));
    assert!(found.work_light.unwrap() - found.evening_before.from < TimeDelta::hours(14));
}

#[test]
fn free_days_come_first_then_points_then_dates() {
    let wet = Weather {
        rain: Some(20.0),
        ..COOL
    };
    let from = date("2026-09-14");
    let weather = [
        &COOL, &COOL, &wet, &COOL, &WARM, &wet, &COOL, &COOL, &COOL, &COOL,
    ];
    let climate = Climate::from_location(&town()).with_forecast(forecast(from, &weather));
    let bee = built_in("tetragonula_carbonaria").unwrap();
    let rank = |free: &[Weekday]| {
        rank_mornings(
            &town(),
            &climate,
            &bee,
            &MorningSettings::default(),
            from,
            10,
            free,
        )
        .unwrap()
    };
    let all = rank(&[]);
    assert_eq!(
        all.iter().map(|m| m.rank).collect::<Vec<_>>(),
        (1..=10).collect::<Vec<_>>()
    );
    assert!(all.windows(2).all(|pair| {
        let closed = |m: &RankedMorning| matches!(m.morning.window, MoveWindow::None { .. });
        (!closed(&pair[0]) && closed(&pair[1])) || pair[0].points >= pair[1].points
    }));
    let wet_days: Vec<_> = all
        .iter()
        .filter(|m| m.morning.rain_mm == Some(20.0))
        .map(|m| m.rank)
        .collect();
    assert!(wet_days.iter().all(|rank| *rank >= 8), "{wet_days:?}");
    assert!(all.iter().all(|m| !m.reasons.is_empty() && m.free));

    let weekend = rank(&[Weekday::Saturday, Weekday::Sunday]);
    // No free day makes up for rain; among those that will do, free days come first.
    let class = |m: &RankedMorning| (m.morning.verdict == Verdict::No, !m.free);
    assert!(weekend.is_sorted_by_key(|m| {
        let open = matches!(m.morning.window, MoveWindow::Open { .. });
        (class(m).0, !open, class(m).1)
    }));
    assert!(
        weekend[2..]
            .iter()
            .all(|m| m.reasons.iter().any(|r| r.code == "not_free")
                || m.free
                || matches!(m.morning.window, MoveWindow::None { .. }))
    );
}

#[test]
fn too_many_and_too_few_mornings_are_refused() {
    let climate = Climate::from_location(&town());
    let bee = built_in("generic_small").unwrap();
    for (first, days) in [
        ("2026-09-14", 0),
        ("2026-09-14", 61),
        ("2100-12-30", 10),
        ("1900-01-01", 1),
    ] {
        let error = rank_mornings(
            &town(),
            &climate,
            &bee,
            &MorningSettings::default(),
            date(first),
            days,
            &[],
        )
        .unwrap_err();
        assert_eq!(error.code(), "out_of_range", "{first} {days}");
    }
}

#[test]
fn settings_are_checked() {
    let own = MorningOverrides {
        margin_min: Some(20.0),
        ..Default::default()
    };
    let settings = MorningSettings::with_overrides(&own).unwrap();
    assert_eq!(
        (
            settings.margin_min.value,
            settings.margin_min.source.as_str()
        ),
        (20.0, "set by the user")
    );
    let bad = |own: MorningOverrides| MorningSettings::with_overrides(&own).unwrap_err();
    let error = bad(MorningOverrides {
        margin_min: Some(f64::NAN),
        ..Default::default()
    });
    assert_eq!(
        (error.code(), error.field()),
        ("out_of_range", "margin_min")
    );
    let error = bad(MorningOverrides {
        coldest_work_c: Some(25.0),
        warmest_work_c: Some(20.0),
        ..Default::default()
    });
    assert_eq!(error.code(), "inconsistent");
}

#[test]
fn chances_of_a_mean_morning_are_shares_of_shifted_mornings() {
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap();
    // Nights after which large bees may fly before work light.
    let (low, high, sd_c) = (12.0, 24.0, 2.5);
    let normals = MonthlyNormals::new([low; 12], [high; 12], None, "invented").unwrap();
    let climate = Climate::from_normals(normals)
        .with_spread(DailySpread {
            minimum_sd_c: [sd_c; 12],
            maximum_sd_c: [sd_c; 12],
        })
        .unwrap();
    let bee = built_in("generic_large").unwrap();
    let settings = MorningSettings::with_overrides(&MorningOverrides {
        coldest_work_c: Some(11.0),
        ..Default::default()
    })
    .unwrap();
    let on: NaiveDate = "2026-03-10".parse().unwrap();
    let ranked = rank_mornings(&site, &climate, &bee, &settings, on, 1, &[]).unwrap();
    let found = ranked[0].chances.unwrap();

    let ephemeris = Ephemeris::with_neighbours(on, on).unwrap();
    let shifted = |shift: f64| {
        let normals = MonthlyNormals::new([low + shift; 12], [high + shift; 12], None, "").unwrap();
        let climate = Climate::from_normals(normals);
        morning(&ephemeris, &site, &climate, &bee, &settings, on).unwrap()
    };
    let share = |sd_c: f64, passes: &dyn Fn(&Morning) -> bool| -> f64 {
        let step = 8.0 / 2000.0;
        (0..2000)
            .map(|i| -4.0 + (f64::from(i) + 0.5) * step)
            .filter(|x| passes(&shifted(x * sd_c)))
            .map(|x| (-x * x / 2.0).exp() * step / f64::sqrt(std::f64::consts::TAU))
            .sum()
    };
    let mild = share(sd_c, &|m| {
        m.temperature_c.is_some_and(|c| (11.0..=28.0).contains(&c))
    });
    assert!((0.2..0.95).contains(&mild));
    assert!((found.mild_work - mild).abs() < 3e-3, "{found:?} {mild}");
    // The day's mean: two equal deviations with the correlation of one day's.
    let of_mean_c = sd_c * f64::sqrt((1.0 + SAME_DAY_CORRELATION) / 2.0);
    let open = share(of_mean_c, &|m| matches!(m.window, MoveWindow::Open { .. }));
    assert!((0.05..0.95).contains(&open), "{open}");
    assert!((found.window - open).abs() < 3e-3, "{found:?} {open}");
    // Without a spread there are none.
    let normals = MonthlyNormals::new([low; 12], [high; 12], None, "").unwrap();
    let ranked = rank_mornings(&site, &normals.into(), &bee, &settings, on, 1, &[]).unwrap();
    assert_eq!(ranked[0].chances, None);
}
