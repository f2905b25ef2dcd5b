//! The printed plan, for a terminal of 80 columns.

use apiary_almanac::civil::{Edge, clock_text};
use apiary_almanac::plan::{Plan, Wish};
use apiary_almanac::season::{DateState, StartOdds};
use apiary_almanac::task::{Task, TaskState};

use super::text::{cautions, doubts, item, line, long_date, not_at_home, section};

/// The plan by itself, with what to mind.
pub fn page(plan: &Plan) -> String {
    let mut out = String::new();
    doubts(&mut out, &plan.site);
    out += &render(plan);
    cautions(&mut out, &plan.cautions);
    out
}

/// The plan: its limits, its tasks by date, the choices behind it.
pub fn render(plan: &Plan) -> String {
    let mut out = String::new();
    not_at_home(&mut out, &plan.cautions);
    section(&mut out, &format!("Plan: {}", plan.title));
    match (&plan.window, plan.last_safe) {
        (Some(window), Some(last)) => line(
            &mut out,
            2,
            &format!(
                "Season {} to {}; last safe date for the division {}.",
                long_date(window.opens),
                long_date(window.closes),
                long_date(last)
            ),
        ),
        (Some(window), None) => line(
            &mut out,
            2,
            &format!(
                "Season {} to {}.",
                long_date(window.opens),
                long_date(window.closes)
            ),
        ),
        (None, Some(last)) => {
            line(
                &mut out,
                2,
                &format!("Last safe date for the division {}.", long_date(last)),
            );
        }
        (None, None) => {}
    }
    if let Some(wish) = &plan.wish {
        wished(&mut out, wish);
    }
    let last_safe = plan.last_safe_note();
    for note in plan.notes.iter().filter(|note| Some(*note) != last_safe) {
        line(&mut out, 2, &note.text());
    }
    let best: Vec<_> = plan
        .best_dates
        .iter()
        .filter(|best| best.good)
        .map(|best| long_date(best.date))
        .collect();
    if !best.is_empty() {
        line(
            &mut out,
            2,
            &format!("Best dates to begin, the best first: {}.", best.join(", ")),
        );
    }
    if let Some(note) = last_safe {
        line(&mut out, 2, &format!("Last safe date: {}", note.text()));
    }
    for each in &plan.tasks {
        task(&mut out, plan, each);
    }
    waiting(&mut out, plan);
    if !plan.choices.is_empty() {
        section(&mut out, "Where practice differs");
    }
    for choice in &plan.choices {
        let others = if choice.others.is_empty() {
            String::new()
        } else {
            format!(" Also done: {}.", choice.others.join("; "))
        };
        item(
            &mut out,
            "- ",
            &format!(
                "{}: {} ({}).{others}",
                choice.name, choice.chosen, choice.source
            ),
        );
    }
    out
}

/// The tasks without a date: each that waits for something seen, then those that come after it.
fn waiting(out: &mut String, plan: &Plan) {
    if plan.waiting.is_empty() {
        return;
    }
    section(out, "Without a date yet");
    let (after, seen): (Vec<_>, Vec<_>) = plan
        .waiting
        .iter()
        .partition(|task| task.until.code == "until_task");
    for task in seen {
        let title = format!("{} ({})", task.title, plan.box_name(task.which));
        item(out, "[ ] ", &title);
        let mut words = vec![task.until.text()];
        words.extend(
            task.not_before
                .map(|date| format!("Not before {}.", long_date(date))),
        );
        words.extend(
            task.not_after
                .map(|date| format!("Last safe date of the season: {}.", long_date(date))),
        );
        words.extend(task.look_for.iter().cloned());
        line(out, 4, &words.join(" "));
    }
    if !after.is_empty() {
        let titles: Vec<&str> = after.iter().map(|task| task.title.as_str()).collect();
        line(out, 0, &format!("After that: {}.", titles.join("; ")));
    }
}

/// What is said of the wished date.
fn wished(out: &mut String, wish: &Wish) {
    let state = match wish.state {
        DateState::Good => "good",
        DateState::AtRisk => "AT RISK",
        DateState::Closed => "CLOSED",
    };
    line(
        out,
        2,
        &format!("Wished for {}: {state}.", long_date(wish.date)),
    );
    let odds = match &wish.odds {
        Some(StartOdds::Known { odds }) if wish.state != DateState::Good => Some(&odds.said),
        _ => None,
    };
    for reason in wish.reasons.iter().chain(odds).chain(&wish.other_ways) {
        line(out, 4, &reason.text());
    }
}

fn task(out: &mut String, plan: &Plan, task: &Task) {
    let mark = match task.state {
        TaskState::Planned => "[ ]",
        TaskState::Done { .. } => "[x]",
        TaskState::Dropped => "[-]",
    };
    let window = task
        .window
        .map(|window| {
            format!(
                " {}-{}",
                clock_text(window.from, Edge::From),
                clock_text(window.until, Edge::Until)
            )
        })
        .unwrap_or_default();
    let about = task.good_at.map_or_else(String::new, |at| {
        format!(", about {}", clock_text(at, Edge::From))
    });
    item(
        out,
        &format!("{mark} "),
        &format!(
            "{}{window}{about}  {} ({})",
            long_date(task.dates.best),
            task.title,
            plan.box_name(task.which)
        ),
    );
    if task.dates.earliest != task.dates.latest {
        line(
            out,
            4,
            &format!(
                "between {} and {}",
                long_date(task.dates.earliest),
                long_date(task.dates.latest)
            ),
        );
    }
    let why: Vec<_> = task.why.iter().map(|reason| reason.text()).collect();
    if !why.is_empty() {
        line(out, 4, &why.join(" "));
    }
    if task.state == TaskState::Planned {
        if !task.look_for.is_empty() {
            line(out, 4, &format!("Look for: {}", task.look_for.join(" ")));
        }
        // Their texts stand in the section of what to mind, and in full in the calendar.
        let cautions: Vec<_> = task
            .cautions
            .iter()
            .map(|caution| match caution.because() {
                Some(because) => format!("{} ({because})", in_short(&caution.code)),
                None => in_short(&caution.code),
            })
            .collect();
        if !cautions.is_empty() {
            line(out, 4, &format!("Mind: {}.", cautions.join(", ")));
        }
    }
}

/// A caution in a word or two.
pub fn in_short(code: &str) -> String {
    match code {
        "bites_allergy" => "bites and allergy".to_owned(),
        "law" => "local law".to_owned(),
        other => other.replace('_', " "),
    }
}
