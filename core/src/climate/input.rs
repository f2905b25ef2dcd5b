//! A climate as it comes in through a door: values, or the text of a file.

use serde::{Deserialize, Serialize};

use super::{Climate, DailyRecords, Forecast, LocationDefault, MonthlyNormals};
use crate::error::Error;
use crate::site::Site;

/// The text of a file, and the name by which errors call it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TextFile {
    /// The file's name.
    pub file: String,
    /// All of its text.
    pub text: String,
}

/// Normals or records, and a forecast: each as values or as the text of a CSV file. Without normals
/// and records the default for the location is used.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ClimateInput {
    /// Twelve monthly normals.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub normals: Option<MonthlyNormals>,
    /// The same as CSV.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub normals_csv: Option<TextFile>,
    /// Daily records as CSV.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub records_csv: Option<TextFile>,
    /// The next days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub forecast: Option<Forecast>,
    /// The same as CSV.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub forecast_csv: Option<TextFile>,
}

impl Climate {
    /// The climate that an input describes.
    ///
    /// # Errors
    /// `inconsistent` when more than one base or more than one forecast is given, and what the
    /// readers refuse.
    pub fn from_input(site: &Site, input: &ClimateInput) -> Result<Self, Error> {
        let base = match (&input.normals, &input.normals_csv, &input.records_csv) {
            (None, None, None) => Climate::from_location(site),
            (Some(normals), None, None) => with_spread_of(site, normals.clone()),
            (None, Some(csv), None) => {
                with_spread_of(site, MonthlyNormals::from_csv(&csv.file, &csv.text)?)
            }
            (None, None, Some(csv)) => {
                Climate::from_records(DailyRecords::from_csv(&csv.file, &csv.text)?, site)
            }
            _ => return Err(twice("normals, normals_csv, records_csv")),
        };
        match (&input.forecast, &input.forecast_csv) {
            (None, None) => Ok(base),
            (Some(forecast), None) => Ok(base.with_forecast(forecast.clone())),
            (None, Some(csv)) => Ok(base.with_forecast(Forecast::from_csv(&csv.file, &csv.text)?)),
            (Some(_), Some(_)) => Err(twice("forecast, forecast_csv")),
        }
    }
}

/// Normals say nothing of single days: the spread is that of the place in the built-in grid.
fn with_spread_of(site: &Site, normals: MonthlyNormals) -> Climate {
    let climate = Climate::from_normals(normals);
    match LocationDefault::of_site(site).grid_normals() {
        Some(grid) => climate.with_spread(grid.spread()),
        None => climate,
    }
}

fn twice(field: &str) -> Error {
    Error::Inconsistent {
        field: field.to_owned(),
        problem: "more than one of these is given; give one".to_owned(),
    }
}
