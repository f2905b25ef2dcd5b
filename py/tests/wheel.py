"""Tries an installed wheel in a Python that has nothing else: the examples in the help of every function, and the
command. tests/run starts it in each version that the machine has.
"""

from __future__ import annotations

import doctest
import subprocess
import sys
import sysconfig
from importlib.metadata import metadata
from pathlib import Path

import apiary_almanac

PROJECT = Path(__file__).parents[2]
if PROJECT in Path(apiary_almanac.__file__).parents and "site-packages" not in apiary_almanac.__file__:
    raise SystemExit(f"{apiary_almanac.__file__} is not the installed package")

found = doctest.testmod(apiary_almanac)
if found.failed or found.attempted < 20:
    raise SystemExit(f"{found.failed} of {found.attempted} examples failed")

readme = metadata("apiary-almanac")["Description"]
if "](../" in readme or "](docs" in readme or "## Install" not in readme:
    raise SystemExit("the README inside the wheel leads out of it")

keeper = str(PROJECT / "docs" / "demo" / "apiary.toml")
scripts = Path(sysconfig.get_path("scripts"))
printed = {
    subprocess.run([*start, "season", keeper], check=True, capture_output=True).stdout
    for start in ([str(scripts / "apiary-almanac")], [sys.executable, "-m", "apiary_almanac"])
}
if len(printed) != 1 or b"Season for dividing" not in printed.pop():
    raise SystemExit("the script and the module do not print the same")
print(f"Python {sys.version.split()[0]}: {found.attempted} examples, and the command: right")
