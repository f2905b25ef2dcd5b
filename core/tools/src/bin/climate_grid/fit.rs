//! From places to nodes: a smooth background by latitude and closeness to the sea, and what is left
//! of it by a regression on the places around each node.

use std::collections::HashMap;

use apiary_almanac::climate::grid::format::{
    COAST_COLUMNS, COAST_LENGTH_KM, COAST_PER_DEGREE, COAST_ROWS, COLUMNS, EFFECT_NUMBERS,
    ELEMENTS, FIELD_COLUMNS, FIELD_PLANES, FIELD_ROWS, FIRST_LATITUDE_DEG, FIRST_LONGITUDE_DEG,
    HARMONIC_NUMBERS, ROWS, STORED_FALL_PER_KM,
};
use apiary_almanac::climate::grid::{ClimateTable, Draft, DraftElement, DraftNode};

use crate::Failure;
use crate::coast::Coast;
use crate::input::{Place, distance_km, on_sphere};

/// Places that take part in the regression at a node.
const NEIGHBOURS: usize = 30;
/// Distance added before weights fall with its third power, km: nearer places count alike.
const NEAR_KM: f64 = 30.0;
/// Elevation doubt at which a place's weight is halved, m.
const DOUBT_M: f64 = 200.0;
/// What holds the regression's slopes back where the places say little: for the two directions,
/// for height and for closeness to the sea.
const RESTRAINT: [f64; 5] = [0.0, 0.1, 0.1, 0.05, 0.02];
/// Powers of the sine of the latitude in the background, plus one.
const POWERS: usize = 8;
const BACKGROUND: usize = 2 * POWERS;
/// All numbers of a place's courses.
const OUTPUTS: usize = ELEMENTS * HARMONIC_NUMBERS;

/// A place of the grid that gets a node.
pub struct Node {
    /// Its number in the grid.
    pub place: usize,
    pub latitude_deg: f64,
    pub longitude_deg: f64,
    pub on_sphere: [f64; 3],
    pub is_land: bool,
    pub elevation_m: f64,
}

/// What does not depend on the choice of places.
pub struct World {
    pub nodes: Vec<Node>,
    coast: Coast,
    coast_field: Vec<f64>,
}

/// Errors of the nodes: with and without elevation.
pub type LocalErrors = Vec<[f64; 2]>;

/// What brings a table to today.
pub struct Today {
    /// Errors against today's climate, to be written into the nodes.
    pub errors: LocalErrors,
    /// Level and spread, at the nodes of the coarse fields.
    pub fields: Vec<[f64; FIELD_PLANES]>,
}

impl World {
    pub fn new(places: &[Place], land: &[[f64; 3]], coast: Coast) -> Self {
        let mut elevation: HashMap<(i64, i64), (f64, f64)> = HashMap::new();
        let key = |latitude: f64, longitude: f64| {
            (
                (latitude + 46.0).floor() as i64,
                (longitude + 180.0).floor() as i64,
            )
        };
        for [latitude, longitude, metres] in land {
            elevation.insert(key(*latitude, *longitude), (*metres, 1.0));
        }
        // Islands too small for the list of land, but with a station on them.
        let listed: Vec<_> = elevation.keys().copied().collect();
        for place in places
            .iter()
            .filter(|place| place.latitude_deg.abs() <= 45.0)
        {
            let key = key(place.latitude_deg, place.longitude_deg);
            if !listed.contains(&key) {
                let sum = elevation.entry(key).or_default();
                *sum = (sum.0 + place.elevation_m, sum.1 + 1.0);
            }
        }
        let on_land = |row: i64, column: i64| {
            elevation
                .get(&(row, column.rem_euclid(COLUMNS as i64)))
                .map(|(sum, n)| sum / n)
        };
        let mut nodes = Vec::new();
        for row in 0..ROWS as i64 {
            for column in 0..COLUMNS as i64 {
                let near_land =
                    (-1..=1).any(|r| (-1..=1).any(|c| on_land(row + r, column + c).is_some()));
                if !near_land {
                    continue;
                }
                let latitude_deg = FIRST_LATITUDE_DEG + row as f64;
                let longitude_deg = FIRST_LONGITUDE_DEG + column as f64;
                nodes.push(Node {
                    place: row as usize * COLUMNS + column as usize,
                    latitude_deg,
                    longitude_deg,
                    on_sphere: on_sphere(latitude_deg, longitude_deg),
                    is_land: on_land(row, column).is_some() && latitude_deg.abs() < 45.0,
                    elevation_m: on_land(row, column).unwrap_or(0.0),
                });
            }
        }
        let coast_field = coast_field(&nodes, &coast);
        World {
            nodes,
            coast,
            coast_field,
        }
    }

    /// How far a place is from the sea, km, to the 500 km that the coast looks.
    pub fn km_from_sea(&self, place: &Place) -> f64 {
        let closeness = self
            .coast
            .closeness(place.latitude_deg, place.longitude_deg);
        -COAST_LENGTH_KM * closeness.ln()
    }

    /// Fits a table to places.
    pub fn table(&self, places: &[Place], today: Option<&Today>) -> Result<ClimateTable, Failure> {
        let places: Vec<Prepared> = places
            .iter()
            .map(|p| Prepared::new(p, &self.coast))
            .collect();
        let background = background(&places)?;
        let mut nodes = vec![None; ROWS * COLUMNS];
        for (i, node) in self.nodes.iter().enumerate() {
            let (elements, evidence) = fit_node(node, &places, &background)?;
            let [error_c, error_without_elevation_c] =
                today.map_or([0.0; 2], |today| today.errors[i]);
            nodes[node.place] = Some(DraftNode {
                is_land: node.is_land,
                elements,
                elevation_m: node.elevation_m,
                error_c,
                error_without_elevation_c,
                evidence,
            });
        }
        let coast = self.coast_field.clone();
        let fields = match today {
            Some(today) => today.fields.clone(),
            None => vec![[0.0; FIELD_PLANES]; FIELD_ROWS * FIELD_COLUMNS],
        };
        Ok(ClimateTable::from_draft(&Draft {
            nodes,
            coast,
            fields,
        })?)
    }
}

fn coast_field(nodes: &[Node], coast: &Coast) -> Vec<f64> {
    let mut wanted = vec![false; COAST_ROWS * COAST_COLUMNS];
    for node in nodes {
        let (row, column) = (node.place / COLUMNS, node.place % COLUMNS);
        let size = COAST_PER_DEGREE;
        let first_row = (row * size).saturating_sub(size);
        for r in first_row..=(row * size + size).min(COAST_ROWS - 1) {
            for c in 0..=2 * size {
                let c = (column * size + COAST_COLUMNS + c - size) % COAST_COLUMNS;
                wanted[r * COAST_COLUMNS + c] = true;
            }
        }
    }
    let size = 1.0 / COAST_PER_DEGREE as f64;
    wanted
        .iter()
        .enumerate()
        .map(|(place, wanted)| {
            let (row, column) = (place / COAST_COLUMNS, place % COAST_COLUMNS);
            if *wanted {
                coast.closeness(
                    FIRST_LATITUDE_DEG + row as f64 * size,
                    FIRST_LONGITUDE_DEG + column as f64 * size,
                )
            } else {
                0.0
            }
        })
        .collect()
}

/// A place with what the regressions need.
struct Prepared {
    latitude_deg: f64,
    longitude_deg: f64,
    on_sphere: [f64; 3],
    elevation_km: f64,
    closeness: f64,
    trust: f64,
    /// Courses at sea level by the fixed rates.
    outputs: [f64; OUTPUTS],
}

impl Prepared {
    fn new(place: &Place, coast: &Coast) -> Self {
        let elevation_km = place.elevation_m / 1000.0;
        let mut outputs = [0.0; OUTPUTS];
        for (element, course) in place.courses().iter().enumerate() {
            let first = element * HARMONIC_NUMBERS;
            outputs[first..first + HARMONIC_NUMBERS].copy_from_slice(course);
            outputs[first] += STORED_FALL_PER_KM[element] * elevation_km;
        }
        Prepared {
            latitude_deg: place.latitude_deg,
            longitude_deg: place.longitude_deg,
            on_sphere: place.on_sphere,
            elevation_km,
            closeness: coast.closeness(place.latitude_deg, place.longitude_deg),
            trust: 1.0 / (1.0 + (place.elevation_doubt_m / DOUBT_M).powi(2)),
            outputs,
        }
    }
}

type Background = [[f64; OUTPUTS]; BACKGROUND];

/// Powers of latitude, and the same times closeness to the sea.
fn background_terms(latitude_deg: f64) -> [f64; POWERS] {
    let s = latitude_deg.to_radians().sin() / 47_f64.to_radians().sin();
    // Legendre polynomials keep the equations well conditioned.
    let mut terms = [1.0, s, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0];
    for n in 1..POWERS - 1 {
        let k = n as f64;
        terms[n + 1] = ((2.0 * k + 1.0) * s * terms[n] - k * terms[n - 1]) / (k + 1.0);
    }
    terms
}

fn background(places: &[Prepared]) -> Result<Background, Failure> {
    let mut equations = [[0.0; BACKGROUND]; BACKGROUND];
    let mut right = [[0.0; OUTPUTS]; BACKGROUND];
    for place in places {
        let terms = background_terms(place.latitude_deg);
        let row: [f64; BACKGROUND] = std::array::from_fn(|i| {
            if i < POWERS {
                terms[i]
            } else {
                terms[i - POWERS] * place.closeness
            }
        });
        for i in 0..BACKGROUND {
            for j in 0..BACKGROUND {
                equations[i][j] += row[i] * row[j];
            }
            for (sum, output) in right[i].iter_mut().zip(&place.outputs) {
                *sum += row[i] * output;
            }
        }
    }
    solve(equations, right)
}

/// Background at a latitude: inland, and what the shore changes.
fn background_at(background: &Background, latitude_deg: f64) -> [[f64; OUTPUTS]; 2] {
    let terms = background_terms(latitude_deg);
    [0, POWERS].map(|first| {
        std::array::from_fn(|k| {
            terms
                .iter()
                .enumerate()
                .map(|(i, t)| t * background[first + i][k])
                .sum()
        })
    })
}

/// See [`DraftNode::evidence`].
type Evidence = [[f64; 3]; 3];

fn fit_node(
    node: &Node,
    places: &[Prepared],
    background: &Background,
) -> Result<([DraftElement; ELEMENTS], Evidence), Failure> {
    let mut near: Vec<(f64, usize)> = places
        .iter()
        .enumerate()
        .map(|(i, place)| (distance_km(&node.on_sphere, &place.on_sphere), i))
        .collect();
    near.select_nth_unstable_by(NEIGHBOURS - 1, |a, b| a.0.total_cmp(&b.0));
    near.truncate(NEIGHBOURS);
    // A fixed order keeps the sums, and so the file, the same everywhere.
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let reach = near.last().map_or(1.0, |(km, _)| *km);
    let weights: Vec<f64> = near
        .iter()
        .map(|(km, i)| {
            let fade = (1.0 - (0.999 * km / reach).powi(3)).powi(3);
            fade / (km + NEAR_KM).powi(3) * places[*i].trust
        })
        .collect();
    let total: f64 = weights.iter().sum();
    // Directions are counted in units as wide as the neighbourhood, so that the restraint means the
    // same where places are few.
    let unit_deg = (reach / 111.0 / 1.5).max(3.0);
    let cosine = node.latitude_deg.to_radians().cos();
    let mut equations = [[0.0; 5]; 5];
    let mut right = [[0.0; OUTPUTS]; 5];
    for ((_, i), weight) in near.iter().zip(&weights) {
        let place = &places[*i];
        let east = (place.longitude_deg - node.longitude_deg + 180.0).rem_euclid(360.0) - 180.0;
        let north = place.latitude_deg - node.latitude_deg;
        let row = [
            1.0,
            east * cosine / unit_deg,
            north / unit_deg,
            place.elevation_km,
            place.closeness,
        ];
        let [inland, at_shore] = background_at(background, place.latitude_deg);
        for a in 0..5 {
            for b in 0..5 {
                equations[a][b] += weight / total * row[a] * row[b];
            }
            for k in 0..OUTPUTS {
                let rest = place.outputs[k] - inland[k] - at_shore[k] * place.closeness;
                right[a][k] += weight / total * row[a] * rest;
            }
        }
    }
    for (i, restraint) in RESTRAINT.iter().enumerate() {
        equations[i][i] += restraint;
    }
    let evidence = [0, 3, 4].map(|a| [0, 3, 4].map(|b: usize| equations[a][b]));
    let found = solve(equations, right)?;
    let [inland, at_shore] = background_at(background, node.latitude_deg);
    let elements = std::array::from_fn(|element| {
        let first = element * HARMONIC_NUMBERS;
        let mut draft = DraftElement::default();
        for i in 0..HARMONIC_NUMBERS {
            draft.course[i] = found[0][first + i] + inland[first + i];
        }
        for i in 0..EFFECT_NUMBERS {
            draft.per_km[i] = found[3][first + i];
            draft.at_shore[i] = found[4][first + i] + at_shore[first + i];
        }
        draft.per_km[0] -= STORED_FALL_PER_KM[element];
        draft
    });
    Ok((elements, evidence))
}

/// Gaussian elimination with pivots; the equations are symmetric and well conditioned.
fn solve<const N: usize>(
    mut equations: [[f64; N]; N],
    mut right: [[f64; OUTPUTS]; N],
) -> Result<[[f64; OUTPUTS]; N], Failure> {
    for i in 0..N {
        let pivot = (i..N)
            .max_by(|a, b| equations[*a][i].abs().total_cmp(&equations[*b][i].abs()))
            .unwrap_or(i);
        equations.swap(i, pivot);
        right.swap(i, pivot);
        if equations[i][i].abs() < 1e-12 {
            return Err("there are too few places for a fit".into());
        }
        for other in 0..N {
            if other == i {
                continue;
            }
            let share = equations[other][i] / equations[i][i];
            let (equation, sums) = (equations[i], right[i]);
            for (number, of_pivot) in equations[other].iter_mut().zip(&equation) {
                *number -= share * of_pivot;
            }
            for (number, of_pivot) in right[other].iter_mut().zip(&sums) {
                *number -= share * of_pivot;
            }
        }
    }
    for i in 0..N {
        right[i] = right[i].map(|value| value / equations[i][i]);
    }
    Ok(right)
}
