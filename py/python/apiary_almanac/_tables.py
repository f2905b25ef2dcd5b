"""What the array functions give back, as frozen classes of named arrays."""

from __future__ import annotations

import dataclasses
import html
from dataclasses import dataclass
from typing import Any, ClassVar, TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
Moments: TypeAlias = npt.NDArray[np.datetime64]
Bytes: TypeAlias = npt.NDArray[np.uint8]
Counts: TypeAlias = npt.NDArray[np.uint16]
Flags: TypeAlias = npt.NDArray[np.bool_]

_PLACE_NAMES = ("on_land", "near_land", "at_sea", "beyond_the_grid")

_ROWS_SHOWN = 5


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Table:
    """Arrays of one shape: what was asked, broadcast, and one array for each kind of answer.

    The arrays cannot be written to. Two tables are equal when they are of one class and all their
    arrays are equal, NaN and NaT counting as equal; having arrays in them they are not hashable.
    They can be pickled.
    """

    state_names: ClassVar[tuple[str, ...]]
    """What each value of ``state`` stands for, from 0."""

    latitude_deg: Floats
    """As given, degrees north."""
    longitude_deg: Floats
    """As given, degrees east."""
    date: Moments
    """As given, ``datetime64[D]``."""
    state: Bytes
    """What happened: a position in ``state_names``."""
    index: Any = dataclasses.field(default=None)
    """The index of the pandas Series that were given, if any were: that of :meth:`to_frame`."""

    def __post_init__(self) -> None:
        for array in self.to_dict().values():
            array.flags.writeable = False

    def __setstate__(self, state: dict[str, Any]) -> None:
        self.__dict__.update(state)
        self.__post_init__()

    @property
    def shape(self) -> tuple[int, ...]:
        """The shape of every array."""
        return self.state.shape

    @property
    def size(self) -> int:
        """How many pairs of place and date."""
        return self.state.size

    @classmethod
    def names(cls) -> dict[str, tuple[str, ...]]:
        """What the values of the columns of bytes stand for, from 0, by column."""
        known = {name: getattr(cls, f"{name}_names", None) for name in cls.result_names()}
        return {name: names for name, names in known.items() if names is not None}

    def where(self, state: str) -> Flags:
        """True where ``state`` has this name.

        Raises ``ValueError`` for a name that is not one of ``state_names``.
        """
        if state not in self.state_names:
            raise ValueError(f"{state!r} is not one of {', '.join(self.state_names)}")
        return np.asarray(self.state == self.state_names.index(state))

    def to_dict(self) -> dict[str, npt.NDArray[Any]]:
        """The arrays by name, in order."""
        return {
            field.name: getattr(self, field.name)
            for field in dataclasses.fields(self)
            if field.name != "index"
        }

    def results(self) -> tuple[npt.NDArray[Any], ...]:
        """The arrays of answers without what was asked, as functions that work on arrays want them."""
        return tuple(getattr(self, name) for name in self.result_names())

    @classmethod
    def result_names(cls) -> tuple[str, ...]:
        """The names of :meth:`results`."""
        asked = ("latitude_deg", "longitude_deg", "date", "index")
        return tuple(f.name for f in dataclasses.fields(cls) if f.name not in asked)

    def to_frame(self) -> Any:
        """A ``pandas.DataFrame`` with a row for each pair: states as categoricals, moments with UTC
        as their zone, dates without one.

        It has the index of the Series that were given, else numbers from 0 (the last axis of the
        arrays counts fastest). Needs pandas.
        """
        import pandas

        columns: dict[str, Any] = {}
        for name, array in self.to_dict().items():
            columns[name] = array.reshape(-1)
            if array.dtype == "M8[ms]":
                columns[name] = pandas.DatetimeIndex(columns[name]).tz_localize("UTC")
        for name, names in self.names().items():
            codes = columns[name].astype(np.int8)
            columns[name] = pandas.Categorical.from_codes(codes, pandas.Index(names))
        return pandas.DataFrame(columns, index=self.index)

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self) or not isinstance(other, Table):
            return NotImplemented
        mine, theirs = self.to_dict(), other.to_dict()
        return all(_same(mine[name], theirs[name]) for name in mine)

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        counts = np.bincount(self.state.reshape(-1), minlength=len(self.state_names))
        seen = [f"{n} {name}" for name, n in zip(self.state_names, counts, strict=True) if n]
        return f"<{type(self).__name__} of shape {self.shape}: {', '.join(seen) or 'empty'}>"

    def _repr_html_(self) -> str:
        arrays = {name: a.reshape(-1)[:_ROWS_SHOWN] for name, a in self.to_dict().items()}
        cells = {name: [str(value) for value in a] for name, a in arrays.items()}
        for name, meanings in self.names().items():
            cells[name] = [meanings[value] for value in arrays[name]]
        head = "".join(f"<th>{html.escape(name)}</th>" for name in cells)
        rows = "".join(
            "<tr>" + "".join(f"<td>{html.escape(text)}</td>" for text in row) + "</tr>"
            for row in zip(*cells.values(), strict=True)
        )
        more = self.size - len(arrays["state"])
        rest = f"<p>and {more:,} more</p>" if more else ""
        return f"<p>{html.escape(repr(self))}</p><table><tr>{head}</tr>{rows}</table>{rest}"


def _same(a: npt.NDArray[Any], b: npt.NDArray[Any]) -> bool:
    return np.array_equal(a, b, equal_nan=a.dtype.kind in "fM")


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class SunTable(Table):
    """Risings and settings, from :func:`sun_table`.

    ``state_names`` are those of :data:`Crossing`, and ``no_such_day`` where the zone skipped the
    date.
    """

    state_names: ClassVar[tuple[str, ...]] = (
        "rises_and_sets",
        "only_rises",
        "only_sets",
        "always_above",
        "always_below",
        "no_such_day",
    )

    rise: Moments
    """Upwards, ``datetime64[ms]`` in UTC; NaT where it does not."""
    set: Moments
    """Downwards, likewise."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class SeasonTable(Table):
    """Where the year stands, from :func:`season_table`."""

    date_state_names: ClassVar[tuple[str, ...]] = ("good", "at_risk", "closed")
    """The names of the numbers in ``date_state``."""
    place_names: ClassVar[tuple[str, ...]] = _PLACE_NAMES
    """The names of the numbers in ``place``."""
    state_names: ClassVar[tuple[str, ...]] = (
        "open",
        "ahead",
        "all_year",
        "none",
        "not_enough_data",
    )

    opens: Moments
    """First date of the window of good dates that the date lies in, else of the next one within a
    year, ``datetime64[D]``; NaT where there is none, or where all of them are good."""
    closes: Moments
    """Last date of that window."""
    open_days: Counts
    """Of the 365 days from the date on, how many lie in a window."""
    place: Bytes
    """Where the place lies: a position in ``place_names``. ``at_sea`` and ``beyond_the_grid``
    (over 45 degrees of latitude) have temperatures of latitude and elevation alone: a rough guess."""
    date_state: Bytes
    """What the date itself is, a number of ``date_state_names``; closed where there is not enough
    data."""
    wider_opens: Moments
    """First date of the window of dates that are good or at risk, as ``opens``."""
    wider_closes: Moments
    """Last date of that window."""
    at_risk_days: Counts
    """Of the 365 days from the date on, how many are at risk."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class MorningTable(Table):
    """Move windows, from :func:`morning_table`. Moments are ``datetime64[ms]`` in UTC."""

    state_names: ClassVar[tuple[str, ...]] = (
        "open",
        "too_early_flight",
        "no_dawn",
        "no_such_day",
        "not_enough_data",
    )
    place_names: ClassVar[tuple[str, ...]] = _PLACE_NAMES
    """The names of the numbers in ``place``."""

    work_light: Moments
    """Light enough to work: the beginning of the window, where there is one."""
    until: Moments
    """End of the window; NaT where there is none."""
    first_flight: Moments
    """NaT on days without flight."""
    close_from: Moments
    """On the evening before, from when the foragers are in."""
    lamp_needed: Flags
    """Whether that is after dusk."""
    temperature_c: Floats
    """Air temperature at work light; NaN where there is none."""
    flying_day: Flags
    """Whether bees can fly long enough on this day to learn the new place."""
    place: Bytes
    """Where the place lies, as in :class:`SeasonTable`."""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class FlightTable(Table):
    """First and last flight, from :func:`flight_table`. Moments are ``datetime64[ms]`` in UTC, NaT where no
    flight is possible."""

    state_names: ClassVar[tuple[str, ...]] = (
        "possible",
        "too_cold",
        "too_dark",
        "never_both",
        "no_such_day",
        "not_enough_data",
    )
    place_names: ClassVar[tuple[str, ...]] = _PLACE_NAMES
    """The names of the numbers in ``place``."""

    early_first: Moments
    """On one morning in ten of such a day the first bees are out by then."""
    first: Moments
    """Usual first flight."""
    last: Moments
    """Usual last flight."""
    late_last: Moments
    """On one evening in ten bees still fly after it."""
    flying_hours: Floats
    """Hours between usual first and usual last flight."""
    flying_day: Flags
    """Whether they reach the bee's ``flying_day_h`` and no heavy rain is known."""
    place: Bytes
    """Where the place lies, as in :class:`SeasonTable`."""
