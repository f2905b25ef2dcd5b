// What is shown of a plan, from the engine's answer alone: values in, values out.

import { daysBetween } from "./dates.js";

/** The day on which a task stands: that on which it was done, or the best for it. @param {any} task @returns {string} */
export const dayOf = ({ state, dates }) => (state.kind === "done" ? state.on : dates.best);

/** Tasks by their day; those of one day stay as they come. @param {readonly any[]} tasks @returns {any[]} */
export const byDay = (tasks) => [...tasks].sort((a, b) => (dayOf(a) < dayOf(b) ? -1 : dayOf(a) > dayOf(b) ? 1 : 0));

/**
 * When a hive stands in its new place: the dates of the last of its plan's moves, with what was done and when;
 * null where one of them has no date.
 * @param {any} plan @returns {{earliest: string, best: string, latest: string, isDone: boolean} | null}
 */
export function finishOf({ tasks, waiting = [] }) {
  if (waiting.some((/** @type {any} */ { kind }) => kind === "move")) return null;
  const last = byDay(tasks.filter((/** @type {any} */ { kind, state }) => kind === "move" && state.kind !== "dropped")).at(-1);
  if (!last) return null;
  const { state, dates } = last;
  return state.kind === "done" ? { earliest: state.on, best: state.on, latest: state.on, isDone: true } : { ...dates, isDone: false };
}

/**
 * @typedef {{
 *   task: any, id: string, date: string, away: number, isDone: boolean, isDue: boolean,
 *   fixed: string | null, outside: {opens: string, closes: string} | null, range: [string, string] | null,
 * }} Card a task as it is shown: `fixed` is the day that the keeper has put it on, `outside` the season that this lies outside of
 */

/** @param {any} task @param {{plan: any, fixed: readonly {task: string, date: string}[], today: string}} known @returns {Card} */
function cardOf(task, { plan: { window }, fixed, today }) {
  const { id, dates, state } = task;
  const isDone = state.kind === "done";
  const own = fixed.find((one) => one.task === id)?.date ?? null;
  const isOut = own !== null && !isDone && window && (dates.best < window.opens || dates.best > window.closes);
  return {
    task, id, date: dayOf(task), away: daysBetween(today, dates.best), isDone, isDue: !isDone && dates.earliest <= today, fixed: own,
    outside: isOut ? window : null, range: !isDone && dates.earliest !== dates.latest ? [dates.earliest, dates.latest] : null,
  };
}

/** The dates of the tasks that are still planned. @param {any} plan @returns {Record<string, string>} */
export const datesOf = ({ tasks }) =>
  Object.fromEntries(tasks.filter((/** @type {any} */ { state }) => state.kind === "planned").map((/** @type {any} */ { id, dates }) => [id, dates.best]));

/**
 * @param {{plan: any, entry: import("./state.js").PlanEntry, today: string}} known
 */
export function planOf({ plan, entry, today }) {
  const of = (/** @type {string} */ kind) => byDay(plan.tasks).filter(({ state }) => state.kind === kind);
  const cards = (/** @type {string} */ kind) => of(kind).map((task) => cardOf(task, { plan, fixed: entry.fixed, today }));
  const first = plan.tasks.find((/** @type {any} */ { kind, state }) => kind === "divide" && state.kind !== "dropped");
  return {
    planned: cards("planned"), done: cards("done"), dropped: of("dropped"), waiting: plan.waiting ?? [],
    begin: first ? { date: dayOf(first), isDone: first.state.kind === "done", isPlanned: first.state.kind === "planned" } : null,
    /** What has moved since the keeper last looked. */
    moved: of("planned").filter(({ id, dates }) => entry.seen[id] && entry.seen[id] !== dates.best).map(({ id, title, dates }) => ({ title, from: entry.seen[id], to: dates.best })),
  };
}
