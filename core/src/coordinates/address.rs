//! Coordinates by a standard, or within the address of a map.

use super::angle::{Angle, Axis};
use super::{Pair, unreadable};
use crate::error::Error;
use crate::wire::parse_f64;

/// How near two places of one address are the same one, °.
const SAME_DEG: f64 = 1e-4;

/// A `geo:` address or a position of ISO 6709, with the height in it; `None` for another text.
pub(super) fn standard(text: &str) -> Result<Option<(Pair, Option<f64>)>, Error> {
    match text.get(..4) {
        Some(scheme) if scheme.eq_ignore_ascii_case("geo:") => {
            geo(text.get(4..).unwrap_or_default()).map(Some)
        }
        _ if text.starts_with(['+', '-', '−']) && text.ends_with('/') => iso_6709(text).map(Some),
        _ => Ok(None),
    }
}

/// RFC 5870: `latitude,longitude[,height][;crs=wgs84][;u=metres]`. Phones put the place in question behind
/// `0,0?q=`.
fn geo(rest: &str) -> Result<(Pair, Option<f64>), Error> {
    let (place, query) = rest.split_once('?').unwrap_or((rest, ""));
    let mut parts = place.split(';');
    let numbers: Option<Vec<f64>> = parts
        .next()
        .unwrap_or_default()
        .split(',')
        .map(number)
        .collect();
    for part in parts {
        let (name, value) = part.split_once('=').unwrap_or((part, ""));
        if name.eq_ignore_ascii_case("crs") && !value.eq_ignore_ascii_case("wgs84") {
            return Err(unreadable("its crs is not wgs84"));
        }
    }
    let named = |degrees, axis| Angle::decimal(degrees, Some(axis));
    let of = |north, east| Pair {
        first: named(north, Axis::Latitude),
        second: named(east, Axis::Longitude),
    };
    match numbers.as_deref() {
        Some([0.0, 0.0]) if !query.is_empty() => match pairs(&format!("?{query}")).first() {
            Some(pair) => Ok((*pair, None)),
            None => Err(unreadable("the geo: address has no place in it")),
        },
        Some([north, east]) => Ok((of(*north, *east), None)),
        Some([north, east, height]) => Ok((of(*north, *east), Some(*height))),
        _ => Err(unreadable(
            "a geo: address has two or three numbers with commas between them (RFC 5870)",
        )),
    }
}

/// ISO 6709, annex H: `±DD.D±DDD.D/`, with `DDMM.M` or `DDMMSS.S` too, a height and a reference system behind.
fn iso_6709(text: &str) -> Result<(Pair, Option<f64>), Error> {
    let wrong = || {
        unreadable(
            "a position of ISO 6709 is ±DD.D±DDD.D/, ±DDMM.M±DDDMM.M/ or ±DDMMSS.S±DDDMMSS.S/",
        )
    };
    let plain = text.trim_end_matches('/').replace('−', "-");
    let (plain, system) = plain.split_once("CRS").unwrap_or((&plain, ""));
    if !matches!(system, "" | "WGS_84" | "WGS84") {
        return Err(unreadable("its reference system is not WGS 84"));
    }
    let mut numbers = Vec::new();
    for c in plain.chars() {
        if matches!(c, '+' | '-') {
            numbers.push(String::new());
        }
        numbers.last_mut().ok_or_else(wrong)?.push(c);
    }
    let [north, east, heights @ ..] = &numbers[..] else {
        return Err(wrong());
    };
    let height = match heights {
        [] => None,
        [height] => Some(number(height).ok_or_else(wrong)?),
        _ => return Err(wrong()),
    };
    let first = packed(north, 2, Axis::Latitude).ok_or_else(wrong)?;
    let second = packed(east, 3, Axis::Longitude).ok_or_else(wrong)?;
    Ok((Pair { first, second }, height))
}

/// An angle whose degrees have so many digits, minutes and seconds, where they are there, two each.
fn packed(text: &str, digits: usize, axis: Axis) -> Option<Angle> {
    let size = text.trim_start_matches(['+', '-']);
    let (degrees, rest) = size.split_at_checked(digits)?;
    let part = |text: &str| number(text).filter(|part| *part < 60.0);
    let size = match size
        .chars()
        .take_while(char::is_ascii_digit)
        .count()
        .checked_sub(digits)?
    {
        0 => number(size)?,
        2 => number(degrees)? + part(rest)? / 60.0,
        4 => {
            let (minutes, seconds) = rest.split_at_checked(2)?;
            number(degrees)? + part(minutes)? / 60.0 + part(seconds)? / 3600.0
        }
        _ => return None,
    };
    Some(Angle::decimal(
        if text.starts_with('-') { -size } else { size },
        Some(axis),
    ))
}

/// The places in the address of a map; `None` for a text without an address.
pub(super) fn of_map(text: &str) -> Result<Option<Vec<Pair>>, Error> {
    let mut words = text.split_whitespace();
    let Some(address) = words.find(|word| word.contains("://") || word.starts_with("www.")) else {
        return Ok(None);
    };
    let found = pairs(&decoded(address));
    if found.is_empty() {
        return Err(unreadable(
            "the address has no coordinates in it: open it, and copy the coordinates or the long address from there",
        ));
    }
    Ok(Some(found))
}

/// The different pairs of an address: two numbers behind an `@`, in a field, in two fields of a latitude and a
/// longitude, or behind a scale, `15/-28.81/153.28`.
fn pairs(address: &str) -> Vec<Pair> {
    let mut found: Vec<Pair> = Vec::new();
    let mut alone: [Option<f64>; 2] = [None; 2];
    let mut add = |north: f64, east: f64| {
        let pair = Pair {
            first: Angle::decimal(north, None),
            second: Angle::decimal(east, None),
        };
        let is_same = |other: &Pair| {
            (other.first.degrees - north).abs() < SAME_DEG
                && (other.second.degrees - east).abs() < SAME_DEG
        };
        if !found.iter().any(is_same) {
            found.push(pair);
        }
    };
    for (at, part) in address.split(['?', '&', '#', ';']).enumerate() {
        if at == 0 {
            for near in part.split('@').skip(1) {
                if let Some((north, east)) = listed(near, ',') {
                    add(north, east);
                }
            }
            continue;
        }
        let (name, value) = part.split_once('=').unwrap_or(("", part));
        let axis = match name.trim_start_matches('m').to_ascii_lowercase().as_str() {
            "lat" | "latitude" => Some(0),
            "lon" | "lng" | "long" | "longitude" => Some(1),
            _ => None,
        };
        if let (Some(axis), Some(degrees)) = (axis, number(value)) {
            alone[axis] = Some(degrees);
        } else if let Some((north, east)) =
            listed(value.rsplit_once(':').map_or(value, |(_, rest)| rest), ',')
        {
            add(north, east);
        } else if let Some((north, east)) = value
            .split_once('/')
            .and_then(|(_, rest)| listed(rest, '/'))
        {
            add(north, east);
        }
    }
    if let [Some(north), Some(east)] = alone {
        add(north, east);
    }
    found
}

/// The first two numbers of a list; one of them has decimals, for whole numbers in addresses are mostly
/// something else.
fn listed(text: &str, apart: char) -> Option<(f64, f64)> {
    let mut parts = text
        .split(apart)
        .map(|part| part.trim().trim_start_matches('@'));
    let (north, east) = (parts.next()?, parts.next()?);
    // What follows the second number is not part of it: `153.28(School garden)`.
    let end = east.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '-' | '+' | '−'));
    let east = east.get(..end.unwrap_or(east.len()))?;
    (north.contains('.') || east.contains('.')).then_some(())?;
    Some((number(north)?, number(east)?))
}

/// A finite number, with a sign or without.
fn number(text: &str) -> Option<f64> {
    let plain = text.trim().replace('−', "-");
    let size = plain.trim_start_matches(['+', '-']);
    let is_plain = size.starts_with(|c: char| c.is_ascii_digit())
        && size.chars().all(|c| c.is_ascii_digit() || c == '.');
    let value = parse_f64(plain.trim_start_matches('+')).filter(|value| value.is_finite());
    value.filter(|_| is_plain)
}

/// An address without its percent-encoding (RFC 3986); a plus in it stands for a blank.
fn decoded(address: &str) -> String {
    let mut bytes = Vec::with_capacity(address.len());
    let mut rest = address.as_bytes();
    while let [first, tail @ ..] = rest {
        let hex = |byte: u8| char::from(byte).to_digit(16);
        rest = match (first, tail) {
            (b'%', [high, low, after @ ..]) => match (hex(*high), hex(*low)) {
                (Some(high), Some(low)) => {
                    bytes.push((high * 16 + low) as u8);
                    after
                }
                _ => {
                    bytes.push(b'%');
                    tail
                }
            },
            (b'+', _) => {
                bytes.push(b' ');
                tail
            }
            (byte, _) => {
                bytes.push(*byte);
                tail
            }
        };
    }
    String::from_utf8_lossy(&bytes).into_owned()
}
