//! A hundred thousand random sites, zones and dates against the crate solar-positioning (its own
//! implementation of NREL's Solar Position Algorithm and its own event search).
#![allow(missing_docs, clippy::unwrap_used)]

use apiary_almanac::civil::{FIRST_DATE, LAST_DATE, civil_noon};
use apiary_almanac::{Ephemeris, Site};
use chrono::{DateTime, Days, NaiveDate, TimeDelta, Utc};
use solar_positioning::{Horizon, Location, SolarEvents, delta_t};

const PAIRS: u64 = 100_000;
const ALTITUDES_DEG: [f64; 5] = [-50.0 / 60.0, -6.0, -12.0, -18.0, 5.0];
/// Within this of the day's highest or lowest altitude, whether there is an event is a matter of the
/// fourth digit, and of where a day is cut.
const GRAZING_DEG: f64 = 0.15;

/// SplitMix64 (Steele, Lea & Flood 2014): the same cases on every machine.
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, bound: usize) -> usize {
        (self.next() % bound as u64) as usize
    }
}

#[derive(Default)]
struct Tally {
    steep_s: Vec<f64>,
    slow_s: Vec<f64>,
    noon_s: Vec<f64>,
    skipped_days: usize,
    grazing: usize,
    problems: Vec<String>,
}

fn julian(at: DateTime<Utc>) -> f64 {
    at.timestamp_millis() as f64 / 86_400_000.0 + 2_440_587.5
}

fn seconds(a: DateTime<Utc>, julian_day: f64) -> f64 {
    ((julian(a) - julian_day) * 86_400.0).abs()
}

fn compare(ephemeris: &Ephemeris, random: &mut Random, tally: &mut Tally) {
    let zones = chrono_tz::TZ_VARIANTS;
    let zone = zones[random.below(zones.len())];
    let latitude_deg = random.unit() * 180.0 - 90.0;
    let longitude_deg = random.unit() * 360.0 - 180.0;
    let site = Site::new(latitude_deg, longitude_deg, 0.0, zone.name()).unwrap();
    let days = (LAST_DATE - FIRST_DATE).num_days() as usize + 1;
    let date: NaiveDate = FIRST_DATE + Days::new(random.below(days) as u64);
    let altitude_deg = ALTITUDES_DEG[random.below(ALTITUDES_DEG.len())];
    let case = format!("{date} {zone} {latitude_deg} {longitude_deg} at {altitude_deg}");

    let clock_noon = match civil_noon(date, zone) {
        Ok(noon) => noon,
        Err(error) => {
            assert_eq!(error.code(), "skipped_day", "{case}");
            assert!(
                ephemeris.crossing(&site, date, altitude_deg).is_err(),
                "{case}"
            );
            tally.skipped_days += 1;
            return;
        }
    };
    let noon = ephemeris.solar_noon(&site, date).unwrap().to_utc();
    let ours = ephemeris.crossing(&site, date, altitude_deg).unwrap();

    let theirs = SolarEvents::new();
    let place = Location {
        latitude: latitude_deg,
        longitude: longitude_deg,
    };
    let years = 1970.0 + noon.timestamp() as f64 / 31_556_952.0;
    let delta_t_s = delta_t::estimate(years).unwrap();
    let (start, end) = (julian(noon) - 0.5, julian(noon) + 0.5);

    let transit = theirs
        .next_transit_from_julian(start, end, longitude_deg, delta_t_s)
        .unwrap();
    match transit {
        Some(transit) => tally.noon_s.push(seconds(noon, transit)),
        None => tally.problems.push(format!("no noon: {case}")),
    }
    if (noon - clock_noon).abs() > TimeDelta::seconds(43_220) {
        tally.problems.push(format!("another day's noon: {case}"));
    }

    let altitude_at = |at: DateTime<Utc>| ephemeris.position(&site, at).unwrap().altitude_deg;
    let half = TimeDelta::hours(12);
    let turning = [noon - half, noon, noon + half].map(altitude_at);
    if turning
        .iter()
        .any(|turn| (turn - altitude_deg).abs() < GRAZING_DEG)
    {
        tally.grazing += 1;
        return;
    }
    // Theirs is the altitude at the surface; the difference is the parallax, 8.794" at 1 au.
    let year_turns = (years.fract() - 0.01) * std::f64::consts::TAU;
    let radius_au = 1.0 - 0.0167 * year_turns.cos();
    let parallax_deg = 8.794 / 3600.0 / radius_au * altitude_deg.to_radians().cos();
    let horizon = Horizon::Custom(altitude_deg - parallax_deg);
    let rise = theirs
        .next_rise_from_julian(start, end, place, delta_t_s, horizon)
        .unwrap();
    let set = theirs
        .next_set_from_julian(start, end, place, delta_t_s, horizon)
        .unwrap();

    for (name, mine, other) in [("rise", ours.rise(), rise), ("set", ours.set(), set)] {
        let (mine, other) = match (mine, other) {
            (None, None) => continue,
            (Some(mine), Some(other)) => (mine.to_utc(), other),
            _ => {
                tally
                    .problems
                    .push(format!("{name} {mine:?} against {other:?}: {case}"));
                continue;
            }
        };
        let minute = TimeDelta::seconds(30);
        let deg_per_h = (altitude_at(mine + minute) - altitude_at(mine - minute)).abs() * 60.0;
        let error_s = seconds(mine, other);
        if latitude_deg.abs() <= 66.0 && deg_per_h > 5.0 {
            tally.steep_s.push(error_s);
        } else {
            tally.slow_s.push(error_s);
            // Where the sun moves less than half a degree an hour, an angle is compared.
            if error_s > 2.0 && error_s * deg_per_h / 3600.0 > 0.0003 {
                tally
                    .problems
                    .push(format!("{name} {error_s} s at {deg_per_h} deg/h: {case}"));
            }
        }
    }
}

fn summary(name: &str, values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    let max = values[values.len() - 1];
    let p99 = values[values.len() * 99 / 100];
    println!(
        "{name}: {} compared, p99 {p99:.3} s, max {max:.3} s",
        values.len()
    );
    max
}

#[test]
fn events_agree_with_another_implementation() {
    let ephemeris = Ephemeris::covering(FIRST_DATE, LAST_DATE).unwrap();
    let threads = std::thread::available_parallelism().map_or(1, usize::from) as u64;
    let mut all = Tally::default();
    std::thread::scope(|scope| {
        let workers: Vec<_> = (0..threads)
            .map(|worker| {
                let ephemeris = &ephemeris;
                scope.spawn(move || {
                    let mut tally = Tally::default();
                    // A seed for each case, so that the cases do not depend on the threads.
                    for case in (worker..PAIRS).step_by(threads as usize) {
                        compare(ephemeris, &mut Random(case), &mut tally);
                    }
                    tally
                })
            })
            .collect();
        for worker in workers {
            let tally = worker.join().unwrap();
            all.steep_s.extend(tally.steep_s);
            all.slow_s.extend(tally.slow_s);
            all.noon_s.extend(tally.noon_s);
            all.skipped_days += tally.skipped_days;
            all.grazing += tally.grazing;
            all.problems.extend(tally.problems);
        }
    });
    println!(
        "{} grazing left out, {} skipped days",
        all.grazing, all.skipped_days
    );
    let noon = summary("solar noon", &mut all.noon_s);
    let steep = summary("steep, up to 66°", &mut all.steep_s);
    summary("slow or beyond 66°", &mut all.slow_s);
    let shown = &all.problems[..all.problems.len().min(20)];
    assert!(
        all.problems.is_empty(),
        "{} problems: {shown:#?}",
        all.problems.len()
    );
    assert!(noon < 0.1 && steep < 0.1);
    assert!(all.steep_s.len() > 80_000 && all.slow_s.len() > 10_000);
}
