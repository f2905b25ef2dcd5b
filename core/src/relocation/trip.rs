//! A closed hive on the road: closed in the evening, lifted at dawn, opened where it stands.

use chrono::{Days, NaiveDate};
use serde::Serialize;

use super::stages::Dawns;
use crate::civil::{next_day, previous_day};
use crate::error::Error;
use crate::morning::EveningClosing;
use crate::number::Sourced;
use crate::reason::{Reason, say};
use crate::task::TimeWindow;
use crate::wait::{DateRange, Luck, RestsOn, rests_on};
use crate::wire::FromNode;

/// Days for which a morning that is neither too warm nor too cold is looked for.
const PATIENCE_D: u64 = 30;

/// One journey of a closed hive.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Trip {
    /// The morning of the journey.
    pub dates: DateRange,
    /// When the entrance is closed, on the evening before the best date.
    pub evening_before: EveningClosing,
    /// From work light until the air is too warm for a closed hive, at noon at the latest; `None`
    /// where there is no such stretch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lift: Option<TimeWindow>,
    /// Why then.
    pub reasons: Vec<Reason>,
    /// Which weather the best date rests on, from the first possible date.
    pub rests_on: RestsOn,
}

/// What a closed hive can bear.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct TransitLimits {
    /// Air colder than this chills brood when a hive is carried, °C.
    pub coldest_work_c: Sourced,
    /// Air warmer than this makes a closed hive hot: by then it stands and is open, °C.
    pub warmest_work_c: Sourced,
    /// No journey on a day that gets as warm as this, °C.
    pub heat_shade_c: Sourced,
    /// A hive that gets as warm as this is in danger, closed or open, °C.
    pub heat_limit_c: Sourced,
    /// How the entrance is closed.
    pub closing: Reason,
}

impl Dawns<'_, '_> {
    pub fn limits(&self) -> TransitLimits {
        let bee = self.weather.bee();
        TransitLimits {
            coldest_work_c: self.mornings.coldest_work_c.clone(),
            warmest_work_c: self.mornings.warmest_work_c.clone(),
            heat_shade_c: bee.heat_shade_c.clone(),
            heat_limit_c: bee.heat_limit_c.clone(),
            closing: say::mesh(),
        }
    }

    /// The first good mornings for a journey from `first` on.
    pub fn trip(&self, first: &DateRange) -> Result<Trip, Error> {
        let mut dates = [first.earliest; 3];
        let mut none_good = false;
        for (slot, luck) in dates.iter_mut().zip(Luck::ALL) {
            let from = luck.of(first);
            let good = self.good_morning(from, luck)?;
            none_good |= luck == Luck::Middle && good.is_none();
            *slot = good.unwrap_or(from);
        }
        let [earliest, best, latest] = dates;
        let dates = DateRange {
            earliest: earliest.min(best),
            best,
            latest: latest.max(best),
        };
        let mut reasons = Vec::new();
        if none_good {
            reasons.push(say::no_mild_morning(PATIENCE_D as f64));
        } else if best > first.best {
            let unfit = self.unfit(first.best)?;
            reasons.extend(unfit);
        }
        reasons.push(say::closed_overnight());
        let morning = self.morning(best)?;
        let eve = previous_day(first.best, self.weather.site.zone)?;
        Ok(Trip {
            dates,
            evening_before: morning.evening_before,
            lift: self.lift(best)?,
            reasons,
            rests_on: rests_on(eve, best, self.weather)?,
        })
    }

    fn good_morning(&self, from: NaiveDate, luck: Luck) -> Result<Option<NaiveDate>, Error> {
        let mut date = from;
        while date <= from + Days::new(PATIENCE_D) {
            let lucky = luck == Luck::Early && !self.weather.day(date)?.is_known();
            if lucky || self.unfit(date)?.is_none() {
                return Ok(Some(date));
            }
            date = next_day(date, self.weather.site.zone)?;
        }
        Ok(None)
    }

    /// Why a morning is not fit for a journey.
    fn unfit(&self, date: NaiveDate) -> Result<Option<Reason>, Error> {
        let morning = self.morning(date)?;
        let (cold_c, warm_c) = (
            self.mornings.coldest_work_c.value,
            self.mornings.warmest_work_c.value,
        );
        let shade_c = self.weather.bee.heat_shade_c.value;

        Ok(match morning.temperature_c {
            None => Some(say::no_dawn_to_travel(date)),
            Some(c) if c < cold_c => Some(say::too_cold_to_travel(c, date, cold_c)),
            Some(c) if c >= warm_c => Some(say::too_warm_to_travel(c, date, warm_c)),
            Some(_) if morning.maximum_c >= shade_c => {
                Some(say::too_hot_a_day(morning.maximum_c, date, shade_c))
            }
            Some(_) => None,
        })
    }

    fn lift(&self, date: NaiveDate) -> Result<Option<TimeWindow>, Error> {
        let day = self.weather.day(date)?;
        let warm = day
            .frame
            .curve
            .stretch_at_or_above(self.mornings.warmest_work_c.value);
        let noon = day.frame.sky.noon();
        let until = warm.map_or(noon, |(from, _)| from.min(noon));
        let from = self.morning(date)?.work_light;
        Ok(from
            .filter(|from| *from < until)
            .map(|from| TimeWindow { from, until }))
    }
}
