//! The engine behind a keeper's calendar for stingless bees: sun, light, temperature through the
//! day, flight times, working windows of the year and move windows of a morning.
//!
//! Modules stand in the order in which data flows; each uses only those above it.
#![forbid(unsafe_code)]

pub mod civil;
pub mod climate_grid;
pub mod error;
pub mod site;
pub mod sourced;

pub use civil::Instant;
pub use error::{Error, ErrorReport};
pub use site::{Elevation, Horizon, Latitude, Longitude, Site};
pub use sourced::Sourced;
