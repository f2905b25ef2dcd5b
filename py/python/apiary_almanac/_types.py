# Written by `cargo run -p apiary-almanac-tools --bin mirrors` from the types of the engine: change those.
"""What goes in and comes out, as frozen dataclasses. Units stand in the names.

Whatever a request leaves at None stays at the engine's default.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from apiary_almanac import _show
from apiary_almanac._convert import complete

if TYPE_CHECKING:
    from dataclasses import dataclass
else:
    from apiary_almanac._record import dataclass

__all__ = [
    "About",
    "Advice",
    "After",
    "AfterSign",
    "Agenda",
    "BarRains",
    "Basis",
    "Because",
    "Bee",
    "BeeOverrides",
    "BeeWait",
    "BestDate",
    "BoundLine",
    "BoxStanding",
    "CalendarPer",
    "CalendarText",
    "Caution",
    "Change",
    "CheckedPlace",
    "Choice",
    "ChosenStart",
    "CivilDay",
    "ClimateInput",
    "Clock",
    "Colony",
    "ColonyState",
    "CommaMeans",
    "CoordinatesReading",
    "Counted",
    "Course",
    "CourseAtOnce",
    "CourseFarAndReturn",
    "CourseStaged",
    "Crossing",
    "CrossingAlwaysAbove",
    "CrossingAlwaysBelow",
    "CrossingOnlyRises",
    "CrossingOnlySets",
    "CrossingRisesAndSets",
    "DailySpread",
    "DateAnswer",
    "DateOrder",
    "DateRange",
    "DateState",
    "DatedParting",
    "DatedPlace",
    "DayChances",
    "DayLimitOverrides",
    "DayRule",
    "DayTemperatures",
    "DefaultClimate",
    "Dependency",
    "DirectMove",
    "EdgeRange",
    "EntranceCount",
    "EntranceWork",
    "ErrorCode",
    "ErrorRange",
    "EveningClosing",
    "FarMove",
    "FarStay",
    "FirstDay",
    "FixedDate",
    "Flight",
    "FlightDay",
    "FlightEdge",
    "FlightLimit",
    "FlightNeverBoth",
    "FlightPossible",
    "FlightTooCold",
    "FlightTooDark",
    "Following",
    "ForecastAnswers",
    "ForecastDay",
    "ForecastQuestion",
    "ForecastReading",
    "FoundTowns",
    "HiveMove",
    "Hour",
    "IfMissed",
    "Item",
    "ItemAnswer",
    "Judgement",
    "KeeperLimitOverrides",
    "KeptRecord",
    "Known",
    "LampWindow",
    "Language",
    "LastSafe",
    "LastSafeDates",
    "LastSafeOutcome",
    "LastSafeOutcomeAllYear",
    "LastSafeOutcomeNone",
    "LastSafeOutcomeWindows",
    "LeftOut",
    "Method",
    "MonthlyNormals",
    "Morning",
    "MorningChances",
    "MorningOverrides",
    "MorningsCalendar",
    "MoveWindow",
    "MoveWindowNone",
    "MoveWindowOpen",
    "Moved",
    "MovedMove",
    "MovedParting",
    "NamedCalendar",
    "NearTowns",
    "NewQueen",
    "Odds",
    "OnlyIf",
    "Outcome",
    "Outlook",
    "PairStanding",
    "Parameter",
    "Parting",
    "PartingDates",
    "PartingOverrides",
    "Picture",
    "PlaceDates",
    "PlaceState",
    "Plan",
    "PlanOverrides",
    "Position",
    "PossibleReading",
    "Poster",
    "PublishedKind",
    "PublishedMark",
    "PublishedSeason",
    "Quantity",
    "Question",
    "RainOfYear",
    "RainUnit",
    "RainsEdge",
    "RankedMorning",
    "Readiness",
    "Reading",
    "Reason",
    "ReasonValue",
    "ReasonValueAngle",
    "ReasonValueCount",
    "ReasonValueDate",
    "ReasonValueDays",
    "ReasonValueDegreeDays",
    "ReasonValueDifference",
    "ReasonValueFlyingDays",
    "ReasonValueHours",
    "ReasonValueLength",
    "ReasonValueList",
    "ReasonValueMinutes",
    "ReasonValueMoment",
    "ReasonValueName",
    "ReasonValueRain",
    "ReasonValueReason",
    "ReasonValueRule",
    "ReasonValueShare",
    "ReasonValueSpeed",
    "ReasonValueTemperature",
    "ReasonValueTitle",
    "ReasonValueWeight",
    "ReasonValueWord",
    "ReasonWithin",
    "Recommendation",
    "Record",
    "Region",
    "Relocation",
    "RelocationOverrides",
    "Repeat",
    "RestsOn",
    "Review",
    "Rule",
    "RuleTest",
    "RuleTestMonthlyRain",
    "RuleTestMonthlyWetDays",
    "RuleTestOutsideWettestMonths",
    "RuleTestRains",
    "RuleTestTemperature",
    "RuleTestWarmWeeksAhead",
    "Season",
    "SeasonOutcome",
    "SeasonOutcomeAllYear",
    "SeasonOutcomeNone",
    "SeasonOutcomeWindows",
    "SeasonSettings",
    "SeasonStretch",
    "SeasonUse",
    "Seen",
    "Sentence",
    "SentenceValue",
    "Sentences",
    "Setting",
    "SettingOption",
    "Settle",
    "ShiftedWindow",
    "ShiftedWindowAllYear",
    "ShiftedWindowFrom",
    "ShiftedWindowNone",
    "ShiftedWindowSpan",
    "ShiftedWindowUntil",
    "Sign",
    "SignAt",
    "SignKind",
    "SignStrength",
    "SignTally",
    "Site",
    "Size",
    "Sourced",
    "SpreadError",
    "Stage",
    "StageOverrides",
    "StagedMove",
    "Standing",
    "StartOdds",
    "StartOddsClosed",
    "StartOddsKnown",
    "StartOddsNoEnd",
    "State",
    "StateWord",
    "Step",
    "StepBox",
    "Strength",
    "SunDay",
    "SunDayAndCrossing",
    "TableText",
    "Task",
    "TaskKind",
    "TaskSlack",
    "TaskState",
    "TaskStateDone",
    "TaskStateDropped",
    "TaskStatePlanned",
    "TemperatureSource",
    "TemperatureUnit",
    "TextFile",
    "TimeOfDay",
    "TimeWindow",
    "Together",
    "Town",
    "Traffic",
    "TransitLimits",
    "Trip",
    "UnderstoodDay",
    "Verdict",
    "Wait",
    "WaitOutcome",
    "WaitOutcomeNeverWithinAYear",
    "WaitOutcomeRunsOut",
    "WaitUnit",
    "Waiting",
    "WaitingTask",
    "WarmSeasonMap",
    "Warming",
    "Way",
    "Weekday",
    "WetDays",
    "When",
    "Which",
    "WindUnit",
    "Wish",
    "WishState",
    "Word",
    "WorkingWindow",
    "YearCalendar",
    "YearDate",
    "YearDateKind",
    "YearDates",
    "YearPicture",
]


ErrorCode = Literal[
    "bad_cell",
    "bad_table",
    "inconsistent",
    "not_enough_data",
    "out_of_range",
    "skipped_day",
    "too_large",
    "unknown_name",
    "unknown_zone",
    "unreadable",
]
"""The stable name of a kind of error; the same in every language."""


@dataclass(frozen=True, kw_only=True)
class About:
    """What is behind the door."""

    name: str
    """Name of the engine."""
    version: str
    """Its version."""
    error_codes: tuple[ErrorCode, ...]
    """Every code that an error can have."""
    requests: tuple[str, ...]
    """Every name that a request's ``ask`` can take."""
    bees: tuple[str, ...]
    """Names of the built-in bees, the generic ones first."""
    first_date: dt.date
    """The first date that the engine answers for."""
    last_date: dt.date
    """The last one."""


@dataclass(frozen=True, kw_only=True)
class Site:
    """A place where hives stand."""

    latitude_deg: float
    """Degrees north, −90 to 90 (south is negative)."""
    longitude_deg: float
    """Degrees east, −180 to 180 (west is negative); a request may have 180 to 360."""
    elevation_m: float | None = None
    """Metres above sea level, −500 to 9000; without it a request takes that of the land around."""
    zone: str
    """IANA time zone of the people who work there."""
    east_horizon_deg: float = 0.0
    """How high hills or trees stand where the sun comes up, −5 to 45 degrees above level."""
    west_horizon_deg: float = 0.0
    """The same where it goes down."""
    elevation_from_land: bool = False
    """In answers: the height was not given, it is that of the land around (``place``)."""
    longitude_from_360: bool = False
    """In answers: the longitude was given as 180 to 360."""

    def __post_init__(self) -> None:
        complete(self)


@dataclass(frozen=True, kw_only=True)
class BeeOverrides:
    """A user's own bee: a built-in one to start from, and any number of its numbers."""

    based_on: str | None = None
    """Built-in bee to start from; ``generic_small`` when not given."""
    label: str | None = None
    """Name for people."""
    source: str | None = None
    """Where the numbers come from; "set by the user" when not given."""
    flight_light_w_m2: float | None = None
    """See ``Bee.flight_light``; in W/m². Give this or the next, not both."""
    flight_light_lx: float | None = None
    """See ``Bee.flight_light``; in lx."""
    flight_earliest_c: float | None = None
    """See ``Bee.flight_earliest_c``."""
    flight_minimum_c: float | None = None
    """See ``Bee.flight_minimum_c``."""
    flying_day_h: float | None = None
    """See ``Bee.flying_day_h``."""
    rain_limit_mm: float | None = None
    """See ``Bee.rain_limit_mm``."""
    wind_limit_m_s: float | None = None
    """See ``Bee.wind_limit_m_s``."""
    worker_development_shortest_d: float | None = None
    """See ``Bee.worker_development_shortest_d``."""
    worker_development_d: float | None = None
    """See ``Bee.worker_development_d``."""
    heat_shade_c: float | None = None
    """See ``Bee.heat_shade_c``."""
    heat_limit_c: float | None = None
    """See ``Bee.heat_limit_c``."""
    homing_typical_m: float | None = None
    """See ``Bee.homing_typical_m``."""
    homing_limit_m: float | None = None
    """See ``Bee.homing_limit_m``."""
    homing_farthest_m: float | None = None
    """See ``Bee.homing_farthest_m``."""
    queen_development_d: float | None = None
    """See ``Bee.queen_development_d``."""
    worker_life_d: float | None = None
    """See ``Bee.worker_life_d``."""
    brood_cold_c: float | None = None
    """See ``Bee.brood_cold_c``."""
    brood_heat_c: float | None = None
    """See ``Bee.brood_heat_c``."""
    fanning_c: float | None = None
    """See ``Bee.fanning_c``."""
    adult_cold_c: float | None = None
    """See ``Bee.adult_cold_c``."""
    adult_heat_c: float | None = None
    """See ``Bee.adult_heat_c``."""
    division_night_c: float | None = None
    """See ``Bee.division_night_c``."""
    ready_net_kg: float | None = None
    """See ``Bee.ready_net_kg``."""
    division_interval_d: float | None = None
    """See ``Bee.division_interval_d``."""


@dataclass(frozen=True, kw_only=True)
class MonthlyNormals:
    """Means of the twelve months, January first."""

    minimum_c: Sequence[float]
    """Means of the daily minimum, °C."""
    maximum_c: Sequence[float]
    """Means of the daily maximum, °C."""
    rain_mm: Sequence[float] | None = None
    """Mean totals of rain, mm."""
    wet_days: Sequence[float] | None = None
    """Mean numbers of wet days; say in ``about`` from how much rain a day is wet."""
    about: str
    """Station and years."""


@dataclass(frozen=True, kw_only=True)
class TextFile:
    """The text of a file, and the name by which errors call it."""

    file: str
    """The file's name."""
    text: str
    """All of its text."""


@dataclass(frozen=True, kw_only=True)
class ForecastDay:
    """One day of a forecast."""

    date: dt.date
    """The civil day at the site."""
    minimum_c: float
    """Lowest air temperature, °C."""
    maximum_c: float
    """Highest air temperature, °C."""
    rain_mm: float | None = None
    """Rain, mm."""
    wind_m_s: float | None = None
    """Mean wind, m/s."""


@dataclass(frozen=True, kw_only=True)
class Hour:
    """The weather at one moment, every hour or so."""

    at: dt.datetime
    """The moment."""
    temperature_c: float
    """Air temperature at that moment, °C."""
    rain_mm: float | None = None
    """Rain since the reading before, mm."""
    wind_m_s: float | None = None
    """Wind, m/s."""
    cloud_percent: float | None = None
    """Share of the sky under cloud, %."""
    radiation_w_m2: float | None = None
    """Radiation of sun and sky on level ground, W/m²."""


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What was read and seen at one moment: it moves the usual and the early first flight of its
    day.
    """

    at: dt.datetime
    """When it was read."""
    temperature_c: float
    """Temperature in the shade, °C."""
    flying: bool | None = None
    """Whether bees flew at the entrance; not looked at where it is missing."""


@dataclass(frozen=True, kw_only=True)
class DailySpread:
    """Standard deviation of the days of a month about its normal."""

    minimum_sd_c: Sequence[float]
    """Of the daily minima, January first, °C."""
    maximum_sd_c: Sequence[float]
    """Of the daily maxima, °C."""


@dataclass(frozen=True, kw_only=True)
class Warming:
    """What is added to normals of 1961–1990 for the years since."""

    minimum_c: float
    """Added to the minimum, °C."""
    maximum_c: float
    """Added to the maximum, °C."""


@dataclass(frozen=True, kw_only=True)
class ClimateInput:
    """Normals or records, and a forecast: each as values or as the text of a CSV file. Without
    normals and records the default for the location is used.
    """

    normals: MonthlyNormals | None = None
    """Twelve monthly normals."""
    normals_csv: TextFile | None = None
    """The same as CSV."""
    normals_paste: str | None = None
    """The same as a table pasted from a weather service's page: ``MonthlyNormals.from_paste``."""
    records_csv: TextFile | None = None
    """Daily records as CSV."""
    forecast: Sequence[ForecastDay] | None = None
    """The next days."""
    forecast_csv: TextFile | None = None
    """The same as CSV."""
    hours: Sequence[Hour] = ()
    """Weather by the hour, measured or forecast."""
    hours_files: Sequence[TextFile] = ()
    """The same as the texts of files, CSV or JSON: ``Hours.from_texts``."""
    reading: Reading | None = None
    """A look at the thermometer on the day itself."""
    spread: DailySpread | None = None
    """How far single days stray from the means, in place of what is taken for the place."""
    warming: Warming | None = None
    """What the default for the location adds to its normals of 1961–1990, in place of what is
    known of today.
    """


NewQueen = Literal[
    "parent",
    "daughter",
    "either",
    "none",
]
"""Which box will have to raise a queen.

``parent``: The old box.

``daughter``: The new box.

``either``: One of the two; which one shows only when the queen or eggs are seen.

``none``: Neither: the queen moves with the colony.
"""


Region = Literal[
    "americas",
    "africa",
    "asia",
    "australia",
]
"""A part of the world in which stingless bees are native.

``americas``: Mexico to northern Argentina.

``africa``: Africa south of the Sahara, with Madagascar.

``asia``: India to Taiwan and the Solomon Islands.

``australia``: Australia.
"""


@dataclass(frozen=True, kw_only=True)
class When:
    """When something holds: all that is given must."""

    setting: str | None = None
    """Name of a setting; with one of the next two."""
    is_: str | None = None
    """The option of it that is chosen."""
    is_not: str | None = None
    """The option of it that is not chosen, while the setting matters."""
    builds_queen_cells: bool | None = None
    """Whether the bee raises its queens in queen cells: not so in *Melipona*."""
    bees: Sequence[str] = ()
    """The bee is one of these species or genera, in small letters: ``tetragonula_carbonaria``,
    ``melipona``.
    """
    region: Region | None = None
    """The hives stand in this part of the world."""


@dataclass(frozen=True, kw_only=True)
class BoundLine:
    """A sentence and its condition."""

    text: str
    """The sentence."""
    when: When
    """When it holds."""


Strength = Literal[
    "weak",
    "medium",
    "strong",
]
"""How strong a colony is, as its keeper judges it.

``weak``: Few bees at the entrance, little brood or few pots.

``medium``: In between.

``strong``: Steady streams, guards, brood and pots that fill the box.
"""


@dataclass(frozen=True, kw_only=True)
class Readiness:
    """What a colony must be before the method is begun."""

    net_weight_by_bee: bool = False
    """True where the bee's own ``ready_net_kg`` is asked, if it has one."""
    look_for: Sequence[str | BoundLine] = ()
    """What shows the strength that is asked, a sentence each."""
    net_weight_kg: float | None = None
    """Least net weight, kg."""
    strength: Strength | None = None
    """Least strength."""
    since_division_setting: str | None = None
    """The setting whose earliest wait must have passed since the last division."""
    source: str
    """Where this comes from."""


WaitUnit = Literal[
    "days",
    "flying_days",
    "degree_days",
]
"""What a waiting time counts.

``days``: Days.

``flying_days``: Days on which bees fly.

``degree_days``: Warmth above a temperature, °C d.
"""


@dataclass(frozen=True, kw_only=True)
class Wait:
    """A waiting time as data: three counts and their source."""

    unit: WaitUnit
    """What is counted."""
    base_c: float | None = None
    """Temperature above which warmth is counted, −10 to 40 °C: for degree-days, and needed
    there.
    """
    upper_c: float | None = None
    """Temperature up to which it is counted, °C: for degree-days."""
    earliest: float
    """The shortest count."""
    likely: float
    """The count to plan with."""
    latest: float
    """The longest count."""
    source: str
    """Publication, or ``common practice, no source``."""


BeeWait = Literal[
    "worker_development",
    "division_interval",
    "last_decision",
]
"""A number of the bee that is a waiting time.

``worker_development``: ``Bee.worker_development_d``, 5 d less to 5 d more.

``division_interval``: ``Bee.division_interval_d``. Where none is published the step has no
date: it waits until the box is full again.

``last_decision``: The day after the division on which a keeper decides for the last time: day
110, or sooner the last on which brood that is given still helps, three weeks before the last
bees of a box without a queen die.
"""


Which = Literal[
    "parent",
    "daughter",
    "pair",
]
"""Which of the two boxes a task concerns.

``parent``: The colony that was there before.

``daughter``: The new one.

``pair``: Both.
"""


@dataclass(frozen=True, kw_only=True)
class SettingOption:
    """One way of doing a thing on which practice differs."""

    name: str
    """Short name, snake case."""
    words: str
    """The way in words."""
    source: str
    """Publication, or ``common practice, no source``."""
    wait: Wait | None = None
    """The waiting time that goes with it."""
    by_bee: BeeWait | None = None
    """The waiting time of the bee that goes with it; give this or ``wait``."""
    keeps_place: Which | None = None
    """With it this box keeps the old place, ``parent`` or ``daughter``, and the other leaves."""


@dataclass(frozen=True, kw_only=True)
class Setting:
    """A thing on which practice differs."""

    name: str
    """Short name, snake case."""
    question: str
    """What is to be chosen."""
    default: str
    """The option that is taken where the keeper names none."""
    options: Sequence[SettingOption]
    """The ways; at least two."""
    when: When | None = None
    """It matters only under this condition; of settings those before it count."""


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
"""What kind of work a task is. Pictures and calendars group by it.

``prepare``: Looking after readiness and material beforehand.

``divide``: Dividing, setting a box on, parting, transferring.

``entrance``: Closing or opening an entrance.

``pest_watch``: Looking for pests.

``move``: Moving a box.

``rest``: Leaving the pair alone, side by side.

``check``: Looking for eggs, queen, new workers.

``feed``: Feeding.

``decide``: Deciding what to do.

``next_division``: When the colony may be divided again.
"""


StepBox = Literal[
    "parent",
    "daughter",
    "pair",
    "leaving",
    "staying",
]
"""The box of a step.

``parent``: The old box.

``daughter``: The new one.

``pair``: Both.

``leaving``: The one that leaves the old place, as a setting says.

``staying``: The one that keeps the old place.
"""


@dataclass(frozen=True, kw_only=True)
class After:
    """What comes before a step, and how long before: at most one of the three waits; with none,
    any later time will do.
    """

    task: str
    """The ``id`` of the other step."""
    wait: Wait | None = None
    """A waiting time."""
    by_setting: str | None = None
    """The waiting time of a setting's option."""
    by_bee: BeeWait | None = None
    """A waiting time of the bee."""
    carries_range: bool = False
    """True where the other step's date is known as a range only, so that its whole range counts."""
    when: When | None = None
    """It is waited for only under a condition."""


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
    "brood",
    "queen_cells",
    "cells_without_eggs",
    "fights",
    "hoverflies",
    "hive_beetle",
]
"""Something seen at a hive.

``eggs``: New cells with eggs.

``laying_queen``: The queen, laying or swollen.

``young_workers``: Pale young bees, weeks after the brood that came along had emerged.

``pollen_in``: Pollen carried in.

``resin_in``: Resin carried in.

``steady_streams``: Steady streams of foragers on good flying days.

``guards``: Guards at the entrance.

``waste_out``: Waste carried out.

``males_turned_out``: Many males turned out at the entrance on one day, out of season.

``males_gathered``: Males gathered outside.

``bees_enter_other``: Bees of one box going into the other.

``stores_carried_between``: Pollen, resin or wax carried from one box to the other.

``no_traffic``: No traffic on a good flying day.

``no_eggs``: Brood or empty cells, but no eggs.

``phorid_larvae``: Larvae of phorid flies inside.

``moth``: Moth larvae or webs inside.

``ants``: Ants inside.

``box_empty``: The box is empty, or only dead bees are in it.

``brood``: Brood of any age, in a box that had none.

``queen_cells``: Queen cells in a cocoon.

``cells_without_eggs``: New cells, built and filled, but without eggs.

``fights``: Bees of other colonies fight at the entrance.

``hoverflies``: Eggs of hoverflies in joints, or their larvae inside.

``hive_beetle``: Hive beetles or their larvae inside.
"""


@dataclass(frozen=True, kw_only=True)
class AfterSign:
    """A sight that a step waits for, and how long after it the step is due."""

    sign: SignKind
    """What."""
    which: Which
    """Where."""
    wait: Wait | None = None
    """The time since it was first seen; give this or the next."""
    by_setting: str | None = None
    """The setting that has the time."""


@dataclass(frozen=True, kw_only=True)
class SignAt:
    """What is seen, and at which box."""

    sign: SignKind
    """What."""
    which: Which
    """Where."""


OnlyIf = Literal[
    "no_eggs",
]
"""A condition that is asked on the day, not in the settings.

``no_eggs``: Only if the look before found no eggs.
"""


DayRule = Literal[
    "any",
    "opening",
    "flying",
]
"""What a step asks of the weather of its day.

``any``: Nothing.

``opening``: Warm enough to open a hive, not too hot, dry, and no heat in the following days.

``flying``: Bees can fly long enough to learn a place.
"""


TimeOfDay = Literal[
    "whole_day",
    "dawn",
    "warm_hours",
    "evening",
]
"""The part of the day that a step takes place in.

``whole_day``: Any time.

``dawn``: The move window of the dawn.

``warm_hours``: Daytime with flight, while the air is neither too cold nor too hot to open a
hive.

``evening``: After last flight.
"""


EntranceWork = Literal[
    "close",
    "open",
]
"""What a step does to an entrance.

``close``: It is closed for some days: not where one of the next two is hotter than
``closed_limit``.

``open``: It is opened.
"""


SeasonUse = Literal[
    "free",
    "within",
    "safe",
]
"""How a step is bound to the season.

``free``: Not at all.

``within``: It must lie in a working window.

``safe``: It must lie in a working window and not after the last safe date. One step of a
method.
"""


IfMissed = Literal[
    "still_due",
    "lapses",
]
"""What becomes of a step whose time has passed without a record of it.

``still_due``: It is still to be done.

``lapses``: It is dropped: a look at the hive on that day cannot be made up for.
"""


@dataclass(frozen=True, kw_only=True)
class Repeat:
    """A step that is done several times."""

    times: int
    """How often: 2 to 60."""
    wait: Wait | None = None
    """The time from one to the next; give this or the next."""
    by_setting: str | None = None
    """The setting that has the time."""
    stage_m: float | None = None
    """The length of each, m, for the stages of a move: 0.1 to 1. Titles and reasons name it
    where they have ``{stage_m}``, and how far the box has come by then where they have
    ``{so_far}``.
    """
    total_turn_deg: float | None = None
    """By how much the entrance is turned in all, degrees, clockwise positive; ``{turned}`` names
    what has been turned by then.
    """


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of a method."""

    id: str
    """Unique within the method, in kebab case."""
    kind: TaskKind
    """What kind of work."""
    which: StepBox
    """Which box."""
    title: str
    """A short line for people."""
    short: str | None = None
    """The same in a few words, for small screens and calendars; the title where it is not given."""
    titles: Sequence[str | BoundLine] = ()
    """Titles that take its place: the first that holds."""
    why: str
    """Why it is done, and why then; one or two sentences."""
    more_why: Sequence[str | BoundLine] = ()
    """Sentences that are added to it where they hold."""
    look_for: Sequence[str | BoundLine] = ()
    """What to look for, a sentence each."""
    depends_on: Sequence[After] = ()
    """What comes before it."""
    after_sign: AfterSign | None = None
    """It has no date until this has been recorded."""
    until_sign: SignAt | None = None
    """It falls away once this has been recorded."""
    only_if: OnlyIf | None = None
    """It is done only under this condition."""
    lead_d: int | None = None
    """Days before the method's first step in season; for steps that prepare it."""
    day: DayRule = "any"
    """What it asks of the day."""
    time: TimeOfDay = "whole_day"
    """The part of the day."""
    entrance: EntranceWork | None = None
    """Whether it closes or opens an entrance."""
    season: SeasonUse = "free"
    """How it is bound to the season."""
    if_missed: IfMissed = "still_due"
    """If its time passes."""
    asks_for_queen: bool = False
    """True for a step that asks whether there is a laying queen: it falls away when one is seen."""
    rebuilt: bool = False
    """True for the step at which the colony stands on its own: new workers. One step of a
    method.
    """
    repeat: Repeat | None = None
    """Where it is done several times."""
    when: When | None = None
    """It is a step of the method only under this condition."""
    cautions: Sequence[str] = ()
    """Codes of the standing cautions that it calls for: ``dark``, ``lifting``, ``closed_hive``,
    ``bites_allergy``, ``law``. Those of heat, cold and rain come with the day.
    """
    source: str
    """Publication, or ``common practice, no source``."""


@dataclass(frozen=True, kw_only=True)
class Method:
    """How a new colony is made."""

    name: str
    """Short name, in snake case."""
    label: str
    """Name for people."""
    about: str
    """What is done, in a few sentences."""
    source: str
    """Where the method comes from."""
    new_queen: NewQueen
    """Which box will have to raise a queen."""
    readiness: Readiness
    """What the colony must be before."""
    settings: Sequence[Setting] = ()
    """The things on which practice differs."""
    steps: Sequence[Step]
    """The steps, as they were written."""


Way = Literal[
    "staged",
    "far_and_return",
    "at_once",
]
"""How a hive is moved.

``staged``: Half a metre or a metre at a time, at dawn, each time followed by flying days.

``far_and_return``: To a place beyond the bees' range, and after a stay from there to the new
one.

``at_once``: In one go.
"""


FarStay = Literal[
    "sixty_days",
    "three_weeks",
]
"""How long a colony stays far away before it comes back.

``sixty_days``: About 60 days (Nogueira-Neto 1997).

``three_weeks``: About 21 days (common practice, no source).
"""


@dataclass(frozen=True, kw_only=True)
class RelocationOverrides:
    """A user's own numbers; what is not given stays at its default."""

    far_stay: FarStay | None = None
    """How long a hive stays at a far place."""
    stages: int | None = None
    """How many stages, in the place of their length."""
    between: Wait | None = None
    """From one stage to the next, in the place of ``flying_days_between``."""
    stage_m: float | None = None
    """Length of a stage, m."""
    flying_days_between: float | None = None
    """Flying days from one stage to the next, the day of the stage among them: a hive is moved
    at dawn, before that day's flight.
    """
    slow_from_m: float | None = None
    """Distance from which staged moves are slow, m."""
    staged_up_to_m: float | None = None
    """Longest distance for which staged moves are proposed, m."""
    far_small_m: float | None = None
    """How far away a colony of small bees is taken, at least, m: for a stay, and in one go."""
    far_large_m: float | None = None
    """The same for medium and large bees, m."""
    near_limit_share: float | None = None
    """So near to a limit of distances, as a part of it, the other way is shown too."""


@dataclass(frozen=True, kw_only=True)
class HiveMove:
    """A hive that is moved."""

    distance_m: float
    """From here to there, m: 0.05 to 1,000,000."""
    way: Way | None = None
    """The way to take; the engine chooses when not given."""
    total_turn_deg: float | None = None
    """By how much the entrance is to be turned in all, degrees: −360 to 360, clockwise positive."""
    settings: RelocationOverrides | None = None
    """A user's own numbers."""


@dataclass(frozen=True, kw_only=True)
class PartingOverrides:
    """A keeper's own numbers and waiting times; what is not given stays as it is in the preset.
    With a number of stages and no distance the box comes as far as so many stages make.
    """

    before_entrance: Wait | None = None
    """See ``Parting.before_entrance``."""
    between_stages: Wait | None = None
    """See ``Parting.between_stages``."""
    side_by_side: Wait | None = None
    """See ``Parting.side_by_side``."""
    stages: int | None = None
    """How many stages."""
    total_turn_deg: float | None = None
    """By how much the entrance is turned in all, degrees: −360 to 360, clockwise positive."""
    apart_m: float | None = None
    """How far from the parent the new box comes to stand, m."""
    stage_m: float | None = None
    """Length of a stage, m."""


@dataclass(frozen=True, kw_only=True)
class MovedMove(HiveMove):
    """A hive, from here to there."""

    kind: Literal["move"] = "move"


@dataclass(frozen=True, kw_only=True)
class MovedParting(PartingOverrides):
    """A new box, from its parent's entrance to a place beside it."""

    kind: Literal["parting"] = "parting"


Moved = (
    MovedMove
    | MovedParting
)
"""What is moved, in the place of a method: no colony is made, and no season is asked for."""


@dataclass(frozen=True, kw_only=True)
class Colony:
    """The colony that is to be divided, as its keeper knows it. Nothing here is guessed: what is
    not declared becomes a task to find out.
    """

    name: str
    """Its name."""
    daughter_name: str | None = None
    """The name the new colony will have."""
    net_weight_kg: float | None = None
    """Weight without the box, kg."""
    months_since_division: float | None = None
    """Months since it was last divided, or made."""
    strength: Strength | None = None
    """How strong its keeper judges it to be."""


@dataclass(frozen=True, kw_only=True)
class StageOverrides:
    """A keeper's own stages, in the place of those of a method; what is not given stays as it
    is. With a number alone, or with number and length, they reach as far as that makes; with
    a length alone as far as those of the method.
    """

    number: int | None = None
    """How many: 1 to 200."""
    stage_m: float | None = None
    """Length of a stage, m: 0.1 to 1."""
    between: Wait | None = None
    """From one stage to the next."""
    total_turn_deg: float | None = None
    """By how much the entrance is turned in all, degrees: −360 to 360, clockwise positive."""


@dataclass(frozen=True, kw_only=True)
class PlanOverrides:
    """A keeper's own choices and numbers; what is not given stays at its default."""

    choices: Mapping[str, str] | None = None
    """The options of the method's settings, by the names of the settings."""
    stages: StageOverrides | None = None
    """The keeper's own stages, for methods that move a box in stages."""
    opening_min_c: float | None = None
    """Air colder than this is too cold to open a hive, °C."""
    opening_max_c: float | None = None
    """Air warmer than this is too hot to open a hive, °C."""
    opening_h: float | None = None
    """Shortest time within these bounds, while bees fly, that makes a day one for opening, h."""
    flight_left_h: float | None = None
    """Time with flight that is left between an opening and last flight, h: bees that flew up
    find home, and gaps are sealed before the night.
    """
    opening_after_sunrise_h: float | None = None
    """Time after sunrise before which no hive is opened, h: by then guards are up, most foragers
    are out, and there is light to see a queen by.
    """
    heat_ahead_d: float | None = None
    """Days after an opening in which there must be no heat, d."""
    opening_rain_mm: float | None = None
    """Rain of a day from which hives are not opened, mm."""
    opening_from_move_d: float | None = None
    """No hive is opened on the day of a move, nor so many days before or after it, d: its bees
    learn a place.
    """
    opening_after_division_d: float | None = None
    """No hive is opened in the first days after a division, d: gaps are sealed and brood is
    warmed anew.
    """
    in_hand_d: float | None = None
    """Days that a next division is kept before the last safe date, where the wait since the last
    one leaves that choice, d.
    """
    ranked_d: float | None = None
    """Days around the wanted date that are ranked, d."""
    look_again_d: float | None = None
    """Days after which a colony that was not ready is looked at again, d."""
    eggs_count_from_d: float | None = None
    """Days after a division from which eggs are those of the queen of that box: until then they
    may be older than the division, d.
    """
    signs_count_from_d: float | None = None
    """Days after a division from which signs at the entrance count: until then they are the work
    of bees that came along, d.
    """


Quantity = Literal[
    "mean",
    "minimum",
    "maximum",
]
"""Which temperature of a day a rule looks at.

``mean``: Half the sum of minimum and maximum.

``minimum``: The night's minimum.

``maximum``: The day's maximum.
"""


RainsEdge = Literal[
    "start",
    "end",
]
"""An end of the rains: of the longest run of wet months.

``start``: The first wet month.

``end``: The first month after the wet ones.
"""


@dataclass(frozen=True, kw_only=True)
class BarRains:
    """Months that are left out, counted from the start or the end of the rains."""

    counted_from: RainsEdge
    """From where."""
    shift_months: int = 0
    """How many months later (or, below 0, sooner) the first that is left out comes: -11 to 11."""
    months: int
    """How many months are left out: 1 to 11."""


@dataclass(frozen=True, kw_only=True)
class RuleTestTemperature:
    """The quantity, averaged over a number of days around the date, lies within bounds."""

    kind: Literal["temperature"] = "temperature"
    quantity: Quantity
    """Which temperature."""
    at_least_c: float | None = None
    """Lower bound, °C."""
    at_most_c: float | None = None
    """Upper bound, °C."""
    over_days: int
    """Days that are averaged, the date in their middle: 1 to 120."""


@dataclass(frozen=True, kw_only=True)
class RuleTestWarmWeeksAhead:
    """The weeks that begin with the date are warm enough: every stretch of some weeks on end."""

    kind: Literal["warm_weeks_ahead"] = "warm_weeks_ahead"
    quantity: Quantity
    """Which temperature, averaged over each stretch."""
    at_least_c: float
    """Lower bound, °C."""
    weeks: int
    """How many weeks: 1 to 40."""
    averaged_weeks: int = 4
    """How many of them are averaged, 4 when not given: a month or so, as the limits of climates
    are meant. Not more than ``weeks`` count.
    """


@dataclass(frozen=True, kw_only=True)
class RuleTestOutsideWettestMonths:
    """The date does not fall in one of the wettest months of the year."""

    kind: Literal["outside_wettest_months"] = "outside_wettest_months"
    months: int
    """How many months are barred: 1 to 11."""


@dataclass(frozen=True, kw_only=True)
class RuleTestMonthlyRain:
    """The date's month brings no more rain than this."""

    kind: Literal["monthly_rain"] = "monthly_rain"
    at_most_mm: float
    """Upper bound, mm in the month."""


@dataclass(frozen=True, kw_only=True)
class RuleTestMonthlyWetDays:
    """The date's month has no more wet days than this. From how much rain a day is wet depends
    on where the climate comes from: ``WetDays``.
    """

    kind: Literal["monthly_wet_days"] = "monthly_wet_days"
    at_most_days: float
    """Upper bound, days in the month."""


@dataclass(frozen=True, kw_only=True)
class RuleTestRains:
    """The date's month is none of those that are left out, counted from the rains."""

    kind: Literal["rains"] = "rains"
    bar: BarRains
    """Those that are."""


RuleTest = (
    RuleTestTemperature
    | RuleTestWarmWeeksAhead
    | RuleTestOutsideWettestMonths
    | RuleTestMonthlyRain
    | RuleTestMonthlyWetDays
    | RuleTestRains
)
"""What a rule asks of a date."""


@dataclass(frozen=True, kw_only=True)
class Rule:
    """A condition that must hold for a date to lie in a working window."""

    name: str
    """Short name, used where an answer says which rule opens or closes a window."""
    test: RuleTest
    """What it asks."""
    at_risk: RuleTest | None = None
    """What it asks of a date that is not good but *at risk*: the same as ``test`` when not
    given, so that the two differ in their chance only.
    """
    source: str
    """Publication, or ``common practice, no source``."""


@dataclass(frozen=True, kw_only=True)
class SeasonSettings:
    """How the season is to be judged; what is not given stays at its default."""

    rules: Sequence[Rule] | None = None
    """Rules in place of the default ones of the bee."""
    bar_wettest_months: int | None = None
    """Bars this many of the wettest months, in addition to the rules: 1 to 11."""
    most_wet_days: float | None = None
    """Bars months with more wet days than this, in addition to the rules: 0 to 31."""
    bar_rains: BarRains | None = None
    """Bars months counted from the start or the end of the rains, in addition to the rules."""
    chance: float | None = None
    """Share of years asked of a good date; 0.7 when not given."""
    at_risk_chance: float | None = None
    """Share of years asked of a date at risk, at most ``chance``; 0.5, or ``chance`` where that
    is less, when not given.
    """


@dataclass(frozen=True, kw_only=True)
class MorningOverrides:
    """A user's own numbers for a move; what is not given stays at its default."""

    closed_evening_before: bool | None = None
    """``false`` for a hive that stood open over night: the move must then be over before early
    first flight, since bees that are out come back to the old place.
    """
    margin_min: float | None = None
    """Minutes before first flight by which the hive must stand in its new place."""
    settle_min: float | None = None
    """Minutes after last flight before the entrance is closed, for the late comers."""
    close_before_sunset_min: float | None = None
    """Minutes before sunset before which no entrance is closed, however early the bees are in: a
    colony that is shut through a mild afternoon gets warm, and late comers stay out.
    """
    shortest_window_min: float | None = None
    """The shortest window in which a move can be done, minutes."""
    coldest_work_c: float | None = None
    """Air colder than this chills brood when a hive is carried, °C."""
    warmest_work_c: float | None = None
    """Air warmer than this makes a closed hive hot, °C."""


Weekday = Literal[
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
]
"""A day of the week."""


Outcome = Literal[
    "done",
    "not_possible",
    "queen_seen",
    "eggs_seen",
    "no_eggs",
    "cells_without_eggs",
    "gave_brood",
    "gave_cells",
    "gave_queen",
    "joined",
    "box_empty",
]
"""What came of a task, or of a visit.

``done``: Done. A record that names a task and no outcome says the same.

``not_possible``: It could not be done; it is still due.

``queen_seen``: The laying queen was seen.

``eggs_seen``: New cells with eggs were seen.

``no_eggs``: Eggs were looked for, and there were none.

``cells_without_eggs``: There were new cells, but no eggs in them.

``gave_brood``: Ripe brood was given to the box.

``gave_cells``: Queen cells in a cocoon were given to it.

``gave_queen``: The laying queen of the other box was given to it.

``joined``: The two boxes were put together again.

``box_empty``: The box was empty, or only dead bees were in it.
"""


@dataclass(frozen=True, kw_only=True)
class Sign:
    """A sign, and at which box."""

    kind: SignKind
    """What was seen."""
    which: Which | None = None
    """At which box, where it is known."""
    count: int | None = None
    """How many, where they were counted: males turned out, pairs that fight, phorid flies."""


@dataclass(frozen=True, kw_only=True)
class Traffic:
    """Bees that came home through an entrance in five minutes on a good flying day."""

    home: int
    """All of them."""
    pollen: int | None = None
    """Those with pollen, where they were counted."""
    resin: int | None = None
    """Those with resin, where they were counted."""


@dataclass(frozen=True, kw_only=True)
class EntranceCount:
    """A count at a box, and at an undivided neighbour at the same hour."""

    which: Which
    """The box."""
    counted: Traffic
    """What was counted at it."""
    neighbour: Traffic | None = None
    """What was counted at an undivided colony nearby at the same hour."""


DateState = Literal[
    "good",
    "at_risk",
    "closed",
]
"""What a date is for dividing colonies. The numbers are the bytes of
``SeasonColumns.date_state``.

``good``: The careful rules hold.

``at_risk``: Done by keepers, but by the numbers too cold, too hot or too late in many years:
the easier rules hold, and a good date is near.

``closed``: Neither.
"""


@dataclass(frozen=True, kw_only=True)
class Known:
    """What a plan knew of the season on its day. Kept with the record of a division it says for
    good how the day was judged then, whatever a later forecast makes of it.
    """

    season: DateState
    """What the day was for beginning."""
    last_good: dt.date | None = None
    """The last careful day of that season, as far as it was known."""


@dataclass(frozen=True, kw_only=True)
class Record:
    """What was done and seen on a day."""

    date: dt.date
    """The day."""
    id: str | None = None
    """A name of its own, by which a later record can speak of it. Without one it is named by
    date and task (``KeptRecord.name``).
    """
    task: str | None = None
    """The task that was done, by its ``id``."""
    outcome: Outcome | None = None
    """What came of it; with a task and none of these it was done."""
    which: Which | None = None
    """The box that the outcome is about, where it is not that of the task."""
    signs: Sequence[Sign] = ()
    """What was seen."""
    counts: Sequence[EntranceCount] = ()
    """Bees counted at entrances."""
    net_weight_kg: float | None = None
    """Net weight of the parent before the division, kg."""
    note: str | None = None
    """Anything else."""
    known: Known | None = None
    """What was known of the season when it was done: the ``known`` of the plan of that day."""
    corrects: str | None = None
    """The name of an earlier record whose place it takes."""
    strikes_out: str | None = None
    """The name of an earlier record that is no longer to count. Beside it only ``date``, ``id``
    and ``note`` are given.
    """


@dataclass(frozen=True, kw_only=True)
class FixedDate:
    """A task that the keeper has put on a date."""

    task: str
    """The ``id`` of the task."""
    date: dt.date
    """The date."""


@dataclass(frozen=True, kw_only=True)
class KeeperLimitOverrides:
    """A keeper's own limits; what is not given stays at its default. Parts of whole numbers are
    dropped.
    """

    free_weekdays: Sequence[Weekday] = ()
    """Days on which the keeper can work, for the plans that name none of their own; every day
    when empty.
    """
    openings_per_day: float | None = None
    """Hives that one person opens on a day, divisions among them."""
    moves_per_dawn: float | None = None
    """Hives that one person moves at a dawn."""
    people: float | None = None
    """People who work at the hives."""
    between_starts_d: float | None = None
    """Days from one division to the next, d: a spell of bad weather then does not meet all new
    colonies alike, and their looks do not fall on one day.
    """


StateWord = Literal[
    "not_ready",
    "closed",
    "not_yet",
    "too_late",
    "at_risk",
    "good",
    "rest",
    "work",
    "laying_queen_seen",
    "likely_established",
    "uncertain",
    "failing",
    "lost",
    "joined",
]
"""How a colony or all of them stand, in one word.

``not_ready``: The colony is not ready to be divided.

``closed``: There is no date on which it could be divided, or the one that was wished for is
out of season.

``not_yet``: It can be divided in the coming good season, and better not today.

``too_late``: The date that was wished for is so late that the new colony is in time in none
of ten years.

``at_risk``: It can be divided, at a time that is too late, too cold or too hot in many years.

``good``: It can be divided, today or on the date that was wished for.

``rest``: Nothing is to be done today.

``work``: Something is to be done today.

``laying_queen_seen``: Divided: a laying queen or her eggs were seen.

``likely_established``: Divided: several signs speak for it and none against.

``uncertain``: Divided: the signs do not tell.

``failing``: Divided: strong signs against it.

``lost``: The box is empty.

``joined``: The two boxes were put together again.
"""


@dataclass(frozen=True, kw_only=True)
class ReasonWithin:
    """A reason within another, whose text it is part of."""

    code: str
    """The name of its sentence in the catalogue, or the name that a user gave it."""
    text: str | None = None
    """The sentence, where the catalogue has none."""
    values: Mapping[str, ReasonValue] | None = None
    """What the sentence is made with."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueCount:
    """How many: of days, boxes, months."""

    kind: Literal["count"] = "count"
    value: float
    """Whole or not."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueDays:
    """A number of days."""

    kind: Literal["days"] = "days"
    value: float
    """Whole or not."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueFlyingDays:
    """A number of flying days."""

    kind: Literal["flying_days"] = "flying_days"
    value: float
    """Whole or not."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueDegreeDays:
    """A sum of warmth, degree-days."""

    kind: Literal["degree_days"] = "degree_days"
    value: float
    """°C d."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueTemperature:
    """A temperature, °C."""

    kind: Literal["temperature"] = "temperature"
    value: float
    """°C."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueDifference:
    """A difference of temperatures, °C."""

    kind: Literal["difference"] = "difference"
    value: float
    """°C."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueLength:
    """A length or a height, m."""

    kind: Literal["length"] = "length"
    value: float
    """m."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueRain:
    """Rain, mm."""

    kind: Literal["rain"] = "rain"
    value: float
    """mm."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueSpeed:
    """A speed of the wind, m/s."""

    kind: Literal["speed"] = "speed"
    value: float
    """m/s."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueHours:
    """A time, h."""

    kind: Literal["hours"] = "hours"
    value: float
    """h."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueMinutes:
    """A time, min."""

    kind: Literal["minutes"] = "minutes"
    value: float
    """min."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueWeight:
    """A weight, kg."""

    kind: Literal["weight"] = "weight"
    value: float
    """kg."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueAngle:
    """An angle, °."""

    kind: Literal["angle"] = "angle"
    value: float
    """°."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueShare:
    """A part of a whole; it is written as a percentage."""

    kind: Literal["share"] = "share"
    value: float
    """0 to 1."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueDate:
    """A civil day."""

    kind: Literal["date"] = "date"
    value: dt.date
    """The day."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueMoment:
    """A moment."""

    kind: Literal["moment"] = "moment"
    value: dt.datetime
    """With the offset that the clocks of the site show."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueWord:
    """A word of the catalogue."""

    kind: Literal["word"] = "word"
    value: str
    """Its name there, such as ``weekday.monday``."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueRule:
    """A rule of the season. Those that are built in have a word in the catalogue, ``rule.`` and
    the name; others are written as they are.
    """

    kind: Literal["rule"] = "rule"
    value: str
    """The rule's name."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueName:
    """A name or a text as the user, a file or a source gives it."""

    kind: Literal["name"] = "name"
    value: str
    """The text."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueTitle:
    """The title of a task; it is written in quotation marks."""

    kind: Literal["title"] = "title"
    value: str
    """The text."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueReason:
    """Another sentence."""

    kind: Literal["reason"] = "reason"
    value: ReasonWithin
    """Without its ``text``, which is part of this one."""


@dataclass(frozen=True, kw_only=True)
class ReasonValueList:
    """Other sentences, to be written with commas between them."""

    kind: Literal["list"] = "list"
    value: Sequence[ReasonWithin]
    """Each without its ``text``."""


ReasonValue = (
    ReasonValueCount
    | ReasonValueDays
    | ReasonValueFlyingDays
    | ReasonValueDegreeDays
    | ReasonValueTemperature
    | ReasonValueDifference
    | ReasonValueLength
    | ReasonValueRain
    | ReasonValueSpeed
    | ReasonValueHours
    | ReasonValueMinutes
    | ReasonValueWeight
    | ReasonValueAngle
    | ReasonValueShare
    | ReasonValueDate
    | ReasonValueMoment
    | ReasonValueWord
    | ReasonValueRule
    | ReasonValueName
    | ReasonValueTitle
    | ReasonValueReason
    | ReasonValueList
)
"""A value of a sentence. In JSON: ``kind`` and ``value``."""


@dataclass(frozen=True, kw_only=True)
class Reason:
    """One reason, caution or piece of advice."""

    code: str
    """Stable, in snake case: the name of its sentence in the catalogue, or for a sentence of a
    user's own the name it was given.
    """
    text: str
    """The sentence in English."""
    values: Mapping[str, ReasonValue] | None = None
    """What the sentence is made with."""


@dataclass(frozen=True, kw_only=True)
class State:
    """A word and a sentence."""

    word: StateWord
    """In one word."""
    sentence: Reason
    """In one sentence."""


@dataclass(frozen=True, kw_only=True)
class PairStanding:
    """Which of two boxes has the old queen, and which is to be watched."""

    old_queen: Which | None = None
    """The box that has the old queen; None where nothing tells."""
    sure: bool
    """Whether she or her eggs were seen there. False where it is only likely."""
    watch: Which | None = None
    """The box that has to show a queen: both where nothing tells which, None where nothing is to
    be watched.
    """
    reason: Reason
    """Why that one."""


@dataclass(frozen=True, kw_only=True)
class SignTally:
    """How many kinds of signs speak for a laying queen, against one, and say little, at the
    boxes that have to show one. They are shown beside each other, not weighed up.
    """

    speak_for: int
    """Those that speak for her."""
    speak_against: int
    """Those that speak against her."""
    say_little: int
    """Those that are too early, or tell nothing of one box."""


@dataclass(frozen=True, kw_only=True)
class Settle:
    """The one thing that would settle the question."""

    look_for: str
    """What to look for, and where."""
    which: Which
    """The box."""
    from_: dt.date
    """From when on it can be told."""
    by: dt.date
    """By when it should be."""
    no_counts_from: dt.date | None = None
    """From when on a look without eggs counts; before it only a look with eggs tells something."""


Advice = Literal[
    "protect_from_heat",
    "fight_pests",
    "stop_fights",
    "close_empty_box",
    "give_brood",
    "give_cells",
    "give_queen",
    "recombine",
    "inspect",
    "say_which_box",
    "leave_alone",
]
"""What a keeper can do.

``protect_from_heat``: Shade, air, a cool place.

``fight_pests``: Clear out pests and close gaps.

``stop_fights``: Protect the box from other colonies.

``close_empty_box``: Clean out and store the box; nobody is to rob it.

``give_brood``: Give ripe brood.

``give_cells``: Give queen cells in a cocoon.

``give_queen``: Give the laying queen of the other box.

``recombine``: Put the two together again.

``inspect``: Open and look.

``say_which_box``: Say in which box a sign was seen.

``leave_alone``: Leave the lids closed; entrances stay open.
"""


@dataclass(frozen=True, kw_only=True)
class Recommendation:
    """A piece of advice and its reason."""

    advice: Advice
    """What to do."""
    which: Which
    """The box; the pair where it concerns both."""
    text: str
    """In words."""
    reason: Reason
    """Why."""
    until: dt.date | None = None
    """The last day on which it still helps, where that is known."""
    source: str
    """Publication, or ``common practice, no source``."""


WishState = Literal[
    "good",
    "at_risk",
    "too_late",
    "closed",
]
"""What a wished date is.

``good``: Not later than the last careful date of its season. Where the new colony is
nevertheless in time in fewer than half of the years, the reasons say so.

``at_risk``: The season is open by the careful or the easier rules, but it is after the last
careful date or outside the careful rules: it is planned on all the same.

``too_late``: The same, and the new colony is in time in none of ten years: another season is
planned for, unless the work was put or announced on that date.

``closed``: The season is closed: another season is planned for.
"""


@dataclass(frozen=True, kw_only=True)
class Odds:
    """The chance that a colony that is made on a date has workers of its own before the good
    season ends. Rough: a handful of published times, the range of the bee's brood time, and
    by how much the end of the warm time differs from year to year.
    """

    in_time: float
    """Share of years in which it has, 0 to 1. See ``Odds.is_too_late`` and ``Odds.is_doubtful``."""
    good_at_start: float
    """Share of years in which the careful rules hold on the date itself."""
    likely: dt.date
    """When the new queen's first workers are likely: the middle of the published times and brood
    times.
    """
    slow: dt.date
    """The same by the longest of both."""
    warm_until: dt.date | None = None
    """The last date on which it is still warm enough in half of the years; none where that lies
    more than a year ahead.
    """
    published_times: int
    """How many published times to a queen it rests on."""
    years: int | None = None
    """How many recorded years; none where the spread of days about the mean stands for them."""
    said: Reason
    """The same in a sentence."""


@dataclass(frozen=True, kw_only=True)
class StartOddsNoEnd:
    """The season does not end: every date is good."""

    kind: Literal["no_end"] = "no_end"


@dataclass(frozen=True, kw_only=True)
class StartOddsClosed:
    """The date is closed, or lies outside the span that was prepared."""

    kind: Literal["closed"] = "closed"


@dataclass(frozen=True, kw_only=True)
class StartOddsKnown:
    """A date that is good or at risk."""

    kind: Literal["known"] = "known"
    odds: Odds
    """The chances."""


StartOdds = (
    StartOddsNoEnd
    | StartOddsClosed
    | StartOddsKnown
)
"""What can be said of a colony that is made on a date."""


@dataclass(frozen=True, kw_only=True)
class Wish:
    """What is said of the date on which the keeper would like to begin."""

    date: dt.date
    """That date."""
    state: WishState
    """What it is."""
    reasons: tuple[Reason, ...]
    """What is wrong with it, and by how much; empty where it is good without a doubt."""
    before: dt.date | None = None
    """The nearest good date before it; None where there is none from today on, and where it is
    good itself.
    """
    after: dt.date | None = None
    """The nearest good date after it."""
    odds: StartOdds | None = None
    """How likely the new colony has workers of its own before the good season ends; rough."""
    other_ways: tuple[Reason, ...] = ()
    """What can be done instead; empty where it is good."""


@dataclass(frozen=True, kw_only=True)
class ColonyState:
    """How one colony and the one made from it stand."""

    plan: str
    """The ``id`` of its plan."""
    name: str
    """Its names."""
    today: dt.date
    """The day for which this holds."""
    state: State
    """How it stands."""
    pair: PairStanding | None = None
    """Which of the two boxes has the old queen, and which is to be watched."""
    watch: str | None = None
    """The box to be watched by its name; None where both are, or none."""
    signs: SignTally | None = None
    """What was seen at the boxes that have to show a queen; None where nothing was."""
    settle: Settle | None = None
    """The one thing that would settle it."""
    advice: tuple[Recommendation, ...]
    """What to do because of what was seen, the most urgent first."""
    wish: Wish | None = None
    """What is said of the date on which its keeper would like to begin, before it has begun."""
    last_safe: dt.date | None = None
    """The last date of this season on which the division still leaves enough warm time, where it
    is still ahead.
    """


@dataclass(frozen=True, kw_only=True)
class TimeWindow:
    """A stretch of a day for a task."""

    from_: dt.datetime
    """Its beginning, on the task's best date."""
    from_clock: str
    """What the clocks of the site show at ``from``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    until: dt.datetime
    """Its end, on the same civil day."""
    until_clock: str
    """What the clocks of the site show at ``until``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """


@dataclass(frozen=True, kw_only=True)
class Following:
    """A task that has no item of its own, since it follows another of the same stage."""

    task: str
    """The ``id`` of the task."""
    short: str
    """A few words for people."""
    date: dt.date
    """The day."""
    window: TimeWindow | None = None
    """The stretch of the day; None for the whole day."""


@dataclass(frozen=True, kw_only=True)
class ItemAnswer:
    """One of the things that a keeper can say of an item."""

    said: Reason
    """In words."""
    tasks: tuple[str, ...]
    """The tasks that are recorded as done with it."""


@dataclass(frozen=True, kw_only=True)
class Item:
    """One thing to do, with what a first look needs; the plan has the rest."""

    plan: str
    """The ``id`` of its plan."""
    task: str
    """The ``id`` of the task."""
    kind: TaskKind
    """What kind of work."""
    which: Which
    """Which box."""
    box_name: str
    """The box by its name."""
    title: str
    """A line for people."""
    short: str
    """The same in a few words, for small screens."""
    date: dt.date
    """The day."""
    window: TimeWindow | None = None
    """The stretch of the day; None for the whole day."""
    good_at: dt.datetime | None = None
    """One good hour of it."""
    good_at_clock: str | None = None
    """What the clocks of the site show at ``good_at``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    only_if: Reason | None = None
    """The condition under which alone it is to be done."""
    earliest: dt.date
    """It can be done from this day."""
    latest: dt.date
    """And until this one."""
    then: tuple[Following, ...] = ()
    """What comes after it in the same stage of a move, in order: to close, to move, to open are
    one item.
    """
    answers: tuple[ItemAnswer, ...] = ()
    """What a keeper can say of it, and what is then recorded; empty where that is the task
    alone.
    """
    still_shut: bool = False
    """The box was closed for a move and nobody recorded that it is open again, whether it was
    moved or not: before all else. Asked for until it is recorded, or a count of bees, a later
    closing or move shows it; for a week.
    """


@dataclass(frozen=True, kw_only=True)
class WaitingTask:
    """A task that has no date yet: it waits until something is seen."""

    id: str
    """As that of a ``Task``; records name it."""
    kind: TaskKind
    """What kind of work."""
    which: Which
    """Which box."""
    title: str
    """A short line for people."""
    short: str = ""
    """The same in a few words, for small screens and calendars."""
    until: Reason
    """What it waits for."""
    not_before: dt.date | None = None
    """The day before which it would be too early whatever is seen, where that is known."""
    not_after: dt.date | None = None
    """The last safe day of the season, for the step that must be safe."""
    why: Reason
    """Why it is done."""
    look_for: tuple[str, ...]
    """What to look for, a sentence each."""
    source: str
    """Where the rule comes from."""


@dataclass(frozen=True, kw_only=True)
class Waiting:
    """A task that has no date until something is seen."""

    plan: str
    """The ``id`` of its plan."""
    box_name: str
    """The box by its name."""
    task: WaitingTask
    """The task."""


@dataclass(frozen=True, kw_only=True)
class Question:
    """Something that was due and of which nothing was recorded."""

    item: Item
    """The task, on the day on which it stands if it was not done."""
    was_due: dt.date
    """The day by which it was due."""
    sentence: Reason
    """The question in words."""


@dataclass(frozen=True, kw_only=True)
class Caution:
    """One caution."""

    code: str
    """Stable, in snake case."""
    text: str
    """What to mind."""
    because: str | None
    """The number or day that calls for it, in words; None where it always holds."""
    because_reason: Reason | None = None
    """The number or day that calls for it; None where it always holds."""
    source: str
    """Publication, or ``common practice, no source``."""


Standing = Literal[
    "laying_queen_seen",
    "likely_established",
    "uncertain",
    "failing",
    "lost",
    "joined",
]
"""Where a box stands.

``laying_queen_seen``: A laying queen or her eggs were seen.

``likely_established``: Several signs speak for it and none against.

``uncertain``: The signs do not tell.

``failing``: Strong signs against it.

``lost``: The box is empty.

``joined``: The two were put together again: there is one colony.
"""


SignStrength = Literal[
    "conclusive",
    "supportive",
    "weak",
    "neutral",
    "contrary",
]
"""What a sign is worth.

``conclusive``: It settles the question by itself.

``supportive``: It speaks for a colony that is on its way.

``weak``: It says little.

``neutral``: It says nothing about the queen.

``contrary``: It speaks against.
"""


Because = Literal[
    "early",
    "older_brood",
    "neighbours",
    "box_not_said",
    "either_way",
    "late",
]
"""Why a sign is worth less here than in general, or more.

``early``: It is too early for it to tell.

``older_brood``: It may come of brood from before the division.

``neighbours``: Two boxes within 2 m share bees.

``box_not_said``: It was not said at which box.

``either_way``: With or without a queen it is the same.

``late``: So late it tells more.
"""


@dataclass(frozen=True, kw_only=True)
class Seen:
    """A sign and what it tells here."""

    kind: SignKind
    """What was seen."""
    date: dt.date
    """When it was seen last."""
    count: int | None = None
    """How many, where they were counted."""
    strength: SignStrength
    """What it is worth here, which may be less than in general: an early sign is the work of
    bees that came along, and a sign without a box settles neither.
    """
    because: Because | None = None
    """Why it is worth less or more than in general."""
    text: str
    """What it tells."""
    source: str
    """Publication, or ``common practice, no source``."""


@dataclass(frozen=True, kw_only=True)
class Counted:
    """A count at the entrance and what it tells."""

    date: dt.date
    """When."""
    counted: Traffic
    """What was counted."""
    neighbour: Traffic | None = None
    """What was counted at an undivided neighbour."""
    strength: SignStrength
    """What it is worth."""
    reason: Reason
    """What it tells."""
    source: str
    """Publication, or ``common practice, no source``."""


@dataclass(frozen=True, kw_only=True)
class BoxStanding:
    """A box, the signs for it and against it."""

    which: Which
    """Which box."""
    standing: Standing
    """Where it stands."""
    signs_for: tuple[Seen, ...]
    """What speaks for a laying queen."""
    signs_against: tuple[Seen, ...]
    """What speaks against."""
    signs_neutral: tuple[Seen, ...]
    """What tells nothing."""
    counts: tuple[Counted, ...] = ()
    """What was counted at its entrance, the newest last."""


@dataclass(frozen=True, kw_only=True)
class TaskStatePlanned:
    """Ahead."""

    kind: Literal["planned"] = "planned"


@dataclass(frozen=True, kw_only=True)
class TaskStateDone:
    """Done on a date; that date no longer moves."""

    kind: Literal["done"] = "done"
    on: dt.date
    """When."""


@dataclass(frozen=True, kw_only=True)
class TaskStateDropped:
    """Left out, with the reason among the task's ``why``."""

    kind: Literal["dropped"] = "dropped"


TaskState = (
    TaskStatePlanned
    | TaskStateDone
    | TaskStateDropped
)
"""Whether a task is still ahead."""


@dataclass(frozen=True, kw_only=True)
class Change:
    """A task whose date or state has changed since the last record."""

    task: str
    """The ``id`` of the task."""
    before: dt.date | None = None
    """Its best date before; None for a task that was not there."""
    after: dt.date | None = None
    """Its best date now; None for one that was dropped or is no longer there."""
    state: TaskState | None
    """What became of it."""
    later_d: int
    """Days later; negative for earlier. 0 where only the state has changed, and for a dropped
    task.
    """
    why: tuple[Reason, ...]
    """The reason for the date or state it has now."""


@dataclass(frozen=True, kw_only=True)
class ShiftedWindowSpan:
    """It has a beginning and an end."""

    kind: Literal["span"] = "span"
    opens: dt.date
    """First date."""
    closes: dt.date
    """Last date."""


@dataclass(frozen=True, kw_only=True)
class ShiftedWindowFrom:
    """It has no end within a year."""

    kind: Literal["from"] = "from"
    opens: dt.date
    """First date."""


@dataclass(frozen=True, kw_only=True)
class ShiftedWindowUntil:
    """It has no beginning within a year."""

    kind: Literal["until"] = "until"
    closes: dt.date
    """Last date."""


@dataclass(frozen=True, kw_only=True)
class ShiftedWindowAllYear:
    """It has neither: the place is open all year."""

    kind: Literal["all_year"] = "all_year"


@dataclass(frozen=True, kw_only=True)
class ShiftedWindowNone:
    """No date of it is left."""

    kind: Literal["none"] = "none"
    reasons: tuple[Reason, ...]
    """What stands in the way on the date that comes nearest to passing."""


ShiftedWindow = (
    ShiftedWindowSpan
    | ShiftedWindowFrom
    | ShiftedWindowUntil
    | ShiftedWindowAllYear
    | ShiftedWindowNone
)
"""What becomes of a window when the temperatures are others: the longest one that shares a date
with it.
"""


@dataclass(frozen=True, kw_only=True)
class ErrorRange:
    """A window if every temperature were higher or lower by the typical error of their source."""

    error_c: float
    """The error that was added and taken away, °C."""
    warmer: ShiftedWindow
    """The window where it is warmer."""
    cooler: ShiftedWindow
    """The window where it is cooler."""


@dataclass(frozen=True, kw_only=True)
class WorkingWindow:
    """A stretch of dates on which every rule holds, or that is good or at risk."""

    opens: dt.date
    """First date."""
    closes: dt.date
    """Last date."""
    days: int
    """Number of dates, both ends included."""
    opened_by: tuple[Reason, ...]
    """What stood in the way on the day before ``opens``; the value ``rule`` names the rule.
    Empty where the window was open already at the edge of what the engine can look at.
    """
    closed_by: tuple[Reason, ...]
    """What stands in the way on the day after ``closes``."""
    error_range: ErrorRange | None = None
    """How far the dates may be off because the temperatures are, where their error is known."""


@dataclass(frozen=True, kw_only=True)
class BestDate:
    """A date on which the method could begin, with its place among the others."""

    date: dt.date
    """The date."""
    points: float
    """0 to 100, whole."""
    good: bool
    """True when the weather asked for is likely, and the keeper is free."""
    reasons: tuple[Reason, ...]
    """What speaks for it and against it."""


@dataclass(frozen=True, kw_only=True)
class DateRange:
    """A date that depends on weather: a range, and what it rests on."""

    earliest: dt.date
    """Not before."""
    best: dt.date
    """The date to plan with."""
    latest: dt.date
    """By then at the latest."""


@dataclass(frozen=True, kw_only=True)
class TaskSlack:
    """How far a task can slip."""

    days: int
    """Days after its best date."""
    until: Reason | None = None
    """What would have to move after that; None where its own range ends."""


@dataclass(frozen=True, kw_only=True)
class Dependency:
    """What must have been done before, and how long before."""

    task: str
    """The ``id`` of the other task."""
    wait: Wait | None = None
    """The waiting time after it; None where any later time will do."""


@dataclass(frozen=True, kw_only=True)
class RestsOn:
    """How many of the days that an answer rests on came from where."""

    recorded_days: int
    """Days that were recorded."""
    forecast_days: int
    """Days of a forecast, or known by the hour."""
    normal_days: int
    """Days of normals or of the mean of records."""
    default_days: int
    """Days of the default for the location."""


@dataclass(frozen=True, kw_only=True)
class Task:
    """One thing to do."""

    id: str
    """Stable within the plan, in kebab case: ``divide``, ``stage-3``, ``egg-check``."""
    kind: TaskKind
    """What kind of work."""
    which: Which
    """Which box."""
    title: str
    """A short line for people."""
    short: str = ""
    """The same in a few words, for small screens and calendars."""
    dates: DateRange
    """When."""
    window: TimeWindow | None = None
    """The stretch of the best date; None for the whole day."""
    good_at: dt.datetime | None = None
    """One good hour within the window, for opening a hive."""
    good_at_clock: str | None = None
    """What the clocks of the site show at ``good_at``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    slack: TaskSlack | None = None
    """How far it can slip before something else has to move, while it is ahead and no date is
    set for it.
    """
    why: tuple[Reason, ...]
    """Why then."""
    look_for: tuple[str, ...]
    """What to look for, a sentence each."""
    cautions: tuple[Caution, ...]
    """What to mind."""
    source: str
    """Where the rule behind the date comes from."""
    depends_on: tuple[Dependency, ...]
    """What comes before it."""
    rests_on: RestsOn
    """Which weather the date rests on."""
    state: TaskState
    """Ahead or done."""
    was_due: dt.date | None = None
    """The day by which it was due, where that has passed and nothing was recorded: it is still
    to be done.
    """
    only_if: Reason | None = None
    """The condition under which alone it is to be done, where there is one that is open."""


@dataclass(frozen=True, kw_only=True)
class Choice:
    """A setting on which practice differs, what was chosen, and what else is done."""

    name: str
    """Its name."""
    chosen: str
    """What was chosen, in words."""
    source: str
    """Where that comes from."""
    others: tuple[str, ...]
    """The other ways, each with its source."""


TemperatureSource = Literal[
    "location_default",
    "monthly_normals",
    "recorded_day",
    "recorded_mean",
    "forecast",
    "hours",
]
"""What the temperatures of a day rest on.

``location_default``: The location alone: normals of the built-in grid, or latitude and
elevation.

``monthly_normals``: The means of the twelve months.

``recorded_day``: This very day was measured.

``recorded_mean``: The mean of this day of the year over the recorded years.

``forecast``: A forecast.

``hours``: Readings by the hour, measured or forecast.
"""


@dataclass(frozen=True, kw_only=True)
class Basis:
    """What an answer rests on, in words and numbers that belong beside it."""

    source: TemperatureSource
    """The kind of source."""
    about: str
    """Where the numbers come from."""
    about_reason: Reason | None = None
    """The same with its values, where it is not in words of the user's own."""
    period: str | None = None
    """The years or dates they cover."""
    typical_error_c: float | None = None
    """Root mean square error of the long-term means, °C, where it has been measured. The weather
    of a single day scatters around the mean by more.
    """
    p95_error_c: float | None = None
    """Error of the long-term means that one value in twenty exceeds, °C, where it has been
    measured.
    """
    advice: str | None = None
    """What would make the answer better."""
    advice_reason: Reason | None = None
    """The same with its values."""


@dataclass(frozen=True, kw_only=True)
class KeptRecord:
    """A record as it was given, under the name by which others speak of it."""

    name: str
    """Its ``id``; of one without, its date and its task, or ``note`` where it has no task, and a
    number from the second of that name on: ``2026-10-02-divide``, ``2026-10-20-note-2``.
    """
    record: Record
    """The record."""
    void_by: str | None = None
    """The name of the one that corrects it or strikes it out; it counts no longer."""


@dataclass(frozen=True, kw_only=True)
class Plan:
    """A dated plan for one new colony."""

    id: str
    """Stable: calendars build their identifiers from it. Small letters, digits and hyphens."""
    title: str
    """Name for people: club, keeper, hive."""
    keeper: str | None = None
    """Who keeps the colony, where that was said."""
    club: str | None = None
    """The club, where that was said."""
    parent_name: str = ""
    """Name of the old box, or of the colony in it."""
    daughter_name: str | None = None
    """Name of the new box, where it has one."""
    method: str
    """Name of the method."""
    bee: str
    """Name of the bee."""
    site: Site
    """Where."""
    today: dt.date
    """The day the plan was made for."""
    window: WorkingWindow | None
    """The working window that the plan uses; None where the place is open all year."""
    first_safe: dt.date | None = None
    """First date on which the method can begin: season, readiness, today."""
    last_safe: dt.date | None
    """Last date on which the division still leaves enough warm time; None all year round."""
    best_dates: tuple[BestDate, ...]
    """The best dates to begin on, the best first; empty once it has begun."""
    wish: Wish | None = None
    """What is said of the date that was wished for, before the work has begun and where the
    season has an end.
    """
    notes: tuple[Reason, ...]
    """How first and last safe date came about, and what else there is to know."""
    tasks: tuple[Task, ...]
    """The tasks, by best date; of equal dates in the order of work."""
    waiting: tuple[WaitingTask, ...] = ()
    """The tasks without a date, in the order of work: each waits until something is seen."""
    choices: tuple[Choice, ...]
    """The choices that were made where practice differs."""
    cautions: tuple[Caution, ...]
    """What to mind throughout."""
    basis: tuple[Basis, ...]
    """What the temperatures rest on."""
    records: tuple[KeptRecord, ...] = ()
    """Every record as it was given, with its name; those that no longer count say which one took
    their place.
    """
    known: Known | None = None
    """What today is for beginning, before the work has begun: a record of today keeps it."""

    def __repr__(self) -> str:
        return _show.plan(self)

    def _repr_html_(self) -> str:
        return _show.plan_table(self)


@dataclass(frozen=True, kw_only=True)
class Review:
    """Where a plan and its colony stand."""

    today: dt.date
    """The day of the review."""
    standing: Standing | None
    """Where the box that has to raise a queen stands. Where either box may be the one, the less
    certain of the two counts. None before the division.
    """
    boxes: tuple[BoxStanding, ...]
    """Each of the boxes; empty before the division."""
    pair: PairStanding | None = None
    """Which of the two has the old queen, and which is to be watched; None before the division,
    once joined, and where the whole colony moved.
    """
    settle: Settle | None = None
    """What would settle it; None before the division and where it is settled."""
    changes: tuple[Change, ...]
    """What changed with the newest records."""
    recommendations: tuple[Recommendation, ...]
    """What to do, the most urgent first."""
    plan: Plan
    """The plan as it is now."""

    def __repr__(self) -> str:
        return _show.review(self)

    def _repr_html_(self) -> str:
        return _show.plan_table(self.plan)


@dataclass(frozen=True, kw_only=True)
class Agenda:
    """What a keeper needs at a moment."""

    state: State
    """How all of it stands."""
    colonies: tuple[ColonyState, ...]
    """How each colony stands, in the order of the request."""
    now: tuple[Item, ...]
    """What is to be done today, in the order of the day."""
    next: tuple[Item, ...]
    """What is to be done on the next day that has something."""
    this_week: tuple[Item, ...]
    """The rest of the seven days after today."""
    later: tuple[Item, ...]
    """What comes later."""
    only_if: tuple[Item, ...]
    """What is to be done only if something turns out so; it is no task yet."""
    waiting: tuple[Waiting, ...]
    """What waits until something is seen."""
    questions: tuple[Question, ...]
    """What was due and was not recorded."""
    cautions: tuple[Caution, ...]
    """What to mind, each once."""
    reviews: tuple[Review, ...] = ()
    """What all this rests on; empty where it was asked to be brief."""


Size = Literal[
    "small",
    "medium",
    "large",
]
"""The class of a bee's size. The classes go by Streinzer, Huber & Spaethe 2016 and Teixeira &
Campos 2005; where their edges lie is our reading.

``small``: Under 5 mm long, up to 1.3 mm between the tegulae: *Tetragonula*, *Plebeia*,
*Tetragonisca*.

``medium``: 1.4 to 2.2 mm between the tegulae: *Scaptotrigona*, *Heterotrigona*, *Trigona*,
*Partamona*.

``large``: *Melipona*.
"""


@dataclass(frozen=True, kw_only=True)
class Sourced:
    """A parameter: value, unit, allowed range and source."""

    value: float
    """The number."""
    unit: str
    """Its unit."""
    lowest: float
    """Lowest value that makes sense."""
    highest: float
    """Highest value that makes sense."""
    source: str
    """Publication, or ``common practice, no source``."""


@dataclass(frozen=True, kw_only=True)
class Bee:
    """The numbers of one kind of bee."""

    name: str
    """Short name, such as ``generic_small`` or ``tetragonula_carbonaria``."""
    label: str
    """Name for people."""
    size: Size
    """The class of its size."""
    builds_queen_cells: bool
    """Whether its queens are raised in queen cells: not so in *Melipona*, whose virgin queens
    come from cells like those of workers.
    """
    lives_in: tuple[Region, ...]
    """Where it lives; a class lives where stingless bees do."""
    flight_light: Sourced
    """Light below which foragers stay in: W/m² or lx, as ``unit`` says."""
    flight_earliest_c: Sourced
    """Earliest published: air temperature from which single bees may be out, °C. For moves."""
    flight_minimum_c: Sourced
    """Usual: air temperature from which flight is counted on, °C. For flying days."""
    flying_day_h: Sourced
    """Possible flight that makes a day a flying day, h."""
    rain_limit_mm: Sourced
    """Rain of a day from which it no longer counts as a flying day, mm."""
    wind_limit_m_s: Sourced
    """Wind above which boxes are not carried, m/s. It keeps no bee in during the dividing
    season.
    """
    worker_development_shortest_d: Sourced
    """From egg to new worker, the shortest published, days."""
    worker_development_d: Sourced
    """From egg to new worker, days; where several are published, the longest."""
    heat_shade_c: Sourced
    """Air temperature of a day above which a hive needs full shade, °C."""
    heat_limit_c: Sourced
    """Air temperature of a day above which a hive should stand somewhere cool, °C."""
    homing_typical_m: Sourced | None = None
    """Distance from which half of the foragers that were let free did not come home, m."""
    homing_limit_m: Sourced | None = None
    """Distance from which nine in ten did not come home, m."""
    homing_farthest_m: Sourced | None = None
    """Farthest distance from which any came home, m: single bees may."""
    queen_development_d: Sourced | None = None
    """From egg to young queen, days."""
    worker_life_d: Sourced | None = None
    """How long a worker lives, days."""
    brood_cold_c: Sourced | None = None
    """Nest temperature below which brood is harmed, °C."""
    brood_heat_c: Sourced | None = None
    """Nest temperature above which brood is harmed, °C."""
    fanning_c: Sourced | None = None
    """Air temperature from which bees fan air through the entrance, °C."""
    adult_cold_c: Sourced | None = None
    """Air temperature below which adults are harmed within days, °C."""
    adult_heat_c: Sourced | None = None
    """Air temperature above which adults are harmed, °C."""
    division_night_c: Sourced | None = None
    """Minimum of the nights below which colonies are not divided, °C."""
    ready_net_kg: Sourced | None = None
    """Net weight from which a colony is divided, kg."""
    division_interval_d: Sourced | None = None
    """From one division to the next, days."""
    notes: tuple[str, ...]
    """What else has been published of it, each with its source."""
    from_generic: tuple[str, ...]
    """Names of the numbers that were taken from a generic bee."""
    overridden: tuple[str, ...]
    """Names of the numbers that the user set."""


CalendarPer = Literal[
    "hive",
    "keeper",
    "club",
]
"""What one calendar is for.

``hive``: A hive, with the colonies that were made from it.

``keeper``: A keeper, with all hives.

``club``: A club, with all keepers.
"""


@dataclass(frozen=True, kw_only=True)
class NamedCalendar:
    """A calendar of some of the plans."""

    id: str
    """The name in small letters, digits and hyphens, for a file; with a number where another
    calendar has it.
    """
    name: str
    """Its name: club, keeper and hive, as far as it goes and they are known."""
    ics: str
    """An iCalendar file (RFC 5545); its lines end with CRLF, which must stay."""


@dataclass(frozen=True, kw_only=True)
class CalendarText:
    """An iCalendar file (RFC 5545)."""

    ics: str
    """The file; its lines end with CRLF, which must stay."""
    calendars: tuple[NamedCalendar, ...] | None = None
    """A calendar for each hive, keeper or club, where that was asked for."""

    def __repr__(self) -> str:
        return _show.length(self, self.ics)


@dataclass(frozen=True, kw_only=True)
class CivilDay:
    """A civil day of a zone."""

    date: dt.date
    """The date."""
    start: dt.datetime
    """Its first moment."""
    day_length_h: float
    """Hours until the next day starts: 24 but on days when clocks are changed."""


@dataclass(frozen=True, kw_only=True)
class WaitOutcomeRunsOut:
    """It does."""

    kind: Literal["runs_out"] = "runs_out"
    dates: DateRange
    """The dates on which the count is reached."""
    rests_on: RestsOn
    """Which weather the best date rests on."""
    reasons: tuple[Reason, ...]
    """What else was counted in, such as the chance of rain."""


@dataclass(frozen=True, kw_only=True)
class WaitOutcomeNeverWithinAYear:
    """The weather of a year is not enough for one of the three dates."""

    kind: Literal["never_within_a_year"] = "never_within_a_year"
    counted: float
    """What the likely run has counted after 366 days."""
    reason: Reason
    """Why."""


WaitOutcome = (
    WaitOutcomeRunsOut
    | WaitOutcomeNeverWithinAYear
)
"""When a waiting time runs out."""


@dataclass(frozen=True, kw_only=True)
class Clock:
    """When it runs out, and what the temperatures rest on."""

    outcome: WaitOutcome
    """When it runs out."""
    basis: tuple[Basis, ...]
    """What the temperatures rest on."""
    doubts: tuple[Reason, ...] | None = None
    """What to look at again in the place."""


@dataclass(frozen=True, kw_only=True)
class WetDays:
    """Mean number of wet days of the twelve months."""

    days: tuple[float, ...]
    """January first."""
    from_mm: float | None = None
    """Rain from which a day counts, mm: 0.1 in the built-in grid, 1 in records. None where the
    normals that were given do not say it.
    """


@dataclass(frozen=True, kw_only=True)
class SpreadError:
    """Root mean square error of standard deviations at stations left out, °C."""

    minimum_sd_c: float
    """Of the daily minima's."""
    maximum_sd_c: float
    """Of the daily maxima's."""


@dataclass(frozen=True, kw_only=True)
class DefaultClimate:
    """Twelve months of what the location alone lets one expect, January first."""

    minimum_c: tuple[float, ...]
    """Mean daily minimum, °C."""
    maximum_c: tuple[float, ...]
    """Mean daily maximum, °C."""
    rain_mm: tuple[float, ...] | None = None
    """Rain of the month, mm; known on the grid only."""
    wet_days: WetDays | None = None
    """Wet days of the month; known on the grid only."""
    spread: DailySpread | None = None
    """How far single days stray from the means; known on the grid only."""
    spread_error_c: SpreadError | None = None
    """Error of those standard deviations, °C."""
    land_elevation_m: float | None = None
    """Mean elevation of the land within about a degree, m; known on the grid only."""
    warming: Warming
    """What has been added to the normals of 1961–1990 all over the world."""
    anchored: bool
    """Whether what modern stations around ask for beyond that has been added as well."""
    basis: Basis
    """What it rests on: the period, the error of the monthly means, and what would be better."""
    licence: str
    """Terms of the numbers."""
    attribution: str
    """What must be said where the numbers are shown."""


@dataclass(frozen=True, kw_only=True)
class DayLimitOverrides:
    """A user's own limits; what is not given stays at its default."""

    cold_night_c: float | None = None
    """A night is cold whose minimum is at or below this, °C."""
    heat_spell_d: int | None = None
    """This many hot days on end are a heat spell, d."""


@dataclass(frozen=True, kw_only=True)
class DayTemperatures:
    """Minimum, maximum and rain of one civil day."""

    date: dt.date
    """The civil day at the site."""
    minimum_c: float
    """Lowest air temperature, °C."""
    maximum_c: float
    """Highest air temperature, °C."""
    rain_mm: float | None = None
    """Rain of the day in mm; None where it is not known, which is not the same as none fallen."""
    source: TemperatureSource
    """What the numbers rest on."""


FlightLimit = Literal[
    "light",
    "temperature",
]
"""What holds the bees back at the beginning or the end of the day's flight.

``light``: It is too dark before (after) this moment.

``temperature``: It is too cold before (after) this moment.
"""


@dataclass(frozen=True, kw_only=True)
class FlightEdge:
    """First or last flight, and what sets it."""

    at: dt.datetime
    """The moment."""
    limit: FlightLimit
    """The limit that is met there."""


@dataclass(frozen=True, kw_only=True)
class FlightPossible:
    """Flight is possible, usually from ``first`` to ``last``: the later of the morning's light
    and temperature limits, and the earlier of the afternoon's.
    """

    kind: Literal["possible"] = "possible"
    early_first: FlightEdge
    """Early first flight: on one morning in ten of such a day the first bees are out by then."""
    early_first_clock: str
    """What the clocks of the site show at ``early_first``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    first: FlightEdge
    """Usual first flight: on every second one they are."""
    first_clock: str
    """What the clocks of the site show at ``first``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    last: FlightEdge
    """Usual last flight: on every second evening the last bees are home by then."""
    last_clock: str
    """What the clocks of the site show at ``last``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    late_last: FlightEdge
    """Late last flight: on one evening in ten bees still fly after it."""
    late_last_clock: str
    """What the clocks of the site show at ``late_last``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """


@dataclass(frozen=True, kw_only=True)
class FlightTooCold:
    """The day's maximum stays below the bee's flight minimum."""

    kind: Literal["too_cold"] = "too_cold"


@dataclass(frozen=True, kw_only=True)
class FlightTooDark:
    """The sun stays too low all day, as in a polar winter."""

    kind: Literal["too_dark"] = "too_dark"


@dataclass(frozen=True, kw_only=True)
class FlightNeverBoth:
    """It is warm enough and light enough, but never both at once."""

    kind: Literal["never_both"] = "never_both"


Flight = (
    FlightPossible
    | FlightTooCold
    | FlightTooDark
    | FlightNeverBoth
)
"""Whether and when bees can fly."""


@dataclass(frozen=True, kw_only=True)
class DayChances:
    """Chances of a day of which only the mean over many years is known, 0 to 1."""

    flying_day: float
    """That it is warm enough for long enough to be a flying day. Closed form, if the nights
    before and after depart from their means as much as the day's maximum does, and the warmth
    of the hours needed from the usual course by 8 % of the day's range. Rain is left out: in
    wet months the chance is smaller. Waits for flying days do count rain in.
    """
    cold_night: float
    """That the minimum is at or below ``DayLimits.cold_night_c``. Closed form."""
    hot_day: float
    """That the maximum is at or above the bee's ``heat_shade_c``. Closed form."""
    heat_spell: float
    """That it is one of ``DayLimits.heat_spell_d`` or more hot days on end: an integral over the
    days around, whose departures are correlated from one to the next, taken numerically to
    0.0001. Days of a forecast or a record among them count as they are.
    """


@dataclass(frozen=True, kw_only=True)
class FlightDay:
    """The flight of one day."""

    date: dt.date
    """The civil day."""
    temperatures: DayTemperatures
    """What the answer rests on."""
    flight: Flight
    """First and last flight, or why there is none."""
    flying_hours: float
    """Hours between usual first and usual last flight."""
    flying_day: bool
    """True when the hours reach the bee's ``flying_day_h`` and no heavy rain is known."""
    reason: Reason
    """Why it is a flying day or not."""
    chances: DayChances | None = None
    """What single years make of it, where only the mean of many years and the spread of the days
    about it are known (``Climate.spread``).
    """
    doubts: tuple[Reason, ...] = ()
    """What to look at again before it is believed: the place (``doubts``), and a default climate
    that is weak there.
    """


@dataclass(frozen=True, kw_only=True)
class LastSafeDates:
    """The dates of a window."""

    opens: dt.date
    """The window's first date."""
    closes: dt.date
    """Its last date."""
    good_until: dt.date
    """Until when it stays warm, or outside the months that a rule of rain bars."""
    last_safe: dt.date | None
    """The last date for the step that must be safe; none where the window is too short for it."""
    last_start: dt.date | None
    """The last date to begin the method; earlier where there is work before that step."""
    why: Reason
    """How that comes about."""


@dataclass(frozen=True, kw_only=True)
class LastSafeOutcomeAllYear:
    """The season never closes, so that every date is safe."""

    kind: Literal["all_year"] = "all_year"


@dataclass(frozen=True, kw_only=True)
class LastSafeOutcomeWindows:
    """Windows that close on today or later and open within a year of it."""

    kind: Literal["windows"] = "windows"
    windows: tuple[LastSafeDates, ...]
    """In order; empty where the next one is further away."""


@dataclass(frozen=True, kw_only=True)
class LastSafeOutcomeNone:
    """There is no season."""

    kind: Literal["none"] = "none"
    reasons: tuple[Reason, ...]
    """The rules in the way."""


LastSafeOutcome = (
    LastSafeOutcomeAllYear
    | LastSafeOutcomeWindows
    | LastSafeOutcomeNone
)
"""Whether there are last dates."""


@dataclass(frozen=True, kw_only=True)
class LastSafe:
    """The last safe dates of a method."""

    method: str
    """The method's name."""
    outcome: LastSafeOutcome
    """The windows with their dates, or why there are none."""
    basis: tuple[Basis, ...]
    """What the temperatures rest on."""


@dataclass(frozen=True, kw_only=True)
class MorningChances:
    """Chances of a morning of which only the mean over many years is known, 0 to 1: of normally
    distributed departures from that mean with the standard deviations of ``Climate.spread``.
    Both are closed forms, each with an assumption; none comes from a simulation.
    """

    mild_work: float
    """That the air at work light is neither colder nor warmer than a hive should be carried in:
    between ``MorningSettings.coldest_work_c`` and ``MorningSettings.warmest_work_c``, if the
    air at work light departs from its mean as the night's minimum does.
    """
    window: float
    """That there is a move window, if the temperatures of the day and its neighbours all depart
    from their means as the day's mean does.
    """


@dataclass(frozen=True, kw_only=True)
class EveningClosing:
    """When to close the entrance on the evening before."""

    last_flight: FlightEdge | None = None
    """Last flight of that evening; None when bees do not fly on that day at all."""
    last_flight_clock: str | None = None
    """What the clocks of the site show at ``last_flight``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    from_: dt.datetime
    """From when the foragers are in, and not earlier than shortly before sunset."""
    from_clock: str
    """What the clocks of the site show at ``from``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    daylight_until: dt.datetime | None = None
    """Until when it can be done by daylight: the end of civil twilight. None where it does not
    get dark.
    """
    daylight_until_clock: str | None = None
    """What the clocks of the site show at ``daylight_until``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    lamp_needed: bool
    """True when ``from`` lies after ``daylight_until``, so that a lamp is needed."""


@dataclass(frozen=True, kw_only=True)
class MoveWindowOpen:
    """There is one."""

    kind: Literal["open"] = "open"
    from_: dt.datetime
    """Light enough to work."""
    from_clock: str
    """What the clocks of the site show at ``from``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    until: dt.datetime
    """First flight less the margin: usual first flight of a hive closed the evening before,
    early first flight of another. A closed hive must be open again before it is too warm for
    it. On a day without flight, solar noon.
    """
    until_clock: str
    """What the clocks of the site show at ``until``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    minutes: float
    """Its length."""
    careful_from: dt.datetime | None = None
    """From when on care is needed: other hives may fly already, on one morning in ten. None
    where the window ends before.
    """
    careful_from_clock: str | None = None
    """What the clocks of the site show at ``careful_from``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """


@dataclass(frozen=True, kw_only=True)
class MoveWindowNone:
    """There is none."""

    kind: Literal["none"] = "none"
    reasons: Sequence[Reason]
    """Why."""
    help: Sequence[Reason]
    """What would help."""


MoveWindow = (
    MoveWindowOpen
    | MoveWindowNone
)
"""The stretch of a morning in which a hive can be moved."""


@dataclass(frozen=True, kw_only=True)
class LampWindow:
    """The stretch before work light in which a hive can be moved by lamp."""

    from_: dt.datetime
    """An hour before there is light enough to work."""
    from_clock: str
    """What the clocks of the site show at ``from``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    until: dt.datetime
    """When there is light enough to work, or early first flight less the margin if that comes
    before and the hive stood open over night.
    """
    until_clock: str
    """What the clocks of the site show at ``until``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """


Verdict = Literal[
    "go",
    "careful",
    "no",
]
"""Whether to move.

``go``: Move.

``careful``: It can be done; the reason says what to mind.

``no``: Do not move.
"""


@dataclass(frozen=True, kw_only=True)
class Morning:
    """A morning and the evening before it."""

    date: dt.date
    """The civil day of the morning."""
    evening_before: EveningClosing
    """Closing the entrance; of a hive that stands open over night, when its bees are in."""
    open_overnight: bool = False
    """True for a hive that stands open over night (``closed_evening_before: false``): its
    entrance is not closed on the evening before.
    """
    work_light: dt.datetime | None = None
    """Light enough to work: the sun stands 6° below the skyline in the east. None where that
    does not happen on this day.
    """
    work_light_clock: str | None = None
    """What the clocks of the site show at ``work_light``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    sunrise: dt.datetime | None = None
    """Sunrise over the skyline in the east, where the sun rises on this day."""
    sunrise_clock: str | None = None
    """What the clocks of the site show at ``sunrise``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    first_flight: FlightEdge | None = None
    """Usual first flight, or why there is none: see ``Morning.flight_day_reason``."""
    first_flight_clock: str | None = None
    """What the clocks of the site show at ``first_flight``, in whole minutes on the safe side:
    ``05:52``. Passed over where it is read.
    """
    early_first_flight: FlightEdge | None = None
    """Early first flight: on one morning in ten the first bees are out by then."""
    early_first_flight_clock: str | None = None
    """What the clocks of the site show at ``early_first_flight``, in whole minutes on the safe
    side: ``05:52``. Passed over where it is read.
    """
    window: MoveWindow
    """When to move by daylight."""
    by_lamp: LampWindow | None = None
    """When to move by lamp, in the hour before work light: an ordinary way for every bee. None
    where there is no dawn, or an open hive's bees may fly before it could be done.
    """
    temperature_c: float | None = None
    """Air temperature at work light, °C."""
    minimum_c: float
    """Minimum of the night, °C."""
    maximum_c: float
    """Maximum of the day, °C."""
    rain_mm: float | None = None
    """Rain of the day, mm, where known."""
    wind_m_s: float | None = None
    """Wind, m/s, where known."""
    wind_beaufort: int | None = None
    """The same as force on the Beaufort scale, 0 to 12."""
    flying_day: bool
    """True when bees can fly long enough on this day to learn the new place."""
    flight_day_reason: Reason
    """Why it is a flying day or not."""
    verdict: Verdict
    """Whether to move, judged by the whole day and the next one."""
    verdict_reason: Reason
    """The one reason for that."""
    source: TemperatureSource
    """What the temperatures rest on."""


@dataclass(frozen=True, kw_only=True)
class RankedMorning:
    """A morning with its place among the others."""

    rank: int
    """1 is the best."""
    points: float
    """0 to 100, whole; 0 without a window."""
    free: bool
    """True when the keeper is free on that day, or named no days."""
    reasons: Sequence[Reason]
    """What speaks for it and against it."""
    chances: MorningChances | None = None
    """What single years make of it, where only the mean of many years and the spread of the days
    about it are known.
    """
    doubts: Sequence[Reason] = ()
    """What to look at again before it is believed: the place (``doubts``), and a default climate
    that is weak there.
    """
    next_good: dt.date | None = None
    """The next morning after it, of those that were looked at, of which nothing speaks against a
    move.
    """
    morning: Morning
    """The morning."""


@dataclass(frozen=True, kw_only=True)
class MorningsCalendar:
    """An iCalendar file (RFC 5545) of mornings."""

    ics: str
    """The file; its lines end with CRLF, which must stay."""


PublishedKind = Literal[
    "divide",
    "swarms",
    "queens_and_males",
    "not_then",
    "no_months",
]
"""What the months of a row are.

``divide``: Colonies are divided in them.

``swarms``: Colonies swarm in them.

``queens_and_males``: There are queen cells and males in them.

``not_then``: Colonies are not divided in them: there is no brood, or no flight.

``no_months``: None are named.
"""


PublishedMark = Literal[
    "publication",
    "practice",
    "unknown",
]
"""What a row rests on.

``publication``: A publication.

``practice``: What keepers do or write, without a study.

``unknown``: Nothing was found.
"""


@dataclass(frozen=True, kw_only=True)
class PublishedSeason:
    """A published or practised season of the region of a place."""

    place: str
    """The region."""
    bees: str
    """Of which bees it tells."""
    of_this_bee: bool
    """Whether the bee that was asked about is one of them."""
    kind: PublishedKind
    """What the months are."""
    months: tuple[int, ...]
    """The months, January as 1, in the order of the season."""
    reason: str
    """Why then, as the source has it."""
    source: str
    """Publication, or ``common practice, no source``."""
    mark: PublishedMark
    """What it rests on."""
    said: Reason
    """The row in a sentence."""
    against: tuple[Reason, ...]
    """Where the computed season says otherwise; empty where the two agree or there is nothing to
    compare.
    """


@dataclass(frozen=True, kw_only=True)
class SeasonOutcomeAllYear:
    """Every date."""

    kind: Literal["all_year"] = "all_year"


@dataclass(frozen=True, kw_only=True)
class SeasonOutcomeWindows:
    """The windows that touch the asked span, in order."""

    kind: Literal["windows"] = "windows"
    windows: tuple[WorkingWindow, ...]
    """At least one."""


@dataclass(frozen=True, kw_only=True)
class SeasonOutcomeNone:
    """No date passes."""

    kind: Literal["none"] = "none"
    reasons: tuple[Reason, ...]
    """The rules in the way, how far off they are, and what would help."""


SeasonOutcome = (
    SeasonOutcomeAllYear
    | SeasonOutcomeWindows
    | SeasonOutcomeNone
)
"""What the rules leave of a year."""


@dataclass(frozen=True, kw_only=True)
class EdgeRange:
    """Where the first date of a stretch lies if every temperature is higher or lower by the
    typical error of their source.
    """

    earliest: dt.date | None = None
    """The earlier of the two; none where there would be no such edge."""
    latest: dt.date | None = None
    """The later of the two; none where there would be no such edge."""


@dataclass(frozen=True, kw_only=True)
class SeasonStretch:
    """Dates that follow each other and are the same."""

    state: DateState
    """What they are."""
    first: dt.date
    """First date; that of the asked span where it was so before."""
    last: dt.date
    """Last date; that of the asked span where it goes on."""
    days: int
    """Number of dates, both ends included."""
    begins: EdgeRange | None = None
    """How far the first date may be off because the temperatures are; none where their error is
    not known, and where the span begins with the stretch.
    """
    why: tuple[Reason, ...]
    """What stands in the way on the date in the middle: of the careful rules where it is at
    risk, of the easier ones where it is closed.
    """


@dataclass(frozen=True, kw_only=True)
class RainOfYear:
    """The rain of the months of a place. No date is barred by it unless a rule says so: there
    are places where colonies are divided in the rains, and places where they are not.
    """

    monthly_mm: tuple[float, ...]
    """Mean rain of the twelve months, mm."""
    wet_days: tuple[float, ...] | None = None
    """Mean number of wet days of the twelve months, where it is known."""
    wet_months: tuple[int, ...]
    """The wet months, January as 1: those with more than a twelfth of the year's rain."""
    said: Reason
    """The same in a sentence."""


Judgement = Literal[
    "mean_course",
    "spread",
    "years",
]
"""What a season was judged by.

``mean_course``: One mean course of the year: a date passes or not.

``spread``: The mean course and the spread of single days about it: a date passes with a
chance.

``years``: The years of the records, each of which passes or not.
"""


@dataclass(frozen=True, kw_only=True)
class Season:
    """The working windows of a span of dates."""

    not_at_home: Reason | None = None
    """Why stingless bees, or these, do not live at the place; it comes before all else."""
    doubts: tuple[Reason, ...] = ()
    """What to look at again in the place (``doubts``)."""
    first: dt.date
    """First date of the span that was asked for."""
    last: dt.date
    """Last date of the span that was asked for."""
    published: tuple[PublishedSeason, ...]
    """What is published or practised in the region, the row that fits best first; it comes
    before the computed windows. Empty where nothing is known of the region.
    """
    outcome: SeasonOutcome
    """The windows of good dates: the careful rules hold."""
    wider: SeasonOutcome
    """The windows of dates that are good or at risk."""
    states: tuple[SeasonStretch, ...]
    """The asked span in order, without a gap: what its dates are."""
    rain: RainOfYear | None = None
    """The rain of the year, where it is known."""
    chance: float
    """Share of years asked for of a good date."""
    at_risk_chance: float
    """Share of years asked for of a date at risk."""
    judgement: Judgement
    """What it was judged by."""
    years: int
    """Courses of weather the answer rests on: the years of the records, or 1 for normals."""
    rules: tuple[Rule, ...]
    """The rules that were used."""
    basis: tuple[Basis, ...]
    """What the temperatures rest on."""

    def __repr__(self) -> str:
        return _show.season(self)

    def _repr_html_(self) -> str:
        return _show.season_table(self)


@dataclass(frozen=True, kw_only=True)
class CrossingRisesAndSets:
    """The usual day."""

    kind: Literal["rises_and_sets"] = "rises_and_sets"
    rise: dt.datetime
    """Upwards."""
    set: dt.datetime
    """Downwards."""


@dataclass(frozen=True, kw_only=True)
class CrossingOnlyRises:
    """It comes up and stays up: polar day begins."""

    kind: Literal["only_rises"] = "only_rises"
    rise: dt.datetime
    """Upwards."""


@dataclass(frozen=True, kw_only=True)
class CrossingOnlySets:
    """It goes down and stays down: polar night begins."""

    kind: Literal["only_sets"] = "only_sets"
    set: dt.datetime
    """Downwards."""


@dataclass(frozen=True, kw_only=True)
class CrossingAlwaysAbove:
    """Above all day."""

    kind: Literal["always_above"] = "always_above"


@dataclass(frozen=True, kw_only=True)
class CrossingAlwaysBelow:
    """Below all day."""

    kind: Literal["always_below"] = "always_below"


Crossing = (
    CrossingRisesAndSets
    | CrossingOnlyRises
    | CrossingOnlySets
    | CrossingAlwaysAbove
    | CrossingAlwaysBelow
)
"""Whether and when the sun passes an altitude in one solar day."""


@dataclass(frozen=True, kw_only=True)
class SunDay:
    """Sun and twilights of one civil date."""

    date: dt.date
    """The civil date asked for. Events may fall on a neighbouring date and carry their own."""
    solar_noon: dt.datetime
    """When the sun crosses the meridian: the crossing nearest to 12:00 on the clocks."""
    noon_altitude_deg: float
    """Altitude at that moment."""
    sun: Crossing
    """Sunrise and sunset: the upper edge on the skyline of the site, refraction included."""
    civil: Crossing
    """Centre at −6°."""
    nautical: Crossing
    """Centre at −12°."""
    astronomical: Crossing
    """Centre at −18°."""
    day_length_h: float
    """Hours with the sun above the skyline in this solar day, 0 to 24."""


@dataclass(frozen=True, kw_only=True)
class Outlook:
    """Season, tomorrow, the next mornings, cautions."""

    site: Site
    """Where."""
    today: dt.date
    """The day on which the question was asked."""
    bee: Bee
    """The numbers of the bee."""
    basis: tuple[Basis, ...]
    """What the temperatures rest on, with their error."""
    season: Season
    """Working windows of the twelve months from today."""
    odds_today: StartOdds
    """How likely a colony that is made today has workers of its own before the good season ends."""
    sun_tomorrow: SunDay
    """Tomorrow's sun."""
    flight_tomorrow: FlightDay
    """Tomorrow's flight."""
    mornings: tuple[RankedMorning, ...]
    """The next mornings, the best first."""
    cautions: tuple[Caution, ...]
    """What to mind."""

    def __repr__(self) -> str:
        return _show.outlook(self)

    def _repr_html_(self) -> str:
        return _show.outlook_table(self)


@dataclass(frozen=True, kw_only=True)
class Parameter:
    """A default number and where it belongs."""

    group: str
    """What it belongs to: ``bee generic_small``, ``morning``, ``season``, ``clock``,
    ``relocation``, ``parting``, ``plan``, ``plans of one keeper``.
    """
    name: str
    """Its name within the group."""
    number: Sourced
    """Value, unit, range, source."""


@dataclass(frozen=True, kw_only=True)
class Parting:
    """How a new box gets from the parent's entrance to a place beside it. All of it is common
    practice, no source.
    """

    before_entrance: Wait
    """How long the new box stands before the parent's entrance."""
    between_stages: Wait
    """From one stage to the next."""
    side_by_side: Wait
    """How long the pair then stands side by side."""
    apart_m: Sourced
    """How far from the parent the new box comes to stand, m."""
    stage_m: Sourced
    """Length of a stage, m."""


@dataclass(frozen=True, kw_only=True)
class Stage:
    """One move at dawn."""

    number: int
    """From 1."""
    dates: DateRange
    """When."""
    window: TimeWindow
    """The move window of the best date."""
    distance_so_far_m: float
    """Where the box stands afterwards: metres from where it began."""
    turned_so_far_deg: float | None = None
    """By how much its entrance is turned afterwards, degrees, where a turn is asked for."""
    reasons: tuple[Reason, ...]
    """Why then; above all what held it up."""
    rests_on: RestsOn
    """Which weather the best date rests on, from the stage before."""


@dataclass(frozen=True, kw_only=True)
class StagedMove:
    """A move in stages."""

    stages: tuple[Stage, ...]
    """The stages, in order; not all of them where it comes to a stop."""
    finish: DateRange | None = None
    """When the box stands where it shall; None where it comes to a stop."""
    stopped: tuple[Reason, ...]
    """Why it comes to a stop before the end; empty where it does not."""


@dataclass(frozen=True, kw_only=True)
class PartingDates:
    """The dates of a ``Parting``."""

    set_beside: DateRange | None = None
    """The first stage: the new box comes from before the entrance to beside its parent; None
    where the weather does not let it.
    """
    stages: StagedMove
    """All stages."""
    side_by_side_until: DateRange | None = None
    """Until when the pair stands side by side; None where the stages come to a stop."""


@dataclass(frozen=True, kw_only=True)
class DatedParting:
    """A dated parting."""

    site: Site
    """Where."""
    bee: Bee
    """The numbers of the bee."""
    parting: Parting
    """How the box gets from the entrance to its place, with sources."""
    dates: PartingDates
    """When."""
    cautions: tuple[Caution, ...]
    """What to mind."""
    basis: tuple[Basis, ...]
    """What the temperatures rest on."""
    plan: Plan
    """The tasks: evenings, dawns and openings, as those of any plan."""


PlaceState = Literal[
    "on_land",
    "near_land",
    "at_sea",
    "beyond_the_grid",
]
"""Where a place lies, as the built-in grid knows it. The numbers are the bytes of the columns of
tables that are called ``place``.

``on_land``: On land.

``near_land``: In a square degree that is nearly all sea, with land within about half a
degree.

``at_sea``: Farther from land: temperatures are those of the latitude alone.

``beyond_the_grid``: More than 45° from the equator: the grid does not reach there, and
temperatures are those of the latitude alone.
"""


@dataclass(frozen=True, kw_only=True)
class CheckedPlace:
    """A place, and what is doubtful about it."""

    site: Site
    """The site with every field written out."""
    state: PlaceState
    """Land or sea."""
    land_elevation_m: float | None = None
    """Mean height of the land within about a degree, m, where there is land."""
    noon_off_h: float
    """How far from 12:00 the clocks of the zone show mean solar noon, h; later is positive."""
    doubts: tuple[Reason, ...]
    """What to look at again."""


@dataclass(frozen=True, kw_only=True)
class TableText:
    """A table for spreadsheets (RFC 4180)."""

    csv: str
    """The table, one row a task; its lines end with CRLF, which must stay."""

    def __repr__(self) -> str:
        return _show.length(self, self.csv)


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A picture."""

    svg: str
    """As SVG."""

    def __repr__(self) -> str:
        return _show.length(self, self.svg)

    def _repr_svg_(self) -> str:
        return self.svg


@dataclass(frozen=True, kw_only=True)
class ChosenStart:
    """Where the start of a plan is, and why."""

    plan: str
    """The ``id`` of the plan."""
    name: str
    """The names of its boxes."""
    task: str
    """The ``id`` of its first task."""
    date: dt.date
    """The date."""
    alone: dt.date
    """The date that it would have by itself."""
    why: tuple[Reason, ...]
    """Why it is on that date."""


@dataclass(frozen=True, kw_only=True)
class Together:
    """Plans of one keeper."""

    plans: tuple[Plan, ...]
    """The plans, in the order of the request."""
    starts: tuple[ChosenStart, ...]
    """The starts that were chosen, in the order of the request: of the plans that have not
    begun, and can.
    """
    broken: tuple[Reason, ...]
    """What could not be kept of the limits."""
    exact: bool
    """No dates keep the limits better, by the costs of a plan. Else they are the best that were
    found in the time that is given to a request.
    """


YearDateKind = Literal[
    "season",
    "last_safe",
    "heat",
    "rain",
    "dawn",
]
"""What a date of a place is.

``season``: A state of the season begins, or holds on the first day.

``last_safe``: The last safe day of a method.

``heat``: Days on which heat is likely begin.

``rain``: Months with more than their share of the year's rain begin.

``dawn``: The dawn of a month.
"""


@dataclass(frozen=True, kw_only=True)
class YearDate:
    """One date of a place."""

    id: str
    """Stable among those of the place: ``season-2026-09-27``."""
    kind: YearDateKind
    """What it is."""
    date: dt.date
    """The day."""
    until: dt.date
    """The last day for which it holds."""
    text: Reason
    """What is to be said."""


@dataclass(frozen=True, kw_only=True)
class PlaceDates:
    """The dates of one place."""

    name: str
    """What people call it."""
    site: Site
    """Where it is."""
    bee: str
    """Name of the bee."""
    dates: Sequence[YearDate]
    """In order."""
    doubts: Sequence[Reason] = ()
    """What is odd about the place, as far as it can be told."""
    basis: Sequence[Basis]
    """What the temperatures rest on."""


@dataclass(frozen=True, kw_only=True)
class YearDates:
    """The dates of a year."""

    first: dt.date
    """First day."""
    last: dt.date
    """Last day."""
    places: Sequence[PlaceDates]
    """In the order of the request."""


@dataclass(frozen=True, kw_only=True)
class Poster:
    """A poster."""

    sheets: tuple[str, ...]
    """Its sheets of A4, each as SVG."""


@dataclass(frozen=True, kw_only=True)
class Position:
    """A place that a text can mean."""

    latitude_deg: float
    """Degrees north of the equator, to 0.000001; south is negative."""
    longitude_deg: float
    """Degrees east of Greenwich, −180 to 180; west is negative."""
    state: PlaceState
    """Land or sea."""


@dataclass(frozen=True, kw_only=True)
class CoordinatesReading:
    """What a text with coordinates says."""

    positions: tuple[Position, ...]
    """The places that it can mean, the likeliest first."""
    question: Reason | None = None
    """What its writer must be asked before one of them is used; where nothing is asked there is
    one position.
    """
    height_m: float | None = None
    """The height that stands in a ``geo:`` address or a position of ISO 6709, m above the
    ellipsoid of WGS 84, which can be 100 m off the height above the sea.
    """


DateOrder = Literal[
    "day_month",
    "month_day",
    "year_month",
]
"""What ``3/4`` means.

``day_month``: 3 April.

``month_day``: 4 March.

``year_month``: Of three numbers the first is the year.
"""


FirstDay = Literal[
    "past",
    "coming",
]
"""Which of two weekdays is meant.

``past``: The last one before today.

``coming``: The next one.
"""


TemperatureUnit = Literal[
    "c",
    "f",
]
"""A unit of temperature.

``c``: °C

``f``: °F
"""


RainUnit = Literal[
    "mm",
    "in",
]
"""A unit of rain.

``mm``: Millimetres.

``in``: Inches.
"""


WindUnit = Literal[
    "m_s",
    "km_h",
    "mph",
    "kn",
]
"""A unit of wind.

``m_s``: Metres per second.

``km_h``: Kilometres per hour.

``mph``: Miles per hour.

``kn``: Knots.
"""


CommaMeans = Literal[
    "decimal",
    "thousands",
]
"""What a comma stands for.

``decimal``: Decimals follow.

``thousands``: It parts thousands.
"""


@dataclass(frozen=True, kw_only=True)
class ForecastAnswers:
    """Answers to the questions of a reading. What the text itself says stays as it is."""

    date_order: DateOrder | None = None
    """What ``3/4`` means."""
    first_day: FirstDay | None = None
    """Whether a weekday a few days back is the past one or the coming one."""
    temperature_unit: TemperatureUnit | None = None
    """The unit of temperatures."""
    rain_unit: RainUnit | None = None
    """The unit of rain."""
    wind_unit: WindUnit | None = None
    """The unit of wind."""
    comma: CommaMeans | None = None
    """What the comma of ``1,200`` stands for."""


@dataclass(frozen=True, kw_only=True)
class UnderstoodDay:
    """One day as it was understood."""

    date: dt.date
    """The civil day."""
    text: str
    """It in words: ``Monday 20 July 2026: 12 to 24 °C, 5 mm``."""
    place: str
    """Where it stands: ``line 3``."""
    given: str
    """What stands there."""


@dataclass(frozen=True, kw_only=True)
class LeftOut:
    """Something that is not used."""

    place: str
    """Where it stands: ``line 3``, or a column by its name."""
    given: str
    """What stands there."""
    why: Reason
    """Why it is left out."""


@dataclass(frozen=True, kw_only=True)
class PossibleReading:
    """One answer that is possible."""

    answer: str
    """The value of the field."""
    text: str
    """What the text then means."""


@dataclass(frozen=True, kw_only=True)
class ForecastQuestion:
    """A question, with the readings that are possible."""

    code: str
    """The field of ``ForecastAnswers`` that answers it."""
    text: str
    """The question."""
    readings: tuple[PossibleReading, ...]
    """What can be answered."""
    must_be_answered: bool
    """True where nothing can be used without an answer; else only the values in question are
    left out.
    """


@dataclass(frozen=True, kw_only=True)
class ForecastReading:
    """What a text says, to be looked at before it is used."""

    understood: tuple[UnderstoodDay, ...]
    """Day by day in words, in the order of dates. Empty while a question is open that must be
    answered first.
    """
    forecast: tuple[ForecastDay, ...]
    """The days, as ``ClimateInput.forecast`` takes them."""
    hours: tuple[Hour, ...]
    """Readings by the hour, as ``ClimateInput.hours`` takes them."""
    notes: tuple[Reason, ...]
    """How the text was read where it does not say so itself, and what to look at."""
    left_out: tuple[LeftOut, ...]
    """What was left out, and why; the first 100 of it."""
    more_left_out: int
    """How many more were left out."""
    questions: tuple[ForecastQuestion, ...]
    """What must be known, or would help."""


@dataclass(frozen=True, kw_only=True)
class Trip:
    """One journey of a closed hive."""

    dates: DateRange
    """The morning of the journey."""
    evening_before: EveningClosing
    """When the entrance is closed, on the evening before the best date."""
    lift: TimeWindow | None = None
    """When it is lifted: the move window of the best date; None where there is none."""
    reasons: tuple[Reason, ...]
    """Why then."""
    rests_on: RestsOn
    """Which weather the best date rests on."""


@dataclass(frozen=True, kw_only=True)
class TransitLimits:
    """What a closed hive can bear."""

    coldest_work_c: Sourced
    """Air colder than this chills brood when a hive is carried, °C."""
    warmest_work_c: Sourced
    """Air warmer than this makes a closed hive hot: by then it stands and is open, °C."""
    heat_shade_c: Sourced
    """No journey on a day that gets as warm as this, nor on the day before, °C."""
    heat_limit_c: Sourced
    """A hive that gets as warm as this is in danger, closed or open, °C."""
    closing: Reason
    """How the entrance is closed."""


@dataclass(frozen=True, kw_only=True)
class FarMove:
    """A move to a far place and back."""

    away_at_least_m: float
    """How far away the far place is, at least, m, from both the old and the new place."""
    away_source: str
    """Publication behind that distance."""
    out: Trip
    """There."""
    stay: Wait
    """How long the colony stays."""
    back: Trip
    """Back, to the new place."""
    limits: TransitLimits
    """What a closed hive can bear on the way."""


@dataclass(frozen=True, kw_only=True)
class DirectMove:
    """A move in one go."""

    trip: Trip
    """The journey."""
    limits: TransitLimits
    """What a closed hive can bear on the way."""


@dataclass(frozen=True, kw_only=True)
class CourseStaged(StagedMove):
    """In stages."""

    kind: Literal["staged"] = "staged"


@dataclass(frozen=True, kw_only=True)
class CourseFarAndReturn(FarMove):
    """By way of a far place."""

    kind: Literal["far_and_return"] = "far_and_return"


@dataclass(frozen=True, kw_only=True)
class CourseAtOnce(DirectMove):
    """At once."""

    kind: Literal["at_once"] = "at_once"


Course = (
    CourseStaged
    | CourseFarAndReturn
    | CourseAtOnce
)
"""How the hive gets there."""


@dataclass(frozen=True, kw_only=True)
class Relocation:
    """A dated relocation."""

    site: Site
    """Where from."""
    bee: Bee
    """The numbers of the bee."""
    distance_m: float
    """From here to there, m."""
    way: Way
    """The way that is taken."""
    way_was_given: bool
    """True where the user chose it."""
    why: tuple[Reason, ...]
    """Why this way, and advice."""
    course: Course
    """Its steps."""
    finish: DateRange | None = None
    """When the hive stands in its new place; None where the stages come to a stop."""
    choices: tuple[Choice, ...]
    """Settings on which practice differs."""
    cautions: tuple[Caution, ...]
    """What to mind."""
    basis: tuple[Basis, ...]
    """What the temperatures rest on."""
    plan: Plan
    """The tasks: evenings, dawns and openings, as those of any plan."""

    def __repr__(self) -> str:
        return _show.relocation(self)


Language = Literal[
    "en",
]
"""A language of the catalogue, by its tag (BCP 47)."""


@dataclass(frozen=True, kw_only=True)
class SentenceValue:
    """A value that belongs to a code."""

    name: str
    """Its name."""
    kind: str
    """Its kind, as in the JSON of a ``ReasonValue``."""
    optional: bool
    """True for one that may be missing."""


@dataclass(frozen=True, kw_only=True)
class Sentence:
    """A code of the catalogue."""

    code: str
    """The ``code``."""
    template: str
    """The sentence with places for values."""
    values: tuple[SentenceValue, ...]
    """The values that it is made with."""


@dataclass(frozen=True, kw_only=True)
class Word:
    """A word for a value of the kind ``word`` or ``rule``."""

    name: str
    """The value; that of a rule has ``rule.`` before it, the forms of a unit ``unit.``."""
    word: str
    """What is written for it."""


@dataclass(frozen=True, kw_only=True)
class Sentences:
    """The whole catalogue in a language, for those who write sentences with their own units and
    dates.
    """

    language: str
    """The language's tag."""
    sentences: tuple[Sentence, ...]
    """Every code, by topic."""
    words: tuple[Word, ...]
    """The words that stand for values."""


@dataclass(frozen=True, kw_only=True)
class SunDayAndCrossing(SunDay):
    """A day's sun; ``crossing`` is there when an altitude was asked for."""

    crossing: Crossing | None = None
    """Passage of the altitude that was asked for."""
    doubts: tuple[Reason, ...] | None = None
    """What to look at again in the coordinates and the zone."""


@dataclass(frozen=True, kw_only=True)
class Town:
    """A town of the list."""

    name: str
    """Its name."""
    region: str
    """The state, province or other first division of its country; empty where it has none."""
    country: str
    """Its country."""
    country_code: str
    """Code of the country by ISO 3166-1."""
    people: float
    """How many people live there, to the nearest hundred."""
    site: Site
    """Where it is, to about 1 km, at the height of the land around."""


@dataclass(frozen=True, kw_only=True)
class FoundTowns:
    """Towns that a name can mean."""

    towns: tuple[Town, ...]
    """Those of this name or, where there is none, those whose names begin so; the largest first,
    20 at most.
    """
    more: int
    """How many more there are."""


@dataclass(frozen=True, kw_only=True)
class NearTowns:
    """Towns around a place."""

    towns: tuple[Town, ...]
    """Those within ``NEAR_KM``, the nearest first, 20 at most."""
    distances_km: tuple[float, ...]
    """How far each of them is, km."""
    more: int
    """How many more there are."""
    zone: str | None = None
    """The zone that all of them have, the further ones too. Left out where there are none and
    where they differ: near a border only who lives there knows the clocks.
    """


@dataclass(frozen=True, kw_only=True)
class WarmSeasonMap:
    """Warm seasons over a map: for every latitude in turn, every longitude. Off the land nothing
    is known.
    """

    days: tuple[int | None, ...]
    """Days of the year at or above the threshold; None off the land."""
    first_day: tuple[int | None, ...]
    """First day of the longest warm stretch, 1 January is 1; None also where no day or every day
    is warm.
    """
    last_day: tuple[int | None, ...]
    """Its last day."""
    period: str
    """The years of the normals."""
    warming: Warming
    """What has been added to them all over the world."""
    anchored: bool
    """Whether what modern stations around ask for beyond that has been added as well."""
    licence: str
    """Terms of the numbers."""
    attribution: str
    """What must be said where the numbers are shown."""


@dataclass(frozen=True, kw_only=True)
class DateAnswer:
    """Why a task is not on a date."""

    task: str
    """The task."""
    date: dt.date
    """The date that was asked about."""
    planned: dt.date | None
    """The date that the plan has; None for a task without one."""
    reason: Reason | None
    """The first reason why it is not on the date that was asked about; None where it is."""


@dataclass(frozen=True, kw_only=True)
class DatedPlace:
    """A place of which the dates are wanted."""

    name: str
    """What people call it."""
    site: Site
    """Where it is."""
    bee: str | BeeOverrides | None = None
    """A built-in bee by name, or a user's own."""
    climate: ClimateInput | None = None
    """Normals or records; without any the default for the location."""
    season: SeasonSettings | None = None
    """How the season is to be judged."""


@dataclass(frozen=True, kw_only=True)
class YearCalendar:
    """The dates of a year at places, and the files made of them."""

    dates: YearDates
    """The dates."""
    ics: str
    """An iCalendar file (RFC 5545); its lines end with CRLF, which must stay."""
    csv: str
    """A table for spreadsheets (RFC 4180); its lines end with CRLF, which must stay."""


@dataclass(frozen=True, kw_only=True)
class YearPicture:
    """The picture of a year."""

    svg: str
    """As SVG."""
    doubts: tuple[Reason, ...] | None = None
    """What to look at again in the place."""

    def __repr__(self) -> str:
        return _show.length(self, self.svg)

    def _repr_svg_(self) -> str:
        return self.svg
