"""Answers as values: they compare, travel, and show themselves shortly."""

from __future__ import annotations

import copy
import datetime as dt
import pickle
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


def test_big_answers_are_short_in_words(club: almanac.Site) -> None:
    given = answers(club)
    for name in ("season", "outlook", "plan", "review", "relocation"):
        assert repr(given[name]).startswith("<") and len(repr(given[name])) < 200, name
    picture = almanac.plan_picture(given["plan"])
    assert len(repr(picture)) < 60 and picture._repr_svg_().startswith("<svg")
    text = almanac.calendar([given["plan"]], dt.datetime(2026, 9, 14, tzinfo=dt.timezone.utc))
    assert len(repr(text)) < 60 and len(repr(almanac.plan_csv([given["plan"]]))) < 60


def test_notebooks_show_tables(club: almanac.Site) -> None:
    given = answers(club)
    mornings = given["mornings"]._repr_html_()
    assert mornings.count("<tr>") == 1 + 3 and str(TODAY) in mornings
    plan = given["plan"]._repr_html_()
    assert plan.count("<tr>") == 1 + len(given["plan"].tasks)
    assert "<b>" not in plan
    assert given["season"]._repr_html_().count("<table>") == 1
    assert given["outlook"]._repr_html_().count("<table>") == 2
    assert given["review"]._repr_html_() == given["review"].plan._repr_html_()
