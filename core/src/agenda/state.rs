//! How a colony stands, in one word and one sentence.

use super::{Agenda, ColonyState, State, StateWord};
use crate::plan::{NO_SEASON, NOT_READY, Plan};
use crate::reason::{Reason, say};
use crate::review::Review;
use crate::season::DateState;
use crate::standing::Standing;
use crate::task::{Task, TaskKind, TaskState};

pub(super) fn of(review: &Review) -> ColonyState {
    let plan = &review.plan;
    ColonyState {
        plan: plan.id.clone(),
        name: plan.names(),
        today: review.today,
        state: match review.standing {
            None => before(plan),
            Some(standing) => after(review, standing),
        },
        pair: review.pair.clone(),
        settle: review.settle.clone(),
        advice: review.recommendations.clone(),
        wish: plan.wish.clone().filter(|_| review.standing.is_none()),
        last_safe: plan
            .last_safe
            .filter(|last| *last >= review.today && review.standing.is_none()),
    }
}

/// Before the division.
fn before(plan: &Plan) -> State {
    let why = |task: &Task| {
        task.why
            .first()
            .cloned()
            .unwrap_or_else(say::start_would_change)
    };
    if let Some(task) = plan.task(NOT_READY) {
        return State {
            word: StateWord::NotReady,
            sentence: why(task),
        };
    }
    if let Some(task) = plan.task(NO_SEASON) {
        return State {
            word: StateWord::Closed,
            sentence: why(task),
        };
    }
    if let Some(wish) = &plan.wish
        && let Some(reason) = wish.reasons.first()
    {
        let word = match wish.state {
            DateState::Good => StateWord::Good,
            DateState::AtRisk => StateWord::AtRisk,
            DateState::Closed => StateWord::Closed,
        };
        return State {
            word,
            sentence: reason.clone(),
        };
    }
    let begins = plan
        .tasks
        .iter()
        .filter(|task| task.state == TaskState::Planned);
    let begins = begins
        .clone()
        .find(|task| task.kind == TaskKind::Divide)
        .or_else(|| begins.clone().next());
    State {
        word: StateWord::Good,
        sentence: match begins {
            Some(task) => say::begins_on(task.dates.best),
            None => say::nothing_to_do(),
        },
    }
}

/// After it, by what was seen.
fn after(review: &Review, standing: Standing) -> State {
    let (word, sentence) = match standing {
        Standing::LayingQueenSeen => (StateWord::LayingQueenSeen, say::queen_was_seen()),
        Standing::LikelyEstablished => (StateWord::LikelyEstablished, say::likely_established()),
        Standing::Uncertain => (StateWord::Uncertain, uncertain(review)),
        Standing::Failing => (StateWord::Failing, say::against_it()),
        Standing::Lost => (StateWord::Lost, say::box_is_empty()),
        Standing::Joined => (StateWord::Joined, say::joined_again()),
    };
    State { word, sentence }
}

fn uncertain(review: &Review) -> Reason {
    match &review.settle {
        Some(settle) if settle.from > review.today => say::not_before(settle.from),
        Some(settle) => say::settled_by(settle.by),
        None => say::nothing_to_do(),
    }
}

pub(super) fn nothing() -> State {
    State {
        word: StateWord::Rest,
        sentence: say::nothing_to_do(),
    }
}

/// Of one colony its own; of several what the day asks.
pub(super) fn of_all(agenda: &Agenda) -> State {
    if let [only] = agenda.colonies.as_slice() {
        return only.state.clone();
    }
    if !agenda.now.is_empty() {
        return State {
            word: StateWord::Work,
            sentence: say::work_today(agenda.now.len() as f64),
        };
    }
    match agenda.next.first() {
        Some(item) => State {
            word: StateWord::Rest,
            sentence: say::nothing_until(item.date),
        },
        None => nothing(),
    }
}
