// What there is to do, asked of the engine for every place; ticked off and taken back.

import { tasksOf } from "./agenda-model.js";
import * as engine from "./engine.js";

/** @typedef {import("./agenda-model.js").Item} Item */
/** @typedef {{item: Item, list: keyof import("./agenda-model.js").Tasks}} Ticked */

/**
 * @param {import("./app.js").App} app @param {Ticked[]} [ticked] @param {ReadonlySet<string>} [notYet]
 */
export function todo(app, ticked = [], notYet = new Set()) {
  const { places, plans } = app.state;
  const days = new Map(places.map((place) => [place.id, engine.dateAt(place, app.now())]));
  const todayAt = (/** @type {string} */ placeId) => /** @type {string} */ (days.get(placeId));
  const placeOf = (/** @type {string} */ planId) => /** @type {import("./state.js").PlanEntry} */ (plans.find(({ id }) => id === planId)).placeId;
  const asked = plans.flatMap((entry) => places.filter(({ id }) => id === entry.placeId).map((place) => ({ place, entry, today: todayAt(place.id) })));
  const { answer, refused } = engine.agenda(asked);
  return { agenda: answer, refused, tasks: tasksOf({ agenda: answer, placeOf, todayAt, ticked, notYet }) };
}

/** Writes down that something was done on a day, all that is recorded with it; gives why it could not be. @param {import("./app.js").App} app @param {Item} item @param {string} date */
export function tick(app, item, date) {
  const { places, plans } = app.state;
  const place = /** @type {import("./state.js").Place} */ (places.find(({ id }) => id === item.placeId));
  const entry = /** @type {import("./state.js").PlanEntry} */ (plans.find(({ id }) => id === item.planId));
  const records = [...entry.records, ...item.recorded.map((task) => ({ date, task }))];
  try {
    engine.review(place, { ...entry, records }, engine.dateAt(place, app.now()));
  } catch (error) {
    if (!(error instanceof engine.ApiaryError)) throw error;
    return error.message;
  }
  app.change(() => { entry.records = records; });
  return null;
}

/** Takes all of that back. @param {import("./app.js").App} app @param {Item} item */
export function untick(app, item) {
  app.change(({ plans }) => {
    const entry = plans.find(({ id }) => id === item.planId);
    if (entry) entry.records = entry.records.filter(({ task }) => task === undefined || !item.recorded.includes(task));
  });
}

/** A task that was not done is announced for the day on which it stands now. @param {import("./app.js").App} app @param {Item} item */
export function putOff(app, item) {
  app.change(({ plans }) => {
    const entry = plans.find(({ id }) => id === item.planId);
    if (entry) entry.seen = { ...entry.seen, [item.task]: item.date };
  });
}
