// Units, light or dark, and what is kept on this device.

import { refusal } from "../check-state.js";
import { download } from "../download.js";
import { fill, focusOn, h, more } from "../dom.js";
import * as engine from "../engine.js";
import { field, oneOf, tick } from "../fields.js";
import { showing } from "../units.js";
import { numberLabel } from "../numbers.js";
import { forgetOffline } from "../offline.js";
import { quantity, sourceList } from "../sources.js";
import { firstState, otherFile, readState } from "../state.js";
import { asides, dropAside } from "../storage.js";
import { text } from "../text/en.js";

const words = text.device;
/** The engine's list stands in the engine's units. */
const metric = showing({ temperature: "c", length: "m", theme: "auto" });

/** @param {import("../app.js").App} app */
export function deviceView(app) {
  const root = h("div", { class: "view view-device" });
  const status = h("p", { class: "status", role: "status" });
  draw();
  return root;

  /** @param {string} [said] */
  function draw(said = "") {
    const { display } = app.state;
    fill(status, said);
    const file = field(words.restore, h("input", { type: "file", accept: ".json,application/json", onchange: restore }), { hint: words.restoreHint });

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
      draw(words.restored(read.state.places.length, read.state.plans.length));
      focusOn(status);
    }

    fill(
      root,
      h("h1", null, words.heading),
      status,
      h("h2", null, words.display),
      oneOf(words.temperature, [["c", "°C"], ["f", "°F"]], display.temperature, (value) => app.change((state) => { state.display.temperature = /** @type {"c"} */ (value); })),
      oneOf(words.length, [["m", words.metres], ["ft", words.feet]], display.length, (value) => app.change((state) => { state.display.length = /** @type {"m"} */ (value); })),
      oneOf(words.theme, [["auto", words.themeAuto], ["dark", words.themeDark], ["light", words.themeLight]], display.theme, (value) => app.change((state) => { state.display.theme = /** @type {"auto"} */ (value); })),
      h("p", { class: "hint" }, words.themeHint),
      h("h2", null, words.kept),
      h("p", null, words.keptAbout),
      tick(words.keep, app.state.keep, (on) => { app.change((state) => { state.keep = on; }); fill(status, !app.stored ? words.notStored : on ? words.nowKept : words.nowForgotten); }, words.keepHint),
      h("div", { class: "actions" }, h("button", { type: "button", onclick: () => download("apiary-almanac.json", "application/json", `${JSON.stringify(app.state, null, 2)}\n`) }, words.saveFile)),
      file.box,
      setAside(),
      more(
        words.erase,
        h("p", null, words.eraseWarning),
        h("div", { class: "actions" }, h("button", { type: "button", class: "danger", onclick: async () => {
          for (const { name } of asides()) dropAside(name);
          app.replace(firstState());
          await forgetOffline();
          draw(words.erased);
          focusOn(status);
        } }, words.eraseNow)),
      ),
      h("h2", null, words.about),
      h("p", null, words.aboutText(engine.version())),
      h("p", null, words.limits),
      more(words.licences, words.licenceLines.map((line) => h("p", null, line))),
      more(words.allNumbers, groups()),
    );
  }

  /** What could not be read, to be taken away as files. */
  function setAside() {
    const all = asides();
    if (all.length === 0) return null;
    return h(
      "section",
      { class: "aside" },
      h("h3", null, words.aside),
      h("p", null, words.asideAbout),
      all.map(({ name, text: content }, i) =>
        h(
          "div",
          { class: "actions" },
          h("button", { type: "button", onclick: () => download(`${name}.json`, "application/json", content) }, words.asideSave(i + 1)),
          h("button", { type: "button", class: "danger", onclick: () => { dropAside(name); draw(words.asideDropped); focusOn(status); } }, words.asideDrop(i + 1)),
        ),
      ),
    );
  }

  function groups() {
    /** @type {Map<string, any[]>} */
    const byGroup = new Map();
    for (const { group, name, number } of engine.parameters()) byGroup.set(group, [...(byGroup.get(group) ?? []), { name, number }]);
    return [...byGroup].map(([group, numbers]) =>
      more(
        group.replace(/_/g, " "),
        sourceList(numbers.map(({ name, number }) => ({ label: numberLabel(name), value: quantity(number, metric), source: number.source }))),
      ),
    );
  }
}
