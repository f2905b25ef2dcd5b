//! Whole stories, and rules that hold for every plan. All places are real, all weather invented.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, Days, NaiveDate};
use proptest::prelude::*;
use serde_json::{Value, json};

use super::*;
use crate::bee::Bee;
use crate::civil::{civil_day, date_words};
use crate::climate::Climate;
use crate::review::{Advice, review};
use crate::season::StartOdds;
use crate::standing::Standing;
use crate::task::{Task, TaskKind};

const LISMORE: (f64, f64, f64, &str) = (-28.81, 153.28, 12.0, "Australia/Sydney");

fn site(at: (f64, f64, f64, &str)) -> Value {
    json!({"latitude_deg": at.0, "longitude_deg": at.1, "elevation_m": at.2, "zone": at.3})
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// A strong, heavy colony that was last divided 20 months ago, and what the story adds.
fn ask_for(at: (f64, f64, f64, &str), today: &str, method: &str, more: Value) -> PlanRequest {
    let mut request = json!({
        "site": site(at), "today": today, "method": method,
        "colony": {"name": "Hive 7", "net_weight_kg": 3.6, "months_since_division": 20,
                   "strength": "strong"},
    });
    for (key, value) in more.as_object().unwrap() {
        request[key] = value.clone();
    }
    serde_json::from_value(request).unwrap()
}

/// Monthly normals: a mean, half the yearly swing with the warmest month given, half the daily swing.
fn normals(mean_c: f64, swing_c: f64, warmest: u32, day_c: f64) -> Value {
    let month = |m: u32| {
        let turn = f64::from(m as i32 - warmest as i32) / 12.0 * std::f64::consts::TAU;
        mean_c + swing_c * turn.cos()
    };
    let low: Vec<f64> = (1..=12).map(|m| month(m) - day_c).collect();
    let high: Vec<f64> = (1..=12).map(|m| month(m) + day_c).collect();
    json!({"minimum_c": low, "maximum_c": high, "about": "invented"})
}

fn best(plan: &Plan, id: &str) -> NaiveDate {
    plan.task(id)
        .unwrap_or_else(|| panic!("no {id}"))
        .dates
        .best
}

fn codes(task: &Task) -> Vec<&str> {
    task.why.iter().map(|why| &*why.code).collect()
}

/// No two tasks that are ahead break a rule, but where the keeper has put one on its date.
fn check_rules(plan: &Plan, ahead: &[&Task], settings: &PlanSettings) {
    let fixed = |task: &Task| codes(task).contains(&"moved");
    let from_move_d = settings.opening_from_move_d.value as i64;
    let after_division_d = settings.opening_after_division_d.value as i64;
    let looks: Vec<&&Task> = ahead
        .iter()
        .filter(|task| task.good_at.is_some() && task.kind == TaskKind::Check && !fixed(task))
        .collect();
    for other in ahead.iter().filter(|task| !fixed(task)) {
        for look in &looks {
            let days = (look.dates.best - other.dates.best).num_days();
            match other.kind {
                TaskKind::Move => assert!(days.abs() > from_move_d, "{other} {look}"),
                TaskKind::Divide => {
                    assert!(days < 0 || days > after_division_d, "{other} {look}");
                }
                _ => {}
            }
        }
        let eve = plan.task(&format!("{}-close", other.id));
        if let Some(eve) = eve.filter(|eve| eve.state == TaskState::Planned) {
            assert_eq!(eve.dates.best + Days::new(1), other.dates.best);
        }
    }
    // One work at an entrance an evening, the closings before moves among them.
    let opens_after_a_move = |task: &Task| {
        let of = task.id.strip_suffix("-open");
        of.and_then(|of| plan.task(of))
            .is_some_and(|of| of.kind == TaskKind::Move)
    };
    let evenings: Vec<NaiveDate> = ahead
        .iter()
        .filter(|task| task.kind == TaskKind::Entrance && !fixed(task) && !opens_after_a_move(task))
        .map(|task| task.dates.best)
        .collect();
    let different: BTreeSet<_> = evenings.iter().collect();
    assert_eq!(different.len(), evenings.len(), "{evenings:?}");
}

/// What holds for every plan.
fn check(plan: &Plan, settings: &PlanSettings) {
    let ahead: Vec<&Task> = plan
        .tasks
        .iter()
        .filter(|task| task.state == TaskState::Planned)
        .collect();
    for task in &ahead {
        assert!(task.dates.best >= plan.today, "{} {}", task.id, plan.today);
    }
    check_rules(plan, &ahead, settings);
    for task in &plan.tasks {
        let dates = task.dates;
        assert!(
            dates.earliest <= dates.best && dates.best <= dates.latest,
            "{}",
            task.id
        );
        if let Some(window) = task.window {
            assert!(window.from < window.until, "{}", task.id);
            for at in [window.from, window.until] {
                assert_eq!(civil_day(at, plan.site.zone), dates.best, "{}", task.id);
            }
        }
        assert!(
            !task.why.is_empty() && !task.source.is_empty(),
            "{}",
            task.id
        );
        for before in &task.depends_on {
            let other = plan.task(&before.task).unwrap();
            let ahead = task.state == TaskState::Planned && other.state == TaskState::Planned;
            assert!(
                !ahead || task.dates.best >= other.dates.best,
                "{} {}",
                task.id,
                other.id
            );
        }
    }
    assert!(plan.tasks.is_sorted_by_key(|task| task.dates.best));
    let ids: BTreeSet<_> = plan.tasks.iter().map(|task| &task.id).collect();
    assert_eq!(ids.len(), plan.tasks.len());
    let text = serde_json::to_string(plan).unwrap();
    let again: Plan = serde_json::from_str(&text).unwrap();
    assert_eq!((&again.id, again.tasks.len()), (&plan.id, plan.tasks.len()));
}

fn planned(request: &PlanRequest) -> Plan {
    let plan = plan(request).unwrap();
    check(
        &plan,
        &PlanSettings::with_overrides(&request.settings).unwrap(),
    );
    plan
}

#[test]
fn a_warm_tropical_site_waits_for_the_rain_to_end() {
    // Laguna, Philippines: warm all year, wet from June to October.
    let mut normals = normals(27.0, 1.5, 5, 4.0);
    normals["rain_mm"] = json!([30, 20, 30, 40, 120, 300, 400, 420, 350, 310, 140, 60]);
    let mut request = ask_for(
        (14.17, 121.24, 40.0, "Asia/Manila"),
        "2026-07-15",
        "split",
        json!({"climate": {"normals": normals}, "season": {"bar_wettest_months": 5}}),
    );
    let plan_wet = planned(&request);
    let window = plan_wet.window.clone().unwrap();
    assert_eq!(
        (window.opens, window.closes),
        (date("2026-11-01"), date("2027-05-31"))
    );
    assert_eq!(window.closed_by[0].rule(), Some("outside_wettest_months"));
    assert_eq!(best(&plan_wet, "divide"), date("2026-11-01"));
    assert_eq!(window.opened_by[0].rule(), Some("outside_wettest_months"));
    let divide = plan_wet.task("divide").unwrap();
    assert_eq!(codes(divide), ["step", "mild", "rain_unknown"]);
    let notes: Vec<_> = plan_wet.notes.iter().map(|note| &*note.code).collect();
    // No weight and no interval is known of this class: none is asked.
    assert_eq!(notes, ["strong_enough", "last_safe"]);
    let eggs = plan_wet.task("egg-check").unwrap();
    assert_eq!(
        (eggs.dates.earliest, eggs.dates.latest),
        (date("2026-12-01"), date("2026-12-08"))
    );
    assert!(eggs.why.iter().any(|why| why.text().starts_with(
        "30 to 37 days after \u{201c}Divide the brood between the two boxes\u{201d} \
            (Sun 1 Nov 2026): a first look; no manual seen gives a day for these bees"
    )));
    // Rain closes it, so nothing is counted on: 97 days before 31 May.
    assert_eq!(plan_wet.last_safe, Some(date("2027-02-23")));
    request.season.bar_wettest_months = None;
    let open = planned(&request);
    assert!(open.window.is_none() && open.last_safe.is_none());
    assert_eq!(best(&open, "divide"), date("2026-07-22"));
    assert_eq!(open.best_dates[0].reasons.last().unwrap().code, "soon");
}

#[test]
fn a_subtropical_site_in_either_hemisphere() {
    let south = planned(&ask_for(
        LISMORE,
        "2026-07-01",
        "split",
        json!({"climate": {"normals": normals(20.5, 5.5, 1, 6.0)}}),
    ));
    let window = south.window.clone().unwrap();
    // Common practice in the Australian subtropics: divisions from about September to March.
    assert_eq!(window.opens.month(), 9);
    assert_eq!((window.opens.year(), window.closes.year()), (2026, 2027));
    assert!(best(&south, "divide") - window.opens < chrono::TimeDelta::days(8));
    // The window looks 56 days ahead; 97 days are needed.
    assert_eq!(south.last_safe.unwrap() + Days::new(41), window.closes);
    assert_eq!(window.closed_by[0].rule(), Some("warm_weeks_ahead"));
    assert_eq!(window.opened_by[0].rule(), Some("warm_enough"));
    let note = south.last_safe_note();
    let last = date_words(south.last_safe.unwrap());
    assert!(note.unwrap().text().starts_with(&last));
    assert_eq!(south.best_dates[0].reasons.last().unwrap().code, "early");
    // The next division ends with the last safe date too.
    let yearly = planned(&ask_for(
        LISMORE,
        "2026-07-01",
        "split",
        json!({"climate": {"normals": normals(20.5, 5.5, 1, 6.0)},
               "settings": {"choices": {"division_interval": "12_to_18_months"}}}),
    ));
    let next = yearly.task("next-parent").unwrap().dates;
    assert_eq!(next.earliest, best(&south, "divide") + Days::new(365));
    assert!(next.latest <= south.last_safe.unwrap() + Days::new(367));
    // Of this class no interval is known: it waits for a full box.
    let waits = south.waiting.iter().find(|task| task.id == "next-parent");
    assert_eq!(waits.unwrap().until.code, "until_full_box");

    let north = planned(&ask_for(
        (28.81, -82.5, 12.0, "America/New_York"),
        "2026-01-01",
        "split",
        json!({"climate": {"normals": normals(20.5, 5.5, 7, 6.0)}}),
    ));
    let (a, b) = (window.opens, north.window.unwrap().opens);
    let half_year = (a - b).num_days();
    assert!((181..=186).contains(&half_year), "{half_year}");
}

#[test]
fn in_a_cool_highland_the_last_safe_date_bites() {
    let highland = |mean_c| json!({"climate": {"normals": normals(mean_c, 3.5, 1, 6.0)}});
    let at = (-22.4, -45.5, 1400.0, "America/Sao_Paulo");
    let short = planned(&ask_for(at, "2026-08-01", "split", highland(17.0)));
    let (window, last) = (short.window.clone().unwrap(), short.last_safe.unwrap());
    assert!(window.days < 120, "{}", window.days);
    assert!((window.closes - last).num_days() == 41 && last > window.opens);
    // A day after the last safe date the next season is planned for.
    let late = (last + Days::new(1)).to_string();
    let next = planned(&ask_for(at, &late, "split", highland(17.0)));
    assert_eq!(next.window.unwrap().opens.year(), window.opens.year() + 1);
    assert!(next.tasks.len() > 10);
    // One or two degrees cooler there is a window, but none that leaves time for a queen and workers.
    let too_short = (0..20)
        .map(|tenths| highland(17.0 - 0.1 * f64::from(tenths)))
        .map(|extra| planned(&ask_for(at, "2026-08-01", "split", extra)))
        .find(|plan| plan.tasks[0].id == "no-season")
        .unwrap();
    let task = &too_short.tasks[0];
    assert_eq!((task.id.as_str(), too_short.tasks.len()), ("no-season", 1));
    assert_eq!(task.kind, TaskKind::Decide);
    assert!(
        codes(task).contains(&"season_too_short"),
        "{:?}",
        codes(task)
    );
    // And where it is never warm enough the reasons are those of the season.
    let never = planned(&ask_for(at, "2026-08-01", "split", highland(12.0)));
    assert!(
        never.tasks[0]
            .why
            .iter()
            .any(|why| why.rule() == Some("warm_enough"))
    );
}

/// Places of the tropics and subtropics, each with a large bee or the default one.
const AROUND: [(f64, f64, f64, &str); 5] = [
    (3.15, 101.69, 60.0, "Asia/Kuala_Lumpur"),
    (9.93, 76.27, 5.0, "Asia/Kolkata"),
    (25.76, -80.19, 2.0, "America/New_York"),
    (-23.55, -46.63, 760.0, "America/Sao_Paulo"),
    (-33.87, 151.21, 20.0, "Australia/Sydney"),
];

#[test]
fn hives_are_opened_well_after_sunrise_and_closed_towards_sunset() {
    let mut opened = 0;
    for at in AROUND {
        for (day, bee) in ["generic_large", "generic_small"].iter().enumerate() {
            let today = (date("2026-07-10") + Days::new(day as u64 * 120)).to_string();
            let request = ask_for(at, &today, "split", json!({"bee": bee}));
            let bee = Bee::with_overrides(&request.bee).unwrap();
            let climate = Climate::from_input(&request.site, &request.climate).unwrap();
            let weather = Weather::new(&request.site, &climate, &bee);
            for task in planned(&request).tasks {
                let Some(window) = task.window else { continue };
                let sun = weather.sun(task.dates.best).unwrap().sun;
                let hour = chrono::TimeDelta::hours(1);
                if task.kind == TaskKind::Entrance && !task.id.ends_with("-open") {
                    assert!(window.from >= sun.set().unwrap() - hour / 2, "{task}");
                } else if let Some(good_at) = task.good_at {
                    opened += 1;
                    assert!(window.from >= sun.rise().unwrap() + hour, "{task}");
                    assert!(window.from <= good_at && good_at <= window.until, "{task}");
                    assert!(good_at == window.from || good_at.timestamp() % 1800 == 0);
                }
            }
        }
    }
    assert!(opened > 20, "{opened}");
}

#[test]
fn an_entrance_is_not_closed_before_heat() {
    let with = |hot_d: usize| {
        let mut days = [(16.0, 26.0, 0.0); 6];
        days[hot_d].1 = 40.0;
        planned(&ask_for(
            LISMORE,
            "2026-10-01",
            "split",
            json!({"climate": {"normals": normals(19.5, 5.5, 1, 6.0),
                               "forecast": forecast("2026-10-01", &days)},
                   "settings": {"choices": {"entrance": "closed_at_first"}},
                   "records": [{"date": "2026-10-01", "task": "divide"}]}),
        ))
    };
    for (hot_d, refused) in [(0, true), (1, true), (2, true), (3, false)] {
        let plan = with(hot_d);
        let closing = plan.task("close-entrance").unwrap();
        assert_eq!(
            codes(closing).contains(&"too_hot_to_close"),
            refused,
            "{hot_d}"
        );
        // What is not closed is not opened either.
        for id in ["close-entrance", "open-entrance"] {
            let dropped = plan.task(id).unwrap().state == TaskState::Dropped;
            assert_eq!(dropped, refused, "{hot_d} {id}");
        }
    }
}

#[test]
fn a_next_division_has_days_in_hand_and_lies_ahead() {
    for (at, first) in AROUND.iter().zip(0..).chain([(&LISMORE, 5)]) {
        for step in 0..12 {
            let today = date("2026-07-03") + Days::new(first + 29 * step);
            let yearly = json!({"settings": {"choices": {"division_interval": "12_to_18_months"}}});
            let plan = planned(&ask_for(*at, &today.to_string(), "split", yearly));
            let Some(next) = plan.task("next-parent") else {
                continue;
            };
            assert!(next.dates.best >= today, "{next} {today}");
            let to_spare = (next.dates.latest - next.dates.best).num_days();
            let since = (next.dates.best - next.dates.earliest).num_days();
            assert!(to_spare > 0 || since == 0, "{next}");
        }
    }
    // Divided long ago, and the season over.
    let long_ago = json!({"records": [{"date": "2025-02-10", "task": "divide"}],
                          "settings": {"choices": {"division_interval": "12_to_18_months"}}});
    for today in ["2026-04-20", "2026-06-30", "2026-09-01"] {
        let plan = planned(&ask_for(AROUND[4], today, "split", long_ago.clone()));
        let next = plan.task("next-parent").unwrap();
        assert!(next.dates.best >= date(today), "{next}");
    }
}

#[test]
fn a_window_over_a_change_of_the_clocks_shows_both() {
    // New South Wales, first Sunday of October: from 2 h to 3 h.
    let request = ask_for(LISMORE, "2026-10-01", "split", json!({}));
    worked_out(&request, |bench| {
        let change: crate::civil::Instant = "2026-10-04T02:00:00+10:00".parse().unwrap();
        let window = crate::task::TimeWindow {
            from: change - chrono::TimeDelta::hours(1),
            until: change + chrono::TimeDelta::hours(2),
        };
        let shown = bench.days.within_day(date("2026-10-04"), window).unwrap();
        assert_eq!(shown.from.to_rfc3339(), "2026-10-04T01:00:00+10:00");
        assert_eq!(shown.until.to_rfc3339(), "2026-10-04T05:00:00+11:00");
        Ok(())
    })
    .unwrap();
}

#[test]
fn on_the_equator_the_keeper_chooses_the_date() {
    let request = ask_for(
        (0.31, 32.58, 1190.0, "Africa/Kampala"),
        "2026-03-02",
        "comb_donation",
        json!({"wanted": "2026-04-18", "free_weekdays": ["saturday"],
               "climate": {"normals": normals(22.5, 0.8, 2, 5.0)}}),
    );
    let found = planned(&request);
    assert!(found.window.is_none());
    assert_eq!(best(&found, "donate"), date("2026-04-18"));
    assert_eq!(best(&found, "parent-aside"), date("2026-04-18"));
    assert_eq!(found.best_dates[0].date, date("2026-04-18"));
    assert!(
        found
            .best_dates
            .iter()
            .all(|day| day.date.weekday() == chrono::Weekday::Sat)
    );
    let eggs = found.task("egg-check").unwrap();
    assert_eq!(eggs.dates.earliest, date("2026-05-18"));
    assert_eq!(eggs.dates.best.weekday(), chrono::Weekday::Sat);
    assert_eq!(
        codes(eggs),
        ["step", "after", "waits_for_weather", "mild", "rain_unknown"]
    );
    assert!(
        eggs.why[2].text().contains("You are not free on "),
        "{}",
        eggs.why[2].text()
    );
    let near = found.best_dates[0].reasons.last().unwrap();
    assert_eq!(
        (&*near.code, &*near.text()),
        (
            "near_wanted",
            "0 days from the date you wish for, Sat 18 Apr 2026."
        )
    );
    let aside = found.task("parent-aside").unwrap();
    assert!(
        aside.why[1]
            .text()
            .starts_with("On the day of \u{201c}Give ripe brood")
    );
    // Planned on another day with nothing new, it is the same.
    let mut later = request.clone();
    later.today = date("2026-03-20");
    let later = planned(&later);
    let dates = |plan: &Plan| {
        plan.tasks
            .iter()
            .map(|t| (t.id.clone(), t.dates.best))
            .collect::<Vec<_>>()
    };
    assert_eq!(dates(&found), dates(&later));
    assert_eq!(found.id, later.id);
}

#[test]
fn thirty_recorded_years_are_each_judged() {
    let mut text = String::from("date,minimum_c,maximum_c\n");
    let mut day = date("1990-01-01");
    while day < date("2020-01-01") {
        let season = ((f64::from(day.ordinal()) - 15.0) / 365.25 * std::f64::consts::TAU).cos();
        // Every third year is two degrees cooler.
        let year = if day.year() % 3 == 0 { -2.0 } else { 0.0 };
        let mean = 19.5 + 5.5 * season + year;
        text += &format!("{day},{:.1},{:.1}\n", mean - 6.0, mean + 6.0);
        day = day + Days::new(1);
    }
    let with = |climate: Value| {
        planned(&ask_for(
            LISMORE,
            "2026-07-01",
            "split",
            json!({"climate": climate}),
        ))
    };
    let records = with(json!({"records_csv": {"file": "r.csv", "text": text}}));
    let warm_years = with(json!({"normals": normals(19.5, 5.5, 1, 6.0)}));
    // Four years in five must be warm enough: the cool ones close the season earlier.
    assert!(records.window.as_ref().unwrap().opens > warm_years.window.unwrap().opens);
    assert!(records.last_safe < warm_years.last_safe);
    assert_eq!(
        records.window.as_ref().unwrap().opened_by[0].rule(),
        Some("warm_enough")
    );
    let stage = records.task("stage-2").unwrap();
    assert!(codes(stage).contains(&"after"), "{:?}", codes(stage));
    assert_eq!(stage.why[0].code, "step");
    assert!(stage.rests_on.normal_days > 0 && stage.rests_on.default_days == 0);
    assert_eq!(
        records.basis[0].source,
        crate::climate::TemperatureSource::RecordedMean
    );
}

#[test]
fn no_look_falls_beside_a_move() {
    // The places and start dates with which it was found that nearly every plan had one; a third of
    // the dates, or as many as `PLANS` asks for.
    let every = if std::env::var("PLANS").is_ok() { 1 } else { 8 };
    let mut places = AROUND.to_vec();
    places.extend([
        (-27.47, 153.03, 28.0, "Australia/Brisbane"),
        (14.17, 121.24, 40.0, "Asia/Manila"),
        (-29.86, 31.02, 8.0, "Africa/Johannesburg"),
        (25.03, 121.56, 10.0, "Asia/Taipei"),
    ]);
    for (at, offset) in places.into_iter().zip(0..) {
        for start in (offset % every..24).step_by(every) {
            let today = date("2026-07-01") + Days::new(15 * start as u64);
            planned(&ask_for(at, &today.to_string(), "split", json!({})));
        }
    }
}

#[test]
fn a_wish_past_the_limit_is_planned_on_and_its_risk_said() {
    let climate = normals(20.5, 5.5, 1, 6.0);
    let at = (-27.5, 153.0, 20.0, "Australia/Brisbane");
    let wished = |date: NaiveDate| {
        let more = json!({"wanted": date.to_string(), "climate": {"normals": climate}});
        planned(&ask_for(at, "2027-01-10", "split", more))
    };
    let limit = wished(date("2027-01-20")).last_safe.unwrap();
    let mut before: Option<Plan> = None;
    for days in -2..=4 {
        let day = limit + chrono::TimeDelta::days(days);
        let plan = wished(day);
        let wish = plan.wish.clone().unwrap();
        assert_eq!(best(&plan, "divide"), day);
        assert_eq!(plan.last_safe, Some(limit));
        if days <= 0 {
            assert_eq!(wish.state, WishState::Good, "{days}");
            // Good by the longest waits of the method, and by all published times in fewer than half of the years.
            let codes: Vec<_> = wish.reasons.iter().map(|why| &*why.code).collect();
            assert_eq!(codes, ["odds_doubtful"]);
            assert!(wish.other_ways.is_empty());
        } else {
            assert_eq!(wish.state, WishState::AtRisk, "{days}");
            assert_eq!(wish.before, Some(limit));
            assert!(wish.after.unwrap() > limit + Days::new(100));
            assert_eq!(wish.reasons[0].code, "wish_after_limit");
            assert!(wish.reasons[0].text().contains(&date_words(limit)));
            assert!(wish.other_ways.len() >= 3, "{:?}", wish.other_ways);
            assert!(matches!(wish.odds, Some(StartOdds::Known { .. })));
        }
        // The day after asks for a day more of everything that follows at once.
        if let Some(before) = &before {
            for id in [
                "divide",
                "pest-day-1",
                "pest-day-7",
                "side-by-side",
                "decide",
            ] {
                assert_eq!(
                    (best(&plan, id) - best(before, id)).num_days(),
                    1,
                    "{id} {days}"
                );
            }
        }
        before = Some(plan);
    }
    // In winter the season is closed: the wish is answered first, then the next season planned for.
    let closed = wished(date("2027-06-20"));
    let wish = closed.wish.clone().unwrap();
    assert_eq!((wish.state, wish.odds), (WishState::Closed, None));
    assert!(wish.after.unwrap() <= best(&closed, "divide"));
    assert!(!wish.reasons.is_empty() && !wish.other_ways.is_empty());
}

/// A wish never stands beside odds that its word belies: none of ten is too late and planned for the next season,
/// fewer than half are a doubt, whatever the rules of the season say.
#[test]
fn no_friendly_word_stands_beside_poor_odds() {
    let at = (-27.5, 153.0, 20.0, "Australia/Brisbane");
    let mut words = Vec::new();
    for days in (0..330).step_by(15) {
        let day = date("2026-10-01") + Days::new(days);
        let more = json!({"wanted": day.to_string()});
        let plan = planned(&ask_for(at, "2026-09-20", "split", more));
        let wish = plan.wish.clone().unwrap();
        words.push(wish.state);
        let Some(StartOdds::Known { odds }) = &wish.odds else {
            assert_eq!(wish.state, WishState::Closed, "{day}");
            continue;
        };
        let tens = (10.0 * odds.in_time).round();
        let is_said = wish.reasons.contains(&odds.said);
        assert_eq!(wish.state == WishState::TooLate, tens < 1.0, "{day}");
        assert_eq!(is_said, odds.in_time < 0.5, "{day}");
        if wish.state == WishState::TooLate {
            assert_eq!(wish.reasons[0], odds.said);
            assert!(best(&plan, "divide") >= wish.after.unwrap(), "{day}");
            assert!(
                !wish
                    .other_ways
                    .iter()
                    .any(|way| way.code == "way_all_the_same")
            );
        }
    }
    for state in [WishState::Good, WishState::AtRisk, WishState::TooLate] {
        assert!(words.contains(&state), "{words:?}");
    }
}

/// The dates of a plan's open tasks, to be given back.
fn announced(plan: &Plan) -> Vec<FixedDate> {
    let ahead = |task: &&Task| task.state == TaskState::Planned;
    let dates = plan.tasks.iter().filter(ahead);
    dates
        .map(|task| FixedDate {
            task: task.id.clone(),
            date: task.dates.best,
        })
        .collect()
}

#[test]
fn what_was_announced_stays_and_what_moves_says_why() {
    let usual = json!({"normals": normals(19.5, 5.5, 1, 6.0)});
    let climate = |days: Value| json!({"normals": normals(19.5, 5.5, 1, 6.0), "forecast": days});
    let mut request = ask_for(
        LISMORE,
        "2026-10-01",
        "split",
        json!({"climate": usual, "wanted": "2026-10-10"}),
    );
    let first = planned(&request);
    request.announced = announced(&first);
    // Nothing is new for eight days: nothing moves.
    for day in 1..9 {
        request.today = date("2026-10-01") + Days::new(day);
        let again = planned(&request);
        for task in again
            .tasks
            .iter()
            .filter(|task| task.state == TaskState::Planned)
        {
            let before = best(&first, &task.id).max(request.today);
            assert_eq!(task.dates.best, before, "{task} {day}");
        }
    }
    // Rain on the day of the division: it moves, and its neighbours in time stay.
    let wet = forecast("2026-10-10", &[(14.0, 26.0, 30.0), (14.0, 26.0, 0.0)]);
    let mut wetter = request.clone();
    let with = ask_for(
        LISMORE,
        "2026-10-08",
        "split",
        json!({"climate": climate(wet)}),
    );
    wetter.climate = with.climate;
    wetter.today = date("2026-10-08");
    let moved = planned(&wetter);
    assert_ne!(best(&moved, "divide"), date("2026-10-10"));
    assert_eq!(
        (best(&moved, "divide") - date("2026-10-10"))
            .num_days()
            .abs(),
        1
    );
    // A record that changes nothing moves nothing.
    request.today = date("2026-10-12");
    request.records = vec![crate::record::Record::new(date("2026-10-10")).with_task("divide")];
    let begun = planned(&request);
    for task in begun
        .tasks
        .iter()
        .filter(|task| task.state == TaskState::Planned)
    {
        if let Some(before) = request.announced.iter().find(|one| one.task == task.id) {
            assert_eq!(task.dates.best, before.date, "{task}");
        }
    }
    // Cold on a move's day moves the move, and it says from where.
    let stage = best(&begun, "stage-1");
    let cold = forecast(&stage.to_string(), &[(4.0, 12.0, 0.0)]);
    let colder = ask_for(
        LISMORE,
        "2026-10-12",
        "split",
        json!({"climate": climate(cold)}),
    );
    request.climate = colder.climate;
    let moved = planned(&request);
    let stage_1 = moved.task("stage-1").unwrap();
    assert_ne!(stage_1.dates.best, stage);
    let from = stage_1
        .why
        .iter()
        .find(|why| why.code == "moved_from")
        .unwrap();
    assert!(from.text().contains(&date_words(stage)), "{}", from.text());
    assert_eq!(best(&moved, "egg-check"), best(&begun, "egg-check"));
}

#[test]
fn every_other_date_has_a_reason() {
    let request = ask_for(
        LISMORE,
        "2026-09-20",
        "split",
        json!({"wanted": "2026-10-10", "free_weekdays": ["saturday", "sunday"],
               "climate": {"normals": normals(19.5, 5.5, 1, 6.0)}}),
    );
    let found = planned(&request);
    let why = |task: &str, day: NaiveDate| {
        let asked = WhyNotRequest::new(request.clone(), task, day);
        why_not(&asked).unwrap()
    };
    let mut asked = 0;
    for task in &found.tasks {
        assert_eq!(why(&task.id, task.dates.best).reason, None, "{task}");
        for days in [-400, -3, 2, 9, 500] {
            let day = task.dates.best + chrono::TimeDelta::days(days);
            let answer = why(&task.id, day);
            assert_eq!(answer.planned, Some(task.dates.best));
            let reason = answer.reason.unwrap_or_else(|| panic!("{task} {day}"));
            assert!(!reason.text().is_empty(), "{reason:?}");
            asked += 1;
        }
    }
    assert!(asked > 80, "{asked}");
    let code = |task: &str, day: NaiveDate| why(task, day).reason.unwrap().code.into_owned();
    assert_eq!(code("divide", date("2026-09-01")), "why_past");
    assert_eq!(code("divide", date("2026-10-12")), "not_free");
    assert_eq!(code("egg-check", date("2026-10-12")), "why_after");
    assert_eq!(code("stage-1-close", date("2026-10-12")), "why_with");
    let unknown = WhyNotRequest::new(request.clone(), "harvest", date("2026-10-12"));
    let error = why_not(&unknown).unwrap_err();
    assert_eq!((error.code(), error.field()), ("unknown_name", "task"));
}

fn forecast(first: &str, days: &[(f64, f64, f64)]) -> Value {
    let list: Vec<Value> = days
        .iter()
        .enumerate()
        .map(|(index, (low, high, rain))| {
            let day = date(first) + Days::new(index as u64);
            json!({"date": day.to_string(), "minimum_c": low, "maximum_c": high, "rain_mm": rain})
        })
        .collect();
    Value::Array(list)
}

#[test]
fn a_cold_snap_holds_up_the_staged_moves() {
    let story = |forecast: Value| {
        planned(&ask_for(
            LISMORE,
            "2026-10-25",
            "split",
            json!({
                "climate": {"normals": normals(19.5, 5.5, 1, 6.0), "forecast": forecast},
                "records": [{"date": "2026-10-01", "task": "divide"},
                            {"date": "2026-10-22", "task": "side-by-side"},
                            {"date": "2026-10-25", "task": "stage-1"}],
            }),
        ))
    };
    let mild = [(13.0, 26.0, 0.0); 7];
    let mut cold = mild;
    for day in &mut cold[1..5] {
        *day = (6.0, 14.0, 0.0);
    }
    let usual = story(forecast("2026-10-25", &mild));
    assert_eq!(best(&usual, "stage-2"), date("2026-10-27"));
    let snap = story(forecast("2026-10-25", &cold));
    // Four days without flight, and then two flying days as before.
    assert_eq!(best(&snap, "stage-2"), date("2026-10-31"));
    let stage = snap.task("stage-2").unwrap();
    // The 26th to the 31st.
    assert_eq!(stage.rests_on.forecast_days, 6);
    let held = stage.why.iter().find(|why| why.code == "held_by_cold");
    let held = &held.unwrap().text();
    assert!(
        held.starts_with("4 days from Mon 26 Oct 2026 to Thu 29 Oct 2026 are no flying days."),
        "{held}"
    );
    assert!(!codes(usual.task("stage-2").unwrap()).contains(&"held_by_cold"));
    assert_eq!(
        snap.task("stage-1").unwrap().state,
        TaskState::Done {
            on: date("2026-10-25")
        }
    );
}

#[test]
fn a_heat_spell_puts_the_split_off() {
    let mut week = [(18.0, 30.0, 0.0); 14];
    week[8] = (24.0, 41.0, 0.0);
    let with = |days: &[(f64, f64, f64)]| {
        planned(&ask_for(
            LISMORE,
            "2026-12-01",
            "split",
            json!({"wanted": "2026-12-05", "climate": {
                "normals": normals(21.0, 4.0, 1, 6.0), "forecast": forecast("2026-12-01", days)}}),
        ))
    };
    assert_eq!(
        best(&with(&[(18.0, 30.0, 0.0); 14]), "divide"),
        date("2026-12-05")
    );
    let hot = with(&week);
    // 41 °C on 9 December: from the 4th on it lies within five days; the 3rd and the 10th do not.
    assert_eq!(best(&hot, "divide"), date("2026-12-03"));
    let refused = hot
        .best_dates
        .iter()
        .all(|day| !(date("2026-12-04")..=date("2026-12-09")).contains(&day.date));
    assert!(refused);
    // Put there all the same, the date says why it is a bad one, and what to mind.
    let mut request = ask_for(
        LISMORE,
        "2026-12-01",
        "split",
        json!({"climate": {"normals": normals(21.0, 4.0, 1, 6.0),
                           "forecast": forecast("2026-12-01", &week)}}),
    );
    let moved = moved(&request, "divide", date("2026-12-09")).unwrap();
    check(&moved, &PlanSettings::default());
    let divide = moved.task("divide").unwrap();
    assert!(codes(divide).contains(&"heat_ahead") && codes(divide).contains(&"moved"));
    assert!(
        divide
            .cautions
            .iter()
            .any(|caution| caution.code == "extreme_heat")
    );
    request.today = date("2026-12-08");
    let advice = review(&request).unwrap().recommendations;
    assert_eq!(advice[0].advice, Advice::ProtectFromHeat);
}

#[test]
fn a_queen_seen_early_brings_the_rest_on() {
    let with = |records: Value| {
        ask_for(
            LISMORE,
            "2026-10-22",
            "comb_donation",
            json!({"records": records, "climate": {"normals": normals(19.5, 5.5, 1, 6.0)}}),
        )
    };
    let divided = json!({"date": "2026-10-01", "task": "donate"});
    let before = planned(&with(json!([divided])));
    let seen =
        json!({"date": "2026-10-18", "signs": [{"kind": "laying_queen", "which": "daughter"}]});
    let request = with(json!([divided, seen]));
    let after = planned(&request);
    let look = after.task("egg-check").unwrap();
    assert_eq!(look.state, TaskState::Dropped);
    assert!(codes(look).contains(&"queen_seen"));
    assert_eq!(after.task("decide").unwrap().state, TaskState::Dropped);
    assert_eq!(best(&before, "egg-check"), date("2026-10-31"));
    assert_eq!(
        after.task("new-workers").unwrap().dates.earliest,
        date("2026-12-07")
    );
    assert_eq!(best(&after, "new-workers"), date("2026-12-12"));
    assert!(best(&before, "new-workers") > best(&after, "new-workers"));
    let found = review(&request).unwrap();
    assert_eq!(found.standing, Some(Standing::LayingQueenSeen));
    assert_eq!(found.settle, None);
    let change = found
        .changes
        .iter()
        .find(|change| change.task == "new-workers")
        .unwrap();
    assert_eq!(change.later_d, -13);
    assert!(change.why.iter().any(|why| {
        why.text()
            .starts_with("50 to 60 days after the queen or her eggs (Sun 18 Oct 2026): ")
    }));
    let dropped = found
        .changes
        .iter()
        .find(|change| change.task == "egg-check");
    assert_eq!(dropped.unwrap().state, Some(TaskState::Dropped));
    let left = found.recommendations.first().unwrap();
    assert_eq!(
        (left.advice, &*left.reason.code),
        (Advice::LeaveAlone, "nothing_to_tell_yet")
    );
    assert_eq!(found.plan, after);
}

#[test]
fn no_eggs_by_the_latest_date_calls_for_a_decision() {
    let with = |today: &str, records: Value| {
        ask_for(
            LISMORE,
            today,
            "comb_donation",
            json!({"records": records, "climate": {"normals": normals(19.5, 5.5, 1, 6.0)}}),
        )
    };
    let none = json!([{"kind": "no_eggs", "which": "daughter"}]);
    let mut records = json!([
        {"date": "2026-10-01", "task": "donate"},
        {"date": "2026-11-01", "task": "egg-check", "signs": none},
    ]);
    // On day 31 it is too early to tell.
    let early = review(&with("2026-11-01", records.clone())).unwrap();
    assert_eq!(early.standing, Some(Standing::Uncertain));
    let settle = early.settle.unwrap();
    assert_eq!(
        (settle.from, settle.by, settle.no_counts_from),
        (
            date("2026-11-30"),
            date("2026-12-07"),
            Some(date("2026-11-30"))
        )
    );
    // New workers are counted from the next look, since there were no eggs at the first.
    assert_eq!(best(&early.plan, "new-workers"), date("2027-01-24"));
    // On day 62 it speaks against a queen, and there is still time to help.
    records
        .as_array_mut()
        .unwrap()
        .push(json!({"date": "2026-12-02", "task": "second-look", "signs": none}));
    let late = review(&with("2026-12-02", records.clone())).unwrap();
    check(&late.plan, &PlanSettings::default());
    assert_eq!(late.standing, Some(Standing::Failing));
    assert!(
        late.boxes[1]
            .signs_against
            .iter()
            .any(|s| s.source.contains("Villas-Bôas 2012"))
    );
    assert_eq!(late.recommendations[0].advice, Advice::GiveBrood);
    // What is still to be hoped for is dated too.
    let last = late.plan.task("late-look").unwrap();
    assert_eq!(last.dates.best, date("2027-01-19"));
    assert_eq!(best(&late.plan, "decide"), date("2026-12-03"));
    // Only when the last look found none either are the two put together.
    let mut given_up = records.clone();
    given_up
        .as_array_mut()
        .unwrap()
        .push(json!({"date": "2027-01-19", "task": "late-look", "signs": none}));
    let given_up = review(&with("2027-01-19", given_up)).unwrap();
    assert_eq!(given_up.recommendations[0].advice, Advice::Recombine);
    let why = &given_up.recommendations[0].reason;
    assert!(why.code == "no_queen_few_bees" && why.text().contains("No eggs: "));
    // Late queens lay late (Mounika et al. 2019): eggs seen on day 73 settle it after all.
    records
        .as_array_mut()
        .unwrap()
        .push(json!({"date": "2026-12-13", "signs": [{"kind": "eggs", "which": "daughter"}]}));
    let saved = review(&with("2026-12-13", records)).unwrap();
    assert_eq!(saved.standing, Some(Standing::LayingQueenSeen));
    assert_eq!(saved.plan.task("decide").unwrap().state, TaskState::Dropped);
}

/// Mounika et al. 2019: five divisions of T. iridipennis were established after 20, 40, 43, 54 and
/// 107 d. None of them is given up before, and eggs seen on their days settle it.
#[test]
fn the_slowest_published_division_is_not_given_up() {
    let none = json!([{"kind": "no_eggs", "which": "daughter"}]);
    let divided = date("2026-10-01");
    let day = |days: u64| (divided + Days::new(days)).to_string();
    for established in [20, 40, 43, 54, 107] {
        let mut records = vec![json!({"date": day(0), "task": "donate"})];
        for (looked, task) in [(30, "egg-check"), (60, "second-look"), (61, "decide")] {
            if looked < established {
                records.push(json!({"date": day(looked), "task": task, "signs": none}));
            }
        }
        let with = |records: &[Value]| {
            ask_for(
                LISMORE,
                &day(established),
                "comb_donation",
                json!({"records": records, "bee": "tetragonula_iridipennis",
                       "climate": {"normals": normals(21.5, 5.5, 1, 6.0)}}),
            )
        };
        let waiting = planned(&with(&records));
        let today = date(&day(established));
        let last = waiting.task("late-look").unwrap();
        assert!(last.state == TaskState::Planned && last.dates.best > today);
        assert!(last.why.iter().any(|why| why.text().contains("107")));
        let before = review(&with(&records)).unwrap();
        assert!(before.standing < Some(Standing::Lost));
        assert!(
            before
                .recommendations
                .iter()
                .all(|one| one.advice != Advice::Recombine)
        );
        records.push(
            json!({"date": day(established), "signs": [{"kind": "eggs", "which": "daughter"}]}),
        );
        let after = review(&with(&records)).unwrap();
        assert_eq!(after.standing, Some(Standing::LayingQueenSeen));
        assert_eq!(
            after.plan.task("late-look").unwrap().state,
            TaskState::Dropped
        );
        // A. australis 55 d from egg to adult, and 5 d to either side.
        let workers = after.plan.task("new-workers").unwrap().dates;
        assert_eq!(workers.earliest, today + Days::new(50));
        assert!(workers.latest >= today + Days::new(60));
    }
}

#[test]
fn a_task_done_late_moves_the_rest() {
    let with = |records: Value| {
        ask_for(
            LISMORE,
            "2026-10-20",
            "split",
            json!({"records": records, "climate": {"normals": normals(19.5, 5.5, 1, 6.0)},
                   "settings": {"choices": {"entrance": "closed_at_first",
                                            "division_interval": "12_to_18_months"}}}),
        )
    };
    let divided = json!({"date": "2026-10-01", "task": "divide"});
    // Nothing recorded after the division: what lapses has lapsed, what must be done is overdue.
    let plan_late = planned(&with(json!([divided])));
    assert_eq!(
        plan_late.task("pest-day-2").unwrap().state,
        TaskState::Dropped
    );
    let opening = plan_late.task("open-entrance").unwrap();
    assert_eq!(
        (opening.state, opening.dates.best),
        (TaskState::Planned, date("2026-10-20"))
    );
    assert!(codes(opening).contains(&"overdue"), "{:?}", codes(opening));
    assert!(codes(plan_late.task("pest-day-2").unwrap()).contains(&"lapsed"));
    // Nobody closes an entrance weeks after the division; opening it stays due.
    let closing = plan_late.task("close-entrance").unwrap();
    assert_eq!(closing.state, TaskState::Dropped);
    assert!(codes(closing).contains(&"lapsed"));
    // A time that has passed is over without a record, and what follows is due.
    let mut later = with(json!([divided]));
    later.today = date("2026-10-24");
    let later = planned(&later);
    let rest = later.task("side-by-side").unwrap();
    assert_eq!(
        rest.state,
        TaskState::Done {
            on: date("2026-10-22")
        }
    );
    assert!(codes(rest).contains(&"over"));
    // It is overdue: the new box is opened this evening, closed on the next, and moved then.
    assert_eq!(best(&later, "stage-1"), date("2026-10-26"));
    assert_eq!(best(&later, "open-entrance"), date("2026-10-24"));
    assert_eq!(best(&later, "stage-1-close"), date("2026-10-25"));
    let request = with(json!([divided, {"date": "2026-10-20", "task": "side-by-side"}]));
    let moved = planned(&request);
    assert_eq!(
        moved.task("side-by-side").unwrap().state,
        TaskState::Done {
            on: date("2026-10-20")
        }
    );
    assert_eq!(best(&moved, "stage-1"), date("2026-10-22"));
    // Divided ten days late: every later date is ten days later or more.
    let on_time = planned(&with(json!([divided])));
    let late = planned(&with(json!([{"date": "2026-10-11", "task": "divide"}])));
    for id in ["egg-check", "new-workers", "next-parent"] {
        assert_eq!(
            (best(&late, id) - best(&on_time, id)).num_days(),
            10,
            "{id}"
        );
    }
}

#[test]
fn an_unready_colony_gets_one_task_and_the_reasons() {
    let light = planned(&ask_for(
        LISMORE,
        "2026-10-01",
        "split",
        json!({"bee": "tetragonula_carbonaria",
               "colony": {"name": "Hive 7", "net_weight_kg": 2.2, "strength": "medium"}}),
    ));
    assert_eq!(light.tasks.len(), 1);
    let task = &light.tasks[0];
    assert_eq!(
        (task.id.as_str(), task.kind),
        ("not-ready", TaskKind::Prepare)
    );
    for code in ["too_light", "too_weak", "history_unknown"] {
        assert!(codes(task).contains(&code), "{code}");
    }
    // Weighed again later, it is ready but for its strength.
    let weighed = ask_for(
        LISMORE,
        "2026-11-20",
        "split",
        json!({"bee": "tetragonula_carbonaria",
               "colony": {"name": "Hive 7", "net_weight_kg": 2.2, "strength": "strong"},
               "records": [{"date": "2026-11-19", "net_weight_kg": 3.4}]}),
    );
    assert!(planned(&weighed).task("divide").is_some());
}

#[test]
fn what_was_not_declared_is_a_task_to_find_out() {
    let unknown = planned(&ask_for(
        LISMORE,
        "2026-10-01",
        "split",
        json!({"colony": {"name": "Hive 7"}, "bee": "tetragonula_carbonaria"}),
    ));
    let divide = unknown.task("divide").unwrap();
    for id in ["find-weight", "find-strength", "find-history"] {
        let task = unknown.task(id).unwrap();
        assert!(task.dates.latest < divide.dates.best);
        assert!(divide.depends_on.iter().any(|before| before.task == id));
    }
    // Divided lately: planned for when a year has passed.
    let lately = planned(&ask_for(
        LISMORE,
        "2026-10-01",
        "split",
        json!({"settings": {"choices": {"division_interval": "12_to_18_months"}},
               "colony": {"name": "Hive 7", "net_weight_kg": 3.6, "months_since_division": 9,
                          "strength": "strong"}}),
    ));
    assert_eq!(lately.first_safe, Some(date("2027-01-01")));
    assert!(
        lately
            .notes
            .iter()
            .any(|note| note.code == "divided_lately")
    );
}

/// A brood of the new box, recorded on a date.
fn brood_seen(on: &str) -> Value {
    json!({"date": on, "signs": [{"kind": "brood", "which": "daughter"}]})
}

#[test]
fn eduction_is_parted_when_brood_was_seen_and_never_by_a_date() {
    let asked = |today: &str, records: Value| {
        ask_for(
            LISMORE,
            today,
            "eduction",
            json!({"climate": {"normals": normals(19.5, 5.5, 1, 6.0)}, "records": records}),
        )
    };
    let first = planned(&asked("2026-08-01", json!([])));
    let set_on = best(&first, "set-on");
    // The looks have dates; the parting and all that comes after it have none.
    for number in 1..=6 {
        let look = best(&first, &format!("look-through-{number}"));
        assert!(look >= set_on + Days::new(21 * number));
    }
    for id in ["part", "beside-1", "egg-check", "new-workers"] {
        assert!(first.task(id).is_none(), "{id}");
        let waits = first.waiting.iter().find(|task| task.id == id).unwrap();
        assert_eq!(
            waits.until.code,
            if id == "part" {
                "until_seen"
            } else {
                "until_task"
            }
        );
    }
    let part = &first.waiting[0];
    assert_eq!(
        (part.id.as_str(), part.not_after),
        ("part", first.last_safe)
    );
    assert_eq!(part.not_before, Some(set_on + Days::new(28)));
    // A hundred days later without brood nothing has changed.
    let begun = json!({"date": set_on.to_string(), "task": "set-on"});
    let later = (set_on + Days::new(100)).to_string();
    let none = planned(&asked(&later, json!([begun])));
    assert!(none.task("part").is_none() && none.waiting[0].id == "part");
    // Brood seen: two weeks are left for the parting, and the looks fall away.
    let seen = set_on + Days::new(60);
    let grown = planned(&asked(
        &seen.to_string(),
        json!([begun, brood_seen(&seen.to_string())]),
    ));
    let part = grown.task("part").unwrap();
    assert!((part.dates.best - seen).num_days() <= 14 && part.dates.earliest >= seen);
    assert!(codes(part).contains(&"seen_on"));
    assert!(
        grown
            .waiting
            .iter()
            .all(|task| task.until.code == "until_full_box")
    );
    let look = grown.task("look-through-5").unwrap();
    assert_eq!(look.state, TaskState::Dropped);
    assert!(codes(look).contains(&"seen_already"));
    // Seen too soon, it still waits for what the method asks.
    let soon = set_on + Days::new(10);
    let soon = planned(&asked(
        &soon.to_string(),
        json!([begun, brood_seen(&soon.to_string())]),
    ));
    assert!(best(&soon, "part") >= set_on + Days::new(28));
}

#[test]
fn an_eduction_too_late_for_this_season_is_parted_in_the_next() {
    let climate = json!({"normals": normals(19.5, 5.5, 1, 6.0)});
    let asked = |today: &str, more: Value| {
        let mut more = more;
        more["climate"] = climate.clone();
        ask_for(LISMORE, today, "eduction", more)
    };
    let early = planned(&asked("2026-08-01", json!({})));
    let (window, last) = (early.window.clone().unwrap(), early.last_safe.unwrap());
    let last_start = early.task("set-on").unwrap().dates.latest;
    // The quickest growing through takes 28 days.
    assert_eq!((last - last_start).num_days(), 28);
    let today = last_start + Days::new(1);
    let late = planned(&asked(&today.to_string(), json!({})));
    assert_eq!(late.window, early.window);
    assert!(best(&late, "set-on") <= window.closes);
    assert_eq!(late.task("set-on").unwrap().dates.latest, window.closes);
    assert_eq!(late.last_safe.unwrap().year(), last.year() + 1);
    assert_eq!(late.waiting[0].not_after, late.last_safe);
    let next = window.opens.with_year(window.opens.year() + 1).unwrap();
    let note = late
        .notes
        .iter()
        .find(|note| note.code == "parted_next_season");
    let note = note.unwrap().text();
    let named = |days: i64| note.contains(&date_words(next + chrono::TimeDelta::days(days)));
    assert!((-1..=1).any(named), "{note}");
    // Set on, and brood seen after the last safe date: parted in the next season.
    let begun = json!({"date": today.to_string(), "task": "set-on"});
    let seen = (today + Days::new(60)).to_string();
    let begun = planned(&asked(
        &seen,
        json!({"records": [begun, brood_seen(&seen)]}),
    ));
    let part = begun.task("part").unwrap();
    assert!((part.dates.earliest - next).num_days().abs() <= 1);
    assert!((part.dates.best - part.dates.earliest).num_days() <= 7);
    assert!(codes(part).contains(&"into_season"));
    assert!(part.dates.latest > part.dates.best && Some(part.dates.latest) <= begun.last_safe);
    let notes: Vec<_> = begun.notes.iter().map(|note| &*note.code).collect();
    assert_eq!(notes, ["parted_next_season", "last_safe_by_warmth"]);
    // A wanted date late in the season is kept, one in winter waits for the next.
    let wanted = window.closes - Days::new(3);
    let kept = planned(&asked("2026-12-01", json!({"wanted": wanted.to_string()})));
    assert!((best(&kept, "set-on") - wanted).num_days().abs() <= 3);
    let winter = planned(&asked("2027-06-01", json!({})));
    assert_eq!(
        winter.task("set-on").unwrap().dates.earliest,
        part.dates.earliest
    );
    assert!(
        winter
            .notes
            .iter()
            .all(|note| note.code != "parted_next_season")
    );
}

#[test]
fn a_transfer_keeps_its_queen() {
    let transfer = planned(&ask_for(LISMORE, "2026-10-01", "transfer", json!({})));
    assert!(transfer.task("stage-1").is_none() && transfer.task("next-parent").is_none());
    let waits = transfer
        .waiting
        .iter()
        .find(|task| task.id == "first-division");
    assert_eq!(waits.unwrap().until.code, "until_full_box");
    let cautions: Vec<_> = transfer
        .task("transfer")
        .unwrap()
        .cautions
        .iter()
        .map(|c| &*c.code)
        .collect();
    assert_eq!(cautions, ["lifting", "bites_allergy", "law"]);
}

#[test]
fn moving_a_task_moves_those_after_it_only() {
    let request = ask_for(
        LISMORE,
        "2026-10-01",
        "split",
        json!({"wanted": "2026-10-10", "climate": {"normals": normals(19.5, 5.5, 1, 6.0)}}),
    );
    let before = planned(&request);
    let after = moved(
        &request,
        "egg-check",
        best(&before, "egg-check") + Days::new(3),
    )
    .unwrap();
    check(&after, &PlanSettings::default());
    for task in &before.tasks {
        let days = (best(&after, &task.id) - task.dates.best).num_days();
        let expected = match task.id.as_str() {
            // The other looks for eggs count from the division.
            "egg-check" | "new-workers" => 3,
            _ => 0,
        };
        assert_eq!(days, expected, "{}", task.id);
    }
    // What prepares the work can be moved as well, but not behind it.
    let ready = moved(&request, "prepare", date("2026-10-08")).unwrap();
    let prepare = ready.task("prepare").unwrap();
    assert_eq!(prepare.dates.best, date("2026-10-08"));
    assert!(codes(prepare).contains(&"moved"));
    for (task, day) in [("prepare", "2026-10-11"), ("prepare", "2026-09-30")] {
        let error = moved(&request, task, date(day)).unwrap_err();
        assert_eq!((error.code(), error.field()), ("inconsistent", "fixed"));
    }
    let mut undeclared = request.clone();
    undeclared.colony.strength = None;
    let judged = moved(&undeclared, "find-strength", date("2026-10-06")).unwrap();
    assert_eq!(best(&judged, "find-strength"), date("2026-10-06"));
    let error = moved(&request, "egg-check", date("2026-10-05")).unwrap_err();
    assert_eq!((error.code(), error.field()), ("inconsistent", "fixed"));
    assert_eq!(
        moved(&request, "harvest", date("2026-10-05"))
            .unwrap_err()
            .code(),
        "unknown_name"
    );
}

#[test]
fn an_own_method_is_planned_like_the_built_in_ones() {
    let own = r#"{"name": "our_way", "label": "Our way", "about": "As we do it.", "source": "own",
        "new_queen": "daughter", "readiness": {"source": "own"}, "steps": [
        {"id": "halve", "kind": "divide", "which": "pair", "title": "Halve", "why": "In spring.",
         "day": "opening", "time": "warm_hours", "season": "safe", "source": "own"},
        {"id": "warmth", "kind": "check", "which": "daughter", "title": "Look", "why": "Warm enough.",
         "depends_on": [{"task": "halve", "wait": {"unit": "degree_days", "base_c": 15,
            "earliest": 200, "likely": 250, "latest": 300, "source": "own"}}],
         "rebuilt": true, "source": "own"}]}"#;
    let method: Value = serde_json::from_str(own).unwrap();
    let plan = planned(&ask_for(
        LISMORE,
        "2026-09-20",
        "x",
        json!({"method": method,
        "climate": {"normals": normals(19.5, 5.5, 1, 6.0)}}),
    ));
    let look = plan.task("warmth").unwrap();
    assert!(look.dates.earliest < look.dates.best && look.dates.best < look.dates.latest);
    assert!(look.rests_on.normal_days > 20);
    assert_eq!(plan.id, "hive-7-our-way-2026");
}

#[test]
fn a_wait_beside_the_way_leaves_the_last_safe_date_alone() {
    let step = |id: &str, more: Value| {
        let mut step = json!({"id": id, "kind": "check", "which": "pair", "title": id, "why": "So.",
            "source": "own"});
        step.as_object_mut()
            .unwrap()
            .extend(more.as_object().unwrap().clone());
        step
    };
    let after = |unit: &str, count: f64| {
        json!([{"task": "halve", "wait": {"unit": unit, "earliest": count, "likely": count,
            "latest": count, "source": "own"}}])
    };
    let plan_with = |aside: Value| {
        let mut steps = vec![step("halve", json!({"kind": "divide", "season": "safe"}))];
        steps.extend(aside.as_array().unwrap().iter().cloned());
        steps.push(step(
            "workers",
            json!({"depends_on": after("days", 55.0), "rebuilt": true}),
        ));
        let method = json!({"name": "our_way", "label": "Our way", "about": "As we do it.",
            "source": "own", "new_queen": "daughter", "readiness": {"source": "own"},
            "steps": steps});
        planned(&ask_for(
            LISMORE,
            "2026-09-20",
            "x",
            json!({"method": method}),
        ))
    };
    let plain = plan_with(json!([]));
    // No year has so many flying days, but nothing waits for what waits for them.
    let aside = step("aside", json!({"depends_on": after("flying_days", 900.0)}));
    let beside = plan_with(json!([aside]));
    assert!(plain.last_safe.is_some());
    assert_eq!(beside.last_safe, plain.last_safe);
    assert!(codes(beside.task("aside").unwrap()).contains(&"too_few_flying_days"));
}

#[test]
fn last_safe_dates_are_those_of_a_ready_colonys_plan() {
    for method in ["split", "eduction", "comb_donation", "transfer"] {
        for today in ["2026-08-01", "2026-12-01", "2027-02-20", "2027-05-01"] {
            let request = json!({
                "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
                         "zone": "Australia/Sydney"},
                "today": today, "method": method
            });
            let answer = last_safe(&serde_json::from_value(request).unwrap()).unwrap();
            let LastSafeOutcome::Windows { windows } = answer.outcome else {
                panic!("{:?}", answer.outcome);
            };
            let ready = plan(&ask_for(LISMORE, today, method, json!({}))).unwrap();
            let begun = ready.window.as_ref().unwrap();
            // What cannot be finished in the window it is begun in has the dates of the next one.
            let parted = ready
                .notes
                .iter()
                .any(|note| note.code == "parted_next_season");
            let dates = windows
                .iter()
                .find(|dates| match parted {
                    false => dates.opens == begun.opens && dates.closes == begun.closes,
                    true => dates.opens > begun.closes,
                })
                .unwrap();
            assert_eq!(dates.last_safe, ready.last_safe, "{method} {today}");
            assert!(ready.notes.contains(&dates.why), "{:?}", ready.notes);
            assert!(dates.last_start <= dates.last_safe && dates.last_safe <= Some(dates.closes));
            assert!(windows.iter().all(|dates| dates.closes >= date(today)));
        }
    }
}

#[test]
fn where_nothing_closes_every_date_is_safe() {
    let request = json!({
        "site": {"latitude_deg": 1.35, "longitude_deg": 103.8, "elevation_m": 15,
                 "zone": "Asia/Singapore"},
        "today": "2026-03-01", "method": "split"
    });
    let answer = last_safe(&serde_json::from_value(request).unwrap()).unwrap();
    assert_eq!(answer.outcome, LastSafeOutcome::AllYear);
}

#[test]
fn a_refused_text_is_told_its_own_limit() {
    let refused = |more: Value| {
        plan(&ask_for(LISMORE, "2026-10-01", "split", more))
            .map(|plan| plan.id)
            .map_err(|error| error.to_string())
    };
    let note =
        |length: usize| json!({"records": [{"date": "2026-09-02", "note": "a".repeat(length)}]});
    assert!(refused(note(2000)).is_ok());
    let said = refused(note(2001)).unwrap_err();
    assert!(
        said.contains("2001 bytes") && said.contains("2000 bytes"),
        "{said}"
    );
    let said = refused(json!({"keeper": "a".repeat(501)})).unwrap_err();
    assert!(
        said.contains("501 bytes") && said.contains("500 bytes"),
        "{said}"
    );
}

#[test]
fn bad_requests_are_refused() {
    let refused = |more: Value| {
        let error = plan(&ask_for(LISMORE, "2026-10-01", "split", more)).unwrap_err();
        (error.code(), error.field().to_owned())
    };
    assert_eq!(
        refused(json!({"method": "graft"})),
        ("unknown_name", "method".to_owned())
    );
    assert_eq!(
        refused(json!({"settings": {"choices": {"entrance": "ajar"}}})),
        ("unknown_name", "settings.choices.entrance".to_owned())
    );
    assert_eq!(
        refused(json!({"records": [{"date": "2026-10-02", "task": "divide"}]})),
        ("inconsistent", "records[0].date".to_owned())
    );
    assert_eq!(
        refused(json!({"records": [{"date": "2026-09-02", "task": "harvest"}]})),
        ("unknown_name", "records[0].task".to_owned())
    );
    assert_eq!(
        refused(json!({"colony": {"name": " "}})),
        ("out_of_range", "colony.name".to_owned())
    );
    assert_eq!(
        refused(json!({"id": "Hive 7"})),
        ("out_of_range", "id".to_owned())
    );
    assert_eq!(
        refused(json!({"settings": {"opening_min_c": 31}, })),
        ("out_of_range", "opening_min_c".to_owned())
    );
}

#[test]
fn an_id_is_made_of_names_and_stays() {
    assert_eq!(slug(&["Hive 7", "", "split", "2026"]), "hive-7-split-2026");
    let thai = slug(&["รัง ๑", "", "split", "2026"]);
    assert!(thai.starts_with("split-2026-") && thai != slug(&["รัง ๒", "", "split", "2026"]));
    let given = ask_for(LISMORE, "2026-10-01", "split", json!({"id": "club-12"}));
    assert_eq!(planned(&given).id, "club-12");
}

#[test]
fn a_day_that_was_skipped_is_stepped_over() {
    // Samoa had no 30 December 2011.
    let apia = (-13.83, -171.77, 2.0, "Pacific/Apia");
    let request = ask_for(
        apia,
        "2011-12-20",
        "split",
        json!({
        "records": [{"date": "2011-12-16", "task": "divide"}]}),
    );
    let plan = planned(&request);
    assert_eq!(best(&plan, "pest-day-14"), date("2011-12-31"));
}

/// Meridians with the clocks there, of both hemispheres, with and without summer time.
const ZONES: [(f64, &str); 6] = [
    (0.0, "UTC"),
    (153.0, "Australia/Brisbane"),
    (151.2, "Australia/Sydney"),
    (-46.6, "America/Sao_Paulo"),
    (-80.2, "America/New_York"),
    (77.6, "Asia/Kolkata"),
];

/// A built-in method, with one of the options of each setting that is asked about.
fn method_and_choices() -> impl Strategy<Value = (&'static str, BTreeMap<String, String>)> {
    let name = prop::sample::select(crate::method::method_names().to_vec());
    let picks = prop::collection::vec(prop::option::of(any::<prop::sample::Index>()), 16);
    (name, picks).prop_map(|(name, picks)| {
        let method = crate::method::built_in(name).unwrap();
        let settings = method.settings().iter().zip(picks);
        let chosen = settings.filter_map(|(setting, pick)| {
            let option = pick?.get(&setting.options);
            Some((setting.name.clone(), option.name.clone()))
        });
        (name, chosen.collect())
    })
}

/// Three looks with wide ranges before the new workers: thousands of their dates, some dozens of ranges. One of
/// 10,000 random plans was refused for it.
#[test]
fn the_dates_of_many_looks_take_little_work() {
    let (today, wanted) = (date("2026-06-03"), date("2026-09-27"));
    let request = ask_for(
        (0.0, 77.6, 50.0, "Asia/Kolkata"),
        &today.to_string(),
        "comb_donation",
        json!({"climate": {"normals": normals(19.34649684797251, 5.577876956227789, 7, 5.0)},
               "bee": "austroplebeia_australis",
               "fixed": [{"task": "donate", "date": wanted.to_string()}],
               "settings": {"opening_from_move_d": 6,
                            "choices": {"feeding": "yes", "inspection": "opening", "queen_cells": "each"}}}),
    );
    let (plan, units) = crate::work::counted(|| planned(&request));
    assert_eq!(best(&plan, "donate"), wanted);
    assert!(units < crate::work::MOST_WORK / 5, "{units}");
}

mod campaigns;
mod least;
mod lives;

proptest! {
    // As many as `PLANS` asks for.
    #![proptest_config(ProptestConfig::with_cases(
        std::env::var("PLANS").ok().and_then(|cases| cases.parse().ok()).unwrap_or(24)
    ))]

    #[test]
    fn every_plan_keeps_its_rules(
        latitude in -38.0..38.0_f64, mean_c in 14.0..28.0_f64, swing_c in 0.0..8.0_f64,
        day in 0u64..2000, (method, choices) in method_and_choices(), free in any::<bool>(),
        declared in any::<bool>(), bee in prop::sample::select(crate::bee::bee_names()),
        (longitude, zone) in prop::sample::select(ZONES.to_vec()),
        from_move_d in prop::option::of(0u32..8), after_division_d in prop::option::of(0u32..8),
        opening_c in prop::option::of((16.0..24.0_f64, 27.0..36.0_f64)), wanted in prop::option::of(0u64..300),
    ) {
        let today = date("2024-01-01") + Days::new(day);
        let warmest = if latitude < 0.0 { 1 } else { 7 };
        let mut settings = json!({"choices": choices});
        if let Some(days) = from_move_d { settings["opening_from_move_d"] = json!(days); }
        if let Some(days) = after_division_d { settings["opening_after_division_d"] = json!(days); }
        if let Some((low, high)) = opening_c {
            settings["opening_min_c"] = json!(low);
            settings["opening_max_c"] = json!(high);
        }
        let mut more = json!({"climate": {"normals": normals(mean_c, swing_c, warmest, 5.0)},
                              "bee": bee, "settings": settings});
        if free { more["free_weekdays"] = json!(["sunday"]); }
        if !declared { more["colony"] = json!({"name": "Hive 7"}); }
        if let Some(days) = wanted { more["wanted"] = json!((today + Days::new(days)).to_string()); }
        let request = ask_for((latitude, longitude, 50.0, zone), &today.to_string(), method, more);
        let first = planned(&request);
        prop_assert_eq!(&first, &plan(&request).unwrap());
        let reviewed = review(&request).unwrap();
        prop_assert_eq!(&reviewed.plan, &first);
        prop_assert!(reviewed.changes.is_empty() && reviewed.standing.is_none());
    }

    #[test]
    fn colder_weather_never_brings_a_flying_day_task_earlier(
        warm in prop::collection::vec(12.0..28.0_f64, 20), colder_c in 0.0..8.0_f64,
    ) {
        let with = |less: f64| {
            let days: Vec<_> = warm.iter().map(|high| (high - less - 8.0, high - less, 0.0)).collect();
            let more = json!({
                // Its light leaves a move window before flight on the warmest morning too.
                "bee": "tetragonula_carbonaria",
                "climate": {"normals": normals(19.5, 5.5, 1, 6.0),
                            "forecast": forecast("2026-10-22", &days)},
                "records": [{"date": "2026-10-01", "task": "divide"},
                            // No look is in the way of a move.
                            {"date": "2026-10-21", "signs": [{"kind": "laying_queen", "which": "pair"}]},
                            {"date": "2026-10-22", "task": "side-by-side"}],
            });
            planned(&ask_for(LISMORE, "2026-10-22", "split", more))
        };
        let (mild, cold) = (with(0.0), with(colder_c));
        for id in ["stage-1", "stage-2"] {
            prop_assert!(best(&cold, id) >= best(&mild, id), "{}", id);
        }
    }
}
