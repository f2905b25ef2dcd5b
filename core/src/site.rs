//! Where: latitude, longitude, elevation, time zone, and what hides the low sun.

use chrono_tz::{TZ_VARIANTS, Tz};
use serde::{Serialize, Serializer};

use crate::error::{Error, clip};
use crate::wire::{FromNode, Node, Refusal};

macro_rules! bounded_number {
    ($(#[$doc:meta])* $name:ident, $field:literal, $low:expr, $high:expr, $unit:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, FromNode)]
        #[serde(try_from = "f64", into = "f64")]
        pub struct $name(f64);

        impl $name {
            /// Takes the value if it is a number within the range.
            ///
            /// # Errors
            /// `out_of_range` for anything outside it, NaN and infinities included.
            pub fn new(value: f64) -> Result<Self, Error> {
                if value.is_finite() && ($low..=$high).contains(&value) {
                    Ok($name(value))
                } else {
                    Err(Error::out_of_range(
                        $field,
                        value,
                        format_args!("{} to {} {}", $low, $high, $unit),
                    ))
                }
            }

            /// The plain number.
            pub const fn get(self) -> f64 {
                self.0
            }
        }

        impl TryFrom<f64> for $name {
            type Error = Error;
            fn try_from(value: f64) -> Result<Self, Error> {
                $name::new(value)
            }
        }

        impl From<$name> for f64 {
            fn from(value: $name) -> f64 {
                value.0
            }
        }
    };
}

bounded_number!(
    /// Degrees north of the equator (south is negative).
    Latitude, "latitude_deg", -90.0, 90.0, "degrees (north positive)"
);
bounded_number!(
    /// Degrees east of Greenwich (west is negative).
    Longitude, "longitude_deg", -180.0, 180.0, "degrees (east positive)"
);
bounded_number!(
    /// Metres above sea level.
    Elevation, "elevation_m", -500.0, 9000.0, "m"
);
bounded_number!(
    /// How high hills or trees stand on the skyline, in degrees above level. Negative on a hilltop
    /// that looks down on its horizon.
    Horizon, "horizon_deg", -5.0, 45.0, "degrees above level"
);

impl Default for Horizon {
    /// A level skyline.
    fn default() -> Self {
        Horizon(0.0)
    }
}

impl Horizon {
    /// True for a level skyline.
    fn is_level(&self) -> bool {
        self.0 == 0.0
    }
}

/// A place where hives stand.
///
/// JSON: `{"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12, "zone":
/// "Australia/Sydney"}`, with `east_horizon_deg` and `west_horizon_deg` where hills or trees hide
/// the low sun.
///
/// ```
/// use apiary_almanac::Site;
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// assert_eq!(site.zone.name(), "Australia/Sydney");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
pub struct Site {
    /// Degrees north, −90 to 90 (south is negative).
    pub latitude_deg: Latitude,
    /// Degrees east, −180 to 180 (west is negative); a request may have 180 to 360.
    pub longitude_deg: Longitude,
    /// Metres above sea level, −500 to 9000; without it a request takes that of the land around.
    #[shape(completed)]
    pub elevation_m: Elevation,
    /// IANA time zone of the people who work there.
    #[serde(serialize_with = "zone_name")]
    pub zone: Tz,
    /// How high hills or trees stand where the sun comes up, −5 to 45 degrees above level.
    #[serde(default, skip_serializing_if = "Horizon::is_level")]
    pub east_horizon_deg: Horizon,
    /// The same where it goes down.
    #[serde(default, skip_serializing_if = "Horizon::is_level")]
    pub west_horizon_deg: Horizon,
    /// In answers: the height was not given, it is that of the land around ([`place`](crate::place)).
    #[serde(default, skip_serializing_if = "is_false")]
    pub elevation_from_land: bool,
    /// In answers: the longitude was given as 180 to 360.
    #[serde(default, skip_serializing_if = "is_false")]
    pub longitude_from_360: bool,
}

// The signature is the one serde asks for.
#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_false(value: &bool) -> bool {
    !*value
}

impl Site {
    /// A site with a level skyline.
    ///
    /// # Errors
    /// `out_of_range` for a coordinate or elevation outside its range, `unknown_zone` for a name
    /// that is not in the IANA database.
    ///
    /// ```
    /// use apiary_almanac::Site;
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// assert_eq!(site.latitude_deg.get(), -28.81);
    /// let error = Site::new(98.81, 153.28, 12.0, "Australia/Sydney").unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("out_of_range", "latitude_deg"));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new(
        latitude_deg: f64,
        longitude_deg: f64,
        elevation_m: f64,
        zone: &str,
    ) -> Result<Self, Error> {
        Ok(Site {
            latitude_deg: Latitude::new(latitude_deg)?,
            longitude_deg: Longitude::new(longitude_deg)?,
            elevation_m: Elevation::new(elevation_m)?,
            zone: zone_by_name(zone)?,
            east_horizon_deg: Horizon::default(),
            west_horizon_deg: Horizon::default(),
            elevation_from_land: false,
            longitude_from_360: false,
        })
    }

    /// The same site with hills or trees on the skyline.
    ///
    /// # Errors
    /// `out_of_range` for a skyline outside −5 to 45 degrees.
    ///
    /// ```
    /// use apiary_almanac::{Site, sun};
    /// // Trees stand 10° high in the east: the sun comes over them three quarters of an hour later.
    /// let open = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let trees = open.with_horizon(10.0, 0.0)?;
    /// let date = "2026-09-14".parse()?;
    /// let rise = |site| -> Result<_, Box<dyn std::error::Error>> {
    ///     Ok(sun::sun_day(site, date)?.sun.rise().ok_or("it rises")?)
    /// };
    /// let later_min = (rise(&trees)? - rise(&open)?).num_minutes();
    /// assert!((40..60).contains(&later_min), "{later_min}");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn with_horizon(self, east_deg: f64, west_deg: f64) -> Result<Self, Error> {
        Ok(Site {
            east_horizon_deg: Horizon::new(east_deg)?,
            west_horizon_deg: Horizon::new(west_deg)?,
            ..self
        })
    }
}

/// Finds a zone of the IANA database by its name.
///
/// # Errors
/// `unknown_zone` when there is none of that name.
///
/// ```
/// use apiary_almanac::site::zone_by_name;
/// assert_eq!(zone_by_name("America/Sao_Paulo")?.name(), "America/Sao_Paulo");
/// // An offset does not know when clocks are changed.
/// assert_eq!(zone_by_name("+10:00").unwrap_err().code(), "unknown_zone");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn zone_by_name(name: &str) -> Result<Tz, Error> {
    // Going through all names spares the table that makes it faster; 600 are soon compared.
    TZ_VARIANTS
        .into_iter()
        .find(|zone| zone.name() == name)
        .ok_or_else(|| Error::UnknownZone { given: clip(name) })
}

pub(crate) fn zone_name<S: Serializer>(zone: &Tz, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(zone.name())
}

impl FromNode for Tz {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        Ok(zone_by_name(node.text("the name of a zone")?)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_outside_their_range_are_named() {
        for bad in [
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            90.0001,
            -90.0001,
        ] {
            let error = Latitude::new(bad).unwrap_err();
            assert_eq!(
                (error.code(), error.field()),
                ("out_of_range", "latitude_deg")
            );
            assert!(error.to_string().contains("-90 to 90"), "{error}");
            assert!(error.to_string().contains(&bad.to_string()), "{error}");
        }
        assert!(Latitude::new(90.0).is_ok() && Latitude::new(-90.0).is_ok());
        assert!(Longitude::new(180.0).is_ok() && Longitude::new(180.1).is_err());
    }

    #[test]
    fn a_numeric_zone_is_refused() {
        for bad in ["+10:00", "UTC+10", "", "Brisbane", "Australia/brisbane"] {
            assert_eq!(
                Site::new(0.0, 0.0, 0.0, bad).unwrap_err().code(),
                "unknown_zone"
            );
        }
    }

    #[test]
    fn json_round_trip_and_unknown_fields() {
        let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap();
        let text = serde_json::to_string(&site).unwrap();
        assert_eq!(serde_json::from_str::<Site>(&text).unwrap(), site);
        let extra = text.replace("\"zone\"", "\"altitude\":3,\"zone\"");
        let message = serde_json::from_str::<Site>(&extra)
            .unwrap_err()
            .to_string();
        assert!(message.contains("altitude"), "{message}");
    }
}
