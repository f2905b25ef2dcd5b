//! How the table's file is laid out, for the reader here and for the program that writes it.
//!
//! The file is [`MAGIC`], a check sum of four bytes and one stream of bits, each coded with the
//! chance that the bits before it give (`coder.rs`):
//!
//! 1. for every node, row by row from the south, each row from the west: is there a node, and if
//!    so, is the square degree around it land;
//! 2. plane by plane ([`order`]), for every node that is there, coarse before fine (`lattice.rs`):
//!    how many steps ([`steps`]) it is off what the nodes before it, and the plane before, suggest;
//! 3. for every point of the finer coast field within a degree of land: closeness to the sea, the
//!    same way;
//! 4. plane by plane, for every node of the coarse fields around a node of the grid: level and spread
//!    of the days today (`fields.rs`), the same way.

/// First bytes of the file.
pub const MAGIC: [u8; 8] = *b"ALMCLIM3";
/// Rows of nodes, one degree apart, the first at [`FIRST_LATITUDE_DEG`].
pub const ROWS: usize = 92;
/// Columns of nodes, one degree apart, the first at [`FIRST_LONGITUDE_DEG`], closing the circle.
pub const COLUMNS: usize = 360;
/// Latitude of the southernmost row.
pub const FIRST_LATITUDE_DEG: f64 = -45.5;
/// Longitude of the westernmost column.
pub const FIRST_LONGITUDE_DEG: f64 = -179.5;

/// Points of the coast field to one degree.
pub const COAST_PER_DEGREE: usize = 4;
/// Rows of the coast field; its first lies on the first row of nodes, its last on the last.
pub const COAST_ROWS: usize = (ROWS - 1) * COAST_PER_DEGREE + 1;
/// Columns of the coast field.
pub const COAST_COLUMNS: usize = COLUMNS * COAST_PER_DEGREE;
/// Closeness to the sea is stored in this many steps.
pub const COAST_STEPS: f64 = 10.0;
/// Distance from the sea at which closeness has fallen to 1/e, km.
pub const COAST_LENGTH_KM: f64 = 100.0;

/// Numbers that give a year's course: the mean, and cosine and sine of the first three harmonics
/// of the year.
pub const HARMONIC_NUMBERS: usize = 7;
/// Numbers that give the yearly course of an effect: the mean and the first harmonic.
pub const EFFECT_NUMBERS: usize = 3;
/// Planes of one element: its course at the node's elevation inland, what a kilometre of height
/// changes, what the shore changes.
pub const ELEMENT_PLANES: usize = HARMONIC_NUMBERS + 2 * EFFECT_NUMBERS;
/// Minimum, maximum, square root of rain, wet days.
pub const ELEMENTS: usize = 4;
/// The plane of the mean elevation of the land around a node, m.
pub const ELEVATION_PLANE: usize = ELEMENTS * ELEMENT_PLANES;
/// The plane of the error where the site's elevation is given, °C.
pub const ERROR_PLANE: usize = ELEVATION_PLANE + 1;
/// The plane of the error where it is not, °C.
pub const ERROR_WITHOUT_ELEVATION_PLANE: usize = ELEVATION_PLANE + 2;
/// All planes.
pub const PLANES: usize = ELEVATION_PLANE + 3;

/// Fall of each element with height by which values are brought to sea level before they are
/// stored, per km: smoother planes make a smaller file. The reader puts it back.
pub const STORED_FALL_PER_KM: [f64; ELEMENTS] = [5.7, 5.1, 0.0, 0.0];

/// The planes as they follow one another in the file.
pub fn order() -> impl Iterator<Item = usize> {
    let by_number = (0..ELEVATION_PLANE).map(|i| i % ELEMENTS * ELEMENT_PLANES + i / ELEMENTS);
    (ELEVATION_PLANE..PLANES).chain(by_number)
}

/// Sixteenths of a step that a plane is expected to go along with each step of the plane before:
/// maxima go with minima, wet days with rain.
pub fn follow(plane: usize) -> i32 {
    match plane / ELEMENT_PLANES {
        1 => MAXIMUM_FOLLOWS,
        3 => WET_DAYS_FOLLOW,
        _ => 0,
    }
}

const MAXIMUM_FOLLOWS: i32 = 5;
const WET_DAYS_FOLLOW: i32 = 6;

/// Errors of minimum and maximum (°C), of the root of rain (√mm) and of wet days (d) that weigh
/// alike when numbers are rounded.
pub const UNIT: [f64; ELEMENTS] = [0.28, 0.28, 0.38, 0.46];

/// The size of one step in each plane.
pub fn steps() -> [f64; PLANES] {
    // In units of the element: mean, first, second and third harmonic; mean and harmonic of the
    // effect of height; the same of the shore.
    const OF_NUMBER: [f64; ELEMENT_PLANES] = [
        1.0, 1.35, 1.35, 0.9, 0.9, 0.7, 0.7, 3.2, 3.0, 3.0, 1.75, 1.5, 1.5,
    ];
    std::array::from_fn(|plane| match plane {
        ELEVATION_PLANE => 80.0,
        ERROR_PLANE => 0.15,
        ERROR_WITHOUT_ELEVATION_PLANE => 0.3,
        _ => UNIT[plane / ELEMENT_PLANES] * OF_NUMBER[plane % ELEMENT_PLANES],
    })
}

/// Degrees between the nodes of the coarse fields; the first stands at 45° south and 180° west.
pub const FIELD_SPACING_DEG: f64 = 5.0;
/// Rows of the fields.
pub const FIELD_ROWS: usize = 19;
/// Columns of the fields, closing the circle.
pub const FIELD_COLUMNS: usize = 72;
/// What modern stations add to the months' means and to half their daily range (mean, cosine and sine
/// of the year), inland and what the shore changes, °C; logarithms of the standard deviations of minima and
/// maxima (two harmonics) and what the shore changes in them (one).
pub const FIELD_PLANES: usize = 4 * 3 + 2 * 5 + 2 * 3;

/// The size of one step in each plane of the fields.
pub fn field_steps() -> [f64; FIELD_PLANES] {
    std::array::from_fn(|plane| match plane {
        0..6 => 0.1,
        6..12 => 0.15,
        12..22 => 0.04,
        _ => 0.06,
    })
}
