from __future__ import annotations

import pytest

import apiary_almanac as almanac


@pytest.fixture
def club() -> almanac.Site:
    return almanac.Site(
        latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney"
    )
