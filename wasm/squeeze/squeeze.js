// Makes a WebAssembly module smaller for gzip without changing what it does:
// node squeeze.js from.wasm to.wasm

import { readFileSync, writeFileSync } from "node:fs";

import binaryen from "binaryen";

import { functions, named } from "./module.js";
import { order } from "./order.js";

// Only what makes the file smaller after gzip: many passes make it smaller before and larger after.
const PASSES = [
  "duplicate-function-elimination",
  "dae-optimizing",
  "optimize-instructions",
  "rse",
  "vacuum",
  "dce",
  "remove-unused-names",
  "duplicate-function-elimination",
  "strip",
];

function run(bytes, passes) {
  const module = binaryen.readBinary(bytes);
  binaryen.setOptimizeLevel(2);
  binaryen.setShrinkLevel(2);
  binaryen.setDebugInfo(false);
  module.runPasses(passes);
  const out = module.emitBinary();
  module.dispose();
  return out;
}

const [from, to] = process.argv.slice(2);
const small = run(readFileSync(from), PASSES);
const { imported, bodies } = functions(small);
// Binaryen sorts functions by name, so their places become their names.
const names = Array.from({ length: imported }, (_, i) => `import ${i}`);
order(bodies).forEach((body, place) => {
  names[imported + body] = `function ${String(place).padStart(6, "0")}`;
});
writeFileSync(to, run(named(small, names), ["reorder-functions-by-name", "strip"]));
