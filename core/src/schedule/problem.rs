//! What is to be scheduled.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use super::cost::{BROKEN, Cost, LEVELS};
use crate::error::Error;

/// Most tasks of one problem.
pub const MOST_TASKS: usize = 5_000;
/// Most tasks that depend on one another in a row. The search goes down them one by one, and a page's stack
/// has 1 MB.
pub const MOST_DEPTH: usize = 250;
/// Most pairs of tasks that rules keep apart.
pub const MOST_PAIRS: usize = 200_000;

/// When a task can be done, given the dates of what it depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Span {
    /// The first date that may be chosen.
    pub earliest: NaiveDate,
    /// The date to aim at.
    pub likely: NaiveDate,
    /// The last date of the ordinary range.
    pub latest: NaiveDate,
    /// The last date that may be chosen: `latest`, or later for a task that may look beyond it.
    pub last: NaiveDate,
}

impl Span {
    /// A range that ends with `latest`.
    pub fn new(earliest: NaiveDate, likely: NaiveDate, latest: NaiveDate) -> Self {
        Span {
            earliest,
            likely,
            latest,
            last: latest,
        }
    }

    /// May be done until `last`, beyond its latest date.
    ///
    /// ```
    /// use apiary_almanac::schedule::Span;
    /// let date = |text: &str| text.parse::<chrono::NaiveDate>();
    /// // Best on the 7th, by the 10th, and at the very last on the 20th.
    /// let span = Span::new(date("2026-11-05")?, date("2026-11-07")?, date("2026-11-10")?);
    /// assert_eq!(span.last, span.latest);
    /// assert_eq!(span.until(date("2026-11-20")?).last, date("2026-11-20")?);
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    #[must_use]
    pub fn until(mut self, last: NaiveDate) -> Self {
        self.last = last;
        self
    }
}

/// What the caller knows of the tasks.
///
/// The same question must always get the same answer. Each is asked once for the same dates of what
/// the task depends on; a caller whose dates are dear remembers them itself.
pub trait Tasks {
    /// When `task` can be done if what it depends on is done on the dates `after`, in the order of
    /// [`Task::after`]. `None` where it can never be done; then what depends on it has no date either.
    ///
    /// # Errors
    /// The caller's own, which the scheduler passes on.
    fn span(&self, task: usize, after: &[NaiveDate]) -> Result<Option<Span>, Error>;

    /// What it costs to do `task` on a date of its span; `None` where that date is not allowed. For a
    /// fixed date this is asked outside of the span too. It hangs on nothing but the three: of equal spans it is
    /// asked once.
    ///
    /// # Errors
    /// The caller's own, which the scheduler passes on.
    fn cost(&self, task: usize, date: NaiveDate, span: &Span) -> Result<Option<Cost>, Error>;
}

/// Whether the date of a task is still to be found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Set {
    /// It is.
    #[default]
    Open,
    /// Somebody has set it. Outside of its span, or where it is not allowed, it breaks a rule.
    Fixed(NaiveDate),
    /// It was done then. That costs nothing; rules between tasks still see it.
    Done(NaiveDate),
}

impl Set {
    /// The date that is set.
    ///
    /// ```
    /// use apiary_almanac::schedule::Set;
    /// let done = Set::Done("2026-10-03".parse()?);
    /// assert_eq!(done.date().map(|date| date.to_string()).as_deref(), Some("2026-10-03"));
    /// assert_eq!(Set::Open.date(), None);
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn date(self) -> Option<NaiveDate> {
        match self {
            Set::Open => None,
            Set::Fixed(date) | Set::Done(date) => Some(date),
        }
    }
}

/// One task, named by its place in the problem.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Task {
    /// The tasks whose dates its span is a function of; each stands before it.
    pub after: Vec<usize>,
    /// Whether its date is set.
    pub set: Set,
    /// The date that was announced before: each day away from it costs 1 at the problem's
    /// `moved_level`.
    pub announced: Option<NaiveDate>,
}

impl Task {
    /// A task that depends on others, all of which stand before it.
    pub fn new(after: &[usize]) -> Self {
        Task {
            after: after.to_vec(),
            ..Task::default()
        }
    }

    /// On this date and no other.
    #[must_use]
    pub fn fixed(mut self, date: NaiveDate) -> Self {
        self.set = Set::Fixed(date);
        self
    }

    /// Done on this date.
    ///
    /// ```
    /// use apiary_almanac::schedule::{Set, Task};
    /// let date = "2026-10-03".parse()?;
    /// let divide = Task::new(&[]).done(date);
    /// assert_eq!(divide.set, Set::Done(date));
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    #[must_use]
    pub fn done(mut self, date: NaiveDate) -> Self {
        self.set = Set::Done(date);
        self
    }

    /// Announced before for this date.
    #[must_use]
    pub fn announced(mut self, date: NaiveDate) -> Self {
        self.announced = Some(date);
        self
    }
}

/// A rule that keeps tasks apart: of a task `one` and a task `other` it is broken where `other` comes
/// less than `after_d` days after `one`, or less than `before_d` days before it.
///
/// With 1 and 1 the two must not share a day; with 0 and 3 `other` may be on the same day or before,
/// but not on the two days after.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Apart {
    /// The tasks on one side.
    pub one: Vec<usize>,
    /// The tasks on the other side; the same as `one` for a rule within a group.
    pub other: Vec<usize>,
    /// Days that `other` must come before `one`, where it comes before.
    pub before_d: u32,
    /// Days that `other` must come after `one`, where it comes after.
    pub after_d: u32,
    /// Where a broken pair costs 1: [`BROKEN`], or a level of the caller's for a soft rule.
    pub level: usize,
    /// It does not make one network of those that it stands between, as a limit of a day does not: each is solved
    /// by itself first, and stays where it is when somebody asks about a date of the other.
    pub between_networks: bool,
}

impl Apart {
    /// At least so many days apart, whichever comes first.
    ///
    /// ```
    /// use apiary_almanac::schedule::{Apart, BROKEN};
    /// // Two hives are not opened on the same day, nor one on the day after the other.
    /// let rule = Apart::days(&[0], &[1], 2);
    /// assert_eq!((rule.before_d, rule.after_d, rule.level), (2, 2, BROKEN));
    /// ```
    pub fn days(one: &[usize], other: &[usize], days: u32) -> Self {
        Apart {
            one: one.to_vec(),
            other: other.to_vec(),
            before_d: days,
            after_d: days,
            level: BROKEN,
            between_networks: false,
        }
    }

    /// The same between networks that stay apart.
    #[must_use]
    pub fn between_networks(mut self) -> Self {
        self.between_networks = true;
        self
    }
}

/// At most so many of these tasks on one day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Limit {
    /// The tasks that count.
    pub tasks: Vec<usize>,
    /// How many one day takes.
    pub per_day: u32,
    /// Where each one too many costs 1: [`BROKEN`], or a level of the caller's.
    pub level: usize,
}

impl Limit {
    /// At most so many a day; one more breaks a rule.
    ///
    /// ```
    /// use apiary_almanac::schedule::{BROKEN, Limit};
    /// // One pair of hands: of three tasks two a day.
    /// let hands = Limit::per_day(&[0, 1, 2], 2);
    /// assert_eq!((hands.per_day, hands.level), (2, BROKEN));
    /// ```
    pub fn per_day(tasks: &[usize], per_day: u32) -> Self {
        Limit {
            tasks: tasks.to_vec(),
            per_day,
            level: BROKEN,
        }
    }
}

/// One or many networks of tasks.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Problem {
    /// The tasks, each after those that it depends on.
    pub tasks: Vec<Task>,
    /// What must be kept apart.
    pub apart: Vec<Apart>,
    /// What one day takes.
    pub limits: Vec<Limit>,
    /// Where a day away from an announced date costs 1.
    pub moved_level: usize,
}

impl Problem {
    /// No tasks yet.
    pub fn new(moved_level: usize) -> Self {
        Problem {
            moved_level,
            ..Problem::default()
        }
    }

    /// Adds a task and gives its number.
    ///
    /// ```
    /// use apiary_almanac::schedule::{FIRST_OWN, Problem, Task};
    /// let mut problem = Problem::new(FIRST_OWN);
    /// let divide = problem.add(Task::new(&[]));
    /// let look = problem.add(Task::new(&[divide]));
    /// assert_eq!(problem.tasks[look].after, [divide]);
    /// ```
    pub fn add(&mut self, task: Task) -> usize {
        self.tasks.push(task);
        self.tasks.len() - 1
    }

    /// Looks whether every number names something.
    pub(super) fn check(&self) -> Result<(), Error> {
        let count = self.tasks.len();
        if count > MOST_TASKS {
            return Err(too_large("tasks", count, MOST_TASKS));
        }
        for (task, before) in self.tasks.iter().enumerate() {
            for after in &before.after {
                known("after", *after, task)?;
            }
        }
        for rule in &self.apart {
            for task in rule.one.iter().chain(&rule.other) {
                known("apart", *task, count)?;
            }
            known_level(rule.level)?;
        }
        for limit in &self.limits {
            for task in &limit.tasks {
                known("limits", *task, count)?;
            }
            known_level(limit.level)?;
        }
        let pairs: usize = self
            .apart
            .iter()
            .map(|rule| rule.one.len().saturating_mul(rule.other.len()))
            .fold(0, usize::saturating_add);
        if pairs > MOST_PAIRS {
            return Err(too_large("apart", pairs, MOST_PAIRS));
        }
        known_level(self.moved_level)
    }
}

impl Apart {
    /// Its pairs, the smaller number first, each once: the days of the second less those of the first
    /// that break the rule lie between the two bounds.
    pub(super) fn pairs(&self) -> BTreeSet<(usize, usize, i32, i32)> {
        let days = |days: u32| {
            i32::try_from(days)
                .unwrap_or(i32::MAX / 4)
                .min(i32::MAX / 4)
        };
        let (low, high) = (-days(self.before_d), days(self.after_d));
        let mut pairs = BTreeSet::new();
        for one in &self.one {
            for other in &self.other {
                match one.cmp(other) {
                    std::cmp::Ordering::Less => pairs.insert((*one, *other, low, high)),
                    std::cmp::Ordering::Greater => pairs.insert((*other, *one, -high, -low)),
                    std::cmp::Ordering::Equal => false,
                };
            }
        }
        pairs
    }
}

fn too_large(field: &str, given: usize, most: usize) -> Error {
    Error::TooLarge {
        field: field.to_owned(),
        given: format!("{given} entries"),
        allowed: format!("{most} entries"),
    }
}

fn known(field: &str, task: usize, count: usize) -> Result<(), Error> {
    if task < count {
        return Ok(());
    }
    Err(Error::OutOfRange {
        field: field.to_owned(),
        given: format!("task {task}"),
        allowed: format!("a task before number {count}"),
    })
}

fn known_level(level: usize) -> Result<(), Error> {
    if (BROKEN..LEVELS).contains(&level) {
        return Ok(());
    }
    Err(Error::OutOfRange {
        field: "level".to_owned(),
        given: level.to_string(),
        allowed: format!("{BROKEN} to {}", LEVELS - 1),
    })
}
