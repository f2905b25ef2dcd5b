"""Writes docs/demo/members.xlsx: an invented club at real places, with three rows that are wrong.

Run from the top folder: python docs/workbook/make_demo.py
"""

from __future__ import annotations

import datetime as dt
import sys
from pathlib import Path

import openpyxl
from openpyxl.styles import Font

OUT = Path(__file__).parents[1] / "demo" / "members.xlsx"

HEADER = (
    "Member", "Phone", "Coordinates", "Elevation (m)", "Time zone", "Bee", "Colonies",
    "Net weights (kg)", "Last division", "Strength", "Method", "Free days", "Forecast file",
)
D = dt.date
ROWS = (
    # Subtropical east coast and its hinterland.
    ("Ines Marrow", "ext. 11", "-28.81, 153.28", 12, "Australia/Sydney",
     "Tetragonula carbonaria", 2, "3.6; 2.7", "2025-02-10; 2025-10-04", "strong; medium",
     "split", "Saturday, Sunday, Wednesday", "forecast.csv"),
    ("Tobias Fenn", "ext. 12", "25.53 S, 152.70 E", 11, "Australia/Brisbane",
     "Tetragonula carbonaria", 1, 3.4, D(2025, 1, 18), "strong", "eduction", None, None),
    ("Odile Sparrow", "ext. 13", "-27.56, 151.95", 690, "Australia/Brisbane", None, 1, 3.1,
     D(2024, 11, 2), "medium", None, "Sunday", None),
    # A height with its unit in the cell.
    ("Wen Halloran", "ext. 14", "30° 18′ 0″ S, 153° 6′ 36″ E", "66 ft", "Australia/Sydney",
     "Tetragonula carbonaria", 3, "3.9; ?; 3.2", "2025-03-01; 2025-03-01; ?",
     "strong; ?; strong", "split", None, None),
    # A formula in somebody's name stays a text.
    ("=Pat & Kim", "+11", "-33.43, 151.34", 10, "Australia/Sydney", None, 1, 2.4,
     D(2025, 9, 20), "weak", "transfer", None, None),
    # Brazil, highland and coast.
    ("Jandira Prado", "ext. 16", "-22.90, -47.06", 680, "America/Sao_Paulo",
     "generic_large", 1, 3.8, D(2025, 4, 6), "strong", "comb_donation", None, None),
    ("Amaro Lins", "ext. 17", "-8.05, -34.90", 8, "America/Recife", "generic_large", 2,
     "3.3; 3.5", "2025-05-20", "strong; strong", "split", "Saturday", None),
    # Mexico, Singapore, the Philippines, India.
    ("Xiomara Kantun", "ext. 18", "20.97, -89.62", 9, "America/Merida", "generic_large", 1,
     3.7, D(2025, 2, 14), "strong", "split", None, None),
    ("Rizal Omar", "ext. 19", "1.35 N, 103.80 E", 15, "Asia/Singapore", None, 1, 3.2,
     D(2025, 6, 30), "strong", "eduction", "Sunday", None),
    ("Luz Baybay", "ext. 20", "14.17, 121.24", 40, "Asia/Manila", None, 1, None, None, None,
     "split", None, None),
    ("Madhavi Pillai", "ext. 21", "10.52, 76.21", 3, "Asia/Kolkata", None, 2, "3.1; 3.0",
     "2025-01-11; 2025-01-11", "strong; medium", "split", None, None),
    ("Nils Arvid", "ext. 22", "-35.31, 149.12", 580, "Australia/Sydney", None, 0, None, None,
     None, None, None, None),
    # Three rows that cannot be used as they are.
    ("Gretel Moss", "ext. 23", "-128.81, 153.28", 12, "Australia/Sydney", None, 1, 3.3,
     D(2025, 1, 5), "strong", "split", None, None),
    ("Silas Quill", "ext. 24", "-29.44, 153.04", 30, "UTC+10", None, 1, 3.0,
     D(2025, 3, 9), "medium", "split", None, None),
    ("Petra Loam", "ext. 25", "-31.43, 152.91", 5, "Australia/Sydney", None, "two", "about 3",
     "last spring", "strong", "split", None, None),
)  # fmt: skip


def main(out: Path) -> None:
    """Write the workbook."""
    book = openpyxl.Workbook()
    sheet = book[book.sheetnames[0]]
    sheet.title = "Members"
    sheet.append(HEADER)
    for row in ROWS:
        sheet.append(row)
        for cell in sheet[sheet.max_row]:
            if isinstance(cell.value, dt.date):
                cell.number_format = "yyyy-mm-dd"
            elif isinstance(cell.value, str):
                cell.data_type = "s"
    for cell in sheet[1]:
        cell.font = Font(bold=True)
        sheet.column_dimensions[cell.column_letter].width = 20
    sheet.freeze_panes = "B2"
    # The same file from every run.
    book.properties.creator = "make_demo.py"
    book.properties.created = book.properties.modified = dt.datetime(2026, 9, 13)
    book.save(out)


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else OUT)
