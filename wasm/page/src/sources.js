// The numbers behind an answer and where each comes from, one tap away.

import { html, nothing } from "./lit-html/lit-html.js";

import { fold, list } from "./templates.js";
import { text } from "./text/en.js";

const words = text.sources;

/** @typedef {{label: string, value: string, source: string}} SourceLine */

/** A list of numbers with their sources. @param {readonly SourceLine[]} lines */
export const sourceList = (lines) =>
  html`<dl class="sources">${lines.map(({ label, value, source }) => html`<dt>${label} <b>${value}</b></dt><dd>${source}</dd>`)}</dl>`;

/** @param {string} summary @param {readonly SourceLine[]} lines @param {...any} before */
export const sources = (summary, lines, ...before) => fold(summary, before, sourceList(lines));

/** A number of the engine in the units that are shown. @param {{value: number, unit: string}} of @param {ReturnType<typeof import("./units.js").showing>} show */
export function quantity({ value, unit }, show) {
  return unit === "" ? String(value) : `${show.out(value, unit)} ${show.unit(unit)}`;
}

/** What the temperatures rest on. @param {readonly any[]} basis @param {import("./app.js").App} app */
export const basisList = (basis, app) => html`<ul class="basis">${basis.map((one) => html`<li>
  <b>${words.origin[/** @type {keyof typeof words.origin} */ (one.source)] ?? one.source}</b>: ${one.aboutReason ? app.sentence(one.aboutReason) : one.about}${one.period ? ` (${one.period})` : nothing}.
  ${one.typicalErrorC === undefined ? nothing : words.error(app.show.difference(one.typicalErrorC), app.show.difference(one.p95ErrorC ?? one.typicalErrorC))}
  ${one.advice ? html`<span class="advice">${one.adviceReason ? app.sentence(one.adviceReason) : one.advice}</span>` : nothing}
</li>`)}</ul>`;

/** What to mind. @param {readonly any[]} cautions @param {import("./app.js").App} app */
export const cautionList = (cautions, app) => html`<ul class="cautions">${cautions.map((caution) => html`<li>
  <p>${caution.text}</p>
  ${fold(words.why, html`<p>${caution.because ? `${words.because(caution.becauseReason ? app.sentence(caution.becauseReason) : caution.because)} ` : nothing}${words.source(caution.source)}</p>`)}
</li>`)}</ul>`;

/** What to look at again before an answer is believed; nothing for most places. @param {readonly import("./sentences.js").Reason[] | undefined} doubts @param {import("./app.js").App} app */
export const doubtList = (doubts, app) =>
  doubts && doubts.length > 0 ? html`<ul class="doubts">${doubts.map((doubt) => html`<li>${app.sentence(doubt)}</li>`)}</ul>` : nothing;

/** What would make the answer better, and the way to where it is entered. @param {ReturnType<typeof import("./doubts.js").sorted>["mild"]} mild @param {import("./app.js").App} app */
export const betterList = (mild, app) => mild.map(({ reason, view }) => html`<p class="hint">${app.sentence(reason)} <a href=${`#${view}`}>${words.better[view]}</a></p>`);

/** Sentences of the engine as a list. @param {readonly import("./sentences.js").Reason[]} reasons @param {import("./app.js").App} app */
export const reasonList = (reasons, app) => list(reasons.map(app.sentence));

/** Where practice differs: what is done here, and what others do. @param {readonly any[]} choices */
export const choiceList = (choices) => html`<dl class="sources">${choices.map((one) => html`
  <dt>${one.chosen}</dt>
  <dd>${words.source(one.source)}${one.others.map((/** @type {string} */ other) => html`<p>${words.orElse} ${other}</p>`)}</dd>`)}</dl>`;

/** How many of the days a date rests on came from where. @param {any} restsOn */
export function restsOnLine({ recordedDays, forecastDays, normalDays, defaultDays }) {
  const parts = [words.forecastDays(forecastDays), words.recordedDays(recordedDays), words.normalDays(normalDays), words.defaultDays(defaultDays)].filter(Boolean);
  return parts.length > 0 ? html`<p class="hint">${words.dateRestsOn(parts.join(", "))}</p>` : nothing;
}
