//! Season rules as data.

use serde::Serialize;

use super::rain::BarRains;
use crate::bee::Bee;
use crate::error::{Error, LONGEST_TEXT, at_most};
use crate::number::COMMON_PRACTICE;
use crate::reason::{Reason, say};
use crate::wire::FromNode;

/// Which temperature of a day a rule looks at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// Half the sum of minimum and maximum.
    Mean,
    /// The night's minimum.
    Minimum,
    /// The day's maximum.
    Maximum,
}

impl Quantity {
    /// Its name in the catalogue of sentences.
    const fn word(self) -> &'static str {
        match self {
            Quantity::Mean => "quantity.mean",
            Quantity::Minimum => "quantity.minimum",
            Quantity::Maximum => "quantity.maximum",
        }
    }
}

/// What a rule asks of a date.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum RuleTest {
    /// The quantity, averaged over a number of days around the date, lies within bounds.
    Temperature {
        /// Which temperature.
        quantity: Quantity,
        /// Lower bound, °C.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at_least_c: Option<f64>,
        /// Upper bound, °C.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at_most_c: Option<f64>,
        /// Days that are averaged, the date in their middle: 1 to 120.
        over_days: u16,
    },
    /// The weeks that begin with the date are warm enough: every stretch of some weeks on end.
    WarmWeeksAhead {
        /// Which temperature, averaged over each stretch.
        quantity: Quantity,
        /// Lower bound, °C.
        at_least_c: f64,
        /// How many weeks: 1 to 40.
        weeks: u16,
        /// How many of them are averaged, 4 when not given: a month or so, as the limits of
        /// climates are meant. Not more than `weeks` count.
        #[serde(default = "default_averaged_weeks")]
        averaged_weeks: u16,
    },
    /// The date does not fall in one of the wettest months of the year.
    OutsideWettestMonths {
        /// How many months are barred: 1 to 11.
        months: u8,
    },
    /// The date's month brings no more rain than this.
    MonthlyRain {
        /// Upper bound, mm in the month.
        at_most_mm: f64,
    },
    /// The date's month has no more wet days than this. From how much rain a day is wet depends on
    /// where the climate comes from: [`WetDays`](crate::climate::WetDays).
    MonthlyWetDays {
        /// Upper bound, days in the month.
        at_most_days: f64,
    },
    /// The date's month is none of those that are left out, counted from the rains.
    Rains {
        /// Those that are.
        bar: BarRains,
    },
}

fn default_averaged_weeks() -> u16 {
    4
}

/// A condition that must hold for a date to lie in a working window.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct Rule {
    /// Short name, used where an answer says which rule opens or closes a window.
    pub name: String,
    /// What it asks.
    pub test: RuleTest,
    /// What it asks of a date that is not good but *at risk*: the same as `test` when not given, so
    /// that the two differ in their chance only.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_risk: Option<RuleTest>,
    /// Publication, or `common practice, no source`.
    pub source: String,
}

/// The rules for dividing colonies, for a kind of bee, each with what it asks of a date at risk.
///
/// - `warm_enough`: 14 days around the date average at least 18 °C; at risk 16 °C.
/// - `not_too_hot`: the maxima of 7 days average at most the bee's shade limit; at risk the limit
///   above which a hive should stand somewhere cool.
/// - `warm_weeks_ahead`: of the weeks it takes to raise new workers from eggs (55 d: 8 weeks) any 4
///   on end average at least 18 °C; at risk the next 4 weeks 16 °C.
/// - `nights_not_cold`, for a bee with a `division_night_c`: the minima of 3 days average at least
///   that; at risk those of 14 days.
///
/// ```
/// use apiary_almanac::{bee, season::default_rules};
/// let rules = default_rules(&bee::built_in("generic_small")?);
/// let names: Vec<_> = rules.iter().map(|rule| rule.name.as_str()).collect();
/// assert_eq!(names, ["warm_enough", "not_too_hot", "warm_weeks_ahead"]);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn default_rules(bee: &Bee) -> Vec<Rule> {
    // Köppen's limit of tropical climates, 18 °C in the coldest month: where it holds all year,
    // colonies are divided all year.
    const WARM_C: f64 = 18.0;
    // With it the months of southern Brazil and of Sydney lie within good or at risk.
    const AT_RISK_C: f64 = 16.0;
    let weeks = (bee.worker_development_d.value / 7.0).ceil() as u16;
    let mean = |at_least_c: f64| RuleTest::Temperature {
        quantity: Quantity::Mean,
        at_least_c: Some(at_least_c),
        at_most_c: None,
        over_days: 14,
    };
    let maximum = |at_most_c: f64| RuleTest::Temperature {
        quantity: Quantity::Maximum,
        at_least_c: None,
        at_most_c: Some(at_most_c),
        over_days: 7,
    };
    let ahead = |at_least_c: f64, weeks: u16| RuleTest::WarmWeeksAhead {
        quantity: Quantity::Mean,
        at_least_c,
        weeks,
        averaged_weeks: default_averaged_weeks(),
    };
    let nights = |at_least_c: f64, over_days: u16| RuleTest::Temperature {
        quantity: Quantity::Minimum,
        at_least_c: Some(at_least_c),
        at_most_c: None,
        over_days,
    };
    let mut rules = vec![
        Rule {
            name: "warm_enough".to_owned(),
            test: mean(WARM_C),
            at_risk: Some(mean(AT_RISK_C)),
            source: format!(
                "18 °C: limit of tropical climates (Köppen A; AMS Glossary of Meteorology); that \
                 it marks the time to divide, the 14 days, and 16 °C at risk: {COMMON_PRACTICE}"
            ),
        },
        Rule {
            name: "not_too_hot".to_owned(),
            test: maximum(bee.heat_shade_c.value),
            at_risk: Some(maximum(bee.heat_limit_c.value.max(bee.heat_shade_c.value))),
            source: bee.heat_shade_c.source.clone(),
        },
        Rule {
            name: "warm_weeks_ahead".to_owned(),
            test: ahead(WARM_C, weeks),
            at_risk: Some(ahead(AT_RISK_C, default_averaged_weeks())),
            source: format!(
                "{weeks} weeks: from egg to new worker, {}; at risk 4 weeks: a queen of \
                 T. carbonaria lays 20 ± 6 d after she emerged (Bueno et al. 2022, Insectes Soc. \
                 69:17–27); 18 and 16 °C as in warm_enough",
                bee.worker_development_d.source
            ),
        },
    ];
    if let Some(night) = &bee.division_night_c {
        rules.push(Rule {
            name: "nights_not_cold".to_owned(),
            test: nights(night.value, 3),
            at_risk: Some(nights(night.value, 14)),
            source: night.source.clone(),
        });
    }
    rules
}

/// The optional bar for a keeper who leaves out the wettest months.
///
/// # Errors
/// `out_of_range` unless 1 to 11 months are barred.
///
/// ```
/// use apiary_almanac::season::wet_months_rule;
/// assert_eq!(wet_months_rule(2)?.name, "outside_wettest_months");
/// assert!(wet_months_rule(12).is_err()); // no month would be left
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn wet_months_rule(months: u8) -> Result<Rule, Error> {
    let rule = Rule {
        name: "outside_wettest_months".to_owned(),
        test: RuleTest::OutsideWettestMonths { months },
        at_risk: None,
        source: COMMON_PRACTICE.to_owned(),
    };
    rule.check()?;
    Ok(rule)
}

/// The optional bar for a keeper who leaves out months with more wet days than this.
///
/// # Errors
/// `out_of_range` unless 0 to 31 days are given.
///
/// ```
/// use apiary_almanac::season::wet_days_rule;
/// assert_eq!(wet_days_rule(12.0)?.name, "few_wet_days");
/// assert_eq!(wet_days_rule(-1.0).unwrap_err().field(), "few_wet_days.at_most_days");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn wet_days_rule(at_most_days: f64) -> Result<Rule, Error> {
    let rule = Rule {
        name: "few_wet_days".to_owned(),
        test: RuleTest::MonthlyWetDays { at_most_days },
        at_risk: None,
        source: COMMON_PRACTICE.to_owned(),
    };
    rule.check()?;
    Ok(rule)
}

/// The optional bar for a keeper who leaves out months counted from the start or the end of the rains:
/// of the longest run of months with more than a twelfth of the year's rain.
///
/// # Errors
/// `out_of_range` unless 1 to 11 months are barred, at most 11 before or after.
///
/// ```
/// use apiary_almanac::season::{BarRains, RainsEdge, rains_rule};
/// let bar = BarRains { counted_from: RainsEdge::End, shift_months: 0, months: 2 };
/// assert_eq!(rains_rule(bar)?.name, "rains");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn rains_rule(bar: BarRains) -> Result<Rule, Error> {
    let rule = Rule {
        name: "rains".to_owned(),
        test: RuleTest::Rains { bar },
        at_risk: None,
        source: COMMON_PRACTICE.to_owned(),
    };
    rule.check()?;
    Ok(rule)
}

impl Rule {
    /// Refuses numbers that make no sense.
    ///
    /// # Errors
    /// `out_of_range`, naming the rule and the number; `inconsistent` for bounds that exclude each
    /// other or are missing.
    ///
    /// ```
    /// use apiary_almanac::season::{Quantity, Rule, RuleTest};
    /// let mild_nights = |at_least_c, at_most_c| Rule {
    ///     name: "mild_nights".to_owned(),
    ///     test: RuleTest::Temperature {
    ///         quantity: Quantity::Minimum,
    ///         at_least_c,
    ///         at_most_c,
    ///         over_days: 7,
    ///     },
    ///     at_risk: None,
    ///     source: "our club's habit".to_owned(),
    /// };
    /// assert!(mild_nights(Some(10.0), None).check().is_ok());
    /// // No night is warmer than 20 °C and colder than 10 °C.
    /// assert_eq!(mild_nights(Some(20.0), Some(10.0)).check().unwrap_err().code(), "inconsistent");
    /// ```
    pub fn check(&self) -> Result<(), Error> {
        let field = |name: &str| format!("{}.{name}", self.name);
        let within = |name: &str, value: f64, low: f64, high: f64, unit: &str| {
            if value.is_finite() && (low..=high).contains(&value) {
                Ok(())
            } else {
                Err(Error::out_of_range(
                    &field(name),
                    value,
                    format_args!("{low} to {high} {unit}"),
                ))
            }
        };
        at_most("rules.name", self.name.len(), LONGEST_TEXT, "bytes")?;
        at_most("rules.source", self.source.len(), LONGEST_TEXT, "bytes")?;
        if self.name.trim().is_empty() {
            return Err(Error::out_of_range(
                "name",
                "empty",
                "a short name for the rule",
            ));
        }
        let check = |test: &RuleTest| match *test {
            RuleTest::Temperature {
                at_least_c,
                at_most_c,
                over_days,
                ..
            } => {
                within("over_days", over_days.into(), 1.0, 120.0, "days")?;
                for (name, bound) in [("at_least_c", at_least_c), ("at_most_c", at_most_c)] {
                    bound.map_or(Ok(()), |c| within(name, c, -40.0, 60.0, "°C"))?;
                }
                match (at_least_c, at_most_c) {
                    (None, None) => Err(Error::Inconsistent {
                        field: field("at_least_c"),
                        problem: "neither at_least_c nor at_most_c is given".to_owned(),
                    }),
                    (Some(low), Some(high)) if low > high => Err(Error::Inconsistent {
                        field: field("at_least_c"),
                        problem: format!("at_least_c {low} is above at_most_c {high}"),
                    }),
                    _ => Ok(()),
                }
            }
            RuleTest::WarmWeeksAhead {
                at_least_c,
                weeks,
                averaged_weeks,
                ..
            } => {
                within("weeks", weeks.into(), 1.0, 40.0, "weeks")?;
                within("averaged_weeks", averaged_weeks.into(), 1.0, 40.0, "weeks")?;
                within("at_least_c", at_least_c, -40.0, 60.0, "°C")
            }
            RuleTest::OutsideWettestMonths { months } => {
                within("months", months.into(), 1.0, 11.0, "months")
            }
            RuleTest::MonthlyRain { at_most_mm } => {
                within("at_most_mm", at_most_mm, 0.0, 5000.0, "mm")
            }
            RuleTest::MonthlyWetDays { at_most_days } => {
                within("at_most_days", at_most_days, 0.0, 31.0, "days")
            }
            RuleTest::Rains { bar } => {
                let shift = f64::from(bar.shift_months);
                within("shift_months", shift, -11.0, 11.0, "months")?;
                within("months", bar.months.into(), 1.0, 11.0, "months")
            }
        };
        check(&self.test)?;
        self.at_risk.as_ref().map_or(Ok(()), check)
    }

    /// The rule as it is asked of a date at risk.
    pub(super) fn easier(&self) -> Rule {
        Rule {
            test: self.at_risk.as_ref().unwrap_or(&self.test).clone(),
            ..self.clone()
        }
    }

    /// What it means that the rule does not hold on a date, or in a share of years. A wet day is one
    /// with at least `wet_from_mm` of rain, where that is known.
    pub(super) fn broken(&self, wet_from_mm: Option<f64>, share: Option<f64>) -> Reason {
        let rule = self.name.as_str();
        match self.test {
            RuleTest::Temperature {
                quantity,
                at_least_c,
                at_most_c,
                over_days,
            } => {
                let (quantity, days) = (quantity.word(), over_days.into());
                match (at_least_c, at_most_c) {
                    (Some(low), Some(high)) => {
                        say::temperature_outside(rule, quantity, days, low, high, share)
                    }
                    (Some(low), None) => say::temperature_below(rule, quantity, days, low, share),
                    // A rule with no bound at all has been refused.
                    (None, high) => {
                        let high = high.unwrap_or(f64::INFINITY);
                        say::temperature_above(rule, quantity, days, high, share)
                    }
                }
            }
            RuleTest::WarmWeeksAhead {
                quantity,
                at_least_c,
                weeks,
                averaged_weeks,
            } => {
                let averaged = averaged_weeks.min(weeks).into();
                let (quantity, weeks) = (quantity.word(), weeks.into());
                if averaged >= weeks {
                    return say::cool_weeks_next(rule, quantity, weeks, at_least_c, share);
                }
                say::cool_weeks_ahead(rule, quantity, averaged, weeks, at_least_c, share)
            }
            RuleTest::OutsideWettestMonths { months } => {
                say::wettest_months(rule, months.into(), share)
            }
            RuleTest::MonthlyRain { at_most_mm } => say::wet_month(rule, at_most_mm, share),
            RuleTest::MonthlyWetDays { at_most_days } => {
                say::wet_days(rule, at_most_days, wet_from_mm, share)
            }
            RuleTest::Rains { bar } => say::rains(rule, bar.counted_from.word(), share),
        }
    }

    /// True for a rule that bars months, whatever the weather of the year.
    pub(super) fn is_of_the_calendar(&self) -> bool {
        match self.test {
            RuleTest::Temperature { .. } | RuleTest::WarmWeeksAhead { .. } => false,
            RuleTest::OutsideWettestMonths { .. }
            | RuleTest::MonthlyRain { .. }
            | RuleTest::MonthlyWetDays { .. }
            | RuleTest::Rains { .. } => true,
        }
    }

    /// Days after a date that the rule looks at.
    pub(super) fn reach_days(&self) -> i64 {
        match self.test {
            RuleTest::Temperature { over_days, .. } => i64::from(over_days),
            RuleTest::WarmWeeksAhead { weeks, .. } => 7 * i64::from(weeks),
            RuleTest::OutsideWettestMonths { .. }
            | RuleTest::MonthlyRain { .. }
            | RuleTest::MonthlyWetDays { .. }
            | RuleTest::Rains { .. } => 0,
        }
    }
}
