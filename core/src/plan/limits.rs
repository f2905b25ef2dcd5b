//! How much one keeper, or a few people, can do: the limits that several plans share.

use crate::error::Error;
use crate::morning::Weekday;
use crate::number::{COMMON_PRACTICE, numbers};

numbers! {
    /// The limits that the plans of a keeper share.
    pub struct KeeperLimits {}

    /// A keeper's own limits; what is not given stays at its default. Parts of whole numbers are dropped.
    pub struct KeeperLimitOverrides {
        /// Days on which the keeper can work, for the plans that name none of their own; every day when empty.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        pub free_weekdays: Vec<Weekday>,
    }

    /// Hives that one person opens on a day, divisions among them.
    openings_per_day: f64 = 2.0, "a day", 1.0..=20.0, COMMON_PRACTICE;

    /// Hives that one person moves at a dawn.
    moves_per_dawn: f64 = 2.0, "a day", 1.0..=20.0, COMMON_PRACTICE;

    /// People who work at the hives.
    people: f64 = 1.0, "people", 1.0..=50.0, COMMON_PRACTICE;

    /// Days from one division to the next, d: a spell of bad weather then does not meet all new colonies
    /// alike, and their looks do not fall on one day.
    between_starts_d: f64 = 7.0, "d", 0.0..=60.0, COMMON_PRACTICE;
}

impl KeeperLimits {
    /// The defaults with a keeper's own numbers.
    ///
    /// # Errors
    /// `out_of_range` for a number outside its range.
    ///
    /// ```
    /// use apiary_almanac::plan::{KeeperLimitOverrides, KeeperLimits};
    /// let own = KeeperLimitOverrides::default().with_people(2.0);
    /// assert_eq!(KeeperLimits::with_overrides(&own)?.people().value, 2.0);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn with_overrides(own: &KeeperLimitOverrides) -> Result<Self, Error> {
        let mut limits = KeeperLimits::default();
        limits.take_own(own)?;
        Ok(limits)
    }

    /// Openings of a day, of all people.
    pub(super) fn openings(&self) -> u32 {
        (self.openings_per_day.value.floor() * self.people.value.floor()) as u32
    }

    /// Moves of a dawn, of all people.
    pub(super) fn moves(&self) -> u32 {
        (self.moves_per_dawn.value.floor() * self.people.value.floor()) as u32
    }
}
