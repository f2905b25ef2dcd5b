// The twelve months as a table: what they are good for, and the rain beside.

import { h, svg } from "./dom.js";
import { text } from "./text/en.js";

const words = text.year;
/** How high a state stands in the bar of a month, so that it can be told without colours. */
const height = { good: 3, at_risk: 2, closed: 1 };

/** @param {import("./year-model.js").Month[]} months */
export function monthsTable(months) {
  const most = Math.max(1, ...months.map(({ rainMm }) => rainMm ?? 0));
  const hasRain = months.some(({ rainMm, wetDays }) => rainMm !== null || wetDays !== null);
  return h(
    "table",
    { class: "months" },
    h("caption", null, words.monthsCaption),
    h("thead", null, h("tr", null, [words.month, words.dividing, ...(hasRain ? [text.common.rain] : [])].map((label) => h("th", { scope: "col" }, label)))),
    h("tbody", null, months.map((one) => h("tr", null, h("th", { scope: "row" }, text.months[one.month], " ", h("span", { class: "soon" }, one.month === 0 || one === months[0] ? String(one.year) : "")), h("td", null, bar(one), h("span", null, told(one))), hasRain ? h("td", null, rain(one)) : null))),
  );

  /** @param {import("./year-model.js").Month} month */
  function bar({ days, parts }) {
    return svg(
      "svg",
      { class: "month-bar", viewBox: `0 0 ${days} 3`, preserveAspectRatio: "none", "aria-hidden": "true" },
      parts.map(({ state, from, to }) => svg("rect", { class: `is-${state}`, x: from - 1, y: 3 - height[state], width: to - from + 1, height: height[state] })),
    );
  }

  /** @param {import("./year-model.js").Month} month */
  function told({ days, parts }) {
    return parts.map(({ state, from, to }) => words.part(words.state[state], from, to, days)).join(", ");
  }

  /** @param {import("./year-model.js").Month} month */
  function rain({ rainMm, wetDays }) {
    return [
      rainMm === null ? null : svg("svg", { class: "rain-bar", viewBox: "0 0 100 3", preserveAspectRatio: "none", "aria-hidden": "true" }, svg("rect", { x: 0, y: 0, width: (100 * rainMm) / most, height: 3 })),
      h("span", null, [rainMm === null ? null : words.mm(Math.round(rainMm)), wetDays === null ? null : words.wet(Math.round(wetDays))].filter(Boolean).join(", ")),
    ];
  }
}
