//! Networks of tasks put on dates: each task has a range of dates that is a function of the dates of
//! what it depends on, each date has a cost in ranked levels, and rules keep tasks apart. Nothing in
//! here knows what the tasks are.
//!
//! A caller builds a [`Problem`] and says by [`Tasks`] what it knows of the tasks; [`Solver`] gives the
//! cheapest [`Schedule`], of equals the one with the earlier dates. Rules that cannot be kept are broken
//! as little as can be, and named.
//!
//! ```
//! use apiary_almanac::chrono::{Days, NaiveDate};
//! use apiary_almanac::schedule::{
//!     Apart, Cost, FIRST_OWN, Problem, Solver, Span, Task, Tasks, WhyNot,
//! };
//! use apiary_almanac::Error;
//!
//! // Two errands a week after a start, and days away from the likely one cost 1 each.
//! struct Errands(NaiveDate);
//!
//! impl Tasks for Errands {
//!     fn span(&self, task: usize, after: &[NaiveDate]) -> Result<Option<Span>, Error> {
//!         let [start] = after else { return Ok(Some(Span::new(self.0, self.0, self.0))) };
//!         let day = |n: u64| *start + Days::new(n);
//!         Ok(Some(if task == 1 { Span::new(day(6), day(7), day(8)) } else { Span::new(day(7), day(7), day(9)) }))
//!     }
//!
//!     fn cost(&self, _: usize, date: NaiveDate, span: &Span) -> Result<Option<Cost>, Error> {
//!         let away = (date - span.likely).num_days().unsigned_abs() as u32;
//!         Ok(Some(Cost::at(FIRST_OWN, away)))
//!     }
//! }
//!
//! let start: NaiveDate = "2026-10-01".parse()?;
//! let mut problem = Problem::new(FIRST_OWN + 1);
//! let first = problem.add(Task::new(&[]));
//! let one = problem.add(Task::new(&[first]));
//! let other = problem.add(Task::new(&[first]));
//! problem.apart.push(Apart::days(&[one], &[other], 2));
//!
//! let errands = Errands(start);
//! let solver = Solver::new(&problem, &errands)?;
//! let best = solver.solve()?;
//! let dates: Vec<_> = best.placed.iter().filter_map(|placed| placed.date).collect();
//! assert_eq!(dates, [start, start + Days::new(6), start + Days::new(8)]);
//! let why = solver.why_not(&best, other, start + Days::new(7))?;
//! assert!(matches!(why, Some(WhyNot::TooNear { task: 1, .. })));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod answer;
mod cost;
mod joint;
mod least;
mod net;
mod problem;
mod relaxed;
mod rows;
mod search;
mod total;
mod tree;
mod why;

use std::cell::RefCell;

use chrono::NaiveDate;

use crate::error::Error;
use net::Net;
use rows::{KnownRows, Rows};
use search::Effort;

pub use answer::{Broken, Placed, Schedule, Slack, Stop};
pub use cost::{BROKEN, Cost, FIRST_OWN, LEVELS, NO_DATE};
pub use problem::{
    Apart, Limit, MOST_DEPTH, MOST_PAIRS, MOST_TASKS, Problem, Set, Span, Task, Tasks,
};
pub use rows::MOST_DAYS;
pub use why::WhyNot;

/// Choices that a search looks at before it gives the best that it found; a plain problem takes some
/// hundreds. Networks that have to be solved together get fewer. [`Solver::with_looks`] sets another number.
pub const MOST_LOOKS: u64 = 4_000_000;

/// Days that the best of a branch may hang on before the search tries days one by one.
const MOST_CONTEXT: usize = 6;

/// Solves a problem.
pub struct Solver<'a, T: Tasks + ?Sized> {
    net: Net<'a>,
    tasks: &'a T,
    known: KnownRows,
    effort: Effort,
}

impl<'a, T: Tasks + ?Sized> Solver<'a, T> {
    /// Makes ready to solve a problem.
    ///
    /// # Errors
    /// `out_of_range` for a number that names no task or level, or a task that depends on one that does
    /// not stand before it; `too_large` for too many tasks or pairs.
    pub fn new(problem: &'a Problem, tasks: &'a T) -> Result<Self, Error> {
        let net = Net::new(problem)?;
        Ok(Solver {
            known: (0..net.len()).map(|_| RefCell::default()).collect(),
            net,
            tasks,
            effort: Effort {
                looks: MOST_LOOKS,
                context: MOST_CONTEXT,
            },
        })
    }

    /// Looks at so many choices in place of [`MOST_LOOKS`]: hard problems are solved to their end with
    /// more of them.
    ///
    /// ```
    /// # use apiary_almanac::{Error, chrono::NaiveDate};
    /// use apiary_almanac::schedule::{Cost, FIRST_OWN, MOST_LOOKS, Problem, Solver, Span, Tasks};
    /// # struct AnyDay(NaiveDate);
    /// # impl Tasks for AnyDay {
    /// #     fn span(&self, _: usize, _: &[NaiveDate]) -> Result<Option<Span>, Error> {
    /// #         Ok(Some(Span::new(self.0, self.0, self.0)))
    /// #     }
    /// #     fn cost(&self, _: usize, _: NaiveDate, _: &Span) -> Result<Option<Cost>, Error> {
    /// #         Ok(Some(Cost::ZERO))
    /// #     }
    /// # }
    /// # let (problem, tasks) = (Problem::new(FIRST_OWN), AnyDay(NaiveDate::default()));
    /// let patient = Solver::new(&problem, &tasks)?.with_looks(10 * MOST_LOOKS);
    /// assert!(patient.solve()?.exact);
    /// # Ok::<(), Error>(())
    /// ```
    #[must_use]
    pub fn with_looks(mut self, looks: u64) -> Self {
        self.effort.looks = looks;
        self
    }

    /// The best schedule; where that takes too long, the best that was found, with a bound.
    ///
    /// # Errors
    /// Those of [`Tasks`]; `out_of_range` for a span of more than [`MOST_DAYS`] days; `too_large`
    /// where the work of the whole request is spent.
    pub fn solve(&self) -> Result<Schedule, Error> {
        self.solve_put(None)
    }

    /// The best schedule that has a task on this date, as if the date were fixed.
    ///
    /// # Errors
    /// `out_of_range` for a task that there is not, and as [`Solver::solve`].
    pub fn solve_with(&self, task: usize, date: NaiveDate) -> Result<Schedule, Error> {
        self.check(task)?;
        self.solve_put(Some((task, date)))
    }

    fn solve_put(&self, put: Option<(usize, NaiveDate)>) -> Result<Schedule, Error> {
        let rows = Rows::new(&self.net, self.tasks, &self.known, put);
        let found = joint::solve(&rows, self.effort)?;
        answer::schedule(&rows, &found)
    }

    fn check(&self, task: usize) -> Result<(), Error> {
        if task < self.net.len() {
            return Ok(());
        }
        Err(Error::OutOfRange {
            field: "task".to_owned(),
            given: task.to_string(),
            allowed: format!("a task before number {}", self.net.len()),
        })
    }
}

#[cfg(test)]
mod tests;
