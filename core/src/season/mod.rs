//! Where the year stands for dividing colonies: which dates are good, at risk or closed.

mod judged;
mod odds;
mod published;
mod rain;
mod rows;
mod rules;
mod series;
mod states;

use std::fmt;
use std::ops::Range;

use chrono::NaiveDate;
use derive_setters::Setters;
use serde::Serialize;

use crate::bee::Bee;
use crate::civil::check_date;
use crate::climate::{Basis, Climate};
use crate::error::Error;
use crate::reason::Reason;
use crate::wire::FromNode;

pub use odds::{Odds, SeasonOdds, StartOdds};
pub(crate) use published::published;
pub use published::{PublishedKind, PublishedMark, PublishedSeason};
pub use rain::{BarRains, RainOfYear, RainsEdge};
pub use rows::{SEASON_DAYS, SeasonColumns, SeasonOptions, SeasonState, season_columns};
pub use rules::{
    Quantity, Rule, RuleTest, default_rules, rains_rule, wet_days_rule, wet_months_rule,
};
pub use states::{DateState, EdgeRange, SeasonStretch};

use judged::{Asked, Judged};

/// Share of years in which the rules must hold for a date to be good. Common practice, no source:
/// with it the good season of Curitiba opens three and a half weeks after the published one.
pub const DEFAULT_CHANCE: f64 = 0.7;
/// Share of years in which the easier rules must hold for a date to be at risk. Common practice, no
/// source.
pub const DEFAULT_AT_RISK_CHANCE: f64 = 0.5;
/// Most days between a date at risk and a good one: about the time from egg to new worker. Common
/// practice, no source.
pub const AT_RISK_DAYS: usize = 56;

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

/// A stretch of dates on which every rule holds, or that is good or at risk.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct WorkingWindow {
    /// First date.
    pub opens: NaiveDate,
    /// Last date.
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
    /// Every date.
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
    /// What to look at again in the place ([`place::doubts`](crate::place::doubts)).
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub doubts: Vec<Reason>,
    /// First date of the span that was asked for.
    pub first: NaiveDate,
    /// Last date of the span that was asked for.
    pub last: NaiveDate,
    /// What is published or practised in the region, the row that fits best first; it comes before the
    /// computed windows. Empty where nothing is known of the region.
    pub published: Vec<PublishedSeason>,
    /// The windows of good dates: the careful rules hold.
    pub outcome: SeasonOutcome,
    /// The windows of dates that are good or at risk.
    pub wider: SeasonOutcome,
    /// The asked span in order, without a gap: what its dates are.
    pub states: Vec<SeasonStretch>,
    /// The rain of the year, where it is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rain: Option<RainOfYear>,
    /// Share of years asked for of a good date.
    pub chance: f64,
    /// Share of years asked for of a date at risk.
    pub at_risk_chance: f64,
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
    /// Bars months counted from the start or the end of the rains, in addition to the rules.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bar_rains: Option<BarRains>,
    /// Share of years asked of a good date; 0.7 when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chance: Option<f64>,
    /// Share of years asked of a date at risk, at most `chance`; 0.5, or `chance` where that is less,
    /// when not given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_risk_chance: Option<f64>,
}

/// Rules, and in what share of years they are to hold.
#[derive(Debug, Clone)]
pub(crate) struct Criteria {
    rules: Vec<Rule>,
    chance: f64,
    at_risk_chance: f64,
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
        season(climate, &self.criteria(bee)?, first, last)
    }

    /// The good windows of [`season`](Self::season) alone, without what is at risk, and the rules.
    pub(crate) fn good_windows(
        &self,
        climate: &Climate,
        bee: &Bee,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<(SeasonOutcome, Vec<Rule>), Error> {
        let criteria = self.criteria(bee)?;
        let question = Question::new(climate, &criteria, first, last)?;
        let by_offset = question.asked.careful(&question.offsets_c())?;
        by_offset[0].check_known()?;
        let stretches: Vec<_> = by_offset
            .iter()
            .map(|judged| judged.stretches(criteria.chance))
            .collect();
        let good: Vec<_> = by_offset.iter().zip(&stretches).collect();
        let why_none = || question.why_none(&by_offset[0]);
        let outcome = question.outcome(&good, criteria.chance, &why_none);
        Ok((outcome, criteria.rules))
    }

    /// The window, good or at risk, that a date lies in; none where no date is good or every date is.
    pub(crate) fn wider_window(
        &self,
        climate: &Climate,
        bee: &Bee,
        date: NaiveDate,
    ) -> Result<Option<WorkingWindow>, Error> {
        let criteria = self.criteria(bee)?;
        let question = Question::new(climate, &criteria, date, date)?;
        let both = question.asked.as_given()?;
        both.careful.check_known()?;
        let wider = both.stretches(&criteria).wider;
        if both.easier.is_all(&wider) {
            return Ok(None);
        }
        let found = both.easier.touching(&wider, date, date).next();
        Ok(found.map(|stretch| both.easier.window(stretch, criteria.at_risk_chance)))
    }

    fn criteria(&self, bee: &Bee) -> Result<Criteria, Error> {
        let mut rules = self.rules.clone().unwrap_or_else(|| default_rules(bee));
        if let Some(months) = self.bar_wettest_months {
            rules.push(wet_months_rule(months)?);
        }
        if let Some(days) = self.most_wet_days {
            rules.push(wet_days_rule(days)?);
        }
        if let Some(bar) = self.bar_rains {
            rules.push(rains_rule(bar)?);
        }
        let chance = self.chance.unwrap_or(DEFAULT_CHANCE);
        check_chance("chance", chance)?;
        let at_risk_chance = self
            .at_risk_chance
            .unwrap_or(DEFAULT_AT_RISK_CHANCE.min(chance));
        check_chance("at_risk_chance", at_risk_chance)?;
        if at_risk_chance > chance {
            return Err(Error::Inconsistent {
                field: "at_risk_chance".to_owned(),
                problem: format!("at_risk_chance {at_risk_chance} is above chance {chance}"),
            });
        }
        Ok(Criteria {
            rules,
            chance,
            at_risk_chance,
        })
    }
}

/// See `Weather::season`.
pub(crate) fn season(
    climate: &Climate,
    criteria: &Criteria,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Season, Error> {
    let question = Question::new(climate, criteria, first, last)?;
    let by_offset = question.asked.both(&question.offsets_c())?;
    let judged = &by_offset[0];
    judged.careful.check_known()?;
    let stretches: Vec<_> = by_offset
        .iter()
        .map(|both| both.stretches(criteria))
        .collect();
    let with_stretches = || by_offset.iter().zip(&stretches);
    let good: Vec<_> = with_stretches()
        .map(|(both, of)| (&both.careful, &of.good))
        .collect();
    let wider: Vec<_> = with_stretches()
        .map(|(both, of)| (&both.easier, &of.wider))
        .collect();
    // Where no date is good, none is at risk, for the same reasons.
    let why_none = || question.why_none(&judged.careful);
    let outcome = question.outcome(&good, criteria.chance, &why_none);
    let wider = question.outcome(&wider, criteria.at_risk_chance, &why_none);
    let states = states::in_order(
        judged,
        &stretches[0],
        criteria,
        (first, last),
        [&outcome, &wider],
    );
    Ok(Season {
        not_at_home: None,
        doubts: Vec::new(),
        published: Vec::new(),
        rain: RainOfYear::of(climate),
        first,
        last,
        outcome,
        wider,
        states,
        chance: criteria.chance,
        at_risk_chance: criteria.at_risk_chance,
        judgement: judged.careful.judgement,
        years: judged.careful.years.iter().copied().max().unwrap_or(0),
        rules: criteria.rules.clone(),
        basis: climate.basis(),
    })
}

/// What is asked of a span of dates.
struct Question<'a> {
    asked: Asked<'a>,
    criteria: &'a Criteria,
    first: NaiveDate,
    last: NaiveDate,
    /// The typical error of the temperatures, where it is known.
    error_c: Option<f64>,
}

impl<'a> Question<'a> {
    fn new(
        climate: &'a Climate,
        criteria: &'a Criteria,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<Self, Error> {
        check_span(first, last)?;
        let basis = climate.basis();
        Ok(Question {
            asked: Asked::following(climate, &criteria.rules, first, last)?,
            criteria,
            first,
            last,
            error_c: basis.first().and_then(|base| base.typical_error_c),
        })
    }

    /// As the temperatures are, warmer and cooler by their error.
    fn offsets_c(&self) -> Vec<f64> {
        match self.error_c {
            Some(error_c) => vec![0.0, error_c, -error_c],
            None => vec![0.0],
        }
    }

    fn why_none(&self, careful: &Judged<'_>) -> Vec<Reason> {
        careful.why_none(
            &self.asked.courses,
            self.criteria.chance,
            self.first,
            self.last,
        )
    }

    /// The windows by some rules, whose dates have been judged with each offset.
    fn outcome(
        &self,
        by_offset: &[(&Judged<'_>, &Vec<Range<usize>>)],
        chance: f64,
        why_none: &dyn Fn() -> Vec<Reason>,
    ) -> SeasonOutcome {
        let (judged, stretches) = by_offset[0];
        if judged.is_all(stretches) {
            return SeasonOutcome::AllYear;
        }
        let mut windows: Vec<_> = judged
            .touching(stretches, self.first, self.last)
            .map(|stretch| judged.window(stretch, chance))
            .collect();
        if windows.is_empty() {
            let reasons = why_none();
            return SeasonOutcome::None { reasons };
        }
        if let (Some(error_c), [_, warmer, cooler]) = (self.error_c, by_offset) {
            let warmer = warmer.0.shifted(warmer.1, &windows, chance);
            let cooler = cooler.0.shifted(cooler.1, &windows, chance);
            for ((window, warmer), cooler) in windows.iter_mut().zip(warmer).zip(cooler) {
                window.error_range = Some(ErrorRange {
                    error_c,
                    warmer,
                    cooler,
                });
            }
        }
        SeasonOutcome::Windows { windows }
    }
}

impl Season {
    /// What a date of the asked span is; none for other dates.
    ///
    /// ```
    /// use apiary_almanac::{Site, Weather, bee, season::DateState};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let small = bee::built_in("generic_small")?;
    /// let (first, last) = ("2026-07-01".parse()?, "2027-06-30".parse()?);
    /// let season = Weather::of_location(site, &small).season(first, last, &Default::default())?;
    /// assert_eq!(season.state_of("2026-11-26".parse()?), Some(DateState::Good));
    /// assert_eq!(season.state_of("2026-07-15".parse()?), Some(DateState::Closed));
    /// assert_eq!(season.state_of("2027-07-15".parse()?), None); // not asked for
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn state_of(&self, date: NaiveDate) -> Option<DateState> {
        let of = |stretch: &&SeasonStretch| (stretch.first..=stretch.last).contains(&date);
        self.states.iter().find(of).map(|stretch| stretch.state)
    }
}

fn check_chance(field: &str, chance: f64) -> Result<(), Error> {
    if chance > 0.0 && chance <= 1.0 {
        Ok(())
    } else {
        Err(Error::out_of_range(field, chance, "above 0, up to 1"))
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

#[cfg(test)]
mod tests;
