// What a first visit to the page costs, and how long it takes on a slow phone with a slow network:
//
//     wasm/build
//     (cd wasm/tests && npm ci && npm install --no-save ../../target/npm/apiary-almanac-*.tgz)
//     node wasm/bench/visit.js [runs]
//
// Chromium's own throttles: 400 kbit/s down and up, 400 ms to every answer, a processor six times slower. The
// server is that of wasm/page/serve, gzipped; bytes are those of the bodies.

import { cpus, loadavg } from "node:os";
import { rm } from "node:fs/promises";
import { fileURLToPath } from "node:url";

import { build } from "../page/build.js";
import { launch } from "../tests/browser.js";
import { counting, summary } from "../tests/first-visit.js";
import { enterPlace } from "../tests/page.js";

const runs = Number(process.argv[2] ?? 3);
const folder = fileURLToPath(new URL("../../target/visit-bench", import.meta.url));
await build(folder);
const browser = await launch();
console.log(`Chromium ${browser.version()}, ${cpus().length} cores, ${runs} runs, other work at the start: load ${loadavg()[0].toFixed(1)}`);

/** In the browser, before anything else: notes when the form and when the first answer stand there. */
function note() {
  globalThis.seen = {};
  const look = () => {
    if (!globalThis.seen.form && document.querySelector("form button[type=submit]")) globalThis.seen.form = performance.now();
    if (!globalThis.seen.engine && globalThis.seen.form && !document.querySelector("progress")) globalThis.seen.engine = performance.now();
    if (!globalThis.seen.answer && document.querySelector(".steps .time")) globalThis.seen.answer = performance.now();
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true });
}

async function visit(slow) {
  const server = await counting(folder);
  const context = await browser.newContext({ viewport: { width: 360, height: 640 } });
  await context.addInitScript(note);
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  if (slow) {
    const session = await context.newCDPSession(page);
    await session.send("Network.enable");
    await session.send("Network.emulateNetworkConditions", { offline: false, latency: 400, downloadThroughput: 400_000 / 8, uploadThroughput: 400_000 / 8 });
    await session.send("Emulation.setCPUThrottlingRate", { rate: 6 });
  }
  await page.goto(`${server.origin}/page/`, { waitUntil: "commit" });
  await page.locator("form button[type=submit]").waitFor();
  await enterPlace(page, { coordinates: "-28.81, 153.28", elevation: "12", name: "Quoll Creek", zone: "Australia/Sydney" });
  await page.waitForFunction(() => globalThis.seen.answer);
  const seen = await page.evaluate(() => globalThis.seen);
  await page.evaluate(() => navigator.serviceWorker.ready);
  const cost = summary(server.sent);
  await context.close();
  await server.close();
  return { seen, cost };
}

const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];
const words = { form: "the form can be used", engine: "the engine is there", answer: "the first answer stands there, for a place typed at once" };
for (const [title, slow] of [["as it is", false], ["slow network, slow processor", true]]) {
  const all = [];
  for (let run = 0; run < runs; run += 1) all.push(await visit(slow));
  const [{ cost }] = all;
  console.log(`\n${title}: ${cost.bytes} bytes (${cost.engineBytes} the engine, ${cost.bytes - cost.engineBytes} all else), ${cost.requests} requests, ${cost.files} files, twice: ${cost.twice.join(" ") || "none"}`);
  for (const [name, about] of Object.entries(words)) {
    const values = all.map(({ seen }) => seen[name]);
    console.log(`  ${about}: ${(median(values) / 1000).toFixed(2)} s (${(Math.min(...values) / 1000).toFixed(2)} to ${(Math.max(...values) / 1000).toFixed(2)})`);
  }
}
await browser.close();
await rm(folder, { recursive: true, force: true });
