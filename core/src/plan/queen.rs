//! When a laying queen was seen, which of two boxes has the old one, and which is to be watched.
//!
//! One box has the old queen. What shows her is a queen, or eggs that cannot be older than the division, before
//! a new queen can lay. No eggs in that time speak for the other box, and are no proof: she may have paused.

use chrono::{Days as CalendarDays, NaiveDate};
use serde::Serialize;

use super::history::{Asked, History};
use crate::method::{NewQueen, ResolvedStep};
use crate::reason::{Reason, say};
use crate::record::{Outcome, SignKind};
use crate::task::{TaskKind, Which};
use crate::wire::FromNode;

/// Until this day after the division a queen or her eggs are the old one's, of bees that raise queens in queen
/// cells: young queens of *Tetragonula carbonaria* laid 20 ± 6 days after they emerged (Bueno et al. 2022, Insectes
/// Soc. 69:17–27), and the soonest of five divisions of *T. iridipennis* was established on day 20 (Mounika et al.
/// 2019, J. Entomol. Zool. Stud. 7(3):754–757).
const OLD_QUEEN_D: u64 = 14;

/// Which of two boxes has the old queen, and which is to be watched.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct PairStanding {
    /// The box that has the old queen; `None` where nothing tells.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub old_queen: Option<Which>,
    /// Whether she or her eggs were seen there. False where it is only likely.
    pub sure: bool,
    /// The box that has to show a queen: both where nothing tells which, `None` where nothing is to be watched.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub watch: Option<Which>,
    /// Why that one.
    pub reason: Reason,
}

/// What the records say of queens.
pub(crate) struct Queen {
    /// When the last of the boxes that had to show a laying queen showed her.
    pub seen: Option<NaiveDate>,
    /// `None` before the division.
    pub pair: Option<PairStanding>,
    /// The boxes that still have to show one.
    open: Vec<Which>,
    /// The box that is left where the other is empty.
    left: Option<Which>,
}

impl Queen {
    /// Looks through the records. A queen counts when seen after the division, eggs from the day on
    /// from which they cannot be older than it; a later look without eggs takes both back.
    pub fn of(history: &History, asked: &Asked<'_>) -> Self {
        let (new, eggs_count_from_d) = (asked.new, asked.eggs_count_from_d);
        let nothing = Queen {
            seen: None,
            pair: None,
            open: Vec::new(),
            left: None,
        };
        let (Some(divided), None) = (history.divided, history.joined) else {
            return nothing;
        };
        let look = Look {
            history,
            divided,
            eggs_from: divided + CalendarDays::new(eggs_count_from_d as u64),
            new_queen_from: divided
                + CalendarDays::new(match asked.bee.builds_queen_cells() {
                    true => OLD_QUEEN_D + 1,
                    // Melipona: eggs on day 14 on average (Kerr 1987); how soon at the soonest is not published.
                    false => eggs_count_from_d as u64,
                }),
        };
        let old = look.old_queen(new);
        let required: &[Which] = match (new, &old) {
            (NewQueen::Either, _) => &Which::BOXES,
            // The old queen came along: the box that she left has to raise one.
            (NewQueen::Parent, Some((Which::Parent, ..))) => &[Which::Daughter],
            (NewQueen::Daughter, Some((Which::Daughter, ..))) => &[Which::Parent],
            (NewQueen::Parent, _) => &[Which::Parent],
            (NewQueen::Daughter | NewQueen::None, _) => &[Which::Daughter],
        };
        let alive = required
            .iter()
            .filter(|which| history.lost(**which).is_none());
        let found: Vec<(Which, Option<NaiveDate>)> =
            alive.map(|which| (*which, look.queen_at(*which))).collect();
        let open: Vec<Which> = found
            .iter()
            .filter(|(_, seen)| seen.is_none())
            .map(|(which, _)| *which)
            .collect();
        let seen = found.iter().map(|(_, seen)| *seen).max().flatten();
        Queen {
            seen: seen.filter(|_| open.is_empty()),
            pair: (new != NewQueen::None).then(|| pair(history, old, &open, new)),
            open,
            left: Which::BOXES.into_iter().find(|which| {
                history.lost(which.other()).is_some() && history.lost(*which).is_none()
            }),
        }
    }

    /// The box that a step is about, once one of the two is empty or it is known which of them still has to show
    /// a queen.
    pub fn narrowed(&self, step: &ResolvedStep) -> Which {
        if step.which == Which::Pair
            && step.step.kind != TaskKind::Rest
            && let Some(left) = self.left
        {
            return left;
        }
        match (
            step.step.asks_for_queen,
            self.pair.as_ref().and_then(|pair| pair.watch),
        ) {
            (true, Some(watch)) if step.which == Which::Pair && is_a_look(step) => watch,
            _ => step.which,
        }
    }

    /// The boxes that still have to show one.
    pub fn open(&self) -> &[Which] {
        &self.open
    }
}

fn is_a_look(step: &ResolvedStep) -> bool {
    matches!(step.step.kind, TaskKind::Check | TaskKind::Decide)
}

type OldQueen = (Which, bool, NaiveDate);

fn pair(history: &History, old: Option<OldQueen>, open: &[Which], new: NewQueen) -> PairStanding {
    let watch = match open {
        [] => None,
        [one] => Some(*one),
        // Where it is only likely which has her, the other is looked at first.
        _ => Some(old.map_or(Which::Pair, |(which, ..)| which.other())),
    };
    let reason = match (old, open) {
        (_, []) => say::nothing_to_watch(),
        (Some((_, true, on)), _) => say::old_queen_seen(on),
        (Some((_, false, on)), _) => say::old_queen_elsewhere(on),
        (None, [one]) if history.lost(one.other()).is_some() => say::other_box_is_empty(),
        (None, [_]) if new == NewQueen::Either => say::one_box_is_left(),
        (None, [_]) => say::raises_the_queen(),
        (None, _) => say::either_box(),
    };
    PairStanding {
        old_queen: old.map(|(which, ..)| which),
        sure: old.is_some_and(|(_, sure, _)| sure),
        watch,
        reason,
    }
}

struct Look<'a> {
    history: &'a History,
    divided: NaiveDate,
    /// Eggs seen from this day on were laid after the division.
    eggs_from: NaiveDate,
    /// From this day on a new queen may lay.
    new_queen_from: NaiveDate,
}

impl Look<'_> {
    /// The first sight of a laying queen or her eggs that no later look took back.
    fn queen_at(&self, which: Which) -> Option<NaiveDate> {
        let history = self.history;
        let without = history
            .seen(SignKind::NoEggs, which, self.divided)
            .chain(history.seen(SignKind::BoxEmpty, which, self.divided))
            .chain(self.taken_away(which))
            .max();
        self.sights(which)
            .filter(|date| without.is_none_or(|without| *date > without))
            .min()
    }

    /// When its queen was given to the other box.
    fn taken_away(&self, which: Which) -> Option<NaiveDate> {
        let helps = self.history.helps.iter().rev();
        let mut taken =
            helps.filter(|help| help.given == Outcome::GaveQueen && help.which == which);
        taken.next().map(|help| help.on)
    }

    fn sights(&self, which: Which) -> impl Iterator<Item = NaiveDate> {
        self.history
            .seen(SignKind::Eggs, which, self.eggs_from)
            .chain(
                self.history
                    .seen(SignKind::LayingQueen, which, self.divided),
            )
    }

    /// The box with the old queen, whether she was seen, and when that was or when the other had no eggs.
    fn old_queen(&self, new: NewQueen) -> Option<OldQueen> {
        if new == NewQueen::None {
            return None;
        }
        let early = |which| {
            self.sights(which)
                .filter(|on| *on < self.new_queen_from)
                .min()
        };
        let seen: Vec<(Which, NaiveDate)> = Which::BOXES
            .into_iter()
            .filter_map(|which| Some((which, early(which)?)))
            .collect();
        match seen.as_slice() {
            [(which, on)] => return Some((*which, true, *on)),
            [] => {}
            // Seen in both: she was moved, or a young queen was taken for her.
            _ => return None,
        }
        // Wherever she is, she has laid by then; what was seen there earlier was hers.
        let without = |which| {
            self.history
                .seen(SignKind::NoEggs, which, self.eggs_from)
                .next()
        };
        match (new, without(Which::Parent), without(Which::Daughter)) {
            (NewQueen::Either, Some(on), None) => Some((Which::Daughter, false, on)),
            (NewQueen::Either, None, Some(on)) => Some((Which::Parent, false, on)),
            _ => None,
        }
    }
}
