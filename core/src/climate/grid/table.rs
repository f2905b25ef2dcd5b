//! The table itself: decoding, and the yearly course at a point.

use std::f64::consts::TAU;

use super::coder::{Around, BitCoder, BitDecoder, BitEncoder, Chance, DifferenceModel};
use super::format::{
    COAST_COLUMNS, COAST_PER_DEGREE, COAST_ROWS, COAST_STEPS, COLUMNS, EFFECT_NUMBERS,
    ELEMENT_PLANES, ELEMENTS, ELEVATION_PLANE, ERROR_PLANE, ERROR_WITHOUT_ELEVATION_PLANE,
    FIRST_LATITUDE_DEG, FIRST_LONGITUDE_DEG, HARMONIC_NUMBERS, MAGIC, PLANES, ROWS,
    STORED_FALL_PER_KM, steps,
};
use crate::error::Error;

/// Planes before those of rain and wet days.
const RAIN_PLANES: usize = 2 * ELEMENT_PLANES;
/// Mark of a place in the grid that has no node.
const NO_NODE: u16 = u16::MAX;

/// A decoded table of climate on a one-degree grid.
#[derive(Debug, Clone, PartialEq)]
pub struct ClimateTable {
    /// Number of the node at each place of the grid, [`NO_NODE`] where there is none.
    nodes: Vec<u16>,
    /// Whether the square degree around each place is land.
    land: Vec<bool>,
    /// Steps of each plane, node by node.
    values: Vec<[i16; PLANES]>,
    /// Closeness to the sea in steps.
    coast: Vec<u8>,
    step: [f64; PLANES],
    /// Mean, cosines and sines of the year's first harmonics at the middles of the months.
    course: [[f64; 12]; HARMONIC_NUMBERS],
}

/// What a table is made from: the numbers before they are rounded to steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// The nodes, row by row from the south-west, [`ROWS`] times [`COLUMNS`].
    pub nodes: Vec<Option<DraftNode>>,
    /// Closeness to the sea, 0 to 1, [`COAST_ROWS`] times [`COAST_COLUMNS`].
    pub coast: Vec<f64>,
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
    /// Root mean square error of the monthly minima and maxima hereabouts, °C, where the site's
    /// elevation is given.
    pub error_c: f64,
    /// The same where it is not.
    pub error_without_elevation_c: f64,
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

/// What the table holds for a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointCourse {
    /// Twelve values of minimum, maximum, rain and wet days.
    pub elements: [[f64; 12]; ELEMENTS],
    /// Whether the square degree of the point is land; if not, land is near.
    pub on_land: bool,
    /// Mean elevation of the land around, m.
    pub land_elevation_m: f64,
    /// Closeness to the sea: 1 at the shore, 1/e at 100 km.
    pub coast: f64,
    /// Root mean square error of the monthly minima and maxima hereabouts, °C.
    pub typical_error_c: f64,
}

impl ClimateTable {
    /// A table without any land.
    pub fn empty() -> Self {
        ClimateTable {
            nodes: vec![NO_NODE; ROWS * COLUMNS],
            land: vec![false; ROWS * COLUMNS],
            values: Vec::new(),
            coast: vec![0; COAST_ROWS * COAST_COLUMNS],
            step: steps(),
            course: course(),
        }
    }

    /// Decodes a table.
    ///
    /// # Errors
    /// `bad_table`, naming `file`, for bytes that are not such a table, or not a whole one.
    pub fn from_bytes(file: &str, bytes: &[u8]) -> Result<Self, Error> {
        let bad = |problem: &str| Error::BadTable {
            file: file.to_owned(),
            problem: problem.to_owned(),
        };
        let Some((magic, stream)) = bytes.split_first_chunk::<8>() else {
            return Err(bad("it is too short for a climate table"));
        };
        if *magic != MAGIC {
            return Err(bad("it does not begin as a climate table does"));
        }
        let mut table = ClimateTable::empty();
        let mut decoder = BitDecoder::new(stream);
        table.code(&mut decoder);
        if decoder.came_out_even() {
            Ok(table)
        } else {
            Err(bad("the climate table is cut short, too long or damaged"))
        }
    }

    /// Rounds a draft to the table's steps.
    ///
    /// # Errors
    /// `inconsistent` for a draft of another size than the format's, or with a number that no
    /// table can hold.
    pub fn from_draft(draft: &Draft) -> Result<Self, Error> {
        let bad = |problem: String| Error::Inconsistent {
            field: "draft".to_owned(),
            problem,
        };
        let sizes = (draft.nodes.len(), draft.coast.len());
        let right_sizes = (ROWS * COLUMNS, COAST_ROWS * COAST_COLUMNS);
        if sizes != right_sizes {
            return Err(bad(format!(
                "nodes and coast points are {sizes:?}, not {right_sizes:?}"
            )));
        }
        let mut table = ClimateTable::empty();
        for (place, node) in draft.nodes.iter().enumerate() {
            let Some(node) = node else { continue };
            let mut values = [0_i16; PLANES];
            for (plane, number) in node.stored(&table.step).into_iter().enumerate() {
                let steps = (number / table.step[plane]).round();
                // Not a number is no step either.
                if steps.is_nan() || steps.abs() >= 8192.0 {
                    return Err(bad(format!("{number} in plane {plane} does not fit")));
                }
                values[plane] = steps as i16;
            }
            table.nodes[place] = u16::try_from(table.values.len()).unwrap_or(NO_NODE);
            table.land[place] = node.is_land;
            table.values.push(values);
        }
        for row in 0..COAST_ROWS {
            for column in 0..COAST_COLUMNS {
                let place = row * COAST_COLUMNS + column;
                if table.is_near_node(row, column) {
                    table.coast[place] =
                        (draft.coast[place].clamp(0.0, 1.0) * COAST_STEPS).round() as u8;
                }
            }
        }
        Ok(table)
    }

    /// The table as a file.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut encoder = BitEncoder::after(MAGIC.to_vec());
        self.clone().code(&mut encoder);
        encoder.finish()
    }

    /// The table's twelve months at a point, or `None` farther than about half a degree from land and
    /// beyond 45° of latitude. Without an elevation the mean of the land around is taken.
    pub fn at(
        &self,
        latitude_deg: f64,
        longitude_deg: f64,
        elevation_m: Option<f64>,
    ) -> Option<PointCourse> {
        let in_reach = latitude_deg.abs() <= 45.0 && longitude_deg.abs() <= 180.0;
        let elevation_is_number = elevation_m.is_none_or(f64::is_finite);
        if !in_reach || !elevation_is_number {
            return None;
        }
        let corners = self.corners(latitude_deg, longitude_deg)?;
        let blend = |plane: usize| -> f64 {
            corners
                .iter()
                .map(|c| c.weight * f64::from(c.steps(self)[plane]))
                .sum::<f64>()
                * self.step[plane]
        };
        let land_elevation_m = blend(ELEVATION_PLANE);
        let elevation_m_or_mean = elevation_m.unwrap_or(land_elevation_m);
        let coast = self.closeness_to_sea(latitude_deg, longitude_deg);
        // Sums over the corners of every plane's steps, as they are and times the height above the
        // corner. Plain loops over whole planes: the compiler makes vectors of them.
        let mut level = [0.0; ELEVATION_PLANE];
        let mut by_height = [0.0; ELEVATION_PLANE];
        for corner in &corners {
            let steps = corner.steps(self);
            let corner_m = f64::from(steps[ELEVATION_PLANE]) * self.step[ELEVATION_PLANE];
            let above_km = (elevation_m_or_mean - corner_m) / 1000.0;
            let height = corner.weight * above_km;
            // Rain is not carried on into heights of which nothing is known.
            let height_of_rain = corner.weight * above_km.clamp(-1.0, 1.0);
            for (sum, steps) in level.iter_mut().zip(steps) {
                *sum += corner.weight * f64::from(*steps);
            }
            for (plane, (sum, steps)) in by_height.iter_mut().zip(steps).enumerate() {
                let height = if plane < RAIN_PLANES {
                    height
                } else {
                    height_of_rain
                };
                *sum += height * f64::from(*steps);
            }
        }
        let elements = std::array::from_fn(|element| {
            let first = element * ELEMENT_PLANES;
            let mut course = [0.0; 12];
            for (i, wave) in self.course.iter().enumerate() {
                let mut number = level[first + i] * self.step[first + i];
                if i < EFFECT_NUMBERS {
                    let height = first + HARMONIC_NUMBERS + i;
                    let shore = height + EFFECT_NUMBERS;
                    number += by_height[height] * self.step[height]
                        + coast * level[shore] * self.step[shore];
                }
                if i == 0 {
                    number -= STORED_FALL_PER_KM[element] * elevation_m_or_mean / 1000.0;
                }
                for (month, part) in course.iter_mut().zip(wave) {
                    *month += number * part;
                }
            }
            course
        });
        let error = match elevation_m {
            Some(_) => ERROR_PLANE,
            None => ERROR_WITHOUT_ELEVATION_PLANE,
        };
        Some(PointCourse {
            on_land: self.is_land(latitude_deg, longitude_deg),
            elements,
            land_elevation_m,
            coast,
            typical_error_c: blend(error),
        })
    }

    /// Whether the square degree around a point holds land.
    fn is_land(&self, latitude_deg: f64, longitude_deg: f64) -> bool {
        // The edge of the map at 45° north belongs to the row south of it.
        let row = index_below(latitude_deg, -46.0, 1.0).min(ROWS - 2);
        let column = index_below(longitude_deg, -180.0, 1.0) % COLUMNS;
        self.land[row * COLUMNS + column]
    }

    /// The nodes around a point with their weights, which add to one; `None` where none of them is
    /// land.
    fn corners(&self, latitude_deg: f64, longitude_deg: f64) -> Option<[Corner; 4]> {
        let row = index_below(latitude_deg, FIRST_LATITUDE_DEG, 1.0).min(ROWS - 2);
        // Counted from one degree west of the first column, so that it is never below zero.
        let column = index_below(longitude_deg, FIRST_LONGITUDE_DEG - 1.0, 1.0);
        let north = latitude_deg - FIRST_LATITUDE_DEG - row as f64;
        let east = longitude_deg - (FIRST_LONGITUDE_DEG - 1.0) - column as f64;
        let west_column = (column + COLUMNS - 1) % COLUMNS;
        let east_column = column % COLUMNS;
        let places = [
            (row, west_column, (1.0 - north) * (1.0 - east)),
            (row, east_column, (1.0 - north) * east),
            (row + 1, west_column, north * (1.0 - east)),
            (row + 1, east_column, north * east),
        ]
        .map(|(row, column, weight)| (row * COLUMNS + column, weight));
        if !places.iter().any(|(place, _)| self.land[*place]) {
            return None;
        }
        let mut corners = places.map(|(place, weight)| match self.nodes[place] {
            NO_NODE => Corner {
                node: 0,
                weight: 0.0,
            },
            node => Corner {
                node: usize::from(node),
                weight,
            },
        });
        let total: f64 = corners.iter().map(|corner| corner.weight).sum();
        for corner in &mut corners {
            corner.weight /= total;
        }
        // A damaged table may have land without weight.
        (total > 0.0).then_some(corners)
    }

    /// 1 at the shore, falling inland.
    fn closeness_to_sea(&self, latitude_deg: f64, longitude_deg: f64) -> f64 {
        let size = 1.0 / COAST_PER_DEGREE as f64;
        let row = index_below(latitude_deg, FIRST_LATITUDE_DEG, size).min(COAST_ROWS - 2);
        let column = index_below(longitude_deg, FIRST_LONGITUDE_DEG - 1.0, size);
        let north = (latitude_deg - FIRST_LATITUDE_DEG) / size - row as f64;
        let east = (longitude_deg - (FIRST_LONGITUDE_DEG - 1.0)) / size - column as f64;
        let west_column = (column + COAST_COLUMNS - COAST_PER_DEGREE) % COAST_COLUMNS;
        let east_column = (west_column + 1) % COAST_COLUMNS;
        let point = |row: usize, column: usize| f64::from(self.coast[row * COAST_COLUMNS + column]);
        let south_side = point(row, west_column) * (1.0 - east) + point(row, east_column) * east;
        let north_side =
            point(row + 1, west_column) * (1.0 - east) + point(row + 1, east_column) * east;
        (south_side * (1.0 - north) + north_side * north) / COAST_STEPS
    }

    /// Runs the whole table through a coder: a reader fills it, a writer leaves it as it is.
    fn code<C: BitCoder>(&mut self, coder: &mut C) {
        self.code_nodes(coder);
        for plane in 0..PLANES {
            self.code_plane(coder, plane);
        }
        self.code_coast(coder);
    }

    fn code_nodes<C: BitCoder>(&mut self, coder: &mut C) {
        let mut present = [Chance::default(); 8];
        let mut is_land = [Chance::default(); 8];
        let mut count = 0_u16;
        for place in 0..ROWS * COLUMNS {
            let around = |set: &dyn Fn(usize) -> bool| {
                let (west, south) = (place.checked_sub(1), place.checked_sub(COLUMNS));
                let east = place.checked_sub(COLUMNS - 1);
                [west, south, east]
                    .iter()
                    .enumerate()
                    .map(|(i, p)| usize::from(p.is_some_and(set)) << i)
                    .sum::<usize>()
            };
            let context = around(&|p| self.nodes[p] != NO_NODE);
            let here = coder.code(&mut present[context], self.nodes[place] != NO_NODE);
            let context = around(&|p| self.land[p]);
            self.land[place] = here && coder.code(&mut is_land[context], self.land[place]);
            self.nodes[place] = if here { count } else { NO_NODE };
            count += u16::from(here);
        }
        self.values.resize(usize::from(count), [0; PLANES]);
    }

    fn code_plane<C: BitCoder>(&mut self, coder: &mut C, plane: usize) {
        let mut model = DifferenceModel::default();
        let mut last = 0;
        for place in 0..ROWS * COLUMNS {
            let Some(node) = self.node(place) else {
                continue;
            };
            let column = place % COLUMNS;
            let value = |there: bool, back: usize| {
                let place = if there { place.checked_sub(back) } else { None };
                place
                    .and_then(|p| self.node(p))
                    .map(|n| i32::from(self.values[n][plane]))
            };
            let around = Around::new(
                value(column > 0, 1),
                value(true, COLUMNS),
                value(column > 0, COLUMNS + 1),
                value(column + 1 < COLUMNS, COLUMNS - 1),
                last,
            );
            let mine = i32::from(self.values[node][plane]);
            last = around.expected + model.code(coder, around, mine - around.expected);
            self.values[node][plane] = i16::try_from(last).unwrap_or(i16::MAX);
        }
    }

    fn code_coast<C: BitCoder>(&mut self, coder: &mut C) {
        let mut model = DifferenceModel::default();
        let mut last = 0;
        for row in 0..COAST_ROWS {
            for column in 0..COAST_COLUMNS {
                if !self.is_near_node(row, column) {
                    continue;
                }
                let place = row * COAST_COLUMNS + column;
                let value =
                    |there: bool, back: usize| there.then(|| i32::from(self.coast[place - back]));
                let around = Around::new(
                    value(column > 0, 1),
                    value(row > 0, COAST_COLUMNS),
                    value(row > 0 && column > 0, COAST_COLUMNS + 1),
                    value(row > 0 && column + 1 < COAST_COLUMNS, COAST_COLUMNS - 1),
                    last,
                );
                let mine = i32::from(self.coast[place]);
                last = around.expected + model.code(coder, around, mine - around.expected);
                self.coast[place] = u8::try_from(last).unwrap_or(u8::MAX);
            }
        }
    }

    fn node(&self, place: usize) -> Option<usize> {
        Some(self.nodes[place])
            .filter(|node| *node != NO_NODE)
            .map(usize::from)
    }

    /// Whether any node stands at a corner of the square degree in which a point of the coast
    /// field lies.
    fn is_near_node(&self, row: usize, column: usize) -> bool {
        let (south, west) = (row / COAST_PER_DEGREE, column / COAST_PER_DEGREE);
        let east = (west + 1) % COLUMNS;
        let north = (south + 1).min(ROWS - 1);
        [(south, west), (south, east), (north, west), (north, east)]
            .iter()
            .any(|(row, column)| self.nodes[row * COLUMNS + column] != NO_NODE)
    }
}

impl DraftNode {
    /// The numbers of the planes: each course stands for the node's own elevation, brought to sea
    /// level at the fixed rate.
    fn stored(&self, step: &[f64; PLANES]) -> [f64; PLANES] {
        let elevation_step = step[ELEVATION_PLANE];
        let elevation_km = (self.elevation_m / elevation_step).round() * elevation_step / 1000.0;
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

#[derive(Debug, Clone, Copy)]
struct Corner {
    node: usize,
    weight: f64,
}

impl Corner {
    fn steps(self, table: &ClimateTable) -> &[i16; PLANES] {
        &table.values[self.node]
    }
}

/// Number of whole steps from `first` up to `value`, never below zero.
fn index_below(value: f64, first: f64, step: f64) -> usize {
    ((value - first) / step).floor().max(0.0) as usize
}

fn course() -> [[f64; 12]; HARMONIC_NUMBERS] {
    std::array::from_fn(|number| {
        let order = number.div_ceil(2) as f64;
        std::array::from_fn(|month| {
            let turn = order * TAU * (month as f64 + 0.5) / 12.0;
            if number > 0 && number % 2 == 0 {
                turn.sin()
            } else {
                turn.cos()
            }
        })
    })
}

#[cfg(test)]
mod tests {
    use super::super::built_in;
    use super::*;

    fn draft() -> Draft {
        let mut nodes = vec![None; ROWS * COLUMNS];
        // A square of land that crosses the date line.
        for row in 40..48 {
            for column in (355..360).chain(0..5) {
                let wave = (row * column) as f64;
                let element = DraftElement {
                    course: std::array::from_fn(|i| {
                        20.0 / (i + 1) as f64 + (wave + i as f64).sin()
                    }),
                    per_km: [-5.0, 0.3, -0.2],
                    at_shore: [1.0, -2.0, 0.5],
                };
                nodes[row * COLUMNS + column] = Some(DraftNode {
                    is_land: (41..47).contains(&row) && !(4..356).contains(&column),
                    elements: [element; ELEMENTS],
                    elevation_m: 100.0 * (wave % 7.0),
                    error_c: 0.8,
                    error_without_elevation_c: 1.4,
                });
            }
        }
        let coast = (0..COAST_ROWS * COAST_COLUMNS)
            .map(|i| (i % 21) as f64 / 20.0)
            .collect();
        Draft { nodes, coast }
    }

    #[test]
    fn a_table_survives_the_way_through_a_file() {
        let table = ClimateTable::from_draft(&draft()).unwrap();
        let bytes = table.to_bytes();
        assert_eq!(ClimateTable::from_bytes("t", &bytes).unwrap(), table);
    }

    #[test]
    fn the_built_in_table_is_whole() {
        let table = built_in();
        assert_eq!(table.values.len(), 11_860);
        assert_eq!(
            table.to_bytes(),
            include_bytes!("../../../data/climate_grid.bin")
        );
    }

    #[test]
    fn damage_is_told() {
        let bytes = ClimateTable::from_draft(&draft()).unwrap().to_bytes();
        let mut longer = bytes.clone();
        longer.push(0);
        let mut other = bytes.clone();
        other[3] ^= 1;
        let broken = [
            &bytes[..bytes.len() - 1],
            &bytes[..4],
            &[],
            &longer[..],
            &other[..],
        ];
        for bytes in broken {
            let error = ClimateTable::from_bytes("mine.bin", bytes).unwrap_err();
            assert_eq!((error.code(), error.field()), ("bad_table", "mine.bin"));
        }
    }

    #[test]
    fn any_bytes_are_read_without_a_panic() {
        let mut bytes = ClimateTable::from_draft(&draft()).unwrap().to_bytes();
        for i in (8..bytes.len()).step_by(bytes.len() / 8) {
            bytes[i] ^= 0x55;
            if let Ok(table) = ClimateTable::from_bytes("t", &bytes) {
                table.at(-3.0, 179.9, None);
            }
        }
    }

    #[test]
    fn a_draft_of_the_wrong_size_or_content_is_refused() {
        let mut short = draft();
        short.coast.pop();
        let mut huge = draft();
        for node in huge.nodes.iter_mut().flatten() {
            node.elevation_m = f64::NAN;
        }
        for bad in [short, huge] {
            assert_eq!(
                ClimateTable::from_draft(&bad).unwrap_err().code(),
                "inconsistent"
            );
        }
    }

    #[test]
    fn the_date_line_is_no_seam() {
        let table = ClimateTable::from_draft(&draft()).unwrap();
        let at = |longitude| table.at(-1.2, longitude, Some(100.0)).unwrap();
        assert_eq!(at(180.0), at(-180.0));
        let (west, east) = (at(179.9999), at(-179.9999));
        for (a, b) in west
            .elements
            .iter()
            .flatten()
            .zip(east.elements.iter().flatten())
        {
            assert!((a - b).abs() < 1e-2, "{a} {b}");
        }
    }

    #[test]
    fn between_nodes_the_values_are_between() {
        let table = ClimateTable::from_draft(&draft()).unwrap();
        let mean = |latitude: f64, longitude: f64| {
            table
                .at(latitude, longitude, Some(0.0))
                .unwrap()
                .land_elevation_m
        };
        let middle = mean(-2.0, -178.5);
        let halfway = f64::midpoint(mean(-2.5, -178.5), mean(-1.5, -178.5));
        assert!((middle - halfway).abs() < 1e-9);
    }

    #[test]
    fn off_the_land_and_off_the_map_there_is_nothing() {
        let nowhere = [
            (0.0, -140.0),
            (45.1, 0.0),
            (-45.1, 171.0),
            (f64::NAN, 10.0),
            (10.0, f64::INFINITY),
            (10.0, 180.5),
        ];
        for (latitude, longitude) in nowhere {
            assert!(
                built_in().at(latitude, longitude, None).is_none(),
                "{latitude} {longitude}"
            );
        }
        assert!(built_in().at(-28.81, 153.28, Some(f64::NAN)).is_none());
        // The edges themselves are on the map: Limoges' latitude, and the South Island's.
        assert!(built_in().at(45.0, 1.0, None).is_some());
        assert!(built_in().at(-45.0, 170.0, None).is_some());
    }

    #[test]
    fn the_sea_is_near_only_where_it_is() {
        // In the middles of South America, Africa, Asia and Australia.
        for (latitude, longitude) in [(-16.5, -52.5), (0.5, 25.5), (36.5, 86.5), (-23.5, 133.5)] {
            let coast = built_in().at(latitude, longitude, None).unwrap().coast;
            assert!(coast < 0.01, "{latitude} {longitude} {coast}");
        }
        for (latitude, longitude) in [(-28.86, 153.59), (-22.99, -43.2), (1.3, 103.8)] {
            let coast = built_in().at(latitude, longitude, None).unwrap().coast;
            assert!(coast > 0.85, "{latitude} {longitude} {coast}");
        }
        // A quarter degree is at most 28 km, over which closeness changes by a quarter; one more
        // step is rounding.
        let mut before = None;
        for row in 0..COAST_ROWS {
            for column in 0..COAST_COLUMNS {
                let here = built_in().coast[row * COAST_COLUMNS + column];
                if built_in().is_near_node(row, column) {
                    if let Some(before) = before {
                        assert!(u8::abs_diff(here, before) <= 7, "{row} {column}");
                    }
                    before = Some(here);
                } else {
                    before = None;
                }
            }
            before = None;
        }
    }

    #[test]
    fn every_land_degree_answers_with_sensible_numbers() {
        let mut land = 0;
        for row in 0..90 {
            for column in 0..360 {
                let (latitude, longitude) = (-44.6 + f64::from(row), -179.3 + f64::from(column));
                let Some(point) = built_in().at(latitude, longitude, None) else {
                    continue;
                };
                land += 1;
                let [low, high, rain, wet] = &point.elements;
                for month in 0..12 {
                    assert!(
                        (-40.0..35.0).contains(&low[month]),
                        "{latitude} {longitude}"
                    );
                    assert!(
                        (-25.0..50.0).contains(&high[month]),
                        "{latitude} {longitude}"
                    );
                    assert!(low[month] < high[month], "{latitude} {longitude}");
                    assert!(
                        rain[month] < 45.0 && wet[month] < 33.0,
                        "{latitude} {longitude}"
                    );
                }
                assert!((0.2..4.0).contains(&point.typical_error_c));
                assert!((0.0..=1.0).contains(&point.coast));
            }
        }
        assert!(land > 9_000, "{land}");
    }
}
