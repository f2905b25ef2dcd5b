//! From steps to dated tasks: one walk along the graph, each step after what it depends on.

use chrono::{Days as CalendarDays, NaiveDate, TimeDelta};

use super::readiness::Readiness;
use super::request::{NO_SEASON, NOT_READY};
use super::safe::{SafeWindow, SeasonView};
use super::{Bench, BestDate, Plan};
use crate::bee::Bee;
use crate::caution::{Caution, STANDING_CAUTIONS};
use crate::civil::{check_date, next_day, previous_day};
use crate::error::Error;
use crate::method::{
    Awaited, DayRule, EntranceWork, IfMissed, NewQueen, OnlyIf, ResolvedStep, SeasonUse, SignAt,
    TimeOfDay,
};
use crate::morning::Weekday;
use crate::number::COMMON_PRACTICE;
use crate::reason::{Reason, Value, say};
use crate::record::SignKind;
use crate::relocation::known_spells;
use crate::task::{Dependency, Task, TaskKind, TaskState, WaitingTask, Which};
use crate::wait::{self, DateRange, RestsOn, Wait, WaitOutcome, WaitUnit};
use crate::work;

/// How many of the ranked dates a plan names.
const BEST_DATES: usize = 5;
/// Days that are looked through beyond the range of a task for a flying day.
const LOOK_ON_D: u64 = 60;

/// A step with its dates.
struct Dated {
    dates: DateRange,
    state: TaskState,
    why: Vec<Reason>,
    rests_on: RestsOn,
    /// A year's weather is not enough for what it waits for, or it is not to be done at all.
    never: bool,
    /// What has to be seen before it has a date.
    awaits: Option<Reason>,
}

/// Makes the plan's tasks and what belongs to their dates.
pub(super) fn dated(
    bench: &Bench<'_>,
    season: &SeasonView,
    readiness: &Readiness,
) -> Result<Plan, Error> {
    let request = bench.request;
    let start = &bench.resolved.steps[bench.resolved.start];
    let mut plan = Plan {
        id: String::new(),
        title: String::new(),
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
        notes: Vec::new(),
        tasks: Vec::new(),
        waiting: Vec::new(),
        choices: Vec::new(),
        cautions: Vec::new(),
        basis: bench.weather.climate.basis(),
    };
    let begun = request.done_on(&start.id);
    if begun.is_none() {
        if !readiness.lacking.is_empty() {
            plan.tasks.push(not_ready(bench, readiness)?);
            return Ok(plan);
        }
        plan.notes.extend(readiness.reasons.iter().cloned());
    }
    let opening = match begun {
        Some(date) => {
            let window = season.window_of(date);
            let parted = match window {
                Some(safe) if safe.last_start.is_none_or(|last| date > last) => {
                    season.parted_after(bench, safe, date)?
                }
                _ => None,
            };
            describe_window(&mut plan, bench, window, parted);
            match window.map(|safe| safe.last_start) {
                None if matches!(season, SeasonView::AllYear) => {}
                Some(_) if parted.is_some() => {}
                None => plan.notes.push(say::begun_out_of_season(date)),
                Some(last) if last.is_none_or(|last| date > last) => {
                    plan.notes.push(say::begun_late(date))
                }
                Some(_) => {}
            }
            DateRange::on(date)
        }
        None => match choose_start(bench, season, readiness)? {
            Start::Found {
                range,
                first_safe,
                window,
                parted,
                best_dates,
            } => {
                plan.first_safe = Some(first_safe);
                describe_window(&mut plan, bench, window, parted);
                plan.best_dates = best_dates;
                range
            }
            Start::None(why) => {
                plan.tasks.push(no_season(bench, why)?);
                return Ok(plan);
            }
        },
    };
    if begun.is_none() {
        for unknown in &readiness.unknown {
            plan.tasks.push(find_out(bench, unknown, opening.best)?);
        }
    }
    let find_out: Vec<String> = plan.tasks.iter().map(|task| task.id.clone()).collect();
    walk(bench, season, &mut plan, opening, begun)?;
    if let Some(task) = plan.tasks.iter_mut().find(|task| task.id == start.id) {
        task.depends_on.extend(
            find_out
                .into_iter()
                .map(|task| Dependency { task, wait: None }),
        );
    }
    Ok(plan)
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

enum Start<'a> {
    Found {
        range: DateRange,
        first_safe: NaiveDate,
        window: Option<&'a SafeWindow>,
        /// The later window in which the division is finished, where it is not the first.
        parted: Option<&'a SafeWindow>,
        best_dates: Vec<BestDate>,
    },
    None(Vec<Reason>),
}

/// The first date, the best dates and the last date for the first step.
fn choose_start<'a>(
    bench: &Bench<'_>,
    season: &'a SeasonView,
    readiness: &Readiness,
) -> Result<Start<'a>, Error> {
    let request = bench.request;
    let step = &bench.resolved.steps[bench.resolved.start];
    let mut from = request.today.max(readiness.from);
    if !readiness.unknown.is_empty() {
        from = from.max(request.today + CalendarDays::new(1));
    }
    let ranked_d = CalendarDays::new(bench.settings.ranked_d.value as u64);
    let fixed = request.fixed_on(&step.id);
    let (first, last, window, parted) = match season {
        SeasonView::None(reasons) => return Ok(Start::None(reasons.clone())),
        SeasonView::AllYear => {
            let wanted = request.wanted.unwrap_or(from).max(from);
            (from, wanted + ranked_d, None, None)
        }
        SeasonView::Windows(windows) => {
            let not_before = fixed.or(request.wanted).unwrap_or(from).max(from);
            let mut usable = None;
            for safe in windows {
                let first = safe.window.opens.max(from);
                if let Some(last) = safe.last_start
                    && first.max(not_before) <= last
                {
                    usable = Some((first, last, Some(safe), None));
                    break;
                }
                // Too late for this season, but not too late to begin what the next one ends.
                let first = match safe.last_start {
                    Some(last) => first.max(last + CalendarDays::new(1)),
                    None => first,
                };
                let last = safe.window.closes;
                if first.max(not_before) <= last
                    && let Some(later) = season.parted_after(bench, safe, first.max(not_before))?
                {
                    usable = Some((first, last, Some(safe), Some(later)));
                    break;
                }
            }
            match usable {
                Some(usable) => usable,
                None => return Ok(Start::None(why_no_window(bench, windows, from))),
            }
        }
    };
    let lead_d = bench
        .resolved
        .steps
        .iter()
        .filter(|step| request.done_on(&step.id).is_none())
        .filter_map(|step| step.step.lead_d)
        .max()
        .unwrap_or(0);
    let target = match request.wanted {
        Some(wanted) => wanted.max(first),
        None => first.max(request.today + CalendarDays::new(lead_d.into())),
    }
    .min(last);
    let mut best_dates = rank(bench, step, first, last, target, window.is_some())?;
    let best = match (fixed, best_dates.first()) {
        (Some(date), _) => {
            if date < request.today {
                return Err(before(&step.id, date, "today", request.today));
            }
            date
        }
        (None, Some(best)) => best.date,
        (None, None) => target,
    };
    best_dates.truncate(BEST_DATES);
    let range = DateRange {
        earliest: first.min(best),
        best,
        latest: last.max(best),
    };
    Ok(Start::Found {
        range,
        first_safe: first,
        window,
        parted,
        best_dates,
    })
}

fn why_no_window(bench: &Bench<'_>, windows: &[SafeWindow], from: NaiveDate) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = windows
        .iter()
        .filter(|safe| safe.window.closes >= from)
        .map(|safe| match safe.last_start {
            Some(last) => say::last_safe_passed(
                safe.window.opens,
                safe.window.closes,
                last,
                from.max(bench.request.wanted.unwrap_or(from)),
            ),
            None => say::season_too_short(safe.window.opens, safe.window.closes, safe.good_until),
        })
        .collect();
    reasons.push(say::start_would_change());
    reasons
}

/// Ranks the dates of a span around a target, the best first.
fn rank(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    first: NaiveDate,
    last: NaiveDate,
    target: NaiveDate,
    in_season: bool,
) -> Result<Vec<BestDate>, Error> {
    let reach_d = bench.settings.ranked_d.value;
    let reach = CalendarDays::new(reach_d as u64);
    let from = first.max(target - reach);
    let to = last.min(target + reach);
    let wanted = bench.request.wanted.is_some();
    let mut ranked = Vec::new();
    for date in crate::civil::days(from, to, bench.request.site.zone) {
        let verdict = bench.days.judge(&step.step, date)?;
        let free = bench.days.is_free(date);
        let away_d = (date - target).num_days().abs() as f64;
        let away = Value::Days { value: away_d };

        // Our own weighing: weather first, then nearness to the target, in whole points.
        let mut points = if verdict.good { 60.0 } else { 0.0 };
        points += 40.0 * (1.0 - away_d / reach_d).max(0.0);
        let mut reasons = verdict.reasons;
        reasons.push(match (wanted, date < target) {
            (true, _) => say::near_wanted(away, target),
            (false, true) => say::little_notice(),
            (false, false) if in_season => say::early(),
            (false, false) => say::soon(away),
        });
        if !free {
            reasons.push(not_free(date));
        }
        // Fit before free: no free day makes up for the weather.
        ranked.push((
            (!verdict.good, !free),
            BestDate {
                date,
                points: points.round(),
                good: verdict.good && free,
                reasons,
            },
        ));
    }
    // Stable: of equals the earlier date comes first.
    ranked.sort_by(|(class_a, a), (class_b, b)| {
        class_a.cmp(class_b).then(b.points.total_cmp(&a.points))
    });
    Ok(ranked.into_iter().map(|(_, date)| date).collect())
}

fn not_free(date: NaiveDate) -> Reason {
    say::not_free(Weekday::of(date).word())
}

fn before(task: &str, date: NaiveDate, other: &str, other_date: NaiveDate) -> Error {
    Error::Inconsistent {
        field: "fixed".to_owned(),
        problem: format!("{task} on {date} would be before {other}, {other_date}"),
    }
}

/// When a laying queen was seen where one had to be raised.
struct Queen {
    seen: Option<NaiveDate>,
}

impl Queen {
    /// Looks through the records. A queen counts when seen after the division, eggs from the day on
    /// from which they cannot be older than it; a later look without eggs takes both back.
    fn of(bench: &Bench<'_>) -> Self {
        let request = bench.request;
        let safe = &bench.resolved.steps[bench.resolved.safe];
        let Some(divided) = request.done_on(&safe.id) else {
            return Queen { seen: None };
        };
        let eggs_from = divided + CalendarDays::new(bench.settings.eggs_count_from_d.value as u64);
        let at = |which: Which| -> Option<NaiveDate> {
            let seen = |kind: SignKind, from: NaiveDate| {
                request
                    .records
                    .iter()
                    .filter(move |record| record.date >= from)
                    .filter(move |record| {
                        record
                            .signs
                            .iter()
                            .any(|sign| sign.kind == kind && sign.is_at(which))
                    })
                    .map(|record| record.date)
            };
            let without = seen(SignKind::NoEggs, divided)
                .chain(seen(SignKind::BoxEmpty, divided))
                .max();
            seen(SignKind::Eggs, eggs_from)
                .chain(seen(SignKind::LayingQueen, divided))
                .filter(|date| without.is_none_or(|without| *date > without))
                .min()
        };
        Queen {
            seen: match bench.method.new_queen() {
                NewQueen::Parent => at(Which::Parent),
                NewQueen::Daughter | NewQueen::None => at(Which::Daughter),
                NewQueen::Either => match (at(Which::Parent), at(Which::Daughter)) {
                    (Some(parent), Some(daughter)) => Some(parent.max(daughter)),
                    _ => None,
                },
            },
        }
    }
}

fn walk(
    bench: &Bench<'_>,
    season: &SeasonView,
    plan: &mut Plan,
    opening: DateRange,
    begun: Option<NaiveDate>,
) -> Result<(), Error> {
    let steps = &bench.resolved.steps;
    let queen = Queen::of(bench);
    let mut done: Vec<Dated> = Vec::with_capacity(steps.len());
    for (index, step) in steps.iter().enumerate() {
        let mut dated = if let Some(date) = bench.request.done_on(&step.id) {
            Dated {
                dates: DateRange::on(date),
                state: TaskState::Done { on: date },
                why: Vec::new(),
                rests_on: RestsOn::default(),
                never: false,
                awaits: None,
            }
        } else if index == bench.resolved.start {
            starting(bench, step, opening)?
        } else if let Some(lead_d) = step.step.lead_d {
            leading(bench, step, lead_d, opening, begun)?
        } else {
            following(bench, season, step, &done, &queen)?
        };
        dated.dates = ordered(bench, dated.dates)?;
        done.push(dated);
    }
    for (step, dated) in steps.iter().zip(done) {
        match dated.awaits {
            Some(until) => plan
                .waiting
                .push(waiting(bench, plan, step, dated.dates, until)),
            None => {
                let mut task = task(bench, step, dated)?;
                task.only_if = only_if(bench, step, &task.state);
                plan.tasks.push(task);
            }
        }
    }
    Ok(())
}

/// A step that has no date.
fn waiting(
    bench: &Bench<'_>,
    plan: &Plan,
    step: &ResolvedStep,
    dates: DateRange,
    until: Reason,
) -> WaitingTask {
    let sees = step.awaits.is_some();
    WaitingTask {
        id: step.id.clone(),
        kind: step.step.kind,
        which: step.which,
        title: step.title.clone(),
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
fn only_if(bench: &Bench<'_>, step: &ResolvedStep, state: &TaskState) -> Option<Reason> {
    let OnlyIf::NoEggs = step.step.only_if?;
    let safe = &bench.resolved.steps[bench.resolved.safe];
    let divided = bench.request.done_on(&safe.id);
    let found_none = bench.request.records.iter().any(|record| {
        divided.is_some_and(|divided| record.date > divided)
            && record
                .signs
                .iter()
                .any(|sign| sign.kind == SignKind::NoEggs)
    });
    (*state == TaskState::Planned && !found_none).then(say::only_if_no_eggs)
}

/// When a sign was first recorded at a box.
fn seen_on(bench: &Bench<'_>, at: &SignAt) -> Option<NaiveDate> {
    let records = bench.request.records.iter();
    let seen = records.filter(|record| {
        record
            .signs
            .iter()
            .any(|sign| sign.kind == at.sign && sign.is_at(at.which))
    });
    seen.map(|record| record.date).min()
}

fn ordered(bench: &Bench<'_>, dates: DateRange) -> Result<DateRange, Error> {
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

fn starting(bench: &Bench<'_>, step: &ResolvedStep, opening: DateRange) -> Result<Dated, Error> {
    let verdict = bench.days.judge(&step.step, opening.best)?;
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
    Ok(Dated {
        dates: opening,
        state: TaskState::Planned,
        why,
        rests_on: RestsOn::default(),
        never: false,
        awaits: None,
    })
}

/// A step that prepares the first one.
fn leading(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    lead_d: u32,
    opening: DateRange,
    begun: Option<NaiveDate>,
) -> Result<Dated, Error> {
    if let Some(date) = begun {
        return Ok(Dated {
            dates: DateRange::on(date),
            state: TaskState::Dropped,
            why: vec![say::begun(date)],
            rests_on: RestsOn::default(),
            never: false,
            awaits: None,
        });
    }
    let today = bench.request.today;
    let lead = Value::Days {
        value: lead_d.into(),
    };
    if let Some(date) = put_before(bench, &step.id, opening.best)? {
        return Ok(Dated {
            dates: DateRange::on(date),
            state: TaskState::Planned,
            why: vec![say::moved()],
            rests_on: RestsOn::default(),
            never: false,
            awaits: None,
        });
    }
    let eve = (opening.best - CalendarDays::new(1)).max(today);
    let best = (opening.best - CalendarDays::new(lead_d.into()))
        .max(today)
        .min(eve);
    let mut why = vec![say::before_start(lead, opening.best)];
    let dates = DateRange {
        earliest: today.min(best),
        best,
        latest: eve.max(best),
    };
    let dates = match step.step.day {
        DayRule::Any => dates,
        _ => on_a_fit_day(bench, step, dates, Some(today), &mut why)?,
    };
    Ok(Dated {
        dates,
        state: TaskState::Planned,
        why,
        rests_on: RestsOn::default(),
        never: false,
        awaits: None,
    })
}

/// The date that the keeper has put a task on that comes before the work of a date.
fn put_before(bench: &Bench<'_>, id: &str, work: NaiveDate) -> Result<Option<NaiveDate>, Error> {
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

/// A step that waits for others.
fn following(
    bench: &Bench<'_>,
    season: &SeasonView,
    step: &ResolvedStep,
    done: &[Dated],
    queen: &Queen,
) -> Result<Dated, Error> {
    let today = bench.request.today;
    let mut dates: Option<DateRange> = None;
    let mut not_before: Option<(NaiveDate, Other<'_>)> = None;
    let mut rests_on = RestsOn::default();
    let mut why = Vec::new();
    let (mut passed_by, mut never) = (false, false);
    for ((dependency, carries), place) in step.depends_on.iter().zip(&step.before) {
        work::spend(1)?;
        let (other, mut from) = answered(bench, step, *place, done, queen);
        passed_by |= from.never;
        if !*carries {
            from.dates = DateRange::on(from.dates.best);
        }
        if not_before.is_none_or(|(date, _)| from.dates.best > date) {
            not_before = Some((from.dates.best, other));
        }
        let after = match &dependency.wait {
            None => from.dates,
            Some(wait) => match wait::run(wait, &from.dates, bench.weather)? {
                WaitOutcome::RunsOut {
                    dates,
                    rests_on: days,
                    reasons,
                } => {
                    if wait.unit != WaitUnit::Days {
                        rests_on = days;
                    }
                    why.push(after_words(bench, wait, &other, from.dates.best));
                    why.extend(reasons);
                    if wait.unit == WaitUnit::FlyingDays {
                        let next = next_day(from.dates.best, bench.request.site.zone)?;
                        why.extend(known_spells(next, dates.best, bench.weather)?);
                    }
                    dates
                }
                WaitOutcome::NeverWithinAYear { reason, .. } => {
                    why.push(reason);
                    (passed_by, never) = (true, true);
                    from.dates
                }
            },
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
    let mut dates = dates.unwrap_or_else(|| DateRange::on(today));
    let mut state = TaskState::Planned;
    if passed_by {
        state = TaskState::Dropped;
    }
    if step.step.asks_for_queen
        && let Some(seen) = queen.seen
    {
        why.push(say::queen_seen(seen));
        return Ok(Dated {
            dates: DateRange::on(seen.max(not_before.map_or(seen, |(date, _)| date))),
            state: TaskState::Dropped,
            why,
            rests_on,
            never,
            awaits: None,
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
            let before = step
                .before
                .iter()
                .find(|place| done[**place].awaits.is_some());
            before.map(|place| say::until_task(bench.resolved.steps[*place].title.as_str()))
        }
    };
    if awaits.is_some() {
        return Ok(Dated {
            dates,
            state,
            why,
            rests_on,
            never,
            awaits,
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
            dates,
            state,
            why,
            rests_on,
            never,
            awaits: None,
        });
    }
    if step.step.entrance == Some(EntranceWork::Close) {
        let verdict = bench.days.judge(&step.step, dates.best)?;
        if !verdict.good {
            why.extend(verdict.reasons);
            return Ok(Dated {
                dates,
                state: TaskState::Dropped,
                why,
                rests_on,
                never: true,
                awaits: None,
            });
        }
    }
    if step.step.kind == TaskKind::Rest && dates.best < today {
        // Nobody has to do or record it.
        why.push(say::over());
        return Ok(Dated {
            dates: DateRange::on(dates.best),
            state: TaskState::Done { on: dates.best },
            why,
            rests_on,
            never,
            awaits: None,
        });
    }
    if dates.best < today {
        if dates.latest < today {
            why.push(say::overdue(dates.latest));
        }
        dates = DateRange {
            earliest: dates.earliest.max(today),
            best: today,
            latest: dates.latest.max(today),
        };
    }
    dates = in_season(bench, season, step, dates, &mut why);
    if let Some(date) = bench.request.fixed_on(&step.id) {
        if let Some((other_date, other)) = not_before
            && date < other_date
        {
            let other = match other {
                Other::Step(id) => id,
                Other::Queen => "the queen or her eggs",
                Other::Sign => "what was seen",
            };
            return Err(before(&step.id, date, other, other_date));
        }
        if date < today {
            return Err(before(&step.id, date, "today", today));
        }
        if date < dates.earliest || date > dates.latest {
            why.push(say::outside_range(dates.earliest, dates.latest));
        }
        why.push(say::moved());
        dates = DateRange::on(date);
    } else {
        dates = on_a_fit_day(
            bench,
            step,
            dates,
            not_before.map(|(date, _)| date),
            &mut why,
        )?;
    }
    Ok(Dated {
        dates,
        state,
        why,
        rests_on,
        never,
        awaits: None,
    })
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

/// A step that waits until a queen lays waits for the day on which one was seen; where a look found
/// none, for the next look.
fn answered<'a>(
    bench: &'a Bench<'_>,
    step: &ResolvedStep,
    place: usize,
    done: &[Dated],
    queen: &Queen,
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
    if let Some(seen) = queen.seen {
        let dates = DateRange::on(seen);
        let never = false;
        return (Other::Queen, Answered { dates, never });
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
            let dates = DateRange::on(bench.request.today.max(done[place].dates.best));
            let never = false;
            (Other::Step(&steps[place].id), Answered { dates, never })
        }
    }
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
            if bench.request.done_on(&later.id).is_some() {
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

/// The nearest day to the best date that the step can be done on.
fn on_a_fit_day(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    dates: DateRange,
    not_before: Option<NaiveDate>,
    why: &mut Vec<Reason>,
) -> Result<DateRange, Error> {
    let (rule, time) = (step.step.day, step.step.time);
    let days = &bench.days;
    let one = CalendarDays::new(1);
    // A free day first, by the calendar alone, so that worse weather can only make it later.
    let mut wanted = dates.best;
    if days.names_free_days() {
        let mut date = dates.best;
        while date <= dates.latest {
            if days.is_free(date) {
                wanted = date;
                break;
            }
            date = date + one;
        }
    }
    let shuts = time == TimeOfDay::Dawn || step.step.entrance == Some(EntranceWork::Close);
    if rule == DayRule::Any && !shuts {
        if !days.is_free(wanted) {
            why.push(not_free(wanted));
        }
        return Ok(DateRange {
            best: wanted,
            ..dates
        });
    }
    let flies = rule == DayRule::Flying;
    let last = if flies {
        dates.latest.max(wanted) + CalendarDays::new(LOOK_ON_D)
    } else {
        dates.latest
    };
    let mut candidates = Vec::new();
    let mut date = wanted;
    while date <= last && candidates.len() < 2 * LOOK_ON_D as usize {
        candidates.push(date);
        date = date + one;
    }
    if !flies {
        let floor = not_before
            .unwrap_or(dates.earliest)
            .max(dates.earliest)
            .max(bench.request.today);
        let mut date = wanted;
        while date > floor && candidates.len() < 4 * LOOK_ON_D as usize {
            date = date - one;
            candidates.push(date);
        }
    }
    for date in candidates {
        let date = days.that_took_place(date)?;
        let verdict = days.judge(&step.step, date)?;
        if verdict.good {
            if date != wanted {
                why.push(say::waits_for_weather(
                    wanted,
                    days.judge(&step.step, wanted)?.reasons.into_iter().next(),
                ));
            }
            why.extend(verdict.reasons);
            if !days.is_free(date) {
                why.push(not_free(date));
            }
            return Ok(DateRange {
                earliest: dates.earliest.min(date),
                best: date,
                latest: dates.latest.max(date),
            });
        }
    }
    why.push(if time == TimeOfDay::Dawn {
        say::no_fit_morning()
    } else {
        say::no_fit_day()
    });
    why.extend(days.judge(&step.step, wanted)?.reasons);
    Ok(DateRange {
        best: wanted,
        ..dates
    })
}

fn task(bench: &Bench<'_>, step: &ResolvedStep, dated: Dated) -> Result<Task, Error> {
    let Dated {
        dates,
        state,
        why: dated_why,
        mut rests_on,
        never: _,
        awaits: _,
    } = dated;
    let mut why = vec![Reason::new("step", step.why.clone())];
    why.extend(dated_why);
    if state == TaskState::Planned && step.step.asks_for_queen && step.step.kind == TaskKind::Decide
    {
        why.push(queenless_life(bench.weather.bee()));
    }
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
        if step.step.time != TimeOfDay::WholeDay || step.step.day != DayRule::Any {
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
        which: step.which,
        title: step.title.clone(),
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
        depends_on: step
            .depends_on
            .iter()
            .map(|(dependency, _)| dependency.clone())
            .collect(),
        rests_on,
        state,
        good_at,
        only_if: None,
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

/// A task of the planner's own.
fn own_task(
    bench: &Bench<'_>,
    id: &str,
    kind: TaskKind,
    title: &str,
    dates: DateRange,
    why: Vec<Reason>,
) -> Result<Task, Error> {
    let state = match bench.request.done_on(id) {
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
        dates,
        window: None,
        good_at: None,
        why,
        look_for: Vec::new(),
        cautions: Vec::new(),
        source: COMMON_PRACTICE.to_owned(),
        depends_on: Vec::<Dependency>::new(),
        rests_on: RestsOn::default(),
        state,
        only_if: None,
    })
}

fn find_out(
    bench: &Bench<'_>,
    unknown: &super::readiness::Unknown,
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
        .filter(|caution| caution.code == "lifting" && unknown.id == super::request::FIND_WEIGHT)
        .collect();
    Ok(task)
}

fn not_ready(bench: &Bench<'_>, readiness: &Readiness) -> Result<Task, Error> {
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

fn no_season(bench: &Bench<'_>, why: Vec<Reason>) -> Result<Task, Error> {
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
