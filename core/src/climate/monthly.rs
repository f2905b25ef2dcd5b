//! Monthly normals: twelve means of the daily minimum and maximum, twelve totals of rain, and twelve
//! counts of wet days.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use super::columns::Quantity;
use super::month_spline::YearOfDays;
use super::table;
use super::{ALLOWED_C, About, Basis, DayTemperatures, TemperatureSource, WetDays};
use crate::civil::MONTHS;
use crate::error::{Error, clip};
use crate::reason::say;
use crate::wire::FromNode;

/// Highest rain total of a month that is read, mm.
pub(crate) const MOST_RAIN_MM: f64 = 10_000.0;
/// Most wet days of a month that are read.
const MOST_WET_DAYS: f64 = 31.0;

/// Means of the twelve months, January first.
///
/// Days are read off a periodic quadratic spline whose mean over each month is the given one, to
/// rounding, in common and in leap years. Rain stays a monthly total: what falls on a day is not
/// known from it.
///
/// JSON: `{"minimum_c": [12 numbers], "maximum_c": [12 numbers], "rain_mm": [12 numbers],
/// "wet_days": [12 numbers], "about": "station and years"}`; `rain_mm` and `wet_days` may be left
/// out.
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
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Wire", into = "Wire")]
pub struct MonthlyNormals {
    wire: Wire,
    days: YearOfDays,
}

#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
struct Wire {
    /// Means of the daily minimum, °C.
    minimum_c: [f64; 12],
    /// Means of the daily maximum, °C.
    maximum_c: [f64; 12],
    /// Mean totals of rain, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rain_mm: Option<[f64; 12]>,
    /// Mean numbers of wet days; say in `about` from how much rain a day is wet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    wet_days: Option<[f64; 12]>,
    /// Station and years.
    about: String,
}

impl MonthlyNormals {
    /// Takes twelve means of the daily minimum and maximum in °C, twelve totals of rain in mm where
    /// they are known, and a few words on where they come from.
    ///
    /// # Errors
    /// `out_of_range` for a temperature outside −60 to 60 °C or rain outside 0 to 10,000 mm,
    /// `inconsistent` for a minimum above its maximum; each names the month.
    ///
    /// ```
    /// use apiary_almanac::MonthlyNormals;
    /// let mut minimum_c = [18.0; 12];
    /// minimum_c[6] = 180.0; // a decimal point was lost
    /// let error = MonthlyNormals::new(minimum_c, [29.0; 12], None, "our town's station").unwrap_err();
    /// assert_eq!((error.code(), error.field()), ("out_of_range", "minimum_c of July"));
    /// ```
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
            wet_days: None,
            about: about.to_owned(),
        }
        .try_into()
    }

    /// The same normals with the mean number of wet days of the months, January first. From how much
    /// rain a day is wet differs between weather services (0.1, 0.2, 1 mm): say it in `about`.
    ///
    /// # Errors
    /// `out_of_range`, naming the month, for numbers outside 0 to 31.
    ///
    /// ```
    /// use apiary_almanac::climate::MonthlyNormals;
    /// let normals = MonthlyNormals::new([22.0; 12], [31.0; 12], None, "invented")?;
    /// let wet = [18.0, 17.0, 16.0, 9.0, 4.0, 2.0, 1.0, 1.0, 3.0, 7.0, 12.0, 16.0];
    /// assert_eq!(normals.clone().with_wet_days(wet)?.wet_days().map(|wet| wet.days), Some(wet));
    /// assert!(normals.with_wet_days([32.0; 12]).is_err());
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn with_wet_days(self, wet_days: [f64; 12]) -> Result<Self, Error> {
        Wire {
            wet_days: Some(wet_days),
            ..self.wire
        }
        .try_into()
    }

    /// Reads a table with the columns `month` (1 to 12), `minimum_c` or `minimum_f`, `maximum_c` or
    /// `maximum_f`, and, if wanted, `rain_mm` or `rain_in` and `wet_days`; one line for each month, in
    /// any order.
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
            .filter(|month| rows.iter().all(|row| row.key.month() != *month))
            .map(|month| month.to_string())
            .collect();
        if !missing.is_empty() {
            let problem = format!("there is no row for month {}", missing.join(", "));
            return Err(Error::BadTable {
                file: clip(file),
                problem,
            });
        }
        // The reader refuses rows without temperatures and gives rows by month, each once.
        let column = |of: fn(&table::Row) -> Option<f64>| -> Vec<f64> {
            rows.iter().filter_map(of).collect()
        };
        let twelve = |values: Vec<f64>| <[f64; 12]>::try_from(values).ok();
        let (rain, wet_days) = (column(|row| row.rain_mm), column(|row| row.extra));
        for (what, values) in [("rain is", &rain), ("wet_days are", &wet_days)] {
            if !values.is_empty() && values.len() < 12 {
                let problem = format!("{what} given for some months only; give all twelve or none");
                return Err(Error::BadTable {
                    file: clip(file),
                    problem,
                });
            }
        }
        let (minimum, maximum) = (column(|row| row.minimum_c), column(|row| row.maximum_c));
        let (Some(minimum_c), Some(maximum_c)) = (twelve(minimum), twelve(maximum)) else {
            let problem = "twelve minima and twelve maxima are needed".to_owned();
            return Err(Error::BadTable {
                file: clip(file),
                problem,
            });
        };
        Wire {
            minimum_c,
            maximum_c,
            rain_mm: twelve(rain),
            wet_days: twelve(wet_days),
            about: file.to_owned(),
        }
        .try_into()
    }

    /// Minimum and maximum of a day; its rain is not known.
    ///
    /// ```
    /// use apiary_almanac::MonthlyNormals;
    /// // The days of a month average what was given for it.
    /// let mut maximum_c = [25.0; 12];
    /// maximum_c[6] = 21.0;
    /// let normals = MonthlyNormals::new([10.0; 12], maximum_c, None, "rounded example")?;
    /// let first: chrono::NaiveDate = "2026-07-01".parse()?;
    /// let sum: f64 = first.iter_days().take(31).map(|date| normals.day(date).maximum_c).sum();
    /// assert!((sum / 31.0 - 21.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
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
    ///
    /// ```
    /// use apiary_almanac::MonthlyNormals;
    /// let mut text = String::from("month,minimum_c,maximum_c,rain_in\n");
    /// for month in 1..=12 {
    ///     text += &format!("{month},12,24,{month}\n");
    /// }
    /// let rain_mm = MonthlyNormals::from_csv("normals.csv", &text)?.rain_mm().ok_or("it was given")?;
    /// assert!((rain_mm[9] - 254.0).abs() < 1e-9); // October's ten inches
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rain_mm(&self) -> Option<[f64; 12]> {
        self.wire.rain_mm
    }

    /// Mean number of wet days of the twelve months, where it is known.
    pub fn wet_days(&self) -> Option<WetDays> {
        let days = self.wire.wet_days?;
        Some(WetDays {
            days,
            from_mm: None,
        })
    }

    pub(super) fn basis(&self) -> Basis {
        Basis::new(
            TemperatureSource::MonthlyNormals,
            About::Own(&self.wire.about),
            Some(say::normals_have_no_days()),
        )
    }
}

const LAYOUT: table::Layout = table::Layout {
    key_column: "month",
    key_allowed: "a month from 1 to 12",
    read_key: |cell| NaiveDate::from_ymd_opt(2001, cell.parse().ok()?, 1),
    gaps_allowed: false,
    most_rain_mm: MOST_RAIN_MM,
    extra: Quantity::wet_days,
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
        if let Some(wet_days) = &wire.wet_days {
            in_range("wet_days", wet_days, 0.0, MOST_WET_DAYS, "days")?;
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

impl From<MonthlyNormals> for Wire {
    fn from(normals: MonthlyNormals) -> Self {
        normals.wire
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOW: [f64; 12] = [
        20.0, 20.0, 19.0, 16.0, 13.0, 11.0, 10.0, 10.5, 13.0, 16.0, 18.0, 19.0,
    ];
    const HIGH: [f64; 12] = [
        29.0, 29.0, 28.0, 26.0, 24.0, 21.0, 21.0, 22.0, 24.0, 26.0, 27.0, 28.0,
    ];

    fn csv(rain: bool) -> String {
        let mut text = String::from("maximum_c;month;minimum_c;rain_mm\n");
        for month in (1..=12).rev() {
            let rain = if rain {
                format!("{}", month * 10)
            } else {
                String::new()
            };
            text += &format!("{};{month};{};{rain}\n", HIGH[month - 1], LOW[month - 1]);
        }
        text
    }

    #[test]
    fn a_table_in_any_order_equals_the_arrays() {
        let rain = std::array::from_fn(|month| (month as f64 + 1.0) * 10.0);
        let expected = MonthlyNormals::new(LOW, HIGH, Some(rain), "f.csv").unwrap();
        assert_eq!(
            MonthlyNormals::from_csv("f.csv", &csv(true)).unwrap(),
            expected
        );
        let dry = MonthlyNormals::from_csv("f.csv", &csv(false)).unwrap();
        assert_eq!(dry.rain_mm(), None);
    }

    #[test]
    fn tables_that_are_not_twelve_months_are_refused() {
        let without_may = csv(true).replace("24;5;13;50\n", "");
        let twice_june = csv(true).replace(";5;", ";6;");
        let month_13 = csv(true).replace(";12;", ";13;");
        let no_rain_in_may = csv(true).replace(";50\n", ";\n");
        for (text, words) in [
            (without_may, "no row for month 5"),
            (twice_june, "line 8 has it already"),
            (month_13, "a month from 1 to 12"),
            (no_rain_in_may, "some months only"),
        ] {
            let error = MonthlyNormals::from_csv("f.csv", &text).unwrap_err();
            assert!(error.to_string().contains(words), "{error}");
        }
    }

    #[test]
    fn values_out_of_range_name_their_month() {
        let mut low = LOW;
        low[6] = 21.5;
        let error = MonthlyNormals::new(low, HIGH, None, "").unwrap_err();
        assert_eq!(error.code(), "inconsistent");
        assert!(
            error
                .to_string()
                .contains("July is 21.5 °C, above its maximum 21 °C"),
            "{error}"
        );
        for bad in [f64::NAN, f64::INFINITY, -60.5] {
            low[6] = bad;
            let error = MonthlyNormals::new(low, HIGH, None, "").unwrap_err();
            assert_eq!(
                (error.code(), error.field()),
                ("out_of_range", "minimum_c of July")
            );
        }
        let rain = std::array::from_fn(|month| if month == 0 { -1.0 } else { 5.0 });
        let error = MonthlyNormals::new(LOW, HIGH, Some(rain), "").unwrap_err();
        assert_eq!(error.field(), "rain_mm of January");
    }

    #[test]
    fn json_round_trip_checks_again() {
        let normals = MonthlyNormals::new(LOW, HIGH, None, "invented").unwrap();
        let text = serde_json::to_string(&normals).unwrap();
        assert_eq!(
            serde_json::from_str::<MonthlyNormals>(&text).unwrap(),
            normals
        );
        let reversed = text.replace("\"maximum_c\":[29.0", "\"maximum_c\":[19.0");
        assert!(serde_json::from_str::<MonthlyNormals>(&reversed).is_err());
        let eleven = text.replace("\"maximum_c\":[29.0,", "\"maximum_c\":[");
        assert!(serde_json::from_str::<MonthlyNormals>(&eleven).is_err());
        let extra = text.replace("\"about\"", "\"wet\":1,\"about\"");
        assert!(serde_json::from_str::<MonthlyNormals>(&extra).is_err());
    }

    #[test]
    fn wet_days_stand_in_a_column_of_their_own() {
        let mut text = String::from("month;minimum_c;maximum_c;wet_days\n");
        for month in 1..=12 {
            text += &format!("{month};20;30;{month},5\n");
        }
        let normals = MonthlyNormals::from_csv("f.csv", &text).unwrap();
        let wet = normals.wet_days().unwrap();
        assert_eq!((wet.days[0], wet.days[11], wet.from_mm), (1.5, 12.5, None));
        let json = serde_json::to_string(&normals).unwrap();
        assert_eq!(
            serde_json::from_str::<MonthlyNormals>(&json).unwrap(),
            normals
        );
        let gap = text.replace(";5,5\n", ";\n");
        let error = MonthlyNormals::from_csv("f.csv", &gap).unwrap_err();
        assert!(error.to_string().contains("wet_days are given for some"));
        let error = MonthlyNormals::from_csv("f.csv", &text.replace("12,5", "32")).unwrap_err();
        assert_eq!((error.code(), error.field()), ("bad_cell", "wet_days"));
        assert!(error.to_string().contains("0 to 31 days"), "{error}");
        let error =
            MonthlyNormals::from_csv("f.csv", &text.replace("wet_days", "wet")).unwrap_err();
        assert!(error.to_string().contains("name it wet_days"), "{error}");
    }

    #[test]
    fn rain_of_a_day_is_not_known_from_a_month() {
        let normals = MonthlyNormals::new(LOW, HIGH, Some([90.0; 12]), "").unwrap();
        let day = normals.day("2028-02-29".parse().unwrap());
        assert_eq!(
            (day.rain_mm, day.source),
            (None, TemperatureSource::MonthlyNormals)
        );
    }
}
