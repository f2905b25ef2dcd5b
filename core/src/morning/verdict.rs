//! Whether to move on a morning, judged by its whole day, with one reason.

use serde::Serialize;

use super::{Morning, MorningSettings, MoveWindow, minutes};
use crate::bee::Bee;
use crate::civil::next_day;
use crate::climate::{Climate, wind_word};
use crate::error::Error;
use crate::reason::{Reason, say};
use crate::site::Site;
use crate::wire::FromNode;

/// Whether to move.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Move.
    Go,
    /// It can be done; the reason says what to mind.
    Careful,
    /// Do not move.
    No,
}

/// What is said of a morning, and the one reason.
pub(super) fn verdict(
    morning: &Morning,
    site: &Site,
    climate: &Climate,
    bee: &Bee,
    settings: &MorningSettings,
) -> Result<(Verdict, Reason), Error> {
    if let Some(reason) = against(morning, site, climate, bee, settings)? {
        return Ok((Verdict::No, reason));
    }
    Ok(match to_mind(morning, bee, settings) {
        Some(reason) => (Verdict::Careful, reason),
        None => (Verdict::Go, say::bees_learn_place()),
    })
}

/// The first thing that speaks against a move.
fn against(
    morning: &Morning,
    site: &Site,
    climate: &Climate,
    bee: &Bee,
    settings: &MorningSettings,
) -> Result<Option<Reason>, Error> {
    let date = morning.date;
    if let (MoveWindow::None { reasons, .. }, None) = (&morning.window, morning.by_lamp) {
        return Ok(reasons.first().cloned());
    }
    let cold_c = settings.coldest_work_c.value;
    if let Some(at_work_c) = morning.temperature_c.filter(|c| *c < cold_c) {
        return Ok(Some(say::too_cold_to_travel(at_work_c, date, cold_c)));
    }
    let heat_c = bee.heat_shade_c.value;
    for day in [date, next_day(date, site.zone)?] {
        let maximum_c = climate.day(day).maximum_c;
        if maximum_c >= heat_c {
            return Ok(Some(say::too_hot_to_shut(maximum_c, day, heat_c)));
        }
    }
    Ok((!morning.flying_day).then(|| morning.flight_day_reason.clone()))
}

/// The first thing to mind where a move can be done.
fn to_mind(morning: &Morning, bee: &Bee, settings: &MorningSettings) -> Option<Reason> {
    match morning.window {
        MoveWindow::None { .. } => return Some(morning.by_lamp_reason()),
        MoveWindow::Open {
            from,
            careful_from: Some(careful),
            ..
        } if careful - from < minutes(settings.shortest_window_min.value) => {
            return Some(say::others_may_fly(careful));
        }
        MoveWindow::Open { .. } => {}
    }
    let warm_c = settings.warmest_work_c.value;
    if let Some(at_work_c) = morning.temperature_c.filter(|c| *c >= warm_c) {
        return Some(say::warm_work(at_work_c));
    }
    if let Some(rain) = morning.rain_mm.filter(|rain| *rain >= 1.0) {
        return Some(say::rain(rain));
    }
    windy(morning, bee)
}

/// Where the wind makes a box hard to carry.
pub(super) fn windy(morning: &Morning, bee: &Bee) -> Option<Reason> {
    let wind = morning.wind_m_s;
    wind.filter(|wind| *wind >= bee.wind_limit_m_s.value)
        .map(|wind| say::windy(wind, wind_word(wind)))
}
