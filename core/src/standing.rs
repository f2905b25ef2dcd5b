//! From signs to a standing.

use chrono::{Days, NaiveDate};
use serde::Serialize;

use crate::civil::date_words;
use crate::method::{FIRST_DECISION_D, NewQueen};
use crate::plan::{Bench, Plan};
use crate::reason::{Reason, say};
use crate::record::{SignKind, SignStrength, Traffic};
use crate::task::{TaskKind, Which};
use crate::wire::FromNode;

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
}

/// A sign and what it tells here.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Seen {
    /// What was seen.
    pub kind: SignKind,
    /// When it was seen last.
    pub date: NaiveDate,
    /// What it is worth here, which may be less than in general: an early sign is the work of bees
    /// that came along, and a sign without a box settles neither.
    pub strength: SignStrength,
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
    let Some(divided) = divided_on(bench) else {
        return Vec::new();
    };
    BOXES
        .into_iter()
        .filter(|which| bench.method.new_queen() != NewQueen::None || *which == Which::Daughter)
        .map(|which| of_box(bench, which, divided))
        .collect()
}

fn of_box(bench: &Bench<'_>, which: Which, divided: NaiveDate) -> BoxStanding {
    let (mut signs_for, mut signs_against, mut signs_neutral) =
        (Vec::new(), Vec::new(), Vec::new());
    for seen in seen_at(bench, which, divided, no_eggs_from(bench, divided)) {
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
    let mut found = Vec::new();
    for record in &bench.request.records {
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
            let (strength, reason) =
                if count.counted.home == 0 && record.date >= no_eggs_from(bench, divided) {
                    (SignStrength::Contrary, say::count_none(days))
                } else if let Some(share) =
                    pollen.filter(|share| *share >= POLLEN_AGAIN && day >= FIRST_MONTH_D)
                {
                    (SignStrength::Supportive, say::count_pollen(days, share))
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
                reason,
                source: TRAFFIC_2023.to_owned(),
            });
        }
    }
    found.sort_by_key(|count| count.date);
    found
}

/// From when on a look without eggs, and a box without traffic, speak against a queen: the end of the range
/// of the method's first look for her, and for bees that raise queens in queen cells not before day 60.
pub(crate) fn no_eggs_from(bench: &Bench<'_>, divided: NaiveDate) -> NaiveDate {
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
    divided + Days::new(latest_d.max(least_d) as u64)
}

/// Until when few bees at an entrance are what was published of splits, days: on day 31 traffic had not
/// recovered.
const FIRST_MONTH_D: i64 = 31;
/// Bees with pollen, in parts of the neighbour's, from which it is carried in again: below a quarter is what
/// splits had in their first days.
const POLLEN_AGAIN: f64 = 0.25;

/// The newest of each kind of sign that concerns a box, graded by when and where it was seen.
fn seen_at(
    bench: &Bench<'_>,
    which: Which,
    divided: NaiveDate,
    no_eggs_from: NaiveDate,
) -> Vec<Seen> {
    let settings = &bench.settings;
    let after = |days: f64| divided + Days::new(days as u64);
    let (eggs_from, signs_from) = (
        after(settings.eggs_count_from_d.value),
        after(settings.signs_count_from_d.value),
    );
    let mut found: Vec<Seen> = Vec::new();
    for record in &bench.request.records {
        for sign in &record.signs {
            if record.date < divided || !(sign.is_at(which) || sign.which.is_none()) {
                continue;
            }
            let meaning = sign.kind.meaning();
            let (mut strength, mut source) = (meaning.strength, meaning.source);
            let mut text = format!("{}: {}", capital(meaning.words), meaning.meaning);
            let early = match sign.kind {
                SignKind::Eggs => record.date < eggs_from,
                SignKind::MalesTurnedOut => false,
                _ => strength == SignStrength::Supportive && record.date < signs_from,
            };
            if early {
                strength = SignStrength::Weak;
                text += "; so soon after the division it may come from before it";
            } else if sign.which.is_none()
                && strength <= SignStrength::Supportive
                && sign.kind != SignKind::MalesTurnedOut
            {
                strength = SignStrength::Weak;
                text += "; but it was not said at which box";
            } else if sign.kind == SignKind::NoEggs && record.date < no_eggs_from {
                strength = SignStrength::Neutral;
                let day = date_words(no_eggs_from);
                text = format!("No eggs: too early to tell before {day}");
            } else if sign.kind == SignKind::NoTraffic && record.date < no_eggs_from {
                strength = SignStrength::Neutral;
                source = TRAFFIC_2023;
                text = "Little or no traffic: usual in the first weeks after a division, and no failure".to_owned();
            }
            let seen = Seen {
                kind: sign.kind,
                date: record.date,
                strength,
                text: text + ".",
                source: source.to_owned(),
            };
            match found.iter_mut().find(|known| known.kind == sign.kind) {
                Some(known) if known.date <= seen.date => *known = seen,
                Some(_) => {}
                None => found.push(seen),
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

/// The standing of the box that has to raise a queen.
pub(crate) fn overall(bench: &Bench<'_>, boxes: &[BoxStanding]) -> Option<Standing> {
    let at = |which: Which| boxes.iter().find(|b| b.which == which).map(|b| b.standing);
    match bench.method.new_queen() {
        NewQueen::Parent => at(Which::Parent),
        NewQueen::Daughter | NewQueen::None => at(Which::Daughter),
        // The order of the variants runs from certain to lost.
        NewQueen::Either => at(Which::Parent).max(at(Which::Daughter)),
    }
}

/// The one look that would settle it, and by when.
pub(crate) fn settle(
    bench: &Bench<'_>,
    plan: &Plan,
    standing: Option<Standing>,
    boxes: &[BoxStanding],
) -> Option<Settle> {
    let standing = standing?;
    if matches!(standing, Standing::LayingQueenSeen | Standing::Lost) {
        return None;
    }
    let open: Vec<&str> = boxes
        .iter()
        .filter(|b| !matches!(b.standing, Standing::LayingQueenSeen | Standing::Lost))
        .filter(|b| match bench.method.new_queen() {
            NewQueen::Parent => b.which == Which::Parent,
            NewQueen::Daughter | NewQueen::None => b.which == Which::Daughter,
            NewQueen::Either => true,
        })
        .map(|b| match b.which {
            Which::Parent => "the old box",
            Which::Daughter | Which::Pair => "the new box",
        })
        .collect();
    let today = bench.request.today;
    let next_look = plan
        .tasks
        .iter()
        .find(|task| {
            task.state == crate::task::TaskState::Planned
                && task.kind == crate::task::TaskKind::Check
                && task.dates.latest >= today
        })
        .map(|task| (task.dates.earliest.max(today), task.dates.latest));
    let (from, by) = next_look.unwrap_or((today, today + Days::new(7)));
    let boxes = open.join(" and ");
    let look_for = if bench.resolved.is_chosen("inspection", "outside") {
        format!(
            "Bees with pollen at {boxes}, in most weekly counts after day 30 and about as many as at an \
             undivided neighbour. Only a look inside is sure."
        )
    } else {
        format!("New cells with eggs, or the laying queen, in {boxes}.")
    };
    Some(Settle {
        look_for,
        from,
        by,
        no_counts_from: divided_on(bench).map(|divided| no_eggs_from(bench, divided)),
    })
}

/// The day on which the boxes became two colonies, by the records.
pub(crate) fn divided_on(bench: &Bench<'_>) -> Option<NaiveDate> {
    let safe = &bench.resolved.steps[bench.resolved.safe];
    bench.request.done_on(&safe.id)
}

const BOXES: [Which; 2] = [Which::Parent, Which::Daughter];
