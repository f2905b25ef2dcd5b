//! Every vector through the Rust door.

use std::collections::BTreeSet;
use std::fs;

use apiary_almanac::{Error, ask};
use apiary_almanac_tests::{Refusal, load, project};

fn answer(request: &str) -> Result<String, Refusal> {
    ask(request).map_err(|error| Refusal {
        code: error.code().to_owned(),
        field: error.field().to_owned(),
    })
}

#[test]
fn every_vector() {
    let (mut ids, mut faults) = (Vec::new(), Vec::new());
    for file in load().unwrap() {
        for row in &file.rows {
            let id = format!("{}/{}", file.name, row.id);
            if let Err(fault) = row.check(file.about.tolerance, &answer(&row.text())) {
                faults.push(format!("{id}: {fault}"));
            }
            ids.push(id);
        }
    }
    let folder = project().join("target/vectors-run");
    fs::create_dir_all(&folder).unwrap();
    fs::write(folder.join("rust.txt"), ids.join("\n") + "\n").unwrap();
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn every_code_is_raised() {
    let raised: BTreeSet<String> = load()
        .unwrap()
        .into_iter()
        .flat_map(|file| file.rows)
        .filter_map(|row| Some(row.expect_error?.code))
        .collect();
    let all: BTreeSet<String> = Error::CODES.map(str::to_owned).into();
    assert_eq!(raised, all);
}

#[test]
fn messages_stay_short() {
    for file in load().unwrap() {
        for row in &file.rows {
            if let Err(error) = ask(&row.text()) {
                let length = error.to_string().chars().count() + error.field().chars().count();
                assert!(length < 1500, "{}: {length} characters", row.id);
            }
        }
    }
}
