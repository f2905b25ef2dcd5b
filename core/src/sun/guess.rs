//! First guesses from the `sunrise` crate: good to a few minutes (worst around 1900), which is enough to know which days
//! of the table an answer needs and where the refinement starts. What comes out does not depend on
//! them.

use chrono::{DateTime, NaiveDate, Utc};
use sunrise::{Coordinates, SolarDay, SolarEvent};

use super::event::Target;
use super::table::EPOCH_UNIX_DAY;
use crate::site::Site;

/// The guesses for one solar day at one site.
#[derive(Debug, Clone, Copy)]
pub(super) struct FirstGuess(SolarDay);

impl FirstGuess {
    /// For the solar day whose number is its noon's phase.
    pub fn new(site: &Site, noon_phase: f64) -> Option<Self> {
        let place = Coordinates::new(site.latitude_deg.get(), site.longitude_deg.get())?;
        // The crate takes the date at the site's own meridian. It panics at the ends of `NaiveDate`,
        // which lie outside the range of dates here.
        let date = NaiveDate::from_epoch_days(noon_phase as i32 + EPOCH_UNIX_DAY)?;
        Some(FirstGuess(SolarDay::new(place, date)))
    }

    /// Rise and set, in days since the table's epoch. `None` where the crate finds none.
    pub fn rise_and_set(&self, target: &Target) -> Option<[f64; 2]> {
        let time = |sin_altitude: f64, morning| {
            // The crate counts `elevation` downwards from the horizon.
            let elevation = -sin_altitude.asin();
            self.0
                .event_time(SolarEvent::Elevation { elevation, morning })
                .map(days_of)
        };
        Some([time(target.sin_rise, true)?, time(target.sin_set, false)?])
    }
}

/// Days since the table's epoch.
pub(super) fn days_of(at: DateTime<Utc>) -> f64 {
    at.timestamp_millis() as f64 / 86_400_000.0 - f64::from(EPOCH_UNIX_DAY)
}

/// Days since the table's epoch.
pub(super) fn days_of_unix_s(unix_s: i64) -> f64 {
    unix_s as f64 * (1.0 / 86_400.0) - f64::from(EPOCH_UNIX_DAY)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn guesses_are_within_minutes() {
        let site = Site::new(50.0, 153.0, 0.0, "Etc/UTC").unwrap();
        for year in [1900, 1950, 2026, 2100] {
            for month in 1..=12 {
                let date = NaiveDate::from_ymd_opt(year, month, 15).unwrap();
                let phase = f64::from(date.to_epoch_days() - EPOCH_UNIX_DAY);
                let ephemeris = super::super::Ephemeris::covering(date, date).unwrap();
                for altitude_deg in [-50.0 / 60.0, 4.0, -6.0] {
                    let target = Target::altitude(altitude_deg);
                    let [rise, set] = FirstGuess::new(&site, phase)
                        .unwrap()
                        .rise_and_set(&target)
                        .unwrap();
                    let finder = ephemeris.finder(&site);
                    for guess in [rise, set] {
                        let missed_deg =
                            finder.sin_altitude(guess).asin().to_degrees() - altitude_deg;
                        assert!(
                            missed_deg.abs() < 1.0,
                            "{date} {altitude_deg}: {missed_deg}"
                        );
                    }
                }
            }
        }
    }
}
