// Whether the engine takes what a file or the storage holds.

import * as engine from "./engine.js";

/** @param {string} where @param {() => void} ask @returns {{where: string, message: string} | null} */
function refused(where, ask) {
  try {
    ask();
    return null;
  } catch (error) {
    if (!(error instanceof engine.ApiaryError)) throw error;
    return { where, message: error.message };
  }
}

/** The first site without which no view can be drawn. @param {import("./state.js").State} state */
export function wrongSite({ places }) {
  for (const [i, place] of places.entries()) {
    if (refused("", () => engine.checkSite(place))) return `places[${i}]`;
  }
  return null;
}

/** The first place or plan that is not taken, by its name. @param {import("./state.js").State} state @param {Date} now */
export function refusal({ places, plans }, now) {
  for (const place of places) {
    const wrong = refused(place.name, () => engine.outlook(place, engine.dateAt(place, now)));
    if (wrong) return wrong;
    for (const entry of plans.filter(({ placeId }) => placeId === place.id)) {
      const bad = refused(entry.colony.name, () => engine.review(place, entry, engine.dateAt(place, now)));
      if (bad) return bad;
    }
  }
  return null;
}
