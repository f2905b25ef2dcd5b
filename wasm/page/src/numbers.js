// A user's own numbers in place of the engine's defaults, each with its default and source.

import { fill, h } from "./dom.js";
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
 * @param {Record<string, number>} values
 * @param {(next: Record<string, number>) => void} check
 * @param {(next: Record<string, number>) => void} keep
 */
export function numberFields(app, defaults, values, check, keep) {
  const { show } = app;
  let current = { ...values };
  return h(
    "div",
    { class: "numbers" },
    defaults.map(({ name, number }) => {
      const key = overrideName(name, number.unit);
      const value = current[key];
      const input = numberInput(value === undefined ? "" : show.out(value, number.unit), {
        placeholder: show.out(number.value, number.unit),
        onchange: () => {
          const typed = numberOf(own);
          if (Number.isNaN(typed)) return;
          const next = { ...current };
          if (typed === undefined) delete next[key];
          else next[key] = show.in(typed, number.unit);
          try {
            check(next);
          } catch (error) {
            showEngineError(error, () => own, () => {});
            return;
          }
          current = next;
          keep(next);
        },
      });
      const hint = h("span");
      fill(hint, text.fields.otherwise(quantity(number, show), number.source));
      const own = field(numberLabel(name), input, { hint, after: h("span", { class: "unit" }, show.unit(number.unit)) });
      own.allowed = text.fields.range(show.out(number.lowest, number.unit), quantity({ value: number.highest, unit: number.unit }, show));
      return own.box;
    }),
  );
}
