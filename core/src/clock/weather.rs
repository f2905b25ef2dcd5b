//! The weather that clocks run over: site, climate and bee, and the days looked at so far.

use std::cell::RefCell;
use std::collections::BTreeMap;

use chrono::{Days, NaiveDate};

use crate::bee::Bee;
use crate::climate::Climate;
use crate::error::Error;
use crate::flight::{FlightDay, flight_day};
use crate::site::Site;
use crate::sun::Ephemeris;

/// What clocks run over. Flights are reckoned once for a day.
#[derive(Debug)]
pub struct Weather<'a> {
    /// Where.
    pub site: &'a Site,
    /// The temperatures.
    pub climate: &'a Climate,
    /// The bee.
    pub bee: &'a Bee,
    flights: RefCell<BTreeMap<NaiveDate, FlightDay>>,
}

impl<'a> Weather<'a> {
    /// The weather of a site for a bee.
    pub fn new(site: &'a Site, climate: &'a Climate, bee: &'a Bee) -> Self {
        Weather {
            site,
            climate,
            bee,
            flights: RefCell::default(),
        }
    }

    /// The flight of a day of the climate: recorded, forecast, or the mean of its season.
    ///
    /// # Errors
    /// As [`flight_day`].
    pub fn flying_day(&self, date: NaiveDate) -> Result<FlightDay, Error> {
        if let Some(known) = self.flights.borrow().get(&date) {
            return Ok(known.clone());
        }
        let ephemeris = Ephemeris::with_neighbours(date, date + Days::new(1))?;
        let day = flight_day(&ephemeris, self.site, self.climate, self.bee, date)?;
        self.flights.borrow_mut().insert(date, day.clone());
        Ok(day)
    }
}
