"""Reads the vector files strictly and compares answers with them; see tests/vectors/README.md."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

PROJECT = Path(__file__).resolve().parents[2]
REQUESTS = {"request", "request_parts"}
EXPECTATIONS = {"expect", "expect_part", "expect_error"}


@dataclass(frozen=True)
class Tolerance:
    number: float
    instant_s: float


@dataclass(frozen=True)
class Vector:
    id: str
    row: dict[str, Any]
    tolerance: Tolerance

    @property
    def text(self) -> str:
        if "request" in self.row:
            return json.dumps(self.row["request"])
        return "".join(part["text"] * part["times"] for part in self.row["request_parts"])


def check_keys(
    where: str, table: Any, required: set[str], optional: frozenset[str] | set[str] = frozenset()
) -> None:
    if not isinstance(table, dict):
        raise ValueError(f"{where} is not an object")
    if missing := required - table.keys():
        raise ValueError(f"{where} has no {sorted(missing)}")
    if unknown := table.keys() - required - optional:
        raise ValueError(f"{where} has unknown fields {sorted(unknown)}")


def check_texts(where: str, table: dict[str, Any], keys: set[str]) -> None:
    for key in keys & table.keys():
        if not isinstance(table[key], str):
            raise ValueError(f"{where}.{key} is not a text")


def parse(name: str, text: str) -> list[Vector]:
    file = json.loads(text)
    check_keys(name, file, {"about", "rows"})
    about, rows = file["about"], file["rows"]
    check_keys(f"{name}.about", about, {"what", "source", "licence", "tolerance", "rows"})
    check_texts(f"{name}.about", about, {"what", "source", "licence"})
    check_keys(f"{name}.about.tolerance", about["tolerance"], {"number", "instant_s"})
    tolerance = Tolerance(**about["tolerance"])
    if not rows or len(rows) != about["rows"]:
        raise ValueError(f"{name} has {len(rows)} rows, but about says {about['rows']}")
    ids: set[str] = set()
    for row in rows:
        check_keys(f"{name} row", row, {"id"}, {"note"} | REQUESTS | EXPECTATIONS)
        check_texts(f"{name} row", row, {"id", "note"})
        if not re.fullmatch("[a-z0-9]+(-[a-z0-9]+)*", row["id"]):
            raise ValueError(f"{row['id']} is not an id")
        if row["id"] in ids:
            raise ValueError(f"{row['id']} stands there twice")
        ids.add(row["id"])
        for group in (REQUESTS, EXPECTATIONS):
            if len(group & row.keys()) != 1:
                raise ValueError(f"{row['id']} needs one of {sorted(group)}")
        for part in row.get("request_parts", []):
            check_keys(row["id"], part, {"text", "times"})
        if "expect_error" in row:
            check_keys(row["id"], row["expect_error"], {"code", "field"})
            check_texts(row["id"], row["expect_error"], {"code", "field"})
    return [Vector(f"{name}/{row['id']}", row, tolerance) for row in rows]


def load() -> Iterator[Vector]:
    for path in sorted((PROJECT / "tests" / "vectors").glob("*.json")):
        yield from parse(path.stem, path.read_text(encoding="utf-8"))


INSTANT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(?P<offset>Z|[+-]\d\d:\d\d)")


def difference(
    path: str, wanted: Any, given: Any, tolerance: Tolerance, whole: bool
) -> str | None:
    """The first difference between an answer and what is wanted."""
    differs = f"{path} is {given!r}, not {wanted!r}"
    if is_number(wanted) and is_number(given):
        return None if abs(wanted - given) <= tolerance.number else differs
    if type(wanted) is not type(given):
        return differs
    if isinstance(wanted, dict):
        for key, item in wanted.items():
            if key not in given:
                return f"{path}.{key} is missing"
            if found := difference(f"{path}.{key}", item, given[key], tolerance, whole):
                return found
        extra = given.keys() - wanted.keys() if whole else set()
        return f"{path} has {sorted(extra)}, which is not expected" if extra else None
    if isinstance(wanted, list):
        if len(wanted) != len(given):
            return differs
        for i, (item, other) in enumerate(zip(wanted, given, strict=True)):
            if found := difference(f"{path}[{i}]", item, other, tolerance, whole):
                return found
        return None
    if isinstance(wanted, str) and wanted != given and tolerance.instant_s > 0:
        a, b = INSTANT.fullmatch(wanted), INSTANT.fullmatch(given)
        if a and b and a["offset"].replace("Z", "+00:00") == b["offset"].replace("Z", "+00:00"):
            apart = dt.datetime.fromisoformat(wanted) - dt.datetime.fromisoformat(given)
            return None if abs(apart.total_seconds()) <= tolerance.instant_s else differs
    return None if wanted == given else differs


def is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
