"""Reads the list of members: one row a member, in columns with sensible names in any order."""

from __future__ import annotations

import datetime as dt
import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from apiary_almanac.club import cells
from apiary_almanac.club.cells import Cell, NotUnderstood
from apiary_almanac.club.columns import HEADERS, Column, Header, find_header
from apiary_almanac.club.coordinates import angle, are_turned, coordinates
from apiary_almanac.club.dates import DateStyle, date, style_of
from apiary_almanac.club.opening import Row, Rows, content_of, read_separated, read_sheets
from apiary_almanac.club.package import OLE
from apiary_almanac.club.problems import Problem, Refused
from apiary_almanac.club.towns import Towns, called

T = TypeVar("T")
MOST_COLONIES = 100
"""Of one member."""

@dataclass(frozen=True, kw_only=True)
class Colony:
    """One hive of a member."""

    name: str
    new_name: str | None = None
    """Of the hive that is to be made of it."""
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
    remarks: tuple[str, ...] = ()
    """What was chosen for the member, in words."""
    taken: tuple[str, ...] = ()
    """What of the place does not stand in the list, in words."""


@dataclass(frozen=True, kw_only=True)
class Members:
    """What was read."""

    sheet: str
    members: list[Member]
    problems: list[Problem]
    columns: dict[str, Column]
    """Every column that was understood."""
    ignored: dict[str, str | None]
    """Headers of columns that were not, with what they may have been meant as."""
    passed: list[str]
    """Rows that are no members: a total, the header once more."""
    unread: list[str]
    """Names in the rows that were refused; an empty one for a row without."""


def read_members(path: Path, sheet: str | None) -> Members:
    """Read a list of members: .xlsx, .ods, or a file of separated values. Rows that cannot be read are
    problems, not errors.

    Raises Refused for a file that is no list of members.
    """
    content = content_of(path)
    packed = content.startswith((b"PK", OLE))
    if packed or path.suffix.lower() not in _SEPARATED:
        chosen = ""

        def wanted(names: list[str]) -> list[str]:
            nonlocal chosen
            if sheet is not None and sheet not in names:
                raise Refused(f"{path} has no sheet {sheet!r}; it has {', '.join(names)}")
            chosen = names[0] if sheet is None else sheet
            return [chosen]

        _, sheets = read_sheets(
            path, content, "is not a workbook; a list in .xlsx, .ods or .csv is needed", wanted
        )
        return _Reader(path, chosen).read(sheets[chosen])
    if sheet is not None:
        raise Refused(f"{path} is not a workbook and has no sheets; {sheet!r} was asked for")
    every = [(rows, find_header(rows)) for rows in read_separated(path, content)]
    # The sign that separates the values is the one that makes most sense of the header.
    rows, _ = max(every, key=lambda one: one[1].worth if one[1] else -1)
    return _Reader(path, path.suffix.lstrip(".") or "text").read(rows)


_SEPARATED = (".csv", ".tsv", ".tab", ".txt")
_SELDOM = ("first_name", "last_name", "turned_coordinates")
"""Not named where a column is missing."""
_TOTALS = {
    "total", "totals", "sum", "subtotal", "grand total", "average", "mean", "count", "members", "all", "soma",
    "suma", "total members", "total hives", "number of members",
}  # fmt: skip
"""What stands in the first cell of rows that are no members."""


@dataclass
class _Reader:
    path: Path
    sheet: str
    header: Header = field(default_factory=lambda: Header(row=0))
    problems: list[Problem] = field(default_factory=list)
    names: dict[str, int] = field(default_factory=dict)
    unread: list[str] = field(default_factory=list)
    passed: list[str] = field(default_factory=list)
    tables: dict[str, str] = field(default_factory=dict)
    style: DateStyle = DateStyle()
    towns: Towns = field(default_factory=Towns)

    @property
    def columns(self) -> dict[str, Column]:
        return self.header.columns

    def read(self, rows: Rows) -> Members:
        header = find_header(rows)
        if header is None:
            raise Refused(f"{self.path}, sheet {self.sheet}: it is empty")
        self.header = header
        self._check_header()
        below = rows[header.row + 1 :]
        if (divided := self.columns.get("last_division")) is not None:
            self.style = style_of(row[divided.at] for row in below if divided.at < len(row))
        members = []
        for number, row in enumerate(below, start=header.row + 2):
            if not any(map(cells.text, row)) or self._passed(number, row):
                continue
            if (member := self._member(number, row)) is not None:
                members.append(member)
        return Members(
            sheet=self.sheet,
            members=members,
            problems=self.problems,
            columns=self.columns,
            ignored=header.ignored,
            passed=self.passed,
            unread=self.unread,
        )

    def _check_header(self) -> None:
        row = f"{self.path}, sheet {self.sheet}, row {self.header.row + 1}"
        if self.header.doubled is not None:
            one, other = self.header.doubled
            raise Refused(f"{row}: {one!r} and {other!r} mean the same")
        for needed in (
            ("name", "first_name", "last_name"),
            ("coordinates", "turned_coordinates", "latitude", "town"),
        ):
            if not any(key in self.columns for key in needed):
                told = " or ".join(repr(HEADERS[key][0].capitalize()) for key in needed if key not in _SELDOM)
                perhaps = [
                    f"{header!r} (is it {meant!r}?)" if meant else repr(header)
                    for header, meant in self.header.ignored.items()
                ]
                found = [repr(column.header) for column in self.columns.values()]
                raise Refused(f"{row}: no column {told} among {', '.join(found + perhaps)}")

    def _passed(self, number: int, row: Row) -> bool:
        """Whether a row is no member: a total, or the header once more."""
        first = next(filter(None, map(cells.text, row)))
        if tuple(map(cells.text, row)) == self.header.headers[: len(row)]:
            self.passed.append(f"row {number}: the header once more")
            return True
        placed = any(
            cells.known(row[self.columns[key].at])
            for key in ("coordinates", "turned_coordinates", "latitude", "longitude", "zone", "town")
            if key in self.columns and self.columns[key].at < len(row)
        )
        if not placed and first.lower().rstrip(":. ") in _TOTALS:
            self.passed.append(f"row {number}, {first!r}: a total")
            return True
        return False

    def _member(self, number: int, row: tuple[Cell, ...]) -> Member | None:
        before = len(self.problems)

        def cell(key: str) -> Cell:
            column = self.columns.get(key)
            return row[column.at] if column is not None and column.at < len(row) else None

        def refuse(key: str, reason: str) -> None:
            column = self.columns.get(key)
            self.problems.append(
                Problem(
                    sheet=self.sheet,
                    row=number,
                    column=HEADERS[key][0] if column is None else column.header,
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

        name = self._name(number, cell, refuse)
        latitude, longitude, zone, taken = self._site(cell, read, refuse)
        elevation = read("elevation", self._measure("elevation", cells.METRES))
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
                # Where it is not known the engine takes that of the land around.
                **({} if elevation is None else {"elevation_m": elevation}),
                "zone": zone,
            },
            bee=read("bee", cells.name),
            colonies=colonies,
            method=read("method", cells.name),
            free_weekdays=tuple(cells.name(word) for word in cells.words(cell("free_days"))),
            climate=climate,
            taken=taken,
        )

    def _name(
        self, number: int, cell: Callable[[str], Cell], refuse: Callable[[str, str], None]
    ) -> str:
        keys: list[str] = [key for key in ("first_name", "last_name") if key in self.columns]
        keys = keys or ["name"]
        name = " ".join(filter(None, (cells.text(cell(key)) for key in keys)))
        if not name:
            refuse(keys[0], "a name is needed")
        elif name.casefold() in self.names:
            refuse(
                keys[-1],
                f"row {self.names[name.casefold()]} has the same name: tell them apart, or, where it is one "
                "member, put the hives into one row, separated by semicolons",
            )
        else:
            self.names[name.casefold()] = number
        return name

    def _site(
        self,
        cell: Callable[[str], Cell],
        read: Callable[..., Any],
        refuse: Callable[[str, str], None],
    ) -> tuple[float | None, float | None, str, tuple[str, ...]]:
        """Latitude, longitude, zone, and in words what of them is that of a town."""
        zone = cells.text(cell("zone"))
        placed = any(
            cells.known(cell(key)) for key in ("coordinates", "turned_coordinates", "latitude", "longitude")
        )
        if not placed and cells.known(cell("town")):
            town = read("town", lambda value: self.towns.one(cells.text(value)))
            if town is None:
                return None, None, zone, ()
            told = f"The place is the middle of {called(town)}, to about 1 km"
            if not zone:
                told += f", and the zone is that of the town, {town.site.zone}"
            return town.site.latitude_deg, town.site.longitude_deg, zone or str(town.site.zone), (f"{told}.",)
        latitude, longitude = self._place(cell, read, refuse)
        if zone or latitude is None or longitude is None:
            return latitude, longitude, zone, ()
        try:
            zone, near = self.towns.zone(latitude, longitude)
        except NotUnderstood as problem:
            refuse("zone", str(problem))
            return latitude, longitude, zone, ()
        return latitude, longitude, zone, (f"No zone was given: {zone} is that of {near} and the other towns around.",)

    def _place(
        self,
        cell: Callable[[str], Cell],
        read: Callable[..., Any],
        refuse: Callable[[str, str], None],
    ) -> tuple[float | None, float | None]:
        before = len(self.problems)
        both: tuple[float, float] | None = None
        for key in ("coordinates", "turned_coordinates"):
            both = both or read(key, functools.partial(coordinates, longitude_first=key != "coordinates"))
        given = ["latitude", "longitude"]
        if are_turned(cell("latitude"), cell("longitude")):
            given.reverse()
        sides = [column.side if (column := self.columns.get(key)) else None for key in given]
        latitude: float | None = read(given[0], lambda value: angle(value, "NS", sides[0]))
        longitude: float | None = read(given[1], lambda value: angle(value, "EW", sides[1]))
        if latitude is not None and longitude is not None and abs(latitude) > 90 >= abs(longitude):
            refuse("latitude", "it is no latitude (-90 to 90): do the two stand in each other's column?")
        if both is not None:
            for key, one, other in zip(given, both, (latitude, longitude), strict=True):
                if other is not None and abs(one - other) > 0.01:
                    refuse(key, f"it is another place than the coordinates, {both[0]:g}, {both[1]:g}")
            return both
        for key, found in zip(given, (latitude, longitude), strict=True):
            if found is None and len(self.problems) == before:
                named = (key, "coordinates", "turned_coordinates")
                refuse(next(one for one in named if one in self.columns), "coordinates are needed")
        return latitude, longitude

    def _measure(self, key: str, units: Mapping[str, float]) -> Callable[[Cell], float]:
        """Reads numbers of a column in the unit of its header."""
        column = self.columns.get(key)
        how = cells.measure(units, None if column is None else column.unit)

        def read(value: Cell) -> float:
            if column is not None and column.wrong is not None:
                raise NotUnderstood(column.wrong)
            return how(value)

        return read

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
        weights = each("weights", self._measure("weights", cells.KILOGRAMS))
        divided = each("last_division", lambda value: date(value, self.style))
        strengths = each("strength", cells.name)
        new_names = each("new_hives", cells.text)
        if count is None:
            count = max(len(names), len(weights), len(divided), len(strengths), 1)
        for key, given in (
            ("hives", names),
            ("weights", weights),
            ("last_division", divided),
            ("strength", strengths),
            ("new_hives", new_names),
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
                new_name=at(new_names, index),
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
