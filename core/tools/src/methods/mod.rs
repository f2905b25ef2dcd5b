//! `docs/methods.md`: the built-in methods with every number and where it comes from.

use std::fmt::Write;

use apiary_almanac::Error;
use apiary_almanac::method::{self, After, BeeWait, Line, Method, Setting, Step, When};
use apiary_almanac::wait::Wait;

/// The document.
///
/// # Errors
/// As [`method::built_in`].
pub fn markdown() -> Result<String, Error> {
    let mut text = include_str!("head.md").to_owned();
    for name in method::method_names() {
        describe(&mut text, &method::built_in(name)?);
    }
    text.push('\n');
    text += include_str!("tail.md");
    Ok(text)
}

/// Adds a line; writing into a text cannot fail.
macro_rules! line {
    ($text:expr, $($words:tt)*) => {{
        let _ = writeln!($text, $($words)*);
    }};
}

fn describe(text: &mut String, method: &Method) {
    line!(text, "\n## {} (`{}`)\n", method.label(), method.name());
    line!(text, "{}\n", method.about());
    line!(text, "From: {}.\n", method.source());
    let ready = method.readiness();
    if let Some(strength) = ready.strength {
        let weight = match (ready.net_weight_by_bee, ready.net_weight_kg) {
            (true, _) => ", and the net weight that is known for the bee",
            (false, Some(_)) => ", and a net weight",
            (false, None) => "",
        };
        let strength = format!("{strength:?}").to_lowercase();
        line!(text, "Ready when {strength}{weight} ({}).", ready.source);
    }
    for one in &ready.look_for {
        line!(text, "- {}", of_line(one));
    }
    line!(
        text,
        "\n| setting | ways (the first is the default) | from |\n|---|---|---|"
    );
    for setting in method.settings() {
        settings(text, setting);
    }
    line!(text, "\n| step | when | from |\n|---|---|---|");
    for step in method.steps() {
        waits(text, step);
    }
    line!(text, "");
    for step in method.steps() {
        looks(text, step);
    }
}

fn settings(text: &mut String, setting: &Setting) {
    let mut options: Vec<_> = setting.options.iter().collect();
    options.sort_by_key(|option| option.name != setting.default);
    for (number, option) in options.into_iter().enumerate() {
        let name = match (number, &setting.when) {
            (0, None) => format!("`{}`: {}", setting.name, setting.question),
            (0, Some(when)) => format!(
                "`{}`: {} Only {}.",
                setting.name,
                setting.question,
                of_when(when)
            ),
            _ => String::new(),
        };
        let days = option
            .wait
            .as_ref()
            .map(|wait| format!(": {}", count(wait)));
        let days = days.unwrap_or_default();
        line!(
            text,
            "| {name} | `{}`: {}{days} | {} |",
            option.name,
            option.words,
            option.source
        );
    }
}

/// What a step waits for: a row for each wait, and one for the step itself.
fn waits(text: &mut String, step: &Step) {
    let mut when: Vec<String> = step
        .lead_d
        .map(|days| format!("{days} days before the work"))
        .into_iter()
        .collect();
    if let Some(repeat) = &step.repeat {
        when.push(format!("{} times", repeat.times));
    }
    if let Some(after) = &step.after_sign {
        let sign = after.sign.meaning().words;
        when.push(format!("no date until this was seen: {sign}"));
    }
    when.extend(
        step.when
            .as_ref()
            .map(|when| format!("only {}", of_when(when))),
    );
    line!(
        text,
        "| `{}` | {} | {} |",
        step.id,
        when.join("; "),
        step.source
    );
    for after in &step.depends_on {
        if let Some((days, source)) = wait(after) {
            let only = after
                .when
                .as_ref()
                .map(|when| format!(" ({})", of_when(when)));
            line!(
                text,
                "| | {days} after `{}`{} | {source} |",
                after.task,
                only.unwrap_or_default()
            );
        }
    }
    if let Some(wait) = step.repeat.as_ref().and_then(|repeat| repeat.wait.as_ref()) {
        line!(
            text,
            "| | {} from one to the next | {} |",
            count(wait),
            wait.source
        );
    }
}

fn wait(after: &After) -> Option<(String, String)> {
    let own = after
        .wait
        .as_ref()
        .map(|wait| (count(wait), wait.source.clone()));
    let setting = after
        .by_setting
        .as_ref()
        .map(|name| (format!("by the setting `{name}`"), "the setting".to_owned()));
    let bee = after.by_bee.map(|number| {
        let (what, source) = match number {
            BeeWait::WorkerDevelopment => (
                "from `worker_development_shortest_d`, or 5 days less than the next, to 5 days more than `worker_development_d`",
                "the bee's own source; the 5 days: common practice, no source",
            ),
            BeeWait::DivisionInterval => ("`division_interval_d`", "the bee's own source"),
            BeeWait::LastDecision => (
                "110 days, or sooner three weeks before the last bees die",
                "Mounika et al. 2019, J. Entomol. Zool. Stud. 7(3):754–757; three weeks: common practice, no source",
            ),
        };
        (what.to_owned(), source.to_owned())
    });
    own.or(setting).or(bee)
}

fn looks(text: &mut String, step: &Step) {
    let in_words = |text: &str| filled(step, text);
    line!(
        text,
        "\n**{}** (`{}`). {}",
        in_words(&step.title),
        step.id,
        in_words(&step.why)
    );
    for one in &step.titles {
        line!(text, "- As title: {}", in_words(&of_line(one)));
    }
    for one in step.more_why.iter().chain(&step.look_for) {
        line!(text, "- {}", of_line(one));
    }
}

/// A text with the length of a stage; how far a box has come depends on which of them.
fn filled(step: &Step, text: &str) -> String {
    let stage_m = step.repeat.as_ref().and_then(|repeat| repeat.stage_m);
    let length = stage_m.map_or_else(String::new, |metres| format!("{metres} m"));
    text.replace("{stage_m}", &length)
        .replace("{so_far}", "so many metres")
}

fn of_line(line: &Line) -> String {
    match line.when() {
        Some(when) => format!("*{}*: {}", of_when(when), line.text()),
        None => line.text().to_owned(),
    }
}

/// A condition in words: `with inspection = opening, for bees with queen cells`.
fn of_when(when: &When) -> String {
    let mut parts = Vec::new();
    if let Some(setting) = &when.setting {
        parts.extend(
            when.is
                .as_ref()
                .map(|is| format!("with `{setting}` = `{is}`")),
        );
        parts.extend(
            when.is_not
                .as_ref()
                .map(|not| format!("with `{setting}` other than `{not}`")),
        );
    }
    parts.extend(when.builds_queen_cells.map(|builds| match builds {
        true => "for bees other than Melipona".to_owned(),
        false => "for Melipona".to_owned(),
    }));
    if !when.bees.is_empty() {
        parts.push(format!("for `{}`", when.bees.join("`, `")));
    }
    parts.extend(when.region.map(|region| format!("in {region:?}")));
    parts.join(", ")
}

fn count(wait: &Wait) -> String {
    let [earliest, likely, latest] = wait.counts();
    let unit = match wait.unit {
        apiary_almanac::wait::WaitUnit::Days => "days",
        apiary_almanac::wait::WaitUnit::FlyingDays => "flying days",
        _ => "degree-days",
    };
    match (earliest == latest, latest) {
        (true, 0.0) => "the same day".to_owned(),
        (true, 1.0) => format!("1 {}", unit.trim_end_matches('s')),
        (true, _) => format!("{latest} {unit}"),
        _ if likely == earliest || likely == latest => format!("{earliest} to {latest} {unit}"),
        _ => format!("{earliest} to {latest} {unit}, mostly {likely}"),
    }
}
