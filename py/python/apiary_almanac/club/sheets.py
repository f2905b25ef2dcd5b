"""Writes the sheets: real dates and times, filters, frozen headers, widths, print set-up."""

from __future__ import annotations

import copy
import datetime as dt
import itertools
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from openpyxl.cell.cell import Cell
from openpyxl.formatting.formatting import ConditionalFormattingList
from openpyxl.formula.translate import Translator
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.cell_range import MultiCellRange
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.hyperlink import Hyperlink

from apiary_almanac.club import layout
from apiary_almanac.club.layout import Column, Sheet
from apiary_almanac.club.ledger import Row
from apiary_almanac.club.looks import Formula, Key, Look, OldRow, keys, noted
from apiary_almanac.club.rows_xml import (
    FORMULA_SIGNS,
    ILLEGAL,
    LONGEST_TEXT,
    RowsXml,
    rows_xml,
)
from apiary_almanac.club.signs import OF_A_BOX, OUTCOMES, SIGNS, STRENGTHS

_NEW_AND_OLD = ("new box", "old box")
OFFERED: dict[str, tuple[str, ...]] = {
    layout.SEEN: tuple(f"{sign} ({box})" for sign in SIGNS for box in _NEW_AND_OLD),
    layout.OUTCOME: (*OUTCOMES, *(f"{outcome} ({box})" for outcome in OF_A_BOX for box in _NEW_AND_OLD)),
    layout.STRENGTH: STRENGTHS,
}
"""What columns offer."""
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


def write_table(
    book: Workbook, sheet: Sheet, rows: Sequence[Row], look: Look | None, place: int
) -> RowsXml:
    """Write one sheet but for its rows, which :func:`save` puts in. ``look`` is what people made of the
    sheet that is there; without it a new one is made."""
    if look is None:
        if sheet.title in book.sheetnames:
            del book[sheet.title]
        page: Any = book.create_sheet(sheet.title, place)
        _set_up(page, sheet)
        look = Look(titles=[column.title for column in sheet.columns])
    else:
        page = book[sheet.title]
        for column in sheet.columns:
            if column.title not in look.titles:
                look.titles.append(column.title)
                _head(page, len(look.titles), column)
    laid = _Laid(book, page, sheet, look)
    heights = None
    if sheet.lines is None:
        heights = [LINE_HEIGHT * _lines(sheet, row) for row in rows]
    last = get_column_letter(len(look.titles))
    end = max(len(rows), 1) + 1
    known = list(keys(sheet, rows)) if sheet.key else [()] * len(rows)
    _move_notes(page, look, known)
    _stretch(page, look.last, end)
    if not page.tables:
        page.auto_filter.ref = f"A1:{last}{end}"
    printed = get_column_letter(look.titles.index(sheet.printed) + 1)
    page.print_area = f"A1:{printed}{end}"
    _rules(page, sheet, look, end)
    styles = [laid.styles(key) for key in known]
    for style in {style for look in set(styles) for style in look}:
        # The rows are written when the book's list of looks is already in the file.
        laid.quoted(style)

    def cells() -> Iterator[list[Any]]:
        for number, (row, key) in enumerate(zip(rows, known, strict=True), start=2):
            yield laid.cells(number, row, key)

    xml = rows_xml(cells(), styles, laid.quoted, heights, _hidden(page, cells()))
    return RowsXml(page, xml, f"A1:{last}{end}")


def _set_up(page: Any, sheet: Sheet) -> None:
    for at, column in enumerate(sheet.columns, start=1):
        _head(page, at, column)
    page.row_dimensions[1].height = 3 * LINE_HEIGHT
    if sheet.lines is not None:
        page.sheet_format.defaultRowHeight = sheet.lines * LINE_HEIGHT
        page.sheet_format.customHeight = True
    page.freeze_panes = f"{get_column_letter(sheet.frozen + 1)}2"
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = 9  # A4
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr.fitToPage = True
    page.page_margins.left = page.page_margins.right = 0.4
    page.page_margins.top = page.page_margins.bottom = 0.5
    page.print_title_rows = "1:1"
    page.oddFooter.left.text = sheet.title
    page.oddFooter.right.text = "&P / &N"


def _head(page: Any, at: int, column: Column) -> None:
    head = page.cell(1, at, column.title)
    head.font = HEADER
    head.fill = OWN_HEADER_FILL if column.kind.startswith("own") else HEADER_FILL
    head.alignment = Alignment(wrap_text=True, vertical="center", horizontal="left")
    dimension = page.column_dimensions[get_column_letter(at)]
    dimension.width, dimension.hidden = column.width, column.hidden


class _Laid:
    """Where the cells of a sheet stand and how they look: as people left them, else as they are made."""

    def __init__(self, book: Workbook, page: Any, sheet: Sheet, look: Look) -> None:
        self._book, self._page, self._look = book, page, look
        by_title = {column.title: (at, column) for at, column in enumerate(sheet.columns)}
        # A title that stands twice is ours the first time.
        first = [title not in look.titles[:at] for at, title in enumerate(look.titles)]
        self._ours = [
            by_title.get(title) if once else None for title, once in zip(look.titles, first, strict=True)
        ]
        self._plain = tuple(
            look.usual(at) if ours is None else _style(page, ours[1])
            for at, ours in enumerate(self._ours)
        )
        self._variants: dict[tuple[int, ...], tuple[int, ...]] = {}
        self._quoted: dict[int, int] = {}

    def cells(self, number: int, row: Row, key: Key) -> list[Any]:
        """A row of values in the order of the columns."""
        old = self._look.rows.get(key)
        return [
            row[ours[0]] if ours is not None else _own(old, at, number)
            for at, ours in enumerate(self._ours)
        ]

    def styles(self, key: Key) -> tuple[int, ...]:
        """The looks of a row."""
        old = self._look.rows.get(key)
        if old is None:
            return self._plain
        found = self._variants.get(old.styles)
        if found is None:
            given = (*old.styles, *self._plain[len(old.styles) :])[: len(self._plain)]
            found = tuple(self._variant(at, style) for at, style in enumerate(given))
            self._variants[old.styles] = found
        return found

    def _variant(self, at: int, style: int) -> int:
        ours, plain = self._ours[at], self._plain[at]
        if ours is None or style in (plain, self.quoted(plain)):
            return style if ours is None else plain
        # Colours and fonts are theirs; what makes a number a date is ours.
        cell = self._cell(style)
        cell.number_format = FORMATS.get(ours[1].kind, "General")
        cell.quotePrefix = False
        return int(cell.style_id)

    def quoted(self, style: int) -> int:
        """The same look with the mark "this is text"."""
        if style not in self._quoted:
            cell = self._cell(style)
            cell.quotePrefix = True
            self._quoted[style] = int(cell.style_id)
        return self._quoted[style]

    def _cell(self, style: int) -> Any:
        cell: Any = Cell(self._page, 1, 1)
        styles: Any = self._book
        if style < len(styles._cell_styles):
            cell._style = copy.copy(styles._cell_styles[style])
        return cell


def _own(old: OldRow | None, at: int, number: int) -> Any:
    """What stands in somebody's own column; a formula points to its new row."""
    value = None if old is None else old.own.get(at)
    if old is None or not isinstance(value, Formula) or number == old.number:
        return value
    letter = get_column_letter(at + 1)
    moved = Translator(value, origin=f"{letter}{old.number}").translate_formula(f"{letter}{number}")
    return Formula(moved)


def _move_notes(page: Any, look: Look, known: Sequence[Key]) -> None:
    """Comments and links go with their rows."""
    found = noted(page)
    for place in [place for place in page._cells if place[0] > 1]:
        del page._cells[place]
    for merged in list(page.merged_cells.ranges):
        if merged.max_row > 1:
            page.merged_cells.remove(merged)
    keys_of = {old.number: key for key, old in look.rows.items()}
    rows = {key: number for number, key in enumerate(known, start=2)}
    for (row, column), cell in found.items():
        if (number := rows.get(keys_of.get(row, ()))) is None:
            continue
        moved = page.cell(number, column)
        if cell.comment:
            moved.comment = copy.copy(cell.comment)
        if cell.hyperlink:
            link = cell.hyperlink
            # openpyxl writes no link of an empty cell; the cell itself is replaced by the row's.
            moved.value = "-"
            moved._hyperlink = Hyperlink(
                ref=moved.coordinate,
                target=link.target,
                location=link.location,
                tooltip=link.tooltip,
            )


def _stretch(page: Any, before: int, end: int) -> None:
    """What reached to the last row of a table reaches to its last row now."""

    def stretched(ranges: Any) -> str:
        return " ".join(
            f"{get_column_letter(one.min_col)}{one.min_row}:{get_column_letter(one.max_col)}{end}"
            if one.min_row <= 2 <= before <= one.max_row < 1_048_576
            else str(one.coord)
            for one in ranges
        )

    for rule in page.data_validations.dataValidation:
        rule.sqref = MultiCellRange(stretched(rule.sqref.ranges))
    rules = page.conditional_formatting
    page.conditional_formatting = ConditionalFormattingList()
    for formatting in rules:
        for one in formatting.rules:
            page.conditional_formatting.add(stretched(formatting.sqref.ranges), one)
    for table in page.tables.values():
        first, _, last = table.ref.partition(":")
        table.ref = f"{first}:{re.sub('[0-9]', '', last)}{end}"
        if table.autoFilter is not None:
            table.autoFilter.ref = table.ref


def _rules(page: Any, sheet: Sheet, look: Look, end: int) -> None:
    """What may be entered into the columns of the keepers."""
    ours = {column.title for column in sheet.columns if column.kind.startswith("own")}
    page.data_validations.dataValidation = [
        rule for rule in page.data_validations.dataValidation if rule.errorTitle not in ours
    ]
    for column in sheet.columns:
        if column.kind == "own_date":
            rule = DataValidation(
                type="date",
                operator="greaterThan",
                formula1="36526",
                allow_blank=True,
                showErrorMessage=True,
                errorTitle=column.title,
                error="Enter a date, such as 2026-09-28.",
            )
        elif column.title in OFFERED:
            offered = OFFERED[column.title]
            at = get_column_letter(list(OFFERED).index(column.title) + 1)
            rule = DataValidation(
                type="list",
                formula1=f"{layout.LISTS}!${at}$1:${at}${len(offered)}",
                allow_blank=True,
                # A list to choose from; several signs, and hives by their names, may be typed.
                showErrorMessage=column.title == layout.STRENGTH,
                errorTitle=column.title,
                error=f"Choose one of {', '.join(offered)}." if column.title == layout.STRENGTH else None,
            )
        else:
            continue
        letter = get_column_letter(look.titles.index(column.title) + 1)
        rule.add(f"{letter}2:{letter}{end}")
        page.add_data_validation(rule)


def _hidden(page: Any, rows: Iterable[Sequence[Any]]) -> set[int]:
    """The numbers of the rows that a filter of texts leaves out; spreadsheet programs do not apply a filter
    again by themselves."""
    wanted = {
        one.colId: ({str(value).casefold() for value in one.filters.filter}, one.filters.blank)
        for one in page.auto_filter.filterColumn
        if one.filters is not None and one.filters.filter and not one.filters.dateGroupItem
    }
    if not wanted:
        return set()
    return {
        number
        for number, row in enumerate(rows, start=2)
        for at, (texts, blank) in wanted.items()
        if at < len(row)
        and not (bool(blank) if row[at] in (None, "") else str(row[at]).casefold() in texts)
    }


def _style(page: Any, column: Column) -> int:
    """The look of a column's cells, by number."""
    cell: Any = Cell(page, 1, 1)
    cell.number_format = FORMATS.get(column.kind, "General")
    wrap = column.kind in ("wrapped", "own")
    side = "center" if column.kind in ("time", "whole", "one", "three") else "left"
    cell.alignment = Alignment(vertical="top", wrap_text=wrap, horizontal=side)
    cell.border = LINE
    if column.kind.startswith("own"):
        cell.fill = OWN_FILL
    return int(cell.style_id)


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


def write_lists(book: Workbook) -> None:
    """Write the sheet from which cells offer what can be chosen."""
    if layout.LISTS in book.sheetnames:
        del book[layout.LISTS]
    page: Any = book.create_sheet(layout.LISTS)
    page.sheet_state = "hidden"
    for row in itertools.zip_longest(*OFFERED.values()):
        page.append(row)


def write_about(book: Workbook, lines: Sequence[tuple[str, Any]], place: int) -> None:
    """Write the sheet that explains the others; a line with no second part is a heading."""
    if layout.ABOUT in book.sheetnames:
        place = book.sheetnames.index(layout.ABOUT)
        del book[layout.ABOUT]
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
