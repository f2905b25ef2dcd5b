//! Day temperatures of one course of the weather, summed so that any average costs two look-ups.

use chrono::{Datelike, NaiveDate, TimeDelta};

use super::rules::{Quantity, Rule, RuleTest};

/// Share of the days of an average that must be known.
const KNOWN_SHARE: f64 = 0.8;

pub(super) struct Series {
    first: NaiveDate,
    minimum: RunningSum,
    maximum: RunningSum,
}

#[derive(Default)]
struct RunningSum {
    sum: Vec<f64>,
    count: Vec<u32>,
}

impl RunningSum {
    fn push(&mut self, value: Option<f64>) {
        let (sum, count) = (self.sum.last().copied(), self.count.last().copied());
        self.sum.push(sum.unwrap_or(0.0) + value.unwrap_or(0.0));
        self.count
            .push(count.unwrap_or(0) + u32::from(value.is_some()));
    }

    /// Mean of `days` values from index `from`, if enough of them are known.
    fn mean(&self, from: i64, days: i64) -> Option<f64> {
        let before = |index: i64| usize::try_from(index - 1).ok();
        let last = usize::try_from(from + days - 1)
            .ok()?
            .min(self.sum.len().checked_sub(1)?);
        let (sum0, count0) = match before(from) {
            Some(i) => (*self.sum.get(i)?, *self.count.get(i)?),
            None => (0.0, 0),
        };
        let known = self.count[last].checked_sub(count0)?;
        if known == 0 || f64::from(known) < KNOWN_SHARE * days as f64 {
            return None;
        }
        Some((self.sum[last] - sum0) / f64::from(known))
    }
}

impl Series {
    /// `day` gives minimum and maximum of each date, in order, or `None` where it is unknown.
    pub fn new(
        first: NaiveDate,
        last: NaiveDate,
        day: impl Fn(NaiveDate) -> Option<(f64, f64)>,
    ) -> Self {
        let (mut minimum, mut maximum) = (RunningSum::default(), RunningSum::default());
        let mut date = first;
        while date <= last {
            let known = day(date);
            minimum.push(known.map(|(low, _)| low));
            maximum.push(known.map(|(_, high)| high));
            date += TimeDelta::days(1);
        }
        Series {
            first,
            minimum,
            maximum,
        }
    }

    /// Mean of a quantity over `days` days from `from`, °C.
    pub fn mean(&self, quantity: Quantity, from: NaiveDate, days: i64) -> Option<f64> {
        let from = (from - self.first).num_days();
        match quantity {
            Quantity::Minimum => self.minimum.mean(from, days),
            Quantity::Maximum => self.maximum.mean(from, days),
            Quantity::Mean => {
                Some((self.minimum.mean(from, days)? + self.maximum.mean(from, days)?) / 2.0)
            }
        }
    }

    /// Whether a rule holds on a date; `None` where too little is known.
    pub fn holds(&self, rule: &Rule, barred: &[bool; 12], date: NaiveDate) -> Option<bool> {
        match rule.test {
            RuleTest::Temperature {
                quantity,
                at_least_c,
                at_most_c,
                over_days,
            } => {
                let mean = self.around(quantity, date, over_days)?;
                Some(
                    at_least_c.is_none_or(|low| mean >= low)
                        && at_most_c.is_none_or(|high| mean <= high),
                )
            }
            RuleTest::WarmWeeksAhead {
                quantity,
                at_least_c,
                weeks,
            } => {
                let mut all_known = true;
                for week in 0..i64::from(weeks) {
                    match self.mean(quantity, date + TimeDelta::days(7 * week), 7) {
                        Some(mean) if mean < at_least_c => return Some(false),
                        Some(_) => {}
                        None => all_known = false,
                    }
                }
                all_known.then_some(true)
            }
            RuleTest::OutsideWettestMonths { .. } | RuleTest::MonthlyRain { .. } => {
                Some(!barred[date.month0() as usize])
            }
        }
    }

    /// Mean of a quantity over `days` days with the date in their middle.
    pub fn around(&self, quantity: Quantity, date: NaiveDate, days: u16) -> Option<f64> {
        let days = i64::from(days);
        self.mean(quantity, date - TimeDelta::days((days - 1) / 2), days)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn means_and_gaps() {
        // 1 January is day 0; the temperature rises by one degree a day; the 5th is missing.
        let first = date("2026-01-01");
        let series = Series::new(first, date("2026-01-31"), |d| {
            let c = (d - first).num_days() as f64;
            (c != 4.0).then_some((c, c + 10.0))
        });
        assert_eq!(series.mean(Quantity::Minimum, first, 3), Some(1.0));
        assert_eq!(
            series.mean(Quantity::Mean, date("2026-01-10"), 1),
            Some(14.0)
        );
        // Five days with one missing are 80 % known: mean of 2, 3, 5, 6.
        assert_eq!(
            series.mean(Quantity::Minimum, date("2026-01-03"), 5),
            Some(4.0)
        );
        assert_eq!(series.mean(Quantity::Minimum, date("2026-01-04"), 3), None);
        assert_eq!(series.mean(Quantity::Minimum, date("2026-01-30"), 7), None);
        assert_eq!(series.mean(Quantity::Minimum, date("2025-12-20"), 5), None);
    }
}
