"""From what people type into cells to numbers, dates and lists."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Mapping
from typing import Any

Cell = Any
"""What openpyxl gives for a cell."""

UNKNOWN = ("", "?", "-", "–", "n/a", "unknown")
"""What people write for "not known"."""


class NotUnderstood(ValueError):
    """The text says what would be right."""


def text(value: Cell) -> str:
    """What stands in the cell, without the spaces around it."""
    if value is None:
        return ""
    if isinstance(value, dt.datetime) and value.time() == dt.time():
        return value.date().isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value).strip()


def number(value: Cell) -> float:
    """A number; a decimal comma is understood, and separators of thousands where they can be
    nothing else."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value)
    written = re.sub(r"(?<=\d)[ \u00a0\u202f'’](?=\d{3})", "", text(value))
    written = written.replace("\N{MINUS SIGN}", "-")
    found = _NUMBER.fullmatch(written)
    if found is None:
        raise NotUnderstood("a number is needed")
    sign, whole, last, places = found.groups()
    digits = re.sub(r"[.,]", "", whole)
    if places is not None and last in whole:
        # 1,234,567: all of them part thousands.
        digits, places = digits + places, None
    elif places is not None and len(places) == 3 and whole == digits and 0 < len(digits) < 4 and digits != "0":
        raise NotUnderstood(
            f"it can be {digits}{places} or {digits}.{places}; write it without a separator of "
            f"thousands, or with more or fewer decimals, such as {digits}.{places}0"
        )
    return float(f"{sign}{digits or 0}.{places or 0}")


_NUMBER = re.compile(r"([+-]?)(\d{1,3}(?:[.,]\d{3})+(?=[.,])|\d*)(?:([.,])(\d+))?(?<=\d)")


def measure(units: Mapping[str, float], header_unit: str | None) -> Callable[[Cell], float]:
    """Reads a number with or without a unit after it; where there is none it has the header's, or
    the first of ``units``, which holds what one of each is in that first one."""

    def read(value: Cell) -> float:
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            return float(value) * units.get(header_unit or "", 1.0)
        written = re.sub(r"a\.\s?s\.\s?l\.?|a\.\s?m\.\s?s\.\s?l\.?|\basl\b", "masl", text(value).lower())
        written = re.sub(r"\bm\s+masl\b", "masl", written)
        if (two := _TWO.fullmatch(written)) is not None:
            # 7 lb 15 oz.
            larger, smaller = (measure(units, None)(part) for part in (two[1], two[2]))
            return larger + smaller
        found = re.fullmatch(r"(.*?)\s*([^\W\d_]*)\.?", written, re.DOTALL)
        given, unit = (found[1], found[2]) if found else (written, "")
        if unit and given and unit not in units:
            raise NotUnderstood(f"{unit!r} is not a unit known here; known are {', '.join(units)}")
        return number(given) * units.get(unit or header_unit or "", 1.0)

    return read


_TWO = re.compile(r"(\d+\s*(?:lbs?|pounds?))\.?,?\s+(?:and\s+)?(\d+(?:\.\d+)?\s*(?:oz|ounces?)\.?)")


METRES = {
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters", "mtr", "masl", "amsl"), 1.0),
    **dict.fromkeys(("ft", "foot", "feet"), 0.3048),
    "km": 1000.0,
}
"""The international foot of 1959 is 0.3048 m by definition."""
KILOGRAMS = {
    **dict.fromkeys(("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"), 1.0),
    **dict.fromkeys(("g", "gr", "gram", "grams"), 0.001),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), 0.45359237),
    **dict.fromkeys(("oz", "ounce", "ounces"), 0.45359237 / 16),
}
"""The international pound of 1959 is 0.45359237 kg by definition."""


def count(value: Cell, most: int) -> int:
    """A whole number from 0 on."""
    given = number(value)
    if not (given.is_integer() and 0 <= given <= most):
        raise NotUnderstood(f"a whole number from 0 to {most} is needed")
    return int(given)


def items(value: Cell) -> list[Cell]:
    """Several values of one cell, separated by semicolons or line breaks."""
    if value is None:
        return []
    if not isinstance(value, str):
        return [value]
    found = [item.strip() for item in re.split(r"[;\n]", value)]
    while found and not found[-1]:
        found.pop()
    return found


def known(value: Cell) -> bool:
    """Whether anything is said there."""
    return text(value).lower() not in UNKNOWN


def words(value: Cell) -> list[str]:
    """Several words of one cell, separated by commas, semicolons or line breaks."""
    return [word for item in re.split(r"[,;\n]", text(value)) if (word := item.strip())]


def name(value: Cell) -> str:
    """A name as the engine writes names: small letters, underscores."""
    return re.sub(r"[\s-]+", "_", text(value).lower())
