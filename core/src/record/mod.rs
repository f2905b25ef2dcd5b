//! What a keeper did and saw, and what the signs are worth.

mod history;
mod signs;

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use crate::season::DateState;
use crate::task::Which;
use crate::wire::FromNode;

pub use history::{KeptRecord, kept};
pub use signs::{SIGNS, SignKind, SignMeaning, SignStrength};

/// A sign, and at which box.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct Sign {
    /// What was seen.
    #[setters(skip)]
    pub kind: SignKind,
    /// At which box, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub which: Option<Which>,
    /// How many, where they were counted: males turned out, pairs that fight, phorid flies.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
}

impl Sign {
    /// A sign at a box that is not known.
    ///
    /// ```
    /// use apiary_almanac::record::{Sign, SignKind};
    /// use apiary_almanac::task::Which;
    /// assert!(Sign::new(SignKind::Eggs).with_which(Which::Daughter).is_at(Which::Daughter));
    /// ```
    pub fn new(kind: SignKind) -> Self {
        Sign {
            kind,
            which: None,
            count: None,
        }
    }

    /// Whether it was seen at this box: a sign at the pair was seen at both.
    ///
    /// ```
    /// use apiary_almanac::record::{Sign, SignKind};
    /// use apiary_almanac::task::Which;
    /// let streams = Sign::new(SignKind::SteadyStreams).with_which(Which::Pair);
    /// assert!(streams.is_at(Which::Parent) && streams.is_at(Which::Daughter));
    /// // Nobody wrote down where.
    /// assert!(!Sign::new(SignKind::SteadyStreams).is_at(Which::Parent));
    /// ```
    pub fn is_at(&self, box_: Which) -> bool {
        self.which == Some(box_) || self.which == Some(Which::Pair)
    }
}

/// Bees that came home through an entrance in five minutes on a good flying day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct Traffic {
    /// All of them.
    #[setters(skip)]
    pub home: u32,
    /// Those with pollen, where they were counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pollen: Option<u32>,
    /// Those with resin, where they were counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resin: Option<u32>,
}

impl Traffic {
    /// A count of all bees.
    ///
    /// ```
    /// use apiary_almanac::record::Traffic;
    /// let counted = Traffic::new(42).with_pollen(5_u32);
    /// assert_eq!((counted.home, counted.pollen, counted.resin), (42, Some(5), None));
    /// ```
    pub fn new(home: u32) -> Self {
        Traffic {
            home,
            pollen: None,
            resin: None,
        }
    }
}

/// A count at a box, and at an undivided neighbour at the same hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct EntranceCount {
    /// The box.
    #[setters(skip)]
    pub which: Which,
    /// What was counted at it.
    #[setters(skip)]
    pub counted: Traffic,
    /// What was counted at an undivided colony nearby at the same hour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub neighbour: Option<Traffic>,
}

impl EntranceCount {
    /// A count without a neighbour's.
    ///
    /// ```
    /// use apiary_almanac::record::{EntranceCount, Traffic};
    /// use apiary_almanac::task::Which;
    /// let new_box = Traffic::new(9).with_pollen(1_u32);
    /// let count = EntranceCount::new(Which::Daughter, new_box).with_neighbour(Traffic::new(70));
    /// assert_eq!(count.neighbour.map(|one| one.home), Some(70));
    /// ```
    pub fn new(which: Which, counted: Traffic) -> Self {
        EntranceCount {
            which,
            counted,
            neighbour: None,
        }
    }
}

/// What came of a task, or of a visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Outcome {
    /// Done. A record that names a task and no outcome says the same.
    Done,
    /// It could not be done; it is still due.
    NotPossible,
    /// The laying queen was seen.
    QueenSeen,
    /// New cells with eggs were seen.
    EggsSeen,
    /// Eggs were looked for, and there were none.
    NoEggs,
    /// There were new cells, but no eggs in them.
    CellsWithoutEggs,
    /// Ripe brood was given to the box.
    GaveBrood,
    /// Queen cells in a cocoon were given to it.
    GaveCells,
    /// The laying queen of the other box was given to it.
    GaveQueen,
    /// The two boxes were put together again.
    Joined,
    /// The box was empty, or only dead bees were in it.
    BoxEmpty,
}

impl Outcome {
    /// Every outcome.
    pub const ALL: [Outcome; 11] = {
        use Outcome::*;
        [
            Done,
            NotPossible,
            QueenSeen,
            EggsSeen,
            NoEggs,
            CellsWithoutEggs,
            GaveBrood,
            GaveCells,
            GaveQueen,
            Joined,
            BoxEmpty,
        ]
    };

    /// What was seen where this came of it.
    ///
    /// ```
    /// use apiary_almanac::record::{Outcome, SignKind};
    /// assert_eq!(Outcome::EggsSeen.signs(), [SignKind::Eggs]);
    /// assert!(Outcome::Joined.signs().is_empty());
    /// ```
    pub const fn signs(self) -> &'static [SignKind] {
        match self {
            Outcome::QueenSeen | Outcome::GaveQueen => &[SignKind::LayingQueen],
            Outcome::EggsSeen => &[SignKind::Eggs],
            Outcome::NoEggs => &[SignKind::NoEggs],
            Outcome::CellsWithoutEggs => &[SignKind::CellsWithoutEggs, SignKind::NoEggs],
            Outcome::BoxEmpty => &[SignKind::BoxEmpty],
            Outcome::Done
            | Outcome::NotPossible
            | Outcome::GaveBrood
            | Outcome::GaveCells
            | Outcome::Joined => &[],
        }
    }
}

/// What a plan knew of the season on its day. Kept with the record of a division it says for good how the
/// day was judged then, whatever a later forecast makes of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct Known {
    /// What the day was for beginning.
    #[setters(skip)]
    pub season: DateState,
    /// The last careful day of that season, as far as it was known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_good: Option<NaiveDate>,
}

impl Known {
    /// A state of the season.
    ///
    /// ```
    /// use apiary_almanac::record::{Known, Record};
    /// use apiary_almanac::season::DateState;
    /// let last_good: chrono::NaiveDate = "2027-02-18".parse()?;
    /// let known = Known::new(DateState::AtRisk).with_last_good(last_good);
    /// let divided = Record::new("2027-03-06".parse()?).with_task("divide").with_known(known);
    /// assert!(divided.known.is_some_and(|known| known.last_good < Some(divided.date)));
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn new(season: DateState) -> Self {
        Known {
            season,
            last_good: None,
        }
    }
}

/// What was done and seen on a day.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct Record {
    /// The day.
    #[setters(skip)]
    pub date: NaiveDate,
    /// A name of its own, by which a later record can speak of it. Without one it is named by date and task
    /// ([`KeptRecord::name`]).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// The task that was done, by its `id`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub task: Option<String>,
    /// What came of it; with a task and none of these it was done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outcome: Option<Outcome>,
    /// The box that the outcome is about, where it is not that of the task.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub which: Option<Which>,
    /// What was seen.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub signs: Vec<Sign>,
    /// Bees counted at entrances.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub counts: Vec<EntranceCount>,
    /// Net weight of the parent before the division, kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub net_weight_kg: Option<f64>,
    /// Anything else.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// What was known of the season when it was done: the `known` of the plan of that day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub known: Option<Known>,
    /// The name of an earlier record whose place it takes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corrects: Option<String>,
    /// The name of an earlier record that is no longer to count. Beside it only `date`, `id` and `note` are
    /// given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strikes_out: Option<String>,
}

impl Record {
    /// A record of a day, with nothing done or seen yet.
    ///
    /// ```
    /// use apiary_almanac::record::Record;
    /// let record = Record::new("2026-10-10".parse()?).with_task("divide").with_note("a mild day");
    /// assert_eq!(record.task.as_deref(), Some("divide"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(date: NaiveDate) -> Self {
        Record {
            date,
            id: None,
            task: None,
            outcome: None,
            which: None,
            signs: Vec::new(),
            counts: Vec::new(),
            net_weight_kg: None,
            note: None,
            known: None,
            corrects: None,
            strikes_out: None,
        }
    }

    /// Whether anything was done, seen, counted or weighed by it.
    ///
    /// ```
    /// use apiary_almanac::record::Record;
    /// let looked = Record::new("2026-10-10".parse()?).with_note("rain all day");
    /// assert!(!looked.says_something());
    /// assert!(looked.with_task("egg-check").says_something());
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn says_something(&self) -> bool {
        self.task.is_some()
            || self.outcome.is_some()
            || self.which.is_some()
            || !self.signs.is_empty()
            || !self.counts.is_empty()
            || self.net_weight_kg.is_some()
            || self.known.is_some()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_record_names_its_fields() {
        let text = r#"{"date":"2026-11-20","task":"egg-check","signs":[{"kind":"eggs",
            "which":"daughter"}],"note":"four cells"}"#;
        let record: Record = serde_json::from_str(text).unwrap();
        assert!(record.signs[0].is_at(Which::Daughter) && !record.signs[0].is_at(Which::Parent));
        let error = serde_json::from_str::<Record>(&text.replace("note", "remark")).unwrap_err();
        assert!(error.to_string().contains("remark"));
    }

    #[test]
    fn every_outcome_stands_in_the_list_in_its_order() {
        assert!(Outcome::ALL.is_sorted());
        let last = Outcome::ALL.last().map(|last| *last as usize);
        assert_eq!(last, Some(Outcome::ALL.len() - 1));
    }
}
