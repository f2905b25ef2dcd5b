//! The share of the day's range that the air has reached by half-days from noon: on the usual day,
//! and on the one day in ten that warms earliest or cools latest.
//!
//! Fitted to hourly records; `docs/climate.md` has the sources, the method and how far off it is.

use super::grid;
use crate::site::Site;

/// Half-days between knots.
const STEP: f64 = 0.1;
/// First knot of the morning, in half-days from noon: −1 is sunrise.
const MORNING_FROM: f64 = -1.1;
const MORNING_KNOTS: usize = 16;
/// First knot of the afternoon: 0 is noon, 1 sunset.
const AFTERNOON_FROM: f64 = 0.0;
const AFTERNOON_KNOTS: usize = 11;

/// The range of a day for which [`Knots::level`] holds, °C, and the ranges beyond which nothing
/// changes: on days of a small range, which are cloudy ones, times scatter more.
const MIDDLE_RANGE_C: f64 = 12.0;
const RANGE_UNIT_C: f64 = 8.0;
const SMALLEST_RANGE_C: f64 = 5.0;
/// At the shore the range says less. Narrower limits there also keep air from being colder at any
/// moment of the morning where a day's minimum is higher.
const LARGEST_RANGE_C: [f64; 2] = [18.0, 8.0];

/// Closeness to the sea (1 at the shore, 0.37 at 100 km) from which on a place is no longer inland
/// at all, and from which on it is all shore: 51 and 11 km.
const SHORE_CLOSENESS: [f64; 2] = [0.6, 0.9];

/// Thousandths of the day's range at each knot.
struct Knots<const N: usize> {
    /// Inland, for a range of [`MIDDLE_RANGE_C`].
    level: [i16; N],
    /// Added for each [`RANGE_UNIT_C`] that the range is larger.
    range: [i16; N],
    /// Added at the shore.
    shore: [i16; N],
}

/// Highest share since an hour before sunrise, on the usual day.
const USUAL_MORNING: Knots<MORNING_KNOTS> = Knots {
    level: [
        0, 0, 43, 119, 217, 314, 413, 506, 598, 682, 757, 822, 877, 926, 967, 1000,
    ],
    range: [0, 0, 17, 38, 71, 95, 106, 105, 97, 83, 71, 50, 30, 0, 0, 0],
    shore: [
        0, 0, 28, 75, 126, 172, 194, 199, 188, 173, 151, 125, 105, 84, 50, 0,
    ],
};

/// The same on the one day in ten that warms earliest.
const EARLY_MORNING: Knots<MORNING_KNOTS> = Knots {
    level: [
        212, 229, 254, 284, 422, 511, 599, 664, 728, 790, 852, 908, 956, 1000, 1000, 1000,
    ],
    range: [
        -70, -76, -80, 0, 52, 57, 56, 38, 20, 0, -15, -22, -20, 0, 0, 0,
    ],
    shore: [
        -83, -75, -56, 91, 148, 172, 180, 170, 146, 126, 84, 49, 21, 0, 0, 0,
    ],
};

/// Highest share still to come, on the usual day.
const USUAL_AFTERNOON: Knots<AFTERNOON_KNOTS> = Knots {
    level: [1000, 1000, 1000, 1000, 1000, 992, 970, 938, 887, 806, 699],
    range: [0, 0, 0, 0, 0, 9, 32, 58, 83, 117, 143],
    shore: [0, 0, 0, 0, -39, -90, -115, -140, -163, -167, -146],
};

/// The same on the one day in ten that cools latest.
const LATE_AFTERNOON: Knots<AFTERNOON_KNOTS> = Knots {
    level: [
        1000, 1000, 1000, 1000, 1000, 1000, 1000, 1000, 992, 948, 879,
    ],
    range: [0, 0, 0, 0, 0, 0, 0, 0, -6, -3, 0],
    shore: [0, 0, 0, 0, 0, 0, -9, -26, -80, -112, -132],
};

/// What the course of a day depends on beside the day itself.
///
/// ```
/// use apiary_almanac::{Site, climate::AirOfPlace};
/// let cape = Site::new(-28.64, 153.63, 5.0, "Australia/Sydney")?;
/// let plains = Site::new(-29.46, 149.84, 213.0, "Australia/Sydney")?;
/// assert_eq!(AirOfPlace::of(&cape), AirOfPlace::SHORE);
/// assert_eq!(AirOfPlace::of(&plains), AirOfPlace::INLAND);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirOfPlace {
    /// 0 inland, 1 at the shore.
    shore: f64,
}

impl AirOfPlace {
    /// More than some 50 km from the sea.
    pub const INLAND: Self = AirOfPlace { shore: 0.0 };
    /// Within some 10 km of the sea.
    pub const SHORE: Self = AirOfPlace { shore: 1.0 };

    /// By how near the sea is, as the built-in [`grid`](super::grid) has it. Islands that are not on the grid
    /// count as shore, and so does the sea.
    ///
    /// ```
    /// use apiary_almanac::{Site, climate::AirOfPlace};
    /// // An island that the grid of climates is too coarse for lies in the sea.
    /// let lord_howe = Site::new(-31.55, 159.08, 5.0, "Australia/Lord_Howe")?;
    /// assert_eq!(AirOfPlace::of(&lord_howe), AirOfPlace::SHORE);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn of(site: &Site) -> Self {
        let (latitude, longitude) = (site.latitude_deg.get(), site.longitude_deg.get());
        let Some(near) = grid::closeness_to_sea(latitude, longitude) else {
            return Self::SHORE;
        };
        let [inland, shore] = SHORE_CLOSENESS;
        AirOfPlace {
            shore: ((near - inland) / (shore - inland)).clamp(0.0, 1.0),
        }
    }
}

impl<const N: usize> Knots<N> {
    fn shares(&self, range_c: f64, air: AirOfPlace) -> [f64; N] {
        let [inland, shore] = LARGEST_RANGE_C;
        let largest_c = inland + (shore - inland) * air.shore;
        let range_c = range_c.clamp(SMALLEST_RANGE_C, largest_c);
        let range = (range_c - MIDDLE_RANGE_C) / RANGE_UNIT_C;
        std::array::from_fn(|knot| {
            let [level, by_range, by_shore] =
                [self.level, self.range, self.shore].map(|part| f64::from(part[knot]));
            let share = (level + by_range * range + by_shore * air.shore) / 1000.0;
            share.clamp(0.0, 1.0)
        })
    }
}

/// The course of one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Course {
    /// Never falls from knot to knot.
    morning: [f64; MORNING_KNOTS],
    /// Never rises from knot to knot.
    afternoon: [f64; AFTERNOON_KNOTS],
}

impl Course {
    /// The usual day of a range: every second one is warmer by any moment of the morning.
    pub fn usual(range_c: f64, air: AirOfPlace) -> Self {
        Self::new(&USUAL_MORNING, &USUAL_AFTERNOON, range_c, air)
    }

    /// What one day in ten surpasses, by any moment of the morning and after any of the afternoon.
    pub fn outer(range_c: f64, air: AirOfPlace) -> Self {
        let (usual, mut outer) = (
            Self::usual(range_c, air),
            Self::new(&EARLY_MORNING, &LATE_AFTERNOON, range_c, air),
        );
        raise(&mut outer.morning, &usual.morning);
        raise(&mut outer.afternoon, &usual.afternoon);
        outer
    }

    fn new(
        morning: &Knots<MORNING_KNOTS>,
        afternoon: &Knots<AFTERNOON_KNOTS>,
        range_c: f64,
        air: AirOfPlace,
    ) -> Self {
        let (mut morning, mut afternoon) =
            (morning.shares(range_c, air), afternoon.shares(range_c, air));
        highest_so_far(&mut morning);
        for knot in (1..AFTERNOON_KNOTS).rev() {
            afternoon[knot - 1] = afternoon[knot - 1].max(afternoon[knot]);
        }
        Course { morning, afternoon }
    }

    /// The share at a moment between sunrise and sunset, in half-days from noon.
    pub fn share(&self, half_days: f64) -> f64 {
        let morning = between(&self.morning, (half_days - MORNING_FROM) / STEP);
        let afternoon = between(&self.afternoon, (half_days - AFTERNOON_FROM) / STEP);
        morning.min(afternoon)
    }

    /// When the morning reaches a share, in half-days from noon; `None` where it has it from the
    /// night.
    pub fn rises_to(&self, share: f64) -> Option<f64> {
        let above = self.morning.iter().position(|known| *known >= share);
        let above = above.unwrap_or(MORNING_KNOTS - 1);
        let below = above.checked_sub(1)?;
        let part = (share - self.morning[below]) / (self.morning[above] - self.morning[below]);
        let part = if part.is_finite() {
            part.clamp(0.0, 1.0)
        } else {
            1.0
        };
        Some(MORNING_FROM + (below as f64 + part) * STEP)
    }

    /// When the afternoon is last at a share, in half-days from noon; `None` where it still is at
    /// sunset.
    pub fn falls_to(&self, share: f64) -> Option<f64> {
        let below = self.afternoon.iter().position(|known| *known < share)?;
        let above = below.saturating_sub(1);
        let part =
            (self.afternoon[above] - share) / (self.afternoon[above] - self.afternoon[below]);
        let part = if part.is_finite() {
            part.clamp(0.0, 1.0)
        } else {
            0.0
        };
        Some(AFTERNOON_FROM + (above as f64 + part) * STEP)
    }

    /// By how much each knot of the morning is to be raised when the air has reached another share
    /// at a moment than this course says: so much then and before, and less the more of the way to
    /// the maximum is done. `None` once the maximum is reached.
    pub fn correction(&self, half_days: f64, share: f64) -> Option<Correction> {
        let expected = between(&self.morning, (half_days - MORNING_FROM) / STEP);
        (expected < 1.0).then(|| {
            Correction(self.morning.map(|known| {
                let left = ((1.0 - known) / (1.0 - expected)).min(1.0);
                (share - expected) * left
            }))
        })
    }

    pub fn corrected(mut self, by: &Correction) -> Self {
        for (share, by) in self.morning.iter_mut().zip(by.0) {
            *share += by;
        }
        highest_so_far(&mut self.morning);
        self
    }
}

/// See [`Course::correction`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Correction([f64; MORNING_KNOTS]);

fn highest_so_far(shares: &mut [f64]) {
    for knot in 1..shares.len() {
        shares[knot] = shares[knot].max(shares[knot - 1]);
    }
}

fn raise(shares: &mut [f64], at_least: &[f64]) {
    for (share, least) in shares.iter_mut().zip(at_least) {
        *share = share.max(*least);
    }
}

/// On the straight line between knots; the outermost hold beyond them.
fn between(shares: &[f64], place: f64) -> f64 {
    let place = place.clamp(0.0, (shares.len() - 1) as f64);
    let below = (place as usize).min(shares.len() - 2);
    shares[below] + (place - below as f64) * (shares[below + 1] - shares[below])
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn air() -> impl Strategy<Value = AirOfPlace> {
        (0.0..=1.0_f64).prop_map(|shore| AirOfPlace { shore })
    }

    proptest! {
        #[test]
        fn times_are_the_inverse_of_shares(
            range_c in 0.0..40.0_f64, air in air(), share in 0.0..=1.0_f64,
        ) {
            for course in [Course::usual(range_c, air), Course::outer(range_c, air)] {
                if let Some(rise) = course.rises_to(share) {
                    let morning = between(&course.morning, (rise - MORNING_FROM) / STEP);
                    prop_assert!((morning - share).abs() < 1e-9, "{} is {}", morning, share);
                }
                if let Some(fall) = course.falls_to(share) {
                    let afternoon = between(&course.afternoon, fall / STEP);
                    prop_assert!((afternoon - share).abs() < 1e-9, "{} is {}", afternoon, share);
                }
            }
        }

        #[test]
        fn one_day_in_ten_is_at_least_as_warm_as_the_usual(
            range_c in 0.0..40.0_f64, air in air(), at in -1.2..1.2_f64,
        ) {
            let [usual, outer] = [Course::usual(range_c, air), Course::outer(range_c, air)];
            prop_assert!(outer.share(at) >= usual.share(at));
        }

        /// At every moment of the morning, for a higher minimum, a higher maximum, or both.
        #[test]
        fn a_warmer_day_is_warmer_all_morning(
            low in -5.0..25.0_f64, range_c in 1.0..25.0_f64, air in air(),
            lower in 0.0..3.0_f64, higher in 0.0..3.0_f64, at in -1.1..0.4_f64,
        ) {
            let lower = lower.min(range_c - 0.5);
            for course in [Course::usual, Course::outer] {
                let c = |low: f64, high: f64| {
                    let course = course(high - low, air);
                    low + (high - low) * between(&course.morning, (at - MORNING_FROM) / STEP)
                };
                let high = low + range_c;
                prop_assert!(c(low + lower, high + higher) >= c(low, high) - 1e-9);
            }
        }
    }
}
