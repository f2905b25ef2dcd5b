//! From modern stations to the coarse fields of the table: what they add to the level of the normals,
//! and how far days stray.
//!
//! Each number of a yearly course is estimated by itself, by kriging: a field that stations nearby
//! share, another that only shores share, and the scatter of single stations. Far from all
//! stations the fields of the level fade to nothing, so that the declared warming remains.

use std::f64::consts::TAU;

use apiary_almanac::climate::grid::format::{FIELD_COLUMNS, FIELD_PLANES, FIELD_ROWS};
use apiary_almanac::climate::grid::{
    ClimateTable, PointFields, Warming, field_corners, field_node, share_of_shore,
};

use crate::Failure;
use crate::input::{distance_km, on_sphere};
use crate::linear::Symmetric;
use crate::modern::{Kind, Station};

/// Stations nearer than this to one that is left out are left out with it, km.
pub const LEFT_OUT_WITHIN_KM: f64 = 30.0;
/// Half of what readings on the hour miss of a day's range: measured at São Paulo and Recife, whose
/// records hold both, °C.
const MISSED_BY_HOURS_C: f64 = 0.38;

/// What is believed of a number before any station is asked: standard deviations of the field and how
/// far it reaches, of the scatter of single stations, of what the shore changes and how far that
/// reaches, of the trend (constant, latitude, shore), and of what one typical year is off.
#[derive(Debug, Clone, Copy)]
struct Prior {
    field: f64,
    field_km: f64,
    scatter: f64,
    shore: f64,
    shore_km: f64,
    trend: [f64; 3],
    typical_year: f64,
}

const fn prior(field: [f64; 2], scatter: f64, shore: [f64; 2], trend: [f64; 3], one: f64) -> Prior {
    Prior {
        field: field[0],
        field_km: field[1],
        scatter,
        shore: shore[0],
        shore_km: shore[1],
        trend,
        typical_year: one,
    }
}

/// Mean, cosine and sine of the level, °C: near the likeliest values of the stations' own.
const LEVEL: [Prior; 3] = [
    prior([0.35, 900.0], 0.45, [0.35, 1000.0], [0.0, 0.0, 0.3], 0.6),
    prior([0.36, 1600.0], 0.22, [0.7, 560.0], [0.0, 0.0, 0.3], 0.8),
    prior([0.3, 1050.0], 0.1, [0.2, 1200.0], [0.0, 0.0, 0.0], 0.9),
];
/// The same of half the daily range.
const HALF_RANGE: [Prior; 3] = [
    prior([0.42, 1900.0], 0.5, [0.6, 600.0], [0.0, 0.0, 1.0], 0.1),
    prior([0.29, 1200.0], 0.12, [0.3, 600.0], [0.0, 0.0, 0.3], 0.1),
    prior([0.21, 500.0], 0.05, [0.0, 600.0], [0.0, 0.0, 0.0], 0.25),
];
/// Of the logarithm of the standard deviation of daily means: mean and two harmonics.
const SPREAD: [Prior; 5] = [
    prior([0.3, 1500.0], 0.1, [0.3, 1500.0], [2.0, 0.6, 0.6], 0.12),
    prior([0.21, 1500.0], 0.086, [0.21, 1500.0], [0.3, 0.4, 0.3], 0.12),
    prior([0.21, 1500.0], 0.086, [0.21, 1500.0], [0.3, 0.4, 0.3], 0.12),
    prior(
        [0.105, 1500.0],
        0.086,
        [0.105, 1500.0],
        [0.1, 0.1, 0.1],
        0.12,
    ),
    prior(
        [0.105, 1500.0],
        0.086,
        [0.105, 1500.0],
        [0.1, 0.1, 0.1],
        0.12,
    ),
];
/// Of the logarithms of that of minima and of maxima over that of means.
const SPREAD_RATIO: [Prior; 5] = [
    prior([0.21, 1500.0], 0.1, [0.21, 1500.0], [2.0, 0.6, 0.6], 0.12),
    prior(
        [0.147, 1500.0],
        0.086,
        [0.147, 1500.0],
        [0.3, 0.4, 0.3],
        0.12,
    ),
    prior(
        [0.147, 1500.0],
        0.086,
        [0.147, 1500.0],
        [0.3, 0.4, 0.3],
        0.12,
    ),
    prior(
        [0.074, 1500.0],
        0.086,
        [0.074, 1500.0],
        [0.1, 0.1, 0.1],
        0.12,
    ),
    prior(
        [0.074, 1500.0],
        0.086,
        [0.074, 1500.0],
        [0.1, 0.1, 0.1],
        0.12,
    ),
];

/// A station on the grid, with what the grid says of it.
pub struct Anchor {
    pub station: Station,
    pub on_sphere: [f64; 3],
    pub closeness: f64,
    /// Normals of 1961–1990 of minimum and maximum with the default warming, °C.
    pub base_c: [[f64; 12]; 2],
}

/// The stations that lie on a table's grid.
pub fn anchors(table: &ClimateTable, stations: Vec<Station>) -> Vec<Anchor> {
    let warming = Warming::default();
    let mut anchors = Vec::new();
    for station in stations {
        let (latitude, longitude) = (station.latitude_deg, station.longitude_deg);
        let Some(point) = table.at(latitude, longitude, Some(station.elevation_m)) else {
            continue;
        };
        let [low, high, ..] = point.elements;
        anchors.push(Anchor {
            on_sphere: on_sphere(latitude, longitude),
            closeness: point.coast,
            base_c: [
                low.map(|c| c + warming.minimum_c),
                high.map(|c| c + warming.maximum_c),
            ],
            station,
        });
    }
    anchors
}

impl Anchor {
    /// Level of the station over that of the grid, °C.
    pub fn level_c(&self) -> [f64; 12] {
        let [low, high] = &self.base_c;
        std::array::from_fn(|m| self.station.mean.mean_c[m] - f64::midpoint(low[m], high[m]))
    }

    /// Half the daily range over that of the grid, °C.
    fn half_range_c(&self) -> Option<[f64; 12]> {
        let [low, high] = self.station.extremes.as_ref()?;
        let missed = match self.station.kind {
            Kind::TypicalYear => MISSED_BY_HOURS_C,
            Kind::Australia | Kind::Hourly | Kind::City => 0.0,
        };
        Some(std::array::from_fn(|m| {
            let base = self.base_c[1][m] - self.base_c[0][m];
            (high.mean_c[m] - low.mean_c[m] - base) / 2.0 + missed
        }))
    }
}

/// How far the seasons of a latitude are turned: 1 in the north, −1 in the south, none at the
/// equator, so that fields do not jump there.
fn season_sign(latitude_deg: f64) -> f64 {
    (latitude_deg / 5.0).clamp(-1.0, 1.0)
}

/// Mean and harmonics of twelve months; the yearly wave as it would be in the north.
fn courses<const N: usize>(months: &[f64; 12], latitude_deg: f64) -> [f64; N] {
    std::array::from_fn(|number| {
        let order = number.div_ceil(2) as f64;
        let sum: f64 = (0..12)
            .map(|m| {
                let turn = order * TAU * (m as f64 + 0.5) / 12.0;
                let wave = if number % 2 == 0 && number > 0 {
                    turn.sin()
                } else {
                    turn.cos()
                };
                months[m] * wave
            })
            .sum();
        match number {
            0 => sum / 12.0,
            1 | 2 => sum / 6.0 * latitude_deg.signum(),
            _ => sum / 6.0,
        }
    })
}

/// One number of the stations' courses.
struct Number {
    values: Vec<Option<f64>>,
    prior: Prior,
    /// How near the shore each station counts as.
    shores: Vec<f64>,
}

/// What stations say, and where they are.
pub struct Kriging<'a> {
    anchors: &'a [Anchor],
    /// Level, half range, spread of means, of minima and of maxima over it: number by number.
    numbers: Vec<Number>,
}

impl<'a> Kriging<'a> {
    pub fn new(anchors: &'a [Anchor]) -> Self {
        let mut numbers = Vec::new();
        let mut add =
            |priors: &[Prior], of_level: bool, of: &dyn Fn(&Anchor) -> Option<[f64; 12]>| {
                let found: Vec<Option<[f64; 5]>> = anchors
                    .iter()
                    .map(|anchor| Some(courses(&of(anchor)?, anchor.station.latitude_deg)))
                    .collect();
                for (number, prior) in priors.iter().enumerate() {
                    let shore = |anchor: &Anchor| {
                        if of_level {
                            share_of_shore(anchor.closeness)
                        } else {
                            anchor.closeness
                        }
                    };
                    numbers.push(Number {
                        values: found.iter().map(|f| f.map(|f| f[number])).collect(),
                        prior: *prior,
                        shores: anchors.iter().map(shore).collect(),
                    });
                }
            };
        // One typical year says too little of the level.
        let is_typical = |anchor: &Anchor| anchor.station.kind == Kind::TypicalYear;
        add(&LEVEL, true, &|anchor| {
            (!is_typical(anchor)).then(|| anchor.level_c())
        });
        add(&HALF_RANGE, true, &Anchor::half_range_c);
        add(&SPREAD, false, &|anchor| {
            Some(anchor.station.mean.sd_c.map(f64::ln))
        });
        for element in 0..2 {
            add(&SPREAD_RATIO, false, &move |anchor| {
                let sd = anchor.station.extremes.as_ref()?[element].sd_c;
                let of_mean = anchor.station.mean.sd_c;
                Some(std::array::from_fn(|m| (sd[m] / of_mean[m]).ln()))
            });
        }
        Kriging { anchors, numbers }
    }

    /// The planes at some nodes, from the stations that are used.
    pub fn planes(
        &self,
        nodes: &[usize],
        used: impl Fn(&Anchor) -> bool,
    ) -> Result<Vec<[f64; FIELD_PLANES]>, Failure> {
        let used: Vec<usize> = (0..self.anchors.len())
            .filter(|i| used(&self.anchors[*i]))
            .collect();
        let mut planes = vec![[0.0; FIELD_PLANES]; nodes.len()];
        for (number, of) in self.numbers.iter().enumerate() {
            let weights = self.weights(of, &used)?;
            // Where the number goes: inland and at the shore, for minima and for maxima.
            let (places, order): (&[(usize, Option<usize>)], usize) = match number {
                0..6 => (&[(0, Some(6))], number),
                6..11 => (&[(12, Some(22)), (17, Some(25))], number - 6),
                11..16 => (&[(12, Some(22))], number - 11),
                _ => (&[(17, Some(25))], number - 16),
            };
            let wave = if number < 6 { order % 3 } else { order };
            for (node, planes) in nodes.iter().zip(&mut planes) {
                let [inland, at_shore] = self.at(of, &weights, *node);
                let turned = match wave {
                    1 | 2 => season_sign(field_node(*node).0),
                    _ => 1.0,
                };
                for (first, first_at_shore) in places {
                    planes[first + order] += turned * inland;
                    if let Some(plane) = first_at_shore.filter(|_| number < 6 || order < 3) {
                        planes[plane + order] += turned * at_shore;
                    }
                }
            }
        }
        Ok(planes)
    }

    /// The weights of the stations in a number's fields.
    fn weights(&self, number: &Number, used: &[usize]) -> Result<Vec<(usize, f64)>, Failure> {
        let prior = number.prior;
        let known: Vec<(usize, f64)> = used
            .iter()
            .filter_map(|i| Some((*i, number.values[*i]?)))
            .collect();
        let mut equations = Symmetric::new(known.len());
        for (row, (i, _)) in known.iter().enumerate() {
            for (column, (j, _)) in known.iter().enumerate().take(row + 1) {
                let (a, b) = (&self.anchors[*i], &self.anchors[*j]);
                let km = distance_km(&a.on_sphere, &b.on_sphere);
                let shores = number.shores[*i] * number.shores[*j];
                let [constant, latitude, shore] = prior.trend.map(|sd| sd * sd);
                let trend = constant
                    + latitude
                        * from_tropics(a.station.latitude_deg)
                        * from_tropics(b.station.latitude_deg)
                    + shore * shores;
                let fields = prior.field.powi(2) * (-km / prior.field_km).exp()
                    + shores * prior.shore.powi(2) * (-km / prior.shore_km).exp();
                equations.add(row, column, trend + fields);
            }
            let typical_year = match self.anchors[*i].station.kind {
                Kind::TypicalYear => prior.typical_year.powi(2),
                Kind::Australia | Kind::Hourly | Kind::City => 0.0,
            };
            equations.add(row, row, prior.scatter.powi(2) + typical_year);
        }
        let values: Vec<f64> = known.iter().map(|(_, value)| *value).collect();
        let found = equations.solve(&values)?;
        Ok(known.iter().map(|(i, _)| *i).zip(found).collect())
    }

    /// A number at a node: inland, and what the shore changes.
    fn at(&self, number: &Number, weights: &[(usize, f64)], node: usize) -> [f64; 2] {
        let prior = number.prior;
        let (latitude_deg, longitude_deg) = field_node(node);
        let here = on_sphere(latitude_deg, longitude_deg);
        let [constant, latitude, shore] = prior.trend.map(|sd| sd * sd);
        let mut sums = [0.0; 2];
        for (i, weight) in weights {
            let anchor = &self.anchors[*i];
            let km = distance_km(&here, &anchor.on_sphere);
            let trend = constant
                + latitude * from_tropics(latitude_deg) * from_tropics(anchor.station.latitude_deg);
            sums[0] += weight * (trend + prior.field.powi(2) * (-km / prior.field_km).exp());
            sums[1] += weight
                * number.shores[*i]
                * (shore + prior.shore.powi(2) * (-km / prior.shore_km).exp());
        }
        sums
    }

    /// The planes of every node.
    pub fn all_planes(&self) -> Result<Vec<[f64; FIELD_PLANES]>, Failure> {
        let nodes: Vec<usize> = (0..FIELD_ROWS * FIELD_COLUMNS).collect();
        self.planes(&nodes, |_| true)
    }

    /// What the fields say of a station when it and all near it are left out.
    pub fn without(&self, anchor: &Anchor) -> Result<PointFields, Failure> {
        let station = &anchor.station;
        let corners = field_corners(station.latitude_deg, station.longitude_deg);
        let planes = self.planes(&corners.map(|(node, _)| node), |other| {
            distance_km(&anchor.on_sphere, &other.on_sphere) > LEFT_OUT_WITHIN_KM
        })?;
        let mut blend = [0.0; FIELD_PLANES];
        for (planes, (_, weight)) in planes.iter().zip(corners) {
            for (sum, number) in blend.iter_mut().zip(planes) {
                *sum += weight * number;
            }
        }
        Ok(PointFields::from_planes(&blend, anchor.closeness))
    }

    /// Distance from a point to the nearest station whose level is known and that is not left out with
    /// it, km.
    pub fn km_to_station(&self, here: &[f64; 3], at_least_km: f64) -> f64 {
        self.anchors
            .iter()
            .filter(|anchor| anchor.station.kind != Kind::TypicalYear)
            .map(|anchor| distance_km(here, &anchor.on_sphere))
            .filter(|km| *km >= at_least_km)
            .fold(f64::INFINITY, f64::min)
    }
}

/// Latitude in the spread's trend.
fn from_tropics(latitude_deg: f64) -> f64 {
    latitude_deg.abs() / 30.0 - 1.0
}

/// The error against today's climate away from the shore, °C, where the places around are off the
/// normals of 1961–1990 by `error_c` and the nearest modern station is so far. Its square is the sum
/// that fits the squares at modern stations left out best.
pub fn error_today_c(error_c: f64, km_to_station: f64) -> f64 {
    let far = 0.06 * (km_to_station.clamp(30.0, 3000.0) / 300.0).ln();
    (1.65 * error_c * error_c + 0.28 + far).sqrt()
}
