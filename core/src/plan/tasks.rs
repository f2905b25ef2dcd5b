//! Tasks as they are given, from steps and their dates.

use chrono::TimeDelta;

use super::ranges::Dated;
use super::{Bench, Plan, evenings};
use crate::bee::Bee;
use crate::caution::{Caution, STANDING_CAUTIONS};
use crate::error::Error;
use crate::method::{Awaited, DayRule, OnlyIf, Part, ResolvedStep, SeasonUse, TimeOfDay};
use crate::reason::{Reason, Value, say};
use crate::record::SignKind;
use crate::task::{Dependency, Task, TaskKind, TaskState, WaitingTask};
use crate::wait::DateRange;
use chrono::NaiveDate;

pub(super) fn task(bench: &Bench<'_>, step: &ResolvedStep, dated: Dated) -> Result<Task, Error> {
    let Dated {
        dates,
        state,
        why: dated_why,
        mut rests_on,
        slack,
        was_due,
        ..
    } = dated;
    let only_if = only_if(bench, step, state);
    let mut why = vec![Reason::new("step", step.why.clone())];
    // Among the reasons too, so that every form shows it.
    why.extend(only_if.clone());
    why.extend(dated_why);
    if state == TaskState::Planned && step.step.asks_for_queen && step.step.kind == TaskKind::Decide
    {
        why.push(queenless_life(bench.weather.bee()));
    }
    let moved_or_not = why.iter().any(|why| why.code == "open_moved_or_not");
    let (mut window, mut good_at) = (None, None);
    if state == TaskState::Planned {
        let (found, reasons) = bench.days.window(step.step.time, dates.best)?;
        window = found;
        good_at = found
            .filter(|_| step.step.time == TimeOfDay::WarmHours)
            .map(|window| bench.days.good_hour(window));
        for reason in reasons {
            if !why.iter().any(|known| known.code == reason.code) {
                why.push(reason);
            }
        }
        let counted = step.counts_flight();
        if (step.step.time != TimeOfDay::WholeDay || step.step.day != DayRule::Any) && !counted {
            rests_on.count(bench.weather.climate.day(dates.best).source);
        }
        if step.step.day == DayRule::Opening {
            for ahead in 1..=bench.settings.heat_ahead_d.value as i64 {
                let day = dates.best + TimeDelta::days(ahead);
                rests_on.count(bench.weather.climate.day(day).source);
            }
        }
    }
    Ok(Task {
        id: step.id.clone(),
        kind: step.step.kind,
        which: bench.queen.narrowed(step),
        title: step.title.clone(),
        short: String::new(),
        dates,
        window,
        why,
        look_for: step.look_for.clone(),
        cautions: if state == TaskState::Planned {
            task_cautions(bench, step, dates.best)?
        } else {
            Vec::new()
        },
        source: step.step.source.clone(),
        depends_on: depends_on(bench, step, moved_or_not),
        rests_on,
        state,
        was_due: was_due.filter(|_| state == TaskState::Planned),
        good_at,
        slack,
        only_if,
    })
}

/// How long there is something to save.
fn queenless_life(bee: &Bee) -> Reason {
    match (bee.queenless_life_d(), bee.worker_life_d()) {
        (Some(value), Some(life)) => {
            let brood_d = bee.worker_development_d().value;
            say::queenless_life(Value::Days { value }, brood_d, life.value, &life.source)
        }
        _ => say::queenless_life_unknown(),
    }
}

/// What comes before a step; before a move also the closing of its evening. What is opened though nothing was moved
/// was closed before.
fn depends_on(bench: &Bench<'_>, step: &ResolvedStep, moved_or_not: bool) -> Vec<Dependency> {
    let steps = &bench.resolved.steps;
    let on = |id: &str| Dependency {
        task: id.to_owned(),
        wait: None,
    };
    match step.part {
        Part::Eve { .. } | Part::Help { .. } => Vec::new(),
        Part::Opening { of } => {
            let [close, _] = evenings::ids(&steps[of].id);
            vec![if moved_or_not {
                on(&close)
            } else {
                on(&steps[of].id)
            }]
        }
        Part::Step => {
            let given = step.depends_on.iter();
            let given = given.map(|(dependency, _)| dependency.clone());
            let eve = steps
                .iter()
                .find(|other| matches!(other.part, Part::Eve { of } if steps[of].id == step.id));
            given.chain(eve.map(|eve| on(&eve.id))).collect()
        }
    }
}

/// A step that has no date.
pub(super) fn waiting(
    bench: &Bench<'_>,
    plan: &Plan,
    step: &ResolvedStep,
    dates: DateRange,
    until: Reason,
) -> WaitingTask {
    let sees = matches!(step.awaits, Some(Awaited::Sign(..)));
    WaitingTask {
        id: step.id.clone(),
        kind: step.step.kind,
        which: step.which,
        title: step.title.clone(),
        short: String::new(),
        until,
        not_before: sees.then_some(dates.earliest.max(bench.request.today)),
        not_after: plan
            .last_safe
            .filter(|_| step.step.season == SeasonUse::Safe),
        why: Reason::new("step", step.why.clone()),
        look_for: step.look_for.clone(),
        source: step.step.source.clone(),
    }
}

/// The condition of a task that is done only under one, while it is open.
fn only_if(bench: &Bench<'_>, step: &ResolvedStep, state: TaskState) -> Option<Reason> {
    let OnlyIf::NoEggs = step.step.only_if?;
    let which = bench.queen.narrowed(step);
    let helped = bench.history.help(which).map(|help| help.on);
    let after = bench.history.divided.max(helped);
    let found_none = bench.history.records.iter().any(|record| {
        after.is_some_and(|after| record.date > after)
            && record
                .signs
                .iter()
                .any(|sign| sign.kind == SignKind::NoEggs)
    });
    (state == TaskState::Planned && !found_none).then(say::only_if_no_eggs)
}

/// The cautions of the day's weather, and the standing ones that the step calls for.
fn task_cautions(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    date: NaiveDate,
) -> Result<Vec<Caution>, Error> {
    let dawn = if step.step.time == TimeOfDay::Dawn {
        vec![bench.days.dawn(date)?]
    } else {
        Vec::new()
    };
    let mut list = super::plan_cautions(bench, &[bench.weather.climate.day(date)], &dawn);
    let standing = |code: &str| STANDING_CAUTIONS.contains(&code);
    list.retain(|caution| {
        !standing(&caution.code)
            || step
                .step
                .cautions
                .iter()
                .any(|called| *called == caution.code)
    });
    Ok(list)
}
