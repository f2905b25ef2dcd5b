// What the page shows of a plan, from the engine's answer: the order of its tasks, when a move is over.

import assert from "node:assert/strict";
import { test } from "node:test";

import { relocation, review } from "apiary-almanac";

import { byDay, dayOf, finishOf } from "../page/src/plan-model.js";

const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
const move = (today, records = [], distanceM = 2) =>
  review({ site, today, method: { kind: "move", distanceM }, wanted: "2026-09-14", colony: { name: "Kurrajong" }, records }).plan;

test("a move is over on the last date of its own plan", () => {
  for (const distanceM of [2, 500, 5000]) {
    const { finish } = relocation({ site, first: "2026-09-14", distanceM });
    const { isDone, ...dates } = finishOf(move("2026-09-13", [], distanceM));
    assert.deepEqual([dates, isDone], [{ earliest: finish.earliest, best: finish.best, latest: finish.latest }, false], `${distanceM} m`);
  }
});

test("a stage that was done later puts the end of the move off, and the last one done ends it", () => {
  const before = finishOf(move("2026-09-13"));
  const late = finishOf(move("2026-09-26", [{ date: "2026-09-25", task: "stage-1" }]));
  assert(late.best > before.best, `${late.best} is after ${before.best}`);
  const stages = move("2026-09-13").tasks.filter(({ kind }) => kind === "move");
  const records = stages.map(({ id }, n) => ({ date: `2026-10-0${n + 1}`, task: id }));
  const last = records.at(-1).date;
  assert.deepEqual(finishOf(move("2026-10-20", records)), { earliest: last, best: last, latest: last, isDone: true });
});

test("a move with a stage that has no date has no end", () => {
  const plan = move("2026-09-13");
  const { id, kind, which, title } = plan.tasks.findLast((one) => one.kind === "move");
  assert.equal(finishOf({ ...plan, waiting: [{ id, kind, which, title }] }), null);
});

test("tasks stand by their day: that on which they were done, or the best for them", () => {
  const plan = move("2026-09-26", [{ date: "2026-09-25", task: "stage-1" }]);
  const days = byDay(plan.tasks).map(dayOf);
  assert.deepEqual(days, [...days].sort());
  assert.equal(days.length, plan.tasks.length);
  assert.equal(dayOf(plan.tasks.find(({ id }) => id === "stage-1")), "2026-09-25");
});
