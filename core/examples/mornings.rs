//! Tomorrow's move window at three apiaries, and the best of the next ten mornings at the first.
//!
//! ```sh
//! cargo run -q --example mornings
//! ```

use apiary_almanac::morning::{MorningSettings, Weekday};
use apiary_almanac::{Error, Site, Weather, bee};
use chrono::NaiveDate;

fn main() -> Result<(), Error> {
    let tomorrow = NaiveDate::from_ymd_opt(2026, 9, 14).unwrap_or_default();
    let (small, usual) = (bee::built_in("generic_small")?, MorningSettings::default());
    let ridge = Site::new(-28.81, 153.28, 140.0, "Australia/Sydney")?;
    let creek = Site::new(-28.64, 153.61, 8.0, "Australia/Sydney")?;
    let town = Site::new(-27.50, 153.00, 30.0, "Australia/Brisbane")?;

    for (name, site) in [("Ridge", ridge), ("Creek", creek), ("Town", town)] {
        println!(
            "{name}: {}",
            Weather::of_location(site, &small)
                .morning(tomorrow, &usual)?
                .window
        );
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
