//! What can be seen at a hive, and what each sign is worth in general.

use serde::Serialize;

use crate::number::COMMON_PRACTICE;
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
}
