//! A method with the keeper's choices made: steps left out or repeated, waits filled in, all in an
//! order in which each comes after what it depends on.

use std::collections::{BTreeMap, BTreeSet};

use super::{BeeWait, Method, SeasonUse, Setting, SettingOption, Step, When};
use crate::bee::Bee;
use crate::error::{Error, at_most, clip};
use crate::task::{Choice, Dependency};
use crate::wait::{Wait, WaitUnit};

/// How far the look for new workers reaches to either side of the bee's number, days: brood-nest
/// temperature differs from nest to nest. Common practice, no source.
pub(crate) const WORKER_CHECK_MARGIN_D: f64 = 5.0;

/// Most waits of all steps of a method together.
const MOST_DEPENDENCIES: usize = 500;

/// A step as it will be planned.
#[derive(Debug, Clone)]
pub(crate) struct ResolvedStep {
    pub id: String,
    pub title: String,
    pub step: Step,
    pub depends_on: Vec<(Dependency, bool)>,
    /// The places of the steps of `depends_on`, one for each.
    pub before: Vec<usize>,
    /// The places of the steps that depend on this one.
    pub after: Vec<usize>,
}

/// A method with the choices made.
#[derive(Debug, Clone)]
pub(crate) struct Resolved {
    /// In an order in which each step comes after those it depends on.
    pub steps: Vec<ResolvedStep>,
    pub choices: Vec<Choice>,
    /// The wait since the last division that makes a colony ready.
    pub since_division: Option<Wait>,
    /// Index of the first step that is bound to the season.
    pub start: usize,
    /// Index of the step that has a last safe date.
    pub safe: usize,
    /// Index of the step at which the colony stands on its own.
    pub rebuilt: usize,
}

/// Makes the choices.
///
/// # Errors
/// `unknown_name` for a setting or an option that the method does not have, `too_large` for more than
/// 500 waits.
pub(crate) fn resolve(
    method: &Method,
    chosen: &BTreeMap<String, String>,
    bee: &Bee,
) -> Result<Resolved, Error> {
    let options = choose(method, chosen)?;
    let holds = |when: &Option<When>| {
        when.as_ref().is_none_or(|when| {
            chosen_option(&options, &when.setting).is_some_and(|option| option.name == when.is)
        })
    };
    let by_setting = |name: &String| chosen_option(&options, name).and_then(|o| o.wait.clone());

    let kept: Vec<&Step> = method
        .steps()
        .iter()
        .filter(|step| holds(&step.when))
        .collect();
    let mut steps = Vec::new();
    let mut dependencies = 0;
    for step in &kept {
        let mut depends_on = Vec::new();
        let standing_in = standing_in(method, &kept, step);
        // Where steps are left out, those that they waited for are waited for in their place.
        dependencies += standing_in.len();
        at_most(
            "steps.depends_on",
            dependencies,
            MOST_DEPENDENCIES,
            "waits in all",
        )?;
        for (after, wait) in standing_in {
            let wait = match (&after.by_setting, after.by_bee) {
                (Some(name), _) => by_setting(name),
                (None, Some(BeeWait::WorkerDevelopment)) => Some(worker_wait(bee)),
                (None, None) => wait,
            };
            depends_on.push((
                Dependency {
                    task: last_of(&kept, &after.task),
                    wait,
                },
                after.carries_range,
            ));
        }
        let times = step.repeat.as_ref().map_or(1, |repeat| repeat.times);
        let between = step.repeat.as_ref().and_then(|repeat| {
            repeat
                .wait
                .clone()
                .or_else(|| repeat.by_setting.as_ref().and_then(by_setting))
        });
        for number in 1..=times {
            let (id, title) = if times == 1 {
                (step.id.clone(), step.title.clone())
            } else {
                (
                    format!("{}-{number}", step.id),
                    format!("{} ({number} of {times})", step.title),
                )
            };
            let depends_on = if number == 1 {
                depends_on.clone()
            } else {
                let before = Dependency {
                    task: format!("{}-{}", step.id, number - 1),
                    wait: between.clone(),
                };
                vec![(before, false)]
            };
            steps.push(ResolvedStep {
                id,
                title,
                step: (*step).clone(),
                depends_on,
                before: Vec::new(),
                after: Vec::new(),
            });
        }
    }
    let steps = sorted(steps);
    let place = |is: &dyn Fn(&Step) -> bool| {
        steps
            .iter()
            .position(|step| is(&step.step))
            .unwrap_or_default()
    };
    Ok(Resolved {
        start: place(&|step| step.season != SeasonUse::Free),
        safe: place(&|step| step.season == SeasonUse::Safe),
        rebuilt: place(&|step| step.rebuilt),
        since_division: method
            .readiness()
            .since_division_setting
            .as_ref()
            .and_then(by_setting),
        choices: choices(method, &options),
        steps,
    })
}

/// A setting's name and the option that was chosen.
type Chosen<'a> = (&'a str, &'a SettingOption);

fn chosen_option<'a>(options: &[Chosen<'a>], setting: &str) -> Option<&'a SettingOption> {
    let (_, option) = options.iter().find(|(name, _)| *name == setting)?;
    Some(option)
}

/// The option of each setting that matters.
fn choose<'a>(
    method: &'a Method,
    chosen: &BTreeMap<String, String>,
) -> Result<Vec<Chosen<'a>>, Error> {
    if let Some(name) = chosen
        .keys()
        .find(|name| !method.settings().iter().any(|s| s.name == **name))
    {
        let known: Vec<&str> = method.settings().iter().map(|s| s.name.as_str()).collect();
        return Err(Error::UnknownName {
            field: "settings.choices".to_owned(),
            given: clip(name),
            allowed: known.join(", "),
        });
    }
    let mut options: Vec<Chosen<'_>> = Vec::new();
    for setting in method.settings() {
        let name = chosen.get(&setting.name).unwrap_or(&setting.default);
        let option = setting
            .options
            .iter()
            .find(|option| option.name == *name)
            .ok_or_else(|| unknown_option(setting, name))?;
        let matters = setting.when.as_ref().is_none_or(|when| {
            chosen_option(&options, &when.setting).is_some_and(|option| option.name == when.is)
        });
        if matters {
            options.push((&setting.name, option));
        }
    }
    Ok(options)
}

fn unknown_option(setting: &Setting, name: &str) -> Error {
    let known: Vec<&str> = setting.options.iter().map(|o| o.name.as_str()).collect();
    Error::UnknownName {
        field: format!("settings.choices.{}", setting.name),
        given: clip(name),
        allowed: known.join(", "),
    }
}

fn choices(method: &Method, options: &[Chosen<'_>]) -> Vec<Choice> {
    method
        .settings()
        .iter()
        .filter_map(|setting| {
            let chosen = chosen_option(options, &setting.name)?;
            Some(Choice {
                name: setting.name.clone(),
                chosen: format!("{}: {}", chosen.name, chosen.words),
                source: chosen.source.clone(),
                others: setting
                    .options
                    .iter()
                    .filter(|option| option.name != chosen.name)
                    .map(|option| format!("{}: {} ({})", option.name, option.words, option.source))
                    .collect(),
            })
        })
        .collect()
}

/// What a step depends on; where a step was left out, what that one depended on stands in.
fn standing_in<'a>(
    method: &'a Method,
    kept: &[&'a Step],
    step: &'a Step,
) -> Vec<(&'a super::After, Option<Wait>)> {
    let mut found = Vec::new();
    let mut open: Vec<&super::After> = step.depends_on.iter().rev().collect();
    let mut seen = BTreeSet::new();
    while let Some(after) = open.pop() {
        if kept.iter().any(|step| step.id == after.task) {
            found.push((after, after.wait.clone()));
        } else if seen.insert(&after.task)
            && let Some(left_out) = method.steps().iter().find(|step| step.id == after.task)
        {
            open.extend(left_out.depends_on.iter().rev());
        }
    }
    found
}

/// Of a repeated step the last one is meant.
fn last_of(kept: &[&Step], id: &str) -> String {
    kept.iter()
        .find(|step| step.id == id)
        .and_then(|step| step.repeat.as_ref())
        .map_or_else(|| id.to_owned(), |repeat| format!("{id}-{}", repeat.times))
}

fn worker_wait(bee: &Bee) -> Wait {
    let days = bee.worker_development_d.value;
    let shortest = bee.worker_development_shortest_d.value;
    Wait::unchecked(
        WaitUnit::Days,
        [
            shortest.min(days - WORKER_CHECK_MARGIN_D),
            days,
            days + WORKER_CHECK_MARGIN_D,
        ],
        &bee.worker_development_d.source,
    )
}

/// Each after what it depends on; otherwise in the order in which they were written.
fn sorted(mut steps: Vec<ResolvedStep>) -> Vec<ResolvedStep> {
    link(&mut steps);
    let mut left: Vec<usize> = steps.iter().map(|step| step.before.len()).collect();
    let mut free: BTreeSet<usize> = (0..steps.len()).filter(|place| left[*place] == 0).collect();
    let mut order = Vec::with_capacity(steps.len());
    // The method was checked for rings, so that all get free.
    while let Some(place) = free.pop_first() {
        order.push(place);
        for after in &steps[place].after {
            left[*after] -= steps[*after]
                .before
                .iter()
                .filter(|before| **before == place)
                .count();
            if left[*after] == 0 {
                free.insert(*after);
            }
        }
    }
    let mut taken: Vec<_> = steps.into_iter().map(Some).collect();
    let mut placed: Vec<_> = order
        .into_iter()
        .filter_map(|place| taken[place].take())
        .collect();
    link(&mut placed);
    placed
}

/// Writes down the places of what each step depends on and of what depends on it.
fn link(steps: &mut [ResolvedStep]) {
    let places: BTreeMap<String, usize> = steps
        .iter()
        .enumerate()
        .map(|(place, step)| (step.id.clone(), place))
        .collect();
    let mut after = vec![Vec::new(); steps.len()];
    for (place, step) in steps.iter_mut().enumerate() {
        let ids = step.depends_on.iter().map(|(before, _)| &before.task);
        // Every one of them is a step of the method that was kept.
        step.before = ids.filter_map(|id| places.get(id).copied()).collect();
        for before in &step.before {
            let steps: &mut Vec<usize> = &mut after[*before];
            if steps.last() != Some(&place) {
                steps.push(place);
            }
        }
    }
    for (step, after) in steps.iter_mut().zip(after) {
        step.after = after;
    }
}
