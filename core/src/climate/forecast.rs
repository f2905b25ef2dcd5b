//! A forecast: the days ahead, laid over whatever climate is known.

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use super::day_record::{DAYS, DayRecord, check_days};
use super::{About, Basis, DayTemperatures, TemperatureSource, table};
use crate::error::Error;
use crate::reason::say;
use crate::wire::FromNode;

/// Most days of a forecast.
pub const MOST_FORECAST_DAYS: usize = 60;

/// One day of a forecast.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct ForecastDay {
    /// The civil day at the site.
    #[setters(skip)]
    pub date: NaiveDate,
    /// Lowest air temperature, °C.
    #[setters(skip)]
    pub minimum_c: f64,
    /// Highest air temperature, °C.
    #[setters(skip)]
    pub maximum_c: f64,
    /// Rain, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain_mm: Option<f64>,
    /// Mean wind, m/s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<f64>,
}

impl ForecastDay {
    /// A day of which rain and wind are not known.
    ///
    /// ```
    /// use apiary_almanac::climate::{Forecast, ForecastDay};
    /// let day = ForecastDay::new("2026-07-20".parse()?, 9.0, 21.0).with_rain_mm(0.0);
    /// assert_eq!(Forecast::new(vec![day])?.days()[0].rain_mm, Some(0.0));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(date: NaiveDate, minimum_c: f64, maximum_c: f64) -> Self {
        ForecastDay {
            date,
            minimum_c,
            maximum_c,
            rain_mm: None,
            wind_m_s: None,
        }
    }
}

/// Up to 60 days, not necessarily one after the other.
///
/// JSON: a list of `{"date": "2026-07-20", "minimum_c": 9, "maximum_c": 21}`, with `rain_mm` and
/// `wind_m_s` where they are known.
///
/// ```
/// use apiary_almanac::climate::Forecast;
/// let forecast = Forecast::from_csv(
///     "week.csv",
///     "date;maximum_c;minimum_c;rain_mm\n2026-07-20;21,5;9;0\n2026-07-21;20;8,5;\n",
/// )?;
/// assert_eq!(forecast.days()[0].maximum_c, 21.5);
/// assert_eq!(forecast.days()[1].rain_mm, None);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(try_from = "Vec<ForecastDay>", into = "Vec<ForecastDay>")]
pub struct Forecast {
    days: Vec<ForecastDay>,
}

impl Forecast {
    /// Takes the days of a forecast, in any order.
    ///
    /// # Errors
    /// `not_enough_data` for no days, `too_large` for more than 60, `out_of_range` for a value that
    /// no weather has, `inconsistent` for a minimum above its maximum or a date given twice.
    ///
    /// ```
    /// use apiary_almanac::climate::{Forecast, ForecastDay};
    /// let wrong_way_round = ForecastDay::new("2026-07-20".parse()?, 21.0, 9.0);
    /// assert_eq!(Forecast::new(vec![wrong_way_round]).unwrap_err().code(), "inconsistent");
    /// # Ok::<(), chrono::ParseError>(())
    /// ```
    pub fn new(days: Vec<ForecastDay>) -> Result<Self, Error> {
        if days.len() > MOST_FORECAST_DAYS {
            return Err(Error::TooLarge {
                field: "forecast".to_owned(),
                given: format!("{} days", days.len()),
                allowed: format!("{MOST_FORECAST_DAYS} days"),
            });
        }
        let mut days = days;
        days.sort_by_key(|day| day.date);
        let records: Vec<_> = days.iter().map(|day| DayRecord::from(*day)).collect();
        check_days("forecast", &records)?;
        Ok(Forecast { days })
    }

    /// Reads a table with the columns `date`, `minimum_c` or `minimum_f`, `maximum_c` or
    /// `maximum_f`, and, if wanted, `rain_mm` or `rain_in` and `wind_m_s` or `wind_km_h`.
    ///
    /// # Errors
    /// `bad_table`, `bad_cell` or `too_large`, naming `file`, line and column.
    ///
    /// ```
    /// use apiary_almanac::climate::Forecast;
    /// // In the order and with the decimal comma of a German spreadsheet.
    /// let week = Forecast::from_csv("woche.csv", "date;maximum_c;minimum_c\n2026-07-20;21,5;9\n")?;
    /// assert_eq!(week.days()[0].maximum_c, 21.5);
    /// assert_eq!(Forecast::from_csv("woche.csv", "").unwrap_err().code(), "bad_table");
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn from_csv(file: &str, text: &str) -> Result<Self, Error> {
        let rows = table::read(
            file,
            text,
            &table::Layout {
                gaps_allowed: false,
                ..DAYS
            },
        )?;
        let days = rows.into_iter().filter_map(|row| {
            Some(ForecastDay {
                date: row.key,
                minimum_c: row.minimum_c?,
                maximum_c: row.maximum_c?,
                rain_mm: row.rain_mm,
                wind_m_s: row.extra,
            })
        });
        Forecast::new(days.collect())
    }

    /// The days, in order.
    pub fn days(&self) -> &[ForecastDay] {
        &self.days
    }

    fn find(&self, date: NaiveDate) -> Option<&ForecastDay> {
        let index = self.days.binary_search_by_key(&date, |day| day.date).ok()?;
        self.days.get(index)
    }

    /// The temperatures of a day that the forecast covers.
    ///
    /// ```
    /// use apiary_almanac::climate::{Forecast, ForecastDay};
    /// let week = Forecast::new(vec![ForecastDay::new("2026-07-20".parse()?, 9.0, 21.0)])?;
    /// assert_eq!(week.day("2026-07-20".parse()?).map(|day| day.mean_c()), Some(15.0));
    /// assert_eq!(week.day("2026-07-21".parse()?), None);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn day(&self, date: NaiveDate) -> Option<DayTemperatures> {
        let day = self.find(date)?;
        Some(DayTemperatures {
            date,
            minimum_c: day.minimum_c,
            maximum_c: day.maximum_c,
            rain_mm: day.rain_mm,
            source: TemperatureSource::Forecast,
        })
    }

    /// Mean wind of a day that the forecast covers, m/s.
    pub fn wind_m_s(&self, date: NaiveDate) -> Option<f64> {
        self.find(date)?.wind_m_s
    }

    pub(super) fn basis(&self) -> Basis {
        let ends = self.days.first().zip(self.days.last());
        let about = say::forecast_climate(self.days.len() as f64);
        Basis {
            period: ends.map(|(first, last)| format!("{} to {}", first.date, last.date)),
            ..Basis::new(
                TemperatureSource::Forecast,
                About::Built(about),
                Some(say::forecasts_age()),
            )
        }
    }
}

impl TryFrom<Vec<ForecastDay>> for Forecast {
    type Error = Error;

    fn try_from(days: Vec<ForecastDay>) -> Result<Self, Error> {
        Forecast::new(days)
    }
}

impl From<Forecast> for Vec<ForecastDay> {
    fn from(forecast: Forecast) -> Self {
        forecast.days
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use chrono::Days;

    fn week() -> Vec<ForecastDay> {
        let first: NaiveDate = "2026-07-20".parse().unwrap();
        let day = |i: u64| ForecastDay {
            date: first + Days::new(i),
            minimum_c: 9.0,
            maximum_c: 21.0,
            rain_mm: Some(0.5),
            wind_m_s: None,
        };
        (0..7).map(day).collect()
    }

    #[test]
    fn json_is_a_list_of_days() {
        let text = r#"[{"date":"2026-07-22","minimum_c":9,"maximum_c":21},
            {"date":"2026-07-20","minimum_c":8,"maximum_c":20,"rain_mm":3,"wind_m_s":4}]"#;
        let forecast: Forecast = serde_json::from_str(text).unwrap();
        assert_eq!(forecast.days()[0].date.to_string(), "2026-07-20");
        assert_eq!(forecast.wind_m_s("2026-07-20".parse().unwrap()), Some(4.0));
        assert_eq!(forecast.day("2026-07-21".parse().unwrap()), None);
        let again = serde_json::to_string(&forecast).unwrap();
        assert_eq!(serde_json::from_str::<Forecast>(&again).unwrap(), forecast);
        assert!(serde_json::from_str::<Forecast>(&text.replace("rain_mm", "rain")).is_err());
    }

    #[test]
    fn what_cannot_be_a_forecast_is_refused() {
        let mut reversed = week();
        reversed[3].minimum_c = 22.0;
        assert_eq!(Forecast::new(reversed).unwrap_err().code(), "inconsistent");
        let mut twice = week();
        twice[3].date = twice[2].date;
        assert_eq!(Forecast::new(twice).unwrap_err().code(), "inconsistent");
        assert_eq!(Forecast::new(vec![]).unwrap_err().code(), "not_enough_data");
        let first = week()[0];
        let days = |count: u64| {
            let days = (0..count).map(|i| ForecastDay {
                date: first.date + Days::new(i),
                ..first
            });
            Forecast::new(days.collect())
        };
        assert!(days(60).is_ok());
        assert_eq!(days(61).unwrap_err().code(), "too_large");
    }

    #[test]
    fn a_table_needs_both_extremes_of_every_day() {
        let text = "date,minimum_c,maximum_c,wind_km_h\n2026-07-20,9,21,\n2026-07-21,,20,18\n";
        let error = Forecast::from_csv("f.csv", text).unwrap_err();
        assert_eq!((error.code(), error.field()), ("bad_cell", "minimum_c"));
        let forecast = Forecast::from_csv("f.csv", &text.replace(",,", ",8,")).unwrap();
        assert_eq!(forecast.wind_m_s("2026-07-21".parse().unwrap()), Some(5.0));
    }
}
