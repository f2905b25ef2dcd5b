"""Writes place.json: the check of a place.

    python tests/vectors/make_place.py

Mean solar noon follows from the longitude and the zone's standard time, 15° for each hour; the rest is the
engine's own answer, which holds the doors to one answer.
"""

from making import engine, refused, row, write

LISMORE = {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
           "zone": "Australia/Sydney"}


def place(latitude_deg, longitude_deg, zone, **more):
    site = {"latitude_deg": latitude_deg, "longitude_deg": longitude_deg, "zone": zone, **more}
    return {"ask": "place", "site": site}


SEA_OUTLOOK = {"ask": "outlook", "today": "2026-07-20", "mornings": 1,
               "site": {**LISMORE, "longitude_deg": 165, "zone": "Pacific/Noumea"}}


ROWS = [
    engine("ordinary", "No doubts.", {"ask": "place", "site": LISMORE}),
    engine("no-height", "That of the land is taken.", place(-1.29, 36.82, "Africa/Nairobi")),
    row("noon", "8.75 h from UTC at 120 degrees east: noon at 12:45.",
        place(-32, 120, "Australia/Eucla", elevation_m=300),
        expect_part={"noon_off_h": 0.75, "state": "on_land", "doubts": []}),
    engine("zero", "Two doubts and no height.", place(0, 0, "Africa/Accra")),
    engine("far-east", "A longitude of 0 to 360.",
           place(21.3, 202.1, "Pacific/Honolulu", elevation_m=20)),
    engine("western-china", "Three hours off.", place(39.47, 75.99, "Asia/Shanghai", elevation_m=1290)),
    engine("mountain-at-sea-level", None, place(-1.29, 36.82, "Africa/Nairobi", elevation_m=0)),
    row("beyond-the-grid", None, place(52.5, 13.4, "Europe/Berlin", elevation_m=34),
        expect_part={"state": "beyond_the_grid", "doubts": []}),
    refused("slipped-sign", place(-28.81, -153.28, "Australia/Sydney", elevation_m=12),
            "inconsistent", "longitude_deg, zone"),
    refused("slipped-sign-of-an-offset", place(-28.81, 153.28, "Etc/GMT+10", elevation_m=12),
            "inconsistent", "longitude_deg, zone"),
    refused("too-far-east", place(0, 360.5, "Africa/Accra"), "out_of_range", "longitude_deg"),
    row("doubt-in-an-outlook", "It stands before the other cautions.", SEA_OUTLOOK,
        expect_part={"site": {"longitude_deg": 165}}),
    row("doubts-of-flight", "Of the place, and that the default is weak.",
        {"ask": "flight", "site": SEA_OUTLOOK["site"], "first": "2026-07-20", "last": "2026-07-20"},
        expect_part=[{"doubts": [{"code": "at_sea"}, {"code": "better_than_latitude"}]}]),
    row("doubts-of-the-sun", "It knows neither land nor height.",
        {"ask": "sun", "site": {**SEA_OUTLOOK["site"], "zone": "UTC"},
         "first": "2026-07-20", "last": "2026-07-20"},
        expect_part=[{"doubts": [{"code": "zone_far_off"}]}]),
    refused("slipped-sign-in-mornings",
            {"ask": "mornings", "first": "2026-07-20", "days": 1,
             "site": {**LISMORE, "longitude_deg": -153.28}}, "inconsistent", "longitude_deg, zone"),
]

write("place", "The check of a place: height, zone, coordinates.",
      "15 degrees of longitude for each hour; else the engine's own answer.", 1e-6, 0.002, ROWS)
