//! Reading the open data.

use std::f64::consts::TAU;

use apiary_almanac::climate::grid::format::{ELEMENTS, HARMONIC_NUMBERS};

use crate::Failure;

/// One place in this many is left out of the table and goes into the test sample.
const SAMPLE_ONE_IN: usize = 25;
/// A place's elevation counts as known when the station's and the map's differ by no more, m.
pub const KNOWN_WITHIN_M: f64 = 300.0;

/// A place with known normals.
#[derive(Debug, Clone)]
pub struct Place {
    pub latitude_deg: f64,
    pub longitude_deg: f64,
    /// Mean of the station's and the map's elevation: nearer to what the normals stand for than
    /// either.
    pub elevation_m: f64,
    /// How far apart the two are.
    pub elevation_doubt_m: f64,
    /// Twelve values of minimum, maximum, rain, wet days.
    pub months: [[f64; 12]; ELEMENTS],
    /// Position on the unit sphere.
    pub on_sphere: [f64; 3],
    pub fold: usize,
    pub in_sample: bool,
}

impl Place {
    /// The yearly courses as the table holds them: rain as its square root.
    pub fn courses(&self) -> [[f64; HARMONIC_NUMBERS]; ELEMENTS] {
        let mut months = self.months;
        months[2] = months[2].map(f64::sqrt);
        months.map(|values| harmonics(&values))
    }

    pub fn elevation_is_known(&self) -> bool {
        self.elevation_doubt_m <= KNOWN_WITHIN_M
    }
}

/// Least-squares fit of mean and three harmonics to values at the middles of twelve equal months.
fn harmonics(values: &[f64; 12]) -> [f64; HARMONIC_NUMBERS] {
    std::array::from_fn(|number| {
        let weight = if number == 0 { 1.0 / 12.0 } else { 2.0 / 12.0 };
        let order = number.div_ceil(2) as f64;
        let part = |month: usize| {
            let turn = order * TAU * (month as f64 + 0.5) / 12.0;
            if number % 2 == 0 && number > 0 {
                turn.sin()
            } else {
                turn.cos()
            }
        };
        weight
            * values
                .iter()
                .enumerate()
                .map(|(m, v)| v * part(m))
                .sum::<f64>()
    })
}

pub fn on_sphere(latitude_deg: f64, longitude_deg: f64) -> [f64; 3] {
    let (latitude, longitude) = (latitude_deg.to_radians(), longitude_deg.to_radians());
    [
        latitude.cos() * longitude.cos(),
        latitude.cos() * longitude.sin(),
        latitude.sin(),
    ]
}

/// Distance between two points of the sphere, km.
pub fn distance_km(a: &[f64; 3], b: &[f64; 3]) -> f64 {
    let chord: f64 = a
        .iter()
        .zip(b)
        .map(|(a, b)| (a - b) * (a - b))
        .sum::<f64>()
        .sqrt();
    2.0 * 6371.0 * (chord / 2.0).min(1.0).asin()
}

/// The places within 47° of the equator.
pub fn read_places(file: &str) -> Result<Vec<Place>, Failure> {
    let mut places = Vec::new();
    let mut reader = csv::Reader::from_path(file)?;
    for (number, row) in reader.records().enumerate() {
        let row = row?;
        let cell = |i: usize| row.get(i).unwrap_or_default();
        let value = |i: usize| {
            cell(i)
                .parse::<f64>()
                .map_err(|_| format!("{file}, row {number}, column {i}: {row:?}"))
        };
        let (latitude_deg, longitude_deg) = (value(0)?, value(1)?);
        // Where one elevation is unknown the other stands for both, with doubt.
        let (station, map) = match (cell(2), cell(3)) {
            ("", "") => continue,
            ("", _) => (value(3)? - 150.0, value(3)? + 150.0),
            (_, "") => (value(2)? - 150.0, value(2)? + 150.0),
            _ => (value(2)?, value(3)?),
        };
        let mut months = [[0.0; 12]; ELEMENTS];
        for (element, months) in months.iter_mut().enumerate() {
            for (month, number) in months.iter_mut().enumerate() {
                *number = value(4 + 12 * element + month)?;
            }
        }
        let doubt = (station - map).abs();
        let drawn = scatter(number as u64);
        places.push(Place {
            latitude_deg,
            longitude_deg,
            elevation_m: f64::midpoint(station, map),
            elevation_doubt_m: doubt,
            months,
            on_sphere: on_sphere(latitude_deg, longitude_deg),
            fold: (drawn % 5) as usize,
            in_sample: number % SAMPLE_ONE_IN == 7
                && doubt <= KNOWN_WITHIN_M
                && latitude_deg.abs() <= 45.0,
        });
    }
    Ok(places)
}

/// Spreads counting numbers evenly over 64 bits (the finishing step of SplitMix64: Steele, Lea &
/// Flood 2014, Fast splittable pseudorandom number generators).
fn scatter(number: u64) -> u64 {
    let mut z = number.wrapping_add(1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

/// Latitude, longitude and mean elevation of the land's square degrees.
pub fn read_land(file: &str) -> Result<Vec<[f64; 3]>, Failure> {
    let mut land = Vec::new();
    for row in csv::Reader::from_path(file)?.deserialize() {
        land.push(row?);
    }
    Ok(land)
}
