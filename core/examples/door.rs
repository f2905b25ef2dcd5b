//! A door to another language: answers requests, one JSON text a line from standard input, one line
//! each; a refusal is printed as
//! `{"code": ..., "field": ..., "message": ...}`.
//!
//! ```sh
//! echo '{"ask": "about"}' | cargo run -q --example door
//! ```

use std::io::{self, BufRead, Write};

use apiary_almanac::{ErrorReport, ask};

fn main() -> io::Result<()> {
    let mut out = io::stdout().lock();
    for line in io::stdin().lock().lines() {
        match ask(&line?) {
            Ok(answer) => writeln!(out, "{answer}")?,
            Err(error) => {
                writeln!(
                    out,
                    "{}",
                    serde_json::to_string(&ErrorReport::from(&error))?
                )?;
            }
        }
    }
    Ok(())
}
