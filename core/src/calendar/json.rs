//! Plans as JSON: an array, each plan in its serde form.

use crate::calendar::check::check_plans;
use crate::error::Error;
use crate::plan::Plan;
use crate::wire;

/// Writes plans as one JSON array.
///
/// # Errors
/// `inconsistent` or `out_of_range` for plans that no calendar could show, as
/// [`super::plans_ics`].
///
/// ```
/// use apiary_almanac::calendar::{plans_from_json, plans_json};
/// let plans = plans_from_json("plans.json", "[]")?;
/// assert_eq!(plans_json(&plans)?, "[]");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn plans_json(plans: &[Plan]) -> Result<String, Error> {
    check_plans(plans)?;
    Ok(wire::to_json(&plans))
}

/// Reads plans that [`plans_json`] wrote; `what` names the text in errors.
///
/// # Errors
/// `unreadable` with the path, and what [`plans_json`] refuses.
///
/// ```
/// use apiary_almanac::calendar::{plans_from_json, plans_json};
/// use apiary_almanac::plan::{Colony, PlanRequest};
/// use apiary_almanac::{Site, plan};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let plan = plan(&PlanRequest::new(site, "2026-09-13".parse()?, "split", Colony::new("Wattle")))?;
/// // Kept in a file until the next year.
/// let kept = plans_json(std::slice::from_ref(&plan))?;
/// assert_eq!(plans_from_json("plans.json", &kept)?, [plan]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn plans_from_json(what: &str, text: &str) -> Result<Vec<Plan>, Error> {
    let plans: Vec<Plan> = wire::from_json(what, text)?;
    check_plans(&plans)?;
    Ok(plans)
}

#[cfg(test)]
mod tests {
    use super::super::sample::plan;
    use super::*;

    #[test]
    fn an_array_of_plans_that_a_reader_of_json_understands() {
        let other = Plan {
            id: "other".to_owned(),
            ..plan()
        };
        let text = plans_json(&[plan(), other]).unwrap();
        let read: Vec<serde_json::Value> = serde_json::from_str(&text).unwrap();
        let sample: serde_json::Value =
            serde_json::from_str(include_str!("../../tests/pictures/invented-plan.json")).unwrap();
        assert_eq!(read.len(), 2);
        assert_eq!(read[1]["id"], "other");
        let tasks = |plan: &serde_json::Value| plan["tasks"].as_array().unwrap().clone();
        assert_eq!(tasks(&read[0]).len(), tasks(&sample).len());
        for (written, given) in std::iter::zip(tasks(&read[0]), tasks(&sample)) {
            for name in ["id", "kind", "title", "dates", "state"] {
                assert_eq!(written[name], given[name]);
            }
        }
    }

    #[test]
    fn what_no_plan_can_be_is_refused() {
        let refused = |from: &str, to: &str| {
            let text = plans_json(&[plan()]).unwrap();
            assert!(text.contains(from), "{from}");
            plans_from_json("p.json", &text.replacen(from, to, 1)).unwrap_err()
        };
        let unknown = refused("\"method\"", "\"mood\":1,\"method\"");
        assert_eq!(unknown.code(), "unreadable");
        assert!(unknown.to_string().contains("mood"), "{unknown}");
        let turned = refused("\"earliest\":\"2026-09-12\"", "\"earliest\":\"2026-09-13\"");
        assert_eq!(turned.code(), "inconsistent");
        let same = plan();
        let twice = plans_json(&[same.clone(), same]).unwrap_err();
        assert_eq!(twice.code(), "inconsistent");
    }
}
