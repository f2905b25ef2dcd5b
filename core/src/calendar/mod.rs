//! Plans and seasons for other programs and for eyes: iCalendar, CSV, JSON and pictures.
//!
//! Everything here renders what was decided elsewhere; it decides nothing about bees. The same
//! arguments give the same text, to the byte.

mod check;
mod ics;
mod json;
mod picture;

mod table;
mod words;

#[cfg(test)]
mod sample;

pub use ics::{IcsSettings, plans_ics};
pub use json::{plans_from_json, plans_json};

pub use picture::{YearRequest, plan_picture, year_picture};
pub use table::plans_csv;
