//! Daily records: what was measured, what is missing, and the mean year they make.

use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};

use super::day_record::{DAYS, DayRecord, check_days};
use super::{Basis, DayTemperatures, TemperatureSource, table};
use crate::civil;
use crate::error::Error;
use crate::reading::deserialize_through;

/// Days before and after a day that its mean takes in.
const HALF_WINDOW: usize = 7;
/// Fewest measured days, over all years, that make a mean.
const FEWEST_DAYS: usize = 8;
/// Share of a month's days whose rain must be known for the month to count.
const RAIN_SHARE: f64 = 0.9;

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
/// assert_eq!(records.day("2024-01-31".parse()?).unwrap().rain_mm, Some(12.5));
/// assert_eq!(records.day("2024-02-01".parse()?), None);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(into = "Wire")]
pub struct DailyRecords {
    about: String,
    /// By date.
    days: Vec<DayRecord>,
    /// Mean minimum and maximum of the 365 days of the common year.
    mean_year: Vec<Option<(f64, f64)>>,
    monthly_rain_mm: Option<[f64; 12]>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    about: String,
    days: Vec<DayRecord>,
}

/// Which days are missing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gaps {
    /// Stretches between the first and the last record without minimum or maximum.
    pub missing: Vec<MissingDays>,
    /// The years from the first record to the last.
    pub years: Vec<YearShare>,
}

/// A stretch of days without minimum or maximum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MissingDays {
    /// First day without them.
    pub first: NaiveDate,
    /// Last day without them.
    pub last: NaiveDate,
    /// How many days the stretch has.
    pub days: u32,
}

/// How much of a year was measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
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
    pub fn new(days: Vec<DayRecord>, about: &str) -> Result<Self, Error> {
        let mut days = days;
        days.sort_by_key(|day| day.date);
        check_days("records", &days)?;
        let (mean_year, monthly_rain_mm) = (mean_year(&days), monthly_rain_mm(&days));
        Ok(DailyRecords {
            about: about.to_owned(),
            days,
            mean_year,
            monthly_rain_mm,
        })
    }

    /// Reads a table with the columns `date`, `minimum_c` or `minimum_f`, `maximum_c` or
    /// `maximum_f`, and, if wanted, `rain_mm` or `rain_in` and `wind_m_s` or `wind_km_h`. Rows may
    /// stand in any order; an empty cell is a value that was not measured.
    ///
    /// # Errors
    /// `bad_table`, `bad_cell` or `too_large`, naming `file`, line and column.
    pub fn from_csv(file: &str, text: &str) -> Result<Self, Error> {
        let rows = table::read(file, text, &DAYS)?;
        let days = rows.into_iter().map(|row| DayRecord {
            date: row.key,
            minimum_c: row.minimum_c,
            maximum_c: row.maximum_c,
            rain_mm: row.rain_mm,
            wind_m_s: row.wind_m_s,
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
    pub fn monthly_rain_mm(&self) -> Option<[f64; 12]> {
        self.monthly_rain_mm
    }

    /// The calendar years that hold a day with minimum and maximum.
    pub fn years(&self) -> Vec<i32> {
        let measured = self.days.iter().filter(|day| day.extremes_c().is_some());
        let mut years: Vec<_> = measured.map(|day| day.date.year()).collect();
        years.dedup();
        years
    }

    /// What is missing between the first record and the last.
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
            "Dates that were not measured are answered with the mean of the recorded years."
        } else {
            "Parts of the year were never measured; there the latitude has to do. Monthly normals \
             of a near station would be better."
        };
        Basis {
            source: TemperatureSource::RecordedMean,
            about: self.about.clone(),
            period: ends.map(|(first, last)| format!("{} to {}", first.date, last.date)),
            typical_error_c: None,
            worst_error_c: None,
            advice: Some(advice.to_owned()),
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

fn monthly_rain_mm(days: &[DayRecord]) -> Option<[f64; 12]> {
    let mut sums = [(0_u32, 0.0); 12];
    for month in
        days.chunk_by(|a, b| (a.date.year(), a.date.month()) == (b.date.year(), b.date.month()))
    {
        let date = month.first()?.date;
        let known: Vec<f64> = month.iter().filter_map(|day| day.rain_mm).collect();
        let length = f64::from(date.num_days_in_month());
        let count = known.len() as f64;
        if count >= RAIN_SHARE * length {
            let sum = &mut sums[date.month0() as usize];
            *sum = (
                sum.0 + 1,
                sum.1 + known.iter().sum::<f64>() * length / count,
            );
        }
    }
    sums.iter()
        .all(|(years, _)| *years > 0)
        .then(|| sums.map(|(years, sum)| sum / f64::from(years)))
}

impl TryFrom<Wire> for DailyRecords {
    type Error = Error;

    fn try_from(wire: Wire) -> Result<Self, Error> {
        DailyRecords::new(wire.days, &wire.about)
    }
}

deserialize_through!(Wire => DailyRecords);

impl From<DailyRecords> for Wire {
    fn from(records: DailyRecords) -> Self {
        Wire {
            about: records.about,
            days: records.days,
        }
    }
}
