"""Answers as values: they compare, travel, and show themselves shortly."""

from __future__ import annotations

import copy
import datetime as dt
import pickle
from html.parser import HTMLParser
from typing import Any

import pytest

import apiary_almanac as almanac

TODAY = dt.date(2026, 9, 14)


def answers(club: almanac.Site) -> dict[str, Any]:
    colony = almanac.Colony(name="Hive 7 <b>")
    return {
        "site": club,
        "sun": almanac.sun(club, TODAY, TODAY),
        "flight": almanac.flight(club, TODAY, TODAY),
        "season": almanac.season(club, TODAY, TODAY + dt.timedelta(364)),
        "mornings": almanac.mornings(club, TODAY, 3),
        "outlook": almanac.outlook(club, TODAY),
        "plan": almanac.plan(club, TODAY, "split", colony),
        "review": almanac.review(club, TODAY, "split", colony),
        "relocation": almanac.relocation(club, TODAY, 2.0),
        "parameters": almanac.parameters(),
        "bee": almanac.bee(),
    }


def test_answers_compare_and_travel(club: almanac.Site) -> None:
    again = answers(club)
    for name, answer in answers(club).items():
        assert answer == again[name], name
        assert pickle.loads(pickle.dumps(answer)) == answer, name
        assert copy.deepcopy(answer) == answer, name
        assert type(pickle.loads(pickle.dumps(answer))) is type(answer), name


@pytest.mark.parametrize(
    "name", ["site", "sun", "flight", "mornings", "season", "outlook", "parameters", "bee"]
)
def test_answers_can_be_keys(club: almanac.Site, name: str) -> None:
    assert len({answers(club)[name], answers(club)[name]}) == 1


def test_windows_carry_the_texts_of_the_clock(club: almanac.Site) -> None:
    """Rounded to the minute on the safe side, by this test's own arithmetic."""
    minute = dt.timedelta(minutes=1)
    for each in almanac.mornings(club, dt.date(2026, 9, 14), 10):
        window, first = each.morning.window, each.morning.first_flight
        assert isinstance(window, almanac.MoveWindowOpen) and first is not None
        for text, at, earlier, later in (
            (window.from_clock, window.from_, dt.timedelta(0), minute),
            (window.until_clock, window.until, -minute, dt.timedelta(0)),
            (each.morning.first_flight_clock, first.at, -minute, dt.timedelta(0)),
        ):
            assert text is not None
            shown = dt.datetime.combine(at.date(), dt.time.fromisoformat(text), at.tzinfo)
            assert earlier <= shown - at <= later and abs(shown - at) < minute


def test_big_answers_are_short_in_words(club: almanac.Site) -> None:
    given = answers(club)
    for name in ("season", "outlook", "plan", "review", "relocation"):
        assert repr(given[name]).startswith("<") and len(repr(given[name])) < 200, name
    picture = almanac.plan_picture(given["plan"])
    assert len(repr(picture)) < 60 and picture._repr_svg_().startswith("<svg")
    text = almanac.calendar([given["plan"]], dt.datetime(2026, 9, 14, tzinfo=dt.timezone.utc))
    assert len(repr(text)) < 60 and len(repr(almanac.plan_csv([given["plan"]]))) < 60


class Shown(HTMLParser):
    """The tables of a page as texts: caption, heads, rows; fails at an element that is left open."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.captions: list[str] = []
        self.rows: list[list[str]] = []
        self.open: list[str] = []
        self.feed(page)
        assert not self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in ("table", "caption", "tr", "th", "td") and not attrs, tag
        self.open.append(tag)
        if tag == "tr":
            self.rows.append([])
        elif tag == "caption":
            self.captions.append("")
        elif tag in ("th", "td"):
            self.rows[-1].append("")

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open[-1] == "caption":
            self.captions[-1] += data
        else:
            self.rows[-1][-1] += data


def test_notebooks_show_tables(club: almanac.Site) -> None:
    given = answers(club)
    mornings = Shown(given["mornings"]._repr_html_())
    assert mornings.rows[0] == ["rank", "date", "work light", "until", "points", "why"]
    assert [row[:2] for row in mornings.rows[1:]] == [
        [str(one.rank), f"{one.morning.date:%Y-%m-%d}"] for one in given["mornings"]
    ]
    plan = Shown(given["plan"]._repr_html_())
    # The name of the colony has a tag in it, which is shown and not obeyed.
    assert len(plan.captions) == 1 and "Hive 7 <b>" in plan.captions[0]
    assert plan.rows[0] == ["earliest", "best", "latest", "task", "why"]
    assert [row[:4] for row in plan.rows[1:]] == [
        [str(task.dates.earliest), str(task.dates.best), str(task.dates.latest), task.title]
        for task in given["plan"].tasks
    ]
    season = given["season"]
    windows = Shown(season._repr_html_()).rows[1:]
    assert [row[:3] for row in windows] == [
        [stretch.state.replace("_", " "), str(stretch.first), str(stretch.last)]
        for stretch in season.states
    ]
    outlook = Shown(given["outlook"]._repr_html_())
    assert len(outlook.captions) == 2
    assert len(outlook.rows) == 2 + len(given["outlook"].season.states) + len(
        given["outlook"].mornings
    )
    assert given["review"]._repr_html_() == given["review"].plan._repr_html_()
