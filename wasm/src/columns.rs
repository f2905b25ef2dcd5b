//! Columns in, columns out: typed arrays are copied in, and the answers back into the caller's.

use apiary_almanac::batch::{Places, RowError, Zones};
use apiary_almanac::site::zone_by_name;
use apiary_almanac::sun::{CrossingColumns, Ephemeris, NO_EVENT, SunLimit, sun_columns};
use apiary_almanac::{Error, ErrorReport};
use wasm_bindgen::prelude::*;

fn thrown(error: &Error) -> String {
    ErrorReport::from(error).to_json()
}

/// Refuses a name that is not an IANA time zone.
///
/// # Errors
/// Throws the JSON text of an [`ErrorReport`].
#[wasm_bindgen(js_name = checkZone)]
pub fn check_zone(zone: &str) -> Result<(), String> {
    zone_by_name(zone).map(drop).map_err(|error| thrown(&error))
}

/// Fills `state`, `rise` and `set` (ms since 1970, NaN where there is none) of the rows of a block
/// that begins with row `first_row` of its columns. `zones` are lines, none for mean solar dates;
/// `first_day` and `last_day` are those of all blocks.
///
/// # Errors
/// Throws the JSON text of an [`ErrorReport`].
#[wasm_bindgen(js_name = sunRows)]
#[allow(clippy::too_many_arguments)] // Columns, as they are.
pub fn sun_rows(
    latitude_deg: &[f64],
    longitude_deg: &[f64],
    east_horizon_deg: &[f64],
    west_horizon_deg: &[f64],
    zones: &str,
    zone_index: &[u16],
    unix_day: &[i32],
    first_day: i32,
    last_day: i32,
    event: &str,
    altitude_deg: Option<f64>,
    first_row: usize,
    state: &mut [u8],
    rise: &mut [f64],
    set: &mut [f64],
) -> Result<(), String> {
    let found = SunLimit::by_name(event, altitude_deg).and_then(|limit| {
        let zones: Vec<_> = zones.lines().map(zone_by_name).collect::<Result<_, _>>()?;
        let zones = match zones.as_slice() {
            [] => Zones::MeanSolar,
            [one] => Zones::One(*one),
            zones => Zones::Each {
                zones,
                index: zone_index,
            },
        };
        let places = Places {
            east_horizon_deg,
            west_horizon_deg,
            zones,
            ..Places::new(latitude_deg, longitude_deg)
        };
        let columns = match Ephemeris::shared(first_day, last_day) {
            Some(ephemeris) => ephemeris.rows(&places, unix_day, limit),
            None => sun_columns(&places, unix_day, limit),
        };
        columns.map_err(|error| of_block(error, &places, unix_day, first_row))
    });
    let columns: CrossingColumns = found.map_err(|error| thrown(&error))?;
    for (to, from) in state.iter_mut().zip(columns.state) {
        *to = from as u8;
    }
    for (to, from) in [(rise, columns.rise_unix_ms), (set, columns.set_unix_ms)] {
        for (to, from) in to.iter_mut().zip(from) {
            *to = if from == NO_EVENT {
                f64::NAN
            } else {
                from as f64
            };
        }
    }
    Ok(())
}

/// The error with its row among all blocks; without one where the column is a single value, which
/// the first block has refused.
fn of_block(error: RowError, places: &Places<'_>, unix_day: &[i32], first_row: usize) -> Error {
    let length = match error.error.field() {
        "latitude_deg" => places.latitude_deg.len(),
        "longitude_deg" => places.longitude_deg.len(),
        "east_horizon_deg" => places.east_horizon_deg.len(),
        "west_horizon_deg" => places.west_horizon_deg.len(),
        _ => unix_day.len(),
    };
    match error.row {
        Some(row) if first_row > 0 || length > 1 => error.at(first_row + row),
        _ => error.error,
    }
}
