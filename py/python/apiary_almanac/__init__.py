"""Sun, light, temperature, flight times and working windows for keepers of stingless bees.

Every function hands its arguments to the engine and gives back its answer in Python's types: dates
as :class:`datetime.date`, moments as time-zone-aware :class:`datetime.datetime`. What the engine
does not accept raises :class:`ApiaryError`, a :class:`ValueError` with ``code`` and ``field``.
"""

from __future__ import annotations

import datetime as dt
from typing import Any, TypeVar, overload

from apiary_almanac._convert import ask, from_json
from apiary_almanac._error import ApiaryError
from apiary_almanac._types import About, CivilDay, Site

__all__ = ["About", "ApiaryError", "CivilDay", "Site", "about", "ask", "civil_day"]

T = TypeVar("T")


def about() -> About:
    """Name and version of the engine, its requests and its error codes."""
    return _answer(About, {"ask": "about"}, "UTC")


@overload
def civil_day(site: Site, *, date: dt.date) -> CivilDay: ...
@overload
def civil_day(site: Site, *, instant: dt.datetime) -> CivilDay: ...
def civil_day(
    site: Site, *, date: dt.date | None = None, instant: dt.datetime | None = None
) -> CivilDay:
    """A civil day at a site, by its date or as the one that an instant belongs to.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    >>> civil_day(club, date=dt.date(2026, 10, 4)).day_length_h
    23.0
    """
    return _answer(CivilDay, _request("civil_day", site, date=date, instant=instant), site.zone)


def _request(name: str, site: Site, **fields: Any) -> dict[str, Any]:
    given = {key: value for key, value in fields.items() if value is not None}
    return {"ask": name, "site": site, **given}


def _answer(kind: type[T], request: dict[str, Any], zone: str) -> T:
    answer: T = from_json(kind, ask(request), zone)
    return answer
