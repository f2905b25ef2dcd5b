//! The best days of all tasks where the rules between two tasks, and the limits of a day, count only
//! for tasks whose day is held: dynamic programming down the trees of the net.

use std::collections::{BTreeMap, HashMap};

use super::cost::Cost;
use super::net::{Day, NEVER, Net};
use super::problem::Tasks;
use super::rows::Rows;
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
}

impl Held {
    /// From the days that are set and the decisions on top of them.
    pub fn new<T: Tasks + ?Sized>(
        rows: &Rows<'_, '_, T>,
        tree: &Tree,
        decisions: impl Iterator<Item = Decision>,
    ) -> Self {
        let net = rows.net;
        let count = net.len();
        let mut held = Held {
            days: (0..count).map(|task| rows.set_day(task)).collect(),
            barred: vec![Vec::new(); count],
            clashes: vec![Vec::new(); count],
            taken: vec![Vec::new(); net.members.len()],
            touched: vec![false; count],
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
                // Of two that are held the later pays.
                if (held.days[pair.other].is_none() || pair.other > task)
                    && !tree.counts(task, pair.other)
                {
                    held.clashes[pair.other].push(Clash {
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
        for task in (0..count).rev() {
            if held.touched[task]
                && let Some(above) = tree.context[task].last()
            {
                held.touched[*above] = true;
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
                let before = net.members[*limit]
                    .iter()
                    .take_while(|member| **member < task);
                before
                    .filter(|member| self.days[**member] == Some(day))
                    .count()
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

/// The best of a task and all below it.
#[derive(Debug, Clone, Copy)]
struct Best {
    cost: Cost,
    day: Day,
}

type Known = HashMap<Box<[Day]>, Best>;

/// Works out best days, and remembers those that no decision touches.
pub(super) struct Relaxed<'r, 'a, T: Tasks + ?Sized> {
    rows: &'r Rows<'r, 'a, T>,
    pub tree: Tree,
    untouched: Vec<Known>,
    touched: Vec<Known>,
    /// Choices looked at so far.
    pub looked: u64,
    /// How many before it gives up.
    pub most_looks: u64,
}

impl<'r, 'a, T: Tasks + ?Sized> Relaxed<'r, 'a, T> {
    pub fn new(rows: &'r Rows<'r, 'a, T>, tree: Tree) -> Self {
        let count = rows.net.len();
        Relaxed {
            rows,
            tree,
            untouched: (0..count).map(|_| Known::new()).collect(),
            touched: (0..count).map(|_| Known::new()).collect(),
            looked: 0,
            most_looks: u64::MAX,
        }
    }

    /// Writes the best days of the tree below a top and gives their cost; of equals the earlier days,
    /// those of the first task before the others. Where a decision leaves no day the cost is
    /// [`Cost::WORST`]; where too many choices were looked at there is none.
    ///
    /// What hangs on the decisions is remembered until [`Relaxed::forget`].
    pub fn best(
        &mut self,
        top: usize,
        held: &Held,
        days: &mut [Day],
    ) -> Result<Option<Cost>, Error> {
        let Some(best) = self.below(top, held, days)? else {
            return Ok(None);
        };
        if best.cost < Cost::WORST && !self.write(top, held, days)? {
            return Ok(None);
        }
        Ok(Some(best.cost))
    }

    /// Forgets what hung on decisions.
    pub fn forget(&mut self) {
        self.touched.iter_mut().for_each(HashMap::clear);
    }

    fn known(&mut self, task: usize, held: &Held) -> &mut Known {
        if held.touched[task] {
            &mut self.touched[task]
        } else {
            &mut self.untouched[task]
        }
    }

    fn context(&self, task: usize, days: &[Day]) -> Box<[Day]> {
        let context = &self.tree.context[task];
        context.iter().map(|above| days[*above]).collect()
    }

    fn below(&mut self, task: usize, held: &Held, days: &mut [Day]) -> Result<Option<Best>, Error> {
        let context = self.context(task, days);
        if let Some(best) = self.known(task, held).get(&context) {
            return Ok(Some(*best));
        }
        if self.looked > self.most_looks {
            return Ok(None);
        }
        let row = self.rows.row(task, days)?;
        let net = self.rows.net;
        let mut best = Best {
            cost: Cost::WORST,
            day: NEVER,
        };
        let mut looked = 1;
        for choice in &row.choices {
            // The rest costs at least as much by itself.
            if choice.cost > best.cost {
                break;
            }
            looked += 1;
            if !held.allows(task, choice.day) {
                continue;
            }
            let mut cost = choice.cost + held.clash(net, &self.tree, task, choice.day, days);
            days[task] = choice.day;
            for child in 0..self.tree.children[task].len() {
                if cost > best.cost {
                    break;
                }
                let child = self.tree.children[task][child];
                let Some(Best { cost: below, .. }) = self.below(child, held, days)? else {
                    return Ok(None);
                };
                cost = if below == Cost::WORST {
                    below
                } else {
                    cost + below
                };
            }
            let earlier = cost == best.cost && choice.day < best.day;
            if cost < Cost::WORST && (cost < best.cost || earlier) {
                best = Best {
                    cost,
                    day: choice.day,
                };
            }
        }
        self.looked += looked;
        work::spend(looked)?;
        self.known(task, held).insert(context, best);
        Ok(Some(best))
    }

    fn write(&mut self, task: usize, held: &Held, days: &mut [Day]) -> Result<bool, Error> {
        let Some(best) = self.below(task, held, days)? else {
            return Ok(false);
        };
        days[task] = best.day;
        for child in 0..self.tree.children[task].len() {
            if !self.write(self.tree.children[task][child], held, days)? {
                return Ok(false);
            }
        }
        Ok(true)
    }
}
