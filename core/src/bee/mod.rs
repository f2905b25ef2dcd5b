//! The bee: what it needs to fly and to raise brood, each number with unit, range and source.

mod profiles;

use derive_setters::Setters;
use getset::Getters;
use serde::Serialize;

use crate::error::{Error, LONGEST_TEXT, at_most};
use crate::light::LightThreshold;
use crate::number::Sourced;
use crate::wire;
use crate::wire::{FromNode, Node, Refusal, Shape};

pub use profiles::{bee_names, built_in};

/// The numbers of one kind of bee.
///
/// A number that has not been published for a species is taken from the generic bee of its size;
/// [`from_generic`](Bee::from_generic) names those.
#[derive(Debug, Clone, PartialEq, Serialize, Shape, Getters)]
#[getset(get = "pub")]
pub struct Bee {
    /// Short name, such as `generic_small` or `tetragonula_carbonaria`.
    #[getset(skip)]
    pub(crate) name: String,
    /// Name for people.
    #[getset(skip)]
    pub(crate) label: String,
    /// Air temperature below which foragers stay in, °C.
    pub(crate) flight_minimum_c: Sourced,
    /// Light below which foragers stay in: W/m² or lx, as `unit` says.
    pub(crate) flight_light: Sourced,
    /// Possible flight that makes a day a flying day, h.
    pub(crate) flying_day_h: Sourced,
    /// Rain of a day from which it no longer counts as a flying day, mm.
    pub(crate) rain_limit_mm: Sourced,
    /// Wind above which flight was seen to be restricted, m/s.
    pub(crate) wind_limit_m_s: Sourced,
    /// Distance from which half or a typical forager finds home, m.
    pub(crate) homing_typical_m: Sourced,
    /// Distance beyond which hardly any forager finds home, m.
    pub(crate) homing_limit_m: Sourced,
    /// From egg to new worker, days.
    pub(crate) worker_development_d: Sourced,
    /// Air temperature above which a hive needs full shade, °C.
    pub(crate) heat_shade_c: Sourced,
    /// Air temperature above which a hive should stand somewhere cool, °C.
    pub(crate) heat_limit_c: Sourced,
    /// Names of the numbers that were taken from a generic bee.
    pub(crate) from_generic: Vec<String>,
    /// Names of the numbers that the user set.
    pub(crate) overridden: Vec<String>,
}

/// A user's own bee: a built-in one to start from, and any number of its numbers.
///
/// TOML:
/// ```toml
/// based_on = "generic_small"
/// label = "Our black bees"
/// source = "own counts 2024 and 2025"
/// flight_minimum_c = 17.0
/// flight_light_lx = 900.0
/// ```
///
/// In JSON and TOML a plain name stands for the built-in bee without changes:
/// `"tetragonula_carbonaria"`.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct BeeOverrides {
    /// Built-in bee to start from; `generic_small` when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub based_on: Option<String>,
    /// Name for people.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// Where the numbers come from; "set by the user" when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// See [`Bee::flight_minimum_c`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flight_minimum_c: Option<f64>,
    /// See [`Bee::flight_light`]; in W/m². Give this or the next, not both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flight_light_w_m2: Option<f64>,
    /// See [`Bee::flight_light`]; in lx.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flight_light_lx: Option<f64>,
    /// See [`Bee::flying_day_h`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flying_day_h: Option<f64>,
    /// See [`Bee::rain_limit_mm`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_limit_mm: Option<f64>,
    /// See [`Bee::wind_limit_m_s`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_limit_m_s: Option<f64>,
    /// See [`Bee::homing_typical_m`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub homing_typical_m: Option<f64>,
    /// See [`Bee::homing_limit_m`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub homing_limit_m: Option<f64>,
    /// See [`Bee::worker_development_d`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worker_development_d: Option<f64>,
    /// See [`Bee::heat_shade_c`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat_shade_c: Option<f64>,
    /// See [`Bee::heat_limit_c`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat_limit_c: Option<f64>,
}

/// Reads a built-in bee's plain name, or a table of [`BeeOverrides`].
#[doc(hidden)]
pub fn name_or_table(node: &Node<'_>) -> Result<BeeOverrides, Refusal> {
    match node {
        Node::Text(name) => Ok(BeeOverrides::from(&**name)),
        _ => BeeOverrides::from_node(node),
    }
}

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

impl BeeOverrides {
    /// The user's value for a number of [`Bee::numbers_mut`].
    fn number(&self, field: &str) -> Option<f64> {
        match field {
            "flight_minimum_c" => self.flight_minimum_c,
            "flying_day_h" => self.flying_day_h,
            "rain_limit_mm" => self.rain_limit_mm,
            "wind_limit_m_s" => self.wind_limit_m_s,
            "homing_typical_m" => self.homing_typical_m,
            "homing_limit_m" => self.homing_limit_m,
            "worker_development_d" => self.worker_development_d,
            "heat_shade_c" => self.heat_shade_c,
            "heat_limit_c" => self.heat_limit_c,
            _ => None,
        }
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
        let mut overridden = Vec::new();
        if let Some(mut limit) = light {
            limit.source = source.to_owned();
            limit.check(light_field)?;
            bee.flight_light = limit;
            overridden.push(light_field.to_owned());
        }
        for (field, slot) in bee.numbers_mut() {
            if let Some(value) = own.number(field) {
                *slot = slot.overridden(field, value, source)?;
                overridden.push(field.to_owned());
            }
        }
        bee.overridden = overridden;
        bee.from_generic.retain(|name| {
            !bee.overridden
                .iter()
                .any(|own| own == name || own.starts_with(&format!("{name}_")))
        });
        if let Some(label) = &own.label {
            bee.label.clone_from(label);
        }
        bee.check_order(
            "heat_shade_c",
            &bee.heat_shade_c,
            "heat_limit_c",
            &bee.heat_limit_c,
        )?;
        bee.check_order(
            "homing_typical_m",
            &bee.homing_typical_m,
            "homing_limit_m",
            &bee.homing_limit_m,
        )?;
        Ok(bee)
    }

    /// Reads a user's bee from TOML (feature `toml`).
    ///
    /// # Errors
    /// `unreadable` with the path, and what [`Bee::with_overrides`] refuses;
    /// [`wire::line_of`] tells the line.
    #[cfg(feature = "toml")]
    pub fn from_toml(file: &str, text: &str) -> Result<Self, Error> {
        Bee::with_overrides(&wire::from_toml(file, text)?)
    }

    /// Reads a user's bee from JSON.
    ///
    /// # Errors
    /// As [`Bee::from_toml`].
    pub fn from_json(file: &str, text: &str) -> Result<Self, Error> {
        Bee::with_overrides(&wire::from_json(file, text)?)
    }

    /// Short name, such as `generic_small` or `tetragonula_carbonaria`.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Name for people.
    pub fn label(&self) -> &str {
        &self.label
    }

    /// The light at which this bee begins and ends its flights.
    pub fn light_threshold(&self) -> LightThreshold {
        if self.flight_light.unit == profiles::LUX {
            LightThreshold::IlluminanceLx(self.flight_light.value)
        } else {
            LightThreshold::IrradianceWM2(self.flight_light.value)
        }
    }

    /// Every number with its name, in a fixed order.
    pub fn parameters(&self) -> Vec<(&'static str, &Sourced)> {
        vec![
            ("flight_minimum_c", &self.flight_minimum_c),
            ("flight_light", &self.flight_light),
            ("flying_day_h", &self.flying_day_h),
            ("rain_limit_mm", &self.rain_limit_mm),
            ("wind_limit_m_s", &self.wind_limit_m_s),
            ("homing_typical_m", &self.homing_typical_m),
            ("homing_limit_m", &self.homing_limit_m),
            ("worker_development_d", &self.worker_development_d),
            ("heat_shade_c", &self.heat_shade_c),
            ("heat_limit_c", &self.heat_limit_c),
        ]
    }

    /// As [`Bee::parameters`], to be changed; the light limit is left out because its unit can
    /// change too.
    fn numbers_mut(&mut self) -> [(&'static str, &mut Sourced); 9] {
        [
            ("flight_minimum_c", &mut self.flight_minimum_c),
            ("flying_day_h", &mut self.flying_day_h),
            ("rain_limit_mm", &mut self.rain_limit_mm),
            ("wind_limit_m_s", &mut self.wind_limit_m_s),
            ("homing_typical_m", &mut self.homing_typical_m),
            ("homing_limit_m", &mut self.homing_limit_m),
            ("worker_development_d", &mut self.worker_development_d),
            ("heat_shade_c", &mut self.heat_shade_c),
            ("heat_limit_c", &mut self.heat_limit_c),
        ]
    }

    fn check_order(
        &self,
        low_name: &str,
        low: &Sourced,
        high_name: &str,
        high: &Sourced,
    ) -> Result<(), Error> {
        if low.value <= high.value {
            return Ok(());
        }
        Err(Error::Inconsistent {
            field: format!("{low_name}, {high_name}"),
            problem: format!(
                "{low_name} {} {} is above {high_name} {} {}",
                low.value, low.unit, high.value, high.unit
            ),
        })
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
