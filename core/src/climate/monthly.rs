//! Monthly normals: twelve means of the daily minimum and maximum, and twelve totals of rain.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::month_spline::YearOfDays;
use super::table;
use super::{ALLOWED_C, Basis, DayTemperatures, TemperatureSource};
use crate::error::Error;
use crate::reading::deserialize_through;

const MONTHS: [&str; 12] = [
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
/// Highest rain total of a month that is read, mm.
const MOST_RAIN_MM: f64 = 10_000.0;

/// Means of the twelve months, January first.
///
/// Days are read off a periodic quadratic spline whose mean over each month is the given one, to
/// rounding, in common and in leap years. Rain stays a monthly total: what falls on a day is not
/// known from it.
///
/// JSON: `{"minimum_c": [12 numbers], "maximum_c": [12 numbers], "rain_mm": [12 numbers],
/// "about": "station and years"}`; `rain_mm` may be left out.
///
/// ```
/// use apiary_almanac::climate::MonthlyNormals;
/// let normals = MonthlyNormals::new(
///     [21.0, 21.0, 19.6, 16.6, 13.4, 11.2, 10.0, 10.7, 13.7, 16.3, 18.5, 20.1],
///     [29.2, 29.0, 28.1, 26.4, 24.0, 21.7, 21.2, 22.4, 24.7, 26.1, 27.6, 28.7],
///     None,
///     "invented example",
/// )?;
/// let day = normals.day("2026-07-20".parse()?);
/// assert!((9.0..11.0).contains(&day.minimum_c) && day.rain_mm.is_none());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(into = "Wire")]
pub struct MonthlyNormals {
    wire: Wire,
    days: YearOfDays,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Wire {
    minimum_c: [f64; 12],
    maximum_c: [f64; 12],
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rain_mm: Option<[f64; 12]>,
    about: String,
}

impl MonthlyNormals {
    /// Takes twelve means of the daily minimum and maximum in °C, twelve totals of rain in mm where
    /// they are known, and a few words on where they come from.
    ///
    /// # Errors
    /// `out_of_range` for a temperature outside −60 to 60 °C or rain outside 0 to 10,000 mm,
    /// `inconsistent` for a minimum above its maximum; each names the month.
    pub fn new(
        minimum_c: [f64; 12],
        maximum_c: [f64; 12],
        rain_mm: Option<[f64; 12]>,
        about: &str,
    ) -> Result<Self, Error> {
        Wire {
            minimum_c,
            maximum_c,
            rain_mm,
            about: about.to_owned(),
        }
        .try_into()
    }

    /// Reads a table with the columns `month` (1 to 12), `minimum_c` or `minimum_f`, `maximum_c` or
    /// `maximum_f`, and, if wanted, `rain_mm` or `rain_in`; one line for each month, in any order.
    ///
    /// # Errors
    /// `bad_table`, `bad_cell` or `too_large`, naming `file`, line and column.
    ///
    /// ```
    /// use apiary_almanac::climate::MonthlyNormals;
    /// let mut text = String::from("month,minimum_f,maximum_f\n");
    /// for month in 1..=12 {
    ///     text += &format!("{month},50,68\n");
    /// }
    /// let normals = MonthlyNormals::from_csv("normals.csv", &text)?;
    /// assert!((normals.day("2026-03-01".parse()?).mean_c() - 15.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn from_csv(file: &str, text: &str) -> Result<Self, Error> {
        let rows = table::read(file, text, &LAYOUT)?;
        let missing: Vec<_> = (1..=12)
            .filter(|month| rows.iter().all(|row| row.key != *month))
            .map(|month| month.to_string())
            .collect();
        if !missing.is_empty() {
            let problem = format!("there is no row for month {}", missing.join(", "));
            return Err(Error::BadTable {
                file: file.to_owned(),
                problem,
            });
        }
        // The reader refuses rows without temperatures and gives rows by month, each once.
        let column = |of: fn(&table::Row<u8>) -> Option<f64>| -> Vec<f64> {
            rows.iter().filter_map(of).collect()
        };
        let twelve = |values: Vec<f64>| <[f64; 12]>::try_from(values).ok();
        let rain = column(|row| row.rain_mm);
        if !rain.is_empty() && rain.len() < 12 {
            let problem = "rain is given for some months only; give all twelve or none".to_owned();
            return Err(Error::BadTable {
                file: file.to_owned(),
                problem,
            });
        }
        let (minimum, maximum) = (column(|row| row.minimum_c), column(|row| row.maximum_c));
        let (Some(minimum_c), Some(maximum_c)) = (twelve(minimum), twelve(maximum)) else {
            let problem = "twelve minima and twelve maxima are needed".to_owned();
            return Err(Error::BadTable {
                file: file.to_owned(),
                problem,
            });
        };
        MonthlyNormals::new(minimum_c, maximum_c, twelve(rain), file)
    }

    /// Minimum and maximum of a day; its rain is not known.
    pub fn day(&self, date: NaiveDate) -> DayTemperatures {
        let (minimum_c, maximum_c) = self.days.of(date);
        DayTemperatures {
            date,
            minimum_c,
            maximum_c,
            rain_mm: None,
            source: TemperatureSource::MonthlyNormals,
        }
    }

    /// Mean rain of the twelve months in mm, January first, where it is known.
    pub fn rain_mm(&self) -> Option<[f64; 12]> {
        self.wire.rain_mm
    }

    pub(super) fn basis(&self) -> Basis {
        Basis {
            source: TemperatureSource::MonthlyNormals,
            about: self.wire.about.clone(),
            period: None,
            typical_error_c: None,
            worst_error_c: None,
            advice: Some(
                "Monthly means say nothing of single days; a forecast or daily records do.".into(),
            ),
        }
    }
}

const LAYOUT: table::Layout<u8> = table::Layout {
    key_column: "month",
    key_allowed: "a month from 1 to 12",
    read_key: |cell| cell.parse().ok().filter(|month| (1..=12).contains(month)),
    gaps_allowed: false,
    most_rain_mm: MOST_RAIN_MM,
    wind: false,
};

impl TryFrom<Wire> for MonthlyNormals {
    type Error = Error;

    fn try_from(wire: Wire) -> Result<Self, Error> {
        let in_range =
            |field: &str, values: &[f64; 12], low: f64, high: f64, unit: &str| match values
                .iter()
                .position(|v| !(low..=high).contains(v))
            {
                Some(month) => Err(Error::out_of_range(
                    &format!("{field} of {}", MONTHS[month]),
                    values[month],
                    format_args!("{low} to {high} {unit}"),
                )),
                None => Ok(()),
            };
        let (low, high) = (*ALLOWED_C.start(), *ALLOWED_C.end());
        in_range("minimum_c", &wire.minimum_c, low, high, "°C")?;
        in_range("maximum_c", &wire.maximum_c, low, high, "°C")?;
        if let Some(rain_mm) = &wire.rain_mm {
            in_range("rain_mm", rain_mm, 0.0, MOST_RAIN_MM, "mm")?;
        }
        for (month, (low, high)) in wire.minimum_c.iter().zip(&wire.maximum_c).enumerate() {
            if low > high {
                return Err(Error::Inconsistent {
                    field: "minimum_c, maximum_c".to_owned(),
                    problem: format!(
                        "the minimum of {} is {low} °C, above its maximum {high} °C",
                        MONTHS[month]
                    ),
                });
            }
        }
        let days = YearOfDays::new(&wire.minimum_c, &wire.maximum_c);
        Ok(MonthlyNormals { wire, days })
    }
}

deserialize_through!(Wire => MonthlyNormals);

impl From<MonthlyNormals> for Wire {
    fn from(normals: MonthlyNormals) -> Self {
        normals.wire
    }
}
