//! Daily records: what was measured, what is missing, and the mean year they make.

use chrono::{Datelike, Days, NaiveDate};
use serde::Serialize;

use super::day_record::{DAYS, DayRecord, check_days};
use super::grid::DailySpread;
use super::{About, Basis, DayTemperatures, TemperatureSource, WetDays, table};
use crate::civil;
use crate::error::Error;
use crate::reason::say;
use crate::wire::FromNode;

/// Days before and after a day that its mean takes in.
const HALF_WINDOW: usize = 7;
/// Fewest measured days, over all years, that make a mean.
const FEWEST_DAYS: usize = 8;
/// Share of a month's days whose rain must be known for the month to count.
const RAIN_SHARE: f64 = 0.9;
/// Fewest measured days of a month, and years they come from, that show how far days stray.
const FEWEST_SPREAD_DAYS: usize = 60;
const FEWEST_SPREAD_YEARS: usize = 3;
/// Rain from which a recorded day is a wet day, mm: the count that the World Meteorological
/// Organization asks of climate normals (WMO-No. 1203, from memory).
const WET_DAY_MM: f64 = 1.0;

/// Measured days of one place, in any number of years, with or without gaps.
///
/// JSON: `{"about": "...", "days": [{"date": "2024-01-31", "minimum_c": 21.5, "maximum_c": 29,
/// "rain_mm": 0, "wind_m_s": 2.5}]}`; every value but the date may be left out.
///
/// ```
/// use apiary_almanac::climate::DailyRecords;
/// let records = DailyRecords::from_csv(
///     "yard.csv",
///     "date,minimum_c,maximum_c,rain_mm\n2024-01-30,20,29,\n2024-01-31,21,31,12.5\n",
/// )?;
/// let wet = records.day("2024-01-31".parse()?).ok_or("it was measured")?;
/// assert_eq!(wet.rain_mm, Some(12.5));
/// assert_eq!(records.day("2024-02-01".parse()?), None);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Wire", into = "Wire")]
pub struct DailyRecords {
    about: String,
    /// By date.
    days: Vec<DayRecord>,
    /// Mean minimum and maximum of the 365 days of the common year.
    mean_year: Vec<Option<(f64, f64)>>,
    monthly_rain: Option<MonthlyRain>,
    spread: Option<DailySpread>,
}

/// Means of the twelve months, January first.
#[derive(Debug, Clone, Copy, PartialEq)]
struct MonthlyRain {
    total_mm: [f64; 12],
    wet_days: [f64; 12],
}

#[derive(Serialize, FromNode)]
struct Wire {
    about: String,
    days: Vec<DayRecord>,
}

/// Which days are missing.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Gaps {
    /// Stretches between the first and the last record without minimum or maximum.
    pub missing: Vec<MissingDays>,
    /// The years from the first record to the last.
    pub years: Vec<YearShare>,
}

/// A stretch of days without minimum or maximum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[non_exhaustive]
pub struct MissingDays {
    /// First day without them.
    pub first: NaiveDate,
    /// Last day without them.
    pub last: NaiveDate,
    /// How many days the stretch has.
    pub days: u32,
}

/// How much of a year was measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct YearShare {
    /// The calendar year.
    pub year: i32,
    /// Days with minimum and maximum as a share of all days of the year, 0 to 1.
    pub share: f64,
}

impl DailyRecords {
    /// Takes measured days, in any order, and a few words on where they come from.
    ///
    /// # Errors
    /// `not_enough_data` for no days, `out_of_range` for a value that no weather has,
    /// `inconsistent` for a minimum above its maximum or a date given twice.
    ///
    /// ```
    /// use apiary_almanac::climate::{DailyRecords, DayRecord};
    /// let day = DayRecord::new("2026-07-20".parse()?);
    /// let twice = vec![day.with_minimum_c(9.0), day.with_minimum_c(8.0)];
    /// assert_eq!(DailyRecords::new(twice, "yard").unwrap_err().code(), "inconsistent");
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn new(days: Vec<DayRecord>, about: &str) -> Result<Self, Error> {
        let mut days = days;
        days.sort_by_key(|day| day.date);
        check_days("records", &days)?;
        let (mean_year, monthly_rain) = (mean_year(&days), monthly_rain(&days));
        Ok(DailyRecords {
            about: about.to_owned(),
            spread: spread(&days, &mean_year),
            days,
            mean_year,
            monthly_rain,
        })
    }

    /// Reads a table with the columns `date`, `minimum_c` or `minimum_f`, `maximum_c` or
    /// `maximum_f`, and, if wanted, `rain_mm` or `rain_in` and `wind_m_s` or `wind_km_h`. Rows may
    /// stand in any order; an empty cell is a value that was not measured.
    ///
    /// # Errors
    /// `bad_table`, `bad_cell` or `too_large`, naming `file`, line and column.
    ///
    /// ```
    /// use apiary_almanac::climate::DailyRecords;
    /// // A thermometer in °F and a rain gauge in inches.
    /// let text = "date,minimum_f,maximum_f,rain_in\n2026-07-20,50,68,1\n";
    /// let records = DailyRecords::from_csv("yard.csv", text)?;
    /// let day = records.day("2026-07-20".parse()?).ok_or("it was measured")?;
    /// assert!((day.maximum_c - 20.0).abs() < 1e-9 && day.rain_mm == Some(25.4));
    /// // A cell that cannot be read is named.
    /// let text = "date,minimum_c,maximum_c\n2026-07-20,9,hot\n";
    /// let error = DailyRecords::from_csv("yard.csv", text).unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("bad_cell", "maximum_c"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_csv(file: &str, text: &str) -> Result<Self, Error> {
        let rows = table::read(file, text, &DAYS)?;
        let days = rows.into_iter().map(|row| DayRecord {
            date: row.key,
            minimum_c: row.minimum_c,
            maximum_c: row.maximum_c,
            rain_mm: row.rain_mm,
            wind_m_s: row.extra,
        });
        DailyRecords::new(days.collect(), file)
    }

    /// All records, by date.
    pub fn days(&self) -> &[DayRecord] {
        &self.days
    }

    fn find(&self, date: NaiveDate) -> Option<&DayRecord> {
        let index = self.days.binary_search_by_key(&date, |day| day.date).ok()?;
        self.days.get(index)
    }

    /// The day as it was measured; `None` where minimum or maximum is missing.
    ///
    /// ```
    /// use apiary_almanac::climate::DailyRecords;
    /// let text = "date,minimum_c,maximum_c\n2026-07-20,9,21\n2026-07-21,,20\n";
    /// let records = DailyRecords::from_csv("yard.csv", text)?;
    /// assert!(records.day("2026-07-20".parse()?).is_some());
    /// assert_eq!(records.day("2026-07-21".parse()?), None); // its minimum was not read
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn day(&self, date: NaiveDate) -> Option<DayTemperatures> {
        let day = self.find(date)?;
        let (minimum_c, maximum_c) = day.extremes_c()?;
        let source = TemperatureSource::RecordedDay;
        Some(DayTemperatures {
            date,
            minimum_c,
            maximum_c,
            rain_mm: day.rain_mm,
            source,
        })
    }

    /// The mean of this day of the year and of the seven days before and after it, over all years
    /// that were recorded. `None` where fewer than eight such days were measured. The rain is not
    /// given: a mean over wet and dry days is the rain of neither.
    ///
    /// ```
    /// use apiary_almanac::climate::DailyRecords;
    /// let mut text = String::from("date,minimum_c,maximum_c\n");
    /// for year in [2023, 2024] {
    ///     for day in 1..=15 {
    ///         text += &format!("{year}-07-{day:02},9,{}\n", year - 2000);
    ///     }
    /// }
    /// let records = DailyRecords::from_csv("july.csv", &text)?;
    /// let mean = records.mean_day("2031-07-08".parse()?).ok_or("too few days")?;
    /// assert_eq!(mean.maximum_c, 23.5);
    /// assert_eq!(records.mean_day("2031-08-08".parse()?), None);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn mean_day(&self, date: NaiveDate) -> Option<DayTemperatures> {
        let index = civil::day_of_common_year(date) as usize - 1;
        let (minimum_c, maximum_c) = (*self.mean_year.get(index)?)?;
        let source = TemperatureSource::RecordedMean;
        Some(DayTemperatures {
            date,
            minimum_c,
            maximum_c,
            rain_mm: None,
            source,
        })
    }

    /// Mean wind of a measured day, m/s.
    pub fn wind_m_s(&self, date: NaiveDate) -> Option<f64> {
        self.find(date)?.wind_m_s
    }

    /// Mean rain of the twelve months in mm, January first. A month counts where the rain of at
    /// least nine days in ten is known, and its total is scaled up for the others; `None` unless
    /// every month of the year has been measured so at least once.
    ///
    /// ```
    /// use apiary_almanac::climate::{DailyRecords, DayRecord};
    /// let first: chrono::NaiveDate = "2025-01-01".parse()?;
    /// let days = first.iter_days().take(365).map(|date| DayRecord::new(date).with_rain_mm(2.0));
    /// let days: Vec<_> = days.collect();
    /// let rain = DailyRecords::new(days.clone(), "yard")?.monthly_rain_mm().ok_or("a whole year")?;
    /// assert_eq!((rain[0], rain[1]), (62.0, 56.0));
    /// // Without December nothing is said of the year.
    /// assert_eq!(DailyRecords::new(days[..330].to_vec(), "yard")?.monthly_rain_mm(), None);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn monthly_rain_mm(&self) -> Option<[f64; 12]> {
        Some(self.monthly_rain?.total_mm)
    }

    /// Mean number of days with 1 mm of rain or more in the twelve months, January first: over the
    /// same months as [`monthly_rain_mm`](DailyRecords::monthly_rain_mm), scaled up in the same way.
    ///
    /// ```
    /// use apiary_almanac::climate::{DailyRecords, DayRecord};
    /// let first: chrono::NaiveDate = "2023-01-01".parse()?;
    /// // Every other day 0.5 mm, and 4 mm on the others.
    /// let days = first.iter_days().take(365).enumerate().map(|(i, date)| {
    ///     DayRecord::new(date).with_rain_mm(if i % 2 == 0 { 0.5 } else { 4.0 })
    /// });
    /// let wet = DailyRecords::new(days.collect(), "invented")?.monthly_wet_days();
    /// let wet = wet.ok_or("every month was measured")?;
    /// assert_eq!((wet.days[0], wet.days[3], wet.from_mm), (15.0, 15.0, Some(1.0)));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn monthly_wet_days(&self) -> Option<WetDays> {
        Some(WetDays {
            days: self.monthly_rain?.wet_days,
            from_mm: Some(WET_DAY_MM),
        })
    }

    /// Standard deviation of the measured days about the mean of their day of the year, by month: where
    /// at least 60 days from three years or more were measured in each of the twelve. It comes out a
    /// few percent too small from few years, because their own mean follows them.
    ///
    /// ```
    /// use apiary_almanac::climate::DailyRecords;
    /// // One July is too little to tell.
    /// let text = "date,minimum_c,maximum_c\n2026-07-20,9,21\n2026-07-21,8,20\n";
    /// assert!(DailyRecords::from_csv("yard.csv", text)?.spread().is_none());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn spread(&self) -> Option<DailySpread> {
        self.spread
    }

    /// The calendar years that hold a day with minimum and maximum.
    ///
    /// ```
    /// use apiary_almanac::climate::DailyRecords;
    /// let text = "date,minimum_c,maximum_c\n2024-12-31,18,29\n2025-01-01,19,30\n2026-01-01,,31\n";
    /// assert_eq!(DailyRecords::from_csv("yard.csv", text)?.years(), [2024, 2025]);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn years(&self) -> Vec<i32> {
        let measured = self.days.iter().filter(|day| day.extremes_c().is_some());
        let mut years: Vec<_> = measured.map(|day| day.date.year()).collect();
        years.dedup();
        years
    }

    /// What is missing between the first record and the last.
    ///
    /// ```
    /// use apiary_almanac::climate::DailyRecords;
    /// let text = "date,minimum_c,maximum_c\n2024-03-01,20,29\n2024-03-02,,30\n2024-03-05,19,28\n";
    /// let gaps = DailyRecords::from_csv("yard.csv", text)?.gaps();
    /// assert_eq!(gaps.missing[0].days, 3);
    /// assert_eq!(gaps.years[0].share, 2.0 / 366.0);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn gaps(&self) -> Gaps {
        let mut gaps = Gaps {
            missing: Vec::new(),
            years: Vec::new(),
        };
        let (Some(start), Some(end)) = (self.days.first(), self.days.last()) else {
            return gaps;
        };
        let mut expected = start.date;
        let beyond = end.date + Days::new(1);
        let measured = self.days.iter().filter(|day| day.extremes_c().is_some());
        for date in measured.clone().map(|day| day.date).chain([beyond]) {
            if expected < date {
                gaps.missing.push(MissingDays {
                    first: expected,
                    last: date - Days::new(1),
                    days: u32::try_from((date - expected).num_days()).unwrap_or(u32::MAX),
                });
            }
            expected = date + Days::new(1);
        }
        for year in start.date.year()..=end.date.year() {
            let from = self.days.partition_point(|day| day.date.year() < year);
            let to = self.days.partition_point(|day| day.date.year() <= year);
            let of_year = &self.days[from..to];
            let measured = of_year
                .iter()
                .filter(|day| day.extremes_c().is_some())
                .count();
            let leap = NaiveDate::from_yo_opt(year, 366).is_some();
            let share = measured as f64 / if leap { 366.0 } else { 365.0 };
            gaps.years.push(YearShare { year, share });
        }
        gaps
    }

    pub(super) fn covers_the_year(&self) -> bool {
        self.mean_year.iter().all(Option::is_some)
    }

    pub(super) fn basis(&self) -> Basis {
        let ends = self.days.first().zip(self.days.last());
        let advice = if self.covers_the_year() {
            say::mean_of_recorded_years()
        } else {
            say::gaps_in_records()
        };
        Basis {
            period: ends.map(|(first, last)| format!("{} to {}", first.date, last.date)),
            ..Basis::new(
                TemperatureSource::RecordedMean,
                About::Own(&self.about),
                Some(advice),
            )
        }
    }
}

fn mean_year(days: &[DayRecord]) -> Vec<Option<(f64, f64)>> {
    let mut sums = [(0_usize, 0.0, 0.0); 365];
    for day in days {
        if let Some((low, high)) = day.extremes_c() {
            let sum = &mut sums[civil::day_of_common_year(day.date) as usize - 1];
            *sum = (sum.0 + 1, sum.1 + low, sum.2 + high);
        }
    }
    let mean = |day: usize| {
        let window = (day + 365 - HALF_WINDOW)..=(day + 365 + HALF_WINDOW);
        let (count, low, high) = window
            .map(|day| sums[day % 365])
            .fold((0, 0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1, a.2 + b.2));
        (count >= FEWEST_DAYS).then(|| (low / count as f64, high / count as f64))
    };
    (0..365).map(mean).collect()
}

fn spread(days: &[DayRecord], mean_year: &[Option<(f64, f64)>]) -> Option<DailySpread> {
    let mut squares = [(0_usize, 0.0, 0.0); 12];
    // Days are in order, so a year is new where it is not the last one.
    let mut years = [(0_usize, None); 12];
    for day in days {
        let mean = mean_year.get(civil::day_of_common_year(day.date) as usize - 1);
        if let (Some((low, high)), Some(Some(mean))) = (day.extremes_c(), mean) {
            let month = day.date.month0() as usize;
            let sum = &mut squares[month];
            *sum = (
                sum.0 + 1,
                sum.1 + (low - mean.0).powi(2),
                sum.2 + (high - mean.1).powi(2),
            );
            let (count, last) = years[month];
            let year = Some(day.date.year());
            years[month] = (count + usize::from(year != last), year);
        }
    }
    let is_enough = squares
        .iter()
        .all(|(count, ..)| *count >= FEWEST_SPREAD_DAYS)
        && years.iter().all(|(count, _)| *count >= FEWEST_SPREAD_YEARS);
    let sd = |(count, sum): (usize, f64)| (sum / count as f64).sqrt();
    is_enough.then(|| DailySpread {
        minimum_sd_c: squares.map(|(count, low, _)| sd((count, low))),
        maximum_sd_c: squares.map(|(count, _, high)| sd((count, high))),
    })
}

fn monthly_rain(days: &[DayRecord]) -> Option<MonthlyRain> {
    let mut sums = [(0_u32, 0.0, 0.0); 12];
    for month in
        days.chunk_by(|a, b| (a.date.year(), a.date.month()) == (b.date.year(), b.date.month()))
    {
        let date = month.first()?.date;
        let known: Vec<f64> = month.iter().filter_map(|day| day.rain_mm).collect();
        let length = f64::from(date.num_days_in_month());
        let count = known.len() as f64;
        if count >= RAIN_SHARE * length {
            let wet = known.iter().filter(|mm| **mm >= WET_DAY_MM).count() as f64;
            let (total, scale) = (known.iter().sum::<f64>(), length / count);
            let sum = &mut sums[date.month0() as usize];
            *sum = (sum.0 + 1, sum.1 + total * scale, sum.2 + wet * scale);
        }
    }
    let all_known = sums.iter().all(|(years, ..)| *years > 0);
    all_known.then(|| MonthlyRain {
        total_mm: sums.map(|(years, mm, _)| mm / f64::from(years)),
        wet_days: sums.map(|(years, _, wet)| wet / f64::from(years)),
    })
}

impl TryFrom<Wire> for DailyRecords {
    type Error = Error;

    fn try_from(wire: Wire) -> Result<Self, Error> {
        DailyRecords::new(wire.days, &wire.about)
    }
}

impl From<DailyRecords> for Wire {
    fn from(records: DailyRecords) -> Self {
        Wire {
            about: records.about,
            days: records.days,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn record(date: NaiveDate, low: f64, high: f64) -> DayRecord {
        DayRecord {
            date,
            minimum_c: Some(low),
            maximum_c: Some(high),
            rain_mm: Some(1.0),
            wind_m_s: None,
        }
    }

    /// Every day of some years.
    fn years(first: i32, last: i32) -> Vec<DayRecord> {
        NaiveDate::from_yo_opt(first, 1)
            .unwrap()
            .iter_days()
            .take_while(|date| date.year() <= last)
            .map(|date| record(date, f64::from(date.ordinal()) / 20.0, 30.0))
            .collect()
    }

    #[test]
    fn the_mean_is_taken_over_the_years_and_fifteen_days() {
        let mut days = years(2021, 2022);
        for day in &mut days {
            let warm = if day.date.year() == 2022 { 2.0 } else { 0.0 };
            day.minimum_c = Some(f64::from(civil::day_of_common_year(day.date)) / 20.0 + warm);
        }
        let records = DailyRecords::new(days, "").unwrap();
        // The window is symmetric, so a straight slope keeps its value; the years differ by 2.
        let mean = records.mean_day(date("2035-07-01")).unwrap();
        assert!(
            (mean.minimum_c - (182.0 / 20.0 + 1.0)).abs() < 1e-9,
            "{mean:?}"
        );
        assert_eq!(
            (mean.source, mean.rain_mm),
            (TemperatureSource::RecordedMean, None)
        );
        // Across the new year it takes in both ends: 7 days from each side of 1 January.
        let mean = records.mean_day(date("2035-01-01")).unwrap();
        let expected = (1..=8).chain(359..=365).map(f64::from).sum::<f64>() / 15.0 / 20.0 + 1.0;
        assert!((mean.minimum_c - expected).abs() < 1e-9, "{mean:?}");
    }

    #[test]
    fn leap_days_count_as_the_day_before() {
        let records = DailyRecords::new(years(2024, 2024), "").unwrap();
        let (leap, before) = (date("2028-02-29"), date("2028-02-28"));
        let (leap, before) = (
            records.mean_day(leap).unwrap(),
            records.mean_day(before).unwrap(),
        );
        assert_eq!(
            (leap.minimum_c, leap.maximum_c),
            (before.minimum_c, before.maximum_c)
        );
    }

    #[test]
    fn fewer_than_eight_days_make_no_mean() {
        let july = |days: u64| {
            let days = (0..days).map(|i| record(date("2024-07-01") + Days::new(i), 8.0, 20.0));
            DailyRecords::new(days.collect(), "").unwrap()
        };
        assert_eq!(july(7).mean_day(date("2030-07-04")), None);
        assert!(july(8).mean_day(date("2030-07-04")).is_some());
        // Only the first of the eight lies within seven days of 24 June.
        assert_eq!(july(8).mean_day(date("2030-06-24")), None);
        assert!(!july(8).covers_the_year());
    }

    #[test]
    fn gaps_are_listed_and_years_are_weighed() {
        let mut days = years(2023, 2024);
        days.retain(|day| !(date("2023-03-10")..=date("2023-03-14")).contains(&day.date));
        days.iter_mut()
            .find(|day| day.date == date("2024-02-29"))
            .unwrap()
            .maximum_c = None;
        let last = days
            .iter_mut()
            .find(|day| day.date == date("2024-12-31"))
            .unwrap();
        last.minimum_c = None;
        days.rotate_left(200);
        let records = DailyRecords::new(days, "").unwrap();
        let gaps = records.gaps();
        let stretch = |first: &str, last: &str, days| MissingDays {
            first: date(first),
            last: date(last),
            days,
        };
        assert_eq!(
            gaps.missing,
            [
                stretch("2023-03-10", "2023-03-14", 5),
                stretch("2024-02-29", "2024-02-29", 1),
                stretch("2024-12-31", "2024-12-31", 1),
            ]
        );
        assert_eq!(
            gaps.years,
            [
                YearShare {
                    year: 2023,
                    share: 360.0 / 365.0
                },
                YearShare {
                    year: 2024,
                    share: 364.0 / 366.0
                },
            ]
        );
        assert_eq!(records.years(), [2023, 2024]);
        assert_eq!(records.day(date("2024-02-29")), None);
        assert!(records.mean_day(date("2024-02-29")).is_some());
    }

    #[test]
    fn a_whole_year_without_records_is_a_gap_with_share_zero() {
        let mut days = years(2020, 2020);
        days.extend(years(2022, 2022));
        let gaps = DailyRecords::new(days, "").unwrap().gaps();
        assert_eq!(gaps.missing.len(), 1);
        assert_eq!(gaps.missing[0].days, 365);
        assert_eq!(
            gaps.years[1],
            YearShare {
                year: 2021,
                share: 0.0
            }
        );
    }

    #[test]
    fn monthly_rain_needs_nine_days_in_ten_and_is_scaled_up() {
        let mut days = years(2021, 2022);
        assert_eq!(
            DailyRecords::new(days.clone(), "")
                .unwrap()
                .monthly_rain_mm()
                .unwrap()[1],
            28.0
        );
        // Three days of January 2021 unknown: 28 of 31 is enough, and the total still 31.
        for day in &mut days[..3] {
            day.rain_mm = None;
        }
        let rain = DailyRecords::new(days.clone(), "")
            .unwrap()
            .monthly_rain_mm()
            .unwrap();
        assert!((rain[0] - 31.0).abs() < 1e-9);
        // Four days: only January 2022 counts.
        days[3].rain_mm = None;
        days[10].rain_mm = Some(500.0);
        let rain = DailyRecords::new(days.clone(), "")
            .unwrap()
            .monthly_rain_mm()
            .unwrap();
        assert!((rain[0] - 31.0).abs() < 1e-9);
        // No January at all: no answer.
        days.retain(|day| day.date.month() != 1);
        assert_eq!(DailyRecords::new(days, "").unwrap().monthly_rain_mm(), None);
    }

    #[test]
    fn wet_days_are_those_of_a_millimetre_and_scaled_up_too() {
        // Every day has 1 mm, which is just enough.
        let mut days = years(2021, 2022);
        for day in &mut days[..3] {
            day.rain_mm = None;
        }
        for day in &mut days[3..17] {
            day.rain_mm = Some(0.9);
        }
        let records = DailyRecords::new(days.clone(), "").unwrap();
        let wet = records.monthly_wet_days().unwrap();
        // 14 of the 28 known days of January 2021, and all 31 of January 2022.
        assert!((wet.days[0] - f64::midpoint(15.5, 31.0)).abs() < 1e-9);
        assert_eq!((wet.days[1], wet.from_mm), (28.0, Some(1.0)));
        days.retain(|day| day.date.month() != 6);
        let records = DailyRecords::new(days, "").unwrap();
        assert_eq!(records.monthly_wet_days(), None);
    }

    #[test]
    fn the_spread_is_that_of_the_days_about_their_mean() {
        // Minima swing by 2 °C and maxima by 3 °C from day to day, so that the mean of fifteen days
        // is a little off by turns; the swing itself is the standard deviation.
        let mut days = years(2021, 2024);
        for (i, day) in days.iter_mut().enumerate() {
            let sign = if i % 2 == 0 { 1.0 } else { -1.0 };
            (day.minimum_c, day.maximum_c) = (Some(10.0 + 2.0 * sign), Some(25.0 + 3.0 * sign));
        }
        let spread = DailyRecords::new(days.clone(), "")
            .unwrap()
            .spread()
            .unwrap();
        for month in 0..12 {
            assert!(
                (spread.minimum_sd_c[month] - 2.0).abs() < 0.15,
                "{spread:?}"
            );
            assert!((spread.maximum_sd_c[month] - 3.0).abs() < 0.2, "{spread:?}");
        }
        // Two years of June are not enough.
        days.retain(|day| day.date.month() != 6 || day.date.year() > 2022);
        assert_eq!(DailyRecords::new(days, "").unwrap().spread(), None);
    }

    #[test]
    fn bad_days_are_refused_by_date() {
        let good = record(date("2024-01-01"), 10.0, 20.0);
        for (day, code, field) in [
            (
                DayRecord {
                    minimum_c: Some(f64::NAN),
                    ..good
                },
                "out_of_range",
                "minimum_c of 2024-01-01",
            ),
            (
                DayRecord {
                    maximum_c: Some(61.0),
                    ..good
                },
                "out_of_range",
                "maximum_c of 2024-01-01",
            ),
            (
                DayRecord {
                    rain_mm: Some(-0.1),
                    ..good
                },
                "out_of_range",
                "rain_mm of 2024-01-01",
            ),
            (
                DayRecord {
                    wind_m_s: Some(101.0),
                    ..good
                },
                "out_of_range",
                "wind_m_s of 2024-01-01",
            ),
            (
                DayRecord {
                    maximum_c: Some(9.0),
                    ..good
                },
                "inconsistent",
                "minimum_c, maximum_c",
            ),
            (
                DayRecord {
                    date: date("1899-12-31"),
                    ..good
                },
                "out_of_range",
                "date",
            ),
        ] {
            let error = DailyRecords::new(vec![day], "").unwrap_err();
            assert_eq!((error.code(), error.field()), (code, field));
        }
        assert_eq!(
            DailyRecords::new(vec![good, good], "").unwrap_err().field(),
            "date"
        );
        assert_eq!(
            DailyRecords::new(vec![], "").unwrap_err().code(),
            "not_enough_data"
        );
    }

    fn any_day() -> impl Strategy<Value = DayRecord> {
        let value = |range: std::ops::Range<i32>| {
            prop::option::weighted(0.9, range.prop_map(|tenths| f64::from(tenths) / 10.0))
        };
        (
            0..73_000_u64,
            value(-300..200),
            value(200..450),
            value(0..3000),
            value(0..300),
        )
            .prop_map(|(day, minimum_c, maximum_c, rain_mm, wind_m_s)| DayRecord {
                date: civil::FIRST_DATE + Days::new(day),
                minimum_c,
                maximum_c,
                rain_mm,
                wind_m_s,
            })
    }

    proptest! {
        #[test]
        fn what_is_written_is_read(days in prop::collection::vec(any_day(), 1..40)) {
            let mut days = days;
            days.sort_by_key(|day| day.date);
            days.dedup_by_key(|day| day.date);
            let records = DailyRecords::new(days.clone(), "f.csv").unwrap();
            let cell = |value: Option<f64>| value.map_or(String::new(), |v| v.to_string());
            let mut csv = String::from("wind_m_s,date,minimum_c,maximum_c,rain_mm\n");
            for day in days.iter().rev() {
                let [low, high] = [cell(day.minimum_c), cell(day.maximum_c)];
                let [rain, wind] = [cell(day.rain_mm), cell(day.wind_m_s)];
                csv += &format!("{wind},{},{low},{high},{rain}\n", day.date);
            }
            prop_assert_eq!(&DailyRecords::from_csv("f.csv", &csv).unwrap(), &records);
            let json = serde_json::to_string(&records).unwrap();
            prop_assert_eq!(&serde_json::from_str::<DailyRecords>(&json).unwrap(), &records);
            for day in &days {
                prop_assert_eq!(records.day(day.date).is_some(), day.extremes_c().is_some());
            }
            let missing: u32 = records.gaps().missing.iter().map(|gap| gap.days).sum();
            let span = (days[days.len() - 1].date - days[0].date).num_days() + 1;
            let present = days.iter().filter(|day| day.extremes_c().is_some()).count() as i64;
            prop_assert_eq!(i64::from(missing), span - present);
        }
    }
}
