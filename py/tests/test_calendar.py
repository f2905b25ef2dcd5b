"""Calendars, tables and pictures, read again with libraries that share no code with the engine."""

from __future__ import annotations

import csv
import datetime as dt
import io
import json
import zoneinfo
from typing import Any
from xml.etree import ElementTree

import dateutil.tz
import icalendar
import pytest
from vectors import PROJECT

import apiary_almanac as almanac
from apiary_almanac._convert import from_json

STAMP = dt.datetime(2026, 9, 13, 8, tzinfo=zoneinfo.ZoneInfo("Australia/Sydney"))
TITLES = [
    "commas, semicolons; back\\slashes \\n and \"quotes\"",
    "two\nlines",
    "a bee \N{HONEYBEE} and a family \N{MAN}\u200d\N{WOMAN}\u200d\N{GIRL}",
    "افحص الملكة اليوم",
    "=HYPERLINK(1)",
    "<b>&amp;</b> ]]>",
    "蜂の巣を動かす",
    "A title of two hundred letters " * 7,
]


def demo() -> dict[str, Any]:
    plan: dict[str, Any] = json.loads((PROJECT / "core/tests/pictures/invented-plan.json").read_text("utf-8"))
    for task, title in zip(plan["tasks"], TITLES, strict=False):
        task["title"] = title
    return plan


def typed(plan: dict[str, Any]) -> almanac.Plan:
    """The plan as :func:`apiary_almanac.plan` would have answered it."""
    tasks = [
        {**task, "window": {**task["window"], **clock_texts(task["window"])}} if "window" in task else task
        for task in plan["tasks"]
    ]
    made: almanac.Plan = from_json(
        almanac.Plan, {"best_dates": [], "notes": [], **plan, "tasks": tasks}, plan["site"]["zone"]
    )
    return made


def clock_texts(window: dict[str, str]) -> dict[str, str]:
    begins, ends = whole_minutes(window)
    return {"from_clock": f"{begins:%H:%M}", "until_clock": f"{ends:%H:%M}"}


def dawn(date: str, begins: str, ends: str) -> dict[str, Any]:
    """A move of the demo on another date."""
    task: dict[str, Any] = next(t for t in demo()["tasks"] if t["kind"] == "move")
    return {
        **task,
        "id": f"dawn-{date}",
        "dates": dict.fromkeys(("earliest", "best", "latest"), date),
        "window": {"from": begins, "until": ends},
    }


def whole_minutes(window: dict[str, str]) -> tuple[dt.datetime, dt.datetime]:
    """Drawn in, so that the window does not grow."""
    begins, ends = (dt.datetime.fromisoformat(window[key]) for key in ("from", "until"))
    up = begins if not (begins.second or begins.microsecond) else begins + dt.timedelta(minutes=1)
    return up.replace(second=0, microsecond=0), ends.replace(second=0, microsecond=0)


def parsed(ics: str) -> Any:
    """The library's types allow for every kind of value in every property."""
    return icalendar.Calendar.from_ical(ics)


def events(ics: str) -> dict[str, Any]:
    for line in ics.encode().split(b"\r\n"):
        assert len(line) <= 75 and b"\n" not in line and b"\r" not in line
    found = parsed(ics).walk("VEVENT")
    by_uid = {str(event["UID"]): event for event in found}
    assert len(by_uid) == len(found)
    return by_uid


def box_name(plan: dict[str, Any], which: str) -> str:
    old, new = plan.get("parent_name"), plan.get("daughter_name")
    names = {
        "parent": old or "old box",
        "daughter": new or (f"new box of {old}" if old else "new box"),
        "pair": f"{old} + {new}" if old and new else old or "both boxes",
    }
    return names[which]


def check(ics: str, *plans: dict[str, Any]) -> None:
    found = events(ics)
    # Boxes of one name are numbered in the order of the plans' ids.
    numbers = {p["id"]: f" {n}" if n > 1 else "" for n, p in enumerate(sorted(plans, key=lambda p: p["id"]), 1)}
    wanted = {f"{p['id']}.{t['id']}@apiary-almanac": (p, t) for p in plans for t in p["tasks"]}
    assert found.keys() == wanted.keys()
    for uid, (plan, task) in wanted.items():
        event = found[uid]
        done = task["state"]["kind"] == "done"
        whose = f" – {plan['title']}" if len(plans) > 1 else ""
        title = ("done: " if done else "") + task["title"]
        assert str(event["SUMMARY"]) == f"{box_name(plan, task['which'])}{numbers[plan['id']]}: {title}{whose}"
        assert (str(event["STATUS"]) == "CANCELLED") == (task["state"]["kind"] == "dropped")
        assert event["SEQUENCE"] == 4
        start, end = event["DTSTART"].dt, event["DTEND"].dt
        if "window" in task:
            # In UTC: Python holds a repeated hour unequal to the same moment of another zone.
            start, end = start.astimezone(dt.timezone.utc), end.astimezone(dt.timezone.utc)
            assert (start, end) == whole_minutes(task["window"])
            evening = dt.datetime.combine(
                start.astimezone(zoneinfo.ZoneInfo(plan["site"]["zone"])).date()
                - dt.timedelta(days=1),
                dt.time(18),
                zoneinfo.ZoneInfo(plan["site"]["zone"]),
            )
            if task["state"]["kind"] == "planned":
                rings = [start + alarm["TRIGGER"].dt for alarm in event.walk("VALARM")]
                morning = [start - dt.timedelta(minutes=30)] if task["kind"] == "move" else []
                assert rings == [evening.astimezone(dt.timezone.utc), *morning]
        else:
            date = task["state"]["on"] if done else task["dates"]["best"]
            assert start == dt.date.fromisoformat(date)
            assert end - start == dt.timedelta(days=1)


def test_the_calendar_comes_back() -> None:
    plan = demo()
    check(almanac.calendar([typed(plan)], STAMP, sequence=4).ics, plan)


def test_clock_changes() -> None:
    plan = demo()
    plan["tasks"] += [
        dawn("2026-10-04", "2026-10-04T01:30:00+10:00", "2026-10-04T06:30:20+11:00"),
        # 02:10 came twice on 5 April 2026: the first, then the second.
        dawn("2026-04-05", "2026-04-05T02:10:00+11:00", "2026-04-05T06:00:00+10:00"),
    ]
    second = dawn("2026-04-05", "2026-04-05T02:10:00+10:00", "2026-04-05T02:50:00+10:00")
    plan["tasks"].append({**second, "id": "second-pass"})
    check(almanac.calendar([typed(plan)], STAMP, sequence=4).ics, plan)


@pytest.mark.parametrize(
    ("zone", "longitude_deg"),
    [("Australia/Sydney", 151.2), ("Australia/Lord_Howe", 159.1), ("America/Sao_Paulo", -46.6),
     ("Africa/Casablanca", -7.6), ("Asia/Kathmandu", 85.3), ("Pacific/Apia", -171.8),
     ("America/Caracas", -66.9), ("Asia/Manila", 121.0)],
)  # fmt: skip
def test_the_zone_s_own_component(zone: str, longitude_deg: float) -> None:
    """Under a name that no database has, the offsets come from VTIMEZONE alone."""
    plan = {**demo(), "tasks": []}
    plan["site"].update(zone=zone, longitude_deg=longitude_deg)
    here = zoneinfo.ZoneInfo(zone)
    for i in range(0, 730, 9):
        begins = dt.datetime(2010, 7, 1, 6, tzinfo=here) + dt.timedelta(days=i)
        if begins.date() == dt.date(2011, 12, 30) and zone == "Pacific/Apia":
            continue  # that day was left out
        ends = begins + dt.timedelta(hours=1)
        task = dawn(str(begins.date()), begins.isoformat(), ends.isoformat())
        plan["tasks"].append(task)
    plan["today"] = "2010-07-01"
    ics = almanac.calendar([typed(plan)], STAMP, sequence=4).ics
    check(ics, plan)
    # A name of its own each time: the library keeps the zones that it has met.
    own = f"Own-{zone}"
    check(ics.replace(f"TZID:{zone}", f"TZID:{own}").replace(f"TZID={zone}", f"TZID={own}"), plan)


@pytest.mark.parametrize(
    ("zone", "latitude_deg", "longitude_deg"),
    [
        ("Australia/Sydney", -28.81, 153.28),
        ("Australia/Lord_Howe", -31.53, 159.08),
        ("America/New_York", 25.76, -80.19),
        ("Asia/Manila", 14.17, 121.24),
    ],
)
def test_daylight_saving_of_every_day(zone: str, latitude_deg: float, longitude_deg: float) -> None:
    """dateutil reads the zone's component by itself: offset and daylight saving against the IANA database."""
    plan = {**demo(), "today": "2026-09-13", "tasks": []}
    plan["site"].update(zone=zone, latitude_deg=latitude_deg, longitude_deg=longitude_deg)
    ics = almanac.calendar([typed(plan)], STAMP).ics
    component = ics[ics.index("BEGIN:VTIMEZONE") : ics.index("END:VTIMEZONE")] + "END:VTIMEZONE\r\n"
    read = dateutil.tz.tzical(io.StringIO(component.replace("\r\n", "\n"))).get()
    here = zoneinfo.ZoneInfo(zone)
    for day in range(3 * 365):
        noon = dt.datetime(2025, 1, 1, 12) + dt.timedelta(days=day)
        for part in ("utcoffset", "dst"):
            told, known = (getattr(noon.replace(tzinfo=tz), part)() for tz in (read, here))
            assert told == known, (zone, noon, part)


def test_a_club() -> None:
    north = {**demo(), "id": "north", "title": "North, hive 2"}
    north["site"] = {"latitude_deg": 20.97, "longitude_deg": -89.62, "elevation_m": 10,
                     "zone": "America/Merida"}  # fmt: skip
    north["tasks"] = [task for task in north["tasks"] if "window" not in task]
    plans = [demo(), north]
    ics = almanac.calendar([typed(plan) for plan in plans], STAMP, sequence=4, name="The club").ics
    check(ics, *plans)
    calendar = parsed(ics)
    assert str(calendar["NAME"]) == str(calendar["X-WR-CALNAME"]) == "The club"
    zones = [str(zone["TZID"]) for zone in calendar.walk("VTIMEZONE")]
    assert zones == ["America/Merida", "Australia/Sydney"]
    places = {event["GEO"].to_ical() for event in calendar.walk("VEVENT")}
    assert places == {"-28.81;153.28", "20.97;-89.62"}
    for event in calendar.walk("VEVENT"):
        kinds = [str(category) for category in event["CATEGORIES"].cats]
        assert len(kinds) == 3 and kinds[2] in {plan["title"] for plan in plans}


def test_a_calendar_for_each_hive_and_keeper() -> None:
    """The library reads each; plans of the engine, with tasks that may never be needed."""
    site = almanac.Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    record = almanac.Record(date=dt.date(2026, 10, 3), task="divide")
    plans = [
        almanac.plan(
            site, dt.date(2026, 11, 20), "split", almanac.Colony(name=hive), keeper=keeper, records=[record]
        )
        for keeper, hive in [("Ines", "Hive 1"), ("Ines", "Hive 2"), ("Tom", "Hive 1")]
    ]
    whole = almanac.calendar(plans, STAMP, per="hive")
    keepers = almanac.calendar(plans, STAMP, per="keeper").calendars
    assert whole.calendars is not None and keepers is not None
    assert [one.name for one in whole.calendars] == ["Ines · Hive 1", "Ines · Hive 2", "Tom · Hive 1"]
    assert len(keepers) == 2
    for text in [whole.ics, *(one.ics for one in whole.calendars)]:
        for event in events(text).values():
            conditional = str(event["STATUS"]) == "TENTATIVE"
            assert not conditional or (str(event["TRANSP"]) == "TRANSPARENT" and not event.walk("VALARM"))
    titles = [
        {str(event["SUMMARY"])[:28] for uid, event in events(whole.ics).items() if uid.startswith(f"{plan.id}.")}
        for plan in plans
    ]
    assert all(titles) and not (titles[0] & titles[1] or titles[0] & titles[2] or titles[1] & titles[2])
    tentative = [e for e in events(whole.ics).values() if str(e["STATUS"]) == "TENTATIVE"]
    # Of each plan the second look and the decision after it, which are less than 14 days off.
    assert len(tentative) == 2 * len(plans)


def test_the_coming_dawns_come_back() -> None:
    site = almanac.Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    mornings = almanac.mornings(site, dt.date(2026, 10, 1), 8)
    ics = almanac.mornings_calendar(site, mornings, STAMP, place="Garden").ics
    found = events(ics)
    assert len(found) == sum(one.morning.verdict != "no" for one in mornings) == 8
    for one in mornings:
        event = found[f"garden-dawns.{one.morning.date}@apiary-almanac"]
        window = one.morning.window
        assert isinstance(window, almanac.MoveWindowOpen)
        times = {"from": window.from_.isoformat(), "until": window.until.isoformat()}
        assert (event["DTSTART"].dt, event["DTEND"].dt) == whole_minutes(times)
        assert str(event["STATUS"]) == {"go": "CONFIRMED", "careful": "TENTATIVE"}[one.morning.verdict]
        evening, morning = event.walk("VALARM")
        # Hours of a trigger are so many hours (RFC 5545, 3.3.6), also where the clocks change that night.
        closing = event["DTSTART"].dt.astimezone(dt.timezone.utc) + evening["TRIGGER"].dt
        assert abs(closing - one.morning.evening_before.from_) < dt.timedelta(seconds=1)
        assert f"close the entrance from {one.morning.evening_before.from_clock}" in str(evening["DESCRIPTION"])
        assert morning["TRIGGER"].dt == -dt.timedelta(minutes=30)
    # Nothing new, nothing changed.
    later = STAMP + dt.timedelta(days=1)
    assert almanac.mornings_calendar(site, mornings, later, place="Garden", before=ics).ics == ics


def test_the_table_comes_back() -> None:
    plan = demo()
    rows = list(csv.DictReader(io.StringIO(almanac.plan_csv([typed(plan)]).csv, newline="")))
    assert len(rows) == len(plan["tasks"])
    for row, task in zip(rows, plan["tasks"], strict=True):
        assert row["title"].removeprefix("'") == task["title"]
        assert not row["title"].startswith(("=", "+", "-", "@"))
        assert row["best"] == task["dates"]["best"] and row["state"] == task["state"]["kind"]
        if "window" in task:
            begins = row["window_from"] + row["utc_offset"].removeprefix("UTC")
            assert dt.datetime.fromisoformat(begins) == whole_minutes(task["window"])[0]


def test_the_pictures_are_those_of_rust() -> None:
    plan = json.loads((PROJECT / "core/tests/pictures/invented-plan.json").read_text("utf-8"))
    svg = almanac.plan_picture(typed(plan)).svg
    assert svg == (PROJECT / "core/tests/pictures/plan-invented.svg").read_text("utf-8")
    root = ElementTree.fromstring(svg)
    assert root.tag == "{http://www.w3.org/2000/svg}svg" and root.get("role") == "img"
    site = almanac.Site(
        latitude_deg=27.1, longitude_deg=-109.9, elevation_m=20, zone="America/Hermosillo"
    )
    year = almanac.year_picture(
        site,
        dt.date(2026, 12, 31),
        first=dt.date(2026, 3, 1),
        last_safe=dt.date(2026, 8, 30),
    )
    assert year.svg == (PROJECT / "core/tests/pictures/year-northern.svg").read_text("utf-8")
