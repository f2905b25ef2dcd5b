//! The numbers of a plan, each with its source, and what a keeper may set.

use std::collections::BTreeMap;

use crate::error::Error;
use crate::number::{COMMON_PRACTICE, numbers};
use crate::way::StageOverrides;

numbers! {
    /// The numbers of a plan.
    pub struct PlanSettings {}

    /// A keeper's own choices and numbers; what is not given stays at its default.
    pub struct PlanOverrides {
        /// The options of the method's settings, by the names of the settings.
        #[serde(skip_serializing_if = "BTreeMap::is_empty")]
        pub choices: BTreeMap<String, String>,
        /// The keeper's own stages, for methods that move a box in stages.
        #[serde(skip_serializing_if = "Option::is_none")]
        pub stages: Option<StageOverrides>,
    }

    /// Air colder than this is too cold to open a hive, °C.
    opening_min_c: f64 = 20.0, "°C", 10.0..=30.0,
        "brood nests are kept at about 30 °C (review of 36 species), and open brood cools; \
        the limit: common practice, no source";

    /// Air warmer than this is too hot to open a hive, °C.
    opening_max_c: f64 = 32.0, "°C", 22.0..=40.0, COMMON_PRACTICE;

    /// Shortest time within these bounds, while bees fly, that makes a day one for opening, h.
    opening_h: f64 = 1.5, "h", 0.25..=8.0, COMMON_PRACTICE;

    /// Time with flight that is left between an opening and last flight, h: bees that flew up find
    /// home, and gaps are sealed before the night.
    flight_left_h: f64 = 1.0, "h", 0.0..=6.0, COMMON_PRACTICE;

    /// Time after sunrise before which no hive is opened, h: by then guards are up, most foragers
    /// are out, and there is light to see a queen by.
    opening_after_sunrise_h: f64 = 1.0, "h", 0.0..=4.0, COMMON_PRACTICE;

    /// Days after an opening in which there must be no heat, d.
    heat_ahead_d: f64 = 5.0, "d", 0.0..=14.0, COMMON_PRACTICE;

    /// Rain of a day from which hives are not opened, mm.
    opening_rain_mm: f64 = 1.0, "mm", 0.1..=50.0, COMMON_PRACTICE;

    /// No hive is opened on the day of a move, nor so many days before or after it, d: its bees learn
    /// a place.
    opening_from_move_d: f64 = 3.0, "d", 0.0..=14.0, COMMON_PRACTICE;

    /// No hive is opened in the first days after a division, d: gaps are sealed and brood is warmed
    /// anew.
    opening_after_division_d: f64 = 4.0, "d", 0.0..=14.0, COMMON_PRACTICE;

    /// Days that a next division is kept before the last safe date, where the wait since the
    /// last one leaves that choice, d.
    in_hand_d: f64 = 21.0, "d", 0.0..=60.0, COMMON_PRACTICE;

    /// Days around the wanted date that are ranked, d.
    ranked_d: f64 = 45.0, "d", 7.0..=120.0, COMMON_PRACTICE;

    /// Days after which a colony that was not ready is looked at again, d.
    look_again_d: f64 = 28.0, "d", 7.0..=180.0, COMMON_PRACTICE;

    /// Days after a division from which eggs are those of the queen of that box: until then they
    /// may be older than the division, d.
    eggs_count_from_d: f64 = 10.0, "d", 0.0..=30.0, COMMON_PRACTICE;

    /// Days after a division from which signs at the entrance count: until then they are the work
    /// of bees that came along, d.
    signs_count_from_d: f64 = 20.0, "d", 0.0..=60.0,
        "the beginning of the look for eggs in Melipona, Villas-Bôas 2012, Manual tecnológico: mel de \
        abelhas sem ferrão, p. 52; as a limit for signs: common practice, no source";
}

impl PlanSettings {
    /// The defaults with a keeper's own numbers.
    ///
    /// # Errors
    /// `out_of_range` for a number outside its range, `inconsistent` when hives may be opened at no
    /// temperature at all.
    ///
    /// ```
    /// use apiary_almanac::plan::{PlanOverrides, PlanSettings};
    /// let own = PlanOverrides::default().with_opening_min_c(22.0);
    /// assert_eq!(PlanSettings::with_overrides(&own)?.opening_min_c().value, 22.0);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
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
