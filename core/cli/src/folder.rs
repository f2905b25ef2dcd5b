//! The folder of files that the command writes.

use std::path::Path;

use apiary_almanac::calendar::{IcsSettings, plan_picture, plans_csv, plans_ics, year_picture};
use apiary_almanac::outlook::Outlook;
use apiary_almanac::plan::Plan;
use apiary_almanac::year::{YearRequest, year};
use chrono::{DateTime, Utc};

use super::Problem;
use super::keeper::Asked;
use super::output::{Writer, failed};

/// A file to be written.
pub struct File {
    pub name: &'static str,
    text: String,
}

/// The outlook and the picture of the year; of a plan also calendar, table and picture.
pub fn of(
    asked: &Asked,
    answer: &Outlook,
    plan: Option<&Plan>,
    now: DateTime<Utc>,
) -> Result<Vec<File>, Problem> {
    let request = &asked.outlook;
    let mut asked_year = YearRequest::new(request.site, request.today)
        .with_bee(request.bee.clone())
        .with_climate(request.climate.clone())
        .with_season(request.season.clone());
    asked_year.last_safe = plan.and_then(|plan| plan.last_safe);
    asked_year.title = Some(asked.heading.names.join(", ")).filter(|title| !title.is_empty());
    let mut files = vec![
        File {
            name: "outlook.json",
            text: serde_json::to_string_pretty(answer)? + "\n",
        },
        File {
            name: "year.svg",
            text: year_picture(&year(&asked_year)?),
        },
    ];
    if let Some(plan) = plan {
        let plans = std::slice::from_ref(plan);
        let settings = IcsSettings::new(now.into()).with_sequence(version(now));
        files.extend([
            File {
                name: "plan.json",
                text: serde_json::to_string_pretty(plan)? + "\n",
            },
            File {
                name: "plan.ics",
                text: plans_ics(plans, &settings)?,
            },
            File {
                name: "plan.csv",
                text: plans_csv(plans)?,
            },
            File {
                name: "plan.svg",
                text: plan_picture(plan)?,
            },
        ]);
    }
    Ok(files)
}

/// A number that grows with every version of a calendar: minutes since 2020.
pub fn version(now: DateTime<Utc>) -> u32 {
    const MINUTES_TO_2020: i64 = 26_297_280;
    u32::try_from(now.timestamp() / 60 - MINUTES_TO_2020).unwrap_or(0)
}

/// Writes the files into a folder, which is made if it is not there.
pub fn write(folder: &Path, files: &[File], writer: &Writer) -> Result<(), Problem> {
    std::fs::create_dir_all(folder).map_err(|source| failed(folder, source))?;
    let files: Vec<_> = files
        .iter()
        .map(|file| (folder.join(file.name), file.text.as_str()))
        .collect();
    writer.write(&files)
}
