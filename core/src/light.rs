//! How much light a clear sky gives at a sun altitude, and at which altitude a given light is there.

use serde::{Deserialize, Serialize};

use crate::error::Error;

/// Solar irradiance on level ground under a clear sky, W/m², for a sun altitude in degrees.
///
/// B. Haurwitz 1945, J. Meteorology 2:154: `1098 sin h exp(-0.059 / sin h)`; 0 where the sun is at
/// or below the horizon.
///
/// ```
/// use apiary_almanac::light::clear_sky_irradiance_w_m2;
/// assert!((clear_sky_irradiance_w_m2(30.0) - 487.894).abs() < 0.001);
/// assert_eq!(clear_sky_irradiance_w_m2(-1.0), 0.0);
/// ```
pub fn clear_sky_irradiance_w_m2(sun_altitude_deg: f64) -> f64 {
    let sine = sun_altitude_deg.to_radians().sin();
    if sine > 0.0 {
        1098.0 * sine * (-0.059 / sine).exp()
    } else {
        0.0
    }
}

/// Illuminance on level ground under a clear sky, lx, for a sun altitude in degrees.
pub fn illuminance_lx(sun_altitude_deg: f64) -> f64 {
    let x = sun_altitude_deg / 90.0;
    let [a, b, c, d] = match sun_altitude_deg {
        h if h >= 20.0 => [3.74, 3.97, -4.07, 1.47],
        h if h >= 5.0 => [3.05, 13.28, -45.98, 64.33],
        h if h >= -0.8 => [2.88, 22.26, -207.64, 1034.30],
        h if h >= -5.0 => [2.88, 21.81, -258.11, -858.36],
        h if h >= -12.0 => [2.70, 12.17, -431.69, -1899.83],
        _ => [13.84, 262.72, 1447.42, 2797.93],
    };
    10f64.powf(a + x * (b + x * (c + x * d)))
}

/// The light from which something counts as light enough.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LightThreshold {
    /// Clear-sky solar irradiance, W/m².
    #[serde(rename = "irradiance_w_m2")]
    IrradianceWM2(f64),
    /// Clear-sky illuminance, lx.
    IlluminanceLx(f64),
}

impl LightThreshold {
    /// The sun altitude at which a clear sky gives this much light.
    ///
    /// # Errors
    /// `out_of_range` for a light that no sun altitude gives.
    pub fn sun_altitude_deg(&self) -> Result<f64, Error> {
        let (light, wanted): (fn(f64) -> f64, f64) = match *self {
            LightThreshold::IrradianceWM2(value) => (clear_sky_irradiance_w_m2, value),
            LightThreshold::IlluminanceLx(value) => (illuminance_lx, value),
        };
        let (mut low, mut high) = (-18.0, 90.0);
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if light(middle) < wanted {
                low = middle
            } else {
                high = middle
            }
        }
        Ok(high)
    }
}
