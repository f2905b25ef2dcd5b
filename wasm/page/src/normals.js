// A place's own monthly normals: pasted as a table or typed, twelve rows.

import { html, nothing } from "./lit-html/lit-html.js";

import { h } from "./dom.js";
import * as engine from "./engine.js";
import { field, focusFirstError, plainly } from "./fields.js";
import { grid } from "./grid.js";
import { fold } from "./templates.js";
import { text } from "./text/en.js";

const words = text.normals;
/** As the engine writes them in its messages, in whatever language the page is. */
const engineMonths = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/**
 * @param {import("./app.js").App} app @param {() => void} redraw for what is no part of the state
 * @returns {() => any} what is shown then
 */
export function normalsEditor(app, redraw) {
  const place = () => /** @type {import("./state.js").Place} */ (app.place);
  const { show } = app;
  /** What was done last, and what is wrong with what was typed. */
  const told = { status: "", wrong: "" };
  const say = (/** @type {Partial<typeof told>} */ more) => {
    Object.assign(told, more);
    redraw();
  };
  const first = place().normals;
  const about = field(words.about, h("input", { type: "text", maxlength: 120, value: first?.about ?? "" }), { hint: words.aboutHint, optional: true });
  const paste = field(words.paste, h("textarea", { rows: 5, spellcheck: "false", placeholder: words.pasteExample }), { hint: words.pasteHint });
  let table = drawGrid(first);

  /** @param {import("./state.js").Normals | null} normals */
  function drawGrid(normals) {
    return grid({
      caption: words.caption,
      rows: text.months.map((label, month) => ({ key: String(month), label })),
      columns: [
        { name: "minimumC", label: text.common.low, unit: show.temperatureUnit, needed: true },
        { name: "maximumC", label: text.common.high, unit: show.temperatureUnit, needed: true },
        { name: "rainMm", label: text.common.rain, unit: "mm" },
        { name: "wetDays", label: words.wetDays, unit: text.units.days },
      ],
      values: Object.fromEntries(
        (normals?.minimumC ?? []).map((minimum, month) => [
          String(month),
          {
            minimumC: show.out(minimum, "°C"),
            maximumC: show.out(/** @type {any} */ (normals).maximumC[month], "°C"),
            rainMm: String(normals?.rainMm?.[month] ?? ""),
            wetDays: String(normals?.wetDays?.[month] ?? ""),
          },
        ]),
      ),
    });
  }

  /** The engine reads what was pasted; it stands in the table then, and is used. */
  function readPaste() {
    paste.fail(null);
    if (paste.input.value.trim() === "") return paste.fail(text.common.nothingToRead);
    let read;
    try {
      read = engine.readNormals(paste.input.value, about.input.value.trim() || words.unnamed);
    } catch (thrown) {
      if (!(thrown instanceof engine.ApiaryError)) throw thrown;
      paste.fail(thrown.message); // What stands in the text is said as it stands there.
      paste.input.focus();
      return;
    }
    table = drawGrid({
      about: "",
      minimumC: Array.from(read.minimumC),
      maximumC: Array.from(read.maximumC),
      ...(read.rainMm ? { rainMm: Array.from(read.rainMm, (mm) => Number(mm.toFixed(1))) } : {}),
      ...(read.wetDays ? { wetDays: Array.from(read.wetDays) } : {}),
    });
    use();
  }

  function use() {
    say({ wrong: "" });
    const read = table.read();
    if (!read) return focusFirstError(table.box);
    if (read.length < 12) return say({ wrong: words.twelve(read.length) });
    const [rainMm, wetDays] = ["rainMm", "wetDays"].map((name) => read.map(({ numbers }) => numbers[name]).filter((value) => value !== undefined));
    if (rainMm.length % 12 !== 0) return say({ wrong: words.rainAllOrNone });
    if (wetDays.length % 12 !== 0) return say({ wrong: words.wetDaysAllOrNone });
    /** @type {import("./state.js").Normals} */
    const normals = {
      about: about.input.value.trim() || words.unnamed,
      minimumC: read.map(({ numbers }) => show.in(numbers.minimumC, "°C")),
      maximumC: read.map(({ numbers }) => show.in(numbers.maximumC, "°C")),
      ...(rainMm.length > 0 ? { rainMm } : {}),
      ...(wetDays.length > 0 ? { wetDays } : {}),
    };
    try {
      engine.outlook({ ...place(), normals }, app.today());
    } catch (thrown) {
      if (!(thrown instanceof engine.ApiaryError)) throw thrown;
      const where = /** @type {{field: string, message: string}} */ (thrown);
      const month = engineMonths.findIndex((name) => `${where.field} ${where.message}`.includes(name));
      const column = /^maximum_c/.test(where.field) ? "maximumC" : /^rain_mm/.test(where.field) ? "rainMm" : /^wet_days/.test(where.field) ? "wetDays" : "minimumC";
      const message = plainly(where);
      if (month < 0 || !table.fail(String(month), column, message)) say({ wrong: message });
      return focusFirstError(table.box);
    }
    keep(normals, words.inUse);
  }

  /** @param {import("./state.js").Normals | null} normals @param {string} status */
  function keep(normals, status) {
    told.status = status;
    app.change(() => { place().normals = normals; });
    redraw();
  }

  function drop() {
    table = drawGrid(null);
    keep(null, words.gone);
    paste.input.focus();
  }

  return () => html`<div class="normals">
    <p class="hint">${words.hint}</p>
    <p class="status" role="status">${told.status}</p>
    ${about.box}
    ${paste.box}
    <div class="actions"><button type="button" @click=${readPaste}>${words.usePaste}</button></div>
    ${fold(words.typed, table.box, html`<p class="error" role="alert">${told.wrong}</p>
      <div class="actions"><button type="button" @click=${use}>${words.use}</button></div>`)}
    ${place().normals === null ? nothing : html`<div class="actions"><button type="button" @click=${drop}>${words.remove}</button></div>`}
  </div>`;
}
