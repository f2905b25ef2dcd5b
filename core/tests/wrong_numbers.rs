//! Numbers that cannot be, through every way that Rust has of handing them in.
#![allow(clippy::unwrap_used, clippy::field_reassign_with_default)]

use apiary_almanac::bee::{self, BeeOverrides};
use apiary_almanac::climate::ForecastDay;
use apiary_almanac::climate::grid::DailySpread;
use apiary_almanac::flight::{DayLimitOverrides, DayLimits};
use apiary_almanac::morning::{MorningOverrides, MorningSettings};
use apiary_almanac::plan::{Colony, PlanOverrides, PlanRequest, PlanSettings, plan};
use apiary_almanac::relocation::{
    PartingOverrides, PartingRequest, RelocationOverrides, RelocationRequest, RelocationSettings,
    StageOverrides, parting, relocation,
};
use apiary_almanac::season::{Rule, RuleTest, SeasonSettings, wet_days_rule};
use apiary_almanac::wait::{self, DateRange, Wait, WaitUnit};
use apiary_almanac::weather::Weather;
use apiary_almanac::{Bee, Climate, Error, Forecast, LightThreshold, MonthlyNormals, Site};
use chrono::NaiveDate;

/// No number of the engine can be one of these, but for degrees of an entrance's turn.
const WRONG: [f64; 4] = [f64::INFINITY, f64::NEG_INFINITY, f64::NAN, -300.0];

fn refused<T>(what: &str, number: f64, answer: Result<T, Error>) {
    let code = answer.err().map(|error| error.code());
    assert!(
        matches!(code, Some("out_of_range" | "inconsistent")),
        "{what} = {number}: {code:?}"
    );
}

/// Puts each wrong number into each of the fields of a struct that are named.
macro_rules! each {
    ($own:ty, $resolve:expr, [$($field:ident),+ $(,)?]) => {
        for number in WRONG {
            $({
                let mut own = <$own>::default();
                own.$field = Some(number);
                refused(stringify!($field), number, $resolve(&own));
            })+
        }
    };
}

fn lismore() -> Site {
    Site::new(-28.81, 153.28, 12.0, "Australia/Sydney").unwrap()
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

#[test]
fn settings_and_bees() {
    each!(
        BeeOverrides,
        Bee::with_overrides,
        [
            flight_earliest_c,
            flight_minimum_c,
            flight_light_w_m2,
            flight_light_lx,
            flying_day_h,
            rain_limit_mm,
            wind_limit_m_s,
            homing_typical_m,
            homing_limit_m,
            homing_farthest_m,
            worker_development_shortest_d,
            worker_development_d,
            queen_development_d,
            worker_life_d,
            brood_cold_c,
            brood_heat_c,
            adult_cold_c,
            adult_heat_c,
            ready_net_kg,
            division_interval_d,
            heat_shade_c,
            heat_limit_c,
        ]
    );
    each!(
        MorningOverrides,
        MorningSettings::with_overrides,
        [
            margin_min,
            settle_min,
            shortest_window_min,
            coldest_work_c,
            warmest_work_c,
        ]
    );
    each!(
        PlanOverrides,
        PlanSettings::with_overrides,
        [
            opening_min_c,
            opening_max_c,
            opening_h,
            flight_left_h,
            heat_ahead_d,
            opening_rain_mm,
            ranked_d,
            look_again_d,
            eggs_count_from_d,
            signs_count_from_d,
        ]
    );
    each!(
        RelocationOverrides,
        RelocationSettings::with_overrides,
        [
            stage_m,
            flying_days_between,
            slow_from_m,
            staged_up_to_m,
            far_small_m,
            far_large_m,
            near_limit_share,
        ]
    );
    each!(DayLimitOverrides, DayLimits::with_overrides, [cold_night_c]);
    let request: PartingRequest = serde_json::from_str(
        r#"{"site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
            "zone": "Australia/Sydney"}, "set_before": "2026-10-26"}"#,
    )
    .unwrap();
    let with =
        |settings: &PartingOverrides| parting(&request.clone().with_settings(settings.clone()));
    each!(PartingOverrides, with, [apart_m, stage_m]);
}

#[test]
fn places_and_weather() {
    for number in WRONG {
        refused("latitude", number, Site::new(number, 153.0, 1.0, "UTC"));
        // There is land 300 m below the sea.
        let elevation = if number == -300.0 { -600.0 } else { number };
        let site = Site::new(-28.0, 153.0, elevation, "UTC");
        refused("elevation", elevation, site);
        refused("longitude", number, Site::new(-28.0, number, 1.0, "UTC"));
        refused("east", number, lismore().with_horizon(number, 0.0));
        refused("west", number, lismore().with_horizon(0.0, number));

        let mut low = [10.0; 12];
        low[4] = number;
        let high = [20.0; 12];
        refused("normals", number, MonthlyNormals::new(low, high, None, "n"));
        refused(
            "rain",
            number,
            MonthlyNormals::new([1.0; 12], high, Some(low), "n"),
        );
        let normals = MonthlyNormals::new([1.0; 12], high, None, "n").unwrap();
        refused("wet days", number, normals.clone().with_wet_days(low));
        for spread in [
            DailySpread {
                minimum_sd_c: low,
                maximum_sd_c: [2.0; 12],
            },
            DailySpread {
                minimum_sd_c: [2.0; 12],
                maximum_sd_c: low,
            },
        ] {
            let climate = Climate::from_normals(normals.clone());
            refused("spread", number, climate.with_spread(spread));
        }
        let day = ForecastDay::new(date("2026-10-26"), 10.0, 20.0);
        for day in [
            ForecastDay::new(day.date, number, 20.0),
            ForecastDay::new(day.date, 10.0, number),
            day.with_rain_mm(number),
            day.with_wind_m_s(number),
        ] {
            refused("forecast", number, Forecast::new(vec![day]));
        }
        for light in [
            LightThreshold::IlluminanceLx(number),
            LightThreshold::IrradianceWM2(number),
        ] {
            refused("light", number, light.sun_altitude_deg());
        }
    }
}

#[test]
fn waits_rules_and_jobs() {
    let site = lismore();
    let climate = Climate::from_location(&site);
    let bee = bee::built_in("generic_small").unwrap();
    let weather = Weather::new(&site, &climate, &bee);
    let today = DateRange::on(date("2026-10-26"));
    let (first, last) = (date("2026-01-01"), date("2026-12-31"));
    let relocate: RelocationRequest = serde_json::from_str(
        r#"{"site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
            "zone": "Australia/Sydney"}, "first": "2026-10-26", "distance_m": 4}"#,
    )
    .unwrap();
    let divide: PlanRequest = serde_json::from_str(
        r#"{"site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
            "zone": "Australia/Sydney"}, "today": "2026-08-01", "method": "split",
            "colony": {"name": "Hive 7"}}"#,
    )
    .unwrap();
    for number in WRONG {
        let good = Wait::new(WaitUnit::Days, [2.0; 3], "own counts").unwrap();
        for wait in [
            Wait {
                earliest: number,
                ..good.clone()
            },
            Wait {
                likely: number,
                ..good.clone()
            },
            Wait {
                latest: number,
                ..good.clone()
            },
            Wait {
                unit: WaitUnit::DegreeDays {
                    base_c: number,
                    upper_c: None,
                },
                ..good.clone()
            },
            Wait {
                unit: WaitUnit::DegreeDays {
                    base_c: 10.0,
                    upper_c: Some(number),
                },
                ..good.clone()
            },
        ] {
            refused("wait", number, wait::run(&wait, &today, &weather));
            refused("wait", number, Wait::new(wait.unit, wait.counts(), "s"));
        }
        let staged = |stages: StageOverrides| {
            let plan = PlanRequest::new(site, today.best, "split", Colony::new("-"));
            let own = PlanOverrides::default().with_stages(stages);
            apiary_almanac::plan(&plan.with_settings(own))
        };
        let stages = StageOverrides::default();
        refused("stage", number, staged(stages.clone().with_stage_m(number)));
        let turn = if number == -300.0 { -361.0 } else { number };
        refused("turn", turn, staged(stages.with_total_turn_deg(turn)));

        let rule = |test| Rule {
            at_risk: None,
            name: "own".to_owned(),
            test,
            source: "own".to_owned(),
        };
        let quantity = apiary_almanac::season::Quantity::Mean;
        let temperature = |at_least_c, at_most_c| RuleTest::Temperature {
            quantity,
            at_least_c,
            at_most_c,
            over_days: 7,
        };
        for test in [
            temperature(Some(number), None),
            temperature(None, Some(number)),
            RuleTest::WarmWeeksAhead {
                quantity,
                at_least_c: number,
                weeks: 8,
                averaged_weeks: 4,
            },
            RuleTest::MonthlyRain { at_most_mm: number },
            RuleTest::MonthlyWetDays {
                at_most_days: number,
            },
        ] {
            let at_risk = Rule {
                at_risk: Some(test.clone()),
                ..rule(temperature(Some(18.0), None))
            };
            for rule in [rule(test), at_risk] {
                let settings = SeasonSettings::default().with_rules([rule]);
                refused("rule", number, weather.season(first, last, &settings));
            }
        }
        refused("rule of wet days", number, wet_days_rule(number));
        for settings in [
            SeasonSettings::default().with_chance(number),
            SeasonSettings::default().with_at_risk_chance(number),
            SeasonSettings::default().with_most_wet_days(number),
        ] {
            refused("season", number, weather.season(first, last, &settings));
        }

        let mut request = relocate.clone();
        request.distance_m = number;
        refused("distance", number, relocation(&request));
        let mut request = relocate.clone();
        request.hive_weight_kg = Some(number);
        refused("hive weight", number, relocation(&request));
        let mut request = divide.clone();
        request.colony.net_weight_kg = Some(number);
        refused("weight", number, plan(&request));
        let mut request = divide.clone();
        request.colony.months_since_division = Some(number);
        refused("months", number, plan(&request));
    }
}
