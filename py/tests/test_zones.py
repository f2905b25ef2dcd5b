"""Civil days against CPython's zoneinfo, which shares no code with the engine."""

from __future__ import annotations

import datetime as dt
import zoneinfo

import pytest

import apiary_almanac as almanac

# Zones whose rules of these years have not been revised for long.
ZONES = [
    "Australia/Sydney",
    "Australia/Lord_Howe",
    "Australia/Brisbane",
    "America/Sao_Paulo",
    "America/Bogota",
    "Pacific/Apia",
    "Pacific/Kiritimati",
    "Asia/Kolkata",
    "Asia/Kathmandu",
    "Africa/Accra",
]
YEARS = range(2008, 2020)


@pytest.mark.parametrize("name", ZONES)
def test_every_day_of_twelve_years(name: str) -> None:
    zone = zoneinfo.ZoneInfo(name)
    site = almanac.Site(latitude_deg=0, longitude_deg=0, elevation_m=0, zone=name)
    moment = dt.datetime(YEARS[0], 1, 1, tzinfo=zone).astimezone(dt.timezone.utc)
    step = dt.timedelta(minutes=30)
    starts: dict[dt.date, dt.datetime] = {}
    while (date := moment.astimezone(zone).date()).year in YEARS:
        starts.setdefault(date, moment)
        moment += step
    dates = sorted(starts)
    for date, following in zip(dates, dates[1:], strict=False):
        day = almanac.civil_day(site, date=date)
        assert day.start == starts[date], date
        assert day.day_length_h * 3600 == (starts[following] - starts[date]).total_seconds(), date
