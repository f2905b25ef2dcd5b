//! Stages as one thing: how many, how long, the time between them, and the turn of the entrance.

use serde::Serialize;

use crate::error::Error;
use crate::wait::Wait;
use crate::wire::FromNode;

/// Most stages of one move.
pub const MOST_STAGES: u32 = 200;
/// Lengths that a stage can have, m.
const STAGE_M: std::ops::RangeInclusive<f64> = 0.1..=1.0;

/// A keeper's own stages, in the place of those of a method; what is not given stays as it is. With a
/// number alone, or with number and length, they reach as far as that makes; with a length alone as
/// far as those of the method.
///
/// JSON: `{"number": 4, "between": {"unit": "days", "earliest": 2, "likely": 2, "latest": 2, "source":
/// "own practice"}}`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode, derive_setters::Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
#[serde(default)]
pub struct StageOverrides {
    /// How many: 1 to 200.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub number: Option<u32>,
    /// Length of a stage, m: 0.1 to 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stage_m: Option<f64>,
    /// From one stage to the next.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub between: Option<Wait>,
    /// By how much the entrance is turned in all, degrees: −360 to 360, clockwise positive.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub total_turn_deg: Option<f64>,
}

/// Stages of equal length.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Stages {
    pub number: u32,
    pub stage_m: f64,
    pub total_turn_deg: Option<f64>,
}

impl Stages {
    /// The stages of a distance: as many as asked for, or as few as the length allows.
    ///
    /// # Errors
    /// `out_of_range` for a length or a turn, `inconsistent` for more than [`MOST_STAGES`] stages or a
    /// number that makes them too long or too short.
    pub fn of(
        distance_m: f64,
        longest_m: f64,
        number: Option<u32>,
        total_turn_deg: Option<f64>,
    ) -> Result<Self, Error> {
        let fields = if number.is_some() {
            "distance_m, stages"
        } else {
            "distance_m, stage_m"
        };
        // 4 m are eight stages of 0.5 m, whatever the last bit of the quotient says.
        let fewest = (distance_m / longest_m - 1e-9).ceil().max(1.0);
        let count = number.map_or(fewest, f64::from);
        if !(1.0..=f64::from(MOST_STAGES)).contains(&count) {
            return Err(Error::Inconsistent {
                field: fields.to_owned(),
                problem: format!(
                    "{distance_m} m in stages of {longest_m} m takes {count:.0} stages, at most {MOST_STAGES} \
                     can be planned; a far move and return is quicker"
                ),
            });
        }
        let stage_m = distance_m / count;
        if number.is_some() && !(STAGE_M.start() - 1e-9..=STAGE_M.end() + 1e-9).contains(&stage_m) {
            return Err(Error::Inconsistent {
                field: fields.to_owned(),
                problem: format!(
                    "{distance_m} m in {count:.0} stages are {stage_m:.2} m each; a stage is 0.1 to 1 m long"
                ),
            });
        }
        Stages {
            number: count as u32,
            stage_m,
            total_turn_deg,
        }
        .checked()
    }

    /// These with a keeper's own in their place.
    ///
    /// # Errors
    /// As [`Stages::of`].
    pub fn with(self, own: &StageOverrides) -> Result<Self, Error> {
        let total_m = f64::from(self.number) * self.stage_m;
        if let Some(stage_m) = own.stage_m {
            check_length(stage_m)?;
        }
        let turn = own.total_turn_deg.or(self.total_turn_deg);
        match (own.number, own.stage_m) {
            (None, None) => Stages {
                total_turn_deg: turn,
                ..self
            },
            (None, Some(stage_m)) => return Stages::of(total_m, stage_m, None, turn),
            (Some(number), stage_m) => Stages {
                number,
                stage_m: stage_m.unwrap_or(self.stage_m),
                total_turn_deg: turn,
            },
        }
        .checked()
    }

    /// How far the box has come after a stage, from 1.
    pub fn so_far(&self, number: u32) -> SoFar {
        let share = f64::from(number) / f64::from(self.number);
        SoFar {
            number,
            distance_m: f64::from(self.number) * self.stage_m * share,
            turned_deg: self.total_turn_deg.map(|turn| turn * share),
        }
    }

    /// A text with the length of the stages, and how far the box has come after one of them.
    pub fn fill(&self, text: &str, number: u32) -> String {
        let so_far = self.so_far(number);
        let turned = so_far.turned_deg.unwrap_or_default();
        text.replace("{stage_m}", &format!("{} m", rounded(self.stage_m)))
            .replace("{so_far}", &format!("{} m", rounded(so_far.distance_m)))
            .replace("{turned}", &format!("{}°", turned.round()))
    }

    fn checked(self) -> Result<Self, Error> {
        if !(1..=MOST_STAGES).contains(&self.number) {
            let allowed = format!("1 to {MOST_STAGES} stages");
            return Err(Error::out_of_range("stages.number", self.number, allowed));
        }
        if let Some(turn) = self.total_turn_deg
            && !(-360.0..=360.0).contains(&turn)
        {
            return Err(Error::out_of_range(
                "total_turn_deg",
                turn,
                "-360 to 360 degrees",
            ));
        }
        Ok(self)
    }
}

/// How far a box has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SoFar {
    /// The stage, from 1.
    pub number: u32,
    pub distance_m: f64,
    pub turned_deg: Option<f64>,
}

/// Whole centimetres are more than anybody measures.
fn rounded(metres: f64) -> f64 {
    (metres * 100.0).round() / 100.0
}

fn check_length(stage_m: f64) -> Result<(), Error> {
    if STAGE_M.contains(&stage_m) {
        Ok(())
    } else {
        Err(Error::out_of_range("stage_m", stage_m, "0.1 to 1 m"))
    }
}
