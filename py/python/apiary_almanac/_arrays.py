"""Many places and dates at once. Broadcasting is numpy's; everything else is the engine's."""

from __future__ import annotations

import datetime as dt
import functools
import json
import zoneinfo
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias, TypeVar, Unpack

import numpy as np
import numpy.typing as npt

from apiary_almanac import _core, _own_air
from apiary_almanac._cf import describe
from apiary_almanac._convert import short, to_json
from apiary_almanac._error import ApiaryError
from apiary_almanac._own_air import Air, OwnAir
from apiary_almanac._tables import FlightTable, MorningTable, SeasonTable, SunTable, Table
from apiary_almanac._types import BeeOverrides, MorningOverrides, SeasonSettings

__all__ = [
    "FlightTable",
    "MorningTable",
    "OwnAir",
    "SeasonTable",
    "SunEvent",
    "SunTable",
    "Table",
    "dataset",
    "flight_table",
    "morning_table",
    "season_table",
    "sun_table",
]

SunEvent: TypeAlias = Literal["sun", "civil", "nautical", "astronomical", "altitude"]
"""What is crossed: the skyline, -6, -12 or -18 degrees, or ``altitude_deg``."""
Dates: TypeAlias = npt.ArrayLike | dt.date | Sequence[dt.date] | Sequence[str]
Zones: TypeAlias = str | zoneinfo.ZoneInfo | npt.ArrayLike
Array: TypeAlias = npt.NDArray[Any]
T = TypeVar("T", bound=Table)

# Rows that go to the engine at once: enough to keep every core busy, few enough for Ctrl-C to be
# heard and for the copies to be small.
_SUN_BLOCK = 1 << 18
_SEASON_BLOCK = 1 << 12
_MORNING_BLOCK = 1 << 15
_FLIGHT_BLOCK = 1 << 15


def sun_table(
    latitude_deg: npt.ArrayLike,
    longitude_deg: npt.ArrayLike,
    dates: Dates,
    *,
    event: SunEvent | None = None,
    altitude_deg: float | None = None,
    east_horizon_deg: npt.ArrayLike | None = None,
    west_horizon_deg: npt.ArrayLike | None = None,
    zone: Zones | None = None,
) -> SunTable:
    """Rise and set of the sun, or of a twilight, for any pairs of place and date.

    Arguments broadcast against each other as in numpy: ``latitude_deg[:, None]`` and a row of dates
    give every place on every date.

    Args:
        latitude_deg: Degrees north, -90 to 90.
        longitude_deg: Degrees east, -180 to 180.
        dates: ``datetime64[D]``, :class:`datetime.date` or ``"YYYY-MM-DD"``, 1900-01-01 to 2100-12-31.
        event: ``"sun"`` (the upper edge on the skyline, refraction included; the default),
            ``"civil"``, ``"nautical"`` or ``"astronomical"``: the centre at -6, -12, -18 degrees;
            ``"altitude"``: the centre at ``altitude_deg``.
        altitude_deg: True altitude without refraction, -90 to 90.
        east_horizon_deg: Skyline where the sun comes up, -5 to 45 degrees above level; level when
            not given. Only ``"sun"`` looks at it.
        west_horizon_deg: The same where the sun goes down.
        zone: IANA zone of the dates, one or an array. Without it a date is that of mean solar time
            at the place, which is the date that people there have except near 180 degrees.

    The elevation does not matter to the sun: who looks down on the horizon gives a negative skyline.

    Returns:
        SunTable: Arrays of the shape that the arguments broadcast to: rise and set in UTC, and a state for each pair.

    Raises:
        ApiaryError: ``out_of_range``, ``unknown_zone``, ``unknown_name`` or ``inconsistent``; its
            ``field`` has the first place at fault, such as ``latitude_deg[3, 0]``. NaN and NaT are
            out of range.

    Source: apparent sun after Reda & Andreas, NREL/TP-560-34302; see docs/sun.md for the accuracy
    (0.06 s against JPL DE421 where the sun crosses steeply).

    >>> import numpy as np
    >>> dates = np.arange("2026-06-20", "2026-06-23", dtype="datetime64[D]")
    >>> table = sun_table(np.array([[-28.81], [69.65]]), np.array([[153.28], [18.96]]), dates)
    >>> table
    <SunTable of shape (2, 3): 3 rises_and_sets, 3 always_above>
    >>> table.rise[0, 0]
    np.datetime64('2026-06-19T20:39:14.072')
    >>> np.isnat(table.rise[1]).all()
    np.True_
    """
    asked = _asked(
        latitude_deg,
        longitude_deg,
        dates,
        east_horizon_deg=east_horizon_deg,
        west_horizon_deg=west_horizon_deg,
        zone=zone,
    )
    columns = {"state": "u1", "rise": "M8[ms]", "set": "M8[ms]"}
    name = event or ("sun" if altitude_deg is None else "altitude")
    if altitude_deg is not None:
        altitude_deg = float(_numbers("altitude_deg", altitude_deg))
    answers = asked.fill(
        columns,
        _SUN_BLOCK,
        lambda places, days, *out: _core.sun_rows(
            places, days, asked.span, name, altitude_deg, *out
        ),
    )
    return asked.table(SunTable, answers)


def season_table(
    latitude_deg: npt.ArrayLike,
    longitude_deg: npt.ArrayLike,
    dates: Dates,
    *,
    elevation_m: npt.ArrayLike | None = None,
    bee: str | BeeOverrides | None = None,
    settings: SeasonSettings | None = None,
    **own_air: Unpack[OwnAir],
) -> SeasonTable:
    """The window of good dates that is open on a date, or else the next, for any pairs of place and date.

    It is the first window of :func:`season` for the 365 days from the date on. Temperatures are your
    own, or else what the location lets one expect (docs/default-climate.md). Arguments broadcast as
    in :func:`sun_table`.

    Args:
        latitude_deg: Degrees north, -90 to 90. Beyond 45 the temperatures are a rough guess.
        longitude_deg: Degrees east, -180 to 180.
        dates: As in :func:`sun_table`.
        elevation_m: Metres above sea level, -500 to 9000. Where it is not given, or NaN, that of
            the land around, which in mountains can be far off.
        bee: A built-in bee's name or a bee of your own; ``generic_small`` when not given.
        settings: Rules and chance, as in :func:`season`.
        **own_air: Temperatures and rain of your own, by months or by days: ``monthly_minimum_c``,
            ``monthly_maximum_c``, ``monthly_rain_mm``, or ``daily_minimum_c``, ``daily_maximum_c``,
            ``daily_rain_mm``, ``daily_dates``; see :class:`OwnAir`.

    Returns:
        SeasonTable: Arrays of the shape that the arguments broadcast to: the window and its state, for each pair.

    Raises:
        ApiaryError: As :func:`sun_table`, and what :func:`season` refuses in ``bee`` and
            ``settings``.

    >>> table = season_table([1.35, -28.81], [103.8, 153.28], dt.date(2026, 7, 1), elevation_m=[15, 12])
    >>> [table.state_names[state] for state in table.state]
    ['all_year', 'ahead']
    >>> table.opens[1] < table.closes[1]
    np.True_
    """
    asked = _asked(latitude_deg, longitude_deg, dates, own_air, elevation_m=elevation_m)
    columns = {
        "state": "u1",
        "opens": "M8[D]",
        "closes": "M8[D]",
        "open_days": "u2",
        "place": "u1",
        "date_state": "u1",
        "wider_opens": "M8[D]",
        "wider_closes": "M8[D]",
        "at_risk_days": "u2",
    }
    options = _options(bee, settings)
    answers = asked.fill(
        columns,
        _SEASON_BLOCK,
        lambda places, days, *out: _core.season_rows(places, days, options, *out),
    )
    return asked.table(SeasonTable, answers)


def flight_table(
    latitude_deg: npt.ArrayLike,
    longitude_deg: npt.ArrayLike,
    dates: Dates,
    *,
    elevation_m: npt.ArrayLike | None = None,
    zone: Zones | None = None,
    bee: str | BeeOverrides | None = None,
    **own_air: Unpack[OwnAir],
) -> FlightTable:
    """First and last flight, for any pairs of place and date.

    The same days as in :func:`flight`, without reasons. Arguments broadcast as in :func:`sun_table`, and mean
    the same as there and in :func:`season_table`.

    Args:
        latitude_deg: Degrees north, -90 to 90.
        longitude_deg: Degrees east, -180 to 180.
        dates: As in :func:`sun_table`, 1900-01-02 to 2100-12-30.
        elevation_m: Metres above sea level, -500 to 9000.
        zone: IANA zone of the dates.
        bee: A built-in bee's name or a bee of your own.
        **own_air: Temperatures and rain of your own, as in :func:`season_table`.

    Returns:
        FlightTable: Arrays of the shape that the arguments broadcast to: first and last flight in UTC, and a state for each pair.

    Raises:
        ApiaryError: As :func:`season_table`.

    >>> table = flight_table(-28.81, 153.28, dt.date(2026, 9, 14), elevation_m=12)
    >>> table
    <FlightTable of shape (): 1 possible>
    >>> bool(table.early_first <= table.first < table.last <= table.late_last)
    True
    """
    asked = _asked(
        latitude_deg, longitude_deg, dates, own_air, elevation_m=elevation_m, zone=zone
    )
    columns = {
        "state": "u1",
        "early_first": "M8[ms]",
        "first": "M8[ms]",
        "last": "M8[ms]",
        "late_last": "M8[ms]",
        "flying_hours": "f8",
        "flying_day": "?",
        "place": "u1",
    }
    options = _options(bee)
    answers = asked.fill(
        columns,
        _FLIGHT_BLOCK,
        lambda places, days, *out: _core.flight_rows(places, days, options, *out),
    )
    return asked.table(FlightTable, answers)


def morning_table(
    latitude_deg: npt.ArrayLike,
    longitude_deg: npt.ArrayLike,
    dates: Dates,
    *,
    elevation_m: npt.ArrayLike | None = None,
    east_horizon_deg: npt.ArrayLike | None = None,
    west_horizon_deg: npt.ArrayLike | None = None,
    zone: Zones | None = None,
    bee: str | BeeOverrides | None = None,
    settings: MorningOverrides | None = None,
    **own_air: Unpack[OwnAir],
) -> MorningTable:
    """The window for moving a hive at dawn, for any pairs of place and date.

    The same mornings as in :func:`mornings`, not ranked, with your own temperatures, or else those that
    the location lets one expect. Arguments broadcast as in :func:`sun_table`, and mean the same as there
    and in :func:`season_table`.

    Args:
        latitude_deg: Degrees north, -90 to 90.
        longitude_deg: Degrees east, -180 to 180.
        dates: As in :func:`sun_table`, 1900-01-03 to 2100-12-30.
        elevation_m: Metres above sea level, -500 to 9000.
        east_horizon_deg: Skyline in the east, -5 to 45 degrees above level.
        west_horizon_deg: Skyline in the west.
        zone: IANA zone of the dates.
        bee: A built-in bee's name or a bee of your own.
        settings: A keeper's own numbers for a move.
        **own_air: Temperatures and rain of your own, as in :func:`season_table`.

    Returns:
        MorningTable: Arrays of the shape that the arguments broadcast to: the window in UTC, and a state for each pair.

    Raises:
        ApiaryError: As :func:`sun_table`, and what :func:`mornings` refuses in ``bee`` and
            ``settings``.

    >>> table = morning_table(-28.81, 153.28, dt.date(2026, 9, 14), elevation_m=12)
    >>> table
    <MorningTable of shape (): 1 open>
    >>> bool(table.work_light < table.until < table.first_flight)
    True
    """
    asked = _asked(
        latitude_deg,
        longitude_deg,
        dates,
        own_air,
        elevation_m=elevation_m,
        east_horizon_deg=east_horizon_deg,
        west_horizon_deg=west_horizon_deg,
        zone=zone,
    )
    columns = {
        "state": "u1",
        "work_light": "M8[ms]",
        "until": "M8[ms]",
        "first_flight": "M8[ms]",
        "close_from": "M8[ms]",
        "lamp_needed": "?",
        "temperature_c": "f8",
        "flying_day": "?",
        "place": "u1",
    }
    options = _options(bee, settings)
    answers = asked.fill(
        columns,
        _MORNING_BLOCK,
        lambda places, days, *out: _core.morning_rows(places, days, options, *out),
    )
    return asked.table(MorningTable, answers)


def dataset(
    function: Callable[..., Table],
    latitude_deg: Any,
    longitude_deg: Any,
    dates: Any,
    **options: Any,
) -> Any:
    """One of the table functions on xarray's labelled arrays; a dataset of its answers.

    Dimensions broadcast by name. Arrays of dask stay lazy and are computed chunk by chunk. Names, units and
    flags are those of the CF conventions, so that ``to_netcdf`` and ``to_zarr`` write what others can
    read. Needs xarray.

    Args:
        function: :func:`sun_table`, :func:`season_table`, :func:`flight_table` or :func:`morning_table`.
        latitude_deg: A ``DataArray``, or a number.
        longitude_deg: A ``DataArray``, or a number.
        dates: A ``DataArray`` of ``datetime64``, or a date.
        **options: As ``function`` takes them; arrays of places as ``DataArray``. Monthly temperatures have
            a dimension ``month`` of twelve, daily ones that of ``daily_dates``. Where their attribute
            ``units`` says K, or cm of rain, they are converted; other units than °C and mm are refused.

    Returns:
        xarray.Dataset: A variable for each array of the table; lazy where an argument is.

    Raises:
        ApiaryError: As ``function``; from lazy arrays when they are computed.

    >>> import numpy as np, xarray as xr
    >>> day = np.datetime64("2026-09-01", "s")
    >>> latitude = xr.DataArray([-30.0, -20.0], dims="latitude")
    >>> longitude = xr.DataArray([130.0, 140.0, 145.0], dims="longitude")
    >>> dict(dataset(season_table, latitude, longitude, day).sizes)
    {'latitude': 2, 'longitude': 3}
    """
    import xarray

    kind = _KINDS.get(getattr(function, "__name__", ""))
    if kind is None:
        raise TypeError(f"function is {function!r}; allowed are {', '.join(_KINDS)}")
    arrays = {name: value for name, value in options.items() if isinstance(value, xarray.DataArray)}
    rest = {name: value for name, value in options.items() if name not in arrays}
    given = (latitude_deg, longitude_deg, dates, *arrays.values())
    own = _own_air.labelled({name: a for name, a in arrays.items() if name in OwnAir.__annotations__})
    arrays |= own
    if isinstance(dates, dt.date) and not isinstance(dates, dt.datetime):
        dates = np.datetime64(dates, "s")
    asked = (latitude_deg, longitude_deg, dates, *arrays.values())
    names = kind.result_names()
    results = xarray.apply_ufunc(
        functools.partial(_results, function, tuple(arrays), rest),
        *asked,
        input_core_dims=[(), (), (), *(_own_air.last(name) if name in own else () for name in arrays)],
        output_core_dims=[()] * len(names),
        # Otherwise every answer would have the units of the latitude.
        keep_attrs=False,
        dask="parallelized",
        output_dtypes=[_XARRAY_TYPES[name] for name in names],
    )
    found = xarray.Dataset(
        {
            name: value if isinstance(value, xarray.DataArray) else xarray.DataArray(value)
            for name, value in zip(names, results, strict=True)
        }
    )
    describe(found, kind, given)
    return found


_KINDS: Mapping[str, type[Table]] = {
    "sun_table": SunTable,
    "season_table": SeasonTable,
    "flight_table": FlightTable,
    "morning_table": MorningTable,
}
_XARRAY_TYPES = {
    "state": "u1",
    "rise": "M8[ms]",
    "set": "M8[ms]",
    # xarray keeps no datetime64[D].
    "opens": "M8[s]",
    "closes": "M8[s]",
    "open_days": "u2",
    "place": "u1",
    "date_state": "u1",
    "wider_opens": "M8[s]",
    "wider_closes": "M8[s]",
    "at_risk_days": "u2",
    "early_first": "M8[ms]",
    "first": "M8[ms]",
    "last": "M8[ms]",
    "late_last": "M8[ms]",
    "flying_hours": "f8",
    "work_light": "M8[ms]",
    "until": "M8[ms]",
    "first_flight": "M8[ms]",
    "close_from": "M8[ms]",
    "lamp_needed": "?",
    "temperature_c": "f8",
    "flying_day": "?",
}


def _results(
    function: Callable[..., Table], names: tuple[str, ...], rest: dict[str, Any], *given: Any
) -> tuple[Array, ...]:
    latitude_deg, longitude_deg, dates, *arrays = given
    named = dict(zip(names, arrays, strict=True))
    table = function(latitude_deg, longitude_deg, dates, **named, **rest)
    wanted = (_XARRAY_TYPES[name] for name in table.result_names())
    return tuple(a.astype(t) for a, t in zip(table.results(), wanted, strict=True))


_NOT_GIVEN: npt.NDArray[np.float64] = np.empty(0)
_NO_ZONES: npt.NDArray[np.uint16] = np.empty(0, "u2")
_NO_AIR: npt.NDArray[np.uint32] = np.empty(0, "u4")


@dataclass(frozen=True)
class _Places:
    """Columns as the engine takes them; one that was not given is empty."""

    latitude_deg: Array = field(default_factory=lambda: _NOT_GIVEN)
    longitude_deg: Array = field(default_factory=lambda: _NOT_GIVEN)
    elevation_m: Array = field(default_factory=lambda: _NOT_GIVEN)
    east_horizon_deg: Array = field(default_factory=lambda: _NOT_GIVEN)
    west_horizon_deg: Array = field(default_factory=lambda: _NOT_GIVEN)
    zone_index: Array = field(default_factory=lambda: _NO_ZONES)
    zones: tuple[str, ...] = ()
    air_minimum_c: Array = field(default_factory=lambda: _NOT_GIVEN)
    air_maximum_c: Array = field(default_factory=lambda: _NOT_GIVEN)
    air_rain_mm: Array = field(default_factory=lambda: _NOT_GIVEN)
    air_dates: Array | None = None
    air_index: Array = field(default_factory=lambda: _NO_AIR)


@dataclass(frozen=True)
class _Asked:
    """Checked arguments of one shape."""

    columns: dict[str, Array]
    zones: tuple[str, ...]
    days: npt.NDArray[np.int64]
    shape: tuple[int, ...]
    index: Any
    air: Air | None

    @property
    def span(self) -> tuple[int, int]:
        """First and last day; any where there is none."""
        return (int(self.days.min()), int(self.days.max())) if self.days.size else (0, 0)

    def blocks(self, rows: int) -> Iterator[tuple[_Places, Array]]:
        """The broadcast columns, a block of rows at a time."""
        given = [*self.columns.values(), self.days]
        # numpy's own types leave `contig` out.
        flags: Any = [["readonly", "contig"]] * len(given)
        steps = np.nditer(
            given,
            flags=["external_loop", "buffered", "zerosize_ok"],
            op_flags=flags,
            order="C",
            buffersize=rows,
        )
        for *block, days in steps:
            columns = dict(zip(self.columns, block, strict=True))
            if self.air is not None:
                columns |= self.air.of(columns["air_index"])
            yield _Places(zones=self.zones, **columns), days

    def fill(
        self, columns: Mapping[str, str], rows: int, engine: Callable[..., None]
    ) -> dict[str, Array]:
        """Have the engine fill arrays of these types."""
        answers = {name: np.empty(self.shape, kind) for name, kind in columns.items()}
        flat = [_as_numbers(a.reshape(-1)) for a in answers.values()]
        if 0 in self.shape:
            # The engine still has to refuse what it does not accept.
            engine(_Places(zones=self.zones), self.days.reshape(-1)[:0], *flat)
            return answers
        done = 0
        for places, days in self.blocks(rows):
            end = done + days.size
            engine(places, days, *(out[done:end] for out in flat))
            done = end
        return answers

    def table(self, kind: type[T], answers: dict[str, Array]) -> T:
        """The answers with what was asked."""
        return kind(
            latitude_deg=np.broadcast_to(self.columns["latitude_deg"], self.shape),
            longitude_deg=np.broadcast_to(self.columns["longitude_deg"], self.shape),
            date=np.broadcast_to(self.days.view("M8[D]"), self.shape),
            index=self.index,
            **answers,
        )


def _as_numbers(array: Array) -> Array:
    """The same memory as a type that has a buffer format."""
    kind = {"M": "i8", "b": "u1"}.get(array.dtype.kind)
    return array.view(kind) if kind else array


def _asked(
    latitude_deg: Any,
    longitude_deg: Any,
    dates: Any,
    own_air: Mapping[str, Any] | None = None,
    *,
    elevation_m: Any = None,
    east_horizon_deg: Any = None,
    west_horizon_deg: Any = None,
    zone: Any = None,
) -> _Asked:
    optional = {
        "elevation_m": elevation_m,
        "east_horizon_deg": east_horizon_deg,
        "west_horizon_deg": west_horizon_deg,
    }
    columns: dict[str, Array] = {
        "latitude_deg": _numbers("latitude_deg", latitude_deg),
        "longitude_deg": _numbers("longitude_deg", longitude_deg),
    }
    for name, value in optional.items():
        if value is not None:
            columns[name] = _numbers(name, value)
    days = _days(dates, "dates")
    zones, zone_index = _zones(zone)
    if len(zones) > 1:
        columns["zone_index"] = zone_index
    shapes = {name: column.shape for name, column in columns.items()} | {"dates": days.shape}
    air = _own_air.air(own_air or {}, _numbers, _days)
    if air is not None:
        # Months and days are no axis of the places.
        shapes[air.given] = air.index.shape
        columns["air_index"] = air.index
    try:
        shape = np.broadcast_shapes(*shapes.values())
    except ValueError:
        given = ", ".join(f"{name} {shape}" for name, shape in shapes.items())
        raise ApiaryError(
            f"the shapes do not broadcast: {given}", "inconsistent", ", ".join(shapes)
        ) from None
    flat = {name: column.reshape(-1) for name, column in columns.items()}
    if air is not None:
        shapes |= air.shapes
        flat |= air.of(flat["air_index"])
    _core.check_arrays(_Places(zones=zones, **flat), days.reshape(-1), shapes)
    series = (latitude_deg, longitude_deg, dates, *optional.values(), zone)
    return _Asked(columns, zones, days, shape, _common_index(series, shape), air)


def _numbers(name: str, value: Any) -> npt.NDArray[np.float64]:
    _refuse_labels(name, value)
    try:
        array = np.asarray(np.ma.filled(value, np.nan) if np.ma.isMA(value) else value)
        if array.dtype.kind not in "fiuO":
            raise TypeError(f"an array of {array.dtype}")
        return np.array(array, dtype=np.float64, order="C")
    except (TypeError, ValueError, OverflowError) as error:
        raise ApiaryError(
            f"{name} is {short(value)} ({error}); allowed are numbers", "unreadable", name
        ) from None


def _days(value: Any, called: str) -> npt.NDArray[np.int64]:
    """Days since 1970-01-01."""
    _refuse_labels(called, value)
    if np.ma.isMA(value):
        value = np.ma.filled(value, np.datetime64("NaT"))
    try:
        array = np.asarray(value)
        if array.dtype.kind in "OUT":
            array = np.array([_date(one) for one in array.flat], "M8[us]").reshape(array.shape)
    except (TypeError, ValueError, OverflowError):
        array = np.empty(0, "V1")
    if array.dtype.kind != "M":
        raise ApiaryError(
            f"{called} is {short(value)}; allowed are datetime64[D], datetime.date and texts such as 2026-09-28, without a time",
            "unreadable",
            called,
        )
    days = array.astype("M8[D]", order="C")
    wrong = (days != array) & ~np.isnat(array)
    if wrong.any():
        place = np.unravel_index(int(np.argmax(wrong)), array.shape)
        name = f"{called}[{', '.join(map(str, place))}]" if place else called
        raise ApiaryError(
            f"{name} is {array[place]}; allowed is a date without a time of day",
            "out_of_range",
            name,
        )
    return days.view(np.int64)


def _date(value: Any) -> str:
    """A date of Python or pandas, or a whole one as text: numpy would read 2026 and 5 as dates too."""
    if isinstance(value, str):
        return dt.date.fromisoformat(value).isoformat()
    if value is None or isinstance(value, (dt.date, np.datetime64)):
        return "NaT" if value is None else str(to_json(value, "dates"))
    raise TypeError(f"{value!r} is no date")


def _zones(value: Any) -> tuple[tuple[str, ...], npt.NDArray[np.uint16]]:
    """The different zones, and for each row the position of its own."""
    if value is None:
        return (), _NO_ZONES
    _refuse_labels("zone", value)
    array = np.asarray(value)
    if array.dtype.kind == "O":
        zones = [one.key if isinstance(one, zoneinfo.ZoneInfo) else one for one in array.flat]
        array = np.array(zones, dtype=object).reshape(array.shape)
    texts = array.dtype.kind in "UT" or (
        array.dtype.kind == "O" and all(isinstance(one, str) for one in array.flat)
    )
    if not texts:
        raise ApiaryError(
            f"zone is {short(value)}; allowed are names such as Australia/Brisbane",
            "unreadable",
            "zone",
        )
    names, first, index = np.unique(array, return_index=True, return_inverse=True)
    for at in np.argsort(first):
        try:
            _core.check_zone(str(names[at]))
        except ApiaryError as error:
            place = np.unravel_index(int(first[at]), array.shape)
            name = f"zone[{', '.join(map(str, place))}]" if place else "zone"
            raise ApiaryError(f"{name}: {error}", error.code, name) from None
    return tuple(map(str, names)), index.reshape(array.shape).astype(np.uint16)


def _refuse_labels(name: str, value: Any) -> None:
    """Dimensions with names broadcast by name, which numpy would not do."""
    if _is_from("xarray", value):
        raise TypeError(f"{name} is an array of xarray: use dataset() or xarray.apply_ufunc")


def _is_from(package: str, value: Any) -> bool:
    """Whether a value is of a package's class, without loading the package."""
    return type(value).__module__.partition(".")[0] == package


def _common_index(given: tuple[Any, ...], shape: tuple[int, ...]) -> Any:
    """The index that the Series among the arguments share."""
    series = [value for value in given if _is_from("pandas", value) and hasattr(value, "index")]
    if not series or any(shape != (len(one),) for one in series):
        return None
    index = series[0].index
    if not all(index.equals(other.index) for other in series[1:]):
        raise ApiaryError(
            "the Series have different indices: bring them to one, with join or reindex",
            "inconsistent",
            "index",
        )
    return index


def _options(bee: Any, settings: Any = None) -> str:
    options = {"bee": bee, "settings": settings}
    given = {name: value for name, value in options.items() if value is not None}
    return json.dumps(to_json(given, ""))
