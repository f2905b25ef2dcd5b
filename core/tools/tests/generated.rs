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

#[test]
fn the_page_of_methods() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/methods.md");
    let written = std::fs::read_to_string(file).unwrap();
    let now = apiary_almanac_tools::methods::markdown().unwrap();
    assert!(
        written == now,
        "docs/methods.md is out of date: cargo run -p apiary-almanac-tools --bin methods > docs/methods.md"
    );
}

#[test]
fn the_page_of_seasons() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/seasons.md");
    let written = std::fs::read_to_string(file).unwrap();
    let now = apiary_almanac_tools::season_table::season_table().unwrap();
    assert!(
        written == now,
        "docs/seasons.md is out of date: cargo run -p apiary-almanac-tools --bin season_table > docs/seasons.md"
    );
}

/// The sources of a table: its last column.
fn sources(page: &str) -> impl Iterator<Item = &str> {
    let rows = page
        .lines()
        .filter(|line| line.starts_with("| ") && !line.starts_with("|---"));
    rows.filter_map(|line| line.trim_end_matches(" |").rsplit(" | ").next())
}

/// A citation names a year and a work, or says what is missing of it.
fn is_full(source: &str) -> bool {
    let has_year = source
        .split(|letter: char| !letter.is_ascii_digit())
        .any(|number| number.len() == 4 && ("1900"..="2026").contains(&number));
    let honest = [
        "common practice, no source",
        "from memory",
        "year not seen",
        "to be confirmed",
        "set by",
        "the bee's own",
        "by the bee's own",
        "the setting",
        "our ",
        // Measured here, from the records of these.
        "Bureau of Meteorology",
    ];
    has_year || honest.iter().any(|words| source.contains(words))
}

#[test]
fn every_number_has_a_full_source() {
    for file in ["parameters.md", "methods.md"] {
        let path = format!("{}/../../docs/{file}", env!("CARGO_MANIFEST_DIR"));
        let page = std::fs::read_to_string(path).unwrap();
        let page = page.split("## Your own").next().unwrap();
        let heads = ["source", "from", "ways (the first is the default)"];
        let mut seen = 0;
        for source in sources(page).filter(|source| !heads.contains(source)) {
            assert!(is_full(source), "{file}: {source}");
            seen += 1;
        }
        assert!(seen > 100, "{file} {seen}");
    }
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
