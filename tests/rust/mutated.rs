//! Requests of the vectors, changed in ways that know what a request is made of: values at the
//! edge, wrong types, fields left out, added or given twice, long lists and texts, and parts of
//! other requests. Every one must end in an answer or an error, within its bounds.
//!
//! The same numbers always give the same requests. For a longer search, or another one:
//!
//! ```sh
//! export MUTATED_REQUESTS=2000000 MUTATED_SEED=7 CARGO_PROFILE_RELEASE_DEBUG_ASSERTIONS=true
//! cargo test --release -p apiary-almanac-tests --test mutated
//! ```
// Helpers of a test may unwrap like the test itself.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::collections::BTreeMap;
use std::fmt::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::thread;

use apiary_almanac::ask::LARGEST_ANSWER_BYTES;
use apiary_almanac::work::{MOST_WORK, counted};
use apiary_almanac::{Error, ask};
use apiary_almanac_tests::load;
use serde::de::IgnoredAny;
use serde_json::Value;

/// Requests of the short search.
const REQUESTS: u64 = 100_000;
/// Work of one step that is refused: what is spent at once may pass the bound by as much.
const ONE_STEP: u64 = 300_000;
/// Vectors whose answers take more work are left to longer searches.
const CHEAP_WORK: u64 = 20_000;
/// Longest error, bytes: message and field.
const LONGEST_ERROR: usize = 4000;

/// A request as a tree in which a key can stand twice.
#[derive(Clone)]
enum Tree {
    /// Null, truth, number or text, as it is written.
    Leaf(String),
    List(Vec<Tree>),
    Object(Vec<(String, Tree)>),
}

impl Tree {
    fn of(value: &Value) -> Tree {
        match value {
            Value::Array(list) => Tree::List(list.iter().map(Tree::of).collect()),
            Value::Object(map) => Tree::Object(
                map.iter()
                    .map(|(key, value)| (key.clone(), Tree::of(value)))
                    .collect(),
            ),
            leaf => Tree::Leaf(leaf.to_string()),
        }
    }

    fn write(&self, out: &mut String) {
        match self {
            Tree::Leaf(text) => out.push_str(text),
            Tree::List(list) => {
                out.push('[');
                for (i, value) in list.iter().enumerate() {
                    out.push_str(if i > 0 { "," } else { "" });
                    value.write(out);
                }
                out.push(']');
            }
            Tree::Object(fields) => {
                out.push('{');
                for (i, (key, value)) in fields.iter().enumerate() {
                    out.push_str(if i > 0 { "," } else { "" });
                    // A key is written as JSON writes a text.
                    let _ = write!(out, "{}:", Value::from(key.as_str()));
                    value.write(out);
                }
                out.push('}');
            }
        }
    }

    /// Number of trees within, this one included.
    fn size(&self) -> usize {
        1 + match self {
            Tree::Leaf(_) => 0,
            Tree::List(list) => list.iter().map(Tree::size).sum(),
            Tree::Object(fields) => fields.iter().map(|(_, value)| value.size()).sum(),
        }
    }

    /// The tree of this number within, and the key that leads to it.
    fn nth_mut(&mut self, mut number: usize, key: &str) -> (&mut Tree, String) {
        if number == 0 {
            return (self, key.to_owned());
        }
        number -= 1;
        let inner: Vec<(String, &mut Tree)> = match self {
            Tree::Leaf(_) => Vec::new(),
            Tree::List(list) => list.iter_mut().map(|tree| (key.to_owned(), tree)).collect(),
            Tree::Object(fields) => fields
                .iter_mut()
                .map(|(key, tree)| (key.clone(), tree))
                .collect(),
        };
        for (key, tree) in inner {
            let size = tree.size();
            if number < size {
                return tree.nth_mut(number, &key);
            }
            number -= size;
        }
        unreachable!("the number is below the size")
    }

    /// Collects every tree by the key that leads to it.
    fn by_key(&self, key: &str, found: &mut BTreeMap<String, Vec<Tree>>) {
        let trees = found.entry(key.to_owned()).or_default();
        if trees.len() < 200 {
            trees.push(self.clone());
        }
        match self {
            Tree::Leaf(_) => {}
            Tree::List(list) => list.iter().for_each(|tree| tree.by_key(key, found)),
            Tree::Object(fields) => fields
                .iter()
                .for_each(|(key, tree)| tree.by_key(key, found)),
        }
    }
}

/// SplitMix64 (Steele, Lea & Flood 2014).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    fn one_of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.below(list.len())]
    }
}

/// Values that can be anywhere.
const ODD: [&str; 46] = [
    "null",
    "true",
    "false",
    "[]",
    "{}",
    "\"\"",
    "\" \"",
    "0",
    "-0.0",
    "1",
    "-1",
    "0.5",
    "1e-300",
    "5e-324",
    "1e300",
    "-1.7976931348623157e308",
    "1e999",
    "4294967295",
    "4294967296",
    "2147483648",
    "9007199254740993",
    "18446744073709551615",
    "18446744073709551616",
    "-9223372036854775808",
    "89.999",
    "-90",
    "180",
    "366",
    "1000",
    "-300",
    "\"1900-01-01\"",
    "\"1900-01-02\"",
    "\"2100-12-31\"",
    "\"2011-12-30\"",
    "\"2028-02-29\"",
    "\"2026-02-29\"",
    "\"Pacific/Apia\"",
    "\"Europe/Oslo\"",
    "\"UTC\"",
    "\"flying_days\"",
    "\"degree_days\"",
    "\"\\u0000\"",
    "\"\\u202e\"",
    "\"=1+1\"",
    "[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]",
    "{\"a\":{\"a\":{\"a\":1}}}",
];

struct Stock {
    requests: Vec<Tree>,
    by_key: BTreeMap<String, Vec<Tree>>,
    keys: Vec<String>,
}

impl Stock {
    fn load(all: bool) -> Stock {
        let mut requests = Vec::new();
        for file in load().unwrap() {
            for row in &file.rows {
                let text = row.text();
                if text.len() > 20_000 {
                    continue;
                }
                let Ok(value) = serde_json::from_str::<Value>(&text) else {
                    continue;
                };
                if all || counted(|| ask(&text)).1 <= CHEAP_WORK {
                    requests.push(Tree::of(&value));
                }
            }
        }
        let mut by_key = BTreeMap::new();
        for request in &requests {
            request.by_key("", &mut by_key);
        }
        by_key.remove("");
        let keys = by_key.keys().cloned().collect();
        Stock {
            requests,
            by_key,
            keys,
        }
    }

    /// A request with one to four changes.
    fn mutated(&self, dice: &mut Dice) -> String {
        let mut request = dice.one_of(&self.requests).clone();
        for _ in 0..1 + dice.below(4) {
            let number = dice.below(request.size());
            let (place, key) = request.nth_mut(number, "");
            self.change(place, &key, dice);
        }
        let mut text = String::new();
        request.write(&mut text);
        text
    }

    fn change(&self, place: &mut Tree, key: &str, dice: &mut Dice) {
        let any_key = dice.one_of(&self.keys);
        let foreign = dice.one_of(&self.by_key[any_key]).clone();
        match (dice.below(10), &mut *place) {
            (0, _) => *place = Tree::Leaf((*dice.one_of(&ODD)).to_owned()),
            (1, _) => *place = foreign,
            (2, Tree::Object(fields)) if !fields.is_empty() => {
                fields.remove(dice.below(fields.len()));
            }
            (3, Tree::Object(fields)) if !fields.is_empty() => {
                let twice = dice.one_of(fields).clone();
                fields.push(twice);
            }
            (4, Tree::Object(fields)) => fields.push((any_key.clone(), foreign)),
            (2, Tree::List(list)) if !list.is_empty() => {
                list.remove(dice.below(list.len()));
            }
            (3, Tree::List(list)) if !list.is_empty() => {
                let again = dice.one_of(list).clone();
                let times = [1, 2, 7, 40, 400][dice.below(5)];
                list.extend(std::iter::repeat_n(again, times));
            }
            (4, Tree::List(list)) => list.push(foreign),
            (5, Tree::Leaf(text)) if text.starts_with('"') => {
                let length = [61, 101, 501, 1001, 2001, 20_000][dice.below(6)];
                *text = format!("\"{}\"", "\u{e4}".repeat(length / 2 + 1));
            }
            (5 | 6, Tree::Leaf(text)) => {
                if let Ok(number) = text.parse::<f64>() {
                    let changed = [
                        number * 10.0,
                        -number,
                        number + 1.0,
                        number / 10.0,
                        number * 1e6,
                    ];
                    *text = Value::from(*dice.one_of(&changed)).to_string();
                }
            }
            // Something else that stands under the same key elsewhere.
            _ => {
                if let Some(trees) = self.by_key.get(key) {
                    *place = dice.one_of(trees).clone();
                }
            }
        }
    }
}

/// What a search has seen.
#[derive(Default)]
struct Seen {
    answered: u64,
    most_work: u64,
    longest: usize,
    faults: Vec<String>,
}

fn look(request: &str, seen: &mut Seen) -> Result<(), String> {
    let answer = catch_unwind(AssertUnwindSafe(|| counted(|| ask(request))));
    let (answer, work) = answer.map_err(|_| "panics".to_owned())?;
    seen.most_work = seen.most_work.max(work);
    if work > MOST_WORK + ONE_STEP {
        return Err(format!("{work} units of work"));
    }
    match answer {
        Ok(answer) => {
            seen.answered += 1;
            seen.longest = seen.longest.max(answer.len());
            if answer.len() > LARGEST_ANSWER_BYTES {
                return Err(format!("{} bytes", answer.len()));
            }
            // A number that is not finite would be `null`: the writer of debug builds panics at it.
            serde_json::from_str::<IgnoredAny>(&answer).map_err(|e| format!("bad JSON: {e}"))?;
        }
        Err(error) => {
            let length = error.to_string().len() + error.field().len();
            if !Error::CODES.contains(&error.code()) || length > LONGEST_ERROR {
                return Err(format!("{} of {length} bytes", error.code()));
            }
        }
    }
    Ok(())
}

fn setting(name: &str, default: u64) -> u64 {
    match std::env::var(name) {
        Ok(text) => text
            .parse()
            .unwrap_or_else(|_| panic!("{name} is {text}, no number")),
        Err(_) => default,
    }
}

#[test]
fn mutated_requests_end_in_an_answer_or_an_error_within_bounds() {
    let requests = setting("MUTATED_REQUESTS", REQUESTS);
    let seed = setting("MUTATED_SEED", 1);
    let stock = Stock::load(requests > REQUESTS);
    assert!(
        stock.requests.len() > 100,
        "{} vectors",
        stock.requests.len()
    );
    let threads = thread::available_parallelism().map_or(1, usize::from) as u64;
    let search = |thread: u64| {
        let mut seen = Seen::default();
        let mut number = thread;
        while number < requests && seen.faults.len() < 20 {
            let request = stock.mutated(&mut Dice(seed << 40 | number));
            if let Err(fault) = look(&request, &mut seen) {
                seen.faults
                    .push(format!("request {number} {fault}: {request:.400}"));
            }
            number += threads;
        }
        seen
    };
    let seen: Vec<Seen> = thread::scope(|scope| {
        let searches: Vec<_> = (0..threads)
            .map(|n| scope.spawn(move || search(n)))
            .collect();
        searches
            .into_iter()
            .map(|found| found.join().unwrap())
            .collect()
    });
    let answered: u64 = seen.iter().map(|seen| seen.answered).sum();
    let most_work = seen.iter().map(|seen| seen.most_work).max().unwrap_or(0);
    let longest = seen.iter().map(|seen| seen.longest).max().unwrap_or(0);
    println!(
        "{requests} requests of {} vectors, {answered} answered; most work {most_work} units, \
         longest answer {longest} bytes",
        stock.requests.len()
    );
    let faults: Vec<_> = seen.into_iter().flat_map(|seen| seen.faults).collect();
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
    // Changes that nobody could answer would try the reader alone.
    assert!(answered * 10 > requests, "only {answered} were answered");
}
