//! Values as JSON.

use serde::Serialize;

/// Writes a value as JSON (RFC 8259): numbers in the fewest digits that read back the same, those
/// that are not finite as `null`.
pub(crate) fn to_json(value: &impl Serialize) -> String {
    // Only maps whose keys are no texts cannot be written, and the engine has none.
    serde_json::to_string(value).unwrap_or_default()
}
