//! Civil days and instants: which day an instant belongs to, how long a day is, whether it took
//! place at all.

use std::convert::Infallible;

use chrono::{
    DateTime, Datelike, Days, FixedOffset, MappedLocalTime, NaiveDate, NaiveTime, TimeDelta,
    TimeZone, Timelike, Utc,
};
use chrono_tz::Tz;
use serde::Serialize;

use crate::error::{Error, quoted};
use crate::search::change;
use crate::wire::{FromNode, Node, Refusal};
use crate::zone;

/// A moment with the offset from UTC that the site's clocks show. In JSON: RFC 3339 with
/// as many decimals as it takes, such as `2026-11-26T04:50:17.250+10:00`; an offset of 0 is `Z`.
pub type Instant = DateTime<FixedOffset>;

/// First date of the range in which the engine answers.
pub const FIRST_DATE: NaiveDate = NaiveDate::from_ymd_opt(1900, 1, 1).unwrap();
/// Last date of the range in which the engine answers.
pub const LAST_DATE: NaiveDate = NaiveDate::from_ymd_opt(2100, 12, 31).unwrap();

const NOON: NaiveTime = NaiveTime::from_hms_opt(12, 0, 0).unwrap();
const UTC: FixedOffset = FixedOffset::east_opt(0).unwrap();
/// Mean lengths of the months, January first, d: one February in four has 29 days.
pub(crate) const MONTH_DAYS: [f64; 12] = [
    31.0, 28.25, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0,
];

/// A date as people read it: `Mon 14 Sep 2026`.
///
/// ```
/// use apiary_almanac::civil::date_words;
/// assert_eq!(date_words("2026-09-14".parse()?), "Mon 14 Sep 2026");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn date_words(date: NaiveDate) -> String {
    let month = &MONTHS[date.month0() as usize][..3];
    format!("{} {} {month} {}", date.weekday(), date.day(), date.year())
}

/// Names of the months.
pub(crate) const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Refuses a date outside [`FIRST_DATE`] to [`LAST_DATE`].
///
/// # Errors
/// `out_of_range`, with the name of the field.
///
/// ```
/// use apiary_almanac::civil::check_date;
/// // A slip of the keyboard.
/// let error = check_date("divided_on", "2206-10-03".parse()?).unwrap_err();
/// assert_eq!(
///     error.to_string(),
///     "divided_on is 2206-10-03; allowed is 1900-01-01 to 2100-12-31",
/// );
/// # Ok::<(), chrono::ParseError>(())
/// ```
pub fn check_date(field: &str, date: NaiveDate) -> Result<NaiveDate, Error> {
    if (FIRST_DATE..=LAST_DATE).contains(&date) {
        Ok(date)
    } else {
        Err(Error::out_of_range(
            field,
            date,
            format_args!("{FIRST_DATE} to {LAST_DATE}"),
        ))
    }
}

/// Reads a date written `YYYY-MM-DD`.
///
/// # Errors
/// `out_of_range`, naming the field, for any other text and for days no calendar has.
///
/// ```
/// use apiary_almanac::civil::parse_date;
/// assert_eq!(parse_date("today", "2028-02-29")?.to_string(), "2028-02-29");
/// // No leap year, and an order of day and month that not everybody reads alike.
/// assert!(parse_date("today", "2026-02-29").is_err());
/// assert_eq!(parse_date("today", "03/10/2026").unwrap_err().field(), "today");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn parse_date(field: &str, text: &str) -> Result<NaiveDate, Error> {
    // Signs and unpadded numbers, which a typing error easily makes, are no dates.
    let right_shape = text.len() == 10
        && text.bytes().enumerate().all(|(i, b)| match i {
            4 | 7 => b == b'-',
            _ => b.is_ascii_digit(),
        });
    let part = |from: usize, to: usize| text.get(from..to)?.parse::<u16>().ok();
    let date = || {
        let (year, month, day) = (part(0, 4)?, part(5, 7)?, part(8, 10)?);
        NaiveDate::from_ymd_opt(year.into(), month.into(), day.into())
    };
    right_shape
        .then(date)
        .flatten()
        .ok_or_else(|| Error::out_of_range(field, quoted(text), "a date as YYYY-MM-DD"))
        .and_then(|date| check_date(field, date))
}

/// Reads an instant written as RFC 3339: date, time and the offset from UTC.
///
/// # Errors
/// `out_of_range`, naming the field, for any other text, one without an offset above all: without
/// it nobody knows which moment is meant.
///
/// ```
/// use apiary_almanac::civil::parse_instant;
/// let seen = parse_instant("seen", "2026-09-14T07:40:00+10:00")?;
/// assert_eq!(seen.to_utc().to_rfc3339(), "2026-09-13T21:40:00+00:00");
/// // Twenty to eight, but where?
/// assert!(parse_instant("seen", "2026-09-14T07:40:00").is_err());
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn parse_instant(field: &str, text: &str) -> Result<Instant, Error> {
    let refuse = |allowed: &str| Error::out_of_range(field, quoted(text), allowed);
    let instant = DateTime::parse_from_rfc3339(text)
        .map_err(|_| refuse("date, time and offset from UTC, such as 2026-11-26T04:50:17+10:00"))?;
    check_date(field, instant.date_naive())?;
    Ok(instant)
}

/// The civil day an instant belongs to in a zone.
///
/// ```
/// use apiary_almanac::civil::civil_day;
/// let zone: chrono_tz::Tz = "Pacific/Kiritimati".parse()?;
/// let instant = chrono::DateTime::parse_from_rfc3339("2026-11-25T11:00:00Z")?;
/// assert_eq!(civil_day(instant, zone).to_string(), "2026-11-26");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn civil_day<Z: TimeZone>(instant: DateTime<Z>, zone: Tz) -> NaiveDate {
    in_zone(instant.to_utc(), zone).date_naive()
}

/// The same moment as the clocks of `zone` show it.
///
/// ```
/// use apiary_almanac::{civil::in_zone, site::zone_by_name};
/// let talk = chrono::DateTime::parse_from_rfc3339("2026-11-07T09:00:00Z")?.to_utc();
/// let in_town = |zone| zone_by_name(zone).map(|zone| in_zone(talk, zone).to_rfc3339());
/// assert_eq!(in_town("Australia/Brisbane")?, "2026-11-07T19:00:00+10:00");
/// assert_eq!(in_town("Australia/Sydney")?, "2026-11-07T20:00:00+11:00");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn in_zone(instant: DateTime<Utc>, zone: Tz) -> Instant {
    let offset_s = zone::shown(zone, instant.timestamp()).offset_s;
    let offset = FixedOffset::east_opt(offset_s);
    instant.with_timezone(&offset.unwrap_or(UTC))
}

/// Which end of a stretch of time a moment is, for its clock text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Edge {
    /// A beginning: rounded up to the whole minute, so that nothing begins too early.
    From,
    /// An end: rounded down, so that nothing ends too late.
    Until,
}

/// What the clocks show at a moment, in whole minutes on the safe side: `05:52`. Everything that is
/// printed, written or shown of a window is this text.
///
/// ```
/// use apiary_almanac::civil::{Edge, clock_text};
/// let at = chrono::DateTime::parse_from_rfc3339("2026-09-14T05:51:07.218+10:00")?;
/// assert_eq!(clock_text(at, Edge::From), "05:52");
/// assert_eq!(clock_text(at, Edge::Until), "05:51");
/// # Ok::<(), chrono::ParseError>(())
/// ```
pub fn clock_text(at: Instant, edge: Edge) -> String {
    let at = whole_minute(at, edge);
    format!("{:02}:{:02}", at.hour(), at.minute())
}

/// The whole minute of [`clock_text`].
///
/// ```
/// use apiary_almanac::civil::{Edge, whole_minute};
/// // A window of less than a minute is none: nobody is told to begin after the end.
/// let at = |text| chrono::DateTime::parse_from_rfc3339(text);
/// let (from, until) = (at("2026-09-14T05:51:07+10:00")?, at("2026-09-14T05:51:59+10:00")?);
/// assert!(whole_minute(from, Edge::From) > whole_minute(until, Edge::Until));
/// # Ok::<(), chrono::ParseError>(())
/// ```
pub fn whole_minute(at: Instant, edge: Edge) -> Instant {
    let over = TimeDelta::seconds(at.timestamp().rem_euclid(60))
        + TimeDelta::nanoseconds(at.timestamp_subsec_nanos().into());
    match edge {
        Edge::From if over > TimeDelta::zero() => at - over + TimeDelta::minutes(1),
        Edge::From | Edge::Until => at - over,
    }
}

/// First moment of a civil day.
///
/// # Errors
/// `skipped_day` where the zone's calendar has no such day; `out_of_range` outside 1900–2100.
///
/// ```
/// use apiary_almanac::{civil::day_start, site::zone_by_name};
/// // Samoa moved to the other side of the date line, and had no 30 December in 2011.
/// let apia = zone_by_name("Pacific/Apia")?;
/// assert_eq!(day_start("2011-12-30".parse()?, apia).unwrap_err().code(), "skipped_day");
/// let thursday = day_start("2011-12-29".parse()?, apia)?;
/// let saturday = day_start("2011-12-31".parse()?, apia)?;
/// assert_eq!((saturday - thursday).num_hours(), 24);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn day_start(date: NaiveDate, zone: Tz) -> Result<DateTime<Utc>, Error> {
    check_date("date", date)?;
    let start = first_moment_from(date, zone);
    if civil_day(start, zone) == date {
        Ok(start)
    } else {
        Err(Error::SkippedDay {
            date: date.to_string(),
            zone: zone.name().to_owned(),
        })
    }
}

/// How long a civil day is: 24 h, but 23 h, 25 h or other on days when clocks are changed.
///
/// # Errors
/// As [`day_start`].
///
/// ```
/// use apiary_almanac::civil::day_length;
/// let zone: chrono_tz::Tz = "Australia/Sydney".parse()?;
/// assert_eq!(day_length("2026-10-04".parse()?, zone)?.num_hours(), 23);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn day_length(date: NaiveDate, zone: Tz) -> Result<TimeDelta, Error> {
    Ok(first_moment_from(date + Days::new(1), zone) - day_start(date, zone)?)
}

/// The clock time 12:00 of a civil day, the anchor of the solar day that belongs to it.
///
/// # Errors
/// As [`day_start`].
///
/// ```
/// use apiary_almanac::{civil::civil_noon, site::zone_by_name};
/// let sydney = zone_by_name("Australia/Sydney")?;
/// let saturday = civil_noon("2026-10-03".parse()?, sydney)?;
/// let sunday = civil_noon("2026-10-04".parse()?, sydney)?;
/// // In the night between them clocks were put forward.
/// assert_eq!((sunday - saturday).num_hours(), 23);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn civil_noon(date: NaiveDate, zone: Tz) -> Result<DateTime<Utc>, Error> {
    civil_noon_unix_s(date, zone).map(|s| DateTime::from_timestamp(s, 0).unwrap_or_default())
}

/// [`civil_noon`] in seconds of UTC since 1970.
pub(crate) fn civil_noon_unix_s(date: NaiveDate, zone: Tz) -> Result<i64, Error> {
    check_date("date", date)?;
    match noon_unix_s(date, zone) {
        Some(unix_s) => Ok(unix_s),
        None => {
            day_start(date, zone)?;
            Ok(local_or_next(date, NOON, zone).timestamp())
        }
    }
}

/// The civil day before `date`, stepping over one that the zone's calendar skipped.
///
/// # Errors
/// `out_of_range` outside 1900–2100.
///
/// ```
/// use apiary_almanac::{civil::previous_day, site::zone_by_name};
/// // The evening on which a hive is closed for the first morning after Samoa's lost day.
/// let eve = previous_day("2011-12-31".parse()?, zone_by_name("Pacific/Apia")?)?;
/// assert_eq!(eve.to_string(), "2011-12-29");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn previous_day(date: NaiveDate, zone: Tz) -> Result<NaiveDate, Error> {
    let before = check_date("date", check_date("date", date)? - Days::new(1))?;
    Ok(if took_place(before, zone) {
        before
    } else {
        before - Days::new(1)
    })
}

/// The civil day after `date`, stepping over one that the zone's calendar skipped.
///
/// # Errors
/// `out_of_range` outside 1900–2100.
///
/// ```
/// use apiary_almanac::{civil::next_day, site::zone_by_name};
/// let brisbane = zone_by_name("Australia/Brisbane")?;
/// assert_eq!(next_day("2026-12-31".parse()?, brisbane)?.to_string(), "2027-01-01");
/// assert!(next_day("2100-12-31".parse()?, brisbane).is_err());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn next_day(date: NaiveDate, zone: Tz) -> Result<NaiveDate, Error> {
    let after = check_date("date", check_date("date", date)? + Days::new(1))?;
    Ok(if took_place(after, zone) {
        after
    } else {
        after + Days::new(1)
    })
}

/// The civil day `days` days after `date`; one that the zone's calendar skipped is not counted.
///
/// # Errors
/// `out_of_range` outside 1900–2100.
pub(crate) fn days_after(date: NaiveDate, days: u32, zone: Tz) -> Result<NaiveDate, Error> {
    let mut after = check_date("date", date)? + Days::new(days.into());
    for skipped in zone::skipped(zone) {
        if date < *skipped && *skipped <= after {
            after = after + Days::new(1);
        }
    }
    check_date("date", after)
}

/// The civil days from `first` to `last` that took place in a zone.
///
/// ```
/// use apiary_almanac::{civil::days, site::zone_by_name};
/// let (first, last) = ("2011-12-26".parse()?, "2012-01-01".parse()?);
/// assert_eq!(days(first, last, zone_by_name("Australia/Brisbane")?).count(), 7);
/// assert_eq!(days(first, last, zone_by_name("Pacific/Apia")?).count(), 6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn days(first: NaiveDate, last: NaiveDate, zone: Tz) -> impl Iterator<Item = NaiveDate> {
    first
        .iter_days()
        .take_while(move |date| *date <= last)
        .filter(move |date| took_place(*date, zone))
}

/// Whether the zone's calendar has a day.
pub(crate) fn took_place(date: NaiveDate, zone: Tz) -> bool {
    !zone::skipped(zone).contains(&date)
}

/// The one moment at which clocks showed 12:00, in seconds of UTC since 1970.
fn noon_unix_s(date: NaiveDate, zone: Tz) -> Option<i64> {
    zone::moments(zone, date.and_time(NOON)).single()
}

/// The first moment whose local date is `date` or later.
fn first_moment_from(date: NaiveDate, zone: Tz) -> DateTime<Utc> {
    local_or_next(date, NaiveTime::MIN, zone)
}

/// A local clock reading as an instant. Of a repeated hour the first pass is meant; a reading that
/// clocks jumped over stands for the moment of the jump.
fn local_or_next(date: NaiveDate, time: NaiveTime, zone: Tz) -> DateTime<Utc> {
    let local = date.and_time(time);
    match zone::instants(zone, local) {
        MappedLocalTime::Single(t) | MappedLocalTime::Ambiguous(t, _) => t,
        MappedLocalTime::None => {
            // Offsets lie within a day of UTC, so the jump lies between these two; the later local
            // side of it is the first moment that reads `local` or more.
            let before = (local - TimeDelta::hours(26)).and_utc().timestamp();
            let after = (local + TimeDelta::hours(26)).and_utc().timestamp();
            let moment = |second| DateTime::from_timestamp(second, 0).unwrap_or_default();
            let Ok((_, jump)) = change(before, after, |second| {
                Ok::<_, Infallible>(in_zone(moment(second), zone).naive_local() < local)
            });
            moment(jump)
        }
    }
}

/// A civil day of a zone.
///
/// JSON: `{"date": "2026-10-04", "start": "2026-10-04T00:00:00+10:00", "day_length_h": 23.0}`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct CivilDay {
    /// The date.
    pub date: NaiveDate,
    /// Its first moment.
    pub start: Instant,
    /// Hours until the next day starts: 24 but on days when clocks are changed.
    pub day_length_h: f64,
}

impl CivilDay {
    /// The day of this date.
    ///
    /// # Errors
    /// As [`day_start`].
    ///
    /// ```
    /// use apiary_almanac::{civil::CivilDay, site::zone_by_name};
    /// // The Sunday in April on which clocks go back in Sydney.
    /// let day = CivilDay::of_date("2026-04-05".parse()?, zone_by_name("Australia/Sydney")?)?;
    /// assert_eq!(day.start.to_rfc3339(), "2026-04-05T00:00:00+11:00");
    /// assert_eq!(day.day_length_h, 25.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_date(date: NaiveDate, zone: Tz) -> Result<Self, Error> {
        Ok(CivilDay {
            date,
            start: in_zone(day_start(date, zone)?, zone),
            day_length_h: day_length(date, zone)?.as_seconds_f64() / 3600.0,
        })
    }

    /// The day that an instant belongs to.
    ///
    /// # Errors
    /// `out_of_range` where that day is outside 1900–2100.
    ///
    /// ```
    /// use apiary_almanac::{civil::{CivilDay, parse_instant}, site::zone_by_name};
    /// // A picture of the entrance, stamped in UTC by the camera.
    /// let taken = parse_instant("taken", "2026-09-13T21:40:00Z")?;
    /// let day = CivilDay::of_instant(taken, zone_by_name("Australia/Brisbane")?)?;
    /// assert_eq!(day.date.to_string(), "2026-09-14");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of_instant(instant: Instant, zone: Tz) -> Result<Self, Error> {
        Self::of_date(civil_day(instant, zone), zone)
    }
}

impl FromNode for NaiveDate {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        Ok(parse_date("", node.text("a date as YYYY-MM-DD")?)?)
    }
}

impl FromNode for Instant {
    fn from_node(node: &Node<'_>) -> Result<Self, Refusal> {
        Ok(parse_instant(
            "",
            node.text("date, time and offset from UTC")?,
        )?)
    }
}

#[cfg(feature = "shapes")]
impl crate::wire::shape::Shape for Instant {
    fn shape(_: &mut crate::wire::shape::Shapes) -> crate::wire::shape::Type {
        crate::wire::shape::Type::Instant
    }
}

/// Day of the year in a calendar of 365 days: 29 February counts as 28 February.
///
/// ```
/// use apiary_almanac::civil::day_of_common_year;
/// assert_eq!(day_of_common_year("2026-12-31".parse()?), 365);
/// assert_eq!(day_of_common_year("2028-12-31".parse()?), 365);
/// assert_eq!(day_of_common_year("2028-02-29".parse()?), day_of_common_year("2028-02-28".parse()?));
/// # Ok::<(), chrono::ParseError>(())
/// ```
pub fn day_of_common_year(date: NaiveDate) -> u32 {
    let day = date.ordinal();
    if date.leap_year() && day >= 60 {
        day - 1
    } else {
        day
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::Months;

    fn zone(name: &str) -> Tz {
        name.parse().unwrap()
    }

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn skipped_days_are_those_without_a_moment() {
        let mut skipped = 0;
        for zone in chrono_tz::TZ_VARIANTS {
            let of_zone = zone::skipped(zone);
            skipped += of_zone.len();
            // Every month's last two days, and all days around those that were skipped.
            let mut dates: Vec<NaiveDate> = (1..=1200)
                .flat_map(|month| [1, 2].map(|days| (Months::new(month), Days::new(days))))
                .map(|(months, days)| date("1930-01-01") + months - days)
                .collect();
            for day in of_zone {
                dates.extend(
                    (day.checked_sub_days(Days::new(3)).unwrap())
                        .iter_days()
                        .take(7),
                );
            }
            for date in dates {
                let took_place = civil_day(first_moment_from(date, zone), zone) == date;
                assert_eq!(!of_zone.contains(&date), took_place, "{zone} {date}");
            }
        }
        // Kwajalein (Kwajalein) 1993; Kiritimati, Enderbury (Kanton) 1994; Apia, Fakaofo 2011.
        assert!(skipped >= 5, "{skipped}");
        let apia = zone("Pacific/Apia");
        let after = |from: &str, days| days_after(date(from), days, apia).unwrap();
        assert_eq!(after("2011-12-29", 1), date("2011-12-31"));
        assert_eq!(after("2011-12-28", 40), date("2012-02-07"));
        assert_eq!(after("2011-12-31", 1), date("2012-01-01"));
        assert!(days_after(LAST_DATE, 1, apia).is_err());
    }

    #[test]
    fn the_day_apia_skipped() {
        let apia = zone("Pacific/Apia");
        let error = day_start(date("2011-12-30"), apia).unwrap_err();
        assert_eq!(error.code(), "skipped_day");
        assert!(civil_noon(date("2011-12-30"), apia).is_err());
        assert_eq!(
            day_length(date("2011-12-29"), apia).unwrap().num_hours(),
            24
        );
        assert_eq!(
            day_length(date("2011-12-31"), apia).unwrap().num_hours(),
            24
        );
        // 29 December ended at 10:00 UTC (UTC-10 with summer time), and the 31st began there.
        assert_eq!(
            day_start(date("2011-12-31"), apia).unwrap().to_rfc3339(),
            "2011-12-30T10:00:00+00:00"
        );
    }

    #[test]
    fn days_of_23_and_25_hours() {
        let sydney = zone("Australia/Sydney");
        assert_eq!(
            day_length(date("2026-10-04"), sydney).unwrap().num_hours(),
            23
        );
        assert_eq!(
            day_length(date("2026-04-05"), sydney).unwrap().num_hours(),
            25
        );
        // Lord Howe Island moves its clocks by half an hour.
        assert_eq!(
            day_length(date("2026-10-04"), zone("Australia/Lord_Howe"))
                .unwrap()
                .num_minutes(),
            23 * 60 + 30
        );
    }

    #[test]
    fn midnight_that_was_jumped_over() {
        // Brazil's summer time began at 00:00: 2018-11-04 starts at 01:00 (-02:00).
        let start = day_start(date("2018-11-04"), zone("America/Sao_Paulo")).unwrap();
        assert_eq!(start.to_rfc3339(), "2018-11-04T03:00:00+00:00");
        assert_eq!(
            day_length(date("2018-11-04"), zone("America/Sao_Paulo"))
                .unwrap()
                .num_hours(),
            23
        );
    }

    #[test]
    fn only_full_dates_are_read() {
        for bad in [
            "2026-2-3",
            "26-02-03",
            "2026-02-30",
            "2026/02/03",
            "",
            "+2026-02-03",
            "1899-12-31",
        ] {
            assert_eq!(
                parse_date("date", bad).unwrap_err().code(),
                "out_of_range",
                "{bad}"
            );
        }
        assert_eq!(
            parse_date("date", "2028-02-29").unwrap(),
            date("2028-02-29")
        );
    }

    #[test]
    fn an_instant_needs_its_offset() {
        for bad in [
            "2026-11-26T04:50:17",
            "2026-11-26",
            "",
            "04:50",
            "2026-11-26T04:50:17 Brisbane",
        ] {
            let error = parse_instant("instant", bad).unwrap_err();
            assert_eq!(
                (error.code(), error.field()),
                ("out_of_range", "instant"),
                "{bad}"
            );
        }
        assert!(parse_instant("instant", "1899-06-01T00:00:00Z").is_err());
        let instant = parse_instant("instant", "2026-11-26T04:50:17.25+10:00").unwrap();
        assert_eq!(instant.to_rfc3339(), "2026-11-26T04:50:17.250+10:00");
    }

    #[test]
    fn leap_day_shares_a_day_of_the_common_year() {
        assert_eq!(day_of_common_year(date("2028-02-28")), 59);
        assert_eq!(day_of_common_year(date("2028-02-29")), 59);
        assert_eq!(day_of_common_year(date("2028-03-01")), 60);
        assert_eq!(day_of_common_year(date("2028-12-31")), 365);
    }
}
