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
    // sixty reach the last bit.
    for _ in 0..60 {
        for month in 0..12 {
            let before = (month + 11) % 12;
            let after = (month + 1) % 12;
            let (w, v) = (weight[before], weight[month]);
            value[month] = (3.0 * (means[before] * w + means[month] * v)
                - value[before] * w
                - value[after] * v)
                / (2.0 * (w + v));
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
