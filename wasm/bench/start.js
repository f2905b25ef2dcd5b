// How long the package and the page take to start in a real browser:
//
//     wasm/build
//     (cd wasm/tests && npm ci && npm install --no-save ../../target/npm/apiary-almanac-*.tgz)
//     node wasm/bench/start.js [runs]
//
// Cold is a new profile with nothing in its caches. Warm is the second opening in the same profile: the
// package out of the browser's cache, the page out of its offline copy. Everything comes from
// 127.0.0.1, so nothing is told of a network.

import { cpus, loadavg } from "node:os";
import { rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";

import { build } from "../page/build.js";
import { launch, serve } from "../tests/browser.js";
import { enterPlace } from "../tests/page.js";

const runs = Number(process.argv[2] ?? 15);
const root = new URL("../../target/start-bench/", import.meta.url);
await build(fileURLToPath(new URL("page", root)));
const packed = await serve(new URL("../tests/node_modules/apiary-almanac/", import.meta.url), {
  "cache-control": "max-age=3600",
});
const site = await serve(root, { "cache-control": "no-cache" });
const browser = await launch();
console.log(
  `Chromium ${browser.version()}, ${cpus().length} cores, ${runs} runs, other work at the start: load ${loadavg()[0].toFixed(1)}`,
);

/** In the browser: each step in ms. The first season decodes the climate table. */
async function usePackage() {
  const times = {};
  let before = performance.now();
  const lap = (name) => {
    const now = performance.now();
    times[name] = now - before;
    before = now;
  };
  const { plan, season } = await import("/auto.js");
  lap("import and start the engine");
  const here = { latitudeDeg: -28.81, longitudeDeg: 153.28, elevationM: 12, zone: "Australia/Sydney" };
  const colony = { name: "Hive 7", netWeightKg: 3.6, monthsSinceDivision: 20, strength: "strong" };
  for (const which of ["first", "second"]) {
    season({ site: here, first: "2026-01-01", last: "2026-12-31" });
    lap(`${which} season`);
    plan({ site: here, today: "2026-10-01", method: "split", colony });
    lap(`${which} plan`);
  }
  return times;
}

/** In the browser, before anything else: notes when the times of the coming dawn stand on the page. */
function noteAnswer() {
  const seen = new MutationObserver(() => {
    if (!document.querySelector(".steps .time")) return;
    seen.disconnect();
    const built = performance.now();
    // A task queued by the next frame runs after that frame was painted.
    requestAnimationFrame(() => setTimeout(() => (globalThis.answered = { built, painted: performance.now() })));
  });
  seen.observe(document, { childList: true, subtree: true });
}

/** In the browser: ms since the navigation began. */
async function pageTimes() {
  const ended = (end) =>
    Math.max(...performance.getEntriesByType("resource").filter(({ name }) => name.endsWith(end)).map(({ responseEnd }) => responseEnd));
  return {
    "scripts loaded": ended(".js"),
    "engine loaded": ended(".wasm"),
    "answer built": globalThis.answered.built,
    "answer painted": globalThis.answered.painted,
  };
}

async function ofPackage(warm) {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(`${packed.origin}/package.json`);
  if (warm) {
    await page.evaluate(usePackage);
    await page.goto(`${packed.origin}/package.json`);
  }
  const times = await page.evaluate(usePackage);
  await context.close();
  return times;
}

/** A visitor who has entered a place and lets the device keep it. */
async function keptPlace() {
  const context = await browser.newContext({ serviceWorkers: "block" });
  const page = await context.newPage();
  await page.goto(`${site.origin}/page/`);
  await page.getByLabel("Keep what I enter").check();
  await enterPlace(page, { coordinates: "-28.81, 153.28", elevation: "12", name: "Quoll Creek" });
  await page.locator(".steps").waitFor();
  const state = await context.storageState();
  await context.close();
  return state;
}

async function ofPage(warm, storageState) {
  const context = await browser.newContext({ storageState, serviceWorkers: warm ? "allow" : "block" });
  await context.addInitScript(noteAnswer);
  const page = await context.newPage();
  const open = async () => {
    await page.goto(`${site.origin}/page/`);
    await page.waitForFunction(() => globalThis.answered);
  };
  await open();
  if (warm) {
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.goto("about:blank");
    await open();
  }
  const times = await page.evaluate(pageTimes);
  await context.close();
  return times;
}

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];

async function report(title, measure) {
  const all = [];
  for (let run = 0; run < runs; run += 1) all.push(await measure());
  console.log(`\n${title}: median (least to most), ms`);
  for (const name of Object.keys(all[0])) {
    const values = all.map((one) => one[name]);
    console.log(`  ${name}: ${median(values).toFixed(1)} (${Math.min(...values).toFixed(1)} to ${Math.max(...values).toFixed(1)})`);
  }
}

const state = await keptPlace();
await report("package, cold", () => ofPackage(false));
await report("package, warm", () => ofPackage(true));
await report("page, cold", () => ofPage(false, state));
await report("page, warm", () => ofPage(true, state));
await browser.close();
await packed.close();
await site.close();
await rm(root, { recursive: true, force: true });
