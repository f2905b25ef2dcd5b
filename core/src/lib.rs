//! The engine behind a keeper's calendar for stingless bees: sun, light, temperature through the
//! day, flight times, working windows of the year, move windows of a morning, and dated plans for new
//! colonies.
//!
//! From coordinates to a season, to the mornings for a move, to a plan, and to its review:
//!
//! ```
//! use apiary_almanac::chrono::{Days, NaiveDate};
//! use apiary_almanac::method::Strength;
//! use apiary_almanac::plan::{Colony, PlanRequest};
//! use apiary_almanac::record::Record;
//! use apiary_almanac::{Site, Weather, bee, plan, review};
//!
//! // Where: ° north, ° east, m, time zone. Of the weather only the place is known here.
//! let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
//! let small = bee::built_in("generic_small")?;
//! let weather = Weather::of_location(site, &small);
//! let today: NaiveDate = "2026-09-13".parse()?;
//!
//! // When can I? The working windows of the coming year, and what they rest on.
//! let season = weather.season(today, today + Days::new(364), &Default::default())?;
//! println!("{:?}", season.outcome);
//! println!("{}", season.basis[0].about);
//!
//! // Which morning? The next ten, the best first, with the times of day between which to move.
//! for ranked in weather.mornings(today + Days::new(1), 10, &Default::default(), &[])? {
//!     println!("{} {}: {}", ranked.rank, ranked.morning.date, ranked.morning.window);
//! }
//!
//! // What must I do, and when? Each task with its date, its range, its time of day and its title.
//! let colony = Colony::new("Lantern")
//!     .with_net_weight_kg(3.6)
//!     .with_months_since_division(20.0)
//!     .with_strength(Strength::Strong);
//! let mut request = PlanRequest::new(site, today, "split", colony);
//! let found = plan(&request)?;
//! for task in &found.tasks {
//!     println!("{task}");
//! }
//!
//! // I did this: what now? The records of what was done and seen move the rest of the plan.
//! let divide = found.task("divide").ok_or("a split begins with a division")?;
//! request.today = divide.dates.best + Days::new(1);
//! request.records = vec![Record::new(divide.dates.best).with_task("divide")];
//! let now = review(&request)?;
//! println!("{:?}: {} tasks", now.standing, now.plan.tasks.len());
//! # assert!(found.tasks.iter().any(|task| task.window.is_some()));
//! # assert!(now.standing.is_some());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! Of several hives at once [`agenda()`] says what to do now, next and later;
//! [`calendar`] writes plans for telephones and spreadsheets, and draws them.
//!
//! Better temperatures than those of the place are [`MonthlyNormals`], [`DailyRecords`] and a
//! [`Forecast`], each from values or from the text of a file; [`Climate`] takes them, and
//! [`Weather::new`] a climate. [`Bee::with_overrides`] takes numbers of one's own bee. `core/examples`
//! has programs to start from.
//!
//! Requests are made by `new` with what they cannot do without, and `with_` methods for the rest;
//! answers are structs to read. Both may get new fields. "No sunrise", "no window", "no season" are
//! variants with reasons, whose sentences [`Reason::text`] gives. The library has no clock, no files
//! and no network: today is an argument. Dates and moments are those of [`chrono`], zones those of
//! [`chrono_tz`]; both are re-exported.
//!
//! # On other platforms
//!
//! Sine, exponential and their kin come from the platform's own library of mathematics, which differ in
//! the last of their 15 digits: glibc and musl in about one answer of twelve, by 1e-14 of it, and in no date.
//! Compare numbers with a tolerance.
//!
//! # In debug builds
//!
//! A plan looks at thousands of days, and without any optimising that is slow. In your own `Cargo.toml`:
//!
//! ```toml
//! [profile.dev.package.apiary-almanac]
//! opt-level = 2
//! ```
//!
//! With it `core/examples/plan.rs`, which makes two plans, takes 0.03 s of processor time in place of 0.30
//! s, with the other dependencies optimised in both.
#![forbid(unsafe_code)]

// Modules stand in the order in which data flows: each uses only those above it, and so no circle
// forms. `tests/order.rs` holds them to it. The empty lines keep rustfmt from sorting them.

pub mod error;

pub mod wire;

pub mod work;

mod search;

mod zone;

pub mod civil;
mod clock;

pub mod reason;

pub mod site;

pub mod number;

pub mod normal;

pub mod light;

pub mod climate;

pub mod place;

pub mod towns;

pub mod coordinates;

pub mod batch;

pub mod sun;

pub mod thermal;

pub mod bee;

pub mod flight;

pub mod season;

pub mod morning;

pub mod weather;

pub mod wait;

pub mod caution;

pub mod task;

pub mod record;

pub mod way;

pub mod method;

pub mod schedule;

pub mod plan;

pub mod relocation;

pub mod standing;

pub mod review;

pub mod agenda;

pub mod outlook;

pub mod year;

pub mod year_dates;

pub mod parameters;

pub mod calendar;

pub mod ask;

pub use agenda::agenda;
pub use ask::ask;
pub use bee::Bee;
pub use civil::Instant;
pub use climate::{
    Basis, Climate, DailyRecords, DayCurve, DayTemperatures, Forecast, MonthlyNormals,
};
pub use error::Error;
pub use light::LightThreshold;
pub use number::Sourced;
pub use outlook::outlook;
pub use plan::plan;
pub use reason::{ErrorReport, Reason};
pub use review::review;
pub use site::{Elevation, Horizon, Latitude, Longitude, Site};
pub use sun::{Crossing, Ephemeris, Position, SunDay};
pub use weather::Weather;
pub use year::year;
pub use year_dates::year_dates;
pub use {chrono, chrono_tz};
