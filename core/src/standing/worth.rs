//! What a sign is worth by its day, its bee and its box, as data.

use chrono::{Days, NaiveDate};

use crate::number::COMMON_PRACTICE;
use crate::record::{SignKind, SignStrength};
use crate::wire::FromNode;
use serde::Serialize;

/// Why a sign is worth less here than in general, or more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Because {
    /// It is too early for it to tell.
    Early,
    /// It may come of brood from before the division.
    OlderBrood,
    /// Two boxes within 2 m share bees.
    Neighbours,
    /// It was not said at which box.
    BoxNotSaid,
    /// With or without a queen it is the same.
    EitherWay,
    /// So late it tells more.
    Late,
}

/// A day after the division.
#[derive(Debug, Clone, Copy)]
pub(super) enum Day {
    Division,
    /// From which eggs cannot be older than the division.
    EggsCount,
    /// From which signs at the entrance are not the work of bees that came along.
    SignsCount,
    /// From which a "no" counts.
    NoCounts,
    /// When the last brood from before the division has emerged.
    BroodEmerged,
    Never,
}

/// The days of one box.
pub(super) struct DaysOfBox {
    pub divided: NaiveDate,
    pub eggs_count: NaiveDate,
    pub signs_count: NaiveDate,
    pub no_counts: NaiveDate,
    pub brood_emerged: NaiveDate,
}

impl DaysOfBox {
    pub fn on(&self, day: Day) -> NaiveDate {
        match day {
            Day::Division => self.divided,
            Day::EggsCount => self.eggs_count,
            Day::SignsCount => self.signs_count,
            Day::NoCounts => self.no_counts,
            Day::BroodEmerged => self.brood_emerged,
            Day::Never => NaiveDate::MAX,
        }
    }
}

/// After a birth of bees their box is found by some days' grace: brood may be slow.
pub(super) const SLOW_BROOD: Days = Days::new(5);

/// One row: of these signs, from a day until before another.
pub(super) struct Worth {
    pub kinds: &'static [SignKind],
    pub from: Day,
    pub until: Day,
    /// Only where the two boxes stand within 2 m.
    pub near: bool,
    pub strength: SignStrength,
    pub because: Because,
    pub words: &'static str,
    pub source: &'static str,
}

const NEWIS_2023: &str = "Newis et al. 2023, Apidologie 54(4), doi 10.1007/s13592-023-01018-8, of splits of Tetragonula \
    carbonaria; for other bees common practice, no source";
const DRIFT: &str = "drift of Melipona fasciculata: Oliveira et al. 2021, Front. Ecol. Evol. 708178; within 2 m: Leão et al., \
    Authorea preprint 649162; for other bees common practice, no source";

/// The first row that holds counts; where none does, the sign is worth what [`SIGNS`](crate::record::SIGNS) says.
pub(super) const WORTHS: [Worth; 8] = {
    use SignKind::*;
    [
        Worth {
            kinds: &[Eggs],
            from: Day::Division,
            until: Day::EggsCount,
            near: false,
            strength: SignStrength::Weak,
            because: Because::Early,
            words: "so soon after the division they may be older than it",
            source: COMMON_PRACTICE,
        },
        Worth {
            kinds: &[NoEggs],
            from: Day::Division,
            until: Day::NoCounts,
            near: false,
            strength: SignStrength::Neutral,
            because: Because::Early,
            words: "too early to tell: a queen may still come",
            source: "Villas-Bôas 2012, Manual tecnológico: mel de abelhas sem ferrão, p. 52, for Melipona; for other bees \
                     Mounika et al. 2019, J. Entomol. Zool. Stud. 7(3):754–757",
        },
        Worth {
            kinds: &[NoTraffic],
            from: Day::Division,
            until: Day::NoCounts,
            near: false,
            strength: SignStrength::Neutral,
            because: Because::Early,
            words: "usual in the first weeks after a division, and no failure",
            source: NEWIS_2023,
        },
        Worth {
            kinds: &[ResinIn],
            from: Day::Division,
            until: Day::Never,
            near: false,
            strength: SignStrength::Weak,
            because: Because::EitherWay,
            words: "as usual again by day 10, so alone it proves nothing",
            source: NEWIS_2023,
        },
        Worth {
            kinds: &[YoungWorkers, WasteOut],
            from: Day::Division,
            until: Day::BroodEmerged,
            near: false,
            strength: SignStrength::Weak,
            because: Because::OlderBrood,
            words: "brood from before the division still emerges",
            source: COMMON_PRACTICE,
        },
        Worth {
            kinds: &[Brood],
            from: Day::BroodEmerged,
            until: Day::Never,
            near: false,
            strength: SignStrength::Supportive,
            because: Because::Late,
            words: "brood from before the division has emerged by now",
            source: COMMON_PRACTICE,
        },
        Worth {
            kinds: &[PollenIn, SteadyStreams, Guards],
            from: Day::Division,
            until: Day::SignsCount,
            near: false,
            strength: SignStrength::Weak,
            because: Because::Early,
            words: "so soon after the division it is the work of bees that came along",
            source: COMMON_PRACTICE,
        },
        Worth {
            kinds: &[PollenIn, SteadyStreams],
            from: Day::SignsCount,
            until: Day::Never,
            near: true,
            strength: SignStrength::Weak,
            because: Because::Neighbours,
            words: "boxes within 2 m share bees, so it says little of one of them",
            source: DRIFT,
        },
    ]
};

/// The row that holds for a sign of a day.
pub(super) fn worth(
    kind: SignKind,
    on: NaiveDate,
    days: &DaysOfBox,
    near: bool,
) -> Option<&'static Worth> {
    WORTHS.iter().find(|row| {
        row.kinds.contains(&kind)
            && (near || !row.near)
            && on >= days.on(row.from)
            && on < days.on(row.until)
    })
}

/// The source of what is said of boxes that stand near each other.
pub(super) const NEIGHBOURS: &str = DRIFT;
