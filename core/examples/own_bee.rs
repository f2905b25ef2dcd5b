//! A bee of one's own: own counts in place of the numbers of a built-in bee.
//!
//! ```sh
//! cargo run -q --example own_bee
//! ```

use apiary_almanac::bee::BeeOverrides;
use apiary_almanac::{Bee, Error, Site, Weather, bee};
use chrono::NaiveDate;

fn main() -> Result<(), Error> {
    let date = NaiveDate::from_ymd_opt(2026, 9, 14).unwrap_or_default();
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    let ours = BeeOverrides::from("tetragonula_carbonaria")
        .with_label("Our black bees")
        .with_source("own counts 2024 and 2025")
        .with_flight_minimum_c(17.0);
    for bee in [
        bee::built_in("tetragonula_carbonaria")?,
        Bee::with_overrides(&ours)?,
    ] {
        let morning = Weather::of_location(site, &bee).morning(date, &Default::default())?;
        println!("{}: {}", bee.label(), morning.window);
    }

    // A number that no bee has is refused, with what is allowed.
    if let Err(error) = Bee::with_overrides(&ours.with_flight_minimum_c(170.0)) {
        println!("{error}");
    }
    Ok(())
}
