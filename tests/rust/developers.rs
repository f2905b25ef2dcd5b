//! What DEVELOPERS.md says of the tree is so.
// Helpers of a test may unwrap like the test itself.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::path::Path;

fn text(file: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(file)).unwrap()
}

#[test]
fn the_list_of_modules_is_that_of_the_library() {
    let library = text("core/src/lib.rs");
    let modules: Vec<&str> = library
        .lines()
        .filter_map(|line| line.trim_start_matches("pub ").strip_prefix("mod "))
        .map(|name| name.trim_end_matches(';'))
        .collect();
    let document = text("DEVELOPERS.md");
    let list = document.split("```").nth(1).unwrap();
    let listed: Vec<&str> = list
        .lines()
        .skip(1)
        .filter_map(|line| line.split("  ").next())
        .flat_map(|names| names.split(", "))
        .filter(|name| !name.is_empty())
        .collect();
    assert_eq!(listed, modules);
}
