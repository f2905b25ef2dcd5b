// The tasks of a plan: what is due, why, what to look for; ticked off or put on a date.

import { html, nothing } from "./lit-html/lit-html.js";
import { repeat } from "./lit-html/directives/repeat.js";

import { hourOf, limits, span, taskDate } from "./dates.js";
import { h } from "./dom.js";
import { field } from "./fields.js";
import { cautionList, reasonList, restsOnLine } from "./sources.js";
import { fold, list } from "./templates.js";
import { text } from "./text/en.js";

const words = text.tasks;

/** @typedef {import("./plan-model.js").Card} Card */
/** @typedef {import("./state.js").PlanEntry} PlanEntry */
/** @typedef {import("./fields.js").Field} Field */

/**
 * @param {import("./app.js").App} app
 * @param {{
 *   entry(): PlanEntry,
 *   attempt(change: Partial<PlanEntry>, date: Field): void, change(change: Partial<PlanEntry>): void,
 * }} plan `attempt` tries a change and shows beside the date what the engine says against it
 * @returns {(tasks: ReturnType<typeof import("./plan-model.js").planOf>) => any}
 */
export function taskList(app, { entry, attempt, change }) {
  /** The dates that are typed for a task. @type {Map<string, {done: Field, own: Field}>} */
  const dates = new Map();
  /** @param {string} id */
  function datesOf(id) {
    const known = dates.get(id);
    if (known) return known;
    const made = {
      done: field(words.doneOn, h("input", { type: "date", required: true })),
      own: field(words.putOn, h("input", { type: "date" }), { hint: words.putOnHint }),
    };
    dates.set(id, made);
    return made;
  }

  return ({ planned, done, dropped, waiting }) => html`<div class="tasks">
    ${cards(planned)}
    ${waiting.length > 0 ? fold(words.waiting(waiting.length), list(waiting.map((/** @type {any} */ task) => html`${task.title} <span class="which">${whichName(entry(), task.which)}</span>${reasonList([task.until], app)}`))) : nothing}
    ${done.length > 0 ? html`<details open><summary>${words.done(done.length)}</summary>${cards(done)}</details>` : nothing}
    ${dropped.length > 0 ? fold(words.dropped(dropped.length), list(dropped.map((task) => html`${task.title}${reasonList(task.why.slice(-1), app)}`))) : nothing}
  </div>`;

  /** @param {readonly Card[]} all */
  function cards(all) {
    return html`<ol class="task-list">${repeat(all, ({ id }) => id, card)}</ol>`;
  }

  /** @param {Card} card */
  function card({ task, id, date, away, isDone, isDue, fixed, outside, range }) {
    const today = app.today();
    const which = whichName(entry(), task.which);
    // Several tasks can have the same title.
    const name = `${task.title}, ${which}, ${taskDate(date, today)}`;
    return html`<li class=${`task${isDone ? " is-done" : isDue ? " due" : ""}`}>
      <p class="task-date"><b>${taskDate(date, today)}</b> ${hourOf(task) && !isDone ? html`<span class="task-time">${hourOf(task)} </span>` : nothing}<span class="soon">${isDone ? words.isDone : away === 0 ? words.today : away > 0 ? words.inDays(away) : ""}</span></p>
      ${outside ? html`<p class="error outside">${words.outside(span(outside.opens, outside.closes))}</p>` : nothing}
      <h3 class="task-title">${task.title} <span class="which">${which}</span></h3>
      ${range || fixed ? html`<p class="task-range">${range ? `${words.range(span(...range))} ` : nothing}${fixed ? words.fixed : nothing}</p>` : nothing}
      <details>
        <summary aria-label=${`${words.more}: ${name}`}>${words.more}</summary>
        ${task.goodAtClock && task.window && !isDone ? html`<p>${words.wouldDo(limits(task.window))}</p>` : nothing}
        ${reasonList(task.why, app)}
        ${task.lookFor.length > 0 ? html`<h4>${words.lookFor}</h4>${list(task.lookFor)}` : nothing}
        ${task.cautions.length > 0 ? html`<h4>${text.dawn.cautions}</h4>${cautionList(task.cautions, app)}` : nothing}
        <p class="hint">${text.sources.source(task.source)}</p>
        ${restsOnLine(task.restsOn)}
        ${isDone ? undo(id, name) : putOn(id, fixed, task.dates.best, today)}
        ${isDone || isDue ? nothing : tickOff(id, name, today)}
      </details>
      ${isDue ? tickOff(id, name, today) : nothing}
    </li>`;
  }

  /** @param {string} id @param {string} name @param {string} today */
  function tickOff(id, name, today) {
    const { done: date } = datesOf(id);
    date.bind(today);
    date.input.max = today;
    const tick = () => {
      date.fail(null);
      if (!date.input.value) return date.fail(text.fields.notADate);
      if (date.input.value > app.today()) return date.fail(text.fields.notAhead);
      attempt({ records: [...entry().records, { date: date.input.value, task: id }] }, date);
    };
    return html`<details class="tick-off no-print">
      <summary aria-label=${`${words.tick}: ${name}`}>${words.tick}</summary>
      ${date.box}
      <div class="actions"><button type="button" class="main-action" @click=${tick}>${words.tickNow}</button></div>
    </details>`;
  }

  /** @param {string} id @param {string} name */
  function undo(id, name) {
    const takeBack = () => change({ records: entry().records.filter(({ task }) => task !== id) });
    return html`<div class="actions no-print"><button type="button" aria-label=${`${words.undo}: ${name}`} @click=${takeBack}>${words.undo}</button></div>`;
  }

  /** @param {string} id @param {string | null} fixed @param {string} best @param {string} today */
  function putOn(id, fixed, best, today) {
    const { own: date } = datesOf(id);
    date.bind(fixed ?? best);
    date.input.min = today;
    const others = () => entry().fixed.filter(({ task }) => task !== id);
    const put = () => {
      date.fail(null);
      if (!date.input.value) return date.fail(text.fields.notADate);
      if (date.input.value < app.today()) return date.fail(words.putPast);
      attempt({ fixed: [...others(), { task: id, date: date.input.value }] }, date);
    };
    return html`<div class="no-print">
      ${date.box}
      <div class="actions">
        <button type="button" @click=${put}>${words.putNow}</button>
        ${fixed ? html`<button type="button" @click=${() => attempt({ fixed: others() }, date)}>${words.free}</button>` : nothing}
      </div>
    </div>`;
  }
}

/** What a box is called. @param {PlanEntry} entry @param {string} which */
export function whichName({ colony }, which) {
  if (which === "parent") return colony.name;
  if (which === "daughter") return colony.daughterName ?? words.daughter;
  return `${colony.name} + ${colony.daughterName ?? words.daughter}`;
}
