//! A plan for the calendar of a telephone: iCalendar text, to be written to a file `lantern.ics`.
//!
//! ```sh
//! cargo run -q --example calendar > lantern.ics
//! ```

use std::error::Error;

use apiary_almanac::calendar::{IcsSettings, plans_ics};
use apiary_almanac::plan::{Colony, PlanRequest};
use apiary_almanac::{Site, plan};

fn main() -> Result<(), Box<dyn Error>> {
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    let colony = Colony::new("Lantern").with_daughter_name("Wick");
    let found = plan(&PlanRequest::new(
        site,
        "2026-08-01".parse()?,
        "split",
        colony,
    ))?;

    // When the calendar is made. The next one is given this text as `with_before`: what has changed gets a
    // new version, and nothing else does.
    let settings = IcsSettings::new("2026-08-01T19:30:00+10:00".parse()?);
    print!("{}", plans_ics(&[found], &settings)?);
    Ok(())
}
