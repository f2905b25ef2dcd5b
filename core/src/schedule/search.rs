//! The best schedule.
//!
//! [`Relaxed`] gives the best days where not all rules between tasks count: what they cost is a bound.
//! Where they break nothing uncounted they are the best of all. At first only those rules count that
//! cost nothing to count; then those within a network that the days broke count too, and so on. That is exact, and quick
//! as long as few tasks come near each other.
//!
//! A search begins with dates that are quickly found. Where it is hard they are made better, some tasks at a time, before it
//! goes on: whatever costs more need not be looked at.
//!
//! What is broken between networks, and all when the tables grow too large, is left to branch and bound: a task of a
//! broken rule is held where it is in one branch, and barred from there in the other (as conflicts are branched on in
//! Sharon et al. 2015, Artificial Intelligence 219: 40; from memory). The nodes are taken by their bound, of equals those
//! of earlier days; so the first whose days break nothing uncounted is the best of all.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};
use std::rc::Rc;

use super::cost::Cost;
use super::least::Least;
use super::net::{Day, NEVER, Net};
use super::problem::{MOST_DEPTH, Tasks};
use super::relaxed::{Decision, Held, Looks, Outside, Purse, Relaxed};
use super::rows::Rows;
use super::total::total;
use super::tree::{Edge, Tree};
use crate::error::{Error, at_most};

/// What the search found.
pub(super) struct Found {
    pub days: Vec<Day>,
    pub cost: Cost,
    /// Nothing costs less.
    pub bound: Cost,
    /// It is the best, and of equals the earliest.
    pub exact: bool,
    /// So much stands in each other's way that the search did not branch.
    pub crowded: bool,
}

/// Decisions, the last ones first.
struct Link {
    decisions: Vec<Decision>,
    before: Option<Rc<Link>>,
}

fn decisions(last: &Option<Rc<Link>>) -> impl Iterator<Item = Decision> {
    let links = std::iter::successors(last.as_deref(), |link| link.before.as_deref());
    links.flat_map(|link| link.decisions.iter().copied())
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
    /// Takes its days as the best so far, with what they break, if they are.
    fn offer(&self, uncounted: &Uncounted, best: &mut Node) -> bool {
        let whole = Node {
            cost: self.cost + uncounted.cost,
            days: self.days.clone(),
            whole: true,
            ..Node::default()
        };
        let is_better = whole < *best;
        if is_better {
            *best = whole;
        }
        is_better
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
            crowded: false,
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
            for (day, mut open) in by_day {
                open.sort_unstable_by_key(|member| tree.place[*member]);
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
        let mut together = before.to_vec();
        together.push(task);
        together.sort_unstable();
        for (place, task) in together.iter().enumerate() {
            *self.by_task.entry(*task).or_default() += cost;
            self.edges
                .extend(together[..place].iter().map(|before| (*before, *task)));
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

/// Looks after which a search is hard: good days are then found before it goes on.
const EASY_LOOKS: u64 = 20_000;
/// Looks for a few tasks while all others stay.
const FEW_LOOKS: u64 = 10_000;
/// How many tasks those are.
const AT_ONCE: [usize; 3] = [5, 9, 14];
/// Pairs of tasks that break rules uncounted: with more of them branching does not come to an end.
const MOST_BROKEN: usize = 40;

/// The days that a search begins with: those of all tasks, or none.
#[derive(Clone, Copy)]
pub(super) enum Begin<'s> {
    /// It finds some itself.
    Anywhere,
    /// These, which may be the best.
    At(&'s [Day]),
    /// These, and others are of use only where they cost less.
    Below(&'s [Day]),
}

impl Begin<'_> {
    fn is_below(self) -> bool {
        matches!(self, Begin::Below(_))
    }
}

/// What is known before more rules are counted.
struct Coarser<'r, 'a, T: Tasks + ?Sized> {
    relaxed: Relaxed<'r, 'a, T>,
    node: Node,
    /// Pairs of tasks that break rules uncounted in it.
    broken: usize,
}

/// What a search is for.
pub(super) struct Scope<'s, 'a, T: Tasks + ?Sized> {
    pub rows: &'s Rows<'s, 'a, T>,
    /// The tasks, sorted, with all that they depend on.
    pub tasks: &'s [usize],
    pub outside: Rc<Outside>,
    pub looks: &'s Looks,
    pub least: &'s Least<'s, 'a, T>,
    pub begin: Begin<'s>,
    /// The number of each task's network. Rules between two networks are left to branching: to count them makes one
    /// large tree of small ones.
    pub network_of: &'s [usize],
}

impl<T: Tasks + ?Sized> Scope<'_, '_, T> {
    fn held(&self, tree: &Tree, last: &Option<Rc<Link>>) -> Held {
        Held::new(self.rows, tree, &self.outside, decisions(last))
    }

    /// Searches until it is sure, or until so many choices were looked at. Tasks that are not of the scope keep their days, and what they cost is not
    /// counted.
    pub fn search(&self, effort: Effort) -> Result<Found, Error> {
        let net = self.rows.net;
        let last = self.looks.done.get() + effort.looks;
        let mut edges = BTreeSet::new();
        let mut tree = Tree::new(net, self.tasks, &edges);
        at_most(
            "tasks",
            tree.deepest(),
            MOST_DEPTH,
            "tasks that depend on one another in a row",
        )?;
        let mut coarser: Option<Coarser<'_, '_, T>> = None;
        let mut best = self.walk()?;
        let mut is_hard = false;
        loop {
            let done = self.looks.done.get();
            let mut relaxed = Relaxed::new(self.rows, tree, self.looks, self.least);
            self.looks.most.set(match (is_hard, &coarser) {
                (false, _) => done + EASY_LOOKS.min(effort.looks / 8),
                (true, None) => last,
                (true, Some(_)) => done + last.saturating_sub(done) / 4,
            });
            let held = self.held(&relaxed.tree, &None);
            let Some(node) = self.first(&mut relaxed, &held, best.cost)? else {
                if is_hard {
                    break;
                }
                is_hard = true;
                self.improve(&mut relaxed, &mut best, done + effort.looks / 8)?;
                tree = Tree::new(net, self.tasks, &edges);
                continue;
            };
            if !self.purse(Cost::ZERO, best.cost).pays(node.cost) {
                return Ok(best.found());
            }
            let uncounted = Uncounted::of(net, &relaxed.tree, &held, &node.days);
            if uncounted.edges.is_empty() {
                return Ok(node.found());
            }
            node.offer(&uncounted, &mut best);
            coarser = Some(Coarser {
                relaxed,
                node,
                broken: uncounted.edges.len(),
            });
            let network = |task: usize| self.network_of[task];
            let more = uncounted.edges.difference(&edges);
            let more: Vec<Edge> = more
                .filter(|(one, other)| network(*one) == network(*other))
                .copied()
                .collect();
            if more.is_empty() {
                break;
            }
            edges.extend(more);
            tree = Tree::new(net, self.tasks, &edges);
            if tree.widest() > effort.context || tree.deepest() > MOST_DEPTH {
                break;
            }
        }
        self.looks.most.set(last);
        match coarser {
            Some(mut coarser) if coarser.broken <= MOST_BROKEN => {
                self.branch(&mut coarser.relaxed, coarser.node, best)
            }
            coarser => Ok(Found {
                crowded: coarser.is_some(),
                bound: match &coarser {
                    Some(coarser) => coarser.node.cost,
                    None => self.least()?,
                },
                exact: false,
                ..best.found()
            }),
        }
    }

    /// The days that it begins with. Where there are none, each task is put on the day that was announced for it, where
    /// it can be there, else on its cheapest.
    fn walk(&self) -> Result<Node, Error> {
        let mut days = self.no_days();
        for task in self.tasks {
            days[*task] = match self.begin {
                Begin::At(known) | Begin::Below(known) => known[*task],
                Begin::Anywhere => {
                    let row = self.rows.row(*task, &days)?;
                    let announced = self.rows.net.announced[*task];
                    let mut choices = row.choices.iter();
                    let choice = choices.find(|choice| Some(choice.day) == announced);
                    choice.unwrap_or(&row.choices[0]).day
                }
            };
        }
        Ok(Node {
            cost: total(self.rows, self.tasks, &days)?,
            days,
            whole: true,
            ..Node::default()
        })
    }

    /// A bound that is quickly found.
    fn least(&self) -> Result<Cost, Error> {
        let mut days = self.no_days();
        let mut least = Cost::ZERO;
        for task in self.tasks {
            if self.rows.net.problem.tasks[*task].after.is_empty() {
                least += self.least.of(*task, &mut days)?;
            }
        }
        Ok(least)
    }

    fn no_days(&self) -> Vec<Day> {
        let outside = self.outside.days.iter();
        outside.map(|day| day.unwrap_or(NEVER)).collect()
    }

    /// All tasks held on these days but some.
    fn all_held(&self, days: &[Day], free: &[usize]) -> Option<Rc<Link>> {
        let held = self.tasks.iter().filter(|task| !free.contains(task));
        let decisions = held.map(|task| Decision {
            task: *task,
            day: days[*task],
            held: true,
        });
        Some(Rc::new(Link {
            decisions: decisions.collect(),
            before: None,
        }))
    }

    /// Puts a few tasks on their best days while all others stay, those that follow each other in time and those
    /// that depend on each other, and goes on until that gains nothing: what good days cost, so that dearer
    /// ones need not be looked at.
    fn improve(
        &self,
        relaxed: &mut Relaxed<'_, '_, T>,
        best: &mut Node,
        last: u64,
    ) -> Result<(), Error> {
        loop {
            let before = best.cost;
            for size in AT_ONCE {
                let mut by_day = self.tasks.to_vec();
                by_day.sort_by_key(|task| best.days[*task]);
                let in_time = by_day
                    .windows(size.min(by_day.len()))
                    .step_by(size / 3)
                    .map(<[usize]>::to_vec);
                let related = self.tasks.iter().map(|task| self.related(*task, size));
                let sets: Vec<_> = in_time.chain(related).collect();
                for free in sets {
                    let done = self.looks.done.get();
                    if done >= last {
                        return Ok(());
                    }
                    self.looks.most.set(last.min(done + FEW_LOOKS));
                    let others = self.all_held(&best.days, &free);
                    let held = self.held(&relaxed.tree, &others);
                    relaxed.forget();
                    let Some(mut first) = self.first(relaxed, &held, best.cost)? else {
                        continue;
                    };
                    if first.cost < best.cost {
                        first.last = others;
                        let found = self.branch(relaxed, first, best.clone())?;
                        best.cost = found.cost;
                        best.days = found.days;
                    }
                }
            }
            if best.cost >= before {
                break;
            }
        }
        relaxed.forget();
        Ok(())
    }

    /// A task and so many of those near to it in the net.
    fn related(&self, task: usize, most: usize) -> Vec<usize> {
        let net = self.rows.net;
        let mut found = vec![task];
        let mut at = 0;
        while let Some(task) = found.get(at).copied() {
            at += 1;
            let after = net.problem.tasks[task].after.iter();
            for near in after.chain(&net.followers[task]) {
                if found.len() < most
                    && !found.contains(near)
                    && self.tasks.binary_search(near).is_ok()
                {
                    found.push(*near);
                }
            }
        }
        found
    }

    fn purse(&self, spent: Cost, most: Cost) -> Purse {
        Purse {
            spent,
            most,
            less: self.begin.is_below(),
        }
    }

    /// The node without decisions, unless it takes too long.
    fn first(
        &self,
        relaxed: &mut Relaxed<'_, '_, T>,
        held: &Held,
        most: Cost,
    ) -> Result<Option<Node>, Error> {
        let mut node = Node {
            days: self.no_days(),
            ..Node::default()
        };
        for top in relaxed.tree.tops.clone() {
            let spent = node.cost;
            let purse = self.purse(spent, most);
            let Some(cost) = relaxed.best(top, held, &mut node.days, purse)? else {
                return Ok(None);
            };
            node.trees.push(cost);
            node.cost += cost;
        }
        Ok(Some(node))
    }

    /// The node with one decision more, unless it takes too long. Its cost is more than `most` where it
    /// is of no use.
    fn child(
        &self,
        node: &Node,
        relaxed: &mut Relaxed<'_, '_, T>,
        decision: Decision,
        most: Cost,
    ) -> Result<Option<Node>, Error> {
        let before = node.last.clone();
        let mut child = Node {
            last: Some(Rc::new(Link {
                decisions: vec![decision],
                before,
            })),
            ..node.clone()
        };
        let held = self.held(&relaxed.tree, &child.last);
        relaxed.forget();
        // What a node takes besides.
        self.looks.add(1 + node.days.len() as u64 / 8)?;
        let trees = concerned(self.rows.net, &relaxed.tree, decision, &node.days);
        for tree in &trees {
            child.trees[*tree] = Cost::ZERO;
        }
        child.cost = child.trees.iter().copied().sum();
        for tree in trees {
            let (top, spent) = (relaxed.tree.tops[tree], child.cost);
            let purse = self.purse(spent, most);
            let Some(cost) = relaxed.best(top, &held, &mut child.days, purse)? else {
                return Ok(None);
            };
            child.trees[tree] = cost;
            child.cost += cost;
            if child.cost > most {
                break;
            }
        }
        Ok(Some(child))
    }

    /// Branches until the best is found or nothing is left to look at: from the most promising node down
    /// along what is held, until nothing is broken uncounted; then from the next one.
    fn branch(
        &self,
        relaxed: &mut Relaxed<'_, '_, T>,
        first: Node,
        mut best: Node,
    ) -> Result<Found, Error> {
        let net = self.rows.net;
        let mut open = BinaryHeap::from([Reverse(best.clone()), Reverse(first)]);
        while let Some(Reverse(node)) = open.pop() {
            if node.whole {
                return Ok(node.found());
            }
            if !self.purse(Cost::ZERO, best.cost).pays(node.cost) {
                return Ok(best.found());
            }
            let bound = node.cost;
            let mut next = Some(node);
            while let Some(node) = next.take() {
                let held = self.held(&relaxed.tree, &node.last);
                let uncounted = Uncounted::of(net, &relaxed.tree, &held, &node.days);
                let Some(task) = uncounted.task() else {
                    let whole = Node {
                        whole: true,
                        ..node
                    };
                    open.push(Reverse(whole));
                    break;
                };
                if node.offer(&uncounted, &mut best) {
                    open.push(Reverse(best.clone()));
                }
                for is_held in [false, true] {
                    let decision = Decision {
                        task,
                        day: node.days[task],
                        held: is_held,
                    };
                    let Some(child) = self.child(&node, relaxed, decision, best.cost)? else {
                        return Ok(Found {
                            bound,
                            exact: false,
                            ..best.found()
                        });
                    };
                    let pays = self.purse(Cost::ZERO, best.cost).pays(child.cost);
                    if !pays || child.cost == Cost::WORST {
                        continue;
                    }
                    if is_held {
                        next = Some(child);
                    } else {
                        open.push(Reverse(child));
                    }
                }
            }
        }
        Ok(best.found())
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
