//! Move windows of many places and dates, in columns.

use serde::Serialize;

use super::{Morning, MorningOverrides, MorningSettings, MoveWindow, morning};
use crate::batch::{Places, RowError};
use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::civil::Instant;
use crate::error::Error;
use crate::flight::{NoDay, each_day};
use crate::place::PlaceState;
use crate::sun::NO_EVENT;
use crate::wire::{FromNode, from_json};

/// Whether a hive can be moved on a morning. The numbers are the bytes of [`MorningColumns::state`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[repr(u8)]
pub enum MorningState {
    /// There is a move window.
    Open = 0,
    /// The bees fly too soon after there is light to work.
    TooEarlyFlight = 1,
    /// The sun does not pass the altitude of dawn.
    NoDawn = 2,
    /// The zone skipped this date.
    NoSuchDay = 3,
    /// The row has temperatures of its own, and none of them is known.
    NotEnoughData = 4,
}

/// Mornings in columns of equal length. Moments are milliseconds of UTC since 1970, or
/// [`NO_EVENT`].
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct MorningColumns {
    /// Whether a hive can be moved.
    pub state: Vec<MorningState>,
    /// Light enough to work: the beginning of the window, where there is one.
    pub work_light_unix_ms: Vec<i64>,
    /// End of the window, where there is one.
    pub until_unix_ms: Vec<i64>,
    /// First flight, where bees fly that day.
    pub first_flight_unix_ms: Vec<i64>,
    /// On the evening before, from when the foragers are in and the entrance can be closed; none for a hive that
    /// stands open over night.
    pub close_from_unix_ms: Vec<i64>,
    /// Whether that is after dusk.
    pub lamp_needed: Vec<bool>,
    /// Air temperature at work light, °C; NaN where there is none.
    pub temperature_c: Vec<f64>,
    /// Whether bees can fly long enough on this day to learn the new place.
    pub flying_day: Vec<bool>,
    /// Where the place lies. At sea and beyond the grid temperatures rest on latitude and elevation
    /// alone and are a rough guess.
    pub place: Vec<PlaceState>,
}

/// Whose mornings, and a keeper's own numbers. JSON: `{"bee": "generic_large", "settings":
/// {"margin_min": 20}}`; both may be left out.
///
/// ```
/// use apiary_almanac::morning::MorningOptions;
/// let options = MorningOptions::from_json(r#"{"settings": {"margin_min": 20}}"#)?;
/// assert_eq!(options.settings()?.margin_min().value, 20.0);
/// assert_eq!(options.bee()?.name(), "generic_small");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode)]
#[serde(default)]
pub struct MorningOptions {
    /// A built-in bee by name, or a user's own numbers.
    #[serde(deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// The keeper's own numbers.
    pub settings: MorningOverrides,
}

impl MorningOptions {
    /// Reads them from JSON.
    ///
    /// # Errors
    /// `unreadable` with the path.
    ///
    /// ```
    /// use apiary_almanac::morning::MorningOptions;
    /// let options = MorningOptions::from_json(r#"{"bee": "generic_large"}"#)?;
    /// assert_eq!(options.bee()?.name(), "generic_large");
    /// assert!(MorningOptions::from_json(r#"{"bees": "generic_large"}"#).is_err());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn from_json(text: &str) -> Result<Self, Error> {
        from_json("options", text)
    }

    /// The bee with all its numbers.
    ///
    /// # Errors
    /// As [`Bee::with_overrides`].
    pub fn bee(&self) -> Result<Bee, Error> {
        Bee::with_overrides(&self.bee)
    }

    /// The settings with all their numbers.
    ///
    /// # Errors
    /// As [`MorningSettings::with_overrides`].
    ///
    /// ```
    /// use apiary_almanac::morning::MorningOptions;
    /// let options = MorningOptions::from_json(r#"{"settings": {"margin_min": 500}}"#)?;
    /// assert_eq!(options.settings().unwrap_err().field(), "margin_min");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn settings(&self) -> Result<MorningSettings, Error> {
        MorningSettings::with_overrides(&self.settings)
    }
}

/// One row.
#[derive(Debug, Clone, Copy)]
struct Row {
    state: MorningState,
    work_light: i64,
    until: i64,
    first_flight: i64,
    close_from: i64,
    lamp_needed: bool,
    temperature_c: f64,
    flying_day: bool,
    place: PlaceState,
}

impl Row {
    fn without_day(why: NoDay, place: PlaceState) -> Row {
        Row {
            state: match why {
                NoDay::Skipped => MorningState::NoSuchDay,
                NoDay::NotEnoughData => MorningState::NotEnoughData,
            },
            work_light: NO_EVENT,
            until: NO_EVENT,
            first_flight: NO_EVENT,
            close_from: NO_EVENT,
            lamp_needed: false,
            temperature_c: f64::NAN,
            flying_day: false,
            place,
        }
    }

    fn of(morning: &Morning, place: PlaceState) -> Row {
        let ms = |at: Option<Instant>| at.map_or(NO_EVENT, |at| at.timestamp_millis());
        let (state, until) = match morning.window {
            MoveWindow::Open { until, .. } => (MorningState::Open, Some(until)),
            MoveWindow::None { .. } if morning.work_light.is_none() => (MorningState::NoDawn, None),
            MoveWindow::None { .. } => (MorningState::TooEarlyFlight, None),
        };
        Row {
            state,
            work_light: ms(morning.work_light),
            until: ms(until),
            first_flight: ms(morning.first_flight.map(|edge| edge.at)),
            close_from: ms((!morning.open_overnight).then_some(morning.evening_before.from)),
            lamp_needed: morning.closing_by_lamp(),
            temperature_c: morning.temperature_c.unwrap_or(f64::NAN),
            flying_day: morning.flying_day,
            place,
        }
    }
}

impl MorningColumns {
    /// Number of rows.
    pub fn len(&self) -> usize {
        self.state.len()
    }

    /// True without any row.
    pub fn is_empty(&self) -> bool {
        self.state.is_empty()
    }
}

/// The mornings of many pairs of place and date, one for each row: what
/// [`Weather::morning`](crate::weather::Weather::morning) gives, with the rows' own temperatures
/// ([`Places::air`]), or else those that the location lets one expect. Dates are days since 1970-01-01; without
/// zones they are those of mean solar time. With the feature `parallel`, on every core.
///
/// # Errors
/// `out_of_range` for a value or date outside its range, with its column and row (the first two
/// and the last date of 1900–2100 have no neighbours to look at); `inconsistent` for columns of different
/// lengths.
///
/// ```
/// use apiary_almanac::{bee, batch::Places};
/// use apiary_almanac::morning::{MorningSettings, MorningState, morning_columns};
/// let places = Places { elevation_m: &[12.0], ..Places::new(&[-28.81], &[153.28]) };
/// let small = bee::built_in("generic_small")?;
/// let columns = morning_columns(&places, &[20_710, 20_711], &small, &MorningSettings::default())?;
/// assert_eq!(columns.state, [MorningState::Open; 2]);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn morning_columns(
    places: &Places<'_>,
    unix_day: &[i32],
    bee: &Bee,
    settings: &MorningSettings,
) -> Result<MorningColumns, RowError> {
    let rows = each_day(
        places,
        unix_day,
        Row::without_day,
        |ephemeris, site, climate, date, place| {
            let morning = morning(ephemeris, site, climate, bee, settings, date)?;
            Ok(Row::of(&morning, place))
        },
    )?;
    let mut columns = MorningColumns::default();
    for answer in rows {
        columns.state.push(answer.state);
        columns.work_light_unix_ms.push(answer.work_light);
        columns.until_unix_ms.push(answer.until);
        columns.first_flight_unix_ms.push(answer.first_flight);
        columns.close_from_unix_ms.push(answer.close_from);
        columns.lamp_needed.push(answer.lamp_needed);
        columns.temperature_c.push(answer.temperature_c);
        columns.flying_day.push(answer.flying_day);
        columns.place.push(answer.place);
    }
    Ok(columns)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::{Zones, date_of};
    use crate::bee::built_in;
    use crate::climate::Climate;
    use crate::place::state;
    use crate::site::Site;
    use crate::sun::Ephemeris;

    #[test]
    fn rows_are_those_of_single_mornings() {
        let small = built_in("generic_small").unwrap();
        let settings = MorningSettings::default();
        let zones = ["Australia/Lord_Howe", "Pacific/Apia"]
            .map(|name| crate::site::zone_by_name(name).unwrap());
        let (mut latitude, mut longitude, mut index, mut days) = (vec![], vec![], vec![], vec![]);
        for i in 0..300_u32 {
            let turn = |step: f64| (f64::from(i) * step).fract();
            latitude.push(-80.0 + 160.0 * turn(0.618));
            longitude.push(-180.0 + 360.0 * turn(0.414));
            index.push((i % 2) as u16);
            days.push(-25_560 + (73_400.0 * turn(0.317)) as i32);
        }
        (index[1], days[1]) = (1, 15_338);
        let places = Places {
            elevation_m: &[50.0],
            east_horizon_deg: &[3.0],
            zones: Zones::Each {
                zones: &zones,
                index: &index,
            },
            ..Places::new(&latitude, &longitude)
        };
        let columns = morning_columns(&places, &days, &small, &settings).unwrap();
        let mut seen = [0; 4];
        for row in 0..days.len() {
            seen[columns.state[row] as usize] += 1;
            if columns.state[row] == MorningState::NoSuchDay {
                continue;
            }
            let zone = zones[usize::from(index[row])].name();
            let site = Site::new(latitude[row], longitude[row], 50.0, zone)
                .and_then(|site| site.with_horizon(3.0, 0.0))
                .unwrap();
            let date = date_of(days[row]);
            let ephemeris = Ephemeris::with_neighbours(date, date).unwrap();
            let climate = Climate::from_location(&site);
            let one = morning(&ephemeris, &site, &climate, &small, &settings, date).unwrap();
            let ms = |at: Option<Instant>| at.map_or(NO_EVENT, |at| at.timestamp_millis());
            assert_eq!(columns.work_light_unix_ms[row], ms(one.work_light), "{row}");
            let first_flight = one.first_flight.map(|edge| edge.at);
            assert_eq!(columns.first_flight_unix_ms[row], ms(first_flight));
            let until = match one.window {
                MoveWindow::Open { until, .. } => Some(until),
                MoveWindow::None { .. } => None,
            };
            assert_eq!(columns.until_unix_ms[row], ms(until));
            assert_eq!(columns.state[row] == MorningState::Open, until.is_some());
            assert_eq!(columns.flying_day[row], one.flying_day);
            assert_eq!(columns.place[row], state(latitude[row], longitude[row]));
        }
        assert!(seen.iter().all(|count| *count > 0), "{seen:?}");
    }

    #[test]
    fn a_hive_that_stands_open_over_night_has_no_closing() {
        let (small, place) = (
            built_in("generic_small").unwrap(),
            Places::new(&[-28.8], &[153.3]),
        );
        for (closed, none) in [(true, 0), (false, 365)] {
            let own = MorningOverrides::default().with_closed_evening_before(closed);
            let settings = MorningSettings::with_overrides(&own).unwrap();
            let days: Vec<i32> = (20_000..20_365).collect();
            let columns = morning_columns(&place, &days, &small, &settings).unwrap();
            let times = columns.close_from_unix_ms.iter();
            assert_eq!(times.filter(|at| **at == NO_EVENT).count(), none);
            assert!(closed || !columns.lamp_needed.contains(&true));
        }
    }

    #[test]
    fn the_ends_of_the_calendar_are_refused_by_row() {
        let small = built_in("generic_small").unwrap();
        let first = crate::civil::FIRST_DATE.to_epoch_days();
        let error = morning_columns(
            &Places::new(&[0.0], &[0.0]),
            &[first + 5, first],
            &small,
            &MorningSettings::default(),
        );
        let error = Error::from(error.unwrap_err());
        assert_eq!((error.code(), error.field()), ("out_of_range", "dates[1]"));
    }
}
