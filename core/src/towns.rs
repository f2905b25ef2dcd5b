//! Towns by name, from a list that is read when it is asked for: coordinates, zone, the height of the
//! land.
//!
//! The list is a text. A line `|AU|Australia|Queensland|Australia/Brisbane` names country and region
//! of the towns that follow and their zone; each of these is a line of name, degrees north and east
//! in hundredths and hundreds of people: `Gympie|-2619|15266|224`. A name with accents has its plain
//! form behind it: `São Paulo=Sao Paulo`.

use serde::Serialize;

use crate::error::{Error, clip};
use crate::place;
use crate::site::{Latitude, Longitude, Site};
use crate::wire::FromNode;

/// The list that comes with the package: towns of 3000 people or more between 40° N and 40° S, by
/// GeoNames (CC BY 4.0).
#[cfg(feature = "towns")]
pub const TOWNS: &str = include_str!("../data/towns.txt");

/// What towns are known.
const KNOWN: &str = "those of the list, towns of some 3000 people or more between 40° N and 40° S; \
                     for another place give coordinates";

/// How many towns an answer names.
const MOST_TOWNS: usize = 20;

/// A name is no longer than this, in bytes.
const LONGEST_NAME: usize = 200;

/// A town of the list.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct Town {
    /// Its name.
    pub name: String,
    /// The state, province or other first division of its country; empty where it has none.
    pub region: String,
    /// Its country.
    pub country: String,
    /// Code of the country by ISO 3166-1.
    pub country_code: String,
    /// How many people live there, to the nearest hundred.
    pub people: f64,
    /// Where it is, to about 1 km, at the height of the land around.
    pub site: Site,
}

/// Towns that a name can mean.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct FoundTowns {
    /// Those of this name or, where there is none, those whose names begin so; the largest first, 20 at
    /// most.
    pub towns: Vec<Town>,
    /// How many more there are.
    pub more: usize,
}

/// From this far off a town is no longer near, km: common practice, no source.
pub const NEAR_KM: f64 = 50.0;

/// Towns around a place.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
#[non_exhaustive]
pub struct NearTowns {
    /// Those within [`NEAR_KM`], the nearest first, 20 at most.
    pub towns: Vec<Town>,
    /// How far each of them is, km.
    pub distances_km: Vec<f64>,
    /// How many more there are.
    pub more: usize,
    /// The zone that all of them have, the further ones too. Left out where there are none and where they
    /// differ: near a border only who lives there knows the clocks.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
}

/// A name as it is shown and as it is typed without accents.
#[derive(Debug, Clone, Copy)]
struct Spelling<'t> {
    shown: &'t str,
    plain: &'t str,
}

impl<'t> Spelling<'t> {
    fn of(text: &'t str) -> Self {
        let (shown, plain) = text.split_once('=').unwrap_or((text, text));
        Spelling { shown, plain }
    }

    /// Letters and digits in both spellings; only the plain one where they have not the same number.
    fn letters(self) -> impl Iterator<Item = (char, char)> {
        let alike = self.shown.chars().count() == self.plain.chars().count();
        let shown = if alike { self.shown } else { self.plain };
        let pairs = shown.chars().zip(self.plain.chars());
        pairs
            .filter(|(_, plain)| plain.is_alphanumeric())
            .map(|(shown, plain)| (small(shown), small(plain)))
    }

    /// `None` where it does not begin with what was typed, else whether it is all of it.
    fn met_by(self, typed: &[char]) -> Option<bool> {
        let mut letters = self.letters();
        typed
            .iter()
            .all(|typed| {
                letters
                    .next()
                    .is_some_and(|(shown, plain)| *typed == shown || *typed == plain)
            })
            .then(|| letters.next().is_none())
    }
}

fn small(letter: char) -> char {
    letter.to_lowercase().next().unwrap_or(letter)
}

/// Letters and digits alone: spaces, hyphens and points are written in many ways.
fn typed(text: &str) -> Vec<char> {
    let letters = text.chars().filter(|c| c.is_alphanumeric());
    letters.map(small).collect()
}

/// Country, region and zone of the towns that follow.
#[derive(Debug, Clone, Copy)]
struct Head<'t> {
    code: &'t str,
    country: Spelling<'t>,
    region: Spelling<'t>,
    zone: &'t str,
}

impl Head<'_> {
    /// Whether region or country begin so, or the country has this code.
    fn is_meant(&self, typed: &[char]) -> bool {
        self.region.met_by(typed).is_some()
            || self.country.met_by(typed).is_some()
            || Spelling::of(self.code).met_by(typed) == Some(true)
    }
}

/// The towns that a name can mean. Case, accents, spaces and hyphens do not matter. Behind a comma
/// stands a region or a country, or how it begins, or the country's code: `Maryborough, Qu`.
///
/// # Errors
/// `out_of_range` for a name without a letter or above 200 bytes; `bad_table` for a list of another
/// form.
///
/// ```
/// use apiary_almanac::towns::find;
/// let list = "|AU|Australia|Queensland|Australia/Brisbane\nGympie|-2619|15266|224\n";
/// let found = find(list, "gym")?;
/// assert_eq!(found.towns[0].name, "Gympie");
/// assert_eq!(found.towns[0].site.zone.name(), "Australia/Brisbane");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn find(list: &str, name: &str) -> Result<FoundTowns, Error> {
    let mut parts = name.split(',').map(typed).filter(|part| !part.is_empty());
    let town = parts.next().filter(|_| name.len() <= LONGEST_NAME);
    let town = town.ok_or_else(|| {
        let allowed = format!("the name of a town, up to {LONGEST_NAME} bytes");
        Error::out_of_range("name", clip(name), allowed)
    })?;
    let within: Vec<_> = parts.collect();
    let mut found = Vec::new();
    each(list, |head, name, rest| {
        match name.met_by(&town) {
            Some(whole) if within.iter().all(|part| head.is_meant(part)) => {
                found.push((whole, town_of(head, name, position(rest)?)));
            }
            _ => {}
        }
        Some(())
    })?;
    let found: Result<Vec<_>, Error> = found
        .into_iter()
        .map(|(whole, town)| Ok((whole, town?)))
        .collect();
    let mut found = found?;
    if found.iter().any(|(whole, _)| *whole) {
        found.retain(|(whole, _)| *whole);
    }
    found.sort_by(|(_, a), (_, b)| b.people.total_cmp(&a.people));
    let more = found.len().saturating_sub(MOST_TOWNS);
    found.truncate(MOST_TOWNS);
    let towns = found.into_iter().map(|(_, town)| town).collect();
    Ok(FoundTowns { towns, more })
}

/// The towns around a place, for those who know where a hive stands and not its zone.
///
/// # Errors
/// `out_of_range` for coordinates that are none; `bad_table` for a list of another form.
///
/// ```
/// use apiary_almanac::towns::near;
/// let list = "|AU|Australia|Queensland|Australia/Brisbane\nGympie|-2619|15266|224\n";
/// let found = near(list, -26.3, 152.7)?;
/// assert_eq!((found.towns[0].name.as_str(), found.zone.as_deref()), ("Gympie", Some("Australia/Brisbane")));
/// assert!((12.0..14.0).contains(&found.distances_km[0]));
/// assert_eq!(near(list, -28.81, 153.28)?.zone, None);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn near(list: &str, latitude_deg: f64, longitude_deg: f64) -> Result<NearTowns, Error> {
    let here = (
        Latitude::new(latitude_deg)?.get(),
        Longitude::new(longitude_deg)?.get(),
    );
    let mut found = Vec::new();
    each(list, |head, name, rest| {
        let at = position(rest)?;
        let km = apart_km(here, (at.north, at.east));
        if km <= NEAR_KM {
            found.push((km, town_of(head, name, at)));
        }
        Some(())
    })?;
    found.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    let more = found.len().saturating_sub(MOST_TOWNS);
    let (distances_km, towns): (Vec<_>, Vec<_>) = found.into_iter().unzip();
    let mut towns: Vec<Town> = towns.into_iter().collect::<Result<_, _>>()?;
    let zone = towns.first().map(|town| town.site.zone);
    let zone = zone.filter(|zone| towns.iter().all(|town| town.site.zone == *zone));
    towns.truncate(MOST_TOWNS);
    Ok(NearTowns {
        distances_km: distances_km.into_iter().take(MOST_TOWNS).collect(),
        towns,
        more,
        zone: zone.map(|zone| zone.name().to_owned()),
    })
}

/// Along the great circle of a globe of the mean radius (6371.0088 km, Moritz 2000, Journal of Geodesy
/// 74:128, from memory), by the haversine formula.
fn apart_km(one: (f64, f64), other: (f64, f64)) -> f64 {
    const EARTH_KM: f64 = 6371.0088;
    let (north, other_north) = (one.0.to_radians(), other.0.to_radians());
    let up = ((other_north - north) / 2.0).sin().powi(2);
    let across = ((other.1 - one.1).to_radians() / 2.0).sin().powi(2);
    let half = up + north.cos() * other_north.cos() * across;
    2.0 * EARTH_KM * half.sqrt().min(1.0).asin()
}

/// The one town that a name means.
///
/// # Errors
/// As [`find`]; `unknown_name` where there is none, `inconsistent` with the choices where there are
/// several.
///
/// ```
/// use apiary_almanac::towns::one;
/// let list = "|AU|Australia|Queensland|Australia/Brisbane\nMaryborough|-2554|15270|277\n\
///             |AU|Australia|Victoria|Australia/Melbourne\nMaryborough|-3705|14374|79\n";
/// // There are two: the answer names them.
/// let error = one(list, "Maryborough").unwrap_err();
/// assert!(error.code() == "inconsistent" && error.to_string().contains("Victoria"));
/// assert_eq!(one(list, "Maryborough, Qu")?.site.latitude_deg.get(), -25.54);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn one(list: &str, name: &str) -> Result<Town, Error> {
    let FoundTowns { mut towns, more } = find(list, name)?;
    match (towns.pop(), towns.as_slice()) {
        (None, _) => Err(Error::UnknownName {
            field: "town".to_owned(),
            given: name.to_owned(),
            allowed: KNOWN.to_owned(),
        }),
        (Some(town), []) => Ok(town),
        (Some(last), others) => {
            let all = others.iter().chain([&last]);
            let mut choices: Vec<_> = all.map(Town::described).collect();
            if more > 0 {
                choices.push(format!("{more} more"));
            }
            Err(Error::Inconsistent {
                field: "town".to_owned(),
                problem: format!(
                    "{name:?} can be {}. Add the region or the country behind a comma, or give coordinates",
                    choices.join("; ")
                ),
            })
        }
    }
}

impl Town {
    /// Name, region, country, coordinates.
    fn described(&self) -> String {
        let names = [&self.name, &self.region, &self.country].map(String::as_str);
        let names: Vec<_> = names.into_iter().filter(|name| !name.is_empty()).collect();
        let (north, east) = (self.site.latitude_deg.get(), self.site.longitude_deg.get());
        format!("{} ({north}, {east})", names.join(", "))
    }
}

fn head_of(text: &str) -> Option<Head<'_>> {
    let cells: Vec<_> = text.split('|').collect();
    let [code, country, region, zone] = *cells else {
        return None;
    };
    let (country, region) = (Spelling::of(country), Spelling::of(region));
    Some(Head {
        code,
        country,
        region,
        zone,
    })
}

/// Goes through the towns of a list; `town` gets country and zone, the name, and what stands behind it. It
/// gives `None` for a line of another form.
fn each<'t>(
    list: &'t str,
    mut town: impl FnMut(&Head<'t>, Spelling<'t>, &'t str) -> Option<()>,
) -> Result<(), Error> {
    let mut head = None;
    for (line, text) in (1..).zip(list.lines()) {
        if let Some(text) = text.strip_prefix('|') {
            head = Some(head_of(text).ok_or_else(|| bad(line))?);
            continue;
        }
        let (name, rest) = text.split_once('|').ok_or_else(|| bad(line))?;
        let head = head.as_ref().ok_or_else(|| bad(line))?;
        town(head, Spelling::of(name), rest).ok_or_else(|| bad(line))?;
    }
    Ok(())
}

/// Where a town is, and how many people live there.
#[derive(Debug, Clone, Copy)]
struct Position {
    north: f64,
    east: f64,
    people: f64,
}

/// `None` for a line of another form.
fn position(rest: &str) -> Option<Position> {
    let cells: Vec<_> = rest.split('|').collect();
    let [north, east, hundreds] = *cells else {
        return None;
    };
    let number = |text: &str| text.parse::<i32>().ok().map(f64::from);
    Some(Position {
        north: number(north)? / 100.0,
        east: number(east)? / 100.0,
        people: number(hundreds)? * 100.0,
    })
}

/// An error for a place that cannot be.
fn town_of(head: &Head<'_>, name: Spelling<'_>, at: Position) -> Result<Town, Error> {
    Ok(Town {
        name: name.shown.to_owned(),
        region: head.region.shown.to_owned(),
        country: head.country.shown.to_owned(),
        country_code: head.code.to_owned(),
        people: at.people,
        site: place::site(at.north, at.east, None, head.zone)?,
    })
}

fn bad(line: u32) -> Error {
    Error::BadTable {
        file: "list".to_owned(),
        problem: format!(
            "line {line} is neither `|code|country|region|zone` nor `town|north|east|hundreds of people`, \
             or has nothing before it that names its country"
        ),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const LIST: &str = "|AU|Australia|Queensland|Australia/Brisbane\nGympie|-2619|15266|224\n\
        Maryborough|-2554|15270|275\n|AU|Australia|Victoria|Australia/Melbourne\n\
        Maryborough|-3705|14374|78\n|BR|Brazil|São Paulo=Sao Paulo|America/Sao_Paulo\n\
        São José dos Campos=Sao Jose dos Campos|-2318|-4589|6937\nSão José do Rio Preto=Sao Jose do Rio Preto|-2082|-4938|4801\n";

    fn names(name: &str) -> Vec<String> {
        let found = find(LIST, name).unwrap().towns;
        found
            .into_iter()
            .map(|town| format!("{}, {}", town.name, town.region))
            .collect()
    }

    #[test]
    fn case_accents_spaces_and_beginnings_do_not_matter() {
        for name in [
            "gympie",
            "GYM",
            "Gympie, queensland",
            "gympie,au",
            "Gympie, Australia",
        ] {
            assert_eq!(names(name), ["Gympie, Queensland"], "{name}");
        }
        for name in [
            "São José dos Campos",
            "sao jose dos campos",
            "SÃO JOSE DOS CAMPOS",
            "Sao-Jose dos C",
            "são josé, sao paulo",
        ] {
            assert_eq!(names(name)[0], "São José dos Campos, São Paulo", "{name}");
        }
        assert_eq!(names("sao jose").len(), 2);
        assert!(names("Gympie, Victoria").is_empty() && names("Maryborough, A").len() == 2);
    }

    #[test]
    fn towns_around_a_place_share_a_zone_or_it_is_not_said() {
        // Both sides of a border, within a kilometre of each other.
        let list = "|AU|Australia|Queensland|Australia/Brisbane\nCoolangatta|-2817|15354|59\n\
            |AU|Australia|New South Wales|Australia/Sydney\nTweed Heads|-2818|15354|338\nMurwillumbah|-2833|15339|91\n";
        let border = near(list, -28.175, 153.54).unwrap();
        assert_eq!((border.towns.len(), border.zone), (3, None));
        let inland = near(list, -28.7, 153.2).unwrap();
        assert_eq!(inland.towns[0].name, "Murwillumbah");
        assert_eq!(inland.zone.as_deref(), Some("Australia/Sydney"));
        assert!(inland.distances_km.is_sorted() && inland.distances_km[0] < NEAR_KM);
        // A degree of the meridian is 111.2 km on a globe of this radius.
        assert!((apart_km((0.0, 0.0), (1.0, 0.0)) - 111.195).abs() < 0.01);
        assert!((apart_km((0.0, 179.5), (0.0, -179.5)) - 111.195).abs() < 0.01);
        assert_eq!(near(list, 91.0, 0.0).unwrap_err().code(), "out_of_range");
        assert_eq!(near("<html>", 0.0, 0.0).unwrap_err().code(), "bad_table");
    }

    #[test]
    fn what_can_be_several_towns_is_asked_with_their_regions() {
        assert_eq!(
            names("Maryborough"),
            ["Maryborough, Queensland", "Maryborough, Victoria"]
        );
        let several = one(LIST, "maryborough").unwrap_err();
        assert_eq!((several.code(), several.field()), ("inconsistent", "town"));
        for words in [
            "Maryborough, Queensland, Australia (-25.54, 152.7)",
            "Victoria",
            "behind a comma",
        ] {
            assert!(several.to_string().contains(words), "{several}");
        }
        let town = one(LIST, "Maryborough, Vic").unwrap();
        assert_eq!(
            (town.site.zone.name(), town.people),
            ("Australia/Melbourne", 7800.0)
        );
        assert!(town.site.elevation_from_land);
        let none = one(LIST, "Nowhereville").unwrap_err();
        assert_eq!(none.code(), "unknown_name");
        for name in ["", " , ", &"a".repeat(201)] {
            assert_eq!(find(LIST, name).unwrap_err().code(), "out_of_range");
        }
    }

    #[test]
    fn a_list_of_another_form_is_refused_by_line() {
        for (list, line) in [
            ("Gympie|-2619|15266|224", "line 1"),
            ("|AU|Australia|Queensland", "line 1"),
            (
                "|AU|Australia||Australia/Brisbane\nGympie|-2619|15266",
                "line 2",
            ),
            (
                "|AU|Australia||Australia/Brisbane\nGympie|-2619|east|2",
                "line 2",
            ),
            ("<html>", "line 1"),
        ] {
            let error = find(list, "gympie").unwrap_err();
            assert_eq!(error.code(), "bad_table");
            assert!(error.to_string().contains(line), "{error}");
        }
        let slipped = LIST.replace("15266", "-15266");
        assert_eq!(find(&slipped, "gympie").unwrap_err().code(), "inconsistent");
    }

    proptest! {
        #[test]
        fn any_list_and_name_are_answered(list in any::<String>(), name in any::<String>()) {
            let _ = find(&list, &name);
            let _ = one(&format!("{LIST}{list}"), &name);
        }
    }

    /// Every town of the list has a place that is not refused; some against coordinates of the
    /// cities that the zones of the IANA database are named after (zone.tab, public domain).
    #[cfg(feature = "towns")]
    #[test]
    fn the_list_of_the_package_is_whole() {
        for (name, zone, north, east) in [
            ("Brisbane", "Australia/Brisbane", -27.467, 153.033),
            ("São Paulo", "America/Sao_Paulo", -23.533, -46.617),
            ("Nairobi", "Africa/Nairobi", -1.283, 36.817),
            ("Mérida, Yucatán", "America/Merida", 20.967, -89.617),
            ("Kuching", "Asia/Kuching", 1.55, 110.333),
            ("Kolkata", "Asia/Kolkata", 22.533, 88.367),
        ] {
            let town = find(TOWNS, name).unwrap().towns.swap_remove(0);
            assert_eq!(town.site.zone.name(), zone);
            assert!((town.site.latitude_deg.get() - north).abs() < 0.2, "{name}");
            assert!((town.site.longitude_deg.get() - east).abs() < 0.2, "{name}");
        }
        let mut count = 0;
        each(TOWNS, |head, name, rest| {
            let town = town_of(head, name, position(rest)?);
            assert!(town.is_ok(), "{rest}: {town:?}");
            assert!(town.unwrap().site.latitude_deg.get().abs() <= 40.0);
            count += 1;
            Some(())
        })
        .unwrap();
        assert!(count > 50_000);
    }
}
