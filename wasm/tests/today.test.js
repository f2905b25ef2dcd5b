// What the page makes of a morning: a verdict, the one time that counts, the next good morning.

import assert from "node:assert/strict";
import { test } from "node:test";

import { mornings } from "apiary-almanac";

import { nextGood, nextStep, verdictOf } from "../page/src/today.js";

const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
const on = (forecast) => mornings({ site, first: "2026-09-14", days: 4, climate: { forecast } });
const day = (date, minimumC, maximumC, rainMm, windMS) => ({ date, minimumC, maximumC, rainMm, windMS });
const fair = ["2026-09-14", "2026-09-15", "2026-09-16", "2026-09-17"].map((date) => day(date, 12, 25, 0, 2));
const of = (all, date) => all.find(({ morning }) => morning.date === date);

test("a storm is no, a fair morning is go, a little cold asks for care", () => {
  const all = on([day("2026-09-14", 2, 9, 45, 14), day("2026-09-15", 6, 25, 0, 2), ...fair.slice(2)]);
  assert.deepEqual(["2026-09-14", "2026-09-15", "2026-09-16"].map((date) => verdictOf(of(all, date))), ["no", "careful", "go"]);
  assert.equal(nextGood(all, "2026-09-14").morning.date, "2026-09-16");
  assert.equal(nextGood(all, "2026-09-17"), undefined);
});

test("a good morning on which the keeper is not free is not the next one", () => {
  const all = mornings({ site, first: "2026-09-14", days: 4, climate: { forecast: fair }, freeWeekdays: ["wednesday"] });
  assert.equal(nextGood(all, "2026-09-13").morning.date, "2026-09-16");
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
