//! A stage of a move as one item: to close the evening before, to move, to open.

use chrono::{Days, NaiveDate};

use super::{Following, ItemAnswer};
use crate::plan::{Plan, PlanRequest, parts_of_move};
use crate::reason::say;
use crate::task::{Task, TaskKind, TaskState, Which};

/// Days for which is asked whether a moved box was opened. Common practice, no source.
const ASKED_D: u64 = 7;

/// What is ahead of the stage of which a task is a part; nothing for a task that is none.
fn ahead<'p>(plan: &'p Plan, task: &Task) -> Vec<&'p Task> {
    let mut moves = plan.tasks.iter().filter(|one| one.kind == TaskKind::Move);
    let Some(moved) = moves.find(|one| parts_of_move(&one.id).contains(&task.id)) else {
        return Vec::new();
    };
    let ids = parts_of_move(&moved.id);
    let parts = ids.iter().filter_map(|id| plan.task(id));
    parts
        .filter(|part| part.state == TaskState::Planned && !is_in_vain(part, moved))
        .collect()
}

/// Whether an entrance is opened because a move was put off, not after it.
fn is_in_vain(part: &Task, moved: &Task) -> bool {
    let [_, _, opening] = parts_of_move(&moved.id);
    moved.state == TaskState::Planned && part.id == opening && part.dates.best < moved.dates.best
}

/// What comes after a task in its stage.
pub(super) fn after<'p>(plan: &'p Plan, task: &Task) -> Vec<&'p Task> {
    let parts = ahead(plan, task).into_iter();
    parts
        .skip_while(|part| part.id != task.id)
        .skip(1)
        .collect()
}

/// Whether a task stands with the one before it in its stage.
pub(super) fn follows(plan: &Plan, task: &Task) -> bool {
    let parts = ahead(plan, task);
    parts.first().is_some_and(|first| first.id != task.id)
}

pub(super) fn following(task: &Task) -> Following {
    Following {
        task: task.id.clone(),
        short: task.in_short().to_owned(),
        date: task.dates.best,
        window: task.window,
    }
}

/// Of a move after which an entrance is opened: whether it is open is never taken for granted.
pub(super) fn answers(task: &Task, after: &[&Task]) -> Vec<ItemAnswer> {
    let [opening] = after else {
        return Vec::new();
    };
    if task.kind != TaskKind::Move {
        return Vec::new();
    }
    let answer = |said, tasks| ItemAnswer { said, tasks };
    vec![
        answer(
            say::moved_and_opened(),
            vec![task.id.clone(), opening.id.clone()],
        ),
        answer(say::moved_still_shut(), vec![task.id.clone()]),
    ]
}

/// The openings of boxes that are shut: for a move that was put off, or after a recorded move where nothing
/// shows since then that they are open: another move, its closing, or a count of the bees that come home.
pub(super) fn still_shut<'p>(request: &PlanRequest, plan: &'p Plan) -> Vec<&'p Task> {
    let moves = plan.tasks.iter().filter(|one| one.kind == TaskKind::Move);
    let openings = moves.filter_map(|moved| {
        let opening = plan.opening_after(&moved.id)?;
        let is_shut = match (moved.state, opening.state) {
            (TaskState::Planned, TaskState::Planned) => is_in_vain(opening, moved),
            (TaskState::Done { on }, TaskState::Planned) => stays_shut(request, plan, moved, on),
            // Of a box that is empty it is left out for another reason.
            (TaskState::Done { on }, TaskState::Dropped) => {
                let lapsed = opening.why.last().is_some_and(|why| why.code == "lapsed");
                lapsed && stays_shut(request, plan, moved, on)
            }
            _ => false,
        };
        is_shut.then_some(opening)
    });
    openings.collect()
}

/// Whether nothing shows that a box is open since it was moved.
fn stays_shut(request: &PlanRequest, plan: &Plan, moved: &Task, on: NaiveDate) -> bool {
    let is_asked = request.today <= on + Days::new(ASKED_D);
    is_asked && !shows_open(request, plan, moved.which, on)
}

fn shows_open(request: &PlanRequest, plan: &Plan, which: Which, since: NaiveDate) -> bool {
    let mut tasks = plan.tasks.iter().filter(|task| {
        matches!(task.kind, TaskKind::Move | TaskKind::Entrance) && task.which == which
    });
    let done = |task: &Task| matches!(task.state, TaskState::Done { on } if on > since);
    let mut counts = plan
        .records
        .iter()
        .filter(|kept| kept.void_by.is_none() && kept.record.date >= since)
        .filter(|kept| kept.record.date <= request.today)
        .flat_map(|kept| &kept.record.counts);
    let home = |at: Which| at == which || at == Which::Pair || which == Which::Pair;
    tasks.any(done) || counts.any(|count| home(count.which) && count.counted.home > 0)
}
