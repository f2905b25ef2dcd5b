//! The built-in bees. To add one: a name in [`NAMES`] and a block in [`built_in`] with what has
//! been published for it; everything else comes from a generic bee.

use super::Bee;
use crate::error::Error;
use crate::number::{COMMON_PRACTICE, Sourced};

pub(super) const LUX: &str = "lx";
const LIGHT_W_M2: &str = "flight_light_w_m2";

const NAMES: [&str; 9] = [
    "generic_small",
    "generic_large",
    "austroplebeia_australis",
    "heterotrigona_itama",
    "melipona_bicolor",
    "melipona_quadrifasciata",
    "melipona_subnitida",
    "plebeia_pugnax",
    "tetragonula_carbonaria",
];

const HEARD_1993: &str = "Heard & Hendrikz 1993, Aust. J. Zool. 41:343";
const MAIA_SILVA_2014: &str = "Maia-Silva et al. 2014, Sociobiology 61(4): environmental windows";
const STREINZER_2016: &str = "Streinzer et al. 2016, J. Comp. Physiol. A 202:643";
const HOMING_2017: &str = "Smith et al. 2017, Austral Entomology 56:50 (from memory)";
const COUNCIL: &str = "Ku-ring-gai Council (NSW), guidance page for native bee hives: shade above 38 °C, a cool \
     place above 40 °C";

/// Names of the built-in bees.
///
/// ```
/// use apiary_almanac::bee;
/// for name in bee::bee_names() {
///     println!("{name}: {}", bee::built_in(name)?.label());
/// }
/// # assert!(bee::bee_names().contains(&"generic_small"));
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn bee_names() -> &'static [&'static str] {
    &NAMES
}

/// A built-in bee by name.
///
/// # Errors
/// `unknown_name`, with the names that are known.
///
/// ```
/// let bee = apiary_almanac::bee::built_in("tetragonula_carbonaria")?;
/// assert_eq!(bee.flight_minimum_c().value, 18.0);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn built_in(name: &str) -> Result<Bee, Error> {
    let bee = match name {
        "generic_small" => generic_small(),
        "generic_large" => generic_large(),
        "austroplebeia_australis" => species(
            name,
            "Austroplebeia australis",
            generic_small(),
            &[(
                "worker_development_d",
                55.0,
                "Insectes Sociaux 2013: 55 d at about 27 °C",
            )],
        ),
        "heterotrigona_itama" => species(
            name,
            "Heterotrigona itama",
            generic_small(),
            &[(
                "homing_limit_m",
                500.0,
                "Benedick et al. 2021, Pertanika: forages within 500 m",
            )],
        ),
        "melipona_bicolor" => species(
            name,
            "Melipona bicolor",
            generic_large(),
            &[(
                "flight_minimum_c",
                11.0,
                "Rev. Bras. Biol. 2000 (S0034-71082000000200014): lowest temperature of exits",
            )],
        ),
        "melipona_quadrifasciata" => species(
            name,
            "Melipona quadrifasciata",
            generic_large(),
            &[
                ("flight_minimum_c", 12.0, MAIA_SILVA_2014),
                (
                    "worker_development_d",
                    40.0,
                    "Kerr 1996: worker 40 d, queen 37 d",
                ),
            ],
        ),
        "melipona_subnitida" => species(
            name,
            "Melipona subnitida",
            generic_large(),
            &[("flight_minimum_c", 17.0, MAIA_SILVA_2014)],
        ),
        "plebeia_pugnax" => species(
            name,
            "Plebeia pugnax",
            generic_small(),
            &[(
                "flight_minimum_c",
                14.0,
                "Hilário et al. 2001, Rev. Bras. Biol. 61(2): first exits; all colonies at 15 °C",
            )],
        ),
        "tetragonula_carbonaria" => species(
            name,
            "Tetragonula carbonaria",
            generic_small(),
            &[
                ("flight_minimum_c", 18.0, HEARD_1993),
                (LIGHT_W_M2, 15.0, HEARD_1993),
                ("homing_typical_m", 333.0, HOMING_2017),
                ("homing_limit_m", 712.0, HOMING_2017),
            ],
        ),
        _ => {
            return Err(Error::UnknownName {
                field: "bee".to_owned(),
                given: crate::error::clip(name),
                allowed: NAMES.join(", "),
            });
        }
    };
    Ok(bee)
}

pub(super) fn light_w_m2(value: f64) -> Sourced {
    Sourced::new(value, "W/m²", 0.5, 500.0, "")
}

pub(super) fn light_lx(value: f64) -> Sourced {
    Sourced::new(value, LUX, 0.01, 50_000.0, "")
}

fn generic_small() -> Bee {
    Bee {
        name: "generic_small".to_owned(),
        label: "small-bodied stingless bee (about 4 mm)".to_owned(),
        flight_minimum_c: Sourced::new(
            18.0,
            "°C",
            5.0,
            30.0,
            "that of Tetragonula carbonaria, Heard & Hendrikz 1993, Aust. J. Zool. 41:343; small \
             species start at up to 20.8 °C (Teixeira & Campos 2005, Rev. Bras. Zoociências 7(2))",
        ),
        flight_light: Sourced {
            source: format!("that of Tetragonula carbonaria, {HEARD_1993}"),
            ..light_w_m2(15.0)
        },
        flying_day_h: Sourced::new(3.0, "h", 0.5, 12.0, COMMON_PRACTICE),
        rain_limit_mm: Sourced::new(5.0, "mm", 0.1, 200.0, COMMON_PRACTICE),
        wind_limit_m_s: Sourced::new(
            5.5,
            "m/s",
            1.0,
            20.0,
            "Hilário et al. 2007, Biota Neotrop. 7(3):225 (Plebeia remota, winter only)",
        ),
        homing_typical_m: Sourced::new(
            240.0,
            "m",
            10.0,
            5000.0,
            "Wayo et al. 2022: half of Tetragonula fuscobalteata did not return from 240 m",
        ),
        homing_limit_m: Sourced::new(
            712.0,
            "m",
            50.0,
            10_000.0,
            "that of Tetragonula carbonaria, Smith et al. 2017, Austral Entomology 56:50 (from \
             memory)",
        ),
        worker_development_d: Sourced::new(
            55.0,
            "d",
            30.0,
            90.0,
            "that of Austroplebeia australis, Insectes Sociaux 2013: 55 d at about 27 °C",
        ),
        heat_shade_c: Sourced::new(38.0, "°C", 25.0, 45.0, COUNCIL),
        heat_limit_c: Sourced::new(40.0, "°C", 30.0, 50.0, COUNCIL),
        from_generic: Vec::new(),
        overridden: Vec::new(),
    }
}

fn generic_large() -> Bee {
    let small = generic_small();
    Bee {
        name: "generic_large".to_owned(),
        label: "large-bodied stingless bee (about 8 to 12 mm)".to_owned(),
        flight_minimum_c: Sourced::new(
            12.0,
            "°C",
            5.0,
            30.0,
            "that of Melipona quadrifasciata, Maia-Silva et al. 2014, Sociobiology 61(4)",
        ),
        flight_light: Sourced {
            source: format!(
                "{STREINZER_2016}: eight species start at 0.1 to 79 lx, larger bees at less; the \
                 lowest is taken, so that a move is never planned too late"
            ),
            ..light_lx(0.1)
        },
        homing_typical_m: Sourced::new(
            1500.0,
            "m",
            10.0,
            5000.0,
            "Melipona rufiventris, Braz. J. Biol. 2023 (S1519-69842023000101059): impaired beyond \
             1,500 m",
        ),
        homing_limit_m: Sourced::new(
            2500.0,
            "m",
            50.0,
            10_000.0,
            "Melipona rufiventris, Braz. J. Biol. 2023 (S1519-69842023000101059): reaches 2,500 m",
        ),
        worker_development_d: Sourced::new(
            55.0,
            "d",
            30.0,
            90.0,
            "that of Melipona colimana, Macías-Macías & Quezada-Euán 2015: 55.4 d",
        ),
        ..small
    }
}

/// Lays what is published for a species over a generic bee and keeps account of the rest.
fn species(name: &str, label: &str, generic: Bee, published: &[(&str, f64, &str)]) -> Bee {
    let generic_name = generic.name.clone();
    let mut bee = Bee {
        name: name.to_owned(),
        label: label.to_owned(),
        ..generic
    };
    let mut borrowed = Vec::new();
    for (field, number) in bee.numbers_mut() {
        match published.iter().find(|(known, ..)| *known == field) {
            Some((_, value, source)) => {
                number.value = *value;
                number.source = (*source).to_owned();
            }
            None => borrowed.push(field.to_owned()),
        }
    }
    if let Some((_, value, source)) = published.iter().find(|(known, ..)| *known == LIGHT_W_M2) {
        bee.flight_light = Sourced {
            source: (*source).to_owned(),
            ..light_w_m2(*value)
        };
    } else {
        borrowed.push("flight_light".to_owned());
        mark_borrowed(&mut bee.flight_light, &generic_name);
    }
    for (field, number) in bee.numbers_mut() {
        if borrowed.iter().any(|name| name == field) {
            mark_borrowed(number, &generic_name);
        }
    }
    bee.from_generic = borrowed;
    bee
}

fn mark_borrowed(number: &mut Sourced, generic_name: &str) {
    number.source = format!("{generic_name}: {}", number.source);
}
