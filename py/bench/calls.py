"""What single calls cost: the engine, JSON, and making Python's objects.

    python py/bench/calls.py

Least processor time of many calls, in ms. The parts are measured by themselves; a whole call takes somewhat more, since
each part finds the caches of the processor filled by the one before.
"""

from __future__ import annotations

import datetime as dt
import json
import subprocess
import sys
import time
from collections.abc import Callable
from typing import Any

import apiary_almanac as almanac
from apiary_almanac import _convert, _core

SITE = almanac.Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
DAY = dt.date(2026, 9, 14)
COLONY = almanac.Colony(name="Hive 7", net_weight_kg=3.6, months_since_division=14, strength="strong")
CALLS: dict[str, tuple[dict[str, Any], Any, Callable[[], object]]] = {
    "ten mornings": (
        {"ask": "mornings", "site": SITE, "first": DAY, "days": 10},
        tuple[almanac.RankedMorning, ...],
        lambda: almanac.mornings(SITE, DAY, 10),
    ),
    "a plan": (
        {"ask": "plan", "site": SITE, "today": DAY, "method": "split", "colony": COLONY},
        almanac.Plan,
        lambda: almanac.plan(SITE, DAY, "split", COLONY),
    ),
}
IMPORT = "import time; t = time.process_time(); import apiary_almanac; print(time.process_time() - t)"


def least_ms(call: Callable[[], object], times: int = 100) -> float:
    """Of a number of calls."""
    took = []
    for _ in range(times):
        start = time.process_time()
        call()
        took.append(time.process_time() - start)
    return 1000 * min(took)


def main() -> None:
    """Print a line for each call, and one for the import."""
    print("call           engine  JSON in and out  objects  whole")
    for name, (asked, kind, whole) in CALLS.items():
        request = json.dumps(_convert.to_json(asked))
        answer = _core.ask(request)
        value = json.loads(answer)
        texts = least_ms(lambda: (json.dumps(_convert.to_json(asked)), json.loads(answer)))
        objects = least_ms(lambda: _convert.from_json(kind, value, SITE.zone))
        engine = least_ms(lambda: _core.ask(request))
        print(f"{name:12}  {engine:7.2f}  {texts:15.2f}  {objects:7.2f}  {least_ms(whole):5.2f}")
    runs = [subprocess.run([sys.executable, "-c", IMPORT], capture_output=True, text=True, check=True) for _ in range(10)]
    print(f"import        {1000 * min(float(run.stdout) for run in runs):7.1f}")


if __name__ == "__main__":
    main()
