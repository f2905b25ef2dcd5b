//! What holds a stage up, in sentences.

use chrono::NaiveDate;

use super::stages::Dawns;
use crate::civil::days;
use crate::error::Error;
use crate::morning::MoveWindow;
use crate::reason::Reason;
use crate::weather::Weather;

/// Known days without flight that follow each other for the same cause.
struct Spell {
    first: NaiveDate,
    last: NaiveDate,
    days: u32,
    cause: Reason,
}

impl Spell {
    fn sentence(&self) -> Reason {
        let code = match self.cause.code.as_ref() {
            "too_wet" => "held_by_rain",
            "too_cold" | "too_short" => "held_by_cold",
            _ => "held_by_darkness",
        };
        let text = if self.days == 1 {
            format!("{} was no flying day: {}", self.first, self.cause.text)
        } else {
            format!(
                "{} days from {} to {} are no flying days. On the first: {}",
                self.days, self.first, self.last, self.cause.text
            )
        };
        Reason::new(code, text)
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
        match spells.last_mut() {
            Some(spell) if unbroken && spell.cause.code == flight.reason.code => {
                spell.last = date;
                spell.days += 1;
            }
            _ => spells.push(Spell {
                first: date,
                last: date,
                days: 1,
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
        reasons.push(Reason::new(
            "mornings_without_window",
            format!(
                "{} mornings before it have no move window. On the first: {}",
                windowless.len(),
                first.text
            ),
        ));
    }
    if cool_days > 0 {
        reasons.push(Reason::new(
            "cool_season",
            format!(
                "On {cool_days} days before it the mean of the season is too cold or too dark for \
                 flight; the date counts on warmer days among them."
            ),
        ));
    }
    Ok(reasons)
}
