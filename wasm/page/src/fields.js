// Fields of forms: a label, what is typed, a hint, and an error beside it.

import { fill, h, newId } from "./dom.js";
import { text } from "./text/en.js";
import { readNumber } from "./units.js";

/**
 * @typedef {{
 *   box: HTMLElement, input: any, label: string,
 *   fail(message: string | null): void,
 *   bind(value: string): void,
 *   allowed?: string,
 * }} Field
 * `bind` shows a value of the state; what is typed stays until that is another one. `allowed` is its range in the units that are shown, where the engine lists one.
 */

/**
 * A labelled control.
 * @param {string} label
 * @param {any} input
 * @param {{hint?: any, after?: any, optional?: boolean}} [options]
 * @returns {Field}
 */
export function field(label, input, { hint, after, optional } = {}) {
  const id = newId("field");
  input.id = id;
  const error = h("p", { class: "error", id: `${id}-error` });
  error.hidden = true;
  const hintLine = hint ? h("p", { class: "hint", id: `${id}-hint` }, hint) : null;
  const describe = (/** @type {boolean} */ wrong) => {
    const ids = [wrong ? error.id : "", hintLine?.id ?? ""].filter(Boolean).join(" ");
    if (ids) input.setAttribute("aria-describedby", ids);
    else input.removeAttribute("aria-describedby");
  };
  describe(false);
  let bound = input.value;
  const box = h(
    "div",
    { class: "field" },
    h("label", { for: id }, label, optional ? h("span", { class: "optional" }, ` ${text.fields.optional}`) : null),
    h("div", { class: "control" }, input, after),
    error,
    hintLine,
  );
  return {
    box,
    input,
    label,
    bind(value) {
      if (value === bound) return;
      bound = value;
      input.value = value;
    },
    fail(message) {
      error.hidden = message === null;
      fill(error, message === null ? null : message);
      if (message === null) input.removeAttribute("aria-invalid");
      else input.setAttribute("aria-invalid", "true");
      describe(message !== null);
    },
  };
}

/** A box to tick; `bind` shows whether it is ticked. @param {string} label @param {boolean} checked @param {(on: boolean) => void} change @param {any} [hint] */
export function tick(label, checked, change, hint) {
  const input = h("input", { type: "checkbox", onchange: () => change(input.checked) });
  input.checked = checked;
  const hintId = hint ? newId("hint") : undefined;
  if (hintId) input.setAttribute("aria-describedby", hintId);
  const box = h(
    "div",
    { class: "tick" },
    h("label", null, input, h("span", null, label)),
    hint ? h("p", { class: "hint", id: hintId }, hint) : null,
  );
  return { box, bind: (/** @type {boolean} */ on) => { input.checked = on; } };
}

/** One of a few, shown as buttons in a row. @param {string} legend @param {[string, string][]} options @param {string} chosen @param {(value: string) => void} change */
export function oneOf(legend, options, chosen, change) {
  const name = newId("one-of");
  return h(
    "fieldset",
    { class: "one-of" },
    h("legend", null, legend),
    h(
      "div",
      { class: "choices" },
      options.map(([value, label]) => {
        const input = h("input", { type: "radio", name, value, onchange: () => change(value) });
        input.checked = value === chosen;
        return h("label", null, input, h("span", null, label));
      }),
    ),
  );
}

/** @param {[string, string][]} options @param {string} chosen @param {Record<string, any>} [properties] */
export function select(options, chosen, properties) {
  const element = h("select", properties ?? null, options.map(([value, label]) => h("option", { value }, label)));
  element.value = chosen;
  return element;
}

/** A short text input for a number, with its unit behind it. @param {string} value @param {Record<string, any>} [properties] */
export const numberInput = (value, properties) =>
  h("input", { type: "text", inputmode: "decimal", autocomplete: "off", value, ...properties });

/**
 * Reads the number in a field; marks the field and gives NaN where there is none to read.
 * @param {Field} of @param {{needed?: boolean}} [options]
 * @returns {number | undefined}
 */
export function numberOf(of, { needed = false } = {}) {
  const value = readNumber(of.input.value);
  if (value === undefined && needed) {
    of.fail(text.fields.missing(of.label));
    return NaN;
  }
  if (Number.isNaN(value)) {
    of.fail(text.fields.notANumber(of.input.value));
    return NaN;
  }
  of.fail(null);
  return value;
}

/** Puts the cursor into the first field that is marked. @param {Element} form */
export function focusFirstError(form) {
  const wrong = /** @type {HTMLElement | null} */ (form.querySelector('[aria-invalid="true"]'));
  wrong?.closest("details")?.setAttribute("open", "");
  wrong?.focus();
}

/**
 * Shows an engine's error beside the field that it names.
 * @param {unknown} error
 * @param {(name: string) => Field | undefined} find the field of an engine's name
 * @param {(message: string) => void} elsewhere where no field belongs to it
 */
export function showEngineError(error, find, elsewhere) {
  const { field: name, message, values } = /** @type {{field?: string, message: string, values?: any}} */ (error);
  if (name === undefined) throw error;
  const bare = name.replace(/^(site|colony|settings|climate)\./, "");
  const found = find(name) ?? find(bare) ?? find(/[a-z_]+/.exec(bare)?.[0] ?? "");
  if (!found) {
    elsewhere(message);
    return;
  }
  // "elevation_m is 10000; allowed is ..." becomes: Elevation: "10000" cannot be. Allowed is ...
  found.fail(values?.given && values.allowed ? text.fields.refused(found.label, found.input.value, found.allowed ?? values.allowed.value) : plainly({ message, values }));
}

/** What is wrong, without the engine's name of the value. @param {{message: string, values?: any}} error */
export const plainly = ({ message, values }) =>
  values?.problem?.value ?? (values?.given && values.allowed ? text.fields.allowed(values.given.value, values.allowed.value) : message);
