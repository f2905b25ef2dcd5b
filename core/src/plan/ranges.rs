//! The range of each step's dates, as a function of the dates of those before it.

use std::cell::RefCell;

use chrono::{Days as CalendarDays, NaiveDate, TimeDelta};

use super::Bench;
use super::day::not_free;
use super::helps;
use super::holdups::holdups;
use super::safe::{SafeWindow, SeasonView};
use crate::civil::{check_date, next_day, previous_day};
use crate::error::Error;
use crate::method::{
    Awaited, DayRule, EntranceWork, IfMissed, Part, ResolvedStep, SeasonUse, SignAt,
};
use crate::number::COMMON_PRACTICE;
use crate::reason::{Reason, Value, say};
use crate::task::{TaskKind, TaskSlack, TaskState, Which};
use crate::wait::{self, DateRange, RestsOn, Wait, WaitOutcome, WaitUnit};
use crate::work;

/// A step with its dates.
#[derive(Debug, Clone)]
pub(super) struct Dated {
    pub dates: DateRange,
    pub state: TaskState,
    pub why: Vec<Reason>,
    pub rests_on: RestsOn,
    /// A year's weather is not enough for what it waits for, or it is not to be done at all.
    pub never: bool,
    /// What has to be seen before it has a date.
    pub awaits: Option<Reason>,
    /// The date of what it waits for, and that one's name: it cannot be before that.
    pub not_before: Option<(NaiveDate, String)>,
    pub slack: Option<TaskSlack>,
    /// From when on its weather was counted, where it waits for weather.
    pub counted: Option<Counted>,
    /// The day by which it was due, where that has passed.
    pub was_due: Option<NaiveDate>,
}

/// The weather that a step waits for, counted from an earlier step that was not held up: the spread of
/// a sum is not the sum of spreads.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted {
    from: NaiveDate,
    counts: [f64; 3],
    /// How many such waits lie between the two.
    times: usize,
    /// The date that follows.
    on: NaiveDate,
}

/// The dates on which one waiting time after another runs out, by their count and first day.
pub(super) type Sums = RefCell<Vec<Sum>>;
type Sum = (Wait, NaiveDate, Vec<Option<DateRange>>);

impl Dated {
    pub fn new(dates: DateRange, state: TaskState, why: Vec<Reason>) -> Self {
        Dated {
            dates,
            state,
            why,
            rests_on: RestsOn::default(),
            never: false,
            awaits: None,
            not_before: None,
            slack: None,
            counted: None,
            was_due: None,
        }
    }

    /// What steps that wait for it have to know.
    pub fn known(&self) -> Known {
        Known {
            dates: self.dates,
            state: self.state,
            never: self.never,
            waits: self.awaits.is_some(),
            counted: self.counted,
        }
    }

    pub fn is_open(&self) -> bool {
        self.state == TaskState::Planned && self.awaits.is_none()
    }
}

/// What is known of a step by those that wait for it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    pub dates: DateRange,
    pub state: TaskState,
    pub never: bool,
    pub waits: bool,
    pub counted: Option<Counted>,
}

pub(super) fn before(task: &str, date: NaiveDate, other: &str, other_date: NaiveDate) -> Error {
    Error::Inconsistent {
        field: "fixed".to_owned(),
        problem: format!("{task} on {date} would be before {other}, {other_date}"),
    }
}

pub(super) fn ordered(bench: &Bench<'_>, dates: DateRange) -> Result<DateRange, Error> {
    for date in [dates.earliest, dates.best, dates.latest] {
        check_date("date", date)?;
    }
    let best = bench.days.that_took_place(dates.best)?;
    Ok(DateRange {
        earliest: bench.days.that_took_place(dates.earliest)?.min(best),
        best,
        latest: bench.days.that_took_place(dates.latest)?.max(best),
    })
}

pub(super) fn starting(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    opening: DateRange,
) -> Result<Dated, Error> {
    let verdict = bench.days.judge(step, opening.best)?;
    let mut why = verdict.reasons;
    if bench.request.fixed_on(&step.id).is_some() {
        why.insert(0, say::moved());
        if opening.earliest == opening.best && opening.latest > opening.best
            || opening.latest == opening.best && opening.earliest < opening.best
        {
            why.push(say::edge_of_season());
        }
    }
    if !bench.days.is_free(opening.best) {
        why.push(not_free(opening.best));
    }
    Ok(Dated::new(opening, TaskState::Planned, why))
}

/// A step that prepares the first one.
pub(super) fn leading(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    lead_d: u32,
    opening: DateRange,
    begun: Option<NaiveDate>,
) -> Result<Dated, Error> {
    if let Some(date) = begun {
        return Ok(Dated::new(
            DateRange::on(date),
            TaskState::Dropped,
            vec![say::begun(date)],
        ));
    }
    let today = bench.request.today;
    let lead = Value::Days {
        value: lead_d.into(),
    };
    if let Some(date) = put_before(bench, &step.id, opening.best)? {
        return Ok(Dated::new(
            DateRange::on(date),
            TaskState::Planned,
            vec![say::moved()],
        ));
    }
    let eve = (opening.best - CalendarDays::new(1)).max(today);
    let best = (opening.best - CalendarDays::new(lead_d.into()))
        .max(today)
        .min(eve);
    let dates = DateRange {
        earliest: today.min(best),
        best,
        latest: eve.max(best),
    };
    let why = vec![say::before_start(lead, opening.best)];
    Ok(Dated::new(dates, TaskState::Planned, why))
}

/// The date that the keeper has put a task on that comes before the work of a date.
pub(super) fn put_before(
    bench: &Bench<'_>,
    id: &str,
    work: NaiveDate,
) -> Result<Option<NaiveDate>, Error> {
    let today = bench.request.today;
    match bench.request.fixed_on(id) {
        Some(date) if date < today => Err(before(id, date, "today", today)),
        Some(date) if date > work => Err(Error::Inconsistent {
            field: "fixed".to_owned(),
            problem: format!("{id} on {date} would be after the work it prepares, {work}"),
        }),
        date => Ok(date),
    }
}

/// A step that waits for others. Without `told` the reasons of its dates are left out.
pub(super) fn following(
    bench: &Bench<'_>,
    season: &SeasonView,
    step: &ResolvedStep,
    done: &[Known],
    told: bool,
) -> Result<Dated, Error> {
    let today = bench.request.today;
    let mut dates: Option<DateRange> = None;
    let mut not_before: Option<(NaiveDate, Other<'_>)> = None;
    let mut rests_on = RestsOn::default();
    let mut why = Vec::new();
    let (mut passed_by, mut never) = (false, false);
    let mut counted = None;
    for ((dependency, carries), place) in step.depends_on.iter().zip(&step.before) {
        work::spend(1)?;
        let (other, mut from) = answered(bench, step, *place, done);
        passed_by |= from.never;
        if !*carries {
            from.dates = DateRange::on(from.dates.best);
        }
        if not_before.is_none_or(|(date, _)| from.dates.best > date) {
            not_before = Some((from.dates.best, other));
        }
        let after = match &dependency.wait {
            None => from.dates,
            Some(wait) => {
                let since = done[*place].counted.filter(|_| !*carries);
                let after = runs_out(bench, wait, &from.dates, since)?;
                if told {
                    tell_wait(
                        bench,
                        wait,
                        &other,
                        &from.dates,
                        after,
                        &mut why,
                        &mut rests_on,
                    )?;
                }
                match after {
                    Some((dates, count)) => {
                        counted = count;
                        dates
                    }
                    None => {
                        (passed_by, never) = (true, true);
                        from.dates
                    }
                }
            }
        };
        dates = Some(match dates {
            None => after,
            Some(dates) => DateRange {
                earliest: dates.earliest.max(after.earliest),
                best: dates.best.max(after.best),
                latest: dates.latest.max(after.latest),
            },
        });
    }
    let mut dates = match dates {
        Some(dates) => dates,
        None => match first_morning(bench, step, told, &mut why, &mut rests_on)? {
            Some(dates) => dates,
            None => {
                (passed_by, never) = (true, true);
                DateRange::on(today)
            }
        },
    };
    let mut state = TaskState::Planned;
    if passed_by {
        state = TaskState::Dropped;
    }
    if step.step.asks_for_queen
        && let Some(seen) = bench.queen.seen
    {
        why.push(say::queen_seen(seen));
        return Ok(Dated {
            rests_on,
            never,
            ..Dated::new(
                DateRange::on(seen.max(not_before.map_or(seen, |(date, _)| date))),
                TaskState::Dropped,
                why,
            )
        });
    }
    if let Some(on) = replaced_by_help(bench, step, &dates) {
        why.push(say::helped(on));
        return Ok(Dated {
            rests_on,
            ..Dated::new(dates, TaskState::Dropped, why)
        });
    }
    if let Some(seen) = step.step.until_sign.and_then(|at| seen_on(bench, &at)) {
        why.push(say::seen_already(seen));
        state = TaskState::Dropped;
    } else if let Some(later) = later_one_done(bench, step) {
        why.push(say::passed_over(later));
        state = TaskState::Dropped;
    }
    let awaits = match &step.awaits {
        _ if state == TaskState::Dropped || bench.request.fixed_on(&step.id).is_some() => None,
        Some(Awaited::FullBox) => Some(say::until_full_box()),
        Some(Awaited::Sign(at, wait)) => match seen_on(bench, at) {
            None => Some(say::until_seen(at.sign.meaning().words)),
            Some(seen) => {
                let from = DateRange::on(seen);
                let after = match wait {
                    Some(wait) => wait::runs_out(wait, &from, bench.weather)?.unwrap_or(from),
                    None => from,
                };
                why.push(say::seen_on(at.sign.meaning().words, seen));
                dates = DateRange {
                    earliest: dates.earliest.max(after.earliest),
                    best: dates.earliest.max(after.best),
                    latest: dates.earliest.max(after.latest),
                };
                not_before = Some((dates.earliest, Other::Sign));
                None
            }
        },
        None => {
            let before = step.before.iter().find(|place| done[**place].waits);
            before.map(|place| say::until_task(bench.resolved.steps[*place].title.as_str()))
        }
    };
    if awaits.is_some() {
        return Ok(Dated {
            rests_on,
            never,
            awaits,
            ..Dated::new(dates, state, why)
        });
    }
    if state != TaskState::Dropped
        && dates.latest < today
        && step.step.if_missed == IfMissed::Lapses
    {
        why.push(say::lapsed(dates.latest));
        state = TaskState::Dropped;
    }
    if state == TaskState::Dropped {
        return Ok(Dated {
            rests_on,
            never,
            ..Dated::new(dates, state, why)
        });
    }
    if step.step.entrance == Some(EntranceWork::Close) {
        let verdict = bench.days.judge(step, dates.best)?;
        if !verdict.good() {
            why.extend(verdict.reasons);
            return Ok(Dated {
                rests_on,
                never: true,
                ..Dated::new(dates, TaskState::Dropped, why)
            });
        }
    }
    if step.step.kind == TaskKind::Rest && dates.best < today {
        // Nobody has to do or record it.
        why.push(say::over());
        return Ok(Dated {
            rests_on,
            never,
            ..Dated::new(
                DateRange::on(dates.best),
                TaskState::Done { on: dates.best },
                why,
            )
        });
    }
    let mut was_due = None;
    let floor = floor(bench, step, dates.best)?;
    if dates.best < floor {
        if dates.latest < floor {
            was_due = Some(dates.latest);
            why.push(say::overdue(dates.latest));
        }
        dates = DateRange {
            earliest: dates.earliest.max(floor),
            best: floor,
            latest: dates.latest.max(floor),
        };
    }
    dates.earliest = dates.earliest.max(floor.min(dates.best));
    dates = in_season(bench, season, step, dates, &mut why);
    Ok(Dated {
        rests_on,
        never,
        not_before: not_before.map(|(date, other)| (date, other.name().to_owned())),
        was_due,
        counted: counted.filter(|_| step.depends_on.len() == 1),
        ..Dated::new(dates, state, why)
    })
}

/// The look after help: when brood has had the time to become a laying queen, unless one was seen, or the box
/// was helped once more.
pub(super) fn after_help(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    place: usize,
) -> Result<Dated, Error> {
    let helps = &bench.history.helps;
    let help = &helps[place];
    let mut dates = helps::dates(help.on);
    let dropped = |why| Ok(Dated::new(dates, TaskState::Dropped, vec![why]));
    if let Some(seen) = bench.queen.seen {
        return dropped(say::queen_seen(seen));
    }
    if let Some(again) = helps[place + 1..]
        .iter()
        .find(|later| later.which == help.which)
    {
        return dropped(say::helped(again.on));
    }
    let mut why = vec![say::after_help(help.on)];
    let floor = floor(bench, step, dates.best)?;
    let was_due = (dates.latest < floor).then_some(dates.latest);
    why.extend(was_due.map(say::overdue));
    dates.best = dates.best.max(floor);
    dates.earliest = dates.earliest.max(floor).min(dates.best);
    dates.latest = dates.latest.max(dates.best);
    Ok(Dated {
        was_due,
        ..Dated::new(dates, TaskState::Planned, why)
    })
}

/// The last help of a box without a queen, and the name of the look after it.
fn helped_last<'a>(bench: &'a Bench<'_>) -> Option<(usize, &'a str)> {
    let steps = bench.resolved.steps.iter().rev();
    let mut looks = steps.filter_map(|step| match step.part {
        Part::Help { place } => Some((place, step.id.as_str())),
        _ => None,
    });
    looks.next()
}

/// When the box of a look that is not over before the one after help was helped. Another box that has to show
/// a queen too keeps its look.
fn replaced_by_help(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    dates: &DateRange,
) -> Option<NaiveDate> {
    if !step.step.asks_for_queen {
        return None;
    }
    let helped = |which: Which| bench.history.help(which).map(|help| help.on);
    let open = bench.queen.open();
    let (first, rest) = open.split_first()?;
    let on = rest
        .iter()
        .try_fold(helped(*first)?, |on, which| Some(on.max(helped(*which)?)))?;
    let looks_later = step.step.kind == TaskKind::Check && dates.earliest > helps::dates(on).latest;
    (!looks_later).then_some(on)
}

/// When a waiting time runs out, and from when on it was counted: together with the one before where
/// nothing came between the two.
fn runs_out(
    bench: &Bench<'_>,
    wait: &Wait,
    from: &DateRange,
    since: Option<Counted>,
) -> Result<Option<(DateRange, Option<Counted>)>, Error> {
    if wait.unit == WaitUnit::Days {
        let dates = wait::runs_out(wait, from, bench.weather)?;
        return Ok(dates.map(|dates| (dates, None)));
    }
    let counts = wait.counts();
    if let Some(since) = since
        && since.counts == counts
        && since.on == from.best
    {
        let times = since.times + 1;
        if let Some(mut dates) = summed(bench, wait, since.from, times)?
            && dates.best > from.best
        {
            // Luck with all of them together does not bring this one nearer to the one before it.
            if let Some(alone) = wait::earliest(wait, from.best, bench.weather)? {
                dates.earliest = dates.earliest.max(alone).min(dates.best);
            }
            let counted = Counted {
                times,
                on: dates.best,
                ..since
            };
            return Ok(Some((dates, Some(counted))));
        }
    }
    let dates = wait::runs_out(wait, from, bench.weather)?;
    Ok(dates.map(|dates| {
        let counted = Counted {
            from: from.best,
            counts,
            times: 1,
            on: dates.best,
        };
        (dates, Some(counted))
    }))
}

/// When so many equal waiting times have run out; all that the plan can ask for are worked out together.
fn summed(
    bench: &Bench<'_>,
    wait: &Wait,
    from: NaiveDate,
    times: usize,
) -> Result<Option<DateRange>, Error> {
    let known = |sums: &[Sum]| {
        let mut sums = sums.iter();
        let found = sums.find(|(other, start, _)| other == wait && *start == from);
        found.map(|(.., dates)| dates.get(times - 1).copied().flatten())
    };
    if let Some(dates) = known(&bench.sums.borrow()) {
        return Ok(dates);
    }
    let steps = bench.resolved.steps.iter();
    let most = steps.filter(|step| step.step.repeat.is_some()).count();
    let dates = wait::run_out_in_turn(wait, from, most.max(times), bench.weather)?;
    let found = dates.get(times - 1).copied().flatten();
    bench.sums.borrow_mut().push((wait.clone(), from, dates));
    Ok(found)
}

/// Says how a waiting time was counted, and which weather it rests on.
fn tell_wait(
    bench: &Bench<'_>,
    wait: &Wait,
    other: &Other<'_>,
    from: &DateRange,
    after: Option<(DateRange, Option<Counted>)>,
    why: &mut Vec<Reason>,
    rests_on: &mut RestsOn,
) -> Result<(), Error> {
    let outcome = wait::run(wait, from, bench.weather)?;
    match (outcome, after) {
        (
            WaitOutcome::RunsOut {
                rests_on: days,
                reasons,
                ..
            },
            Some((dates, _)),
        ) => {
            if wait.unit != WaitUnit::Days {
                *rests_on = days;
            }
            why.push(after_words(bench, wait, other, from.best));
            why.extend(reasons);
            if wait.unit == WaitUnit::FlyingDays {
                let next = next_day(from.best, bench.request.site.zone)?;
                why.extend(holdups(next, dates.best, bench.weather)?);
            }
        }
        (WaitOutcome::NeverWithinAYear { reason, .. }, _) => why.push(reason),
        (WaitOutcome::RunsOut { .. }, None) => {}
    }
    Ok(())
}

/// When a step that waits for nothing can be done: from the wished date on, and not on a dawn whose
/// evening is over; a move that asks for flight on the first flying day.
fn first_morning(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    told: bool,
    why: &mut Vec<Reason>,
    rests_on: &mut RestsOn,
) -> Result<Option<DateRange>, Error> {
    let request = bench.request;
    let today = request.today;
    if bench.resolved.divides {
        return Ok(Some(DateRange::on(today)));
    }
    let from = request.wanted.unwrap_or(today).max(today);
    let from = if from == today && eve_of(bench, step).is_some() {
        floor(bench, step, next_day(today, request.site.zone)?)?
    } else {
        from
    };
    if step.step.day != DayRule::Flying {
        return Ok(Some(DateRange::on(from)));
    }
    let eve = previous_day(from, request.site.zone)?;
    let one = Wait::unchecked(WaitUnit::FlyingDays, [1.0; 3], COMMON_PRACTICE);
    let dates = wait::runs_out(&one, &DateRange::on(eve), bench.weather)?;
    if told {
        why.push(say::first_flying_day());
        match dates {
            Some(dates) => {
                why.extend(holdups(from, dates.best, bench.weather)?);
                *rests_on = wait::rests_on(eve, dates.best, bench.weather)?;
            }
            None => why.push(say::stopped()),
        }
    }
    Ok(dates)
}

/// The closing on the evening before a move.
fn eve_of<'a>(bench: &'a Bench<'_>, step: &ResolvedStep) -> Option<&'a ResolvedStep> {
    let steps = &bench.resolved.steps;
    let mut all = steps.iter();
    all.find(|eve| matches!(eve.part, Part::Eve { of } if steps[of].id == step.id))
}

/// The first date for a step that is still to be done: today, and for a move whose evening is over
/// without a closing tomorrow, unless it was meant for today all along.
fn floor(bench: &Bench<'_>, step: &ResolvedStep, best: NaiveDate) -> Result<NaiveDate, Error> {
    let today = bench.request.today;
    let today = bench
        .again_from(step)
        .map_or(today, |again| again.max(today));
    if eve_of(bench, step).is_none() {
        return Ok(today);
    }
    let zone = bench.request.site.zone;
    if let Some(closed) = bench.shut_since(&step.id) {
        return Ok(next_day(closed, zone)?.max(today));
    }
    if best == today || bench.request.announced_on(&step.id) == Some(today) {
        Ok(today)
    } else {
        next_day(today, zone)
    }
}

/// The evening before a move, or the opening after it.
pub(super) fn beside_a_move(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    of: usize,
    moved: &Known,
) -> Result<Dated, Error> {
    let today = bench.request.today;
    let before = matches!(step.part, Part::Eve { .. });
    let mut date = moved.dates.best;
    if before {
        date = previous_day(date, bench.request.site.zone)?;
    }
    if !before && let Some(on) = shut_in_vain(bench, of, moved)? {
        let why = vec![say::open_moved_or_not()];
        return Ok(Dated::new(DateRange::on(on), TaskState::Planned, why));
    }
    let dates = DateRange::on(date);
    let mut dated = Dated::new(dates, TaskState::Planned, Vec::new());
    let title = || bench.resolved.steps[of].title.as_str();
    if moved.waits {
        dated.awaits = Some(say::until_task(title()));
    } else if moved.state == TaskState::Dropped {
        (dated.state, dated.never) = (TaskState::Dropped, moved.never);
        dated.why.push(say::falls_with(title()));
    } else if before && matches!(moved.state, TaskState::Done { .. }) {
        dated.state = TaskState::Dropped;
        dated
            .why
            .push(say::passed_over(&bench.resolved.steps[of].id));
    } else if date < today {
        dated.state = TaskState::Dropped;
        dated.why.push(say::lapsed(date));
    }
    Ok(dated)
}

/// The dawn after which a box stays shut no longer, where it was closed for a move that is put off or left out.
fn shut_in_vain(bench: &Bench<'_>, of: usize, moved: &Known) -> Result<Option<NaiveDate>, Error> {
    let steps = &bench.resolved.steps;
    let Some(closed) = bench.shut_since(&steps[of].id) else {
        return Ok(None);
    };
    let dawn = next_day(closed, bench.request.site.zone)?.max(bench.request.today);
    let in_vain = match moved.state {
        TaskState::Planned => moved.waits || moved.dates.best > dawn,
        // A later stage that was done shows that it is open.
        TaskState::Dropped => later_one_done(bench, &steps[of]).is_none(),
        _ => false,
    };
    Ok(in_vain.then_some(dawn))
}

/// The dates that count for a step that waits for another.
struct Answered {
    dates: DateRange,
    /// The other one can never take place.
    never: bool,
}

/// What a step waits for.
#[derive(Clone, Copy)]
enum Other<'a> {
    /// A step, by its id.
    Step(&'a str),
    /// The sight of a laying queen or of her eggs.
    Queen,
    /// Another sight.
    Sign,
}

impl Other<'_> {
    fn name(&self) -> &str {
        match self {
            Other::Step(id) => id,
            Other::Queen => "the queen or her eggs",
            Other::Sign => "what was seen",
        }
    }
}

/// A step that waits until a queen lays waits for the day on which one was seen; where a look found
/// none, for the next look.
fn answered<'a>(
    bench: &'a Bench<'_>,
    step: &ResolvedStep,
    place: usize,
    done: &[Known],
) -> (Other<'a>, Answered) {
    let steps = &bench.resolved.steps;
    let plain = |place: usize| {
        let never = done[place].state == TaskState::Dropped && done[place].never;
        (
            Other::Step(&steps[place].id),
            Answered {
                dates: done[place].dates,
                never,
            },
        )
    };
    if !steps[place].step.asks_for_queen || step.step.asks_for_queen {
        return plain(place);
    }
    let never = false;
    if let Some(seen) = bench.queen.seen {
        let dates = DateRange::on(seen);
        return (Other::Queen, Answered { dates, never });
    }
    if let Some((place, id)) = helped_last(bench) {
        let dates = helps::dates(bench.history.helps[place].on);
        return (Other::Step(id), Answered { dates, never });
    }
    if !matches!(done[place].state, TaskState::Done { .. }) {
        return plain(place);
    }
    let next_look = (place + 1..done.len()).find(|later| {
        let other = &steps[*later].step;
        other.asks_for_queen
            && other.kind == TaskKind::Check
            && done[*later].state == TaskState::Planned
    });
    match next_look {
        Some(later) => plain(later),
        None => {
            // From the last look on, and not from today: else the date would move on every day.
            let looks = (place..done.len()).filter(|look| {
                steps[*look].step.asks_for_queen
                    && matches!(done[*look].state, TaskState::Done { .. })
            });
            let last = looks.max_by_key(|look| done[*look].dates.best);
            plain(last.unwrap_or(place))
        }
    }
}

/// When a sign was first recorded at a box.
fn seen_on(bench: &Bench<'_>, at: &SignAt) -> Option<NaiveDate> {
    bench.history.seen(at.sign, at.which, NaiveDate::MIN).min()
}

/// A step that depends on this one and is done already.
fn later_one_done<'a>(bench: &'a Bench<'_>, step: &'a ResolvedStep) -> Option<&'a str> {
    let steps = &bench.resolved.steps;
    let mut open = vec![step];
    let mut seen = vec![false; steps.len()];
    while let Some(step) = open.pop() {
        for place in &step.after {
            let later = &steps[*place];
            if std::mem::replace(&mut seen[*place], true) {
                continue;
            }
            if bench.done_on(&later.id).is_some() {
                return Some(&later.id);
            }
            open.push(later);
        }
    }
    None
}

/// `2 to 4 days after “Close the entrance” (2026-09-30): ...`.
fn after_words(bench: &Bench<'_>, wait: &Wait, other: &Other<'_>, date: NaiveDate) -> Reason {
    let steps = &bench.resolved.steps;
    let task = match other {
        Other::Queen | Other::Sign => Value::Word {
            value: "seen.queen".into(),
        },
        Other::Step(id) => {
            let title = steps.iter().find(|step| step.id == *id);
            Value::Title {
                value: title.map_or(*id, |step| &step.title).to_owned().into(),
            }
        }
    };
    let (latest, source) = (
        wait.unit.value(wait.latest),
        wait.source.trim_end_matches('.'),
    );
    if wait.latest < 0.5 {
        say::on_the_day_of(task, date, source)
    } else {
        let least = (wait.earliest != wait.latest).then_some(wait.earliest);
        say::after(least, latest, task, date, source)
    }
}

/// Moves a step that is bound to the season into it.
fn in_season(
    bench: &Bench<'_>,
    season: &SeasonView,
    step: &ResolvedStep,
    dates: DateRange,
    why: &mut Vec<Reason>,
) -> DateRange {
    if step.step.season == SeasonUse::Free {
        return dates;
    }
    let windows = season.windows();
    if windows.is_empty() {
        return dates;
    }
    let divides = step.step.season == SeasonUse::Safe || step.step.kind == TaskKind::NextDivision;
    let last_of = |safe: &SafeWindow| match safe.last_safe {
        Some(_) if !divides => Some(safe.window.closes),
        last_safe => last_safe,
    };
    let from = dates.earliest.max(bench.request.today);
    let found = windows.iter().find_map(|safe| {
        let last = last_of(safe)?;
        (from.max(safe.window.opens) <= last).then_some((safe, last))
    });
    let Some((safe, last)) = found else {
        why.push(say::no_season_in_sight());
        return dates;
    };
    let earliest = from.max(safe.window.opens);
    let wished = dates.best.max(earliest);
    let in_hand = CalendarDays::new(bench.settings.in_hand_d.value as u64);
    let best = if step.step.kind == TaskKind::NextDivision && wished + in_hand > last {
        // Not on the last day that will do: with some days in hand, or half of those there are.
        (last - in_hand)
            .max(earliest + (last - earliest) / 2)
            .min(wished)
    } else {
        wished.min(last)
    };
    if best != dates.best {
        why.push(say::into_season(
            safe.window.opens,
            safe.window.closes,
            (last < safe.window.closes).then_some(last),
        ));
    }
    // Put off to a season, it has as many days to spare as before.
    let put_off = (best - dates.best).max(TimeDelta::zero());
    DateRange {
        earliest,
        best,
        latest: (dates.latest + put_off).min(last).max(best),
    }
}
