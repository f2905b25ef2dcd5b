//! A polynomial for each UT day, so that the sun at any moment costs a few multiplications.

use super::apparent::{ApparentSun, apparent_sun};

/// Moments are counted in days of UT since 1890-01-01 0 h: positive in the whole range, so that the
/// integer part is the number of the day.
pub(super) const EPOCH_UNIX_DAY: i32 = -29_219;

/// The sun at a moment, with rates per day.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sun {
    pub equation_of_time_d: f64,
    pub equation_of_time_rate: f64,
    pub tan_declination: f64,
    pub tan_declination_rate: f64,
}

impl Sun {
    /// Radians per day.
    pub fn declination_rate(&self) -> f64 {
        self.tan_declination_rate / (1.0 + self.tan_declination * self.tan_declination)
    }
}

/// Cubics through the values at 0 h of yesterday, today, tomorrow and the day after.
#[derive(Debug, Clone, Copy)]
struct DayCubics {
    equation_of_time: [f64; 4],
    tan_declination: [f64; 4],
}

/// Consecutive days.
#[derive(Debug, Clone)]
pub(super) struct Table {
    first_day: i32,
    last_day: i32,
    days: Vec<DayCubics>,
}

impl Table {
    /// Builds the days `first..=last`, counted from the epoch.
    pub fn new(first: i32, last: i32) -> Self {
        let first = first.max(1);
        let nodes: Vec<ApparentSun> = (first - 1..=last.max(first) + 2)
            .map(|day| apparent_sun(EPOCH_UNIX_DAY + day))
            .collect();
        let days = nodes
            .windows(4)
            .map(|four| DayCubics {
                equation_of_time: cubic(four, |sun| sun.equation_of_time_d),
                tan_declination: cubic(four, |sun| sun.tan_declination),
            })
            .collect();
        Table {
            first_day: first,
            last_day: last.max(first),
            days,
        }
    }

    /// Whether a moment lies within the table.
    pub fn covers(&self, t: f64) -> bool {
        t >= f64::from(self.first_day) && t < f64::from(self.last_day) + 1.0
    }

    /// The sun `t` days after the epoch. Outside the table the nearest day's cubics are continued.
    #[inline(always)]
    pub fn at(&self, t: f64) -> Sun {
        // i32 because the processor turns it from and into f64 in one step each.
        let index = (t as i32).clamp(self.first_day, self.last_day);
        let x = t - f64::from(index);
        let day = &self.days[(index - self.first_day) as usize];
        let (equation_of_time_d, equation_of_time_rate) = value_and_rate(&day.equation_of_time, x);
        let (tan_declination, tan_declination_rate) = value_and_rate(&day.tan_declination, x);
        Sun {
            equation_of_time_d,
            equation_of_time_rate,
            tan_declination,
            tan_declination_rate,
        }
    }
}

/// Coefficients in x of the cubic through values at x = -1, 0, 1, 2.
fn cubic(nodes: &[ApparentSun], value: impl Fn(&ApparentSun) -> f64) -> [f64; 4] {
    let (a, b, c, d) = (
        value(&nodes[0]),
        value(&nodes[1]),
        value(&nodes[2]),
        value(&nodes[3]),
    );
    [
        b,
        c - b / 2.0 - a / 3.0 - d / 6.0,
        (a + c) / 2.0 - b,
        (d - a) / 6.0 + (b - c) / 2.0,
    ]
}

#[inline]
fn value_and_rate(c: &[f64; 4], x: f64) -> (f64, f64) {
    (
        c[0] + x * (c[1] + x * (c[2] + x * c[3])),
        c[1] + x * (2.0 * c[2] + x * 3.0 * c[3]),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cubics_are_good_to_a_tenth_of_a_millisecond() {
        // Through every second day the error of a cubic is sixteen times that of the table, so the
        // days left out bound it.
        for first in (20..76_000).step_by(37) {
            let node = |step: i32| apparent_sun(EPOCH_UNIX_DAY + first + step);
            let nodes = [node(-2), node(0), node(2), node(4)];
            let middle = node(1);
            let (equation_d, _) = value_and_rate(&cubic(&nodes, |sun| sun.equation_of_time_d), 0.5);
            let (tangent, _) = value_and_rate(&cubic(&nodes, |sun| sun.tan_declination), 0.5);
            let equation_s = (equation_d - middle.equation_of_time_d) * 86_400.0 / 16.0;
            // An error of declination moves an event by as much time, where the sun crosses steeply.
            let declination_s =
                (tangent - middle.tan_declination) * 86_400.0 / std::f64::consts::TAU / 16.0;
            assert!(equation_s.abs() < 1e-4, "{first}: {equation_s}");
            assert!(declination_s.abs() < 1e-4, "{first}: {declination_s}");
        }
    }
}
