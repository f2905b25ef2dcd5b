//! The command of the README: reads a keeper's file, prints season, tomorrow, mornings, cautions.

mod args;
mod keeper;
mod text;

use std::process::ExitCode;

use apiary_almanac::Error;
use apiary_almanac::outlook::outlook;
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
    let (heading, request) = keeper::read(args)?;
    let answer = outlook(&request)?;
    print!("{}", text::render(&heading, &answer));
    if let Some(file) = &args.json {
        let json = serde_json::to_string_pretty(&answer)? + "\n";
        std::fs::write(file, json).map_err(|source| Problem::File {
            file: file.display().to_string(),
            source,
        })?;
        println!("\nThe same as JSON: {}", file.display());
    }
    Ok(())
}
