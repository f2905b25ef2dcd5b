//! Days from months: the smooth yearly curve whose mean over every month is the given one.
//!
//! A periodic quadratic spline with its knots at the starts of the months, joined with equal value
//! and slope. Each day gets the spline's mean over that day, so that the days of a month average
//! to the month's mean exactly, whatever the lengths of the months.

use chrono::{Datelike, NaiveDate};

const COMMON_MONTHS: [u32; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const LEAP_MONTHS: [u32; 12] = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Minimum and maximum of every day of a common year and of a leap year.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct YearOfDays {
    common: Vec<(f64, f64)>,
    leap: Vec<(f64, f64)>,
}

impl YearOfDays {
    /// From monthly means of the daily minimum and maximum; no minimum above its maximum.
    pub fn new(minimum_c: &[f64; 12], maximum_c: &[f64; 12]) -> Self {
        YearOfDays {
            common: pairs(minimum_c, maximum_c, &COMMON_MONTHS),
            leap: pairs(minimum_c, maximum_c, &LEAP_MONTHS),
        }
    }

    /// Minimum and maximum of a date.
    pub fn of(&self, date: NaiveDate) -> (f64, f64) {
        let year = if date.leap_year() {
            &self.leap
        } else {
            &self.common
        };
        year[date.ordinal0() as usize]
    }
}

/// The 365 days of a common year from twelve means.
pub(super) fn common_days(means: &[f64; 12]) -> Vec<f64> {
    days(means, &COMMON_MONTHS)
}

fn pairs(minimum: &[f64; 12], maximum: &[f64; 12], lengths: &[u32; 12]) -> Vec<(f64, f64)> {
    let middle: [f64; 12] = std::array::from_fn(|m| f64::midpoint(minimum[m], maximum[m]));
    let range: [f64; 12] = std::array::from_fn(|m| maximum[m] - minimum[m]);
    let middles = days(&middle, lengths);
    let ranges = not_below_zero(days(&range, lengths), &range, lengths);
    middles
        .into_iter()
        .zip(ranges)
        .map(|(c, r)| (c - r / 2.0, c + r / 2.0))
        .collect()
}

/// Daily values whose mean over each month is `means`.
fn days(means: &[f64; 12], lengths: &[u32; 12]) -> Vec<f64> {
    let at_start = values_at_month_starts(means, lengths);
    let mut days = Vec::with_capacity(366);
    for month in 0..12 {
        let (first, last, mean) = (at_start[month], at_start[(month + 1) % 12], means[month]);
        // Integral from the month's start to the fraction u of it of the parabola that has these
        // end values and this mean.
        let integral = |u: f64| {
            first * u * (1.0 - u) * (1.0 - u)
                + last * u * u * (u - 1.0)
                + mean * u * u * (3.0 - 2.0 * u)
        };
        let length = f64::from(lengths[month]);
        days.extend((0..lengths[month]).map(|day| {
            let day = f64::from(day);
            length * (integral((day + 1.0) / length) - integral(day / length))
        }));
    }
    days
}

/// Values of the spline where months meet, from equal slopes on both sides.
fn values_at_month_starts(means: &[f64; 12], lengths: &[u32; 12]) -> [f64; 12] {
    let weight = lengths.map(|days| 1.0 / f64::from(days));
    let mut value = *means;
    // The system is diagonally dominant by a factor of two, so sweeps at least halve the error:
    // sixty reach the last bit, and mostly half of them.
    for _ in 0..60 {
        let before_sweep = value;
        for month in 0..12 {
            let before = (month + 11) % 12;
            let after = (month + 1) % 12;
            let (w, v) = (weight[before], weight[month]);
            value[month] = (3.0 * (means[before] * w + means[month] * v)
                - value[before] * w
                - value[after] * v)
                / (2.0 * (w + v));
        }
        if value == before_sweep {
            break;
        }
    }
    value
}

/// Where the curve of a range that cannot be negative dips below zero, the month is cut at zero
/// and its other days are scaled to keep the mean.
fn not_below_zero(mut days: Vec<f64>, means: &[f64; 12], lengths: &[u32; 12]) -> Vec<f64> {
    let mut rest = days.as_mut_slice();
    for (mean, length) in means.iter().zip(lengths) {
        let (month, later) = rest.split_at_mut(*length as usize);
        rest = later;
        if month.iter().all(|value| *value >= 0.0) {
            continue;
        }
        let above: f64 = month.iter().map(|value| value.max(0.0)).sum();
        let scale = if above > 0.0 {
            mean * f64::from(*length) / above
        } else {
            0.0
        };
        month
            .iter_mut()
            .for_each(|value| *value = value.max(0.0) * scale);
    }
    days
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Largest departure of a month's mean from the given one, over minima and maxima.
    fn worst_month(year: i32, minimum: &[f64; 12], maximum: &[f64; 12]) -> f64 {
        let days = YearOfDays::new(minimum, maximum);
        let mut worst: f64 = 0.0;
        for month in 0..12 {
            let first = NaiveDate::from_ymd_opt(year, month as u32 + 1, 1).unwrap();
            let length = u32::from(first.num_days_in_month());
            let (mut low, mut high) = (0.0, 0.0);
            for date in first.iter_days().take(length as usize) {
                let (l, h) = days.of(date);
                assert!(l <= h, "{date}: {l} above {h}");
                low += l / f64::from(length);
                high += h / f64::from(length);
            }
            worst = worst
                .max((low - minimum[month]).abs())
                .max((high - maximum[month]).abs());
        }
        worst
    }

    #[test]
    fn equal_months_make_a_level_year() {
        let days = YearOfDays::new(&[10.0; 12], &[20.0; 12]);
        for date in NaiveDate::from_ymd_opt(2028, 1, 1)
            .unwrap()
            .iter_days()
            .take(366)
        {
            let (low, high) = days.of(date);
            assert!((low - 10.0).abs() < 1e-9 && (high - 20.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_smooth_year_is_followed_closely() {
        // A sine wave, given as its exact means over the months of a common year.
        let wave = |day: f64| (std::f64::consts::TAU * day / 365.0).sin();
        let integral =
            |day: f64| -(std::f64::consts::TAU * day / 365.0).cos() * 365.0 / std::f64::consts::TAU;
        let mut start = 0.0;
        let means = COMMON_MONTHS.map(|length| {
            let end = start + f64::from(length);
            let mean = (integral(end) - integral(start)) / f64::from(length);
            start = end;
            mean
        });
        for (index, value) in days(&means, &COMMON_MONTHS).into_iter().enumerate() {
            let off = (value - wave(index as f64 + 0.5)).abs();
            assert!(off < 0.01, "day {index} is off by {off} of the amplitude");
        }
    }

    proptest! {
        #[test]
        fn months_are_reproduced_and_no_minimum_is_above_its_maximum(
            minimum in prop::array::uniform12(-30.0..28.0_f64),
            range in prop::array::uniform12(0.0..20.0_f64),
            year in 1900..2101_i32,
        ) {
            let maximum = std::array::from_fn(|m| minimum[m] + range[m]);
            prop_assert!(worst_month(year, &minimum, &maximum) < 1e-9);
        }

        #[test]
        fn no_step_between_days_of_a_plausible_year(
            mean in 0.0..28.0_f64, amplitude in 0.0..14.0_f64, phase in 0.0..12.0_f64,
            scatter in prop::array::uniform12(-1.5..1.5_f64),
        ) {
            let means = std::array::from_fn(|m| {
                mean + scatter[m]
                    + amplitude * (std::f64::consts::TAU * (m as f64 - phase) / 12.0).cos()
            });
            let days = days(&means, &LEAP_MONTHS);
            let coldest = means.iter().copied().fold(f64::INFINITY, f64::min);
            for (i, day) in days.iter().enumerate() {
                let next = days[(i + 1) % days.len()];
                prop_assert!((day - next).abs() < 0.8, "{} to {}", day, next);
                prop_assert!(*day > coldest - 3.0);
            }
        }
    }
}
