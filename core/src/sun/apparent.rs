//! The apparent place of the sun at a moment: what the table of days is built from.
//!
//! Steps and numbers: Reda & Andreas, NREL/TP-560-34302, sections 3.1 to 3.8. The radius vector is
//! needed for aberration alone, so its leading terms are enough (error below 0.003").

use std::f64::consts::{PI, TAU};

use super::delta_t::delta_t_s;
use super::terms::{self, Series};

/// The two numbers that, with a latitude, longitude and altitude, decide every event of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ApparentSun {
    /// Apparent less mean solar time, days (turns of the sky): the hour angle at Greenwich less that
    /// of a sun that is in the south at 12:00 UT each day.
    pub equation_of_time_d: f64,
    /// Tangent of the apparent declination. The equation of an event holds it without trigonometry.
    pub tan_declination: f64,
}

/// Julian days from J2000.0 (2000-01-01 12:00) to 1970-01-01 00:00.
const J2000_TO_UNIX_EPOCH_D: f64 = -10957.5;
const ARCSECOND: f64 = PI / 648_000.0;

/// The sun at 0 h UT of the day that lies `unix_day` days after 1970-01-01.
pub(super) fn apparent_sun(unix_day: i32) -> ApparentSun {
    let ut_d = f64::from(unix_day) + J2000_TO_UNIX_EPOCH_D;
    let tt_d = ut_d + delta_t_s(2000.0 + ut_d / 365.25) / 86_400.0;
    let century = tt_d / 36_525.0;
    let millennium = century / 10.0;

    let longitude = 1e-8
        * horner(
            millennium,
            &[
                sum(&terms::LONGITUDE_0, millennium),
                sum(&terms::LONGITUDE_1, millennium),
                sum(&terms::LONGITUDE_2, millennium),
                sum(&terms::LONGITUDE_3, millennium),
                sum(&terms::LONGITUDE_4, millennium),
                sum(&terms::LONGITUDE_5, millennium),
            ],
        );
    let latitude = 1e-8
        * horner(
            millennium,
            &[
                sum(&terms::LATITUDE_0, millennium),
                sum(&terms::LATITUDE_1, millennium),
            ],
        );
    let radius_au = 1e-8
        * horner(
            millennium,
            &[
                sum(&terms::RADIUS_0, millennium),
                sum(&terms::RADIUS_1, millennium),
            ],
        );

    let (nutation_longitude, nutation_obliquity) = nutation(century);
    let mean_obliquity = ARCSECOND
        * horner(
            millennium / 10.0,
            &[
                84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67, -39.05, 7.12, 27.87, 5.79,
                2.45,
            ],
        );
    let obliquity = mean_obliquity + nutation_obliquity;
    let aberration = -20.4898 * ARCSECOND / radius_au;

    let (sin_l, cos_l) = (longitude + PI + nutation_longitude + aberration).sin_cos();
    let (sin_b, cos_b) = (-latitude).sin_cos();
    let (sin_e, cos_e) = obliquity.sin_cos();
    let right_ascension = (sin_l * cos_e - sin_b / cos_b * sin_e).atan2(cos_l);
    let sin_declination = sin_b * cos_e + cos_b * sin_e * sin_l;

    let ut_century = ut_d / 36_525.0;
    let mean_sidereal_deg = 280.46061837
        // Whole turns are left out before they can cost digits.
        + 360.0 * (ut_d - ut_d.floor())
        + 0.98564736629 * ut_d
        + ut_century * ut_century * (0.000387933 - ut_century / 38_710_000.0);
    let sidereal = mean_sidereal_deg.to_radians() + nutation_longitude * obliquity.cos();

    // At 0 h UT the mean sun stands half a turn from the meridian.
    let equation = ((sidereal - right_ascension) / TAU + 0.5).rem_euclid(1.0);
    ApparentSun {
        equation_of_time_d: if equation > 0.5 {
            equation - 1.0
        } else {
            equation
        },
        tan_declination: sin_declination / (1.0 - sin_declination * sin_declination).sqrt(),
    }
}

/// Nutation in longitude and in obliquity, radians.
fn nutation(century: f64) -> (f64, f64) {
    // Degrees and degrees per century: mean elongation of the moon, mean anomalies of sun and moon,
    // moon's argument of latitude, longitude of its node.
    let arguments_turns = [
        [297.85036, 445267.111480, -0.0019142, 1.0 / 189474.0],
        [357.52772, 35999.050340, -0.0001603, -1.0 / 300000.0],
        [134.96298, 477198.867398, 0.0086972, 1.0 / 56250.0],
        [93.27191, 483202.017538, -0.0036825, 1.0 / 327270.0],
        [125.04452, -1934.136261, 0.0020708, 1.0 / 450000.0],
    ]
    .map(|coefficients| horner(century, &coefficients) / 360.0);

    let table = &terms::NUTATION;
    let argument_turns: [f64; 63] = std::array::from_fn(|i| {
        arguments_turns
            .iter()
            .zip(&table.multiples)
            .map(|(turns, m)| turns * m[i])
            .sum()
    });
    let longitude = (0..63).map(|i| {
        (table.longitude[i] + table.longitude_rate[i] * century)
            * cos_turns(argument_turns[i] - 0.25)
    });
    let obliquity = (0..63).map(|i| {
        (table.obliquity[i] + table.obliquity_rate[i] * century) * cos_turns(argument_turns[i])
    });
    (
        longitude.sum::<f64>() * 1e-4 * ARCSECOND,
        obliquity.sum::<f64>() * 1e-4 * ARCSECOND,
    )
}

fn sum<const N: usize>(series: &Series<N>, millennium: f64) -> f64 {
    // Terms first, sum after: an ordered sum in the same loop would keep it from vectorising.
    let terms: [f64; N] = std::array::from_fn(|i| {
        series.amplitude[i] * cos_turns(series.phase_turns[i] + series.rate_turns[i] * millennium)
    });
    terms.iter().sum()
}

fn horner(x: f64, coefficients: &[f64]) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// cos(2π `turns`), to 2e-11. No branch and no call, so that loops over it vectorise.
#[inline]
fn cos_turns(turns: f64) -> f64 {
    // Adding and taking off 1.5 * 2^52 rounds to the nearest whole number.
    const ROUND: f64 = 6_755_399_441_055_744.0;
    let r = turns - ((turns + ROUND) - ROUND);
    // cos 2x = 1 - 2 sin^2 x, with the Taylor series of the sine on a quarter turn either side.
    let x = PI * r;
    let y = x * x;
    let mut sine = -1.0 / 1_307_674_368_000.0;
    sine = sine * y + 1.0 / 6_227_020_800.0;
    sine = sine * y - 1.0 / 39_916_800.0;
    sine = sine * y + 1.0 / 362_880.0;
    sine = sine * y - 1.0 / 5_040.0;
    sine = sine * y + 1.0 / 120.0;
    sine = sine * y - 1.0 / 6.0;
    sine = (sine * y + 1.0) * x;
    1.0 - 2.0 * sine * sine
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cosine_of_turns() {
        for i in -4000..4000 {
            let turns = f64::from(i) * 0.001_7;
            let error = cos_turns(turns) - (TAU * turns).cos();
            assert!(error.abs() < 3e-11, "{turns}: {error:e}");
        }
    }

    #[test]
    fn sun_of_a_worked_example() {
        // Meeus, Astronomical Algorithms (2nd ed.), example 25.b: 1992-10-13 0 h TD, apparent
        // declination -7°47'01.74" (from memory). At 0 h UT the sun is 59 s further on its way,
        // which is 0.9" of declination.
        let day = chrono::NaiveDate::from_ymd_opt(1992, 10, 13)
            .unwrap()
            .to_epoch_days();
        let declination_deg = apparent_sun(day).tan_declination.atan().to_degrees();
        assert!(
            (declination_deg + 7.783_82 + 0.000_25).abs() < 0.000_1,
            "{declination_deg}"
        );
    }
}
