"""Between Python's values and the engine's JSON. Dates and instants are converted here only."""

from __future__ import annotations

import dataclasses
import datetime as dt
import decimal
import functools
import json
import math
import numbers
import types
import typing
import zoneinfo
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from typing import Any

from apiary_almanac import _core


def ask(request: Mapping[str, Any]) -> Any:
    """Answer a request given as a mapping; whatever functions take may stand in it: dates, moments,
    dataclasses, numbers and dates of numpy and pandas, zones of :mod:`zoneinfo`.

    Raises:
        ApiaryError: For what the engine does not accept.
        TypeError: For what no request can carry, such as bytes; it names the value.

    >>> ask({"ask": "site", "site": {"latitude_deg": 1.35, "longitude_deg": 103.8, "zone": "UTC"}})["zone"]
    'UTC'
    """
    if not isinstance(request, Mapping):
        raise TypeError(f"request is {short(request)}; allowed is a mapping")
    return json.loads(_core.ask(json.dumps(to_json(request, ""))))


def complete(site: Any) -> None:
    """Check a site; what the engine completes stands in it from then on."""
    for name, value in ask({"ask": "site", "site": site}).items():
        object.__setattr__(site, name, value)


def to_json(value: Any, name: str = "") -> Any:
    """What ``json.dumps`` can write; ``name`` is what the value is called in errors.

    A date becomes ``YYYY-MM-DD``, so does a moment without a zone at midnight, which is how pandas and
    numpy have dates; other moments become RFC 3339. One without a zone has no offset then, which the
    engine refuses.
    """
    if value is None or type(value) in (str, bool, int):
        return value
    if isinstance(value, float):
        # JSON has no such number; the engine's error then shows what was given.
        return float(value) if math.isfinite(value) else str(float(value))
    if isinstance(value, dt.date):  # datetimes are dates too
        return _date(value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = {_wire_name(f.name): getattr(value, f.name) for f in dataclasses.fields(value)}
        return _named({key: item for key, item in fields.items() if item is not None}, name)
    if isinstance(value, Mapping):
        return _named(value, name)
    if isinstance(value, str):
        return str(value)
    if isinstance(value, zoneinfo.ZoneInfo):
        return value.key or str(value)
    if isinstance(value, numbers.Integral):
        return int(value)
    if isinstance(value, (numbers.Real, decimal.Decimal)):
        return to_json(float(value), name)
    array: Any = value
    if hasattr(array, "dtype") and hasattr(array, "tolist"):
        # numpy: a single value, also one of its booleans and dates, or an array of them.
        moments = getattr(array.dtype, "kind", "O") == "M"
        plain = (array.astype("M8[us]") if moments else array).tolist()
        return to_json("NaT" if plain is None else plain, name)
    if isinstance(value, Set):
        value = sorted(value, key=str)
    if isinstance(value, Sequence) and not isinstance(value, (bytes, bytearray, memoryview)):
        return [to_json(item, f"{name}[{at}]") for at, item in enumerate(value)]
    raise TypeError(
        f"{name or 'request'} is {short(value)}; a {type(value).__name__} cannot be given"
    )


def _named(items: Mapping[Any, Any], name: str) -> dict[str, Any]:
    """A mapping whose keys are texts."""
    within = f"{name}." if name else ""
    for key in items:
        if not isinstance(key, str):
            raise TypeError(f"{name or 'request'} has the key {short(key)}; allowed are texts")
    return {str(key): to_json(item, f"{within}{key}") for key, item in items.items()}


def _date(value: dt.date | str) -> str:
    """A date, or a moment; pandas says NaT for one that is missing."""
    if isinstance(value, dt.datetime) and value == value:
        if value.tzinfo is None and value.time() == dt.time():
            return value.date().isoformat()
        # Nanoseconds of pandas are more than a moment in JSON may have.
        return dt.datetime.isoformat(value)
    return value if isinstance(value, str) else str(value)


def short(value: Any) -> str:
    """A value as errors show it."""
    text = repr(value)
    return text if len(text) <= 80 else f"{text[:77]}..."


def from_json(wanted: Any, value: Any, zone: str) -> Any:
    """Build ``wanted``, a dataclass or a type of its fields, from the JSON of an answer.

    Instants come in ``zone``.
    """
    try:
        clocks: dt.tzinfo | None = zoneinfo.ZoneInfo(zone)
    except zoneinfo.ZoneInfoNotFoundError:
        # The engine knows the zone, this machine does not: the offset is right all the same.
        clocks = None
    return _reader(wanted)(value, clocks)


class Named(Mapping[str, Any]):
    """Values by name in an answer: frozen like the answer, so that it can be hashed."""

    __slots__ = ("_items",)

    def __init__(self, items: Mapping[str, Any]) -> None:
        self._items = dict(items)

    def __getitem__(self, name: str) -> Any:
        return self._items[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._items)

    def __len__(self) -> int:
        return len(self._items)

    def __hash__(self) -> int:
        return hash(frozenset(self._items.items()))

    def __repr__(self) -> str:
        return repr(self._items)


Reader = Callable[[Any, dt.tzinfo | None], Any]


@functools.cache
def _reader(wanted: Any) -> Reader:
    """How values of a type are read: one closure for each type, made once."""
    origin = typing.get_origin(wanted)
    if origin in (typing.Union, types.UnionType):
        return _reader_of_union(
            [option for option in typing.get_args(wanted) if option is not type(None)]
        )
    if origin in (tuple, Sequence):
        item = _reader(typing.get_args(wanted)[0])
        if item is _as_it_is:
            return lambda value, clocks: tuple(value)
        return lambda value, clocks: tuple([item(one, clocks) for one in value])
    if origin is Mapping:
        item = _reader(typing.get_args(wanted)[1])
        return lambda value, clocks: Named({name: item(one, clocks) for name, one in value.items()})
    if dataclasses.is_dataclass(wanted) and isinstance(wanted, type):
        return _reader_of_dataclass(wanted)
    if wanted is dt.datetime:
        return _instant
    if wanted is dt.date:
        return lambda value, clocks: dt.date.fromisoformat(value)
    if wanted is float:
        return lambda value, clocks: float(value)
    return _as_it_is


def _as_it_is(value: Any, clocks: dt.tzinfo | None) -> Any:
    return value


# One name is found faster than two attributes, and answers are full of moments.
_moment = dt.datetime.fromisoformat


def _instant(value: str, clocks: dt.tzinfo | None) -> dt.datetime:
    return _moment(value) if clocks is None else _moment(value).astimezone(clocks)


def _reader_of_union(options: list[Any]) -> Reader:
    if len(options) == 1:
        only = _reader(options[0])
        if only is _as_it_is:
            return only
        return lambda value, clocks: None if value is None else only(value, clocks)
    records: list[Any] = [option for option in options if dataclasses.is_dataclass(option)]
    if len(records) == 1:
        # A plain value, or an object that holds more.
        record = _reader(records[0])
        return lambda value, clocks: record(value, clocks) if isinstance(value, dict) else value
    by_kind = {
        kind: _reader(option)
        for option in options
        for kind in typing.get_args(typing.get_type_hints(option)["kind"])
    }

    def read(value: Any, clocks: dt.tzinfo | None) -> Any:
        if value is None:
            return None
        reader = by_kind.get(value["kind"])
        if reader is None:
            raise TypeError(f"no type for {value['kind']!r}")
        return reader(value, clocks)

    return read


def _without_none(hint: Any) -> Any:
    """What a field holds that is not None."""
    options = [option for option in typing.get_args(hint) if option is not type(None)]
    is_union = typing.get_origin(hint) in (typing.Union, types.UnionType)
    return options[0] if is_union and len(options) == 1 else hint


def _reader_of_dataclass(wanted: type) -> Reader:
    """Fills an object without its ``__init__``: that checks nothing of what the engine itself answers, and
    takes several times as long."""
    found = dataclasses.fields(wanted)
    names = {field.name for field in found}
    usual = {f.name: f.default for f in found if f.default is not dataclasses.MISSING}
    renamed = {_wire_name(name): name for name in names if _wire_name(name) != name}
    hints = typing.get_type_hints(wanted)
    # A type may hold itself: what its fields are read with is worked out at the first value.
    fields: list[tuple[str, Reader]] = []
    is_ready = False
    new, put = object.__new__, object.__setattr__

    def read(value: Any, clocks: dt.tzinfo | None) -> Any:
        nonlocal is_ready
        if not is_ready:
            readers = ((name, _reader(_without_none(hint))) for name, hint in hints.items())
            fields.extend((name, reader) for name, reader in readers if reader is not _as_it_is)
            is_ready = True
        if renamed:
            value = {renamed.get(name, name): item for name, item in value.items()}
        # Most fields are taken as they are, all at once.
        given = {**usual, **value}
        if given.keys() != names:
            if missing := [name for name in hints if name not in given]:
                raise TypeError(f"{wanted.__name__} lacks {', '.join(missing)}")
            unknown = next(name for name in given if name not in names)
            raise TypeError(f"{wanted.__name__} has no field {unknown!r}")
        for name, reader in fields:
            if (item := value.get(name)) is not None:
                given[name] = reader(item, clocks)
        made: Any = new(wanted)
        put(made, "__dict__", given)
        return made

    return read


def _wire_name(name: str) -> str:
    """The engine's name of a field; one that is a keyword of Python carries an underscore."""
    return name.removesuffix("_")
