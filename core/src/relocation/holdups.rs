//! What holds a stage up, in sentences.

use chrono::NaiveDate;

use super::stages::Dawns;
use crate::bee::Bee;
use crate::civil::days;
use crate::error::Error;
use crate::flight::{Flight, FlightDay};
use crate::morning::MoveWindow;
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

/// The days from `from` to the day before `to` whose weather is known and on which bees do not fly.
pub(crate) fn known_spells(
    from: NaiveDate,
    to: NaiveDate,
    weather: &Weather<'_>,
) -> Result<Vec<Reason>, Error> {
    let mut spells: Vec<Spell> = Vec::new();
    let mut unbroken = false;
    for date in days(from, to, weather.site.zone).filter(|date| *date < to) {
        let day = weather.day(date)?;
        let flight = &day.frame.flight;
        if flight.flying_day || !day.is_known() {
            unbroken = false;
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
    Ok(spells.iter().map(Spell::sentence).collect())
}

/// The days from `from` to the day before `to`, as far as bees do not fly or no window opens.
pub(super) fn holdups(
    from: NaiveDate,
    to: NaiveDate,
    dawns: &Dawns<'_, '_>,
) -> Result<Vec<Reason>, Error> {
    let mut reasons = known_spells(from, to, dawns.weather)?;
    let (mut cool_days, mut windowless) = (0, Vec::new());
    for date in days(from, to, dawns.weather.site.zone).filter(|date| *date < to) {
        let day = dawns.weather.day(date)?;
        let flight = &day.frame.flight;
        if flight.flying_day {
            let morning = dawns.morning(date)?;
            if let MoveWindow::None { reasons, .. } = &morning.window
                && dawns.window(&morning).is_none()
            {
                windowless.extend(reasons.first().cloned());
            }
        } else if !day.is_known() {
            cool_days += 1;
        }
    }
    if let Some(first) = windowless.first() {
        let mornings = windowless.len() as f64;
        reasons.push(say::mornings_without_window(mornings, first.clone()));
    }
    if cool_days > 0 {
        reasons.push(say::cool_season(cool_days.into()));
    }
    Ok(reasons)
}
