// A new colony from an old one: facts in, dated tasks out; what was done and seen; where it stands.

import { fullDate, span, taskDate } from "../dates.js";
import { editor, fill, focusOn, h, more } from "../dom.js";
import * as engine from "../engine.js";
import { courseBox } from "../course.js";
import { moveForm } from "../move-form.js";
import { planForm } from "../plan-form.js";
import { planFiles } from "../plan-files.js";
import { recordsBox, signsForm } from "../records.js";
import { standingBox } from "../standing.js";
import { picture, pictureWords, sentences } from "../picture.js";
import { basisList, cautionList, choiceList, doubtList, reasonList } from "../sources.js";
import { select } from "../fields.js";
import { planSheet } from "../plan-sheet.js";
import { taskList } from "../tasks.js";
import { text } from "../text/en.js";
import { wishBox } from "../wish.js";
import { needsPlace } from "./needs-place.js";

const words = text.plan;

/** @param {import("../app.js").App} app @param {(name: string) => void} arrive */
export function planView(app, arrive) {
  const root = h("div", { class: "view view-plan" });
  const place = app.place;
  if (!place) return needsPlace(root, text.views.plan, arrive);
  draw(app.wantsNewPlan);
  app.wantsNewPlan = false;
  return root;

  /** @param {boolean} [anew] whether a further plan is being made */
  function draw(anew = false) {
    const entry = anew ? undefined : app.plan;
    if (!entry) {
      fill(
        root,
        h("h1", null, words.newHeading),
        switcher(undefined),
        h("p", { class: "lead" }, words.newAbout),
        planForm(app, undefined, (next) => {
          app.change((state) => {
            state.plans.push(next);
            state.planId = next.id;
          });
          draw();
          top();
        }),
        h("p", null, text.planForm.onlyMove, " ", h("a", { href: "#dawn" }, text.move.heading)),
      );
      return;
    }
    show(entry);
  }

  function top() {
    scrollTo(0, 0);
    focusOn(root.querySelector("h1"));
  }

  /** @param {import("../state.js").PlanEntry | undefined} entry */
  function switcher(entry) {
    const { plans } = app;
    if (plans.length === 0) return null;
    const options = /** @type {[string, string][]} */ ([...plans.map((one) => [one.id, planName(one)]), ["", words.another]]);
    const choose = select(options, entry?.id ?? "", {
      "aria-label": words.which,
      onchange: () => {
        if (choose.value !== "") app.change((state) => (state.planId = choose.value));
        draw(choose.value === "");
        focusOn(root.querySelector(".plan-switch select"));
      },
    });
    return h("div", { class: "plan-switch no-print" }, choose);
  }

  /** @param {import("../state.js").PlanEntry} entry */
  function show(entry) {
    const here = /** @type {import("../state.js").Place} */ (place);
    const today = app.today();
    let review;
    try {
      review = engine.review(here, entry, today);
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error;
      fill(root, h("h1", null, planName(entry)), switcher(entry), h("p", { class: "error", role: "alert" }, error.message), facts(entry), recordsBox(app, entry, () => redraw("h1")), removal(entry));
      return;
    }
    const { plan } = review;
    const dates = Object.fromEntries(plan.tasks.filter(({ state }) => state.kind === "planned").map(({ id, dates }) => [id, dates.best]));
    if (!entry.calendarId) {
      entry.calendarId = plan.id;
      entry.seen = dates;
      app.change(() => {});
    }
    const drawn = engine.planPicture(plan);
    fill(
      root,
      h("h1", null, plan.title),
      switcher(entry),
      doubtList(engine.doubts(here), app),
      wishBox(plan.wish, app),
      entry.move ? courseBox(app, engine.course(here, entry.move), plan) : summary(plan),
      planSheet(app, entry, plan),
      moved(entry, plan, dates),
      entry.move ? null : standingBox(app, review, entry),
      h("h2", { class: "tasks-heading" }, text.views.tasks),
      taskList(app, entry, plan, today, () => redraw(".tasks-heading")),
      entry.move ? null : signsForm(app, entry, today, () => redraw(".standing h2")),
      recordsBox(app, entry, () => redraw(".standing h2")),
      h("h2", null, words.picture),
      h("figure", { class: "paper" }, picture(drawn)),
      more(text.year.inWords, h("ul", { class: "reasons" }, sentences(pictureWords(drawn)).map((line) => h("li", null, line)))),
      planFiles(app, entry, plan),
      h("section", { class: "on-paper" }, h("h2", null, text.dawn.cautions), cautionList(plan.cautions, app)),
      h("section", null, h("h2", null, text.dawn.restsOn), basisList(plan.basis, app)),
      plan.choices.length > 0 ? more(words.choices, choiceList(plan.choices)) : null,
      facts(entry),
      removal(entry),
    );
  }

  /** Draws the plan anew where it is looked at; its dates are seen with that. @param {string} heading where the focus goes */
  function redraw(heading) {
    const at = scrollY;
    const entry = app.plan;
    if (entry) entry.seen = {};
    draw();
    if (entry) note(entry);
    scrollTo(0, at);
    focusOn(root.querySelector(heading) ?? root.querySelector("h1"));
  }

  /** Takes the dates as they are now for seen. @param {import("../state.js").PlanEntry} entry */
  function note(entry) {
    try {
      const { plan } = engine.review(/** @type {any} */ (place), entry, app.today());
      entry.seen = Object.fromEntries(plan.tasks.filter(({ state }) => state.kind === "planned").map(({ id, dates }) => [id, dates.best]));
      app.change(() => {});
    } catch (error) {
      if (!(error instanceof engine.ApiaryError)) throw error; // It is shown where the plan would be.
    }
  }

  /** @param {any} plan */
  function summary(plan) {
    const first = plan.tasks.find((/** @type {any} */ task) => ["divide"].includes(task.kind) && task.state.kind !== "dropped");
    return h(
      "div",
      { class: "summary" },
      first
        ? h("p", { class: "window-dates" }, first.state.kind === "done" ? words.dividedOn(fullDate(first.state.on)) : words.divideOn(fullDate(first.dates.best)))
        : null,
      h(
        "dl",
        { class: "pairs" },
        plan.window ? [h("dt", null, words.season), h("dd", null, span(plan.window.opens, plan.window.closes))] : null,
        plan.lastSafe ? [h("dt", null, text.year.lastSafeShort), h("dd", null, fullDate(plan.lastSafe))] : null,
        [h("dt", null, text.frame.place), h("dd", null, place?.name)],
      ),
      plan.notes.length > 0 ? h("details", { open: !first }, h("summary", null, words.notes), reasonList(plan.notes, app)) : null,
      plan.bestDates.length > 1 && first?.state.kind === "planned"
        ? more(words.bestDates, h("p", { class: "hint" }, words.bestDatesAbout), h("ul", { class: "reasons" }, plan.bestDates.slice(0, 8).map((/** @type {any} */ one) => h("li", null, h("b", null, taskDate(one.date, plan.today)), ` ${text.dawn.points(one.points)}. `, one.reasons.map((/** @type {any} */ reason) => app.sentence(reason.text)).join(" ")))))
        : null,
    );
  }

  /** What the weather has moved since the keeper last looked. @param {import("../state.js").PlanEntry} entry @param {any} plan @param {Record<string, string>} dates */
  function moved(entry, plan, dates) {
    const changed = plan.tasks.filter((/** @type {any} */ { id, state }) => state.kind === "planned" && entry.seen[id] && entry.seen[id] !== dates[id]);
    if (changed.length === 0) return null;
    const lines = changed.map((/** @type {any} */ { id, title }) => h("li", null, title, ": ", h("s", null, taskDate(entry.seen[id], plan.today)), " ", h("b", null, taskDate(dates[id], plan.today))));
    return h(
      "section",
      { class: "moved", "aria-live": "polite" },
      h("h2", null, words.moved),
      h("p", null, words.movedAbout),
      h("ul", { class: "reasons" }, lines.slice(0, 6)),
      lines.length > 6 ? more(words.movedToo(lines.length - 6), h("ul", { class: "reasons" }, lines.slice(6))) : null,
      h("div", { class: "actions" }, h("button", { type: "button", onclick: () => { app.change(() => { entry.seen = dates; }); redraw("h1"); } }, words.noted)),
    );
  }

  /** @param {import("../state.js").PlanEntry} entry */
  function facts(entry) {
    const keep = (/** @type {import("../state.js").PlanEntry} */ next) => {
      app.change((state) => {
        state.plans = state.plans.map((one) => (one.id === next.id ? next : one));
      });
      redraw("h1");
      top();
    };
    return editor(words.facts, entry.move ? moveForm(app, entry, keep) : planForm(app, entry, keep));
  }

  /** @param {import("../state.js").PlanEntry} entry */
  function removal(entry) {
    return h(
      "div",
      { class: "no-print" },
      more(
        words.remove,
        h("p", null, words.removeWarning),
        h("button", { type: "button", class: "danger", onclick: () => {
          app.change((state) => {
            state.plans = state.plans.filter(({ id }) => id !== entry.id);
            state.planId = null;
          });
          draw();
          top();
        } }, words.removeNow),
      ),
    );
  }

  /** @param {import("../state.js").PlanEntry} entry */
  function planName(entry) {
    const method = entry.move ? text.move.short[entry.move.kind] : engine.methods().find(({ name }) => name === entry.method)?.label ?? entry.method;
    return `${[entry.colony.name, entry.colony.daughterName].filter(Boolean).join(" & ")} · ${method}`;
  }
}
