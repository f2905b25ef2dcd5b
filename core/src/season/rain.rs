//! The rain of the year: which months are wet, and rules that count from the rains.

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use crate::climate::Climate;
use crate::reason::{Reason, say};
use crate::wire::FromNode;

/// The rain of the months of a place. No date is barred by it unless a rule says so: there are
/// places where colonies are divided in the rains, and places where they are not.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct RainOfYear {
    /// Mean rain of the twelve months, mm.
    pub monthly_mm: [f64; 12],
    /// Mean number of wet days of the twelve months, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wet_days: Option<[f64; 12]>,
    /// The wet months, January as 1: those with more than a twelfth of the year's rain.
    pub wet_months: Vec<u8>,
    /// The same in a sentence.
    pub said: Reason,
}

impl RainOfYear {
    /// Whether a day lies in one of the wet months.
    pub(crate) fn is_wet(&self, date: NaiveDate) -> bool {
        let mut months = self.wet_months.iter();
        months.any(|month| u32::from(*month) == date.month())
    }

    /// What the climate knows of it.
    pub(super) fn of(climate: &Climate) -> Option<Self> {
        let monthly_mm = climate.monthly_rain_mm()?;
        let wet_months = wet_months(&monthly_mm);
        let of_wet = wet_months
            .iter()
            .map(|month| monthly_mm[usize::from(*month) - 1]);
        let least = of_wet.clone().fold(f64::INFINITY, f64::min);
        let (most, driest) = (
            of_wet.fold(0.0, f64::max),
            monthly_mm.iter().copied().fold(f64::INFINITY, f64::min),
        );
        let said = if wet_months.is_empty() {
            say::rain_alike(driest.round())
        } else {
            let months = month_spans(&wet_months);
            say::rain_of_year(months, least.round(), most.round(), driest.round())
        };
        Some(RainOfYear {
            monthly_mm,
            wet_days: climate.monthly_wet_days().map(|wet| wet.days),
            wet_months,
            said,
        })
    }
}

/// An end of the rains: of the longest run of wet months.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum RainsEdge {
    /// The first wet month.
    Start,
    /// The first month after the wet ones.
    End,
}

impl RainsEdge {
    /// Its name in the catalogue of sentences.
    pub(super) const fn word(self) -> &'static str {
        match self {
            RainsEdge::Start => "rains.start",
            RainsEdge::End => "rains.end",
        }
    }
}

/// Months that are left out, counted from the start or the end of the rains.
///
/// The three months after the rains begin: `{"counted_from": "start", "months": 3}`. The last month of
/// the rains and the first after them: `{"counted_from": "end", "shift_months": -1, "months": 2}`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
pub struct BarRains {
    /// From where.
    pub counted_from: RainsEdge,
    /// How many months later (or, below 0, sooner) the first that is left out comes: -11 to 11.
    #[serde(default)]
    pub shift_months: i32,
    /// How many months are left out: 1 to 11.
    pub months: u8,
}

/// The months that are left out, January first; none where no month is wetter than another.
pub(super) fn barred_by_rains(bar: &BarRains, monthly_mm: &[f64; 12]) -> Option<[bool; 12]> {
    let wet = wet_months(monthly_mm);
    let is_wet = |month: usize| wet.contains(&(month as u8 + 1));
    // The longest run; of equal ones the first of the year.
    let (start, length) = (0..12_usize)
        .filter(|month| is_wet(*month) && !is_wet((month + 11) % 12))
        .map(|start| {
            let length = (0..12)
                .take_while(|step| is_wet((start + step) % 12))
                .count();
            (start, length)
        })
        .reduce(|longest, next| if next.1 > longest.1 { next } else { longest })?;
    let from = match bar.counted_from {
        RainsEdge::Start => start,
        RainsEdge::End => start + length,
    };
    let mut barred = [false; 12];
    for step in 0..i32::from(bar.months) {
        barred[(from as i32 + bar.shift_months + step).rem_euclid(12) as usize] = true;
    }
    Some(barred)
}

/// Months with more than a twelfth of the year's rain, January as 1.
fn wet_months(monthly_mm: &[f64; 12]) -> Vec<u8> {
    let mean = monthly_mm.iter().sum::<f64>() / 12.0;
    (1..=12)
        .filter(|month| monthly_mm[usize::from(*month) - 1] > mean + 1e-9)
        .collect()
}

const MONTHS: [&str; 12] = [
    "month.1", "month.2", "month.3", "month.4", "month.5", "month.6", "month.7", "month.8",
    "month.9", "month.10", "month.11", "month.12",
];

/// Months as spans: `October to March`. The spans begin with the one after the longest gap.
pub(super) fn month_spans(months: &[u8]) -> Vec<Reason> {
    let has = |month: usize| months.contains(&(month as u8 + 1));
    let word = |month: usize| MONTHS[month % 12];
    if months.len() >= 12 {
        return vec![say::month_span(MONTHS[0], MONTHS[11])];
    }
    let gap = |start: usize| {
        let before = (1..=12).take_while(|step| !has((start + 12 - step) % 12));
        before.count()
    };
    let mut starts: Vec<usize> = (0..12)
        .filter(|month| has(*month) && !has((month + 11) % 12))
        .collect();
    let first = starts
        .iter()
        .copied()
        .reduce(|best, next| if gap(next) > gap(best) { next } else { best })
        .unwrap_or(0);
    starts.sort_by_key(|start| (start + 12 - first) % 12);
    starts
        .into_iter()
        .map(|start| {
            let length = (0..12).take_while(|step| has((start + step) % 12)).count();
            match length {
                1 => say::month_alone(word(start)),
                _ => say::month_span(word(start), word(start + length - 1)),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(months: &[u8]) -> Vec<String> {
        month_spans(months).iter().map(Reason::text).collect()
    }

    #[test]
    fn months_are_spans_around_the_new_year() {
        assert_eq!(texts(&[10, 11, 12, 1, 2, 3]), ["October to March"]);
        assert_eq!(
            texts(&[3, 4, 10, 11]),
            ["October to November", "March to April"]
        );
        assert_eq!(texts(&[7]), ["July"]);
        assert_eq!(
            texts(&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]),
            ["January to December"]
        );
        assert!(texts(&[]).is_empty());
    }

    #[test]
    fn rains_are_counted_from_their_start_and_their_end() {
        // Rains from November to March, with a wet May on its own.
        let mm = [
            200.0, 220.0, 180.0, 40.0, 130.0, 10.0, 5.0, 5.0, 20.0, 60.0, 120.0, 160.0,
        ];
        let barred = |counted_from, shift_months, months| {
            let bar = BarRains {
                counted_from,
                shift_months,
                months,
            };
            let barred = barred_by_rains(&bar, &mm).unwrap();
            (1..=12_u8)
                .filter(|month| barred[usize::from(*month) - 1])
                .collect::<Vec<_>>()
        };
        assert_eq!(barred(RainsEdge::Start, 0, 2), [11, 12]);
        assert_eq!(barred(RainsEdge::Start, 1, 2), [1, 12]);
        assert_eq!(barred(RainsEdge::End, 0, 1), [4]);
        assert_eq!(barred(RainsEdge::End, -2, 3), [2, 3, 4]);
        let bar = BarRains {
            counted_from: RainsEdge::End,
            shift_months: 0,
            months: 1,
        };
        assert_eq!(barred_by_rains(&bar, &[100.0; 12]), None);
    }
}
