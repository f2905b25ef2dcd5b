//! Plans, a review and a club's calendar.

use std::hint::black_box;

use apiary_almanac::Error;
use apiary_almanac::agenda::{AgendaRequest, agenda};
use apiary_almanac::calendar::{IcsSettings, plans_csv, plans_ics};
use apiary_almanac::method::method_names;
use apiary_almanac::plan::{Plan, PlanRequest, TogetherRequest, plan, plans_together};
use apiary_almanac::relocation::{PartingRequest, parting};
use apiary_almanac::review::review;
use apiary_almanac::wire::from_json;
use criterion::{Criterion, criterion_group, criterion_main};

const SITE: &str = r#""site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
    "zone": "Australia/Sydney"}"#;

fn request(method: &str, more: &str) -> Result<PlanRequest, Error> {
    let text = format!(
        r#"{{{SITE}, "today": "2026-09-13", "method": "{method}", "colony": {{"name": "Lantern",
            "net_weight_kg": 3.6, "months_since_division": 19, "strength": "strong"}}{more}}}"#
    );
    from_json("bench", &text)
}

fn benches(c: &mut Criterion) {
    if let Err(error) = all(c) {
        println!("no bench: {error}");
    }
}

fn all(c: &mut Criterion) -> Result<(), Error> {
    for method in method_names() {
        let request = request(method, "")?;
        c.bench_function(&format!("plan of a {method}"), |b| {
            b.iter(|| plan(black_box(&request)));
        });
    }
    for count in [2, 12] {
        let one = request("split", "")?;
        let plans: Vec<PlanRequest> = (0..count)
            .map(|hive| {
                let mut plan = one.clone();
                plan.colony.name = format!("Hive {hive}");
                plan
            })
            .collect();
        let together = TogetherRequest::new(plans);
        c.bench_function(&format!("{count} plans of a split together"), |b| {
            b.iter(|| plans_together(black_box(&together)));
        });
    }
    let mut reviewed = request(
        "split",
        r#", "records": [{"date": "2026-08-20", "task": "divide"},
            {"date": "2026-09-12", "signs": [{"kind": "pollen_in", "which": "pair"}]}]"#,
    )?;
    c.bench_function("review of a split", |b| {
        b.iter(|| review(black_box(&reviewed)));
    });
    let parted: PartingRequest = from_json(
        "bench",
        &format!(r#"{{{SITE}, "set_before": "2026-11-02"}}"#),
    )?;
    c.bench_function("parting", |b| b.iter(|| parting(black_box(&parted))));
    let hives = |count: usize| {
        let plans = (0..count).map(|hive| {
            let mut plan = reviewed.clone();
            plan.colony.name = format!("Hive {hive}");
            plan
        });
        AgendaRequest::new(plans.collect::<Vec<_>>()).with_brief(true)
    };
    let club = hives(200);
    let mut group = c.benchmark_group("agenda");
    group.sample_size(10);
    group.bench_function("200 colonies", |b| b.iter(|| agenda(black_box(&club))));
    group.finish();
    reviewed.records.clear();
    let plans = (0..50)
        .map(|hive| {
            reviewed.colony.name = format!("Hive {hive}");
            plan(&reviewed)
        })
        .collect::<Result<Vec<Plan>, Error>>()?;
    let stamp = apiary_almanac::Instant::parse_from_rfc3339("2026-09-13T08:00:00+10:00");
    let settings = IcsSettings::new(stamp.unwrap_or_default());
    c.bench_function("calendar of 50 plans", |b| {
        b.iter(|| plans_ics(black_box(&plans), &settings));
    });
    c.bench_function("table of 50 plans", |b| {
        b.iter(|| plans_csv(black_box(&plans)));
    });
    Ok(())
}

criterion_group!(plan_benches, benches);
criterion_main!(plan_benches);
