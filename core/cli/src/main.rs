//! The command of the README.

use std::io::{self, ErrorKind, Write};
use std::process::ExitCode;
use std::time::SystemTime;

use apiary_almanac_cli::{NO_MORE, run};

/// The answer could not be printed.
const NOT_PRINTED: u8 = 1;

fn main() -> ExitCode {
    let args: Vec<_> = std::env::args_os().skip(1).collect();
    let answer = run("apiary-almanac", &args, SystemTime::now().into(), NO_MORE);
    let printed = print(&answer.out);
    // Where this fails, nobody is left to be told.
    let _ = io::stderr().write_all(answer.err.as_bytes());
    match printed {
        Ok(()) => ExitCode::from(answer.code),
        // A reader that closes the pipe early, as `head` does, has what it wants.
        Err(problem) if problem.kind() == ErrorKind::BrokenPipe => ExitCode::from(answer.code),
        Err(problem) => {
            let _ = writeln!(io::stderr(), "standard output: {problem}");
            ExitCode::from(NOT_PRINTED)
        }
    }
}

fn print(text: &str) -> io::Result<()> {
    let mut out = io::stdout();
    out.write_all(text.as_bytes())?;
    out.flush()
}
