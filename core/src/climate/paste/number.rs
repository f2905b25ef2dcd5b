//! A number in a cell, with what could be meant by its comma and the unit behind it.

use super::names::{Unit, any_unit};
use crate::wire::parse_f64;

/// What a comma in a number stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::climate) enum Comma {
    /// Decimals follow, as in `12,5`.
    Decimal,
    /// It parts thousands, as in `1,200.5`.
    Thousands,
}

/// A number as it is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::climate) struct Figure {
    /// The value with a comma before decimals, and the value with one between thousands; the same
    /// where there is only one reading.
    pub decimal: f64,
    pub thousands: f64,
    /// Which comma the number itself proves, if any.
    pub proves: Option<Comma>,
    pub unit: Option<Unit>,
}

impl Figure {
    pub fn is_clear(&self) -> bool {
        self.decimal.to_bits() == self.thousands.to_bits()
    }

    pub fn value(&self, comma: Comma) -> f64 {
        match comma {
            Comma::Decimal => self.decimal,
            Comma::Thousands => self.thousands,
        }
    }
}

/// What a cell holds.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::climate) enum Cell {
    Empty,
    /// One number.
    One(Figure),
    /// Two with a dash, a slash or `to` between them.
    Two(Figure, Figure),
    /// Neither.
    Other,
}

/// Reads a cell.
pub(in crate::climate) fn cell(text: &str) -> Cell {
    let text = text.trim();
    let lower = text.to_lowercase();
    if text.is_empty()
        || text
            .chars()
            .all(|c| matches!(c, '-' | '–' | '—' | '.' | '*'))
        || ["n/a", "na", "nan", "null", "none", "nil", "unknown", "m"].contains(&&lower[..])
    {
        return Cell::Empty;
    }
    let Some((first, rest)) = leading(text) else {
        return Cell::Other;
    };
    let (unit, rest) = leading_unit(rest);
    let first = Figure { unit, ..first };
    if rest.is_empty() {
        return Cell::One(first);
    }
    let Some((second, rest)) = after_joint(rest).and_then(leading) else {
        return Cell::Other;
    };
    let (unit, rest) = leading_unit(rest);
    if !rest.is_empty() {
        return Cell::Other;
    }
    // `12-24 °C`: the unit behind both holds for both.
    let first = Figure {
        unit: first.unit.or(unit),
        ..first
    };
    let second = Figure {
        unit: unit.or(first.unit),
        ..second
    };
    Cell::Two(first, second)
}

/// What follows `-`, `/`, `to` or the like between two numbers.
pub(super) fn after_joint(text: &str) -> Option<&str> {
    let text = text.trim_start();
    for joint in ["to ", "a ", "bis ", "and ", "..", "-", "–", "—", "/", "|"] {
        if let Some(rest) = text.strip_prefix(joint) {
            return Some(rest.trim_start());
        }
    }
    None
}

/// A number at the head of a text, and what follows it.
pub(super) fn leading(text: &str) -> Option<(Figure, &str)> {
    let text = text.trim_start();
    let (negative, digits) = match text.strip_prefix(['-', '−', '–']) {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let mut end = 0;
    let bytes = digits.as_bytes();
    while end < bytes.len() && end < LONGEST_NUMBER {
        let inside = matches!(bytes[end], b'.' | b',')
            && end > 0
            && bytes.get(end + 1).is_some_and(u8::is_ascii_digit);
        if !(bytes[end].is_ascii_digit() || inside) {
            break;
        }
        end += 1;
    }
    let (number, rest) = digits.split_at_checked(end)?;
    if rest.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let figure = figure(number, negative)?;
    Some((figure, rest))
}

/// Longest number that is read, digits.
const LONGEST_NUMBER: usize = 24;

fn figure(number: &str, negative: bool) -> Option<Figure> {
    let sign = if negative { -1.0 } else { 1.0 };
    let value = |text: &str| parse_f64(text).map(|value| sign * value);
    let (commas, dots) = (number.matches(',').count(), number.matches('.').count());
    let of = |decimal, thousands, proves| {
        Some(Figure {
            decimal,
            thousands,
            proves,
            unit: None,
        })
    };
    let one = |text: &str, proves| value(text).and_then(|value| of(value, value, proves));
    let in_threes = |text: &str, mark: char| {
        let mut parts = text.split(mark);
        parts
            .next()
            .is_some_and(|first| (1..=3).contains(&first.len()))
            && parts.all(|part| part.len() == 3)
    };
    match (commas, dots) {
        (0, 0) => one(number, None),
        (0, 1) => one(number, None),
        (1, 0) => {
            let after = number.len() - number.find(',')? - 1;
            let decimal = value(&number.replace(',', "."))?;
            if after != 3 || number.starts_with("0,") || !in_threes(number, ',') {
                return of(decimal, decimal, Some(Comma::Decimal));
            }
            of(decimal, value(&number.replace(',', ""))?, None)
        }
        // Both: the last one stands before the decimals.
        (_, 1) if number.rfind(',') < number.find('.') => {
            let (whole, _) = number.split_once('.')?;
            in_threes(whole, ',').then_some(())?;
            one(&number.replace(',', ""), Some(Comma::Thousands))
        }
        (1, _) => {
            let (whole, _) = number.split_once(',')?;
            in_threes(whole, '.').then_some(())?;
            one(
                &number.replace('.', "").replace(',', "."),
                Some(Comma::Decimal),
            )
        }
        (_, 0) if in_threes(number, ',') => one(&number.replace(',', ""), Some(Comma::Thousands)),
        _ => None,
    }
}

/// A unit at the head of a text, and what follows it. A degree sign alone is no unit.
pub(super) fn leading_unit(text: &str) -> (Option<Unit>, &str) {
    let text = text.trim_start();
    let bare = text.strip_prefix(['°', 'º', '˚']).unwrap_or(text);
    let mut best = (None, bare.trim_start());
    // Units are short; the longest that is one counts, so that `km/h` is not `km`.
    let ends = bare
        .char_indices()
        .map(|(at, letter)| at + letter.len_utf8())
        .take(11);
    for end in ends {
        let (head, rest) = bare.split_at(end);
        let whole = !rest.starts_with(|c: char| c.is_alphabetic());
        if head.starts_with(|c: char| c.is_alphabetic() || matches!(c, '%' | '"' | '″'))
            && whole
            && let Some(unit) = any_unit(head)
        {
            // `C 3`: a blank and more is not part of the unit.
            if !head.trim_end().chars().any(char::is_whitespace) {
                best = (Some(unit), rest.trim_start());
            }
        }
    }
    best
}
