use std::borrow::Cow;

use chrono::{Datelike, Days, NaiveDate};
use proptest::prelude::*;

use super::*;
use crate::bee::built_in;
use crate::climate::grid::DAY_TO_DAY_CORRELATION;
use crate::climate::{Climate, DailyRecords, DayRecord, Forecast, ForecastDay, MonthlyNormals};
use crate::weather::{RainChances, Spread, Weather};
use crate::{Bee, Site};

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn lismore() -> Site {
    Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
}

fn small() -> Bee {
    built_in("tetragonula_carbonaria").unwrap()
}

/// Invented: the same minimum and maximum all year.
fn steady(minimum_c: f64, maximum_c: f64) -> Climate {
    Climate::from_normals(
        MonthlyNormals::new([minimum_c; 12], [maximum_c; 12], None, "invented").unwrap(),
    )
}

fn forecast(first: NaiveDate, days: &[(f64, f64, f64)]) -> Forecast {
    let days = first.iter_days().zip(days);
    Forecast::new(
        days.map(|(date, (low, high, rain))| ForecastDay {
            date,
            minimum_c: *low,
            maximum_c: *high,
            rain_mm: Some(*rain),
            wind_m_s: None,
        })
        .collect(),
    )
    .unwrap()
}

fn flying(counts: [f64; 3]) -> Wait {
    Wait::new(WaitUnit::FlyingDays, counts, "invented").unwrap()
}

fn warm(base_c: f64, counts: [f64; 3]) -> Wait {
    let upper_c = None;
    Wait::new(WaitUnit::DegreeDays { base_c, upper_c }, counts, "invented").unwrap()
}

fn runs_out(outcome: WaitOutcome) -> (DateRange, RestsOn) {
    match outcome {
        WaitOutcome::RunsOut {
            dates, rests_on, ..
        } => (dates, rests_on),
        never => panic!("{never:?}"),
    }
}

fn after(start: NaiveDate, dates: DateRange) -> [i64; 3] {
    [dates.earliest, dates.best, dates.latest].map(|date| (date - start).num_days())
}

#[test]
fn civil_days_are_counted_from_the_day_after_and_need_no_weather() {
    let (site, climate, bee) = (lismore(), steady(5.0, 10.0), small());
    let weather = Weather::new(&site, &climate, &bee);
    let wait = Wait::new(WaitUnit::Days, [365.0, 456.5, 547.0], "invented").unwrap();
    let start = date("2026-10-04");
    let (dates, rests_on) = runs_out(run(&wait, &DateRange::on(start), &weather).unwrap());
    assert_eq!(after(start, dates), [365, 457, 547]);
    assert_eq!(rests_on.normal_days, 457);
}

#[test]
fn the_day_that_apia_skipped_is_not_counted() {
    let site = Site::new(-13.83, -171.76, 2.0, "Pacific/Apia").unwrap();
    let (climate, bee) = (steady(23.0, 30.0), small());
    let weather = Weather::new(&site, &climate, &bee);
    let start = date("2011-12-28");
    for unit in [WaitUnit::Days, WaitUnit::FlyingDays] {
        let wait = Wait::new(unit, [2.0; 3], "invented").unwrap();
        let (dates, _) = runs_out(run(&wait, &DateRange::on(start), &weather).unwrap());
        assert_eq!(dates, DateRange::on(date("2011-12-31")));
    }
}

#[test]
fn a_cold_snap_of_the_forecast_stops_the_clock_of_flying_days() {
    let (site, bee) = (lismore(), small());
    let week = [
        (12.0, 26.0, 0.0),
        (6.0, 14.0, 0.0),
        (6.0, 13.0, 0.0),
        (12.0, 25.0, 30.0),
        (12.0, 26.0, 0.0),
        (12.0, 26.0, 0.0),
    ];
    let start = date("2026-09-30");
    let climate = steady(14.0, 27.0).with_forecast(forecast(date("2026-10-01"), &week));
    let weather = Weather::new(&site, &climate, &bee);
    let wait = flying([2.0; 3]);
    // Flying are 1 and 5 October, across the change of clocks on the 4th.
    let (dates, rests_on) = runs_out(run(&wait, &DateRange::on(start), &weather).unwrap());
    assert_eq!(dates, DateRange::on(date("2026-10-05")));
    assert_eq!(
        rests_on,
        RestsOn {
            forecast_days: 5,
            ..Default::default()
        }
    );
}

#[test]
fn what_has_been_recorded_has_passed_whatever_the_season() {
    let (site, bee) = (lismore(), small());
    let start = date("2026-06-30");
    let days = (date("2026-07-01").iter_days().take(20)).map(|date| {
        let flies = [3, 9, 15].contains(&date.day());
        DayRecord {
            date,
            minimum_c: Some(8.0),
            maximum_c: Some(if flies { 24.0 } else { 15.0 }),
            rain_mm: None,
            wind_m_s: None,
        }
    });
    let records = DailyRecords::new(days.collect(), "invented").unwrap();
    let climate = Climate::from_records(records, &site);
    let weather = Weather::new(&site, &climate, &bee);
    let wait = flying([1.0, 2.0, 3.0]);
    let (dates, rests_on) = runs_out(run(&wait, &DateRange::on(start), &weather).unwrap());
    assert_eq!(after(start, dates), [3, 9, 15]);
    assert_eq!(rests_on.recorded_days, 9);
}

/// Invented: in year k of 30 the first k days of October are too cold to fly, all others warm.
fn thirty_years() -> DailyRecords {
    let days = date("1990-01-01")
        .iter_days()
        .take_while(|date| date.year() < 2021)
        .map(|date| {
            let cold = date.month() == 10 && i64::from(date.day()) <= i64::from(date.year() - 1990);
            DayRecord {
                date,
                minimum_c: Some(if cold { 6.0 } else { 15.0 }),
                maximum_c: Some(if cold { 12.0 } else { 28.0 }),
                rain_mm: None,
                wind_m_s: None,
            }
        });
    DailyRecords::new(days.collect(), "invented").unwrap()
}

#[test]
fn thirty_recorded_years_are_run_one_by_one() {
    let site = lismore();
    let (climate, bee) = (Climate::from_records(thirty_years(), &site), small());
    let weather = Weather::new(&site, &climate, &bee);
    let start = date("2030-09-30");
    // 1990 to 2019 have the year after 30 September complete; 2020 has not. Three of the thirty
    // years are one in ten: the third mildest has 2 cold days; the 15th has 14, the 27th has 26.
    let (dates, rests_on) =
        runs_out(run(&flying([2.0; 3]), &DateRange::on(start), &weather).unwrap());
    assert_eq!(after(start, dates), [2 + 2, 14 + 2, 26 + 2]);
    assert_eq!(rests_on.normal_days, 16);
    // Degree-days above 20 °C: a warm day of 15 to 28 °C is the same in every year.
    let daily = crate::thermal::DegreeDays::new(Default::default(), 20.0, None)
        .unwrap()
        .of(15.0, 28.0)
        .unwrap();
    let wait = warm(20.0, [2.5 * daily; 3]);
    let (dates, _) = runs_out(run(&wait, &DateRange::on(start), &weather).unwrap());
    assert_eq!(after(start, dates), [2 + 3, 14 + 3, 26 + 3]);
}

#[test]
fn a_forecast_lies_over_every_recorded_year() {
    let site = lismore();
    let cold = [(6.0, 12.0, 0.0); 8];
    let climate = Climate::from_records(thirty_years(), &site)
        .with_forecast(forecast(date("2030-10-01"), &cold));
    let bee = small();
    let weather = Weather::new(&site, &climate, &bee);
    let start = date("2030-09-30");
    let (dates, rests_on) =
        runs_out(run(&flying([2.0; 3]), &DateRange::on(start), &weather).unwrap());
    assert_eq!(after(start, dates), [8 + 2, 14 + 2, 26 + 2]);
    assert_eq!(rests_on.forecast_days, 8);
}

#[test]
fn a_polar_winter_and_a_cold_place_never_let_the_clock_run_out() {
    let tromso = Site::new(69.65, 18.96, 10.0, "Europe/Oslo").unwrap();
    let bee = small();
    for (site, climate, expected) in [
        (lismore(), steady(0.0, 8.0), 0.0..1.0),
        (tromso, steady(16.0, 26.0), 200.0..320.0),
    ] {
        let weather = Weather::new(&site, &climate, &bee);
        let start = DateRange::on(date("2026-03-01"));
        let outcome = run(&flying([340.0; 3]), &start, &weather).unwrap();
        let WaitOutcome::NeverWithinAYear { counted, reason } = outcome else {
            panic!("{outcome:?}");
        };
        assert!(expected.contains(&counted), "{counted}");
        assert_eq!(reason.code, "too_few_flying_days");
        let outcome = run(&warm(38.0, [100.0; 3]), &start, &weather).unwrap();
        let WaitOutcome::NeverWithinAYear { reason, .. } = outcome else {
            panic!("{outcome:?}");
        };
        assert_eq!(reason.code, "too_little_warmth");
    }
    // From the polar night on it takes until the sun comes back.
    let climate = steady(16.0, 26.0);
    let weather = Weather::new(&tromso, &climate, &bee);
    let start = DateRange::on(date("2026-12-01"));
    let (dates, _) = runs_out(run(&flying([1.0; 3]), &start, &weather).unwrap());
    assert!(
        dates.best > date("2027-01-20") && dates.best < date("2027-03-01"),
        "{dates:?}"
    );
}

#[test]
fn on_the_equator_a_day_is_like_the_next() {
    let site = Site::new(0.0, 32.5, 1150.0, "Africa/Kampala").unwrap();
    let (climate, bee) = (steady(17.0, 28.0), small());
    let weather = Weather::new(&site, &climate, &bee);
    for start in ["2026-01-10", "2026-06-21", "2026-12-31"].map(date) {
        let (dates, _) = runs_out(run(&flying([5.0; 3]), &DateRange::on(start), &weather).unwrap());
        assert_eq!(after(start, dates), [5, 5, 5]);
    }
}

/// Chance of a flying day on the days after a start.
fn chances(weather: &Weather<'_>, start: NaiveDate, days: u64) -> Vec<f64> {
    (1..=days)
        .map(|day| {
            let from_sd = weather.flies_from_sd(start + Days::new(day)).unwrap();
            let flies = weather.spells().at_least(from_sd);
            flies
                .iter()
                .zip(weather.spells().shares)
                .map(|(a, b)| a * b)
                .sum()
        })
        .collect()
}

#[test]
fn independent_days_give_the_distribution_that_counting_all_cases_gives() {
    let (site, climate, bee) = (lismore(), steady(9.0, 19.4), small());
    let mut spread = Spread::default();
    spread.day_to_day_correlation.value = 0.0;
    let weather = Weather::with(site, Cow::Borrowed(&climate), Cow::Borrowed(&bee), spread);
    let start = date("2026-08-15");
    let chances = chances(&weather, start, 14);
    assert!(
        chances.iter().all(|p| (0.3..0.8).contains(p)),
        "{chances:?}"
    );
    for count in 1..=4_u32 {
        // Each of the 2^14 courses of flying and other days with its chance.
        let mut by_then = [0.0; 14];
        for case in 0_u32..1 << 14 {
            let (mut chance, mut flown, mut reached_on) = (1.0, 0, None);
            for (day, p) in chances.iter().enumerate() {
                let flies = case >> day & 1 == 1;
                chance *= if flies { *p } else { 1.0 - p };
                flown += u32::from(flies);
                if flown == count && reached_on.is_none() {
                    reached_on = Some(day);
                }
            }
            for sum in reached_on.map_or(&mut [][..], |day| &mut by_then[day..]) {
                *sum += chance;
            }
        }
        let expected = [0.1, 0.5, 0.9].map(|share| {
            let day = by_then.iter().position(|chance| *chance >= share).unwrap();
            day as i64 + 1
        });
        let wait = flying([f64::from(count); 3]);
        let (dates, _) = runs_out(run(&wait, &DateRange::on(start), &weather).unwrap());
        assert_eq!(after(start, dates), expected, "{count} flying days");
    }
}

/// Normal numbers from a linear congruential generator (Knuth's MMIX constants, from memory).
struct Dice(u64);

impl Dice {
    fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        (-2.0 * self.uniform().ln()).sqrt() * (2.0 * std::f64::consts::PI * self.uniform()).cos()
    }
}

/// Days until `count` is reached in 4,000 simulated courses of correlated departures, by quantile.
fn simulated(r: f64, mut of_day: impl FnMut(usize, f64) -> f64, count: f64) -> [i64; 3] {
    let mut dice = Dice(7);
    let mut lengths: Vec<i64> = (0..4000)
        .map(|_| {
            let (mut x, mut sum, mut day) = (dice.normal(), 0.0, 0);
            while sum < count && day < 366 {
                sum += of_day(day, x);
                day += 1;
                x = r * x + (1.0 - r * r).sqrt() * dice.normal();
            }
            day as i64
        })
        .collect();
    lengths.sort_unstable();
    [399, 1999, 3599].map(|rank| lengths[rank])
}

#[test]
fn spells_come_close_to_simulated_weather() {
    let (site, climate, bee) = (lismore(), steady(9.0, 20.9), small());
    let weather = Weather::new(&site, &climate, &bee);
    let start = date("2026-08-15");
    let from_sd: Vec<f64> = (1..=366)
        .map(|day| weather.flies_from_sd(start + Days::new(day)).unwrap())
        .collect();
    for count in [2.0, 5.0, 12.0] {
        let expected = simulated(
            DAY_TO_DAY_CORRELATION,
            |day, x| f64::from(u8::from(x >= from_sd[day])),
            count,
        );
        let (dates, _) =
            runs_out(run(&flying([count; 3]), &DateRange::on(start), &weather).unwrap());
        for (a, b) in after(start, dates).into_iter().zip(expected) {
            assert!(
                (a - b).abs() <= 1,
                "{count}: {dates:?}, simulated {expected:?}"
            );
        }
    }
}

#[test]
fn degree_days_come_close_to_simulated_weather() {
    let (site, climate, bee) = (lismore(), steady(12.0, 24.0), small());
    let weather = Weather::new(&site, &climate, &bee);
    let start = date("2026-08-15");
    let degree_days = crate::thermal::DegreeDays::new(Default::default(), 12.0, None).unwrap();
    let of_day = |_, x: f64| degree_days.of(12.0 + 2.5 * x, 24.0 + 2.5 * x).unwrap();
    for count in [30.0, 120.0, 500.0] {
        let expected = simulated(DAY_TO_DAY_CORRELATION, of_day, count);
        let wait = warm(12.0, [count; 3]);
        let (dates, _) = runs_out(run(&wait, &DateRange::on(start), &weather).unwrap());
        for (a, b) in after(start, dates).into_iter().zip(expected) {
            assert!(
                (a - b).abs() <= 2,
                "{count}: {dates:?}, simulated {expected:?}"
            );
        }
    }
}

fn rain(wet: f64, lost_if_wet: f64) -> Option<RainChances> {
    Some(RainChances {
        wet: [wet; 12],
        lost: [lost_if_wet; 12],
        wet_from_mm: None,
    })
}

#[test]
fn rain_that_may_come_comes_close_to_simulated_weather() {
    let (site, climate, bee) = (lismore(), steady(10.0, 23.0), small());
    let start = date("2026-08-15");
    for (wet, lost_if_wet) in [(0.2, 0.3), (0.5, 0.5), (0.8, 0.7)] {
        let mut weather = Weather::new(&site, &climate, &bee);
        weather.rain = rain(wet, lost_if_wet);
        let from_sd = weather.flies_from_sd(start + Days::new(1)).unwrap();
        for count in [2.0, 5.0, 15.0] {
            let mut dice = Dice(11);
            let mut is_wet = false;
            let flies = |day: usize, x: f64| {
                let stays = if is_wet { 0.25 } else { 0.0 };
                let chance = if day == 0 { wet } else { stays + 0.75 * wet };
                is_wet = dice.uniform() < chance;
                let lost = is_wet && dice.uniform() < lost_if_wet;
                f64::from(u8::from(x >= from_sd && !lost))
            };
            let expected = simulated(DAY_TO_DAY_CORRELATION, flies, count);
            let (dates, _) =
                runs_out(run(&flying([count; 3]), &DateRange::on(start), &weather).unwrap());
            for (a, b) in after(start, dates).into_iter().zip(expected) {
                assert!(
                    (a - b).abs() <= 1,
                    "{wet} {count}: {dates:?}, simulated {expected:?}"
                );
            }
        }
    }
}

#[test]
fn the_chance_of_rain_is_counted_in_and_named() {
    // Singapore: about half of all days are wet, warm all year.
    let site = Site::new(1.35, 103.8, 15.0, "Asia/Singapore").unwrap();
    let (climate, bee) = (Climate::from_location(&site), small());
    let start = DateRange::on(date("2026-12-01"));
    let weather = Weather::new(&site, &climate, &bee);
    let mut dry = Weather::new(&site, &climate, &bee);
    dry.rain = None;
    let wait = flying([10.0; 3]);
    let WaitOutcome::RunsOut { dates, reasons, .. } = run(&wait, &start, &weather).unwrap() else {
        panic!("it is warm")
    };
    let (without, _) = runs_out(run(&wait, &start, &dry).unwrap());
    assert_eq!(after(start.best, without), [10, 10, 10]);
    assert!(after(start.best, dates)[0] >= 11, "{dates:?}");
    assert!(
        (13..=18).contains(&after(start.best, dates)[1]),
        "{dates:?}"
    );
    assert_eq!(reasons[0].code, "rain_chance");
    assert!(
        reasons[0].text().contains("Selker & Haith 1990") && reasons[0].text().contains("5 mm")
    );
    // Days that are known have the rain that they have.
    let week = [(24.0, 31.0, 0.0); 10];
    let climate = climate.with_forecast(forecast(date("2026-12-02"), &week));
    let weather = Weather::new(&site, &climate, &bee);
    let WaitOutcome::RunsOut { dates, reasons, .. } = run(&wait, &start, &weather).unwrap() else {
        panic!("it is warm")
    };
    assert_eq!(after(start.best, dates), [10, 10, 10]);
    assert_eq!(reasons, []);
}

#[test]
fn starts_out_of_order_are_refused() {
    let (site, climate, bee) = (lismore(), steady(9.0, 20.0), small());
    let weather = Weather::new(&site, &climate, &bee);
    let start = DateRange {
        earliest: date("2026-08-15"),
        best: date("2026-08-14"),
        latest: date("2026-08-16"),
    };
    let error = run(&flying([1.0; 3]), &start, &weather).unwrap_err();
    assert_eq!(
        (error.code(), error.field()),
        ("inconsistent", "earliest, best, latest")
    );
    let late = DateRange::on(date("2100-12-29"));
    assert_eq!(
        run(&flying([9.0; 3]), &late, &weather).unwrap_err().code(),
        "out_of_range"
    );
}

/// A waiting time, its unit by number.
fn wait(unit: u8, counts: [f64; 3]) -> Wait {
    match unit {
        0 => Wait::new(WaitUnit::Days, counts, "").unwrap(),
        1 => flying(counts),
        _ => warm(14.0, counts.map(|count| count * 6.0)),
    }
}

/// What a clock gives as a number that grows as it runs longer.
fn lengths(wait: &Wait, start: NaiveDate, climate: &Climate, site: &Site) -> [i64; 3] {
    let bee = small();
    let weather = Weather::new(site, climate, &bee);
    match run(wait, &DateRange::on(start), &weather).unwrap() {
        WaitOutcome::RunsOut { dates, .. } => after(start, dates),
        WaitOutcome::NeverWithinAYear { .. } => [i64::MAX; 3],
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn more_rain_never_ends_a_wait_for_flying_days_earlier(
        maximum_c in 16.0..30.0_f64, wet in 0.0..0.9_f64, lost in 0.0..0.9_f64,
        wetter in 0.0..0.1_f64, more in 0.0..0.1_f64,
        counts in prop::array::uniform3(0.0..20.0_f64),
    ) {
        let mut counts = counts;
        counts.sort_by(f64::total_cmp);
        let (site, climate, bee) = (lismore(), steady(maximum_c - 10.0, maximum_c), small());
        let start = date("2026-08-15");
        let length = |chances: Option<RainChances>| {
            let mut weather = Weather::new(&site, &climate, &bee);
            weather.rain = chances;
            match run(&flying(counts), &DateRange::on(start), &weather).unwrap() {
                WaitOutcome::RunsOut { dates, .. } => after(start, dates),
                WaitOutcome::NeverWithinAYear { .. } => [i64::MAX; 3],
            }
        };
        let dry = length(None);
        let some = length(rain(wet, lost));
        let most = length(rain(wet + wetter, lost + more));
        for i in 0..3 {
            prop_assert!(dry[i] <= some[i] && some[i] <= most[i], "{dry:?} {some:?} {most:?}");
        }
        prop_assert_eq!(length(rain(wet, 0.0)), dry);
    }

    #[test]
    fn colder_or_longer_never_ends_earlier(
        unit in 0_u8..3, latitude in -40.0..40.0_f64, mean in 12.0..30.0_f64,
        swing in 0.0..8.0_f64, range in 4.0..16.0_f64, colder in 0.0..6.0_f64,
        day in 0_u64..365, counts in prop::array::uniform3(0.0..25.0_f64), longer in 0.0..10.0_f64,
        coming in prop::collection::vec((-6.0..6.0_f64, 0.0..8.0_f64), 0..6),
    ) {
        let mut counts = counts;
        counts.sort_by(f64::total_cmp);
        let site = Site::new(latitude, 20.0, 100.0, "UTC").unwrap();
        let start = date("2026-01-01") + Days::new(day);
        let climate = |shift: f64| {
            let month = |offset: f64| -> [f64; 12] {
                std::array::from_fn(|m| {
                    mean + offset - shift + swing * (m as f64 * std::f64::consts::PI / 6.0).cos()
                })
            };
            let base = Climate::from_normals(
                MonthlyNormals::new(month(-range / 2.0), month(range / 2.0), None, "").unwrap(),
            );
            if coming.is_empty() {
                return base;
            }
            let days: Vec<_> = coming
                .iter()
                .map(|(c, rain)| {
                    (mean + c - range / 2.0 - shift, mean + c + range / 2.0 - shift, *rain)
                })
                .collect();
            base.with_forecast(forecast(start + Days::new(1), &days))
        };
        let wait_of = |more: f64| wait(unit, counts.map(|count| count + more));
        let (usual, cold) = (climate(0.0), climate(colder));
        let first = lengths(&wait_of(0.0), start, &usual, &site);
        prop_assert!(first.is_sorted(), "{:?}", first);
        for (what, then) in [
            ("colder", lengths(&wait_of(0.0), start, &cold, &site)),
            ("longer", lengths(&wait_of(longer), start, &usual, &site)),
        ] {
            for (a, b) in first.iter().zip(then) {
                prop_assert!(*a <= b, "{}: {:?} and {:?}", what, first, then);
            }
        }
        let zero = lengths(&wait(unit, [0.0; 3]), start, &usual, &site);
        prop_assert_eq!(zero, [0; 3]);
    }
}
