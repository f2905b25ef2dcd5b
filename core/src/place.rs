//! Whether a place can be meant: its height, its zone and its coordinates against the land. The one
//! check for every request that has a site.

use std::borrow::Cow;

use chrono_tz::Tz;
use serde::Serialize;

use crate::climate::grid;
use crate::error::Error;
use crate::reason::{Reason, say};
use crate::site::{Latitude, Longitude, Site, zone_by_name};
use crate::wire::{FromNode, Node};
use crate::zone;

/// How far from 12:00 the clocks of a zone may show mean solar noon, h. The widest that people live by
/// is about 3.2 h, at the western end of China; a slipped sign is farther off nearly everywhere.
pub const FARTHEST_NOON_H: f64 = 3.4;
/// From here on the zone is questioned, h.
pub const ODD_NOON_H: f64 = 2.5;
/// How far the height may be from that of the land around without being questioned, m. Three times
/// what weather stations differ by where the land lies below 1000 m.
pub const ODD_HEIGHT_M: f64 = 600.0;

/// The codes of [`doubts`].
pub const DOUBTS: [&str; 7] = [
    "zone_far_off",
    "zero_coordinates",
    "longitude_from_360",
    "at_sea",
    "elevation_of_the_land",
    "no_elevation",
    "elevation_far_off",
];

/// Where a place lies, as the built-in grid knows it. The numbers are the bytes of the columns of
/// tables that are called `place`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, FromNode)]
#[serde(rename_all = "snake_case")]
#[repr(u8)]
pub enum PlaceState {
    /// On land.
    OnLand = 0,
    /// In a square degree that is nearly all sea, with land within about half a degree.
    NearLand = 1,
    /// Farther from land: temperatures are those of the latitude alone.
    AtSea = 2,
    /// More than 45° from the equator: the grid does not reach there, and temperatures are those of
    /// the latitude alone.
    BeyondTheGrid = 3,
}

/// A place, and what is doubtful about it.
#[derive(Debug, Clone, PartialEq, Serialize, FromNode)]
pub struct CheckedPlace {
    /// The site with every field written out.
    pub site: Site,
    /// Land or sea.
    pub state: PlaceState,
    /// Mean height of the land within about a degree, m, where there is land.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub land_elevation_m: Option<f64>,
    /// How far from 12:00 the clocks of the zone show mean solar noon, h; later is positive.
    pub noon_off_h: f64,
    /// What to look at again.
    pub doubts: Vec<Reason>,
}

/// Where a place lies.
///
/// ```
/// use apiary_almanac::place::{PlaceState, state};
/// assert_eq!(state(-28.81, 153.28), PlaceState::OnLand);
/// assert_eq!(state(0.0, 0.0), PlaceState::AtSea);
/// ```
pub fn state(latitude_deg: f64, longitude_deg: f64) -> PlaceState {
    match grid::at(latitude_deg, longitude_deg, None) {
        Some(point) if point.on_land => PlaceState::OnLand,
        Some(_) => PlaceState::NearLand,
        None if latitude_deg.abs() > FARTHEST_GRID_DEG => PlaceState::BeyondTheGrid,
        None => PlaceState::AtSea,
    }
}

/// The grid ends here, ° from the equator.
const FARTHEST_GRID_DEG: f64 = 45.0;

/// A site from what a keeper knows of it. Without a height that of the land around is taken, at sea 0 m;
/// a longitude of 180 to 360 is counted on from −180. Both are said in [`doubts`].
///
/// # Errors
/// As [`Site::new`], and `inconsistent` for a zone whose clocks show mean solar noon more than 3.4 h from
/// 12:00.
///
/// ```
/// use apiary_almanac::place::{doubts, site};
/// let lismore = site(-28.81, 153.28, None, "Australia/Sydney")?;
/// assert!(lismore.elevation_from_land && (50.0..250.0).contains(&lismore.elevation_m.get()));
/// assert_eq!(doubts(&lismore)[0].code, "elevation_of_the_land");
/// // The sign of the longitude is wrong.
/// assert_eq!(site(-28.81, -153.28, None, "Australia/Sydney").unwrap_err().code(), "inconsistent");
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn site(
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: Option<f64>,
    zone: &str,
) -> Result<Site, Error> {
    let zone_name = zone;
    let is_far_east = longitude_deg > 180.0 && longitude_deg <= 360.0;
    let longitude = if is_far_east {
        longitude_deg - 360.0
    } else {
        longitude_deg
    };
    let (latitude, longitude) = (Latitude::new(latitude_deg)?, Longitude::new(longitude)?);
    let elevation = match elevation_m {
        Some(given) => given,
        None => land_elevation_m(latitude.get(), longitude.get()),
    };
    let mut site = Site::new(latitude.get(), longitude.get(), elevation, zone_name)?;
    site.elevation_from_land = elevation_m.is_none();
    site.longitude_from_360 = is_far_east;
    check_noon(longitude.get(), site.zone)?;
    Ok(site)
}

fn land_elevation_m(latitude_deg: f64, longitude_deg: f64) -> f64 {
    let land = grid::at(latitude_deg, longitude_deg, None).map(|point| point.cell_elevation_m);
    land.map_or(0.0, |m| m.round().clamp(-500.0, 9000.0))
}

/// How far from 12:00 the clocks of a zone show mean solar noon, h, later being positive: by its standard
/// time of 2026.
///
/// ```
/// use apiary_almanac::{place::noon_off_h, site::zone_by_name};
/// // Brisbane's own meridian is 150° E: three degrees farther east the sun is 12 minutes early.
/// assert!((noon_off_h(153.0, zone_by_name("Australia/Brisbane")?) + 0.2).abs() < 1e-9);
/// // Galicia keeps the time of Berlin.
/// assert!(noon_off_h(-8.5, zone_by_name("Europe/Madrid")?) > 1.5);
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn noon_off_h(longitude_deg: f64, zone: Tz) -> f64 {
    // New year and the first of July: one of them is not in daylight saving time.
    const MOMENTS: [i64; 2] = [1_767_225_600, 1_782_864_000];
    let [january, july] = MOMENTS.map(|unix_s| zone::shown(zone, unix_s));
    let standard = if january.daylight { july } else { january };
    // In degrees, so that a longitude just at the bound is within it.
    let meridian_deg = f64::from(standard.offset_s) / 240.0;
    ((meridian_deg - longitude_deg + 180.0).rem_euclid(360.0) - 180.0) / 15.0
}

/// UTC is a count of time, not the zone of a place: programs may ask in it anywhere.
fn is_utc(zone: Tz) -> bool {
    matches!(
        zone.name(),
        "UTC" | "Etc/UTC" | "UCT" | "Etc/UCT" | "Zulu" | "Etc/Zulu" | "Universal" | "Etc/Universal"
    )
}

fn check_noon(longitude_deg: f64, zone: Tz) -> Result<(), Error> {
    let off_h = noon_off_h(longitude_deg, zone);
    if off_h.abs() <= FARTHEST_NOON_H || is_utc(zone) {
        return Ok(());
    }
    Err(Error::Inconsistent {
        field: "longitude_deg, zone".to_owned(),
        problem: format!(
            "at longitude {longitude_deg} the clocks of {} show {} at solar noon; allowed is 12:00 ± \
             {FARTHEST_NOON_H} h. Look at the sign of the longitude (east is positive) and at the zone",
            zone.name(),
            clock(off_h)
        ),
    })
}

/// The clock time of mean solar noon.
fn clock(off_h: f64) -> String {
    let minutes = ((12.0 + off_h).rem_euclid(24.0) * 60.0).round() as u32 % 1440;
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// What to look at again in a site, the gravest first. Nothing for most.
///
/// ```
/// use apiary_almanac::place::{doubts, site};
/// // Two zeros usually are an empty form.
/// let nowhere = site(0.0, 0.0, Some(0.0), "Etc/UTC")?;
/// assert!(doubts(&nowhere).iter().any(|doubt| doubt.code == "zero_coordinates"));
/// let lismore = site(-28.81, 153.28, Some(12.0), "Australia/Sydney")?;
/// assert!(doubts(&lismore).is_empty());
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn doubts(site: &Site) -> Vec<Reason> {
    [doubts_of_position(site), doubts_of_land(site)].concat()
}

/// Of the [`doubts`] of a site those of its coordinates and its zone: the sun knows neither land nor
/// height.
pub(crate) fn doubts_of_position(site: &Site) -> Vec<Reason> {
    let (latitude, longitude) = (site.latitude_deg.get(), site.longitude_deg.get());
    let mut doubts = Vec::new();
    let off_h = noon_off_h(longitude, site.zone);
    if off_h.abs() > ODD_NOON_H {
        doubts.push(say::zone_far_off(site.zone.name(), &clock(off_h)));
    }
    if latitude == 0.0 && longitude == 0.0 {
        doubts.push(say::zero_coordinates());
    }
    if site.longitude_from_360 {
        doubts.push(say::longitude_from_360(longitude));
    }
    doubts
}

fn doubts_of_land(site: &Site) -> Vec<Reason> {
    let (latitude, longitude) = (site.latitude_deg.get(), site.longitude_deg.get());
    let mut doubts = Vec::new();
    match state(latitude, longitude) {
        PlaceState::AtSea => doubts.push(say::at_sea()),
        PlaceState::OnLand | PlaceState::NearLand | PlaceState::BeyondTheGrid => {}
    }
    let elevation_m = site.elevation_m.get();
    let land = grid::at(latitude, longitude, None).map(|point| point.cell_elevation_m);
    match land {
        Some(land_m) if site.elevation_from_land => {
            let error_m = grid::height_error_m(land_m);
            doubts.push(say::elevation_of_the_land(elevation_m, error_m.round()));
        }
        None if site.elevation_from_land => doubts.push(say::no_elevation()),
        Some(land_m) if (elevation_m - land_m).abs() > ODD_HEIGHT_M => {
            doubts.push(say::elevation_far_off(elevation_m, land_m.round()));
        }
        _ => {}
    }
    doubts
}

/// Everything that is known of a place.
///
/// ```
/// use apiary_almanac::place::{PlaceState, check, site};
/// // Feet were given for metres: 2 000 ft of a hill.
/// let checked = check(&site(-28.81, 153.28, Some(2000.0), "Australia/Sydney")?);
/// assert_eq!(checked.state, PlaceState::OnLand);
/// assert_eq!(checked.doubts[0].code, "elevation_far_off");
/// assert!(checked.land_elevation_m < Some(300.0));
/// # Ok::<(), apiary_almanac::Error>(())
/// ```
pub fn check(site: &Site) -> CheckedPlace {
    let (latitude, longitude) = (site.latitude_deg.get(), site.longitude_deg.get());
    let land = grid::at(latitude, longitude, None);
    CheckedPlace {
        site: *site,
        state: state(latitude, longitude),
        land_elevation_m: land.map(|point| point.cell_elevation_m),
        noon_off_h: noon_off_h(longitude, site.zone),
        doubts: doubts(site),
    }
}

/// Completes and checks the site of a request, or of the plans in it. What cannot be read is left to the
/// reader of the request, which names it.
pub(crate) fn complete(request: &mut Node<'_>) -> Result<(), Error> {
    let Node::Object(fields) = request else {
        return Ok(());
    };
    for (key, node) in fields {
        match (&**key, node) {
            ("site", Node::Object(site)) => complete_site(site)?,
            ("plan", plan @ Node::Object(_)) => complete(plan)?,
            ("plans", Node::List(plans)) => {
                for (n, plan) in plans.iter_mut().enumerate() {
                    complete(plan).map_err(|error| error.within(&format!("plans[{n}]")))?;
                }
            }
            _ => {}
        }
    }
    Ok(())
}

fn complete_site<'t>(site: &mut Vec<(Cow<'t, str>, Node<'t>)>) -> Result<(), Error> {
    let number = |site: &[(Cow<'_, str>, Node<'_>)], name: &str| {
        let (_, node) = site.iter().find(|(key, _)| key == name)?;
        f64::from_node(node).ok()
    };
    let (latitude, longitude) = (number(site, "latitude_deg"), number(site, "longitude_deg"));
    let mut said = Vec::new();
    let longitude = match longitude {
        Some(far_east) if far_east > 180.0 && far_east <= 360.0 => {
            let west = far_east - 360.0;
            for (key, node) in site.iter_mut() {
                if key == "longitude_deg" {
                    *node = Node::Float(west);
                }
            }
            said.push("longitude_from_360");
            Some(west)
        }
        other => other,
    };
    let has_elevation = site
        .iter()
        .any(|(key, node)| key == "elevation_m" && !matches!(node, Node::Null));
    if !has_elevation {
        let land = latitude
            .zip(longitude)
            .map_or(0.0, |(latitude, longitude)| {
                land_elevation_m(latitude, longitude)
            });
        site.retain(|(key, _)| key != "elevation_m");
        site.push((Cow::Borrowed("elevation_m"), Node::Float(land)));
        said.push("elevation_from_land");
    }
    for name in said {
        match site.iter_mut().find(|(key, _)| key == name) {
            // Who asks cannot deny it.
            Some((_, node @ Node::Bool(_))) => *node = Node::Bool(true),
            Some(_) => {}
            None => site.push((Cow::Borrowed(name), Node::Bool(true))),
        }
    }
    let zone = site.iter().find_map(|(key, node)| match node {
        Node::Text(zone) if key == "zone" => zone_by_name(zone).ok(),
        _ => None,
    });
    match longitude.zip(zone) {
        Some((longitude, zone)) if longitude.abs() <= 180.0 => check_noon(longitude, zone),
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use chrono::DateTime;

    use super::*;
    use crate::ask;

    fn codes(site: &Site) -> Vec<String> {
        let codes: Vec<_> = doubts(site)
            .into_iter()
            .map(|doubt| doubt.code.into_owned())
            .collect();
        assert!(codes.iter().all(|code| DOUBTS.contains(&code.as_str())));
        codes
    }

    #[test]
    fn ordinary_places_have_no_doubts() {
        for (latitude, longitude, elevation, zone) in [
            (-28.81, 153.28, 12.0, "Australia/Sydney"),
            (-23.5, -46.6, 760.0, "America/Sao_Paulo"),
            (14.6, 121.0, 15.0, "Asia/Manila"),
            (1.9, -157.4, 3.0, "Pacific/Kiritimati"),
            (-1.29, 36.82, 1661.0, "Africa/Nairobi"),
            (52.5, 13.4, 34.0, "Europe/Berlin"),
        ] {
            let site = site(latitude, longitude, Some(elevation), zone).unwrap();
            let found = codes(&site);
            // Kiritimati is too small for the grid.
            assert!(found.is_empty() || found == ["at_sea"], "{zone} {found:?}");
        }
    }

    #[test]
    fn an_elevation_far_off_the_land_is_questioned() {
        let at = |elevation| site(-1.29, 36.82, Some(elevation), "Africa/Nairobi").unwrap();
        assert_eq!(codes(&at(0.0)), ["elevation_far_off"]);
        assert!(codes(&at(1661.0)).is_empty());
    }

    /// Kashgar lives by the clocks of Beijing, 3 h off (from memory); no town's noon is farther off.
    #[test]
    fn zones_far_off_are_questioned_and_impossible_ones_refused() {
        let off = |longitude: f64, zone: &str| {
            (noon_off_h(longitude, zone.parse().unwrap()) * 100.0).round() / 100.0
        };
        assert_eq!(off(120.0, "Asia/Shanghai"), 0.0);
        assert_eq!(off(76.0, "Asia/Shanghai"), 2.93);
        assert_eq!(off(150.0, "Australia/Sydney"), 0.0);
        assert_eq!(off(-157.5, "Pacific/Kiritimati"), 0.5);
        let kashgar = site(39.47, 75.99, Some(1290.0), "Asia/Shanghai").unwrap();
        assert!(codes(&kashgar).contains(&"zone_far_off".to_owned()));
        for (longitude, zone) in [
            (-153.28, "Australia/Sydney"),
            (153.28, "America/Sao_Paulo"),
            (153.28, "Etc/GMT+10"),
            (46.6, "America/Sao_Paulo"),
        ] {
            let error = site(-28.81, longitude, Some(12.0), zone).unwrap_err();
            assert_eq!(
                (error.code(), error.field()),
                ("inconsistent", "longitude_deg, zone")
            );
        }
        // Just at the bound: 120° ± 3.4 h of 15° each.
        for longitude in [69.0, 171.0] {
            assert!(site(14.6, longitude, Some(12.0), "Asia/Manila").is_ok());
        }
        // UTC is asked in by programs: doubtful, but allowed.
        let utc = site(-28.81, 153.28, Some(12.0), "UTC").unwrap();
        assert_eq!(codes(&utc), ["zone_far_off"]);
    }

    #[test]
    fn without_a_height_that_of_the_land_is_taken_and_said() {
        let found = site(-1.29, 36.82, None, "Africa/Nairobi").unwrap();
        assert!((1000.0..2200.0).contains(&found.elevation_m.get()));
        assert_eq!(codes(&found), ["elevation_of_the_land"]);
        let given = site(
            -1.29,
            36.82,
            Some(found.elevation_m.get()),
            "Africa/Nairobi",
        )
        .unwrap();
        let error = |site: &Site| {
            let basis = crate::Climate::from_location(site).basis();
            (
                basis[0].typical_error_c.unwrap(),
                basis[0].p95_error_c.unwrap(),
            )
        };
        let ((wide, wide_95), (narrow, narrow_95)) = (error(&found), error(&given));
        assert!(
            wide > narrow + 0.5 && wide_95 > narrow_95 + 1.0,
            "{wide} {narrow}"
        );
        let sea_level = site(-1.29, 36.82, Some(0.0), "Africa/Nairobi").unwrap();
        assert_eq!(codes(&sea_level), ["elevation_far_off"]);
    }

    #[test]
    fn the_sea_zero_and_longitudes_beyond_180_are_said() {
        let zero = site(0.0, 0.0, None, "Africa/Accra").unwrap();
        assert_eq!(codes(&zero), ["zero_coordinates", "at_sea", "no_elevation"]);
        let honolulu = site(21.3, 202.1, Some(20.0), "Pacific/Honolulu").unwrap();
        assert!((honolulu.longitude_deg.get() + 157.9).abs() < 1e-9);
        assert_eq!(codes(&honolulu), ["longitude_from_360"]);
        assert_eq!(state(-28.81, 165.0), PlaceState::AtSea);
        assert_eq!(state(60.0, 10.0), PlaceState::BeyondTheGrid);
    }

    /// Every answer that rests on a place carries what is doubtful of it, the sun only what it knows.
    #[test]
    fn doubts_stand_in_every_answer() {
        let asked = |site: &str, name: &str, more: &str| -> Vec<String> {
            let request = format!(r#"{{"ask": "{name}", "site": {{{site}}}, {more}}}"#);
            let answer: serde_json::Value = serde_json::from_str(&ask(&request).unwrap()).unwrap();
            let rows = answer.as_array().cloned().unwrap_or_else(|| vec![answer]);
            let doubts = |row: &serde_json::Value| -> Vec<String> {
                let doubts = row["doubts"].as_array().cloned().unwrap_or_default();
                let code = |doubt: serde_json::Value| doubt["code"].as_str().unwrap().to_owned();
                doubts.into_iter().map(code).collect()
            };
            let first = doubts(&rows[0]);
            assert!(rows.iter().all(|row| doubts(row) == first), "{name}");
            first
        };
        let days = r#""first": "2026-07-01", "last": "2026-07-03""#;
        let wait = r#""after": "2026-07-01", "wait": {"unit": "days", "earliest": 3, "likely": 4, "latest": 5, "source": "invented"}"#;
        let known = r#""first": "2026-07-01", "last": "2026-07-03", "climate": {"normals_paste":
            "20 19 19 16 13 10 9 10 13 15 17 19\n29 29 28 26 23 21 21 22 25 27 28 29"}"#;
        let sea = r#""latitude_deg": -28.81, "longitude_deg": 200, "zone": "UTC""#;
        let town = r#""latitude_deg": -27.56, "longitude_deg": 151.95, "elevation_m": 690, "zone":
            "Australia/Brisbane""#;
        let position = ["zone_far_off", "longitude_from_360"];
        let place = [&position[..], &["at_sea", "no_elevation"]].concat();
        for (name, more) in [
            ("season", days),
            ("clock", wait),
            ("year_picture", r#""today": "2026-07-01""#),
        ] {
            assert_eq!(asked(sea, name, more), place, "{name}");
            assert!(asked(town, name, more).is_empty(), "{name}");
        }
        assert_eq!(asked(sea, "sun", days), position);
        let with_weak = [&place[..], &["better_than_latitude"]].concat();
        let mornings = r#""first": "2026-07-01", "days": 3"#;
        for (name, more) in [("flight", days), ("mornings", mornings)] {
            assert_eq!(asked(sea, name, more), with_weak, "{name}");
        }
        // Normals of one's own are not the default.
        assert_eq!(asked(sea, "flight", known), place);
        // High mountains, where the default is weak.
        let mountain = r#""latitude_deg": -13.5, "longitude_deg": -72.0, "elevation_m": 3400, "zone":
            "America/Lima""#;
        assert_eq!(asked(mountain, "flight", days), ["station_would_pay"]);
    }

    #[test]
    fn the_sites_of_several_plans_are_completed_and_checked_too() {
        let asked = |zone: &str| {
            let plan = |id: &str, zone: &str| {
                format!(
                    r#"{{"id": "{id}", "site": {{"latitude_deg": -28.81, "longitude_deg": 153.28, "zone": "{zone}"}},
                         "today": "2026-09-13", "method": "split", "colony": {{"name": "Lantern"}}}}"#
                )
            };
            let plans = [plan("a", "Australia/Sydney"), plan("b", zone)].join(",");
            ask(&format!(r#"{{"ask": "agenda", "plans": [{plans}]}}"#))
        };
        let answer: serde_json::Value =
            serde_json::from_str(&asked("Australia/Sydney").unwrap()).unwrap();
        assert_eq!(answer["colonies"].as_array().unwrap().len(), 2);
        let error = asked("America/Manaus").unwrap_err();
        assert_eq!(error.field(), "plans[1].longitude_deg, zone");
    }

    #[test]
    fn every_request_is_completed_and_checked() {
        let asked = |site: &str| ask(&format!(r#"{{"ask": "site", "site": {{{site}}}}}"#));
        let found =
            asked(r#""latitude_deg": 19.7, "longitude_deg": 204.9, "zone": "Pacific/Honolulu""#);
        let found: Site = crate::wire::from_json("site", &found.unwrap()).unwrap();
        assert!(found.elevation_from_land && found.longitude_from_360);
        assert_eq!(found, site(19.7, 204.9, None, "Pacific/Honolulu").unwrap());
        let denied = asked(
            r#""latitude_deg": 19.7, "longitude_deg": 204.9, "zone": "Pacific/Honolulu",
               "elevation_from_land": false, "longitude_from_360": false"#,
        );
        let denied: Site = crate::wire::from_json("site", &denied.unwrap()).unwrap();
        assert_eq!(denied, found);
        for (text, code, field) in [
            (
                r#""latitude_deg": -28.8, "longitude_deg": -153.3, "zone": "Australia/Sydney""#,
                "inconsistent",
                "longitude_deg, zone",
            ),
            (
                r#""latitude_deg": -98.8, "longitude_deg": 153.3, "zone": "Australia/Sydney""#,
                "out_of_range",
                "latitude_deg",
            ),
            (
                r#""latitude_deg": -28.8, "longitude_deg": 360.5, "zone": "Australia/Sydney""#,
                "out_of_range",
                "longitude_deg",
            ),
            (
                r#""latitude_deg": -28.8, "longitude_deg": "x", "zone": "Australia/Sydney""#,
                "unreadable",
                "site.longitude_deg",
            ),
            (
                r#""latitude_deg": -28.8, "longitude_deg": 153.3, "zone": "Sydney""#,
                "unknown_zone",
                "zone",
            ),
        ] {
            let error = asked(text).unwrap_err();
            assert_eq!((error.code(), error.field()), (code, field), "{text}");
        }
    }

    #[test]
    fn the_site_of_a_plan_in_a_request_is_checked_too() {
        let asked = |site: &str| {
            ask(&format!(
                r#"{{"ask": "why_not", "task": "divide", "date": "2026-02-01", "plan": {{"site": {{{site}}},
                    "today": "2026-03-01", "method": "split", "colony": {{"name": "Hive 7"}}}}}}"#
            ))
        };
        assert!(
            asked(r#""latitude_deg": 1.35, "longitude_deg": 103.8, "zone": "Asia/Singapore""#)
                .is_ok()
        );
        let slipped =
            asked(r#""latitude_deg": 1.35, "longitude_deg": -103.8, "zone": "Asia/Singapore""#);
        assert_eq!(slipped.unwrap_err().field(), "longitude_deg, zone");
    }

    #[test]
    fn no_zone_of_today_is_refused_at_its_own_meridian() {
        for zone in chrono_tz::TZ_VARIANTS {
            let longitude = 15.0 * noon_off_h(0.0, zone);
            assert!(check_noon(longitude, zone).is_ok(), "{zone}");
        }
        let now = DateTime::from_timestamp(1_782_864_000, 0).unwrap();
        assert_eq!(now.to_rfc3339(), "2026-07-01T00:00:00+00:00");
    }
}
