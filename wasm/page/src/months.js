// The twelve months as a table: what they are good for, and the rain beside.

import { html, nothing, svg } from "./lit-html/lit-html.js";

import { text } from "./text/en.js";

const words = text.year;
/** How high a state stands in the bar of a month, so that it can be told without colours. */
const height = { good: 3, at_risk: 2, closed: 1 };

/** @typedef {import("./year-model.js").Month} Month */

/** @param {Month[]} months */
export function monthsTable(months) {
  const most = Math.max(1, ...months.map(({ rainMm }) => rainMm ?? 0));
  const hasRain = months.some(({ rainMm, wetDays }) => rainMm !== null || wetDays !== null);
  const heads = [words.month, words.dividing, ...(hasRain ? [text.common.rain] : [])];
  return html`<table class="months">
    <caption>${words.monthsCaption}</caption>
    <thead><tr>${heads.map((label) => html`<th scope="col">${label}</th>`)}</tr></thead>
    <tbody>${months.map((one) => html`<tr>
      <th scope="row">${text.months[one.month]} <span class="soon">${one.month === 0 || one === months[0] ? one.year : nothing}</span></th>
      <td>${bar(one)}<span>${told(one)}</span></td>
      ${hasRain ? html`<td>${rain(one, most)}</td>` : nothing}
    </tr>`)}</tbody>
  </table>`;
}

/** @param {Month} month */
const bar = ({ days, parts }) => html`<svg class="month-bar" viewBox=${`0 0 ${days} 3`} preserveAspectRatio="none" aria-hidden="true">
  ${parts.map(({ state, from, to }) => svg`<rect class=${`is-${state}`} x=${from - 1} y=${3 - height[state]} width=${to - from + 1} height=${height[state]}></rect>`)}
</svg>`;

/** @param {Month} month */
const told = ({ days, parts }) => parts.map(({ state, from, to }) => words.part(words.state[state], from, to, days)).join(", ");

/** @param {Month} month @param {number} most mm of the wettest month */
function rain({ rainMm, wetDays }, most) {
  const said = [rainMm === null ? null : words.mm(Math.round(rainMm)), wetDays === null ? null : words.wet(Math.round(wetDays))];
  return html`${rainMm === null ? nothing : html`<svg class="rain-bar" viewBox="0 0 100 3" preserveAspectRatio="none" aria-hidden="true"><rect x="0" y="0" width=${(100 * rainMm) / most} height="3"></rect></svg>`}
    <span>${said.filter(Boolean).join(", ")}</span>`;
}
