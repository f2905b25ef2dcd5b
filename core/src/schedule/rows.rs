//! The days that a task can choose from, for given days of what it depends on.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use chrono::NaiveDate;

use super::cost::{BROKEN, Cost, NO_DATE};
use super::net::{ByDays, Day, DaysOfSome, NEVER, Net, date_of, day_of};
use super::problem::{Set, Span, Tasks};
use crate::error::Error;
use crate::work;

/// Most days from the earliest to the last date of a task.
pub const MOST_DAYS: i64 = 1_500;

/// A day that a task can choose.
#[derive(Debug, Clone, Copy)]
pub(super) struct Choice {
    pub day: Day,
    /// Its own cost, days moved included; rules between tasks come on top.
    pub cost: Cost,
}

/// What a task can choose from.
#[derive(Debug)]
pub(super) struct Row {
    pub span: Option<Span>,
    /// The cheapest first, of equals the earlier; never empty.
    pub choices: Vec<Choice>,
}

impl Row {
    /// The choice of a day, if it is one.
    pub fn only(&self, day: Day) -> &[Choice] {
        let place = self.choices.iter().position(|choice| choice.day == day);
        place.map_or(&[], |place| &self.choices[place..=place])
    }
}

/// Rows that have been worked out, for each task.
pub(super) type KnownRows = Vec<RefCell<RowsOfTask>>;

/// The rows of a task by the days of what it depends on. Many such days leave it the same span, and with it the
/// same row: those of three looks before it are thousands, its spans some dozens.
#[derive(Debug, Default)]
pub(super) struct RowsOfTask {
    by_days: ByDays<Rc<Row>>,
    by_span: HashMap<Option<Span>, Rc<Row>>,
}

/// Gives the rows of all tasks, one of which may be put on a date for now.
pub(super) struct Rows<'r, 'a, T: Tasks + ?Sized> {
    pub net: &'r Net<'a>,
    pub tasks: &'r T,
    known: &'r KnownRows,
    put: Option<(usize, NaiveDate)>,
}

impl<'r, 'a, T: Tasks + ?Sized> Rows<'r, 'a, T> {
    pub fn new(
        net: &'r Net<'a>,
        tasks: &'r T,
        known: &'r KnownRows,
        put: Option<(usize, NaiveDate)>,
    ) -> Self {
        Rows {
            net,
            tasks,
            known,
            put,
        }
    }

    /// Whether the date of a task is to be found.
    pub fn set(&self, task: usize) -> Set {
        match self.put {
            Some((put, date)) if put == task => Set::Fixed(date),
            _ => self.net.problem.tasks[task].set,
        }
    }

    /// The day that is set for a task.
    pub fn set_day(&self, task: usize) -> Option<Day> {
        self.set(task).date().map(day_of)
    }

    /// What a task can choose from where what it depends on is done on `days`, which are those of
    /// all tasks.
    pub fn row(&self, task: usize, days: &[Day]) -> Result<Rc<Row>, Error> {
        let after: DaysOfSome = self.after(task, days).collect();
        if self.put.is_some_and(|(put, _)| put == task) {
            return self.made(task, self.span_asked(task, &after)?);
        }
        let known = &self.known[task];
        if let Some(row) = known.borrow().by_days.get(&after) {
            return Ok(Rc::clone(row));
        }
        let span = self.span_asked(task, &after)?;
        let alike = known.borrow().by_span.get(&span).cloned();
        let row = match alike {
            Some(row) => row,
            None => self.made(task, span)?,
        };
        let mut known = known.borrow_mut();
        known.by_span.insert(span, Rc::clone(&row));
        known.by_days.insert(after, Rc::clone(&row));
        Ok(row)
    }

    /// The span that a row is made from; a task that was done needs none.
    fn span_asked(&self, task: usize, after: &[Day]) -> Result<Option<Span>, Error> {
        match self.set(task) {
            Set::Done(_) => Ok(None),
            Set::Open | Set::Fixed(_) => self.span(task, after),
        }
    }

    fn made(&self, task: usize, span: Option<Span>) -> Result<Rc<Row>, Error> {
        Ok(Rc::new(match self.set(task) {
            Set::Open => self.open(task, span)?,
            Set::Fixed(date) => self.fixed(task, span, date)?,
            Set::Done(date) => Row {
                span,
                choices: vec![Choice {
                    day: day_of(date),
                    cost: Cost::ZERO,
                }],
            },
        }))
    }

    fn after<'d>(&'d self, task: usize, days: &'d [Day]) -> impl Iterator<Item = Day> + 'd {
        let after = &self.net.problem.tasks[task].after;
        after.iter().map(|before| days[*before])
    }

    /// When a task can be done; `None` where it or what it depends on never is.
    pub fn span(&self, task: usize, after: &[Day]) -> Result<Option<Span>, Error> {
        let dates: Option<Vec<NaiveDate>> = after
            .iter()
            .map(|day| (*day != NEVER).then(|| date_of(*day)).flatten())
            .collect();
        let Some(dates) = dates else {
            return Ok(None);
        };
        let Some(span) = self.tasks.span(task, &dates)? else {
            return Ok(None);
        };
        let days = (span.last - span.earliest).num_days();
        if days > MOST_DAYS {
            return Err(Error::OutOfRange {
                field: "span".to_owned(),
                given: format!("{days} days of task {task}"),
                allowed: format!("at most {MOST_DAYS} days from the earliest to the last date"),
            });
        }
        Ok(Some(span))
    }

    /// The cost of a date with the days that it moves what was announced.
    fn cost(&self, task: usize, date: NaiveDate, span: &Span) -> Result<Option<Cost>, Error> {
        let cost = self.tasks.cost(task, date, span)?;
        Ok(cost.map(|cost| cost + self.moved(task, day_of(date))))
    }

    fn moved(&self, task: usize, day: Day) -> Cost {
        match self.net.announced[task] {
            Some(announced) => Cost::at(self.net.problem.moved_level, announced.abs_diff(day)),
            None => Cost::ZERO,
        }
    }

    fn open(&self, task: usize, span: Option<Span>) -> Result<Row, Error> {
        let mut choices = Vec::new();
        if let Some(span) = &span {
            let (first, last) = (day_of(span.earliest), day_of(span.last));
            work::spend(1 + u64::from(last.abs_diff(first)))?;
            for (date, day) in span.earliest.iter_days().zip(first..=last) {
                if let Some(cost) = self.cost(task, date, span)? {
                    choices.push(Choice { day, cost });
                }
            }
        }
        if choices.is_empty() {
            choices.push(Choice {
                day: NEVER,
                cost: Cost::at(NO_DATE, 1),
            });
        }
        // Stable: of equals the earlier day comes first.
        choices.sort_by_key(|choice| choice.cost);
        Ok(Row { span, choices })
    }

    fn fixed(&self, task: usize, span: Option<Span>, date: NaiveDate) -> Result<Row, Error> {
        let own = match &span {
            Some(span) => self.cost(task, date, span)?,
            None => None,
        };
        let inside = span.is_some_and(|span| (span.earliest..=span.last).contains(&date));
        let mut cost = own.unwrap_or_else(|| self.moved(task, day_of(date)));
        if !inside || own.is_none() {
            cost = cost.with(BROKEN, 1);
        }
        let day = day_of(date);
        Ok(Row {
            span,
            choices: vec![Choice { day, cost }],
        })
    }

    /// Whether a task that stands on a day could stay there: it is one of its choices, or set.
    pub fn can_stay(&self, task: usize, days: &[Day]) -> Result<bool, Error> {
        if matches!(self.set(task), Set::Done(_)) {
            return Ok(true);
        }
        let after: Vec<Day> = self.after(task, days).collect();
        let (span, date) = (self.span(task, &after)?, date_of(days[task]));
        match (span, date) {
            (Some(span), Some(date)) => Ok((span.earliest..=span.last).contains(&date)
                && self.tasks.cost(task, date, &span)?.is_some()),
            (None, None) => Ok(true),
            _ => Ok(false),
        }
    }
}
