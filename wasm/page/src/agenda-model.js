// What there is to do over all places and hives, in the order in which a keeper asks: from the engine's agenda and
// what was ticked off just now. No elements, no clock: a value in, a value out.

import { addDays, hourOf, shortDate } from "./dates.js";

/**
 * @typedef {{
 *   key: string, placeId: string, planId: string, task: string,
 *   box: string, title: string, short: string, today: string, date: string, earliest: string, latest: string,
 *   clocks: string | null, at: string | null, condition: import("./sentences.js").Reason | null,
 *   done: string | null, canTick: boolean, then: string | null, follow: string[],
 *   answers: {said: import("./sentences.js").Reason, tasks: string[]}[], isShut: boolean, recorded: string[],
 * }} Item
 * `clocks` is when in the day, in words, `at` when that begins. `today` is the date at its place. `done` is the day for which it was ticked off just now: it stays in its place, to be taken back.
 * `then` is what follows of the same stage of a move, in words, and `follow` its tasks; `answers` what can be said of it, where that is not
 * done alone; `isShut` a moved box that is not known to be open again; `recorded` the tasks that were ticked off with it.
 * @typedef {Item & {wasDue: string, sentence: import("./sentences.js").Reason | null}} Question
 * @typedef {{
 *   today: Item[], ahead: Item[], later: Item[],
 *   questions: Question[], onlyIfNow: Item[], onlyIfLater: Item[],
 *   waiting: {key: string, planId: string, box: string, title: string, until: import("./sentences.js").Reason}[],
 * }} Tasks
 */

/** Days after today whose tasks are shown day by day. */
const AHEAD_D = 7;

/**
 * `Sun 25 Oct 05:37–08:24 move 0.5 m (1 of 2), open entrance`: day and hours where they are others than before.
 * @param {any} one an item of the engine's agenda
 */
function thenOf({ date, window, then = [] }) {
  let [day, clocks] = [date, hourOf({ window })];
  const parts = then.map((/** @type {any} */ next) => {
    const hours = hourOf(next);
    const words = [next.date === day ? "" : shortDate(next.date), hours === clocks ? "" : hours, next.short];
    [day, clocks] = [next.date, hours];
    return words.filter(Boolean).join(" ");
  });
  return parts.length > 0 ? parts.join(", ") : null;
}

/** What is shut before all else, then by day, then by the clock, then what has no time of day. @param {Item} a @param {Item} b */
function inOrder(a, b) {
  const rank = (/** @type {Item} */ one) => `${one.isShut ? 0 : 1} ${one.date} ${one.at ?? "~"} ${one.box} ${one.key}`;
  return rank(a) < rank(b) ? -1 : rank(a) > rank(b) ? 1 : 0;
}

/**
 * @param {{
 *   agenda: any, placeOf: (planId: string) => string, todayAt: (placeId: string) => string,
 *   ticked: {item: Item, list: keyof Tasks}[], notYet: ReadonlySet<string>,
 * }} known the engine's answer, null without any plan; what was ticked off just now, and where it
 * stood; the keys of questions that were answered with no
 * @returns {Tasks}
 */
export function tasksOf({ agenda, placeOf, todayAt, ticked, notYet }) {
  /** @type {Tasks} */
  const tasks = { today: [], ahead: [], later: [], questions: [], onlyIfNow: [], onlyIfLater: [], waiting: [] };
  const isTicked = (/** @type {string} */ key) => ticked.some(({ item }) => item.key === key);
  /** @param {any} one @returns {Item} */
  const ofPlan = (one) => {
    const placeId = placeOf(one.plan);
    const today = todayAt(placeId);
    return {
      key: `${one.plan}/${one.task}`, placeId, planId: one.plan, task: one.task, box: one.boxName, title: one.title, short: one.short, today,
      date: one.date, earliest: one.earliest, latest: one.latest, clocks: hourOf(one), at: one.goodAtClock ?? one.window?.fromClock ?? null, condition: one.onlyIf ?? null,
      done: null, canTick: one.earliest <= today || one.date <= today,
      then: thenOf(one), follow: (one.then ?? []).map((/** @type {any} */ { task }) => task), answers: one.answers ?? [], isShut: one.stillShut ?? false, recorded: [one.task],
    };
  };
  const listed = new Set();
  /** @param {Item} item */
  const sortIn = (item) => {
    if (listed.has(item.key)) return;
    for (const task of [item.task, ...item.follow]) listed.add(`${item.planId}/${task}`);
    const { today } = item;
    const list = item.date <= today ? "today" : item.date <= addDays(today, AHEAD_D) ? "ahead" : "later";
    tasks[/** @type {"today"} */ (list)].push(item);
  };
  for (const one of [...(agenda?.now ?? []), ...(agenda?.next ?? []), ...(agenda?.thisWeek ?? []), ...(agenda?.later ?? [])]) {
    const item = ofPlan(one);
    if (!isTicked(item.key)) sortIn(item);
  }
  for (const { item: one, wasDue, sentence } of agenda?.questions ?? []) {
    const item = ofPlan(one);
    if (isTicked(item.key)) continue;
    // A move whose evening is ahead stands in its place, asked about or not.
    if (notYet.has(item.key)) sortIn(item);
    else tasks.questions.push({ ...item, wasDue, sentence });
  }
  for (const one of agenda?.onlyIf ?? []) {
    const item = ofPlan(one);
    if (!isTicked(item.key)) tasks[item.earliest <= item.today ? "onlyIfNow" : "onlyIfLater"].push(item);
  }
  for (const { plan, boxName, task } of agenda?.waiting ?? []) {
    tasks.waiting.push({ key: `${plan}/${task.id}`, planId: plan, box: boxName, title: task.title, until: task.until });
  }
  for (const { item, list } of ticked) /** @type {Item[]} */ (tasks[list]).push(item);
  for (const list of [tasks.today, tasks.ahead, tasks.later, tasks.questions, tasks.onlyIfNow, tasks.onlyIfLater]) list.sort(inOrder);
  return tasks;
}

/**
 * Tasks that are in the order of the days, day by day.
 * @param {readonly Item[]} items @returns {{date: string, items: Item[]}[]}
 */
export function dayByDay(items) {
  /** @type {{date: string, items: Item[]}[]} */
  const days = [];
  for (const item of items) {
    const last = days.at(-1);
    if (last?.date === item.date) last.items.push(item);
    else days.push({ date: item.date, items: [item] });
  }
  return days;
}
