//! Values as JSON.

use std::io;

use serde::Serialize;
use serde_json::Serializer;
use serde_json::ser::Formatter;

use crate::error::Error;
use crate::reading::unreadable;

/// Writes a value as JSON. `what` names it in errors.
pub(crate) fn to_json(what: &str, value: &impl Serialize) -> Result<String, Error> {
    let mut text = Vec::new();
    value
        .serialize(&mut Serializer::with_formatter(&mut text, Shortest))
        .map_err(|e| unreadable(what, e))?;
    String::from_utf8(text).map_err(|e| unreadable(what, e))
}

/// Numbers in the fewest digits that read back the same, by the standard library: a second
/// algorithm with its tables would be a load for a page.
struct Shortest;

impl Formatter for Shortest {
    fn write_f64<W: ?Sized + io::Write>(&mut self, to: &mut W, value: f64) -> io::Result<()> {
        write!(to, "{value:?}")
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn numbers_read_back_as_they_were(value in any::<f64>()) {
            let text = to_json("value", &value).unwrap();
            let again: Option<f64> = serde_json::from_str(&text).unwrap();
            prop_assert_eq!(again, Some(value).filter(|value| value.is_finite()));
        }
    }
}
