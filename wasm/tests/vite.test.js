// The packed package in a tiny app made with Vite: built, and from its development server.

import assert from "node:assert/strict";
import { mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";

import * as vite from "vite";

import { launch, serve } from "./browser.js";

const root = fileURLToPath(new URL("./vite-app", import.meta.url));
const packed = new URL("./node_modules/apiary-almanac/engine_bg.wasm", import.meta.url);

let browser;
let scratch;

before(async () => {
  scratch = await mkdtemp(join(tmpdir(), "apiary-almanac-"));
  browser = await launch();
});

after(async () => {
  await browser?.close();
  if (scratch) await rm(scratch, { recursive: true, force: true });
});

/** Vite as it comes, with nothing written beside the sources. */
const config = (more) => ({
  root,
  configFile: false,
  logLevel: "error",
  cacheDir: join(scratch, "cache"),
  ...more,
});

/** What the app shows, and which wasm files it asked for. */
async function opened(origin) {
  const page = await browser.newPage();
  try {
    const errors = [];
    const engines = [];
    page.on("pageerror", (error) => errors.push(String(error)));
    page.on("response", (response) => {
      if (/\.wasm(\?|$)/.test(response.url())) engines.push([response.status(), new URL(response.url()).origin]);
      if (response.status() >= 400) errors.push(`${response.status()} ${response.url()}`);
    });
    await page.goto(`${origin}/`);
    const shown = await page
      .waitForFunction(() => globalThis.document.querySelector("#answer").textContent, undefined, { timeout: 20_000 })
      .then((handle) => handle.jsonValue())
      .catch((error) => assert.fail(`${error.message}; ${errors.join("; ")}`));
    assert.deepEqual(errors, []);
    assert.deepEqual(engines, [[200, origin]]);
    return shown;
  } finally {
    await page.close();
  }
}

test("a built app answers, with the engine as a file of its own", async () => {
  const outDir = join(scratch, "dist");
  await vite.build(config({ build: { outDir, emptyOutDir: true } }));
  const files = await readdir(outDir, { recursive: true });
  const engines = files.filter((file) => file.endsWith(".wasm"));
  assert.equal(engines.length, 1, files.join(", "));
  assert((await readFile(join(outDir, engines[0]))).equals(await readFile(packed)));
  const server = await serve(outDir);
  try {
    assert.equal(await opened(server.origin), "23 hours, 365 days");
  } finally {
    await server.close();
  }
});

test("the development server answers", async () => {
  const server = await vite.createServer(config({ server: { host: "127.0.0.1", port: 0, hmr: false } }));
  try {
    await server.listen();
    const { port } = server.httpServer.address();
    assert.equal(await opened(`http://127.0.0.1:${port}`), "23 hours, 365 days");
  } finally {
    await server.close();
  }
});
