//! Whether a colony can be divided, by what its keeper declared.

use chrono::{Days, NaiveDate};

use super::Bench;
use super::request::{FIND_HISTORY, FIND_STRENGTH, FIND_WEIGHT};

use crate::error::Error;
use crate::reason::{Reason, say};

/// Days of a month on average.
const MONTH_D: f64 = 365.25 / 12.0;

/// Something that has to be found out first.
pub(super) struct Unknown {
    pub id: &'static str,
    pub title: String,
    pub why: Reason,
    pub look_for: Vec<String>,
}

pub(super) struct Readiness {
    /// From when on the colony may be divided, as far as its history goes.
    pub from: NaiveDate,
    /// What is there and what is short in time only.
    pub reasons: Vec<Reason>,
    /// What is short and has to grow: empty for a colony that is ready.
    pub lacking: Vec<Reason>,
    /// What the keeper did not declare.
    pub unknown: Vec<Unknown>,
}

impl Readiness {
    pub fn of(bench: &Bench<'_>) -> Result<Self, Error> {
        let (request, method) = (bench.request, &bench.method);
        let asked = method.readiness();
        let mut found = Readiness {
            from: request.today,
            reasons: Vec::new(),
            lacking: Vec::new(),
            unknown: Vec::new(),
        };
        let weighed = bench
            .history
            .records
            .iter()
            .filter(|record| record.net_weight_kg.is_some())
            .max_by_key(|record| record.date)
            .and_then(|record| record.net_weight_kg)
            .or(request.colony.net_weight_kg);
        let of_bee = bench.weather.bee().ready_net_kg.as_ref();
        let of_bee = of_bee.filter(|_| asked.net_weight_by_bee);
        let least = asked.net_weight_kg.map(|kg| (kg, asked.source.as_str()));
        if let Some((least, source)) = least.or(of_bee.map(|kg| (kg.value, kg.source.as_str()))) {
            match weighed {
                Some(kg) if kg >= least => {
                    found.reasons.push(say::heavy_enough(kg, least, source))
                }
                Some(kg) => found.lacking.push(say::too_light(kg, least, source)),
                None => found.unknown.push(Unknown {
                    id: FIND_WEIGHT,
                    title: "Weigh the colony".to_owned(),
                    why: say::weight_unknown(least, source),
                    look_for: vec![
                        "Weight of the hive in the evening, less that of an empty box of the same make."
                            .to_owned(),
                    ],
                }),
            }
        }
        if let Some(least) = asked.strength {
            match request.colony.strength {
                Some(strength) if strength >= least => found.reasons.push(say::strong_enough(
                    strength.word(),
                    least.word(),
                    &asked.source,
                )),
                Some(strength) => {
                    found
                        .lacking
                        .push(say::too_weak(strength.word(), least.word(), &asked.source))
                }
                None => found.unknown.push(Unknown {
                    id: FIND_STRENGTH,
                    title: "Judge the colony's strength".to_owned(),
                    why: say::strength_unknown(least.word(), &asked.source),
                    look_for: [
                        "Judge it weak, medium or strong: traffic on a good flying day, guards, brood of \
                         all ages, pots.",
                    ]
                    .into_iter()
                    .chain(bench.resolved.ready_look_for.iter().map(String::as_str))
                    .map(str::to_owned)
                    .collect(),
                }),
            }
        }
        if let Some(wait) = &bench.resolved.since_division {
            match request.colony.months_since_division {
                Some(months) => {
                    let left_d = (wait.earliest - months * MONTH_D).ceil().max(0.0);
                    let least = wait.earliest / MONTH_D;
                    found.from = request.today + Days::new(left_d as u64);
                    found.reasons.push(if left_d > 0.0 {
                        say::divided_lately(months, least, &wait.source, found.from)
                    } else {
                        say::rested(months, least, &wait.source)
                    });
                }
                None => found.unknown.push(Unknown {
                    id: FIND_HISTORY,
                    title: "Find out when the colony was last divided".to_owned(),
                    why: say::history_unknown(wait.earliest / MONTH_D, &wait.source),
                    look_for: vec!["Notes, the former keeper, marks on the box.".to_owned()],
                }),
            }
        }
        Ok(found)
    }
}
