//! The numbers of a plan, each with its source, and what a keeper may set.

use std::collections::BTreeMap;

use getset::Getters;
use serde::Serialize;

use crate::error::Error;
use crate::number::{COMMON_PRACTICE, Sourced, own_numbers};
use crate::wire::FromNode;

/// The numbers of a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Getters)]
#[getset(get = "pub")]
pub struct PlanSettings {
    /// Air colder than this is too cold to open a hive, °C.
    pub(crate) opening_min_c: Sourced,
    /// Air warmer than this is too hot to open a hive, °C.
    pub(crate) opening_max_c: Sourced,
    /// Shortest time within these bounds, while bees fly, that makes a day one for opening, h.
    pub(crate) opening_h: Sourced,
    /// Time with flight that is left between an opening and last flight, h: bees that flew up find
    /// home, and gaps are sealed before the night.
    pub(crate) flight_left_h: Sourced,
    /// Days after an opening in which there must be no heat, d.
    pub(crate) heat_ahead_d: Sourced,
    /// Rain of a day from which hives are not opened, mm.
    pub(crate) opening_rain_mm: Sourced,
    /// Days around the wanted date that are ranked, d.
    pub(crate) ranked_d: Sourced,
    /// Days after which a colony that was not ready is looked at again, d.
    pub(crate) look_again_d: Sourced,
    /// Days after a division from which eggs are those of the queen of that box: until then they
    /// may be older than the division, d.
    pub(crate) eggs_count_from_d: Sourced,
    /// Days after a division from which signs at the entrance count: until then they are the work
    /// of bees that came along, d.
    pub(crate) signs_count_from_d: Sourced,
}

impl Default for PlanSettings {
    fn default() -> Self {
        PlanSettings {
            opening_min_c: Sourced::new(
                20.0,
                "°C",
                10.0,
                30.0,
                "brood nests are kept at about 30 °C (review of 36 species), and open brood cools; \
                 the limit: common practice, no source",
            ),
            opening_max_c: Sourced::new(32.0, "°C", 22.0, 40.0, COMMON_PRACTICE),
            opening_h: Sourced::new(1.5, "h", 0.25, 8.0, COMMON_PRACTICE),
            flight_left_h: Sourced::new(1.0, "h", 0.0, 6.0, COMMON_PRACTICE),
            heat_ahead_d: Sourced::new(5.0, "d", 0.0, 14.0, COMMON_PRACTICE),
            opening_rain_mm: Sourced::new(1.0, "mm", 0.1, 50.0, COMMON_PRACTICE),
            ranked_d: Sourced::new(45.0, "d", 7.0, 120.0, COMMON_PRACTICE),
            look_again_d: Sourced::new(28.0, "d", 7.0, 180.0, COMMON_PRACTICE),
            eggs_count_from_d: Sourced::new(10.0, "d", 0.0, 30.0, COMMON_PRACTICE),
            signs_count_from_d: Sourced::new(
                20.0,
                "d",
                0.0,
                60.0,
                "the beginning of the egg check, Villas-Bôas 2012 (manual); as a limit for signs: \
                 common practice, no source",
            ),
        }
    }
}

/// A keeper's own choices and numbers; what is not given stays at its default.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode)]
#[serde(default)]
pub struct PlanOverrides {
    /// The options of the method's settings, by the names of the settings.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub choices: BTreeMap<String, String>,
    /// See [`PlanSettings::opening_min_c`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening_min_c: Option<f64>,
    /// See [`PlanSettings::opening_max_c`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening_max_c: Option<f64>,
    /// See [`PlanSettings::opening_h`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening_h: Option<f64>,
    /// See [`PlanSettings::flight_left_h`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flight_left_h: Option<f64>,
    /// See [`PlanSettings::heat_ahead_d`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub heat_ahead_d: Option<f64>,
    /// See [`PlanSettings::opening_rain_mm`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub opening_rain_mm: Option<f64>,
    /// See [`PlanSettings::ranked_d`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ranked_d: Option<f64>,
    /// See [`PlanSettings::look_again_d`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub look_again_d: Option<f64>,
    /// See [`PlanSettings::eggs_count_from_d`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eggs_count_from_d: Option<f64>,
    /// See [`PlanSettings::signs_count_from_d`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub signs_count_from_d: Option<f64>,
}

impl PlanSettings {
    /// The defaults with a keeper's own numbers.
    ///
    /// # Errors
    /// `out_of_range` for a number outside its range, `inconsistent` when hives may be opened at no
    /// temperature at all.
    pub fn with_overrides(own: &PlanOverrides) -> Result<Self, Error> {
        let mut settings = PlanSettings::default();
        settings.take_own(own)?;
        let (cold, hot) = (settings.opening_min_c.value, settings.opening_max_c.value);
        if cold >= hot {
            return Err(Error::Inconsistent {
                field: "opening_min_c, opening_max_c".to_owned(),
                problem: format!("opening_min_c {cold} °C is not below opening_max_c {hot} °C"),
            });
        }
        Ok(settings)
    }
}

own_numbers!(
    PlanSettings,
    PlanOverrides,
    10,
    [
        opening_min_c,
        opening_max_c,
        opening_h,
        flight_left_h,
        heat_ahead_d,
        opening_rain_mm,
        ranked_d,
        look_again_d,
        eggs_count_from_d,
        signs_count_from_d,
    ]
);
