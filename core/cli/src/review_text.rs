//! The printed review, for a terminal of 80 columns.

use super::plan_text;
use super::text::{cautions, doubts, item, line, long_date, section};
use apiary_almanac::plan::Plan;
use apiary_almanac::review::{Change, Review};
use apiary_almanac::standing::{BoxStanding, Seen, Standing};
use apiary_almanac::task::TaskState;

/// Standing, changes, advice, then the plan as it is now.
pub fn page(review: &Review) -> String {
    let mut out = String::new();
    doubts(&mut out, &review.plan.site);
    section(
        &mut out,
        &format!("Where it stands on {}", long_date(review.today)),
    );
    match review.standing {
        None => line(&mut out, 2, "The division is not recorded as done yet."),
        Some(standing) => line(&mut out, 2, &format!("On the whole: {}.", words(standing))),
    }
    for each in &review.boxes {
        of_box(&mut out, &review.plan.box_name(each.which), each);
    }
    if let Some(settle) = &review.settle {
        line(
            &mut out,
            2,
            &format!(
                "What would settle it: {} From {}, by {}.",
                settle.look_for,
                long_date(settle.from),
                long_date(settle.by)
            ),
        );
    }
    if !review.recommendations.is_empty() {
        section(&mut out, "What to do");
    }
    for each in &review.recommendations {
        item(
            &mut out,
            "- ",
            &format!(
                "{} ({}) {} [{}]",
                each.text,
                review.plan.box_name(each.which),
                each.reason.text(),
                each.source
            ),
        );
    }
    if !review.changes.is_empty() {
        section(&mut out, "What changed with the newest records");
    }
    for each in &review.changes {
        item(&mut out, "- ", &change(each, &review.plan));
    }
    out += &plan_text::render(&review.plan);
    cautions(&mut out, &review.plan.cautions);
    out
}

fn of_box(out: &mut String, name: &str, found: &BoxStanding) {
    line(out, 2, &format!("{}: {}.", name, words(found.standing)));
    for (title, signs) in [
        ("for it", &found.signs_for),
        ("against it", &found.signs_against),
        ("tells nothing", &found.signs_neutral),
    ] {
        for sign in signs {
            line(out, 4, &format!("{title}: {}", seen(sign)));
        }
    }
}

fn seen(sign: &Seen) -> String {
    format!("{}, {} ({})", long_date(sign.date), sign.text, sign.source)
}

fn change(change: &Change, plan: &Plan) -> String {
    let title = plan
        .task(&change.task)
        .map_or(change.task.as_str(), |task| task.title.as_str());
    let what = match (change.state, change.before, change.after) {
        (Some(TaskState::Done { on }), ..) => format!("done on {}", long_date(on)),
        (Some(TaskState::Dropped), ..) => "left out".to_owned(),
        (_, Some(before), Some(after)) => {
            let by = match change.later_d {
                1 => "1 day later".to_owned(),
                -1 => "1 day earlier".to_owned(),
                days @ 1.. => format!("{days} days later"),
                days @ ..=-1 => format!("{} days earlier", -days),
                0 => "the same date".to_owned(),
            };
            format!("from {} to {}, {by}", long_date(before), long_date(after))
        }
        (_, None, Some(after)) => format!("new, {}", long_date(after)),
        (_, _, None) => "no longer there".to_owned(),
    };
    let why: Vec<_> = change.why.iter().map(|why| why.text()).collect();
    format!("{title}: {what}. {}", why.join(" "))
}

const fn words(standing: Standing) -> &'static str {
    match standing {
        Standing::LayingQueenSeen => "a laying queen or her eggs were seen",
        Standing::LikelyEstablished => "likely established",
        Standing::Uncertain => "uncertain",
        Standing::Failing => "failing",
        Standing::Lost => "lost",
    }
}
