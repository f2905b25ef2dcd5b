//! The bee: what it needs to fly and to raise brood, each number with unit, range and source.

mod genera;
mod names;
mod numbers;
mod profiles;
mod sources;

use crate::error::{Error, LONGEST_TEXT, at_most};
use crate::light::LightThreshold;
use crate::number::Sourced;
use crate::reason::Reason;
use crate::site::Site;
use crate::wire;
use crate::wire::{FromNode, Node, Refusal};

pub(crate) use genera::genus_is_known;
pub use genera::{Region, Size};
pub use names::built_in;
pub use numbers::{Bee, BeeOverrides};
pub use profiles::bee_names;

use profiles::light_lx;

/// Reads a built-in bee's plain name, or a table of [`BeeOverrides`].
#[doc(hidden)]
pub fn name_or_table(node: &Node<'_>) -> Result<BeeOverrides, Refusal> {
    match node {
        Node::Text(name) => Ok(BeeOverrides::from(&**name)),
        _ => BeeOverrides::from_node(node),
    }
}

/// A bee that is all of a text.
struct Given(BeeOverrides);

impl FromNode for Given {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        name_or_table(node).map(Given)
    }
}

/// A number, and the one that takes its value where that has none of its own: a limit that is known is
/// used for moves and for flying days alike.
const PARTNERS: [(&str, &str); 2] = [
    ("flight_minimum_c", "flight_earliest_c"),
    ("worker_development_d", "worker_development_shortest_d"),
];

impl From<&str> for BeeOverrides {
    /// A built-in bee by name, without changes.
    fn from(name: &str) -> Self {
        BeeOverrides::default().with_based_on(name)
    }
}

/// How [`name_or_table`](fn@name_or_table) is given.
#[cfg(feature = "shapes")]
pub(crate) mod name_or_table {
    use super::BeeOverrides;
    use crate::wire::shape::{Shape, Shapes, Type};

    pub(crate) fn shape(shapes: &mut Shapes) -> Type {
        Type::Either(vec![Type::Text, BeeOverrides::shape(shapes)])
    }
}

impl Bee {
    /// A bee with a user's numbers laid over a built-in one.
    ///
    /// # Errors
    /// `unknown_name` for `based_on`, `out_of_range` for a number outside its range,
    /// `inconsistent` when two numbers contradict each other.
    ///
    /// ```
    /// use apiary_almanac::{Bee, bee::BeeOverrides};
    /// let own = BeeOverrides::default().with_flight_minimum_c(17.0);
    /// let bee = Bee::with_overrides(&own)?;
    /// assert_eq!(bee.flight_minimum_c().value, 17.0);
    /// assert_eq!(bee.overridden(), &["flight_minimum_c"]);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn with_overrides(own: &BeeOverrides) -> Result<Self, Error> {
        for (field, text) in [("label", &own.label), ("source", &own.source)] {
            let length = text.as_ref().map_or(0, String::len);
            at_most(field, length, LONGEST_TEXT, "bytes")?;
        }
        let mut bee = built_in(own.based_on.as_deref().unwrap_or("generic_small"))?;
        let source = own.source.as_deref().unwrap_or("set by the user");
        let (light_field, light) = match (own.flight_light_w_m2, own.flight_light_lx) {
            (Some(_), Some(_)) => {
                return Err(Error::Inconsistent {
                    field: "flight_light_w_m2, flight_light_lx".to_owned(),
                    problem: "both are given; give the light limit once, in W/m² or in lx"
                        .to_owned(),
                });
            }
            (w_m2, None) => ("flight_light_w_m2", w_m2.map(profiles::light_w_m2)),
            (None, lx) => ("flight_light_lx", lx.map(profiles::light_lx)),
        };
        if let Some(mut limit) = light {
            limit.source = source.to_owned();
            limit.check(light_field)?;
            bee.flight_light = limit;
            bee.own("flight_light");
            bee.overridden.push(light_field.to_owned());
        }
        let numbers: Vec<_> = own.numbers().collect();
        for (name, value) in &numbers {
            let is_given = |partner: &str| numbers.iter().any(|(own, _)| *own == partner);
            bee.set_with_its_partner(name, *value, source, &is_given)?;
            bee.overridden.push((*name).to_owned());
        }
        if let Some(label) = &own.label {
            bee.label.clone_from(label);
        }
        bee.check_order(&[
            ("heat_shade_c", "heat_limit_c"),
            ("flight_earliest_c", "flight_minimum_c"),
            ("worker_development_shortest_d", "worker_development_d"),
            ("homing_typical_m", "homing_limit_m"),
            ("homing_limit_m", "homing_farthest_m"),
            ("brood_cold_c", "brood_heat_c"),
            ("adult_cold_c", "adult_heat_c"),
        ])?;
        Ok(bee)
    }

    /// Reads a user's bee from TOML (feature `toml`).
    ///
    /// # Errors
    /// `unreadable` with the path, and what [`Bee::with_overrides`] refuses;
    /// [`wire::line_of`] tells the line.
    ///
    /// ```
    /// use apiary_almanac::Bee;
    /// let text = "based_on = 'tetragonula_carbonaria'\nlabel = 'Our black bees'\nflight_minimum_c = 17";
    /// let ours = Bee::from_toml("bees.toml", text)?;
    /// assert_eq!((ours.label(), ours.usual_c()), ("Our black bees", 17.0));
    /// // A name that is no number of a bee is refused; nothing is passed over.
    /// assert!(Bee::from_toml("bees.toml", "flight_minimum = 17").is_err());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    #[cfg(feature = "toml")]
    pub fn from_toml(file: &str, text: &str) -> Result<Self, Error> {
        Bee::with_overrides(&wire::from_toml(file, text)?)
    }

    /// Reads a user's bee, or the name of a built-in one, from JSON.
    ///
    /// # Errors
    /// As [`Bee::from_toml`].
    ///
    /// ```
    /// use apiary_almanac::Bee;
    /// assert_eq!(Bee::from_json("bee.json", r#""melipona_bicolor""#)?.name(), "melipona_bicolor");
    /// let error = Bee::from_json("bee.json", r#"{"flight_minimum_c": 170}"#).unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("out_of_range", "flight_minimum_c"));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn from_json(file: &str, text: &str) -> Result<Self, Error> {
        let Given(own) = wire::from_json(file, text)?;
        Bee::with_overrides(&own)
    }

    /// Short name, such as `generic_small` or `tetragonula_carbonaria`.
    ///
    /// ```
    /// use apiary_almanac::bee::built_in;
    /// // What is written into a file: the same however it was typed.
    /// assert_eq!(built_in("T. carbonaria")?.name(), "tetragonula_carbonaria");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Name for people.
    ///
    /// ```
    /// use apiary_almanac::bee::built_in;
    /// assert_eq!(built_in("tetragonula_carbonaria")?.label(), "Tetragonula carbonaria");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn label(&self) -> &str {
        &self.label
    }

    /// The light at which this bee begins and ends its flights.
    ///
    /// ```
    /// use apiary_almanac::{Bee, LightThreshold, bee::BeeOverrides};
    /// let own = BeeOverrides::default().with_flight_light_lx(900.0);
    /// let threshold = Bee::with_overrides(&own)?.light_threshold();
    /// assert_eq!(threshold, LightThreshold::IlluminanceLx(900.0));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn light_threshold(&self) -> LightThreshold {
        if self.flight_light.unit == profiles::LUX {
            LightThreshold::IlluminanceLx(self.flight_light.value)
        } else {
            LightThreshold::IrradianceWM2(self.flight_light.value)
        }
    }

    /// The class of its size.
    ///
    /// ```
    /// use apiary_almanac::bee::{Size, built_in};
    /// assert_eq!(built_in("tetragonula_carbonaria")?.size(), Size::Small);
    /// assert_eq!(built_in("melipona_quadrifasciata")?.size(), Size::Large);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub const fn size(&self) -> Size {
        self.size
    }

    /// Whether its queens are raised in queen cells.
    ///
    /// ```
    /// use apiary_almanac::bee::built_in;
    /// // Whether it is of use to look for queen cells, or to give some.
    /// assert!(built_in("tetragonula_carbonaria")?.builds_queen_cells());
    /// assert!(!built_in("melipona_bicolor")?.builds_queen_cells());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub const fn builds_queen_cells(&self) -> bool {
        self.builds_queen_cells
    }

    /// Whether it is this species, or of this genus, both in small letters.
    pub(crate) fn is_of(&self, name: &str) -> bool {
        let rest = self.name.strip_prefix(name);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('_'))
    }

    /// How long a box without a queen lives, days: the brood that it was left with emerges, and the last
    /// workers live out their lives. `None` where the life of the workers is not published; what is published
    /// is a mean for some species and a maximum for others.
    ///
    /// ```
    /// use apiary_almanac::{Bee, bee::BeeOverrides};
    /// let own = BeeOverrides::default().with_worker_development_d(50.0).with_worker_life_d(40.0);
    /// assert_eq!(Bee::with_overrides(&own)?.queenless_life_d(), Some(90.0));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn queenless_life_d(&self) -> Option<f64> {
        let life = self.worker_life_d.as_ref()?;
        Some(self.worker_development_d.value + life.value)
    }

    /// The air of a day above which its hives should stand somewhere cool: the lower of that for hives and
    /// that which harms its bees.
    ///
    /// ```
    /// use apiary_almanac::{Bee, bee::BeeOverrides};
    /// // Hives may stand in up to 40 °C, but these bees come to harm at 38 °C.
    /// let own = BeeOverrides::default().with_heat_limit_c(40.0).with_adult_heat_c(38.0);
    /// assert_eq!(Bee::with_overrides(&own)?.heat_limit().value, 38.0);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn heat_limit(&self) -> &Sourced {
        match &self.adult_heat_c {
            Some(limit) if limit.value < self.heat_limit_c.value => limit,
            _ => &self.heat_limit_c,
        }
    }

    /// The air of a day above which its entrance is never closed: the lowest of what is known of fanning
    /// and of the heat that harms brood and bees, or else the heat that calls for shade.
    ///
    /// ```
    /// use apiary_almanac::bee::built_in;
    /// // Bees that fan from 27 °C on must be able to.
    /// let itama = built_in("heterotrigona_itama")?;
    /// assert_eq!(itama.closed_limit().value, 27.0);
    /// assert!(itama.closed_limit().value < itama.heat_limit().value);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn closed_limit(&self) -> &Sourced {
        let known = [&self.fanning_c, &self.brood_heat_c, &self.adult_heat_c];
        let known = known.into_iter().flatten();
        known.fold(&self.heat_shade_c, |lowest, one| {
            if one.value < lowest.value {
                one
            } else {
                lowest
            }
        })
    }

    /// Air temperature from which single bees may be out, °C: for moves.
    ///
    /// ```
    /// use apiary_almanac::bee::built_in;
    /// // Borges & Blochtein 2005: single bees at 13.7 °C.
    /// let marginata = built_in("melipona_marginata")?;
    /// assert_eq!(marginata.earliest_c(), 13.7);
    /// assert!(marginata.earliest_c() < marginata.usual_c());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn earliest_c(&self) -> f64 {
        self.flight_earliest_c.value
    }

    /// Air temperature from which flight is counted on, °C: for flying days.
    ///
    /// ```
    /// use apiary_almanac::bee::built_in;
    /// // Heard & Hendrikz 1993: 18 °C.
    /// assert_eq!(built_in("tetragonula_carbonaria")?.usual_c(), 18.0);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn usual_c(&self) -> f64 {
        self.flight_minimum_c.value
    }

    /// Why this bee, or any stingless bee, does not live at a site; `None` where it may.
    ///
    /// ```
    /// use apiary_almanac::{Site, bee};
    /// let helsinki = Site::new(60.2, 24.9, 20.0, "Europe/Helsinki")?;
    /// let small = bee::built_in("generic_small")?;
    /// assert_eq!(small.not_at_home(&helsinki).ok_or("home")?.code, "caution_no_stingless_bees");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn not_at_home(&self, site: &Site) -> Option<Reason> {
        genera::not_at_home(&self.lives_in, site)
    }

    /// A number that is no longer of the class.
    fn own(&mut self, name: &str) {
        self.from_generic.retain(|borrowed| borrowed != name);
    }

    /// Sets a number, and the one that goes by it unless that is given or known otherwise.
    fn set_with_its_partner(
        &mut self,
        name: &str,
        value: f64,
        source: &str,
        is_given: &dyn Fn(&str) -> bool,
    ) -> Result<(), Error> {
        self.set(name, value, source)?;
        self.own(name);
        for (_, partner) in PARTNERS.iter().filter(|(first, _)| *first == name) {
            if !is_given(partner) {
                self.set(partner, value, source)?;
                self.own(partner);
            }
        }
        Ok(())
    }

    fn check_order(&self, pairs: &[(&str, &str)]) -> Result<(), Error> {
        let numbers = self.parameters();
        let find = |wanted: &str| numbers.iter().find(|(name, _)| *name == wanted);
        for (low_name, high_name) in pairs {
            let (Some((_, low)), Some((_, high))) = (find(low_name), find(high_name)) else {
                continue;
            };
            if low.value > high.value {
                return Err(Error::Inconsistent {
                    field: format!("{low_name}, {high_name}"),
                    problem: format!(
                        "{low_name} {} {} is above {high_name} {} {}",
                        low.value, low.unit, high.value, high.unit
                    ),
                });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::number::COMMON_PRACTICE;

    #[test]
    fn every_built_in_number_is_in_range_and_sourced() {
        for name in bee_names() {
            let bee = built_in(name).unwrap();
            for (field, number) in bee.parameters() {
                number.check(field).unwrap();
                assert!(number.source.len() > 10, "{name} {field} has no source");
                assert!(
                    number.source.contains(COMMON_PRACTICE)
                        || number.source.chars().any(|c| c.is_ascii_digit()),
                    "{name} {field}: a source needs a year or the words for common practice"
                );
            }
        }
    }

    #[test]
    fn a_species_names_what_it_borrows() {
        let bee = built_in("melipona_subnitida").unwrap();
        assert_eq!(bee.flight_minimum_c.value, 17.0);
        assert!(
            bee.from_generic
                .contains(&"worker_development_d".to_owned())
        );
        assert!(!bee.from_generic.contains(&"flight_minimum_c".to_owned()));
        assert!(
            bee.flight_light.source.starts_with("generic_large:"),
            "{}",
            bee.flight_light.source
        );
    }

    /// Streinzer, Huber & Spaethe 2016 (0.1 to 79 lx), Hilário et al. 2000 and 2001 (11 and 14 °C), Halcroft's
    /// thesis (20 °C), Borges & Blochtein 2005 (13.7 to 14.3 °C).
    #[test]
    fn classes_have_an_earliest_and_a_usual_flight() {
        for (name, lx, earliest_c, usual_c) in [
            ("generic_small", 79.0, 14.0, 20.0),
            ("generic_medium", 0.1, 13.0, 17.0),
            ("generic_large", 0.1, 11.0, 14.0),
        ] {
            let bee = built_in(name).unwrap();
            assert_eq!(bee.light_threshold(), LightThreshold::IlluminanceLx(lx));
            assert_eq!((bee.earliest_c(), bee.usual_c()), (earliest_c, usual_c));
        }
    }

    /// Silva & Gimenes 2014, Sociobiology 61:547–553: its first bees come out with the sunrise, and light leads.
    #[test]
    fn bees_that_fly_at_sunrise_do_not_fly_before_the_early_light() {
        let bee = built_in("nannotrigona_testaceicornis").unwrap();
        let light_deg = bee.light_threshold().sun_altitude_deg().unwrap();
        assert!(
            light_deg < crate::sun::LEVEL_SUNRISE_ALTITUDE_DEG,
            "{light_deg}"
        );
    }

    /// Heard & Hendrikz 1993: 18 °C and 15 W/m²; Halcroft's thesis: 20 °C; Hilário et al. 2001: 14 and 15 °C,
    /// watched from 08:00 only; Maia-Silva et al. 2014: pollen at 17 °C.
    #[test]
    fn a_limit_of_a_species_holds_for_both_uses_unless_it_is_an_upper_bound() {
        for (name, earliest_c, usual_c) in [
            ("tetragonula_carbonaria", 18.0, 18.0),
            ("austroplebeia_australis", 20.0, 20.0),
            ("plebeia_pugnax", 14.0, 15.0),
            ("melipona_subnitida", 11.0, 17.0),
            ("melipona_quadrifasciata", 11.3, 12.0),
        ] {
            let bee = built_in(name).unwrap();
            assert_eq!(
                (bee.earliest_c(), bee.usual_c()),
                (earliest_c, usual_c),
                "{name}"
            );
        }
        let pugnax = built_in("plebeia_pugnax").unwrap();
        assert!(pugnax.flight_minimum_c.source.contains("upper bound"));
        assert!(
            pugnax
                .from_generic
                .contains(&"flight_earliest_c".to_owned())
        );
        let own = BeeOverrides {
            flight_minimum_c: Some(16.0),
            worker_development_d: Some(50.0),
            ..Default::default()
        };
        let bee = Bee::with_overrides(&own).unwrap();
        assert_eq!((bee.earliest_c(), bee.usual_c()), (16.0, 16.0));
        assert_eq!(bee.worker_development_shortest_d.value, 50.0);
    }

    #[test]
    fn every_species_has_a_genus_and_at_least_one_part_of_the_world() {
        for name in bee_names() {
            let bee = built_in(name).unwrap();
            assert_eq!(bee.name, name);
            assert!(
                !bee.lives_in.is_empty() && !bee.label.contains('_'),
                "{name}"
            );
            assert_eq!(bee.builds_queen_cells, bee.size != Size::Large, "{name}");
            let numbers = bee.parameters();
            let unknown = |borrowed: &&String| !numbers.iter().any(|(name, _)| name == borrowed);
            assert_eq!(bee.from_generic.iter().find(unknown), None, "{name}");
        }
    }

    #[test]
    fn names_are_found_as_people_write_them() {
        for (written, name) in [
            ("Tetragonula carbonaria", "tetragonula_carbonaria"),
            (" TETRAGONULA-CARBONARIA ", "tetragonula_carbonaria"),
            ("T. carbonaria", "tetragonula_carbonaria"),
            (
                "Melipona quadrifasciata anthidioides",
                "melipona_quadrifasciata",
            ),
            ("Melipona", "melipona"),
            ("Generic Medium", "generic_medium"),
        ] {
            assert_eq!(built_in(written).unwrap().name, name, "{written}");
        }
        assert_eq!(built_in("scaptotrigona").unwrap().size, Size::Medium);
        let said = |written: &str| built_in(written).unwrap_err().to_string();
        let slip = said("Tetragonula carbonara");
        assert!(
            slip.contains("tetragonula_carbonaria, if that is meant"),
            "{slip}"
        );
        let other = said("Melipona asilvai");
        assert!(
            other.contains("generic_large, for a species like others of Melipona"),
            "{other}"
        );
        let none = said("Bombus terrestris");
        assert!(none.contains("generic_small, generic_medium"), "{none}");
    }

    /// Michener, The Bees of the World (from memory): about 30° N to 36° S, none native to Europe, New Zealand
    /// or north of Mexico.
    #[test]
    fn places_without_stingless_bees_are_known() {
        let says = |bee: &str, latitude_deg, longitude_deg, zone: &str| {
            let site = Site::new(latitude_deg, longitude_deg, 10.0, zone).unwrap();
            let reason = built_in(bee).unwrap().not_at_home(&site);
            reason.map(|reason| reason.code.into_owned())
        };
        for (latitude_deg, longitude_deg, zone) in [
            (60.2, 24.9, "Europe/Helsinki"),
            (41.9, 12.5, "Europe/Rome"),
            (-36.8, 174.8, "Pacific/Auckland"),
            (40.7, -74.0, "America/New_York"),
        ] {
            assert_eq!(
                says("generic_small", latitude_deg, longitude_deg, zone).unwrap(),
                "caution_no_stingless_bees"
            );
        }
        for (bee, latitude_deg, longitude_deg, zone) in [
            ("tetragonula_carbonaria", -28.81, 153.28, "Australia/Sydney"),
            ("melipona_beecheii", 20.97, -89.62, "America/Merida"),
            ("generic_large", 0.32, 32.58, "Africa/Kampala"),
            ("tetragonula_laeviceps", 14.17, 121.24, "Asia/Manila"),
        ] {
            assert_eq!(says(bee, latitude_deg, longitude_deg, zone), None, "{bee}");
        }
        assert_eq!(
            says("melipona_beecheii", -28.81, 153.28, "Australia/Sydney").unwrap(),
            "caution_not_native"
        );
    }

    #[test]
    fn overrides_from_toml_and_json_agree() {
        let toml = "based_on = \"generic_large\"\nflight_light_w_m2 = 4\nsource = \"own counts\"";
        let json = r#"{"based_on":"generic_large","flight_light_w_m2":4,"source":"own counts"}"#;
        let bee = Bee::from_toml("bee.toml", toml).unwrap();
        assert_eq!(bee, Bee::from_json("bee.json", json).unwrap());
        assert_eq!(bee.light_threshold(), LightThreshold::IrradianceWM2(4.0));
        assert_eq!(bee.flight_light.source, "own counts");
        assert_eq!(bee.overridden, ["flight_light_w_m2"]);
    }

    #[test]
    fn bad_overrides_are_refused() {
        let code = |text: &str| {
            let error = Bee::from_toml("bee.toml", text).unwrap_err();
            (error.code(), error.field().to_owned())
        };
        assert_eq!(
            code("flight_minimum_c = 99"),
            ("out_of_range", "flight_minimum_c".into())
        );
        assert_eq!(
            code("flight_minimum_c = nan"),
            ("out_of_range", "flight_minimum_c".into())
        );
        assert_eq!(code("based_on = \"bumble\"").0, "unknown_name");
        assert_eq!(code("flight_minimum_c = \"warm\"").0, "unreadable");
        assert_eq!(code("wingspan_mm = 4").0, "unreadable");
        assert_eq!(code("heat_shade_c = 42").0, "inconsistent");
        assert_eq!(
            code("flight_light_lx = 9\nflight_light_w_m2 = 9").0,
            "inconsistent"
        );
        let message = Bee::from_toml("bee.toml", "wingspan_mm = 4")
            .unwrap_err()
            .to_string();
        assert!(message.contains("wingspan_mm"), "{message}");
    }
}
