"""Writes calendar.json: plans as calendar, table and picture. All plans are invented.

    python tests/vectors/make_calendar.py

What the rows expect is written here by hand where it is short (RFC 5545, RFC 4180); a picture is the
engine's own answer, which holds the doors to one answer and does not show that it is right.
"""

import copy

from making import ask, engine, refused, row, write

CLUB = {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12,
        "zone": "Australia/Sydney"}
APIA = {"latitude_deg": -13.83, "longitude_deg": -171.77, "elevation_m": 2, "zone": "Pacific/Apia"}
STAMP = "2026-09-13T08:00:00+10:00"


def task(name, title, dates, **fields):
    return {"id": name, "kind": "check", "which": "daughter", "title": title,
            "dates": dict(zip(("earliest", "best", "latest"), dates)), "why": [], "look_for": [],
            "cautions": [], "source": "invented", "depends_on": [],
            "rests_on": {"recorded_days": 0, "forecast_days": 0, "normal_days": 0,
                         "default_days": 0},
            "state": {"kind": "planned"}, **fields}


def plan(*tasks, **fields):
    return {"id": "lantern", "title": "Lantern", "method": "split", "bee": "generic_small",
            "site": CLUB, "today": "2026-09-13", "window": None, "last_safe": None,
            "tasks": list(tasks), "choices": [], "cautions": [], "basis": [], **fields}


EGGS = task("egg-check", "Eggs, brood; a queen?", ("2026-10-01", "2026-10-04", "2026-10-10"))
# The clocks go forward at 02:00 that day.
DAWN = task("stage-1", "=Move", ("2026-10-04",) * 3, kind="move",
            window={"from": "2026-10-04T06:10:20+11:00", "until": "2026-10-04T07:30:59+11:00"})
DROPPED = task("feed", "Feed", ("2026-09-20",) * 3, kind="feed", state={"kind": "dropped"})

ZONE = """BEGIN:VTIMEZONE
TZID:Australia/Sydney
BEGIN:DAYLIGHT
DTSTART:20241006T020000
TZOFFSETFROM:+1000
TZOFFSETTO:+1100
TZNAME:AEDT
END:DAYLIGHT
BEGIN:STANDARD
DTSTART:20250406T030000
TZOFFSETFROM:+1100
TZOFFSETTO:+1000
TZNAME:AEST
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:20251005T020000
TZOFFSETFROM:+1000
TZOFFSETTO:+1100
TZNAME:AEDT
END:DAYLIGHT
BEGIN:STANDARD
DTSTART:20260405T030000
TZOFFSETFROM:+1100
TZOFFSETTO:+1000
TZNAME:AEST
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:20261004T020000
TZOFFSETFROM:+1000
TZOFFSETTO:+1100
TZNAME:AEDT
END:DAYLIGHT
BEGIN:STANDARD
DTSTART:20270404T030000
TZOFFSETFROM:+1100
TZOFFSETTO:+1000
TZNAME:AEST
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:20271003T020000
TZOFFSETFROM:+1000
TZOFFSETTO:+1100
TZNAME:AEDT
END:DAYLIGHT
END:VTIMEZONE
"""


def event(name, when, summary, description, kind, status, transparency, alarm=""):
    return f"""BEGIN:VEVENT
UID:lantern.{name}@apiary-almanac
DTSTAMP:20260912T220000Z
LAST-MODIFIED:20260912T220000Z
SEQUENCE:2
{when}
SUMMARY:new box: {summary}
DESCRIPTION:What\\n- {summary}\\n- Lantern: new box\\n- {description}\\n\\nWhere it comes \
from\\n- invented\\n\\nLocal law and licensed practice come before this calendar.
CATEGORIES:{kind},New box,Lantern
LOCATION:Lantern (28.81° S\\, 153.28° E)
GEO:-28.810000;153.280000
STATUS:{status}
TRANSP:{transparency}
{alarm}END:VEVENT
"""


def alarm(trigger, summary):
    return f"""BEGIN:VALARM
ACTION:DISPLAY
TRIGGER:{trigger}
DESCRIPTION:new box: {summary}
END:VALARM
"""


def fold(line):
    """RFC 5545, section 3.1."""
    rows, row = [], b""
    for letter in line:
        octets = letter.encode()
        if len(row) + len(octets) > 75:
            rows.append(row)
            row = b" "
        row += octets
    return "\r\n".join(part.decode() for part in [*rows, row])


def ics():
    text = f"""BEGIN:VCALENDAR
VERSION:2.0
PRODID:-//apiary-almanac//calendar//EN
NAME:Lantern
X-WR-CALNAME:Lantern
{ZONE}"""
    text += event("feed", "DTSTART;VALUE=DATE:20260920\nDTEND;VALUE=DATE:20260921", "Feed",
                  "Left out. Planned for Sun 20 Sep 2026.", "Feeding", "CANCELLED", "TRANSPARENT")
    eggs = "Eggs\\, brood\\; a queen?"
    text += event("egg-check", "DTSTART;VALUE=DATE:20261004\nDTEND;VALUE=DATE:20261005", eggs,
                  "Best on Sun 4 Oct 2026\\; not before Thu 1 Oct 2026\\, by Sat 10 Oct 2026 at the latest.",
                  "Check", "CONFIRMED", "TRANSPARENT", alarm("-PT6H", eggs))
    text += event("stage-1", "DTSTART;TZID=Australia/Sydney:20261004T061100\n"
                  "DTEND;TZID=Australia/Sydney:20261004T073000", "=Move",
                  "Planned for Sun 4 Oct 2026.", "Move", "CONFIRMED", "OPAQUE",
                  alarm("-PT11H11M", "=Move") + alarm("-PT30M", "=Move"))
    return "".join(fold(line) + "\r\n" for line in (text + "END:VCALENDAR").splitlines())


HEADER = ("date,weekday,from,until,keeper,hive,box,title,state,place,"
          "plan,plan_title,method,bee,latitude_deg,longitude_deg,zone,task,kind,which,"
          "done_on,earliest,best,latest,window_from,window_until,utc_offset,why,look_for,cautions,"
          "source\r\n")
TABLE = (HEADER +
         "2026-10-04,Sunday,,,,both boxes,new box,\"Eggs, brood; a queen?\",planned,\"28.81° S, 153.28° E\","
         "lantern,Lantern,split,generic_small,-28.81,153.28,Australia/Sydney,egg-check,check,"
         "daughter,,2026-10-01,2026-10-04,2026-10-10,,,,,,,"
         "invented\r\n"
         "2026-10-04,Sunday,06:11,07:30,,both boxes,new box,'=Move,planned,\"28.81° S, 153.28° E\","
         "lantern,Lantern,split,generic_small,-28.81,153.28,Australia/Sydney,stage-1,move,"
         "daughter,,2026-10-04,2026-10-04,2026-10-04,2026-10-04T06:11,"
         "2026-10-04T07:30,UTC+11:00,,,,invented\r\n")


def changed(model, **fields):
    return {**copy.deepcopy(model), **fields}


def dawns(**fields):
    """Three mornings of the engine around a change of the clocks, the last of them given up."""
    mornings = ask({"ask": "mornings", "site": CLUB, "first": "2026-10-03", "days": 3, **fields})
    mornings.sort(key=lambda one: one["morning"]["date"])
    mornings[1]["morning"]["verdict"] = "go"
    mornings[2]["morning"]["verdict"] = "no"
    return mornings


def rows():
    def calendar(*plans, **fields):
        return {"ask": "calendar", "plans": list(plans), "stamp": STAMP, **fields}

    def year(**fields):
        return {"ask": "year_picture", "site": CLUB, "today": "2026-09-13", **fields}

    coming = dawns()
    open_overnight = dawns(settings={"closed_evening_before": False})

    def mornings(**fields):
        return {"ask": "mornings_calendar", "site": CLUB, "place": "Garden", "mornings": coming,
                "stamp": STAMP, **fields}

    backwards = {"from": DAWN["window"]["until"], "until": DAWN["window"]["from"]}
    elsewhere = {**DAWN["window"], "until": "2026-10-05T07:30:59+11:00"}
    disordered = task("egg-check", "Eggs", ("2026-10-05", "2026-10-04", "2026-10-10"))
    return [
        row("three-events", "A dropped task, a whole day, and a window on the day of a clock change.",
            calendar(plan(EGGS, DAWN, DROPPED), sequence=2), expect={"ics": ics()}),
        refused("no-plans", calendar(), "not_enough_data", "plans"),
        refused("a-plan-twice", calendar(plan(), plan()), "inconsistent", "plans[1].id"),
        refused("a-task-twice", calendar(plan(EGGS, EGGS)), "inconsistent",
                "plans[0].tasks[1].id"),
        refused("an-id-for-people", calendar(plan(id="Lantern 1")), "out_of_range", "plans[0].id"),
        refused("a-window-backwards", calendar(plan(changed(DAWN, window=backwards))),
                "inconsistent", "plans[0].tasks[0].window"),
        refused("a-window-on-another-day", calendar(plan(changed(DAWN, window=elsewhere))),
                "inconsistent", "plans[0].tasks[0].window"),
        refused("dates-out-of-order", calendar(plan(disordered)), "inconsistent",
                "plans[0].tasks[0].dates"),
        refused("a-stamp-without-offset", calendar(plan(), stamp="2026-09-13T08:00:00"),
                "out_of_range", "stamp"),
        refused("a-negative-sequence", calendar(plan(), sequence=-1), "unreadable", "sequence"),
        refused("an-unknown-field", calendar(plan(mood="good")), "unreadable", "plans[0].mood"),
        engine("a-calendar-for-each-hive", "Two hives of one keeper whose names are alike.",
               calendar(plan(EGGS, parent_name="Hive 1", keeper="Ines"),
                        plan(EGGS, DAWN, parent_name="Hive 1", keeper="Ines", id="candle"),
                        per="hive")),
        refused("a-calendar-for-each-bee", calendar(plan(), per="bee"), "unreadable", "per"),
        engine("dawns", "A careful morning, a good one on the day of a clock change, one that is bad.",
               mornings(box_name="Saltbush", sequence=2)),
        engine("dawns-of-an-open-hive", "Nothing is said of closing.", mornings(mornings=open_overnight)),
        refused("no-dawns", mornings(mornings=[]), "not_enough_data", "mornings"),
        refused("a-dawn-twice", mornings(mornings=[coming[0], coming[0]]), "inconsistent",
                "mornings[1].morning.date"),
        refused("dawns-of-a-nameless-place", mornings(place=""), "out_of_range", "place"),
        row("a-table", "A title that a spreadsheet would run as a formula.",
            {"ask": "plan_csv", "plans": [plan(EGGS, DAWN)]}, expect={"csv": TABLE}),
        row("an-empty-table", None, {"ask": "plan_csv", "plans": []}, expect={"csv": HEADER}),
        engine("a-plan-drawn", None, {"ask": "plan_picture", "plan": plan(EGGS, DAWN, DROPPED)}),
        engine("a-poster", None, {"ask": "poster", "plans": [plan(EGGS, DAWN, DROPPED)], "title": "Wall"}),
        refused("a-poster-of-nothing", {"ask": "poster"}, "not_enough_data", "plans"),
        refused("a-plan-that-cannot-be-drawn", {"ask": "plan_picture", "plan": plan(disordered)},
                "inconsistent", "plan.tasks[0].dates"),
        row("a-year-with-a-skipped-day", "Samoa had no 30 December 2011.",
            year(site=APIA, today="2011-12-29"), expect_part={}),
        refused("a-year-of-an-unknown-bee", year(bee="bumble"), "unknown_name", "bee"),
        refused("a-year-beyond-the-range", year(today="2100-12-01"), "out_of_range", "first"),
        refused("a-first-day-that-is-none", year(first="2026-02-30"), "out_of_range", "first"),
    ]


write("calendar", "Plans and years as calendar, table and picture.",
      "RFC 5545 and RFC 4180, written out by hand; a drawn plan is the engine's own answer. All plans are invented.",
      0, 0, rows())
