//! Tomorrow's move window at three apiaries, and the best of the next ten mornings at the first.
//!
//! ```sh
//! cargo run -q --example mornings
//! ```

use std::error::Error;

use apiary_almanac::morning::{MorningSettings, Weekday};
use apiary_almanac::{Site, Weather, bee};

fn main() -> Result<(), Box<dyn Error>> {
    let tomorrow = "2026-09-14".parse()?;
    let (small, usual) = (bee::built_in("generic_small")?, MorningSettings::default());
    let ridge = Site::new(-28.81, 153.28, 140.0, "Australia/Sydney")?;
    let creek = Site::new(-28.64, 153.61, 8.0, "Australia/Sydney")?;
    let town = Site::new(-27.50, 153.00, 30.0, "Australia/Brisbane")?;

    for (name, site) in [("Ridge", ridge), ("Creek", creek), ("Town", town)] {
        let morning = Weather::of_location(site, &small).morning(tomorrow, &usual)?;
        println!("{name}: {}", morning.window);
    }

    let weather = Weather::of_location(ridge, &small);
    let free = [Weekday::Saturday, Weekday::Sunday];
    for ranked in weather.mornings(tomorrow, 10, &usual, &free)? {
        let morning = &ranked.morning;
        println!("{}. {} {}", ranked.rank, morning.date, morning.window);
        for why in &ranked.reasons {
            println!("   {}", why.text());
        }
    }
    Ok(())
}
