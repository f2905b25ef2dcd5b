//! The numbers of a relocation, each with its source, and what a keeper may set.

use serde::Serialize;

use crate::bee::{Bee, Size};
use crate::error::Error;
use crate::number::{COMMON_PRACTICE, Sourced, numbers};
use crate::wait::{Wait, WaitUnit};
use crate::wire::FromNode;

const STAGES_1997: &str = "Nogueira-Neto 1997, Vida e criação de abelhas indígenas sem ferrão, p. 118: about 0.5 m a day, \
     adjusted by what is seen";
pub(super) const FAR_1997: &str =
    "Nogueira-Neto 1997, Vida e criação de abelhas indígenas sem ferrão, p. 118";

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
    ///
    /// ```
    /// use apiary_almanac::relocation::FarStay;
    /// assert_eq!(FarStay::default().wait().likely, 60.0);
    /// assert_eq!(FarStay::ThreeWeeks.wait().likely, 21.0);
    /// ```
    pub fn wait(self) -> Wait {
        match self {
            FarStay::SixtyDays => Wait::unchecked(WaitUnit::Days, [60.0; 3], FAR_1997),
            FarStay::ThreeWeeks => Wait::unchecked(WaitUnit::Days, [21.0; 3], COMMON_PRACTICE),
        }
    }
}

numbers! {
    /// The numbers of a relocation.
    pub struct RelocationSettings {
        /// How long it stays there.
        #[getset(skip)]
        far_stay: FarStay = FarStay::SixtyDays,
        /// How many stages; `None` for as few as their length allows.
        #[getset(skip)]
        stages: Option<u32> = None,
        /// From one stage to the next.
        between: Wait = Wait::unchecked(WaitUnit::FlyingDays, [2.0; 3], COMMON_PRACTICE),
    }

    /// A user's own numbers; what is not given stays at its default.
    pub struct RelocationOverrides {
        /// How long a hive stays at a far place.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub far_stay: Option<FarStay>,
        /// How many stages, in the place of their length.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub stages: Option<u32>,
        /// From one stage to the next, in the place of `flying_days_between`.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub between: Option<Wait>,
    }

    /// Length of a stage, m.
    stage_m: f64 = 0.5, "m", 0.1..=1.0, STAGES_1997;

    /// Flying days from one stage to the next, the day of the stage among them: a hive is moved at
    /// dawn, before that day's flight.
    flying_days_between: f64 = 2.0, "d", 1.0..=14.0, COMMON_PRACTICE;

    /// Distance from which staged moves are slow, m.
    slow_from_m: f64 = 10.0, "m", 1.0..=100.0, COMMON_PRACTICE;

    /// Longest distance for which staged moves are proposed, m.
    staged_up_to_m: f64 = 20.0, "m", 1.0..=100.0, COMMON_PRACTICE;

    /// How far away a colony of small bees is taken, at least, m: for a stay, and in one go.
    far_small_m: f64 = 1500.0, "m", 500.0..=20_000.0, FAR_1997;

    /// The same for medium and large bees, m.
    far_large_m: f64 = 3000.0, "m", 500.0..=20_000.0, FAR_1997;

    /// So near to a limit of distances, as a part of it, the other way is shown too.
    near_limit_share: f64 = 0.25, "share", 0.0..=0.9, COMMON_PRACTICE;
}

impl RelocationSettings {
    /// The defaults with a user's own numbers.
    ///
    /// # Errors
    /// `out_of_range` for a number outside its range, `inconsistent` for the two distances of
    /// staged moves, or of far moves, the wrong way round.
    ///
    /// ```
    /// use apiary_almanac::relocation::{RelocationOverrides, RelocationSettings};
    /// let own = RelocationOverrides::default().with_stage_m(0.3);
    /// assert_eq!(RelocationSettings::with_overrides(&own)?.stage_m().value, 0.3);
    /// // No bee finds a box again that was carried so far at once.
    /// assert!(RelocationSettings::with_overrides(&own.with_stage_m(5.0)).is_err());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn with_overrides(own: &RelocationOverrides) -> Result<Self, Error> {
        let mut settings = RelocationSettings::default();
        settings.far_stay = own.far_stay.unwrap_or(settings.far_stay);
        settings.take_own(own)?;
        let days = &settings.flying_days_between;
        settings.between = match &own.between {
            Some(between) => between.clone(),
            None => Wait::unchecked(WaitUnit::FlyingDays, [days.value; 3], &days.source),
        };
        settings.between.check()?;
        settings.stages = own.stages;
        if own.stages.is_some() && own.stage_m.is_some() {
            return Err(Error::Inconsistent {
                field: "stages, stage_m".to_owned(),
                problem: "the distance is given, so give the number of stages or their length"
                    .to_owned(),
            });
        }
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

    /// How far away a colony of this bee has to be taken, m: `far_small_m` for small bees, else
    /// `far_large_m`, and never less than where nine in ten do not come home, to one figure.
    ///
    /// ```
    /// use apiary_almanac::{bee, relocation::RelocationSettings};
    /// let settings = RelocationSettings::default();
    /// let far_m = |name| bee::built_in(name).map(|bee| settings.far_m(&bee).value);
    /// // Large bees come home from farther away.
    /// assert!(far_m("generic_large")? > far_m("generic_small")?);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn far_m(&self, bee: &Bee) -> Sourced {
        let manual = match bee.size() {
            Size::Small => &self.far_small_m,
            Size::Medium | Size::Large => &self.far_large_m,
        };
        match &bee.homing_limit_m {
            Some(limit) if one_figure(limit.value) > manual.value => Sourced {
                value: one_figure(limit.value),
                ..limit.clone()
            },
            _ => manual.clone(),
        }
    }
}

fn one_figure(metres: f64) -> f64 {
    let step = 10_f64.powf(metres.log10().floor());
    (metres / step).round() * step
}
