"""What stays of members who cannot be planned for now: their last good plan, tasks and mornings."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field

from apiary_almanac.club import cells, layout
from apiary_almanac.club.ledger import Ledger, Row, not_planned

UNREADABLE = "Kept from an earlier run: the member's row cannot be read."
MISSING = "Kept from an earlier run: the member is not on the list."


@dataclass(kw_only=True)
class Kept:
    """Rows of the earlier workbook that are written again."""

    unreadable: list[str] = field(default_factory=list)
    """Members whose row cannot be read."""
    missing: list[str] = field(default_factory=list)
    """Members who are not on the list."""
    plans: set[str] = field(default_factory=set)
    """The ids of their plans."""
    rows: dict[str, list[Row]] = field(default_factory=dict)
    """By sheet."""


def keep(
    ledger: Ledger, read: Iterable[str], unread: Iterable[str], left: bool, today: dt.date
) -> Kept:
    """Find what is kept.

    ``read`` are the names of the members who are planned for, ``unread`` those of rows that were
    refused; one without a name may be that of anybody who is not on the list. ``left`` says that who
    is not on the list has left, and then nothing of theirs is kept but what was written.
    """
    planned = {name.casefold() for name in read}
    refused = {name.casefold() for name in unread}
    kept = Kept()
    why: dict[str, str] = {}
    # Who left before stands on none of these, though something written may stay among the tasks.
    for sheet in (layout.SEASON, layout.COLONIES):
        for row in ledger.rows.get(sheet.title, []):
            name = cells.text(row[sheet.at("Member")])
            known = name.casefold()
            if known in planned or known in why:
                continue
            if known in refused or "" in refused:
                why[known] = UNREADABLE
                kept.unreadable.append(name)
            elif not left:
                why[known] = MISSING
                kept.missing.append(name)
    for sheet in layout.TABLES:
        if not sheet.has("Member"):
            continue
        for row in ledger.rows.get(sheet.title, []):
            known = cells.text(row[sheet.at("Member")]).casefold()
            if known not in why or (sheet is layout.MORNINGS and not _ahead(row, today)):
                continue
            kept.rows.setdefault(sheet.title, []).append(_marked(sheet, row, why[known]))
            if sheet.has(layout.PLAN):
                kept.plans.add(cells.text(row[sheet.at(layout.PLAN)]))
    for plan in kept.plans:
        for entry in ledger.entries.get(plan, []):
            entry.used = True
    return kept


def _ahead(row: Row, today: dt.date) -> bool:
    date = row[layout.MORNINGS.at("Date")]
    return isinstance(date, dt.date) and date > today


def _marked(sheet: layout.Sheet, row: Row, mark: str) -> Row:
    if sheet is layout.TASKS:
        return not_planned(row, layout.NOT_RENEWED)
    row = list(row)
    text = sheet.at({"Season": "Remarks", "Mornings": "Why", "Colonies": "Notes"}[sheet.title])
    said = cells.text(row[text])
    for earlier in (UNREADABLE, MISSING):
        said = said.removeprefix(earlier).strip()
    row[text] = f"{mark} {said}".strip()
    return row
