"""``python -m apiary_almanac``: the same command as the README's, and the club's workbook."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import icalendar
import openpyxl
import pytest
from vectors import PROJECT

import apiary_almanac as almanac
from apiary_almanac.__main__ import main
from apiary_almanac._core import command

DEMO = str(PROJECT / "docs" / "demo" / "apiary.toml")


def run(*arguments: str) -> tuple[int, str, str]:
    """As from a shell."""
    done = subprocess.run(
        [sys.executable, "-m", "apiary_almanac", *arguments],
        capture_output=True,
        check=False,
        cwd=PROJECT / "target",
    )
    return done.returncode, done.stdout.decode(), done.stderr.decode()


def answer(*arguments: str) -> Any:
    code, out, err = command("almanac", [*arguments, "--json"])
    assert (code, err) == (0, "")
    return json.loads(out)


def test_each_question_answers_from_the_keepers_file() -> None:
    for name, title in (
        ("season", "Season for dividing colonies"),
        ("mornings", "Mornings to move a hive, the best first"),
        ("plan", "Quoll Creek Little Bee Circle · Ines Marrow"),
        ("review", "Where it stands on Sun 13 Sep 2026"),
        ("calendar", "BEGIN:VCALENDAR"),
    ):
        code, out, err = run(name, DEMO)
        assert (code, err) == (0, "")
        assert title in out


def test_json_is_the_answer_of_the_functions() -> None:
    folder = PROJECT / "docs" / "demo"
    read = {
        name: almanac.TextFile(file=str(folder / file), text=(folder / file).read_text("utf-8"))
        for name, file in (("normals_csv", "normals.csv"), ("forecast_csv", "forecast.csv"))
    }
    site = {
        "latitude_deg": -28.81,
        "longitude_deg": 153.28,
        "elevation_m": 12,
        "zone": "Australia/Sydney",
        "east_horizon_deg": 3,
    }
    asked = {
        "ask": "season",
        "site": site,
        "first": "2026-09-13",
        "last": "2027-09-12",
        "bee": "tetragonula_carbonaria",
        "climate": read,
    }
    assert answer("season", DEMO) == almanac.ask(asked)
    mornings = answer("mornings", DEMO, "--mornings", "3")
    assert [each["rank"] for each in mornings] == [1, 2, 3]
    plan = answer("plan", DEMO)
    assert answer("review", DEMO)["plan"] == plan
    events = icalendar.Calendar.from_ical(answer("calendar", DEMO)["ics"]).walk("VEVENT")
    # What may never be needed comes into a calendar 14 days before.
    assert len(events) == len([task for task in plan["tasks"] if not task.get("only_if")]) > 10


def test_a_calendar_keeps_its_line_ends(tmp_path: Path) -> None:
    code, out, _ = run("calendar", DEMO, "--sequence=3")
    assert code == 0 and out.count("\r\n") == out.count("\n") and "\r\r" not in out
    file = tmp_path / "plan.ics"
    code, out, _ = run("calendar", DEMO, "--out", str(file))
    assert code == 0 and str(file) in out
    assert file.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (["season", "--latitude=91", "--longitude=0", "--elevation=0", "--zone=UTC"], 1, "--latitude: latitude_deg is 91; allowed is -90 to 90"),
        (["season", "no-such.toml"], 1, "no-such.toml"),
        (["season", DEMO, "--bee=wasp"], 1, "known are"),
        (["plan", DEMO, "--method=hope"], 1, "eduction"),
        (["seasons"], 1, "seasons"),
        (["season", "--altitude=3"], 2, "--altitude"),
        (["mornings", DEMO, "--mornings=x"], 2, "invalid value 'x'"),
        (["season", "members.xlsx"], 2, "workbook MEMBERS.xlsx"),
        (["workbook"], 2, "MEMBERS"),
        (["workbook", "m.xlsx", "--today=soon"], 2, "YYYY-MM-DD"),
        (["workbook", "no-such.xlsx"], 1, "no-such.xlsx: No such file"),
        (["workbook", DEMO], 1, "is not a workbook"),
    ],
)  # fmt: skip
def test_exit_codes_and_messages(
    arguments: list[str], code: int, told: str, capfd: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == code
    out, err = capfd.readouterr()
    assert out == "" and told in err


def test_a_refused_value_is_named_with_file_and_line(tmp_path: Path) -> None:
    for name in ("apiary.toml", "normals.csv", "forecast.csv"):
        shutil.copy(PROJECT / "docs" / "demo" / name, tmp_path)
    file = tmp_path / "apiary.toml"
    text = file.read_text("utf-8")
    file.write_text(text.replace("elevation_m = 12", "elevation_m = 12000"), "utf-8")
    line = text[: text.index("elevation_m")].count("\n") + 1
    code, out, err = run("mornings", str(file))
    words = " ".join(err.split())
    assert (code, out) == (1, "")
    assert f"apiary.toml, line {line}: elevation_m is 12000; allowed is" in words


def test_help_for_strangers() -> None:
    code, out, _ = run("--help")
    assert code == 0
    for name in ("season", "mornings", "plan", "review", "calendar", "workbook", "Exit codes"):
        assert name in out
    for name in ("season", "mornings", "plan", "review", "calendar", "workbook"):
        code, out, err = run(name, "--help")
        assert (code, err) == (0, "")
        assert f"python -m apiary_almanac {name}" in out and "--json" in out


def test_the_workbook_from_the_command_line(tmp_path: Path) -> None:
    members = tmp_path / "members.xlsx"
    shutil.copy(PROJECT / "docs" / "demo" / "members.xlsx", members)
    shutil.copy(PROJECT / "docs" / "demo" / "forecast.csv", tmp_path)
    code, out, err = run("workbook", str(members), "--today=2026-09-13", "--club=Invented Circle")
    # Three rows are wrong on purpose.
    assert code == 3
    assert "12 members, 16 plans" in out and "club.xlsx" in out and "club.ics" in out
    assert "Columns left out: Phone" in err
    assert "Members, row 15, Time zone: 'UTC+10'" in err
    # No bar where nobody looks.
    assert "\r" not in err
    assert openpyxl.load_workbook(tmp_path / "club.xlsx").sheetnames[0] == "Tasks"
    code, out, err = run("workbook", str(members), "--today=2026-09-13", "--json")
    done = json.loads(out)
    assert done["members"] == 12 and len(done["refused"]) == 5
    assert done["refused"][0]["column"] == "Coordinates"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device of Linux")
def test_a_full_output_is_noticed_and_a_closed_one_is_no_error() -> None:
    arguments = [sys.executable, "-m", "apiary_almanac", "calendar", DEMO]
    for to, code, told in (("> /dev/full", 1, "standard output: "), ("| head -n 1", 0, "")):
        done = subprocess.run(
            ["bash", "-o", "pipefail", "-c", f'"$@" {to}', "bash", *arguments],
            capture_output=True,
            check=False,
            cwd=PROJECT / "target",
        )
        assert (done.returncode, done.stderr.decode()[: len(told)]) == (code, told), to
        assert done.stderr.count(b"\n") == (1 if told else 0), done.stderr
