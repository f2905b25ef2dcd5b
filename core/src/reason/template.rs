//! From a sentence of the catalogue and values to words.
//!
//! - `{name}` is the value of that name with its unit: a number with at most two decimals, `{name:1}`
//!   with one, `{name:n}` and `{name:1n}` without the unit. Dates are `Mon 14 Sep 2026`, moments
//!   `05:34 on Mon 14 Sep 2026` on the site's clocks, `{name:n}` without the day. A source that is only what
//!   beekeepers do is called so.
//! - `{name|# day|# days}` depends on a number: the first form stands for 1, the second for all
//!   others; `#` is the number.
//! - `[...]` is left out where a value in it is missing.
//!
//! There is no way to write one of these signs itself. The page fills sentences by the same rules.

use chrono::Timelike;

use super::COMMON_PRACTICE;
use super::catalogue::{self, Language};
use super::value::{Value, Values};
use crate::civil::{Instant, date_words};

/// A piece of a sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Piece<'t> {
    Words(&'t str),
    /// Name, decimals, with its unit.
    Value(&'t str, Option<usize>, bool),
    /// Name, the form for one, the form for others.
    Forms(&'t str, &'t str, &'t str),
    /// What stands in brackets.
    Optional(&'t str),
}

/// Cuts a sentence into its pieces. A sign that is not closed ends at the end.
pub(super) fn pieces(template: &str) -> impl Iterator<Item = Piece<'_>> {
    let mut rest = template;
    std::iter::from_fn(move || {
        let sign = rest.find(['{', '[']).unwrap_or(rest.len());
        if sign > 0 {
            let (words, after) = rest.split_at(sign);
            rest = after;
            return Some(Piece::Words(words));
        }
        let is_value = rest.starts_with('{');
        let (inside, after) = rest
            .get(1..)?
            .split_once(if is_value { '}' } else { ']' })
            .unwrap_or((&rest[1..], ""));
        rest = after;
        Some(if is_value {
            value_of(inside)
        } else {
            Piece::Optional(inside)
        })
    })
}

fn value_of(inside: &str) -> Piece<'_> {
    if let Some((name, forms)) = inside.split_once('|') {
        let (one, other) = forms.split_once('|').unwrap_or((forms, forms));
        return Piece::Forms(name, one, other);
    }
    let (name, how) = inside.split_once(':').unwrap_or((inside, ""));
    let (decimals, with_unit) = match how.strip_suffix('n') {
        Some(decimals) => (decimals, false),
        None => (how, true),
    };
    Piece::Value(name, decimals.parse().ok(), with_unit)
}

/// The sentence.
pub(super) fn fill(template: &str, values: &Values, language: Language) -> String {
    let mut sentence = String::new();
    write(&mut sentence, template, values, language);
    sentence
}

fn write(out: &mut String, template: &str, values: &Values, language: Language) {
    for piece in pieces(template) {
        match piece {
            Piece::Words(words) => out.push_str(words),
            Piece::Value(name, decimals, with_unit) => {
                if let Some(value) = values.get(name) {
                    out.push_str(&shown(value, decimals, with_unit, language));
                }
            }
            Piece::Forms(name, one, other) => {
                if let Some(value) = values.get(name) {
                    let count = shown(value, None, false, language);
                    out.push_str(&form(&count, one, other));
                }
            }
            Piece::Optional(inside) => {
                let is_there = |piece| match piece {
                    Piece::Value(name, ..) | Piece::Forms(name, ..) => values.get(name).is_some(),
                    Piece::Words(_) | Piece::Optional(_) => true,
                };
                if pieces(inside).all(is_there) {
                    write(out, inside, values, language);
                }
            }
        }
    }
}

/// A number with what is counted, in the form that belongs to it.
fn form(number: &str, one: &str, other: &str) -> String {
    let form = if number == "1" { one } else { other };
    form.replace('#', number)
}

/// A value in words.
fn shown(value: &Value, decimals: Option<usize>, with_unit: bool, language: Language) -> String {
    let counted = |number: &f64, unit: &str| {
        let number = digits(*number, decimals);
        let forms = catalogue::word(language, unit).filter(|_| with_unit);
        let (one, other) = forms.and_then(|forms| forms.split_once('|'))?;
        Some(form(&number, one, other))
    };
    let counted = match value {
        Value::Days { value } => counted(value, "unit.days"),
        Value::FlyingDays { value } => counted(value, "unit.flying_days"),
        Value::DegreeDays { value } => counted(value, "unit.degree_days"),
        _ => None,
    };
    if let Some(counted) = counted {
        return counted;
    }
    let (number, unit) = match value {
        Value::Days { value } | Value::FlyingDays { value } | Value::DegreeDays { value } => {
            (*value, "")
        }
        Value::Count { value } => (*value, ""),
        Value::Temperature { value } | Value::Difference { value } => (*value, " °C"),
        Value::Length { value } => (*value, " m"),
        Value::Rain { value } => (*value, " mm"),
        Value::Speed { value } => (*value, " m/s"),
        Value::Hours { value } => (*value, " h"),
        Value::Minutes { value } => (*value, " min"),
        Value::Weight { value } => (*value, " kg"),
        Value::Angle { value } => (*value, "°"),
        Value::Share { value } => (100.0 * value, " %"),
        Value::Date { value } => return date_words(*value),
        Value::Moment { value } if with_unit => {
            let day = date_words(value.date_naive());
            return format!("{} on {day}", hour_and_minute(*value));
        }
        Value::Moment { value } => return hour_and_minute(*value),
        Value::Name { value } => {
            let practice = catalogue::word(language, COMMON_PRACTICE).unwrap_or(COMMON_PRACTICE);
            return value.replace(COMMON_PRACTICE, practice);
        }
        Value::Title { value } => return format!("“{value}”"),
        Value::Word { value } => {
            return catalogue::word(language, value).unwrap_or(value).to_owned();
        }
        Value::Rule { value } => {
            let known = catalogue::word(language, &format!("rule.{value}"));
            return known.unwrap_or(value).to_owned();
        }
        Value::Reason { value } => return value.0.sentence(language),
        Value::List { value } => {
            let all: Vec<_> = value.iter().map(|one| one.0.sentence(language)).collect();
            return all.join(", ");
        }
    };
    let mut text = digits(number, decimals);
    if with_unit {
        text.push_str(unit);
    }
    text
}

fn hour_and_minute(at: Instant) -> String {
    format!("{:02}:{:02}", at.hour(), at.minute())
}

/// A number with so many decimals, or with at most two. Halves are rounded away from nought.
fn digits(number: f64, decimals: Option<usize>) -> String {
    if !number.is_finite() {
        return if number > 0.0 { "∞" } else { "-∞" }.to_owned();
    }
    let scale = [1.0, 10.0, 100.0][decimals.unwrap_or(2).min(2)];
    let scaled = (number * scale).round() / scale;
    // No digits are lost of numbers too large to be scaled, and nought has no sign.
    let rounded = if scaled.is_finite() { scaled } else { number } + 0.0;
    match decimals {
        Some(decimals) => format!("{rounded:.decimals$}"),
        None => rounded.to_string(),
    }
}
