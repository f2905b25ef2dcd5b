//! What the records come to: those that count, what was done, given, joined and lost.

use chrono::{Days as CalendarDays, NaiveDate};

use super::queen::Queen;
use super::{Bench, PlanRequest, evenings, helps};
use crate::bee::Bee;
use crate::error::Error;
use crate::method::{NewQueen, Part, Resolved, ResolvedStep};
use crate::reason::{Reason, say};
use crate::record::{KeptRecord, Known, Outcome, Record, Sign, SignKind, kept};
use crate::task::{TaskKind, Which};

/// A box that was helped to a queen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Help {
    pub on: NaiveDate,
    /// The box that has to raise her.
    pub which: Which,
    pub given: Outcome,
}

/// The records as they count.
pub(crate) struct History {
    /// All of them, as they were given.
    pub kept: Vec<KeptRecord>,
    /// Those that count, by day; what their outcomes show stands among their signs.
    pub records: Vec<Record>,
    /// The day of the division.
    pub divided: Option<NaiveDate>,
    /// The day on which the two were put together again.
    pub joined: Option<NaiveDate>,
    /// By day.
    pub helps: Vec<Help>,
    /// Since when the old box and the new one are empty.
    lost: [Option<NaiveDate>; 2],
}

/// What else the box of an outcome hangs on.
pub(crate) struct Asked<'a> {
    pub new: NewQueen,
    pub bee: &'a Bee,
    pub eggs_count_from_d: f64,
}

impl History {
    pub fn of(
        request: &PlanRequest,
        resolved: &Resolved,
        asked: &Asked<'_>,
    ) -> Result<Self, Error> {
        let kept = kept(&request.records)?;
        let mut records: Vec<Record> = kept
            .iter()
            .filter(|one| one.void_by.is_none())
            .map(|one| counting(&one.record, resolved))
            .collect();
        records.sort_by_key(|record| record.date);
        let mut history = History {
            kept,
            records: Vec::with_capacity(records.len()),
            divided: None,
            joined: None,
            helps: Vec::new(),
            lost: [None, None],
        };
        for mut record in records {
            let after_help = record.task.as_deref().and_then(helps::place_of);
            if let (None, Some(_), Some(place)) = (record.which, record.outcome, after_help) {
                history.sum_up(resolved, asked.new);
                record.which = history.helps.get(place).map(|help| help.which);
            } else if record.which.is_none() && is_a_look_at_the_pair(&record, resolved) {
                // The task named the box to look into, by what was known then.
                history.sum_up(resolved, asked.new);
                let pair = Queen::of(&history, asked).pair;
                let watch = pair.and_then(|pair| pair.watch);
                record.which = watch.filter(|watch| *watch != Which::Pair);
            }
            show_outcome(&mut record);
            history.records.push(record);
        }
        history.sum_up(resolved, asked.new);
        Ok(history)
    }

    /// What the records come to so far.
    fn sum_up(&mut self, resolved: &Resolved, new: NewQueen) {
        let safe = &resolved.steps[resolved.safe].id;
        self.divided = self.done_on(safe).filter(|_| resolved.divides);
        self.helps.clear();
        let Some(divided) = self.divided else {
            return;
        };
        for record in self.records.iter().filter(|one| one.date >= divided) {
            let which = match record.outcome {
                Some(Outcome::Joined) => {
                    self.joined = self.joined.or(Some(record.date));
                    continue;
                }
                Some(Outcome::GaveBrood | Outcome::GaveCells) => {
                    record.which.unwrap_or(match new {
                        NewQueen::Parent => Which::Parent,
                        NewQueen::Daughter | NewQueen::None => Which::Daughter,
                        NewQueen::Either => Which::Pair,
                    })
                }
                // The box that she was taken from raises another.
                Some(Outcome::GaveQueen) => record.which.map_or(Which::Pair, Which::other),
                _ => continue,
            };
            if let Some(given) = record.outcome {
                let on = record.date;
                self.helps.push(Help { on, which, given });
            }
        }
        self.lost = Which::BOXES.map(|which| self.empty_since(which));
    }

    /// When a task was first recorded as done.
    pub fn done_on(&self, id: &str) -> Option<NaiveDate> {
        let mut done = self.records.iter().filter(|record| {
            record.task.as_deref() == Some(id) && record.outcome != Some(Outcome::NotPossible)
        });
        done.next().map(|record| record.date)
    }

    /// When a task was last recorded as done.
    fn last_done_on(&self, id: &str) -> Option<NaiveDate> {
        let mut done = self.records.iter().rev().filter(|record| {
            record.task.as_deref() == Some(id) && record.outcome != Some(Outcome::NotPossible)
        });
        done.next().map(|record| record.date)
    }

    /// When a task was last recorded as not possible.
    pub fn tried_on(&self, id: &str) -> Option<NaiveDate> {
        let mut tried = self.records.iter().filter(|record| {
            record.task.as_deref() == Some(id) && record.outcome == Some(Outcome::NotPossible)
        });
        tried.next_back().map(|record| record.date)
    }

    /// What was known of the season when a task was done.
    pub fn known_when_done(&self, id: &str) -> Option<Known> {
        let on = self.done_on(id)?;
        let mut records = self.records.iter();
        records.find_map(|record| {
            let is_it = record.task.as_deref() == Some(id) && record.date == on;
            record.known.filter(|_| is_it)
        })
    }

    /// The last help that a box was given.
    pub fn help(&self, which: Which) -> Option<&Help> {
        let meant = |help: &&Help| help.which == which || help.which == Which::Pair;
        self.helps.iter().rev().find(meant)
    }

    /// Since when a box is empty.
    pub fn lost(&self, which: Which) -> Option<NaiveDate> {
        match which {
            Which::Parent => self.lost[0],
            Which::Daughter => self.lost[1],
            Which::Pair => Some(self.lost[0]?.max(self.lost[1]?)),
        }
    }

    /// The days on which a sign was seen at a box, from a day on.
    pub fn seen(
        &self,
        kind: SignKind,
        which: Which,
        from: NaiveDate,
    ) -> impl Iterator<Item = NaiveDate> {
        self.records
            .iter()
            .filter(move |record| record.date >= from)
            .filter(move |record| {
                let mut signs = record.signs.iter();
                signs.any(|sign| sign.kind == kind && sign.is_at(which))
            })
            .map(|record| record.date)
    }

    fn empty_since(&self, which: Which) -> Option<NaiveDate> {
        let from = self.divided?;
        let empty = self.seen(SignKind::BoxEmpty, which, from).last()?;
        let alive = [SignKind::Eggs, SignKind::LayingQueen, SignKind::Brood]
            .into_iter()
            .flat_map(|kind| self.seen(kind, which, from))
            .max();
        alive.is_none_or(|alive| alive < empty).then_some(empty)
    }
}

/// A record with the box of its task for its outcome, where it names none and the task is about one.
fn counting(record: &Record, resolved: &Resolved) -> Record {
    let mut record = record.clone();
    if record.outcome.is_some() {
        let of_task = step_of(&record, resolved).map(|step| step.which);
        let of_task = of_task.filter(|which| *which != Which::Pair);
        record.which = record.which.or(of_task);
    }
    record
}

fn step_of<'a>(record: &Record, resolved: &'a Resolved) -> Option<&'a ResolvedStep> {
    let mut steps = resolved.steps.iter();
    steps.find(|step| Some(&step.id) == record.task.as_ref())
}

fn is_a_look_at_the_pair(record: &Record, resolved: &Resolved) -> bool {
    record.outcome.is_some()
        && step_of(record, resolved).is_some_and(|step| step.step.asks_for_queen)
}

/// Adds what the outcome of a record shows to its signs.
fn show_outcome(record: &mut Record) {
    let kinds = record.outcome.map_or(&[][..], Outcome::signs);
    for kind in kinds {
        let known = |sign: &Sign| sign.kind == *kind && sign.which == record.which;
        if !record.signs.iter().any(known) {
            let mut sign = Sign::new(*kind);
            sign.which = record.which;
            record.signs.push(sign);
        }
    }
}

impl Bench<'_> {
    /// When a task was first recorded as done.
    pub(crate) fn done_on(&self, id: &str) -> Option<NaiveDate> {
        self.history.done_on(id)
    }

    /// Since which evening a box is shut for a move that was not made: not opened since.
    pub(super) fn shut_since(&self, moved: &str) -> Option<NaiveDate> {
        let [close, open] = evenings::ids(moved);
        let closed = self.history.last_done_on(&close)?;
        let opened = self.history.last_done_on(&open);
        let is_shut = self.done_on(moved).is_none() && opened.is_none_or(|on| on <= closed);
        is_shut.then_some(closed)
    }

    /// When a step was done for good. What was closed for a move that was not made, and opened again, is closed and
    /// opened once more.
    pub(super) fn done_for_good_on(&self, step: &ResolvedStep) -> Option<NaiveDate> {
        let (Part::Eve { of } | Part::Opening { of }) = step.part else {
            return self.done_on(&step.id);
        };
        let moved = &self.resolved.steps[of].id;
        match (step.part, self.done_on(moved)) {
            (_, Some(_)) => self.done_on(&step.id),
            (Part::Eve { .. }, None) => self.shut_since(moved),
            (_, None) => None,
        }
    }

    /// Why a step is not to be done any more, whatever its dates: the two were joined, or its box is empty.
    pub(super) fn ended(&self, step: &ResolvedStep) -> Option<(NaiveDate, Reason)> {
        let next_of_old = step.step.kind == TaskKind::NextDivision && step.which == Which::Parent;
        if let Some(joined) = self.history.joined
            && !next_of_old
        {
            return Some((joined, say::ended_by_joining(joined)));
        }
        if let Some(lost) = self.history.lost(step.which) {
            return Some((lost, say::ended_with_the_box(lost)));
        }
        let lost = Which::BOXES
            .iter()
            .find_map(|which| self.history.lost(*which))?;
        self.is_for_the_pair(step)
            .then(|| (lost, say::ended_with_the_pair(lost)))
    }

    /// A stage that takes one box away from the other, or the time before it. Stages of the keeper's own lead to
    /// a place that the keeper wants.
    fn is_for_the_pair(&self, step: &ResolvedStep) -> bool {
        let steps = &self.resolved.steps;
        let stands = step.step.kind == TaskKind::Rest
            && step.after.iter().any(|place| steps[*place].stage.is_some());
        let own = self.request.settings.stages.is_some();
        self.resolved.divides && !own && (step.stage.is_some() || stands)
    }

    /// The first day on which a step can be tried again after it was not possible.
    pub(super) fn again_from(&self, step: &ResolvedStep) -> Option<NaiveDate> {
        Some(self.history.tried_on(&step.id)? + CalendarDays::new(1))
    }
}
