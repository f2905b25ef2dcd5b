"""What the workbook of a club costs: processor time, memory, sizes.

    python py/bench/club.py 200 1 FOLDER

MEMBERS and COLONIES of each, all ready to be divided, invented, at places some hundred metres apart; the files go into
FOLDER. Run over the same folder once more to see what it costs to go on from an earlier workbook.
"""

from __future__ import annotations

import datetime as dt
import resource
import sys
import time
from pathlib import Path
from typing import Any

import openpyxl

from apiary_almanac.club import club_workbook

HEADER = ("Name", "Coordinates", "Zone", "Elevation", "Colonies", "Weights", "Last division", "Strength")


def main() -> None:
    """Make the list and the workbook, and say what it took."""
    members, colonies, folder = int(sys.argv[1]), int(sys.argv[2]), Path(sys.argv[3])
    folder.mkdir(exist_ok=True)
    book = openpyxl.Workbook(write_only=True)
    page: Any = book.create_sheet("Members")
    page.append(HEADER)
    ready = ["; ".join([value] * colonies) for value in ("3.6", "2025-02-01", "strong")]
    for number in range(members):
        place = f"{-28.81 + 0.004 * (number % 50):.3f}, {153.0 + 0.006 * (number // 50 % 50):.3f}"
        page.append([f"Member {number}", place, "Australia/Sydney", 12 + number % 100, colonies, *ready])
    book.save(folder / "members.xlsx")

    start = time.process_time()
    done = club_workbook(folder / "members.xlsx", folder / "club.xlsx", today=dt.date(2026, 9, 13))
    took_s = time.process_time() - start
    sizes = ", ".join(f"{path.name} {path.stat().st_size / 1e6:.1f} MB" for path in sorted(folder.glob("club.*")))
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{members} x {colonies}: {done.tasks} tasks, {took_s:.1f} s, {memory:.0f} MB; {sizes}")


if __name__ == "__main__":
    main()
