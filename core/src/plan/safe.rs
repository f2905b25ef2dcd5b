//! The working windows of the coming years, and the last date of each that is safe.

use chrono::{Days, NaiveDate, TimeDelta};

use super::Bench;
use crate::civil::LAST_DATE;
use crate::clock::{self, DateRange, Wait};
use crate::error::Error;
use crate::method::Resolved;
use crate::reason::Reason;
use crate::season::{Rule, RuleTest, SeasonOutcome, WorkingWindow};

/// How far ahead windows are looked for, days.
const AHEAD_D: i64 = 1100;

/// A working window and its last dates.
#[derive(Debug, Clone)]
pub(super) struct SafeWindow {
    pub window: WorkingWindow,
    /// Until when it stays warm (or dry, where rain closes the season).
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
        let request = bench.request;
        let first = request
            .records
            .iter()
            .map(|record| record.date)
            .chain([request.today])
            .min()
            .unwrap_or(request.today);
        let last = (request.today + TimeDelta::days(AHEAD_D)).min(LAST_DATE);
        let season =
            request
                .season
                .season(bench.weather.climate, bench.weather.bee, first, last)?;
        Ok(match season.outcome {
            SeasonOutcome::AllYear => SeasonView::AllYear,
            SeasonOutcome::None { reasons } => SeasonView::None(reasons),
            SeasonOutcome::Windows { windows } => SeasonView::Windows(
                windows
                    .into_iter()
                    .map(|window| safe_window(bench, window, &season.rules))
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
        let path = Path::new(resolved, resolved.start, resolved.safe);
        let Some(soonest) = path.arrival(bench, date, Soon)? else {
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

fn safe_window(
    bench: &Bench<'_>,
    window: WorkingWindow,
    rules: &[Rule],
) -> Result<SafeWindow, Error> {
    // The rule that looks ahead closes the window while it is still warm for the weeks it looks at.
    let covered_d = rules
        .iter()
        .filter(|rule| window.closed_by.iter().any(|by| by.code == rule.name))
        .filter_map(|rule| match rule.test {
            RuleTest::WarmWeeksAhead { weeks, .. } => Some(7 * u64::from(weeks)),
            _ => None,
        })
        .max()
        .unwrap_or(0);
    let good_until = window.closes + Days::new(covered_d);
    let resolved = &bench.resolved;
    let rebuilding = Path::new(resolved, resolved.safe, resolved.rebuilt);
    let beginning = Path::new(resolved, resolved.start, resolved.safe);
    let last_safe = last_date(window.opens, window.closes, |date| {
        Ok(rebuilding
            .arrival(bench, date, Late)?
            .is_some_and(|rebuilt| rebuilt <= good_until))
    })?;
    let last_start = match last_safe {
        Some(last_safe) => last_date(window.opens, last_safe, |date| {
            Ok(beginning
                .arrival(bench, date, Soon)?
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
    let (mut good, mut bad) = (first, last);
    while (bad - good).num_days() > 1 {
        let middle = good + TimeDelta::days((bad - good).num_days() / 2);
        if passes(middle)? {
            good = middle;
        } else {
            bad = middle;
        }
    }
    Ok(Some(good))
}

/// Which of its counts each waiting time takes.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pace {
    Soon,
    Late,
}
use Pace::{Late, Soon};

/// A step that another waits for.
struct Hop<'a> {
    from: usize,
    to: usize,
    wait: Option<&'a Wait>,
}

/// What leads from one step to another, in the order of the steps.
struct Path<'a> {
    from: usize,
    to: usize,
    hops: Vec<Hop<'a>>,
}

impl<'a> Path<'a> {
    fn new(resolved: &'a Resolved, from: usize, to: usize) -> Self {
        let steps = &resolved.steps;
        let mut after: Vec<Hop<'_>> = Vec::new();
        for (index, step) in steps.iter().enumerate().take(to + 1).skip(from + 1) {
            for (dependency, _) in &step.depends_on {
                let before = steps[..index]
                    .iter()
                    .position(|step| step.id == dependency.task);
                let before = before
                    .filter(|before| *before == from || after.iter().any(|hop| hop.to == *before));
                if let Some(before) = before {
                    after.push(Hop {
                        from: before,
                        to: index,
                        wait: dependency.wait.as_ref(),
                    });
                }
            }
        }
        let (mut before, mut hops) = (vec![to], Vec::new());
        for hop in after.into_iter().rev() {
            if before.contains(&hop.to) {
                before.push(hop.from);
                hops.push(hop);
            }
        }
        hops.reverse();
        Path { from, to, hops }
    }

    /// The date on which its end is reached when its beginning is done on a date and every waiting
    /// time between them takes its shortest or its longest.
    fn arrival(
        &self,
        bench: &Bench<'_>,
        date: NaiveDate,
        pace: Pace,
    ) -> Result<Option<NaiveDate>, Error> {
        let mut reached = vec![None; self.to + 1];
        reached[self.from] = Some(date);
        for hop in &self.hops {
            let Some(before) = reached[hop.from] else {
                continue;
            };
            let after = match hop.wait {
                None => before,
                Some(wait) => match clock::runs_out(wait, &DateRange::on(before), bench.weather)? {
                    Some(dates) if pace == Soon => dates.earliest,
                    Some(dates) => dates.latest,
                    None => return Ok(None),
                },
            };
            reached[hop.to] = reached[hop.to].max(Some(after));
        }
        Ok(reached[self.to])
    }
}
