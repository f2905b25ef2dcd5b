//! Coarse fields over the grid: what modern stations add to the level of the normals, and how far
//! days stray from them.
//!
//! Each field is a number every five degrees for far inland and another for what the shore changes;
//! both are blended between the four nodes around a point.

use std::f64::consts::TAU;

use super::coder::BitCoder;
use super::format::{FIELD_COLUMNS, FIELD_PLANES, FIELD_ROWS, FIELD_SPACING_DEG, field_steps};
use super::lattice::{Lattice, PARTS, Point};

/// Latitude of the southernmost row and longitude of the westernmost column.
const FIRST_LATITUDE_DEG: f64 = -45.0;
const FIRST_LONGITUDE_DEG: f64 = -180.0;

/// Numbers of a course of mean and first harmonic.
const ONE_WAVE: usize = 3;
/// Numbers of a course of mean and first two harmonics.
const TWO_WAVES: usize = 5;

/// First planes of the fields, in the order in which they stand in the file.
const LEVEL: usize = 0;
const HALF_RANGE: usize = LEVEL + ONE_WAVE;
const LEVEL_AT_SHORE: usize = HALF_RANGE + ONE_WAVE;
const HALF_RANGE_AT_SHORE: usize = LEVEL_AT_SHORE + ONE_WAVE;
const MINIMUM_SD: usize = HALF_RANGE_AT_SHORE + ONE_WAVE;
const MAXIMUM_SD: usize = MINIMUM_SD + TWO_WAVES;
const MINIMUM_SD_AT_SHORE: usize = MAXIMUM_SD + TWO_WAVES;
const MAXIMUM_SD_AT_SHORE: usize = MINIMUM_SD_AT_SHORE + ONE_WAVE;

/// Standard deviations that a place may have, °C.
const SD_C: (f64, f64) = (0.5, 7.0);

/// The fields of a table.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fields {
    /// Parts of a step ([`PARTS`]) of each plane, node by node from the south-west.
    pub values: Vec<[i16; FIELD_PLANES]>,
    part: [f64; FIELD_PLANES],
    /// [`course`], worked out once.
    course: [[f64; 12]; TWO_WAVES],
}

/// What the fields hold for a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointFields {
    /// What modern stations add to normals with the default [`Warming`](super::Warming): to the
    /// minima and to the maxima of the months, °C.
    pub anchor_c: [[f64; 12]; 2],
    /// Standard deviations of the daily minima and maxima of the months, °C.
    pub sd_c: [[f64; 12]; 2],
}

/// How much of what the shore itself changes in the level reaches a place so close to the sea: a
/// tenth 19 km inland. The airports and lighthouses of a coast stand on its first kilometres.
///
/// ```
/// use apiary_almanac::climate::grid::share_of_shore;
/// assert_eq!(share_of_shore(1.0), 1.0);
/// // 19 km inland, where closeness to the sea is e^(-19 / 100).
/// assert!((share_of_shore((-0.19_f64).exp()) - 0.1).abs() < 0.01);
/// ```
pub fn share_of_shore(closeness_to_sea: f64) -> f64 {
    closeness_to_sea.powi(12)
}

impl Fields {
    pub fn empty() -> Self {
        Fields {
            values: vec![[0; FIELD_PLANES]; FIELD_ROWS * FIELD_COLUMNS],
            part: field_steps().map(|step| step / f64::from(PARTS)),
            course: course(),
        }
    }

    /// Runs the fields through a coder at the nodes that are `there`.
    pub fn code<C: BitCoder>(
        &mut self,
        there: &[bool],
        coder: &mut C,
        mut wish: impl FnMut(usize, Point) -> i32,
    ) {
        let lattice = Lattice::new(there, FIELD_COLUMNS);
        for plane in 0..FIELD_PLANES {
            let field = lattice.code(coder, None, 0, |point| wish(plane, point));
            for (node, value) in self.values.iter_mut().zip(&field.values) {
                node[plane] = *value;
            }
        }
    }

    /// What the fields hold for a point on the grid.
    pub fn at(&self, latitude_deg: f64, longitude_deg: f64, closeness_to_sea: f64) -> PointFields {
        let mut numbers = [0.0; FIELD_PLANES];
        for (node, weight) in field_corners(latitude_deg, longitude_deg) {
            for (sum, parts) in numbers.iter_mut().zip(&self.values[node]) {
                *sum += weight * f64::from(*parts);
            }
        }
        for (number, part) in numbers.iter_mut().zip(&self.part) {
            *number *= part;
        }
        PointFields::new(&numbers, &self.course, closeness_to_sea)
    }
}

impl PointFields {
    /// What numbers of the planes say of a place so close to the sea.
    pub fn from_planes(numbers: &[f64; FIELD_PLANES], closeness_to_sea: f64) -> Self {
        PointFields::new(numbers, &course(), closeness_to_sea)
    }

    fn new(
        numbers: &[f64; FIELD_PLANES],
        course: &[[f64; 12]; TWO_WAVES],
        closeness_to_sea: f64,
    ) -> Self {
        let months = |first: usize, count: usize| -> [f64; 12] {
            let mut sum = [0.0; 12];
            for (number, wave) in numbers[first..first + count].iter().zip(course) {
                for (month, part) in sum.iter_mut().zip(wave) {
                    *month += number * part;
                }
            }
            sum
        };
        let with_shore = |inland: [f64; 12], at_shore: [f64; 12], share: f64| -> [f64; 12] {
            std::array::from_fn(|month| inland[month] + share * at_shore[month])
        };
        let of_level = |inland: usize, at_shore: usize| {
            let share = share_of_shore(closeness_to_sea);
            with_shore(months(inland, ONE_WAVE), months(at_shore, ONE_WAVE), share)
        };
        let sd_c = |inland: usize, at_shore: usize| {
            let (inland, at_shore) = (months(inland, TWO_WAVES), months(at_shore, ONE_WAVE));
            with_shore(inland, at_shore, closeness_to_sea)
                .map(|logarithm| logarithm.exp().clamp(SD_C.0, SD_C.1))
        };
        let level = of_level(LEVEL, LEVEL_AT_SHORE);
        let half_range = of_level(HALF_RANGE, HALF_RANGE_AT_SHORE);
        PointFields {
            anchor_c: [
                std::array::from_fn(|month| level[month] - half_range[month]),
                std::array::from_fn(|month| level[month] + half_range[month]),
            ],
            sd_c: [
                sd_c(MINIMUM_SD, MINIMUM_SD_AT_SHORE),
                sd_c(MAXIMUM_SD, MAXIMUM_SD_AT_SHORE),
            ],
        }
    }
}

/// Mean, and cosine and sine of the year's first two harmonics at the middles of the months.
fn course() -> [[f64; 12]; TWO_WAVES] {
    std::array::from_fn(|number| {
        let order = number.div_ceil(2) as f64;
        std::array::from_fn(|month| {
            let turn = order * TAU * (month as f64 + 0.5) / 12.0;
            if number % 2 == 0 && number > 0 {
                turn.sin()
            } else {
                turn.cos()
            }
        })
    })
}

/// The nodes of the fields around a point of the grid, with their weights.
pub fn field_corners(latitude_deg: f64, longitude_deg: f64) -> [(usize, f64); 4] {
    let rows = ((latitude_deg - FIRST_LATITUDE_DEG) / FIELD_SPACING_DEG).max(0.0);
    let columns = ((longitude_deg - FIRST_LONGITUDE_DEG) / FIELD_SPACING_DEG).max(0.0);
    let (row, column) = ((rows as usize).min(FIELD_ROWS - 2), columns as usize);
    let (north, east) = ((rows - row as f64).min(1.0), columns - column as f64);
    let place = |row: usize, column: usize| row * FIELD_COLUMNS + column % FIELD_COLUMNS;
    [
        (place(row, column), (1.0 - north) * (1.0 - east)),
        (place(row, column + 1), (1.0 - north) * east),
        (place(row + 1, column), north * (1.0 - east)),
        (place(row + 1, column + 1), north * east),
    ]
}

/// Latitude and longitude of a node of the fields.
pub fn field_node(place: usize) -> (f64, f64) {
    let (row, column) = (place / FIELD_COLUMNS, place % FIELD_COLUMNS);
    (
        FIRST_LATITUDE_DEG + row as f64 * FIELD_SPACING_DEG,
        FIRST_LONGITUDE_DEG + column as f64 * FIELD_SPACING_DEG,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_add_to_one_and_the_globe_closes() {
        for (latitude, longitude) in [(-45.0, -180.0), (45.0, 180.0), (12.3, 179.0), (-0.1, 0.0)] {
            let corners = field_corners(latitude, longitude);
            let sum: f64 = corners.iter().map(|(_, weight)| weight).sum();
            assert!((sum - 1.0).abs() < 1e-12);
            for (place, weight) in corners {
                let (north, east) = field_node(place);
                let apart = (east - longitude + 540.0).rem_euclid(360.0) - 180.0;
                assert!(weight >= 0.0 && (north - latitude).abs() <= 5.0 && apart.abs() <= 5.0);
            }
        }
    }

    #[test]
    fn a_shore_lasts_some_twenty_kilometres() {
        assert_eq!(share_of_shore(1.0), 1.0);
        let inland = f64::exp(-19.0 / 100.0);
        assert!((0.09..0.11).contains(&share_of_shore(inland)));
    }
}
