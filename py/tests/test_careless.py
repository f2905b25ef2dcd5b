"""Values as they come out of numpy, pandas and zoneinfo: each is taken as the plain value it stands for, which is
what the same call with that value gives; what cannot be taken is refused by name."""

from __future__ import annotations

import datetime as dt
import decimal
import fractions
import zoneinfo
from typing import Any

import numpy as np
import pandas as pd
import pytest

import apiary_almanac

# Whatever people give it.
almanac: Any = apiary_almanac
DAY = dt.date(2026, 9, 14)
PLACE: dict[str, Any] = {
    "latitude_deg": -28.5,
    "longitude_deg": 153.25,
    "elevation_m": 12,
    "zone": "Australia/Sydney",
}
SITE = almanac.Site(**PLACE)


@pytest.mark.parametrize(
    "given",
    [
        {"latitude_deg": np.float64(-28.5), "elevation_m": np.int64(12)},
        {"latitude_deg": np.float32(-28.5), "elevation_m": np.uint8(12)},
        {"latitude_deg": np.array(-28.5), "elevation_m": np.array(12)},
        {"latitude_deg": pd.Series([-28.5]).iloc[0], "elevation_m": pd.Series([12]).iloc[0]},
        {"latitude_deg": decimal.Decimal("-28.5"), "elevation_m": fractions.Fraction(12)},
        {"zone": zoneinfo.ZoneInfo("Australia/Sydney")},
        {"zone": np.array(["Australia/Sydney"])[0]},
    ],
)
def test_places(given: dict[str, Any]) -> None:
    assert almanac.Site(**PLACE | given) == SITE


@pytest.mark.parametrize(
    "day",
    [
        pd.Timestamp("2026-09-14"),
        pd.Series(pd.to_datetime(["2026-09-14"])).iloc[0],
        np.datetime64("2026-09-14"),
        np.datetime64("2026-09-14T00:00:00.000000000"),
        dt.datetime(2026, 9, 14),
        "2026-09-14",
    ],
)
def test_dates(day: Any) -> None:
    assert almanac.season(SITE, day, day) == almanac.season(SITE, DAY, DAY)
    table = almanac.sun_table(-28.5, 153.25, day)
    assert table == almanac.sun_table(-28.5, 153.25, DAY)
    assert almanac.sun_table(-28.5, 153.25, [day, day]).rise.tolist() == [table.rise.item()] * 2


def test_counts_names_and_lists() -> None:
    usual = almanac.mornings(SITE, DAY, 3, bee="tetragonula_carbonaria", free_weekdays=["saturday", "sunday"])
    assert (
        almanac.mornings(
            SITE,
            DAY,
            np.int64(3),
            bee="Tetragonula carbonaria",
            free_weekdays=pd.Series(["saturday", "sunday"]),
        )
        == usual
    )
    assert almanac.mornings(SITE, DAY, 3, bee="Tetragonula carbonaria", free_weekdays={"sunday", "saturday"}) == usual
    assert almanac.relocation(SITE, DAY, np.float32(80)) == almanac.relocation(SITE, DAY, 80.0)
    moment = pd.Timestamp("2026-09-14T06:00", tz="Australia/Sydney")
    assert almanac.civil_day(SITE, instant=moment).date == DAY


def test_zones_of_tables() -> None:
    zone = zoneinfo.ZoneInfo("Australia/Sydney")
    by_name = almanac.morning_table(-28.5, 153.25, DAY, zone="Australia/Sydney")
    assert almanac.morning_table(-28.5, 153.25, DAY, zone=zone) == by_name
    both = almanac.morning_table([-28.5, 1.35], [153.25, 103.8], DAY, zone=[zone, "Asia/Singapore"])
    assert both.work_light[0] == by_name.work_light


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: almanac.season(SITE, object(), DAY), "first is <object"),
        (lambda: almanac.season(SITE, DAY, b"2026"), "last is b'2026'; a bytes cannot be given"),
        (lambda: almanac.mornings(SITE, DAY, 2, free_weekdays=["sunday", 1j]), "free_weekdays[1] is 1j"),
        (lambda: almanac.Site(**PLACE | {"zone": dt.timezone.utc}), "site.zone is datetime.timezone.utc"),
        (lambda: almanac.ask([1]), "request is [1]; allowed is a mapping"),
        (lambda: almanac.ask({"ask": "about", 5: 6}), "request has the key 5"),
    ],
)
def test_what_no_request_can_carry(call: Any, told: str) -> None:
    with pytest.raises(TypeError) as refused:
        call()
    assert told in str(refused.value)


@pytest.mark.parametrize(
    "day", [dt.datetime(2026, 9, 14, 6), pd.Timestamp("2026-09-14T06:00"), pd.NaT, np.datetime64("NaT"), "soon"]
)
def test_what_is_no_date(day: Any) -> None:
    """A moment is no date: which day it means depends on a zone."""
    with pytest.raises(almanac.ApiaryError) as refused:
        almanac.season(SITE, DAY, day)
    assert refused.value.field == "last"
    with pytest.raises(almanac.ApiaryError) as refused:
        almanac.sun_table(1, 2, day)
    assert refused.value.field == "dates"


@pytest.mark.parametrize("dates", ["2026", "2026-09", "today", [5], [DAY, 5], [DAY, None]])
def test_what_numpy_would_read_as_dates(dates: Any) -> None:
    with pytest.raises(almanac.ApiaryError, match="dates"):
        almanac.sun_table(1, 2, dates)
