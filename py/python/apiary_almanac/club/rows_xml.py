"""The rows of large sheets, written straight into the file.

openpyxl makes the workbook: looks, widths, filters, print set-up, headers. For a club of 200 its way
of writing cells would take longer than all of the engine's work, so the rows are put into the
finished file: SpreadsheetML, ECMA-376 part 1, 18.3.1.73 (row), 18.3.1.4 (c) and 18.3.1.53 (is).
"""

from __future__ import annotations

import datetime as dt
import io
import re
import zipfile
from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl.utils import coordinate_to_tuple, get_column_letter
from openpyxl.workbook import Workbook

from apiary_almanac.club.looks import Formula

# XML 1.0 knows no other characters, not even escaped.
ILLEGAL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
LONGEST_TEXT = 32_767
"""Characters that a cell can hold."""
FORMULA_SIGNS = "=+-@\t\r\n"
DAY_0 = dt.date(1899, 12, 30)
"""Dates count from here, from March 1900 on."""
DAY_S = 86_400


@dataclass(frozen=True)
class RowsXml:
    """The rows of a sheet that has only its header yet."""

    page: Any
    """openpyxl's sheet."""
    xml: Iterable[str]
    """Row by row; it is asked for once."""
    size: str
    """From the first to the last cell, as A1:T9."""

    @property
    def is_large(self) -> bool:
        """Whether the part may be larger than 2 GiB: of a row there are some 3 KB."""
        last, _ = coordinate_to_tuple(self.size.rpartition(":")[2])
        return last > 500_000


def rows_xml(
    rows: Iterable[Sequence[Any]],
    styles: Sequence[Sequence[int]],
    quoted: Callable[[int], int],
    heights: Sequence[float] | None,
    hidden: Container[int] = (),
) -> Iterator[str]:
    """Rows from the second on, one at a time. ``styles`` are the looks of the cells of each row; ``quoted`` gives
    the one for a text that would be run as a formula if it were typed again; ``heights`` are in points;
    ``hidden`` are numbers of rows."""
    letters = [get_column_letter(at) for at in range(1, len(styles[0]) + 1)] if styles else []
    for number, (row, looks) in enumerate(zip(rows, styles, strict=True), start=2):
        height = "" if heights is None else f' ht="{heights[number - 2]:g}" customHeight="1"'
        shown = ' hidden="1"' if number in hidden else ""
        parts = [f'<row r="{number}"{height}{shown}>']
        for letter, style, value in zip(letters, looks, row, strict=True):
            if value is None or value == "":
                parts.append(f'<c r="{letter}{number}" s="{style}"/>')
            elif isinstance(value, Formula):
                formula = text_xml(value.removeprefix("="))
                parts.append(f'<c r="{letter}{number}" s="{style}"><f>{formula}</f></c>')
            elif isinstance(value, str):
                style = quoted(style) if value[0] in FORMULA_SIGNS else style
                parts.append(
                    f'<c r="{letter}{number}" s="{style}" t="inlineStr"><is>'
                    f'<t xml:space="preserve">{text_xml(value)}</t></is></c>'
                )
            elif isinstance(value, bool):
                parts.append(f'<c r="{letter}{number}" s="{style}" t="b"><v>{value:d}</v></c>')
            else:
                parts.append(f'<c r="{letter}{number}" s="{style}"><v>{_number(value)}</v></c>')
        parts.append("</row>")
        yield "".join(parts)


def text_xml(value: str) -> str:
    """A text as a cell can hold it."""
    value = ILLEGAL.sub("\N{REPLACEMENT CHARACTER}", value)[:LONGEST_TEXT]
    for sign, written in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ("\r", "&#13;")):
        value = value.replace(sign, written)
    return value


def _number(value: Any) -> str:
    if isinstance(value, dt.datetime):
        return repr((value.date() - DAY_0).days + _of_a_day(value.time()))
    if isinstance(value, dt.date):
        return str((value - DAY_0).days)
    if isinstance(value, dt.time):
        return repr(_of_a_day(value))
    if isinstance(value, dt.timedelta):
        return repr(value / dt.timedelta(days=1))
    return repr(value)


def _of_a_day(time: dt.time) -> float:
    return (time.hour * 3600 + time.minute * 60 + time.second) / DAY_S


def save(book: Workbook, tables: Sequence[RowsXml], out: io.BytesIO) -> None:
    """Write a workbook with the rows of its tables."""
    bare = io.BytesIO()
    book.save(bare)
    # openpyxl has named the parts now.
    rows = {table.page.path.lstrip("/"): table for table in tables}
    with (
        zipfile.ZipFile(bare) as made,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=3) as whole,
    ):
        for item in made.infolist():
            part = made.read(item)
            table = rows.get(item.filename)
            with whole.open(item.filename, "w", force_zip64=table is not None and table.is_large) as file:
                if table is None:
                    file.write(part)
                else:
                    file.writelines(piece.encode("utf-8") for piece in _filled(part.decode("utf-8"), table))


def _filled(part: str, table: RowsXml) -> Iterator[str]:
    part = re.sub(r'<dimension ref="[^"]*"', f'<dimension ref="{table.size}"', part, count=1)
    head, end, tail = part.rpartition("</sheetData>")
    # Below the header stand only the cells that openpyxl needs for the comments.
    header, _, _ = head.partition("</row>")
    yield f"{header}</row>"
    yield from table.xml
    yield end + tail
