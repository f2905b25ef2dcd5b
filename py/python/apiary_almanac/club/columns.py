"""Finds the header of a list and what its columns hold."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from apiary_almanac.club import cells
from apiary_almanac.club.cells import Cell
from apiary_almanac.club.opening import Row, Rows

HEADERS: dict[str, tuple[str, ...]] = {
    "name": ("name", "member", "keeper", "beekeeper", "member name", "keeper name", "full name", "members name"),
    "first_name": ("first name", "given name", "forename", "first"),
    "last_name": ("last name", "surname", "family name", "last"),
    "hives": ("hives", "hive", "hive names", "hive name", "colony names", "colony name"),
    "new_hives": ("new hives", "new hive", "new hive names", "new box", "new boxes", "new names"),
    "coordinates": (
        "coordinates", "coords", "gps", "gps coordinates", "position", "location", "lat lon", "lat long",
        "latitude longitude", "lat and long", "latlong", "latlon",
    ),
    "turned_coordinates": ("lon lat", "long lat", "longitude latitude", "longlat", "lonlat"),
    "town": ("town", "city", "suburb", "village", "nearest town", "town name", "town or suburb", "locality"),
    "latitude": ("latitude", "lat"),
    "longitude": ("longitude", "lon", "long", "lng"),
    "elevation": (
        "elevation", "elev", "height", "altitude", "alt", "metres above sea level", "meters above sea level",
        "height above sea level", "elevation above sea level", "masl",
    ),
    "zone": ("zone", "time zone", "timezone", "tz", "iana zone", "iana time zone"),
    "bee": ("bee", "bees", "species", "bee species", "type of bee", "kind of bee"),
    "colonies": (
        "colonies", "number of colonies", "number of hives", "no of hives", "no hives", "no of colonies",
        "no colonies", "hive count", "colony count", "how many hives", "how many colonies",
    ),
    "weights": ("weights", "weight", "net weight", "net weights"),
    "last_division": (
        "last division", "last divided", "last divisions", "last split", "last split date", "date of last split",
        "date of last division", "last split on", "last divided on", "split date",
    ),
    "strength": ("strength", "strengths", "colony strength"),
    "method": ("method", "way of dividing"),
    "free_days": ("free days", "free weekdays", "days free"),
    "normals": ("normals", "normals file"),
    "records": ("records", "records file"),
    "forecast": ("forecast", "forecast file"),
}  # fmt: skip
"""The names that a column may have; units in brackets, capitals, signs and spaces do not matter."""
MEANINGS = {
    "turned_coordinates": "coordinates, longitude first",
    "weights": "weight without the box",
    "colonies": "number of colonies",
    "hives": "names of the hives",
    "new_hives": "names for the hives that are to be made",
    "free_days": "free weekdays",
}
"""What people are told that a column was read as, where it is not the key."""
SEARCHED = 40
"""Rows from the top in which the header is looked for."""

_KNOWN = {name: key for key, names in HEADERS.items() for name in (*names, key.replace("_", " "))}
_BY_LENGTH: dict[int, list[str]] = {}
for _name in _KNOWN:
    if len(_name) >= 5:
        _BY_LENGTH.setdefault(len(_name), []).append(_name)
_UNITS: Mapping[str, Mapping[str, float]] = {"elevation": cells.METRES, "weights": cells.KILOGRAMS}
_OTHER_UNITS = {
    "yd", "yds", "yard", "yards", "mi", "mile", "miles", "cm", "mm", "st", "stone", "t", "tonnes", "mg", "fathoms",
}  # fmt: skip
SIDES = {
    **dict.fromkeys(("n", "north", "norte", "nord"), "N"),
    **dict.fromkeys(("s", "south", "sul", "sur", "sud"), "S"),
    **dict.fromkeys(("e", "east", "este", "leste", "est", "l"), "E"),
    # Ouest, oeste. A longitude with the wrong sign does not fit its zone, which the engine refuses.
    **dict.fromkeys(("w", "west", "oeste", "ouest", "o"), "W"),
}
"""Words and letters for the sides of the globe, in headers."""
_BEHIND = {*cells.METRES, *cells.KILOGRAMS, *_OTHER_UNITS, *SIDES, "deg", "degrees", "in", "asl", "dd", "decimal"}
"""What may stand behind a name without brackets."""


@dataclass(frozen=True, kw_only=True)
class Column:
    """A column that was understood."""

    key: str
    at: int
    header: str
    near: bool
    """Whether the name was only nearly one that is known."""
    unit: str | None = None
    """Of numbers without one."""
    side: str | None = None
    """Of the globe: of latitudes and longitudes without one."""
    wrong: str | None = None
    """Why its numbers cannot be read."""

    def __str__(self) -> str:
        meaning = MEANINGS.get(self.key, self.key.replace("_", " "))
        unit = f", in {self.unit}" if self.unit else ""
        side = f", {self.side} of zero" if self.side else ""
        return f"{self.header!r} read as {meaning}{unit}{side}"


@dataclass(frozen=True, kw_only=True)
class Header:
    """The row of the names of columns."""

    row: int
    """From 0."""
    columns: dict[str, Column] = field(default_factory=dict)
    ignored: dict[str, str | None] = field(default_factory=dict)
    """Columns that mean nothing here, with the name that they may have been meant as."""
    doubled: tuple[str, str] | None = None
    """Two headers that mean the same."""
    headers: tuple[str, ...] = ()

    @property
    def worth(self) -> int:
        """How much of it was understood."""
        needed = {"name", "first_name", "last_name"} & self.columns.keys()
        return len(self.columns) + bool(needed)


def find_header(rows: Rows) -> Header | None:
    """The row near the top that names most columns; None where all is empty."""
    found = [read_header(row, at) for at, row in enumerate(rows[:SEARCHED]) if any(map(cells.text, row))]
    if not found:
        return None
    header = max(found, key=lambda header: header.worth)
    return replace(header, ignored={name: _perhaps(_plain(name)) for name in header.ignored})


def read_header(row: Row, number: int) -> Header:
    """What the columns of a row that names them hold; what the others may have been meant as is not asked."""
    columns: dict[str, Column] = {}
    ignored: dict[str, str | None] = {}
    doubled = None
    headers = tuple(cells.text(cell) for cell in row)
    names = [_plain(header) for header in headers]
    exact = {_KNOWN[name] for name in names if name in _KNOWN}
    for at, (header, name) in enumerate(zip(headers, names, strict=True)):
        key, near = _KNOWN.get(name), False
        if key is None and (key := _near(name)) is not None:
            # An exact name is surer than one with a slip in it.
            key, near = (None, False) if key in exact else (key, True)
        if key is None:
            if header:
                ignored[header] = None
        elif key in columns:
            doubled = doubled or (columns[key].header, header)
        else:
            columns[key] = _column(key, at, header, near)
    if "name" in columns and "last_name" in columns and "first_name" not in columns:
        columns["first_name"] = columns.pop("name")
    return Header(row=number, columns=columns, ignored=ignored, doubled=doubled, headers=headers)


def _column(key: str, at: int, header: str, near: bool) -> Column:
    words = re.findall(r"[^\W\d_]+", header.lower())[1:]
    unit = side = wrong = None
    if key in _UNITS:
        unit = next((word for word in reversed(words) if word in _UNITS[key]), None)
        other = next((word for word in words if word in _OTHER_UNITS), None)
        if unit is None and other is not None:
            wrong = f"the header names the unit {other!r}; known are {', '.join(_UNITS[key])}"
    if key in ("latitude", "longitude"):
        axis = "NS" if key == "latitude" else "EW"
        sides = {SIDES[word] for word in words if word in SIDES and SIDES[word] in axis}
        # `Latitude (N/S)` names none.
        side = sides.pop() if len(sides) == 1 else None
    return Column(key=key, at=at, header=header, near=near, unit=unit, side=side, wrong=wrong)


def _plain(header: Cell) -> str:
    """A header without case, brackets, signs and unit: `Net weight (kg)` is `net weight`."""
    without_unit = re.sub(r"[(\[].*?[)\]]", " ", cells.text(header).lower())
    without_unit = re.sub(r"[#№]|\b(?:nr|num|number|n[º°o])\b(?!\.?\s+of)", " number of ", without_unit)
    words = re.sub(r"[^\w]+|_", " ", without_unit).replace("member s ", "members ").split()
    while len(words) > 1 and words[-1] in _BEHIND:
        words.pop()
    return " ".join(words)


def _near(name: str) -> str | None:
    """The key of the one name that differs by a single slip: a letter too many, missing, other, or two that
    changed places. Short names and slips in the first letter (height, weight) are no near misses."""
    if len(name) < 5:
        return None
    alike = (known for length in (-1, 0, 1) for known in _BY_LENGTH.get(len(name) + length, ()))
    found = {known: _KNOWN[known] for known in alike if _one_slip(name, known)}
    if len(set(found.values())) != 1 or not any(known[0] == name[0] for known in found):
        return None
    return next(iter(found.values()))


def _one_slip(one: str, other: str) -> bool:
    at = next((n for n, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))
    rest, rest_other = one[at:], other[at:]
    return (
        rest[1:] == rest_other[1:]
        or rest == rest_other[1:]
        or rest[1:] == rest_other
        or (rest[:2] == rest_other[1::-1] and rest[2:] == rest_other[2:])
    )


def _perhaps(name: str) -> str | None:
    """The name that a header may have been meant as."""
    if "gross" in name:
        return None
    found = difflib.get_close_matches(name, [one for one in _KNOWN if len(one) > 3], n=1, cutoff=0.72)
    return found[0].capitalize() if found else None


def told(columns: Iterable[Column]) -> list[str]:
    """How each column was read, those with a slip first."""
    return [str(column) for column in sorted(columns, key=lambda one: (not one.near, one.at))]
