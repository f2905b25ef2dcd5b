// What the page shows of a plan, from the engine's answer: the order of its tasks, when a move is over.

import assert from "node:assert/strict";
import { test } from "node:test";

import { relocation, review } from "apiary-almanac";

import { byDay, datesOf, dayOf, finishOf, planOf } from "../page/src/plan-model.js";

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

test("a card says what is due, done, put on a day of the keeper's own, and out of season", () => {
  const today = "2026-10-26";
  const of = (records, fixed) => review({ site, today, method: "split", colony: { name: "Lantern" }, records, fixed }).plan;
  const entry = (fixed, seen = {}) => ({ fixed, seen });
  const records = [{ date: "2026-10-03", task: "divide" }];
  const own = [{ task: "first-workers", date: "2027-06-20" }];
  const plan = of(records, []);
  const model = planOf({ plan, entry: entry([]), today });
  assert.deepEqual(model.begin, { date: "2026-10-03", isDone: true, isPlanned: false });
  assert.equal(model.planned.length + model.done.length + model.dropped.length, plan.tasks.length);
  for (const card of model.planned) {
    assert.equal(card.isDue, card.task.dates.earliest <= today, card.id);
    assert.equal(card.range === null, card.task.dates.earliest === card.task.dates.latest, card.id);
  }
  const workers = plan.tasks.find(({ title, state }) => /first workers/.test(title) && state.kind === "planned");
  own[0].task = workers.id;
  const moved = planOf({ plan: of(records, own), entry: entry(own, { [workers.id]: workers.dates.best }), today });
  const card = moved.planned.find(({ id }) => id === workers.id);
  assert.deepEqual([card.date, card.fixed], [own[0].date, own[0].date]);
  assert(card.outside && (own[0].date < card.outside.opens || own[0].date > card.outside.closes));
  assert.deepEqual(moved.moved, [{ title: workers.title, from: workers.dates.best, to: own[0].date }]);
  assert.deepEqual(datesOf(plan)[workers.id], workers.dates.best);
});
