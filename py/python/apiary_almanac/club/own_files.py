"""Files that people own: locked for a run, copied before they change, written whole or not at all."""

from __future__ import annotations

import contextlib
import datetime as dt
import errno
import glob
import os
import secrets
import stat
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from filelock import FileLock, Timeout

from apiary_almanac.club.problems import Refused

BACKUPS = 5
"""How many copies of each file are kept."""


class OwnFiles:
    """The files of a run, from reading them to writing them, in a ``with`` statement.

    On entry each is locked against other runs; the system ends the lock of a run that is killed. All
    that goes wrong is :class:`Refused`, and then every file is as it was.
    """

    def __init__(self, endings: Mapping[Path, str]) -> None:
        """The files with the ending that the name of each must have."""
        self._endings = dict(endings)
        self._earlier: dict[Path, bytes | None] = {}
        self._locks = contextlib.ExitStack()

    def __enter__(self) -> OwnFiles:
        """Check the names and take the locks."""
        for path, ending in self._endings.items():
            if path.suffix.lower() != ending:
                raise Refused(f"{path}: the name must end in {ending}")
            with _refusing(path):
                a_folder, has_folder = path.is_dir(), path.parent.is_dir()
            if a_folder:
                raise Refused(f"{path} is a folder; the name of a file is needed")
            if not has_folder:
                raise Refused(f"{path} cannot be written: there is no folder {path.parent}")
        try:
            for path in self._endings:
                self._lock(path)
                # The lock is ours, so no run is using what one that was killed has left.
                for folder in (_real(path).parent, _backups(path)):
                    _clear(folder, path)
        except BaseException:
            self._locks.close()
            raise
        return self

    def __exit__(self, *_: object) -> None:
        self._locks.close()

    def _lock(self, path: Path) -> None:
        real = _real(path)
        lock = FileLock(real.with_name(f".{real.name}.lock"), timeout=0)
        try:
            self._locks.enter_context(lock)
        except Timeout:
            raise Refused(
                f"{path} is being written by another run; wait until that has ended, and run again"
            ) from None
        except OSError as error:
            raise _unwritten(path, error) from None

    def read(self, path: Path) -> bytes | None:
        """What the file holds; None where there is none."""
        _check_free(path)
        self._earlier[path] = _content(path)
        return self._earlier[path]

    def write(self, contents: Mapping[Path, Iterable[bytes]]) -> None:
        """Write all of them, each in pieces, or none; each must have been read."""
        parts: dict[Path, Path] = {}
        try:
            for path, content in contents.items():
                with _refusing(path):
                    parts[path] = _part(path, _real(path).parent, content)
            for path in contents:
                with _refusing(path):
                    self._back_up(path)
            for path in contents:
                _check_free(path)
                if _content(path) != self._earlier[path]:
                    raise Refused(f"{path} was changed while this run lasted; run again")
            self._replace(parts)
        finally:
            for part in parts.values():
                with contextlib.suppress(OSError):
                    part.unlink(missing_ok=True)

    def _back_up(self, path: Path) -> None:
        content = self._earlier[path]
        if content is None:
            return
        folder = _backups(path)
        folder.mkdir(exist_ok=True)
        part = _part(path, folder, [content])
        when = f"{dt.datetime.now():%Y-%m-%d %H.%M.%S}"
        name, again = f"{path.stem} {when}{path.suffix}", 2
        while (folder / name).exists():
            name, again = f"{path.stem} {when} ({again}){path.suffix}", again + 1
        _rename(part, folder / name)
        _sync_folder(folder)
        kept = sorted(
            folder.glob(f"{glob.escape(path.stem)} ????-??-?? *{glob.escape(path.suffix)}"),
            key=lambda copy: copy.stat().st_mtime_ns,
        )
        for old in kept[:-BACKUPS]:
            old.unlink(missing_ok=True)

    def _replace(self, parts: Mapping[Path, Path]) -> None:
        done: list[Path] = []
        try:
            for path, part in parts.items():
                with _refusing(path):
                    done.append(path)
                    _rename(part, _real(path))
        except BaseException:
            for path in done:
                self._put_back(path)
            raise
        for folder in {_real(path).parent for path in parts}:
            _sync_folder(folder)

    def _put_back(self, path: Path) -> None:
        earlier = self._earlier[path]
        try:
            if earlier is None:
                _real(path).unlink(missing_ok=True)
            elif _content(path) != earlier:
                _rename(_part(path, _real(path).parent, [earlier]), _real(path))
        except OSError as error:
            raise Refused(
                f"{path} was written, the other file was not, and it could not be put back "
                f"({error.strerror or error}): its earlier state is in {_backups(path)}"
            ) from None


def _check_free(path: Path) -> None:
    """Refuse a file that another program has open, or that its owner has locked."""
    real = _real(path)
    # The marks that spreadsheet programs set beside a file while it is open.
    for mark in (real.with_name(f"~${real.name}"), real.with_name(f".~lock.{real.name}#")):
        if mark.exists():
            raise Refused(
                f"{path} is open in another program, by its mark {mark.name}: close it there and "
                "run again; where no program has it open, remove the mark"
            )
    # Putting another file in its place would pass over this.
    if real.exists() and not real.stat().st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH):
        raise Refused(f"{path} cannot be written: it is marked as read-only")


def _real(path: Path) -> Path:
    """Where the file is: a link stays a link."""
    return path.resolve()


def _backups(path: Path) -> Path:
    """The folder of a file's earlier versions."""
    real = _real(path)
    return real.with_name(f"{real.stem} backups")


def _content(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise Refused(f"{path} cannot be read: {error.strerror or error}") from None


def _part(path: Path, folder: Path, content: Iterable[bytes]) -> Path:
    """The content in a new file of that folder, on the disk, with the rights of the file."""
    part = folder / f".{path.name}.{secrets.token_hex(8)}.part"
    try:
        with part.open("xb") as file:
            file.writelines(content)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            part.chmod(stat.S_IMODE(path.stat().st_mode))
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise
    return part


def write_whole(path: Path, content: Iterable[bytes]) -> None:
    """Write one file whole or not at all."""
    with _refusing(path):
        _rename(_part(path, path.parent, content), path)


def _rename(part: Path, path: Path) -> None:
    try:
        os.replace(part, path)
    except BaseException:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
        raise


def _clear(folder: Path, path: Path) -> None:
    """Remove what killed runs have left."""
    parts: Iterable[Path] = folder.glob(f".{glob.escape(path.name)}.*.part")
    for part in parts:
        with contextlib.suppress(OSError):
            part.unlink()


def _sync_folder(folder: Path) -> None:
    """Have the new names on the disk too; where a system cannot, it does so by itself in time."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


@contextlib.contextmanager
def _refusing(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise _unwritten(path, error) from None


def _unwritten(path: Path, error: OSError) -> Refused:
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        why = "the disk is full"
    elif error.errno == errno.EROFS:
        why = "the disk is read-only"
    elif isinstance(error, PermissionError):
        why = "it or its folder may not be changed, or another program has it open"
    else:
        why = error.strerror or str(error)
    return Refused(f"{path} cannot be written: {why}")
