//! The command of the README.

use std::io::Write;
use std::process::ExitCode;
use std::time::SystemTime;

use apiary_almanac_cli::{NO_MORE, run};

fn main() -> ExitCode {
    let args: Vec<_> = std::env::args_os().skip(1).collect();
    let answer = run("apiary-almanac", &args, SystemTime::now().into(), NO_MORE);
    // A reader that closes the pipe early, as `head` does, has what it wants.
    let _ = std::io::stdout().write_all(answer.out.as_bytes());
    let _ = std::io::stderr().write_all(answer.err.as_bytes());
    ExitCode::from(answer.code)
}
