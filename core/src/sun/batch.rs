//! Many dates, many sites: the same events as bare numbers, in arrays.

use chrono::NaiveDate;
use serde::Serialize;

use super::day::{
    ASTRONOMICAL_TWILIGHT_ALTITUDE_DEG, CIVIL_TWILIGHT_ALTITUDE_DEG, Ephemeris,
    NAUTICAL_TWILIGHT_ALTITUDE_DEG, check_altitude, unix_ms,
};
use super::event::{Finder, Passage, Target};
use super::guess::days_of_unix_s;
use crate::civil::civil_noon_unix_s;
use crate::error::{Error, clip};
use crate::site::Site;
use crate::wire::FromNode;

/// Which crossing is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum SunLimit {
    /// Sunrise and sunset on the skyline of the site.
    Sun,
    /// Centre at −6°.
    Civil,
    /// Centre at −12°.
    Nautical,
    /// Centre at −18°.
    Astronomical,
    /// Centre at this true altitude (no refraction), −90 to 90 degrees.
    AltitudeDeg(f64),
}

/// What happened on one date at one site. The numbers are the bytes of [`CrossingColumns::state`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[repr(u8)]
pub enum CrossingState {
    /// Both times are there.
    RisesAndSets = 0,
    /// Rise is there.
    OnlyRises = 1,
    /// Set is there.
    OnlySets = 2,
    /// Above all day.
    AlwaysAbove = 3,
    /// Below all day.
    AlwaysBelow = 4,
    /// The zone skipped this date.
    NoSuchDay = 5,
}

/// Stands in a column of times where there is no event.
pub const NO_EVENT: i64 = i64::MIN;

/// Events in columns of equal length: site by site, and within a site date by date.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct CrossingColumns {
    /// What happened.
    pub state: Vec<CrossingState>,
    /// Milliseconds of UTC since 1970, or [`NO_EVENT`].
    pub rise_unix_ms: Vec<i64>,
    /// Milliseconds of UTC since 1970, or [`NO_EVENT`].
    pub set_unix_ms: Vec<i64>,
}

impl CrossingColumns {
    pub(super) fn with_len(len: usize) -> Self {
        CrossingColumns {
            state: vec![CrossingState::NoSuchDay; len],
            rise_unix_ms: vec![NO_EVENT; len],
            set_unix_ms: vec![NO_EVENT; len],
        }
    }

    /// Number of pairs of site and date.
    ///
    /// ```
    /// use apiary_almanac::{Site, sun::{Ephemeris, SunLimit}};
    /// // Two apiaries, three club mornings: the dates of the first apiary stand before the others.
    /// let ridge = Site::new(-28.81, 153.28, 140.0, "Australia/Sydney")?;
    /// let town = Site::new(-27.5, 153.0, 30.0, "Australia/Brisbane")?;
    /// let dates = ["2026-09-05".parse()?, "2026-10-03".parse()?, "2026-11-07".parse()?];
    /// let spring = Ephemeris::covering(dates[0], dates[2])?;
    /// let columns = spring.crossings_of_sites(&[ridge, town], &dates, SunLimit::Sun)?;
    /// assert_eq!(columns.len(), 6);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn len(&self) -> usize {
        self.state.len()
    }

    /// True without any pair.
    pub fn is_empty(&self) -> bool {
        self.state.is_empty()
    }

    pub(super) fn rows_mut(&mut self, dates: usize) -> impl Iterator<Item = RowMut<'_>> {
        self.state
            .chunks_mut(dates)
            .zip(self.rise_unix_ms.chunks_mut(dates))
            .zip(self.set_unix_ms.chunks_mut(dates))
            .map(|((state, rise_unix_ms), set_unix_ms)| RowMut {
                state,
                rise_unix_ms,
                set_unix_ms,
            })
    }
}

/// One site's part of the columns.
pub(super) struct RowMut<'a> {
    pub state: &'a mut [CrossingState],
    pub rise_unix_ms: &'a mut [i64],
    pub set_unix_ms: &'a mut [i64],
}

impl Ephemeris {
    /// The crossings of many dates (in any order) at one site.
    ///
    /// A date that the zone skipped is a state here, not an error, so that one of them does not cost
    /// the caller the rest.
    ///
    /// # Errors
    /// `out_of_range` for a date outside the span or an altitude outside −90° to 90°.
    ///
    /// ```
    /// use apiary_almanac::{Site, sun::{CrossingState, Ephemeris, SunLimit}};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let first: chrono::NaiveDate = "2026-01-01".parse()?;
    /// let dates: Vec<_> = first.iter_days().take(365).collect();
    /// let year = Ephemeris::covering(dates[0], dates[364])?;
    /// let civil = year.crossings(&site, &dates, SunLimit::Civil)?;
    /// assert!(civil.state.iter().all(|state| *state == CrossingState::RisesAndSets));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn crossings(
        &self,
        site: &Site,
        dates: &[NaiveDate],
        limit: SunLimit,
    ) -> Result<CrossingColumns, Error> {
        self.crossings_of_sites(std::slice::from_ref(site), dates, limit)
    }

    /// The crossings of many dates at each of many sites: all dates of the first site, then all
    /// dates of the second. With the feature `parallel`, on every core.
    ///
    /// # Errors
    /// As [`Ephemeris::crossings`].
    ///
    /// ```
    /// use apiary_almanac::{Site, sun::{Ephemeris, SunLimit}};
    /// // The same date 10° farther west: the sun rises 40 minutes later there.
    /// let east = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let west = Site::new(-28.81, 143.28, 100.0, "Australia/Sydney")?;
    /// let date = "2026-09-14".parse()?;
    /// let day = Ephemeris::covering(date, date)?;
    /// let columns = day.crossings_of_sites(&[east, west], &[date], SunLimit::Sun)?;
    /// let later_ms = columns.rise_unix_ms[1] - columns.rise_unix_ms[0];
    /// assert!((later_ms - 40 * 60_000).abs() < 60_000);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn crossings_of_sites(
        &self,
        sites: &[Site],
        dates: &[NaiveDate],
        limit: SunLimit,
    ) -> Result<CrossingColumns, Error> {
        for date in dates {
            self.check_covered(*date)?;
        }
        if let SunLimit::AltitudeDeg(altitude_deg) = limit {
            check_altitude(altitude_deg)?;
        }
        let mut columns = CrossingColumns::with_len(sites.len() * dates.len());
        if columns.is_empty() {
            return Ok(columns);
        }
        let rows: Vec<_> = sites.iter().zip(columns.rows_mut(dates.len())).collect();
        let fill = |(site, row): (&Site, RowMut<'_>)| self.fill(site, dates, limit, row);
        #[cfg(feature = "parallel")]
        {
            use rayon::prelude::*;
            rows.into_par_iter().for_each(fill);
        }
        #[cfg(not(feature = "parallel"))]
        rows.into_iter().for_each(fill);
        Ok(columns)
    }

    /// One site, without allocating.
    fn fill(&self, site: &Site, dates: &[NaiveDate], limit: SunLimit, row: RowMut<'_>) {
        let finder = self.finder(site);
        let target = target(site, limit);
        let cells = row
            .state
            .iter_mut()
            .zip(row.rise_unix_ms)
            .zip(row.set_unix_ms);
        for (date, ((state, rise_ms), set_ms)) in dates.iter().zip(cells) {
            // Dates are checked, so the only error left is a skipped day.
            (*state, *rise_ms, *set_ms) = match civil_noon_unix_s(*date, site.zone) {
                Ok(noon_s) => cell(&finder, finder.noon_phase(days_of_unix_s(noon_s)), &target),
                Err(_) => (CrossingState::NoSuchDay, NO_EVENT, NO_EVENT),
            };
        }
    }
}

#[inline]
pub(super) fn cell(
    finder: &Finder<'_>,
    noon_phase: f64,
    target: &Target,
) -> (CrossingState, i64, i64) {
    match finder.passage(noon_phase, target) {
        Passage::Both { rise, set } => (CrossingState::RisesAndSets, unix_ms(rise), unix_ms(set)),
        Passage::Rise(rise) => (CrossingState::OnlyRises, unix_ms(rise), NO_EVENT),
        Passage::Set(set) => (CrossingState::OnlySets, NO_EVENT, unix_ms(set)),
        Passage::Above => (CrossingState::AlwaysAbove, NO_EVENT, NO_EVENT),
        Passage::Below => (CrossingState::AlwaysBelow, NO_EVENT, NO_EVENT),
    }
}

fn target(site: &Site, limit: SunLimit) -> Target {
    limit
        .altitude_deg()
        .map_or_else(|| Target::skyline(site), Target::altitude)
}

impl SunLimit {
    /// The limit of a name: `sun`, `civil`, `nautical` or `astronomical`, or `altitude` with its
    /// degrees.
    ///
    /// # Errors
    /// `unknown_name` for another name, `out_of_range` for an altitude outside −90° to 90°,
    /// `inconsistent` for an altitude too many or too few.
    ///
    /// ```
    /// use apiary_almanac::sun::SunLimit;
    /// assert_eq!(SunLimit::by_name("civil", None)?, SunLimit::Civil);
    /// assert_eq!(SunLimit::by_name("altitude", Some(3.0))?, SunLimit::AltitudeDeg(3.0));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn by_name(name: &str, altitude_deg: Option<f64>) -> Result<Self, Error> {
        let limit = match (name, altitude_deg) {
            ("altitude", Some(altitude_deg)) => {
                return Ok(SunLimit::AltitudeDeg(check_altitude(altitude_deg)?));
            }
            ("sun", _) => SunLimit::Sun,
            ("civil", _) => SunLimit::Civil,
            ("nautical", _) => SunLimit::Nautical,
            ("astronomical", _) => SunLimit::Astronomical,
            ("altitude", None) => {
                return Err(Error::Inconsistent {
                    field: "altitude_deg".to_owned(),
                    problem: "is needed with the event \"altitude\"".to_owned(),
                });
            }
            _ => {
                return Err(Error::UnknownName {
                    field: "event".to_owned(),
                    given: clip(name),
                    allowed: "sun, civil, nautical, astronomical, altitude".to_owned(),
                });
            }
        };
        match altitude_deg {
            None => Ok(limit),
            Some(altitude_deg) => Err(Error::Inconsistent {
                field: "event, altitude_deg".to_owned(),
                problem: format!("{name} has its own altitude, but {altitude_deg} was given too"),
            }),
        }
    }

    /// The altitude that is crossed; `None` where the skyline decides.
    ///
    /// ```
    /// use apiary_almanac::sun::SunLimit;
    /// assert_eq!(SunLimit::Civil.altitude_deg(), Some(-6.0));
    /// // Sunrise has none: it depends on how high the skyline of a site stands.
    /// assert_eq!(SunLimit::Sun.altitude_deg(), None);
    /// ```
    pub fn altitude_deg(self) -> Option<f64> {
        match self {
            SunLimit::Sun => None,
            SunLimit::Civil => Some(CIVIL_TWILIGHT_ALTITUDE_DEG),
            SunLimit::Nautical => Some(NAUTICAL_TWILIGHT_ALTITUDE_DEG),
            SunLimit::Astronomical => Some(ASTRONOMICAL_TWILIGHT_ALTITUDE_DEG),
            SunLimit::AltitudeDeg(altitude_deg) => Some(altitude_deg),
        }
    }
}
