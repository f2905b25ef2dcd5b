"""How answers look in notebooks."""

from __future__ import annotations

import datetime as dt
import html
from collections.abc import Iterable, Sequence


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
    return html.escape(str(value))
