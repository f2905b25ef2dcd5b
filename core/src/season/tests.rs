use chrono::{Datelike, TimeDelta};

use proptest::prelude::*;

use super::judged::Both;
use super::*;
use crate::bee::built_in;
use crate::civil::{FIRST_DATE, LAST_DATE};
use crate::climate::{
    ClimateInput, DailyRecords, DayRecord, Forecast, ForecastDay, MonthlyNormals,
};
use crate::site::Site;

/// Invented normals of a subtropical coast in the south; the mean passes 18 °C in September and
/// in May.
const SOUTH_MIN: [f64; 12] = [
    21.0, 21.0, 19.5, 16.5, 13.5, 11.0, 9.5, 10.0, 13.0, 16.0, 18.5, 20.0,
];
const SOUTH_MAX: [f64; 12] = [
    29.5, 29.0, 28.0, 26.5, 24.0, 21.5, 21.0, 22.0, 24.5, 26.5, 28.0, 29.0,
];

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A season by the default chance of a date at risk.
fn season(
    climate: &Climate,
    rules: &[Rule],
    first: NaiveDate,
    last: NaiveDate,
    chance: f64,
) -> Result<Season, Error> {
    let settings = SeasonSettings::default()
        .with_rules(rules.to_vec())
        .with_chance(chance);
    let bee = built_in("generic_small").unwrap();
    settings.season(climate, &bee, first, last)
}

fn rules() -> Vec<Rule> {
    default_rules(&built_in("generic_small").unwrap())
}

fn climate(minimum_c: [f64; 12], maximum_c: [f64; 12]) -> Climate {
    MonthlyNormals::new(minimum_c, maximum_c, None, "invented")
        .unwrap()
        .into()
}

fn rotated(values: [f64; 12], months: usize) -> [f64; 12] {
    std::array::from_fn(|m| values[(m + months) % 12])
}

fn windows(season: &Season) -> &[WorkingWindow] {
    match &season.outcome {
        SeasonOutcome::Windows { windows } => windows,
        other => panic!("no windows: {other:?}"),
    }
}

fn year(climate: &Climate, rules: &[Rule]) -> Season {
    season(climate, rules, date("2026-01-01"), date("2026-12-31"), 0.8).unwrap()
}

#[test]
fn a_southern_season_wraps_the_new_year_and_says_why() {
    let found = year(&climate(SOUTH_MIN, SOUTH_MAX), &rules());
    let windows = windows(&found);
    assert_eq!(
        windows.len(),
        2,
        "one that began last year, one that begins this year"
    );
    assert!(windows[0].opens < date("2026-01-01") && windows[0].closes < date("2026-04-15"));
    assert!(windows[1].opens > date("2026-09-01") && windows[1].closes > date("2026-12-31"));
    for window in windows {
        assert_eq!(window.opened_by[0].rule(), Some("warm_enough"));
        assert_eq!(window.closed_by[0].rule(), Some("warm_weeks_ahead"));
        assert_eq!((window.closes - window.opens).num_days() + 1, window.days);
    }
    // The same window seen from its other year.
    assert_eq!(windows[0].opens.month(), windows[1].opens.month());
    assert!((windows[0].days - windows[1].days).abs() <= 1);
}

#[test]
fn the_other_hemisphere_half_a_year_later_is_the_mirror() {
    let south = year(&climate(SOUTH_MIN, SOUTH_MAX), &rules());
    let north = year(
        &climate(rotated(SOUTH_MIN, 6), rotated(SOUTH_MAX, 6)),
        &rules(),
    );
    let (south, north) = (&windows(&south)[1], &windows(&north)[0]);
    // Months are not equally long: half a year of months is 181 to 184 days.
    let shift = (south.opens - north.opens).num_days();
    assert!((179..=186).contains(&shift), "{shift}");
    assert!(
        (south.days - north.days).abs() <= 4,
        "{} {}",
        south.days,
        north.days
    );
}

#[test]
fn coldest_month_at_the_tropical_limit_means_all_year() {
    // Köppen's A climates: coldest month 18 °C or more (AMS Glossary of Meteorology).
    let tropical = climate([18.0; 12], [27.0; 12]);
    assert_eq!(year(&tropical, &rules()).outcome, SeasonOutcome::AllYear);
    let mut cooler = [18.0; 12];
    cooler[6] = 6.0;
    assert_ne!(
        year(&climate(cooler, [27.0; 12]), &rules()).outcome,
        SeasonOutcome::AllYear
    );
}

#[test]
fn no_season_says_how_far_off_it_is() {
    let found = year(&climate([2.0; 12], [14.0; 12]), &rules());
    let SeasonOutcome::None { reasons } = &found.outcome else {
        panic!("{:?}", found.outcome)
    };
    assert_eq!(reasons[0].rule(), Some("warm_enough"));
    assert!(
        reasons[0].text().contains("8.0 °C"),
        "{}",
        reasons[0].text()
    );
    assert_eq!(reasons.last().unwrap().code, "season_would_change");
}

#[test]
fn a_window_that_a_warmer_place_would_not_have_is_not_one_without_an_end() {
    // South of the Sahara: heat closes the season, and a degree more leaves nothing of it.
    let site = crate::Site::new(17.0, -3.0, 270.0, "Africa/Bamako").unwrap();
    let (first, last) = (date("2026-11-01"), date("2027-10-31"));
    let rules = default_rules(&crate::bee::built_in("generic_small").unwrap());
    let climate = Climate::from_location(&site);
    let found = season(&climate, &rules, first, last, 0.8).unwrap();
    let gone: Vec<_> = windows(&found)
        .iter()
        .filter_map(|window| match &window.error_range.as_ref()?.warmer {
            ShiftedWindow::None { reasons } => Some(reasons),
            _ => None,
        })
        .collect();
    assert!(!gone.is_empty());
    for reasons in gone {
        assert_eq!(reasons[0].rule(), Some("not_too_hot"), "{reasons:?}");
    }
    for window in windows(&found) {
        let range = window.error_range.as_ref().unwrap();
        assert_ne!(range.warmer, ShiftedWindow::AllYear);
    }
}

#[test]
fn a_window_without_an_end_says_so() {
    // A tropical height at which the season ends by a hair: a degree more keeps it open all year.
    let always = |c: f64| {
        let normals = MonthlyNormals::new([c - 5.0; 12], [c + 5.0; 12], None, "invented").unwrap();
        Climate::from_normals(normals)
    };
    let (first, last) = (date("2026-01-01"), date("2026-12-31"));
    let asked = always(18.5);
    let rules = default_rules(&crate::bee::built_in("generic_small").unwrap());
    let asked = Asked::following(&asked, &rules, first, last).unwrap();
    let window = WorkingWindow {
        opens: first,
        closes: last,
        days: 365,
        opened_by: Vec::new(),
        closed_by: Vec::new(),
        error_range: None,
    };
    let judged = asked.both(&[0.0, -1.0]).unwrap();
    let criteria = SeasonSettings::default()
        .criteria(&crate::bee::built_in("generic_small").unwrap())
        .unwrap();
    let of = |both: &Both<'_>| {
        let good = both.stretches(&criteria).good;
        let window = std::slice::from_ref(&window);
        both.careful
            .shifted(&good, window, criteria.chance)
            .remove(0)
    };
    assert_eq!(of(&judged[0]), ShiftedWindow::AllYear);
    let ShiftedWindow::None { reasons } = of(&judged[1]) else {
        panic!("17.5 °C all year round is below 18 °C");
    };
    assert_eq!(reasons.len(), 2);
}

#[test]
fn heat_closes_a_window_too() {
    let mut hot = SOUTH_MAX;
    (hot[0], hot[11]) = (41.0, 41.0);
    let found = year(&climate(SOUTH_MIN, hot), &rules());
    assert!(
        windows(&found)
            .iter()
            .any(|w| w.closed_by.iter().any(|r| r.rule() == Some("not_too_hot")))
    );
    assert!(
        windows(&found)
            .iter()
            .any(|w| w.opened_by.iter().any(|r| r.rule() == Some("not_too_hot")))
    );
}

#[test]
fn the_wettest_months_are_barred_when_asked() {
    let rain = [
        300.0, 310.0, 290.0, 90.0, 60.0, 30.0, 10.0, 10.0, 20.0, 50.0, 90.0, 200.0,
    ];
    let normals = MonthlyNormals::new([22.0; 12], [31.0; 12], Some(rain), "invented").unwrap();
    let wet: Climate = normals.into();
    let mut with_bar = rules();
    with_bar.push(wet_months_rule(3).unwrap());
    let found = year(&wet, &with_bar);
    let window = &windows(&found)[0];
    assert_eq!(
        (window.opens, window.closes),
        (date("2026-04-01"), date("2026-12-31"))
    );
    assert_eq!(window.closed_by[0].rule(), Some("outside_wettest_months"));

    let dry = season(
        &climate([22.0; 12], [31.0; 12]),
        &with_bar,
        date("2026-01-01"),
        date("2026-02-01"),
        0.8,
    );
    assert_eq!(dry.unwrap_err().code(), "not_enough_data");
}

#[test]
fn months_of_many_wet_days_are_barred_when_asked() {
    let wet = [
        22.0, 20.0, 21.0, 12.0, 6.0, 2.0, 1.0, 1.0, 3.0, 7.0, 12.5, 17.0,
    ];
    let normals = MonthlyNormals::new([22.0; 12], [31.0; 12], None, "invented").unwrap();
    let wet: Climate = normals.clone().with_wet_days(wet).unwrap().into();
    let settings = |climate: &Climate, text: &str| {
        let settings: SeasonSettings = serde_json::from_str(text).unwrap();
        let bee = built_in("generic_small").unwrap();
        settings.season(climate, &bee, date("2026-01-01"), date("2026-12-31"))
    };
    // The bar itself passes: April has 12, November a little more.
    let found = settings(&wet, r#"{"most_wet_days": 12}"#).unwrap();
    let window = &windows(&found)[0];
    assert_eq!(
        (window.opens, window.closes),
        (date("2026-04-01"), date("2026-10-31"))
    );
    let closed_by = &window.closed_by[0];
    assert_eq!(closed_by.rule(), Some("few_wet_days"));
    assert_eq!(closed_by.text(), "more than 12 wet days in the month");
    // Off by default.
    let found = settings(&wet, "{}").unwrap();
    assert_eq!(found.outcome, SeasonOutcome::AllYear);
    // The same as a rule of one's own.
    let own = r#"{"rules": [{"name": "own", "source": "own count",
        "test": {"kind": "monthly_wet_days", "at_most_days": 12}}]}"#;
    assert_eq!(
        windows(&settings(&wet, own).unwrap())[0].closes,
        date("2026-10-31")
    );
    let error = settings(&wet, r#"{"most_wet_days": 32}"#).unwrap_err();
    assert_eq!(
        (error.code(), error.field()),
        ("out_of_range", "few_wet_days.at_most_days")
    );
    let error = settings(&normals.into(), r#"{"most_wet_days": 12}"#).unwrap_err();
    assert_eq!(
        (error.code(), error.field()),
        ("not_enough_data", "few_wet_days")
    );
    // The grid of the default says from how much rain it counts.
    let site = Site::new(14.6, 121.0, 15.0, "Asia/Manila").unwrap();
    let found = settings(&Climate::from_location(&site), r#"{"most_wet_days": 12}"#).unwrap();
    let closed_by = &windows(&found)[0].closed_by;
    assert!(
        closed_by[0].text().contains("wet days of 0.1 mm or more"),
        "{closed_by:?}"
    );
}

/// Ten invented years; in the even ones the cool season lasts until the end of October.
fn ten_years() -> Climate {
    let cool_until = |year: i32| if year % 2 == 0 { 305 } else { 244 };
    let days = date("2010-01-01")
        .iter_days()
        .take_while(|d| *d <= date("2019-12-31"))
        .map(|d| {
            let cool = (120..cool_until(d.year())).contains(&d.ordinal());
            DayRecord {
                date: d,
                minimum_c: Some(if cool { 8.0 } else { 18.0 }),
                maximum_c: Some(if cool { 18.0 } else { 28.0 }),
                rain_mm: None,
                wind_m_s: None,
            }
        })
        .collect();
    let site = Site::new(-27.0, 153.0, 10.0, "Australia/Brisbane").unwrap();
    Climate::from_records(DailyRecords::new(days, "invented").unwrap(), &site)
}

#[test]
fn records_give_the_share_of_years() {
    let open = |day: &str, chance: f64| {
        let day = date(day);
        let found = season(&ten_years(), &rules(), day, day, chance).unwrap();
        matches!(found.outcome, SeasonOutcome::Windows { .. })
    };
    // 1 October is warm in the five odd years only; 1 December in all ten, of which 2019 cannot be
    // judged and does not count: its weeks ahead lie beyond the records.
    assert!(open("2026-10-01", 0.5) && !open("2026-10-01", 0.51));
    assert!(open("2026-12-01", 1.0));
    assert!(!open("2026-08-01", 0.01));
}

#[test]
fn a_window_from_records_depends_on_the_chance() {
    let opens = |chance: f64| {
        let found = season(
            &ten_years(),
            &rules(),
            date("2026-07-01"),
            date("2027-06-30"),
            chance,
        );
        windows(&found.unwrap())[0].clone()
    };
    let (likely, even) = (opens(0.8), opens(0.5));
    // Cool until day 244 (1 September) in one half of the years, until 305 in the other.
    assert!(
        (date("2026-09-01")..date("2026-09-15")).contains(&even.opens),
        "{}",
        even.opens
    );
    assert!(
        (date("2026-10-28")..date("2026-11-12")).contains(&likely.opens),
        "{}",
        likely.opens
    );
    assert!(
        likely.opened_by[0].text().ends_with("% of years"),
        "{:?}",
        likely.opened_by
    );
}

#[test]
fn records_with_too_many_gaps_are_refused() {
    let days = (1..=28)
        .map(|d| DayRecord {
            date: NaiveDate::from_ymd_opt(2020, 2, d).unwrap(),
            minimum_c: Some(20.0),
            maximum_c: Some(30.0),
            rain_mm: None,
            wind_m_s: None,
        })
        .collect();
    let site = Site::new(-27.0, 153.0, 10.0, "Australia/Brisbane").unwrap();
    let few = Climate::from_records(DailyRecords::new(days, "invented").unwrap(), &site);
    let error = season(&few, &rules(), date("2026-01-01"), date("2026-12-31"), 0.8).unwrap_err();
    assert_eq!(error.code(), "not_enough_data");
}

#[test]
fn a_warm_forecast_opens_the_window_earlier() {
    let base = climate(SOUTH_MIN, SOUTH_MAX);
    let before =
        windows(&season(&base, &rules(), date("2026-08-01"), date("2027-07-31"), 0.8).unwrap())[0]
            .opens;
    let warm = (0..10)
        .map(|i| ForecastDay {
            date: before - TimeDelta::days(12 - i),
            minimum_c: 18.0,
            maximum_c: 30.0,
            rain_mm: None,
            wind_m_s: None,
        })
        .collect();
    let base = base.with_forecast(Forecast::new(warm).unwrap());
    let found = season(&base, &rules(), date("2026-08-01"), date("2027-07-31"), 0.8).unwrap();
    assert!(windows(&found)[0].opens < before);
}

#[test]
fn bad_questions_are_refused() {
    let any = climate(SOUTH_MIN, SOUTH_MAX);
    let code = |first: NaiveDate, last: NaiveDate, rules: &[Rule], chance: f64| {
        season(&any, rules, first, last, chance).unwrap_err().code()
    };
    let (a, b) = (date("2026-01-01"), date("2026-12-31"));
    assert_eq!(code(b, a, &rules(), 0.8), "inconsistent");
    assert_eq!(code(a, b, &[], 0.8), "out_of_range");
    for chance in [0.0, -1.0, 1.01, f64::NAN] {
        assert_eq!(code(a, b, &rules(), chance), "out_of_range");
    }
    assert_eq!(code(NaiveDate::MIN, b, &rules(), 0.8), "out_of_range");
    assert_eq!(code(a, NaiveDate::MAX, &rules(), 0.8), "out_of_range");
    let mut odd = rules();
    odd[0].test = RuleTest::Temperature {
        quantity: Quantity::Mean,
        at_least_c: Some(f64::NAN),
        at_most_c: None,
        over_days: 14,
    };
    assert_eq!(code(a, b, &odd, 0.8), "out_of_range");
    odd[0].test = RuleTest::Temperature {
        quantity: Quantity::Mean,
        at_least_c: Some(30.0),
        at_most_c: Some(20.0),
        over_days: 14,
    };
    assert_eq!(code(a, b, &odd, 0.8), "inconsistent");
    assert!(wet_months_rule(0).is_err() && wet_months_rule(12).is_err());
}

#[test]
fn rules_round_trip_and_refuse_unknown_fields() {
    let text = serde_json::to_string(&rules()).unwrap();
    assert_eq!(serde_json::from_str::<Vec<Rule>>(&text).unwrap(), rules());
    let odd = text.replacen("\"over_days\"", "\"over_weeks\"", 1);
    let message = serde_json::from_str::<Vec<Rule>>(&odd)
        .unwrap_err()
        .to_string();
    assert!(message.contains("over_weeks"), "{message}");
}

#[test]
fn the_ends_of_the_calendar() {
    let any = climate(SOUTH_MIN, SOUTH_MAX);
    let first = season(&any, &rules(), FIRST_DATE, FIRST_DATE, 0.8).unwrap();
    assert_eq!(windows(&first)[0].opens, FIRST_DATE);
    assert!(windows(&first)[0].opened_by.is_empty());
    let last = season(&any, &rules(), LAST_DATE, LAST_DATE, 0.8).unwrap();
    assert_eq!(windows(&last)[0].closes, LAST_DATE);
}

fn open_days(found: &Season) -> i64 {
    match &found.outcome {
        SeasonOutcome::AllYear => i64::MAX,
        SeasonOutcome::None { .. } => 0,
        SeasonOutcome::Windows { windows } => windows.iter().map(|w| w.days).sum(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_stricter_rule_never_widens(
        mean in 5.0..30.0f64,
        swing in 0.0..12.0f64,
        range in 4.0..16.0f64,
        limit in 8.0..26.0f64,
        stricter in 0.0..5.0f64,
        weeks in 1u16..20,
        more_weeks in 0u16..15,
    ) {
        let wave = |m: usize| mean + swing * (m as f64 * std::f64::consts::TAU / 12.0).cos();
        let any = climate(
            std::array::from_fn(|m| wave(m) - range / 2.0),
            std::array::from_fn(|m| wave(m) + range / 2.0),
        );
        let rules = |at_least_c: f64, weeks: u16| vec![
            Rule {
                name: "warm".to_owned(),
                test: RuleTest::Temperature {
                    quantity: Quantity::Mean,
                    at_least_c: Some(at_least_c),
                    at_most_c: None,
                    over_days: 14,
                },
                at_risk: None,
                source: "test".to_owned(),
            },
            Rule {
                name: "ahead".to_owned(),
                test: RuleTest::WarmWeeksAhead {
                    quantity: Quantity::Maximum,
                    at_least_c,
                    weeks,
                    averaged_weeks: 4,
                },
                at_risk: None,
                source: "test".to_owned(),
            },
        ];
        let loose = year(&any, &rules(limit, weeks));
        prop_assert!(open_days(&year(&any, &rules(limit + stricter, weeks))) <= open_days(&loose));
        prop_assert!(open_days(&year(&any, &rules(limit, weeks + more_weeks))) <= open_days(&loose));
    }
}

/// The season of a year of a place by its coordinates alone, from July in the south.
fn season_of(latitude_deg: f64, longitude_deg: f64, elevation_m: f64, bee: &str) -> Season {
    let site = Site::new(latitude_deg, longitude_deg, elevation_m, "Etc/UTC").unwrap();
    let (first, last) = if latitude_deg < 0.0 {
        (date("2026-07-01"), date("2027-06-30"))
    } else {
        (date("2026-01-01"), date("2026-12-31"))
    };
    let settings = SeasonSettings::default();
    let bee = built_in(bee).unwrap();
    settings
        .season(&Climate::from_location(&site), &bee, first, last)
        .unwrap()
}

#[test]
fn published_and_practised_months_are_good_or_at_risk() {
    let at = |latitude_deg, longitude_deg, elevation_m| {
        season_of(latitude_deg, longitude_deg, elevation_m, "generic_small")
    };
    let state = |season: &Season, day: &str| season.state_of(date(day)).unwrap();
    let (porto_alegre, curitiba, sydney) = (
        at(-30.03, -51.23, 10.0),
        at(-25.43, -49.27, 930.0),
        at(-33.87, 151.21, 20.0),
    );
    // October to March: Nogueira-Neto 1997, p. 208, for southern and south-eastern Brazil.
    for place in [
        &porto_alegre,
        &curitiba,
        &at(-27.6, -48.55, 10.0),
        &at(-23.55, -46.63, 760.0),
    ] {
        for day in date("2026-10-01")
            .iter_days()
            .take_while(|day| *day <= date("2027-03-31"))
        {
            assert_ne!(place.state_of(day), Some(DateState::Closed), "{day}");
        }
    }
    // First divisions of the year in Sydney: early October (common practice, no source).
    for day in ["2026-10-01", "2026-10-10"] {
        assert_ne!(state(&sydney, day), DateState::Closed, "{day}");
    }
    // Less than four weeks after the published beginning.
    assert!(windows(&curitiba)[0].opens < date("2026-10-29"));
    for place in [&porto_alegre, &curitiba, &sydney] {
        for day in place.first.iter_days().take_while(|day| *day <= place.last) {
            if [6, 7].contains(&day.month()) {
                assert_ne!(place.state_of(day), Some(DateState::Good), "{day}");
            }
        }
        for stretch in place
            .states
            .iter()
            .filter(|of| of.state == DateState::AtRisk)
        {
            assert!(stretch.days <= AT_RISK_DAYS as i64, "{stretch:?}");
            assert!(!stretch.why.is_empty());
        }
    }
}

fn published_at(latitude_deg: f64, longitude_deg: f64, bee: &str) -> Vec<PublishedSeason> {
    let site = Site::new(latitude_deg, longitude_deg, 100.0, "Etc/UTC").unwrap();
    let bee = built_in(bee).unwrap();
    published(
        &site,
        &bee,
        &season_of(latitude_deg, longitude_deg, 100.0, &bee.name),
    )
}

#[test]
fn published_rows_come_with_their_months_and_sources() {
    let first =
        |latitude_deg, longitude_deg, bee| published_at(latitude_deg, longitude_deg, bee).remove(0);
    // Nogueira-Neto 1997, p. 208: October to March in the south, south-east and centre-west.
    let brazil = first(-25.43, -49.27, "generic_small");
    assert_eq!(
        (brazil.kind, brazil.mark),
        (PublishedKind::Divide, PublishedMark::Publication)
    );
    assert_eq!(brazil.months, [10, 11, 12, 1, 2, 3]);
    assert!(brazil.source.starts_with("Nogueira-Neto 1997"));
    assert!(
        brazil.said.text().contains("October to March"),
        "{}",
        brazil.said.text()
    );
    // Costa & Imperatriz-Fonseca 2019: July and August in Carajás, for M. seminigra. There it is warm
    // all year, so that the computed season says more.
    let carajas = first(-6.06, -50.2, "melipona_seminigra");
    assert_eq!(
        (carajas.months.as_slice(), carajas.of_this_bee),
        (&[7, 8][..], true)
    );
    assert_eq!(carajas.against[0].code, "good_by_numbers");
    assert!(!first(-6.06, -50.2, "generic_small").of_this_bee);
    // Nisha 2001: queen cells and males from November to March in Kerala.
    let kerala = first(9.5, 76.5, "tetragonula_iridipennis");
    assert_eq!(
        (kerala.kind, kerala.months.as_slice()),
        (PublishedKind::QueensAndMales, &[11, 12, 1, 2, 3][..])
    );
    // Fajardo & Cervancia 2003: February and March in the Philippines.
    assert_eq!(first(14.17, 121.24, "generic_small").months, [2, 3]);
    // Common practice, no source: October to March in New South Wales.
    let sydney = first(-33.87, 151.21, "generic_small");
    assert_eq!(
        (sydney.mark, sydney.months[0]),
        (PublishedMark::Practice, 10)
    );
    // Searched for and not found.
    assert_eq!(
        first(3.1, 101.7, "generic_medium").mark,
        PublishedMark::Unknown
    );
    // Nothing is said of a place beyond all regions.
    assert!(published_at(60.0, 10.0, "generic_small").is_empty());
    for (name, latitude_deg, longitude_deg) in [
        ("plebeia_droryana", -30.0, -51.2),
        ("geotrigona_mombuca", -21.2, -47.8),
    ] {
        if built_in(name).is_ok() {
            assert!(first(latitude_deg, longitude_deg, name).of_this_bee);
        }
    }
}

#[test]
fn all_year_comes_with_the_wet_months() {
    // Kuala Lumpur by coordinates alone.
    let found = season_of(3.13, 101.69, 40.0, "generic_small");
    assert_eq!(found.outcome, SeasonOutcome::AllYear);
    let rain = found.rain.unwrap();
    assert!(!rain.wet_months.is_empty() && rain.said.text().contains("Wet months"));
    // One setting leaves months out, by the rains too.
    let site = Site::new(3.13, 101.69, 40.0, "Etc/UTC").unwrap();
    let bar = BarRains {
        counted_from: RainsEdge::Start,
        shift_months: 0,
        months: 2,
    };
    let settings = SeasonSettings::default().with_bar_rains(bar);
    let bee = built_in("generic_small").unwrap();
    let (first, last) = (date("2026-01-01"), date("2026-12-31"));
    let found = settings
        .season(&Climate::from_location(&site), &bee, first, last)
        .unwrap();
    let closed = found
        .states
        .iter()
        .filter(|of| of.state == DateState::Closed);
    let days: i64 = closed.clone().map(|of| of.days).sum();
    assert!((59..=62).contains(&days), "{days}");
    for stretch in closed {
        assert_eq!(stretch.why[0].code, "rains");
    }
}

#[test]
fn cold_nights_are_at_risk_for_a_bee_that_they_harm() {
    // Warm days and cold nights: south-east Queensland, not while nights are below 10 °C (a keeper's
    // page: common practice, no source).
    let bee = built_in("tetragonula_carbonaria").unwrap();
    let inland: Climate = climate([8.0; 12], [30.0; 12]);
    let state = |bee: &Bee| {
        let day = date("2026-05-01");
        let found = SeasonSettings::default()
            .season(&inland, bee, day, day)
            .unwrap();
        (found.states[0].state, found.states[0].why.clone())
    };
    let (found, why) = state(&bee);
    assert_eq!(found, DateState::Closed);
    assert_eq!(why[0].rule(), Some("nights_not_cold"));
    let (found, _) = state(&built_in("generic_small").unwrap());
    assert_eq!(found, DateState::Good);
}

#[test]
fn a_chance_of_risk_above_that_of_good_is_refused() {
    let settings = SeasonSettings::default()
        .with_chance(0.6)
        .with_at_risk_chance(0.7);
    let bee = built_in("generic_small").unwrap();
    let (first, last) = (date("2026-01-01"), date("2026-12-31"));
    let any = climate(SOUTH_MIN, SOUTH_MAX);
    let error = settings.season(&any, &bee, first, last).unwrap_err();
    assert_eq!(
        (error.code(), error.field()),
        ("inconsistent", "at_risk_chance")
    );
    // A lower chance of a good date alone brings that of a date at risk down with it.
    let settings = SeasonSettings::default().with_chance(0.3);
    let found = settings.season(&any, &bee, first, last).unwrap();
    assert_eq!((found.chance, found.at_risk_chance), (0.3, 0.3));
}

#[test]
fn an_edge_has_the_range_of_its_window() {
    let found = season_of(-25.43, -49.27, 930.0, "generic_small");
    assert_eq!(found.states[0].begins, None);
    for stretch in &found.states[1..] {
        let range = stretch.begins.unwrap();
        let (earliest, latest) = (range.earliest.unwrap(), range.latest.unwrap());
        assert!(
            earliest < stretch.first && stretch.first < latest,
            "{stretch:?}"
        );
    }
}

/// The states of a season: that they follow each other without a gap, and what each date is.
fn check_states(found: &Season) -> Vec<DateState> {
    let mut next = found.first;
    for (number, stretch) in found.states.iter().enumerate() {
        assert_eq!(stretch.first, next);
        assert_eq!((stretch.last - stretch.first).num_days() + 1, stretch.days);
        assert!(number == 0 || found.states[number - 1].state != stretch.state);
        assert_eq!(stretch.why.is_empty(), stretch.state == DateState::Good);
        next = stretch.last.succ_opt().unwrap();
    }
    assert_eq!(found.states.last().unwrap().last, found.last);
    let days = found.first.iter_days().take_while(|day| *day <= found.last);
    let states: Vec<_> = days.map(|day| found.state_of(day).unwrap()).collect();
    // Good are the dates of the windows, good or at risk those of the wider ones.
    let days = found.first.iter_days();
    for (day, state) in days.zip(&states) {
        let within = |outcome: &SeasonOutcome| match outcome {
            SeasonOutcome::AllYear => true,
            SeasonOutcome::None { .. } => false,
            SeasonOutcome::Windows { windows } => {
                windows.iter().any(|w| (w.opens..=w.closes).contains(&day))
            }
        };
        assert_eq!(within(&found.outcome), *state == DateState::Good, "{day}");
        assert_eq!(within(&found.wider), *state != DateState::Closed, "{day}");
    }
    states
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn states_partition_the_year_and_risk_lies_between(
        latitude in -45.0..45.0f64,
        longitude in -180.0..180.0f64,
        elevation in 0.0..2500.0f64,
    ) {
        let found = season_of(latitude, longitude, elevation, "generic_small");
        check_states(&found);
        // From a good date to a closed one leads a date at risk: temperature changes by the day.
        for pair in found.states.windows(2) {
            prop_assert!(pair.iter().any(|stretch| stretch.state == DateState::AtRisk), "{:?}", pair);
        }
        // Between a good and a closed one it is short.
        for stretches in found.states.windows(3) {
            let ends = [stretches[0].state, stretches[2].state];
            if stretches[1].state == DateState::AtRisk && ends[0] != ends[1] {
                prop_assert!(stretches[1].days <= AT_RISK_DAYS as i64);
            }
        }
    }

    #[test]
    fn where_it_is_warmer_cold_closes_no_date(
        mean in 8.0..18.0f64,
        swing in 1.0..8.0f64,
        warmer_c in 0.1..4.0f64,
    ) {
        // Nowhere hotter than 35 °C, and 38 °C is the limit.
        let wave = |c: f64, m: usize| c + swing * (m as f64 * std::f64::consts::TAU / 12.0).cos();
        let states = |c: f64| {
            let normals = MonthlyNormals::new(
                std::array::from_fn(|m| wave(c, m) - 5.0),
                std::array::from_fn(|m| wave(c, m) + 5.0),
                None,
                "invented",
            );
            let input = ClimateInput::default().with_normals(normals.unwrap());
            // The spread of the grid, so that dates have chances.
            let site = Site::new(-25.0, 152.0, 20.0, "Etc/UTC").unwrap();
            let climate = Climate::from_input(&site, &input).unwrap();
            let bee = built_in("generic_small").unwrap();
            let (first, last) = (date("2026-07-01"), date("2027-06-30"));
            let found = SeasonSettings::default().season(&climate, &bee, first, last).unwrap();
            check_states(&found)
        };
        for (cooler, warmer) in states(mean).into_iter().zip(states(mean + warmer_c)) {
            prop_assert!(warmer as u8 <= cooler as u8);
        }
    }
}
