"""Makes the club's workbook and calendar."""

from __future__ import annotations

import datetime as dt
import functools
import io
import os
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from openpyxl.workbook import Workbook

from apiary_almanac import _core, about
from apiary_almanac.club import layout, rows, sheets
from apiary_almanac.club.answers import Question, answer_all
from apiary_almanac.club.club_ics import Calendar, club_calendar, earlier_calendar
from apiary_almanac.club.columns import told as how_read
from apiary_almanac.club.counts import ALLOWED
from apiary_almanac.club.forecasts import read_forecasts, with_forecast
from apiary_almanac.club.kept import Kept, keep
from apiary_almanac.club.ledger import Ledger, Row, read_ledger
from apiary_almanac.club.members import Members, read_members
from apiary_almanac.club.merge import Merged, merge
from apiary_almanac.club.opening import content_of
from apiary_almanac.club.own_files import OwnFiles
from apiary_almanac.club.pages import write_pages
from apiary_almanac.club.problems import NotAllRead, Problem, Refused
from apiary_almanac.club.progress import Progress
from apiary_almanac.club.rows import Told
from apiary_almanac.club.rows_xml import save
from apiary_almanac.club.signs import OUTCOMES, SIGNS, STRENGTHS
from apiary_almanac.club.year import write_year


@dataclass(frozen=True, kw_only=True)
class Done:
    """What was made."""

    members: int
    """Members who were planned for."""
    plans: int
    tasks: int
    mornings: int
    refused: tuple[Problem, ...]
    """What could not be read; it stands on the sheet "Not read" too."""
    kept: tuple[str, ...]
    """Members whose row cannot be read now and whose last good plan was kept."""
    missing: tuple[str, ...]
    """Members who are no longer on the list and whose last good plan was kept."""
    taken: tuple[str, ...]
    """What was taken from copies that members have sent back."""
    differing: tuple[str, ...]
    """What stands there and was not taken, with the reason."""
    columns: tuple[str, ...]
    """How each column of the list was read."""
    columns_new: bool
    """Whether that is told for the first time: the workbook is new, or a column is."""
    ignored: tuple[str, ...]
    """Columns of the list that mean nothing here, with what they may have been meant as."""
    passed: tuple[str, ...]
    """Rows of the list that are no members, such as a total."""
    doubts: tuple[str, ...]
    """What is doubtful about the places of members who were planned for."""
    workbook: Path
    pages: tuple[Path, ...]
    """The index and the files of each member, where they were asked for."""
    calendar: Path | None
    """None where there is nothing to put into one."""
    calendar_version: int | None
    calendar_changed: bool


def club_workbook(
    members: str | os.PathLike[str],
    out: str | os.PathLike[str],
    *,
    calendar: str | os.PathLike[str] | None = None,
    today: dt.date | None = None,
    method: str | None = "split",
    mornings: int = 10,
    club: str | None = None,
    sheet: str | None = None,
    renamed: bool = False,
    left: bool = False,
    strict: bool = False,
    coordinates: bool = False,
    pages: str | os.PathLike[str] | None = None,
    forecasts: str | os.PathLike[str] | None = None,
    forecast_within_km: float = 30.0,
    copies: Sequence[str | os.PathLike[str]] = (),
    now: dt.datetime | None = None,
    progress: Callable[[str, int], Progress] | None = None,
) -> Done:
    """Make or update a club's workbook and calendar from its list of members (.xlsx, .ods, .csv).

    ``calendar`` is ``out`` with ``.ics`` when not given; ``today`` is the date of this machine;
    ``method`` is for members who name none, ``None`` plans only for those who do; ``mornings`` is
    1 to 60; ``sheet`` is the first of the list. Rows that cannot be read are listed and the rest is
    done; with ``strict`` they raise :class:`NotAllRead` and nothing is written. A workbook goes on from the list that it was made from; ``renamed`` says
    that this is the same list under another name, or on another sheet. Members who are no longer
    on it keep their last plan until ``left`` says that they have left. ``copies`` of the workbook
    that members have sent back are merged: what stands in their own columns is taken, task by task,
    where the workbook has nothing; where both differ it keeps its own, and the difference is listed.
    ``forecasts`` is a file, or a folder of .csv files, with forecasts of many places; members who name
    none take the nearest within ``forecast_within_km``.
    ``pages`` is a folder for a page to print and a calendar of each member, with an index, and for the
    club's year: a poster, a calendar, a table.
    ``coordinates`` puts those of the hives into the calendar too, which otherwise only names them.

    Workbook and calendar are locked meanwhile, copied to a folder of backups beside them, and
    written together or not at all.

    Raises :class:`Refused` for a file that cannot be used, and ``ApiaryError`` for arguments that
    the engine refuses.
    """
    members, out = Path(members), Path(out)
    calendar = out.with_suffix(".ics") if calendar is None else Path(calendar)
    if len({path.resolve() for path in (members, out, calendar)}) < 3:
        raise Refused(f"{members}, {out} and {calendar}: three different files are needed")
    bar = progress or (lambda label, total: Progress(label, total))
    question = Question(
        today=today or dt.date.today(), method=method, mornings=mornings, club=club
    )
    read = read_members(members, sheet)
    if forecasts is not None:
        known = read_forecasts(Path(forecasts))
        near = [with_forecast(member, known, forecast_within_km) for member in read.members]
        read = replace(read, members=near)
    written: list[Path] = []
    with OwnFiles({out: ".xlsx", calendar: ".ics"}) as files:
        workbook = files.read(out)
        ledger = read_ledger(out, workbook)
        merged = Merged()
        for copy in map(Path, copies):
            merge(ledger, read_ledger(copy, content_of(copy)), copy.name, merged)
        earlier = earlier_calendar(calendar, files.read(calendar))
        made_from = f"{members.name}, sheet {read.sheet}"
        if ledger.made_from not in (None, made_from) and not renamed:
            raise Refused(
                f"{out} was made from another list ({ledger.made_from}; this is {made_from}): give "
                "another name with --out, or say --renamed where it is the same list"
            )
        _check(question)
        answers = answer_all(
            read,
            question,
            ledger,
            functools.partial(rows.tell, {}),
            bar("Asking", len(read.members)).step,
        )
        problems = _problems(read, answers)
        if strict and problems:
            raise NotAllRead(problems)
        if not any(told.planned_for for told in answers):
            first = "".join(f"\n  {problem}" for problem in problems[:5])
            raise Refused(f"{members}: no member could be read{first}")

        kept = keep(
            ledger,
            (told.member.name for told in answers if told.planned_for),
            (*read.unread, *(told.member.name for told in answers if not told.planned_for)),
            left,
            question.today,
        )
        plans = [plan for told in answers for plan in told.plans]
        stamp = now or dt.datetime.now(dt.timezone.utc)
        made = club_calendar(
            plans, club, stamp, earlier, ledger.version, question.today, kept.plans, coordinates
        )
        tables = _tables(answers, problems, ledger, kept)
        columns = tuple(how_read(read.columns.values()))
        about = _about(read, columns, answers, problems, kept, question, made, made_from)
        contents: dict[Path, Iterable[bytes]] = {out: [_workbook(tables, about, ledger, bar)]}
        if made.changed:
            contents[calendar] = made.parts()
        files.write(contents)
        if pages is not None:
            name = club or "Club"
            planned = [told.member for told in answers if told.planned_for]
            year = functools.partial(write_year, members=planned, title=name, now=stamp, today=question.today)
            written = write_pages(
                Path(pages), tables, _cautions(answers), made, year, name, question.today
            )
    return Done(
        members=sum(told.planned_for for told in answers),
        plans=len(plans),
        tasks=len(tables[layout.TASKS.title]),
        mornings=len(tables[layout.MORNINGS.title]),
        refused=problems,
        kept=tuple(kept.unreadable),
        missing=tuple(kept.missing),
        taken=tuple(merged.taken),
        differing=tuple(merged.differing),
        columns=columns,
        columns_new=ledger.columns != "\n".join(columns),
        ignored=tuple(_left_out(read)),
        passed=tuple(read.passed),
        doubts=tuple(_doubts(read, answers)),
        workbook=out,
        pages=tuple(written),
        calendar=calendar if made.events else None,
        calendar_version=made.version if made.events else None,
        calendar_changed=made.changed,
    )


def _problems(read: Members, answers: Sequence[Told]) -> tuple[Problem, ...]:
    problems = (*read.problems, *(each for told in answers for each in told.problems))
    return tuple(sorted(problems, key=lambda each: (each.sheet != read.sheet, each.row)))


def _kept(members: Sequence[str]) -> str:
    if not members:
        return "none"
    return f"{', '.join(members)}: their tasks stay as planned before (State: {layout.NOT_RENEWED})"


def _left_out(read: Members) -> list[str]:
    return [
        f"{header} (is it {meant!r}?)" if meant else header
        for header, meant in read.ignored.items()
    ]


def _cautions(answers: Sequence[Told]) -> dict[str, str]:
    """Each once, as the first who is told of it is told."""
    found: dict[str, str] = {}
    for told in answers:
        for name, text in told.cautions.items():
            found.setdefault(name, text)
    return found


def _doubts(read: Members, answers: Sequence[Told]) -> list[str]:
    return [
        f"row {told.member.row}, {told.member.name}: {doubt}"
        for told in answers
        if told.planned_for
        for doubt in told.doubts
    ]


def _check(question: Question) -> None:
    """Has the engine refuse what is wrong for every member, before the members are asked about."""
    import json

    site = {"latitude_deg": 0, "longitude_deg": 0, "elevation_m": 0, "zone": "UTC"}
    common = {"site": site, "today": question.today.isoformat()}
    _core.ask(json.dumps({"ask": "outlook", "mornings": question.mornings, **common}))
    if question.method is not None:
        colony = {"name": "-"}
        _core.ask(
            json.dumps({"ask": "plan", "method": question.method, "colony": colony, **common})
        )


def _tables(
    answers: Sequence[Told], problems: Sequence[Problem], ledger: Ledger, kept: Kept
) -> dict[str, list[Row]]:
    """The rows of every sheet."""
    made = {
        sheet: [row for told in answers for row in told.rows.get(sheet.title, [])]
        for sheet in layout.TABLES
    }
    made[layout.TASKS] += rows.gone_rows(ledger)
    made[layout.PROBLEMS] = [
        [each.sheet, each.row, each.column, each.value, each.reason] for each in problems
    ]
    whole = {sheet: [*found, *kept.rows.get(sheet.title, [])] for sheet, found in made.items()}
    return {
        sheet.title: rows.in_order(sheet, [*found, *rows.told(sheet, found, ledger)])
        for sheet, found in whole.items()
    }


def _workbook(
    tables: dict[str, list[Row]],
    about: list[tuple[str, Any]],
    ledger: Ledger,
    bar: Callable[[str, int], Progress],
) -> bytes:
    progress = bar("Writing", len(tables) + 1)
    book = ledger.book
    if book is None:
        book = Workbook()
        del book[book.sheetnames[0]]
    written = []
    for place, sheet in enumerate(layout.TABLES):
        look = ledger.looks.get(sheet.title)
        written.append(sheets.write_table(book, sheet, tables[sheet.title], look, place))
        progress.step()
    sheets.write_about(book, about, len(tables))
    sheets.write_lists(book)
    if ledger.book is None:
        book.active = 0
    out = io.BytesIO()
    save(book, written, out)
    progress.step()
    return out.getvalue()


def _about(
    read: Members,
    columns: Sequence[str],
    answers: Sequence[Told],
    problems: Sequence[Problem],
    kept: Kept,
    question: Question,
    made: Calendar,
    made_from: str,
) -> list[tuple[str, Any]]:
    engine = about()
    lines: list[tuple[str, Any]] = [
        ("Club", question.club or "(no name given)"),
        (layout.MADE_FOR, question.today),
        (layout.MADE_FROM, made_from),
        ("Made by", f"{engine.name} {engine.version}"),
        (layout.VERSION, made.version if made.events else "no calendar yet"),
        ("Members", sum(told.planned_for for told in answers)),
        ("Not read", f"{len(problems)}, see the sheet {layout.PROBLEMS.title!r}"),
        ("Row cannot be read", _kept(kept.unreadable)),
        ("No longer on the list", _kept(kept.missing)),
        (layout.COLUMNS, "\n".join(columns)),
        ("Columns left out", ", ".join(_left_out(read)) or "none"),
        ("Rows passed over", "\n".join(read.passed) or "none"),
        ("Doubtful places", "\n".join(_doubts(read, answers)) or "none"),
        ("", None),
        ("How to use it", None),
        (
            layout.DONE,
            "On the sheet Tasks: the date on which it was done. The next run takes it as a record "
            "and moves what comes after.",
        ),
        (
            layout.OUTCOME,
            "What came of it, where it is more than done: choose from the list in the cell, or write "
            f"one of {', '.join(OUTCOMES)}, with the box where it is another than the task's: gave brood (old box).",
        ),
        (
            layout.SEEN,
            "What was seen that day, with the box: eggs (new box), guards (old box), or no eggs (both); "
            f"a box by its name too: eggs in Candle. Several are parted by commas. Known are "
            f"{', '.join(SIGNS)}. The list in the cell gives one; write more behind it.",
        ),
        (
            layout.COUNTS,
            f"Bees counted at entrances on a good flying day, as {ALLOWED}. The neighbour is an undivided "
            "colony at the same hour.",
        ),
        (
            layout.STRENGTH,
            f"How strong the colony was judged to be that day: {', '.join(STRENGTHS)}. It counts in place of the list's.",
        ),
        (layout.AGREED, "A date of your own for a task that is ahead; what depends on it moves."),
        (layout.NOTES, "Anything. It stays with its task."),
        (
            "What a run changes",
            f"The sheets {', '.join(layout.SHEETS)} are written anew, with what you wrote in the "
            "columns above; other sheets stay. Hide, sort and filter as you like, but keep "
            f"the columns {layout.PLAN!r} and {layout.TASK!r}: they tell which row is which.",
        ),
        ("Dates and times", "Those of the clocks at each member's hives (column Zone)."),
        ("", None),
        ("Mind", None),
    ]
    lines += list(_cautions(answers).items())
    return lines

