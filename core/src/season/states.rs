//! The dates of a span in order: good, at risk or closed.

use chrono::{NaiveDate, TimeDelta};
use serde::Serialize;

use super::judged::{Both, Stretches};
use super::{Criteria, ErrorRange, SeasonOutcome, ShiftedWindow, WorkingWindow};
use crate::reason::Reason;
use crate::wire::FromNode;

/// What a date is for dividing colonies. The numbers are the bytes of
/// [`SeasonColumns::date_state`](super::SeasonColumns::date_state).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[repr(u8)]
pub enum DateState {
    /// The careful rules hold.
    Good = 0,
    /// Done by keepers, but by the numbers too cold, too hot or too late in many years: the easier
    /// rules hold, and a good date is near.
    AtRisk = 1,
    /// Neither.
    Closed = 2,
}

/// Dates that follow each other and are the same.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct SeasonStretch {
    /// What they are.
    pub state: DateState,
    /// First date; that of the asked span where it was so before.
    pub first: NaiveDate,
    /// Last date; that of the asked span where it goes on.
    pub last: NaiveDate,
    /// Number of dates, both ends included.
    pub days: i64,
    /// How far the first date may be off because the temperatures are; none where their error is not
    /// known, and where the span begins with the stretch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub begins: Option<EdgeRange>,
    /// What stands in the way on the date in the middle: of the careful rules where it is at risk, of
    /// the easier ones where it is closed.
    pub why: Vec<Reason>,
}

/// Where the first date of a stretch lies if every temperature is higher or lower by the typical
/// error of their source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct EdgeRange {
    /// The earlier of the two; none where there would be no such edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub earliest: Option<NaiveDate>,
    /// The later of the two; none where there would be no such edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub latest: Option<NaiveDate>,
}

impl ErrorRange {
    /// How far the first date of the window may be off, that one given.
    pub fn opens(&self, date: NaiveDate) -> EdgeRange {
        let edge = |window: &ShiftedWindow| match window {
            ShiftedWindow::Span { opens, .. } | ShiftedWindow::From { opens } => {
                Edge::near(date, *opens)
            }
            ShiftedWindow::Until { .. } | ShiftedWindow::AllYear => Edge::Earlier,
            ShiftedWindow::None { .. } => Edge::Later,
        };
        Edge::range([edge(&self.warmer), edge(&self.cooler)])
    }

    /// How far its last date may be off, that one given.
    pub fn closes(&self, date: NaiveDate) -> EdgeRange {
        let edge = |window: &ShiftedWindow| match window {
            ShiftedWindow::Span { closes, .. } | ShiftedWindow::Until { closes } => {
                Edge::near(date, *closes)
            }
            ShiftedWindow::From { .. } | ShiftedWindow::AllYear => Edge::Later,
            ShiftedWindow::None { .. } => Edge::Earlier,
        };
        Edge::range([edge(&self.warmer), edge(&self.cooler)])
    }
}

/// The edge of a shifted window: on a date, or beyond every date on one side.
#[derive(Clone, Copy)]
enum Edge {
    Earlier,
    On(NaiveDate),
    Later,
}

impl Edge {
    /// More than a quarter of a year away it is the edge of another window that this one has joined.
    fn near(date: NaiveDate, shifted: NaiveDate) -> Self {
        const QUARTER_D: i64 = 92;
        let later_d = (shifted - date).num_days();
        if later_d < -QUARTER_D {
            Edge::Earlier
        } else if later_d > QUARTER_D {
            Edge::Later
        } else {
            Edge::On(shifted)
        }
    }

    fn range(edges: [Edge; 2]) -> EdgeRange {
        let known = || {
            edges.into_iter().filter_map(|edge| match edge {
                Edge::On(date) => Some(date),
                Edge::Earlier | Edge::Later => None,
            })
        };
        let (mut earlier, mut later) = (false, false);
        for edge in edges {
            match edge {
                Edge::Earlier => earlier = true,
                Edge::Later => later = true,
                Edge::On(_) => {}
            }
        }
        EdgeRange {
            earliest: known().min().filter(|_| !earlier),
            latest: known().max().filter(|_| !later),
        }
    }
}

/// The stretches of a span of dates.
pub(super) fn in_order(
    both: &Both<'_>,
    stretches: &Stretches,
    criteria: &Criteria,
    (first, last): (NaiveDate, NaiveDate),
    outcomes: [&SeasonOutcome; 2],
) -> Vec<SeasonStretch> {
    let (from, until) = (both.careful.index(first), both.careful.index(last));
    let inside = |list: &[std::ops::Range<usize>], index: usize| {
        let next = list.partition_point(|stretch| stretch.end <= index);
        list.get(next).is_some_and(|stretch| stretch.start <= index)
    };
    let state = |index: usize| {
        if inside(&stretches.good, index) {
            DateState::Good
        } else if inside(&stretches.wider, index) {
            DateState::AtRisk
        } else {
            DateState::Closed
        }
    };
    let mut list: Vec<SeasonStretch> = Vec::new();
    for index in from as usize..=until as usize {
        let (state, date) = (state(index), both.careful.date(index));
        match list.last_mut() {
            Some(same) if same.state == state => (same.last, same.days) = (date, same.days + 1),
            _ => list.push(SeasonStretch {
                state,
                first: date,
                last: date,
                days: 1,
                begins: None,
                why: Vec::new(),
            }),
        }
    }
    for (number, stretch) in list.iter_mut().enumerate() {
        let middle = stretch.first + TimeDelta::days(stretch.days / 2);
        let middle = both.careful.index(middle) as usize;
        stretch.why = both.why(stretch.state, middle, criteria);
        if number > 0 {
            stretch.begins = outcomes
                .into_iter()
                .find_map(|outcome| edge_at(outcome, stretch.first));
        }
    }
    list
}

/// The range of the edge of a window between a date and the one before.
fn edge_at(outcome: &SeasonOutcome, date: NaiveDate) -> Option<EdgeRange> {
    let SeasonOutcome::Windows { windows } = outcome else {
        return None;
    };
    windows.iter().find_map(|window: &WorkingWindow| {
        let range = window.error_range.as_ref()?;
        if window.opens == date {
            Some(range.opens(date))
        } else if window.closes + TimeDelta::days(1) == date {
            Some(range.closes(window.closes).a_day_later())
        } else {
            None
        }
    })
}

impl EdgeRange {
    fn a_day_later(self) -> Self {
        let later = |date: Option<NaiveDate>| date.map(|date| date + TimeDelta::days(1));
        EdgeRange {
            earliest: later(self.earliest),
            latest: later(self.latest),
        }
    }
}
