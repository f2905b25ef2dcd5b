//! The dates of a year, printed or as a file.

use std::path::PathBuf;

use apiary_almanac::calendar::{IcsSettings, year_dates_csv, year_dates_ics, year_poster};
use apiary_almanac::civil::{date_words, parse_date};
use apiary_almanac::year_dates::{YearDates, YearDatesRequest, year_dates};
use chrono::{DateTime, Utc};

use super::args::DatesArgs;
use super::ending::{self, Kind};
use super::keeper::{self, Extra};
use super::sheet::{Detail, Sheet, WIDE};
use super::{Problem, folder, json_or};

pub fn dates(
    args: &DatesArgs,
    now: DateTime<Utc>,
    said: &mut Vec<String>,
) -> Result<String, Problem> {
    const KINDS: &[Kind] = &[Kind::Calendar, Kind::Table, Kind::Poster];
    let kind_of = |path: &PathBuf| ending::kind(path, KINDS);
    let kind = args.out.as_ref().map(kind_of).transpose()?;
    let asked = keeper::read(&args.input, &Extra::default(), now, said)?;
    let first = match &args.first {
        Some(text) => parse_date("--first", text)?,
        None => asked.outlook.today,
    };
    let request = YearDatesRequest::new(asked.places.clone(), first);
    let answer = asked.told(year_dates(&request))?;
    let (Some(path), Some(kind)) = (&args.out, kind) else {
        return json_or(&args.form, &answer, || text(&answer));
    };
    let files = match kind {
        Kind::Poster => folder::sheets(path, year_poster(&answer, None)),
        Kind::Calendar => {
            let mut settings = IcsSettings::new(now.into()).with_sequence(folder::version(now));
            settings.before = folder::calendar_before(path);
            vec![(path.clone(), year_dates_ics(&answer, &settings)?)]
        }
        Kind::Table => {
            let table = folder::BYTE_ORDER_MARK.to_owned() + &year_dates_csv(&answer);
            vec![(path.clone(), table)]
        }
    };
    let texts: Vec<_> = files
        .iter()
        .map(|(path, text)| (path.clone(), text.as_str()))
        .collect();
    asked.writer(args.force).write(&texts)?;
    let names: Vec<_> = files
        .iter()
        .map(|(path, _)| path.display().to_string())
        .collect();
    json_or(&args.form, &answer, || {
        format!("Written to {}\n", names.join(", "))
    })
}

fn text(answer: &YearDates) -> String {
    let mut out = Sheet::new(WIDE, Detail::default());
    for place in &answer.places {
        out.section(&place.name);
        for doubt in &place.doubts {
            out.line(0, &doubt.text());
        }
        for date in &place.dates {
            let day = format!("{:<17}", date_words(date.date));
            out.item(&day, &date.text.text());
        }
    }
    out.finish()
}
