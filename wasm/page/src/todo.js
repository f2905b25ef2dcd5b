// What there is to do, asked of the engine for every place; ticked off and taken back.

import { tasksOf } from "./agenda-model.js";
import { steps } from "./course.js";
import * as engine from "./engine.js";
import { text } from "./text/en.js";

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
  const ways = places.flatMap((place) => {
    if (!place.move) return [];
    try {
      const way = steps(engine.course(place, place.move), app).map(({ key, title, dates, window }) => ({
        key, title, date: dates.best, earliest: dates.earliest, latest: dates.latest, clocks: window ? `${window.fromClock}–${window.untilClock}` : null,
      }));
      return [{ placeId: place.id, today: todayAt(place.id), box: moveName(place.move), steps: way, done: place.move.done ?? {} }];
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      return []; // The move itself says what is wrong with it.
    }
  });
  return { agenda: answer, refused, tasks: tasksOf({ agenda: answer, ways, placeOf, todayAt, ticked, notYet }), todayAt };
}

/** What is on the move. @param {import("./state.js").Move} move */
export const moveName = ({ hive, kind }) => hive ?? (kind === "parting" ? text.move.newBoxShort : text.move.hiveShort);

/** Writes down that something was done on a day; gives why it could not be. @param {import("./app.js").App} app @param {Item} item @param {string} date */
export function tick(app, item, date) {
  const { places, plans } = app.state;
  const place = /** @type {import("./state.js").Place} */ (places.find(({ id }) => id === item.placeId));
  const { move } = place;
  if (item.kind === "move") {
    app.change(() => { if (move) move.done = { ...move.done, [item.task]: date }; });
    return null;
  }
  const entry = /** @type {import("./state.js").PlanEntry} */ (plans.find(({ id }) => id === item.planId));
  const records = [...entry.records, { date, task: item.task }];
  try {
    engine.review(place, { ...entry, records }, engine.dateAt(place, app.now()));
  } catch (error) {
    if (!(error instanceof engine.ApiaryError)) throw error;
    return error.message;
  }
  app.change(() => { entry.records = records; });
  return null;
}

/** Takes that back. @param {import("./app.js").App} app @param {Item} item */
export function untick(app, item) {
  app.change(({ places, plans }) => {
    const move = places.find(({ id }) => id === item.placeId)?.move;
    if (item.kind === "move") {
      if (move?.done) delete move.done[item.task];
      return;
    }
    const entry = plans.find(({ id }) => id === item.planId);
    if (entry) entry.records = entry.records.filter(({ task }) => task !== item.task);
  });
}

/** A task that was not done is announced for the day on which it stands now. @param {import("./app.js").App} app @param {Item} item */
export function putOff(app, item) {
  app.change(({ plans }) => {
    const entry = plans.find(({ id }) => id === item.planId);
    if (entry) entry.seen = { ...entry.seen, [item.task]: item.date };
  });
}
