//! Fits the location default to open climate normals and prints `climate/location_table.rs`.
//!
//! ```text
//! cargo run -p apiary-almanac-tools --bin fit_location_default -- cells.csv > core/src/climate/location_table.rs
//! ```
//!
//! A second argument fixes the change with elevation, in °C/km (ICAO standard atmosphere: -6.5),
//! for comparison.
//!
//! Input: one row for each grid cell, with the columns `latitude_deg`, `longitude_deg`,
//! `cell_elevation_m`, `tmin_c_01` to `tmin_c_12` and `tmax_c_01` to `tmax_c_12`. The table of the
//! repository comes from the 13,700 cells of CRU CL 2.0 (New, Lister, Hulme & Makin 2002, Climate
//! Research 21:1–25; means of 1961–1990) that hold a weather station.
//!
//! Model, for minimum and maximum each: mean of the year, yearly and half-yearly wave are piecewise
//! linear in latitude with knots every ten degrees, and the mean falls linearly with elevation. The
//! waves are fitted to means over calendar months, so a month's flattening of a wave is undone.
//! Errors are those of cells in a sector of 60° of longitude that took no part in the fit.

use std::error::Error;
use std::f64::consts::TAU;
use std::fmt::Write;

/// Southernmost knot, spacing and number of knots, degrees.
const FIRST_KNOT: f64 = -50.0;
const SPACING: f64 = 10.0;
const KNOTS: usize = 14;
/// Mean; cosine and sine of the yearly wave; the same of the half-yearly wave.
const WAVES: usize = 5;
const MONTHS: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
/// Width of the sectors that are left out in turn, degrees of longitude.
const SECTOR: f64 = 60.0;

struct Cell {
    latitude: f64,
    sector: usize,
    elevation_m: f64,
    /// Monthly means of the daily minimum and of the daily maximum.
    months: [[f64; 12]; 2],
}

/// One fit: coefficients of each knot, and the change with elevation per metre.
struct Fit {
    knots: [[f64; WAVES]; KNOTS],
    per_metre: f64,
}

fn main() -> Result<(), Box<dyn Error>> {
    let path = std::env::args()
        .nth(1)
        .ok_or("give the CSV file of the cells")?;
    let fixed = match std::env::args().nth(2) {
        Some(per_km) => Some(per_km.parse::<f64>()? / 1000.0),
        None => None,
    };
    let cells = read(&path)?;
    let waves = monthly_waves();
    eprintln!("{} cells", cells.len());

    let full = [
        fit(&cells, 0, usize::MAX, &waves, fixed)?,
        fit(&cells, 1, usize::MAX, &waves, fixed)?,
    ];
    let mut errors: Vec<Vec<[f64; 2]>> = vec![Vec::new(); KNOTS + 1];
    for sector in 0..(360.0 / SECTOR) as usize {
        let left_out = [
            fit(&cells, 0, sector, &waves, fixed)?,
            fit(&cells, 1, sector, &waves, fixed)?,
        ];
        for cell in cells.iter().filter(|cell| cell.sector == sector) {
            for (month, of_month) in waves.iter().enumerate() {
                let error = [0, 1]
                    .map(|which| left_out[which].month(cell, of_month) - cell.months[which][month]);
                errors[band(cell.latitude)].push(error);
            }
        }
    }

    // The bands from 40° S to 40° N.
    let supported: Vec<_> = errors[2..=9].concat();
    eprintln!(
        "within 40°: RMS, 95th percentile, largest: Tmin {:.2?}, Tmax {:.2?}",
        summary(&supported, &[0]),
        summary(&supported, &[1])
    );
    eprintln!(
        "lapse: {:?}",
        full.each_ref().map(|fit| fit.per_metre * 1000.0)
    );
    print!("{}", table(&full, &errors)?);
    Ok(())
}

fn read(path: &str) -> Result<Vec<Cell>, Box<dyn Error>> {
    let mut reader = csv::Reader::from_path(path)?;
    let header = reader.headers()?.clone();
    let index = |name: &str| {
        header
            .iter()
            .position(|h| h == name)
            .ok_or_else(|| format!("there is no column {name}"))
    };
    let (latitude, longitude) = (index("latitude_deg")?, index("longitude_deg")?);
    let (elevation, tmin, tmax) = (
        index("cell_elevation_m")?,
        index("tmin_c_01")?,
        index("tmax_c_01")?,
    );
    let mut cells = Vec::new();
    for record in reader.records() {
        let record = record?;
        if record[elevation].is_empty() {
            continue;
        }
        let number = |i: usize| record[i].parse::<f64>();
        let twelve = |from: usize| -> Result<[f64; 12], std::num::ParseFloatError> {
            let mut values = [0.0; 12];
            for (month, value) in values.iter_mut().enumerate() {
                *value = number(from + month)?;
            }
            Ok(values)
        };
        cells.push(Cell {
            latitude: number(latitude)?,
            sector: ((number(longitude)? + 180.0).rem_euclid(360.0) / SECTOR) as usize,
            elevation_m: number(elevation)?,
            months: [twelve(tmin)?, twelve(tmax)?],
        });
    }
    Ok(cells)
}

/// The mean of each wave over each calendar month.
fn monthly_waves() -> [[f64; WAVES]; 12] {
    let mut day = 0;
    MONTHS.map(|length| {
        let mut sum = [0.0; WAVES];
        for _ in 0..length {
            let angle = TAU * (f64::from(day) + 0.5) / 365.0;
            let (sin, cos) = angle.sin_cos();
            let (sin_2, cos_2) = (2.0 * angle).sin_cos();
            for (total, value) in sum.iter_mut().zip([1.0, cos, sin, cos_2, sin_2]) {
                *total += value / f64::from(length);
            }
            day += 1;
        }
        sum
    })
}

/// The knot at or below a latitude, and how far it is to the next one, 0 to 1.
fn knot(latitude: f64) -> (usize, f64) {
    let place = ((latitude - FIRST_KNOT) / SPACING).clamp(0.0, (KNOTS - 1) as f64);
    let below = (place as usize).min(KNOTS - 2);
    (below, place - below as f64)
}

/// Band of latitude for the errors: 0 lies south of the first knot, the last north of the last.
fn band(latitude: f64) -> usize {
    (((latitude - FIRST_KNOT) / SPACING).floor() + 1.0).clamp(0.0, KNOTS as f64) as usize
}

impl Fit {
    fn month(&self, cell: &Cell, waves: &[f64; WAVES]) -> f64 {
        let (below, share) = knot(cell.latitude);
        let sum: f64 = (0..WAVES)
            .map(|w| {
                let (low, high) = (self.knots[below][w], self.knots[below + 1][w]);
                waves[w] * (low + share * (high - low))
            })
            .sum();
        sum + self.per_metre * cell.elevation_m
    }
}

/// Least squares in two steps: the waves of every cell, then each wave over latitude.
fn fit(
    cells: &[Cell],
    which: usize,
    left_out: usize,
    waves: &[[f64; WAVES]; 12],
    fixed_per_metre: Option<f64>,
) -> Result<Fit, String> {
    const UNKNOWNS: usize = KNOTS + 1;
    let mut normal = vec![vec![0.0; UNKNOWNS]; UNKNOWNS];
    let mut right = vec![vec![0.0; UNKNOWNS]; WAVES];
    let mut wave_normal = vec![vec![0.0; WAVES]; WAVES];
    for row in waves {
        for i in 0..WAVES {
            for j in 0..WAVES {
                wave_normal[i][j] += row[i] * row[j];
            }
        }
    }
    for cell in cells.iter().filter(|cell| cell.sector != left_out) {
        let projected = (0..WAVES)
            .map(|w| (0..12).map(|m| waves[m][w] * cell.months[which][m]).sum())
            .collect();
        let own = solve(wave_normal.clone(), projected)?;
        let (below, share) = knot(cell.latitude);
        let row = [
            (below, 1.0 - share),
            (below + 1, share),
            (UNKNOWNS - 1, cell.elevation_m / 1000.0),
        ];
        for (i, a) in row {
            for (j, b) in row {
                normal[i][j] += a * b;
            }
            for (w, value) in own.iter().enumerate() {
                right[w][i] += a * value;
            }
        }
    }
    // Only the mean depends on elevation. Once that is known it goes to the right-hand side, and
    // mean and waves are left with the same unknowns, the knots.
    let per_km = match fixed_per_metre {
        Some(per_metre) => per_metre * 1000.0,
        None => solve(normal.clone(), right[0].clone())?[KNOTS],
    };
    for (value, row) in right[0].iter_mut().zip(&normal) {
        *value -= per_km * row[KNOTS];
    }
    normal.truncate(KNOTS);
    for row in &mut normal {
        row.truncate(KNOTS);
    }
    let mut knots = [[0.0; WAVES]; KNOTS];
    for (w, column) in right.iter().enumerate() {
        for (knot, value) in knots
            .iter_mut()
            .zip(solve(normal.clone(), column[..KNOTS].to_vec())?)
        {
            knot[w] = value;
        }
    }
    Ok(Fit {
        knots,
        per_metre: per_km / 1000.0,
    })
}

/// Gaussian elimination with pivoting.
fn solve(mut matrix: Vec<Vec<f64>>, mut right: Vec<f64>) -> Result<Vec<f64>, String> {
    let n = right.len();
    for column in 0..n {
        let pivot = (column..n)
            .max_by(|a, b| {
                matrix[*a][column]
                    .abs()
                    .total_cmp(&matrix[*b][column].abs())
            })
            .filter(|row| matrix[*row][column].abs() > 1e-12)
            .ok_or("a band of latitude has no cells")?;
        matrix.swap(column, pivot);
        right.swap(column, pivot);
        for row in column + 1..n {
            let factor = matrix[row][column] / matrix[column][column];
            let (above, below) = matrix.split_at_mut(row);
            for (value, pivot) in below[0].iter_mut().zip(&above[column]).skip(column) {
                *value -= factor * pivot;
            }
            right[row] -= factor * right[column];
        }
    }
    for row in (0..n).rev() {
        let known: f64 = (row + 1..n).map(|k| matrix[row][k] * right[k]).sum();
        right[row] = (right[row] - known) / matrix[row][row];
    }
    Ok(right)
}

/// Root mean square, 95th percentile and largest of the absolute errors.
fn summary(errors: &[[f64; 2]], which: &[usize]) -> (f64, f64, f64) {
    let mut sizes: Vec<f64> = errors
        .iter()
        .flat_map(|error| which.iter().map(|w| error[*w].abs()))
        .collect();
    sizes.sort_by(f64::total_cmp);
    let rms = (sizes.iter().map(|e| e * e).sum::<f64>() / sizes.len() as f64).sqrt();
    let at = |share: f64| {
        sizes
            .get(((sizes.len() - 1) as f64 * share) as usize)
            .copied()
    };
    (
        rms,
        at(0.95).unwrap_or(f64::NAN),
        at(1.0).unwrap_or(f64::NAN),
    )
}

fn table(fits: &[Fit; 2], errors: &[Vec<[f64; 2]>]) -> Result<String, Box<dyn Error>> {
    let mut out = String::from(
        "//! Printed by `tools/src/bin/fit_location_default.rs`; not edited by hand.\n//!\n\
         //! Derived from CRU CL 2.0: New, M., Lister, D., Hulme, M. & Makin, I. (2002), A\n\
         //! high-resolution data set of surface climate over global land areas, Climate Research\n\
         //! 21:1–25; means of 1961–1990, Climatic Research Unit. Terms, from memory: Open Database\n\
         //! License 1.0, with acknowledgement.\n\n",
    );
    writeln!(out, "/// Latitude of the southernmost knot, degrees north.")?;
    writeln!(
        out,
        "pub(super) const FIRST_KNOT_DEG: f64 = {FIRST_KNOT:.1};"
    )?;
    writeln!(out, "/// Degrees of latitude from knot to knot.")?;
    writeln!(
        out,
        "pub(super) const KNOT_SPACING_DEG: f64 = {SPACING:.1};\n"
    )?;
    for (name, what, fit) in [
        ("MINIMUM", "minimum", &fits[0]),
        ("MAXIMUM", "maximum", &fits[1]),
    ] {
        writeln!(out, "/// Change of the daily {what} with elevation, °C/m.")?;
        writeln!(
            out,
            "pub(super) const {name}_PER_METRE_C: f64 = {:.5};",
            fit.per_metre
        )?;
        writeln!(
            out,
            "/// The daily {what} at sea level, °C, a row for each knot from the south:"
        )?;
        writeln!(
            out,
            "/// mean; cosine and sine of the yearly wave; the same of the half-yearly."
        )?;
        writeln!(
            out,
            "pub(super) const {name}_C: [[f64; {WAVES}]; {KNOTS}] = ["
        )?;
        for row in fit.knots {
            let cells: Vec<_> = row.iter().map(|value| format!("{value:.2}")).collect();
            writeln!(out, "    [{}],", cells.join(", "))?;
        }
        writeln!(out, "];\n")?;
    }
    writeln!(
        out,
        "/// Root mean square error and the error that one value in twenty exceeds, °C, of"
    )?;
    writeln!(
        out,
        "/// monthly means at places outside the fit. The first row lies south of the first"
    )?;
    writeln!(
        out,
        "/// knot, the next between the first and the second, the last north of the last."
    )?;
    writeln!(
        out,
        "pub(super) const ERRORS_C: [(f64, f64); {}] = [",
        KNOTS + 1
    )?;
    for (i, band) in errors.iter().enumerate() {
        let (rms, p95, largest) = summary(band, &[0, 1]);
        writeln!(out, "    ({rms:.1}, {p95:.1}),")?;
        let south = FIRST_KNOT + SPACING * (i as f64 - 1.0);
        eprintln!(
            "{south} to {}: {} cells, {rms:.2}, {p95:.2}, {largest:.1}, Tmin {:.2?} Tmax {:.2?}",
            south + SPACING,
            band.len() / 12,
            summary(band, &[0]),
            summary(band, &[1])
        );
    }
    writeln!(out, "];")?;
    Ok(out)
}
