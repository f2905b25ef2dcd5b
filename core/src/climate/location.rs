//! What latitude and elevation alone let one expect.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::{Basis, DayTemperatures, TemperatureSource};
use crate::civil;
use crate::site::{Elevation, Latitude};

/// Fall of temperature with height, °C/m: ICAO standard atmosphere (Doc 7488), 6.5 °C/km.
const LAPSE_C_M: f64 = 0.0065;

/// The yearly curve of the daily minimum and maximum at a latitude and elevation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(from = "Wire", into = "Wire")]
pub struct LocationDefault {
    wire: Wire,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    latitude_deg: Latitude,
    elevation_m: Elevation,
}

impl LocationDefault {
    /// The curve of a place.
    pub fn at(latitude: Latitude, elevation: Elevation) -> Self {
        Wire {
            latitude_deg: latitude,
            elevation_m: elevation,
        }
        .into()
    }

    /// Minimum and maximum of a day; its rain is not known.
    pub fn day(&self, date: NaiveDate) -> DayTemperatures {
        let latitude = self.wire.latitude_deg.get();
        let turn =
            std::f64::consts::TAU * (f64::from(civil::day_of_common_year(date)) - 201.0) / 365.0;
        let mean = 27.0 - 0.01 * latitude * latitude + 0.3 * latitude * turn.cos()
            - LAPSE_C_M * self.wire.elevation_m.get();
        let (minimum_c, maximum_c) = (mean - 5.0, mean + 5.0);
        let source = TemperatureSource::LocationDefault;
        DayTemperatures {
            date,
            minimum_c,
            maximum_c,
            rain_mm: None,
            source,
        }
    }

    pub(super) fn basis(&self) -> Basis {
        Basis {
            source: TemperatureSource::LocationDefault,
            about: "latitude and elevation alone".to_owned(),
            period: None,
            typical_error_c: None,
            worst_error_c: None,
            advice: Some("Give monthly normals of a near station, or daily records.".to_owned()),
        }
    }
}

impl From<Wire> for LocationDefault {
    fn from(wire: Wire) -> Self {
        LocationDefault { wire }
    }
}

impl From<LocationDefault> for Wire {
    fn from(location: LocationDefault) -> Self {
        location.wire
    }
}
