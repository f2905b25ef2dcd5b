"""What keepers saw, as they write it into a cell."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, get_args

from apiary_almanac import Outcome, SignKind, Strength
from apiary_almanac.club import cells
from apiary_almanac.club.cells import Cell, NotUnderstood

SIGNS = tuple(kind.replace("_", " ") for kind in get_args(SignKind))
"""As they are written."""
OUTCOMES = tuple(kind.replace("_", " ") for kind in get_args(Outcome))
STRENGTHS = get_args(Strength)
OF_A_BOX = ("gave brood", "gave cells", "gave queen", "box empty")
"""Outcomes that can be about the other box than the task's."""
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


def seen(value: Cell, boxes: Mapping[str, str]) -> list[dict[str, Any]]:
    """Signs with the box each was seen at, and how many: `eggs (new box)`, `eggs in Candle`, `guards both`,
    `12 males turned out (old box)`. ``boxes`` are
    the names of the two boxes with ``parent`` or ``daughter``."""
    signs = []
    for word in cells.words(value):
        # `12 males turned out`
        number = re.match(r"(\d+)\s+(?=\D)", word)
        kind, named = _parted(word[number.end() :] if number else word, SIGNS)
        for which in (None,) if named is None else which_boxes(named, boxes):
            sign: dict[str, Any] = {"kind": kind.replace(" ", "_")}
            if which is not None:
                sign["which"] = which
            if number is not None:
                sign["count"] = int(number[1])
            signs.append(sign)
    return signs


def outcome(value: Cell, boxes: Mapping[str, str]) -> dict[str, str]:
    """What came of a task: `eggs seen`, `gave brood (new box)`; nothing for an empty cell."""
    if not cells.text(value):
        return {}
    kind, named = _parted(cells.text(value), OUTCOMES)
    found = {"outcome": kind.replace(" ", "_")}
    if named is not None:
        which = which_boxes(named, boxes)
        found["which"] = which[0] if len(which) == 1 else "pair"
    return found


def strength(value: Cell) -> str | None:
    """How strong a keeper judges a colony to be; None for an empty cell."""
    if not cells.text(value):
        return None
    plain = cells.name(value)
    if plain not in STRENGTHS:
        raise NotUnderstood(f"{cells.text(value)!r} is not known; known are {', '.join(STRENGTHS)}")
    return plain


def _parted(word: str, names: Sequence[str]) -> tuple[str, str | None]:
    """One of some names, and the box behind it."""
    if (kind := _named(word, names)) is not None:
        return kind, None
    told = word
    for where in _WHERE:
        if (found := where.fullmatch(word)) is not None:
            if (kind := _named(found["sign"], names)) is not None:
                return kind, found["box"]
            told = found["sign"]
    # A box may simply stand behind: `eggs both`.
    sign, _, last = word.rpartition(" ")
    if last.lower() in _BOXES and (kind := _named(sign, names)) is not None:
        return kind, last
    raise NotUnderstood(f"{told!r} is not known; known are {', '.join(names)}")


def _named(word: str, names: Sequence[str]) -> str | None:
    """A name, in one or many."""
    plain = " ".join(re.sub(r"[_-]+", " ", word.lower()).split())
    return next((name for name in names if plain in (name, name.removesuffix("s"), f"{name}s")), None)


def which_boxes(named: str, boxes: Mapping[str, str]) -> tuple[str, ...]:
    """The boxes that a name or a word means."""
    plain = " ".join(named.lower().split())
    own = {name.casefold(): which for name, which in boxes.items()}
    if plain in own:
        return (own[plain],)
    if plain in _BOXES:
        return _BOXES[plain]
    names = [*boxes, *(words for words in BOX_WORDS.values())]
    raise NotUnderstood(f"{named!r} is no box; known are {', '.join(names)}")
