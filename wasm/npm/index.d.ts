/**
 * Sun, light, temperature, flight times and working windows for keepers of stingless bees.
 *
 * Units stand in the names. Dates go in and come out as `"YYYY-MM-DD"`; moments come out as ISO
 * strings with the offset of the site, which `new Date(...)` reads. Every function throws
 * {@link ApiaryError} for what the engine does not accept.
 */

/** A civil date, `"YYYY-MM-DD"`, from 1900-01-01 to 2100-12-31. */
export type CivilDate = string;

/** A moment as an ISO string with its offset, such as `"2026-11-26T04:50:17.250+10:00"`. */
export type Instant = string;

/** A moment: a `Date`, or an ISO string with its offset. */
export type InstantInput = Date | Instant;

/** The stable name of a kind of error; the same in every language. */
export type ErrorCode =
  | "bad_cell"
  | "bad_table"
  | "inconsistent"
  | "not_enough_data"
  | "out_of_range"
  | "skipped_day"
  | "too_large"
  | "unknown_name"
  | "unknown_zone"
  | "unreadable";

/** A value that the engine does not accept; the message says what was given and what is allowed. */
export class ApiaryError extends Error {
  private constructor();
  readonly name: "ApiaryError";
  readonly code: ErrorCode;
  /**
   * The value at fault, by its name in the JSON form, such as `"latitude_deg"`; in a column with its
   * row, such as `"latitude_deg[3]"`.
   */
  readonly field: string;
}

/** A place where hives stand. */
export interface Site {
  /** Degrees north, -90 to 90 (south is negative). */
  readonly latitudeDeg: number;
  /** Degrees east, -180 to 180 (west is negative); 180 to 360 is read as -180 to 0. */
  readonly longitudeDeg: number;
  /** Metres above sea level, -500 to 9000; without it that of the land around is taken. */
  readonly elevationM?: number;
  /** IANA time zone of the people who work there. */
  readonly zone: string;
  /** How high hills or trees stand where the sun comes up, -5 to 45 degrees above level. */
  readonly eastHorizonDeg?: number;
  /** The same where it goes down. */
  readonly westHorizonDeg?: number;
  /** In answers: the height was not given. */
  readonly elevationFromLand?: boolean;
  /** In answers: the longitude was given as 180 to 360. */
  readonly longitudeFrom360?: boolean;
}

/** A place, and what is doubtful about it. */
export interface CheckedPlace {
  readonly site: Site;
  readonly state: "on_land" | "near_land" | "at_sea" | "beyond_the_grid";
  /** Mean height of the land within about a degree, where there is land. */
  readonly landElevationM?: number;
  /** How far from 12:00 the clocks of the zone show mean solar noon; later is positive. */
  readonly noonOffH: number;
  /** What to look at again. */
  readonly doubts: readonly Reason[];
}

/** Whether a site can be meant: land or sea, its height and its zone against the land. */
export function place(request: { readonly site: Site }): CheckedPlace;

/** What is behind the door. */
export interface About {
  readonly name: string;
  readonly version: string;
  /** Every code that an {@link ApiaryError} can have. */
  readonly errorCodes: readonly ErrorCode[];
  /** Every name that a request's `ask` can take. */
  readonly requests: readonly string[];
  /** The range of dates in which the engine answers. */
  readonly firstDate: CivilDate;
  readonly lastDate: CivilDate;
}

/** A civil day of a zone. */
export interface CivilDay {
  readonly date: CivilDate;
  /** Its first moment. */
  readonly start: Instant;
  /** Hours until the next day starts: 24 but on days when clocks are changed. */
  readonly dayLengthH: number;
}

/** The numbers of a user's own bee, laid over a built-in one; {@link parameters} lists those. */
export interface BeeOverrides {
  /** Built-in bee to start from; `"generic_small"` when not given. */
  readonly basedOn?: string;
  readonly label?: string;
  /** Where the numbers come from. */
  readonly source?: string;
  readonly flightMinimumC?: number;
  /** Give this or `flightLightLx`, not both. */
  readonly flightLightWM2?: number;
  readonly flightLightLx?: number;
  readonly flyingDayH?: number;
  readonly rainLimitMm?: number;
  readonly windLimitMS?: number;
  readonly homingTypicalM?: number;
  readonly homingLimitM?: number;
  readonly workerDevelopmentD?: number;
  readonly heatShadeC?: number;
  readonly heatLimitC?: number;
}

/** A built-in bee by name, or a user's own. */
export type BeeInput = string | BeeOverrides;

/** The text of a file, and the name by which errors call it. */
export interface TextFile {
  readonly file: string;
  readonly text: string;
}

/** Means of the twelve months, January first. */
export interface MonthlyNormals {
  readonly minimumC: ArrayLike<number>;
  readonly maximumC: ArrayLike<number>;
  readonly rainMm?: ArrayLike<number>;
  /** Mean number of wet days; say in `about` from how much rain a day is wet. */
  readonly wetDays?: ArrayLike<number>;
  /** Station and years. */
  readonly about: string;
}

/** One day of a forecast. */
export interface ForecastDay {
  readonly date: CivilDate;
  readonly minimumC: number;
  readonly maximumC: number;
  readonly rainMm?: number;
  readonly windMS?: number;
}

/** The weather at one moment, measured or forecast. */
export interface Hour {
  readonly at: InstantInput;
  readonly temperatureC: number;
  /** Rain since the reading before. */
  readonly rainMm?: number;
  readonly windMS?: number;
  readonly cloudPercent?: number;
  /** Radiation of sun and sky on level ground. */
  readonly radiationWM2?: number;
}

/** Answers to the questions of a reading. What the text itself says stays as it is. */
export interface ForecastAnswers {
  /** What `3/4` means. */
  readonly dateOrder?: "day_month" | "month_day" | "year_month";
  /** Whether a weekday a few days back is the past one or the coming one. */
  readonly firstDay?: "past" | "coming";
  readonly temperatureUnit?: "c" | "f";
  readonly rainUnit?: "mm" | "in";
  readonly windUnit?: "m_s" | "km_h" | "mph" | "kn";
  /** What the comma of `1,200` stands for. */
  readonly comma?: "decimal" | "thousands";
}

/** Asks what a text says of the coming days. */
export interface ForecastRequest {
  readonly site: Site;
  /** Weekdays and dates without a year count from it. */
  readonly today: CivilDate;
  /** The text as it was copied; up to 2 MiB. */
  readonly text: string;
  /** Its name in errors. */
  readonly file?: string;
  readonly answers?: ForecastAnswers;
}

/** One day of a forecast as it was understood. */
export interface UnderstoodDay {
  readonly date: CivilDate;
  /** `Monday 20 July 2026: 12 to 24 °C, 5 mm` */
  readonly text: string;
  /** Where it stands: `line 3`. */
  readonly place: string;
  /** What stands there. */
  readonly given: string;
}

/** A part of a forecast that is not used. */
export interface LeftOut {
  readonly place: string;
  readonly given: string;
  readonly why: Reason;
}

/** A question, with the readings that are possible. */
export interface ForecastQuestion {
  /** The field of `ForecastAnswers` that answers it, as the engine names it: `date_order`. */
  readonly code: string;
  readonly text: string;
  readonly readings: readonly { readonly answer: string; readonly text: string }[];
  /** Nothing can be used without an answer; else only the values in question are left out. */
  readonly mustBeAnswered: boolean;
}

/** What a text says of the coming days, to be looked at before it is used. */
export interface ForecastReading {
  /** Empty while a question is open that must be answered first. */
  readonly understood: readonly UnderstoodDay[];
  /** For `ClimateInput.forecast`. */
  readonly forecast: readonly ForecastDay[];
  /** For `ClimateInput.hours`. */
  readonly hours: readonly Hour[];
  /** How the text was read where it does not say so itself, and what to look at. */
  readonly notes: readonly Reason[];
  readonly leftOut: readonly LeftOut[];
  readonly moreLeftOut: number;
  readonly questions: readonly ForecastQuestion[];
}

/**
 * What a forecast says, as it was copied from a page, a message or a service. Where two readings are
 * possible there is a question, which a field of `answers` settles.
 */
export function readForecast(request: ForecastRequest): ForecastReading;

/**
 * Normals or records, and a forecast: each as values or as the text of a CSV file. Without normals
 * and records the default for the location is used.
 */
export interface ClimateInput {
  readonly normals?: MonthlyNormals;
  readonly normalsCsv?: TextFile;
  readonly recordsCsv?: TextFile;
  readonly forecast?: readonly ForecastDay[];
  readonly forecastCsv?: TextFile;
  /** Laid over the days; a day known from end to end takes minimum and maximum from them. */
  readonly hours?: readonly Hour[];
  /** The same as the texts of files, CSV or JSON; of the same moment the later file counts. */
  readonly hoursFiles?: readonly TextFile[];
  /** How far single days stray from the means, in place of what is taken for the place. */
  readonly spread?: DailySpread;
  /** What the default for the location adds to its normals of 1961–1990. */
  readonly warming?: Warming;
}

/** Standard deviation of the days of a month about its normal, January first. */
export interface DailySpread {
  readonly minimumSdC: ArrayLike<number>;
  readonly maximumSdC: ArrayLike<number>;
}

/** What is added to normals of 1961–1990 for the years since. */
export interface Warming {
  readonly minimumC: number;
  readonly maximumC: number;
}

/** A user's own limits of a cold night and a heat spell. */
export interface DayLimitOverrides {
  /** A night is cold whose minimum is at or below this; 8 when not given. */
  readonly coldNightC?: number;
  /** This many hot days on end are a heat spell; 3 when not given. */
  readonly heatSpellD?: number;
}

export type Quantity = "mean" | "minimum" | "maximum";

/** What a season rule asks of a date. */
export type RuleTest =
  | {
      /** The temperature, averaged over a number of days (1 to 120) around the date. */
      readonly kind: "temperature";
      readonly quantity: Quantity;
      readonly atLeastC?: number;
      readonly atMostC?: number;
      readonly overDays: number;
    }
  | {
      /** The weeks (1 to 40) that begin with the date are warm: every stretch of some on end. */
      readonly kind: "warm_weeks_ahead";
      readonly quantity: Quantity;
      readonly atLeastC: number;
      readonly weeks: number;
      /** How many weeks are averaged; 4 when not given. */
      readonly averagedWeeks?: number;
    }
  | {
      /** The date does not fall in one of the wettest months (1 to 11) of the year. */
      readonly kind: "outside_wettest_months";
      readonly months: number;
    }
  | {
      /** The date's month brings no more rain than this. */
      readonly kind: "monthly_rain";
      readonly atMostMm: number;
    }
  | {
      /**
       * The date's month has no more wet days than this. A wet day has 0.1 mm of rain in the default
       * for the location, 1 mm in records.
       */
      readonly kind: "monthly_wet_days";
      readonly atMostDays: number;
    };

/** A condition that must hold for a date to lie in a working window. */
export interface Rule {
  readonly name: string;
  readonly test: RuleTest;
  /** Publication, or `"common practice, no source"`. */
  readonly source: string;
}

/** How the season is to be judged; what is not given stays at its default. */
export interface SeasonSettings {
  /** Rules in place of the default ones of the bee. */
  readonly rules?: readonly Rule[];
  /** Bars this many of the wettest months, in addition to the rules: 1 to 11. */
  readonly barWettestMonths?: number;
  /** Bars months with more wet days than this, in addition to the rules: 0 to 31. */
  readonly mostWetDays?: number;
  /** Share of years asked of records. */
  readonly chance?: number;
}

/** A user's own numbers for a move; what is not given stays at its default. */
export interface MorningOverrides {
  /** Minutes before first flight by which the hive must stand in its new place. */
  readonly marginMin?: number;
  /** Minutes after last flight before the entrance is closed. */
  readonly settleMin?: number;
  readonly shortestWindowMin?: number;
  readonly coldestWorkC?: number;
  readonly warmestWorkC?: number;
}

export type Weekday =
  | "monday"
  | "tuesday"
  | "wednesday"
  | "thursday"
  | "friday"
  | "saturday"
  | "sunday";

/** A parameter: value, unit, allowed range and source. */
export interface Sourced {
  readonly value: number;
  readonly unit: string;
  readonly lowest: number;
  readonly highest: number;
  readonly source: string;
}

/** A default number and where it belongs. */
export interface Parameter {
  readonly group: string;
  readonly name: string;
  readonly number: Sourced;
}

/** The numbers of one kind of bee. */
export interface Bee {
  readonly name: string;
  readonly label: string;
  /** Air temperature below which foragers stay in. */
  readonly flightMinimumC: Sourced;
  /** Light below which foragers stay in: W/m² or lx, as its unit says. */
  readonly flightLight: Sourced;
  readonly flyingDayH: Sourced;
  readonly rainLimitMm: Sourced;
  readonly windLimitMS: Sourced;
  readonly homingTypicalM: Sourced;
  readonly homingLimitM: Sourced;
  readonly workerDevelopmentD: Sourced;
  readonly heatShadeC: Sourced;
  readonly heatLimitC: Sourced;
  /** Numbers that were taken from a generic bee, by their names in the JSON form. */
  readonly fromGeneric: readonly string[];
  /** Numbers that the user set, by their names in the JSON form. */
  readonly overridden: readonly string[];
}

/** One reason, caution or piece of advice. */
export interface Reason {
  /** The name of its sentence in the catalogue: `sentences`. */
  readonly code: string;
  /** The sentence in English. */
  readonly text: string;
  /** What the sentence is made with, by name. */
  readonly values?: Readonly<Record<string, ReasonValue>>;
}

/** A value of a sentence. Numbers are in °C, m, mm, m/s, h, min, kg, degrees; a share is 0 to 1. */
export type ReasonValue =
  | {
      readonly kind:
        | "count" | "days" | "flying_days" | "degree_days" | "temperature" | "difference" | "length"
        | "rain" | "speed" | "hours" | "minutes" | "weight" | "angle" | "share";
      readonly value: number;
    }
  | { readonly kind: "date"; readonly value: CivilDate }
  | { readonly kind: "moment"; readonly value: Instant }
  | { readonly kind: "word" | "rule" | "name" | "title"; readonly value: string }
  | { readonly kind: "reason"; readonly value: ReasonWithin }
  | { readonly kind: "list"; readonly value: readonly ReasonWithin[] };

/** The catalogue of sentences in a language. */
export interface Sentences {
  readonly language: string;
  readonly sentences: readonly {
    readonly code: string;
    readonly template: string;
    readonly values: readonly {
      readonly name: string;
      readonly kind: string;
      /** True for one that may be missing. */
      readonly optional: boolean;
    }[];
  }[];
  /** Words for values of the kind `word`; those of rules have `rule.` before their name, of units `unit.`. */
  readonly words: readonly { readonly name: string; readonly word: string }[];
}

/** A reason within another, whose text it is part of. */
export type ReasonWithin = Omit<Reason, "text"> & { readonly text?: string };

/** What to mind. */
export interface Caution {
  /** Its sentence stands in the catalogue under `caution_` and the code. */
  readonly code: string;
  readonly text: string;
  /** The number or day that calls for it; null where it always holds. */
  readonly because: string | null;
  /** The same with its values. */
  readonly becauseReason?: Reason;
  readonly source: string;
}

export type TemperatureSource =
  | "location_default"
  | "monthly_normals"
  | "recorded_day"
  | "recorded_mean"
  | "forecast"
  | "hours";

/** What an answer rests on. */
export interface Basis {
  readonly source: TemperatureSource;
  readonly about: string;
  /** The same with its values, where it is not in words of the user's own. */
  readonly aboutReason?: Reason;
  readonly period?: string;
  readonly typicalErrorC?: number;
  readonly p95ErrorC?: number;
  readonly advice?: string;
  readonly adviceReason?: Reason;
}

/** Mean number of wet days of the twelve months. */
export interface WetDays {
  readonly days: readonly number[];
  /** Rain from which a day counts; absent where the given normals do not say it. */
  readonly fromMm?: number;
}

/**
 * Twelve months of what the location alone lets one expect, January first. Rain, wet days and spread
 * are known on the built-in grid only.
 */
export interface DefaultClimate {
  readonly minimumC: readonly number[];
  readonly maximumC: readonly number[];
  readonly rainMm?: readonly number[];
  readonly wetDays?: WetDays;
  readonly spread?: DailySpread;
  /** Error of those standard deviations at stations left out. */
  readonly spreadErrorC?: { readonly minimumSdC: number; readonly maximumSdC: number };
  /** Mean elevation of the land within about a degree. */
  readonly landElevationM?: number;
  readonly warming: Warming;
  readonly basis: Basis;
  readonly licence: string;
  /** What must be said where the numbers are shown. */
  readonly attribution: string;
}

/** Warm seasons: for every latitude in turn, every longitude; null off the land. */
export interface WarmSeasonMap {
  /** Days of the year at or above the threshold. */
  readonly days: readonly (number | null)[];
  /** First day of the longest stretch, 1 January is 1; also null where no or every day is warm. */
  readonly firstDay: readonly (number | null)[];
  readonly lastDay: readonly (number | null)[];
  readonly period: string;
  readonly warming: Warming;
  readonly licence: string;
  readonly attribution: string;
}

/** Whether and when the sun passes an altitude in one solar day. */
export type Crossing =
  | { readonly kind: "rises_and_sets"; readonly rise: Instant; readonly set: Instant }
  | { readonly kind: "only_rises"; readonly rise: Instant }
  | { readonly kind: "only_sets"; readonly set: Instant }
  | { readonly kind: "always_above" }
  | { readonly kind: "always_below" };

/** Sun and twilights of one civil date; events may fall on a neighbouring date. */
export interface SunDay {
  readonly date: CivilDate;
  readonly solarNoon: Instant;
  readonly noonAltitudeDeg: number;
  /** The upper edge on the skyline of the site, refraction included. */
  readonly sun: Crossing;
  readonly civil: Crossing;
  readonly nautical: Crossing;
  readonly astronomical: Crossing;
  readonly dayLengthH: number;
  /** Passage of the altitude that was asked for. */
  readonly crossing?: Crossing;
}

/** Minimum, maximum and rain of one civil day. */
export interface DayTemperatures {
  readonly date: CivilDate;
  readonly minimumC: number;
  readonly maximumC: number;
  /** Not there where it is not known. */
  readonly rainMm?: number;
  readonly source: TemperatureSource;
}

/** First or last flight, and what sets it. */
export interface FlightEdge {
  readonly at: Instant;
  readonly limit: "light" | "temperature";
}

/** Whether and when bees can fly. */
export type Flight =
  | { readonly kind: "possible"; readonly first: FlightEdge; readonly last: FlightEdge }
  | { readonly kind: "too_cold" }
  | { readonly kind: "too_dark" }
  | { readonly kind: "never_both" };

/** The flight of one day. */
export interface FlightDay {
  readonly date: CivilDate;
  readonly temperatures: DayTemperatures;
  readonly flight: Flight;
  readonly flyingHours: number;
  readonly flyingDay: boolean;
  readonly reason: Reason;
  /** Where only the mean of many years and the spread about it are known. */
  readonly chances?: DayChances;
}

/** Chances of a day of which only the mean over many years is known, 0 to 1. */
export interface DayChances {
  /** That it is warm enough for long enough; rain is left out. */
  readonly flyingDay: number;
  readonly coldNight: number;
  /** That the maximum reaches the bee's `heatShadeC`. */
  readonly hotDay: number;
  /** That it is one of several hot days on end. */
  readonly heatSpell: number;
}

/** A stretch of dates on which every rule holds. */
export interface WorkingWindow {
  readonly opens: CivilDate;
  readonly closes: CivilDate;
  readonly days: number;
  /** What stood in the way on the day before. */
  readonly openedBy: readonly Reason[];
  /** What stands in the way on the day after. */
  readonly closedBy: readonly Reason[];
  /** How far the dates may be off, where the error of the temperatures is known. */
  readonly errorRange?: ErrorRange;
}

/** A window if it were warmer or cooler by the typical error. */
export interface ErrorRange {
  readonly errorC: number;
  readonly warmer: ShiftedWindow;
  readonly cooler: ShiftedWindow;
}

/** What becomes of a window when temperatures are others. `from`: no end within a year; `until`: no beginning. */
export type ShiftedWindow =
  | { readonly kind: "span"; readonly opens: CivilDate; readonly closes: CivilDate }
  | { readonly kind: "from"; readonly opens: CivilDate }
  | { readonly kind: "until"; readonly closes: CivilDate }
  | { readonly kind: "all_year" }
  | { readonly kind: "none"; readonly reasons: readonly Reason[] };

/** The working windows of a span of dates. */
export interface Season {
  readonly first: CivilDate;
  readonly last: CivilDate;
  readonly outcome:
    | { readonly kind: "all_year" }
    | { readonly kind: "windows"; readonly windows: readonly WorkingWindow[] }
    | { readonly kind: "none"; readonly reasons: readonly Reason[] };
  readonly chance: number;
  /** By one mean course, by the spread of days about it, or by the years of the records. */
  readonly judgement: "mean_course" | "spread" | "years";
  readonly years: number;
  readonly rules: readonly Rule[];
  readonly basis: readonly Basis[];
}

/** When to close the entrance on the evening before. */
export interface EveningClosing {
  readonly lastFlight: FlightEdge | null;
  /** From when the foragers are in. */
  readonly from: Instant;
  readonly daylightUntil: Instant | null;
  readonly lampNeeded: boolean;
}

/** The stretch of a morning in which a hive can be moved, or why there is none. */
export type MoveWindow =
  | {
      readonly kind: "open";
      readonly from: Instant;
      readonly until: Instant;
      readonly minutes: number;
    }
  | {
      readonly kind: "none";
      readonly reasons: readonly Reason[];
      readonly help: readonly Reason[];
    };

/** A morning and the evening before it. */
export interface Morning {
  readonly date: CivilDate;
  readonly eveningBefore: EveningClosing;
  readonly workLight: Instant | null;
  readonly sunrise: Instant | null;
  readonly firstFlight: FlightEdge | null;
  readonly window: MoveWindow;
  /** Air temperature at work light. */
  readonly temperatureC: number | null;
  readonly minimumC: number;
  readonly maximumC: number;
  readonly rainMm: number | null;
  readonly windMS: number | null;
  readonly flyingDay: boolean;
  readonly flightDayReason: Reason;
  readonly source: TemperatureSource;
}

/** A morning with its place among the others. */
export interface RankedMorning {
  /** 1 is the best. */
  readonly rank: number;
  readonly points: number;
  readonly free: boolean;
  readonly reasons: readonly Reason[];
  /** Where only the mean of many years and the spread about it are known. */
  readonly chances?: MorningChances;
  readonly morning: Morning;
}

/** Chances of a morning of which only the mean over many years is known, 0 to 1. */
export interface MorningChances {
  /** That the air at work light is neither too cold nor too warm to carry a hive. */
  readonly mildWork: number;
  /** That there is a move window. */
  readonly window: number;
}

/** Season, tomorrow, the next mornings, cautions. */
export interface Outlook {
  readonly site: Site;
  readonly today: CivilDate;
  readonly bee: Bee;
  readonly basis: readonly Basis[];
  readonly season: Season;
  readonly sunTomorrow: SunDay;
  readonly flightTomorrow: FlightDay;
  readonly mornings: readonly RankedMorning[];
  readonly cautions: readonly Caution[];
}

/** What a waiting time counts. */
export type WaitUnit = "days" | "flying_days" | "degree_days";

/** A waiting time: three counts from 0 to 1000, in order. */
export interface Wait {
  readonly unit: WaitUnit;
  /** Degree-days only, and needed there: -10 to 40 °C. */
  readonly baseC?: number;
  /** Degree-days only: upper cut-off. */
  readonly upperC?: number;
  readonly earliest: number;
  readonly likely: number;
  readonly latest: number;
  /** Publication, or `common practice, no source`. */
  readonly source: string;
}

/** A date that depends on weather. */
export interface DateRange {
  readonly earliest: CivilDate;
  readonly best: CivilDate;
  readonly latest: CivilDate;
}

/** How many of the days that an answer rests on came from where. */
export interface RestsOn {
  readonly recordedDays: number;
  readonly forecastDays: number;
  readonly normalDays: number;
  readonly defaultDays: number;
}

/** When a waiting time runs out, and what the temperatures rest on. */
export interface Clock {
  readonly outcome:
    | {
        readonly kind: "runs_out";
        readonly dates: DateRange;
        readonly restsOn: RestsOn;
        /** What else was counted in, such as the chance of rain. */
        readonly reasons: readonly Reason[];
      }
    | { readonly kind: "never_within_a_year"; readonly counted: number; readonly reason: Reason };
  readonly basis: readonly Basis[];
}

/** How a hive is moved. */
export type Way = "staged" | "far_and_return" | "at_once";

/** A user's own numbers for a relocation; {@link parameters} lists the defaults. */
export interface RelocationOverrides {
  readonly stageM?: number;
  readonly flyingDaysBetween?: number;
  readonly slowFromM?: number;
  readonly stagedUpToM?: number;
  readonly farSmallM?: number;
  readonly farLargeM?: number;
  readonly farStay?: "sixty_days" | "three_weeks";
}

/** A stretch of a day. */
export interface TimeWindow {
  readonly from: Instant;
  readonly until: Instant;
}

/** A setting on which practice differs, what was chosen, and what else is done. */
export interface Choice {
  readonly name: string;
  readonly chosen: string;
  readonly source: string;
  readonly others: readonly string[];
}

/** One move at dawn. */
export interface Stage {
  readonly number: number;
  readonly dates: DateRange;
  /** The move window of the best date. */
  readonly window: TimeWindow;
  readonly distanceSoFarM: number;
  readonly turnedSoFarDeg?: number;
  readonly reasons: readonly Reason[];
  readonly restsOn: RestsOn;
}

/** One journey of a closed hive. */
export interface Trip {
  readonly dates: DateRange;
  readonly eveningBefore: EveningClosing;
  /** From work light until the air is too warm for a closed hive. */
  readonly lift?: TimeWindow;
  readonly reasons: readonly Reason[];
  readonly restsOn: RestsOn;
}

/** What a closed hive can bear. */
export interface TransitLimits {
  readonly coldestWorkC: Sourced;
  readonly warmestWorkC: Sourced;
  readonly heatShadeC: Sourced;
  readonly heatLimitC: Sourced;
  readonly closing: Reason;
}

/** A move in stages. */
export interface StagedMove {
  readonly stages: readonly Stage[];
  readonly finish?: DateRange;
  /** Why it comes to a stop before the end; empty where it does not. */
  readonly stopped: readonly Reason[];
}

/** How the hive gets there. */
export type Course =
  | ({ readonly kind: "staged" } & StagedMove)
  | {
      readonly kind: "far_and_return";
      readonly awayAtLeastM: number;
      readonly awaySource: string;
      readonly out: Trip;
      readonly stay: Wait;
      readonly back: Trip;
      readonly limits: TransitLimits;
    }
  | { readonly kind: "at_once"; readonly trip: Trip; readonly limits: TransitLimits };

/** A dated relocation. */
export interface Relocation {
  readonly site: Site;
  readonly bee: Bee;
  readonly distanceM: number;
  readonly way: Way;
  readonly wayWasGiven: boolean;
  readonly why: readonly Reason[];
  readonly course: Course;
  /** When the hive stands in its new place; not there where the stages come to a stop. */
  readonly finish?: DateRange;
  readonly choices: readonly Choice[];
  readonly cautions: readonly Caution[];
  readonly basis: readonly Basis[];
}

/** A keeper's own numbers and waiting times for a parting; the preset's where not given. */
export interface PartingOverrides {
  readonly beforeEntrance?: Wait;
  readonly apartM?: number;
  readonly stageM?: number;
  readonly betweenStages?: Wait;
  readonly sideBySide?: Wait;
}

/** How a new box gets from its parent's entrance to a place beside it. */
export interface Parting {
  readonly beforeEntrance: Wait;
  readonly apartM: Sourced;
  readonly stageM: Sourced;
  readonly betweenStages: Wait;
  readonly sideBySide: Wait;
}

/** A dated parting. */
export interface DatedParting {
  readonly site: Site;
  readonly bee: Bee;
  readonly parting: Parting;
  readonly dates: {
    readonly setBeside: DateRange;
    readonly stages: StagedMove;
    /** Not there where the stages come to a stop. */
    readonly sideBySideUntil?: DateRange;
  };
  readonly cautions: readonly Caution[];
  readonly basis: readonly Basis[];
}

/** What kind of work a task is. */
export type TaskKind =
  | "prepare"
  | "divide"
  | "entrance"
  | "pest_watch"
  | "move"
  | "rest"
  | "check"
  | "feed"
  | "decide"
  | "next_division";

/** The colony that was there before, the new one, or both. */
export type Which =
  | "parent"
  | "daughter"
  | "pair";

/** How strong a colony is, as its keeper judges it. */
export type Strength =
  | "weak"
  | "medium"
  | "strong";

/** Something seen at a hive. */
export type SignKind =
  | "eggs"
  | "laying_queen"
  | "young_workers"
  | "pollen_in"
  | "resin_in"
  | "steady_streams"
  | "guards"
  | "waste_out"
  | "males_turned_out"
  | "males_gathered"
  | "bees_enter_other"
  | "stores_carried_between"
  | "no_traffic"
  | "no_eggs"
  | "phorid_larvae"
  | "moth"
  | "ants"
  | "box_empty";

/** What a sign is worth. */
export type SignStrength =
  | "conclusive"
  | "supportive"
  | "weak"
  | "neutral"
  | "contrary";

/** Where a box stands. */
export type Standing =
  | "laying_queen_seen"
  | "likely_established"
  | "uncertain"
  | "failing"
  | "lost";

/** What a keeper can do. */
export type Advice =
  | "protect_from_heat"
  | "fight_pests"
  | "close_empty_box"
  | "give_brood"
  | "recombine"
  | "inspect"
  | "say_which_box"
  | "leave_alone";

/** A choice on which something hangs. */
export interface When {
  readonly setting: string;
  readonly is: string;
}

/** One way of doing a thing on which practice differs. */
export interface SettingOption {
  readonly name: string;
  readonly words: string;
  readonly source: string;
  readonly wait?: Wait;
}

/** A thing on which practice differs. */
export interface Setting {
  readonly name: string;
  readonly question: string;
  readonly default: string;
  readonly options: readonly SettingOption[];
  readonly when?: When;
}

/** What a colony must be before a method is begun. */
export interface Readiness {
  readonly netWeightKg?: number;
  readonly strength?: Strength;
  readonly sinceDivisionSetting?: string;
  readonly source: string;
}

/** What comes before a step: at most one of the three waits. */
export interface After {
  readonly task: string;
  readonly wait?: Wait;
  readonly bySetting?: string;
  readonly byBee?: "worker_development";
  readonly carriesRange?: boolean;
}

/** A step that is done several times. */
export interface Repeat {
  readonly times: number;
  readonly wait?: Wait;
  readonly bySetting?: string;
}

/** One step of a method. */
export interface Step {
  readonly id: string;
  readonly kind: TaskKind;
  readonly which: Which;
  readonly title: string;
  readonly why: string;
  readonly lookFor?: readonly string[];
  readonly dependsOn?: readonly After[];
  readonly leadD?: number;
  readonly day?: "any" | "opening" | "flying";
  readonly time?: "whole_day" | "dawn" | "warm_hours" | "evening";
  readonly season?: "free" | "within" | "safe";
  readonly ifMissed?: "still_due" | "lapses";
  readonly asksForQueen?: boolean;
  readonly rebuilt?: boolean;
  readonly repeat?: Repeat;
  readonly when?: When;
  readonly cautions?: readonly string[];
  readonly source: string;
}

/** How a new colony is made: built in, or of your own. */
export interface Method {
  readonly name: string;
  readonly label: string;
  readonly about: string;
  readonly source: string;
  readonly newQueen: "parent" | "daughter" | "either" | "none";
  readonly readiness: Readiness;
  readonly settings?: readonly Setting[];
  readonly steps: readonly Step[];
}

/** The colony that is to be divided, as its keeper knows it. */
export interface Colony {
  readonly name: string;
  readonly daughterName?: string;
  readonly netWeightKg?: number;
  readonly monthsSinceDivision?: number;
  readonly strength?: Strength;
}

/** A keeper's own choices and numbers; `parameters` lists the defaults. */
export interface PlanOverrides {
  readonly choices?: { readonly [name: string]: string };
  readonly openingMinC?: number;
  readonly openingMaxC?: number;
  readonly openingH?: number;
  readonly flightLeftH?: number;
  readonly heatAheadD?: number;
  readonly openingRainMm?: number;
  readonly rankedD?: number;
  readonly lookAgainD?: number;
  readonly eggsCountFromD?: number;
  readonly signsCountFromD?: number;
}

/** A task that the keeper has put on a date. */
export interface FixedDate {
  readonly task: string;
  readonly date: CivilDate;
}

/** Something seen, and at which box. */
export interface Sign {
  readonly kind: SignKind;
  readonly which?: Which;
}

/** What was done and seen on a day. */
export interface HiveRecord {
  readonly date: CivilDate;
  readonly task?: string;
  readonly signs?: readonly Sign[];
  readonly netWeightKg?: number;
  readonly note?: string;
}

/** What must have been done before, and how long before. */
export interface Dependency {
  readonly task: string;
  readonly wait?: Wait;
}

/** Ahead, or left out. */
export interface TaskAhead {
  readonly kind: "planned" | "dropped";
}

/** Done on a date; that date no longer moves. */
export interface TaskDone {
  readonly kind: "done";
  readonly on: CivilDate;
}

/** One thing to do. */
export interface Task {
  readonly id: string;
  readonly kind: TaskKind;
  readonly which: Which;
  readonly title: string;
  readonly dates: DateRange;
  readonly window?: TimeWindow;
  readonly why: readonly Reason[];
  readonly lookFor: readonly string[];
  readonly cautions: readonly Caution[];
  readonly source: string;
  readonly dependsOn: readonly Dependency[];
  readonly restsOn: RestsOn;
  readonly state: TaskAhead | TaskDone;
}

/** A date on which a method could begin. */
export interface BestDate {
  readonly date: CivilDate;
  readonly points: number;
  readonly good: boolean;
  readonly reasons: readonly Reason[];
}

/** A dated plan for one new colony. */
export interface Plan {
  readonly id: string;
  readonly title: string;
  readonly method: string;
  readonly bee: string;
  readonly site: Site;
  readonly today: CivilDate;
  readonly window: WorkingWindow | null;
  readonly firstSafe?: CivilDate;
  readonly lastSafe: CivilDate | null;
  readonly bestDates: readonly BestDate[];
  readonly notes: readonly Reason[];
  readonly tasks: readonly Task[];
  readonly choices: readonly Choice[];
  readonly cautions: readonly Caution[];
  readonly basis: readonly Basis[];
}

/** A sign and what it tells here. */
export interface Seen {
  readonly kind: SignKind;
  readonly date: CivilDate;
  readonly strength: SignStrength;
  readonly text: string;
  readonly source: string;
}

/** A box, the signs for it and against it. */
export interface BoxStanding {
  readonly which: Which;
  readonly standing: Standing;
  readonly signsFor: readonly Seen[];
  readonly signsAgainst: readonly Seen[];
  readonly signsNeutral: readonly Seen[];
}

/** The one thing that would settle the question. */
export interface Settle {
  readonly lookFor: string;
  readonly from: CivilDate;
  readonly by: CivilDate;
}

/** A task whose date or state has changed since the last record. */
export interface Change {
  readonly task: string;
  readonly before?: CivilDate;
  readonly after?: CivilDate;
  readonly state: TaskAhead | TaskDone | null;
  readonly laterD: number;
  readonly why: readonly Reason[];
}

/** A piece of advice and its reason. */
export interface Recommendation {
  readonly advice: Advice;
  readonly which: Which;
  readonly text: string;
  readonly reason: Reason;
  readonly source: string;
}

/** Where a plan and its colony stand. */
export interface Review {
  readonly today: CivilDate;
  readonly standing: Standing | null;
  readonly boxes: readonly BoxStanding[];
  readonly settle?: Settle;
  readonly changes: readonly Change[];
  readonly recommendations: readonly Recommendation[];
  readonly plan: Plan;
}

/** What a plan is made from. */
/** Until when a method can be begun safely. */
export interface LastSafe {
  readonly method: string;
  readonly outcome:
    | { readonly kind: "all_year" }
    /** Windows that close on the asked day or later and open within a year of it, in order. */
    | { readonly kind: "windows"; readonly windows: readonly LastSafeDates[] }
    | { readonly kind: "none"; readonly reasons: readonly Reason[] };
  readonly basis: readonly Basis[];
}

/** A working window and its last dates for a method. */
export interface LastSafeDates {
  readonly opens: CivilDate;
  readonly closes: CivilDate;
  /** Until when it stays warm, or dry where rain closes the season. */
  readonly goodUntil: CivilDate;
  /** For the step that must be safe; null where the window is too short for it. */
  readonly lastSafe: CivilDate | null;
  /** To begin the method; earlier where there is work before that step. */
  readonly lastStart: CivilDate | null;
  readonly why: Reason;
}

export interface PlanRequest {
  readonly site: Site;
  readonly today: CivilDate;
  readonly method: string | Method;
  readonly colony: Colony;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  readonly wanted?: CivilDate;
  readonly settings?: PlanOverrides;
  readonly season?: SeasonSettings;
  readonly mornings?: MorningOverrides;
  readonly freeWeekdays?: readonly Weekday[];
  readonly keeper?: string;
  readonly club?: string;
  readonly id?: string;
  readonly records?: readonly HiveRecord[];
  readonly fixed?: readonly FixedDate[];
}

/** Name and version of the engine, its requests and its error codes. */
export function about(): About;

/** A bee with all its numbers; `"generic_small"` when not given. */
export function bee(bee?: BeeInput): Bee;

/**
 * Plans as one iCalendar file (RFC 5545) with time zones and alarms. `stamp` is when the file is
 * made, `sequence` one more for each changed version of the plans (0 when not given).
 */
export function calendar(request: {
  readonly plans: readonly Plan[];
  readonly stamp: InstantInput;
  readonly sequence?: number;
  /** Name of the calendar for people. */
  readonly name?: string;
}): { readonly ics: string };

/** A civil day at a site, by its date or as the one that an instant belongs to. */
export function civilDay(
  request:
    | { readonly site: Site; readonly date: CivilDate; readonly instant?: undefined }
    | { readonly site: Site; readonly instant: InstantInput; readonly date?: undefined },
): CivilDay;

/** When a waiting time runs out that starts on a date, or on a range of dates. */
export function clock(request: {
  readonly site: Site;
  readonly wait: Wait;
  readonly after: CivilDate | DateRange;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
}): Clock;

/**
 * Twelve months of what the location alone lets one expect, with their error and their source.
 */
export function defaultClimate(request: {
  readonly site: Site;
  readonly warming?: Warming;
}): DefaultClimate;

/** First and last flight of every civil day of a span. */
export function flight(request: {
  readonly site: Site;
  readonly first: CivilDate;
  readonly last: CivilDate;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  readonly limits?: DayLimitOverrides;
}): FlightDay[];

/** The mornings of a number of days (1 to 60), the best for moving a hive first. */
export function mornings(request: {
  readonly site: Site;
  readonly first: CivilDate;
  readonly days: number;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  readonly freeWeekdays?: readonly Weekday[];
  readonly settings?: MorningOverrides;
}): RankedMorning[];

/** Where the year stands, tomorrow's sun and flight, and the next mornings for a move. */
export function outlook(request: {
  readonly site: Site;
  readonly today: CivilDate;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  readonly season?: SeasonSettings;
  /** How many mornings to rank: 1 to 60; 10 when not given. */
  readonly mornings?: number;
  readonly freeWeekdays?: readonly Weekday[];
  readonly settings?: MorningOverrides;
  /** Weight of the hive that is to be moved, where the keeper knows it. */
  readonly hiveWeightKg?: number;
}): Outlook;

/** Every default number with unit, range and source. */
export function parameters(): Parameter[];

/** How a hive gets from here to there: in stages, by way of a far place, or at once. */
export function relocation(request: {
  readonly site: Site;
  /** The first morning on which work can be done. */
  readonly first: CivilDate;
  /** From here to there: 0.05 to 1000000 m. */
  readonly distanceM: number;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  /** The engine chooses when not given. */
  readonly way?: Way;
  /** By how much the entrance is to be turned in all, clockwise positive. */
  readonly totalTurnDeg?: number;
  /** True where the keeper also moves by lamp, with the entrance closed the evening before. */
  readonly byLamp?: boolean;
  readonly settings?: RelocationOverrides;
  readonly mornings?: MorningOverrides;
  readonly hiveWeightKg?: number;
}): Relocation;

/** The way of a new box from its parent's entrance to a place beside it. */
export function parting(request: {
  readonly site: Site;
  /** When it is set before the entrance. */
  readonly setBefore: CivilDate | DateRange;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  readonly settings?: PartingOverrides;
  /** True where the keeper also moves by lamp, with the entrance closed the evening before. */
  readonly byLamp?: boolean;
  readonly mornings?: MorningOverrides;
  readonly hiveWeightKg?: number;
}): DatedParting;

/** Plans as a table for spreadsheets (RFC 4180), one row a task. */
export function planCsv(request: { readonly plans: readonly Plan[] }): { readonly csv: string };

/** A plan along its dates, as SVG. */
export function planPicture(request: { readonly plan: Plan }): { readonly svg: string };

/** The working windows that touch a span of dates. */
export function season(request: {
  readonly site: Site;
  readonly first: CivilDate;
  readonly last: CivilDate;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  readonly settings?: SeasonSettings;
}): Season;

/**
 * Every sentence of a language, for those who write them with units and dates of their own.
 *
 * A sentence holds `{name}` for the value of that name with its unit, a number with at most two decimals;
 * `{name:1}` for one decimal, `{name:n}` and `{name:1n}` for no unit; `{name|# day|# days}` for a number, the
 * first form for 1 and the second for all others, `#` being the number; and what stands in `[...]` is left
 * out where a value in it is missing.
 */
export function sentences(request?: { readonly language?: "en" }): Sentences;

/** Checks a site and gives it back. */
export function site(site: Site): Site;

/**
 * Sun and twilights of every civil day of a span. With `altitudeDeg` each day also has the
 * `crossing` of that altitude by the sun's centre.
 */
export function sun(request: {
  readonly site: Site;
  readonly first: CivilDate;
  readonly last: CivilDate;
  readonly altitudeDeg?: number;
}): SunDay[];

/** Which crossing of the sun is meant. */
export type SunEvent = "sun" | "civil" | "nautical" | "astronomical" | "altitude";

/** What happened in a row of a {@link SunTable}. */
export type SunTableState =
  | "rises_and_sets"
  | "only_rises"
  | "only_sets"
  | "always_above"
  | "always_below"
  | "no_such_day";

/** Risings and settings in columns, one value for each row. */
export interface SunTable {
  /** What happened: positions in `stateNames`. */
  readonly state: Uint8Array;
  readonly stateNames: readonly SunTableState[];
  /** Upwards, milliseconds of UTC since 1970 (as `Date` counts); NaN where it does not. */
  readonly rise: Float64Array;
  /** Downwards, likewise. */
  readonly set: Float64Array;
}

/** Days since 1970-01-01 in UTC, or dates: one for each row, or one for all. */
export type TableDates =
  | Int32Array
  | readonly (CivilDate | number)[]
  | CivilDate
  | number
  /** The date `first` and those after it, `count` in all. */
  | { readonly first: CivilDate | number; readonly count: number };

/** One number for each row, or one for all. A `Float64Array` is read as it stands. */
export type TableNumbers = number | Float64Array | Float32Array | readonly number[];

/**
 * Rise and set of the sun, or of a twilight, for many pairs of place and date. A number, or an array
 * of one, holds for every row; all other columns are of one length, at most 100,000,000. Rows of the
 * same place are best kept together.
 *
 * An error's `field` has the row, such as `"latitude_deg[3]"`. NaN is out of range. The elevation does
 * not matter to the sun: who looks down on the horizon gives a negative skyline.
 */
export function sunTable(request: {
  /** Degrees north, -90 to 90. */
  readonly latitudeDeg: TableNumbers;
  /** Degrees east, -180 to 180. */
  readonly longitudeDeg: TableNumbers;
  /** 1900-01-01 to 2100-12-31. */
  readonly dates: TableDates;
  /**
   * `"sun"`: the upper edge on the skyline, refraction included (the default); `"civil"`, `"nautical"`,
   * `"astronomical"`: the centre at -6, -12, -18 degrees; `"altitude"`: the centre at `altitudeDeg`.
   */
  readonly event?: SunEvent;
  /** True altitude without refraction, -90 to 90 degrees. */
  readonly altitudeDeg?: number;
  /** Skyline where the sun comes up, -5 to 45 degrees above level. Only `"sun"` looks at it. */
  readonly eastHorizonDeg?: TableNumbers;
  /** The same where it goes down. */
  readonly westHorizonDeg?: TableNumbers;
  /**
   * IANA zone of the dates, one or one for each row. Without it a date is that of mean solar time at
   * the place, which is the date that people there have except near 180 degrees.
   */
  readonly zone?: string | readonly string[];
}): SunTable;

/**
 * The part of the year with a mean of 18 °C (or `thresholdC`) or more, at every crossing of latitudes and
 * longitudes: at most 100,000 places.
 */
export function warmSeasonMap(request: {
  readonly latitudesDeg: ArrayLike<number>;
  readonly longitudesDeg: ArrayLike<number>;
  readonly thresholdC?: number;
  readonly warming?: Warming;
}): WarmSeasonMap;

/** Twelve months at a site, as SVG: windows, temperatures, daylight and flying hours. */
export function yearPicture(request: {
  readonly site: Site;
  /** The day that is marked. */
  readonly today: CivilDate;
  /** First of the twelve months; the first day of today's month when not given. */
  readonly first?: CivilDate;
  /** The last safe date of a plan; it depends on the method. */
  readonly lastSafe?: CivilDate;
  /** Heading, such as club, keeper and hive. */
  readonly title?: string;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  readonly season?: SeasonSettings;
}): { readonly svg: string };

/** The built-in methods, whole: a start for one of your own. */
export function methods(): Method[];

/** A whole dated plan for a new colony. */
export function plan(request: PlanRequest): Plan;

/**
 * Until when a method can be begun so that the new colony stands on its own in time, with every waiting time
 * at its longest.
 */
export function lastSafe(request: {
  readonly site: Site;
  readonly today: CivilDate;
  readonly method: string | Method;
  readonly bee?: BeeInput;
  readonly climate?: ClimateInput;
  readonly settings?: PlanOverrides;
  readonly season?: SeasonSettings;
}): LastSafe;

/** Where a new colony stands by its records, what changes in its plan, and what to do. */
export function review(request: PlanRequest): Review;

/** Answers a request given as JSON text with JSON text, both in the engine's own names. */
export function ask(request: string): string;
