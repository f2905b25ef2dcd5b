// Which bees, and a keeper's own numbers for them.

import { html } from "./lit-html/lit-html.js";

import * as engine from "./engine.js";
import { field, select } from "./fields.js";
import { numberFields } from "./numbers.js";
import { fold } from "./templates.js";
import { text } from "./text/en.js";

const words = text.bees;

/** @param {import("./app.js").App} app @returns {() => any} what is shown of the place as it is then */
export function beeEditor(app) {
  const place = () => /** @type {import("./state.js").Place} */ (app.place);
  const kind = field(
    words.kind,
    select(engine.beeNames().map((name) => [name, beeLabel(name)]), "", {
      onchange: () => app.change(() => Object.assign(place(), { bee: kind.input.value, beeNumbers: {} })),
    }),
    { hint: words.hint },
  );
  /** The fields of a kind of bees: each has numbers of its own. @type {Map<string, () => HTMLElement>} */
  const numbers = new Map();

  return () => {
    const { bee } = place();
    kind.bind(bee);
    if (!numbers.has(bee)) numbers.set(bee, numberFields(app, defaultsOf(bee), () => place().beeNumbers, (next) => engine.bee({ ...place(), beeNumbers: next }), (next) => app.change(() => { place().beeNumbers = next; })));
    return html`${kind.box}${fold(words.own, html`<p class="hint">${words.ownHint}</p>`, numbers.get(bee)?.())}`;
  };
}

/** The numbers of a kind of bees, as they are built in. @param {string} bee */
function defaultsOf(bee) {
  const built = engine.bee(/** @type {any} */ ({ bee, beeNumbers: {} }));
  return Object.entries(built)
    .filter(([, value]) => value && typeof value === "object" && "unit" in /** @type {any} */ (value))
    .map(([name, number]) => ({ name: snake(name), number }));
}

const snake = (/** @type {string} */ name) => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

const labels = new Map();
/** @param {string} name */
export function beeLabel(name) {
  if (!labels.has(name)) {
    const label = words.generic[/** @type {keyof typeof words.generic} */ (name)];
    labels.set(name, label ?? engine.bee(/** @type {any} */ ({ bee: name, beeNumbers: {} })).label);
  }
  return labels.get(name);
}
