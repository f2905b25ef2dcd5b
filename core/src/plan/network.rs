//! The steps of a method as a network that is put on dates: which of them are still ahead, what their
//! dates cost, what keeps them apart, and what the scheduler makes of it.

use std::cell::RefCell;
use std::collections::BTreeMap;

use chrono::{Days as CalendarDays, NaiveDate, TimeDelta};

use super::Bench;
use super::apart::{Rule, rules};
use super::day::not_free;
use super::evenings;
use super::ranges::{
    Dated, Known, after_help, before, beside_a_move, following, leading, ordered, starting,
};
use super::safe::SeasonView;
use super::slack::{slack, until};
use super::why_not::sentence;
use crate::civil::took_place;
use crate::error::Error;
use crate::method::{DayRule, EntranceWork, Part, ResolvedStep, TimeOfDay};
use crate::reason::{Reason, say};
use crate::schedule::{Cost, FIRST_OWN, Placed, Problem, Schedule, Solver, Span, Task, Tasks};
use crate::task::{TaskKind, TaskState};
use crate::wait::DateRange;

/// What a date costs, the gravest first: weather that is not as the step asks, a day away from the
/// date that was announced, a day on which the keeper is not free, a day away from the likely date.
pub(super) const UNFIT: usize = FIRST_OWN;
pub(super) const MOVED: usize = FIRST_OWN + 1;
pub(super) const NOT_FREE: usize = FIRST_OWN + 2;
pub(super) const FAR: usize = FIRST_OWN + 3;

/// A task is put so near to its likely date while a day there will do. This and the next two are our own:
/// common practice, no source.
const NEAR_D: u64 = 14;
/// Days that are looked through beyond the range of a task for a flying day.
const LOOK_ON_D: u64 = 60;
/// Days beyond the first that will do, so that it can give way to another task; more where the settings keep
/// openings further from moves.
const GIVE_WAY_D: u64 = 7;

/// What a step asks of a day, in short: its rule, whether a box is moved or closed, and whether the days of
/// flight were counted up to it.
type Asks = (DayRule, bool, bool, bool);

/// The range of a step, and whether it is to be done at all.
type Ranged = (DateRange, bool);

/// The network of one plan.
pub(super) struct Network<'a, 'b> {
    bench: &'a Bench<'b>,
    season: &'a SeasonView,
    opening: DateRange,
    begun: Option<NaiveDate>,
    /// The start is not set: the scheduler may choose it from the opening.
    is_open: bool,
    /// Each step with the dates that it has where all before it have their likely ones.
    natural: Vec<Dated>,
    known: Vec<Known>,
    pub rules: Vec<Rule>,
    pub problem: Problem,
    fit: RefCell<BTreeMap<(Asks, NaiveDate), bool>>,
    ranges: RefCell<BTreeMap<(usize, Vec<NaiveDate>), Ranged>>,
}

/// Every step of the method with its date, in the order of the steps.
pub(super) fn scheduled(
    bench: &Bench<'_>,
    season: &SeasonView,
    opening: DateRange,
    begun: Option<NaiveDate>,
) -> Result<Vec<Dated>, Error> {
    let network = Network::new(bench, season, opening, begun)?;
    let solver = Solver::new(&network.problem, &network)?;
    let schedule = solver.solve()?;
    network.dated(&Alone {
        network: &network,
        solver: &solver,
        schedule: &schedule,
    })
}

/// Where the scheduler put the steps of a network, and why.
pub(super) trait Placement {
    /// A step by its place.
    fn placed(&self, place: usize) -> &Placed;
    /// Why it is not on another date; `None` where it is on it.
    fn why_not(&self, place: usize, date: NaiveDate) -> Result<Option<Reason>, Error>;
    /// What keeps it from slipping further than its slack.
    fn until(&self, place: usize) -> Option<Reason>;
}

/// One network by itself.
struct Alone<'s, 'a, 'b> {
    network: &'s Network<'a, 'b>,
    solver: &'s Solver<'s, Network<'a, 'b>>,
    schedule: &'s Schedule,
}

impl Placement for Alone<'_, '_, '_> {
    fn placed(&self, place: usize) -> &Placed {
        &self.schedule.placed[place]
    }

    fn why_not(&self, place: usize, date: NaiveDate) -> Result<Option<Reason>, Error> {
        let why = self.solver.why_not(self.schedule, place, date)?;
        why.map(|why| sentence(self.network, place, date, &why))
            .transpose()
    }

    fn until(&self, place: usize) -> Option<Reason> {
        until(self.network, self.placed(place).slack.until)
    }
}

impl<'a, 'b> Network<'a, 'b> {
    pub fn new(
        bench: &'a Bench<'b>,
        season: &'a SeasonView,
        opening: DateRange,
        begun: Option<NaiveDate>,
    ) -> Result<Self, Error> {
        Network::built(bench, season, opening, begun, false)
    }

    /// The network of a plan that has not begun, its start being a choice: any date of the opening, near to its
    /// best one. What prepares the start is left to the network that is made when it is known.
    pub fn with_open_start(
        bench: &'a Bench<'b>,
        season: &'a SeasonView,
        opening: DateRange,
    ) -> Result<Self, Error> {
        Network::built(bench, season, opening, None, true)
    }

    fn built(
        bench: &'a Bench<'b>,
        season: &'a SeasonView,
        opening: DateRange,
        begun: Option<NaiveDate>,
        is_open: bool,
    ) -> Result<Self, Error> {
        let mut network = Network {
            bench,
            season,
            opening,
            begun,
            is_open,
            natural: Vec::new(),
            known: Vec::new(),
            rules: Vec::new(),
            problem: Problem::new(MOVED),
            fit: RefCell::default(),
            ranges: RefCell::default(),
        };
        for place in 0..bench.resolved.steps.len() {
            let dated = network.range(place, &network.known, false)?;
            let mut known = dated.known();
            if let Some(date) = bench.request.fixed_on(&bench.resolved.steps[place].id)
                && dated.is_open()
            {
                known.dates = DateRange::on(date);
            }
            network.known.push(known);
            network.natural.push(dated);
            let task = network.as_task(place);
            network.problem.add(task);
        }
        let steps = &bench.resolved.steps;
        let at_hand: Vec<usize> = (0..steps.len())
            .filter(|place| network.is_at_hand(*place))
            .collect();
        for (rule, apart) in rules(bench, &at_hand) {
            network.rules.push(rule);
            network.problem.apart.push(apart);
        }
        Ok(network)
    }

    fn steps(&self) -> &'a [ResolvedStep] {
        &self.bench.resolved.steps
    }

    /// The range of a step when those before it have the dates that are known of them.
    fn range(&self, place: usize, known: &[Known], told: bool) -> Result<Dated, Error> {
        let (bench, step) = (self.bench, &self.steps()[place]);
        if let Some(on) = bench.done_for_good_on(step) {
            return Ok(Dated::new(
                DateRange::on(on),
                TaskState::Done { on },
                Vec::new(),
            ));
        }
        if let Some((on, why)) = bench.ended(step) {
            return Ok(Dated::new(DateRange::on(on), TaskState::Dropped, vec![why]));
        }
        if self.is_start(place) {
            return starting(bench, step, self.opening);
        }
        if let Some(lead_d) = step.step.lead_d.filter(|_| step.part == Part::Step) {
            return leading(bench, step, lead_d, self.opening, self.begun);
        }
        match step.part {
            Part::Step => following(bench, self.season, step, known, told),
            Part::Help { place } => after_help(bench, step, place),
            Part::Eve { of } | Part::Opening { of } => beside_a_move(bench, step, of, &known[of]),
        }
    }

    /// Done, or with a date to be found.
    fn is_at_hand(&self, place: usize) -> bool {
        let natural = &self.natural[place];
        natural.is_open() || matches!(natural.state, TaskState::Done { .. })
    }

    /// The step whose date was chosen before, by the season.
    fn is_start(&self, place: usize) -> bool {
        self.bench.resolved.divides && place == self.bench.resolved.start
    }

    fn is_free_to_move(&self, place: usize) -> bool {
        if self.is_open && self.steps()[place].step.lead_d.is_some() {
            return false;
        }
        (self.is_open || !self.is_start(place))
            && self.steps()[place].part.stands_alone()
            && self.natural[place].is_open()
    }

    fn as_task(&self, place: usize) -> Task {
        let step = &self.steps()[place];
        if !self.is_free_to_move(place) {
            return Task::default().done(self.natural[place].dates.best);
        }
        let mut after = Vec::new();
        let mut waits_for = |before: usize| {
            if before < place && self.is_free_to_move(before) && !after.contains(&before) {
                after.push(before);
            }
        };
        if step.step.lead_d.is_none() {
            for ((_, carries), before) in step.depends_on.iter().zip(&step.before) {
                // A step that asks for the queen may be waited for in the place of another.
                let asks = self.steps()[*before].step.asks_for_queen;
                let instead = (*before..place)
                    .filter(|other| asks && self.steps()[*other].step.asks_for_queen);
                for before in instead.chain([*before]) {
                    if *carries && let Some(carried) = self.problem.tasks.get(before) {
                        carried.after.iter().for_each(|own| waits_for(*own));
                    }
                    waits_for(before);
                }
            }
        }
        after.sort_unstable();
        let task = Task::new(&after);
        match (
            self.bench.request.fixed_on(&step.id),
            self.bench.request.announced_on(&step.id),
        ) {
            (Some(date), _) => task.fixed(date),
            (None, Some(date)) => task.announced(date),
            (None, None) => task,
        }
    }

    /// What is known of all steps when those that a task waits for are on these dates, and on no others.
    fn known_on(&self, task: usize, after: &[NaiveDate]) -> Vec<Known> {
        let mut known = self.known.clone();
        for (place, date) in self.problem.tasks[task].after.iter().zip(after) {
            known[*place].dates = DateRange::on(*date);
        }
        known
    }

    /// Whether the whole range of a step counts for a task that waits for it.
    fn carries(&self, task: usize, place: usize) -> bool {
        let step = &self.steps()[task];
        let mut waits = step.depends_on.iter().zip(&step.before);
        waits.any(|((_, carries), before)| *carries && *before == place)
    }

    /// The same with the whole range of those whose range counts.
    fn known_with(&self, task: usize, after: &[NaiveDate]) -> Result<Vec<Known>, Error> {
        let mut known = self.known_on(task, after);
        let places = &self.problem.tasks[task].after;
        for (place, date) in places.iter().zip(after) {
            let own_after = &self.problem.tasks[*place].after;
            if !self.carries(task, *place) || !own_after.iter().all(|own| places.contains(own)) {
                continue;
            }
            let own_dates: Vec<NaiveDate> =
                own_after.iter().map(|own| known[*own].dates.best).collect();
            let (range, _) = self.ranged(*place, &own_dates)?;
            known[*place].dates = DateRange {
                earliest: range.earliest.min(*date),
                best: *date,
                latest: range.latest.max(*date),
            };
        }
        Ok(known)
    }

    /// The range of a task given the dates of what it waits for, and whether it is to be done at all;
    /// worked out once.
    fn ranged(&self, task: usize, after: &[NaiveDate]) -> Result<Ranged, Error> {
        let key = (task, after.to_vec());
        if let Some(range) = self.ranges.borrow().get(&key) {
            return Ok(*range);
        }
        let known = self.known_with(task, after)?;
        let dated = self.range(task, &known, false)?;
        let ranged = (ordered(self.bench, dated.dates)?, dated.is_open());
        self.ranges.borrow_mut().insert(key, ranged);
        Ok(ranged)
    }

    /// Whether a date is as a step asks; worked out once for all steps that ask the same.
    pub fn fits(&self, place: usize, date: NaiveDate) -> Result<bool, Error> {
        let resolved = &self.steps()[place];
        let step = &resolved.step;
        let dawn = step.time == TimeOfDay::Dawn && step.kind == TaskKind::Move;
        let closes = step.entrance == Some(EntranceWork::Close);
        if step.day == DayRule::Any && !dawn && !closes {
            return Ok(true);
        }
        let asks = (step.day, dawn, closes, resolved.counts_flight());
        let key = (asks, date);
        if let Some(fit) = self.fit.borrow().get(&key) {
            return Ok(*fit);
        }
        let fit = self.bench.days.judge(resolved, date)?.good();
        self.fit.borrow_mut().insert(key, fit);
        Ok(fit)
    }

    /// All days around a move on which no hive is opened, if they are more than usual.
    fn give_way_d(&self) -> u64 {
        let from_move_d = self.bench.settings.opening_from_move_d.value as u64;
        GIVE_WAY_D.max(2 * from_move_d + 1)
    }

    /// The dates that are looked through: those near the likely one, and beyond them as far as the
    /// first that will do where none of them does.
    fn looked_through(&self, place: usize, range: &DateRange) -> Result<Span, Error> {
        let near = |days: u64| {
            (
                range.earliest.max(range.best - CalendarDays::new(days)),
                range.latest.min(range.best + CalendarDays::new(days)),
            )
        };
        let give_way_d = self.give_way_d();
        let (first, last) = near(NEAR_D);
        let announced = self
            .bench
            .request
            .announced_on(&self.steps()[place].id)
            .filter(|date| (range.earliest..=range.latest).contains(date));
        let within = |away: i64| {
            let away = TimeDelta::days(away);
            let from = first.max(range.best - away);
            let until = last.min(range.best + away);
            Span::new(
                announced.map_or(from, |date| date.min(from)),
                range.best,
                announced.map_or(until, |date| date.max(until)),
            )
        };
        let mut span = within(NEAR_D as i64);
        let step = &self.steps()[place].step;
        let looks_on = step.day == DayRule::Flying || evenings::asks(step);
        let days = (last - first).num_days();
        if step.day != DayRule::Any && (days as u64) < give_way_d && step.lead_d.is_none() {
            // Better some days late than beside a task that it must keep away from; but what prepares the
            // work comes before it.
            span = span.until(span.latest + CalendarDays::new(give_way_d));
        }
        // Moves alone need not give way: of those that will do the nearest is taken.
        let mut nearest = None;
        for away in 0..=days {
            for date in [
                range.best + TimeDelta::days(away),
                range.best - TimeDelta::days(away),
            ] {
                if !(first..=last).contains(&date) || !self.fits(place, date)? {
                    continue;
                }
                if self.bench.resolved.divides {
                    return Ok(span);
                }
                nearest.get_or_insert(away);
                if self.bench.days.is_free(date) {
                    return Ok(within(away));
                }
            }
        }
        if let Some(away) = nearest {
            return Ok(within(away));
        }
        let beyond = if looks_on {
            range.latest.max(range.best) + CalendarDays::new(LOOK_ON_D)
        } else {
            range.latest
        };
        let mut date = last;
        while date < beyond {
            date = date + CalendarDays::new(1);
            if self.fits(place, date)? {
                let more_d = if self.bench.resolved.divides {
                    give_way_d
                } else {
                    0
                };
                let give_way = date + CalendarDays::new(more_d);
                return Ok(span.until(give_way.min(beyond.max(date))));
            }
        }
        let mut date = first;
        while !looks_on && date > range.earliest {
            date = date - CalendarDays::new(1);
            if self.fits(place, date)? {
                span.earliest = (date - CalendarDays::new(give_way_d)).max(range.earliest);
                return Ok(span);
            }
        }
        Ok(span)
    }

    /// The steps with the dates of a schedule, and why.
    pub fn dated(&self, found: &dyn Placement) -> Result<Vec<Dated>, Error> {
        let mut known = self.known.clone();
        for (place, known) in known.iter_mut().enumerate() {
            if let Some(date) = found.placed(place).date {
                known.dates.best = date;
            }
        }
        let mut all = Vec::with_capacity(self.natural.len());
        for place in 0..self.natural.len() {
            let after = self.problem.tasks[place].after.iter();
            let after: Vec<NaiveDate> = after.map(|before| known[*before].dates.best).collect();
            let mut view = match self.steps()[place].part {
                Part::Step | Part::Help { .. } => self.known_with(place, &after)?,
                Part::Eve { .. } | Part::Opening { .. } => known.clone(),
            };
            for (seen, done) in view.iter_mut().zip(&all) {
                let done: &Dated = done;
                (seen.state, seen.never) = (done.state, done.never);
            }
            let mut dated = self.range(place, &view, true)?;
            if self.is_free_to_move(place) && dated.is_open() {
                self.place(found, place, &mut dated)?;
            }
            dated.dates = ordered(self.bench, dated.dates)?;
            all.push(dated);
        }
        Ok(all)
    }

    fn place(&self, found: &dyn Placement, place: usize, dated: &mut Dated) -> Result<(), Error> {
        let (bench, step) = (self.bench, &self.steps()[place]);
        let today = bench.request.today;
        let (likely, range) = (dated.dates.best, dated.dates);
        if let Some(date) = bench.request.fixed_on(&step.id) {
            if let Some((other_date, other)) = &dated.not_before
                && date < *other_date
            {
                return Err(before(&step.id, date, other, *other_date));
            }
            if date < today {
                return Err(before(&step.id, date, "today", today));
            }
            if step.step.lead_d.is_some() {
                // Looked at already.
                return Ok(());
            }
            if date < range.earliest || date > range.latest {
                dated
                    .why
                    .push(say::outside_range(range.earliest, range.latest));
            }
            dated.why.push(say::moved());
            dated.dates = DateRange::on(date);
            return Ok(());
        }
        let Some(date) = found.placed(place).date else {
            dated.state = TaskState::Dropped;
            dated.never = true;
            return Ok(());
        };
        dated.dates = DateRange {
            earliest: range.earliest.min(date),
            best: date,
            latest: range.latest.max(date),
        };
        self.tell(found, place, likely, dated)?;
        let days = found.placed(place).slack.days;
        dated.slack = Some(slack(days, found.until(place), &dated.dates));
        Ok(())
    }

    /// Why a task is on its date and not on the likely or the announced one.
    fn tell(
        &self,
        found: &dyn Placement,
        place: usize,
        likely: NaiveDate,
        dated: &mut Dated,
    ) -> Result<(), Error> {
        let (bench, step) = (self.bench, &self.steps()[place]);
        let date = dated.dates.best;
        let verdict = bench.days.judge(step, date)?;
        let announced = bench.request.announced_on(&step.id);
        let ask = |other: NaiveDate| -> Result<Option<Reason>, Error> {
            let against = bench.days.judge(step, other)?.against;
            if verdict.good() && against.is_some() {
                return Ok(against);
            }
            found.why_not(place, other)
        };
        if date != likely && announced != Some(date) {
            dated.why.push(say::waits_for_weather(likely, ask(likely)?));
        }
        if let Some(announced) = announced.filter(|announced| *announced != date) {
            dated.why.push(say::moved_from(announced, ask(announced)?));
        }
        if !verdict.good() {
            dated.why.push(if step.step.time == TimeOfDay::Dawn {
                say::no_fit_morning()
            } else {
                say::no_fit_day()
            });
        }
        dated.why.extend(verdict.reasons);
        if !bench.days.is_free(date) {
            dated.why.push(not_free(date));
        }
        Ok(())
    }

    /// The last of the steps that another waits for, with its date.
    pub fn last_before(&self, place: usize) -> Option<(usize, NaiveDate)> {
        let before = self.steps()[place].before.iter();
        before
            .map(|before| (*before, self.known[*before].dates.best))
            .max_by_key(|(_, date)| *date)
    }

    /// Its date is still to come.
    pub fn is_planned(&self, place: usize) -> bool {
        self.natural[place].is_open()
    }

    /// The start, where the scheduler chooses it.
    pub fn is_to_choose(&self, place: usize) -> bool {
        self.is_open && self.is_start(place) && self.is_free_to_move(place)
    }

    pub fn title(&self, place: usize) -> &'a str {
        &self.steps()[place].title
    }

    pub fn bench(&self) -> &'a Bench<'b> {
        self.bench
    }
}

impl Tasks for Network<'_, '_> {
    fn span(&self, task: usize, after: &[NaiveDate]) -> Result<Option<Span>, Error> {
        let (mut range, is_open) = self.ranged(task, after)?;
        if !is_open {
            return Ok(None);
        }
        if self.is_start(task) {
            return Ok(Some(Span::new(range.earliest, range.best, range.latest)));
        }
        let before = &self.problem.tasks[task].after;
        if before.iter().any(|place| self.carries(task, *place)) {
            // The range tells how early it may come; its date is put after the dates of those before it.
            let put = self.range(task, &self.known_on(task, after), false)?.dates;
            range.earliest = range.earliest.max(put.earliest).min(range.best);
        }
        self.looked_through(task, &range).map(Some)
    }

    fn cost(&self, task: usize, date: NaiveDate, span: &Span) -> Result<Option<Cost>, Error> {
        if !took_place(date, self.bench.request.site.zone) {
            return Ok(None);
        }
        let unfit = !self.fits(task, date)?;
        let not_free = !self.bench.days.is_free(date);
        // Moves are to be early: counted from one date, whatever comes before it, so that none is put
        // off to spare the next.
        let aim = match self.steps()[task].step.kind {
            TaskKind::Move if !self.is_open => self.natural[task].dates.best,
            _ => span.likely,
        };
        let far_d = (date - aim).num_days().unsigned_abs() as u32;
        Ok(Some(
            Cost::at(UNFIT, unfit.into())
                .with(NOT_FREE, not_free.into())
                .with(FAR, far_d),
        ))
    }
}
