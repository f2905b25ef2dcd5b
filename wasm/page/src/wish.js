// What is said of the date on which a keeper would like to begin, where it is not plainly good.

import { fullDate, span } from "./dates.js";
import { h } from "./dom.js";
import { reasonList } from "./sources.js";
import { text } from "./text/en.js";

const words = text.wish;

/** @param {any} wish @param {import("./app.js").App} app */
export function wishBox(wish, app) {
  if (!wish || wish.state === "good") return null;
  const { date, state, reasons, before, after, otherWays = [] } = wish;
  return h(
    "section",
    { class: `wish is-${state}` },
    h("h2", null, words.state[/** @type {"at_risk" | "closed"} */ (state)](fullDate(date))),
    reasonList(reasons, app),
    before || after ? h("p", null, words.goodDates([before, after].filter(Boolean).map(fullDate))) : null,
    otherWays.length > 0 ? [h("h3", null, words.otherWays), reasonList(otherWays, app)] : null,
  );
}

/** Says that a date of the keeper's own lies outside the season of its plan, where it does. @param {string} date @param {any} plan */
export const outsideLine = (date, { window }) =>
  window && (date < window.opens || date > window.closes) ? h("p", { class: "error outside" }, words.outside(span(window.opens, window.closes))) : null;
