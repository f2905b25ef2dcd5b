// A plan on paper: two pages of A4, the tasks with boxes to tick on the first, the picture and the cautions on the second.

import { fullDate, shortDate, taskDate } from "./dates.js";
import { h } from "./dom.js";
import { byDay, dayOf } from "./plan-model.js";
import { whichName } from "./tasks.js";
import { text } from "./text/en.js";

const words = text.sheet;

/** @param {import("./app.js").App} app @param {import("./state.js").PlanEntry} entry @param {any} plan */
export function planSheet(app, entry, plan) {
  const tasks = byDay(plan.tasks.filter((/** @type {any} */ { state }) => state.kind !== "dropped"));
  // One line: under which condition, or what to look for first.
  const lookFor = (/** @type {any} */ task) => (task.onlyIf ? app.sentence(task.onlyIf) : task.lookFor[0] ?? "");
  const waiting = (plan.waiting ?? []).map((/** @type {any} */ task) => row(task, "", "", app.sentence(task.until)));
  return h(
    "section",
    { class: "sheet", "aria-hidden": "true" },
    h("p", null, words.head(app.place?.name ?? "", fullDate(plan.today), plan.lastSafe ? fullDate(plan.lastSafe) : null)),
    h(
      "table",
      null,
      h("thead", null, h("tr", null, ["", words.day, words.time, words.box, words.task].map((label) => h("th", null, label)))),
      h("tbody", null, tasks.map((/** @type {any} */ task) => row(task, taskDate(dayOf(task), plan.today), task.window && task.state.kind !== "done" ? `${task.window.fromClock}–${task.window.untilClock}` : "", lookFor(task))), waiting),
    ),
    h("p", null, words.law),
  );

  /** @param {any} task @param {string} day @param {string} time @param {string} more */
  function row(task, day, time, more) {
    const isDone = task.state?.kind === "done";
    const until = !isDone && task.dates && task.dates.earliest !== task.dates.latest ? h("small", null, words.until(shortDate(task.dates.latest))) : null;
    return h("tr", null, h("td", { class: "tick-box" }, isDone ? "☑" : "☐"), h("td", null, h("b", null, day), until), h("td", null, time), h("td", null, whichName(entry, task.which)), h("td", null, task.title, more ? h("small", null, more) : null));
  }
}
