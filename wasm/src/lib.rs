//! The JavaScript door: hands requests to the engine and turns its errors into JavaScript's.
//!
//! Everything with a name and a type is in the npm package that wraps this module.

mod columns;

use apiary_almanac::ErrorReport;
use wasm_bindgen::prelude::*;

pub use columns::{check_zone, sun_rows};

/// Answers a request: JSON text in, JSON text out.
///
/// # Errors
/// Throws the JSON text of an [`ErrorReport`].
#[wasm_bindgen]
pub fn ask(request: &str) -> Result<String, String> {
    apiary_almanac::ask(request).map_err(|error| ErrorReport::from(&error).to_json())
}
