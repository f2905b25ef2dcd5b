//! Tasks of all plans in the order in which they are due.

use chrono::{DateTime, Days, NaiveDate, Utc};

use super::{Agenda, Item, Question, Waiting};
use super::{stage, state};
use crate::caution::Caution;
use crate::plan::{Plan, PlanRequest};
use crate::reason::say;
use crate::review::Review;
use crate::task::{Task, TaskState};

/// Days after today that count as this week.
const WEEK_D: u64 = 7;

/// An agenda whose lists are filled; how colonies stand is not in it yet.
pub(super) fn sorted(plans: &[PlanRequest], reviews: &[Review]) -> Agenda {
    let mut agenda = Agenda {
        state: state::nothing(),
        colonies: Vec::new(),
        now: Vec::new(),
        next: Vec::new(),
        this_week: Vec::new(),
        later: Vec::new(),
        only_if: Vec::new(),
        waiting: Vec::new(),
        questions: Vec::new(),
        cautions: cautions(reviews),
        reviews: Vec::new(),
    };
    let mut ahead = Vec::new();
    for (request, review) in plans.iter().zip(reviews) {
        for task in &review.plan.waiting {
            agenda.waiting.push(Waiting {
                plan: review.plan.id.clone(),
                box_name: review.plan.box_name(task.which),
                task: task.clone(),
            });
        }
        let shut = stage::still_shut(request, &review.plan);
        for task in &shut {
            let item = item(&review.plan, task);
            let still_shut = true;
            agenda.now.push(Item { still_shut, ..item });
        }
        for task in &review.plan.tasks {
            let has_item = shut.iter().any(|known| known.id == task.id);
            if task.state == TaskState::Planned && !has_item {
                sort_in(&mut agenda, &mut ahead, request, review, task);
            }
        }
    }
    agenda
        .now
        .sort_by_key(|item| (!item.still_shut, time(item)));
    ahead.sort_by_key(|(_, item)| time(item));
    let next_day = ahead.first().map(|(_, item)| item.date);
    for (today, item) in ahead {
        let list = if Some(item.date) == next_day {
            &mut agenda.next
        } else if item.date <= today + Days::new(WEEK_D) {
            &mut agenda.this_week
        } else {
            &mut agenda.later
        };
        list.push(item);
    }
    agenda
}

fn sort_in(
    agenda: &mut Agenda,
    ahead: &mut Vec<(NaiveDate, Item)>,
    request: &PlanRequest,
    review: &Review,
    task: &Task,
) {
    let item = item(&review.plan, task);
    let follows = stage::follows(&review.plan, task);
    if task.only_if.is_some() {
        if !follows {
            agenda.only_if.push(item);
        }
    } else if let Some(was_due) = passed(request, task).or(task.was_due) {
        agenda.questions.push(Question {
            sentence: say::was_it_done(&item.box_name, &item.title, was_due),
            was_due,
            item,
        });
    } else if follows {
        // It stands with what comes before it in its stage.
    } else if item.date <= review.today {
        agenda.now.push(item);
    } else {
        ahead.push((review.today, item));
    }
}

/// The day that was announced for a task, once it has passed without a record.
fn passed(request: &PlanRequest, task: &Task) -> Option<NaiveDate> {
    if !task.kind.is_work() {
        return None;
    }
    let date = request.announced_on(&task.id)?;
    // Not possible was an answer.
    let answered = request
        .records
        .iter()
        .any(|record| record.task.as_deref() == Some(&task.id) && record.date >= date);
    (date < request.today && !answered).then_some(date)
}

fn item(plan: &Plan, task: &Task) -> Item {
    let after = stage::after(plan, task);
    Item {
        answers: stage::answers(task, &after),
        then: after.into_iter().map(stage::following).collect(),
        still_shut: false,
        plan: plan.id.clone(),
        task: task.id.clone(),
        kind: task.kind,
        which: task.which,
        box_name: plan.box_name(task.which),
        title: task.title.clone(),
        short: task.in_short().to_owned(),
        date: task.dates.best,
        window: task.window,
        good_at: task.good_at,
        only_if: task.only_if.clone(),
        earliest: task.dates.earliest,
        latest: task.dates.latest,
    }
}

/// By day, then by the clock, then what has no time of day.
fn time(item: &Item) -> (NaiveDate, bool, Option<DateTime<Utc>>) {
    let from = item.window.map(|window| window.from.to_utc());
    (item.date, from.is_none(), from)
}

/// Those of all plans, each once.
fn cautions(reviews: &[Review]) -> Vec<Caution> {
    let mut list: Vec<Caution> = Vec::new();
    for caution in reviews.iter().flat_map(|review| &review.plan.cautions) {
        if !list.iter().any(|known| known.code == caution.code) {
            list.push(caution.clone());
        }
    }
    list
}
