// What is to be moved, from where to where: the facts of a plan.

import { addDays } from "./dates.js";
import { fill, h, more } from "./dom.js";
import * as engine from "./engine.js";
import { field, focusFirstError, numberInput, numberOf, oneOf, select, showEngineError } from "./fields.js";
import { numberFields } from "./numbers.js";
import { freeId, planOfMove } from "./state.js";
import { text } from "./text/en.js";

const words = text.move;

/** The numbers that a keeper can set, by what is moved. @param {"distance" | "parting"} kind */
function defaultNumbers(kind) {
  const group = kind === "parting" ? "parting" : "relocation";
  return engine
    .settable(group)
    .filter(({ name }) => !/^far_stay|earliest$|latest$/.test(name))
    .map(({ name, number }) => ({ name: name.replace(".likely", ""), number }));
}

/**
 * @param {import("./app.js").App} app @param {import("./state.js").PlanEntry | undefined} entry
 * @param {(next: import("./state.js").PlanEntry) => void} keep
 */
export function moveForm(app, entry, keep) {
  /** Another tab may have changed it. */
  const place = () => /** @type {import("./state.js").Place} */ (app.place);
  const form = h("div");
  let kind = entry?.move?.kind ?? "distance";
  drawForm();
  return h(
    "div",
    { class: "move-box" },
    h("p", { class: "hint" }, words.about),
    oneOf(words.what, [["distance", words.hive], ["parting", words.newBox]], kind, (value) => {
      kind = /** @type {"distance"} */ (value);
      drawForm();
    }),
    form,
  );

  function drawForm() {
    const { show } = app;
    const before = entry?.move?.kind === kind ? entry.move : undefined;
    const parting = kind === "parting";
    let numbers = { ...before?.numbers };
    const alert = h("p", { class: "error form-error", role: "alert" });
    const first = field(parting ? words.setBefore : words.first, h("input", { type: "date", value: before?.first ?? addDays(app.today(), 1) }), { hint: parting ? words.setBeforeHint : undefined });
    const hive = field(words.name, h("input", { type: "text", maxlength: 60, autocomplete: "off", value: entry?.colony.name ?? "" }), { optional: true, hint: text.common.asOnBox });
    const distance = field(words.distance, numberInput(before?.distanceM === undefined ? "" : show.out(before.distanceM, "m")), { after: h("span", { class: "unit" }, show.lengthUnit) });
    const turn = field(words.turn, numberInput(String(before?.turnDeg ?? "")), { optional: true, hint: words.turnHint, after: h("span", { class: "unit" }, "°") });
    const weight = field(words.weight, numberInput(String(before?.weightKg ?? "")), { optional: true, hint: words.weightHint, after: h("span", { class: "unit" }, "kg") });
    const way = field(words.way, select([["", words.wayChosen], ...Object.entries(words.ways)], before?.way ?? ""), { hint: words.wayHint });
    const stay = field(words.stay, select([["", words.stayDefault], ...Object.entries(words.stays)], before?.farStay ?? ""), { hint: words.stayHint });

    /** @param {Event} event */
    function submit(event) {
      event.preventDefault();
      fill(alert);
      for (const one of [first, way, stay]) one.fail(null);
      if (!first.input.value) first.fail(text.fields.notADate);
      const kg = numberOf(weight);
      const [away, turned] = parting ? [undefined, undefined] : [numberOf(distance, { needed: true }), numberOf(turn)];
      if (form.querySelector('[aria-invalid="true"]')) return focusFirstError(form);
      /** @type {import("./state.js").Move} */
      const next = {
        kind, first: first.input.value, numbers,
        ...(kg === undefined ? {} : { weightKg: kg }),
        ...(away === undefined ? {} : { distanceM: show.in(away, "m") }),
        ...(turned === undefined ? {} : { turnDeg: turned }),
        ...(!parting && way.input.value ? { way: way.input.value } : {}),
        ...(!parting && stay.input.value ? { farStay: stay.input.value } : {}),
      };
      const name = hive.input.value.trim() || (parting ? words.newBoxShort : words.hiveShort);
      const made = planOfMove({ id: entry?.id ?? freeId("plan", app.state.plans), placeId: place().id, name, move: next });
      // On another way its stages are others.
      const known = app.state.plans.find(({ id }) => id === entry?.id);
      const plan = known?.move?.kind === kind ? { ...known, ...made, sequence: known.sequence, calendarId: known.calendarId, records: known.records } : made;
      try {
        engine.course(place(), next);
        engine.review(place(), plan, app.today());
      } catch (error) {
        const fields = { first, set_before: first, date: first, distance_m: distance, total_turn_deg: turn, hive_weight_kg: weight };
        showEngineError(error, (name) => fields[/** @type {keyof typeof fields} */ (name)], (message) => fill(alert, message));
        return focusFirstError(form);
      }
      keep(plan);
    }

    fill(
      form,
      h(
        "form",
        { onsubmit: submit, novalidate: true },
        hive.box,
        first.box,
        parting ? null : [distance.box, turn.box],
        weight.box,
        more(
          parting ? words.ownParting : words.own,
          parting ? null : [way.box, stay.box],
          numberFields(
            app,
            defaultNumbers(kind),
            () => numbers,
            (next) => engine.course(place(), { kind, first: app.today(), numbers: next, distanceM: 1 }),
            (next) => (numbers = next),
          )(),
        ),
        alert,
        h(
          "div",
          { class: "actions" },
          h("button", { type: "submit", class: "main-action" }, entry ? text.planForm.change : words.show),
        ),
      ),
    );
  }
}
