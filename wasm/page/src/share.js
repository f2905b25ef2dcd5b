// A place and its plans as a text for the fragment of an address, and back: no server sees what stands behind the #.

import { firstState, freeId, knownPlace, knownPlan, readState } from "./state.js";

/** @typedef {import("./state.js").Place} Place */
/** @typedef {import("./state.js").PlanEntry} PlanEntry */

/** What the fragment begins with. */
export const sign = "take=";
/** The longest text that is read. */
const MOST = 100_000;

/** The fragment of a place and plans made for it. A forecast is left out: it ages. @param {Place} place @param {PlanEntry[]} plans */
export function fragment(place, plans) {
  const shared = { place: { ...knownPlace(place), forecast: null }, plans: plans.map((plan) => ({ ...knownPlan(plan), seen: {} })) };
  const bytes = new TextEncoder().encode(JSON.stringify(shared));
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  // RFC 4648, section 5: the alphabet for addresses.
  return sign + btoa(text).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
}

/** The place and the plans of a fragment; null where it holds none. @param {string} fragment @returns {{place: Place, plans: PlanEntry[]} | null} */
export function readFragment(fragment) {
  if (!fragment.startsWith(sign) || fragment.length > MOST) return null;
  let shared;
  try {
    const text = atob(fragment.slice(sign.length).replace(/-/g, "+").replace(/_/g, "/"));
    shared = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(Uint8Array.from(text, (letter) => letter.charCodeAt(0))));
  } catch {
    return null;
  }
  const { place, plans } = shared ?? {};
  if (!place || !Array.isArray(plans)) return null;
  const read = readState(JSON.stringify({ ...firstState(), places: [place], placeId: place.id, plans }));
  return "state" in read ? { place: read.state.places[0], plans: read.state.plans } : null;
}

/**
 * Adds what was shared to a state, and overwrites nothing: a place that is there already stays as it is.
 * @param {import("./state.js").State} state @param {{place: Place, plans: PlanEntry[]}} shared
 */
export function take(state, { place, plans }) {
  const isSame = (/** @type {Place} */ one) => one.latitudeDeg === place.latitudeDeg && one.longitudeDeg === place.longitudeDeg && one.zone === place.zone;
  const known = state.places.find(isSame);
  const here = known ?? { ...place, id: freeId("place", state.places) };
  if (!known) state.places.push(here);
  state.placeId = here.id;
  const told = (/** @type {PlanEntry} */ { method, move, colony, choices, numbers, records, fixed, wanted }) => JSON.stringify([method, move, colony, choices, numbers, records, fixed, wanted]);
  for (const plan of plans) {
    const there = state.plans.find((one) => one.placeId === here.id && told(one) === told(plan));
    const id = there?.id ?? freeId("plan", state.plans);
    if (!there) state.plans.push({ ...plan, id, placeId: here.id, seen: {} });
    state.planId = id;
  }
}
