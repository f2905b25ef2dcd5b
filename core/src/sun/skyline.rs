//! At which true altitude of its centre the sun's upper edge stands on the skyline.

/// Centre of the sun at rise and set over a level skyline: 34' of refraction and 16' of
/// semidiameter, the almanac convention.
pub const LEVEL_SUNRISE_ALTITUDE_DEG: f64 = -(LEVEL_REFRACTION_DEG + SEMIDIAMETER_DEG);

const SEMIDIAMETER_DEG: f64 = 16.0 / 60.0;
const LEVEL_REFRACTION_DEG: f64 = 34.0 / 60.0;

/// True altitude of the sun's centre when its upper edge touches a skyline that stands
/// `skyline_deg` above level (an apparent altitude).
///
/// ```
/// use apiary_almanac::sun::{LEVEL_SUNRISE_ALTITUDE_DEG, sun_centre_altitude_deg};
/// assert_eq!(sun_centre_altitude_deg(0.0), LEVEL_SUNRISE_ALTITUDE_DEG);
/// assert!((LEVEL_SUNRISE_ALTITUDE_DEG + 0.8333).abs() < 1e-4);
/// assert!((sun_centre_altitude_deg(10.0) - 9.64).abs() < 0.01);
/// ```
pub fn sun_centre_altitude_deg(skyline_deg: f64) -> f64 {
    skyline_deg - (refraction_deg(skyline_deg) + SEMIDIAMETER_DEG)
}

/// Refraction at an apparent altitude: G. G. Bennett 1982, J. Navigation 35:255, scaled by 1.4 % so
/// that it is 34' at level. Below level, where that formula does not reach, its slope at level
/// (0.21 of refraction for each degree) is kept, which is what the tables of dip also imply.
fn refraction_deg(apparent_deg: f64) -> f64 {
    let bennett = |a: f64| 1.0 / (a + 7.31 / (a + 4.4)).to_radians().tan();
    let level = bennett(0.0);
    if apparent_deg >= 0.0 {
        LEVEL_REFRACTION_DEG * (bennett(apparent_deg) / level)
    } else {
        let slope = -(1.0 + level * level) * (1.0 - 7.31 / (4.4 * 4.4)) * 1f64.to_radians();
        LEVEL_REFRACTION_DEG * (1.0 + apparent_deg * slope / level)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refraction_of_the_almanac() {
        // Mean refraction by apparent altitude, 10 °C and 1010 hPa (Astronomical Almanac,
        // from memory): 5° 9.9', 10° 5.3', 20° 2.6', 45° 1.0'.
        for (altitude_deg, minutes) in [(5.0, 9.9), (10.0, 5.3), (20.0, 2.6), (45.0, 1.0)] {
            let computed = refraction_deg(altitude_deg) * 60.0;
            assert!(
                (computed - minutes).abs() < 0.2,
                "{altitude_deg}: {computed}"
            );
        }
    }

    #[test]
    fn level_is_the_convention_and_higher_skylines_are_higher() {
        assert_eq!(sun_centre_altitude_deg(0.0), LEVEL_SUNRISE_ALTITUDE_DEG);
        let mut last = f64::NEG_INFINITY;
        for i in -500..=4500 {
            let altitude = sun_centre_altitude_deg(f64::from(i) / 100.0);
            assert!(altitude > last, "{i}");
            last = altitude;
        }
        assert!((sun_centre_altitude_deg(-1e-9) - LEVEL_SUNRISE_ALTITUDE_DEG).abs() < 1e-8);
    }
}
