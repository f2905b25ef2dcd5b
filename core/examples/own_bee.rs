//! A bee of one's own: own counts in place of the numbers of a built-in bee.
//!
//! ```sh
//! cargo run -q --example own_bee
//! ```

use std::error::Error;

use apiary_almanac::bee::BeeOverrides;
use apiary_almanac::{Bee, Site, Weather, bee};

fn main() -> Result<(), Box<dyn Error>> {
    let date = "2026-09-14".parse()?;
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
