"""Pictures with matplotlib: the year at a place, and the next mornings.

Needs matplotlib, the extra ``plots``. For pictures without it see
:func:`apiary_almanac.year_picture` and :func:`apiary_almanac.plan_picture`, which are SVG.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import matplotlib.dates as mdates
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import Locator, MultipleLocator

import apiary_almanac as almanac

BAND, LINE, LIGHT = "#d9c48a", "#5b4a1a", "#8a8f6a"


def year_plot(
    site: almanac.Site,
    today: dt.date,
    *,
    bee: str | almanac.BeeOverrides | None = None,
    climate: almanac.ClimateInput | None = None,
    settings: almanac.SeasonSettings | None = None,
    figure: Figure | None = None,
) -> Figure:
    """Twelve months from a date: temperatures in °C, daylight and flight in h, the season.

    The bars at the foot of the upper picture are good dates to divide, the paler ones dates at risk.
    Raises ``ApiaryError`` as
    :func:`apiary_almanac.season` does.

    >>> import datetime as dt
    >>> from apiary_almanac import Site
    >>> club = Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    >>> [axes.get_ylabel() for axes in year_plot(club, dt.date(2026, 9, 13)).axes]
    ['°C', 'hours a day']
    """
    last = today + dt.timedelta(days=364)
    season = almanac.season(site, today, last, bee=bee, climate=climate, settings=settings)
    days = almanac.flight(site, today, last, bee=bee, climate=climate)
    sun = almanac.sun(site, today, last)
    figure = figure or Figure(figsize=(8, 5), layout="constrained")
    upper, lower = figure.subplots(2, sharex=True, height_ratios=(3, 2))
    dates = [_day(day.date) for day in days]
    upper.fill_between(
        dates,
        [day.temperatures.minimum_c for day in days],
        [day.temperatures.maximum_c for day in days],
        color=BAND,
        label="night to day",
    )
    open_all_year = season.outcome.kind == "all_year"
    windows = [(today, last)] if open_all_year else []
    if isinstance(season.outcome, almanac.SeasonOutcomeWindows):
        windows = [(window.opens, window.closes) for window in season.outcome.windows]
    for number, (opens, closes) in enumerate(windows):
        begins, ends = _day(max(opens, today)), _day(min(closes, last)) + 1
        label = "good for dividing" if number == 0 else None
        upper.axvspan(begins, ends, ymax=0.04, color=LINE, label=label)
        upper.axvspan(begins, ends, color=LIGHT, alpha=0.15, linewidth=0, zorder=0)
    at_risk = [stretch for stretch in season.states if stretch.state == "at_risk"]
    for number, stretch in enumerate(at_risk):
        begins, ends = _day(stretch.first), _day(stretch.last) + 1
        label = "at risk" if number == 0 else None
        upper.axvspan(begins, ends, ymax=0.04, color=LIGHT, label=label)
    upper.set_ylabel("°C")
    upper.set_title(_place(site), loc="left")
    daylight = [day.day_length_h for day in sun]
    lower.plot(dates, daylight, color=LINE, linestyle="--", label="daylight")
    flying = [day.flying_hours for day in days]
    lower.fill_between(dates, flying, color=BAND, label="flight possible")
    lower.set_ylabel("hours a day")
    lower.set_ylim(0, 24 if max(daylight) > 16 else 16)
    lower.xaxis.set_major_locator(mdates.MonthLocator())  # type: ignore[no-untyped-call]
    lower.xaxis.set_major_formatter(
        mdates.DateFormatter("%b")  # type: ignore[no-untyped-call]
    )
    lower.set_xlim(dates[0], dates[-1])
    for axes in (upper, lower):
        _plain(axes)
        axes.legend(loc="upper right", frameon=False, ncols=2, fontsize="small")
    # Room for the legend above the curves.
    low, high = upper.get_ylim()
    upper.set_ylim(low - 0.06 * (high - low), high + 0.15 * (high - low))
    return figure


def mornings_plot(
    mornings: Sequence[almanac.RankedMorning], *, figure: Figure | None = None
) -> Figure:
    """The move windows of some mornings on the site's clocks, by date, with their rank.

    A morning without a window has its reason instead. Raises ``ValueError`` when there is none.

    >>> import datetime as dt
    >>> from apiary_almanac import Site, mornings
    >>> club = Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    >>> figure = mornings_plot(mornings(club, dt.date(2026, 9, 14), 5))
    >>> len(figure.axes[0].get_yticks())
    5
    """
    if not mornings:
        raise ValueError("mornings is empty; at least one morning is needed")
    by_date = sorted(mornings, key=lambda ranked: ranked.morning.date)
    figure = figure or Figure(figsize=(8, 0.8 + 0.4 * len(by_date)), layout="constrained")
    axes = figure.subplots()
    edges = [0.0, 0.0]
    for row, ranked in enumerate(by_date):
        morning, window = ranked.morning, ranked.morning.window
        if isinstance(window, almanac.MoveWindowOpen):
            begins, ends = _clock(window.from_), _clock(window.until)
            edges = [min(edges[0] or begins, begins), max(edges[1], ends)]
            axes.barh(row, ends - begins, left=begins, height=0.62, color=BAND, edgecolor=LINE)
            axes.text(begins + 0.05, row, f"{ranked.rank}.", va="center", fontsize="small")
        if morning.first_flight is not None:
            first = _clock(morning.first_flight.at)
            edges[1] = max(edges[1], first)
            label = "usual first flight" if not axes.get_legend_handles_labels()[1] else None
            axes.plot(first, row, marker="d", color=LINE, linestyle="none", label=label)
    if not edges[0]:
        edges = [4.0, 8.0]
    for row, ranked in enumerate(by_date):
        if isinstance(ranked.morning.window, almanac.MoveWindowNone):
            why = ranked.morning.window.reasons[0].text if ranked.morning.window.reasons else ""
            axes.text(edges[0], row, f"{ranked.rank}.  {why}", va="center", fontsize="small")
    axes.set_xlim(edges[0] - 0.25, edges[1] + 0.25)
    dates = [ranked.morning.date for ranked in by_date]
    axes.set_yticks(range(len(dates)), [f"{date:%a} {date.day} {date:%b}" for date in dates])
    axes.invert_yaxis()
    axes.xaxis.set_major_formatter(lambda hour, _: f"{int(hour) % 24:02}:{int(60 * hour) % 60:02}")
    axes.xaxis.set_major_locator(_half_hours(edges))
    axes.set_title("When a hive can be moved", loc="left")
    _plain(axes)
    if axes.get_legend_handles_labels()[1]:
        figure.legend(loc="outside lower right", frameon=False, fontsize="small")
    return figure


def _half_hours(edges: Sequence[float]) -> Locator:
    step = 0.5 if edges[1] - edges[0] < 5 else 1
    return MultipleLocator(step)


def _day(date: dt.date) -> float:
    """Days as matplotlib counts them, from 1970 on."""
    return float((date - dt.date(1970, 1, 1)).days)


def _clock(instant: dt.datetime) -> float:
    return instant.hour + instant.minute / 60 + instant.second / 3600


def _place(site: almanac.Site) -> str:
    north = f"{abs(site.latitude_deg):.2f}° {'S' if site.latitude_deg < 0 else 'N'}"
    east = f"{abs(site.longitude_deg):.2f}° {'W' if site.longitude_deg < 0 else 'E'}"
    return f"{north}, {east}, {site.elevation_m or 0:.0f} m"


def _plain(axes: Axes) -> None:
    axes.spines[["top", "right"]].set_visible(False)
