"""What could not be read, and where it stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Problem:
    """A cell that was not understood; its row, or its record, was left out."""

    sheet: str
    row: int
    """Counted as spreadsheet programs do, from 1."""
    column: str
    """The column's header."""
    value: str
    """What stands in the cell."""
    reason: str
    """What is wrong with it and what is allowed."""

    def __str__(self) -> str:
        return f"{self.sheet}, row {self.row}, {self.column}: {self.value!r}: {self.reason}"


class Refused(Exception):
    """A file that cannot be used at all; the text says which and why."""


class NotAllRead(Refused):
    """Something could not be read, and all was to be: nothing was written."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        super().__init__(
            f"Nothing is written, because {len(problems)} of the list could not be read:"
            + "".join(f"\n  {problem}" for problem in problems)
        )
        self.problems = tuple(problems)
