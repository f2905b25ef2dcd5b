//! Requests that nobody should send: every one ends in an answer or an error with a known code.

use apiary_almanac::{Error, ask};
use apiary_almanac_tests::load;
use proptest::prelude::*;
use serde_json::Value;

fn survives(request: &str) -> Result<(), TestCaseError> {
    match ask(request) {
        Ok(answer) => prop_assert!(serde_json::from_str::<Value>(&answer).is_ok(), "{answer}"),
        Err(error) => {
            prop_assert!(Error::CODES.contains(&error.code()));
            prop_assert!(!error.field().is_empty() && !error.to_string().is_empty());
        }
    }
    Ok(())
}

/// The requests of the vectors, as far as they are small, to be damaged.
fn good_requests() -> Vec<String> {
    let rows = load()
        .unwrap_or_default()
        .into_iter()
        .flat_map(|file| file.rows);
    rows.map(|row| row.text())
        .filter(|text| text.len() < 2000)
        .collect()
}

fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<f64>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        any::<String>().prop_map(Value::from),
        proptest::sample::select(vec!["Australia/Sydney", "UTC", "2026-10-04", "2100-12-31"])
            .prop_map(Value::from),
    ];
    leaf.prop_recursive(4, 32, 6, |inner| {
        let key = prop_oneof![
            any::<String>(),
            proptest::sample::select(vec!["ask", "site", "date", "latitude_deg", "zone"])
                .prop_map(str::to_owned),
        ];
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::hash_map(key, inner, 0..6)
                .prop_map(|map| Value::Object(map.into_iter().collect())),
        ]
    })
}

/// Puts `new` in the place of one value anywhere inside `value`.
fn replace_one(value: &mut Value, mut choice: usize, new: &Value) {
    let mut place = value;
    loop {
        let count = match place {
            Value::Object(map) => map.len(),
            Value::Array(list) => list.len(),
            _ => 0,
        };
        let turn = choice % (count + 1);
        choice /= count + 1;
        if turn == count {
            *place = new.clone();
            return;
        }
        place = match place {
            Value::Object(map) => match map.values_mut().nth(turn) {
                Some(value) => value,
                None => return,
            },
            Value::Array(list) => &mut list[turn],
            _ => return,
        };
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text(text in any::<String>()) {
        survives(&text)?;
    }

    #[test]
    fn any_value(value in any_json()) {
        survives(&value.to_string())?;
    }

    #[test]
    fn a_good_request_with_one_wrong_value(
        request in proptest::sample::select(good_requests()),
        choice in any::<usize>(),
        new in any_json(),
    ) {
        if let Ok(mut value) = serde_json::from_str::<Value>(&request) {
            replace_one(&mut value, choice, &new);
            survives(&value.to_string())?;
        }
    }

    #[test]
    fn a_good_request_with_one_wrong_letter(
        request in proptest::sample::select(good_requests()),
        at in any::<prop::sample::Index>(),
        letter in any::<char>(),
        remove in any::<bool>(),
    ) {
        let mut letters: Vec<char> = request.chars().collect();
        if !letters.is_empty() {
            let at = at.index(letters.len());
            if remove { letters.remove(at); } else { letters[at] = letter; }
            survives(&letters.into_iter().collect::<String>())?;
        }
    }
}
