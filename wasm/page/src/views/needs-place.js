// What a view shows as long as no place is known.

import { html, render } from "../lit-html/lit-html.js";

import { text } from "../text/en.js";

/** @template {HTMLElement} T @param {T} root @param {string} heading @param {(name: string) => void} arrive @returns {T} */
export function needsPlace(root, heading, arrive) {
  render(html`<h1>${heading}</h1><p>${text.frame.needsPlace}</p>
    <div class="actions"><button type="button" class="main-action" @click=${() => arrive("place")}>${text.frame.toPlace}</button></div>`, root);
  return root;
}
