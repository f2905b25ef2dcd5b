//! One task as a VEVENT.

use std::fmt::Write;

use chrono::{DateTime, Days, MappedLocalTime, NaiveDate, NaiveTime, TimeDelta, Utc};
use chrono_tz::Tz;

use super::line::{Lines, basic, basic_date, escape};
use crate::calendar::label::Labels;
use crate::calendar::words;
use crate::caution::Caution;
use crate::civil::{
    Edge, Instant, clock_text, date_words, day_start, in_zone, previous_day, whole_minute,
};
use crate::number::COMMON_PRACTICE;
use crate::plan::Plan;
use crate::reason::{Language, Reason, catalogue};
use crate::site::Site;
use crate::task::{Task, TaskKind, TaskState, WaitingTask, Which};
use crate::zone;

/// When the alarm of the evening before rings. Common practice, no source.
const ALARM_HOUR: u32 = 18;
/// How long before a move at dawn the alarm of the morning rings. Common practice, no source.
pub(super) const BEFORE_A_MOVE: TimeDelta = TimeDelta::minutes(30);
/// How long before an entrance is closed or opened its alarm rings. Common practice, no source.
const BEFORE_ENTRANCE: TimeDelta = TimeDelta::minutes(60);

/// When an event is.
pub(super) enum Span {
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

/// What an event of a plan needs besides its task.
pub(super) struct Setting<'a> {
    pub plan: &'a Plan,
    /// Names that tell the plans of the calendar apart.
    pub labels: &'a Labels,
    /// The calendar holds more than one plan, so the summary ends with this one's title.
    pub among_others: bool,
}

/// A task as an event. `first`: the plan's own cautions go with its first event.
pub(super) fn of(setting: &Setting<'_>, task: &Task, first: bool) -> Event {
    let plan = setting.plan;
    let zone = plan.site.zone;
    let span = span(task, zone);
    let done = matches!(task.state, TaskState::Done { .. });
    let short = if done {
        format!("done: {}", task.in_short())
    } else {
        task.in_short().to_owned()
    };
    let summary = setting.summary(task.which, &short);
    let is_open = task.state == TaskState::Planned && task.only_if.is_some();
    let status = match task.state {
        TaskState::Planned if is_open => "TENTATIVE",
        TaskState::Planned | TaskState::Done { .. } => "CONFIRMED",
        TaskState::Dropped => "CANCELLED",
    };
    // A day that is merely planned does not make its keeper busy, nor does work that may never be needed.
    let busy = matches!(span, Span::Timed { .. }) && task.state == TaskState::Planned && !is_open;
    let mut lines = Lines::default();
    span.write(&mut lines, zone);
    let description = description(plan, task, first);
    setting.write(&mut lines, &summary, &description, (task.kind, task.which));
    lines.value("STATUS", status);
    lines.value("TRANSP", if busy { "OPAQUE" } else { "TRANSPARENT" });
    if task.state == TaskState::Planned && !is_open {
        for lead in alarms(plan, task, &span) {
            write_alarm(&mut lines, lead, &summary);
        }
    }
    Event {
        uid: setting.uid(&task.id),
        body: lines,
    }
}

/// A task that waits until something is seen, on the day before which it would be too early.
pub(super) fn waiting(setting: &Setting<'_>, task: &WaitingTask, date: NaiveDate) -> Event {
    let mut lines = Lines::default();
    Span::WholeDay { date }.write(&mut lines, setting.plan.site.zone);
    let mut text = Parts::default();
    text.part(
        "What",
        &[task.title.clone(), whose(setting.plan, task.which)],
    );
    text.part("When", &[task.until.text()]);
    text.part("Why", &[task.why.text()]);
    text.part("Look for", &task.look_for);
    text.part("Where it comes from", &[source(&task.source)]);
    let summary = setting.summary(task.which, &format!("if seen: {}", task.in_short()));
    setting.write(
        &mut lines,
        &summary,
        &text.finish(),
        (task.kind, task.which),
    );
    lines.value("STATUS", "TENTATIVE");
    lines.value("TRANSP", "TRANSPARENT");
    Event {
        uid: setting.uid(&task.id),
        body: lines,
    }
}

impl Setting<'_> {
    fn uid(&self, task: &str) -> String {
        format!("{}.{task}@apiary-almanac", self.plan.id)
    }

    /// The box first: a phone shows some thirty letters.
    fn summary(&self, which: Which, short: &str) -> String {
        let label = self.labels.get(self.plan, which);
        if self.among_others {
            format!("{label}: {short} – {}", self.plan.title)
        } else {
            format!("{label}: {short}")
        }
    }

    fn write(&self, lines: &mut Lines, summary: &str, description: &str, what: (TaskKind, Which)) {
        let plan = self.plan;
        lines.text("SUMMARY", summary);
        lines.text("DESCRIPTION", description);
        let categories = [words::kind(what.0), words::which(what.1), &plan.title];
        lines.value("CATEGORIES", &categories.map(escape).join(","));
        write_place(lines, &plan.title, &plan.site);
    }
}

/// Where it is, by name and by coordinates.
pub(super) fn write_place(lines: &mut Lines, name: &str, site: &Site) {
    lines.text("LOCATION", &format!("{name} ({})", words::place(site)));
    let (latitude, longitude) = (site.latitude_deg.get(), site.longitude_deg.get());
    let geo = format!("{};{}", degrees(latitude), degrees(longitude));
    lines.value("GEO", &geo);
}

/// An alarm that says something so long before the event.
pub(super) fn write_alarm(lines: &mut Lines, lead: TimeDelta, said: &str) {
    lines.begin("VALARM");
    lines.value("ACTION", "DISPLAY");
    lines.value("TRIGGER", &duration_before(lead));
    lines.text("DESCRIPTION", said);
    lines.end("VALARM");
}

impl Span {
    pub fn write(&self, lines: &mut Lines, zone: Tz) {
        match self {
            Span::Timed { from, until } => {
                let ((start, from), (end, until)) = clock_readings(*from, *until, zone);
                lines.value(&format!("DTSTART{start}"), &from);
                lines.value(&format!("DTEND{end}"), &until);
            }
            Span::WholeDay { date } => {
                lines.value("DTSTART;VALUE=DATE", &basic_date(*date));
                // Exclusive (section 3.6.1).
                lines.value("DTEND;VALUE=DATE", &basic_date(*date + Days::new(1)));
            }
        }
    }
}

/// One good hour where there is one, else the whole window.
fn span(task: &Task, zone: Tz) -> Span {
    let date = task.day();
    match &task.window {
        Some(window) if date == task.dates.best => {
            let (from, until) = words::on_the_clock(window, zone);
            let good = task.good_at.map(|at| whole_minute(at, Edge::From));
            match good.filter(|at| (from..until).contains(at)) {
                Some(at) => Span::Timed {
                    from: in_zone(at.to_utc(), zone),
                    until: until.min(in_zone((at + TimeDelta::hours(1)).to_utc(), zone)),
                },
                None => Span::Timed { from, until },
            }
        }
        _ => Span::WholeDay { date },
    }
}

/// A description in the making.
#[derive(Default)]
pub(super) struct Parts(String);

impl Parts {
    pub fn part(&mut self, head: &str, lines: &[String]) {
        if !lines.is_empty() {
            let _ = writeln!(self.0, "{head}\n- {}\n", lines.join("\n- "));
        }
    }

    pub fn finish(mut self) -> String {
        self.0
            .push_str("Local law and licensed practice come before this calendar.");
        self.0
    }
}

fn description(plan: &Plan, task: &Task, first: bool) -> String {
    let mut text = Parts::default();
    text.part(
        "What",
        &[task.title.clone(), whose(plan, task.which), when(task)],
    );
    let why = task.why.iter().chain(&task.only_if).map(Reason::text);
    let mut why: Vec<_> = why.collect();
    why.dedup();
    text.part("Why", &why);
    text.part("Look for", &task.look_for);
    text.part("Mind", &cautions(&task.cautions));
    if first {
        text.part("Mind throughout the plan", &cautions(&plan.cautions));
    }
    let mut behind = vec![source(&task.source)];
    behind.extend(Some(words::rests_on(&task.rests_on)).filter(|text| !text.is_empty()));
    text.part("Where it comes from", &behind);
    text.finish()
}

/// What to mind, each with the number or day that calls for it.
pub(super) fn cautions(list: &[Caution]) -> Vec<String> {
    let told = list.iter().map(|caution| match caution.because() {
        Some(because) => format!("{} [{because}]", caution.text),
        None => caution.text.to_string(),
    });
    told.collect()
}

/// In plain words where there is no publication.
fn source(source: &str) -> String {
    let practice = catalogue::word(Language::English, COMMON_PRACTICE);
    source.replace(COMMON_PRACTICE, practice.unwrap_or(COMMON_PRACTICE))
}

fn whose(plan: &Plan, which: Which) -> String {
    format!("{}: {}", plan.title, plan.box_name(which))
}

fn when(task: &Task) -> String {
    let dates = &task.dates;
    let state = match task.state {
        TaskState::Planned => String::new(),
        TaskState::Done { on } => format!("Done on {}. ", date_words(on)),
        TaskState::Dropped => "Left out. ".to_owned(),
    };
    let about = match (task.good_at, task.window) {
        (Some(at), Some(window)) => {
            let at = clock_text(at, Edge::From);
            format!(", about {at}; {window} would do")
        }
        (Some(at), None) => format!(", about {}", clock_text(at, Edge::From)),
        (None, _) => String::new(),
    };
    if dates.earliest == dates.latest {
        format!("{state}Planned for {}{about}.", date_words(dates.best))
    } else {
        format!(
            "{state}Best on {}{about}; not before {}, by {} at the latest.",
            date_words(dates.best),
            date_words(dates.earliest),
            date_words(dates.latest)
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

/// How long before the event its alarms ring, in real time, so that a change of the clocks in between does not
/// shift them.
fn alarms(plan: &Plan, task: &Task, span: &Span) -> Vec<TimeDelta> {
    let zone = plan.site.zone;
    let start = match span {
        Span::Timed { from, .. } => from.to_utc(),
        Span::WholeDay { date } => match day_start(*date, zone) {
            Ok(start) => start,
            Err(_) => return Vec::new(),
        },
    };
    let timed = matches!(span, Span::Timed { .. });
    let leads = match task.kind {
        TaskKind::Move if timed => {
            let closing = closing_before(plan, task).map(|at| at.to_utc());
            let evening = closing.or_else(|| evening_before(task.dates.best, zone));
            vec![evening.map(|at| start - at), Some(BEFORE_A_MOVE)]
        }
        TaskKind::Entrance if goes_with_a_move(plan, task) => Vec::new(),
        TaskKind::Entrance if timed => vec![Some(BEFORE_ENTRANCE)],
        _ => vec![evening_before(task.dates.best, zone).map(|at| start - at)],
    };
    let ahead = |lead: &TimeDelta| *lead > TimeDelta::zero();
    leads.into_iter().flatten().filter(ahead).collect()
}

/// When the entrance is closed for a move of the next dawn.
fn closing_before(plan: &Plan, task: &Task) -> Option<Instant> {
    let evening = previous_day(task.dates.best, plan.site.zone).ok()?;
    let closing = plan.tasks.iter().find(|other| {
        other.kind == TaskKind::Entrance
            && other.which == task.which
            && other.dates.best == evening
            && other.state != TaskState::Dropped
    })?;
    closing.window.map(|window| window.from)
}

/// Its hours are those of a move of the same box, which has alarms.
fn goes_with_a_move(plan: &Plan, task: &Task) -> bool {
    task.window.is_some()
        && plan.tasks.iter().any(|other| {
            other.kind == TaskKind::Move && other.which == task.which && other.window == task.window
        })
}

/// 18:00 of the civil day before; `None` at the very edge of the calendar.
fn evening_before(date: NaiveDate, zone: Tz) -> Option<DateTime<Utc>> {
    let evening = previous_day(date, zone)
        .ok()?
        .and_time(NaiveTime::from_hms_opt(ALARM_HOUR, 0, 0)?);
    let evening = zone::instants(zone, evening).earliest()?;
    Some(evening.to_utc())
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
        let lead = |start: DateTime<Utc>, date: NaiveDate, name: &str| {
            duration_before(start - evening_before(date, zone(name)).unwrap())
        };
        let whole_day = |date: &str, name: &str| {
            let date = date.parse().unwrap();
            lead(day_start(date, zone(name)).unwrap(), date, name)
        };
        assert_eq!(whole_day("2026-09-16", "Australia/Sydney"), "-PT6H");
        // Brazil's clocks went back at midnight, from 18 to 17 February 2018: that evening had an
        // hour more.
        assert_eq!(whole_day("2018-02-18", "America/Sao_Paulo"), "-PT7H");
        // Samoa's 30 December 2011 did not take place: the evening before the 31st is the 29th.
        assert_eq!(whole_day("2011-12-31", "Pacific/Apia"), "-PT6H");
        let timed = |from: &str, name: &str| {
            let from: Instant = from.parse().unwrap();
            lead(from.to_utc(), from.date_naive(), name)
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
