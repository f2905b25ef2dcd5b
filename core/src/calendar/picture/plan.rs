//! A plan along its dates: one row a task, or a row for many of a kind.

use chrono::{Datelike, Days, NaiveDate};
use chrono_tz::Tz;

use super::axis::{DateAxis, Label, draw_labels};
use super::page::{
    Anchor, BODY, GRID, GROUND, INK, LAST_SAFE, MARGIN, Mark, Page, SMALL, Sample, Stroke, TITLE,
    TODAY, WIDTH, line_height, range,
};
use super::text;
use crate::calendar::check::check_plan;
use crate::calendar::words;
use crate::civil::{Edge, clock_text};
use crate::error::Error;
use crate::plan::Plan;
use crate::sort::sort_by_key;
use crate::task::{Task, TaskKind, TaskState, Which};

const LEFT: f64 = MARGIN + 2.0;
const RIGHT: f64 = WIDTH - MARGIN - 2.0;
/// From this many tasks on, small repeated work on one box shares a row.
const MANY: usize = 3;
/// The shortest stretch of dates that is drawn.
const SHORTEST_D: i64 = 14;

/// Draws a plan as SVG: for both boxes and for each, one row a task with its range and best date;
/// repeated small work (moves, entrances, pest watch, feeding) as ticks in one row, tall where the
/// day has a window; what is done, dropped, and the last safe date.
///
/// Tasks of the kind `next_division` lie a year or more ahead; they are written, but the dates do
/// not reach that far unless there is nothing else.
///
/// # Errors
/// As [`crate::calendar::plans_ics`] for a single plan.
pub fn plan_picture(plan: &Plan) -> Result<String, Error> {
    check_plan(plan, "plan")?;
    let axis = axis(plan);
    let mut page = Page::default();
    let mut y = page.paragraph(MARGIN - 2.0, TITLE, true, 3, &plan.title);
    y = page.paragraph(y + 1.0, SMALL, false, 2, &about(plan));
    if let Some(date) = plan.last_safe {
        let words = format!("Last safe date to divide: {}.", words::date(date));
        y = page.paragraph(y + 2.0, BODY, true, 1, &words);
    }
    y = key(&mut page, plan, y + 3.0);
    y = head(&mut page, plan, &axis, y + 6.0);
    if plan.tasks.is_empty() {
        y = page.paragraph(y, BODY, false, 1, "No tasks.");
    }
    for group in groups(plan) {
        y = group_heading(&mut page, y, words::which(group.which));
        for row in &group.rows {
            y = draw_row(&mut page, plan, &axis, y, row);
        }
    }
    let bottom = tick_labels(&mut page, &axis, y + 4.0);
    Ok(page.finish(bottom + MARGIN, &plan.title, &description(plan)))
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
        words::date(plan.today)
    )
}

fn key(page: &mut Page, plan: &Plan, y: f64) -> f64 {
    let has = |test: fn(&Task) -> bool| plan.tasks.iter().any(test);
    let mut entries = vec![
        (Sample::Mark(Mark::Best), "best date"),
        (Sample::Range, "earliest to latest"),
    ];
    let rows: Vec<_> = groups(plan).into_iter().flat_map(|g| g.rows).collect();
    if rows.iter().any(|row| row.tasks.len() > 1) {
        entries.push((Sample::Mark(Mark::Window), "day with its hours"));
        entries.push((Sample::Mark(Mark::Day), "whole day"));
    }
    if has(|task| matches!(task.state, TaskState::Done { .. })) {
        entries.push((Sample::Mark(Mark::Done), "done"));
    }
    if has(|task| task.state == TaskState::Dropped) {
        entries.push((Sample::Mark(Mark::Dropped), "left out"));
    }
    if plan.window.is_some() {
        entries.push((Sample::Hatched, "working window"));
    }
    page.key(y, &entries)
}

/// Today, last safe date, working window and the names of dates.
fn head(page: &mut Page, plan: &Plan, axis: &DateAxis, y: f64) -> f64 {
    let mut labels = Vec::new();
    for (date, stroke) in lines(plan) {
        if axis.holds(date) {
            let name = if stroke.width == TODAY.width {
                "today"
            } else {
                "last safe"
            };
            labels.push(Label {
                x: line_x(plan, axis, date),
                words: format!("{name} {}", words::short_date(date)),
            });
        }
    }
    let mut y = draw_labels(page, y, labels);
    if let Some(window) = &plan.window {
        const HEIGHT: f64 = 9.0;
        let (from, until) = (axis.start(window.opens), axis.end(window.closes));
        page.rectangle((LEFT, y), (RIGHT - LEFT, HEIGHT), "none", Some(GRID));
        if until - from > 0.1 {
            page.hatched((from, y), (until - from, HEIGHT));
        }
        y += HEIGHT;
    }
    tick_labels(page, axis, y)
}

fn tick_labels(page: &mut Page, axis: &DateAxis, y: f64) -> f64 {
    let baseline = y + line_height(SMALL);
    for (date, label) in axis.ticks() {
        let x = axis.start(date);
        page.line((x, y), (x, y + 4.0), Stroke::new(INK, 0.8, ""));
        let half = text::width(&label, SMALL, false) / 2.0;
        // A label at the very edge would be cut or pushed into its neighbour.
        if x - half >= 2.0 && x + half <= WIDTH - 2.0 {
            page.soft_text((x, baseline), SMALL, Anchor::Middle, &label);
        }
    }
    page.line((LEFT, y), (RIGHT, y), Stroke::new(INK, 0.8, ""));
    baseline + 4.0
}

/// Upright lines through all rows.
fn lines(plan: &Plan) -> impl Iterator<Item = (NaiveDate, Stroke)> {
    [
        Some((plan.today, TODAY)),
        plan.last_safe.map(|date| (date, LAST_SAFE)),
    ]
    .into_iter()
    .flatten()
}

/// Today is a day, the last safe date ends with its day.
fn line_x(plan: &Plan, axis: &DateAxis, date: NaiveDate) -> f64 {
    if date == plan.today {
        axis.middle(date)
    } else {
        axis.end(date)
    }
}

fn axis(plan: &Plan) -> DateAxis {
    let near = |task: &&Task| task.kind != TaskKind::NextDivision;
    let mut shown: Vec<&Task> = plan.tasks.iter().filter(near).collect();
    if shown.is_empty() {
        shown = plan.tasks.iter().collect();
    }
    let (mut first, mut last) = (plan.today, plan.today);
    for task in shown {
        let done = match task.state {
            TaskState::Done { on } => on,
            TaskState::Planned | TaskState::Dropped => task.dates.best,
        };
        first = first.min(task.dates.earliest).min(done);
        // A division can wait until the last safe date, months beyond the rest of the plan.
        let until = match task.kind {
            TaskKind::Divide => task.dates.best,
            _ => task.dates.latest,
        };
        last = last.max(until).max(done);
    }
    let missing = SHORTEST_D - (last - first).num_days();
    if missing > 0 {
        last = last + Days::new(missing.unsigned_abs());
    }
    DateAxis {
        first,
        last,
        left: LEFT,
        right: RIGHT,
    }
}

struct Group<'a> {
    which: Which,
    rows: Vec<Row<'a>>,
}

/// One task, or several of one kind.
struct Row<'a> {
    tasks: Vec<&'a Task>,
}

fn groups(plan: &Plan) -> Vec<Group<'_>> {
    [Which::Pair, Which::Parent, Which::Daughter]
        .into_iter()
        .filter_map(|which| {
            let mut mine: Vec<&Task> = plan.tasks.iter().filter(|t| t.which == which).collect();
            sort_by_key(&mut mine, |task| task.dates.best);
            let rows = rows(&mine);
            (!rows.is_empty()).then_some(Group { which, rows })
        })
        .collect()
}

fn rows<'a>(tasks: &[&'a Task]) -> Vec<Row<'a>> {
    let small = |kind| {
        matches!(
            kind,
            TaskKind::Move | TaskKind::Entrance | TaskKind::PestWatch | TaskKind::Feed
        )
    };
    let mut merged = Vec::new();
    let mut rows = Vec::new();
    for task in tasks {
        let alike: Vec<&Task> = tasks
            .iter()
            .copied()
            .filter(|t| t.kind == task.kind)
            .collect();
        if small(task.kind) && alike.len() >= MANY {
            if !merged.contains(&task.kind) {
                merged.push(task.kind);
                rows.push(Row { tasks: alike });
            }
        } else {
            rows.push(Row { tasks: vec![task] });
        }
    }
    rows
}

fn group_heading(page: &mut Page, y: f64, words: &str) -> f64 {
    let top = y + 5.0;
    page.rectangle((MARGIN, top), (WIDTH - 2.0 * MARGIN, 17.0), GROUND, None);
    page.text((MARGIN + 4.0, top + 12.5), BODY, true, Anchor::Start, words);
    top + 17.0
}

fn draw_row(page: &mut Page, plan: &Plan, axis: &DateAxis, y: f64, row: &Row) -> f64 {
    let (title, dates) = row.words(plan.site.zone);
    page.begin_group(&row.sentences(plan.site.zone));
    let date_room = text::width(&dates, SMALL, false) + 10.0;
    let room = WIDTH - 2.0 * MARGIN - 8.0;
    // A long date goes below its title.
    let beside = date_room < room * 0.55;
    let title_room = if beside { room - date_room } else { room };
    let mut baseline = y + 2.0;
    for line in text::wrap(&title, BODY, false, title_room, 3) {
        baseline += line_height(BODY);
        page.text((MARGIN + 4.0, baseline), BODY, false, Anchor::Start, &line);
        if beside && baseline < y + 3.0 + line_height(BODY) {
            let right = WIDTH - MARGIN - 4.0;
            page.soft_text((right, baseline), SMALL, Anchor::End, &dates);
        }
    }
    if !beside {
        for line in text::wrap(&dates, SMALL, false, room, 3) {
            baseline += line_height(SMALL);
            page.soft_text((MARGIN + 4.0, baseline), SMALL, Anchor::Start, &line);
        }
    }
    let middle = baseline + 11.0;
    // Upright lines keep to the strip of the marks, so that none runs through words.
    let (top, bottom) = (middle - 7.0, middle + 7.0);
    for (date, _) in axis.ticks() {
        page.line((axis.start(date), top), (axis.start(date), bottom), GRID);
    }
    for (date, stroke) in lines(plan) {
        if axis.holds(date) {
            let x = line_x(plan, axis, date);
            page.line((x, top), (x, bottom), stroke);
        }
    }
    row.draw_marks(page, axis, middle);
    page.end_group();
    bottom
}

impl Row<'_> {
    fn words(&self, zone: Tz) -> (String, String) {
        match self.tasks.as_slice() {
            [task] => (task.title.clone(), task_dates(task, zone)),
            tasks => {
                let (Some(first), Some(last)) = (tasks.first(), tasks.last()) else {
                    return (String::new(), String::new());
                };
                let what = match first.kind {
                    TaskKind::Move => "Moves",
                    TaskKind::Entrance => "Work at the entrance",
                    TaskKind::PestWatch => "Pest watch",
                    _ => "Feeding",
                };
                (
                    format!("{what}, {} times", tasks.len()),
                    format!(
                        "{} – {}",
                        words::short_date(first.dates.best),
                        words::short_date(last.dates.best)
                    ),
                )
            }
        }
    }

    /// Every task of the row in words.
    fn sentences(&self, zone: Tz) -> String {
        let list: Vec<_> = self
            .tasks
            .iter()
            .map(|task| format!("{}: {}.", task.title, task_dates(task, zone)))
            .collect();
        list.join(" ")
    }

    fn draw_marks(&self, page: &mut Page, axis: &DateAxis, y: f64) {
        let earliest = self.tasks.iter().map(|t| t.dates.earliest).min();
        let latest = self.tasks.iter().map(|t| t.dates.latest).max();
        if let (Some(earliest), Some(latest)) = (earliest, latest) {
            if earliest > axis.last {
                beyond(page, y);
                return;
            }
            let all_done = self.tasks.iter().all(|t| t.state != TaskState::Planned);
            if !all_done && earliest < latest {
                range(page, axis.start(earliest), axis.end(latest), y);
                if latest > axis.last {
                    beyond(page, y);
                }
            }
        }
        for task in &self.tasks {
            let (mark, date) = match task.state {
                TaskState::Done { on } => (Mark::Done, on),
                TaskState::Dropped => (Mark::Dropped, task.dates.best),
                TaskState::Planned if self.tasks.len() == 1 => (Mark::Best, task.dates.best),
                TaskState::Planned if task.window.is_some() => (Mark::Window, task.dates.best),
                TaskState::Planned => (Mark::Day, task.dates.best),
            };
            if axis.holds(date) {
                mark.draw(page, (axis.middle(date), y));
            }
        }
    }
}

/// An arrow at the right edge: the dates go on.
fn beyond(page: &mut Page, y: f64) {
    let stroke = Stroke::new(INK, 1.6, "");
    page.line((RIGHT - 14.0, y), (RIGHT, y), stroke);
    page.curve(
        &[(RIGHT - 5.0, y - 4.0), (RIGHT, y), (RIGHT - 5.0, y + 4.0)],
        stroke,
    );
}

/// `20 Sep, 10:00–12:30 (20–27 Sep)`.
fn task_dates(task: &Task, zone: Tz) -> String {
    let dates = &task.dates;
    match task.state {
        TaskState::Done { on } => return format!("done {}", words::date(on)),
        TaskState::Dropped => return "left out".to_owned(),
        TaskState::Planned => {}
    }
    let far = task.kind == TaskKind::NextDivision;
    let name = if far { words::date } else { words::short_date };
    let clock = task.window.as_ref().map_or(String::new(), |window| {
        let (from, until) = words::on_the_clock(window, zone);
        format!(
            ", {}–{}",
            clock_text(from, Edge::From),
            clock_text(until, Edge::Until)
        )
    });
    let range = if dates.earliest == dates.latest {
        String::new()
    } else if !far && same_month(dates.earliest, dates.latest) {
        format!(" ({}–{})", dates.earliest.day(), name(dates.latest))
    } else {
        format!(" ({} – {})", name(dates.earliest), name(dates.latest))
    };
    format!("{}{clock}{range}", name(dates.best))
}

fn same_month(a: NaiveDate, b: NaiveDate) -> bool {
    (a.year(), a.month()) == (b.year(), b.month())
}

fn description(plan: &Plan) -> String {
    let mut parts = vec![about(plan)];
    if let Some(date) = plan.last_safe {
        parts.push(format!("Last safe date to divide: {}.", words::date(date)));
    }
    for group in groups(plan) {
        let rows: Vec<_> = group
            .rows
            .iter()
            .map(|row| row.sentences(plan.site.zone))
            .collect();
        parts.push(format!(
            "{}: {}",
            words::which(group.which),
            rows.join("\n")
        ));
    }
    parts.join("\n")
}
