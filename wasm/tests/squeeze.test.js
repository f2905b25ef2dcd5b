import assert from "node:assert/strict";
import { test } from "node:test";

import { functions, named } from "../squeeze/module.js";
import { order } from "../squeeze/order.js";

const body = (text) => new TextEncoder().encode(text);

test("functions that are alike come together, and none is lost", () => {
  const alike = (i) => body(`${"the same words again and again ".repeat(4)}${i}`);
  const noise = (i) => Uint8Array.from({ length: 9000 }, (_, k) => (k * k * (i + 3) * 7919 + ((k * (i + 1)) >> 3)) & 255);
  const bodies = [noise(0), alike(1), noise(1), alike(2), noise(2), alike(3)];
  const places = order(bodies);
  assert.deepEqual([...places].sort(), [0, 1, 2, 3, 4, 5]);
  const at = [1, 3, 5].map((i) => places.indexOf(i)).sort();
  assert.equal(at[2] - at[0], 2, `${places}`);
  assert.deepEqual(order([]), []);
});

test("a module keeps its functions when they are named", () => {
  // (module (import "a" "b" (func)) (func) (func)), written by hand after the core specification.
  const module = Uint8Array.from([
    ...[0, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...[1, 4, 1, 0x60, 0, 0],
    ...[2, 7, 1, 1, 0x61, 1, 0x62, 0, 0],
    ...[3, 3, 2, 0, 0],
    ...[10, 8, 2, 2, 0, 0x0b, 3, 0, 1, 0x0b],
  ]);
  const before = functions(module);
  assert.equal(before.imported, 1);
  assert.deepEqual(before.bodies.map((b) => [...b]), [[0, 0x0b], [0, 1, 0x0b]]);
  const after = named(module, ["i", "second", "first"]);
  assert.ok(WebAssembly.validate(after));
  assert.deepEqual(functions(after), before);
  const [names] = WebAssembly.Module.customSections(new WebAssembly.Module(after), "name");
  const text = new TextDecoder().decode(names);
  for (const name of ["second", "first"]) assert.ok(text.includes(name));
});
