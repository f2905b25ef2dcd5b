//! Writes `core/data/zones.bin`, the clock changes of every zone, out of `chrono-tz`.
//!
//! ```text
//! cargo run --release --example zone_table -- core/data/zones.bin
//! ```
//!
//! The format stands beside its reader, in `core/src/zone.rs`.

use std::collections::BTreeMap;
use std::error::Error;

use chrono::{DateTime, Datelike, Days, NaiveDate, Offset, TimeDelta, TimeZone, Timelike};
use chrono_tz::{OffsetComponents, OffsetName, TZ_VARIANTS, Tz};

/// Seconds east of UTC, daylight saving, name.
type Shown = (i32, bool, String);

const FIRST_YEAR: i32 = 1899;
const END_YEAR: i32 = 2103;
/// No zone is known to have changed its clocks twice within this time.
const STEP_S: i64 = 3 * 3600;

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args().nth(1).ok_or("give the file to write")?;
    let mut histories: Vec<History> = Vec::new();
    let mut of_zone = Vec::new();
    for zone in TZ_VARIANTS {
        let history = History::of(zone);
        let number = histories.iter().position(|known| *known == history);
        of_zone.push(number.unwrap_or(histories.len()));
        if number.is_none() {
            histories.push(history);
        }
    }
    let table = pack(&of_zone, &histories)?;
    println!(
        "{} zones, {} histories, {} changes, {} bytes",
        of_zone.len(),
        histories.len(),
        histories.iter().map(|h| h.changes.len()).sum::<usize>(),
        table.len()
    );
    std::fs::write(path, table)?;
    Ok(())
}

#[derive(PartialEq)]
struct History {
    before: Shown,
    changes: Vec<Change>,
}

/// A change: the reading of the clocks as they were, and what they show then.
#[derive(PartialEq)]
struct Change {
    date: NaiveDate,
    time_s: u32,
    then: Shown,
}

impl History {
    fn of(zone: Tz) -> Self {
        let new_year = |year| NaiveDate::from_ymd_opt(year, 1, 1).unwrap_or_default();
        let seconds = |year| {
            new_year(year)
                .and_time(chrono::NaiveTime::MIN)
                .and_utc()
                .timestamp()
        };
        let (mut at, end) = (seconds(FIRST_YEAR), seconds(END_YEAR));
        let before = shown(zone, at);
        let (mut now, mut changes) = (before.clone(), Vec::new());
        while at < end {
            let (mut low, mut high) = (at, at + STEP_S);
            at = high;
            if shown(zone, high) == now {
                continue;
            }
            while high - low > 1 {
                let middle = (low + high) / 2;
                if shown(zone, middle) == now {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            at = high;
            let reading = DateTime::from_timestamp(high + i64::from(now.0), 0)
                .unwrap_or_default()
                .naive_utc();
            now = shown(zone, high);
            changes.push(Change {
                date: reading.date(),
                time_s: reading.num_seconds_from_midnight(),
                then: now.clone(),
            });
        }
        History { before, changes }
    }

    /// The changes as spans of years.
    fn spans(&self) -> Vec<Span> {
        let mut spans = Vec::new();
        let mut rest = self.changes.as_slice();
        while !rest.is_empty() {
            let once = Span::at_start_of(rest, 1);
            let twice = Span::at_start_of(rest, 2);
            let best = match (once, twice) {
                (Some(once), Some(twice)) if twice.changes() > once.changes() => twice,
                (Some(once), _) => once,
                _ => return spans,
            };
            rest = &rest[best.changes()..];
            spans.push(best);
        }
        spans
    }
}

fn shown(zone: Tz, unix_s: i64) -> Shown {
    let utc = DateTime::from_timestamp(unix_s, 0).unwrap_or_default();
    let offset = zone.offset_from_utc_datetime(&utc.naive_utc());
    (
        offset.fix().local_minus_utc(),
        offset.dst_offset() > TimeDelta::zero(),
        offset.abbreviation().unwrap_or_default().to_owned(),
    )
}

/// Years with the same change, or the same two changes.
struct Span {
    years: usize,
    first_year: i32,
    last_year: i32,
    rules: Vec<Rule>,
}

struct Rule {
    years_later: i32,
    month: u32,
    day_code: u8,
    time_s: u32,
    then: Shown,
}

impl Span {
    fn changes(&self) -> usize {
        self.years * self.rules.len()
    }

    /// The longest span of so many changes a year that `changes` start with.
    fn at_start_of(changes: &[Change], in_a_year: usize) -> Option<Self> {
        const LONGEST: usize = 128;
        let first_year = changes.first()?.date.year();
        let mut best = None;
        for years in 1..=LONGEST.min(changes.len() / in_a_year) {
            let rule = |n: usize| {
                let same: Vec<&Change> = changes[..years * in_a_year]
                    .iter()
                    .skip(n)
                    .step_by(in_a_year)
                    .collect();
                rule_of(&same, first_year)
            };
            let Some(rules) = (0..in_a_year).map(rule).collect::<Option<Vec<_>>>() else {
                break;
            };
            best = Some(Span {
                years,
                first_year,
                last_year: changes[years * in_a_year - 1].date.year(),
                rules,
            });
        }
        best
    }
}

/// The rule that gives all these changes, one a year.
fn rule_of(changes: &[&Change], first_year: i32) -> Option<Rule> {
    let first = changes.first()?;
    let years_later = first.date.year() - first_year;
    let alike = changes.iter().enumerate().all(|(year, change)| {
        change.date.year() == first.date.year() + i32::try_from(year).unwrap_or(i32::MAX)
            && change.date.month() == first.date.month()
            && change.time_s == first.time_s
            && change.then == first.then
    });
    if !alike || !(0..=1).contains(&years_later) {
        return None;
    }
    Some(Rule {
        years_later,
        month: first.date.month(),
        day_code: day_code(changes)?,
        time_s: first.time_s,
        then: first.then.clone(),
    })
}

fn day_code(changes: &[&Change]) -> Option<u8> {
    let dates = || changes.iter().map(|change| change.date);
    let first = dates().next()?;
    if dates().all(|date| date.day() == first.day()) {
        return u8::try_from(first.day()).ok();
    }
    let weekday = first.weekday();
    if dates().any(|date| date.weekday() != weekday) {
        return None;
    }
    let weekday = weekday.num_days_from_monday();
    if dates().all(|date| (date + Days::new(7)).month() != date.month()) {
        return u8::try_from(32 + weekday).ok();
    }
    let (earliest, latest) = (
        dates().map(|d| d.day()).min()?,
        dates().map(|d| d.day()).max()?,
    );
    let on_or_after = latest.saturating_sub(6).max(1);
    (on_or_after <= earliest)
        .then(|| u8::try_from(64 + (on_or_after - 1) * 7 + weekday).ok())
        .flatten()
}

fn pack(of_zone: &[usize], histories: &[History]) -> Result<Vec<u8>, Box<dyn Error>> {
    let spans: Vec<Vec<Span>> = histories.iter().map(History::spans).collect();
    let rules = || spans.iter().flatten().flat_map(|span| &span.rules);
    let shown = by_use(
        histories
            .iter()
            .map(|h| &h.before)
            .chain(rules().map(|rule| &rule.then)),
    );
    let times = by_use(rules().map(|rule| &rule.time_s));
    let number = |list: &[&Shown], wanted: &Shown| list.iter().position(|one| *one == wanted);

    let mut table = Vec::new();
    let two = |table: &mut Vec<u8>, value: usize| -> Result<(), Box<dyn Error>> {
        table.extend(u16::try_from(value)?.to_be_bytes());
        Ok(())
    };
    two(&mut table, of_zone.len())?;
    for history in of_zone {
        two(&mut table, *history)?;
    }
    two(&mut table, shown.len())?;
    for (offset_s, daylight, name) in &shown {
        table.extend(offset_s.to_be_bytes());
        table.extend([u8::from(*daylight), u8::try_from(name.len())?]);
        table.extend(name.as_bytes());
    }
    table.push(u8::try_from(times.len())?);
    for time_s in &times {
        table.extend(time_s.to_be_bytes());
    }
    let mut columns: [Vec<u8>; 9] = Default::default();
    for (history, spans) in histories.iter().zip(&spans) {
        let [things, low, high, counts, years, gaps, days, clocks, then] = &mut columns;
        let mut mine = vec![&history.before];
        for rule in spans.iter().flat_map(|span| &span.rules) {
            if !mine.contains(&&rule.then) {
                mine.push(&rule.then);
            }
        }
        things.push(u8::try_from(mine.len())?);
        for one in &mine {
            let number = number(&shown, one).ok_or("not in the list")?;
            low.push(u8::try_from(number % 256)?);
            high.push(u8::try_from(number / 256)?);
        }
        counts.push(u8::try_from(spans.len())?);
        let mut year = FIRST_YEAR;
        for span in spans {
            years.push(u8::try_from((span.years - 1) * 2 + span.rules.len() - 1)?);
            gaps.push(u8::try_from(span.first_year - year)?);
            for rule in &span.rules {
                let time = times.iter().position(|time_s| **time_s == rule.time_s);
                days.extend([
                    u8::try_from(rule.month)? + u8::try_from(rule.years_later)? * 16,
                    rule.day_code,
                ]);
                clocks.push(u8::try_from(time.ok_or("not in the list")?)?);
                let number = number(&mine, &rule.then).ok_or("not in the list")?;
                then.push(u8::try_from(number)?);
            }
            year = span.last_year;
        }
    }
    for column in columns {
        two(&mut table, column.len())?;
        table.extend(column);
    }
    Ok(table)
}

/// Each thing once, the most frequent first.
fn by_use<'a, T: Ord>(things: impl Iterator<Item = &'a T>) -> Vec<&'a T> {
    let mut counts: BTreeMap<&T, usize> = BTreeMap::new();
    for thing in things {
        *counts.entry(thing).or_default() += 1;
    }
    let mut list: Vec<_> = counts.into_iter().collect();
    list.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    list.into_iter().map(|(thing, _)| thing).collect()
}
