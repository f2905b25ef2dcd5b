//! Plans as an iCalendar file (RFC 5545).
//!
//! Written by hand: the general libraries take the time and random identifiers from the system,
//! which this engine does not have, and write no VTIMEZONE.

mod before;
mod event;
mod line;
mod mornings;
mod per;
mod year_dates;
mod zone;

pub use mornings::{MorningsPlace, mornings_ics};
pub use per::{CalendarPer, NamedCalendar, plans_ics_per};
pub use year_dates::year_dates_ics;

use crate::wire::FromNode;
use chrono::{Days, NaiveDate};
use chrono_tz::Tz;
use derive_setters::Setters;
use serde::Serialize;

use self::before::Before;
use self::event::{Event, Setting};
use self::line::Lines;
use super::check::check_plans;
use super::label::Labels;
use crate::civil::Instant;
use crate::error::Error;
use crate::plan::Plan;
use crate::task::{Task, TaskState};

/// The largest whole number of iCalendar (RFC 5545, section 3.3.8).
const LARGEST_SEQUENCE: u32 = i32::MAX.unsigned_abs();
/// Days ahead from which a task stands in a calendar that is done only if something is seen or not seen. Our
/// own.
const NEAR_D: u64 = 14;
const PRODUCT: &str = "-//apiary-almanac//calendar//EN";

/// What an iCalendar file needs besides the plans.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode, Setters)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct IcsSettings {
    /// When the file is made.
    #[setters(skip)]
    pub stamp: Instant,
    /// 0 for the first version of the plans, then one more for each changed version; up to
    /// 2147483647. With `before` it is the least that a new or changed event gets.
    #[serde(default)]
    pub sequence: u32,
    /// The text of the calendar that was made before this one. An event that is still the same keeps
    /// its version and its stamp to the letter, a changed one gets the next version, and one that a
    /// plan no longer has is cancelled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before: Option<String>,
    /// Name of the calendar for people; the plan's title when not given and there is one plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
}

impl IcsSettings {
    /// A calendar's first version, made at `stamp`, without a name.
    ///
    /// ```
    /// use apiary_almanac::calendar::{IcsSettings, plans_ics};
    /// use apiary_almanac::plan::{Colony, PlanRequest};
    /// use apiary_almanac::{Site, plan};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let plan = plan(&PlanRequest::new(site, "2026-08-01".parse()?, "split", Colony::new("Lantern")))?;
    /// let plans = [plan];
    /// let first = plans_ics(&plans, &IcsSettings::new("2026-08-01T19:30:00+10:00".parse()?))?;
    /// // Made again a week later: nothing has changed, and so nothing gets a new version.
    /// let later = IcsSettings::new("2026-08-08T19:30:00+10:00".parse()?).with_before(first.clone());
    /// assert_eq!(plans_ics(&plans, &later)?, first);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(stamp: Instant) -> Self {
        IcsSettings {
            stamp,
            sequence: 0,
            before: None,
            name: None,
        }
    }
}

/// Writes plans as one iCalendar text.
///
/// A task with one good hour is an event of that hour, one with a window of that stretch of its best date, drawn
/// in to whole minutes; any other is an event of the whole best date, however long its range is, with the
/// earliest and the latest date in its description. A done task stands on the day it was done; a dropped one is
/// `CANCELLED`. What is done only if something is seen or not seen, and what has no date yet, is `TENTATIVE` and
/// stands there from 14 days before it on.
///
/// Planned tasks have an alarm at 18:00 of the civil day before; moves one in the evening before when the
/// entrance is to be closed and one 30 minutes before they begin; closings one an hour before.
///
/// Titles begin with the box, in at most 26 letters, and no two plans have the same: where names are alike, the
/// keeper's name or a number goes with them.
///
/// The identifier of an event is made of the plan's and the task's `id`, so that a later version
/// with a higher `sequence` replaces an earlier one. Plans are sorted by place, then title.
///
/// # Errors
/// `not_enough_data` without any plan; `inconsistent` when an `id` is used twice, dates are out of
/// order or a window does not lie on the best date; `out_of_range` for an `id` that is not made of
/// small letters, digits and hyphens, for a `sequence` above 2147483647, and for dates outside
/// 1900–2100.
///
/// ```
/// use apiary_almanac::calendar::{IcsSettings, plans_from_json, plans_ics};
/// let plans = plans_from_json("plan.json", r#"[{
///     "id": "lantern-2026", "title": "Lantern", "method": "split", "bee": "generic_small",
///     "site": {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
///              "zone": "Australia/Sydney"},
///     "today": "2026-09-13", "window": null, "last_safe": null, "choices": [], "cautions": [],
///     "basis": [],
///     "tasks": [{"id": "divide", "kind": "divide", "which": "pair", "title": "Divide the brood",
///         "dates": {"earliest": "2026-10-10", "best": "2026-10-14", "latest": "2026-10-20"},
///         "why": [], "look_for": [], "cautions": [], "source": "common practice, no source",
///         "depends_on": [], "state": {"kind": "planned"}, "rests_on": {"recorded_days": 0,
///         "forecast_days": 0, "normal_days": 14, "default_days": 0}}]
/// }]"#)?;
/// let stamp = "2026-09-13T08:00:00+10:00".parse()?;
/// let text = plans_ics(&plans, &IcsSettings::new(stamp))?;
/// assert!(text.contains("UID:lantern-2026.divide@apiary-almanac\r\n"));
/// assert!(text.contains("DTSTART;VALUE=DATE:20261014\r\n"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn plans_ics(plans: &[Plan], settings: &IcsSettings) -> Result<String, Error> {
    check_plans(plans)?;
    check_sequence(settings)?;
    if plans.is_empty() {
        return Err(Error::NotEnoughData {
            field: "plans".to_owned(),
            given: "no plan".to_owned(),
            needed: "at least one".to_owned(),
        });
    }
    let mut sorted: Vec<&Plan> = plans.iter().collect();
    sorted.sort_by(|a, b| {
        a.site
            .zone
            .name()
            .cmp(b.site.zone.name())
            .then(f64::total_cmp(
                &a.site.latitude_deg.get(),
                &b.site.latitude_deg.get(),
            ))
            .then(f64::total_cmp(
                &a.site.longitude_deg.get(),
                &b.site.longitude_deg.get(),
            ))
            .then_with(|| a.title.cmp(&b.title))
            .then_with(|| a.id.cmp(&b.id))
    });
    let only = (plans.len() == 1).then(|| plans[0].title.as_str());
    let mut lines = begun(settings, only);
    for (zone, (first, last)) in zones(plans) {
        zone::write(&mut lines, zone, first, last);
    }
    let mut before = Before::of(settings.before.as_deref().unwrap_or_default());
    let labels = Labels::of(plans);
    for plan in sorted {
        let setting = Setting {
            plan,
            labels: &labels,
            among_others: plans.len() > 1,
        };
        for event in events(&setting) {
            let (sequence, stamp) = before.version(&event, settings);
            event.write(&mut lines, sequence, &stamp);
        }
    }
    let owners = plans.iter().map(|plan| plan.id.clone()).collect();
    before.cancel_rest(&owners, settings, &mut lines);
    lines.end("VCALENDAR");
    Ok(lines.into_text())
}

/// The beginning of a calendar; `only` is what it is called where it was given no name.
fn begun(settings: &IcsSettings, only: Option<&str>) -> Lines {
    let mut lines = Lines::default();
    lines.begin("VCALENDAR");
    lines.value("VERSION", "2.0");
    lines.text("PRODID", PRODUCT);
    if let Some(name) = settings.name.as_deref().or(only) {
        lines.text("NAME", name); // RFC 7986
        lines.text("X-WR-CALNAME", name);
    }
    lines
}

/// The tasks by date, then what has none yet.
fn events(setting: &Setting<'_>) -> Vec<Event> {
    let plan = setting.plan;
    let near = plan.today + Days::new(NEAR_D);
    let mut tasks: Vec<&Task> = plan
        .tasks
        .iter()
        .filter(|task| is_shown(task, near))
        .collect();
    tasks.sort_by_key(|task| task.dates.best);
    let tasks = tasks.into_iter().enumerate();
    let mut events: Vec<_> = tasks
        .map(|(i, task)| event::of(setting, task, i == 0))
        .collect();
    events.extend(plan.waiting.iter().filter_map(|task| {
        let date = task.not_before.filter(|date| *date <= near)?;
        Some(event::waiting(setting, task, date))
    }));
    events
}

/// Whether a task stands in a calendar: what may never be needed only when its time is near.
fn is_shown(task: &Task, near: NaiveDate) -> bool {
    task.only_if.is_none() || task.state != TaskState::Planned || task.dates.earliest <= near
}

fn check_sequence(settings: &IcsSettings) -> Result<(), Error> {
    if settings.sequence <= LARGEST_SEQUENCE {
        return Ok(());
    }
    Err(Error::out_of_range(
        "sequence",
        settings.sequence,
        format_args!("0 to {LARGEST_SEQUENCE}"),
    ))
}

/// Every zone by name, with the dates that its events cover.
fn zones(plans: &[Plan]) -> Vec<(Tz, (NaiveDate, NaiveDate))> {
    let mut spans: Vec<(Tz, (NaiveDate, NaiveDate))> = Vec::new();
    for plan in plans {
        let zone = plan.site.zone;
        let place = spans.iter().position(|(known, _)| *known == zone);
        let place = place.unwrap_or_else(|| {
            spans.push((zone, (plan.today, plan.today)));
            spans.len() - 1
        });
        let (_, span) = &mut spans[place];
        for task in &plan.tasks {
            *span = (span.0.min(task.day()), span.1.max(task.day()));
        }
    }
    spans.sort_by_key(|(zone, _)| zone.name());
    spans
}

#[cfg(test)]
mod tests;
