//! The engine behind a keeper's calendar for stingless bees: sun, light, temperature through the
//! day, flight times, working windows of the year and move windows of a morning.
//!
//! Modules stand in the order in which data flows; each uses only those above it.
#![forbid(unsafe_code)]

pub mod ask;
pub mod batch;
pub mod bee;
pub mod calendar;
pub mod caution;
pub mod civil;
pub mod climate;
pub mod error;
pub mod flight;
pub mod light;
pub mod method;
pub mod morning;
mod names;
pub mod number;
mod order;
pub mod outlook;
pub mod parameters;
pub mod plan;
pub mod reason;
pub mod record;
pub mod relocation;
pub mod review;
pub mod season;
pub mod site;
pub mod standing;
pub mod sun;
pub mod task;
pub mod thermal;
pub mod wait;
pub mod weather;
pub mod wire;
mod zone;

pub use ask::ask;
pub use bee::Bee;
pub use civil::Instant;
pub use climate::{
    Basis, Climate, DailyRecords, DayCurve, DayTemperatures, Forecast, MonthlyNormals,
};
pub use error::{Error, ErrorReport};
pub use light::LightThreshold;
pub use number::Sourced;
pub use reason::Reason;
pub use site::{Elevation, Horizon, Latitude, Longitude, Site};
pub use sun::{Crossing, Ephemeris, Position, SunDay};
