//! Small problems by hand, and random ones against trying everything.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};
use proptest::prelude::*;

use super::*;

const FAR: usize = FIRST_OWN + 2;
const MOVED: usize = FIRST_OWN + 1;

fn day(number: u64) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, 1, 1).unwrap() + Days::new(number)
}

fn number(date: NaiveDate) -> i64 {
    (date - day(0)).num_days()
}

/// Invented tasks: a span from the latest of what it depends on, shifted by a rest of their sum so that it
/// is neither monotone nor a function of one of them, and a price for every day of a fortnight.
#[derive(Debug, Clone)]
struct Invented {
    problem: Problem,
    /// Earliest, likely, latest and last from there on.
    waits: Vec<[u64; 4]>,
    shift: Vec<i64>,
    /// At the first own level, by day; `None` where it is not allowed.
    prices: Vec<Vec<Option<u32>>>,
}

impl Tasks for Invented {
    fn span(&self, task: usize, after: &[NaiveDate]) -> Result<Option<Span>, Error> {
        let sum: i64 = after.iter().map(|date| number(*date)).sum();
        let from = after.iter().map(|date| number(*date)).max().unwrap_or(0);
        let shift = self.shift[task];
        if shift > 2 && sum % 5 == 4 {
            return Ok(None);
        }
        let from = from + if shift > 0 { sum % shift } else { 0 };
        let at = |wait: u64| day(from as u64 + wait);
        let [earliest, likely, latest, last] = self.waits[task];
        Ok(Some(
            Span::new(at(earliest), at(likely), at(latest)).until(at(last)),
        ))
    }

    fn cost(&self, task: usize, date: NaiveDate, span: &Span) -> Result<Option<Cost>, Error> {
        let prices = &self.prices[task];
        let price = prices[number(date) as usize % prices.len()];
        let away = (date - span.likely).num_days().unsigned_abs() as u32;
        Ok(price.map(|price| Cost::at(FIRST_OWN, price).with(FAR, away)))
    }
}

/// Tries everything: the definition of the best schedule, without any of the scheduler's parts.
struct Everything<'a> {
    of: &'a Invented,
    dates: Vec<Option<NaiveDate>>,
    best: Option<(Cost, Vec<Option<NaiveDate>>)>,
}

impl Everything<'_> {
    fn best(of: &Invented) -> (Cost, Vec<Option<NaiveDate>>) {
        let mut all = Everything {
            of,
            dates: Vec::new(),
            best: None,
        };
        all.go_on(Cost::ZERO);
        all.best.unwrap()
    }

    fn go_on(&mut self, cost: Cost) {
        let task = self.dates.len();
        let Some(own) = self.of.problem.tasks.get(task) else {
            let cost = cost + self.together();
            let found = (cost, self.dates.clone());
            if self.best.as_ref().is_none_or(|best| found < *best) {
                self.best = Some(found);
            }
            return;
        };
        let after: Option<Vec<NaiveDate>> =
            own.after.iter().map(|before| self.dates[*before]).collect();
        let span = after.and_then(|after| self.of.span(task, &after).unwrap());
        let price = |date: NaiveDate, span: &Span| {
            let moved = own.announced.map_or(0, |old| (old - date).num_days().abs());
            let cost = self.of.cost(task, date, span).unwrap()?;
            Some(cost.with(MOVED, moved as u32))
        };
        let mut choices = Vec::new();
        match (own.set, span) {
            (Set::Done(date), _) => choices.push((Some(date), Cost::ZERO)),
            (Set::Fixed(date), span) => {
                let moved = own.announced.map_or(0, |old| (old - date).num_days().abs());
                let moved = Cost::at(MOVED, moved as u32);
                let fits = |span: Span| date >= span.earliest && date <= span.last;
                choices.push((
                    Some(date),
                    match span.and_then(|span| price(date, &span)) {
                        Some(price) if span.is_some_and(fits) => price,
                        Some(price) => price.with(BROKEN, 1),
                        None => moved.with(BROKEN, 1),
                    },
                ));
            }
            (Set::Open, None) => {}
            (Set::Open, Some(span)) => {
                let mut date = span.earliest;
                while date <= span.last {
                    choices.extend(price(date, &span).map(|price| (Some(date), price)));
                    date = date + Days::new(1);
                }
            }
        }
        if choices.is_empty() {
            choices.push((None, Cost::at(NO_DATE, 1)));
        }
        for (date, price) in choices {
            self.dates.push(date);
            self.go_on(cost + price);
            self.dates.pop();
        }
    }

    fn together(&self) -> Cost {
        let mut cost = Cost::ZERO;
        for rule in &self.of.problem.apart {
            let same = rule.one == rule.other;
            for one in &rule.one {
                for other in &rule.other {
                    let (Some(from), Some(to)) = (self.dates[*one], self.dates[*other]) else {
                        continue;
                    };
                    if one == other || same && one > other {
                        continue;
                    }
                    let days = (to - from).num_days();
                    if days < i64::from(rule.after_d) && -days < i64::from(rule.before_d) {
                        cost = cost.with(rule.level, 1);
                    }
                }
            }
        }
        for limit in &self.of.problem.limits {
            for on in 0..200 {
                let there = |task: &&usize| self.dates[**task] == Some(day(on));
                let there = limit.tasks.iter().filter(there).count() as u32;
                cost = cost.with(limit.level, there.saturating_sub(limit.per_day));
            }
        }
        cost
    }
}

fn invented() -> impl Strategy<Value = Invented> {
    (2_usize..=6).prop_flat_map(|count| {
        let task = (
            prop::collection::vec(0_usize..count, 0..3),
            prop::collection::vec(0_u64..4, 4),
            prop_oneof![4 => Just(0_i64), 1 => 1_i64..4],
            prop::collection::vec(
                prop_oneof![1 => Just(None), 6 => (0_u32..3).prop_map(Some)],
                14,
            ),
            prop_oneof![6 => Just(Set::Open), 1 => (0_u64..9).prop_map(|on| Set::Fixed(day(on))),
                1 => (0_u64..9).prop_map(|on| Set::Done(day(on)))],
            prop::option::weighted(0.2, (0_u64..9).prop_map(day)),
        );
        let group = || prop::sample::subsequence((0..count).collect::<Vec<_>>(), 1..=count);
        let level = || prop_oneof![3 => Just(BROKEN), 1 => Just(FAR)];
        let apart = (group(), group(), any::<bool>(), 0_u32..4, 0_u32..4, level());
        let limit = (group(), 0_u32..3, level());
        (
            prop::collection::vec(task, count),
            prop::collection::vec(apart, 0..3),
            prop::collection::vec(limit, 0..2),
        )
            .prop_map(|(tasks, apart, limits)| {
                let mut made = Invented {
                    problem: Problem::new(MOVED),
                    waits: Vec::new(),
                    shift: Vec::new(),
                    prices: Vec::new(),
                };
                for (place, (mut after, mut waits, shift, prices, set, announced)) in
                    tasks.into_iter().enumerate()
                {
                    after.retain(|before| *before < place);
                    waits.sort_unstable();
                    let waits: [u64; 4] = waits.try_into().unwrap();
                    made.problem.add(Task {
                        after,
                        set,
                        announced,
                    });
                    made.waits.push(waits);
                    made.shift.push(shift);
                    made.prices.push(prices);
                }
                for (one, other, within, before_d, after_d, level) in apart {
                    // Within a group there is no direction.
                    let (other, before_d) = if within {
                        (one.clone(), after_d)
                    } else {
                        let other: Vec<usize> = other
                            .into_iter()
                            .filter(|task| !one.contains(task))
                            .collect();
                        (other, before_d)
                    };
                    made.problem.apart.push(Apart {
                        one,
                        other,
                        before_d,
                        after_d,
                        level,
                        between_networks: after_d % 2 == 1,
                    });
                }
                made.problem
                    .limits
                    .extend(limits.into_iter().map(|(tasks, per_day, level)| Limit {
                        tasks,
                        per_day,
                        level,
                    }));
                made
            })
    })
}

fn dates(schedule: &Schedule) -> Vec<Option<NaiveDate>> {
    schedule.placed.iter().map(|placed| placed.date).collect()
}

/// The tasks that depend on each other or have a rule between them, from one of them on.
fn network(problem: &Problem, task: usize) -> BTreeSet<usize> {
    let mut found = BTreeSet::from([task]);
    loop {
        let before = found.len();
        for (number, own) in problem.tasks.iter().enumerate() {
            if own.after.iter().any(|after| found.contains(after)) {
                found.insert(number);
            }
            if found.contains(&number) {
                found.extend(&own.after);
            }
        }
        let joined = problem.apart.iter().filter(|rule| !rule.between_networks);
        for (one, other, ..) in joined.flat_map(Apart::pairs) {
            if found.contains(&one) || found.contains(&other) {
                found.extend([one, other]);
            }
        }
        if found.len() == before {
            return found;
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn the_best_of_all_and_its_ties(invented in invented()) {
        let solver = Solver::new(&invented.problem, &invented).unwrap();
        let found = solver.solve().unwrap();
        let (cost, best) = Everything::best(&invented);
        prop_assert_eq!(found.cost, cost);
        prop_assert_eq!(dates(&found), best.clone());
        // By branching alone.
        let mut branching = Solver::new(&invented.problem, &invented).unwrap();
        branching.effort.context = 0;
        let branched = branching.solve().unwrap();
        prop_assert_eq!(dates(&branched), best);
        prop_assert_eq!(&branched, &found);
        // Out of breath: whatever it finds, the best lies between its bound and its cost.
        branching.effort.looks = 0;
        let hasty = branching.solve().unwrap();
        prop_assert!(hasty.bound <= cost && cost <= hasty.cost);
        prop_assert!(!hasty.exact || hasty.placed == found.placed);
        prop_assert!(found.exact && found.bound == found.cost);
        let counted = found.broken.iter().map(|broken| match broken {
            Broken::NoDate { .. } => Cost::at(NO_DATE, 1),
            Broken::TooNear { apart, .. } => Cost::at(invented.problem.apart[*apart].level, 1),
            Broken::Full { limit, tasks, .. } => {
                let limit = &invented.problem.limits[*limit];
                Cost::at(limit.level, tasks.len() as u32 - limit.per_day)
            }
            _ => Cost::at(BROKEN, 1),
        });
        let counted: Cost = counted.sum();
        prop_assert_eq!(counted.levels()[NO_DATE], cost.levels()[NO_DATE]);
        prop_assert_eq!(counted.levels()[BROKEN], cost.levels()[BROKEN]);
        let alone: Cost = found.placed.iter().map(|placed| placed.cost).sum();
        prop_assert!(alone <= found.cost);
    }

    #[test]
    fn with_a_date_it_is_the_best_with_that_date(
        invented in invented(),
        task in 0_usize..6,
        on in 0_u64..9,
    ) {
        let task = task % invented.problem.tasks.len();
        let solver = Solver::new(&invented.problem, &invented).unwrap();
        let found = solver.solve_with(task, day(on)).unwrap();
        let mut fixed = invented.clone();
        fixed.problem.tasks[task].set = Set::Fixed(day(on));
        let (cost, best) = Everything::best(&fixed);
        prop_assert_eq!(found.cost, cost);
        prop_assert_eq!(dates(&found), best);
    }

    #[test]
    fn every_other_date_has_a_reason_that_is_true(
        invented in invented(),
        task in 0_usize..6,
        on in 0_u64..20,
    ) {
        let task = task % invented.problem.tasks.len();
        let solver = Solver::new(&invented.problem, &invented).unwrap();
        let best = solver.solve().unwrap();
        let own = best.placed[task].clone();
        let why = solver.why_not(&best, task, day(on)).unwrap();
        prop_assert_eq!(why.is_none(), own.date == Some(day(on)));
        let mut fixed = invented.clone();
        let set = fixed.problem.tasks[task].set;
        // Other networks stay where they are.
        let own_network = network(&invented.problem, task);
        for (number, placed) in best.placed.iter().enumerate() {
            let other = &mut fixed.problem.tasks[number].set;
            if let (Set::Open, Some(date), false) = (*other, placed.date, own_network.contains(&number)) {
                *other = Set::Fixed(date);
            }
        }
        fixed.problem.tasks[task].set = Set::Fixed(day(on));
        let with = Everything::best(&fixed);
        match why {
            None => {}
            Some(WhyNot::Done { on }) => prop_assert_eq!(set, Set::Done(on)),
            Some(WhyNot::Fixed { on }) => prop_assert_eq!(set, Set::Fixed(on)),
            Some(WhyNot::Never) => prop_assert!(own.date.is_none()),
            Some(WhyNot::BeforeEarliest { earliest, because, on: when }) => {
                prop_assert!(day(on) < earliest);
                prop_assert_eq!(when, because.and_then(|task| best.placed[task].date));
            }
            Some(WhyNot::AfterLast { last }) => prop_assert!(day(on) > last),
            Some(WhyNot::NotAllowed) => {
                prop_assert!(invented.cost(task, day(on), &own.span.unwrap()).unwrap().is_none());
            }
            Some(WhyNot::Later) => prop_assert_eq!(with.0, best.cost),
            Some(WhyNot::Costs { level, here, best: chosen }) => {
                prop_assert!(here > chosen);
                prop_assert_eq!(with.0.worse_than(&best.cost).map(|(at, _)| at), Some(level));
            }
            Some(WhyNot::TooNear { .. } | WhyNot::Full { .. }) => {
                prop_assert_eq!(with.0.worse_than(&best.cost).map(|(at, _)| at), Some(BROKEN));
            }
            Some(WhyNot::WouldMove { task, from, to }) => {
                prop_assert_eq!(invented.problem.tasks[task].announced, Some(from));
                prop_assert_ne!(to, Some(from));
                prop_assert_eq!(with.1[task], to);
            }
            Some(WhyNot::Worse { level, by }) => {
                prop_assert_eq!(with.0.worse_than(&best.cost), Some((level, by)));
            }
        }
    }

    #[test]
    fn nothing_new_and_nothing_moves(invented in invented()) {
        let first = Solver::new(&invented.problem, &invented).unwrap().solve().unwrap();
        let mut again = invented.clone();
        for (task, placed) in again.problem.tasks.iter_mut().zip(&first.placed) {
            task.announced = placed.date;
        }
        let second = Solver::new(&again.problem, &again).unwrap().solve().unwrap();
        let moved_before = invented.problem.tasks.iter().any(|task| task.announced.is_some());
        if !moved_before {
            prop_assert_eq!(dates(&first), dates(&second));
        }
    }

    #[test]
    fn what_slips_within_its_slack_moves_nothing(invented in invented(), task in 0_usize..6) {
        let task = task % invented.problem.tasks.len();
        let best = Solver::new(&invented.problem, &invented).unwrap().solve().unwrap();
        let own = &best.placed[task];
        let Some(date) = own.date else { return Ok(()) };
        prop_assume!(invented.problem.tasks[task].set == Set::Open);
        let stands = |on: NaiveDate| {
            let mut all = invented.clone();
            for (task, placed) in all.problem.tasks.iter_mut().zip(&best.placed) {
                if let (Set::Open, Some(date)) = (task.set, placed.date) {
                    task.set = Set::Fixed(date);
                }
            }
            all.problem.tasks[task].set = Set::Fixed(on);
            Everything::best(&all).0.levels()
        };
        let now = stands(date);
        let slipped = stands(date + Days::new(own.slack.days.into()));
        prop_assert!(slipped[NO_DATE] <= now[NO_DATE] && slipped[BROKEN] <= now[BROKEN]);
    }
}

/// The search goes down a chain task by task: one that would not fit a stack is refused before.
#[test]
fn the_longest_chain_is_answered_and_a_longer_one_refused() {
    let chain = |length: usize| {
        let mut made = Invented {
            problem: Problem::new(MOVED),
            waits: Vec::new(),
            shift: Vec::new(),
            prices: Vec::new(),
        };
        for place in 0..length {
            let after: Vec<usize> = place.checked_sub(1).into_iter().collect();
            made.problem.add(Task::new(&after));
            made.waits.push([0, 0, 1, 1]);
            made.shift.push(0);
            made.prices.push(vec![Some(0); 14]);
        }
        let solver = Solver::new(&made.problem, &made)?;
        Ok::<_, crate::error::Error>(solver.solve()?.placed.len())
    };
    assert_eq!(chain(MOST_DEPTH).ok(), Some(MOST_DEPTH));
    assert_eq!(chain(MOST_DEPTH + 1).unwrap_err().code(), "too_large");
}
/// A task whose cheapest day breaks most: what a branch costs at least is that of a day that is dearer by
/// itself and breaks nothing.
#[test]
fn a_dearer_day_that_breaks_nothing_is_not_taken_for_one_of_no_use() {
    let price = |first: [Option<u32>; 4]| {
        let mut prices = first.to_vec();
        prices.resize(14, None);
        prices
    };
    let mut made = Invented {
        problem: Problem::new(MOVED),
        waits: vec![[0, 0, 0, 2], [1, 1, 1, 3], [0, 0, 0, 3], [0, 0, 0, 3]],
        shift: vec![0; 4],
        prices: vec![
            price([None, Some(1), Some(0), None]),
            price([None, Some(0), None, Some(1)]),
            price([None, Some(1), Some(1), Some(0)]),
            price([None, Some(0), None, Some(1)]),
        ],
    };
    for announced in [None, Some(day(3)), Some(day(2)), None] {
        let announced = Task {
            announced,
            ..Task::new(&[])
        };
        made.problem.add(announced);
    }
    made.problem.apart.push(Apart::days(&[1], &[0, 2, 3], 2));
    let solver = Solver::new(&made.problem, &made).unwrap();
    let found = solver.solve().unwrap();
    assert_eq!(
        (found.cost, dates(&found)),
        Everything::best(&made),
        "{found:?}"
    );
}
