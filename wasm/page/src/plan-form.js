// The facts that a plan is made from.

import { fill, h, more } from "./dom.js";
import { beeLabel } from "./bees.js";
import * as engine from "./engine.js";
import { field, focusFirstError, numberInput, numberOf, select, showEngineError } from "./fields.js";
import { numberFields } from "./numbers.js";
import { firstPlanSettings, freeId } from "./state.js";
import { text } from "./text/en.js";

const words = text.planForm;

/**
 * @param {import("./app.js").App} app
 * @param {import("./state.js").PlanEntry | undefined} entry
 * @param {(next: import("./state.js").PlanEntry) => void} keep
 */
export function planForm(app, entry, keep) {
  /** Another tab may have changed it. */
  const place = () => /** @type {import("./state.js").Place} */ (app.place);
  const known = () => entry && (app.state.plans.find(({ id }) => id === entry.id) ?? entry);
  const alert = h("p", { class: "error form-error", role: "alert" });
  let choices = { ...entry?.choices };
  let numbers = { ...entry?.numbers };

  const about = h("div", { class: "method-about" });
  const settings = h("div");
  const method = field(words.method, select(engine.methods().map(({ name, label }) => [name, label]), entry?.method ?? "split", { onchange: () => { choices = {}; drawMethod(); } }));
  const name = field(words.name, h("input", { type: "text", maxlength: 60, autocomplete: "off", value: entry?.colony.name ?? "" }), { hint: text.common.asOnBox });
  const daughter = field(words.daughter, h("input", { type: "text", maxlength: 60, autocomplete: "off", value: entry?.colony.daughterName ?? "" }), { optional: true });
  const weight = field(words.weight, numberInput(String(entry?.colony.netWeightKg ?? "")), { optional: true, hint: words.weightHint, after: h("span", { class: "unit" }, "kg") });
  const months = field(words.months, numberInput(String(entry?.colony.monthsSinceDivision ?? "")), { optional: true, hint: words.monthsHint, after: h("span", { class: "unit" }, words.monthsUnit) });
  const strength = field(words.strength, select([["", words.notJudged], ...Object.entries(words.strengths)], entry?.colony.strength ?? ""), { optional: true });
  const bee = field(text.bees.kind, select(engine.beeNames().map((one) => [one, beeLabel(one)]), place().bee, { onchange: () => drawMethod() }), { hint: words.beeHint });
  const wanted = field(words.wanted, h("input", { type: "date", value: entry?.wanted ?? "" }), { optional: true, hint: words.wantedHint });

  function drawMethod() {
    const chosen = /** @type {any} */ (engine.methods().find((one) => one.name === method.input.value));
    fill(about, h("p", null, chosen.about), more(text.sources.whence, h("p", null, chosen.source)));
    const set = (/** @type {any} */ setting) => choices[setting.name] ?? setting.default;
    const kind = engine.bee({ ...place(), bee: bee.input.value, beeNumbers: {} });
    /** Whether a setting is asked for. The region of the place is the engine's to know: then it is asked. @param {any} when @returns {boolean} */
    function matters(when) {
      if (!when) return true;
      const other = chosen.settings.find((/** @type {any} */ one) => one.name === when.setting);
      if (other) {
        if (!matters(other.when)) return false;
        if (when.is !== undefined && set(other) !== when.is) return false;
        if (when.isNot !== undefined && set(other) === when.isNot) return false;
      }
      if (when.buildsQueenCells !== undefined && kind.buildsQueenCells !== when.buildsQueenCells) return false;
      return !when.bees || when.bees.some((/** @type {string} */ one) => bee.input.value === one || bee.input.value.startsWith(`${one}_`));
    }
    fill(
      settings,
      (chosen.settings ?? [])
        .filter((/** @type {any} */ { when }) => matters(when))
        .map((/** @type {any} */ setting) =>
          h(
            "fieldset",
            { class: "setting" },
            h("legend", null, setting.question),
            setting.options.map((/** @type {any} */ option) => {
              const input = h("input", {
                type: "radio",
                name: `${entry?.id ?? "new"}-${setting.name}`,
                value: option.name,
                onchange: () => {
                  choices[setting.name] = option.name;
                  const again = chosen.settings.some((/** @type {any} */ { when }) => when?.setting === setting.name);
                  if (!again) return;
                  drawMethod();
                  /** @type {HTMLElement | null} */ (settings.querySelector(`input[name$="-${setting.name}"]:checked`))?.focus();
                },
              });
              input.checked = set(setting) === option.name;
              return h("div", { class: "option" }, h("label", null, input, h("span", null, option.words)), more(text.sources.whence, h("p", null, option.source)));
            }),
          ),
        ),
    );
  }
  drawMethod();

  /** @param {Event} event */
  function submit(event) {
    event.preventDefault();
    fill(alert);
    for (const one of [name, daughter, wanted, strength, method]) one.fail(null);
    if (name.input.value.trim() === "") name.fail(text.fields.missing(name.label));
    if (wanted.input.validity.badInput) wanted.fail(text.fields.notADate);
    const [kg, since] = [numberOf(weight), numberOf(months)];
    if (form.querySelector('[aria-invalid="true"]')) return focusFirstError(form);
    // Keys of a later page stay.
    const { daughterName: _d, netWeightKg: _w, monthsSinceDivision: _m, strength: _s, ...carried } = known()?.colony ?? { name: "" };
    /** @type {import("./state.js").PlanEntry} */
    const next = {
      ...(known() ?? { id: freeId("plan", app.state.plans), placeId: place().id, ...firstPlanSettings() }),
      method: method.input.value,
      colony: {
        ...carried,
        name: name.input.value.trim(),
        ...(daughter.input.value.trim() ? { daughterName: daughter.input.value.trim() } : {}),
        ...(kg === undefined ? {} : { netWeightKg: kg }),
        ...(since === undefined ? {} : { monthsSinceDivision: since }),
        ...(strength.input.value ? { strength: strength.input.value } : {}),
      },
      choices,
      numbers,
    };
    if (wanted.input.value) next.wanted = wanted.input.value;
    else delete next.wanted;
    if (entry && entry.method !== next.method) Object.assign(next, { records: [], fixed: [], seen: {}, calendarId: undefined });
    const changedBee = bee.input.value !== place().bee;
    const here = changedBee ? { ...place(), bee: bee.input.value, beeNumbers: {} } : place();
    try {
      engine.review(here, next, app.today());
    } catch (error) {
      const fields = { name, daughter_name: daughter, net_weight_kg: weight, months_since_division: months, strength, wanted, method, bee };
      showEngineError(error, (field) => fields[/** @type {keyof typeof fields} */ (field)], (message) => fill(alert, message));
      return focusFirstError(form);
    }
    if (changedBee) Object.assign(place(), { bee: here.bee, beeNumbers: {} });
    keep(next);
  }

  const form = h(
    "form",
    { onsubmit: submit, novalidate: true, class: "plan-form" },
    method.box,
    about,
    name.box,
    daughter.box,
    bee.box,
    h("div", { class: "side-by-side" }, weight.box, months.box, strength.box),
    wanted.box,
    more(words.settings, settings),
    more(
      words.numbers,
      numberFields(
        app,
        engine.settable("plan"),
        () => numbers,
        (next) => engine.review(place(), { ...blank(place()), numbers: next }, app.today()),
        (next) => {
          numbers = next;
        },
      )(),
    ),
    entry ? h("p", { class: "hint" }, words.methodWarning) : null,
    alert,
    h("div", { class: "actions" }, h("button", { type: "submit", class: "main-action" }, entry ? words.change : words.make)),
  );
  return form;
}

/** @param {import("./state.js").Place} place @returns {import("./state.js").PlanEntry} */
const blank = (place) => ({ ...firstPlanSettings(), id: "-", placeId: place.id, method: "split", colony: { name: "-" } });
