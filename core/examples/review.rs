//! I saw this: what now? A plan with what was done and seen, and what follows from it.
//!
//! ```sh
//! cargo run -q --example review
//! ```

use apiary_almanac::plan::{Colony, PlanRequest};
use apiary_almanac::record::{Record, Sign, SignKind};
use apiary_almanac::task::Which;
use apiary_almanac::{Error, Site, review};
use chrono::NaiveDate;

fn main() -> Result<(), Error> {
    let day = |month, day| NaiveDate::from_ymd_opt(2026, month, day).unwrap_or_default();
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    let eggs = Sign::new(SignKind::Eggs).with_which(Which::Daughter);
    let request = PlanRequest::new(site, day(11, 5), "comb_donation", Colony::new("Lantern"))
        .with_records([
            Record::new(day(10, 10)).with_task("donate"),
            Record::new(day(11, 5))
                .with_signs([eggs])
                .with_note("eggs in the new comb"),
        ]);

    let found = review(&request)?;
    println!("{:?}", found.standing);
    for advice in &found.recommendations {
        println!("{}", advice.text);
    }
    for change in &found.changes {
        println!("{}: {:?} -> {:?}", change.task, change.before, change.after);
    }
    Ok(())
}
