//! The printed plan, for a terminal of 80 columns: a line for each date, what stands behind it where that
//! is asked for.

use apiary_almanac::civil::{Edge, clock_text, date_words};
use apiary_almanac::number::COMMON_PRACTICE;
use apiary_almanac::plan::{Plan, Wish, WishState};
use apiary_almanac::season::StartOdds;
use apiary_almanac::task::{Choice, Task, TaskState, WaitingTask};

use super::sheet::{Detail, Sheet, WIDE};
use super::text::{cautions, doubts, not_at_home};

/// The plan by itself, with what to mind. `all`: also what is done only if something is seen, what has no date
/// yet, and what was left out.
pub fn page(plan: &Plan, detail: Detail, all: bool) -> String {
    let mut out = Sheet::new(WIDE, detail);
    doubts(&mut out, &plan.site);
    render(&mut out, plan, all);
    cautions(&mut out, &plan.cautions);
    out.finish()
}

/// The plan: its limits, its tasks by date, the choices behind it.
pub fn render(out: &mut Sheet, plan: &Plan, all: bool) {
    not_at_home(out, &plan.cautions);
    out.section(&plan.title);
    limits(out, plan);
    if let Some(wish) = &plan.wish {
        wished(out, wish);
    }
    let last_safe = plan.last_safe_note();
    for note in plan.notes.iter().filter(|note| Some(*note) != last_safe) {
        let note = out.reason(note);
        out.line(2, &note);
    }
    let best: Vec<_> = plan
        .best_dates
        .iter()
        .filter(|best| best.good)
        .map(|best| date_words(best.date))
        .collect();
    if !best.is_empty() {
        let best = best.join(", ");
        let wish = plan.wish.as_ref().map(|wish| wish.state);
        let title = match wish {
            Some(WishState::AtRisk | WishState::Closed) => "Dates near the wish",
            _ => "Best dates to begin",
        };
        out.line(2, &format!("{title}, the best first: {best}."));
    }
    if let Some(note) = last_safe.filter(|_| out.detail.reasons()) {
        let note = out.reason(note);
        out.line(2, &format!("Last safe date: {note}"));
    }
    out.blank();
    for each in plan.tasks.iter().filter(|each| all || is_due(each)) {
        task(out, plan, each);
    }
    if all {
        waiting(out, plan);
    } else {
        left_out(out, plan);
    }
    if out.detail.reasons() && !plan.choices.is_empty() {
        out.section("Where keepers do it differently");
        for each in &plan.choices {
            choice(out, each);
        }
    }
}

/// Done, or to be done whatever is seen.
fn is_due(task: &Task) -> bool {
    task.only_if.is_none() && task.state != TaskState::Dropped
}

fn limits(out: &mut Sheet, plan: &Plan) {
    let season = plan.window.as_ref().map(|window| {
        let (opens, closes) = (date_words(window.opens), date_words(window.closes));
        format!("Good season {opens} to {closes}.")
    });
    let last = plan.last_safe.map(|last| {
        let last = date_words(last);
        format!("Last safe date to divide: {last}.")
    });
    let texts: Vec<_> = season.into_iter().chain(last).collect();
    if !texts.is_empty() {
        out.line(2, &texts.join(" "));
    }
}

/// How much the plan holds that is not printed.
fn left_out(out: &mut Sheet, plan: &Plan) {
    let only_if = plan.tasks.iter().filter(|task| task.only_if.is_some());
    let parts: Vec<_> = [
        (only_if.count(), "that may never be needed"),
        (plan.waiting.len(), "without a date yet"),
    ]
    .into_iter()
    .filter(|(count, _)| *count > 0)
    .map(|(count, what)| format!("{count} {what}"))
    .collect();
    if !parts.is_empty() {
        out.line(0, &format!("Besides, with --all: {}.", parts.join(", ")));
    }
}

/// The tasks without a date: each that waits for something seen, then those that come after it.
fn waiting(out: &mut Sheet, plan: &Plan) {
    if plan.waiting.is_empty() {
        return;
    }
    out.section("Without a date yet");
    let (after, seen): (Vec<&WaitingTask>, Vec<&WaitingTask>) = plan
        .waiting
        .iter()
        .partition(|task| task.until.code == "until_task");
    for task in seen {
        let title = format!(
            "{}: {} [{}]",
            plan.box_name(task.which),
            task.title,
            task.id
        );
        out.item("[ ] ", &title);
        let mut words = vec![task.until.text()];
        words.extend(
            task.not_before
                .map(|date| format!("Not before {}.", date_words(date))),
        );
        words.extend(
            task.not_after
                .map(|date| format!("Last safe date of the season: {}.", date_words(date))),
        );
        if out.detail.reasons() {
            words.extend(task.look_for.iter().map(|text| out.cited(text)));
        }
        out.line(4, &words.join(" "));
    }
    if !after.is_empty() {
        let titles: Vec<&str> = after.iter().map(|task| task.title.as_str()).collect();
        out.line(0, &format!("After that: {}.", titles.join("; ")));
    }
}

/// As it stands first on a line.
pub fn wish_word(wish: &Wish) -> &'static str {
    match wish.state {
        WishState::Good if wish.reasons.is_empty() => "GOOD",
        WishState::Good => "GOOD, BUT IN DOUBT",
        WishState::AtRisk => "AT RISK",
        WishState::TooLate => "TOO LATE",
        _ => "CLOSED",
    }
}

/// What is said of the wished date.
fn wished(out: &mut Sheet, wish: &Wish) {
    let day = date_words(wish.date);
    out.line(2, &format!("Wished for {day}: {}.", wish_word(wish)));
    if let (WishState::TooLate, Some(after)) = (wish.state, wish.after) {
        out.line(4, &format!("Next good date: {}.", date_words(after)));
    }
    let odds = match &wish.odds {
        Some(StartOdds::Known { odds }) if wish.state != WishState::Good => Some(&odds.said),
        _ => None,
    };
    let odds = odds.filter(|said| !wish.reasons.contains(said));
    for reason in wish.reasons.iter().chain(odds).chain(&wish.other_ways) {
        let reason = out.reason(reason);
        out.line(4, &reason);
    }
}

/// `[ ] Sun 27 Sep 2026  about 11:00  Lantern + Candle: divide [divide]`, and what stands behind it.
fn task(out: &mut Sheet, plan: &Plan, task: &Task) {
    let mark = match (task.state, task.kind) {
        (TaskState::Done { .. }, _) => "[x]",
        (TaskState::Dropped, _) => "[-]",
        (TaskState::Planned, kind) if kind.is_work() => "[ ]",
        (TaskState::Planned, _) => " - ",
    };
    let date = match task.state {
        TaskState::Done { on } => on,
        TaskState::Planned | TaskState::Dropped => task.dates.best,
    };
    let time = match (task.good_at, task.window) {
        _ if task.state != TaskState::Planned => String::new(),
        (Some(at), _) => format!("  about {}", clock_text(at, Edge::From)),
        (None, Some(window)) => format!("  {window}"),
        (None, None) => String::new(),
    };
    let reasons = out.detail.reasons();
    let title = if reasons {
        &task.title
    } else {
        task.in_short()
    };
    let first = format!(
        "{}{time}  {}: {title} [{}]",
        date_words(date),
        plan.box_name(task.which),
        task.id
    );
    out.item(&format!("{mark} "), &first);
    if let Some(only_if) = task.only_if.as_ref().filter(|_| !reasons) {
        let only_if = out.reason(only_if);
        out.line(4, &only_if);
    }
    if reasons {
        behind(out, task);
    }
}

/// Its range, why, what to look for, what to mind.
fn behind(out: &mut Sheet, task: &Task) {
    if task.dates.earliest != task.dates.latest {
        let (earliest, latest) = (
            date_words(task.dates.earliest),
            date_words(task.dates.latest),
        );
        let window = task.window.filter(|_| task.good_at.is_some());
        let hours = window.map_or_else(String::new, |window| format!("; {window} would do"));
        out.line(4, &format!("Between {earliest} and {latest}{hours}."));
    }
    let why = out.reasons(&task.why);
    if !why.is_empty() {
        out.line(4, &why);
    }
    if task.state != TaskState::Planned {
        return;
    }
    if !task.look_for.is_empty() {
        let look_for = out.cited(&task.look_for.join(" "));
        out.line(4, &format!("Look for: {look_for}"));
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
        out.line(4, &format!("Mind: {}.", cautions.join(", ")));
    }
}

/// What was chosen where practice differs, and what else is done.
fn choice(out: &mut Sheet, choice: &Choice) {
    let source = source_in_brackets(out, &choice.source);
    let mut text = format!("{}: {}{source}.", choice.name, choice.chosen);
    if !choice.others.is_empty() {
        let others: Vec<_> = choice.others.iter().map(|other| out.cited(other)).collect();
        text += &format!(" Also done: {}.", others.join("; "));
    }
    out.item("- ", &text);
}

/// Nothing for what the trade does without a publication.
fn source_in_brackets(out: &mut Sheet, source: &str) -> String {
    if source == COMMON_PRACTICE || !out.detail.sources {
        return String::new();
    }
    format!(" ({})", out.source(source))
}

/// A caution in a word or two.
pub fn in_short(code: &str) -> String {
    match code {
        "bites_allergy" => "bites and allergy".to_owned(),
        "law" => "local law".to_owned(),
        other => other.replace('_', " "),
    }
}
