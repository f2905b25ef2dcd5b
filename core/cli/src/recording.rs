//! Writes a record into the keeper's file, and leaves the rest of the file as it is.

use std::path::Path;

use apiary_almanac::Error;
use apiary_almanac::civil::date_words;
use apiary_almanac::civil::parse_date;
use apiary_almanac::plan::{Colony, Plan, plan};
use apiary_almanac::record::{Record, SIGNS, Sign};
use apiary_almanac::task::{TaskState, Which};
use chrono::{DateTime, NaiveDate, Utc};
use serde::Serialize;
use toml_edit::{
    ArrayOfTables, Datetime, DocumentMut, InlineTable, Item, Table, TableLike, TomlError, Value,
};

use super::Problem;
use super::args::{Input, RecordArgs};
use super::keeper::{self, Extra};
use super::output::{Writer, failed};
use super::sheet::{Detail, Sheet, WIDE};

/// Records what the arguments say, once a plan with it can be made.
pub fn record(
    args: &RecordArgs,
    now: DateTime<Utc>,
    said: &mut Vec<String>,
) -> Result<String, Problem> {
    let input = Input {
        file: Some(args.file.clone()),
        ..Input::default()
    };
    let asked = keeper::read(&input, &Extra::default(), now, said)?;
    let request = asked.plan_of(args.hive.as_deref())?;
    let record = of(args, &request.colony, request.today)?;
    let hive = asked.listed.then_some(request.colony.name.as_str());
    let mut request = request.clone();
    request.records.push(record.clone());
    let planned = plan(&request)?;
    let text = std::fs::read_to_string(&args.file).map_err(|source| failed(&args.file, source))?;
    let text = with_record(&text, hive, &record).map_err(|problem| Problem::NotWritten {
        file: args.file.display().to_string(),
        problem,
    })?;
    let writer = Writer {
        read: &[],
        force: false,
    };
    writer.write(&[(args.file.clone(), &text)])?;
    Ok(told(&args.file, &record, &planned))
}

fn of(args: &RecordArgs, colony: &Colony, today: NaiveDate) -> Result<Record, Error> {
    let date = match &args.on {
        Some(text) => parse_date("--on", text)?,
        None => today,
    };
    let mut record = Record::new(date);
    record.task.clone_from(&args.task);
    record.net_weight_kg = args.weight;
    record.note.clone_from(&args.note);
    for text in &args.saw {
        record.signs.push(sign(text, colony)?);
    }
    if record == Record::new(date) {
        return Err(Error::NotEnoughData {
            field: "record".to_owned(),
            given: "nothing".to_owned(),
            needed: "a task that was done, --saw, --weight or --note".to_owned(),
        });
    }
    Ok(record)
}

/// `eggs@new`: what was seen, and at which box.
fn sign(text: &str, colony: &Colony) -> Result<Sign, Error> {
    let (name, at) = match text.rsplit_once('@') {
        Some((name, at)) => (name, Some(at)),
        None => (text, None),
    };
    let given = name.trim().to_lowercase().replace([' ', '-'], "_");
    let kinds = SIGNS.map(|sign| sign.kind);
    let Some(kind) = kinds.into_iter().find(|kind| word(kind) == given) else {
        return Err(Error::UnknownName {
            field: "--saw".to_owned(),
            given: name.to_owned(),
            allowed: kinds.map(|kind| word(&kind)).join(", "),
        });
    };
    let sign = Sign::new(kind);
    Ok(match at {
        Some(at) => sign.with_which(which(at, colony)?),
        None => sign,
    })
}

fn which(at: &str, colony: &Colony) -> Result<Which, Error> {
    let is = |name: &str| name.trim().to_lowercase() == at.trim().to_lowercase();
    let new_name = colony.daughter_name.as_deref();
    match at.trim().to_lowercase().as_str() {
        "old" | "parent" => Ok(Which::Parent),
        "new" | "daughter" => Ok(Which::Daughter),
        "both" | "pair" => Ok(Which::Pair),
        _ if is(&colony.name) => Ok(Which::Parent),
        _ if new_name.is_some_and(is) => Ok(Which::Daughter),
        _ => {
            let names = [Some(colony.name.as_str()), new_name];
            let words = ["old", "new", "both"].into_iter();
            Err(Error::UnknownName {
                field: "--saw, the box after @".to_owned(),
                given: at.to_owned(),
                allowed: words
                    .chain(names.into_iter().flatten())
                    .collect::<Vec<_>>()
                    .join(", "),
            })
        }
    }
}

/// What files call a value that is one word.
fn word(value: &impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

/// The file with one more record at the end of those of its plan, or of the plan of a hive.
fn with_record(text: &str, hive: Option<&str>, record: &Record) -> Result<String, String> {
    let mut file: DocumentMut = text
        .parse()
        .map_err(|e: TomlError| e.message().to_owned())?;
    let owner: &mut dyn TableLike = match hive {
        None => file.as_table_mut(),
        Some(name) => hive_table(&mut file, name).ok_or_else(|| format!("no hive {name}"))?,
    };
    let records = owner
        .entry("plan")
        .or_insert_with(|| Item::Table(Table::new()))
        .as_table_like_mut()
        .ok_or("plan is not a table")?
        .entry("records")
        .or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    let row = row(record);
    match records {
        Item::ArrayOfTables(tables) => tables.push(row.into_table()),
        Item::Value(Value::Array(array)) => array.push(row),
        _ => return Err("plan.records is not a list of tables".to_owned()),
    }
    Ok(file.to_string())
}

fn hive_table<'a>(file: &'a mut DocumentMut, name: &str) -> Option<&'a mut dyn TableLike> {
    let is = |table: &dyn TableLike| table.get("name").and_then(Item::as_str) == Some(name);
    match file.get_mut("hives")? {
        Item::ArrayOfTables(tables) => tables
            .iter_mut()
            .find(|table| is(*table))
            .map(|table| table as &mut dyn TableLike),
        Item::Value(Value::Array(array)) => array
            .iter_mut()
            .filter_map(Value::as_inline_table_mut)
            .find(|table| is(*table))
            .map(|table| table as &mut dyn TableLike),
        _ => None,
    }
}

fn row(record: &Record) -> InlineTable {
    let mut row = InlineTable::new();
    row.insert("date", date(record.date));
    if let Some(task) = &record.task {
        row.insert("task", task.into());
    }
    if !record.signs.is_empty() {
        let signs = record.signs.iter().map(|sign| {
            let mut row = InlineTable::new();
            row.insert("kind", word(&sign.kind).into());
            if let Some(which) = sign.which {
                row.insert("which", word(&which).into());
            }
            row
        });
        row.insert("signs", signs.collect());
    }
    if let Some(kg) = record.net_weight_kg {
        row.insert("net_weight_kg", kg.into());
    }
    if let Some(note) = &record.note {
        row.insert("note", note.into());
    }
    row
}

/// A date of TOML; those of which it has none, as text.
fn date(date: NaiveDate) -> Value {
    let text = date.to_string();
    match text.parse::<Datetime>() {
        Ok(date) => date.into(),
        Err(_) => text.into(),
    }
}

/// What was written down, and what comes next.
fn told(file: &Path, record: &Record, plan: &Plan) -> String {
    let mut out = Sheet::new(WIDE, Detail::default());
    let what = match record.task.as_deref().and_then(|id| plan.task(id)) {
        Some(task) => format!("{}, done on {}", task.title, date_words(record.date)),
        None => format!("seen on {}", date_words(record.date)),
    };
    out.line(0, &format!("Written to {}: {what}.", file.display()));
    let next = plan
        .tasks
        .iter()
        .filter(|task| task.state == TaskState::Planned)
        .min_by_key(|task| task.dates.best);
    if let Some(task) = next {
        let next = format!("Next: {}, {}.", date_words(task.dates.best), task.title);
        out.line(0, &next);
    }
    out.finish()
}
