"""Takes what members wrote into copies of the club's workbook over into the workbook."""

from __future__ import annotations

from dataclasses import dataclass, field

from apiary_almanac.club import cells, layout
from apiary_almanac.club.ledger import Entry, Ledger, enter
from apiary_almanac.club.looks import keys


@dataclass(kw_only=True)
class Merged:
    """What came of it, in words."""

    taken: list[str] = field(default_factory=list)
    differing: list[str] = field(default_factory=list)


def merge(ledger: Ledger, copy: Ledger, name: str, merged: Merged) -> None:
    """Take over what the copy has in the keepers' columns, task by task. What stands in the workbook is never
    lost: it wins, but for notes that the copy has only added to."""
    sheet = layout.TASKS
    rows = ledger.rows.setdefault(sheet.title, [])
    look = ledger.looks.get(sheet.title)
    here = dict(zip(keys(sheet, rows), rows, strict=True))
    theirs = copy.rows.get(sheet.title, [])
    for key, row in zip(keys(sheet, theirs), theirs, strict=True):
        whose = f"{name}: {cells.text(row[sheet.at('Member')])}, {cells.text(row[sheet.at('Task')])}"
        for column in layout.OWN_COLUMNS:
            at = sheet.at(column)
            given = cells.text(row[at])
            if not given:
                continue
            if key not in here:
                merged.differing.append(f"{whose}, {column}: {given!r} is of a task that is not in the workbook")
                continue
            mine = cells.text(here[key][at])
            if mine == given:
                continue
            if mine and not (column == layout.NOTES and given.startswith(mine)):
                merged.differing.append(f"{whose}, {column}: {given!r}; the workbook has {mine!r} and keeps it")
                continue
            here[key][at] = row[at]
            number = look.rows[key].number if look is not None else 0
            _again(ledger, number, here[key])
            merged.taken.append(f"{whose}, {column}: {given!r}")


def _again(ledger: Ledger, number: int, row: list[object]) -> None:
    """Read a row again that has changed."""
    plan = cells.text(row[layout.TASKS.at(layout.PLAN)])
    task = cells.text(row[layout.TASKS.at(layout.TASK)])
    others: list[Entry] = [one for one in ledger.entries.get(plan, []) if one.task != task]
    ledger.entries[plan] = others
    enter(number, row, True, ledger)
