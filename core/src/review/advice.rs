//! What to do now, and why.

use chrono::{Days, NaiveDate};
use serde::Serialize;

use crate::civil::date_words;
use crate::error::Error;
use crate::method::{DayRule, LOOK_WITHIN_D, NewQueen, last_decision};
use crate::number::COMMON_PRACTICE;
use crate::plan::{Bench, Plan};
use crate::reason::{Reason, say};
use crate::record::SignKind;
use crate::standing::{BoxStanding, Seen, Standing, no_counts_from};
use crate::task::{Task, TaskKind, TaskState, Which};
use crate::wire::FromNode;

/// Days ahead in which heat calls for protection.
const HEAT_DAYS: u64 = 7;

/// What a keeper can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Advice {
    /// Shade, air, a cool place.
    ProtectFromHeat,
    /// Clear out pests and close gaps.
    FightPests,
    /// Protect the box from other colonies.
    StopFights,
    /// Clean out and store the box; nobody is to rob it.
    CloseEmptyBox,
    /// Give ripe brood.
    GiveBrood,
    /// Give queen cells in a cocoon.
    GiveCells,
    /// Give the laying queen of the other box.
    GiveQueen,
    /// Put the two together again.
    Recombine,
    /// Open and look.
    Inspect,
    /// Say in which box a sign was seen.
    SayWhichBox,
    /// Leave the lids closed; entrances stay open.
    LeaveAlone,
}

/// A piece of advice and its reason.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Recommendation {
    /// What to do.
    pub advice: Advice,
    /// The box; the pair where it concerns both.
    pub which: Which,
    /// In words.
    pub text: String,
    /// Why.
    pub reason: Reason,
    /// The last day on which it still helps, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<NaiveDate>,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

/// The most urgent first.
pub(super) fn recommend(
    bench: &Bench<'_>,
    plan: &Plan,
    standing: Option<Standing>,
    boxes: &[BoxStanding],
) -> Result<Vec<Recommendation>, Error> {
    let mut list = Vec::new();
    heat(bench, &mut list);
    for box_ in boxes {
        pests(box_, &mut list);
        fights(box_, &mut list);
        match box_.standing {
            Standing::Lost => add(
                &mut list,
                Advice::CloseEmptyBox,
                box_.which,
                "Close the empty box at once, freeze spoilt combs, or burn them where fire is allowed, and find out why.",
                say::box_empty(),
            ),
            Standing::Failing => failing(bench, box_, &mut list),
            _ => {}
        }
        for seen in box_.signs_for.iter().filter(|s| is_boxless(bench, s.kind)) {
            if !list.iter().any(|known| known.advice == Advice::SayWhichBox) {
                add(
                    &mut list,
                    Advice::SayWhichBox,
                    Which::Pair,
                    "Say in which box it was seen: it settles that box.",
                    Reason::new("box_not_said", seen.text.clone()),
                );
            }
        }
    }
    let today = bench.request.today;
    let look = plan.tasks.iter().find(|task| {
        task.kind == TaskKind::Check
            && task.state == TaskState::Planned
            && (task.dates.earliest..=task.dates.latest).contains(&today)
    });
    if let Some(task) = look
        && standing.is_some_and(|s| s < Standing::Failing)
    {
        add(
            &mut list,
            Advice::Inspect,
            task.which,
            &format!("{}; best on {}.", task.title, date_words(task.dates.best)),
            say::in_range(task.dates.earliest, task.dates.latest),
        );
    }
    let urgent = list.iter().any(|known| known.advice != Advice::SayWhichBox);
    if let Some(divided) = bench
        .history
        .divided
        .filter(|_| bench.history.joined.is_none())
        && !urgent
    {
        let days = (today - divided).num_days();
        let mut looks = plan.tasks.iter();
        let next = looks.find(|task| opens_a_box(bench, task));
        let lids = match next {
            Some(task) => say::lids_closed_until(task.dates.earliest),
            None => say::lids_closed(),
        };
        add(
            &mut list,
            Advice::LeaveAlone,
            Which::Pair,
            &format!("{} {}", lids.text(), say::entrances_open().text()),
            say::nothing_to_tell_yet(days as f64),
        );
    }
    Ok(list)
}

/// Whether a task that is ahead opens a hive.
fn opens_a_box(bench: &Bench<'_>, task: &Task) -> bool {
    let step = bench.resolved.steps.iter().find(|step| step.id == task.id);
    let opens = step.is_some_and(|step| step.step.day == DayRule::Opening);
    task.state == TaskState::Planned && task.only_if.is_none() && opens
}

fn add(list: &mut Vec<Recommendation>, advice: Advice, which: Which, text: &str, reason: Reason) {
    list.push(Recommendation {
        advice,
        which,
        text: text.to_owned(),
        reason,
        until: None,
        source: COMMON_PRACTICE.to_owned(),
    });
}

fn heat(bench: &Bench<'_>, list: &mut Vec<Recommendation>) {
    let bee = bench.weather.bee();
    let ahead = (0..=HEAT_DAYS)
        .map(|ahead| {
            bench
                .weather
                .climate
                .day(bench.request.today + Days::new(ahead))
        })
        .filter(|day| day.maximum_c >= bee.heat_shade_c.value);
    // The hottest of them says what to make ready for.
    let hot = ahead.reduce(|hot, day| {
        if day.maximum_c > hot.maximum_c {
            day
        } else {
            hot
        }
    });
    if let Some(day) = hot {
        let limit = bee.heat_limit();
        let (text, source) = if day.maximum_c >= limit.value {
            (
                "Into a cool room for the day: close the entrance with mesh the night before, and bring the box back \
                 to the same place in the evening. Full shade for what stays outside.",
                &limit.source,
            )
        } else {
            (
                "Full shade and moving air for both boxes; their entrances stay open.",
                &bee.heat_shade_c.source,
            )
        };
        list.push(Recommendation {
            advice: Advice::ProtectFromHeat,
            which: Which::Pair,
            text: text.to_owned(),
            reason: say::heat(day.maximum_c, day.date, day.source.words()),
            until: None,
            source: source.clone(),
        });
    }
}

fn pests(box_: &BoxStanding, list: &mut Vec<Recommendation>) {
    let found = box_.signs_against.iter().find(|seen| {
        matches!(
            seen.kind,
            SignKind::PhoridLarvae
                | SignKind::Moth
                | SignKind::Ants
                | SignKind::Hoverflies
                | SignKind::HiveBeetle
        )
    });
    if let Some(seen) = found {
        list.push(Recommendation {
            advice: Advice::FightPests,
            which: box_.which,
            text: "Take out what is infested, close every gap, set traps, and look again daily."
                .to_owned(),
            reason: say::pests(&seen.text, seen.date),
            until: None,
            source: seen.source.clone(),
        });
    }
}

fn fights(box_: &BoxStanding, list: &mut Vec<Recommendation>) {
    let seen = |one: &&Seen| one.kind == SignKind::Fights;
    if let Some(seen) = box_.signs_against.iter().find(seen) {
        list.push(Recommendation {
            advice: Advice::StopFights,
            which: box_.which,
            text: "Make the entrance small, and leave the box closed until the fights are over. If they go on for days, \
                   carry the attacked box beyond flight range."
                .to_owned(),
            reason: say::pests(&seen.text, seen.date),
            until: None,
            source: seen.source.clone(),
        });
    }
}

/// What helps a box that has no queen on a day on which that counts, in the order of the manuals: brood, a queen
/// cell or the other box's queen; to join the two only after the last look, or where few bees are left.
fn failing(bench: &Bench<'_>, box_: &BoxStanding, list: &mut Vec<Recommendation>) {
    let Some(divided) = bench.history.divided else {
        return;
    };
    let today = bench.request.today;
    let counts_from = no_counts_from(bench, box_.which, divided);
    if today < counts_from {
        return;
    }
    let why = box_
        .signs_against
        .iter()
        .map(|seen| seen.text.clone())
        .collect::<Vec<_>>()
        .join(" ");
    let mut looks = bench.resolved.steps.iter().rev();
    let last_look =
        looks.find(|step| step.step.asks_for_queen && step.step.kind == TaskKind::Check);
    let looked_last = last_look.is_some_and(|step| bench.done_on(&step.id).is_some());
    let few_bees = box_
        .signs_against
        .iter()
        .any(|seen| seen.kind == SignKind::NoTraffic);
    // Given later it does not become bees before the last ones die. Where a "no" counts only about then, the days
    // for the look are left all the same.
    let decision = last_decision(bench.weather.bee());
    let until = divided + Days::new(decision.earliest as u64);
    let until = until.max(counts_from + Days::new(LOOK_WITHIN_D as u64));
    let helps = !looked_last && !few_bees && today <= until;
    let queen_cells = bench.weather.bee().builds_queen_cells();
    let mut help = |advice, text: &str| {
        list.push(Recommendation {
            advice,
            which: box_.which,
            text: text.to_owned(),
            reason: Reason::new("no_queen", why.clone()),
            until: Some(until),
            source: HELP_2012.to_owned(),
        });
    };
    if helps {
        help(
            Advice::GiveBrood,
            match queen_cells {
                true => {
                    "Give ripe brood with a queen cell in a cocoon from a strong colony of the same kind, your own or a neighbour's, while there \
                     are bees to warm it. Look for eggs 20 to 30 days later."
                }
                false => {
                    "Give ripe brood, pale combs with cocoons, from a strong colony of the same kind, your own or a neighbour's. Look for eggs \
                     20 to 30 days later."
                }
            },
        );
        if queen_cells {
            help(
                Advice::GiveCells,
                "Or, where no brood can be spared, only queen cells in a cocoon; never cut a comb for one.",
            );
        } else if bench.method.new_queen() != NewQueen::None {
            help(
                Advice::GiveQueen,
                "Or give it the queen of the other box, if she is seen without a hunt.",
            );
        }
    }
    if !helps {
        let with = match bench.method.new_queen() {
            NewQueen::None => "another colony of the same kind",
            _ => "the other box",
        };
        add(
            list,
            Advice::Recombine,
            box_.which,
            &format!("Put the bees and what brood there is together with {with}, in the evening."),
            Reason::new("no_queen_few_bees", why),
        );
    }
}

const HELP_2012: &str = "Villas-Bôas 2012, Manual tecnológico: mel de abelhas sem ferrão, p. 52, for Melipona; for other \
    bees common practice, no source";

fn is_boxless(bench: &Bench<'_>, kind: SignKind) -> bool {
    matches!(kind, SignKind::Eggs | SignKind::LayingQueen)
        && bench
            .history
            .records
            .iter()
            .flat_map(|record| &record.signs)
            .any(|sign| sign.kind == kind && sign.which.is_none())
}
