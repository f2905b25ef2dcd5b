//! Generated documents are up to date.

#[test]
fn the_table_of_default_numbers() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/parameters.md");
    let written = std::fs::read_to_string(file).unwrap();
    let now = apiary_almanac::parameters::parameters_markdown();
    assert!(
        written == now,
        "docs/parameters.md is out of date: cargo run -p apiary-almanac-tools --bin parameters > docs/parameters.md"
    );
}

use apiary_almanac_tools::scenes;

#[test]
fn the_pictures() {
    for (file, now) in scenes::pictures().unwrap() {
        let written = std::fs::read_to_string(scenes::project().join(&file)).unwrap_or_default();
        assert!(
            written == now,
            "{file} is out of date: cargo run -p apiary-almanac-tools --bin pictures; then look at it"
        );
    }
}

#[test]
fn the_types_of_other_languages() {
    for (file, now) in apiary_almanac_tools::mirrors::files().unwrap() {
        let written = std::fs::read_to_string(&file).unwrap_or_default();
        assert!(
            written == now,
            "{} is out of date: cargo run -p apiary-almanac-tools --bin mirrors",
            file.display()
        );
    }
}
