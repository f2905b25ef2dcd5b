"""A scheduling problem as OR-Tools CP-SAT sees it.

Each task has one true-or-false variable for each day: whether it is done on this day or later. All else is
linear in these with few terms, so that the linear relaxation says much. A range that moves with what the
task depends on makes one such variable follow from another; days from the likely one are the days on which
the two disagree; of a window of one task and one of another, all of whose days are too near to each other, at
most one is taken.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from itertools import pairwise
from typing import Any

from ortools.sat.python import cp_model

from instance import BROKEN, LEVELS, Instance, Pair, Table


class Model:
    def __init__(self, instance: Instance, days: list[list[int]]) -> None:
        self.instance = instance
        self.days = days
        self.model = cp_model.CpModel()
        self.costs: dict[int, list[Any]] = defaultdict(list)
        self.from_day: list[list[Any]] = []
        self.latest: dict[tuple[int, ...], Any] = {}
        for number, table in enumerate(instance.tables):
            self.add_days(days[number])
            if table.done is None:
                self.add_task(number, table)
        for pair in instance.pairs:
            self.add_pair(pair)
        for limit in instance.limits:
            self.add_limit(limit)

    def add_days(self, days: list[int]) -> None:
        later = [self.model.new_bool_var("") for _ in days[1:]]
        for one, other in pairwise(later):
            self.model.add_implication(other, one)
        self.from_day.append([1, *later, 0])

    def since(self, number: int, day: int) -> Any:
        """Whether a task is done on this day or later."""
        return self.from_day[number][bisect_left(self.days[number], day)]

    def within(self, number: int, first: int, last: int) -> Any:
        """Whether a task is done between these days."""
        return self.since(number, first) - self.since(number, last + 1)

    def key_since(self, table: Table, key: int) -> Any:
        """Whether the key of a task is this one or a later one."""
        if key <= 0:
            return 1
        if key >= len(table.earliest):
            return 0
        each = [self.since(before, key - offset) for before, offset in table.before]
        if 1 in (one for one in each if isinstance(one, int)):
            return 1
        open_ = {one.index: one for one in each if not isinstance(one, int)}
        if len(open_) < 2:
            return next(iter(open_.values()), 0)
        name = tuple(sorted(open_))
        if name not in self.latest:
            any_ = self.model.new_bool_var("")
            for one in open_.values():
                self.model.add_implication(one, any_)
            self.model.add_bool_or([*open_.values(), ~any_])
            self.latest[name] = any_
        return self.latest[name]

    def follows(self, one: Any, other: Any) -> None:
        """Where one is so, the other is."""
        if isinstance(one, int) and isinstance(other, int):
            if one > other:
                self.model.add_bool_or([])
        elif isinstance(one, int):
            if one:
                self.model.add(other == 1)
        elif isinstance(other, int):
            if not other:
                self.model.add(one == 0)
        elif one.index != other.index:
            self.model.add_implication(one, other)

    def add_task(self, number: int, table: Table) -> None:
        days = self.days[number]
        for day in days:
            for level, amount in table.by_day(day).items():
                if amount:
                    self.costs[level].append(amount * self.within(number, day, day))
        if table.fixed is not None:
            day = table.fixed
            if table.fitness[day] is None:
                return
            # The key comes too late for it, or so early that its time is over.
            self.costs[BROKEN].append(self.key_since(table, bisect_left(table.earliest, day + 1)))
            self.costs[BROKEN].append(1 - self.key_since(table, bisect_left(table.last, day)))
        else:
            for place in range(1, len(days) + 1):
                # A key whose earliest day lies behind one day moves the task to the next.
                key = bisect_left(table.earliest, days[place - 1] + 1)
                self.follows(self.key_since(table, key), self.from_day[number][place])
            for place, day in enumerate(days):
                key = bisect_left(table.last, day)
                self.follows(self.from_day[number][place], self.key_since(table, key))
        self.add_away(number, table)

    def add_away(self, number: int, table: Table) -> None:
        """Days from the likely one: those from which on only one of the two is there."""
        reach = [*self.days[number], *table.likely]
        steps: dict[tuple[int, ...], list[Any]] = {}
        for day in range(min(reach) + 1, max(reach) + 1):
            both = self.since(number, day), self.key_since(table, bisect_left(table.likely, day))
            name = tuple(one if isinstance(one, int) else one.index + 2 for one in both)
            steps.setdefault(name, [0, *both])[0] += 1
        for name, (count, own, likely) in steps.items():
            if name[0] == name[1]:
                continue
            if isinstance(own, int) or isinstance(likely, int):
                known, other = (own, likely) if isinstance(own, int) else (likely, own)
                self.costs[self.instance.far].append(count * (1 - other if known else other))
                continue
            differ = self.model.new_bool_var("")
            self.model.add(differ >= own - likely)
            self.model.add(differ >= likely - own)
            self.costs[self.instance.far].append(count * differ)

    def add_pair(self, pair: Pair) -> None:
        one, other = self.days[pair.one], self.days[pair.other]
        broken = None
        for width in range(pair.furthest - pair.nearest + 1):
            for first in range(one[0], one[-1] + 1):
                window = self.within(pair.one, first, first + width)
                clash = first + width + pair.nearest, first + pair.furthest
                against = self.within(pair.other, *clash)
                if isinstance(window, int) and not window or isinstance(against, int) and not against:
                    continue
                if broken is None:
                    broken = self.model.new_bool_var("")
                    self.costs[pair.level].append(broken)
                self.model.add(window + against <= 1 + broken)

    def add_limit(self, limit: dict[str, Any]) -> None:
        there = defaultdict(list)
        for task in limit["tasks"]:
            for day in self.days[task]:
                there[day].append(task)
        for day, tasks in sorted(there.items()):
            most = len(tasks) - limit["per_day"]
            if most > 0:
                over = self.model.new_int_var(0, most, "")
                on = sum(self.within(task, day, day) for task in tasks)
                self.model.add(on - limit["per_day"] <= over)
                self.costs[limit["level"]].append(over)

    def hint(self, days: list[int]) -> None:
        self.model.proto.clear_solution_hint()
        for number, day in enumerate(days):
            for at, variable in zip(self.days[number][1:], self.from_day[number][1:-1], strict=True):
                self.model.add_hint(variable, int(at <= day))

    def least(self, effort: float) -> tuple[list[int], bool]:
        """The least cost by level, and whether it is proved; zero behind a level that is not proved.

        Effort is CP-SAT's own measure, about a second each, and hangs on no clock.
        """
        found = [0] * LEVELS
        self.hint(self.instance.answer["days"])
        for level, costs in sorted(self.costs.items()):
            total = sum(costs)
            if isinstance(total, int):
                found[level] = total
                continue
            self.model.minimize(total)
            solver = cp_model.CpSolver()
            solver.parameters.num_workers = 1
            solver.parameters.linearization_level = 2
            solver.parameters.max_deterministic_time = effort
            status = solver.solve(self.model)
            effort -= solver.response_proto.deterministic_time
            if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                found[level] = round(solver.objective_value)
            if status != cp_model.OPTIMAL or effort <= 0:
                return found, False
            self.model.add(total <= found[level])
            self.hint([self.day(solver, number) for number in range(len(self.days))])
        return found, True

    def day(self, solver: cp_model.CpSolver, number: int) -> int:
        later = self.from_day[number][1:-1]
        return self.days[number][sum(solver.value(one) for one in later)]

