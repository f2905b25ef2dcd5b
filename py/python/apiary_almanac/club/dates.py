"""Dates as people type them into a column."""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from apiary_almanac.club.cells import Cell, NotUnderstood, items, text

Order = Literal["day first", "month first"]
SERIALS = (dt.date(1899, 12, 30), 32_874, 73_050)
"""Days count from here in spreadsheets, and the first and last that can be meant: 1990 to 2099."""
YEARS = range(1990, 2100)
_NUMBERS = re.compile(r"(\d{1,4})\s*[./\-\s]\s*(\d{1,2})\s*[./\-\s]\s*(\d{1,4})")
_NAMED = (
    re.compile(r"(?P<day>\d{1,2})(?:st|nd|rd|th|º)?[\s./-]*(?:de\s+)?(?P<month>[^\W\d]{3,})[\s./,-]*(?:de\s+)?(?P<year>\d{2}|\d{4})"),
    re.compile(r"(?P<month>[^\W\d]{3,})[\s./-]*(?P<day>\d{1,2})(?:st|nd|rd|th)?[\s,]+(?P<year>\d{4})"),
)
_CLOCK = re.compile(r"[T\s]+00:00(?::00(?:\.0+)?)?$")
_MONTHS = (
    ("january", "enero", "janeiro"),
    ("february", "febrero", "fevereiro"),
    ("march", "marzo", "marco"),
    ("april", "abril"),
    ("may", "mayo", "maio"),
    ("june", "junio", "junho"),
    ("july", "julio", "julho"),
    ("august", "agosto"),
    ("september", "septiembre", "setembro"),
    ("october", "octubre", "outubro"),
    ("november", "noviembre", "novembro"),
    ("december", "diciembre", "dezembro"),
)
NEEDED = "a date is needed: a date cell, or text such as 2026-09-28"


@dataclass(frozen=True)
class DateStyle:
    """What the dates of a column say of each other."""

    order: Order | None = None
    """Of day and month where both are numbers; None where no date shows it, or they differ."""
    years: bool = False
    """Whether a date that shows the order has a year of four digits."""
    turned: bool = False
    """Whether the program that the dates were typed into may have turned some of them round: those it
    could read month first have become dates, the others, with days after the 12th, have stayed texts."""


def style_of(values: Iterable[Cell]) -> DateStyle:
    """Look at all dates of a column."""
    shown: set[Order] = set()
    cells_early = cells_late = years = False
    for value in values:
        if isinstance(value, dt.date):
            cells_late |= value.day > 12
            cells_early |= value.day <= 12 and value.day != value.month
            continue
        for item in items(value):
            found = _NUMBERS.fullmatch(_plain(item))
            if found and len(found[1]) <= 2:
                first, second = int(found[1]), int(found[2])
                if 12 < first <= 31 and second <= 12:
                    shown.add("day first")
                elif 12 < second <= 31 and first <= 12:
                    shown.add("month first")
                else:
                    continue
                years |= len(found[3]) == 4
    order = shown.pop() if len(shown) == 1 else None
    return DateStyle(order, years, turned=order == "day first" and cells_early and not cells_late)


def date(value: Cell, style: DateStyle = DateStyle()) -> dt.date:
    """A date: of a date cell, of a serial number, or written in words or numbers."""
    if isinstance(value, dt.date):
        day = value.date() if isinstance(value, dt.datetime) else value
        if style.turned and day.day <= 12 and day.day != day.month:
            other = day.replace(month=day.day, day=day.month)
            raise NotUnderstood(
                f"it can be {_long(day)} or {_long(other)}: dates after the 12th of a month stand in this "
                "column as text, day first, so the program may have turned this one round; write it "
                f"as text, {day} or {other}"
            )
        return _possible(day)
    written = _plain(value)
    if (serial := _serial(value, written)) is not None:
        return serial
    if (found := _NUMBERS.fullmatch(written)) is not None:
        return _of_numbers(found, style)
    for pattern in _NAMED:
        if (found := pattern.fullmatch(written)) is not None and (month := _month(found["month"])):
            year = int(found["year"])
            return _day(year if year > 99 else 2000 + year, month, int(found["day"]))
    raise NotUnderstood(NEEDED)


def _plain(value: Cell) -> str:
    return _CLOCK.sub("", text(value)).strip().rstrip(".")


def _serial(value: Cell, written: str) -> dt.date | None:
    """Days since the beginning of the count of spreadsheets, or eight digits."""
    if not written.isascii() or not written.isdigit():
        if isinstance(value, (int, float)):
            raise NotUnderstood(NEEDED)
        return None
    number = int(written)
    start, first, last = SERIALS
    if first <= number <= last:
        return start + dt.timedelta(days=number)
    if len(written) == 8:
        return _day(int(written[:4]), int(written[4:6]), int(written[6:]))
    raise NotUnderstood(NEEDED)


def _of_numbers(found: re.Match[str], style: DateStyle) -> dt.date:
    first, second, third = (int(part) for part in found.groups())
    if len(found[1]) == 4:
        return _day(first, second, third)
    if len(found[1]) > 2 or len(found[3]) not in (2, 4):
        raise NotUnderstood(NEEDED)
    if len(found[3]) == 2:
        # 25/12/24 can be 2025-12-24.
        if style.order is None or not style.years:
            raise NotUnderstood("the year is needed with four digits, such as 2026-09-28")
        third += 2000
    if style.order == "month first" or second > 12:
        return _day(third, first, second)
    if style.order == "day first" or first > 12 or first == second:
        return _day(third, second, first)
    one, other = _day(third, second, first), _day(third, first, second)
    raise NotUnderstood(f"it can be {_long(one)} or {_long(other)}; write {one} or {other}")


def _day(year: int, month: int, day: int) -> dt.date:
    try:
        return _possible(dt.date(year, month, day))
    except ValueError as error:
        if isinstance(error, NotUnderstood):
            raise
        raise NotUnderstood(f"there is no such day; {NEEDED}") from None


def _possible(day: dt.date) -> dt.date:
    if day.year not in YEARS:
        raise NotUnderstood(
            f"the year {day.year} cannot be meant; allowed are {YEARS[0]} to {YEARS[-1]}"
        )
    return day


def _month(word: str) -> int | None:
    plain = unicodedata.normalize("NFKD", word.lower()).encode("ascii", "ignore").decode()
    found = [
        at for at, names in enumerate(_MONTHS, start=1) if any(name.startswith(plain) for name in names)
    ]
    return found[0] if len(found) == 1 else None


def _long(day: dt.date) -> str:
    return f"{day.day} {_MONTHS[day.month - 1][0].capitalize()} {day.year}"
