// A place's own monthly normals: pasted as a table or typed, twelve rows.

import { fill, h, more } from "./dom.js";
import * as engine from "./engine.js";
import { field, focusFirstError, plainly } from "./fields.js";
import { grid } from "./grid.js";
import { text } from "./text/en.js";
import { readNumber } from "./units.js";

const words = text.normals;
/** As the engine writes them in its messages, in whatever language the page is. */
const engineMonths = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/** @param {import("./app.js").App} app @param {() => void} changed */
export function normalsEditor(app, changed) {
  const place = /** @type {import("./state.js").Place} */ (app.place);
  const { show } = app;
  const status = h("p", { class: "status", role: "status" });
  const holder = h("div");
  const error = h("p", { class: "error", role: "alert" });
  const about = field(words.about, h("input", { type: "text", maxlength: 120, value: place.normals?.about ?? "" }), { hint: words.aboutHint, optional: true });
  const paste = field(words.paste, h("textarea", { rows: 5, spellcheck: "false", placeholder: words.pasteExample }), { hint: words.pasteHint });
  let table = drawGrid(place.normals);

  /** @param {import("./state.js").Normals | null} normals */
  function drawGrid(normals) {
    const drawn = grid({
      caption: words.caption,
      rows: text.months.map((label, month) => ({ key: String(month), label })),
      columns: [
        { name: "minimumC", label: words.minimum, unit: show.temperatureUnit, needed: true },
        { name: "maximumC", label: words.maximum, unit: show.temperatureUnit, needed: true },
        { name: "rainMm", label: words.rain, unit: "mm" },
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
    fill(holder, drawn.box);
    return drawn;
  }

  /**
   * Rows of a pasted table: low, high, rain, wet days, of which the last one or two can be missing; the month
   * in front where the rows count from 1 to 12. A first row of column names says which and in which units.
   */
  function readPaste() {
    paste.fail(null);
    const rows = /** @type {string} */ (paste.input.value).trim().split(/\r?\n/).map((line) => line.trim()).filter(Boolean);
    if (rows.length === 0) return paste.fail(words.nothing);
    const separator = rows.some((row) => /[;\t]/.test(row)) ? /\s*[;\t]\s*/ : /\s*,\s*|\s+/;
    const cells = rows.map((row) => row.split(separator));
    const head = readNumber(cells[0][0]) === undefined || Number.isNaN(readNumber(cells[0][0])) ? cells.shift()?.map((cell) => cell.toLowerCase()) : undefined;
    if (cells.length !== 12) return paste.fail(words.twelve(cells.length));
    const counted = cells[0].length > 2 && cells.every((row, i) => Number(row[0]) === i + 1);
    const names = head ?? [...(counted ? ["month"] : []), "minimum_c", "maximum_c", "rain_mm", "wet_days"].slice(0, cells[0].length);
    const known = /^(month|(minimum|maximum)_[cf]|rain_(mm|in)|wet_days)$/;
    const strange = names.find((name) => !known.test(name));
    const column = (/** @type {RegExp} */ like) => names.findIndex((name) => like.test(name));
    const [month, low, high, rain, wet] = [/^month$/, /^minimum_/, /^maximum_/, /^rain_/, /^wet_days$/].map(column);
    if (low < 0 || high < 0) return paste.fail(words.columns);
    if (strange !== undefined) return paste.fail(words.unknownColumn(strange));
    /** @type {any[]} */
    const read = new Array(12).fill(null);
    for (const [i, row] of cells.entries()) {
      const at = month < 0 ? i : Number(row[month]) - 1;
      const value = (/** @type {number} */ index) => (index < 0 ? undefined : readNumber(row[index] ?? ""));
      const line = [value(low), value(high), value(rain), value(wet)];
      if (!(at in read) || read[at]) return paste.fail(words.badMonth(i + 1, row[month] ?? ""));
      if (line.some(Number.isNaN) || line[0] === undefined || line[1] === undefined) return paste.fail(words.badLine(i + 1, rows[i + (head ? 1 : 0)]));
      read[at] = line;
    }
    const toC = (/** @type {number} */ x, /** @type {number} */ index) => (names[index].endsWith("_f") ? Number((((x - 32) * 5) / 9).toFixed(3)) : x);
    table = drawGrid({
      about: "",
      minimumC: read.map(([x]) => toC(x, low)),
      maximumC: read.map(([, x]) => toC(x, high)),
      rainMm: read.map(([, , r]) => (r !== undefined && names[rain].endsWith("_in") ? Number((r * 25.4).toFixed(1)) : r)),
      wetDays: read.map(([, , , d]) => d),
    });
    use();
  }

  function use() {
    fill(error);
    const read = table.read();
    if (!read) return focusFirstError(holder);
    if (read.length < 12) return fill(error, words.twelve(read.length));
    const [rainMm, wetDays] = ["rainMm", "wetDays"].map((name) => read.map(({ numbers }) => numbers[name]).filter((value) => value !== undefined));
    if (rainMm.length % 12 !== 0) return fill(error, words.rainAllOrNone);
    if (wetDays.length % 12 !== 0) return fill(error, words.wetDaysAllOrNone);
    /** @type {import("./state.js").Normals} */
    const normals = {
      about: about.input.value.trim() || words.unnamed,
      minimumC: read.map(({ numbers }) => show.in(numbers.minimumC, "°C")),
      maximumC: read.map(({ numbers }) => show.in(numbers.maximumC, "°C")),
      ...(rainMm.length > 0 ? { rainMm } : {}),
      ...(wetDays.length > 0 ? { wetDays } : {}),
    };
    try {
      engine.outlook({ ...place, normals }, app.today());
    } catch (thrown) {
      if (!(thrown instanceof engine.ApiaryError)) throw thrown;
      const where = /** @type {{field: string, message: string}} */ (thrown);
      const month = engineMonths.findIndex((name) => `${where.field} ${where.message}`.includes(name));
      const column = /^maximum_c/.test(where.field) ? "maximumC" : /^rain_mm/.test(where.field) ? "rainMm" : /^wet_days/.test(where.field) ? "wetDays" : "minimumC";
      const message = plainly(where);
      if (month < 0 || !table.fail(String(month), column, message)) fill(error, message);
      return focusFirstError(holder);
    }
    keep(normals, words.inUse);
  }

  /** @param {import("./state.js").Normals | null} normals @param {string} said */
  function keep(normals, said) {
    place.normals = normals;
    app.change(() => {});
    fill(status, said);
    drop.hidden = normals === null;
    changed();
  }
  const drop = h("div", { class: "actions", hidden: place.normals === null }, h("button", { type: "button", onclick: () => {
    table = drawGrid(null);
    keep(null, words.gone);
    paste.input.focus();
  } }, words.remove));

  return h(
    "div",
    { class: "normals" },
    h("p", { class: "hint" }, words.hint),
    status,
    about.box,
    paste.box,
    h("div", { class: "actions" }, h("button", { type: "button", onclick: readPaste }, words.usePaste)),
    more(words.typed, holder, error, h("div", { class: "actions" }, h("button", { type: "button", onclick: use }, words.use))),
    drop,
  );
}
