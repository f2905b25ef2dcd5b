"""What keepers saw, as they write it into a cell."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import get_args

from apiary_almanac import SignKind
from apiary_almanac.club import cells
from apiary_almanac.club.cells import Cell, NotUnderstood

SIGNS = tuple(kind.replace("_", " ") for kind in get_args(SignKind))
"""As they are written."""
BOX_WORDS = {"parent": "old box", "daughter": "new box", "pair": "both"}
"""What people call the two boxes of a division, and both."""
_BOXES = {
    **dict.fromkeys(("parent", "old", "old box", "old hive"), ("parent",)),
    **dict.fromkeys(("daughter", "new", "new box", "new hive"), ("daughter",)),
    **dict.fromkeys(("pair", "both", "both boxes", "both hives"), ("parent", "daughter")),
}
_WHERE = (
    re.compile(r"(?P<sign>.+?)\s*[(:]\s*(?P<box>[^()]*?)\s*\)?"),
    # The last of them: `pollen in in Candle`.
    re.compile(r"(?P<sign>.+)\s(?:in|at|of)\s+(?:the\s+)?(?P<box>.+)"),
)


def seen(value: Cell, boxes: Mapping[str, str]) -> list[dict[str, str]]:
    """Signs with the box each was seen at: `eggs (new box)`, `eggs in Candle`, `guards both`. ``boxes`` are
    the names of the two boxes with ``parent`` or ``daughter``."""
    signs = []
    for word in cells.words(value):
        kind, named = _parted(word)
        for which in (None,) if named is None else _which(named, boxes):
            sign = {"kind": kind.replace(" ", "_")}
            if which is not None:
                sign["which"] = which
            signs.append(sign)
    return signs


def _parted(word: str) -> tuple[str, str | None]:
    """A sign, and where it was seen."""
    if (kind := _sign(word)) is not None:
        return kind, None
    told = word
    for where in _WHERE:
        if (found := where.fullmatch(word)) is not None:
            if (kind := _sign(found["sign"])) is not None:
                return kind, found["box"]
            told = found["sign"]
    # A box may simply stand behind: `eggs both`.
    sign, _, last = word.rpartition(" ")
    if last.lower() in _BOXES and (kind := _sign(sign)) is not None:
        return kind, last
    raise NotUnderstood(f"{told!r} is not known; known are {', '.join(SIGNS)}")


def _sign(word: str) -> str | None:
    """A sign by its name, in one or many."""
    plain = " ".join(re.sub(r"[_-]+", " ", word.lower()).split())
    return next((sign for sign in SIGNS if plain in (sign, sign.removesuffix("s"), f"{sign}s")), None)


def _which(named: str, boxes: Mapping[str, str]) -> tuple[str, ...]:
    plain = " ".join(named.lower().split())
    own = {name.casefold(): which for name, which in boxes.items()}
    if plain in own:
        return (own[plain],)
    if plain in _BOXES:
        return _BOXES[plain]
    names = [*boxes, *(words for words in BOX_WORDS.values())]
    raise NotUnderstood(f"{named!r} is no box; known are {', '.join(names)}")
