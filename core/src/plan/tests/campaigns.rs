//! Programs over many random plans, in a short form; `PLANS=1000` makes them as long as asked for.

use super::*;
use crate::method::HiveMove;
use crate::relocation::Way;

pub(super) fn cases(short: u32) -> ProptestConfig {
    let asked = std::env::var("PLANS").ok();
    ProptestConfig::with_cases(asked.and_then(|cases| cases.parse().ok()).unwrap_or(short))
}

const MELIPONA: &str = "melipona_quadrifasciata";

/// A look into a hive, for which it is opened.
fn opens(task: &Task) -> bool {
    task.good_at.is_some()
}

/// The tasks of a plan that are not on the date that was announced, with that date.
pub(super) fn moved_tasks<'a>(
    plan: &'a Plan,
    announced: &[FixedDate],
) -> Vec<(&'a Task, NaiveDate)> {
    let ahead = plan
        .tasks
        .iter()
        .filter(|task| task.state == TaskState::Planned);
    let moved = ahead.filter_map(|task| {
        let before = announced.iter().find(|date| date.task == task.id)?.date;
        (task.dates.best != before).then_some((task, before))
    });
    moved.collect()
}

proptest! {
    #![proptest_config(cases(8))]

    /// Nothing new, a day later: nothing moves. With one wet, cold or hot spell of a forecast only what lies in
    /// it, what waits for something that moved, what counts flying days through it, or what has to keep away from
    /// something that moved.
    #[test]
    fn nothing_moves_that_nothing_concerns(
        place in 0usize..AROUND.len(), start in 0u64..24, spell_d in 0u64..10, long in 2usize..6,
        weather in prop::sample::select(vec![(17.0, 24.0, 20.0), (4.0, 13.0, 0.0), (26.0, 41.0, 0.0)]),
        method in prop::sample::select(vec!["split", "comb_donation", "transfer"]),
    ) {
        let today = date("2026-07-01") + Days::new(15 * start);
        let ask = |today: NaiveDate, more: Value| ask_for(AROUND[place], &today.to_string(), method, more);
        let first = planned(&ask(today, json!({})));
        let dates = announced(&first);
        // On the day before the first of them.
        let next = dates.iter().map(|date| date.date).min().unwrap();
        let later = next - Days::new(u64::from(next > today));
        let mut same = ask(later, json!({}));
        same.announced.clone_from(&dates);
        let same = planned(&same);
        prop_assert!(moved_tasks(&same, &dates).is_empty(), "{:?}", moved_tasks(&same, &dates));

        let from = later + Days::new(spell_d);
        let until = from + Days::new(long as u64);
        let days = vec![weather; long];
        let mut request = ask(later, json!({"climate": {"forecast": forecast(&from.to_string(), &days)}}));
        request.announced.clone_from(&dates);
        let plan = planned(&request);
        let moved = moved_tasks(&plan, &dates);
        for (task, before) in &moved {
            // A day is judged with the heat of the five after it.
            let in_spell = *before + Days::new(6) >= from && *before <= until;
            let waits = task.depends_on.iter().any(|other| {
                moved.iter().any(|(task, _)| task.id == other.task)
            });
            let counts = task.depends_on.iter().any(|other| {
                let other = plan.task(&other.task).unwrap();
                other.dates.best <= until && task.dates.best.max(*before) >= from
            });
            let near = moved.iter().any(|(other, other_before)| {
                let near = |date: NaiveDate| {
                    (date - *before).num_days().abs() <= 5 || (date - task.dates.best).num_days().abs() <= 5
                };
                other.id != task.id && (near(other.dates.best) || near(*other_before))
            });
            let beside = task.id.ends_with("-close") || task.id.ends_with("-open");
            prop_assert!(in_spell || waits || counts || near || beside, "{task} was {before}: {moved:?}");
            let told = task.why.iter().any(|why| why.code == "moved_from");
            prop_assert!(told || beside || task.kind == TaskKind::Divide || task.kind == TaskKind::Prepare, "{task}");
        }
    }

    /// Each date that somebody asks about has a reason, or is the one that is planned.
    #[test]
    fn every_random_date_has_a_reason(
        place in 0usize..AROUND.len(), start in 0u64..24, which in any::<prop::sample::Index>(), away in -40i64..80,
        method in prop::sample::select(vec!["split", "eduction", "comb_donation", "transfer"]),
    ) {
        let today = date("2026-07-01") + Days::new(15 * start);
        let request = ask_for(AROUND[place], &today.to_string(), method, json!({}));
        let found = planned(&request);
        let task = which.get(&found.tasks);
        let day = task.dates.best + chrono::TimeDelta::days(away);
        let answer = why_not(&WhyNotRequest::new(request, task.id.as_str(), day)).unwrap();
        match answer.reason {
            None => prop_assert_eq!(answer.planned, Some(day)),
            Some(reason) => {
                prop_assert!(answer.planned != Some(day), "{} on {day}: {}", task.id, reason.text());
                let in_words = reason.text().len() > 10 && !reason.text().contains('{');
                prop_assert!(in_words);
            }
        }
    }

    /// As of a division, each other date of a move has a reason that is true of its day.
    #[test]
    fn dates_of_moves_have_reasons(day in 0u64..360, away in -9i64..9, stage in 1u32..5) {
        let today = date("2026-01-01") + Days::new(day);
        let mut request = ask_for(LISMORE, &today.to_string(), "split", json!({}));
        request.method = HiveMove::new(2.0).into();
        let id = format!("stage-{stage}");
        let Some(best) = plan(&request).unwrap().task(&id).map(|task| task.dates.best) else {
            return Ok(());
        };
        let day = best + chrono::TimeDelta::days(away);
        let answer = why_not(&WhyNotRequest::new(request, id, day)).unwrap();
        prop_assert_eq!(answer.reason.is_none(), away == 0);
    }

    /// Moves of any length, anywhere: on dawns in their order, each with its evening before; no box is carried in heat.
    #[test]
    fn moves_are_planned_as_anything_else(
        latitude in -38.0..38.0_f64, mean_c in 14.0..30.0_f64, swing_c in 0.0..8.0_f64, day in 0u64..2000,
        metres in 0.2..6.0_f64, far in any::<bool>(), free in any::<bool>(),
        bee in prop::sample::select(vec!["generic_small", "generic_large", MELIPONA]),
    ) {
        let today = (date("2024-01-01") + Days::new(day)).to_string();
        let warmest = if latitude < 0.0 { 1 } else { 7 };
        let mut more = json!({"climate": {"normals": normals(mean_c, swing_c, warmest, 5.0)}, "bee": bee});
        if free { more["free_weekdays"] = json!(["sunday", "wednesday"]); }
        let mut request = ask_for((latitude, 100.0, 50.0, "UTC"), &today, "split", more);
        let way = if far { Way::FarAndReturn } else { Way::Staged };
        request.method = HiveMove::new(metres).with_way(way).into();
        let plan = planned(&request);
        let moves: Vec<&Task> = plan.tasks.iter()
            .filter(|task| task.kind == TaskKind::Move && task.state == TaskState::Planned).collect();
        prop_assert!(moves.iter().all(|task| task.dates.best > plan.today), "no evening before");
        prop_assert!(moves.windows(2).all(|pair| pair[0].dates.best < pair[1].dates.best));
        let climate = Climate::from_input(&request.site, &request.climate).unwrap();
        let heat_c = Bee::with_overrides(&request.bee).unwrap().heat_shade_c.value;
        for task in moves {
            let unfit = task.why.iter().any(|why| why.code == "no_fit_morning");
            prop_assert!(unfit || climate.day(task.dates.best).maximum_c < heat_c, "{task}");
        }
    }

    /// Melipona in the tropics: no hive is opened before an hour after sunrise, nothing closed through heat.
    #[test]
    fn tropical_melipona_is_opened_late_and_never_shut_in_heat(
        latitude in -20.0..20.0_f64, mean_c in 22.0..31.0_f64, day in 0u64..700, closed in any::<bool>(),
        method in prop::sample::select(vec!["split", "comb_donation"]),
    ) {
        let today = (date("2026-01-01") + Days::new(day)).to_string();
        let mut more = json!({"climate": {"normals": normals(mean_c, 2.0, 1, 5.0)}, "bee": MELIPONA});
        if closed { more["settings"] = json!({"choices": {"entrance": "closed_at_first"}}); }
        let request = ask_for((latitude, -45.0, 50.0, "Etc/GMT+3"), &today, method, more);
        let bee = Bee::with_overrides(&request.bee).unwrap();
        let climate = Climate::from_input(&request.site, &request.climate).unwrap();
        let weather = Weather::new(&request.site, &climate, &bee);
        let limit_c = bee.closed_limit().value;
        for task in planned(&request).tasks.iter().filter(|task| task.state == TaskState::Planned) {
            let (Some(window), date) = (task.window, task.dates.best) else { continue };
            if opens(task) {
                let rise = weather.sun(date).unwrap().sun.rise().unwrap();
                prop_assert!(window.from >= rise + chrono::TimeDelta::hours(1), "{task}");
            }
            if task.id == "close-entrance" {
                for ahead in 0..=2 {
                    prop_assert!(climate.day(date + Days::new(ahead)).maximum_c < limit_c, "{task}");
                }
            }
        }
    }
}

#[test]
fn looks_keep_away_from_moves_by_as_many_days_as_the_keeper_sets() {
    let more = json!({"climate": {"normals": normals(14.0, 5.712_812_510_202_895_5, 7, 5.0)},
        "bee": "meliponula_beccarii", "colony": {"name": "Hive 7"},
        "settings": {"choices": {"place": "away"}, "opening_from_move_d": 6}});
    planned(&ask_for(
        (0.0, 0.0, 50.0, "UTC"),
        "2024-01-01",
        "split",
        more,
    ));
}

#[test]
fn two_stages_never_fall_on_one_dawn() {
    let climate = normals(15.194_439_078_703_416, 4.774_540_349_042_441, 7, 5.0);
    let more = json!({"climate": {"normals": climate}, "free_weekdays": ["sunday", "wednesday"]});
    let today = (date("2024-01-01") + Days::new(1605)).to_string();
    let at = (34.346_202_549_956_99, 100.0, 50.0, "UTC");
    let mut request = ask_for(at, &today, "split", more);
    request.method = HiveMove::new(5.914_084_861_501_137).into();
    planned(&request);
}

/// Twenty refused dates in words, to be read; `core/src/plan/tests/why_not.txt` keeps them.
#[test]
fn twenty_refused_dates_in_plain_words() {
    let mut text = String::new();
    let divided = json!({"records": [{"date": "2026-10-05", "task": "divide"}]});
    let stories = [
        (
            "split",
            "2026-10-01",
            json!({}),
            ["divide", "stage-1", "egg-check", "pest-day-1", "decide"],
        ),
        (
            "split",
            "2026-10-08",
            divided,
            [
                "divide",
                "pest-day-3",
                "side-by-side",
                "next-parent",
                "stage-2",
            ],
        ),
        (
            "comb_donation",
            "2026-08-01",
            json!({"free_weekdays": ["sunday"]}),
            [
                "prepare",
                "donate",
                "egg-check",
                "second-look",
                "new-workers",
            ],
        ),
        (
            "eduction",
            "2026-09-01",
            json!({}),
            ["set-on", "part", "beside-1", "beside-2", "look-through-1"],
        ),
    ];
    for (story, (method, today, more, tasks)) in stories.into_iter().enumerate() {
        let request = ask_for(LISMORE, today, method, more);
        let found = planned(&request);
        for (nth, id) in tasks.into_iter().enumerate() {
            let best = found.task(id).map_or(found.today, |task| task.dates.best);
            let days = [3, -4, 40, 9, -11][(nth + story) % 5];
            let day = best + chrono::TimeDelta::days(days);
            let answer = why_not(&WhyNotRequest::new(request.clone(), id, day)).unwrap();
            let reason = answer.reason.unwrap().text();
            text += &format!("{method}, {id} on {day}: {reason}\n");
        }
    }
    let kept = include_str!("why_not.txt");
    assert!(text == kept, "{text}");
    assert_eq!(text.lines().count(), 20);
}
