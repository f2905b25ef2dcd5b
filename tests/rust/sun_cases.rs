//! The sun where calendars and latitudes are awkward, and what must hold everywhere.
#![allow(missing_docs, clippy::unwrap_used, clippy::panic)]

use apiary_almanac::civil::{FIRST_DATE, LAST_DATE, civil_noon};
use apiary_almanac::sun::{
    Crossing, CrossingColumns, CrossingState, NO_EVENT, SunDay, SunLimit, crossing, position,
    sun_day,
};
use apiary_almanac::{Ephemeris, Site};
use chrono::{DateTime, Days, NaiveDate, TimeDelta};
use proptest::prelude::*;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn site(latitude_deg: f64, longitude_deg: f64, zone: &str) -> Site {
    Site::new(latitude_deg, longitude_deg, 0.0, zone).unwrap()
}

fn day(site: &Site, text: &str) -> SunDay {
    sun_day(site, date(text)).unwrap()
}

/// Events on their own dates, as `MM-DD HH:MM`.
fn shown(at: Option<apiary_almanac::Instant>) -> String {
    at.unwrap().format("%m-%d %H:%M").to_string()
}

#[test]
fn both_sides_of_the_date_line() {
    // The same sun a few km apart, two civil dates: Fiji's 21 June is over when Niue's begins.
    let west = day(&site(-17.0, 179.999, "Pacific/Fiji"), "2026-06-21");
    let east = day(&site(-17.0, -179.999, "Pacific/Niue"), "2026-06-21");
    let apart = east.solar_noon - west.solar_noon;
    assert!(
        (apart - TimeDelta::hours(24)).num_seconds().abs() < 20,
        "{apart}"
    );
    for day in [west, east] {
        for at in [
            day.sun.rise().unwrap(),
            day.solar_noon,
            day.sun.set().unwrap(),
        ] {
            assert_eq!(at.date_naive(), date("2026-06-21"), "{at}");
        }
    }
    // +180 and -180 are one meridian.
    let plus = day(&site(5.0, 180.0, "Etc/UTC"), "2026-03-01");
    let minus = day(&site(5.0, -180.0, "Etc/UTC"), "2026-03-01");
    let apart = (plus.solar_noon - minus.solar_noon)
        .num_milliseconds()
        .abs();
    assert!(apart == 0 || apart > 86_000_000, "{plus:?} {minus:?}");
}

#[test]
fn fourteen_hours_ahead() {
    let kiritimati = site(1.87, -157.4, "Pacific/Kiritimati");
    let day = day(&kiritimati, "2026-11-26");
    // Sunrise there on the 26th is on the 25th in UTC; the sun is up about 12 h near the equator.
    assert_eq!(day.sun.rise().unwrap().date_naive(), date("2026-11-26"));
    assert_eq!(
        day.sun.rise().unwrap().to_utc().date_naive(),
        date("2026-11-25")
    );
    assert!(
        (day.day_length_h - 12.05).abs() < 0.05,
        "{}",
        day.day_length_h
    );
}

#[test]
fn a_day_that_never_was() {
    let apia = site(-13.83, -171.77, "Pacific/Apia");
    assert_eq!(
        sun_day(&apia, date("2011-12-30")).unwrap_err().code(),
        "skipped_day"
    );
    let before = day(&apia, "2011-12-29");
    let after = day(&apia, "2011-12-31");
    // The calendar jumped; the sun did not.
    let apart = after.solar_noon - before.solar_noon;
    assert!(
        (apart - TimeDelta::hours(24)).num_seconds().abs() < 40,
        "{apart}"
    );
    assert_eq!(after.sun.rise().unwrap().date_naive(), date("2011-12-31"));

    let dates: Vec<_> = date("2011-12-29").iter_days().take(3).collect();
    let ephemeris = Ephemeris::covering(dates[0], dates[2]).unwrap();
    let columns = ephemeris.crossings(&apia, &dates, SunLimit::Sun).unwrap();
    assert_eq!(columns.state[1], CrossingState::NoSuchDay);
    assert_eq!(columns.rise_unix_ms[1], NO_EVENT);
    assert_eq!(columns.state[2], CrossingState::RisesAndSets);
}

#[test]
fn clocks_forward_and_back() {
    let lismore = site(-28.81, 153.28, "Australia/Sydney");
    // New South Wales, 2026-10-04 at 02:00: an hour less, and offsets change between the days.
    let saturday = day(&lismore, "2026-10-03").sun.rise().unwrap();
    let sunday = day(&lismore, "2026-10-04").sun.rise().unwrap();
    assert_eq!(saturday.offset().local_minus_utc(), 10 * 3600);
    assert_eq!(sunday.offset().local_minus_utc(), 11 * 3600);
    assert!(
        (sunday - saturday - TimeDelta::hours(24))
            .num_seconds()
            .abs()
            < 120
    );
    // 2026-04-05 at 03:00: an hour twice.
    let twice = day(&lismore, "2026-04-05");
    assert_eq!(
        twice.sun.rise().unwrap().offset().local_minus_utc(),
        10 * 3600
    );
    assert_eq!(twice.sun.rise().unwrap().date_naive(), date("2026-04-05"));
    // Greenland changes at 01:00 UTC, which on 2026-03-28 lies before the end of astronomical dusk
    // (DE421 through Skyfield 1.55: 01:16:20 UTC). Each event carries the offset of its own moment.
    let nuuk = site(64.18, -51.72, "America/Nuuk");
    let change = day(&nuuk, "2026-03-28");
    assert_eq!(change.solar_noon.offset().local_minus_utc(), -2 * 3600);
    let dusk = change.astronomical.set().unwrap();
    assert_eq!(&dusk.to_rfc3339()[..19], "2026-03-29T00:16:20");
    assert_eq!(dusk.offset().local_minus_utc(), -3600);
}

#[test]
fn the_poles() {
    for latitude_deg in [90.0, -90.0] {
        let pole = site(latitude_deg, 0.0, "Etc/UTC");
        let june = day(&pole, "2026-06-21");
        let (summer, winter) = (Crossing::AlwaysAbove, Crossing::AlwaysBelow);
        let expected = if latitude_deg > 0.0 { summer } else { winter };
        assert_eq!(june.sun, expected);
        assert!((june.noon_altitude_deg.abs() - 23.43).abs() < 0.02);

        // One sunrise and one sunset in a year, whatever the longitude.
        for longitude_deg in [0.0, 77.0, -180.0] {
            let pole = site(latitude_deg, longitude_deg, "Etc/UTC");
            let dates: Vec<_> = date("2026-01-01").iter_days().take(365).collect();
            let ephemeris = Ephemeris::covering(dates[0], dates[364]).unwrap();
            let year = ephemeris.crossings(&pole, &dates, SunLimit::Sun).unwrap();
            let count = |wanted| year.state.iter().filter(|state| **state == wanted).count();
            assert_eq!(count(CrossingState::OnlyRises), 1);
            assert_eq!(count(CrossingState::OnlySets), 1);
            assert_eq!(count(CrossingState::RisesAndSets), 0);
        }
    }
    // Equinox 2026-03-20 14:46 UTC; 0.83° of declination takes 50.6 h at the pole, so the sun rises
    // on the 18th.
    let rise = day(&site(90.0, 0.0, "Etc/UTC"), "2026-03-18").sun;
    assert!(matches!(rise, Crossing::OnlyRises { .. }), "{rise:?}");
}

#[test]
fn leap_day() {
    let place = site(14.1, 121.2, "Asia/Manila");
    let before = day(&place, "2028-02-28").sun.rise().unwrap();
    let leap = day(&place, "2028-02-29").sun.rise().unwrap();
    let after = day(&place, "2028-03-01").sun.rise().unwrap();
    assert_eq!(leap.date_naive(), date("2028-02-29"));
    for apart in [leap - before, after - leap] {
        assert!(
            (apart - TimeDelta::hours(24)).num_seconds().abs() < 60,
            "{apart}"
        );
    }
    // 1900 and 2100 have none.
    assert!(NaiveDate::from_ymd_opt(2100, 2, 29).is_none());
    assert!(sun_day(&place, date("2100-03-01")).is_ok());
}

#[test]
fn sunset_after_midnight() {
    // Reykjavik keeps UTC at 22° W: around the solstice the sun sets after midnight. DE421 through
    // Skyfield 1.55: 02:55:02 and 00:04:06.
    let reykjavik = site(64.15, -21.94, "Atlantic/Reykjavik");
    let solstice = day(&reykjavik, "2026-06-21");
    assert_eq!(shown(solstice.sun.rise()), "06-21 02:55");
    assert_eq!(shown(solstice.sun.set()), "06-22 00:04");
    assert_eq!(solstice.civil, Crossing::AlwaysAbove);
}

#[test]
fn polar_day_and_night_begin_and_end() {
    // Tromsø 2026. In spring each day has its rise and its set until a day on which the sun sets no
    // more; the events between the states must pair up.
    let tromso = site(69.65, 18.96, "Europe/Oslo");
    let dates: Vec<_> = date("2026-01-01").iter_days().take(365).collect();
    let ephemeris = Ephemeris::covering(dates[0], dates[364]).unwrap();
    let year = ephemeris.crossings(&tromso, &dates, SunLimit::Sun).unwrap();
    let first = |from: usize, state| {
        let index = year.state[from..].iter().position(|s| *s == state).unwrap() + from;
        (index, dates[index])
    };
    use CrossingState::{AlwaysAbove, AlwaysBelow, RisesAndSets};
    assert_eq!(year.state[0], AlwaysBelow);
    let (return_index, sun_returns) = first(0, RisesAndSets);
    let (day_index, polar_day) = first(return_index, AlwaysAbove);
    let (end_index, polar_day_ends) = first(day_index, RisesAndSets);
    let (_, polar_night) = first(end_index, AlwaysBelow);
    // Tromsø by the upper edge on a level horizon, common knowledge there: sun back mid-January,
    // midnight sun from about 18-20 May to 22-26 July, polar night from about 27 November.
    let between = |value: NaiveDate, low: &str, high: &str| {
        assert!(
            (date(low)..=date(high)).contains(&value),
            "{value} not in {low} to {high}"
        );
    };
    between(sun_returns, "2026-01-13", "2026-01-17");
    between(polar_day, "2026-05-17", "2026-05-21");
    between(polar_day_ends, "2026-07-22", "2026-07-28");
    between(polar_night, "2026-11-25", "2026-11-29");
    tiles(&year);
    // Each twilight has its own state.
    let night = day(&tromso, "2026-12-21");
    assert_eq!(night.sun, Crossing::AlwaysBelow);
    assert_eq!(night.day_length_h, 0.0);
    assert!(matches!(night.civil, Crossing::RisesAndSets { .. }));
    let bright = day(&tromso, "2026-06-21");
    assert_eq!(
        (bright.sun, bright.astronomical),
        (Crossing::AlwaysAbove, Crossing::AlwaysAbove)
    );
    assert_eq!(bright.day_length_h, 24.0);
}

#[test]
fn ends_of_the_range() {
    let whole = Ephemeris::covering(FIRST_DATE, LAST_DATE).unwrap();
    for zone in ["Pacific/Kiritimati", "Etc/GMT+12", "Etc/UTC"] {
        for longitude_deg in [-180.0, 0.0, 180.0] {
            for latitude_deg in [-90.0, -30.0, 0.0, 70.0] {
                let place = site(latitude_deg, longitude_deg, zone);
                for end in [FIRST_DATE, LAST_DATE] {
                    // The small table and the large one must agree at the ends.
                    let (small, large) = (
                        sun_day(&place, end).unwrap(),
                        whole.day(&place, end).unwrap(),
                    );
                    let apart = (small.solar_noon - large.solar_noon).num_milliseconds();
                    assert!(apart.abs() <= 1, "{small:?} {large:?}");
                    let kinds = [small, large].map(|day| std::mem::discriminant(&day.sun));
                    assert_eq!(kinds[0], kinds[1]);
                }
                for outside in ["1899-12-31", "2101-01-01"] {
                    let error = sun_day(&place, date(outside)).unwrap_err();
                    assert_eq!(error.code(), "out_of_range");
                }
            }
        }
    }
    let narrow = Ephemeris::covering(date("2026-01-01"), date("2026-01-02")).unwrap();
    let place = site(0.0, 0.0, "Etc/UTC");
    assert!(
        narrow
            .day(&place, date("2026-01-03"))
            .unwrap_err()
            .to_string()
            .contains("2026-01-02")
    );
    assert!(Ephemeris::covering(date("2026-01-02"), date("2026-01-01")).is_err());
    for bad in [f64::NAN, 90.001, -91.0, f64::INFINITY] {
        assert_eq!(
            crossing(&place, date("2026-01-01"), bad)
                .unwrap_err()
                .field(),
            "altitude_deg"
        );
    }
    let far = DateTime::parse_from_rfc3339("2026-02-01T00:00:00Z")
        .unwrap()
        .to_utc();
    assert_eq!(narrow.position(&place, far).unwrap_err().field(), "at");
}

#[test]
fn a_raised_skyline_costs_light_on_its_own_side() {
    let level = site(-28.81, 153.28, "Australia/Sydney");
    let hills = level.with_horizon(10.0, 3.0).unwrap();
    let (open, closed) = (day(&level, "2026-09-20"), day(&hills, "2026-09-20"));
    // Near the equinox the sun climbs 15 cos(28.8°) = 13.1° an hour: 10° and a little cost 48 min.
    let lost = closed.sun.rise().unwrap() - open.sun.rise().unwrap();
    assert!((lost.num_minutes() - 48).abs() <= 2, "{lost}");
    let lost = open.sun.set().unwrap() - closed.sun.set().unwrap();
    assert!((lost.num_minutes() - 16).abs() <= 2, "{lost}");
    // Twilight is a matter of the whole sky.
    assert_eq!(open.civil, closed.civil);
    // At 45° the winter sun of Tasmania never clears the hills.
    let hobart = site(-42.9, 147.3, "Australia/Hobart")
        .with_horizon(45.0, 45.0)
        .unwrap();
    assert_eq!(day(&hobart, "2026-06-21").sun, Crossing::AlwaysBelow);
}

#[test]
fn json_of_a_day() {
    let answer = day(&site(-27.47, 153.03, "Australia/Brisbane"), "2026-11-26");
    let text = serde_json::to_string(&answer).unwrap();
    assert!(
        text.contains(r#""sun":{"kind":"rises_and_sets","rise":"2026-11-26T"#),
        "{text}"
    );
    assert_eq!(serde_json::from_str::<SunDay>(&text).unwrap(), answer);
    let extra = text.replacen('{', r#"{"moon":1,"#, 1);
    assert!(serde_json::from_str::<SunDay>(&extra).is_err());
    let polar = serde_json::to_string(&Crossing::AlwaysAbove).unwrap();
    assert_eq!(polar, r#"{"kind":"always_above"}"#);
}

/// Rises and sets alternate and only grow, through every change of state.
fn tiles(columns: &CrossingColumns) {
    let mut last: Option<(i64, bool)> = None;
    for i in 0..columns.len() {
        let mut events = vec![
            (columns.rise_unix_ms[i], true),
            (columns.set_unix_ms[i], false),
        ];
        events.retain(|event| event.0 != NO_EVENT);
        events.sort_unstable();
        for event in events {
            if let Some(last) = last {
                assert!(event.0 > last.0, "row {i}: {event:?} after {last:?}");
                assert_ne!(event.1, last.1, "row {i}: {event:?} after {last:?}");
            }
            last = Some(event);
        }
        let up = match columns.state[i] {
            CrossingState::AlwaysAbove => Some(true),
            CrossingState::AlwaysBelow => Some(false),
            _ => None,
        };
        if let (Some(up), Some((_, rose))) = (up, last) {
            assert_eq!(up, rose, "row {i}: the state contradicts the last event");
        }
    }
}

fn any_date() -> impl Strategy<Value = NaiveDate> {
    (0..=(LAST_DATE - FIRST_DATE).num_days() as u64).prop_map(|n| FIRST_DATE + Days::new(n))
}

/// A zone whose clocks agree with the sun to within an hour.
fn own_zone(longitude_deg: f64) -> String {
    format!("Etc/GMT{:+}", -(longitude_deg / 15.0).round() as i32)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..Default::default() })]

    #[test]
    fn rise_before_noon_before_set(
        latitude_deg in -66.0..=66.0, longitude_deg in -180.0..=180.0, date in any_date(),
        zone in prop::sample::select(&chrono_tz::TZ_VARIANTS[..]),
    ) {
        let place = site(latitude_deg, longitude_deg, zone.name());
        prop_assume!(civil_noon(date, zone).is_ok());
        let day = sun_day(&place, date).unwrap();
        prop_assert!((day.solar_noon.to_utc() - civil_noon(date, zone).unwrap()).num_seconds().abs() < 43_260);
        for passage in [day.sun, day.civil, day.nautical, day.astronomical] {
            if let Crossing::RisesAndSets { rise, set } = passage {
                prop_assert!(rise < day.solar_noon && day.solar_noon < set);
                prop_assert!(set - rise < TimeDelta::hours(25));
            }
        }
    }

    #[test]
    fn batch_equals_scalar(
        latitude_deg in -90.0..=90.0, longitude_deg in -180.0..=180.0, first in any_date(),
        altitude_deg in -20.0..40.0,
    ) {
        let place = site(latitude_deg, longitude_deg, &own_zone(longitude_deg));
        let dates: Vec<_> = first.iter_days().take_while(|d| *d <= LAST_DATE).step_by(17).take(8).collect();
        let ephemeris = Ephemeris::covering(dates[0], dates[dates.len() - 1]).unwrap();
        let columns = ephemeris
            .crossings_of_sites(&[place, place], &dates, SunLimit::AltitudeDeg(altitude_deg))
            .unwrap();
        for (i, date) in dates.iter().chain(&dates).enumerate() {
            let table = ephemeris.crossing(&place, *date, altitude_deg).unwrap();
            let ms = |at: Option<apiary_almanac::Instant>| at.map_or(NO_EVENT, |t| t.timestamp_millis());
            prop_assert_eq!(columns.rise_unix_ms[i], ms(table.rise()));
            prop_assert_eq!(columns.set_unix_ms[i], ms(table.set()));
            // The single-date path starts from other guesses and may round the other way.
            let alone = crossing(&place, *date, altitude_deg).unwrap();
            prop_assert_eq!(std::mem::discriminant(&alone), std::mem::discriminant(&table));
            for (a, b) in [(alone.rise(), table.rise()), (alone.set(), table.set())] {
                prop_assert!((ms(a) - ms(b)).abs() <= 1, "{:?} {:?}", a, b);
            }
        }
    }

    #[test]
    fn no_event_is_lost_or_doubled(
        latitude_deg in prop_oneof![-90.0..=90.0, 65.0..=90.0, 89.5..=90.0, -90.0..=-89.5],
        longitude_deg in -180.0..=180.0, first in any_date(), altitude_deg in -18.0..10.0,
    ) {
        let place = site(latitude_deg, longitude_deg, &own_zone(longitude_deg));
        let dates: Vec<_> = first.iter_days().take_while(|d| *d <= LAST_DATE).take(370).collect();
        let ephemeris = Ephemeris::covering(dates[0], dates[dates.len() - 1]).unwrap();
        tiles(&ephemeris.crossings(&place, &dates, SunLimit::AltitudeDeg(altitude_deg)).unwrap());
    }

    #[test]
    fn an_event_stands_on_its_altitude(
        latitude_deg in -66.0..=66.0, longitude_deg in -180.0..=180.0, date in any_date(),
        altitude_deg in -18.0..10.0,
    ) {
        let place = site(latitude_deg, longitude_deg, &own_zone(longitude_deg));
        let answer = crossing(&place, date, altitude_deg).unwrap();
        for at in answer.rise().into_iter().chain(answer.set()) {
            // The position is asked of another table, a day further on in the range at the ends.
            let utc = at.to_utc();
            prop_assume!((FIRST_DATE..=LAST_DATE).contains(&utc.date_naive()));
            let reached = position(&place, utc).unwrap().altitude_deg;
            // Half a millisecond of rounding is 2e-6 of a degree.
            prop_assert!((reached - altitude_deg).abs() < 5e-6, "{reached}");
        }
    }
}
