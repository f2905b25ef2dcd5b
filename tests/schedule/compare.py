"""Solves the scheduling problems of `schedule_instances` with OR-Tools CP-SAT and compares the costs.

    cargo run --release -p apiary-almanac-tools --bin schedule_instances -- 0 1000 single 10 > single.jsonl
    cargo run --release -p apiary-almanac-tools --bin schedule_instances -- 0 200 joint 100 > joint.jsonl
    python tests/schedule/compare.py single.jsonl joint.jsonl

The last number is how often the work that a request is given may be done on each problem; 1 shows what requests get.

CP-SAT gets the tables of each task and the rules as constraints of its own (`model.py`), and minimises one
level after the other, each held at its least for the next. Our cost is worked out again from the tables; days
with which no schedule can cost as little are left out before (`useful.py`), so that CP-SAT can only find ours or a
better one. Plans by themselves must cost the same at every level; several plans under shared limits the same at
every level but the last that is of use, and there at most 2 % more. An answer that says it is exact must be. CP-SAT
works as long as it is given by `EFFORT`; what it has not proved then is counted and named.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from time import monotonic

from instance import Instance, instances
from model import Model
from useful import useful_days

# CP-SAT's own measure of work, about a second each: the same on each machine, and however busy that is.
EFFORT = 300.0


def compare(instance: Instance, exact: bool) -> tuple[str, list[int]]:
    """`equal`, `within 2 %`, `worse` or `not proved`; and the cost that CP-SAT found."""
    ours = instance.answer["cost"]
    if instance.cost(instance.answer["days"]) != ours:
        raise AssertionError(f"{instance.number}: the days do not cost what is said")
    theirs, proved = Model(instance, useful_days(instance, ours)).least(EFFORT)
    if not proved:
        return "not proved", theirs
    if ours == theirs:
        return "equal", theirs
    last = instance.far
    close = ours[:last] == theirs[:last] and ours[last] <= 1.02 * theirs[last]
    return "within 2 %" if close and not exact else "worse", theirs


def main(paths: list[str]) -> int:
    failed = 0
    for path in map(Path, paths):
        verdicts: Counter[str] = Counter()
        begun = monotonic()
        for count, instance in enumerate(instances(path)):
            if count and count % 50 == 0:
                print(f"{path.name}: {count} so far, {dict(verdicts)}", flush=True)
            answer = instance.answer
            if None in answer["days"]:
                verdicts["left out, a task without a date"] += 1
                continue
            verdict, theirs = compare(instance, "single" in path.name or answer["exact"])
            verdicts[verdict] += 1
            failed += verdict == "worse"
            if verdict != "equal":
                print(
                    f"{path.name} {instance.number}: {verdict}: ours {answer['cost']},"
                    f" theirs {theirs}",
                    flush=True,
                )
        print(f"{path.name}: {dict(verdicts)} in {monotonic() - begun:.0f} s", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
