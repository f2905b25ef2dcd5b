//! Days in running lines: `Mon 12-24 5mm`, or a day on one line and its numbers on the next.

use super::date::{self, Day, When};
use super::names::{Quantity, Unit, quantity};
use super::number::{Figure, after_joint, leading, leading_unit};
use super::text::lines;

/// A day with the lines that belong to it.
pub(super) struct Block {
    /// The first of its lines.
    pub number: usize,
    pub text: String,
    /// What the numbers in it mean; `None` where that is not clear.
    pub read: Option<Numbers>,
}

/// What a block says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Numbers {
    pub when: When,
    pub low: Figure,
    pub high: Figure,
    pub rain: Option<Figure>,
    pub wind: Option<Figure>,
}

/// Longest block that is looked at, bytes.
const LONGEST: usize = 1000;

/// The blocks of a text, and the lines that belong to no day.
pub(super) fn blocks(text: &str) -> (Vec<Block>, Vec<(usize, &str)>) {
    let mut blocks: Vec<Block> = Vec::new();
    let mut strays = Vec::new();
    for (number, line) in lines(text) {
        let line = line.trim_start_matches('\u{feff}').trim_matches(|c: char| {
            c.is_whitespace() || matches!(c, '*' | '•' | '·' | '|' | '-' | '#')
        });
        if line.is_empty() {
            continue;
        }
        let heads = date::heads(clipped(line));
        if heads.iter().any(|(when, _)| names_a_day(when)) {
            blocks.push(Block {
                number,
                text: line.to_owned(),
                read: None,
            });
        } else {
            match blocks.last_mut() {
                Some(block) if block.text.len() + line.len() < LONGEST => {
                    block.text += "; ";
                    block.text += line;
                }
                Some(_) => {}
                None => strays.push((number, line)),
            }
        }
    }
    for block in &mut blocks {
        block.read = numbers_of(clipped(&block.text));
    }
    (blocks, strays)
}

fn clipped(text: &str) -> &str {
    let mut end = text.len().min(LONGEST);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}

/// A number alone at the head of a line is rather a temperature than a day of the month.
fn names_a_day(when: &When) -> bool {
    when.weekday.is_some() || !matches!(when.day, Day::Alone(_) | Day::Unsaid)
}

fn numbers_of(text: &str) -> Option<Numbers> {
    let mut found: Option<Numbers> = None;
    // The longest head first.
    for (when, rest) in date::heads(text) {
        if !names_a_day(&when) {
            continue;
        }
        let Some((read, loose)) = numbers(rest, false).or_else(|| numbers(rest, true)) else {
            continue;
        };
        // `Mon 12 24 5`: is it the 12th?
        if matches!(when.day, Day::Alone(_)) && loose {
            return None;
        }
        match found {
            None => found = Some(Numbers { when, ..read }),
            // `Mon 20` of `Mon 20 July` leaves the same numbers.
            Some(longer)
                if longer
                    == (Numbers {
                        when: longer.when,
                        ..read
                    }) => {}
            Some(_) => return None,
        }
    }
    found
}

/// A number with the word that goes with it.
struct Item {
    figure: Figure,
    label: Option<Quantity>,
    /// Tied to the number before it by a dash, a slash or `to`.
    joined: bool,
}

/// Takes the numbers for what the words before them (or behind them) say. Also tells whether minimum
/// and maximum stand loose, with neither word, unit nor dash.
fn numbers(text: &str, words_behind: bool) -> Option<(Numbers, bool)> {
    let items = items(text, words_behind);
    let (mut lows, mut highs, mut bare) = (Vec::new(), Vec::new(), Vec::new());
    let (mut rain, mut wind) = (Vec::new(), Vec::new());
    let mut loose = true;
    for item in &items {
        let Item {
            figure,
            label,
            joined,
        } = item;
        let fits = |quantity| figure.unit.is_some_and(|unit| unit.fits(quantity));
        match (label, figure.unit) {
            (_, Some(Unit::Percent)) | (Some(Quantity::Other), _) => {}
            (_, Some(_)) if fits(Quantity::Rain) => rain.push(*figure),
            (_, Some(_)) if fits(Quantity::Wind) => wind.push(*figure),
            (Some(Quantity::Rain), None) => rain.push(*figure),
            (Some(Quantity::Wind), None) => wind.push(*figure),
            (Some(Quantity::Minimum), _) => lows.push(*figure),
            (Some(Quantity::Maximum), _) => highs.push(*figure),
            (Some(Quantity::Rain | Quantity::Wind | Quantity::Cloud | Quantity::Radiation), _) => {
                return None;
            }
            _ => {
                loose &= !joined && figure.unit.is_none();
                bare.push(*figure);
            }
        }
    }
    let (low, high, named) = match (&lows[..], &highs[..], &bare[..]) {
        ([low], [high], []) if !words_behind || low.decimal <= high.decimal => (*low, *high, true),
        ([], [], [a, b]) if a.decimal <= b.decimal => (*a, *b, false),
        ([], [], [a, b]) => (*b, *a, false),
        _ => return None,
    };
    if words_behind && loose && !named {
        return None;
    }
    // A range of rain or wind: the upper end is the careful one.
    let upper = |list: &[Figure]| match list {
        [] => Some(None),
        [one] => Some(Some(*one)),
        [a, b] if a.unit == b.unit => Some(Some(if a.decimal > b.decimal { *a } else { *b })),
        _ => None,
    };
    let unit = low.unit.or(high.unit);
    let read = Numbers {
        when: When::default(),
        low: Figure {
            unit: low.unit.or(unit),
            ..low
        },
        high: Figure {
            unit: high.unit.or(unit),
            ..high
        },
        rain: upper(&rain)?,
        wind: upper(&wind)?,
    };
    Some((read, loose && !named))
}

fn items(text: &str, words_behind: bool) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let mut label = None;
    let mut rest = text;
    // Where the number before ended, while a joint may follow.
    let mut after_number = false;
    // Whether a word can still belong to the number before it.
    let mut behind = false;
    loop {
        if after_number
            && let Some(joined) = after_joint(rest)
            && let Some((figure, after)) = leading(joined)
        {
            let (unit, after) = leading_unit(after);
            let quantity = items.last().and_then(|item| item.label);
            let figure = Figure { unit, ..figure };
            if let Some(last) = items.last_mut() {
                last.joined = true;
                last.figure.unit = last.figure.unit.or(unit);
            }
            let unit = figure
                .unit
                .or(items.last().and_then(|item| item.figure.unit));
            items.push(Item {
                figure: Figure { unit, ..figure },
                label: quantity,
                joined: true,
            });
            rest = after;
            continue;
        }
        after_number = false;
        let Some(first) = rest.chars().next() else {
            return items;
        };
        let starts_number = first.is_ascii_digit()
            || (matches!(first, '-' | '−' | '+')
                && rest[first.len_utf8()..].starts_with(|c: char| c.is_ascii_digit()));
        if starts_number && let Some((figure, after)) = leading(rest) {
            let (unit, after) = leading_unit(after);
            items.push(Item {
                figure: Figure { unit, ..figure },
                label: if words_behind { None } else { label.take() },
                joined: false,
            });
            rest = after;
            after_number = true;
            behind = true;
            continue;
        }
        if first.is_alphabetic() {
            let end = rest
                .find(|c: char| !c.is_alphanumeric())
                .unwrap_or(rest.len());
            let (word, after) = rest.split_at(end);
            rest = after;
            let Some(said) = quantity(word).filter(|said| *said != Quantity::When) else {
                continue;
            };
            if words_behind {
                if behind
                    && let Some(last) = items.last_mut()
                    && last.label.is_none()
                    && said != Quantity::Temperature
                {
                    last.label = Some(said);
                }
                continue;
            }
            label = match (label, said) {
                // `maximum temperature` is a maximum, `chance of rain` a chance.
                (Some(known), Quantity::Temperature) => Some(known),
                (Some(Quantity::Other), Quantity::Rain | Quantity::Wind) => label,
                (_, said) => Some(said),
            };
            continue;
        }
        if matches!(first, ',' | ';' | '|') {
            label = None;
            behind = false;
        }
        // Digits that are no number, such as 27 of them, must not be read from their middle.
        let skip = if first.is_ascii_digit() {
            rest.find(|c: char| !c.is_ascii_digit())
                .unwrap_or(rest.len())
        } else {
            first.len_utf8()
        };
        rest = &rest[skip..];
    }
}
