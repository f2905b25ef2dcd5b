"""Which days can be of use: those on which a schedule can still cost no more than a known one.

A bound from the tables alone. Rules between tasks and limits are left out, and of a task after several
only the one that is likely to be the last counts: what is left hangs in trees, and the least that a schedule
with a given task on a given day costs is worked out up and down these (dynamic programming).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import prod

import numpy as np
import numpy.typing as npt

from instance import LEVELS, Instance, Table

Costs = npt.NDArray[np.int64]
NEVER = np.int64(2**61)


def add(*parts: Costs) -> Costs:
    total = parts[0]
    for part in parts[1:]:
        total = np.minimum(total + part, NEVER)
    return total


def useful_days(instance: Instance, most: list[int]) -> list[list[int]]:
    """The days of each task with which a schedule may cost at most this much."""
    return Trees(instance).useful(most)


@dataclass
class Branch:
    """A task in its tree: costs by key and day, each counted from its first."""

    table: Table
    first_key: int
    last_key: int
    days: list[int]
    above: int | None = None
    offset: int = 0
    below: list[int] = field(default_factory=list)
    by_day: Costs = field(default_factory=lambda: np.zeros(0, np.int64))
    by_both: Costs = field(default_factory=lambda: np.zeros((0, 0), np.int64))

    def keys(self, days: list[int]) -> npt.NDArray[np.int64]:
        """The places of the least keys that days of the task above leave."""
        last = self.last_key - self.first_key
        return np.clip(np.array(days, np.int64) + self.offset - self.first_key, 0, last)


class Trees:
    """The trees of a problem."""

    def __init__(self, instance: Instance) -> None:
        self.branches: list[Branch] = []
        for number, table in enumerate(instance.tables):
            self.branches.append(self.hung(number, table))
        most = [1] * LEVELS
        priced = [self.priced(branch) for branch in self.branches]
        for by_day, by_both in priced:
            for level in range(LEVELS):
                most[level] += int(by_day[level].max()) + int(by_both[level].max())
        if prod(most) >= NEVER:
            raise OverflowError("the levels do not fit one number")
        self.weights = [prod(most[level + 1 :]) for level in range(LEVELS)]
        for branch, (by_day, by_both) in zip(self.branches, priced, strict=True):
            branch.by_day = self.in_one(by_day)
            branch.by_both = np.where(by_both[0] < 0, NEVER, self.in_one(by_both))

    def in_one(self, cost: Costs) -> Costs:
        """Ranked levels as one number, which ranks sums alike."""
        return np.tensordot(np.array(self.weights, np.int64), cost, axes=1)

    def hung(self, number: int, table: Table) -> Branch:
        above, offset, first, last = None, 0, 0, 0
        if table.before:
            ends = [
                (self.branches[task].days[0] + by, self.branches[task].days[-1] + by, task, by)
                for task, by in table.before
            ]
            first, last = max(end[0] for end in ends), max(end[1] for end in ends)
            _, _, above, offset = max(ends)
            self.branches[above].below.append(number)
        first, last = table.key(first), table.key(last)
        if table.set_day is not None:
            days = [table.set_day]
        else:
            reach = range(table.earliest[first], table.last[last] + 1)
            days = [day for day in reach if table.fitness[day] is not None]
        if not days:
            raise LookupError(f"no date for task {number}")
        return Branch(table, first, last, days, above, offset)

    def priced(self, branch: Branch) -> tuple[Costs, Costs]:
        """The costs of days, and of keys with days, level by level; below 0 where there is no choice."""
        keys = range(branch.first_key, branch.last_key + 1)
        by_day = np.zeros((LEVELS, len(branch.days)), np.int64)
        by_both = np.zeros((LEVELS, len(keys), len(branch.days)), np.int64)
        for at, day in enumerate(branch.days):
            for level, amount in branch.table.by_day(day).items():
                by_day[level, at] = amount
        for place, key in enumerate(keys):
            for at, day in enumerate(branch.days):
                cost = branch.table.by_key(key, day)
                if cost is None:
                    by_both[0, place, at] = -1
                else:
                    for level, amount in cost.items():
                        by_both[level, place, at] = amount
        return by_day, by_both

    def useful(self, most: list[int]) -> list[list[int]]:
        count = len(self.branches)
        # What a task and those below it cost at least: by key, and by day of the task above.
        by_key: list[Costs] = [np.zeros(0, np.int64)] * count
        by_above: list[Costs] = list(by_key)
        below: list[Costs] = list(by_key)
        for number in reversed(range(count)):
            branch = self.branches[number]
            below[number] = add(branch.by_day, *(by_above[task] for task in branch.below))
            by_key[number] = (branch.by_both + below[number]).min(axis=1).clip(max=NEVER)
            if branch.above is not None:
                least = by_key[number]
                if len(branch.table.before) > 1:
                    least = np.minimum.accumulate(least[::-1])[::-1]
                by_above[number] = least[branch.keys(self.branches[branch.above].days)]
        tops = [number for number, branch in enumerate(self.branches) if branch.above is None]
        least_of_all = sum(int(by_key[top][0]) for top in tops)
        limit = sum(weight * amount for weight, amount in zip(self.weights, most, strict=True))
        # What all else costs at least, by key.
        around: list[Costs] = list(by_key)
        useful = []
        for number, branch in enumerate(self.branches):
            if branch.above is None:
                around[number] = np.array([least_of_all - int(by_key[number][0])], np.int64)
            with_day = (branch.by_both + around[number][:, None]).min(axis=0).clip(max=NEVER)
            least = add(with_day, below[number])
            useful.append([day for day, cost in zip(branch.days, least, strict=True) if cost <= limit])
            for task in branch.below:
                others = (by_above[other] for other in branch.below if other != task)
                rest = add(with_day, branch.by_day, *others)
                child = self.branches[task]
                own = np.full(child.last_key - child.first_key + 1, NEVER, np.int64)
                np.minimum.at(own, child.keys(branch.days), rest)
                if len(child.table.before) > 1:
                    own = np.minimum.accumulate(own)
                around[task] = own
        return useful
