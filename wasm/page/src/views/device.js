// Units, light or dark, and what is kept on this device.

import { html, nothing, render } from "../lit-html/lit-html.js";

import { refusal } from "../check-state.js";
import { download } from "../download.js";
import { focusOn, h } from "../dom.js";
import * as engine from "../engine.js";
import { field, oneOf, tick } from "../fields.js";
import { showing } from "../units.js";
import { numberLabel } from "../numbers.js";
import { forgetOffline } from "../offline.js";
import { quantity, sourceList } from "../sources.js";
import { firstState, otherFile, readState } from "../state.js";
import { asides, dropAside } from "../storage.js";
import { drawing, fold } from "../templates.js";
import { text } from "../text/en.js";

const words = text.device;
/** The engine's list stands in the engine's units. */
const metric = showing({ temperature: "c", length: "m", theme: "auto" });

/** @typedef {import("../state.js").State} State */

/** @param {import("../app.js").App} app */
export function deviceView(app) {
  const root = /** @type {import("../main.js").ViewRoot} */ (h("div", { class: "view view-device" }));
  /** What was done last. */
  let said = "";
  const { now, soon } = drawing(root, () => {}, draw);

  const set = (/** @type {Partial<State["display"]>} */ display) => app.change((state) => { Object.assign(state.display, display); });
  /** What is chosen for the display; made anew where something else has changed it. */
  let display = choices();
  function choices() {
    const { temperature, length, theme } = app.state.display;
    return [
      oneOf(words.temperature, [["c", "°C"], ["f", "°F"]], temperature, (value) => set({ temperature: /** @type {"c"} */ (value) })),
      oneOf(words.length, [["m", words.metres], ["ft", words.feet]], length, (value) => set({ length: /** @type {"m"} */ (value) })),
      oneOf(words.theme, [["auto", words.themeAuto], ["dark", words.themeDark], ["light", words.themeLight]], theme, (value) => set({ theme: /** @type {"auto"} */ (value) })),
    ];
  }
  const keep = tick(words.keep, app.state.keep, (on) => {
    app.change((state) => { state.keep = on; });
    said = !app.stored ? words.notStored : on ? words.nowKept : words.nowForgotten;
    now();
  }, words.keepHint);
  const file = field(words.restore, h("input", { type: "file", accept: ".json,application/json", onchange: restore }), { hint: words.restoreHint });
  now();
  root.update = soon;
  return root;

  async function restore() {
    const chosen = file.input.files?.[0];
    if (!chosen) return;
    file.fail(null);
    if (chosen.size > 5_000_000) return file.fail(words.tooLarge);
    const content = await chosen.text();
    file.input.value = "";
    const other = otherFile(content);
    if (other) return file.fail(words.otherFile[other]);
    const read = readState(content);
    if ("wrong" in read) return file.fail(words.unreadable(read.wrong));
    const refused = refusal(read.state, app.now());
    if (refused) return file.fail(`${refused.where}: ${refused.message}`);
    // Whether this device keeps anything is for its own user to say.
    app.replace({ ...read.state, keep: app.state.keep });
    display = choices();
    say(words.restored(read.state.places.length, read.state.plans.length));
  }

  async function erase() {
    for (const { name } of asides()) dropAside(name);
    app.replace(firstState());
    await forgetOffline();
    display = choices();
    say(words.erased);
  }

  /** Says what was done, to the ear as well. @param {string} what */
  function say(what) {
    said = what;
    now();
    focusOn(root.querySelector(".status"));
  }

  function draw() {
    keep.bind(app.state.keep);
    render(html`
      <h1>${words.heading}</h1>
      <p class="status" role="status">${said}</p>
      <h2>${words.display}</h2>
      ${display}
      <p class="hint">${words.themeHint}</p>
      <h2>${words.kept}</h2>
      <p>${words.keptAbout}</p>
      ${keep.box}
      <div class="actions"><button type="button" @click=${() => download("apiary-almanac.json", "application/json", `${JSON.stringify(app.state, null, 2)}\n`)}>${words.saveFile}</button></div>
      ${file.box}
      ${setAside()}
      ${fold(words.erase, html`<p>${words.eraseWarning}</p><div class="actions"><button type="button" class="danger" @click=${erase}>${words.eraseNow}</button></div>`)}
      <h2>${words.about}</h2>
      <p>${words.aboutText(engine.version())}</p>
      <p>${words.limits}</p>
      ${fold(words.licences, words.licenceLines.map((line) => html`<p>${line}</p>`))}
      ${fold(words.allNumbers, groups())}`, root);
  }

  /** What could not be read, to be taken away as files. */
  function setAside() {
    const all = asides();
    if (all.length === 0) return nothing;
    const wipe = (/** @type {string} */ name) => {
      dropAside(name);
      say(words.asideDropped);
    };
    return html`<section class="aside">
      <h3>${words.aside}</h3>
      <p>${words.asideAbout}</p>
      ${all.map(({ name, text: content }, i) => html`<div class="actions">
        <button type="button" @click=${() => download(`${name}.json`, "application/json", content)}>${words.asideSave(i + 1)}</button>
        <button type="button" class="danger" @click=${() => wipe(name)}>${words.asideDrop(i + 1)}</button>
      </div>`)}
    </section>`;
  }

  function groups() {
    /** @type {Map<string, any[]>} */
    const byGroup = new Map();
    for (const { group, name, number } of engine.parameters()) byGroup.set(group, [...(byGroup.get(group) ?? []), { name, number }]);
    return [...byGroup].map(([group, numbers]) =>
      fold(group.replace(/_/g, " "), sourceList(numbers.map(({ name, number }) => ({ label: numberLabel(name), value: quantity(number, metric), source: number.source })))));
  }
}
