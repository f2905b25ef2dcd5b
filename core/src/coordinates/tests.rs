use proptest::prelude::*;

use super::*;
use crate::ask;

fn read(text: &str) -> Result<CoordinatesReading, Error> {
    read_coordinates(&CoordinatesRequest::new(text))
}

fn places(text: &str) -> Vec<(f64, f64)> {
    let reading = read(text).unwrap_or_else(|error| panic!("{text:?}: {error}"));
    let positions = reading.positions.iter();
    positions
        .map(|one| (one.latitude_deg, one.longitude_deg))
        .collect()
}

fn code_of(text: &str) -> String {
    let question = read(text).unwrap().question;
    question.map_or_else(String::new, |question| question.code.into_owned())
}

#[test]
fn one_place_in_the_ways_in_which_people_write_it() {
    for text in [
        "-28.81, 153.28",
        "-28.81,153.28",
        "-28.81 153.28",
        "−28.81; 153.28",
        "- 28.81 + 153.28",
        "-28.81/153.28",
        "-28.81\n153.28",
        "28.81 S 153.28 E",
        "28.81S,153.28E",
        "28.81S153.28E",
        "S28.81 E153.28",
        "S28.81E153.28",
        "153.28 E, 28.81 S",
        "E 153.28 S 28.81",
        "28.81, S, 153.28, E",
        "28.81° S, 153.28° E",
        "-28.81° 153.28°",
        "-28.81º, 153.28º",
        "28.81 deg S, 153.28 deg E",
        "28°48'36\"S 153°16'48\"E",
        "28°48’36”S 153°16’48”E",
        "28°48'36''S, 153°16'48''E",
        "28° 48′ 36″ S, 153° 16′ 48″ E",
        "S 28°48.6' E 153°16.8'",
        "28°48,6'S 153°16,8'E",
        "-28°48'36\" 153°16'48\"",
        "28 48 36 S 153 16 48 E",
        "28:48:36 S 153:16:48 E",
        "28 deg 48 min 36 sec S, 153 deg 16 min 48 sec E",
        "-28 48.6, 153 16.8",
        "-28 48.6 153 16.8",
        "-28 48 36 153 16 48",
        "28,81 S; 153,28 E",
        "-28,81; 153,28",
        "-28,81 153,28",
        "-28,81, 153,28",
        "-28,81,153,28",
        "(-28.81, 153.28)",
        "[-28.81, 153.28]",
        "lat: -28.81 lon: 153.28",
        "lat=-28.81, lng=153.28",
        "lon 153.28 lat -28.81",
        "{lat: -28.81, lng: 153.28}",
        "Latitude -28.81, Longitude 153.28",
        "GPS coordinates: -28.81, 153.28",
        "28.81 sul, 153.28 leste",
        "28.81 south 153.28 east",
        "geo:-28.81,153.28",
        "GEO:-28.81,153.28,12;u=5",
        "geo:-28.81,153.28?z=12",
        "geo:0,0?q=-28.81,153.28(School garden)",
        "-28.81+153.28/",
        "-2848.6+15316.8/",
        "-284836+1531648/",
        "https://maps.example/@-28.81,153.28,15z",
        "https://maps.example/place/@-28.81,153.28,15z/view",
        "https://maps.example/?q=-28.81,153.28",
        "https://maps.example/?q=-28.81%2C153.28&z=9",
        "https://maps.example/?q=-28.81%2C+153.28",
        "https://maps.example/?ll=-28.81,153.28&q=loc:-28.81,153.28",
        "http://maps.example/?lat=-28.81&lon=153.28",
        "http://maps.example/?mlat=-28.81&mlon=153.28#map=15/-28.81/153.28",
        "http://maps.example/#map=15/-28.81/153.28",
        "http://maps.example/#15/-28.81/153.28",
        "www.maps.example/#lat=-28.81&lng=153.28",
        "The hives: https://maps.example/@-28.81,153.28,15z",
    ] {
        assert_eq!(places(text), [(-28.81, 153.28)], "{text}");
        assert_eq!(code_of(text), "", "{text}");
    }
    // The other half of the trade's world: west is O in Portuguese, Spanish and French.
    for text in [
        "3°06'S 60°00'O",
        "-3.1, -60",
        "3.1 S 60 W",
        "3,1 S 60 O",
        "-3.1, 300",
    ] {
        assert_eq!(places(text), [(-3.1, -60.0)], "{text}");
    }
}

/// The examples of RFC 5870 (sections 1 and 6) and of ISO 6709 (annex H), from memory.
#[test]
fn the_examples_of_the_standards_are_read() {
    for (text, place, height_m) in [
        ("geo:13.4125,103.8667", (13.4125, 103.8667), None),
        ("geo:48.2010,16.3695,183", (48.201, 16.3695), Some(183.0)),
        (
            "geo:48.198634,16.371648;crs=wgs84;u=40",
            (48.198634, 16.371648),
            None,
        ),
        ("geo:90,-22.43;crs=WGS84", (90.0, -22.43), None),
        ("geo:66,30;u=6.500;FOo=this%2dthat", (66.0, 30.0), None),
        (
            "+27.5916+086.5640+8850CRSWGS_84/",
            (27.5916, 86.564),
            Some(8850.0),
        ),
        (
            "+352139+1384339+3776CRSWGS_84/",
            (35.360833, 138.7275),
            Some(3776.0),
        ),
        ("+40.20361-075.00417CRSWGS_84/", (40.20361, -75.00417), None),
        ("-90+000+2800CRSWGS_84/", (-90.0, 0.0), Some(2800.0)),
        ("+4852+00220/", (48.866667, 2.333333), None),
    ] {
        assert_eq!(places(text), [place], "{text}");
        assert_eq!(read(text).unwrap().height_m, height_m, "{text}");
    }
    // ISO 6709:2008 gives the Great Pyramid of Giza in both ways, +29.97926+031.13423 and so (from memory).
    let (north, east) = places("29°58'45\"N 031°08'03\"E")[0];
    assert!((north - 29.97926).abs() < 1e-4 && (east - 31.13423).abs() < 1e-4);
}

#[test]
fn what_can_be_meant_in_two_ways_is_asked() {
    // Longitude first: it could be nothing else.
    for text in [
        "153.28, -28.81",
        "153,28 -28,81",
        "https://maps.example/?q=153.28,-28.81",
    ] {
        assert_eq!(places(text), [(-28.81, 153.28)], "{text}");
        assert_eq!(code_of(text), "longitude_stands_first", "{text}");
    }
    // Signs are lost on the way: the first stands in the northern Pacific.
    assert_eq!(places("28.81, 153.28"), [(28.81, 153.28), (-28.81, 153.28)]);
    assert_eq!(code_of("28.81, 153.28"), "not_on_land_as_written");
    assert_eq!(places("153.28, 28.81"), [(28.81, 153.28), (-28.81, 153.28)]);
    // Antananarivo, the other way round: more than 45° from the equator as it stands.
    assert_eq!(places("47.5, -18.9"), [(47.5, -18.9), (-18.9, 47.5)]);
    // An address can show one place and name another.
    let two = "https://maps.example/@-28.9,153.3,9z?q=-28.81,153.28";
    assert_eq!(places(two), [(-28.9, 153.3), (-28.81, 153.28)]);
    assert_eq!(code_of(two), "address_of_several_places");
    // What says which is which is not asked: a boat, the far north, where there is no land.
    for text in [
        "28.81 N, 153.28 E",
        "geo:28.81,153.28",
        "-1.29, 36.82",
        "64, -21",
        "0, 0",
        "-28.81, +165",
    ] {
        assert_eq!(
            (places(text).len(), code_of(text)),
            (1, String::new()),
            "{text}"
        );
    }
}

#[test]
fn what_is_no_pair_is_refused_by_name() {
    for (code, field, texts) in [
        (
            "unreadable",
            "text",
            &[
                "",
                "   ",
                "here",
                "12",
                "1 2 3",
                "12 N 13 N",
                "12.5 30 N, 13 E",
                "1,2,3",
                "12 N",
                "-28.81; abc",
                "N S",
                "٣, ٤",
                "-28.81 S, 153.28 E",
                "lat 12 E, 13",
                "1 2 3 4 5 6 7 8",
                "12 N S, 13",
                "--12, 13",
                "12, -",
                "28' 12, 13",
                ".5, 12",
                "geo:",
                "geo:12",
                "geo:12,13;crs=other",
                "geo:0,0?q=garden",
                "geo:1,2,3,4",
                "+12+13/",
                "+1299+01300/",
                "-28.81+153.28+1+2/",
                "-28.81+153.28CRSother/",
                "https://maps.example/garden",
                "https://maps.example/?q=School+garden",
                "12°30°, 13°",
                "1 2 3 4 S, 5 E",
            ][..],
        ),
        (
            "out_of_range",
            "text",
            &["12°60'N 13°E", "12°10'60\"N 13°E"][..],
        ),
        (
            "out_of_range",
            "latitude_deg",
            &["91 N, 0 E", "153.28, 128.81", "geo:91,0"][..],
        ),
        (
            "out_of_range",
            "longitude_deg",
            &["0, 361", "0, -180.5"][..],
        ),
    ] {
        for text in texts {
            let error = read(text).unwrap_err();
            assert_eq!(
                (error.code(), error.field()),
                (code, field),
                "{text:?}: {error}"
            );
            assert!(error.to_string().len() < 400, "{error}");
        }
    }
    assert_eq!(read(&"1".repeat(4001)).unwrap_err().code(), "too_large");
    let number = format!("{}, 1", "9".repeat(3000));
    assert!(read(&number).unwrap_err().to_string().len() < 600);
    assert_eq!(
        ask(r#"{"ask": "read_coordinates"}"#).unwrap_err().code(),
        "unreadable"
    );
}

proptest! {
    #[test]
    fn any_text_is_answered(text in any::<String>(), signs in "[0159.,;+°'\"NSEWOL /():−@?&=#%a-]{0,30}") {
        for text in [text, signs] {
            for one in read(&text).map(|reading| reading.positions).unwrap_or_default() {
                prop_assert!(one.latitude_deg.abs() <= 90.0 && one.longitude_deg.abs() <= 180.0, "{text}");
            }
        }
    }

    /// What is written down in any way is the same place again.
    #[test]
    fn places_go_through_all_shapes(latitude in -90.0..90.0, longitude in -180.0..180.0) {
        let (ns, ew) = (if latitude < 0.0 { 'S' } else { 'N' }, if longitude < 0.0 { 'W' } else { 'E' });
        let (north, east) = (f64::abs(latitude), f64::abs(longitude));
        let minutes = |x: f64| (x.floor(), x.fract() * 60.0);
        let ((a, b), (c, d)) = (minutes(north), minutes(east));
        let b = (b * 1e5).floor() / 1e5;
        let d = (d * 1e5).floor() / 1e5;
        for text in [
            format!("geo:{latitude:.7},{longitude:.7}"),
            format!("{latitude:+.7}, {longitude:+.7}"),
            format!("{north:.7}° {ns}, {east:.7}° {ew}"),
            format!("{ew} {c}° {d:.5}′, {ns} {a}° {b:.5}′"),
            format!("{latitude:+011.7}{longitude:+012.7}/"),
        ] {
            let reading = read(&text).unwrap();
            let near = |one: &Position| (one.latitude_deg - latitude).abs() < 2e-6 && (one.longitude_deg - longitude).abs() < 2e-6;
            prop_assert!(reading.positions.iter().any(near), "{text}: {reading:?}");
        }
    }
}
