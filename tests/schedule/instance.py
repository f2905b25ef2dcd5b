"""A scheduling problem of `schedule_instances` as it was written: tables, rules and our answer."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

LEVELS = 8
NO_DATE, BROKEN = 0, 1


class Pair(NamedTuple):
    """Two tasks; a rule is broken where the day of `other` less that of `one` is `nearest` to `furthest`."""

    one: int
    other: int
    nearest: int
    furthest: int
    level: int


class Table:
    """One task: when it can be done by the latest day of those before it, and what a day costs."""

    def __init__(self, problem: dict[str, Any], number: int) -> None:
        task = problem["tasks"][number]
        self.before = list(zip(task["after"], task["offsets"], strict=True))
        self.earliest, self.likely, _, self.last = zip(*task["spans"], strict=True)
        for days in (self.earliest, self.likely, self.last):
            if any(one > other for one, other in zip(days, days[1:], strict=False)):
                raise ValueError(f"task {number}: a later key gives an earlier day")
        self.done, self.fixed, self.announced = task["done"], task["fixed"], task["announced"]
        self.set_day = self.fixed if self.done is None else self.done
        self.fitness = problem["fitness"][task["kind"]]
        self.busy = problem["busy"]
        self.levels = problem["levels"]

    def key(self, latest: int) -> int:
        """What lies before the first key or after the last counts as these."""
        return min(max(latest, 0), len(self.earliest) - 1)

    def key_on(self, days: list[int]) -> int:
        return self.key(max((days[before] + offset for before, offset in self.before), default=0))

    def by_day(self, day: int) -> dict[int, int]:
        """What a day costs, whatever the key."""
        if self.done is not None:
            return {}
        moved = 0 if self.announced is None else abs(self.announced - day)
        cost = {self.levels["moved"]: moved}
        if self.fitness[day] is not None:
            cost |= {self.levels["unfit"]: self.fitness[day], self.levels["busy"]: self.busy[day]}
        elif self.fixed is not None:
            cost[BROKEN] = 1
        return cost

    def by_key(self, key: int, day: int) -> dict[int, int] | None:
        """What a day costs more for its key; nothing where it cannot be chosen."""
        if self.done is not None:
            return {}
        fits = self.earliest[key] <= day <= self.last[key]
        if self.fitness[day] is None:
            return {} if self.fixed is not None else None
        if not fits and self.fixed is None:
            return None
        return {self.levels["far"]: abs(day - self.likely[key]), BROKEN: int(not fits)}


class Instance:
    """The whole problem."""

    def __init__(self, problem: dict[str, Any]) -> None:
        self.number: int = problem["number"]
        self.tables = [Table(problem, number) for number in range(len(problem["tasks"]))]
        self.far: int = problem["levels"]["far"]
        self.limits = problem["limits"]
        self.pairs = sorted({pair for rule in problem["apart"] for pair in pairs_of(rule)})
        self.answer = problem["answer"]

    def cost(self, days: list[int]) -> list[int]:
        """What days cost, from the tables and rules alone; fails where a task cannot be on its day."""
        cost = [0] * LEVELS
        for number, (table, day) in enumerate(zip(self.tables, days, strict=True)):
            by_key = table.by_key(table.key_on(days), day)
            if by_key is None or table.set_day not in (None, day):
                raise ValueError(f"task {number} cannot be on day {day}")
            for level, amount in [*by_key.items(), *table.by_day(day).items()]:
                cost[level] += amount
        for pair in self.pairs:
            after = days[pair.other] - days[pair.one]
            cost[pair.level] += pair.nearest <= after <= pair.furthest
        for limit in self.limits:
            for on in Counter(days[task] for task in limit["tasks"]).values():
                cost[limit["level"]] += max(on - limit["per_day"], 0)
        return cost


def pairs_of(rule: dict[str, Any]) -> Iterator[Pair]:
    for one in rule["one"]:
        for other in rule["other"]:
            if one < other:
                yield Pair(one, other, 1 - rule["before_d"], rule["after_d"] - 1, rule["level"])
            elif other < one:
                yield Pair(other, one, 1 - rule["after_d"], rule["before_d"] - 1, rule["level"])


def instances(path: Path) -> Iterator[Instance]:
    with path.open(encoding="utf-8") as lines:
        for line in lines:
            yield Instance(json.loads(line))
