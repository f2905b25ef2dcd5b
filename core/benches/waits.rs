//! Waiting times and relocations of one site.

use std::fmt::Write as _;
use std::hint::black_box;

use apiary_almanac::climate::{ClimateInput, MonthlyNormals, TextFile};
use apiary_almanac::relocation::{RelocationRequest, relocation};
use apiary_almanac::wait::{DateRange, Wait, WaitUnit, run};
use apiary_almanac::weather::Weather;
use apiary_almanac::{Climate, Error, Site, bee};
use chrono::NaiveDate;
use criterion::{Criterion, criterion_group, criterion_main};

fn records() -> String {
    let mut text = String::from("date,minimum_c,maximum_c\n");
    let days = NaiveDate::from_ymd_opt(1990, 1, 1).unwrap_or_default();
    for (index, date) in days.iter_days().take(30 * 365).enumerate() {
        let high = 20 + index % 7;
        let _ = writeln!(text, "{date},9,{high}");
    }
    text
}

fn benches(c: &mut Criterion) {
    if let Err(error) = all(c) {
        println!("no bench: {error}");
    }
}

fn all(c: &mut Criterion) -> Result<(), Error> {
    let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    let small = bee::built_in("generic_small")?;
    let cool = MonthlyNormals::new([8.0; 12], [19.0; 12], None, "invented")?;
    let cool_input = ClimateInput::default().with_normals(cool);
    let text = TextFile::new("invented.csv", records());
    let records_input = ClimateInput::default().with_records_csv(text);
    let cool = Climate::from_input(&site, &cool_input)?;
    let records = Climate::from_input(&site, &records_input)?;
    let start = DateRange::on(NaiveDate::from_ymd_opt(2030, 6, 21).unwrap_or_default());
    let flying = Wait::new(WaitUnit::FlyingDays, [20.0; 3], "invented")?;
    let unit = WaitUnit::DegreeDays {
        base_c: 12.0,
        upper_c: None,
    };
    let warm = Wait::new(unit, [200.0; 3], "invented")?;
    for (of, climate) in [("normals", &cool), ("thirty years", &records)] {
        for (what, wait) in [("20 flying days", &flying), ("200 degree-days", &warm)] {
            c.bench_function(&format!("{what} over {of}"), |b| {
                b.iter(|| {
                    run(
                        wait,
                        &start,
                        &Weather::new(black_box(&site), climate, &small),
                    )
                });
            });
        }
    }
    for (of, input) in [("normals", &cool_input), ("thirty years", &records_input)] {
        let mut request = RelocationRequest::new(site, start.best, 10.0);
        request.climate.clone_from(input);
        c.bench_function(&format!("twenty stages over {of}"), |b| {
            b.iter(|| relocation(black_box(&request)));
        });
    }
    Ok(())
}

criterion_group!(wait_benches, benches);
criterion_main!(wait_benches);
