//! Sunrise, sunset, twilights, and where the sun stands.
//!
//! Right ascension and declination come from the terms of NREL's Solar Position Algorithm, once for
//! each day; between days they are interpolated, and each event is refined until it stands still.
//! UTC is taken for UT1 (they differ by less than 0.9 s).

mod apparent;
mod batch;
mod day;
mod delta_t;
mod event;
mod guess;
mod rows;
mod single;
mod skyline;
mod table;
#[allow(clippy::approx_constant)] // Published phases that happen to lie near pi.
mod terms;

pub use batch::{CrossingColumns, CrossingState, NO_EVENT, SunLimit};
pub use day::{
    ASTRONOMICAL_TWILIGHT_ALTITUDE_DEG, CIVIL_TWILIGHT_ALTITUDE_DEG, Crossing, Ephemeris,
    NAUTICAL_TWILIGHT_ALTITUDE_DEG, Position, SunDay,
};
pub use rows::sun_columns;
pub use single::{crossing, position, sun_day};
pub use skyline::{LEVEL_SUNRISE_ALTITUDE_DEG, sun_centre_altitude_deg};
