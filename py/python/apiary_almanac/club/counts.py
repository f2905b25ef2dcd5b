"""Bees counted at entrances, as keepers write them into a cell."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from apiary_almanac.club import cells
from apiary_almanac.club.cells import Cell, NotUnderstood
from apiary_almanac.club.signs import which_boxes

_ONE = re.compile(r"(?P<where>.*?[^\d\s,:=])\s*[:=]?\s*(?P<numbers>\d+(?:\s*,\s*\d+)*)")
_NEIGHBOUR = ("neighbour", "neighbor")
_COUNTED = ("home", "pollen", "resin")
ALLOWED = (
    "bees that came home in five minutes, with pollen, with resin: new box 40, 5, 2; neighbour 90, 30, 4"
)


def counted(value: Cell, boxes: Mapping[str, str]) -> list[dict[str, Any]]:
    """Counts by box; that of an undivided neighbour stands beside each. ``boxes`` are the names of the two
    boxes with ``parent`` or ``daughter``."""
    counts: list[dict[str, Any]] = []
    neighbour = None
    for item in map(cells.text, cells.items(value)):
        found = _ONE.fullmatch(item)
        numbers = [] if found is None else [int(number) for number in found["numbers"].split(",")]
        if found is None or len(numbers) > len(_COUNTED):
            raise NotUnderstood(f"{item!r} is no count; allowed are {ALLOWED}")
        traffic = dict(zip(_COUNTED, numbers, strict=False))
        if found["where"].lower() in _NEIGHBOUR:
            neighbour = traffic
            continue
        which = which_boxes(found["where"], boxes)
        if len(which) != 1:
            raise NotUnderstood("each box is counted by itself: new box 40; old box 55")
        counts.append({"which": which[0], "counted": traffic})
    if neighbour is not None:
        if not counts:
            raise NotUnderstood("the count at the box is needed beside the neighbour's")
        counts = [{**count, "neighbour": neighbour} for count in counts]
    return counts
