//! Words and clock times that every form of a plan shares.

use chrono::{Datelike, NaiveDate, TimeDelta};
use chrono_tz::Tz;

use crate::civil::{Edge, Instant, MONTHS, in_zone, whole_minute};
use crate::site::Site;
use crate::task::{TaskKind, TimeWindow, Which};
use crate::wait::RestsOn;

/// What calendars and pictures call a kind of work.
pub(super) const fn kind(kind: TaskKind) -> &'static str {
    match kind {
        TaskKind::Prepare => "Preparing",
        TaskKind::Divide => "Dividing",
        TaskKind::Entrance => "Entrance",
        TaskKind::PestWatch => "Pest watch",
        TaskKind::Move => "Move",
        TaskKind::Rest => "Rest",
        TaskKind::Check => "Check",
        TaskKind::Feed => "Feeding",
        TaskKind::Decide => "Decision",
        TaskKind::NextDivision => "Next division",
    }
}

pub(super) const fn which(which: Which) -> &'static str {
    match which {
        Which::Parent => "Old box",
        Which::Daughter => "New box",
        Which::Pair => "Both boxes",
    }
}

/// A window on the site's clocks, drawn in to whole minutes.
pub(super) fn on_the_clock(window: &TimeWindow, zone: Tz) -> (Instant, Instant) {
    let shown = |at: Instant| in_zone(at.to_utc(), zone);
    let minutes = (
        whole_minute(window.from, Edge::From),
        whole_minute(window.until, Edge::Until),
    );
    if minutes.0 < minutes.1 {
        return (shown(minutes.0), shown(minutes.1));
    }
    let second = |at: Instant| at - TimeDelta::nanoseconds(at.timestamp_subsec_nanos().into());
    let from = second(window.from);
    let until = second(window.until).max(from + TimeDelta::seconds(1));
    (shown(from), shown(until))
}

/// `28.81° S, 153.28° E`.
pub(super) fn place(site: &Site) -> String {
    let (latitude, longitude) = (site.latitude_deg.get(), site.longitude_deg.get());
    format!(
        "{:.2}° {}, {:.2}° {}",
        latitude.abs(),
        if latitude < 0.0 { "S" } else { "N" },
        longitude.abs(),
        if longitude < 0.0 { "W" } else { "E" },
    )
}

/// A text with some characters replaced; other control characters become spaces.
pub(super) fn escaped(
    text: &str,
    mut replacement: impl FnMut(char) -> Option<&'static str>,
) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match replacement(c) {
            Some(other) => out.push_str(other),
            None if c.is_control() => out.push(' '),
            None => out.push(c),
        }
    }
    out
}

/// `September`.
pub(super) fn month(date: NaiveDate) -> &'static str {
    MONTHS[date.month0() as usize]
}

/// `Sep`.
pub(super) fn short_month(date: NaiveDate) -> &'static str {
    &month(date)[..3]
}

/// `14 Sep 2026`.
pub(super) fn date(date: NaiveDate) -> String {
    format!("{} {}", short_date(date), date.year())
}

/// `14 Sep`.
pub(super) fn short_date(date: NaiveDate) -> String {
    format!("{} {}", date.day(), short_month(date))
}

/// Which weather a date rests on; empty where none was asked for.
pub(super) fn rests_on(days: &RestsOn) -> String {
    let parts: Vec<_> = [
        (days.recorded_days, "recorded"),
        (days.forecast_days, "forecast"),
        (days.normal_days, "from normals"),
        (days.default_days, "from the default for the location"),
    ]
    .into_iter()
    .filter(|(count, _)| *count > 0)
    .map(|(count, from)| format!("{count} {from}"))
    .collect();
    if parts.is_empty() {
        String::new()
    } else {
        format!("Days of weather behind the date: {}.", parts.join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn windows_never_grow() {
        let zone: Tz = "Australia/Sydney".parse().unwrap();
        let clock = |from: &str, until: &str| {
            let at = |text: &str| format!("2026-09-16T{text}+10:00").parse().unwrap();
            let window = TimeWindow {
                from: at(from),
                until: at(until),
            };
            let (from, until) = on_the_clock(&window, zone);
            (
                from.format("%H:%M:%S").to_string(),
                until.format("%H:%M:%S").to_string(),
            )
        };
        let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        assert_eq!(
            clock("05:34:00.001", "08:37:59"),
            pair("05:35:00", "08:37:00")
        );
        assert_eq!(clock("05:34:00", "08:37:00"), pair("05:34:00", "08:37:00"));
        assert_eq!(clock("05:34:10", "05:34:50"), pair("05:34:10", "05:34:50"));
        assert_eq!(
            clock("05:34:10.1", "05:34:10.2"),
            pair("05:34:10", "05:34:11")
        );
    }
}
