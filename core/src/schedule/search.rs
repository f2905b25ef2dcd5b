//! The best schedule.
//!
//! [`Relaxed`] gives the best days where not all rules between tasks count: what they cost is a bound.
//! Where they break nothing uncounted they are the best of all. At first only those rules count that
//! cost nothing to count; then those that the days broke count too, and so on. That is exact, and quick as
//! long as few tasks come near each other.
//!
//! When the tables grow too large the search goes on by branch and bound: a task of a broken rule is held
//! where it is in one branch, and barred from there in the other (as conflicts are branched on in
//! Sharon et al. 2015, Artificial Intelligence 219: 40). The nodes are taken by their bound, of equals those
//! of earlier days; so the first whose days break nothing uncounted is the best of all.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};
use std::rc::Rc;

use super::cost::Cost;
use super::net::{Day, NEVER, Net};
use super::problem::Tasks;
use super::relaxed::{Decision, Held, Relaxed};
use super::rows::Rows;
use super::tree::{Edge, Tree};
use crate::error::Error;

/// What the search found.
pub(super) struct Found {
    pub days: Vec<Day>,
    pub cost: Cost,
    /// Nothing costs less.
    pub bound: Cost,
    /// It is the best, and of equals the earliest.
    pub exact: bool,
}

/// Decisions, the last one first.
struct Link {
    decision: Decision,
    before: Option<Rc<Link>>,
}

fn decisions(last: &Option<Rc<Link>>) -> impl Iterator<Item = Decision> {
    std::iter::successors(last.as_deref(), |link| link.before.as_deref()).map(|link| link.decision)
}

#[derive(Default, Clone)]
struct Node {
    /// A bound, or where `whole` the cost.
    cost: Cost,
    days: Vec<Day>,
    /// The costs of the trees.
    trees: Vec<Cost>,
    /// All broken rules are counted.
    whole: bool,
    last: Option<Rc<Link>>,
}

impl Node {
    /// The node without decisions, unless it takes too long.
    fn first<T: Tasks + ?Sized>(
        relaxed: &mut Relaxed<'_, '_, T>,
        held: &Held,
    ) -> Result<Option<Node>, Error> {
        let mut node = Node {
            days: vec![NEVER; relaxed.tree.of.len()],
            ..Node::default()
        };
        for top in relaxed.tree.tops.clone() {
            let Some(cost) = relaxed.best(top, held, &mut node.days)? else {
                return Ok(None);
            };
            node.trees.push(cost);
        }
        node.cost = node.trees.iter().copied().sum();
        Ok(Some(node))
    }

    /// The node with one decision more, unless it takes too long. Its cost is [`Cost::WORST`] where
    /// a decision leaves no day.
    fn child<T: Tasks + ?Sized>(
        &self,
        rows: &Rows<'_, '_, T>,
        relaxed: &mut Relaxed<'_, '_, T>,
        decision: Decision,
    ) -> Result<Option<Node>, Error> {
        let before = self.last.clone();
        let mut child = Node {
            last: Some(Rc::new(Link { decision, before })),
            ..self.clone()
        };
        let held = Held::new(rows, &relaxed.tree, decisions(&child.last));
        relaxed.forget();
        // What a node takes besides.
        relaxed.looked += 1 + self.days.len() as u64 / 8;
        for tree in concerned(rows.net, &relaxed.tree, decision, &self.days) {
            let top = relaxed.tree.tops[tree];
            let Some(cost) = relaxed.best(top, &held, &mut child.days)? else {
                return Ok(None);
            };
            if cost == Cost::WORST {
                child.cost = cost;
                return Ok(Some(child));
            }
            child.trees[tree] = cost;
        }
        child.cost = child.trees.iter().copied().sum();
        Ok(Some(child))
    }

    fn key(&self) -> (&Cost, &[Day], bool) {
        (&self.cost, &self.days, !self.whole)
    }

    /// As the best of all.
    fn found(self) -> Found {
        Found {
            bound: self.cost,
            cost: self.cost,
            days: self.days,
            exact: true,
        }
    }
}

impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        self.key() == other.key()
    }
}

impl Eq for Node {}

impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Node {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.key().cmp(&other.key())
    }
}

/// Rules that days break without their being counted.
#[derive(Default)]
struct Uncounted {
    cost: Cost,
    /// What a task that is not held has to do with it.
    by_task: BTreeMap<usize, Cost>,
    /// Between which tasks.
    edges: BTreeSet<Edge>,
}

impl Uncounted {
    fn of(net: &Net<'_>, tree: &Tree, held: &Held, days: &[Day]) -> Self {
        let mut found = Uncounted::default();
        for (task, pairs) in net.pairs.iter().enumerate() {
            let later = pairs.iter().filter(|pair| pair.other > task);
            for pair in later.filter(|pair| pair.is_broken(days[task], days[pair.other])) {
                let other = pair.other;
                let is_held = held.days[task].is_some() || held.days[other].is_some();
                if !is_held && !tree.counts(task, other) {
                    found.add(pair.level, &[task], other);
                }
            }
        }
        for (number, members) in net.members.iter().enumerate() {
            let rule = &net.problem.limits[number];
            let mut by_day: BTreeMap<Day, Vec<usize>> = BTreeMap::new();
            let open = members
                .iter()
                .filter(|member| held.days[**member].is_none());
            for member in open.filter(|member| days[**member] != NEVER) {
                by_day.entry(days[*member]).or_default().push(*member);
            }
            for (day, open) in by_day {
                let left = rule.per_day.saturating_sub(held.taken(number, day)) as usize;
                for place in left..open.len() {
                    let (before, task) = (&open[..place], open[place]);
                    let known = before.iter().filter(|before| tree.counts(**before, task));
                    if known.count() < left {
                        found.add(rule.level, &before[..left], task);
                    }
                }
            }
        }
        found
    }

    fn add(&mut self, level: usize, before: &[usize], task: usize) {
        let cost = Cost::at(level, 1);
        self.cost += cost;
        *self.by_task.entry(task).or_default() += cost;
        for before in before {
            *self.by_task.entry(*before).or_default() += cost;
            self.edges.insert((*before, task));
        }
    }

    /// The task to branch on: the one with the most, of equals the first.
    fn task(&self) -> Option<usize> {
        let most = self
            .by_task
            .iter()
            .max_by_key(|(task, cost)| (**cost, Reverse(**task)));
        most.map(|(task, _)| *task)
    }
}

/// How far a search goes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effort {
    /// Choices to look at.
    pub looks: u64,
    /// The largest context that is worked through before the search branches: beyond it tables grow too
    /// fast.
    pub context: usize,
}

/// Searches until it is sure, or until so many choices were looked at; the first bound is worked out
/// whatever it takes.
pub(super) fn search<T: Tasks + ?Sized>(
    rows: &Rows<'_, '_, T>,
    effort: Effort,
) -> Result<Found, Error> {
    let mut edges = BTreeSet::new();
    let mut left = effort.looks;
    let mut last: Option<(Relaxed<'_, '_, T>, Node)> = None;
    loop {
        let tree = Tree::new(rows.net, &edges);
        let too_wide = tree
            .context
            .iter()
            .any(|above| above.len() > effort.context);
        let mut relaxed = Relaxed::new(rows, tree);
        let held = Held::new(rows, &relaxed.tree, std::iter::empty());
        let node = match &last {
            None => Node::first(&mut relaxed, &held)?,
            Some(_) if too_wide => None,
            Some(_) => {
                relaxed.most_looks = left / 2;
                Node::first(&mut relaxed, &held)?
            }
        };
        left = left.saturating_sub(relaxed.looked);
        match (node, last) {
            (Some(node), _) => {
                let uncounted = Uncounted::of(rows.net, &relaxed.tree, &held, &node.days);
                if uncounted.edges.is_empty() {
                    return Ok(node.found());
                }
                edges.extend(uncounted.edges);
                last = Some((relaxed, node));
            }
            (None, Some((mut relaxed, node))) => {
                relaxed.most_looks = relaxed.looked.saturating_add(left);
                return branch(rows, relaxed, node);
            }
            (None, None) => return Ok(Node::default().found()),
        }
    }
}

/// Branches until the best is found or nothing is left to look at.
fn branch<T: Tasks + ?Sized>(
    rows: &Rows<'_, '_, T>,
    mut relaxed: Relaxed<'_, '_, T>,
    first: Node,
) -> Result<Found, Error> {
    let net = rows.net;
    let mut open = BinaryHeap::new();
    let mut best: Option<Node> = None;
    let held = Held::new(rows, &relaxed.tree, std::iter::empty());
    add(net, &relaxed.tree, &held, first, &mut best, &mut open);
    while let Some(Reverse(node)) = open.pop() {
        let bound = node.cost;
        if node.whole {
            return Ok(node.found());
        }
        let held = Held::new(rows, &relaxed.tree, decisions(&node.last));
        let uncounted = Uncounted::of(net, &relaxed.tree, &held, &node.days);
        let Some(task) = uncounted.task() else {
            break;
        };
        for is_held in [true, false] {
            let decision = Decision {
                task,
                day: node.days[task],
                held: is_held,
            };
            let Some(child) = node.child(rows, &mut relaxed, decision)? else {
                // Out of looks.
                let best = best.unwrap_or(node).found();
                let exact = false;
                return Ok(Found {
                    bound,
                    exact,
                    ..best
                });
            };
            if child.cost < Cost::WORST {
                let held = Held::new(rows, &relaxed.tree, decisions(&child.last));
                add(net, &relaxed.tree, &held, child, &mut best, &mut open);
            }
        }
    }
    Ok(best.unwrap_or_default().found())
}

/// Adds a node, and what its days cost with all broken rules where that is the best so far.
fn add(
    net: &Net<'_>,
    tree: &Tree,
    held: &Held,
    mut node: Node,
    best: &mut Option<Node>,
    open: &mut BinaryHeap<Reverse<Node>>,
) {
    let uncounted = Uncounted::of(net, tree, held, &node.days);
    node.whole = uncounted.edges.is_empty();
    let whole = Node {
        cost: node.cost + uncounted.cost,
        days: node.days.clone(),
        whole: true,
        ..Node::default()
    };
    if best.as_ref().is_none_or(|best| whole < *best) {
        open.push(Reverse(whole.clone()));
        *best = Some(whole);
    }
    if !node.whole && best.as_ref().is_none_or(|best| node.cost <= best.cost) {
        open.push(Reverse(node));
    }
}

/// The trees whose best days a decision can change. A day that becomes dearer and is not taken
/// changes nothing.
fn concerned(net: &Net<'_>, tree: &Tree, decision: Decision, days: &[Day]) -> BTreeSet<usize> {
    let Decision { task, day, held } = decision;
    let mut trees = BTreeSet::from([tree.of[task]]);
    if held {
        for pair in &net.pairs[task] {
            if pair.is_broken(day, days[pair.other]) {
                trees.insert(tree.of[pair.other]);
            }
        }
        for limit in &net.limits[task] {
            let members = net.members[*limit].iter();
            let same_day = members.filter(|member| days[**member] == day);
            trees.extend(same_day.map(|member| tree.of[*member]));
        }
    }
    trees
}
