// What a link brought: shown before it is taken.

import { refusal } from "../check-state.js";
import { writeCoordinates } from "../coordinates.js";
import { h } from "../dom.js";
import { firstState } from "../state.js";
import { readFragment, take } from "../share.js";
import { text } from "../text/en.js";

const words = text.share;

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive @param {string} fragment */
export function takeView(app, arrive, fragment) {
  const root = h("div", { class: "view view-take" });
  const shared = readFragment(fragment);
  const bad = shared === null ? words.unreadable : refusal({ ...firstState(), places: [shared.place], plans: shared.plans }, app.now())?.message;
  const leave = h("button", { type: "button", onclick: () => arrive(app.place ? "dawn" : "place") }, words.leave);
  if (shared === null || bad !== undefined) {
    root.append(h("h1", null, words.taken), h("p", { class: "error", role: "alert" }, bad ?? words.unreadable), h("div", { class: "actions" }, leave));
    return root;
  }
  const { place, plans } = shared;
  root.append(
    h("h1", null, words.taken),
    h("p", { class: "lead" }, h("b", null, place.name), ", ", writeCoordinates(place)),
    plans.length > 0 ? h("ul", { class: "reasons" }, plans.map(({ colony }) => h("li", null, [colony.name, colony.daughterName].filter(Boolean).join(" + ")))) : "",
    h("p", null, words.nothingLost),
    h("div", { class: "actions" }, h("button", { type: "button", class: "main-action", onclick: () => {
      app.change((state) => take(state, shared));
      arrive(plans.length > 0 ? "plan" : "dawn");
    } }, words.takeIt), leave),
  );
  return root;
}
