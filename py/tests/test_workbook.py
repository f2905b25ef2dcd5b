"""The club's workbook, on real .xlsx files: what is written is read again with openpyxl and pandas,
and the calendar with the icalendar library. Every club here is invented."""

from __future__ import annotations

import datetime as dt
import doctest
import html
import io
import json
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Sequence
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, get_args

import icalendar
import openpyxl
import openpyxl.cell.cell
import openpyxl.comments
import openpyxl.formatting.rule
import openpyxl.styles
import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from vectors import PROJECT

import apiary_almanac as almanac
from apiary_almanac import club
from apiary_almanac.club import Done, cells, club_ics, club_workbook
from apiary_almanac.club.answers import plan_stem
from apiary_almanac.club.coordinates import coordinates
from apiary_almanac.club.counts import counted
from apiary_almanac.club.members import read_members
from apiary_almanac.club.problems import Refused
from apiary_almanac.club.progress import Progress
from apiary_almanac.club.rows import WEATHER
from apiary_almanac.club.rows_xml import ILLEGAL, RowsXml, rows_xml, save
from apiary_almanac.club.signs import SIGNS, outcome, seen, strength
from apiary_almanac.club.sheets import needed

DEMO = PROJECT / "docs" / "demo"
DAY = dt.date(2026, 9, 13)
NOW = dt.datetime(2026, 9, 13, 1, tzinfo=dt.timezone.utc)
HEADER = ("Name", "Coordinates", "Zone", "Elevation", "Weights", "Last division", "Strength")
READY = ("-28.81, 153.28", "Australia/Sydney", 12, 3.6, dt.date(2025, 2, 1), "strong")


def members(folder: Path, *rows: Sequence[Any], header: Sequence[str] = HEADER) -> Path:
    """A members' workbook; texts stay texts."""
    book = openpyxl.Workbook()
    sheet = book[book.sheetnames[0]]
    for number, row in enumerate([header, *rows], start=1):
        for at, value in enumerate(row, start=1):
            cell: Any = sheet.cell(number, at, value)
            if isinstance(value, str):
                cell.data_type = "s"
    path = folder / "members.xlsx"
    book.save(path)
    return path


def make(folder: Path, day: dt.date = DAY, **options: Any) -> Done:
    now = dt.datetime.combine(day, NOW.timetz())
    return club_workbook(
        folder / "members.xlsx", folder / "club.xlsx", today=day, now=now, **options
    )


def table(folder: Path, sheet: str) -> list[dict[str, Any]]:
    page = openpyxl.load_workbook(folder / "club.xlsx")[sheet]
    header, *rows = page.iter_rows(values_only=True)
    return [dict(zip(map(str, header), row, strict=True)) for row in rows]


def write(folder: Path, task: str, member: str, **values: Any) -> int:
    """Fill in cells of a row of the task sheet, as a keeper does; gives the row's number."""
    book = openpyxl.load_workbook(folder / "club.xlsx")
    page = book["Tasks"]
    header = [cell.value for cell in page[1]]
    for row in page.iter_rows(min_row=2):
        if (row[header.index("Task id")].value, row[header.index("Member")].value) == (task, member):
            for name, value in values.items():
                cell: Any = row[header.index(name.replace("_", " "))]
                cell.value = value
                if isinstance(value, str):
                    cell.data_type = "s"
            book.save(folder / "club.xlsx")
            return int(row[0].row or 0)
    raise AssertionError(f"no task {task} of {member}")


def events(folder: Path) -> dict[str, Any]:
    found = icalendar.Calendar.from_ical((folder / "club.ics").read_bytes()).walk("VEVENT")
    by_uid: dict[str, Any] = {str(event["UID"]): event for event in found}
    assert len(by_uid) == len(found)
    return by_uid


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    for name in ("members.xlsx", "forecast.csv"):
        shutil.copy(DEMO / name, folder)
    done = make(folder, club="Quoll Creek Little Bee Circle")
    assert (done.members, done.plans, done.ignored) == (12, 16, ("Phone",))
    return folder


def test_the_demo_has_dates_times_filters_and_a_frozen_header(demo: Path) -> None:
    book = openpyxl.load_workbook(demo / "club.xlsx")
    assert book.sheetnames == [
        "Tasks", "Mornings", "Season", "Colonies", "Not read", "About", "Lists",
    ]  # fmt: skip
    for name in book.sheetnames[:-2]:
        page: Any = book[name]
        assert page.auto_filter.ref == f"A1:{page.cell(1, page.max_column).coordinate[:-1]}{page.max_row}"
        assert page.freeze_panes is not None and page.freeze_panes.endswith("2")
        assert page.print_title_rows in ("1:1", "$1:$1")
        assert page.page_setup.orientation == "landscape" and page.page_setup.fitToHeight == 0
        for column in page.iter_cols():
            letter = column[0].column_letter
            assert page.column_dimensions[letter].width >= len(str(column[0].value).split(", ")[0]) / 3
    tasks: Any = book["Tasks"]
    header = [cell.value for cell in tasks[1]]
    for row in tasks.iter_rows(min_row=2):
        date = row[0]
        assert date.is_date and isinstance(date.value, dt.datetime) and "yyyy" in date.number_format
        for name in ("From", "Until"):
            value = row[header.index(name)].value
            assert value is None or isinstance(value, dt.time)
    for name in ("Plan", "Task id"):
        letter = tasks.cell(1, header.index(name) + 1).column_letter
        assert tasks.column_dimensions[letter].hidden


def test_pandas_reads_dates_as_dates_and_tasks_in_order(demo: Path) -> None:
    frames = pd.read_excel(demo / "club.xlsx", sheet_name=None)
    tasks = frames["Tasks"]
    assert pd.api.types.is_datetime64_any_dtype(tasks["Date"])
    assert tasks["Date"].is_monotonic_increasing
    # Every task of the 16 plans: twelve of them begin now, and a split alone has some twenty.
    assert tasks["Plan"].nunique() == 16 and len(tasks) > 200
    # The calendar, made another way, has them too, but for those that may never be needed.
    uids = {f"{plan}.{task}@apiary-almanac" for plan, task in zip(tasks["Plan"], tasks["Task id"], strict=True)}
    assert events(demo).keys() <= uids and len(events(demo)) > 180
    assert pd.api.types.is_datetime64_any_dtype(frames["Season"]["Opens"])
    mornings = frames["Mornings"]
    assert (mornings.groupby("Member").size() == 10).all()
    assert set(mornings["Date"]) == set(pd.date_range("2026-09-14", periods=10))
    assert all(isinstance(value, dt.time) for value in mornings["Move from"].dropna())


def test_the_cells_are_the_answers_of_the_engine(demo: Path) -> None:
    site = almanac.Site(
        latitude_deg=-25.53, longitude_deg=152.7, elevation_m=11, zone="Australia/Brisbane"
    )
    bee = "tetragonula_carbonaria"
    season = almanac.season(site, DAY, dt.date(2027, 9, 12), bee=bee)
    assert isinstance(season.outcome, almanac.SeasonOutcomeWindows)
    rows = [row for row in table(demo, "Season") if row["Member"] == "Tobias Fenn"]
    assert [(row["Opens"].date(), row["Closes"].date(), row["Days"]) for row in rows] == [
        (window.opens, window.closes, window.days) for window in season.outcome.windows
    ]
    ranked = almanac.mornings(site, dt.date(2026, 9, 14), 10, bee=bee)
    found = {
        row["Rank"]: row for row in table(demo, "Mornings") if row["Member"] == "Tobias Fenn"
    }
    for each in ranked:
        row, window = found[each.rank], each.morning.window
        assert row["Date"].date() == each.morning.date
        assert isinstance(window, almanac.MoveWindowOpen)
        begins = dt.datetime.combine(each.morning.date, row["Move from"], window.from_.tzinfo)
        ends = dt.datetime.combine(each.morning.date, row["Move until"], window.from_.tzinfo)
        # Drawn in to whole minutes: the window never grows.
        assert window.from_ <= begins < window.from_ + dt.timedelta(minutes=1)
        assert window.until - dt.timedelta(minutes=1) < ends <= window.until


def test_bad_rows_are_listed_and_the_rest_is_done(demo: Path) -> None:
    found = {(row["Row"], row["Column"]): row for row in table(demo, "Not read")}
    assert list(found) == [
        (14, "Coordinates"),
        (15, "Time zone"),
        (16, "Colonies"),
        (16, "Net weights (kg)"),
        (16, "Last division"),
    ]
    assert "allowed is -90 to 90" in found[14, "Coordinates"]["Reason"]
    assert found[15, "Time zone"]["Value"] == "UTC+10"
    assert "IANA" in found[15, "Time zone"]["Reason"]
    assert found[16, "Last division"]["Value"] == "last spring"
    planned = {row["Member"] for row in table(demo, "Tasks")}
    assert "Ines Marrow" in planned
    assert not planned & {"Gretel Moss", "Silas Quill", "Petra Loam"}
    # No colonies: season and mornings, but nothing to divide.
    assert "Nils Arvid" not in planned
    assert "Nils Arvid" in {row["Member"] for row in table(demo, "Season")}
    about = {row[0]: row[1] for row in openpyxl.load_workbook(demo / "club.xlsx")["About"].values}
    assert about["Columns left out"] == "Phone"
    assert "local law" in str(about["law"])


def test_the_calendar_has_the_tasks_of_the_sheet(demo: Path) -> None:
    found = events(demo)
    tasks = table(demo, "Tasks")
    wanted = {f"{row['Plan']}.{row['Task id']}@apiary-almanac" for row in tasks}
    live = {uid for uid, event in found.items() if event["STATUS"] != "CANCELLED"}
    # What may never be needed comes into a calendar 14 days before.
    assert live <= wanted and len(live) > 180
    for row in tasks:
        if f"{row['Plan']}.{row['Task id']}@apiary-almanac" not in live:
            assert row["Date"].date() > DAY + dt.timedelta(14)
            continue
        event = found[f"{row['Plan']}.{row['Task id']}@apiary-almanac"]
        start = event["DTSTART"].dt
        if row["From"] is None:
            assert start == row["Date"].date()
        else:
            # For opening a hive the calendar has one good hour of them.
            hours = [dt.datetime.combine(row["Date"], row[name]) for name in ("From", "Until")]
            assert hours[0] <= start.replace(tzinfo=None) < hours[1]
            assert str(start.tzinfo) == row["Zone"]


def test_the_calendar_says_where_hives_stand_only_when_asked(tmp_path: Path) -> None:
    """RFC 5545, 3.8.1.6 (GEO) and 3.8.1.7 (LOCATION)."""
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path, coordinates=True)
    (place,) = {event["GEO"].to_ical() for event in events(tmp_path).values()}
    assert "-28.81" in place and "153.28" in place
    assert make(tmp_path).calendar_changed
    text = (tmp_path / "club.ics").read_text("utf-8")
    assert "28.81" not in text and "153.28" not in text
    assert not make(tmp_path).calendar_changed


def test_more_plans_than_one_request_takes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    members(tmp_path, *((f"M{number}", *READY) for number in range(5)))
    make(tmp_path)

    def told() -> dict[str, Any]:
        """All but the titles: which of them name the keeper depends on the other plans of a request."""
        kept = ("DTSTART", "DTEND", "SEQUENCE", "STATUS", "TRANSP")
        return {
            uid: [event[name].to_ical() for name in kept if name in event] for uid, event in events(tmp_path).items()
        }

    whole = told()
    (tmp_path / "club.ics").unlink()
    (tmp_path / "club.xlsx").unlink()
    # Two plans or three.
    monkeypatch.setattr(club_ics, "LARGEST_REQUEST", 170_000)
    make(tmp_path)
    assert told() == whole
    text = (tmp_path / "club.ics").read_text("utf-8")
    assert text.count("BEGIN:VTIMEZONE") == 1 and text.count("BEGIN:VCALENDAR") == 1


def test_the_demo_is_what_its_program_writes(tmp_path: Path) -> None:
    program = PROJECT / "docs" / "workbook" / "make_demo.py"
    subprocess.run([sys.executable, str(program), str(tmp_path / "again.xlsx")], check=True)

    def values(path: Path) -> list[Any]:
        return list(openpyxl.load_workbook(path)["Members"].values)

    assert values(tmp_path / "again.xlsx") == values(DEMO / "members.xlsx")


def test_the_script_of_the_page(tmp_path: Path) -> None:
    shutil.copy(DEMO / "members.xlsx", tmp_path)
    shutil.copy(DEMO / "forecast.csv", tmp_path)
    script = PROJECT / "docs" / "workbook" / "club_workbook.py"
    done = subprocess.run(
        [sys.executable, str(script), str(tmp_path / "members.xlsx"), str(tmp_path / "out.xlsx")],
        check=True,
        capture_output=True,
        text=True,
    )
    assert "12 members" in done.stdout and (tmp_path / "out.ics").exists()


RISKY = ("=1+1", "+61 2", "-lead", "@home", "=HYPERLINK(\"x\")", "\t=1", "#N/A")


def test_texts_that_look_like_formulas_stay_texts(tmp_path: Path) -> None:
    members(tmp_path, *((name, *READY) for name in RISKY))
    done = make(tmp_path, club="=cmd()")
    assert done.members == len(RISKY)
    again = make(tmp_path, club="=cmd()")
    assert not again.calendar_changed
    book = openpyxl.load_workbook(tmp_path / "club.xlsx")
    for page in book:
        for row in page.iter_rows():
            for cell in row:
                assert cell.data_type not in ("f", "e"), (page.title, cell.coordinate, cell.value)
                if isinstance(cell.value, str) and cell.value[0] in "=+-@":
                    # The mark that keeps it a text when the cell is edited.
                    assert cell.quotePrefix, (page.title, cell.coordinate)
    with zipfile.ZipFile(tmp_path / "club.xlsx") as package:
        for name in package.namelist():
            if name.startswith("xl/worksheets/sheet"):
                assert b"<f>" not in package.read(name)
    names = {row["Member"] for row in table(tmp_path, "Tasks")}
    assert names == {name.strip() for name in RISKY}


def test_a_run_with_nothing_new_changes_nothing(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY), ("Rizal", "1.35 N, 103.8 E", "Asia/Singapore", 15, 3.4))
    first = make(tmp_path)
    before = (tmp_path / "club.ics").read_bytes(), table(tmp_path, "Tasks")
    again = club_workbook(
        tmp_path / "members.xlsx",
        tmp_path / "club.xlsx",
        today=DAY,
        now=NOW + dt.timedelta(hours=3),
    )
    assert (first.calendar_version, again.calendar_version) == (0, 0)
    assert first.calendar_changed and not again.calendar_changed
    assert ((tmp_path / "club.ics").read_bytes(), table(tmp_path, "Tasks")) == before


def test_dates_once_named_stay_as_the_days_go_by(tmp_path: Path) -> None:
    """Where the season is open all year the engine would name a later date every day."""
    members(tmp_path, ("Rizal", "1.35 N, 103.8 E", "Asia/Singapore", 15, 3.4, dt.date(2024, 1, 1), "strong"))
    make(tmp_path)
    begins = table(tmp_path, "Colonies")[0]["Begins"]
    for days in (1, 2, 3):
        make(tmp_path, DAY + dt.timedelta(days=days))
        assert table(tmp_path, "Colonies")[0]["Begins"] == begins


def test_what_keepers_wrote_is_kept_and_planned_with(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path)
    uids = set(events(tmp_path))
    later = dt.date(2026, 10, 9)
    write(tmp_path, "divide", "Ines", Done_on=dt.date(2026, 10, 5), Notes="=two queen cells")
    write(tmp_path, "egg-check", "Ines", Agreed_for=dt.date(2026, 11, 1), Notes="with Odile")
    done = make(tmp_path, later)
    assert done.refused == () and done.calendar_changed and done.calendar_version == 1
    rows = {row["Task id"]: row for row in table(tmp_path, "Tasks") if row["Member"] == "Ines"}
    assert rows["divide"]["State"] == "done"
    assert rows["divide"]["Date"] == rows["divide"]["Done on"] == dt.datetime(2026, 10, 5)
    assert rows["divide"]["Notes"] == "=two queen cells"
    assert rows["egg-check"]["Date"] == dt.datetime(2026, 11, 1)
    assert rows["egg-check"]["Agreed for"] == dt.datetime(2026, 11, 1)
    assert rows["egg-check"]["Notes"] == "with Odile"
    # The engine says the same of the same records.
    plan = almanac.plan(
        almanac.Site(
            latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney"
        ),
        later,
        "split",
        almanac.Colony(
            name="colony 1",
            net_weight_kg=3.6,
            months_since_division=(later - dt.date(2025, 2, 1)).days / (365.25 / 12),
            strength="strong",
        ),
        records=[almanac.Record(date=dt.date(2026, 10, 5), task="divide")],
        fixed=[almanac.FixedDate(task="egg-check", date=dt.date(2026, 11, 1))],
    )
    dates = {
        task.id: task.dates.best
        for task in plan.tasks
        if task.state.kind != "dropped"
    }
    dates["divide"] = dt.date(2026, 10, 5)
    assert {task: row["Date"].date() for task, row in rows.items()} == dates
    found = events(tmp_path)
    assert uids <= set(found)
    divide = next(uid for uid in found if ".divide@" in uid and uid.startswith("ines"))
    assert ": done: " in str(found[divide]["SUMMARY"])
    assert {int(event["SEQUENCE"]) for event in found.values()} == {1}

    # Eggs are seen: the review says so.
    write(tmp_path, "egg-check", "Ines", Done_on=dt.date(2026, 11, 1), Seen="eggs (daughter), eggs (parent)")
    make(tmp_path, dt.date(2026, 11, 2))
    ines = next(row for row in table(tmp_path, "Colonies") if row["Member"] == "Ines")
    assert ines["Stands"] == "laying queen seen"
    odile = next(row for row in table(tmp_path, "Colonies") if row["Member"] == "Odile")
    assert odile["Stands"] == "not divided yet"


def test_what_cannot_be_read_in_the_task_sheet_is_listed_and_kept(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    divide = write(tmp_path, "divide", "Ines", Done_on="yesterday", Seen="a dragon", Notes="=1+1")
    prepare = write(tmp_path, "prepare", "Ines", Done_on=dt.date(2027, 1, 1))
    eggs = write(tmp_path, "egg-check", "Ines", Agreed_for=dt.date(2026, 9, 15), Seen="eggs")
    done = make(tmp_path)
    assert done.members == 1 and done.plans == 1
    found = {(each.sheet, each.row, each.column): each for each in done.refused}
    assert set(found) == {
        ("Tasks", divide, "Done on"),
        ("Tasks", divide, "Seen"),
        ("Tasks", prepare, "Done on"),
        ("Tasks", eggs, "Agreed for"),
        ("Tasks", eggs, "Seen"),
    }
    assert "laying queen" in found["Tasks", divide, "Seen"].reason
    assert "after today" in found["Tasks", prepare, "Done on"].reason
    assert found["Tasks", eggs, "Agreed for"].value == "2026-09-15"
    rows = {row["Task id"]: row for row in table(tmp_path, "Tasks")}
    assert rows["divide"]["Done on"] == "yesterday" and rows["divide"]["Seen"] == "a dragon"
    assert rows["divide"]["Notes"] == "=1+1"
    assert rows["prepare"]["Done on"] == dt.datetime(2027, 1, 1)


def test_a_finished_plan_is_followed_by_a_new_one(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    for row in table(tmp_path, "Tasks"):
        write(tmp_path, row["Task id"], "Ines", Done_on=dt.date(2026, 9, 13))
    make(tmp_path)
    rows = table(tmp_path, "Tasks")
    plans = {row["Plan"][-2:] for row in rows}
    assert plans == {"-1", "-2"}
    finished = [row for row in rows if row["Plan"].endswith("-1")]
    assert all(row["State"] == "done" and row["Done on"] for row in finished)
    assert {row["Plan"][-2:] for row in table(tmp_path, "Colonies")} == {"-2"}


def test_events_of_who_left_are_cancelled_and_their_notes_stay(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY), ("Odile", *READY), ("Rizal", *READY))
    make(tmp_path)
    write(tmp_path, "divide", "Odile", Notes="ask her brother")
    members(tmp_path, ("Ines", *READY), ("Rizal", *READY))
    # Who is not on the list may have been forgotten.
    before = table(tmp_path, "Tasks"), events(tmp_path)
    done = make(tmp_path)
    assert (done.missing, done.kept, done.calendar_changed) == (("Odile",), (), False)
    assert len(table(tmp_path, "Tasks")) == len(before[0]) and events(tmp_path) == before[1]
    assert {row["State"] for row in table(tmp_path, "Tasks") if row["Member"] == "Odile"} == {"not renewed"}
    (season,) = (row for row in table(tmp_path, "Season") if row["Member"] == "Odile")
    assert season["Remarks"].count("not on the list") == 1
    done = make(tmp_path, left=True)
    assert (done.missing, done.calendar_version) == ((), 1)
    found = events(tmp_path)
    odile = [event for uid, event in found.items() if uid.startswith("odile")]
    assert odile and all(event["STATUS"] == "CANCELLED" for event in odile)
    assert all(not event.walk("VALARM") and event["SEQUENCE"] == 1 for event in odile)
    assert all(
        event["STATUS"] == "CONFIRMED" for uid, event in found.items() if not uid.startswith("odile")
    )
    for line in (tmp_path / "club.ics").read_bytes().split(b"\r\n"):
        assert len(line) <= 75
    (row,) = (row for row in table(tmp_path, "Tasks") if row["Member"] == "Odile")
    assert (row["Notes"], row["State"]) == ("ask her brother", "no longer planned")
    # And once more: they are not cancelled again, and nobody asks for her.
    done = make(tmp_path)
    assert (done.calendar_changed, done.missing) == (False, ())


def test_what_is_ahead_is_judged_by_the_day_that_was_given(tmp_path: Path) -> None:
    """Events before that day stay as they were, whoever has left since."""
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path)
    before = {uid: event for uid, event in events(tmp_path).items() if uid.startswith("odile")}
    days = sorted({row["Date"].date() for row in table(tmp_path, "Tasks") if row["Member"] == "Odile"})
    later = days[len(days) // 2]
    members(tmp_path, ("Ines", *READY))
    make(tmp_path, later, left=True)
    after = events(tmp_path)
    assert before.keys() <= after.keys()
    for uid, event in before.items():
        start = event["DTSTART"].dt
        past = (start.date() if isinstance(start, dt.datetime) else start) < later
        assert after[uid]["STATUS"] == ("CONFIRMED" if past else "CANCELLED"), uid
        if past:
            assert after[uid] == event


def test_sheets_that_somebody_added_stay(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    book = openpyxl.load_workbook(tmp_path / "club.xlsx")
    book.create_sheet("Phone tree")["A1"] = "call Ines first"
    book.save(tmp_path / "club.xlsx")
    make(tmp_path)
    book = openpyxl.load_workbook(tmp_path / "club.xlsx")
    assert book.sheetnames == [
        "Tasks", "Mornings", "Season", "Colonies", "Not read", "About", "Phone tree", "Lists",
    ]  # fmt: skip
    assert book["Phone tree"]["A1"].value == "call Ines first"


def test_what_people_make_of_the_sheets_stays(tmp_path: Path) -> None:
    """Columns of their own with formulas, comments, colours, widths, a filter, the order of columns, a rule
    for colours, links: done with openpyxl as a keeper does it in a spreadsheet, and read with it again."""
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path)
    book = openpyxl.load_workbook(tmp_path / "club.xlsx")
    page: Any = book["Tasks"]
    header = [cell.value for cell in page[1]]
    page.cell(1, 24, "Who helps")
    page.cell(1, 25, "Ends")
    for number in range(2, page.max_row + 1):
        page.cell(number, 25, f"=A{number}+1").number_format = "yyyy-mm-dd"
    at = {name: header.index(name) + 1 for name in header}

    def row_of(sheet: Any, task: str, member: str) -> int:
        return next(
            int(row[0].row)
            for row in sheet.iter_rows(min_row=2)
            if (row[at["Task id"] - 1].value, row[at["Member"] - 1].value) == (task, member)
        )

    red = openpyxl.styles.PatternFill("solid", fgColor="FF0000")
    number = row_of(page, "divide", "Odile")
    page.cell(number, 24, "Rizal, with the trailer")
    page.cell(number, at["Task"]).fill = red
    page.cell(number, at["Date"]).font = openpyxl.styles.Font(bold=True)
    page.cell(number, at["Task"]).comment = openpyxl.comments.Comment("bring two boxes", "Rizal")
    page.cell(number, at["Look for"]).hyperlink = "https://example.org/plan"
    page.column_dimensions["G"].width = 61
    page.column_dimensions["L"].hidden = True
    page.auto_filter.add_filter_column(at["Member"] - 1, ["Odile"])
    page.freeze_panes = "C2"
    rules: Any = openpyxl.formatting.rule
    rule = rules.CellIsRule(operator="equal", formula=['"done"'], fill=red)
    page.conditional_formatting.add(f"N2:N{page.max_row}", rule)
    colonies: Any = book["Colonies"]
    colonies.cell(1, 14, "Shelf")
    colonies.cell(2, 14, "by the gate")
    whose = colonies.cell(2, 1).value
    mornings: Any = book["Mornings"]
    mornings.cell(2, 2).comment = openpyxl.comments.Comment("nobody there", "Rizal")
    morning = mornings.cell(2, 1).value, mornings.cell(2, 2).value
    book.move_sheet("About", -5)
    book.save(tmp_path / "club.xlsx")

    # Others come before, days pass, Odile has divided.
    write(tmp_path, "divide", "Odile", Done_on=dt.date(2026, 10, 5))
    members(tmp_path, ("Anselm", *READY), ("Ines", *READY), ("Odile", *READY))
    later = dt.date(2026, 10, 9)
    for _ in range(2):
        make(tmp_path, later)
        book = openpyxl.load_workbook(tmp_path / "club.xlsx")
        assert book.sheetnames[0] == "About"
        page = book["Tasks"]
        again = row_of(page, "divide", "Odile")
        assert again != number
        assert page.cell(again, 24).value == "Rizal, with the trailer"
        assert page.cell(again, 25).value == f"=A{again}+1"
        assert page.cell(again, 25).number_format == "yyyy-mm-dd"
        assert page.cell(again, at["Task"]).fill.fgColor.rgb == "00FF0000"
        assert page.cell(again, at["Date"]).font.b and page.cell(again, at["Date"]).is_date
        assert page.cell(again, at["Task"]).comment.text == "bring two boxes"
        assert page.cell(again, at["Look for"]).hyperlink.target == "https://example.org/plan"
        assert page.cell(row_of(page, "divide", "Ines"), at["Task"]).fill.fgColor.rgb != "00FF0000"
        assert sum(1 for row in page.iter_rows() for cell in row if cell.comment) == 1
        assert page.column_dimensions["G"].width == 61 and page.column_dimensions["L"].hidden
        assert page.freeze_panes == "C2"
        assert page.auto_filter.ref == f"A1:Y{page.max_row}"
        for row in page.iter_rows(min_row=2):
            hidden = bool(page.row_dimensions[row[0].row].hidden)
            assert hidden == (row[at["Member"] - 1].value != "Odile")
        (formatting,) = page.conditional_formatting
        assert str(formatting.sqref) == f"N2:N{page.max_row}"
        assert len(page.data_validations.dataValidation) == len(
            [name for name in header if name in ("Done on", "Agreed for", "Outcome", "Seen", "Strength")]
        )
        (colony,) = (row for row in table(tmp_path, "Colonies") if row["Member"] == whose)
        assert colony["Shelf"] == "by the gate"
        assert morning in [(row["Member"], row["Date"]) for row in table(tmp_path, "Mornings")]


def test_a_comment_alone_keeps_its_row(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path)
    book = openpyxl.load_workbook(tmp_path / "club.xlsx")
    page: Any = book["Tasks"]
    number = next(row[0].row for row in page.iter_rows(min_row=2) if row[3].value == "Odile")
    page.cell(number, 7).comment = openpyxl.comments.Comment("her brother has the key", "Ines")
    book.save(tmp_path / "club.xlsx")
    members(tmp_path, ("Ines", *READY))
    make(tmp_path, left=True)
    page = openpyxl.load_workbook(tmp_path / "club.xlsx")["Tasks"]
    (row,) = (row for row in page.iter_rows(min_row=2) if row[3].value == "Odile")
    assert row[6].comment.text == "her brother has the key"


def test_files_of_another_kind_are_not_overwritten(tmp_path: Path) -> None:
    path = members(tmp_path, ("Ines", *READY))
    other = tmp_path / "club.xlsx"
    openpyxl.Workbook().save(other)
    with pytest.raises(Refused, match="not overwritten"):
        make(tmp_path)
    other.write_text("a letter")
    with pytest.raises(Refused, match="not overwritten"):
        make(tmp_path)
    other.unlink()
    (tmp_path / "club.ics").write_text("a letter")
    with pytest.raises(Refused, match="not overwritten"):
        make(tmp_path)
    with pytest.raises(Refused, match="three different files"):
        club_workbook(path, path, today=DAY)
    (tmp_path / "club.ics").unlink()
    with pytest.raises(almanac.ApiaryError, match="1 to 60"):
        make(tmp_path, mornings=0)
    with pytest.raises(almanac.ApiaryError, match="eduction"):
        make(tmp_path, method="hope")
    with pytest.raises(Refused, match="cannot be written"):
        club_workbook(path, tmp_path / "no-such-folder" / "club.xlsx", today=DAY)
    # Without its hidden columns no note would find its task.
    make(tmp_path)
    book = openpyxl.load_workbook(other)
    book["Tasks"].delete_cols(22, 2)
    book.save(other)
    with pytest.raises(Refused, match="'Plan'"):
        make(tmp_path)


def test_headers_in_any_order_and_by_several_names(tmp_path: Path) -> None:
    members(
        tmp_path,
        (3.6, "28° 48′ 36″ S", "153,28", "Australia/Sydney", "Ines", "x", "Tetragonula carbonaria", 12),
        header=("NET WEIGHT [kg]", "lat.", "Long", "time zone", "Member", "Shoe size", "Species", "Altitude (m)"),
    )  # fmt: skip
    done = make(tmp_path)
    assert (done.members, done.refused, done.ignored) == (1, (), ("Shoe size",))
    (row, *_) = table(tmp_path, "Season")
    assert (row["Latitude, °"], row["Longitude, °"], row["Height, m"]) == (-28.81, 153.28, 12)
    assert row["Bee"] == "Tetragonula carbonaria"
    notes = table(tmp_path, "Colonies")[0]["Notes"]
    assert "3.6 kg without the box" in notes


@pytest.mark.parametrize(
    ("header", "told"),
    [
        (("Name", "Zone"), "no column 'Coordinates' or 'Latitude'"),
        (("Coordinates", "Zone"), "no column 'Name' among"),
        (("Name", "Member", "Zone", "Coordinates"), "mean the same"),
    ],
)
def test_headers_that_lack_something(tmp_path: Path, header: tuple[str, ...], told: str) -> None:
    members(tmp_path, ("a", "b", "c", "d"), header=header)
    with pytest.raises(Refused, match=told):
        make(tmp_path)


@pytest.mark.parametrize(
    ("row", "column", "told"),
    [
        (("", *READY), "Name", "a name"),
        (("B", "here", *READY[1:]), "Coordinates", "28°48'36\"S"),
        (("B", None, *READY[1:]), "Coordinates", "coordinates are needed"),
        (("B", "-25.5, 130.0", "", *READY[2:]), "Zone", "time zone"),
        (("B", READY[0], "Mars/Base", *READY[2:]), "Zone", "IANA"),
        (("B", *READY[:2], "high", *READY[3:]), "Elevation", "number"),
        # On a small island the height of the land around is not known, and on a highland sea level would open
        # the season months too early.
        (("B", "-28.81, 170", "Pacific/Auckland", None, *READY[3:]), "Elevation", "needed"),
        (("B", *READY[:2], "1,795", *READY[3:]), "Elevation", "1795 or 1.795"),
        (("B", *READY[:2], 90000, *READY[3:]), "Elevation", "allowed"),
        (("B", *READY[:3], "3.6; x", *READY[4:]), "Weights", "number"),
        (("B", *READY[:3], 3600, *READY[4:]), "Weights", "0.05 to 100 kg"),
        (("B", *READY[:4], "spring", READY[5]), "Last division", "2026-09-28"),
        (("B", *READY[:4], dt.date(2027, 1, 1), READY[5]), "Last division", "after"),
        (("B", *READY[:5], "mighty"), "Strength", "weak"),
        (("a", *READY), "Name", "same name"),
    ],
)  # fmt: skip
def test_every_bad_cell_is_named(
    tmp_path: Path, row: tuple[Any, ...], column: str, told: str
) -> None:
    members(tmp_path, ("A", *READY), row)
    done = make(tmp_path)
    assert done.members == 1
    (problem,) = done.refused
    assert (problem.row, problem.column) == (3, column)
    assert told in problem.reason
    if row[HEADER.index(column)]:
        assert problem.value


def test_tables_beside_the_workbook(tmp_path: Path) -> None:
    header = ("Name", "Coordinates", "Zone", "Elevation", "Forecast file")
    shutil.copy(DEMO / "forecast.csv", tmp_path)
    (tmp_path / "bad.csv").write_text("date,minimum_c,maximum_c\n2026-09-14,warm,24\n")
    place = ("-28.81, 153.28", "Australia/Sydney", 12)
    members(
        tmp_path,
        ("A", *place, "forecast.csv"),
        ("B", *place, "bad.csv"),
        ("C", *place, "none.csv"),
        ("D", *place, "../secret.csv"),
        header=header,
    )
    done = make(tmp_path)
    assert done.members == 1
    told = {each.row: each for each in done.refused}
    assert "bad.csv, line 2" in told[3].reason and told[3].column == "Forecast file"
    assert "cannot be read" in told[4].reason
    assert "beside the workbook" in told[5].reason
    assert {row["Weather from"] for row in table(tmp_path, "Mornings")} == {"forecast"}


def test_each_hive_takes_the_nearest_forecast(tmp_path: Path) -> None:
    """A degree of latitude is 111.2 km on a sphere of 6371 km radius, by hand."""
    header, *days = (DEMO / "forecast.csv").read_text("utf-8").splitlines()
    lines = [f"Latitude,Longitude,{header}"]
    for place in ("-29.0,153.28", "-28.7,153.28"):
        lines += [f"{place},{day}" for day in days]
    folder = tmp_path / "forecasts"
    folder.mkdir()
    (folder / "north.csv").write_text("\n".join(lines), "utf-8")
    (tmp_path / "own.csv").write_text("\n".join([header, *days]), "utf-8")
    zone = "Australia/Sydney"
    members(
        tmp_path,
        ("Near", "-28.81, 153.28", zone, 12, None),
        ("Far", "-33.43, 151.34", zone, 12, None),
        ("Own", "-28.81, 153.28", zone, 12, "own.csv"),
        header=("Name", "Coordinates", "Zone", "Elevation", "Forecast file"),
    )
    make(tmp_path, forecasts=folder)
    told = {row["Member"]: str(row["Remarks"]) for row in table(tmp_path, "Season")}
    source = {row["Member"]: row["Weather from"] for row in table(tmp_path, "Mornings")}
    assert source == {"Near": "forecast", "Far": "usual there", "Own": "forecast"}
    assert "north.csv, of -28.7, 153.28, 12 km away" in told["Near"]
    assert "km away" not in told["Far"] + told["Own"]
    make(tmp_path, forecasts=folder / "north.csv", forecast_within_km=12)
    assert {row["Weather from"] for row in table(tmp_path, "Mornings") if row["Member"] == "Near"} == {"usual there"}
    (folder / "north.csv").write_text("date,minimum_c\n2026-09-14,3\n", "utf-8")
    with pytest.raises(Refused, match="Latitude and Longitude"):
        make(tmp_path, forecasts=folder)
    (folder / "north.csv").write_text("lat,lon,date\nhere,153,2026-09-14\n", "utf-8")
    with pytest.raises(Refused, match="line 2: latitude and longitude"):
        make(tmp_path, forecasts=folder)
    (folder / "north.csv").unlink()
    with pytest.raises(Refused, match="no .csv file"):
        make(tmp_path, forecasts=folder)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("-28.81, 153.28", (-28.81, 153.28)),
        ("-28.81,153.28", (-28.81, 153.28)),
        ("28.81 S, 153.28 E", (-28.81, 153.28)),
        ("S 28.81; E 153.28", (-28.81, 153.28)),
        ("-28,81; 153,28", (-28.81, 153.28)),
        ("28°48'36\"S 153°16'48\"E", (-28.81, 153.28)),
        ("28° 48′ 36″ S, 153° 16′ 48″ E", (-28.81, 153.28)),
        ("20.97 -89.62", (20.97, -89.62)),
        ("\N{MINUS SIGN}28.81, 153.28", (-28.81, 153.28)),
        ("20.97° N, 89.62° W", (20.97, -89.62)),
    ],
)
def test_coordinates_as_people_write_them(text: str, place: tuple[float, float]) -> None:
    assert coordinates(text) == pytest.approx(place, abs=1e-9)


@pytest.mark.parametrize(
    "text", ["", "28.81", "E 28.81, S 153.28", "-28.81 S, 153.28", "1, 2, 3", "28°61′ S, 153 E", "north"]
)
def test_coordinates_that_are_none(text: str) -> None:
    with pytest.raises(cells.NotUnderstood):
        coordinates(text)


@pytest.mark.parametrize(
    ("given", "value"),
    [
        ("1795", 1795),
        ("1795.5", 1795.5),
        ("1795,5", 1795.5),
        ("1,795.5", 1795.5),
        ("1.795,5", 1795.5),
        ("1 795", 1795),
        ("1\N{NO-BREAK SPACE}795,25", 1795.25),
        ("1'795", 1795),
        ("1,234,567", 1234567),
        ("0,125", 0.125),
        ("12.3456", 12.3456),
        ("\N{MINUS SIGN}3", -3),
        (" +.5 ", 0.5),
    ],
)
def test_numbers_as_people_write_them(given: str, value: float) -> None:
    assert cells.number(given) == value


@pytest.mark.parametrize("text", ["", "three", "1,795", "1.795", "-12,000", "1,2,3", "1,23,456", "1e5", "nan", "3."])
def test_numbers_that_are_none_or_two(text: str) -> None:
    with pytest.raises(cells.NotUnderstood):
        cells.number(text)


def test_units_in_headers_and_cells(tmp_path: Path) -> None:
    """Foot and pound by the international yard and pound agreement of 1959: 0.3048 m, 0.45359237 kg."""
    zone = "Australia/Sydney"
    members(
        tmp_path,
        ("Header", 28.81, 153.28, zone, 1000, 8),
        ("Cell", "28.81", "153.28", zone, "300 m", "3.6 kg; 3600 g"),
        ("Side", "28.81 S", "153.28 E", zone, "1,000.0 ft", "7.5 lb"),
        ("Minus", -28.81, 153.28, zone, "1000", "8 lbs"),
        ("Wrong", -28.81, 153.28, zone, "9 yards", 8),
        ("North", "28.81 N", 86.0, "Asia/Kathmandu", 400, 8),
        header=("Name", "Latitude (S)", "Longitude (E)", "Zone", "Elevation (ft)", "Weights in lb"),
    )
    read = read_members(tmp_path / "members.xlsx", None)
    (problem,) = read.problems
    assert (problem.row, problem.column) == (6, "Elevation (ft)") and "'yards'" in problem.reason
    found = {
        each.name: (
            each.site["latitude_deg"],
            each.site["elevation_m"],
            *(colony.net_weight_kg for colony in each.colonies),
        )
        for each in read.members
    }
    pound = 0.45359237
    assert found == {
        "Header": (-28.81, pytest.approx(304.8), 8 * pound),
        "Cell": (-28.81, 300, 3.6, 3.6),
        "Side": (-28.81, pytest.approx(304.8), 7.5 * pound),
        "Minus": (-28.81, pytest.approx(304.8), 8 * pound),
        "North": (28.81, pytest.approx(121.92), 8 * pound),
    }


def test_who_cannot_be_read_keeps_the_last_good_plan(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path)
    write(tmp_path, "divide", "Odile", Notes="ask her brother")
    before = {row["Task id"]: row for row in table(tmp_path, "Tasks") if row["Member"] == "Odile"}
    planned = {uid: event.to_ical() for uid, event in events(tmp_path).items() if uid.startswith("odile")}
    # All but those that may never be needed and are far off.
    assert len(before) > 10 and len(before) - 4 < len(planned) <= len(before)

    broken = ("Odile", *READY[:3], "about 3", *READY[4:])
    later = DAY + dt.timedelta(days=4)
    for row in (broken, ("", *broken[1:]), ("Odile", READY[0], "Mars/Base", *READY[2:])):
        members(tmp_path, ("Ines", *READY), row)
        done = make(tmp_path, later)
        assert (done.members, done.kept) == (1, ("Odile",))
        rows = {row["Task id"]: row for row in table(tmp_path, "Tasks") if row["Member"] == "Odile"}
        assert {row.pop("State") for row in rows.values()} == {"not renewed"}
        assert rows == {
            task: {name: cell for name, cell in row.items() if name != "State"}
            for task, row in before.items()
        }
        found = events(tmp_path)
        assert {uid: found[uid].to_ical() for uid in planned} == planned
        (colony,) = (row for row in table(tmp_path, "Colonies") if row["Member"] == "Odile")
        assert str(colony["Notes"]).count("cannot be read") == 1
        mornings = [row for row in table(tmp_path, "Mornings") if row["Member"] == "Odile"]
        assert mornings and all(row["Date"].date() > later for row in mornings)
    assert not make(tmp_path, later).calendar_changed

    # Once the row is right again, so is the plan, under its old name.
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    done = make(tmp_path, later)
    assert (done.members, done.kept) == (2, ())
    rows = {row["Task id"]: row for row in table(tmp_path, "Tasks") if row["Member"] == "Odile"}
    assert rows["divide"]["Notes"] == "ask her brother"
    assert {row["Plan"] for row in rows.values()} == {row["Plan"] for row in before.values()}
    assert all(event["STATUS"] == "CONFIRMED" for event in events(tmp_path).values())


def test_a_list_does_not_overwrite_the_workbook_of_another(tmp_path: Path) -> None:
    path = members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    before = (tmp_path / "club.xlsx").read_bytes()
    other = path.rename(tmp_path / "other.xlsx")
    with pytest.raises(Refused, match="made from another list .*members.xlsx.*--renamed"):
        club_workbook(other, tmp_path / "club.xlsx", today=DAY)
    assert (tmp_path / "club.xlsx").read_bytes() == before
    club_workbook(other, tmp_path / "club.xlsx", today=DAY, renamed=True)
    # It is bound to its new name now.
    assert club_workbook(other, tmp_path / "club.xlsx", today=DAY).members == 1


def test_seasons_and_mornings_without_a_plan(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY))
    done = make(tmp_path, method=None)
    assert (done.members, done.plans, done.mornings) == (1, 0, 10)
    assert (done.calendar, done.calendar_version, done.calendar_changed) == (None, None, False)
    assert not (tmp_path / "club.ics").exists()
    # What was planned before is taken out of everybody's calendar.
    assert make(tmp_path).calendar_version == 0
    done = make(tmp_path, method=None)
    assert done.calendar_version == 1 and done.calendar_changed
    assert {str(event["STATUS"]) for event in events(tmp_path).values()} == {"CANCELLED"}
    assert not make(tmp_path, method=None).calendar_changed


def test_every_source_of_temperatures_has_words() -> None:
    assert set(WEATHER) == set(get_args(almanac.TemperatureSource))
    assert not any("_" in words for words in WEATHER.values())


@pytest.mark.parametrize("part", ["xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/styles.xml"])
@pytest.mark.parametrize("damage", [b"", b"<", b"<a/>", b"\x00" * 40])
def test_damaged_workbooks_are_refused_in_words(tmp_path: Path, part: str, damage: bytes) -> None:
    path = members(tmp_path, ("Ines", *READY))
    with zipfile.ZipFile(path) as whole:
        parts = {name: whole.read(name) for name in whole.namelist()}
    with zipfile.ZipFile(path, "w") as broken:
        for name, content in parts.items():
            broken.writestr(name, damage if name == part else content)
    try:
        done = make(tmp_path)
    except Refused as problem:
        assert "is not a workbook" in str(problem) or "is empty" in str(problem)
        assert not (tmp_path / "club.xlsx").exists()
    else:
        # Looks can be lost without losing what is said.
        assert part == "xl/styles.xml" and done.members == 1


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Eggs (daughter), steady streams: parent; guards", ["eggs daughter", "steady_streams parent", "guards"]),
        ("eggs (both)", ["eggs parent", "eggs daughter"]),
        ("12 males turned out (new box)", ["males_turned_out daughter 12"]),
        ("eggs both", ["eggs parent", "eggs daughter"]),
        ("eggs in Candle", ["eggs daughter"]),
        ("eggs at the old box, guard (Candle)", ["eggs parent", "guards daughter"]),
        ("no eggs", ["no_eggs"]),
        ("No eggs in the new box", ["no_eggs daughter"]),
        ("no eggs (Lantern)\nbrood", ["no_eggs parent", "brood"]),
        ("Laying queen (new)", ["laying_queen daughter"]),
        (None, []),
    ],
)
def test_signs_with_their_boxes(text: str | None, found: list[str]) -> None:
    boxes = {"Lantern": "parent", "Candle": "daughter"}
    assert [" ".join(map(str, sign.values())) for sign in seen(text, boxes)] == found


@pytest.mark.parametrize(
    ("text", "told"),
    [("eggs (attic)", "'attic' is no box; known are Lantern, old box"), ("a dragon", "'a dragon' is not known"),
     ("honey in Candle", "'honey' is not known")],
)  # fmt: skip
def test_signs_that_are_none(text: str, told: str) -> None:
    with pytest.raises(cells.NotUnderstood, match=told):
        seen(text, {"Lantern": "parent"})


def test_every_sign_is_read_as_the_list_in_the_cell_offers_it(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    book = openpyxl.load_workbook(tmp_path / "club.xlsx")
    signs, outcomes, strengths = ([str(one) for one in column if one] for column in zip(*book["Lists"].values, strict=True))
    assert book["Lists"].sheet_state == "hidden" and len(signs) == 2 * len(SIGNS)
    assert all(len(seen(text, {})) == 1 for text in signs)
    assert {outcome(text, {})["outcome"] for text in outcomes} == set(get_args(almanac.Outcome))
    assert tuple(map(strength, strengths)) == get_args(almanac.Strength)
    page: Any = book["Tasks"]
    rules = {
        page.cell(1, next(iter(one.sqref.ranges)).min_col).value: one
        for one in page.data_validations.dataValidation
        if one.type == "list"
    }
    assert rules["Seen"].formula1 == f"Lists!$A$1:$A${len(signs)}" and not rules["Seen"].showErrorMessage
    assert rules["Outcome"].formula1 == f"Lists!$B$1:$B${len(outcomes)}" and not rules["Outcome"].showErrorMessage
    assert rules["Strength"].formula1 == f"Lists!$C$1:$C${len(strengths)}" and rules["Strength"].showErrorMessage


BOXES = {"Lantern": "parent", "Candle": "daughter"}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (None, {}),
        ("eggs seen", {"outcome": "eggs_seen"}),
        ("Gave brood (old box)", {"outcome": "gave_brood", "which": "parent"}),
        ("box empty in Candle", {"outcome": "box_empty", "which": "daughter"}),
        ("joined (both)", {"outcome": "joined", "which": "pair"}),
    ],
)
def test_outcomes_are_read(text: str | None, found: dict[str, str]) -> None:
    assert outcome(text, BOXES) == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (None, []),
        ("new box 40, 5, 2", [{"which": "daughter", "counted": {"home": 40, "pollen": 5, "resin": 2}}]),
        (
            "Candle: 40; old box = 55,6\nneighbour 90, 30",
            [
                {"which": "daughter", "counted": {"home": 40}, "neighbour": {"home": 90, "pollen": 30}},
                {"which": "parent", "counted": {"home": 55, "pollen": 6}, "neighbour": {"home": 90, "pollen": 30}},
            ],
        ),
    ],
)
def test_counts_are_read(text: str | None, found: list[dict[str, Any]]) -> None:
    assert counted(text, BOXES) == found


@pytest.mark.parametrize(
    ("read", "text", "told"),
    [
        (outcome, "went well", "'went well' is not known; known are done, not possible"),
        (outcome, "gave brood (shed)", "'shed' is no box"),
        (counted, "40", "is no count; allowed are bees that came home"),
        (counted, "new box 1, 2, 3, 4", "is no count"),
        (counted, "both 40", "each box is counted by itself"),
        (counted, "neighbour 90", "the count at the box is needed"),
        (lambda text, _: strength(text), "mighty", "known are weak, medium, strong"),
    ],
)
def test_outcomes_and_counts_that_are_none(read: Any, text: str, told: str) -> None:
    with pytest.raises(cells.NotUnderstood, match=told):
        read(text, BOXES)


def test_outcomes_counts_and_strength_are_records(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path)
    divided = next(row["Date"] for row in table(tmp_path, "Tasks") if row["Task id"] == "divide").date()
    write(tmp_path, "divide", "Ines", Done_on=divided, Counts="new box 40, 5, 2; neighbour 90, 30, 4", Strength="medium")
    write(tmp_path, "divide", "Odile", Done_on=divided, Outcome="not possible", Notes="too windy")
    make(tmp_path, divided + dt.timedelta(1))
    rows = {(row["Member"], row["Task id"]): row for row in table(tmp_path, "Tasks")}
    ines, odile = rows["Ines", "divide"], rows["Odile", "divide"]
    assert ines["State"] == "done" and ines["Counts"] == "new box 40, 5, 2; neighbour 90, 30, 4"
    assert ines["Strength"] == "medium"
    # What was tried in vain is still due, and what was written stays.
    assert odile["State"] == "planned" and odile["Date"].date() > divided
    assert (odile["Outcome"], odile["Notes"]) == ("not possible", "too windy")
    # The new box is found empty: its tasks end, and the plan says so.
    write(tmp_path, "divide", "Ines", Outcome="box empty (new box)")
    make(tmp_path, divided + dt.timedelta(1))
    left = [row for row in table(tmp_path, "Tasks") if row["Member"] == "Ines" and row["State"] == "planned"]
    assert left and not [row for row in left if row["Box"] == "new box"]


def test_a_task_that_was_tried_in_vain_is_never_called_done(tmp_path: Path) -> None:
    """Nor when its colony turned out to be too weak, and nothing is planned any more."""
    members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    write(tmp_path, "divide", "Ines", Done_on=DAY, Outcome="Not possible", Strength="weak")
    make(tmp_path, DAY + dt.timedelta(1))
    (divide,) = (row for row in table(tmp_path, "Tasks") if row["Task id"] == "divide")
    assert divide["State"] == "no longer planned" and divide["Outcome"] == "Not possible"


def test_a_task_that_was_tried_in_vain_is_not_done_when_its_member_is_missing(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path)
    write(tmp_path, "divide", "Odile", Done_on=DAY, Outcome="not possible")
    write(tmp_path, "prepare", "Odile", Done_on=DAY)
    members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    states = {row["Task id"]: row["State"] for row in table(tmp_path, "Tasks") if row["Member"] == "Odile"}
    assert states.pop("prepare") == "done" and set(states.values()) == {"not renewed"}
    make(tmp_path, left=True)
    states = {row["Task id"]: row["State"] for row in table(tmp_path, "Tasks") if row["Member"] == "Odile"}
    assert states == {"divide": "no longer planned", "prepare": "done"}


@pytest.mark.parametrize(
    ("column", "value"),
    [
        # More bees with pollen than bees.
        ("Counts", "new box 5, 40, 2"),
        ("Seen", "9999999 males turned out (old box)"),
    ],
)
def test_what_the_engine_refuses_is_listed_under_its_own_column(tmp_path: Path, column: str, value: str) -> None:
    members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    number = write(tmp_path, "divide", "Ines", **{"Done_on": DAY, column: value})
    (refused,) = make(tmp_path).refused
    assert (refused.row, refused.column, refused.value) == (number, column, value)


def test_outcomes_without_a_date_are_asked_for_it(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY))
    make(tmp_path)
    number = write(tmp_path, "divide", "Ines", Outcome="done", Counts="new box 40", Strength="weak")
    done = make(tmp_path)
    assert [(each.row, each.column) for each in done.refused] == [
        (number, "Outcome"), (number, "Counts"), (number, "Strength"),
    ]  # fmt: skip
    assert all("Done on" in each.reason for each in done.refused)


def test_copies_that_members_sent_back_are_merged(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY), ("Odile", *READY))
    make(tmp_path)
    original = (tmp_path / "club.xlsx").read_bytes()
    write(tmp_path, "divide", "Odile", Done_on=dt.date(2026, 9, 12), Notes="two cells")
    write(tmp_path, "prepare", "Odile", Notes="no tape left")
    sent = (tmp_path / "club.xlsx").rename(tmp_path / "from Odile.xlsx")
    (tmp_path / "club.xlsx").write_bytes(original)
    write(tmp_path, "prepare", "Odile", Notes="ask for tape")
    write(tmp_path, "divide", "Odile", Notes="two")
    write(tmp_path, "divide", "Ines", Notes="mine")
    done = make(tmp_path, copies=[sent])
    assert len(done.taken) == 2 and all("from Odile.xlsx: Odile" in each for each in done.taken)
    (differing,) = done.differing
    assert "'no tape left'; the workbook has 'ask for tape' and keeps it" in differing
    rows = {(row["Member"], row["Task id"]): row for row in table(tmp_path, "Tasks")}
    assert rows["Odile", "divide"]["State"] == "done"
    assert rows["Odile", "divide"]["Notes"] == "two cells"
    assert rows["Odile", "prepare"]["Notes"] == "ask for tape"
    assert rows["Ines", "divide"]["Notes"] == "mine"
    # Nothing is taken twice.
    assert make(tmp_path, copies=[sent]).taken == ()
    # A copy from a time when there were other tasks.
    members(tmp_path, ("Ines", *READY), ("Rizal", *READY))
    (tmp_path / "club.xlsx").unlink()
    make(tmp_path)
    done = make(tmp_path, copies=[sent])
    assert done.taken == () and all("not in the workbook" in each for each in done.differing)


def test_a_page_and_a_calendar_for_each_member(tmp_path: Path) -> None:
    """HTML read with the parser of the standard library, calendars with the icalendar library."""
    members(tmp_path, ("Ines <b>", *READY), ("=Odile", *READY), ("Nils", *READY[:3], None))
    done = make(tmp_path, pages=tmp_path / "pages", club="Quoll & Co")
    assert {path.suffix for path in done.pages} == {".html", ".ics", ".csv"} and len(done.pages) == 10
    index = (tmp_path / "pages" / "index.html").read_text("utf-8")
    for page in done.pages[1:]:
        assert f'href="{page.name}"' in index
    tasks = table(tmp_path, "Tasks")
    for name, shown in (("Ines <b>", "Ines &lt;b&gt;"), ("=Odile", "=Odile")):
        stem = plan_stem(name)
        text = (tmp_path / "pages" / f"{stem}.html").read_text("utf-8")
        assert f"<h1>{shown}</h1>" in text and "<b>" not in text and "Quoll &amp; Co" in text
        own = [row for row in tasks if row["Member"] == name]
        assert text.count("&#9744;") == len(own)
        assert all(str(row["Task"]).split("<")[0] in html.unescape(text) for row in own)
        other = "Odile" if "Ines" in name else "Ines"
        assert other not in text
        found = icalendar.Calendar.from_ical((tmp_path / "pages" / f"{stem}.ics").read_bytes())
        uids = {f"{row['Plan']}.{row['Task id']}@apiary-almanac": row["Date"].date() for row in own}
        shown_uids = {str(event["UID"]) for event in found.walk("VEVENT")}
        # What may never be needed comes into a calendar 14 days before.
        assert shown_uids <= uids.keys() and len(shown_uids) > len(uids) / 2
        assert all(uids[uid] > DAY + dt.timedelta(14) for uid in uids.keys() - shown_uids)
        assert len(found.walk("VTIMEZONE")) == 1
        parser = Balanced()
        parser.feed(text)
        assert parser.open == []
    # The club's year names no member; all three stand at one place.
    assert "The year is that of Ines &lt;b&gt;&#x27;s place" in index and "the farthest is 0 km off" in index
    year = (tmp_path / "pages" / "year.html").read_text("utf-8")
    assert "<svg" in year and "Quoll &amp; Co" in year and not any(name in year for name in ("Ines", "Odile", "Nils"))
    ics = (tmp_path / "pages" / "year.ics").read_bytes()
    dates: list[Any] = icalendar.Calendar.from_ical(ics).walk("VEVENT")
    assert min(event["DTSTART"].dt for event in dates) >= dt.date(2026, 9, 1)
    assert len(dates) > 12 and b"Quoll & Co" in ics
    # A second run changes no event.
    make(tmp_path, pages=tmp_path / "pages", club="Quoll & Co")
    assert (tmp_path / "pages" / "year.ics").read_bytes() == ics
    # Somebody's own page is not written over.
    (tmp_path / "pages" / "index.html").write_text("<p>my bees</p>")
    with pytest.raises(Refused, match="not made by this program"):
        make(tmp_path, pages=tmp_path / "pages")
    with pytest.raises(Refused, match="cannot be made"):
        make(tmp_path, pages=tmp_path / "no" / "such")


class Balanced(HTMLParser):
    """Every tag that is opened is closed, in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_new_hive_goes_by_its_name(tmp_path: Path) -> None:
    members(tmp_path, ("Ines", *READY, "Lantern", "Candle"), header=(*HEADER, "Hives", "New hives"))
    make(tmp_path)
    later = DAY + dt.timedelta(days=60)
    write(tmp_path, "divide", "Ines", Done_on=DAY)
    write(tmp_path, "egg-check", "Ines", Done_on=later, Seen="eggs in Candle, eggs in Lantern")
    assert make(tmp_path, later).refused == ()
    assert table(tmp_path, "Colonies")[0]["Stands"] == "laying queen seen"
    assert {row["Box"] for row in table(tmp_path, "Tasks")} <= {"old box", "new box", "both"}


def test_example() -> None:
    assert doctest.testmod(club).attempted > 5 and doctest.testmod(club).failed == 0


def test_plan_names_are_stable_and_apart() -> None:
    assert plan_stem("Ines", "A", "split") == plan_stem("Ines", "A", "split")
    names = {plan_stem(name, "a", "split") for name in ("蜂", "巣", "Ines", "ines", "=", "")}
    assert len(names) == 6


def test_the_bar_is_for_terminals() -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    for stream, shown in ((Terminal(), True), (io.StringIO(), False)):
        bar = Progress("Asking", 3, stream)
        for _ in range(3):
            bar.step()
        assert stream.getvalue().endswith("[##############################] 3/3\n") == shown
        assert bool(stream.getvalue()) == shown


@settings(max_examples=60, deadline=None)
@given(
    values=st.lists(
        st.one_of(
            st.none(),
            st.booleans(),
            st.integers(min_value=-(2**50), max_value=2**50),
            st.floats(allow_nan=False, allow_infinity=False),
            st.text(max_size=40),
            st.dates(min_value=dt.date(1900, 3, 1), max_value=dt.date(2200, 1, 1)),
            st.times().map(lambda time: time.replace(microsecond=0)),
        ),
        min_size=3,
        max_size=3,
    )
)
def test_rows_are_read_again_as_they_were_written(values: list[Any]) -> None:
    """Against openpyxl's reader: whatever the cell holds, in the type it had."""
    book = openpyxl.Workbook()
    page: Any = book[book.sheetnames[0]]
    page.append(["a", "b", "c"])
    looks = []
    formats: dict[type, str] = {dt.date: "yyyy-mm-dd", dt.time: "hh:mm:ss"}
    for at, value in enumerate(values, start=1):
        page.cell(1, at).number_format = formats.get(type(value), "General")
        looks.append(page.cell(1, at).style_id)
    out = io.BytesIO()
    save(book, [RowsXml(page, rows_xml([values], [looks], lambda style: style, [15]), "A1:C2")], out)
    found = list(openpyxl.load_workbook(out)[page.title].values)[1:]
    row = list(found[0]) if found else []
    cell: Any
    for value, cell in zip(values, row + [None] * 3, strict=False):
        if isinstance(value, str):
            # XML 1.0 knows fewer characters than Python, and one kind of line end.
            wanted = ILLEGAL.sub("\N{REPLACEMENT CHARACTER}", value)
            assert (cell or "").replace("\r", "\n") == wanted.replace("\r", "\n")
        elif isinstance(value, dt.date):
            assert cell == dt.datetime.combine(value, dt.time())
        elif isinstance(value, float):
            assert cell == pytest.approx(value)
        else:
            assert cell == value


def test_lines_that_a_text_needs() -> None:
    assert needed("", 10) == 1
    assert needed("a" * 9, 10) == 1 and needed("a" * 10, 10) == 2
    assert needed("one\ntwo", 40) == 2


cell_values = st.one_of(
    st.none(),
    st.text(max_size=30).filter(lambda text: not openpyxl.cell.cell.ILLEGAL_CHARACTERS_RE.search(text)),
    st.floats(allow_nan=False, allow_infinity=False),
    st.integers(min_value=-(10**12), max_value=10**12),
    st.booleans(),
    st.datetimes(min_value=dt.datetime(1901, 1, 1), max_value=dt.datetime(2200, 1, 1)),
    st.sampled_from(["-28.81, 153.28", "Australia/Sydney", "3.6; ?", "strong", "split", "none"]),
)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))  # pyright: ignore[reportArgumentType]
@given(rows=st.lists(st.lists(cell_values, min_size=9, max_size=9), min_size=1, max_size=3))
def test_hostile_cells_become_problems(
    tmp_path_factory: pytest.TempPathFactory, rows: list[list[Any]]
) -> None:
    folder = tmp_path_factory.mktemp("hostile")
    header = (*HEADER, "Colonies", "Method")
    members(folder, ("A", *READY, 1, "split"), *rows, header=header)
    done = make(folder)
    assert done.members >= 1
    assert {each.row for each in done.refused} <= set(range(3, 3 + len(rows)))
    json.dumps([str(each) for each in done.refused])
