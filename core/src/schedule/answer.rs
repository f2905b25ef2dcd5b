//! A schedule: dates, what they cost, what they break, and how far each can slip.

use chrono::NaiveDate;

use super::cost::Cost;
use super::net::{Day, NEVER, Net, date_of};
use super::problem::{Set, Span, Tasks};
use super::rows::Rows;
use super::search::Found;
use crate::error::Error;

/// Dates for all tasks of a problem.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Schedule {
    /// By task number.
    pub placed: Vec<Placed>,
    /// What all dates cost together, broken rules included.
    pub cost: Cost,
    /// No schedule costs less.
    pub bound: Cost,
    /// Whether it is known to be the best: no other costs less, and of those that cost as much this
    /// has the earlier dates, the first task's before the others'.
    pub exact: bool,
    /// The rules that it breaks.
    pub broken: Vec<Broken>,
}

/// Where a task stands.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Placed {
    /// Its date; `None` where it can never take place.
    pub date: Option<NaiveDate>,
    /// When it can take place, given the dates of what it depends on; `None` for one that is done,
    /// or never takes place.
    pub span: Option<Span>,
    /// What its date costs by itself: the caller's cost and the days moved.
    pub cost: Cost,
    /// How far it can slip alone.
    pub slack: Slack,
}

/// How far a task can slip while all others stay where they are and no rule is broken that is not
/// broken now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Slack {
    /// Days from its date to the last one to which it can slip.
    pub days: u32,
    /// What stands in the way after that.
    pub until: Stop,
}

/// What keeps a task from slipping further.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Stop {
    /// Its own last date, or that it is set or never takes place.
    Last,
    /// A task that depends on it would have to move.
    Moves {
        /// That task.
        task: usize,
    },
    /// It would come too near another task.
    TooNear {
        /// The rule, by its place in the problem.
        apart: usize,
        /// The other task.
        task: usize,
    },
    /// A day that is at its limit without it.
    Full {
        /// The limit, by its place in the problem.
        limit: usize,
    },
}

/// A rule that is broken.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum Broken {
    /// A task can never take place.
    NoDate {
        /// The task.
        task: usize,
    },
    /// A date is fixed for a task that can never take place.
    Never {
        /// The task.
        task: usize,
    },
    /// A fixed date lies before the earliest.
    Early {
        /// The task.
        task: usize,
        /// The last of the tasks that it depends on.
        because: Option<usize>,
    },
    /// A fixed date lies after the last.
    Late {
        /// The task.
        task: usize,
    },
    /// A fixed date is not allowed.
    NotAllowed {
        /// The task.
        task: usize,
    },
    /// Two tasks stand nearer to each other than they may.
    TooNear {
        /// The rule, by its place in the problem.
        apart: usize,
        /// The task with the smaller number.
        one: usize,
        /// The other task.
        other: usize,
    },
    /// More tasks on one day than it takes.
    Full {
        /// The limit, by its place in the problem.
        limit: usize,
        /// The day.
        date: NaiveDate,
        /// The tasks on it.
        tasks: Vec<usize>,
    },
}

/// The schedule of the days that were found.
pub(super) fn schedule<T: Tasks + ?Sized>(
    rows: &Rows<'_, '_, T>,
    found: &Found,
) -> Result<Schedule, Error> {
    let net = rows.net;
    let mut placed = Vec::with_capacity(net.len());
    let mut broken = Vec::new();
    for (task, day) in found.days.iter().enumerate() {
        let row = rows.row(task, &found.days)?;
        let choice = row.choices.iter().find(|choice| choice.day == *day);
        placed.push(Placed {
            date: date(*day),
            span: row.span.filter(|_| *day != NEVER),
            cost: choice.map_or(Cost::ZERO, |choice| choice.cost),
            slack: slack(rows, task, &found.days)?,
        });
        broken.extend(broken_alone(rows, task, *day, row.span)?);
    }
    broken.extend(broken_together(net, &found.days));
    Ok(Schedule {
        placed,
        cost: found.cost,
        bound: found.bound,
        exact: found.exact,
        broken,
    })
}

fn date(day: Day) -> Option<NaiveDate> {
    (day != NEVER).then(|| date_of(day)).flatten()
}

/// The last of the tasks that another depends on: as a rule it sets the earliest date.
pub(super) fn because(net: &Net<'_>, task: usize) -> Option<usize> {
    net.problem.tasks[task].after.last().copied()
}

fn broken_alone<T: Tasks + ?Sized>(
    rows: &Rows<'_, '_, T>,
    task: usize,
    day: Day,
    span: Option<Span>,
) -> Result<Option<Broken>, Error> {
    if day == NEVER {
        return Ok(Some(Broken::NoDate { task }));
    }
    let Set::Fixed(date) = rows.set(task) else {
        return Ok(None);
    };
    let Some(span) = span else {
        return Ok(Some(Broken::Never { task }));
    };
    Ok(if date < span.earliest {
        let because = because(rows.net, task);
        Some(Broken::Early { task, because })
    } else if date > span.last {
        Some(Broken::Late { task })
    } else if rows.tasks.cost(task, date, &span)?.is_none() {
        Some(Broken::NotAllowed { task })
    } else {
        None
    })
}

/// The rules between tasks that are broken.
pub(super) fn broken_together(net: &Net<'_>, days: &[Day]) -> Vec<Broken> {
    let mut broken = Vec::new();
    for (one, pairs) in net.pairs.iter().enumerate() {
        for pair in pairs.iter().filter(|pair| one < pair.other) {
            if pair.is_broken(days[one], days[pair.other]) {
                broken.push(Broken::TooNear {
                    apart: pair.rule,
                    one,
                    other: pair.other,
                });
            }
        }
    }
    for (limit, rule) in net.problem.limits.iter().enumerate() {
        let mut members: Vec<(Day, usize)> =
            rule.tasks.iter().map(|task| (days[*task], *task)).collect();
        members.sort_unstable();
        members.dedup();
        for same_day in members.chunk_by(|one, other| one.0 == other.0) {
            let Some(date) = date(same_day[0].0) else {
                continue;
            };
            if same_day.len() > rule.per_day as usize {
                let tasks = same_day.iter().map(|(_, task)| *task).collect();
                broken.push(Broken::Full { limit, date, tasks });
            }
        }
    }
    broken
}

/// What a task would break on a day, all others staying where they are.
pub(super) fn in_the_way(net: &Net<'_>, task: usize, day: Day, days: &[Day]) -> Option<Stop> {
    for pair in &net.pairs[task] {
        let other = days[pair.other];
        if pair.is_broken(day, other) && !pair.is_broken(days[task], other) {
            return Some(Stop::TooNear {
                apart: pair.rule,
                task: pair.other,
            });
        }
    }
    for limit in &net.limits[task] {
        let rule = &net.problem.limits[*limit];
        let mut there: Vec<usize> = rule.tasks.clone();
        there.retain(|other| *other != task && days[*other] == day);
        there.sort_unstable();
        there.dedup();
        if there.len() >= rule.per_day as usize {
            return Some(Stop::Full { limit: *limit });
        }
    }
    None
}

fn slack<T: Tasks + ?Sized>(
    rows: &Rows<'_, '_, T>,
    task: usize,
    days: &[Day],
) -> Result<Slack, Error> {
    let net = rows.net;
    let mut slack = Slack {
        days: 0,
        until: Stop::Last,
    };
    let own = days[task];
    if own == NEVER || rows.set_day(task).is_some() {
        return Ok(slack);
    }
    let row = rows.row(task, days)?;
    let mut later: Vec<Day> = row.choices.iter().map(|choice| choice.day).collect();
    later.retain(|day| *day > own);
    later.sort_unstable();
    let mut followers = Vec::new();
    for follower in &net.followers[task] {
        // One that could not stand where it stands anyway has nothing to lose.
        if rows.can_stay(*follower, days)? {
            followers.push(*follower);
        }
    }
    let mut moved = days.to_vec();
    for day in later {
        moved[task] = day;
        for follower in &followers {
            if !rows.can_stay(*follower, &moved)? {
                slack.until = Stop::Moves { task: *follower };
                return Ok(slack);
            }
        }
        if let Some(stop) = in_the_way(net, task, day, days) {
            slack.until = stop;
            return Ok(slack);
        }
        slack.days = day.abs_diff(own);
    }
    Ok(slack)
}
