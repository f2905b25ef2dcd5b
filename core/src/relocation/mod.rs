//! From here to there: in stages, by way of a far place, or at once.

mod settings;
mod stages;

pub use settings::{FarStay, Parting, RelocationOverrides, RelocationSettings, parted_from_parent};
pub use stages::{Stage, StagedMove, Staging, staged};
