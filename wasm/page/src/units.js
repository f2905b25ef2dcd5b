// The units that are shown. Inside the page everything is in °C and metres.

import { rounded } from "./sentences.js";

/** @typedef {{temperature: "c" | "f", length: "m" | "ft", theme: "auto" | "dark" | "light"}} Display */

const footM = 0.3048;

export const toF = (/** @type {number} */ c) => (c * 9) / 5 + 32;
export const toC = (/** @type {number} */ f) => ((f - 32) * 5) / 9;
const neat = (/** @type {number} */ x, digits = 1) => String(Number(x.toFixed(digits)));

/** A number as it is shown, in the unit that is shown. @param {Display} display */
export function showing(display) {
  const fahrenheit = display.temperature === "f";
  const feet = display.length === "ft";
  const tC = (/** @type {number} */ c, digits = 0) => `${neat(fahrenheit ? toF(c) : c, digits)} °${fahrenheit ? "F" : "C"}`;
  return {
    temperatureUnit: fahrenheit ? "°F" : "°C",
    lengthUnit: feet ? "ft" : "m",
    /** A temperature. */
    temperature: tC,
    /** A difference of temperatures. */
    difference: (/** @type {number} */ c) => `${neat(fahrenheit ? (c * 9) / 5 : c, 1)} °${fahrenheit ? "F" : "C"}`,
    length: (/** @type {number} */ m) => (feet ? `${neat(m / footM, m < 10 ? 1 : 0)} ft` : `${neat(m, 2)} m`),
    /** A value for an input, from the unit inside. */
    out: (/** @type {number} */ value, /** @type {string} */ unit) =>
      neat(unit === "°C" && fahrenheit ? toF(value) : unit === "m" && feet ? value / footM : value, 4),
    /** The value inside, from what an input holds. */
    in: (/** @type {number} */ value, /** @type {string} */ unit) => {
      const inside = unit === "°C" && fahrenheit ? toC(value) : unit === "m" && feet ? value * footM : value;
      return inside === value ? value : Number(inside.toFixed(4));
    },
    unit: (/** @type {string} */ unit) => (unit === "°C" && fahrenheit ? "°F" : unit === "m" && feet ? "ft" : unit),
    /** Number and unit of what stands in a sentence of the engine. */
    parts: {
      temperature: (/** @type {number} */ c, /** @type {number} */ digits) =>
        /** @type {[string, string]} */ ([rounded(fahrenheit ? toF(c) : c, digits), fahrenheit ? "°F" : "°C"]),
      difference: (/** @type {number} */ c, /** @type {number} */ digits) =>
        /** @type {[string, string]} */ ([rounded(fahrenheit ? (c * 9) / 5 : c, digits), fahrenheit ? "°F" : "°C"]),
      length: (/** @type {number} */ m, /** @type {number} */ digits) =>
        /** @type {[string, string]} */ ([feet ? neat(m / footM, m < 10 ? 1 : 0) : rounded(m, digits), feet ? "ft" : "m"]),
    },
  };
}

/**
 * A number that a person typed, with point or comma; undefined for nothing, NaN for what is none.
 * @param {string} text
 */
export function readNumber(text) {
  const t = text.trim().replace("−", "-");
  if (t === "") return undefined;
  return /^[-+]?(\d+([.,]\d*)?|[.,]\d+)$/.test(t) ? Number(t.replace(",", ".")) : NaN;
}
