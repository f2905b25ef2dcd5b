// A plan as files for other programs, and on paper.

import { html } from "./lit-html/lit-html.js";

import { download, fileName } from "./download.js";
import * as engine from "./engine.js";
import { shareBox } from "./share-box.js";
import { text } from "./text/en.js";

const words = text.planFiles;

/**
 * @param {import("./app.js").App} app @param {() => import("./state.js").PlanEntry} entry
 * @returns {(plan: any) => any}
 */
export function planFiles(app, entry) {
  const share = shareBox(() => /** @type {import("./state.js").Place} */ (app.place), () => [entry()]);
  const file = (/** @type {string} */ label, /** @type {() => void} */ act) => html`<button type="button" @click=${act}>${label}</button>`;
  return (plan) => html`<section class="no-print">
    <h2>${words.heading}</h2>
    <p class="hint">${words.hint}</p>
    <div class="actions">
      ${file(words.ics, () => {
        download(fileName(plan.title, "ics"), "text/calendar", engine.calendar(plan, entry().sequence, app.now()));
        // The next file is a later version of the same events.
        app.change(() => { entry().sequence += 1; });
      })}
      ${file(words.csv, () => download(fileName(plan.title, "csv"), "text/csv", `\ufeff${engine.planCsv(plan)}`))}
      ${file(words.json, () => download(fileName(plan.title, "json"), "application/json", `${JSON.stringify([snakeCase(plan)], null, 2)}\n`))}
      ${file(words.print, () => print())}
    </div>
    ${share}
  </section>`;
}

/** A plan with the engine's own names, as its other doors read and write it. @param {any} value @returns {any} */
function snakeCase(value) {
  if (Array.isArray(value)) return value.map(snakeCase);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key.replace(/(?!^)[A-Z]/g, (letter) => `_${letter.toLowerCase()}`), snakeCase(item)]));
}
