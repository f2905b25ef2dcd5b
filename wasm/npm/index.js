// The engine lies beside this module, as a file. Where files can be read at once, as in Node, the first call
// starts it; elsewhere `await init()` does.

import { builtin, startAtOnceFrom, startFrom } from "./start.js";

export * from "./everyday.js";
export * from "./functions.js";

const beside = () => new URL("./engine_bg.wasm", import.meta.url);

startAtOnceFrom(() => {
  try {
    return builtin("fs")?.readFileSync(beside());
  } catch {
    return undefined; // A bundler has put this module elsewhere.
  }
});

export const init = (source) => startFrom(() => source ?? beside());
