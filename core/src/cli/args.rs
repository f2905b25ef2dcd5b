//! Command-line arguments.

use std::path::PathBuf;

use clap::Parser;

/// Working windows of the year and the next dawn move windows for hives of stingless bees.
#[derive(Debug, Default, Parser)]
#[command(name = "apiary-almanac", version, about, max_term_width = 80)]
pub struct Args {
    /// A keeper's file (TOML), such as docs/demo/apiary.toml; what is given below replaces what it
    /// says
    pub file: Option<PathBuf>,
    /// ° north, south negative
    #[arg(long, allow_negative_numbers = true)]
    pub latitude: Option<f64>,
    /// ° east, west negative
    #[arg(long, allow_negative_numbers = true)]
    pub longitude: Option<f64>,
    /// Metres above sea level
    #[arg(long, allow_negative_numbers = true)]
    pub elevation: Option<f64>,
    /// IANA time zone, such as Australia/Sydney
    #[arg(long)]
    pub zone: Option<String>,
    /// The day to ask for, YYYY-MM-DD; else that of the file, else today in the site's zone
    #[arg(long)]
    pub today: Option<String>,
    /// A built-in bee, such as tetragonula_carbonaria
    #[arg(long)]
    pub bee: Option<String>,
    /// CSV of twelve monthly normals
    #[arg(long, conflicts_with = "records")]
    pub normals: Option<PathBuf>,
    /// CSV of daily records
    #[arg(long)]
    pub records: Option<PathBuf>,
    /// CSV of the forecast of the next days
    #[arg(long)]
    pub forecast: Option<PathBuf>,
    /// How many mornings to rank
    #[arg(long)]
    pub mornings: Option<u32>,
    /// Also plan a new colony: split, eduction, comb_donation or transfer
    #[arg(long)]
    pub method: Option<String>,
    /// Also write the answers to this folder: JSON, and of a plan a calendar, a table and pictures
    #[arg(long)]
    pub out: Option<PathBuf>,
}
