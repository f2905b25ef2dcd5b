//! The engine behind a keeper's calendar for stingless bees: sun, light, temperature through the
//! day, flight times, working windows of the year and move windows of a morning.
//!
#![forbid(unsafe_code)]

// Modules stand in the order in which data flows: each uses only those above it, and so no circle
// forms. `tests/order.rs` holds them to it. The empty lines keep rustfmt from sorting them.

pub mod error;

pub mod wire;

pub mod work;

mod zone;

pub mod civil;

pub mod reason;

pub mod site;

pub mod number;

pub mod normal;

pub mod light;

pub mod climate;

pub mod place;

pub mod batch;

pub mod sun;

pub mod thermal;

pub mod bee;

pub mod flight;

pub mod season;

pub mod morning;

pub mod weather;

pub mod wait;

pub mod caution;

pub mod task;

pub mod record;

pub mod method;

pub mod relocation;

pub mod plan;

pub mod standing;

pub mod review;

pub mod outlook;

pub mod year;

pub mod parameters;

pub mod calendar;

pub mod ask;

pub use ask::ask;
pub use bee::Bee;
pub use civil::Instant;
pub use climate::{
    Basis, Climate, DailyRecords, DayCurve, DayTemperatures, Forecast, MonthlyNormals,
};
pub use error::Error;
pub use light::LightThreshold;
pub use number::Sourced;
pub use reason::{ErrorReport, Reason};
pub use site::{Elevation, Horizon, Latitude, Longitude, Site};
pub use sun::{Crossing, Ephemeris, Position, SunDay};
