// What was seen at the hives, and what has been recorded.

import { html, nothing } from "./lit-html/lit-html.js";

import { fullDate } from "./dates.js";
import { fill, h } from "./dom.js";
import * as engine from "./engine.js";
import { field, focusFirstError, numberInput, numberOf, oneOf, showEngineError, tick } from "./fields.js";
import { whichName } from "./tasks.js";
import { text } from "./text/en.js";

const words = text.records;

/**
 * @param {import("./app.js").App} app @param {() => import("./state.js").PlanEntry} plan
 * @param {(records: import("./state.js").HiveRecord[]) => void} keep
 */
export function signsForm(app, plan, keep) {
  const entry = plan();
  const today = app.today();
  /** @type {Set<string>} */
  const seen = new Set();
  let which = "";
  const alert = h("p", { class: "error form-error", role: "alert" });
  const date = field(words.date, h("input", { type: "date", value: today, max: today }));
  const weight = field(words.weight, numberInput(""), { optional: true, after: h("span", { class: "unit" }, "kg") });
  const note = field(words.note, h("input", { type: "text", maxlength: 300 }), { optional: true });

  /** @param {Event} event */
  function submit(event) {
    event.preventDefault();
    fill(alert);
    date.fail(null);
    note.fail(null);
    if (!date.input.value) date.fail(text.fields.notADate);
    else if (date.input.value > app.today()) date.fail(text.fields.notAhead);
    const kg = numberOf(weight);
    if (form.querySelector('[aria-invalid="true"]')) return focusFirstError(form);
    const remark = note.input.value.trim();
    if (seen.size === 0 && kg === undefined && remark === "") return fill(alert, words.nothing);
    /** @type {import("./state.js").HiveRecord} */
    const record = {
      date: date.input.value,
      ...(seen.size > 0 ? { signs: [...seen].map((kind) => ({ kind, ...(which ? { which } : {}) })) } : {}),
      ...(kg === undefined ? {} : { netWeightKg: kg }),
      ...(remark ? { note: remark } : {}),
    };
    const records = [...plan().records, record];
    try {
      engine.review(/** @type {import("./state.js").Place} */ (app.place), { ...plan(), records }, app.today());
    } catch (error) {
      const last = `records[${records.length - 1}].`;
      const fields = { date, net_weight_kg: weight, note };
      showEngineError(error, (name) => fields[/** @type {keyof typeof fields} */ (name.replace(last, ""))], (message) => fill(alert, message));
      return focusFirstError(form);
    }
    keep(records);
  }

  const form = h(
    "form",
    { onsubmit: submit, novalidate: true },
    h("p", { class: "hint" }, words.hint),
    date.box,
    oneOf(words.which, [["", words.unknown], ["parent", whichName(entry, "parent")], ["daughter", whichName(entry, "daughter")]], "", (value) => { which = value; }),
    Object.entries(words.groups).map(([group, kinds]) =>
      h(
        "fieldset",
        { class: "signs" },
        h("legend", null, group),
        kinds.map((kind) => tick(text.signs[/** @type {keyof typeof text.signs} */ (kind)], false, (on) => { if (on) seen.add(kind); else seen.delete(kind); }).box),
      ),
    ),
    weight.box,
    note.box,
    alert,
    h("div", { class: "actions" }, h("button", { type: "submit", class: "main-action" }, words.save)),
  );
  return form;
}

/** @param {import("./state.js").PlanEntry} entry @param {(records: import("./state.js").HiveRecord[]) => void} keep */
export function recordsBox(entry, keep) {
  if (entry.records.length === 0) return nothing;
  const newestFirst = [...entry.records].sort((a, b) => (a.date < b.date ? 1 : -1));
  return html`<details><summary><h2>${words.list(entry.records.length)}</h2></summary>
    <ul class="records">${newestFirst.map((record) => html`<li>
      <b>${fullDate(record.date)}</b> ${told(record, entry)}
      <button type="button" class="small no-print" aria-label=${words.removeLabel(fullDate(record.date))} @click=${() => keep(entry.records.filter((one) => one !== record))}>${words.remove}</button>
    </li>`)}</ul>
  </details>`;
}

/** @param {import("./state.js").HiveRecord} record @param {import("./state.js").PlanEntry} entry */
function told({ task, signs = [], netWeightKg, note }, entry) {
  const seen = signs.map(({ kind, which }) => `${text.signs[/** @type {keyof typeof text.signs} */ (kind)]}${which ? ` (${whichName(entry, which)})` : ""}`);
  return [task ? words.did(task) : null, ...seen, netWeightKg === undefined ? null : `${netWeightKg} kg`, note].filter(Boolean).join("; ");
}
