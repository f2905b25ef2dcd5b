// The package's functions: plain objects in, plain objects out. Names are camelCase here and
// snake_case in the engine's JSON; nothing else happens to a value on the way.

import { ask as askEngine } from "./engine.js";
import { ApiaryError, refusing } from "./error.js";
import { toWire } from "./values.js";

export { sunTable } from "./columns.js";
export { ApiaryError };

/** Answers a request given as JSON text with JSON text. */
export function ask(request) {
  if (typeof request !== "string") {
    const message = `request cannot be read: it is of type ${typeof request}; expected is JSON text`;
    throw new ApiaryError({ code: "unreadable", field: "request", message });
  }
  return refusing(() => askEngine(request));
}

export const about = () => call("about", {});
export const agenda = (request) => call("agenda", request);
export const bee = (request) => call("bee", { bee: request });
export const calendar = (request) => call("calendar", request);
export const civilDay = (request) => call("civil_day", request);
export const clock = (request) => call("clock", request);
export const defaultClimate = (request) => call("default_climate", request);
export const flight = (request) => call("flight", request);
export const lastSafe = (request) => call("last_safe", request);
export const whyNot = (request) => call("why_not", request);
export const methods = () => call("methods", {});
export const mornings = (request) => call("mornings", request);
export const morningsCalendar = (request) => call("mornings_calendar", request);
export const outlook = (request) => call("outlook", request);
export const parameters = () => call("parameters", {});
export const parting = (request) => call("parting", request);
export const place = (request) => call("place", request);
export const plan = (request) => call("plan", request);
export const readCoordinates = (request) => call("read_coordinates", request);
export const readForecast = (request) => call("read_forecast", request);
export const readNormals = (request) => call("read_normals", request);
export const relocation = (request) => call("relocation", request);
export const planCsv = (request) => call("plan_csv", request);
export const planPicture = (request) => call("plan_picture", request);
export const plansTogether = (request) => call("plans_together", request);
export const poster = (request) => call("poster", request);
export const review = (request) => call("review", request);
export const season = (request) => call("season", request);
export const sentences = (request = {}) => call("sentences", request);
export const site = (request) => call("site", { site: request });
export const sun = (request) => call("sun", request);
export const towns = (request) => call("towns", request);
export const townsNear = (request) => call("towns_near", request);
export const warmSeasonMap = (request) => call("warm_season_map", request);
export const yearCalendar = (request) => call("year_calendar", request);
export const yearPicture = (request) => call("year_picture", request);

function call(name, request) {
  return rename(JSON.parse(ask(JSON.stringify({ ...toWire(request), ask: name }))));
}

function rename(value) {
  if (Array.isArray(value)) return value.map(rename);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([name, item]) => [camelCase(name), rename(item)]));
}

const camelCase = (name) => name.replace(/_([a-z])/g, (_, letter) => letter.toUpperCase());
