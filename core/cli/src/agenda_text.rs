//! The first screen: what now, what next, in at most 25 lines of 40 columns; and the short page around
//! it.

use std::fmt::Write;

use apiary_almanac::agenda::{Agenda, Item, StateWord};
use apiary_almanac::civil::{Edge, clock_text};
use apiary_almanac::morning::MoveWindow;
use apiary_almanac::outlook::Outlook;
use apiary_almanac::place;
use apiary_almanac::plan::Wish;
use apiary_almanac::season::StartOdds;
use apiary_almanac::task::TaskKind;
use chrono::NaiveDate;

use super::keeper::Heading;
use super::plan_text::in_short;
use super::text::{clean, long_date, not_at_home, state_word, wrap};

/// Columns of a small screen.
const WIDTH: usize = 40;
/// Lines of it.
const LINES: usize = 25;
/// States of the season that the short page names.
const STATES: usize = 3;
/// Mornings that the short page names.
const MORNINGS: usize = 3;

/// What a keeper asks first: the agenda, the season, the next good mornings; what to mind in a line.
pub fn short_page(heading: &Heading, agenda: Option<&Agenda>, answer: &Outlook) -> String {
    let mut out = String::new();
    not_at_home(&mut out, &answer.cautions);
    for doubt in place::doubts(&answer.site) {
        row(&mut out, "", &doubt.text());
    }
    if let Some(agenda) = agenda {
        out += &first_screen(agenda);
        out.push('\n');
    }
    if !heading.names.is_empty() {
        row(&mut out, "", &heading.names.join(", "));
    }
    if let Some(published) = answer.season.published.first() {
        row(&mut out, "", &published.said.text());
    }
    row(&mut out, "SEASON ", &season(answer));
    if let (1, Some(rain)) = (answer.season.states.len(), &answer.season.rain) {
        row(&mut out, "       ", &rain.said.text());
    }
    mornings(&mut out, answer);
    let off_c = answer.basis.iter().find_map(|basis| basis.typical_error_c);
    if let Some(off_c) = off_c {
        let text = format!(
            "default of the place, typically {off_c:.1} °C off; a near station's months are better"
        );
        row(&mut out, "AIR    ", &text);
    }
    let mind: Vec<_> = answer
        .cautions
        .iter()
        .map(|caution| in_short(&caution.code))
        .collect();
    row(&mut out, "MIND   ", &format!("{}.", mind.join(", ")));
    row(
        &mut out,
        "",
        "--all: reasons, every task, what to mind in full.",
    );
    out
}

/// What now, what next.
pub fn first_screen(agenda: &Agenda) -> String {
    let mut out = String::new();
    if let [colony] = agenda.colonies.as_slice() {
        row(
            &mut out,
            "",
            &format!("{}: {}", colony.name, word(colony.state.word)),
        );
        row(&mut out, "", &colony.state.sentence.text());
        if let Some(wish) = &colony.wish {
            ways(&mut out, wish);
        }
    } else {
        row(&mut out, "", &agenda.state.sentence.text());
        for colony in &agenda.colonies {
            row(
                &mut out,
                " ",
                &format!("{}: {}", colony.name, word(colony.state.word)),
            );
        }
    }
    out.push('\n');
    let mut now: Vec<String> = Vec::new();
    for colony in &agenda.colonies {
        for advice in &colony.advice {
            let whose = match agenda.colonies.len() {
                1 => String::new(),
                _ => format!("{}: ", colony.name),
            };
            now.push(hung(" !  ", &format!("{whose}{}", advice.text)));
        }
    }
    now.extend(agenda.now.iter().map(|item| to_do(item, false)));
    if now.is_empty() {
        now.push(" nothing".to_owned());
    }
    list(&mut out, "TODAY", now);
    if let Some(first) = agenda.next.first() {
        let items = agenda.next.iter().map(|item| to_do(item, false));
        list(
            &mut out,
            &format!("NEXT  {}", short_date(first.date)),
            items.collect(),
        );
    }
    let questions = agenda.questions.iter().map(|question| {
        let item = &question.item;
        let due = short_date(question.was_due);
        hung(" ?  ", &format!("{}: {}, {due}", item.box_name, item.short))
    });
    list(&mut out, "DID YOU?", questions.collect());
    let mut rest = String::new();
    if !agenda.later.is_empty() || !agenda.only_if.is_empty() {
        later(&mut rest, agenda);
    }
    for colony in &agenda.colonies {
        if let Some(last) = colony.last_safe {
            row(
                &mut rest,
                "",
                &format!("Last safe day for {}: {}", colony.name, long_date(last)),
            );
        }
    }
    let left = LINES.saturating_sub(out.lines().count() + rest.lines().count() + 1);
    week(&mut out, agenda, left);
    out + &rest
}

/// What else can be done where the wished date is not good.
fn ways(out: &mut String, wish: &Wish) {
    if wish.other_ways.is_empty() {
        return;
    }
    if let Some(StartOdds::Known { odds }) = &wish.odds {
        let tens = (10.0 * odds.in_time).round();
        row(out, "", &format!("In time in about {tens} of 10 years."));
    }
    let mut ways: Vec<String> = Vec::new();
    for (day, text) in [
        (wish.before, "or sooner: by"),
        (wish.after, "or wait: from"),
    ] {
        if let Some(day) = day {
            ways.push(format!("{text} {}", long_date(day)));
        }
    }
    ways.push("more ways: see plan".to_owned());
    for way in ways {
        row(out, " ", &way);
    }
}

/// As many of the week's tasks as there is room for.
fn week(out: &mut String, agenda: &Agenda, left: usize) {
    let mut lines = Vec::new();
    let mut room = left.saturating_sub(1);
    for (place, item) in agenda.this_week.iter().enumerate() {
        let text = to_do(item, true);
        let more = agenda.this_week.len() - place;
        let needed = text.lines().count() + usize::from(more > 1);
        if needed > room {
            lines.push(format!(" and {more} more"));
            break;
        }
        room -= text.lines().count();
        lines.push(text);
    }
    list(out, "THIS WEEK", lines);
}

fn later(out: &mut String, agenda: &Agenda) {
    let last = agenda.later.iter().map(|item| item.date).max();
    let mut parts = Vec::new();
    if let Some(last) = last {
        parts.push(format!("{} to {}", agenda.later.len(), long_date(last)));
    }
    if !agenda.only_if.is_empty() {
        parts.push(format!(
            "{} only if there are no eggs",
            agenda.only_if.len()
        ));
    }
    row(out, "LATER ", &parts.join("; "));
}

/// Nothing where there is nothing to list.
fn list(out: &mut String, title: &str, items: Vec<String>) {
    if items.is_empty() {
        return;
    }
    let _ = writeln!(out, "{title}");
    for item in items {
        let _ = writeln!(out, "{item}");
    }
}

/// `[ ] 04:39-05:19 Saltbush: move 0.5 m`, with the day where it is one of several.
fn to_do(item: &Item, with_day: bool) -> String {
    let mark = match item.kind {
        TaskKind::Rest | TaskKind::NextDivision => "  - ",
        _ => "[ ] ",
    };
    let day = if with_day {
        item.date.format("%a %-d ").to_string()
    } else {
        String::new()
    };
    let time = match (item.good_at, item.window) {
        (Some(at), _) => format!("about {} ", clock_text(at, Edge::From)),
        (None, Some(window)) => format!("{window} "),
        (None, None) => String::new(),
    };
    hung(
        mark,
        &format!("{day}{time}{}: {}", item.box_name, item.short),
    )
}

/// The state of today and those that follow it, as far as three of them.
fn season(answer: &Outlook) -> String {
    let states = &answer.season.states;
    let parts = states
        .iter()
        .take(STATES)
        .enumerate()
        .map(|(place, stretch)| {
            let word = state_word(stretch.state);
            match place {
                0 if states.len() == 1 => format!("{word} all year"),
                0 => format!("{word} to {}", long_date(stretch.last)),
                _ if place + 1 == states.len() => format!("then {word}"),
                _ => format!("then {word} to {}", long_date(stretch.last)),
            }
        });
    parts.collect::<Vec<_>>().join(", ")
}

/// The best mornings, each with its hours; by lamp where the bees fly before it is light.
fn mornings(out: &mut String, answer: &Outlook) {
    let hours = answer.mornings.iter().filter_map(|ranked| {
        let morning = &ranked.morning;
        let (lamp, from, until) = match (&morning.window, morning.by_lamp) {
            (MoveWindow::Open { from, until, .. }, _) => ("", *from, *until),
            (MoveWindow::None { .. }, Some(lamp)) => (" by lamp", lamp.from, lamp.until),
            (MoveWindow::None { .. }, None) => return None,
        };
        let (from, until) = (clock_text(from, Edge::From), clock_text(until, Edge::Until));
        Some(format!("{} {from}-{until}{lamp}", short_date(morning.date)))
    });
    let mut names = ["DAWNS  ", "       ", "       "].into_iter();
    for text in hours.take(MORNINGS) {
        row(out, names.next().unwrap_or_default(), &text);
    }
}

/// A state in one word, as it stands on the first line.
const fn word(word: StateWord) -> &'static str {
    match word {
        StateWord::NotReady => "NOT READY",
        StateWord::Closed => "CLOSED",
        StateWord::AtRisk => "AT RISK",
        StateWord::Good => "GOOD",
        StateWord::Rest => "NOTHING TODAY",
        StateWord::Work => "WORK TODAY",
        StateWord::LayingQueenSeen => "QUEEN LAYS",
        StateWord::LikelyEstablished => "LIKELY",
        StateWord::Uncertain => "UNCERTAIN",
        StateWord::Failing => "IN DANGER",
        StateWord::Lost => "LOST",
        _ => "",
    }
}

/// `Sat 24 Oct`.
fn short_date(date: NaiveDate) -> String {
    date.format("%a %-d %b").to_string()
}

/// Lines of a mark and a text that hangs beside it.
fn hung(mark: &str, text: &str) -> String {
    let body = wrap(&clean(text), WIDTH, mark.chars().count());
    format!("{mark}{}", body.trim_start())
}

fn row(out: &mut String, mark: &str, text: &str) {
    let _ = writeln!(out, "{}", hung(mark, text));
}
