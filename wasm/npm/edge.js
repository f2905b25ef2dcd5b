// For workers at the edge of a network, which compile no WebAssembly themselves: the engine comes to them as
// a module that is compiled already.

import engine from "./engine_bg.wasm";

import { startAtOnceFrom, startFrom } from "./start.js";

export * from "./everyday.js";
export * from "./functions.js";

startAtOnceFrom(() => engine);

export const init = (source = engine) => startFrom(() => source);
