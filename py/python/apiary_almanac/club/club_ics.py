"""The club's calendar file: versions, and events that are no longer planned."""

from __future__ import annotations

import datetime as dt
import json
import re
import zlib
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from apiary_almanac import _core
from apiary_almanac.club.problems import Refused

LARGEST_REQUEST = 15_000_000
"""Bytes of plans in one request; the engine reads 16 MiB. More plans are asked for in several."""
PLACE = re.compile(r"^(?:GEO|LOCATION):.*\r\n(?: .*\r\n)*", re.MULTILINE)
VERSIONED = re.compile(r"^(?:DTSTAMP|LAST-MODIFIED|SEQUENCE):.*\r\n", re.MULTILINE)
EVENT = re.compile(r"BEGIN:VEVENT\r\n.*?END:VEVENT\r\n", re.DOTALL)
ZONE = re.compile(r"BEGIN:VTIMEZONE\r\nTZID:(.*?)\r\n.*?END:VTIMEZONE\r\n", re.DOTALL)
UID = re.compile(r"^UID:((?:.*\r\n )*.*)\r\n", re.MULTILINE)
ALARM = re.compile(r"BEGIN:VALARM\r\n.*?END:VALARM\r\n", re.DOTALL)
START = re.compile(r"^DTSTART[^:\r\n]*:(\d{8})", re.MULTILINE)


@dataclass(frozen=True)
class Calendar:
    """A calendar file and its version."""

    text: str
    version: int
    changed: bool
    """Whether it says anything that the earlier one did not."""


def club_calendar(
    plans: Sequence[bytes],
    name: str | None,
    now: dt.datetime,
    earlier: str,
    version: int,
    today: dt.date,
    kept: Collection[str],
    coordinates: bool,
) -> Calendar:
    """The calendar of all plans, given as the engine wrote them, packed by zlib; with the coordinates of the hives only
    where ``coordinates`` says so.

    ``earlier`` is the text of the earlier file, ``version`` the number it had, -1 for none. The
    events of plans whose ids are in ``kept`` stay as they were. When nothing has changed the earlier
    file stays as it is: its version too. A calendar without an event is no calendar, and its text
    is empty.
    """
    found = re.findall(r"^SEQUENCE:(\d+)", earlier, re.MULTILINE)
    version = max([version, *map(int, found)])
    text = _calendar(plans, name, now, version + 1) if plans else _bare(earlier)
    before = earlier
    if not coordinates:
        text, before = PLACE.sub("", text), PLACE.sub("", earlier)
    text = _with_earlier(text, before, now, version + 1, today, kept)
    if not EVENT.search(text):
        return Calendar(earlier, version, changed=False)
    if earlier and _said(text) == _said(earlier):
        return Calendar(earlier, version, changed=False)
    return Calendar(text, version + 1, changed=True)


def _calendar(plans: Sequence[bytes], name: str | None, now: dt.datetime, version: int) -> str:
    head = {"ask": "calendar", "stamp": now.isoformat(), "sequence": version}
    if name is not None:
        head["name"] = name
    texts = []
    for share in _shares(plans):
        # The plans go back as the engine wrote them: to read and write them anew takes longer.
        request = f'{json.dumps(head)[:-1]}, "plans": [{",".join(share)}]}}'
        ics: str = json.loads(_core.ask(request))["ics"]
        texts.append(ics)
    return _joined(texts)


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


def _joined(texts: Sequence[str]) -> str:
    """Several calendars as one: each zone once, then all events."""
    if len(texts) == 1:
        return texts[0]
    zones = {found[1]: found[0] for text in texts for found in ZONE.finditer(text)}
    events = [event for text in texts for event in EVENT.findall(text)]
    bare = _bare(texts[0])
    end = bare.rindex("END:VCALENDAR")
    return bare[:end] + "".join([*zones.values(), *events]) + bare[end:]


def _said(text: str) -> tuple[str, list[str], list[str]]:
    """What a calendar says, whatever its version and the order of its events."""
    plain = VERSIONED.sub("", text)
    zones = [found[0] for found in ZONE.finditer(plain)]
    return _bare(plain), sorted(zones), sorted(EVENT.findall(plain))


def _bare(earlier: str) -> str:
    """The earlier calendar without its events."""
    return ZONE.sub("", EVENT.sub("", earlier))


def _with_earlier(
    text: str,
    earlier: str,
    now: dt.datetime,
    version: int,
    today: dt.date,
    kept: Collection[str],
) -> str:
    """Adds the earlier file's events of plans that are kept and those that are over, and, as cancelled,
    those that are ahead and no longer planned: without that they would stay in everybody's calendar.
    """
    new = {_uid(event) for event in EVENT.findall(text)}
    added = []
    for event in EVENT.findall(earlier):
        uid, start = _uid(event), START.search(event)
        if uid in new:
            continue
        if uid.partition(".")[0] in kept:
            added.append(event)
        elif start and start[1] >= f"{today:%Y%m%d}":
            added.append(_cancelled(event, now, version))
        else:
            added.append(event)
    if not added:
        return text
    zones = set(ZONE.findall(text))
    needed = "".join(added)
    for found in ZONE.finditer(earlier):
        if found[1] not in zones and f"TZID={found[1]}:" in needed:
            added.insert(0, found[0])
    end = text.rindex("END:VCALENDAR")
    return text[:end] + "".join(added) + text[end:]


def calendar_of(text: str, plans: Collection[str]) -> str:
    """A calendar with only the events of these plans; empty where there is none."""
    events = [event for event in EVENT.findall(text) if _uid(event).partition(".")[0] in plans]
    if not events:
        return ""
    together = "".join(events)
    zones = [found[0] for found in ZONE.finditer(text) if f"TZID={found[1]}:" in together]
    bare = _bare(text)
    end = bare.rindex("END:VCALENDAR")
    return bare[:end] + "".join([*zones, *events]) + bare[end:]


def _uid(event: str) -> str:
    found = UID.search(event)
    return found[1].replace("\r\n ", "") if found else event


def _cancelled(event: str, now: dt.datetime, version: int) -> str:
    if "\r\nSTATUS:CANCELLED\r\n" in event:
        version_line = re.compile(r"^SEQUENCE:\d+", re.MULTILINE)
        return version_line.sub(f"SEQUENCE:{version}", event)
    event = ALARM.sub("", event)
    event = re.sub(r"^STATUS:.*\r\n", "", event, flags=re.MULTILINE)
    event = VERSIONED.sub("", event)
    stamp = f"{now.astimezone(dt.timezone.utc):%Y%m%dT%H%M%SZ}"
    last = "END:VEVENT\r\n"
    return (
        event.removesuffix(last)
        + f"DTSTAMP:{stamp}\r\nSEQUENCE:{version}\r\nSTATUS:CANCELLED\r\n{last}"
    )


def calendar_text(path: Path, content: bytes | None) -> str:
    """The text of an earlier calendar; empty where there is none."""
    if content is None:
        return ""
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        text = ""
    if not text.startswith("BEGIN:VCALENDAR"):
        raise Refused(f"{path} is there and is not a calendar; it is not overwritten")
    return text
