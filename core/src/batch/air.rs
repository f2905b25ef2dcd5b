//! Temperatures and rain of one's own, in columns.

use std::ops::Range;

use super::RowError;
use crate::civil::{FIRST_DATE, LAST_DATE};
use crate::climate::{
    ALLOWED_C, Climate, DailyRecords, DayRecord, MOST_DAY_RAIN_MM, MOST_MONTH_RAIN_MM,
    MonthlyNormals,
};
use crate::error::Error;
use crate::site::Site;

/// Where the numbers come from, as answers would say it.
const ABOUT: &str = "own arrays";

/// What the numbers of a place belong to.
#[derive(Debug, Clone, Copy)]
pub enum AirDates<'a> {
    /// The twelve months, January first: means of the daily extremes and totals of rain, as in
    /// [`MonthlyNormals`].
    Months,
    /// Days since 1970-01-01, each later than the one before: measured days, as in [`DailyRecords`].
    Days(&'a [i32]),
}

/// Temperatures and rain that rows have of their own, in place of what the location lets one expect: as many
/// numbers for a place as there are dates, then those of the next place.
///
/// NaN stands for what is not known. A place of which no temperature is known has no answer
/// (`not_enough_data`). Of other places a month may not lack its temperatures; a day may.
#[derive(Debug, Clone, Copy)]
pub struct OwnAir<'a> {
    /// What the numbers of a place belong to.
    pub dates: AirDates<'a>,
    /// Minima, °C.
    pub minimum_c: &'a [f64],
    /// Maxima, °C.
    pub maximum_c: &'a [f64],
    /// Rain, mm. Empty, or NaN all over a place, where it is not known.
    pub rain_mm: &'a [f64],
    /// For each row the position of its place among them, from 0.
    pub index: &'a [u32],
}

/// The names of the columns of minima, maxima, rain and dates.
type Names = [&'static str; 4];

impl OwnAir<'_> {
    fn names(&self) -> Names {
        match self.dates {
            AirDates::Months => [
                "monthly_minimum_c",
                "monthly_maximum_c",
                "monthly_rain_mm",
                "monthly_dates",
            ],
            AirDates::Days(_) => [
                "daily_minimum_c",
                "daily_maximum_c",
                "daily_rain_mm",
                "daily_dates",
            ],
        }
    }

    /// How many numbers a place has.
    fn width(&self) -> usize {
        match self.dates {
            AirDates::Months => 12,
            AirDates::Days(days) => days.len(),
        }
    }

    fn most_rain_mm(&self) -> f64 {
        match self.dates {
            AirDates::Months => MOST_MONTH_RAIN_MM,
            AirDates::Days(_) => MOST_DAY_RAIN_MM,
        }
    }

    /// Where the numbers of a place stand.
    fn span(&self, position: usize) -> Range<usize> {
        position * self.width()..(position + 1) * self.width()
    }

    /// Refuses columns that do not go together, the first value that no weather has, and positions of
    /// places that are not there.
    pub(super) fn check(&self) -> Result<(), RowError> {
        let names = self.names();
        self.check_dates(names)?;
        let places = self.check_lengths(names)?;
        for place in 0..places {
            if self.has_temperatures(self.span(place)) {
                self.span(place)
                    .try_for_each(|at| self.check_temperatures(at, names))?;
            }
            self.check_rain(self.span(place), names)?;
        }
        match self.index.iter().position(|at| *at as usize >= places) {
            None => Ok(()),
            Some(row) => Err(RowError {
                row: Some(row),
                error: Error::out_of_range(
                    "air_index",
                    self.index[row],
                    format_args!("0 to {}", places.saturating_sub(1)),
                ),
            }),
        }
    }

    fn check_dates(&self, [.., dates]: Names) -> Result<(), RowError> {
        let AirDates::Days(days) = self.dates else {
            return Ok(());
        };
        let known = FIRST_DATE.to_epoch_days()..=LAST_DATE.to_epoch_days();
        if let Some(row) = days.iter().position(|day| !known.contains(day)) {
            return Err(RowError {
                row: Some(row),
                error: Error::out_of_range(
                    dates,
                    super::date_in_words(days[row]),
                    format_args!("{FIRST_DATE} to {LAST_DATE}"),
                ),
            });
        }
        match days.windows(2).position(|pair| pair[0] >= pair[1]) {
            None => Ok(()),
            Some(before) => Err(RowError {
                row: Some(before + 1),
                error: Error::Inconsistent {
                    field: dates.to_owned(),
                    problem: format!(
                        "{} stands behind {}; each date must be later than the one before",
                        super::date_in_words(days[before + 1]),
                        super::date_in_words(days[before])
                    ),
                },
            }),
        }
    }

    /// How many places the columns have.
    fn check_lengths(&self, [minimum, maximum, rain, dates]: Names) -> Result<usize, RowError> {
        let whole = |field: &str, problem: String| RowError {
            row: None,
            error: Error::Inconsistent {
                field: field.to_owned(),
                problem,
            },
        };
        let (width, length) = (self.width(), self.minimum_c.len());
        if width == 0 {
            return Err(whole(dates, "there is no day".to_owned()));
        }
        if length % width != 0 {
            return Err(whole(
                minimum,
                format!("{length} values; {width} are needed for each place"),
            ));
        }
        for (field, column) in [(maximum, self.maximum_c), (rain, self.rain_mm)] {
            let left_out = field == rain && column.is_empty();
            if column.len() != length && !left_out {
                return Err(whole(
                    field,
                    format!("{} values beside {length} of {minimum}", column.len()),
                ));
            }
        }
        Ok(length / width)
    }

    fn check_temperatures(&self, at: usize, [minimum, maximum, ..]: Names) -> Result<(), RowError> {
        let of_value = |error| RowError {
            row: Some(at),
            error,
        };
        let may_be_missing = matches!(self.dates, AirDates::Days(_));
        let (low, high) = (self.minimum_c[at], self.maximum_c[at]);
        for (field, value) in [(minimum, low), (maximum, high)] {
            let is_right = ALLOWED_C.contains(&value) || value.is_nan() && may_be_missing;
            if !is_right {
                let (from, to) = ALLOWED_C.into_inner();
                return Err(of_value(Error::out_of_range(
                    field,
                    value,
                    format_args!("{from} to {to} °C"),
                )));
            }
        }
        if low > high {
            return Err(of_value(Error::Inconsistent {
                field: minimum.to_owned(),
                problem: format!("the minimum, {low} °C, is above the maximum, {high} °C"),
            }));
        }
        Ok(())
    }

    fn check_rain(&self, span: Range<usize>, [_, _, rain, _]: Names) -> Result<(), RowError> {
        let may_be_missing =
            matches!(self.dates, AirDates::Days(_)) || !self.has_rain(span.clone());
        let most = self.most_rain_mm();
        let is_right = |mm: &f64| (0.0..=most).contains(mm) || mm.is_nan() && may_be_missing;
        let of_place = self.rain_mm.get(span.clone()).unwrap_or_default();
        match of_place.iter().position(|mm| !is_right(mm)) {
            None => Ok(()),
            Some(at) => Err(RowError {
                row: Some(span.start + at),
                error: Error::out_of_range(rain, of_place[at], format_args!("0 to {most} mm")),
            }),
        }
    }

    /// Whether any temperature of a place is known.
    fn has_temperatures(&self, span: Range<usize>) -> bool {
        let known = |column: &[f64]| {
            let of_place = column.get(span.clone()).unwrap_or_default();
            of_place.iter().any(|value| !value.is_nan())
        };
        known(self.minimum_c) || known(self.maximum_c)
    }

    fn has_rain(&self, span: Range<usize>) -> bool {
        let of_place = self.rain_mm.get(span).unwrap_or_default();
        of_place.iter().any(|mm| !mm.is_nan())
    }

    /// The climate of the place at a position; `None` where no day or month has both temperatures.
    pub(super) fn climate(&self, site: &Site, position: u32) -> Result<Option<Climate>, Error> {
        let span = self.span(position as usize);
        match self.dates {
            AirDates::Months => self.of_months(site, span),
            AirDates::Days(days) => self.of_days(site, days, span),
        }
    }

    fn of_months(&self, site: &Site, span: Range<usize>) -> Result<Option<Climate>, Error> {
        let twelve =
            |column: &[f64]| -> Option<[f64; 12]> { column.get(span.clone())?.try_into().ok() };
        let rain_mm = twelve(self.rain_mm).filter(|_| self.has_rain(span.clone()));
        match (twelve(self.minimum_c), twelve(self.maximum_c)) {
            (Some(minimum_c), Some(maximum_c)) if self.has_temperatures(span.clone()) => {
                let normals = MonthlyNormals::new(minimum_c, maximum_c, rain_mm, ABOUT)?;
                Ok(Some(Climate::from_normals_at(site, normals)))
            }
            _ => Ok(None),
        }
    }

    fn of_days(
        &self,
        site: &Site,
        days: &[i32],
        span: Range<usize>,
    ) -> Result<Option<Climate>, Error> {
        let known = |column: &[f64], at: usize| column.get(at).copied().filter(|v| !v.is_nan());
        let records: Vec<_> = span
            .zip(days)
            .map(|(at, day)| DayRecord {
                minimum_c: known(self.minimum_c, at),
                maximum_c: known(self.maximum_c, at),
                rain_mm: known(self.rain_mm, at),
                ..DayRecord::new(super::date_of(*day))
            })
            .collect();
        let measured = |day: &DayRecord| day.minimum_c.is_some() && day.maximum_c.is_some();
        if !records.iter().any(measured) {
            return Ok(None);
        }
        let records = DailyRecords::new(records, ABOUT)?;
        Ok(Some(Climate::from_records(records, site)))
    }
}
