"""The subcommand ``workbook``."""

from __future__ import annotations

import argparse
import datetime as dt
import json
import sys
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from apiary_almanac import ApiaryError
from apiary_almanac.club.make import club_workbook
from apiary_almanac.club.problems import NotAllRead, Refused

ABOUT = """\
Make or update a club's workbook and calendar: everyone's season, tasks by date, next mornings for
moving a hive. MEMBERS is a list, .xlsx, .ods or .csv, with one row a member: name, coordinates (or
latitude and longitude), zone; and, where known, elevation, bee, colonies, weights, last division,
strength, method, under these names or similar ones, in any order. Rows that
cannot be read are listed on the sheet "Not read" with the reason, what was planned for them before
stays, and the rest is done. What members wrote in the columns "Done on", "Seen", "Notes" and
"Agreed for" of the sheet Tasks is kept and planned with. The last five versions are kept in a folder
beside CLUB. docs/workbook.md tells more."""


def parser(program: str) -> argparse.ArgumentParser:
    """The command line; ``program`` is how it was started."""
    line = argparse.ArgumentParser(
        prog=f"{program} workbook",
        description=ABOUT,
        epilog="Exit codes: 0 all was read and is done; 1 the input was refused; 2 the command line makes "
        "no sense; 3 something could not be read, the rest is done (with --strict nothing is written).",
    )
    line.add_argument("members", metavar="MEMBERS", help="the list of members, .xlsx, .ods or .csv")
    line.add_argument(
        "--out",
        metavar="CLUB",
        help="the workbook to write or update (default: club.xlsx beside MEMBERS)",
    )
    line.add_argument(
        "--calendar", metavar="ICS", help="the calendar to write (default: CLUB with .ics)"
    )
    line.add_argument(
        "--renamed",
        action="store_true",
        help="MEMBERS is the list that CLUB was made from, under another name or on another sheet",
    )
    line.add_argument(
        "--left",
        action="store_true",
        help="members of CLUB who are no longer on the list have left: cancel what is ahead for them",
    )
    line.add_argument(
        "--forecasts",
        metavar="PATH",
        help="forecasts of many places, a .csv or a folder of them: tables of forecasts with two more columns, "
        "latitude and longitude; members who name none take the nearest",
    )
    line.add_argument(
        "--forecast-within",
        type=float,
        default=30.0,
        metavar="KM",
        help="how far off the nearest may be (default: 30)",
    )
    line.add_argument(
        "--pages",
        metavar="FOLDER",
        help="write a page to print and a calendar for each member there, with an index",
    )
    line.add_argument(
        "--coordinates",
        action="store_true",
        help="put the coordinates of the hives into the calendar too",
    )
    line.add_argument(
        "--merge",
        action="append",
        default=[],
        metavar="COPY",
        help="a copy of CLUB that a member has sent back: take what stands in its own columns; again for more",
    )
    line.add_argument("--sheet", help="the sheet of MEMBERS (default: the first)")
    line.add_argument("--club", help="the club's name, for titles")
    line.add_argument(
        "--today",
        type=_date,
        metavar="YYYY-MM-DD",
        help="plan as on this day (default: today)",
    )
    line.add_argument(
        "--method",
        default="split",
        help="for members who name none: split, eduction, comb_donation, transfer, or none "
        "(default: split)",
    )
    line.add_argument(
        "--mornings", type=int, default=10, help="how many mornings, 1 to 60 (default: 10)"
    )
    line.add_argument(
        "--strict",
        action="store_true",
        help="write nothing where something cannot be read",
    )
    line.add_argument("--json", action="store_true", help="print what was done as JSON")
    return line


def _date(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"{text!r} is not a date; give YYYY-MM-DD, such as 2026-09-13"
        ) from None


def main(arguments: Sequence[str], program: str) -> int:
    """Run it; 0 all done, 1 refused, 2 wrong usage, 3 not all of it could be read."""
    try:
        given = parser(program).parse_args(list(arguments))
    except SystemExit as stop:
        return int(stop.code or 0)
    members = Path(given.members)
    try:
        done = club_workbook(
            members,
            given.out or members.with_name("club.xlsx"),
            calendar=given.calendar,
            today=given.today,
            method=None if given.method == "none" else given.method,
            mornings=given.mornings,
            club=given.club,
            sheet=given.sheet,
            renamed=given.renamed,
            left=given.left,
            strict=given.strict,
            coordinates=given.coordinates,
            pages=given.pages,
            forecasts=given.forecasts,
            forecast_within_km=given.forecast_within,
            copies=given.merge,
        )
    except NotAllRead as problem:
        print(problem, file=sys.stderr)
        return 3
    except (Refused, ApiaryError) as problem:
        print(problem, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("Stopped: workbook and calendar are as they were.", file=sys.stderr)
        return 130
    code = 3 if done.refused else 0
    if given.json:
        plain = {key: value for key, value in asdict(done).items()}
        print(json.dumps(plain, default=str, ensure_ascii=False, indent=2))
        return code
    if done.columns_new:
        print("How columns were read (it stands on the sheet About, and is not printed again):")
        for told in done.columns:
            print(f"  {told}")
    print(f"{done.members} members, {done.plans} plans, {done.tasks} tasks: {done.workbook}")
    if done.calendar is None:
        print("No calendar: nothing is planned", flush=True)
    else:
        same = "" if done.calendar_changed else " (nothing has changed)"
        print(f"Calendar, version {done.calendar_version}{same}: {done.calendar}", flush=True)
    if done.pages:
        print(f"Pages and calendars of the members: {done.pages[0]}", flush=True)
    if done.kept:
        print(
            f"Not read now, kept as planned before: {', '.join(done.kept)}", file=sys.stderr
        )
    if done.missing:
        print(
            f"Not on the list any more, kept as planned before: {', '.join(done.missing)}; "
            "where they have left, say --left",
            file=sys.stderr,
        )
    for label, each in (("Columns left out", done.ignored), ("Passed over", done.passed)):
        if each:
            print(f"{label}: {', '.join(each)}", file=sys.stderr)
    for label, lines in (
        ("Taken from copies", done.taken),
        ("Not taken from copies", done.differing),
        ("Doubtful, see the remarks on the sheet 'Season'", done.doubts),
        ("Not read, see the sheet 'Not read'", done.refused),
    ):
        if lines:
            print(f"{label}: {len(lines)}", *lines, sep="\n  ", file=sys.stderr)
    return code
