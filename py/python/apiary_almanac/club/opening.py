"""Reads the sheets of a workbook, or a file of separated values."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import openpyxl

from apiary_almanac.club.cells import Cell
from apiary_almanac.club.opening_ods import ODS, read_ods
from apiary_almanac.club.package import MOST_MB, unpack
from apiary_almanac.club.problems import Refused

Row = tuple[Cell, ...]
Rows = list[Row]
Wanted = Callable[[list[str]], Iterable[str]]

MOST_CELLS = 50_000_000
"""Of a sheet, with the empty ones before the last of each row."""
MOST_ROWS = 1_048_576
"""Of a sheet, as spreadsheet programs have it."""


def content_of(path: Path) -> bytes:
    """What a file holds. Raises Refused where it cannot be opened."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise Refused(f"{path}: {error.strerror or error}") from None


def read_sheets(
    path: Path, content: bytes, otherwise: str, wanted: Wanted, most_mb: int = MOST_MB
) -> tuple[list[str], dict[str, Rows]]:
    """The names of all sheets of an .xlsx or .ods workbook, and the values of those that ``wanted`` names.

    Raises Refused, with ``otherwise`` for a file of another kind.
    """
    with unpack(path, content, most_mb, otherwise) as parts:
        try:
            if ODS in parts.namelist():
                names, every = read_ods(parts)
                return names, {name: every[name] for name in wanted(names)}
            check_styles(parts)
            book = openpyxl.load_workbook(io.BytesIO(content), data_only=True, read_only=True)
            names = list(book.sheetnames)
            return names, {name: _rows(path, name, book[name]) for name in wanted(names)}
        except Refused:
            raise
        except Exception as error:
            # What openpyxl raises for a damaged file is of every kind: of zip, of XML, of its own.
            raise Refused(f"{path} {otherwise}") from error


def _rows(path: Path, name: str, page: Any) -> Rows:
    rows = list(rows_of(path, name, page, values_only=True))
    while rows and not rows[-1]:
        rows.pop()
    return rows


def rows_of(path: Path, name: str, page: Any, values_only: bool) -> Iterator[tuple[Any, ...]]:
    """The rows of a sheet that openpyxl opened for reading, without the empty cells at the end of each.

    Raises Refused for a sheet that is too large.
    """
    if not hasattr(page, "iter_rows"):
        raise Refused(f"{path}, sheet {name}: a chart; a sheet of cells is needed")
    # Some programs write a wrong size into the sheet; then rows would be cut off.
    page.reset_dimensions()
    rows = cells = 0
    for row in page.iter_rows(values_only=values_only):
        end = len(row)
        rows, cells = rows + 1, cells + end
        if cells > MOST_CELLS or rows > MOST_ROWS:
            raise Refused(
                f"{path}, sheet {name}: too large; at most {MOST_ROWS:,} rows and {MOST_CELLS:,} "
                "cells are read"
            )
        if values_only:
            while end and row[end - 1] is None:
                end -= 1
        yield row[:end]


STYLES = "xl/styles.xml"


def check_styles(parts: zipfile.ZipFile) -> None:
    """Raises ValueError where the styles are something else. openpyxl reads on without them, and then
    every date is a number."""
    if STYLES not in parts.namelist():
        return
    with parts.open(STYLES) as part:
        _, root = next(ElementTree.iterparse(part, ["start"]))
    if not root.tag.endswith("}styleSheet"):
        raise ValueError(f"{STYLES} holds {root.tag!r}")


def read_separated(path: Path, content: bytes) -> Iterator[Rows]:
    """A file of separated values, once for each sign that may separate them."""
    if len(content) > MOST_MB * 1_000_000:
        raise Refused(f"{path} is {len(content) / 1e6:,.0f} MB; at most {MOST_MB} MB are read")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        text = content.decode("utf-16", "replace")
    else:
        try:
            text = content.decode("utf-8-sig")
        except UnicodeDecodeError:
            # What spreadsheet programs write where they do not write UTF-8.
            text = content.decode("cp1252", "replace")
    if "\0" in text:
        raise Refused(f"{path} is not a list: it holds signs that no text has")
    for sign in (",", ";", "\t", "|"):
        try:
            rows = csv.reader(io.StringIO(text, newline=""), delimiter=sign)
            yield [tuple(cell.strip() or None for cell in row) for row in rows]
        except csv.Error as error:
            raise Refused(f"{path} cannot be read as separated values: {error}") from None
