use proptest::prelude::*;

use super::*;
use crate::bee::built_in;
use crate::climate::grid::{DAY_TO_DAY_CORRELATION, DailySpread};
use crate::climate::{Forecast, ForecastDay, MonthlyNormals};
use crate::light::clear_sky_irradiance_w_m2;
use crate::sun;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn town() -> Site {
    Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
}

/// The same minimum, maximum and rain on the days around a date.
fn steady(site: &Site, around: NaiveDate, low: f64, high: f64, rain: Option<f64>) -> Climate {
    let days = (-3..=3)
        .map(|i| ForecastDay {
            date: around + TimeDelta::days(i),
            minimum_c: low,
            maximum_c: high,
            rain_mm: rain,
            wind_m_s: None,
        })
        .collect();
    Climate::from_location(site).with_forecast(Forecast::new(days).unwrap())
}

fn frame(
    site: &Site,
    bee: &str,
    on: NaiveDate,
    low: f64,
    high: f64,
    rain: Option<f64>,
) -> DayFrame {
    let ephemeris = Ephemeris::with_neighbours(on, on).unwrap();
    let climate = steady(site, on, low, high, rain);
    let days = two_days(&ephemeris, site, &climate, &built_in(bee).unwrap(), on);
    let [_, day] = days.unwrap();
    day
}

fn edges(flight: &Flight) -> (FlightEdge, FlightEdge) {
    match *flight {
        Flight::Possible { first, last, .. } => (first, last),
        ref other => panic!("no flight: {other:?}"),
    }
}

#[test]
fn on_a_cool_morning_warmth_sets_the_first_flight() {
    // Heard & Hendrikz 1993: Tetragonula carbonaria flies above 18 °C and 15 W/m².
    let day = frame(
        &town(),
        "tetragonula_carbonaria",
        date("2026-07-10"),
        8.0,
        24.0,
        None,
    );
    let (first, last) = edges(&day.flight.flight);
    assert_eq!(
        (first.limit, last.limit),
        (FlightLimit::Temperature, FlightLimit::Light)
    );
    assert!((day.curve.temperature_c(first.at) - 18.0).abs() < 0.01);
    let light = sun::position(&town(), last.at.to_utc())
        .unwrap()
        .altitude_deg;
    assert!((clear_sky_irradiance_w_m2(light) - 15.0).abs() < 0.05);
}

#[test]
fn on_a_warm_morning_light_sets_the_first_flight() {
    let day = frame(
        &town(),
        "tetragonula_carbonaria",
        date("2026-01-10"),
        20.0,
        30.0,
        None,
    );
    let (first, last) = edges(&day.flight.flight);
    assert_eq!(
        (first.limit, last.limit),
        (FlightLimit::Light, FlightLimit::Light)
    );
    let altitude = sun::position(&town(), first.at.to_utc())
        .unwrap()
        .altitude_deg;
    assert!((clear_sky_irradiance_w_m2(altitude) - 15.0).abs() < 0.05);
    assert!(day.flight.flying_day && day.flight.flying_hours > 12.0);
}

#[test]
fn cold_days_short_days_and_wet_days_are_no_flying_days() {
    let reason = |low, high, rain| {
        let day = frame(
            &town(),
            "tetragonula_carbonaria",
            date("2026-07-10"),
            low,
            high,
            rain,
        );
        (day.flight.flying_day, day.flight.reason.code.into_owned())
    };
    assert_eq!(reason(5.0, 17.0, None), (false, "too_cold".to_owned()));
    assert_eq!(reason(5.0, 18.3, None), (false, "too_short".to_owned()));
    assert_eq!(
        reason(10.0, 23.0, Some(12.0)),
        (false, "too_wet".to_owned())
    );
    assert_eq!(
        reason(10.0, 23.0, Some(2.0)),
        (true, "long_enough".to_owned())
    );
}

#[test]
fn the_polar_night_is_too_dark() {
    let tromso = Site::new(69.65, 18.96, 10.0, "Europe/Oslo").unwrap();
    let day = frame(
        &tromso,
        "generic_small",
        date("2026-12-21"),
        20.0,
        25.0,
        None,
    );
    assert_eq!(day.flight.flight, Flight::TooDark);
    assert_eq!(day.flight.reason.code, "too_dark");
}

#[test]
fn large_bees_fly_in_the_twilight() {
    let on = date("2026-11-10");
    let day = frame(&town(), "melipona_quadrifasciata", on, 18.0, 28.0, None);
    let (first, _) = edges(&day.flight.flight);
    assert_eq!(first.limit, FlightLimit::Light);
    let sun = crate::sun::sun_day(&town(), on).unwrap();
    assert!(first.at < sun.civil.rise().unwrap());
}

#[test]
fn a_skipped_day_is_stepped_over() {
    let apia = Site::new(-13.83, -171.76, 2.0, "Pacific/Apia").unwrap();
    let climate = Climate::from_location(&apia);
    let bee = built_in("generic_small").unwrap();
    let found = flight_days_within(
        &apia,
        &climate,
        &bee,
        &DayLimits::default(),
        date("2011-12-28"),
        date("2012-01-02"),
    )
    .unwrap();
    let dates: Vec<_> = found.iter().map(|day| day.date.to_string()).collect();
    assert_eq!(
        dates,
        [
            "2011-12-28",
            "2011-12-29",
            "2011-12-31",
            "2012-01-01",
            "2012-01-02"
        ]
    );
    assert!(found.iter().all(|day| day.flying_hours > 8.0));
}

#[test]
fn dates_at_and_beyond_the_ends_are_refused() {
    let climate = Climate::from_location(&town());
    let bee = built_in("generic_small").unwrap();
    for bad in [
        NaiveDate::MIN,
        NaiveDate::MAX,
        crate::civil::FIRST_DATE,
        crate::civil::LAST_DATE,
    ] {
        let error = flight_days_within(&town(), &climate, &bee, &DayLimits::default(), bad, bad)
            .unwrap_err();
        assert_eq!(error.code(), "out_of_range", "{bad}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn warmer_days_never_shorten_the_flight(
        latitude in -45.0..45.0f64,
        day in 0i64..365,
        low in 0.0..22.0f64,
        range in 3.0..18.0f64,
        warmer in 0.0..6.0f64,
        large in any::<bool>(),
    ) {
        let site = Site::new(latitude, 10.0, 0.0, "UTC").unwrap();
        let on = date("2026-01-01") + TimeDelta::days(day);
        let bee = if large { "generic_large" } else { "generic_small" };
        let cool = frame(&site, bee, on, low, low + range, None);
        let warm = frame(&site, bee, on, low + warmer, low + range + warmer, None);
        prop_assert!(warm.flight.flying_hours >= cool.flight.flying_hours - 1e-6);
        if let Flight::Possible { early_first, first, last, late_last } = cool.flight.flight {
            prop_assert!(early_first.at <= first.at && last.at <= late_last.at);
            prop_assert!(first.at < last.at);
            if let Flight::Possible { early_first: earlier, first: warm_first, .. } = warm.flight.flight {
                prop_assert!(earlier.at <= early_first.at && warm_first.at <= first.at);
            }
            let hours = (last.at - first.at).num_milliseconds() as f64 / 3.6e6;
            prop_assert!((hours - cool.flight.flying_hours).abs() < 1e-9);
        }
    }
}

fn of_july(climate: &Climate) -> FlightDay {
    let (site, on) = (town(), date("2026-07-10"));
    let bee = built_in("tetragonula_carbonaria").unwrap();
    let weather = crate::weather::Weather::new(&site, climate, &bee);
    weather.flight(on).unwrap()
}

#[test]
fn a_reading_moves_first_flight_and_seen_bees_bind_it() {
    let site = town();
    let climate = steady(&site, date("2026-07-10"), 8.0, 22.0, None);
    let read = |c: f64| {
        let at = "2026-07-09T22:30:00Z".parse().unwrap();
        crate::climate::Reading::new(at, c).unwrap()
    };
    let times = |climate: &Climate| match of_july(climate).flight {
        Flight::Possible {
            early_first, first, ..
        } => (early_first.at, first.at),
        other => panic!("no flight: {other:?}"),
    };
    let before = times(&climate);
    // What the curve says at 08:30.
    let ephemeris = Ephemeris::with_neighbours(date("2026-07-10"), date("2026-07-10")).unwrap();
    let bee = built_in("tetragonula_carbonaria").unwrap();
    let [_, day] = two_days(&ephemeris, &site, &climate, &bee, date("2026-07-10")).unwrap();
    let expected_c = day.curve.temperature_c(read(0.0).at());
    let as_expected = times(&climate.clone().with_reading(read(expected_c)));
    assert!((as_expected.0 - before.0).abs() <= TimeDelta::milliseconds(1));
    assert!((as_expected.1 - before.1).abs() <= TimeDelta::milliseconds(1));
    let warm = times(&climate.clone().with_reading(read(expected_c + 2.0)));
    assert!(warm.0 < before.0 && warm.1 < before.1);
    let seen = read(expected_c).seen_flying(true);
    let flying = times(&climate.clone().with_reading(seen));
    assert!(flying.0 <= seen.at() && flying.1 == seen.at());
    let quiet = read(18.5).seen_flying(false);
    assert!(times(&climate.with_reading(quiet)).0 >= quiet.at());
}

#[test]
fn hours_are_used_in_place_of_the_curve() {
    let site = town();
    let hour = |hour: u32, c: f64| {
        let at = format!("2026-07-10T{hour:02}:00:00+10:00");
        crate::climate::Hour::new(at.parse().unwrap(), c)
    };
    // A front: warm from 8 h to 10 h, then cool.
    let c = |hour: u32| if (8..=10).contains(&hour) { 20.0 } else { 12.0 };
    let hours = (0..24).map(|at| hour(at, c(at))).collect();
    let hours = crate::climate::Hours::new(site.zone, hours).unwrap();
    let day = of_july(&Climate::from_location(&site).with_hours(hours));
    let (first, last) = edges(&day.flight);
    // 18 °C lies three quarters of the way up from 12 to 20.
    assert_eq!(
        first.at,
        "2026-07-10T07:45:00+10:00".parse::<Instant>().unwrap()
    );
    assert_eq!(
        last.at,
        "2026-07-10T10:15:00+10:00".parse::<Instant>().unwrap()
    );
    assert!((day.flying_hours - 2.5).abs() < 1e-9 && !day.flying_day);
}

/// A normals climate of one temperature all year, with one spread.
fn flat(low: f64, high: f64, sd_c: f64) -> Climate {
    let normals = MonthlyNormals::new([low; 12], [high; 12], None, "invented").unwrap();
    Climate::from_normals(normals)
        .with_spread(DailySpread {
            minimum_sd_c: [sd_c; 12],
            maximum_sd_c: [sd_c; 12],
        })
        .unwrap()
}

fn chances(climate: &Climate, limits: &DayLimits, on: NaiveDate) -> Option<DayChances> {
    let bee = built_in("generic_small").unwrap();
    let days = flight_days_within(&town(), climate, &bee, limits, on, on).unwrap();
    days[0].chances
}

#[test]
fn chances_of_nights_and_days_are_those_of_the_normal_distribution() {
    // Abramowitz & Stegun 1964, table 26.1: 0.8413 at one standard deviation, 0.9772 at two. The
    // generic bee's heat_shade_c is 38 °C.
    let limits = DayLimits::default();
    let found = chances(&flat(10.0, 34.0, 2.0), &limits, date("2026-01-15")).unwrap();
    assert!(
        (found.cold_night - (1.0 - 0.841_345)).abs() < 1e-6,
        "{found:?}"
    );
    assert!(
        (found.hot_day - (1.0 - 0.977_250)).abs() < 1e-6,
        "{found:?}"
    );
    let own = DayLimitOverrides {
        cold_night_c: Some(12.0),
        ..Default::default()
    };
    let limits = DayLimits::with_overrides(&own).unwrap();
    let found = chances(&flat(10.0, 34.0, 2.0), &limits, date("2026-01-15")).unwrap();
    assert!((found.cold_night - 0.841_345).abs() < 1e-6, "{found:?}");
}

#[test]
fn chance_of_a_flying_day_is_the_share_of_shifted_days_that_are() {
    let (site, bee, on) = (
        town(),
        built_in("generic_small").unwrap(),
        date("2026-07-10"),
    );
    let (low, high, sd_c) = (9.0, 20.0, 2.0);
    let found = chances(&flat(low, high, sd_c), &DayLimits::default(), on).unwrap();
    // Every percentile of the normal distribution once, by its definition: days shifted by as much.
    let ephemeris = Ephemeris::with_neighbours(on, on).unwrap();
    let shifted = |shift: f64| {
        let climate = steady(&site, on, low + shift, high + shift, None);
        let [_, day] = two_days(&ephemeris, &site, &climate, &bee, on).unwrap();
        day.flight.flying_day
    };
    // The warmth of the hours needed strays from the usual course too, by 8 % of the range.
    let sd_c = sd_c.hypot(0.08 * (high - low));
    let steps = 4000;
    let step_sd = 8.0 / f64::from(steps);
    let share: f64 = (0..steps)
        .map(|i| -4.0 + (f64::from(i) + 0.5) * step_sd)
        .filter(|x| shifted(x * sd_c))
        .map(|x| (-x * x / 2.0).exp() * step_sd / f64::sqrt(2.0 * std::f64::consts::PI))
        .sum();
    assert!((0.1..0.9).contains(&share));
    assert!((found.flying_day - share).abs() < 1e-3, "{found:?} {share}");
}

#[test]
fn chance_of_a_heat_spell_against_a_simulation() {
    let limits = DayLimits::default();
    let found = chances(&flat(22.0, 36.5, 2.0), &limits, date("2026-01-15")).unwrap();
    // Seasons of days with the correlation of the table, from a fixed seed: the share of days in a
    // run of three or more at 38 °C.
    let mut state = 42_u64;
    let mut uniform = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        ((state >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    };
    let mut normal =
        || (-2.0 * f64::ln(uniform())).sqrt() * (std::f64::consts::TAU * uniform()).cos();
    let (r, days) = (DAY_TO_DAY_CORRELATION, 1_000_000);
    let (mut x, mut run, mut hot, mut in_spells) = (0.0, 0, 0, 0);
    for _ in 0..days {
        x = r * x + f64::sqrt(1.0 - r * r) * normal();
        if 36.5 + 2.0 * x >= 38.0 {
            run += 1;
            hot += 1;
        } else {
            in_spells += if run >= 3 { run } else { 0 };
            run = 0;
        }
    }
    let share = |count: i32| f64::from(count) / f64::from(days);
    assert!((found.hot_day - share(hot)).abs() < 0.002, "{found:?}");
    assert!(
        (found.heat_spell - share(in_spells)).abs() < 0.003,
        "{found:?} {}",
        share(in_spells)
    );
    // A spell of one day is a hot day.
    let own = DayLimitOverrides {
        heat_spell_d: Some(1),
        ..Default::default()
    };
    let limits = DayLimits::with_overrides(&own).unwrap();
    let found = chances(&flat(22.0, 36.5, 2.0), &limits, date("2026-01-15")).unwrap();
    assert!((found.heat_spell - found.hot_day).abs() < 1e-9);
}

#[test]
fn days_that_are_known_have_no_chances() {
    let (on, limits) = (date("2026-07-10"), DayLimits::default());
    assert_eq!(
        chances(&steady(&town(), on, 9.0, 20.0, None), &limits, on),
        None
    );
    let normals = MonthlyNormals::new([9.0; 12], [20.0; 12], None, "invented").unwrap();
    assert_eq!(chances(&normals.into(), &limits, on), None);
    // Three forecast days of 40 °C are a spell, and the day after them may prolong it.
    let hot = steady(&town(), on, 25.0, 40.0, None);
    let after = chances(&hot, &limits, date("2026-07-14")).unwrap();
    assert!((after.heat_spell - after.hot_day).abs() < 1e-6, "{after:?}");
}

#[test]
fn limits_out_of_range_are_refused() {
    let refused = |own: DayLimitOverrides| {
        let error = DayLimits::with_overrides(&own).unwrap_err();
        (error.code(), error.field().to_owned())
    };
    for cold in [f64::NAN, -11.0, 26.0] {
        let own = DayLimitOverrides {
            cold_night_c: Some(cold),
            ..Default::default()
        };
        assert_eq!(refused(own), ("out_of_range", "cold_night_c".to_owned()));
    }
    let own = DayLimitOverrides {
        heat_spell_d: Some(0),
        ..Default::default()
    };
    assert_eq!(refused(own), ("out_of_range", "heat_spell_d".to_owned()));
}
