//! Columns in, columns out: arrays come as buffers and go back into buffers of the caller's.
//!
//! Values are copied on the way in and out, a few nanoseconds a row, so that nothing is shared with
//! other Python threads while the engine computes without the interpreter's lock.

use std::collections::HashMap;

use apiary_almanac::Error;
use apiary_almanac::batch::{AirDates, NO_DATE, OwnAir, Places, RowError, Zones, check_dates};
use apiary_almanac::flight::{FlightOptions, flight_columns};
use apiary_almanac::morning::{MorningOptions, morning_columns};
use apiary_almanac::season::{SeasonOptions, season_columns};
use apiary_almanac::site::zone_by_name;
use apiary_almanac::sun::{Ephemeris, SunLimit};
use pyo3::buffer::{Element, PyBuffer};
use pyo3::prelude::*;

use crate::{threads, to_python};

/// The columns of [`Places`], taken over from Python.
#[derive(FromPyObject)]
pub struct PlaceColumns {
    latitude_deg: PyBuffer<f64>,
    longitude_deg: PyBuffer<f64>,
    elevation_m: PyBuffer<f64>,
    east_horizon_deg: PyBuffer<f64>,
    west_horizon_deg: PyBuffer<f64>,
    zone_index: PyBuffer<u16>,
    zones: Vec<String>,
    air_minimum_c: PyBuffer<f64>,
    air_maximum_c: PyBuffer<f64>,
    air_rain_mm: PyBuffer<f64>,
    /// `None` for months.
    air_dates: Option<PyBuffer<i64>>,
    /// Empty where temperatures are what the location lets one expect.
    air_index: PyBuffer<u32>,
}

/// The same as Rust owns them.
struct Owned {
    latitude_deg: Vec<f64>,
    longitude_deg: Vec<f64>,
    elevation_m: Vec<f64>,
    east_horizon_deg: Vec<f64>,
    west_horizon_deg: Vec<f64>,
    zone_index: Vec<u16>,
    zones: Vec<chrono_tz::Tz>,
    air_minimum_c: Vec<f64>,
    air_maximum_c: Vec<f64>,
    air_rain_mm: Vec<f64>,
    air_dates: Option<Vec<i32>>,
    air_index: Vec<u32>,
}

impl PlaceColumns {
    fn owned(&self, py: Python<'_>) -> PyResult<Owned> {
        let zones: Result<Vec<_>, Error> =
            self.zones.iter().map(|name| zone_by_name(name)).collect();
        Ok(Owned {
            latitude_deg: self.latitude_deg.to_vec(py)?,
            longitude_deg: self.longitude_deg.to_vec(py)?,
            elevation_m: self.elevation_m.to_vec(py)?,
            east_horizon_deg: self.east_horizon_deg.to_vec(py)?,
            west_horizon_deg: self.west_horizon_deg.to_vec(py)?,
            zone_index: self.zone_index.to_vec(py)?,
            zones: zones.map_err(|error| to_python(&error))?,
            air_minimum_c: self.air_minimum_c.to_vec(py)?,
            air_maximum_c: self.air_maximum_c.to_vec(py)?,
            air_rain_mm: self.air_rain_mm.to_vec(py)?,
            air_dates: self
                .air_dates
                .as_ref()
                .map(|days| self::days(py, days))
                .transpose()?,
            air_index: self.air_index.to_vec(py)?,
        })
    }
}

impl Owned {
    fn places(&self) -> Places<'_> {
        let zones = match self.zones.as_slice() {
            [] => Zones::MeanSolar,
            [one] => Zones::One(*one),
            zones => Zones::Each {
                zones,
                index: &self.zone_index,
            },
        };
        let air = OwnAir {
            dates: self
                .air_dates
                .as_deref()
                .map_or(AirDates::Months, AirDates::Days),
            minimum_c: &self.air_minimum_c,
            maximum_c: &self.air_maximum_c,
            rain_mm: &self.air_rain_mm,
            index: &self.air_index,
        };
        Places {
            latitude_deg: &self.latitude_deg,
            longitude_deg: &self.longitude_deg,
            elevation_m: &self.elevation_m,
            east_horizon_deg: &self.east_horizon_deg,
            west_horizon_deg: &self.west_horizon_deg,
            zones,
            air: (!self.air_index.is_empty()).then_some(air),
        }
    }
}

/// The engine's error, with the place in an array of this shape.
fn in_shape(error: RowError, shape: &[usize]) -> PyErr {
    let Some(mut rest) = error.row else {
        return to_python(&error.error);
    };
    let mut place: Vec<String> = Vec::new();
    for length in shape.iter().rev() {
        let length = (*length).max(1);
        place.push((rest % length).to_string());
        rest /= length;
    }
    place.reverse();
    if place.is_empty() {
        return to_python(&error.error);
    }
    to_python(&error.at(place.join(", ")))
}

fn of_block(error: RowError) -> PyErr {
    to_python(&Error::from(error))
}

/// Days since 1970 as numpy counts them; what the engine cannot hold is out of range in any case.
fn days(py: Python<'_>, column: &PyBuffer<i64>) -> PyResult<Vec<i32>> {
    let day = |day: i64| match day {
        i64::MIN => NO_DATE,
        day => day.clamp(i64::from(-i32::MAX), i64::from(i32::MAX)) as i32,
    };
    Ok(column.to_vec(py)?.into_iter().map(day).collect())
}

fn fill<T: Element>(
    py: Python<'_>,
    to: &PyBuffer<T>,
    values: impl Iterator<Item = T>,
) -> PyResult<()> {
    to.copy_from_slice(py, &values.collect::<Vec<_>>())
}

fn numpy_day(unix_day: &i32) -> i64 {
    if *unix_day == NO_DATE {
        i64::MIN
    } else {
        i64::from(*unix_day)
    }
}

/// Refuse the first value outside its range, with its place in an array of the shape it came in.
#[pyfunction]
#[pyo3(signature = (places, days, shapes, /))]
pub fn check_arrays(
    py: Python<'_>,
    places: PlaceColumns,
    days: PyBuffer<i64>,
    shapes: HashMap<String, Vec<usize>>,
) -> PyResult<()> {
    let owned = places.owned(py)?;
    let days = self::days(py, &days)?;
    py.detach(|| owned.places().check().and_then(|()| check_dates(&days)))
        .map_err(|error| {
            let shape = shapes.get(error.error.field());
            in_shape(error, shape.map_or(&[], Vec::as_slice))
        })
}

/// Refuse a name that is not an IANA time zone.
#[pyfunction]
#[pyo3(signature = (zone, /))]
pub fn check_zone(zone: &str) -> PyResult<()> {
    zone_by_name(zone)
        .map(drop)
        .map_err(|error| to_python(&error))
}

/// Fill `state`, `rise` and `set` (ms since 1970) of the rows of a block.
#[pyfunction]
#[pyo3(signature = (places, days, span, event, altitude_deg, state, rise, set, /))]
#[allow(clippy::too_many_arguments)] // Columns, as they are.
pub fn sun_rows(
    py: Python<'_>,
    places: PlaceColumns,
    days: PyBuffer<i64>,
    span: (i32, i32),
    event: &str,
    altitude_deg: Option<f64>,
    state: PyBuffer<u8>,
    rise: PyBuffer<i64>,
    set: PyBuffer<i64>,
) -> PyResult<()> {
    let limit = SunLimit::by_name(event, altitude_deg).map_err(|error| to_python(&error))?;
    let owned = places.owned(py)?;
    let days = self::days(py, &days)?;
    let columns = py
        .detach(|| {
            threads::install(|| match Ephemeris::shared(span.0, span.1) {
                Some(ephemeris) => ephemeris.rows(&owned.places(), &days, limit),
                None => apiary_almanac::sun::sun_columns(&owned.places(), &days, limit),
            })
        })
        .map_err(of_block)?;
    fill(py, &state, columns.state.iter().map(|state| *state as u8))?;
    rise.copy_from_slice(py, &columns.rise_unix_ms)?;
    set.copy_from_slice(py, &columns.set_unix_ms)
}

/// Fill the columns of seasons of a block; dates are days since 1970.
#[pyfunction]
#[pyo3(signature = (
    places, days, options, state, opens, closes, open_days, place, date_state, wider_opens,
    wider_closes, at_risk_days, /
))]
#[allow(clippy::too_many_arguments)] // Columns, as they are.
pub fn season_rows(
    py: Python<'_>,
    places: PlaceColumns,
    days: PyBuffer<i64>,
    options: &str,
    state: PyBuffer<u8>,
    opens: PyBuffer<i64>,
    closes: PyBuffer<i64>,
    open_days: PyBuffer<u16>,
    place: PyBuffer<u8>,
    date_state: PyBuffer<u8>,
    wider_opens: PyBuffer<i64>,
    wider_closes: PyBuffer<i64>,
    at_risk_days: PyBuffer<u16>,
) -> PyResult<()> {
    let owned = places.owned(py)?;
    let days = self::days(py, &days)?;
    let columns = py
        .detach(|| {
            let whole = |error| RowError { row: None, error };
            let options = SeasonOptions::from_json(options).map_err(whole)?;
            let bee = options.bee().map_err(whole)?;
            threads::install(|| season_columns(&owned.places(), &days, &bee, &options.settings))
        })
        .map_err(of_block)?;
    fill(py, &state, columns.state.iter().map(|state| *state as u8))?;
    fill(py, &opens, columns.opens_unix_day.iter().map(numpy_day))?;
    fill(py, &closes, columns.closes_unix_day.iter().map(numpy_day))?;
    open_days.copy_from_slice(py, &columns.open_days)?;
    fill(py, &place, columns.place.iter().map(|state| *state as u8))?;
    let dates = columns.date_state.iter();
    fill(py, &date_state, dates.map(|state| *state as u8))?;
    let wider = columns.wider_opens_unix_day.iter();
    fill(py, &wider_opens, wider.map(numpy_day))?;
    let wider = columns.wider_closes_unix_day.iter();
    fill(py, &wider_closes, wider.map(numpy_day))?;
    at_risk_days.copy_from_slice(py, &columns.at_risk_days)
}

/// Fill the columns of flight of a block; moments are ms since 1970.
#[pyfunction]
#[pyo3(signature = (
    places, days, options, state, early_first, first, last, late_last, flying_hours, flying_day, place, /
))]
#[allow(clippy::too_many_arguments)] // Columns, as they are.
pub fn flight_rows(
    py: Python<'_>,
    places: PlaceColumns,
    days: PyBuffer<i64>,
    options: &str,
    state: PyBuffer<u8>,
    early_first: PyBuffer<i64>,
    first: PyBuffer<i64>,
    last: PyBuffer<i64>,
    late_last: PyBuffer<i64>,
    flying_hours: PyBuffer<f64>,
    flying_day: PyBuffer<u8>,
    place: PyBuffer<u8>,
) -> PyResult<()> {
    let owned = places.owned(py)?;
    let days = self::days(py, &days)?;
    let columns = py
        .detach(|| {
            let bee = FlightOptions::from_json(options).and_then(|options| options.bee());
            let bee = bee.map_err(|error| RowError { row: None, error })?;
            threads::install(|| flight_columns(&owned.places(), &days, &bee))
        })
        .map_err(of_block)?;
    fill(py, &state, columns.state.iter().map(|state| *state as u8))?;
    early_first.copy_from_slice(py, &columns.early_first_unix_ms)?;
    first.copy_from_slice(py, &columns.first_unix_ms)?;
    last.copy_from_slice(py, &columns.last_unix_ms)?;
    late_last.copy_from_slice(py, &columns.late_last_unix_ms)?;
    flying_hours.copy_from_slice(py, &columns.flying_hours)?;
    let flying = columns.flying_day.iter();
    fill(py, &flying_day, flying.map(|yes| u8::from(*yes)))?;
    fill(py, &place, columns.place.iter().map(|state| *state as u8))
}

/// Fill the columns of mornings of a block; moments are ms since 1970.
#[pyfunction]
#[pyo3(signature = (
    places, days, options, state, work_light, until, first_flight, close_from, lamp_needed,
    temperature_c, flying_day, place, /
))]
#[allow(clippy::too_many_arguments)] // Columns, as they are.
pub fn morning_rows(
    py: Python<'_>,
    places: PlaceColumns,
    days: PyBuffer<i64>,
    options: &str,
    state: PyBuffer<u8>,
    work_light: PyBuffer<i64>,
    until: PyBuffer<i64>,
    first_flight: PyBuffer<i64>,
    close_from: PyBuffer<i64>,
    lamp_needed: PyBuffer<u8>,
    temperature_c: PyBuffer<f64>,
    flying_day: PyBuffer<u8>,
    place: PyBuffer<u8>,
) -> PyResult<()> {
    let owned = places.owned(py)?;
    let days = self::days(py, &days)?;
    let columns = py
        .detach(|| {
            let whole = |error| RowError { row: None, error };
            let options = MorningOptions::from_json(options).map_err(whole)?;
            let bee = options.bee().map_err(whole)?;
            let settings = options.settings().map_err(whole)?;
            threads::install(|| morning_columns(&owned.places(), &days, &bee, &settings))
        })
        .map_err(of_block)?;
    fill(py, &state, columns.state.iter().map(|state| *state as u8))?;
    work_light.copy_from_slice(py, &columns.work_light_unix_ms)?;
    until.copy_from_slice(py, &columns.until_unix_ms)?;
    first_flight.copy_from_slice(py, &columns.first_flight_unix_ms)?;
    close_from.copy_from_slice(py, &columns.close_from_unix_ms)?;
    fill(
        py,
        &lamp_needed,
        columns.lamp_needed.iter().map(|yes| u8::from(*yes)),
    )?;
    temperature_c.copy_from_slice(py, &columns.temperature_c)?;
    fill(
        py,
        &flying_day,
        columns.flying_day.iter().map(|yes| u8::from(*yes)),
    )?;
    fill(py, &place, columns.place.iter().map(|state| *state as u8))
}
