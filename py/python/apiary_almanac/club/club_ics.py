"""The club's calendar file: versions, and events that are no longer planned."""

from __future__ import annotations

import datetime as dt
import hashlib
import itertools
import json
import re
import zlib
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from apiary_almanac import _core
from apiary_almanac.club.problems import Refused

LARGEST_REQUEST = 15_000_000
"""Bytes of plans in one request; the engine reads 16 MiB. More plans are asked for in several, each of which tells only
its own plans apart."""
PLACE = re.compile(rb"^(?:GEO|LOCATION):.*\r\n(?: .*\r\n)*", re.MULTILINE)
VERSIONED = re.compile(rb"^(?:DTSTAMP|LAST-MODIFIED|SEQUENCE):.*\r\n", re.MULTILINE)
EVENT = re.compile(rb"BEGIN:VEVENT\r\n.*?END:VEVENT\r\n", re.DOTALL)
ZONE = re.compile(rb"BEGIN:VTIMEZONE\r\nTZID:(.*?)\r\n.*?END:VTIMEZONE\r\n", re.DOTALL)
UID = re.compile(rb"^UID:((?:.*\r\n )*.*)\r\n", re.MULTILINE)
ALARM = re.compile(rb"BEGIN:VALARM\r\n.*?END:VALARM\r\n", re.DOTALL)
START = re.compile(rb"^DTSTART[^:\r\n]*:(\d{8})", re.MULTILINE)
TZID = re.compile(rb"TZID=([^:;\r\n]*)")
END = b"END:VCALENDAR"


@dataclass(kw_only=True)
class Calendar:
    """A calendar file in pieces. Its text is ten times as large as all else that a run keeps, so the events are
    packed."""

    bare: bytes = b""
    """The file without zones and events."""
    zones: dict[bytes, bytes] = field(default_factory=dict)
    """By name."""
    events: dict[str, list[bytes]] = field(default_factory=dict)
    """By the plan's id; each piece has one event or several, packed by zlib."""
    version: int = -1
    changed: bool = False
    """Whether it says anything that the earlier one did not."""

    def add(self, text: bytes) -> None:
        """Take over the zones and events of a text."""
        self.bare = self.bare or ZONE.sub(b"", EVENT.sub(b"", text))
        for zone in ZONE.finditer(text):
            self.zones.setdefault(zone[1], zone[0])
        events = (found[0] for found in EVENT.finditer(text))
        for plan, together in itertools.groupby(events, _plan):
            self.put(plan, together)

    def put(self, plan: str, events: Iterable[bytes]) -> None:
        """Add events of a plan."""
        self.events.setdefault(plan, []).append(zlib.compress(b"".join(events), 1))

    def each(self, plans: Iterable[str]) -> Iterator[bytes]:
        """The events of plans, a piece at a time."""
        for plan in plans:
            yield from map(zlib.decompress, self.events.get(plan, []))

    def parts(self, plans: Iterable[str] | None = None) -> Iterator[bytes]:
        """The file, or one with the events of some plans and the zones that they need."""
        chosen = list(self.events if plans is None else plans)
        needed = set(self.zones)
        if plans is not None:
            needed = {zone for piece in self.each(chosen) for zone in TZID.findall(piece)}
        head, end, tail = self.bare.rpartition(END)
        yield head
        yield from (zone for name, zone in self.zones.items() if name in needed)
        yield from self.each(chosen)
        yield end + tail

    def has_any(self, plans: Iterable[str]) -> bool:
        """Whether there is an event of these plans."""
        return any(plan in self.events for plan in plans)

    def said(self) -> tuple[bytes, list[bytes], list[bytes]]:
        """What it says, whatever its version and the order of its events; of the events only digests."""
        marks = [
            hashlib.blake2b(event, digest_size=16).digest()
            for piece in self.each(self.events)
            for event in EVENT.findall(VERSIONED.sub(b"", piece))
        ]
        return VERSIONED.sub(b"", self.bare), sorted(self.zones.values()), sorted(marks)


def club_calendar(
    plans: Sequence[bytes],
    name: str | None,
    now: dt.datetime,
    earlier: bytes,
    version: int,
    today: dt.date,
    kept: Collection[str],
    coordinates: bool,
) -> Calendar:
    """The calendar of all plans, given as the engine wrote them, packed by zlib; with the coordinates of the hives only
    where ``coordinates`` says so.

    ``earlier`` is the earlier file, ``version`` the number it had, -1 for none. The
    events of plans whose ids are in ``kept`` stay as they were. When nothing has changed the earlier
    file stays as it is: its version too. A calendar without an event is no calendar.
    """
    found = re.findall(rb"^SEQUENCE:(\d+)", earlier, re.MULTILINE)
    before = Calendar(version=max([version, *map(int, found)]))
    before.add(earlier)
    made = Calendar(version=before.version + 1, changed=True)
    for text in _texts(plans, name, now, made.version):
        made.add(text if coordinates else PLACE.sub(b"", text))
    if not plans:
        made.bare = before.bare
    _with_earlier(made, before, now, today, kept, coordinates)
    if not made.events or (earlier and made.said() == before.said()):
        return before
    return made


def _texts(plans: Sequence[bytes], name: str | None, now: dt.datetime, version: int) -> Iterator[bytes]:
    """Calendars of shares of the plans."""
    head = {"ask": "calendar", "stamp": now.isoformat(), "sequence": version}
    if name is not None:
        head["name"] = name
    for share in _shares(plans):
        # The plans go back as the engine wrote them: to read and write them anew takes longer.
        request = f'{json.dumps(head)[:-1]}, "plans": [{",".join(share)}]}}'
        ics: str = json.loads(_core.ask(request))["ics"]
        yield ics.encode()


def _shares(plans: Sequence[bytes]) -> Iterator[list[str]]:
    """The plans in requests that the engine takes."""
    before: list[str] = []
    share: list[str] = []
    size = 0
    for packed in plans:
        plan = zlib.decompress(packed)
        if share and size + len(plan) > LARGEST_REQUEST:
            if before:
                yield before
            before, share, size = share, [], 0
        share.append(plan.decode())
        size += len(plan) + 1
    if before and len(share) == 1:
        # Events of a plan that is alone do not say whose they are.
        before += share
        share = []
    yield from filter(None, (before, share))


def _with_earlier(
    made: Calendar,
    before: Calendar,
    now: dt.datetime,
    today: dt.date,
    kept: Collection[str],
    coordinates: bool,
) -> None:
    """Adds the earlier calendar's events of plans that are kept and those that are over, and, as cancelled,
    those that are ahead and no longer planned: without that they would stay in everybody's calendar.
    """
    new = {_uid(event) for piece in made.each(made.events) for event in EVENT.findall(piece)}
    earlier = (event for piece in before.each(before.events) for event in EVENT.findall(piece))
    for event in earlier if coordinates else (PLACE.sub(b"", event) for event in earlier):
        if _uid(event) in new:
            continue
        start, plan = START.search(event), _plan(event)
        if plan not in kept and start and start[1] >= f"{today:%Y%m%d}".encode():
            event = _cancelled(event, now, made.version)
        made.put(plan, [event])
        for zone in TZID.findall(event):
            if zone in before.zones:
                made.zones.setdefault(zone, before.zones[zone])


def _uid(event: bytes) -> bytes:
    found = UID.search(event)
    return found[1].replace(b"\r\n ", b"") if found else event


def _plan(event: bytes) -> str:
    """The id of the plan that an event is of."""
    return _uid(event).partition(b".")[0].decode("utf-8", "replace")


def _cancelled(event: bytes, now: dt.datetime, version: int) -> bytes:
    if b"\r\nSTATUS:CANCELLED\r\n" in event:
        version_line = re.compile(rb"^SEQUENCE:\d+", re.MULTILINE)
        return version_line.sub(b"SEQUENCE:%d" % version, event)
    event = ALARM.sub(b"", event)
    event = re.sub(rb"^STATUS:.*\r\n", b"", event, flags=re.MULTILINE)
    event = VERSIONED.sub(b"", event)
    stamp = f"{now.astimezone(dt.timezone.utc):%Y%m%dT%H%M%SZ}".encode()
    last = b"END:VEVENT\r\n"
    return (
        event.removesuffix(last)
        + b"DTSTAMP:%b\r\nSEQUENCE:%d\r\nSTATUS:CANCELLED\r\n%b" % (stamp, version, last)
    )


def earlier_calendar(path: Path, content: bytes | None) -> bytes:
    """An earlier calendar; empty where there is none."""
    if content is None:
        return b""
    if not content.startswith(b"BEGIN:VCALENDAR") or not _is_text(content):
        raise Refused(f"{path} is there and is not a calendar; it is not overwritten")
    return content


def _is_text(content: bytes) -> bool:
    try:
        content.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True
