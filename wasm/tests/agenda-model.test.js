// The tasks of all places in groups, as the page shows them: values in, values out.

import assert from "node:assert/strict";
import { test } from "node:test";

import { agenda } from "apiary-almanac";

import { dayByDay, tasksOf } from "../page/src/agenda-model.js";

const site = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
const plan = (id, today, records = [], more = {}) => ({ id: id.toLowerCase(), site, today, method: "split", colony: { name: id, daughterName: `${id} two` }, records, ...more });
const known = (more) => ({ agenda: null, placeOf: () => "place-1", todayAt: () => "2026-10-24", ticked: [], notYet: new Set(), ...more });
const keys = (items) => items.map(({ key }) => key);

test("every item of the engine's agenda stands in one group, by its day", () => {
  const today = "2026-10-24";
  const answer = agenda({
    plans: [
      plan("Wattle", today, [{ date: "2026-10-03", task: "divide" }], { announced: [{ task: "pest-day-7", date: "2026-10-10" }] }),
      plan("Mallee", today),
    ],
    brief: true,
  });
  const tasks = tasksOf(known({ agenda: answer }));
  const all = [...answer.now, ...answer.next, ...answer.thisWeek, ...answer.later].map(({ plan: id, task }) => `${id}/${task}`);
  const dated = [...tasks.today, ...tasks.ahead, ...tasks.later];
  assert.deepEqual(keys(dated).sort(), all.sort());
  assert(tasks.today.every(({ date, canTick }) => date <= today && canTick));
  assert(tasks.ahead.length > 0 && tasks.ahead.every(({ date }) => date > today && date <= "2026-10-31"));
  const days = dayByDay(tasks.ahead);
  assert.deepEqual(days.flatMap(({ items }) => items), tasks.ahead);
  assert(days.every(({ date, items }) => items.length > 0 && items.every((item) => item.date === date)));
  assert.equal(new Set(days.map(({ date }) => date)).size, days.length);
  assert(tasks.later.every(({ date }) => date > "2026-10-31"));
  for (const list of [tasks.today, tasks.ahead, tasks.later]) assert.deepEqual(list.map(({ date }) => date), list.map(({ date }) => date).sort());
  assert.deepEqual(keys(tasks.questions), answer.questions.map(({ item }) => `${item.plan}/${item.task}`));
  assert.equal(tasks.onlyIfNow.length + tasks.onlyIfLater.length, answer.onlyIf.length);
  assert(tasks.onlyIfNow.every(({ earliest }) => earliest <= today) && tasks.onlyIfLater.every(({ earliest }) => earliest > today));
  assert.equal(tasks.waiting.length, answer.waiting.length);
});

test("an opening has one good hour, a move its limits, and both stand in the order of the clock", () => {
  const today = "2026-10-24";
  const answer = agenda({ plans: [plan("Wattle", today, [{ date: "2026-10-03", task: "divide" }]), plan("Mallee", today)], brief: true });
  const shown = tasksOf(known({ agenda: answer }));
  const all = [...shown.today, ...shown.ahead, ...shown.later, ...shown.onlyIfLater];
  const engines = new Map([...answer.now, ...answer.next, ...answer.thisWeek, ...answer.later, ...answer.onlyIf].map((one) => [`${one.plan}/${one.task}`, one]));
  const forms = new Set();
  for (const { key, clocks, at } of all) {
    const { goodAtClock, window } = engines.get(key);
    // The one hour lies within the window, and the window is not said beside it.
    if (goodAtClock) assert(window.fromClock <= goodAtClock && goodAtClock <= window.untilClock);
    assert.equal(clocks, goodAtClock ? `about ${goodAtClock}` : window ? `${window.fromClock}–${window.untilClock}` : null, key);
    assert.equal(at, clocks?.match(/\d\d:\d\d/)[0] ?? null);
    forms.add(clocks === null ? "none" : clocks.startsWith("about") ? "about" : "limits");
  }
  assert.deepEqual([...forms].sort(), ["about", "limits", "none"]);
});

test("what was ticked off stays in its place, and a no puts a question among the tasks", () => {
  const answer = agenda({ plans: [plan("Mallee", "2026-10-24", [], { announced: [{ task: "divide", date: "2026-10-20" }] })], brief: true });
  const before = tasksOf(known({ agenda: answer }));
  const question = before.questions.find(({ task }) => task === "divide");
  assert.equal(question.wasDue, "2026-10-20");
  const item = { ...question, done: "2026-10-20" };
  const ticked = tasksOf(known({ agenda: answer, ticked: [{ item, list: "questions" }] }));
  assert.deepEqual(keys(ticked.questions), keys(before.questions));
  assert.equal(ticked.questions.find(({ task }) => task === "divide").done, "2026-10-20");
  const no = tasksOf(known({ agenda: answer, notYet: new Set([question.key]) }));
  assert.equal(no.questions.some(({ key }) => key === question.key), false);
  assert([...no.today, ...no.ahead, ...no.later].some(({ key }) => key === question.key));
});

test("a move stands among the tasks like any plan", () => {
  const answer = agenda({
    plans: [{ ...plan("Kurrajong", "2026-10-24"), method: { kind: "move", distanceM: 2 }, wanted: "2026-10-20", announced: [{ task: "stage-1", date: "2026-10-20" }] }],
    brief: true,
  });
  const tasks = tasksOf(known({ agenda: answer }));
  const all = [...tasks.today, ...tasks.ahead, ...tasks.later, ...tasks.questions];
  assert(all.every(({ box }) => box === "Kurrajong") && all.length >= 4);
  const question = tasks.questions.find(({ task }) => task === "stage-1");
  assert(question);
  // Its evening is ahead, so it stands in its place too: once, whatever is answered.
  const no = tasksOf(known({ agenda: answer, notYet: new Set([question.key]) }));
  for (const { today, ahead, later } of [tasks, no]) {
    const stage = [...today, ...ahead, ...later].filter(({ task, follow }) => [task, ...follow].includes("stage-1"));
    assert.equal(stage.length, 1);
  }
});

test("a stage of a move is one item with what follows, and says whether the box is open", () => {
  const divided = { date: "2026-10-02", task: "divide" };
  const on = (today, more = []) => tasksOf(known({ todayAt: () => today, agenda: agenda({ plans: [plan("Wattle", today, [divided, ...more])], brief: true }) })).today;
  const [evening] = on("2026-10-23");
  assert.equal(evening.task, "stage-1-close");
  assert.match(evening.then, /^Sat 24 Oct \d\d:\d\d–\d\d:\d\d move 0\.5 m \(1 of 2\), mesh off$/);
  const [dawn] = on("2026-10-24");
  assert.equal(dawn.then, "mesh off");
  assert.deepEqual(dawn.answers.map(({ tasks }) => tasks), [["stage-1", "stage-1-open"], ["stage-1"]]);
  const moved = { date: "2026-10-24", task: "stage-1" };
  for (const today of ["2026-10-24", "2026-10-25"]) {
    const [first] = on(today, [moved]);
    assert.deepEqual([first.task, first.isShut], ["stage-1-open", true]);
  }
  assert(on("2026-10-25", [moved, { date: "2026-10-24", task: "stage-1-open" }]).every(({ isShut }) => !isShut));
});
