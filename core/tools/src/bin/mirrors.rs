//! Writes the types of requests and answers for Python and TypeScript, from those of the engine.

use std::process::ExitCode;

fn main() -> ExitCode {
    match apiary_almanac_tools::mirrors::files() {
        Ok(files) => {
            for (file, text) in files {
                if let Err(problem) = std::fs::write(&file, text) {
                    eprintln!("{}: {problem}", file.display());
                    return ExitCode::FAILURE;
                }
            }
            ExitCode::SUCCESS
        }
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::FAILURE
        }
    }
}
