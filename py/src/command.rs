//! The command, for `python -m apiary_almanac`.

use std::ffi::OsString;
use std::time::SystemTime;

use apiary_almanac_cli as cli;
use pyo3::prelude::*;

/// Run the command: exit code, text for standard output, text for standard error.
///
/// `program` is how it was called, `more` stands at the end of the help.
#[pyfunction]
#[pyo3(signature = (program, arguments, more="", /))]
pub fn command(
    py: Python<'_>,
    program: &str,
    arguments: Vec<OsString>,
    more: &str,
) -> (u8, String, String) {
    let answer = py.detach(|| cli::run(program, &arguments, SystemTime::now().into(), more));
    (answer.code, answer.out, answer.err)
}
