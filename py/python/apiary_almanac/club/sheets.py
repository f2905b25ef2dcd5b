"""Writes the sheets: real dates and times, filters, frozen headers, widths, print set-up."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Sequence
from typing import Any

import openpyxl
from openpyxl.cell.cell import Cell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.datavalidation import DataValidation

from apiary_almanac.club import layout
from apiary_almanac.club.layout import Column, Sheet
from apiary_almanac.club.rows_xml import (
    FORMULA_SIGNS,
    ILLEGAL,
    LONGEST_TEXT,
    RowsXml,
    rows_xml,
)

FORMATS = {
    "date": "ddd d mmm yyyy",
    "own_date": "ddd d mmm yyyy",
    "time": "hh:mm",
    "whole": "0",
    "one": "0.0",
    "three": "0.000",
}
HEADER = Font(bold=True, color="FFFFFF")
HEADER_FILL = PatternFill("solid", fgColor="4A4A38")
OWN_HEADER_FILL = PatternFill("solid", fgColor="8A5A00")
OWN_FILL = PatternFill("solid", fgColor="FFF6DD")
LINE = Border(bottom=Side(style="hair", color="B0B0A0"))
LINE_HEIGHT = 15
"""Points."""
MOST_LINES = 12
"""Of a row; the rest of a longer text is seen in its cell."""


def open_book(earlier: bytes | None, other_sheets: Sequence[str]) -> Workbook:
    """An empty workbook; where somebody added sheets to the earlier one, that with only those."""
    book: Workbook
    if earlier is not None and other_sheets:
        book = openpyxl.load_workbook(io.BytesIO(earlier))
        for name in layout.SHEETS:
            if name in book.sheetnames:
                del book[name]
    else:
        book = Workbook()
        del book[book.sheetnames[0]]
    return book


def write_table(
    book: Workbook, sheet: Sheet, rows: Sequence[Sequence[Any]], place: int
) -> RowsXml:
    """Write one sheet but for its rows, which :func:`save` puts in."""
    page: Any = book.create_sheet(sheet.title, place)
    styles = [_style(page, column) for column in sheet.columns]
    for at, column in enumerate(sheet.columns, start=1):
        head = page.cell(1, at, column.title)
        head.font = HEADER
        head.fill = OWN_HEADER_FILL if column.kind.startswith("own") else HEADER_FILL
        head.alignment = Alignment(wrap_text=True, vertical="center", horizontal="left")
        dimension = page.column_dimensions[get_column_letter(at)]
        dimension.width, dimension.hidden = column.width, column.hidden
    page.row_dimensions[1].height = 3 * LINE_HEIGHT
    if sheet.lines is not None:
        page.sheet_format.defaultRowHeight = sheet.lines * LINE_HEIGHT
        page.sheet_format.customHeight = True
    heights = None
    if sheet.lines is None:
        heights = [LINE_HEIGHT * _lines(sheet, row) for row in rows]
    last = get_column_letter(len(sheet.columns))
    end = max(len(rows), 1) + 1
    page.freeze_panes = f"{get_column_letter(sheet.frozen + 1)}2"
    page.auto_filter.ref = f"A1:{last}{end}"
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = 9  # A4
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr.fitToPage = True
    page.page_margins.left = page.page_margins.right = 0.4
    page.page_margins.top = page.page_margins.bottom = 0.5
    page.print_title_rows = "1:1"
    page.print_area = f"A1:{get_column_letter(sheet.at(sheet.printed) + 1)}{end}"
    page.oddFooter.left.text = sheet.title
    page.oddFooter.right.text = "&P / &N"
    for at, column in enumerate(sheet.columns, start=1):
        if column.kind == "own_date":
            letter = get_column_letter(at)
            rule = DataValidation(
                type="date",
                operator="greaterThan",
                formula1="36526",
                allow_blank=True,
                showErrorMessage=True,
                errorTitle=column.title,
                error="Enter a date, such as 2026-09-28.",
            )
            rule.add(f"{letter}2:{letter}{end}")
            page.add_data_validation(rule)
    return RowsXml(page, rows_xml(rows, styles, heights), f"A1:{last}{end}")


def _style(page: Any, column: Column) -> tuple[int, int]:
    """The look of a column's cells, plain and with the mark "this is text", by number."""
    looks = []
    for quoted in (False, True):
        cell: Any = Cell(page, 1, 1)
        cell.number_format = FORMATS.get(column.kind, "General")
        wrap = column.kind in ("wrapped", "own")
        side = "center" if column.kind in ("time", "whole", "one", "three") else "left"
        cell.alignment = Alignment(vertical="top", wrap_text=wrap, horizontal=side)
        cell.border = LINE
        if column.kind.startswith("own"):
            cell.fill = OWN_FILL
        if quoted:
            cell.quotePrefix = True
        looks.append(int(cell.style_id))
    return looks[0], looks[1]


def _lines(sheet: Sheet, row: Sequence[Any]) -> int:
    """Lines that the printed part of a row needs, by a width that is on the safe side."""
    printed = sheet.at(sheet.printed) + 1
    return max(
        1,
        *(
            min(MOST_LINES, needed(value, column.width))
            for column, value in zip(sheet.columns[:printed], row, strict=False)
            if column.kind == "wrapped" and isinstance(value, str)
        ),
    )


def needed(text: str, width: float) -> int:
    """Lines that a wrapped text takes in a column."""
    return sum(max(1, -(-len(line) // int(0.9 * width))) for line in text.split("\n"))


def write_about(book: Workbook, lines: Sequence[tuple[str, Any]], place: int) -> None:
    """Write the sheet that explains the others; a line with no second part is a heading."""
    page: Any = book.create_sheet(layout.ABOUT, place)
    page.column_dimensions["A"].width, page.column_dimensions["B"].width = 30, 100
    for number, (name, value) in enumerate(lines, start=1):
        head, cell = page.cell(number, 1), page.cell(number, 2)
        for each, text in ((head, name), (cell, value)):
            each.value = ILLEGAL.sub("", text)[:LONGEST_TEXT] if isinstance(text, str) else text
            if isinstance(text, str) and each.value:
                # openpyxl takes a text with = before it for a formula, and #N/A for an error.
                each.data_type = "s"
        if isinstance(value, dt.date):
            cell.number_format = FORMATS["date"]
        if isinstance(value, str) and value[:1] in FORMULA_SIGNS:
            cell.quotePrefix = True
        head.font = Font(bold=True)
        head.alignment = Alignment(vertical="top", wrap_text=True)
        cell.alignment = Alignment(vertical="top", wrap_text=True, horizontal="left")
        high = max(needed(name, 30), needed(value, 100) if isinstance(value, str) else 1)
        page.row_dimensions[number].height = LINE_HEIGHT * high
    page.page_setup.paperSize = 9
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr.fitToPage = True
