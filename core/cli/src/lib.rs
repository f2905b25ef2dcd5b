//! The command: reads a keeper's file and answers one of its words, such as season, plan or agenda, or all of
//! it on one page. The program of the README and `python -m apiary_almanac` are both this one.
//!
//! Exit codes: 0 done, 1 the input was refused or something could not be read or
//! written, 2 the command line makes no sense.

mod agenda_text;
mod args;
mod dates_text;
mod ending;
mod folder;
mod keeper;
mod moves;
mod output;
mod place;
mod plan_text;
mod reading;
mod recording;
mod review_text;
#[cfg(test)]
mod screens;
mod sheet;
mod text;

use std::ffi::OsString;
use std::path::Path;

use chrono::{DateTime, Utc};
use clap::{CommandFactory, FromArgMatches};
use serde::Serialize;

use apiary_almanac::agenda::{Agenda, AgendaRequest, agenda};
use apiary_almanac::calendar::{CalendarPer, IcsSettings, MorningsPlace, mornings_ics, plans_ics};
use apiary_almanac::error::Error;
use apiary_almanac::outlook::{Outlook, outlook};
use apiary_almanac::plan::{Plan, plan};
use apiary_almanac::review::{Review, review};
// The derive of the keeper's file names it so.
use apiary_almanac::wire;
use args::{CalendarArgs, CommandLine, Form, Page, PlanArgs, Wanted};
use ending::Kind;
use keeper::{Asked, Extra};
use output::Writer;
use sheet::{NARROW, Sheet, WIDE, clean};

/// What a run of the command prints, and its exit code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Answer {
    /// 0 done, 1 refused, 2 wrong usage.
    pub code: u8,
    /// For standard output.
    pub out: String,
    /// For standard error.
    pub err: String,
}

/// For [`run`]: nothing to add to the help.
pub const NO_MORE: &str = "";

/// Runs the command.
///
/// `program` is how it was called, for the help; `now` is the moment of the run: the date when none
/// is given, and the stamp of calendars; `more` stands at the end of the help.
///
/// ```
/// use apiary_almanac_cli as cli;
/// let args = ["season", "--latitude=1.35", "--longitude=103.8", "--elevation=15",
///     "--zone=Asia/Singapore", "--today=2026-03-01"].map(Into::into);
/// let answer = cli::run("apiary-almanac", &args, chrono::DateTime::UNIX_EPOCH, cli::NO_MORE);
/// assert_eq!(answer.code, 0);
/// assert!(answer.out.contains("Good all year"));
/// ```
pub fn run(program: &str, args: &[OsString], now: DateTime<Utc>, more: &str) -> Answer {
    let command = CommandLine::command()
        .no_binary_name(true)
        .bin_name(program)
        .after_help(more.to_owned());
    let parsed = command
        .try_get_matches_from(args)
        .and_then(|matches| CommandLine::from_arg_matches(&matches));
    let line = match parsed {
        Ok(line) => line,
        Err(told) => {
            let text = told.render().to_string();
            let (out, err) = if told.use_stderr() {
                (String::new(), text)
            } else {
                (text, String::new())
            };
            return Answer {
                code: u8::try_from(told.exit_code()).unwrap_or(2),
                out,
                err,
            };
        }
    };
    let mut said = Vec::new();
    match answer(&line, now, &mut said) {
        Ok(out) => Answer {
            code: 0,
            out,
            err: said
                .iter()
                .map(|line| sheet::wrap(&clean(line), WIDE, 0) + "\n")
                .collect(),
        },
        Err(problem) => Answer {
            code: 1,
            out: String::new(),
            err: sheet::wrap(&clean(&problem.to_string()), WIDE, 0) + "\n",
        },
    }
}

/// What stops the command.
#[derive(Debug, thiserror::Error)]
enum Problem {
    /// The input was refused.
    #[error("{0}")]
    Refused(#[from] Error),
    /// The input was refused, and it is known where it stands.
    #[error("{place}: {error}")]
    RefusedAt { place: String, error: Error },
    /// A file could not be read or written.
    #[error("{file}: {source}")]
    File {
        file: String,
        source: std::io::Error,
    },
    /// A file is no text that could be read.
    #[error("{file}: {problem}")]
    NotRead { file: String, problem: String },
    /// Nothing was said of the place.
    #[error(
        "Where do the hives stand? Give a keeper's file, or --town NAME, or --latitude, --longitude and --zone."
    )]
    NoPlace,
    /// A file may not be written over, or has no place for what is to be written.
    #[error("{file}: {problem}")]
    NotWritten { file: String, problem: String },
    /// The answer could not be turned into JSON.
    #[error("the answer cannot be written as JSON: {0}")]
    Json(#[from] serde_json::Error),
}

/// The answer; `said` takes what goes beside it.
fn answer(
    line: &CommandLine,
    now: DateTime<Utc>,
    said: &mut Vec<String>,
) -> Result<String, Problem> {
    match &line.wanted {
        None => page(&line.page, now, said),
        Some(Wanted::Season(args)) => {
            let asked = keeper::read(&args.input, &Extra::default(), now, said)?;
            let answer = asked.told(outlook(&asked.outlook))?;
            printed(&args.form, &asked, said, &answer.season, || {
                text::season_page(&asked.heading, &answer, args.detail)
            })
        }
        Some(Wanted::Mornings(args)) => {
            let extra = Extra {
                mornings: args.mornings,
                method: None,
            };
            if let Some(path) = &args.out {
                ending::kind(path, &[Kind::Calendar])?;
            }
            let asked = keeper::read(&args.input, &extra, now, said)?;
            let answer = asked.told(outlook(&asked.outlook))?;
            let Some(path) = &args.out else {
                return printed(&args.form, &asked, said, &answer.mornings, || {
                    text::mornings_page(&asked.heading, &answer, args.detail)
                });
            };
            said.extend(asked.doubts());
            let mut place = MorningsPlace::new(answer.site, asked.place_name());
            let hive = asked.hive.as_ref();
            place.box_name = hive.filter(|hive| **hive != place.place).cloned();
            let mut settings = IcsSettings::new(now.into()).with_sequence(folder::version(now));
            settings.before = folder::calendar_before(path);
            let ics = mornings_ics(&answer.mornings, &place, &settings)?;
            write_calendar(path, &ics, &asked.writer(args.force), &args.form)
        }
        Some(Wanted::Agenda(args)) => {
            let asked = plans_asked(args, now, said)?;
            let answer = agenda_of(&asked)?;
            printed(&args.form, &asked, said, &answer, || {
                agenda_text::page(&answer, args.detail, args.all)
            })
        }
        Some(Wanted::Plan(args)) => {
            let asked = plans_asked(args, now, said)?;
            let answers = asked.planned()?;
            let text = |plan: &Plan| plan_text::page(plan, args.detail, args.all);
            listed(&args.form, &asked, said, &answers, text)
        }
        Some(Wanted::Review(args)) => {
            let asked = plans_asked(args, now, said)?;
            let plans = asked.plans_as_scheduled()?;
            let answers = plans.iter().map(|one| asked.told(review(one)));
            let answers = answers.collect::<Result<Vec<_>, _>>()?;
            let text = |review: &Review| review_text::page(review, args.detail, args.all);
            listed(&args.form, &asked, said, &answers, text)
        }
        Some(Wanted::Calendar(args)) => calendar(args, now, said),
        Some(Wanted::Move(args)) => {
            let asked = keeper::read(&args.input, &Extra::default(), now, said)?;
            let request = moves::of_move(args, &asked)?;
            let answer = asked.told(plan(&request))?;
            printed(&args.form, &asked, said, &answer, || {
                plan_text::page(&answer, args.detail, true)
            })
        }
        Some(Wanted::Parting(args)) => {
            let asked = keeper::read(&args.input, &Extra::default(), now, said)?;
            let request = moves::of_parting(args, &asked)?;
            let answer = asked.told(plan(&request))?;
            printed(&args.form, &asked, said, &answer, || {
                plan_text::page(&answer, args.detail, true)
            })
        }
        Some(Wanted::Dates(args)) => dates_text::dates(args, now, said),
        Some(Wanted::Record(args)) => recording::record(args, now, said),
    }
}

fn plans_asked<'a>(
    args: &'a PlanArgs,
    now: DateTime<Utc>,
    said: &mut Vec<String>,
) -> Result<Asked<'a>, Problem> {
    let extra = Extra {
        mornings: None,
        method: args.method.clone(),
    };
    keeper::read(&args.input, &extra, now, said)
}

fn agenda_of(asked: &Asked<'_>) -> Result<Agenda, Problem> {
    let mut request = AgendaRequest::new(asked.plans_needed()?);
    request.limits.clone_from(&asked.limits);
    asked.told(agenda(&request))
}

/// As [`printed`]; of a file that lists its hives a list.
fn listed<A: Serialize>(
    form: &Form,
    asked: &Asked<'_>,
    said: &mut Vec<String>,
    answers: &[A],
    text: impl Fn(&A) -> String,
) -> Result<String, Problem> {
    let text = || answers.iter().map(&text).collect::<Vec<_>>().join("\n");
    match answers {
        [answer] if !asked.listed => printed(form, asked, said, answer, text),
        _ => printed(form, asked, said, &answers, text),
    }
}

/// The answer as JSON, with the doubts of the place beside it, or as text, which has them.
fn printed<A: Serialize>(
    form: &Form,
    asked: &Asked<'_>,
    said: &mut Vec<String>,
    answer: &A,
    text: impl FnOnce() -> String,
) -> Result<String, Problem> {
    if form.json {
        said.extend(asked.doubts());
    }
    json_or(form, answer, text)
}

/// The answer as JSON or as text.
fn json_or<A: Serialize>(
    form: &Form,
    answer: &A,
    text: impl FnOnce() -> String,
) -> Result<String, Problem> {
    if form.json {
        Ok(serde_json::to_string_pretty(answer)? + "\n")
    } else {
        Ok(text())
    }
}

fn calendar(
    args: &CalendarArgs,
    now: DateTime<Utc>,
    said: &mut Vec<String>,
) -> Result<String, Problem> {
    let extra = Extra {
        mornings: None,
        method: args.method.clone(),
    };
    match (&args.out, &args.per) {
        (Some(folder), Some(_)) => ending::check_folder(folder)?,
        (Some(path), None) => ending::kind(path, &[Kind::Calendar]).map(drop)?,
        (None, _) => {}
    }
    let asked = keeper::read(&args.input, &extra, now, said)?;
    said.extend(asked.doubts());
    let planned = asked.planned()?;
    let sequence = args.sequence.unwrap_or_else(|| folder::version(now));
    let mut settings = IcsSettings::new(now.into()).with_sequence(sequence);
    if let (Some(folder), Some(per)) = (&args.out, &args.per) {
        let per = match per.as_str() {
            "hive" => CalendarPer::Hive,
            "keeper" => CalendarPer::Keeper,
            _ => CalendarPer::Club,
        };
        let files = folder::calendars(folder, &planned, per, settings)?;
        folder::write(folder, &files, &asked.writer(args.force))?;
        let names: Vec<_> = files.iter().map(|file| file.name.as_str()).collect();
        let written = format!("Written to {}: {}", folder.display(), names.join(", "));
        return json_or(&args.form, &names, || {
            sheet::wrap(&clean(&written), WIDE, 0) + "\n"
        });
    }
    settings.before = args.out.as_deref().and_then(folder::calendar_before);
    let ics = plans_ics(&planned, &settings)?;
    match &args.out {
        None => json_or(&args.form, &Calendar { ics: &ics }, || ics.clone()),
        Some(path) => write_calendar(path, &ics, &asked.writer(args.force), &args.form),
    }
}

#[derive(Serialize)]
struct Calendar<'a> {
    ics: &'a str,
}

fn write_calendar(
    path: &Path,
    ics: &str,
    writer: &Writer<'_>,
    form: &Form,
) -> Result<String, Problem> {
    writer.write(&[(path.to_owned(), ics)])?;
    json_or(form, &Calendar { ics }, || {
        format!("Written to {}\n", path.display())
    })
}

/// Everything on one page and, where a folder is named, as files.
fn page(args: &Page, now: DateTime<Utc>, said: &mut Vec<String>) -> Result<String, Problem> {
    let extra = Extra {
        mornings: args.mornings,
        method: args.method.clone(),
    };
    if let Some(folder) = &args.out {
        ending::check_folder(folder)?;
    }
    let asked = keeper::read(&args.input, &extra, now, said)?;
    let answer: Outlook = asked.told(outlook(&asked.outlook))?;
    let mut agenda = match asked.plans.as_slice() {
        [] => None,
        // A plan that is refused is refused by itself, so that its line in the file is named.
        _ => Some(agenda_of(&asked).or_else(|refused| asked.planned().and(Err(refused)))?),
    };
    // The agenda rests on the same plans; its text does not need its reviews.
    let reviews = agenda
        .as_mut()
        .map(|agenda| std::mem::take(&mut agenda.reviews));
    let plans: Vec<Plan> = reviews
        .into_iter()
        .flatten()
        .map(|review| review.plan)
        .collect();
    let mut out = Sheet::new(NARROW, args.detail);
    agenda_text::short_page(&mut out, &asked.heading, agenda.as_ref(), &answer, args.all);
    if args.detail.reasons() {
        out.set_width(WIDE);
        text::in_full(&mut out, &answer);
        for plan in &plans {
            plan_text::render(&mut out, plan, args.all);
        }
        text::cautions(&mut out, &answer.cautions);
    }
    let mut out = out.finish();
    if let Some(path) = &args.out {
        let files = folder::of(path, &asked, &answer, &plans, now)?;
        folder::write(path, &files, &asked.writer(args.force))?;
        let names: Vec<_> = files.iter().map(|file| file.name.as_str()).collect();
        let written = format!("Written to {}: {}", path.display(), names.join(", "));
        out += &format!("\n{}\n", sheet::wrap(&clean(&written), WIDE, 0));
    }
    Ok(out)
}
