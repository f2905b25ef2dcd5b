// A small table to type numbers into: one row a day or a month.

import { fill, h, newId } from "./dom.js";
import { text } from "./text/en.js";
import { readNumber } from "./units.js";

/**
 * @typedef {{key: string, label: string}} Row
 * @typedef {{name: string, label: string, unit: string, needed?: boolean}} Column
 */

/**
 * @param {{caption: string, rows: Row[], columns: Column[], values: Record<string, Record<string, string>>}} options
 */
export function grid({ caption, rows, columns, values }) {
  /** @type {Map<string, {inputs: Record<string, any>, error: HTMLElement}>} */
  const cells = new Map();
  const box = h(
    "div",
    { class: "grid-box" },
    h(
      "table",
      { class: "grid" },
      h("caption", null, caption),
      h("thead", null, h("tr", null, h("td"), columns.map(({ label, unit }) => h("th", { scope: "col" }, label, " ", h("span", { class: "unit" }, unit))))),
      rows.map(({ key, label }) => {
        const errorId = newId("row-error");
        const error = h("p", { class: "error", id: errorId });
        error.hidden = true;
        /** @type {Record<string, any>} */
        const inputs = Object.fromEntries(
          columns.map((column) => [
            column.name,
            h("input", {
              type: "text", inputmode: "decimal", autocomplete: "off",
              "aria-label": `${column.label}, ${label}, ${column.unit}`,
              value: values[key]?.[column.name] ?? "",
            }),
          ]),
        );
        cells.set(key, { inputs, error });
        return h(
          "tbody",
          null,
          h("tr", null, h("th", { scope: "row" }, label), columns.map(({ name }) => h("td", null, inputs[name]))),
          h("tr", { class: "row-error" }, h("td", { colspan: columns.length + 1 }, error)),
        );
      }),
    ),
  );

  /** Marks one cell, or the first of a row. @param {string} key @param {string | undefined} name @param {string} message */
  function fail(key, name, message) {
    const row = cells.get(key);
    if (!row) return false;
    const input = row.inputs[name ?? ""] ?? row.inputs[columns[0].name];
    input.setAttribute("aria-invalid", "true");
    input.setAttribute("aria-describedby", row.error.id);
    row.error.hidden = false;
    fill(row.error, message);
    return true;
  }

  function clear() {
    for (const { inputs, error } of cells.values()) {
      error.hidden = true;
      fill(error);
      for (const input of Object.values(inputs)) {
        input.removeAttribute("aria-invalid");
        input.removeAttribute("aria-describedby");
      }
    }
  }

  /** The rows that hold something, or undefined where a cell is wrong (and marked). */
  function read() {
    clear();
    let good = true;
    /** @type {{key: string, numbers: Record<string, number>}[]} */
    const read = [];
    for (const [key, { inputs }] of cells) {
      /** @type {Record<string, number>} */
      const numbers = {};
      for (const { name } of columns) {
        const value = readNumber(inputs[name].value);
        if (Number.isNaN(value)) good = !fail(key, name, text.fields.notANumber(inputs[name].value));
        else if (value !== undefined) numbers[name] = value;
      }
      if (Object.keys(numbers).length === 0) continue;
      const missing = columns.find(({ name, needed }) => needed && inputs[name].value.trim() === "");
      if (missing) good = !fail(key, missing.name, text.fields.missing(missing.label));
      read.push({ key, numbers });
    }
    return good ? read : undefined;
  }

  return { box, read, fail, clear };
}
