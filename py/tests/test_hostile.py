"""Requests that nobody should send: every one ends in an answer or an ApiaryError."""

from __future__ import annotations

import datetime as dt
import json
import zoneinfo
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from vectors import load

import apiary_almanac as almanac
from apiary_almanac import _core

CODES = almanac.about().error_codes
TEXTS = [vector.text for vector in load() if len(vector.text) < 2000]
REQUESTS = [vector.row["request"] for vector in load() if "request" in vector.row]

settings.register_profile("almanac", max_examples=500, deadline=None, derandomize=True)
settings.load_profile("almanac")

json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text()
    | st.sampled_from(["UTC", "Australia/Sydney", "2026-10-04", "2100-12-31", 1e308]),
    lambda inner: st.lists(inner, max_size=5)
    | st.dictionaries(st.text() | st.sampled_from(["ask", "site", "date"]), inner, max_size=5),
    max_leaves=20,
)


def survives(text: str) -> None:
    try:
        json.loads(_core.ask(text))
    except almanac.ApiaryError as error:
        assert error.code in CODES
        assert error.field and str(error)


@given(st.text())
def test_any_text(text: str) -> None:
    survives(text)


@given(json_values)
def test_any_value(value: Any) -> None:
    survives(json.dumps(value))


@given(st.sampled_from(TEXTS), st.integers(0), st.integers(0, 4), st.text(max_size=4))
def test_a_damaged_text(text: str, at: int, cut: int, new: str) -> None:
    at %= len(text) + 1
    survives(text[:at] + new + text[at + cut :])


@given(st.sampled_from(REQUESTS), st.data())
def test_one_wrong_value(request: dict[str, Any], data: st.DataObject) -> None:
    copy = json.loads(json.dumps(request))
    place = copy
    while True:
        key = data.draw(st.sampled_from(sorted(place)))
        if isinstance(place[key], dict) and place[key] and data.draw(st.booleans()):
            place = place[key]
            continue
        place[key] = data.draw(json_values)
        break
    survives(json.dumps(copy))


def noon_off_deg(longitude_deg: float, zone: str) -> float:
    """How far the meridian of a zone's standard time lies from a longitude, by CPython's zoneinfo."""
    here = zoneinfo.ZoneInfo(zone)
    ends = [dt.datetime(2026, month, 1, 12, tzinfo=here) for month in (1, 7)]
    standard = next(moment for moment in ends if not moment.dst())
    meridian_deg = (standard.utcoffset() or dt.timedelta()) / dt.timedelta(hours=1) * 15
    between = abs(meridian_deg - longitude_deg) % 360
    return min(between, 360 - between)


# A place is refused where the clocks show mean solar noon more than 3.4 h from 12:00.
FARTHEST_NOON_DEG = 3.4 * 15


@given(
    st.floats() | st.floats(-90, 90),
    st.floats() | st.floats(-180, 360),
    st.floats() | st.floats(-500, 9000),
    st.text() | st.sampled_from(["UTC", "Asia/Manila", "America/Sao_Paulo", "Pacific/Apia"]),
)
def test_any_site(latitude: float, longitude: float, elevation: float, zone: str) -> None:
    try:
        site = almanac.Site(
            latitude_deg=latitude, longitude_deg=longitude, elevation_m=elevation, zone=zone
        )
    except almanac.ApiaryError as error:
        assert error.code in {"out_of_range", "unknown_zone", "unreadable", "inconsistent"}
        if error.code == "inconsistent":
            assert zone != "UTC" and noon_off_deg(longitude, zone) > FARTHEST_NOON_DEG
    else:
        assert zone == "UTC" or noon_off_deg(longitude, zone) <= FARTHEST_NOON_DEG
        assert almanac.about().error_codes and site.zone == zone


@given(st.dates(), st.integers(-400, 400), st.sampled_from([-90.0, -66.6, 0.0, 66.6, 90.0]))
@settings(max_examples=150)
def test_any_dates(first: dt.date, span: int, latitude: float) -> None:
    site = almanac.Site(
        latitude_deg=latitude, longitude_deg=179.9, elevation_m=0, zone="Pacific/Apia"
    )
    try:
        last = first + dt.timedelta(days=span)
    except OverflowError:
        return
    try:
        days = almanac.sun(site, first, last)
        assert days[0].date >= first and days[-1].date <= last
        almanac.flight(site, first, last)
        almanac.season(site, first, last)
        almanac.outlook(site, first)
    except almanac.ApiaryError as error:
        assert error.code in CODES


@given(st.datetimes(timezones=st.timezones()))
def test_any_moment(instant: dt.datetime) -> None:
    site = almanac.Site(latitude_deg=0, longitude_deg=180, elevation_m=0, zone="Pacific/Tarawa")
    try:
        day = almanac.civil_day(site, instant=instant)
    except almanac.ApiaryError as error:
        assert error.code == "out_of_range"
    else:
        assert day.start <= instant < day.start + dt.timedelta(hours=day.day_length_h)


@pytest.mark.parametrize("value", [object(), b"bytes", {1, 2}, 10**5000], ids=type)
def test_what_has_no_json_is_pythons_own_error(value: object) -> None:
    with pytest.raises((TypeError, ValueError)):
        almanac.ask({"ask": "site", "site": value})


def test_half_a_surrogate_pair() -> None:
    with pytest.raises(almanac.ApiaryError, match="surrogate"):
        almanac.ask({"ask": "bee", "bee": "\ud800"})
