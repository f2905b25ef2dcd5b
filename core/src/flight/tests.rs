use proptest::prelude::*;

use super::*;
use crate::bee::built_in;
use crate::climate::{Forecast, ForecastDay};
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
    day_frame(&ephemeris, site, &climate, &built_in(bee).unwrap(), on).unwrap()
}

fn edges(flight: &Flight) -> (FlightEdge, FlightEdge) {
    match *flight {
        Flight::Possible { first, last } => (first, last),
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
        22.0,
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
    let day = frame(
        &town(),
        "melipona_quadrifasciata",
        date("2026-11-10"),
        18.0,
        28.0,
        None,
    );
    let (first, _) = edges(&day.flight.flight);
    assert_eq!(first.limit, FlightLimit::Light);
    assert!(first.at < day.sun.civil.rise().unwrap());
}

#[test]
fn a_skipped_day_is_stepped_over() {
    let apia = Site::new(-13.83, -171.76, 2.0, "Pacific/Apia").unwrap();
    let climate = Climate::from_location(&apia);
    let bee = built_in("generic_small").unwrap();
    let found = flight_days(
        &apia,
        &climate,
        &bee,
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
        let error = flight_days(&town(), &climate, &bee, bad, bad).unwrap_err();
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
        if let Flight::Possible { first, last } = cool.flight.flight {
            prop_assert!(first.at < last.at);
            let hours = (last.at - first.at).num_milliseconds() as f64 / 3.6e6;
            prop_assert!((hours - cool.flight.flying_hours).abs() < 1e-9);
        }
    }
}
