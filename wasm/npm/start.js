// Starts the engine, once for all that share this module.

import start, { initSync } from "./engine.js";

let started = false;
/** The start that is under way. */
let starting;
/** Gives what the engine starts from without waiting, where there is such a way. */
let atOnce = () => undefined;

/** Node's own modules, where there are some. getBuiltinModule keeps bundlers for the browser from looking for them. */
export const builtin = (name) => globalThis.process?.getBuiltinModule?.(`node:${name}`);

/** From now on the first call starts the engine by itself. `find` gives bytes or a module, or undefined. */
export function startAtOnceFrom(find) {
  atOnce = find;
}

/** Starts the engine from what `find` gives; a start that failed can be tried again. */
export function startFrom(find) {
  if (started) return Promise.resolve();
  starting ??= (async () => {
    try {
      await start({ module_or_path: loaded(await find()) });
      started = true;
    } finally {
      starting = undefined;
    }
  })();
  return starting;
}

/** Sees to it that the engine can be asked. */
export function ready() {
  if (started) return;
  const found = atOnce();
  if (found === undefined) {
    throw new Error(
      'the engine of apiary-almanac has not started: write "await init()" before the first call, or import from "apiary-almanac/auto"; ' +
        'where a bundler has left engine_bg.wasm behind, import from "apiary-almanac/inline"',
    );
  }
  initSync({ module: found });
  started = true;
}

/** What the glue can start from. */
function loaded(source) {
  // A module namespace, as `import("apiary-almanac/wasm")` gives it.
  const given = source?.[Symbol.toStringTag] === "Module" ? source.default : source;
  if (given instanceof WebAssembly.Module || given instanceof ArrayBuffer || ArrayBuffer.isView(given)) return given;
  if (typeof given === "string" || given instanceof URL) {
    // Node's fetch reads no files.
    const file = String(given).startsWith("file:") ? builtin("fs") : undefined;
    return file ? file.readFileSync(new URL(given)) : given;
  }
  const known = [globalThis.Request, globalThis.Response].some((kind) => kind && given instanceof kind);
  if (known) return given;
  const type = given === null ? "null" : typeof given;
  throw new TypeError(`init cannot start from a value of type ${type}; allowed are a URL, a Response, bytes and a WebAssembly.Module`);
}
