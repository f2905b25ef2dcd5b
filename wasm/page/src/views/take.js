// What a link brought: shown before it is taken.

import { html, nothing, render } from "../lit-html/lit-html.js";

import { refusal } from "../check-state.js";
import { writeCoordinates } from "../coordinates.js";
import { h } from "../dom.js";
import { firstState } from "../state.js";
import { readFragment, take } from "../share.js";
import { list } from "../templates.js";
import { text } from "../text/en.js";

const words = text.share;

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive @param {string} fragment */
export function takeView(app, arrive, fragment) {
  const root = /** @type {import("../main.js").ViewRoot} */ (h("div", { class: "view view-take" }));
  const shared = readFragment(fragment);
  const bad = shared === null ? words.unreadable : refusal({ ...firstState(), places: [shared.place], plans: shared.plans }, app.now())?.message;
  const leave = html`<button type="button" @click=${() => arrive(app.place ? "dawn" : "place")}>${words.leave}</button>`;
  render(html`<h1>${words.taken}</h1>${shared === null || bad !== undefined ? html`<p class="error" role="alert">${bad}</p><div class="actions">${leave}</div>` : offer(shared)}`, root);
  root.update = () => {}; // What came stays as it came.
  return root;

  /** @param {NonNullable<typeof shared>} shared */
  function offer(shared) {
    const { place, plans } = shared;
    const takeIt = () => {
      app.change((state) => take(state, shared));
      arrive(plans.length > 0 ? "plan" : "dawn");
    };
    return html`<p class="lead"><b>${place.name}</b>, ${writeCoordinates(place)}</p>
      ${plans.length > 0 ? list(plans.map(({ colony }) => [colony.name, colony.daughterName].filter(Boolean).join(" + "))) : nothing}
      <p>${words.nothingLost}</p>
      <div class="actions"><button type="button" class="main-action" @click=${takeIt}>${words.takeIt}</button>${leave}</div>`;
  }
}
