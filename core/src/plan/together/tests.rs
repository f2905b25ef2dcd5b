//! Several plans of an invented keeper.

use std::collections::BTreeMap;

use super::*;
use crate::Site;
use crate::method::Strength;
use crate::morning::Weekday;
use crate::plan::{Colony, FixedDate, plan};
use crate::record::Record;
use crate::task::TaskState;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

const NAMES: [&str; 12] = [
    "Wattle",
    "Saltbush",
    "Lantern",
    "Quandong",
    "Myrtle",
    "Banksia",
    "Grevillea",
    "Hakea",
    "Casuarina",
    "Melaleuca",
    "Boronia",
    "Correa",
];

/// A colony that is ready.
fn asked(name: &str, method: &str) -> PlanRequest {
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap();
    let colony = Colony::new(name)
        .with_net_weight_kg(3.6)
        .with_months_since_division(20.0)
        .with_strength(Strength::Strong);
    PlanRequest::new(site, date("2026-08-01"), method, colony)
}

fn splits(count: usize) -> Vec<PlanRequest> {
    NAMES[..count]
        .iter()
        .map(|name| asked(name, "split"))
        .collect()
}

/// The plan requests again, with the dates of a schedule.
fn announced(plans: &[PlanRequest], found: &Together) -> Vec<PlanRequest> {
    let of = |(request, plan): (&PlanRequest, &Plan)| {
        let planned = plan
            .tasks
            .iter()
            .filter(|task| task.state == TaskState::Planned);
        let dates: Vec<FixedDate> = planned
            .map(|task| FixedDate {
                task: task.id.clone(),
                date: task.dates.best,
            })
            .collect();
        request.clone().with_announced(dates)
    };
    plans.iter().zip(&found.plans).map(of).collect()
}

fn dates(found: &Together) -> Vec<Vec<(String, NaiveDate)>> {
    let of = |plan: &Plan| {
        let tasks = plan.tasks.iter();
        tasks
            .map(|task| (task.id.clone(), task.dates.best))
            .collect()
    };
    found.plans.iter().map(of).collect()
}

/// How many tasks of a kind the fullest day has: those that open a hive, or moves.
fn most_a_day(found: &Together, counts: impl Fn(&str) -> bool) -> usize {
    let mut by_day: BTreeMap<NaiveDate, usize> = BTreeMap::new();
    for task in found.plans.iter().flat_map(|plan| &plan.tasks) {
        if task.state == TaskState::Planned && counts(&task.id) {
            *by_day.entry(task.dates.best).or_default() += 1;
        }
    }
    by_day.into_values().max().unwrap_or(0)
}

#[test]
fn starts_are_spread_and_no_day_has_more_than_the_keeper_can_do() {
    let plans = splits(6);
    let found = plans_together(&TogetherRequest::new(plans.clone())).unwrap();
    assert_eq!(found.broken, []);
    let mut starts: Vec<NaiveDate> = found.starts.iter().map(|start| start.date).collect();
    starts.sort();
    assert_eq!(starts.len(), 6);
    assert!(
        starts
            .windows(2)
            .all(|two| (two[1] - two[0]).num_days() >= 7),
        "{starts:?}"
    );
    // What opens a hive in a split, by its method's file.
    let opens = |id: &str| ["divide", "egg-check", "egg-check-2", "new-workers"].contains(&id);
    assert!(most_a_day(&found, opens) <= 2);
    assert!(
        most_a_day(&found, |id| id.starts_with("stage-")
            && !id.contains("-close")
            && !id.contains("-open"))
            <= 2
    );
    for (plan, start) in found.plans.iter().zip(&found.starts) {
        let window = plan.window.as_ref().unwrap();
        assert!(window.opens <= start.date && Some(start.date) <= plan.last_safe);
        assert!(!start.why.is_empty());
        for task in &plan.tasks {
            let range = task.dates;
            assert!(
                range.earliest <= range.best && range.best <= range.latest,
                "{task:?}"
            );
        }
    }
    // Those that could not begin on the day that they would have alone say why.
    let moved = found
        .starts
        .iter()
        .filter(|start| start.date != start.alone);
    assert!(moved.clone().count() >= 5);
    for start in moved {
        assert!(
            start.why.iter().any(|why| why.code == "start_together"),
            "{start:?}"
        );
    }
}

#[test]
fn nothing_new_and_nothing_moves() {
    let plans = splits(4);
    let found = plans_together(&TogetherRequest::new(plans.clone())).unwrap();
    let again = plans_together(&TogetherRequest::new(announced(&plans, &found))).unwrap();
    assert_eq!(dates(&found), dates(&again));
    // The order of the request decides who is first, and nothing else.
    let same = plans_together(&TogetherRequest::new(plans)).unwrap();
    assert_eq!(found, same);
}

#[test]
fn one_plan_together_is_the_plan_by_itself() {
    let request = asked("Wattle", "comb_donation");
    let alone = plan(&request).unwrap();
    let found = plans_together(&TogetherRequest::new([request])).unwrap();
    let best = |plan: &Plan| -> Vec<_> {
        plan.tasks
            .iter()
            .map(|task| (task.id.clone(), task.dates.best))
            .collect()
    };
    assert_eq!(best(&found.plans[0]), best(&alone));
    assert_eq!(found.starts[0].date, found.starts[0].alone);
}

#[test]
fn what_has_begun_and_what_is_not_ready_stay_as_they_are() {
    let begun = asked("Wattle", "split")
        .with_records([Record::new(date("2026-07-30")).with_task("divide")]);
    let mut weak = asked("Saltbush", "split");
    weak.colony.strength = Some(Strength::Weak);
    let plans = [begun, weak, asked("Lantern", "split")];
    let found = plans_together(&TogetherRequest::new(plans)).unwrap();
    let started: Vec<_> = found
        .starts
        .iter()
        .map(|start| start.name.as_str())
        .collect();
    assert_eq!(started, ["Lantern"]);
    assert_eq!(found.plans[1].tasks[0].id, "not-ready");
    assert!(matches!(
        found.plans[0].task("divide").unwrap().state,
        TaskState::Done { .. }
    ));
    assert!((found.starts[0].date - date("2026-07-30")).num_days() >= 7);
}

#[test]
fn what_cannot_be_kept_is_said() {
    let on = |name: &str| {
        let fixed = FixedDate {
            task: "divide".to_owned(),
            date: date("2026-11-07"),
        };
        asked(name, "split").with_fixed([fixed])
    };
    let limits = KeeperLimitOverrides::default().with_openings_per_day(1.0);
    let request = TogetherRequest::new([on("Wattle"), on("Saltbush")]).with_limits(limits);
    let found = plans_together(&request).unwrap();
    let codes: Vec<_> = found.broken.iter().map(|why| &*why.code).collect();
    assert_eq!(codes, ["openings_over"]);
    // Two people open twice as many.
    let limits = KeeperLimitOverrides::default()
        .with_openings_per_day(1.0)
        .with_people(2.0);
    let both = plans_together(&request.with_limits(limits)).unwrap();
    assert_eq!(both.broken, []);
}

#[test]
fn free_days_of_the_keeper_are_those_of_plans_that_name_none() {
    let own = KeeperLimitOverrides::default().with_free_weekdays([Weekday::Saturday]);
    let request = TogetherRequest::new(splits(3)).with_limits(own);
    let found = plans_together(&request).unwrap();
    for start in &found.starts {
        assert_eq!(Weekday::of(start.date), Weekday::Saturday, "{start:?}");
    }
}

#[test]
fn wrong_requests_are_refused_by_name() {
    let refused = |request: TogetherRequest| {
        let error = plans_together(&request).unwrap_err();
        (error.code(), error.field().to_owned())
    };
    assert_eq!(
        refused(TogetherRequest::new([])),
        ("not_enough_data", "plans".to_owned())
    );
    let many = vec![asked("Wattle", "split"); MOST_TOGETHER + 1];
    assert_eq!(
        refused(TogetherRequest::new(many)),
        ("too_large", "plans".to_owned())
    );
    let mut later = asked("Saltbush", "split");
    later.today = date("2026-08-02");
    let two = TogetherRequest::new([asked("Wattle", "split"), later]);
    assert_eq!(refused(two), ("inconsistent", "plans".to_owned()));
    let mut nameless = asked("Saltbush", "split");
    nameless.colony.name.clear();
    let two = TogetherRequest::new([asked("Wattle", "split"), nameless]);
    assert_eq!(
        refused(two),
        ("out_of_range", "plans[1].colony.name".to_owned())
    );
    let none = KeeperLimitOverrides::default().with_people(0.0);
    let request = TogetherRequest::new(splits(1)).with_limits(none);
    assert_eq!(refused(request), ("out_of_range", "people".to_owned()));
}
