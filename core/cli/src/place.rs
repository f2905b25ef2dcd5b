//! Where a refused value stands: which argument, or which line of the keeper's file.

use super::Problem;
use super::args::Input;
use apiary_almanac::error::Error;
use apiary_almanac::wire::line_of;

/// The keeper's file as it was read.
#[derive(Debug, Default)]
pub struct Source {
    pub file: String,
    pub text: String,
}

/// Names the place of an error where it can be told.
pub fn placed(error: Error, input: &Input, source: Option<&Source>) -> Problem {
    let name = error.field().rsplit('.').next().unwrap_or_default();
    let given = match name {
        "latitude_deg" => input.latitude.is_some().then_some("--latitude"),
        "longitude_deg" => input.longitude.is_some().then_some("--longitude"),
        "elevation_m" => input.elevation.is_some().then_some("--elevation"),
        "zone" => input.zone.is_some().then_some("--zone"),
        "today" => input.today.is_some().then_some("--today"),
        "bee" => input.bee.is_some().then_some("--bee"),
        _ => None,
    };
    if let Some(argument) = given {
        return Problem::RefusedAt {
            place: argument.to_owned(),
            error,
        };
    }
    match source {
        // The tables of the weather name their own file and line, a parser its text.
        Some(source) if !error.field().contains(", line ") && error.field() != source.file => {
            Problem::RefusedAt {
                place: match line_of(&source.text, error.field()) {
                    Some(line) => format!("{}, line {line}", source.file),
                    None => source.file.clone(),
                },
                error,
            }
        }
        _ => Problem::Refused(error),
    }
}
