//! What commas and numbers without a unit mean: proved by the text, answered, or asked.

use super::answer::CommaMeans;
use super::entry::{Entry, Slot};
use super::names::Unit;
use super::number::{Comma, Figure};
use super::read::Reader;
use super::words::rounded;
use crate::reason::say;

/// How far from the usual minimum and maximum of the place a temperature can be for its unit to be
/// possible, °C. Common practice, no source: six standard deviations of daily maxima on a subtropical
/// coast, four of a dry interior.
const POSSIBLE_C: f64 = 20.0;
impl Reader<'_> {
    /// Settles what commas mean.
    pub(super) fn commas(&mut self, entries: &mut [Entry]) {
        let figures = || {
            entries
                .iter()
                .flat_map(|entry| [&entry.low, &entry.high, &entry.rain, &entry.wind])
                .filter_map(Slot::figure)
        };
        let proves = |comma| figures().any(|figure| figure.proves == Some(comma));
        let proven = match (proves(Comma::Decimal), proves(Comma::Thousands)) {
            (true, false) => Some(Comma::Decimal),
            (false, true) => Some(Comma::Thousands),
            _ => None,
        };
        let comma = proven.or(self.answers.comma.map(CommaMeans::into));
        let mut unclear = None;
        for entry in entries {
            let settle = |figure: &mut Figure, most: f64| {
                if figure.is_clear() {
                    return true;
                }
                // No air is at 1200 °, no wind blows at 1200 of any unit.
                let only = (figure.thousands.abs() > most).then_some(Comma::Decimal);
                let Some(comma) = only.or(comma) else {
                    return false;
                };
                let value = figure.value(comma);
                (figure.decimal, figure.thousands) = (value, value);
                true
            };
            for (slot, most) in [
                (&mut entry.low, 200.0),
                (&mut entry.high, 200.0),
                (&mut entry.wind, 400.0),
                (&mut entry.rain, 2000.0),
            ] {
                if let Some(figure) = slot.figure_mut()
                    && !settle(figure, most)
                {
                    unclear.get_or_insert((*figure, entry.given.clone()));
                }
            }
        }
        if let Some((figure, given)) = unclear {
            self.ask(
                "comma",
                format!("What does the comma stand for in “{given}”?"),
                &[
                    ("decimal", format!("decimals: {}", figure.decimal)),
                    ("thousands", format!("thousands: {}", figure.thousands)),
                ],
                false,
            );
        }
    }

    /// The unit of temperatures, or a question.
    pub(super) fn temperature_unit(
        &mut self,
        declared: Option<Unit>,
        extremes: &[(f64, f64)],
    ) -> Option<Unit> {
        if declared.is_some() {
            return declared;
        }
        if let Some(unit) = self.answers.temperature_unit {
            return Some(unit.into());
        }
        let (usual_low, usual_high) = self.usual;
        let possible = |unit: Unit| {
            extremes.iter().all(|(low, high)| {
                (unit.to_si(*low) - usual_low).abs() <= POSSIBLE_C
                    && (unit.to_si(*high) - usual_high).abs() <= POSSIBLE_C
            })
        };
        let usual = format!("{usual_low:.0} to {usual_high:.0} °C are usual at this place");
        match (possible(Unit::Celsius), possible(Unit::Fahrenheit)) {
            (true, false) => {
                self.note(say::taken_as_celsius(usual_low, usual_high));
                Some(Unit::Celsius)
            }
            (false, true) => {
                self.note(say::taken_as_fahrenheit(usual_low, usual_high));
                Some(Unit::Fahrenheit)
            }
            _ => {
                let (low, high) = extremes.first().copied().unwrap_or_default();
                let f = |value| rounded(Unit::Fahrenheit.to_si(value));
                self.ask(
                    "temperature_unit",
                    format!("Are the temperatures °C or °F? ({usual}.)"),
                    &[
                        ("c", format!("{low} to {high} °C")),
                        (
                            "f",
                            format!("{low} to {high} °F, which is {} to {} °C", f(low), f(high)),
                        ),
                    ],
                    true,
                );
                None
            }
        }
    }

    pub(super) fn rain_unit(&mut self, entries: &[Entry], temperatures: Unit) -> Option<Unit> {
        let figures: Vec<&Figure> = entries
            .iter()
            .filter_map(|entry| entry.rain.figure())
            .collect();
        if let Some(unit) = figures.iter().find_map(|figure| figure.unit) {
            return Some(unit);
        }
        if let Some(unit) = self.answers.rain_unit {
            return Some(unit.into());
        }
        let most = figures
            .iter()
            .map(|figure| figure.decimal)
            .fold(0.0, f64::max);
        if figures.is_empty() || most == 0.0 {
            return Some(Unit::Millimetres);
        }
        if temperatures == Unit::Celsius {
            self.note(say::rain_in_mm());
            return Some(Unit::Millimetres);
        }
        self.ask(
            "rain_unit",
            "Is the rain in inches or in mm? Until that is known the days count without rain."
                .to_owned(),
            &[
                (
                    "in",
                    format!("{most} in, which is {} mm", rounded(most * 25.4)),
                ),
                ("mm", format!("{most} mm")),
            ],
            false,
        );
        None
    }

    pub(super) fn wind_unit(&mut self, entries: &[Entry]) -> Option<Unit> {
        let figures: Vec<&Figure> = entries
            .iter()
            .filter_map(|entry| entry.wind.figure())
            .collect();
        if let Some(unit) = figures.iter().find_map(|figure| figure.unit) {
            return Some(unit);
        }
        if let Some(unit) = self.answers.wind_unit {
            return Some(unit.into());
        }
        let most = figures
            .iter()
            .map(|figure| figure.decimal)
            .fold(0.0, f64::max);
        if figures.is_empty() {
            return None;
        }
        let reading = |unit: Unit, name: &str| {
            format!("{most} {name}, which is {} m/s", rounded(unit.to_si(most)))
        };
        self.ask(
            "wind_unit",
            "In which unit is the wind? Until that is known the days count without wind."
                .to_owned(),
            &[
                ("m_s", format!("{most} m/s")),
                ("km_h", reading(Unit::KilometresPerHour, "km/h")),
                ("mph", reading(Unit::MilesPerHour, "miles an hour")),
                ("kn", reading(Unit::Knots, "knots")),
            ],
            false,
        );
        None
    }
}
