"""Sun, light, temperature, flight times and working windows for keepers of stingless bees.

Every function hands its arguments to the engine and gives back its answer in Python's types: dates
as :class:`datetime.date`, moments as time-zone-aware :class:`datetime.datetime`. What the engine
does not accept raises :class:`ApiaryError`, a :class:`ValueError` with ``code`` and ``field``.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, Required, TypedDict, TypeVar, Unpack, overload

from apiary_almanac._convert import ask, from_json
from apiary_almanac._error import ApiaryError
from apiary_almanac import _types as _types
from apiary_almanac._mornings import Mornings
from apiary_almanac._types import *

if TYPE_CHECKING:
    from apiary_almanac._arrays import FlightTable as FlightTable
    from apiary_almanac._arrays import MorningTable as MorningTable
    from apiary_almanac._arrays import OwnAir as OwnAir
    from apiary_almanac._arrays import SeasonTable as SeasonTable
    from apiary_almanac._arrays import SunEvent as SunEvent
    from apiary_almanac._arrays import SunTable as SunTable
    from apiary_almanac._arrays import Table as Table
    from apiary_almanac._arrays import dataset as dataset
    from apiary_almanac._arrays import flight_table as flight_table
    from apiary_almanac._arrays import morning_table as morning_table
    from apiary_almanac._arrays import season_table as season_table
    from apiary_almanac._arrays import sun_table as sun_table

__all__ = [
    "ApiaryError",
    "Mornings",
    "PlanAsked",
    "PlanFields",
    "about",
    "agenda",
    "ask",
    "bee",
    "calendar",
    "civil_day",
    "clock",
    "default_climate",
    "flight",
    "last_safe",
    "methods",
    "mornings",
    "mornings_calendar",
    "outlook",
    "parameters",
    "parting",
    "place",
    "plan",
    "plan_csv",
    "plan_picture",
    "plans_together",
    "poster",
    "read_coordinates",
    "read_forecast",
    "read_normals",
    "relocation",
    "review",
    "season",
    "sentences",
    "sun",
    "towns",
    "towns_near",
    "warm_season_map",
    "why_not",
    "year_calendar",
    "year_picture",
]
__all__ += _types.__all__

T = TypeVar("T")

# They need numpy, which is loaded at their first use only, so that everything else works and starts
# without it.
_ARRAYS = (
    "FlightTable",
    "MorningTable",
    "OwnAir",
    "SeasonTable",
    "SunEvent",
    "SunTable",
    "Table",
    "dataset",
    "flight_table",
    "morning_table",
    "season_table",
    "sun_table",
)


def __getattr__(name: str) -> Any:
    if name not in _ARRAYS:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    try:
        from apiary_almanac import _arrays
    except ModuleNotFoundError as error:
        raise ImportError(
            f"{name} needs {error.name}: pip install 'apiary-almanac[arrays]'"
        ) from error
    return getattr(_arrays, name)


def __dir__() -> list[str]:
    return sorted({*globals(), *_ARRAYS})


def about() -> About:
    """Name and version of the engine, its requests and its error codes.

    Returns:
        About: ``name``, ``version``, ``requests``, ``error_codes``.

    >>> about().name
    'apiary-almanac'
    """
    return _answer(About, {"ask": "about"}, "UTC")


def parameters() -> tuple[Parameter, ...]:
    """Every default number with unit, range and source.

    Returns:
        Parameters in the order of docs/parameters.md; one without a publication says so in ``source``.

    >>> {one.name for one in parameters()} >= {"flight_minimum_c"}
    True
    """
    return _answer(tuple[Parameter, ...], {"ask": "parameters"}, "UTC")


def sentences(language: str = "en") -> Sentences:
    """Every sentence of a language, for those who write them with units and dates of their own.

    A sentence holds ``{name}`` for the value of that name with its unit, a number with at most two
    decimals; ``{name:1}`` for one decimal, ``{name:n}`` and ``{name:1n}`` for no unit; ``{name|# day|# days}``
    for a number, the first form for 1 and the second for all others, ``#`` being the number; and what
    stands in ``[...]`` is left out where a value in it is missing.

    Args:
        language: ``"en"`` is the one there is.

    Returns:
        Sentences: each with ``code`` and ``template``.

    Raises:
        ApiaryError: ``unknown_name`` for another language.

    >>> {one.code: one.template for one in sentences().sentences}["too_short"]
    '{hours:1} of possible flight; {needed:1} are needed.'
    """
    return _answer(Sentences, {"ask": "sentences", "language": language}, "UTC")


def bee(bee: str | BeeOverrides = "generic_small") -> Bee:
    """A bee with all its numbers: a built-in one by name, or a user's own.

    Args:
        bee: A built-in one by name (``Tetragonula carbonaria`` or ``tetragonula_carbonaria``), or numbers
            of one's own.

    Returns:
        Bee: each number with unit, range and source.

    Raises:
        ApiaryError: ``unknown_name`` for a name that is not known, ``out_of_range`` for a number that no
            bee has.

    >>> bee("tetragonula_carbonaria").flight_minimum_c.value
    18.0
    """
    return _answer(Bee, {"ask": "bee", "bee": bee}, "UTC")


@overload
def civil_day(site: Site, *, date: dt.date) -> CivilDay: ...
@overload
def civil_day(site: Site, *, instant: dt.datetime) -> CivilDay: ...
def civil_day(
    site: Site, *, date: dt.date | None = None, instant: dt.datetime | None = None
) -> CivilDay:
    """A civil day at a site, by its date or as the one that an instant belongs to.

    Args:
        site: Where: coordinates, height, zone.
        date: The day, by its date, or
        instant: any moment of it, with a time zone.

    Returns:
        CivilDay: when it begins and ends, its length, the offset of its clocks.

    Raises:
        ApiaryError: ``skipped_day`` for a date that the zone left out, ``inconsistent`` unless one of the
            two is given.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    >>> civil_day(club, date=dt.date(2026, 10, 4)).day_length_h
    23.0
    """
    return _answer(CivilDay, _request("civil_day", site, date=date, instant=instant), site.zone)


def sun(
    site: Site, first: dt.date, last: dt.date, *, altitude_deg: float | None = None
) -> tuple[SunDayAndCrossing, ...]:
    """Sun and twilights of every civil day of a span.

    With ``altitude_deg`` each day also has the ``crossing`` of that altitude by the sun's centre.

    Args:
        site: Where: coordinates, height, zone.
        first: First day.
        last: Last day.
        altitude_deg: An altitude of the sun's centre, -90 to 90 degrees, without refraction.

    Returns:
        Days in order, each with noon, rise and set, and three twilights.

    Raises:
        ApiaryError: ``out_of_range`` for an altitude or a date outside its range.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=69.65, longitude_deg=18.96, elevation_m=10, zone="Europe/Oslo")
    >>> sun(club, dt.date(2026, 6, 21), dt.date(2026, 6, 21))[0].sun.kind
    'always_above'
    """
    request = _request("sun", site, first=first, last=last, altitude_deg=altitude_deg)
    return _answer(tuple[SunDayAndCrossing, ...], request, site.zone)


def flight(
    site: Site,
    first: dt.date,
    last: dt.date,
    *,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
    limits: DayLimitOverrides | None = None,
) -> tuple[FlightDay, ...]:
    """First and last flight of every civil day of a span.

    Days that are only known as a mean of many years have ``chances``; ``limits`` says from when on a
    night is cold and how many hot days are a heat spell.

    Args:
        site: Where: coordinates, height, zone.
        first: First day.
        last: Last day.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.
        limits: From when on a night is cold, a day hot, and how many hot days are a heat spell.

    Returns:
        Days in order, each with first and last flight or the reason why there is none.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100; ``unknown_name`` for a bee that is
            not known; ``bad_table`` or ``bad_cell`` for a climate file that cannot be read.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> [day.flying_day for day in flight(club, dt.date(2026, 3, 1), dt.date(2026, 3, 2))]
    [True, True]
    """
    request = _request(
        "flight", site, first=first, last=last, bee=bee, climate=climate, limits=limits
    )
    return _answer(tuple[FlightDay, ...], request, site.zone)


def default_climate(site: Site, *, warming: Warming | None = None) -> DefaultClimate:
    """Twelve months of what the location alone lets one expect, with their error and their source.

    Args:
        site: Where: coordinates, height, zone.
        warming: What is added to the normals of 1961-1990, in place of what is known of today.

    Returns:
        DefaultClimate: minima, maxima, rain and spread by month, with ``basis``.

    Raises:
        ApiaryError: ``out_of_range`` for a warming that no place has.

    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> default_climate(club).basis.period
    '1961-1990'
    """
    return _answer(DefaultClimate, _request("default_climate", site, warming=warming), site.zone)


def place(site: Site) -> CheckedPlace:
    """Whether a site can be meant: land or sea, its height and its zone against the land.

    Args:
        site: Where: coordinates, height, zone.

    Returns:
        CheckedPlace: land or sea, the height of the land, ``doubts``.

    Raises:
        ApiaryError: ``inconsistent`` for a zone whose clocks show noon hours away from the sun's.

    >>> club = Site(latitude_deg=-28.81, longitude_deg=153.28, zone="Australia/Sydney")
    >>> place(club).state, [doubt.code for doubt in place(club).doubts]
    ('on_land', ['elevation_of_the_land'])
    """
    return _answer(CheckedPlace, _request("place", site), site.zone)


def towns(name: str, *, list: str | None = None) -> FoundTowns:
    """The towns that a name can mean, with their sites, without the network.

    The list holds towns of some 3000 people or more between 40 degrees north and south (GeoNames, CC BY
    4.0). Case, accents and hyphens do not matter; the beginning of a name will do. Behind a comma stands a
    region or a country. ``list`` is the text of another list, in the form of ``core/data/towns.txt``.

    Args:
        name: A name, or how it begins; behind a comma a region or a country.
        list: The text of another list, in the form of ``core/data/towns.txt``.

    Returns:
        FoundTowns: the largest first, 20 at most.

    Raises:
        ApiaryError: ``out_of_range`` for a name without a letter, ``bad_table`` for a list of another form.

    >>> [town.region for town in towns("maryborough").towns]
    ['Queensland', 'Victoria']
    >>> towns("Gympie").towns[0].site.zone
    'Australia/Brisbane'
    """
    request = {"ask": "towns", "name": name, **_without_none({"list": list})}
    return _answer(FoundTowns, request, "UTC")


def read_coordinates(text: str) -> CoordinatesReading:
    """Which place a text means: decimal degrees, degrees with minutes and seconds, letters or signs, decimal
    commas, a ``geo:`` address (RFC 5870), a position of ISO 6709, the address of a map.

    Where it can mean several places, the likeliest stands first and there is a ``question``.

    Args:
        text: As it was typed or sent.

    Returns:
        CoordinatesReading: ``positions``, and ``question`` where there are several.

    Raises:
        ApiaryError: ``unreadable`` for a text that is no place.

    >>> read_coordinates("28°48′36″S 153°16′48″E").positions[0].latitude_deg
    -28.81
    >>> read_coordinates("153.28, -28.81").question.code
    'longitude_stands_first'
    """
    return _answer(CoordinatesReading, {"ask": "read_coordinates", "text": text}, "UTC")


def towns_near(latitude_deg: float, longitude_deg: float, *, list: str | None = None) -> NearTowns:
    """The towns within 50 km of a place, the nearest first, and the zone that all of them have.

    Args:
        latitude_deg: Degrees north.
        longitude_deg: Degrees east.
        list: The text of another list, as in :func:`towns`.

    Returns:
        NearTowns: ``zone`` is None where there is no town near and where their zones differ.

    Raises:
        ApiaryError: ``out_of_range`` for coordinates that are none, ``bad_table`` for a list of another form.

    >>> towns_near(-28.81, 153.28).zone
    'Australia/Sydney'
    >>> towns_near(-28.18, 153.54).zone is None  # on the border to Queensland
    True
    """
    request = {"ask": "towns_near", "latitude_deg": latitude_deg, "longitude_deg": longitude_deg}
    return _answer(NearTowns, request | _without_none({"list": list}), "UTC")


def read_forecast(
    site: Site,
    today: dt.date,
    text: str,
    *,
    file: str | None = None,
    answers: ForecastAnswers | None = None,
) -> ForecastReading:
    """What a forecast says, as it was copied from a page, a message or a service.

    Nothing is guessed: where two readings are possible there is a question, which a field of
    ``answers`` settles. ``file`` is the name that errors give the text.

    Args:
        site: Where: coordinates, height, zone.
        today: The day from which weekdays count.
        text: What was copied.
        file: The name that errors give it.
        answers: Answers to questions of an earlier reading.

    Returns:
        ForecastReading: ``understood``, ``questions``, and the ``forecast`` where none is open.

    Raises:
        ApiaryError: ``bad_table`` for a text with no day in it, ``too_large``.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    >>> read = read_forecast(club, dt.date(2026, 7, 20), "Mon 12-24 5mm")
    >>> read.understood[0].text
    'Monday 20 July 2026: 12 to 24 °C, 5 mm'
    >>> ClimateInput(forecast=read.forecast).forecast[0].maximum_c
    24.0
    """
    request = _request("read_forecast", site, today=today, text=text, file=file, answers=answers)
    return _answer(ForecastReading, request, site.zone)


def read_normals(text: str, *, file: str | None = None) -> MonthlyNormals:
    """Twelve months as they were copied from a weather service's page: minima and maxima, with rain and wet days
    where they stand there.

    Args:
        text: What was copied.
        file: The name that errors give it.

    Returns:
        MonthlyNormals: For ``ClimateInput(normals=...)``.

    Raises:
        ApiaryError: ``bad_table`` for a text in which they are not found.

    >>> read_normals("min" + " 12" * 12 + "\\nmax" + " 24" * 12).maximum_c[0]
    24.0
    """
    request = {"ask": "read_normals", "text": text, **_without_none({"file": file})}
    return _answer(MonthlyNormals, request, "UTC")


def warm_season_map(
    latitudes_deg: Sequence[float],
    longitudes_deg: Sequence[float],
    *,
    threshold_c: float | None = None,
    warming: Warming | None = None,
) -> WarmSeasonMap:
    """The part of the year with a mean of 18 °C (or ``threshold_c``) or more, over a map.

    Values stand for every latitude in turn, every longitude; at most 100,000 places.

    Args:
        latitudes_deg: Degrees north.
        longitudes_deg: Degrees east.
        threshold_c: The mean of a day from which it is warm; 18 when not given.
        warming: As in :func:`default_climate`.

    Returns:
        WarmSeasonMap: columns by place; None at sea.

    Raises:
        ApiaryError: ``too_large`` above 100,000 places, ``out_of_range``.

    >>> warm_season_map([-30, -20], [145, 160]).days[1] is None  # at sea
    True
    """
    fields = {
        "latitudes_deg": latitudes_deg,
        "longitudes_deg": longitudes_deg,
        "threshold_c": threshold_c,
        "warming": warming,
    }
    return _answer(WarmSeasonMap, {"ask": "warm_season_map", **_without_none(fields)}, "UTC")


def season(
    site: Site,
    first: dt.date,
    last: dt.date,
    *,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
    settings: SeasonSettings | None = None,
) -> Season:
    """The working windows that touch a span of dates.

    Args:
        site: Where: coordinates, height, zone.
        first: First day.
        last: Last day.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.
        settings: Rules and chances in place of the defaults.

    Returns:
        Season: windows of good dates, those of dates at risk, the state of every stretch, reasons,
            published seasons.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100 or a chance outside 0 to 1;
            ``unknown_name`` for a bee that is not known; ``bad_table`` or ``bad_cell`` for a climate file
            that cannot be read.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> season(club, dt.date(2026, 1, 1), dt.date(2026, 12, 31)).outcome.kind
    'all_year'
    """
    request = _request(
        "season", site, first=first, last=last, bee=bee, climate=climate, settings=settings
    )
    return _answer(Season, request, site.zone)


def mornings(
    site: Site,
    first: dt.date,
    days: int,
    *,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
    free_weekdays: Sequence[Weekday] = (),
    settings: MorningOverrides | None = None,
) -> Mornings:
    """The mornings of a number of days, the best for moving a hive first.

    Args:
        site: Where: coordinates, height, zone.
        first: First morning.
        days: How many mornings, 1 to 60.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.
        free_weekdays: Days on which the keeper can work; every day when empty.
        settings: Numbers of the keeper's own for a move, in place of the defaults.

    Returns:
        Mornings: a tuple, the best first, each with its window, verdict and reasons.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100 or ``days`` outside 1 to 60;
            ``unknown_name`` for a bee that is not known; ``bad_table`` or ``bad_cell`` for a climate file
            that cannot be read.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    >>> best = mornings(club, dt.date(2026, 9, 14), 10)[0]
    >>> best.morning.verdict, best.morning.work_light_clock
    ('careful', '05:24')
    """
    request = _request(
        "mornings",
        site,
        first=first,
        days=days,
        bee=bee,
        climate=climate,
        free_weekdays=free_weekdays,
        settings=settings,
    )
    return Mornings(_answer(tuple[RankedMorning, ...], request, site.zone))


def outlook(
    site: Site,
    today: dt.date,
    *,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
    season: SeasonSettings | None = None,
    mornings: int | None = None,
    free_weekdays: Sequence[Weekday] = (),
    settings: MorningOverrides | None = None,
    hive_weight_kg: float | None = None,
) -> Outlook:
    """Where the year stands, tomorrow's sun and flight, and the next mornings for a move.

    Args:
        site: Where: coordinates, height, zone.
        today: The day on which it is asked.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.
        season: Rules and chances in place of the defaults.
        mornings: How many mornings, 1 to 60.
        free_weekdays: Days on which the keeper can work; every day when empty.
        settings: Numbers of the keeper's own for a move, in place of the defaults.
        hive_weight_kg: What is carried, kg, for the cautions.

    Returns:
        Outlook: ``season``, ``sun``, ``flight``, ``mornings``, cautions, and what they rest on.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100; ``unknown_name`` for a bee that is
            not known; ``bad_table`` or ``bad_cell`` for a climate file that cannot be read.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> outlook(club, dt.date(2026, 3, 1)).season.outcome.kind
    'all_year'
    """
    request = _request(
        "outlook",
        site,
        today=today,
        bee=bee,
        climate=climate,
        season=season,
        mornings=mornings,
        free_weekdays=free_weekdays,
        settings=settings,
        hive_weight_kg=hive_weight_kg,
    )
    return _answer(Outlook, request, site.zone)


def clock(
    site: Site,
    wait: Wait,
    after: DateRange | dt.date,
    *,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
) -> Clock:
    """When a waiting time runs out that starts on a date, or on a range of dates.

    Args:
        site: Where: coordinates, height, zone.
        wait: How long, in which unit.
        after: The date, or the range of dates, on which it starts.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.

    Returns:
        Clock: a range of dates with its reason, or why it does not run out.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100; ``inconsistent`` for a wait or
            dates that are not in order; ``unknown_name`` for a bee that is not known; ``bad_table`` or
            ``bad_cell`` for a climate file that cannot be read.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> two = Wait(unit="flying_days", earliest=2, likely=2, latest=2, source="own counts")
    >>> clock(club, two, dt.date(2026, 3, 1)).outcome.dates.best
    datetime.date(2026, 3, 3)
    """
    request = _request("clock", site, wait=wait, after=after, bee=bee, climate=climate)
    return _answer(Clock, request, site.zone)


def relocation(
    site: Site,
    first: dt.date,
    distance_m: float,
    *,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
    way: Way | None = None,
    total_turn_deg: float | None = None,
    settings: RelocationOverrides | None = None,
    mornings: MorningOverrides | None = None,
    hive_weight_kg: float | None = None,
) -> Relocation:
    """How a hive gets from here to there: in stages, by way of a far place, or at once.

    Args:
        site: Where: coordinates, height, zone.
        first: The day from which it can begin.
        distance_m: How far the new place is.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.
        way: In stages, by way of a far place, or at once; the engine chooses when not given.
        total_turn_deg: By how much the entrance is turned.
        settings: Numbers of the keeper's own for moves over a distance, in place of the defaults.
        mornings: Numbers of the keeper's own for a move, in place of the defaults.
        hive_weight_kg: What is carried, kg, for the cautions.

    Returns:
        Relocation: the way, its dates, cautions and reasons.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100 or a distance outside its range;
            ``unknown_name`` for a bee that is not known; ``bad_table`` or ``bad_cell`` for a climate file
            that cannot be read.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> relocation(club, dt.date(2026, 3, 1), 80).way
    'far_and_return'
    """
    request = _request(
        "relocation",
        site,
        first=first,
        distance_m=distance_m,
        bee=bee,
        climate=climate,
        way=way,
        total_turn_deg=total_turn_deg,
        settings=settings,
        mornings=mornings,
        hive_weight_kg=hive_weight_kg,
    )
    return _answer(Relocation, request, site.zone)


def parting(
    site: Site,
    set_before: dt.date,
    *,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
    settings: PartingOverrides | None = None,
    mornings: MorningOverrides | None = None,
    hive_weight_kg: float | None = None,
) -> DatedParting:
    """The way of a new box from its parent's entrance to a place beside it.

    Args:
        site: Where: coordinates, height, zone.
        set_before: The date on which the new box is set before the entrance.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.
        settings: Numbers of the keeper's own for a parting, in place of the defaults.
        mornings: Numbers of the keeper's own for a move, in place of the defaults.
        hive_weight_kg: What is carried, kg, for the cautions.

    Returns:
        DatedParting: the dates of each move, as ranges.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100; ``unknown_name`` for a bee that is
            not known; ``bad_table`` or ``bad_cell`` for a climate file that cannot be read.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> parting(club, dt.date(2026, 3, 1)).dates.set_beside.best
    datetime.date(2026, 3, 8)
    """
    request = _request(
        "parting",
        site,
        set_before=set_before,
        bee=bee,
        climate=climate,
        settings=settings,
        mornings=mornings,
        hive_weight_kg=hive_weight_kg,
    )
    return _answer(DatedParting, request, site.zone)


def calendar(
    plans: Sequence[Plan],
    stamp: dt.datetime,
    *,
    sequence: int = 0,
    name: str | None = None,
    before: str | None = None,
    per: CalendarPer | None = None,
) -> CalendarText:
    """Plans as one iCalendar file, with time zones and alarms.

    ``stamp`` is when the file is made, ``sequence`` one more for each changed version of the plans. With
    ``before``, the text of the calendar that was made before, only events that changed get a new version.

    Args:
        plans: From :func:`plan`, one at least.
        stamp: When the file is made, with a time zone.
        sequence: One more for each changed version of the plans.
        name: What programs call the calendar.
        before: The text of the calendar that was made before: only events that changed get a new version.
        per: Also one calendar for each hive, keeper or club.

    Returns:
        CalendarText: ``ics``, and with ``per`` also ``calendars``.

    Raises:
        ApiaryError: ``not_enough_data`` without a plan, ``inconsistent`` for two of one id,
            ``out_of_range`` for a stamp without a time zone.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> new = plan(club, dt.date(2026, 3, 1), "split", Colony(name="Hive 7"))
    >>> calendar([new], dt.datetime(2026, 3, 1, 8, tzinfo=dt.timezone.utc)).ics.splitlines()[0]
    'BEGIN:VCALENDAR'
    """
    request = {"ask": "calendar", "plans": plans, "stamp": stamp, "sequence": sequence}
    given = _without_none({"name": name, "before": before, "per": per})
    return _answer(CalendarText, request | given, "UTC")


def mornings_calendar(
    site: Site,
    mornings: Sequence[RankedMorning],
    stamp: dt.datetime,
    *,
    place: str,
    box_name: str | None = None,
    sequence: int = 0,
    name: str | None = None,
    before: str | None = None,
) -> MorningsCalendar:
    """The mornings on which a hive can be moved as one iCalendar file, with time zone and alarms.

    One event for each morning whose verdict is ``go`` or ``careful``, a careful one tentative. One alarm rings on
    the evening before when the entrance is to be closed, one half an hour before the move. With ``before``, only
    events that changed get a new version, and a morning that is no longer good is cancelled.

    Args:
        site: Where: coordinates, height, zone.
        mornings: From :func:`mornings`, or those of :func:`outlook`.
        stamp: When the file is made, with a time zone.
        place: What people call the place.
        box_name: The box that is to be moved, by its name.
        sequence: One more for each changed version.
        name: What programs call the calendar; ``place`` when not given.
        before: The text of the calendar that was made before.

    Returns:
        MorningsCalendar: ``ics``.

    Raises:
        ApiaryError: ``not_enough_data`` without any morning, ``inconsistent`` for a date that comes twice,
            ``out_of_range`` for an empty name and for a stamp without a time zone.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney")
    >>> coming = mornings(club, dt.date(2026, 9, 14), 10)
    >>> noon = dt.datetime(2026, 9, 13, 12, tzinfo=dt.timezone.utc)
    >>> mornings_calendar(club, coming, noon, place="Garden", box_name="Saltbush").ics.count("BEGIN:VEVENT")
    10
    """
    request = _request(
        "mornings_calendar",
        site,
        mornings=mornings,
        stamp=stamp,
        place=place,
        box_name=box_name,
        sequence=sequence,
        name=name,
        before=before,
    )
    return _answer(MorningsCalendar, request, "UTC")


def plan_csv(plans: Sequence[Plan]) -> TableText:
    """Plans as a table for spreadsheets, one row a task.

    Args:
        plans: From :func:`plan`; without any the table is its header.

    Returns:
        TableText: ``csv``, with a header.

    Raises:
        ApiaryError: ``inconsistent`` for two plans of one id.

    >>> plan_csv([]).csv.split(",")[0]
    'date'
    """
    return _answer(TableText, {"ask": "plan_csv", "plans": plans}, "UTC")


def plan_picture(plan: Plan) -> Picture:
    """A plan along its dates, as SVG.

    Args:
        plan: From :func:`plan`.

    Returns:
        Picture: ``svg``.

    Raises:
        ApiaryError: ``inconsistent`` for a plan whose dates are out of order.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> plan_picture(plan(club, dt.date(2026, 3, 1), "split", Colony(name="Hive 7"))).svg[:4]
    '<svg'
    """
    return _answer(Picture, {"ask": "plan_picture", "plan": plan}, "UTC")


def poster(
    plans: Sequence[Plan] = (),
    *,
    dates: YearDates | None = None,
    title: str | None = None,
) -> Poster:
    """Sheets of A4 for the wall: the dates of plans with boxes to tick, or those of a year at places.

    Args:
        plans: From :func:`plan`; none where ``dates`` is given.
        dates: ``dates`` of an answer of :func:`year_calendar`; none where plans are given.
        title: The headline; the club, the first plan's title or the year when not given.

    Returns:
        Poster: ``sheets``, each as SVG.

    Raises:
        ApiaryError: ``not_enough_data`` for neither plans nor dates, ``inconsistent`` for both.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> new = plan(club, dt.date(2026, 3, 1), "split", Colony(name="Hive 7"))
    >>> poster([new]).sheets[0].startswith("<svg ")
    True
    """
    given = _without_none({"dates": dates, "title": title})
    return _answer(Poster, {"ask": "poster", "plans": plans, **given}, "UTC")


def year_calendar(
    places: Sequence[DatedPlace],
    first: dt.date,
    stamp: dt.datetime,
    *,
    last: dt.date | None = None,
    sequence: int = 0,
    before: str | None = None,
    name: str | None = None,
) -> YearCalendar:
    """The dates of a year at places, without any hive, with the calendar and the table made of them.

    Good, at risk and closed, the last safe day of each method, heat, the dawn of each month. ``stamp`` is
    when the calendar is made; with ``before``, the text of the one that was made before, only events that
    changed get a new version.

    Args:
        places: Sites with names; bee and climate may differ.
        first: First day.
        stamp: When the calendar is made, with a time zone.
        last: Last day; a year from ``first`` when not given.
        sequence: One more for each changed version.
        before: The text of the calendar that was made before.
        name: What programs call the calendar.

    Returns:
        YearCalendar: ``dates``, ``ics``, ``csv``.

    Raises:
        ApiaryError: ``not_enough_data`` without a place, ``inconsistent`` for two of one name,
            ``too_large`` for more than two years, ``out_of_range`` for a stamp without a time zone.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> noon = dt.datetime(2026, 11, 26, 12, tzinfo=dt.timezone.utc)
    >>> year = year_calendar([DatedPlace(name="Singapore", site=club)], dt.date(2027, 1, 1), noon)
    >>> year.dates.places[0].dates[0].id
    'dawn-2027-01'
    """
    request = {"ask": "year_calendar", "places": places, "first": first, "stamp": stamp, "sequence": sequence}
    given = _without_none({"last": last, "before": before, "name": name})
    return _answer(YearCalendar, request | given, "UTC")


def year_picture(
    site: Site,
    today: dt.date,
    *,
    first: dt.date | None = None,
    last_safe: dt.date | None = None,
    title: str | None = None,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
    season: SeasonSettings | None = None,
) -> YearPicture:
    """Twelve months at a site, as SVG: windows, temperatures, daylight and flying hours.

    ``first`` is the first day of them; the first of today's month when not given. ``last_safe`` is
    that of a plan: it depends on the method.

    Args:
        site: Where: coordinates, height, zone.
        today: The day that is marked.
        first: First day of the twelve months; the first of today's month when not given.
        last_safe: That of a plan: it depends on the method.
        title: What stands above; the coordinates when not given.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.
        season: Rules and chances in place of the defaults.

    Returns:
        YearPicture: ``svg``, and the year that it shows.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100; ``unknown_name`` for a bee that is
            not known; ``bad_table`` or ``bad_cell`` for a climate file that cannot be read.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> year_picture(club, dt.date(2026, 3, 1)).svg[:4]
    '<svg'
    """
    request = _request(
        "year_picture",
        site,
        today=today,
        first=first,
        last_safe=last_safe,
        title=title,
        bee=bee,
        climate=climate,
        season=season,
    )
    return _answer(YearPicture, request, site.zone)


def methods() -> tuple[Method, ...]:
    """The built-in methods, whole: a start for one of your own.

    Returns:
        Methods, each with steps, waits, conditions and sources.

    >>> [method.name for method in methods()]
    ['comb_donation', 'eduction', 'split', 'transfer']
    """
    return _answer(tuple[Method, ...], {"ask": "methods"}, "UTC")


def last_safe(
    site: Site,
    today: dt.date,
    method: str | Method,
    *,
    bee: str | BeeOverrides | None = None,
    climate: ClimateInput | None = None,
    settings: PlanOverrides | None = None,
    season: SeasonSettings | None = None,
) -> LastSafe:
    """Until when a method can be begun so that the new colony stands on its own in time.

    Every waiting time is taken at its longest. Windows that are over by ``today`` are left out.

    Args:
        site: Where: coordinates, height, zone.
        today: The day on which it is asked.
        method: A built-in one by name, or one's own.
        bee: A built-in bee's name, or numbers of one's own; ``generic_small`` when not given.
        climate: Temperatures of one's own, and a forecast; what the location lets one expect when not
            given.
        settings: Numbers of the keeper's own for plans, in place of the defaults.
        season: Rules and chances in place of the defaults.

    Returns:
        LastSafe: a date for each window, or why there is none.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100; ``unknown_name`` for a bee that is
            not known; ``bad_table`` or ``bad_cell`` for a climate file that cannot be read.
            ``unknown_name`` too for a method that is not known.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> last_safe(club, dt.date(2026, 3, 1), "split").outcome
    LastSafeOutcomeAllYear(kind='all_year')
    """
    request = _request(
        "last_safe",
        site,
        today=today,
        method=method,
        bee=bee,
        climate=climate,
        settings=settings,
        season=season,
    )
    return _answer(LastSafe, request, site.zone)


class PlanFields(TypedDict, total=False):
    """What :func:`plan` and :func:`review` can be given beside place, day, method and colony."""

    bee: str | BeeOverrides | None
    climate: ClimateInput | None
    wanted: dt.date | None
    """The date near which the keeper would like to begin."""
    settings: PlanOverrides | None
    season: SeasonSettings | None
    mornings: MorningOverrides | None
    free_weekdays: Sequence[Weekday]
    """Days on which the keeper can work; every day when empty."""
    keeper: str | None
    club: str | None
    id: str | None
    """That of an earlier plan, so that calendars know it again."""
    records: Sequence[Record]
    """What was done and seen so far."""
    fixed: Sequence[FixedDate]
    """Tasks that the keeper has put on a date."""
    announced: Sequence[FixedDate]
    """The dates that were announced before: they stay unless weather, records or a rule forbid them."""


def plan(
    site: Site,
    today: dt.date,
    method: str | Method,
    colony: Colony,
    **fields: Unpack[PlanFields],
) -> Plan:
    """A whole dated plan for a new colony.

    ``fields`` are those of :class:`PlanFields`, by name: ``bee``, ``climate``, ``wanted``, ``settings``,
    ``season``, ``mornings``, ``free_weekdays``, ``keeper``, ``club``, ``id``, ``records``, ``fixed``,
    ``announced``. Give
    ``records`` of what was done and seen to have it planned anew, ``fixed`` to put a task on a date,
    and ``id`` to keep the id of an earlier plan.

    Args:
        site: Where: coordinates, height, zone.
        today: The day from which it is planned.
        method: A built-in one by name, or one's own.
        colony: What its keeper knows of the colony.
        **fields: ``bee``, ``climate``, ``wanted``, ``settings``, ``season``, ``mornings``,
            ``free_weekdays``, ``keeper``, ``club``, ``id``, ``records``, ``fixed``, ``announced``: see
            :class:`PlanFields`.

    Returns:
        Plan: tasks with ranges of dates, reasons, cautions, and what they rest on.

    Raises:
        ApiaryError: ``out_of_range`` for a date outside 1900 to 2100; ``unknown_name`` for a bee that is
            not known; ``bad_table`` or ``bad_cell`` for a climate file that cannot be read.
            ``unknown_name`` too for a method, and for a record of a task that the plan has not;
            ``inconsistent`` for a fixed date that cannot be kept.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> new = plan(club, dt.date(2026, 3, 1), "split", Colony(name="Hive 7"), wanted=dt.date(2026, 4, 4))
    >>> [task.dates.best for task in new.tasks if task.id == "divide"]
    [datetime.date(2026, 4, 4)]
    """
    request = _request("plan", site, today=today, method=method, colony=colony, **fields)
    return _answer(Plan, request, site.zone)


def why_not(
    site: Site,
    today: dt.date,
    method: str | Method,
    colony: Colony,
    *,
    task: str,
    date: dt.date,
    **fields: Unpack[PlanFields],
) -> DateAnswer:
    """The first reason why a task of a plan is not on a date; ``reason`` is None where it is.

    ``fields`` are those of :class:`PlanFields`, as for :func:`plan`.

    Args:
        site: Where: coordinates, height, zone.
        today: The day from which it is planned.
        method: A built-in one by name, or one's own.
        colony: What its keeper knows of the colony.
        task: The ``id`` of a task of the plan.
        date: The date that is asked about.
        **fields: ``bee``, ``climate``, ``wanted``, ``settings``, ``season``, ``mornings``,
            ``free_weekdays``, ``keeper``, ``club``, ``id``, ``records``, ``fixed``, ``announced``: see
            :class:`PlanFields`.

    Returns:
        DateAnswer: ``reason`` is None where the task is on that date.

    Raises:
        ApiaryError: As :func:`plan`, and for a task that the plan has not.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> asked = dict(wanted=dt.date(2026, 4, 4), task="divide", date=dt.date(2026, 2, 1))
    >>> why_not(club, dt.date(2026, 3, 1), "split", Colony(name="Hive 7"), **asked).reason.code
    'why_past'
    """
    plan_fields = _without_none(fields)
    plan = {"site": site, "today": today, "method": method, "colony": colony, **plan_fields}
    request = _request("why_not", site, plan=plan, task=task, date=date)
    del request["site"]
    return _answer(DateAnswer, request, site.zone)


def review(
    site: Site,
    today: dt.date,
    method: str | Method,
    colony: Colony,
    **fields: Unpack[PlanFields],
) -> Review:
    """Where a new colony stands by its records, what changes in its plan, and what to do.

    ``fields`` are those of :class:`PlanFields`, as for :func:`plan`.

    Args:
        site: Where: coordinates, height, zone.
        today: The day on which it is asked.
        method: A built-in one by name, or one's own.
        colony: What its keeper knows of the colony.
        **fields: ``bee``, ``climate``, ``wanted``, ``settings``, ``season``, ``mornings``,
            ``free_weekdays``, ``keeper``, ``club``, ``id``, ``records``, ``fixed``, ``announced``: see
            :class:`PlanFields`.

    Returns:
        Review: ``standing``, changes of dates, advice, and the plan.

    Raises:
        ApiaryError: As :func:`plan`.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> done = [Record(date=dt.date(2026, 2, 27), task="divide")]
    >>> review(club, dt.date(2026, 3, 1), "split", Colony(name="Hive 7"), records=done).standing
    'uncertain'
    """
    request = _request("review", site, today=today, method=method, colony=colony, **fields)
    return _answer(Review, request, site.zone)


class PlanAsked(PlanFields):
    """One plan of an :func:`agenda`: what :func:`plan` is given, by name."""

    site: Required[Site]
    today: Required[dt.date]
    method: Required[str | Method]
    colony: Required[Colony]


def agenda(
    plans: Sequence[PlanAsked],
    *,
    brief: bool = False,
    limits: KeeperLimitOverrides | None = None,
) -> Agenda:
    """What is to be done today, next and later, what only if, and what was never said.

    ``plans`` are those of any number of colonies, each as :func:`plan` is given them, with their
    records. ``brief`` leaves out the reviews that the answer rests on. With ``limits`` the plans are
    scheduled together, as by :func:`plans_together`; without them each by itself.

    Args:
        plans: Of any number of colonies, each with the fields of :class:`PlanAsked`.
        brief: Whether the reviews that the answer rests on are left out.
        limits: What the keepers can do in a day; the plans are scheduled together under them.

    Returns:
        Agenda: by colony and over all: now, next, this week, later, only if, waiting, questions.

    Raises:
        ApiaryError: As :func:`plan`, naming the plan; ``too_large`` for more than 500.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> hives = [PlanAsked(site=club, today=dt.date(2026, 3, 1), method="split", colony=Colony(name=name))
    ...          for name in ("Hive 1", "Hive 2")]
    >>> [colony.name for colony in agenda(hives, brief=True).colonies]
    ['Hive 1', 'Hive 2']
    """
    request = {"ask": "agenda", "plans": _given(plans), "brief": brief}
    return _answer(Agenda, _without_none({**request, "limits": limits}), _common_zone(plans))


def plans_together(
    plans: Sequence[PlanAsked], *, limits: KeeperLimitOverrides | None = None
) -> Together:
    """Plans of one keeper, or of people who work together, scheduled under limits that they share.

    No day has more openings or moves than ``limits`` allow, and the starts are spread over the season;
    ``starts`` says why each is where it is. At most 50 plans, all with the same ``today``.

    Args:
        plans: Each with the fields of :class:`PlanAsked`.
        limits: What the keepers can do in a day, in place of the defaults.

    Returns:
        Together: the plans, why each begins when it does, and which limits could not be kept.

    Raises:
        ApiaryError: As :func:`plan`, naming the plan; ``too_large`` for more than 50.

    >>> import datetime as dt
    >>> club = Site(latitude_deg=1.35, longitude_deg=103.8, elevation_m=15, zone="Asia/Singapore")
    >>> hives = [PlanAsked(site=club, today=dt.date(2026, 3, 1), method="split", colony=Colony(name=name))
    ...          for name in ("Hive 1", "Hive 2")]
    >>> both = plans_together(hives, limits=KeeperLimitOverrides(between_starts_d=10))
    >>> (both.starts[1].date - both.starts[0].date).days
    10
    """
    request = {"ask": "plans_together", "plans": _given(plans), "limits": limits}
    return _answer(Together, _without_none(request), _common_zone(plans))


def _given(plans: Sequence[PlanAsked]) -> Any:
    # What is no list of mappings is the engine's to refuse.
    if not isinstance(plans, (list, tuple)):
        return plans
    return [_without_none(plan) if isinstance(plan, Mapping) else plan for plan in plans]


def _common_zone(plans: Sequence[PlanAsked]) -> str:
    listed = plans if isinstance(plans, (list, tuple)) else []
    sites = [plan.get("site") for plan in listed if isinstance(plan, Mapping)]
    zones = {site.zone for site in sites if isinstance(site, Site)}
    return zones.pop() if len(zones) == 1 else "UTC"


def _without_none(fields: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in fields.items() if value is not None}


def _request(name: str, site: Site, /, **fields: Any) -> dict[str, Any]:
    if not isinstance(site, Site):
        raise TypeError(f"site is {site!r}; allowed is a Site")
    return {"ask": name, "site": site, **_without_none(fields)}


def _answer(kind: type[T], request: dict[str, Any], zone: str) -> T:
    answer: T = from_json(kind, ask(request), zone)
    return answer
