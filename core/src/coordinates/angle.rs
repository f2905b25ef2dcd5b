//! Two angles out of a text: signs, letters of the sides, degrees, minutes and seconds.

use super::{Pair, unreadable};
use crate::error::{Error, clip};
use crate::wire::parse_f64;

/// Which of the two an angle is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Axis {
    Latitude,
    Longitude,
}

/// An angle as it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Angle {
    pub(super) degrees: f64,
    /// Where a letter or a name says it.
    pub(super) axis: Option<Axis>,
    /// Whether a sign or a letter stood with it.
    pub(super) is_signed: bool,
}

impl Angle {
    /// Decimal degrees whose sign was written down, or was not needed.
    pub(super) fn decimal(degrees: f64, axis: Option<Axis>) -> Self {
        Angle {
            degrees,
            axis,
            is_signed: true,
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Token {
    /// Without its sign, which is `Some(true)` for a minus.
    Number {
        size: f64,
        is_whole: bool,
        minus: Option<bool>,
    },
    /// 0 degrees, 1 minutes, 2 seconds.
    Unit(usize),
    /// A side, and whether degrees to it are negative.
    Side(Axis, bool),
    Name(Axis),
    /// What can only stand between the two angles.
    Apart,
}

/// What is written of one angle.
#[derive(Debug, Clone, Default)]
struct Parts {
    axis: Option<Axis>,
    side: Option<(Axis, bool)>,
    minus: Option<bool>,
    /// Degrees, minutes, seconds, as far as they stand there, and whether each is a whole number.
    numbers: Vec<(f64, bool)>,
    has_units: bool,
    is_closed: bool,
}

/// The two angles of a text.
pub(super) fn pair(text: &str) -> Result<Pair, Error> {
    let plain = plain(text);
    // A comma between digits is a decimal one only where no point is and nothing else makes a pair.
    let apart = tokens(&plain, false).and_then(|tokens| halves(&tokens));
    let read = match apart {
        Err(error) if !plain.contains('.') => {
            let other = tokens(&plain, true).and_then(|tokens| halves(&tokens));
            other.ok().filter(are_decimal).ok_or(error)?
        }
        other => other?,
    };
    let [first, second] = read.map(angle);
    Ok(Pair {
        first: first?,
        second: second?,
    })
}

/// Whether decimal commas can be meant: 28,81 153,28 or 3,1 S 60 W, but not 1,2,3.
fn are_decimal(both: &[Parts; 2]) -> bool {
    let decimal = |parts: &Parts| parts.numbers.iter().any(|(_, is_whole)| !is_whole);
    let [first, second] = both;
    first.side.is_some() || second.side.is_some() || decimal(first) == decimal(second)
}

/// One sign for each thing that is written in many ways.
fn plain(text: &str) -> String {
    let one = |c: char| match c {
        '−' | '–' | '—' | '‐' | '‑' | '－' | '﹣' => '-',
        '°' | 'º' | '˚' | '∘' | '⁰' => '°',
        '′' | '’' | '‘' | '‛' | 'ʹ' | 'ʼ' | '´' | '`' | '＇' => '\'',
        '″' | '”' | '“' | '„' | 'ʺ' | '˝' | '＂' => '"',
        '、' | '，' => ',',
        other => other,
    };
    let plain: String = text.to_ascii_lowercase().chars().map(one).collect();
    plain.replace("''", "\"")
}

/// What a word says; `None` for one that is unknown.
fn word(word: &str) -> Option<Option<Token>> {
    use Axis::{Latitude, Longitude};
    Some(Some(match word {
        "n" | "north" | "norte" | "nord" => Token::Side(Latitude, false),
        "s" | "south" | "sul" | "sur" | "sud" => Token::Side(Latitude, true),
        "e" | "east" | "este" | "leste" | "est" | "l" => Token::Side(Longitude, false),
        "w" | "west" | "oeste" | "ouest" | "o" => Token::Side(Longitude, true),
        "lat" | "latitude" | "latitud" => Token::Name(Latitude),
        "lon" | "long" | "lng" | "longitude" | "longitud" => Token::Name(Longitude),
        "deg" | "degree" | "degrees" => Token::Unit(0),
        "min" | "minute" | "minutes" => Token::Unit(1),
        "sec" | "second" | "seconds" => Token::Unit(2),
        "coordinates" | "coordenadas" | "gps" | "position" | "and" => return Some(None),
        _ => return None,
    }))
}

fn tokens(plain: &str, decimal_comma: bool) -> Result<Vec<Token>, Error> {
    let chars: Vec<char> = plain.chars().collect();
    let mut found = Vec::new();
    let mut at = 0;
    let mut minus = None;
    let run = |from: usize, is: fn(char) -> bool| {
        let rest = chars.iter().skip(from);
        from + rest.take_while(|c| is(**c)).count()
    };
    while let Some(&c) = chars.get(at) {
        let digit_next = chars.get(at + 1).is_some_and(char::is_ascii_digit);
        if c.is_ascii_digit() {
            let whole = run(at, |c| c.is_ascii_digit());
            let is_mark = |c: char| c == '.' || (decimal_comma && c == ',');
            let has_decimals = chars.get(whole).copied().is_some_and(is_mark)
                && chars.get(whole + 1).is_some_and(char::is_ascii_digit);
            let end = if has_decimals {
                run(whole + 1, |c| c.is_ascii_digit())
            } else {
                whole
            };
            let text: String = chars.iter().take(end).skip(at).collect();
            let size = parse_f64(&text.replace(',', ".")).filter(|size| size.is_finite());
            let size =
                size.ok_or_else(|| unreadable(&format!("{:?} is no number", clip(&text))))?;
            found.push(Token::Number {
                size,
                is_whole: !has_decimals,
                minus: minus.take(),
            });
            at = end;
            continue;
        }
        if minus.is_some() && !c.is_whitespace() {
            return Err(unreadable("a sign stands without a number"));
        }
        if c.is_alphabetic() {
            let end = run(at, char::is_alphabetic);
            let text: String = chars.iter().take(end).skip(at).collect();
            let known = word(&text);
            found.extend(known.ok_or_else(|| {
                unreadable(&format!("{:?} is no word of coordinates", clip(&text)))
            })?);
            at = end;
            continue;
        }
        match c {
            '+' | '-' => minus = Some(c == '-'),
            '°' => found.push(Token::Unit(0)),
            '\'' => found.push(Token::Unit(1)),
            '"' => found.push(Token::Unit(2)),
            ',' | ';' | '/' | '|' | '\n' => found.push(Token::Apart),
            '.' if digit_next => return Err(unreadable("a number begins with a point")),
            '.' | ':' | '=' | '(' | ')' | '[' | ']' | '{' | '}' => {}
            _ if c.is_whitespace() => {}
            _ => return Err(unreadable(&format!("{c:?} has no meaning in coordinates"))),
        }
        at += 1;
    }
    if minus.is_some() {
        return Err(unreadable("a sign stands without a number"));
    }
    Ok(found)
}

/// What is written of the first and of the second angle.
fn halves(tokens: &[Token]) -> Result<[Parts; 2], Error> {
    let is_number = |token: &&Token| matches!(token, Token::Number { .. });
    let first_number = tokens.iter().position(|token| is_number(&token));
    // Letters stand before all angles or behind all of them.
    let sides_before = tokens
        .iter()
        .take(first_number.unwrap_or(0))
        .any(|token| matches!(token, Token::Side(..)));
    let mut all = vec![Parts::default()];
    for (at, token) in tokens.iter().enumerate() {
        let begins = {
            let last = all.last().ok_or_else(|| unreadable("it is empty"))?;
            let has_numbers = !last.numbers.is_empty();
            match token {
                Token::Number { minus, .. } => {
                    let degrees_follow = tokens.get(at + 1) == Some(&Token::Unit(0));
                    has_numbers && (minus.is_some() || degrees_follow || last.is_closed)
                }
                Token::Side(..) => has_numbers && sides_before,
                Token::Name(_) => has_numbers,
                Token::Unit(_) | Token::Apart => false,
            }
        };
        if begins {
            all.push(Parts::default());
        }
        let last = all.last_mut().ok_or_else(|| unreadable("it is empty"))?;
        match *token {
            Token::Number {
                size,
                is_whole,
                minus,
            } => {
                if last.numbers.is_empty() {
                    last.minus = minus;
                }
                last.numbers.push((size, is_whole));
            }
            Token::Unit(unit) => {
                if last.numbers.len() != unit + 1 {
                    return Err(unreadable(
                        "its signs for degrees, minutes and seconds do not follow each other",
                    ));
                }
                last.has_units = true;
            }
            Token::Side(axis, negative) => {
                if last.side.replace((axis, negative)).is_some() {
                    return Err(unreadable("two letters stand with one angle"));
                }
                last.is_closed = !sides_before;
            }
            Token::Name(axis) => last.axis = Some(axis),
            Token::Apart => last.is_closed = !last.numbers.is_empty(),
        }
    }
    let two = |n: usize| {
        unreadable(&format!(
            "it has {n} {}",
            if n == 1 { "angle" } else { "angles" }
        ))
    };
    if let [one] = &all[..] {
        // 28 48 36 153 16 48: as many numbers for either.
        let count = one.numbers.len();
        if one.has_units || one.side.is_some() || !matches!(count, 2 | 4 | 6) {
            return Err(two(usize::from(count > 0)));
        }
        let (first, second) = one.numbers.split_at(count / 2);
        let half = |numbers: &[(f64, bool)], minus| Parts {
            numbers: numbers.to_vec(),
            minus,
            ..Parts::default()
        };
        return Ok([half(first, one.minus), half(second, None)]);
    }
    let count = all.len();
    <[Parts; 2]>::try_from(all).map_err(|_| two(count))
}

/// Degrees out of what is written.
fn angle(parts: Parts) -> Result<Angle, Error> {
    let Parts {
        axis,
        side,
        minus,
        numbers,
        ..
    } = parts;
    let [degrees, rest @ ..] = &numbers[..] else {
        return Err(unreadable("a number is missing"));
    };
    if rest.len() > 2 {
        return Err(unreadable(
            "an angle has more than degrees, minutes and seconds",
        ));
    }
    let larger = numbers.iter().take(rest.len());
    if larger.clone().any(|(_, is_whole)| !is_whole) {
        return Err(unreadable(
            "only the last of degrees, minutes and seconds has decimals",
        ));
    }
    if let Some((size, _)) = rest.iter().find(|(size, _)| *size >= 60.0) {
        return Err(Error::out_of_range(
            "text",
            format!("{size} minutes or seconds"),
            "0 to less than 60 of them",
        ));
    }
    if minus == Some(true) && side.is_some() {
        return Err(unreadable("a minus and a letter say the side twice"));
    }
    let axis = match (axis, side) {
        (Some(named), Some((letter, _))) if named != letter => {
            return Err(unreadable(
                "a letter does not go with the name of its angle",
            ));
        }
        (named, side) => named.or(side.map(|(axis, _)| axis)),
    };
    let size = degrees.0
        + rest
            .iter()
            .zip([60.0, 3600.0])
            .map(|((size, _), parts)| size / parts)
            .sum::<f64>();
    let negative = minus == Some(true) || side.is_some_and(|(_, negative)| negative);
    Ok(Angle {
        degrees: if negative { -size } else { size },
        axis,
        is_signed: minus.is_some() || side.is_some(),
    })
}
