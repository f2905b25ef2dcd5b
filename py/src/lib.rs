//! The Python door: hands requests to the engine and turns its errors into Python's.
//!
//! Everything with a name and a type is in the Python package that wraps this module.

mod command;

use apiary_almanac::{Error, ErrorReport};
use pyo3::prelude::*;

mod arrays;
mod threads;

pyo3::import_exception!(apiary_almanac._error, ApiaryError);

fn to_python(error: &Error) -> PyErr {
    let ErrorReport {
        code,
        field,
        message,
        ..
    } = error.into();
    ApiaryError::new_err((message, code, field))
}

/// The compiled part of `apiary_almanac`.
#[pymodule]
mod _core {
    use super::*;

    #[pymodule_export]
    use super::arrays::{
        check_arrays, check_zone, flight_rows, morning_rows, season_rows, sun_rows,
    };
    #[pymodule_export]
    use super::command::command;

    /// Answer a request: JSON text in, JSON text out.
    #[pyfunction]
    #[pyo3(signature = (request, /))]
    fn ask(py: Python<'_>, request: &str) -> PyResult<String> {
        // Other Python threads run meanwhile.
        py.detach(|| apiary_almanac::ask(request))
            .map_err(|error| to_python(&error))
    }
}
