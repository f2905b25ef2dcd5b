// Which bees, and a keeper's own numbers for them.

import { fill, h, more } from "./dom.js";
import * as engine from "./engine.js";
import { field, select } from "./fields.js";
import { numberFields } from "./numbers.js";
import { text } from "./text/en.js";

const words = text.bees;

/** @param {import("./app.js").App} app @param {() => void} changed */
export function beeEditor(app, changed) {
  const place = /** @type {import("./state.js").Place} */ (app.place);
  const numbers = h("div");

  function drawNumbers() {
    const built = /** @type {any} */ (engine.bee({ ...place, beeNumbers: {} }));
    const defaults = Object.entries(built)
      .filter(([, value]) => value && typeof value === "object" && "unit" in /** @type {any} */ (value))
      .map(([name, number]) => ({ name: snake(name), number }));
    fill(
      numbers,
      numberFields(
        app,
        defaults,
        place.beeNumbers,
        (next) => engine.bee({ ...place, beeNumbers: next }),
        (next) => {
          place.beeNumbers = next;
          app.change(() => {});
          changed();
        },
      ),
    );
  }

  const kind = field(
    words.kind,
    select(engine.beeNames().map((name) => [name, beeLabel(name)]), place.bee, {
      onchange: () => {
        place.bee = kind.input.value;
        place.beeNumbers = {};
        app.change(() => {});
        drawNumbers();
        changed();
      },
    }),
    { hint: words.hint },
  );
  drawNumbers();
  return h("div", null, kind.box, more(words.own, h("p", { class: "hint" }, words.ownHint), numbers));
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
