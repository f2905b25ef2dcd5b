//! A dated plan for a new colony, and the same with the division put on a Saturday.
//!
//! ```sh
//! cargo run -q --example plan
//! ```

use std::error::Error;

use apiary_almanac::method::Strength;
use apiary_almanac::plan::{Colony, PlanRequest, moved};
use apiary_almanac::{Site, plan};

fn main() -> Result<(), Box<dyn Error>> {
    let today = "2026-08-01".parse()?;
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

    println!();
    println!("On a Saturday in November:");
    for task in &moved(&request, "divide", "2026-11-07".parse()?)?.tasks {
        println!("{task}");
    }
    Ok(())
}
