//! Packs the clock changes of every zone, out of the `chrono-tz` that the crate is built with.
//!
//! The format stands beside its reader, in `src/zone.rs`.

use std::collections::BTreeMap;
use std::error::Error;
use std::num::NonZero;
use std::thread;

use chrono::{DateTime, Datelike, Days, NaiveDate, Offset, TimeDelta, TimeZone, Timelike};
use chrono_tz::{OffsetComponents, OffsetName, TZ_VARIANTS, Tz};

type TzOffset = <Tz as TimeZone>::Offset;

/// Seconds east of UTC, daylight saving, name.
type Shown = (i32, bool, String);

/// No clocks were changed before; most places then showed the mean time of their own sun.
const FIRST_YEAR: u16 = 1840;
const END_YEAR: i32 = 2103;
/// No zone is known to have changed its clocks twice within 6 days.
const STEP_S: i64 = 3 * 86_400;

/// The table of all zones that `chrono-tz` has.
pub fn table() -> Result<Vec<u8>, Box<dyn Error>> {
    let mut zones: Vec<Tz> = TZ_VARIANTS.to_vec();
    zones.sort_by_key(|zone| zone.name());
    let mut histories: Vec<History> = Vec::new();
    let mut of_zone = Vec::new();
    for (zone, history) in zones.iter().zip(histories_of(&zones)?) {
        let number = histories.iter().position(|known| *known == history);
        of_zone.push((zone.name(), number.unwrap_or(histories.len())));
        if number.is_none() {
            histories.push(history);
        }
    }
    pack(&of_zone, &histories)
}

/// The histories of zones, worked out on every processor.
fn histories_of(zones: &[Tz]) -> Result<Vec<History>, &'static str> {
    let threads = thread::available_parallelism().map_or(1, NonZero::get);
    let share_of = |share: &[Tz]| -> Vec<_> { share.iter().copied().map(History::of).collect() };
    thread::scope(|scope| {
        let mut histories = Vec::new();
        let running: Vec<_> = zones
            .chunks(zones.len().div_ceil(threads).max(1))
            .map(|share| scope.spawn(move || share_of(share)))
            .collect();
        for share in running {
            histories.extend(share.join().map_err(|_| "a zone cannot be worked out")?);
        }
        Ok(histories)
    })
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
        let seconds = |year| {
            let new_year = NaiveDate::from_ymd_opt(year, 1, 1).unwrap_or_default();
            new_year
                .and_time(chrono::NaiveTime::MIN)
                .and_utc()
                .timestamp()
        };
        let (mut at, end) = (seconds(FIRST_YEAR.into()), seconds(END_YEAR));
        let mut now = offset(zone, at);
        let (before, mut changes) = (shown(&now), Vec::new());
        while at < end {
            let (mut low, mut high) = (at, at + STEP_S);
            at = high;
            if offset(zone, high) == now {
                continue;
            }
            while high - low > 1 {
                let middle = (low + high) / 2;
                if offset(zone, middle) == now {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            at = high;
            let then = offset(zone, high);
            // Summer time that becomes standard time changes nothing that clocks show.
            if shown(&then) != shown(&now) {
                let offset_s = i64::from(now.fix().local_minus_utc());
                let reading = DateTime::from_timestamp(high + offset_s, 0)
                    .unwrap_or_default()
                    .naive_utc();
                changes.push(Change {
                    date: reading.date(),
                    time_s: reading.num_seconds_from_midnight(),
                    then: shown(&then),
                });
            }
            now = then;
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

fn offset(zone: Tz, unix_s: i64) -> TzOffset {
    let utc = DateTime::from_timestamp(unix_s, 0).unwrap_or_default();
    zone.offset_from_utc_datetime(&utc.naive_utc())
}

fn shown(offset: &TzOffset) -> Shown {
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

fn pack(of_zone: &[(&str, usize)], histories: &[History]) -> Result<Vec<u8>, Box<dyn Error>> {
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
    two(&mut table, FIRST_YEAR.into())?;
    two(&mut table, of_zone.len())?;
    for (name, _) in of_zone {
        table.push(u8::try_from(name.len())?);
        table.extend(name.as_bytes());
    }
    for (_, history) in of_zone {
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
        let mut year = FIRST_YEAR.into();
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
