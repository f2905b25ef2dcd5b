"""The named functions: the same answers as the JSON door, in Python's types."""

from __future__ import annotations

import dataclasses
import datetime as dt
import doctest
import json
import pickle
import re
import threading
import time
import zoneinfo
from collections.abc import Callable
from typing import Any

import pytest
from vectors import PROJECT, load

import apiary_almanac as almanac
from apiary_almanac import _arrays, _core, _own_air, _tables
from apiary_almanac._convert import from_json, to_json

BRISBANE = zoneinfo.ZoneInfo("Australia/Brisbane")


def call(request: dict[str, Any]) -> Any:
    """Put a request of the JSON door through its named function."""
    name = request["ask"]
    fields = {key: value for key, value in request.items() if key != "ask"}
    if name == "why_not":
        fields |= fields.pop("plan")
    if "site" in fields:
        fields["site"] = almanac.Site(**fields["site"])
        if name == "site":
            return fields["site"]
    for key in ("date", "first", "last", "today", "wanted", "last_safe"):
        if key in fields:
            fields[key] = dt.date.fromisoformat(fields[key])
    for key in ("instant", "stamp"):
        if key in fields:
            fields[key] = dt.datetime.fromisoformat(fields[key])
    return getattr(almanac, name)(**fields)


def plain(value: Any) -> Any:
    """JSON values without nulls and empty lists, fields that are not there, and Z for +00:00."""
    if isinstance(value, dict):
        kept = {key: plain(item) for key, item in value.items() if item is not None}
        # The engine leaves out some lists that are empty, and says of an entrance only that it is still shut, or that
        # it stays open over night; Python's types have all fields.
        left_out = [("still_shut", False), ("open_overnight", False)]
        return {key: item for key, item in kept.items() if item != [] and (key, item) not in left_out}
    if isinstance(value, list):
        return [plain(item) for item in value]
    if isinstance(value, str) and re.fullmatch(r"\d{4}-\d\d-\d\dT.*", value):
        return dt.datetime.fromisoformat(value)
    return value


def test_every_request_has_a_name() -> None:
    names = set(almanac.about().requests)
    assert names - {"site"} <= set(almanac.__all__)


# The engine leaves these out of an answer where they say nothing; Python's site has them.
ALWAYS_IN_A_SITE = {
    "east_horizon_deg": 0.0,
    "west_horizon_deg": 0.0,
    "elevation_from_land": False,
    "longitude_from_360": False,
}


def with_whole_sites(answer: Any) -> Any:
    """An answer whose sites have the fields that Python's always have."""
    if isinstance(answer, list):
        return [with_whole_sites(one) for one in answer]
    if not isinstance(answer, dict):
        return answer
    whole = {name: with_whole_sites(value) for name, value in answer.items()}
    if "site" in whole:
        whole["site"] = {**ALWAYS_IN_A_SITE, **whole["site"]}
    return whole


def test_named_functions_answer_the_vectors_as_the_json_door_does() -> None:
    answered = 0
    for vector in load():
        if "expect_error" in vector.row or "request" not in vector.row:
            continue
        request = vector.row["request"]
        given = plain(json.loads(json.dumps(to_json(call(request)))))
        wanted = plain(json.loads(_core.ask(json.dumps(request))))
        wanted = {**ALWAYS_IN_A_SITE, **wanted} if request["ask"] == "site" else with_whole_sites(wanted)
        if request["ask"] == "methods":
            for method in wanted:
                method["readiness"].setdefault("net_weight_by_bee", False)
        assert given == wanted, vector.id
        answered += 1
    assert answered > 20


REQUESTS: dict[str, dict[str, Any]] = {
    "sun": {"first": "2026-06-20", "last": "2026-06-22", "altitude_deg": 3.0},
    "flight": {"first": "2026-06-20", "last": "2026-06-22", "bee": "generic_large"},
    "default_climate": {"warming": {"minimum_c": 0.0, "maximum_c": 0.5}},
    "season": {"first": "2026-01-01", "last": "2026-12-31"},
    "mornings": {"first": "2026-06-20", "days": 4, "free_weekdays": ["sunday"]},
    "clock": {
        "wait": {"unit": "flying_days", "earliest": 2, "likely": 3, "latest": 4, "source": "s"},
        "after": {"earliest": "2026-06-20", "best": "2026-06-20", "latest": "2026-06-22"},
    },
    "plan": {"today": "2026-06-20", "method": "split", "colony": {"name": "Hive 7"}},
    "review": {"today": "2026-06-20", "method": "transfer", "colony": {"name": "Hive 7"}},
    "parting": {"set_before": "2026-06-20", "settings": {"apart_m": 1.5}},
    "relocation": {"first": "2026-06-20", "distance_m": 2.0, "total_turn_deg": 20.0},
    "outlook": {"today": "2026-06-20", "hive_weight_kg": 9.5},
}
PLACES = [
    (-28.81, 153.28, 12.0, "Australia/Sydney"),
    (1.35, 103.8, 15.0, "Asia/Singapore"),
    (69.65, 18.96, 10.0, "Europe/Oslo"),
    (-77.85, 166.67, 10.0, "Antarctica/McMurdo"),
    (1.87, -157.43, 3.0, "Pacific/Kiritimati"),
]


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place[3])
@pytest.mark.parametrize("name", REQUESTS)
def test_every_answer_fits_its_type(name: str, place: tuple[float, float, float, str]) -> None:
    names = ("latitude_deg", "longitude_deg", "elevation_m", "zone")
    request = {"ask": name, "site": dict(zip(names, place, strict=True)), **REQUESTS[name]}
    given = plain(json.loads(json.dumps(to_json(call(request)))))
    wanted = plain(json.loads(_core.ask(json.dumps(request))))
    wanted = with_whole_sites(wanted)
    assert given == wanted


def test_dates_and_moments(club: almanac.Site) -> None:
    day = almanac.civil_day(club, instant=dt.datetime(2026, 10, 4, 9, tzinfo=BRISBANE))
    assert type(day.date) is dt.date and day.date == dt.date(2026, 10, 4)
    assert day.start.tzinfo == zoneinfo.ZoneInfo("Australia/Sydney")
    assert day.start.utcoffset() == dt.timedelta(hours=10)
    assert day.day_length_h == 23.0
    utc = dt.datetime(2026, 10, 3, 13, 59, 59, 999999, tzinfo=dt.timezone.utc)
    assert almanac.civil_day(club, instant=utc).date == dt.date(2026, 10, 3)


def test_a_naive_datetime_is_refused(club: almanac.Site) -> None:
    with pytest.raises(almanac.ApiaryError, match="offset from UTC") as caught:
        almanac.civil_day(club, instant=dt.datetime(2026, 10, 4, 9))
    assert (caught.value.code, caught.value.field) == ("out_of_range", "instant")


def test_a_datetime_is_no_date(club: almanac.Site) -> None:
    with pytest.raises(almanac.ApiaryError, match="YYYY-MM-DD"):
        almanac.civil_day(club, date=dt.datetime(2026, 10, 4, tzinfo=BRISBANE))


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_json_cannot_hold_is_refused_by_name(value: float) -> None:
    with pytest.raises(almanac.ApiaryError) as caught:
        almanac.Site(latitude_deg=value, longitude_deg=0, elevation_m=0, zone="UTC")
    assert (caught.value.code, caught.value.field) == ("unreadable", "site.latitude_deg")
    assert str(value) in str(caught.value)


def test_a_zone_this_machine_does_not_know(monkeypatch: pytest.MonkeyPatch) -> None:
    def unknown(zone: str) -> None:
        raise zoneinfo.ZoneInfoNotFoundError(zone)

    monkeypatch.setattr(zoneinfo, "ZoneInfo", unknown)
    instant = from_json(dt.datetime, "2026-11-26T04:50:17.250+10:00", "Australia/Brisbane")
    assert instant.isoformat() == "2026-11-26T04:50:17.250000+10:00"


def test_answers_that_do_not_fit_are_noticed() -> None:
    with pytest.raises(TypeError, match="CivilDay"):
        from_json(almanac.CivilDay, {"date": "2026-10-04", "more": 1}, "UTC")
    with pytest.raises(TypeError, match="sideways"):
        from_json(almanac.Crossing, {"kind": "sideways"}, "UTC")


def test_the_error() -> None:
    with pytest.raises(ValueError, match="-90 to 90") as caught:
        almanac.Site(latitude_deg=91, longitude_deg=0, elevation_m=0, zone="UTC")
    error = pickle.loads(pickle.dumps(caught.value))
    assert isinstance(error, almanac.ApiaryError)
    assert (error.code, error.field, str(error)) == (
        "out_of_range",
        "latitude_deg",
        str(caught.value),
    )


def test_answers_are_frozen(club: almanac.Site) -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        club.zone = "UTC"  # type: ignore[misc]


def test_threads_run_while_the_engine_computes(club: almanac.Site) -> None:
    """One long call must not stop the other thread from counting."""
    site = json.dumps(to_json(club))
    request = f'{{"ask":"sun","first":"1900-01-01","last":"2100-12-31","site":{site}}}'
    counted, done = 0, threading.Event()

    def compute() -> None:
        _core.ask(request)
        done.set()

    thread = threading.Thread(target=compute)
    thread.start()
    while not done.is_set():
        counted += 1
        time.sleep(0)
    thread.join()
    assert counted > 10


def run_examples(examples: Callable[[doctest.DocTestRunner], None]) -> None:
    runner = doctest.DocTestRunner()
    examples(runner)
    assert runner.summarize().failed == 0


def test_examples_in_docstrings() -> None:
    def examples(runner: doctest.DocTestRunner) -> None:
        found = [
            test
            for module in (almanac, almanac._types, _arrays, _own_air, _tables)
            for test in doctest.DocTestFinder().find(module, extraglobs=vars(almanac).copy())
        ]
        assert sum(bool(test.examples) for test in found) >= 8
        for test in found:
            runner.run(test)

    run_examples(examples)


def test_examples_in_the_readme() -> None:
    for path in (PROJECT / "py" / "README.md", PROJECT / "docs" / "python.md"):
        blocks = re.findall(r"```python\n(.*?)```", path.read_text(encoding="utf-8"), re.DOTALL)
        assert blocks
        names: dict[str, Any] = {}
        for block in blocks:
            exec(compile(block, path.name, "exec"), names)
