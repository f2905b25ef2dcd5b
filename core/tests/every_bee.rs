//! Every built-in bee goes through every method at ten places, and nothing that is said of a plan or of a task
//! contradicts anything else that is said of it. The sentences are told apart by their codes in the catalogue.
// Helpers of a test may unwrap like the test itself.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::collections::BTreeSet;

use apiary_almanac::bee::{self, bee_names};
use apiary_almanac::chrono::{Days, NaiveDate};
use apiary_almanac::method::{self, Strength, method_names};
use apiary_almanac::plan::{Colony, Plan, PlanRequest, plan};
use apiary_almanac::reason::{Language, sentences};
use apiary_almanac::record::{Record, Sign, SignKind};
use apiary_almanac::review::{Advice, review};
use apiary_almanac::task::{Task, TaskKind, TaskState, Which};
use apiary_almanac::{Reason, Site};

/// Real places: five regions, both hemispheres, wet and dry, low and high.
fn places() -> [Site; 10] {
    let site = |latitude, longitude, elevation, zone: &str| {
        Site::new(latitude, longitude, elevation, zone).unwrap()
    };
    [
        site(-27.5, 153.0, 20.0, "Australia/Brisbane"),
        site(-33.9, 151.2, 20.0, "Australia/Sydney"),
        site(3.1, 101.7, 50.0, "Asia/Kuala_Lumpur"),
        site(10.0, 76.3, 5.0, "Asia/Kolkata"),
        site(14.2, 121.2, 40.0, "Asia/Manila"),
        site(-29.9, 31.0, 10.0, "Africa/Johannesburg"),
        site(0.3, 32.6, 1190.0, "Africa/Kampala"),
        site(-23.6, -46.6, 760.0, "America/Sao_Paulo"),
        site(-1.5, -48.5, 10.0, "America/Belem"),
        site(21.0, -89.6, 10.0, "America/Merida"),
    ]
}

/// Sentences that cannot both be true of one task.
const NOT_TOGETHER: [[&str; 2]; 24] = [
    ["dry", "wet"],
    ["dry", "rain_unknown"],
    ["wet", "rain_unknown"],
    ["mild", "no_mild_hours"],
    ["mild", "too_cold_to_open"],
    ["mild", "too_short_to_open"],
    ["mild", "no_warm_hours"],
    ["mild", "no_fit_day"],
    ["lapsed", "overdue"],
    ["lapsed", "passed_over"],
    ["over", "overdue"],
    ["queen_seen", "only_if_no_eggs"],
    ["queen_seen", "queenless_life"],
    ["queen_seen", "queenless_life_unknown"],
    ["queenless_life", "queenless_life_unknown"],
    ["seen_already", "overdue"],
    ["long_enough", "no_fit_morning"],
    ["caution_extreme_heat", "caution_cold_days"],
    ["caution_heat", "caution_cold_days"],
    ["caution_no_stingless_bees", "caution_not_native"],
    ["heat_ahead", "too_cold_to_open"],
    ["too_hot_to_close", "too_hot_to_shut"],
    ["strong_enough", "too_weak"],
    ["heavy_enough", "too_light"],
];

/// Sentences that cannot both be true of one plan.
const NOT_IN_ONE_PLAN: [[&str; 2]; 8] = [
    ["heavy_enough", "weight_unknown"],
    ["heavy_enough", "too_light"],
    ["strong_enough", "too_weak"],
    ["strong_enough", "strength_unknown"],
    ["rested", "divided_lately"],
    ["rested", "history_unknown"],
    ["last_safe", "no_last_safe"],
    ["last_safe", "last_safe_by_warmth"],
];

fn codes<'a>(reasons: impl IntoIterator<Item = &'a Reason>) -> BTreeSet<String> {
    reasons
        .into_iter()
        .map(|reason| reason.code.clone().into_owned())
        .collect()
}

fn apart(codes: &BTreeSet<String>, pairs: &[[&str; 2]], place: &str) {
    for [one, other] in pairs {
        assert!(
            !(codes.contains(*one) && codes.contains(*other)),
            "{place}: {one} and {other}"
        );
    }
}

fn said_of(task: &Task) -> BTreeSet<String> {
    let mut said = codes(task.why.iter().chain(&task.only_if));
    said.extend(
        task.cautions
            .iter()
            .map(|caution| format!("caution_{}", caution.code)),
    );
    said
}

fn check_task(task: &Task, place: &str) {
    let said = said_of(task);
    apart(&said, &NOT_TOGETHER, place);
    let planned = task.state == TaskState::Planned;
    assert!(
        planned || task.only_if.is_none() && task.cautions.is_empty(),
        "{place}"
    );
    // What is too hot for a closed box is not to be closed.
    if said.contains("too_hot_to_close") {
        assert!(!planned, "{place}");
    }
    if planned && task.id == "close-entrance" {
        assert!(
            !said.contains("caution_heat") && !said.contains("caution_extreme_heat"),
            "{place}"
        );
    }
}

fn check_plan(plan: &Plan, place: &str) {
    let mut all = codes(&plan.notes);
    for task in &plan.tasks {
        check_task(task, &format!("{place} {}", task.id));
        if task.kind != TaskKind::Divide {
            all.extend(codes(&task.why));
        }
    }
    all.extend(
        plan.cautions
            .iter()
            .map(|caution| format!("caution_{}", caution.code)),
    );
    apart(&all, &NOT_IN_ONE_PLAN, place);
    // A task has a date or waits for one, not both.
    for waiting in &plan.waiting {
        assert!(plan.task(&waiting.id).is_none(), "{place} {}", waiting.id);
        assert!(waiting.until.code.starts_with("until_"), "{place}");
    }
    // An entrance is closed, made small or left: one of them is asked for.
    let look_for = plan.tasks.iter().flat_map(|task| &task.look_for);
    let said: BTreeSet<&str> = look_for.map(String::as_str).collect();
    let has = |words: &str| said.iter().any(|line| line.contains(words));
    assert!(
        !(has("make the entrance small; a young queen") && has("put no food in")),
        "{place}"
    );
    assert!(
        !(has("syrup into the part") && has("put no food in")),
        "{place}"
    );
    assert!(
        !(has("which keeps the old place") && has("The old box keeps the place")),
        "{place}"
    );
}

/// Nothing is said of queen cells where there are none, nor of another species by name.
fn check_words(plan: &Plan, bee: &str, place: &str) {
    let builds = bee::built_in(bee).unwrap().builds_queen_cells();
    let tasks = plan.tasks.iter().flat_map(|task| {
        let why = task.why.iter().map(Reason::text);
        why.chain([task.title.clone()]).chain(task.look_for.clone())
    });
    let waiting = plan.waiting.iter().flat_map(|task| {
        [task.title.clone(), task.why.text(), task.until.text()]
            .into_iter()
            .chain(task.look_for.clone())
    });
    let choices = plan.choices.iter().flat_map(|choice| {
        [choice.chosen.clone()]
            .into_iter()
            .chain(choice.others.clone())
    });
    for text in tasks.chain(waiting).chain(choices) {
        assert!(
            builds || !text.to_lowercase().contains("queen cell"),
            "{place}: {text}"
        );
        let names_it = text.contains("carbonaria") && !text.contains("council");
        assert!(
            bee == "tetragonula_carbonaria" || !names_it,
            "{place}: {text}"
        );
    }
}

fn colony() -> Colony {
    Colony::new("Hive 7")
        .with_net_weight_kg(3.6)
        .with_months_since_division(20.0)
        .with_strength(Strength::Strong)
}

#[test]
fn every_bee_through_every_method_at_five_places() {
    every_bee_at(0..5);
}

/// Beside the other five, so that two cores share the work.
#[test]
fn every_bee_through_every_method_at_the_other_five() {
    every_bee_at(5..10);
}

fn every_bee_at(chosen: std::ops::Range<usize>) {
    let today: NaiveDate = "2026-09-10".parse().unwrap();
    let places = places().into_iter().enumerate();
    for (number, site) in places.filter(|(number, _)| chosen.contains(number)) {
        for bee in bee_names() {
            for method in method_names() {
                let mut request = PlanRequest::new(site, today, method, colony()).with_bee(bee);
                // Now one way, now another, so that all meet all bees.
                let settings = method::built_in(method).unwrap();
                for setting in settings.settings() {
                    let option = &setting.options[number % setting.options.len()];
                    request
                        .settings
                        .choices
                        .insert(setting.name.clone(), option.name.clone());
                }
                let place = format!("{bee} {method} at place {number}");
                let plan = plan(&request).unwrap_or_else(|error| panic!("{place}: {error}"));
                check_plan(&plan, &place);
                check_words(&plan, bee, &place);
            }
        }
    }
}

/// The same after the work, when a look found no eggs: the plan and the advice agree.
#[test]
fn every_bee_with_a_look_that_found_no_eggs() {
    let places = places();
    for (number, bee) in bee_names().into_iter().enumerate() {
        let is_melipona = !bee::built_in(bee).unwrap().builds_queen_cells();
        for (method, task) in [
            ("split", "divide"),
            ("comb_donation", "donate"),
            ("transfer", "transfer"),
        ] {
            for day in [32, 62] {
                let divided: NaiveDate = "2026-10-05".parse().unwrap();
                let today = divided + Days::new(day);
                let none = Sign::new(SignKind::NoEggs).with_which(Which::Daughter);
                let request = PlanRequest::new(places[number % 10], today, method, colony())
                    .with_bee(bee)
                    .with_records([
                        Record::new(divided).with_task(task),
                        Record::new(today).with_task("egg-check").with_signs([none]),
                    ]);
                let place = format!("{bee} {method} day {day}");
                let found = review(&request).unwrap();
                check_plan(&found.plan, &place);
                check_words(&found.plan, bee, &place);
                let advises = |advice| found.recommendations.iter().any(|one| one.advice == advice);
                let late = is_melipona || day >= 60;
                assert_eq!(advises(Advice::GiveBrood), late, "{place}");
                assert!(!advises(Advice::Recombine), "{place}");
                for one in &found.recommendations {
                    assert!(
                        !is_melipona || !one.text.contains("queen cell"),
                        "{place}: {}",
                        one.text
                    );
                }
                if advises(Advice::GiveBrood) {
                    assert!(!advises(Advice::LeaveAlone), "{place}");
                }
            }
        }
    }
}

/// The codes that are told apart above are those of the catalogue.
#[test]
fn the_codes_are_in_the_catalogue() {
    let known = sentences(Language::English);
    let known: BTreeSet<&str> = known.sentences.iter().map(|one| one.code).collect();
    for code in NOT_TOGETHER.iter().chain(&NOT_IN_ONE_PLAN).flatten() {
        assert!(known.contains(code), "{code}");
    }
}

/// Where no dates can help, the first line says what matters.
#[test]
fn hopeless_places_say_so_first() {
    let today: NaiveDate = "2026-09-10".parse().unwrap();
    let first = |latitude, longitude, elevation, zone: &str| {
        let site = Site::new(latitude, longitude, elevation, zone).unwrap();
        let plan = plan(&PlanRequest::new(site, today, "split", colony())).unwrap();
        (
            plan.cautions[0].code.clone().into_owned(),
            plan.tasks[0].id.clone(),
        )
    };
    // 60° N; the Sahara, which is no home of theirs either.
    assert_eq!(
        first(60.2, 24.9, 20.0, "Europe/Helsinki").0,
        "no_stingless_bees"
    );
    assert_eq!(
        first(24.0, 5.0, 400.0, "Africa/Algiers").0,
        "no_stingless_bees"
    );
    // The open sea.
    assert_eq!(first(0.0, -140.0, 0.0, "Etc/GMT+9").0, "no_stingless_bees");
    // 4,000 m in the Andes: never warm enough.
    assert_eq!(first(-16.5, -69.0, 4000.0, "America/La_Paz").1, "no-season");
}
