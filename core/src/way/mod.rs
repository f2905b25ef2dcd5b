//! From here to there: in stages, by way of a far place, or at once; and the numbers of each, with
//! their sources.
//!
//! Foragers know the place of their hive, not the hive. Moved a little, they find it; moved farther
//! within their range, they fly back to where it stood; moved beyond their range, they learn the
//! new place.

mod choice;
mod parting;
mod settings;
mod stages;

pub use choice::Way;
pub use parting::{Parting, PartingOverrides, parted_from_parent};
pub use settings::{FarStay, RelocationOverrides, RelocationSettings};
pub use stages::{MOST_STAGES, StageOverrides};

pub(crate) use choice::{advice_on_stages, choices, choose, warnings};
pub(crate) use stages::{SoFar, Stages};
