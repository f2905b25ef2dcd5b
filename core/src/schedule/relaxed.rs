//! The best days of all tasks where the rules between two tasks, and the limits of a day, count only
//! for tasks whose day is held: dynamic programming down the trees of the net.

use std::cell::Cell;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};
use std::rc::Rc;

use super::cost::Cost;
use super::least::Least;
use super::net::{ByDays, Day, DaysOfSome, NEVER, Net};
use super::problem::Tasks;
use super::rows::{Choice, Rows};
use super::tree::Tree;
use crate::error::Error;
use crate::work;

/// What has been decided of a task's day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Decision {
    pub task: usize,
    pub day: Day,
    /// This day and no other; otherwise any other than this.
    pub held: bool,
}

/// Days on which a task breaks a rule with a task whose day is held.
#[derive(Debug, Clone, Copy)]
struct Clash {
    first: Day,
    last: Day,
    level: usize,
}

/// The tasks that a search leaves where they are.
#[derive(Debug, Clone, Default)]
pub(super) struct Outside {
    /// Their days; `None` for the tasks of the search, and for those that are not there at all.
    pub days: Vec<Option<Day>>,
}

impl Outside {
    /// Whether a held task comes before another held one, which then pays for both.
    fn before(&self, one: usize, other: usize) -> bool {
        let rank = |task: usize| (self.days[task].is_none(), task);
        self.days[other].is_none() && rank(one) < rank(other)
    }
}

/// Which days are held and which are barred, and what follows from it for the other tasks.
pub(super) struct Held {
    pub days: Vec<Option<Day>>,
    barred: Vec<Vec<Day>>,
    /// Beyond what the tree counts.
    clashes: Vec<Vec<Clash>>,
    /// How many held tasks a day has, by limit, sorted.
    taken: Vec<Vec<(Day, u32)>>,
    /// The task, or one below it, has something decided beyond what is set.
    touched: Vec<bool>,
    outside: Rc<Outside>,
}

impl Held {
    /// From the days that are set, those of tasks that are not of this search, and the decisions on
    /// top of them.
    pub fn new<T: Tasks + ?Sized>(
        rows: &Rows<'_, '_, T>,
        tree: &Tree,
        outside: &Rc<Outside>,
        decisions: impl Iterator<Item = Decision>,
    ) -> Self {
        let net = rows.net;
        let count = net.len();
        let mut days = outside.days.clone();
        for task in &tree.order {
            days[*task] = rows.set_day(*task);
        }
        let mut held = Held {
            days,
            barred: vec![Vec::new(); count],
            clashes: vec![Vec::new(); count],
            taken: vec![Vec::new(); net.members.len()],
            touched: vec![false; count],
            outside: Rc::clone(outside),
        };
        for decision in decisions {
            let task = decision.task;
            held.touched[task] = true;
            if !decision.held {
                held.barred[task].push(decision.day);
                continue;
            }
            held.days[task] = Some(decision.day);
            for pair in &net.pairs[task] {
                held.touched[pair.other] = true;
            }
            for limit in &net.limits[task] {
                for member in &net.members[*limit] {
                    held.touched[*member] = true;
                }
            }
        }
        for (task, day) in held.days.iter().enumerate() {
            let Some(day) = *day else { continue };
            for pair in &net.pairs[task] {
                let other = pair.other;
                // Of two that are held the later pays, and one outside never.
                let pays = held.days[other].is_none() || outside.before(task, other);
                if pays && !tree.counts(task, other) {
                    held.clashes[other].push(Clash {
                        first: day.saturating_add(pair.low + 1),
                        last: day.saturating_add(pair.high - 1),
                        level: pair.level,
                    });
                }
            }
        }
        for (members, taken) in net.members.iter().zip(&mut held.taken) {
            let mut by_day = BTreeMap::new();
            for day in members.iter().filter_map(|member| held.days[*member]) {
                *by_day.entry(day).or_default() += 1;
            }
            taken.extend(by_day);
        }
        for task in tree.order.iter().rev() {
            if held.touched[*task]
                && let Some(above) = tree.above[*task]
            {
                held.touched[above] = true;
            }
        }
        held
    }

    fn allows(&self, task: usize, day: Day) -> bool {
        match self.days[task] {
            Some(held) => held == day,
            None => !self.barred[task].contains(&day),
        }
    }

    /// How many held tasks a day has of those that count for a limit.
    pub fn taken(&self, limit: usize, day: Day) -> u32 {
        let taken = &self.taken[limit];
        match taken.binary_search_by_key(&day, |(day, _)| *day) {
            Ok(place) => taken[place].1,
            Err(_) => 0,
        }
    }

    /// What a task breaks on a day of the rules that count: with held tasks, and with those of its
    /// context, whose days are given.
    ///
    /// On a day over its limit the last tasks pay, the held ones being the first.
    pub fn clash(&self, net: &Net<'_>, tree: &Tree, task: usize, day: Day, days: &[Day]) -> Cost {
        let mut cost = Cost::ZERO;
        if day == NEVER {
            return cost;
        }
        for clash in &self.clashes[task] {
            if clash.first <= day && day <= clash.last {
                cost = cost.with(clash.level, 1);
            }
        }
        for pair in &tree.pairs[task] {
            if pair.is_broken(day, days[pair.other]) {
                cost = cost.with(pair.level, 1);
            }
        }
        for (limit, above) in net.limits[task].iter().zip(&tree.limits[task]) {
            let rule = &net.problem.limits[*limit];
            let first = if self.days[task].is_some() {
                let held = |member: &&usize| self.days[**member] == Some(day);
                let members = net.members[*limit].iter();
                let before = members.filter(|member| self.outside.before(**member, task));
                before.filter(held).count()
            } else {
                let above = above
                    .iter()
                    .filter(|member| days[**member] == day && self.days[**member].is_none());
                above.count() + self.taken(*limit, day) as usize
            };
            if first >= rule.per_day as usize {
                cost = cost.with(rule.level, 1);
            }
        }
        cost
    }
}

/// What is known of the best of a task and all below it.
#[derive(Debug, Clone, Copy)]
struct Best {
    cost: Cost,
    day: Day,
    /// Otherwise the cost is a bound, and more than was of use.
    sure: bool,
}

type Known = ByDays<Best>;

/// What is spent above a branch, and what all may cost at most to be of use.
#[derive(Debug, Clone, Copy)]
pub(super) struct Purse {
    pub spent: Cost,
    pub most: Cost,
    /// What costs as much is of no use either.
    pub less: bool,
}

impl Purse {
    pub fn pays(&self, cost: Cost) -> bool {
        let all = self.spent + cost;
        all < self.most || all == self.most && !self.less
    }
}

/// Looks that cost as much as a unit of work.
const LOOKS_A_UNIT: u64 = 8;

/// Counts the choices that were looked at.
#[derive(Default)]
pub(super) struct Looks {
    pub done: Cell<u64>,
    /// How many before a search gives up.
    pub most: Cell<u64>,
}

impl Looks {
    pub fn add(&self, looks: u64) -> Result<(), Error> {
        let before = self.done.get();
        self.done.set(before + looks);
        let units = |looks: u64| looks / LOOKS_A_UNIT;
        work::spend(units(before + looks) - units(before))
    }

    fn are_spent(&self) -> bool {
        self.done.get() > self.most.get()
    }
}

/// Works out best days, and remembers those that no decision touches.
pub(super) struct Relaxed<'r, 'a, T: Tasks + ?Sized> {
    rows: &'r Rows<'r, 'a, T>,
    pub tree: Tree,
    untouched: Vec<Known>,
    touched: Vec<Known>,
    looks: &'r Looks,
    least: &'r Least<'r, 'a, T>,
}

impl<'r, 'a, T: Tasks + ?Sized> Relaxed<'r, 'a, T> {
    pub fn new(
        rows: &'r Rows<'r, 'a, T>,
        tree: Tree,
        looks: &'r Looks,
        least: &'r Least<'r, 'a, T>,
    ) -> Self {
        let count = rows.net.len();
        Relaxed {
            rows,
            tree,
            untouched: (0..count).map(|_| Known::default()).collect(),
            touched: (0..count).map(|_| Known::default()).collect(),
            looks,
            least,
        }
    }

    /// Writes the best days of the tree below a top and gives their cost; of equals the earlier days,
    /// those of the first task before the others. Where that is of no use the cost may be a bound, and the
    /// days are not written; where a decision leaves no day it is [`Cost::WORST`]; where too many
    /// choices were looked at there is none.
    ///
    /// What hangs on the decisions is remembered until [`Relaxed::forget`].
    pub fn best(
        &mut self,
        top: usize,
        held: &Held,
        days: &mut [Day],
        purse: Purse,
    ) -> Result<Option<Cost>, Error> {
        let Some(best) = self.below(top, held, days, purse)? else {
            return Ok(None);
        };
        if best.sure && best.cost < Cost::WORST {
            self.write(top, held, days);
        }
        Ok(Some(best.cost))
    }

    /// Forgets what hung on decisions.
    pub fn forget(&mut self) {
        self.touched.iter_mut().for_each(Known::clear);
    }

    fn known(&self, task: usize, held: &Held, days: &[Day]) -> Option<Best> {
        let known = if held.touched[task] {
            &self.touched
        } else {
            &self.untouched
        };
        known[task].get(&self.context(task, days)).copied()
    }

    fn context(&self, task: usize, days: &[Day]) -> DaysOfSome {
        let context = &self.tree.context[task];
        context.iter().map(|above| days[*above]).collect()
    }

    fn below(
        &mut self,
        task: usize,
        held: &Held,
        days: &mut [Day],
        purse: Purse,
    ) -> Result<Option<Best>, Error> {
        if let Some(best) = self.known(task, held, days)
            && (best.sure || !purse.pays(best.cost))
        {
            return Ok(Some(best));
        }
        if self.looks.are_spent() {
            return Ok(None);
        }
        let row = self.rows.row(task, days)?;
        let mut best = Best {
            cost: Cost::WORST,
            day: NEVER,
            sure: true,
        };
        let mut bound = Cost::WORST;
        let mut looked = 1;
        let mut choices = match held.days[task] {
            Some(day) => row.only(day),
            None => &row.choices,
        }
        .iter()
        .peekable();
        let mut open = BinaryHeap::new();
        loop {
            let most = purse.most.min(purse.spent + best.cost);
            let of_use = Purse { most, ..purse };
            // Choices are worked out in the order of their bounds, and bounds not before they are needed.
            let first = open.peek().map(|Reverse((least, _))| *least);
            if let Some(choice) =
                choices.next_if(|next| first.is_none_or(|first| next.cost <= first))
            {
                looked += 1;
                if !held.allows(task, choice.day) {
                    continue;
                }
                let least = self.least_with(task, choice, held, days, of_use)?;
                if of_use.pays(least) {
                    open.push(Reverse((least, choice.day)));
                } else if least < Cost::WORST {
                    bound = bound.min(least);
                    if !of_use.pays(choice.cost) {
                        // The rest costs at least as much by itself, and may break less.
                        bound = bound.min(choice.cost);
                        choices = [].iter().peekable();
                    }
                }
                continue;
            }
            let Some(Reverse((least, day))) = open.pop() else {
                break;
            };
            if !of_use.pays(least) {
                bound = bound.min(least);
                break;
            }
            let Some(choice) = row.choices.iter().find(|choice| choice.day == day) else {
                continue;
            };
            looked += 1;
            let Some(cost) = self.with_all_below(task, choice, held, days, of_use)? else {
                return Ok(None);
            };
            if cost == Cost::WORST {
                continue;
            }
            if !of_use.pays(cost) {
                bound = bound.min(cost);
            } else if cost < best.cost || self.earlier(task, choice.day, best.day, held, days) {
                best.cost = cost;
                best.day = choice.day;
            }
        }
        if best.cost == Cost::WORST && bound < Cost::WORST {
            best.cost = bound;
            best.sure = false;
        }
        self.looks.add(looked)?;
        let context = self.context(task, days);
        let known = if held.touched[task] {
            &mut self.touched
        } else {
            &mut self.untouched
        };
        known[task].insert(context, best);
        Ok(Some(best))
    }

    /// What a choice and all below it cost at least.
    fn least_with(
        &self,
        task: usize,
        choice: &Choice,
        held: &Held,
        days: &mut [Day],
        purse: Purse,
    ) -> Result<Cost, Error> {
        let net = self.rows.net;
        let mut cost = choice.cost + held.clash(net, &self.tree, task, choice.day, days);
        days[task] = choice.day;
        for child in &self.tree.children[task] {
            if !purse.pays(cost) {
                break;
            }
            match self.least(*child, held, days)? {
                Cost::WORST => return Ok(Cost::WORST),
                least => cost += least,
            }
        }
        Ok(cost)
    }

    /// What a task and all below it cost at least.
    fn least(&self, task: usize, held: &Held, days: &mut [Day]) -> Result<Cost, Error> {
        if let Some(best) = self.known(task, held, days) {
            return Ok(best.cost);
        }
        let mut least = Cost::ZERO;
        for ready in &self.tree.ready[task] {
            least += self.least.of(*ready, days)?;
        }
        Ok(least)
    }

    /// The cost of a choice and of the best below it; where that is of no use, a bound.
    fn with_all_below(
        &mut self,
        task: usize,
        choice: &Choice,
        held: &Held,
        days: &mut [Day],
        purse: Purse,
    ) -> Result<Option<Cost>, Error> {
        let net = self.rows.net;
        let mut cost = choice.cost + held.clash(net, &self.tree, task, choice.day, days);
        days[task] = choice.day;
        // What the children cost at least comes off the purse before any of them is worked out.
        let mut least = Vec::with_capacity(self.tree.children[task].len());
        for child in 0..self.tree.children[task].len() {
            let child = self.tree.children[task][child];
            let known = self.least(child, held, days)?;
            if known == Cost::WORST {
                return Ok(Some(known));
            }
            cost += known;
            least.push((child, known));
        }
        if !purse.pays(cost) {
            return Ok(Some(cost));
        }
        for (child, known) in least {
            cost -= known;
            let spent = purse.spent + cost;
            let Some(below) = self.below(child, held, days, Purse { spent, ..purse })? else {
                return Ok(None);
            };
            if below.cost == Cost::WORST {
                return Ok(Some(Cost::WORST));
            }
            cost += below.cost;
            if !purse.pays(cost) {
                break;
            }
        }
        Ok(Some(cost))
    }

    /// Of two days of a task that cost the same, with all below it: whether the first one is to be
    /// preferred, by the days in the order of the tasks' numbers.
    fn earlier(&self, task: usize, one: Day, other: Day, held: &Held, days: &mut [Day]) -> bool {
        if self.tree.leads[task] {
            return one < other;
        }
        self.branch(task, one, held, days) < self.branch(task, other, held, days)
    }

    /// The days of a task and all below it, by number.
    fn branch(&self, task: usize, day: Day, held: &Held, days: &mut [Day]) -> Vec<(usize, Day)> {
        days[task] = day;
        let mut branch = vec![task];
        let mut at = 0;
        while let Some(above) = branch.get(at).copied() {
            at += 1;
            for child in &self.tree.children[above] {
                if let Some(best) = self.known(*child, held, days) {
                    days[*child] = best.day;
                }
                branch.push(*child);
            }
        }
        let mut branch: Vec<_> = branch.into_iter().map(|task| (task, days[task])).collect();
        branch.sort_unstable();
        branch
    }

    /// Writes the days of a task and all below it, which are known.
    fn write(&self, task: usize, held: &Held, days: &mut [Day]) {
        if let Some(best) = self.known(task, held, days) {
            days[task] = best.day;
        }
        for child in &self.tree.children[task] {
            self.write(*child, held, days);
        }
    }
}
