// A user's own numbers in place of the engine's defaults, each with its default and source.

import { h } from "./dom.js";
import { field, numberInput, numberOf, showEngineError } from "./fields.js";
import { quantity } from "./sources.js";
import { text } from "./text/en.js";

const camelCase = (/** @type {string} */ name) => name.replace(/_([a-z])/g, (_, letter) => letter.toUpperCase());

/** The name under which the engine takes a user's number. @param {string} name @param {string} unit */
export const overrideName = (name, unit) =>
  name === "flight_light" ? (unit === "lx" ? "flightLightLx" : "flightLightWM2") : camelCase(name);

/** A number's name for people. @param {string} name */
export const numberLabel = (name) =>
  text.numbers[/** @type {keyof typeof text.numbers} */ (name)] ?? name.replace(/_/g, " ");

/**
 * Fields for numbers. `check` throws what the engine does not accept; `keep` takes the rest.
 * @param {import("./app.js").App} app
 * @param {{name: string, number: any}[]} defaults
 * @param {() => Record<string, number>} values as they are now
 * @param {(next: Record<string, number>) => void} check
 * @param {(next: Record<string, number>) => void} keep
 * @returns {() => HTMLElement} the fields, with the values as they are when it is called
 */
export function numberFields(app, defaults, values, check, keep) {
  const { show } = app;
  const fields = defaults.map(({ name, number }) => {
    const key = overrideName(name, number.unit);
    const input = numberInput("", {
      placeholder: show.out(number.value, number.unit),
      onchange: () => {
        const typed = numberOf(own);
        if (Number.isNaN(typed)) return;
        const next = { ...values() };
        if (typed === undefined) delete next[key];
        else next[key] = show.in(typed, number.unit);
        try {
          check(next);
        } catch (error) {
          showEngineError(error, () => own, () => {});
          return;
        }
        keep(next);
      },
    });
    const hint = text.fields.otherwise(quantity(number, show), number.source);
    const own = field(numberLabel(name), input, { hint, after: h("span", { class: "unit" }, show.unit(number.unit)) });
    own.allowed = text.fields.range(show.out(number.lowest, number.unit), quantity({ value: number.highest, unit: number.unit }, show));
    return { own, bind: () => own.bind(values()[key] === undefined ? "" : show.out(values()[key], number.unit)) };
  });
  const box = h("div", { class: "numbers" }, fields.map(({ own }) => own.box));
  return () => {
    for (const { bind } of fields) bind();
    return box;
  };
}
