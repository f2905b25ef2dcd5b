// A new colony from an old one, or a hive on the move: facts in, dated tasks out; what was done and seen; where it stands.

import { html, nothing, render } from "../lit-html/lit-html.js";
import { repeat } from "../lit-html/directives/repeat.js";

import { courseBox } from "../course.js";
import { fullDate, span, taskDate } from "../dates.js";
import { focusOn, h } from "../dom.js";
import { sorted } from "../doubts.js";
import * as engine from "../engine.js";
import { showEngineError } from "../fields.js";
import { moveForm } from "../move-form.js";
import { picture, pictureWords, sentences } from "../picture.js";
import { planFiles } from "../plan-files.js";
import { planForm } from "../plan-form.js";
import { datesOf, planOf } from "../plan-model.js";
import { planSheet } from "../plan-sheet.js";
import { recordsBox, signsForm } from "../records.js";
import { basisList, betterList, cautionList, choiceList, doubtList, reasonList } from "../sources.js";
import { standingBox } from "../standing.js";
import { taskList } from "../tasks.js";
import { drawing, editor, fold, keyed, list, pairs } from "../templates.js";
import { text } from "../text/en.js";
import { wishBox } from "../wish.js";
import { needsPlace } from "./needs-place.js";

const words = text.plan;

/** @typedef {import("../state.js").PlanEntry} PlanEntry */
/** @typedef {{review: any, course: any, doubts: ReturnType<typeof sorted>, drawn: SVGElement | null, inWords: string[]}} Answer */

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function planView(app, arrive) {
  const root = /** @type {import("../main.js").ViewRoot} */ (h("div", { class: "view view-plan" }));
  if (!app.place) return needsPlace(root, text.views.plan, arrive);
  const place = () => /** @type {import("../state.js").Place} */ (app.place);
  const entry = () => /** @type {PlanEntry} */ (app.plan);

  /** Whether a further plan is being made. */
  let isNew = app.wantsNewPlan || !app.plan;
  app.wantsNewPlan = false;
  /** The engine's answers, or why there are none. @type {Answer | {refused: string} | null} */
  let answer = null;
  /** Whether the dates that come now are those that the keeper looks at. */
  let isSeen = false;
  /** While the view itself notes that, it need not be told. */
  let isNoting = false;
  /** @type {ReturnType<typeof forms>} */
  let made;

  const { now, soon } = drawing(root, ask, draw);
  anew();
  root.update = () => { if (!isNoting) soon(); };
  return root;

  /** Makes the forms for what is looked at now; what is entered in them stays until then. */
  function anew() {
    made = forms();
    now();
  }

  function forms() {
    if (isNew) return { isNew: true, facts: planForm(app, undefined, begin) };
    return {
      isNew: false,
      facts: entry().move ? moveForm(app, entry(), replace) : planForm(app, entry(), replace),
      signs: entry().move ? null : signs(),
      tasks: taskList(app, { entry, attempt, change: (change) => act(change, ".tasks-heading") }),
      files: planFiles(app, entry),
    };
  }

  /** Where signs are written down; empty again once they are. @returns {HTMLElement} */
  function signs() {
    return signsForm(app, entry, (records) => {
      made.signs = signs();
      act({ records }, ".standing h2");
    });
  }

  function ask() {
    if (isNew) return;
    const plan = entry();
    try {
      const review = engine.review(place(), plan, app.today());
      const svg = engine.planPicture(review.plan);
      answer = {
        review, course: plan.move ? engine.course(place(), plan.move) : null, doubts: sorted(engine.doubts(place())),
        drawn: picture(svg), inWords: sentences(pictureWords(svg)),
      };
      if (isSeen || !plan.calendarId) note(plan, review.plan);
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      answer = { refused: error.message };
    }
    isSeen = false;
  }

  /** Takes the dates as they are now for seen. @param {PlanEntry} plan @param {any} answered */
  function note(plan, answered) {
    isNoting = true;
    app.change(() => {
      plan.calendarId ??= answered.id;
      plan.seen = datesOf(answered);
    });
    isNoting = false;
  }

  /** Changes the plan that is looked at; its dates are seen with that. @param {Partial<PlanEntry>} change @param {string} heading where the focus goes */
  function act(change, heading) {
    app.change(() => Object.assign(entry(), change, { seen: {} }));
    isSeen = true;
    now();
    focusOn(root.querySelector(heading) ?? root.querySelector("h1"));
  }

  /** Tries a change of the plan; the engine's refusal is shown beside the date. @param {Partial<PlanEntry>} change @param {import("../fields.js").Field} date */
  function attempt(change, date) {
    try {
      engine.review(place(), { ...entry(), ...change }, app.today());
    } catch (error) {
      showEngineError(error, () => date, () => {});
      date.input.focus();
      return;
    }
    act(change, ".tasks-heading");
  }

  /** @param {PlanEntry} next */
  function begin(next) {
    app.change((state) => {
      state.plans.push(next);
      state.planId = next.id;
    });
    isNew = false;
    anew();
    top();
  }

  /** @param {PlanEntry} next */
  function replace(next) {
    app.change((state) => {
      state.plans = state.plans.map((one) => (one.id === next.id ? { ...next, seen: {} } : one));
    });
    isSeen = true;
    anew();
    top();
  }

  function removeIt() {
    app.change((state) => {
      state.plans = state.plans.filter(({ id }) => id !== entry().id);
      state.planId = null;
    });
    isNew = !app.plan;
    anew();
    top();
  }

  function top() {
    scrollTo(0, 0);
    focusOn(root.querySelector("h1"));
  }

  function draw() {
    if (made.isNew) {
      render(html`<h1>${words.newHeading}</h1>${switcher()}<p class="lead">${words.newAbout}</p>
        ${made.facts}
        <p>${text.planForm.onlyMove} <a href="#dawn">${text.move.heading}</a></p>`, root);
    } else if (answer && "refused" in answer) {
      render(html`<h1>${planName(entry())}</h1>${switcher()}<p class="error" role="alert">${answer.refused}</p>${facts()}${records()}${removal()}`, root);
    } else if (answer) render(whole(answer), root);
  }

  /** @param {Answer} known */
  function whole({ review, course, doubts, drawn, inWords }) {
    const { plan } = review;
    const model = planOf({ plan, entry: entry(), today: app.today() });
    return html`
      <h1>${plan.title}</h1>
      ${switcher()}
      ${doubtList(doubts.doubts, app)}
      ${wishBox(plan.wish, app)}
      ${course ? courseBox(app, course, plan) : summary(plan, model.begin)}
      ${planSheet(app, entry(), plan)}
      ${moved(model.moved)}
      ${course ? nothing : standingBox(app, review, entry())}
      <h2 class="tasks-heading">${text.views.tasks}</h2>
      ${made.tasks?.(model)}
      ${made.signs ? keyed(made.signs, html`<div class="no-print">${fold(html`<h2>${text.records.heading}</h2>`, made.signs)}</div>`) : nothing}
      ${records()}
      <h2>${words.picture}</h2>
      <figure class="paper">${drawn}</figure>
      ${fold(text.year.inWords, list(inWords))}
      ${made.files?.(plan)}
      <section class="on-paper"><h2>${text.dawn.cautions}</h2>${cautionList(plan.cautions, app)}</section>
      <section><h2>${text.dawn.restsOn}</h2>${betterList(doubts.mild, app)}${basisList(plan.basis, app)}</section>
      ${plan.choices.length > 0 ? fold(words.choices, choiceList(plan.choices)) : nothing}
      ${facts()}
      ${removal()}`;
  }

  /** Which of the plans is looked at. */
  function switcher() {
    const { plans } = app;
    if (plans.length === 0) return nothing;
    const chosen = isNew ? "" : entry().id;
    const choose = (/** @type {Event} */ { target }) => {
      const { value } = /** @type {HTMLSelectElement} */ (target);
      if (value !== "") app.change((state) => (state.planId = value));
      isNew = value === "";
      anew();
      focusOn(root.querySelector(".plan-switch select"));
    };
    return html`<div class="plan-switch no-print"><select aria-label=${words.which} @change=${choose}>
      ${repeat([...plans.map((one) => [one.id, planName(one)]), ["", words.another]], ([id]) => id, ([id, name]) => html`<option value=${id} .selected=${id === chosen}>${name}</option>`)}
    </select></div>`;
  }

  /** @param {any} plan @param {ReturnType<typeof planOf>["begin"]} begin */
  function summary(plan, begin) {
    const others = plan.bestDates.length > 1 && begin?.isPlanned ? plan.bestDates.slice(0, 8) : [];
    return html`<div class="summary">
      ${begin ? html`<p class="window-dates">${(begin.isDone ? words.dividedOn : words.divideOn)(fullDate(begin.date))}</p>` : nothing}
      ${pairs([
        plan.window && [words.season, span(plan.window.opens, plan.window.closes)],
        plan.lastSafe && [text.year.lastSafeShort, fullDate(plan.lastSafe)],
        [text.frame.place, place().name],
      ])}
      ${plan.notes.length > 0 ? html`<details ?open=${begin === null}><summary>${words.notes}</summary>${reasonList(plan.notes, app)}</details>` : nothing}
      ${others.length > 0
        ? fold(plan.wish && ["at_risk", "closed"].includes(plan.wish.state) ? words.bestDatesNear : words.bestDates, html`<p class="hint">${words.bestDatesAbout}</p>`, list(others.map((/** @type {any} */ one) => html`<b>${taskDate(one.date, plan.today)}</b> ${text.dawn.points(one.points)}. ${one.reasons.map((/** @type {any} */ reason) => app.sentence(reason.text)).join(" ")}`)))
        : nothing}
    </div>`;
  }

  /** What the weather has moved since the keeper last looked. @param {ReturnType<typeof planOf>["moved"]} changed */
  function moved(changed) {
    if (changed.length === 0) return nothing;
    const today = app.today();
    const lines = changed.map(({ title, from, to }) => html`${title}: <s>${taskDate(from, today)}</s> <b>${taskDate(to, today)}</b>`);
    const noted = () => {
      if (answer && "review" in answer) note(entry(), answer.review.plan);
      now();
      focusOn(root.querySelector("h1"));
    };
    return html`<section class="moved" aria-live="polite">
      <h2>${words.moved}</h2>
      <p>${words.movedAbout}</p>
      ${list(lines.slice(0, 6))}
      ${lines.length > 6 ? fold(words.movedToo(lines.length - 6), list(lines.slice(6))) : nothing}
      <div class="actions"><button type="button" @click=${noted}>${words.noted}</button></div>
    </section>`;
  }

  function records() {
    return recordsBox(entry(), (records) => act({ records }, ".standing h2"));
  }

  function facts() {
    return keyed(made.facts, editor(words.facts, made.facts));
  }

  function removal() {
    return html`<div class="no-print">${fold(words.remove, html`<p>${words.removeWarning}</p><button type="button" class="danger" @click=${removeIt}>${words.removeNow}</button>`)}</div>`;
  }

  /** @param {PlanEntry} entry */
  function planName({ move, method, colony }) {
    const way = move ? text.move.short[move.kind] : engine.methods().find(({ name }) => name === method)?.label ?? method;
    return `${[colony.name, colony.daughterName].filter(Boolean).join(" & ")} · ${way}`;
  }
}
