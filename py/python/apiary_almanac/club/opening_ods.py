"""Reads .ods workbooks: OASIS OpenDocument 1.3 part 3, 9 (tables) and 19.385 (office:value-type).

Own code, because the libraries for it expand repeated cells before anybody can count them: a file of 1 kB
that states a full sheet ends the whole process, or fills the memory.
"""

from __future__ import annotations

import datetime as dt
import zipfile
from typing import Any
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

ODS = "content.xml"
"""The part that makes a packed file one of these."""
MOST_CELLS = 2_000_000
"""In all sheets, repeated ones counted."""

_SPACE = "urn:oasis:names:tc:opendocument:xmlns:"
_TABLE = f"{{{_SPACE}table:1.0}}"
_OFFICE = f"{{{_SPACE}office:1.0}}"
_TEXT = f"{{{_SPACE}text:1.0}}"


def read_ods(parts: zipfile.ZipFile) -> tuple[list[str], dict[str, list[tuple[Any, ...]]]]:
    """The names of the sheets and their rows.

    Raises ValueError where it is something else, or too large.
    """
    sheets: dict[str, list[tuple[Any, ...]]] = {}
    rows: list[tuple[Any, ...]] = []
    empty = left = 0
    left = MOST_CELLS
    with parts.open(ODS) as part:
        for event, element in ElementTree.iterparse(part, ["start", "end"]):
            if element.tag == f"{_TABLE}table" and event == "start":
                rows = sheets.setdefault(element.get(f"{_TABLE}name", ""), [])
                empty = 0
            elif element.tag == f"{_TABLE}table-row" and event == "end":
                row, times = _row(element, left), _repeated(element, "rows")
                element.clear()
                if not row:
                    # Sheets end in a million of these.
                    empty += times
                    continue
                left -= empty + times * len(row)
                if left < 0:
                    raise ValueError("too many cells")
                rows += [()] * empty + [row] * times
                empty = 0
    if not sheets:
        raise ValueError("no sheet")
    return list(sheets), sheets


def _row(element: Element, most: int) -> tuple[Any, ...]:
    row: list[Any] = []
    empty = 0
    for cell in element:
        if cell.tag not in (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell"):
            continue
        value, times = _value(cell), _repeated(cell, "columns")
        if value is None:
            empty += times
            continue
        if len(row) + empty + times > most:
            raise ValueError("too many cells")
        row += [None] * empty + [value] * times
        empty = 0
    return tuple(row)


def _repeated(element: Element, what: str) -> int:
    return max(1, int(element.get(f"{_TABLE}number-{what}-repeated", "1")))


def _value(cell: Element) -> Any:
    kind = cell.get(f"{_OFFICE}value-type")
    if kind in ("float", "percentage", "currency"):
        return float(cell.get(f"{_OFFICE}value", "nan"))
    if kind == "date":
        moment = dt.datetime.fromisoformat(cell.get(f"{_OFFICE}date-value", ""))
        return moment if moment.time() != dt.time() else moment.date()
    if kind == "boolean":
        return cell.get(f"{_OFFICE}boolean-value") == "true"
    # A comment stands in the cell too; only the paragraphs of the cell itself are its text.
    text = "\n".join(_paragraph(one) for one in cell if one.tag == f"{_TEXT}p").strip()
    return text or None


def _paragraph(element: Element) -> str:
    parts = [element.text or ""]
    for child in element:
        if child.tag == f"{_TEXT}s":
            parts.append(" " * min(int(child.get(f"{_TEXT}c", "1")), 1000))
        elif child.tag == f"{_TEXT}line-break":
            parts.append("\n")
        else:
            parts.append(_paragraph(child))
        parts.append(child.tail or "")
    return "".join(parts)
