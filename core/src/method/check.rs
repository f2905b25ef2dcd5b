//! Refuses methods that make no sense, before anything is planned with them.

use std::collections::BTreeSet;

use super::{After, Line, Method, SeasonUse, Setting, Step, StepBox, When};
use crate::bee::genus_is_known;
use crate::caution::STANDING_CAUTIONS;
use crate::error::{Error, LONGEST_TEXT, at_most, clip, quoted};
use crate::task::Which;

const MOST_STEPS: usize = 100;
const MOST_SETTINGS: usize = 40;
const MOST_TIMES: u32 = 60;
/// Most steps once each is repeated as often as it says.
const MOST_EXPANDED: usize = 200;
/// Most sentences of one list.
const MOST_LINES: usize = 30;
/// Most waits of one step.
const MOST_DEPENDENCIES: usize = 20;
const LONGEST_LEAD_D: u32 = 120;

pub(super) fn check(method: &Method) -> Result<(), Error> {
    let steps = method.steps();
    within("steps", steps.len(), 1, MOST_STEPS)?;
    within("settings", method.settings().len(), 0, MOST_SETTINGS)?;
    name_of(
        "name",
        method.name(),
        '_',
        "small letters, digits and underscores",
    )?;
    for (field, text) in [
        ("label", method.label()),
        ("about", method.about()),
        ("source", method.source()),
        ("readiness.source", &method.readiness().source),
    ] {
        words(field, text)?;
    }
    if let Some(kg) = method.readiness().net_weight_kg
        && !(0.1..=50.0).contains(&kg)
    {
        return Err(Error::out_of_range(
            "readiness.net_weight_kg",
            kg,
            "0.1 to 50 kg",
        ));
    }
    settings(method)?;
    lines(method, "readiness.look_for", &method.readiness().look_for)?;
    if let Some(name) = &method.readiness().since_division_setting {
        setting_with_waits(method, "readiness.since_division_setting", name)?;
    }
    let times = |step: &Step| {
        step.repeat
            .as_ref()
            .map_or(1, |repeat| repeat.times as usize)
    };
    let expanded = steps.iter().map(times).fold(0, usize::saturating_add);
    at_most(
        "steps",
        expanded,
        MOST_EXPANDED,
        "steps, repeated ones counted each time",
    )?;
    unique("steps", steps.iter().map(|step| step.id.as_str()))?;
    for (index, step) in steps.iter().enumerate() {
        check_step(method, step, &format!("steps[{index}]"))?;
    }
    expanded_ids(steps)?;
    only_one("season = \"safe\"", steps, |step| {
        step.season == SeasonUse::Safe
    })?;
    only_one("rebuilt = true", steps, |step| step.rebuilt)?;
    order(steps)?;
    rebuilt_after_safe(steps)
}

fn settings(method: &Method) -> Result<(), Error> {
    unique(
        "settings",
        method
            .settings()
            .iter()
            .map(|setting| setting.name.as_str()),
    )?;
    for (index, setting) in method.settings().iter().enumerate() {
        let place = format!("settings[{index}]");
        name_of(
            &format!("{place}.name"),
            &setting.name,
            '_',
            "small letters, digits and underscores",
        )?;
        words(&format!("{place}.question"), &setting.question)?;
        within(&format!("{place}.options"), setting.options.len(), 2, 20)?;
        unique(
            &format!("{place}.options"),
            setting.options.iter().map(|option| option.name.as_str()),
        )?;
        for option in &setting.options {
            words(&format!("{place}.options.words"), &option.words)?;
            words(&format!("{place}.options.source"), &option.source)?;
            if option.wait.is_some() && option.by_bee.is_some() {
                return Err(inconsistent(
                    &format!("{place}.options"),
                    "give one of `wait` and `by_bee`",
                ));
            }
            if option.keeps_place == Some(Which::Pair) {
                return Err(inconsistent(
                    &format!("{place}.options.keeps_place"),
                    "one box keeps the old place: parent or daughter",
                ));
            }
        }
        option(setting, &format!("{place}.default"), &setting.default)?;
        if let Some(when) = &setting.when {
            // Looking back only keeps settings from hanging on each other in a ring.
            let earlier = &method.settings()[..index];
            check_when(earlier, &place, when)?;
        }
    }
    Ok(())
}

fn check_step(method: &Method, step: &Step, place: &str) -> Result<(), Error> {
    let field = |name: &str| format!("{place}.{name}");
    name_of(
        &field("id"),
        &step.id,
        '-',
        "small letters, digits and hyphens",
    )?;
    words(&field("title"), &step.title)?;
    if let Some(short) = &step.short {
        words(&field("short"), short)?;
    }
    words(&field("why"), &step.why)?;
    words(&field("source"), &step.source)?;
    for (name, given) in [
        ("look_for", &step.look_for),
        ("titles", &step.titles),
        ("more_why", &step.more_why),
    ] {
        lines(method, &field(name), given)?;
    }
    let names_place = |setting: &Setting| setting.options.iter().any(|o| o.keeps_place.is_some());
    if matches!(step.which, StepBox::Leaving | StepBox::Staying)
        && !method.settings().iter().any(names_place)
    {
        return Err(inconsistent(
            &field("which"),
            "no option of a setting says which box keeps the old place (`keeps_place`)",
        ));
    }
    if let Some(after) = &step.after_sign {
        match (&after.wait, &after.by_setting) {
            (Some(wait), None) => wait.check()?,
            (None, Some(name)) => setting_with_waits(method, &field("after_sign"), name)?,
            _ => {
                return Err(inconsistent(
                    &field("after_sign"),
                    "give one of `wait` and `by_setting`",
                ));
            }
        }
    }
    for code in &step.cautions {
        known(&field("cautions"), code, &STANDING_CAUTIONS)?;
    }
    if let Some(days) = step.lead_d {
        within(&field("lead_d"), days as usize, 1, LONGEST_LEAD_D as usize)?;
        if !step.depends_on.is_empty() {
            return Err(inconsistent(
                &field("lead_d"),
                "a step counts back from the first step in season or forward from another, not both",
            ));
        }
    }
    if let Some(when) = &step.when {
        check_when(method.settings(), place, when)?;
    }
    at_most(
        &field("depends_on"),
        step.depends_on.len(),
        MOST_DEPENDENCIES,
        "steps that it waits for",
    )?;
    let ids: Vec<&str> = method.steps().iter().map(|step| step.id.as_str()).collect();
    for After {
        task,
        wait,
        by_setting,
        by_bee,
        when,
        ..
    } in &step.depends_on
    {
        if let Some(when) = when {
            check_when(method.settings(), &field("depends_on"), when)?;
        }
        known(&field("depends_on"), task, &ids)?;
        let given = [wait.is_some(), by_setting.is_some(), by_bee.is_some()];
        if given.iter().filter(|given| **given).count() > 1 {
            return Err(inconsistent(
                &field("depends_on"),
                "give one of `wait`, `by_setting` and `by_bee`",
            ));
        }
        if let Some(wait) = wait {
            wait.check()?;
        }
        if let Some(name) = by_setting {
            setting_with_waits(method, &field("depends_on"), name)?;
        }
    }
    if let Some(repeat) = &step.repeat {
        within(
            &field("repeat.times"),
            repeat.times as usize,
            2,
            MOST_TIMES as usize,
        )?;
        if let Some(stage_m) = repeat.stage_m
            && !(0.1..=1.0).contains(&stage_m)
        {
            let field = field("repeat.stage_m");
            return Err(Error::out_of_range(&field, stage_m, "0.1 to 1 m"));
        }
        if let Some(turn) = repeat.total_turn_deg
            && !(-360.0..=360.0).contains(&turn)
        {
            let field = field("repeat.total_turn_deg");
            return Err(Error::out_of_range(&field, turn, "-360 to 360 degrees"));
        }
        match (&repeat.wait, &repeat.by_setting) {
            (Some(wait), None) => wait.check()?,
            (None, Some(name)) => setting_with_waits(method, &field("repeat"), name)?,
            _ => {
                return Err(inconsistent(
                    &field("repeat"),
                    "give one of `wait` and `by_setting`",
                ));
            }
        }
        if step.season != SeasonUse::Free || step.rebuilt || step.lead_d.is_some() {
            return Err(inconsistent(
                &field("repeat"),
                "a step that is bound to the season, counts back from it or ends the rebuilding \
                 is done once",
            ));
        }
    }
    Ok(())
}

/// Steps that are repeated get numbers: `stage-1` must not be a step of its own.
fn expanded_ids(steps: &[Step]) -> Result<(), Error> {
    let expanded: Vec<String> = steps
        .iter()
        .flat_map(|step| match &step.repeat {
            None => vec![step.id.clone()],
            Some(repeat) => (1..=repeat.times)
                .map(|number| format!("{}-{number}", step.id))
                .collect(),
        })
        .collect();
    unique("steps", expanded.iter().map(String::as_str))
}

/// Refuses steps that wait for each other.
fn order(steps: &[Step]) -> Result<(), Error> {
    let mut placed = BTreeSet::new();
    loop {
        let before = placed.len();
        for step in steps {
            if step
                .depends_on
                .iter()
                .all(|after| placed.contains(after.task.as_str()))
            {
                placed.insert(step.id.as_str());
            }
        }
        if placed.len() == steps.len() {
            return Ok(());
        }
        if placed.len() == before {
            let stuck: Vec<&str> = steps
                .iter()
                .map(|step| step.id.as_str())
                .filter(|id| !placed.contains(id))
                .collect();
            return Err(inconsistent(
                "steps.depends_on",
                &format!("these wait for each other: {}", clip(&stuck.join(", "))),
            ));
        }
    }
}

fn rebuilt_after_safe(steps: &[Step]) -> Result<(), Error> {
    let (Some(safe), Some(rebuilt)) = (
        steps.iter().find(|step| step.season == SeasonUse::Safe),
        steps.iter().find(|step| step.rebuilt),
    ) else {
        return Ok(());
    };
    let mut after = BTreeSet::new();
    after.insert(safe.id.as_str());
    for _ in steps {
        for step in steps {
            if step
                .depends_on
                .iter()
                .any(|dependency| after.contains(dependency.task.as_str()))
            {
                after.insert(step.id.as_str());
            }
        }
    }
    // A step that may be left out would take the end of the rebuilding with it.
    if let Some(step) = [safe, rebuilt].iter().find(|step| step.when.is_some()) {
        return Err(inconsistent(
            "steps.when",
            &format!("{} can not be left out", step.id),
        ));
    }
    if safe.id != rebuilt.id && after.contains(rebuilt.id.as_str()) {
        return Ok(());
    }
    Err(inconsistent(
        "steps.rebuilt",
        &format!("{} does not come after {}", rebuilt.id, safe.id),
    ))
}

fn only_one(what: &str, steps: &[Step], is: impl Fn(&Step) -> bool) -> Result<(), Error> {
    let found: Vec<&str> = steps
        .iter()
        .filter(|step| is(step))
        .map(|step| step.id.as_str())
        .collect();
    if found.len() == 1 {
        return Ok(());
    }
    Err(inconsistent(
        "steps",
        &format!(
            "{} steps have {what}; one step of a method has it",
            found.len()
        ),
    ))
}

/// Sentences, each with its condition.
fn lines(method: &Method, field: &str, lines: &[Line]) -> Result<(), Error> {
    within(field, lines.len(), 0, MOST_LINES)?;
    for line in lines {
        words(field, line.text())?;
        if let Some(when) = line.when() {
            check_when(method.settings(), field, when)?;
        }
    }
    Ok(())
}

fn check_when(settings: &[Setting], place: &str, when: &When) -> Result<(), Error> {
    let field = |name: &str| format!("{place}.when.{name}");
    if *when == When::default() {
        return Err(inconsistent(
            &format!("{place}.when"),
            "no condition is given",
        ));
    }
    for name in &when.bees {
        name_of(&field("bees"), name, '_', "small letters joined by _")?;
        if !genus_is_known(name) {
            return Err(Error::UnknownName {
                field: field("bees"),
                given: clip(name),
                allowed: "a genus, or a species after its genus".to_owned(),
            });
        }
    }
    let options: Vec<_> = [("is", &when.is), ("is_not", &when.is_not)]
        .into_iter()
        .filter_map(|(key, name)| Some((key, name.as_ref()?)))
        .collect();
    match (&when.setting, options.as_slice()) {
        (None, []) => Ok(()),
        (Some(name), [(key, chosen)]) => {
            let names: Vec<&str> = settings
                .iter()
                .map(|setting| setting.name.as_str())
                .collect();
            known(&field("setting"), name, &names)?;
            match settings.iter().find(|setting| setting.name == *name) {
                Some(setting) => option(setting, &field(key), chosen),
                None => Ok(()),
            }
        }
        _ => Err(inconsistent(
            &format!("{place}.when"),
            "`setting` comes with one of `is` and `is_not`",
        )),
    }
}

fn option(setting: &Setting, field: &str, name: &str) -> Result<(), Error> {
    let names: Vec<&str> = setting
        .options
        .iter()
        .map(|option| option.name.as_str())
        .collect();
    known(field, name, &names)
}

/// A setting that stands for a waiting time needs one with each of its options.
fn setting_with_waits(method: &Method, field: &str, name: &str) -> Result<(), Error> {
    let names: Vec<&str> = method
        .settings()
        .iter()
        .map(|setting| setting.name.as_str())
        .collect();
    known(field, name, &names)?;
    let without = method
        .settings()
        .iter()
        .filter(|setting| setting.name == name)
        .flat_map(|setting| &setting.options)
        .find(|option| option.wait.is_none() && option.by_bee.is_none());
    match without {
        Some(option) => Err(inconsistent(
            field,
            &format!("option {} of {name} has no wait", option.name),
        )),
        None => Ok(()),
    }
}

fn known(field: &str, given: &str, allowed: &[&str]) -> Result<(), Error> {
    if allowed.contains(&given) {
        return Ok(());
    }
    Err(Error::UnknownName {
        field: field.to_owned(),
        given: clip(given),
        allowed: clip(&allowed.join(", ")),
    })
}

fn unique<'a>(field: &str, names: impl Iterator<Item = &'a str>) -> Result<(), Error> {
    let mut seen = BTreeSet::new();
    for name in names {
        if !seen.insert(name) {
            return Err(inconsistent(
                field,
                &format!("{} stands there twice", clip(name)),
            ));
        }
    }
    Ok(())
}

fn name_of(field: &str, name: &str, joint: char, allowed: &str) -> Result<(), Error> {
    let well_formed = name.len() <= 60
        && name.split(joint).all(|word| {
            !word.is_empty()
                && word
                    .bytes()
                    .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit())
        });
    if well_formed {
        Ok(())
    } else {
        Err(Error::out_of_range(
            field,
            quoted(name),
            format_args!("{allowed}, up to 60"),
        ))
    }
}

fn words(field: &str, text: &str) -> Result<(), Error> {
    if !text.trim().is_empty() && text.len() <= LONGEST_TEXT {
        return Ok(());
    }
    Err(Error::out_of_range(
        field,
        format_args!("{} bytes long", text.len()),
        format_args!("some words, up to {LONGEST_TEXT} bytes"),
    ))
}

fn within(field: &str, count: usize, low: usize, high: usize) -> Result<(), Error> {
    if (low..=high).contains(&count) {
        return Ok(());
    }
    Err(Error::out_of_range(
        field,
        count,
        format_args!("{low} to {high}"),
    ))
}

fn inconsistent(field: &str, problem: &str) -> Error {
    Error::Inconsistent {
        field: field.to_owned(),
        problem: problem.to_owned(),
    }
}
