"""The club's workbook without the rows of its tables: what openpyxl needs to keep everything else."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from collections.abc import Container

import openpyxl
from openpyxl.workbook import Workbook

_START = re.compile(rb"<((?:\w+:)?)sheetData\b[^>]*>")
_END_OF_ROW = re.compile(rb"</(?:\w+:)?row>")


def stripped(parts: zipfile.ZipFile, tables: Container[str]) -> Workbook:
    """Load a workbook without the rows below the header of those parts. With them openpyxl would need
    many times the memory and the time of all the rest."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as bare:
        for item in parts.infolist():
            part = parts.read(item)
            bare.writestr(item.filename, _header_only(part) if item.filename in tables else part)
    with warnings.catch_warnings():
        # It warns of what it cannot keep, such as pictures; docs/workbook.md says so.
        warnings.simplefilter("ignore")
        return openpyxl.load_workbook(out)


def _header_only(part: bytes) -> bytes:
    start = _START.search(part)
    if start is None or start[0].endswith(b"/>"):
        return part
    end = part.rfind(b"</" + start[1] + b"sheetData>")
    first = _END_OF_ROW.search(part, start.end(), end)
    return part if first is None else part[: first.end()] + part[end:]
