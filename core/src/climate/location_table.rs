//! Printed by `tools/src/bin/fit_location_default.rs`; not edited by hand.
//!
//! Derived from CRU CL 2.0: New, M., Lister, D., Hulme, M. & Makin, I. (2002), A
//! high-resolution data set of surface climate over global land areas, Climate Research
//! 21:1–25; means of 1961–1990, Climatic Research Unit. Terms, from memory: Open Database
//! License 1.0, with acknowledgement.

/// Latitude of the southernmost knot, degrees north.
pub(super) const FIRST_KNOT_DEG: f64 = -50.0;
/// Degrees of latitude from knot to knot.
pub(super) const KNOT_SPACING_DEG: f64 = 10.0;

/// Change of the daily minimum with elevation, °C/m.
pub(super) const MINIMUM_PER_METRE_C: f64 = -0.00459;
/// The daily minimum at sea level, °C, a row for each knot from the south:
/// mean; cosine and sine of the yearly wave; the same of the half-yearly.
pub(super) const MINIMUM_C: [[f64; 5]; 14] = [
    [3.78, 4.02, 1.16, -0.24, 0.19],
    [7.88, 3.62, 1.74, 0.03, 0.37],
    [14.01, 6.13, 2.01, -0.41, 0.41],
    [19.34, 4.64, 0.78, -1.08, -0.09],
    [21.67, 1.62, 0.54, -0.68, -0.43],
    [22.11, 0.23, 0.34, -0.05, -0.20],
    [23.11, -1.50, 0.40, -0.76, -0.28],
    [22.22, -4.72, -0.92, -1.14, -0.80],
    [15.83, -9.40, -3.12, -0.66, 0.45],
    [8.03, -10.74, -3.93, -0.26, 0.30],
    [2.41, -11.46, -3.89, -0.58, -0.52],
    [-2.17, -13.19, -4.61, -0.38, -0.34],
    [-11.14, -16.32, -6.73, 0.70, 0.66],
    [-22.29, -18.05, -8.41, 3.81, 1.42],
];

/// Change of the daily maximum with elevation, °C/m.
pub(super) const MAXIMUM_PER_METRE_C: f64 = -0.00331;
/// The daily maximum at sea level, °C, a row for each knot from the south:
/// mean; cosine and sine of the yearly wave; the same of the half-yearly.
pub(super) const MAXIMUM_C: [[f64; 5]; 14] = [
    [11.01, 5.29, 0.86, -0.75, 0.20],
    [17.86, 6.31, 2.43, -0.26, 0.67],
    [26.40, 6.53, 1.49, -0.32, 0.41],
    [30.61, 2.55, -0.19, -1.09, 0.08],
    [31.86, 0.48, -0.67, -0.62, -0.27],
    [30.97, 0.66, -0.03, -0.20, 0.08],
    [32.95, 0.03, 1.57, -0.83, -0.28],
    [32.52, -3.10, 0.73, -1.43, -1.08],
    [27.33, -9.06, -2.89, -0.97, -0.12],
    [18.92, -12.52, -4.42, -0.82, 0.29],
    [11.40, -13.68, -3.68, -0.97, -0.18],
    [6.17, -14.96, -3.38, -0.16, -0.01],
    [-3.32, -16.54, -5.38, 0.89, 1.10],
    [-16.49, -17.25, -7.56, 3.26, 0.98],
];

/// Root mean square error and the error that one value in twenty exceeds, °C, of
/// monthly means at places outside the fit. The first row lies south of the first
/// knot, the next between the first and the second, the last north of the last.
pub(super) const ERRORS_C: [(f64, f64); 15] = [
    (1.9, 3.4),
    (1.9, 4.0),
    (2.1, 4.0),
    (2.5, 4.9),
    (2.2, 4.5),
    (2.0, 4.0),
    (2.0, 4.0),
    (2.9, 6.0),
    (3.8, 7.9),
    (3.8, 7.5),
    (5.2, 10.4),
    (6.9, 14.6),
    (8.3, 17.0),
    (7.2, 16.9),
    (4.1, 7.3),
];
