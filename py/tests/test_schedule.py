"""The scheduler beside an independent solver: a few of the problems of `tests/schedule/compare.py`."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]
# Those of most use in little time; the program itself takes any number.
FEW = {"single": (0, 20), "joint": (4, 8)}


@pytest.mark.parametrize("kind", list(FEW))
def test_costs_are_those_of_cp_sat(kind: str, tmp_path: Path) -> None:
    first, count = FEW[kind]
    instances = ["run", "--locked", "--quiet", "-p", "apiary-almanac-tools", "--bin"]
    instances += ["schedule_instances", "--", str(first), str(count), kind]
    path = tmp_path / f"{kind}.jsonl"
    with path.open("wb") as out:
        subprocess.run(["cargo", *instances], cwd=TOP, stdout=out, check=True)
    compare = [sys.executable, str(TOP / "tests" / "schedule" / "compare.py"), str(path)]
    done = subprocess.run(compare, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"{{'equal': {count}}}" in done.stdout, done.stdout
