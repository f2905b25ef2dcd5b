//! How far the days of a season stray from their mean, and for how long they stay there.
//!
//! A warm day is mostly followed by a warm one. The departure from the mean is a normal variable
//! whose value on one day is correlated with the next day's; its range is cut into bins, and the
//! chance of each bin is carried from day to day. Within the bins this is exact; that only the bin
//! of yesterday is remembered, and not the value, is an approximation.

use crate::climate::grid::DAY_TO_DAY_CORRELATION;
use crate::normal::{TAIL, above, correlated_pairs, gauss_legendre};
use crate::number::{COMMON_PRACTICE, numbers};

numbers! {
    /// How far and how long days stray from the mean of their season.
    pub struct Spread {}

    /// Standard deviation of a day's minimum and maximum about the mean of the season, °C.
    day_sd_c = 2.5, "°C", 0.0..=10.0, COMMON_PRACTICE;

    /// Correlation of a day's departure with that of the next day; 0 for days that are independent.
    day_to_day_correlation = DAY_TO_DAY_CORRELATION, "1", 0.0..=0.95,
        "daily minima and maxima of 28 stations in Australia (Bureau of Meteorology), 43 in the \
        United States (NREL TMY3), São Paulo, Recife (INMET) and Guangzhou (UCI): 0.53 to 0.61";

    /// Correlation of a day's being wet with the next day's; 0 for days that are independent.
    wet_day_correlation = 0.25, "1", 0.0..=0.95,
        "Geng, Penning de Vries & Supit 1986, Agricultural and Forest Meteorology 36:363: \
        after a dry day 0.75 of the share of wet days; four stations in the tropics and \
        subtropics (DSSAT climate files): 0.25 on average";
}

impl Spread {
    /// Standard deviation of the mean departure of this many days that follow each other, as a share
    /// of that of a single day.
    pub(crate) fn share_left_in_mean(&self, days: u32) -> f64 {
        if days == 0 {
            return 0.0;
        }
        let n = f64::from(days);
        correlated_pairs(n, self.day_to_day_correlation.value)
            .max(0.0)
            .sqrt()
            / n
    }
}

/// Number of bins.
pub(crate) const BINS: usize = 12;
/// Upper edges of all bins but the last, in standard deviations.
const EDGES: [f64; BINS - 1] = [-2.5, -2.0, -1.5, -1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0, 2.5];
/// Chance that a standard normal variable is below `x`.
fn below(x: f64) -> f64 {
    above(-x)
}

fn edges(bin: usize) -> (f64, f64) {
    let lower = if bin == 0 { -TAIL } else { EDGES[bin - 1] };
    (lower, EDGES.get(bin).copied().unwrap_or(TAIL))
}

/// Chance of each bin today from the chances of yesterday.
#[derive(Debug, Clone)]
pub(crate) struct Spells {
    /// Chance of each bin on a day of which nothing else is known.
    pub shares: [f64; BINS],
    /// From a bin (row) to a bin.
    next: [[f64; BINS]; BINS],
}

impl Spells {
    pub fn new(correlation: f64) -> Self {
        let mut shares = [0.0; BINS];
        let mut next = [[0.0; BINS]; BINS];
        let left = (1.0 - correlation * correlation).sqrt();
        // The cold half; the warm one is its mirror image.
        for bin in 0..BINS / 2 {
            let (low, high) = edges(bin);
            shares[bin] = below(high) - below(low);
            for (place, weight) in gauss_legendre() {
                let x = f64::midpoint(low, high) + place * (high - low) / 2.0;
                let weight = weight * (-x * x / 2.0).exp();
                let mut reached = 0.0;
                for (to, chance) in next[bin].iter_mut().enumerate() {
                    let reach = EDGES
                        .get(to)
                        .map_or(1.0, |edge| below((edge - correlation * x) / left));
                    *chance += weight * (reach - reached);
                    reached = reach;
                }
            }
            let sum: f64 = next[bin].iter().sum();
            next[bin].iter_mut().for_each(|chance| *chance /= sum);
            let mirrored = BINS - 1 - bin;
            shares[mirrored] = shares[bin];
            next[mirrored] = next[bin];
            next[mirrored].reverse();
        }
        Spells { shares, next }
    }

    /// Carries chances from one day to the next.
    pub fn step(&self, today: &[f64; BINS]) -> [f64; BINS] {
        let mut tomorrow = [0.0; BINS];
        for (chance, row) in today.iter().zip(&self.next) {
            if *chance > 0.0 {
                for (sum, share) in tomorrow.iter_mut().zip(row) {
                    *sum += chance * share;
                }
            }
        }
        tomorrow
    }

    /// Within each bin, the chance of a departure of at least `x` standard deviations.
    pub fn at_least(&self, x: f64) -> [f64; BINS] {
        std::array::from_fn(|bin| {
            let (low, high) = edges(bin);
            if x <= low {
                1.0
            } else if x >= high {
                0.0
            } else {
                ((below(high) - below(x)) / self.shares[bin]).clamp(0.0, 1.0)
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_normal_distribution_is_that_of_the_tables() {
        // Abramowitz & Stegun 1964, Handbook of Mathematical Functions, table 26.1.
        for (x, p) in [
            (0.0, 0.5),
            (1.0, 0.841_344_746_068_543),
            (2.0, 0.977_249_868_051_821),
        ] {
            assert!((below(x) - p).abs() < 1e-14, "{x}");
        }
    }

    #[test]
    fn a_season_stays_what_it_is() {
        for correlation in [0.0, 0.3, 0.62, 0.95] {
            let spells = Spells::new(correlation);
            assert!((spells.shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            let next = spells.step(&spells.shares);
            for (a, b) in next.iter().zip(spells.shares) {
                assert!((a - b).abs() < 2e-4, "{correlation}: {a} {b}");
            }
        }
    }

    #[test]
    fn the_chance_of_a_threshold_is_that_of_the_normal_distribution() {
        let spells = Spells::new(0.62);
        for x in [-3.1, -1.0, -0.2, 0.0, 0.7, 2.9] {
            let sum: f64 = spells
                .at_least(x)
                .iter()
                .zip(spells.shares)
                .map(|(chance, share)| chance * share)
                .sum();
            assert!((sum - below(-x)).abs() < 1e-12, "{x}");
        }
    }

    #[test]
    fn the_spread_of_a_mean_shrinks_as_the_textbook_says() {
        let mut spread = Spread::default();
        assert!((2.5 * spread.share_left_in_mean(1) - 2.5).abs() < 1e-12);
        // Two values of correlation r: variance (1 + r)/2.
        let two = f64::sqrt((1.0 + spread.day_to_day_correlation.value) / 2.0);
        assert!((2.5 * spread.share_left_in_mean(2) - 2.5 * two).abs() < 1e-12);
        spread.day_to_day_correlation.value = 0.0;
        assert!((2.5 * spread.share_left_in_mean(25) - 0.5).abs() < 1e-12);
    }
}
