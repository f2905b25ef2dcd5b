//! How a colony stands, in one word and one sentence.

use super::{Agenda, ColonyState, SignTally, State, StateWord};
use crate::plan::{NO_SEASON, NOT_READY, Plan, WishState};
use crate::reason::{Reason, say};
use crate::record::{SignKind, SignStrength};
use crate::review::Review;
use crate::season::DateState;
use crate::standing::Standing;
use crate::task::{Task, TaskKind, TaskState, Which};

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
        watch: review
            .pair
            .as_ref()
            .and_then(|pair| pair.watch)
            .filter(|which| *which != Which::Pair)
            .map(|which| plan.box_name(which)),
        signs: tally(review),
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
            WishState::Good => StateWord::Good,
            WishState::AtRisk => StateWord::AtRisk,
            WishState::TooLate => StateWord::TooLate,
            WishState::Closed => StateWord::Closed,
        };
        return State {
            word,
            sentence: reason.clone(),
        };
    }
    let planned = plan
        .tasks
        .iter()
        .filter(|task| task.state == TaskState::Planned);
    let divides = planned.clone().find(|task| task.kind == TaskKind::Divide);
    let begun = plan
        .tasks
        .iter()
        .any(|task| task.kind == TaskKind::Divide && matches!(task.state, TaskState::Done { .. }));
    let mut waiting = plan.waiting.iter();
    let waits = waiting.find(|task| task.kind == TaskKind::Divide);
    // A move divides nothing.
    let begins = divides.or_else(|| planned.clone().next().filter(|_| !begun));
    // Whoever asked for no date and reads "good" may divide today.
    let asked_for_none = plan.wish.is_none();
    let today = plan
        .known
        .filter(|_| asked_for_none)
        .map(|known| known.season);
    let (word, sentence) = match (begins, waits) {
        (Some(task), _) if begun => {
            let sentence = say::goes_on(task.title.as_str(), task.dates.best);
            (StateWord::Good, sentence)
        }
        (Some(task), _) => match today {
            Some(DateState::AtRisk) => (
                StateWord::NotYet,
                say::begins_in_good_season(task.dates.best),
            ),
            Some(DateState::Closed) => (StateWord::NotYet, say::begins_in_season(task.dates.best)),
            Some(DateState::Good) | None => (StateWord::Good, say::begins_on(task.dates.best)),
        },
        (None, Some(task)) => (StateWord::Good, say::waits_to_be_seen(task.title.as_str())),
        (None, None) => (StateWord::Good, say::nothing_to_do()),
    };
    State { word, sentence }
}

/// After it, by what was seen.
fn after(review: &Review, standing: Standing) -> State {
    let (word, sentence) = match standing {
        Standing::LayingQueenSeen => (StateWord::LayingQueenSeen, say::queen_was_seen()),
        Standing::LikelyEstablished => (StateWord::LikelyEstablished, say::likely_established()),
        Standing::Uncertain => (StateWord::Uncertain, uncertain(review)),
        Standing::Failing => (StateWord::Failing, say::against_it()),
        Standing::Lost => (StateWord::Lost, say::box_is_empty(&empty(review))),
        Standing::Joined => (StateWord::Joined, say::joined_again()),
    };
    State { word, sentence }
}

/// The kinds of signs at the boxes to be watched; one seen at both boxes is one sign.
fn tally(review: &Review) -> Option<SignTally> {
    let watch = review.pair.as_ref()?.watch?;
    let mut kinds: Vec<(SignKind, SignStrength)> = Vec::new();
    for of in review
        .boxes
        .iter()
        .filter(|of| watch == Which::Pair || of.which == watch)
    {
        let seen = of.signs_for.iter().chain(&of.signs_against);
        for seen in seen.chain(&of.signs_neutral) {
            if !kinds.iter().any(|(kind, _)| *kind == seen.kind) {
                kinds.push((seen.kind, seen.strength));
            }
        }
    }
    let mut tally = SignTally::default();
    for (kind, strength) in &kinds {
        match strength {
            SignStrength::Contrary => tally.speak_against += 1,
            SignStrength::Conclusive if *kind == SignKind::BoxEmpty => tally.speak_against += 1,
            SignStrength::Conclusive | SignStrength::Supportive => tally.speak_for += 1,
            SignStrength::Weak | SignStrength::Neutral => tally.say_little += 1,
        }
    }
    (!kinds.is_empty()).then_some(tally)
}

/// The names of the boxes that are empty.
fn empty(review: &Review) -> String {
    let lost = review
        .boxes
        .iter()
        .filter(|one| one.standing == Standing::Lost);
    let names: Vec<String> = lost.map(|one| review.plan.box_name(one.which)).collect();
    names.join(", ")
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
