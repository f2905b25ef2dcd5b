"""Asks the engine about every member; decides nothing."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import os
import re
import unicodedata
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any, TypeVar

from apiary_almanac import ApiaryError, _core
from apiary_almanac.club import cells, layout
from apiary_almanac.club.columns import HEADERS
from apiary_almanac.club.ledger import Entry, Ledger, written
from apiary_almanac.club.members import Colony, Member, Members
from apiary_almanac.club.problems import Problem

T = TypeVar("T")
Answer = dict[str, Any]
MONTH_D = 365.25 / 12
TABLES = ("normals", "records", "forecast")

COLUMN_OF_FIELD = {
    "latitude_deg": "latitude",
    "longitude_deg": "longitude",
    "elevation_m": "elevation",
    "zone": "zone",
    "bee": "bee",
    "based_on": "bee",
    "method": "method",
    "net_weight_kg": "weights",
    "months_since_division": "last_division",
    "strength": "strength",
    "free_weekdays": "free_days",
    "name": "hives",
    "daughter_name": "new_hives",
    "keeper": "name",
}

COLUMN_OF_RECORD = {
    "outcome": layout.OUTCOME,
    "which": layout.OUTCOME,
    "signs": layout.SEEN,
    "counts": layout.COUNTS,
    "note": layout.NOTES,
}
"""The keepers' column that a field of a record was read from, where that is not the date."""


@dataclass(frozen=True, kw_only=True)
class Question:
    """What is the same for all members."""

    today: dt.date
    method: str | None
    """Of members who name none; None for no plans."""
    mornings: int
    club: str | None


@dataclass(frozen=True, kw_only=True)
class Planned:
    """A colony's plan; with records its review."""

    member: Member
    colony: Colony
    plan: Answer
    raw: str
    """The plan as the engine wrote it."""
    review: Answer | None
    entries: Sequence[Entry]
    wanted: dt.date | None
    """The date near which the work was asked for."""


@dataclass(frozen=True, kw_only=True)
class Answered:
    """All about one member."""

    member: Member
    outlook: Answer | None
    """None where the row was refused."""
    plans: list[Planned]
    problems: list[Problem]
    doubts: tuple[str, ...] = ()
    """What is doubtful about the place: a height that was not given, a zone that is far off."""


def answer_all(
    members: Members,
    question: Question,
    ledger: Ledger,
    keep: Callable[[Answered], T],
    step: Callable[[], None],
) -> list[T]:
    """Ask about every member, on all cores, and keep of each answer what ``keep`` makes of it; ``step`` is
    called after each."""
    # The engine lets other threads run while it computes.
    with ThreadPoolExecutor(max_workers=os.cpu_count()) as pool:
        kept = []
        for one in pool.map(
            lambda member: keep(_answer(member, members, question, ledger)), members.members
        ):
            kept.append(one)
            step()
        return kept


def _answer(member: Member, members: Members, question: Question, ledger: Ledger) -> Answered:
    problems: list[Problem] = []
    divided = [each.last_division for each in member.colonies if each.last_division is not None]
    if late := [date for date in divided if date > question.today]:
        problem = Problem(
            sheet=members.sheet,
            row=member.row,
            column=members.columns["last_division"].header,
            value=str(late[0]),
            reason=f"it is after today, {question.today}",
        )
        return Answered(member=member, outlook=None, plans=[], problems=[problem])
    try:
        checked = _ask({"ask": "place", "site": member.site})
        doubts = {doubt["code"]: doubt["text"] for doubt in checked["doubts"]}
        if "no_elevation" in doubts:
            reason = "the height of the hives above sea level is needed: there is no land near of which it is known"
            problem = _problem(member, members, "elevation", reason)
            return Answered(member=member, outlook=None, plans=[], problems=[problem])
        outlook = _ask(
            {
                "ask": "outlook",
                "site": member.site,
                "today": question.today.isoformat(),
                "mornings": question.mornings,
                **_common(member),
            }
        )
        method = member.method or question.method
        plans = []
        if method is not None and method != "none":
            for colony in member.colonies:
                plans.append(_plan(member, colony, method, question, ledger, problems))
    except ApiaryError as error:
        problem = _refused(member, members, error)
        return Answered(member=member, outlook=None, plans=[], problems=[problem])
    return Answered(
        member=member,
        outlook=outlook,
        plans=plans,
        problems=problems,
        doubts=(*member.taken, *doubts.values()),
    )


def _ask(request: Answer) -> Answer:
    answer: Answer = json.loads(_core.ask(json.dumps(request)))
    return answer


def _common(member: Member) -> Answer:
    """The fields that every question about a member has."""
    common: Answer = {"climate": member.climate, "free_weekdays": member.free_weekdays}
    return common if member.bee is None else {**common, "bee": member.bee}


def _plan(
    member: Member,
    colony: Colony,
    method: str,
    question: Question,
    ledger: Ledger,
    problems: list[Problem],
) -> Planned:
    stem = plan_stem(member.name, colony.name, method)
    numbers = [
        int(number)
        for plan in ledger.plans
        for base, _, number in [plan.rpartition("-")]
        if base == stem and number.isdigit()
    ]
    number = max(numbers, default=1)
    planned = _version(member, colony, method, f"{stem}-{number}", question, ledger, problems)
    if any(task["state"]["kind"] == "planned" for task in planned.plan["tasks"]):
        return planned
    # All of it is done: the next one begins, and what was written there is only kept.
    for entry in planned.entries:
        entry.used = False
    return _version(member, colony, method, f"{stem}-{number + 1}", question, ledger, problems)


def _version(
    member: Member,
    colony: Colony,
    method: str,
    id: str,
    question: Question,
    ledger: Ledger,
    problems: list[Problem],
) -> Planned:
    today = question.today
    facts: Answer = {"name": colony.name}
    if colony.net_weight_kg is not None:
        facts["net_weight_kg"] = colony.net_weight_kg
    if colony.new_name is not None:
        facts["daughter_name"] = colony.new_name
    if colony.strength is not None:
        facts["strength"] = colony.strength
    if colony.last_division is not None:
        facts["months_since_division"] = (today - colony.last_division).days / MONTH_D
    request: Answer = {
        "site": member.site,
        "today": today.isoformat(),
        "method": method,
        "colony": facts,
        "id": id,
        "keeper": member.name,
        **_common(member),
    }
    if question.club is not None:
        request["club"] = question.club
    wanted = ledger.near(id, today)
    if wanted is not None:
        request["wanted"] = wanted.isoformat()
    entries = ledger.entries.get(id, [])
    own = written(entries, today, _boxes(colony), problems)
    request["records"], request["fixed"] = own.records, own.fixed
    if own.strength is not None:
        # Judged since; the list has no date.
        facts["strength"] = own.strength
    while True:
        try:
            return _planned(member, colony, request, entries, wanted)
        except ApiaryError as error:
            entry = _entry_at_fault(error, request, entries)
            if entry is None:
                raise
            problems.append(_not_taken(entry, error))


def _boxes(colony: Colony) -> dict[str, str]:
    """The two boxes by the names that the list gives them."""
    new = {} if colony.new_name is None else {colony.new_name: "daughter"}
    return {colony.name: "parent", **new}


def _planned(
    member: Member,
    colony: Colony,
    request: Answer,
    entries: Sequence[Entry],
    wanted: dt.date | None,
) -> Planned:
    if request["records"]:
        review = _ask({"ask": "review", **request})
        plan = review["plan"]
        raw = json.dumps(plan, ensure_ascii=False)
    else:
        review = None
        raw = _core.ask(json.dumps({"ask": "plan", **request}))
        plan = json.loads(raw)
    for entry in entries:
        entry.used = entry.used or any(task["id"] == entry.task for task in plan["tasks"])
    return Planned(
        member=member,
        colony=colony,
        plan=plan,
        raw=raw,
        review=review,
        entries=entries,
        wanted=wanted,
    )


def _entry_at_fault(
    error: ApiaryError, request: Answer, entries: Sequence[Entry]
) -> tuple[Entry, str] | None:
    """The entry of a record or date that the engine refuses; it is taken out of the request."""
    for key, column in (("records", layout.DONE), ("fixed", layout.AGREED)):
        if not error.field.startswith(key) or not request[key]:
            continue
        found = re.match(rf"{key}\[(\d+)\](?:\.(\w+))?", error.field)
        # Without a number: the newest is given up first.
        at = int(found[1]) if found else len(request[key]) - 1
        task = request[key].pop(at)["task"]
        entry = next((entry for entry in entries if entry.task == task), None)
        named = None if found is None else COLUMN_OF_RECORD.get(found[2])
        return None if entry is None else (entry, named or column)
    return None


def _not_taken(at: tuple[Entry, str], error: ApiaryError) -> Problem:
    entry, column = at
    value = cells.text(entry.cells[layout.TASKS.at(column)])
    return Problem(
        sheet=layout.TASKS.title, row=entry.row, column=column, value=value, reason=str(error)
    )


def _refused(member: Member, members: Members, error: ApiaryError) -> Problem:
    """The cell of a value that the engine refuses."""
    name = re.sub(r"\[\d+\]", "", error.field).rsplit(".", 1)[-1]
    key = COLUMN_OF_FIELD.get(name, "")
    for table in TABLES:
        file = member.climate.get(f"{table}_csv", {}).get("file")
        if file is not None and str(error).startswith(f"{file}"):
            key = table
    return _problem(member, members, key, str(error), error.field)


def _problem(
    member: Member, members: Members, key: str, reason: str, header: str = ""
) -> Problem:
    """A value that was read and cannot be used."""
    if key in ("latitude", "longitude") and key not in members.columns:
        key = "coordinates" if "coordinates" in members.columns else "turned_coordinates"
    if key == "name" and key not in members.columns:
        key = "last_name" if "last_name" in members.columns else "first_name"
    values: dict[str, Any] = {
        "latitude": member.site["latitude_deg"],
        "longitude": member.site["longitude_deg"],
        "coordinates": f"{member.site['latitude_deg']}, {member.site['longitude_deg']}",
        "turned_coordinates": f"{member.site['longitude_deg']}, {member.site['latitude_deg']}",
        "elevation": member.site.get("elevation_m"),
        "zone": member.site["zone"],
        "bee": member.bee,
        "method": member.method,
        "weights": "; ".join(str(colony.net_weight_kg or "?") for colony in member.colonies),
        "last_division": "; ".join(str(colony.last_division or "?") for colony in member.colonies),
        "strength": "; ".join(colony.strength or "?" for colony in member.colonies),
        "free_days": ", ".join(member.free_weekdays),
        "name": member.name,
        "hives": "; ".join(colony.name for colony in member.colonies),
        "new_hives": "; ".join(colony.new_name or "?" for colony in member.colonies),
        **{key: member.climate.get(f"{key}_csv", {}).get("file") for key in TABLES},
    }
    column = members.columns.get(key)
    known = HEADERS[key][0] if key in HEADERS else header
    return Problem(
        sheet=members.sheet,
        row=member.row,
        column=known if column is None else column.header,
        value=str(values.get(key) or ""),
        reason=reason,
    )


def plan_stem(*names: str) -> str:
    """Small letters, digits and hyphens; the same for the same names, another for others."""
    plain = unicodedata.normalize("NFKD", "-".join(names)).encode("ascii", "ignore").decode()
    slug = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:70].strip("-")
    # Two names may become one slug.
    mark = hashlib.blake2b("\n".join(names).encode(), digest_size=3).hexdigest()
    return "-".join(filter(None, (slug, mark)))
