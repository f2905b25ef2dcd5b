//! What a date costs, in ranked levels.

use std::iter::Sum;
use std::ops::{Add, AddAssign, SubAssign};

/// How many levels a cost has.
pub const LEVELS: usize = 8;
/// The level of tasks that cannot take place at all; the scheduler counts them.
pub const NO_DATE: usize = 0;
/// The level of broken rules; the scheduler counts them.
pub const BROKEN: usize = 1;
/// The first of the levels that are the caller's own.
pub const FIRST_OWN: usize = 2;

/// A cost in ranked levels: the first level that differs decides, and costs of several tasks are
/// summed level by level.
///
/// ```
/// use apiary_almanac::schedule::{BROKEN, Cost, FIRST_OWN};
/// let (unfit, far) = (FIRST_OWN, FIRST_OWN + 1);
/// assert!(Cost::at(unfit, 1) > Cost::at(far, 90));
/// assert!(Cost::at(BROKEN, 1) > Cost::at(unfit, 5) + Cost::at(far, 3));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Cost([u32; LEVELS]);

impl Cost {
    /// Nothing at any level.
    pub const ZERO: Cost = Cost([0; LEVELS]);
    /// More than any schedule costs.
    pub(super) const WORST: Cost = Cost([u32::MAX; LEVELS]);

    /// An amount at one level, nothing at the others; at a level that there is not, nothing at all.
    ///
    /// ```
    /// use apiary_almanac::schedule::{Cost, FIRST_OWN, LEVELS};
    /// assert!(Cost::at(FIRST_OWN, 1) > Cost::ZERO);
    /// assert_eq!(Cost::at(LEVELS, 1), Cost::ZERO); // there is no such level
    /// ```
    pub fn at(level: usize, amount: u32) -> Cost {
        Cost::ZERO.with(level, amount)
    }

    /// So much more at one level.
    ///
    /// ```
    /// use apiary_almanac::schedule::{Cost, FIRST_OWN};
    /// // A wet day, three days away from the best.
    /// let cost = Cost::at(FIRST_OWN, 1).with(FIRST_OWN + 1, 3);
    /// assert!(cost > Cost::at(FIRST_OWN, 1) && cost < Cost::at(FIRST_OWN, 2));
    /// ```
    #[must_use]
    pub fn with(mut self, level: usize, amount: u32) -> Cost {
        if let Some(own) = self.0.get_mut(level) {
            *own = own.saturating_add(amount);
        }
        self
    }

    /// The levels, the first of which weighs more than all the others.
    ///
    /// ```
    /// use apiary_almanac::schedule::{Cost, FIRST_OWN};
    /// let both = Cost::at(FIRST_OWN, 1) + Cost::at(FIRST_OWN + 1, 3);
    /// assert_eq!(both.levels()[FIRST_OWN..FIRST_OWN + 2], [1, 3]);
    /// ```
    pub fn levels(&self) -> [u32; LEVELS] {
        self.0
    }

    /// The first level at which this cost is more than another, and how much more; `None` where it
    /// is not more than the other.
    ///
    /// ```
    /// use apiary_almanac::schedule::{Cost, FIRST_OWN};
    /// let (unfit, far) = (FIRST_OWN, FIRST_OWN + 1);
    /// let (wet, distant) = (Cost::at(unfit, 1), Cost::at(far, 90));
    /// assert_eq!(wet.worse_than(&distant), Some((unfit, 1)));
    /// assert_eq!(distant.worse_than(&wet), None);
    /// ```
    pub fn worse_than(&self, other: &Cost) -> Option<(usize, u32)> {
        let level = (0..LEVELS).find(|level| self.0[*level] != other.0[*level])?;
        let more = self.0[level].checked_sub(other.0[level])?;
        Some((level, more))
    }
}

impl Add for Cost {
    type Output = Cost;

    fn add(mut self, other: Cost) -> Cost {
        self += other;
        self
    }
}

impl AddAssign for Cost {
    fn add_assign(&mut self, other: Cost) {
        for (own, more) in self.0.iter_mut().zip(other.0) {
            *own = own.saturating_add(more);
        }
    }
}

impl SubAssign for Cost {
    /// Takes away what was added before.
    fn sub_assign(&mut self, other: Cost) {
        for (own, less) in self.0.iter_mut().zip(other.0) {
            *own = own.saturating_sub(less);
        }
    }
}

impl Sum for Cost {
    fn sum<I: Iterator<Item = Cost>>(costs: I) -> Cost {
        costs.fold(Cost::ZERO, Add::add)
    }
}
