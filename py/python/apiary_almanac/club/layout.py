"""Names, columns and looks of the club's workbook."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["text", "wrapped", "date", "time", "whole", "one", "three", "own", "own_date"]
"""How a column looks: text, text over several lines, a date, a clock time, a number with so many
places, or one for the keepers to write in."""


@dataclass(frozen=True)
class Column:
    """A column; ``width`` in characters."""

    title: str
    kind: Kind
    width: float
    hidden: bool = False


@dataclass(frozen=True)
class Sheet:
    """A table of the workbook."""

    title: str
    columns: tuple[Column, ...]
    frozen: int
    """Columns that stay in sight beside the header."""
    printed: str
    """The last column that is printed."""
    key: tuple[str, ...]
    """The columns by which a row is known from run to run."""
    lines: int | None = None
    """Lines of every row; as many as its text needs where None."""

    def at(self, title: str) -> int:
        """The place of a column, from 0."""
        return next(n for n, column in enumerate(self.columns) if column.title == title)

    def has(self, title: str) -> bool:
        """Whether there is such a column."""
        return any(column.title == title for column in self.columns)


PLAN, TASK = "Plan", "Task id"
BEGINS, WANTED = "Begins", "Asked for"
"""When the division is planned, and near which date it was asked for."""
NOT_RENEWED = "not renewed"
"""The state of tasks that are ahead of members who cannot be planned for now."""
AGREED, DONE, OUTCOME, SEEN, NOTES = "Agreed for", "Done on", "Outcome", "Seen", "Notes"
COUNTS, STRENGTH = "Counts", "Strength"
OWN_COLUMNS = (AGREED, DONE, OUTCOME, SEEN, NOTES, COUNTS, STRENGTH)
"""Columns of the task sheet that belong to the keepers."""

TASKS = Sheet(
    "Tasks",
    (
        Column("Date", "date", 16),
        Column("From", "time", 7),
        Column("Until", "time", 7),
        Column("Member", "text", 20),
        Column("Hive", "text", 13),
        Column("Box", "text", 10),
        Column("Task", "wrapped", 34),
        Column(DONE, "own_date", 16),
        Column(OUTCOME, "own", 16),
        Column(SEEN, "own", 22),
        Column(NOTES, "own", 26),
        Column(AGREED, "own_date", 16),
        Column(COUNTS, "own", 22),
        Column(STRENGTH, "own", 10),
        Column("Earliest", "date", 16),
        Column("Latest", "date", 16),
        Column("State", "text", 10),
        Column("Why", "wrapped", 70),
        Column("Look for", "wrapped", 70),
        Column("Mind", "wrapped", 24),
        Column("Zone", "text", 19),
        Column(PLAN, "text", 30, hidden=True),
        Column(TASK, "text", 18, hidden=True),
    ),
    frozen=1,
    printed=NOTES,
    key=(PLAN, TASK),
    lines=2,
)
SEASON = Sheet(
    "Season",
    (
        Column("Member", "text", 20),
        Column("Season", "text", 13),
        Column("Opens", "date", 16),
        Column("Closes", "date", 16),
        Column("Days", "whole", 6),
        Column("Why not before", "wrapped", 40),
        Column("Why not after", "wrapped", 40),
        Column("Opens, if 1 error warmer", "date", 16),
        Column("Opens, if 1 error cooler", "date", 16),
        Column("Closes, if 1 error cooler", "date", 16),
        Column("Closes, if 1 error warmer", "date", 16),
        Column("Error, °C", "one", 8),
        Column("Temperatures rest on", "wrapped", 90),
        Column("Remarks", "wrapped", 70),
        Column("Latitude, °", "three", 10),
        Column("Longitude, °", "three", 10),
        Column("Height, m", "whole", 8),
        Column("Zone", "text", 19),
        Column("Bee", "text", 26),
    ),
    frozen=1,
    printed="Why not after",
    key=("Member",),
)
MORNINGS = Sheet(
    "Mornings",
    (
        Column("Member", "text", 20),
        Column("Date", "date", 16),
        Column("Rank", "whole", 6),
        Column("Close the evening before", "time", 12),
        Column("Move from", "time", 8),
        Column("Move until", "time", 8),
        Column("Minutes", "whole", 9),
        Column("Usual first flight", "time", 8),
        Column("At work, °C", "whole", 8),
        Column("Rain, mm", "one", 8),
        Column("Weather from", "text", 16),
        Column("Why", "text", 100),
        Column("Zone", "text", 19),
    ),
    frozen=1,
    printed="Why",
    key=("Member", "Date"),
    lines=1,
)
COLONIES = Sheet(
    "Colonies",
    (
        Column("Member", "text", 20),
        Column("Hive", "text", 13),
        Column("Method", "text", 14),
        Column(BEGINS, "date", 16),
        Column("Last safe date", "date", 16),
        Column("Next date", "date", 16),
        Column("Next task", "wrapped", 34),
        Column("Stands", "text", 20),
        Column("What would settle it", "wrapped", 46),
        Column("What to do", "wrapped", 60),
        Column("Notes", "wrapped", 90),
        Column(PLAN, "text", 30),
        Column(WANTED, "date", 16, hidden=True),
    ),
    frozen=2,
    printed="What to do",
    key=("Member", "Hive"),
)
PROBLEMS = Sheet(
    "Not read",
    (
        Column("Sheet", "text", 14),
        Column("Row", "whole", 6),
        Column("Column", "text", 18),
        Column("Value", "wrapped", 34),
        Column("Reason", "wrapped", 80),
    ),
    frozen=0,
    printed="Reason",
    key=(),
)
TABLES = (TASKS, MORNINGS, SEASON, COLONIES, PROBLEMS)
"""In their order."""
TITLES = tuple(sheet.title for sheet in TABLES)
ABOUT = "About"
MADE_FOR = "Made for"
MADE_FROM = "Made from"
COLUMNS = "How columns were read"
VERSION = "Version of the calendar"
LISTS = "Lists"
"""What the cells of the sheet of tasks offer; hidden."""
SHEETS = (*TITLES, ABOUT, LISTS)
"""In their order; what else stands in the workbook is somebody's own."""
