//! What can hurt bees or people in the coming days. Short, plain, deferring to local rules.

use std::borrow::Cow;

use serde::{Serialize, Serializer};

use crate::bee::Bee;
use crate::climate::DayTemperatures;
use crate::morning::{Morning, MorningSettings, MoveWindow};
use crate::number::COMMON_PRACTICE;
use crate::place;
use crate::reason::{Reason, say};
use crate::site::Site;
use crate::wire::FromNode;

/// One caution.
///
/// In JSON `text` and `because` are the sentences in English; that of `text` stands in the catalogue
/// under `caution_` and the code.
#[derive(Debug, Clone, PartialEq, FromNode)]
#[serde(from = "Wire")]
#[non_exhaustive]
pub struct Caution {
    /// Stable, in snake case.
    pub code: Cow<'static, str>,
    /// What to mind.
    pub text: Cow<'static, str>,
    /// The number or day that calls for it; `None` where it always holds.
    pub because_reason: Option<Reason>,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

/// As it is written and read.
#[derive(Serialize, FromNode)]
struct Wire {
    code: Cow<'static, str>,
    text: Cow<'static, str>,
    /// The number or day that calls for it, in words; `None` where it always holds.
    because: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    because_reason: Option<Reason>,
    source: String,
}

impl From<Wire> for Caution {
    fn from(wire: Wire) -> Self {
        let given = |text| Reason::new("given", text);
        Caution {
            code: wire.code,
            text: wire.text,
            because_reason: wire.because_reason.or(wire.because.map(given)),
            source: wire.source,
        }
    }
}

impl Serialize for Caution {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let wire = Wire {
            code: self.code.clone(),
            text: self.text.clone(),
            because: self.because(),
            because_reason: self.because_reason.clone(),
            source: self.source.clone(),
        };
        wire.serialize(to)
    }
}

impl Caution {
    /// A caution whose sentence the catalogue has under `caution_` and its code.
    pub(crate) fn new(sentence: Reason, because: Option<Reason>, source: &str) -> Self {
        let code = sentence.code.trim_start_matches("caution_").to_owned();
        Caution {
            code: code.into(),
            text: sentence.text().into(),
            because_reason: because,
            source: source.to_owned(),
        }
    }

    /// The number or day that calls for it, in words.
    ///
    /// ```
    /// use apiary_almanac::outlook::OutlookRequest;
    /// use apiary_almanac::{Site, outlook};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let answer = outlook(&OutlookRequest::new(site, "2026-09-13".parse()?))?;
    /// // What always holds needs no reason, such as how to lift a hive.
    /// let mut always = answer.cautions.iter().filter(|caution| caution.code == "lifting");
    /// assert_eq!(always.next().ok_or("it always holds")?.because(), None);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn because(&self) -> Option<String> {
        self.because_reason.as_ref().map(Reason::text)
    }
}

/// Codes of the cautions that say that bees do not live at a site: they stand before all others.
pub const NOT_AT_HOME: [&str; 2] = ["no_stingless_bees", "not_native"];

/// Codes of the cautions that hold whatever the weather.
pub const STANDING_CAUTIONS: [&str; 5] = ["dark", "lifting", "closed_hive", "bites_allergy", "law"];

/// That stingless bees, or these, do not live at a site, and what to look at again in it: to stand
/// before all other cautions.
pub(crate) fn of_place(bee: &Bee, site: &Site) -> Vec<Caution> {
    const HOME: &str = "Michener, The Bees of the World (from memory)";
    let home = bee.not_at_home(site).into_iter();
    let home = home.map(|reason| Caution::new(reason, None, HOME));
    let doubts = place::doubts(site).into_iter();
    let doubts = doubts.map(|doubt| Caution::new(doubt, None, COMMON_PRACTICE));
    home.chain(doubts).collect()
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
    let named = |days: Vec<Reason>| (!days.is_empty()).then(|| say::days_named(days));
    let hot = |limit: f64| {
        let hot = days.iter().filter(|day| day.maximum_c >= limit);
        named(
            hot.map(|day| say::temperature_on(day.date, day.maximum_c))
                .collect(),
        )
    };
    let heat_limit = bee.heat_limit();
    if let Some(because) = hot(heat_limit.value) {
        let source = &heat_limit.source;
        list.push(Caution::new(
            say::caution_extreme_heat(),
            Some(because),
            source,
        ));
    }
    if let Some(because) = hot(bee.heat_shade_c.value) {
        let source = &bee.heat_shade_c.source;
        list.push(Caution::new(say::caution_heat(), Some(because), source));
    }
    let cold = days
        .iter()
        .filter(|day| day.minimum_c < settings.coldest_work_c.value)
        .map(|day| say::temperature_on(day.date, day.minimum_c))
        .collect();
    if let Some(because) = named(cold) {
        let source = &settings.coldest_work_c.source;
        list.push(Caution::new(
            say::caution_cold_night(),
            Some(because),
            source,
        ));
    }
    if let Some(limit) = &bee.adult_cold_c {
        let cold = days.iter().filter(|day| day.maximum_c < limit.value);
        let cold = cold.map(|day| say::temperature_on(day.date, day.maximum_c));
        if let Some(because) = named(cold.collect()) {
            let source = &limit.source;
            list.push(Caution::new(
                say::caution_cold_days(),
                Some(because),
                source,
            ));
        }
    }
    let wet = days
        .iter()
        .filter_map(|day| day.rain_mm.map(|rain| (day.date, rain)))
        .filter(|(_, rain)| *rain >= bee.rain_limit_mm.value)
        .map(|(date, rain)| say::rain_on(date, rain))
        .collect();
    if let Some(because) = named(wet) {
        let source = &bee.rain_limit_mm.source;
        list.push(Caution::new(say::caution_rain(), Some(because), source));
    }
    list.extend(standing(mornings, hive_weight_kg));
    list
}

/// Those that hold whatever the weather, with the mornings on which a lamp is needed.
pub(crate) fn standing(mornings: &[Morning], hive_weight_kg: Option<f64>) -> Vec<Caution> {
    let lamp: Vec<_> = mornings
        .iter()
        .filter(|morning| {
            morning.closing_by_lamp() || matches!(morning.window, MoveWindow::None { .. })
        })
        .map(|morning| say::on(morning.date))
        .collect();
    let lamp = (!lamp.is_empty()).then(|| say::lamp_on(lamp));
    let weight = hive_weight_kg.map(say::declared_weight);
    vec![
        Caution::new(say::caution_dark(), lamp, COMMON_PRACTICE),
        Caution::new(say::caution_lifting(), weight, COMMON_PRACTICE),
        Caution::new(
            say::caution_closed_hive(),
            None,
            "Nogueira-Neto 1997, pp. 114–115",
        ),
        Caution::new(say::caution_bites_allergy(), None, COMMON_PRACTICE),
        Caution::new(
            say::caution_law(),
            None,
            "local law; for example CONAMA 496/2020 in Brazil",
        ),
    ]
}
