// A plan on paper: two pages of A4, the tasks with boxes to tick on the first, the picture and the cautions on the second.

import { html, nothing } from "./lit-html/lit-html.js";

import { fullDate, hourOf, shortDate, taskDate } from "./dates.js";
import { byDay, dayOf } from "./plan-model.js";
import { whichName } from "./tasks.js";
import { text } from "./text/en.js";

const words = text.sheet;

/** @param {import("./app.js").App} app @param {import("./state.js").PlanEntry} entry @param {any} plan */
export function planSheet(app, entry, plan) {
  const tasks = byDay(plan.tasks.filter((/** @type {any} */ { state }) => state.kind !== "dropped"));
  // One line: under which condition, or what to look for first.
  const lookFor = (/** @type {any} */ task) => (task.onlyIf ? app.sentence(task.onlyIf) : task.lookFor[0] ?? "");
  return html`<section class="sheet" aria-hidden="true">
    <p>${words.head(app.place?.name ?? "", fullDate(plan.today), plan.lastSafe ? fullDate(plan.lastSafe) : null)}</p>
    <table>
      <thead><tr>${["", words.day, words.time, words.box, words.task].map((label) => html`<th>${label}</th>`)}</tr></thead>
      <tbody>
        ${tasks.map((task) => row(task, taskDate(dayOf(task), plan.today), task.state.kind === "done" ? "" : hourOf(task) ?? "", lookFor(task)))}
        ${(plan.waiting ?? []).map((/** @type {any} */ task) => row(task, "", "", app.sentence(task.until)))}
      </tbody>
    </table>
    <p>${words.law}</p>
  </section>`;

  /** @param {any} task @param {string} day @param {string} time @param {string} more */
  function row(task, day, time, more) {
    const isDone = task.state?.kind === "done";
    const isRange = !isDone && task.dates && task.dates.earliest !== task.dates.latest;
    return html`<tr>
      <td class="tick-box">${isDone ? "☑" : "☐"}</td>
      <td><b>${day}</b>${isRange ? html`<small>${words.until(shortDate(task.dates.latest))}</small>` : nothing}</td>
      <td>${time}</td>
      <td>${whichName(entry, task.which)}</td>
      <td>${task.title}${more ? html`<small>${more}</small>` : nothing}</td>
    </tr>`;
  }
}
