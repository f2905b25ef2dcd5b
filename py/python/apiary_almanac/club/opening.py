"""Opens a workbook to read it."""

from __future__ import annotations

import zipfile
from pathlib import Path

import openpyxl
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.workbook import Workbook

from apiary_almanac.club.problems import Refused


def open_to_read(path: Path, no_workbook: str) -> Workbook:
    """The workbook with the values of its cells, row by row.

    Raises Refused for a file that cannot be opened, and with ``no_workbook`` for one of another kind.
    """
    try:
        return openpyxl.load_workbook(path, data_only=True, read_only=True)
    except OSError as error:
        raise Refused(f"{path}: {error.strerror or error}") from None
    except (InvalidFileException, zipfile.BadZipFile, KeyError, ValueError):
        raise Refused(f"{path} {no_workbook}") from None
