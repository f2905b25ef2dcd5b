//! Days at many places, one for each row.

use chrono::NaiveDate;

use crate::batch::{Places, RowError, by_place, check_dates, date_of, of_row, own_elevation_m};
use crate::climate::Climate;
use crate::error::Error;
use crate::place::{PlaceState, state};
use crate::site::Site;
use crate::sun::Ephemeris;

/// How many rows one thread takes at a time.
const SHARE: usize = 256;

/// Why a row has no day to answer for.
#[derive(Clone, Copy)]
pub(crate) enum NoDay {
    /// The zone skipped its date.
    Skipped,
    /// It has temperatures of its own, and none of them is known.
    NotEnoughData,
}

/// What `day` makes of each pair of place and date, and `none` where there is no such day. Dates are days since
/// 1970-01-01; without zones they are those of mean solar time. With the feature `parallel`, on every core.
///
/// # Errors
/// As [`super::flight_columns`].
pub(crate) fn each_day<R: Copy + Send>(
    places: &Places<'_>,
    unix_day: &[i32],
    none: impl Fn(NoDay, PlaceState) -> R + Sync,
    day: impl Fn(&Ephemeris, &Site, &Climate, NaiveDate, PlaceState) -> Result<R, Error> + Sync,
) -> Result<Vec<R>, RowError> {
    let rows = places.rows_with(unix_day)?;
    places.check()?;
    check_dates(unix_day)?;
    let (Some(first), Some(last)) = (unix_day.iter().min(), unix_day.iter().max()) else {
        return Ok(Vec::new());
    };
    let ephemeris = Ephemeris::with_neighbours(date_of(*first), date_of(*last))
        .map_err(|error| RowError { row: None, error })?;
    let nothing = none(NoDay::Skipped, PlaceState::AtSea);
    let answers = by_place(
        places,
        vec![Ok(nothing); rows],
        SHARE,
        |one, other| one.is_same_air(other) && one.is_same_sky(other),
        |place| {
            let site = place.site(own_elevation_m(place))?;
            let state = state(place.latitude_deg, place.longitude_deg);
            let climate = places.climate(place, &site)?;
            Ok((state, site, climate))
        },
        |(place, site, climate), row| {
            let Some(climate) = climate else {
                return Ok(none(NoDay::NotEnoughData, *place));
            };
            match day(
                &ephemeris,
                site,
                climate,
                date_of(of_row(unix_day, row)),
                *place,
            ) {
                Err(Error::SkippedDay { .. }) => Ok(none(NoDay::Skipped, *place)),
                answer => answer,
            }
        },
    );
    answers
        .into_iter()
        .enumerate()
        .map(|(row, answer)| answer.map_err(|error| RowError::of_date(row, error)))
        .collect()
}
