use chrono::{Datelike, Days};

use super::*;
use crate::climate::{Forecast, ForecastDay, MonthlyNormals};

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn lismore() -> Site {
    Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
}

/// Invented: the same minimum and maximum all year.
fn steady(minimum_c: f64, maximum_c: f64) -> MonthlyNormals {
    MonthlyNormals::new([minimum_c; 12], [maximum_c; 12], None, "invented").unwrap()
}

const FINE: (f64, f64, f64) = (12.0, 27.0, 0.0);
const COLD: (f64, f64, f64) = (5.0, 14.0, 0.0);
const WET: (f64, f64, f64) = (15.0, 24.0, 22.0);

/// A forecast of so many days of each weather.
fn forecast(first: NaiveDate, spells: &[(u32, (f64, f64, f64))]) -> Forecast {
    let weather = spells
        .iter()
        .flat_map(|(days, weather)| (0..*days).map(move |_| *weather));
    Forecast::new(
        first
            .iter_days()
            .zip(weather)
            .map(|(date, (low, high, rain))| ForecastDay {
                date,
                minimum_c: low,
                maximum_c: high,
                rain_mm: Some(rain),
                wind_m_s: None,
            })
            .collect(),
    )
    .unwrap()
}

fn request(distance_m: f64, first: &str) -> RelocationRequest {
    RelocationRequest {
        site: lismore(),
        first: date(first),
        distance_m,
        bee: BeeOverrides {
            based_on: Some("tetragonula_carbonaria".to_owned()),
            ..Default::default()
        },
        climate: ClimateInput {
            normals: Some(steady(12.0, 27.0)),
            ..Default::default()
        },
        way: None,
        total_turn_deg: None,
        settings: Default::default(),
        mornings: Default::default(),
        hive_weight_kg: None,
    }
}

fn stages(answer: &Relocation) -> &StagedMove {
    match &answer.course {
        Course::Staged(moved) => moved,
        other => panic!("{other:?}"),
    }
}

fn far(answer: &Relocation) -> &FarMove {
    match &answer.course {
        Course::FarAndReturn(moved) => moved,
        other => panic!("{other:?}"),
    }
}

fn best(answer: &Relocation) -> Vec<String> {
    let dates = stages(answer).stages.iter().map(|stage| stage.dates.best);
    dates.map(|date| date.to_string()[5..].to_owned()).collect()
}

fn codes(reasons: &[Reason]) -> Vec<&str> {
    reasons.iter().map(|reason| reason.code.as_ref()).collect()
}

fn warned(answer: &Relocation, code: &str) -> bool {
    answer.cautions.iter().any(|caution| caution.code == code)
}

#[test]
fn half_a_metre_a_day_as_published() {
    // Nogueira-Neto 1997, p. 118: about 0.5 m a day.
    let mut request = request(4.0, "2026-11-02");
    request.settings.flying_days_between = Some(1.0);
    let answer = relocation(&request).unwrap();
    let dates = best(&answer);
    assert_eq!(dates.len(), 8);
    assert_eq!((dates[0].as_str(), dates[7].as_str()), ("11-02", "11-09"));
    let metres: Vec<_> = stages(&answer)
        .stages
        .iter()
        .map(|s| s.distance_so_far_m)
        .collect();
    assert_eq!(metres, [0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0]);
    assert_eq!(RelocationSettings::default().stage_m.value, 0.5);
}

#[test]
fn a_stage_every_second_day_in_flying_weather() {
    // Common practice, no source: 0.5 to 1 m every 1 to 2 days.
    let answer = relocation(&request(2.0, "2026-11-02")).unwrap();
    assert_eq!(answer.way, Way::Staged);
    assert_eq!(best(&answer), ["11-02", "11-04", "11-06", "11-08"]);
    let mut long = request(2.0, "2026-11-02");
    long.settings.stage_m = Some(1.0);
    assert_eq!(best(&relocation(&long).unwrap()), ["11-02", "11-04"]);
    for stage in &stages(&answer).stages {
        let dates = stage.dates;
        assert_eq!((dates.earliest, dates.latest), (dates.best, dates.best));
        assert_eq!(stage.window.from.date_naive(), dates.best);
        assert!(stage.window.from < stage.window.until);
    }
    assert!(answer.finish.is_some() && stages(&answer).stopped.is_empty());
}

#[test]
fn a_cold_snap_holds_the_rest_and_says_why() {
    let mut request = request(2.0, "2026-09-14");
    let spells = [(3, FINE), (4, COLD), (9, FINE)];
    request.climate.forecast = Some(forecast(date("2026-09-13"), &spells));
    let answer = relocation(&request).unwrap();
    // Fine to the 15th, cold from the 16th to the 19th. The second stage would be on the 16th.
    assert_eq!(best(&answer), ["09-14", "09-20", "09-22", "09-24"]);
    let held = &stages(&answer).stages[1].reasons;
    assert_eq!(codes(held), ["after", "held_by_cold", "long_enough"]);
    assert!(
        held[1]
            .text()
            .contains("4 days from Wed 16 Sep 2026 to Sat 19 Sep 2026"),
        "{}",
        held[1].text()
    );
    assert_eq!(stages(&answer).stages[1].rests_on.forecast_days, 6);
    assert!(
        codes(&stages(&answer).stages[2].reasons)
            .iter()
            .all(|code| !code.starts_with("held"))
    );
    let finish = answer.finish.unwrap();
    assert_eq!((finish.earliest, finish.latest), (finish.best, finish.best));
}

#[test]
fn a_wet_spell_holds_the_first_stage_and_a_cold_one_the_next() {
    let mut request = request(1.0, "2026-09-14");
    let spells = [(1, FINE), (3, WET), (1, FINE), (2, COLD), (9, FINE)];
    request.climate.forecast = Some(forecast(date("2026-09-13"), &spells));
    let answer = relocation(&request).unwrap();
    assert_eq!(best(&answer), ["09-17", "09-21"]);
    let first = &stages(&answer).stages[0].reasons;
    assert_eq!(
        codes(first),
        ["first_flying_day", "held_by_rain", "long_enough"]
    );
    assert!(first[1].text().contains("22 mm"), "{}", first[1].text());
    assert_eq!(
        codes(&stages(&answer).stages[1].reasons),
        ["after", "held_by_cold", "long_enough"]
    );
}

#[test]
fn the_turn_is_shared_out_over_the_stages() {
    let mut request = request(1.2, "2026-11-02");
    request.total_turn_deg = Some(-90.0);
    let answer = relocation(&request).unwrap();
    let turns: Vec<_> = stages(&answer)
        .stages
        .iter()
        .map(|s| s.turned_so_far_deg)
        .collect();
    assert_eq!(turns, [Some(-30.0), Some(-60.0), Some(-90.0)]);
    let last = stages(&answer).stages.last().unwrap().distance_so_far_m;
    assert!((last - 1.2).abs() < 1e-12);
}

#[test]
fn clocks_that_change_in_between_change_no_date() {
    // New South Wales sets its clocks forward on 4 October 2026.
    let answer = relocation(&request(2.0, "2026-10-01")).unwrap();
    assert_eq!(best(&answer), ["10-01", "10-03", "10-05", "10-07"]);
    let offsets: Vec<_> = stages(&answer)
        .stages
        .iter()
        .map(|stage| stage.window.from.offset().local_minus_utc() / 3600)
        .collect();
    assert_eq!(offsets, [10, 10, 11, 11]);
}

#[test]
fn where_the_sun_stays_down_stages_wait_for_it() {
    let mut request = request(1.0, "2026-12-01");
    request.site = Site::new(69.65, 18.96, 10.0, "Europe/Oslo").unwrap();
    let answer = relocation(&request).unwrap();
    let first = &stages(&answer).stages[0];
    assert!(first.dates.best > date("2027-01-20"), "{:?}", first.dates);
    assert!(codes(&first.reasons).contains(&"cool_season"));
}

#[test]
fn on_the_equator_the_year_makes_no_difference() {
    for first in ["2026-03-20", "2026-09-22"] {
        let mut request = request(1.5, first);
        request.site = Site::new(0.0, 32.5, 1150.0, "Africa/Kampala").unwrap();
        request.climate.normals = Some(steady(14.0, 27.0));
        let answer = relocation(&request).unwrap();
        assert_eq!(answer.finish.unwrap().best, date(first) + Days::new(4));
    }
}

#[test]
fn large_bees_in_warm_air_need_a_lamp() {
    let mut request = request(1.0, "2026-01-12");
    request.bee.based_on = Some("generic_large".to_owned());
    request.climate.normals = Some(steady(23.0, 30.0));
    let answer = relocation(&request).unwrap();
    assert_eq!(best(&answer), ["01-12", "01-14"]);
    let stage = &stages(&answer).stages[0];
    assert!(codes(&stage.reasons).contains(&"by_lamp"));
    assert_eq!((stage.window.until - stage.window.from).num_minutes(), 60);
    let dark = answer
        .cautions
        .iter()
        .find(|caution| caution.code == "dark")
        .unwrap();
    assert!(dark.because().unwrap().contains("Mon 12 Jan 2026"));
}

/// Invented: thirty Septembers, in year k of which days 3 to 2 + k/3 are too cold to fly.
#[test]
fn thirty_recorded_years_give_a_range() {
    let mut text = "date,minimum_c,maximum_c\n".to_owned();
    for day in date("1990-01-01").iter_days() {
        if day.year() == 2021 {
            break;
        }
        let length = (day.year() as u32 - 1990) / 3;
        let cold = day.month() == 9 && (3..3 + length).contains(&day.day());
        let (low, high, _) = if cold { COLD } else { FINE };
        text += &format!("{day},{low},{high}\n");
    }
    let mut request = request(1.0, "2030-09-01");
    request.climate = ClimateInput {
        records_csv: Some(crate::climate::TextFile::new("invented", text)),
        ..Default::default()
    };
    let answer = relocation(&request).unwrap();
    let (moved, first) = (stages(&answer), DateRange::on(date("2030-09-01")));
    assert_eq!(moved.stages[0].dates, first);
    // The third mildest of thirty years has no cold days, the 15th has 4, the 27th has 8.
    let dates = moved.stages[1].dates;
    assert_eq!(
        [dates.earliest, dates.best, dates.latest].map(|date| date.day()),
        [3, 7, 11]
    );
}

#[test]
fn the_way_follows_from_the_distance_and_the_range_of_the_bee() {
    for (bee, distance_m, way, code) in [
        ("tetragonula_carbonaria", 20.0, Way::Staged, "near"),
        (
            "tetragonula_carbonaria",
            20.5,
            Way::FarAndReturn,
            "within_range",
        ),
        // The manual's distances: Nogueira-Neto 1997, p. 118. That H. itama forages within 500 m (Benedick
        // et al. 2021) is no limit: Rusdimansyah et al. 2024 advise 1,100 m at least. Nine in ten fail at
        // 749 to 916 m in T. iridipennis (Layek et al. 2021), at up to 3,071 m in M. seminigra (Costa et
        // al. 2021), at up to 9,736 m in M. fasciculata (Nunes-Silva et al. 2020).
        (
            "tetragonula_carbonaria",
            1490.0,
            Way::FarAndReturn,
            "within_range",
        ),
        (
            "tetragonula_carbonaria",
            1500.0,
            Way::AtOnce,
            "beyond_range",
        ),
        (
            "heterotrigona_itama",
            600.0,
            Way::FarAndReturn,
            "within_range",
        ),
        (
            "heterotrigona_itama",
            900.0,
            Way::FarAndReturn,
            "within_range",
        ),
        ("heterotrigona_itama", 3000.0, Way::AtOnce, "beyond_range"),
        (
            "tetragonula_iridipennis",
            800.0,
            Way::FarAndReturn,
            "within_range",
        ),
        (
            "melipona_seminigra",
            2700.0,
            Way::FarAndReturn,
            "within_range",
        ),
        (
            "melipona_quadrifasciata",
            2600.0,
            Way::FarAndReturn,
            "within_range",
        ),
        (
            "melipona_quadrifasciata",
            3000.0,
            Way::AtOnce,
            "beyond_range",
        ),
        (
            "melipona_fasciculata",
            9000.0,
            Way::FarAndReturn,
            "within_range",
        ),
        (
            "melipona_fasciculata",
            10_000.0,
            Way::AtOnce,
            "beyond_range",
        ),
    ] {
        let mut request = request(distance_m, "2026-11-02");
        request.bee.based_on = Some(bee.to_owned());
        let answer = relocation(&request).unwrap();
        assert_eq!(
            (answer.way, answer.why[0].code.as_ref()),
            (way, code),
            "{bee} {distance_m}"
        );
        assert!(answer.finish.is_some(), "{bee} {distance_m}");
        for always in ["dark", "lifting", "closed_hive", "law"] {
            assert!(warned(&answer, always), "{always}");
        }
    }
}

#[test]
fn near_a_limit_the_other_way_is_shown() {
    for (distance_m, code) in [
        (10.0, None),
        (18.0, Some("stay_instead")),
        (22.0, Some("stages_instead")),
        (700.0, None),
        (1450.0, Some("at_once_instead")),
        (1550.0, Some("farther_stay_instead")),
        (3000.0, None),
    ] {
        let why = relocation(&request(distance_m, "2026-11-02")).unwrap().why;
        let instead: Vec<_> = codes(&why)
            .into_iter()
            .filter(|code| code.ends_with("_instead"))
            .collect();
        assert_eq!(
            instead,
            code.into_iter().collect::<Vec<_>>(),
            "{distance_m}"
        );
    }
}

#[test]
fn what_is_known_of_homing_is_told_and_what_is_not() {
    let why = |bee: &str, distance_m| {
        let mut request = request(distance_m, "2026-11-02");
        request.bee.based_on = Some(bee.to_owned());
        relocation(&request).unwrap().why
    };
    // Smith et al. 2017: half from 333 m, nine in ten from 700 to 712 m.
    let known = why("tetragonula_carbonaria", 400.0);
    assert!(
        known
            .iter()
            .any(|reason| reason.text().contains("about 330 m half"))
    );
    assert!(
        known
            .iter()
            .any(|reason| reason.text().contains("about 710 m nine in ten"))
    );
    assert!(codes(&why("tetragonula_hockingsi", 400.0)).contains(&"homing_unknown"));
    // Nogueira-Neto 1997, p. 118: a quarter of mandaçaia may come back from 3,000 m.
    assert!(codes(&why("melipona_quadrifasciata", 3200.0)).contains(&"quarter_may_return"));
    // A shorter distance is a setting.
    let mut shorter = request(900.0, "2026-11-02");
    shorter.settings.far_small_m = Some(800.0);
    assert_eq!(relocation(&shorter).unwrap().way, Way::AtOnce);
}

#[test]
fn far_moves_go_as_far_and_stay_as_long_as_published() {
    // Nogueira-Neto 1997, p. 118: at least 1,500 m, for Melipona 3,000 m; about 60 d.
    for (bee, metres) in [
        ("tetragonula_carbonaria", 1500.0),
        ("melipona_bicolor", 3000.0),
    ] {
        let mut request = request(100.0, "2026-11-02");
        request.bee.based_on = Some(bee.to_owned());
        let answer = relocation(&request).unwrap();
        let moved = far(&answer);
        assert_eq!(moved.away_at_least_m, metres);
        assert!(moved.away_source.contains("Nogueira-Neto 1997"));
        assert_eq!(moved.out.dates.best, date("2026-11-02"));
        assert_eq!(moved.back.dates.best, date("2027-01-01"));
        assert_eq!(
            moved.out.evening_before.from.date_naive(),
            date("2026-11-01")
        );
        let lift = moved.out.lift.unwrap();
        assert!(lift.from < lift.until);
        assert!(moved.limits.closing.text().contains("mesh"));
        let choice = &answer.choices[0];
        assert!(choice.source.contains("Nogueira-Neto 1997"));
        assert_eq!(
            choice.others,
            ["a stay of 21 days (common practice, no source)"]
        );
        // Common practice, no source: 21 d.
        request.settings.far_stay = Some(FarStay::ThreeWeeks);
        let answer = relocation(&request).unwrap();
        assert_eq!(far(&answer).back.dates.best, date("2026-11-23"));
        assert!(answer.choices[0].others[0].contains("60 days (Nogueira-Neto 1997"));
    }
    // A bee of a still wider range has to go beyond it.
    let mut wide = request(100.0, "2026-11-02");
    wide.bee.homing_limit_m = Some(4000.0);
    assert_eq!(far(&relocation(&wide).unwrap()).away_at_least_m, 4000.0);
}

#[test]
fn a_hive_does_not_travel_on_hot_or_chilly_mornings() {
    let mut request = request(2000.0, "2026-11-02");
    let hot = (24.0, 39.0, 0.0);
    let spells = [
        (1, FINE),
        (2, hot),
        (1, (30.0, 36.0, 0.0)),
        (1, COLD),
        (9, FINE),
    ];
    request.climate.forecast = Some(forecast(date("2026-11-01"), &spells));
    let answer = relocation(&request).unwrap();
    let Course::AtOnce(moved) = &answer.course else {
        panic!("{:?}", answer.course);
    };
    let trip = &moved.trip;
    assert_eq!(trip.dates.best, date("2026-11-06"));
    let said = trip.reasons[0].text();
    assert!(
        said.contains("2 Nov 2026") && said.contains("39 °C"),
        "{said}"
    );
    // Of a journey the day itself counts, as in every plan.
    assert_eq!(trip.rests_on.forecast_days, 1);
    let lift = trip.lift.unwrap();
    assert!(lift.until.date_naive() == trip.dates.best);
}

#[test]
fn a_way_that_contradicts_the_range_is_taken_with_a_caution() {
    for (distance_m, way, code) in [
        (50.0, Way::AtOnce, "foragers_fly_back"),
        (30.0, Way::Staged, "many_stages"),
        (2000.0, Way::FarAndReturn, "needless_stay"),
        (900.0, Way::AtOnce, "nearer_than_advised"),
    ] {
        let mut request = request(distance_m, "2026-11-02");
        request.bee.based_on = Some("tetragonula_carbonaria".to_owned());
        request.way = Some(way);
        let answer = relocation(&request).unwrap();
        assert_eq!(answer.way, way);
        assert!(answer.way_was_given && warned(&answer, code), "{code}");
        assert!(!warned(
            &relocation(&self::request(3.0, "2026-11-02")).unwrap(),
            code
        ));
    }
    let slow = relocation(&request(15.0, "2026-11-02")).unwrap();
    assert!(codes(&slow.why).contains(&"slow"));
    assert!(!codes(&relocation(&request(5.0, "2026-11-02")).unwrap().why).contains(&"slow"));
}

#[test]
fn what_cannot_be_planned_is_refused() {
    let refused = |change: &dyn Fn(&mut RelocationRequest)| {
        let mut request = request(3.0, "2026-11-02");
        change(&mut request);
        let error = relocation(&request).unwrap_err();
        (error.code(), error.field().to_owned(), error.to_string())
    };
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e7] {
        let (code, field, _) = refused(&|request| request.distance_m = bad);
        assert_eq!((code, field.as_str()), ("out_of_range", "distance_m"));
    }
    let (code, field, text) = refused(&|request| {
        request.distance_m = 150.0;
        request.way = Some(Way::Staged);
    });
    assert_eq!(
        (code, field.as_str()),
        ("inconsistent", "distance_m, stage_m")
    );
    assert!(
        text.contains("300 stages") && text.contains("far move"),
        "{text}"
    );
    let (code, field, _) = refused(&|request| request.settings.stage_m = Some(1.5));
    assert_eq!((code, field.as_str()), ("out_of_range", "stage_m"));
    let (code, field, _) = refused(&|request| request.total_turn_deg = Some(400.0));
    assert_eq!((code, field.as_str()), ("out_of_range", "total_turn_deg"));
    let (code, field, _) = refused(&|request| request.settings.far_small_m = Some(4000.0));
    assert_eq!(
        (code, field.as_str()),
        ("inconsistent", "far_small_m, far_large_m")
    );
    let (code, ..) = refused(&|request| request.first = date("2100-12-30"));
    assert_eq!(code, "out_of_range");
}

#[test]
fn the_preset_of_a_parted_colony_is_common_practice() {
    // Common practice, no source: about 7 d before the entrance, stages of two days each to about
    // 1 m, 14 to 28 d side by side.
    let mut request = PartingRequest::new(lismore(), date("2026-11-02"));
    request.bee = "tetragonula_carbonaria".into();
    request.climate.normals = Some(steady(12.0, 27.0));
    let answer = parting(&request).unwrap();
    let dates = &answer.dates;
    assert_eq!(dates.set_beside.unwrap().best, date("2026-11-09"));
    let days = |answer: &DatedParting| -> Vec<u32> {
        let stages = answer.dates.stages.stages.iter();
        stages.map(|stage| stage.dates.best.day()).collect()
    };
    assert_eq!(days(&answer), [9, 11]);
    assert_eq!(dates.stages.stages[1].distance_so_far_m, 1.0);
    let until = dates.side_by_side_until.unwrap();
    let finish = dates.stages.finish.unwrap();
    assert_eq!((until.earliest - finish.earliest).num_days(), 14);
    assert_eq!((until.latest - finish.latest).num_days(), 28);
    let text = serde_json::to_string(&answer.parting).unwrap();
    assert!(text.matches("common practice, no source").count() == 5);
    // Four of two days after a week in front: common practice, no source.
    request.settings.stages = Some(4);
    let four = parting(&request).unwrap();
    assert_eq!(days(&four), [9, 11, 13, 15]);
    assert_eq!(four.parting.apart_m.value, 2.0);
}

#[test]
fn stages_never_stand_on_top_of_each_other() {
    // A cool season: the mean day is too cold, the stages count on the warmer ones.
    let mut request = request(3.0, "2026-07-01");
    request.climate.normals = Some(steady(6.0, 18.5));
    let answer = relocation(&request).unwrap();
    let dates: Vec<_> = stages(&answer)
        .stages
        .iter()
        .map(|stage| stage.dates)
        .collect();
    assert_eq!(dates.len(), 6);
    for pair in dates.windows(2) {
        assert!(pair[0].best < pair[1].best && pair[0].earliest < pair[1].earliest);
        assert!(pair[0].latest < pair[1].latest, "{dates:?}");
    }
    let last = dates[5];
    assert!(
        last.earliest < last.best && last.best < last.latest,
        "{last:?}"
    );
}
