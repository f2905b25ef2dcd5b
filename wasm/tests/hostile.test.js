// Requests that nobody should send: every one ends in an answer or an ApiaryError, never in a trap.

import assert from "node:assert/strict";
import { dirname, join } from "node:path";
import { test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";

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
  new BigInt64Array(2),
  undefined,
  () => 1,
  7n,
  Symbol("x"),
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
    parting: { site: club, setBefore: "2026-10-04", settings: { apartM: 2 } },
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

const refusal = (code, words) => (error) => {
  assert(error instanceof almanac.ApiaryError, error?.stack ?? String(error));
  assert.equal(error.code, code, error.message);
  assert.match(error.message, words);
  return true;
};

test("what JSON cannot hold is refused", () => {
  const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Asia/Manila" };
  assert.throws(() => almanac.site({ ...site, elevationM: 12n }), refusal("unreadable", /the text "12"/));
  const circle = { ...site };
  circle.zone = { first: circle, second: [circle] };
  assert.throws(() => almanac.site(circle), refusal("unreadable", /holds itself/));
  let deep = [];
  for (let level = 0; level < 100_000; level += 1) deep = [deep];
  assert.throws(() => almanac.site(deep), refusal("unreadable", /too deeply/));
  let wide = "UTC";
  for (let level = 0; level < 40; level += 1) wide = [wide, wide];
  assert.throws(() => almanac.site({ ...site, zone: wide }), refusal("too_large", /values/));
  for (const text of [undefined, null, 7n, Symbol("x"), { toString: null }]) {
    assert.throws(() => almanac.ask(text), refusal("unreadable", /JSON text/));
  }
});

test("typed arrays are taken as they are, not as they say", () => {
  class Lying extends Float64Array {
    get length() {
      return 2 ** 40;
    }
    get buffer() {
      return new ArrayBuffer(8);
    }
    *[Symbol.iterator]() {
      while (true) yield 1;
    }
  }
  const ask = (latitudeDeg) => almanac.sunTable({ latitudeDeg, longitudeDeg: 153, dates: 20_625 });
  assert.deepEqual(ask(new Lying([-28, 5])), ask([-28, 5]));
  const pretended = Object.setPrototypeOf({ length: 3 }, Float64Array.prototype);
  assert.throws(() => ask(pretended), refusal("unreadable", /latitude_deg/));
  const endless = [-28, 5];
  endless[Symbol.iterator] = Lying.prototype[Symbol.iterator];
  assert.equal(ask(endless).rise.length, 2);
  const days = almanac.mornings({
    site: { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" },
    first: "2026-10-04",
    days: 1,
    climate: { normals: { minimumC: new Lying(12).fill(12), maximumC: new Lying(12).fill(25), about: "invented" } },
  });
  assert.equal(days.length, 1);
});

test("an engine that stopped is started anew", async () => {
  const entry = fileURLToPath(import.meta.resolve("apiary-almanac"));
  const { default: init } = await import(pathToFileURL(join(dirname(entry), "engine.js")).href);
  const before = almanac.about();
  // Nothing is left for the engine: as much as its memory may have.
  const { memory } = await init();
  while (memory.buffer.byteLength < 2 ** 32 - 2 ** 16) {
    try {
      memory.grow(1024);
    } catch {
      memory.grow(1);
    }
  }
  const large = JSON.stringify({ ask: "about", filler: "x".repeat(15_000_000) });
  assert.throws(() => almanac.ask(large), refusal("too_large", /started anew/));
  assert.deepEqual(almanac.about(), before);
  assert.throws(() => almanac.ask(large), refusal("unreadable", /filler/));
});

test("the engine still answers after all that", () => {
  assert.equal(almanac.about().name, "apiary-almanac");
});
