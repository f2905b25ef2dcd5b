// The one place where what the page knows is held and changed. Views read it and are told of changes.

import * as engine from "./engine.js";
import { save } from "./storage.js";
import { showing } from "./units.js";
import { fullDate } from "./dates.js";
import { writer } from "./sentences.js";

/** @typedef {ReturnType<typeof createApp>} App */

/** @param {import("./state.js").State} first @param {boolean} stored whether the device has it, where it is to be kept */
export function createApp(first, stored) {
  let state = first;
  /** @type {Set<() => void>} */
  const listeners = new Set();

  const app = {
    get state() {
      return state;
    },
    /** Whether the view of plans is opened for a new one. */
    wantsNewPlan: false,
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
    /** A sentence of the engine with the units and dates that are shown. @param {import("./sentences.js").Reason} reason */
    sentence: (reason) => writer(engine.catalogue(), { ...app.show.parts, date: fullDate })(reason),
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
