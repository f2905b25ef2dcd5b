// Waits for the engine while it loads, so that every function can be called at once.

import { init } from "./index.js";

export * from "./index.js";

await init();
