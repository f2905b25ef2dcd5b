"""Writes coordinates.json: which places texts can mean.

    python tests/vectors/make_coordinates.py

A degree is 60 minutes and a minute 60 seconds; the geo: address is that of RFC 5870 section 6.1 and the position
that of ISO 6709 annex H (both from memory). What is asked is the engine's own, which holds the doors to one answer.
"""

from making import write

LISMORE = {"latitude_deg": -28.81, "longitude_deg": 153.28, "state": "on_land"}


def row(name, text, **expectation):
    return {"id": name, "request": {"ask": "read_coordinates", "text": text}, **expectation}


def lismore(name, text):
    return row(name, text, expect={"positions": [LISMORE]})


def asked(name, text, code, *places):
    positions = [dict(zip(("latitude_deg", "longitude_deg"), place)) for place in places]
    return row(name, text, expect_part={"question": {"code": code}, "positions": positions})


def refused(name, text, code, field):
    return row(name, text, expect_error={"code": code, "field": field})


ROWS = [
    lismore("decimal", "-28.81, 153.28"),
    lismore("decimal-comma", "\u221228,81; 153,28"),
    lismore("degrees-minutes-seconds", "28\u00b048\u203236\u2033 S 153\u00b016\u203248\u2033 E"),
    lismore("letters-before", "S28 48.6 E153 16.8"),
    lismore("words", "153.28 leste, 28.81 sul"),
    lismore("map-at", "https://maps.example/@-28.81,153.28,15z"),
    lismore("map-field", "https://maps.example/?q=-28.81%2C+153.28"),
    lismore("map-scale", "http://maps.example/#map=15/-28.81/153.28"),
    row("geo", "geo:48.198634,16.371648;crs=wgs84;u=40",
        expect_part={"positions": [{"latitude_deg": 48.198634, "longitude_deg": 16.371648}]}),
    row("iso-6709", "+352139+1384339+3776CRSWGS_84/",
        expect_part={"positions": [{"latitude_deg": 35 + 21 / 60 + 39 / 3600,
                                    "longitude_deg": 138 + 43 / 60 + 39 / 3600}], "height_m": 3776}),
    asked("swapped", "153.28, -28.81", "longitude_stands_first", (-28.81, 153.28)),
    asked("sign-left-out", "28.81, 153.28", "not_on_land_as_written", (28.81, 153.28), (-28.81, 153.28)),
    asked("two-in-one-address", "https://maps.example/@-28.9,153.3,9z?q=-28.81,153.28",
          "address_of_several_places", (-28.9, 153.3), (-28.81, 153.28)),
    refused("one-number", "28.81", "unreadable", "text"),
    refused("said-twice", "-28.81 S, 153.28 E", "unreadable", "text"),
    refused("sixty-minutes", "28\u00b060' S, 153\u00b0 E", "out_of_range", "text"),
    refused("no-latitude", "91 S, 153 E", "out_of_range", "latitude_deg"),
    refused("long", "1" * 4001, "too_large", "text"),
]

write("coordinates", "Coordinates as people write and send them.",
      "Degrees, minutes and seconds; RFC 5870; ISO 6709; else the engine's own answer.", 1e-6, 0.002, ROWS)
