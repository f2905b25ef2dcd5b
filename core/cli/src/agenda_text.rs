//! The short page: a first screen of what is to be done now and next, in at most 25 lines of 40 columns;
//! then season and dawns; then the dates that follow, day by day.

use apiary_almanac::agenda::{Agenda, ColonyState, Item, StateWord};
use apiary_almanac::civil::{Edge, clock_text, date_words};
use apiary_almanac::morning::MoveWindow;
use apiary_almanac::outlook::Outlook;
use apiary_almanac::place;
use apiary_almanac::plan::{Wish, WishState};
use apiary_almanac::season::StartOdds;
use chrono::{Datelike, NaiveDate};

use super::keeper::Heading;
use super::plan_text::{in_short, wish_word};
use super::sheet::{Detail, NARROW, Sheet};
use super::text::{not_at_home, state_word};

/// Lines of a small screen.
const LINES: usize = 25;
/// Lines of the states of several colonies, of today and of the next day with work on it.
const STATE_LINES: usize = 5;
/// See [`STATE_LINES`].
const NOW_LINES: usize = 11;
/// See [`STATE_LINES`].
const NEXT_LINES: usize = 5;
/// Lines of the page, unless all is asked for.
const PAGE_LINES: usize = 60;
/// States of the season that the short page names.
const STATES: usize = 3;
/// Mornings that the short page names.
const MORNINGS: usize = 3;

/// What a keeper asks first: the agenda, the season, the next good mornings; what to mind in a line; the dates
/// that follow.
pub fn short_page(
    out: &mut Sheet,
    heading: &Heading,
    agenda: Option<&Agenda>,
    answer: &Outlook,
    all: bool,
) {
    not_at_home(out, &answer.cautions);
    for doubt in place::doubts(&answer.site) {
        out.line(0, &doubt.text());
    }
    if let Some(agenda) = agenda {
        first_screen(out, agenda);
        out.blank();
    }
    if !heading.names.is_empty() {
        out.line(0, &heading.names.join(", "));
    }
    if let Some(published) = answer.season.published.first() {
        let said = out.reason(&published.said);
        out.line(0, &said);
    }
    out.item("SEASON ", &season(answer));
    if let (1, Some(rain)) = (answer.season.states.len(), &answer.season.rain) {
        out.item("       ", &rain.said.text());
    }
    mornings(out, answer);
    let off_c = answer.basis.iter().find_map(|basis| basis.typical_error_c);
    if let Some(off_c) = off_c {
        let text = format!(
            "default of the place, typically {off_c:.1} °C off; a near station's months are better"
        );
        out.item("AIR    ", &text);
    }
    let mind: Vec<_> = answer
        .cautions
        .iter()
        .map(|caution| in_short(&caution.code))
        .collect();
    out.item("MIND   ", &format!("{}.", mind.join(", ")));
    if let Some(agenda) = agenda {
        dates(out, agenda, all);
    }
    let more = match (out.detail.reasons(), all) {
        (false, false) => "--why: reasons; --sources; --all: later, and only if.",
        (false, true) => "--why: reasons; --sources.",
        (true, false) => "--all: later, and only if.",
        (true, true) => return,
    };
    out.line(0, more);
}

/// The first screen by itself; with `all` every date after it.
pub fn page(agenda: &Agenda, detail: Detail, all: bool) -> String {
    let mut out = Sheet::new(NARROW, detail);
    first_screen(&mut out, agenda);
    if all {
        dates(&mut out, agenda, all);
    }
    out.finish()
}

/// What now, what next.
pub fn first_screen(out: &mut Sheet, agenda: &Agenda) {
    let above = out.lines();
    if let [colony] = agenda.colonies.as_slice() {
        let wish = colony.wish.as_ref();
        let word = match (colony.state.word, wish) {
            (StateWord::Good, Some(wish)) => wish_word(wish),
            (word, _) => self::word(word),
        };
        out.line(0, &format!("{}: {word}", colony.name));
        if let Some(wish) = wish.filter(|wish| wish.state == WishState::TooLate) {
            next_good(out, wish);
        }
        out.line(0, &colony.state.sentence.text());
        if let Some(wish) = wish {
            ways(out, wish);
        }
        in_doubt(out, colony);
    } else {
        out.line(0, &agenda.state.sentence.text());
        let states = agenda.colonies.iter().map(|colony| {
            let text = format!("{}: {}", colony.name, word(colony.state.word));
            lines(|out| out.item(" ", &text))
        });
        some(out, states, STATE_LINES);
    }
    out.blank();
    out.line(0, "TODAY");
    let today = advice(agenda).chain(
        agenda
            .now
            .iter()
            .map(|item| lines(|out| to_do(out, item, ""))),
    );
    if some(out, today, NOW_LINES) == 0 {
        out.line(0, " nothing");
    }
    if let Some(first) = agenda.next.first() {
        let day = short_date(first.date, year_of(agenda));
        out.line(0, &format!("NEXT  {day}"));
        let items = agenda
            .next
            .iter()
            .map(|item| lines(|out| to_do(out, item, "")));
        some(out, items, NEXT_LINES);
    }
    let rest = lines(|out| {
        questions(out, agenda);
        record_as(out, agenda);
        later(out, agenda);
    });
    let limits = lines(|out| {
        for colony in &agenda.colonies {
            if let Some(last) = colony.last_safe {
                let last = date_words(last);
                out.line(0, &format!("Last safe day for {}: {last}", colony.name));
            }
        }
    });
    let taken = out.lines() - above + rest.lines().count();
    let room = LINES.saturating_sub(taken + limits.lines().count());
    week(out, agenda, room);
    out.append(&rest);
    // The plan says it too.
    if taken + limits.lines().count() <= LINES {
        out.append(&limits);
    }
}

/// The box to be watched and why, and what the signs come to.
fn in_doubt(out: &mut Sheet, colony: &ColonyState) {
    if let (Some(watch), Some(pair)) = (&colony.watch, &colony.pair) {
        out.item("WATCH ", &format!("{watch}. {}", pair.reason.text()));
    }
    if let Some(signs) = &colony.signs {
        let (speak_for, against) = (signs.speak_for, signs.speak_against);
        let little = signs.say_little;
        let text = format!("{speak_for} for it, {against} against, {little} say little");
        out.item("SIGNS ", &text);
    }
}

/// Lines by themselves.
fn lines(write: impl FnOnce(&mut Sheet)) -> String {
    let mut out = Sheet::new(NARROW, Detail::default());
    write(&mut out);
    out.finish()
}

/// As many as have room, and how many more there are; gives back how many there are in all.
fn some(out: &mut Sheet, items: impl Iterator<Item = String>, most: usize) -> usize {
    let items: Vec<String> = items.collect();
    let mut room = most;
    for (place, text) in items.iter().enumerate() {
        let more = items.len() - place;
        let needed = text.lines().count() + usize::from(more > 1);
        if needed > room {
            out.line(0, &format!(" and {more} more"));
            break;
        }
        room -= text.lines().count();
        out.append(text);
    }
    items.len()
}

/// What to do because of what was seen.
fn advice(agenda: &Agenda) -> impl Iterator<Item = String> {
    let alone = agenda.colonies.len() == 1;
    agenda.colonies.iter().flat_map(move |colony| {
        let whose = if alone {
            String::new()
        } else {
            format!("{}: ", colony.name)
        };
        let advice = colony.advice.iter();
        advice.map(move |advice| {
            let until = advice.until.map(date_words);
            let until = until.map_or_else(String::new, |day| format!(" It helps until {day}."));
            lines(|out| out.item(" !  ", &format!("{whose}{}{until}", advice.text)))
        })
    })
}

fn questions(out: &mut Sheet, agenda: &Agenda) {
    if !agenda.questions.is_empty() {
        out.line(0, "DID YOU?");
    }
    for question in &agenda.questions {
        let item = &question.item;
        let due = short_date(question.was_due, year_of(agenda));
        out.item(" ?  ", &format!("{}: {}, {due}", item.box_name, item.short));
    }
}

/// By which names what is done today, or was to be done, is recorded.
fn record_as(out: &mut Sheet, agenda: &Agenda) {
    let asked = agenda.questions.iter().map(|question| &question.item);
    let mut names: Vec<String> = Vec::new();
    for item in agenda.now.iter().chain(asked) {
        let name = match item.answers.as_slice() {
            [] => item.task.clone(),
            _ => format!("{} --opened", item.task),
        };
        if item.kind.is_work() && !names.contains(&name) {
            names.push(name);
        }
    }
    if !names.is_empty() {
        out.item("record as: ", &names.join(", "));
    }
}

fn next_good(out: &mut Sheet, wish: &Wish) {
    if let Some(after) = wish.after {
        out.line(0, &format!("Next good date: {}.", date_words(after)));
    }
}

/// What else can be done where the wished date is not good.
fn ways(out: &mut Sheet, wish: &Wish) {
    if wish.other_ways.is_empty() {
        return;
    }
    if let Some(StartOdds::Known { odds }) = &wish.odds
        && wish.state != WishState::TooLate
    {
        let tens = (10.0 * odds.in_time).round();
        out.line(0, &format!("In time in about {tens} of 10 years."));
    }
    for (day, text) in [
        (wish.before, "or sooner: by"),
        (wish.after, "or wait: from"),
    ] {
        // Where it is too late, the next good date stands above.
        let day = day.filter(|day| wish.state != WishState::TooLate || wish.after != Some(*day));
        if let Some(day) = day {
            out.item(" ", &format!("{text} {}", date_words(day)));
        }
    }
    out.item(" ", "more ways: see plan");
}

/// As many of the week's tasks as there is room for.
fn week(out: &mut Sheet, agenda: &Agenda, room: usize) {
    let items = agenda.this_week.iter().map(|item| {
        let day = item.date.format("%a %-d ").to_string();
        lines(|out| to_do(out, item, &day))
    });
    // The title takes a line.
    let list = lines(|out| {
        some(out, items, room.saturating_sub(1));
    });
    if !list.is_empty() && room > 1 {
        out.line(0, "THIS WEEK");
        out.append(&list);
    }
}

fn later(out: &mut Sheet, agenda: &Agenda) {
    let last = agenda.later.iter().map(|item| item.date).max();
    let mut parts = Vec::new();
    if let Some(last) = last {
        parts.push(format!("{} to {}", agenda.later.len(), date_words(last)));
    }
    if !agenda.only_if.is_empty() {
        parts.push(format!(
            "{} only if there are no eggs",
            agenda.only_if.len()
        ));
    }
    if !parts.is_empty() {
        out.item("LATER ", &parts.join("; "));
    }
}

/// The dates after today in one list; with `all` also what is done only if something turns out so, and what
/// has no date yet.
fn dates(out: &mut Sheet, agenda: &Agenda, all: bool) {
    let year = year_of(agenda);
    let ahead = agenda.next.iter().chain(&agenda.this_week);
    let ahead: Vec<&Item> = ahead.chain(&agenda.later).collect();
    let days = days(&ahead);
    if !days.is_empty() {
        out.blank();
        out.line(0, "DATES");
    }
    for (place, (items, title)) in days.iter().enumerate() {
        let text = day_line(items, title, year);
        // How many more there are, and two lines below the list.
        let room = PAGE_LINES.saturating_sub(out.lines() + 3);
        if !all && text.lines().count() > room {
            let left: usize = days[place..].iter().map(|(items, _)| items.len()).sum();
            let last = ahead
                .last()
                .map_or_else(String::new, |item| format!(" to {}", date_words(item.date)));
            out.line(0, &format!("and {left} more{last}"));
            break;
        }
        out.append(&text);
    }
    if !all {
        return;
    }
    if !agenda.only_if.is_empty() {
        out.blank();
        out.line(0, "ONLY IF");
    }
    for item in &agenda.only_if {
        let day = short_date(item.date, year);
        let why = item.only_if.as_ref().map(|why| out.reason(why));
        let why = why.unwrap_or_default();
        let text = format!("{day}  {}: {}. {why}", item.box_name, item.short);
        out.item("", &text);
    }
    if !agenda.waiting.is_empty() {
        out.blank();
        out.line(0, "WITHOUT A DATE YET");
    }
    for waiting in &agenda.waiting {
        let until = out.reason(&waiting.task.until);
        out.item(
            "",
            &format!("{}: {}. {until}", waiting.box_name, waiting.task.in_short()),
        );
    }
}

/// Works that share a day and an hour, or are the same on days that follow each other, are one line.
fn days<'a>(items: &[&'a Item]) -> Vec<(Vec<&'a Item>, String)> {
    let mut days: Vec<(Vec<&Item>, String)> = Vec::new();
    for item in items {
        if let Some((known, title)) = days.last_mut()
            && let [.., last] = known.as_slice()
            && last.box_name == item.box_name
        {
            if last.date == item.date && last.window.is_some() && last.window == item.window {
                *title += &format!(", {}", item.short);
                known.push(item);
                continue;
            }
            if untimed(last) && untimed(item) && alike(&last.short) == alike(&item.short) {
                alike(&item.short).clone_into(title);
                known.push(item);
                continue;
            }
        }
        days.push((vec![item], in_words(item)));
    }
    days
}

const fn untimed(item: &Item) -> bool {
    item.window.is_none() && item.good_at.is_none()
}

/// Without the number of the time: `pests? (outside) (1 of 3)`.
fn alike(short: &str) -> &str {
    let numbered = short
        .rsplit_once(" (")
        .filter(|(_, rest)| rest.contains(" of "));
    numbered.map_or(short, |(words, _)| words)
}

fn day_line(items: &[&Item], title: &str, year: i32) -> String {
    let mut out = Sheet::new(NARROW, Detail::default());
    let [first, ..] = items else {
        return String::new();
    };
    let mut days: Vec<NaiveDate> = items.iter().map(|item| item.date).collect();
    days.dedup();
    let last = days.pop().unwrap_or(first.date);
    let earlier: String = days
        .iter()
        .map(|day| day.format("%a %-d, ").to_string())
        .collect();
    let day = earlier + &short_date(last, year);
    let time = match time(first) {
        time if time.is_empty() => String::new(),
        time => format!(" {}", time.trim_end()),
    };
    out.item("", &format!("{day}{time}"));
    out.item("    ", &format!("{}: {title}", first.box_name));
    out.finish()
}

/// `[ ] 04:39-05:19 Saltbush: move 0.5 m`.
fn to_do(out: &mut Sheet, item: &Item, day: &str) {
    let mark = if item.kind.is_work() { "[ ] " } else { "  - " };
    let time = time(item);
    let shut = if item.still_shut { "STILL SHUT: " } else { "" };
    let words = in_words(item);
    out.item(
        mark,
        &format!("{day}{time}{}: {shut}{words}", item.box_name),
    );
}

/// `close the entrance, then Sun 25 05:36-08:21 move 0.5 m (1 of 2), open entrance`.
fn in_words(item: &Item) -> String {
    let mut text = item.short.clone();
    let (mut date, mut window) = (item.date, item.window);
    for (place, next) in item.then.iter().enumerate() {
        text += if place == 0 { ", then " } else { ", " };
        if next.date != date {
            text += &next.date.format("%a %-d ").to_string();
        }
        if let Some(hours) = next.window.filter(|_| next.window != window) {
            text += &format!("{hours} ");
        }
        text += &next.short;
        (date, window) = (next.date, next.window);
    }
    text
}

fn time(item: &Item) -> String {
    match (item.good_at, item.window) {
        (Some(at), _) => format!("about {} ", clock_text(at, Edge::From)),
        (None, Some(window)) => format!("{window} "),
        (None, None) => String::new(),
    }
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
                0 => format!("{word} to {}", date_words(stretch.last)),
                _ if place + 1 == states.len() => format!("then {word}"),
                _ => format!("then {word} to {}", date_words(stretch.last)),
            }
        });
    parts.collect::<Vec<_>>().join(", ")
}

/// The best mornings, each with its hours; by lamp where the bees fly before it is light.
fn mornings(out: &mut Sheet, answer: &Outlook) {
    let year = answer.today.year();
    let hours = answer.mornings.iter().filter_map(|ranked| {
        let morning = &ranked.morning;
        let (lamp, from, until) = match (&morning.window, morning.by_lamp) {
            (MoveWindow::Open { from, until, .. }, _) => ("", *from, *until),
            (MoveWindow::None { .. }, Some(lamp)) => (" by lamp", lamp.from, lamp.until),
            (MoveWindow::None { .. }, None) => return None,
        };
        let (from, until) = (clock_text(from, Edge::From), clock_text(until, Edge::Until));
        let day = short_date(morning.date, year);
        Some(format!("{day} {from}-{until}{lamp}"))
    });
    let mut names = ["DAWNS  ", "       ", "       "].into_iter();
    for text in hours.take(MORNINGS) {
        out.item(names.next().unwrap_or_default(), &text);
    }
}

/// A state in one word, as it stands on the first line.
const fn word(word: StateWord) -> &'static str {
    match word {
        StateWord::NotReady => "NOT READY",
        StateWord::NotYet => "NOT YET",
        StateWord::Closed => "CLOSED",
        StateWord::TooLate => "TOO LATE",
        StateWord::AtRisk => "AT RISK",
        StateWord::Good => "GOOD",
        StateWord::Rest => "NOTHING TODAY",
        StateWord::Work => "WORK TODAY",
        StateWord::LayingQueenSeen => "QUEEN LAYS",
        StateWord::LikelyEstablished => "LIKELY",
        StateWord::Uncertain => "UNCERTAIN",
        StateWord::Failing => "IN DANGER",
        StateWord::Lost => "LOST",
        StateWord::Joined => "JOINED",
        _ => "",
    }
}

/// The year of the day for which an agenda holds.
fn year_of(agenda: &Agenda) -> i32 {
    agenda
        .colonies
        .first()
        .map_or(0, |colony| colony.today.year())
}

/// In lists the year stands only where it is another one.
fn short_date(date: NaiveDate, year: i32) -> String {
    if date.year() == year {
        date.format("%a %-d %b").to_string()
    } else {
        date_words(date)
    }
}
