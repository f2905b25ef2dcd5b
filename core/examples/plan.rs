//! A dated plan for a new colony, and the same with the division put on a Saturday.
//!
//! ```sh
//! cargo run -q --example plan
//! ```

use apiary_almanac::method::Strength;
use apiary_almanac::plan::{Colony, PlanRequest, moved};
use apiary_almanac::{Error, Site, plan};
use chrono::NaiveDate;

fn main() -> Result<(), Error> {
    let today = NaiveDate::from_ymd_opt(2026, 8, 1).unwrap_or_default();
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    let colony = Colony::new("Lantern")
        .with_daughter_name("Wick")
        .with_net_weight_kg(3.6)
        .with_months_since_division(20.0)
        .with_strength(Strength::Strong);
    let request = PlanRequest::new(site, today, "split", colony);

    let found = plan(&request)?;
    println!("{}", found.title);
    for task in &found.tasks {
        println!("{task}");
        for why in &task.why {
            println!("    {}", why.text());
        }
    }

    let saturday = NaiveDate::from_ymd_opt(2026, 11, 7).unwrap_or_default();
    for task in &moved(&request, "divide", saturday)?.tasks {
        println!("{task}");
    }
    Ok(())
}
