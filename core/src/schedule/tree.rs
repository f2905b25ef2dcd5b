//! The tasks hung into trees, so that the best days of a branch depend on few days above it.

use std::collections::BTreeSet;

use super::net::{Net, Pair};

/// Two tasks, the smaller number first, the rules between which are to count.
pub(super) type Edge = (usize, usize);

/// The tasks in trees: bucket elimination (Dechter 1999, Artificial Intelligence 113: 41; from memory). Among the
/// tasks that stand above a task in its tree are all that it depends on.
#[derive(Debug)]
pub(super) struct Tree {
    /// The tasks on whose days the best days of a task and of all below it depend, sorted: all stand
    /// above it.
    pub context: Vec<Vec<usize>>,
    /// The task right above.
    pub above: Vec<Option<usize>>,
    /// The tasks that hang directly below a task, sorted.
    pub children: Vec<Vec<usize>>,
    /// The tasks at the top, sorted.
    pub tops: Vec<usize>,
    /// The tree of a task, by its place in `tops`.
    pub of: Vec<usize>,
    /// The tasks, each after those that stand above it.
    pub order: Vec<usize>,
    /// The place of a task in `order`.
    pub place: Vec<usize>,
    /// All below a task have higher numbers than it.
    pub leads: Vec<bool>,
    /// The tasks among a task and those below it that depend only on tasks above it.
    pub ready: Vec<Vec<usize>>,
    /// The rules of a task with those of its context: what it breaks of them counts in its tree.
    pub pairs: Vec<Vec<Pair>>,
    /// The members of its context of each limit of a task, in the order of the task's limits.
    pub limits: Vec<Vec<Vec<usize>>>,
}

impl Tree {
    /// Hangs some tasks, given sorted and with all that they depend on, so that the rules between the tasks
    /// of each edge count. Others count too where that costs nothing.
    pub fn new(net: &Net<'_>, tasks: &[usize], edges: &BTreeSet<Edge>) -> Self {
        let count = net.len();
        let (context, order) = eliminated(net, tasks, edges);
        let mut place = vec![0; count];
        for (at, task) in order.iter().enumerate() {
            place[*task] = at;
        }
        let mut tree = Tree {
            above: vec![None; count],
            children: vec![Vec::new(); count],
            tops: Vec::new(),
            ready: vec![Vec::new(); count],
            of: vec![0; count],
            pairs: Vec::with_capacity(count),
            limits: Vec::with_capacity(count),
            leads: vec![true; count],
            place,
            context,
            order,
        };
        for task in &tree.order {
            let above = tree.context[*task]
                .iter()
                .max_by_key(|above| tree.place[**above]);
            match above.copied() {
                Some(above) => {
                    tree.above[*task] = Some(above);
                    tree.children[above].push(*task);
                    tree.of[*task] = tree.of[above];
                }
                None => {
                    tree.of[*task] = tree.tops.len();
                    tree.tops.push(*task);
                }
            }
        }
        tree.children
            .iter_mut()
            .for_each(|tasks| tasks.sort_unstable());
        let mut first: Vec<usize> = (0..count).collect();
        for task in tree.order.iter().rev() {
            tree.leads[*task] = first[*task] == *task;
            if let Some(above) = tree.above[*task] {
                first[above] = first[above].min(first[*task]);
            }
        }
        for task in tasks {
            let after = &net.problem.tasks[*task].after;
            let lowest = after
                .iter()
                .copied()
                .max_by_key(|before| tree.place[*before]);
            let mut at = Some(*task);
            while let Some(place) = at.filter(|place| Some(*place) != lowest) {
                tree.ready[place].push(*task);
                at = tree.above[place];
            }
        }
        for (task, context) in tree.context.iter().enumerate() {
            let pairs = net.pairs[task].iter().copied();
            let counted = pairs.filter(|pair| context.contains(&pair.other));
            tree.pairs.push(counted.collect());
            let limits = net.limits[task].iter().map(|limit| {
                let members = net.members[*limit].iter().copied();
                members.filter(|member| context.contains(member)).collect()
            });
            tree.limits.push(limits.collect());
        }
        tree
    }

    /// Tasks on the longest way down.
    pub fn deepest(&self) -> usize {
        let mut depth = vec![1; self.above.len()];
        // Whatever a task hangs on stands before it in the order.
        for task in &self.order {
            if let Some(above) = self.above[*task] {
                depth[*task] = depth[above] + 1;
            }
        }
        depth.into_iter().max().unwrap_or(0)
    }

    /// The size of the largest context.
    pub fn widest(&self) -> usize {
        self.context.iter().map(Vec::len).max().unwrap_or(0)
    }

    /// Whether a rule between two tasks counts in their tree.
    pub fn counts(&self, one: usize, other: usize) -> bool {
        self.context[one].binary_search(&other).is_ok()
            || self.context[other].binary_search(&one).is_ok()
    }
}

/// Takes the tasks away one by one, each before those that it depends on and where it can be with few
/// neighbours left: these are its context, and are neighbours from then on. Gives the contexts, and the
/// tasks in the order from the top.
fn eliminated(
    net: &Net<'_>,
    tasks: &[usize],
    edges: &BTreeSet<Edge>,
) -> (Vec<Vec<usize>>, Vec<usize>) {
    let count = net.len();
    let mut near: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); count];
    let join = |near: &mut Vec<BTreeSet<usize>>, one: usize, other: usize| {
        near[one].insert(other);
        near[other].insert(one);
    };
    for task in tasks {
        for before in &net.problem.tasks[*task].after {
            join(&mut near, *before, *task);
        }
    }
    for (one, other) in edges {
        join(&mut near, *one, *other);
    }
    let mut followers: Vec<usize> = net.followers.iter().map(Vec::len).collect();
    // Of equals the last is taken first.
    let rank = |near: &[BTreeSet<usize>], task: usize| (near[task].len(), count - task);
    let mut free: BTreeSet<(usize, usize)> = tasks
        .iter()
        .filter(|task| followers[**task] == 0)
        .map(|task| rank(&near, *task))
        .collect();
    let mut context = vec![Vec::new(); count];
    let mut order = Vec::with_capacity(count);
    while let Some((_, from_end)) = free.pop_first() {
        let task = count - from_end;
        let left = std::mem::take(&mut near[task]);
        for one in &left {
            let old = rank(&near, *one);
            let was_free = free.remove(&old);
            near[*one].remove(&task);
            near[*one].extend(left.iter().filter(|other| *other != one));
            if was_free {
                free.insert(rank(&near, *one));
            }
        }
        let mut after = net.problem.tasks[task].after.clone();
        after.sort_unstable();
        after.dedup();
        for before in after {
            followers[before] -= 1;
            if followers[before] == 0 {
                free.insert(rank(&near, before));
            }
        }
        context[task] = left.into_iter().collect();
        order.push(task);
    }
    order.reverse();
    (context, order)
}
