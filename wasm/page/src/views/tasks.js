// What is to be done at all places: today, then day by day, later; what was never said; what only if.

import { html, nothing, render } from "../lit-html/lit-html.js";
import { repeat } from "../lit-html/directives/repeat.js";

import { dayByDay } from "../agenda-model.js";
import { daysBetween, longDate, span, taskDate } from "../dates.js";
import { download, fileName } from "../download.js";
import { h } from "../dom.js";
import * as engine from "../engine.js";
import { putOff, tick, todo, untick } from "../todo.js";
import { text } from "../text/en.js";
import { needsPlace } from "./needs-place.js";

const words = text.todo;

/** @typedef {import("../agenda-model.js").Item} Item */
/** @typedef {import("../agenda-model.js").Question} Question */

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function tasksView(app, arrive) {
  const root = /** @type {HTMLElement & {leave?: () => void}} */ (h("div", { class: "view view-tasks" }));
  if (!app.place) return needsPlace(root, text.views.tasks, arrive);
  /** What was ticked off here stays in its place, to be taken back. @type {import("../todo.js").Ticked[]} */
  let ticked = [];
  /** @type {Set<string>} */
  const notYet = new Set();
  let said = "";
  let refusedWhy = "";
  draw();
  // A new day has other tasks.
  let day = app.today();
  const clock = setInterval(() => {
    if (day === app.today()) return;
    day = app.today();
    draw();
  }, 60_000);
  root.leave = () => clearInterval(clock);
  return root;

  function draw() {
    const { agenda, refused, tasks } = todo(app, ticked, notYet);
    const several = app.state.places.length > 1;
    const today = app.today();
    const count = tasks.later.length + tasks.onlyIfLater.length + tasks.waiting.length;
    const isEmpty = app.state.plans.length === 0;
    const held = document.activeElement;
    render(html`
      <h1>${text.views.tasks} <span class="date">${longDate(today)}</span></h1>
      <p class="status" role="status">${said}</p>
      ${refusedWhy ? html`<p class="error" role="alert">${refusedWhy}</p>` : nothing}
      ${refused.map(({ entry, message }) => html`<p class="error" role="alert">${entry.colony.name}: ${message} <a href="#plan" @click=${() => choose(entry.id)}>${words.toPlan}</a></p>`)}
      ${isEmpty ? html`<p class="lead">${words.none}</p>` : nothing}
      ${agenda && agenda.colonies.length > 1 ? html`<p class="lead">${app.sentence(agenda.state.sentence)}</p>` : nothing}
      ${isEmpty ? nothing : html`<section><h2>${text.common.today}</h2>${advice(agenda)}${tasks.today.length === 0 ? html`<p>${words.nothingToday}</p>` : list("today", tasks.today, several)}</section>`}
      ${part(words.didYou, "questions", tasks.questions, several)}
      ${part(words.onlyIf, "onlyIfNow", tasks.onlyIfNow, several)}
      ${dayByDay(tasks.ahead).map(({ date, items }) => part(html`${taskDate(date, today)} <span class="soon">${text.tasks.inDays(daysBetween(today, date))}</span>`, "ahead", items, several))}
      ${count === 0 ? nothing : html`<details class="later"><summary><h2>${words.later(count)}</h2></summary>
        ${list("later", tasks.later, several)}
        ${tasks.onlyIfLater.length === 0 ? nothing : html`<h3>${words.onlyIfLater}</h3>${list("onlyIfLater", tasks.onlyIfLater, several)}`}
        ${tasks.waiting.length === 0 ? nothing : html`<h3>${words.waiting}</h3><ul class="reasons">${repeat(tasks.waiting, ({ key }) => key, (one) => html`<li><b>${one.box}</b> ${one.title}. ${app.sentence(one.until)}</li>`)}</ul>`}
      </details>`}
      ${colonies(agenda, several)}
      <div class="actions no-print"><a class="button" href="#plan" @click=${() => choose(null)}>${isEmpty ? words.first : words.another}</a> <a class="button" href="#dawn">${text.move.heading}</a>
      ${isEmpty ? nothing : html`<button type="button" @click=${() => print()}>${text.planFiles.print}</button> <button type="button" @click=${poster}>${words.poster}</button>`}</div>
    `, root);
    // What is put elsewhere on the page loses the focus.
    if (held instanceof HTMLElement && root.contains(held) && held !== document.activeElement) held.focus({ preventScroll: true });
  }

  /** @param {any} heading @param {"questions" | "onlyIfNow" | "ahead"} name @param {Item[]} items @param {boolean} several */
  function part(heading, name, items, several) {
    return items.length === 0 ? nothing : html`<section><h2>${heading}</h2>${list(name, items, several)}</section>`;
  }

  /** @param {import("../todo.js").Ticked["list"]} name @param {Item[]} items @param {boolean} several */
  function list(name, items, several) {
    return html`<ul class="todo">${repeat(items, ({ key }) => key, (item) => card(name, item, several))}</ul>`;
  }

  /** @param {import("../todo.js").Ticked["list"]} name @param {Item} item @param {boolean} several */
  function card(name, item, several) {
    const { today } = item;
    const called = `${item.box}, ${item.title}, ${taskDate(item.date, today)}`;
    const place = several ? app.state.places.find(({ id }) => id === item.placeId)?.name : undefined;
    // Where the day stands above, it is not said again.
    const when = item.date === today || name === "ahead" ? "" : taskDate(item.date, today);
    const canWait = item.latest > today;
    const range = item.earliest === item.latest ? nothing : html` <span class="task-range">${canWait ? words.anyDay(span(item.earliest, item.latest)) : words.lastDay}</span>`;
    const isQuestion = name === "questions" && item.done === null;
    const { wasDue, sentence } = /** @type {Question} */ (item);
    return html`<li data-key=${item.key} class=${`task todo-item${item.done ? " is-done" : item.date <= today ? " due" : ""}`}>
      <h3 class="task-title"><b class="box">${item.box}</b> ${item.title}</h3>
      <p>${when ? html`<b>${when}</b> ` : nothing}${item.clocks ? html`<span class="task-time">${item.clocks}</span> ` : nothing}${place ? html`<span class="which">${place}</span>` : nothing}${range}</p>
      ${item.isShut && !item.done ? html`<p class="against">${words.stillShut}</p>` : nothing}
      ${item.then && !item.done ? html`<p>${words.then(item.then)}</p>` : nothing}
      ${item.condition ? html`<p class="condition">${app.sentence(item.condition)}</p>` : nothing}
      ${isQuestion ? html`<p>${sentence ? app.sentence(sentence) : words.wasIt(taskDate(wasDue, today))}</p>` : nothing}
      <div class="actions no-print">
        ${item.done
          ? html`<button type="button" aria-label=${`${text.common.undo}: ${called}`} @click=${() => undo(item)}>${text.common.undo}</button>`
          : isQuestion
            ? [says(name, item, called, wasDue), html`<button type="button" aria-label=${`${words.notYet}: ${called}`} @click=${() => later(item)}>${words.notYet}</button>`]
            : item.canTick
              ? says(name, item, called)
              : nothing}
        <a class="button quiet" aria-label=${`${words.how}: ${called}`} href="#plan" @click=${() => choose(item.planId)}>${words.how}</a>
      </div>
      <span class="paper-box" aria-hidden="true"></span>
    </li>`;
  }

  /** What the records call for, box by box: it comes before any task. @param {any} agenda */
  function advice(agenda) {
    const lines = (agenda?.colonies ?? []).flatMap((/** @type {any} */ { name, advice }) => advice.map((/** @type {any} */ one) => html`<li><b class="box">${name}</b> <b>${one.text}</b>${one.until ? ` ${words.helpsUntil(taskDate(one.until, app.today()))}` : nothing} ${app.sentence(one.reason)}</li>`));
    return lines.length > 0 ? html`<ul class="advice-list">${lines}</ul>` : nothing;
  }

  /** What can be said of a task; of one that was due, also for that day. @param {import("../todo.js").Ticked["list"]} name @param {Item} item @param {string} called @param {string} [wasDue] */
  function says(name, item, called, wasDue) {
    const { today, answers } = item;
    /** @param {string} label @param {string} spoken @param {string} date @param {string[]} tasks @param {boolean} isMain */
    const button = (label, spoken, date, tasks, isMain) =>
      html`<button type="button" class=${isMain ? "main-action" : ""} aria-label=${spoken} @click=${() => done(name, { ...item, recorded: tasks }, date)}>${label}</button>`;
    const isDue = item.date <= today || wasDue !== undefined;
    if (answers.length === 0) {
      if (wasDue === undefined) return button(words.doneShort, words.done(called), today, item.recorded, isDue);
      const days = /** @type {[string, string][]} */ ([[words.yesOn(taskDate(wasDue, today)), wasDue], [words.yesToday, today]]);
      return days.map(([label, date], n) => button(label, `${label}: ${called}`, date, item.recorded, n === 0));
    }
    return answers.map(({ said: sentence, tasks }, n) => {
      const label = app.sentence(sentence);
      if (wasDue === undefined) return button(label, `${label}: ${called}`, today, tasks, isDue && n === 0);
      const onDay = words.onDay(label, taskDate(wasDue, today));
      return button(onDay, `${onDay}: ${called}`, wasDue, tasks, n === 0);
    });
  }

  /** How each colony stands, and the way to its plan. @param {any} agenda @param {boolean} several */
  function colonies(agenda, several) {
    if (!agenda) return nothing;
    return html`<section><h2>${words.colonies}</h2><ul class="todo">${repeat(agenda.colonies, (/** @type {any} */ { plan }) => plan, (/** @type {any} */ { plan, name, state, watch }) => {
      const entry = app.state.plans.find(({ id }) => id === plan);
      const place = several ? app.state.places.find(({ id }) => id === entry?.placeId)?.name : undefined;
      return html`<li><h3 class="task-title"><a href="#plan" @click=${() => choose(plan)}>${name}</a></h3><p>${place ? html`<span class="which">${place}</span> ` : nothing}${app.sentence(state.sentence)}${watch ? html` <b>${text.standing.inDoubt}</b> ${watch}.` : nothing}</p></li>`;
    })}</ul></section>`;
  }

  /** The dates of all plans that the engine takes, on sheets of paper. */
  function poster() {
    const plans = app.state.plans.flatMap((entry) => {
      const place = /** @type {import("../state.js").Place} */ (app.state.places.find(({ id }) => id === entry.placeId));
      try {
        return [engine.review(place, entry, engine.dateAt(place, app.now())).plan];
      } catch (error) {
        if (!(error instanceof engine.ApiaryError)) throw error;
        return []; // It is said above.
      }
    });
    if (plans.length === 0) return;
    for (const [n, sheet] of engine.poster(plans).entries()) download(fileName(`${words.posterFile} ${n + 1}`, "svg"), "image/svg+xml", sheet);
  }

  /** @param {import("../todo.js").Ticked["list"]} list @param {Item} item @param {string} date */
  function done(list, item, date) {
    refusedWhy = tick(app, item, date) ?? "";
    if (!refusedWhy) {
      ticked = [...ticked, { item: { ...item, done: date, canTick: true }, list }];
      said = words.written(`${item.box}, ${item.title}`);
    }
    draw();
    stay(item);
  }

  /** The focus stays with a task whose buttons are others now. @param {Item} item */
  function stay({ key }) {
    const cards = /** @type {HTMLElement[]} */ ([...root.querySelectorAll("[data-key]")]);
    cards.find((card) => card.dataset.key === key)?.querySelector("button")?.focus({ preventScroll: true });
  }

  /** @param {Item} item */
  function undo(item) {
    untick(app, item);
    ticked = ticked.filter(({ item: one }) => one.key !== item.key);
    said = words.takenBack(`${item.box}, ${item.title}`);
    draw();
    stay(item);
  }

  /** @param {Item} item */
  function later(item) {
    notYet.add(item.key);
    putOff(app, item);
    said = words.asked(`${item.box}, ${item.title}`);
    draw();
  }

  /** Goes on with a plan, or with a new one; its place with it. @param {string | null} planId */
  function choose(planId) {
    app.change((state) => {
      const entry = state.plans.find(({ id }) => id === planId);
      state.placeId = entry?.placeId ?? state.placeId;
      state.planId = planId;
    });
    app.wantsNewPlan = planId === null;
  }
}
