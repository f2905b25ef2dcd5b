// What the page knows: its shape, its first value, and the check of what comes back from a file.

import { text } from "./text/en.js";

/**
 * @typedef {{date: string, minimumC: number, maximumC: number, rainMm?: number, windMS?: number}} ForecastRow
 * @typedef {{at: string, temperatureC: number, rainMm?: number, windMS?: number, cloudPercent?: number, radiationWM2?: number}} ForecastHour
 * @typedef {{kind: "rows", rows: ForecastRow[], hours?: ForecastHour[]} | {kind: "csv", file: string, text: string}} Forecast
 * @typedef {{about: string, minimumC: number[], maximumC: number[], rainMm?: number[], wetDays?: number[]}} Normals
 * @typedef {{
 *   kind: "distance" | "parting", first: string, weightKg?: number, numbers: Record<string, number>,
 *   distanceM?: number, turnDeg?: number, way?: string, farStay?: string,
 * }} Move what is to be moved: a hive over a distance, or a new box that is set before its parent on `first`
 * @typedef {{
 *   id: string, name: string,
 *   latitudeDeg: number, longitudeDeg: number, elevationM: number, elevationIsFound?: true, zone: string,
 *   eastHorizonDeg: number, westHorizonDeg: number,
 *   bee: string, beeNumbers: Record<string, number>, morningNumbers: Record<string, number>,
 *   freeWeekdays: string[], season: {chance?: number, barWettestMonths?: number, mostWetDays?: number},
 *   forecast: Forecast | null, normals: Normals | null,
 * }} Place
 * @typedef {{kind: string, which?: string}} Sign
 * @typedef {{date: string, task?: string, signs?: Sign[], netWeightKg?: number, note?: string}} HiveRecord
 * @typedef {{
 *   id: string, placeId: string, method: string, move?: Move, calendarId?: string, sequence: number,
 *   colony: {name: string, daughterName?: string, netWeightKg?: number, monthsSinceDivision?: number, strength?: string},
 *   choices: Record<string, string>, numbers: Record<string, number>, wanted?: string,
 *   records: HiveRecord[], fixed: {task: string, date: string}[],
 *   seen: Record<string, string>,
 * }} PlanEntry a new colony, or with `move` a hive on the move
 * @typedef {{
 *   version: 1, keep: boolean, display: import("./units.js").Display,
 *   places: Place[], placeId: string | null, plans: PlanEntry[], planId: string | null,
 * }} State
 */

/** @returns {State} */
export const firstState = () => ({
  version: 1,
  keep: false,
  display: { temperature: "c", length: "m", theme: "auto" },
  places: [],
  placeId: null,
  plans: [],
  planId: null,
});

/** @returns {Omit<Place, "id" | "name" | "latitudeDeg" | "longitudeDeg" | "elevationM" | "zone">} */
export const firstPlaceSettings = () => ({
  eastHorizonDeg: 0,
  westHorizonDeg: 0,
  bee: "generic_small",
  beeNumbers: {},
  morningNumbers: {},
  freeWeekdays: [],
  season: {},
  forecast: null,
  normals: null,
});

/** @returns {Omit<PlanEntry, "id" | "placeId" | "method" | "colony">} */
export const firstPlanSettings = () => ({ sequence: 0, choices: {}, numbers: {}, records: [], fixed: [], seen: {} });

/** An id that no other thing in a list has. @param {string} word @param {{id: string}[]} others */
export function freeId(word, others) {
  let n = 1;
  while (others.some(({ id }) => id === `${word}-${n}`)) n += 1;
  return `${word}-${n}`;
}

const string = "string";
const number = "number";
/** @param {any} of */
const maybe = (of) => ({ maybe: of });
/** @param {any} of */
const list = (of) => ({ list: of });
/** @param {any} of */
const record = (of) => ({ record: of });
/** @param {...any} of */
const either = (...of) => ({ either: of });
/** @param {...any} words */
const words = (...words) => ({ words });
/** @param {number} low @param {number} high */
const within = (low, high) => ({ within: [low, high] });
/** A date that there is. */
const day = { day: true };

const row = { date: day, minimumC: number, maximumC: number, rainMm: maybe(number), windMS: maybe(number) };
const hour = { at: string, temperatureC: number, rainMm: maybe(number), windMS: maybe(number), cloudPercent: maybe(number), radiationWM2: maybe(number) };
const move = {
  kind: words("distance", "parting"), first: day, weightKg: maybe(number), numbers: record(number),
  distanceM: maybe(number), turnDeg: maybe(number), way: maybe(string), farStay: maybe(string),
};
const place = {
  id: string, name: string, latitudeDeg: within(-90, 90), longitudeDeg: within(-180, 180), elevationM: within(-500, 9000), elevationIsFound: maybe(words(true)), zone: string,
  eastHorizonDeg: number, westHorizonDeg: number, bee: string, beeNumbers: record(number),
  morningNumbers: record(number), freeWeekdays: list(string),
  season: { chance: maybe(number), barWettestMonths: maybe(number), mostWetDays: maybe(number) },
  forecast: either(null, { kind: words("rows"), rows: list(row), hours: maybe(list(hour)) }, { kind: words("csv"), file: string, text: string }),
  normals: either(null, { about: string, minimumC: list(number), maximumC: list(number), rainMm: maybe(list(number)), wetDays: maybe(list(number)) }),
};
const plan = {
  id: string, placeId: string, method: string, move: maybe(move), calendarId: maybe(string), sequence: within(0, 2 ** 31 - 1),
  colony: {
    name: string, daughterName: maybe(string), netWeightKg: maybe(number),
    monthsSinceDivision: maybe(number), strength: maybe(string),
  },
  choices: record(string), numbers: record(number), wanted: maybe(day),
  records: list({
    date: day, task: maybe(string), signs: maybe(list({ kind: string, which: maybe(string) })),
    netWeightKg: maybe(number), note: maybe(string),
  }),
  fixed: list({ task: string, date: day }), seen: record(string),
};
const shape = {
  version: words(1), keep: words(true, false),
  display: { temperature: words("c", "f"), length: words("m", "ft"), theme: words("auto", "dark", "light") },
  places: list(place), placeId: either(null, string), plans: list(plan), planId: either(null, string),
};

/**
 * The place of the first thing in a value that is not as it should be, or null. Keys that this page does not
 * know may be those of a later one: they are carried along.
 * @param {any} value @param {any} wanted @param {string} where @returns {string | null}
 */
function fault(value, wanted, where) {
  if (wanted === null) return value === null ? null : where;
  if (typeof wanted === "string") {
    return typeof value === wanted && (wanted !== number || Number.isFinite(value)) ? null : where;
  }
  if (wanted.within) return typeof value === number && value >= wanted.within[0] && value <= wanted.within[1] ? null : where;
  if (wanted.day) return isDate(value) ? null : where;
  if (wanted.words) return wanted.words.includes(value) ? null : where;
  if (wanted.either) return wanted.either.some((/** @type {any} */ one) => fault(value, one, where) === null) ? null : where;
  if (wanted.maybe) return value === undefined ? null : fault(value, wanted.maybe, where);
  if (wanted.list) {
    if (!Array.isArray(value)) return where;
    for (const [i, item] of value.entries()) {
      const wrong = fault(item, wanted.list, `${where}[${i}]`);
      if (wrong) return wrong;
    }
    return null;
  }
  if (value === null || typeof value !== "object" || Array.isArray(value)) return where;
  if (wanted.record) {
    for (const [key, item] of Object.entries(value)) {
      const wrong = fault(item, wanted.record, `${where}.${key}`);
      if (wrong) return wrong;
    }
    return null;
  }
  for (const [key, of] of Object.entries(wanted)) {
    const wrong = fault(Object.hasOwn(value, key) ? value[key] : undefined, of, where === "" ? key : `${where}.${key}`);
    if (wrong) return wrong;
  }
  return null;
}

/** @param {any} value */
function isDate(value) {
  if (typeof value !== string || !/^\d{4}-\d\d-\d\d$/.test(value)) return false;
  const date = new Date(`${value}T00:00:00Z`);
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(value);
}

/** A value without the keys that are not in its shape. @param {any} value @param {any} wanted @returns {any} */
function known(value, wanted) {
  if (value === null || typeof value !== "object" || wanted === null || wanted.record) return value;
  if (wanted.maybe) return known(value, wanted.maybe);
  if (wanted.either) return known(value, wanted.either.find((/** @type {any} */ one) => fault(value, one, "-") === null) ?? null);
  if (Array.isArray(value)) return value.map((item) => known(item, wanted.list));
  return Object.fromEntries(Object.entries(value).flatMap(([key, item]) => (Object.hasOwn(wanted, key) ? [[key, known(item, wanted[key])]] : [])));
}

/** As far as this page knows it: the engine refuses fields that it does not know. @template {Place} T @param {T} value @returns {T} */
export const knownPlace = (value) => known(value, place);
/** @template {PlanEntry} T @param {T} value @returns {T} */
export const knownPlan = (value) => known(value, plan);

/**
 * What other file of this page a text is, or null: each of them is saved beside the page's own.
 * @param {string} text @returns {"plan" | "calendar" | "table" | null}
 */
export function otherFile(text) {
  if (/^\ufeff?BEGIN:VCALENDAR/.test(text)) return "calendar";
  try {
    const value = JSON.parse(text);
    const [first] = Array.isArray(value) ? value : [value];
    return Array.isArray(first?.tasks) ? "plan" : null;
  } catch {
    return /^\ufeff?[\w ]+([,;\t][\w ]+)+\r?\n/.test(text) ? "table" : null;
  }
}

/**
 * The state in a text, or where the text is wrong.
 * @param {string} text
 * @returns {{state: State} | {wrong: string}}
 */
export function readState(text) {
  let value;
  try {
    value = JSON.parse(text);
  } catch {
    return { wrong: "JSON" };
  }
  const wrong = fault(value, shape, "");
  if (wrong !== null) return { wrong: wrong || "{}" };
  /** @type {State} */
  const state = value;
  for (const { places, id, name } of [
    { places: state.places, id: state.placeId, name: "placeId" },
    { places: state.plans, id: state.planId, name: "planId" },
  ]) {
    if (id !== null && !places.some((one) => one.id === id)) return { wrong: name };
  }
  for (const [name, all] of Object.entries({ places: state.places, plans: state.plans })) {
    const twice = all.findIndex(({ id }, at) => all.findIndex((one) => one.id === id) < at);
    if (twice >= 0) return { wrong: `${name}[${twice}].id` };
  }
  const orphan = state.plans.findIndex((one) => !state.places.some(({ id }) => id === one.placeId));
  if (orphan >= 0) return { wrong: `plans[${orphan}].placeId` };
  if (state.places.length > 0 && state.placeId === null) return { wrong: "placeId" };
  return movesOf(state);
}

/** Before moves were plans, a place had one of its own. @param {State} state @returns {{state: State} | {wrong: string}} */
function movesOf(state) {
  for (const [i, one] of state.places.entries()) {
    const { move: old, ...place } = /** @type {Place & {move?: any}} */ (one);
    if (old === undefined) continue;
    const wrong = fault(old, move, `places[${i}].move`);
    if (wrong) return { wrong };
    state.plans.push(planOfMove({ id: freeId("plan", state.plans), placeId: place.id, name: text.move.hiveShort, move: known(old, move) }));
    state.places[i] = place;
  }
  return { state };
}

/** The plan of a move. @param {{id: string, placeId: string, name: string, move: Move}} of @returns {PlanEntry} */
export const planOfMove = ({ id, placeId, name, move }) => ({
  ...firstPlanSettings(), id, placeId, method: move.kind === "parting" ? "parting" : "move", move, colony: { name },
});
