//! What now? Three hives of one keeper: what is to be done today, next, and after that.
//!
//! ```sh
//! cargo run -q --example agenda
//! ```

use std::error::Error;

use apiary_almanac::agenda::AgendaRequest;
use apiary_almanac::chrono::NaiveDate;
use apiary_almanac::method::Strength;
use apiary_almanac::plan::{Colony, PlanRequest};
use apiary_almanac::record::Record;
use apiary_almanac::{Site, agenda};

fn main() -> Result<(), Box<dyn Error>> {
    let today: NaiveDate = "2026-10-24".parse()?;
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    let split =
        |colony| PlanRequest::new(site, today, "split", colony).with_bee("tetragonula_carbonaria");

    let divided = Record::new("2026-10-03".parse()?).with_task("divide");
    let wattle =
        split(Colony::new("Wattle").with_daughter_name("Saltbush")).with_records([divided]);
    let bunya = split(
        Colony::new("Bunya")
            .with_net_weight_kg(3.8)
            .with_months_since_division(20.0)
            .with_strength(Strength::Strong),
    );
    let gidgee = split(Colony::new("Gidgee").with_months_since_division(5.0));

    let found = agenda(&AgendaRequest::new([wattle, bunya, gidgee]))?;
    println!("{}", found.state.sentence.text());
    for colony in &found.colonies {
        println!("{}: {}", colony.name, colony.state.sentence.text());
    }
    for (head, items) in [
        ("Today", &found.now),
        ("Next", &found.next),
        ("This week", &found.this_week),
    ] {
        println!("{head}:");
        for item in items {
            println!("  {} {}: {}", item.date, item.box_name, item.title);
        }
    }
    Ok(())
}
