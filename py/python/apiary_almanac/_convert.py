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
from collections.abc import Mapping, Sequence
from typing import Any

from apiary_almanac import _core


def ask(request: Mapping[str, Any]) -> Any:
    """Answer a request given as a mapping; dates, datetimes and dataclasses may stand in it."""
    return json.loads(_core.ask(json.dumps(to_json(request))))


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
    origin = typing.get_origin(wanted)
    if origin in (typing.Union, types.UnionType):
        if value is None:
            return None
        options = [option for option in typing.get_args(wanted) if option is not type(None)]
        return from_json(_variant(options, value), value, zone)
    if origin in (tuple, Sequence):
        item = typing.get_args(wanted)[0]
        return tuple(from_json(item, one, zone) for one in value)
    if dataclasses.is_dataclass(wanted) and isinstance(wanted, type):
        kinds = _field_types(wanted)
        fields = {
            name: from_json(kinds[name], value[_wire_name(name)], zone)
            for name in kinds
            if _wire_name(name) in value
        }
        if len(fields) != len(value):
            raise TypeError(f"{wanted.__name__} does not have every field of {sorted(value)}")
        return wanted(**fields)
    if wanted is dt.datetime:
        return _in_zone(dt.datetime.fromisoformat(value), zone)
    if wanted is dt.date:
        return dt.date.fromisoformat(value)
    return float(value) if wanted is float else value


def _wire_name(name: str) -> str:
    """The engine's name of a field; one that is a keyword of Python carries an underscore."""
    return name.removesuffix("_")


@functools.cache
def _field_types(kind: type) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _variant(options: list[Any], value: Any) -> Any:
    """The dataclass of a union whose ``kind`` is that of the answer."""
    if len(options) == 1:
        return options[0]
    for option in options:
        if value["kind"] in typing.get_args(_field_types(option)["kind"]):
            return option
    raise TypeError(f"no type for {value['kind']!r}")


def _in_zone(instant: dt.datetime, zone: str) -> dt.datetime:
    try:
        return instant.astimezone(zoneinfo.ZoneInfo(zone))
    except zoneinfo.ZoneInfoNotFoundError:
        # The engine knows the zone, this machine does not: the offset is right all the same.
        return instant
