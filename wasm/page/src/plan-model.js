// What is shown of a plan, from the engine's answer alone: values in, values out.

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
