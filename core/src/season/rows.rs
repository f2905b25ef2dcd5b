//! Where the year stands at many places and dates, in columns.

use std::ops::Range;

use chrono::{Days, NaiveDate};
use serde::Serialize;

use super::judged::Asked;
use super::{Criteria, DateState, Rule, SeasonSettings};
use crate::batch::{
    NO_DATE, Place, Places, RowError, by_place, check_dates, date_of, of_row, own_elevation_m,
};
use crate::bee::{Bee, BeeOverrides, name_or_table};
use crate::civil::LAST_DATE;
use crate::climate::Climate;
use crate::error::Error;
use crate::place::{PlaceState, state};
use crate::wire::{FromNode, from_json};

/// How many days from its date on a row looks at.
pub const SEASON_DAYS: u16 = 365;

/// How many rows one thread takes at a time.
const SHARE: usize = 64;

/// Where the year stands on one date at one place. The numbers are the bytes of
/// [`SeasonColumns::state`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[repr(u8)]
pub enum SeasonState {
    /// The date lies in a window of good dates.
    Open = 0,
    /// The next window opens within a year.
    Ahead = 1,
    /// Every rule holds all year.
    AllYear = 2,
    /// No window within a year.
    None = 3,
    /// A rule of rain meets a place whose rain is not known: at sea and far from the equator. Or the row has
    /// temperatures of its own, and none of them is known.
    NotEnoughData = 4,
}

/// Seasons in columns of equal length.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct SeasonColumns {
    /// Where the year stands.
    pub state: Vec<SeasonState>,
    /// First date of the window that the date lies in, else of the next one: days since
    /// 1970-01-01, or [`NO_DATE`].
    pub opens_unix_day: Vec<i32>,
    /// Last date of that window.
    pub closes_unix_day: Vec<i32>,
    /// Of the [`SEASON_DAYS`] from the date on, how many lie in a window.
    pub open_days: Vec<u16>,
    /// What the date itself is; closed where there is not enough data.
    pub date_state: Vec<DateState>,
    /// First date of the window of dates that are good or at risk, in which the date lies, else of
    /// the next one: days since 1970-01-01, or [`NO_DATE`].
    pub wider_opens_unix_day: Vec<i32>,
    /// Last date of that window.
    pub wider_closes_unix_day: Vec<i32>,
    /// Of the [`SEASON_DAYS`] from the date on, how many are at risk.
    pub at_risk_days: Vec<u16>,
    /// Where the place lies. At sea and beyond the grid temperatures rest on latitude and elevation
    /// alone and are a rough guess.
    pub place: Vec<PlaceState>,
}

/// Whose season, and how it is judged. JSON: `{"bee": "generic_large", "settings": {"chance": 0.5}}`;
/// both may be left out.
///
/// ```
/// use apiary_almanac::season::SeasonOptions;
/// let options = SeasonOptions::from_json(r#"{"settings": {"chance": 0.5}}"#)?;
/// assert_eq!(options.settings.chance, Some(0.5));
/// assert_eq!(options.bee()?.name(), "generic_small");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode)]
#[serde(default)]
pub struct SeasonOptions {
    /// A built-in bee by name, or a user's own numbers.
    #[serde(deserialize_with = "name_or_table")]
    pub bee: BeeOverrides,
    /// How the season is judged.
    pub settings: SeasonSettings,
}

impl SeasonOptions {
    /// Reads them from JSON.
    ///
    /// # Errors
    /// `unreadable` with the path.
    ///
    /// ```
    /// use apiary_almanac::season::SeasonOptions;
    /// let options = SeasonOptions::from_json(r#"{"settings": {"bar_wettest_months": 2}}"#)?;
    /// assert_eq!(options.settings.bar_wettest_months, Some(2));
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
}

/// One row.
#[derive(Debug, Clone, Copy)]
struct Row {
    state: SeasonState,
    opens: i32,
    closes: i32,
    open_days: u16,
    date_state: DateState,
    wider_opens: i32,
    wider_closes: i32,
    at_risk_days: u16,
    place: PlaceState,
}

const NOTHING: Row = Row {
    state: SeasonState::None,
    opens: NO_DATE,
    closes: NO_DATE,
    open_days: 0,
    date_state: DateState::Closed,
    wider_opens: NO_DATE,
    wider_closes: NO_DATE,
    at_risk_days: 0,
    place: PlaceState::AtSea,
};

impl SeasonColumns {
    /// Number of rows.
    pub fn len(&self) -> usize {
        self.state.len()
    }

    /// True without any row.
    pub fn is_empty(&self) -> bool {
        self.state.is_empty()
    }
}

/// The window of good dates of many pairs of place and date, one for each row: the one that is open on
/// the date, or else the next. It is the first one that [`Weather::season`](crate::weather::Weather::season) gives for the
/// [`SEASON_DAYS`] from the date on. Dates are days since 1970-01-01. With the feature `parallel`,
/// on every core.
///
/// Temperatures are the rows' own ([`Places::air`]), or else what the location lets one expect
/// ([`Climate::from_location`]).
///
/// # Errors
/// `out_of_range` for a value or date outside its range, with its column and row; `inconsistent`
/// for columns of different lengths; the errors of the settings as
/// [`Weather::season`](crate::weather::Weather::season).
///
/// ```
/// use apiary_almanac::{bee, batch::Places};
/// use apiary_almanac::season::{SeasonSettings, SeasonState, season_columns};
/// // Singapore and Lismore on 2026-07-01.
/// let places = Places { elevation_m: &[15.0, 12.0], ..Places::new(&[1.35, -28.81], &[103.8, 153.28]) };
/// let small = bee::built_in("generic_small")?;
/// let columns = season_columns(&places, &[20_635], &small, &SeasonSettings::default())?;
/// assert_eq!(columns.state, [SeasonState::AllYear, SeasonState::Ahead]);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn season_columns(
    places: &Places<'_>,
    unix_day: &[i32],
    bee: &Bee,
    settings: &SeasonSettings,
) -> Result<SeasonColumns, RowError> {
    let rows = places.rows_with(unix_day)?;
    places.check()?;
    check_dates(unix_day)?;
    let whole = |error| RowError { row: None, error };
    let criteria = settings.criteria(bee).map_err(whole)?;
    let rules = &criteria.rules;
    if rules.is_empty() {
        return Err(whole(Error::out_of_range(
            "rules",
            "no rule",
            "at least one rule",
        )));
    }
    rules.iter().try_for_each(Rule::check).map_err(whole)?;

    let answers = by_place(
        places,
        vec![Ok(NOTHING); rows],
        SHARE,
        Place::is_same_air,
        |place| known_of(places, place),
        |known, row| one(known, &criteria, date_of(of_row(unix_day, row))),
    );

    let mut columns = SeasonColumns::default();
    for (row, answer) in answers.into_iter().enumerate() {
        let answer = answer.map_err(|error| RowError {
            row: Some(row),
            error,
        })?;
        columns.state.push(answer.state);
        columns.opens_unix_day.push(answer.opens);
        columns.closes_unix_day.push(answer.closes);
        columns.open_days.push(answer.open_days);
        columns.date_state.push(answer.date_state);
        columns.wider_opens_unix_day.push(answer.wider_opens);
        columns.wider_closes_unix_day.push(answer.wider_closes);
        columns.at_risk_days.push(answer.at_risk_days);
        columns.place.push(answer.place);
    }
    Ok(columns)
}

/// Where a place lies, and its air.
type Known = (PlaceState, Option<Climate>);

fn known_of(places: &Places<'_>, place: &Place) -> Result<Known, Error> {
    let climate = places.climate(place, &place.site(own_elevation_m(place))?)?;
    Ok((state(place.latitude_deg, place.longitude_deg), climate))
}

fn one((place, climate): &Known, criteria: &Criteria, date: NaiveDate) -> Result<Row, Error> {
    let nothing = Row {
        place: *place,
        ..NOTHING
    };
    let not_known = Row {
        state: SeasonState::NotEnoughData,
        ..nothing
    };
    let Some(climate) = climate else {
        return Ok(not_known);
    };
    let last = (date + Days::new(u64::from(SEASON_DAYS) - 1)).min(LAST_DATE);
    let asked = match Asked::following(climate, &criteria.rules, date, last) {
        Err(Error::NotEnoughData { .. }) => return Ok(not_known),
        other => other?,
    };
    let both = asked.as_given()?;
    let (judged, stretches) = (&both.careful, both.stretches(criteria));
    let (first_index, last_index) = (judged.index(date), judged.index(last));
    let days_in = |list: &[Range<usize>]| {
        judged
            .touching(list, date, last)
            .map(|s| (s.end as i64 - 1).min(last_index) - (s.start as i64).max(first_index) + 1)
            .sum::<i64>() as u16
    };
    let is_in = |window: &Range<usize>| window.start as i64 <= first_index;
    let dates = |window: &Range<usize>| {
        let (opens, closes) = (judged.date(window.start), judged.date(window.end - 1));
        (opens.to_epoch_days(), closes.to_epoch_days())
    };
    let good = judged.touching(&stretches.good, date, last).next();
    let wider = judged.touching(&stretches.wider, date, last).next();
    let (good_days, wider_days) = (days_in(&stretches.good), days_in(&stretches.wider));
    let all_good = judged.is_all(&stretches.good);
    let no_window = (NO_DATE, NO_DATE);
    let (opens, closes) = good.filter(|_| !all_good).map_or(no_window, dates);
    let wider_without_end = judged.is_all(&stretches.wider);
    let (wider_opens, wider_closes) = wider
        .filter(|_| !wider_without_end)
        .map_or(no_window, dates);
    Ok(Row {
        state: match good {
            _ if all_good => SeasonState::AllYear,
            None => SeasonState::None,
            Some(window) if is_in(window) => SeasonState::Open,
            Some(_) => SeasonState::Ahead,
        },
        opens,
        closes,
        open_days: if all_good { SEASON_DAYS } else { good_days },
        date_state: if good.is_some_and(is_in) {
            DateState::Good
        } else if wider.is_some_and(is_in) {
            DateState::AtRisk
        } else {
            DateState::Closed
        },
        wider_opens,
        wider_closes,
        at_risk_days: wider_days - good_days,
        ..nothing
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bee::built_in;
    use crate::season::SeasonOutcome;
    use crate::site::Site;

    #[test]
    fn rows_are_the_first_windows_of_single_seasons() {
        let small = built_in("generic_small").unwrap();
        let settings = SeasonSettings::default();
        let (mut latitude, mut longitude, mut elevation, mut days) =
            (vec![], vec![], vec![], vec![]);
        for i in 0..120_u32 {
            let turn = |step: f64| (f64::from(i) * step).fract();
            latitude.push(-50.0 + 100.0 * turn(0.618));
            longitude.push(-180.0 + 360.0 * turn(0.414));
            elevation.push(3000.0 * turn(0.732));
            days.push(-25_567 + (73_413.0 * turn(0.317)) as i32);
        }
        days[7] = LAST_DATE.to_epoch_days();
        days[8] = crate::civil::FIRST_DATE.to_epoch_days();
        let places = Places {
            elevation_m: &elevation,
            ..Places::new(&latitude, &longitude)
        };
        let columns = season_columns(&places, &days, &small, &settings).unwrap();
        let mut seen = [0; 4];
        for row in 0..days.len() {
            let site = Site::new(latitude[row], longitude[row], elevation[row], "Etc/UTC").unwrap();
            let climate = Climate::from_location(&site);
            let date = date_of(days[row]);
            let last = (date + Days::new(364)).min(LAST_DATE);
            let one = settings.season(&climate, &small, date, last).unwrap();
            let given = (columns.opens_unix_day[row], columns.closes_unix_day[row]);
            seen[columns.state[row] as usize] += 1;
            match one.outcome {
                SeasonOutcome::AllYear => assert_eq!(columns.state[row], SeasonState::AllYear),
                SeasonOutcome::None { .. } => {
                    assert_eq!(columns.state[row], SeasonState::None);
                    assert_eq!((given, columns.open_days[row]), ((NO_DATE, NO_DATE), 0));
                }
                SeasonOutcome::Windows { windows } => {
                    let (opens, closes) = (windows[0].opens, windows[0].closes);
                    assert_eq!(
                        given,
                        (opens.to_epoch_days(), closes.to_epoch_days()),
                        "{row}"
                    );
                    let is_open = columns.state[row] == SeasonState::Open;
                    assert_eq!(is_open, (opens..=closes).contains(&date));
                    let open = date.iter_days().take_while(|day| *day <= last);
                    let open = open
                        .filter(|day| windows.iter().any(|w| (w.opens..=w.closes).contains(day)));
                    assert_eq!(usize::from(columns.open_days[row]), open.count());
                }
            }
        }
        assert!(seen.iter().all(|count| *count > 2), "{seen:?}");
    }

    #[test]
    fn unknown_elevation_is_that_of_the_land_and_unknown_rain_is_a_state() {
        let small = built_in("generic_small").unwrap();
        let settings = SeasonSettings {
            bar_wettest_months: Some(3),
            ..SeasonSettings::default()
        };
        // Lismore twice, the second time without its elevation, and the open sea.
        let places = Places {
            elevation_m: &[12.0, f64::NAN, 0.0],
            ..Places::new(&[-28.81, -28.81, -28.81], &[153.28, 153.28, 160.0])
        };
        let columns = season_columns(&places, &[20_635], &small, &settings).unwrap();
        assert_eq!(columns.state[2], SeasonState::NotEnoughData);
        assert_eq!(
            columns.place,
            [PlaceState::OnLand, PlaceState::OnLand, PlaceState::AtSea]
        );
        assert!(columns.open_days[1] <= columns.open_days[0] && columns.open_days[0] > 0);
    }

    #[test]
    fn bad_settings_are_refused_without_any_row() {
        let small = built_in("generic_small").unwrap();
        let none = Places::new(&[], &[]);
        let error =
            |settings: SeasonSettings| season_columns(&none, &[], &small, &settings).unwrap_err();
        let by_chance = error(SeasonSettings {
            chance: Some(0.0),
            ..SeasonSettings::default()
        });
        assert_eq!((by_chance.row, by_chance.error.field()), (None, "chance"));
        let by_rules = error(SeasonSettings {
            rules: Some(vec![]),
            ..SeasonSettings::default()
        });
        assert_eq!(by_rules.error.field(), "rules");
    }
}
