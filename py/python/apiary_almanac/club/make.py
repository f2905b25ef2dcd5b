"""Makes the club's workbook and calendar."""

from __future__ import annotations

import datetime as dt
import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from apiary_almanac import _core, about
from apiary_almanac.club import layout, rows, sheets
from apiary_almanac.club.answers import Answered, Question, answer_all
from apiary_almanac.club.club_ics import Calendar, club_calendar, read_earlier
from apiary_almanac.club.ledger import SIGNS, Ledger, read_ledger
from apiary_almanac.club.members import Members, read_members
from apiary_almanac.club.problems import Problem, Refused
from apiary_almanac.club.progress import Progress
from apiary_almanac.club.rows_xml import save


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
    ignored: tuple[str, ...]
    """Columns of the members' workbook that mean nothing here."""
    workbook: Path
    calendar: Path
    calendar_version: int
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
    now: dt.datetime | None = None,
    progress: Callable[[str, int], Progress] | None = None,
) -> Done:
    """Make or update a club's workbook and calendar from its members' workbook.

    ``calendar`` is ``out`` with ``.ics`` when not given; ``today`` is the date of this machine;
    ``method`` is for members who name none, ``None`` plans only for those who do; ``mornings`` is
    1 to 60; ``sheet`` is the first of the members' workbook. Rows that cannot be read are listed
    and the rest is done.

    Raises :class:`Refused` for a file that cannot be used, and ``ApiaryError`` for arguments that
    the engine refuses.
    """
    members, out = Path(members), Path(out)
    calendar = out.with_suffix(".ics") if calendar is None else Path(calendar)
    if len({path.resolve() for path in (members, out, calendar)}) < 3:
        raise Refused(f"{members}, {out} and {calendar}: three different files are needed")
    bar = progress or (lambda label, total: Progress(label, total))
    read = read_members(members, sheet)
    ledger = read_ledger(out)
    earlier = read_earlier(calendar)
    question = Question(
        today=today or dt.date.today(), method=method, mornings=mornings, club=club
    )
    _check(question)
    step = bar("Asking", len(read.members)).step
    answers = answer_all(read, question, ledger, step)
    problems = (*read.problems, *(each for answered in answers for each in answered.problems))
    problems = tuple(sorted(problems, key=lambda each: (each.sheet != read.sheet, each.row)))
    if read.members and not any(answered.outlook for answered in answers) or not read.members:
        told = "".join(f"\n  {problem}" for problem in problems[:5])
        raise Refused(f"{members}: no member could be read{told}")

    plans = [planned.raw for answered in answers for planned in answered.plans]
    stamp = now or dt.datetime.now(dt.timezone.utc)
    made = club_calendar(plans, club, stamp, earlier, ledger.version)
    counts = _write(out, read, answers, problems, question, ledger, made, members, bar)
    if made.changed or not earlier:
        _replace(calendar, lambda path: path.write_bytes(made.text.encode("utf-8")))
    return Done(
        members=sum(answered.outlook is not None for answered in answers),
        plans=len(plans),
        tasks=counts[layout.TASKS.title],
        mornings=counts[layout.MORNINGS.title],
        refused=problems,
        ignored=tuple(read.ignored),
        workbook=out,
        calendar=calendar,
        calendar_version=made.version,
        calendar_changed=made.changed,
    )


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


def _write(
    out: Path,
    read: Members,
    answers: Sequence[Answered],
    problems: Sequence[Problem],
    question: Question,
    ledger: Ledger,
    made: Calendar,
    members: Path,
    bar: Callable[[str, int], Progress],
) -> dict[str, int]:
    tables = [
        (layout.TASKS, rows.task_rows(answers, ledger)),
        (layout.MORNINGS, rows.morning_rows(answers)),
        (layout.SEASON, rows.season_rows(answers)),
        (layout.COLONIES, rows.colony_rows(answers)),
        (
            layout.PROBLEMS,
            [[each.sheet, each.row, each.column, each.value, each.reason] for each in problems],
        ),
    ]
    progress = bar("Writing", len(tables) + 1)
    book = sheets.open_book(out, ledger.other_sheets)
    written = []
    for place, (sheet, found) in enumerate(tables):
        written.append(sheets.write_table(book, sheet, found, place))
        progress.step()
    sheets.write_about(book, _about(read, answers, problems, question, made, members), len(tables))
    book.active = 0
    _replace(out, lambda path: save(book, written, path))
    progress.step()
    return {sheet.title: len(found) for sheet, found in tables}


def _about(
    read: Members,
    answers: Sequence[Answered],
    problems: Sequence[Problem],
    question: Question,
    made: Calendar,
    members: Path,
) -> list[tuple[str, Any]]:
    engine = about()
    signs = ", ".join(sign.replace("_", " ") for sign in SIGNS)
    lines: list[tuple[str, Any]] = [
        ("Club", question.club or "(no name given)"),
        (layout.MADE_FOR, question.today),
        ("Made from", f"{members.name}, sheet {read.sheet}"),
        ("Made by", f"{engine.name} {engine.version}"),
        (layout.VERSION, made.version),
        ("Members", sum(answered.outlook is not None for answered in answers)),
        ("Not read", f"{len(problems)}, see the sheet {layout.PROBLEMS.title!r}"),
        ("Columns understood", ", ".join(read.columns.values())),
        ("Columns left out", ", ".join(read.ignored) or "none"),
        ("", None),
        ("How to use it", None),
        (
            layout.DONE,
            "On the sheet Tasks: the date on which it was done. The next run takes it as a record "
            "and moves what comes after.",
        ),
        (
            layout.SEEN,
            f"What was seen that day, with the box: eggs (daughter), guards (parent). Known are "
            f"{signs}; boxes are parent, daughter, pair.",
        ),
        (layout.AGREED, "A date of your own for a task that is ahead; what depends on it moves."),
        (layout.NOTES, "Anything. It stays with its task."),
        (
            "What a run changes",
            f"The sheets {', '.join(layout.SHEETS)} are written anew, with what you wrote in the "
            "four columns above; other sheets stay. Hide, sort and filter as you like, but keep "
            f"the columns {layout.PLAN!r} and {layout.TASK!r}: they tell which row is which.",
        ),
        ("Dates and times", "Those of the clocks at each member's hives (column Zone)."),
        ("", None),
        ("Mind", None),
    ]
    lines += list(rows.cautions(answers).items())
    return lines


def _replace(path: Path, write: Callable[[Path], object]) -> None:
    """Write a file as a whole or not at all."""
    part = path.with_name(f"{path.stem}.part{path.suffix}")
    try:
        write(part)
        os.replace(part, path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise Refused(
            f"{path} cannot be written: {error.strerror or error}; is it open in another program?"
        ) from None
