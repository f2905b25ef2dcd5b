//! Requests whose work would multiply are refused by a count, before or while it is done.
// Helpers of a test may unwrap like the test itself.
#![allow(clippy::unwrap_used, clippy::panic)]

use apiary_almanac::work::{MOST_WORK, counted};
use apiary_almanac::{Error, ask};
use serde_json::{Value, json};

fn step(id: &str, more: &Value) -> Value {
    let mut step = json!({"id": id, "kind": "check", "which": "pair", "title": "t", "why": "w",
        "source": "own"});
    for (key, value) in more.as_object().unwrap() {
        step[key] = value.clone();
    }
    step
}

/// A plan with a method of one's own: a division, what follows from it, the end of the rebuilding.
fn plan(rebuilt: &Value, more_steps: Vec<Value>, settings: &Value) -> Value {
    let mut steps = vec![
        step("divide", &json!({"season": "safe"})),
        step("rebuilt", rebuilt),
    ];
    steps.extend(more_steps);
    json!({"ask": "plan", "today": "2026-08-01", "colony": {"name": "Hive 7"},
        "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
            "zone": "Australia/Sydney"},
        "method": {"name": "own", "label": "Own", "about": "a", "source": "own",
            "new_queen": "daughter", "readiness": {"source": "own"}, "settings": settings,
            "steps": steps}})
}

fn no_days(source: &str) -> Value {
    json!({"unit": "days", "earliest": 0, "likely": 0, "latest": 0, "source": source})
}

fn after(waits: Vec<Value>) -> Value {
    json!({"rebuilt": true, "depends_on": waits})
}

fn on_divide(wait: &Value) -> Value {
    json!({"task": "divide", "wait": wait})
}

/// The field and the message of the refusal, and the work until then.
fn refused(request: &Value) -> (String, String, u64) {
    let (answer, work) = counted(|| ask(&request.to_string()));
    match answer {
        Err(error @ Error::TooLarge { .. }) => (error.field().to_owned(), error.to_string(), work),
        other => panic!("{:.300?}", other.map(|answer| answer.len())),
    }
}

#[test]
fn long_texts_times_many_repeats() {
    let option = |name: &str, bytes: usize| json!({"name": name, "words": "w", "source": "own", "wait": no_days(&"s".repeat(bytes))});
    let settings = |bytes| {
        json!([{"name": "n", "question": "q", "default": "a",
            "options": [option("a", bytes), option("b", bytes)]}])
    };
    let repeated = |count: usize| -> Vec<Value> {
        (0..count)
            .map(|i| {
                let more = json!({"repeat": {"times": 60, "by_setting": "n"},
                    "depends_on": [{"task": "divide"}]});
                step(&format!("s{i}"), &more)
            })
            .collect()
    };
    let rebuilt = after(vec![json!({"task": "divide", "by_setting": "n"})]);
    let (field, message, work) = refused(&plan(&rebuilt, repeated(90), &settings(900)));
    assert_eq!((field.as_str(), work), ("steps", 0));
    assert!(
        message.contains("5402") && message.contains("200"),
        "{message}"
    );
    let (field, message, _) = refused(&plan(&rebuilt, repeated(3), &settings(1001)));
    assert!(
        field.ends_with("source") && message.contains("1001"),
        "{field}: {message}"
    );
    // Within both limits the answer stays small.
    let answer = ask(&plan(&rebuilt, repeated(3), &settings(1000)).to_string()).unwrap();
    assert!(answer.len() < 1_000_000, "{} bytes", answer.len());
}

#[test]
fn chains_of_repeated_steps() {
    let chain = |count: usize| -> Vec<Value> {
        (0..count)
            .map(|i| {
                let before = if i + 1 < count {
                    format!("s{}", i + 1)
                } else {
                    "divide".to_owned()
                };
                let more = json!({"repeat": {"times": 60, "wait": no_days("own")},
                    "depends_on": [{"task": before}]});
                step(&format!("s{i}"), &more)
            })
            .collect()
    };
    let rebuilt = after(vec![on_divide(&no_days("own"))]);
    let (field, message, work) = refused(&plan(&rebuilt, chain(10), &json!([])));
    assert_eq!((field.as_str(), work), ("steps", 0));
    assert!(message.contains("602"), "{message}");
    let (answer, work) = counted(|| ask(&plan(&rebuilt, chain(3), &json!([])).to_string()));
    assert!(answer.is_ok() && work < MOST_WORK / 10, "{work} units");
}

#[test]
fn many_waits_for_one_step() {
    let warmth = json!({"unit": "degree_days", "base_c": 10, "earliest": 900, "likely": 950,
        "latest": 1000, "source": "own"});
    let waits = |count| {
        plan(
            &after(vec![on_divide(&warmth); count]),
            Vec::new(),
            &json!([]),
        )
    };
    let (field, message, work) = refused(&waits(21));
    assert_eq!((field.as_str(), work), ("steps[1].depends_on", 0));
    assert!(
        message.contains("21") && message.contains("20"),
        "{message}"
    );
    // As many as may be named, each of them dear: the work is counted.
    let (field, message, work) = refused(&waits(20));
    assert_eq!(field, "request");
    assert!(message.contains(&MOST_WORK.to_string()), "{message}");
    assert!(work > MOST_WORK && work < MOST_WORK + 1000, "{work} units");
    assert!(ask(&waits(2).to_string()).is_ok());
}

#[test]
fn long_names_of_files() {
    let name = "ä".repeat(20_000);
    let half = "month,minimum_c,maximum_c\n1,10,20\n";
    let files = |text: &str| {
        let file = json!({"file": name, "text": text});
        [
            json!({"normals_csv": file}),
            json!({"records_csv": file}),
            json!({"forecast_csv": file}),
            json!({"hours_files": [file]}),
        ]
    };
    for climate in ["", "x", half].iter().flat_map(|text| files(text)) {
        let request = json!({"ask": "flight", "first": "2026-07-01", "last": "2026-07-01",
            "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
                "zone": "Australia/Sydney"},
            "climate": climate});
        let error = ask(&request.to_string()).unwrap_err();
        let length = error.field().len() + error.to_string().len();
        assert!(length < 2000, "{length} bytes: {error:.200}");
    }
}

#[test]
fn many_rules() {
    let season = |rules: usize, first: &str, last: &str| {
        let rule = json!({"name": "r", "source": "own", "test": {"kind": "temperature",
            "quantity": "mean", "at_least_c": -20, "over_days": 120}});
        json!({"ask": "season", "first": first, "last": last,
            "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
                "zone": "Australia/Sydney"},
            "settings": {"rules": vec![rule; rules]}})
    };
    let (field, message, work) = refused(&season(10_000, "2026-01-01", "2026-12-31"));
    assert_eq!((field.as_str(), work), ("rules", 0));
    assert!(
        message.contains("10000 rules") && message.contains("20 rules"),
        "{message}"
    );
    assert!(ask(&season(20, "2026-01-01", "2026-12-31").to_string()).is_ok());
    assert!(ask(&season(20, "1900-01-01", "2100-12-31").to_string()).is_ok());
}

#[test]
fn years_of_records_over_years_of_dates() {
    let mut csv = "date,minimum_c,maximum_c\n".to_owned();
    let first: chrono::NaiveDate = "1960-01-01".parse().unwrap();
    for date in first.iter_days().take(50 * 365) {
        csv += &format!("{date},14,26\n");
    }
    let season = |last: &str| {
        json!({"ask": "season", "first": "2026-01-01", "last": last,
            "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
                "zone": "Australia/Sydney"},
            "climate": {"records_csv": {"file": "invented.csv", "text": csv}}})
    };
    assert!(ask(&season("2029-12-31").to_string()).is_ok());
    let (field, message, work) = refused(&season("2099-12-31"));
    assert_eq!((field.as_str(), work), ("first, last", 0));
    assert!(message.contains("years of records"), "{message}");
}

#[test]
fn everyday_requests_stay_far_below() {
    // A plan and its review over sixty years of daily records: the dearest that keepers ask for.
    let mut csv = "date,minimum_c,maximum_c,rain_mm\n".to_owned();
    let first: chrono::NaiveDate = "1960-01-01".parse().unwrap();
    for (day, date) in first.iter_days().take(60 * 365).enumerate() {
        let warmth = 6.0 * (day as f64 / 365.25 * std::f64::consts::TAU).cos();
        let change = f64::from((day * 7919 % 13) as u16) / 2.0;
        csv += &format!(
            "{date},{:.1},{:.1},{}\n",
            8.0 + warmth + change,
            19.0 + warmth + change,
            if day % 5 == 0 { 9 } else { 0 }
        );
    }
    for method in ["split", "eduction", "comb_donation", "transfer"] {
        let request = json!({"ask": "review", "today": "2026-08-01", "method": method,
            "colony": {"name": "Hive 7", "net_weight_kg": 3.6, "months_since_division": 20,
                "strength": "strong"},
            "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
                "zone": "Australia/Sydney"},
            "climate": {"records_csv": {"file": "invented.csv", "text": csv}}});
        let (answer, work) = counted(|| ask(&request.to_string()));
        println!("{method}: {work} units");
        assert!(answer.is_ok(), "{method}: {:?}", answer.err());
        assert!(work < MOST_WORK / 10, "{method}: {work} units");
    }
}
