//! The weather of the places where colonies stand, worked out once for all that stand there.

use std::cell::RefCell;
use std::rc::Rc;

use super::PlanRequest;
use crate::bee::Bee;
use crate::climate::Climate;
use crate::error::Error;
use crate::weather::Weather;

/// Most places whose weather is kept at a time: each takes some hundred kilobytes.
const MOST_KEPT: usize = 50;

/// The places of some plans, the newest last.
#[derive(Default)]
pub(crate) struct Places<'r> {
    known: RefCell<Vec<Known<'r>>>,
}

/// The first plan of a place, and its weather.
type Known<'r> = (&'r PlanRequest, Rc<Weather<'static>>);

impl<'r> Places<'r> {
    /// The weather of the place of a plan, for its bee.
    pub fn weather(&self, plan: &'r PlanRequest) -> Result<Rc<Weather<'static>>, Error> {
        let mut known = self.known.borrow_mut();
        let same = |(other, _): &&Known<'_>| {
            plan.site == other.site && plan.bee == other.bee && plan.climate == other.climate
        };
        if let Some((_, weather)) = known.iter().find(same) {
            return Ok(weather.clone());
        }
        let bee = Bee::with_overrides(&plan.bee)?;
        let climate = Climate::from_input(&plan.site, &plan.climate)?;
        let weather = Rc::new(Weather::owning(plan.site, climate, bee));
        if known.len() == MOST_KEPT {
            known.remove(0);
        }
        known.push((plan, weather.clone()));
        Ok(weather)
    }
}
