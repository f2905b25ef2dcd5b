//! Plans as a table for spreadsheets: RFC 4180, UTF-8, one row a task.

use std::borrow::Cow;

use chrono::NaiveDate;
use serde::Serialize;

use super::check::check_plans;
use super::words;
use crate::civil::{Edge, Instant, clock_text};
use crate::error::Error;
use crate::morning::Weekday;
use crate::plan::Plan;
use crate::reason::{Language, Reason, catalogue};
use crate::task::{Task, TaskState, WaitingTask};
use crate::wire;
use crate::year_dates::YearDates;

/// Writes plans as CSV, one row a task, in the order given.
///
/// The first ten columns are for people: the date (the day it was done, of a done task), weekday, clock
/// times on that date, keeper, hive, box, title, state and place. The others are for programs.
///
/// The state is `planned`, `done`, `dropped`, `only_if` for what is done only if something is seen or not seen,
/// and `waiting` for a task that has no date until something is seen: it stands after the others of its plan, on
/// the day before which it would be too early, or without a date.
///
/// Clock times are those of the site's zone; `window_from` and `window_until` are written
/// `2026-09-16T05:35`, `utc_offset` is the one in force at `window_from`. Several reasons, signs or
/// cautions stand in one cell, each on a line of its own.
///
/// A text that begins with `=`, `+`, `-`, `@`, a tab or a line break would be run as a formula by
/// spreadsheet programs; such a cell gets an apostrophe before it. Cells that are numbers, as
/// `latitude_deg`, do not.
///
/// # Errors
/// As [`super::plans_ics`], but no plan at all gives a table of no rows.
///
/// ```
/// let table = apiary_almanac::calendar::plans_csv(&[])?;
/// assert!(table.starts_with("date,weekday,from,until,keeper,hive,box,title,"));
/// assert!(table.ends_with("source\r\n"));
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn plans_csv(plans: &[Plan]) -> Result<String, Error> {
    check_plans(plans)?;
    let mut table = String::new();
    write_record(&mut table, COLUMNS.map(Cow::Borrowed));
    for plan in plans {
        for task in &plan.tasks {
            write_record(&mut table, record(plan, task));
        }
        for task in &plan.waiting {
            write_record(&mut table, waiting(plan, task));
        }
    }
    Ok(table)
}

const COLUMNS: [&str; 31] = [
    // What a person looks for.
    "date",
    "weekday",
    "from",
    "until",
    "keeper",
    "hive",
    "box",
    "title",
    "state",
    "place",
    // What a program needs besides.
    "plan",
    "plan_title",
    "method",
    "bee",
    "latitude_deg",
    "longitude_deg",
    "zone",
    "task",
    "kind",
    "which",
    "done_on",
    "earliest",
    "best",
    "latest",
    "window_from",
    "window_until",
    "utc_offset",
    "why",
    "look_for",
    "cautions",
    "source",
];

type Record<'a> = [Cow<'a, str>; COLUMNS.len()];

/// Writes the dates of a year as CSV, one row a date, in the order of the places.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::calendar::year_dates_csv;
/// use apiary_almanac::year_dates::{DatedPlace, YearDatesRequest, year_dates};
/// let site = Site::new(-25.43, -49.27, 920.0, "America/Sao_Paulo")?;
/// let request = YearDatesRequest::new([DatedPlace::new("Curitiba", site)], "2027-01-01".parse()?);
/// let table = year_dates_csv(&year_dates(&request)?);
/// assert!(table.starts_with("date,weekday,until,place,kind,text,bee,id\r\n2027-01-01,Friday,"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn year_dates_csv(dates: &YearDates) -> String {
    let mut table = String::new();
    let head = [
        "date", "weekday", "until", "place", "kind", "text", "bee", "id",
    ];
    write_record(&mut table, head.map(Cow::Borrowed));
    for place in &dates.places {
        for date in &place.dates {
            let text = date.text.text();
            write_record(
                &mut table,
                [
                    date.date.to_string().into(),
                    weekday(date.date).into(),
                    date.until.to_string().into(),
                    harmless(&place.name),
                    name(&date.kind).into(),
                    harmless(&text),
                    harmless(&place.bee),
                    Cow::Borrowed(&date.id),
                ],
            );
        }
    }
    table
}

/// One line, with quotes where a cell needs them (RFC 4180, section 2).
fn write_record<const N: usize>(table: &mut String, record: [Cow<'_, str>; N]) {
    for (i, cell) in record.iter().enumerate() {
        if i > 0 {
            table.push(',');
        }
        if cell.contains([',', '"', '\r', '\n']) {
            table.push('"');
            table.push_str(&cell.replace('"', "\"\""));
            table.push('"');
        } else {
            table.push_str(cell);
        }
    }
    table.push_str("\r\n");
}

fn record<'a>(plan: &'a Plan, task: &'a Task) -> Record<'a> {
    let window = task
        .window
        .as_ref()
        .map(|window| words::on_the_clock(window, plan.site.zone));
    let lines = |texts: &[String]| Cow::Owned(harmless(&texts.join("\n")).into_owned());
    let (state, done_on) = match task.state {
        TaskState::Planned if task.only_if.is_some() => ("only_if", None),
        TaskState::Planned => ("planned", None),
        TaskState::Done { on } => ("done", Some(on)),
        TaskState::Dropped => ("dropped", None),
    };
    let clock = |at: Instant, edge| format!("{}T{}", at.date_naive(), clock_text(at, edge));
    let date = done_on.unwrap_or(task.dates.best);
    let on_date = window.filter(|_| date == task.dates.best);
    [
        date.to_string().into(),
        weekday(date).into(),
        or_nothing(on_date.map(|(from, _)| clock_text(from, Edge::From))),
        or_nothing(on_date.map(|(_, until)| clock_text(until, Edge::Until))),
        keeper(plan),
        Cow::Owned(harmless(&plan.names()).into_owned()),
        Cow::Owned(harmless(&plan.box_name(task.which)).into_owned()),
        harmless(&task.title),
        state.into(),
        words::place(&plan.site).into(),
        Cow::Borrowed(&plan.id),
        harmless(&plan.title),
        harmless(&plan.method),
        harmless(&plan.bee),
        degrees(plan.site.latitude_deg.get()).into(),
        degrees(plan.site.longitude_deg.get()).into(),
        plan.site.zone.name().into(),
        Cow::Borrowed(&task.id),
        name(&task.kind).into(),
        name(&task.which).into(),
        or_nothing(done_on),
        task.dates.earliest.to_string().into(),
        task.dates.best.to_string().into(),
        task.dates.latest.to_string().into(),
        or_nothing(window.map(|(from, _)| clock(from, Edge::From))),
        or_nothing(window.map(|(_, until)| clock(until, Edge::Until))),
        or_nothing(window.map(|(from, _)| format!("UTC{}", from.offset()))),
        lines(
            &task
                .why
                .iter()
                .chain(&task.only_if)
                .map(Reason::text)
                .collect::<Vec<_>>(),
        ),
        lines(&task.look_for),
        lines(
            &task
                .cautions
                .iter()
                .map(|c| c.text.to_string())
                .collect::<Vec<_>>(),
        ),
        harmless(&task.source),
    ]
}

fn weekday(date: NaiveDate) -> &'static str {
    catalogue::word(Language::English, Weekday::of(date).word()).unwrap_or_default()
}

fn waiting<'a>(plan: &'a Plan, task: &'a WaitingTask) -> Record<'a> {
    let lines = |texts: &[String]| Cow::Owned(harmless(&texts.join("\n")).into_owned());
    let weekday = task.not_before.map(weekday);
    [
        or_nothing(task.not_before),
        or_nothing(weekday),
        "".into(),
        "".into(),
        keeper(plan),
        Cow::Owned(harmless(&plan.names()).into_owned()),
        Cow::Owned(harmless(&plan.box_name(task.which)).into_owned()),
        harmless(&task.title),
        "waiting".into(),
        words::place(&plan.site).into(),
        Cow::Borrowed(&plan.id),
        harmless(&plan.title),
        harmless(&plan.method),
        harmless(&plan.bee),
        degrees(plan.site.latitude_deg.get()).into(),
        degrees(plan.site.longitude_deg.get()).into(),
        plan.site.zone.name().into(),
        Cow::Borrowed(&task.id),
        name(&task.kind).into(),
        name(&task.which).into(),
        "".into(),
        or_nothing(task.not_before),
        "".into(),
        or_nothing(task.not_after),
        "".into(),
        "".into(),
        "".into(),
        lines(&[task.until.text(), task.why.text()]),
        lines(&task.look_for),
        "".into(),
        harmless(&task.source),
    ]
}

fn keeper(plan: &Plan) -> Cow<'_, str> {
    plan.keeper.as_deref().map_or(Cow::Borrowed(""), harmless)
}

fn or_nothing(value: Option<impl ToString>) -> Cow<'static, str> {
    value.map_or(Cow::Borrowed(""), |value| Cow::Owned(value.to_string()))
}

/// The name that the JSON form has.
fn name(value: &impl Serialize) -> String {
    wire::to_json(value).trim_matches('"').to_owned()
}

/// As many decimals as it takes, and always one.
fn degrees(value: f64) -> String {
    format!("{value:?}")
}

/// A text that no spreadsheet runs as a formula. The wide forms count too: some programs fold them.
fn harmless(text: &str) -> Cow<'_, str> {
    const SIGNS: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];
    // Some programs pass over blanks before a formula.
    if text.trim_start_matches(' ').starts_with(SIGNS) {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::{AWKWARD, plan};
    use super::*;

    #[test]
    fn every_cell_comes_back() {
        let mut plan = plan();
        for (task, title) in plan.tasks.iter_mut().zip(AWKWARD) {
            title.clone_into(&mut task.title);
        }
        let text = plans_csv(std::slice::from_ref(&plan)).unwrap();
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        assert_eq!(
            reader.headers().unwrap(),
            &csv::StringRecord::from(COLUMNS.to_vec())
        );
        let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), plan.tasks.len());
        let cell = |row: usize, name: &str| {
            let column = COLUMNS.iter().position(|c| *c == name).unwrap();
            rows[row].get(column).unwrap().to_owned()
        };
        for (i, task) in plan.tasks.iter().enumerate() {
            let title = cell(i, "title");
            assert_eq!(title.strip_prefix('\'').unwrap_or(&title), task.title);
            assert!(!title.starts_with(['=', '+', '-', '@']), "{title}");
            assert_eq!(cell(i, "best"), task.dates.best.to_string());
            assert_eq!(cell(i, "latitude_deg"), "-28.81");
            let zone = plan.site.zone;
            if let Some(window) = &task.window {
                let offset = cell(i, "utc_offset");
                let from = format!("{}:00{}", cell(i, "window_from"), &offset[3..]);
                let from = chrono::DateTime::parse_from_rfc3339(&from).unwrap();
                assert_eq!(from, words::on_the_clock(window, zone).0);
            }
        }
    }

    #[test]
    fn formulas_are_disarmed() {
        for text in [
            "=1+1", "+61 2", "-3", "@x", "\t=1", "\r=1", "\n=1", "＝1", "  =1",
        ] {
            assert_eq!(harmless(text), format!("'{text}"));
        }
        for text in ["", "3", "a=b", "'quoted"] {
            assert_eq!(harmless(text), text);
        }
    }
}
