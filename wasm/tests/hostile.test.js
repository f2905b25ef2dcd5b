// Requests that nobody should send: every one ends in an answer or an ApiaryError, never in a trap.

import assert from "node:assert/strict";
import { test } from "node:test";

import * as almanac from "apiary-almanac";

import { load, requestText } from "./vectors.js";

/** Marsaglia's 32-bit xorshift (J. Stat. Softw. 8(14), 2003), so that a failure can be repeated. */
function numbers(seed) {
  let state = seed;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}

const codes = almanac.about().errorCodes;

function survives(call, what) {
  try {
    call();
  } catch (error) {
    assert(error instanceof almanac.ApiaryError, `${what}: ${error?.stack ?? error}`);
    assert(codes.includes(error.code), error.code);
  }
}

const texts = load()
  .flatMap((file) => file.rows)
  .map(requestText)
  .filter((text) => text.length < 2000);
const strange = [
  null,
  true,
  -0,
  1e308,
  5e-324,
  NaN,
  -Infinity,
  "",
  "\u0000",
  "\ud800",
  "9".repeat(5000),
  [],
  {},
  [[[[]]]],
  { __proto__: null, toString: 1 },
  new Date(8.64e15),
  new Date(NaN),
  new Float64Array([NaN, 1]),
  undefined,
  () => 1,
];

test("damaged texts", () => {
  const random = numbers(20260101);
  for (let round = 0; round < 5000; round += 1) {
    const letters = Array.from(texts[random(texts.length)]);
    for (let change = random(4); change >= 0; change -= 1) {
      const at = random(letters.length + 1);
      const letter = String.fromCharCode(random(2) ? random(128) : random(65536));
      letters.splice(at, random(3), ...(random(3) ? [letter] : []));
    }
    const text = letters.join("");
    survives(() => almanac.ask(text), JSON.stringify(text));
  }
});

test("strange values in the place of good ones", () => {
  const random = numbers(20260102);
  const club = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Asia/Manila" };
  const requests = {
    civilDay: { site: club, date: "2026-10-04" },
    sun: { site: club, first: "2026-10-04", last: "2026-10-05", altitudeDeg: 3 },
    flight: { site: club, first: "2026-10-04", last: "2026-10-05", bee: "generic_large" },
    mornings: { site: club, first: "2026-10-04", days: 2, freeWeekdays: ["monday"], settings: {} },
    season: { site: club, first: "2026-10-04", last: "2026-10-05", settings: { chance: 1 } },
    relocation: { site: club, first: "2026-10-04", distanceM: 1, settings: {}, mornings: {} },
    outlook: { site: club, today: "2026-10-04", mornings: 1, hiveWeightKg: 9 },
    parting: { site: club, setBefore: "2026-10-04", settings: { apartM: 2 }, byLamp: true },
    plan: { site: club, today: "2026-10-04", method: "split", colony: { name: "Hive 7" } },
  };
  const damage = (value) => {
    const keys = value !== null && typeof value === "object" ? Object.keys(value) : [];
    const turn = random(keys.length + 1);
    if (turn === keys.length) return strange[random(strange.length)];
    const copy = Array.isArray(value) ? [...value] : { ...value };
    copy[keys[turn]] = damage(value[keys[turn]]);
    return copy;
  };
  for (let round = 0; round < 3000; round += 1) {
    const name = Object.keys(requests)[random(Object.keys(requests).length)];
    const request = damage(requests[name]);
    survives(() => almanac[name](request), `${name} round ${round}`);
  }
});

test("the engine still answers after all that", () => {
  assert.equal(almanac.about().name, "apiary-almanac");
});
