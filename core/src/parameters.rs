//! Every default number of the engine in one list, with unit, range and source.

use serde::Serialize;

use crate::bee::{bee_names, built_in};
use crate::flight::DayLimits;
use crate::method::{self, FIXED_DAYS, Method, method_names};
use crate::morning::MorningSettings;
use crate::number::{COMMON_PRACTICE, Sourced};
use crate::plan::{KeeperLimits, PlanSettings};
use crate::season::{DEFAULT_AT_RISK_CHANCE, DEFAULT_CHANCE, RuleTest, default_rules};
use crate::wait::{LONGEST_WAIT, Wait};
use crate::way::{FarStay, RelocationSettings, parted_from_parent};
use crate::weather::Spread;
use crate::wire::FromNode;

/// A default number and where it belongs.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Parameter {
    /// What it belongs to: `bee generic_small`, `morning`, `season`, `clock`, `relocation`,
    /// `parting`, `plan`, `plans of one keeper`.
    pub group: String,
    /// Its name within the group.
    pub name: String,
    /// Value, unit, range, source.
    pub number: Sourced,
}

/// Every default number, in a fixed order. A species lists only what it does not take from a
/// generic bee.
///
/// ```
/// let list = apiary_almanac::parameters::parameters();
/// assert!(list.iter().any(|p| p.group == "morning" && p.name == "margin_min"));
/// ```
pub fn parameters() -> Vec<Parameter> {
    let mut list = Vec::new();
    let bees = bee_names()
        .into_iter()
        .filter_map(|name| built_in(name).ok());
    for bee in bees {
        let own = |name: &str| !bee.from_generic.iter().any(|borrowed| borrowed == name);
        for (name, number) in bee.parameters().into_iter().filter(|(name, _)| own(name)) {
            list.push(parameter(
                &format!("bee {}", bee.name),
                name,
                number.clone(),
            ));
        }
    }
    for (name, number) in MorningSettings::default().parameters() {
        list.push(parameter("morning", name, number.clone()));
    }
    for (name, number) in DayLimits::default().parameters() {
        list.push(parameter("day", name, number.clone()));
    }
    list.extend(season());
    for (name, number) in Spread::default().parameters() {
        list.push(parameter("clock", name, number.clone()));
    }
    for (name, number) in RelocationSettings::default().parameters() {
        list.push(parameter("relocation", name, number.clone()));
    }
    for (name, stay) in [
        ("far_stay.sixty_days", FarStay::SixtyDays),
        ("far_stay.three_weeks", FarStay::ThreeWeeks),
    ] {
        list.extend(wait("relocation", name, &stay.wait()));
    }
    let parting = parted_from_parent();
    for (name, number) in parting.parameters() {
        list.push(parameter("parting", name, number.clone()));
    }
    for (name, time) in [
        ("before_entrance", &parting.before_entrance),
        ("between_stages", &parting.between_stages),
        ("side_by_side", &parting.side_by_side),
    ] {
        list.extend(wait("parting", name, time));
    }
    for (name, number) in PlanSettings::default().parameters() {
        list.push(parameter("plan", name, number.clone()));
    }
    for (name, number) in KeeperLimits::default().parameters() {
        list.push(parameter("plans of one keeper", name, number.clone()));
    }
    for (name, value, source) in FIXED_DAYS {
        list.push(parameter(
            "plan",
            name,
            Sourced {
                value,
                unit: "d".to_owned(),
                lowest: value,
                highest: value,
                source: source.to_owned(),
            },
        ));
    }
    for method in method_names()
        .into_iter()
        .filter_map(|name| method::built_in(name).ok())
    {
        list.extend(of_method(&method));
    }
    list
}

/// The numbers of a method: readiness, and the waits between steps and of options.
fn of_method(method: &Method) -> Vec<Parameter> {
    let group = format!("method {}", method.name());
    let mut list = Vec::new();
    if let Some(kg) = method.readiness().net_weight_kg {
        let number = Sourced {
            value: kg,
            unit: "kg".to_owned(),
            lowest: 0.1,
            highest: 50.0,
            source: method.readiness().source.clone(),
        };
        list.push(parameter(&group, "readiness.net_weight_kg", number));
    }
    let mut waits: Vec<(String, &Wait)> = Vec::new();
    for setting in method.settings() {
        for option in &setting.options {
            let name = format!("{}.{}", setting.name, option.name);
            waits.extend(option.wait.as_ref().map(|wait| (name, wait)));
        }
    }
    for step in method.steps() {
        for after in &step.depends_on {
            let name = format!("{}.{}", after.task, step.id);
            waits.extend(after.wait.as_ref().map(|wait| (name, wait)));
        }
        if let Some(repeat) = &step.repeat {
            let name = format!("{0}.{0}", step.id);
            waits.extend(repeat.wait.as_ref().map(|wait| (name, wait)));
        }
    }
    for (name, time) in waits {
        list.extend(wait(&group, &name, time));
    }
    list
}

/// The counts of a waiting time: one number where all three are the same.
fn wait(group: &str, name: &str, wait: &Wait) -> Vec<Parameter> {
    let count = |name: String, value| {
        let number = Sourced {
            value,
            unit: wait.unit.words().to_owned(),
            lowest: 0.0,
            highest: LONGEST_WAIT,
            source: wait.source.clone(),
        };
        parameter(group, &name, number)
    };
    if wait.earliest == wait.latest {
        return vec![count(name.to_owned(), wait.likely)];
    }
    ["earliest", "likely", "latest"]
        .iter()
        .zip(wait.counts())
        .map(|(which, value)| count(format!("{name}.{which}"), value))
        .collect()
}

fn parameter(group: &str, name: &str, number: Sourced) -> Parameter {
    Parameter {
        group: group.to_owned(),
        name: name.to_owned(),
        number,
    }
}

/// The default season rules of the generic small bee; the others differ by their own numbers only.
fn season() -> Vec<Parameter> {
    let share = |name: &str, value: f64| {
        let number = Sourced::new(value, "share of years", 0.0, 1.0, COMMON_PRACTICE);
        parameter("season", name, number)
    };
    let mut list = vec![
        share("chance", DEFAULT_CHANCE),
        share("at_risk_chance", DEFAULT_AT_RISK_CHANCE),
    ];
    let rules = built_in("generic_small")
        .map(|bee| default_rules(&bee))
        .unwrap_or_default();
    for rule in rules {
        for (part, test) in [("", Some(&rule.test)), ("at_risk.", rule.at_risk.as_ref())] {
            if let Some(test) = test {
                list.extend(season_numbers(
                    &format!("{}.{part}", rule.name),
                    test,
                    &rule.source,
                ));
            }
        }
    }
    list
}

/// The numbers of one test.
fn season_numbers(before: &str, test: &RuleTest, source: &str) -> Vec<Parameter> {
    let mut list = Vec::new();
    let mut add = |name: &str, value: f64, unit: &str, lowest, highest| {
        list.push(parameter(
            "season",
            &format!("{before}{name}"),
            Sourced::new(value, unit, lowest, highest, source),
        ));
    };
    match *test {
        RuleTest::Temperature {
            at_least_c,
            at_most_c,
            over_days,
            ..
        } => {
            for (name, bound) in [("at_least_c", at_least_c), ("at_most_c", at_most_c)] {
                if let Some(c) = bound {
                    add(name, c, "°C", -40.0, 60.0);
                }
            }
            add("over_days", over_days.into(), "d", 1.0, 120.0);
        }
        RuleTest::WarmWeeksAhead {
            at_least_c,
            weeks,
            averaged_weeks,
            ..
        } => {
            add("at_least_c", at_least_c, "°C", -40.0, 60.0);
            add("weeks", weeks.into(), "weeks", 1.0, 40.0);
            add("averaged_weeks", averaged_weeks.into(), "weeks", 1.0, 40.0);
        }
        RuleTest::OutsideWettestMonths { .. }
        | RuleTest::MonthlyRain { .. }
        | RuleTest::MonthlyWetDays { .. }
        | RuleTest::Rains { .. } => {}
    }
    list
}

/// The list as a table in Markdown, as it stands in `docs/parameters.md`.
///
/// ```
/// use apiary_almanac::parameters::{parameters, parameters_markdown};
/// let table = parameters_markdown();
/// assert!(parameters().iter().all(|parameter| table.contains(&parameter.name)));
/// ```
pub fn parameters_markdown() -> String {
    let mut text = String::from(
        "# Default numbers\n\nWritten by `cargo run -p apiary-almanac-tools --bin parameters > docs/parameters.md`; \
         do not edit by hand.\nEvery number can be replaced: those of a bee in a bee's table, \
         those of a morning, a\nrelocation or a plan in `settings`, those of the season in a list of rules, those of a method in\na method of your own.\n\n\
         | of | name | value | unit | allowed | source |\n|---|---|---|---|---|---|\n",
    );
    for Parameter {
        group,
        name,
        number,
    } in parameters()
    {
        text += &format!(
            "| {group} | `{name}` | {} | {} | {} to {} | {} |\n",
            number.value, number.unit, number.lowest, number.highest, number.source
        );
    }
    text
}
