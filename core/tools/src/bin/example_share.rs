//! Prints how many of the library's public functions have an example, module by module, and fails where
//! their share is less than that of the argument:
//!
//! ```sh
//! cargo run -p apiary-almanac-tools --bin example_share -- 60
//! ```
//!
//! A function is public when it is `pub` and either its module is, or the module above re-exports it, or
//! the type that it belongs to, by name.

use std::env;
use std::error::Error;
use std::fs;
use std::path::Path;

/// What is counted of one top module.
#[derive(Default)]
struct Count {
    functions: usize,
    with_example: usize,
    without: Vec<String>,
}

fn main() -> Result<(), Box<dyn Error>> {
    let least: f64 = env::args().nth(1).map_or(Ok(0.0), |text| text.parse())?;
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("../src");
    let top = fs::read_to_string(source.join("lib.rs"))?;
    let (mut functions, mut with_example) = (0, 0);
    for name in top
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'))
    {
        let mut count = Count::default();
        module(&source, name, None, &mut count)?;
        functions += count.functions;
        with_example += count.with_example;
        println!(
            "{name}: {} of {}; without: {}",
            count.with_example,
            count.functions,
            count.without.join(", ")
        );
    }
    let share = 100.0 * with_example as f64 / functions.max(1) as f64;
    println!("{with_example} of {functions} public functions have an example ({share:.0} %)");
    if share < least {
        return Err(format!("{share:.1} % have an example; at least {least} % are to").into());
    }
    Ok(())
}

/// Counts a module and those in it. Of a private one the names that the module above re-exports.
fn module(
    folder: &Path,
    name: &str,
    exported: Option<&[String]>,
    count: &mut Count,
) -> Result<(), Box<dyn Error>> {
    let (file, inside) = (folder.join(format!("{name}.rs")), folder.join(name));
    let text = fs::read_to_string(if file.exists() {
        file
    } else {
        inside.join("mod.rs")
    })?;
    let built = text
        .split("#[cfg(test)]\nmod tests {")
        .next()
        .unwrap_or_default();
    functions(built, exported, count);
    for line in built.lines() {
        if let Some(public) = line
            .strip_prefix("pub mod ")
            .and_then(|l| l.strip_suffix(';'))
        {
            module(&inside, public, exported, count)?;
        } else if let Some(private) = line.strip_prefix("mod ").and_then(|l| l.strip_suffix(';')) {
            module(&inside, private, Some(&re_exported(built, private)), count)?;
        }
    }
    Ok(())
}

/// The names of `pub use private::{...};`, but for those that the documentation hides.
fn re_exported(text: &str, private: &str) -> Vec<String> {
    let mut names = Vec::new();
    let start = format!("\npub use {private}::");
    let mut parts = text.split(&start);
    let mut before = parts.next().unwrap_or_default();
    for part in parts {
        let is_hidden = before.ends_with("#[doc(hidden)]");
        before = part;
        if is_hidden {
            continue;
        }
        let list = part.split(';').next().unwrap_or_default();
        let words = list.split(|c: char| !c.is_alphanumeric() && c != '_');
        names.extend(words.filter(|word| !word.is_empty()).map(str::to_owned));
    }
    names
}

fn functions(text: &str, exported: Option<&[String]>, count: &mut Count) {
    let is_public = |name: &str| {
        let kinds = ["struct", "enum", "trait"];
        let is_inner = kinds
            .iter()
            .any(|kind| text.contains(&format!("pub(crate) {kind} {name}")));
        !is_inner && exported.is_none_or(|names| names.iter().any(|n| n == name))
    };
    let (mut owner, mut has_example, mut hidden) = (None::<&str>, false, false);
    for line in text.lines() {
        let trimmed = line.trim_start();
        if line.starts_with("impl") {
            // Of `impl<'a> Weather<'a> {` the type.
            let after = line.trim_start_matches("impl");
            let after = match after.strip_prefix('<') {
                Some(generic) => generic.split_once("> ").map_or("", |(_, rest)| rest),
                None => after.trim_start(),
            };
            owner = after.split(['<', ' ']).next();
        } else if line == "}" {
            owner = None;
        }
        if trimmed.starts_with("///") {
            has_example |= trimmed.starts_with("/// ```");
            continue;
        }
        if trimmed.starts_with("#[") {
            hidden |= trimmed == "#[doc(hidden)]";
            continue;
        }
        let declared = trimmed
            .strip_prefix("pub fn ")
            .or_else(|| trimmed.strip_prefix("pub const fn "));
        if let Some(declared) = declared
            && !hidden
        {
            let name = declared.split(['(', '<']).next().unwrap_or_default();
            if is_public(owner.unwrap_or(name)) {
                count.functions += 1;
                if has_example {
                    count.with_example += 1;
                } else {
                    let path = owner.map_or(String::new(), |owner| format!("{owner}::"));
                    count.without.push(path + name);
                }
            }
        }
        (has_example, hidden) = (false, false);
    }
}
