"""How answers look when they are printed, and in notebooks."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from apiary_almanac._types import (
        Outlook,
        Plan,
        RankedMorning,
        Reason,
        Relocation,
        Review,
        Season,
    )


def table(title: str, heads: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """An HTML table with a title; every text is escaped."""
    head = "".join(f"<th>{_cell(text)}</th>" for text in heads)
    body = "".join(
        "<tr>" + "".join(f"<td>{_cell(value)}</td>" for value in row) + "</tr>" for row in rows
    )
    return f"<table><caption>{_cell(title)}</caption><tr>{head}</tr>{body}</table>"


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, dt.datetime):
        value = f"{value:%Y-%m-%d %H:%M}"
    # A seventh of the time that importing the package takes, and few scripts show tables.
    from html import escape

    return escape(str(value))


def length(answer: object, text: str) -> str:
    """For a text that is too long to be printed."""
    return f"<{type(answer).__name__} of {len(text)} characters>"


def season(answer: Season) -> str:
    return f"<Season {answer.first} to {answer.last}: {_windows(answer)}>"


def season_table(answer: Season) -> str:
    return table(
        season(answer)[1:-1],
        ("state", "first", "last", "days", "why not good"),
        [(s.state.replace("_", " "), s.first, s.last, s.days, _texts(s.why)) for s in answer.states],
    )


def outlook(answer: Outlook) -> str:
    return f"<Outlook {answer.today}: {_windows(answer.season)}; {len(answer.mornings)} mornings>"


def outlook_table(answer: Outlook) -> str:
    return season_table(answer.season) + mornings_table(answer.mornings)


def mornings_table(mornings: Iterable[RankedMorning]) -> str:
    return table(
        "Mornings, the best first",
        ("rank", "date", "work light", "until", "points", "why"),
        [
            (
                one.rank,
                one.morning.date,
                one.morning.work_light,
                one.morning.window.until if one.morning.window.kind == "open" else "no window",
                round(one.points),
                _texts(one.reasons),
            )
            for one in mornings
        ],
    )


def relocation(answer: Relocation) -> str:
    return f"<Relocation of {answer.distance_m:g} m: {answer.way}>"


def plan(answer: Plan) -> str:
    return f"<Plan {answer.title!r} of {answer.today}: {len(answer.tasks)} tasks>"


def plan_table(answer: Plan) -> str:
    return table(
        answer.title,
        ("earliest", "best", "latest", "task", "why"),
        [
            (t.dates.earliest, t.dates.best, t.dates.latest, t.title, _texts(t.why))
            for t in answer.tasks
        ],
    )


def review(answer: Review) -> str:
    return f"<Review {answer.today}: {answer.standing}; {len(answer.changes)} changes>"


def _texts(reasons: Iterable[Reason]) -> str:
    return " ".join(reason.text for reason in reasons)


def _windows(season: Season) -> str:
    if season.outcome.kind == "windows":
        return ", ".join(f"{w.opens} to {w.closes}" for w in season.outcome.windows)
    if season.outcome.kind != "all_year":
        return "no window"
    rain = season.rain.said.text if season.rain else "Which months are wet is not known here."
    return f"all year by temperature. {rain}"
