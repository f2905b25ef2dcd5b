//! How likely a colony that is made on a date has workers of its own before the good season ends.

use std::ops::Range;

use chrono::{Days, NaiveDate};
use serde::Serialize;

use super::judged::Asked;
use super::rules::RuleTest;
use super::{Criteria, SeasonSettings, check_span};
use crate::bee::{Bee, Size};
use crate::climate::Climate;
use crate::error::Error;
use crate::reason::{Reason, say};
use crate::wire::FromNode;

/// Days from division to an established colony, *Tetragonula iridipennis*, the five of eight divisions
/// that lived (Mounika et al. 2019, J. Entomol. Zool. Stud. 7(3):754–757). Taken as the day on which the
/// new queen lays, which is on the careful side; no times of other bees with queen cells were found.
const OTHERS_D: &[f64] = &[20.0, 40.0, 43.0, 54.0, 107.0];
/// *Melipona*: the mean of 42 divisions of *M. fasciculata* from division to the first egg, 14.08 d (Kerr
/// 1987, in Nogueira-Neto 1997, p. 217), and the last day of the look for eggs, 30 (Villas-Bôas 2012,
/// p. 52); the spread about the mean was not published.
const MELIPONA_D: &[f64] = &[14.0, 30.0];

/// The chances of dates of a span, prepared once.
#[derive(Debug, Clone)]
pub struct SeasonOdds {
    from: NaiveDate,
    /// Share of years in which it is still warm on each date.
    warm: Vec<f64>,
    /// Share of years in which the careful rules hold on each date.
    careful: Vec<f64>,
    good: Vec<Range<usize>>,
    wider: Vec<Range<usize>>,
    without_end: bool,
    queen_d: &'static [f64],
    brood_d: [f64; 2],
    years: Option<usize>,
}

/// What can be said of a colony that is made on a date.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum StartOdds {
    /// The season does not end: every date is good.
    NoEnd,
    /// The date is closed, or lies outside the span that was prepared.
    Closed,
    /// A date that is good or at risk.
    Known {
        /// The chances.
        odds: Odds,
    },
}

/// The chance that a colony that is made on a date has workers of its own before the good season ends.
/// Rough: a handful of published times, the range of the bee's brood time, and by how much the end of the
/// warm time differs from year to year.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Odds {
    /// Share of years in which it has, 0 to 1. See [`Odds::is_too_late`] and [`Odds::is_doubtful`].
    pub in_time: f64,
    /// Share of years in which the careful rules hold on the date itself.
    pub good_at_start: f64,
    /// When the new queen's first workers are likely: the middle of the published times and brood times.
    pub likely: NaiveDate,
    /// The same by the longest of both.
    pub slow: NaiveDate,
    /// The last date on which it is still warm enough in half of the years; none where that lies more
    /// than a year ahead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub warm_until: Option<NaiveDate>,
    /// How many published times to a queen it rests on.
    pub published_times: usize,
    /// How many recorded years; none where the spread of days about the mean stands for them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub years: Option<usize>,
    /// The same in a sentence.
    pub said: Reason,
}

/// Below this share of years, none of ten when rounded, nobody is told that a colony may be in time.
const TOO_LATE_SHARE: f64 = 0.05;
/// Below this share of years more colonies are late than in time.
const DOUBTFUL_SHARE: f64 = 0.5;

impl Odds {
    /// Whether it is in time in none of ten years, rounded: common practice, no source.
    pub fn is_too_late(&self) -> bool {
        self.in_time < TOO_LATE_SHARE
    }

    /// Whether it is in time in fewer than half of the years: common practice, no source.
    pub fn is_doubtful(&self) -> bool {
        self.in_time < DOUBTFUL_SHARE
    }
}

impl SeasonSettings {
    /// See `Weather::season_odds`.
    pub(crate) fn odds(
        &self,
        climate: &Climate,
        bee: &Bee,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<SeasonOdds, Error> {
        check_span(first, last)?;
        SeasonOdds::new(climate, bee, &self.criteria(bee)?, first, last)
    }
}

impl SeasonOdds {
    fn new(
        climate: &Climate,
        bee: &Bee,
        criteria: &Criteria,
        first: NaiveDate,
        last: NaiveDate,
    ) -> Result<Self, Error> {
        let asked = Asked::following(climate, &criteria.rules, first, last)?;
        let both = asked.as_given()?;
        let (careful, stretches) = (&both.careful, both.stretches(criteria));
        // A rule that looks ahead closes the season while it is still warm.
        let looks_ahead =
            |rule: &usize| matches!(criteria.rules[*rule].test, RuleTest::WarmWeeksAhead { .. });
        let all = 0..criteria.rules.len();
        let mut at_the_time: Vec<usize> = all.clone().filter(|rule| !looks_ahead(rule)).collect();
        if at_the_time.is_empty() {
            at_the_time = all.clone().collect();
        }
        let shares: Vec<_> = all
            .clone()
            .map(|rule| careful.shares_of_rule(rule))
            .collect();
        let least = |rules: &[usize], index: usize| {
            let of_rules = rules.iter().map(|rule| shares[*rule][index]);
            of_rules.fold(1.0, f64::min)
        };
        let every: Vec<usize> = all.collect();
        let days = careful.years.len();
        Ok(SeasonOdds {
            from: careful.from,
            warm: (0..days).map(|index| least(&at_the_time, index)).collect(),
            careful: (0..days).map(|index| least(&every, index)).collect(),
            without_end: careful.is_all(&stretches.good),
            good: stretches.good,
            wider: stretches.wider,
            queen_d: match bee.size {
                Size::Large => MELIPONA_D,
                Size::Small | Size::Medium => OTHERS_D,
            },
            brood_d: [
                bee.worker_development_shortest_d.value,
                bee.worker_development_d.value,
            ],
            years: climate
                .records()
                .map(|_| careful.years.iter().copied().max().unwrap_or(0)),
        })
    }

    /// What can be said of a colony that is made on a date.
    ///
    /// ```
    /// use apiary_almanac::season::StartOdds;
    /// use apiary_almanac::{Site, Weather, bee};
    /// let site = Site::new(-28.81, 153.28, 12.0, "Australia/Sydney")?;
    /// let small = bee::built_in("generic_small")?;
    /// let (first, last) = ("2026-07-01".parse()?, "2027-06-30".parse()?);
    /// let odds = Weather::of_location(site, &small).season_odds(first, last, &Default::default())?;
    /// // The later in summer, the fewer colonies have workers of their own before it is cold.
    /// let in_time = |date: &str| -> Result<f64, Box<dyn std::error::Error>> {
    ///     match odds.of(date.parse()?) {
    ///         StartOdds::Known { odds } => Ok(odds.in_time),
    ///         other => Err(format!("{date}: {other:?}").into()),
    ///     }
    /// };
    /// assert!(in_time("2026-11-15")? > in_time("2027-02-15")?);
    /// assert_eq!(odds.of("2026-07-15".parse()?), StartOdds::Closed);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(&self, start: NaiveDate) -> StartOdds {
        if self.without_end {
            return StartOdds::NoEnd;
        }
        let Ok(index) = usize::try_from((start - self.from).num_days()) else {
            return StartOdds::Closed;
        };
        if !self.wider.iter().any(|wider| wider.contains(&index)) {
            return StartOdds::Closed;
        }
        let still_warm = self.still_warm(index);
        let at = |days: f64| {
            let days = days.ceil() as usize;
            still_warm
                .get(days)
                .or(still_warm.last())
                .copied()
                .unwrap_or(0.0)
        };
        let [shortest, longest] = self.brood_d;
        let brood_d = [shortest, f64::midpoint(shortest, longest), longest];
        let times = self.queen_d.iter();
        let times: Vec<f64> = times
            .flat_map(|queen| brood_d.map(|brood| queen + brood))
            .collect();
        let in_time = times.iter().map(|days| at(*days)).sum::<f64>() / times.len() as f64;
        let middle = self.queen_d.len() / 2;
        let likely_queen = if self.queen_d.len().is_multiple_of(2) {
            f64::midpoint(self.queen_d[middle - 1], self.queen_d[middle])
        } else {
            self.queen_d[middle]
        };
        let day = |days: f64| start + Days::new(days.ceil() as u64);
        let slowest = self.queen_d.iter().copied().fold(0.0, f64::max) + longest;
        let cooling = still_warm.iter().position(|share| *share < 0.5);
        let (times, years) = (self.queen_d.len(), self.years);
        let (tens, of_times) = ((10.0 * in_time).round(), times as f64);
        let of_years = years.map(|years| years as f64);
        let said = if in_time < TOO_LATE_SHARE {
            say::odds_too_late(of_times, of_years)
        } else if in_time < DOUBTFUL_SHARE {
            say::odds_doubtful(tens, of_times, of_years)
        } else {
            say::odds_in_time(tens, of_times, of_years)
        };
        StartOdds::Known {
            odds: Odds {
                in_time,
                good_at_start: self.careful[index],
                likely: day(likely_queen + brood_d[1]),
                slow: day(slowest),
                warm_until: cooling.map(|days| start + Days::new(days.saturating_sub(1) as u64)),
                published_times: times,
                years,
                said,
            },
        }
    }

    /// The share of years in which the warm time has not ended yet, for a year from a date on: the
    /// greatest share of a date that is still to come in the same season. After the coolest date
    /// between two seasons it stays what it is there.
    fn still_warm(&self, index: usize) -> Vec<f64> {
        let next = self.good.iter().position(|good| good.end > index);
        let of = match next {
            // Nearer to the season before than to the next.
            Some(next)
                if next > 0
                    && index.saturating_sub(self.good[next - 1].end)
                        < self.good[next].start.saturating_sub(index) =>
            {
                next - 1
            }
            Some(next) => next,
            None => self.good.len().saturating_sub(1),
        };
        let ends = self.good.get(of).map_or(index, |good| good.end);
        let opens_again = self
            .good
            .get(of + 1)
            .map_or(self.warm.len(), |good| good.start);
        let between = ends.max(index)..opens_again;
        let coolest = between.min_by(|a, b| self.warm[*a].total_cmp(&self.warm[*b]));
        let coolest = coolest.unwrap_or(self.warm.len() - 1);
        let until = (index + 366).min(self.warm.len());
        let mut greatest = 0.0_f64;
        let mut shares: Vec<f64> = (index..=coolest)
            .rev()
            .map(|day| {
                greatest = greatest.max(self.warm[day]);
                greatest
            })
            .collect();
        shares.reverse();
        let last = shares.last().copied().unwrap_or(0.0);
        shares.resize(until - index, last);
        shares
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bee::built_in;
    use crate::climate::{DailyRecords, DayRecord};
    use crate::site::Site;
    use chrono::Datelike;

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn odds(climate: &Climate, bee: &str) -> SeasonOdds {
        let bee = built_in(bee).unwrap();
        let (first, last) = (date("2026-07-01"), date("2027-06-30"));
        SeasonSettings::default()
            .odds(climate, &bee, first, last)
            .unwrap()
    }

    fn known(found: StartOdds) -> Odds {
        match found {
            StartOdds::Known { odds } => odds,
            other => panic!("{other:?}"),
        }
    }

    fn brisbane() -> Site {
        Site::new(-27.47, 153.03, 20.0, "Australia/Brisbane").unwrap()
    }

    #[test]
    fn a_later_start_is_never_likelier_to_be_in_time() {
        let found = odds(&Climate::from_location(&brisbane()), "generic_small");
        let dates = date("2026-09-20").iter_days().take(230);
        let shares: Vec<f64> = dates
            .filter_map(|day| match found.of(day) {
                StartOdds::Known { odds } => Some(odds.in_time),
                StartOdds::NoEnd | StartOdds::Closed => None,
            })
            .collect();
        assert!(shares.len() > 200);
        assert!(shares.windows(2).all(|pair| pair[1] <= pair[0] + 1e-9));
        assert!(
            shares[0] > 0.95 && shares[shares.len() - 1] < 0.3,
            "{shares:?}"
        );
        assert_eq!(found.of(date("2026-07-10")), StartOdds::Closed);
        assert_eq!(found.of(date("1990-01-01")), StartOdds::Closed);
    }

    #[test]
    fn a_place_that_is_always_warm_has_no_end() {
        let kuala_lumpur = Site::new(3.13, 101.69, 40.0, "Asia/Kuala_Lumpur").unwrap();
        let found = odds(&Climate::from_location(&kuala_lumpur), "generic_small");
        assert_eq!(found.of(date("2026-11-26")), StartOdds::NoEnd);
    }

    #[test]
    fn melipona_is_in_time_later_than_bees_that_raise_queens_in_cells() {
        // Kerr 1987: 14 days to the first egg; Mounika et al. 2019: 20 to 107 days.
        let climate = Climate::from_location(&brisbane());
        let day = date("2027-02-15");
        let small = known(odds(&climate, "generic_small").of(day));
        let large = known(odds(&climate, "generic_large").of(day));
        assert!(large.in_time > small.in_time);
        assert_eq!((small.published_times, large.published_times), (5, 2));
        // 43 d, the middle of the five, and 55 d of brood; 107 and 55 at the latest.
        assert_eq!(small.likely, day + Days::new(98));
        assert_eq!(small.slow, day + Days::new(162));
        assert_eq!(small.years, None);
    }

    #[test]
    fn recorded_years_are_counted_one_by_one() {
        // Invented: of ten years five turn cold on 1 May and five on 1 July.
        let days = date("2010-01-01").iter_days();
        let days = days
            .take_while(|day| *day <= date("2019-12-31"))
            .map(|day| {
                let cold_from = if day.year() % 2 == 0 { 121 } else { 182 };
                let c = if (cold_from..244).contains(&day.ordinal()) {
                    8.0
                } else {
                    18.0
                };
                DayRecord {
                    date: day,
                    minimum_c: Some(c),
                    maximum_c: Some(c + 10.0),
                    rain_mm: None,
                    wind_m_s: None,
                }
            });
        let records = DailyRecords::new(days.collect(), "invented").unwrap();
        let found = odds(
            &Climate::from_records(records, &brisbane()),
            "generic_small",
        );
        // 1 January: 98 days lead to 9 April, before either; 109 (54 and 55) to 20 April; 162 (107 and
        // 55) to 12 June, before the later end only: four of five times in all years, one in half of them.
        let of = known(found.of(date("2027-01-01")));
        assert!((of.in_time - 0.9).abs() < 0.02, "{of:?}");
        assert!(
            of.said.text().contains("9 of 10 years"),
            "{}",
            of.said.text()
        );
        assert_eq!(of.years, Some(10));
    }
}
