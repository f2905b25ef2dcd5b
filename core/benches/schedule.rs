//! Schedules of invented plans: the shape of a division with its looks, moves and entrances.

use std::hint::black_box;

use apiary_almanac::Error;
use apiary_almanac::schedule::{Apart, Cost, FIRST_OWN, Limit, Problem, Solver, Span, Task, Tasks};
use chrono::{Datelike, Days, NaiveDate};
use criterion::{Criterion, criterion_group, criterion_main};

const UNFIT: usize = FIRST_OWN;
const MOVED: usize = FIRST_OWN + 1;
const NOT_FREE: usize = FIRST_OWN + 2;
const FAR: usize = FIRST_OWN + 3;

/// Plans with waits in days, and weather and free days from a hash of the date.
struct Plans {
    problem: Problem,
    waits: Vec<[u64; 4]>,
    openings: Vec<usize>,
    moves: Vec<usize>,
}

impl Plans {
    fn new(plans: usize, stages: usize) -> Self {
        let mut all = Plans {
            problem: Problem::new(MOVED),
            waits: Vec::new(),
            openings: Vec::new(),
            moves: Vec::new(),
        };
        for _ in 0..plans {
            all.add_plan(stages);
        }
        if plans > 1 {
            all.problem.limits = vec![
                Limit::per_day(&all.openings, 2),
                Limit::per_day(&all.moves, 1),
            ];
        }
        all
    }

    fn add(&mut self, after: &[usize], wait: [u64; 4]) -> usize {
        self.waits.push(wait);
        self.problem.add(Task::new(after))
    }

    fn add_plan(&mut self, stages: usize) {
        let divide = self.add(&[], [0, 14, 60, 60]);
        let close = self.add(&[divide], [0, 0, 0, 0]);
        let open = self.add(&[close], [2, 2, 4, 4]);
        for wait in [[1, 1, 1, 1], [2, 2, 2, 2], [3, 3, 3, 3], [6, 7, 8, 8]] {
            self.add(&[divide], wait);
        }
        let mut before = self.add(&[divide], [14, 21, 28, 28]);
        let mut moves = Vec::new();
        for stage in 0..stages {
            let wait = if stage == 0 {
                [1, 1, 7, 67]
            } else {
                [2, 2, 3, 30]
            };
            before = self.add(&[before], wait);
            moves.push(before);
        }
        let eggs = self.add(&[divide], [20, 25, 30, 40]);
        let second = self.add(&[eggs], [7, 10, 14, 24]);
        let decide = self.add(&[second], [0, 1, 7, 7]);
        let late = self.add(&[divide, decide], [20, 40, 60, 80]);
        let workers = self.add(&[divide], [50, 55, 60, 70]);
        self.add(&[divide], [365, 456, 548, 548]);
        let looks = [eggs, second, late, workers];
        self.problem.apart.push(Apart::days(&looks, &moves, 3));
        self.problem
            .apart
            .push(Apart::days(&looks, &[close, open], 1));
        self.openings.push(divide);
        self.openings.extend(looks);
        self.moves.extend(moves);
    }
}

impl Tasks for Plans {
    fn span(&self, task: usize, after: &[NaiveDate]) -> Result<Option<Span>, Error> {
        let first = NaiveDate::from_ymd_opt(2030, 9, 1).unwrap_or_default();
        let from = after.iter().max().copied().unwrap_or(first);
        let [earliest, likely, latest, last] = self.waits[task].map(|wait| from + Days::new(wait));
        Ok(Some(Span::new(earliest, likely, latest).until(last)))
    }

    fn cost(&self, task: usize, date: NaiveDate, span: &Span) -> Result<Option<Cost>, Error> {
        let dice = (date
            .num_days_from_ce()
            .unsigned_abs()
            .wrapping_mul(0x9E37_79B9))
            >> 20;
        let unfit = dice.is_multiple_of(3) && self.openings.contains(&task)
            || dice.is_multiple_of(5) && self.moves.contains(&task);
        let not_free = date.weekday().num_days_from_monday() < 5 && dice.is_multiple_of(2);
        let far_d = (date - span.likely).num_days().unsigned_abs() as u32;
        Ok(Some(
            Cost::at(UNFIT, unfit.into())
                .with(NOT_FREE, not_free.into())
                .with(FAR, far_d),
        ))
    }
}

fn benches(c: &mut Criterion) {
    for (what, plans, stages) in [
        ("schedule of a plan", 1, 2),
        ("schedule of a plan with 8 moves", 1, 8),
        ("schedule of 2 plans together", 2, 2),
        ("schedule of 12 plans together", 12, 2),
    ] {
        let plans = Plans::new(plans, stages);
        c.bench_function(what, |b| {
            b.iter(|| Solver::new(black_box(&plans.problem), &plans).and_then(|all| all.solve()));
        });
    }
}

criterion_group!(all, benches);
criterion_main!(all);
