"""From the engine's answers to the rows of the sheets."""

from __future__ import annotations

import datetime as dt
import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from apiary_almanac.club import layout
from apiary_almanac.club.answers import Answer, Answered, Planned
from apiary_almanac.club.layout import Sheet
from apiary_almanac.club.ledger import Ledger, Row, not_planned
from apiary_almanac.club.looks import keys
from apiary_almanac.club.members import Member
from apiary_almanac.club.problems import Problem
from apiary_almanac.club.signs import BOX_WORDS

WEATHER = {
    "recorded_day": "own records",
    "recorded_mean": "mean of records",
    "forecast": "forecast",
    "hours": "hourly readings",
    "monthly_normals": "monthly normals",
    "location_default": "usual there",
}
"""Where a morning's temperatures come from, in words."""
OUTCOMES = {"all_year": "open all year", "windows": "open", "none": "never open"}


@dataclass(frozen=True, kw_only=True)
class Told:
    """What is kept of all that the engine answered about a member: a plan in full takes a hundred times the
    memory of its rows."""

    member: Member
    planned_for: bool
    """False where the row was refused."""
    problems: list[Problem]
    doubts: tuple[str, ...]
    plans: list[bytes]
    """As the engine wrote them, packed."""
    rows: dict[str, list[Row]]
    """By sheet."""
    cautions: dict[str, str]


def tell(texts: dict[str, str], answered: Answered) -> Told:
    """The rows of one member. ``texts`` holds each text once for all members: most of theirs are the same."""
    rows = {
        layout.TASKS.title: [row for planned in answered.plans for row in _tasks(planned)],
        layout.MORNINGS.title: _morning_rows(answered),
        layout.SEASON.title: _season_rows(answered),
        layout.COLONIES.title: _colony_rows(answered),
    }
    for found in rows.values():
        for row in found:
            row[:] = [texts.setdefault(cell, cell) if isinstance(cell, str) else cell for cell in row]
    return Told(
        member=answered.member,
        planned_for=answered.outlook is not None,
        problems=answered.problems,
        doubts=answered.doubts,
        plans=[zlib.compress(planned.raw.encode(), 1) for planned in answered.plans],
        rows=rows,
        cautions=_cautions(answered),
    )


def _season_rows(answered: Answered) -> list[Row]:
    """A row for each window of each member; one without dates where there is none."""
    if answered.outlook is None:
        return []
    rows = []
    season, site = answered.outlook["season"], answered.outlook["site"]
    outcome = season["outcome"]
    basis = answered.outlook["basis"]
    chosen = [*answered.doubts, *answered.member.remarks]
    remarks = [*chosen, *(each["advice"] for each in basis if each.get("advice"))]
    for window in outcome.get("windows") or [{}]:
        errors = window.get("error_range") or {}
        reasons = outcome.get("reasons", [])
        rows.append(
            [
                answered.member.name,
                OUTCOMES[outcome["kind"]],
                _date(window.get("opens")),
                _date(window.get("closes")),
                window.get("days"),
                _lines(window.get("opened_by", reasons)),
                _lines(window.get("closed_by", [])),
                _end(errors.get("warmer"), "opens"),
                _end(errors.get("cooler"), "opens"),
                _end(errors.get("cooler"), "closes"),
                _end(errors.get("warmer"), "closes"),
                errors.get("error_c"),
                "\n".join(each["about"] for each in basis),
                "\n".join(remarks),
                site["latitude_deg"],
                site["longitude_deg"],
                site["elevation_m"],
                site["zone"],
                answered.outlook["bee"]["label"],
            ]
        )
    return rows


def _end(shifted: dict[str, Any] | None, end: str) -> dt.date | str | None:
    """One end of a window if it were warmer or cooler: a date, or why there is none."""
    if shifted is None:
        return None
    if end in shifted:
        return _date(shifted[end])
    words = {"none": "no window", "all_year": "all year", "from": "no end", "until": "no beginning"}
    return words[shifted["kind"]]


def _morning_rows(answered: Answered) -> list[Row]:
    """The next mornings, by date and member."""
    if answered.outlook is None:
        return []
    rows = []
    zone = answered.outlook["site"]["zone"]
    for ranked in answered.outlook["mornings"]:
        morning = ranked["morning"]
        window = morning["window"]
        moved = window["kind"] == "open"
        begins, ends = _times(window) if moved else (None, None)
        evening = morning["evening_before"]
        why = [reason["text"] for reason in ranked["reasons"]]
        if evening["lamp_needed"]:
            why.append("Closing needs a lamp.")
        why += [reason["text"] for reason in window.get("help", [])]
        rows.append(
            [
                answered.member.name,
                _date(morning["date"]),
                ranked["rank"],
                _time(evening["from_clock"]),
                begins,
                ends,
                window.get("minutes"),
                _time(morning["first_flight_clock"]),
                morning["temperature_c"],
                morning["rain_mm"],
                WEATHER[morning["source"]],
                " ".join(why),
                zone,
            ]
        )
    return rows


def gone_rows(ledger: Ledger) -> list[Row]:
    """What keepers wrote at tasks that are gone: the plan is over, or the member has left."""
    return [
        not_planned(entry.cells, "no longer planned")
        for entries in ledger.entries.values()
        for entry in entries
        if not entry.used
    ]


def told(sheet: Sheet, rows: Sequence[Row], ledger: Ledger) -> list[Row]:
    """Earlier rows of other sheets than that of the tasks in whose own columns or comments somebody wrote
    something, and that would be gone."""
    look = ledger.looks.get(sheet.title)
    if look is None or sheet is layout.TASKS or not sheet.key:
        return []
    earlier = ledger.rows[sheet.title]
    now = set(keys(sheet, rows))
    return [
        row
        for (key, old), row in zip(look.rows.items(), earlier, strict=True)
        if old.told and key not in now
    ]


def in_order(sheet: Sheet, rows: Iterable[Row]) -> list[Row]:
    """By date, time of day, member and hive, as far as the sheet has them; else as they are."""
    if not sheet.has("Date"):
        return list(rows)

    def order(row: Row) -> tuple[dt.date, dt.time, str, str]:
        def cell(title: str) -> Any:
            return row[sheet.at(title)] if sheet.has(title) else None

        day, start = cell("Date"), cell("From")
        return (
            day if isinstance(day, dt.date) else dt.date.max,
            start if isinstance(start, dt.time) else dt.time(),
            str(cell("Member")).casefold(),
            str(cell("Hive")).casefold(),
        )

    return sorted(rows, key=order)


def _tasks(planned: Planned) -> list[Row]:
    rows = []
    plan = planned.plan
    by_task = {entry.task: entry for entry in planned.entries}
    for task in plan["tasks"]:
        state = task["state"]["kind"]
        entry = by_task.get(task["id"])
        if state == "dropped" and entry is None:
            continue
        dates, window = task["dates"], task.get("window")
        begins, ends = _times(window) if window else (None, None)
        done = _date(task["state"]["on"]) if state == "done" else None
        own: Row = [None] * len(layout.OWN_COLUMNS)
        if entry is not None:
            date = _own_date(entry.done, done)
            own = [date, entry.outcome, entry.seen, entry.notes, entry.agreed, entry.counts, entry.strength]
        rows.append(
            [
                done or _date(dates["best"]),
                begins,
                ends,
                planned.member.name,
                planned.colony.name,
                BOX_WORDS[task["which"]],
                task["title"],
                *own,
                _date(dates["earliest"]),
                _date(dates["latest"]),
                "left out" if state == "dropped" else state,
                " ".join(reason["text"] for reason in task["why"]),
                " ".join(task["look_for"]),
                ", ".join(caution["code"].replace("_", " ") for caution in task["cautions"]),
                plan["site"]["zone"],
                plan["id"],
                task["id"],
            ]
        )
    return rows


def _own_date(given: Any, understood: dt.date | None) -> Any:
    """The date as it was understood; where it was not, what stands there."""
    return given if understood is None else understood


def _colony_rows(answered: Answered) -> list[Row]:
    """Where each colony and its plan stand."""
    rows = []
    for planned in answered.plans:
        plan, review = planned.plan, planned.review or {}
        ahead = [task for task in plan["tasks"] if task["state"]["kind"] == "planned"]
        following = min(ahead, key=lambda task: task["dates"]["best"], default=None)
        division = next((task for task in plan["tasks"] if task["kind"] == "divide"), None)
        settle = review.get("settle")
        rows.append(
            [
                planned.member.name,
                planned.colony.name,
                plan["method"].replace("_", " "),
                _date(division and division["dates"]["best"]),
                _date(plan.get("last_safe")),
                _date(following and following["dates"]["best"]),
                following and following["title"],
                (review.get("standing") or "not divided yet").replace("_", " "),
                settle
                and f"{settle['look_for']} From {settle['from']}, by {settle['by']}.",
                "\n".join(
                    f"{advice['text']} {advice['reason']['text']}"
                    for advice in review.get("recommendations", [])
                ),
                _lines(plan["notes"]),
                plan["id"],
                planned.wanted,
            ]
        )
    return rows


def _cautions(answered: Answered) -> dict[str, str]:
    """What to mind, each once, by the short name that the task sheet has."""
    lists: list[Sequence[Answer]] = [(answered.outlook or {}).get("cautions", [])]
    for planned in answered.plans:
        lists.append(planned.plan["cautions"])
        lists += [task["cautions"] for task in planned.plan["tasks"]]
    found: dict[str, str] = {}
    for cautions in lists:
        for caution in cautions:
            found.setdefault(caution["code"].replace("_", " "), caution["text"])
    return found


def _lines(reasons: Iterable[Answer]) -> str:
    return "\n".join(reason["text"] for reason in reasons)


def _date(text: str | None) -> dt.date | None:
    return None if text is None else dt.date.fromisoformat(text)


def _times(window: Answer) -> tuple[dt.time | None, dt.time | None]:
    """On the site's clocks, as the engine rounds them."""
    return _time(window["from_clock"]), _time(window["until_clock"])


def _time(text: str | None) -> dt.time | None:
    return None if text is None else dt.time.fromisoformat(text)
