//! Tasks of the planner's own: what has to be found out first, and what there is to do where nothing
//! can be divided.

use chrono::{Days as CalendarDays, NaiveDate};

use super::Bench;
use super::ranges::{ordered, put_before};
use super::readiness::{Readiness, Unknown};
use super::request::{FIND_WEIGHT, NO_SEASON, NOT_READY};
use crate::civil::previous_day;
use crate::error::Error;
use crate::number::COMMON_PRACTICE;
use crate::reason::{Reason, say};
use crate::task::{Dependency, Task, TaskKind, TaskState, Which};
use crate::wait::{DateRange, RestsOn};

/// A task of the planner's own.
fn own_task(
    bench: &Bench<'_>,
    id: &str,
    kind: TaskKind,
    title: &str,
    dates: DateRange,
    why: Vec<Reason>,
) -> Result<Task, Error> {
    let state = match bench.done_on(id) {
        Some(on) => TaskState::Done { on },
        None => TaskState::Planned,
    };
    let dates = match state {
        TaskState::Done { on } => DateRange::on(on),
        _ => ordered(bench, dates)?,
    };
    Ok(Task {
        id: id.to_owned(),
        kind,
        which: Which::Parent,
        title: title.to_owned(),
        short: String::new(),
        dates,
        window: None,
        good_at: None,
        slack: None,
        why,
        look_for: Vec::new(),
        cautions: Vec::new(),
        source: COMMON_PRACTICE.to_owned(),
        depends_on: Vec::<Dependency>::new(),
        rests_on: RestsOn::default(),
        state,
        was_due: None,
        only_if: None,
    })
}

pub(super) fn find_out(
    bench: &Bench<'_>,
    unknown: &Unknown,
    start: NaiveDate,
) -> Result<Task, Error> {
    let today = bench.request.today;
    let eve = previous_day(start, bench.request.site.zone)?.max(today);
    let best = (start - CalendarDays::new(10)).max(today).min(eve);
    let mut task = own_task(
        bench,
        unknown.id,
        TaskKind::Prepare,
        &unknown.title,
        DateRange {
            earliest: today,
            best,
            latest: eve,
        },
        vec![unknown.why.clone()],
    )?;
    if task.state == TaskState::Planned
        && let Some(date) = put_before(bench, unknown.id, start)?
    {
        task.dates = DateRange::on(date);
        task.why.push(say::moved());
    }
    task.look_for = unknown.look_for.clone();
    task.cautions = super::plan_cautions(bench, &[], &[])
        .into_iter()
        .filter(|caution| caution.code == "lifting" && unknown.id == FIND_WEIGHT)
        .collect();
    Ok(task)
}

pub(super) fn not_ready(bench: &Bench<'_>, readiness: &Readiness) -> Result<Task, Error> {
    let today = bench.request.today;
    let again = today + CalendarDays::new(bench.settings.look_again_d.value as u64);
    let again = again.max(readiness.from);
    let mut why = readiness.lacking.clone();
    why.extend(readiness.reasons.iter().cloned());
    why.extend(readiness.unknown.iter().map(|unknown| unknown.why.clone()));
    why.push(say::leave_whole(again));
    let mut task = own_task(
        bench,
        NOT_READY,
        TaskKind::Prepare,
        "Not ready to be divided: weigh and judge the colony again",
        DateRange {
            earliest: today,
            best: again,
            latest: again,
        },
        why,
    )?;
    task.look_for = vec![
        "Net weight, strength, pots and brood.".to_owned(),
        "What holds it back: shade, pests, too little in flower, an old queen.".to_owned(),
    ];
    Ok(task)
}

pub(super) fn no_season(bench: &Bench<'_>, why: Vec<Reason>) -> Result<Task, Error> {
    let today = bench.request.today;
    own_task(
        bench,
        NO_SEASON,
        TaskKind::Decide,
        "No safe date to divide: decide what to do with the colony",
        DateRange {
            earliest: today,
            best: today,
            latest: today + CalendarDays::new(bench.settings.look_again_d.value as u64),
        },
        why,
    )
}
