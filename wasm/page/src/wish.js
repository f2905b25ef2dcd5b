// What is said of the date on which a keeper would like to begin, where it is not good without a doubt.

import { html, nothing } from "./lit-html/lit-html.js";

import { fullDate } from "./dates.js";
import { reasonList } from "./sources.js";
import { text } from "./text/en.js";

const words = text.wish;

/** @param {any} wish @param {import("./app.js").App} app */
export function wishBox(wish, app) {
  if (!wish || wish.reasons.length === 0) return nothing;
  const { date, state, reasons, before, after, otherWays = [] } = wish;
  const tooLate = state === "too_late";
  return html`<section class=${`wish is-${state}`}>
    <h2>${words.state[/** @type {keyof typeof words.state} */ (state)](fullDate(date))}</h2>
    ${tooLate && after ? html`<p class="window-dates">${words.nextGood(fullDate(after))}</p>` : nothing}
    ${reasonList(reasons, app)}
    ${!tooLate && (before || after) ? html`<p>${words.goodDates([before, after].filter(Boolean).map(fullDate))}</p>` : nothing}
    ${otherWays.length > 0 ? html`<h3>${words.otherWays}</h3>${reasonList(otherWays, app)}` : nothing}
  </section>`;
}
