//! Climate of a place from its coordinates: normals of minimum, maximum, rain and wet days on a
//! one-degree grid over the land between 45° south and 45° north, brought to the level of today, and
//! how far days stray from them.
//!
//! The table is derived from CRU CL 2.0 and modern records ([`ATTRIBUTION`]) and comes under the
//! first one's licence, not the code's. How it was made and how far off it is: `docs/default-climate.md`.

use std::sync::OnceLock;

use serde::Serialize;

use crate::civil::MONTH_DAYS;
use crate::error::Error;
use crate::wire::FromNode;

mod coder;
mod draft;
mod fields;
pub mod format;
mod lattice;
mod season;
mod spread;
mod table;

pub use draft::{Draft, DraftElement, DraftNode};
pub use fields::{PointFields, field_corners, field_node, share_of_shore};
pub use season::{WarmSeason, warm_season, warm_season_map};
pub use spread::{
    DAY_TO_DAY_CORRELATION, DailySpread, MAXIMUM_SD_ERROR_C, MINIMUM_SD_ERROR_C,
    SAME_DAY_CORRELATION,
};
pub use table::{ClimateTable, PointCourse};

/// The years of the normals.
pub const PERIOD: &str = "1961-1990";

/// Rain from which a day of the table is a wet day, mm.
pub const WET_DAY_MM: f64 = 0.1;

/// What must be said wherever these numbers are used.
pub const ATTRIBUTION: &str = "derived from CRU CL 2.0, Climatic Research Unit, University of East Anglia (New, Lister, Hulme \
     and Makin 2002, A high-resolution data set of surface climate over global land areas, \
     Climate Research 21:1-25), brought to today with records of the Bureau of Meteorology, INMET, \
     NOAA (GSOD), NREL (TMY3) and UCI; coastline from Natural Earth, public domain";

/// The terms of these numbers.
pub const LICENCE: &str = "given for use by all with acknowledgement of the source; recalled as Open Database License 1.0";

/// What is added to normals of 1961–1990 for the years since.
///
/// The default, +1.0 °C to the minimum and +0.6 °C to the maximum, rests on two comparisons of the
/// table's source with later records: 46 Australian stations of 2008–2017 (+1.1 and +0.7), and
/// 4,369 stations in one July fortnight of 2011 (+1.0 and +0.4). It is one number for the whole
/// world, and the places differ: [`at`] adds what modern stations around a place ask for beyond it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
pub struct Warming {
    /// Added to the minimum, °C.
    pub minimum_c: f64,
    /// Added to the maximum, °C.
    pub maximum_c: f64,
}

impl Warming {
    /// The normals of 1961–1990 as they are.
    pub const NONE: Warming = Warming {
        minimum_c: 0.0,
        maximum_c: 0.0,
    };

    /// Refuses numbers that no climate has warmed by.
    ///
    /// # Errors
    /// `out_of_range` for more than 10 °C either way.
    ///
    /// ```
    /// use apiary_almanac::climate::grid::Warming;
    /// assert!(Warming::default().check().is_ok());
    /// let in_fahrenheit_by_mistake = Warming { minimum_c: 33.0, maximum_c: 33.0 };
    /// assert_eq!(in_fahrenheit_by_mistake.check().unwrap_err().code(), "out_of_range");
    /// ```
    pub fn check(&self) -> Result<(), Error> {
        for (field, c) in [
            ("warming.minimum_c", self.minimum_c),
            ("warming.maximum_c", self.maximum_c),
        ] {
            if !(-10.0..=10.0).contains(&c) {
                return Err(Error::out_of_range(field, c, "-10 to 10 °C"));
            }
        }
        Ok(())
    }
}

impl Default for Warming {
    fn default() -> Self {
        Warming {
            minimum_c: 1.0,
            maximum_c: 0.6,
        }
    }
}

/// Normals of a place, read off the grid.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
pub struct GridClimate {
    /// ° north.
    pub latitude_deg: f64,
    /// Mean daily minimum of the months, January first, °C.
    pub minimum_c: [f64; 12],
    /// Mean daily maximum of the months, °C.
    pub maximum_c: [f64; 12],
    /// Rain of the months, mm.
    pub rain_mm: [f64; 12],
    /// Days of the months with 0.1 mm of rain or more.
    pub wet_days: [f64; 12],
    /// Whether the square degree around the place counts as land (more than 5 % of it, or a weather
    /// station on it). Elsewhere, up to about half a degree off, the numbers are those of the land
    /// nearby.
    pub on_land: bool,
    /// Mean elevation of the land within about a degree, m.
    pub cell_elevation_m: f64,
    /// The elevation the numbers hold for, m: the one asked for, or else the land's mean.
    pub elevation_m: f64,
    /// Whether that elevation was asked for.
    pub elevation_known: bool,
    /// Root mean square error of today's monthly minima and maxima in this region, °C, measured at
    /// stations left out: larger on the shore, in mountains and far from stations. Frost hollows and
    /// city centres may be farther off.
    pub typical_error_c: f64,
    /// Closeness to the sea: 1 at the shore, 0.37 at 100 km, 0 far inland.
    pub closeness_to_sea: f64,
    /// What has been added to the normals of [`PERIOD`] all over the world.
    pub warming: Warming,
    /// Whether what modern stations around ask for beyond that has been added as well.
    pub anchored: bool,
    /// Standard deviations of the daily minima and maxima about the normals.
    pub spread: DailySpread,
}

/// Normals of a place today: those of [`PERIOD`], the default [`Warming`], and what modern stations
/// around ask for beyond it. `None` at sea, farther than about half a degree
/// from land, beyond 45° of latitude, and for numbers that are no coordinates.
///
/// ```
/// use apiary_almanac::climate::grid;
/// let lismore = grid::at(-28.81, 153.28, Some(12.0)).ok_or("it lies on land")?;
/// assert!((8.0..12.0).contains(&lismore.minimum_c[6]));
/// assert!((28.0..32.0).contains(&lismore.maximum_c[0]));
/// assert!(grid::at(-28.81, 160.0, None).is_none());
/// # Ok::<(), &str>(())
/// ```
pub fn at(latitude_deg: f64, longitude_deg: f64, elevation_m: Option<f64>) -> Option<GridClimate> {
    at_level(latitude_deg, longitude_deg, elevation_m, None)
}

/// Normals of [`PERIOD`] with a warming of one's own, or none; modern stations are not asked.
///
/// ```
/// use apiary_almanac::climate::grid::{Warming, at_with};
/// // Nairobi.
/// let with = |warming| at_with(-1.29, 36.82, Some(1661.0), warming).ok_or("it lies on land");
/// let (then, warm) = (with(Warming::NONE)?, with(Warming::default())?);
/// assert!((warm.minimum_c[0] - then.minimum_c[0] - 1.0).abs() < 1e-9);
/// # Ok::<(), &str>(())
/// ```
pub fn at_with(
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: Option<f64>,
    warming: Warming,
) -> Option<GridClimate> {
    at_level(latitude_deg, longitude_deg, elevation_m, Some(warming))
}

/// [`at`] without a warming of one's own, [`at_with`] with one.
pub(crate) fn at_level(
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: Option<f64>,
    own_warming: Option<Warming>,
) -> Option<GridClimate> {
    let point = built_in().at(latitude_deg, longitude_deg, elevation_m)?;
    Some(GridClimate::from_point(
        &point,
        latitude_deg,
        elevation_m,
        own_warming,
    ))
}

/// How far the height of a place typically lies from that of the land around it, m (root mean square).
/// At 73 weather stations of Australia, Brazil, China and the USA it was 64 m where the land lies below
/// 200 m, 148 m up to 600 m, 330 m above; this line lies a little above that.
pub(crate) fn height_error_m(land_elevation_m: f64) -> f64 {
    50.0 + 0.3 * land_elevation_m.max(0.0)
}

/// How much warmer or cooler it is typically for not knowing the height, °C: 6.5 °C/km, the lapse rate of
/// the ICAO standard atmosphere (from memory).
pub(crate) fn height_error_c(land_elevation_m: f64) -> f64 {
    0.0065 * height_error_m(land_elevation_m)
}

/// Closeness to the sea: 1 at the shore, 0.37 at 100 km, 0 far inland and beyond 45° of latitude.
/// `None` where the grid has no land.
pub(super) fn closeness_to_sea(latitude_deg: f64, longitude_deg: f64) -> Option<f64> {
    if latitude_deg.abs() > 45.0 {
        return Some(0.0);
    }
    at(latitude_deg, longitude_deg, None).map(|climate| climate.closeness_to_sea)
}

/// The table that comes with the crate, decoded at the first call.
pub fn built_in() -> &'static ClimateTable {
    static TABLE: OnceLock<ClimateTable> = OnceLock::new();
    // A test reads the file as it is committed, so that the empty table is never met.
    TABLE.get_or_init(|| {
        ClimateTable::from_bytes(
            "climate_grid.bin",
            include_bytes!("../../../data/climate_grid.bin"),
        )
        .unwrap_or_else(|_| ClimateTable::empty())
    })
}

impl GridClimate {
    /// Turns what a table holds for a point into normals: of today, or of [`PERIOD`] with a warming
    /// of one's own.
    pub fn from_point(
        point: &PointCourse,
        latitude_deg: f64,
        elevation_m: Option<f64>,
        own_warming: Option<Warming>,
    ) -> Self {
        let [mut minimum_c, mut maximum_c, root_of_rain, wet_days] = point.elements;
        let warming = own_warming.unwrap_or_default();
        let [anchor_low, anchor_high] = match own_warming {
            Some(_) => [[0.0; 12]; 2],
            None => point.fields.anchor_c,
        };
        let [minimum_sd_c, maximum_sd_c] = point.fields.sd_c;
        let anchors = anchor_low.iter().zip(&anchor_high);
        for ((low, high), (add_low, add_high)) in
            minimum_c.iter_mut().zip(&mut maximum_c).zip(anchors)
        {
            *low += warming.minimum_c + add_low;
            *high += warming.maximum_c + add_high;
            // Rounding must not turn a narrow range over.
            if *high - *low < 1.0 {
                let middle = f64::midpoint(*low, *high);
                (*low, *high) = (middle - 0.5, middle + 0.5);
            }
        }
        GridClimate {
            latitude_deg,
            minimum_c,
            maximum_c,
            rain_mm: root_of_rain.map(|root| root.max(0.0).powi(2)),
            wet_days: std::array::from_fn(|m| wet_days[m].clamp(0.0, MONTH_DAYS[m])),
            on_land: point.on_land,
            cell_elevation_m: point.land_elevation_m,
            elevation_m: elevation_m.unwrap_or(point.land_elevation_m),
            elevation_known: elevation_m.is_some(),
            typical_error_c: point.typical_error_c,
            closeness_to_sea: point.coast,
            warming,
            anchored: own_warming.is_none(),
            spread: DailySpread {
                minimum_sd_c,
                maximum_sd_c,
            },
        }
    }
}
