//! A method with the keeper's choices made: steps left out or repeated, waits filled in, all in an
//! order in which each comes after what it depends on.

use std::collections::{BTreeMap, BTreeSet};

use super::words::{Case, Chosen, chosen_option};
use super::{After, BeeWait, Method, SeasonUse, Setting, SignAt, Step, StepBox};
use crate::bee::Bee;
use crate::error::{Error, at_most, clip};
use crate::number::COMMON_PRACTICE;
use crate::site::Site;
use crate::task::{Choice, Dependency, TaskKind, Which};
use crate::wait::{Wait, WaitUnit};
use crate::way::{SoFar, StageOverrides, Stages};

/// How far the look for new workers reaches to either side of the bee's number, days: brood-nest
/// temperature differs from nest to nest.
const WORKER_CHECK_MARGIN_D: f64 = 5.0;
/// The day after the division on which a “no” counts for the first time, of bees other than Melipona.
pub(crate) const FIRST_DECISION_D: f64 = 60.0;
/// The day of the last decision, and the days between brood that is given and the death of the last bees.
const LAST_DECISION_D: f64 = 110.0;
const HELP_BEFORE_END_D: f64 = 21.0;
/// How long a look may wait for a fit day.
pub(crate) const LOOK_WITHIN_D: f64 = 7.0;

/// The days above that no setting changes, with their sources.
pub(crate) const FIXED_DAYS: [(&str, f64, &str); 5] = [
    (
        "worker_check_margin_d",
        WORKER_CHECK_MARGIN_D,
        COMMON_PRACTICE,
    ),
    (
        "first_decision_d",
        FIRST_DECISION_D,
        "four of five divisions of Tetragonula iridipennis were established by then: Mounika et al. 2019, \
         J. Entomol. Zool. Stud. 7(3):754–757",
    ),
    ("last_decision_d", LAST_DECISION_D, SLOWEST),
    ("help_before_end_d", HELP_BEFORE_END_D, COMMON_PRACTICE),
    ("look_within_d", LOOK_WITHIN_D, COMMON_PRACTICE),
];

const SLOWEST: &str = "the slowest of five divisions of Tetragonula iridipennis was established after 107 days: Mounika et \
    al. 2019, J. Entomol. Zool. Stud. 7(3):754–757";

/// Most waits of all steps of a method together.
const MOST_DEPENDENCIES: usize = 500;

/// What a step without a date waits for.
#[derive(Debug, Clone)]
pub(crate) enum Awaited {
    /// A sight, and the time after it.
    Sign(SignAt, Option<Wait>),
    /// That the box has filled again: the interval of this bee is not published.
    FullBox,
}

/// What a step is in a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Part {
    /// A step of the method.
    Step,
    /// The closing of an entrance on the evening before a move.
    Eve {
        /// The place of the move.
        of: usize,
    },
    /// The opening of the entrance after a move.
    Opening {
        /// The place of the move.
        of: usize,
    },
    /// A look after help that was given.
    Help {
        /// The place of the help among all of them.
        place: usize,
    },
}

impl Part {
    /// Whether its dates are found by themselves, and not by those of a move.
    pub fn stands_alone(self) -> bool {
        matches!(self, Part::Step | Part::Help { .. })
    }
}

/// A step as it will be planned.
#[derive(Debug, Clone)]
pub(crate) struct ResolvedStep {
    pub id: String,
    pub title: String,
    pub short: String,
    pub why: String,
    pub look_for: Vec<String>,
    pub which: Which,
    pub step: Step,
    pub awaits: Option<Awaited>,
    pub part: Part,
    /// How far a box has come and been turned after this stage.
    pub stage: Option<SoFar>,
    pub depends_on: Vec<(Dependency, bool)>,
    /// The places of the steps of `depends_on`, one for each.
    pub before: Vec<usize>,
    /// The places of the steps that depend on this one.
    pub after: Vec<usize>,
}

impl ResolvedStep {
    /// Whether its date counts the days on which bees fly.
    pub fn counts_flight(&self) -> bool {
        let mut waits = self.depends_on.iter();
        let flying = |(dependency, _): &(Dependency, bool)| {
            let wait = dependency.wait.as_ref();
            wait.is_some_and(|wait| wait.unit == WaitUnit::FlyingDays)
        };
        waits.any(flying) || (self.stage.is_some() && self.depends_on.is_empty())
    }
}

/// A method with the choices made.
#[derive(Debug, Clone)]
pub(crate) struct Resolved {
    /// In an order in which each step comes after those it depends on.
    pub steps: Vec<ResolvedStep>,
    pub choices: Vec<Choice>,
    /// The names of the settings that matter and of the options chosen.
    chosen: Vec<(String, String)>,
    /// What shows that the colony is strong enough.
    pub ready_look_for: Vec<String>,
    /// The wait since the last division that makes a colony ready.
    pub since_division: Option<Wait>,
    /// Whether a colony is made, in season; a hive that is only moved asks for none.
    pub divides: bool,
    /// Index of the first step that is bound to the season.
    pub start: usize,
    /// Index of the step that has a last safe date.
    pub safe: usize,
    /// Index of the step at which the colony stands on its own.
    pub rebuilt: usize,
}

impl Resolved {
    /// Whether a setting matters and this option of it was chosen.
    pub fn is_chosen(&self, setting: &str, option: &str) -> bool {
        let mut chosen = self.chosen.iter();
        chosen.any(|(name, taken)| name == setting && taken == option)
    }
}

/// Makes the choices.
///
/// # Errors
/// `unknown_name` for a setting or an option that the method does not have, `too_large` for more than
/// 500 waits.
pub(crate) fn resolve(
    method: &Method,
    chosen: &BTreeMap<String, String>,
    all_stages: Option<&StageOverrides>,
    bee: &Bee,
    site: &Site,
) -> Result<Resolved, Error> {
    let case = Case {
        options: choose(method, chosen, bee, site)?,
        bee,
        site,
    };
    let by_setting = |name: &String| {
        let option = chosen_option(&case.options, name)?;
        option
            .wait
            .clone()
            .or_else(|| bee_wait(option.by_bee?, bee))
    };
    let keeps_place = case
        .options
        .iter()
        .find_map(|(_, option)| option.keeps_place);
    let box_of = |step: &Step| match (step.which, keeps_place) {
        (StepBox::Parent, _) => Which::Parent,
        (StepBox::Daughter, _) => Which::Daughter,
        (StepBox::Pair, _) => Which::Pair,
        (StepBox::Leaving, Some(Which::Daughter)) => Which::Parent,
        (StepBox::Leaving, _) => Which::Daughter,
        (StepBox::Staying, Some(Which::Daughter)) => Which::Daughter,
        (StepBox::Staying, _) => Which::Parent,
    };

    let kept: Vec<&Step> = method
        .steps()
        .iter()
        .filter(|step| case.holds(step.when.as_ref()))
        .collect();
    let mut steps = Vec::new();
    let mut dependencies = 0;
    for step in &kept {
        let mut depends_on = Vec::new();
        let standing_in = standing_in(method, &kept, step, &case);
        // Where steps are left out, those that they waited for are waited for in their place.
        dependencies += standing_in.len();
        at_most(
            "steps.depends_on",
            dependencies,
            MOST_DEPENDENCIES,
            "waits in all",
        )?;
        let mut awaits = step.after_sign.as_ref().map(|after| {
            let wait = after.by_setting.as_ref().and_then(by_setting);
            let at = SignAt {
                sign: after.sign,
                which: after.which,
            };
            Awaited::Sign(at, after.wait.clone().or(wait))
        });
        for after in standing_in {
            let wait = match (&after.by_setting, after.by_bee) {
                (Some(name), _) => by_setting(name),
                (None, Some(number)) => bee_wait(number, bee),
                (None, None) => after.wait.clone(),
            };
            if wait.is_none() && (after.by_setting.is_some() || after.by_bee.is_some()) {
                awaits.get_or_insert(Awaited::FullBox);
            }
            depends_on.push((
                Dependency {
                    task: last_of(&kept, &after.task, all_stages)?,
                    wait,
                },
                after.carries_range,
            ));
        }
        let own_stages = all_stages.filter(|_| is_staged(step));
        let stages = stages(step, own_stages)?;
        let repeat = step.repeat.as_ref();
        let times = match (&stages, repeat) {
            (Some(stages), _) => stages.number,
            (None, Some(repeat)) => repeat.times,
            (None, None) => 1,
        };
        let between = repeat.and_then(|repeat| {
            let own = own_stages.and_then(|own| own.between.clone());
            own.or_else(|| repeat.wait.clone())
                .or_else(|| repeat.by_setting.as_ref().and_then(by_setting))
        });
        let title = case.texts(&step.titles).next().unwrap_or(&step.title);
        let short = step.short.as_deref().unwrap_or(title);
        let why: Vec<&str> = [step.why.as_str()]
            .into_iter()
            .chain(case.texts(&step.more_why))
            .collect();
        let why = why.join(" ");
        let look_for: Vec<String> = case.texts(&step.look_for).map(str::to_owned).collect();
        for number in 1..=times {
            let filled = |text: &str| match &stages {
                Some(stages) => stages.fill(text, number),
                None => text.to_owned(),
            };
            let counted = |text: &str| match times {
                1 => filled(text),
                _ => format!("{} ({number} of {times})", filled(text)),
            };
            let id = match repeat {
                Some(_) => format!("{}-{number}", step.id),
                None => step.id.clone(),
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
                title: counted(title),
                short: counted(short),
                why: filled(&why),
                look_for: look_for.clone(),
                which: box_of(step),
                step: (*step).clone(),
                awaits: awaits.clone(),
                part: Part::Step,
                stage: stages.as_ref().map(|stages| stages.so_far(number)),
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
        divides: steps.iter().any(|step| step.step.season == SeasonUse::Safe),
        start: place(&|step| step.season != SeasonUse::Free),
        safe: place(&|step| step.season == SeasonUse::Safe),
        rebuilt: place(&|step| step.rebuilt),
        since_division: method
            .readiness()
            .since_division_setting
            .as_ref()
            .and_then(by_setting),
        choices: choices(method, &case.options),
        chosen: case
            .options
            .iter()
            .map(|(setting, option)| ((*setting).to_owned(), option.name.clone()))
            .collect(),
        ready_look_for: case
            .texts(&method.readiness().look_for)
            .map(str::to_owned)
            .collect(),
        steps,
    })
}

/// The option of each setting that matters.
fn choose<'a>(
    method: &'a Method,
    chosen: &BTreeMap<String, String>,
    bee: &'a Bee,
    site: &'a Site,
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
    let mut case = Case {
        options: Vec::new(),
        bee,
        site,
    };
    for setting in method.settings() {
        let name = chosen.get(&setting.name).unwrap_or(&setting.default);
        let option = setting
            .options
            .iter()
            .find(|option| option.name == *name)
            .ok_or_else(|| unknown_option(setting, name))?;
        if case.holds(setting.when.as_ref()) {
            case.options.push((&setting.name, option));
        }
    }
    Ok(case.options)
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
    case: &Case<'_>,
) -> Vec<&'a After> {
    let held = |step: &'a Step| {
        let held = step.depends_on.iter().rev();
        held.filter(|after| case.holds(after.when.as_ref()))
            .collect::<Vec<_>>()
    };
    let mut found = Vec::new();
    let mut open = held(step);
    let mut seen = BTreeSet::new();
    while let Some(after) = open.pop() {
        if kept.iter().any(|step| step.id == after.task) {
            found.push(after);
        } else if seen.insert(&after.task)
            && let Some(left_out) = method.steps().iter().find(|step| step.id == after.task)
        {
            open.extend(held(left_out));
        }
    }
    found
}

/// A move at dawn that is repeated.
pub(crate) fn is_staged(step: &Step) -> bool {
    step.kind == TaskKind::Move && step.repeat.as_ref().is_some_and(|r| r.stage_m.is_some())
}

/// The stages of a step, with the keeper's own in their place.
pub(crate) fn stages(step: &Step, own: Option<&StageOverrides>) -> Result<Option<Stages>, Error> {
    let Some(repeat) = &step.repeat else {
        return Ok(None);
    };
    let Some(stage_m) = repeat.stage_m else {
        return Ok(None);
    };
    let stages = Stages {
        number: repeat.times,
        stage_m,
        total_turn_deg: repeat.total_turn_deg,
    };
    Ok(Some(match own {
        Some(own) => stages.with(own)?,
        None => stages,
    }))
}

/// Of a repeated step the last one is meant.
fn last_of(kept: &[&Step], id: &str, own: Option<&StageOverrides>) -> Result<String, Error> {
    let Some(step) = kept.iter().find(|step| step.id == id) else {
        return Ok(id.to_owned());
    };
    let own = own.filter(|_| is_staged(step));
    let times = match (stages(step, own)?, &step.repeat) {
        (Some(stages), _) => stages.number,
        (None, Some(repeat)) => repeat.times,
        (None, None) => return Ok(id.to_owned()),
    };
    Ok(format!("{id}-{times}"))
}

/// A waiting time of the bee; `None` where none is published.
fn bee_wait(number: BeeWait, bee: &Bee) -> Option<Wait> {
    match number {
        BeeWait::WorkerDevelopment => Some(worker_wait(bee)),
        BeeWait::DivisionInterval => {
            let interval = bee.division_interval_d.as_ref()?;
            let days = [interval.value; 3];
            Some(Wait::unchecked(WaitUnit::Days, days, &interval.source))
        }
        BeeWait::LastDecision => Some(last_decision(bee)),
    }
}

/// When there is nothing left to wait for.
pub(crate) fn last_decision(bee: &Bee) -> Wait {
    let helps_until = bee.queenless_life_d().map(|life| life - HELP_BEFORE_END_D);
    let (day, source) = match (helps_until, &bee.worker_life_d) {
        (Some(until), Some(life)) if until < LAST_DECISION_D => (
            until.max(FIRST_DECISION_D),
            format!(
                "three weeks ({COMMON_PRACTICE}) before the last bees die: brood {} days, worker {} days ({})",
                bee.worker_development_d.value, life.value, life.source
            ),
        ),
        _ => (LAST_DECISION_D, SLOWEST.to_owned()),
    };
    Wait::unchecked(WaitUnit::Days, [day, day, day + LOOK_WITHIN_D], &source)
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
