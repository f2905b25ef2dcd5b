//! VTIMEZONE: the offsets of a zone, each change written out.
//!
//! The changes come from the IANA database that the engine itself uses, as explicit observances
//! without rules, so that a calendar program that does not know the zone's name, or knows an older
//! database, shows the same clock times.

use chrono::{DateTime, Datelike, NaiveDate, NaiveTime, TimeDelta};
use chrono_tz::Tz;

use super::line::{Lines, basic};
use crate::zone::{self, Shown};

/// Writes the zone for the years of `first` to `last`, and a year on either side. The first observance begins
/// with its own change, since from its two offsets programs tell what daylight saving is worth.
pub(super) fn write(lines: &mut Lines, zone: Tz, first: NaiveDate, last: NaiveDate) {
    let new_year = |year: i32| {
        let day = NaiveDate::from_ymd_opt(year, 1, 1).unwrap_or(first);
        day.and_time(NaiveTime::MIN).and_utc().timestamp()
    };
    let (begin, end) = (new_year(first.year() - 1), new_year(last.year() + 2));
    lines.begin("VTIMEZONE");
    lines.value("TZID", zone.name());
    for (at, was, now) in zone::changes(zone, begin, end) {
        write_observance(lines, at, was, now);
    }
    lines.end("VTIMEZONE");
}

/// DTSTART is the clock reading of the old offset at the moment of the change (section 3.6.5).
fn write_observance(lines: &mut Lines, at: i64, was: Shown, now: Shown) {
    let component = if now.daylight { "DAYLIGHT" } else { "STANDARD" };
    let at = DateTime::from_timestamp(at, 0).unwrap_or_default();
    let local = at.naive_utc() + TimeDelta::seconds(i64::from(was.offset_s));
    lines.begin(component);
    lines.value("DTSTART", &basic(local));
    lines.value("TZOFFSETFROM", &utc_offset(was.offset_s));
    lines.value("TZOFFSETTO", &utc_offset(now.offset_s));
    // Many zones have no name but their offset.
    match now.name {
        "" => lines.text("TZNAME", &utc_offset(now.offset_s)),
        name => lines.text("TZNAME", name),
    }
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
        // March, first Sunday of November, 02:00), and before those the last Sunday of October, written out for
        // the years around 2008.
        assert_eq!(
            written("America/New_York", "2008-05-01", "2008-05-02"),
            [
                "STANDARD 20061029T020000 -0400 -0500 EST",
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
            ["STANDARD 19920301T030000 +1100 +1000 AEST"]
        );
        assert_eq!(
            written("UTC", "2026-09-16", "2026-09-16"),
            ["STANDARD 20250101T000000 +0000 +0000 UTC"]
        );
        // Lord Howe Island: half an hour. The new year lies in daylight saving, which began in October.
        let howe = written("Australia/Lord_Howe", "2026-09-16", "2026-09-16");
        assert_eq!(howe[0], "DAYLIGHT 20241006T020000 +1030 +1100 +1100");
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

    /// Every observance of every seventh zone against the database of the crate chrono-tz: the offsets of the last second before its
    /// beginning and of its first one.
    #[test]
    fn offsets_are_those_of_the_database() {
        use chrono::{NaiveDateTime, Offset, TimeZone};
        for zone in chrono_tz::TZ_VARIANTS.iter().step_by(7) {
            let observances = written(zone.name(), "2026-09-16", "2027-03-01");
            for (place, observance) in observances.iter().enumerate() {
                let parts: Vec<_> = observance.split(' ').collect();
                let local = NaiveDateTime::parse_from_str(parts[1], "%Y%m%dT%H%M%S").unwrap();
                let seconds = |text: &str| {
                    let two = |from: usize| -> i32 {
                        let digits = text.get(from..from + 2);
                        digits.map_or(0, |digits| digits.parse().unwrap())
                    };
                    let size = two(1) * 3600 + two(3) * 60 + two(5);
                    if text.starts_with('-') { -size } else { size }
                };
                let (from, to) = (seconds(parts[2]), seconds(parts[3]));
                let at = local.and_utc() - TimeDelta::seconds(from.into());
                let offset = |at: DateTime<chrono::Utc>| {
                    let offset = zone.offset_from_utc_datetime(&at.naive_utc());
                    offset.fix().local_minus_utc()
                };
                assert_eq!(offset(at), to, "{zone} {observance}");
                assert_eq!(
                    offset(at - TimeDelta::seconds(1)),
                    from,
                    "{zone} {observance}"
                );
                // Only what never began shows no change.
                let is_change = from != to || parts[0] == "STANDARD";
                assert!(place > 0 || is_change, "{zone} {observance}");
            }
        }
    }
}
