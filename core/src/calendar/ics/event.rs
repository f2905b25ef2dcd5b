//! One task as a VEVENT.

use std::fmt::Write;

use chrono::{DateTime, Days, MappedLocalTime, NaiveDate, NaiveTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::line::{Lines, basic, basic_date, escape};
use crate::calendar::words;
use crate::civil::{Edge, Instant, clock_text, day_start, previous_day};
use crate::plan::Plan;
use crate::reason::Reason;
use crate::task::{Task, TaskState};
use crate::zone;

/// When the alarm of the evening before rings. Common practice, no source.
const ALARM_HOUR: u32 = 18;

/// When an event is.
enum Span {
    Timed { from: Instant, until: Instant },
    WholeDay { date: NaiveDate },
}

/// An event but for its version.
pub(super) struct Event {
    pub uid: String,
    /// Its lines after the version.
    pub body: Lines,
}

impl Event {
    pub fn write(&self, lines: &mut Lines, sequence: u32, stamp: &str) {
        lines.begin("VEVENT");
        lines.value("UID", &self.uid);
        lines.value("DTSTAMP", stamp);
        lines.value("LAST-MODIFIED", stamp);
        lines.value("SEQUENCE", &sequence.to_string());
        lines.append(&self.body);
        lines.end("VEVENT");
    }
}

/// `among_others`: the file holds more than one plan, so the summary names the colony.
/// `first`: the plan's own cautions go with its first event.
pub(super) fn of(plan: &Plan, task: &Task, among_others: bool, first: bool) -> Event {
    let zone = plan.site.zone;
    let span = span(task, zone);
    let mut lines = Lines::default();
    match span {
        Span::Timed { from, until } => {
            let ((start, from), (end, until)) = clock_readings(from, until, zone);
            lines.value(&format!("DTSTART{start}"), &from);
            lines.value(&format!("DTEND{end}"), &until);
        }
        Span::WholeDay { date } => {
            lines.value("DTSTART;VALUE=DATE", &basic_date(date));
            // Exclusive (section 3.6.1).
            lines.value("DTEND;VALUE=DATE", &basic_date(date + Days::new(1)));
        }
    }
    lines.text("SUMMARY", &summary(plan, task, among_others));
    lines.text("DESCRIPTION", &description(plan, task, first));
    let categories = [
        words::kind(task.kind),
        words::which(task.which),
        &plan.title,
    ];
    lines.value("CATEGORIES", &categories.map(escape).join(","));
    lines.text(
        "LOCATION",
        &format!("{} ({})", plan.title, words::place(&plan.site)),
    );
    lines.value(
        "GEO",
        &format!(
            "{};{}",
            degrees(plan.site.latitude_deg.get()),
            degrees(plan.site.longitude_deg.get())
        ),
    );
    let status = match task.state {
        TaskState::Planned | TaskState::Done { .. } => "CONFIRMED",
        TaskState::Dropped => "CANCELLED",
    };
    lines.value("STATUS", status);
    // A day that is merely planned does not make its keeper busy.
    let busy = matches!(span, Span::Timed { .. }) && task.state == TaskState::Planned;
    lines.value("TRANSP", if busy { "OPAQUE" } else { "TRANSPARENT" });
    if task.state == TaskState::Planned
        && let Some(before) = alarm_lead(&span, task.dates.best, zone)
    {
        lines.begin("VALARM");
        lines.value("ACTION", "DISPLAY");
        lines.value("TRIGGER", &duration_before(before));
        lines.text("DESCRIPTION", &summary(plan, task, among_others));
        lines.end("VALARM");
    }
    Event {
        uid: format!("{}.{}@apiary-almanac", plan.id, task.id),
        body: lines,
    }
}

fn span(task: &Task, zone: Tz) -> Span {
    let date = match task.state {
        TaskState::Done { on } => on,
        TaskState::Planned | TaskState::Dropped => task.dates.best,
    };
    match &task.window {
        Some(window) if date == task.dates.best => {
            let (from, until) = words::on_the_clock(window, zone);
            Span::Timed { from, until }
        }
        _ => Span::WholeDay { date },
    }
}

/// The box first: a phone shows some thirty letters.
fn summary(plan: &Plan, task: &Task, among_others: bool) -> String {
    let done = if matches!(task.state, TaskState::Done { .. }) {
        "done: "
    } else {
        ""
    };
    let whose = if among_others {
        format!(" – {}", plan.title)
    } else {
        String::new()
    };
    format!(
        "{}: {done}{}{whose}",
        plan.box_name(task.which),
        task.in_short()
    )
}

fn description(plan: &Plan, task: &Task, first: bool) -> String {
    let mut text = String::new();
    let mut part = |head: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            let _ = writeln!(text, "{head}\n- {}\n", lines.join("\n- "));
        }
    };
    part(
        "What",
        vec![task.title.clone(), whose(plan, task), when(task)],
    );
    part("Why", task.why.iter().map(Reason::text).collect());
    part("Look for", task.look_for.clone());
    let cautions = |list: &[crate::caution::Caution]| -> Vec<String> {
        list.iter()
            .map(|c| match c.because() {
                Some(because) => format!("{} [{because}]", c.text),
                None => c.text.to_string(),
            })
            .collect()
    };
    part("Mind", cautions(&task.cautions));
    if first {
        part("Mind throughout the plan", cautions(&plan.cautions));
    }
    let mut behind = vec![format!("Rule: {}", task.source)];
    behind.extend(Some(words::rests_on(&task.rests_on)).filter(|text| !text.is_empty()));
    part("Where the date comes from", behind);
    text.push_str("Local law and licensed practice come before this calendar.");
    text
}

fn whose(plan: &Plan, task: &Task) -> String {
    format!("{}: {}", plan.title, plan.box_name(task.which))
}

fn when(task: &Task) -> String {
    let dates = &task.dates;
    let state = match task.state {
        TaskState::Planned => String::new(),
        TaskState::Done { on } => format!("Done on {}. ", words::date(on)),
        TaskState::Dropped => "Left out. ".to_owned(),
    };
    let about = task.good_at.map_or_else(String::new, |at| {
        format!(", about {}", clock_text(at, Edge::From))
    });
    if dates.earliest == dates.latest {
        format!("{state}Planned for {}{about}.", words::date(dates.best))
    } else {
        format!(
            "{state}Best on {}{about}; not before {}, by {} at the latest.",
            words::date(dates.best),
            words::date(dates.earliest),
            words::date(dates.latest)
        )
    }
}

type Reading = (String, String);

/// Parameters and values of DTSTART and DTEND. A reading that clocks show twice means the first
/// pass (section 3.3.5), but some programs take it for the second, so such a time is written in UTC.
fn clock_readings(from: Instant, until: Instant, zone: Tz) -> (Reading, Reading) {
    let repeated = |at: Instant| {
        let reading = zone::moments(zone, at.naive_local());
        matches!(reading, MappedLocalTime::Ambiguous(..))
    };
    if repeated(from) || repeated(until) {
        let plain = |at: Instant| (String::new(), utc(at.to_utc()));
        return (plain(from), plain(until));
    }
    let local = |at: Instant| (format!(";TZID={}", zone.name()), basic(at.naive_local()));
    (local(from), local(until))
}

pub(super) fn utc(at: DateTime<Utc>) -> String {
    basic(at.naive_utc()) + "Z"
}

/// From 18:00 of the civil day before to the event, in real time, so that a change of the clocks in
/// between does not shift the alarm. `None` at the very edge of the calendar.
fn alarm_lead(span: &Span, best: NaiveDate, zone: Tz) -> Option<TimeDelta> {
    let start = match span {
        Span::Timed { from, .. } => from.to_utc(),
        Span::WholeDay { date } => day_start(*date, zone).ok()?,
    };
    let evening = previous_day(best, zone)
        .ok()?
        .and_time(NaiveTime::from_hms_opt(ALARM_HOUR, 0, 0)?);
    let evening = zone::instants(zone, evening).earliest()?;
    Some(start - evening).filter(|lead| *lead > TimeDelta::zero())
}

/// Hours, minutes and seconds are real time in section 3.3.6; days would follow the clocks.
fn duration_before(lead: TimeDelta) -> String {
    let s = lead.num_seconds();
    let mut text = "-PT".to_owned();
    for (count, unit) in [(s / 3600, 'H'), (s / 60 % 60, 'M'), (s % 60, 'S')] {
        if count > 0 {
            let _ = write!(text, "{count}{unit}");
        }
    }
    text
}

/// Six decimals, as section 3.8.1.6 asks; zero has no sign.
fn degrees(value: f64) -> String {
    let text = format!("{value:.6}");
    match text.strip_prefix('-') {
        Some(zero) if zero.bytes().all(|b| b == b'0' || b == b'.') => zero.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_evening_before_across_clock_changes() {
        let zone = |name: &str| -> Tz { name.parse().unwrap() };
        let whole_day = |date: &str, name: &str| {
            let date = date.parse().unwrap();
            let lead = alarm_lead(&Span::WholeDay { date }, date, zone(name)).unwrap();
            duration_before(lead)
        };
        assert_eq!(whole_day("2026-09-16", "Australia/Sydney"), "-PT6H");
        // Brazil's clocks went back at midnight, from 18 to 17 February 2018: that evening had an
        // hour more.
        assert_eq!(whole_day("2018-02-18", "America/Sao_Paulo"), "-PT7H");
        // Samoa's 30 December 2011 did not take place: the evening before the 31st is the 29th.
        assert_eq!(whole_day("2011-12-31", "Pacific/Apia"), "-PT6H");
        let timed = |from: &str, name: &str| {
            let from: Instant = from.parse().unwrap();
            let span = Span::Timed { from, until: from };
            duration_before(alarm_lead(&span, from.date_naive(), zone(name)).unwrap())
        };
        // Clocks went forward at 02:00 that night, back on the other.
        assert_eq!(
            timed("2026-10-04T06:10:00+11:00", "Australia/Sydney"),
            "-PT11H10M"
        );
        assert_eq!(
            timed("2026-04-05T06:10:00+10:00", "Australia/Sydney"),
            "-PT13H10M"
        );
        assert_eq!(
            timed("2026-09-16T05:35:07+10:00", "Australia/Sydney"),
            "-PT11H35M7S"
        );
    }

    #[test]
    fn both_passes_of_a_repeated_hour() {
        let zone: Tz = "Australia/Sydney".parse().unwrap();
        let readings = |from: &str, until: &str| {
            clock_readings(from.parse().unwrap(), until.parse().unwrap(), zone)
        };
        let utc = |text: &str| (String::new(), text.to_owned());
        let (first, until) = readings("2026-04-05T02:10:00+11:00", "2026-04-05T06:00:00+10:00");
        assert_eq!(
            (first, until),
            (utc("20260404T151000Z"), utc("20260404T200000Z"))
        );
        let (second, _) = readings("2026-04-05T02:10:00+10:00", "2026-04-05T06:00:00+10:00");
        assert_eq!(second, utc("20260404T161000Z"));
        let (three, _) = readings("2026-04-05T03:00:00+10:00", "2026-04-05T06:00:00+10:00");
        let zoned = ";TZID=Australia/Sydney".to_owned();
        assert_eq!(three, (zoned, "20260405T030000".to_owned()));
    }

    #[test]
    fn degrees_have_six_decimals_and_no_negative_zero() {
        assert_eq!(degrees(-28.81), "-28.810000");
        assert_eq!(degrees(-0.0), "0.000000");
        assert_eq!(degrees(-1e-9), "0.000000");
    }
}
