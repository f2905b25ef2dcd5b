//! The rain of days that are neither recorded nor forecast, as a chance.
//!
//! A month's number of wet days gives the chance that a day is wet, its rain how much falls on one,
//! and wet days come in spells: a first-order chain, as in most weather generators. Rain is taken
//! as independent of the day's warmth, which is not quite true: wet days are cooler in many places.

use chrono::{Datelike, NaiveDate};

use crate::bee::Bee;
use crate::civil::MONTH_DAYS;
use crate::climate::Climate;

/// Where the amounts come from, for reasons.
pub(crate) const AMOUNTS: &str = "Selker & Haith 1990, Water Resources Research 26:2733";

/// Chance that a wet day brings at least so much rain, mm, when wet days bring `mean_mm` on average.
///
/// Selker & Haith 1990, Water Resources Research 26:2733–2740: a Weibull distribution of exponent
/// 0.75 for all places; 1.191 makes its mean the mean.
fn reaches(limit_mm: f64, mean_mm: f64) -> f64 {
    if mean_mm <= 0.0 {
        return 0.0;
    }
    (-(1.191 * limit_mm / mean_mm).powf(0.75)).exp()
}

/// Chances of rain by month, January first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct RainChances {
    /// That a day is wet.
    pub(crate) wet: [f64; 12],
    /// That a wet day is lost to flight.
    pub(crate) lost: [f64; 12],
    /// Rain from which a day counts as wet, mm, where it is known.
    pub(crate) wet_from_mm: Option<f64>,
}

impl RainChances {
    /// `None` where the climate does not know both the rain and the wet days of the months.
    pub fn of(climate: &Climate, bee: &Bee) -> Option<Self> {
        let rain_mm = climate.monthly_rain_mm()?;
        let wet_days = climate.monthly_wet_days()?;
        let lost = |month: usize| match wet_days.days[month] {
            days if days > 0.0 => reaches(bee.rain_limit_mm.value, rain_mm[month] / days),
            _ => 0.0,
        };
        Some(RainChances {
            wet: std::array::from_fn(|month| {
                (wet_days.days[month] / MONTH_DAYS[month]).clamp(0.0, 1.0)
            }),
            lost: std::array::from_fn(lost),
            wet_from_mm: wet_days.from_mm,
        })
    }

    /// That the day is wet.
    pub fn wet(&self, date: NaiveDate) -> f64 {
        self.wet[date.month0() as usize]
    }

    /// That it is lost to flight if it is wet.
    pub fn lost_if_wet(&self, date: NaiveDate) -> f64 {
        self.lost[date.month0() as usize]
    }

    /// That it is lost to flight.
    pub fn lost(&self, date: NaiveDate) -> f64 {
        self.wet(date) * self.lost_if_wet(date)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Share of a gamma distribution above `x` scales (its series, DLMF 8.11.4).
    fn gamma_above(shape: f64, x: f64) -> f64 {
        let (mut term, mut sum, mut n) = (1.0 / shape, 1.0 / shape, 1.0);
        while term > 1e-15 * sum {
            term *= x / (shape + n);
            sum += term;
            n += 1.0;
        }
        1.0 - sum * (shape * x.ln() - x).exp() / libm::tgamma(shape)
    }

    /// RTOT, RNUM, ALPHA and PDW of four stations in the tropics and subtropics, worked out by others
    /// from 10 to 49 years of daily rain (DSSAT climate files UFGA, CCPA, EBAF, DTCM).
    #[test]
    fn the_share_above_a_limit_meets_the_gamma_distributions_of_stations() {
        assert!((gamma_above(1.0, 2.0) - (-2.0_f64).exp()).abs() < 1e-12);
        let (mut squares, mut sum, mut rows) = (0.0, 0.0, 0.0);
        let text = include_str!("../../tests/daily_rain.csv");
        for row in csv::Reader::from_reader(text.as_bytes()).records() {
            let row = row.unwrap();
            let [rain_mm, days, shape] = [2, 3, 4].map(|i| row[i].parse::<f64>().unwrap());
            let mean_mm = rain_mm / days;
            let expected = days * gamma_above(shape, 5.0 * shape / mean_mm);
            let off = days * reaches(5.0, mean_mm) - expected;
            squares += off * off;
            sum += off;
            rows += 1.0;
        }
        assert_eq!(rows, 48.0);
        let (off, bias) = ((squares / rows).sqrt(), sum / rows);
        assert!(
            off < 0.7 && bias.abs() < 0.15,
            "{off:.2} {bias:.2} days a month"
        );
    }

    #[test]
    fn wet_days_come_in_spells_as_at_stations() {
        // The chain's correlation is 1 - P(wet | dry) / P(wet).
        let text = include_str!("../../tests/daily_rain.csv");
        let found: Vec<f64> = csv::Reader::from_reader(text.as_bytes())
            .records()
            .map(|row| {
                let row = row.unwrap();
                let [month, days, after_dry] = [1, 3, 5].map(|i| row[i].parse::<f64>().unwrap());
                1.0 - after_dry * MONTH_DAYS[month as usize - 1] / days
            })
            .collect();
        let mean = found.iter().sum::<f64>() / found.len() as f64;
        let ours = crate::weather::Spread::default().wet_day_correlation.value;
        assert!((mean - ours).abs() < 0.02, "{mean:.3}, not {ours}");
    }

    #[test]
    fn a_dry_month_loses_no_day_and_a_wet_one_many() {
        assert_eq!(reaches(5.0, 0.0), 0.0);
        assert!(reaches(5.0, 20.0) > 0.65 && reaches(5.0, 2.0) < 0.2);
        // The mean of the distribution is the mean that was given.
        let step = 0.01;
        let mean: f64 = (0..200_000)
            .map(|i| reaches((f64::from(i) + 0.5) * step, 8.0) * step)
            .sum();
        assert!((mean - 8.0).abs() < 0.01, "{mean}");
    }
}
