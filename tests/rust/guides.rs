//! The examples in the guides can be read, and give what the guides say.

use apiary_almanac::climate::{DailyRecords, MonthlyNormals};
use apiary_almanac::method::Method;
use apiary_almanac::wait::{Wait, WaitUnit};
use apiary_almanac::{ask, wire};
use serde_json::Value;

/// The blocks of a language in a guide, in their order.
fn blocks<'a>(guide: &'a str, language: &str) -> Vec<&'a str> {
    let opening = format!("```{language}\n");
    let after = guide.split(opening.as_str()).skip(1);
    after.filter_map(|text| text.split("```").next()).collect()
}

#[test]
fn the_tables_of_temperatures() {
    let tables = blocks(include_str!("../../docs/climate.md"), "csv");
    assert_eq!(tables.len(), 2);
    let records = DailyRecords::from_csv("records.csv", tables[0]).unwrap();
    assert_eq!(records.days().len(), 3);
    // The guide shows two of the twelve months.
    let mut months = tables[1].to_owned();
    for month in 3..=12 {
        months += &format!("{month};15,5;25;60\n");
    }
    let normals = MonthlyNormals::from_csv("normals.csv", &months).unwrap();
    assert_eq!(normals.rain_mm().unwrap()[1], 175.0);
}

#[test]
fn the_method_of_ones_own() {
    let examples = blocks(include_str!("../../docs/methods.md"), "toml");
    let own = Method::from_toml("own.toml", examples[0]).unwrap();
    assert_eq!((own.name(), own.steps().len()), ("our_way", 3));
}

#[test]
fn the_staged_move() {
    let guide = include_str!("../../docs/relocation.md");
    let wait: Wait = wire::from_toml("guide", blocks(guide, "toml")[0]).unwrap();
    assert_eq!(wait.unit, WaitUnit::FlyingDays);
    let answer = ask(blocks(guide, "json")[0]).unwrap();
    let answer: Value = serde_json::from_str(&answer).unwrap();
    let stages = answer["course"]["stages"].as_array().unwrap();
    assert_eq!(stages.last().unwrap()["turned_so_far_deg"], 60.0);
}
