//! When can colonies be divided at a place, by its coordinates alone?
//!
//! ```sh
//! cargo run -q --example season
//! ```

use std::error::Error;

use apiary_almanac::chrono::{Days, NaiveDate};
use apiary_almanac::season::{SeasonOutcome, SeasonSettings};
use apiary_almanac::{Site, Weather, bee};

fn main() -> Result<(), Box<dyn Error>> {
    let today: NaiveDate = "2026-09-13".parse()?;
    let small = bee::built_in("generic_small")?;
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    let weather = Weather::of_location(site, &small);
    let season = weather.season(today, today + Days::new(364), &SeasonSettings::default())?;
    match &season.outcome {
        SeasonOutcome::AllYear => println!("all year"),
        SeasonOutcome::Windows { windows, .. } => {
            for window in windows {
                println!("{window}");
                for why in window.opened_by.iter().chain(&window.closed_by) {
                    println!("  {}", why.text());
                }
            }
        }
        SeasonOutcome::None { reasons, .. } => {
            for why in reasons {
                println!("no season: {}", why.text());
            }
        }
    }
    // What it rests on, and how far that may be off.
    for basis in &season.basis {
        println!("{}", basis.about);
        if let Some(error_c) = basis.typical_error_c {
            println!("  off by {error_c:.1} °C, typically");
        }
    }
    Ok(())
}
