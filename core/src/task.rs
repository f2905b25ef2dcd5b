//! What there is to do: the types that methods, relocations and plans share.

use std::fmt;

use chrono::NaiveDate;
use serde::Serialize;

use crate::caution::Caution;
use crate::civil::{Edge, Instant, clock_text};
use crate::clock;
use crate::reason::Reason;
use crate::wait::{DateRange, RestsOn, Wait};
use crate::wire::FromNode;

/// What kind of work a task is. Pictures and calendars group by it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum TaskKind {
    /// Looking after readiness and material beforehand.
    Prepare,
    /// Dividing, setting a box on, parting, transferring.
    Divide,
    /// Closing or opening an entrance.
    Entrance,
    /// Looking for pests.
    PestWatch,
    /// Moving a box.
    Move,
    /// Leaving the pair alone, side by side.
    Rest,
    /// Looking for eggs, queen, new workers.
    Check,
    /// Feeding.
    Feed,
    /// Deciding what to do.
    Decide,
    /// When the colony may be divided again.
    NextDivision,
}

impl TaskKind {
    /// Something to do that can be ticked off; to leave the pair alone and the next division are not.
    ///
    /// ```
    /// use apiary_almanac::task::TaskKind;
    /// assert!(TaskKind::Move.is_work() && !TaskKind::Rest.is_work());
    /// ```
    pub const fn is_work(self) -> bool {
        !matches!(self, TaskKind::Rest | TaskKind::NextDivision)
    }
}

/// Which of the two boxes a task concerns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum Which {
    /// The colony that was there before.
    Parent,
    /// The new one.
    Daughter,
    /// Both.
    Pair,
}

impl Which {
    /// The two boxes.
    pub(crate) const BOXES: [Which; 2] = [Which::Parent, Which::Daughter];

    /// The other of two boxes.
    pub(crate) const fn other(self) -> Which {
        match self {
            Which::Parent => Which::Daughter,
            Which::Daughter => Which::Parent,
            Which::Pair => Which::Pair,
        }
    }
}

/// A stretch of a day for a task.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
pub struct TimeWindow {
    /// Its beginning, on the task's best date.
    #[serde(flatten, serialize_with = "clock::from")]
    pub from: Instant,
    /// Its end, on the same civil day.
    #[serde(flatten, serialize_with = "clock::until")]
    pub until: Instant,
}

/// On the clocks of the site, in whole minutes on the safe side: `05:34-08:37`.
impl fmt::Display for TimeWindow {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let from = clock_text(self.from, Edge::From);
        write!(out, "{from}-{}", clock_text(self.until, Edge::Until))
    }
}

/// How far a task can slip.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct TaskSlack {
    /// Days after its best date.
    pub days: u32,
    /// What would have to move after that; `None` where its own range ends.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<Reason>,
}

/// What must have been done before, and how long before.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Dependency {
    /// The `id` of the other task.
    pub task: String,
    /// The waiting time after it; `None` where any later time will do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<Wait>,
}

/// Whether a task is still ahead.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum TaskState {
    /// Ahead.
    Planned,
    /// Done on a date; that date no longer moves.
    Done {
        /// When.
        on: NaiveDate,
    },
    /// Left out, with the reason among the task's `why`.
    Dropped,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Task {
    /// Stable within the plan, in kebab case: `divide`, `stage-3`, `egg-check`.
    pub id: String,
    /// What kind of work.
    pub kind: TaskKind,
    /// Which box.
    pub which: Which,
    /// A short line for people.
    pub title: String,
    /// The same in a few words, for small screens and calendars.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub short: String,
    /// When.
    pub dates: DateRange,
    /// The stretch of the best date; `None` for the whole day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<TimeWindow>,
    /// One good hour within the window, for opening a hive.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[serde(flatten, serialize_with = "clock::good_at")]
    pub good_at: Option<Instant>,
    /// How far it can slip before something else has to move, while it is ahead and no date is set
    /// for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slack: Option<TaskSlack>,
    /// Why then.
    pub why: Vec<Reason>,
    /// What to look for, a sentence each.
    pub look_for: Vec<String>,
    /// What to mind.
    pub cautions: Vec<Caution>,
    /// Where the rule behind the date comes from.
    pub source: String,
    /// What comes before it.
    pub depends_on: Vec<Dependency>,
    /// Which weather the date rests on.
    pub rests_on: RestsOn,
    /// Ahead or done.
    pub state: TaskState,
    /// The day by which it was due, where that has passed and nothing was recorded: it is still to be done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub was_due: Option<NaiveDate>,
    /// The condition under which alone it is to be done, where there is one that is open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_if: Option<Reason>,
}

/// A task that has no date yet: it waits until something is seen.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct WaitingTask {
    /// As that of a [`Task`]; records name it.
    pub id: String,
    /// What kind of work.
    pub kind: TaskKind,
    /// Which box.
    pub which: Which,
    /// A short line for people.
    pub title: String,
    /// The same in a few words, for small screens and calendars.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub short: String,
    /// What it waits for.
    pub until: Reason,
    /// The day before which it would be too early whatever is seen, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_before: Option<NaiveDate>,
    /// The last safe day of the season, for the step that must be safe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_after: Option<NaiveDate>,
    /// Why it is done.
    pub why: Reason,
    /// What to look for, a sentence each.
    pub look_for: Vec<String>,
    /// Where the rule comes from.
    pub source: String,
}

impl Task {
    /// The reasons of its date, without what its step is for.
    pub(crate) fn why_then(&self) -> impl Iterator<Item = &Reason> {
        self.why.iter().filter(|reason| reason.code != "step")
    }

    /// In a few words; the title where there are none.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let colony = Colony::new("Lantern");
    /// let found = plan(&PlanRequest::new(site, "2026-08-01".parse()?, "split", colony))?;
    /// let divide = found.task("divide").ok_or("a split begins with a division")?;
    /// assert!(divide.in_short().len() <= divide.title.len());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn in_short(&self) -> &str {
        in_short(&self.short, &self.title)
    }

    /// The day on which it stands: that on which it was done, else the best one.
    pub(crate) fn day(&self) -> NaiveDate {
        match self.state {
            TaskState::Done { on } => on,
            TaskState::Planned | TaskState::Dropped => self.dates.best,
        }
    }
}

impl WaitingTask {
    /// As [`Task::in_short`].
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let colony = Colony::new("Lantern");
    /// let found = plan(&PlanRequest::new(site, "2026-10-01".parse()?, "eduction", colony))?;
    /// // The boxes are parted once brood is seen in the new one.
    /// assert!(found.waiting.iter().all(|task| task.in_short().len() <= task.title.len()));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn in_short(&self) -> &str {
        in_short(&self.short, &self.title)
    }
}

fn in_short<'t>(short: &'t str, title: &'t str) -> &'t str {
    if short.is_empty() { title } else { short }
}

/// Its dates, its time of day and its title: `2026-10-14 05:34-08:37 Move the new box`.
impl fmt::Display for Task {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} ", self.dates)?;
        if let Some(window) = &self.window {
            write!(out, "{window} ")?;
        }
        out.write_str(&self.title)
    }
}

/// A setting on which practice differs, what was chosen, and what else is done.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Choice {
    /// Its name.
    pub name: String,
    /// What was chosen, in words.
    pub chosen: String,
    /// Where that comes from.
    pub source: String,
    /// The other ways, each with its source.
    pub others: Vec<String>,
}
