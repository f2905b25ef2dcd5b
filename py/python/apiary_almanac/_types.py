"""What goes in and comes out, as frozen dataclasses. Units stand in the names."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from apiary_almanac import _show
from apiary_almanac._convert import ask

# What goes in. Whatever is None stays at the engine's default.

Weekday = Literal[
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"
]
Quantity = Literal["mean", "minimum", "maximum"]
TemperatureSource = Literal[
    "location_default", "monthly_normals", "recorded_day", "recorded_mean", "forecast", "hours"
]
FlightLimit = Literal["light", "temperature"]
WaitUnit = Literal["days", "flying_days", "degree_days"]
Way = Literal["staged", "far_and_return", "at_once"]
FarStay = Literal["sixty_days", "three_weeks"]


@dataclass(frozen=True, kw_only=True)
class Site:
    """A place where hives stand; checked when it is made.

    >>> Site(latitude_deg=-28.81, longitude_deg=153.28, elevation_m=12, zone="Australia/Sydney").zone
    'Australia/Sydney'
    """

    latitude_deg: float
    """Degrees north, -90 to 90 (south is negative)."""
    longitude_deg: float
    """Degrees east, -180 to 180 (west is negative); 180 to 360 is read as -180 to 0."""
    elevation_m: float | None = None
    """Metres above sea level, -500 to 9000; without it that of the land around is filled in."""
    zone: str
    """IANA time zone of the people who work there."""
    east_horizon_deg: float = 0.0
    """How high hills or trees stand where the sun comes up, -5 to 45 degrees above level."""
    west_horizon_deg: float = 0.0
    """The same where it goes down."""
    elevation_from_land: bool | None = None
    """Filled in: the height was not given."""
    longitude_from_360: bool | None = None
    """Filled in: the longitude was given as 180 to 360."""

    def __post_init__(self) -> None:
        # What the engine completes stands in the site from then on.
        for name, value in ask({"ask": "site", "site": self}).items():
            object.__setattr__(self, name, value)


@dataclass(frozen=True, kw_only=True)
class BeeOverrides:
    """A user's own bee: a built-in one to start from, and any number of its numbers.

    The built-in bees and the allowed ranges are listed by :func:`parameters`.
    """

    based_on: str | None = None
    """Built-in bee to start from; ``generic_small`` when not given."""
    label: str | None = None
    source: str | None = None
    """Where the numbers come from."""
    flight_minimum_c: float | None = None
    flight_light_w_m2: float | None = None
    """Give this or ``flight_light_lx``, not both."""
    flight_light_lx: float | None = None
    flying_day_h: float | None = None
    rain_limit_mm: float | None = None
    wind_limit_m_s: float | None = None
    homing_typical_m: float | None = None
    homing_limit_m: float | None = None
    worker_development_d: float | None = None
    heat_shade_c: float | None = None
    heat_limit_c: float | None = None


@dataclass(frozen=True, kw_only=True)
class TextFile:
    """The text of a file, and the name by which errors call it."""

    file: str
    text: str


@dataclass(frozen=True, kw_only=True)
class MonthlyNormals:
    """Means of the twelve months, January first."""

    minimum_c: Sequence[float]
    maximum_c: Sequence[float]
    rain_mm: Sequence[float] | None = None
    wet_days: Sequence[float] | None = None
    """Mean number of wet days; say in ``about`` from how much rain a day is wet."""
    about: str
    """Station and years."""


@dataclass(frozen=True, kw_only=True)
class ForecastDay:
    """One day of a forecast."""

    date: dt.date
    minimum_c: float
    maximum_c: float
    rain_mm: float | None = None
    wind_m_s: float | None = None


@dataclass(frozen=True, kw_only=True)
class Hour:
    """The weather at one moment, measured or forecast."""

    at: dt.datetime
    temperature_c: float
    rain_mm: float | None = None
    """Rain since the reading before."""
    wind_m_s: float | None = None
    cloud_percent: float | None = None
    radiation_w_m2: float | None = None
    """Radiation of sun and sky on level ground."""


@dataclass(frozen=True, kw_only=True)
class ForecastAnswers:
    """Answers to the questions of a reading. What the text itself says stays as it is."""

    date_order: Literal["day_month", "month_day", "year_month"] | None = None
    """What ``3/4`` means."""
    first_day: Literal["past", "coming"] | None = None
    """Whether a weekday a few days back is the past one or the coming one."""
    temperature_unit: Literal["c", "f"] | None = None
    rain_unit: Literal["mm", "in"] | None = None
    wind_unit: Literal["m_s", "km_h", "mph", "kn"] | None = None
    comma: Literal["decimal", "thousands"] | None = None
    """What the comma of ``1,200`` stands for."""


@dataclass(frozen=True, kw_only=True)
class DailySpread:
    """Standard deviation of the days of a month about its normal, January first."""

    minimum_sd_c: Sequence[float]
    maximum_sd_c: Sequence[float]


@dataclass(frozen=True, kw_only=True)
class Warming:
    """What is added to normals of 1961–1990 for the years since."""

    minimum_c: float
    maximum_c: float


@dataclass(frozen=True, kw_only=True)
class DayLimitOverrides:
    """A user's own limits of a cold night and a heat spell."""

    cold_night_c: float | None = None
    """A night is cold whose minimum is at or below this; 8 when not given."""
    heat_spell_d: int | None = None
    """This many hot days on end are a heat spell; 3 when not given."""


@dataclass(frozen=True, kw_only=True)
class ClimateInput:
    """Normals or records, and a forecast: each as values or as the text of a CSV file.

    Without normals and records the default for the location is used.
    """

    normals: MonthlyNormals | None = None
    normals_csv: TextFile | None = None
    records_csv: TextFile | None = None
    forecast: Sequence[ForecastDay] | None = None
    forecast_csv: TextFile | None = None
    hours: Sequence[Hour] | None = None
    """Laid over the days; a day known from end to end takes minimum and maximum from them."""
    hours_files: Sequence[TextFile] | None = None
    """The same as the texts of files, CSV or JSON; of the same moment the later file counts."""
    spread: DailySpread | None = None
    """How far single days stray from the means, in place of what is taken for the place."""
    warming: Warming | None = None
    """What the default for the location adds to its normals of 1961–1990."""


@dataclass(frozen=True, kw_only=True)
class TemperatureRule:
    """The temperature, averaged over a number of days around the date, lies within bounds."""

    kind: Literal["temperature"] = "temperature"
    quantity: Quantity
    at_least_c: float | None = None
    at_most_c: float | None = None
    over_days: int
    """1 to 120."""


@dataclass(frozen=True, kw_only=True)
class WarmWeeksAheadRule:
    """The weeks that begin with the date are warm enough: every stretch of some on end."""

    kind: Literal["warm_weeks_ahead"] = "warm_weeks_ahead"
    quantity: Quantity
    at_least_c: float
    weeks: int
    """1 to 40."""
    averaged_weeks: int = 4
    """How many weeks are averaged."""


@dataclass(frozen=True, kw_only=True)
class OutsideWettestMonthsRule:
    """The date does not fall in one of the wettest months of the year."""

    kind: Literal["outside_wettest_months"] = "outside_wettest_months"
    months: int
    """1 to 11."""


@dataclass(frozen=True, kw_only=True)
class MonthlyRainRule:
    """The date's month brings no more rain than this."""

    kind: Literal["monthly_rain"] = "monthly_rain"
    at_most_mm: float


@dataclass(frozen=True, kw_only=True)
class MonthlyWetDaysRule:
    """The date's month has no more wet days than this.

    A wet day has 0.1 mm of rain in the default for the location, 1 mm in records.
    """

    kind: Literal["monthly_wet_days"] = "monthly_wet_days"
    at_most_days: float


@dataclass(frozen=True, kw_only=True)
class Rule:
    """A condition that must hold for a date to lie in a working window."""

    name: str
    test: (
        TemperatureRule
        | WarmWeeksAheadRule
        | OutsideWettestMonthsRule
        | MonthlyRainRule
        | MonthlyWetDaysRule
    )
    source: str
    """Publication, or ``common practice, no source``."""


@dataclass(frozen=True, kw_only=True)
class SeasonSettings:
    """How the season is to be judged."""

    rules: Sequence[Rule] | None = None
    """Rules in place of the default ones of the bee."""
    bar_wettest_months: int | None = None
    """Bars this many of the wettest months, in addition to the rules: 1 to 11."""
    most_wet_days: float | None = None
    """Bars months with more wet days than this, in addition to the rules: 0 to 31."""
    chance: float | None = None
    """Share of years asked of records."""


@dataclass(frozen=True, kw_only=True)
class MorningOverrides:
    """A user's own numbers for a move."""

    margin_min: float | None = None
    """Minutes before first flight by which the hive must stand in its new place."""
    settle_min: float | None = None
    """Minutes after last flight before the entrance is closed."""
    shortest_window_min: float | None = None
    coldest_work_c: float | None = None
    warmest_work_c: float | None = None

@dataclass(frozen=True, kw_only=True)
class Wait:
    """A waiting time: three counts from 0 to 1000, in order."""

    unit: WaitUnit
    base_c: float | None = None
    """Degree-days only, and needed there: -10 to 40 °C."""
    upper_c: float | None = None
    """Degree-days only: upper cut-off."""
    earliest: float
    likely: float
    latest: float
    source: str
    """Publication, or ``common practice, no source``."""


@dataclass(frozen=True, kw_only=True)
class DateRange:
    """A date that depends on weather."""

    earliest: dt.date
    best: dt.date
    latest: dt.date


@dataclass(frozen=True, kw_only=True)
class RelocationOverrides:
    """A user's own numbers for a relocation; :func:`parameters` lists the defaults."""

    stage_m: float | None = None
    flying_days_between: float | None = None
    slow_from_m: float | None = None
    staged_up_to_m: float | None = None
    far_small_m: float | None = None
    far_large_m: float | None = None
    far_stay: FarStay | None = None


@dataclass(frozen=True, kw_only=True)
class PartingOverrides:
    """A keeper's own numbers and waiting times for a parting; the preset's where not given."""

    before_entrance: Wait | None = None
    apart_m: float | None = None
    stage_m: float | None = None
    between_stages: Wait | None = None
    side_by_side: Wait | None = None


# What comes out.


@dataclass(frozen=True, kw_only=True)
class About:
    """What is behind the door."""

    name: str
    version: str
    error_codes: tuple[str, ...]
    """Every code that an :class:`ApiaryError` can have."""
    requests: tuple[str, ...]
    """Every name that a request's ``ask`` can take."""
    first_date: dt.date
    """The range of dates in which the engine answers."""
    last_date: dt.date


@dataclass(frozen=True, kw_only=True)
class CivilDay:
    """A civil day of a zone."""

    date: dt.date
    start: dt.datetime
    """Its first moment."""
    day_length_h: float
    """Hours until the next day starts: 24 but on days when clocks are changed."""


@dataclass(frozen=True, kw_only=True)
class Sourced:
    """A parameter: value, unit, allowed range and source."""

    value: float
    unit: str
    lowest: float
    highest: float
    source: str
    """Publication, or ``common practice, no source``."""


@dataclass(frozen=True, kw_only=True)
class Parameter:
    """A default number and where it belongs."""

    group: str
    name: str
    number: Sourced


@dataclass(frozen=True, kw_only=True)
class Bee:
    """The numbers of one kind of bee."""

    name: str
    label: str
    flight_minimum_c: Sourced
    """Air temperature below which foragers stay in."""
    flight_light: Sourced
    """Light below which foragers stay in: W/m² or lx, as its unit says."""
    flying_day_h: Sourced
    rain_limit_mm: Sourced
    wind_limit_m_s: Sourced
    homing_typical_m: Sourced
    homing_limit_m: Sourced
    worker_development_d: Sourced
    heat_shade_c: Sourced
    heat_limit_c: Sourced
    from_generic: tuple[str, ...]
    """Names of the numbers that were taken from a generic bee."""
    overridden: tuple[str, ...]
    """Names of the numbers that the user set."""


@dataclass(frozen=True, kw_only=True)
class Reason:
    """One reason, caution or piece of advice."""

    code: str
    """The name of its sentence in the catalogue: :func:`sentences`."""
    text: str
    """The sentence in English."""
    values: Mapping[str, Any] | None = None
    """What the sentence is made with, by name: ``{"kind": "temperature", "value": 18.0}``."""


@dataclass(frozen=True, kw_only=True)
class SentenceValue:
    """A value that belongs to a code of the catalogue."""

    name: str
    kind: str
    optional: bool
    """True for one that may be missing."""


@dataclass(frozen=True, kw_only=True)
class Sentence:
    """A code of the catalogue: how sentences are written stands at :func:`sentences`."""

    code: str
    template: str
    values: tuple[SentenceValue, ...]


@dataclass(frozen=True, kw_only=True)
class Word:
    """A word for a value of the kind ``word``; for a rule it has ``rule.`` before its name."""

    name: str
    word: str


@dataclass(frozen=True, kw_only=True)
class Sentences:
    """Every sentence of a language."""

    language: str
    sentences: tuple[Sentence, ...]
    words: tuple[Word, ...]


@dataclass(frozen=True, kw_only=True)
class Caution:
    """What to mind."""

    code: str
    text: str
    because: str | None
    """The number or day that calls for it; None where it always holds."""
    because_reason: Reason | None = None
    """The same with its values."""
    source: str


@dataclass(frozen=True, kw_only=True)
class Basis:
    """What an answer rests on."""

    source: TemperatureSource
    about: str
    about_reason: Reason | None = None
    """The same with its values, where it is not in words of the user's own."""
    period: str | None = None
    typical_error_c: float | None = None
    p95_error_c: float | None = None
    advice: str | None = None
    advice_reason: Reason | None = None


@dataclass(frozen=True, kw_only=True)
class WetDays:
    """Mean number of wet days of the twelve months."""

    days: tuple[float, ...]
    from_mm: float | None = None
    """Rain from which a day counts; None where the given normals do not say it."""


@dataclass(frozen=True, kw_only=True)
class SpreadError:
    """Root mean square error of standard deviations at stations left out."""

    minimum_sd_c: float
    maximum_sd_c: float


PlaceState = Literal["on_land", "near_land", "at_sea", "beyond_the_grid"]


@dataclass(frozen=True, kw_only=True)
class CheckedPlace:
    """A place, and what is doubtful about it."""

    site: Site
    state: PlaceState
    land_elevation_m: float | None = None
    """Mean height of the land within about a degree, where there is land."""
    noon_off_h: float
    """How far from 12:00 the clocks of the zone show mean solar noon; later is positive."""
    doubts: tuple[Reason, ...]
    """What to look at again."""


@dataclass(frozen=True, kw_only=True)
class UnderstoodDay:
    """One day of a forecast as it was understood."""

    date: dt.date
    text: str
    """``Monday 20 July 2026: 12 to 24 °C, 5 mm``"""
    place: str
    """Where it stands: ``line 3``."""
    given: str
    """What stands there."""


@dataclass(frozen=True, kw_only=True)
class LeftOut:
    """A part of a forecast that is not used."""

    place: str
    given: str
    why: Reason


@dataclass(frozen=True, kw_only=True)
class PossibleReading:
    """One answer that is possible."""

    answer: str
    text: str
    """What the text then means."""


@dataclass(frozen=True, kw_only=True)
class ForecastQuestion:
    """A question, with the readings that are possible."""

    code: str
    """The field of :class:`ForecastAnswers` that answers it."""
    text: str
    readings: tuple[PossibleReading, ...]
    must_be_answered: bool
    """Nothing can be used without an answer; else only the values in question are left out."""


@dataclass(frozen=True, kw_only=True)
class ForecastReading:
    """What a text says of the coming days, to be looked at before it is used."""

    understood: tuple[UnderstoodDay, ...]
    """Empty while a question is open that must be answered first."""
    forecast: tuple[ForecastDay, ...]
    """For ``ClimateInput(forecast=...)``."""
    hours: tuple[Hour, ...]
    """For ``ClimateInput(hours=...)``."""
    notes: tuple[Reason, ...]
    """How the text was read where it does not say so itself, and what to look at."""
    left_out: tuple[LeftOut, ...]
    more_left_out: int
    questions: tuple[ForecastQuestion, ...]


@dataclass(frozen=True, kw_only=True)
class DefaultClimate:
    """Twelve months of what the location alone lets one expect, January first.

    Rain, wet days and spread are known on the built-in grid only.
    """

    minimum_c: tuple[float, ...]
    maximum_c: tuple[float, ...]
    rain_mm: tuple[float, ...] | None = None
    wet_days: WetDays | None = None
    spread: DailySpread | None = None
    spread_error_c: SpreadError | None = None
    land_elevation_m: float | None = None
    """Mean elevation of the land within about a degree."""
    warming: Warming
    basis: Basis
    licence: str
    attribution: str
    """What must be said where the numbers are shown."""


@dataclass(frozen=True, kw_only=True)
class WarmSeasonMap:
    """Warm seasons: for every latitude in turn, every longitude; None off the land."""

    days: tuple[int | None, ...]
    """Days of the year at or above the threshold."""
    first_day: tuple[int | None, ...]
    """First day of the longest stretch, 1 January is 1; also None where no or every day is warm."""
    last_day: tuple[int | None, ...]
    period: str
    warming: Warming
    licence: str
    attribution: str


@dataclass(frozen=True, kw_only=True)
class RisesAndSets:
    """The usual day."""

    kind: Literal["rises_and_sets"]
    rise: dt.datetime
    set: dt.datetime


@dataclass(frozen=True, kw_only=True)
class OnlyRises:
    """It comes up and stays up: polar day begins."""

    kind: Literal["only_rises"]
    rise: dt.datetime


@dataclass(frozen=True, kw_only=True)
class OnlySets:
    """It goes down and stays down: polar night begins."""

    kind: Literal["only_sets"]
    set: dt.datetime


@dataclass(frozen=True, kw_only=True)
class NeitherRisesNorSets:
    """Above all day or below all day."""

    kind: Literal["always_above", "always_below"]


Crossing = RisesAndSets | OnlyRises | OnlySets | NeitherRisesNorSets


@dataclass(frozen=True, kw_only=True)
class SunDay:
    """Sun and twilights of one civil date; events may fall on a neighbouring date."""

    date: dt.date
    solar_noon: dt.datetime
    noon_altitude_deg: float
    sun: Crossing
    """The upper edge on the skyline of the site, refraction included."""
    civil: Crossing
    nautical: Crossing
    astronomical: Crossing
    day_length_h: float
    crossing: Crossing | None = None
    """Passage of the altitude that was asked for."""


@dataclass(frozen=True, kw_only=True)
class DayTemperatures:
    """Minimum, maximum and rain of one civil day."""

    date: dt.date
    minimum_c: float
    maximum_c: float
    rain_mm: float | None = None
    """None where it is not known."""
    source: TemperatureSource


@dataclass(frozen=True, kw_only=True)
class FlightEdge:
    """First or last flight, and what sets it."""

    at: dt.datetime
    limit: FlightLimit


@dataclass(frozen=True, kw_only=True)
class FlightPossible:
    """Flight is possible from ``first`` to ``last``."""

    kind: Literal["possible"]
    first: FlightEdge
    last: FlightEdge


@dataclass(frozen=True, kw_only=True)
class NoFlight:
    """Too cold all day, too dark all day, or never both at once."""

    kind: Literal["too_cold", "too_dark", "never_both"]


@dataclass(frozen=True, kw_only=True)
class DayChances:
    """Chances of a day of which only the mean over many years is known, 0 to 1."""

    flying_day: float
    """That it is warm enough for long enough; rain is left out."""
    cold_night: float
    hot_day: float
    """That the maximum reaches the bee's ``heat_shade_c``."""
    heat_spell: float
    """That it is one of several hot days on end."""


@dataclass(frozen=True, kw_only=True)
class FlightDay:
    """The flight of one day."""

    date: dt.date
    temperatures: DayTemperatures
    flight: FlightPossible | NoFlight
    flying_hours: float
    flying_day: bool
    reason: Reason
    chances: DayChances | None = None
    """Where only the mean of many years and the spread about it are known."""


@dataclass(frozen=True, kw_only=True)
class WorkingWindow:
    """A stretch of dates on which every rule holds."""

    opens: dt.date
    closes: dt.date
    days: int
    opened_by: tuple[Reason, ...]
    """What stood in the way on the day before."""
    closed_by: tuple[Reason, ...]
    """What stands in the way on the day after."""
    error_range: ErrorRange | None = None
    """How far the dates may be off, where the error of the temperatures is known."""


@dataclass(frozen=True, kw_only=True)
class ErrorRange:
    """A window if it were warmer or cooler by the typical error, in °C."""

    error_c: float
    warmer: ShiftedSpan | ShiftedFrom | ShiftedUntil | AllYear | NoWindow
    cooler: ShiftedSpan | ShiftedFrom | ShiftedUntil | AllYear | NoWindow


@dataclass(frozen=True, kw_only=True)
class ShiftedSpan:
    """A window with a beginning and an end."""

    kind: Literal["span"]
    opens: dt.date
    closes: dt.date


@dataclass(frozen=True, kw_only=True)
class ShiftedFrom:
    """A window without an end within a year."""

    kind: Literal["from"]
    opens: dt.date


@dataclass(frozen=True, kw_only=True)
class ShiftedUntil:
    """A window without a beginning within a year."""

    kind: Literal["until"]
    closes: dt.date


@dataclass(frozen=True, kw_only=True)
class AllYear:
    """Every rule holds on every date."""

    kind: Literal["all_year"]


@dataclass(frozen=True, kw_only=True)
class Windows:
    """The windows that touch the asked span, in order."""

    kind: Literal["windows"]
    windows: tuple[WorkingWindow, ...]


@dataclass(frozen=True, kw_only=True)
class NoWindow:
    """No date passes: the rules in the way; of a season also how far off they are, what would help."""

    kind: Literal["none"]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, kw_only=True)
class LastSafeDates:
    """A working window and its last dates for a method."""

    opens: dt.date
    closes: dt.date
    good_until: dt.date
    """Until when it stays warm, or dry where rain closes the season."""
    last_safe: dt.date | None
    """For the step that must be safe; None where the window is too short for it."""
    last_start: dt.date | None
    """To begin the method; earlier where there is work before that step."""
    why: Reason


@dataclass(frozen=True, kw_only=True)
class LastSafeWindows:
    """Windows that close on the asked day or later and open within a year of it, in order."""

    kind: Literal["windows"]
    windows: tuple[LastSafeDates, ...]


@dataclass(frozen=True, kw_only=True)
class LastSafe:
    """Until when a method can be begun safely. ``AllYear``: the season never closes."""

    method: str
    outcome: AllYear | LastSafeWindows | NoWindow
    basis: tuple[Basis, ...]


@dataclass(frozen=True, kw_only=True)
class Season:
    """The working windows of a span of dates."""

    first: dt.date
    last: dt.date
    outcome: AllYear | Windows | NoWindow
    chance: float
    judgement: Literal["mean_course", "spread", "years"]
    """By one mean course, by the spread of days about it, or by the years of the records."""
    years: int
    rules: tuple[Rule, ...]
    basis: tuple[Basis, ...]

    def __repr__(self) -> str:
        return f"<Season {self.first} to {self.last}: {_season_in_words(self)}>"

    def _repr_html_(self) -> str:
        windows = self.outcome.windows if isinstance(self.outcome, Windows) else ()
        return _show.table(
            repr(self)[1:-1],
            ("opens", "closes", "days", "opened by", "closed by"),
            [
                (w.opens, w.closes, w.days, _texts(w.opened_by), _texts(w.closed_by))
                for w in windows
            ],
        )



@dataclass(frozen=True, kw_only=True)
class EveningClosing:
    """When to close the entrance on the evening before."""

    last_flight: FlightEdge | None
    from_: dt.datetime
    """From when the foragers are in."""
    daylight_until: dt.datetime | None
    lamp_needed: bool


@dataclass(frozen=True, kw_only=True)
class MoveWindowOpen:
    """The stretch of a morning in which a hive can be moved."""

    kind: Literal["open"]
    from_: dt.datetime
    until: dt.datetime
    minutes: float


@dataclass(frozen=True, kw_only=True)
class NoMoveWindow:
    """There is none: why, and what would help."""

    kind: Literal["none"]
    reasons: tuple[Reason, ...]
    help: tuple[Reason, ...]


@dataclass(frozen=True, kw_only=True)
class Morning:
    """A morning and the evening before it."""

    date: dt.date
    evening_before: EveningClosing
    work_light: dt.datetime | None
    sunrise: dt.datetime | None
    first_flight: FlightEdge | None
    window: MoveWindowOpen | NoMoveWindow
    temperature_c: float | None
    """Air temperature at work light."""
    minimum_c: float
    maximum_c: float
    rain_mm: float | None
    wind_m_s: float | None
    flying_day: bool
    flight_day_reason: Reason
    source: TemperatureSource


@dataclass(frozen=True, kw_only=True)
class MorningChances:
    """Chances of a morning of which only the mean over many years is known, 0 to 1."""

    mild_work: float
    """That the air at work light is neither too cold nor too warm to carry a hive."""
    window: float
    """That there is a move window."""


@dataclass(frozen=True, kw_only=True)
class RankedMorning:
    """A morning with its place among the others."""

    rank: int
    """1 is the best."""
    points: float
    free: bool
    reasons: tuple[Reason, ...]
    chances: MorningChances | None = None
    """Where only the mean of many years and the spread about it are known."""
    morning: Morning


class Mornings(tuple[RankedMorning, ...]):
    """Mornings, the best first; a tuple that notebooks show as a table."""

    __slots__ = ()

    def _repr_html_(self) -> str:
        return _show.table(
            "Mornings, the best first",
            ("rank", "date", "work light", "until", "points", "why"),
            [
                (
                    one.rank,
                    one.morning.date,
                    one.morning.work_light,
                    one.morning.window.until
                    if isinstance(one.morning.window, MoveWindowOpen)
                    else "no window",
                    round(one.points),
                    _texts(one.reasons),
                )
                for one in self
            ],
        )


def _texts(reasons: tuple[Reason, ...]) -> str:
    return " ".join(reason.text for reason in reasons)


def _season_in_words(season: Season) -> str:
    if isinstance(season.outcome, Windows):
        return ", ".join(f"{w.opens} to {w.closes}" for w in season.outcome.windows)
    return "all year" if season.outcome.kind == "all_year" else "no window"


@dataclass(frozen=True, kw_only=True)
class Outlook:
    """Season, tomorrow, the next mornings, cautions."""

    site: Site
    today: dt.date
    bee: Bee
    basis: tuple[Basis, ...]
    season: Season
    sun_tomorrow: SunDay
    flight_tomorrow: FlightDay
    mornings: tuple[RankedMorning, ...]
    cautions: tuple[Caution, ...]

    def __repr__(self) -> str:
        return f"<Outlook {self.today}: {_season_in_words(self.season)}; {len(self.mornings)} mornings>"

    def _repr_html_(self) -> str:
        return self.season._repr_html_() + Mornings(self.mornings)._repr_html_()



@dataclass(frozen=True, kw_only=True)
class RestsOn:
    """How many of the days that an answer rests on came from where."""

    recorded_days: int
    forecast_days: int
    normal_days: int
    default_days: int


@dataclass(frozen=True, kw_only=True)
class RunsOut:
    """The dates on which the count is reached."""

    kind: Literal["runs_out"]
    dates: DateRange
    rests_on: RestsOn
    reasons: tuple[Reason, ...]
    """What else was counted in, such as the chance of rain."""


@dataclass(frozen=True, kw_only=True)
class NeverWithinAYear:
    """The weather of a year is not enough: what it brings, and why."""

    kind: Literal["never_within_a_year"]
    counted: float
    reason: Reason


@dataclass(frozen=True, kw_only=True)
class Clock:
    """When a waiting time runs out, and what the temperatures rest on."""

    outcome: RunsOut | NeverWithinAYear
    basis: tuple[Basis, ...]


@dataclass(frozen=True, kw_only=True)
class TimeWindow:
    """A stretch of a day."""

    from_: dt.datetime
    until: dt.datetime


@dataclass(frozen=True, kw_only=True)
class Choice:
    """A setting on which practice differs, what was chosen, and what else is done."""

    name: str
    chosen: str
    source: str
    others: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Stage:
    """One move at dawn."""

    number: int
    dates: DateRange
    window: TimeWindow
    distance_so_far_m: float
    turned_so_far_deg: float | None = None
    reasons: tuple[Reason, ...]
    rests_on: RestsOn


@dataclass(frozen=True, kw_only=True)
class Stages:
    """The stages of a move; ``stopped`` says why it comes to a stop, where it does."""

    stages: tuple[Stage, ...]
    finish: DateRange | None = None
    stopped: tuple[Reason, ...]


@dataclass(frozen=True, kw_only=True)
class StagedMove(Stages):
    """A move in stages, where that is the way."""

    kind: Literal["staged"]


@dataclass(frozen=True, kw_only=True)
class Parting:
    """How a new box gets from its parent's entrance to a place beside it."""

    before_entrance: Wait
    apart_m: Sourced
    stage_m: Sourced
    between_stages: Wait
    side_by_side: Wait


@dataclass(frozen=True, kw_only=True)
class PartingDates:
    """The dates of a parting."""

    set_beside: DateRange
    stages: Stages
    side_by_side_until: DateRange | None = None
    """None where the stages come to a stop."""


@dataclass(frozen=True, kw_only=True)
class DatedParting:
    """A dated parting."""

    site: Site
    bee: Bee
    parting: Parting
    dates: PartingDates
    cautions: tuple[Caution, ...]
    basis: tuple[Basis, ...]


@dataclass(frozen=True, kw_only=True)
class Trip:
    """One journey of a closed hive."""

    dates: DateRange
    evening_before: EveningClosing
    lift: TimeWindow | None = None
    """From work light until the air is too warm for a closed hive."""
    reasons: tuple[Reason, ...]
    rests_on: RestsOn


@dataclass(frozen=True, kw_only=True)
class TransitLimits:
    """What a closed hive can bear."""

    coldest_work_c: Sourced
    warmest_work_c: Sourced
    heat_shade_c: Sourced
    heat_limit_c: Sourced
    closing: Reason


@dataclass(frozen=True, kw_only=True)
class FarMove:
    """A move to a far place and back."""

    kind: Literal["far_and_return"]
    away_at_least_m: float
    away_source: str
    out: Trip
    stay: Wait
    back: Trip
    limits: TransitLimits


@dataclass(frozen=True, kw_only=True)
class DirectMove:
    """A move in one go."""

    kind: Literal["at_once"]
    trip: Trip
    limits: TransitLimits


@dataclass(frozen=True, kw_only=True)
class Relocation:
    """A dated relocation."""

    site: Site
    bee: Bee
    distance_m: float
    way: Way
    way_was_given: bool
    why: tuple[Reason, ...]
    course: StagedMove | FarMove | DirectMove
    finish: DateRange | None = None
    """When the hive stands in its new place; None where the stages come to a stop."""
    choices: tuple[Choice, ...]
    cautions: tuple[Caution, ...]
    basis: tuple[Basis, ...]

    def __repr__(self) -> str:
        return f"<Relocation of {self.distance_m:g} m: {self.way}>"



@dataclass(frozen=True, kw_only=True)
class CalendarText:
    """An iCalendar file (RFC 5545)."""

    ics: str
    """Lines end with CRLF: write it with ``newline=""`` or as bytes."""

    def __repr__(self) -> str:
        return f"<CalendarText of {len(self.ics)} characters>"



@dataclass(frozen=True, kw_only=True)
class TableText:
    """A table for spreadsheets (RFC 4180)."""

    csv: str
    """Lines end with CRLF: write it with ``newline=""``, and ``encoding="utf-8-sig"`` for Excel."""

    def __repr__(self) -> str:
        return f"<TableText of {len(self.csv)} characters>"



@dataclass(frozen=True, kw_only=True)
class Picture:
    """A picture; notebooks show it."""

    svg: str

    def _repr_svg_(self) -> str:
        return self.svg

    def __repr__(self) -> str:
        return f"<Picture of {len(self.svg)} characters of SVG>"


TaskKind = Literal[
    "prepare",
    "divide",
    "entrance",
    "pest_watch",
    "move",
    "rest",
    "check",
    "feed",
    "decide",
    "next_division",
]
"""What kind of work a task is."""
Which = Literal["parent", "daughter", "pair"]
"""The colony that was there before, the new one, or both."""
Strength = Literal["weak", "medium", "strong"]
"""How strong a colony is, as its keeper judges it."""
SignKind = Literal[
    "eggs",
    "laying_queen",
    "young_workers",
    "pollen_in",
    "resin_in",
    "steady_streams",
    "guards",
    "waste_out",
    "males_turned_out",
    "males_gathered",
    "bees_enter_other",
    "stores_carried_between",
    "no_traffic",
    "no_eggs",
    "phorid_larvae",
    "moth",
    "ants",
    "box_empty",
]
"""Something seen at a hive."""
SignStrength = Literal["conclusive", "supportive", "weak", "neutral", "contrary"]
"""What a sign is worth."""
Standing = Literal[
    "laying_queen_seen", "likely_established", "uncertain", "failing", "lost"
]
"""Where a box stands."""
Advice = Literal[
    "protect_from_heat",
    "fight_pests",
    "close_empty_box",
    "give_brood",
    "recombine",
    "inspect",
    "say_which_box",
    "leave_alone",
]
"""What a keeper can do."""


@dataclass(frozen=True, kw_only=True)
class When:
    """A choice on which something hangs."""

    setting: str
    is_: str


@dataclass(frozen=True, kw_only=True)
class SettingOption:
    """One way of doing a thing on which practice differs."""

    name: str
    words: str
    source: str
    wait: Wait | None = None


@dataclass(frozen=True, kw_only=True)
class Setting:
    """A thing on which practice differs."""

    name: str
    question: str
    default: str
    options: Sequence[SettingOption]
    when: When | None = None


@dataclass(frozen=True, kw_only=True)
class Readiness:
    """What a colony must be before a method is begun."""

    net_weight_kg: float | None = None
    strength: Strength | None = None
    since_division_setting: str | None = None
    source: str


@dataclass(frozen=True, kw_only=True)
class After:
    """What comes before a step: at most one of the three waits."""

    task: str
    wait: Wait | None = None
    by_setting: str | None = None
    by_bee: Literal["worker_development"] | None = None
    carries_range: bool = False


@dataclass(frozen=True, kw_only=True)
class Repeat:
    """A step that is done several times."""

    times: int
    wait: Wait | None = None
    by_setting: str | None = None


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of a method."""

    id: str
    kind: TaskKind
    which: Which
    title: str
    why: str
    look_for: Sequence[str] = ()
    depends_on: Sequence[After] = ()
    lead_d: int | None = None
    day: Literal["any", "opening", "flying"] = "any"
    time: Literal["whole_day", "dawn", "warm_hours", "evening"] = "whole_day"
    season: Literal["free", "within", "safe"] = "free"
    if_missed: Literal["still_due", "lapses"] = "still_due"
    asks_for_queen: bool = False
    rebuilt: bool = False
    repeat: Repeat | None = None
    when: When | None = None
    cautions: Sequence[str] = ()
    source: str


@dataclass(frozen=True, kw_only=True)
class Method:
    """How a new colony is made: built in, or of your own."""

    name: str
    label: str
    about: str
    source: str
    new_queen: Literal["parent", "daughter", "either", "none"]
    readiness: Readiness
    settings: Sequence[Setting] = ()
    steps: Sequence[Step]


@dataclass(frozen=True, kw_only=True)
class Colony:
    """The colony that is to be divided, as its keeper knows it."""

    name: str
    daughter_name: str | None = None
    net_weight_kg: float | None = None
    months_since_division: float | None = None
    strength: Strength | None = None


@dataclass(frozen=True, kw_only=True)
class PlanOverrides:
    """A keeper's own choices and numbers; :func:`parameters` lists the defaults."""

    choices: Mapping[str, str] | None = None
    opening_min_c: float | None = None
    opening_max_c: float | None = None
    opening_h: float | None = None
    flight_left_h: float | None = None
    heat_ahead_d: float | None = None
    opening_rain_mm: float | None = None
    ranked_d: float | None = None
    look_again_d: float | None = None
    eggs_count_from_d: float | None = None
    signs_count_from_d: float | None = None


@dataclass(frozen=True, kw_only=True)
class FixedDate:
    """A task that the keeper has put on a date."""

    task: str
    date: dt.date


@dataclass(frozen=True, kw_only=True)
class Sign:
    """Something seen, and at which box."""

    kind: SignKind
    which: Which | None = None


@dataclass(frozen=True, kw_only=True)
class Record:
    """What was done and seen on a day."""

    date: dt.date
    task: str | None = None
    signs: Sequence[Sign] = ()
    net_weight_kg: float | None = None
    note: str | None = None


@dataclass(frozen=True, kw_only=True)
class Dependency:
    """What must have been done before, and how long before."""

    task: str
    wait: Wait | None = None


@dataclass(frozen=True, kw_only=True)
class TaskAhead:
    """Ahead, or left out."""

    kind: Literal["planned", "dropped"]


@dataclass(frozen=True, kw_only=True)
class TaskDone:
    """Done on a date; that date no longer moves."""

    kind: Literal["done"]
    on: dt.date


@dataclass(frozen=True, kw_only=True)
class Task:
    """One thing to do."""

    id: str
    kind: TaskKind
    which: Which
    title: str
    dates: DateRange
    window: TimeWindow | None = None
    why: tuple[Reason, ...]
    look_for: tuple[str, ...]
    cautions: tuple[Caution, ...]
    source: str
    depends_on: tuple[Dependency, ...]
    rests_on: RestsOn
    state: TaskAhead | TaskDone


@dataclass(frozen=True, kw_only=True)
class BestDate:
    """A date on which a method could begin."""

    date: dt.date
    points: float
    good: bool
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, kw_only=True)
class Plan:
    """A dated plan for one new colony."""

    id: str
    title: str
    method: str
    bee: str
    site: Site
    today: dt.date
    window: WorkingWindow | None
    first_safe: dt.date | None = None
    last_safe: dt.date | None
    best_dates: tuple[BestDate, ...]
    notes: tuple[Reason, ...]
    tasks: tuple[Task, ...]
    choices: tuple[Choice, ...]
    cautions: tuple[Caution, ...]
    basis: tuple[Basis, ...]

    def __repr__(self) -> str:
        return f"<Plan {self.title!r} of {self.today}: {len(self.tasks)} tasks>"

    def _repr_html_(self) -> str:
        return _show.table(
            self.title,
            ("earliest", "best", "latest", "task", "why"),
            [
                (t.dates.earliest, t.dates.best, t.dates.latest, t.title, _texts(t.why))
                for t in self.tasks
            ],
        )



@dataclass(frozen=True, kw_only=True)
class Seen:
    """A sign and what it tells here."""

    kind: SignKind
    date: dt.date
    strength: SignStrength
    text: str
    source: str


@dataclass(frozen=True, kw_only=True)
class BoxStanding:
    """A box, the signs for it and against it."""

    which: Which
    standing: Standing
    signs_for: tuple[Seen, ...]
    signs_against: tuple[Seen, ...]
    signs_neutral: tuple[Seen, ...]


@dataclass(frozen=True, kw_only=True)
class Settle:
    """The one thing that would settle the question."""

    look_for: str
    from_: dt.date
    by: dt.date


@dataclass(frozen=True, kw_only=True)
class Change:
    """A task whose date or state has changed since the last record."""

    task: str
    before: dt.date | None = None
    after: dt.date | None = None
    state: TaskAhead | TaskDone | None
    later_d: int
    why: tuple[Reason, ...]


@dataclass(frozen=True, kw_only=True)
class Recommendation:
    """A piece of advice and its reason."""

    advice: Advice
    which: Which
    text: str
    reason: Reason
    source: str


@dataclass(frozen=True, kw_only=True)
class Review:
    """Where a plan and its colony stand."""

    today: dt.date
    standing: Standing | None
    boxes: tuple[BoxStanding, ...]
    settle: Settle | None = None
    changes: tuple[Change, ...]
    recommendations: tuple[Recommendation, ...]
    plan: Plan

    def __repr__(self) -> str:
        return f"<Review {self.today}: {self.standing}; {len(self.changes)} changes>"

    def _repr_html_(self) -> str:
        return self.plan._repr_html_()
