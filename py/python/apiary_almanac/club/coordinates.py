"""Coordinates in the cells of a list. What a text means is read by the engine, one angle beside a zero of the
other kind."""

from __future__ import annotations

import re
from typing import Literal

from apiary_almanac import ApiaryError, CoordinatesReading, read_coordinates
from apiary_almanac.club.cells import Cell, NotUnderstood, text

Axis = Literal["NS", "EW"]
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?")


def angle(value: Cell, axis: Axis, header_side: str | None = None) -> float:
    """Degrees: -28.81, 28.81 S, or 28° 48′ 36″ S. ``header_side`` is the side that the header names, for
    numbers that say none themselves."""
    if isinstance(value, (int, float)) and not isinstance(value, bool) or _NUMBER.fullmatch(text(value)):
        degrees = float(text(value))
        return -abs(degrees) if header_side in ("S", "W") else degrees
    if header_side is not None:
        try:
            return _angle(f"{text(value)} {header_side}", axis)
        except NotUnderstood:
            pass  # It says its side itself.
    return _angle(text(value), axis)


def _angle(written: str, axis: Axis) -> float:
    # A decimal comma is one where the other number can have one too.
    zero = "0,0" if "," in written else "0"
    try:
        if axis == "NS":
            return read_coordinates(f"lat {written}; lon {zero}").positions[0].latitude_deg
        return read_coordinates(f"lat {zero}; lon {written}").positions[0].longitude_deg
    except ApiaryError:
        letter = axis[1] if axis == "NS" else "E"
        raise NotUnderstood(
            f"degrees are needed, such as -28.81 or 28.81 {letter} or 28° 48′ 36″ {letter}; minutes and seconds are "
            "below 60"
        ) from None


def are_turned(latitude: Cell, longitude: Cell) -> bool:
    """Whether letters say that two cells stand in each other's column."""
    return _is(longitude, "NS") and _is(latitude, "EW") and not (_is(latitude, "NS") or _is(longitude, "EW"))


def _is(value: Cell, axis: Axis) -> bool:
    try:
        angle(value, axis)
    except NotUnderstood:
        return False
    return True


def coordinates(value: Cell, longitude_first: bool = False) -> tuple[float, float]:
    """Latitude and longitude of one cell. Letters say which is which; where there are none, latitude stands first,
    or where the header says so longitude. What can be meant in two ways is asked."""
    try:
        reading = _read(text(value), longitude_first)
    except ApiaryError as error:
        raise NotUnderstood(str(error).removeprefix("text cannot be read: ")) from None
    if reading.question is not None:
        places = " or ".join(f"{one.latitude_deg:g}, {one.longitude_deg:g}" for one in reading.positions)
        raise NotUnderstood(f"{reading.question.text} {places}; write the letters too, such as 28.81 S, 153.28 E")
    (place,) = reading.positions
    return place.latitude_deg, place.longitude_deg


def _read(written: str, longitude_first: bool) -> CoordinatesReading:
    if longitude_first:
        try:
            return read_coordinates(f"lon {written}")
        except ApiaryError as error:
            # Where letters or an address say which is which, they count.
            if error.code != "unreadable":
                raise
    return read_coordinates(written)
