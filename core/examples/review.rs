//! I saw this: what now? A plan with what was done and seen, and what follows from it.
//!
//! ```sh
//! cargo run -q --example review
//! ```

use std::error::Error;

use apiary_almanac::plan::{Colony, PlanRequest};
use apiary_almanac::record::{Record, Sign, SignKind};
use apiary_almanac::task::{TaskState, Which};
use apiary_almanac::{Site, review};

fn main() -> Result<(), Box<dyn Error>> {
    let (donated, today) = ("2026-10-10".parse()?, "2026-11-05".parse()?);
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    let eggs = Sign::new(SignKind::Eggs).with_which(Which::Daughter);
    let request = PlanRequest::new(site, today, "comb_donation", Colony::new("Lantern"))
        .with_records([
            Record::new(donated).with_task("donate"),
            Record::new(today)
                .with_signs([eggs])
                .with_note("eggs in the new comb"),
        ]);

    let found = review(&request)?;
    println!("{:?}", found.standing);
    for advice in &found.recommendations {
        println!("{}", advice.text);
    }
    for change in &found.changes {
        match (change.state, change.after) {
            (Some(TaskState::Dropped), _) | (_, None) => println!("{}: not any more", change.task),
            (_, Some(date)) => println!("{}: {date}", change.task),
        }
        for why in &change.why {
            println!("    {}", why.text());
        }
    }
    Ok(())
}
