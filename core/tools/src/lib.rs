//! What the programs of this crate share with their tests. Each program writes a file of the
//! repository; which one stands at its top.
pub mod methods;
pub mod mirrors;
pub mod scenes;
pub mod season_table;
