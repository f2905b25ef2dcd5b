//! Writes a record into the keeper's file, and leaves the rest of the file as it is.

use std::io::ErrorKind;
use std::path::Path;

use apiary_almanac::Error;
use apiary_almanac::civil::date_words;
use apiary_almanac::civil::parse_date;
use apiary_almanac::plan::{Colony, Plan, PlanRequest, plan};
use apiary_almanac::record::{EntranceCount, Known, Outcome, Record, SIGNS, Sign, Traffic, kept};
use apiary_almanac::task::{TaskKind, TaskState, Which};
use chrono::{DateTime, NaiveDate, Utc};
use serde::Serialize;
use toml_edit::{
    ArrayOfTables, Datetime, DocumentMut, InlineTable, Item, Table, TableLike, TomlError, Value,
};

use super::Problem;
use super::args::{Input, RecordArgs};
use super::keeper::{self, Extra};
use super::output::{Writer, failed};
use super::reading::text_of;
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
    let record = of(args, request)?;
    let hive = asked.listed.then_some(request.colony.name.as_str());
    let opening = args.opened.then(|| opening(&record, request)).transpose()?;
    let mut request = request.clone();
    let mut text = text_to_go_on_from(&args.file, said)?;
    for record in opening.iter().chain([&record]) {
        request.records.push(record.clone());
        text = with_record(&text, hive, record).map_err(|problem| Problem::NotWritten {
            file: args.file.display().to_string(),
            problem,
        })?;
    }
    let planned = plan(&request)?;
    let writer = Writer {
        read: &[],
        force: false,
    };
    writer.write(&[(args.file.clone(), &text)])?;
    Ok(told(&args.file, &record, &planned))
}

/// The text of the keeper's file. One in another code than UTF-8 is written as UTF-8, as TOML 1.0 has it.
fn text_to_go_on_from(file: &Path, said: &mut Vec<String>) -> Result<String, Problem> {
    match std::fs::read_to_string(file) {
        Ok(text) => Ok(text),
        Err(problem) if problem.kind() == ErrorKind::InvalidData => {
            said.push(format!("{}: it is now UTF-8.", file.display()));
            // How it was read has been said when it was read for the plan.
            text_of(file, &mut Vec::new(), &mut Vec::new())
        }
        Err(source) => Err(failed(file, source)),
    }
}

fn of(args: &RecordArgs, request: &PlanRequest) -> Result<Record, Error> {
    let date = match &args.on {
        Some(text) => parse_date("--on", text)?,
        None => request.today,
    };
    let mut record = Record::new(date);
    record.task.clone_from(&args.task);
    if let Some(text) = &args.outcome {
        let (name, at) = at_box("--outcome", text, &request.colony)?;
        record.outcome = Some(named("--outcome", name, &Outcome::ALL)?);
        record.which = at;
    }
    for text in &args.saw {
        record.signs.push(sign(text, &request.colony)?);
    }
    record.counts = counts(&args.count, &request.colony)?;
    record.net_weight_kg = args.weight;
    record.note.clone_from(&args.note);
    if !record.says_something() && record.note.is_none() && args.strikes_out.is_none() {
        return Err(Error::NotEnoughData {
            field: "record".to_owned(),
            given: "nothing".to_owned(),
            needed: "a task that was done, --outcome, --saw, --count, --weight or --note"
                .to_owned(),
        });
    }
    record.id.clone_from(&args.id);
    record.corrects.clone_from(&args.corrects);
    record.strikes_out.clone_from(&args.strikes_out);
    record.known = known(&record, request)?;
    Ok(record)
}

/// That the entrance is open again after the move of a record.
fn opening(record: &Record, request: &PlanRequest) -> Result<Record, Error> {
    let plan = plan(request)?;
    let task = record.task.as_deref().unwrap_or_default();
    match plan.opening_after(task) {
        Some(opening) => Ok(Record::new(record.date).with_task(&opening.id)),
        None => Err(Error::Inconsistent {
            field: "--opened".to_owned(),
            problem: format!("{task} is no move before which the entrance is closed"),
        }),
    }
}

/// What was known of the season: of a division, or what the record that is corrected says.
fn known(record: &Record, request: &PlanRequest) -> Result<Option<Known>, Error> {
    if record.task.is_none() {
        return Ok(None);
    }
    if let Some(corrected) = &record.corrects {
        let earlier = kept(&request.records)?;
        let mut earlier = earlier.into_iter();
        let corrected = earlier.find(|one| one.name == *corrected);
        return Ok(corrected.and_then(|one| one.record.known));
    }
    let plan = plan(request)?;
    let task = record.task.as_deref().and_then(|id| plan.task(id));
    let divides = task.is_some_and(|task| task.kind == TaskKind::Divide);
    Ok(plan.known.filter(|_| divides))
}

/// `12 males_turned_out@new`: how many, what was seen, and at which box.
fn sign(text: &str, colony: &Colony) -> Result<Sign, Error> {
    let (name, which) = at_box("--saw", text, colony)?;
    let first = name.trim().split_once(' ');
    let counted = first.and_then(|(count, rest)| Some((count.parse::<u32>().ok()?, rest)));
    let (count, name) = match counted {
        Some((count, rest)) => (Some(count), rest),
        None => (None, name),
    };
    let mut sign = Sign::new(named("--saw", name, &SIGNS.map(|sign| sign.kind))?);
    (sign.which, sign.count) = (which, count);
    Ok(sign)
}

/// A name, and the box after the @.
fn at_box<'a>(
    field: &str,
    text: &'a str,
    colony: &Colony,
) -> Result<(&'a str, Option<Which>), Error> {
    Ok(match text.rsplit_once('@') {
        Some((name, at)) => (name, Some(which(field, at, colony)?)),
        None => (text, None),
    })
}

/// One of a list of words, with blanks or hyphens in place of the lines between them too.
fn named<T: Copy + Serialize>(field: &str, name: &str, all: &[T]) -> Result<T, Error> {
    let given = name.trim().to_lowercase().replace([' ', '-'], "_");
    let mut found = all.iter().filter(|one| word(one) == given);
    found.next().copied().ok_or_else(|| Error::UnknownName {
        field: field.to_owned(),
        given: name.to_owned(),
        allowed: all.iter().map(word).collect::<Vec<_>>().join(", "),
    })
}

/// `new=40,5,2` and `neighbour=90,30,4`: the neighbour's count stands beside each box's.
fn counts(texts: &[String], colony: &Colony) -> Result<Vec<EntranceCount>, Error> {
    let (mut boxes, mut neighbour) = (Vec::new(), None);
    for text in texts {
        let unreadable = || {
            Error::OutOfRange {
                field: "--count".to_owned(),
                given: format!("\"{text}\""),
                allowed: "a box, =, and one to three whole numbers: bees that came home, with pollen, with resin; \
                          such as new=40,5,2"
                    .to_owned(),
            }
        };
        let (at, numbers) = text.split_once('=').ok_or_else(unreadable)?;
        let numbers = numbers.split(',').map(|number| number.trim().parse());
        let numbers: Vec<u32> = numbers
            .collect::<Result<_, _>>()
            .map_err(|_| unreadable())?;
        let (&home, more) = numbers.split_first().ok_or_else(unreadable)?;
        let mut counted = Traffic::new(home);
        match *more {
            [] => {}
            [pollen] => counted.pollen = Some(pollen),
            [pollen, resin] => (counted.pollen, counted.resin) = (Some(pollen), Some(resin)),
            _ => return Err(unreadable()),
        }
        match at.trim().to_lowercase().as_str() {
            "neighbour" | "neighbor" => neighbour = Some(counted),
            _ => boxes.push(EntranceCount::new(which("--count", at, colony)?, counted)),
        }
    }
    if boxes.is_empty() && neighbour.is_some() {
        return Err(Error::NotEnoughData {
            field: "--count".to_owned(),
            given: "the neighbour's count only".to_owned(),
            needed: "the count of a box beside it, such as --count new=40".to_owned(),
        });
    }
    for count in &mut boxes {
        count.neighbour = neighbour;
    }
    Ok(boxes)
}

fn which(field: &str, at: &str, colony: &Colony) -> Result<Which, Error> {
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
                field: format!("{field}, the box"),
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
    let mut rest = match serde_json::to_value(record) {
        Ok(serde_json::Value::Object(rest)) => rest,
        _ => return row,
    };
    rest.remove("date");
    // In the order in which people read it; what is new in the engine comes after.
    for name in ORDER {
        if let Some(value) = rest.remove(name).as_ref().and_then(toml) {
            row.insert(name, value);
        }
    }
    for (name, value) in &rest {
        if let Some(value) = toml(value) {
            row.insert(name, value);
        }
    }
    row
}

const ORDER: [&str; 9] = [
    "id",
    "task",
    "outcome",
    "which",
    "signs",
    "counts",
    "net_weight_kg",
    "note",
    "known",
];

/// A value of JSON in TOML, which has no null.
fn toml(value: &serde_json::Value) -> Option<Value> {
    Some(match value {
        serde_json::Value::Null => return None,
        serde_json::Value::Bool(truth) => (*truth).into(),
        serde_json::Value::Number(number) => match number.as_i64() {
            Some(whole) => whole.into(),
            None => number.as_f64()?.into(),
        },
        serde_json::Value::String(text) => text.as_str().into(),
        serde_json::Value::Array(list) => Value::Array(list.iter().filter_map(toml).collect()),
        serde_json::Value::Object(fields) => {
            let fields = fields.iter();
            let row = fields.filter_map(|(name, value)| Some((name.as_str(), toml(value)?)));
            Value::InlineTable(row.collect())
        }
    })
}

/// A date of TOML; those of which it has none, as text.
fn date(date: NaiveDate) -> Value {
    let text = date.to_string();
    match text.parse::<Datetime>() {
        Ok(date) => date.into(),
        Err(_) => text.into(),
    }
}

/// What was written down, under which name, and what comes next.
fn told(file: &Path, record: &Record, plan: &Plan) -> String {
    let mut out = Sheet::new(WIDE, Detail::default());
    let task = record.task.as_deref().and_then(|id| plan.task(id));
    let day = date_words(record.date);
    let what = match (task, record.outcome, &record.strikes_out) {
        (_, _, Some(struck)) => format!("{struck} counts no more"),
        (Some(task), Some(Outcome::NotPossible), _) => {
            format!("{}, not possible on {day}", task.title)
        }
        (Some(task), ..) => format!("{}, done on {day}", task.title),
        (None, Some(outcome), _) => format!("{} on {day}", word(&outcome).replace('_', " ")),
        (None, None, _) => format!("seen on {day}"),
    };
    out.line(0, &format!("Written to {}: {what}.", file.display()));
    if let Some(kept) = plan.records.last() {
        let name = &kept.name;
        out.line(
            0,
            &format!("Its name: {name} (for --corrects or --strikes-out)."),
        );
    }
    let next = plan
        .tasks
        .iter()
        .filter(|task| task.state == TaskState::Planned)
        .min_by_key(|task| task.dates.best);
    if let Some(task) = next {
        let next = format!("Next: {} ({})", task.title, date_words(task.dates.best));
        out.line(0, &next);
    }
    out.finish()
}
