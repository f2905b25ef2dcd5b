import { __wbg_reset_state as startAnew } from "./engine.js";
import { ready } from "./start.js";

/** A value that the engine does not accept. */
export class ApiaryError extends Error {
  constructor({ code, field, message, values = {} }) {
    super(message);
    this.name = "ApiaryError";
    this.code = code;
    this.field = field;
    this.values = values;
  }
}

/**
 * Calls the engine, which throws the JSON form of its errors. Where it stops instead, for want of memory
 * above all, a fresh one takes its place: what is left of the other cannot be trusted.
 */
export function refusing(call) {
  ready();
  try {
    return call();
  } catch (thrown) {
    if (typeof thrown === "string") throw new ApiaryError(JSON.parse(thrown));
    if (!(thrown instanceof WebAssembly.RuntimeError || thrown instanceof RangeError)) throw thrown;
    startAnew();
    const message = `request is more than the engine can hold: it stopped (${thrown.message}) and was started anew`;
    throw new ApiaryError({ code: "too_large", field: "request", message });
  }
}
