"""How far places are from one another."""

from __future__ import annotations

import math

EARTH_KM = 6371.0088
"""Mean radius of the earth (IUGG), km."""


def apart_km(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Between latitudes and longitudes in degrees, along the great circle, by the haversine formula."""
    north, other_north = math.radians(one[0]), math.radians(other[0])
    across = math.radians(other[1] - one[1]) / 2
    half = math.sin((other_north - north) / 2) ** 2 + math.cos(north) * math.cos(other_north) * math.sin(across) ** 2
    return 2 * EARTH_KM * math.asin(min(1.0, math.sqrt(half)))
