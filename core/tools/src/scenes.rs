//! What is drawn: the demo, and the cases that are hard to draw. Clubs, hives and temperatures are
//! invented.

use std::path::{Path, PathBuf};

use apiary_almanac::Site;
use apiary_almanac::calendar::{plan_picture, plans_poster, year_picture, year_poster};
use apiary_almanac::plan::{Plan, PlanRequest, plan};
use apiary_almanac::task::{Task, TaskKind};
use apiary_almanac::wire;
use apiary_almanac::year::{YearRequest, year};
use apiary_almanac::year_dates::{DatedPlace, YearDatesRequest, year_dates};
use chrono::Days;
use serde_json::{Value, json};

type Scene<T> = Result<T, Box<dyn std::error::Error>>;

/// The folder of the project.
pub fn project() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every picture with its file.
pub fn pictures() -> Scene<Vec<(String, String)>> {
    let mut list = Vec::new();
    for (name, request) in years()? {
        let request: YearRequest = serde_json::from_value(request)?;
        list.push((file(name), year_picture(&year(&request)?)));
    }
    for (name, plan) in plans()? {
        list.push((file(name), plan_picture(&plan)?));
    }
    for (name, sheets) in posters()? {
        for (number, svg) in (1..).zip(sheets) {
            list.push((file(&format!("{name}-{number}")), svg));
        }
    }
    Ok(list)
}

fn file(name: &str) -> String {
    if name.starts_with("demo") {
        format!("docs/demo/{}.svg", name.trim_start_matches("demo-"))
    } else {
        format!("core/tests/pictures/{name}.svg")
    }
}

fn demo(file: &str) -> Scene<String> {
    Ok(std::fs::read_to_string(
        project().join("docs/demo").join(file),
    )?)
}

fn years() -> Scene<Vec<(&'static str, Value)>> {
    let lismore = json!({"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
        "zone": "Australia/Sydney"});
    let climate = demo_climate()?;
    let steady = |low: f64, high: f64| json!({"normals": {"minimum_c": vec![low; 12], "maximum_c": vec![high; 12], "about": "invented"}});
    let place = |lat: f64, lon: f64, zone: &str| json!({"latitude_deg": lat, "longitude_deg": lon, "elevation_m": 20, "zone": zone});
    // Two rules that open and close several times a year.
    let cut_up = json!({"rules": [{"name": "dry", "source": "common practice, no source",
        "test": {"kind": "monthly_rain", "at_most_mm": 50}}]});
    let rainy = json!({"normals": {"minimum_c": vec![22; 12], "maximum_c": vec![31; 12],
        "rain_mm": [10, 90, 10, 90, 10, 90, 10, 90, 10, 90, 10, 90], "about": "invented"}});
    Ok(vec![
        (
            "demo-year",
            json!({"site": lismore, "today": "2026-09-13", "climate": climate,
            "bee": "tetragonula_carbonaria", "last_safe": plan(&demo_request()?)?.last_safe,
            "title": "Quoll Creek Little Bee Circle, Ines Marrow, Lantern"}),
        ),
        (
            "year-northern",
            json!({"site": place(27.1, -109.9, "America/Hermosillo"),
            "today": "2026-12-31", "first": "2026-03-01", "last_safe": "2026-08-30"}),
        ),
        (
            "year-all-year",
            json!({"site": place(1.35, 103.8, "Asia/Singapore"),
            "today": "2027-01-01", "climate": steady(24.5, 31.5)}),
        ),
        (
            "year-none",
            json!({"site": place(-28.81, 153.28, "Australia/Sydney"),
            "today": "2026-09-30", "climate": steady(4.0, 16.0)}),
        ),
        (
            "year-cut-up",
            json!({"site": place(14.17, 121.24, "Asia/Manila"),
            "today": "2026-03-30", "first": "2026-03-15", "climate": rainy, "season": cut_up}),
        ),
        (
            "year-polar",
            json!({"site": place(69.65, 18.96, "Europe/Oslo"), "today": "2026-06-30"}),
        ),
        (
            "year-long-title",
            json!({"site": lismore, "today": "2026-03-14", "bee": "generic_large",
            "title": "蜂の巣 <b>&amp; \u{1F41D} ".repeat(30)}),
        ),
    ])
}

/// Posters: of the demo, of many plans whose titles are hard to carry, of the year at four places.
fn posters() -> Scene<Vec<(&'static str, Vec<String>)>> {
    let demo = plan(&demo_request()?)?;
    let hard = ["plan-awkward", "plan-invented", "plan-long"];
    let plans = plans()?.into_iter();
    let mut awkward: Vec<Plan> = plans
        .filter(|(name, _)| hard.contains(name))
        .map(|(_, plan)| plan)
        .collect();
    for (number, plan) in awkward.iter_mut().enumerate() {
        plan.id = format!("plan-{number}");
    }
    let place = |name: &str, lat: f64, lon: f64, zone: &str| -> Scene<DatedPlace> {
        Ok(DatedPlace::new(name, Site::new(lat, lon, 20.0, zone)?))
    };
    let places = [
        place("North district", -24.9, 152.3, "Australia/Brisbane")?,
        place("South district", -30.3, 153.1, "Australia/Sydney")?,
        place(
            "A place with all seasons alike",
            1.35,
            103.8,
            "Asia/Singapore",
        )?,
        place("In the Sahel", 13.5, 2.1, "Africa/Niamey")?,
    ];
    let year = year_dates(&YearDatesRequest::new(places, "2027-01-01".parse()?))?;
    Ok(vec![
        ("demo-poster", plans_poster(&[demo], None)?),
        (
            "poster-awkward",
            plans_poster(&awkward, Some("蜂の巣 <b>&amp; long titles"))?,
        ),
        (
            "demo-poster-2027",
            year_poster(&year, Some("Quoll Creek Little Bee Circle, 2027")),
        ),
    ])
}

/// The climate of the demo.
fn demo_climate() -> Scene<Value> {
    let text = |file: &str| -> Scene<Value> { Ok(json!({"file": file, "text": demo(file)?})) };
    Ok(json!({"normals_csv": text("normals.csv")?, "forecast_csv": text("forecast.csv")?}))
}

/// What `docs/demo/apiary.toml` asks for.
fn demo_request() -> Scene<PlanRequest> {
    let request = json!({
        "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
            "zone": "Australia/Sydney", "east_horizon_deg": 3},
        "today": "2026-09-13", "bee": "tetragonula_carbonaria", "climate": demo_climate()?,
        "method": "split", "free_weekdays": ["saturday", "sunday", "wednesday"],
        "colony": {"name": "Lantern", "daughter_name": "Candle", "net_weight_kg": 3.6,
            "months_since_division": 19, "strength": "strong"},
        "keeper": "Ines Marrow", "club": "Quoll Creek Little Bee Circle",
    });
    Ok(serde_json::from_value(request)?)
}

fn plans() -> Scene<Vec<(&'static str, Plan)>> {
    let file = project().join("core/tests/pictures/invented-plan.json");
    let demo: Plan = wire::from_json("invented-plan.json", &std::fs::read_to_string(file)?)?;
    let task = |kind: TaskKind| {
        demo.tasks
            .iter()
            .find(|t| t.kind == kind)
            .cloned()
            .ok_or("no task")
    };
    let mut short = demo.clone();
    short.tasks = vec![task(TaskKind::Divide)?];
    let mut bare = demo.clone();
    (bare.tasks, bare.window, bare.last_safe) = (Vec::new(), None, None);
    let mut far = demo.clone();
    far.tasks = vec![task(TaskKind::NextDivision)?];
    // A small-bee colony that is walked far, with checks every week for a year.
    let mut long = demo.clone();
    let check = task(TaskKind::Check)?;
    for week in 0..52 {
        let mut one: Task = check.clone();
        one.id = format!("week-{week}");
        one.title = format!("Weekly look, week {}", week + 1);
        for date in [
            &mut one.dates.earliest,
            &mut one.dates.best,
            &mut one.dates.latest,
        ] {
            *date = *date + Days::new(7 * week);
        }
        long.tasks.push(one);
    }
    let mut awkward = demo.clone();
    let titles = [
        "x".repeat(200),
        "word ".repeat(60),
        "افحص الملكة اليوم من فضلك".to_owned(),
        "<script>alert(1)</script> & \"quotes\" ]]>".to_owned(),
        "\u{1F41D}".repeat(40),
        "蜂の巣を動かす".repeat(9),
        "a\u{0}b\u{7}c\nd\u{FFFF}".to_owned(),
        String::new(),
    ];
    for (task, title) in awkward.tasks.iter_mut().zip(titles) {
        task.title = title;
    }
    awkward.title = "A club with quite a long name <&> ".repeat(8);
    awkward.method = "m".repeat(120);
    // Today and the last safe date side by side.
    awkward.last_safe = Some(awkward.today + Days::new(1));
    Ok(vec![
        ("demo-plan", plan(&demo_request()?)?),
        ("plan-invented", demo),
        ("plan-short", short),
        ("plan-empty", bare),
        ("plan-far", far),
        ("plan-long", long),
        ("plan-awkward", awkward),
    ])
}
