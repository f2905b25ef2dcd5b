//! What the clocks of a zone show: the changes of the IANA database, packed.
//!
//! `chrono-tz` names the zones and holds the same changes one by one, which is too much for a page
//! that a telephone loads. The table holds them as spans of years with the same rule;
//! `build/zones.rs` makes it out of the same `chrono-tz`, and the tests here compare the two over the
//! whole range.

use std::sync::OnceLock;

use chrono::{DateTime, Datelike, Days, MappedLocalTime, NaiveDate, NaiveDateTime, Utc};
use chrono_tz::Tz;

const DAY_S: i64 = 86_400;
const TABLE: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/zones.bin"));

// Features of `chrono-tz` leave zones out, and build scripts may have other features.
const _: () = assert!(
    u16::from_be_bytes([TABLE[2], TABLE[3]]) as usize >= chrono_tz::TZ_VARIANTS.len(),
    "chrono-tz has fewer zones in build scripts than in the program"
);

/// What clocks show from a moment on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Shown {
    /// Seconds east of UTC.
    pub(crate) offset_s: i32,
    /// Daylight saving time.
    pub(crate) daylight: bool,
    /// What people call it, or nothing.
    pub(crate) name: &'static str,
}

/// What the clocks of a zone show at a moment, in seconds of UTC since 1970.
pub(crate) fn shown(zone: Tz, unix_s: i64) -> Shown {
    history(zone).at(unix_s)
}

/// The moments, in seconds of UTC since 1970, at which the clocks of a zone show a reading.
pub(crate) fn moments(zone: Tz, reading: NaiveDateTime) -> MappedLocalTime<i64> {
    let reading_s = reading.and_utc().timestamp();
    history(zone).moments(reading_s)
}

/// As [`moments`], as instants.
pub(crate) fn instants(zone: Tz, reading: NaiveDateTime) -> MappedLocalTime<DateTime<Utc>> {
    moments(zone, reading).map(|unix_s| DateTime::from_timestamp(unix_s, 0).unwrap_or_default())
}

/// What the clocks of a zone showed before and show from a moment on, in order: of what they show at `first_s`,
/// which began then or before, to the last change before `last_s`. Where nothing was ever changed before
/// `first_s`, it begins there.
pub(crate) fn changes(
    zone: Tz,
    first_s: i64,
    last_s: i64,
) -> impl Iterator<Item = (i64, Shown, Shown)> {
    let History {
        before, changes, ..
    } = history(zone);
    let begun = changes.partition_point(|(from, _)| *from <= first_s);
    let end = changes.partition_point(|(from, _)| *from < last_s);
    let never_changed = (begun == 0).then_some((first_s, *before, *before));
    let followed = (begun.saturating_sub(1)..end).map(|n| {
        let was = n.checked_sub(1).map_or(*before, |n| changes[n].1);
        let (at, now) = changes[n];
        (at, was, now)
    });
    never_changed.into_iter().chain(followed)
}

/// The days that the calendar of a zone left out, in order.
pub(crate) fn skipped(zone: Tz) -> &'static [NaiveDate] {
    &history(zone).skipped
}

/// The changes of a zone, in order, and what was shown before the first.
#[derive(Debug, Clone, PartialEq)]
struct History {
    before: Shown,
    changes: Vec<(i64, Shown)>,
    skipped: Vec<NaiveDate>,
}

impl History {
    /// Adds a change.
    fn push(&mut self, at: i64, now: Shown) {
        let (_, was) = *self.changes.last().unwrap_or(&(at, self.before));
        let [left, met] = [was, now].map(|shown| at + i64::from(shown.offset_s));
        // Clocks were put on from before the day's first moment to after its last.
        let day = left + (-left).rem_euclid(DAY_S);
        if met - day >= DAY_S {
            self.skipped
                .extend(DateTime::from_timestamp(day, 0).map(|day| day.date_naive()));
        }
        self.changes.push((at, now));
    }

    fn at(&self, unix_s: i64) -> Shown {
        match self.changes.partition_point(|(from, _)| *from <= unix_s) {
            0 => self.before,
            n => self.changes[n - 1].1,
        }
    }

    fn moments(&self, reading_s: i64) -> MappedLocalTime<i64> {
        // Offsets stay within a day and a bit, so only what is shown around then can show it.
        const WIDEST_S: i64 = 26 * 3600;
        let first = self
            .changes
            .partition_point(|(from, _)| *from <= reading_s - WIDEST_S);
        let mut found = MappedLocalTime::None;
        for n in first..=self.changes.len() {
            let (from, shown) = match n {
                0 => (i64::MIN, self.before),
                n => self.changes[n - 1],
            };
            if from > reading_s + WIDEST_S {
                break;
            }
            let until = self.changes.get(n).map_or(i64::MAX, |(next, _)| *next);
            let unix_s = reading_s - i64::from(shown.offset_s);
            if (from..until).contains(&unix_s) {
                found = match found {
                    MappedLocalTime::None => MappedLocalTime::Single(unix_s),
                    MappedLocalTime::Single(earlier) => MappedLocalTime::Ambiguous(earlier, unix_s),
                    twice => twice,
                };
            }
        }
        found
    }
}

fn history(zone: Tz) -> &'static History {
    static HISTORIES: [OnceLock<History>; chrono_tz::TZ_VARIANTS.len()] =
        [const { OnceLock::new() }; chrono_tz::TZ_VARIANTS.len()];
    HISTORIES[zone as usize].get_or_init(|| unpack(zone.name()))
}

/// Reads the table; past its end there are zeros.
struct Bytes(&'static [u8]);

impl Bytes {
    fn one(&mut self) -> u8 {
        match self.0 {
            [first, rest @ ..] => {
                self.0 = rest;
                *first
            }
            [] => 0,
        }
    }

    fn two(&mut self) -> u16 {
        u16::from_be_bytes([self.one(), self.one()])
    }

    fn four(&mut self) -> i32 {
        i32::from_be_bytes([self.one(), self.one(), self.one(), self.one()])
    }

    fn part(&mut self, length: usize) -> Bytes {
        let (part, rest) = self.0.split_at_checked(length).unwrap_or_default();
        self.0 = rest;
        Bytes(part)
    }

    /// A text behind its length.
    fn name(&mut self) -> &'static str {
        let length = self.one();
        std::str::from_utf8(self.part(length.into()).0).unwrap_or_default()
    }
}

/// The history of the zone of this name.
///
/// The table, numbers of two and four bytes with the highest first:
/// - the year from which spans of years are counted (2);
/// - how many zones there are (2), of each the length of its name (1) and the name, in the order of
///   the names, and then of each the number of its history (2);
/// - how many things there are to show (2), and of each the seconds east of UTC (4), 1 for daylight
///   saving time (1), the length of its name (1) and the name;
/// - how many times of day there are (1), and each in seconds (4);
/// - the histories, one after another in nine columns of bytes, which gzip makes smaller than if all
///   of a history stood together; before each column its length (2). The columns:
///   1. how many things a history shows;
///   2. of each its number, less what is in the next column, that before the first change first;
///   3. how often 256 has to be added to it;
///   4. how many spans of years there are;
///   5. of each span the years in it, less one, times two, plus one where there are two changes a
///      year instead of one;
///   6. the years from the end of the span before;
///   7. for each change of a year the month, plus 16 where it falls in the year after the span's own,
///      and the day;
///   8. the number of the time of day on the clock as it was;
///   9. what is shown then, counted within the history.
fn unpack(zone: &str) -> History {
    let mut table = Bytes(TABLE);
    let first_year = table.two();
    let names: Vec<&str> = (0..table.two()).map(|_| table.name()).collect();
    let numbers: Vec<u16> = names.iter().map(|_| table.two()).collect();
    let shown: Vec<Shown> = (0..table.two())
        .map(|_| Shown {
            offset_s: table.four(),
            daylight: table.one() == 1,
            name: table.name(),
        })
        .collect();
    let times: Vec<i32> = (0..table.one()).map(|_| table.four()).collect();
    let mut columns = [0; 9].map(|_| {
        let length = table.two();
        table.part(usize::from(length))
    });
    let wanted = names.binary_search(&zone).map_or(0, |place| numbers[place]);
    let mut next = || unpack_next(&mut columns, first_year.into(), &shown, &times);
    for _ in 0..wanted {
        next();
    }
    next()
}

fn unpack_next(
    columns: &mut [Bytes; 9],
    first_year: i32,
    shown: &[Shown],
    times: &[i32],
) -> History {
    let [things, low, high, counts, years, gaps, days, clocks, then] = columns;
    let mine: Vec<Shown> = (0..things.one())
        .map(|_| shown[usize::from(high.one()) * 256 + usize::from(low.one())])
        .collect();
    let mut history = History {
        before: mine[0],
        changes: Vec::new(),
        skipped: Vec::new(),
    };
    let mut now = history.before;
    let mut year = first_year;
    for _ in 0..counts.one() {
        let (head, gap) = (years.one(), gaps.one());
        let rules: Vec<[u8; 4]> = (0..=head % 2)
            .map(|_| [days.one(), days.one(), clocks.one(), then.one()])
            .collect();
        year += i32::from(gap);
        let mut last = year;
        for turn in 0..=i32::from(head / 2) {
            for [month, day, time, then] in &rules {
                last = year + turn + i32::from(month / 16);
                let midnight = day_of(last, month % 16, *day).and_time(chrono::NaiveTime::MIN);
                let reading_s =
                    midnight.and_utc().timestamp() + i64::from(times[usize::from(*time)]);
                let at = reading_s - i64::from(now.offset_s);
                now = mine[usize::from(*then)];
                history.push(at, now);
            }
        }
        year = last;
    }
    history
}

/// The day of a month by its code: 1 to 31 that day; from 32 the last Monday, Tuesday, ...; from 64
/// the first Monday, Tuesday, ... on or after the 1st, from 71 on or after the 2nd, and so on.
fn day_of(year: i32, month: u8, code: u8) -> NaiveDate {
    let first = NaiveDate::from_ymd_opt(year, month.into(), 1).unwrap_or_default();
    let on_or_after = |date: NaiveDate, weekday: u8| {
        let ahead = (7 + u32::from(weekday) - date.weekday().num_days_from_monday()) % 7;
        date + Days::new(ahead.into())
    };
    match code {
        0..32 => first + Days::new(u64::from(code.saturating_sub(1))),
        32..64 => {
            let last_week = first + Days::new(u64::from(first.num_days_in_month()) - 7);
            on_or_after(last_week, code - 32)
        }
        _ => on_or_after(
            first + Days::new(u64::from((code - 64) / 7)),
            (code - 64) % 7,
        ),
    }
}

#[cfg(test)]
mod tests {
    use chrono::{Offset, TimeDelta, TimeZone};
    use chrono_tz::{OffsetComponents, OffsetName, TZ_VARIANTS};

    use super::*;
    use crate::civil::LAST_DATE;

    fn by_chrono_tz(zone: Tz, unix_s: i64) -> (i32, bool, String) {
        let utc = DateTime::from_timestamp(unix_s, 0).unwrap().naive_utc();
        let offset = zone.offset_from_utc_datetime(&utc);
        (
            offset.fix().local_minus_utc(),
            offset.dst_offset() > TimeDelta::zero(),
            offset.abbreviation().unwrap_or_default().to_owned(),
        )
    }

    fn same(zone: Tz, unix_s: i64) {
        let ours = shown(zone, unix_s);
        assert_eq!(
            (ours.offset_s, ours.daylight, ours.name.to_owned()),
            by_chrono_tz(zone, unix_s),
            "{zone} at {unix_s}"
        );
    }

    fn same_moments(zone: Tz, reading_s: i64) {
        let reading = DateTime::from_timestamp(reading_s, 0).unwrap().naive_utc();
        let theirs = zone.from_local_datetime(&reading).map(|t| t.timestamp());
        assert_eq!(moments(zone, reading), theirs, "{zone} reading {reading}");
    }

    #[test]
    fn every_zone_has_a_place_of_its_own() {
        let mut places: Vec<usize> = TZ_VARIANTS.iter().map(|zone| *zone as usize).collect();
        places.sort_unstable();
        assert!(places.into_iter().eq(0..TZ_VARIANTS.len()));
    }

    #[test]
    fn before_the_first_change_it_was_the_mean_time_of_the_place() {
        // The files northamerica and asia of the IANA database: -4:56:02 until 1883-11-18 in New
        // York, 8:04 in Manila from 1844-12-31 on, a day less before.
        let at = |text: &str| DateTime::parse_from_rfc3339(text).unwrap().timestamp();
        let mean = shown(Tz::America__New_York, at("1883-11-18T16:59:59Z"));
        assert_eq!(
            (mean.offset_s, mean.name),
            (-(4 * 3600 + 56 * 60 + 2), "LMT")
        );
        let railway = shown(Tz::America__New_York, at("1883-11-18T17:00:00Z"));
        assert_eq!((railway.offset_s, railway.name), (-5 * 3600, "EST"));
        for (year, before) in [("1844", true), ("1845", false)] {
            let offset_s = shown(Tz::Asia__Manila, at(&format!("{year}-06-01T00:00:00Z"))).offset_s;
            assert_eq!(offset_s < 0, before, "{year}: {offset_s}");
        }
    }

    #[test]
    fn every_zone_shows_what_chrono_tz_shows() {
        // From before all changes; the calendar asks for a year more at the end.
        let start = NaiveDate::from_ymd_opt(1800, 1, 1)
            .unwrap()
            .and_time(Default::default());
        let end = (LAST_DATE + Days::new(730)).and_time(Default::default());
        let (start, end) = (start.and_utc().timestamp(), end.and_utc().timestamp());
        let mut changes = 0;
        for zone in TZ_VARIANTS {
            for unix_s in (start..end).step_by(86_400 * 3) {
                same(zone, unix_s);
            }
            for (at, _) in &history(zone).changes {
                changes += 1;
                for near in [at - 1, *at] {
                    same(zone, near);
                }
                // Both sides of every reading that clocks show twice or never.
                let offsets = [shown(zone, at - 1).offset_s, shown(zone, *at).offset_s];
                for offset in offsets {
                    for near in -1..=1 {
                        same_moments(zone, at + i64::from(offset) + near);
                    }
                }
                same_moments(
                    zone,
                    at + (i64::from(offsets[0]) + i64::from(offsets[1])) / 2,
                );
            }
        }
        assert!(changes > 60_000, "{changes}");
    }
}
