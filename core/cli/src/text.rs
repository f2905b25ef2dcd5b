//! The printed answer about season, sun and mornings, for a terminal of 80 columns.

use apiary_almanac::caution::{Caution, NOT_AT_HOME};
use apiary_almanac::civil::{Edge, clock_text, date_words};
use apiary_almanac::climate::Basis;
use apiary_almanac::flight::{Flight, FlightEdge, FlightLimit};
use apiary_almanac::morning::{Morning, MoveWindow, RankedMorning, Verdict};
use apiary_almanac::outlook::Outlook;
use apiary_almanac::place::{DOUBTS, doubts as doubts_of};
use apiary_almanac::season::{
    DateState, EdgeRange, Judgement, PublishedMark, Season, SeasonOutcome, SeasonStretch, StartOdds,
};
use apiary_almanac::{Crossing, Instant, Site};
use chrono::NaiveDate;

use super::keeper::Heading;
use super::sheet::{Detail, Sheet, WIDE};

/// The season by itself.
pub fn season_page(heading: &Heading, answer: &Outlook, detail: Detail) -> String {
    let mut out = Sheet::new(WIDE, detail);
    head(&mut out, heading, answer);
    season_section(&mut out, answer);
    out.finish()
}

/// The mornings by themselves, with what to mind.
pub fn mornings_page(heading: &Heading, answer: &Outlook, detail: Detail) -> String {
    let mut out = Sheet::new(WIDE, detail);
    head(&mut out, heading, answer);
    mornings_section(&mut out, answer);
    cautions(&mut out, &answer.cautions);
    out.finish()
}

/// Season, tomorrow, mornings, with their reasons.
pub fn in_full(out: &mut Sheet, answer: &Outlook) {
    out.blank();
    out.line(0, &place(&answer.site));
    asked_on(out, answer);
    season_section(out, answer);
    let day = date_words(answer.sun_tomorrow.date);
    out.section(&format!("Tomorrow, {day}"));
    tomorrow(out, answer);
    mornings_section(out, answer);
}

fn head(out: &mut Sheet, heading: &Heading, answer: &Outlook) {
    not_at_home(out, &answer.cautions);
    if !heading.names.is_empty() {
        out.line(0, &heading.names.join(", "));
    }
    out.line(0, &place(&answer.site));
    doubts(out, &answer.site);
    asked_on(out, answer);
}

fn asked_on(out: &mut Sheet, answer: &Outlook) {
    let today = date_words(answer.today);
    out.line(0, &format!("Asked on {today}; {}.", answer.bee.label()));
}

fn season_section(out: &mut Sheet, answer: &Outlook) {
    out.section("Season for dividing colonies");
    season(out, &answer.season);
    if let StartOdds::Known { odds } = &answer.odds_today {
        let odds = out.reason(&odds.said);
        out.line(2, &format!("Divided today: {odds}"));
    }
    for basis in &answer.basis {
        self::basis(out, basis);
    }
}

/// What temperatures rest on, and how far off they may be.
fn basis(out: &mut Sheet, basis: &Basis) {
    let mut words = Vec::new();
    // The sources of the built-in climate are many.
    let own = basis.typical_error_c.is_none();
    if own || out.detail.sources {
        words.push(format!("Rests on {}.", out.cited(&basis.about)));
    } else {
        words.push("Rests on the built-in climate of the place.".to_owned());
    }
    if let (Some(typical), Some(p95)) = (basis.typical_error_c, basis.p95_error_c) {
        words.push(format!(
            "Its monthly means are typically {typical:.1} °C off, 19 in 20 by less than {p95:.1} °C."
        ));
    }
    words.extend(basis.advice.clone());
    out.line(2, &words.join(" "));
}

fn mornings_section(out: &mut Sheet, answer: &Outlook) {
    out.section("Mornings to move a hive, the best first");
    for ranked in &answer.mornings {
        morning(out, ranked);
    }
}

/// The first line where bees do not live at the place.
pub fn not_at_home(out: &mut Sheet, cautions: &[Caution]) {
    let first = cautions.first();
    if let Some(first) = first.filter(|first| NOT_AT_HOME.contains(&&*first.code)) {
        out.line(0, &first.text);
    }
}

/// What to look at again in the place, among the first lines.
pub fn doubts(out: &mut Sheet, site: &Site) {
    for doubt in doubts_of(site) {
        out.item("! ", &doubt.text());
    }
}

/// What to mind, without the doubts of the place, which stand at the top.
pub fn cautions(out: &mut Sheet, cautions: &[Caution]) {
    out.section("Mind");
    for caution in cautions.iter().filter(|c| !DOUBTS.contains(&&*c.code)) {
        let because = caution
            .because()
            .map(|because| format!(" [{because}]"))
            .unwrap_or_default();
        out.item("- ", &format!("{}{because}", caution.text));
    }
}

/// Most published rows that are printed; all are in the JSON.
const PUBLISHED_SHOWN: usize = 2;

fn season(out: &mut Sheet, season: &Season) {
    let rows = season.published.iter().enumerate();
    let rows = rows.filter(|(number, row)| *number == 0 || row.of_this_bee);
    for (_, row) in rows.take(PUBLISHED_SHOWN) {
        let mut said = out.reason(&row.said);
        if out.detail.sources && row.mark != PublishedMark::Unknown {
            said += &format!(" ({})", out.source(&row.source));
        }
        out.line(2, &said);
        for against in &row.against {
            out.line(4, &against.text());
        }
    }
    match &season.outcome {
        SeasonOutcome::AllYear => {
            out.line(
                2,
                "Good all year by temperature: every rule holds on every date.",
            );
            match &season.rain {
                Some(rain) => out.line(2, &rain.said.text()),
                None => out.line(2, "Which months are wet is not known here."),
            }
        }
        SeasonOutcome::None { reasons, .. } => {
            out.line(2, "There is no good date in the coming twelve months.");
            for reason in reasons {
                let reason = out.reason(reason);
                out.item("    ", &reason);
            }
        }
        SeasonOutcome::Windows { windows, .. } => {
            for (number, stretch) in season.states.iter().enumerate() {
                let goes_on = number + 1 == season.states.len();
                out.line(2, &self::stretch(stretch, number == 0, goes_on));
                if out.detail.reasons() && !stretch.why.is_empty() {
                    let why: Vec<_> = stretch.why.iter().map(|why| why.text()).collect();
                    out.line(10, &why.join("; "));
                }
            }
            let range = windows
                .iter()
                .find_map(|window| window.error_range.as_ref());
            if let Some(range) = range {
                let error = format!(
                    "In brackets: the date if the place is {:.1} °C warmer or cooler than assumed.",
                    range.error_c
                );
                out.line(2, &error);
            }
        }
    }
    if out.detail.reasons() {
        out_of_years(out, season);
    }
}

/// What good and at risk mean.
fn out_of_years(out: &mut Sheet, season: &Season) {
    let (chance, at_risk) = (100.0 * season.chance, 100.0 * season.at_risk_chance);
    let text = match season.judgement {
        Judgement::Years => format!(
            "Good: it was warm enough, long enough and not too hot in at least {chance:.0} % of {} years. \
             At risk: keepers do it, and by easier rules it was so in at least {at_risk:.0} %.",
            season.years
        ),
        Judgement::Spread => format!(
            "Good: it is warm enough, long enough and not too hot in about {chance:.0} % of years or more, by \
             how far days stray from the mean at this place. At risk: keepers do it, and by easier rules it is \
             so in about {at_risk:.0} %."
        ),
        Judgement::MeanCourse => return,
    };
    out.line(2, &text);
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
    let first = date_words(stretch.first) + &edge_range(stretch.begins.as_ref());
    let last = date_words(stretch.last);
    let when = match (is_first, goes_on) {
        (true, true) => "on all these dates".to_owned(),
        (true, false) => format!("now, until {last}"),
        (false, true) => format!("from {first} on"),
        (false, false) => format!("{first} to {last}"),
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

fn tomorrow(out: &mut Sheet, answer: &Outlook) {
    let sun = &answer.sun_tomorrow;
    let (dawn, dusk) = rise_and_set(&sun.civil);
    let (rise, set) = rise_and_set(&sun.sun);
    out.line(
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
    out.line(
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
    out.line(2, &format!("{verdict}: {}", day.reason.text()));
}

fn morning(out: &mut Sheet, ranked: &RankedMorning) {
    let found = &ranked.morning;
    let evening = &found.evening_before;
    let lamp = if evening.lamp_needed { " by lamp" } else { "" };
    let closing = if found.open_overnight {
        "open over night".to_owned()
    } else {
        let from = clock_text(evening.from, Edge::From);
        format!("close {} from {from}{lamp}", evening.from.format("%a"))
    };
    let window = match &found.window {
        MoveWindow::Open {
            from,
            until,
            careful_from,
            ..
        } => {
            let (from, until) = (
                clock_text(*from, Edge::From),
                clock_text(*until, Edge::Until),
            );
            let careful = careful_from.map_or_else(String::new, |at| {
                format!(", care from {}", clock_text(at, Edge::Until))
            });
            format!("move {from}-{until}{careful}")
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
    out.line(
        0,
        &format!(
            "{:>2}. {}  {window}; {closing}",
            ranked.rank,
            date_words(found.date)
        ),
    );
    let verdict = match found.verdict {
        Verdict::Go => String::new(),
        Verdict::Careful => format!("With care: {}", found.verdict_reason.text()),
        Verdict::No => {
            let next = ranked.next_good.map_or_else(String::new, |date| {
                format!(" Next good morning: {}.", date_words(date))
            });
            format!("Do not move: {}{next}", found.verdict_reason.text())
        }
    };
    if !verdict.is_empty() {
        out.line(4, &verdict);
    }
    if !out.detail.reasons() {
        return;
    }
    let first = match &found.first_flight {
        Some(first) => format!(
            "Usual first flight {}{}.",
            edge(first, Edge::Until),
            early(found)
        ),
        None => "No flight that day.".to_owned(),
    };
    // That bees do not live here has been said at the top.
    let reasons = ranked.reasons.iter();
    let reasons = reasons.filter(|reason| !NOT_AT_HOME.contains(&&*reason.code));
    let reasons = out.reasons(reasons);
    out.line(4, &format!("{first} {reasons}"));
    if let MoveWindow::None { help, .. } = &found.window {
        let help = out.reasons(help);
        out.line(4, &help);
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
