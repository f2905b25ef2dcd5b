//! What the spread of the days makes of a morning that is only known as a mean of many years.

use chrono::Datelike;
use serde::Serialize;

use super::{Morning, MorningSettings, minutes};
use crate::bee::Bee;
use crate::civil::Instant;
use crate::climate::Climate;
use crate::flight::{DayFrame, Flight};
use crate::normal::{chance_at_or_above, chance_at_or_below};
use crate::wire::FromNode;

/// Chances of a morning of which only the mean over many years is known, 0 to 1: of normally
/// distributed departures from that mean with the standard deviations of [`Climate::spread`]. Both
/// are closed forms, each with an assumption; none comes from a simulation.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct MorningChances {
    /// That the air at work light is neither colder nor warmer than a hive should be carried in:
    /// between [`MorningSettings::coldest_work_c`] and [`MorningSettings::warmest_work_c`], if the
    /// air at work light departs from its mean as the night's minimum does.
    pub mild_work: f64,
    /// That there is a move window, if the temperatures of the day and its neighbours all depart
    /// from their means as the day's mean does.
    pub window: f64,
}

/// Chances of a morning; `None` where its day is recorded or forecast, where the spread is not known,
/// or where there is no dawn.
pub(super) fn chances(
    climate: &Climate,
    bee: &Bee,
    settings: &MorningSettings,
    today: &DayFrame,
    morning: &Morning,
) -> Option<MorningChances> {
    let date = morning.date;
    let spread = climate.spread().filter(|_| morning.source.is_a_mean());
    let (Some(spread), Some(from), Some(c)) = (spread, morning.work_light, morning.temperature_c)
    else {
        return None;
    };
    let sd_c = spread.of(date);
    let outside = chance_at_or_below(settings.coldest_work_c.value, c, sd_c.minimum)
        + chance_at_or_above(settings.warmest_work_c.value, c, sd_c.minimum);
    let shortest = minutes(settings.shortest_window_min.value);
    let margin = minutes(settings.margin_min.value);
    // The warmer it is, the earlier they fly, and the shorter the window.
    let is_open = |flight: &Flight, early_first: Option<Instant>| {
        let by = match flight {
            Flight::Possible { first, .. } if settings.closed_evening_before => Some(first.at),
            _ if settings.closed_evening_before => None,
            _ => early_first,
        };
        by.map_or(today.sky.noon(), |by| by - margin) - from >= shortest
    };
    let spare_c = today.sky.warmest_shift_c(bee, &today.curve, is_open);
    Some(MorningChances {
        mild_work: (1.0 - outside).max(0.0),
        window: chance_at_or_below(spare_c, 0.0, spread.mean_sd_c(date.month0() as usize)),
    })
}
