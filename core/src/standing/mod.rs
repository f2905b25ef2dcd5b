//! From signs to a standing.

mod worth;

use chrono::{Days, NaiveDate};
use serde::Serialize;

use crate::method::{FIRST_DECISION_D, NewQueen};
use crate::plan::{Bench, Help, LOOK_UNTIL_D, Plan};
use crate::reason::{Reason, say};
use crate::record::{Outcome, Sign, SignKind, SignStrength, Traffic};
use crate::task::{TaskKind, TaskState, Which};
use crate::wire::FromNode;

pub use worth::Because;
use worth::{DaysOfBox, NEIGHBOURS, SLOW_BROOD, worth};

/// Where a box stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// A laying queen or her eggs were seen.
    LayingQueenSeen,
    /// Several signs speak for it and none against.
    LikelyEstablished,
    /// The signs do not tell.
    Uncertain,
    /// Strong signs against it.
    Failing,
    /// The box is empty.
    Lost,
    /// The two were put together again: there is one colony.
    Joined,
}

/// A sign and what it tells here.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Seen {
    /// What was seen.
    pub kind: SignKind,
    /// When it was seen last.
    pub date: NaiveDate,
    /// How many, where they were counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
    /// What it is worth here, which may be less than in general: an early sign is the work of bees
    /// that came along, and a sign without a box settles neither.
    pub strength: SignStrength,
    /// Why it is worth less or more than in general.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub because: Option<Because>,
    /// What it tells.
    pub text: String,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

/// A box, the signs for it and against it.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct BoxStanding {
    /// Which box.
    pub which: Which,
    /// Where it stands.
    pub standing: Standing,
    /// What speaks for a laying queen.
    pub signs_for: Vec<Seen>,
    /// What speaks against.
    pub signs_against: Vec<Seen>,
    /// What tells nothing.
    pub signs_neutral: Vec<Seen>,
    /// What was counted at its entrance, the newest last.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub counts: Vec<Counted>,
}

/// A count at the entrance and what it tells.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Counted {
    /// When.
    pub date: NaiveDate,
    /// What was counted.
    pub counted: Traffic,
    /// What was counted at an undivided neighbour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub neighbour: Option<Traffic>,
    /// What it is worth.
    pub strength: SignStrength,
    /// What it tells.
    pub reason: Reason,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

/// The one thing that would settle the question.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Settle {
    /// What to look for, and where.
    pub look_for: String,
    /// The box.
    pub which: Which,
    /// From when on it can be told.
    pub from: NaiveDate,
    /// By when it should be.
    pub by: NaiveDate,
    /// From when on a look without eggs counts; before it only a look with eggs tells something.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub no_counts_from: Option<NaiveDate>,
}

/// Signs for it that it takes to call a box likely established. Common practice, no source.
const SIGNS_FOR: usize = 2;

/// For a method without a look for eggs: Villas-Bôas 2012, Manual tecnológico: mel de abelhas sem ferrão,
/// p. 52, day 20 to 30.
const NO_EGGS_D: f64 = 30.0;

const TRAFFIC_2023: &str = "Newis et al. 2023, Apidologie 54(4), doi 10.1007/s13592-023-01018-8: splits flew below a third of \
    unsplit hives for 16 days and had not recovered on day 31; for other bees common practice, no source";

pub(crate) fn boxes(bench: &Bench<'_>) -> Vec<BoxStanding> {
    let (Some(divided), None) = (bench.history.divided, bench.history.joined) else {
        return Vec::new();
    };
    Which::BOXES
        .into_iter()
        .filter(|which| bench.method.new_queen() != NewQueen::None || *which == Which::Daughter)
        .map(|which| of_box(bench, which, divided))
        .collect()
}

fn of_box(bench: &Bench<'_>, which: Which, divided: NaiveDate) -> BoxStanding {
    let (mut signs_for, mut signs_against, mut signs_neutral) =
        (Vec::new(), Vec::new(), Vec::new());
    for seen in seen_at(bench, which, divided) {
        match seen.strength {
            _ if seen.kind == SignKind::BoxEmpty => &mut signs_against,
            SignStrength::Conclusive | SignStrength::Supportive | SignStrength::Weak => {
                &mut signs_for
            }
            SignStrength::Contrary => &mut signs_against,
            SignStrength::Neutral => &mut signs_neutral,
        }
        .push(seen);
    }
    let counts = counts_at(bench, which, divided);
    BoxStanding {
        which,
        standing: judge(&signs_for, &signs_against, &counts),
        signs_for,
        signs_against,
        signs_neutral,
        counts,
    }
}

/// The counts at a box. Few bees in the first month are no failure and resin alone proves nothing; pollen
/// again after day 30 speaks for a queen, and an entrance without a bee against one.
fn counts_at(bench: &Bench<'_>, which: Which, divided: NaiveDate) -> Vec<Counted> {
    let published = bench.weather.bee().name() == "tetragonula_carbonaria";
    let no_counts = no_counts_from(bench, which, divided);
    let mut found = Vec::new();
    for record in &bench.history.records {
        for count in record.counts.iter().filter(|count| count.which == which) {
            let day = (record.date - divided).num_days();
            if day < 0 {
                continue;
            }
            let share = |of: fn(&Traffic) -> Option<u32>| {
                let (here, there) = (of(&count.counted)?, of(&count.neighbour?)?);
                (there > 0).then(|| f64::from(here) / f64::from(there))
            };
            let all = share(|one| Some(one.home));
            let pollen = share(|one| one.pollen);
            let days = day as f64;
            let (strength, reason) = if count.counted.home == 0 && record.date >= no_counts {
                (SignStrength::Contrary, say::count_none(days))
            } else if let Some(share) =
                pollen.filter(|share| *share >= POLLEN_AGAIN && day >= FIRST_MONTH_D)
            {
                match stand_near(bench) {
                    true => (SignStrength::Weak, say::count_pollen_near(days, share)),
                    false => (SignStrength::Supportive, say::count_pollen(days, share)),
                }
            } else if day <= FIRST_MONTH_D {
                let reason = match published {
                    true => say::count_early_published(days, all),
                    false => say::count_early(days, all),
                };
                (SignStrength::Neutral, reason)
            } else {
                (SignStrength::Neutral, say::count_little(days, all))
            };
            found.push(Counted {
                date: record.date,
                counted: count.counted,
                neighbour: count.neighbour,
                strength,
                source: match &*reason.code {
                    "count_pollen_near" => NEIGHBOURS,
                    _ => TRAFFIC_2023,
                }
                .to_owned(),
                reason,
            });
        }
    }
    found.sort_by_key(|count| count.date);
    found
}

/// From when on a look without eggs, and a box without traffic, speak against a queen: the end of the range
/// of the method's first look for her, and for bees that raise queens in queen cells not before day 60. A box
/// that was helped has its own days after that.
pub(crate) fn no_counts_from(bench: &Bench<'_>, which: Which, divided: NaiveDate) -> NaiveDate {
    let latest_d = bench
        .resolved
        .steps
        .iter()
        .find(|step| step.step.asks_for_queen && step.step.kind == TaskKind::Check)
        .and_then(|step| step.depends_on.first())
        .and_then(|(before, _)| before.wait.as_ref())
        .map_or(NO_EGGS_D, |wait| wait.latest);
    let least_d = match bench.weather.bee().builds_queen_cells() {
        true => FIRST_DECISION_D,
        false => 0.0,
    };
    let counts = divided + Days::new(latest_d.max(least_d) as u64);
    let helped = bench.history.help(which);
    helped.map_or(counts, |help| counts.max(help.on + Days::new(LOOK_UNTIL_D)))
}

/// Until when few bees at an entrance are what was published of splits, days: on day 31 traffic had not
/// recovered.
const FIRST_MONTH_D: i64 = 31;
/// Bees with pollen, in parts of the neighbour's, from which it is carried in again: below a quarter is what
/// splits had in their first days.
const POLLEN_AGAIN: f64 = 0.25;

/// The newest of each kind of sign that concerns a box, graded by when and where it was seen.
fn seen_at(bench: &Bench<'_>, which: Which, divided: NaiveDate) -> Vec<Seen> {
    let days = days_of(bench, which, divided);
    let near = stand_near(bench);
    let history = &bench.history;
    let helped = history.help(which);
    let mut found: Vec<Seen> = Vec::new();
    for record in history.records.iter().filter(|one| one.date >= divided) {
        for sign in &record.signs {
            let here = sign.is_at(which) || sign.which.is_none();
            // Help is a new beginning: what spoke against a queen before it tells no more.
            let over = helped.is_some_and(|help| record.date <= help.on && over(help, sign.kind));
            if here && !over {
                let seen = graded(sign, record.date, &days, near);
                match found.iter_mut().find(|known| known.kind == sign.kind) {
                    Some(known) if known.date <= seen.date => *known = seen,
                    Some(_) => {}
                    None => found.push(seen),
                }
            }
        }
    }
    // A later look takes an earlier one back, in either direction.
    let last = |kinds: &[SignKind], found: &[Seen]| {
        found
            .iter()
            .filter(|seen| kinds.contains(&seen.kind))
            .filter(|seen| {
                matches!(
                    seen.strength,
                    SignStrength::Conclusive | SignStrength::Contrary
                )
            })
            .map(|seen| seen.date)
            .max()
    };
    let queen = [SignKind::Eggs, SignKind::LayingQueen];
    let against = [SignKind::NoEggs, SignKind::BoxEmpty];
    if let (Some(with), Some(without)) = (last(&queen, &found), last(&against, &found)) {
        let gone: &[SignKind] = if with >= without { &against } else { &queen };
        found.retain(|seen| !gone.contains(&seen.kind));
    }
    found.sort_by_key(|seen| (seen.strength, seen.date));
    found
}

/// Whether help ends what a sign told before it.
fn over(help: &Help, kind: SignKind) -> bool {
    match kind {
        SignKind::NoEggs | SignKind::NoTraffic => true,
        // Her queen went to the other box.
        SignKind::Eggs | SignKind::LayingQueen => help.given == Outcome::GaveQueen,
        _ => false,
    }
}

/// A sign and what it is worth on its day at this box.
fn graded(sign: &Sign, on: NaiveDate, days: &DaysOfBox, near: bool) -> Seen {
    let meaning = sign.kind.meaning();
    let count = sign
        .count
        .map_or_else(String::new, |count| format!("{count} counted; "));
    let words = capital(meaning.words);
    let mut seen = Seen {
        kind: sign.kind,
        date: on,
        count: sign.count,
        strength: meaning.strength,
        because: None,
        text: format!("{words}: {count}{}.", meaning.meaning),
        source: meaning.source.to_owned(),
    };
    if let Some(row) = worth(sign.kind, on, days, near) {
        seen.strength = row.strength;
        seen.because = Some(row.because);
        seen.text = format!("{words}: {count}{}.", row.words);
        row.source.clone_into(&mut seen.source);
    } else if sign.which.is_none()
        && meaning.strength <= SignStrength::Supportive
        && sign.kind != SignKind::MalesTurnedOut
    {
        seen.strength = SignStrength::Weak;
        seen.because = Some(Because::BoxNotSaid);
        seen.text = format!(
            "{words}: {count}{}; but it was not said at which box.",
            meaning.meaning
        );
    }
    seen
}

/// The days that part the worths of signs at a box.
fn days_of(bench: &Bench<'_>, which: Which, divided: NaiveDate) -> DaysOfBox {
    let settings = &bench.settings;
    let after = |days: f64| divided + Days::new(days as u64);
    let brood_d = bench.weather.bee().worker_development_d().value;
    let given = bench.history.help(which).map(|help| help.on);
    DaysOfBox {
        divided,
        eggs_count: after(settings.eggs_count_from_d.value),
        signs_count: after(settings.signs_count_from_d.value),
        no_counts: no_counts_from(bench, which, divided),
        brood_emerged: given.unwrap_or(divided) + Days::new(brood_d as u64) + SLOW_BROOD,
    }
}

/// Whether the boxes stand so near each other that bees go into either.
fn stand_near(bench: &Bench<'_>) -> bool {
    let resolved = &bench.resolved;
    let far = ["ten_metres", "away"];
    bench.method.new_queen() == NewQueen::Either
        && !far.iter().any(|option| resolved.is_chosen("place", option))
}

fn capital(words: &str) -> String {
    let mut words = words.to_owned();
    if let Some(first) = words.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    words
}

/// Never certain without a conclusive sign.
fn judge(signs_for: &[Seen], signs_against: &[Seen], counts: &[Counted]) -> Standing {
    let strong = |signs: &[Seen], strength| signs.iter().filter(|s| s.strength == strength).count();
    // Of counts the newest tells, as one sign.
    let counted = |strength| usize::from(counts.last().is_some_and(|c| c.strength == strength));
    let (queen, supportive) = (
        strong(signs_for, SignStrength::Conclusive),
        strong(signs_for, SignStrength::Supportive) + counted(SignStrength::Supportive),
    );
    let (empty, against) = (
        strong(signs_against, SignStrength::Conclusive),
        strong(signs_against, SignStrength::Contrary) + counted(SignStrength::Contrary),
    );
    let no_eggs = signs_against.iter().any(|s| s.kind == SignKind::NoEggs);
    if empty > 0 {
        Standing::Lost
    } else if queen > 0 && against < 2 {
        Standing::LayingQueenSeen
    } else if queen > 0 {
        Standing::Uncertain
    } else if no_eggs && supportive < SIGNS_FOR || against >= 2 && supportive == 0 {
        Standing::Failing
    } else if against > 0 || supportive < SIGNS_FOR {
        Standing::Uncertain
    } else {
        Standing::LikelyEstablished
    }
}

/// The standing of the box that has to show a queen; of the two where either may be the one, the less certain.
pub(crate) fn overall(bench: &Bench<'_>, boxes: &[BoxStanding]) -> Option<Standing> {
    if bench.history.joined.is_some() {
        return Some(Standing::Joined);
    }
    let at = |which: Which| boxes.iter().find(|b| b.which == which).map(|b| b.standing);
    let watch = bench.queen.pair.as_ref().and_then(|pair| pair.watch);
    match (bench.method.new_queen(), watch) {
        (NewQueen::None, _) => at(Which::Daughter),
        (NewQueen::Either, _) => {
            // The order of the variants runs from certain to lost.
            at(Which::Parent).max(at(Which::Daughter))
        }
        (NewQueen::Parent, None) => at(Which::Parent),
        (NewQueen::Daughter, None) => at(Which::Daughter),
        (_, Some(watch)) => at(watch),
    }
}

/// The one look that would settle it, where, and by when.
pub(crate) fn settle(bench: &Bench<'_>, plan: &Plan, standing: Option<Standing>) -> Option<Settle> {
    let standing = standing?;
    let divided = bench.history.divided?;
    let open = bench.queen.open();
    if matches!(standing, Standing::LayingQueenSeen | Standing::Joined) || open.is_empty() {
        return None;
    }
    let watch = bench.queen.pair.as_ref().and_then(|pair| pair.watch);
    let which = watch.unwrap_or(open[0]);
    let today = bench.request.today;
    let next_look = plan
        .tasks
        .iter()
        .filter(|task| {
            task.state == TaskState::Planned
                && task.kind == TaskKind::Check
                && task.dates.latest >= today
        })
        .min_by_key(|task| task.dates.best)
        .map(|task| (task.dates.earliest.max(today), task.dates.latest));
    let (from, by) = next_look.unwrap_or((today, today + Days::new(7)));
    let look_for = if bench.resolved.is_chosen("inspection", "outside") {
        let at = match which {
            Which::Parent => "the old box",
            Which::Daughter => "the new box",
            Which::Pair => "each of the two boxes",
        };
        format!(
            "Bees with pollen at {at}, in most weekly counts after day 30 and about as many as at an undivided \
             neighbour. Only a look inside is sure."
        )
    } else {
        match which {
            Which::Parent => "New cells with eggs, or the laying queen, in the old box.",
            Which::Daughter => "New cells with eggs, or the laying queen, in the new box.",
            Which::Pair => {
                "New cells with eggs, or the laying queen, in the new box first; in the old box only if the new one \
                 has some."
            }
        }
        .to_owned()
    };
    Some(Settle {
        look_for,
        which,
        from,
        by,
        no_counts_from: Some(no_counts_from(bench, which, divided)),
    })
}
