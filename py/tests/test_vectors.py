"""Every vector through the Python door."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from vectors import PROJECT, Tolerance, Vector, difference, load, parse

import apiary_almanac as almanac
from apiary_almanac import _core

CODES = almanac.about().error_codes


@pytest.fixture(scope="module")
def ran() -> Iterator[list[str]]:
    ids: list[str] = []
    yield ids
    folder = PROJECT / "target" / "vectors-run"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "python.txt").write_text("".join(f"{name}\n" for name in ids))


@pytest.mark.parametrize("vector", list(load()), ids=lambda vector: vector.id)
def test_vector(vector: Vector, ran: list[str]) -> None:
    ran.append(vector.id)
    row = vector.row
    if "expect_error" in row:
        with pytest.raises(almanac.ApiaryError) as caught:
            _core.ask(vector.text)
        error = caught.value
        assert {"code": error.code, "field": error.field} == row["expect_error"]
        assert error.code in CODES
        assert len(str(error)) > 10
        return
    answer = json.loads(_core.ask(vector.text))
    whole = "expect" in row
    wanted = row["expect"] if whole else row["expect_part"]
    assert difference("answer", wanted, answer, vector.tolerance, whole) is None


GOOD: dict[str, Any] = {
    "about": {
        "what": "w",
        "source": "s",
        "licence": "l",
        "tolerance": {"number": 0.5, "instant_s": 2},
        "rows": 1,
    },
    "rows": [{"id": "a-1", "request": {"ask": "about"}, "expect": {"n": 1}}],
}
ROW = GOOD["rows"][0]
ABOUT = GOOD["about"]


@pytest.mark.parametrize(
    ("file", "why"),
    [
        ({**GOOD, "extra": 1}, "unknown fields"),
        ({**GOOD, "about": {**ABOUT, "rows": 2}}, "about says 2"),
        ({**GOOD, "about": {**ABOUT, "title": "t"}}, "unknown fields"),
        ({**GOOD, "about": {**ABOUT, "tolerance": {"number": 1}}}, "has no"),
        ({**GOOD, "rows": [{**ROW, "id": "A 1"}]}, "not an id"),
        ({**GOOD, "rows": [{**ROW, "remark": "r"}]}, "unknown fields"),
        ({**GOOD, "rows": [{**ROW, "request_parts": []}]}, "one of"),
        ({**GOOD, "rows": [{**ROW, "expect_part": {}}]}, "one of"),
    ],
)
def test_the_reader_is_strict(file: dict[str, Any], why: str) -> None:
    assert len(parse("good", json.dumps(GOOD))) == 1
    with pytest.raises(ValueError, match=why):
        parse("bad", json.dumps(file))


def same(wanted: Any, given: Any, whole: bool = True) -> bool:
    return difference("answer", wanted, given, Tolerance(0.5, 2), whole) is None


@pytest.mark.parametrize(
    ("wanted", "given"),
    [
        ({"n": 1}, {"n": 1.6}),
        ({"n": 1}, {}),
        ({"n": 1}, {"n": 1, "m": 2}),
        ({"n": 1}, {"n": "1"}),
        ({"n": 1}, {"n": None}),
        ({"n": 1}, {"n": True}),
        ([1, 2], [1]),
        ("2026-01-01", "2026-01-02"),
        ("2026-01-01T00:00:00Z", "2026-01-01T00:00:03Z"),
        ("2026-01-01T00:00:00Z", "2026-01-01T01:00:00+01:00"),
    ],
)
def test_the_comparison_is_strict(wanted: Any, given: Any) -> None:
    assert not same(wanted, given)


def test_the_comparison_keeps_to_the_tolerance() -> None:
    assert same({"n": 1, "l": [1]}, {"n": 1.5, "l": [1.0]})
    assert same("2026-01-01T00:00:00Z", "2025-12-31T23:59:58.500Z")
    assert same("2026-01-01T00:00:00Z", "2026-01-01T00:00:01+00:00")
    assert same({"n": 1}, {"n": 1, "m": 2}, whole=False)
