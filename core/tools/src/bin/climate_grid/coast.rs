//! The coastline, and how close a point is to it.

use std::collections::HashMap;

use apiary_almanac::climate::grid::format::COAST_LENGTH_KM;
use serde::Deserialize;

use crate::Failure;
use crate::input::{distance_km, on_sphere};

/// Longest piece of coastline without a point on it, degrees.
const SPACING_DEG: f64 = 0.03;
/// Points farther from the sea than this get the closeness of this distance, km.
const FARTHEST_KM: f64 = 500.0;
/// Side of the boxes the points are sorted into, degrees.
const BOX_DEG: f64 = 1.0;

/// A meridian that meets no land between 47° south and 47° north.
const OPEN_SEA_DEG: f64 = -33.3;

/// The parts of TopoJSON that are needed.
#[derive(Deserialize)]
struct Topology {
    transform: Transform,
    arcs: Vec<Vec<[f64; 2]>>,
}

#[derive(Deserialize)]
struct Transform {
    scale: [f64; 2],
    translate: [f64; 2],
}

/// The coastline.
pub struct Coast {
    /// Points along it, in boxes of latitude and longitude.
    boxes: HashMap<(i32, i32), Vec<[f64; 3]>>,
    /// Its pieces, by the whole degrees of latitude they touch.
    pieces: HashMap<i32, Vec<[[f64; 2]; 2]>>,
}

/// Reads a TopoJSON file and follows its arcs.
pub fn read(file: &str) -> Result<Coast, Failure> {
    let topology: Topology = serde_json::from_str(&std::fs::read_to_string(file)?)?;
    let (scale, shift) = (topology.transform.scale, topology.transform.translate);
    let mut boxes: HashMap<_, Vec<_>> = HashMap::new();
    let mut pieces: HashMap<_, Vec<_>> = HashMap::new();
    for arc in &topology.arcs {
        // Each point is given as its difference from the one before.
        let mut sum = [0.0; 2];
        let points: Vec<[f64; 2]> = arc
            .iter()
            .map(|step| {
                sum = [sum[0] + step[0], sum[1] + step[1]];
                [sum[0] * scale[0] + shift[0], sum[1] * scale[1] + shift[1]]
            })
            .collect();
        for pair in points.windows(2) {
            let ([x0, y0], [x1, y1]) = (pair[0], pair[1]);
            for degree in y0.min(y1).floor() as i32..=y0.max(y1).floor() as i32 {
                pieces.entry(degree).or_default().push([pair[0], pair[1]]);
            }
            // The edge of the map is no coast.
            if (x0.abs() > 179.99 && x1.abs() > 179.99) || y0.abs() > 52.0 {
                continue;
            }
            let parts = ((x1 - x0).hypot(y1 - y0) / SPACING_DEG).ceil().max(1.0);
            for part in 0..parts as usize {
                let along = part as f64 / parts;
                let (x, y) = (x0 + along * (x1 - x0), y0 + along * (y1 - y0));
                boxes.entry(box_of(y, x)).or_default().push(on_sphere(y, x));
            }
        }
    }
    Ok(Coast { boxes, pieces })
}

fn box_of(latitude_deg: f64, longitude_deg: f64) -> (i32, i32) {
    let column = (longitude_deg + 180.0).rem_euclid(360.0) / BOX_DEG;
    (
        (latitude_deg / BOX_DEG).floor() as i32,
        column.floor() as i32,
    )
}

impl Coast {
    /// 1 at sea and at the shore, 1/e at [`COAST_LENGTH_KM`] inland.
    pub fn closeness(&self, latitude_deg: f64, longitude_deg: f64) -> f64 {
        if !self.is_land(latitude_deg, longitude_deg) {
            return 1.0;
        }
        (-self.distance_km(latitude_deg, longitude_deg) / COAST_LENGTH_KM).exp()
    }

    /// Whether an odd number of coasts is crossed on the way from [`OPEN_SEA_DEG`] along the
    /// parallel, without crossing the date line, where some islands are cut open.
    fn is_land(&self, latitude_deg: f64, longitude_deg: f64) -> bool {
        let near = self.pieces.get(&(latitude_deg.floor() as i32));
        let (west, east) = if longitude_deg < OPEN_SEA_DEG {
            (longitude_deg, OPEN_SEA_DEG)
        } else {
            (OPEN_SEA_DEG, longitude_deg)
        };
        let crossed = near.into_iter().flatten().filter(|[[x0, y0], [x1, y1]]| {
            let meets = (*y0 <= latitude_deg) != (*y1 <= latitude_deg);
            meets && (west..east).contains(&(x0 + (latitude_deg - y0) / (y1 - y0) * (x1 - x0)))
        });
        crossed.count() % 2 == 1
    }

    fn distance_km(&self, latitude_deg: f64, longitude_deg: f64) -> f64 {
        let here = on_sphere(latitude_deg, longitude_deg);
        let (row, column) = box_of(latitude_deg, longitude_deg);
        let box_km = 111.0 * BOX_DEG;
        // Columns narrow towards the poles.
        let stretch = 1.0 / (latitude_deg.abs() + 5.0).to_radians().cos();
        let mut nearest = FARTHEST_KM;
        let mut ring = 0;
        while f64::from(ring - 1) * box_km < nearest {
            let columns = (f64::from(ring) * stretch).ceil() as i32;
            for r in row - ring..=row + ring {
                for c in column - columns..=column + columns {
                    // Inner boxes have been looked at in earlier rounds.
                    if (r - row).abs() < ring && (c - column).abs() < ring {
                        continue;
                    }
                    let wrapped = (r, c.rem_euclid(360));
                    for point in self.boxes.get(&wrapped).into_iter().flatten() {
                        nearest = nearest.min(distance_km(&here, point));
                    }
                }
            }
            ring += 1;
        }
        nearest
    }
}
