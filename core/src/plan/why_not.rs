//! Why a task is not on the date that somebody asks about.

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use super::day::not_free;
use super::network::{FAR, MOVED, NOT_FREE, Network, UNFIT};
use super::readiness::Readiness;
use super::request::known_task;
use super::safe::SeasonView;
use super::start::first_possible;
use super::wish;
use super::{Bench, Plan, PlanRequest, make_in, worked_out};
use crate::civil::{check_date, day_start};
use crate::error::Error;
use crate::method::Part;
use crate::reason::{Reason, Value, say};
use crate::schedule::{Solver, WhyNot};
use crate::task::{Task, TaskState};
use crate::wire::{FromNode, Shape};

/// A question about a date.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct WhyNotRequest {
    /// The plan.
    #[setters(skip)]
    pub plan: PlanRequest,
    /// The `id` of a task of it.
    #[setters(skip)]
    pub task: String,
    /// The date on which somebody would like to do it.
    #[setters(skip)]
    pub date: NaiveDate,
}

impl WhyNotRequest {
    /// Why a task is not on this date.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest, WhyNotRequest, why_not};
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let plan = PlanRequest::new(site, "2026-06-01".parse()?, "split", Colony::new("Wattle"));
    /// // Ines Marrow has time in July. Her bees have not.
    /// let answer = why_not(&WhyNotRequest::new(plan, "divide", "2026-07-11".parse()?))?;
    /// let reason = answer.reason.ok_or("it is winter")?;
    /// println!("{}", reason.text());
    /// assert_eq!(reason.code, "wish_before_season");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(plan: PlanRequest, task: impl Into<String>, date: NaiveDate) -> Self {
        WhyNotRequest {
            plan,
            task: task.into(),
            date,
        }
    }
}

/// Why a task is not on a date.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct DateAnswer {
    /// The task.
    pub task: String,
    /// The date that was asked about.
    pub date: NaiveDate,
    /// The date that the plan has; `None` for a task without one.
    pub planned: Option<NaiveDate>,
    /// The first reason why it is not on the date that was asked about; `None` where it is.
    pub reason: Option<Reason>,
}

/// The first reason why a task of a plan is not on a date.
///
/// # Errors
/// As [`plan()`](super::plan()); `unknown_name` for a task that the method does not have.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::method::Strength;
/// use apiary_almanac::plan::{Colony, PlanRequest, WhyNotRequest, why_not};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let colony = Colony::new("Hive 7").with_strength(Strength::Strong);
/// let request = PlanRequest::new(site, "2026-10-01".parse()?, "split", colony);
/// let answer = why_not(&WhyNotRequest::new(request, "egg-check", "2026-10-05".parse()?))?;
/// let reason = answer.reason.ok_or("there are no eggs yet")?;
/// println!("{}", reason.text());
/// assert_eq!(reason.code, "why_after");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn why_not(request: &WhyNotRequest) -> Result<DateAnswer, Error> {
    let (id, date) = (&request.task, request.date);
    check_date("date", date)?;
    day_start(date, request.plan.site.zone)?;
    worked_out(&request.plan, |bench| {
        known_task("task", id, bench)?;
        let (season, readiness) = (SeasonView::new(bench)?, Readiness::of(bench)?);
        let plan = make_in(bench, &season, &readiness)?;
        let answer = |planned, reason| DateAnswer {
            task: id.clone(),
            date,
            planned,
            reason,
        };
        if let Some(waiting) = plan.waiting.iter().find(|waiting| waiting.id == *id) {
            return Ok(answer(None, Some(waiting.until.clone())));
        }
        let Some(task) = plan.task(id) else {
            // Nothing is planned: the one task that is there says why.
            let instead = plan.tasks.first().and_then(|task| task.why.first());
            let reason = instead.cloned().unwrap_or_else(say::why_never);
            return Ok(answer(None, Some(reason)));
        };
        let best = task.dates.best;
        let reason = match task.state {
            TaskState::Done { on } => (on != date).then(|| say::why_done(on)),
            TaskState::Dropped => Some(task.why.last().cloned().unwrap_or_else(say::why_never)),
            TaskState::Planned if best == date => None,
            TaskState::Planned if date < bench.request.today => Some(say::why_past(date)),
            TaskState::Planned => Some(of_planned(bench, &season, &readiness, &plan, task, date)?),
        };
        let planned = (task.state != TaskState::Dropped).then_some(best);
        Ok(answer(planned, reason))
    })
}

fn of_planned(
    bench: &Bench<'_>,
    season: &SeasonView,
    readiness: &Readiness,
    plan: &Plan,
    task: &Task,
    date: NaiveDate,
) -> Result<Reason, Error> {
    let steps = &bench.resolved.steps;
    let Some(place) = steps.iter().position(|step| step.id == task.id) else {
        // What has to be found out before the work begins.
        return Ok(by_range(task, date).unwrap_or_else(say::why_later));
    };
    let start = &steps[bench.resolved.start].id;
    let titled = |place: usize| Value::Title {
        value: steps[place].title.clone().into(),
    };
    if let Part::Eve { of } | Part::Opening { of } = steps[place].part {
        let moved = plan
            .task(&steps[of].id)
            .map_or(date, |task| task.dates.best);
        return Ok(say::why_with(titled(of), moved));
    }
    // Moves alone hold nothing up, so that their own day says why.
    if steps[place].id == *start || !bench.resolved.divides {
        if let Some(reason) = by_range(task, date) {
            return Ok(by_season(bench, season, readiness, date)?.unwrap_or(reason));
        }
        let against = bench.days.judge(&steps[place], date)?.against;
        return Ok(match against {
            Some(against) => against,
            None if !bench.days.is_free(date) => not_free(date),
            None => {
                let days = (date - task.dates.best).num_days().unsigned_abs();
                say::why_farther(days as f64)
            }
        });
    }
    let begun = bench.done_on(start);
    let opening = plan
        .task(start)
        .map_or(crate::wait::DateRange::on(date), |task| task.dates);
    let network = Network::new(bench, season, opening, begun)?;
    let solver = Solver::new(&network.problem, &network)?;
    let schedule = solver.solve()?;
    match solver.why_not(&schedule, place, date)? {
        Some(why) => sentence(&network, place, date, &why),
        None => Ok(say::why_later()),
    }
}

/// Out of season, for the work that begins a division.
fn by_season(
    bench: &Bench<'_>,
    season: &SeasonView,
    readiness: &Readiness,
    date: NaiveDate,
) -> Result<Option<Reason>, Error> {
    if !bench.resolved.divides {
        return Ok(None);
    }
    let from = first_possible(bench, readiness);
    let judged = wish::of_date(bench, season, from, date)?;
    Ok(judged.and_then(|wish| wish.reasons.into_iter().next()))
}

/// Outside of the range of a task.
fn by_range(task: &Task, date: NaiveDate) -> Option<Reason> {
    if date < task.dates.earliest {
        Some(say::why_too_early(task.dates.earliest))
    } else if date > task.dates.latest {
        Some(say::why_too_late(task.dates.latest))
    } else {
        None
    }
}

/// The sentence of a scheduler's reason.
pub(super) fn sentence(
    network: &Network<'_, '_>,
    place: usize,
    date: NaiveDate,
    why: &WhyNot,
) -> Result<Reason, Error> {
    let bench = network.bench();
    let step = &bench.resolved.steps[place];
    let title = |place: usize| Value::Title {
        value: network.title(place).to_owned().into(),
    };
    Ok(match *why {
        WhyNot::Done { on } => say::why_done(on),
        WhyNot::Fixed { on } => say::why_fixed(on),
        WhyNot::BeforeEarliest {
            earliest,
            because: Some(task),
            on: Some(on),
        } => say::why_after(earliest, title(task), on),
        WhyNot::BeforeEarliest { earliest, .. } => match network.last_before(place) {
            Some((task, on)) => say::why_after(earliest, title(task), on),
            None => say::why_too_early(earliest),
        },
        WhyNot::AfterLast { last } => say::why_too_late(last),
        WhyNot::TooNear { apart, task, on } => match network.rules.get(apart) {
            Some(rule) => rule.reason(bench, network.title(task), on),
            None => say::why_others(),
        },
        WhyNot::Costs { level: UNFIT, .. } => bench
            .days
            .judge(step, date)?
            .against
            .unwrap_or_else(say::why_others),
        WhyNot::Costs {
            level: NOT_FREE, ..
        } => not_free(date),
        WhyNot::Costs {
            level: FAR,
            here,
            best,
        } => say::why_farther(f64::from(here.saturating_sub(best))),
        WhyNot::Costs { level: MOVED, .. } => say::why_announced(),
        WhyNot::WouldMove { task, from, to } => say::why_would_move(title(task), from, to),
        WhyNot::Later => say::why_later(),
        WhyNot::Never | WhyNot::NotAllowed => say::why_never(),
        _ => say::why_others(),
    })
}
