//! The printed answer, for a terminal of 80 columns.

use std::fmt::Write;

use apiary_almanac::caution::{Caution, NOT_AT_HOME};
use apiary_almanac::civil::{Edge, clock_text, whole_minute};
use apiary_almanac::flight::{Flight, FlightEdge, FlightLimit};
use apiary_almanac::morning::{Morning, MoveWindow, RankedMorning, Verdict};
use apiary_almanac::outlook::Outlook;
use apiary_almanac::place::{DOUBTS, doubts as doubts_of};
use apiary_almanac::season::{
    DateState, EdgeRange, Judgement, PublishedMark, Season, SeasonOutcome, SeasonStretch, StartOdds,
};
use apiary_almanac::{Crossing, Instant, Reason, Site};
use chrono::NaiveDate;

use super::keeper::Heading;

const WIDTH: usize = 80;

/// Season, tomorrow, mornings, cautions.
pub fn page(heading: &Heading, answer: &Outlook) -> String {
    let mut out = head(heading, answer);
    season_section(&mut out, answer);
    section(
        &mut out,
        &format!("Tomorrow, {}", long_date(answer.sun_tomorrow.date)),
    );
    tomorrow(&mut out, answer);
    mornings_section(&mut out, answer);
    cautions(&mut out, &answer.cautions);
    out
}

/// The season by itself.
pub fn season_page(heading: &Heading, answer: &Outlook) -> String {
    let mut out = head(heading, answer);
    season_section(&mut out, answer);
    out
}

/// The mornings by themselves, with what to mind.
pub fn mornings_page(heading: &Heading, answer: &Outlook) -> String {
    let mut out = head(heading, answer);
    mornings_section(&mut out, answer);
    cautions(&mut out, &answer.cautions);
    out
}

fn head(heading: &Heading, answer: &Outlook) -> String {
    let mut out = String::new();
    not_at_home(&mut out, &answer.cautions);
    if !heading.names.is_empty() {
        line(&mut out, 0, &heading.names.join(", "));
    }
    line(&mut out, 0, &place(&answer.site));
    doubts(&mut out, &answer.site);
    line(
        &mut out,
        0,
        &format!(
            "Asked on {}; {}.",
            long_date(answer.today),
            answer.bee.label()
        ),
    );
    out
}

fn season_section(out: &mut String, answer: &Outlook) {
    section(out, "Season for dividing colonies");
    season(out, &answer.season);
    if let StartOdds::Known { odds } = &answer.odds_today {
        line(out, 2, &format!("Divided today: {}", odds.said.text()));
    }
    for basis in &answer.basis {
        let error = match (basis.typical_error_c, basis.p95_error_c) {
            (Some(typical), Some(p95)) => {
                format!(
                    " Its monthly means are typically {typical:.1} °C off, 19 in 20 by less than {p95:.1} °C."
                )
            }
            _ => String::new(),
        };
        let advice = basis
            .advice
            .as_deref()
            .map(|a| format!(" {a}"))
            .unwrap_or_default();
        line(out, 2, &format!("Rests on {}.{error}{advice}", basis.about));
    }
}

fn mornings_section(out: &mut String, answer: &Outlook) {
    section(out, "Mornings to move a hive, the best first");
    for ranked in &answer.mornings {
        morning(out, ranked);
    }
}

/// The first line where bees do not live at the place.
pub fn not_at_home(out: &mut String, cautions: &[Caution]) {
    let first = cautions.first();
    if let Some(first) = first.filter(|first| NOT_AT_HOME.contains(&&*first.code)) {
        line(out, 0, &first.text);
    }
}

/// What to look at again in the place, among the first lines.
pub fn doubts(out: &mut String, site: &Site) {
    for doubt in doubts_of(site) {
        item(out, "! ", &doubt.text());
    }
}

/// What to mind, without the doubts of the place, which stand at the top.
pub fn cautions(out: &mut String, cautions: &[Caution]) {
    section(out, "Mind");
    for caution in cautions.iter().filter(|c| !DOUBTS.contains(&&*c.code)) {
        let because = caution
            .because()
            .map(|b| format!(" [{b}]"))
            .unwrap_or_default();
        item(out, "- ", &format!("{}{because}", caution.text));
    }
}

/// Most published rows that are printed; all are in the JSON.
const PUBLISHED_SHOWN: usize = 2;

fn season(out: &mut String, season: &Season) {
    let rows = season.published.iter().enumerate();
    let rows = rows.filter(|(number, row)| *number == 0 || row.of_this_bee);
    for (_, row) in rows.take(PUBLISHED_SHOWN) {
        let source = match row.mark {
            PublishedMark::Unknown => String::new(),
            PublishedMark::Publication | PublishedMark::Practice => format!(" ({})", row.source),
        };
        line(out, 2, &(row.said.text() + &source));
        for against in &row.against {
            line(out, 4, &against.text());
        }
    }
    match &season.outcome {
        SeasonOutcome::AllYear => {
            line(
                out,
                2,
                "Good all year by temperature: every rule holds on every date.",
            );
            match &season.rain {
                Some(rain) => line(out, 2, &rain.said.text()),
                None => line(out, 2, "Which months are wet is not known here."),
            }
        }
        SeasonOutcome::None { reasons, .. } => {
            line(
                out,
                2,
                "No date in the coming twelve months passes every rule.",
            );
            for reason in reasons {
                item(out, "    ", &reason.text());
            }
        }
        SeasonOutcome::Windows { .. } => {
            for (number, stretch) in season.states.iter().enumerate() {
                let goes_on = number + 1 == season.states.len();
                line(out, 2, &self::stretch(stretch, number == 0, goes_on));
                because(out, &stretch.why);
            }
            let windows = match &season.outcome {
                SeasonOutcome::Windows { windows, .. } => windows.as_slice(),
                _ => &[],
            };
            let range = windows
                .iter()
                .find_map(|window| window.error_range.as_ref());
            if let Some(range) = range {
                let error = format!(
                    "In brackets: the date if the place is {:.1} °C warmer or cooler than assumed.",
                    range.error_c
                );
                line(out, 2, &error);
            }
        }
    }
    let (chance, at_risk) = (100.0 * season.chance, 100.0 * season.at_risk_chance);
    match season.judgement {
        Judgement::Years => line(
            out,
            2,
            &format!(
                "Good: the rules held in at least {chance:.0} % of {} years. At risk: done by keepers, \
                 and easier rules held in at least {at_risk:.0} %.",
                season.years
            ),
        ),
        Judgement::Spread => line(
            out,
            2,
            &format!(
                "Good: the rules hold in about {chance:.0} % of years or more, by how far days stray \
                 from the mean at this place. At risk: done by keepers, and easier rules hold in about \
                 {at_risk:.0} %."
            ),
        ),
        Judgement::MeanCourse => {}
    }
}

/// As it stands first on a line.
pub const fn state_word(state: DateState) -> &'static str {
    match state {
        DateState::Good => "GOOD",
        DateState::AtRisk => "AT RISK",
        DateState::Closed => "CLOSED",
    }
}

/// `AT RISK Wed 3 Aug 2026 (20 Jul to 15 Aug) to Thu 24 Sep 2026`.
fn stretch(stretch: &SeasonStretch, is_first: bool, goes_on: bool) -> String {
    let state = state_word(stretch.state);
    let first = long_date(stretch.first) + &edge_range(stretch.begins.as_ref());
    let last = long_date(stretch.last);
    let when = match (is_first, goes_on) {
        (true, true) => "on all these dates".to_owned(),
        (true, false) => format!("now, until {last}"),
        (false, true) => format!("from {first} on"),
        (false, false) => format!("{first} to {last} ({} days)", stretch.days),
    };
    format!("{state:<8}{when}")
}

/// Between which dates an edge lies.
fn edge_range(range: Option<&EdgeRange>) -> String {
    let date = |date: NaiveDate| date.format("%-d %b").to_string();
    match range.map(|range| (range.earliest, range.latest)) {
        Some((Some(earliest), Some(latest))) => {
            format!(" ({} to {})", date(earliest), date(latest))
        }
        Some((Some(earliest), None)) => format!(" ({} or later)", date(earliest)),
        Some((None, Some(latest))) => format!(" ({} or earlier)", date(latest)),
        Some((None, None)) | None => String::new(),
    }
}

fn because(out: &mut String, reasons: &[Reason]) {
    if !reasons.is_empty() {
        let texts: Vec<_> = reasons.iter().map(|reason| reason.text()).collect();
        line(out, 10, &texts.join("; "));
    }
}

fn tomorrow(out: &mut String, answer: &Outlook) {
    let sun = &answer.sun_tomorrow;
    let (dawn, dusk) = rise_and_set(&sun.civil);
    let (rise, set) = rise_and_set(&sun.sun);
    line(
        out,
        2,
        &format!(
            "civil dawn {dawn}, sunrise {rise}, noon {}, sunset {set}, civil dusk {dusk}",
            clock_text(sun.solar_noon, Edge::From)
        ),
    );
    let day = &answer.flight_tomorrow;
    let flight = match &day.flight {
        Flight::Possible {
            early_first,
            first,
            last,
            ..
        } => {
            let sooner = if early_first.at < first.at {
                let at = clock_text(early_first.at, Edge::Until);
                format!(", on one morning in ten from {at}")
            } else {
                String::new()
            };
            format!(
                "bees usually fly from {} to {}{sooner}",
                edge(first, Edge::Until),
                edge(last, Edge::From),
            )
        }
        Flight::TooCold => "too cold for flight".to_owned(),
        Flight::TooDark => "too dark for flight".to_owned(),
        Flight::NeverBoth => "no flight".to_owned(),
    };
    line(
        out,
        2,
        &format!(
            "{:.0} to {:.0} °C ({}); {flight}.",
            day.temperatures.minimum_c,
            day.temperatures.maximum_c,
            day.temperatures.source.words()
        ),
    );
    let verdict = if day.flying_day {
        "A flying day"
    } else {
        "Not a flying day"
    };
    line(out, 2, &format!("{verdict}: {}", day.reason.text()));
}

fn morning(out: &mut String, ranked: &RankedMorning) {
    let found = &ranked.morning;
    let evening = &found.evening_before;
    let lamp = if evening.lamp_needed { " by lamp" } else { "" };
    let window = match &found.window {
        MoveWindow::Open {
            from,
            until,
            careful_from,
            ..
        } => {
            let (from, until) = (
                whole_minute(*from, Edge::From),
                whole_minute(*until, Edge::Until),
            );
            // As many as lie between the two texts.
            let minutes = (until - from).num_minutes();
            let (from, until) = (clock_text(from, Edge::From), clock_text(until, Edge::Until));
            let careful = careful_from.map_or_else(String::new, |at| {
                format!(", careful {}", clock_text(at, Edge::Until))
            });
            format!("move {from}-{until} ({minutes} min{careful})")
        }
        MoveWindow::None { .. } => match found.by_lamp {
            Some(lamp) => format!(
                "by lamp {}-{}",
                clock_text(lamp.from, Edge::From),
                clock_text(lamp.until, Edge::Until)
            ),
            None => "no move window".to_owned(),
        },
    };
    line(
        out,
        0,
        &format!(
            "{:>2}. {}  {window}; close {} from {}{lamp}",
            ranked.rank,
            short_date(found.date),
            evening.from.format("%a"),
            clock_text(evening.from, Edge::From)
        ),
    );
    let verdict = match found.verdict {
        Verdict::Go => String::new(),
        Verdict::Careful => format!("With care: {}", found.verdict_reason.text()),
        Verdict::No => {
            let next = ranked.next_good.map_or_else(String::new, |date| {
                format!(" Next good morning: {}.", short_date(date))
            });
            format!("Do not move: {}{next}", found.verdict_reason.text())
        }
    };
    if !verdict.is_empty() {
        line(out, 4, &verdict);
    }
    let first = match &found.first_flight {
        Some(first) => format!(
            "Usual first flight {}{}. ",
            edge(first, Edge::Until),
            early(found)
        ),
        None => "No flight that day. ".to_owned(),
    };
    // That bees do not live here has been said at the top.
    let reasons = ranked.reasons.iter();
    let reasons = reasons.filter(|reason| !NOT_AT_HOME.contains(&&*reason.code));
    let reasons: Vec<_> = reasons.map(Reason::text).collect();
    line(out, 4, &format!("{first}{}", reasons.join(" ")));
    if let MoveWindow::None { help, .. } = &found.window {
        let help: Vec<_> = help.iter().map(|reason| reason.text()).collect();
        line(out, 4, &help.join(" "));
    }
}

/// Early first flight, where it is another.
fn early(found: &Morning) -> String {
    match (found.early_first_flight, found.first_flight) {
        (Some(early), Some(usual)) if early.at < usual.at => {
            format!(", early {}", edge(&early, Edge::Until))
        }
        _ => String::new(),
    }
}

/// First flight is rounded down, last flight up: bees may be out for all of those minutes.
fn edge(edge: &FlightEdge, side: Edge) -> String {
    let limit = match edge.limit {
        FlightLimit::Light => "light",
        FlightLimit::Temperature => "warmth",
    };
    format!("{} ({limit})", clock_text(edge.at, side))
}

fn rise_and_set(crossing: &Crossing) -> (String, String) {
    let none = || "--:--".to_owned();
    // What begins with the light is rounded up, what ends with it down.
    let up = |at: &Instant| clock_text(*at, Edge::From);
    let down = |at: &Instant| clock_text(*at, Edge::Until);
    match crossing {
        Crossing::RisesAndSets { rise, set } => (up(rise), down(set)),
        Crossing::OnlyRises { rise } => (up(rise), none()),
        Crossing::OnlySets { set } => (none(), down(set)),
        Crossing::AlwaysAbove | Crossing::AlwaysBelow => (none(), none()),
    }
}

fn place(site: &Site) -> String {
    let (latitude, longitude) = (site.latitude_deg.get(), site.longitude_deg.get());
    format!(
        "{:.3}° {}, {:.3}° {}, {:.0} m, {}",
        latitude.abs(),
        if latitude < 0.0 { "S" } else { "N" },
        longitude.abs(),
        if longitude < 0.0 { "W" } else { "E" },
        site.elevation_m.get(),
        site.zone.name()
    )
}

pub fn long_date(date: NaiveDate) -> String {
    date.format("%a %-d %b %Y").to_string()
}

fn short_date(date: NaiveDate) -> String {
    date.format("%a %e %b").to_string()
}

pub fn section(out: &mut String, title: &str) {
    out.push('\n');
    line(out, 0, title);
    line(out, 0, &"-".repeat(title.chars().count()));
}

pub fn line(out: &mut String, indent: usize, text: &str) {
    let _ = writeln!(out, "{}", wrap(&clean(text), WIDTH, indent));
}

/// A list item: the mark before its first line, as many spaces before the others.
pub fn item(out: &mut String, mark: &str, text: &str) {
    let body = wrap(&clean(text), WIDTH, mark.chars().count());
    let _ = writeln!(out, "{mark}{}", body.trim_start());
}

/// A text as a terminal may have it: dates in words, and no control character of a name that would do
/// something there.
pub fn clean(text: &str) -> String {
    let shown = |c: char| {
        if c.is_control() && c != '\n' {
            '\u{fffd}'
        } else {
            c
        }
    };
    dates_in_words(&text.chars().map(shown).collect::<String>())
}

/// The engine's sentences have dates as 2026-09-14; here they stand as in every other line. A date within a
/// name, such as that of a file, stays.
fn dates_in_words(text: &str) -> String {
    let word = |word: &str| {
        let date = word.trim_matches(|c: char| !c.is_ascii_digit());
        match date.parse::<NaiveDate>() {
            Ok(day) if date.len() == 10 => word.replacen(date, &long_date(day), 1),
            _ => word.to_owned(),
        }
    };
    text.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

/// Breaks text at spaces so that no line is longer than `width`; every line is indented.
pub fn wrap(text: &str, width: usize, indent: usize) -> String {
    let margin = " ".repeat(indent);
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let lead: String = paragraph.chars().take_while(|c| *c == ' ').collect();
        let mut row = format!("{margin}{lead}");
        let mut empty = true;
        // Single spaces are where a line may break; runs of them are columns and stay together.
        for word in paragraph.trim_start().split(' ') {
            let fits = row.chars().count() + 1 + word.chars().count() <= width;
            if !empty && !fits {
                lines.push(row.trim_end().to_owned());
                row = format!("{margin}{word}");
            } else {
                if !empty {
                    row.push(' ');
                }
                row.push_str(word);
            }
            empty = false;
        }
        lines.push(row.trim_end().to_owned());
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_asked() {
        let text = "Weigh a hive before you plan to lift it; lift with two people or a barrow.";
        for width in [20, 33, 80] {
            let wrapped = wrap(text, width, 4);
            assert!(
                wrapped
                    .lines()
                    .all(|l| l.chars().count() <= width && l.starts_with("    "))
            );
            let words: Vec<_> = wrapped.split_whitespace().collect();
            assert_eq!(words, text.split_whitespace().collect::<Vec<_>>());
        }
    }
}
