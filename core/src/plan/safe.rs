//! The working windows of the coming years, and the last date of each that is safe.

use chrono::{Days, NaiveDate, TimeDelta};

use super::Bench;
use crate::civil::LAST_DATE;
use crate::error::Error;
use crate::reason::{Reason, say};
use crate::search::change;
use crate::season::{Rule, RuleTest, SeasonOutcome, WorkingWindow};
use crate::wait::{self, DateRange};
use crate::work;

/// How far ahead windows are looked for, days.
const AHEAD_D: i64 = 1100;

/// A working window and its last dates.
#[derive(Debug, Clone)]
pub(super) struct SafeWindow {
    pub window: WorkingWindow,
    /// Until when it stays warm (or outside the months that a rule of rain bars).
    pub good_until: NaiveDate,
    /// Last date for the step that must be safe; `None` where the window is too short for it.
    pub last_safe: Option<NaiveDate>,
    /// Last date for the first step.
    pub last_start: Option<NaiveDate>,
}

pub(super) enum SeasonView {
    AllYear,
    Windows(Vec<SafeWindow>),
    None(Vec<Reason>),
}

impl SeasonView {
    pub fn new(bench: &Bench<'_>) -> Result<Self, Error> {
        if !bench.resolved.divides {
            return Ok(SeasonView::AllYear);
        }
        let request = bench.request;
        let first = bench
            .history
            .records
            .iter()
            .map(|record| record.date)
            .chain([request.today])
            .min()
            .unwrap_or(request.today);
        let last = (request.today + TimeDelta::days(AHEAD_D)).min(LAST_DATE);
        let good = bench.weather.good_windows(&request.season, first, last)?;
        let (outcome, rules) = &*good;
        Ok(match outcome {
            SeasonOutcome::AllYear => SeasonView::AllYear,
            SeasonOutcome::None { reasons } => SeasonView::None(reasons.clone()),
            SeasonOutcome::Windows { windows } => SeasonView::Windows(
                windows
                    .iter()
                    .map(|window| safe_window(bench, window.clone(), rules))
                    .collect::<Result<_, _>>()?,
            ),
        })
    }

    /// The window that a date lies in.
    pub fn window_of(&self, date: NaiveDate) -> Option<&SafeWindow> {
        self.windows()
            .iter()
            .find(|safe| (safe.window.opens..=safe.window.closes).contains(&date))
    }

    /// The first window after another in which a method that is begun on a date can reach the step
    /// that must be safe. Only for methods that take time between the two.
    pub fn parted_after(
        &self,
        bench: &Bench<'_>,
        begun_in: &SafeWindow,
        date: NaiveDate,
    ) -> Result<Option<&SafeWindow>, Error> {
        let resolved = &bench.resolved;
        if resolved.start == resolved.safe {
            return Ok(None);
        }
        let Some(soonest) = arrival(bench, resolved.start, resolved.safe, date, Soon)? else {
            return Ok(None);
        };
        Ok(self.windows().iter().find(|later| {
            later.window.opens > begun_in.window.closes
                && later.last_safe.is_some_and(|last| soonest <= last)
        }))
    }

    pub fn windows(&self) -> &[SafeWindow] {
        match self {
            SeasonView::Windows(windows) => windows,
            SeasonView::AllYear | SeasonView::None(_) => &[],
        }
    }
}

impl SafeWindow {
    /// How its last safe date comes about.
    pub fn why(&self, bench: &Bench<'_>) -> Reason {
        let steps = &bench.resolved.steps;
        let (step, rebuilt) = (&steps[bench.resolved.safe], &steps[bench.resolved.rebuilt]);
        let (closes, good_until) = (self.window.closes, self.good_until);
        let (step, rebuilt) = (step.title.as_str(), rebuilt.title.as_str());
        match self.last_safe {
            Some(last) if good_until > closes => {
                say::last_safe_by_warmth(last, step, rebuilt, good_until, closes)
            }
            Some(last) => say::last_safe(last, step, rebuilt, closes),
            None => say::no_last_safe(step, rebuilt, good_until),
        }
    }
}

fn safe_window(
    bench: &Bench<'_>,
    window: WorkingWindow,
    rules: &[Rule],
) -> Result<SafeWindow, Error> {
    // The rule that looks ahead closes the window while it is still warm for the weeks it looks at.
    let covered_d = rules
        .iter()
        .filter(|rule| {
            window
                .closed_by
                .iter()
                .any(|by| by.rule() == Some(&rule.name))
        })
        .filter_map(|rule| match rule.test {
            RuleTest::WarmWeeksAhead { weeks, .. } => Some(7 * u64::from(weeks)),
            _ => None,
        })
        .max()
        .unwrap_or(0);
    let good_until = window.closes + Days::new(covered_d);
    let resolved = &bench.resolved;
    let last_safe = last_date(window.opens, window.closes, |date| {
        Ok(arrival(bench, resolved.safe, resolved.rebuilt, date, Late)?
            .is_some_and(|rebuilt| rebuilt <= good_until))
    })?;
    let last_start = match last_safe {
        Some(last_safe) => last_date(window.opens, last_safe, |date| {
            Ok(arrival(bench, resolved.start, resolved.safe, date, Soon)?
                .is_some_and(|safe| safe <= last_safe))
        })?,
        None => None,
    };
    Ok(SafeWindow {
        window,
        good_until,
        last_safe,
        last_start,
    })
}

/// The last date of a span that passes a test which dates fail from some date on.
fn last_date(
    first: NaiveDate,
    last: NaiveDate,
    passes: impl Fn(NaiveDate) -> Result<bool, Error>,
) -> Result<Option<NaiveDate>, Error> {
    if last < first || !passes(first)? {
        return Ok(None);
    }
    if passes(last)? {
        return Ok(Some(last));
    }
    let date = |days| first + TimeDelta::days(days);
    let (good, _) = change(0, (last - first).num_days(), |days| passes(date(days)))?;
    Ok(Some(date(good)))
}

/// Which of its counts each waiting time takes.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pace {
    Soon,
    Late,
}
use Pace::{Late, Soon};

/// The date on which one step is reached when another is done on a date and every waiting time
/// between them takes its shortest or its longest.
fn arrival(
    bench: &Bench<'_>,
    from: usize,
    to: usize,
    date: NaiveDate,
    pace: Pace,
) -> Result<Option<NaiveDate>, Error> {
    let steps = &bench.resolved.steps;
    // Back from the end, so that what does not lead there is left out.
    let mut leads_there = vec![false; to + 1];
    leads_there[to] = true;
    let mut hops = Vec::new();
    for index in (from + 1..=to).rev() {
        if !leads_there[index] {
            continue;
        }
        let step = &steps[index];
        for ((dependency, _), before) in step.depends_on.iter().zip(&step.before) {
            leads_there[*before] = true;
            hops.push((*before, index, &dependency.wait));
        }
    }
    let mut reached: Vec<Option<NaiveDate>> = vec![None; to + 1];
    reached[from] = Some(date);
    for (before, index, wait) in hops.into_iter().rev() {
        let Some(before) = reached[before] else {
            continue;
        };
        work::spend(1)?;
        let after = match wait {
            None => before,
            Some(wait) => match wait::runs_out(wait, &DateRange::on(before), bench.weather)? {
                Some(dates) if pace == Soon => dates.earliest,
                Some(dates) => dates.latest,
                None => return Ok(None),
            },
        };
        reached[index] = reached[index].max(Some(after));
    }
    Ok(reached[to])
}
