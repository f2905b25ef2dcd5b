"""Writes forecast.json: forecasts as they are copied, and weather by the hour.

    python tests/vectors/make_forecast.py

All forecasts are invented. What a row holds follows from its text and the definition of units (1 inch is
25.4 mm, 1 knot 1852 m/h); the rest is the engine's own answer, which holds the doors to one answer.
"""

import json

from making import engine, row, write

LISMORE = {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
           "zone": "Australia/Sydney"}


def read(text, **fields):
    return {"ask": "read_forecast", "site": LISMORE, "today": "2026-07-20", "text": text, **fields}


def day(date, minimum_c, maximum_c, **more):
    return {"date": date, "minimum_c": minimum_c, "maximum_c": maximum_c, **more}


def hour(clock, temperature_c, **more):
    return {"at": f"2026-07-20T{clock}:00:00+10:00", "temperature_c": temperature_c, **more}


def flight(climate):
    return {"ask": "flight", "site": LISMORE, "first": "2026-07-20", "last": "2026-07-20",
            "climate": climate}


def hours_file(text):
    return flight({"hours_files": [{"file": "logger.csv", "text": text}]})


WHOLE_DAY = [hour(f"{n:02}", 9 + n / 2, rain_mm=0, wind_m_s=2) for n in range(24)]
WHOLE_CSV = "time,temperature_c\n" + "".join(
    f"2026-07-20T{n:02}:00,{9 + n / 2}\n" for n in range(24))


ROWS = [
    row("lines", "Weekdays from today on.", read("Mon 12-24 5mm\nTue 10-22"), expect_part={
        "forecast": [day("2026-07-20", 12, 24, rain_mm=5), day("2026-07-21", 10, 22)],
        "questions": [], "left_out": []}),
    row("table-of-other-units", None,
        read("Date|Low °F|High °F|Rain in|Wind kn\n2026-07-20|50|68|0.5|10\n"), expect_part={
            "forecast": [day("2026-07-20", 10, 20, rain_mm=12.7, wind_m_s=10 * 1852 / 3600)]}),
    row("json-of-lists", None, read(json.dumps({
        "daily": {"time": ["2026-07-20"], "temperature_min": [12], "temperature_max": [24]},
        "daily_units": {"temperature_min": "°C", "temperature_max": "°C"}})), expect_part={
            "forecast": [day("2026-07-20", 12, 24)]}),
    row("hours-in-json", None, read(json.dumps({
        "time": ["2026-07-20T06:00", "2026-07-19T21:00Z"], "temperature_c": [9, 10]})), expect_part={
            "hours": [hour("06", 9), hour("07", 10)], "forecast": []}),
    engine("which-day", "Asked: 3 August or 8 March.", read("date,min °C,max °C\n3/8,12,24\n")),
    row("which-day-answered", None,
        read("date,min °C,max °C\n3/8,12,24\n", answers={"date_order": "day_month"}),
        expect_part={"forecast": [day("2026-08-03", 12, 24)], "questions": []}),
    engine("left-out", "Reversed, and the wrong weekday.",
           read("Mon 12-24 °C\nTue min 22 max 10 °C\nWed 2026-07-24 10-20 °C\n", file="week.txt")),
    row("no-forecast", None, read("It will be nice.", file="note.txt"),
        expect_error={"code": "bad_table", "field": "note.txt"}),
    row("answer-that-cannot-be", None,
        read("date,min,max\n25/7,12,24\n", answers={"date_order": "month_day"}),
        expect_error={"code": "inconsistent", "field": "answers.date_order"}),
    row("answer-of-no-name", None, read("Mon 12-24", answers={"date_order": "any"}),
        expect_error={"code": "unreadable", "field": "answers.date_order"}),
    row("half-a-json", None, read("{\"daily\": ["),
        expect_error={"code": "unreadable", "field": "forecast"}),
    row("hours-of-a-day", "The day's extremes are those of its hours.",
        flight({"hours": WHOLE_DAY}), expect_part=[{"temperatures": day(
            "2026-07-20", 9, 20.5, rain_mm=0, source="hours")}]),
    row("hours-of-a-file", None, hours_file(WHOLE_CSV), expect_part=[{"temperatures": day(
        "2026-07-20", 9, 20.5, source="hours")}]),
    row("hours-without-unit", None, hours_file(WHOLE_CSV.replace("_c", "")),
        expect_error={"code": "bad_table", "field": "logger.csv"}),
    row("hours-wrong-cell", None, hours_file(WHOLE_CSV + "noon,20\n"),
        expect_error={"code": "bad_cell", "field": "time"}),
    row("hours-given-twice", None,
        flight({"hours": [hour("06", 9), hour("06", 10)]}),
        expect_error={"code": "inconsistent", "field": "hours"}),
    row("hours-in-two-ways", None,
        flight({"hours": [hour("06", 9)], "hours_files": [{"file": "a", "text": WHOLE_CSV}]}),
        expect_error={"code": "inconsistent", "field": "hours, hours_files"}),
]

write("forecast", "Forecasts as they are copied, and weather by the hour.",
      "The text of each row and the definitions of the units; else the engine's own answer. All numbers are invented.",
      1e-6, 0.002, ROWS)
