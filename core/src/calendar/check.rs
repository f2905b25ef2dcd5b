//! Refuses plans that no calendar could show.

use std::collections::BTreeSet;

use crate::civil::{check_date, civil_day};
use crate::error::{Error, quoted};
use crate::plan::{LONGEST_ID, Plan};
use crate::task::{Task, TaskState};

/// Checks what identifiers, dates and windows must hold, and that no identifier is used twice.
pub(super) fn check_plans(plans: &[Plan]) -> Result<(), Error> {
    let mut ids = BTreeSet::new();
    for (i, plan) in plans.iter().enumerate() {
        let place = format!("plans[{i}]");
        check_plan(plan, &place)?;
        if !ids.insert(&plan.id) {
            return Err(twice(&place, &plan.id));
        }
    }
    Ok(())
}

pub(super) fn check_plan(plan: &Plan, place: &str) -> Result<(), Error> {
    check_id(&format!("{place}.id"), &plan.id)?;
    check_date(&format!("{place}.today"), plan.today)?;
    for (name, date) in [
        ("last_safe", plan.last_safe),
        ("window.opens", plan.window.as_ref().map(|w| w.opens)),
        ("window.closes", plan.window.as_ref().map(|w| w.closes)),
    ] {
        if let Some(date) = date {
            check_date(&format!("{place}.{name}"), date)?;
        }
    }
    let mut ids = BTreeSet::new();
    for (j, task) in plan.tasks.iter().enumerate() {
        let place = format!("{place}.tasks[{j}]");
        check_task(plan, task, &place)?;
        if !ids.insert(&task.id) {
            return Err(twice(&place, &task.id));
        }
    }
    Ok(())
}

fn check_task(plan: &Plan, task: &Task, place: &str) -> Result<(), Error> {
    check_id(&format!("{place}.id"), &task.id)?;
    let dates = &task.dates;
    for (name, date) in [
        ("earliest", dates.earliest),
        ("best", dates.best),
        ("latest", dates.latest),
    ] {
        check_date(&format!("{place}.dates.{name}"), date)?;
    }
    if !(dates.earliest <= dates.best && dates.best <= dates.latest) {
        return Err(Error::Inconsistent {
            field: format!("{place}.dates"),
            problem: format!(
                "earliest {}, best {}, latest {} are not in this order",
                dates.earliest, dates.best, dates.latest
            ),
        });
    }
    if let TaskState::Done { on } = task.state {
        check_date(&format!("{place}.state.on"), on)?;
    }
    if let Some(window) = &task.window {
        let day = |at| civil_day(at, plan.site.zone);
        let problem = if window.until <= window.from {
            format!("it ends at {}, not after {}", window.until, window.from)
        } else if day(window.from) != dates.best || day(window.until) != dates.best {
            format!(
                "{} to {} does not lie on the best date {} in {}",
                window.from, window.until, dates.best, plan.site.zone
            )
        } else {
            return Ok(());
        };
        return Err(Error::Inconsistent {
            field: format!("{place}.window"),
            problem,
        });
    }
    Ok(())
}

fn check_id(field: &str, id: &str) -> Result<(), Error> {
    let good = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
    if (1..=LONGEST_ID).contains(&id.len()) && id.bytes().all(good) {
        Ok(())
    } else {
        Err(Error::out_of_range(
            field,
            quoted(id),
            format_args!("1 to {LONGEST_ID} small letters, digits and hyphens"),
        ))
    }
}

fn twice(place: &str, id: &str) -> Error {
    Error::Inconsistent {
        field: format!("{place}.id"),
        problem: format!("{id} is used twice; calendars build their identifiers from it"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample::plan;
    use super::*;

    fn refused(change: impl Fn(&mut Plan)) -> (&'static str, String) {
        let mut changed = plan();
        change(&mut changed);
        let error = check_plans(&[plan_named("other"), changed]).unwrap_err();
        (error.code(), error.field().to_owned())
    }

    fn plan_named(id: &str) -> Plan {
        Plan {
            id: id.to_owned(),
            ..plan()
        }
    }

    #[test]
    fn what_no_calendar_could_show() {
        check_plans(&[plan_named("one"), plan_named("two")]).unwrap();
        let inconsistent = |field: &str| ("inconsistent", field.to_owned());
        let out_of_range = |field: &str| ("out_of_range", field.to_owned());
        assert_eq!(
            refused(|p| p.id = "other".to_owned()),
            inconsistent("plans[1].id")
        );
        for id in [
            "",
            "Lantern",
            "a b",
            "a\r\nX:1",
            &"x".repeat(LONGEST_ID + 1),
        ] {
            assert_eq!(
                refused(|p| p.id = id.to_owned()),
                out_of_range("plans[1].id")
            );
            assert_eq!(
                refused(|p| p.tasks[1].id = id.to_owned()),
                out_of_range("plans[1].tasks[1].id")
            );
        }
        assert_eq!(
            refused(|p| p.tasks[1].id = p.tasks[0].id.clone()),
            inconsistent("plans[1].tasks[1].id")
        );
        assert_eq!(
            refused(|p| p.tasks[0].dates.latest = p.today - chrono::Days::new(40)),
            inconsistent("plans[1].tasks[0].dates")
        );
        assert_eq!(
            refused(|p| p.today = "1899-12-31".parse().unwrap()),
            out_of_range("plans[1].today")
        );
        let timed = plan()
            .tasks
            .iter()
            .position(|t| t.window.is_some())
            .unwrap();
        let window = format!("plans[1].tasks[{timed}].window");
        assert_eq!(
            refused(|p| {
                let w = p.tasks[timed].window.as_mut().unwrap();
                (w.from, w.until) = (w.until, w.from);
            }),
            inconsistent(&window)
        );
        assert_eq!(
            refused(|p| {
                let w = p.tasks[timed].window.as_mut().unwrap();
                w.until += chrono::TimeDelta::days(1);
            }),
            inconsistent(&window)
        );
    }
}
