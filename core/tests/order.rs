//! The modules stand in one order, that of `src/lib.rs`, and each uses only those above it.
// Helpers of a test may unwrap like the test itself.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::fs;
use std::path::{Path, PathBuf};

/// A `use` line or a path that names a module, and where it stands.
struct Use {
    from: String,
    to: String,
    place: String,
}

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

/// The top modules, in their order.
fn order() -> Vec<String> {
    let text = fs::read_to_string(source().join("lib.rs")).unwrap();
    text.lines()
        .filter_map(|line| line.trim_start_matches("pub ").strip_prefix("mod "))
        .map(|name| name.trim_end_matches(';').to_owned())
        .collect()
}

/// The Rust files of a folder and of all folders in it.
fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
}

/// The modules that only tests have: they may look anywhere. Those of a module stand in `tests.rs` or in a folder
/// `tests`, others behind `#[cfg(test)]`.
fn test_files(all: &[PathBuf]) -> Vec<PathBuf> {
    let of_tests = |file: &&PathBuf| {
        let inside = file.strip_prefix(source()).unwrap();
        let mut names = inside.components().map(|part| part.as_os_str());
        names.any(|name| name == "tests" || name == "tests.rs")
    };
    let mut found: Vec<_> = all.iter().filter(of_tests).cloned().collect();
    for file in all {
        let text = fs::read_to_string(file).unwrap();
        let mut lines = text.lines().map(str::trim);
        while let Some(line) = lines.next() {
            if line != "#[cfg(test)]" {
                continue;
            }
            let name = lines.next().and_then(|next| {
                let name = next.rsplit_once("mod ")?.1.strip_suffix(';')?;
                Some(format!("{name}.rs"))
            });
            if let Some(name) = name {
                found.push(file.with_file_name(name));
            }
        }
    }
    found
}

/// The lines that are built into the library: no comments, and no tests, which stand last.
fn built(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let tests = text.find("#[cfg(test)]\nmod tests {");
    text[..tests.unwrap_or(text.len())]
        .lines()
        .enumerate()
        .map(|(index, line)| (index + 1, line.trim()))
        .filter(|(_, line)| !line.starts_with("//"))
}

/// Every `crate::name` of the library.
fn uses() -> Vec<Use> {
    let root = source();
    let mut all = Vec::new();
    files(&root, &mut all);
    let tests = test_files(&all);
    let mut found = Vec::new();
    for file in all.iter().filter(|file| !tests.contains(file)) {
        let inside = file.strip_prefix(&root).unwrap();
        let first = inside.components().next().unwrap().as_os_str();
        let from = first.to_str().unwrap().trim_end_matches(".rs");
        let text = fs::read_to_string(file).unwrap();
        for (line, words) in built(&text) {
            for path in words.split("crate::").skip(1) {
                let end = path.find(|c: char| !c.is_alphanumeric() && c != '_');
                found.push(Use {
                    from: from.to_owned(),
                    to: path[..end.unwrap_or(path.len())].to_owned(),
                    place: format!("{}:{line}: {words}", inside.display()),
                });
            }
        }
    }
    found
}

#[test]
fn a_module_uses_only_those_above_it() {
    let order = order();
    let place = |name: &str| order.iter().position(|module| module == name);
    let uses = uses();
    assert!(order.len() > 20 && uses.len() > 200, "too little was read");
    let mut wrong = Vec::new();
    for Use {
        from,
        to,
        place: at,
    } in uses.iter().filter(|used| used.from != "lib")
    {
        match (place(from), place(to)) {
            (Some(user), Some(used)) if used <= user => {}
            (Some(_), Some(_)) => wrong.push(format!("{from} stands above {to}: {at}")),
            // What the top re-exports is named by its module, so that the order can be read.
            _ => wrong.push(format!("{from} or {to} is no module of src/lib.rs: {at}")),
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}
