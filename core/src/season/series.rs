//! Day temperatures of one course of the weather, summed so that any average costs two look-ups,
//! and the chance with which a rule holds in it.

use std::sync::OnceLock;

use chrono::{Datelike, NaiveDate, TimeDelta};

use super::rules::{Quantity, Rule, RuleTest};
use crate::climate::DayTemperatures;
use crate::climate::grid::{
    DailySpread, LAG_ONE_MAXIMUM, LAG_ONE_MINIMUM, chance_at_or_above, chance_at_or_below,
    correlated_pairs,
};

/// Forty weeks, the most that a rule averages.
const MOST_AVERAGED_DAYS: u32 = 280;

/// Share of the days of an average that must be known.
const KNOWN_SHARE: f64 = 0.8;

/// One course of the weather. With a spread the days are means from which the days of a single
/// year stray; without it they are what they are.
pub(super) struct Series<'a> {
    first: NaiveDate,
    minimum: RunningSum,
    maximum: RunningSum,
    spread: Option<&'a DailySpread>,
}

#[derive(Default)]
struct RunningSum {
    sum: Vec<f64>,
    count: Vec<u32>,
    /// Days that stray from their value.
    uncertain: Vec<u32>,
}

/// A mean, and how many of its days stray.
#[derive(Clone, Copy)]
struct Mean {
    c: f64,
    uncertain_days: u32,
}

impl RunningSum {
    fn push(&mut self, value: Option<f64>, uncertain: bool) {
        let last = |list: &[u32]| list.last().copied().unwrap_or(0);
        self.sum
            .push(self.sum.last().unwrap_or(&0.0) + value.unwrap_or(0.0));
        self.count
            .push(last(&self.count) + u32::from(value.is_some()));
        self.uncertain
            .push(last(&self.uncertain) + u32::from(uncertain));
    }

    /// Mean of `days` values from index `from`, if enough of them are known.
    fn mean(&self, from: i64, days: i64) -> Option<Mean> {
        let last = usize::try_from(from + days - 1)
            .ok()?
            .min(self.sum.len().checked_sub(1)?);
        let (sum0, count0, uncertain0) = match usize::try_from(from - 1) {
            Ok(i) => (*self.sum.get(i)?, self.count[i], self.uncertain[i]),
            Err(_) => (0.0, 0, 0),
        };
        let known = self.count[last].checked_sub(count0)?;
        if known == 0 || f64::from(known) < KNOWN_SHARE * days as f64 {
            return None;
        }
        Some(Mean {
            c: (self.sum[last] - sum0) / f64::from(known),
            uncertain_days: self.uncertain[last] - uncertain0,
        })
    }
}

impl<'a> Series<'a> {
    /// `day` gives each date, in order, or `None` where it is unknown. The days of a forecast do
    /// not stray.
    pub fn new(
        first: NaiveDate,
        last: NaiveDate,
        spread: Option<&'a DailySpread>,
        day: impl Fn(NaiveDate) -> Option<DayTemperatures>,
    ) -> Self {
        let (mut minimum, mut maximum) = (RunningSum::default(), RunningSum::default());
        for date in first.iter_days().take_while(|date| *date <= last) {
            let known = day(date);
            let strays = spread.is_some() && known.is_some_and(|day| day.source.is_a_mean());
            minimum.push(known.map(|day| day.minimum_c), strays);
            maximum.push(known.map(|day| day.maximum_c), strays);
        }
        Series {
            first,
            minimum,
            maximum,
            spread,
        }
    }

    fn mean(&self, quantity: Quantity, from: NaiveDate, days: i64) -> Option<Mean> {
        let from = (from - self.first).num_days();
        match quantity {
            Quantity::Minimum => self.minimum.mean(from, days),
            Quantity::Maximum => self.maximum.mean(from, days),
            Quantity::Mean => {
                let (low, high) = (
                    self.minimum.mean(from, days)?,
                    self.maximum.mean(from, days)?,
                );
                Some(Mean {
                    c: f64::midpoint(low.c, high.c),
                    uncertain_days: low.uncertain_days.max(high.uncertain_days),
                })
            }
        }
    }

    /// Standard deviation of a mean of `days` days of which some stray, °C: exact for days whose
    /// departures are correlated from one to the next and to the one after by its square.
    fn sd_c(&self, quantity: Quantity, date: NaiveDate, mean: Mean, days: i64) -> f64 {
        let Some(spread) = self.spread.filter(|_| mean.uncertain_days > 0) else {
            return 0.0;
        };
        let of_day = spread.of(date);
        let (day_sd_c, lag_one) = match quantity {
            Quantity::Minimum => (of_day.minimum, LAG_ONE_MINIMUM),
            Quantity::Maximum => (of_day.maximum, LAG_ONE_MAXIMUM),
            Quantity::Mean => {
                let lag_one = f64::midpoint(LAG_ONE_MINIMUM, LAG_ONE_MAXIMUM);
                (spread.mean_sd_c(date), lag_one)
            }
        };
        day_sd_c * root_of_pairs(quantity, mean.uncertain_days, lag_one) / days as f64
    }

    /// Chances that a rule holds, 0 to 1, on `dates` dates from the first: each one of the two
    /// where nothing strays, `None` where too little is known. `offset_c` is added to every
    /// temperature.
    pub fn chances(
        &self,
        rule: &Rule,
        barred: &[bool; 12],
        first: NaiveDate,
        dates: usize,
        offset_c: f64,
    ) -> Vec<Option<f64>> {
        let date = |index: usize| first + TimeDelta::days(index as i64);
        match rule.test {
            RuleTest::Temperature {
                quantity,
                at_least_c,
                at_most_c,
                over_days,
            } => {
                let days = i64::from(over_days);
                let of_date = |date| {
                    let mean = self.mean(quantity, middle(date, days), days)?;
                    let sd_c = self.sd_c(quantity, date, mean, days);
                    let c = mean.c + offset_c;
                    let below =
                        at_least_c.map_or(0.0, |low| 1.0 - chance_at_or_above(low, c, sd_c));
                    let above =
                        at_most_c.map_or(0.0, |high| 1.0 - chance_at_or_below(high, c, sd_c));
                    Some((1.0 - below - above).max(0.0))
                };
                (0..dates).map(|index| of_date(date(index))).collect()
            }
            RuleTest::WarmWeeksAhead {
                quantity,
                at_least_c,
                weeks,
                averaged_weeks,
            } => {
                let averaged = averaged_weeks.min(weeks);
                let days = 7 * i64::from(averaged);
                let stretches = usize::from(weeks - averaged) + 1;
                let from = |from| {
                    let mean = self.mean(quantity, from, days)?;
                    let middle = from + TimeDelta::days(days / 2);
                    let sd_c = self.sd_c(quantity, middle, mean, days);
                    Some(chance_at_or_above(at_least_c, mean.c + offset_c, sd_c))
                };
                // The stretches of one date are also those of the dates whole weeks later.
                let starting: Vec<_> = (0..dates + 7 * (stretches - 1))
                    .map(|index| from(date(index)))
                    .collect();
                (0..dates)
                    .map(|index| all_hold((0..stretches).map(|week| starting[index + 7 * week])))
                    .collect()
            }
            RuleTest::OutsideWettestMonths { .. }
            | RuleTest::MonthlyRain { .. }
            | RuleTest::MonthlyWetDays { .. } => (0..dates)
                .map(|index| {
                    let is_barred = barred[date(index).month0() as usize];
                    Some(if is_barred { 0.0 } else { 1.0 })
                })
                .collect(),
        }
    }

    /// Mean of a quantity over `days` days with the date in their middle, °C.
    pub fn around(&self, quantity: Quantity, date: NaiveDate, days: u16) -> Option<f64> {
        let days = i64::from(days);
        Some(self.mean(quantity, middle(date, days), days)?.c)
    }
}

/// Root of [`correlated_pairs`], kept for the numbers of days that rules can average.
fn root_of_pairs(quantity: Quantity, days: u32, lag_one: f64) -> f64 {
    static KEPT: [OnceLock<Vec<f64>>; 3] = [const { OnceLock::new() }; 3];
    let root = |days: u32| correlated_pairs(f64::from(days), lag_one).sqrt();
    let kept = KEPT[quantity as usize].get_or_init(|| (0..=MOST_AVERAGED_DAYS).map(root).collect());
    let known = kept.get(days as usize).copied();
    known.unwrap_or_else(|| root(days))
}

/// Stretches that share weeks are warm or cold together: the least likely one counts. One that
/// cannot hold decides even where others are not known.
fn all_hold(stretches: impl Iterator<Item = Option<f64>>) -> Option<f64> {
    let (mut least, mut all_known) = (1.0_f64, true);
    for chance in stretches {
        match chance {
            Some(chance) => least = least.min(chance),
            None => all_known = false,
        }
    }
    (all_known || least == 0.0).then_some(least)
}

/// First of `days` days with the date in their middle.
fn middle(date: NaiveDate, days: i64) -> NaiveDate {
    date - TimeDelta::days((days - 1) / 2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::climate::TemperatureSource;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn day(date: NaiveDate, minimum_c: f64, maximum_c: f64) -> DayTemperatures {
        let source = TemperatureSource::MonthlyNormals;
        DayTemperatures {
            date,
            minimum_c,
            maximum_c,
            rain_mm: None,
            source,
        }
    }

    #[test]
    fn means_and_gaps() {
        // 1 January is day 0; the temperature rises by one degree a day; the 5th is missing.
        let first = date("2026-01-01");
        let series = Series::new(first, date("2026-01-31"), None, |d| {
            let c = (d - first).num_days() as f64;
            (c != 4.0).then_some(day(d, c, c + 10.0))
        });
        let mean = |quantity, from, days| series.mean(quantity, from, days).map(|mean| mean.c);
        assert_eq!(mean(Quantity::Minimum, first, 3), Some(1.0));
        assert_eq!(mean(Quantity::Mean, date("2026-01-10"), 1), Some(14.0));
        // Five days with one missing are 80 % known: mean of 2, 3, 5, 6.
        assert_eq!(mean(Quantity::Minimum, date("2026-01-03"), 5), Some(4.0));
        assert_eq!(mean(Quantity::Minimum, date("2026-01-04"), 3), None);
        assert_eq!(mean(Quantity::Minimum, date("2026-01-30"), 7), None);
        assert_eq!(mean(Quantity::Minimum, date("2025-12-20"), 5), None);
    }

    #[test]
    fn the_spread_of_a_mean_is_the_sum_over_all_pairs_of_days() {
        let spread = DailySpread {
            minimum_sd_c: [2.0; 12],
            maximum_sd_c: [3.0; 12],
        };
        let first = date("2026-01-01");
        let series = Series::new(first, date("2026-03-01"), Some(&spread), |d| {
            Some(day(d, 15.0, 25.0))
        });
        for days in [1, 7, 14, 30] {
            let mean = series.mean(Quantity::Maximum, first, days).unwrap();
            let pairs: f64 = (0..days)
                .flat_map(|i| (0..days).map(move |j| LAG_ONE_MAXIMUM.powi((i - j).abs() as i32)))
                .sum();
            let expected = 3.0 * pairs.sqrt() / days as f64;
            let computed = series.sd_c(Quantity::Maximum, first, mean, days);
            assert!(
                (computed - expected).abs() < 1e-9,
                "{days}: {computed} {expected}"
            );
        }
    }
}
