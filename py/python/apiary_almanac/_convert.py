"""Between Python's values and the engine's JSON. Dates and instants are converted here only."""

from __future__ import annotations

import dataclasses
import datetime as dt
import functools
import json
import math
import types
import typing
import zoneinfo
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from apiary_almanac import _core


def ask(request: Mapping[str, Any]) -> Any:
    """Answer a request given as a mapping; dates, datetimes and dataclasses may stand in it."""
    return json.loads(_core.ask(json.dumps(to_json(request))))


def complete(site: Any) -> None:
    """Check a site; what the engine completes stands in it from then on."""
    for name, value in ask({"ask": "site", "site": site}).items():
        object.__setattr__(site, name, value)


def to_json(value: Any) -> Any:
    """What ``json.dumps`` can write.

    A date becomes ``YYYY-MM-DD``, a datetime RFC 3339. A naive datetime has no offset then, which
    the engine refuses.
    """
    if isinstance(value, dt.date):  # datetimes are dates too
        return value.isoformat()
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = {_wire_name(f.name): getattr(value, f.name) for f in dataclasses.fields(value)}
        return to_json({name: item for name, item in fields.items() if item is not None})
    if isinstance(value, Mapping):
        return {key: to_json(item) for key, item in value.items()}
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [to_json(item) for item in value]
    if isinstance(value, float) and not math.isfinite(value):
        # JSON has no such number; the engine's error then shows what was given.
        return str(value)
    return value


def from_json(wanted: Any, value: Any, zone: str) -> Any:
    """Build ``wanted``, a dataclass or a type of its fields, from the JSON of an answer.

    Instants come in ``zone``.
    """
    return _reader(wanted)(value, zone)


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


Reader = Callable[[Any, str], Any]


@functools.cache
def _reader(wanted: Any) -> Reader:
    """How values of a type are read: worked out once for each type, not for each value."""
    origin = typing.get_origin(wanted)
    if origin in (typing.Union, types.UnionType):
        return _reader_of_union(
            [option for option in typing.get_args(wanted) if option is not type(None)]
        )
    if origin in (tuple, Sequence):
        item = _reader(typing.get_args(wanted)[0])
        return lambda value, zone: tuple([item(one, zone) for one in value])
    if origin is Mapping:
        item = _reader(typing.get_args(wanted)[1])
        return lambda value, zone: Named({name: item(one, zone) for name, one in value.items()})
    if dataclasses.is_dataclass(wanted) and isinstance(wanted, type):
        return functools.partial(_dataclass, wanted)
    if wanted is dt.datetime:
        return lambda value, zone: _in_zone(dt.datetime.fromisoformat(value), zone)
    if wanted is dt.date:
        return lambda value, zone: dt.date.fromisoformat(value)
    if wanted is float:
        return lambda value, zone: float(value)
    return lambda value, zone: value


def _reader_of_union(options: list[Any]) -> Reader:
    if len(options) == 1:
        only = _reader(options[0])
        return lambda value, zone: None if value is None else only(value, zone)
    by_kind = {
        kind: _reader(option)
        for option in options
        for kind in typing.get_args(typing.get_type_hints(option)["kind"])
    }

    def read(value: Any, zone: str) -> Any:
        if value is None:
            return None
        reader = by_kind.get(value["kind"])
        if reader is None:
            raise TypeError(f"no type for {value['kind']!r}")
        return reader(value, zone)

    return read


def _dataclass(wanted: type, value: Any, zone: str) -> Any:
    fields = _fields(wanted)
    given = {}
    for name, item in value.items():
        if name not in fields:
            raise TypeError(f"{wanted.__name__} has no field {name!r}")
        own_name, reader = fields[name]
        given[own_name] = reader(item, zone)
    return wanted(**given)


@functools.cache
def _fields(kind: type) -> dict[str, tuple[str, Reader]]:
    """The fields of a dataclass by the engine's names: the name here, and how it is read."""
    hints = typing.get_type_hints(kind)
    return {_wire_name(name): (name, _reader(hint)) for name, hint in hints.items()}


def _wire_name(name: str) -> str:
    """The engine's name of a field; one that is a keyword of Python carries an underscore."""
    return name.removesuffix("_")


def _in_zone(instant: dt.datetime, zone: str) -> dt.datetime:
    try:
        return instant.astimezone(zoneinfo.ZoneInfo(zone))
    except zoneinfo.ZoneInfoNotFoundError:
        # The engine knows the zone, this machine does not: the offset is right all the same.
        return instant
