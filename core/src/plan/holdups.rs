//! What holds a step up that waits for flying days, in sentences.

use chrono::NaiveDate;

use crate::bee::Bee;
use crate::civil::days;
use crate::error::Error;
use crate::flight::{Flight, FlightDay};
use crate::reason::{Reason, say};
use crate::weather::Weather;

/// Known days without flight that follow each other for the same cause.
struct Spell {
    first: NaiveDate,
    last: NaiveDate,
    days: u32,
    hold: Hold,
    cause: Reason,
}

impl Spell {
    fn sentence(&self) -> Reason {
        let held = match self.hold {
            Hold::Rain => say::held_by_rain,
            Hold::Cold | Hold::FewHours => say::held_by_cold,
            Hold::Darkness | Hold::WarmInTheDark => say::held_by_darkness,
        };
        let last = (self.days > 1).then_some(self.last);
        held(self.days.into(), self.first, last, self.cause.clone())
    }
}

/// What keeps bees in on a day.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Hold {
    Rain,
    Cold,
    FewHours,
    Darkness,
    WarmInTheDark,
}

impl Hold {
    fn of(flight: &FlightDay, bee: &Bee) -> Self {
        let rain_mm = flight.temperatures.rain_mm;
        match flight.flight {
            Flight::TooCold => Hold::Cold,
            Flight::TooDark => Hold::Darkness,
            Flight::NeverBoth => Hold::WarmInTheDark,
            Flight::Possible { .. } if rain_mm >= Some(bee.rain_limit_mm.value) => Hold::Rain,
            Flight::Possible { .. } => Hold::FewHours,
        }
    }
}

/// What holds a step up: the days from `from` to the day before `to` on which bees do not fly, those
/// whose weather is known in spells, and how many days the season itself is too cold or dark.
pub(super) fn holdups(
    from: NaiveDate,
    to: NaiveDate,
    weather: &Weather<'_>,
) -> Result<Vec<Reason>, Error> {
    let mut spells: Vec<Spell> = Vec::new();
    let (mut unbroken, mut cool_days) = (false, 0_u32);
    for date in days(from, to, weather.site.zone).filter(|date| *date < to) {
        let day = weather.day(date)?;
        let flight = &day.frame.flight;
        if flight.flying_day || !day.is_known() {
            unbroken = false;
            cool_days += u32::from(!flight.flying_day);
            continue;
        }
        let hold = Hold::of(flight, weather.bee());
        match spells.last_mut() {
            Some(spell) if unbroken && spell.hold == hold => {
                spell.last = date;
                spell.days += 1;
            }
            _ => spells.push(Spell {
                first: date,
                last: date,
                days: 1,
                hold,
                cause: flight.reason.clone(),
            }),
        }
        unbroken = true;
    }
    let cool = (cool_days > 0).then(|| say::cool_season(cool_days.into()));
    Ok(spells.iter().map(Spell::sentence).chain(cool).collect())
}
