"""Kills the workbook's command at random moments, and starts it twice at once.

    python py/tests/workbook_kills.py 300 100

kills it 300 times and starts 100 pairs, in a folder of its own. After each of them the workbook opens, every
note that was ever written stands in it, the calendar is a calendar, and who said "done" has done it. The
tests run a short form. The club is invented.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import icalendar
import openpyxl

TODAY = "2026-09-13"
HEADER = ("Name", "Coordinates", "Zone", "Elevation", "Weights", "Last division", "Strength")
ROWS = (
    ("Ines", "-28.81, 153.28", "Australia/Sydney", 12, 3.6, "2025-02-01", "strong"),
    ("Rizal", "1.35 N, 103.8 E", "Asia/Singapore", 15, 3.4, "2024-01-01", "strong"),
)


@dataclasses.dataclass
class Found:
    """What was seen."""

    killed: int = 0
    ended_before: int = 0
    """Runs that were over before they could be killed."""
    pairs: int = 0
    both_done: int = 0
    refused: int = 0
    """Runs of a pair that were told to wait."""
    notes: int = 0


class Club:
    """A folder with a list of members, and what keepers have written so far."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.folder, self.random = folder, random.Random(seed)
        self.notes: dict[tuple[str, str], str] = {}
        book = openpyxl.Workbook()
        sheet: Any = book[book.sheetnames[0]]
        for row in (HEADER, *ROWS):
            sheet.append(row)
        book.save(folder / "members.xlsx")
        start = time.monotonic()
        self.run()
        self.lasts_s = time.monotonic() - start

    def start(self) -> subprocess.Popen[str]:
        command = [sys.executable, "-m", "apiary_almanac", "workbook", "members.xlsx", "--today", TODAY]
        return subprocess.Popen(
            command,
            cwd=self.folder,
            text=True,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
        )

    def run(self) -> None:
        run = self.start()
        _, told = run.communicate()
        assert (run.returncode, told) == (0, "")

    def write(self, note: str) -> None:
        """As a keeper does: opens the workbook, writes into a row, and saves it."""
        book = openpyxl.load_workbook(self.folder / "club.xlsx")
        page: Any = book["Tasks"]
        header = [cell.value for cell in page[1]]
        row = self.random.choice(list(page.iter_rows(min_row=2)))
        row[header.index("Notes")].value = note
        self.notes[row[header.index("Plan")].value, row[header.index("Task id")].value] = note
        book.save(self.folder / "club.xlsx")

    def check(self) -> None:
        """Both files are whole, and hold every note."""
        book = openpyxl.load_workbook(self.folder / "club.xlsx")
        header, *rows = book["Tasks"].iter_rows(values_only=True)
        at = [header.index(name) for name in ("Plan", "Task id", "Notes", "Date")]
        found = {(row[at[0]], row[at[1]]): row[at[2]] for row in rows if row[at[2]] is not None}
        assert found == self.notes, (found, self.notes)
        events = icalendar.Calendar.from_ical((self.folder / "club.ics").read_bytes()).walk("VEVENT")
        planned: dict[str, Any] = {f"{row[at[0]]}.{row[at[1]]}@apiary-almanac": row[at[3]] for row in rows}
        live = {str(event["UID"]) for event in events if event["STATUS"] != "CANCELLED"}
        # What may never be needed comes into a calendar 14 days before.
        near = dt.date.fromisoformat(TODAY) + dt.timedelta(14)
        assert live <= planned.keys() and len(live) > len(planned) / 2
        assert all(planned[uid].date() > near for uid in planned.keys() - live)

    def kill_one(self, note: str, found: Found) -> None:
        self.write(note)
        run = self.start()
        # Half of them where the files are written, which is at the end.
        earliest = self.random.choice((0.0, 0.7))
        time.sleep(self.random.uniform(earliest, 1.05) * self.lasts_s)
        run.kill()
        code = run.wait()
        assert run.stderr is not None
        told = run.stderr.read()
        run.stderr.close()
        assert "Traceback" not in told, told
        if code == 0:
            found.ended_before += 1
        else:
            assert code == -9, (code, told)
            found.killed += 1
        self.check()

    def pair(self, note: str, found: Found) -> None:
        self.write(note)
        runs = [self.start(), self.start()]
        codes = []
        for run in runs:
            _, told = run.communicate()
            codes.append(run.returncode)
            if run.returncode == 1:
                assert "another run" in told or "run again" in told, told
                found.refused += 1
            else:
                assert (run.returncode, told) == (0, "")
        assert 0 in codes
        found.pairs += 1
        found.both_done += codes == [0, 0]
        self.check()

    def end(self) -> None:
        """A last run finds nothing broken, and no rubbish is left."""
        self.run()
        self.check()
        assert not list(self.folder.rglob("*.part"))
        for ending in ("xlsx", "ics"):
            assert len(list((self.folder / "club backups").glob(f"*.{ending}"))) <= 5
        for copy in (self.folder / "club backups").glob("*.xlsx"):
            openpyxl.load_workbook(copy)


def torture(folder: Path, kills: int, pairs: int, seed: int = 1) -> Found:
    """Do it; an assertion fails where something is lost."""
    club, found = Club(folder, seed), Found()
    for number in range(kills):
        club.kill_one(f"note {number}", found)
    for number in range(pairs):
        club.pair(f"pair {number}", found)
    club.end()
    found.notes = len(club.notes)
    return found


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        print(torture(Path(scratch), *map(int, sys.argv[1:])))
