// What the page reads and writes without the engine: units, kept files.

import { readFileSync, readdirSync } from "node:fs";
import assert from "node:assert/strict";
import { test } from "node:test";

import { readCoordinates } from "apiary-almanac";

import { writeCoordinates } from "../page/src/coordinates.js";
import { daysBetween, minutesBetween, span } from "../page/src/dates.js";
import { firstPlaceSettings, firstState, knownPlace, knownPlan, readState } from "../page/src/state.js";
import { writer } from "../page/src/sentences.js";
import { readNumber, showing } from "../page/src/units.js";

test("coordinates are shown so that the engine reads them back", () => {
  for (const [latitudeDeg, longitudeDeg] of [[-28.81, 153.28], [0, 0], [3.1, -60.02], [-0.0001, 179.9999]]) {
    const { positions, question } = readCoordinates({ text: writeCoordinates({ latitudeDeg, longitudeDeg }) });
    assert.equal(question, undefined);
    assert.deepEqual([positions[0].latitudeDeg, positions[0].longitudeDeg], [latitudeDeg, longitudeDeg]);
  }
});

test("units are those that are shown", () => {
  const [metric, other] = [
    showing({ temperature: "c", length: "m", theme: "auto" }),
    showing({ temperature: "f", length: "ft", theme: "auto" }),
  ];
  // Exact by definition: 0 °C is 32 °F, 100 °C is 212 °F, a foot is 0.3048 m (international foot, 1959).
  assert.equal(other.temperature(0), "32 °F");
  assert.equal(other.temperature(100), "212 °F");
  assert.equal(other.difference(10), "18 °F");
  assert.equal(other.out(304.8, "m"), "1000");
  assert.equal(other.in(1000, "m"), 304.8);
  assert.equal(other.in(212, "°C"), 100);
  assert.equal(other.in(5, "mm"), 5);
  assert.deepEqual(metric.parts.temperature(18, 1), ["18.0", "°C"]);
  assert.deepEqual(other.parts.temperature(18), ["64.4", "°F"]);
  assert.deepEqual(other.parts.length(1500), ["4921", "ft"]);
});

test("sentences are made with the units and dates that are shown", () => {
  const catalogue = {
    language: "en",
    sentences: [
      { code: "below", template: "{quantity} of {days|# day|# days} below {limit}[ in {share:0} of years]", values: [] },
      { code: "range", template: "{low:0n} to {high:0} on {date}", values: [] },
      { code: "added", template: "{more} added", values: [] },
      { code: "within", template: "Not so: {why}", values: [] },
      { code: "waits", template: "{wait:0} after {task}", values: [] },
    ],
    words: [{ name: "quantity.mean", word: "mean temperature" }, { name: "unit.flying_days", word: "# flying day|# flying days" }],
  };
  const write = (/** @type {any} */ display) => writer(catalogue, { ...showing(display).parts, date: (date) => date.split("-").reverse().join(".") });
  const [metric, other] = [write({ temperature: "c", length: "m", theme: "auto" }), write({ temperature: "f", length: "ft", theme: "auto" })];
  const number = (/** @type {string} */ kind, /** @type {number} */ value) => ({ kind, value });
  const below = (/** @type {number} */ days, /** @type {any} */ more) => ({
    code: "below",
    values: { quantity: { kind: "word", value: "quantity.mean" }, days: number("count", days), limit: number("temperature", 18), ...more },
  });
  assert.equal(metric(below(14, { share: number("share", 0.21) })), "mean temperature of 14 days below 18 °C in 21 % of years");
  assert.equal(other(below(1, {})), "mean temperature of 1 day below 64.4 °F");
  const range = { code: "range", values: { low: number("temperature", 8), high: number("temperature", 12), date: { kind: "date", value: "2026-09-14" } } };
  assert.equal(metric(range), "8 to 12 °C on 14.09.2026");
  assert.equal(other(range), "46 to 54 °F on 14.09.2026");
  assert.equal(other({ code: "added", values: { more: number("difference", 1) } }), "1.8 °F added");
  assert.equal(metric({ code: "within", values: { why: { kind: "reason", value: below(2, {}) } } }), "Not so: mean temperature of 2 days below 18 °C");
  const waits = (/** @type {number} */ days) => ({ code: "waits", values: { wait: number("flying_days", days), task: { kind: "title", value: "Look" } } });
  assert.deepEqual([metric(waits(1)), metric(waits(2.4))], ["1 flying day after “Look”", "2 flying days after “Look”"]);
  assert.equal(metric({ code: "mine", text: "As it was given: 5 °C." }), "As it was given: 5 °C.");
});

test("no regular expression looks into a sentence of the engine", () => {
  // What the engine says comes under these names; a pattern on a line with one of them would take it apart.
  const said = ["sentence", ".text)", ".text.", ".message", "message.", ".because", ".advice", ".about", ".chosen", ".title", "title.", ".lookFor", "other.", "reason."];
  const pattern = [".replace(/", ".replaceAll(/", ".match(", ".matchAll(", ".split(/", ".search(/", ".test(", ".exec(", "RegExp("];
  let files = 0;
  for (const folder of ["../page/src", "../page/src/views", "../npm"]) {
    const here = new URL(`${folder}/`, import.meta.url);
    for (const name of readdirSync(here).filter((one) => one.endsWith(".js"))) {
      files += 1;
      const lines = readFileSync(new URL(name, here), "utf8").split("\n");
      for (const line of lines.filter((one) => pattern.some((sign) => one.includes(sign)))) {
        assert(!said.some((word) => line.includes(word)), `${name}: ${line.trim()}`);
      }
    }
  }
  assert(files > 40);
});

test("numbers are read with point or comma, and nothing else is a number", () => {
  assert.deepEqual([readNumber("12.5"), readNumber(" 12,5 "), readNumber("−3"), readNumber("")], [12.5, 12.5, -3, undefined]);
  for (const text of ["twelve", "1e5", "0x10", "1.2.3", "--1", "Infinity", "5 m"]) assert(Number.isNaN(readNumber(text)), text);
});

test("days are counted and spans are named", () => {
  assert.equal(daysBetween("2028-02-28", "2028-03-01"), 2);
  assert.equal(minutesBetween("05:52", "08:10"), 138);
  assert.equal(minutesBetween("23:50", "00:05"), 15);
  assert.equal(span("2026-09-28", "2027-03-18"), "28 Sep 2026 – 18 Mar 2027");
  assert.equal(span("2026-09-28", "2026-10-02"), "28 Sep – 2 Oct 2026");
});

test("a kept file is read back as it was, and nothing else is", () => {
  const state = firstState();
  state.places.push({ id: "place-1", name: "Yard", latitudeDeg: 1, longitudeDeg: 2, elevationM: 3, zone: "UTC", ...firstPlaceSettings() });
  state.placeId = "place-1";
  assert.deepEqual(readState(JSON.stringify(state)), { state });
  const broken = (/** @type {(copy: any) => void} */ how) => {
    const copy = structuredClone(state);
    how(copy);
    return readState(JSON.stringify(copy)).wrong;
  };
  assert.equal(readState("{").wrong, "JSON");
  assert.equal(readState("null").wrong, "{}");
  assert.equal(broken((copy) => (copy.version = 2)), "version");
  assert.equal(broken((copy) => (copy.places[0].latitudeDeg = 90.5)), "places[0].latitudeDeg");
  assert.equal(broken((copy) => (copy.places[0].longitudeDeg = -181)), "places[0].longitudeDeg");
  assert.equal(broken((copy) => (copy.places[0].elevationM = 1e300)), "places[0].elevationM");
  assert.equal(broken((copy) => copy.places.push(copy.places[0])), "places[1].id");
  assert.equal(broken((copy) => (copy.places[0].move = { kind: "distance", first: "2026-02-30", byLamp: false, numbers: {} })), "places[0].move.first");
  // A move of a place, as older pages kept it, becomes a plan.
  const older = structuredClone(state);
  older.places[0].move = { kind: "distance", first: "2026-02-20", byLamp: false, numbers: {}, distanceM: 3 };
  const { state: newer } = readState(JSON.stringify(older));
  assert.equal("move" in newer.places[0], false);
  assert.deepEqual(newer.plans.at(-1).move, { kind: "distance", first: "2026-02-20", numbers: {}, distanceM: 3 });
  assert.equal(newer.plans.at(-1).placeId, older.places[0].id);
  assert.equal(broken((copy) => (copy.places[0].latitudeDeg = "1")), "places[0].latitudeDeg");
  assert.equal(broken((copy) => (copy.places[0].forecast = { kind: "csv" })), "places[0].forecast");
  assert.equal(broken((copy) => (copy.placeId = "place-9")), "placeId");
  assert.equal(broken((copy) => (copy.display.theme = "pink")), "display.theme");
  assert.equal(broken((copy) => copy.plans.push({})), "plans[0].id");
});

test("keys that the page does not know are carried, and not sent to the engine", () => {
  const plan = {
    id: "plan-1", placeId: "place-1", method: "split", sequence: 3, mood: ["good"],
    colony: { name: "Lantern", queen: { marked: "blue" } },
    choices: {}, numbers: {}, fixed: [], seen: {},
    records: [{ date: "2026-09-13", signs: [{ kind: "eggs", count: 3 }], photo: "1" }],
  };
  const state = {
    ...firstState(),
    later: { any: [1, null, "x"] },
    places: [{
      id: "place-1", name: "Yard", latitudeDeg: 1, longitudeDeg: 2, elevationM: 3, zone: "UTC", ...firstPlaceSettings(),
      forecast: { kind: "rows", rows: [{ date: "2026-09-14", minimumC: 11, maximumC: 24, gustMS: 9 }] }, shade: true,
    }],
    placeId: "place-1",
    plans: [plan],
  };
  assert.deepEqual(readState(JSON.stringify(state)), { state });
  assert.deepEqual(knownPlan(plan), {
    id: "plan-1", placeId: "place-1", method: "split", sequence: 3, colony: { name: "Lantern" },
    choices: {}, numbers: {}, fixed: [], seen: {},
    records: [{ date: "2026-09-13", signs: [{ kind: "eggs" }] }],
  });
  const place = knownPlace(state.places[0]);
  assert(!("shade" in place));
  assert.deepEqual(place.forecast.rows, [{ date: "2026-09-14", minimumC: 11, maximumC: 24 }]);
  assert.deepEqual(readState('{"version": 1, "constructor": 1, "__proto__": {"keep": true}}'), { wrong: "keep" });
  const twice = { ...state, plans: [plan, plan] };
  assert.deepEqual(readState(JSON.stringify(twice)), { wrong: "plans[1].id" });
  for (const date of ["2026-02-29", "2026-13-01", "soon", "2026-9-1"]) {
    const wrong = { ...state, plans: [{ ...plan, wanted: date }] };
    assert.deepEqual(readState(JSON.stringify(wrong)), { wrong: "plans[0].wanted" }, date);
  }
});
