/**
 * Sun, light, temperature, flight times and working windows for keepers of stingless bees.
 *
 * Units stand in the names. Dates go in and come out as `"YYYY-MM-DD"`; moments come out as ISO
 * strings with the offset of the site, which `new Date(...)` reads. Every function throws
 * {@link ApiaryError} for what the engine does not accept.
 */

import type {
  About,
  Agenda,
  AgendaRequest,
  Bee,
  BeeName,
  BeeOverrides,
  CalendarRequest,
  CalendarText,
  CheckedPlace,
  CivilDate,
  CivilDay,
  CivilDayRequest,
  Clock,
  ClockRequest,
  CoordinatesReading,
  CoordinatesRequest,
  DateAnswer,
  DateState,
  DatedParting,
  DefaultClimate,
  DefaultClimateRequest,
  ErrorCode,
  FlightDay,
  FlightRequest,
  ForecastReading,
  ForecastRequest,
  FoundTowns,
  InstantInput,
  LastSafe,
  LastSafeRequest,
  Method,
  MonthlyNormals,
  MorningsCalendar,
  MorningsCalendarRequest,
  MorningsRequest,
  NearTowns,
  NormalsRequest,
  Outlook,
  OutlookRequest,
  Parameter,
  PartingRequest,
  Picture,
  Plan,
  PlanCsvRequest,
  PlanPictureRequest,
  PlanRequest,
  Poster,
  PosterRequest,
  RankedMorning,
  Record,
  Relocation,
  RelocationRequest,
  Review,
  Season,
  SeasonRequest,
  Sentences,
  SentencesRequest,
  Site,
  SiteRequest,
  SunDayAndCrossing,
  SunRequest,
  TableText,
  Together,
  TogetherRequest,
  TownsNearRequest,
  TownsRequest,
  WarmSeasonMap,
  WarmSeasonMapRequest,
  WhyNotRequest,
  YearCalendar,
  YearCalendarRequest,
  YearPicture,
  YearRequest,
} from "./types.d.ts";

export type * from "./types.d.ts";

/** What the engine can be started from. */
export type EngineSource =
  | string
  | URL
  | Request
  | Response
  | ArrayBuffer
  | ArrayBufferView
  | WebAssembly.Module
  /** What `import("apiary-almanac/wasm")` gives. */
  | { readonly default: string | ArrayBufferView | WebAssembly.Module };

/**
 * Starts the engine; without a source, from the file beside the module, or from within it in
 * `apiary-almanac/inline`. However often it is called, the engine starts once; a start that failed can be
 * tried again. Node, Deno, Bun and workers at the edge need no call: the first question starts it.
 *
 * Throws what went wrong while the engine was fetched or compiled, and a `TypeError` for a source that is
 * none of these.
 */
export function init(source?: EngineSource | Promise<EngineSource>): Promise<void>;

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

/** A built-in bee by name, or a user's own. */
export type BeeInput = BeeName | (string & {}) | BeeOverrides;

/** What was done and seen on a day, by a name that does not hide TypeScript's `Record`. */
export type HiveRecord = Record;

/** Name and version of the engine, its requests and its error codes. */
export function about(): About;

/** A bee with all its numbers; `"generic_small"` when not given. */
export function bee(bee?: BeeInput): Bee;

/**
 * Plans as one iCalendar file (RFC 5545) with time zones and alarms. `stamp` is when the file is
 * made, `sequence` one more for each changed version of the plans (0 when not given).
 */
export function calendar(request: CalendarRequest): CalendarText;

/** A civil day at a site, by its date or as the one that an instant belongs to. */
export function civilDay(
  request: CivilDayRequest &
    (
      | { readonly date: CivilDate; readonly instant?: undefined }
      | { readonly instant: InstantInput; readonly date?: undefined }
    ),
): CivilDay;

/** When a waiting time runs out that starts on a date, or on a range of dates. */
export function clock(request: ClockRequest): Clock;

/**
 * Twelve months of what the location alone lets one expect, with their error and their source.
 */
export function defaultClimate(request: DefaultClimateRequest): DefaultClimate;

/** First and last flight of every civil day of a span. */
export function flight(request: FlightRequest): FlightDay[];

/** The mornings of a number of days (1 to 60), the best for moving a hive first. */
export function mornings(request: MorningsRequest): RankedMorning[];

/**
 * The mornings on which a hive can be moved as one iCalendar file (RFC 5545): one event for each whose verdict is
 * `go` or `careful`, with alarms on the evening before and half an hour before the move. `mornings` are those of
 * {@link mornings} or of an outlook; with `before` only what changed gets a new version.
 */
export function morningsCalendar(request: MorningsCalendarRequest): MorningsCalendar;

/** Where the year stands, tomorrow's sun and flight, and the next mornings for a move. */
export function outlook(request: OutlookRequest): Outlook;

/** Every default number with unit, range and source. */
export function parameters(): Parameter[];

/** How a hive gets from here to there: in stages, by way of a far place, or at once. */
export function relocation(request: RelocationRequest): Relocation;

/** The way of a new box from its parent's entrance to a place beside it. */
export function parting(request: PartingRequest): DatedParting;

/** Whether a site can be meant: land or sea, its height and its zone against the land. */
export function place(request: SiteRequest): CheckedPlace;

/**
 * Which place a text means, in the ways in which people write and send coordinates. Where it can mean several, the
 * likeliest stands first and there is a question.
 */
export function readCoordinates(request: CoordinatesRequest): CoordinatesReading;

/** What a forecast says, as it was copied from a page, a message or a service; nothing is guessed. */
export function readForecast(request: ForecastRequest): ForecastReading;

/** Twelve monthly normals as they were copied from a weather service's page, with rain and wet days where they stand there. */
export function readNormals(request: NormalsRequest): MonthlyNormals;

/** Plans as a table for spreadsheets (RFC 4180), one row a task. */
export function planCsv(request: PlanCsvRequest): TableText;

/** A plan along its dates, as SVG. */
export function planPicture(request: PlanPictureRequest): Picture;

/** Sheets of A4 for the wall, as SVG: the dates of plans with boxes to tick, or those of a year at places. */
export function poster(request: PosterRequest): Poster;

/** The working windows that touch a span of dates. */
export function season(request: SeasonRequest): Season;

/**
 * Every sentence of a language, for those who write them with units and dates of their own.
 *
 * A sentence holds `{name}` for the value of that name with its unit, a number with at most two decimals;
 * `{name:1}` for one decimal, `{name:n}` and `{name:1n}` for no unit, of a moment no day; `{name|# day|# days}`
 * for a number, the first form for 1 and the second for all others, `#` being the number; and what stands in
 * `[...]` is left out where a value in it is missing. The source “common practice, no source” has a word of
 * its own.
 */
export function sentences(request?: SentencesRequest): Sentences;

/** Checks a site and gives it back. */
export function site(site: Site): Site;

/**
 * Sun and twilights of every civil day of a span. With `altitudeDeg` each day also has the
 * `crossing` of that altitude by the sun's centre.
 */
export function sun(request: SunRequest): SunDayAndCrossing[];

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
 * The towns that a name can mean, with their sites. `list` is the text of the package's file `towns.txt` (GeoNames,
 * CC BY 4.0), which a page fetches when it is wanted.
 */
export function towns(request: TownsRequest): FoundTowns;

/**
 * The towns within 50 km of a place, the nearest first, and the zone that all of them have: left out where there are
 * none and where they differ. `list` as in `towns`.
 */
export function townsNear(request: TownsNearRequest): NearTowns;

/**
 * The part of the year with a mean of 18 °C (or `thresholdC`) or more, at every crossing of latitudes and
 * longitudes: at most 100,000 places.
 */
export function warmSeasonMap(request: WarmSeasonMapRequest): WarmSeasonMap;

/** Twelve months at a site, as SVG: windows, temperatures, daylight and flying hours. */
export function yearPicture(request: YearRequest): YearPicture;

/** The built-in methods, whole: a start for one of your own. */
export function methods(): Method[];

/** A whole dated plan for a new colony. */
export function plan(request: PlanRequest): Plan;

/**
 * Until when a method can be begun so that the new colony stands on its own in time, with every waiting time
 * at its longest.
 */
export function lastSafe(request: LastSafeRequest): LastSafe;

/** The first reason why a task of a plan is not on a date; `reason` is `null` where it is. */
export function whyNot(request: WhyNotRequest): DateAnswer;

/** Where a new colony stands by its records, what changes in its plan, and what to do. */
export function review(request: PlanRequest): Review;

/**
 * Plans of one keeper, or of people who work together, scheduled under limits that they share: no day has more
 * openings or moves than these allow, and the starts are spread over the season. `starts` says why each is where it is.
 */
export function plansTogether(request: TogetherRequest): Together;

/** What is to be done today, next and later, what only if, and what was never said, over any number of colonies. */
export function agenda(request: AgendaRequest): Agenda;

/**
 * The dates of a year at places, without any hive: the season, last safe days, heat and dawns, with the calendar
 * and the table made of them.
 */
export function yearCalendar(request: YearCalendarRequest): YearCalendar;

/** Answers a request given as JSON text with JSON text, both in the engine's own names. */
export function ask(request: string): string;

/** What `tomorrow` can be told beside the site: `now`, if it is not this moment, and all that `mornings` takes. */
export type TomorrowOptions = Omit<MorningsRequest, "site" | "first" | "days"> & { readonly now?: Date };

/** Tomorrow's morning for a move at a site, with what speaks for it and against it. */
export function tomorrow(site: Site, options?: TomorrowOptions): RankedMorning;

/** What `seasonNow` can be told beside the site: `now`, if it is not this moment, and all that `season` takes. */
export type SeasonNowOptions = Omit<SeasonRequest, "site" | "first" | "last"> & { readonly now?: Date };

/** Where the year stands for dividing colonies. */
export interface SeasonNow {
  /** The date at the site. */
  readonly today: CivilDate;
  /** What today is: good, at risk or closed. */
  readonly state: DateState;
  /** The last day of which that holds; `null` where it does for the whole year. */
  readonly until: CivilDate | null;
  /** The year from today. */
  readonly season: Season;
}

/** Whether today is good for dividing colonies at a site, at risk or closed, and until when that holds. */
export function seasonNow(site: Site, options?: SeasonNowOptions): SeasonNow;

/**
 * A plan as the address of an iCalendar file, for the `href` of a link with a `download`. It holds the file
 * itself. `stamp` is this moment when not given.
 */
export function icsLink(plan: Plan, options?: { readonly stamp?: InstantInput; readonly sequence?: number }): string;
