// The page writes from values the very sentence that the engine writes, where units and dates are the same.

import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import { test } from "node:test";

import { ask, sentences } from "apiary-almanac";
import { rounded, writer } from "../page/src/sentences.js";

const catalogue = sentences({ language: "en" });
const plainly = writer(catalogue, {
  temperature: (c, digits) => [rounded(c, digits), "°C"],
  difference: (c, digits) => [rounded(c, digits), "°C"],
  length: (m, digits) => [rounded(m, digits), "m"],
  date: (date) => {
    const part = (/** @type {Intl.DateTimeFormatOptions} */ how) =>
      new Intl.DateTimeFormat("en-US", { ...how, timeZone: "UTC" }).format(new Date(date));
    return [part({ weekday: "short" }), part({ day: "numeric" }), part({ month: "short" }), date.slice(0, 4)].join(" ");
  },
});

/** Every reason in an answer. @param {any} value @returns {Generator<any>} */
function* reasonsIn(value) {
  if (value === null || typeof value !== "object") return;
  if (typeof value.code === "string" && typeof value.text === "string") yield value;
  for (const one of Object.values(value)) yield* reasonsIn(one);
}

test("every sentence of the vectors' answers is written alike by page and engine", () => {
  const folder = new URL("../../tests/vectors/", import.meta.url);
  const seen = new Set();
  for (const name of readdirSync(folder).filter((one) => one.endsWith(".json"))) {
    for (const row of JSON.parse(readFileSync(new URL(name, folder), "utf8")).rows) {
      if (row.expect_error || !row.request) continue;
      for (const reason of reasonsIn(JSON.parse(ask(JSON.stringify(row.request))))) {
        // The text of a caution stands in the catalogue under another name.
        if (reason.source !== undefined) continue;
        assert.equal(plainly(reason), reason.text);
        seen.add(reason.code);
      }
    }
  }
  assert(seen.size > 50, `${seen.size} codes`);
});

test("an unknown language is refused", () => {
  assert.throws(() => sentences({ language: /** @type {any} */ ("tlh") }), { code: "unknown_name", field: "language" });
});
