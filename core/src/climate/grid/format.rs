//! How the table's file is laid out, for the reader here and for the program that writes it.
//!
//! The file is [`MAGIC`] and one stream of bits, each coded with the chance that the bits before
//! it give ([`BitDecoder`](super::coder::BitDecoder)):
//!
//! 1. for every node, row by row from the south, each row from the west: is there a node, and if
//!    so, is the square degree around it land;
//! 2. plane by plane ([`steps`]), for every node that is there: the value, as a whole number of
//!    steps, as its difference from what the neighbours to the west and south suggest;
//! 3. for every point of the finer coast field next to a node: closeness to the sea, the same way.

/// First bytes of the file.
pub const MAGIC: [u8; 8] = *b"ALMCLIM1";
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
pub const COAST_STEPS: f64 = 20.0;
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

/// The size of one step in each plane.
pub const fn steps() -> [f64; PLANES] {
    // Mean, first, second and third harmonic; then the effects' mean and harmonic.
    const TEMPERATURE: [f64; 5] = [0.25, 0.25, 0.25, 0.3, 0.5];
    const ROOT_OF_RAIN: [f64; 5] = [0.25, 0.25, 0.3, 0.4, 0.6];
    const WET_DAYS: [f64; 5] = [0.4, 0.4, 0.4, 0.5, 1.0];
    let by_element = [TEMPERATURE, TEMPERATURE, ROOT_OF_RAIN, WET_DAYS];
    let mut steps = [0.0; PLANES];
    let mut plane = 0;
    while plane < ELEVATION_PLANE {
        let sizes = by_element[plane / ELEMENT_PLANES];
        steps[plane] = match plane % ELEMENT_PLANES {
            0 => sizes[0],
            1 | 2 => sizes[1],
            3 | 4 => sizes[2],
            5 | 6 => sizes[3],
            _ => sizes[4],
        };
        plane += 1;
    }
    steps[ELEVATION_PLANE] = 25.0;
    steps[ERROR_PLANE] = 0.1;
    steps[ERROR_WITHOUT_ELEVATION_PLANE] = 0.2;
    steps
}
