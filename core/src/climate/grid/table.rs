//! The table itself: decoding, and the yearly course at a point.

use std::f64::consts::TAU;

use super::coder::{BitCoder, BitDecoder, BitEncoder, Chance};
use super::fields::{Fields, PointFields, field_corners, share_of_shore};
use super::format::{
    COAST_COLUMNS, COAST_PER_DEGREE, COAST_ROWS, COAST_STEPS, COLUMNS, EFFECT_NUMBERS,
    ELEMENT_PLANES, ELEMENTS, ELEVATION_PLANE, ERROR_PLANE, ERROR_WITHOUT_ELEVATION_PLANE,
    FIELD_COLUMNS, FIELD_ROWS, FIRST_LATITUDE_DEG, FIRST_LONGITUDE_DEG, HARMONIC_NUMBERS, MAGIC,
    PLANES, ROWS, STORED_FALL_PER_KM, follow, order, steps,
};
use super::lattice::{Lattice, PARTS, Point};
use crate::error::{Error, clip};

/// Planes before those of rain and wet days.
const RAIN_PLANES: usize = 2 * ELEMENT_PLANES;
/// Mark of a place in the grid that has no node.
pub(super) const NO_NODE: u16 = u16::MAX;
/// Plane number of the coast field.
pub(super) const COAST: usize = PLANES;
/// Number of the first plane of the coarse fields.
pub(super) const FIELDS: usize = PLANES + 1;
/// What the shore adds to the square of the error, °C²: measured at stations left out.
const SHORE_ERROR_C2: f64 = 0.9;
/// Parts of a step by which closeness to the sea may lie under zero, from rounding.
const BELOW_ZERO: i32 = 40;
/// Bytes before the stream: [`MAGIC`] and the stream's check sum.
const HEAD: usize = 12;

/// A decoded table of climate on a one-degree grid.
#[derive(Debug, Clone, PartialEq)]
pub struct ClimateTable {
    /// Number of the node at each place of the grid, [`NO_NODE`] where there is none.
    pub(super) nodes: Vec<u16>,
    /// Whether the square degree around each place is land.
    pub(super) land: Vec<bool>,
    /// Parts of a step ([`PARTS`]) of each plane, node by node.
    pub(super) values: Vec<[i16; PLANES]>,
    /// Closeness to the sea in parts of a step, from [`BELOW_ZERO`] under zero.
    pub(super) coast: Vec<u8>,
    /// Level and spread of the days today.
    pub(super) fields: Fields,
    /// Size of a part of a step in each plane.
    part: [f64; PLANES],
    /// Mean, cosines and sines of the year's first harmonics at the middles of the months.
    course: [[f64; 12]; HARMONIC_NUMBERS],
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
    /// Root mean square error of today's monthly minima and maxima hereabouts, °C.
    pub typical_error_c: f64,
    /// Level and spread of the days today.
    pub fields: PointFields,
}

impl ClimateTable {
    /// A table without any land.
    ///
    /// ```
    /// use apiary_almanac::climate::grid::ClimateTable;
    /// assert!(ClimateTable::empty().at(-28.81, 153.28, None).is_none());
    /// ```
    pub fn empty() -> Self {
        ClimateTable {
            nodes: vec![NO_NODE; ROWS * COLUMNS],
            land: vec![false; ROWS * COLUMNS],
            values: Vec::new(),
            coast: vec![BELOW_ZERO as u8; COAST_ROWS * COAST_COLUMNS],
            fields: Fields::empty(),
            part: steps().map(|step| step / f64::from(PARTS)),
            course: course(),
        }
    }

    /// Decodes a table.
    ///
    /// # Errors
    /// `bad_table`, naming `file`, for bytes that are not such a table, or not a whole one.
    ///
    /// ```
    /// use apiary_almanac::climate::grid::ClimateTable;
    /// let error = ClimateTable::from_bytes("climate_grid.bin", b"not a table").unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("bad_table", "climate_grid.bin"));
    /// ```
    pub fn from_bytes(file: &str, bytes: &[u8]) -> Result<Self, Error> {
        let bad = |problem: &str| Error::BadTable {
            file: clip(file),
            problem: problem.to_owned(),
        };
        let Some((head, stream)) = bytes.split_first_chunk::<HEAD>() else {
            return Err(bad("it is too short for a climate table"));
        };
        if !head.starts_with(&MAGIC) {
            return Err(bad("it does not begin as a climate table does"));
        }
        let mut table = ClimateTable::empty();
        let mut decoder = BitDecoder::new(stream);
        let is_whole = head.ends_with(&check_sum(stream));
        if is_whole {
            table.code(&mut decoder, |_, _| 0);
        }
        if is_whole && decoder.came_out_even() {
            Ok(table)
        } else {
            Err(bad("the climate table is cut short, too long or damaged"))
        }
    }

    /// The table as a file.
    ///
    /// ```
    /// use apiary_almanac::climate::grid::{ClimateTable, built_in};
    /// let file = built_in().to_bytes();
    /// assert_eq!(&ClimateTable::from_bytes("climate_grid.bin", &file)?, built_in());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut encoder = BitEncoder::new();
        self.clone().code(&mut encoder, |plane, point| {
            let value = match plane.checked_sub(FIELDS) {
                Some(field) => i32::from(self.fields.values[point.place][field]),
                None if plane == COAST => i32::from(self.coast[point.place]) - BELOW_ZERO,
                None => self
                    .node(point.place)
                    .map_or(0, |node| i32::from(self.values[node][plane])),
            };
            (value - point.expected).div_euclid(PARTS)
        });
        let stream = encoder.finish();
        [&MAGIC[..], &check_sum(&stream), &stream].concat()
    }

    /// The table's twelve months at a point, or `None` farther than about half a degree from land and
    /// beyond 45° of latitude. Without an elevation the mean of the land around is taken.
    ///
    /// ```
    /// use apiary_almanac::climate::grid::built_in;
    /// let table = built_in();
    /// let nairobi = table.at(-1.29, 36.82, Some(1661.0)).ok_or("it lies on land")?;
    /// assert!(nairobi.on_land && nairobi.coast < 0.1);
    /// assert!(table.at(60.2, 24.9, None).is_none()); // Helsinki: no stingless bees
    /// # Ok::<(), &str>(())
    /// ```
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
                * self.part[plane]
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
            let corner_m = f64::from(steps[ELEVATION_PLANE]) * self.part[ELEVATION_PLANE];
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
                let mut number = level[first + i] * self.part[first + i];
                if i < EFFECT_NUMBERS {
                    let height = first + HARMONIC_NUMBERS + i;
                    let shore = height + EFFECT_NUMBERS;
                    number += by_height[height] * self.part[height]
                        + coast * level[shore] * self.part[shore];
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
            typical_error_c: (blend(error).powi(2) + SHORE_ERROR_C2 * share_of_shore(coast)).sqrt(),
            fields: self.fields.at(latitude_deg, longitude_deg, coast),
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
        let point = |row: usize, column: usize| {
            f64::from(i32::from(self.coast[row * COAST_COLUMNS + column]) - BELOW_ZERO)
        };
        let south_side = point(row, west_column) * (1.0 - east) + point(row, east_column) * east;
        let north_side =
            point(row + 1, west_column) * (1.0 - east) + point(row + 1, east_column) * east;
        let parts = south_side * (1.0 - north) + north_side * north;
        (parts / (COAST_STEPS * f64::from(PARTS))).clamp(0.0, 1.0)
    }

    /// Runs the whole table through a coder: a reader fills it, a writer says how many steps each
    /// point of each plane is to be off what is expected of it.
    pub(super) fn code<C: BitCoder>(
        &mut self,
        coder: &mut C,
        mut wish: impl FnMut(usize, Point) -> i32,
    ) {
        self.code_nodes(coder);
        let there: Vec<bool> = self.nodes.iter().map(|node| *node != NO_NODE).collect();
        let lattice = Lattice::new(&there, COLUMNS);
        let mut before = None;
        for plane in order() {
            let field = lattice.code(coder, before.as_ref(), follow(plane), |point| {
                wish(plane, point)
            });
            for (node, value) in self.nodes.iter().zip(&field.values) {
                if let Some(values) = self.values.get_mut(usize::from(*node)) {
                    values[plane] = *value;
                }
            }
            before = Some(field);
        }
        let near_land = self.near_land();
        let field = Lattice::new(&near_land, COAST_COLUMNS)
            .code(coder, None, 0, |point| wish(COAST, point));
        for (coast, value) in self.coast.iter_mut().zip(&field.values) {
            let parts = (i32::from(*value) + BELOW_ZERO).clamp(0, 255);
            *coast = u8::try_from(parts).unwrap_or(u8::MAX);
        }
        let there = self.fields_there();
        self.fields
            .code(&there, coder, |plane, point| wish(FIELDS + plane, point));
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

    /// The nodes of the coarse fields that a look-up may ask for: those around a node of the grid.
    fn fields_there(&self) -> Vec<bool> {
        let mut there = vec![false; FIELD_ROWS * FIELD_COLUMNS];
        for (place, _) in self
            .nodes
            .iter()
            .enumerate()
            .filter(|(_, node)| **node != NO_NODE)
        {
            let latitude_deg = FIRST_LATITUDE_DEG + (place / COLUMNS) as f64;
            let longitude_deg = FIRST_LONGITUDE_DEG + (place % COLUMNS) as f64;
            for (node, _) in field_corners(latitude_deg, longitude_deg) {
                there[node] = true;
            }
        }
        there
    }

    fn node(&self, place: usize) -> Option<usize> {
        Some(self.nodes[place])
            .filter(|node| *node != NO_NODE)
            .map(usize::from)
    }

    /// The points of the coast field that a look-up may ask for: those within a degree of a node
    /// on land.
    fn near_land(&self) -> Vec<bool> {
        let size = COAST_PER_DEGREE;
        let mut near = vec![false; COAST_ROWS * COAST_COLUMNS];
        for (place, _) in self.land.iter().enumerate().filter(|(_, land)| **land) {
            let (row, column) = (place / COLUMNS * size, place % COLUMNS * size);
            for row in row.saturating_sub(size)..=(row + size).min(COAST_ROWS - 1) {
                for column in column + COAST_COLUMNS - size..=column + COAST_COLUMNS + size {
                    near[row * COAST_COLUMNS + column % COAST_COLUMNS] = true;
                }
            }
        }
        near
    }
}

/// Tells damaged streams: the 32-bit FNV-1a hash of Fowler, Noll and Vo.
fn check_sum(stream: &[u8]) -> [u8; 4] {
    let hash = stream.iter().fold(0x811c_9dc5_u32, |hash, byte| {
        (hash ^ u32::from(*byte)).wrapping_mul(0x0100_0193)
    });
    hash.to_be_bytes()
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
    use super::super::{Draft, DraftElement, DraftNode};
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
                    evidence: [[1.0, 0.3, 0.2], [0.3, 0.2, 0.1], [0.2, 0.1, 0.1]],
                });
            }
        }
        let coast = (0..COAST_ROWS * COAST_COLUMNS)
            .map(|i| (i % 21) as f64 / 20.0)
            .collect();
        let fields = (0..FIELD_ROWS * FIELD_COLUMNS)
            .map(|i| std::array::from_fn(|plane| ((i + plane) % 11) as f64 / 10.0))
            .collect();
        Draft {
            nodes,
            coast,
            fields,
        }
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
        let cut =
            [0, 4, HEAD - 1, HEAD, bytes.len() / 2, bytes.len() - 1].map(|n| bytes[..n].to_vec());
        let changed = (0..bytes.len()).map(|i| {
            let mut bytes = bytes.clone();
            bytes[i] ^= 1 << (i % 8);
            bytes
        });
        for bytes in cut.into_iter().chain([longer]).chain(changed) {
            let error = ClimateTable::from_bytes("mine.bin", &bytes).unwrap_err();
            assert_eq!((error.code(), error.field()), ("bad_table", "mine.bin"));
        }
    }

    /// A file whose check sum is right, whatever its stream.
    fn with_check_sum(stream: &[u8]) -> Vec<u8> {
        [&MAGIC[..], &check_sum(stream), stream].concat()
    }

    #[test]
    fn a_longer_stream_is_refused_even_with_its_check_sum() {
        let bytes = ClimateTable::from_draft(&draft()).unwrap().to_bytes();
        let stream = &bytes[HEAD..];
        assert_eq!(with_check_sum(stream), bytes);
        for stream in [
            &[stream, &[0]].concat()[..],
            &stream[..stream.len() - 1],
            &[],
        ] {
            let error = ClimateTable::from_bytes("t", &with_check_sum(stream)).unwrap_err();
            assert_eq!(error.code(), "bad_table");
        }
    }

    proptest::proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig::with_cases(24))]

        #[test]
        fn any_bytes_are_read_without_a_panic(stream in proptest::collection::vec(proptest::num::u8::ANY, 0..400)) {
            proptest::prop_assert!(ClimateTable::from_bytes("t", &stream).is_err());
            if let Ok(table) = ClimateTable::from_bytes("t", &with_check_sum(&stream)) {
                table.at(-3.0, 179.9, None);
            }
        }

        #[test]
        fn a_damaged_stream_is_read_without_a_panic(at in 0.0..1.0, flip in 1..=255_u8) {
            let bytes = ClimateTable::from_draft(&draft()).unwrap().to_bytes();
            let mut stream = bytes[HEAD..].to_vec();
            let at = (at * stream.len() as f64) as usize;
            stream[at] ^= flip;
            if let Ok(table) = ClimateTable::from_bytes("t", &with_check_sum(&stream)) {
                table.at(-3.0, 179.9, None);
            }
        }
    }

    #[test]
    fn the_table_is_near_its_draft() {
        let draft = draft();
        let table = ClimateTable::from_draft(&draft).unwrap();
        for (place, node) in draft.nodes.iter().enumerate() {
            let Some(node) = node.as_ref().filter(|node| node.is_land) else {
                continue;
            };
            let latitude = FIRST_LATITUDE_DEG + (place / COLUMNS) as f64;
            let longitude = FIRST_LONGITUDE_DEG + (place % COLUMNS) as f64;
            let point = table
                .at(latitude, longitude, Some(node.elevation_m))
                .unwrap();
            assert!((point.land_elevation_m - node.elevation_m).abs() < 150.0);
            for (found, element) in point.elements.iter().zip(&node.elements) {
                let per_km = element.per_km[0] * node.elevation_m / 1000.0;
                let mean = element.course[0] + per_km + point.coast * element.at_shore[0];
                let found = found.iter().sum::<f64>() / 12.0;
                assert!((found - mean).abs() < 1.0, "{found} for {mean}");
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
            // Nought but for rounding, which is half a step at most.
            assert!(coast < 0.5 / COAST_STEPS, "{latitude} {longitude} {coast}");
        }
        for (latitude, longitude) in [(-28.86, 153.59), (-22.99, -43.2), (1.3, 103.8)] {
            let coast = built_in().at(latitude, longitude, None).unwrap().coast;
            assert!(coast > 0.85, "{latitude} {longitude} {coast}");
        }
        // A quarter degree is at most 28 km, over which closeness changes by a quarter; the rest is
        // rounding.
        let near_land = built_in().near_land();
        for (row, points) in near_land.chunks(COAST_COLUMNS).enumerate() {
            for column in 1..COAST_COLUMNS {
                if !points[column - 1] || !points[column] {
                    continue;
                }
                let place = row * COAST_COLUMNS + column;
                let change = u8::abs_diff(built_in().coast[place], built_in().coast[place - 1]);
                let change = f64::from(change) / (COAST_STEPS * f64::from(PARTS));
                assert!(change <= 0.4, "{row} {column} {change}");
            }
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
