//! Coordinates as people write, copy and send them: which place a text can mean.

mod address;
mod angle;

use derive_setters::Setters;
use serde::Serialize;

use crate::error::{Error, at_most};
use crate::place::{PlaceState, state};
use crate::reason::{Reason, say};
use crate::wire::{FromNode, Shape};

use angle::{Angle, Axis};

/// The longest text that is read, in bytes: addresses of maps can be long.
pub const LONGEST_TEXT_BYTES: usize = 4000;

/// Decimals of a degree that are kept: 0.1 m.
const DECIMALS: f64 = 1e6;

/// A text with coordinates in it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, FromNode, Setters)]
#[setters(into, prefix = "with_")]
#[non_exhaustive]
pub struct CoordinatesRequest {
    /// Two angles: decimal degrees with point or comma, degrees with minutes and seconds, signs or the letters
    /// of north, south, east and west before or behind them; a `geo:` address (RFC 5870); a position of ISO
    /// 6709; the address of a map.
    pub text: String,
}

impl CoordinatesRequest {
    /// A text as it was typed or pasted.
    ///
    /// ```
    /// use apiary_almanac::coordinates::{CoordinatesRequest, read_coordinates};
    /// // Nearly forty kilometres apart: minutes were taken for decimals of a degree.
    /// let minutes = read_coordinates(&CoordinatesRequest::new("28° 48.6' S, 153° 16.8' E"))?;
    /// let decimals = read_coordinates(&CoordinatesRequest::new("28.486 S, 153.168 E"))?;
    /// assert_eq!(minutes.positions[0].latitude_deg, -28.81);
    /// assert_eq!(decimals.positions[0].latitude_deg, -28.486);
    /// # Ok::<(), apiary_almanac::Error>(())
    /// ```
    pub fn new(text: impl Into<String>) -> Self {
        CoordinatesRequest { text: text.into() }
    }
}

/// A place that a text can mean.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct Position {
    /// Degrees north of the equator, to 0.000001; south is negative.
    pub latitude_deg: f64,
    /// Degrees east of Greenwich, −180 to 180; west is negative.
    pub longitude_deg: f64,
    /// Land or sea.
    pub state: PlaceState,
}

/// What a text with coordinates says.
#[derive(Debug, Clone, PartialEq, Serialize, Shape)]
#[non_exhaustive]
pub struct CoordinatesReading {
    /// The places that it can mean, the likeliest first.
    pub positions: Vec<Position>,
    /// What its writer must be asked before one of them is used; where nothing is asked there is one position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub question: Option<Reason>,
    /// The height that stands in a `geo:` address or a position of ISO 6709, m above the ellipsoid of WGS 84,
    /// which can be 100 m off the height above the sea.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
}

/// Two angles in the order in which they were written.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Pair {
    first: Angle,
    second: Angle,
}

/// Reads coordinates as people write, copy and send them.
///
/// Latitude stands first unless letters or names say otherwise. Where the first number cannot be a latitude,
/// where what was written lies at sea or more than 45° from the equator and another order or the other side of the
/// equator or of Greenwich lies on land, and where an address has two places in it, there is a question.
///
/// # Errors
/// `unreadable` for a text that does not have two angles or says a thing twice, `out_of_range` for an angle that
/// cannot be, `too_large` for a text above [`LONGEST_TEXT_BYTES`].
///
/// ```
/// use apiary_almanac::coordinates::{CoordinatesRequest, read_coordinates};
/// let read = read_coordinates(&CoordinatesRequest::new("28°48'36\"S 153°16'48\"E"))?;
/// assert_eq!((read.positions[0].latitude_deg, read.positions[0].longitude_deg), (-28.81, 153.28));
/// assert!(read.question.is_none());
///
/// // The first number cannot be a latitude.
/// let swapped = read_coordinates(&CoordinatesRequest::new("153.28, -28.81"))?;
/// assert!(swapped.question.is_some_and(|asked| asked.code == "longitude_stands_first"));
/// assert_eq!(swapped.positions[0].latitude_deg, -28.81);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn read_coordinates(request: &CoordinatesRequest) -> Result<CoordinatesReading, Error> {
    let text = request.text.trim();
    at_most("text", text.len(), LONGEST_TEXT_BYTES, "bytes")?;
    if text.is_empty() {
        return Err(unreadable("it is empty"));
    }
    if let Some((pair, height_m)) = address::standard(text)? {
        let positions = vec![pair.as_written()?];
        return Ok(CoordinatesReading {
            positions,
            question: None,
            height_m,
        });
    }
    if let Some(pairs) = address::of_map(text)? {
        return match *pairs {
            [pair] => possible(pair),
            _ => {
                let positions = pairs.iter().map(|pair| pair.as_written());
                let question = Some(say::address_of_several_places());
                let positions = positions.collect::<Result<_, _>>()?;
                Ok(CoordinatesReading {
                    positions,
                    question,
                    height_m: None,
                })
            }
        };
    }
    possible(angle::pair(text)?)
}

/// What a pair can mean.
fn possible(pair: Pair) -> Result<CoordinatesReading, Error> {
    let turned = pair.turned();
    let is_open = pair.first.axis.is_none() && pair.second.axis.is_none();
    if is_open && pair.first.degrees.abs() > 90.0 && turned.as_written().is_ok() {
        let mut positions = vec![turned.as_written()?];
        positions.extend(others(turned, positions[0]));
        let question = Some(say::longitude_stands_first());
        return Ok(CoordinatesReading {
            positions,
            question,
            height_m: None,
        });
    }
    let mut positions = vec![pair.as_written()?];
    if is_open && !is_land(&positions[0]) {
        let swapped = turned.as_written().ok().filter(is_land);
        positions.extend(swapped.into_iter().chain(others(pair, positions[0])));
    }
    let question = (positions.len() > 1).then(say::not_on_land_as_written);
    Ok(CoordinatesReading {
        positions,
        question,
        height_m: None,
    })
}

/// The places on land on other sides of the equator and of Greenwich, as far as no sign was written, where the
/// place itself is not on land.
fn others(pair: Pair, itself: Position) -> impl Iterator<Item = Position> {
    let flips = [(true, false), (false, true), (true, true)];
    let able = (!pair.first.is_signed, !pair.second.is_signed);
    let wanted = !is_land(&itself);
    flips
        .into_iter()
        .filter(move |flip| wanted && (!flip.0 || able.0) && (!flip.1 || able.1))
        .filter_map(move |(first, second)| {
            let turned = |angle: Angle, is: bool| Angle {
                degrees: if is { -angle.degrees } else { angle.degrees },
                ..angle
            };
            let pair = Pair {
                first: turned(pair.first, first),
                second: turned(pair.second, second),
            };
            pair.as_written().ok()
        })
        .filter(is_land)
}

fn is_land(position: &Position) -> bool {
    matches!(position.state, PlaceState::OnLand | PlaceState::NearLand)
}

impl Pair {
    fn turned(self) -> Pair {
        Pair {
            first: self.second,
            second: self.first,
        }
    }

    /// The place, with latitude first where nothing says otherwise.
    fn as_written(self) -> Result<Position, Error> {
        let (latitude, longitude) = match (self.first.axis, self.second.axis) {
            (Some(Axis::Longitude), Some(Axis::Longitude))
            | (Some(Axis::Latitude), Some(Axis::Latitude)) => {
                return Err(unreadable(
                    "both angles are of one kind: one of them is north or south, the other east or west",
                ));
            }
            (Some(Axis::Longitude), _) | (_, Some(Axis::Latitude)) => (self.second, self.first),
            _ => (self.first, self.second),
        };
        if latitude.degrees.abs() > 90.0 {
            return Err(Error::out_of_range(
                "latitude_deg",
                latitude.degrees.to_string(),
                "-90 to 90 (north is positive)",
            ));
        }
        if !(-180.0..=360.0).contains(&longitude.degrees) {
            return Err(Error::out_of_range(
                "longitude_deg",
                longitude.degrees.to_string(),
                "-180 to 180 (east is positive)",
            ));
        }
        let east = if longitude.degrees > 180.0 {
            longitude.degrees - 360.0
        } else {
            longitude.degrees
        };
        let [latitude_deg, longitude_deg] =
            [latitude.degrees, east].map(|deg| (deg * DECIMALS).round() / DECIMALS + 0.0);
        Ok(Position {
            latitude_deg,
            longitude_deg,
            state: state(latitude_deg, longitude_deg),
        })
    }
}

fn unreadable(problem: &str) -> Error {
    Error::Unreadable {
        field: "text".to_owned(),
        problem: format!(
            "{problem}; a latitude and a longitude are needed, such as -28.81, 153.28 or 28°48'36\"S 153°16'48\"E"
        ),
    }
}

#[cfg(test)]
mod tests;
