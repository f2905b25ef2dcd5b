//! The numbers of a bee, each declared once: from one line follow its field of [`Bee`], that of a
//! user's own numbers, and its place in the list of all.

use derive_setters::Setters;
use getset::Getters;
use serde::Serialize;

use super::genera::{Region, Size};
use crate::error::Error;
use crate::number::Sourced;
use crate::wire::{FromNode, Shape};

macro_rules! bee_numbers {
    (
        of_every_bee { $($(#[$doc:meta])* $name:ident: $unit:expr, $range:expr;)+ }
        where_published { $($(#[$some_doc:meta])* $some:ident: $some_unit:expr, $some_range:expr;)+ }
    ) => {
        /// The numbers of one kind of bee.
        ///
        /// A number that has not been published for a species is taken from the class of its size;
        /// [`from_generic`](Bee::from_generic) names those. Some numbers have no value for a class:
        /// they are `None` where nothing was published for the species.
        #[derive(Debug, Clone, PartialEq, Serialize, Shape, Getters)]
        #[getset(get = "pub")]
        pub struct Bee {
            /// Short name, such as `generic_small` or `tetragonula_carbonaria`.
            #[getset(skip)]
            pub(crate) name: String,
            /// Name for people.
            #[getset(skip)]
            pub(crate) label: String,
            /// The class of its size.
            #[getset(skip)]
            pub(crate) size: Size,
            /// Whether its queens are raised in queen cells: not so in *Melipona*, whose virgin queens
            /// come from cells like those of workers.
            #[getset(skip)]
            pub(crate) builds_queen_cells: bool,
            /// Where it lives; a class lives where stingless bees do.
            pub(crate) lives_in: Vec<Region>,
            /// Light below which foragers stay in: W/m² or lx, as `unit` says.
            pub(crate) flight_light: Sourced,
            $($(#[$doc])* pub(crate) $name: Sourced,)+
            $(
                $(#[$some_doc])*
                #[serde(skip_serializing_if = "Option::is_none")]
                pub(crate) $some: Option<Sourced>,
            )+
            /// What else has been published of it, each with its source.
            pub(crate) notes: Vec<String>,
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
        /// `"tetragonula_carbonaria"`. An own `flight_minimum_c` is taken for `flight_earliest_c` too
        /// where that is not given, and an own `worker_development_d` for
        /// `worker_development_shortest_d`.
        #[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode, Setters)]
        #[setters(into, strip_option, prefix = "with_")]
        #[serde(default)]
        #[non_exhaustive]
        pub struct BeeOverrides {
            /// Built-in bee to start from; `generic_small` when not given.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub based_on: Option<String>,
            /// Name for people.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub label: Option<String>,
            /// Where the numbers come from; "set by the user" when not given.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub source: Option<String>,
            /// See [`Bee::flight_light`]; in W/m². Give this or the next, not both.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub flight_light_w_m2: Option<f64>,
            /// See [`Bee::flight_light`]; in lx.
            #[serde(skip_serializing_if = "Option::is_none")]
            pub flight_light_lx: Option<f64>,
            $(
                #[doc = concat!("See [`Bee::", stringify!($name), "`].")]
                #[serde(skip_serializing_if = "Option::is_none")]
                pub $name: Option<f64>,
            )+
            $(
                #[doc = concat!("See [`Bee::", stringify!($some), "`].")]
                #[serde(skip_serializing_if = "Option::is_none")]
                pub $some: Option<f64>,
            )+
        }

        impl BeeOverrides {
            /// The user's own numbers but for the light.
            pub(super) fn numbers(&self) -> impl Iterator<Item = (&'static str, f64)> {
                let all = [
                    $((stringify!($name), self.$name),)+
                    $((stringify!($some), self.$some),)+
                ];
                all.into_iter().filter_map(|(name, own)| Some((name, own?)))
            }
        }

        /// Names of the numbers that every bee has, but for the light.
        pub(super) const OF_EVERY_BEE: &[&str] = &[$(stringify!($name)),+];

        impl Bee {
            /// A bee that has no numbers yet.
            pub(super) fn blank(name: &str, label: &str, size: Size, lives_in: &[Region]) -> Self {
                Bee {
                    name: name.to_owned(),
                    label: label.to_owned(),
                    size,
                    builds_queen_cells: size != Size::Large,
                    lives_in: lives_in.to_vec(),
                    flight_light: super::light_lx(0.0),
                    $($name: Sourced::within(0.0, $unit, $range, ""),)+
                    $($some: None,)+
                    notes: Vec::new(),
                    from_generic: Vec::new(),
                    overridden: Vec::new(),
                }
            }

            /// Sets a number but for the light.
            pub(super) fn set(&mut self, name: &str, value: f64, source: &str) -> Result<(), Error> {
                match name {
                    $(stringify!($name) => {
                        self.$name = Sourced::within(value, $unit, $range, source);
                        self.$name.check(name)
                    })+
                    $(stringify!($some) => {
                        let number = Sourced::within(value, $some_unit, $some_range, source);
                        number.check(name)?;
                        self.$some = Some(number);
                        Ok(())
                    })+
                    _ => Err(Error::UnknownName {
                        field: "bee".to_owned(),
                        given: crate::error::clip(name),
                        allowed: OF_EVERY_BEE.join(", "),
                    }),
                }
            }

            /// Every number that is known, with its name, in a fixed order.
            pub fn parameters(&self) -> Vec<(&'static str, &Sourced)> {
                let mut list = vec![("flight_light", &self.flight_light)];
                $(list.push((stringify!($name), &self.$name));)+
                $(list.extend(self.$some.as_ref().map(|number| (stringify!($some), number)));)+
                list
            }

            /// One of the numbers that every bee has.
            pub(super) fn number_mut(&mut self, name: &str) -> Option<&mut Sourced> {
                match name {
                    "flight_light" => Some(&mut self.flight_light),
                    $(stringify!($name) => Some(&mut self.$name),)+
                    _ => None,
                }
            }
        }
    };
}

bee_numbers! {
    of_every_bee {
        /// Earliest published: air temperature from which single bees may be out, °C. For moves.
        flight_earliest_c: "°C", 5.0..=30.0;
        /// Usual: air temperature from which flight is counted on, °C. For flying days.
        flight_minimum_c: "°C", 5.0..=30.0;
        /// Possible flight that makes a day a flying day, h.
        flying_day_h: "h", 0.5..=12.0;
        /// Rain of a day from which it no longer counts as a flying day, mm.
        rain_limit_mm: "mm", 0.1..=200.0;
        /// Wind above which boxes are not carried, m/s. It keeps no bee in during the dividing season.
        wind_limit_m_s: "m/s", 1.0..=20.0;
        /// From egg to new worker, the shortest published, days.
        worker_development_shortest_d: "d", 20.0..=90.0;
        /// From egg to new worker, days; where several are published, the longest.
        worker_development_d: "d", 30.0..=90.0;
        /// Air temperature of a day above which a hive needs full shade, °C.
        heat_shade_c: "°C", 25.0..=45.0;
        /// Air temperature of a day above which a hive should stand somewhere cool, °C.
        heat_limit_c: "°C", 30.0..=50.0;
    }
    where_published {
        /// Distance from which half of the foragers that were let free did not come home, m.
        homing_typical_m: "m", 10.0..=5000.0;
        /// Distance from which nine in ten did not come home, m.
        homing_limit_m: "m", 50.0..=10_000.0;
        /// Farthest distance from which any came home, m: single bees may.
        homing_farthest_m: "m", 50.0..=20_000.0;
        /// From egg to young queen, days.
        queen_development_d: "d", 20.0..=90.0;
        /// How long a worker lives, days.
        worker_life_d: "d", 5.0..=365.0;
        /// Nest temperature below which brood is harmed, °C.
        brood_cold_c: "°C", 5.0..=35.0;
        /// Nest temperature above which brood is harmed, °C.
        brood_heat_c: "°C", 25.0..=45.0;
        /// Air temperature from which bees fan air through the entrance, °C.
        fanning_c: "°C", 20.0..=45.0;
        /// Air temperature below which adults are harmed within days, °C.
        adult_cold_c: "°C", 0.0..=30.0;
        /// Air temperature above which adults are harmed, °C.
        adult_heat_c: "°C", 30.0..=50.0;
        /// Minimum of the nights below which colonies are not divided, °C.
        division_night_c: "°C", 0.0..=25.0;
        /// Net weight from which a colony is divided, kg.
        ready_net_kg: "kg", 0.1..=50.0;
        /// From one division to the next, days.
        division_interval_d: "d", 7.0..=1000.0;
    }
}
