"""A page to print and a calendar for each member, in a folder with an index."""

from __future__ import annotations

import datetime as dt
import html
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from apiary_almanac.club import cells, layout
from apiary_almanac.club.answers import plan_stem
from apiary_almanac.club.club_ics import Calendar
from apiary_almanac.club.layout import Sheet
from apiary_almanac.club.ledger import Row
from apiary_almanac.club.own_files import write_whole
from apiary_almanac.club.problems import Refused
from apiary_almanac.club.year import CALENDAR, POSTER, TABLE

MADE = '<meta name="generator" content="apiary-almanac">'
"""By this a page is known as one that may be written over."""
STYLE = """\
@page { size: A4; margin: 14mm }
body { font: 10pt/1.3 system-ui, sans-serif; color: #1b1b16; max-width: 182mm; margin: 0 auto }
h1 { font-size: 16pt; margin: 0 0 1mm } h2 { font-size: 12pt; margin: 5mm 0 1.5mm }
p { margin: 0 0 1.5mm } small { color: #55554a }
table { border-collapse: collapse; width: 100% } tr { break-inside: avoid }
th, td { text-align: left; vertical-align: top; padding: 1mm 2mm 1mm 0; border-bottom: .2mm solid #b0b0a0 }
th { font-size: 9pt } td:nth-child(-n+4) { white-space: nowrap } td:last-child { min-width: 30mm } td.tick { font-size: 14pt; line-height: 1 } thead { display: table-header-group }
ul { margin: 0; padding-left: 5mm }
"""
MORNINGS = 5
"""On a page."""
WRITTEN = (layout.OUTCOME, layout.SEEN, layout.COUNTS, layout.STRENGTH, layout.NOTES)
"""What stands in the last column, which otherwise is left empty to write in."""


def write_pages(
    folder: Path,
    tables: Mapping[str, Sequence[Row]],
    cautions: Mapping[str, str],
    calendar: Calendar,
    year: Callable[[Path], tuple[str, list[Path]]],
    title: str,
    today: dt.date,
) -> list[Path]:
    """Write them from the rows of the club's sheets; gives the files, the index first.

    ``year`` writes the club's year into the folder, and says whose place it is. Raises Refused where a file cannot
    be written, or is somebody's own.
    """
    by_member = {sheet: _by_member(sheet, tables[sheet.title]) for sheet in layout.TABLES if sheet.has("Member")}
    names = sorted(by_member[layout.SEASON], key=str.casefold)
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        raise Refused(f"{folder} cannot be made: {error.strerror or error}") from None
    index = folder / "index.html"
    if index.exists() and MADE not in index.read_text("utf-8", "replace")[:2000]:
        raise Refused(f"{index} is there and was not made by this program; it is not overwritten")
    written = [index]
    rows = []
    for name in names:
        stem = plan_stem(name)
        tasks = by_member[layout.TASKS].get(name, [])
        page = _page(name, {sheet: found.get(name, []) for sheet, found in by_member.items()}, cautions, title, today)
        write_whole(folder / f"{stem}.html", [page.encode()])
        written.append(folder / f"{stem}.html")
        plans = list(dict.fromkeys(_cell(layout.TASKS, row, layout.PLAN) for row in tasks))
        own = calendar.has_any(plans)
        if own:
            write_whole(folder / f"{stem}.ics", calendar.parts(plans))
            written.append(folder / f"{stem}.ics")
        coming = next((row for row in tasks if _open(row)), None)
        following = "" if coming is None else f"{_date(_value(layout.TASKS, coming, 'Date'))}: {_cell(layout.TASKS, coming, 'Task')}"
        links = f'<a href="{stem}.html">{_text(name)}</a>', f'<a href="{stem}.ics">calendar</a>' if own else ""
        rows.append((*links, _text(following)))
    told, files = year(folder)
    written += files
    body = (
        f"<h1>{_text(title)}</h1><p>As of {_date(today)}.</p>"
        f'<p><a href="{POSTER}">The year on a poster</a>, <a href="{CALENDAR}">as a calendar</a>, '
        f'<a href="{TABLE}">as a table</a>. {_text(told)}</p>' + _table(("Member", "", "Next"), rows)
    )
    write_whole(index, [_document(title, body).encode()])
    return written


def _page(
    name: str,
    rows: Mapping[Sheet, Sequence[Row]],
    cautions: Mapping[str, str],
    title: str,
    today: dt.date,
) -> str:
    season, mornings = layout.SEASON, layout.MORNINGS
    parts = [f"<h1>{_text(name)}</h1><p><small>{_text(title)}, as of {_date(today)}</small></p>", "<h2>Season</h2>"]
    for row in rows[season]:
        opens, closes = _value(season, row, "Opens"), _value(season, row, "Closes")
        span = f": {_date(opens)} to {_date(closes)}" if opens and closes else ""
        parts.append(f"<p>{_text(_cell(season, row, 'Season').capitalize() + span)}</p>")
        if remarks := _cell(season, row, "Remarks"):
            parts.append(f"<p><small>{_text(remarks)}</small></p>")
    coming = sorted(rows[mornings], key=lambda row: _value(mornings, row, "Date"))[:MORNINGS]
    if coming:
        columns = ("Date", "Close the evening before", "Move from", "Move until", "Usual first flight")
        parts.append("<h2>Next mornings for moving a hive</h2>")
        parts.append(_table(columns, [[_text(_shown(mornings, row, each)) for each in columns] for row in coming]))
    tasks = layout.TASKS
    if rows[tasks]:
        shown = ("Date", "From", "Until", "Hive", "Box", "Task")
        parts.append("<h2>Tasks</h2>")
        parts.append(
            _table(
                ("", *shown, "Seen, notes"),
                [
                    [
                        "&#9744;" if _open(row) else "&#9745;",
                        *(_text(_shown(tasks, row, each)) for each in shown),
                        _text(", ".join(filter(None, (_cell(tasks, row, each) for each in WRITTEN)))),
                    ]
                    for row in rows[tasks]
                ],
            )
        )
    short = {word for row in rows[tasks] for word in _cell(tasks, row, "Mind").split(", ")}
    told = [text for name_, text in cautions.items() if name_ in short or name_ == "law"]
    if told:
        parts.append("<h2>Mind</h2><ul>" + "".join(f"<li>{_text(each)}</li>" for each in told) + "</ul>")
    parts.append("<p><small>Times are those of the clocks at the hives.</small></p>")
    return _document(f"{name} – {title}", "".join(parts))


def _document(title: str, body: str) -> str:
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8">{MADE}'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{_text(title)}</title><style>{STYLE}</style></head>\n<body>{body}</body></html>\n"
    )


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Cells are HTML already."""
    head = "".join(f"<th>{_text(each)}</th>" for each in heads)
    body = "".join(
        "<tr>" + "".join(f'<td{" class=tick" if cell.startswith("&#97") else ""}>{cell}</td>' for cell in row) + "</tr>"
        for row in rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _by_member(sheet: Sheet, rows: Iterable[Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(_cell(sheet, row, "Member"), []).append(row)
    return found


def _open(row: Row) -> bool:
    return _cell(layout.TASKS, row, "State") in ("planned", layout.NOT_RENEWED)


def _value(sheet: Sheet, row: Row, title: str) -> Any:
    return row[sheet.at(title)]


def _cell(sheet: Sheet, row: Row, title: str) -> str:
    return cells.text(_value(sheet, row, title))


def _shown(sheet: Sheet, row: Row, title: str) -> str:
    value = _value(sheet, row, title)
    if isinstance(value, dt.time):
        return f"{value:%H:%M}"
    return _date(value) if isinstance(value, dt.date) else cells.text(value)


def _date(day: dt.date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


def _text(value: str) -> str:
    return html.escape(value).replace("\n", "<br>")
