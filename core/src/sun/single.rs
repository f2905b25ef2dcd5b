//! One site, one date: no more of the table than the answer needs.

use chrono::{DateTime, NaiveDate, Utc};

use super::day::{
    Crossing, Ephemeris, Position, SunDay, check_altitude, describe, instants, position_at, targets,
};
use super::event::{Finder, Observer, Passage, Target};
use super::guess::{FirstGuess, days_of, days_of_unix_s};
use super::table::Table;
use crate::civil::{check_date, civil_noon_unix_s};
use crate::error::Error;
use crate::site::Site;

/// Sun and twilights of one civil date. For more than a few dates build an [`Ephemeris`].
///
/// # Errors
/// `out_of_range` outside 1900–2100, `skipped_day` for a date the zone skipped.
///
/// ```
/// use apiary_almanac::{Site, sun::{Crossing, sun_day}};
/// let tromso = Site::new(69.65, 18.96, 10.0, "Europe/Oslo")?;
/// let day = sun_day(&tromso, "2026-12-21".parse()?)?;
/// assert_eq!(day.sun, Crossing::AlwaysBelow);
/// assert!(matches!(day.civil, Crossing::RisesAndSets { .. }));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn sun_day(site: &Site, date: NaiveDate) -> Result<SunDay, Error> {
    let targets = targets(site);
    let quick = quick_answer(site, date, &targets, |finder, noon_phase, passages| {
        describe(finder, site, date, noon_phase, passages)
    })?;
    quick.map_or_else(|| Ephemeris::covering(date, date)?.day(site, date), Ok)
}

/// When the sun's centre passes a true altitude (no refraction) around the noon of one civil date.
///
/// # Errors
/// As [`sun_day`], and `out_of_range` for an altitude outside −90° to 90°.
///
/// ```
/// use apiary_almanac::{Site, sun::crossing};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let golden = crossing(&site, "2026-11-26".parse()?, 6.0)?;
/// assert!(golden.rise() < golden.set());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn crossing(site: &Site, date: NaiveDate, altitude_deg: f64) -> Result<Crossing, Error> {
    let target = [Target::altitude(check_altitude(altitude_deg)?)];
    let quick = quick_answer(site, date, &target, |_, _, [passage]| {
        instants(*passage, site)
    })?;
    quick.map_or_else(
        || Ephemeris::covering(date, date)?.crossing(site, date, altitude_deg),
        Ok,
    )
}

/// Where the sun stands at a moment.
///
/// # Errors
/// `out_of_range` outside 1900–2100 (UTC).
///
/// ```
/// use apiary_almanac::{Site, sun::position};
/// let site = Site::new(0.0, 0.0, 0.0, "Etc/UTC")?;
/// let noon = chrono::DateTime::parse_from_rfc3339("2026-03-20T12:07:00Z")?;
/// assert!(position(&site, noon.to_utc())?.altitude_deg > 89.5);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn position(site: &Site, at: DateTime<Utc>) -> Result<Position, Error> {
    check_date("at", at.date_naive())?;
    let t = days_of(at);
    let table = Table::new(t as i32, t as i32);
    Ok(position_at(&Finder::new(&table, Observer::new(site)), t))
}

/// The answer if every target is crossed steeply, from a table of just the days of the events.
fn quick_answer<const N: usize, T>(
    site: &Site,
    date: NaiveDate,
    targets: &[Target; N],
    answer: impl Fn(&Finder<'_>, f64, &[Passage; N]) -> T,
) -> Result<Option<T>, Error> {
    let near = days_of_unix_s(civil_noon_unix_s(date, site.zone)?);
    let observer = Observer::new(site);
    Ok((|| {
        // By the mean sun; the apparent sun may disagree when noon is 12 h from 12:00.
        let noon_phase = observer.mean_phase(near).round();
        let first_guess = FirstGuess::new(site, noon_phase)?;
        let (mut first, mut last) = (near, near);
        for target in targets {
            let [rise, set] = first_guess.rise_and_set(target)?;
            (first, last) = (first.min(rise), last.max(set));
        }
        let table = Table::new(first as i32, last as i32);
        let finder = Finder {
            first_guess: Some(first_guess),
            ..Finder::new(&table, observer)
        };
        if finder.noon_phase(near) != noon_phase || !table.covers(finder.moment(noon_phase)) {
            return None;
        }
        let mut passages = [Passage::Below; N];
        for (passage, target) in passages.iter_mut().zip(targets) {
            *passage = finder.steep_passage(noon_phase, target)?;
            let Passage::Both { rise, set } = *passage else {
                return None;
            };
            if !table.covers(rise) || !table.covers(set) {
                return None;
            }
        }
        Some(answer(&finder, noon_phase, &passages))
    })())
}
