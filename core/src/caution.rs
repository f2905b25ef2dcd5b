//! What can hurt bees or people in the coming days. Short, plain, deferring to local rules.

use serde::Serialize;

use crate::bee::Bee;
use crate::climate::DayTemperatures;
use crate::morning::{Morning, MorningSettings, MoveWindow};
use crate::number::COMMON_PRACTICE;
use crate::wire::FromNode;

/// One caution.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, FromNode)]
pub struct Caution {
    /// Stable, in snake case.
    pub code: String,
    /// What to mind.
    pub text: String,
    /// The number or day that calls for it; `None` where it always holds.
    pub because: Option<String>,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

/// Codes of the cautions that hold whatever the weather.
pub const STANDING_CAUTIONS: [&str; 5] = ["dark", "lifting", "closed_hive", "bites_allergy", "law"];

fn caution(code: &str, text: &str, because: Option<String>, source: &str) -> Caution {
    Caution {
        code: code.to_owned(),
        text: text.to_owned(),
        because,
        source: source.to_owned(),
    }
}

/// The cautions that the coming days and mornings call for, then those that always hold.
///
/// `hive_weight_kg` is what the keeper declared, if anything.
pub fn cautions(
    bee: &Bee,
    settings: &MorningSettings,
    days: &[DayTemperatures],
    mornings: &[Morning],
    hive_weight_kg: Option<f64>,
) -> Vec<Caution> {
    let mut list = Vec::new();
    let named = |picked: Vec<String>| (!picked.is_empty()).then(|| picked.join(", "));
    let hot = |limit: f64| {
        named(
            days.iter()
                .filter(|day| day.maximum_c >= limit)
                .map(|day| format!("{}: {:.0} °C", day.date, day.maximum_c))
                .collect(),
        )
    };
    if let Some(because) = hot(bee.heat_limit_c.value) {
        list.push(caution(
            "extreme_heat",
            "Move hives to a cool place before the heat; do not open, close or carry them on such \
             a day. People: stay out of the sun, drink, and do not work alone.",
            Some(because),
            &bee.heat_limit_c.source,
        ));
    }
    if let Some(because) = hot(bee.heat_shade_c.value) {
        list.push(caution(
            "heat",
            "Full shade and moving air for every hive; no dividing. People: work at dawn only.",
            Some(because),
            &bee.heat_shade_c.source,
        ));
    }
    let cold = days
        .iter()
        .filter(|day| day.minimum_c < settings.coldest_work_c.value)
        .map(|day| format!("{}: {:.0} °C", day.date, day.minimum_c))
        .collect();
    if let Some(because) = named(cold) {
        list.push(caution(
            "cold_night",
            "Brood chills quickly: do not open hives in the cold, and carry them closed and level.",
            Some(because),
            &settings.coldest_work_c.source,
        ));
    }
    let wet = days
        .iter()
        .filter_map(|day| day.rain_mm.map(|rain| (day.date, rain)))
        .filter(|(_, rain)| *rain >= bee.rain_limit_mm.value)
        .map(|(date, rain)| format!("{date}: {rain:.0} mm"))
        .collect();
    if let Some(because) = named(wet) {
        list.push(caution(
            "rain",
            "Do not open hives in rain; wet ground and boxes are slippery to carry on.",
            Some(because),
            &bee.rain_limit_mm.source,
        ));
    }
    let lamp = mornings
        .iter()
        .filter(|morning| {
            morning.evening_before.lamp_needed || matches!(morning.window, MoveWindow::None { .. })
        })
        .map(|morning| morning.date.to_string())
        .collect();
    list.push(caution(
        "dark",
        "At dawn and dusk footing and handholds are hard to see: walk the path by day first, clear \
         it, use a lamp, and watch for snakes and spiders.",
        named(lamp).map(|dates| format!("a lamp is needed for the work of {dates}")),
        COMMON_PRACTICE,
    ));
    list.push(caution(
        "lifting",
        "Weigh a hive before you plan to lift it; lift with two people or a barrow what one cannot \
         carry with ease.",
        hive_weight_kg.map(|kg| format!("declared weight {kg:.1} kg")),
        COMMON_PRACTICE,
    ));
    list.push(caution(
        "closed_hive",
        "A closed hive must breathe: close the entrance with mesh, never airtight, keep it out of \
         the sun, and open it as soon as it stands.",
        None,
        "Nogueira-Neto 1997, pp. 114–115",
    ));
    list.push(caution(
        "bites_allergy",
        "Stingless bees bite, and some kinds blister skin; wear a veil. Anyone with a known \
         allergy should ask a doctor first and not work alone.",
        None,
        COMMON_PRACTICE,
    ));
    list.push(caution(
        "law",
        "Taking, keeping, dividing and moving native bees can need a permit, and moving them across \
         a border can be forbidden: local law and licensed practice come before this calendar.",
        None,
        "local law; for example CONAMA 496/2020 in Brazil",
    ));
    list
}
