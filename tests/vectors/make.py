"""Writes sun.json, season.json, mornings.json, clock.json, relocation.json and plan.json.

    pip install skyfield skyfield-data numpy
    python tests/vectors/make.py

The sun comes from JPL DE421 through Skyfield. The rest is either known beforehand (from a rule or the
calendar) or the engine's own answer, asked through the example program `door`: those rows hold the
doors to one answer, they do not show that the answer is right.
"""

import datetime as dt
import json
import zoneinfo

import numpy as np
from skyfield.api import Loader
from skyfield_data import get_skyfield_data_path

from making import engine, refused, row, write

LOADER = Loader(get_skyfield_data_path(), verbose=False)
TIMES = LOADER.timescale(builtin=True)
PLANETS = LOADER("de421.bsp")

LISMORE = {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
           "zone": "Australia/Sydney"}
APIA = {"latitude_deg": -13.83, "longitude_deg": -171.77, "elevation_m": 2, "zone": "Pacific/Apia"}
CURITIBA = {"latitude_deg": -25.43, "longitude_deg": -49.27, "elevation_m": 930, "zone": "America/Sao_Paulo"}
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

    def state(name, first, last, days):
        return {"state": name, "first": first, "last": last, "days": days}

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
        engine("three-states",
               "Curitiba, from coordinates alone. October to March (Nogueira-Neto 1997, p. 208) are good or at risk.",
               request(site=CURITIBA), "states", "published", "wider", "at_risk_chance"),
        row("cold-nights",
            "T. carbonaria is not divided while nights are below 10 °C: a keeper's page (common practice, no source).",
            request(last="2026-07-31", bee="tetragonula_carbonaria", climate=steady(8, 30)),
            expect_part={"states": [state("closed", "2026-07-01", "2026-07-31", 31)]}),
        row("counted-from-the-rains",
            "By the calendar: the rains last from December to March; the first two months of them are left out.",
            request(climate=wet, settings={"bar_rains": {"counted_from": "start", "months": 2}}),
            expect_part={"states": [state("good", "2026-07-01", "2026-11-30", 153),
                                    state("closed", "2026-12-01", "2027-01-31", 62),
                                    state("good", "2027-02-01", "2027-06-30", 150)]}),
        refused("risk-above-good", request(settings={"chance": 0.6, "at_risk_chance": 0.7}), "inconsistent",
                "at_risk_chance"),
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


# Clocks and relocations --------------------------------------------------------------------------

FINE, COLD, WET = (12, 27, 0), (5, 14, 0), (15, 24, 22)


def spells(first, *spells):
    """A forecast of so many days of each weather."""
    weather = [one for days, one in spells for _ in range(days)]
    names = ("minimum_c", "maximum_c", "rain_mm")
    first = dt.date.fromisoformat(first)
    return [{"date": str(first + dt.timedelta(i)), **dict(zip(names, day))}
            for i, day in enumerate(weather)]


def on(date):
    return {"earliest": date, "best": date, "latest": date}


def wait(unit, *counts, **more):
    names = ("earliest", "likely", "latest")
    return {"unit": unit, **dict(zip(names, counts)), "source": "invented", **more}


def clock_rows():
    def request(wait, after="2026-10-04", **fields):
        return {"ask": "clock", "site": LISMORE, "wait": wait, "after": on(after),
                "bee": "tetragonula_carbonaria", "climate": steady(12, 27), **fields}

    def runs_out(*dates):
        names = ("earliest", "best", "latest")
        return {"outcome": {"kind": "runs_out", "dates": dict(zip(names, dates))}}

    cool = {**steady(14, 27), "forecast": spells("2026-10-05", (1, FINE), (3, COLD), (1, WET),
                                                 (6, FINE))}
    years = five_years()
    return [
        row("civil-days", "By the calendar.", request(wait("days", 14, 21, 28)),
            expect_part=runs_out("2026-10-18", "2026-10-25", "2026-11-01")),
        row("zero", "It ends at its start.", request(wait("flying_days", 0, 0, 0)),
            expect_part=runs_out("2026-10-04", "2026-10-04", "2026-10-04")),
        row("start-as-a-date", "A plain date for a range that is certain.",
            {**request(wait("days", 1, 2, 3)), "after": "2026-10-04"},
            expect_part=runs_out("2026-10-05", "2026-10-06", "2026-10-07")),
        row("skipped-day", "Samoa had no 30 December 2011.",
            request(wait("days", 1, 2, 3), "2011-12-28", site=APIA),
            expect_part=runs_out("2011-12-29", "2011-12-31", "2012-01-01")),
        row("cold-snap", "Flying are the first and the sixth day of the forecast.",
            request(wait("flying_days", 2, 2, 2), climate=cool),
            expect_part={"outcome": {"kind": "runs_out", "dates": on("2026-10-10"),
                                     "rests_on": {"forecast_days": 6}}}),
        row("degree-days-of-a-forecast",
            "12 to 27 °C is all above 10 °C: 9.5 degree-days a day.",
            request(wait("degree_days", 28, 28, 28, base_c=10),
                    climate={"forecast": spells("2026-10-05", (4, FINE))}),
            expect_part=runs_out("2026-10-07", "2026-10-07", "2026-10-07")),
        engine("degree-days-of-normals", "A range.",
               request(wait("degree_days", 200, 240, 260, base_c=12, upper_c=33))),
        engine("flying-days-of-a-cool-season", "A range.",
               request(wait("flying_days", 3, 4, 5), "2026-07-01", climate=steady(6, 19))),
        engine("recorded-years", "Four of the five years have the year after the start complete: "
               "too few to be run one by one.",
               request(wait("flying_days", 5, 5, 5), "2027-04-20", climate=years)),
        engine("never", "Too cold for flight all year.",
               request(wait("flying_days", 30, 40, 50), climate=steady(0, 8))),
        engine("default-for-the-location", None,
               request(wait("flying_days", 2, 2, 2), climate={})),
        engine("wet-season", "Half of all days are wet: the chance of rain is counted in.",
               request(wait("flying_days", 5, 5, 5), climate={"normals": {
                   **steady(12, 27)["normals"], "rain_mm": [150] * 12, "wet_days": [15] * 12}})),
        refused("counts-out-of-order", request(wait("days", 3, 2, 4)), "inconsistent",
                "earliest, likely, latest"),
        refused("count-out-of-range", request(wait("days", 3, 4, 4000)), "out_of_range", "latest"),
        refused("base-missing", request(wait("degree_days", 1, 2, 3)), "inconsistent",
                "unit, base_c"),
        refused("unknown-unit", request(wait("weeks", 1, 2, 3)), "unreadable", "wait.unit"),
        refused("field-too-many", request(wait("days", 1, 2, 3, length=2)), "unreadable",
                "wait.length"),
        refused("start-not-padded", {**request(wait("days", 1, 2, 3)),
                                     "after": {**on("2026-09-14"), "best": "2026-9-14"}},
                "out_of_range", "best"),
        refused("start-not-a-date", {**request(wait("days", 1, 2, 3)), "after": "today"},
                "out_of_range", "after"),
    ]


def relocation_rows():
    def request(distance_m, **fields):
        return {"ask": "relocation", "site": LISMORE, "first": "2026-09-14",
                "distance_m": distance_m, "bee": "tetragonula_carbonaria",
                "climate": steady(12, 27), **fields}

    def stages(*dates):
        return {"way": "staged", "course": {"kind": "staged", "stages": [
            {"number": i + 1, "dates": on(date)} for i, date in enumerate(dates)]}}

    def parting(**fields):
        return {"ask": "parting", "site": LISMORE, "set_before": "2026-11-02",
                "bee": "tetragonula_carbonaria", "climate": steady(12, 27), **fields}

    snap = {**steady(12, 27), "forecast": spells("2026-09-13", (3, FINE), (4, COLD), (9, FINE))}
    wet = {**steady(12, 27), "forecast": spells("2026-09-13", (1, FINE), (3, WET), (9, FINE))}
    far = {"kind": "far_and_return", "away_source": "Nogueira-Neto 1997, Vida e criação de abelhas indígenas sem ferrão, p. 118"}
    return [
        row("half-a-metre-a-day", "Nogueira-Neto 1997, p. 118: about 0.5 m a day.",
            request(2, settings={"flying_days_between": 1}),
            expect_part=stages("2026-09-14", "2026-09-15", "2026-09-16", "2026-09-17")),
        row("every-second-day", "Common practice, no source: 0.5 to 1 m every 1 to 2 days.",
            request(2, settings={"stage_m": 1}),
            expect_part=stages("2026-09-14", "2026-09-16")),
        row("cold-snap", "Four cold days hold the second stage.", request(1.5, climate=snap),
            expect_part=stages("2026-09-14", "2026-09-20", "2026-09-22")),
        row("wet-spell", "Three wet days hold the first stage.", request(1, climate=wet),
            expect_part=stages("2026-09-17", "2026-09-19")),
        row("far-small", "Nogueira-Neto 1997, p. 118: small bees at least 1,500 m, about 60 d.",
            request(100), expect_part={
                "way": "far_and_return", "finish": {"best": "2026-11-13"},
                "course": {**far, "away_at_least_m": 1500}}),
        row("far-large", "Nogueira-Neto 1997, p. 118: Melipona at least 3,000 m.",
            request(100, bee="melipona_bicolor"), expect_part={
                "way": "far_and_return", "course": {**far, "away_at_least_m": 3000}}),
        row("three-weeks", "Common practice, no source: 21 d.",
            request(100, settings={"far_stay": "three_weeks"}),
            expect_part={"finish": {"best": "2026-10-05"}}),
        row("at-once", "Beyond the 712 m from which these bees come home.", request(2000),
            expect_part={"way": "at_once", "finish": {"best": "2026-09-14"}}),
        engine("whole-answer-staged", "With a turn of the entrance and a hive that was weighed.",
               request(1, climate=snap, total_turn_deg=60, hive_weight_kg=8)),
        engine("whole-answer-far", None, request(300, climate={})),
        engine("asked-against-the-range", "With a caution.", request(50, way="at_once")),
        engine("by-lamp", "Large bees in warm air fly before there is light enough to work: they are moved "
               "by lamp.", request(1, bee="generic_large", climate=steady(23, 30)), "course"),
        engine("cool-season", "Dates are ranges.", request(1.5, climate=steady(6, 19)), "course"),
        row("parted-from-the-parent", "Common practice, no source: about 7 d before the parent's "
            "entrance, then stages of two days each to about 1 m, then 14 to 28 d.",
            parting(), expect_part={"dates": {
                "set_beside": {"earliest": "2026-11-08", "best": "2026-11-09",
                               "latest": "2026-11-10"},
                "stages": {"stages": [
                    {"dates": {"best": "2026-11-09"}, "distance_so_far_m": 0.5},
                    {"dates": {"best": "2026-11-11"}, "distance_so_far_m": 1}]},
                "side_by_side_until": {"earliest": "2026-11-25", "best": "2026-12-02",
                                       "latest": "2026-12-09"}}}),
        row("four-of-two-days", "Four stages of two days after a week in front (common practice, no "
            "source), each with its evening before.", parting(settings={"stages": 4}), expect_part={
                "parting": {"apart_m": {"value": 2.0}},
                "dates": {"stages": {"stages": [
                    {"dates": {"best": f"2026-11-{day:02}"}, "distance_so_far_m": metres}
                    for day, metres in ((9, 0.5), (11, 1), (13, 1.5), (15, 2))]}}}),
        engine("move-as-a-plan", "A hive that is moved is planned like anything else: with the evening "
               "before, and records.",
               {"ask": "plan", "site": LISMORE, "today": "2026-11-03",
                "method": {"kind": "move", "distance_m": 1}, "bee": "tetragonula_carbonaria",
                "climate": steady(12, 27), "colony": {"name": "Lantern"},
                "records": [{"date": "2026-11-02", "task": "stage-1"}]}),
        engine("parting-of-your-own", None, parting(
            settings={"apart_m": 2, "stage_m": 1, "between_stages": wait("flying_days", 1, 1, 2)},
            hive_weight_kg=5)),
        refused("parting-too-far", parting(settings={"apart_m": 20}), "out_of_range", "apart_m"),
        refused("no-distance", request(0), "out_of_range", "distance_m"),
        refused("too-many-stages", request(150, way="staged"), "inconsistent",
                "distance_m, stage_m"),
        refused("stage-too-long", request(3, settings={"stage_m": 2}), "out_of_range", "stage_m"),
        refused("unknown-way", request(3, way="sideways"), "unreadable", "way"),
        refused("weight", request(3, hive_weight_kg=0), "out_of_range", "hive_weight_kg"),
    ]


# Plans and reviews -------------------------------------------------------------------------------

def plan_rows():
    normals = {"normals": {"minimum_c": MINIMUM_C, "maximum_c": MAXIMUM_C, "about": "invented"}}
    ready = {"name": "Hive 7", "daughter_name": "Hive 8", "net_weight_kg": 3.6,
             "months_since_division": 20, "strength": "strong"}

    def request(ask="plan", **fields):
        return {"ask": ask, "site": LISMORE, "today": "2026-08-01", "method": "split",
                "bee": "tetragonula_carbonaria", "climate": normals, "colony": ready, **fields}

    whole = {field: value for field, value in request(free_weekdays=["saturday", "sunday"], keeper="R. Amaro",
                                                      club="Creek bee club").items() if field != "ask"}

    def why_not(task, date):
        return {"ask": "why_not", "plan": whole, "task": task, "date": date}

    last = {key: value for key, value in request("last_safe").items() if key != "colony"}
    donated = {"date": "2026-10-01", "task": "donate"}
    eggs = {"date": "2026-10-22", "signs": [{"kind": "eggs", "which": "daughter"}]}
    hints = {"date": "2026-10-24", "signs": [
        {"kind": "pollen_in", "which": "daughter"}, {"kind": "steady_streams"},
        {"kind": "bees_enter_other"}, {"kind": "males_gathered"}]}
    own = {
        "name": "our_way", "label": "Our way", "about": "Two steps.", "source": "own counts",
        "new_queen": "daughter", "readiness": {"source": "own counts"},
        "steps": [
            {"id": "halve", "kind": "divide", "which": "pair", "title": "Halve", "why": "Spring.",
             "season": "safe", "source": "own counts"},
            {"id": "look", "kind": "check", "which": "daughter", "title": "Look", "why": "Workers.",
             "depends_on": [{"task": "halve", "wait": {
                 "unit": "days", "earliest": 80, "likely": 85, "latest": 90,
                 "source": "own counts"}}],
             "rebuilt": True, "source": "own counts"}]}

    def own_with(**changes):
        look = {**own["steps"][1], **changes}
        return {**own, "steps": [own["steps"][0], look]}

    return [
        engine("methods", "Whole: the steps, settings, waits and sources of each.",
               {"ask": "methods"}),
        engine("split", "A whole plan.", {"ask": "plan", **whole}),
        row("eggs-settle-it", "Villas-Bôas 2012: eggs show a laying queen.",
            request("review", method="comb_donation", today="2026-10-22", records=[donated, eggs]),
            expect_part={"standing": "laying_queen_seen"}),
        row("look-on-day-20-to-30", "Villas-Bôas 2012, p. 52: of Melipona the look for eggs is on day 20 to 30.",
            request("review", method="comb_donation", bee="generic_large", today="2026-10-05", records=[donated]),
            expect_part={"settle": {"from": "2026-10-21", "by": "2026-10-31", "no_counts_from": "2026-10-31"}}),
        engine("away-for-21-days", "The other way of a setting on which practice differs.",
               request(settings={"choices": {"place": "away", "stay_away": "21_d"}}), "choices"),
        engine("eduction", None, request(method="eduction"), "window", "last_safe", "best_dates"),
        engine("eduction-parted-next-season", "Too late to be parted in this one.",
               request(method="eduction", today="2027-02-25"), "window", "last_safe", "notes",
               "tasks"),
        engine("transfer", None, request(method="transfer", wanted="2026-11-14"), "tasks"),
        engine("fixed", "A task that the keeper put on a date.",
               request(fixed=[{"task": "divide", "date": "2026-11-07"}]), "tasks"),
        engine("not-ready", None, request(colony={"name": "Hive 7", "net_weight_kg": 2.0}), "tasks"),
        engine("no-season", None, request(climate=steady(4, 16)), "tasks"),
        engine("undeclared", None, request(colony={"name": "Hive 7"}), "notes", "first_safe"),
        engine("own-method", None, request(method=own)),
        engine("before-the-division", None, request("review"), "standing", "changes"),
        engine("eggs-seen", None, request("review", method="comb_donation", today="2026-10-22",
                                          records=[donated, eggs])),
        engine("hints-only", "Weak signs settle nothing.",
               request("review", method="comb_donation", today="2026-10-24",
                       records=[donated, hints]), "standing", "boxes", "settle",
               "recommendations"),
        refused("unknown-method", request(method="graft"), "unknown_name", "method"),
        refused("unknown-option", request(settings={"choices": {"place": "moon"}}), "unknown_name",
                "settings.choices.place"),
        refused("record-after-today", request(records=[donated]), "inconsistent",
                "records[0].date"),
        engine("last-safe", "Whatever the colony.", last),
        row("last-safe-all-year", "A rule that always holds closes no day.",
            {**last, "climate": {"normals": {**normals["normals"], "rain_mm": RAIN_MM}},
             "season": {"rules": [{"name": "dry", "source": "common practice, no source",
                                   "test": {"kind": "monthly_rain", "at_most_mm": max(RAIN_MM)}}]}},
            expect_part={"outcome": {"kind": "all_year"}}),
        refused("last-safe-unknown-method", {**last, "method": "graft"}, "unknown_name", "method"),
        refused("last-safe-of-a-colony", {**last, "colony": ready}, "unreadable", "colony"),
        refused("unknown-sign", request("review", records=[{
            "date": "2026-07-01", "signs": [{"kind": "humming"}]}]), "unreadable",
            "records[0].signs[0].kind"),
        refused("fixed-too-early", request(fixed=[{"task": "divide", "date": "2026-07-07"}]),
                "inconsistent", "fixed"),
        refused("waits-for-nothing", request(method=own_with(depends_on=[{"task": "halv"}])),
                "unknown_name", "steps[1].depends_on"),
        refused("waits-for-itself", request(method=own_with(depends_on=[{"task": "look"}])),
                "inconsistent", "steps.depends_on"),
        engine("why-not-too-early", None, why_not("egg-check", "2026-10-20")),
        engine("why-not-there", None, why_not("stage-1-close", "2026-10-20")),
        engine("why-not-past", None, why_not("divide", "2026-07-01")),
    ]


# Files -------------------------------------------------------------------------------------------

write("sun", "Solar noon, sunrise, sunset and civil twilight of a civil day, each with its own date.",
      "JPL DE421 through Skyfield: apparent geocentric place of the sun's centre, -50' for rise and "
      "set, -6 degrees for civil twilight, no parallax; times are UT1, which the engine takes for UTC",
      1e-6, 0.2, sun_rows())
write("season", "Working windows of a span, from normals, records and rules.",
      "Köppen's tropical limit (AMS Glossary of Meteorology) and the calendar where a row says so; "
      "else the engine's own answer. All temperatures are invented, but for coordinates alone.",
      1e-9, 0, season_rows())
write("mornings", "Ranked mornings with move windows, reasons and what would help.",
      "The engine's own answer; the sun behind it is checked in sun.json. All temperatures are "
      "invented.", 1e-6, 0.002, morning_rows())
write("clock", "When waiting times run out: days, flying days, degree-days.",
      "The calendar, the definition of a flying day and of degree-days where a row says so; else the "
      "engine's own answer. All temperatures are invented.", 1e-6, 0, clock_rows())
write("relocation", "Staged moves, far moves and return, moves at once; a box parted from its parent.",
      "Nogueira-Neto 1997 and common practice where a row says so; else the engine's own answer. "
      "All temperatures are invented.", 1e-6, 0.002, relocation_rows())
write("plan", "Methods, plans and reviews.",
      "Villas-Bôas 2012 where a row says so; else the engine's own answer. All temperatures, names "
      "and records are invented.", 1e-6, 0.002, plan_rows())
