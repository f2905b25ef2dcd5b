"""Makes a club's workbook and calendar; a start for a script of your own.

    python docs/workbook/club_workbook.py members.xlsx club.xlsx

`python -m apiary_almanac workbook --help` has more settings.
"""

from __future__ import annotations

import sys

from apiary_almanac.club import club_workbook

members, club = sys.argv[1:]
done = club_workbook(members, club)
print(f"{done.members} members, {done.tasks} tasks: {done.workbook}, {done.calendar}")
for problem in done.refused:
    print(f"Not read: {problem}")
