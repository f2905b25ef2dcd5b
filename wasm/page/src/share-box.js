// The link and the QR code of a place or a plan.

import { fill, h, newId, svg } from "./dom.js";
import { field } from "./fields.js";
import { fragment } from "./share.js";
import { text } from "./text/en.js";

const words = text.share;
/** Denser codes are hard to read off a phone: version 25 of ISO/IEC 18004 has 117 modules. */
const MOST_MODULES = 117;
/** Light modules around a code, as ISO/IEC 18004 asks for. */
const QUIET = 4;

/**
 * A fold that makes the link when it is opened.
 * @param {() => import("./state.js").Place} place @param {() => import("./state.js").PlanEntry[]} plans
 */
export function shareBox(place, plans) {
  const holder = h("div");
  return h("details", { class: "share no-print", ontoggle: (/** @type {Event} */ event) => { if (/** @type {HTMLDetailsElement} */ (event.target).open) draw(); } }, h("summary", null, words.heading), holder);

  async function draw() {
    const link = `${location.origin}${location.pathname}#${fragment(place(), plans())}`;
    const status = h("p", { class: "status", role: "status" });
    const shown = field(words.link, h("input", { type: "text", readonly: true, value: link, onfocus: (/** @type {any} */ { target }) => target.select() }));
    const code = h("div");
    const share = "share" in navigator ? h("button", { type: "button", onclick: () => navigator.share({ url: link }).catch(() => {}) }, words.send) : null;
    const copy = h("button", { type: "button", onclick: async () => {
      try {
        await navigator.clipboard.writeText(link);
        fill(status, words.copied);
      } catch {
        shown.input.focus(); // It is chosen there, to be copied by hand.
      }
    } }, words.copy);
    fill(holder, h("p", { class: "warning" }, words.warning), shown.box, h("div", { class: "actions" }, copy, share), status, code);
    const made = await import("./qr.js").catch(() => null);
    fill(code, made ? picture(made, link) : h("p", { class: "hint" }, text.frame.notFetched));
  }
}

/** @param {typeof import("./qr.js")} library @param {string} link */
function picture({ generate, correction }, link) {
  let code;
  try {
    code = generate(link, { minCorrectionLevel: correction.L });
  } catch {
    return h("p", { class: "hint" }, words.tooLong); // More than a code can hold.
  }
  if (code.size > MOST_MODULES) return h("p", { class: "hint" }, words.tooLong);
  let path = "";
  for (let y = 0; y < code.size; y += 1) {
    for (let x = 0; x < code.size; x += 1) if (code.get(x, y)) path += `M${x} ${y}h1v1h-1z`;
  }
  const side = code.size + 2 * QUIET;
  const title = svg("title", { id: newId("qr") }, words.code);
  return h(
    "figure",
    { class: "qr" },
    svg("svg", { viewBox: `${-QUIET} ${-QUIET} ${side} ${side}`, role: "img", "aria-labelledby": title.id, "shape-rendering": "crispEdges" }, title, svg("rect", { x: -QUIET, y: -QUIET, width: side, height: side, fill: "#fff" }), svg("path", { d: path, fill: "#000" })),
    h("figcaption", { class: "hint" }, words.codeHint),
  );
}
