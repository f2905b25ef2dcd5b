//! Several plans of one keeper, scheduled together: no more work on a day than the limits allow, and the
//! starts spread over the season.
//!
//! It is done in two rounds. In the first the start of each plan is a choice of the scheduler, as all its other
//! dates are. In the second the starts stand, and everything else is put on its dates as in a plan by itself,
//! with the limits that all plans share.

use std::ops::Range;

use chrono::{Days as CalendarDays, NaiveDate};
use derive_setters::Setters;
use serde::Serialize;

use super::dates::{Opened, opened, with_steps};
use super::limits::{KeeperLimitOverrides, KeeperLimits};
use super::network::{Network, Placement};
use super::readiness::Readiness;
use super::safe::SeasonView;
use super::slack::until;
use super::why_not::sentence;
use super::{Bench, Kept, Places, Plan, PlanRequest, sorted_and_named};
use crate::error::{Error, at_most};
use crate::method::{DayRule, TimeOfDay};
use crate::reason::{Reason, say};
use crate::schedule::{
    Apart, Broken, Cost, Limit, Placed, Problem, Schedule, Solver, Span, Stop, Task, Tasks, WhyNot,
};
use crate::task::TaskKind;
use crate::wait::DateRange;
use crate::wire::{FromNode, Shape};
use crate::work;

/// Most plans of one request.
pub const MOST_TOGETHER: usize = 50;

/// Plans of one keeper, or of people who work together.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, prefix = "with_")]
#[non_exhaustive]
pub struct TogetherRequest {
    /// The plans as they are asked for, at most 50, with the same `today`.
    #[setters(skip)]
    pub plans: Vec<PlanRequest>,
    /// What the keeper can do.
    #[serde(default)]
    pub limits: KeeperLimitOverrides,
}

impl TogetherRequest {
    /// Plans under the default limits.
    pub fn new(plans: impl Into<Vec<PlanRequest>>) -> Self {
        TogetherRequest {
            plans: plans.into(),
            limits: KeeperLimitOverrides::default(),
        }
    }
}

/// Where the start of a plan is, and why.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct ChosenStart {
    /// The `id` of the plan.
    pub plan: String,
    /// The names of its boxes.
    pub name: String,
    /// The `id` of its first task.
    pub task: String,
    /// The date.
    pub date: NaiveDate,
    /// The date that it would have by itself.
    pub alone: NaiveDate,
    /// Why it is on that date.
    pub why: Vec<Reason>,
}

/// Plans of one keeper.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct Together {
    /// The plans, in the order of the request.
    pub plans: Vec<Plan>,
    /// The starts that were chosen, in the order of the request: of the plans that have not begun, and can.
    pub starts: Vec<ChosenStart>,
    /// What could not be kept of the limits.
    pub broken: Vec<Reason>,
    /// No dates keep the limits better, by the costs of a plan. Else they are the best that were found in
    /// the time that is given to a request.
    pub exact: bool,
}

/// Plans several new colonies together.
///
/// # Errors
/// As [`plan()`](super::plan()) for the first plan that is refused, with its place in the field;
/// `not_enough_data` without any plan, `too_large` for more than [`MOST_TOGETHER`], `inconsistent` for plans of
/// different days, and `out_of_range` for limits.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::method::Strength;
/// use apiary_almanac::plan::{Colony, PlanRequest, TogetherRequest, plans_together};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let today = "2026-08-01".parse()?;
/// let plan = |name: &str| {
///     let colony = Colony::new(name).with_months_since_division(20.0).with_strength(Strength::Strong);
///     PlanRequest::new(site, today, "split", colony.with_net_weight_kg(3.6))
/// };
/// let both = plans_together(&TogetherRequest::new([plan("Wattle"), plan("Saltbush")]))?;
/// let days = (both.starts[1].date - both.starts[0].date).num_days();
/// assert!(days.abs() >= 7);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn plans_together(request: &TogetherRequest) -> Result<Together, Error> {
    made_together(&request.plans, &request.limits, |_, found| Ok(found))
}

/// Plans them, and hands what each was worked out from to `job`.
pub(crate) fn made_together<T>(
    plans: &[PlanRequest],
    limits: &KeeperLimitOverrides,
    job: impl FnOnce(&[Bench<'_>], Together) -> Result<T, Error>,
) -> Result<T, Error> {
    work::counted(|| on_benches(plans, limits, job)).0
}

fn on_benches<T>(
    plans: &[PlanRequest],
    limits: &KeeperLimitOverrides,
    job: impl FnOnce(&[Bench<'_>], Together) -> Result<T, Error>,
) -> Result<T, Error> {
    check(plans)?;
    let own_days = &limits.free_weekdays;
    let limits = KeeperLimits::with_overrides(limits)?;
    let mut requests = plans.to_vec();
    for request in &mut requests {
        if request.free_weekdays.is_empty() {
            request.free_weekdays.clone_from(own_days);
        }
    }
    let places = Places::default();
    let kept = each_plan(&requests, |request| Kept::of(request, &places))?;
    let benches = each_plan(&kept, Bench::new)?;
    let found = scheduled(&benches, &limits)?;
    job(&benches, found)
}

fn check(plans: &[PlanRequest]) -> Result<(), Error> {
    let Some(first) = plans.first() else {
        return Err(Error::NotEnoughData {
            field: "plans".to_owned(),
            given: "no plan".to_owned(),
            needed: "at least one".to_owned(),
        });
    };
    at_most("plans", plans.len(), MOST_TOGETHER, "plans")?;
    match plans.iter().find(|plan| plan.today != first.today) {
        None => Ok(()),
        Some(other) => Err(Error::Inconsistent {
            field: "plans".to_owned(),
            problem: format!(
                "one plan is made on {}, another on {}",
                first.today, other.today
            ),
        }),
    }
}

/// Does something for each plan, with its place in the field of an error.
pub(crate) fn each_plan<'q, Q, A>(
    all: &'q [Q],
    job: impl Fn(&'q Q) -> Result<A, Error>,
) -> Result<Vec<A>, Error> {
    let done = all.iter().enumerate();
    done.map(|(number, one)| job(one).map_err(|error| of_plan(number, error)))
        .collect()
}

/// An error of one plan, with its place.
pub(crate) fn of_plan(number: usize, error: Error) -> Error {
    error.within(&format!("plans[{number}]"))
}

/// A plan on its way.
struct Begun<'s> {
    season: &'s SeasonView,
    readiness: Readiness,
    plan: Plan,
    opened: Option<Opened>,
}

impl Begun<'_> {
    /// The start is still a choice.
    fn is_open(&self, bench: &Bench<'_>) -> bool {
        let start = &bench.resolved.steps[bench.resolved.start];
        let not_begun = self.opened.as_ref().is_some_and(|one| one.begun.is_none());
        bench.resolved.divides && not_begun && bench.request.fixed_on(&start.id).is_none()
    }
}

fn scheduled(benches: &[Bench<'_>], limits: &KeeperLimits) -> Result<Together, Error> {
    let seasons = each_plan(benches, SeasonView::new)?;
    let mut all = Vec::with_capacity(benches.len());
    for (number, (bench, season)) in benches.iter().zip(&seasons).enumerate() {
        let begun = |bench| {
            let readiness = Readiness::of(bench)?;
            let (plan, opened) = opened(bench, season, &readiness)?;
            Ok(Begun {
                season,
                readiness,
                plan,
                opened,
            })
        };
        all.push(begun(bench).map_err(|error| of_plan(number, error))?);
    }
    let (starts, starts_are_exact) = choose_starts(benches, &mut all, limits)?;

    let mut networks = Vec::new();
    let mut plan_of = Vec::new();
    for (number, (bench, one)) in benches.iter().zip(&all).enumerate() {
        if let Some(opened) = &one.opened {
            let network = Network::new(bench, one.season, opened.range, opened.begun);
            networks.push(network.map_err(|error| of_plan(number, error))?);
            plan_of.push(number);
        }
    }
    let among = Among::new(&networks, limits);
    let solver = Solver::new(&among.problem, &among)?;
    let schedule = solver.solve()?;
    let mut dated = Vec::with_capacity(networks.len());
    for (place, network) in networks.iter().enumerate() {
        let found = PlacedAmong {
            among: &among,
            solver: &solver,
            schedule: &schedule,
            number: place,
        };
        let steps = network.dated(&found);
        dated.push(steps.map_err(|error| of_plan(plan_of[place], error))?);
    }
    for (number, mut steps) in plan_of.into_iter().zip(dated) {
        let (bench, one) = (&benches[number], &mut all[number]);
        if let Some((_, why)) = &starts[number] {
            steps[bench.resolved.start].why.push(why.clone());
        }
        if let Some(opened) = &one.opened {
            with_steps(bench, &one.readiness, &mut one.plan, opened, steps)?;
        }
    }
    let mut found = Together {
        plans: Vec::with_capacity(all.len()),
        starts: Vec::new(),
        broken: among.broken(&schedule),
        exact: schedule.exact && starts_are_exact,
    };
    for ((bench, mut one), start) in benches.iter().zip(all).zip(starts) {
        sorted_and_named(bench, &mut one.plan)?;
        let id = &bench.resolved.steps[bench.resolved.start].id;
        if let (Some((alone, _)), Some(task)) = (start, one.plan.task(id)) {
            found.starts.push(ChosenStart {
                plan: one.plan.id.clone(),
                name: one.plan.names(),
                task: id.clone(),
                date: task.dates.best,
                alone,
                why: task.why_then().cloned().collect(),
            });
        }
        found.plans.push(one.plan);
    }
    Ok(found)
}

/// The start of a plan by itself, and why it has the one that it has.
type Chosen = Option<(NaiveDate, Reason)>;

/// Puts the starts that are still a choice on their dates, and says whether these are the best.
fn choose_starts(
    benches: &[Bench<'_>],
    all: &mut [Begun<'_>],
    limits: &KeeperLimits,
) -> Result<(Vec<Chosen>, bool), Error> {
    let reach_d = (limits.between_starts_d.value * benches.len() as f64) as u64;
    let mut networks = Vec::new();
    let mut number_of = Vec::new();
    for (number, (bench, one)) in benches.iter().zip(&*all).enumerate() {
        let Some(opened) = &one.opened else { continue };
        let network = if one.is_open(bench) {
            let reach = CalendarDays::new(reach_d.max(bench.settings.ranked_d.value as u64));
            // Where no season ends there is always a later date.
            let last = match one.plan.window {
                Some(_) => opened.range.latest,
                None => opened.range.latest.max(opened.target + reach),
            };
            let opening = DateRange {
                earliest: opened.range.earliest.max(opened.target - reach),
                best: opened.target,
                latest: last.min(opened.target + reach),
            };
            Network::with_open_start(bench, one.season, opening)
        } else {
            Network::new(bench, one.season, opened.range, opened.begun)
        };
        networks.push(network.map_err(|error| of_plan(number, error))?);
        number_of.push(number);
    }
    let among = Among::new(&networks, limits);
    let solver = Solver::new(&among.problem, &among)?;
    let schedule = solver.solve()?;
    let mut chosen: Vec<Chosen> = vec![None; all.len()];
    for (place, number) in number_of.into_iter().enumerate() {
        let bench = &benches[number];
        if !all[number].is_open(bench) {
            continue;
        }
        let found = PlacedAmong {
            among: &among,
            solver: &solver,
            schedule: &schedule,
            number: place,
        };
        let start = bench.resolved.start;
        let (Some(date), Some(opened)) = (found.placed(start).date, &mut all[number].opened) else {
            continue;
        };
        let alone = opened.range.best;
        let why = if date == alone {
            say::start_as_alone()
        } else {
            say::start_together(alone, found.why_not(start, alone)?)
        };
        chosen[number] = Some((alone, why));
        opened.range = DateRange {
            earliest: opened.range.earliest.min(date),
            best: date,
            latest: opened.range.latest.max(date),
        };
    }
    Ok((chosen, schedule.exact))
}

/// What a rule between plans is about.
#[derive(Clone, Copy)]
enum Shared {
    Openings,
    Moves,
}

/// The networks of several plans as one problem.
struct Among<'n, 'a, 'b> {
    networks: &'n [Network<'a, 'b>],
    problem: Problem,
    /// The tasks of each network.
    tasks: Vec<Range<usize>>,
    /// The rules of each network; those between networks stand behind them.
    rules: Vec<Range<usize>>,
    /// What each limit is about.
    shared: Vec<Shared>,
    between_starts_d: u32,
}

impl<'n, 'a, 'b> Among<'n, 'a, 'b> {
    fn new(networks: &'n [Network<'a, 'b>], limits: &KeeperLimits) -> Self {
        let mut among = Among {
            networks,
            problem: Problem::new(super::network::MOVED),
            tasks: Vec::new(),
            rules: Vec::new(),
            shared: Vec::new(),
            between_starts_d: limits.between_starts_d.value as u32,
        };
        let (mut openings, mut moves) = (Vec::new(), Vec::new());
        let (mut starts, mut to_choose) = (Vec::new(), Vec::new());
        for network in networks {
            let first = among.problem.tasks.len();
            let moved = |places: &[usize]| places.iter().map(|place| first + place).collect();
            let first_rule = among.problem.apart.len();
            for rule in &network.problem.apart {
                among.problem.apart.push(Apart {
                    one: moved(&rule.one),
                    other: moved(&rule.other),
                    ..rule.clone()
                });
            }
            among.rules.push(first_rule..among.problem.apart.len());
            let resolved = &network.bench().resolved;
            for (place, task) in network.problem.tasks.iter().enumerate() {
                let number = among.problem.add(Task {
                    after: moved(&task.after),
                    ..task.clone()
                });
                let step = &resolved.steps[place];
                if !step.part.stands_alone() || !network.is_planned(place) {
                    continue;
                }
                if step.step.day == DayRule::Opening {
                    openings.push(number);
                }
                if step.step.kind == TaskKind::Move && step.step.time == TimeOfDay::Dawn {
                    moves.push(number);
                }
            }
            let start = first + resolved.start;
            if resolved.divides {
                starts.push(start);
            }
            if network.is_to_choose(resolved.start) {
                to_choose.push(start);
            }
            among.tasks.push(first..among.problem.tasks.len());
        }
        let apart = Apart::days(&to_choose, &starts, among.between_starts_d).between_networks();
        among.problem.apart.push(apart);
        for (what, tasks, most) in [
            (Shared::Openings, openings, limits.openings()),
            (Shared::Moves, moves, limits.moves()),
        ] {
            among.problem.limits.push(Limit::per_day(&tasks, most));
            among.shared.push(what);
        }
        among
    }

    /// The network of a task, and its place there.
    fn of(&self, task: usize) -> (usize, usize) {
        let number = self.tasks.partition_point(|tasks| tasks.end <= task);
        (number, task - self.tasks[number].start)
    }

    /// The limit of a day, as a sentence.
    fn full(&self, limit: usize, date: NaiveDate) -> Reason {
        let most = f64::from(self.problem.limits[limit].per_day);
        match self.shared[limit] {
            Shared::Openings => say::openings_full(date, most),
            Shared::Moves => say::moves_full(date, most),
        }
    }

    /// What could not be kept of what the plans share.
    fn broken(&self, schedule: &Schedule) -> Vec<Reason> {
        let own_rules = self.rules.last().map_or(0, |rules| rules.end);
        let name = |task: usize| {
            let colony = &self.networks[self.of(task).0].bench().request.colony;
            colony.name.as_str()
        };
        let reason = |broken: &Broken| match broken {
            Broken::TooNear { apart, one, other } if *apart >= own_rules => Some(
                say::starts_too_near(name(*one), name(*other), f64::from(self.between_starts_d)),
            ),
            Broken::Full { limit, date, .. } => {
                let most = f64::from(self.problem.limits[*limit].per_day);
                Some(match self.shared[*limit] {
                    Shared::Openings => say::openings_over(*date, most),
                    Shared::Moves => say::moves_over(*date, most),
                })
            }
            _ => None,
        };
        schedule.broken.iter().filter_map(reason).collect()
    }
}

impl Tasks for Among<'_, '_, '_> {
    fn span(&self, task: usize, after: &[NaiveDate]) -> Result<Option<Span>, Error> {
        let (number, place) = self.of(task);
        self.networks[number].span(place, after)
    }

    fn cost(&self, task: usize, date: NaiveDate, span: &Span) -> Result<Option<Cost>, Error> {
        let (number, place) = self.of(task);
        self.networks[number].cost(place, date, span)
    }
}

/// One plan among the others.
struct PlacedAmong<'s, 'n, 'a, 'b> {
    among: &'s Among<'n, 'a, 'b>,
    solver: &'s Solver<'s, Among<'n, 'a, 'b>>,
    schedule: &'s Schedule,
    number: usize,
}

impl PlacedAmong<'_, '_, '_, '_> {
    fn first(&self) -> usize {
        self.among.tasks[self.number].start
    }

    /// A reason with the numbers of this network; none for one that lies between networks.
    fn own(&self, why: WhyNot) -> Option<WhyNot> {
        let (tasks, rules) = (
            &self.among.tasks[self.number],
            &self.among.rules[self.number],
        );
        Some(match why {
            WhyNot::TooNear { apart, task, on } => WhyNot::TooNear {
                apart: rules.contains(&apart).then(|| apart - rules.start)?,
                task: task - tasks.start,
                on,
            },
            WhyNot::BeforeEarliest {
                earliest,
                because,
                on,
            } => WhyNot::BeforeEarliest {
                earliest,
                because: because.map(|task| task - tasks.start),
                on,
            },
            WhyNot::WouldMove { task, from, to } => WhyNot::WouldMove {
                task: tasks.contains(&task).then(|| task - tasks.start)?,
                from,
                to,
            },
            WhyNot::Full { .. } => return None,
            other => other,
        })
    }
}

impl Placement for PlacedAmong<'_, '_, '_, '_> {
    fn placed(&self, place: usize) -> &Placed {
        &self.schedule.placed[self.first() + place]
    }

    fn why_not(&self, place: usize, date: NaiveDate) -> Result<Option<Reason>, Error> {
        let task = self.first() + place;
        let Some(why) = self.solver.why_not(self.schedule, task, date)? else {
            return Ok(None);
        };
        let network = &self.among.networks[self.number];
        if let Some(why) = self.own(why) {
            return sentence(network, place, date, &why).map(Some);
        }
        Ok(match why {
            WhyNot::TooNear { task, on, .. } => {
                let other = &self.among.networks[self.among.of(task).0];
                let name = other.bench().request.colony.name.as_str();
                let days = f64::from(self.among.between_starts_d);
                Some(say::start_near_another(name, on, days))
            }
            WhyNot::Full { limit } => Some(self.among.full(limit, date)),
            _ => Some(say::why_others()),
        })
    }

    fn until(&self, place: usize) -> Option<Reason> {
        let network = &self.among.networks[self.number];
        let tasks = &self.among.tasks[self.number];
        match self.placed(place).slack.until {
            Stop::Full { .. } => Some(say::slack_full()),
            Stop::TooNear { task, .. } if !tasks.contains(&task) => Some(say::slack_full()),
            Stop::TooNear { apart, task } => {
                let task = task - tasks.start;
                until(network, Stop::TooNear { apart, task })
            }
            Stop::Moves { task } => {
                let task = task - tasks.start;
                until(network, Stop::Moves { task })
            }
            Stop::Last => None,
        }
    }
}

#[cfg(test)]
mod tests;
