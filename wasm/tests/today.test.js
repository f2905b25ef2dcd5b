// What the page makes of a morning: the reasons in order, the one time that counts, the next good morning.

import assert from "node:assert/strict";
import { test } from "node:test";

import { mornings } from "apiary-almanac";

import { moveTime, nextStep, nextWith, reasonsAgainst } from "../page/src/today.js";

const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
const on = (forecast) => mornings({ site, first: "2026-09-14", days: 4, climate: { forecast } });
const day = (date, minimumC, maximumC, rainMm, windMS) => ({ date, minimumC, maximumC, rainMm, windMS });
const fair = ["2026-09-14", "2026-09-15", "2026-09-16", "2026-09-17"].map((date) => day(date, 12, 25, 0, 2));
const of = (all, date) => all.find(({ morning }) => morning.date === date);

test("the reasons against begin with that of the verdict, none of them twice", () => {
  const all = on([day("2026-09-14", 2, 9, 45, 14), ...fair.slice(1)]);
  const storm = of(all, "2026-09-14");
  assert.equal(storm.morning.verdict, "no");
  const texts = reasonsAgainst(storm).map(({ text }) => text);
  assert.equal(texts[0], storm.morning.verdictReason.text);
  assert(texts.length > 2 && new Set(texts).size === texts.length, texts.join("\n"));
  assert.equal(nextWith(all, "2026-09-14", "go")?.morning.date, storm.nextGood);
  assert.equal(nextWith(all, "2026-09-17", "go"), undefined);
});

test("where there is no time by daylight, the time is that by lamp", () => {
  const warm = { minimumC: Array(12).fill(21), maximumC: Array(12).fill(29), about: "invented" };
  const [{ morning }] = mornings({ site, first: "2026-09-14", days: 1, bee: "generic_large", climate: { normals: warm } });
  assert.equal(morning.window.kind, "none");
  assert.equal(moveTime(morning), morning.byLamp);
  assert.equal(nextStep(morning, new Date(Date.parse(morning.byLamp.from) - 60_000), "2026-09-14").clock, morning.byLamp.fromClock);
});

test("a good morning on which the keeper is not free is not the next one", () => {
  const all = mornings({ site, first: "2026-09-14", days: 4, climate: { forecast: fair }, freeWeekdays: ["wednesday"] });
  const { verdict } = of(all, "2026-09-16").morning;
  assert.notEqual(verdict, "no");
  assert.equal(nextWith(all, "2026-09-13", verdict).morning.date, "2026-09-16");
});

test("the one time is the next thing to do", () => {
  const { morning } = of(on(fair), "2026-09-14");
  const { eveningBefore, window } = morning;
  const just = (instant, minutes) => new Date(Date.parse(instant) + minutes * 60_000);
  for (const [now, today, kind, clock] of [
    [just(eveningBefore.from, -5), "2026-09-13", "close", eveningBefore.fromClock],
    [just(eveningBefore.from, 5), "2026-09-13", "close_now", eveningBefore.fromClock],
    [just(window.from, -5), "2026-09-14", "move", window.fromClock],
    [just(window.from, 5), "2026-09-14", "before", window.untilClock],
  ]) assert.deepEqual(nextStep(morning, now, today), { kind, clock });
});
