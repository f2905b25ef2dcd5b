//! The sun's day at a site, as callers see it.

use chrono::{DateTime, Days, NaiveDate, Utc};
use serde::Serialize;

use super::event::{Finder, Observer, Passage, Target};
use super::guess::{days_of, days_of_unix_s};
use super::table::{EPOCH_UNIX_DAY, Table};
use crate::civil::{FIRST_DATE, Instant, LAST_DATE, check_date, civil_noon_unix_s, in_zone};
use crate::error::Error;
use crate::site::Site;
use crate::wire::FromNode;

/// Sun centre at the darker end of civil twilight.
pub const CIVIL_TWILIGHT_ALTITUDE_DEG: f64 = -6.0;
/// Sun centre at the darker end of nautical twilight.
pub const NAUTICAL_TWILIGHT_ALTITUDE_DEG: f64 = -12.0;
/// Sun centre at the darker end of astronomical twilight.
pub const ASTRONOMICAL_TWILIGHT_ALTITUDE_DEG: f64 = -18.0;

/// Where the sun stands. True place of its centre seen from the middle of the Earth: no refraction,
/// no parallax (which is 0.0024° at most).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Position {
    /// Degrees above the level horizon, −90 to 90.
    pub altitude_deg: f64,
    /// Degrees from north through east, 0 to 360.
    pub azimuth_deg: f64,
}

/// Whether and when the sun passes an altitude in one solar day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Crossing {
    /// The usual day.
    RisesAndSets {
        /// Upwards.
        rise: Instant,
        /// Downwards.
        set: Instant,
    },
    /// It comes up and stays up: polar day begins.
    OnlyRises {
        /// Upwards.
        rise: Instant,
    },
    /// It goes down and stays down: polar night begins.
    OnlySets {
        /// Downwards.
        set: Instant,
    },
    /// Above all day.
    AlwaysAbove,
    /// Below all day.
    AlwaysBelow,
}

impl Crossing {
    /// The moment it rises, where it does.
    ///
    /// ```
    /// use apiary_almanac::{Site, sun};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let day = sun::sun_day(&site, "2026-11-26".parse()?)?;
    /// assert!(day.sun.rise() < day.sun.set());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rise(&self) -> Option<Instant> {
        match *self {
            Crossing::RisesAndSets { rise, .. } | Crossing::OnlyRises { rise } => Some(rise),
            _ => None,
        }
    }

    /// The moment it sets, where it does.
    ///
    /// ```
    /// use apiary_almanac::{Site, sun};
    /// // NREL/TP-560-34302, the worked example: sunset at 17:20:19 standard time, on 2003-10-17 UT.
    /// // On the clocks in Golden that is the evening before, in daylight saving time.
    /// let golden = Site::new(39.742_476, -105.178_6, 1830.14, "America/Denver")?;
    /// let set = sun::sun_day(&golden, "2003-10-16".parse()?)?.sun.set().ok_or("it sets")?;
    /// assert_eq!(set.to_rfc3339()[..19], *"2003-10-16T18:20:19");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn set(&self) -> Option<Instant> {
        match *self {
            Crossing::RisesAndSets { set, .. } | Crossing::OnlySets { set } => Some(set),
            _ => None,
        }
    }
}

/// Sun and twilights of one civil date.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct SunDay {
    /// The civil date asked for. Events may fall on a neighbouring date and carry their own.
    pub date: NaiveDate,
    /// When the sun crosses the meridian: the crossing nearest to 12:00 on the clocks.
    pub solar_noon: Instant,
    /// Altitude at that moment.
    pub noon_altitude_deg: f64,
    /// Sunrise and sunset: the upper edge on the skyline of the site, refraction included.
    pub sun: Crossing,
    /// Centre at −6°.
    pub civil: Crossing,
    /// Centre at −12°.
    pub nautical: Crossing,
    /// Centre at −18°.
    pub astronomical: Crossing,
    /// Hours with the sun above the skyline in this solar day, 0 to 24.
    pub day_length_h: f64,
}

/// The apparent sun for a span of dates. Build it once and ask it for every site.
///
/// ```
/// use apiary_almanac::{Site, sun::Ephemeris};
/// let brisbane = Site::new(-27.47, 153.03, 27.0, "Australia/Brisbane")?;
/// let year = Ephemeris::covering("2026-01-01".parse()?, "2026-12-31".parse()?)?;
/// let day = year.day(&brisbane, "2026-06-21".parse()?)?;
/// let rise = day.sun.rise().ok_or("no sunrise")?;
/// assert_eq!(rise.to_rfc3339()[..19], *"2026-06-21T06:37:27");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Ephemeris {
    first: NaiveDate,
    last: NaiveDate,
    pub(super) table: Table,
}

/// A civil noon may lie 26 h from that of UTC, solar noon 12 h from it, and an event 18 h from
/// that.
const MARGIN_D: i32 = 3;

/// A morning looks at the flight of the day before, and a flight at the nights around its day; a
/// zone may have skipped a day in between.
const NEIGHBOUR_DAYS: u64 = 4;

impl Ephemeris {
    /// Prepares the civil dates `first..=last` of every zone.
    ///
    /// # Errors
    /// `out_of_range` outside 1900–2100; `inconsistent` where `last` comes before `first`.
    ///
    /// ```
    /// use apiary_almanac::Ephemeris;
    /// // A club's year, then one too far ahead.
    /// assert!(Ephemeris::covering("2026-07-01".parse()?, "2027-06-30".parse()?).is_ok());
    /// let error = Ephemeris::covering("2100-07-01".parse()?, "2101-06-30".parse()?).unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("out_of_range", "last"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn covering(first: NaiveDate, last: NaiveDate) -> Result<Self, Error> {
        check_date("first", first)?;
        check_date("last", last)?;
        if last < first {
            return Err(Error::Inconsistent {
                field: "first, last".to_owned(),
                problem: format!("{last} comes before {first}"),
            });
        }
        let days = |date: NaiveDate| date.to_epoch_days() - EPOCH_UNIX_DAY;
        let table = Table::new(days(first) - MARGIN_D, days(last) + MARGIN_D);
        Ok(Ephemeris { first, last, table })
    }

    /// As [`Ephemeris::covering`], with the days before and after that flights and mornings look
    /// at; days outside 1900–2100 are left out.
    ///
    /// # Errors
    /// As [`Ephemeris::covering`].
    ///
    /// ```
    /// use apiary_almanac::{Ephemeris, Site};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let (eve, morning) = ("2026-09-13".parse()?, "2026-09-14".parse()?);
    /// // The hive is closed on the evening before it is moved.
    /// assert!(Ephemeris::covering(morning, morning)?.day(&site, eve).is_err());
    /// assert!(Ephemeris::with_neighbours(morning, morning)?.day(&site, eve)?.sun.set().is_some());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn with_neighbours(first: NaiveDate, last: NaiveDate) -> Result<Self, Error> {
        check_date("first", first)?;
        check_date("last", last)?;
        let few = Days::new(NEIGHBOUR_DAYS);
        Ephemeris::covering((first - few).max(FIRST_DATE), (last + few).min(LAST_DATE))
    }

    /// Sun and twilights of one civil date.
    ///
    /// # Errors
    /// `out_of_range` for a date outside the span, `skipped_day` for a date the zone skipped.
    ///
    /// ```
    /// use apiary_almanac::{Ephemeris, Site};
    /// // Midsummer in Singapore and in Brisbane: hours with the sun up.
    /// let singapore = Site::new(1.35, 103.8, 15.0, "Asia/Singapore")?;
    /// let brisbane = Site::new(-27.47, 153.03, 27.0, "Australia/Brisbane")?;
    /// let date = "2026-12-21".parse()?;
    /// let sun = Ephemeris::covering(date, date)?;
    /// assert!((sun.day(&singapore, date)?.day_length_h - 12.0).abs() < 0.2);
    /// assert!((sun.day(&brisbane, date)?.day_length_h - 13.9).abs() < 0.1);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn day(&self, site: &Site, date: NaiveDate) -> Result<SunDay, Error> {
        let finder = self.finder(site);
        let noon_phase = self.noon_phase(&finder, site, date)?;
        let passages = targets(site).map(|target| finder.passage(noon_phase, &target));
        Ok(describe(&finder, site, date, noon_phase, &passages))
    }

    /// When the sun's centre passes a true altitude (no refraction) around the noon of a civil date.
    ///
    /// # Errors
    /// As [`Ephemeris::day`], and `out_of_range` for an altitude outside −90° to 90°.
    ///
    /// ```
    /// use apiary_almanac::{Ephemeris, Site};
    /// // From when does the sun stand over a wall that hides it up to 20°?
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let date = "2026-09-14".parse()?;
    /// let sun = Ephemeris::covering(date, date)?;
    /// let over_the_wall = sun.crossing(&site, date, 20.0)?.rise().ok_or("it stays behind")?;
    /// assert!((sun.position(&site, over_the_wall.to_utc())?.altitude_deg - 20.0).abs() < 0.001);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn crossing(
        &self,
        site: &Site,
        date: NaiveDate,
        altitude_deg: f64,
    ) -> Result<Crossing, Error> {
        let target = Target::altitude(check_altitude(altitude_deg)?);
        let finder = self.finder(site);
        let noon_phase = self.noon_phase(&finder, site, date)?;
        Ok(instants(finder.passage(noon_phase, &target), site))
    }

    /// The solar noon that belongs to a civil date.
    ///
    /// # Errors
    /// As [`Ephemeris::day`].
    ///
    /// ```
    /// use apiary_almanac::{Ephemeris, Site};
    /// use chrono::Timelike;
    /// // On the western edge of China clocks show the time of Beijing: noon comes after three.
    /// let kashgar = Site::new(39.47, 75.99, 1289.0, "Asia/Shanghai")?;
    /// let date = "2026-02-11".parse()?;
    /// let noon = Ephemeris::covering(date, date)?.solar_noon(&kashgar, date)?;
    /// assert_eq!((noon.hour(), noon.minute()), (15, 10));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn solar_noon(&self, site: &Site, date: NaiveDate) -> Result<Instant, Error> {
        let finder = self.finder(site);
        let noon_phase = self.noon_phase(&finder, site, date)?;
        Ok(instant(finder.moment(noon_phase), site))
    }

    /// Where the sun stands at a moment.
    ///
    /// # Errors
    /// `out_of_range` for a moment more than a day outside the span.
    ///
    /// ```
    /// use apiary_almanac::{Ephemeris, Site};
    /// // NREL/TP-560-34302, the worked example: 2003-10-17 12:30:30 in Golden, seven hours behind UTC.
    /// // Topocentric altitude 39.872° before refraction, azimuth 194.340°.
    /// let golden = Site::new(39.742_476, -105.178_6, 1830.14, "America/Denver")?;
    /// let at = chrono::DateTime::parse_from_rfc3339("2003-10-17T12:30:30-07:00")?;
    /// let date = at.date_naive();
    /// let stands = Ephemeris::covering(date, date)?.position(&golden, at.to_utc())?;
    /// assert!((stands.altitude_deg - 39.872).abs() < 0.0025); // parallax is left out
    /// assert!((stands.azimuth_deg - 194.340).abs() < 0.001);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn position(&self, site: &Site, at: DateTime<Utc>) -> Result<Position, Error> {
        let day = at.date_naive();
        if day < self.first.pred_opt().unwrap_or(self.first)
            || day > self.last.succ_opt().unwrap_or(self.last)
        {
            return Err(self.outside("at", at));
        }
        let (altitude, azimuth) = self.finder(site).position(days_of(at));
        Ok(Position {
            altitude_deg: altitude.to_degrees(),
            azimuth_deg: azimuth.to_degrees(),
        })
    }

    pub(super) fn finder(&self, site: &Site) -> Finder<'_> {
        Finder::new(&self.table, Observer::new(site))
    }

    pub(super) fn noon_phase(
        &self,
        finder: &Finder<'_>,
        site: &Site,
        date: NaiveDate,
    ) -> Result<f64, Error> {
        self.check_covered(date)?;
        Ok(finder.noon_phase(days_of_unix_s(civil_noon_unix_s(date, site.zone)?)))
    }

    pub(super) fn check_covered(&self, date: NaiveDate) -> Result<(), Error> {
        if (self.first..=self.last).contains(&date) {
            Ok(())
        } else {
            Err(self.outside("date", date))
        }
    }

    /// Whether a day since 1970-01-01 lies in the span.
    pub(super) fn covers_day(&self, unix_day: i32) -> bool {
        (self.first.to_epoch_days()..=self.last.to_epoch_days()).contains(&unix_day)
    }

    pub(super) fn outside(&self, field: &str, given: impl std::fmt::Display) -> Error {
        Error::out_of_range(
            field,
            given,
            format_args!(
                "{} to {}, the span of this ephemeris",
                self.first, self.last
            ),
        )
    }
}

/// Position at a moment of the table.
pub(super) fn position_at(finder: &Finder<'_>, t: f64) -> Position {
    let (altitude, azimuth) = finder.position(t);
    Position {
        altitude_deg: altitude.to_degrees(),
        azimuth_deg: azimuth.to_degrees(),
    }
}

/// What a [`SunDay`] asks for: the skyline and the three twilights.
pub(super) fn targets(site: &Site) -> [Target; 4] {
    [
        Target::skyline(site),
        Target::altitude(CIVIL_TWILIGHT_ALTITUDE_DEG),
        Target::altitude(NAUTICAL_TWILIGHT_ALTITUDE_DEG),
        Target::altitude(ASTRONOMICAL_TWILIGHT_ALTITUDE_DEG),
    ]
}

/// The day in words for callers, from the passages of [`targets`].
pub(super) fn describe(
    finder: &Finder<'_>,
    site: &Site,
    date: NaiveDate,
    noon_phase: f64,
    passages: &[Passage; 4],
) -> SunDay {
    let noon = finder.moment(noon_phase);
    let [sun, civil, nautical, astronomical] = passages.map(|passage| instants(passage, site));
    SunDay {
        date,
        solar_noon: instant(noon, site),
        noon_altitude_deg: finder.position(noon).0.to_degrees(),
        sun,
        civil,
        nautical,
        astronomical,
        day_length_h: finder.hours_above(noon_phase, &passages[0]),
    }
}

pub(super) fn check_altitude(altitude_deg: f64) -> Result<f64, Error> {
    if altitude_deg.is_finite() && altitude_deg.abs() <= 90.0 {
        Ok(altitude_deg)
    } else {
        Err(Error::out_of_range(
            "altitude_deg",
            altitude_deg,
            "-90 to 90 degrees",
        ))
    }
}

/// Milliseconds since 1970 of a moment of the table.
#[inline]
pub(super) fn unix_ms(t: f64) -> i64 {
    // Positive, so the cast rounds to the nearest.
    (t * 86_400_000.0 + 0.5) as i64 + EPOCH_UNIX_DAY as i64 * 86_400_000
}

fn instant(t: f64, site: &Site) -> Instant {
    in_zone(
        DateTime::from_timestamp_millis(unix_ms(t)).unwrap_or_default(),
        site.zone,
    )
}

pub(super) fn instants(passage: Passage, site: &Site) -> Crossing {
    match passage {
        Passage::Both { rise, set } => Crossing::RisesAndSets {
            rise: instant(rise, site),
            set: instant(set, site),
        },
        Passage::Rise(rise) => Crossing::OnlyRises {
            rise: instant(rise, site),
        },
        Passage::Set(set) => Crossing::OnlySets {
            set: instant(set, site),
        },
        Passage::Above => Crossing::AlwaysAbove,
        Passage::Below => Crossing::AlwaysBelow,
    }
}
