//! What a plan says.

use chrono::NaiveDate;
use serde::Serialize;

use super::parts_of_move;
use super::request::FixedDate;
use super::wish::Wish;
use crate::caution::Caution;
use crate::climate::Basis;
use crate::reason::Reason;
use crate::record::{KeptRecord, Known};
use crate::season::WorkingWindow;
use crate::site::Site;
use crate::task::{Choice, Task, TaskKind, TaskState, WaitingTask, Which};
use crate::wire::FromNode;

/// A date on which the method could begin, with its place among the others.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct BestDate {
    /// The date.
    pub date: NaiveDate,
    /// 0 to 100, whole.
    pub points: f64,
    /// True when the weather asked for is likely, and the keeper is free.
    pub good: bool,
    /// What speaks for it and against it.
    pub reasons: Vec<Reason>,
}

/// A dated plan for one new colony.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Plan {
    /// Stable: calendars build their identifiers from it. Small letters, digits and hyphens.
    pub id: String,
    /// Name for people: club, keeper, hive.
    pub title: String,
    /// Who keeps the colony, where that was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub keeper: Option<String>,
    /// The club, where that was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub club: Option<String>,
    /// Name of the old box, or of the colony in it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub parent_name: String,
    /// Name of the new box, where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub daughter_name: Option<String>,
    /// Name of the method.
    pub method: String,
    /// Name of the bee.
    pub bee: String,
    /// Where.
    pub site: Site,
    /// The day the plan was made for.
    pub today: NaiveDate,
    /// The working window that the plan uses; `None` where the place is open all year.
    pub window: Option<WorkingWindow>,
    /// First date on which the method can begin: season, readiness, today.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_safe: Option<NaiveDate>,
    /// Last date on which the division still leaves enough warm time; `None` all year round.
    pub last_safe: Option<NaiveDate>,
    /// The best dates to begin on, the best first; empty once it has begun.
    #[serde(default)]
    pub best_dates: Vec<BestDate>,
    /// What is said of the date that was wished for, before the work has begun and where the season has an
    /// end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wish: Option<Wish>,
    /// How first and last safe date came about, and what else there is to know.
    #[serde(default)]
    pub notes: Vec<Reason>,
    /// The tasks, by best date; of equal dates in the order of work.
    pub tasks: Vec<Task>,
    /// The tasks without a date, in the order of work: each waits until something is seen.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub waiting: Vec<WaitingTask>,
    /// The choices that were made where practice differs.
    pub choices: Vec<Choice>,
    /// What to mind throughout.
    pub cautions: Vec<Caution>,
    /// What the temperatures rest on.
    pub basis: Vec<Basis>,
    /// Every record as it was given, with its name; those that no longer count say which one took their place.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub records: Vec<KeptRecord>,
    /// What today is for beginning, before the work has begun: a record of today keeps it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub known: Option<Known>,
}

impl Plan {
    /// The task with this id.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let request = PlanRequest::new(site, "2026-09-13".parse()?, "comb_donation", Colony::new("Lantern"));
    /// let found = plan(&request)?;
    /// println!("{}", found.task("donate").ok_or("a donation")?);
    /// assert!(found.task("divide").is_none()); // a comb is given, nothing is divided
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn task(&self, id: &str) -> Option<&Task> {
        self.tasks.iter().find(|task| task.id == id)
    }

    /// The opening of the entrance that goes with a move at dawn.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let found = plan(&PlanRequest::new(site, "2026-09-13".parse()?, "split", Colony::new("Wattle")))?;
    /// let opening = found.opening_after("stage-1").ok_or("it is closed for the move")?;
    /// assert_eq!(opening.id, "stage-1-open");
    /// assert!(found.opening_after("divide").is_none());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn opening_after(&self, id: &str) -> Option<&Task> {
        let [_, _, opening] = parts_of_move(id);
        self.task(&opening)
    }

    /// The dates of its planned tasks, to be given back as `announced`.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let request = PlanRequest::new(site, "2026-09-13".parse()?, "split", Colony::new("Wattle"));
    /// let before = plan(&request)?;
    /// let again = plan(&request.with_announced(before.announced()))?;
    /// assert_eq!(again.announced(), before.announced());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn announced(&self) -> Vec<FixedDate> {
        let planned = |task: &&Task| task.state == TaskState::Planned;
        let dated = |task: &Task| FixedDate {
            task: task.id.clone(),
            date: task.dates.best,
        };
        self.tasks.iter().filter(planned).map(dated).collect()
    }

    /// The names of its boxes.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let wattle = Colony::new("Wattle").with_daughter_name("Saltbush");
    /// let names = plan(&PlanRequest::new(site, "2026-09-13".parse()?, "split", wattle))?.names();
    /// assert!(names.contains("Wattle") && names.contains("Saltbush"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn names(&self) -> String {
        self.box_name(Which::Pair)
    }

    /// What people call a box: its name, or which it is.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::task::Which;
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let request = PlanRequest::new(site, "2026-09-13".parse()?, "split", Colony::new("Lantern"));
    /// let plan = plan(&request)?;
    /// assert_eq!(plan.box_name(Which::Parent), "Lantern");
    /// assert_eq!(plan.box_name(Which::Daughter), "new box of Lantern");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn box_name(&self, which: Which) -> String {
        let old = Some(self.parent_name.as_str()).filter(|name| !name.is_empty());
        let new = self.daughter_name.as_deref();
        match (which, old, new) {
            (Which::Parent, Some(old), _) => old.to_owned(),
            (Which::Parent, None, _) => "old box".to_owned(),
            (Which::Daughter, _, Some(new)) => new.to_owned(),
            (Which::Daughter, Some(old), None) => format!("new box of {old}"),
            (Which::Daughter, None, None) => "new box".to_owned(),
            (Which::Pair, Some(old), Some(new)) => format!("{old} + {new}"),
            (Which::Pair, Some(old), None) => old.to_owned(),
            (Which::Pair, None, _) => "both boxes".to_owned(),
        }
    }

    /// How the last safe date came about: the note with one of the codes `last_safe`,
    /// `last_safe_by_warmth` and `no_last_safe`.
    ///
    /// ```
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let request = PlanRequest::new(site, "2026-09-13".parse()?, "split", Colony::new("Wattle"));
    /// let found = plan(&request)?;
    /// let note = found.last_safe_note().ok_or("a season that ends has a last date")?;
    /// println!("{}", note.text());
    /// assert_eq!(note.code == "no_last_safe", found.last_safe.is_none());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn last_safe_note(&self) -> Option<&Reason> {
        const CODES: [&str; 3] = ["last_safe", "last_safe_by_warmth", "no_last_safe"];
        self.notes.iter().find(|note| CODES.contains(&&*note.code))
    }

    /// The best date of the first dividing task.
    pub(crate) fn start(&self) -> Option<NaiveDate> {
        self.tasks
            .iter()
            .find(|task| task.kind == TaskKind::Divide)
            .map(|task| task.dates.best)
    }
}
