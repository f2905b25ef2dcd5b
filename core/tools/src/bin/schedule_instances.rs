//! Writes random scheduling problems with our answers, one JSON object a line, for
//! `tests/schedule/compare.py`, which solves them with another solver:
//!
//! ```text
//! cargo run --release -p apiary-almanac-tools --bin schedule_instances -- FIRST COUNT single|joint [TIMES] > FILE
//! ```
//!
//! `FIRST` is the number of the first problem; the same number is always the same problem. `TIMES` is how often the
//! work that one request is given may be done on each; 1 where it is left out. Days count
//! from 0. The span of a task is a table: the key is the latest of the days of what it depends on, each
//! moved by an offset, and gives earliest, likely, latest and last. All is invented.

use std::collections::BTreeMap;
use std::io::Write as _;
use std::process::ExitCode;

use apiary_almanac::Error;
use apiary_almanac::schedule::{
    Apart, BROKEN, Cost, FIRST_OWN, Limit, MOST_LOOKS, Problem, Schedule, Set, Solver, Span, Task,
    Tasks,
};
use chrono::{Days, NaiveDate};
use serde_json::{Value, json};

const UNFIT: usize = FIRST_OWN;
const MOVED: usize = FIRST_OWN + 1;
const BUSY: usize = FIRST_OWN + 2;
const FAR: usize = FIRST_OWN + 3;
/// Days that the tables reach.
const HORIZON: usize = 1_000;

/// SplitMix64 (Steele, Lea & Flood 2014).
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From `low` to `high`, both included.
    fn between(&mut self, low: u64, high: u64) -> u64 {
        low + self.roll() % (high - low + 1)
    }

    fn one_in(&mut self, many: u64) -> bool {
        self.roll().is_multiple_of(many)
    }
}

/// What a task does on a day, which decides how fit days are.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Opening,
    Move,
    Other,
}

/// A task as tables.
struct Table {
    kind: Kind,
    /// By task that it depends on, days.
    offsets: Vec<i64>,
    /// By key: earliest, likely, latest, last.
    spans: Vec<[usize; 4]>,
}

struct Instance {
    problem: Problem,
    tables: Vec<Table>,
    /// The weather by kind and day: unfit 0 or more, or not allowed.
    fitness: [Vec<Option<u32>>; 3],
    busy: Vec<u32>,
}

fn date(day: usize) -> NaiveDate {
    NaiveDate::default() + Days::new(day as u64)
}

fn day(date: NaiveDate) -> usize {
    (date - NaiveDate::default()).num_days().max(0) as usize
}

impl Instance {
    fn unary(&self, task: usize, day: usize) -> Option<Cost> {
        let unfit = self.fitness[self.tables[task].kind as usize]
            .get(day)
            .copied()??;
        Some(Cost::at(UNFIT, unfit).with(BUSY, self.busy[day]))
    }
}

impl Tasks for Instance {
    fn span(&self, task: usize, after: &[NaiveDate]) -> Result<Option<Span>, Error> {
        let table = &self.tables[task];
        let keys = after.iter().zip(&table.offsets).map(|(date, offset)| {
            (day(*date) as i64 + offset).clamp(0, HORIZON as i64 - 1) as usize
        });
        let [earliest, likely, latest, last] = table.spans[keys.max().unwrap_or(0)].map(date);
        Ok(Some(Span::new(earliest, likely, latest).until(last)))
    }

    fn cost(&self, task: usize, date: NaiveDate, span: &Span) -> Result<Option<Cost>, Error> {
        let far = (date - span.likely).num_days().unsigned_abs() as u32;
        Ok(self.unary(task, day(date)).map(|cost| cost.with(FAR, far)))
    }
}

/// Waits in days of a kind: the day on which so many have passed since a key.
fn waits(dice: &mut Dice, least: u64, width: u64, beyond: u64) -> Vec<[usize; 4]> {
    let slow = dice.between(0, 3);
    let counts: Vec<bool> = (0..2 * HORIZON)
        .map(|_| slow == 0 || !dice.one_in(slow + 3))
        .collect();
    let likely = least + dice.between(0, width);
    let reached = |key: usize, wait: u64| {
        let mut left = wait;
        let mut day = key;
        while left > 0 && day < HORIZON - 1 {
            day += 1;
            left -= u64::from(counts[day]);
        }
        day
    };
    (0..HORIZON)
        .map(|key| {
            let ends = [least, likely, least + width].map(|wait| reached(key, wait));
            [
                ends[0],
                ends[1],
                ends[2],
                (ends[2] + beyond as usize).min(HORIZON - 1),
            ]
        })
        .collect()
}

/// One plan of a problem: a tree of tasks, some after two others, a few far away.
fn plan(dice: &mut Dice, instance: &mut Instance, count: u64, reach: u64) -> Vec<usize> {
    let mut own: Vec<usize> = Vec::new();
    for place in 0..count {
        let kind = match dice.between(0, 19) {
            0..=4 => Kind::Opening,
            5..=7 => Kind::Move,
            _ => Kind::Other,
        };
        let mut after = Vec::new();
        if place > 0 {
            let back = if dice.one_in(3) { place } else { place.min(3) };
            after.push(own[(place - dice.between(1, back)) as usize]);
            if place > 2 && dice.one_in(8) {
                after.push(own[dice.between(0, place - 1) as usize]);
            }
        }
        after.sort_unstable();
        after.dedup();
        let (least, width) = match (place, dice.between(0, 9)) {
            (0, _) => (0, reach),
            (_, 0..=3) => (dice.between(0, 3), dice.between(0, 3)),
            (_, 4..=8) => (dice.between(3, 25), dice.between(2, 12)),
            _ if place + 3 > count => (dice.between(200, 365), dice.between(20, 120)),
            _ => (dice.between(20, 40), dice.between(5, 25)),
        };
        let beyond = if dice.one_in(2) {
            dice.between(0, 15)
        } else {
            0
        };
        let spans = waits(dice, least, width, beyond);
        let offsets = after
            .iter()
            .map(|_| dice.between(0, 4) as i64 - 1)
            .collect();
        own.push(instance.problem.add(Task::new(&after)));
        instance.tables.push(Table {
            kind,
            offsets,
            spans,
        });
    }
    let of = |instance: &Instance, kind: Kind| -> Vec<usize> {
        own.iter()
            .copied()
            .filter(|task| instance.tables[*task].kind == kind)
            .collect()
    };
    let (openings, moves) = (of(instance, Kind::Opening), of(instance, Kind::Move));
    let apart = dice.between(1, 4) as u32;
    let mut rule = Apart::days(&moves, &openings, apart);
    if dice.one_in(2) {
        rule.before_d = 1;
    }
    instance.problem.apart.push(rule);
    instance
        .problem
        .apart
        .push(Apart::days(&openings, &openings, dice.between(1, 2) as u32));
    let mut soft = Apart::days(&moves, &moves, dice.between(1, 3) as u32);
    soft.level = BUSY;
    instance.problem.apart.push(soft);
    own
}

/// Some tasks are done or fixed, and some were announced: on or near the likely dates of a plain walk.
fn set_some(dice: &mut Dice, instance: &mut Instance) -> Result<(), Error> {
    let (some_done, some_announced) = (dice.one_in(4), dice.one_in(3));
    let mut walk: Vec<NaiveDate> = Vec::new();
    for place in 0..instance.problem.tasks.len() {
        let after = instance.problem.tasks[place].after.clone();
        let dates: Vec<NaiveDate> = after.iter().map(|before| walk[*before]).collect();
        let Some(span) = instance.span(place, &dates)? else {
            continue;
        };
        let likely = span.likely;
        let off = likely - Days::new(dice.between(0, 3)) + Days::new(dice.between(0, 3));
        let off = off.max(date(0));
        let task = &mut instance.problem.tasks[place];
        if some_done && after.is_empty() {
            task.set = Set::Done(likely);
        } else if dice.one_in(25) {
            task.set = Set::Fixed(off);
        }
        if some_announced && !dice.one_in(4) {
            task.announced = Some(if dice.one_in(2) { likely } else { off });
        }
        walk.push(task.set.date().unwrap_or(likely));
    }
    Ok(())
}

fn instance(number: u64, joint: bool) -> Result<Instance, Error> {
    let mut dice = Dice(2 * number + u64::from(joint));
    let mut weather = |often: u64, never: u64| -> Vec<Option<u32>> {
        let mut unfit = false;
        (0..HORIZON)
            .map(|_| {
                // Like the day before, mostly.
                if dice.one_in(2) {
                    unfit = dice.one_in(often);
                }
                (!dice.one_in(never)).then_some(u32::from(unfit))
            })
            .collect()
    };
    let fitness = [weather(3, 12), weather(4, 15), weather(1_000, 1_000)];
    let free = dice.between(0, 3);
    let busy = (0..HORIZON)
        .map(|day| u32::from(free > 0 && day % 7 > 1))
        .collect();
    let mut instance = Instance {
        problem: Problem::new(MOVED),
        tables: Vec::new(),
        fitness,
        busy,
    };
    if joint {
        let plans = dice.between(2, 12);
        let reach = dice.between(5, 30);
        for _ in 0..plans {
            let count = dice.between(5, 10);
            plan(&mut dice, &mut instance, count, reach);
        }
    } else {
        let (count, reach) = (dice.between(10, 30), dice.between(1, 60));
        plan(&mut dice, &mut instance, count, reach);
    }
    if joint || dice.one_in(3) {
        for (kind, most) in [(Kind::Opening, 2), (Kind::Move, 1)] {
            let tasks = instance.tables.iter().enumerate();
            let tasks = tasks.filter(|(_, table)| table.kind == kind);
            let tasks: Vec<usize> = tasks.map(|(task, _)| task).collect();
            let per_day = dice.between(1, most) as u32;
            instance
                .problem
                .limits
                .push(Limit::per_day(&tasks, per_day));
        }
    }
    set_some(&mut dice, &mut instance)?;
    Ok(instance)
}

fn written(number: u64, instance: &Instance, solved: &Schedule, ms: f64) -> Value {
    let day_or_null = |date: Option<NaiveDate>| date.map(day);
    let tasks: Vec<Value> = instance
        .problem
        .tasks
        .iter()
        .zip(&instance.tables)
        .map(|(task, table)| {
            json!({
                "after": task.after,
                "offsets": table.offsets,
                "kind": table.kind as usize,
                "spans": table.spans,
                "fixed": match task.set { Set::Fixed(date) => Some(day(date)), _ => None },
                "done": match task.set { Set::Done(date) => Some(day(date)), _ => None },
                "announced": day_or_null(task.announced),
            })
        })
        .collect();
    let apart: Vec<Value> = instance
        .problem
        .apart
        .iter()
        .map(|rule| {
            json!({"one": rule.one, "other": rule.other, "before_d": rule.before_d,
                "after_d": rule.after_d, "level": rule.level})
        })
        .collect();
    let limits: Vec<Value> = instance
        .problem
        .limits
        .iter()
        .map(|limit| json!({"tasks": limit.tasks, "per_day": limit.per_day, "level": limit.level}))
        .collect();
    let levels = BTreeMap::from([
        ("broken", BROKEN),
        ("unfit", UNFIT),
        ("moved", MOVED),
        ("busy", BUSY),
        ("far", FAR),
    ]);
    json!({
        "number": number,
        "levels": levels,
        "tasks": tasks,
        "fitness": instance.fitness,
        "busy": instance.busy,
        "apart": apart,
        "limits": limits,
        "answer": {
            "days": solved.placed.iter().map(|placed| day_or_null(placed.date)).collect::<Vec<_>>(),
            "cost": solved.cost.levels(),
            "bound": solved.bound.levels(),
            "exact": solved.exact,
            "ms": ms,
        },
    })
}

fn write(
    first: u64,
    count: u64,
    joint: bool,
    times: u64,
) -> Result<(), Box<dyn std::error::Error>> {
    let mut out = std::io::stdout().lock();
    for number in first..first + count {
        let instance = instance(number, joint)?;
        let begun = std::time::Instant::now();
        let solved = Solver::new(&instance.problem, &instance)?
            .with_looks(times.saturating_mul(MOST_LOOKS))
            .solve()?;
        let ms = begun.elapsed().as_secs_f64() * 1e3;
        writeln!(out, "{}", written(number, &instance, &solved, ms))?;
    }
    Ok(())
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let numbers = |place: usize| arguments.get(place)?.parse::<u64>().ok();
    let joint = match arguments.get(2).map(String::as_str) {
        Some("single") => Some(false),
        Some("joint") => Some(true),
        _ => None,
    };
    let times = if arguments.len() > 3 {
        numbers(3)
    } else {
        Some(1)
    };
    let (Some(first), Some(count), Some(joint), Some(times)) =
        (numbers(0), numbers(1), joint, times)
    else {
        eprintln!("usage: schedule_instances FIRST COUNT single|joint [TIMES] > FILE");
        return ExitCode::FAILURE;
    };
    match write(first, count, joint, times) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}
