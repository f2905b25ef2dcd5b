"""Civil days against CPython's zoneinfo, which shares no code with the engine."""

from __future__ import annotations

import datetime as dt
import zoneinfo

import pytest

import apiary_almanac as almanac

# Zones whose rules of these years have not been revised for long, each with a longitude in it.
ZONES = {
    "Australia/Sydney": 151.2,
    "Australia/Lord_Howe": 159.1,
    "Australia/Brisbane": 153.0,
    "America/Sao_Paulo": -46.6,
    "America/Bogota": -74.1,
    "Pacific/Apia": -171.8,
    "Pacific/Kiritimati": -157.4,
    "Asia/Kolkata": 88.4,
    "Asia/Kathmandu": 85.3,
    "Africa/Accra": -0.2,
}
YEARS = range(2008, 2020)


@pytest.mark.parametrize("name", ZONES)
def test_every_day_of_twelve_years(name: str) -> None:
    zone = zoneinfo.ZoneInfo(name)
    site = almanac.Site(latitude_deg=0, longitude_deg=ZONES[name], elevation_m=0, zone=name)
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
