//! The tasks hung into trees, so that the best days of a branch depend on few days above it.

use std::collections::BTreeSet;

use super::net::{Net, Pair};

/// Two tasks, the smaller number first, the rules between which are to count.
pub(super) type Edge = (usize, usize);

/// The tasks in trees: bucket elimination along the tasks' own order (Dechter 1999, Artificial
/// Intelligence 113: 41). Among the tasks that stand above a task in its tree are all that it depends
/// on.
#[derive(Debug)]
pub(super) struct Tree {
    /// The tasks on whose days the best days of a task and of all below it depend: all stand above it.
    pub context: Vec<Vec<usize>>,
    /// The tasks that hang directly below a task.
    pub children: Vec<Vec<usize>>,
    /// The tasks at the top.
    pub tops: Vec<usize>,
    /// The tree of a task, by its place in `tops`.
    pub of: Vec<usize>,
    /// The rules of a task with those of its context: what it breaks of them counts in its tree.
    pub pairs: Vec<Vec<Pair>>,
    /// The members of its context of each limit of a task, in the order of the task's limits.
    pub limits: Vec<Vec<Vec<usize>>>,
}

impl Tree {
    /// Hangs the tasks so that the rules between the tasks of each edge count. Others count too where
    /// that costs nothing.
    pub fn new(net: &Net<'_>, edges: &BTreeSet<Edge>) -> Self {
        let count = net.len();
        let mut context: Vec<BTreeSet<usize>> = net
            .problem
            .tasks
            .iter()
            .map(|task| task.after.iter().copied().collect())
            .collect();
        for (one, other) in edges {
            context[*other].insert(*one);
        }
        let mut children = vec![Vec::new(); count];
        for task in (0..count).rev() {
            let mut rest = context[task].clone();
            if let Some(above) = rest.pop_last() {
                context[above].append(&mut rest);
                children[above].push(task);
            }
        }
        let (mut tops, mut of) = (Vec::new(), vec![0; count]);
        for task in 0..count {
            children[task].reverse();
            of[task] = match context[task].last() {
                Some(above) => of[*above],
                None => {
                    tops.push(task);
                    tops.len() - 1
                }
            };
        }
        let pairs = net.pairs.iter().zip(&context).map(|(pairs, context)| {
            let counted = pairs.iter().filter(|pair| context.contains(&pair.other));
            counted.copied().collect()
        });
        let limits = net.limits.iter().zip(&context).map(|(limits, context)| {
            let members = limits.iter().map(|limit| {
                let members = net.members[*limit].iter().copied();
                members.filter(|member| context.contains(member)).collect()
            });
            members.collect()
        });
        Tree {
            pairs: pairs.collect(),
            limits: limits.collect(),
            context: context
                .into_iter()
                .map(|tasks| tasks.into_iter().collect())
                .collect(),
            children,
            tops,
            of,
        }
    }

    /// Whether a rule between two tasks counts in their tree.
    pub fn counts(&self, one: usize, other: usize) -> bool {
        self.context[one.max(other)]
            .binary_search(&one.min(other))
            .is_ok()
    }
}
