//! Texts of the clock beside moments in answers: `from` and `from_clock`.
//!
//! They are made where an answer is written, so that none can disagree with its moment. The fields
//! are written flat: each of these functions writes two of them.

use serde::Serializer;
use serde::ser::SerializeMap;

use crate::civil::{Edge, Instant, clock_text};

/// What has a moment.
pub(crate) trait Moment {
    fn moment(&self) -> Option<Instant>;
}

impl Moment for Instant {
    fn moment(&self) -> Option<Instant> {
        Some(*self)
    }
}

impl<T: Moment> Moment for Option<T> {
    fn moment(&self) -> Option<Instant> {
        self.as_ref().and_then(Moment::moment)
    }
}

macro_rules! clocks {
    ($($field:ident: $edge:ident),* $(,)?) => {$(
        pub(crate) fn $field<T: Moment + serde::Serialize, S: Serializer>(
            value: &T,
            to: S,
        ) -> Result<S::Ok, S::Error> {
            let mut map = to.serialize_map(Some(2))?;
            map.serialize_entry(stringify!($field), value)?;
            let text = value.moment().map(|at| clock_text(at, Edge::$edge));
            map.serialize_entry(concat!(stringify!($field), "_clock"), &text)?;
            map.end()
        }
    )*};
}

// First flight is an end for who must be done before it, last flight a beginning for who must wait
// for it.
clocks!(
    from: From,
    until: Until,
    careful_from: Until,
    daylight_until: Until,
    work_light: From,
    sunrise: From,
    early_first: Until,
    first: Until,
    last: From,
    late_last: From,
    first_flight: Until,
    early_first_flight: Until,
    last_flight: From,
);
