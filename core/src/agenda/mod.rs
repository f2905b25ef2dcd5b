//! What a keeper needs at a moment: how each colony stands, what is to be done today and next, what
//! later, what only if something turns out so, and what was never said.
//!
//! It decides nothing itself: plans and reviews say when and why, and this puts them in the order in
//! which a keeper asks.

mod items;
mod stage;
mod state;

use std::ops::Not;

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use crate::caution::Caution;
use crate::civil::Instant;
use crate::clock;
use crate::error::{Error, at_most};
use crate::plan::{
    KeeperLimitOverrides, PairStanding, Places, PlanRequest, Wish, each_plan, made_together,
    of_plan,
};
use crate::reason::Reason;
use crate::review::{Recommendation, Review, review_as_it_is, review_of};
use crate::standing::Settle;
use crate::task::{TaskKind, TimeWindow, WaitingTask, Which};
use crate::wire::FromNode;

/// Most plans of one agenda.
pub const MOST_PLANS: usize = 500;

/// What an agenda is made from.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, prefix = "with_")]
#[non_exhaustive]
pub struct AgendaRequest {
    /// The plans as they are asked for, with their records; each has its own `today`.
    #[setters(skip)]
    pub plans: Vec<PlanRequest>,
    /// Leave out the plans and reviews that the agenda rests on, which are most of a long answer.
    #[serde(default)]
    pub brief: bool,
    /// What the keeper can do: the plans are then scheduled together, as in `plans_together`. Without it each
    /// is by itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[setters(strip_option)]
    pub limits: Option<KeeperLimitOverrides>,
}

impl AgendaRequest {
    /// An agenda with all that it rests on.
    ///
    /// ```
    /// use apiary_almanac::agenda::{AgendaRequest, agenda};
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let of = |name| -> Result<_, chrono::ParseError> {
    ///     Ok(PlanRequest::new(site, "2026-10-20".parse()?, "split", Colony::new(name)))
    /// };
    /// let short = AgendaRequest::new([of("Wattle")?, of("Bunya")?]).with_brief(true);
    /// let today = agenda(&short)?;
    /// assert!(today.colonies.len() == 2 && today.reviews.is_empty());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(plans: impl Into<Vec<PlanRequest>>) -> Self {
        AgendaRequest {
            plans: plans.into(),
            brief: false,
            limits: None,
        }
    }
}

/// How a colony or all of them stand, in one word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum StateWord {
    /// The colony is not ready to be divided.
    NotReady,
    /// There is no date on which it could be divided, or the one that was wished for is out of season.
    Closed,
    /// It can be divided in the coming good season, and better not today.
    NotYet,
    /// The date that was wished for is so late that the new colony is in time in none of ten years.
    TooLate,
    /// It can be divided, at a time that is too late, too cold or too hot in many years.
    AtRisk,
    /// It can be divided, today or on the date that was wished for.
    Good,
    /// Nothing is to be done today.
    Rest,
    /// Something is to be done today.
    Work,
    /// Divided: a laying queen or her eggs were seen.
    LayingQueenSeen,
    /// Divided: several signs speak for it and none against.
    LikelyEstablished,
    /// Divided: the signs do not tell.
    Uncertain,
    /// Divided: strong signs against it.
    Failing,
    /// The box is empty.
    Lost,
    /// The two boxes were put together again.
    Joined,
}

/// A word and a sentence.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct State {
    /// In one word.
    pub word: StateWord,
    /// In one sentence.
    pub sentence: Reason,
}

/// How many kinds of signs speak for a laying queen, against one, and say little, at the boxes that have to show
/// one. They are shown beside each other, not weighed up.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct SignTally {
    /// Those that speak for her.
    pub speak_for: u32,
    /// Those that speak against her.
    pub speak_against: u32,
    /// Those that are too early, or tell nothing of one box.
    pub say_little: u32,
}

/// How one colony and the one made from it stand.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct ColonyState {
    /// The `id` of its plan.
    pub plan: String,
    /// Its names.
    pub name: String,
    /// The day for which this holds.
    pub today: NaiveDate,
    /// How it stands.
    pub state: State,
    /// Which of the two boxes has the old queen, and which is to be watched.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pair: Option<PairStanding>,
    /// The box to be watched by its name; `None` where both are, or none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub watch: Option<String>,
    /// What was seen at the boxes that have to show a queen; `None` where nothing was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signs: Option<SignTally>,
    /// The one thing that would settle it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub settle: Option<Settle>,
    /// What to do because of what was seen, the most urgent first.
    pub advice: Vec<Recommendation>,
    /// What is said of the date on which its keeper would like to begin, before it has begun.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wish: Option<Wish>,
    /// The last date of this season on which the division still leaves enough warm time, where it is
    /// still ahead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_safe: Option<NaiveDate>,
}

/// One thing to do, with what a first look needs; the plan has the rest.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Item {
    /// The `id` of its plan.
    pub plan: String,
    /// The `id` of the task.
    pub task: String,
    /// What kind of work.
    pub kind: TaskKind,
    /// Which box.
    pub which: Which,
    /// The box by its name.
    pub box_name: String,
    /// A line for people.
    pub title: String,
    /// The same in a few words, for small screens.
    pub short: String,
    /// The day.
    pub date: NaiveDate,
    /// The stretch of the day; `None` for the whole day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<TimeWindow>,
    /// One good hour of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[serde(flatten, serialize_with = "clock::good_at")]
    pub good_at: Option<Instant>,
    /// The condition under which alone it is to be done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_if: Option<Reason>,
    /// It can be done from this day.
    pub earliest: NaiveDate,
    /// And until this one.
    pub latest: NaiveDate,
    /// What comes after it in the same stage of a move, in order: to close, to move, to open are one item.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub then: Vec<Following>,
    /// What a keeper can say of it, and what is then recorded; empty where that is the task alone.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub answers: Vec<ItemAnswer>,
    /// The box was closed for a move and nobody recorded that it is open again, whether it was moved or not: before
    /// all else. Asked for until it is recorded, or a count of bees, a later closing or move shows it; for a week.
    #[serde(default, skip_serializing_if = "Not::not")]
    pub still_shut: bool,
}

/// A task that has no item of its own, since it follows another of the same stage.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Following {
    /// The `id` of the task.
    pub task: String,
    /// A few words for people.
    pub short: String,
    /// The day.
    pub date: NaiveDate,
    /// The stretch of the day; `None` for the whole day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<TimeWindow>,
}

/// One of the things that a keeper can say of an item.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct ItemAnswer {
    /// In words.
    pub said: Reason,
    /// The tasks that are recorded as done with it.
    pub tasks: Vec<String>,
}

/// A task that has no date until something is seen.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Waiting {
    /// The `id` of its plan.
    pub plan: String,
    /// The box by its name.
    pub box_name: String,
    /// The task.
    pub task: WaitingTask,
}

/// Something that was due and of which nothing was recorded.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Question {
    /// The task, on the day on which it stands if it was not done.
    pub item: Item,
    /// The day by which it was due.
    pub was_due: NaiveDate,
    /// The question in words.
    pub sentence: Reason,
}

/// What a keeper needs at a moment.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Agenda {
    /// How all of it stands.
    pub state: State,
    /// How each colony stands, in the order of the request.
    pub colonies: Vec<ColonyState>,
    /// What is to be done today, in the order of the day.
    pub now: Vec<Item>,
    /// What is to be done on the next day that has something.
    pub next: Vec<Item>,
    /// The rest of the seven days after today.
    pub this_week: Vec<Item>,
    /// What comes later.
    pub later: Vec<Item>,
    /// What is to be done only if something turns out so; it is no task yet.
    pub only_if: Vec<Item>,
    /// What waits until something is seen.
    pub waiting: Vec<Waiting>,
    /// What was due and was not recorded.
    pub questions: Vec<Question>,
    /// What to mind, each once.
    pub cautions: Vec<Caution>,
    /// What all this rests on; empty where it was asked to be brief.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub reviews: Vec<Review>,
}

/// Makes the agenda of any number of colonies.
///
/// # Errors
/// As [`crate::plan::plan`] for the first plan that is refused, with its place in the field; with `limits` as
/// [`crate::plan::plans_together`]; `not_enough_data` without any plan, `too_large` for more than [`MOST_PLANS`].
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::agenda::{AgendaRequest, StateWord, agenda};
/// use apiary_almanac::plan::{Colony, PlanRequest};
/// use apiary_almanac::record::Record;
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let divided = Record::new("2026-10-03".parse()?).with_task("divide");
/// let wattle = PlanRequest::new(site, "2026-10-20".parse()?, "split", Colony::new("Wattle"))
///     .with_records([divided]);
/// let today = agenda(&AgendaRequest::new([wattle]))?;
/// assert_eq!(today.state.word, StateWord::Uncertain);
/// assert_eq!(today.colonies[0].name, "Wattle");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn agenda(request: &AgendaRequest) -> Result<Agenda, Error> {
    if request.plans.is_empty() {
        return Err(Error::NotEnoughData {
            field: "plans".to_owned(),
            given: "no plan".to_owned(),
            needed: "at least one".to_owned(),
        });
    }
    at_most("plans", request.plans.len(), MOST_PLANS, "plans")?;
    let reviews = match &request.limits {
        Some(limits) => reviewed_together(&request.plans, limits)?,
        None => {
            let places = Places::default();
            each_plan(&request.plans, |plan| review_as_it_is(&places, plan))?
        }
    };
    let mut agenda = items::sorted(&request.plans, &reviews);
    agenda.colonies = reviews.iter().map(state::of).collect();
    agenda.state = state::of_all(&agenda);
    if !request.brief {
        agenda.reviews = reviews;
    }
    Ok(agenda)
}

fn reviewed_together(
    plans: &[PlanRequest],
    limits: &KeeperLimitOverrides,
) -> Result<Vec<Review>, Error> {
    made_together(plans, limits, |benches, found| {
        let reviews = benches.iter().zip(found.plans).enumerate();
        reviews
            .map(|(number, (bench, plan))| {
                review_of(bench, plan).map_err(|error| of_plan(number, error))
            })
            .collect()
    })
}

#[cfg(test)]
mod tests;
