//! The normal distribution, and days that depart from their mean by it, each like the one before.

use std::f64::consts::{FRAC_1_SQRT_2, PI};
use std::sync::OnceLock;

/// Points of [`gauss_legendre`].
const POINTS: usize = 24;
/// The 90 % quantile of the normal distribution, standard deviations.
pub(crate) const NINE_IN_TEN_SD: f64 = 1.281_551_565_544_6;
/// Beyond this many standard deviations nothing is left.
pub(crate) const TAIL: f64 = 8.0;

/// Chance that a normally distributed value is at or above a threshold, 0 to 1.
///
/// ```
/// use apiary_almanac::normal::chance_at_or_above;
/// assert!((chance_at_or_above(18.0, 20.0, 2.0) - 0.8413).abs() < 1e-4);
/// ```
pub fn chance_at_or_above(threshold: f64, mean: f64, standard_deviation: f64) -> f64 {
    if standard_deviation > 0.0 {
        above((threshold - mean) / standard_deviation)
    } else if mean >= threshold {
        1.0
    } else {
        0.0
    }
}

/// Chance that a normally distributed value is at or below a threshold, 0 to 1.
///
/// ```
/// use apiary_almanac::normal::{chance_at_or_above, chance_at_or_below};
/// // Nights of 9 °C on average, with a standard deviation of 3 °C: one in six has 6 °C or less.
/// assert!((chance_at_or_below(6.0, 9.0, 3.0) - 0.1587).abs() < 1e-4);
/// let both = chance_at_or_below(6.0, 9.0, 3.0) + chance_at_or_above(6.0, 9.0, 3.0);
/// assert!((both - 1.0).abs() < 1e-12);
/// ```
pub fn chance_at_or_below(threshold: f64, mean: f64, standard_deviation: f64) -> f64 {
    chance_at_or_above(-threshold, -mean, standard_deviation)
}

/// Chance that a standard normal variable is at least `x`.
pub(crate) fn above(x: f64) -> f64 {
    0.5 * libm::erfc(x * FRAC_1_SQRT_2)
}

/// How many standard deviations a standard normal variable stays below with this chance; infinite for 0 and 1. By
/// halving.
pub(crate) fn quantile(chance: f64) -> f64 {
    if chance <= 0.0 {
        return f64::NEG_INFINITY;
    }
    if chance >= 1.0 {
        return f64::INFINITY;
    }
    let (mut low, mut high) = (-40.0, 40.0);
    // So far that the halves of any double between them are neighbours.
    for _ in 0..64 {
        let middle = f64::midpoint(low, high);
        if above(-middle) < chance {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// Sum over all pairs of `n` days that follow each other of their correlation, when that of
/// neighbours is `lag_one` and that of others its powers: the variance of the sum of the
/// days in units of that of one.
pub(crate) fn correlated_pairs(n: f64, lag_one: f64) -> f64 {
    let r = lag_one;
    n + 2.0 * r / (1.0 - r) * (n - (1.0 - r.powf(n)) / (1.0 - r))
}

/// Chance that each of some days that follow one another departs from its mean by at least so many
/// standard deviations, when the departures are normal and only yesterday's matters for today's, with
/// this correlation. The integral over the days is taken by Gauss and Legendre's rule, the last
/// day in closed form: better than 0.00001.
pub(crate) fn chance_of_run(at_least_sd: &[f64], lag_one: f64) -> f64 {
    let Some((&first, later)) = at_least_sd.split_first() else {
        return 1.0;
    };
    let Some((&last, between)) = later.split_last() else {
        return above(first);
    };
    let left = (1.0 - lag_one * lag_one).sqrt();
    let mut days = between.iter();
    let mut here = points_above(first);
    let mut density: [f64; POINTS] = std::array::from_fn(|i| here[i].1 * normal_density(here[i].0));
    for &threshold in &mut days {
        let next = points_above(threshold);
        density = std::array::from_fn(|j| {
            let (y, weight) = next[j];
            let from = here.iter().zip(&density);
            let sum: f64 = from
                .map(|((x, _), d)| d * normal_density((y - lag_one * x) / left))
                .sum();
            weight * sum / left
        });
        here = next;
    }
    let reached = here.iter().zip(&density);
    reached
        .map(|((x, _), d)| d * above((last - lag_one * x) / left))
        .sum::<f64>()
        .clamp(0.0, 1.0)
}

fn normal_density(x: f64) -> f64 {
    (-x * x / 2.0).exp() / (2.0 * PI).sqrt()
}

/// Points and weights from a threshold to where nothing is left.
fn points_above(threshold: f64) -> [(f64, f64); POINTS] {
    let low = threshold.clamp(-TAIL, TAIL);
    // Far above the mean the density falls so fast that a short stretch holds all of it.
    let half = (TAIL.min(low.max(0.0) + 6.0) - low) / 2.0;
    gauss_legendre().map(|(x, weight)| (low + half * (1.0 + x), half * weight))
}

/// Points and weights of Gauss and Legendre's rule between −1 and 1: the zeros of the Legendre polynomial by Newton's
/// method (Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 25.4.29).
pub(crate) fn gauss_legendre() -> &'static [(f64, f64); POINTS] {
    static RULE: OnceLock<[(f64, f64); POINTS]> = OnceLock::new();
    RULE.get_or_init(|| {
        std::array::from_fn(|i| {
            let n = POINTS as f64;
            let mut x = (PI * (i as f64 + 0.75) / (n + 0.5)).cos();
            let mut slope = 1.0;
            for _ in 0..8 {
                let (mut before, mut here) = (1.0, x);
                for k in 1..POINTS {
                    let k = k as f64;
                    let next = ((2.0 * k + 1.0) * x * here - k * before) / (k + 1.0);
                    (before, here) = (here, next);
                }
                slope = n * (x * here - before) / (x * x - 1.0);
                x -= here / slope;
            }
            (x, 2.0 / ((1.0 - x * x) * slope * slope))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Abramowitz & Stegun 1964, Handbook of Mathematical Functions, table 26.5 (from memory), and the median.
    #[test]
    fn quantiles() {
        let published = [
            (0.5, 0.0),
            (0.9, NINE_IN_TEN_SD),
            (0.975, 1.959_963_984_540_05),
            (0.01, -2.326_347_874_04),
        ];
        for (chance, sd) in published {
            assert!((quantile(chance) - sd).abs() < 1e-10, "{chance}");
        }
        assert_eq!([0.0, 1.0].map(quantile), [f64::NEG_INFINITY, f64::INFINITY]);
        for step in 1..200 {
            let chance = f64::from(step) / 200.0;
            assert!((above(-quantile(chance)) - chance).abs() < 1e-15);
        }
    }

    #[test]
    fn one_day_and_independent_days() {
        assert!((chance_of_run(&[1.0], 0.62) - 0.158_655_253_931_457).abs() < 1e-12);
        let three = chance_of_run(&[1.0, 0.5, -0.3], 0.0);
        assert!((three - above(1.0) * above(0.5) * above(-0.3)).abs() < 1e-6);
        assert_eq!(chance_of_run(&[], 0.62), 1.0);
        assert!((chance_of_run(&[f64::NEG_INFINITY; 3], 0.62) - 1.0).abs() < 1e-6);
        assert!(chance_of_run(&[0.0, f64::INFINITY, 0.0], 0.62) < 1e-9);
    }

    /// Sheppard's formula for the quadrant (Abramowitz & Stegun 1964, 26.3.19), and the like for three
    /// variables (David 1953, Biometrika 40:458–459, from memory).
    #[test]
    fn days_above_their_mean() {
        for r in [0.1, 0.62, 0.67, 0.9] {
            let two = 0.25 + f64::asin(r) / (2.0 * PI);
            assert!((chance_of_run(&[0.0, 0.0], r) - two).abs() < 1e-6, "{r}");
            let three = 0.125 + (2.0 * f64::asin(r) + f64::asin(r * r)) / (4.0 * PI);
            let found = chance_of_run(&[0.0; 3], r);
            assert!((found - three).abs() < 1e-5, "{r}: {found} {three}");
        }
    }

    /// Against a plain count over days made with a fixed seed.
    #[test]
    fn five_days_against_a_simulation() {
        let (r, thresholds) = (0.62_f64, [0.4, 0.2, 0.3, 0.5, 0.1]);
        let mut state = 88_172_645_463_325_252_u64;
        let mut uniform = || {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            ((state >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
        };
        let mut normal = || (-2.0 * f64::ln(uniform())).sqrt() * (2.0 * PI * uniform()).cos();
        let (mut reached, runs) = (0.0, 400_000);
        for _ in 0..runs {
            let mut x = normal();
            let mut all = x >= thresholds[0];
            for threshold in &thresholds[1..] {
                x = r * x + (1.0 - r * r).sqrt() * normal();
                all &= x >= *threshold;
            }
            reached += f64::from(u8::from(all));
        }
        let (simulated, found) = (reached / f64::from(runs), chance_of_run(&thresholds, r));
        // Three standard errors of the count.
        assert!((simulated - found).abs() < 0.0015, "{simulated} {found}");
    }
}
