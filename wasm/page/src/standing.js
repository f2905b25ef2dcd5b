// Where the new colony stands by its records, what would settle it, and what to do.

import { html, nothing } from "./lit-html/lit-html.js";

import { fullDate, shortDate, taskDate } from "./dates.js";
import { whichName } from "./tasks.js";
import { fold, list } from "./templates.js";
import { text } from "./text/en.js";

const words = text.standing;

/** @param {import("./app.js").App} app @param {any} review @param {import("./state.js").PlanEntry} entry */
export function standingBox(app, review, entry) {
  if (entry.records.length === 0) return nothing;
  const { standing, boxes, settle, changes, recommendations, pair } = review;
  const titles = new Map(review.plan.tasks.map((/** @type {any} */ task) => [task.id, task.title]));
  const signed = boxes.map((/** @type {any} */ box) => ({ box, all: [...box.signsFor, ...box.signsAgainst, ...box.signsNeutral] })).filter((/** @type {any} */ { all }) => all.length > 0);
  return html`<section class="standing">
    <h2>${words.heading}</h2>
    ${standing ? html`<p class=${`verdict verdict-${standing}`}>${words.names[/** @type {keyof typeof words.names} */ (standing)]}</p>` : html`<p>${words.none}</p>`}
    ${pair ? html`<p>${pair.watch ? html`<b>${words.inDoubt}</b> ${inDoubt(pair.watch)}. ` : nothing}${app.sentence(pair.reason)}</p>` : nothing}
    ${settle ? html`<p><b>${words.settle}</b> ${settle.lookFor} ${words.between(fullDate(settle.from), fullDate(settle.by))}</p>` : nothing}
    ${recommendations.length > 0 ? html`<ul class="advice-list">${recommendations.map((/** @type {any} */ one) => html`<li><b>${one.text}</b> ${app.sentence(one.reason)}${whence(one)}</li>`)}</ul>` : nothing}
    ${changes.length > 0 ? fold(words.changes(changes.length), list(changes.map((/** @type {any} */ one) => `${titles.get(one.task) ?? one.task}: ${change(one)}`))) : nothing}
    ${signed.length > 0 ? fold(words.signs, signed.map(signs)) : nothing}
  </section>`;

  /** The box to be watched, or that it is one of the two. @param {string} watch */
  function inDoubt(watch) {
    return watch === "pair" ? words.either(whichName(entry, "parent"), whichName(entry, "daughter")) : whichName(entry, watch);
  }

  /** @param {any} one */
  function change(one) {
    if (one.state?.kind === "done") return words.doneOn(shortDate(one.state.on));
    if (!one.after || one.state?.kind === "dropped") return words.dropped;
    if (!one.before) return words.added(taskDate(one.after, review.today));
    return words.moved(taskDate(one.before, review.today), taskDate(one.after, review.today), one.laterD);
  }

  /** @param {any} of */
  function signs({ box, all }) {
    return html`<h3>${whichName(entry, box.which)}: ${words.names[/** @type {keyof typeof words.names} */ (box.standing)]}</h3>
      ${list(all.map((/** @type {any} */ sign) => html`${shortDate(sign.date)}: ${text.signs[/** @type {keyof typeof text.signs} */ (sign.kind)]} (${words.strength[/** @type {keyof typeof words.strength} */ (sign.strength)]}). ${sign.text}${whence(sign)}`))}`;
  }

  /** @param {any} one */
  function whence({ source }) {
    return fold(text.sources.why, html`<p>${text.sources.source(source)}</p>`);
  }
}
