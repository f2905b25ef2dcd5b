"""Latitudes and longitudes as people type them."""

from __future__ import annotations

import re
from typing import Literal

from apiary_almanac.club.cells import Cell, NotUnderstood, text

Axis = Literal["NS", "EW"]

SIDES = {
    **dict.fromkeys(("n", "north", "norte", "nord"), "N"),
    **dict.fromkeys(("s", "south", "sul", "sur", "sud"), "S"),
    **dict.fromkeys(("e", "east", "este", "leste", "est", "l"), "E"),
    # Ouest, oeste. A longitude with the wrong sign does not fit its zone, which the engine refuses.
    **dict.fromkeys(("w", "west", "oeste", "ouest", "o"), "W"),
}
"""Words and letters for the sides of the globe."""
_SIGNS = (
    (re.compile(r"[°º˚∘⁰]|\bdeg(?:rees?)?\b\.?"), "°"),
    (re.compile(r"''|′′|[\"″”“ʺ˝]"), '"'),
    (re.compile(r"['′’‘`´ʹʼ]|\bmin(?:utes?)?\b\.?"), "'"),
    (re.compile(r"[\N{MINUS SIGN}\N{EN DASH}\N{HYPHEN}\N{NON-BREAKING HYPHEN}]"), "-"),
    (re.compile(r"[\u00a0\u202f\u2009]"), " "),
)
_ANGLE = re.compile(
    r"""\s*(?P<before>[a-z]+)?[.:]?\s*(?P<sign>[+-])?\s*(?P<degrees>\d+(?:[.,]\d+)?)\s*[°:]?
    (?:\s*(?P<minutes>\d+(?:[.,]\d+)?)\s*[':]?
    (?:\s*(?P<seconds>\d+(?:[.,]\d+)?)\s*"?)?)?
    \s*(?P<after>[a-z]+)?\.?\s*""",
    re.VERBOSE,
)
_NAMES = re.compile(r"\b(?:lat|latitude|lon|long|lng|longitude)\b\.?\s*[:=]?")


def angle(value: Cell, axis: Axis, header_side: str | None = None) -> float:
    """Degrees: -28.81, 28.81 S, or 28° 48′ 36″ S. ``header_side`` is the side that the header names, for
    numbers that say none themselves."""
    degrees, side = _read(value, axis)
    if side is None:
        return -abs(degrees) if header_side in ("S", "W") else degrees
    if side not in axis:
        raise NotUnderstood(_needed(axis))
    return degrees


def axis_of(value: Cell) -> Axis | None:
    """Which of the two a cell says itself to be, by its letter."""
    try:
        _, side = _read(value, "NS")
    except NotUnderstood:
        return None
    return None if side is None else "NS" if side in "NS" else "EW"


def _read(value: Cell, axis: Axis) -> tuple[float, str | None]:
    """Degrees with their sign, and the side, where it is named."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return float(value), None
    found = _ANGLE.fullmatch(_NAMES.sub(" ", _plain(value)))
    if found is None:
        raise NotUnderstood(_needed(axis))
    words = [word for word in (found["before"], found["after"]) if word]
    if len(words) > 1 or not all(word in SIDES for word in words) or (words and found["sign"]):
        raise NotUnderstood(_needed(axis))
    for larger, smaller in (("degrees", "minutes"), ("minutes", "seconds")):
        # 1.35 103.8 are two numbers, not one angle.
        if found[smaller] and not found[larger].isdigit():
            raise NotUnderstood(_needed(axis))
    parts = [
        float((found[key] or "0").replace(",", ".")) for key in ("degrees", "minutes", "seconds")
    ]
    if parts[1] >= 60 or parts[2] >= 60:
        raise NotUnderstood("minutes and seconds of an angle are below 60")
    # Rounded to a tenth of a millimetre, so that 28° 48′ 36″ is 28.81.
    size = round(parts[0] + parts[1] / 60 + parts[2] / 3600, 9)
    side = SIDES[words[0]] if words else None
    return (-size if found["sign"] == "-" or side in ("S", "W") else size), side


def coordinates(value: Cell, longitude_first: bool = False) -> tuple[float, float]:
    """Latitude and longitude of one cell, separated by a comma, a semicolon or a space. Letters say which
    is which; where there are none, latitude stands first, or where the header says so longitude."""
    whole = re.sub(r"^geo:|[()\[\]]", "", _plain(value)).strip()
    for split in (r";", r"/", r"\n", r",\s+", r",", r"(?<=[nsewol])[\s,]+(?=[\d])", r"\s+(?=l)", r"\s+"):
        parts = [part for part in re.split(split, whole) if part.strip()]
        if len(parts) != 2:
            continue
        first, second = (axis_of(part) for part in parts)
        turned = (first, second) == ("EW", "NS") or (first is second is None and longitude_first)
        latitude, longitude = reversed(parts) if turned else parts
        try:
            found = angle(latitude, "NS"), angle(longitude, "EW")
        except NotUnderstood:
            continue
        _not_turned(*found)
        return found
    raise NotUnderstood(
        "latitude and longitude are needed, such as -28.81, 153.28 or 28.81 S, 153.28 E"
    )


def _not_turned(latitude: float, longitude: float) -> None:
    if abs(latitude) > 90 and abs(longitude) <= 90:
        raise NotUnderstood(
            "the first number is no latitude (-90 to 90): is the longitude first? Write the latitude "
            f"first, or the letters: {longitude:g} N, {latitude:g} E"
        )


def _plain(value: Cell) -> str:
    plain = text(value).lower()
    for found, sign in _SIGNS:
        plain = found.sub(sign, plain)
    return plain


def _needed(axis: Axis) -> str:
    letter = axis[1] if axis == "NS" else "E"
    return f"degrees are needed, such as -28.81 or 28.81 {letter} or 28° 48′ 36″ {letter}"
