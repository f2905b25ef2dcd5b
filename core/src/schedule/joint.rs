//! Many networks under limits that they share.
//!
//! Each network is solved by itself. Where the networks together are over a limit or break a rule, those concerned are made one
//! group and solved together, and so on (independence detection: Standley 2010, AAAI: 173; from memory); the sum of
//! the groups bounds all schedules. A group that is too large to be solved is improved: its networks are
//! put on their best dates one after the other, each among those that have theirs, and then one or two at a
//! time again until that gains nothing.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::cost::{Cost, LEVELS};
use super::least::Least;
use super::net::{Day, NEVER, Net};
use super::problem::Tasks;
use super::relaxed::{Looks, Outside};
use super::rows::Rows;
use super::search::{Effort, Found, Scope};
use crate::error::Error;

/// The part of all looks that is for networks that are solved together, after each was by itself: so many in
/// a thousand.
const TOGETHER: u64 = 75;

/// Networks that are solved together.
struct Group {
    /// Which, in order.
    networks: Vec<usize>,
    /// Their tasks, sorted.
    tasks: Vec<usize>,
    found: Found,
}

/// Solves all networks of a problem.
pub(super) fn solve<'r, T: Tasks + ?Sized>(
    rows: &'r Rows<'r, '_, T>,
    effort: Effort,
) -> Result<Found, Error> {
    Joint::new(rows, effort).solve()
}

/// The best dates of the network of a task where all others stay on the days given.
pub(super) fn solve_one<'r, T: Tasks + ?Sized>(
    rows: &'r Rows<'r, '_, T>,
    effort: Effort,
    task: usize,
    days: &[Day],
) -> Result<Found, Error> {
    let joint = Joint::new(rows, effort);
    let own = joint.networks.iter().filter(|tasks| tasks.contains(&task));
    let tasks: Vec<usize> = own.flatten().copied().collect();
    let mut found = joint.search(&tasks, days, effort.looks)?;
    let all: Vec<usize> = (0..rows.net.len()).collect();
    found.cost = total(rows, &all, &found.days)?;
    found.bound = Cost::ZERO;
    Ok(found)
}

/// The tasks of each network, sorted: tasks that depend on each other or have a rule between them that is not
/// one between networks.
fn networks(net: &Net<'_>) -> Vec<Vec<usize>> {
    let mut first: Vec<usize> = (0..net.len()).collect();
    fn root(first: &mut [usize], mut task: usize) -> usize {
        while first[task] != task {
            first[task] = first[first[task]];
            task = first[task];
        }
        task
    }
    for task in 0..net.len() {
        let joining = net.pairs[task].iter();
        let joining = joining.filter(|pair| !net.problem.apart[pair.rule].between_networks);
        let pairs = joining.map(|pair| pair.other);
        let after = net.problem.tasks[task].after.iter().copied();
        for other in after.chain(pairs) {
            let (one, other) = (root(&mut first, task), root(&mut first, other));
            first[one.max(other)] = one.min(other);
        }
    }
    let mut networks: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for task in 0..net.len() {
        let network = root(&mut first, task);
        networks.entry(network).or_default().push(task);
    }
    networks.into_values().collect()
}

/// What days cost with all rules among some tasks, the others not being there.
fn total<T: Tasks + ?Sized>(
    rows: &Rows<'_, '_, T>,
    tasks: &[usize],
    days: &[Day],
) -> Result<Cost, Error> {
    let net = rows.net;
    let mut cost = Cost::ZERO;
    for task in tasks {
        let row = rows.row(*task, days)?;
        let choice = row.choices.iter().find(|choice| choice.day == days[*task]);
        cost += choice.map_or(Cost::WORST, |choice| choice.cost);
        for pair in &net.pairs[*task] {
            let other = pair.other;
            let counts = other > *task && tasks.binary_search(&other).is_ok();
            if counts && pair.is_broken(days[*task], days[other]) {
                cost = cost.with(pair.level, 1);
            }
        }
    }
    for (limit, over) in overfull(net, tasks, days) {
        cost = cost.with(net.problem.limits[limit].level, over.len as u32);
    }
    Ok(cost)
}

/// By how much a cost is more than another, level by level.
fn dearer_by(cost: &Cost, other: &Cost) -> [i64; LEVELS] {
    let (cost, other) = (cost.levels(), other.levels());
    std::array::from_fn(|level| i64::from(cost[level]) - i64::from(other[level]))
}

/// The next of the ascending choices out of `count`; the last place reaches `count` after the last one.
fn next_choice(chosen: &mut [usize], count: usize) {
    let size = chosen.len();
    let place = (0..size)
        .rev()
        .find(|place| chosen[*place] + size - place < count);
    let place = place.unwrap_or(size - 1);
    let first = chosen[place] + 1;
    for (after, own) in chosen[place..].iter_mut().enumerate() {
        *own = first + after;
    }
}

/// A day over a limit.
struct Over {
    /// By how many.
    len: usize,
    /// Who is there.
    members: Vec<usize>,
}

/// The days on which some tasks are over a limit.
fn overfull(net: &Net<'_>, tasks: &[usize], days: &[Day]) -> Vec<(usize, Over)> {
    let mut found = Vec::new();
    for (limit, members) in net.members.iter().enumerate() {
        let mut by_day: BTreeMap<Day, Vec<usize>> = BTreeMap::new();
        let members = members
            .iter()
            .filter(|task| tasks.binary_search(task).is_ok());
        for member in members.filter(|member| days[**member] != NEVER) {
            by_day.entry(days[*member]).or_default().push(*member);
        }
        for members in by_day.into_values() {
            let per_day = net.problem.limits[limit].per_day as usize;
            let len = members.len().saturating_sub(per_day);
            if len > 0 {
                found.push((limit, Over { len, members }));
            }
        }
    }
    found
}

struct Joint<'s, 'a, T: Tasks + ?Sized> {
    rows: &'s Rows<'s, 'a, T>,
    networks: Vec<Vec<usize>>,
    /// What each costs without the others.
    alone: Vec<Cost>,
    looks: Looks,
    /// Where the looks of what is being done end.
    last_look: u64,
    least: Least<'s, 'a, T>,
    effort: Effort,
}

impl<'s, 'a, T: Tasks + ?Sized> Joint<'s, 'a, T> {
    fn new(rows: &'s Rows<'s, 'a, T>, effort: Effort) -> Self {
        Joint {
            rows,
            networks: networks(rows.net),
            alone: Vec::new(),
            looks: Looks::default(),
            last_look: effort.looks,
            least: Least::new(rows),
            effort,
        }
    }

    fn solve(mut self) -> Result<Found, Error> {
        let count = self.rows.net.len();
        let absent = vec![NEVER; count];
        let mut groups = Vec::with_capacity(self.networks.len());
        for (number, tasks) in self.networks.iter().enumerate() {
            let share = self.left() / (self.networks.len() - number) as u64;
            let found = self.search(tasks, &absent, share)?;
            self.alone.push(found.cost);
            groups.push(Group {
                networks: vec![number],
                tasks: tasks.clone(),
                found,
            });
        }
        let most = self.effort.looks;
        let last = most.min(self.looks.done.get() + most / 1_000 * TOGETHER);
        while let Some(together) = self.in_conflict(&groups) {
            // Something is kept for groups that this one may come into conflict with.
            self.last_look = last;
            if together.len() < groups.len() {
                self.last_look -= self.left() / 2;
            }
            let (joined, rest) = groups
                .into_iter()
                .enumerate()
                .partition::<Vec<_>, _>(|(place, _)| together.contains(place));
            groups = rest.into_iter().map(|(_, group)| group).collect();
            groups.push(self.join(joined.into_iter().map(|(_, group)| group))?);
        }
        let mut all = Found {
            days: vec![NEVER; count],
            cost: Cost::ZERO,
            bound: Cost::ZERO,
            exact: true,
        };
        for group in groups {
            for task in group.tasks {
                all.days[task] = group.found.days[task];
            }
            all.cost += group.found.cost;
            all.bound += group.found.bound;
            all.exact &= group.found.exact;
        }
        Ok(all)
    }

    /// The places of groups that break a rule together or are over limits more than each is alone, and of
    /// those that are so with one of them.
    fn in_conflict(&self, groups: &[Group]) -> Option<BTreeSet<usize>> {
        let net = self.rows.net;
        let mut days = vec![NEVER; net.len()];
        let mut group_of = vec![0; net.len()];
        for (place, group) in groups.iter().enumerate() {
            for task in &group.tasks {
                days[*task] = group.found.days[*task];
                group_of[*task] = place;
            }
        }
        let all: Vec<usize> = (0..net.len()).collect();
        let mut conflicts: Vec<BTreeSet<usize>> = Vec::new();
        for (one, pairs) in net.pairs.iter().enumerate() {
            let later = pairs.iter().filter(|pair| pair.other > one);
            for pair in later.filter(|pair| pair.is_broken(days[one], days[pair.other])) {
                let both = [group_of[one], group_of[pair.other]];
                if both[0] != both[1] {
                    conflicts.push(both.into());
                }
            }
        }
        for (limit, over) in overfull(net, &all, &days) {
            let per_day = net.problem.limits[limit].per_day as usize;
            let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
            for member in &over.members {
                *counts.entry(group_of[*member]).or_default() += 1;
            }
            let alone = counts.values().map(|count| count.saturating_sub(per_day));
            if alone.sum::<usize>() < over.len {
                conflicts.push(counts.into_keys().collect());
            }
        }
        let mut together = conflicts.pop()?;
        // Sets that share a group are one.
        while let Some(place) = conflicts.iter().position(|set| !set.is_disjoint(&together)) {
            together.append(&mut conflicts.swap_remove(place));
        }
        Some(together)
    }

    /// Searches for some tasks, the others staying where they are; those that are [`NEVER`] are not there.
    fn search(&self, tasks: &[usize], days: &[Day], looks: u64) -> Result<Found, Error> {
        let mut outside: Vec<Option<Day>> = days
            .iter()
            .map(|day| (*day != NEVER).then_some(*day))
            .collect();
        for task in tasks {
            outside[*task] = None;
        }
        let scope = Scope {
            rows: self.rows,
            tasks,
            outside: Rc::new(Outside { days: outside }),
            looks: &self.looks,
            least: &self.least,
        };
        scope.search(Effort {
            looks,
            ..self.effort
        })
    }

    fn left(&self) -> u64 {
        self.last_look.saturating_sub(self.looks.done.get())
    }

    /// Makes one group of several, and solves it as well as can be.
    fn join(&self, groups: impl Iterator<Item = Group>) -> Result<Group, Error> {
        let mut joined = Group {
            networks: Vec::new(),
            tasks: Vec::new(),
            found: Found {
                days: vec![NEVER; self.rows.net.len()],
                cost: Cost::ZERO,
                bound: Cost::ZERO,
                exact: false,
            },
        };
        for group in groups {
            joined.networks.extend(group.networks);
            joined.tasks.extend(group.tasks);
            joined.found.bound += group.found.bound;
        }
        joined.networks.sort_unstable();
        joined.tasks.sort_unstable();
        let absent = vec![NEVER; self.rows.net.len()];
        let whole = self.search(&joined.tasks, &absent, self.left() / 8)?;
        if whole.exact {
            joined.found = whole;
            return Ok(joined);
        }
        joined.found.bound = joined.found.bound.max(whole.bound);
        joined.found.cost = whole.cost;
        joined.found.days = whole.days;
        self.improve(&mut joined)?;
        Ok(joined)
    }

    /// Looks for better days of a group: its networks are put on their best days one after the other,
    /// each among those that have theirs; then those that came out dearest beside what they cost alone come
    /// first, and so on (squeaky wheels: Joslin & Clements 1999, Journal of Artificial Intelligence
    /// Research 10: 353; from memory). At last each two and three are put on their best days together.
    fn improve(&self, group: &mut Group) -> Result<(), Error> {
        let mut order = group.networks.clone();
        let mut tried = BTreeSet::new();
        let enough = self.left() / 3 * 2;
        while self.left() > enough && tried.insert(order.clone()) {
            let mut days = vec![NEVER; self.rows.net.len()];
            for network in &order {
                days = self
                    .search(&self.networks[*network], &days, self.left() / 8)?
                    .days;
            }
            let mut cost = total(self.rows, &group.tasks, &days)?;
            let mut dearer = BTreeMap::new();
            loop {
                for network in &order {
                    let found = self.search(&self.networks[*network], &days, self.left() / 8)?;
                    dearer.insert(*network, dearer_by(&found.cost, &self.alone[*network]));
                    days = found.days;
                }
                let before = std::mem::replace(&mut cost, total(self.rows, &group.tasks, &days)?);
                if cost >= before || self.left() == 0 {
                    break;
                }
            }
            self.take(group, days)?;
            order.sort_by_key(|network| Reverse(dearer[network]));
        }
        while self.some_together(group, 2)? || self.some_together(group, 3)? {}
        Ok(())
    }

    /// Frees some networks at a time, and puts them on their best days among the others.
    fn some_together(&self, group: &mut Group, count: usize) -> Result<bool, Error> {
        let mut better = false;
        let mut chosen: Vec<usize> = (0..count).collect();
        while chosen
            .last()
            .is_some_and(|last| *last < group.networks.len())
            && self.left() > 0
        {
            let networks = chosen.iter().map(|place| group.networks[*place]);
            let mut tasks: Vec<usize> = networks
                .flat_map(|network| self.networks[network].iter().copied())
                .collect();
            tasks.sort_unstable();
            let found = self.search(&tasks, &group.found.days, self.left() / 8)?;
            better |= self.take(group, found.days)?;
            next_choice(&mut chosen, group.networks.len());
        }
        Ok(better)
    }

    /// Takes days if they are better than those of the group.
    fn take(&self, group: &mut Group, days: Vec<Day>) -> Result<bool, Error> {
        let cost = total(self.rows, &group.tasks, &days)?;
        let better = (&cost, &days) < (&group.found.cost, &group.found.days);
        if better {
            group.found.cost = cost;
            group.found.days = days;
        }
        Ok(better)
    }
}
