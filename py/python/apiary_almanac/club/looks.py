"""What people made of a sheet of the club's workbook: columns of their own, colours, comments."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from apiary_almanac.club import cells
from apiary_almanac.club.layout import Sheet

Key = tuple[str, ...]
"""What a row is known by from run to run."""


class Formula(str):
    """A formula as it stands in a cell, with its sign."""


@dataclass(frozen=True, kw_only=True)
class OldRow:
    """A row as it was found."""

    number: int
    styles: tuple[int, ...]
    """The number of the look of each of its cells."""
    own: dict[int, Any]
    """What stands in columns that are not the program's, by their place from 0."""
    told: bool
    """Whether somebody wrote there: in such a column, or as a comment."""


@dataclass(kw_only=True)
class Look:
    """Of one sheet, as it was found."""

    titles: list[str]
    """Of all its columns, in their order; empty for one without."""
    rows: dict[Key, OldRow] = field(default_factory=dict)

    @property
    def last(self) -> int:
        """The number of the last row."""
        return max((row.number for row in self.rows.values()), default=1)

    def usual(self, at: int) -> int:
        """The look that most cells of a column have."""
        found = Counter(row.styles[at] for row in self.rows.values() if at < len(row.styles))
        return found.most_common(1)[0][0] if found else 0


def keys(sheet: Sheet, rows: Iterable[Sequence[Any]]) -> Iterator[Key]:
    """What each row is known by: the columns that say so, and its number among those of the same name."""
    seen: Counter[Key] = Counter()
    places = [sheet.at(title) for title in sheet.key]
    for row in rows:
        key = tuple(cells.text(row[at]) for at in places)
        seen[key] += 1
        yield (*key, str(seen[key]))


def noted(page: Any) -> dict[tuple[int, int], Any]:
    """The cells below the header of a stripped sheet that have a comment or a link, by row and column."""
    return {
        place: cell
        for place, cell in page._cells.items()
        if place[0] > 1 and (getattr(cell, "comment", None) or getattr(cell, "hyperlink", None))
    }
