"""The pictures of the extra `plots`: what they show is what the engine says."""

from __future__ import annotations

import datetime as dt
import doctest
import io

import pytest
from matplotlib.figure import Figure

import apiary_almanac as almanac
from apiary_almanac import plots

DAY = dt.date(2026, 9, 13)


def drawn(figure: Figure) -> bytes:
    out = io.BytesIO()
    figure.savefig(out, format="png")
    return out.getvalue()


def test_the_year_shows_temperatures_and_windows(club: almanac.Site) -> None:
    figure = plots.year_plot(club, DAY, bee="tetragonula_carbonaria")
    upper, lower = figure.axes
    season = almanac.season(club, DAY, DAY + dt.timedelta(364), bee="tetragonula_carbonaria")
    assert isinstance(season.outcome, almanac.SeasonOutcomeWindows)
    opens = season.outcome.windows[0].opens
    bars = [patch.get_x() for patch in upper.patches]  # type: ignore[attr-defined]
    assert (opens - dt.date(1970, 1, 1)).days in bars
    assert lower.get_xlim()[0] == (DAY - dt.date(1970, 1, 1)).days
    assert drawn(figure).startswith(b"\x89PNG")


def test_a_year_that_is_open_and_one_that_never_is() -> None:
    equator = almanac.Site(
        latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore"
    )
    assert len(plots.year_plot(equator, DAY).axes[0].patches) == 2
    cold = almanac.Site(latitude_deg=69.65, longitude_deg=18.96, elevation_m=10, zone="Europe/Oslo")
    figure = plots.year_plot(cold, DAY)
    assert len(figure.axes[0].patches) == 0 and figure.axes[1].get_ylim()[1] == 24
    drawn(figure)


def test_each_morning_has_its_window_or_its_reason(club: almanac.Site) -> None:
    ranked = almanac.mornings(club, DAY, 10)
    figure = plots.mornings_plot(ranked)
    (axes,) = figure.axes
    by_date = sorted(ranked, key=lambda each: each.morning.date)
    for bar, each in zip(axes.patches, by_date, strict=True):
        window = each.morning.window
        assert isinstance(window, almanac.MoveWindowOpen)
        begins = window.from_.hour + window.from_.minute / 60 + window.from_.second / 3600
        assert bar.get_x() == pytest.approx(begins)  # type: ignore[attr-defined]
    drawn(figure)
    # Where bees fly before there is light enough to work there is none.
    coast = almanac.Site(
        latitude_deg=-8.05, longitude_deg=-34.9, elevation_m=8, zone="America/Recife"
    )
    ranked = almanac.mornings(coast, DAY, 3, bee="generic_large")
    figure = plots.mornings_plot(ranked)
    assert not figure.axes[0].patches and len(figure.axes[0].texts) == 3
    drawn(figure)
    with pytest.raises(ValueError, match="at least one"):
        plots.mornings_plot([])


def test_examples() -> None:
    assert doctest.testmod(plots).failed == 0
