//! The force of the wind on the Beaufort scale, for words beside the number.

/// Least speed of forces 1 to 12, m/s, at 10 m above open ground (WMO-No. 8, Guide to Instruments and Methods of
/// Observation, part I, chapter 5, table of wind speed equivalents; WMO-No. 306, Manual on Codes, section E).
const FROM_M_S: [f64; 12] = [
    0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7,
];

/// Names of the forces in the catalogue of sentences.
const WORDS: [&str; 13] = [
    "wind.0", "wind.1", "wind.2", "wind.3", "wind.4", "wind.5", "wind.6", "wind.7", "wind.8",
    "wind.9", "wind.10", "wind.11", "wind.12",
];

/// Force of a wind on the Beaufort scale, 0 (calm) to 12 (hurricane). The scale's limits have one decimal, so the
/// speed (m/s) is rounded to one first; what is no number or below 0 is calm.
///
/// ```
/// use apiary_almanac::climate::beaufort;
/// assert_eq!(beaufort(9.0), 5); // a fresh breeze, 8.0 to 10.7 m/s
/// ```
pub fn beaufort(wind_m_s: f64) -> u8 {
    let rounded = (wind_m_s * 10.0).round() / 10.0;
    FROM_M_S.iter().map(|from| u8::from(rounded >= *from)).sum()
}

/// The name under which the catalogue has the word for a wind.
pub(crate) fn wind_word(wind_m_s: f64) -> &'static str {
    WORDS[usize::from(beaufort(wind_m_s))]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// v = 0.836 B^1.5 m/s is the speed in the middle of force B (WMO-No. 8, part I, chapter 5); a force
    /// begins half a force below that, at the next tenth.
    #[test]
    fn limits_are_those_of_the_formula_of_the_scale() {
        for (force, from) in (1_u8..).zip(FROM_M_S) {
            let edge = 0.836 * (f64::from(force) - 0.5).powf(1.5);
            assert_eq!(from, (edge * 10.0).ceil() / 10.0, "{force}");
            assert_eq!(beaufort(from), force);
            assert_eq!(beaufort(from - 0.1), force - 1);
        }
    }

    #[test]
    fn every_number_has_a_force() {
        for (wind_m_s, force) in [
            (f64::NAN, 0),
            (-1.0, 0),
            (0.0, 0),
            (7.94, 4),
            (7.95, 5),
            (f64::INFINITY, 12),
        ] {
            assert_eq!(beaufort(wind_m_s), force, "{wind_m_s}");
        }
    }
}
