//! Why a task is not on the date that somebody asks about.

use chrono::NaiveDate;

use super::answer::{Broken, Schedule, because};
use super::cost::BROKEN;
use super::net::{NEVER, day_of};
use super::problem::{Set, Tasks};
use super::rows::Rows;
use super::{Solver, answer, joint};
use crate::error::Error;

/// The first reason why a task is not on a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum WhyNot {
    /// It was done.
    Done {
        /// When.
        on: NaiveDate,
    },
    /// Its date is set.
    Fixed {
        /// To this.
        on: NaiveDate,
    },
    /// It can never take place.
    Never,
    /// Too early after what it depends on.
    BeforeEarliest {
        /// The first date that may be chosen.
        earliest: NaiveDate,
        /// The last of the tasks that it depends on.
        because: Option<usize>,
        /// When that one takes place.
        on: Option<NaiveDate>,
    },
    /// Too late after what it depends on.
    AfterLast {
        /// The last date that may be chosen.
        last: NaiveDate,
    },
    /// The caller does not allow it.
    NotAllowed,
    /// It would break a rule with another task, whatever else gives way.
    TooNear {
        /// The rule, by its place in the problem.
        apart: usize,
        /// The other task.
        task: usize,
        /// When that one would take place.
        on: NaiveDate,
    },
    /// The day is at its limit without it, whatever else gives way.
    Full {
        /// The limit, by its place in the problem.
        limit: usize,
    },
    /// The date itself is worse.
    Costs {
        /// At this level.
        level: usize,
        /// What the date costs there.
        here: u32,
        /// What the chosen date costs there.
        best: u32,
    },
    /// A task that was announced would have to move.
    WouldMove {
        /// That task.
        task: usize,
        /// From its date.
        from: NaiveDate,
        /// To this; `None` where it could not take place at all.
        to: Option<NaiveDate>,
    },
    /// The other tasks would come out worse.
    Worse {
        /// At this level.
        level: usize,
        /// By so much.
        by: u32,
    },
    /// It would be as good, and the chosen dates are the earlier ones.
    Later,
}

impl<T: Tasks + ?Sized> Solver<'_, T> {
    /// The first reason why `task` is not on `date` in a schedule of this solver: what its own range and
    /// the caller forbid, and then the highest level at which the best schedule with the task on that
    /// date is worse, the date's own cost there before that of others. Networks that share no more than
    /// limits with that of the task stay where they are. `None` where the task is on that date.
    ///
    /// # Errors
    /// `out_of_range` for a task that there is not, and as [`Solver::solve`].
    pub fn why_not(
        &self,
        best: &Schedule,
        task: usize,
        date: NaiveDate,
    ) -> Result<Option<WhyNot>, Error> {
        self.check(task)?;
        let Some(placed) = best.placed.get(task) else {
            return Ok(None);
        };
        if placed.date == Some(date) {
            return Ok(None);
        }
        match self.net.problem.tasks[task].set {
            Set::Open => {}
            Set::Fixed(on) => return Ok(Some(WhyNot::Fixed { on })),
            Set::Done(on) => return Ok(Some(WhyNot::Done { on })),
        }
        let Some(span) = placed.span else {
            return Ok(Some(WhyNot::Never));
        };
        if date < span.earliest {
            let because = because(&self.net, task);
            return Ok(Some(WhyNot::BeforeEarliest {
                earliest: span.earliest,
                because,
                on: because.and_then(|task| best.placed[task].date),
            }));
        }
        if date > span.last {
            return Ok(Some(WhyNot::AfterLast { last: span.last }));
        }
        if self.tasks.cost(task, date, &span)?.is_none() {
            return Ok(Some(WhyNot::NotAllowed));
        }
        let rows = Rows::new(&self.net, self.tasks, &self.known, Some((task, date)));
        let days: Vec<_> = best
            .placed
            .iter()
            .map(|placed| placed.date.map_or(NEVER, day_of))
            .collect();
        let found = joint::solve_one(&rows, self.effort, task, &days)?;
        let with = answer::schedule(&rows, &found)?;
        Ok(Some(self.compared(best, &with, task)))
    }

    fn compared(&self, best: &Schedule, with: &Schedule, task: usize) -> WhyNot {
        let Some((level, by)) = with.cost.worse_than(&best.cost) else {
            return WhyNot::Later;
        };
        if level == BROKEN
            && let Some(why) = self.broken(best, with, task)
        {
            return why;
        }
        let here = with.placed[task].cost.levels()[level];
        let before = best.placed[task].cost.levels()[level];
        if here > before {
            return WhyNot::Costs {
                level,
                here,
                best: before,
            };
        }
        let announced = &self.net.announced;
        for (other, (now, then)) in best.placed.iter().zip(&with.placed).enumerate() {
            if let (Some(_), Some(from)) = (announced[other], now.date)
                && announced[other] == Some(day_of(from))
                && then.date != Some(from)
            {
                return WhyNot::WouldMove {
                    task: other,
                    from,
                    to: then.date,
                };
            }
        }
        WhyNot::Worse { level, by }
    }

    /// A rule that is broken with the task on the date and was not before.
    fn broken(&self, best: &Schedule, with: &Schedule, task: usize) -> Option<WhyNot> {
        let new = with
            .broken
            .iter()
            .filter(|broken| !best.broken.contains(broken));
        let own = new.filter_map(|broken| match broken {
            Broken::TooNear { apart, one, other } if *one == task || *other == task => {
                let other = if *one == task { *other } else { *one };
                Some(WhyNot::TooNear {
                    apart: *apart,
                    task: other,
                    on: with.placed[other].date?,
                })
            }
            Broken::Full { limit, tasks, .. } if tasks.contains(&task) => {
                Some(WhyNot::Full { limit: *limit })
            }
            _ => None,
        });
        own.into_iter().next()
    }
}
