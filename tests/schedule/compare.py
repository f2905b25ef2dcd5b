"""Solves the scheduling problems of `schedule_instances` with OR-Tools CP-SAT and compares the costs.

    cargo run --release -p apiary-almanac-tools --bin schedule_instances -- 0 1000 single > single.jsonl
    cargo run --release -p apiary-almanac-tools --bin schedule_instances -- 0 200 joint > joint.jsonl
    python tests/schedule/compare.py single.jsonl joint.jsonl

CP-SAT gets the tables of each task and the rules as its own constraints, and minimises one level after the
other, each held at its least for the next. Plans by themselves must cost the same at every level; several
plans under shared limits the same at every level but the last that is of use, and there at most 2 %
more. Where CP-SAT has not proved its answer within the time, ours must not be worse than its own.
"""

from __future__ import annotations

import json
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ortools.sat.python import cp_model

LEVELS = 8
NO_DATE, BROKEN = 0, 1
SECONDS = 60.0


@dataclass
class Model:
    """A problem as CP-SAT sees it."""

    of: dict[str, Any]
    model: cp_model.CpModel = field(default_factory=cp_model.CpModel)
    days: list[cp_model.IntVar] = field(default_factory=list)
    possible: list[list[int]] = field(default_factory=list)
    costs: dict[int, list[Any]] = field(default_factory=lambda: defaultdict(list))
    most: dict[int, int] = field(default_factory=lambda: defaultdict(int))

    def __post_init__(self) -> None:
        for number in range(len(self.of["tasks"])):
            self.add_task(number)
        for rule in self.of["apart"]:
            self.add_apart(rule)
        for limit in self.of["limits"]:
            self.add_limit(limit)

    def pay(self, level: int, amount: Any, most: int) -> None:
        self.costs[level].append(amount)
        self.most[level] += most

    def choices(self, task: dict[str, Any], key: int) -> Iterator[tuple[int, dict[int, int]]]:
        """The days that a key allows, each with its costs."""
        levels = self.of["levels"]
        earliest, likely, _, last = task["spans"][key]
        fitness = self.of["fitness"][task["kind"]]

        def cost(day: int) -> dict[int, int]:
            moved = 0 if task["announced"] is None else abs(task["announced"] - day)
            if fitness[day] is None:
                return {levels["moved"]: moved}
            return {
                levels["unfit"]: fitness[day],
                levels["moved"]: moved,
                levels["busy"]: self.of["busy"][day],
                levels["far"]: abs(day - likely),
            }

        if task["done"] is not None:
            yield task["done"], {}
        elif task["fixed"] is not None:
            day = task["fixed"]
            fits = earliest <= day <= last and fitness[day] is not None
            yield day, cost(day) | ({} if fits else {BROKEN: 1})
        else:
            for day in range(earliest, last + 1):
                if fitness[day] is not None:
                    yield day, cost(day)

    def add_task(self, number: int) -> None:
        task = self.of["tasks"][number]
        horizon = len(task["spans"]) - 1
        first, final = 0, 0
        if task["after"]:
            offsets = list(zip(task["after"], task["offsets"], strict=True))
            first = max(min(self.possible[before]) + offset for before, offset in offsets)
            final = max(max(self.possible[before]) + offset for before, offset in offsets)
        first, final = (min(max(key, 0), horizon) for key in (first, final))
        keys = [key for key in range(first, final + 1) if any(self.choices(task, key))]
        if not keys:
            raise LookupError(f"no date for task {number}")
        key = self.model.new_int_var_from_domain(cp_model.Domain.from_values(keys), "")
        if task["after"]:
            terms = [self.days[before] + offset for before, offset in offsets]
            low = min(min(self.possible[before]) + offset for before, offset in offsets)
            high = max(max(self.possible[before]) + offset for before, offset in offsets)
            latest = self.model.new_int_var(low, high, "")
            self.model.add_max_equality(latest, terms)
            # What lies before the first day or after the last counts as these.
            positive = self.model.new_int_var(max(low, 0), max(high, 0), "")
            self.model.add_max_equality(positive, [latest, 0])
            self.model.add_min_equality(key, [positive, horizon])
        allowed = {day for key in keys for day, _ in self.choices(task, key)}
        self.possible.append(sorted(allowed))
        domain = cp_model.Domain.from_values(self.possible[-1])
        day = self.model.new_int_var_from_domain(domain, f"day{number}")
        self.days.append(day)
        if task["done"] is None:
            self.add_costs(task, keys, key, day)

    def add_costs(
        self, task: dict[str, Any], keys: list[int], key: cp_model.IntVar, day: cp_model.IntVar
    ) -> None:
        levels, possible = self.of["levels"], self.possible[-1]
        fitness = self.of["fitness"][task["kind"]]
        ends = []
        for place in (0, 1, 3):
            table = [spans[place] for spans in task["spans"]][: keys[-1] + 1]
            end = self.model.new_int_var(min(table), max(table), "")
            self.model.add_element(key, table, end)
            ends.append(end)
        earliest, likely, last = ends
        known = all(fitness[on] is not None for on in possible)
        if task["fixed"] is None:
            self.model.add(earliest <= day)
            self.model.add(day <= last)
        else:
            fits = self.model.new_bool_var("")
            self.model.add(earliest <= day).only_enforce_if(fits)
            self.model.add(day <= last).only_enforce_if(fits)
            if not known:
                self.model.add(fits == 0)
            self.pay(BROKEN, 1 - fits, 1)
        if task["announced"] is not None:
            self.pay_distance(levels["moved"], day, task["announced"], possible)
        if not known:
            return
        self.pay_distance(levels["far"], day, likely, possible + keys)
        for level, price in ((levels["unfit"], fitness), (levels["busy"], self.of["busy"])):
            without = [on for on in possible if not price[on]]
            if len(without) < len(possible):
                paid = self.model.new_bool_var("")
                self.model.add_linear_expression_in_domain(
                    day, cp_model.Domain.from_values(without)
                ).only_enforce_if(~paid)
                self.pay(level, paid, 1)

    def pay_distance(
        self, level: int, day: cp_model.IntVar, to: cp_model.IntVar | int, near: list[int]
    ) -> None:
        most = 2 * max(near) + 1_000
        away = self.model.new_int_var(0, most, "")
        self.model.add(away >= day - to)
        self.model.add(away >= to - day)
        self.pay(level, away, most)

    def add_apart(self, rule: dict[str, Any]) -> None:
        pairs = set()
        for one in rule["one"]:
            for other in rule["other"]:
                if one < other:
                    pairs.add((one, other, -rule["before_d"], rule["after_d"]))
                elif other < one:
                    pairs.add((other, one, -rule["after_d"], rule["before_d"]))
        for one, other, low, high in sorted(pairs):
            first = min(self.possible[other]) - max(self.possible[one])
            final = max(self.possible[other]) - min(self.possible[one])
            if final <= low or first >= high:
                continue
            after = self.days[other] - self.days[one]
            broken, before, behind = (self.model.new_bool_var("") for _ in range(3))
            self.model.add(after <= low).only_enforce_if(before)
            self.model.add(after >= high).only_enforce_if(behind)
            self.model.add_bool_or([broken, before, behind])
            self.pay(rule["level"], broken, 1)

    def add_limit(self, limit: dict[str, Any]) -> None:
        there = defaultdict(list)
        for task in limit["tasks"]:
            for day in self.possible[task]:
                there[day].append(task)
        for day, tasks in sorted(there.items()):
            if len(tasks) <= limit["per_day"]:
                continue
            on = []
            for task in tasks:
                is_on = self.model.new_bool_var("")
                self.model.add(self.days[task] == day).only_enforce_if(is_on)
                self.model.add(self.days[task] != day).only_enforce_if(~is_on)
                on.append(is_on)
            most = len(tasks) - limit["per_day"]
            over = self.model.new_int_var(0, most, "")
            self.model.add(over >= sum(on) - limit["per_day"])
            self.pay(limit["level"], over, most)

    def least(self, seconds: float) -> tuple[list[int] | None, bool]:
        """The least cost by level, and whether it is proved; no cost where nothing was found."""
        found, proved = [0] * LEVELS, True
        # It begins with our days, and is free to leave them.
        for day, on in zip(self.days, self.of["answer"]["days"], strict=True):
            if on is not None:
                self.model.add_hint(day, on)
        until = time.monotonic() + seconds
        for level in sorted(level for level in self.costs if self.most[level]):
            total = sum(self.costs[level])
            self.model.minimize(total)
            solver = cp_model.CpSolver()
            solver.parameters.num_workers = 1
            solver.parameters.max_time_in_seconds = max(until - time.monotonic(), 1.0)
            status = solver.solve(self.model)
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                return None, False
            proved &= status == cp_model.OPTIMAL
            found[level] = round(solver.objective_value)
            self.model.add(total <= found[level])
            self.model.clear_hints()
            for day in self.days:
                self.model.add_hint(day, solver.value(day))
        return found, proved


def cost_of(problem: dict[str, Any], days: list[int]) -> list[int]:
    """What days cost, from the tables and rules alone."""
    cost = [0] * LEVELS
    model = Model.__new__(Model)
    model.of = problem
    for task, day in zip(problem["tasks"], days, strict=True):
        keys = [days[before] + by for before, by in zip(task["after"], task["offsets"], strict=True)]
        key = min(max([*keys, 0]), len(task["spans"]) - 1)
        for level, amount in dict(model.choices(task, key))[day].items():
            cost[level] += amount
    for rule in problem["apart"]:
        same = rule["one"] == rule["other"]
        for one in rule["one"]:
            for other in rule["other"]:
                after = days[other] - days[one]
                if one != other and not (same and one > other):
                    cost[rule["level"]] += -rule["before_d"] < after < rule["after_d"]
    for limit in problem["limits"]:
        for on in Counter(days[task] for task in limit["tasks"]).values():
            cost[limit["level"]] += max(on - limit["per_day"], 0)
    return cost


@dataclass
class Outcome:
    """How our answer stands beside the other solver's."""

    verdict: str
    proved: bool
    theirs: list[int]


def compare(problem: dict[str, Any], exact: bool, seconds: float = SECONDS) -> Outcome:
    """`equal`, `better`, `within 2 %` or `worse`."""
    answer = problem["answer"]
    ours = answer["cost"]
    if None in answer["days"]:
        raise LookupError("a task without a date")
    if cost_of(problem, answer["days"]) != ours:
        return Outcome("worse", False, cost_of(problem, answer["days"]))
    theirs, proved = Model(problem).least(seconds)
    if theirs is None:
        return Outcome("better", False, [])
    if ours == theirs:
        return Outcome("equal", proved, theirs)
    if ours < theirs:
        return Outcome("wrong proof" if proved else "better", proved, theirs)
    last = problem["levels"]["far"]
    close = ours[:last] == theirs[:last] and ours[last] <= 1.02 * theirs[last]
    if close and not exact:
        return Outcome("within 2 %", proved, theirs)
    return Outcome("worse", proved, theirs)


def problems(path: Path) -> Iterator[dict[str, Any]]:
    with path.open(encoding="utf-8") as lines:
        for line in lines:
            yield json.loads(line)


def main(paths: list[str]) -> int:
    failed = 0
    for path in map(Path, paths):
        exact = "single" in path.name
        verdicts: Counter[str] = Counter()
        begun = time.monotonic()
        for count, problem in enumerate(problems(path)):
            if count and count % 50 == 0:
                print(f"{path}: {count} so far: {dict(verdicts)}", flush=True)
            try:
                outcome = compare(problem, exact)
            except LookupError as error:
                verdicts["left out"] += 1
                print(f"{path} {problem['number']}: left out, {error}", flush=True)
                continue
            verdicts[outcome.verdict] += 1
            verdicts["proved"] += outcome.proved
            if outcome.verdict in ("worse", "wrong proof"):
                failed += 1
                answer = problem["answer"]
                print(
                    f"{path} {problem['number']}: {outcome.verdict}: ours {answer['cost']}"
                    f" (bound {answer['bound']}), theirs {outcome.theirs}, proved {outcome.proved}",
                    flush=True,
                )
        print(f"{path}: {dict(verdicts)} in {time.monotonic() - begun:.0f} s", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
