//! A wished date, judged as it is before any other is proposed.

use chrono::{Days, NaiveDate};
use serde::Serialize;

use super::Bench;
use super::safe::{SafeWindow, SeasonView};
use crate::error::Error;
use crate::method::NewQueen;
use crate::reason::{Reason, say};
use crate::record::Known;
use crate::season::{DateState, Odds, StartOdds, WorkingWindow};
use crate::wire::FromNode;

/// What a wished date is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum WishState {
    /// Not later than the last careful date of its season. Where the new colony is nevertheless in time in fewer
    /// than half of the years, the reasons say so.
    Good,
    /// The season is open by the careful or the easier rules, but it is after the last careful date or outside
    /// the careful rules: it is planned on all the same.
    AtRisk,
    /// The same, and the new colony is in time in none of ten years: another season is planned for, unless the work
    /// was put or announced on that date.
    TooLate,
    /// The season is closed: another season is planned for.
    Closed,
}

/// What is said of the date on which the keeper would like to begin.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Wish {
    /// That date.
    pub date: NaiveDate,
    /// What it is.
    pub state: WishState,
    /// What is wrong with it, and by how much; empty where it is good without a doubt.
    pub reasons: Vec<Reason>,
    /// The nearest good date before it; `None` where there is none from today on, and where it is good
    /// itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before: Option<NaiveDate>,
    /// The nearest good date after it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<NaiveDate>,
    /// How likely the new colony has workers of its own before the good season ends; rough.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub odds: Option<StartOdds>,
    /// What can be done instead; empty where it is good.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub other_ways: Vec<Reason>,
}

/// The date on which the work was put, announced or wished.
pub(super) fn wished(bench: &Bench<'_>) -> Option<NaiveDate> {
    let (request, step) = (bench.request, &bench.resolved.steps[bench.resolved.start]);
    request
        .fixed_on(&step.id)
        .or(request.announced_on(&step.id))
        .or(request.wanted)
}

/// First and last date at risk, and the window by the careful rules that is near them.
pub(super) type AtRisk<'a> = (NaiveDate, NaiveDate, Option<&'a SafeWindow>);

/// The dates at risk around a wished one, with the window that they belong to: after the last careful
/// date of a window, or where only the easier rules hold.
fn at_risk<'a>(
    bench: &Bench<'_>,
    windows: &'a [SafeWindow],
    date: NaiveDate,
) -> Result<Option<AtRisk<'a>>, Error> {
    let wider = wider(bench, date)?;
    let touches = |safe: &&SafeWindow| match &wider {
        Some(wider) => safe.window.opens <= wider.closes && wider.opens <= safe.window.closes,
        None => (safe.window.opens..=safe.window.closes).contains(&date),
    };
    let safe = windows.iter().find(touches);
    Ok(match (&wider, safe) {
        (Some(wider), safe) => Some((wider.opens, wider.closes, safe)),
        (None, Some(safe)) => Some((safe.window.opens, safe.window.closes, Some(safe))),
        (None, None) => None,
    })
}

/// The same, where it is planned on: the new colony may still be in time, or the work was put or announced there.
pub(super) fn worth_the_risk<'a>(
    bench: &Bench<'_>,
    windows: &'a [SafeWindow],
    date: NaiveDate,
) -> Result<Option<AtRisk<'a>>, Error> {
    let found = at_risk(bench, windows, date)?;
    let (request, step) = (bench.request, &bench.resolved.steps[bench.resolved.start]);
    let is_set = request.fixed_on(&step.id).is_some() || request.announced_on(&step.id).is_some();
    if found.is_none() || is_set || !is_too_late(bench, &odds_of(bench, date)?) {
        return Ok(found);
    }
    Ok(None)
}

/// The chance that a colony that is begun on a date is in time.
fn odds_of(bench: &Bench<'_>, date: NaiveDate) -> Result<StartOdds, Error> {
    let odds = bench
        .weather
        .season_odds(date, date, &bench.request.season)?;
    Ok(odds.of(date))
}

/// The chances, where the method has to raise a queen: what has one needs no such time.
fn counting<'a>(bench: &Bench<'_>, odds: &'a StartOdds) -> Option<&'a Odds> {
    match odds {
        StartOdds::Known { odds } if bench.method.new_queen() != NewQueen::None => Some(odds),
        _ => None,
    }
}

fn is_too_late(bench: &Bench<'_>, odds: &StartOdds) -> bool {
    counting(bench, odds).is_some_and(Odds::is_too_late)
}

/// The window by the easier rules that a date lies in.
fn wider(bench: &Bench<'_>, date: NaiveDate) -> Result<Option<WorkingWindow>, Error> {
    let (climate, bee) = (bench.weather.climate(), bench.weather.bee());
    bench.request.season.wider_window(climate, bee, date)
}

/// What today is for beginning, so that a record of today can keep it.
pub(super) fn known(bench: &Bench<'_>, season: &SeasonView) -> Result<Known, Error> {
    let today = bench.request.today;
    if matches!(season, SeasonView::AllYear) {
        return Ok(Known::new(DateState::Good));
    }
    let mut known = Known::new(DateState::Closed);
    let ends = |safe: &SafeWindow| safe.last_start.filter(|last| today <= *last);
    known.last_good = season.window_of(today).and_then(ends);
    if known.last_good.is_some() {
        known.season = DateState::Good;
    } else if season.window_of(today).is_some() || wider(bench, today)?.is_some() {
        known.season = DateState::AtRisk;
    }
    Ok(known)
}

/// Judges the wished date, if there is one and the season has an end.
pub(super) fn judged(
    bench: &Bench<'_>,
    season: &SeasonView,
    from: NaiveDate,
) -> Result<Option<Wish>, Error> {
    wished(bench).map_or(Ok(None), |date| of_date(bench, season, from, date))
}

/// Judges a date to begin on; `None` where the season has no end.
pub(super) fn of_date(
    bench: &Bench<'_>,
    season: &SeasonView,
    from: NaiveDate,
    date: NaiveDate,
) -> Result<Option<Wish>, Error> {
    let SeasonView::Windows(windows) = season else {
        return Ok(None);
    };
    let good = |safe: &SafeWindow| {
        let first = safe.window.opens.max(from);
        safe.last_start
            .filter(|last| first <= *last)
            .map(|last| (first, last))
    };
    let spans: Vec<(NaiveDate, NaiveDate)> = windows.iter().filter_map(good).collect();
    let is_good = spans
        .iter()
        .any(|(first, last)| (*first..=*last).contains(&date));
    let odds = odds_of(bench, date)?;
    let doubt = counting(bench, &odds)
        .filter(|odds| odds.is_doubtful())
        .map(|odds| odds.said.clone());
    let too_late = is_too_late(bench, &odds);
    let mut wish = Wish {
        date,
        state: WishState::Good,
        reasons: Vec::new(),
        before: None,
        after: None,
        odds: (!matches!(odds, StartOdds::Closed)).then_some(odds),
        other_ways: Vec::new(),
    };
    if is_good {
        wish.reasons.extend(doubt);
        return Ok(Some(wish));
    }
    let one = Days::new(1);
    wish.before = spans
        .iter()
        .filter(|(first, _)| *first < date)
        .map(|(_, last)| (*last).min(date - one))
        .max();
    wish.after = spans
        .iter()
        .filter(|(_, last)| *last > date)
        .map(|(first, _)| (*first).max(date + one))
        .min();
    if date < from {
        wish.reasons.push(say::why_too_early(from));
    }
    let at_risk = at_risk(bench, windows, date)?;
    wish.state = match at_risk {
        None => WishState::Closed,
        Some(_) if too_late => WishState::TooLate,
        Some(_) => WishState::AtRisk,
    };
    if too_late {
        wish.reasons.extend(doubt.clone());
    }
    let of_window = at_risk.and_then(|(_, _, safe)| safe);
    let past = of_window.or_else(|| windows.iter().rev().find(|safe| safe.window.closes < date));
    if let Some((safe, last)) = past.and_then(|safe| Some((safe, safe.last_start?)))
        && last < date
    {
        let days = (date - last).num_days() as f64;
        // The careful date is as sure as the end of its season.
        let edge = safe
            .window
            .error_range
            .as_ref()
            .map(|range| range.closes(safe.window.closes));
        let shifted = |edge: Option<NaiveDate>| edge.map(|edge| last + (edge - safe.window.closes));
        let earliest = shifted(edge.as_ref().and_then(|edge| edge.earliest));
        let latest = shifted(edge.as_ref().and_then(|edge| edge.latest));
        let known = earliest.zip(latest);
        wish.reasons.push(say::wish_after_limit(
            days,
            last,
            known.map(|(earliest, _)| earliest),
            known.map(|(_, latest)| latest),
        ));
    }
    if let Some(after) = wish.after {
        let days = (after - date).num_days() as f64;
        if wish.reasons.is_empty() {
            wish.reasons.push(say::wish_before_season(days, after));
        }
        wish.other_ways.push(say::way_wait(after));
    }
    if let Some(before) = wish.before.filter(|before| *before >= bench.request.today) {
        wish.other_ways.push(say::way_sooner(before));
    }
    // What is divided at once could be set on now and parted in the next season.
    let at_once = bench.resolved.start == bench.resolved.safe;
    if at_once && bench.method.new_queen() != NewQueen::None {
        wish.other_ways.push(say::way_set_on());
    }
    if wish.state == WishState::AtRisk {
        wish.other_ways.push(say::way_all_the_same());
    }
    if wish.reasons.is_empty() {
        wish.reasons.push(say::no_season_in_sight());
    }
    if !too_late {
        wish.reasons.extend(doubt);
    }
    Ok(Some(wish))
}
