"""Frozen dataclasses that are completed at their first use.

The engine has some hundred and fifty of them, and to make the methods of all at once takes 100 ms of an import
that needs 20 otherwise; a script uses a dozen. Until then a class has stand-ins for its methods.
"""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable
from typing import Any, TypeVar

T = TypeVar("T")
_MADE = ("__init__", "__repr__", "__eq__", "__hash__", "__match_args__", "__replace__")
_STOOD_IN = ("__init__", "__repr__", "__eq__", "__hash__")


def dataclass(*, frozen: bool, kw_only: bool) -> Callable[[type[T]], type[T]]:
    """As :func:`dataclasses.dataclass`, later."""
    if not (frozen and kw_only):
        raise TypeError("only frozen classes with arguments by name are made here")
    return _prepared


def _prepared(kind: type[T]) -> type[T]:
    own = dict(kind.__dict__)
    made: Any = kind
    for name in _STOOD_IN:
        if name not in own or (name == "__hash__" and own[name] is None):
            setattr(made, name, _stand_in(kind, own, name))
    made.__setattr__ = _refuse_to_set
    made.__delattr__ = _refuse_to_delete
    made.__dataclass_fields__ = _Late(own, "__dataclass_fields__")
    made.__signature__ = _Late(own, "__signature__")
    return kind


def _complete(kind: Any, own: dict[str, Any]) -> None:
    """Make the methods. Two threads may do so at once: both make the same, and none is ever missing."""
    left_out = ("__dict__", "__weakref__", "__annotate_func__", "__annotations_cache__")
    body = {name: value for name, value in own.items() if name not in left_out}
    body["__annotations__"] = kind.__annotations__
    # The methods are made for a twin, since dataclass() leaves what is there already.
    twin: Any = dataclasses.dataclass(frozen=True, kw_only=True)(type(kind.__name__, kind.__bases__, body))
    kind.__signature__ = inspect.signature(twin)
    kind.__dataclass_params__ = twin.__dataclass_params__
    for name in _MADE:
        if name in twin.__dict__:
            setattr(kind, name, twin.__dict__[name])
    kind.__dataclass_fields__ = twin.__dataclass_fields__


def _stand_in(kind: Any, own: dict[str, Any], name: str) -> Callable[..., Any]:
    def method(self: Any, *arguments: Any, **named: Any) -> Any:
        _complete(kind, own)
        return getattr(kind, name)(self, *arguments, **named)

    return method


class _Late:
    """An attribute of the class that is there once it is complete."""

    def __init__(self, own: dict[str, Any], name: str) -> None:
        self._own, self._name = own, name

    def __get__(self, instance: object, kind: type) -> Any:
        _complete(kind, self._own)
        return getattr(kind, self._name)


def _refuse_to_set(self: object, name: str, value: object) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_to_delete(self: object, name: str) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")
