"""The writer of the files that people own: whole or not at all, and in clear words. POSIX names the errors
(IEEE Std 1003.1, <errno.h>): they are raised here as the system raises them."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from vectors import PROJECT
from workbook_kills import torture

from apiary_almanac.__main__ import main
from apiary_almanac.club import own_files
from apiary_almanac.club.own_files import BACKUPS, OwnFiles
from apiary_almanac.club.problems import Refused

Pair = tuple[Path, Path]


@pytest.fixture
def pair(tmp_path: Path) -> Pair:
    """A workbook and its calendar, as an earlier run left them."""
    files = tmp_path / "club.xlsx", tmp_path / "club.ics"
    for path in files:
        path.write_bytes(b"before")
    return files


def write(files: Pair, meanwhile: Callable[[], object] = lambda: None) -> None:
    with OwnFiles({path: path.suffix for path in files}) as own:
        for path in files:
            own.read(path)
        meanwhile()
        own.write({path: [b"af", b"ter"] for path in files})


def contents(files: Pair) -> list[bytes]:
    return [path.read_bytes() for path in files]


def left_over(folder: Path) -> list[Path]:
    return list(folder.rglob("*.part"))


def test_both_are_written_and_copied(pair: Pair, tmp_path: Path) -> None:
    pair[0].chmod(0o640)
    for path in pair:
        path.with_name(f".{path.name}.1234.part").write_text("a run that was killed")
    for _ in range(BACKUPS + 2):
        write(pair)
    assert contents(pair) == [b"after", b"after"]
    # Who may read it stays as the club has set it.
    assert os.name == "nt" or stat.S_IMODE(pair[0].stat().st_mode) == 0o640
    for ending in ("xlsx", "ics"):
        assert len(list((tmp_path / "club backups").glob(f"club 20*.{ending}"))) == BACKUPS
    assert not left_over(tmp_path)


def test_the_copy_is_what_was_there(pair: Pair, tmp_path: Path) -> None:
    write(pair)
    (copy,) = (tmp_path / "club backups").glob("*.xlsx")
    assert copy.read_bytes() == b"before"


def test_new_files_have_no_copy(tmp_path: Path) -> None:
    files = tmp_path / "a.xlsx", tmp_path / "a.ics"
    write(files)
    assert contents(files) == [b"after", b"after"] and not (tmp_path / "a backups").exists()


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "the disk is read-only"),
        (errno.EACCES, "may not be changed"),
        (errno.EIO, os.strerror(errno.EIO)),
    ],
)
@pytest.mark.parametrize("at", ["fsync", "replace"])
@pytest.mark.parametrize("time", [1, 2, 3, 4])
def test_a_failure_anywhere_leaves_both(
    pair: Pair, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, told: str, at: str, time: int
) -> None:
    """Files are put on the disk four times, and renamed four times: two new ones and two copies."""
    real, calls = getattr(os, at), 0

    def failing(*arguments: Any) -> Any:
        nonlocal calls
        calls += 1
        if calls == time:
            raise OSError(number, os.strerror(number))
        return real(*arguments)

    if at == "fsync":
        # Of folders it may fail: they are on the disk later then.
        monkeypatch.setattr(own_files, "_sync_folder", lambda folder: None)
    monkeypatch.setattr(os, at, failing)
    with pytest.raises(Refused, match=f"cannot be written: .*{told}"):
        write(pair)
    assert contents(pair) == [b"before", b"before"]
    monkeypatch.undo()
    assert not left_over(tmp_path)
    write(pair)


def test_an_interrupt_between_the_two_leaves_both(pair: Pair, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.replace

    def interrupted(source: Path, target: Path) -> None:
        real(source, target)
        if target == pair[0].resolve() and target.read_bytes() == b"after":
            raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write(pair)
    assert contents(pair) == [b"before", b"before"]


def test_new_files_are_gone_again_where_the_second_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files, real = (tmp_path / "a.xlsx", tmp_path / "a.ics"), os.replace

    def failing(source: Path, target: Path) -> None:
        if target.suffix == ".ics":
            raise OSError(errno.ENOSPC, "no space")
        real(source, target)

    monkeypatch.setattr(os, "replace", failing)
    with pytest.raises(Refused, match="full"):
        write(files)
    assert not files[0].exists() and not files[1].exists()


@pytest.mark.parametrize("mark", ["~$club.xlsx", ".~lock.club.xlsx#", ".~lock.club.ics#"])
def test_files_that_are_open_elsewhere(pair: Pair, tmp_path: Path, mark: str) -> None:
    with pytest.raises(Refused, match="open in another program"):
        write(pair, lambda: (tmp_path / mark).touch())
    with pytest.raises(Refused, match="open in another program"):
        write(pair)
    assert contents(pair) == [b"before", b"before"]
    (tmp_path / mark).unlink()
    write(pair)


def test_a_note_that_is_saved_meanwhile_is_not_written_over(pair: Pair) -> None:
    with pytest.raises(Refused, match="was changed while"):
        write(pair, lambda: pair[0].write_bytes(b"a note"))
    assert contents(pair) == [b"a note", b"before"]


def test_marked_as_read_only(pair: Pair) -> None:
    pair[1].chmod(0o444)
    with pytest.raises(Refused, match="marked as read-only"):
        write(pair)
    assert contents(pair) == [b"before", b"before"]


def test_a_link_stays_a_link(pair: Pair, tmp_path: Path) -> None:
    link = tmp_path / "here.xlsx"
    try:
        link.symlink_to(pair[0])
    except OSError:
        pytest.skip("links need a right here")
    write((link, pair[1]))
    assert link.is_symlink() and pair[0].read_bytes() == b"after"


HOLD = """
import sys, pathlib
from apiary_almanac.club.own_files import OwnFiles
with OwnFiles({pathlib.Path(sys.argv[1]): ".xlsx"}):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_another_run_is_named_and_the_lock_of_a_killed_one_is_free(pair: Pair) -> None:
    other = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(pair[0])],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert other.stdin is not None and other.stdout is not None
    assert other.stdout.readline() == "held\n"
    with pytest.raises(Refused, match="being written by another run"):
        write(pair)
    other.kill()
    other.wait()
    other.stdin.close()
    other.stdout.close()
    write(pair)
    assert contents(pair) == [b"after", b"after"]


@pytest.mark.parametrize(
    ("out", "told"),
    [
        ("club.xls", "must end in .xlsx"),
        ("club.ods", "must end in .xlsx"),
        ("club", "must end in .xlsx"),
        ("no-such-folder/club.xlsx", "there is no folder"),
        ("folder.xlsx", "is a folder"),
        (f"{'x' * 300}.xlsx", "cannot be written"),
    ],
)
def test_names_that_cannot_be_written(
    tmp_path: Path, out: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "folder.xlsx").mkdir()
    members = PROJECT / "docs" / "demo" / "members.xlsx"
    assert main(["workbook", str(members), "--out", str(tmp_path / out)]) == 1
    assert told in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["folder.xlsx"]


def test_kills_and_pairs(tmp_path: Path) -> None:
    """The short form of workbook_kills.py."""
    found = torture(tmp_path, kills=6, pairs=2, seed=7)
    assert found.killed + found.ended_before == 6 and found.pairs == 2 and found.notes > 3
