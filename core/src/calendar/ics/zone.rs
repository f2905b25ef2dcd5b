//! VTIMEZONE: the offsets of a zone, each change written out.
//!
//! The changes come from the IANA database that the engine itself uses, as explicit observances
//! without rules, so that a calendar program that does not know the zone's name, or knows an older
//! database, shows the same clock times.

use std::convert::Infallible;

use chrono::{DateTime, Datelike, NaiveDate, TimeDelta, Utc};
use chrono_tz::Tz;

use super::line::{Lines, basic};
use crate::search::change;
use crate::zone;

/// What the clocks of a zone show from some moment on.
#[derive(Debug, Clone, PartialEq)]
struct Observance {
    offset_s: i32,
    daylight: bool,
    name: String,
}

/// Writes the zone for the years of `first` to `last`, and a year on either side.
pub(super) fn write(lines: &mut Lines, zone: Tz, first: NaiveDate, last: NaiveDate) {
    let new_year = |year: i32| {
        NaiveDate::from_ymd_opt(year, 1, 1)
            .unwrap_or(first)
            .and_time(chrono::NaiveTime::MIN)
            .and_utc()
    };
    let (mut at, end) = (new_year(first.year() - 1), new_year(last.year() + 2));
    let mut now = observance(zone, at);
    lines.begin("VTIMEZONE");
    lines.value("TZID", zone.name());
    write_observance(lines, at, now.offset_s, &now);
    while at < end {
        let next = at + TimeDelta::days(1);
        if observance(zone, next) == now {
            at = next;
            continue;
        }
        let changed = first_change(zone, at, next, &now);
        let then = observance(zone, changed);
        write_observance(lines, changed, now.offset_s, &then);
        (at, now) = (changed, then);
    }
    lines.end("VTIMEZONE");
}

fn observance(zone: Tz, at: DateTime<Utc>) -> Observance {
    let shown = zone::shown(zone, at.timestamp());
    Observance {
        offset_s: shown.offset_s,
        daylight: shown.daylight,
        // Many zones have no name but their offset.
        name: match shown.name {
            "" => utc_offset(shown.offset_s),
            name => name.to_owned(),
        },
    }
}

/// The first second of `after..=before` on which the zone no longer shows `now`.
fn first_change(
    zone: Tz,
    after: DateTime<Utc>,
    before: DateTime<Utc>,
    now: &Observance,
) -> DateTime<Utc> {
    let moment = |second| DateTime::from_timestamp(second, 0).unwrap_or_default();
    let Ok((_, first)) = change(after.timestamp(), before.timestamp(), |second| {
        Ok::<_, Infallible>(observance(zone, moment(second)) == *now)
    });
    moment(first)
}

/// DTSTART is the clock reading of the old offset at the moment of the change (section 3.6.5).
fn write_observance(lines: &mut Lines, at: DateTime<Utc>, old_offset_s: i32, new: &Observance) {
    let component = if new.daylight { "DAYLIGHT" } else { "STANDARD" };
    let local = at.naive_utc() + TimeDelta::seconds(i64::from(old_offset_s));
    lines.begin(component);
    lines.value("DTSTART", &basic(local));
    lines.value("TZOFFSETFROM", &utc_offset(old_offset_s));
    lines.value("TZOFFSETTO", &utc_offset(new.offset_s));
    lines.text("TZNAME", &new.name);
    lines.end(component);
}

/// `+1000`, with seconds only where there are any (section 3.3.14).
fn utc_offset(offset_s: i32) -> String {
    let sign = if offset_s < 0 { '-' } else { '+' };
    let s = offset_s.abs();
    let (hours, minutes, seconds) = (s / 3600, s / 60 % 60, s % 60);
    if seconds == 0 {
        format!("{sign}{hours:02}{minutes:02}")
    } else {
        format!("{sign}{hours:02}{minutes:02}{seconds:02}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(zone: &str, first: &str, last: &str) -> Vec<String> {
        let mut lines = Lines::default();
        let date = |text: &str| text.parse().unwrap();
        write(&mut lines, zone.parse().unwrap(), date(first), date(last));
        let text = lines.into_text();
        let observances = text.split("BEGIN:").skip(2);
        observances
            .map(|part| {
                let value = |name: &str| {
                    let line = part.lines().find(|l| l.starts_with(name)).unwrap();
                    line.split_once(':').unwrap().1.to_owned()
                };
                format!(
                    "{} {} {} {} {}",
                    part.lines().next().unwrap(),
                    value("DTSTART"),
                    value("TZOFFSETFROM"),
                    value("TZOFFSETTO"),
                    value("TZNAME")
                )
            })
            .collect()
    }

    #[test]
    fn new_york_of_the_standard() {
        // RFC 5545, section 3.6.5: the examples' rules for New York since 2007 (second Sunday of
        // March, first Sunday of November, 02:00), written out for the years around 2008.
        assert_eq!(
            written("America/New_York", "2008-05-01", "2008-05-02"),
            [
                "STANDARD 20061231T190000 -0500 -0500 EST",
                "DAYLIGHT 20070311T020000 -0500 -0400 EDT",
                "STANDARD 20071104T020000 -0400 -0500 EST",
                "DAYLIGHT 20080309T020000 -0500 -0400 EDT",
                "STANDARD 20081102T020000 -0400 -0500 EST",
                "DAYLIGHT 20090308T020000 -0500 -0400 EDT",
                "STANDARD 20091101T020000 -0400 -0500 EST",
            ]
        );
    }

    #[test]
    fn zones_without_changes_and_with_odd_ones() {
        assert_eq!(
            written("Australia/Brisbane", "2026-09-16", "2027-03-01"),
            ["STANDARD 20250101T100000 +1000 +1000 AEST"]
        );
        // Lord Howe Island: half an hour.
        let howe = written("Australia/Lord_Howe", "2026-09-16", "2026-09-16");
        assert_eq!(howe[2], "DAYLIGHT 20251005T020000 +1030 +1100 +1100");
        // Samoa left out 30 December 2011; at midnight the offset went from -10 to +14.
        let apia = written("Pacific/Apia", "2011-12-29", "2011-12-31");
        assert!(
            apia.iter()
                .any(|o| o.starts_with("DAYLIGHT 20111230T000000 -1000 +1400")),
            "{apia:?}"
        );
        assert_eq!(utc_offset(-17_762), "-045602");
    }
}
