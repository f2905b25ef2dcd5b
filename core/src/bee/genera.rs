//! The genera: of what size, and where they live.

use serde::Serialize;

use crate::reason::{Reason, say};
use crate::site::Site;
use crate::wire::FromNode;

/// The class of a bee's size. The classes go by Streinzer, Huber & Spaethe 2016 and Teixeira & Campos
/// 2005; where their edges lie is our reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Size {
    /// Under 5 mm long, up to 1.3 mm between the tegulae: *Tetragonula*, *Plebeia*, *Tetragonisca*.
    Small,
    /// 1.4 to 2.2 mm between the tegulae: *Scaptotrigona*, *Heterotrigona*, *Trigona*, *Partamona*.
    Medium,
    /// *Melipona*.
    Large,
}

impl Size {
    /// Name of the generic bee of this size.
    ///
    /// ```
    /// use apiary_almanac::bee::{Size, built_in};
    /// let bee = built_in(Size::Large.generic())?;
    /// assert_eq!((bee.name(), bee.size()), ("generic_large", Size::Large));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub const fn generic(self) -> &'static str {
        match self {
            Size::Small => "generic_small",
            Size::Medium => "generic_medium",
            Size::Large => "generic_large",
        }
    }
}

/// A part of the world in which stingless bees are native.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Region {
    /// Mexico to northern Argentina.
    Americas,
    /// Africa south of the Sahara, with Madagascar.
    Africa,
    /// India to Taiwan and the Solomon Islands.
    Asia,
    /// Australia.
    Australia,
}

impl Region {
    pub(super) const ALL: [Region; 4] = [
        Region::Americas,
        Region::Africa,
        Region::Asia,
        Region::Australia,
    ];

    /// South, north, west and east edge, whole degrees, generous: from memory, but for the latitudes
    /// of the whole group (about 30° N to 36° S; Michener, *The Bees of the World*, from memory).
    const fn edges_deg(self) -> [f64; 4] {
        match self {
            Region::Americas => [-36.0, 30.0, -113.0, -34.0],
            Region::Africa => [-36.0, 18.0, -18.0, 52.0],
            Region::Asia => [-12.0, 30.0, 66.0, 163.0],
            Region::Australia => [-36.0, -9.0, 112.0, 154.0],
        }
    }

    /// To whole degrees: more is not known.
    pub(crate) fn holds(self, site: &Site) -> bool {
        let [south, north, west, east] = self.edges_deg();
        let (latitude, longitude) = (
            site.latitude_deg.get().round(),
            site.longitude_deg.get().round(),
        );
        (south..=north).contains(&latitude) && (west..=east).contains(&longitude)
    }
}

/// Why bees that live in these parts of the world have no home at a site.
pub(super) fn not_at_home(lives_in: &[Region], site: &Site) -> Option<Reason> {
    if !Region::ALL.iter().any(|region| region.holds(site)) {
        return Some(say::caution_no_stingless_bees());
    }
    (!lives_in.iter().any(|region| region.holds(site))).then(say::caution_not_native)
}

/// A genus.
pub(super) struct Genus {
    pub name: &'static str,
    pub size: Size,
    pub lives_in: &'static [Region],
}

use Region::{Africa, Americas, Asia, Australia};
use Size::{Large, Medium, Small};

const fn genus(name: &'static str, size: Size, lives_in: &'static [Region]) -> Genus {
    Genus {
        name,
        size,
        lives_in,
    }
}

/// Sizes of genera that the description of [`Size`] does not name, and where they live: from memory.
/// Where in doubt, the larger size, whose bees fly earlier.
pub(super) const GENERA: &[Genus] = &[
    genus("austroplebeia", Small, &[Australia]),
    genus("axestotrigona", Medium, &[Africa]),
    genus("cephalotrigona", Medium, &[Americas]),
    genus("dactylurina", Medium, &[Africa]),
    genus("friesella", Small, &[Americas]),
    genus("frieseomelitta", Medium, &[Americas]),
    genus("geniotrigona", Medium, &[Asia]),
    genus("geotrigona", Medium, &[Americas]),
    genus("heterotrigona", Medium, &[Asia]),
    genus("homotrigona", Medium, &[Asia]),
    genus("hypotrigona", Small, &[Africa]),
    genus("lepidotrigona", Medium, &[Asia]),
    genus("lestrimelitta", Medium, &[Americas]),
    genus("leurotrigona", Small, &[Americas]),
    genus("lisotrigona", Small, &[Asia]),
    genus("melipona", Large, &[Americas]),
    genus("meliponula", Medium, &[Africa]),
    genus("nannotrigona", Small, &[Americas]),
    genus("oxytrigona", Medium, &[Americas]),
    genus("partamona", Medium, &[Americas]),
    genus("plebeia", Small, &[Americas]),
    genus("plebeina", Medium, &[Africa]),
    genus("scaptotrigona", Medium, &[Americas]),
    genus("scaura", Small, &[Americas]),
    genus("schwarziana", Medium, &[Americas]),
    genus("tetragona", Medium, &[Americas]),
    genus("tetragonilla", Medium, &[Asia]),
    genus("tetragonisca", Small, &[Americas]),
    genus("tetragonula", Small, &[Asia, Australia]),
    genus("tetrigona", Medium, &[Asia]),
    genus("trigona", Medium, &[Americas]),
    genus("trigonisca", Small, &[Americas]),
];

/// Whether a name begins with a known genus.
pub(crate) fn genus_is_known(name: &str) -> bool {
    genus_of(name).is_some()
}

pub(super) fn genus_of(name: &str) -> Option<&'static Genus> {
    let first = name.split('_').next().unwrap_or(name);
    GENERA.iter().find(|genus| genus.name == first)
}
