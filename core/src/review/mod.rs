//! Where a new colony stands, by what was seen; what changes in its plan; what to do.
//!
//! Only eggs and the laying queen settle the question. Everything at the entrance is a hint, and
//! "uncertain" is then the honest answer, with the one thing to look for and by when.

mod advice;

use chrono::NaiveDate;
use serde::Serialize;

use crate::error::Error;
use crate::plan::{Bench, PairStanding, Places, Plan, PlanRequest, make, worked_out_at};
use crate::reason::Reason;
use crate::record::{Record, kept};
use crate::standing::{self, BoxStanding, Settle, Standing};
use crate::task::TaskState;
use crate::wire::FromNode;

pub use advice::{Advice, Recommendation};

/// A task whose date or state has changed since the last record.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Change {
    /// The `id` of the task.
    pub task: String,
    /// Its best date before; `None` for a task that was not there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before: Option<NaiveDate>,
    /// Its best date now; `None` for one that was dropped or is no longer there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<NaiveDate>,
    /// What became of it.
    pub state: Option<TaskState>,
    /// Days later; negative for earlier. 0 where only the state has changed, and for a dropped task.
    pub later_d: i64,
    /// The reason for the date or state it has now.
    pub why: Vec<Reason>,
}

/// Where a plan and its colony stand.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Review {
    /// The day of the review.
    pub today: NaiveDate,
    /// Where the box that has to raise a queen stands. Where either box may be the one, the less
    /// certain of the two counts. `None` before the division.
    pub standing: Option<Standing>,
    /// Each of the boxes; empty before the division.
    pub boxes: Vec<BoxStanding>,
    /// Which of the two has the old queen, and which is to be watched; `None` before the division, once joined,
    /// and where the whole colony moved.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pair: Option<PairStanding>,
    /// What would settle it; `None` before the division and where it is settled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub settle: Option<Settle>,
    /// What changed with the newest records.
    pub changes: Vec<Change>,
    /// What to do, the most urgent first.
    pub recommendations: Vec<Recommendation>,
    /// The plan as it is now.
    pub plan: Plan,
}

/// Reviews a plan by its records.
///
/// # Errors
/// As [`crate::plan::plan`].
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::plan::{Colony, PlanRequest};
/// use apiary_almanac::record::{Record, Sign, SignKind};
/// use apiary_almanac::review::review;
/// use apiary_almanac::standing::Standing;
/// use apiary_almanac::task::Which;
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let today = "2026-11-05".parse()?;
/// let eggs = Sign::new(SignKind::Eggs).with_which(Which::Daughter);
/// let request = PlanRequest::new(site, today, "comb_donation", Colony::new("Hive 7"))
///     .with_records([
///         Record::new("2026-10-10".parse()?).with_task("donate"),
///         Record::new(today).with_signs([eggs]),
///     ]);
/// assert_eq!(review(&request)?.standing, Some(Standing::LayingQueenSeen));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn review(request: &PlanRequest) -> Result<Review, Error> {
    let earlier = request_before(request)?;
    let places = Places::default();
    let before = worked_out_at(&places, &earlier, make)?;
    let mut review = review_as_it_is(&places, request)?;
    review.changes = changes(&before, &review.plan);
    Ok(review)
}

/// A review that does not ask what the newest records changed.
pub(crate) fn review_as_it_is<'r>(
    places: &Places<'r>,
    request: &'r PlanRequest,
) -> Result<Review, Error> {
    worked_out_at(places, request, |bench| review_of(bench, make(bench)?))
}

/// The review of a plan that was made on a bench.
pub(crate) fn review_of(bench: &Bench<'_>, plan: Plan) -> Result<Review, Error> {
    let boxes = standing::boxes(bench);
    let standing = standing::overall(bench, &boxes);
    let settle = standing::settle(bench, &plan, standing);
    Ok(Review {
        today: bench.request.today,
        recommendations: advice::recommend(bench, &plan, standing, &boxes)?,
        changes: Vec::new(),
        standing,
        boxes,
        pair: bench.queen.pair.clone(),
        settle,
        plan,
    })
}

/// The request as it was before the newest day of records; where the last record corrects or strikes out another,
/// before that one.
fn request_before(request: &PlanRequest) -> Result<PlanRequest, Error> {
    let mut before = request.clone();
    if let Some((last, earlier)) = request.records.split_last()
        && (last.corrects.is_some() || last.strikes_out.is_some())
    {
        before.records = earlier.to_vec();
        return Ok(before);
    }
    before.records = kept(&request.records)?
        .into_iter()
        .filter(|one| one.void_by.is_none() && one.record.strikes_out.is_none())
        .map(|one| Record {
            corrects: None,
            ..one.record
        })
        .collect();
    if let Some(newest) = before.records.iter().map(|record| record.date).max() {
        before.records.retain(|record| record.date < newest);
        before.today = newest;
    }
    Ok(before)
}

fn changes(before: &Plan, after: &Plan) -> Vec<Change> {
    let mut list = Vec::new();
    for task in &after.tasks {
        let old = before.task(&task.id);
        // A dropped task has no date to be done on.
        let now = (task.state != TaskState::Dropped).then_some(task.dates.best);
        let moved_d = old
            .zip(now)
            .map_or(0, |(old, now)| (now - old.dates.best).num_days());
        let same = old.is_some_and(|old| moved_d == 0 && old.state == task.state);
        if !same {
            list.push(Change {
                task: task.id.clone(),
                before: old.map(|old| old.dates.best),
                after: now,
                state: Some(task.state),
                later_d: moved_d,
                why: task.why_then().cloned().collect(),
            });
        }
    }
    for task in &before.tasks {
        if after.task(&task.id).is_none() {
            list.push(Change {
                task: task.id.clone(),
                before: Some(task.dates.best),
                after: None,
                state: None,
                later_d: 0,
                why: Vec::new(),
            });
        }
    }
    list
}

#[cfg(test)]
mod tests;
