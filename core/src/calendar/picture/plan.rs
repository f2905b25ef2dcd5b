//! A plan by date: what was done, this week, this month, later, and what may come besides.

use chrono::{Datelike, Days, NaiveDate};

use super::page::{
    Anchor, BODY, GROUND, MARGIN, Mark, Page, SMALL, Sample, Size, TITLE, line_height,
};
use super::text;
use crate::calendar::check::check_plan;
use crate::calendar::words;
use crate::civil::{Edge, clock_text, date_words};
use crate::error::Error;
use crate::plan::Plan;
use crate::task::{Task, TaskState, WaitingTask};

/// Days after today that are this week.
const WEEK_D: u64 = 7;
/// Days after today that are this month.
const MONTH_D: u64 = 31;
/// Where words stand, beside the marks.
const TEXT: f64 = MARGIN + 20.0;

/// Draws a plan as SVG: its tasks by date in blocks (done, this week, this month, later), each with its weekday,
/// hours, box and range; then what is done only if something is seen, what has no date yet, and what was left
/// out.
///
/// # Errors
/// As [`crate::calendar::plans_ics`] for a single plan.
pub fn plan_picture(plan: &Plan) -> Result<String, Error> {
    check_plan(plan, "plan")?;
    let mut page = Page::default();
    let mut y = page.paragraph(MARGIN - 2.0, TITLE, true, 3, &plan.title);
    y = page.paragraph(y + 1.0, SMALL, false, 2, &about(plan));
    for sentence in limits(plan) {
        y = page.paragraph(y + 2.0, BODY, true, 2, &sentence);
    }
    y = key(&mut page, plan, y + 3.0);
    let blocks = blocks(plan);
    if blocks.is_empty() {
        y = page.paragraph(y, BODY, false, 1, "No tasks.");
    }
    for block in &blocks {
        y = heading(&mut page, y, &block.title);
        for entry in &block.entries {
            y = draw(&mut page, y, entry);
        }
    }
    Ok(page.finish(
        &Size::Alone(y + MARGIN),
        &plan.title,
        &description(plan, &blocks),
    ))
}

fn about(plan: &Plan) -> String {
    let mut bee = plan.bee.replace('_', " ");
    if let Some(first) = bee.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    format!(
        "Method: {}. Bee: {}. Planned on {}.",
        plan.method.replace('_', " "),
        bee,
        date_words(plan.today)
    )
}

/// What bounds the season.
fn limits(plan: &Plan) -> Vec<String> {
    let season = plan.window.as_ref().map(|window| {
        let (opens, closes) = (date_words(window.opens), date_words(window.closes));
        format!("Good season {opens} to {closes}.")
    });
    let last = plan.last_safe.map(|date| {
        let past = if date < plan.today { " (past)" } else { "" };
        format!("Last safe date to divide: {}{past}.", date_words(date))
    });
    season.into_iter().chain(last).collect()
}

fn key(page: &mut Page, plan: &Plan, y: f64) -> f64 {
    let has = |test: fn(&Task) -> bool| plan.tasks.iter().any(test);
    let mut entries = vec![(Sample::Mark(Mark::Open), "to do")];
    if has(|task| matches!(task.state, TaskState::Done { .. })) {
        entries.push((Sample::Mark(Mark::Done), "done"));
    }
    if has(|task| task.state == TaskState::Dropped) {
        entries.push((Sample::Mark(Mark::Dropped), "left out"));
    }
    page.key(y, &entries)
}

struct Block {
    title: String,
    entries: Vec<Entry>,
}

/// One thing to do.
pub(super) struct Entry {
    pub mark: Option<Mark>,
    /// With its weekday; empty where it has none yet.
    pub day: String,
    /// Its hours; empty for the whole day.
    pub time: String,
    /// Box and work.
    pub words: String,
    /// Its range, or what it waits for.
    pub note: String,
}

fn blocks(plan: &Plan) -> Vec<Block> {
    let (week, month) = (
        plan.today + Days::new(WEEK_D),
        plan.today + Days::new(MONTH_D),
    );
    let planned = |task: &Task| task.state == TaskState::Planned && task.only_if.is_none();
    let best = |task: &Task| task.dates.best;
    let of = |test: &dyn Fn(&Task) -> bool| -> Vec<Entry> {
        let mut tasks: Vec<&Task> = plan.tasks.iter().filter(|task| test(task)).collect();
        tasks.sort_by_key(|task| task.day());
        tasks.into_iter().map(|task| entry(plan, task)).collect()
    };
    let to = |date| format!("to {}", date_words(date));
    let blocks = [
        (
            "Done".to_owned(),
            of(&|task| matches!(task.state, TaskState::Done { .. })),
        ),
        (
            format!("This week, {}", to(week)),
            of(&|task| planned(task) && best(task) <= week),
        ),
        (
            format!("This month, {}", to(month)),
            of(&|task| planned(task) && best(task) > week && best(task) <= month),
        ),
        (
            "Later".to_owned(),
            of(&|task| planned(task) && best(task) > month),
        ),
        (
            "Only if it turns out so".to_owned(),
            of(&|task| task.state == TaskState::Planned && task.only_if.is_some()),
        ),
        (
            "Without a date yet".to_owned(),
            plan.waiting
                .iter()
                .map(|task| waiting(plan, task))
                .collect(),
        ),
        (
            "Left out".to_owned(),
            of(&|task| task.state == TaskState::Dropped),
        ),
    ];
    let blocks = blocks
        .into_iter()
        .map(|(title, entries)| Block { title, entries });
    blocks.filter(|block| !block.entries.is_empty()).collect()
}

/// A task in a line or two. The year stands only where it is another one.
pub(super) fn entry(plan: &Plan, task: &Task) -> Entry {
    let dates = &task.dates;
    let short = |date: NaiveDate| short_day(date, plan.today.year());
    let is_open = task.state == TaskState::Planned;
    let time = match (task.good_at, &task.window) {
        _ if !is_open => String::new(),
        (Some(at), _) => format!("about {}", clock_text(at, Edge::From)),
        (None, Some(window)) => {
            let (from, until) = words::on_the_clock(window, plan.site.zone);
            format!(
                "{}–{}",
                clock_text(from, Edge::From),
                clock_text(until, Edge::Until)
            )
        }
        (None, None) => String::new(),
    };
    let note = match &task.only_if {
        Some(only_if) if is_open => only_if.text(),
        _ if is_open && dates.earliest < dates.latest => {
            format!("{} to {}", short(dates.earliest), short(dates.latest))
        }
        _ => String::new(),
    };
    Entry {
        mark: match (task.state, task.kind) {
            (TaskState::Done { .. }, _) => Some(Mark::Done),
            (TaskState::Dropped, _) => Some(Mark::Dropped),
            (TaskState::Planned, kind) => kind.is_work().then_some(Mark::Open),
        },
        day: short(task.day()),
        time,
        words: format!("{}: {}", plan.box_name(task.which), task.in_short()),
        note,
    }
}

/// A task that waits until something is seen.
fn waiting(plan: &Plan, task: &WaitingTask) -> Entry {
    let not_before = task
        .not_before
        .map(|date| format!("not before {}", short_day(date, plan.today.year())));
    Entry {
        mark: Some(Mark::Open),
        day: not_before.unwrap_or_default(),
        time: String::new(),
        words: format!("{}: {}", plan.box_name(task.which), task.in_short()),
        note: task.until.text(),
    }
}

/// `Sun 20 Sep`, with the year where it is not this one.
pub(super) fn short_day(date: NaiveDate, year: i32) -> String {
    if date.year() == year {
        format!("{} {}", date.weekday(), words::short_date(date))
    } else {
        date_words(date)
    }
}

pub(super) fn heading(page: &mut Page, y: f64, words: &str) -> f64 {
    let top = y + 6.0;
    page.rectangle((MARGIN, top), (page.right() - MARGIN, 17.0), GROUND, None);
    let title = (MARGIN + 4.0, top + 12.5);
    page.text(title, BODY, true, Anchor::Start, words);
    top + 19.0
}

fn draw(page: &mut Page, y: f64, entry: &Entry) -> f64 {
    page.begin_group(&sentence(entry));
    let room = page.right() - 4.0 - TEXT;
    let mut baseline = y;
    if !entry.day.is_empty() {
        baseline += line_height(BODY);
        page.text((TEXT, baseline), BODY, true, Anchor::Start, &entry.day);
        let right = (page.right() - 4.0, baseline);
        page.text(right, BODY, false, Anchor::End, &entry.time);
    }
    for line in text::wrap(&entry.words, BODY, false, room, 3) {
        baseline += line_height(BODY);
        page.text((TEXT, baseline), BODY, false, Anchor::Start, &line);
    }
    for line in text::wrap(&entry.note, SMALL, false, room, 3) {
        baseline += line_height(SMALL);
        page.soft_text((TEXT, baseline), SMALL, Anchor::Start, &line);
    }
    if let Some(mark) = entry.mark {
        mark.draw(page, (MARGIN + 9.0, y + line_height(BODY) - 4.0));
    }
    page.end_group();
    baseline + 3.0
}

fn sentence(entry: &Entry) -> String {
    let state = match entry.mark {
        Some(Mark::Done) => " Done.",
        Some(Mark::Dropped) => " Left out.",
        _ => "",
    };
    let when = [&entry.day, &entry.time].map(String::as_str);
    let when: Vec<_> = when.into_iter().filter(|part| !part.is_empty()).collect();
    let note = if entry.note.is_empty() {
        String::new()
    } else {
        format!(" ({})", entry.note.trim_end_matches('.'))
    };
    format!("{}: {}{note}.{state}", when.join(", "), entry.words)
        .trim_start_matches(": ")
        .to_owned()
}

fn description(plan: &Plan, blocks: &[Block]) -> String {
    let mut parts = vec![about(plan)];
    parts.extend(limits(plan));
    for block in blocks {
        parts.push(format!("{}.", block.title));
        parts.extend(block.entries.iter().map(sentence));
    }
    parts.join("\n")
}
