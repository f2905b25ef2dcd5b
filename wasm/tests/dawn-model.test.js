// What the view of the dawn shows, from the engine's answers and the clock alone.

import assert from "node:assert/strict";
import { test } from "node:test";

import { mornings, outlook } from "apiary-almanac";

import { dawnOf } from "../page/src/dawn-model.js";

const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, zone: "Australia/Sydney" };
const tasks = { today: [], ahead: [], later: [], questions: [], onlyIfNow: [], onlyIfLater: [], waiting: [] };
const day = (date, minimumC, maximumC, rainMm, windMS) => ({ date, minimumC, maximumC, rainMm, windMS });
const fair = (date) => day(date, 12, 25, 0, 2);

/** The dawn at a moment; midday is 02:00 UTC there. */
function at(instant, { forecast, chosen, today = "2026-09-13", more = {} } = {}) {
  const request = { site, climate: forecast ? { forecast } : {} };
  const [current] = mornings({ ...request, first: today, days: 1 });
  return dawnOf({ outlook: { ...outlook({ ...request, today }), current }, tasks: { ...tasks, ...more }, now: new Date(instant), chosen });
}

test("this morning stands first as long as there is something left to do, then tomorrow", () => {
  const early = at("2026-09-12T19:30:00Z");
  assert.deepEqual([early.date, early.which], ["2026-09-13", "thisMorning"]);
  const noon = at("2026-09-13T02:00:00Z");
  assert.deepEqual([noon.date, noon.which, noon.days], ["2026-09-14", "tomorrow", ["2026-09-13", "2026-09-14"]]);
  const chosen = at("2026-09-13T02:00:00Z", { chosen: "2026-09-17" });
  assert.deepEqual([chosen.date, chosen.which], ["2026-09-17", "thatMorning"]);
});

test("a morning that will not do tells the next that will, and no time of its own", () => {
  const dawn = at("2026-09-13T02:00:00Z", { forecast: [day("2026-09-14", 2, 9, 45, 14), fair("2026-09-15"), fair("2026-09-16")] });
  assert.deepEqual([dawn.verdict, dawn.next], ["no", null]);
  assert.deepEqual([dawn.instead.date, dawn.instead.closeOn], ["2026-09-15", "2026-09-14"]);
  const storms = Array.from({ length: 10 }, (_, n) => day(`2026-09-${14 + n}`, 2, 9, 45, 14));
  assert.equal(at("2026-09-13T02:00:00Z", { forecast: storms }).instead, null);
});

test("a good morning without a forecast is usually good; with one it is good", () => {
  const usual = at("2026-09-02T02:00:00Z", { today: "2026-09-02" });
  const known = at("2026-09-02T02:00:00Z", { today: "2026-09-02", forecast: [day("2026-09-03", 10, 21, 0, 2)] });
  assert.deepEqual([usual.verdict, usual.said], ["go", "usual"]);
  assert.deepEqual([known.verdict, known.said], ["go", "go"]);
  const storm = at("2026-09-13T02:00:00Z", { forecast: [day("2026-09-14", 2, 9, 45, 14)] });
  assert.deepEqual([storm.verdict, storm.said], ["no", "no"]);
});

test("the way to a good morning: close, then move; where closing is on another day, that is said", () => {
  const forecast = ["2026-09-14", "2026-09-15", "2026-09-16"].map(fair);
  const first = at("2026-09-13T02:00:00Z", { forecast });
  assert.deepEqual([first.next.kind, first.next.on, first.instead], ["close", null, null]);
  assert.deepEqual([first.next.fromClock, first.next.untilClock], [first.morning.window.fromClock, first.morning.window.untilClock]);
  assert.equal(at("2026-09-13T02:00:00Z", { forecast, chosen: "2026-09-16" }).next.on, "2026-09-15");
});

test("steps stand in the order of the day, what is past is marked, and what is near is counted down", () => {
  const { steps, morning, minutes } = at("2026-09-12T19:30:00Z", { forecast: [fair("2026-09-13"), fair("2026-09-14")] });
  assert.deepEqual(steps.map(({ name }) => name), ["close", "light", "move", "flight"]);
  const [close, light, move, flight] = steps;
  assert.deepEqual([close.isPast, close.day, close.soonMin], [true, "2026-09-12", null]);
  assert.deepEqual([move.clock, move.until, move.isPast], [morning.window.fromClock, morning.window.untilClock, false]);
  assert.equal(flight.soonMin, Math.round((Date.parse(morning.firstFlight.at) - Date.parse("2026-09-12T19:30:00Z")) / 60_000));
  assert.equal(light.clock, morning.workLightClock);
  const clock = (text) => Number(text.slice(0, 2)) * 60 + Number(text.slice(3));
  assert.equal(minutes, clock(move.until) - clock(move.clock));
});

test("where there is no time for a move, that comes first, without a time", () => {
  const { steps } = at("2026-09-12T19:30:00Z", { chosen: "2026-09-14", forecast: [day("2026-09-14", 2, 9, 45, 14)] });
  const { morning, steps: hot } = at("2026-12-20T02:00:00Z", { today: "2026-12-20", forecast: [day("2026-12-21", 27, 38, 0, 2)] });
  for (const [all, window] of [[steps, null], [hot, morning.window]]) {
    if (window?.kind !== "none") continue;
    assert.deepEqual([all[0].name, all[0].clock], ["move", null]);
  }
  assert(steps.some(({ name, clock }) => name === "flight" && clock === null), "no flight in a storm at 9 °C");
});

test("a height that was found and a station that would help are mild doubts, and no doubt is said twice", () => {
  const { doubts, mild, cautions } = at("2026-09-13T02:00:00Z");
  assert.deepEqual(doubts, []);
  assert.deepEqual(mild.map(({ reason, view }) => [reason.code, view]), [["elevation_of_the_land", "place"], ["station_would_pay", "year"]]);
  assert(cautions.length > 0 && cautions.every(({ code }) => code !== "elevation_of_the_land"));
});

test("the first task that can be ticked is the one to tap; questions count as due", () => {
  const item = (key, canTick, date = "2026-09-13") => ({ key, canTick, today: "2026-09-13", date });
  const { due } = at("2026-09-13T02:00:00Z", { more: { today: [item("a", false), item("b", true)], ahead: [item("c", false, "2026-09-14"), item("later", false, "2026-09-15")], questions: [item("d", true)] } });
  assert.deepEqual([due.first.key, due.count, due.dated.map(({ key }) => key)], ["b", 3, ["a", "b", "c"]]);
});
