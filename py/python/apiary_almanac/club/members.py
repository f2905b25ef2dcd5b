"""Reads the members' workbook: one row a member, in columns with sensible names in any order."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from apiary_almanac.club import cells
from apiary_almanac.club.cells import Cell, NotUnderstood
from apiary_almanac.club.opening import Rows, read_sheets
from apiary_almanac.club.problems import Problem, Refused

T = TypeVar("T")
MOST_COLONIES = 100
"""Of one member."""

HEADERS: dict[str, tuple[str, ...]] = {
    "name": ("name", "member", "keeper", "member name"),
    "hives": ("hives", "hive", "hive names", "colony names"),
    "coordinates": ("coordinates", "position", "location", "lat lon", "latitude longitude"),
    "latitude": ("latitude", "lat"),
    "longitude": ("longitude", "lon", "long"),
    "elevation": ("elevation", "height", "altitude", "metres above sea level"),
    "zone": ("zone", "time zone"),
    "bee": ("bee", "bees", "species"),
    "colonies": ("colonies", "number of colonies", "number of hives"),
    "weights": ("weights", "weight", "net weight", "net weights"),
    "last_division": ("last division", "last divided", "last divisions"),
    "strength": ("strength", "strengths"),
    "method": ("method",),
    "free_days": ("free days", "free weekdays"),
    "normals": ("normals", "normals file"),
    "records": ("records", "records file"),
    "forecast": ("forecast", "forecast file"),
}
"""The names a column may have; units in brackets, capitals and spaces do not matter."""


@dataclass(frozen=True, kw_only=True)
class Colony:
    """One hive of a member."""

    name: str
    net_weight_kg: float | None = None
    last_division: dt.date | None = None
    strength: str | None = None


@dataclass(frozen=True, kw_only=True)
class Member:
    """One row."""

    row: int
    name: str
    site: dict[str, Any]
    """As the engine takes it."""
    bee: str | None
    colonies: tuple[Colony, ...]
    method: str | None
    free_weekdays: tuple[str, ...]
    climate: dict[str, dict[str, str]]
    """Tables of weather, as the engine takes them."""


@dataclass(frozen=True, kw_only=True)
class Members:
    """What was read."""

    sheet: str
    members: list[Member]
    problems: list[Problem]
    columns: dict[str, str]
    """The header of every column that was understood."""
    ignored: list[str]
    """Headers of columns that were not."""
    unread: list[str]
    """Names in the rows that were refused; an empty one for a row without."""


def read_members(path: Path, sheet: str | None) -> Members:
    """Read a workbook; rows that cannot be read are problems, not errors.

    Raises Refused for a file that is no workbook of members.
    """
    chosen = ""

    def wanted(names: list[str]) -> list[str]:
        nonlocal chosen
        if sheet is not None and sheet not in names:
            raise Refused(f"{path} has no sheet {sheet!r}; it has {', '.join(names)}")
        chosen = names[0] if sheet is None else sheet
        return [chosen]

    _, sheets = read_sheets(path, None, "is not a workbook; an .xlsx file is needed", wanted)
    return _Reader(path, chosen).read(sheets[chosen])


def _plain(header: Cell) -> str:
    """A header without case, brackets, signs and unit: `Net weight (kg)` is `net weight`."""
    without_unit = re.sub(r"[(\[].*?[)\]]", " ", cells.text(header).lower())
    words = re.sub(r"[^a-z0-9]+", " ", without_unit).split()
    while len(words) > 1 and words[-1] in _UNITS:
        words.pop()
    return " ".join(words)


_UNITS = {*cells.METRES, *cells.KILOGRAMS, "deg", "degrees", "in"}
"""What may stand behind a name without brackets."""


def _unit(header: str, known: Container[str]) -> str | None:
    """The unit that a header names, in brackets or as its last word."""
    words = re.findall(r"[a-z]+", header.lower())
    return next((word for word in reversed(words[1:]) if word in known), None)


_SIDES = {"n": "N", "north": "N", "s": "S", "south": "S", "e": "E", "east": "E", "w": "W", "west": "W"}
_KNOWN = {name: key for key, names in HEADERS.items() for name in (*names, key.replace("_", " "))}


@dataclass
class _Reader:
    path: Path
    sheet: str
    columns: dict[str, int] = field(default_factory=dict)
    headers: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    names: dict[str, int] = field(default_factory=dict)
    unread: list[str] = field(default_factory=list)
    tables: dict[str, str] = field(default_factory=dict)

    def read(self, rows: Rows) -> Members:
        top = next((n for n, row in enumerate(rows) if any(map(cells.text, row))), None)
        if top is None:
            raise Refused(f"{self.path}, sheet {self.sheet}: it is empty")
        ignored = self._header(rows[top], top + 1)
        members = []
        for number, row in enumerate(rows[top + 1 :], start=top + 2):
            if any(map(cells.text, row)) and (member := self._member(number, row)) is not None:
                members.append(member)
        return Members(
            sheet=self.sheet,
            members=members,
            problems=self.problems,
            columns={key: self.headers[at] for key, at in self.columns.items()},
            ignored=ignored,
            unread=self.unread,
        )

    def _header(self, row: tuple[Cell, ...], number: int) -> list[str]:
        """Finds the columns; gives the headers that mean nothing here."""
        self.headers = [cells.text(cell) for cell in row]
        ignored = []
        for at, header in enumerate(self.headers):
            key = _KNOWN.get(_plain(header))
            if key is None:
                if header:
                    ignored.append(header)
            elif key in self.columns:
                raise Refused(
                    f"{self.path}, sheet {self.sheet}, row {number}: "
                    f"{self.headers[self.columns[key]]!r} and {header!r} mean the same"
                )
            else:
                self.columns[key] = at
        for needed in (("name",), ("zone",), ("coordinates", "latitude")):
            if not any(key in self.columns for key in needed):
                told = " or ".join(repr(name) for key in needed for name in HEADERS[key])
                raise Refused(
                    f"{self.path}, sheet {self.sheet}, row {number}: no column {told} "
                    f"among {', '.join(filter(None, self.headers))}"
                )
        return ignored

    def _header_of(self, key: str) -> str:
        """As it stands there; empty where there is no such column."""
        at = self.columns.get(key)
        return "" if at is None else self.headers[at]

    def _member(self, number: int, row: tuple[Cell, ...]) -> Member | None:
        before = len(self.problems)

        def cell(key: str) -> Cell:
            at = self.columns.get(key)
            return row[at] if at is not None and at < len(row) else None

        def refuse(key: str, reason: str) -> None:
            at = self.columns.get(key)
            self.problems.append(
                Problem(
                    sheet=self.sheet,
                    row=number,
                    column=self.headers[at] if at is not None else HEADERS[key][0],
                    value=cells.text(cell(key)),
                    reason=reason,
                )
            )

        def read(key: str, how: Callable[[Cell], T]) -> T | None:
            """The value of a cell that may be empty."""
            if not cells.known(cell(key)):
                return None
            try:
                return how(cell(key))
            except NotUnderstood as problem:
                refuse(key, str(problem))
                return None

        def measure(key: str, units: Mapping[str, float]) -> Callable[[Cell], float]:
            """Reads numbers of a column in the unit of its header."""
            return cells.measure(units, _unit(self._header_of(key), units))

        def side(key: str) -> str | None:
            """The side of the globe that a header names: `Latitude (S)`."""
            found = _unit(self._header_of(key), _SIDES)
            return None if found is None else _SIDES[found]

        name = cells.text(cell("name"))
        if not name:
            refuse("name", "a name is needed")
        elif name.casefold() in self.names:
            refuse("name", f"row {self.names[name.casefold()]} has the same name; tell them apart")
        else:
            self.names[name.casefold()] = number

        both = read("coordinates", cells.coordinates)
        latitude = read("latitude", lambda value: cells.angle(value, "NS", side("latitude")))
        longitude = read("longitude", lambda value: cells.angle(value, "EW", side("longitude")))
        if both is not None and latitude is None and longitude is None:
            latitude, longitude = both
        for key, value in (("latitude", latitude), ("longitude", longitude)):
            if value is None and len(self.problems) == before:
                refuse(key if key in self.columns else "coordinates", "coordinates are needed")
        elevation = read("elevation", measure("elevation", cells.METRES))
        if not cells.known(cell("elevation")):
            refuse(
                "elevation",
                "the height of the hives above sea level is needed: without it the temperatures, "
                "and with them the season, can be wrong by months",
            )
        if not cells.text(cell("zone")):
            refuse("zone", "a time zone is needed, such as Australia/Brisbane")

        colonies = self._colonies(cell, read, refuse)
        climate = {
            f"{key}_csv": table
            for key in ("normals", "records", "forecast")
            if (table := read(key, self._table)) is not None
        }
        if len(self.problems) > before:
            self.unread.append(name)
            return None
        return Member(
            row=number,
            name=name,
            site={
                "latitude_deg": latitude,
                "longitude_deg": longitude,
                "elevation_m": elevation,
                "zone": cells.text(cell("zone")),
            },
            bee=read("bee", cells.name),
            colonies=colonies,
            method=read("method", cells.name),
            free_weekdays=tuple(cells.name(word) for word in cells.words(cell("free_days"))),
            climate=climate,
        )

    def _colonies(
        self,
        cell: Callable[[str], Cell],
        read: Callable[..., Any],
        refuse: Callable[[str, str], None],
    ) -> tuple[Colony, ...]:
        def each(key: str, how: Callable[[Cell], T]) -> list[T | None]:
            """A value for each colony, in their order; what is missing is not known."""
            found: list[T | None] = []
            for item in cells.items(cell(key)):
                try:
                    found.append(how(item) if cells.known(item) else None)
                except NotUnderstood as problem:
                    refuse(key, str(problem))
            return found

        count: int | None = read("colonies", lambda value: cells.count(value, MOST_COLONIES))
        names = [cells.text(item) for item in cells.items(cell("hives"))]
        if count is None and len(names) == 1 and names[0].isdigit() and "colonies" not in self.columns:
            # A column "Hives" with a number in it counts them.
            count = read("hives", lambda value: cells.count(value, MOST_COLONIES))
            names = []
        weight_unit = _unit(self._header_of("weights"), cells.KILOGRAMS)
        weights = each("weights", cells.measure(cells.KILOGRAMS, weight_unit))
        divided = each("last_division", cells.date)
        strengths = each("strength", cells.name)
        if count is None:
            count = max(len(names), len(weights), len(divided), len(strengths), 1)
        for key, given in (
            ("hives", names),
            ("weights", weights),
            ("last_division", divided),
            ("strength", strengths),
        ):
            if len(given) > count:
                colonies = f"{count} colonies" if count != 1 else "1 colony"
                refuse(key, f"{len(given)} values for {colonies}")
        if len({name.casefold() for name in names}) < len(names):
            refuse("hives", "two hives have the same name; tell them apart")

        def at(given: list[T | None], index: int) -> T | None:
            return given[index] if index < len(given) else None

        return tuple(
            Colony(
                name=(at(list(names), index) or f"colony {index + 1}"),
                net_weight_kg=at(weights, index),
                last_division=at(divided, index),
                strength=at(strengths, index),
            )
            for index in range(count)
        )

    def _table(self, value: Cell) -> dict[str, str]:
        """A table of weather, from a file beside the workbook; read once."""
        name = cells.text(value)
        file = self.path.parent / name
        if Path(name).name != name:
            raise NotUnderstood("the name of a file that stands beside the workbook is needed")
        if name not in self.tables:
            try:
                self.tables[name] = file.read_text(encoding="utf-8-sig")
            except (OSError, UnicodeDecodeError) as error:
                why = getattr(error, "strerror", None) or "not a text file"
                raise NotUnderstood(f"the file {file} cannot be read: {why}") from None
        return {"file": name, "text": self.tables[name]}
