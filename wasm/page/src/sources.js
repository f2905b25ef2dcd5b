// The numbers behind an answer and where each comes from, one tap away.

import { h, more } from "./dom.js";
import { text } from "./text/en.js";

const words = text.sources;

/** @typedef {{label: string, value: string, source: string}} SourceLine */

/** A list of numbers with their sources. @param {SourceLine[]} lines */
export const sourceList = (lines) =>
  h(
    "dl",
    { class: "sources" },
    lines.map(({ label, value, source }) => [h("dt", null, label, " ", h("b", null, value)), h("dd", null, source)]),
  );

/** @param {string} summary @param {SourceLine[]} lines @param {...any} before */
export const sources = (summary, lines, ...before) => more(summary, ...before, sourceList(lines));

/** A number of the engine in the units that are shown. @param {{value: number, unit: string}} of @param {ReturnType<typeof import("./units.js").showing>} show */
export function quantity({ value, unit }, show) {
  return unit === "" ? String(value) : `${show.out(value, unit)} ${show.unit(unit)}`;
}

/** What the temperatures rest on. @param {readonly any[]} basis @param {import("./app.js").App} app */
export const basisList = (basis, app) =>
  h(
    "ul",
    { class: "basis" },
    basis.map((one) =>
      h(
        "li",
        null,
        h("b", null, words.origin[/** @type {keyof typeof words.origin} */ (one.source)] ?? one.source),
        ": ",
        one.aboutReason ? app.sentence(one.aboutReason) : one.about,
        one.period ? ` (${one.period})` : null,
        ". ",
        one.typicalErrorC !== undefined
          ? words.error(app.show.difference(one.typicalErrorC), app.show.difference(one.p95ErrorC ?? one.typicalErrorC))
          : null,
        one.advice ? h("span", { class: "advice" }, " ", one.adviceReason ? app.sentence(one.adviceReason) : one.advice) : null,
      ),
    ),
  );

/** What to mind. @param {readonly any[]} cautions @param {import("./app.js").App} app */
export const cautionList = (cautions, app) =>
  h(
    "ul",
    { class: "cautions" },
    cautions.map((caution) =>
      h(
        "li",
        null,
        h("p", null, caution.text),
        more(words.why, h("p", null, caution.because ? `${words.because(caution.becauseReason ? app.sentence(caution.becauseReason) : caution.because)} ` : null, words.source(caution.source))),
      ),
    ),
  );

/** What to look at again before an answer is believed; nothing for most places. @param {readonly import("./sentences.js").Reason[] | undefined} doubts @param {import("./app.js").App} app */
export const doubtList = (doubts, app) =>
  doubts && doubts.length > 0 ? h("ul", { class: "doubts" }, doubts.map((doubt) => h("li", null, app.sentence(doubt)))) : null;

/** Sentences of the engine as a list. @param {readonly import("./sentences.js").Reason[]} reasons @param {import("./app.js").App} app */
export const reasonList = (reasons, app) =>
  h("ul", { class: "reasons" }, reasons.map((reason) => h("li", null, app.sentence(reason))));

/** Where practice differs: what is done here, and what others do. @param {readonly any[]} choices @param {import("./app.js").App} app */
export const choiceList = (choices, app) =>
  h(
    "dl",
    { class: "sources" },
    choices.map((one) => [
      h("dt", null, one.chosen),
      h("dd", null, words.source(one.source), one.others.map((/** @type {string} */ other) => h("p", null, words.orElse, " ", other))),
    ]),
  );

/** How many of the days a date rests on came from where. @param {any} restsOn */
export function restsOnLine({ recordedDays, forecastDays, normalDays, defaultDays }) {
  const parts = [words.forecastDays(forecastDays), words.recordedDays(recordedDays), words.normalDays(normalDays), words.defaultDays(defaultDays)].filter(Boolean);
  return parts.length > 0 ? h("p", { class: "hint" }, words.dateRestsOn(parts.join(", "))) : null;
}
