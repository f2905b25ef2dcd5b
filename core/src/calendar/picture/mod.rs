//! Pictures as SVG: plain shapes and text, 320 units wide, so that a phone shows them without
//! zooming and a sheet of A4 carries them at full width.
//!
//! Nothing hangs on colour alone: lines differ in their dashes, areas in their hatching, marks in
//! their shape, and each stands in a key with words. There are no identifiers inside, so that any
//! number of pictures can stand in one page.

mod axis;
mod page;
mod plan;
mod poster;
mod text;
mod year;

pub use plan::plan_picture;
pub use poster::{plans_poster, year_poster};
pub use year::year_picture;
