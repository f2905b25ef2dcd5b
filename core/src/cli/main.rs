//! The command of the README: reads a keeper's file, prints season, tomorrow, mornings, cautions
//! and, where one is asked for, the plan of a new colony; writes the same as files.

mod args;
mod files;
mod keeper;
mod plan_text;
mod text;

use std::process::ExitCode;
use std::time::SystemTime;

use apiary_almanac::Error;
use apiary_almanac::outlook::outlook;
use apiary_almanac::plan::plan;
use clap::Parser;

use args::Args;

fn main() -> ExitCode {
    match run(&Args::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("{}", text::wrap(&problem.to_string(), 80, 0));
            ExitCode::from(problem.exit_code())
        }
    }
}

/// What stops the command.
#[derive(Debug, thiserror::Error)]
enum Problem {
    /// The input was refused.
    #[error("{0}")]
    Refused(#[from] Error),
    /// The keeper's file was refused.
    #[error("{file}: {error}")]
    InFile { file: String, error: Error },
    /// A file could not be read or written.
    #[error("{file}: {source}")]
    File {
        file: String,
        source: std::io::Error,
    },
    /// The answer could not be turned into JSON.
    #[error("the answer cannot be written as JSON: {0}")]
    Json(#[from] serde_json::Error),
}

impl Problem {
    /// 2 for input that was refused, 1 for everything else.
    fn exit_code(&self) -> u8 {
        match self {
            Problem::Refused(_) | Problem::InFile { .. } => 2,
            _ => 1,
        }
    }
}

fn run(args: &Args) -> Result<(), Problem> {
    let asked = keeper::read(args)?;
    let answer = outlook(&asked.outlook)?;
    let plan = asked.plan.as_ref().map(plan).transpose()?;
    print!("{}", text::render(&asked.heading, &answer));
    if let Some(plan) = &plan {
        print!("{}", plan_text::render(plan));
    }
    if let Some(folder) = &args.out {
        let files = files::of(&asked, &answer, plan.as_ref(), SystemTime::now().into())?;
        files::write(folder, &files)?;
        let names: Vec<_> = files.iter().map(|file| file.name).collect();
        let written = format!("Written to {}: {}", folder.display(), names.join(", "));
        println!("\n{}", text::wrap(&written, 80, 0));
    }
    Ok(())
}
