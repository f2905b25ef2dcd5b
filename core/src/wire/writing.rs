//! Values as JSON.

use serde::Serialize;

/// Writes a value as JSON (RFC 8259): numbers in the fewest digits that read back the same. No
/// number of the engine may be other than finite; a release would write `null`.
pub(crate) fn to_json(value: &impl Serialize) -> String {
    #[cfg(debug_assertions)]
    assert!(super::finite::is_finite(value), "a number is not finite");
    // Only maps whose keys are no texts cannot be written, and the engine has none.
    serde_json::to_string(value).unwrap_or_default()
}
