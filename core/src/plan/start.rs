//! When a method can begin: the first date, the best dates and the last date of its first step.

use chrono::{Days as CalendarDays, NaiveDate};

use super::day::not_free;
use super::ranges::before;
use super::readiness::Readiness;
use super::safe::{SafeWindow, SeasonView};
use super::wish::{wished, worth_the_risk};
use super::{Bench, BestDate};
use crate::error::Error;
use crate::method::ResolvedStep;
use crate::reason::{Reason, Value, say};
use crate::wait::DateRange;

/// How many of the ranked dates a plan names.
const BEST_DATES: usize = 5;

pub(super) enum Start<'a> {
    Found {
        range: DateRange,
        /// The date to be near to.
        target: NaiveDate,
        first_safe: NaiveDate,
        window: Option<&'a SafeWindow>,
        /// The later window in which the division is finished, where it is not the first.
        parted: Option<&'a SafeWindow>,
        best_dates: Vec<BestDate>,
    },
    None(Vec<Reason>),
}

/// The first date, the best dates and the last date for the first step.
pub(super) fn choose_start<'a>(
    bench: &Bench<'_>,
    season: &'a SeasonView,
    readiness: &Readiness,
) -> Result<Start<'a>, Error> {
    let request = bench.request;
    let step = &bench.resolved.steps[bench.resolved.start];
    let from = first_possible(bench, readiness);
    let ranked_d = CalendarDays::new(bench.settings.ranked_d.value as u64);
    let fixed = request.fixed_on(&step.id);
    let (first, last, window, parted) = match season {
        SeasonView::None(reasons) => return Ok(Start::None(reasons.clone())),
        SeasonView::AllYear => {
            let wanted = request.wanted.unwrap_or(from).max(from);
            (from, wanted + ranked_d, None, None)
        }
        SeasonView::Windows(windows) => {
            let wish = wished(bench);
            let not_before = wish.unwrap_or(from).max(from);
            let mut usable = None;
            for safe in windows {
                if let Some(date) = wish
                    && not_before < safe.window.opens
                    && let Some(risk) = risky(bench, windows, date, from)?
                {
                    usable = Some(risk);
                    break;
                }
                let first = safe.window.opens.max(from);
                if let Some(last) = safe.last_start
                    && first.max(not_before) <= last
                {
                    usable = Some((first, last, Some(safe), None));
                    break;
                }
                // Too late for this season, but not too late to begin what the next one ends.
                let first = match safe.last_start {
                    Some(last) => first.max(last + CalendarDays::new(1)),
                    None => first,
                };
                let last = safe.window.closes;
                if first.max(not_before) <= last
                    && let Some(later) = season.parted_after(bench, safe, first.max(not_before))?
                {
                    usable = Some((first, last, Some(safe), Some(later)));
                    break;
                }
                if let Some(date) = wish
                    && safe.last_start.is_none_or(|last| last < not_before)
                    && not_before <= safe.window.closes
                    && let Some(risk) = risky(bench, windows, date, from)?
                {
                    usable = Some(risk);
                    break;
                }
            }
            match usable {
                Some(usable) => usable,
                None => return Ok(Start::None(why_no_window(bench, windows, from))),
            }
        }
    };
    let lead_d = bench
        .resolved
        .steps
        .iter()
        .filter(|step| bench.done_on(&step.id).is_none())
        .filter_map(|step| step.step.lead_d)
        .max()
        .unwrap_or(0);
    let target = match request.announced_on(&step.id).or(request.wanted) {
        Some(wanted) => wanted.max(first),
        None => first.max(request.today + CalendarDays::new(lead_d.into())),
    }
    .min(last);
    let mut best_dates = rank(bench, step, first, last, target, window.is_some())?;
    let best = match (fixed, best_dates.first()) {
        (Some(date), _) => {
            if date < request.today {
                return Err(before(&step.id, date, "today", request.today));
            }
            date
        }
        (None, Some(best)) => best.date,
        (None, None) => target,
    };
    best_dates.truncate(BEST_DATES);
    let range = DateRange {
        earliest: first.min(best),
        best,
        latest: last.max(best),
    };
    Ok(Start::Found {
        range,
        target,
        first_safe: first,
        window,
        parted,
        best_dates,
    })
}

/// The first date on which the colony is ready and everything can be found out.
pub(super) fn first_possible(bench: &Bench<'_>, readiness: &Readiness) -> NaiveDate {
    let today = bench.request.today;
    let from = today.max(readiness.from);
    if readiness.unknown.is_empty() {
        from
    } else {
        from.max(today + CalendarDays::new(1))
    }
}

/// First and last date of a span, its window, and the one in which the division is finished.
type Span<'a> = (
    NaiveDate,
    NaiveDate,
    Option<&'a SafeWindow>,
    Option<&'a SafeWindow>,
);

/// The span of a wished date that is at risk and not too late: it is planned on it, and the risk is said.
fn risky<'a>(
    bench: &Bench<'_>,
    windows: &'a [SafeWindow],
    date: NaiveDate,
    from: NaiveDate,
) -> Result<Option<Span<'a>>, Error> {
    if date < from {
        return Ok(None);
    }
    let found = worth_the_risk(bench, windows, date)?;
    Ok(found.map(|(first, last, safe)| (first.max(from), last, safe, None)))
}

fn why_no_window(bench: &Bench<'_>, windows: &[SafeWindow], from: NaiveDate) -> Vec<Reason> {
    let mut reasons: Vec<Reason> = windows
        .iter()
        .filter(|safe| safe.window.closes >= from)
        .map(|safe| match safe.last_start {
            Some(last) => say::last_safe_passed(
                safe.window.opens,
                safe.window.closes,
                last,
                from.max(bench.request.wanted.unwrap_or(from)),
            ),
            None => say::season_too_short(safe.window.opens, safe.window.closes, safe.good_until),
        })
        .collect();
    reasons.push(say::start_would_change());
    reasons
}

/// Ranks the dates of a span around a target, the best first.
fn rank(
    bench: &Bench<'_>,
    step: &ResolvedStep,
    first: NaiveDate,
    last: NaiveDate,
    target: NaiveDate,
    in_season: bool,
) -> Result<Vec<BestDate>, Error> {
    let reach_d = bench.settings.ranked_d.value;
    let reach = CalendarDays::new(reach_d as u64);
    let from = first.max(target - reach);
    let to = last.min(target + reach);
    let wanted = bench.request.wanted.is_some();
    let announced = bench.request.announced_on(&step.id);
    let moved_d =
        |date: NaiveDate| announced.map_or(0, |before: NaiveDate| (date - before).num_days().abs());
    let mut ranked = Vec::new();
    for date in crate::civil::days(from, to, bench.request.site.zone) {
        let verdict = bench.days.judge(step, date)?;
        let (fit, free) = (verdict.good(), bench.days.is_free(date));
        let away_d = (date - target).num_days().abs() as f64;
        let away = Value::Days { value: away_d };

        // Our own weighing: weather first, then nearness to the target, in whole points.
        let mut points = if fit { 60.0 } else { 0.0 };
        points += 40.0 * (1.0 - away_d / reach_d).max(0.0);
        let mut reasons = verdict.reasons;
        reasons.push(match (wanted, date < target) {
            (true, _) => say::near_wanted(away, target),
            (false, true) => say::little_notice(),
            (false, false) if in_season => say::early(),
            (false, false) => say::soon(away),
        });
        if !free {
            reasons.push(not_free(date));
        }
        // Fit before announced before free: no free day makes up for the weather.
        ranked.push((
            (!fit, moved_d(date), !free),
            BestDate {
                date,
                points: points.round(),
                good: fit && free,
                reasons,
            },
        ));
    }
    // Stable: of equals the earlier date comes first.
    ranked.sort_by(|(class_a, a), (class_b, b)| {
        class_a.cmp(class_b).then(b.points.total_cmp(&a.points))
    });
    Ok(ranked.into_iter().map(|(_, date)| date).collect())
}
