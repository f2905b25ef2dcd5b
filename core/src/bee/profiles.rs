//! The built-in bees: the classes of size, and what has been published for species. To add a species: a
//! block in [`SPECIES`]; its size and home come from its genus, everything else from its class.

use super::genera::{Genus, Region, Size, genus_of};
use super::numbers::{Bee, OF_EVERY_BEE};
use super::sources::*;
use crate::error::Error;
use crate::number::{COMMON_PRACTICE, Sourced};

pub(super) const LUX: &str = "lx";

/// What has been published for a species.
pub(super) struct Species {
    /// Genus and species in small letters, joined by `_`.
    pub name: &'static str,
    /// Where that is less than the genus.
    lives_in: Option<&'static [Region]>,
    /// Light at which flight begins, W/m².
    light_w_m2: Option<(f64, &'static str)>,
    /// Whether it was watched too late to know its first flight: then its own temperature stands for the
    /// usual flight only, and the earliest is that of the class.
    upper_bound: bool,
    /// Names of numbers, their values, their sources.
    numbers: &'static [(&'static str, f64, &'static str)],
    notes: &'static [&'static str],
}

/// A species with nothing published.
const fn named(name: &'static str) -> Species {
    Species {
        name,
        lives_in: None,
        light_w_m2: None,
        upper_bound: false,
        numbers: &[],
        notes: &[],
    }
}

pub(super) const SPECIES: &[Species] = &[
    Species {
        numbers: &[
            ("flight_minimum_c", 20.0, HALCROFT_THESIS),
            (
                "worker_development_d",
                55.0,
                "Halcroft et al. 2013, Insectes Soc. 60:259: 55 d at 27 °C",
            ),
            (
                "worker_life_d",
                161.0,
                "Halcroft et al. 2013, Insectes Soc. 60:259: to 161 d, one bee 240 d; a maximum",
            ),
        ],
        notes: &[
            "Flies all year; days of flight are longest from late September to March (Halcroft's thesis, \
             second-hand through an encyclopaedia).",
            "A curtain of cerumen closes the entrance at night and is taken down as it warms (the same).",
        ],
        ..named("austroplebeia_australis")
    },
    Species {
        notes: &[
            "Does not regulate the warmth of its brood nest (Ayton et al. 2016, J. Exp. Biol. 219:1552).",
        ],
        ..named("austroplebeia_essingtoni")
    },
    Species {
        numbers: &[(
            "homing_farthest_m",
            1547.0,
            "Roubik & Aluja 1983 (the genus; the species from memory), through the data of Kendall et al. \
             2022, Ecology 103:e3809",
        )],
        ..named("cephalotrigona_capitata")
    },
    Species {
        numbers: &[("flight_minimum_c", 20.8, TEIXEIRA_2005)],
        ..named("friesella_schrottkyi")
    },
    named("frieseomelitta_longipes"),
    named("geniotrigona_thoracica"),
    Species {
        notes: &[
            "Swarms in spring, after late-winter pollen (Iheringia Zool. 103(4), 2013, authors to be \
             confirmed).",
        ],
        ..named("geotrigona_mombuca")
    },
    Species {
        upper_bound: true,
        numbers: &[("flight_minimum_c", 20.0, GEOTRIGONA_2016)],
        ..named("geotrigona_subterranea")
    },
    Species {
        numbers: &[
            (
                "homing_farthest_m",
                1000.0,
                "Rusdimansyah et al. 2024, Biodiversitas 25:2478–2483: returns fall past 500 m; the authors \
                 advise moves of at least 1,100 m",
            ),
            (
                "division_interval_d",
                84.0,
                "Ahmad Jailani et al. 2019, Pertanika JTAS: ten daughter colonies had grown after 12 weeks",
            ),
            (
                "fanning_c",
                27.0,
                "Jaapar et al., Serangga (year to be confirmed): fanning begins and ends at 27 to 28 °C",
            ),
        ],
        notes: &[
            "Forages within 500 m by preference, which is no limit of its homing (Benedick et al. 2021, \
             Pertanika JTAS 44(2)).",
            "First peak of flight at 06:30 to 08:00 (the same).",
            "Hives at 24.5 to 32 °C (J. Apic. Res. 2022, doi 10.1080/00218839.2022.2075528).",
        ],
        ..named("heterotrigona_itama")
    },
    Species {
        numbers: &[(
            "worker_development_d",
            35.0,
            "Bassindale 1955, Proc. Zool. Soc. (author and volume to be confirmed): 35 d",
        )],
        ..named("hypotrigona_gribodoi")
    },
    Species {
        notes: &[
            "In Java one bee a minute was out at 07 h and eight at 10 to 13 h (an abstract of 2016, \
             authors to be confirmed).",
        ],
        ..named("lepidotrigona_terminata")
    },
    Species {
        numbers: &[
            ("worker_development_d", 52.7, MOO_VALLE_2004),
            ("queen_development_d", 50.8, MOO_VALLE_2004),
        ],
        ..named("melipona_beecheii")
    },
    Species {
        upper_bound: true,
        numbers: &[("flight_minimum_c", 11.0, HILARIO_2000)],
        notes: &[
            "Flies best at 17 to 22 °C; strong colonies have an early peak, weak ones one near noon \
             (Hilário et al. 2000, Rev. Bras. Biol. 60:299–306).",
        ],
        ..named("melipona_bicolor")
    },
    Species {
        numbers: &[
            ("worker_development_d", 55.4, MACIAS_2015),
            ("queen_development_d", 52.6, MACIAS_2015),
        ],
        ..named("melipona_colimana")
    },
    Species {
        numbers: &[("homing_farthest_m", 2085.0, ROUBIK_1983)],
        ..named("melipona_fasciata")
    },
    Species {
        numbers: &[
            (
                "homing_typical_m",
                4820.0,
                "Nunes-Silva et al. 2020, Apidologie 51:240–253: 2,089 to 4,820 m, through the data of \
                 Kendall et al. 2022, Ecology 103:e3809",
            ),
            (
                "homing_limit_m",
                9736.0,
                "Nunes-Silva et al. 2020, Apidologie 51:240–253: 5,935 to 9,736 m, through the data of \
                 Kendall et al. 2022, Ecology 103:e3809",
            ),
        ],
        notes: &[
            "65 % of bees drift between neighbouring boxes (Oliveira et al. 2021, Front. Ecol. Evol. \
             708178).",
        ],
        ..named("melipona_fasciculata")
    },
    named("melipona_flavolineata"),
    Species {
        numbers: &[
            (
                "homing_typical_m",
                1324.0,
                "Rodrigues & Ribeiro 2014, Sociobiology 61(4): 489 to 1,324 m; 77 % home from 1,000 m",
            ),
            (
                "homing_limit_m",
                2253.0,
                "Rodrigues & Ribeiro 2014, Sociobiology 61(4): 2,030 to 2,253 m",
            ),
            (
                "homing_farthest_m",
                2700.0,
                "Rodrigues & Ribeiro 2014, Sociobiology 61(4)",
            ),
        ],
        ..named("melipona_mandacaia")
    },
    Species {
        numbers: &[
            ("flight_minimum_c", 14.3, BORGES_2005),
            ("flight_earliest_c", 13.7, BORGES_2005),
            ("homing_farthest_m", 800.0, KERR_1987),
        ],
        ..named("melipona_marginata")
    },
    Species {
        numbers: &[
            ("flight_minimum_c", 12.0, MAIA_SILVA_2014),
            (
                "flight_earliest_c",
                11.3,
                "Teixeira & Campos 2005, Rev. Bras. Zoociências 7(2): begin of flight in June; 12 °C for \
                 pollen (Maia-Silva et al. 2014, Sociobiology 61:378–385)",
            ),
            ("worker_development_shortest_d", 36.0, KERR_1949),
            ("worker_development_d", 40.0, KERR_1996),
            ("queen_development_d", 37.0, KERR_1996),
            (
                "homing_farthest_m",
                7500.0,
                "Toppa et al., Discover Conservation (year to be confirmed), data of 1,200 bees: home from \
                 2.5, 3, 4, 5.5, 7.5 and 8 km came 27.5, 24, 18, 12.5, 3 and 0 %",
            ),
        ],
        ..named("melipona_quadrifasciata")
    },
    Species {
        numbers: &[(
            "homing_farthest_m",
            2500.0,
            "Freitas et al. 2023, Braz. J. Biol. 83: poor past 1,500 m",
        )],
        ..named("melipona_rufiventris")
    },
    Species {
        notes: &[
            "Foreign queens slip into queenless colonies about sunset (Van Oystaeyen et al. 2013, \
             Anim. Behav., second-hand through the press).",
        ],
        ..named("melipona_scutellaris")
    },
    Species {
        numbers: &[
            (
                "homing_typical_m",
                1339.0,
                "Costa et al. 2021, Insectes Soc. 68:101–108: 1,287 to 1,339 m",
            ),
            (
                "homing_limit_m",
                3071.0,
                "Costa et al. 2021, Insectes Soc. 68:101–108: 1,651 to 3,071 m",
            ),
            (
                "homing_farthest_m",
                5000.0,
                "Costa et al. 2021, Insectes Soc. 68:101–108",
            ),
        ],
        notes: &[
            "Takes 1 to 2 months to learn a new place (Costa et al. 2021, Insectes Soc. 68:101–108).",
        ],
        ..named("melipona_seminigra")
    },
    Species {
        upper_bound: true,
        numbers: &[
            (
                "flight_minimum_c",
                17.0,
                "Maia-Silva et al. 2014, Sociobiology 61:378–385: pollen foraging; the first flight may be \
                 at less",
            ),
            (
                "homing_typical_m",
                2654.0,
                "Silva et al. 2014, Sociobiology 61(4): 1,975 to 2,654 m; at a feeder 1,160 m",
            ),
            (
                "homing_limit_m",
                4394.0,
                "Silva et al. 2014, Sociobiology 61(4): 3,652 to 4,394 m",
            ),
            ("adult_heat_c", 39.0, DA_SILVA_2017),
        ],
        notes: &[
            "Brood and pollen follow the rain and stop in drought (Maia-Silva et al. 2015, Apidologie \
             46:631–643).",
        ],
        ..named("melipona_subnitida")
    },
    Species {
        notes: &[
            "A ground nester: all of the colonies moved into boxes left them within 6 months (Gela \
             Bayeta & Hora 2021, IJTIS 41:1791–1798).",
        ],
        ..named("meliponula_beccarii")
    },
    Species {
        notes: &["Often leaves boxes (Macharia et al. 2007, Bees for Development J. 83)."],
        ..named("meliponula_bocandei")
    },
    Species {
        notes: &[
            "Flew a few hours a day in Bwindi (Kajobe & Echazarreta 2005, Afr. J. Ecol. 43:267–275).",
        ],
        ..named("meliponula_ferruginea")
    },
    Species {
        notes: &[
            "Flew a few hours a day in Bwindi, in drizzle too (Kajobe & Echazarreta 2005, Afr. J. Ecol. \
             43:267–275).",
        ],
        ..named("meliponula_nebulata")
    },
    Species {
        numbers: &[
            ("homing_typical_m", 123.0, RUANO_1996),
            ("homing_limit_m", 523.0, RUANO_1996),
        ],
        ..named("nannotrigona_perilampoides")
    },
    Species {
        notes: &[
            "The first bees come out with the sunrise; light leads (Silva & Gimenes 2014, Sociobiology \
             61:547–553).",
        ],
        ..named("nannotrigona_testaceicornis")
    },
    Species {
        numbers: &[
            ("homing_typical_m", 134.0, RUANO_1996),
            ("homing_limit_m", 668.0, RUANO_1996),
        ],
        notes: &["Brood nest at 23 to 29 °C (Wille & Orozco 1975, Rev. Biol. Trop. 22:253–287)."],
        ..named("partamona_cupira")
    },
    Species {
        numbers: &[("homing_farthest_m", 540.0, KERR_1987)],
        ..named("plebeia_droryana")
    },
    Species {
        numbers: &[("flight_minimum_c", 20.8, TEIXEIRA_2005)],
        ..named("plebeia_lucii")
    },
    named("plebeia_minima"),
    Species {
        upper_bound: true,
        numbers: &[("flight_minimum_c", 15.0, HILARIO_2001)],
        notes: &["Flies evenly at 22 to 34 °C (Hilário et al. 2001, Rev. Bras. Biol. 61:191–196)."],
        ..named("plebeia_pugnax")
    },
    Species {
        notes: &[
            "Flies less in the hour before and during rain, more after it (Hilário et al. 2007, Biota \
             Neotrop. 7(3):135).",
            "Least flight below 0.5 m/s of wind, most at 3.5 to 6 m/s; wind of 5.5 m/s limits it in winter \
             only (Hilário et al. 2007, Biota Neotrop. 7(3):225).",
        ],
        ..named("plebeia_remota")
    },
    Species {
        numbers: &[
            ("brood_cold_c", 26.0, VOLLET_NETO_2015),
            ("brood_heat_c", 34.0, VOLLET_NETO_2015),
        ],
        ..named("scaptotrigona_depilis")
    },
    named("scaptotrigona_mexicana"),
    Species {
        numbers: &[
            (
                "homing_typical_m",
                392.0,
                "Campbell et al. 2019, Apidologie 50:720–732 (S. aff. postica): farther in the rains",
            ),
            (
                "homing_limit_m",
                860.0,
                "Campbell et al. 2019, Apidologie 50:720–732 (S. aff. postica): farther in the rains",
            ),
        ],
        notes: &["Brood nest at 32 ± 3 °C (Engels et al. 1995, journal to be confirmed)."],
        ..named("scaptotrigona_postica")
    },
    Species {
        numbers: &[
            (
                "homing_limit_m",
                656.0,
                "van Nieuwstadt & Ruano 1996, Apidologie 27:219–228: at a feeder 680 m; \
              through the data of Kendall et al. 2022, Ecology 103:e3809",
            ),
            (
                "worker_life_d",
                21.0,
                "Grüter et al. 2011, Neotrop. Entomol. 40:55–61",
            ),
        ],
        notes: &[
            "Closed its entrance for the night in 32 and 56 % of colonies on two nights (Grüter et al. \
             2011, Neotrop. Entomol. 40:55–61).",
        ],
        ..named("tetragonisca_angustula")
    },
    Species {
        lives_in: Some(&[Region::Australia]),
        light_w_m2: Some((15.0, HEARD_1993)),
        numbers: &[
            ("flight_minimum_c", 18.0, HEARD_1993),
            ("homing_typical_m", 333.0, SMITH_2017),
            ("homing_limit_m", 712.0, SMITH_2017),
            (
                "worker_development_d",
                50.0,
                "about 50 d: a keepers' page (common practice, no source)",
            ),
            ("heat_shade_c", 38.0, COUNCIL),
            ("heat_limit_c", 40.0, COUNCIL),
            ("adult_cold_c", 15.0, COLD_TEST),
            ("brood_cold_c", 15.0, COLD_TEST),
            (
                "division_night_c",
                10.0,
                "in south-east Queensland not divided while nights are below 10 °C: a keeper's page \
                 (common practice, no source)",
            ),
            ("ready_net_kg", 3.0, COMMON_PRACTICE),
            (
                "division_interval_d",
                548.0,
                "12 to 18 months, of which the longer: common practice, no source",
            ),
        ],
        notes: &[
            "Cloud, humidity and wind had no effect on its flight (Heard & Hendrikz 1993, Aust. J. Zool. \
             41:343–353).",
        ],
        ..named("tetragonula_carbonaria")
    },
    Species {
        lives_in: Some(&[Region::Asia]),
        numbers: &[
            ("homing_typical_m", 240.0, WAYO_2022),
            ("homing_limit_m", 595.0, WAYO_2022),
        ],
        ..named("tetragonula_fuscobalteata")
    },
    Species {
        lives_in: Some(&[Region::Australia]),
        notes: &[
            "Took a hive of T. carbonaria after 4 months of fights (Cunningham et al. 2014, Am. Nat. \
             184:777–786).",
        ],
        ..named("tetragonula_hockingsi")
    },
    Species {
        lives_in: Some(&[Region::Asia]),
        numbers: &[
            (
                "homing_typical_m",
                395.0,
                "Layek et al. 2021: 341 to 395 m, at a feeder 278 to 359 m; through the data of Kendall et \
                 al. 2022, Ecology 103:e3809",
            ),
            (
                "homing_limit_m",
                916.0,
                "Layek et al. 2021: 749 to 916 m; through the data of Kendall et al. 2022, Ecology \
                 103:e3809",
            ),
        ],
        ..named("tetragonula_iridipennis")
    },
    Species {
        lives_in: Some(&[Region::Asia]),
        numbers: &[(
            "division_interval_d",
            30.0,
            "Inoue et al. 1984, Biotropica 16:100–111: swarmed again in a month; a natural swarm, no \
             division",
        )],
        ..named("tetragonula_laeviceps")
    },
    Species {
        lives_in: Some(&[Region::Asia]),
        notes: &[
            "In Delhi no flight in December and January, most in April (Hadimani et al. 2024, \
             Sociobiology 71(2):e10114).",
        ],
        ..named("tetragonula_ruficornis")
    },
    Species {
        numbers: &[
            ("homing_typical_m", 227.0, RUANO_1996),
            ("homing_limit_m", 653.0, RUANO_1996),
        ],
        ..named("trigona_corvina")
    },
    Species {
        numbers: &[("homing_farthest_m", 840.0, KERR_1987)],
        ..named("trigona_spinipes")
    },
    Species {
        notes: &[
            "Tiny, and early for its size: less light than the class of small bees needs (Streinzer, \
             Huber & Spaethe 2016, J. Comp. Physiol. A 202:643–655; its value was not seen).",
        ],
        ..named("trigonisca_pipioli")
    },
];

pub(super) fn light_w_m2(value: f64) -> Sourced {
    Sourced::new(value, "W/m²", 0.5, 500.0, "")
}

pub(super) fn light_lx(value: f64) -> Sourced {
    Sourced::new(value, LUX, 0.01, 50_000.0, "")
}

/// What a generic bee has: light in lx, then its numbers.
type Class = (
    f64,
    &'static str,
    &'static [(&'static str, f64, &'static str)],
);

const fn class(size: Size) -> Class {
    match size {
        Size::Small => (
            79.0,
            LIGHT_SMALL,
            &[
                ("flight_earliest_c", 14.0, EARLIEST_SMALL),
                ("flight_minimum_c", 20.0, USUAL_SMALL),
                ("worker_development_shortest_d", 55.0, LIKE_AUSTRALIS),
                ("worker_development_d", 55.0, LIKE_AUSTRALIS),
            ],
        ),
        Size::Medium => (
            0.1,
            LIGHT_MEDIUM,
            &[
                ("flight_earliest_c", 13.0, BETWEEN_CLASSES),
                ("flight_minimum_c", 17.0, BETWEEN_CLASSES),
                ("worker_development_shortest_d", 55.0, LIKE_AUSTRALIS),
                ("worker_development_d", 55.0, LIKE_AUSTRALIS),
            ],
        ),
        Size::Large => (
            0.1,
            LIGHT_LARGE,
            &[
                ("flight_earliest_c", 11.0, EARLIEST_LARGE),
                ("flight_minimum_c", 14.0, USUAL_LARGE),
                ("worker_development_shortest_d", 36.0, MELIPONA_RANGE),
                ("worker_development_d", 56.0, MELIPONA_RANGE),
            ],
        ),
    }
}

/// What all generic bees share.
const SHARED: &[(&str, f64, &str)] = &[
    ("flying_day_h", 3.0, COMMON_PRACTICE),
    ("rain_limit_mm", 5.0, COMMON_PRACTICE),
    ("wind_limit_m_s", 8.0, CARRYING_WIND),
    ("heat_shade_c", 38.0, COUNCIL),
    ("heat_limit_c", 40.0, COUNCIL),
];

const GENERIC: [(Size, &str); 3] = [
    (Size::Small, "small stingless bee (under 5 mm)"),
    (Size::Medium, "medium stingless bee (about 5 to 8 mm)"),
    (
        Size::Large,
        "large stingless bee (Melipona, about 8 to 12 mm)",
    ),
];

/// Names of the built-in bees, the generic ones first.
///
/// ```
/// use apiary_almanac::bee;
/// for name in bee::bee_names() {
///     println!("{name}: {}", bee::built_in(name)?.label());
/// }
/// # assert!(bee::bee_names().contains(&"generic_small"));
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn bee_names() -> Vec<&'static str> {
    let generic = GENERIC.iter().map(|(size, _)| size.generic());
    generic.chain(SPECIES.iter().map(|one| one.name)).collect()
}

/// The generic bee of this name.
pub(super) fn generic(name: &str) -> Option<Result<Bee, Error>> {
    let (size, label) = GENERIC.iter().find(|(size, _)| size.generic() == name)?;
    Some(of_class(*size, label))
}

fn of_class(size: Size, label: &str) -> Result<Bee, Error> {
    // Classes of size live wherever stingless bees do.
    let mut bee = Bee::blank(size.generic(), label, size, &Region::ALL);
    let (lx, source, numbers) = class(size);
    bee.flight_light = Sourced {
        source: source.to_owned(),
        ..light_lx(lx)
    };
    for (name, value, source) in numbers.iter().chain(SHARED) {
        bee.set(name, *value, source)?;
    }
    Ok(bee)
}

/// A bee with the numbers of its genus' class only.
pub(super) fn of_genus(genus: &Genus, name: &str, label: &str) -> Result<Bee, Error> {
    let mut bee = Bee {
        name: name.to_owned(),
        label: label.to_owned(),
        lives_in: genus.lives_in.to_vec(),
        ..of_class(genus.size, label)?
    };
    for name in OF_EVERY_BEE.iter().chain(&["flight_light"]) {
        borrow(&mut bee, name, genus.size);
    }
    Ok(bee)
}

/// What is published for a species over the numbers of its class, with account of the rest.
pub(super) fn species(one: &Species, label: &str) -> Result<Bee, Error> {
    let Some(genus) = genus_of(one.name) else {
        return Err(Error::UnknownName {
            field: "bee".to_owned(),
            given: one.name.to_owned(),
            allowed: "a species of a known genus".to_owned(),
        });
    };
    let mut bee = of_genus(genus, one.name, label)?;
    if let Some(lives_in) = one.lives_in {
        bee.lives_in = lives_in.to_vec();
    }
    bee.notes = one.notes.iter().map(|note| (*note).to_owned()).collect();
    if let Some((value, source)) = one.light_w_m2 {
        bee.flight_light = Sourced {
            source: source.to_owned(),
            ..light_w_m2(value)
        };
        bee.own("flight_light");
    }
    for (name, value, source) in one.numbers {
        bee.set_with_its_partner(name, *value, source, &|partner| {
            one.numbers.iter().any(|(own, ..)| *own == partner)
                || (partner == "flight_earliest_c" && one.upper_bound)
        })?;
    }
    Ok(bee)
}

fn borrow(bee: &mut Bee, name: &str, size: Size) {
    if let Some(number) = bee.number_mut(name) {
        number.source = format!("{}: {}", size.generic(), number.source);
        bee.from_generic.push(name.to_owned());
    }
}
