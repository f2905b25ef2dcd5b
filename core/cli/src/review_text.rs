//! The printed review, for a terminal of 80 columns.

use apiary_almanac::civil::date_words;
use apiary_almanac::plan::Plan;
use apiary_almanac::review::{Change, Review};
use apiary_almanac::standing::{BoxStanding, Seen, Standing};
use apiary_almanac::task::{TaskKind, TaskState};

use super::plan_text;
use super::sheet::{Detail, Sheet, WIDE};
use super::text::{cautions, doubts};

/// Standing, changes, advice, then the plan as it is now.
pub fn page(review: &Review, detail: Detail, all: bool) -> String {
    let mut out = Sheet::new(WIDE, detail);
    doubts(&mut out, &review.plan.site);
    let today = date_words(review.today);
    out.section(&format!("Where it stands on {today}"));
    match review.standing {
        None if review
            .plan
            .tasks
            .iter()
            .any(|task| task.kind == TaskKind::Move)
            && !review
                .plan
                .tasks
                .iter()
                .any(|task| task.kind == TaskKind::Divide) =>
        {
            out.line(2, "A hive is moved: nothing is asked of its queen.");
        }
        None => out.line(2, "The division is not recorded as done yet."),
        Some(standing) => out.line(2, &format!("On the whole: {}.", words(standing))),
    }
    for each in &review.boxes {
        of_box(&mut out, &review.plan.box_name(each.which), each);
    }
    if let Some(settle) = &review.settle {
        let (from, by) = (date_words(settle.from), date_words(settle.by));
        let look_for = &settle.look_for;
        out.line(
            2,
            &format!("What would settle it: {look_for} From {from}, by {by}."),
        );
    }
    if !review.recommendations.is_empty() {
        out.section("What to do");
    }
    for each in &review.recommendations {
        let mut text = format!("{}: {}", review.plan.box_name(each.which), each.text);
        if out.detail.reasons() {
            let (why, source) = (out.reason(&each.reason), out.source(&each.source));
            text += &format!(" {why} ({source})");
        }
        out.item("- ", &text);
    }
    if !review.changes.is_empty() {
        out.section("What changed with the newest records");
    }
    for each in &review.changes {
        let change = change(&mut out, each, &review.plan);
        out.item("- ", &change);
    }
    plan_text::render(&mut out, &review.plan, all);
    cautions(&mut out, &review.plan.cautions);
    out.finish()
}

fn of_box(out: &mut Sheet, name: &str, found: &BoxStanding) {
    out.line(2, &format!("{name}: {}.", words(found.standing)));
    for (title, signs) in [
        ("for it", &found.signs_for),
        ("against it", &found.signs_against),
        ("tells little", &found.signs_neutral),
    ] {
        for sign in signs {
            let seen = seen(out, sign);
            out.line(4, &format!("{title}: {seen}"));
        }
    }
}

fn seen(out: &mut Sheet, sign: &Seen) -> String {
    let text = format!("{}, {}", date_words(sign.date), out.cited(&sign.text));
    if out.detail.sources {
        format!("{text} ({})", out.source(&sign.source))
    } else {
        text
    }
}

fn change(out: &mut Sheet, change: &Change, plan: &Plan) -> String {
    let title = plan
        .task(&change.task)
        .map_or(change.task.as_str(), |task| task.title.as_str());
    let what = match (change.state, change.before, change.after) {
        (Some(TaskState::Done { on }), ..) => format!("done on {}", date_words(on)),
        (Some(TaskState::Dropped), ..) => "left out".to_owned(),
        (_, Some(before), Some(after)) => {
            let by = match change.later_d {
                1 => "1 day later".to_owned(),
                -1 => "1 day earlier".to_owned(),
                days @ 1.. => format!("{days} days later"),
                days @ ..=-1 => format!("{} days earlier", -days),
                0 => "the same date".to_owned(),
            };
            format!("from {} to {}, {by}", date_words(before), date_words(after))
        }
        (_, None, Some(after)) => format!("new, {}", date_words(after)),
        (_, _, None) => "no longer there".to_owned(),
    };
    let why = if out.detail.reasons() {
        out.reasons(&change.why)
    } else {
        String::new()
    };
    format!("{title}: {what}. {why}")
}

const fn words(standing: Standing) -> &'static str {
    match standing {
        Standing::LayingQueenSeen => "a laying queen or her eggs were seen",
        Standing::LikelyEstablished => "likely to have a laying queen",
        Standing::Uncertain => "uncertain",
        Standing::Failing => "in danger",
        Standing::Lost => "lost",
        Standing::Joined => "put together again",
    }
}
