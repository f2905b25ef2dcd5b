// The calls to the engine that the views make, from what the page knows.

import * as almanac from "./apiary-almanac/index.js";
import { knownPlace, knownPlan } from "./state.js";
import { text } from "./text/en.js";

/** @typedef {import("./state.js").Place} Place */
/** @typedef {import("./state.js").PlanEntry} PlanEntry */
/** @typedef {import("./apiary-almanac/index.js").Plan} Plan */

export const ApiaryError = almanac.ApiaryError;

let ready = false;
/** Whether the engine can be asked. */
export const isReady = () => ready;
let tellReady = () => {};
/** Done once it can. @type {Promise<void>} */
export const whenReady = new Promise((done) => { tellReady = done; });

/** A network that gives nothing for so long gives nothing. */
const STALLED_MS = 30_000;

/**
 * Fetches and starts the engine; throws where that fails, and may then be called again.
 * @param {(bytes: number) => void} came told how many bytes have come so far
 */
export async function start(came) {
  const stop = new AbortController();
  let stalled = setTimeout(() => stop.abort(), STALLED_MS);
  let bytes = 0;
  const watch = new TransformStream({
    transform(part, out) {
      bytes += part.byteLength;
      clearTimeout(stalled);
      stalled = setTimeout(() => stop.abort(), STALLED_MS);
      came(bytes);
      out.enqueue(part);
    },
  });
  try {
    const answer = await fetch(document.documentElement.dataset.engine ?? "", { signal: stop.signal });
    if (!answer.ok || !answer.body) throw new Error(`${answer.status} ${answer.statusText}`);
    // Out of the offline copy it is here at once, and the browser has it compiled.
    const isHere = navigator.serviceWorker?.controller;
    await almanac.init(isHere ? answer : new Response(answer.body.pipeThrough(watch), { headers: { "content-type": "application/wasm" } }));
    ready = true;
    tellReady();
  } finally {
    clearTimeout(stalled);
  }
}

/** Asked for once, and only when a view needs it. @template T @param {() => T} make */
function once(make) {
  /** @type {T | undefined} */
  let made;
  return () => (made ??= make());
}
export const version = once(() => almanac.about().version);
export const methods = once(almanac.methods);
/** The sentences of the engine. */
export const catalogue = once(() => almanac.sentences({ language: "en" }));
const wordsOf = once(() => new Map(catalogue().words.map(({ name, word }) => [name, word])));
/** A word of the engine's sentences. @param {string} name */
export const word = (name) => wordsOf().get(name) ?? "";
export const parameters = once(almanac.parameters);
/** The numbers of a group that a keeper can set. @param {string} wanted */
export const settable = (wanted) => parameters().filter(({ group, number }) => group === wanted && number.lowest < number.highest);

/** Names of the built-in bees, generic ones first. */
export const beeNames = once(() => almanac.about().bees);

/** @param {Place} place */
export const siteOf = ({ latitudeDeg, longitudeDeg, elevationM, elevationIsFound, zone, eastHorizonDeg, westHorizonDeg }) => ({
  latitudeDeg, longitudeDeg, zone, eastHorizonDeg, westHorizonDeg,
  // Then the engine takes that of the land, and says so.
  ...(elevationIsFound ? {} : { elevationM }),
});

/** @param {Place} place */
export const beeOf = ({ bee, beeNumbers }) =>
  Object.keys(beeNumbers).length > 0 ? { basedOn: bee, ...beeNumbers } : bee;

/** @param {Place} place */
export function climateOf(place) {
  const { forecast, normals } = knownPlace(place);
  return {
    ...(normals ? { normals } : {}),
    ...(forecast?.kind === "rows" ? { forecast: forecast.rows, ...(forecast.hours ? { hours: forecast.hours } : {}) } : {}),
    ...(forecast?.kind === "csv" ? { forecastCsv: { file: forecast.file, text: forecast.text } } : {}),
  };
}

/** @param {Place} place */
const seasonOf = (place) => knownPlace(place).season;

/** @param {Place} place */
const common = (place) => ({ site: siteOf(place), bee: beeOf(place), climate: climateOf(place) });

/** Throws for a place that the engine does not accept. @param {Place} place */
export const checkSite = (place) => almanac.site(siteOf(place));
/** What a pasted forecast says. @param {Place} place @param {string} today @param {string} given @param {string} file @param {Record<string, string>} answers */
export const readForecast = (place, today, given, file, answers) =>
  almanac.readForecast({ site: siteOf(place), today, text: given, file, answers });
/** Which place a text with coordinates can mean. @param {string} given */
export const readCoordinates = (given) => almanac.readCoordinates({ text: given });
/** Twelve pasted months. @param {string} given @param {string} file */
export const readNormals = (given, file) => almanac.readNormals({ text: given, file });
/** The towns that a name can mean. @param {string} list @param {string} name */
export const towns = (list, name) => almanac.towns({ list, name });
/** What to look at again in a place. @param {Place} place */
export const doubts = (place) => almanac.place({ site: siteOf(place) }).doubts;
/** The height that the engine takes where none is given: that of the land around, m. @param {{latitudeDeg: number, longitudeDeg: number}} position */
export const landElevation = ({ latitudeDeg, longitudeDeg }) =>
  Number(almanac.place({ site: { latitudeDeg, longitudeDeg, zone: "UTC" } }).site.elevationM);
/** Throws for numbers that the engine does not accept. @param {Place} place */
export const bee = (place) => almanac.bee(beeOf(place));

/** The date at a place. @param {Place} place @param {Date} now */
export const dateAt = (place, now) => almanac.civilDay({ site: siteOf(place), instant: now }).date;

/**
 * Today's morning, the next ten, ranked, and all that belongs to them.
 * @param {Place} place @param {string} today
 */
export function outlook(place, today) {
  const request = {
    ...common(place),
    freeWeekdays: /** @type {any} */ (place.freeWeekdays),
    settings: place.morningNumbers,
  };
  const answer = almanac.outlook({ ...request, today, season: seasonOf(place) });
  const [current] = almanac.mornings({ ...request, first: today, days: 1 });
  return { ...answer, current };
}

/** Wet days of the months by what is built in. @param {Place} place */
export const wetDays = (place) => almanac.defaultClimate({ site: siteOf(place) }).wetDays;
/** Rain and wet days of the months: those of the place's own normals, or what is built in. @param {Place} place */
export function rainOf(place) {
  if (place.normals) return place.normals;
  const { rainMm, wetDays: wet } = almanac.defaultClimate({ site: siteOf(place) });
  return { rainMm, wetDays: wet?.days };
}

/** @param {Place} place @param {string} today @param {string} [lastSafe] @param {string} [title] */
export const yearPicture = (place, today, lastSafe, title) =>
  almanac.yearPicture({
    ...common(place), today, season: seasonOf(place),
    ...(lastSafe ? { lastSafe } : {}),
    ...(title ? { title } : {}),
  }).svg;

/** @param {Place} place @param {string} first @param {string} last */
export const season = (place, first, last) =>
  almanac.season({ ...common(place), first, last, settings: seasonOf(place) });

/** @param {Place} place @param {PlanEntry} entry @param {string} today */
const planRequest = (place, entry, today) => {
  const { method, move, colony, choices, numbers, records, fixed, seen, wanted, calendarId } = knownPlan(entry);
  return {
    ...common(place),
    today,
    method: /** @type {any} */ (move ? moved(move) : method),
    colony: /** @type {any} */ (colony),
    season: seasonOf(place),
    mornings: place.morningNumbers,
    freeWeekdays: /** @type {any} */ (place.freeWeekdays),
    ...(move ? { wanted: move.first } : { settings: { choices, ...numbers } }),
    ...(move?.weightKg === undefined ? {} : { hiveWeightKg: move.weightKg }),
    records: /** @type {any} */ (records),
    fixed,
    announced: Object.entries(seen).map(([task, date]) => ({ task, date })),
    ...(wanted ? { wanted } : {}),
    ...(calendarId ? { id: calendarId } : {}),
  };
};

/** A plan and where it stands. @param {Place} place @param {PlanEntry} entry @param {string} today */
export const review = (place, entry, today) => withAnnounced(entry, (known) => almanac.review(planRequest(place, known, today)));

/**
 * Asks with the dates that the keeper has seen: they stay unless weather, records or a rule forbid them. An engine
 * that names its tasks otherwise does not know them any more; then it is asked without.
 * @template T @param {PlanEntry} entry @param {(known: PlanEntry) => T} ask
 */
function withAnnounced(entry, ask) {
  try {
    return ask(entry);
  } catch (error) {
    if (!(error instanceof ApiaryError) || !/(^|\.)announced/.test(error.field)) throw error;
    return ask({ ...entry, seen: {} });
  }
}

/**
 * What there is to do by plans of several places, under the ids of the page, and the plans that the engine refuses.
 * @param {{place: Place, entry: PlanEntry, today: string}[]} asked
 */
export function agenda(asked) {
  const request = (/** @type {typeof asked[0]} */ { place, entry, today }, /** @type {PlanEntry} */ known) => ({ ...planRequest(place, known, today), id: entry.id });
  const answer = (/** @type {any[]} */ plans) => (plans.length > 0 ? almanac.agenda({ plans, brief: true }) : null);
  try {
    return { answer: answer(asked.map((one) => request(one, one.entry))), refused: [] };
  } catch (error) {
    if (!(error instanceof ApiaryError)) throw error;
  }
  /** @type {{entry: PlanEntry, message: string}[]} */
  const refused = [];
  const plans = asked.flatMap((one) => {
    try {
      return [withAnnounced(one.entry, (known) => {
        const plan = request(one, known);
        answer([plan]);
        return plan;
      })];
    } catch (error) {
      if (!(error instanceof ApiaryError)) throw error;
      refused.push({ entry: one.entry, message: error.message });
      return [];
    }
  });
  return { answer: answer(plans), refused };
}

/**
 * The last date on which a method can be begun safely, of the first window that is not over by then.
 * @param {Place} place @param {string} method @param {string} today
 */
export function lastSafe(place, method, today) {
  const { outcome } = almanac.lastSafe({ ...common(place), today, method: /** @type {any} */ (method), season: seasonOf(place) });
  if (outcome.kind !== "windows") return { last: null, reasons: [], open: outcome.kind === "all_year" };
  const next = outcome.windows.find(({ lastStart }) => lastStart !== null && lastStart >= today) ?? outcome.windows[0];
  return { last: next?.lastSafe ?? null, reasons: next ? [next.why] : [], open: false };
}

/**
 * The way of a hive to a new place: a relocation, or the parting of a new box from its parent.
 * @param {Place} place @param {import("./state.js").Move} move
 */
export function course(place, { kind, first, weightKg, numbers, distanceM, turnDeg, way, farStay }) {
  const request = {
    ...common(place), mornings: place.morningNumbers,
    ...(weightKg === undefined ? {} : { hiveWeightKg: weightKg }),
  };
  if (kind === "parting") return { kind, answer: almanac.parting({ ...request, setBefore: first, settings: partingNumbers(numbers) }) };
  return { kind, answer: almanac.relocation({ ...request, first, ...distance({ numbers, distanceM, turnDeg, way, farStay }) }) };
}

/** What is moved, in the place of a method. @param {import("./state.js").Move} move */
const moved = ({ kind, numbers, ...move }) =>
  kind === "parting" ? { kind, ...partingNumbers(numbers) } : { kind: "move", ...distance({ numbers, ...move }) };

/** @param {Record<string, number>} numbers */
const partingNumbers = (numbers) =>
  Object.fromEntries(
    Object.entries(numbers).map(([name, value]) => [name, name.endsWith("M") ? value : { unit: "days", earliest: value, likely: value, latest: value, source: text.sources.yours }]),
  );

/** @param {Omit<import("./state.js").Move, "kind" | "first">} move */
const distance = ({ numbers, distanceM = NaN, turnDeg, way, farStay }) => ({
  distanceM,
  settings: { ...numbers, ...(farStay ? { farStay: /** @type {any} */ (farStay) } : {}) },
  ...(turnDeg === undefined ? {} : { totalTurnDeg: turnDeg }),
  ...(way ? { way: /** @type {any} */ (way) } : {}),
});

/** @param {Plan} plan */
export const planPicture = (plan) => almanac.planPicture({ plan }).svg;
/** Sheets of A4 with the dates of plans, for the wall. @param {Plan[]} plans */
export const poster = (plans) => almanac.poster({ plans }).sheets;
/** @param {Plan} plan */
export const planCsv = (plan) => almanac.planCsv({ plans: [plan] }).csv;
/** @param {Plan} plan @param {number} sequence @param {Date} stamp */
export const calendar = (plan, sequence, stamp) => almanac.calendar({ plans: [plan], stamp, sequence }).ics;
/** So many minutes after 1970 the versions of calendars begin, as those of the command do. */
const MINUTES_TO_2020 = 26_297_280;
/** The coming dawns of a place. A file that is made later holds the later version of the same events. @param {Place} place @param {readonly any[]} mornings @param {Date} stamp */
export const dawnsCalendar = (place, mornings, stamp) =>
  almanac.morningsCalendar({ site: siteOf(place), place: place.name, mornings, stamp, sequence: Math.max(0, Math.floor(stamp.getTime() / 60_000) - MINUTES_TO_2020) }).ics;
