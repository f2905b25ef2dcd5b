//! First screens as they are shown: kept as files, so that somebody has read them.

use std::path::{Path, PathBuf};

use apiary_almanac::agenda::{AgendaRequest, agenda};
use apiary_almanac::wire::from_json;
use serde_json::Value;

use super::agenda_text::first_screen;
use super::sheet::{Detail, NARROW, Sheet};

/// The stories of `tests/vectors/agenda.json` whose first screens are kept.
const STORIES: [&str; 17] = [
    "day-18",
    "eduction-waits",
    "parted-and-moved-day-17",
    "settled-on-its-day",
    "queen-on-day-14",
    "no-eggs-on-its-day",
    "brood-given",
    "joined",
    "a-box-lost",
    "eve-of-a-stage",
    "dawn-of-a-stage",
    "shut-since-yesterday",
    "silence",
    "three-hives",
    "a-wish-in-doubt",
    "a-wish-at-risk",
    "a-wish-too-late",
];

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// With `WRITE_SCREENS=1` the files are written anew: then read them.
#[test]
fn first_screens_are_as_they_were_read() {
    let stories = std::fs::read_to_string(file("../../tests/vectors/agenda.json")).unwrap();
    let stories: Value = serde_json::from_str(&stories).unwrap();
    let rows = stories["rows"].as_array().unwrap();
    for name in STORIES {
        let row = rows.iter().find(|row| row["id"] == name).unwrap();
        let mut request = row["request"].clone();
        request.as_object_mut().unwrap().remove("ask");
        let request: AgendaRequest = from_json(name, &request.to_string()).unwrap();
        let mut sheet = Sheet::new(NARROW, Detail::default());
        first_screen(&mut sheet, &agenda(&request).unwrap());
        let screen = sheet.finish();
        let longest = screen.lines().map(|line| line.chars().count()).max();
        assert!(longest <= Some(40), "{name}: {longest:?} columns");
        assert!(screen.lines().count() <= 25, "{name}:\n{screen}");
        let kept = file(&format!("tests/screens/{name}.txt"));
        if std::env::var_os("WRITE_SCREENS").is_some() {
            std::fs::write(&kept, &screen).unwrap();
        }
        assert_eq!(std::fs::read_to_string(&kept).unwrap(), screen, "{name}");
    }
}
