"""Ranked mornings as notebooks show them."""

from __future__ import annotations

from apiary_almanac import _show
from apiary_almanac._types import RankedMorning


class Mornings(tuple[RankedMorning, ...]):
    """Mornings, the best first; a tuple that notebooks show as a table."""

    __slots__ = ()

    def _repr_html_(self) -> str:
        return _show.mornings_table(self)
