// What is given, as the engine can read it.

import { ApiaryError } from "./error.js";

// The engine reads 16 MiB of text, and less deep than this.
const MOST_VALUES = 1 << 23;
const DEEPEST = 200;

/** What JSON can hold, with the engine's names. */
export function toWire(value) {
  let values = 0;
  const wire = (value, depth) => {
    values += 1;
    if (values > MOST_VALUES) {
      throw refused("too_large", `has more than ${MOST_VALUES} values; fewer can be read`);
    }
    if (depth > DEEPEST) {
      throw refused("unreadable", "cannot be read: it is nested too deeply, or holds itself");
    }
    if (value instanceof Date) {
      return Number.isNaN(value.getTime()) ? String(value) : value.toISOString();
    }
    // JSON would make it null, or refuse it; the engine's error then shows what was given.
    if (typeof value === "bigint" || (typeof value === "number" && !Number.isFinite(value))) {
      return String(value);
    }
    if (value === null || typeof value !== "object") return value;
    const list = typedArray(value) ?? (Array.isArray(value) ? value : undefined);
    const inside = (item) => wire(item, depth + 1);
    if (list !== undefined) return Array.from({ length: list.length }, (_, at) => inside(list[at]));
    return Object.fromEntries(Object.entries(value).map(([name, item]) => [snakeCase(name), inside(item)]));
  };
  return wire(value, 0);
}

const typed = Object.getPrototypeOf(Uint8Array.prototype);
const own = (name, value) => Reflect.apply(Object.getOwnPropertyDescriptor(typed, name).get, value, []);

/**
 * The values of a typed array, whatever its own properties say of it: a class made from one may name any
 * length. Undefined for everything else.
 */
export function typedArray(value) {
  const kind = own(Symbol.toStringTag, value);
  if (kind === undefined) return undefined;
  return new globalThis[kind](own("buffer", value), own("byteOffset", value), own("length", value));
}

function refused(code, problem) {
  return new ApiaryError({ code, field: "request", message: `request ${problem}` });
}

const snakeCase = (name) => name.replace(/(?!^)[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
