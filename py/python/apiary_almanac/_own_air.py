"""Temperatures and rain of one's own, as the tables take them: monthly or daily, the months or days last."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, TypedDict

import numpy as np
import numpy.typing as npt

from apiary_almanac._error import ApiaryError

Array = npt.NDArray[Any]


class OwnAir(TypedDict, total=False):
    """Temperatures and rain of one's own, by months or by days.

    The last axis of each array holds the twelve months, January first, or the days of ``daily_dates``; the axes
    before it are those of the places and broadcast with them. Minimum and maximum go together; rain may be left
    out. NaN is what is not known: a place of which no temperature is known has the state ``not_enough_data``;
    of other places a month must have its temperatures, a day may lack them.

    >>> import datetime as dt
    >>> import numpy as np
    >>> from apiary_almanac import season_table
    >>> own: OwnAir = {"monthly_minimum_c": np.full(12, 17.0), "monthly_maximum_c": np.full(12, 27.0)}
    >>> season_table(-28.81, 153.28, dt.date(2026, 7, 1), elevation_m=12, **own)
    <SeasonTable of shape (): 1 all_year>
    """

    monthly_minimum_c: npt.ArrayLike
    """Means of the daily minimum of the months, -60 to 60 °C."""
    monthly_maximum_c: npt.ArrayLike
    """Means of the daily maximum."""
    monthly_rain_mm: npt.ArrayLike
    """Mean totals of the months, 0 to 10,000 mm."""
    daily_minimum_c: npt.ArrayLike
    """Of measured days, -60 to 60 °C."""
    daily_maximum_c: npt.ArrayLike
    """Of measured days."""
    daily_rain_mm: npt.ArrayLike
    """Of measured days, 0 to 2,000 mm."""
    daily_dates: npt.ArrayLike
    """Which days: the same for all places, each later than the one before, in one axis."""


_COLUMNS = ("minimum_c", "maximum_c", "rain_mm")


@dataclass(frozen=True)
class Air:
    """The numbers of each place, one place after the other; what they mean the engine checks."""

    numbers: dict[str, Array]
    """Of shape (places, months or days), by the engine's names of the columns."""
    dates: npt.NDArray[np.int64] | None
    """Days since 1970; None for months."""
    index: npt.NDArray[np.uint32]
    """For each place of the arrays as given its position in ``numbers``."""
    shapes: dict[str, tuple[int, ...]]
    """Of the arrays, by the names of the arguments."""

    @property
    def given(self) -> str:
        """The argument that errors of shapes name."""
        return next(iter(self.shapes))

    def of(self, index: Array) -> dict[str, Any]:
        """The columns for rows with these positions, without the places that are not among them."""
        used, at = np.unique(index, return_inverse=True)
        columns = {
            # All of them need no copy.
            name: (array if used.size == len(array) else array[used]).reshape(-1)
            for name, array in self.numbers.items()
        }
        return {**columns, "air_dates": self.dates, "air_index": at.reshape(-1).astype(np.uint32)}


def air(
    own: Mapping[str, Any],
    numbers: Callable[[str, Any], npt.NDArray[np.float64]],
    days: Callable[[Any, str], npt.NDArray[np.int64]],
) -> Air | None:
    """What was given of :class:`OwnAir`; ``numbers`` and ``days`` read arrays of numbers and dates."""
    for name in own:
        if name not in OwnAir.__annotations__:
            raise TypeError(f"{name!r} is no argument; of own temperatures there are {', '.join(OwnAir.__annotations__)}")
    given = {name: value for name, value in own.items() if value is not None}
    if not given:
        return None
    kinds = sorted({name.partition("_")[0] for name in given})
    if len(kinds) > 1:
        raise ApiaryError("monthly and daily temperatures are given; give one of them", "inconsistent", ", ".join(given))
    (kind,) = kinds
    needed = [f"{kind}_minimum_c", f"{kind}_maximum_c", *(["daily_dates"] if kind == "daily" else [])]
    if missing := [name for name in needed if name not in given]:
        raise ApiaryError(f"{missing[0]} is needed beside {', '.join(given)}", "inconsistent", missing[0])
    dates = days(given["daily_dates"], "daily_dates") if kind == "daily" else None
    if dates is not None and dates.ndim != 1:
        raise ApiaryError(f"daily_dates has the shape {dates.shape}; one axis is needed", "inconsistent", "daily_dates")
    width = 12 if dates is None else dates.size
    arrays = {name: numbers(name, given[name]) for column in _COLUMNS if (name := f"{kind}_{column}") in given}
    for name, array in arrays.items():
        if array.shape[-1:] != (width,):
            what = "twelve months" if dates is None else f"{width} days of daily_dates"
            raise ApiaryError(f"{name} has the shape {array.shape}; the last axis needs the {what}", "inconsistent", name)
    try:
        whole = dict(zip(arrays, np.broadcast_arrays(*arrays.values()), strict=True))
    except ValueError:
        told = ", ".join(f"{name} {array.shape}" for name, array in arrays.items())
        raise ApiaryError(f"the shapes do not broadcast: {told}", "inconsistent", ", ".join(arrays)) from None
    shape = whole[f"{kind}_minimum_c"].shape
    places = math.prod(shape[:-1])
    return Air(
        numbers={
            name.replace(kind, "air", 1): np.ascontiguousarray(array).reshape(places, width)
            for name, array in whole.items()
        },
        dates=dates,
        index=np.arange(places, dtype=np.uint32).reshape(shape[:-1]),
        shapes=dict.fromkeys(arrays, shape) | ({} if dates is None else {"daily_dates": dates.shape}),
    )


MONTH = "month"
"""The dimension of monthly arrays of xarray."""
DAY = "own_day"
"""What the dimension of daily ones is called inside."""
_CELSIUS = {"degree_celsius", "degrees_celsius", "degc", "deg_c", "celsius", "c", "°c"}
_KELVIN = {"k", "kelvin", "kelvins"}
_MILLIMETRES = {"mm": 1.0, "kg m-2": 1.0, "kg/m2": 1.0, "kg m**-2": 1.0, "cm": 10.0, "m": 1000.0}


def labelled(own: Mapping[str, Any]) -> dict[str, Any]:
    """Arrays of xarray with their months or days in one dimension of one name, in °C and mm."""
    days = own.get("daily_dates")
    if days is not None and len(days.dims) != 1:
        raise ApiaryError(f"daily_dates has the dimensions {days.dims}; one is needed", "inconsistent", "daily_dates")
    found = {}
    for name, array in own.items():
        (dimension,) = last(name)
        if days is not None and dimension == DAY:
            label = days.dims[0]
            if label in array.dims:
                array = array.drop_vars(label, errors="ignore").rename({label: DAY})
        if dimension not in array.dims:
            raise ApiaryError(
                f"{name} has the dimensions {array.dims}; needed is {_wanted(dimension)}", "inconsistent", name
            )
        if dimension == MONTH and MONTH in array.coords:
            if array[MONTH].values.tolist() != list(range(1, 13)):
                told = array[MONTH].values.tolist()
                raise ApiaryError(f"{name}: month is {told}; needed are 1 to 12 in order", "inconsistent", name)
        if array.chunks:
            array = array.chunk({dimension: -1})
        found[name] = array if name == "daily_dates" else _in_units(name, array)
    return found


def last(name: str) -> tuple[str, ...]:
    """The dimension that is not one of places."""
    return (MONTH,) if name.startswith("monthly") else (DAY,)


def _wanted(dimension: str) -> str:
    return "one that is called month" if dimension == MONTH else "that of daily_dates"


def _in_units(name: str, array: Any) -> Any:
    """The numbers in °C or mm, by what the array says of its units; without a word they are taken as they are."""
    units = array.attrs.get("units")
    if units is None:
        return array
    plain = str(units).strip().lower()
    if name.endswith("_mm"):
        allowed = "mm, kg m-2, cm, m: totals of the month or day"
        if (factor := _MILLIMETRES.get(plain)) is not None:
            return array if factor == 1 else array * factor
    else:
        allowed = "degC, K"
        if plain in _CELSIUS:
            return array
        if plain in _KELVIN:
            return array - 273.15
    raise ApiaryError(f"{name} has the units {units!r}; allowed are {allowed}", "unreadable", name)
