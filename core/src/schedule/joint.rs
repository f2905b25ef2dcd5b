//! Many networks under limits that they share.
//!
//! Each network is solved by itself. Where the networks together are over a limit or break a rule, those concerned are made one
//! group and solved together, and so on (independence detection: Standley 2010, AAAI: 173; from memory); the sum of
//! the groups bounds all schedules. A group that is not solved soon is first improved: its networks are put on their best
//! dates one after the other, each among those that have theirs. What that costs need not be looked for again, so the
//! search for the best of all goes further. Where it does not come to its end either, a few networks at a time are put on
//! their best dates, the others staying where they are.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use super::answer::{Broken, broken_together};
use super::cost::{Cost, LEVELS};
use super::least::Least;
use super::net::{Day, NEVER, Net};
use super::problem::Tasks;
use super::relaxed::{Looks, Outside};
use super::rows::Rows;
use super::search::{Begin, Effort, Found, Scope};
use super::total::total;
use crate::error::Error;

/// The part of all looks that is for networks that are solved together, after each was by itself: so many in
/// a thousand.
const TOGETHER: u64 = 200;
/// Of these, for a few networks of a group at a time.
const A_FEW: u64 = 25;
/// The same for a crowded group, of which each search costs more and gains less.
const A_FEW_OF_A_CROWD: u64 = 6;
/// Looks for a few networks at a time.
const FEW_LOOKS: u64 = 8_000;
/// A group is searched with one in so many of the looks before it is improved.
const AT_FIRST: u64 = 32;

/// Networks that are solved together.
struct Group {
    /// Which, in order.
    networks: Vec<usize>,
    /// Their tasks, sorted.
    tasks: Vec<usize>,
    found: Found,
    /// Nothing more is to be done for it.
    finished: bool,
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
    let mut found = joint.search(&tasks, days, Begin::Anywhere, effort.looks)?;
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

struct Joint<'s, 'a, T: Tasks + ?Sized> {
    rows: &'s Rows<'s, 'a, T>,
    networks: Vec<Vec<usize>>,
    /// The network of each task.
    network_of: Vec<usize>,
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
        let networks = networks(rows.net);
        let mut network_of = vec![0; rows.net.len()];
        for (number, tasks) in networks.iter().enumerate() {
            tasks.iter().for_each(|task| network_of[*task] = number);
        }
        Joint {
            rows,
            networks,
            network_of,
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
            let found = self.search(tasks, &absent, Begin::Anywhere, share)?;
            self.alone.push(found.cost);
            groups.push(Group {
                networks: vec![number],
                tasks: tasks.clone(),
                found,
                finished: true,
            });
        }
        let most = self.effort.looks;
        let last = most.min(self.looks.done.get() + most / 1_000 * TOGETHER);
        loop {
            self.last_look = last;
            if let Some(together) = self.in_conflict(&groups) {
                let (joined, rest) = groups
                    .into_iter()
                    .enumerate()
                    .partition::<Vec<_>, _>(|(place, _)| together.contains(place));
                groups = rest.into_iter().map(|(_, group)| group).collect();
                groups.push(self.join(joined.into_iter().map(|(_, group)| group))?);
                continue;
            }
            let unfinished = groups.iter().position(|group| !group.finished);
            let Some(place) = unfinished else {
                break;
            };
            if groups.len() > 1 {
                // Something is kept for groups that this one may come into conflict with.
                self.last_look -= self.left() / 2;
            }
            self.finish(&mut groups[place])?;
        }
        let mut all = Found {
            days: vec![NEVER; count],
            cost: Cost::ZERO,
            bound: Cost::ZERO,
            exact: true,
            crowded: false,
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
        let mut conflicts: Vec<BTreeSet<usize>> = Vec::new();
        for broken in broken_together(net, &days) {
            match broken {
                Broken::TooNear { one, other, .. } => {
                    let both = [group_of[one], group_of[other]];
                    if both[0] != both[1] {
                        conflicts.push(both.into());
                    }
                }
                Broken::Full { limit, tasks, .. } => {
                    let per_day = net.problem.limits[limit].per_day as usize;
                    let mut counts: BTreeMap<usize, usize> = BTreeMap::new();
                    for task in &tasks {
                        *counts.entry(group_of[*task]).or_default() += 1;
                    }
                    let alone = counts.values().map(|count| count.saturating_sub(per_day));
                    if alone.sum::<usize>() < tasks.len() - per_day {
                        conflicts.push(counts.into_keys().collect());
                    }
                }
                // What one task breaks by itself is no conflict.
                _ => {}
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
    fn search(
        &self,
        tasks: &[usize],
        days: &[Day],
        begin: Begin<'_>,
        looks: u64,
    ) -> Result<Found, Error> {
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
            begin,
            network_of: &self.network_of,
        };
        scope.search(Effort {
            looks,
            ..self.effort
        })
    }

    fn left(&self) -> u64 {
        self.last_look.saturating_sub(self.looks.done.get())
    }

    /// Makes one group of several, and solves it if that is soon done.
    fn join(&self, groups: impl Iterator<Item = Group>) -> Result<Group, Error> {
        let mut joined = Group {
            networks: Vec::new(),
            tasks: Vec::new(),
            found: Found {
                days: self.absent(),
                cost: Cost::ZERO,
                bound: Cost::ZERO,
                exact: false,
                crowded: false,
            },
            finished: false,
        };
        for group in groups {
            for task in &group.tasks {
                joined.found.days[*task] = group.found.days[*task];
            }
            joined.networks.extend(group.networks);
            joined.tasks.extend(group.tasks);
            joined.found.bound += group.found.bound;
        }
        joined.networks.sort_unstable();
        joined.tasks.sort_unstable();
        joined.found.cost = total(self.rows, &joined.tasks, &joined.found.days)?;
        self.search_whole(&mut joined, Begin::Anywhere, self.left() / AT_FIRST)?;
        Ok(joined)
    }

    fn absent(&self) -> Vec<Day> {
        vec![NEVER; self.rows.net.len()]
    }

    /// Searches for the best days of all of a group.
    fn search_whole(&self, group: &mut Group, begin: Begin<'_>, looks: u64) -> Result<(), Error> {
        let whole = self.search(&group.tasks, &self.absent(), begin, looks)?;
        if whole.exact {
            group.found = whole;
            group.finished = true;
            return Ok(());
        }
        group.found.crowded = whole.crowded;
        group.found.bound = group.found.bound.max(whole.bound);
        self.take(group, whole.days)?;
        Ok(())
    }

    /// Does what can be done for a group.
    fn finish(&self, group: &mut Group) -> Result<(), Error> {
        self.improve(group)?;
        let known = group.found.days.clone();
        let looks = |part: u64| self.effort.looks / 1_000 * part;
        let all = self.left().saturating_sub(looks(A_FEW));
        self.search_whole(group, Begin::At(&known), all)?;
        if group.finished {
            return Ok(());
        }
        group.finished = true;
        let a_few = if group.found.crowded {
            A_FEW_OF_A_CROWD
        } else {
            A_FEW
        };
        let end = self.left().saturating_sub(looks(a_few));
        let mut count = 2;
        while self.left() > end && count < group.networks.len() {
            count = if self.some_together(group, count, end)? {
                2
            } else {
                count + 1
            };
        }
        Ok(())
    }

    /// Looks for better days of a group: its networks are put on their best days one after the other,
    /// each among those that have theirs; then those that came out dearest beside what they cost alone come
    /// first, and so on (squeaky wheels: Joslin & Clements 1999, Journal of Artificial Intelligence
    /// Research 10: 353; from memory).
    fn improve(&self, group: &mut Group) -> Result<(), Error> {
        let mut order = group.networks.clone();
        let mut tried = BTreeSet::new();
        let mut gains = true;
        let enough = self.left() / 3 * 2;
        while gains && self.left() > enough && tried.insert(order.clone()) {
            let mut days = self.absent();
            for network in &order {
                let tasks = &self.networks[*network];
                days = self
                    .search(tasks, &days, Begin::Anywhere, self.left() / 8)?
                    .days;
            }
            let mut cost = total(self.rows, &group.tasks, &days)?;
            let mut dearer = BTreeMap::new();
            loop {
                for network in &order {
                    let tasks = &self.networks[*network];
                    let found = self.search(tasks, &days, Begin::Below(&days), self.left() / 8)?;
                    dearer.insert(*network, dearer_by(&found.cost, &self.alone[*network]));
                    days = found.days;
                }
                let before = std::mem::replace(&mut cost, total(self.rows, &group.tasks, &days)?);
                if cost >= before || self.left() == 0 {
                    break;
                }
            }
            gains = self.take(group, days)?;
            order.sort_by_key(|network| Reverse(dearer[network]));
        }
        Ok(())
    }

    /// Frees some networks at a time, and puts them on their best days among the others, until so many looks are left.
    fn some_together(&self, group: &mut Group, count: usize, end: u64) -> Result<bool, Error> {
        let mut better = false;
        let mut chosen: Vec<usize> = (0..count).collect();
        while chosen
            .last()
            .is_some_and(|last| *last < group.networks.len())
            && self.left() > end
        {
            let networks = chosen.iter().map(|place| group.networks[*place]);
            let mut tasks: Vec<usize> = networks
                .flat_map(|network| self.networks[network].iter().copied())
                .collect();
            tasks.sort_unstable();
            let days = &group.found.days;
            let looks = FEW_LOOKS.min(self.left() - end);
            let found = self.search(&tasks, days, Begin::Below(days), looks)?;
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
