//! Any pairs of place and date, in columns.

use std::sync::{Arc, Mutex, PoisonError};

use super::batch::{CrossingColumns, RowMut, SunLimit, cell};
use super::day::{Ephemeris, check_altitude};
use super::event::{Finder, Observer, Target};
use super::guess::days_of_unix_s;
use super::table::EPOCH_UNIX_DAY;
use super::{CrossingState, NO_EVENT};
use crate::batch::{Place, Places, RowError, check_dates, date_in_words, date_of, of_row};
use crate::civil::civil_noon_unix_s;
use crate::error::Error;

/// How many rows one thread takes at a time.
const SHARE: usize = 1024;

/// The crossings of many pairs of place and date, one for each row. Dates are days since
/// 1970-01-01. With the feature `parallel`, on every core.
///
/// Rows that follow each other at the same place cost less than those that jump about. For many
/// calls about the same years build an [`Ephemeris`] and use [`Ephemeris::rows`].
///
/// # Errors
/// `out_of_range` for a value or date outside its range, with its column and row; `inconsistent`
/// for columns of different lengths.
///
/// ```
/// use apiary_almanac::{batch::Places, sun::{CrossingState, SunLimit, sun_columns}};
/// // 2026-06-21 at three latitudes.
/// let places = Places::new(&[-28.81, 1.35, 69.65], &[153.28, 103.8, 18.96]);
/// let columns = sun_columns(&places, &[20_625], SunLimit::Sun)?;
/// assert_eq!(columns.state[1], CrossingState::RisesAndSets);
/// assert_eq!(columns.state[2], CrossingState::AlwaysAbove);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn sun_columns(
    places: &Places<'_>,
    unix_day: &[i32],
    limit: SunLimit,
) -> Result<CrossingColumns, RowError> {
    places.rows_with(unix_day)?;
    check_dates(unix_day)?;
    match Ephemeris::of_days(unix_day) {
        Some(ephemeris) => ephemeris.rows(places, unix_day, limit),
        None => Ok(CrossingColumns::default()),
    }
}

impl Ephemeris {
    /// The span of some days since 1970-01-01; `None` without any, or with one outside 1900–2100.
    ///
    /// ```
    /// use apiary_almanac::Ephemeris;
    /// assert!(Ephemeris::of_days(&[20_710, 20_454]).is_some()); // 2026, in any order
    /// assert!(Ephemeris::of_days(&[]).is_none());
    /// assert!(Ephemeris::of_days(&[-40_000]).is_none()); // 1860
    /// ```
    pub fn of_days(unix_day: &[i32]) -> Option<Self> {
        let (first, last) = (unix_day.iter().min()?, unix_day.iter().max()?);
        Ephemeris::covering(date_of(*first), date_of(*last)).ok()
    }

    /// One that covers two days since 1970-01-01 and those between; `None` as with
    /// [`Ephemeris::of_days`]. The last one made is kept: calls about the same years, block by block
    /// or thread by thread, share it.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use apiary_almanac::Ephemeris;
    /// let year = Ephemeris::shared(20_454, 20_818).ok_or("1900 to 2100")?;
    /// let june = Ephemeris::shared(20_605, 20_634).ok_or("1900 to 2100")?;
    /// assert!(Arc::ptr_eq(&year, &june));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn shared(first: i32, last: i32) -> Option<Arc<Self>> {
        static LAST: Mutex<Option<Arc<Ephemeris>>> = Mutex::new(None);
        let kept = LAST.lock().unwrap_or_else(PoisonError::into_inner).clone();
        if let Some(kept) = kept.filter(|kept| kept.covers_day(first) && kept.covers_day(last)) {
            return Some(kept);
        }
        let made = Arc::new(Ephemeris::of_days(&[first, last])?);
        *LAST.lock().unwrap_or_else(PoisonError::into_inner) = Some(Arc::clone(&made));
        Some(made)
    }

    /// As [`sun_columns`], with this ephemeris.
    ///
    /// # Errors
    /// As [`sun_columns`], and `out_of_range` for a date outside the span.
    ///
    /// ```
    /// use apiary_almanac::{Ephemeris, batch::Places, sun::{NO_EVENT, SunLimit}};
    /// // Brisbane, Recife and Longyearbyen in midwinter of the north, 2026-12-21.
    /// let places = Places::new(&[-27.47, -8.05, 78.22], &[153.03, -34.9, 15.65]);
    /// let december = Ephemeris::of_days(&[20_788, 20_818]).ok_or("1900 to 2100")?;
    /// let columns = december.rows(&places, &[20_808], SunLimit::Sun)?;
    /// let hours = |row: usize| (columns.set_unix_ms[row] - columns.rise_unix_ms[row]) as f64 / 3.6e6;
    /// assert!(hours(0) > hours(1) && hours(1) > 12.0);
    /// assert_eq!(columns.rise_unix_ms[2], NO_EVENT);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rows(
        &self,
        places: &Places<'_>,
        unix_day: &[i32],
        limit: SunLimit,
    ) -> Result<CrossingColumns, RowError> {
        let whole = |error: Error| RowError { row: None, error };
        let rows = places.rows_with(unix_day)?;
        places.check()?;
        check_dates(unix_day)?;
        for (row, day) in unix_day.iter().enumerate() {
            if !self.covers_day(*day) {
                return Err(RowError {
                    row: Some(row),
                    error: self.outside("dates", date_in_words(*day)),
                });
            }
        }
        let level = match limit.altitude_deg() {
            Some(altitude_deg) => Target::altitude(check_altitude(altitude_deg).map_err(whole)?),
            None => Target::horizons(0.0, 0.0),
        };
        let of_place = |place: &Place| {
            if limit.altitude_deg().is_some() || place.has_level_skyline() {
                level
            } else {
                Target::horizons(place.east_horizon_deg, place.west_horizon_deg)
            }
        };
        let mut columns = CrossingColumns::with_len(rows);
        let shares: Vec<_> = columns.rows_mut(SHARE).enumerate().collect();
        let fill = |(number, share): (usize, RowMut<'_>)| {
            self.fill_rows(places, unix_day, number * SHARE, of_place, share);
        };
        #[cfg(feature = "parallel")]
        {
            use rayon::prelude::*;
            shares.into_par_iter().for_each(fill);
        }
        #[cfg(not(feature = "parallel"))]
        shares.into_iter().for_each(fill);
        Ok(columns)
    }

    fn fill_rows(
        &self,
        places: &Places<'_>,
        unix_day: &[i32],
        first_row: usize,
        target: impl Fn(&Place) -> Target,
        share: RowMut<'_>,
    ) {
        let at = |place: &Place| {
            let observer = Observer::at(place.latitude_deg, place.longitude_deg);
            (Finder::new(&self.table, observer), target(place))
        };
        let mut place = places.row(first_row);
        let (mut finder, mut aim) = at(&place);
        let cells = share
            .state
            .iter_mut()
            .zip(share.rise_unix_ms)
            .zip(share.set_unix_ms);
        for (row, ((state, rise_ms), set_ms)) in (first_row..).zip(cells) {
            let here = places.row(row);
            if !here.is_same_sky(&place) {
                place = here;
                (finder, aim) = at(&place);
            }
            let day = of_row(unix_day, row);
            // Dates are checked, so the only error left is a skipped day.
            let noon_phase = match place.zone {
                None => Ok(f64::from(day - EPOCH_UNIX_DAY)),
                Some(zone) => civil_noon_unix_s(date_of(day), zone)
                    .map(|noon_s| finder.noon_phase(days_of_unix_s(noon_s))),
            };
            (*state, *rise_ms, *set_ms) = match noon_phase {
                Ok(noon_phase) => cell(&finder, noon_phase, &aim),
                Err(_) => (CrossingState::NoSuchDay, NO_EVENT, NO_EVENT),
            };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::{NO_DATE, Zones};
    use crate::site::Site;

    const DAY: i32 = 20_625;

    #[test]
    fn rows_are_those_of_single_sites() {
        let zones = [
            "Australia/Lord_Howe",
            "Asia/Kathmandu",
            "Pacific/Apia",
            "Europe/Oslo",
        ]
        .map(|name| crate::site::zone_by_name(name).unwrap());
        let (mut latitude, mut longitude, mut east, mut west, mut index, mut days) =
            (vec![], vec![], vec![], vec![], vec![], vec![]);
        for i in 0..5_000_u32 {
            let turn = |step: f64| (f64::from(i) * step).fract();
            latitude.push(-90.0 + 180.0 * turn(0.618));
            longitude.push(-180.0 + 360.0 * turn(0.414));
            east.push(-5.0 + 50.0 * turn(0.732));
            west.push(-5.0 + 50.0 * turn(0.236));
            index.push((i % 4) as u16);
            days.push(-25_567 + (73_413.0 * turn(0.317)) as i32);
        }
        // The day that Apia skipped.
        (index[2], days[2]) = (2, 15_338);
        let places = Places {
            east_horizon_deg: &east,
            west_horizon_deg: &west,
            zones: Zones::Each {
                zones: &zones,
                index: &index,
            },
            ..Places::new(&latitude, &longitude)
        };
        let table = Ephemeris::of_days(&days).unwrap();
        for limit in [SunLimit::Sun, SunLimit::Civil, SunLimit::AltitudeDeg(3.0)] {
            let rows = table.rows(&places, &days, limit).unwrap();
            for row in 0..days.len() {
                let zone = zones[usize::from(index[row])].name();
                let site = Site::new(latitude[row], longitude[row], 0.0, zone)
                    .and_then(|site| site.with_horizon(east[row], west[row]))
                    .unwrap();
                let one = table
                    .crossings(&site, &[date_of(days[row])], limit)
                    .unwrap();
                assert_eq!(
                    (
                        rows.state[row],
                        rows.rise_unix_ms[row],
                        rows.set_unix_ms[row]
                    ),
                    (one.state[0], one.rise_unix_ms[0], one.set_unix_ms[0]),
                    "{row}"
                );
            }
            assert_eq!(rows.state[2], CrossingState::NoSuchDay);
        }
    }

    #[test]
    fn mean_solar_dates_are_those_of_the_nearest_hour() {
        let longitude: Vec<f64> = (0..=3600).map(|i| -180.0 + 0.1 * f64::from(i)).collect();
        let places = Places::new(&[-28.81], &longitude);
        let rows = sun_columns(&places, &[DAY], SunLimit::Sun).unwrap();
        for (row, longitude_deg) in longitude.iter().enumerate() {
            let site = places.row(row).site(0.0).unwrap();
            assert_eq!(site.longitude_deg.get(), *longitude_deg);
            let one = Ephemeris::of_days(&[DAY])
                .unwrap()
                .crossings(&site, &[date_of(DAY)], SunLimit::Sun)
                .unwrap();
            assert_eq!(
                rows.rise_unix_ms[row], one.rise_unix_ms[0],
                "{longitude_deg}"
            );
        }
    }

    #[test]
    fn one_value_holds_for_every_row() {
        let rows = sun_columns(
            &Places::new(&[-28.81], &[153.28]),
            &[DAY, DAY + 1, DAY],
            SunLimit::Sun,
        );
        let rows = rows.unwrap();
        assert_eq!(rows.len(), 3);
        assert_eq!(rows.rise_unix_ms[0], rows.rise_unix_ms[2]);
        assert!(
            sun_columns(&Places::new(&[], &[1.0]), &[DAY], SunLimit::Sun)
                .unwrap()
                .is_empty()
        );
        assert!(
            sun_columns(&Places::new(&[1.0], &[1.0]), &[], SunLimit::Sun)
                .unwrap()
                .is_empty()
        );
    }

    #[test]
    fn the_first_bad_value_is_named() {
        let refusal = |places: Places<'_>, days: &[i32]| {
            let error = Error::from(sun_columns(&places, days, SunLimit::Sun).unwrap_err());
            (error.code(), error.to_string())
        };
        let good = Places::new(&[0.0, 1.0], &[0.0, 1.0]);
        for (places, days, code, words) in [
            (
                Places::new(&[0.0, 91.0, f64::NAN], &[0.0]),
                &[DAY][..],
                "out_of_range",
                "latitude_deg[1] is 91;",
            ),
            (
                Places::new(&[0.0], &[0.0, f64::NAN]),
                &[DAY],
                "out_of_range",
                "longitude_deg[1] is NaN;",
            ),
            (
                Places {
                    west_horizon_deg: &[0.0, 46.0],
                    ..good
                },
                &[DAY],
                "out_of_range",
                "west_horizon_deg[1] is 46;",
            ),
            (
                Places {
                    elevation_m: &[f64::NAN, 9001.0],
                    ..good
                },
                &[DAY],
                "out_of_range",
                "elevation_m[1] is 9001;",
            ),
            (
                good,
                &[DAY, NO_DATE],
                "out_of_range",
                "dates[1] is no date;",
            ),
            (
                good,
                &[DAY, 50_000],
                "out_of_range",
                "dates[1] is 2106-11-24;",
            ),
            (
                good,
                &[i32::MAX, DAY],
                "out_of_range",
                "dates[0] is 2147483647 days",
            ),
            (
                good,
                &[DAY, DAY, DAY],
                "inconsistent",
                "latitude_deg: 2 values for 3 rows",
            ),
            (
                Places {
                    zones: Zones::Each {
                        zones: &[],
                        index: &[0],
                    },
                    ..good
                },
                &[DAY],
                "out_of_range",
                "zone_index[0] is 0",
            ),
        ] {
            let (given, text) = refusal(places, days);
            assert!(given == code && text.contains(words), "{words}: {text}");
        }
    }
}
