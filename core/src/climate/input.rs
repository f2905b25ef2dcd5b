//! A climate as it comes in through a door: values, or the text of a file.

use derive_setters::Setters;
use serde::Serialize;

use super::grid::{DailySpread, Warming};
use super::{
    Climate, DailyRecords, Forecast, Hour, Hours, LocationDefault, MonthlyNormals, Reading,
};
use crate::error::Error;
use crate::site::Site;
use crate::wire::FromNode;

/// The text of a file, and the name by which errors call it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct TextFile {
    /// The file's name.
    #[setters(skip)]
    pub file: String,
    /// All of its text.
    #[setters(skip)]
    pub text: String,
}

impl TextFile {
    /// A text, and the name by which errors call it.
    ///
    /// ```
    /// use apiary_almanac::climate::{ClimateInput, TextFile};
    /// use apiary_almanac::{Climate, Site};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let week = TextFile::new("week.csv", "date;minimum_c;maximum_c\n2026-07-20;9;21,5\n");
    /// let input = ClimateInput::default().with_forecast_csv(week);
    /// let day = Climate::from_input(&site, &input)?.day("2026-07-20".parse()?);
    /// assert_eq!(day.maximum_c, 21.5);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(file: impl Into<String>, text: impl Into<String>) -> Self {
        TextFile {
            file: file.into(),
            text: text.into(),
        }
    }
}

/// Normals or records, and a forecast: each as values or as the text of a CSV file. Without normals
/// and records the default for the location is used.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode, Setters)]
#[serde(default)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct ClimateInput {
    /// Twelve monthly normals.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub normals: Option<MonthlyNormals>,
    /// The same as CSV.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub normals_csv: Option<TextFile>,
    /// The same as a table pasted from a weather service's page: [`MonthlyNormals::from_paste`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub normals_paste: Option<String>,
    /// Daily records as CSV.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub records_csv: Option<TextFile>,
    /// The next days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub forecast: Option<Forecast>,
    /// The same as CSV.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub forecast_csv: Option<TextFile>,
    /// Weather by the hour, measured or forecast.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hours: Vec<Hour>,
    /// The same as the texts of files, CSV or JSON: [`Hours::from_texts`].
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub hours_files: Vec<TextFile>,
    /// A look at the thermometer on the day itself.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reading: Option<Reading>,
    /// How far single days stray from the means, in place of what is taken for the place.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spread: Option<DailySpread>,
    /// What the default for the location adds to its normals of 1961–1990, in place of what is known of
    /// today.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub warming: Option<Warming>,
}

impl Climate {
    /// The climate that an input describes.
    ///
    /// # Errors
    /// `inconsistent` when more than one base or more than one forecast is given, or a warming with
    /// normals or records; `out_of_range` for a spread or warming that no weather has; and what the
    /// readers refuse.
    pub fn from_input(site: &Site, input: &ClimateInput) -> Result<Self, Error> {
        let normals = match (&input.normals, &input.normals_csv, &input.normals_paste) {
            (None, None, None) => None,
            (Some(normals), None, None) => Some(normals.clone()),
            (None, Some(csv), None) => Some(MonthlyNormals::from_csv(&csv.file, &csv.text)?),
            (None, None, Some(text)) => Some(MonthlyNormals::from_paste("normals_paste", text)?),
            _ => return Err(twice("normals, normals_csv, normals_paste")),
        };
        let has_base = normals.is_some() || input.records_csv.is_some();
        let base = match (normals, &input.records_csv) {
            (None, None) => match input.warming {
                Some(warming) => LocationDefault::of_site_with(site, warming)?,
                None => LocationDefault::of_site(site),
            }
            .into(),
            (Some(normals), None) => Climate::from_normals_at(site, normals),
            (None, Some(csv)) => {
                Climate::from_records(DailyRecords::from_csv(&csv.file, &csv.text)?, site)
            }
            (Some(_), Some(_)) => return Err(twice("normals, normals_csv, records_csv")),
        };
        if input.warming.is_some() && has_base {
            return Err(Error::Inconsistent {
                field: "warming".to_owned(),
                problem: "it belongs to the default for the location; normals and records are \
                          taken as they are"
                    .to_owned(),
            });
        }
        let base = match &input.spread {
            None => base,
            Some(spread) => base.with_spread(*spread)?,
        };
        let days = match (&input.forecast, &input.forecast_csv) {
            (None, None) => base,
            (Some(forecast), None) => base.with_forecast(forecast.clone()),
            (None, Some(csv)) => base.with_forecast(Forecast::from_csv(&csv.file, &csv.text)?),
            (Some(_), Some(_)) => return Err(twice("forecast, forecast_csv")),
        };
        let days = match input.reading {
            None => days,
            Some(reading) => days.with_reading(reading),
        };
        match (&input.hours[..], &input.hours_files[..]) {
            ([], []) => Ok(days),
            (hours, []) => Ok(days.with_hours(Hours::new(site.zone, hours.to_vec())?)),
            ([], files) => Ok(days.with_hours(Hours::from_texts(site.zone, files)?)),
            _ => Err(twice("hours, hours_files")),
        }
    }
}

fn twice(field: &str) -> Error {
    Error::Inconsistent {
        field: field.to_owned(),
        problem: "more than one of these is given; give one".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site() -> Site {
        Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
    }

    fn input(text: &str) -> Result<Climate, Error> {
        Climate::from_input(&site(), &serde_json::from_str(text).unwrap())
    }

    const NORMALS: &str = r#""normals": {"minimum_c": [9,9,9,9,9,9,9,9,9,9,9,9],
        "maximum_c": [20,20,20,20,20,20,20,20,20,20,20,20], "about": "invented"}"#;
    const SPREAD: &str = r#""spread": {"minimum_sd_c": [1,1,1,1,1,1,1,1,1,1,1,1],
        "maximum_sd_c": [2,2,2,2,2,2,2,2,2,2,2,2]}"#;

    #[test]
    fn a_spread_of_ones_own_replaces_that_of_the_place() {
        for text in [format!("{{{SPREAD}}}"), format!("{{{NORMALS}, {SPREAD}}}")] {
            let spread = *input(&text).unwrap().spread().unwrap();
            assert_eq!(spread.maximum_sd_c, [2.0; 12]);
        }
        let wild = SPREAD.replace("[2,2,2", "[2,2,16");
        let error = input(&format!("{{{wild}}}")).unwrap_err();
        assert_eq!(
            (error.code(), error.field()),
            ("out_of_range", "spread.maximum_sd_c[2]")
        );
    }

    #[test]
    fn a_pasted_table_is_a_base_like_others() {
        let low = "9 ".repeat(12);
        let high = "20 ".repeat(12);
        let pasted = format!(r#""normals_paste": "{low}\n{high}""#);
        let date = "2026-07-15".parse().unwrap();
        let (own, typed) = (
            input(&format!("{{{pasted}}}")).unwrap(),
            input(&format!("{{{NORMALS}}}")).unwrap(),
        );
        assert_eq!(own.day(date), typed.day(date));
        assert_eq!(own.spread(), typed.spread());
        let error = input(&format!("{{{pasted}, {NORMALS}}}")).unwrap_err();
        assert_eq!(error.code(), "inconsistent");
        let error = input(r#"{"normals_paste": "warm"}"#).unwrap_err();
        assert_eq!(
            (error.code(), error.field()),
            ("bad_table", "normals_paste")
        );
    }

    #[test]
    fn warming_belongs_to_the_default() {
        let none = r#""warming": {"minimum_c": 0, "maximum_c": 0}"#;
        let some = r#"{"warming": {"minimum_c": 1, "maximum_c": 0.6}}"#;
        let date = "2026-07-15".parse().unwrap();
        let (with, without) = (
            input(some).unwrap().day(date),
            input(&format!("{{{none}}}")).unwrap().day(date),
        );
        assert!((with.minimum_c - without.minimum_c - 1.0).abs() < 1e-9);
        assert!((with.maximum_c - without.maximum_c - 0.6).abs() < 1e-9);
        let error = input(&format!("{{{NORMALS}, {none}}}")).unwrap_err();
        assert_eq!((error.code(), error.field()), ("inconsistent", "warming"));
        let error = input(r#"{"warming": {"minimum_c": 0, "maximum_c": -11}}"#).unwrap_err();
        assert_eq!(error.field(), "warming.maximum_c");
    }
}
