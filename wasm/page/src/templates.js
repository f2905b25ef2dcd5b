// Pieces of templates that several views share, and when a view is drawn anew.

import { html, nothing } from "./lit-html/lit-html.js";
import { repeat } from "./lit-html/directives/repeat.js";

/** A line that opens to more. @param {any} summary @param {...any} content */
export const fold = (summary, ...content) => html`<details><summary>${summary}</summary>${content}</details>`;

/** A part of a view in which something is entered: it opens on a tap, and stays off paper. @param {string} heading @param {...any} content */
export const editor = (heading, ...content) => html`<details class="no-print"><summary><h2>${heading}</h2></summary>${content}</details>`;

/** What is made anew where `thing` is another one, with its folds. @param {any} thing @param {any} content */
export const keyed = (thing, content) => repeat([thing], (one) => one, () => content);

/** Lines as a list. @param {readonly any[]} lines */
export const list = (lines) => html`<ul class="reasons">${lines.map((line) => html`<li>${line}</li>`)}</ul>`;

/** Terms, each with what is said of it; what has no value is left out. @param {readonly (readonly [any, any] | null | undefined | false)[]} pairs @param {string} [kind] */
export const pairs = (pairs, kind = "") =>
  html`<dl class=${`pairs ${kind}`}>${pairs.map((pair) => (pair ? html`<dt>${pair[0]}</dt><dd>${pair[1]}</dd>` : nothing))}</dl>`;

/**
 * Draws a view: at once, or soon after the state has changed, once however often it does in one go and as long as the
 * view is there. The engine is asked anew only then.
 * @param {Element} root @param {() => void} ask @param {() => void} draw
 */
export function drawing(root, ask, draw) {
  let isStale = true;
  function now() {
    if (isStale) {
      isStale = false;
      ask();
    }
    draw();
  }
  return {
    now,
    soon() {
      isStale = true;
      queueMicrotask(() => { if (isStale && root.isConnected) now(); });
    },
  };
}
