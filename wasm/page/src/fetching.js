// Shown while the engine is on its way, and where it does not come.

import { fill, h } from "./dom.js";
import { start } from "./engine.js";
import { text } from "./text/en.js";

const words = text.frame;

/**
 * A line that tells how far the engine is; `done` is called once it is there. Where it does not come, the line says
 * so and offers to try again.
 * @param {() => void} done
 */
export function fetching(done) {
  const bytes = Number(document.documentElement.dataset.engineBytes);
  const box = h("div", { class: "fetching" });
  const said = h("p", { role: "status" });
  run();
  return box;

  async function run() {
    const bar = h("progress", { "aria-label": words.fetching, ...(bytes > 0 ? { max: bytes, value: 0 } : {}) });
    fill(said, words.fetching, ".");
    fill(box, said, bar, h("p", { class: "hint" }, words.fetchingAbout));
    try {
      await start((came) => { if (bytes > 0) bar.value = came; });
    } catch {
      fill(said);
      const again = h("button", { type: "button", class: "main-action", onclick: run }, words.fetchAgain);
      fill(box, h("p", { class: "error", role: "alert" }, words.notStarted), h("div", { class: "actions" }, again));
      return;
    }
    box.remove();
    done();
  }
}
