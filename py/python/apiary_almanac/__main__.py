"""``apiary-almanac`` and ``python -m apiary_almanac``: the command.

The engine reads the keeper's file, answers and lays out the text; see ``--help``. Only the club's
workbook is written here.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from apiary_almanac import _core

MODULE, SCRIPT = "python -m apiary_almanac", "apiary-almanac"
"""How it may have been started; texts of help name it so."""
MORE = """\
For a whole club: {program} workbook MEMBERS.xlsx makes everyone's seasons, tasks,
mornings and calendar at once; see {program} workbook --help.

Exit codes: 0 done, 1 the input was refused or something could not be read or written,
2 the command line makes no sense, 3 part of a list of members could not be read."""

NEEDED = "The workbook needs openpyxl and filelock: pip install openpyxl filelock."


def main(arguments: Sequence[str] | None = None, program: str = MODULE) -> int:
    """Run the command; 0 done, 1 input refused, 2 wrong usage, 3 a list only partly read."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    if given[:1] == ["workbook"]:
        try:
            from apiary_almanac.club.command import main as workbook
        except ModuleNotFoundError as missing:
            if missing.name not in ("openpyxl", "filelock"):
                raise
            print(NEEDED, file=sys.stderr)
            return 1
        return workbook(given[1:], program)
    if any(argument.lower().endswith((".xlsx", ".xlsm")) for argument in given):
        print(
            f"A workbook of members is read by: {program} workbook MEMBERS.xlsx", file=sys.stderr
        )
        return 2
    code, out, err = _core.command(program, given, MORE.format(program=program))
    # Lines of calendars end with CRLF; a text stream would make CR CR LF of them on some systems.
    for stream, text in ((sys.stdout, out), (sys.stderr, err)):
        raw = getattr(stream, "buffer", None)
        if raw is None:
            stream.write(text)
        else:
            stream.flush()
            raw.write(text.encode("utf-8"))
        stream.flush()
    return code


def script(program: str = SCRIPT) -> NoReturn:
    """Run the command and end the process."""
    try:
        raise SystemExit(main(program=program))
    except BrokenPipeError:
        # The reader has what it wants, as `head` does.
        sys.stderr.close()
        raise SystemExit(0) from None
    except OSError as problem:
        # Such as a full disk. What is left in the buffer would fail once more at the end.
        print(f"standard output: {problem.strerror}", file=sys.stderr)
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise SystemExit(1) from None


if __name__ == "__main__":
    script(MODULE)
