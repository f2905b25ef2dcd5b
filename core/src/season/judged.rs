//! The rules judged on every date of a span, over the courses of its weather.

use std::borrow::Cow;
use std::cell::OnceCell;
use std::ops::Range;

use chrono::{Datelike, NaiveDate, TimeDelta};

use super::rain::barred_by_rains;
use super::rules::{Rule, RuleTest};
use super::series::{Expected, Holds, Series, chances};
use super::{
    AT_RISK_DAYS, Criteria, DateState, FOLLOW_DAYS, JUDGEMENTS_A_UNIT, Judgement, MOST_JUDGEMENTS,
    MOST_RULES, SHARE_SMOOTHING_DAYS, ShiftedWindow, WorkingWindow,
};
use crate::civil::{FIRST_DATE, LAST_DATE};
use crate::climate::Climate;
use crate::error::{Error, at_most};
use crate::normal::quantile;
use crate::reason::{Reason, say};
use crate::work;

/// By how little a share may miss a chance.
const ROUNDING: f64 = 1e-9;

/// The weather and the rules of one question.
pub(super) struct Asked<'a> {
    careful: Level<'a>,
    easier: Level<'a>,
    pub courses: Vec<Series<'a>>,
    judgement: Judgement,
    wet_from_mm: Option<f64>,
    span: (NaiveDate, NaiveDate),
    /// Of work, for each level of rules.
    units: u64,
}

/// Rules, and the months that those of them bar which are of the calendar.
pub(super) struct Level<'a> {
    rules: Cow<'a, [Rule]>,
    barred: Vec<[bool; 12]>,
}

impl<'a> Level<'a> {
    fn new(rules: Cow<'a, [Rule]>, climate: &Climate) -> Result<Self, Error> {
        let barred = rules
            .iter()
            .map(|rule| barred_months(rule, climate))
            .collect::<Result<_, _>>()?;
        Ok(Level { rules, barred })
    }
}

impl<'a> Asked<'a> {
    /// With the dates before and after a span to which its windows are followed.
    pub fn following(
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
        let careful = Level::new(Cow::Borrowed(rules), climate)?;
        let easier: Vec<_> = rules.iter().map(Rule::easier).collect();
        let easier = Level::new(Cow::Owned(easier), climate)?;
        let both = careful.rules.iter().chain(easier.rules.iter());
        let reach = TimeDelta::days(both.map(Rule::reach_days).max().unwrap_or(0));
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
        let courses = courses(climate, from - reach, to + reach);
        Ok(Asked {
            careful,
            easier,
            courses,
            judgement,
            wet_from_mm: climate.monthly_wet_days().and_then(|wet| wet.from_mm),
            span: (from, to),
            units: (dates * years * rules.len()) as u64 / JUDGEMENTS_A_UNIT,
        })
    }

    /// By the careful rules, with each of some numbers of °C added to every temperature.
    pub fn careful(&self, offsets_c: &[f64]) -> Result<Vec<Judged<'_>>, Error> {
        self.judge(&self.careful, offsets_c)
    }

    /// By the easier rules too.
    pub fn both(&self, offsets_c: &[f64]) -> Result<Vec<Both<'_>>, Error> {
        let careful = self.careful(offsets_c)?;
        let easier = self.judge(&self.easier, offsets_c)?;
        let both = careful.into_iter().zip(easier);
        Ok(both
            .map(|(careful, easier)| Both { careful, easier })
            .collect())
    }

    /// As the climate is.
    pub fn as_given(&self) -> Result<Both<'_>, Error> {
        let one = |level| Ok::<_, Error>(self.judge(level, &[0.0])?.swap_remove(0));
        Ok(Both {
            careful: one(&self.careful)?,
            easier: one(&self.easier)?,
        })
    }

    fn judge<'j>(&self, level: &'j Level<'_>, offsets_c: &[f64]) -> Result<Vec<Judged<'j>>, Error> {
        work::spend(self.units)?;
        let (from, to) = self.span;
        let days = (to - from).num_days() as usize + 1;
        let nothing = Judged {
            from,
            rules: &level.rules,
            years: vec![0; days],
            all: vec![Holds::NEVER; days],
            each: vec![vec![Holds::NEVER; days]; level.rules.len()],
            judgement: self.judgement,
            wet_from_mm: self.wet_from_mm,
        };
        let mut judged = vec![nothing; offsets_c.len()];
        for course in &self.courses {
            let rules = level.rules.iter().zip(&level.barred);
            let expected: Vec<_> = rules
                .map(|(rule, barred)| course.expected(&rule.test, barred, from, days))
                .collect();
            for (judged, offset_c) in judged.iter_mut().zip(offsets_c) {
                judged.add(&expected, *offset_c);
            }
        }
        Ok(judged)
    }
}

/// Dates judged by the careful rules and by the easier ones.
pub(super) struct Both<'a> {
    pub careful: Judged<'a>,
    pub easier: Judged<'a>,
}

/// Stretches of dates, as indices with the end left out.
pub(super) struct Stretches {
    pub good: Vec<Range<usize>>,
    /// Good or at risk.
    pub wider: Vec<Range<usize>>,
}

impl Both<'_> {
    /// What is good, and what is good or at risk.
    pub fn stretches(&self, criteria: &Criteria) -> Stretches {
        let good = self.careful.open(criteria.chance);
        let easier = self.easier.open(criteria.at_risk_chance);
        let wider = Self::near_good(&good, &easier);
        Stretches {
            good: stretches(&good),
            wider: stretches(&wider),
        }
    }

    /// Good dates, and those joined to them on which the easier rules hold, as far as `AT_RISK_DAYS`
    /// from them. Where no date is good, none is at risk.
    fn near_good(good: &[bool], easier: &[bool]) -> Vec<bool> {
        let mut grown = good.to_vec();
        let mut grow = |indices: &mut dyn Iterator<Item = usize>| {
            let mut left = 0;
            for index in indices {
                if good[index] {
                    left = AT_RISK_DAYS;
                } else if easier[index] && left > 0 {
                    left -= 1;
                    grown[index] = true;
                } else {
                    left = 0;
                }
            }
        };
        grow(&mut (0..good.len()));
        grow(&mut (0..good.len()).rev());
        grown
    }

    /// Why the dates about one are not good, or not even at risk.
    pub fn why(&self, state: DateState, index: usize, criteria: &Criteria) -> Vec<Reason> {
        match state {
            DateState::Good => Vec::new(),
            DateState::AtRisk => self.careful.in_the_way(index, criteria.chance),
            DateState::Closed => {
                let all = |index: usize| self.easier.all[index].chance();
                let share = self.easier.smooth_share(all, index);
                if !self.easier.is_barred(index) && passes(share, criteria.at_risk_chance) {
                    let mut why = self.careful.in_the_way(index, criteria.chance);
                    why.push(say::far_from_good(AT_RISK_DAYS as f64 / 7.0));
                    return why;
                }
                self.easier.in_the_way(index, criteria.at_risk_chance)
            }
        }
    }
}

/// With what chance each rule holds on each date, summed over the courses of the weather.
#[derive(Clone)]
pub(super) struct Judged<'a> {
    pub from: NaiveDate,
    pub rules: &'a [Rule],
    /// Courses that could be judged, by date.
    pub years: Vec<usize>,
    /// Their chances that every rule on the weather holds, summed.
    all: Vec<Holds>,
    /// Their chances that the one rule holds, summed, by rule and date.
    each: Vec<Vec<Holds>>,
    pub judgement: Judgement,
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
            let mut least: Option<Holds> = None;
            for ((rule, answers), sums) in self.rules.iter().zip(&by_rule).zip(&mut self.each) {
                let holds = answers[day].unwrap_or(Holds::NEVER);
                if !rule.is_of_the_calendar() {
                    least = Some(least.map_or(holds, |least| least.least(holds)));
                }
                sums[day] = sums[day].plus(holds);
            }
            self.all[day] = self.all[day].plus(least.unwrap_or(Holds::SURELY));
        }
    }

    pub fn date(&self, index: usize) -> NaiveDate {
        self.from + TimeDelta::days(index as i64)
    }

    fn share(&self, sums: impl Fn(usize) -> f64, index: usize) -> Option<f64> {
        (self.years[index] > 0).then(|| sums(index) / self.years[index] as f64)
    }

    /// The share of a date under one rule.
    fn share_of_rule(&self, rule: usize, index: usize) -> f64 {
        self.share_under(rule, |index| self.each[rule][index].chance(), index)
    }

    /// The share of every date under one rule: each chance is worked out once.
    pub fn shares_of_rule(&self, rule: usize) -> Vec<f64> {
        let chances: Vec<f64> = self.each[rule].iter().map(|holds| holds.chance()).collect();
        let days = 0..chances.len();
        days.map(|index| self.share_under(rule, |index| chances[index], index))
            .collect()
    }

    fn share_under(&self, rule: usize, sums: impl Fn(usize) -> f64, index: usize) -> f64 {
        if self.rules[rule].is_of_the_calendar() {
            self.share(sums, index).unwrap_or(0.0)
        } else {
            self.smooth_share(sums, index)
        }
    }

    /// True where a rule of the calendar closes the date.
    fn is_barred(&self, index: usize) -> bool {
        let rules = self.rules.iter().zip(&self.each);
        rules
            .filter(|(rule, _)| rule.is_of_the_calendar())
            .any(|(_, sums)| sums[index].chance() == 0.0)
    }

    /// How many days before and after a date its share is averaged with.
    fn smoothed_with(&self) -> usize {
        match self.judgement {
            Judgement::Years | Judgement::Spread => SHARE_SMOOTHING_DAYS / 2,
            Judgement::MeanCourse => 0,
        }
    }

    /// The share of a date, smoothed where there are chances: the mean of those around it.
    fn smooth_share(&self, sums: impl Fn(usize) -> f64, index: usize) -> f64 {
        let half = self.smoothed_with();
        let around = index.saturating_sub(half)..(index + half + 1).min(self.years.len());
        let (mut sum, mut known) = (0.0, 0.0);
        for share in around.filter_map(|index| self.share(&sums, index)) {
            sum += share;
            known += 1.0;
        }
        if known > 0.0 { sum / known } else { 0.0 }
    }

    /// Whether the rules hold on a date by itself; `None` where it could not be judged. `by` is how many standard
    /// deviations a chance is.
    fn passes_alone(&self, index: usize, chance: f64, by: f64) -> Option<bool> {
        let years = self.years[index];
        (years > 0).then(|| match self.all[index] {
            Holds::By(sd) => sd >= by,
            Holds::Chance(sum) => passes(sum / years as f64, chance),
        })
    }

    /// Whether each date is open. Where every date around one passes, or none does, so does their mean: the chances
    /// themselves are worked out only about the edges of windows.
    fn open(&self, chance: f64) -> Vec<bool> {
        let (half, days) = (self.smoothed_with(), self.years.len());
        let by = quantile(chance - ROUNDING);
        let alone: Vec<_> = (0..days)
            .map(|index| self.passes_alone(index, chance, by))
            .collect();
        let chances = vec![OnceCell::new(); days];
        let chance_of = |index: usize| *chances[index].get_or_init(|| self.all[index].chance());
        // Dates around one that fail, and that pass.
        let (mut around, mut ahead) = ([0_usize; 2], 0);
        let mut passes_smoothed = |index: usize| {
            while ahead < days && ahead <= index + half {
                if let Some(passing) = alone[ahead] {
                    around[usize::from(passing)] += 1;
                }
                ahead += 1;
            }
            let behind = index.checked_sub(half + 1);
            if let Some(passing) = behind.and_then(|behind| alone[behind]) {
                around[usize::from(passing)] -= 1;
            }
            match (around[0], around[1]) {
                (0, 1..) => true,
                (1.., 0) => false,
                _ => passes(self.smooth_share(chance_of, index), chance),
            }
        };
        (0..days)
            .map(|index| passes_smoothed(index) && !self.is_barred(index))
            .collect()
    }

    /// An error where too little is known to judge any date.
    pub fn check_known(&self) -> Result<(), Error> {
        if self.years.iter().any(|years| *years > 0) {
            return Ok(());
        }
        Err(Error::NotEnoughData {
            field: "records".to_owned(),
            given: "no date on which every rule can be judged".to_owned(),
            needed: "at least one year of days with few gaps".to_owned(),
        })
    }

    /// The stretches of open dates, as indices with the end left out.
    pub fn stretches(&self, chance: f64) -> Vec<Range<usize>> {
        stretches(&self.open(chance))
    }

    /// The stretches that share a date with a span.
    pub fn touching<'s>(
        &self,
        stretches: &'s [Range<usize>],
        first: NaiveDate,
        last: NaiveDate,
    ) -> impl Iterator<Item = &'s Range<usize>> {
        let (first, last) = (self.index(first), self.index(last));
        stretches
            .iter()
            .filter(move |s| s.start as i64 <= last && s.end as i64 > first)
    }

    /// Whether every date is open.
    pub fn is_all(&self, stretches: &[Range<usize>]) -> bool {
        stretches
            .first()
            .is_some_and(|stretch| stretch.len() == self.years.len())
    }

    pub fn window(&self, stretch: &Range<usize>, chance: f64) -> WorkingWindow {
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

    /// The longest of some stretches that shares a date with each of some windows.
    pub fn shifted(
        &self,
        stretches: &[Range<usize>],
        windows: &[WorkingWindow],
        chance: f64,
    ) -> Vec<ShiftedWindow> {
        let shifted = |window: &WorkingWindow| {
            let shared = self.touching(stretches, window.opens, window.closes);
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
        let rules = 0..self.rules.len();
        let shares: Vec<_> = rules.map(|rule| self.shares_of_rule(rule)).collect();
        let least = |index: usize| shares.iter().map(|of| of[index]).fold(1.0, f64::min);
        let dates = self.index(window.opens)..=self.index(window.closes);
        let middle = i64::midpoint(*dates.start(), *dates.end());
        let shares = dates.map(|index| (index as usize, least(index as usize)));
        let nearest = shares.max_by(|(a, share_a), (b, share_b)| {
            let away = |index: &usize| (*index as i64 - middle).abs();
            share_a.total_cmp(share_b).then(away(b).cmp(&away(a)))
        });
        nearest.map_or(middle as usize, |(index, _)| index)
    }

    pub fn index(&self, date: NaiveDate) -> i64 {
        (date - self.from).num_days()
    }

    /// The rules that keep a date closed; where each alone would pass, the one that passes least.
    pub fn in_the_way(&self, index: usize, chance: f64) -> Vec<Reason> {
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
    pub fn why_none(
        &self,
        courses: &[Series<'_>],
        chance: f64,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Vec<Reason> {
        let span = (first - self.from).num_days() as usize..=(last - self.from).num_days() as usize;
        let mut reasons = Vec::new();
        for (number, rule) in self.rules.iter().enumerate() {
            let shares = self.shares_of_rule(number);
            if span.clone().any(|i| passes(shares[i], chance)) {
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

/// Indices that follow each other and are true, with the end left out.
fn stretches(open: &[bool]) -> Vec<Range<usize>> {
    let mut stretches: Vec<Range<usize>> = Vec::new();
    for index in (0..open.len()).filter(|index| open[*index]) {
        match stretches.last_mut() {
            Some(last) if last.end == index => last.end += 1,
            _ => stretches.push(index..index + 1),
        }
    }
    stretches
}

/// A share such as 4/5 must pass a chance of 0.8 in spite of rounding.
fn passes(share: f64, chance: f64) -> bool {
    share >= chance - ROUNDING
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
        | RuleTest::MonthlyWetDays { .. }
        | RuleTest::Rains { .. } => return None,
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
        RuleTest::Rains { bar } => {
            let needed = "months of which some are wetter than others";
            barred = barred_by_rains(&bar, &rain()?)
                .ok_or_else(|| missing("rains: all months are alike", needed))?;
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
