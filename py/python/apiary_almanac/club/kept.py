"""What stays of members whose row cannot be read now: their last good plan, tasks and mornings."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field

from apiary_almanac.club import cells, layout
from apiary_almanac.club.ledger import Ledger, Row

MARK = "Kept from an earlier run: the member's row cannot be read."
NOT_RENEWED = "not renewed"
"""The state of their tasks that are ahead."""


@dataclass(kw_only=True)
class Kept:
    """Rows of the earlier workbook that are written again."""

    members: list[str] = field(default_factory=list)
    plans: set[str] = field(default_factory=set)
    """Their ids."""
    rows: dict[str, list[Row]] = field(default_factory=dict)
    """By sheet."""


def keep(ledger: Ledger, read: Iterable[str], unread: Iterable[str], today: dt.date) -> Kept:
    """Find what is kept.

    ``read`` are the names of the members who are planned for, ``unread`` those of rows that were
    refused. Where such a row has no name it may be that of anybody who is not on the list, and all
    of those are kept.
    """
    planned = {name.casefold() for name in read}
    refused = {name.casefold() for name in unread}
    kept = Kept()
    for sheet in layout.TABLES:
        if not sheet.has("Member"):
            continue
        for row in ledger.rows.get(sheet.title, []):
            name = cells.text(row[sheet.at("Member")])
            known = name.casefold()
            if known in planned or not ("" in refused or known in refused):
                continue
            if sheet is layout.MORNINGS and not _ahead(row, today):
                continue
            if name not in kept.members:
                kept.members.append(name)
            kept.rows.setdefault(sheet.title, []).append(_marked(sheet, row))
            if sheet.has(layout.PLAN):
                kept.plans.add(cells.text(row[sheet.at(layout.PLAN)]))
    for plan in kept.plans:
        for entry in ledger.entries.get(plan, []):
            entry.used = True
    return kept


def _ahead(row: Row, today: dt.date) -> bool:
    date = row[layout.MORNINGS.at("Date")]
    return isinstance(date, dt.date) and date > today


def _marked(sheet: layout.Sheet, row: Row) -> Row:
    row = list(row)
    if sheet is layout.TASKS:
        if isinstance(row[sheet.at(layout.DONE)], dt.date):
            row[sheet.at("State")] = "done"
        elif row[sheet.at("State")] == "planned":
            row[sheet.at("State")] = NOT_RENEWED
        return row
    text = sheet.at({"Season": "Remarks", "Mornings": "Why", "Colonies": "Notes"}[sheet.title])
    said = cells.text(row[text])
    row[text] = said if said.startswith(MARK) else f"{MARK} {said}".strip()
    return row
