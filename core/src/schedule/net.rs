//! A problem with its dates as whole days and its rules sorted by task.

use std::collections::{BTreeSet, HashMap};

use chrono::{Datelike, NaiveDate};
use smallvec::SmallVec;

use super::problem::Problem;
use crate::error::Error;

/// Days of the common era.
pub(super) type Day = i32;
/// The day of a task that never takes place.
pub(super) const NEVER: Day = Day::MIN;

/// The days of some tasks, seldom of more than four.
pub(super) type DaysOfSome = SmallVec<[Day; 4]>;
/// What is known for the days of some tasks.
pub(super) type ByDays<V> = HashMap<DaysOfSome, V>;

pub(super) fn day_of(date: NaiveDate) -> Day {
    date.num_days_from_ce()
}

pub(super) fn date_of(day: Day) -> Option<NaiveDate> {
    NaiveDate::from_num_days_from_ce_opt(day)
}

/// A rule between two tasks, as one of them sees it: broken where the other's day less its own lies
/// between `low` and `high`, neither of them included.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair {
    pub other: usize,
    pub low: i32,
    pub high: i32,
    pub level: usize,
    pub rule: usize,
}

impl Pair {
    pub fn is_broken(&self, own: Day, other: Day) -> bool {
        own != NEVER && other != NEVER && {
            let after = other - own;
            self.low < after && after < self.high
        }
    }
}

/// The problem as the search sees it.
pub(super) struct Net<'a> {
    pub problem: &'a Problem,
    pub announced: Vec<Option<Day>>,
    /// The rules between two tasks, by task; each stands at both.
    pub pairs: Vec<Vec<Pair>>,
    /// The limits that a task counts for.
    pub limits: Vec<Vec<usize>>,
    /// The tasks that count for a limit, each once, in order.
    pub members: Vec<Vec<usize>>,
    /// The tasks whose span depends on a task.
    pub followers: Vec<Vec<usize>>,
}

impl<'a> Net<'a> {
    pub fn new(problem: &'a Problem) -> Result<Self, Error> {
        problem.check()?;
        let count = problem.tasks.len();
        let mut pairs = vec![Vec::new(); count];
        for (rule, apart) in problem.apart.iter().enumerate() {
            let level = apart.level;
            for (one, other, low, high) in apart.pairs() {
                pairs[one].push(Pair {
                    other,
                    low,
                    high,
                    level,
                    rule,
                });
                pairs[other].push(Pair {
                    other: one,
                    low: -high,
                    high: -low,
                    level,
                    rule,
                });
            }
        }
        let mut limits = vec![Vec::new(); count];
        let mut members = Vec::new();
        for (number, limit) in problem.limits.iter().enumerate() {
            let once: BTreeSet<usize> = limit.tasks.iter().copied().collect();
            for task in &once {
                limits[*task].push(number);
            }
            members.push(once.into_iter().collect());
        }
        let mut followers = vec![Vec::new(); count];
        for (task, own) in problem.tasks.iter().enumerate() {
            for before in &own.after {
                if followers[*before].last() != Some(&task) {
                    followers[*before].push(task);
                }
            }
        }
        let announced = problem.tasks.iter().map(|task| task.announced.map(day_of));
        Ok(Net {
            announced: announced.collect(),
            problem,
            pairs,
            limits,
            members,
            followers,
        })
    }

    pub fn len(&self) -> usize {
        self.pairs.len()
    }
}
