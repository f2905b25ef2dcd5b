//! Many places and dates at once: what the batch functions take and how they refuse it.
//!
//! Columns are plain slices. A column of one value holds for every row; all others have one value
//! for each row. So the arrays of another language are handed over as they are.

mod air;

use std::fmt;

use chrono::NaiveDate;
use chrono_tz::Tz;

use crate::civil::{FIRST_DATE, LAST_DATE};
use crate::climate::Climate;
use crate::error::Error;
use crate::site::{Elevation, Horizon, Latitude, Longitude, Site};

pub use air::{AirDates, OwnAir};

/// Stands in a column of dates where there is none. It is refused by name.
pub const NO_DATE: i32 = i32::MIN;

/// What was refused, and in which row.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", Error::from(self.clone()))]
pub struct RowError {
    /// Position in the column at fault, from 0; `None` where it is not a single value.
    pub row: Option<usize>,
    /// What is wrong with it. `field` is the column.
    pub error: Error,
}

impl RowError {
    /// The error with the place in its field, such as `latitude_deg[3, 17]`.
    ///
    /// ```
    /// use apiary_almanac::batch::Places;
    /// let places = Places::new(&[-28.8, 95.0], &[153.3]);
    /// let error = places.check().unwrap_err().at("0, 1");
    /// assert_eq!(error.field(), "latitude_deg[0, 1]");
    /// assert_eq!(error.to_string(), "latitude_deg[0, 1] is 95; allowed is -90 to 90 degrees (north positive)");
    /// ```
    pub fn at(self, place: impl fmt::Display) -> Error {
        let RowError { row, mut error } = self;
        if let (Some(_), Some(field)) = (row, error.field_mut()) {
            *field = format!("{field}[{place}]");
        }
        error
    }

    /// A single day calls its date `date`, the column of them is `dates`.
    pub(crate) fn of_date(row: usize, mut error: Error) -> Self {
        if let Some(field) = error.field_mut().filter(|field| *field == "date") {
            "dates".clone_into(field);
        }
        RowError {
            row: Some(row),
            error,
        }
    }

    fn of_lengths(column: &str, length: usize, rows: usize) -> Self {
        RowError {
            row: None,
            error: Error::Inconsistent {
                field: column.to_owned(),
                problem: format!("{length} values for {rows} rows; give one, or one for each row"),
            },
        }
    }
}

impl From<RowError> for Error {
    fn from(error: RowError) -> Error {
        match error.row {
            Some(row) => error.at(row),
            None => error.error,
        }
    }
}

/// Which zone's civil dates are meant.
#[derive(Debug, Clone, Copy)]
pub enum Zones<'a> {
    /// No zone: a date is that of mean solar time at the place, so the solar day asked for is the
    /// one whose noon falls on it. At 180° east and west these are different days.
    MeanSolar,
    /// One zone for every row.
    One(Tz),
    /// For each row the position of its zone in a list.
    Each {
        /// The list.
        zones: &'a [Tz],
        /// Positions in it.
        index: &'a [u16],
    },
}

/// Columns of places.
#[derive(Debug, Clone, Copy)]
pub struct Places<'a> {
    /// ° north, −90 to 90.
    pub latitude_deg: &'a [f64],
    /// ° east, −180 to 180.
    pub longitude_deg: &'a [f64],
    /// Metres above sea level, −500 to 9000. Empty, or NaN in a row, where it is not known:
    /// temperatures are then those of the mean height of the land around. The sun does not need it.
    pub elevation_m: &'a [f64],
    /// Skyline where the sun comes up, −5 to 45 degrees above level. Empty: level.
    pub east_horizon_deg: &'a [f64],
    /// Skyline where the sun goes down. Empty: level.
    pub west_horizon_deg: &'a [f64],
    /// Whose dates are meant.
    pub zones: Zones<'a>,
    /// Temperatures and rain of one's own. The sun does not need them.
    pub air: Option<OwnAir<'a>>,
}

/// One row of [`Places`], of checked values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Place {
    pub latitude_deg: f64,
    pub longitude_deg: f64,
    /// NaN where not known.
    pub elevation_m: f64,
    pub east_horizon_deg: f64,
    pub west_horizon_deg: f64,
    pub zone: Option<Tz>,
    /// Position of its own air, where it has some.
    pub air: Option<u32>,
}

impl<'a> Places<'a> {
    /// Places with level skylines, of unknown elevation, on mean solar dates.
    ///
    /// ```
    /// use apiary_almanac::batch::{Places, Zones};
    /// use apiary_almanac::sun::{SunLimit, sun_columns};
    /// // Members' places from a spreadsheet; all keep Brisbane's time.
    /// let (latitude_deg, longitude_deg) = ([-27.47, -26.19, -27.56], [153.03, 152.66, 151.95]);
    /// let zone = apiary_almanac::site::zone_by_name("Australia/Brisbane")?;
    /// let places = Places { zones: Zones::One(zone), ..Places::new(&latitude_deg, &longitude_deg) };
    /// let columns = sun_columns(&places, &[20_710], SunLimit::Sun)?;
    /// // The sun rises last where the longitude is least.
    /// assert!(columns.rise_unix_ms[2] > columns.rise_unix_ms[0].max(columns.rise_unix_ms[1]));
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new(latitude_deg: &'a [f64], longitude_deg: &'a [f64]) -> Self {
        Places {
            latitude_deg,
            longitude_deg,
            elevation_m: &[],
            east_horizon_deg: &[],
            west_horizon_deg: &[],
            zones: Zones::MeanSolar,
            air: None,
        }
    }

    /// Refuses the first value outside its range, column by column.
    ///
    /// # Errors
    /// `out_of_range` with the column as its field, and the row.
    ///
    /// ```
    /// use apiary_almanac::batch::Places;
    /// // In the second row latitude and longitude were swapped.
    /// let refused = Places::new(&[-27.47, 153.03], &[153.03, -27.47]).check().unwrap_err();
    /// assert_eq!((refused.row, refused.error.field()), (Some(1), "latitude_deg"));
    /// assert!(refused.to_string().starts_with("latitude_deg[1] is 153.03; allowed is"));
    /// ```
    pub fn check(&self) -> Result<(), RowError> {
        check_column(self.latitude_deg, |value| Latitude::new(value).map(drop))?;
        check_column(self.longitude_deg, |value| Longitude::new(value).map(drop))?;
        check_column(self.elevation_m, |value| {
            if value.is_nan() {
                Ok(())
            } else {
                Elevation::new(value).map(drop)
            }
        })?;
        for (field, column) in [
            ("east_horizon_deg", self.east_horizon_deg),
            ("west_horizon_deg", self.west_horizon_deg),
        ] {
            check_column(column, |value| {
                Horizon::new(value).map(drop).map_err(|mut error| {
                    if let Some(name) = error.field_mut() {
                        field.clone_into(name);
                    }
                    error
                })
            })?;
        }
        if let Some(air) = &self.air {
            air.check()?;
        }
        if let Zones::Each { zones, index } = self.zones {
            for (row, position) in index.iter().enumerate() {
                if usize::from(*position) >= zones.len() {
                    let last = zones.len().saturating_sub(1);
                    return Err(RowError {
                        row: Some(row),
                        error: Error::out_of_range(
                            "zone_index",
                            position,
                            format_args!("0 to {last}"),
                        ),
                    });
                }
            }
        }
        Ok(())
    }

    /// Refuses columns that do not go with this many rows.
    pub(crate) fn check_lengths(&self, rows: usize) -> Result<(), RowError> {
        let needed = [
            ("latitude_deg", self.latitude_deg.len()),
            ("longitude_deg", self.longitude_deg.len()),
        ];
        let optional = [
            ("elevation_m", self.elevation_m.len()),
            ("east_horizon_deg", self.east_horizon_deg.len()),
            ("west_horizon_deg", self.west_horizon_deg.len()),
        ];
        let zones = match self.zones {
            Zones::Each { index, .. } => index.len(),
            _ => 1,
        };
        let air = self.air.map_or(1, |air| air.index.len());
        let given = optional.into_iter().filter(|(_, length)| *length != 0);
        for (column, length) in needed
            .into_iter()
            .chain(given)
            .chain([("zone_index", zones), ("air_index", air)])
        {
            if length != 1 && length != rows {
                return Err(RowError::of_lengths(column, length, rows));
            }
        }
        Ok(())
    }

    /// How many rows there are together with a column of dates.
    pub(crate) fn rows_with(&self, unix_day: &[i32]) -> Result<usize, RowError> {
        let mut columns = vec![
            self.latitude_deg.len(),
            self.longitude_deg.len(),
            unix_day.len(),
        ];
        let optional = [
            self.elevation_m,
            self.east_horizon_deg,
            self.west_horizon_deg,
        ];
        columns.extend(
            optional
                .iter()
                .map(|c| c.len())
                .filter(|length| *length > 0),
        );
        if let Zones::Each { index, .. } = self.zones {
            columns.push(index.len());
        }
        columns.extend(self.air.map(|air| air.index.len()));
        let rows = if columns.contains(&0) {
            0
        } else {
            columns.into_iter().max().unwrap_or(0)
        };
        self.check_lengths(rows)?;
        if unix_day.len() != 1 && unix_day.len() != rows {
            return Err(RowError::of_lengths("dates", unix_day.len(), rows));
        }
        Ok(rows)
    }

    #[inline]
    pub(crate) fn row(&self, row: usize) -> Place {
        let optional = |column: &[f64], otherwise: f64| {
            if column.is_empty() {
                otherwise
            } else {
                of_row(column, row)
            }
        };
        Place {
            latitude_deg: of_row(self.latitude_deg, row),
            longitude_deg: of_row(self.longitude_deg, row),
            elevation_m: optional(self.elevation_m, f64::NAN),
            east_horizon_deg: optional(self.east_horizon_deg, 0.0),
            west_horizon_deg: optional(self.west_horizon_deg, 0.0),
            zone: match self.zones {
                Zones::MeanSolar => None,
                Zones::One(zone) => Some(zone),
                Zones::Each { zones, index } => Some(zones[usize::from(of_row(index, row))]),
            },
            air: self.air.map(|air| of_row(air.index, row)),
        }
    }

    /// The air at one of its places: its own, or what the location lets one expect. `None` where its own is
    /// not known.
    pub(crate) fn climate(&self, place: &Place, site: &Site) -> Result<Option<Climate>, Error> {
        match (self.air, place.air) {
            (Some(air), Some(position)) => air.climate(site, position),
            _ => Ok(Some(Climate::from_location(site))),
        }
    }
}

impl Place {
    /// Whether the sun and the calendar are the same at both.
    #[inline]
    pub fn is_same_sky(&self, other: &Place) -> bool {
        self.latitude_deg == other.latitude_deg
            && self.longitude_deg == other.longitude_deg
            && self.east_horizon_deg == other.east_horizon_deg
            && self.west_horizon_deg == other.west_horizon_deg
            && self.zone == other.zone
    }

    /// Whether the temperatures are the same at both.
    pub fn is_same_air(&self, other: &Place) -> bool {
        self.latitude_deg == other.latitude_deg
            && self.longitude_deg == other.longitude_deg
            && self.elevation_m.to_bits() == other.elevation_m.to_bits()
            && self.air == other.air
    }

    #[inline]
    pub fn has_level_skyline(&self) -> bool {
        self.east_horizon_deg == 0.0 && self.west_horizon_deg == 0.0
    }

    /// A [`Site`]; without a zone in that of the whole hours nearest to mean solar time, whose noons
    /// belong to the same solar days.
    pub fn site(&self, elevation_m: f64) -> Result<Site, Error> {
        let zone = match self.zone {
            Some(zone) => zone,
            None => hours_zone(self.longitude_deg)?,
        };
        Site {
            latitude_deg: Latitude::new(self.latitude_deg)?,
            longitude_deg: Longitude::new(self.longitude_deg)?,
            elevation_m: Elevation::new(elevation_m)?,
            zone,
            east_horizon_deg: Horizon::default(),
            west_horizon_deg: Horizon::default(),
            elevation_from_land: false,
            longitude_from_360: false,
        }
        .with_horizon(self.east_horizon_deg, self.west_horizon_deg)
    }
}

/// The zone of whole hours for a longitude. Their names count westwards.
fn hours_zone(longitude_deg: f64) -> Result<Tz, Error> {
    let hours = (longitude_deg / 15.0).round() as i32;
    crate::site::zone_by_name(&match hours {
        0 => "Etc/GMT".to_owned(),
        east @ 1.. => format!("Etc/GMT-{east}"),
        west => format!("Etc/GMT+{}", -west),
    })
}

/// The value of a row; of a column of one, that one.
#[inline]
pub(crate) fn of_row<T: Copy>(column: &[T], row: usize) -> T {
    column[if column.len() == 1 { 0 } else { row }]
}

fn check_column(column: &[f64], check: impl Fn(f64) -> Result<(), Error>) -> Result<(), RowError> {
    for (row, value) in column.iter().enumerate() {
        check(*value).map_err(|error| RowError {
            row: Some(row),
            error,
        })?;
    }
    Ok(())
}

/// Refuses the first date outside [`FIRST_DATE`] to [`LAST_DATE`]. Dates are days since 1970-01-01.
///
/// # Errors
/// `out_of_range` with the field `dates`, and the row.
///
/// ```
/// use apiary_almanac::batch::{NO_DATE, check_dates};
/// // 2026-09-14, and a row without a date.
/// let refused = check_dates(&[20_710, NO_DATE]).unwrap_err();
/// assert_eq!((refused.row, refused.error.field()), (Some(1), "dates"));
/// ```
pub fn check_dates(unix_day: &[i32]) -> Result<(), RowError> {
    let range = FIRST_DATE.to_epoch_days()..=LAST_DATE.to_epoch_days();
    match unix_day.iter().position(|day| !range.contains(day)) {
        None => Ok(()),
        Some(row) => Err(RowError {
            row: Some(row),
            error: Error::out_of_range(
                "dates",
                date_in_words(unix_day[row]),
                format_args!("{FIRST_DATE} to {LAST_DATE}"),
            ),
        }),
    }
}

pub(crate) fn date_in_words(unix_day: i32) -> String {
    if unix_day == NO_DATE {
        return "no date".to_owned();
    }
    match NaiveDate::from_epoch_days(unix_day) {
        Some(date) => date.to_string(),
        None => format!("{unix_day} days from 1970-01-01"),
    }
}

/// The date of a checked day.
pub(crate) fn date_of(unix_day: i32) -> NaiveDate {
    NaiveDate::from_epoch_days(unix_day).unwrap_or(FIRST_DATE)
}

/// The elevation of a place; where it is not known, that of the land around, or of the sea.
pub(crate) fn own_elevation_m(place: &Place) -> f64 {
    if !place.elevation_m.is_nan() {
        return place.elevation_m;
    }
    crate::climate::grid::at(place.latitude_deg, place.longitude_deg, None)
        .map_or(0.0, |land| land.cell_elevation_m)
}

/// Fills a column with answers, each made from what is known of the place of its row: that is found once for
/// neighbouring rows of the `same` place.
pub(crate) fn by_place<K, A: Send>(
    places: &Places<'_>,
    mut column: Vec<Result<A, Error>>,
    share: usize,
    same: impl Fn(&Place, &Place) -> bool + Sync,
    find: impl Fn(&Place) -> Result<K, Error> + Sync,
    answer: impl Fn(&K, usize) -> Result<A, Error> + Sync,
) -> Vec<Result<A, Error>> {
    in_shares(&mut column, share, |first_row, share| {
        let mut at: Option<(Place, Result<K, Error>)> = None;
        for (row, cell) in (first_row..).zip(share) {
            let place = places.row(row);
            let (_, known) = match &mut at {
                Some(found) if same(&found.0, &place) => found,
                other => other.insert((place, find(&place))),
            };
            *cell = match known {
                Ok(known) => answer(known, row),
                Err(error) => Err(error.clone()),
            };
        }
    });
    column
}

/// Fills a column by shares of neighbouring rows, with the feature `parallel` on every core.
/// `fill` gets the first row of its share and its part of the column.
fn in_shares<T: Send>(column: &mut [T], share: usize, fill: impl Fn(usize, &mut [T]) + Sync) {
    #[cfg(feature = "parallel")]
    {
        use rayon::prelude::*;
        column
            .par_chunks_mut(share)
            .enumerate()
            .for_each(|(number, part)| fill(number * share, part));
    }
    #[cfg(not(feature = "parallel"))]
    for (number, part) in column.chunks_mut(share).enumerate() {
        fill(number * share, part);
    }
}
