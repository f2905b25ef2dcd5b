"""What keepers wrote into an earlier version of the club's workbook."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

import openpyxl

from apiary_almanac.club import cells, layout
from apiary_almanac.club.cells import Cell, NotUnderstood
from apiary_almanac.club.counts import counted
from apiary_almanac.club.dates import date
from apiary_almanac.club.layout import Sheet
from apiary_almanac.club.looks import Formula, Look, OldRow, keys, noted
from apiary_almanac.club.opening import check_styles, rows_of
from apiary_almanac.club.package import unpack
from apiary_almanac.club.problems import Problem, Refused
from apiary_almanac.club.signs import outcome, seen, strength
from apiary_almanac.club.stripped import stripped

MOST_MB = 4_000
"""Of the club's own workbook once unpacked."""


Row = list[Any]
T = TypeVar("T")


@dataclass(kw_only=True)
class Entry:
    """A row of the task sheet in which a keeper wrote something, be it in a column of their own."""

    row: int
    task: str
    agreed: Cell
    done: Cell
    outcome: Cell
    seen: Cell
    notes: Cell
    counts: Cell
    strength: Cell
    cells: Row
    """The whole row, for when its plan is no more."""
    used: bool = False


@dataclass(kw_only=True)
class Ledger:
    """The earlier workbook."""

    entries: dict[str, list[Entry]] = field(default_factory=dict)
    """By the plan's id."""
    begins: dict[str, dt.date] = field(default_factory=dict)
    """When the division of a plan was to be."""
    wanted: dict[str, dt.date] = field(default_factory=dict)
    """Near which date it was asked for, where it was."""
    made_for: dt.date | None = None
    """The day on which it was planned."""
    version: int = -1
    """Of the calendar."""
    made_from: str | None = None
    """The list of members."""
    columns: str | None = None
    """How the columns of that list were read."""
    rows: dict[str, list[Row]] = field(default_factory=dict)
    """All rows of its tables, by sheet, in today's columns."""
    looks: dict[str, Look] = field(default_factory=dict)
    """What people made of them, by sheet."""
    book: Any = None
    """The workbook itself, but for the rows of its tables; None where there is none."""

    def near(self, plan: str, today: dt.date) -> dt.date | None:
        """The date near which a plan is to begin.

        A date once named stays, unless the weather speaks against it: without being asked, the
        engine takes the first good date from today on, which is another one every day. On the day
        of the earlier workbook the question is the same again, so that nothing changes.
        """
        if self.made_for == today:
            return self.wanted.get(plan)
        begins = self.begins.get(plan)
        return begins if begins is not None and begins >= today else None

    @property
    def plans(self) -> set[str]:
        """The ids of its plans."""
        return {*self.entries, *self.begins}


def read_ledger(path: Path, content: bytes | None) -> Ledger:
    """Read an earlier version of the club's workbook; an empty ledger where there is none.

    Raises Refused for a file of another kind, which would be overwritten.
    """
    ledger = Ledger()
    if content is None:
        return ledger
    otherwise = "is there and is not a workbook; it is not overwritten"
    with unpack(path, content, MOST_MB, otherwise) as parts:
        try:
            check_styles(parts)
            book: Any = openpyxl.load_workbook(
                io.BytesIO(content), data_only=True, read_only=True
            )
            tables = {
                page._worksheet_path.lstrip("/") for page in book if page.title in layout.TITLES
            }
            ledger.book = stripped(parts, tables)
            _read(path, book, content, ledger)
        except Refused:
            raise
        except Exception as error:
            # What openpyxl raises for a damaged file is of every kind: of zip, of XML, of its own.
            raise Refused(f"{path} {otherwise}") from error
    return ledger


def _read(path: Path, book: Any, content: bytes, ledger: Ledger) -> None:
    names = book.sheetnames
    if layout.ABOUT not in names or layout.TASKS.title not in names:
        raise Refused(
            f"{path} is there and is not a club's workbook of this program (it has no sheets "
            f"{layout.TASKS.title!r} and {layout.ABOUT!r}); it is not overwritten"
        )
    for row in rows_of(path, layout.ABOUT, book[layout.ABOUT], values_only=True):
        name, value = (*row, None, None)[:2]
        if name == layout.VERSION and isinstance(value, (int, float)):
            ledger.version = int(value)
        if name == layout.MADE_FOR and isinstance(value, dt.datetime):
            ledger.made_for = value.date()
        if name == layout.MADE_FROM and isinstance(value, str):
            ledger.made_from = value
        if name == layout.COLUMNS and isinstance(value, str):
            ledger.columns = value
    formulas: Any = openpyxl.load_workbook(io.BytesIO(content), read_only=True)
    for sheet in layout.TABLES:
        if sheet.title in names:
            rows = rows_of(path, sheet.title, book[sheet.title], values_only=False)
            again = rows_of(path, sheet.title, formulas[sheet.title], values_only=False)
            _table(path, sheet, rows, again, ledger)


def _table(
    path: Path,
    sheet: Sheet,
    rows: Iterator[tuple[Any, ...]],
    again: Iterator[tuple[Any, ...]],
    ledger: Ledger,
) -> None:
    """The rows of a sheet below its header, wherever its columns stand now. ``again`` are the same rows
    with formulas in place of their values."""
    titles = [cells.text(cell.value) for cell in next(rows, ())]
    commented = {row for row, _ in noted(ledger.book[sheet.title])}
    if sheet.has(layout.PLAN) and layout.PLAN not in titles:
        raise Refused(
            f"{path}, sheet {sheet.title}: the header row or its column {layout.PLAN!r} "
            "is gone, and without it no note finds its task; put it back, or move the "
            "file away for a new start"
        )
    look = Look(titles=titles)
    if not any(map(sheet.has, titles)):
        # Not the program's any more.
        return
    ledger.looks[sheet.title] = look
    places = [titles.index(column.title) if column.title in titles else None for column in sheet.columns]
    ours = {place for place in places if place is not None}
    found = ledger.rows.setdefault(sheet.title, [])
    olds: list[OldRow] = []
    same: dict[tuple[int, ...], tuple[int, ...]] = {}
    added = set(range(len(titles))) - ours
    # Only columns that people added have formulas, and a second reading takes as long as the first.
    formulas = _formulas(again, added) if added else {}
    for number, row in enumerate(rows, start=2):
        given = [_value(cell.value) for cell in row]
        values = [given[at] if at is not None and at < len(row) else None for at in places]
        own = {at: value for at, value in enumerate(given) if at not in ours and cells.text(value)}
        # What a formula says is nobody's note.
        calculated = formulas.get(number, {})
        told = not own.keys() <= calculated.keys() or number in commented
        own |= calculated
        if not told and not any(map(cells.text, values)):
            continue
        styles = tuple(getattr(cell, "_style_id", 0) for cell in row)
        olds.append(
            OldRow(number=number, styles=same.setdefault(styles, styles), own=own, told=told)
        )
        found.append(values)
        if sheet is layout.TASKS:
            enter(number, values, told, ledger)
        if sheet is layout.COLONIES:
            _colony(values, ledger)
    if sheet.key:
        look.rows.update(zip(keys(sheet, found), olds, strict=True))


def _formulas(rows: Iterator[tuple[Any, ...]], columns: set[int]) -> dict[int, dict[int, Formula]]:
    """The formulas in these columns, by row."""
    found: dict[int, dict[int, Formula]] = {}
    for number, row in enumerate(rows, start=1):
        for at in columns:
            if at < len(row) and row[at].data_type == "f" and isinstance(row[at].value, str):
                found.setdefault(number, {})[at] = Formula(row[at].value)
    return found


def _value(cell: Cell) -> Cell:
    """A date of a cell is read as a moment."""
    return cell.date() if isinstance(cell, dt.datetime) and cell.time() == dt.time() else cell


def enter(number: int, row: Row, more: bool, ledger: Ledger) -> None:
    """Enter a row of the tasks in which somebody wrote; ``more``: elsewhere than in the keepers' columns."""
    at = layout.TASKS.at
    plan, task = cells.text(row[at(layout.PLAN)]), cells.text(row[at(layout.TASK)])
    own = {name: row[at(name)] for name in layout.OWN_COLUMNS}
    if plan and task and (more or any(map(cells.text, own.values()))):
        entry = Entry(
            row=number,
            task=task,
            agreed=own[layout.AGREED],
            done=own[layout.DONE],
            outcome=own[layout.OUTCOME],
            seen=own[layout.SEEN],
            notes=own[layout.NOTES],
            counts=own[layout.COUNTS],
            strength=own[layout.STRENGTH],
            cells=row,
        )
        ledger.entries.setdefault(plan, []).append(entry)


def not_planned(row: Row, otherwise: str) -> Row:
    """A row of the tasks for which there is no plan now: done, where it was; ``otherwise`` says what was planned."""
    row = list(row)
    state, done = layout.TASKS.at("State"), row[layout.TASKS.at(layout.DONE)]
    in_vain = cells.name(row[layout.TASKS.at(layout.OUTCOME)]) == "not_possible"
    if isinstance(done, dt.date) and not in_vain:
        row[state] = "done"
    elif row[state] in ("planned", layout.NOT_RENEWED):
        row[state] = otherwise
    return row


def _colony(row: Row, ledger: Ledger) -> None:
    plan = cells.text(row[layout.COLONIES.at(layout.PLAN)])
    for column, dates in ((layout.BEGINS, ledger.begins), (layout.WANTED, ledger.wanted)):
        when = row[layout.COLONIES.at(column)]
        if isinstance(when, dt.date):
            dates[plan] = when


@dataclass(frozen=True, kw_only=True)
class Written:
    """What a keeper wrote, as the engine takes it."""

    records: list[dict[str, Any]]
    fixed: list[dict[str, Any]]
    strength: str | None
    """As it was judged last."""


def written(
    entries: Sequence[Entry], today: dt.date, boxes: Mapping[str, str], problems: list[Problem]
) -> Written:
    """Turn entries into records and agreed dates; cells that cannot be read become problems. ``boxes`` are
    the names of the two boxes."""
    records, fixed = [], []
    judged: tuple[dt.date, str] | None = None
    for entry in entries:

        def refuse(column: str, value: Cell, reason: str, row: int = entry.row) -> None:
            problems.append(
                Problem(
                    sheet=layout.TASKS.title,
                    row=row,
                    column=column,
                    value=cells.text(value),
                    reason=reason,
                )
            )

        def read(column: str, value: Cell, how: Callable[[Cell], T]) -> T | None:
            """None too where it is refused."""
            try:
                return how(value)
            except NotUnderstood as problem:
                refuse(column, value, str(problem))
                return None

        done = read(layout.DONE, entry.done, date) if cells.text(entry.done) else None
        if done is not None and done > today:
            refuse(layout.DONE, entry.done, f"it is after today, {today}")
            done = None
        came = read(layout.OUTCOME, entry.outcome, lambda cell: outcome(cell, boxes))
        signs = read(layout.SEEN, entry.seen, lambda cell: seen(cell, boxes))
        counts = read(layout.COUNTS, entry.counts, lambda cell: counted(cell, boxes))
        how_strong = read(layout.STRENGTH, entry.strength, strength)
        if done is not None:
            record: dict[str, Any] = {"date": done.isoformat(), "task": entry.task, **(came or {})}
            if signs:
                record["signs"] = signs
            if counts:
                record["counts"] = counts
            if how_strong is not None and (judged is None or done >= judged[0]):
                judged = done, how_strong
            # The engine takes notes of 2,000 bytes at most; the cell keeps all of it.
            if note := cells.text(entry.notes)[:480]:
                record["note"] = note
            records.append(record)
        elif not cells.text(entry.done):
            for column, value, found in (
                (layout.OUTCOME, entry.outcome, came),
                (layout.SEEN, entry.seen, signs),
                (layout.COUNTS, entry.counts, counts),
                (layout.STRENGTH, entry.strength, how_strong),
            ):
                if found:
                    refuse(column, value, f"the date is needed too, in {layout.DONE!r}")
        if cells.text(entry.agreed) and done is None:
            agreed = read(layout.AGREED, entry.agreed, date)
            if agreed is not None:
                fixed.append({"task": entry.task, "date": agreed.isoformat()})
    return Written(records=records, fixed=fixed, strength=judged and judged[1])
