"""A club's workbook: from a list of members to everyone's seasons, tasks, mornings and calendar.

Needs openpyxl and filelock, the extra ``workbook`` of the package. What a list of members may hold is in
the help of the command, ``apiary-almanac workbook --help``, and in docs/workbook.md of the sources.

>>> import datetime as dt, pathlib, tempfile
>>> import openpyxl
>>> from apiary_almanac.club import club_workbook
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> members = openpyxl.Workbook()
>>> members.active.append(["Name", "Coordinates", "Zone", "Height (m)", "Weights"])
>>> members.active.append(["Ines Marrow", "-28.81, 153.28", "Australia/Sydney", 12, "3.6 kg"])
>>> members.save(folder / "members.xlsx")
>>> done = club_workbook(folder / "members.xlsx", folder / "club.xlsx", today=dt.date(2026, 9, 13))
>>> done.members, done.plans, done.refused
(1, 1, ())
"""

from __future__ import annotations

from apiary_almanac.club.make import Done, club_workbook
from apiary_almanac.club.problems import NotAllRead, Problem, Refused

__all__ = ["Done", "NotAllRead", "Problem", "Refused", "club_workbook"]
