//! One calendar for each hive, keeper or club.

use serde::Serialize;

use super::{IcsSettings, plans_ics};
use crate::calendar::check::check_plans;
use crate::error::Error;
use crate::plan::{Plan, slug};
use crate::wire::FromNode;

/// What one calendar is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum CalendarPer {
    /// A hive, with the colonies that were made from it.
    Hive,
    /// A keeper, with all hives.
    Keeper,
    /// A club, with all keepers.
    Club,
}

/// A calendar of some of the plans.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct NamedCalendar {
    /// The name in small letters, digits and hyphens, for a file; with a number where another calendar has it.
    pub id: String,
    /// Its name: club, keeper and hive, as far as it goes and they are known.
    pub name: String,
    /// An iCalendar file (RFC 5545); its lines end with CRLF, which must stay.
    pub ics: String,
}

/// Writes plans as several calendars, in the order in which hives, keepers or clubs first come.
///
/// Each is what [`plans_ics`] gives of its plans. `before` of the settings may hold calendars that were made
/// before one after the other: each takes the events of its own plans. `name` of the settings is not used.
///
/// # Errors
/// As [`plans_ics`].
///
/// ```
/// use apiary_almanac::Site;
/// use apiary_almanac::calendar::{CalendarPer, IcsSettings, plans_ics_per};
/// use apiary_almanac::plan::{Colony, PlanRequest, plan};
/// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
/// let of = |hive: &str| {
///     plan(&PlanRequest::new(site, "2026-09-13".parse().unwrap(), "split", Colony::new(hive)).with_keeper("Ines"))
/// };
/// let plans = [of("Wattle")?, of("Bunya")?];
/// let settings = IcsSettings::new("2026-09-13T08:00:00+10:00".parse()?);
/// let calendars = plans_ics_per(&plans, CalendarPer::Hive, &settings)?;
/// assert_eq!(calendars[1].name, "Ines · Bunya");
/// assert_eq!(plans_ics_per(&plans, CalendarPer::Keeper, &settings)?.len(), 1);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn plans_ics_per(
    plans: &[Plan],
    per: CalendarPer,
    settings: &IcsSettings,
) -> Result<Vec<NamedCalendar>, Error> {
    check_plans(plans)?;
    let mut groups: Vec<(Vec<&str>, Vec<Plan>)> = Vec::new();
    for plan in plans {
        let names = names(plan, per);
        match groups.iter_mut().find(|(known, _)| *known == names) {
            Some((_, plans)) => plans.push(plan.clone()),
            None => groups.push((names, vec![plan.clone()])),
        }
    }
    let mut calendars: Vec<NamedCalendar> = Vec::with_capacity(groups.len());
    for (names, plans) in groups {
        let name = names.join(" · ");
        let settings = settings.clone().with_name(name.as_str());
        let ics = plans_ics(&plans, &settings)?;
        // Names that differ in their signs alone are one in small letters and hyphens.
        let slug = slug(&names);
        let is_free = |id: &String| calendars.iter().all(|known| known.id != *id);
        let numbered = (2..).map(|number| format!("{slug}-{number}"));
        let id = [slug.clone()].into_iter().chain(numbered).find(is_free);
        let id = id.unwrap_or(slug);
        calendars.push(NamedCalendar { id, name, ics });
    }
    Ok(calendars)
}

/// Club, keeper and hive, as far as it goes and they are known.
fn names(plan: &Plan, per: CalendarPer) -> Vec<&str> {
    let (club, keeper) = (plan.club.as_deref(), plan.keeper.as_deref());
    let hive = Some(plan.parent_name.as_str()).filter(|name| !name.is_empty());
    let names = match per {
        CalendarPer::Hive => [club, keeper, hive],
        CalendarPer::Keeper => [club, keeper, None],
        CalendarPer::Club => [club, None, None],
    };
    let known: Vec<_> = names.into_iter().flatten().collect();
    if known.is_empty() {
        return vec![&plan.title];
    }
    known
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::sample::plan;

    #[test]
    fn hives_whose_names_differ_in_signs_alone_have_calendars_of_their_own() {
        let of = |hive: &str, id: &str| {
            let mut plan = plan();
            plan.parent_name = hive.to_owned();
            plan.id = id.to_owned();
            plan
        };
        let plans = [of("Wattle 1", "a"), of("Wattle-1", "b"), of("Bunya", "c")];
        let settings = IcsSettings::new("2026-09-13T08:00:00+10:00".parse().unwrap());
        let calendars = plans_ics_per(&plans, CalendarPer::Hive, &settings).unwrap();
        let ids: Vec<_> = calendars.iter().map(|one| one.id.as_str()).collect();
        assert_eq!(ids.len(), 3);
        assert!(
            ids[1] == format!("{}-2", ids[0]) && ids[2] != ids[0],
            "{ids:?}"
        );
        // Events of the same name would be taken for each other.
        let twice = [of("Wattle 1", "a"), of("Wattle-1", "a")];
        let error = plans_ics_per(&twice, CalendarPer::Hive, &settings).unwrap_err();
        assert_eq!(
            error.code(),
            plans_ics(&twice, &settings).unwrap_err().code()
        );
    }
}
