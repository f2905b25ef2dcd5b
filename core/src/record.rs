//! What a keeper did and saw, and what the signs are worth.

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use crate::number::COMMON_PRACTICE;
use crate::task::Which;
use crate::wire::FromNode;

/// Something seen at a hive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum SignKind {
    /// New cells with eggs.
    Eggs,
    /// The queen, laying or swollen.
    LayingQueen,
    /// Pale young bees, weeks after the brood that came along had emerged.
    YoungWorkers,
    /// Pollen carried in.
    PollenIn,
    /// Resin carried in.
    ResinIn,
    /// Steady streams of foragers on good flying days.
    SteadyStreams,
    /// Guards at the entrance.
    Guards,
    /// Waste carried out.
    WasteOut,
    /// Many males turned out at the entrance on one day, out of season.
    MalesTurnedOut,
    /// Males gathered outside.
    MalesGathered,
    /// Bees of one box going into the other.
    BeesEnterOther,
    /// Pollen, resin or wax carried from one box to the other.
    StoresCarriedBetween,
    /// No traffic on a good flying day.
    NoTraffic,
    /// Brood or empty cells, but no eggs.
    NoEggs,
    /// Larvae of phorid flies inside.
    PhoridLarvae,
    /// Moth larvae or webs inside.
    Moth,
    /// Ants inside.
    Ants,
    /// The box is empty, or only dead bees are in it.
    BoxEmpty,
    /// Brood of any age, in a box that had none.
    Brood,
    /// Queen cells in a cocoon.
    QueenCells,
    /// New cells, built and filled, but without eggs.
    CellsWithoutEggs,
    /// Bees of other colonies fight at the entrance.
    Fights,
    /// Eggs of hoverflies in joints, or their larvae inside.
    Hoverflies,
    /// Hive beetles or their larvae inside.
    HiveBeetle,
}

/// What a sign is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum SignStrength {
    /// It settles the question by itself.
    Conclusive,
    /// It speaks for a colony that is on its way.
    Supportive,
    /// It says little.
    Weak,
    /// It says nothing about the queen.
    Neutral,
    /// It speaks against.
    Contrary,
}

/// A kind of sign, what it is worth and who says so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[non_exhaustive]
pub struct SignMeaning {
    /// The kind.
    pub kind: SignKind,
    /// What it is worth.
    pub strength: SignStrength,
    /// What it is, in words.
    pub words: &'static str,
    /// What it tells.
    pub meaning: &'static str,
    /// Publication, or `common practice, no source`.
    pub source: &'static str,
}

const EGGS_2012: &str = "Villas-Bôas 2012, Manual tecnológico: mel de abelhas sem ferrão, p. 52: eggs show a laying queen; none on day 20 to 30 means none (Melipona)";

/// Every kind of sign and what it is worth.
///
/// ```
/// use apiary_almanac::record::{SIGNS, SignStrength};
/// assert!(SIGNS.iter().any(|sign| sign.strength == SignStrength::Conclusive));
/// ```
pub const SIGNS: [SignMeaning; 24] = {
    use SignKind::*;
    use SignStrength::*;
    const fn sign(
        kind: SignKind,
        strength: SignStrength,
        words: &'static str,
        meaning: &'static str,
        source: &'static str,
    ) -> SignMeaning {
        SignMeaning {
            kind,
            strength,
            words,
            meaning,
            source,
        }
    }
    [
        sign(
            Eggs,
            Conclusive,
            "new cells with eggs",
            "a queen lays in this box",
            EGGS_2012,
        ),
        sign(
            LayingQueen,
            Conclusive,
            "the laying queen",
            "a queen lays in this box",
            EGGS_2012,
        ),
        sign(
            YoungWorkers,
            Supportive,
            "pale young bees",
            "brood emerges; some of it may still be the old queen's",
            COMMON_PRACTICE,
        ),
        sign(
            PollenIn,
            Supportive,
            "pollen carried in",
            "there is brood to feed, or the bees expect some",
            COMMON_PRACTICE,
        ),
        sign(
            ResinIn,
            Supportive,
            "resin carried in",
            "the bees build and defend this box",
            COMMON_PRACTICE,
        ),
        sign(
            SteadyStreams,
            Supportive,
            "steady streams of foragers",
            "the box has bees enough",
            COMMON_PRACTICE,
        ),
        sign(
            Guards,
            Supportive,
            "guards at the entrance",
            "the bees defend this box",
            COMMON_PRACTICE,
        ),
        sign(
            WasteOut,
            Supportive,
            "waste carried out",
            "the bees keep house; cells may have emerged",
            COMMON_PRACTICE,
        ),
        sign(
            MalesTurnedOut,
            Supportive,
            "many males turned out at the entrance on one day, out of season",
            "read as a sign of a mating, in whichever box",
            COMMON_PRACTICE,
        ),
        sign(
            MalesGathered,
            Weak,
            "males gathered outside",
            "not tied to a virgin queen inside",
            "Galindo-López & Kraus (Scaptotrigona mexicana; year and journal to be confirmed)",
        ),
        sign(
            BeesEnterOther,
            Neutral,
            "bees of one box going into the other",
            "usual in the first weeks while a pair stands side by side",
            COMMON_PRACTICE,
        ),
        sign(
            StoresCarriedBetween,
            Neutral,
            "stores carried from one box to the other",
            "usual in the first weeks while a pair stands side by side",
            COMMON_PRACTICE,
        ),
        sign(
            NoTraffic,
            Contrary,
            "no traffic on a good flying day",
            "few bees are left, or none",
            COMMON_PRACTICE,
        ),
        sign(
            NoEggs,
            Contrary,
            "no eggs",
            "after the range of the egg check it means no laying queen",
            EGGS_2012,
        ),
        sign(
            PhoridLarvae,
            Contrary,
            "larvae of phorid flies",
            "they can destroy a divided colony",
            "Rivera Hernández et al., Agro Productividad, art. 2651 (year not seen): phorid flies strike at transfers and divisions",
        ),
        sign(
            Moth,
            Contrary,
            "moth larvae or webs",
            "the box is not defended well",
            COMMON_PRACTICE,
        ),
        sign(
            Ants,
            Contrary,
            "ants inside",
            "the box is not defended well",
            COMMON_PRACTICE,
        ),
        sign(
            BoxEmpty,
            Conclusive,
            "an empty box",
            "the colony is lost",
            COMMON_PRACTICE,
        ),
        sign(
            Brood,
            Neutral,
            "brood",
            "the bees raise brood in this box; only eggs laid after the division show its queen",
            COMMON_PRACTICE,
        ),
        sign(
            QueenCells,
            Weak,
            "queen cells in a cocoon",
            "a queen may come of them: 39 of 95 cells of Tetragonula carbonaria gave one of mating age",
            "Bueno et al. 2022, Insectes Soc. 69:17–27",
        ),
        sign(
            CellsWithoutEggs,
            Neutral,
            "new cells without eggs",
            "cells go on being built and filled without a queen, so they prove nothing",
            "a page after a handbook (common practice, no source)",
        ),
        sign(
            Fights,
            Contrary,
            "fights at the entrance",
            "the colony is under attack: nothing is divided, opened or moved meanwhile",
            "Cunningham et al. 2014, Am. Nat. 184:777–786; Lau et al. 2022, Apidologie 53(4)",
        ),
        sign(
            Hoverflies,
            Contrary,
            "eggs or larvae of hoverflies",
            "they come in by open joints",
            COMMON_PRACTICE,
        ),
        sign(
            HiveBeetle,
            Contrary,
            "hive beetles or their larvae",
            "they breed in crushed pots and weak boxes",
            COMMON_PRACTICE,
        ),
    ]
};

impl SignKind {
    /// What it is worth.
    ///
    /// ```
    /// use apiary_almanac::record::{SignKind, SignStrength};
    /// // Eggs settle whether there is a queen; guards do not.
    /// assert_eq!(SignKind::Eggs.meaning().strength, SignStrength::Conclusive);
    /// assert_ne!(SignKind::Guards.meaning().strength, SignStrength::Conclusive);
    /// ```
    pub fn meaning(self) -> SignMeaning {
        // The table has a row for each kind; a test walks it.
        SIGNS[self as usize]
    }
}

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
        Sign { kind, which: None }
    }
}

impl Sign {
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

/// What was done and seen on a day.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct Record {
    /// The day.
    #[setters(skip)]
    pub date: NaiveDate,
    /// The task that was done, by its `id`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub task: Option<String>,
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
            task: None,
            signs: Vec::new(),
            counts: Vec::new(),
            net_weight_kg: None,
            note: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_has_each_kind_in_its_place() {
        for (index, sign) in SIGNS.iter().enumerate() {
            assert_eq!(sign.kind as usize, index);
            assert_eq!(sign.kind.meaning(), *sign);
            assert!(sign.source == COMMON_PRACTICE || sign.source.len() > 10);
        }
    }

    #[test]
    fn a_record_names_its_fields() {
        let text = r#"{"date":"2026-11-20","task":"egg-check","signs":[{"kind":"eggs",
            "which":"daughter"}],"note":"four cells"}"#;
        let record: Record = serde_json::from_str(text).unwrap();
        assert!(record.signs[0].is_at(Which::Daughter) && !record.signs[0].is_at(Which::Parent));
        let error = serde_json::from_str::<Record>(&text.replace("note", "remark")).unwrap_err();
        assert!(error.to_string().contains("remark"));
    }
}
