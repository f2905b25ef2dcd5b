//! What a task and those that depend on it alone cost at least, whatever the rules between tasks: a
//! bound that hangs on the days of what the task depends on.

use std::cell::RefCell;

use super::cost::Cost;
use super::net::{ByDays, Day};
use super::problem::Tasks;
use super::rows::Rows;
use crate::error::Error;

/// Gives bounds, and remembers them.
pub(super) struct Least<'r, 'a, T: Tasks + ?Sized> {
    rows: &'r Rows<'r, 'a, T>,
    known: Vec<RefCell<ByDays<Cost>>>,
}

impl<'r, 'a, T: Tasks + ?Sized> Least<'r, 'a, T> {
    pub fn new(rows: &'r Rows<'r, 'a, T>) -> Self {
        let known = (0..rows.net.len()).map(|_| RefCell::default());
        Least {
            rows,
            known: known.collect(),
        }
    }

    /// The bound of a task where what it depends on is done on `days`, which are those of all tasks. The
    /// days of the task and of what depends on it are overwritten.
    pub fn of(&self, task: usize, days: &mut [Day]) -> Result<Cost, Error> {
        let after = &self.rows.net.problem.tasks[task].after;
        let key = after.iter().map(|before| days[*before]).collect();
        if let Some(least) = self.known[task].borrow().get(&key) {
            return Ok(*least);
        }
        let row = self.rows.row(task, days)?;
        let mut least = Cost::WORST;
        for choice in &row.choices {
            // The rest costs at least as much by itself.
            if choice.cost >= least {
                break;
            }
            days[task] = choice.day;
            let mut cost = choice.cost;
            for follower in &self.rows.net.followers[task] {
                if cost >= least {
                    break;
                }
                if self.rows.net.problem.tasks[*follower].after.len() == 1 {
                    cost += self.of(*follower, days)?;
                }
            }
            least = least.min(cost);
        }
        self.known[task].borrow_mut().insert(key, least);
        Ok(least)
    }
}
