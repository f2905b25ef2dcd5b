"""Every public function with a value that nobody should give: an answer, an ApiaryError, or a TypeError
for what is no JSON and no site; never anything else."""

from __future__ import annotations

import dataclasses
import datetime as dt
import inspect
import re
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import apiary_almanac as almanac

CODES = almanac.about().error_codes
DAY = dt.date(2026, 10, 4)
STAMP = dt.datetime(2026, 9, 13, 8, tzinfo=dt.timezone.utc)
SITE = almanac.Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
WAIT = almanac.Wait(unit="flying_days", earliest=2, likely=2, latest=2, source="invented")
COLONY = almanac.Colony(name="Hive 7")
PLAN = almanac.plan(SITE, DAY, "split", COLONY)

# A call of each that is answered; the tables have tests of their own in test_arrays.py.
CALLS: dict[str, dict[str, Any]] = {
    "about": {},
    "ask": {"request": {"ask": "site", "site": SITE}},
    "bee": {"bee": "generic_small"},
    "calendar": {
        "plans": [PLAN],
        "stamp": STAMP,
        "sequence": 0,
        "name": "Club",
        "before": almanac.calendar([PLAN], STAMP).ics,
        "per": "hive",
    },
    "civil_day": {"site": SITE, "date": DAY},
    "clock": {"site": SITE, "wait": WAIT, "after": DAY, "bee": "generic_small", "climate": None},
    "default_climate": {"site": SITE, "warming": None},
    "flight": {"site": SITE, "first": DAY, "last": DAY, "bee": None, "climate": None, "limits": None},
    "methods": {},
    "mornings": {
        "site": SITE,
        "first": DAY,
        "days": 2,
        "bee": None,
        "climate": None,
        "free_weekdays": ["sunday"],
        "settings": None,
    },
    "outlook": {
        "site": SITE,
        "today": DAY,
        "bee": None,
        "climate": None,
        "season": None,
        "mornings": 1,
        "free_weekdays": [],
        "settings": None,
        "hive_weight_kg": 9.5,
    },
    "parameters": {},
    "parting": {
        "site": SITE,
        "set_before": DAY,
        "bee": None,
        "climate": None,
        "settings": None,
        "mornings": None,
        "hive_weight_kg": None,
    },
    "last_safe": {
        "site": SITE,
        "today": DAY,
        "method": "split",
        "bee": None,
        "climate": None,
        "settings": None,
        "season": None,
    },
    "plan": {
        "site": SITE,
        "today": DAY,
        "method": "split",
        "colony": COLONY,
        "bee": None,
        "climate": None,
        "wanted": None,
        "settings": None,
        "season": None,
        "mornings": None,
        "free_weekdays": [],
        "keeper": "Ines Marrow",
        "club": "Quoll Creek Little Bee Circle",
        "id": "hive-7",
        "records": [],
        "fixed": [],
        "announced": [],
    },
    "place": {"site": SITE},
    "plan_csv": {"plans": [PLAN]},
    "plan_picture": {"plan": PLAN},
    "poster": {"plans": [PLAN], "dates": None, "title": None},
    "read_forecast": {
        "site": SITE,
        "today": DAY,
        "text": "Mon 24-32 5mm",
        "file": None,
        "answers": None,
    },
    "relocation": {
        "site": SITE,
        "first": DAY,
        "distance_m": 3.0,
        "bee": None,
        "climate": None,
        "way": None,
        "total_turn_deg": 90.0,
        "settings": None,
        "mornings": None,
        "hive_weight_kg": None,
    },
    "season": {
        "site": SITE,
        "first": DAY,
        "last": DAY,
        "bee": None,
        "climate": None,
        "settings": None,
    },
    "sentences": {"language": "en"},
    "sun": {"site": SITE, "first": DAY, "last": DAY, "altitude_deg": -50.0},
    "warm_season_map": {
        "latitudes_deg": [1.0],
        "longitudes_deg": [103.0],
        "threshold_c": 18.0,
        "warming": None,
    },
    "year_picture": {
        "site": SITE,
        "today": DAY,
        "first": None,
        "last_safe": None,
        "title": None,
        "bee": None,
        "climate": None,
        "season": None,
    },
}
CALLS["review"] = CALLS["plan"]
CALLS["agenda"] = {"plans": [{**CALLS["plan"], "settings": None}], "brief": True}
CALLS["agenda"]["limits"] = almanac.KeeperLimitOverrides(people=2.0)
CALLS["plans_together"] = {
    "plans": CALLS["agenda"]["plans"],
    "limits": almanac.KeeperLimitOverrides(between_starts_d=10.0),
}
CALLS["mornings_calendar"] = {
    "site": SITE,
    "mornings": almanac.mornings(SITE, DAY, 2),
    "stamp": STAMP,
    "place": "Garden",
    "box_name": "Saltbush",
    "sequence": 0,
    "name": None,
    "before": None,
}
CALLS["read_coordinates"] = {"text": "28.81 S, 153.28 E"}
CALLS["read_normals"] = {"text": "min" + " 12" * 12 + "\nmax" + " 24" * 12, "file": "copied"}
CALLS["towns"] = {"name": "Gympie", "list": None}
CALLS["towns_near"] = {"latitude_deg": -28.81, "longitude_deg": 153.28, "list": None}
CALLS["year_calendar"] = {
    "places": [almanac.DatedPlace(name="Singapore", site=SITE)],
    "first": DAY,
    "stamp": STAMP,
    "last": DAY,
    "sequence": 3,
    "before": None,
    "name": "Districts",
}
CALLS["why_not"] = {**CALLS["plan"], "task": "egg-check", "date": DAY}

odd_numbers = st.floats() | st.integers() | st.sampled_from([1e308, -0.0, 2**64])
odd_texts = st.text() | st.sampled_from(["UTC", "+10:00", "2100-12-31", "split", "sunday", "\x00"])
odd_dates = st.dates() | st.datetimes() | st.datetimes(timezones=st.timezones())
odd_waits = st.builds(
    almanac.Wait,
    unit=odd_texts,
    earliest=odd_numbers,
    likely=odd_numbers,
    latest=odd_numbers,
    source=odd_texts,
)
no_json = st.binary() | st.complex_numbers() | st.builds(object)
one = st.one_of(st.none(), st.booleans(), odd_numbers, odd_texts, odd_dates, odd_waits)
with_json = one | st.lists(one, max_size=4) | st.dictionaries(st.text(), one, max_size=3)


def test_every_function_is_called_here() -> None:
    here = {
        name
        for name in almanac.__all__
        if inspect.isfunction(getattr(almanac, name))
        and getattr(almanac, name).__module__ in ("apiary_almanac", "apiary_almanac._convert")
    }
    assert here == set(CALLS)


@pytest.mark.parametrize("name", sorted(CALLS))
def test_the_call_is_answered(name: str) -> None:
    function: Callable[..., Any] = getattr(almanac, name)
    assert function(**CALLS[name]) is not None
    asked = set(inspect.signature(function).parameters) - set(CALLS[name])
    if "fields" in asked:
        asked = asked - {"fields"} | set(almanac.PlanFields.__annotations__) - set(CALLS[name])
    assert asked <= {"instant"}, f"{asked} are not tried below"


@pytest.mark.parametrize("name", sorted(name for name, given_ in CALLS.items() if given_))
@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.data())
def test_one_odd_argument(name: str, data: st.DataObject) -> None:
    call = dict(CALLS[name])
    at = data.draw(st.sampled_from(sorted(call)))
    value = data.draw(with_json | no_json)
    field = None
    if dataclasses.is_dataclass(call[at]) and data.draw(st.booleans()):
        field = data.draw(st.sampled_from([f.name for f in dataclasses.fields(call[at])]))
    try:
        call[at] = dataclasses.replace(call[at], **{field: value}) if field else value
        assert getattr(almanac, name)(**call) is not None
    except almanac.ApiaryError as error:
        assert error.code in CODES
        assert error.field and str(error)
    except TypeError as error:
        # What is no JSON, no site and no mapping; the argument is named.
        told = ("cannot be given", "allowed is a Site", "allowed is a mapping", "allowed are texts")
        assert any(words in str(error) for words in told), error
        named = (at, f"plan.{at}", "request", *([field] if field else []))
        assert str(error).startswith(named), error


PUBLIC = [
    name
    for name in (*almanac.__all__, "dataset", "flight_table", "morning_table", "season_table", "sun_table")
    if inspect.isfunction(getattr(almanac, name)) and name != "ask"
]


@pytest.mark.parametrize("name", PUBLIC)
def test_help_is_whole(name: str) -> None:
    """Each argument, what comes back, what is refused, and an example, which test_door.py runs."""
    function = getattr(almanac, name)
    told = inspect.getdoc(function) or ""
    parameters = list(inspect.signature(function).parameters.values())
    listed = told.partition("Args:")[2].partition("\n\n")[0]
    for one in parameters:
        stars = "**" if one.kind is one.VAR_KEYWORD else ""
        assert f"\n    {stars}{one.name}:" in listed, one.name
    assert ">>> " in told
    assert "Returns:" in told
    if parameters:
        assert "Raises:" in told
        raised = told.partition("Raises:")[2].partition("\n\n")[0]
        codes = {word for word in re.findall(r"``(\w+)``", raised) if "_" in word or word == "inconsistent"}
        assert codes - set(inspect.signature(function).parameters) <= set(CODES), codes
