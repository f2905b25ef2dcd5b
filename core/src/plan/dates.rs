//! From a method and a colony to dated tasks: when it begins, and the network of what follows.

use super::network::scheduled;
use super::own::{find_out, no_season, not_ready};
use super::ranges::Dated;
use super::readiness::Readiness;
use super::safe::{SafeWindow, SeasonView};
use super::start::{Start, choose_start, first_possible};
use super::tasks::{task, waiting};
use super::wish::{judged, known};
use super::{Bench, Plan};
use crate::error::Error;
use crate::reason::{Reason, say};
use crate::record::Known;
use crate::season::DateState;
use crate::task::Dependency;
use crate::wait::DateRange;
use chrono::NaiveDate;

/// Makes the plan's tasks and what belongs to their dates.
pub(super) fn dated(
    bench: &Bench<'_>,
    season: &SeasonView,
    readiness: &Readiness,
) -> Result<Plan, Error> {
    let (mut plan, opened) = opened(bench, season, readiness)?;
    if let Some(opened) = opened {
        let dated = scheduled(bench, season, opened.range, opened.begun)?;
        with_steps(bench, readiness, &mut plan, &opened, dated)?;
    }
    Ok(plan)
}

/// When the work begins.
pub(super) struct Opened {
    /// First, best and last date; once it has begun the one on which it did.
    pub range: DateRange,
    /// The date to be near to.
    pub target: NaiveDate,
    /// When it began.
    pub begun: Option<NaiveDate>,
}

/// The plan without its steps, and when these begin; where they never do, one task that says why.
pub(super) fn opened(
    bench: &Bench<'_>,
    season: &SeasonView,
    readiness: &Readiness,
) -> Result<(Plan, Option<Opened>), Error> {
    let request = bench.request;
    let start = &bench.resolved.steps[bench.resolved.start];
    let mut plan = Plan {
        id: String::new(),
        title: String::new(),
        keeper: request.keeper.clone(),
        club: request.club.clone(),
        parent_name: request.colony.name.clone(),
        daughter_name: request.colony.daughter_name.clone(),
        method: bench.method.name().to_owned(),
        bee: bench.weather.bee.name.clone(),
        site: request.site,
        today: request.today,
        window: None,
        first_safe: None,
        last_safe: None,
        best_dates: Vec::new(),
        wish: None,
        notes: Vec::new(),
        tasks: Vec::new(),
        waiting: Vec::new(),
        choices: Vec::new(),
        cautions: Vec::new(),
        basis: bench.weather.climate.basis(),
        records: bench.history.kept.clone(),
        known: None,
    };
    plan.notes.extend(bench.advice.why.iter().cloned());
    let begun = bench.done_on(&start.id);
    if begun.is_none() {
        plan.known = Some(known(bench, season)?);
        if !readiness.lacking.is_empty() {
            plan.tasks.push(not_ready(bench, readiness)?);
            return Ok((plan, None));
        }
        plan.notes.extend(readiness.reasons.iter().cloned());
    }
    let (range, target) = match begun {
        Some(date) => {
            let window = season.window_of(date);
            let parted = match window {
                Some(safe) if safe.last_start.is_none_or(|last| date > last) => {
                    season.parted_after(bench, safe, date)?
                }
                _ => None,
            };
            describe_window(&mut plan, bench, window, parted);
            let known = bench.history.known_when_done(&start.id);
            match window.map(|safe| safe.last_start) {
                // What was known on its day stands, whatever is known now.
                _ if known.is_some() => plan
                    .notes
                    .extend(known.and_then(|known| judged_then(&known, date))),
                // What was announced as good is not called late by a later forecast.
                _ if request.announced_on(&start.id) == Some(date) => {}
                None if matches!(season, SeasonView::AllYear) => {}
                Some(_) if parted.is_some() => {}
                None => plan.notes.push(say::begun_out_of_season(date)),
                Some(last) if last.is_none_or(|last| date > last) => {
                    plan.notes.push(say::begun_late(date))
                }
                Some(_) => {}
            }
            (DateRange::on(date), date)
        }
        None if !bench.resolved.divides => (DateRange::on(request.today), request.today),
        None => {
            plan.wish = judged(bench, season, first_possible(bench, readiness))?;
            match choose_start(bench, season, readiness)? {
                Start::Found {
                    range,
                    target,
                    first_safe,
                    window,
                    parted,
                    best_dates,
                } => {
                    plan.first_safe = Some(first_safe);
                    describe_window(&mut plan, bench, window, parted);
                    plan.best_dates = best_dates;
                    (range, target)
                }
                Start::None(why) => {
                    plan.tasks.push(no_season(bench, why)?);
                    return Ok((plan, None));
                }
            }
        }
    };
    let opened = Opened {
        range,
        target,
        begun,
    };
    Ok((plan, Some(opened)))
}

/// Adds the steps with their dates, and before them what has to be found out.
pub(super) fn with_steps(
    bench: &Bench<'_>,
    readiness: &Readiness,
    plan: &mut Plan,
    opened: &Opened,
    dated: Vec<Dated>,
) -> Result<(), Error> {
    let start = &bench.resolved.steps[bench.resolved.start];
    if opened.begun.is_none() {
        for unknown in &readiness.unknown {
            plan.tasks
                .push(find_out(bench, unknown, opened.range.best)?);
        }
    }
    let find_out: Vec<String> = plan.tasks.iter().map(|task| task.id.clone()).collect();
    for (step, mut dated) in bench.resolved.steps.iter().zip(dated) {
        match dated.awaits.take() {
            Some(until) => {
                let waiting = waiting(bench, plan, step, dated.dates, until);
                plan.waiting.push(waiting);
            }
            None => plan.tasks.push(task(bench, step, dated)?),
        }
    }
    if let Some(task) = plan.tasks.iter_mut().find(|task| task.id == start.id) {
        task.depends_on.extend(
            find_out
                .into_iter()
                .map(|task| Dependency { task, wait: None }),
        );
    }
    Ok(())
}

/// What a begun division was by what was known on its day.
fn judged_then(known: &Known, date: NaiveDate) -> Option<Reason> {
    match known.season {
        DateState::Good => None,
        DateState::AtRisk => Some(say::begun_late(date)),
        DateState::Closed => Some(say::begun_out_of_season(date)),
    }
}

/// Window, last safe date, and how that came about. `parted` is a later window, in which alone the
/// division can be finished.
fn describe_window(
    plan: &mut Plan,
    bench: &Bench<'_>,
    window: Option<&SafeWindow>,
    parted: Option<&SafeWindow>,
) {
    let Some(begun) = window else {
        return;
    };
    let safe = parted.unwrap_or(begun);
    plan.window = Some(begun.window.clone());
    plan.last_safe = safe.last_safe;
    if parted.is_some() {
        let opens = safe.window.opens;
        plan.notes.push(match begun.last_safe {
            Some(last) => say::parted_next_season(last, opens),
            None => say::parted_after_short_season(opens),
        });
    }
    plan.notes.push(safe.why(bench));
}
