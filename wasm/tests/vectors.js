// Reads the vector files strictly and compares answers with them; see tests/vectors/README.md.

import { readFileSync, readdirSync } from "node:fs";

const folder = new URL("../../tests/vectors/", import.meta.url);

function checkKeys(where, object, required, optional = []) {
  if (object === null || typeof object !== "object" || Array.isArray(object)) {
    throw new Error(`${where} is not an object`);
  }
  for (const key of required) {
    if (!(key in object)) throw new Error(`${where} has no ${key}`);
  }
  for (const key of Object.keys(object)) {
    if (!required.includes(key) && !optional.includes(key)) {
      throw new Error(`${where} has an unknown field ${key}`);
    }
  }
}

function checkType(where, object, types) {
  for (const [key, type] of Object.entries(types)) {
    if (key in object && typeof object[key] !== type) {
      throw new Error(`${where}.${key} is not a ${type}`);
    }
  }
}

const requests = ["request", "request_parts"];
const expectations = ["expect", "expect_part", "expect_error"];

export function parse(name, text) {
  const file = JSON.parse(text);
  checkKeys(name, file, ["about", "rows"]);
  const { about, rows } = file;
  checkKeys(`${name}.about`, about, ["what", "source", "licence", "tolerance", "rows"]);
  checkType(`${name}.about`, about, { what: "string", source: "string", licence: "string" });
  checkKeys(`${name}.about.tolerance`, about.tolerance, ["number", "instant_s"]);
  checkType(`${name}.about.tolerance`, about.tolerance, { number: "number", instant_s: "number" });
  if (!Array.isArray(rows) || rows.length === 0 || rows.length !== about.rows) {
    throw new Error(`${name} has ${rows.length} rows, but about says ${about.rows}`);
  }
  const ids = new Set();
  for (const row of rows) {
    checkKeys(`${name} row`, row, ["id"], ["note", ...requests, ...expectations]);
    checkType(row.id, row, { id: "string", note: "string" });
    if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(row.id)) throw new Error(`${row.id} is not an id`);
    if (ids.has(row.id)) throw new Error(`${row.id} stands there twice`);
    ids.add(row.id);
    for (const group of [requests, expectations]) {
      if (group.filter((key) => key in row).length !== 1) {
        throw new Error(`${row.id} needs one of ${group.join(", ")}`);
      }
    }
    for (const part of row.request_parts ?? []) checkKeys(row.id, part, ["text", "times"]);
    if (row.expect_error) {
      checkKeys(row.id, row.expect_error, ["code", "field"]);
      checkType(row.id, row.expect_error, { code: "string", field: "string" });
    }
  }
  return { name, ...file };
}

export function load() {
  const names = readdirSync(folder).filter((name) => name.endsWith(".json"));
  return names
    .sort()
    .map((name) => parse(name.slice(0, -5), readFileSync(new URL(name, folder), "utf8")));
}

export function requestText(row) {
  if ("request" in row) return JSON.stringify(row.request);
  return row.request_parts.map(({ text, times }) => text.repeat(times)).join("");
}

const instant = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})$/;

const offset = ([, , text]) => (text === "Z" ? "+00:00" : text);

/** The first difference between an answer and what is wanted, or undefined. */
export function difference(path, wanted, given, tolerance, whole) {
  const differs = `${path} is ${JSON.stringify(given)}, not ${JSON.stringify(wanted)}`;
  if (typeof wanted === "number" && typeof given === "number") {
    return Math.abs(wanted - given) <= tolerance.number ? undefined : differs;
  }
  if (typeof wanted === "string" && typeof given === "string") {
    if (wanted === given) return undefined;
    const [a, b] = [instant.exec(wanted), instant.exec(given)];
    const close =
      tolerance.instant_s > 0 &&
      a !== null &&
      b !== null &&
      offset(a) === offset(b) &&
      Math.abs(Date.parse(wanted) - Date.parse(given)) <= tolerance.instant_s * 1000;
    return close ? undefined : differs;
  }
  if (Array.isArray(wanted) && Array.isArray(given) && wanted.length === given.length) {
    for (const [i, item] of wanted.entries()) {
      const found = difference(`${path}[${i}]`, item, given[i], tolerance, whole);
      if (found) return found;
    }
    return undefined;
  }
  if (isObject(wanted) && isObject(given)) {
    for (const [key, item] of Object.entries(wanted)) {
      if (!(key in given)) return `${path}.${key} is missing`;
      const found = difference(`${path}.${key}`, item, given[key], tolerance, whole);
      if (found) return found;
    }
    const extra = whole ? Object.keys(given).find((key) => !(key in wanted)) : undefined;
    return extra === undefined ? undefined : `${path}.${extra} is not expected`;
  }
  return wanted === given ? undefined : differs;
}

const isObject = (value) =>
  value !== null && typeof value === "object" && !Array.isArray(value);
