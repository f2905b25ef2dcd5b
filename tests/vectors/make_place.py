"""Writes place.json: the check of a place.

    python tests/vectors/make_place.py

Mean solar noon follows from the longitude and the zone's standard time, 15° for each hour; the rest is the
engine's own answer, which holds the doors to one answer.
"""

import json
import pathlib
import subprocess

HERE = pathlib.Path(__file__).parent
LISMORE = {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
           "zone": "Australia/Sydney"}


def row(name, note, request, **expectation):
    return {"id": name, **({"note": note} if note else {}), "request": request, **expectation}


def engine(name, note, request):
    """The engine's own answer."""
    done = subprocess.run(["cargo", "run", "--quiet", "--package", "apiary-almanac",
                           "--example", "door"], check=True, text=True,
                          cwd=HERE, input=json.dumps(request) + "\n", stdout=subprocess.PIPE)
    return row(name, note, request, expect=json.loads(done.stdout))


def place(latitude_deg, longitude_deg, zone, **more):
    site = {"latitude_deg": latitude_deg, "longitude_deg": longitude_deg, "zone": zone, **more}
    return {"ask": "place", "site": site}


def refused(name, note, request, code, field):
    return row(name, note, request, expect_error={"code": code, "field": field})


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
    refused("slipped-sign", None, place(-28.81, -153.28, "Australia/Sydney", elevation_m=12),
            "inconsistent", "longitude_deg, zone"),
    refused("slipped-sign-of-an-offset", None, place(-28.81, 153.28, "Etc/GMT+10", elevation_m=12),
            "inconsistent", "longitude_deg, zone"),
    refused("too-far-east", None, place(0, 360.5, "Africa/Accra"), "out_of_range", "longitude_deg"),
    row("doubt-in-an-outlook", "It stands before the other cautions.", SEA_OUTLOOK,
        expect_part={"site": {"longitude_deg": 165}}),
    row("doubts-of-flight", "Of the place, and that the default is weak.",
        {"ask": "flight", "site": SEA_OUTLOOK["site"], "first": "2026-07-20", "last": "2026-07-20"},
        expect_part=[{"doubts": [{"code": "at_sea"}, {"code": "better_than_latitude"}]}]),
    row("doubts-of-the-sun", "It knows neither land nor height.",
        {"ask": "sun", "site": {**SEA_OUTLOOK["site"], "zone": "UTC"},
         "first": "2026-07-20", "last": "2026-07-20"},
        expect_part=[{"doubts": [{"code": "zone_far_off"}]}]),
    refused("slipped-sign-in-mornings", None,
            {"ask": "mornings", "first": "2026-07-20", "days": 1,
             "site": {**LISMORE, "longitude_deg": -153.28}}, "inconsistent", "longitude_deg, zone"),
]

ABOUT = {
    "what": "The check of a place: height, zone, coordinates.",
    "source": "15 degrees of longitude for each hour; else the engine's own answer.",
    "licence": "MIT OR Apache-2.0",
    "tolerance": {"number": 1e-6, "instant_s": 0.002},
    "rows": len(ROWS),
}

lines = ",\n".join("    " + json.dumps(one, ensure_ascii=False) for one in ROWS)
about = json.dumps(ABOUT, ensure_ascii=False, indent=2).replace("\n", "\n  ")
(HERE / "place.json").write_text(
    f'{{\n  "about": {about},\n  "rows": [\n{lines}\n  ]\n}}\n', encoding="utf-8")
