//! Making a table: from numbers to steps.

use super::coder::NoFile;
use super::format::{
    COAST_COLUMNS, COAST_PER_DEGREE, COAST_ROWS, COAST_STEPS, COLUMNS, EFFECT_NUMBERS,
    ELEMENT_PLANES, ELEMENTS, ELEVATION_PLANE, ERROR_PLANE, ERROR_WITHOUT_ELEVATION_PLANE,
    FIELD_COLUMNS, FIELD_PLANES, FIELD_ROWS, HARMONIC_NUMBERS, PLANES, ROWS, STORED_FALL_PER_KM,
    UNIT, field_steps, steps,
};
use super::lattice::{PARTS, Point};
use super::table::{COAST, ClimateTable, FIELDS};
use crate::error::Error;

/// What a bit of the file may cost in squared error, in units of [`UNIT`] squared: chosen with the
/// steps so that the table is small and stations left out are met almost as well as without rounding.
const ERROR_PER_BIT: f64 = 0.058;
/// The same for closeness to the sea, in steps squared.
const COAST_ERROR_PER_BIT: f64 = 0.18;
/// How much of an error already made in a node's course its effects are to make good.
const MADE_GOOD: f64 = 0.8;

/// What a table is made from: the numbers before they are rounded to steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The nodes, row by row from the south-west, [`ROWS`] times [`COLUMNS`].
    pub nodes: Vec<Option<DraftNode>>,
    /// Closeness to the sea, 0 to 1, [`COAST_ROWS`] times [`COAST_COLUMNS`].
    pub coast: Vec<f64>,
    /// Level and spread of the days today, [`FIELD_ROWS`] times [`FIELD_COLUMNS`] nodes of the planes
    /// of [`format`](super::format).
    pub fields: Vec<[f64; FIELD_PLANES]>,
}

/// One node of a [`Draft`].
#[derive(Debug, Clone, PartialEq)]
pub struct DraftNode {
    /// Whether the square degree around it is land.
    pub is_land: bool,
    /// Minimum, maximum, square root of rain, wet days.
    pub elements: [DraftElement; ELEMENTS],
    /// Mean elevation of the land around, m.
    pub elevation_m: f64,
    /// Root mean square error of today's monthly minima and maxima hereabouts, away from the shore,
    /// °C, where the site's elevation is given.
    pub error_c: f64,
    /// The same where it is not.
    pub error_without_elevation_c: f64,
    /// What the places around say of level, height and shore: weighted means of the products of
    /// one, elevation (km) and closeness to the sea, each with each. Numbers of which they say
    /// little are rounded more.
    pub evidence: [[f64; 3]; 3],
}

/// The yearly course of one element around a node.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DraftElement {
    /// At sea level, far inland.
    pub course: [f64; HARMONIC_NUMBERS],
    /// Change per km of height.
    pub per_km: [f64; EFFECT_NUMBERS],
    /// Change at the shore.
    pub at_shore: [f64; EFFECT_NUMBERS],
}

impl ClimateTable {
    /// Rounds a draft to the table's steps, each number to the one near it that takes least room for
    /// the error it makes.
    ///
    /// # Errors
    /// `inconsistent` for a draft of another size than the format's, or with a number that no
    /// table can hold.
    pub fn from_draft(draft: &Draft) -> Result<Self, Error> {
        let bad = |problem: String| Error::Inconsistent {
            field: "draft".to_owned(),
            problem,
        };
        let sizes = (draft.nodes.len(), draft.coast.len(), draft.fields.len());
        let right_sizes = (
            ROWS * COLUMNS,
            COAST_ROWS * COAST_COLUMNS,
            FIELD_ROWS * FIELD_COLUMNS,
        );
        if sizes != right_sizes {
            return Err(bad(format!(
                "nodes, coast points and nodes of the fields are {sizes:?}, not {right_sizes:?}"
            )));
        }
        for numbers in &draft.fields {
            for (number, step) in numbers.iter().zip(field_steps()) {
                if number.is_nan() || (number / step).abs() >= 2000.0 {
                    return Err(bad(format!("{number} in a field does not fit")));
                }
            }
        }
        let mut table = ClimateTable::empty();
        let step = steps();
        for (place, node) in draft.nodes.iter().enumerate() {
            let Some(node) = node else { continue };
            for (plane, number) in node.stored(node.elevation_m).into_iter().enumerate() {
                let steps = number / step[plane];
                // Not a number is no step either. A node needs room for the parts of steps.
                if steps.is_nan() || steps.abs() >= 2000.0 {
                    return Err(bad(format!("{number} in plane {plane} does not fit")));
                }
            }
            table.nodes[place] = 0;
            table.land[place] = node.is_land;
        }
        let mut rounding = Rounding::new(draft);
        table.code(&mut NoFile, |plane, point| rounding.steps(plane, point));
        Ok(table)
    }
}

impl DraftNode {
    /// The numbers of the planes: each course stands for the node's own elevation as the table has
    /// it, brought to sea level at the fixed rate.
    fn stored(&self, elevation_m: f64) -> [f64; PLANES] {
        let elevation_km = elevation_m / 1000.0;
        let mut numbers = [0.0; PLANES];
        for (element, draft) in self.elements.iter().enumerate() {
            let first = element * ELEMENT_PLANES;
            let mut per_km = draft.per_km;
            per_km[0] += STORED_FALL_PER_KM[element];
            for (i, number) in draft.course.iter().enumerate() {
                let from_height = per_km.get(i).map_or(0.0, |rate| rate * elevation_km);
                numbers[first + i] = number + from_height;
            }
            let effects = per_km.iter().chain(&draft.at_shore);
            for (i, number) in effects.enumerate() {
                numbers[first + HARMONIC_NUMBERS + i] = *number;
            }
        }
        numbers[ELEVATION_PLANE] = self.elevation_m;
        numbers[ERROR_PLANE] = self.error_c;
        numbers[ERROR_WITHOUT_ELEVATION_PLANE] = self.error_without_elevation_c;
        numbers
    }
}

/// The choice of steps, plane by plane.
struct Rounding<'a> {
    draft: &'a Draft,
    step: [f64; PLANES],
    /// What is to be stored at each node; complete once its elevation is rounded.
    wanted: Vec<[f64; PLANES]>,
    /// What rounding has added to it.
    error: Vec<[f64; PLANES]>,
    /// Share of a node in the land around it.
    share: Vec<f64>,
}

impl<'a> Rounding<'a> {
    fn new(draft: &'a Draft) -> Self {
        let is_land = |row: usize, column: usize| {
            draft.nodes[row * COLUMNS + column % COLUMNS]
                .as_ref()
                .is_some_and(|node| node.is_land)
        };
        let share = |place: usize| {
            let (row, column) = (place / COLUMNS, place % COLUMNS + COLUMNS);
            if is_land(row, column) {
                return 1.0;
            }
            // A node at sea answers only for the edges of the land next to it.
            let mut share: f64 = 0.02;
            for r in row.saturating_sub(1)..=(row + 1).min(ROWS - 1) {
                for c in column - 1..=column + 1 {
                    let straight = r == row || c == column;
                    if is_land(r, c) {
                        share += if straight { 0.15 } else { 0.03 };
                    }
                }
            }
            share.min(1.0)
        };
        Rounding {
            draft,
            step: steps(),
            wanted: vec![[0.0; PLANES]; ROWS * COLUMNS],
            error: vec![[0.0; PLANES]; ROWS * COLUMNS],
            share: (0..ROWS * COLUMNS).map(share).collect(),
        }
    }

    /// How many steps a point is to be off what is expected of it.
    fn steps(&mut self, plane: usize, point: Point) -> i32 {
        if plane == COAST {
            return self.coast_steps(point);
        }
        if let Some(field) = plane.checked_sub(FIELDS) {
            let wanted = self.draft.fields[point.place][field] / field_steps()[field];
            return (wanted - f64::from(point.expected) / f64::from(PARTS)).round() as i32;
        }
        let place = point.place;
        let Some(node) = self.draft.nodes[place].as_ref() else {
            return 0;
        };
        if plane == ELEVATION_PLANE {
            self.wanted[place] = node.stored(node.elevation_m);
        }
        let step = self.step[plane];
        let (weight, wanted) = self.weight_and_wanted(node, place, plane);
        let expected = f64::from(point.expected) / f64::from(PARTS);
        let coarse = [1.0, 2.5, 5.0, 5.0][coarseness(place / COLUMNS, place % COLUMNS)];
        let chosen = cheapest(
            wanted / step - expected,
            weight * step * step * self.share[place] * coarse,
            ERROR_PER_BIT,
            point,
        );
        let stored = (expected + f64::from(chosen)) * step;
        self.error[place][plane] = stored - self.wanted[place][plane];
        if plane == ELEVATION_PLANE {
            self.wanted[place] = node.stored(stored);
        }
        chosen
    }

    /// What a squared error of a plane weighs at a node, and the value that makes good best what
    /// has been rounded there before.
    fn weight_and_wanted(&self, node: &DraftNode, place: usize, plane: usize) -> (f64, f64) {
        let (wanted, error) = (&self.wanted[place], &self.error[place]);
        if plane >= ELEVATION_PLANE {
            // In mountains a hundred metres are less than by the sea.
            let mountains = match plane {
                ELEVATION_PLANE => 3.0 / (1.0 + (node.elevation_m / 500.0).powi(2)),
                _ => 1.0,
            };
            return (mountains / self.step[plane].powi(2), wanted[plane]);
        }
        let (element, number) = (plane / ELEMENT_PLANES, plane % ELEMENT_PLANES);
        let first = element * ELEMENT_PLANES;
        let wave = number.saturating_sub(HARMONIC_NUMBERS) % EFFECT_NUMBERS;
        // The mean of a wave's square is a half.
        let is_mean = number == 0 || (number >= HARMONIC_NUMBERS && wave == 0);
        let of_wave = if is_mean { 1.0 } else { 0.5 };
        let scale = of_wave / UNIT[element].powi(2);
        // The evidence, with heights counted from the node's own.
        let km = (wanted[ELEVATION_PLANE] + error[ELEVATION_PLANE]) / 1000.0;
        let [[one, height, shore], [_, height_2, both], [_, _, shore_2]] = node.evidence;
        let height_2 = (height_2 - 2.0 * km * height + km * km * one).max(0.002);
        let (height, both) = (height - km * one, both - km * shore);
        let shore_2 = shore_2.max(0.002);
        let height_plane = first + HARMONIC_NUMBERS + wave;
        let (of_course, of_height) = (error[first + wave], error[height_plane]);
        let (weight, to_make_good) = match number {
            0..HARMONIC_NUMBERS => (1.0, 0.0),
            _ if plane == height_plane => (height_2, height * of_course / height_2),
            _ => (shore_2, (shore * of_course + both * of_height) / shore_2),
        };
        (scale * weight, wanted[plane] - MADE_GOOD * to_make_good)
    }

    fn coast_steps(&self, point: Point) -> i32 {
        let (row, column) = (point.place / COAST_COLUMNS, point.place % COAST_COLUMNS);
        // The squares of land on which or at whose edge the point lies.
        let half = COAST_PER_DEGREE / 2;
        let by_land = [half, half - 1].iter().any(|r| {
            [half, half - 1].iter().any(|c| {
                let row = ((row + r) / COAST_PER_DEGREE).min(ROWS - 1);
                let column = (column + c) / COAST_PER_DEGREE % COLUMNS;
                self.draft.nodes[row * COLUMNS + column]
                    .as_ref()
                    .is_some_and(|node| node.is_land)
            })
        });
        let coarse = [1.0, 3.0, 10.0, 10.0][coarseness(row, column)];
        let closeness = self.draft.coast[point.place].clamp(0.0, 1.0) * COAST_STEPS;
        cheapest(
            closeness - f64::from(point.expected) / f64::from(PARTS),
            coarse * if by_land { 1.0 } else { 0.05 },
            COAST_ERROR_PER_BIT,
            point,
        )
    }
}

/// How early a point is coded, from 0 for the last to 3. An early one's error goes into all that are
/// expected from it, so it weighs more.
fn coarseness(row: usize, column: usize) -> usize {
    (row | column | 1 << 3).trailing_zeros() as usize
}

/// The number of steps with the least sum of weighted squared error and bits, by a rough guess of
/// the bits.
fn cheapest(wanted: f64, weight: f64, error_per_bit: f64, point: Point) -> i32 {
    let nearest = wanted.round() as i32;
    let cost = |steps: i32| {
        let off = wanted - f64::from(steps);
        let bits = match steps.unsigned_abs() {
            0 => 0.3,
            size => 8.0 - 0.5 * point.unrest.level() as f64 + 2.0 * f64::from(size).log2(),
        };
        weight * off * off + error_per_bit * bits
    };
    [nearest - nearest.signum(), 0]
        .into_iter()
        .fold(nearest, |best, steps| {
            if cost(steps) < cost(best) {
                steps
            } else {
                best
            }
        })
}
