use std::collections::HashSet;

use super::catalogue::{CATALOGUE, word};
use super::template::{Piece, pieces};
use super::value::Inside;
use super::*;
use crate::wire::from_json;

/// Values of a kind at the ends of what it can be, and one in between.
fn values_of(kind: &str) -> Vec<Value> {
    let numbers = |value: fn(f64) -> Value| {
        [
            0.0,
            -0.0,
            1.0,
            -1.0,
            0.004,
            2.5,
            1e-300,
            -273.15,
            1e300,
            f64::MAX,
            f64::MIN,
        ]
        .map(value)
        .to_vec()
    };
    let names = || {
        ["", "a", "{days}[x]|#", "“ü” \u{202e}\0\n"]
            .map(|value| Value::Name {
                value: value.into(),
            })
            .to_vec()
    };
    let rule = |value: &str| Value::Rule {
        value: value.to_owned(),
    };
    let word = |value: &'static str| Value::Word {
        value: value.into(),
    };
    let dates = [crate::civil::FIRST_DATE, crate::civil::LAST_DATE];
    match kind {
        "count" => numbers(|value| Value::Count { value }),
        "temperature" => numbers(|value| Value::Temperature { value }),
        "difference" => numbers(|value| Value::Difference { value }),
        "length" => numbers(|value| Value::Length { value }),
        "rain" => numbers(|value| Value::Rain { value }),
        "speed" => numbers(|value| Value::Speed { value }),
        "hours" => numbers(|value| Value::Hours { value }),
        "minutes" => numbers(|value| Value::Minutes { value }),
        "angle" => numbers(|value| Value::Angle { value }),
        "weight" => numbers(|value| Value::Weight { value }),
        "share" => numbers(|value| Value::Share { value }),
        "days, flying_days or degree_days" => [
            numbers(|value| Value::Days { value }),
            numbers(|value| Value::FlyingDays { value }),
            numbers(|value| Value::DegreeDays { value }),
        ]
        .concat(),
        "date" => dates.map(|value| Value::Date { value }).to_vec(),
        "moment" => ["1900-01-01T00:00:00Z", "2100-12-31T23:59:59.999+14:00"]
            .map(|text| Value::Moment {
                value: text.parse().unwrap(),
            })
            .to_vec(),
        "rule" => vec![rule("warm_enough"), rule(""), rule("my {own} [rule]")],
        "word" => vec![word("weekday.monday"), word("not a word")],
        "name" => names(),
        "title or word" => {
            let title = |value: &'static str| Value::Title {
                value: value.into(),
            };
            vec![title(""), title("{x}"), word("seen.queen")]
        }
        "reason" => vec![Value::Reason {
            value: Box::new(Inside(say::no_flying_day(say::long_enough(1.0)))),
        }],
        "list" => vec![
            Value::List { value: Vec::new() },
            Value::List {
                value: vec![Inside(say::on(crate::civil::FIRST_DATE)); 3],
            },
        ],
        other => panic!("no values for {other}"),
    }
}

fn reason(code: &'static str, values: Values) -> Reason {
    Reason {
        code: code.into(),
        values,
        given: None,
    }
}

#[test]
fn every_code_has_one_sentence_in_every_language() {
    let mut seen = HashSet::new();
    for line in CATALOGUE {
        assert!(seen.insert(line.code), "{} stands twice", line.code);
        for language in Language::ALL {
            assert!(!line.template(language).trim().is_empty(), "{}", line.code);
        }
    }
    assert!(CATALOGUE.len() > 100);
}

#[test]
fn every_sentence_uses_its_values_and_no_others() {
    for line in CATALOGUE {
        for language in Language::ALL {
            let mut named = HashSet::new();
            let mut look = vec![(line.template(language), false)];
            while let Some((template, in_brackets)) = look.pop() {
                for piece in pieces(template) {
                    match piece {
                        Piece::Words(words) => {
                            assert!(!words.contains(['{', '}', '[', ']', '|']), "{}", line.code);
                        }
                        Piece::Optional(inside) => {
                            assert!(!in_brackets, "{}: brackets in brackets", line.code);
                            look.push((inside, true));
                        }
                        Piece::Value(name, ..) | Piece::Forms(name, ..) => {
                            let known = line.values.iter().find(|(known, ..)| *known == name);
                            let (.., optional) =
                                known.unwrap_or_else(|| panic!("{}: what is {name}?", line.code));
                            assert!(in_brackets || !optional, "{}: {name}", line.code);
                            named.insert(name);
                        }
                    }
                }
            }
            for (name, kind, _) in line.values {
                let is_said = named.contains(name) || *kind == "rule";
                assert!(is_said, "{}: {name} is not said", line.code);
                let is_name = name.bytes().all(|b| b.is_ascii_lowercase());
                assert!(is_name && !name.is_empty(), "{}: {name}", line.code);
            }
        }
    }
}

#[test]
fn every_code_is_written_with_the_most_extreme_values() {
    for line in CATALOGUE {
        // Each value in turn, the others in the middle; those that may be missing also missing.
        let ordinary = |name: &'static str, kind: &str| (name, values_of(kind).swap_remove(0));
        for (turn, (name, kind, optional)) in line.values.iter().enumerate() {
            let missing = optional.then_some(None);
            for value in values_of(kind).into_iter().map(Some).chain(missing) {
                let mut values = Values::default();
                for (other, (name, kind, _)) in line.values.iter().enumerate() {
                    let (name, ordinary) = ordinary(name, kind);
                    match (other == turn, &value) {
                        (true, Some(value)) => values.put(name, value.clone()),
                        (true, None) => {}
                        (false, _) => values.put(name, ordinary),
                    }
                }
                let reason = reason(line.code, values);
                let text = reason.text();
                assert!(
                    !text.trim().is_empty() || *kind == "name" || *kind == "list",
                    "{text}"
                );
                assert!(!text.contains("-0 ") && !text.contains("NaN"), "{text}");
                let has_name = ["name", "title or word", "rule"].contains(kind);
                assert!(
                    has_name || !text.contains(['{', '}', '[', ']', '#']),
                    "{name}: {text}"
                );
                let json = serde_json::to_string(&reason).unwrap();
                assert_eq!(
                    from_json::<Reason>("reason", &json).unwrap(),
                    reason,
                    "{json}"
                );
            }
        }
        if line.values.is_empty() {
            let plain = reason(line.code, Values::default());
            assert_eq!(plain.text(), line.template(Language::English));
        }
    }
}

#[test]
fn forms_and_decimals() {
    let text = |count| say::forecast_climate(count).text();
    assert_eq!(text(1.0), "a forecast of 1 day");
    assert_eq!(text(0.0), "a forecast of 0 days");
    assert_eq!(text(1.001), "a forecast of 1 day");
    assert_eq!(text(1.25), "a forecast of 1.25 days");
    let slow = |value| say::slow(10.0, "-", Value::FlyingDays { value }).text();
    assert!(slow(1.0).contains("1 flying day here"));
    assert!(slow(2.4).contains("2 flying days here"));
    assert_eq!(say::rain(-0.2).text(), "0 mm of rain.");
    assert_eq!(say::rain(2.5).text(), "3 mm of rain.");
    let range = say::mild(2.0, 15.5, 30.0).text();
    assert_eq!(range, "2.0 h of flight at 16 to 30 °C.");
}

#[test]
fn parts_in_brackets_need_all_their_values() {
    assert_eq!(say::rain_unknown(None, None).text(), "Rain not known.");
    assert_eq!(
        say::rain_unknown(Some(4.0), Some(0.1)).text(),
        "Rain not known; at this time of year about 4 days in 10 are wet (0.1 mm or more)."
    );
}

#[test]
fn a_sentence_within_a_sentence_has_no_text_of_its_own() {
    let json = serde_json::to_string(&say::no_flying_day(say::too_dark())).unwrap();
    assert_eq!(
        json,
        r#"{"code":"no_flying_day","text":"Not a flying day: The sun does not rise high enough for these bees to fly.","values":{"why":{"kind":"reason","value":{"code":"too_dark"}}}}"#
    );
}

#[test]
fn what_was_given_stays() {
    let read = |text| from_json::<Reason>("reason", text);
    let own = read(r#"{"code": "mine", "text": "Because."}"#).unwrap();
    assert_eq!(own.text(), "Because.");
    let json = r#"{"code":"mine","text":"Because."}"#;
    assert_eq!(serde_json::to_string(&own).unwrap(), json);
    let old = read(r#"{"code": "long_enough", "text": "9.0 h of possible flight."}"#).unwrap();
    assert_eq!(old.text(), "9.0 h of possible flight.");
    let made =
        read(r#"{"code": "long_enough", "values": {"hours": {"kind": "hours", "value": 9}}}"#);
    assert_eq!(made.unwrap().text(), "9.0 h of possible flight.");
    for bad in [r#"{"code": "mine"}"#, r#"{"code": "long_enough"}"#] {
        let error = read(bad).unwrap_err();
        assert_eq!((error.code(), error.field()), ("inconsistent", "text"));
    }
}

#[test]
fn words_of_the_program_are_in_the_catalogue() {
    use crate::morning::Weekday;
    for day in 0..7 {
        let date = crate::civil::FIRST_DATE + chrono::Days::new(day);
        assert!(word(Language::English, Weekday::of(date).word()).is_some());
    }
    for rule in crate::season::default_rules(&crate::bee::built_in("generic_small").unwrap()) {
        assert!(word(Language::English, &format!("rule.{}", rule.name)).is_some());
    }
}

#[test]
fn an_error_says_the_same_in_rust_and_in_the_catalogue() {
    let text = || "a \"b\" {c} [d]".to_owned();
    let (field, given, allowed, problem) = (text(), text(), text(), text());
    let (file, column) = (text(), text());
    let all = [
        Error::OutOfRange {
            field: field.clone(),
            given: given.clone(),
            allowed: allowed.clone(),
        },
        Error::UnknownZone {
            given: given.clone(),
        },
        Error::SkippedDay {
            date: text(),
            zone: text(),
        },
        Error::Inconsistent {
            field: field.clone(),
            problem: problem.clone(),
        },
        Error::UnknownName {
            field: field.clone(),
            given: given.clone(),
            allowed: allowed.clone(),
        },
        Error::Unreadable {
            field: field.clone(),
            problem: problem.clone(),
        },
        Error::BadCell {
            file: file.clone(),
            line: 12_345,
            column,
            given: given.clone(),
            allowed: allowed.clone(),
        },
        Error::BadTable { file, problem },
        Error::TooLarge {
            field: field.clone(),
            given: given.clone(),
            allowed,
        },
        Error::NotEnoughData {
            field,
            given,
            needed: text(),
        },
    ];
    let mut codes: Vec<_> = all.iter().map(Error::code).collect();
    codes.sort_unstable();
    assert_eq!(codes, Error::CODES);
    for error in &all {
        let report = ErrorReport::from(error);
        assert_eq!(report.message, error.to_string());
        let code = format!("error_{}", error.code());
        assert!(catalogue::is_complete(&code, &report.values), "{code}");
    }
}
