//! When a laying queen was seen.

use chrono::{Days as CalendarDays, NaiveDate};

use super::Bench;
use crate::method::NewQueen;
use crate::record::SignKind;
use crate::task::Which;

/// When a laying queen was seen where one had to be raised.
pub(super) struct Queen {
    pub seen: Option<NaiveDate>,
}

impl Queen {
    /// Looks through the records. A queen counts when seen after the division, eggs from the day on
    /// from which they cannot be older than it; a later look without eggs takes both back.
    pub fn of(bench: &Bench<'_>) -> Self {
        let request = bench.request;
        let safe = &bench.resolved.steps[bench.resolved.safe];
        let Some(divided) = request.done_on(&safe.id) else {
            return Queen { seen: None };
        };
        let eggs_from = divided + CalendarDays::new(bench.settings.eggs_count_from_d.value as u64);
        let at = |which: Which| -> Option<NaiveDate> {
            let seen = |kind: SignKind, from: NaiveDate| {
                request
                    .records
                    .iter()
                    .filter(move |record| record.date >= from)
                    .filter(move |record| {
                        record
                            .signs
                            .iter()
                            .any(|sign| sign.kind == kind && sign.is_at(which))
                    })
                    .map(|record| record.date)
            };
            let without = seen(SignKind::NoEggs, divided)
                .chain(seen(SignKind::BoxEmpty, divided))
                .max();
            seen(SignKind::Eggs, eggs_from)
                .chain(seen(SignKind::LayingQueen, divided))
                .filter(|date| without.is_none_or(|without| *date > without))
                .min()
        };
        Queen {
            seen: match bench.method.new_queen() {
                NewQueen::Parent => at(Which::Parent),
                NewQueen::Daughter | NewQueen::None => at(Which::Daughter),
                NewQueen::Either => match (at(Which::Parent), at(Which::Daughter)) {
                    (Some(parent), Some(daughter)) => Some(parent.max(daughter)),
                    _ => None,
                },
            },
        }
    }
}
