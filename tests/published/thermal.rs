//! Degree-days against values run with another library.
// Helpers outside of the test functions may stop the test as well.
#![allow(clippy::unwrap_used)]

use apiary_almanac::thermal::{DayShape, DegreeDays};

/// Lower and upper threshold; minimum and maximum; single sine and single triangle, °C·d.
type Row = (f64, Option<f64>, f64, f64, f64, f64);

fn check(rows: &[Row], tolerance: f64) {
    for &(lower, upper, minimum, maximum, sine, triangle) in rows {
        for (shape, expected) in [
            (DayShape::SingleSine, sine),
            (DayShape::SingleTriangle, triangle),
        ] {
            let count = DegreeDays::new(shape, lower, upper).unwrap();
            let value = count.of(minimum, maximum).unwrap();
            assert!(
                (value - expected).abs() <= tolerance,
                "{shape:?} of {minimum} to {maximum} above {lower}: {value}, not {expected}"
            );
        }
    }
}

/// degday 0.4.0 (CRAN), single sine and single triangle with horizontal cut-off, to six decimals.
#[test]
fn values_of_degday() {
    check(
        &[
            (12.0, Some(30.0), 10.0, 24.0, 5.325635, 5.142857),
            (12.0, Some(30.0), 16.0, 36.0, 12.558682, 13.1),
            (12.0, Some(30.0), 8.0, 34.0, 9.0, 9.0),
            (12.0, Some(30.0), 31.0, 38.0, 18.0, 18.0),
            (15.0, Some(32.0), 9.2, 20.8, 1.846197, 1.45),
        ],
        6e-7,
    );
}

/// Baskerville & Emin 1969, Ecology 50:514–517, worked out by hand: base 12 °C and upper threshold
/// 33 °C, then base 18 °C.
#[test]
fn values_of_the_formulas() {
    check(&[(12.0, Some(33.0), 7.0, 14.0, 0.468, 0.286)], 6e-4);
    check(
        &[
            (18.0, None, 12.0, 26.0, 2.7509, 2.2857),
            (18.0, None, 15.0, 30.0, 5.0816, 4.8),
            (18.0, None, 10.0, 20.0, 0.3877, 0.2),
        ],
        6e-5,
    );
}
