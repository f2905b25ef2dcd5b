// A place and its plans in the fragment of an address, and back.

import assert from "node:assert/strict";
import { test } from "node:test";

import { fragment, readFragment, take } from "../page/src/share.js";
import { firstPlaceSettings, firstState } from "../page/src/state.js";

const place = { ...firstPlaceSettings(), id: "place-1", name: "Quoll Creek – Süd", latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney", forecast: { kind: "rows", rows: [] } };
const plan = { id: "plan-1", placeId: "place-1", method: "split", sequence: 0, colony: { name: "Lantern" }, choices: {}, numbers: {}, records: [{ date: "2026-10-03", task: "divide" }], fixed: [], seen: { divide: "2026-10-03" } };

test("what is shared is read back, without a forecast and without what another has seen", () => {
  const text = fragment(place, [plan]);
  assert.match(text, /^take=[A-Za-z0-9_-]+$/); // RFC 4648, section 5
  assert.deepEqual(readFragment(text), { place: { ...place, forecast: null }, plans: [{ ...plan, seen: {} }] });
  const decoded = JSON.parse(Buffer.from(text.slice(5), "base64url").toString());
  assert.equal(decoded.place.name, place.name);
});

test("what is no such text is none", () => {
  const packed = (value) => `take=${Buffer.from(JSON.stringify(value)).toString("base64url")}`;
  for (const text of ["", "take=", "take=!!", "take=e30", "dawn", packed(null), packed({ place, plans: [{}] }), packed({ place: { ...place, latitudeDeg: 91 }, plans: [] }), packed({ place, plans: [{ ...plan, placeId: "other" }] }), packed({ place: { constructor: 1 }, plans: [] }), `take=${"A".repeat(100_001)}`, `take=${Buffer.from([255, 254]).toString("base64url")}`]) {
    assert.equal(readFragment(text), null, text.slice(0, 40));
  }
});

test("the one move of a place, as it was before moves were plans, comes as a plan", () => {
  const move = { kind: "distance", first: "2026-09-14", numbers: {}, distanceM: 3 };
  const packed = `take=${Buffer.from(JSON.stringify({ place: { ...place, move }, plans: [] })).toString("base64url")}`;
  const { place: read, plans } = readFragment(packed);
  assert.equal("move" in read, false);
  assert.deepEqual(plans.map(({ move: one, placeId }) => [one, placeId]), [[move, "place-1"]]);
});

test("it is put beside what is there, and twice is once", () => {
  const state = firstState();
  state.places = [{ ...place, latitudeDeg: -27, name: "Orchard" }];
  state.placeId = "place-1";
  state.plans = [{ ...plan, colony: { name: "Ember" } }];
  const before = structuredClone(state);
  const shared = readFragment(fragment(place, [plan]));
  take(state, shared);
  assert.deepEqual([state.places[0], state.plans[0]], [before.places[0], before.plans[0]]);
  assert.deepEqual([state.places[1].id, state.plans[1].id, state.plans[1].placeId, state.placeId, state.planId], ["place-2", "plan-2", "place-2", "place-2", "plan-2"]);
  take(state, shared);
  assert.deepEqual([state.places.length, state.plans.length], [2, 2]);
});
