"""The club's year: a calendar, a table and a poster for the wall, without any hive."""

from __future__ import annotations

import datetime as dt
import html
import statistics
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from apiary_almanac import ask, towns_near
from apiary_almanac.club.distance import apart_km
from apiary_almanac.club.members import Member
from apiary_almanac.club.opening import content_of
from apiary_almanac.club.own_files import write_whole
from apiary_almanac.club.towns import called

CALENDAR, TABLE, POSTER = "year.ics", "year.csv", "year.html"
STYLE = "@page { size: A4; margin: 0 } body { margin: 0 } svg { display: block; width: 210mm; height: auto; break-after: page }"


def write_year(
    folder: Path, members: Sequence[Member], title: str, now: dt.datetime, today: dt.date
) -> tuple[str, list[Path]]:
    """Write the twelve months from today's on, at the place nearest the middle of all members and for their bee.
    Gives a sentence that says whose place it is, and the files."""
    middle, farthest_km = _middle(members)
    calendar = folder / CALENDAR
    asked: dict[str, Any] = {
        "ask": "year_calendar",
        "places": [_place(title, middle)],
        "first": today.replace(day=1),
        "stamp": now,
        "name": title,
    }
    if calendar.exists():
        # Only what changed gets a new version.
        asked["before"] = content_of(calendar).decode("utf-8", "replace")
    year = ask(asked)
    poster = ask({"ask": "poster", "dates": year["dates"], "title": title})
    page = (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{html.escape(title)}</title>'
        f"<style>{STYLE}</style></head>\n<body>{''.join(poster['sheets'])}</body></html>\n"
    )
    contents = {CALENDAR: year["ics"], TABLE: year["csv"], POSTER: page}
    for name, text in contents.items():
        write_whole(folder / name, [text.encode()])
    told = f"The year is that of {middle.name}'s place, nearest the middle of all; the farthest is {farthest_km:.0f} km off."
    return told, [folder / name for name in contents]


def _place(title: str, member: Member) -> dict[str, Any]:
    near = towns_near(member.site["latitude_deg"], member.site["longitude_deg"]).towns
    name = called(near[0]) if near else title
    place: dict[str, Any] = {"name": name, "site": member.site, "climate": _normals(member)}
    return place if member.bee is None else {**place, "bee": member.bee}


def _normals(member: Member) -> dict[str, Any]:
    """A forecast is over long before the year is."""
    return {name: table for name, table in member.climate.items() if not name.startswith("forecast")}


def _middle(members: Sequence[Member]) -> tuple[Member, float]:
    """The member nearest the median of all places, and how far the farthest other one is, km."""
    places = [(one.site["latitude_deg"], one.site["longitude_deg"]) for one in members]
    middle = statistics.median(north for north, _ in places), statistics.median(east for _, east in places)
    at = min(range(len(places)), key=lambda each: apart_km(places[each], middle))
    return members[at], max(apart_km(places[at], other) for other in places)
