//! Day temperatures of one course of the weather, summed so that any average costs two look-ups,
//! and the chance with which a rule holds in it.

use std::sync::OnceLock;

use chrono::{Datelike, NaiveDate};

use super::rules::{Quantity, RuleTest};
use crate::climate::DayTemperatures;
use crate::climate::grid::{DAY_TO_DAY_CORRELATION, DailySpread};
use crate::normal::{above, correlated_pairs};

/// Forty weeks, the most that a rule averages.
const MOST_AVERAGED_DAYS: u32 = 280;

/// Share of the days of an average that must be known.
const KNOWN_SHARE: f64 = 0.8;

/// One course of the weather. With a spread the days are means from which the days of a single
/// year stray; without it they are what they are.
pub(super) struct Series<'a> {
    first: NaiveDate,
    /// Month of each day, January as 0.
    month0: Vec<u8>,
    minimum: RunningSum,
    maximum: RunningSum,
    spread: Option<&'a DailySpread>,
}

/// Sums over the days before each day, and over all at the end.
#[derive(Default)]
struct RunningSum(Vec<Sum>);

#[derive(Clone, Copy, Default)]
struct Sum {
    sum: f64,
    count: u32,
    /// Days that stray from their value.
    uncertain: u32,
}

/// A mean, and how many of its days stray.
#[derive(Clone, Copy)]
struct Mean {
    c: f64,
    uncertain_days: u32,
}

/// What a rule looks at on a date.
#[derive(Clone, Copy)]
pub(super) struct Expected {
    /// Mean of the temperatures, °C; of a rule of the calendar the chance that it holds.
    c: f64,
    /// How far that of a single year strays from it, °C.
    sd_c: f64,
}

impl RunningSum {
    fn push(&mut self, value: Option<f64>, uncertain: bool) {
        let last = self.0.last().copied().unwrap_or_default();
        if self.0.is_empty() {
            self.0.push(last);
        }
        self.0.push(Sum {
            sum: last.sum + value.unwrap_or(0.0),
            count: last.count + u32::from(value.is_some()),
            uncertain: last.uncertain + u32::from(uncertain),
        });
    }

    /// Mean of `days` values from index `from`, if enough of them are known.
    fn mean(&self, from: i64, days: i64) -> Option<Mean> {
        let until = usize::try_from(from + days).ok()?;
        let until = self.0.get(until).or(self.0.last())?;
        let from = self.0.get(from.max(0) as usize)?;
        let known = until.count.checked_sub(from.count)?;
        if known == 0 || f64::from(known) < KNOWN_SHARE * days as f64 {
            return None;
        }
        Some(Mean {
            c: (until.sum - from.sum) / f64::from(known),
            uncertain_days: until.uncertain - from.uncertain,
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
        let mut series = Series {
            first,
            month0: Vec::new(),
            minimum: RunningSum::default(),
            maximum: RunningSum::default(),
            spread,
        };
        for date in first.iter_days().take_while(|date| *date <= last) {
            let known = day(date);
            let strays = spread.is_some() && known.is_some_and(|day| day.source.is_a_mean());
            series.month0.push(date.month0() as u8);
            series.minimum.push(known.map(|day| day.minimum_c), strays);
            series.maximum.push(known.map(|day| day.maximum_c), strays);
        }
        series
    }

    /// Mean of `days` days from the one of this index.
    fn mean(&self, quantity: Quantity, from: i64, days: i64) -> Option<Mean> {
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

    /// Standard deviations of single days by month, °C.
    fn day_sd_c(&self, quantity: Quantity) -> [f64; 12] {
        match self.spread {
            None => [0.0; 12],
            Some(spread) => match quantity {
                Quantity::Minimum => spread.minimum_sd_c,
                Quantity::Maximum => spread.maximum_sd_c,
                Quantity::Mean => std::array::from_fn(|month| spread.mean_sd_c(month)),
            },
        }
    }

    /// What a rule looks at on `dates` dates from the first and, where it looks at stretches that
    /// begin whole weeks later, on the dates after them; `None` where too little is known.
    pub fn expected(
        &self,
        rule: &RuleTest,
        barred: &[bool; 12],
        first: NaiveDate,
        dates: usize,
    ) -> Vec<Option<Expected>> {
        let first = self.index(first);
        // Days before the date that was asked for, and from the first day to that whose month counts.
        let (quantity, days, before, middle, dates) = match *rule {
            RuleTest::Temperature {
                quantity,
                over_days,
                ..
            } => {
                let days = i64::from(over_days);
                let before = before_middle(days);
                (quantity, days, before, before, dates)
            }
            RuleTest::WarmWeeksAhead { quantity, .. } => {
                let (days, stretches) = stretches(rule);
                (quantity, days, 0, days / 2, dates + 7 * (stretches - 1))
            }
            RuleTest::OutsideWettestMonths { .. }
            | RuleTest::MonthlyRain { .. }
            | RuleTest::MonthlyWetDays { .. }
            | RuleTest::Rains { .. } => {
                let months = self.month0.iter().skip(first as usize).take(dates);
                let holds = |month: &u8| {
                    if barred[usize::from(*month)] {
                        0.0
                    } else {
                        1.0
                    }
                };
                return months
                    .map(|month| {
                        let (c, sd_c) = (holds(month), 0.0);
                        Some(Expected { c, sd_c })
                    })
                    .collect();
            }
        };
        let day_sd_c = self.day_sd_c(quantity);
        (first..first + dates as i64)
            .map(|index| {
                let from = index - before;
                let mean = self.mean(quantity, from, days)?;
                // Exact for days whose departures are correlated from one to the next and to the
                // one after by its square.
                let sd_c = match mean.uncertain_days {
                    0 => 0.0,
                    uncertain => {
                        let month = *self.month0.get((from + middle) as usize)?;
                        day_sd_c[usize::from(month)] * root_of_pairs(uncertain) / days as f64
                    }
                };
                Some(Expected { c: mean.c, sd_c })
            })
            .collect()
    }

    fn index(&self, date: NaiveDate) -> i64 {
        (date - self.first).num_days()
    }

    /// Mean of a quantity over `days` days with the date in their middle, °C.
    pub fn around(&self, quantity: Quantity, date: NaiveDate, days: u16) -> Option<f64> {
        let days = i64::from(days);
        let from = self.index(date) - before_middle(days);
        Some(self.mean(quantity, from, days)?.c)
    }
}

/// With what chance a rule holds. Most pass or fail by a distance of which the chance follows, which is worked out
/// only where it is asked for: of several rules the one that passes by least has the least chance.
#[derive(Clone, Copy)]
pub(super) enum Holds {
    /// 0 to 1; a sum over several courses can be more.
    Chance(f64),
    /// Standard deviations by which it passes; infinite where nothing strays.
    By(f64),
}

impl Holds {
    pub const NEVER: Holds = Holds::Chance(0.0);
    pub const SURELY: Holds = Holds::Chance(1.0);

    /// For a mean that is to be at least so much, of which single years stray.
    fn at_least(least: f64, mean: f64, sd: f64) -> Self {
        if sd > 0.0 {
            Holds::By((mean - least) / sd)
        } else if mean >= least {
            Holds::SURELY
        } else {
            Holds::NEVER
        }
    }

    pub fn chance(self) -> f64 {
        match self {
            Holds::Chance(chance) => chance,
            Holds::By(sd) => above(-sd),
        }
    }

    pub fn least(self, other: Self) -> Self {
        match (self, other) {
            (Holds::By(one), Holds::By(other)) => Holds::By(one.min(other)),
            _ => Holds::Chance(self.chance().min(other.chance())),
        }
    }

    /// Their chances summed.
    pub fn plus(self, other: Self) -> Self {
        match self {
            Holds::Chance(0.0) => other,
            _ => Holds::Chance(self.chance() + other.chance()),
        }
    }
}

/// With what chances a rule holds, by what it looks at: each one of the two where nothing strays, `None` where
/// too little is known. `offset_c` is added to every temperature.
pub(super) fn chances(
    rule: &RuleTest,
    expected: &[Option<Expected>],
    offset_c: f64,
) -> Vec<Option<Holds>> {
    let each = |holds: &dyn Fn(f64, f64) -> Holds| -> Vec<Option<Holds>> {
        let of = |expected: &Expected| holds(expected.c + offset_c, expected.sd_c);
        expected
            .iter()
            .map(|expected| expected.as_ref().map(of))
            .collect()
    };
    match *rule {
        RuleTest::Temperature {
            at_least_c,
            at_most_c,
            ..
        } => each(&|c, sd_c| {
            let low = at_least_c.map(|low| Holds::at_least(low, c, sd_c));
            let high = at_most_c.map(|high| Holds::at_least(-high, -c, sd_c));
            match (low, high) {
                // Not below the one and not above the other.
                (Some(low), Some(high)) => {
                    Holds::Chance((low.chance() + high.chance() - 1.0).max(0.0))
                }
                (Some(one), None) | (None, Some(one)) => one,
                (None, None) => Holds::SURELY,
            }
        }),
        RuleTest::WarmWeeksAhead { at_least_c, .. } => {
            let starting = each(&|c, sd_c| Holds::at_least(at_least_c, c, sd_c));
            let (_, stretches) = stretches(rule);
            let dates = starting.len() - 7 * (stretches - 1);
            // The stretches of one date are also those of the dates whole weeks later.
            (0..dates)
                .map(|index| all_hold((0..stretches).map(|week| starting[index + 7 * week])))
                .collect()
        }
        RuleTest::OutsideWettestMonths { .. }
        | RuleTest::MonthlyRain { .. }
        | RuleTest::MonthlyWetDays { .. }
        | RuleTest::Rains { .. } => expected
            .iter()
            .map(|expected| expected.map(|expected| Holds::Chance(expected.c)))
            .collect(),
    }
}

/// Days of a stretch of weeks ahead, and how many stretches there are; else none.
fn stretches(rule: &RuleTest) -> (i64, usize) {
    match *rule {
        RuleTest::WarmWeeksAhead {
            weeks,
            averaged_weeks,
            ..
        } => {
            let averaged = averaged_weeks.min(weeks);
            (7 * i64::from(averaged), usize::from(weeks - averaged) + 1)
        }
        _ => (0, 1),
    }
}

/// Root of [`correlated_pairs`], kept for the numbers of days that rules can average.
fn root_of_pairs(days: u32) -> f64 {
    static KEPT: OnceLock<Vec<f64>> = OnceLock::new();
    let root = |days: u32| correlated_pairs(f64::from(days), DAY_TO_DAY_CORRELATION).sqrt();
    let kept = KEPT.get_or_init(|| (0..=MOST_AVERAGED_DAYS).map(root).collect());
    let known = kept.get(days as usize).copied();
    known.unwrap_or_else(|| root(days))
}

/// Stretches that share weeks are warm or cold together: the least likely one counts. One that
/// cannot hold decides even where others are not known.
fn all_hold(stretches: impl Iterator<Item = Option<Holds>>) -> Option<Holds> {
    let (mut least, mut all_known) = (None, true);
    for holds in stretches {
        match (least, holds) {
            (Some(before), Some(holds)) => least = Some(Holds::least(before, holds)),
            (None, holds) => least = holds,
            (Some(_), None) => {}
        }
        all_known &= holds.is_some();
    }
    least.filter(|least| all_known || least.chance() == 0.0)
}

/// How many of `days` days come before the date in their middle.
fn before_middle(days: i64) -> i64 {
    (days - 1) / 2
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
        let mean = |quantity, from, days| {
            let mean = series.mean(quantity, series.index(from), days);
            mean.map(|mean| mean.c)
        };
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
        for days in [1_i64, 7, 14, 30] {
            let rule = RuleTest::Temperature {
                quantity: Quantity::Maximum,
                at_least_c: Some(20.0),
                at_most_c: None,
                over_days: days as u16,
            };
            let pairs: f64 = (0..days)
                .flat_map(|i| {
                    (0..days).map(move |j| DAY_TO_DAY_CORRELATION.powi((i - j).abs() as i32))
                })
                .sum();
            let expected = 3.0 * pairs.sqrt() / days as f64;
            let date = first + chrono::Days::new(20);
            let computed = series.expected(&rule, &[false; 12], date, 1)[0]
                .unwrap()
                .sd_c;
            assert!(
                (computed - expected).abs() < 1e-9,
                "{days}: {computed} {expected}"
            );
        }
    }
}
