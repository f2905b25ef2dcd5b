// What is said of the date on which a keeper would like to begin, where it is not plainly good.

import { html, nothing } from "./lit-html/lit-html.js";

import { fullDate } from "./dates.js";
import { reasonList } from "./sources.js";
import { text } from "./text/en.js";

const words = text.wish;

/** @param {any} wish @param {import("./app.js").App} app */
export function wishBox(wish, app) {
  if (!wish || wish.state === "good") return nothing;
  const { date, state, reasons, before, after, otherWays = [] } = wish;
  return html`<section class=${`wish is-${state}`}>
    <h2>${words.state[/** @type {"at_risk" | "closed"} */ (state)](fullDate(date))}</h2>
    ${reasonList(reasons, app)}
    ${before || after ? html`<p>${words.goodDates([before, after].filter(Boolean).map(fullDate))}</p>` : nothing}
    ${otherWays.length > 0 ? html`<h3>${words.otherWays}</h3>${reasonList(otherWays, app)}` : nothing}
  </section>`;
}
