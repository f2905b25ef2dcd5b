"""Writes climate.json: the default climate, the map of warm seasons, chances of days, wet days.

    python tests/vectors/make_climate.py

What a row says is known beforehand comes from the normal distribution, from the calendar or from the
definition; the rest is the engine's own answer, asked through the example program `door`: those
rows hold the doors to one answer, they do not show that the answer is right.
"""

import statistics

from making import engine, refused, row, write

LISMORE = {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
           "zone": "Australia/Sydney"}
AT_SEA = {**LISMORE, "longitude_deg": 165, "elevation_m": 0}
SPREAD = {"minimum_sd_c": [2] * 12, "maximum_sd_c": [2] * 12}
WET_DAYS = [22, 20, 21, 12, 6, 2, 1, 1, 3, 7, 12.5, 17]


def normals(minimum_c, maximum_c, **more):
    return {"minimum_c": [minimum_c] * 12, "maximum_c": [maximum_c] * 12, "about": "invented",
            **more}


def above(threshold, mean, sd):
    return 1 - statistics.NormalDist(mean, sd).cdf(threshold)


def default(site=LISMORE, **fields):
    return {"ask": "default_climate", "site": site, **fields}


def season_map(**fields):
    return {"ask": "warm_season_map", "latitudes_deg": [-30, -20], "longitudes_deg": [130, 145, 160],
            **fields}


def flight(climate, first="2026-01-15", last="2026-01-15", **fields):
    return {"ask": "flight", "site": LISMORE, "first": first, "last": last, "climate": climate,
            **fields}


def season(climate, settings):
    return {"ask": "season", "site": LISMORE, "first": "2026-07-01", "last": "2027-06-30",
            "climate": climate, "settings": settings}


def chances(cold, low, hot, high, **more):
    return [{"chances": {"cold_night": 1 - above(cold, low, 2), "hot_day": above(hot, high, 2),
                         **more}}]


warm = {"normals": normals(10, 34), "spread": SPREAD}
wet = {"normals": normals(22, 31, wet_days=WET_DAYS)}
week = [{"date": f"2026-01-{day}", "minimum_c": 20, "maximum_c": 39} for day in range(10, 20)]
rows = [
    engine("default-on-land", "Twelve months, their error and their source.", default()),
    engine("default-at-sea", "By latitude: no rain, no spread.", default(AT_SEA)),
    engine("default-without-warming", None, default(warming={"minimum_c": 0, "maximum_c": 0})),
    refused("warming-beyond-any-climate", default(warming={"minimum_c": 0, "maximum_c": 99}),
            "out_of_range", "warming.maximum_c"),
    refused("warming-of-normals", flight({"normals": normals(10, 34), "warming": {
        "minimum_c": 0, "maximum_c": 0}}), "inconsistent", "warming"),
    engine("map", "The last longitude is at sea.", season_map()),
    engine("map-of-one-place-from-20", None,
           season_map(latitudes_deg=[-28.81], longitudes_deg=[153.28], threshold_c=20)),
    row("map-of-the-tropics", "Kisumu and Kampala are warm all year.",
        season_map(latitudes_deg=[0.2], longitudes_deg=[32.6, 34.7]),
        expect_part={"days": [365, 365], "first_day": [None, None], "last_day": [None, None]}),
    row("map-of-nowhere", None, season_map(latitudes_deg=[]),
        expect_part={"days": [], "first_day": [], "last_day": []}),
    refused("map-too-large", season_map(latitudes_deg=[0] * 334, longitudes_deg=[0] * 300),
            "too_large", "latitudes_deg, longitudes_deg"),
    refused("map-beyond-the-pole", season_map(latitudes_deg=[90.5]), "out_of_range",
            "latitudes_deg[0].latitude_deg"),
    refused("map-threshold", season_map(threshold_c=61), "out_of_range", "threshold_c"),
    row("chances-of-a-mean-day", "The normal distribution; hot from 38 °C on, cold up to 8 °C.",
        flight(warm), expect_part=chances(8, 10, 38, 34)),
    row("chances-against-own-limits", "A spell of one day is a hot day.",
        flight(warm, limits={"cold_night_c": 12, "heat_spell_d": 1}),
        expect_part=chances(12, 10, 38, 34, heat_spell=above(38, 34, 2))),
    row("chances-between-hot-forecast-days",
        "A day that is not forecast between days that are: it is in a spell when it is hot.",
        flight({**warm, "forecast": [day for day in week if day["date"] != "2026-01-15"]}),
        expect_part=chances(8, 10, 38, 34, heat_spell=above(38, 34, 2))),
    engine("chances-of-the-default", None, flight({}, "2026-07-14", "2026-07-16")),
    engine("no-chances-of-forecast-days", None, flight({"forecast": week})),
    engine("no-chances-without-a-spread", None,
           {**flight({"normals": normals(10, 34)}), "site": AT_SEA}),
    refused("cold-night-out-of-range", flight(warm, limits={"cold_night_c": 26}), "out_of_range",
            "cold_night_c"),
    refused("spell-of-no-days", flight(warm, limits={"heat_spell_d": 0}), "out_of_range",
            "heat_spell_d"),
    refused("spread-out-of-range", flight({"spread": {**SPREAD, "minimum_sd_c": [-1] * 12}}),
            "out_of_range", "spread.minimum_sd_c[0]"),
    row("wet-days", "By the calendar: from April to October at most 12 wet days.",
        season(wet, {"most_wet_days": 12}),
        expect_part={"outcome": {"kind": "windows", "windows": [
            {"opens": "2026-04-01", "closes": "2026-10-31", "days": 214},
            {"opens": "2027-04-01", "closes": "2027-10-31", "days": 214}]}}),
    row("wet-days-are-off-by-default", None, season(wet, {}),
        expect_part={"outcome": {"kind": "all_year"}}),
    refused("wet-days-not-known", season({"normals": normals(22, 31)}, {"most_wet_days": 12}),
            "not_enough_data", "few_wet_days"),
    refused("wet-days-beyond-a-month", season(wet, {"most_wet_days": 32}), "out_of_range",
            "few_wet_days.at_most_days"),
]
write("climate", "The default climate, warm seasons over a map, chances of days, wet days.",
      "The normal distribution, the calendar and the definition where a row says so; else the engine's own answer, "
      "which rests on CRU CL 2.0 (New et al. 2002). Temperatures given are invented.", 1e-6, 0.002, rows)
