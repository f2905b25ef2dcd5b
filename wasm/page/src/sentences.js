// The engine's sentences, made from its catalogue with the units, dates and names that are shown.
// How a sentence of the catalogue is written stands at `sentences` in the engine's index.d.ts.

/** @typedef {import("./apiary-almanac/index.js").Sentences} Sentences */
/** @typedef {{code: string, text?: string, values?: Record<string, any>}} Reason */
/**
 * How values are shown: a temperature, a difference of temperatures and a length with or without their
 * unit; dates.
 * @typedef {{
 *   temperature(c: number, digits?: number): [string, string],
 *   difference(c: number, digits?: number): [string, string],
 *   length(m: number, digits?: number): [string, string],
 *   date(date: string): string,
 * }} Formats
 */

/** The source of what the trade does without a publication. */
const PRACTICE = "common practice, no source";

const units = /** @type {Record<string, string>} */ ({
  count: "", days: "", flying_days: "", degree_days: "", rain: " mm", speed: " m/s", hours: " h", minutes: " min",
  weight: " kg", angle: "°", share: " %",
});

/** A number with so many digits behind the point, or with at most two. Halves go away from nought. @param {number} x @param {number} [digits] */
export function rounded(x, digits) {
  const scale = 10 ** (digits ?? 2);
  const scaled = (Math.sign(x) * Math.round(Math.abs(x) * scale)) / scale;
  const near = Number.isFinite(scaled) ? scaled + 0 : x;
  return digits === undefined ? String(near) : near.toFixed(digits);
}

/** @param {Sentences} catalogue @param {Formats} formats */
export function writer({ sentences, words }, formats) {
  /** @type {Map<string, string>} */
  const templates = new Map(sentences.map(({ code, template }) => [code, template]));
  const known = new Map(words.map(({ name, word }) => [name, word]));

  /** @param {Reason} reason @returns {string} */
  function write({ code, text, values = {} }) {
    const template = templates.get(code);
    // A sentence that the catalogue cannot make stays as it came.
    return template === undefined || (text !== undefined && Object.keys(values).length === 0 && template.includes("{")) ? text ?? code : fill(template, values);
  }

  /** @param {string} template @param {Record<string, any>} values @returns {string} */
  function fill(template, values) {
    let [out, rest] = ["", template];
    while (rest !== "") {
      const signs = [rest.indexOf("{"), rest.indexOf("[")].filter((at) => at >= 0);
      const sign = signs.length > 0 ? Math.min(...signs) : rest.length;
      out += rest.slice(0, sign);
      if (sign === rest.length) break;
      const end = rest.indexOf(rest[sign] === "{" ? "}" : "]", sign);
      const inside = rest.slice(sign + 1, end);
      out += rest[sign] === "{" ? place(inside, values) : isWhole(inside, values) ? fill(inside, values) : "";
      rest = rest.slice(end + 1);
    }
    return out;
  }

  /** Whether every value of a part in brackets is there. @param {string} part @param {Record<string, any>} values */
  const isWhole = (part, values) =>
    part.split("{").slice(1).every((one) => nameOf(one.slice(0, one.indexOf("}"))) in values);

  const nameOf = (/** @type {string} */ inside) => inside.split("|")[0].split(":")[0];

  /** @param {string} inside @param {Record<string, any>} values */
  function place(inside, values) {
    const value = values[nameOf(inside)];
    if (value === undefined) return "";
    const [, one, other] = inside.split("|");
    if (one !== undefined) return form(shown(value, undefined, false), one, other);
    const how = inside.split(":")[1] ?? "";
    const digits = how.split("n")[0];
    return shown(value, digits === "" ? undefined : Number(digits), !how.endsWith("n"));
  }

  const form = (/** @type {string} */ number, /** @type {string} */ one, /** @type {string} */ other) =>
    (number === "1" ? one : other).split("#").join(number);

  /** @param {any} value @param {number | undefined} digits @param {boolean} withUnit @returns {string} */
  function shown({ kind, value }, digits, withUnit) {
    switch (kind) {
      case "temperature":
      case "difference":
      case "length": {
        const [number, unit] = formats[/** @type {"temperature"} */ (kind)](value, digits);
        return withUnit ? `${number} ${unit}` : number;
      }
      case "date":
        return formats.date(value);
      case "moment":
        return value.slice(11, 16) + (withUnit ? ` on ${formats.date(value.slice(0, 10))}` : "");
      case "word":
        return known.get(value) ?? value;
      case "rule":
        return known.get(`rule.${value}`) ?? value;
      case "name":
        return value.replaceAll(PRACTICE, known.get(PRACTICE) ?? PRACTICE);
      case "title":
        return `“${value}”`;
      case "reason":
        return write(value);
      case "list":
        return value.map(write).join(", ");
      default: {
        const number = rounded(kind === "share" ? 100 * value : value, digits);
        const forms = withUnit ? known.get(`unit.${kind}`) : undefined;
        if (forms !== undefined) return form(number, ...(/** @type {[string, string]} */ (forms.split("|"))));
        return withUnit ? number + (units[kind] ?? "") : number;
      }
    }
  }

  return write;
}
