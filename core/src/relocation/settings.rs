//! The numbers of a relocation, each with its source, and what a keeper may set.

use getset::Getters;
use serde::Serialize;

use crate::bee::Bee;
use crate::error::Error;
use crate::number::{COMMON_PRACTICE, Sourced, own_numbers};
use crate::wait::{Wait, WaitUnit};
use crate::wire::FromNode;

const STAGES_1997: &str = "Nogueira-Neto 1997, p. 118: about 0.5 m a day, adjusted by what is seen";
const FAR_1997: &str = "Nogueira-Neto 1997, p. 118";

/// How long a colony stays far away before it comes back.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum FarStay {
    /// About 60 days (Nogueira-Neto 1997).
    #[default]
    SixtyDays,
    /// About 21 days (common practice, no source).
    ThreeWeeks,
}

impl FarStay {
    /// The stay as a waiting time.
    pub fn wait(self) -> Wait {
        match self {
            FarStay::SixtyDays => Wait::unchecked(WaitUnit::Days, [60.0; 3], FAR_1997),
            FarStay::ThreeWeeks => Wait::unchecked(WaitUnit::Days, [21.0; 3], COMMON_PRACTICE),
        }
    }
}

/// The numbers of a relocation.
#[derive(Debug, Clone, PartialEq, Serialize, Getters)]
#[getset(get = "pub")]
pub struct RelocationSettings {
    /// Length of a stage, m.
    pub(crate) stage_m: Sourced,
    /// Flying days from one stage to the next, the day of the stage among them: a hive is moved at
    /// dawn, before that day's flight.
    pub(crate) flying_days_between: Sourced,
    /// Distance from which staged moves are slow, m.
    pub(crate) slow_from_m: Sourced,
    /// Longest distance for which staged moves are proposed, m.
    pub(crate) staged_up_to_m: Sourced,
    /// How far away a colony is taken, at least, when its bees come home from at most this
    /// distance, m.
    pub(crate) far_small_m: Sourced,
    /// The same for bees of a wider range, m.
    pub(crate) far_large_m: Sourced,
    /// How long it stays there.
    #[getset(skip)]
    pub(crate) far_stay: FarStay,
}

impl Default for RelocationSettings {
    fn default() -> Self {
        RelocationSettings {
            stage_m: Sourced::new(0.5, "m", 0.1, 1.0, STAGES_1997),
            flying_days_between: Sourced::new(2.0, "d", 1.0, 14.0, COMMON_PRACTICE),
            slow_from_m: Sourced::new(10.0, "m", 1.0, 100.0, COMMON_PRACTICE),
            staged_up_to_m: Sourced::new(20.0, "m", 1.0, 100.0, COMMON_PRACTICE),
            far_small_m: Sourced::new(1500.0, "m", 500.0, 20_000.0, FAR_1997),
            far_large_m: Sourced::new(3000.0, "m", 500.0, 20_000.0, FAR_1997),
            far_stay: FarStay::default(),
        }
    }
}

/// A user's own numbers; what is not given stays at its default.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, FromNode)]
pub struct RelocationOverrides {
    /// See [`RelocationSettings::stage_m`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage_m: Option<f64>,
    /// See [`RelocationSettings::flying_days_between`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flying_days_between: Option<f64>,
    /// See [`RelocationSettings::slow_from_m`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slow_from_m: Option<f64>,
    /// See [`RelocationSettings::staged_up_to_m`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub staged_up_to_m: Option<f64>,
    /// See [`RelocationSettings::far_small_m`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub far_small_m: Option<f64>,
    /// See [`RelocationSettings::far_large_m`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub far_large_m: Option<f64>,
    /// See [`RelocationSettings::far_stay`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub far_stay: Option<FarStay>,
}

impl RelocationSettings {
    /// The defaults with a user's own numbers.
    ///
    /// # Errors
    /// `out_of_range` for a number outside its range, `inconsistent` for the two distances of
    /// staged moves, or of far moves, the wrong way round.
    pub fn with_overrides(own: &RelocationOverrides) -> Result<Self, Error> {
        let mut settings = RelocationSettings::default();
        settings.far_stay = own.far_stay.unwrap_or(settings.far_stay);
        settings.take_own(own)?;
        for (low_name, low, high_name, high) in [
            (
                "slow_from_m",
                &settings.slow_from_m,
                "staged_up_to_m",
                &settings.staged_up_to_m,
            ),
            (
                "far_small_m",
                &settings.far_small_m,
                "far_large_m",
                &settings.far_large_m,
            ),
        ] {
            if low.value > high.value {
                return Err(Error::Inconsistent {
                    field: format!("{low_name}, {high_name}"),
                    problem: format!(
                        "{low_name} {} m is above {high_name} {} m",
                        low.value, high.value
                    ),
                });
            }
        }
        Ok(settings)
    }

    /// How long a colony stays far away.
    pub const fn far_stay(&self) -> FarStay {
        self.far_stay
    }

    /// How far away a colony of this bee has to be taken, m: `far_small_m` for bees that come home
    /// from no farther than that, else `far_large_m`, and never less than their homing limit.
    pub fn far_m<'a>(&'a self, bee: &'a Bee) -> &'a Sourced {
        let limit_m = bee.homing_limit_m.value;
        if limit_m <= self.far_small_m.value {
            &self.far_small_m
        } else if limit_m <= self.far_large_m.value {
            &self.far_large_m
        } else {
            &bee.homing_limit_m
        }
    }
}

own_numbers!(
    RelocationSettings,
    RelocationOverrides,
    6,
    [
        stage_m,
        flying_days_between,
        slow_from_m,
        staged_up_to_m,
        far_small_m,
        far_large_m,
    ]
);
