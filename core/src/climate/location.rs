//! What the location alone lets one expect: normals of the built-in grid, or beyond it a curve by
//! latitude and elevation.

use std::f64::consts::TAU;

use chrono::NaiveDate;
use serde::Serialize;

use super::grid::Warming;
use super::location_table::{
    ERRORS_C, FIRST_KNOT_DEG, KNOT_SPACING_DEG, MAXIMUM_C, MAXIMUM_PER_METRE_C, MINIMUM_C,
    MINIMUM_PER_METRE_C,
};
use super::month_spline::YearOfDays;
use super::{ALLOWED_C, About, Basis, DayTemperatures, TemperatureSource, grid};
use crate::civil;
use crate::error::Error;
use crate::reason::say;
use crate::site::{Elevation, Latitude, Longitude, Site};
use crate::wire::{FromNode, Node, Refusal};

/// What must be said where the curve by latitude is shown.
const ATTRIBUTION: &str = "derived from CRU CL 2.0, Climatic Research Unit, University of East Anglia \
     (New, Lister, Hulme and Makin 2002, A high-resolution data set of surface climate over global \
     land areas, Climate Research 21:1-25)";
/// Latitude to which the default is meant to be used, degrees from the equator.
const SUPPORTED_DEG: f64 = 40.0;

/// Error from which the default is called weak, °C.
pub(super) const WEAK_C: f64 = 1.1;
/// By how much stations 10 to 16 km apart differ in their monthly minima and maxima, °C: Perth and its
/// airport, two in Canberra (Bureau of Meteorology, 2008–2017; root mean square 0.2 to 0.6).
const NEAR_STATION_ERROR_C: f64 = 0.5;

/// The yearly curve of the daily minimum and maximum at a place of which nothing else is known.
///
/// On land within 45° of the equator the normals of [`grid`] are used, brought to today; each month's mean is the grid's. Where no longitude is given, at sea and
/// farther from the equator, a curve by latitude and elevation is used, a rough first answer:
/// mean, yearly and half-yearly wave are piecewise linear in latitude and change linearly with
/// elevation; fitted to CRU CL 2.0 (New, Lister, Hulme & Makin 2002, Climate Research 21:1–25),
/// land, 1961–1990, plus 1.0 °C (minimum) and 0.6 °C (maximum) for the warming since. Longitude,
/// sea, deserts and monsoons are not in it. Beyond 40° from the equator it answers, but with errors
/// that make it of little use. [`Climate::basis`](super::Climate::basis) gives the measured errors.
///
/// JSON: `{"latitude_deg": -27.5, "longitude_deg": 153, "elevation_m": 30}`; without
/// `longitude_deg` latitude and elevation alone are used.
///
/// ```
/// use apiary_almanac::{Elevation, Latitude, climate::LocationDefault};
/// let default = LocationDefault::at(Latitude::new(-27.5)?, Elevation::new(30.0)?);
/// let (january, july) = (default.day("2026-01-15".parse()?), default.day("2026-07-15".parse()?));
/// assert!(january.mean_c() > july.mean_c() + 5.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(from = "Wire", into = "Wire")]
pub struct LocationDefault {
    wire: Wire,
    curve: Curve,
}

#[derive(Debug, Clone, PartialEq)]
enum Curve {
    ByLatitude {
        minimum_c: Waves,
        maximum_c: Waves,
    },
    Grid {
        normals: Box<grid::GridClimate>,
        days: YearOfDays,
    },
}

/// Mean; cosine and sine of the yearly wave; the same of the half-yearly wave.
type Waves = [f64; 5];

#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
struct Wire {
    latitude_deg: Latitude,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    longitude_deg: Option<Longitude>,
    elevation_m: Elevation,
    /// Whether the elevation is only that of the land around.
    #[serde(default, skip_serializing_if = "is_no")]
    elevation_from_land: bool,
    /// Whether the warming since 1961–1990 is added.
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    warming: bool,
    /// How much of it, where it is not the default.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "checked_warming"
    )]
    own_warming: Option<Warming>,
}

fn checked_warming(node: &Node<'_>) -> Result<Option<Warming>, Refusal> {
    let warming = Option::<Warming>::from_node(node)?;
    if let Some(warming) = warming {
        warming.check()?;
    }
    Ok(warming)
}

/// How [`checked_warming`] is given.
#[cfg(feature = "shapes")]
mod checked_warming {
    use super::Warming;
    use crate::wire::shape::{Shape, Shapes, Type};

    pub(super) fn shape(shapes: &mut Shapes) -> Type {
        Option::<Warming>::shape(shapes)
    }
}

impl Wire {
    fn of_site(site: &Site) -> Self {
        let longitude = Some(site.longitude_deg);
        Wire {
            elevation_from_land: site.elevation_from_land,
            ..Wire::of(site.latitude_deg, longitude, site.elevation_m)
        }
    }

    fn of(
        latitude_deg: Latitude,
        longitude_deg: Option<Longitude>,
        elevation_m: Elevation,
    ) -> Self {
        Wire {
            latitude_deg,
            longitude_deg,
            elevation_m,
            elevation_from_land: false,
            warming: true,
            own_warming: None,
        }
    }

    /// The warming asked for in place of what is known of today.
    fn own_warming(&self) -> Option<Warming> {
        match (self.warming, self.own_warming) {
            (false, _) => Some(Warming::NONE),
            (true, own) => own,
        }
    }

    fn warming(&self) -> Warming {
        self.own_warming().unwrap_or_default()
    }
}

// The signature is the one serde asks for.
#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_no(value: &bool) -> bool {
    !*value
}

fn yes() -> bool {
    true
}

// The signature is the one serde asks for.
#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_yes(value: &bool) -> bool {
    *value
}

impl LocationDefault {
    /// The curve of a site today: from the grid where it has land, else by latitude and elevation.
    ///
    /// ```
    /// use apiary_almanac::{Site, climate::LocationDefault};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let default = LocationDefault::of_site(&site);
    /// assert!(default.grid_normals().is_some_and(|normals| normals.typical_error_c < 1.5));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn of_site(site: &Site) -> Self {
        Wire::of_site(site).into()
    }

    /// The curve of a site with a warming of one's own since 1961–1990, in place of what is known of
    /// today. In JSON: `"own_warming": {"minimum_c": 0.5, "maximum_c": 0.5}`.
    ///
    /// # Errors
    /// `out_of_range` for more than 10 °C either way.
    ///
    /// ```
    /// use apiary_almanac::climate::{LocationDefault, grid::Warming};
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let then = LocationDefault::of_site_with(&site, Warming::NONE)?;
    /// let later = LocationDefault::of_site_with(&site, Warming { minimum_c: 2.0, maximum_c: 1.5 })?;
    /// let date = "2026-07-15".parse()?;
    /// assert!((later.day(date).minimum_c - then.day(date).minimum_c - 2.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_site_with(site: &Site, warming: Warming) -> Result<Self, Error> {
        warming.check()?;
        let wire = Wire::of_site(site);
        Ok(Wire {
            own_warming: Some(warming),
            ..wire
        }
        .into())
    }

    /// What must be said where these numbers are shown.
    ///
    /// ```
    /// use apiary_almanac::{Site, climate::LocationDefault};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// assert!(LocationDefault::of_site(&site).attribution().contains("University of East Anglia"));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn attribution(&self) -> &'static str {
        match &self.curve {
            Curve::Grid { .. } => grid::ATTRIBUTION,
            Curve::ByLatitude { .. } => ATTRIBUTION,
        }
    }

    /// The curve of a latitude and elevation today, whatever the longitude.
    ///
    /// ```
    /// use apiary_almanac::{Elevation, Latitude, climate::LocationDefault};
    /// // The same latitude, 1000 m higher: cooler, but on high land by less than the 6.5 °C of free air.
    /// let latitude = Latitude::new(-28.81)?;
    /// let date = "2026-01-15".parse()?;
    /// let low = LocationDefault::at(latitude, Elevation::new(0.0)?).day(date);
    /// let high = LocationDefault::at(latitude, Elevation::new(1000.0)?).day(date);
    /// let cooler_c = low.mean_c() - high.mean_c();
    /// assert!((3.0..6.5).contains(&cooler_c), "{cooler_c}");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn at(latitude: Latitude, elevation: Elevation) -> Self {
        Wire::of(latitude, None, elevation).into()
    }

    /// The curve as fitted, without the warming since 1961–1990. In JSON: `"warming": false`.
    ///
    /// ```
    /// use apiary_almanac::{Elevation, Latitude, climate::LocationDefault};
    /// let (latitude, elevation) = (Latitude::new(-27.5)?, Elevation::new(30.0)?);
    /// let date = "2026-07-15".parse()?;
    /// let then = LocationDefault::of_1961_1990(latitude, elevation).day(date);
    /// let now = LocationDefault::at(latitude, elevation).day(date);
    /// assert!((now.minimum_c - then.minimum_c - 1.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_1961_1990(latitude: Latitude, elevation: Elevation) -> Self {
        Wire {
            warming: false,
            ..Wire::of(latitude, None, elevation)
        }
        .into()
    }

    /// The normals of the grid, where the curve rests on them.
    ///
    /// ```
    /// use apiary_almanac::{Site, climate::LocationDefault};
    /// let normals_at = |latitude_deg, longitude_deg| -> Result<bool, apiary_almanac::Error> {
    ///     let site = Site::new(latitude_deg, longitude_deg, 10.0, "Etc/UTC")?;
    ///     Ok(LocationDefault::of_site(&site).grid_normals().is_some())
    /// };
    /// assert!(normals_at(-12.46, 130.84)?); // Darwin
    /// assert!(!normals_at(-30.0, -120.0)?); // far out in the Pacific
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn grid_normals(&self) -> Option<&grid::GridClimate> {
        match &self.curve {
            Curve::Grid { normals, .. } => Some(normals),
            Curve::ByLatitude { .. } => None,
        }
    }

    /// Minimum and maximum of a day, the same in every year; its rain is not known.
    pub fn day(&self, date: NaiveDate) -> DayTemperatures {
        let (minimum_c, maximum_c) = match &self.curve {
            Curve::Grid { days, .. } => days.of(date),
            Curve::ByLatitude {
                minimum_c,
                maximum_c,
            } => (of_waves(minimum_c, date), of_waves(maximum_c, date)),
        };
        DayTemperatures {
            date,
            minimum_c,
            maximum_c,
            rain_mm: None,
            source: TemperatureSource::LocationDefault,
        }
    }

    pub(super) fn basis(&self) -> Basis {
        match &self.curve {
            Curve::Grid { normals, .. } => self.basis_of_grid(normals),
            Curve::ByLatitude { .. } => self.basis_by_latitude(),
        }
    }

    /// What was added to minimum and maximum, where anything was.
    fn added(&self) -> (Option<f64>, Option<f64>) {
        let warming = self.wire.warming();
        let added = Some(warming).filter(|warming| *warming != Warming::NONE);
        (
            added.map(|warming| warming.minimum_c),
            added.map(|warming| warming.maximum_c),
        )
    }

    fn basis_of_grid(&self, normals: &grid::GridClimate) -> Basis {
        let (minimum_c, maximum_c) = self.added();
        let land_m = normals.cell_elevation_m;
        let typical_error_c = if self.wire.elevation_from_land {
            normals.typical_error_c.hypot(grid::height_error_c(land_m))
        } else {
            normals.typical_error_c
        };
        let about = if normals.anchored {
            let Warming {
                minimum_c,
                maximum_c,
            } = normals.warming;
            say::grid_climate_today(grid::ATTRIBUTION, minimum_c, maximum_c)
        } else {
            say::grid_climate(grid::ATTRIBUTION, minimum_c, maximum_c)
        };
        let advice = if typical_error_c >= WEAK_C {
            say::station_would_pay(typical_error_c, NEAR_STATION_ERROR_C)
        } else {
            say::better_than_grid()
        };
        Basis {
            period: Some(grid::PERIOD.to_owned()),
            typical_error_c: Some(typical_error_c),
            p95_error_c: Some(2.0 * typical_error_c),
            ..Basis::new(
                TemperatureSource::LocationDefault,
                About::Built(about),
                Some(advice),
            )
        }
    }

    fn basis_by_latitude(&self) -> Basis {
        let latitude = self.wire.latitude_deg.get();
        let band = ((latitude - FIRST_KNOT_DEG) / KNOT_SPACING_DEG).floor() + 1.0;
        let (typical, worst) = ERRORS_C[band.clamp(0.0, (ERRORS_C.len() - 1) as f64) as usize];
        let (minimum_c, maximum_c) = self.added();
        let about = say::latitude_climate(minimum_c, maximum_c);
        let advice = if latitude.abs() > SUPPORTED_DEG {
            say::far_from_equator()
        } else {
            say::better_than_latitude()
        };
        Basis {
            period: Some("1961 to 1990".to_owned()),
            typical_error_c: Some(typical),
            p95_error_c: Some(worst),
            ..Basis::new(
                TemperatureSource::LocationDefault,
                About::Built(about),
                Some(advice),
            )
        }
    }
}

/// A day of a curve by latitude.
fn of_waves(waves: &Waves, date: NaiveDate) -> f64 {
    let angle = TAU * (f64::from(civil::day_of_common_year(date)) - 0.5) / 365.0;
    let (sin, cos) = angle.sin_cos();
    let (sin_2, cos_2) = (2.0 * angle).sin_cos();
    let [mean, year_cos, year_sin, half_cos, half_sin] = waves;
    // Only polar heights come near the bounds.
    (mean + year_cos * cos + year_sin * sin + half_cos * cos_2 + half_sin * sin_2)
        .clamp(*ALLOWED_C.start(), *ALLOWED_C.end())
}

/// The waves at a latitude: linear between knots, constant beyond the outermost.
fn between_knots(knots: &[Waves], latitude_deg: f64) -> Waves {
    let last = (knots.len() - 1) as f64;
    let place = ((latitude_deg - FIRST_KNOT_DEG) / KNOT_SPACING_DEG).clamp(0.0, last);
    let below = (place as usize).min(knots.len() - 2);
    let share = place - below as f64;
    std::array::from_fn(|w| knots[below][w] + share * (knots[below + 1][w] - knots[below][w]))
}

impl From<Wire> for LocationDefault {
    fn from(wire: Wire) -> Self {
        let (latitude, elevation) = (wire.latitude_deg.get(), wire.elevation_m.get());
        let warming = wire.warming();
        let normals = wire.longitude_deg.and_then(|longitude| {
            grid::at_level(
                latitude,
                longitude.get(),
                Some(elevation),
                wire.own_warming(),
            )
        });
        if let Some(normals) = normals {
            let days = YearOfDays::new(&normals.minimum_c, &normals.maximum_c);
            let normals = Box::new(normals);
            let curve = Curve::Grid { normals, days };
            return LocationDefault { wire, curve };
        }
        let mut minimum_c = between_knots(&MINIMUM_C, latitude);
        let mut maximum_c = between_knots(&MAXIMUM_C, latitude);
        minimum_c[0] += MINIMUM_PER_METRE_C * elevation;
        maximum_c[0] += MAXIMUM_PER_METRE_C * elevation;
        minimum_c[0] += warming.minimum_c;
        maximum_c[0] += warming.maximum_c;
        let curve = Curve::ByLatitude {
            minimum_c,
            maximum_c,
        };
        LocationDefault { wire, curve }
    }
}

impl From<LocationDefault> for Wire {
    fn from(location: LocationDefault) -> Self {
        location.wire
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place(latitude_deg: f64, elevation_m: f64) -> LocationDefault {
        let latitude = Latitude::new(latitude_deg).unwrap();
        LocationDefault::at(latitude, Elevation::new(elevation_m).unwrap())
    }

    fn days() -> impl Iterator<Item = NaiveDate> {
        NaiveDate::from_ymd_opt(2028, 1, 1)
            .unwrap()
            .iter_days()
            .take(366)
    }

    #[test]
    fn sane_at_every_latitude_and_elevation() {
        for latitude in -90..=90 {
            for elevation in [-500.0, 0.0, 1500.0, 4000.0] {
                let default = place(f64::from(latitude), elevation);
                for date in days() {
                    let day = default.day(date);
                    assert!(
                        day.minimum_c <= day.maximum_c,
                        "{latitude} {elevation} {day:?}"
                    );
                    assert!(
                        day.minimum_c >= -60.0 && day.maximum_c < 45.0,
                        "{latitude} {day:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn seasons_are_turned_round_south_of_the_equator() {
        let warmest = |latitude: f64| {
            let default = place(latitude, 0.0);
            let hotter = |a: &NaiveDate, b: &NaiveDate| {
                default
                    .day(*a)
                    .mean_c()
                    .total_cmp(&default.day(*b).mean_c())
            };
            chrono::Datelike::month(&days().max_by(hotter).unwrap())
        };
        for latitude in [25.0, 30.0, 35.0, 40.0] {
            assert!((6..=8).contains(&warmest(latitude)), "{latitude}");
            assert!([12, 1, 2].contains(&warmest(-latitude)), "-{latitude}");
        }
    }

    #[test]
    fn the_curve_has_no_jump_at_the_new_year_or_between_latitudes() {
        for latitude in (-900..900).map(|tenths| f64::from(tenths) / 10.0) {
            let (here, there) = (place(latitude, 0.0), place(latitude + 0.1, 0.0));
            let first = here.day("2026-01-01".parse().unwrap());
            let last = here.day("2026-12-31".parse().unwrap());
            assert!((first.maximum_c - last.maximum_c).abs() < 0.6, "{latitude}");
            let other = there.day(first.date);
            assert!(
                (first.maximum_c - other.maximum_c).abs() < 0.3,
                "{latitude}"
            );
        }
    }

    #[test]
    fn far_from_the_equator_it_warns_and_the_error_is_larger() {
        let near = place(-10.0, 0.0).basis();
        let far = place(61.0, 0.0).basis();
        assert!(far.typical_error_c > near.typical_error_c);
        assert!(far.advice.unwrap().contains("do not rely"));
        assert!(!near.advice.unwrap().contains("do not rely"));
    }

    #[test]
    fn json_round_trip() {
        let default = place(-27.5, 30.0);
        let text = serde_json::to_string(&default).unwrap();
        assert_eq!(text, r#"{"latitude_deg":-27.5,"elevation_m":30.0}"#);
        assert_eq!(
            serde_json::from_str::<LocationDefault>(&text).unwrap(),
            default
        );
        let old = text.replace('}', r#","warming":false}"#);
        let old = serde_json::from_str::<LocationDefault>(&old).unwrap();
        assert_eq!(
            old,
            LocationDefault::of_1961_1990(default.wire.latitude_deg, default.wire.elevation_m)
        );
    }

    fn of_site(latitude_deg: f64, longitude_deg: f64, elevation_m: f64) -> LocationDefault {
        let site = Site::new(latitude_deg, longitude_deg, elevation_m, "UTC").unwrap();
        LocationDefault::of_site(&site)
    }

    #[test]
    fn on_land_the_grid_answers_and_says_so() {
        let default = of_site(-28.81, 153.28, 12.0);
        let normals = default.grid_normals().unwrap();
        for month in 1..=12 {
            let first = NaiveDate::from_ymd_opt(2026, month, 1).unwrap();
            let days = first
                .iter_days()
                .take_while(|day| chrono::Datelike::month(day) == month);
            let lows: Vec<f64> = days.map(|day| default.day(day).minimum_c).collect();
            let mean = lows.iter().sum::<f64>() / lows.len() as f64;
            assert!((mean - normals.minimum_c[month as usize - 1]).abs() < 1e-6);
        }
        let basis = default.basis();
        assert!(basis.about.contains("one-degree grid") && basis.about.contains("CRU CL 2.0"));
        assert_eq!(basis.period.as_deref(), Some("1961-1990"));
        assert_eq!(basis.typical_error_c, Some(normals.typical_error_c));
    }

    #[test]
    fn off_the_grid_the_latitude_answers_and_says_so() {
        for (latitude, longitude) in [(-28.81, 170.0), (52.0, 10.0), (-60.0, 0.0)] {
            let default = of_site(latitude, longitude, 0.0);
            assert!(default.grid_normals().is_none());
            assert!(
                default
                    .basis()
                    .about
                    .contains("latitude and elevation alone")
            );
            let date = "2026-07-15".parse().unwrap();
            assert_eq!(default.day(date), place(latitude, 0.0).day(date));
        }
    }

    #[test]
    fn json_of_a_site() {
        let default = of_site(-28.81, 153.28, 12.0);
        let text = serde_json::to_string(&default).unwrap();
        assert_eq!(
            text,
            r#"{"latitude_deg":-28.81,"longitude_deg":153.28,"elevation_m":12.0}"#
        );
        assert_eq!(
            serde_json::from_str::<LocationDefault>(&text).unwrap(),
            default
        );
        let then = text.replace('}', r#","warming":false}"#);
        let then = serde_json::from_str::<LocationDefault>(&then).unwrap();
        let own = text.replace('}', r#","own_warming":{"minimum_c":1,"maximum_c":0.6}}"#);
        let own = serde_json::from_str::<LocationDefault>(&own).unwrap();
        let date = "2026-07-15".parse().unwrap();
        let warmer = own.day(date).maximum_c - then.day(date).maximum_c;
        assert!((warmer - 0.6).abs() < 1e-9);
    }
}
