//! First and last flight of many places and dates, in columns.

use serde::Serialize;

use super::{Finder, Flight, FlightDay, FlightEdge, NoDay, each_day};
use crate::batch::{Places, RowError};
use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::error::Error;
use crate::place::PlaceState;
use crate::sun::NO_EVENT;
use crate::wire::{FromNode, from_json};

/// Whether bees can fly on a day. The numbers are the bytes of [`FlightColumns::state`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[repr(u8)]
pub enum FlightState {
    /// They can, from first to last flight.
    Possible = 0,
    /// The day's maximum stays below the bee's flight minimum.
    TooCold = 1,
    /// The sun stays too low all day.
    TooDark = 2,
    /// It is warm enough and light enough, but never both at once.
    NeverBoth = 3,
    /// The zone skipped this date.
    NoSuchDay = 4,
    /// The row has temperatures of its own, and none of them is known.
    NotEnoughData = 5,
}

/// Days of flight in columns of equal length. Moments are milliseconds of UTC since 1970, or [`NO_EVENT`]
/// where no flight is possible.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct FlightColumns {
    /// Whether bees can fly.
    pub state: Vec<FlightState>,
    /// Early first flight: on one morning in ten of such a day the first bees are out by then.
    pub early_first_unix_ms: Vec<i64>,
    /// Usual first flight.
    pub first_unix_ms: Vec<i64>,
    /// Usual last flight.
    pub last_unix_ms: Vec<i64>,
    /// Late last flight: on one evening in ten bees still fly after it.
    pub late_last_unix_ms: Vec<i64>,
    /// Hours between usual first and usual last flight.
    pub flying_hours: Vec<f64>,
    /// Whether the hours reach the bee's `flying_day_h` and no heavy rain is known.
    pub flying_day: Vec<bool>,
    /// Where the place lies. At sea and beyond the grid temperatures rest on latitude and elevation
    /// alone, unless they are the row's own, and are a rough guess.
    pub place: Vec<PlaceState>,
}

impl FlightColumns {
    /// Number of rows.
    pub fn len(&self) -> usize {
        self.state.len()
    }

    /// True without any row.
    pub fn is_empty(&self) -> bool {
        self.state.is_empty()
    }
}

/// Whose flight. JSON: `{"bee": "generic_large"}`; it may be left out.
///
/// ```
/// use apiary_almanac::flight::FlightOptions;
/// let options = FlightOptions::from_json(r#"{"bee": "generic_large"}"#)?;
/// assert_eq!(options.bee()?.name(), "generic_large");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode)]
#[serde(default)]
pub struct FlightOptions {
    /// A built-in bee by name, or a user's own numbers.
    #[serde(deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
}

impl FlightOptions {
    /// Reads them from JSON.
    ///
    /// # Errors
    /// `unreadable` with the path.
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
}

/// One row.
#[derive(Debug, Clone, Copy)]
struct Row {
    state: FlightState,
    early_first: i64,
    first: i64,
    last: i64,
    late_last: i64,
    flying_hours: f64,
    flying_day: bool,
    place: PlaceState,
}

impl Row {
    fn without_flight(state: FlightState, place: PlaceState) -> Row {
        Row {
            state,
            early_first: NO_EVENT,
            first: NO_EVENT,
            last: NO_EVENT,
            late_last: NO_EVENT,
            flying_hours: 0.0,
            flying_day: false,
            place,
        }
    }

    fn of(day: &FlightDay, place: PlaceState) -> Row {
        let ms = |edge: FlightEdge| edge.at.timestamp_millis();
        match day.flight {
            Flight::TooCold => Row::without_flight(FlightState::TooCold, place),
            Flight::TooDark => Row::without_flight(FlightState::TooDark, place),
            Flight::NeverBoth => Row::without_flight(FlightState::NeverBoth, place),
            Flight::Possible {
                early_first,
                first,
                last,
                late_last,
            } => Row {
                state: FlightState::Possible,
                early_first: ms(early_first),
                first: ms(first),
                last: ms(last),
                late_last: ms(late_last),
                flying_hours: day.flying_hours,
                flying_day: day.flying_day,
                place,
            },
        }
    }
}

/// The flight of many pairs of place and date, one for each row: what
/// [`Weather::flight`](crate::weather::Weather::flight) gives, without its reasons. Dates are days since
/// 1970-01-01; without zones they are those of mean solar time. With the feature `parallel`, on every core.
///
/// Temperatures are the rows' own ([`Places::air`]), or else what the location lets one expect.
///
/// # Errors
/// `out_of_range` for a value or date outside its range, with its column and row (the first and the last date
/// of 1900–2100 have no neighbours to look at); `inconsistent` for columns of different lengths.
///
/// ```
/// use apiary_almanac::{bee, batch::Places};
/// use apiary_almanac::flight::{FlightState, flight_columns};
/// let places = Places { elevation_m: &[12.0], ..Places::new(&[-28.81], &[153.28]) };
/// let small = bee::built_in("generic_small")?;
/// let columns = flight_columns(&places, &[20_710, 20_711], &small)?;
/// assert_eq!(columns.state, [FlightState::Possible; 2]);
/// assert!(columns.early_first_unix_ms[0] <= columns.first_unix_ms[0]);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn flight_columns(
    places: &Places<'_>,
    unix_day: &[i32],
    bee: &Bee,
) -> Result<FlightColumns, RowError> {
    let none = |why, place| {
        let state = match why {
            NoDay::Skipped => FlightState::NoSuchDay,
            NoDay::NotEnoughData => FlightState::NotEnoughData,
        };
        Row::without_flight(state, place)
    };
    let rows = each_day(
        places,
        unix_day,
        none,
        |ephemeris, site, climate, date, place| {
            let finder = Finder::new(ephemeris, site, climate, bee)?;
            Ok(Row::of(&finder.around(date)?.frame(date)?.flight, place))
        },
    )?;
    let mut columns = FlightColumns::default();
    for answer in rows {
        columns.state.push(answer.state);
        columns.early_first_unix_ms.push(answer.early_first);
        columns.first_unix_ms.push(answer.first);
        columns.last_unix_ms.push(answer.last);
        columns.late_last_unix_ms.push(answer.late_last);
        columns.flying_hours.push(answer.flying_hours);
        columns.flying_day.push(answer.flying_day);
        columns.place.push(answer.place);
    }
    Ok(columns)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::{AirDates, OwnAir, Zones, date_of};
    use crate::bee::built_in;
    use crate::climate::{Climate, DailyRecords, DayRecord, MonthlyNormals};
    use crate::place::state;
    use crate::site::Site;
    use crate::weather::Weather;

    fn same(columns: &FlightColumns, row: usize, one: &FlightDay) {
        let ms = |edge: FlightEdge| edge.at.timestamp_millis();
        let state = match one.flight {
            Flight::Possible {
                early_first,
                first,
                last,
                late_last,
            } => {
                assert_eq!(columns.early_first_unix_ms[row], ms(early_first), "{row}");
                assert_eq!(columns.first_unix_ms[row], ms(first), "{row}");
                assert_eq!(columns.last_unix_ms[row], ms(last), "{row}");
                assert_eq!(columns.late_last_unix_ms[row], ms(late_last), "{row}");
                FlightState::Possible
            }
            Flight::TooCold => FlightState::TooCold,
            Flight::TooDark => FlightState::TooDark,
            Flight::NeverBoth => FlightState::NeverBoth,
        };
        assert_eq!(columns.state[row], state, "{row}");
        assert_eq!(columns.flying_hours[row], one.flying_hours);
        assert_eq!(columns.flying_day[row], one.flying_day);
    }

    #[test]
    fn rows_are_single_days_of_flight() {
        let small = built_in("generic_small").unwrap();
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
            zones: Zones::Each {
                zones: &zones,
                index: &index,
            },
            ..Places::new(&latitude, &longitude)
        };
        let columns = flight_columns(&places, &days, &small).unwrap();
        let mut seen = [0; 6];
        for row in 0..days.len() {
            seen[columns.state[row] as usize] += 1;
            assert_eq!(columns.place[row], state(latitude[row], longitude[row]));
            if columns.state[row] == FlightState::NoSuchDay {
                continue;
            }
            let zone = zones[usize::from(index[row])].name();
            let site = Site::new(latitude[row], longitude[row], 50.0, zone).unwrap();
            let one = Weather::of_location(site, &small).flight(date_of(days[row]));
            same(&columns, row, &one.unwrap());
        }
        assert!(seen[0] > 0 && seen[1] > 0 && seen[4] == 1, "{seen:?}");
    }

    #[test]
    fn rows_with_months_and_days_of_their_own_are_single_days_of_that_climate() {
        let small = built_in("generic_small").unwrap();
        let site = Site::new(-28.81, 153.28, 12.0, "Etc/GMT-10").unwrap();
        let (low, high) = ([[9.0; 12], [f64::NAN; 12]], [[17.0; 12], [f64::NAN; 12]]);
        let months = OwnAir {
            dates: AirDates::Months,
            minimum_c: low.as_flattened(),
            maximum_c: high.as_flattened(),
            rain_mm: &[],
            index: &[0, 1],
        };
        let places = Places {
            elevation_m: &[12.0],
            air: Some(months),
            ..Places::new(&[-28.81], &[153.28])
        };
        let columns = flight_columns(&places, &[20_635], &small).unwrap();
        let normals = MonthlyNormals::new(low[0], high[0], None, "own arrays").unwrap();
        let climate = Climate::from_normals_at(&site, normals);
        let one = Weather::new(&site, &climate, &small).flight(date_of(20_635));
        same(&columns, 0, &one.unwrap());
        assert_eq!(
            columns.state,
            [FlightState::TooCold, FlightState::NotEnoughData]
        );

        let dates: Vec<i32> = (20_600..20_640).collect();
        let low = vec![11.0; dates.len()];
        let high: Vec<f64> = (0..40).map(|day| 20.0 + f64::from(day) / 10.0).collect();
        let mut rain = vec![0.0; dates.len()];
        rain[35] = 80.0;
        let days = OwnAir {
            dates: AirDates::Days(&dates),
            minimum_c: &low,
            maximum_c: &high,
            rain_mm: &rain,
            index: &[0],
        };
        let places = Places {
            air: Some(days),
            ..places
        };
        let columns = flight_columns(&places, &[20_635, 20_636], &small).unwrap();
        let records = (0..40).map(|day| {
            DayRecord::new(date_of(dates[day]))
                .with_minimum_c(low[day])
                .with_maximum_c(high[day])
                .with_rain_mm(rain[day])
        });
        let records = DailyRecords::new(records.collect(), "own arrays").unwrap();
        let climate = Climate::from_records(records, &site);
        let weather = Weather::new(&site, &climate, &small);
        for (row, day) in [20_635, 20_636].into_iter().enumerate() {
            same(&columns, row, &weather.flight(date_of(day)).unwrap());
        }
        assert_eq!(columns.flying_day, [false, true]);
    }
}
