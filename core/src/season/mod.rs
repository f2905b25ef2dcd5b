//! Working windows: the stretches of dates on which every season rule holds.

mod rules;
mod series;

use std::borrow::Cow;

use chrono::{Datelike, NaiveDate, TimeDelta};
use serde::{Deserialize, Serialize};

use crate::bee::Bee;
use crate::civil::{FIRST_DATE, LAST_DATE, check_date};
use crate::climate::{Basis, Climate};
use crate::error::Error;
use crate::reason::Reason;

pub use rules::{Quantity, Rule, RuleTest, default_rules, wet_months_rule};
use series::Series;

/// Share of years in which the rules must have held for a date to count as open, where records of
/// several years are given. Common practice, no source.
pub const DEFAULT_CHANCE: f64 = 0.8;

/// With records of several years, the share of a date is averaged over this many days before it is
/// compared with the chance, so that the weather of one year does not split a window.
const SHARE_SMOOTHING_DAYS: usize = 15;

/// How far beyond the asked span a window is followed to its opening and closing, days.
const FOLLOW_DAYS: i64 = 370;

/// A stretch of dates on which every rule holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WorkingWindow {
    /// First date on which every rule holds.
    pub opens: NaiveDate,
    /// Last date on which every rule holds.
    pub closes: NaiveDate,
    /// Number of dates, both ends included.
    pub days: i64,
    /// What stood in the way on the day before `opens`: `code` is the rule's name. Empty where the
    /// window was open already at the edge of what the engine can look at.
    pub opened_by: Vec<Reason>,
    /// What stands in the way on the day after `closes`.
    pub closed_by: Vec<Reason>,
}

/// What the rules leave of a year.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum SeasonOutcome {
    /// Every rule holds on every date.
    AllYear,
    /// The windows that touch the asked span, in order.
    Windows {
        /// At least one.
        windows: Vec<WorkingWindow>,
    },
    /// No date passes.
    None {
        /// The rules in the way, how far off they are, and what would help.
        reasons: Vec<Reason>,
    },
}

/// The working windows of a span of dates.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Season {
    /// First date of the span that was asked for.
    pub first: NaiveDate,
    /// Last date of the span that was asked for.
    pub last: NaiveDate,
    /// The windows.
    pub outcome: SeasonOutcome,
    /// Share of years asked for.
    pub chance: f64,
    /// Courses of weather the answer rests on: the years of the records, or 1 for normals.
    pub years: usize,
    /// The rules that were used.
    pub rules: Vec<Rule>,
    /// What the temperatures rest on.
    pub basis: Vec<Basis>,
}

/// How the season is to be judged; what is not given stays at its default.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SeasonSettings {
    /// Rules in place of the default ones of the bee.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rules: Option<Vec<Rule>>,
    /// Bars this many of the wettest months, in addition to the rules: 1 to 11.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bar_wettest_months: Option<u8>,
    /// Share of years asked of records; 0.8 when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chance: Option<f64>,
}

impl SeasonSettings {
    /// The working windows of a bee under these settings.
    ///
    /// # Errors
    /// As [`season`] and [`wet_months_rule`].
    pub fn season(
        &self,
        climate: &Climate,
        bee: &Bee,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<Season, Error> {
        let mut rules = self.rules.clone().unwrap_or_else(|| default_rules(bee));
        if let Some(months) = self.bar_wettest_months {
            rules.push(wet_months_rule(months)?);
        }
        season(
            climate,
            &rules,
            first,
            last,
            self.chance.unwrap_or(DEFAULT_CHANCE),
        )
    }
}

/// The share of years in which the rules held on a date.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayShare {
    /// The date.
    pub date: NaiveDate,
    /// Years that could be judged.
    pub years: usize,
    /// Share of them in which every rule held, 0 to 1; `None` where no year could be judged.
    pub share: Option<f64>,
}

/// Finds the working windows that touch the span from `first` to `last`.
///
/// A window is followed beyond the span, for a year at most, so that `opens` and `closes` are its
/// true ends. With monthly normals or the location default there is one course of the weather and
/// a date is open or not; with records each year is a course, and a date is open when the rules
/// held in at least the share `chance` of the years. A forecast replaces the days it covers.
///
/// # Errors
/// `out_of_range` for a date, chance or rule number outside its range, `inconsistent` for a
/// reversed span, `not_enough_data` when a rain rule meets a climate without monthly rain or the
/// records are too few to judge a single date.
///
/// ```
/// use apiary_almanac::{Climate, MonthlyNormals, bee, season};
/// // Singapore, rounded: the coldest month averages well over 18 °C.
/// let normals = MonthlyNormals::new([24.5; 12], [31.5; 12], None, "rounded example")?;
/// let rules = season::default_rules(&bee::built_in("generic_small")?);
/// let (first, last) = ("2026-01-01".parse()?, "2026-12-31".parse()?);
/// let found = season::season(&Climate::from_normals(normals), &rules, first, last, 0.8)?;
/// assert_eq!(found.outcome, season::SeasonOutcome::AllYear);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn season(
    climate: &Climate,
    rules: &[Rule],
    first: NaiveDate,
    last: NaiveDate,
    chance: f64,
) -> Result<Season, Error> {
    if !(chance > 0.0 && chance <= 1.0) {
        return Err(Error::out_of_range("chance", chance, "above 0, up to 1"));
    }
    check_span(first, last)?;
    let from = (first - TimeDelta::days(FOLLOW_DAYS)).max(FIRST_DATE);
    let to = (last + TimeDelta::days(FOLLOW_DAYS)).min(LAST_DATE);
    let judged = Judged::new(climate, rules, from, to)?;
    let open = judged.open(chance);
    if !judged.years.iter().any(|years| *years > 0) {
        return Err(Error::NotEnoughData {
            field: "records".to_owned(),
            given: "no date on which every rule can be judged".to_owned(),
            needed: "at least one year of days with few gaps".to_owned(),
        });
    }
    Ok(Season {
        first,
        last,
        outcome: judged.outcome(&open, chance, first, last),
        chance,
        years: judged.years.iter().copied().max().unwrap_or(0),
        rules: rules.to_vec(),
        basis: climate.basis(),
    })
}

/// For each date of a span, the share of years in which every rule held.
///
/// # Errors
/// As [`season`].
pub fn day_shares(
    climate: &Climate,
    rules: &[Rule],
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<DayShare>, Error> {
    check_span(first, last)?;
    let judged = Judged::new(climate, rules, first, last)?;
    Ok((0..judged.years.len())
        .map(|i| DayShare {
            date: judged.date(i),
            years: judged.years[i],
            share: judged.share(&judged.all, i),
        })
        .collect())
}

fn check_span(first: NaiveDate, last: NaiveDate) -> Result<(), Error> {
    check_date("first", first)?;
    check_date("last", last)?;
    if last < first {
        return Err(Error::Inconsistent {
            field: "first, last".to_owned(),
            problem: format!("last {last} is before first {first}"),
        });
    }
    Ok(())
}

/// How many courses of the weather passed each rule on each date.
struct Judged<'a> {
    from: NaiveDate,
    rules: &'a [Rule],
    courses: Vec<Series>,
    /// Courses that could be judged, by date.
    years: Vec<usize>,
    /// Of these, courses in which every rule held.
    all: Vec<usize>,
    /// Of these, courses in which the one rule held, by rule and date.
    each: Vec<Vec<usize>>,
}

impl<'a> Judged<'a> {
    fn new(
        climate: &Climate,
        rules: &'a [Rule],
        from: NaiveDate,
        to: NaiveDate,
    ) -> Result<Self, Error> {
        if rules.is_empty() {
            return Err(Error::out_of_range("rules", "no rule", "at least one rule"));
        }
        for rule in rules {
            rule.check()?;
        }
        let barred = rules
            .iter()
            .map(|rule| barred_months(rule, climate))
            .collect::<Result<Vec<_>, _>>()?;
        let reach = rules.iter().map(Rule::reach_days).max().unwrap_or(0);
        let courses = courses(
            climate,
            from - TimeDelta::days(reach),
            to + TimeDelta::days(reach),
        );

        let days = (to - from).num_days() as usize + 1;
        let mut judged = Judged {
            from,
            rules,
            years: vec![0; days],
            all: vec![0; days],
            each: vec![vec![0; days]; rules.len()],
            courses,
        };
        let mut held = vec![false; rules.len()];
        for course in &judged.courses {
            for day in 0..days {
                let date = from + TimeDelta::days(day as i64);
                let mut known = true;
                for ((rule, barred), held) in rules.iter().zip(&barred).zip(&mut held) {
                    match course.holds(rule, barred, date) {
                        Some(answer) => *held = answer,
                        None => known = false,
                    }
                }
                if known {
                    judged.years[day] += 1;
                    judged.all[day] += usize::from(held.iter().all(|h| *h));
                    for (count, held) in judged.each.iter_mut().zip(&held) {
                        count[day] += usize::from(*held);
                    }
                }
            }
        }
        Ok(judged)
    }

    fn date(&self, index: usize) -> NaiveDate {
        self.from + TimeDelta::days(index as i64)
    }

    fn share(&self, counts: &[usize], index: usize) -> Option<f64> {
        (self.years[index] > 0).then(|| counts[index] as f64 / self.years[index] as f64)
    }

    /// The share of a date, smoothed where there are several years.
    fn smooth_share(&self, counts: &[usize], index: usize) -> f64 {
        let half = if self.courses.len() > 1 {
            SHARE_SMOOTHING_DAYS / 2
        } else {
            0
        };
        let around = index.saturating_sub(half)..(index + half + 1).min(self.years.len());
        let known: Vec<f64> = around.filter_map(|i| self.share(counts, i)).collect();
        if known.is_empty() {
            0.0
        } else {
            known.iter().sum::<f64>() / known.len() as f64
        }
    }

    fn open(&self, chance: f64) -> Vec<bool> {
        // A share such as 4/5 must pass a chance of 0.8 in spite of rounding.
        (0..self.years.len())
            .map(|i| self.smooth_share(&self.all, i) >= chance - 1e-9)
            .collect()
    }

    fn outcome(
        &self,
        open: &[bool],
        chance: f64,
        first: NaiveDate,
        last: NaiveDate,
    ) -> SeasonOutcome {
        if open.iter().all(|o| *o) {
            return SeasonOutcome::AllYear;
        }
        let mut windows = Vec::new();
        let mut start = None;
        for index in 0..=open.len() {
            let is_open = open.get(index).copied().unwrap_or(false);
            match (start, is_open) {
                (None, true) => start = Some(index),
                (Some(from), false) => {
                    start = None;
                    let (opens, closes) = (self.date(from), self.date(index - 1));
                    if closes >= first && opens <= last {
                        windows.push(WorkingWindow {
                            opens,
                            closes,
                            days: (index - from) as i64,
                            opened_by: from
                                .checked_sub(1)
                                .map_or_else(Vec::new, |i| self.in_the_way(i, chance)),
                            closed_by: if index < open.len() {
                                self.in_the_way(index, chance)
                            } else {
                                Vec::new()
                            },
                        });
                    }
                }
                _ => {}
            }
        }
        if windows.is_empty() {
            SeasonOutcome::None {
                reasons: self.why_none(chance, first, last),
            }
        } else {
            SeasonOutcome::Windows { windows }
        }
    }

    /// The rules that keep a date closed; where each alone would pass, the one that passes least.
    fn in_the_way(&self, index: usize, chance: f64) -> Vec<Reason> {
        let shares: Vec<f64> = self
            .each
            .iter()
            .map(|counts| self.smooth_share(counts, index))
            .collect();
        let least = shares.iter().copied().fold(1.0, f64::min);
        let limit = if least < chance - 1e-9 {
            chance - 1e-9
        } else {
            least + 1e-9
        };
        let several = self.courses.len() > 1;
        self.rules
            .iter()
            .zip(&shares)
            .filter(|(_, share)| **share < limit)
            .map(|(rule, share)| {
                let mut reason = rule.broken();
                if several {
                    reason.text += &format!(" in {:.0} % of years", 100.0 * (1.0 - share));
                }
                reason
            })
            .collect()
    }

    /// For each rule that never or seldom passes: how close it comes, and what would change it.
    fn why_none(&self, chance: f64, first: NaiveDate, last: NaiveDate) -> Vec<Reason> {
        let span = (first - self.from).num_days() as usize..=(last - self.from).num_days() as usize;
        let mut reasons = Vec::new();
        for (rule, counts) in self.rules.iter().zip(&self.each) {
            if span
                .clone()
                .any(|i| self.smooth_share(counts, i) >= chance - 1e-9)
            {
                continue;
            }
            let mut text = format!(
                "On no date of the span does {} hold: {}",
                rule.name,
                rule.broken().text
            );
            if let Some(nearest) = self.nearest(rule, span.clone()) {
                text += &format!("; the nearest it comes is {nearest:.1} °C");
            }
            reasons.push(Reason {
                code: Cow::Owned(rule.name.clone()),
                text: text + ".",
            });
        }
        if reasons.is_empty() {
            reasons.push(Reason::new(
                "never_together",
                "Each rule holds at some time, but never all of them on the same date.",
            ));
        }
        reasons.push(Reason::new(
            "what_would_help",
            "Records from nearer the hives, a lower chance, or a threshold of your own would change \
             this; a colony can also be kept whole until a warmer site is found.",
        ));
        reasons
    }

    /// The value of a temperature rule that comes nearest to passing, averaged over the courses.
    fn nearest(&self, rule: &Rule, mut span: std::ops::RangeInclusive<usize>) -> Option<f64> {
        let (quantity, days, low) = match rule.test {
            RuleTest::Temperature {
                quantity,
                at_least_c,
                over_days,
                ..
            } => (quantity, over_days, at_least_c.is_some()),
            RuleTest::WarmWeeksAhead { quantity, .. } => (quantity, 7, true),
            _ => return None,
        };
        let mut best: Option<f64> = None;
        for index in &mut span {
            let values: Vec<f64> = self
                .courses
                .iter()
                .filter_map(|course| course.around(quantity, self.date(index), days))
                .collect();
            if values.is_empty() {
                continue;
            }
            let mean = values.iter().sum::<f64>() / values.len() as f64;
            best = Some(match best {
                Some(so_far) if low => so_far.max(mean),
                Some(so_far) => so_far.min(mean),
                None => mean,
            });
        }
        best
    }
}

/// The months a rain rule closes; none for the other rules.
fn barred_months(rule: &Rule, climate: &Climate) -> Result<[bool; 12], Error> {
    let mut barred = [false; 12];
    let needs_rain = matches!(
        rule.test,
        RuleTest::OutsideWettestMonths { .. } | RuleTest::MonthlyRain { .. }
    );
    if !needs_rain {
        return Ok(barred);
    }
    let rain = climate
        .monthly_rain_mm()
        .ok_or_else(|| Error::NotEnoughData {
            field: rule.name.clone(),
            given: "a climate without monthly rain".to_owned(),
            needed: "twelve monthly rain totals in mm, or records with rain".to_owned(),
        })?;
    match rule.test {
        RuleTest::OutsideWettestMonths { months } => {
            let mut order: Vec<usize> = (0..12).collect();
            order.sort_by(|a, b| rain[*b].total_cmp(&rain[*a]));
            for month in order.into_iter().take(months.into()) {
                barred[month] = true;
            }
        }
        RuleTest::MonthlyRain { at_most_mm } => {
            for (barred, rain) in barred.iter_mut().zip(rain) {
                *barred = rain > at_most_mm;
            }
        }
        _ => {}
    }
    Ok(barred)
}

/// The courses of the weather: one for each year of the records, laid over the asked dates; else
/// the one that the climate gives.
fn courses(climate: &Climate, from: NaiveDate, to: NaiveDate) -> Vec<Series> {
    let Some(records) = climate.records() else {
        return vec![Series::new(from, to, |date| {
            let day = climate.day(date);
            Some((day.minimum_c, day.maximum_c))
        })];
    };
    let years = records.years();
    let (Some(oldest), Some(newest)) = (years.iter().min(), years.iter().max()) else {
        return Vec::new();
    };
    (oldest - to.year()..=newest - from.year())
        .map(|shift| {
            Series::new(from, to, |date| {
                let day = climate
                    .forecast_day(date)
                    .or_else(|| records.day(in_year(date, date.year() + shift)?))?;
                Some((day.minimum_c, day.maximum_c))
            })
        })
        .collect()
}

/// The same month and day of another year; 28 February stands in for a missing 29th.
fn in_year(date: NaiveDate, year: i32) -> Option<NaiveDate> {
    date.with_year(year)
        .or_else(|| NaiveDate::from_ymd_opt(year, 2, 28))
}

#[cfg(test)]
mod tests;
