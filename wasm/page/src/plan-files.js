// A plan as files for other programs, and on paper.

import { download, fileName } from "./download.js";
import { h } from "./dom.js";
import * as engine from "./engine.js";
import { shareBox } from "./share-box.js";
import { text } from "./text/en.js";

const words = text.planFiles;

/** @param {import("./app.js").App} app @param {import("./state.js").PlanEntry} entry @param {any} plan */
export function planFiles(app, entry, plan) {
  const file = (/** @type {string} */ label, /** @type {() => void} */ act) => h("button", { type: "button", onclick: act }, label);
  return h(
    "section",
    { class: "no-print" },
    h("h2", null, words.heading),
    h("p", { class: "hint" }, words.hint),
    h(
      "div",
      { class: "actions" },
      file(words.ics, () => {
        download(fileName(plan.title, "ics"), "text/calendar", engine.calendar(plan, entry.sequence, app.now()));
        // The next file is a later version of the same events.
        app.change(() => { entry.sequence += 1; });
      }),
      file(words.csv, () => download(fileName(plan.title, "csv"), "text/csv", `\ufeff${engine.planCsv(plan)}`)),
      file(words.json, () => download(fileName(plan.title, "json"), "application/json", `${JSON.stringify([snakeCase(plan)], null, 2)}\n`)),
      file(words.print, () => print()),
    ),
    shareBox(/** @type {import("./state.js").Place} */ (app.place), () => [entry]),
  );
}

/** A plan with the engine's own names, as its other doors read and write it. @param {any} value @returns {any} */
function snakeCase(value) {
  if (Array.isArray(value)) return value.map(snakeCase);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key.replace(/(?!^)[A-Z]/g, (letter) => `_${letter.toLowerCase()}`), snakeCase(item)]));
}
