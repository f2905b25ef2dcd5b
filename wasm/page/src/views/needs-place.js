// What a view shows as long as no place is known.

import { fill, h } from "../dom.js";
import { text } from "../text/en.js";

/** @template {HTMLElement} T @param {T} root @param {string} heading @param {(name: string) => void} arrive @returns {T} */
export function needsPlace(root, heading, arrive) {
  fill(
    root,
    h("h1", null, heading),
    h("p", null, text.frame.needsPlace),
    h("div", { class: "actions" }, h("button", { type: "button", class: "main-action", onclick: () => arrive("place") }, text.frame.toPlace)),
  );
  return root;
}
