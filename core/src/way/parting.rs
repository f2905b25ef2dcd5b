//! A new colony that was parted from its parent, until it stands beside it: the numbers.

use super::stages::Stages;
use crate::error::Error;
use crate::number::{COMMON_PRACTICE, numbers};
use crate::wait::{Wait, WaitUnit};

numbers! {
    /// How a new box gets from the parent's entrance to a place beside it. All of it is common
    /// practice, no source.
    pub struct Parting {
        /// How long the new box stands before the parent's entrance.
        before_entrance: Wait = wait(WaitUnit::Days, [6.0, 7.0, 8.0]),
        /// From one stage to the next.
        between_stages: Wait = wait(WaitUnit::FlyingDays, [2.0; 3]),
        /// How long the pair then stands side by side.
        side_by_side: Wait = wait(WaitUnit::Days, [14.0, 21.0, 28.0]),
    }

    /// A keeper's own numbers and waiting times; what is not given stays as it is in the preset. With
    /// a number of stages and no distance the box comes as far as so many stages make.
    pub struct PartingOverrides {
        /// See [`Parting::before_entrance`].
        #[serde(skip_serializing_if = "Option::is_none")]
        pub before_entrance: Option<Wait>,
        /// See [`Parting::between_stages`].
        #[serde(skip_serializing_if = "Option::is_none")]
        pub between_stages: Option<Wait>,
        /// See [`Parting::side_by_side`].
        #[serde(skip_serializing_if = "Option::is_none")]
        pub side_by_side: Option<Wait>,
        /// How many stages.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub stages: Option<u32>,
        /// By how much the entrance is turned in all, degrees: −360 to 360, clockwise positive.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub total_turn_deg: Option<f64>,
    }

    /// How far from the parent the new box comes to stand, m.
    apart_m: f64 = 1.0, "m", 0.3..=5.0, COMMON_PRACTICE;
    /// Length of a stage, m.
    stage_m: f64 = 0.5, "m", 0.1..=1.0, COMMON_PRACTICE;
}

fn wait(unit: WaitUnit, counts: [f64; 3]) -> Wait {
    Wait::unchecked(unit, counts, COMMON_PRACTICE)
}

/// The preset for a colony parted from its parent: about 7 days before the parent's entrance, then
/// stages of two flying days each to about 1 m, then 14 to 28 days side by side (common practice, no
/// source). An eduction has the same.
///
/// ```
/// use apiary_almanac::relocation::parted_from_parent;
/// let parting = parted_from_parent();
/// assert_eq!(parting.before_entrance().likely, 7.0);
/// assert_eq!(parting.side_by_side().latest, 28.0);
/// ```
pub fn parted_from_parent() -> Parting {
    Parting::default()
}

impl Parting {
    /// The preset with a keeper's own numbers, and its stages.
    ///
    /// # Errors
    /// `out_of_range` and `inconsistent` for numbers and waiting times that cannot be.
    pub(crate) fn with_overrides(own: &PartingOverrides) -> Result<(Self, Stages), Error> {
        let mut parting = parted_from_parent();
        parting.take_own(own)?;
        for (slot, given) in [
            (&mut parting.before_entrance, &own.before_entrance),
            (&mut parting.between_stages, &own.between_stages),
            (&mut parting.side_by_side, &own.side_by_side),
        ] {
            if let Some(wait) = given {
                wait.check()?;
                slot.clone_from(wait);
            }
        }
        if let (Some(number), None) = (own.stages, own.apart_m) {
            let apart_m = f64::from(number) * parting.stage_m.value;
            let field = "stages, stage_m: apart_m";
            parting.apart_m = parting
                .apart_m
                .overridden(field, apart_m, "set by the user")?;
        }
        let (apart_m, stage_m) = (parting.apart_m.value, parting.stage_m.value);
        let stages = Stages::of(apart_m, stage_m, own.stages, own.total_turn_deg)?;
        Ok((parting, stages))
    }
}
