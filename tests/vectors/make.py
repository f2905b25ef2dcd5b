"""Writes sun.json, season.json and mornings.json.

    pip install skyfield skyfield-data numpy
    python tests/vectors/make.py

The sun comes from JPL DE421 through Skyfield. The rest is either known beforehand (from a rule or the
calendar) or the engine's own answer, asked through the example program `answer`: those rows hold the
doors to one answer, they do not show that the answer is right.
"""

import datetime as dt
import json
import pathlib
import subprocess
import zoneinfo

import numpy as np
from skyfield.api import Loader
from skyfield_data import get_skyfield_data_path

HERE = pathlib.Path(__file__).parent
LICENCE = "MIT OR Apache-2.0"

LOADER = Loader(get_skyfield_data_path(), verbose=False)
TIMES = LOADER.timescale(builtin=True)
PLANETS = LOADER("de421.bsp")

LISMORE = {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
           "zone": "Australia/Sydney"}
APIA = {"latitude_deg": -13.83, "longitude_deg": -171.77, "elevation_m": 2, "zone": "Pacific/Apia"}
TROMSO = {"latitude_deg": 69.65, "longitude_deg": 18.96, "elevation_m": 10, "zone": "Europe/Oslo"}
NULL_ISLAND = {"latitude_deg": 0, "longitude_deg": 0, "elevation_m": 0, "zone": "UTC"}

# Invented normals of a southern subtropical lowland.
MINIMUM_C = [19.2, 19.2, 17.8, 14.6, 11.4, 8.9, 7.4, 8.0, 10.7, 13.6, 16.1, 18.0]
MAXIMUM_C = [30.0, 29.3, 28.1, 25.8, 22.8, 20.4, 20.1, 21.7, 24.5, 26.6, 28.0, 29.4]
RAIN_MM = [300, 310, 290, 90, 60, 30, 10, 10, 20, 50, 90, 200]


# The sun -----------------------------------------------------------------------------------------

def sun_at(unix, latitude, longitude):
    """True altitude and hour angle of the sun's centre, degrees. Seconds are those of UT1."""
    time = TIMES.ut1_jd(2440587.5 + np.asarray(unix) / 86400)
    right_ascension, declination, _ = (
        PLANETS["earth"].at(time).observe(PLANETS["sun"]).apparent().radec("date"))
    hour_angle = np.radians(time.gast * 15 + longitude - right_ascension._degrees)
    phi, delta = np.radians(latitude), declination.radians
    altitude = np.arcsin(np.sin(phi) * np.sin(delta)
                         + np.cos(phi) * np.cos(delta) * np.cos(hour_angle))
    return np.degrees(altitude), (np.degrees(hour_angle) + 180) % 360 - 180


def noon_near(unix, latitude, longitude):
    for _ in range(6):
        unix -= float(sun_at(unix, latitude, longitude)[1]) * 240
    return unix


def crossing(noon, latitude, longitude, altitude, zone):
    """Scans outwards from noon, then bisects."""
    def above(unix):
        return sun_at(unix, latitude, longitude)[0] - altitude

    found = []
    for direction in (-1, 1):
        grid = noon + direction * np.arange(0, 12.2 * 3600, 300)
        changes = np.where((above(grid)[:-1] > 0) & (above(grid)[1:] <= 0))[0]
        if not len(changes):
            continue
        inside, outside = grid[changes[0]], grid[changes[0] + 1]
        for _ in range(40):
            middle = (inside + outside) / 2
            inside, outside = (middle, outside) if above(middle) > 0 else (inside, middle)
        found.append((inside + outside) / 2)
    if not found:
        return {"kind": "always_above" if above(noon) > 0 else "always_below"}
    rise, set_ = found
    return {"kind": "rises_and_sets", "rise": clock(rise, zone), "set": clock(set_, zone)}


def clock(unix, zone):
    moment = dt.datetime.fromtimestamp(round(unix, 3), dt.timezone.utc)
    return moment.astimezone(zoneinfo.ZoneInfo(zone)).isoformat(timespec="milliseconds")


def place(latitude, longitude, elevation, zone):
    return {"latitude_deg": latitude, "longitude_deg": longitude, "elevation_m": elevation,
            "zone": zone}


BRISBANE = place(-27.47, 153.03, 27, "Australia/Brisbane")
SUNS = [
    ("brisbane-winter", BRISBANE, "2026-06-21", None),
    ("brisbane-summer", BRISBANE, "2026-12-22", None),
    ("clocks-forward", LISMORE, "2026-10-04", "Clocks change before sunrise."),
    ("clocks-back", LISMORE, "2026-04-05", "Clocks change before sunrise."),
    ("leap-day", place(14.6, 120.98, 16, "Asia/Manila"), "2028-02-29", None),
    ("farthest-east", place(1.87, -157.43, 3, "Pacific/Kiritimati"), "2026-11-26",
     "UTC+14: the UTC date of sunrise is the day before."),
    ("west-of-180", place(-17.8, 179.98, 10, "Pacific/Fiji"), "2026-05-05", None),
    ("east-of-180", place(-17.8, -179.98, 10, "Pacific/Fiji"), "2026-05-05", None),
    ("sao-paulo", place(-23.55, -46.63, 760, "America/Sao_Paulo"), "2026-09-23", None),
    ("kampala", place(0.31, 32.58, 1190, "Africa/Kampala"), "2026-03-20", None),
    ("merida", place(20.97, -89.62, 10, "America/Merida"), "2026-06-21", None),
    ("before-the-skipped-day", APIA, "2011-12-29", None),
    ("after-the-skipped-day", APIA, "2011-12-31", None),
    ("polar-night", TROMSO, "2026-12-21", "No sun, but civil twilight."),
    ("polar-day", TROMSO, "2026-06-21", None),
    ("sunset-after-midnight", place(66.0, -18.0, 20, "Atlantic/Reykjavik"), "2026-06-19",
     "The sun sets on the next date."),
    ("early-in-the-range", place(-33.87, 151.21, 20, "Australia/Sydney"), "1930-03-01", None),
]


def sun_rows():
    rows = []
    for name, site, date, note in SUNS:
        latitude, longitude, zone = site["latitude_deg"], site["longitude_deg"], site["zone"]
        midday = dt.datetime.fromisoformat(date + "T12:00:00").replace(
            tzinfo=zoneinfo.ZoneInfo(zone)).timestamp()
        noons = [noon_near(midday + shift, latitude, longitude) for shift in (-43200, 0, 43200)]
        noon = min(noons, key=lambda unix: abs(unix - midday))
        answer = {"date": date, "solar_noon": clock(noon, zone)}
        for field, altitude in (("sun", -50 / 60), ("civil", -6)):
            answer[field] = crossing(noon, latitude, longitude, altitude, zone)
        request = {"ask": "sun", "site": site, "first": date, "last": date}
        rows.append(row(name, note, request, expect_part=[answer]))
    span = {"ask": "sun", "site": NULL_ISLAND, "first": "2026-01-01", "last": "2026-01-01"}
    rows += [
        row("the-skipped-day", "Samoa had no 30 December 2011.",
            {**span, "site": APIA, "first": "2011-12-30", "last": "2011-12-30"}, expect=[]),
        refused("reversed-span", {**span, "first": "2026-02-01"}, "inconsistent", "first, last"),
        refused("date-out-of-range", {**span, "first": "1899-12-31"}, "out_of_range", "first"),
        refused("altitude-out-of-range", {**span, "altitude_deg": 90.5}, "out_of_range",
                "altitude_deg"),
    ]
    return rows


# The season --------------------------------------------------------------------------------------

def steady(minimum_c, maximum_c, rain_mm=None):
    normals = {"minimum_c": [minimum_c] * 12, "maximum_c": [maximum_c] * 12, "about": "invented"}
    return {"normals": {**normals, **({"rain_mm": rain_mm} if rain_mm else {})}}


def five_years():
    """Warm but for days 120 to 243 of each year."""
    lines = ["date,minimum_c,maximum_c"]
    date = dt.date(2015, 1, 1)
    while date < dt.date(2020, 1, 1):
        cool = 120 <= date.timetuple().tm_yday < 244
        lines.append(f"{date},{8 if cool else 18},{18 if cool else 28}")
        date += dt.timedelta(1)
    return {"records_csv": {"file": "records.csv", "text": "\n".join(lines) + "\n"}}


def season_rows():
    def request(**fields):
        return {"ask": "season", "site": LISMORE, "first": "2026-07-01", "last": "2027-06-30",
                **fields}

    def windows(*spans):
        names = ("opens", "closes", "days")
        return {"outcome": {"kind": "windows",
                            "windows": [dict(zip(names, span)) for span in spans]}}

    wet = steady(22, 31, RAIN_MM)
    dry_rule = {"name": "dry", "test": {"kind": "monthly_rain", "at_most_mm": 30},
                "source": "common practice, no source"}
    normals = {"normals": {"minimum_c": MINIMUM_C, "maximum_c": MAXIMUM_C, "about": "invented"}}
    north = {"normals": {"minimum_c": MINIMUM_C[6:] + MINIMUM_C[:6],
                         "maximum_c": MAXIMUM_C[6:] + MAXIMUM_C[:6], "about": "invented"}}
    week = "date,{}\n2026-07-01,warm,20\n"
    return [
        row("tropical-limit", "Coldest month at 18 °C or more: a tropical climate (Köppen A).",
            request(climate=steady(18, 28)), expect_part={"outcome": {"kind": "all_year"}}),
        row("too-cold", "Never 18 °C.", request(climate=steady(4, 16)),
            expect_part={"outcome": {"kind": "none"}}),
        row("wettest-months", "By the calendar: January to March are the wettest.",
            request(climate=wet, settings={"bar_wettest_months": 3}),
            expect_part=windows(("2026-04-01", "2026-12-31", 275),
                                ("2027-04-01", "2027-12-31", 275))),
        row("dry-months", "By the calendar: June to September bring at most 30 mm.",
            request(climate=wet, settings={"rules": [dry_rule]}),
            expect_part=windows(("2026-06-01", "2026-09-30", 122),
                                ("2027-06-01", "2027-09-30", 122))),
        engine("wraps-the-new-year", "A southern season.", request(climate=normals), "outcome",
               "years"),
        engine("northern-mirror", "The same half a year later.", request(climate=north), "outcome"),
        engine("records-of-five-years", "Each year is judged.", request(climate=five_years()),
               "outcome", "years", "chance"),
        refused("rain-rule-without-rain",
                request(climate=steady(22, 31), settings={"bar_wettest_months": 3}),
                "not_enough_data", "outside_wettest_months"),
        refused("chance-of-nothing", request(settings={"chance": 0}), "out_of_range", "chance"),
        refused("two-bases", request(climate={**normals, **five_years()}), "inconsistent",
                "normals, normals_csv, records_csv"),
        refused("unknown-bee", request(bee="bumble"), "unknown_name", "bee"),
        refused("bad-cell", request(climate={"forecast_csv": {
            "file": "week.csv", "text": week.format("minimum_c,maximum_c")}}),
            "bad_cell", "minimum_c"),
        refused("no-units", request(climate={"forecast_csv": {
            "file": "week.csv", "text": week.format("minimum,maximum")}}),
            "bad_table", "week.csv"),
    ]


# Mornings ----------------------------------------------------------------------------------------

def morning_rows():
    week = [(10, 23, 0, 3), (11, 24, 0, 3), (12, 25, 0, 4), (10, 23, 0, 2), (14, 21, 9, 5),
            (12, 19, 14, 8), (9, 22, 1, 4)]
    names = ("minimum_c", "maximum_c", "rain_mm", "wind_m_s")
    forecast = [{"date": str(dt.date(2026, 9, 13) + dt.timedelta(i)), **dict(zip(names, day))}
                for i, day in enumerate(week)]
    normals = {"minimum_c": MINIMUM_C, "maximum_c": MAXIMUM_C, "about": "invented"}

    def request(**fields):
        return {"ask": "mornings", "site": LISMORE, "first": "2026-09-14", "days": 5,
                "bee": "tetragonula_carbonaria",
                "climate": {"normals": normals, "forecast": forecast}, **fields}

    own_bee = {"based_on": "generic_small", "flight_minimum_c": 16, "flight_light_lx": 500,
               "source": "own counts"}
    return [
        engine("five-mornings", "Whole answers: ranks, points, reasons, windows.", request()),
        engine("weekend-only", None, request(free_weekdays=["saturday", "sunday"], days=6)),
        engine("behind-a-hill", None, request(site={**LISMORE, "east_horizon_deg": 5}, days=1)),
        engine("large-bees-in-warm-air", "They fly before there is light enough to work.",
               request(bee="generic_large", climate=steady(21, 29), days=1)),
        engine("default-for-the-location", None, request(climate={}, days=1)),
        engine("own-margin-and-bee", None,
               request(bee=own_bee, settings={"margin_min": 25}, days=2)),
        engine("across-the-skipped-day", None,
               request(site=APIA, first="2011-12-29", days=3, climate={})),
        engine("polar-day", None, request(site=TROMSO, first="2026-06-21", days=1, climate={})),
        refused("no-mornings", request(days=0), "out_of_range", "days"),
        refused("negative-mornings", request(days=-1), "unreadable", "days"),
        refused("margin-not-a-number", request(settings={"margin_min": "long"}), "unreadable",
                "settings.margin_min"),
        refused("margin-out-of-range", request(settings={"margin_min": 500}), "out_of_range",
                "margin_min"),
        refused("unknown-weekday", request(free_weekdays=["caturday"]), "unreadable",
                "free_weekdays[0]"),
        refused("date-not-padded", request(first="2026-9-14"), "out_of_range", "first"),
    ]


# Rows and files ----------------------------------------------------------------------------------

def row(name, note, request, **expectation):
    return {"id": name, **({"note": note} if note else {}), "request": request, **expectation}


def refused(name, request, code, field):
    return row(name, None, request, expect_error={"code": code, "field": field})


def engine(name, note, request, *fields):
    """The engine's own answer, or some fields of it."""
    done = subprocess.run(["cargo", "run", "--quiet", "--package", "apiary-almanac",
                           "--example", "answer"], check=True, text=True,
                          cwd=HERE, input=json.dumps(request) + "\n", stdout=subprocess.PIPE)
    answer = json.loads(done.stdout)
    if not fields:
        return row(name, note, request, expect=answer)
    return row(name, note, request, expect_part={field: answer[field] for field in fields})


def write(name, what, source, number, instant_s, rows):
    about = {"what": what, "source": source, "licence": LICENCE,
             "tolerance": {"number": number, "instant_s": instant_s}, "rows": len(rows)}
    head = json.dumps(about, indent=2, ensure_ascii=False).replace("\n", "\n  ")
    body = ",\n".join("    " + json.dumps(one, ensure_ascii=False) for one in rows)
    (HERE / f"{name}.json").write_text(
        f'{{\n  "about": {head},\n  "rows": [\n{body}\n  ]\n}}\n', encoding="utf-8")


write("sun", "Solar noon, sunrise, sunset and civil twilight of a civil day, each with its own date.",
      "JPL DE421 through Skyfield: apparent geocentric place of the sun's centre, -50' for rise and "
      "set, -6 degrees for civil twilight, no parallax; times are UT1, which the engine takes for UTC",
      1e-6, 0.2, sun_rows())
write("season", "Working windows of a span, from normals, records and rules.",
      "Köppen's tropical limit (AMS Glossary of Meteorology) and the calendar where a row says so; "
      "else the engine's own answer. All temperatures are invented.", 1e-9, 0, season_rows())
write("mornings", "Ranked mornings with move windows, reasons and what would help.",
      "The engine's own answer; the sun behind it is checked in sun.json. All temperatures are "
      "invented.", 1e-6, 0.002, morning_rows())
