//! The folder of files that the command writes.

use std::path::{Path, PathBuf};

use apiary_almanac::calendar::{
    CalendarPer, IcsSettings, NamedCalendar, plan_picture, plans_csv, plans_ics, plans_ics_per,
    plans_poster, year_picture,
};
use apiary_almanac::outlook::Outlook;
use apiary_almanac::plan::Plan;
use apiary_almanac::year::{YearRequest, year};
use chrono::{DateTime, Utc};

use super::Problem;
use super::keeper::Asked;
use super::output::{Writer, failed};

/// A larger file is no calendar of this command, bytes.
const LARGEST_CALENDAR: u64 = 64_000_000;

/// Some spreadsheet programs take a table for UTF-8 only where it begins so.
pub const BYTE_ORDER_MARK: &str = "\u{feff}";

/// A file to be written.
pub struct File {
    pub name: String,
    text: String,
}

impl File {
    fn new(name: &str, text: String) -> Self {
        File {
            name: name.to_owned(),
            text,
        }
    }
}

/// The outlook and the picture of the year; of plans also calendar, table and pictures.
pub fn of(
    folder: &Path,
    asked: &Asked,
    answer: &Outlook,
    plans: &[Plan],
    now: DateTime<Utc>,
) -> Result<Vec<File>, Problem> {
    let request = &asked.outlook;
    let mut asked_year = YearRequest::new(request.site, request.today)
        .with_bee(request.bee.clone())
        .with_climate(request.climate.clone())
        .with_season(request.season.clone());
    if let [plan] = plans {
        asked_year.last_safe = plan.last_safe;
    }
    asked_year.title = Some(asked.heading.names.join(", ")).filter(|title| !title.is_empty());
    let mut files = vec![
        File::new("outlook.json", serde_json::to_string_pretty(answer)? + "\n"),
        File::new("year.svg", year_picture(&year(&asked_year)?)),
    ];
    if plans.is_empty() {
        return Ok(files);
    }
    let mut settings = IcsSettings::new(now.into()).with_sequence(version(now));
    settings.before = calendar_before(&folder.join("plan.ics"));
    let json = match plans {
        [plan] if !asked.listed => serde_json::to_string_pretty(plan)?,
        _ => serde_json::to_string_pretty(plans)?,
    };
    files.extend([
        File::new("plan.json", json + "\n"),
        File::new("plan.ics", plans_ics(plans, &settings)?),
        File::new("plan.csv", BYTE_ORDER_MARK.to_owned() + &plans_csv(plans)?),
    ]);
    for plan in plans {
        let name = if asked.listed {
            format!("plan-{}.svg", plan.id)
        } else {
            "plan.svg".to_owned()
        };
        files.push(File::new(&name, plan_picture(plan)?));
    }
    let sheets = plans_poster(plans, None)?;
    files.extend((1..).zip(sheets).map(|(number, sheet)| {
        let name = sheet_name("poster", number);
        File::new(&name, sheet)
    }));
    Ok(files)
}

/// `poster.svg`, `poster-2.svg`.
fn sheet_name(stem: &str, number: usize) -> String {
    match number {
        1 => format!("{stem}.svg"),
        _ => format!("{stem}-{number}.svg"),
    }
}

/// The sheets of a poster beside the first, with numbers.
pub fn sheets(first: &Path, sheets: Vec<String>) -> Vec<(PathBuf, String)> {
    let stem = first.file_stem().unwrap_or_default().to_string_lossy();
    let place = |number| match number {
        1 => first.to_owned(),
        _ => first.with_file_name(sheet_name(&stem, number)),
    };
    let sheets = (1..).zip(sheets);
    sheets
        .map(|(number, sheet)| (place(number), sheet))
        .collect()
}

/// A calendar for each hive, keeper or club, which takes the place of that in the folder.
pub fn calendars(
    folder: &Path,
    plans: &[Plan],
    per: CalendarPer,
    mut settings: IcsSettings,
) -> Result<Vec<File>, Problem> {
    let name = |id: &str| format!("{id}.ics");
    let new = plans_ics_per(plans, per, &settings)?;
    let before = new
        .iter()
        .filter_map(|calendar| calendar_before(&folder.join(name(&calendar.id))));
    settings.before = Some(before.collect::<String>()).filter(|text| !text.is_empty());
    let files = plans_ics_per(plans, per, &settings)?;
    let file = |calendar: NamedCalendar| File::new(&name(&calendar.id), calendar.ics);
    Ok(files.into_iter().map(file).collect())
}

/// The calendar that a new one takes the place of, where there is one: its unchanged events keep their
/// version.
pub fn calendar_before(path: &Path) -> Option<String> {
    let file = path.metadata().ok()?;
    if !file.is_file() || file.len() > LARGEST_CALENDAR {
        return None;
    }
    std::fs::read_to_string(path).ok()
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
        .map(|file| (folder.join(&file.name), file.text.as_str()))
        .collect();
    writer.write(&files)
}
