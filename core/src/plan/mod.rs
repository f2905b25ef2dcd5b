//! Whole dated plans for a new colony: a method, the season, the weather of days and what has been
//! recorded, worked into tasks that depend on each other.

mod answer;
mod apart;
mod dates;
mod day;
mod evenings;
mod helps;
mod history;
mod holdups;
mod last_safe;
mod limits;
mod network;
mod own;
mod places;
mod queen;
mod ranges;
mod readiness;
mod request;
mod safe;
mod settings;
mod slack;
mod start;
mod tasks;
mod together;
mod why_not;
mod wish;

use std::borrow::Cow;
use std::rc::Rc;

use chrono::{Datelike, NaiveDate};

use crate::caution::{Caution, cautions, of_place};
use crate::civil::check_date;
use crate::climate::DayTemperatures;
use crate::error::Error;
use crate::method::{Advice, Method, Resolved, is_staged, resolve};
use crate::morning::{Morning, MorningSettings};
use crate::reason::say;
use crate::task::{Task, TaskKind, TaskState};
use crate::weather::Weather;
use crate::work;

pub use answer::{BestDate, Plan};
pub use last_safe::{LastSafe, LastSafeDates, LastSafeOutcome, LastSafeRequest, last_safe};
pub use limits::{KeeperLimitOverrides, KeeperLimits};
pub use queen::PairStanding;
pub use request::{Colony, FixedDate, PlanRequest};
pub use settings::{PlanOverrides, PlanSettings};
pub use together::{ChosenStart, MOST_TOGETHER, Together, TogetherRequest, plans_together};
pub use why_not::{DateAnswer, WhyNotRequest, why_not};
pub use wish::{Wish, WishState};

use day::Days;
pub(crate) use evenings::parts_of_move;
pub(crate) use helps::LOOK_UNTIL_D;
pub(crate) use history::Help;
pub(crate) use places::Places;
use ranges::Sums;
pub(crate) use request::{NO_SEASON, NOT_READY};
pub(crate) use together::{each_plan, made_together, of_plan};

use history::{Asked, History};
use queen::Queen;
use readiness::Readiness;
use safe::SeasonView;

/// Most records of one request.
const MOST_RECORDS: usize = 1000;
/// Longest name or id, bytes.
const LONGEST_TEXT: usize = 500;
/// Longest note of a record, bytes.
const LONGEST_NOTE: usize = 2000;
/// The longest `id` of a plan or a task, letters.
pub(crate) const LONGEST_ID: usize = 120;

/// Everything that a plan is worked out from, checked.
pub(crate) struct Bench<'a> {
    pub request: &'a PlanRequest,
    pub weather: &'a Weather<'a>,
    pub mornings: MorningSettings,
    pub settings: PlanSettings,
    pub method: &'a Method,
    /// Of a move.
    pub advice: Advice,
    pub resolved: Resolved,
    pub days: Days<'a>,
    /// What the records come to.
    pub history: History,
    /// What they say of queens.
    pub queen: Queen,
    sums: Sums,
}

/// Plans a new colony.
///
/// What stands in the way of a division, such as an unready colony or a place without a season, is
/// not an error: the plan then has a single task that says why and what would help.
///
/// # Errors
/// `unknown_name` for a method, setting, option, bee or task that is not there; `out_of_range` for
/// dates, weights and texts; `inconsistent` for a date fixed before what its task depends on or a
/// record after today; and what climate, season and clocks refuse.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::method::Strength;
/// use apiary_almanac::plan::{Colony, PlanRequest, plan};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let colony = Colony::new("Hive 7")
///     .with_net_weight_kg(3.6)
///     .with_months_since_division(20.0)
///     .with_strength(Strength::Strong);
/// let request = PlanRequest::new(site, "2026-08-01".parse()?, "split", colony);
/// let plan = plan(&request)?;
/// let divide = plan.task("divide").map(|task| task.dates.best);
/// assert!(divide <= plan.last_safe && divide >= plan.window.map(|window| window.opens));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn plan(request: &PlanRequest) -> Result<Plan, Error> {
    worked_out(request, make)
}

/// The same plan with one task moved to another date; what depends on it moves along.
///
/// # Errors
/// As [`plan()`]; `unknown_name` for a task that the method does not have, `inconsistent` for a date
/// before what the task depends on.
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::method::Strength;
/// use apiary_almanac::plan::{Colony, PlanRequest, moved};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let colony = Colony::new("Hive 7")
///     .with_net_weight_kg(3.6)
///     .with_months_since_division(20.0)
///     .with_strength(Strength::Strong);
/// let request = PlanRequest::new(site, "2026-08-01".parse()?, "split", colony);
/// let later = moved(&request, "divide", "2026-11-07".parse()?)?;
/// let eggs = later.task("egg-check").map(|task| task.dates.earliest.to_string());
/// assert_eq!(eggs.as_deref(), Some("2026-12-07"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn moved(request: &PlanRequest, task: &str, date: NaiveDate) -> Result<Plan, Error> {
    let mut request = request.clone();
    request.fixed.retain(|fixed| fixed.task != task);
    request.fixed.push(FixedDate {
        task: task.to_owned(),
        date,
    });
    plan(&request)
}

/// Checks a request and hands what it describes to `job`.
pub(crate) fn worked_out<T>(
    request: &PlanRequest,
    job: impl FnOnce(&Bench<'_>) -> Result<T, Error>,
) -> Result<T, Error> {
    worked_out_at(&Places::default(), request, job)
}

/// The same for one of several plans, which may stand at the same places.
pub(crate) fn worked_out_at<'r, T>(
    places: &Places<'r>,
    request: &'r PlanRequest,
    job: impl FnOnce(&Bench<'_>) -> Result<T, Error>,
) -> Result<T, Error> {
    let on_a_bench = || job(&Bench::new(&Kept::of(request, places)?)?);
    work::counted(on_a_bench).0
}

/// What a bench borrows from, checked.
pub(crate) struct Kept<'r> {
    pub request: &'r PlanRequest,
    weather: Rc<Weather<'static>>,
    mornings: MorningSettings,
    settings: PlanSettings,
    method: Cow<'r, Method>,
    advice: Advice,
}

impl<'r> Kept<'r> {
    pub fn of(request: &'r PlanRequest, places: &Places<'r>) -> Result<Self, Error> {
        check_date("today", request.today)?;
        let weather = places.weather(request)?;
        let mornings = MorningSettings::with_overrides(&request.mornings)?;
        let settings = PlanSettings::with_overrides(&request.settings)?;
        let (method, advice) = request.method.for_bee(weather.bee())?;
        Ok(Kept {
            method,
            advice,
            request,
            weather,
            mornings,
            settings,
        })
    }
}

impl<'a> Bench<'a> {
    pub fn new(kept: &'a Kept<'a>) -> Result<Self, Error> {
        let (request, method, weather) = (kept.request, &*kept.method, &*kept.weather);
        let (choices, own_stages) = (&request.settings.choices, request.settings.stages.as_ref());
        if own_stages.is_some() && !method.steps().iter().any(is_staged) {
            return Err(Error::Inconsistent {
                field: "settings.stages".to_owned(),
                problem: format!("no box is moved in stages by {}", method.name()),
            });
        }
        let mut resolved = resolve(method, choices, own_stages, weather.bee(), &request.site)?;
        if kept.mornings.closed_evening_before {
            evenings::add(&mut resolved);
        }
        request.check(method)?;
        let asked = Asked {
            new: method.new_queen(),
            bee: weather.bee(),
            eggs_count_from_d: kept.settings.eggs_count_from_d.value,
        };
        let history = History::of(request, &resolved, &asked)?;
        helps::add(&mut resolved, &history);
        let queen = Queen::of(&history, &asked);
        Ok(Bench {
            days: Days::new(
                weather,
                &kept.mornings,
                &kept.settings,
                &request.free_weekdays,
            ),
            request,
            weather,
            mornings: kept.mornings.clone(),
            settings: kept.settings.clone(),
            method,
            advice: kept.advice.clone(),
            sums: Sums::default(),
            resolved,
            history,
            queen,
        })
    }
}

/// A plan with what it was worked out from.
pub(crate) fn made<T>(
    request: &PlanRequest,
    job: impl FnOnce(&Bench<'_>, Plan) -> Result<T, Error>,
) -> Result<T, Error> {
    worked_out(request, |bench| job(bench, make(bench)?))
}

pub(crate) fn make(bench: &Bench<'_>) -> Result<Plan, Error> {
    make_in(bench, &SeasonView::new(bench)?, &Readiness::of(bench)?)
}

fn make_in(bench: &Bench<'_>, season: &SeasonView, readiness: &Readiness) -> Result<Plan, Error> {
    let mut plan = dates::dated(bench, season, readiness)?;
    sorted_and_named(bench, &mut plan)?;
    Ok(plan)
}

fn sorted_and_named(bench: &Bench<'_>, plan: &mut Plan) -> Result<(), Error> {
    plan.tasks.sort_by_key(|task| task.dates.best);
    finish(bench, plan)
}

/// Names, choices, cautions: what does not hang on how the dates were found.
fn finish(bench: &Bench<'_>, plan: &mut Plan) -> Result<(), Error> {
    let request = bench.request;
    plan.choices = bench.resolved.choices.clone();
    plan.choices.extend(bench.advice.choices.iter().cloned());
    plan.id = match &request.id {
        Some(id) => id.clone(),
        None => slug(&[
            request.keeper.as_deref().unwrap_or_default(),
            &request.colony.name,
            request.colony.daughter_name.as_deref().unwrap_or_default(),
            bench.method.name(),
            &plan.start().unwrap_or(request.today).year().to_string(),
        ]),
    };
    plan.title = [&request.club, &request.keeper]
        .into_iter()
        .flatten()
        .cloned()
        .chain([match &request.colony.daughter_name {
            Some(daughter) => format!("{} and {daughter}", request.colony.name),
            None => request.colony.name.clone(),
        }])
        .chain([bench.method.label().to_owned()])
        .collect::<Vec<_>>()
        .join(" · ");
    for task in &mut plan.tasks {
        task.short = short(bench, &task.id);
    }
    for task in &mut plan.waiting {
        task.short = short(bench, &task.id);
    }
    let mut task_days: Vec<_> = plan
        .tasks
        .iter()
        .filter(|task| task.state == TaskState::Planned)
        .map(|task| task.dates.best)
        .collect();
    task_days.dedup();
    let task_days: Vec<_> = task_days
        .into_iter()
        .map(|date| bench.weather.climate.day(date))
        .collect();
    plan.cautions = of_place(&bench.weather.bee, &plan.site);
    plan.cautions.extend(bench.advice.cautions.iter().cloned());
    let mut dawns = Vec::new();
    if !bench.resolved.divides {
        let planned =
            |task: &&Task| task.state == TaskState::Planned && task.kind == TaskKind::Move;
        for task in plan.tasks.iter().filter(planned) {
            dawns.push(bench.days.dawn(task.dates.best)?);
        }
    }
    plan.cautions
        .extend(plan_cautions(bench, &task_days, &dawns));
    Ok(())
}

/// A task in a few words.
fn short(bench: &Bench<'_>, id: &str) -> String {
    let step = bench.resolved.steps.iter().find(|step| step.id == id);
    match (step, id) {
        (Some(step), _) => step.short.clone(),
        (None, request::FIND_WEIGHT) => "weigh".to_owned(),
        (None, request::FIND_HISTORY) => "find out when last divided".to_owned(),
        (None, request::FIND_STRENGTH) => "judge its strength".to_owned(),
        (None, NOT_READY) => "weigh and judge again".to_owned(),
        (None, _) => "decide what to do".to_owned(),
    }
}

/// The cautions of days and dawns. What the keeper declared is the weight without the box.
fn plan_cautions(bench: &Bench<'_>, days: &[DayTemperatures], dawns: &[Morning]) -> Vec<Caution> {
    let kg = bench.request.hive_weight_kg;
    let mut list = cautions(bench.weather.bee(), &bench.mornings, days, dawns, kg);
    if let (None, Some(kg)) = (kg, bench.request.colony.net_weight_kg)
        && let Some(lifting) = list.iter_mut().find(|caution| caution.code == "lifting")
    {
        lifting.because_reason = Some(say::declared_net_weight(kg));
    }
    list
}

/// Small letters, digits and hyphens. Where a name has other letters a number made from it is
/// added, so that two names do not become one.
pub(crate) fn slug(parts: &[&str]) -> String {
    let mut slug = String::new();
    let mut lost = false;
    for part in parts.iter().filter(|part| !part.is_empty()) {
        for letter in part.chars() {
            if letter.is_ascii_alphanumeric() {
                slug.push(letter.to_ascii_lowercase());
            } else {
                lost |= !letter.is_ascii();
                if !slug.is_empty() && !slug.ends_with('-') {
                    slug.push('-');
                }
            }
        }
        if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    if lost || slug.len() > 90 {
        // FNV-1a, 32 bits.
        let number = parts.join("|").bytes().fold(0x811c_9dc5_u32, |hash, byte| {
            (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193)
        });
        slug.truncate(80);
        return format!("{}-{number:08x}", slug.trim_matches('-'));
    }
    slug.trim_end_matches('-').to_owned()
}

#[cfg(test)]
mod tests;
