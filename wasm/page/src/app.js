// The one place where what the page knows is held and changed. Views read it and are told of changes.

import * as engine from "./engine.js";
import { save } from "./storage.js";
import { showing } from "./units.js";
import { withDates } from "./dates.js";
import { text } from "./text/en.js";

/** @typedef {ReturnType<typeof createApp>} App */

/** A rule of the season by its name for people; other names stay. @param {string} name */
const ruleName = (name) => {
  const known = text.year.ruleNames[/** @type {keyof typeof text.year.ruleNames} */ (name)];
  return known ? `“${known}”` : name;
};

/** @param {import("./state.js").State} first */
export function createApp(first) {
  let state = first;
  /** @type {Set<() => void>} */
  const listeners = new Set();
  let stored = true;

  const app = {
    get state() {
      return state;
    },
    /** False where the device refused to keep the state. */
    get stored() {
      return stored;
    },
    get place() {
      return state.places.find(({ id }) => id === state.placeId);
    },
    /** The plans of the place. */
    get plans() {
      return state.plans.filter(({ placeId }) => placeId === state.placeId);
    },
    /** The plan that is looked at. */
    get plan() {
      return app.plans.find(({ id }) => id === state.planId) ?? app.plans[0];
    },
    get show() {
      return showing(state.display);
    },
    /** A sentence of the engine with the units, dates and names that are shown. @param {string} sentence */
    sentence: (sentence) => app.metric(app.show.sentence(sentence)),
    /** The same in the engine's own units. @param {string} sentence */
    metric: (sentence) => withDates(sentence.replace(/\b[a-z]+(_[a-z]+)+\b/g, ruleName)),
    now: () => new Date(),
    /** Today at the place. */
    today: () => {
      const place = app.place;
      return place ? engine.dateAt(place, app.now()) : app.now().toISOString().slice(0, 10);
    },
    /** Changes the state, keeps it where that is wanted, and tells the views. @param {(state: import("./state.js").State) => void} how */
    change(how) {
      how(state);
      stored = save(state);
      for (const listener of [...listeners]) listener();
    },
    /** Puts another state in place of this one. @param {import("./state.js").State} other */
    replace(other) {
      state = other;
      app.change(() => {});
    },
    /** Goes on with what another tab has kept; what is looked at here stays. @param {import("./state.js").State} other */
    adopt(other) {
      const { placeId, planId } = state;
      state = {
        ...other,
        placeId: other.places.some(({ id }) => id === placeId) ? placeId : other.placeId,
        planId: other.plans.some(({ id }) => id === planId) ? planId : other.planId,
      };
      for (const listener of [...listeners]) listener();
    },
    /** @param {() => void} listener @returns {() => void} ends it */
    onChange(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
  return app;
}
