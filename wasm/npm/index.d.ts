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
  /** The value at fault, by its name in the JSON form, such as `"latitude_deg"`. */
  readonly field: string;
}

/** A place where hives stand. */
export interface Site {
  /** Degrees north, -90 to 90 (south is negative). */
  readonly latitudeDeg: number;
  /** Degrees east, -180 to 180 (west is negative). */
  readonly longitudeDeg: number;
  /** Metres above sea level, -500 to 9000. */
  readonly elevationM: number;
  /** IANA time zone of the people who work there. */
  readonly zone: string;
  /** How high hills or trees stand where the sun comes up, -5 to 45 degrees above level. */
  readonly eastHorizonDeg?: number;
  /** The same where it goes down. */
  readonly westHorizonDeg?: number;
}

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

/** Name and version of the engine, its requests and its error codes. */
export function about(): About;

/** Checks a site and gives it back. */
export function site(site: Site): Site;

/** A civil day at a site, by its date or as the one that an instant belongs to. */
export function civilDay(
  request:
    | { readonly site: Site; readonly date: CivilDate; readonly instant?: undefined }
    | { readonly site: Site; readonly instant: InstantInput; readonly date?: undefined },
): CivilDay;

/** Answers a request given as JSON text with JSON text, both in the engine's own names. */
export function ask(request: string): string;
