//! What days cost.

use std::collections::BTreeMap;

use super::cost::Cost;
use super::net::{Day, NEVER};
use super::problem::Tasks;
use super::rows::Rows;
use crate::error::Error;

/// What the days of some tasks, given sorted, cost with all rules among them and with the others that have a day; what
/// those others break among themselves does not count. [`Cost::WORST`] where a task cannot be on its day.
pub(super) fn total<T: Tasks + ?Sized>(
    rows: &Rows<'_, '_, T>,
    tasks: &[usize],
    days: &[Day],
) -> Result<Cost, Error> {
    let net = rows.net;
    let is_own = |task: usize| tasks.binary_search(&task).is_ok();
    let mut cost = Cost::ZERO;
    for task in tasks {
        let row = rows.row(*task, days)?;
        let [choice] = row.only(days[*task]) else {
            return Ok(Cost::WORST);
        };
        cost += choice.cost;
        for pair in &net.pairs[*task] {
            let counts = pair.other > *task || !is_own(pair.other);
            if counts && pair.is_broken(days[*task], days[pair.other]) {
                cost = cost.with(pair.level, 1);
            }
        }
    }
    for (limit, members) in net.problem.limits.iter().zip(&net.members) {
        // Of each day how many are there, and how many of these are others.
        let mut by_day: BTreeMap<Day, [u32; 2]> = BTreeMap::new();
        for member in members.iter().filter(|member| days[**member] != NEVER) {
            let [all, others] = by_day.entry(days[*member]).or_default();
            *all += 1;
            *others += u32::from(!is_own(*member));
        }
        let over = |count: u32| count.saturating_sub(limit.per_day);
        let more = by_day
            .values()
            .map(|[all, others]| over(*all) - over(*others));
        cost = cost.with(limit.level, more.sum());
    }
    Ok(cost)
}
