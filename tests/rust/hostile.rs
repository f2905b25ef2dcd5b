//! Requests that nobody should send: every one ends in an answer or an error with a known code.

use apiary_almanac::{Error, ask};
use apiary_almanac_tests::load;
use proptest::prelude::*;
use serde_json::{Value, json};

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

/// Requests that reach all of planning, reviewing, relocating and drawing, to be damaged: too large
/// or too slow to stand among the vectors. The weather is invented.
fn whole_jobs() -> Vec<Value> {
    let site = json!({"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
        "zone": "Australia/Sydney"});
    let climate = json!({
        "normals": {"minimum_c": [19, 19, 18, 15, 11, 9, 7, 8, 11, 14, 16, 18],
            "maximum_c": [30, 29, 28, 26, 23, 20, 20, 22, 25, 27, 28, 29],
            "rain_mm": [150, 175, 185, 115, 105, 95, 65, 45, 45, 80, 100, 130],
            "wet_days": [14, 15, 16, 12, 12, 10, 8, 7, 8, 10, 11, 13], "about": "invented"},
        "forecast": [{"date": "2026-10-26", "minimum_c": 12, "maximum_c": 26, "rain_mm": 0},
            {"date": "2026-10-27", "minimum_c": 6, "maximum_c": 14, "rain_mm": 22.5}],
    });
    let mut jobs = Vec::new();
    for (method, start) in [
        ("split", "divide"),
        ("eduction", "set-on"),
        ("comb_donation", "donate"),
        ("transfer", "transfer"),
    ] {
        for ask in ["plan", "review"] {
            let mut job = json!({
                "ask": ask, "site": site, "today": "2026-10-25", "climate": climate,
                "method": method, "bee": {"based_on": "tetragonula_carbonaria"},
                "colony": {"name": "Hive 7", "daughter_name": "Hive 8", "net_weight_kg": 3.6,
                    "months_since_division": 20, "strength": "strong"},
                "wanted": "2026-11-10", "free_weekdays": ["saturday", "wednesday"],
                "season": {"bar_wettest_months": 1}, "mornings": {"margin_min": 20},
                "settings": {"choices": {"feeding": "yes"}, "opening_min_c": 21,
                    "flight_left_h": 0.5, "ranked_d": 30},
                "keeper": "Ines Marrow", "club": "Quoll Creek", "id": "hive-7-2026",
                "fixed": [{"task": "prepare", "date": "2026-10-30"}],
            });
            if ask == "review" {
                job["records"] = json!([
                    {"date": "2026-10-01", "task": start},
                    {"date": "2026-10-05", "net_weight_kg": 3.1, "note": "quiet",
                     "signs": [{"kind": "guards", "which": "pair"}, {"kind": "ants"}]},
                    {"date": "2026-10-24", "task": "pest-day-14",
                     "signs": [{"kind": "no_eggs", "which": "daughter"}]},
                ]);
            }
            jobs.push(job);
        }
    }
    let method: Value = ask(r#"{"ask": "methods"}"#)
        .ok()
        .and_then(|methods| serde_json::from_str(&methods).ok())
        .map(|methods: Value| methods[2].clone())
        .unwrap_or_default();
    jobs.push(
        json!({"ask": "plan", "site": site, "today": "2026-10-25", "method": method,
        "colony": {"name": "Hive 7"}}),
    );
    let plan: Value = ask(&jobs[0].to_string())
        .ok()
        .and_then(|plan| serde_json::from_str(&plan).ok())
        .unwrap_or_default();
    let stamp = "2026-10-25T08:00:00+11:00";
    jobs.push(
        json!({"ask": "calendar", "plans": [plan], "stamp": stamp, "sequence": 2,
        "name": "Club"}),
    );
    let mornings: Value = ask(
        &json!({"ask": "mornings", "site": site, "first": "2026-10-25", "days": 2}).to_string(),
    )
    .ok()
    .and_then(|mornings| serde_json::from_str(&mornings).ok())
    .unwrap_or_default();
    jobs.push(
        json!({"ask": "mornings_calendar", "site": site, "mornings": mornings, "place": "Garden",
        "box_name": "Hive 7", "stamp": stamp, "sequence": 2}),
    );
    jobs.push(json!({"ask": "plan_csv", "plans": [plan]}));
    jobs.push(json!({"ask": "plan_picture", "plan": plan}));
    jobs.push(json!({"ask": "poster", "plans": [plan]}));
    jobs.push(
        json!({"ask": "year_picture", "site": site, "today": "2026-10-25",
        "first": "2026-10-01", "last_safe": "2027-02-12", "title": "Hive 7", "climate": climate,
        "bee": "generic_large", "season": {"bar_wettest_months": 2}}),
    );
    for way in ["staged", "far_and_return", "at_once"] {
        jobs.push(
            json!({"ask": "relocation", "site": site, "first": "2026-10-26",
            "distance_m": 3, "way": way, "total_turn_deg": 60,
            "climate": climate, "settings": {"stage_m": 0.5, "far_stay": "three_weeks"},
            "mornings": {"coldest_work_c": 7}, "hive_weight_kg": 9.5}),
        );
    }
    let wait = json!({"unit": "degree_days", "base_c": 12, "upper_c": 33, "earliest": 10,
        "likely": 12, "latest": 14, "source": "invented"});
    jobs.push(
        json!({"ask": "parting", "site": site, "set_before": "2026-10-26", "climate": climate,
        "settings": {"apart_m": 2, "stage_m": 1, "between_stages": wait}}),
    );
    jobs.push(
        json!({"ask": "clock", "site": site, "wait": wait, "after": "2026-10-24",
        "climate": climate}),
    );
    jobs
}

/// Values that stand where they may, but at the edge of what makes sense.
fn edge_value() -> impl Strategy<Value = Value> {
    let numbers = [
        0.0, -0.0, 1.0, -1.0, 0.05, 1e-300, 89.999, -90.0, 180.0, 366.0, 1000.0, 1e6, 1e18, -1e308,
    ];
    let texts = [
        "",
        " ",
        "1900-01-01",
        "2100-12-31",
        "2011-12-30",
        "2028-02-29",
        "2026-02-29",
        "split",
        "divide",
        "egg-check",
        "parent",
        "eggs",
        "dawn",
        "flying_days",
        "UTC",
        "Pacific/Apia",
        "Pacific/Kiritimati",
        "Europe/Oslo",
        "\u{0}",
        "\u{202e}",
        "=1+1",
    ];
    prop_oneof![
        Just(Value::Null),
        Just(json!([])),
        Just(json!({})),
        proptest::sample::select(&[true, false][..]).prop_map(Value::from),
        proptest::sample::select(numbers.to_vec()).prop_map(Value::from),
        proptest::sample::select(texts.to_vec()).prop_map(Value::from),
        any_json(),
    ]
}

#[test]
fn the_whole_jobs_are_answered() {
    for job in whole_jobs() {
        if let Err(error) = ask(&job.to_string()) {
            panic!("{}: {error}", job["ask"]);
        }
    }
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
    fn a_whole_job_with_two_odd_values(
        mut job in proptest::sample::select(whole_jobs()),
        changes in prop::collection::vec((any::<usize>(), edge_value()), 1..3),
    ) {
        for (choice, new) in &changes {
            replace_one(&mut job, *choice, new);
        }
        survives(&job.to_string())?;
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
