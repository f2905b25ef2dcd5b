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
    fn there_and_back() {
        let text = plans_json(&[plan()]).unwrap();
        assert_eq!(plans_from_json("p", &text).unwrap(), [plan()]);
        let extra = text.replacen("\"method\"", "\"mood\":1,\"method\"", 1);
        assert_eq!(
            plans_from_json("p", &extra).unwrap_err().code(),
            "unreadable"
        );
    }
}
