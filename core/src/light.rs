//! How much light a clear sky gives at a sun altitude, and at which altitude a given light is there.
//!
//! Both formulas are for level ground with an open, cloudless sky. Cloud, trees and an entrance that
//! faces away from the sun take most of it; neither formula knows of them.

use serde::Serialize;

use crate::error::Error;
use crate::wire::FromNode;

/// Solar irradiance on level ground under a clear sky, W/m², for a sun altitude in degrees.
///
/// B. Haurwitz 1945, J. Meteorology 2:154, in the form `1098 sin h exp(-0.059 / sin h)`; 0 where the
/// sun is at or below the horizon. Made for hours of cloudless sky by day; low sun is at its edge.
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

/// Illuminance on level ground under a clear sky without moon, lx, for a true sun altitude (no
/// refraction) in degrees. Below −18°, where starlight and airglow take over, the value at −18°.
///
/// The cubics of log₁₀ in altitude / 90° of the *Explanatory Supplement to the Astronomical Almanac*
/// (Urban & Seidelmann, 3rd ed., p. 518 ff.; also Vallado, *Fundamentals of Astrodynamics and
/// Applications*, table 5-1), coefficients as several independent transcriptions have them. They
/// follow the same observations as P. M. Janiczek & J. A. DeYoung 1987, USNO Circular 171, whose own
/// formula ends at −12° and holds "one or two digits"; between −12° and the zenith the two stay
/// within a factor of two, and from −10° up within 30 %.
///
/// ```
/// use apiary_almanac::light::illuminance_lx;
/// assert!((illuminance_lx(-6.0) - 3.4).abs() < 0.1); // the end of civil twilight
/// ```
pub fn illuminance_lx(sun_altitude_deg: f64) -> f64 {
    let altitude_deg = sun_altitude_deg.max(DARKEST_ALTITUDE_DEG);
    let x = altitude_deg / 90.0;
    let [a, b, c, d] = match altitude_deg {
        h if h >= 20.0 => [3.74, 3.97, -4.07, 1.47],
        h if h >= 5.0 => [3.05, 13.28, -45.98, 64.33],
        h if h >= -0.8 => [2.88, 22.26, -207.64, 1034.30],
        h if h >= -5.0 => [2.88, 21.81, -258.11, -858.36],
        h if h >= -12.0 => [2.70, 12.17, -431.69, -1899.83],
        _ => [13.84, 262.72, 1447.42, 2797.93],
    };
    10f64.powf(a + x * (b + x * (c + x * d)))
}

const DARKEST_ALTITUDE_DEG: f64 = -18.0;

/// The light from which something counts as light enough.
///
/// JSON: `{"irradiance_w_m2": 15.0}` (0.001 to 1000) or `{"illuminance_lx": 10.0}` (0.001 to
/// 100 000).
///
/// ```
/// use apiary_almanac::LightThreshold;
/// let threshold: LightThreshold = serde_json::from_str(r#"{"irradiance_w_m2": 15.0}"#)?;
/// assert!((threshold.sun_altitude_deg()? - 2.72).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Unchecked")]
pub enum LightThreshold {
    /// Clear-sky solar irradiance, W/m².
    #[serde(rename = "irradiance_w_m2")]
    IrradianceWM2(f64),
    /// Clear-sky illuminance, lx.
    #[serde(rename = "illuminance_lx")]
    IlluminanceLx(f64),
}

/// What stands in a file, before its range is looked at.
#[derive(FromNode)]
enum Unchecked {
    #[serde(rename = "irradiance_w_m2")]
    IrradianceWM2(f64),
    #[serde(rename = "illuminance_lx")]
    IlluminanceLx(f64),
}

impl TryFrom<Unchecked> for LightThreshold {
    type Error = Error;

    fn try_from(value: Unchecked) -> Result<Self, Error> {
        match value {
            Unchecked::IrradianceWM2(value) => LightThreshold::IrradianceWM2(value).checked(),
            Unchecked::IlluminanceLx(value) => LightThreshold::IlluminanceLx(value).checked(),
        }
    }
}

impl LightThreshold {
    /// The same threshold if its value can be reached.
    ///
    /// # Errors
    /// `out_of_range` outside 0.001 to 1000 W/m² or 0.001 to 100 000 lx.
    ///
    /// ```
    /// use apiary_almanac::LightThreshold;
    /// assert!(LightThreshold::IlluminanceLx(10.0).checked().is_ok());
    /// // The full sun gives some 120 000 lx: no bee waits for more.
    /// let error = LightThreshold::IlluminanceLx(250_000.0).checked().unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("out_of_range", "illuminance_lx"));
    /// ```
    pub fn checked(self) -> Result<Self, Error> {
        let (field, value, highest, unit) = match self {
            LightThreshold::IrradianceWM2(value) => ("irradiance_w_m2", value, 1000.0, "W/m2"),
            LightThreshold::IlluminanceLx(value) => ("illuminance_lx", value, 100_000.0, "lx"),
        };
        if value.is_finite() && (0.001..=highest).contains(&value) {
            Ok(self)
        } else {
            Err(Error::out_of_range(
                field,
                value,
                format_args!("0.001 to {highest} {unit}"),
            ))
        }
    }

    /// The lowest sun altitude at which a clear sky gives this much light, in degrees.
    ///
    /// # Errors
    /// As [`LightThreshold::checked`].
    ///
    /// ```
    /// use apiary_almanac::LightThreshold;
    /// // 400 lx are there about sunrise, when the sun's centre stands 0.83° below the horizon.
    /// let altitude_deg = LightThreshold::IlluminanceLx(400.0).sun_altitude_deg()?;
    /// assert!((-1.5..0.0).contains(&altitude_deg), "{altitude_deg}");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn sun_altitude_deg(&self) -> Result<f64, Error> {
        let (light, wanted): (fn(f64) -> f64, f64) = match self.checked()? {
            LightThreshold::IrradianceWM2(value) => (clear_sky_irradiance_w_m2, value),
            LightThreshold::IlluminanceLx(value) => (illuminance_lx, value),
        };
        // Both grow with altitude, so halving finds it; 60 times is the last digit.
        let (mut low, mut high) = (DARKEST_ALTITUDE_DEG, 90.0);
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if light(middle) < wanted {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn haurwitz_as_pvlib_has_it() {
        // pvlib 0.16.1, clearsky.haurwitz.
        for (altitude_deg, published) in [
            (5.0, 48.6298687941956),
            (10.0, 135.741748091813),
            (30.0, 487.894132885425),
            (50.0, 778.766689344363),
            (90.0, 1035.09203253450),
        ] {
            let computed = clear_sky_irradiance_w_m2(altitude_deg);
            assert!(
                (computed - published).abs() < 1e-9,
                "{altitude_deg}: {computed}"
            );
        }
        for night_deg in [0.0, -0.1, -90.0] {
            assert_eq!(clear_sky_irradiance_w_m2(night_deg), 0.0);
        }
    }

    #[test]
    fn twilight_of_the_meteorologists() {
        // AMS Glossary of Meteorology, "civil twilight" and "astronomical twilight": clear sky 585
        // to 410 lx at sunset, 3.5 to 2 lx at -6°, about 0.008 lx at -12° and 6e-4 lx at -18°.
        for (altitude_deg, low, high) in [
            (-50.0 / 60.0, 410.0, 585.0),
            (-6.0, 2.0, 3.5),
            (-12.0, 0.007, 0.009),
            (-18.0, 5.5e-4, 7e-4),
        ] {
            let lx = illuminance_lx(altitude_deg);
            assert!((low..=high).contains(&lx), "{altitude_deg}: {lx}");
        }
        assert_eq!(illuminance_lx(-40.0), illuminance_lx(-18.0));
    }

    /// The formula of Janiczek & DeYoung 1987, USNO Circular 171, subroutines REFR and ATMOS.
    fn circular_171_lx(altitude_deg: f64) -> f64 {
        let apparent_deg = if altitude_deg < -5.0 / 6.0 {
            altitude_deg
        } else {
            altitude_deg
                + 1.0
                    / (altitude_deg + 8.6 / (altitude_deg + 4.42))
                        .to_radians()
                        .tan()
                    / 60.0
        };
        let (sine, cosine) = apparent_deg.to_radians().sin_cos();
        let x = 753.66156;
        let s = (x * cosine / (x + 1.0)).asin();
        let mass = x * (s.cos() - sine) + s.cos();
        let scattered = 1.0 + (apparent_deg + 90.0) * sine / 57.29577951;
        133_775.0 * ((-0.21 * mass).exp() * sine + 0.0289 * (-0.042 * mass).exp() * scattered)
    }

    #[test]
    fn follows_circular_171() {
        for tenth in -120..=900 {
            let altitude_deg = f64::from(tenth) / 10.0;
            let ratio = illuminance_lx(altitude_deg) / circular_171_lx(altitude_deg);
            let within = if altitude_deg < -10.0 { 2.0 } else { 1.3 };
            // At sunrise the circular jumps by half, where its refraction sets in.
            let jump = (-0.9..0.1).contains(&altitude_deg);
            assert!(
                jump || (1.0 / within..within).contains(&ratio),
                "{altitude_deg}: {ratio}"
            );
        }
    }

    #[test]
    fn altitude_and_back() {
        for wanted in [0.01, 0.1, 1.0, 3.0, 10.0, 79.0, 400.0, 3_000.0, 50_000.0] {
            let altitude_deg = LightThreshold::IlluminanceLx(wanted)
                .sun_altitude_deg()
                .unwrap();
            // The pieces of the curve join to within 1 %.
            assert!(
                (illuminance_lx(altitude_deg) / wanted - 1.0).abs() < 0.01,
                "{wanted} lx"
            );
        }
        for wanted in [0.01, 15.0, 100.0, 900.0] {
            let altitude_deg = LightThreshold::IrradianceWM2(wanted)
                .sun_altitude_deg()
                .unwrap();
            assert!(
                (clear_sky_irradiance_w_m2(altitude_deg) - wanted).abs() < 1e-6,
                "{wanted}"
            );
        }
    }

    #[test]
    fn json_is_checked() {
        let text = r#"{"illuminance_lx":10.0}"#;
        let threshold: LightThreshold = serde_json::from_str(text).unwrap();
        assert_eq!(threshold, LightThreshold::IlluminanceLx(10.0));
        assert_eq!(serde_json::to_string(&threshold).unwrap(), text);
        for bad in [
            r#"{"illuminance_lx":0.0}"#,
            r#"{"irradiance_w_m2":-1.0}"#,
            r#"{"irradiance_w_m2":1001}"#,
            r#"{"lux":10.0}"#,
            r#"{"illuminance_lx":10.0,"irradiance_w_m2":15.0}"#,
        ] {
            assert!(
                serde_json::from_str::<LightThreshold>(bad).is_err(),
                "{bad}"
            );
        }
        let error = LightThreshold::IrradianceWM2(f64::NAN)
            .sun_altitude_deg()
            .unwrap_err();
        assert_eq!(
            (error.code(), error.field()),
            ("out_of_range", "irradiance_w_m2")
        );
    }
}
