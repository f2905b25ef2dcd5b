//! Decimal text to the nearest `f64`.
//!
//! The standard library does it faster, with a table of 10 kB that cannot be compressed and that
//! every page would load. Numbers with up to 15 digits and a small exponent, that is nearly all,
//! take one multiplication or division here, which is exact to the last bit; the others are
//! divided as long integers.

use std::cmp::Ordering;

/// Reads a number as JSON and tables have it: digits, perhaps with a sign, a decimal point and an
/// exponent. What is too large becomes infinite.
pub(crate) fn parse_f64(text: &str) -> Option<f64> {
    let (negative, text) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (mantissa, exponent) = match text.find(['e', 'E']) {
        Some(place) => (&text[..place], exponent(&text[place + 1..])?),
        None => (text, 0),
    };
    let (whole, decimals) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let digits = || whole.bytes().chain(decimals.bytes());
    if digits().next().is_none() || !digits().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let size = nearest(
        digits().map(|byte| byte - b'0'),
        exponent - decimals.len() as i64,
    );
    Some(if negative { -size } else { size })
}

fn exponent(text: &str) -> Option<i64> {
    let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
    if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    // Nothing in a text that fits into memory makes up for so large an exponent.
    let size = digits.parse().unwrap_or(i64::MAX / 4).min(i64::MAX / 4);
    Some(if text.starts_with('-') { -size } else { size })
}

/// Powers of ten up to here are exact.
const EXACT_POWER: i64 = 22;
/// No two numbers differ only after so many digits: the longest halfway case has 767.
const MOST_DIGITS: usize = 800;

/// The `f64` nearest to the digits as a whole number, times ten to the exponent.
fn nearest(digits: impl Iterator<Item = u8> + Clone, mut exponent: i64) -> f64 {
    let digits = digits.skip_while(|digit| *digit == 0);
    let count = digits.clone().count();
    if count <= 15 && exponent.abs() <= EXACT_POWER {
        let whole = digits.fold(0_u64, |sum, digit| 10 * sum + u64::from(digit)) as f64;
        let power = (0..exponent.abs()).fold(1.0, |power, _| 10.0 * power);
        return if exponent < 0 {
            whole / power
        } else {
            whole * power
        };
    }
    // The place of the first digit before or after the point.
    let size = exponent.saturating_add(count as i64);
    if count == 0 || size < -330 {
        return 0.0;
    }
    if size > 310 {
        return f64::INFINITY;
    }
    let mut above = Long::default();
    for digit in digits.clone().take(MOST_DIGITS) {
        above.times_plus(10, digit.into());
    }
    if count > MOST_DIGITS {
        // That there is more matters, but not how much.
        let more = digits.skip(MOST_DIGITS).any(|digit| digit != 0);
        above.times_plus(10, more.into());
        exponent += (count - MOST_DIGITS - 1) as i64;
    }
    let mut below = Long::from(1);
    let scaled = if exponent < 0 { &mut below } else { &mut above };
    for _ in 0..exponent.abs() {
        scaled.times_plus(10, 0);
    }
    quotient(above, below)
}

/// The `f64` nearest to the quotient; halfway the even one.
fn quotient(mut above: Long, mut below: Long) -> f64 {
    // Brings the quotient to 1 up to 2, times two to the power.
    let mut power = above.bits() - below.bits();
    if power > 0 {
        below.shift(power);
    } else {
        above.shift(-power);
    }
    if above.compare(&below) == Ordering::Less {
        above.shift(1);
        power -= 1;
    }
    // The smallest number is two to the power of -1074; half of it is rounded down.
    if power < -1075 {
        return 0.0;
    }
    // After the bits that are kept comes one that says which half, and whether anything remains.
    let kept = (power + 1075).min(53);
    let mut bits = 0_u64;
    for _ in 0..=kept {
        bits <<= 1;
        if above.compare(&below) != Ordering::Less {
            above.subtract(&below);
            bits |= 1;
        }
        above.shift(1);
    }
    let half = bits & 1 == 1;
    bits >>= 1;
    if half && (bits & 1 == 1 || !above.is_zero()) {
        bits += 1;
    }
    // Ordinary numbers leave their leading bit out; one bit more carries into the exponent.
    if kept == 53 {
        bits += ((power + 1022) as u64) << 52;
    }
    f64::from_bits(bits.min(f64::INFINITY.to_bits()))
}

/// A whole number of any length, in base 2³², its lowest part first and its highest not zero.
#[derive(Default)]
struct Long(Vec<u32>);

impl From<u32> for Long {
    fn from(value: u32) -> Self {
        Long(vec![value])
    }
}

impl Long {
    fn times_plus(&mut self, factor: u32, more: u32) {
        let mut carry = u64::from(more);
        for part in &mut self.0 {
            carry += u64::from(*part) * u64::from(factor);
            *part = carry as u32;
            carry >>= 32;
        }
        if carry > 0 {
            self.0.push(carry as u32);
        }
    }

    /// Times two to the power.
    fn shift(&mut self, power: i64) {
        self.times_plus(1 << (power % 32), 0);
        if !self.is_zero() {
            let zeros = (power / 32) as usize;
            self.0.splice(..0, std::iter::repeat_n(0, zeros));
        }
    }

    fn bits(&self) -> i64 {
        let highest = self.0.last().copied().unwrap_or(0);
        32 * self.0.len() as i64 - i64::from(highest.leading_zeros())
    }

    fn is_zero(&self) -> bool {
        self.0.is_empty()
    }

    fn compare(&self, other: &Long) -> Ordering {
        let longer = self.0.len().cmp(&other.0.len());
        longer.then_with(|| self.0.iter().rev().cmp(other.0.iter().rev()))
    }

    /// Less another number that is not larger.
    fn subtract(&mut self, other: &Long) {
        let mut borrow = false;
        for (i, part) in self.0.iter_mut().enumerate() {
            let less = other.0.get(i).copied().unwrap_or(0);
            let (once, under) = part.overflowing_sub(less);
            let (twice, again) = once.overflowing_sub(borrow.into());
            (*part, borrow) = (twice, under || again);
        }
        while self.0.last() == Some(&0) {
            self.0.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The reference is the standard library, bit by bit.
    fn same(text: &str) {
        let (ours, theirs) = (parse_f64(text), text.parse::<f64>().ok());
        assert_eq!(ours.map(f64::to_bits), theirs.map(f64::to_bits), "{text}");
    }

    #[test]
    fn hard_cases() {
        for text in [
            "0",
            "-0",
            "+1.5",
            "1.",
            ".5",
            "1e5",
            "1E-5",
            "00012.50",
            "9007199254740993",
            "9007199254740992.5",
            "9007199254740993.00000000000000000000000000000000000001",
            "1e22",
            "1e23",
            "8.5e22",
            "123456789012345678e-10",
            "4.9e-324",
            "2.47e-324",
            "2.4703282292062327208e-324",
            "2.4703282292062328e-324",
            "2.2250738585072014e-308",
            "2.2250738585072011e-308",
            "2.225073858507201136057409796709131975934819546351645648e-308",
            "1.7976931348623157e308",
            "1.7976931348623158e308",
            "1.7976931348623159e308",
            "179769313486231580793728971405301e276",
            "1e309",
            "-1e400",
            "1e-400",
            "0e999999999999999999999",
            "1e999999999999999999999",
            "1e-999999999999999999999",
            "0.1",
            "0.3",
            "3.141592653589793",
        ] {
            same(text);
        }
        // Just at, above and below half of the smallest number: 767 digits.
        let half = format!("{:.1075}", f64::from_bits(1) / 2.0 + f64::from_bits(1));
        same(&half);
        let digits = "2470328229206232720882843964341106861825299013071623822127928412503377536351";
        for last in ["", "0000", "1"] {
            same(&format!("0.{}{digits}{last}", "0".repeat(323)));
        }
        let long = "1".repeat(900);
        same(&format!("{long}e-890"));
        same(&format!("0.{long}"));
        same(&format!("1{}.{}1", "0".repeat(20), "0".repeat(900)));
    }

    #[test]
    fn other_texts_are_none() {
        for text in [
            "", "-", "+", ".", "e5", "1e", "1e+", "1e5.0", "1.2.3", "0x10", "1_000", " 1", "1 ",
            "--1", "+-1", "1e--5", "1é", "é", "infinity", "NaN",
        ] {
            assert_eq!(parse_f64(text), None, "{text}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        #[test]
        fn every_number_comes_back(bits in any::<u64>()) {
            let value = f64::from_bits(bits);
            prop_assume!(value.is_finite());
            same(&format!("{value:e}"));
            same(&format!("{value:.17e}"));
            same(&format!("{value:.3e}"));
            same(&value.to_string());
        }

        #[test]
        fn halfway_between_two_numbers(
            mantissa in 1_u128 << 52..1 << 53,
            power in 0..70_u32,
            more in "(\\.0{0,20}[0-9]?)?",
        ) {
            let halfway = (2 * mantissa + 1) << power;
            same(&format!("{halfway}{more}"));
            same(&format!("{}{more}", halfway - 1));
            same(&format!("{halfway}e-40"));
        }

        #[test]
        fn any_digits(text in "[0-9]{1,30}(\\.[0-9]{0,30})?(e[+-]?[0-9]{1,3})?") {
            same(&text);
        }

        #[test]
        fn any_text(text in "[0-9.eE+-]{0,12}") {
            same(&text);
        }
    }
}
