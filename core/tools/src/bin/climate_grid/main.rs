//! Makes the built-in climate table from open data, and measures how far off it is.
//!
//! ```text
//! cargo run --release -p apiary-almanac-tools --bin climate_grid -- build    cells.csv land.csv coast.json records table.bin
//! cargo run --release -p apiary-almanac-tools --bin climate_grid -- evaluate cells.csv land.csv coast.json
//! cargo run --release -p apiary-almanac-tools --bin climate_grid -- sample   cells.csv sample.csv
//! cargo run --release -p apiary-almanac-tools --bin climate_grid -- today    table.bin records
//! ```
//!
//! `cells.csv`: one line for each place with known normals: `latitude_deg`, `longitude_deg`,
//! `station_elevation_m`, `cell_elevation_m`, then `tmin_c_01` to `_12`, `tmax_c_…`, `rain_mm_…`
//! and `wet_days_…`. `land.csv`: the land's square degrees: `latitude_deg`, `longitude_deg`,
//! `mean_land_elevation_m`. `coast.json`: a TopoJSON file whose arcs are the coastline. `records`: a
//! folder with modern daily and hourly records; `modern.rs` says which files and columns. Where to get
//! them: `docs/default-climate.md`.
//!
//! The same input gives the same bytes. Places of `sample` are never used in `build`, so that the
//! committed sample tests the committed table on places it has not seen.

use std::process::ExitCode;

use apiary_almanac::climate::grid::ClimateTable;

mod coast;
mod evaluate;
mod fields;
mod fit;
mod input;
mod linear;
mod modern;
mod today;

type Failure = Box<dyn std::error::Error>;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match arguments.as_slice() {
        ["build", cells, land, coast, records, to] => build(cells, land, coast, records, to),
        ["evaluate", cells, land, coast] => evaluate_all(cells, land, coast),
        ["sample", cells, to] => sample(cells, to),
        ["today", table, records] => evaluate_today(table, records),
        _ => Err(
            "give build, evaluate, sample or today with their files (see the top of main.rs)"
                .into(),
        ),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("{failure}");
            ExitCode::FAILURE
        }
    }
}

fn build(cells: &str, land: &str, coast: &str, records: &str, to: &str) -> Result<(), Failure> {
    let places = input::read_places(cells)?;
    let world = fit::World::new(&places, &input::read_land(land)?, coast::read(coast)?);
    let used: Vec<_> = places
        .iter()
        .filter(|place| !place.in_sample)
        .cloned()
        .collect();
    let residuals = evaluate::leave_out(&world, &used)?;
    let errors = evaluate::local_errors(&world, &used, &residuals);
    let credible = evaluate::is_credible(&used, &residuals);
    let used: Vec<_> = used
        .into_iter()
        .zip(credible)
        .filter_map(|(place, ok)| ok.then_some(place))
        .collect();
    let then = world.table(&used, None)?;
    let anchors = fields::anchors(&then, modern::read_stations(records)?);
    let kriging = fields::Kriging::new(&anchors);
    let today = fit::Today {
        errors: world
            .nodes
            .iter()
            .zip(&errors)
            .map(|(node, errors)| {
                let km = kriging.km_to_station(&node.on_sphere, 0.0);
                let [known, unknown] = *errors;
                let today = fields::error_today_c(known, km);
                // Not to know the height costs what it cost then.
                let of_height = unknown * unknown - known * known;
                [today, (today * today + of_height.max(0.0)).sqrt()]
            })
            .collect(),
        fields: kriging.all_planes()?,
    };
    let bytes = world.table(&used, Some(&today))?.to_bytes();
    std::fs::write(to, &bytes)?;
    println!(
        "{} nodes from {} places and {} modern stations, {} bytes",
        world.nodes.len(),
        used.len(),
        anchors.len(),
        bytes.len()
    );
    Ok(())
}

fn evaluate_all(cells: &str, land: &str, coast: &str) -> Result<(), Failure> {
    let places = input::read_places(cells)?;
    let world = fit::World::new(&places, &input::read_land(land)?, coast::read(coast)?);
    let residuals = evaluate::leave_out(&world, &places)?;
    evaluate::print(&world, &places, &residuals);
    Ok(())
}

/// Prints how far a table is off modern stations.
fn evaluate_today(table: &str, records: &str) -> Result<(), Failure> {
    let table = ClimateTable::from_bytes(table, &std::fs::read(table)?)?;
    today::print(&table, modern::read_stations(records)?)
}

/// Copies the lines of the left-out places.
fn sample(cells: &str, to: &str) -> Result<(), Failure> {
    let text = std::fs::read_to_string(cells)?;
    let places = input::read_places(cells)?;
    let mut lines = text.lines();
    let mut out = vec![lines.next().unwrap_or_default()];
    for (line, place) in lines.zip(&places) {
        if place.in_sample {
            out.push(line);
        }
    }
    std::fs::write(to, out.join("\n") + "\n")?;
    println!("{} places", out.len() - 1);
    Ok(())
}
