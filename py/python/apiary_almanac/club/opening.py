"""Reads the sheets of a workbook."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Iterable
from pathlib import Path
from xml.etree import ElementTree

import openpyxl

from apiary_almanac.club.cells import Cell
from apiary_almanac.club.problems import Refused

Rows = list[tuple[Cell, ...]]


def read_sheets(
    path: Path,
    content: bytes | None,
    no_workbook: str,
    wanted: Callable[[list[str]], Iterable[str]],
) -> tuple[list[str], dict[str, Rows]]:
    """The names of all sheets, and the values of those that ``wanted`` names.

    ``content`` is what was read from the file, if it was. Raises Refused for a file that cannot be
    opened, and with ``no_workbook`` for one of another kind.
    """
    try:
        content = path.read_bytes() if content is None else content
    except OSError as error:
        raise Refused(f"{path}: {error.strerror or error}") from None
    try:
        _check_styles(content)
        book = openpyxl.load_workbook(io.BytesIO(content), data_only=True, read_only=True)
        names = list(book.sheetnames)
        rows: dict[str, Rows] = {}
        for name in wanted(names):
            page = book[name]
            if not hasattr(page, "iter_rows"):
                raise Refused(f"{path}, sheet {name}: a chart; a sheet of cells is needed")
            # Some programs write a wrong size into the sheet; then rows would be cut off.
            page.reset_dimensions()
            rows[name] = [tuple(row) for row in page.iter_rows(values_only=True)]
        return names, rows
    except Refused:
        raise
    except Exception as error:
        # What openpyxl raises for a damaged file is of every kind: of zip, of XML, of its own.
        raise Refused(f"{path} {no_workbook}") from error


STYLES = "xl/styles.xml"


def _check_styles(content: bytes) -> None:
    """Raises ValueError where the styles are something else. openpyxl reads on without them, and then
    every date is a number."""
    with zipfile.ZipFile(io.BytesIO(content)) as parts:
        if STYLES not in parts.namelist():
            return
        with parts.open(STYLES) as part:
            _, root = next(ElementTree.iterparse(part, ["start"]))
    if not root.tag.endswith("}styleSheet"):
        raise ValueError(f"{STYLES} holds {root.tag!r}")
