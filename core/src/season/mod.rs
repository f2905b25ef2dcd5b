//! Working windows: the stretches of dates on which every season rule holds.

mod rows;
mod rules;
mod series;

use std::fmt;

use chrono::{Datelike, NaiveDate, TimeDelta};
use derive_setters::Setters;
use serde::Serialize;

use crate::bee::Bee;
use crate::civil::{FIRST_DATE, LAST_DATE, check_date};
use crate::climate::{Basis, Climate};
use crate::error::{Error, at_most};
use crate::reason::{Reason, say};
use crate::wire::FromNode;
use crate::work;

pub use rows::{SEASON_DAYS, SeasonColumns, SeasonOptions, SeasonState, season_columns};
pub use rules::{Quantity, Rule, RuleTest, default_rules, wet_days_rule, wet_months_rule};
use series::{Expected, Series, chances};

/// Share of years in which the rules must have held for a date to count as open, where records of
/// several years are given. Common practice, no source.
pub const DEFAULT_CHANCE: f64 = 0.8;

/// The chance of a date is averaged over this many days before it is compared with the one asked
/// for, so that the weather of one year, or a forecast, does not split a window.
const SHARE_SMOOTHING_DAYS: usize = 15;

/// Most rules of a season.
pub const MOST_RULES: usize = 20;
/// Most judgements of a date by a rule in a year: three rules over 200 years of the mean course take
/// a tenth, over fifty years of records that are asked for three coming ones a quarter of a tenth.
pub const MOST_JUDGEMENTS: usize = 2_000_000;
const JUDGEMENTS_A_UNIT: u64 = 8;

/// How far beyond the asked span a window is followed to its opening and closing, days.
const FOLLOW_DAYS: i64 = 370;

/// A stretch of dates on which every rule holds.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct WorkingWindow {
    /// First date on which every rule holds.
    pub opens: NaiveDate,
    /// Last date on which every rule holds.
    pub closes: NaiveDate,
    /// Number of dates, both ends included.
    pub days: i64,
    /// What stood in the way on the day before `opens`; the value `rule` names the rule. Empty where
    /// the window was open already at the edge of what the engine can look at.
    pub opened_by: Vec<Reason>,
    /// What stands in the way on the day after `closes`.
    pub closed_by: Vec<Reason>,
    /// How far the dates may be off because the temperatures are, where their error is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub error_range: Option<ErrorRange>,
}

/// Its first and its last date: `2026-09-28 to 2027-03-18`.
impl fmt::Display for WorkingWindow {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} to {}", self.opens, self.closes)
    }
}

/// A window if every temperature were higher or lower by the typical error of their source.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct ErrorRange {
    /// The error that was added and taken away, °C.
    pub error_c: f64,
    /// The window where it is warmer.
    pub warmer: ShiftedWindow,
    /// The window where it is cooler.
    pub cooler: ShiftedWindow,
}

/// What becomes of a window when the temperatures are others: the longest one that shares a date
/// with it.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum ShiftedWindow {
    /// It has a beginning and an end.
    Span {
        /// First date.
        opens: NaiveDate,
        /// Last date.
        closes: NaiveDate,
    },
    /// It has no end within a year.
    From {
        /// First date.
        opens: NaiveDate,
    },
    /// It has no beginning within a year.
    Until {
        /// Last date.
        closes: NaiveDate,
    },
    /// It has neither: the place is open all year.
    AllYear,
    /// No date of it is left.
    None {
        /// What stands in the way on the date that comes nearest to passing.
        reasons: Vec<Reason>,
    },
}

/// What a season was judged by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum Judgement {
    /// One mean course of the year: a date passes or not.
    MeanCourse,
    /// The mean course and the spread of single days about it: a date passes with a chance.
    Spread,
    /// The years of the records, each of which passes or not.
    Years,
}

/// What the rules leave of a year.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum SeasonOutcome {
    /// Every rule holds on every date.
    AllYear,
    /// The windows that touch the asked span, in order.
    #[non_exhaustive]
    Windows {
        /// At least one.
        windows: Vec<WorkingWindow>,
    },
    /// No date passes.
    #[non_exhaustive]
    None {
        /// The rules in the way, how far off they are, and what would help.
        reasons: Vec<Reason>,
    },
}

/// The working windows of a span of dates.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Season {
    /// Why stingless bees, or these, do not live at the place; it comes before all else.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_at_home: Option<Reason>,
    /// First date of the span that was asked for.
    pub first: NaiveDate,
    /// Last date of the span that was asked for.
    pub last: NaiveDate,
    /// The windows.
    pub outcome: SeasonOutcome,
    /// Share of years asked for.
    pub chance: f64,
    /// What it was judged by.
    pub judgement: Judgement,
    /// Courses of weather the answer rests on: the years of the records, or 1 for normals.
    pub years: usize,
    /// The rules that were used.
    pub rules: Vec<Rule>,
    /// What the temperatures rest on.
    pub basis: Vec<Basis>,
}

/// How the season is to be judged; what is not given stays at its default.
#[derive(Debug, Clone, Default, PartialEq, Serialize, FromNode, Setters)]
#[serde(default)]
#[setters(into, strip_option, prefix = "with_")]
#[non_exhaustive]
pub struct SeasonSettings {
    /// Rules in place of the default ones of the bee.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rules: Option<Vec<Rule>>,
    /// Bars this many of the wettest months, in addition to the rules: 1 to 11.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bar_wettest_months: Option<u8>,
    /// Bars months with more wet days than this, in addition to the rules: 0 to 31.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub most_wet_days: Option<f64>,
    /// Share of years asked of records; 0.8 when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chance: Option<f64>,
}

impl SeasonSettings {
    /// See `Weather::season`.
    pub(crate) fn season(
        &self,
        climate: &Climate,
        bee: &Bee,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<Season, Error> {
        let rules = self.rules_for(bee)?;
        season(climate, &rules, first, last, self.chance_asked())
    }

    fn rules_for(&self, bee: &Bee) -> Result<Vec<Rule>, Error> {
        let mut rules = self.rules.clone().unwrap_or_else(|| default_rules(bee));
        if let Some(months) = self.bar_wettest_months {
            rules.push(wet_months_rule(months)?);
        }
        if let Some(days) = self.most_wet_days {
            rules.push(wet_days_rule(days)?);
        }
        Ok(rules)
    }

    fn chance_asked(&self) -> f64 {
        self.chance.unwrap_or(DEFAULT_CHANCE)
    }
}

/// See `Weather::season`.
pub(crate) fn season(
    climate: &Climate,
    rules: &[Rule],
    first: NaiveDate,
    last: NaiveDate,
    chance: f64,
) -> Result<Season, Error> {
    check_chance(chance)?;
    check_span(first, last)?;
    let asked = Asked::following(climate, rules, first, last)?;
    let basis = climate.basis();
    let error_c = basis.first().and_then(|base| base.typical_error_c);
    let offsets_c = error_c.map_or_else(|| vec![0.0], |error_c| vec![0.0, error_c, -error_c]);
    let by_offset = asked.judge(&offsets_c);
    let judged = &by_offset[0];
    if !judged.years.iter().any(|years| *years > 0) {
        return Err(Error::NotEnoughData {
            field: "records".to_owned(),
            given: "no date on which every rule can be judged".to_owned(),
            needed: "at least one year of days with few gaps".to_owned(),
        });
    }
    let stretches = judged.open_stretches(chance);
    let mut windows: Vec<_> = judged
        .touching(&stretches, first, last)
        .map(|stretch| judged.window(stretch, chance))
        .collect();
    let outcome = if judged.is_all(&stretches) {
        SeasonOutcome::AllYear
    } else if windows.is_empty() {
        let reasons = judged.why_none(&asked.courses, chance, first, last);
        SeasonOutcome::None { reasons }
    } else {
        if let (Some(error_c), [_, warmer, cooler]) = (error_c, by_offset.as_slice()) {
            let warmer = warmer.shifted(&windows, chance);
            let cooler = cooler.shifted(&windows, chance);
            for ((window, warmer), cooler) in windows.iter_mut().zip(warmer).zip(cooler) {
                window.error_range = Some(ErrorRange {
                    error_c,
                    warmer,
                    cooler,
                });
            }
        }
        SeasonOutcome::Windows { windows }
    };
    Ok(Season {
        not_at_home: None,
        first,
        last,
        outcome,
        chance,
        judgement: judged.judgement,
        years: judged.years.iter().copied().max().unwrap_or(0),
        rules: rules.to_vec(),
        basis,
    })
}

/// The weather and the rules of one question.
struct Asked<'a> {
    rules: &'a [Rule],
    barred: Vec<[bool; 12]>,
    courses: Vec<Series<'a>>,
    judgement: Judgement,
    wet_from_mm: Option<f64>,
    span: (NaiveDate, NaiveDate),
}

impl<'a> Asked<'a> {
    /// With the dates before and after a span to which its windows are followed.
    fn following(
        climate: &'a Climate,
        rules: &'a [Rule],
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<Self, Error> {
        let from = (first - TimeDelta::days(FOLLOW_DAYS)).max(FIRST_DATE);
        let to = (last + TimeDelta::days(FOLLOW_DAYS)).min(LAST_DATE);
        Asked::new(climate, rules, from, to)
    }

    fn new(
        climate: &'a Climate,
        rules: &'a [Rule],
        from: NaiveDate,
        to: NaiveDate,
    ) -> Result<Self, Error> {
        if rules.is_empty() {
            return Err(Error::out_of_range("rules", "no rule", "at least one rule"));
        }
        at_most("rules", rules.len(), MOST_RULES, "rules")?;
        for rule in rules {
            rule.check()?;
        }
        let barred = rules
            .iter()
            .map(|rule| barred_months(rule, climate))
            .collect::<Result<Vec<_>, _>>()?;
        let reach = TimeDelta::days(rules.iter().map(Rule::reach_days).max().unwrap_or(0));
        let judgement = match (climate.records(), climate.spread()) {
            (Some(_), _) => Judgement::Years,
            (None, Some(_)) => Judgement::Spread,
            (None, None) => Judgement::MeanCourse,
        };
        let dates = (to - from).num_days() as usize + 1;
        let years = climate.records().map_or(1, |records| {
            // Each year of the records is laid over each of the dates.
            records.years().len() + (to.year() - from.year()) as usize
        });
        at_most(
            "first, last",
            dates * years * rules.len(),
            MOST_JUDGEMENTS,
            "judgements (dates with a year on either side, times years of records, times rules)",
        )?;
        work::spend((dates * years * rules.len()) as u64 / JUDGEMENTS_A_UNIT)?;
        let courses = courses(climate, from - reach, to + reach);
        Ok(Asked {
            rules,
            barred,
            courses,
            judgement,
            wet_from_mm: climate.monthly_wet_days().and_then(|wet| wet.from_mm),
            span: (from, to),
        })
    }

    fn as_given(&self) -> Judged<'a> {
        self.judge(&[0.0]).swap_remove(0)
    }

    /// With each of some numbers of °C added to every temperature.
    fn judge(&self, offsets_c: &[f64]) -> Vec<Judged<'a>> {
        let (from, to) = self.span;
        let days = (to - from).num_days() as usize + 1;
        let nothing = Judged {
            from,
            rules: self.rules,
            years: vec![0; days],
            all: vec![0.0; days],
            each: vec![vec![0.0; days]; self.rules.len()],
            judgement: self.judgement,
            wet_from_mm: self.wet_from_mm,
        };
        let mut judged = vec![nothing; offsets_c.len()];
        for course in &self.courses {
            let rules = self.rules.iter().zip(&self.barred);
            let expected: Vec<_> = rules
                .map(|(rule, barred)| course.expected(&rule.test, barred, from, days))
                .collect();
            for (judged, offset_c) in judged.iter_mut().zip(offsets_c) {
                judged.add(&expected, *offset_c);
            }
        }
        judged
    }
}

fn check_chance(chance: f64) -> Result<(), Error> {
    if chance > 0.0 && chance <= 1.0 {
        Ok(())
    } else {
        Err(Error::out_of_range("chance", chance, "above 0, up to 1"))
    }
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

/// With what chance each rule holds on each date, summed over the courses of the weather.
#[derive(Clone)]
struct Judged<'a> {
    from: NaiveDate,
    rules: &'a [Rule],
    /// Courses that could be judged, by date.
    years: Vec<usize>,
    /// Their chances that every rule on the weather holds, summed.
    all: Vec<f64>,
    /// Their chances that the one rule holds, summed, by rule and date.
    each: Vec<Vec<f64>>,
    judgement: Judgement,
    wet_from_mm: Option<f64>,
}

impl Judged<'_> {
    /// Adds a course of the weather, by what each rule looks at in it, with `offset_c` added to every
    /// temperature.
    fn add(&mut self, expected: &[Vec<Option<Expected>>], offset_c: f64) {
        let by_rule: Vec<_> = self
            .rules
            .iter()
            .zip(expected)
            .map(|(rule, expected)| chances(&rule.test, expected, offset_c))
            .collect();
        for day in 0..self.years.len() {
            if by_rule.iter().any(|answers| answers[day].is_none()) {
                continue;
            }
            self.years[day] += 1;
            // The rules look at the same warm or cold days: they hold together with about the chance
            // of the least likely one.
            let mut least = 1.0_f64;
            for ((rule, answers), sums) in self.rules.iter().zip(&by_rule).zip(&mut self.each) {
                let chance = answers[day].unwrap_or(0.0);
                if !rule.is_of_the_calendar() {
                    least = least.min(chance);
                }
                sums[day] += chance;
            }
            self.all[day] += least;
        }
    }

    fn date(&self, index: usize) -> NaiveDate {
        self.from + TimeDelta::days(index as i64)
    }

    fn share(&self, sums: &[f64], index: usize) -> Option<f64> {
        (self.years[index] > 0).then(|| sums[index] / self.years[index] as f64)
    }

    /// The share of a date under one rule.
    fn share_of_rule(&self, rule: usize, index: usize) -> f64 {
        if self.rules[rule].is_of_the_calendar() {
            self.share(&self.each[rule], index).unwrap_or(0.0)
        } else {
            self.smooth_share(&self.each[rule], index)
        }
    }

    /// True where a rule of the calendar closes the date.
    fn is_barred(&self, index: usize) -> bool {
        let rules = self.rules.iter().zip(&self.each);
        rules
            .filter(|(rule, _)| rule.is_of_the_calendar())
            .any(|(_, sums)| sums[index] == 0.0)
    }

    /// How many days before and after a date its share is averaged with.
    fn smoothed_with(&self) -> usize {
        match self.judgement {
            Judgement::Years | Judgement::Spread => SHARE_SMOOTHING_DAYS / 2,
            Judgement::MeanCourse => 0,
        }
    }

    /// The share of a date, smoothed where there are chances.
    fn smooth_share(&self, sums: &[f64], index: usize) -> f64 {
        let half = self.smoothed_with();
        let around = index.saturating_sub(half)..(index + half + 1).min(self.years.len());
        let mut smooth = Smooth::default();
        around.for_each(|i| smooth.take(self.share(sums, i), 1.0));
        smooth.mean()
    }

    /// The stretches of open dates, as indices with the end left out.
    fn open_stretches(&self, chance: f64) -> Vec<std::ops::Range<usize>> {
        let mut stretches: Vec<std::ops::Range<usize>> = Vec::new();
        let half = self.smoothed_with();
        let (mut smooth, mut ahead) = (Smooth::default(), 0);
        for index in 0..self.years.len() {
            while ahead < self.years.len() && ahead <= index + half {
                smooth.take(self.share(&self.all, ahead), 1.0);
                ahead += 1;
            }
            if let Some(behind) = index.checked_sub(half + 1) {
                smooth.take(self.share(&self.all, behind), -1.0);
            }
            if self.is_barred(index) || !passes(smooth.mean(), chance) {
                continue;
            }
            match stretches.last_mut() {
                Some(last) if last.end == index => last.end += 1,
                _ => stretches.push(index..index + 1),
            }
        }
        stretches
    }

    /// The stretches that share a date with a span.
    fn touching<'s>(
        &self,
        stretches: &'s [std::ops::Range<usize>],
        first: NaiveDate,
        last: NaiveDate,
    ) -> impl Iterator<Item = &'s std::ops::Range<usize>> {
        let (first, last) = (self.index(first), self.index(last));
        stretches
            .iter()
            .filter(move |s| s.start as i64 <= last && s.end as i64 > first)
    }

    /// Whether every date is open.
    fn is_all(&self, stretches: &[std::ops::Range<usize>]) -> bool {
        stretches
            .first()
            .is_some_and(|stretch| stretch.len() == self.years.len())
    }

    fn window(&self, stretch: &std::ops::Range<usize>, chance: f64) -> WorkingWindow {
        let before = stretch.start.checked_sub(1);
        let after = Some(stretch.end).filter(|end| *end < self.years.len());
        let in_the_way =
            |index: Option<usize>| index.map_or_else(Vec::new, |i| self.in_the_way(i, chance));
        WorkingWindow {
            opens: self.date(stretch.start),
            closes: self.date(stretch.end - 1),
            days: stretch.len() as i64,
            opened_by: in_the_way(before),
            closed_by: in_the_way(after),
            error_range: None,
        }
    }

    /// The longest stretch that shares a date with each of some windows.
    fn shifted(&self, windows: &[WorkingWindow], chance: f64) -> Vec<ShiftedWindow> {
        let stretches = self.open_stretches(chance);
        let shifted = |window: &WorkingWindow| {
            let shared = self.touching(&stretches, window.opens, window.closes);
            let Some(stretch) = shared.max_by_key(|stretch| stretch.len()) else {
                let reasons = self.in_the_way(self.nearest_to_open(window), chance);
                return ShiftedWindow::None { reasons };
            };
            let (opens, closes) = (self.date(stretch.start), self.date(stretch.end - 1));
            match (stretch.start > 0, stretch.end < self.years.len()) {
                (true, true) => ShiftedWindow::Span { opens, closes },
                (true, false) => ShiftedWindow::From { opens },
                (false, true) => ShiftedWindow::Until { closes },
                (false, false) => ShiftedWindow::AllYear,
            }
        };
        windows.iter().map(shifted).collect()
    }

    /// The date of a window that the least likely rule closes least; of several the one in the middle.
    fn nearest_to_open(&self, window: &WorkingWindow) -> usize {
        let least = |index: usize| {
            let rules = 0..self.rules.len();
            rules
                .map(|rule| self.share_of_rule(rule, index))
                .fold(1.0, f64::min)
        };
        let dates = self.index(window.opens)..=self.index(window.closes);
        let middle = i64::midpoint(*dates.start(), *dates.end());
        let shares = dates.map(|index| (index as usize, least(index as usize)));
        let nearest = shares.max_by(|(a, share_a), (b, share_b)| {
            let away = |index: &usize| (*index as i64 - middle).abs();
            share_a.total_cmp(share_b).then(away(b).cmp(&away(a)))
        });
        nearest.map_or(middle as usize, |(index, _)| index)
    }

    fn index(&self, date: NaiveDate) -> i64 {
        (date - self.from).num_days()
    }

    /// The rules that keep a date closed; where each alone would pass, the one that passes least.
    fn in_the_way(&self, index: usize, chance: f64) -> Vec<Reason> {
        let shares: Vec<f64> = (0..self.rules.len())
            .map(|rule| self.share_of_rule(rule, index))
            .collect();
        let least = shares.iter().copied().fold(1.0, f64::min);
        let in_the_way = |share: f64| {
            if passes(least, chance) {
                share <= least
            } else {
                !passes(share, chance)
            }
        };
        self.rules
            .iter()
            .zip(&shares)
            .filter(|(_, share)| in_the_way(**share))
            .map(|(rule, share)| {
                let in_years = self.judgement != Judgement::MeanCourse;
                rule.broken(self.wet_from_mm, in_years.then_some(1.0 - share))
            })
            .collect()
    }

    /// For each rule that never or seldom passes: how close it comes, and what would change it.
    fn why_none(
        &self,
        courses: &[Series<'_>],
        chance: f64,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Vec<Reason> {
        let span = (first - self.from).num_days() as usize..=(last - self.from).num_days() as usize;
        let mut reasons = Vec::new();
        for (number, rule) in self.rules.iter().enumerate() {
            if span
                .clone()
                .any(|i| passes(self.share_of_rule(number, i), chance))
            {
                continue;
            }
            let nearest = nearest(courses, rule, span.clone().map(|i| self.date(i)));
            let why = rule.broken(self.wet_from_mm, None);
            reasons.push(say::never_holds(&rule.name, why, nearest));
        }
        if reasons.is_empty() {
            reasons.push(say::never_together());
        }
        reasons.push(say::season_would_change());
        reasons
    }
}

/// The mean of the shares around a date.
#[derive(Default)]
struct Smooth {
    sum: f64,
    known: f64,
}

impl Smooth {
    /// Takes a share in, or with −1 out again.
    fn take(&mut self, share: Option<f64>, times: f64) {
        if let Some(share) = share {
            self.sum += times * share;
            self.known += times;
        }
    }

    fn mean(&self) -> f64 {
        if self.known > 0.0 {
            self.sum / self.known
        } else {
            0.0
        }
    }
}

/// A share such as 4/5 must pass a chance of 0.8 in spite of rounding.
fn passes(share: f64, chance: f64) -> bool {
    share >= chance - 1e-9
}

/// The value of a temperature rule that comes nearest to passing, averaged over the courses.
fn nearest(
    courses: &[Series<'_>],
    rule: &Rule,
    dates: impl Iterator<Item = NaiveDate>,
) -> Option<f64> {
    let (quantity, days, low) = match rule.test {
        RuleTest::Temperature {
            quantity,
            at_least_c,
            over_days,
            ..
        } => (quantity, over_days, at_least_c.is_some()),
        RuleTest::WarmWeeksAhead {
            quantity,
            averaged_weeks,
            ..
        } => (quantity, 7 * averaged_weeks, true),
        RuleTest::OutsideWettestMonths { .. }
        | RuleTest::MonthlyRain { .. }
        | RuleTest::MonthlyWetDays { .. } => return None,
    };
    let means = dates.filter_map(|date| {
        let values: Vec<f64> = courses
            .iter()
            .filter_map(|course| course.around(quantity, date, days))
            .collect();
        (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
    });
    if low {
        means.reduce(f64::max)
    } else {
        means.reduce(f64::min)
    }
}

/// The months a rain rule closes; none for the other rules.
fn barred_months(rule: &Rule, climate: &Climate) -> Result<[bool; 12], Error> {
    let missing = |what: &str, needed: &str| Error::NotEnoughData {
        field: rule.name.clone(),
        given: format!("a climate without {what}"),
        needed: needed.to_owned(),
    };
    let rain = || {
        let needed = "twelve monthly rain totals in mm, or records with rain";
        let rain = climate.monthly_rain_mm();
        rain.ok_or_else(|| missing("monthly rain", needed))
    };
    let mut barred = [false; 12];
    match rule.test {
        RuleTest::Temperature { .. } | RuleTest::WarmWeeksAhead { .. } => {}
        RuleTest::OutsideWettestMonths { months } => {
            let rain = rain()?;
            let mut order: Vec<usize> = (0..12).collect();
            order.sort_by(|a, b| rain[*b].total_cmp(&rain[*a]));
            for month in order.into_iter().take(months.into()) {
                barred[month] = true;
            }
        }
        RuleTest::MonthlyRain { at_most_mm } => {
            barred = rain()?.map(|mm| mm > at_most_mm);
        }
        RuleTest::MonthlyWetDays { at_most_days } => {
            let needed = "twelve counts of wet days, or records with rain";
            let wet = climate.monthly_wet_days();
            let wet = wet.ok_or_else(|| missing("wet days", needed))?;
            barred = wet.days.map(|days| days > at_most_days);
        }
    }
    Ok(barred)
}

/// The courses of the weather: one for each year of the records, laid over the asked dates; else
/// the one that the climate gives.
fn courses(climate: &Climate, from: NaiveDate, to: NaiveDate) -> Vec<Series<'_>> {
    let Some(records) = climate.records() else {
        return vec![Series::new(from, to, climate.spread(), |date| {
            Some(climate.day(date))
        })];
    };
    let years = records.years();
    let (Some(oldest), Some(newest)) = (years.iter().min(), years.iter().max()) else {
        return Vec::new();
    };
    (oldest - to.year()..=newest - from.year())
        .map(|shift| {
            Series::new(from, to, None, |date| {
                climate
                    .forecast_day(date)
                    .or_else(|| records.day(in_year(date, date.year() + shift)?))
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
