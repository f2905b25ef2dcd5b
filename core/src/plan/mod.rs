//! Whole dated plans for a new colony.

mod task;

pub use task::{Choice, Dependency, Plan, Task, TaskKind, TaskState, TimeWindow, Which};
