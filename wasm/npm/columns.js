// Columns in, columns out: what is given becomes typed arrays, and the engine fills others.

import { checkZone, sunRows } from "./engine.js";
import { ApiaryError, refusing } from "./error.js";
import { typedArray } from "./values.js";

// Rows that go to the engine at once: its memory grows by what they need and never shrinks.
const BLOCK = 1 << 16;
const MOST_ROWS = 100_000_000;
const DAY_MS = 86_400_000;
const LAST_INT = 2 ** 31 - 1;
const DATES = 'days since 1970-01-01, or "YYYY-MM-DD"';
const STATE_NAMES = Object.freeze([
  "rises_and_sets",
  "only_rises",
  "only_sets",
  "always_above",
  "always_below",
  "no_such_day",
]);
const NAMES = [
  "latitudeDeg",
  "longitudeDeg",
  "dates",
  "event",
  "altitudeDeg",
  "eastHorizonDeg",
  "westHorizonDeg",
  "zone",
];

export function sunTable(request) {
  for (const name of Object.keys(request ?? {})) {
    if (!NAMES.includes(name)) throw unreadable(name, "is not known", NAMES.join(", "));
  }
  const { latitudeDeg, longitudeDeg, dates, eastHorizonDeg, westHorizonDeg } = request ?? {};
  const { altitudeDeg, zone, event = altitudeDeg === undefined ? "sun" : "altitude" } = request ?? {};
  if (typeof event !== "string") throw unreadable("event", `is ${short(event)}`, "a name");
  if (altitudeDeg !== undefined && typeof altitudeDeg !== "number") {
    throw unreadable("altitude_deg", `is ${short(altitudeDeg)}`, "a number");
  }
  const { names, index } = zonesOf(zone);
  const columns = {
    latitude_deg: numbers("latitude_deg", latitudeDeg),
    longitude_deg: numbers("longitude_deg", longitudeDeg),
    east_horizon_deg: numbers("east_horizon_deg", eastHorizonDeg ?? 0),
    west_horizon_deg: numbers("west_horizon_deg", westHorizonDeg ?? 0),
    zone: index,
    dates: days(dates),
  };
  const rows = rowsOf(columns);
  const span = spanOf(columns.dates);
  const state = new Uint8Array(rows);
  const rise = new Float64Array(rows);
  const set = new Float64Array(rows);
  let from = 0;
  // Once at least: without a row the engine still has to refuse what it does not accept.
  do {
    const block = (column) => (column.length === 1 ? column : column.subarray(from, from + BLOCK));
    refusing(() =>
      sunRows(
        block(columns.latitude_deg),
        block(columns.longitude_deg),
        block(columns.east_horizon_deg),
        block(columns.west_horizon_deg),
        names.join("\n"),
        block(columns.zone),
        block(columns.dates),
        span.first,
        span.last,
        event,
        altitudeDeg,
        from,
        block(state),
        block(rise),
        block(set),
      ),
    );
    from += BLOCK;
  } while (from < rows);
  return { state, stateNames: STATE_NAMES, rise, set };
}

function spanOf(dates) {
  let first = dates[0] ?? 0;
  let last = first;
  for (const day of dates) {
    if (day < first) first = day;
    if (day > last) last = day;
  }
  return { first, last };
}

/** How many rows the columns have together; one value holds for every row. */
function rowsOf(columns) {
  const lengths = Object.values(columns).map((column) => column.length);
  const rows = lengths.includes(0) ? 0 : Math.max(...lengths);
  for (const [field, column] of Object.entries(columns)) {
    checkLength(field, column);
    const { length } = column;
    if (length !== 1 && length !== rows) {
      const problem = `${length} values for ${rows} rows; give one, or one for each row`;
      throw new ApiaryError({ code: "inconsistent", field, message: `${field}: ${problem}` });
    }
  }
  return rows;
}

function numbers(field, value) {
  if (typeof value === "number") return Float64Array.of(value);
  const given = list(field, value, "a number, or an array of numbers");
  if (given instanceof Float64Array) return given;
  return filled(Float64Array, given, (number, at) => {
    if (typeof number === "number") return number;
    throw unreadable(`${field}[${at}]`, `is ${short(number)}`, "a number");
  });
}

/** Days since 1970-01-01. */
function days(value) {
  if (typeof value === "number" || typeof value === "string") return Int32Array.of(day(value, "dates"));
  const first = value !== null && typeof value === "object" && !isList(value) && "first" in value;
  if (first) return daysFrom(value);
  const given = list("dates", value, `${DATES}, an array of them, or { first, count }`);
  if (given instanceof Int32Array) return given;
  return filled(Int32Array, given, (date, at) => day(date, `dates[${at}]`));
}

function daysFrom({ first, count, ...rest }) {
  const from = day(first, "dates.first");
  const [unknown] = Object.keys(rest);
  if (unknown !== undefined) throw unreadable(`dates.${unknown}`, "is not known", "first, count");
  if (!Number.isInteger(count) || count < 0) {
    throw unreadable("dates.count", `is ${short(count)}`, "a whole number of days");
  }
  // The engine refuses the first date that is too late, long before these are at an end.
  return Int32Array.from({ length: Math.min(count, 100_000) }, (_, at) => Math.min(from + at, LAST_INT));
}

function day(date, field) {
  if (Number.isInteger(date)) return Math.max(-LAST_INT, Math.min(date, LAST_INT));
  const ms = typeof date === "string" && /^\d{4}-\d\d-\d\d$/.test(date) ? Date.parse(`${date}T00:00Z`) : NaN;
  // Some engines of JavaScript read 30 February as 2 March.
  if (Number.isNaN(ms) || new Date(ms).toISOString().slice(0, 10) !== date) {
    throw unreadable(field, `is ${short(date)}`, DATES);
  }
  return ms / DAY_MS;
}

/** The different zones, and for each row the position of its own. */
function zonesOf(value) {
  if (value === undefined) return { names: [], index: new Uint16Array(1) };
  const given = typeof value === "string" ? [value] : list("zone", value, "a name, or an array of names");
  const known = new Map();
  const index = filled(Uint16Array, given, (name, at) => {
    if (!known.has(name)) {
      const field = typeof value === "string" ? "zone" : `zone[${at}]`;
      if (typeof name !== "string") throw unreadable(field, `is ${short(name)}`, "a name");
      check(name, field);
      known.set(name, known.size);
    }
    return known.get(name);
  });
  return { names: [...known.keys()], index };
}

function check(zone, field) {
  try {
    refusing(() => checkZone(zone));
  } catch (error) {
    if (!(error instanceof ApiaryError)) throw error;
    throw new ApiaryError({ code: error.code, field, message: error.message });
  }
}

const isList = (value) => Array.isArray(value) || typedArray(value) !== undefined;

/** An array, typed or not. */
function list(field, value, allowed) {
  const given = Array.isArray(value) ? value : typedArray(value);
  if (given === undefined) throw unreadable(field, `is ${short(value)}`, allowed);
  checkLength(field, given);
  return given;
}

/** One value for each of a list's, by its length and not by what it says when it is iterated. */
function filled(Kind, given, one) {
  const values = new Kind(given.length);
  for (let at = 0; at < values.length; at += 1) values[at] = one(given[at], at);
  return values;
}

/** Before anything is made of it: a list may say that it has any number of values. */
function checkLength(field, { length }) {
  if (length >= 0 && length <= MOST_ROWS) return;
  const message = `${field} has ${length} values; at most ${MOST_ROWS} can be read`;
  throw new ApiaryError({ code: "too_large", field, message });
}

function unreadable(field, problem, allowed) {
  return new ApiaryError({
    code: "unreadable",
    field,
    message: `${field} ${problem}; allowed is ${allowed}`,
  });
}

/** A value in an error's message. */
function short(value) {
  if (value === null || typeof value === "object") {
    return Array.isArray(value) ? "an array" : value === null ? "null" : "an object";
  }
  const text = typeof value === "string" ? JSON.stringify(value) : String(value);
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}
