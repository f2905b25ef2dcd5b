"""What goes in and comes out, as frozen dataclasses. Units stand in the names."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from apiary_almanac._convert import ask


@dataclass(frozen=True, kw_only=True)
class Site:
    """A place where hives stand; checked when it is made.

    >>> Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney").zone
    'Australia/Sydney'
    """

    latitude_deg: float
    """Degrees north, -90 to 90 (south is negative)."""
    longitude_deg: float
    """Degrees east, -180 to 180 (west is negative)."""
    elevation_m: float
    """Metres above sea level, -500 to 9000."""
    zone: str
    """IANA time zone of the people who work there."""
    east_horizon_deg: float = 0.0
    """How high hills or trees stand where the sun comes up, -5 to 45 degrees above level."""
    west_horizon_deg: float = 0.0
    """The same where it goes down."""

    def __post_init__(self) -> None:
        ask({"ask": "site", "site": self})


@dataclass(frozen=True, kw_only=True)
class About:
    """What is behind the door."""

    name: str
    version: str
    error_codes: tuple[str, ...]
    """Every code that an :class:`ApiaryError` can have."""
    requests: tuple[str, ...]
    """Every name that a request's ``ask`` can take."""
    first_date: dt.date
    """The range of dates in which the engine answers."""
    last_date: dt.date


@dataclass(frozen=True, kw_only=True)
class CivilDay:
    """A civil day of a zone."""

    date: dt.date
    start: dt.datetime
    """Its first moment."""
    day_length_h: float
    """Hours until the next day starts: 24 but on days when clocks are changed."""
