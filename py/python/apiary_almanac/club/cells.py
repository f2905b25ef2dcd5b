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
        found = re.fullmatch(r"(.*?)\s*([^\W\d_]*)\.?", text(value), re.DOTALL)
        given, unit = (found[1], found[2].lower()) if found else (text(value), "")
        if unit and given and unit not in units:
            allowed = ", ".join(units)
            raise NotUnderstood(f"{unit!r} is not a unit known here; known are {allowed}")
        return number(given) * units.get(unit or header_unit or "", 1.0)

    return read


METRES = {"m": 1.0, "metres": 1.0, "meters": 1.0, "masl": 1.0, "ft": 0.3048, "feet": 0.3048, "km": 1000.0}
"""The international foot of 1959 is 0.3048 m by definition."""
KILOGRAMS = {"kg": 1.0, "g": 0.001, "lb": 0.45359237, "lbs": 0.45359237, "oz": 0.45359237 / 16}
"""The international pound of 1959 is 0.45359237 kg by definition."""


def count(value: Cell, most: int) -> int:
    """A whole number from 0 on."""
    given = number(value)
    if not (given.is_integer() and 0 <= given <= most):
        raise NotUnderstood(f"a whole number from 0 to {most} is needed")
    return int(given)


def date(value: Cell) -> dt.date:
    """A date: of a date cell, or written as YYYY-MM-DD."""
    if isinstance(value, dt.datetime):
        return value.date()
    if isinstance(value, dt.date):
        return value
    try:
        return dt.date.fromisoformat(text(value))
    except ValueError:
        raise NotUnderstood(
            "a date is needed: a date cell, or text such as 2026-09-28"
        ) from None


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


_ANGLE = re.compile(
    r"""\s*(?P<before>[NSEW])?\s*(?P<sign>[+-])?\s*(?P<degrees>\d+(?:[.,]\d+)?)\s*°?
    (?:\s*(?P<minutes>\d+(?:[.,]\d+)?)\s*['′’])?
    (?:\s*(?P<seconds>\d+(?:[.,]\d+)?)\s*["″”])?
    \s*(?P<after>[NSEW])?\s*""",
    re.VERBOSE | re.IGNORECASE,
)


def angle(value: Cell, letters: str, header_side: str | None = None) -> float:
    """Degrees: -28.81, 28.81 S, or 28° 48′ 36″ S; ``letters`` are NS or EW. ``header_side`` is the
    side that the header names, for numbers that say none themselves."""
    turned = header_side in ("S", "W")
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return -abs(float(value)) if turned else float(value)
    found = _ANGLE.fullmatch(text(value).replace("\N{MINUS SIGN}", "-"))
    side = found and (found["before"] or found["after"] or "").upper()
    if (
        found is None
        or (side and (side not in letters or found["sign"]))
        or (found["before"] and found["after"])
    ):
        raise NotUnderstood(
            f"degrees are needed, such as -28.81 or 28.81 {letters[1]} or 28° 48′ 36″ {letters[1]}"
        )
    part = {
        key: float((found[key] or "0").replace(",", "."))
        for key in ("degrees", "minutes", "seconds")
    }
    if part["minutes"] >= 60 or part["seconds"] >= 60:
        raise NotUnderstood("minutes and seconds of an angle are below 60")
    # Rounded to a tenth of a millimetre, so that 28° 48′ 36″ is 28.81.
    size = round(part["degrees"] + part["minutes"] / 60 + part["seconds"] / 3600, 9)
    minus = found["sign"] == "-" or side in ("S", "W") or (turned and not side)
    return -size if minus else size


def coordinates(value: Cell) -> tuple[float, float]:
    """Latitude and longitude of one cell, separated by a comma, a semicolon or a space."""
    whole = text(value)
    for split in (r";", r",\s+", r",", r"(?<=[NSns])\s+(?=[\d])", r"\s+"):
        parts = re.split(split, whole)
        if len(parts) == 2 and all(part.strip() for part in parts):
            try:
                return angle(parts[0], "NS"), angle(parts[1], "EW")
            except NotUnderstood:
                continue
    raise NotUnderstood(
        "latitude and longitude are needed, such as -28.81, 153.28 or 28.81 S, 153.28 E"
    )
