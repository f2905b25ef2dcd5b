// The tasks of a plan: what is due, why, what to look for; ticked off or put on a date.

import { daysBetween, span, taskDate } from "./dates.js";
import { h, more } from "./dom.js";
import * as engine from "./engine.js";
import { field, showEngineError } from "./fields.js";
import { byDay, dayOf } from "./plan-model.js";
import { cautionList, reasonList, restsOnLine } from "./sources.js";
import { text } from "./text/en.js";
import { outsideLine } from "./wish.js";

const words = text.tasks;

/**
 * @param {import("./app.js").App} app
 * @param {import("./state.js").PlanEntry} entry
 * @param {any} plan
 * @param {string} today
 * @param {() => void} changed
 */
export function taskList(app, entry, plan, today, changed) {
  const by = (/** @type {string} */ kind) => byDay(plan.tasks).filter((/** @type {any} */ task) => task.state.kind === kind);
  const [planned, done, dropped] = [by("planned"), by("done"), by("dropped")];
  const waiting = plan.waiting ?? [];
  const place = /** @type {import("./state.js").Place} */ (app.place);
  return h(
    "div",
    { class: "tasks" },
    h("ol", { class: "task-list" }, planned.map(card)),
    waiting.length > 0 ? more(words.waiting(waiting.length), h("ul", { class: "reasons" }, waiting.map((/** @type {any} */ task) => h("li", null, task.title, " ", h("span", { class: "which" }, whichName(entry, task.which)), reasonList([task.until], app))))) : null,
    done.length > 0 ? h("details", { open: true }, h("summary", null, words.done(done.length)), h("ol", { class: "task-list" }, done.map(card))) : null,
    dropped.length > 0 ? more(words.dropped(dropped.length), h("ul", { class: "reasons" }, dropped.map((/** @type {any} */ task) => h("li", null, task.title, reasonList(task.why.slice(-1), app))))) : null,
  );

  /** @param {any} task */
  function card(task) {
    const done = task.state.kind === "done";
    const away = daysBetween(today, task.dates.best);
    const due = !done && task.dates.earliest <= today;
    const date = dayOf(task);
    const fixed = entry.fixed.find((one) => one.task === task.id);
    // Several tasks can have the same title.
    const name = `${task.title}, ${whichName(entry, task.which)}, ${taskDate(date, today)}`;
    return h(
      "li",
      { class: `task${due ? " due" : ""}${done ? " is-done" : ""}` },
      h(
        "p",
        { class: "task-date" },
        h("b", null, taskDate(date, today)),
        " ",
        !done && task.window ? h("span", { class: "task-time" }, `${task.window.fromClock}–${task.window.untilClock} `) : null,
        h("span", { class: "soon" }, done ? words.isDone : away === 0 ? words.today : away > 0 ? words.inDays(away) : ""),
      ),
      fixed && !done ? outsideLine(task.dates.best, plan) : null,
      h("h3", { class: "task-title" }, task.title, " ", h("span", { class: "which" }, whichName(entry, task.which))),
      !done && task.dates.earliest !== task.dates.latest
        ? h("p", { class: "task-range" }, words.range(span(task.dates.earliest, task.dates.latest)), fixed ? ` ${words.fixed}` : null)
        : fixed ? h("p", { class: "task-range" }, words.fixed) : null,
      h(
        "details",
        null,
        h("summary", { "aria-label": `${words.more}: ${name}` }, words.more),
        reasonList(task.why, app),
        task.lookFor.length > 0 ? [h("h4", null, words.lookFor), h("ul", { class: "reasons" }, task.lookFor.map((/** @type {string} */ line) => h("li", null, line)))] : null,
        task.cautions.length > 0 ? [h("h4", null, text.dawn.cautions), cautionList(task.cautions, app)] : null,
        h("p", { class: "hint" }, text.sources.source(task.source)),
        restsOnLine(task.restsOn),
        done ? undo(task, name) : putOn(task),
        done || due ? null : tickOff(task, name),
      ),
      due ? tickOff(task, name) : null,
    );
  }

  /** Tries a change of the plan; the engine's refusal is shown beside the date. @param {Partial<import("./state.js").PlanEntry>} change @param {import("./fields.js").Field} date */
  function attempt(change, date) {
    const next = { ...entry, ...change };
    try {
      engine.review(place, next, today);
    } catch (error) {
      showEngineError(error, () => date, () => {});
      date.input.focus();
      return;
    }
    app.change(() => Object.assign(entry, change));
    changed();
  }

  /** @param {any} task @param {string} name */
  function tickOff(task, name) {
    const date = field(words.doneOn, h("input", { type: "date", value: today, max: today, required: true }));
    return h(
      "details",
      { class: "tick-off no-print" },
      h("summary", { "aria-label": `${words.tick}: ${name}` }, words.tick),
      date.box,
      h("div", { class: "actions" }, h("button", { type: "button", class: "main-action", onclick: () => {
        date.fail(null);
        if (!date.input.value) return date.fail(text.fields.notADate);
        if (date.input.value > today) return date.fail(text.fields.notAhead);
        attempt({ records: [...entry.records, { date: date.input.value, task: task.id }] }, date);
      } }, words.tickNow)),
    );
  }

  /** @param {any} task @param {string} name */
  function undo(task, name) {
    return h("div", { class: "actions no-print" }, h("button", { type: "button", "aria-label": `${words.undo}: ${name}`, onclick: () => {
      app.change(() => { entry.records = entry.records.filter((one) => one.task !== task.id); });
      changed();
    } }, words.undo));
  }

  /** @param {any} task */
  function putOn(task) {
    const fixed = entry.fixed.find((one) => one.task === task.id);
    const others = entry.fixed.filter((one) => one.task !== task.id);
    const date = field(words.putOn, h("input", { type: "date", value: fixed?.date ?? task.dates.best, min: today }), { hint: words.putOnHint });
    return h(
      "div",
      { class: "no-print" },
      date.box,
      h(
        "div",
        { class: "actions" },
        h("button", { type: "button", onclick: () => {
          date.fail(null);
          if (!date.input.value) return date.fail(text.fields.notADate);
          if (date.input.value < today) return date.fail(words.putPast);
          attempt({ fixed: [...others, { task: task.id, date: date.input.value }] }, date);
        } }, words.putNow),
        fixed ? h("button", { type: "button", onclick: () => attempt({ fixed: others }, date) }, words.free) : null,
      ),
    );
  }
}

/** What a box is called. @param {import("./state.js").PlanEntry} entry @param {string} which */
export function whichName({ colony }, which) {
  if (which === "parent") return colony.name;
  if (which === "daughter") return colony.daughterName ?? words.daughter;
  return words.pair;
}
