//! From here to there: in stages, by way of a far place, or at once.

mod holdups;
mod settings;
mod stages;

pub use settings::{FarStay, Parting, RelocationOverrides, RelocationSettings, parted_from_parent};
pub use stages::{MOST_STAGES, Stage, StagedMove, Staging, staged};
